package client

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"brae/domain/activity"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/volume"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// weekView is what the page of this week shows.
type weekView struct {
	Sentence  string // done and left, in one sentence
	Slope     ui.Slope
	Holds     []ui.Hold
	Fill      []string        // what would do the rest
	Effort    []ui.Definition // how hard it should be; empty without a prescription
	Sessions  []sessionLine
	Recent    []sessionLine
	Planned   bool   // there is a prescription
	Emergency string // number to call
}

// sessionLine is a session in a list.
type sessionLine struct {
	Day, What, Counts, Again string
}

// Week shows what was done this week, what is left, and what would fill it.
func (p Pages) Week(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	week, err := p.Store.Week(r.Context(), who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	v := newWeekView(r.Context(), week)
	v.Emergency = who.Practice.EmergencyNumber
	return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(r.Context(), "This week")), weekPage(v))
}

func newWeekView(ctx context.Context, w store.ClientWeek) weekView {
	v := weekView{
		Sentence: sentence(ctx, w), Slope: page.WeekSlope(ctx, w), Holds: Holds(ctx, w.Holds), Planned: w.Prescription != nil,
		Fill: fill(ctx, w.Fill),
	}
	if w.Prescription != nil {
		v.Effort = effort(ctx, min(w.Prescription.Class, w.Ceiling), w.Prescription.Zones, w.Ceiling)
	}
	v.Slope.HideTitle, v.Slope.Line = true, "" // the heading and the sentence say both
	for _, s := range w.Sessions {
		v.Sessions = append(v.Sessions, newSessionLine(ctx, s, w.Target))
	}
	for _, s := range w.Recent {
		v.Recent = append(v.Recent, newSessionLine(ctx, s, w.Target))
	}
	return v
}

// sentence says what is done of the week and what is left, without blame.
func sentence(ctx context.Context, w store.ClientWeek) string {
	kind := "minutes"
	if w.Target.Light {
		kind = "easy minutes"
	}
	switch {
	case w.Prescription == nil && w.Done == 0:
		return "Nothing logged yet this week."
	case w.Prescription == nil || w.Target.Minutes == 0:
		return fmt.Sprintf("You have done %d minutes this week.", w.Done)
	case w.ShortBy == 0:
		return fmt.Sprintf("You have done %d of your %d %s. That is your week.", w.Done, w.Target.Minutes, kind)
	case w.Done == 0:
		return fmt.Sprintf("Your week has %d %s. They can come in any bits, on any days.", w.Target.Minutes, kind)
	}
	return fmt.Sprintf("You have done %d of your %d %s. %d are left.", w.Done, w.Target.Minutes, kind, w.ShortBy)
}

// Holds tells a client in plain words what waits.
func Holds(ctx context.Context, holds []store.Hold) []ui.Hold {
	var list []ui.Hold
	for _, h := range holds {
		hold := ui.Hold{
			Next: "You can still log what you do. Your practitioner will tell you when this changes.",
		}
		switch h.Scope {
		case clearance.Vigorous:
			hold.Sentence = "No hard exercise until a doctor has answered."
			hold.Cause = "If you can talk in whole sentences, it is not too hard."
		case clearance.AboveLight:
			hold.Sentence = "Only easy exercise until a doctor has answered."
			hold.Cause = "If you can sing, it is easy enough."
		case clearance.All:
			hold.Sentence = "No exercise until a doctor has answered."
			hold.Cause = "Ask your doctor how much you may move in your everyday life."
		}
		list = append(list, hold)
	}
	return list
}

// effort tells how hard the prescribed class is: by talking first, since that
// always holds, then by effort, and by heart rate where there is a basis for it.
func effort(ctx context.Context, class intensity.Class, z store.Zones, ceiling intensity.Class) []ui.Definition {
	if class == intensity.None {
		return nil
	}
	row := page.Zones(ctx, "", z, ceiling, class, class).Rows[0]
	list := []ui.Definition{
		{Term: "How hard", Content: ui.ClassTag(class)},
		{Term: "Talk test", Detail: row.Talk},
		{Term: "Effort", Detail: row.Effort},
	}
	if row.HeartRate != "" {
		list = append(list, ui.Definition{Term: "Heart rate", Detail: row.HeartRate})
	}
	return list
}

// fill writes the ways to do what is left, each as a sentence.
func fill(ctx context.Context, options []volume.Option) []string {
	var list []string
	for _, o := range options {
		var items []string
		for _, i := range o.Items {
			items = append(items, fillItem(ctx, i))
		}
		text := strings.Join(items, " and ")
		if o.Leaves > 0 {
			text += fmt.Sprintf(" (%d would still be left)", o.Leaves)
		}
		list = append(list, text)
	}
	return list
}

func fillItem(ctx context.Context, i volume.Item) string {
	what := ui.SayClassLow(ctx, i.Class) + " activity"
	if a, err := activity.Find(i.Activity); err == nil {
		what = a.Name
		if i.Class != a.Class() {
			what += ", " + ui.SayClassLow(ctx, i.Class)
		}
	}
	if i.Sessions == 1 {
		return fmt.Sprintf("%d minutes: %s", i.Minutes, what)
	}
	return fmt.Sprintf("%d times %d minutes: %s", i.Sessions, i.Minutes, what)
}

func newSessionLine(ctx context.Context, s store.Session, target volume.Target) sessionLine {
	var parts []string
	for _, p := range s.Parts {
		parts = append(parts, fmt.Sprintf("%s, %d min", page.PartWords(ctx, p), p.Minutes))
	}
	return sessionLine{
		Day: say.Day(ctx, s.Day.Time()), What: strings.Join(parts, "; "),
		Counts: strconv.Itoa(target.Done(s.Totals)), Again: "/log?again=" + s.ID.String(),
	}
}

func sessionTable(ctx context.Context, lines []sessionLine) ui.Table {
	t := ui.Table{
		Caption: "Sessions of this week", HideCaption: true,
		Columns: []ui.Column{{Label: "Day"}, {Label: "What"}, {Label: "Counts", Number: true}},
	}
	for _, s := range lines {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{{Text: s.Day}, {Text: s.What}, {Text: s.Counts}}})
	}
	return t
}
