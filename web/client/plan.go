package client

import (
	"context"
	"fmt"
	"net/http"

	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// planView is what the plan page shows.
type planView struct {
	Planned   bool
	Items     []ui.Definition
	Note      string
	Holds     []ui.Hold
	Zones     ui.Zones
	Signed    string
	Emergency string // number to call
}

// Plan shows the prescription in force.
func (p Pages) Plan(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	week, err := p.Store.Week(r.Context(), who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	v := newPlanView(r.Context(), week)
	v.Emergency = who.Practice.EmergencyNumber
	return p.Render(w, r, http.StatusOK, p.Frame(r, "My plan"), planPage(v))
}

func newPlanView(ctx context.Context, w store.ClientWeek) planView {
	v := planView{Holds: Holds(ctx, w.Holds)}
	if w.Prescription == nil {
		return v
	}
	pr := *w.Prescription
	class := min(pr.Class, w.Ceiling)
	v.Planned, v.Note = true, pr.Note
	v.Signed = fmt.Sprintf("Signed by %s on %s, version %d", pr.SignedByName, pr.SignedAt.Format("2 January 2006"), pr.Version)
	v.Items = []ui.Definition{
		{Term: "What", Detail: pr.Activities},
		{Term: "How often", Detail: times(pr.SessionsPerWeek) + " a week"},
		{Term: "How long", Detail: fmt.Sprintf("%d minutes each time. Shorter bits count, too.", pr.MinutesPerSession)},
		{Term: "How hard", Content: ui.ClassTag(class)},
		{Term: "How it should feel", Detail: intensity.Cue(class)},
		{Term: "What the week adds up to", Detail: targetWords(pr)},
	}
	v.Zones = plainZones(ctx, page.Zones(ctx, "Easier and harder", pr.Zones, w.Ceiling, intensity.Light, min(max(w.Ceiling, intensity.Light), intensity.Vigorous)), pr.Zones)
	return v
}

// plainZones puts what the heart rates rest on into a client's words. The reasons
// and notes of the record are written for the practitioner.
func plainZones(ctx context.Context, v ui.Zones, z store.Zones) ui.Zones {
	v.Notes = nil
	switch z.Basis {
	case heartrate.Measured:
		v.Basis = "The heart rates come from your exercise test."
	case heartrate.Predicted:
		v.Basis = "The heart rates are worked out from your age and your resting pulse. They do not fit everybody. How well you can talk always counts, too."
	case heartrate.CeilingOnly:
		v.Basis = "There is one heart rate that you stay below. Otherwise go by how well you can talk."
	default:
		v.Basis = "We show no heart rates, because they would not be right for you. Go by how well you can talk."
	}
	if z.Ceiling > 0 {
		v.Notes = []string{fmt.Sprintf("Never above %d beats a minute.", z.Ceiling)}
	}
	return v
}

func targetWords(p store.Prescription) string {
	if p.TargetLight {
		return fmt.Sprintf("%d minutes. Easy minutes count.", p.TargetMinutes)
	}
	return fmt.Sprintf("%d minutes. A moderate minute counts once, a vigorous (hard) one twice.", p.TargetMinutes)
}

func times(n int) string {
	switch n {
	case 1:
		return "Once"
	case 2:
		return "Twice"
	}
	return fmt.Sprintf("%d times", n)
}
