package client

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// planView is what the plan page shows.
type planView struct {
	Planned   bool
	Items     []ui.Definition
	Note      string
	Holds     []ui.Hold
	Limits    []string
	Zones     ui.Zones
	Ahead     *ui.Table // the weeks of the plan; nil without one
	Why       whyView
	Signed    string
	Emergency string // number to call
}

// Plan shows the prescription in force, what comes after it, and why.
func (p Pages) Plan(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	week, err := p.Store.Week(r.Context(), who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	v := newPlanView(r.Context(), week)
	v.Emergency = who.Practice.EmergencyNumber
	sheet, err := p.Store.PlanOf(r.Context(), who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	v.Ahead = ahead(r.Context(), sheet, weeksAhead)
	return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(r.Context(), "My plan")), planPage(v))
}

func newPlanView(ctx context.Context, w store.ClientWeek) planView {
	v := planView{Holds: Holds(ctx, w.Holds), Limits: limits(ctx, w.Bounds), Why: why(ctx, w)}
	if w.Prescription == nil {
		return v
	}
	pr, dose := *w.Prescription, w.Asked()
	if w.Plan != nil { // of this week, which may be easier than all that is prescribed
		week := w.Plan.Week
		pr.SessionsPerWeek, pr.MinutesPerSession = week.Dose.Sessions, week.Dose.Minutes
		pr.TargetMinutes, pr.TargetLight = week.Target().Minutes, week.Target().Light
	}
	class := dose.Class
	v.Planned, v.Note = true, pr.Note
	v.Signed = say.F(ctx, "Signed by %s on %s, version %d", pr.SignedByName, say.Date(ctx, pr.SignedAt), pr.Version)
	v.Items = []ui.Definition{
		{Term: say.T(ctx, "What"), Detail: strings.Join(pr.Kinds(), "; ")},
		{Term: say.T(ctx, "How often"), Detail: say.N(ctx, pr.SessionsPerWeek, "%d time a week", "%d times a week")},
		{Term: say.T(ctx, "How long"), Detail: say.N(ctx, pr.MinutesPerSession, "%d minute each time. Shorter bits count, too.", "%d minutes each time. Shorter bits count, too.")},
	}
	if class == intensity.None {
		v.Items = slices.Insert(v.Items, 0, ui.Definition{Term: say.T(ctx, "For now"), Detail: say.T(ctx, "No exercise. What stands here is for later.")})
	} else {
		v.Items = append(v.Items, ui.Definition{Term: say.T(ctx, "How hard"), Content: ui.ClassTag(class)},
			ui.Definition{Term: say.T(ctx, "How it should feel"), Detail: say.T(ctx, intensity.Cue(class))})
	}
	if dose.Vigorous > 0 {
		hard := hardPart(ctx, dose)
		hard.Detail += " " + say.T(ctx, intensity.Cue(intensity.Vigorous))
		v.Items = append(v.Items, hard)
	}
	v.Items = append(v.Items, figures(ctx, *w.Prescription, class)...)
	v.Items = append(v.Items, ui.Definition{Term: say.T(ctx, "What the week adds up to"), Detail: targetWords(ctx, pr)})
	if pr.Progression != "" {
		v.Items = append(v.Items, ui.Definition{Term: say.T(ctx, "How it builds up"), Detail: pr.Progression})
	}
	hardest := min(max(w.Allowed(), intensity.Light), intensity.Vigorous)
	v.Zones = plainZones(ctx, page.Zones(ctx, say.T(ctx, "Easier and harder"), pr.Zones, w.Allowed(), intensity.Light, hardest), pr.Zones)
	v.Zones.Notes = slices.DeleteFunc(v.Zones.Notes, func(note string) bool { return slices.Contains(v.Limits, note) }) // said already
	return v
}

// plainZones puts what the heart rates rest on into a client's words. The reasons
// and notes of the record are written for the practitioner.
func plainZones(ctx context.Context, v ui.Zones, z store.Zones) ui.Zones {
	v.Notes, v.Sources = nil, nil
	switch z.Basis {
	case heartrate.Measured:
		v.Basis = say.T(ctx, "The heart rates come from your exercise test.")
	case heartrate.Predicted:
		v.Basis = say.T(ctx, "The heart rates are worked out from your age and your pulse at rest. They do not fit everyone. How well you can talk always counts, too.")
	case heartrate.CeilingOnly:
		v.Basis = say.T(ctx, "There is one heart rate that you stay below. Apart from that, go by how well you can talk.")
	default:
		v.Basis = say.T(ctx, "We show no heart rates, as they would not be right for you. Go by how well you can talk.")
	}
	if z.Ceiling > 0 {
		v.Notes = []string{say.F(ctx, "Never above %d beats a minute.", z.Ceiling)}
	}
	return v
}

func targetWords(ctx context.Context, p store.Prescription) string {
	if p.TargetLight {
		return say.F(ctx, "%d minutes. Easy minutes count.", p.TargetMinutes)
	}
	return say.F(ctx, "%d minutes. A moderate minute counts once, a vigorous (hard) one twice.", p.TargetMinutes)
}
