package client

import (
	"context"
	"net/http"
	"strconv"
	"strings"

	"brae/domain/activity"
	"brae/domain/intensity"
	"brae/domain/triage"
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
	Message   *weekMessage    // the last one from the practitioner; nil for none
	Next      string          // the session that comes next; empty if none is left
	Fill      []string        // what would do the rest
	Effort    []ui.Definition // how hard it should be; empty without a prescription
	Limits    []string        // what a doctor has limited
	Sessions  []sessionLine
	Recent    []sessionLine
	Late      []triage.Question // asked once after a first hard session
	Planned   bool              // there is a prescription
	Emergency string            // number to call
}

// weekMessage is what the practitioner wrote last.
type weekMessage struct {
	From, Day, Text string
	Href            string // to all messages
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
	if m := week.Message; m != nil {
		v.Message = &weekMessage{From: m.SentBy, Day: say.Day(r.Context(), m.SentAt.In(who.Practice.Location)), Text: m.Text, Href: "/messages"}
	}
	v.Emergency = who.Practice.EmergencyNumber
	return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(r.Context(), "This week")), weekPage(v))
}

func newWeekView(ctx context.Context, w store.ClientWeek) weekView {
	v := weekView{
		Sentence: sentence(ctx, w), Slope: page.WeekSlope(ctx, w), Holds: Holds(ctx, w.Holds), Planned: w.Prescription != nil,
		Fill: fill(ctx, w.Fill), Limits: limits(ctx, w.Bounds), Late: w.Late,
	}
	if w.Prescription != nil {
		v.Effort = effort(ctx, w.Next.Class, w.Prescription.Zones, w.Ceiling)
		if asked := w.Asked(); asked.Vigorous > 0 {
			v.Effort = append(v.Effort, hardPart(ctx, asked))
		}
		v.Next = next(ctx, w.Next, strings.Join(w.Prescription.Kinds(), ", "))
	}
	v.Slope.HideTitle, v.Slope.Line = true, "" // the heading and the sentence say both
	for _, s := range w.Sessions {
		v.Sessions = append(v.Sessions, newSessionLine(ctx, s, w.Target))
	}
	for _, s := range w.Recent {
		line := newSessionLine(ctx, s, w.Target)
		line.What = again(ctx, s)
		v.Recent = append(v.Recent, line)
	}
	return v
}

// sentence says what is done of the week and what is left, without blame.
func sentence(ctx context.Context, w store.ClientWeek) string {
	done, target, left := w.Done, w.Target.Minutes, w.ShortBy
	switch {
	case w.Prescription == nil && w.Done == 0:
		return say.T(ctx, "Nothing logged yet this week.")
	case w.Prescription == nil || target == 0:
		return say.N(ctx, done, "You have done %d minute this week.", "You have done %d minutes this week.")
	case left == 0 && w.Target.Light:
		return say.F(ctx, "You have done %d of your %d easy minutes. That is your week.", done, target)
	case left == 0:
		return say.F(ctx, "You have done %d of your %d minutes. That is your week.", done, target)
	case done == 0 && w.Target.Light:
		return say.F(ctx, "Your week has %d easy minutes. Short bits count, on any day.", target)
	case done == 0:
		return say.F(ctx, "Your week has %d minutes. Short bits count, on any day.", target)
	case left == 1:
		return say.F(ctx, "You have done %d of your %d minutes. 1 is left.", done, target)
	case w.Target.Light:
		return say.F(ctx, "You have done %d of your %d easy minutes. %d are left.", done, target, left)
	}
	return say.F(ctx, "You have done %d of your %d minutes. %d are left.", done, target, left)
}

// next says how many sessions are left this week and what one is.
func next(ctx context.Context, n store.NextSession, activities string) string {
	if n.Left == 0 || n.Class < intensity.Light {
		return ""
	}
	one := say.F(ctx, "One is %d minutes: %s.", n.Minutes, strings.TrimSuffix(activities, "."))
	return say.N(ctx, n.Left, "%d session is left this week.", "%d sessions are left this week.") + " " + one
}

// effort tells how hard the prescribed class is: by talking first, since that
// always holds, then by effort, and by heart rate where there is a basis for it.
func effort(ctx context.Context, class intensity.Class, z store.Zones, ceiling intensity.Class) []ui.Definition {
	if class == intensity.None {
		return nil
	}
	row := page.Zones(ctx, "", z, ceiling, class, class).Rows[0]
	list := []ui.Definition{
		{Term: say.T(ctx, "How hard"), Content: ui.ClassTag(class)},
		{Term: say.T(ctx, "Talk test"), Detail: row.Talk},
		{Term: say.T(ctx, "Effort"), Detail: row.Effort},
	}
	if row.HeartRate != "" {
		list = append(list, ui.Definition{Term: say.T(ctx, "Heart rate"), Detail: row.HeartRate})
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
		text := items[0]
		if len(items) == 2 {
			text = say.F(ctx, "%s, and %s", items[0], items[1])
		}
		if o.Leaves > 0 {
			text = say.F(ctx, "%s (%d would still be left)", text, o.Leaves)
		}
		list = append(list, text)
	}
	return list
}

func fillItem(ctx context.Context, i volume.Item) string {
	what := anything(ctx, i.Class)
	if a, err := activity.Find(i.Activity); err == nil {
		what = page.ActivityShort(ctx, i.Activity)
		if i.Class != a.Class() {
			what = say.F(ctx, "%s (%s)", what, ui.SayClassLow(ctx, i.Class))
		}
	}
	if i.Sessions == 1 {
		return say.F(ctx, "%s: %d minutes", what, i.Minutes)
	}
	return say.F(ctx, "%s: %d times %d minutes", what, i.Sessions, i.Minutes)
}

// anything stands for an activity of a class where the client has no favourite.
func anything(ctx context.Context, c intensity.Class) string {
	switch c {
	case intensity.Light:
		return say.T(ctx, "Anything easy")
	case intensity.Vigorous:
		return say.T(ctx, "Anything vigorous (hard)")
	}
	return say.T(ctx, "Anything moderate")
}

func newSessionLine(ctx context.Context, s store.Session, target volume.Target) sessionLine {
	var parts []string
	for _, p := range s.Parts {
		parts = append(parts, page.ActivityShort(ctx, p.Activity)+", "+ui.SayClassLow(ctx, p.Class)+", "+say.F(ctx, "%d min", p.Minutes))
	}
	return sessionLine{
		Day: say.Day(ctx, s.Day.Time()), What: strings.Join(parts, "; "),
		Counts: strconv.Itoa(target.Done(s.Totals)), Again: "/log?again=" + s.ID.String(),
	}
}

// again is a session in the words of a button.
func again(ctx context.Context, s store.Session) string {
	var parts []string
	for _, p := range s.Parts {
		parts = append(parts, page.ActivityShort(ctx, p.Activity)+", "+say.F(ctx, "%d min", p.Minutes))
	}
	return strings.Join(parts, " + ")
}

func sessionTable(ctx context.Context, lines []sessionLine) ui.Table {
	t := ui.Table{
		Caption: say.T(ctx, "Sessions of this week"), HideCaption: true,
		Columns: []ui.Column{{Label: say.T(ctx, "Day")}, {Label: say.T(ctx, "What"), Plain: true}, {Label: say.T(ctx, "Counts"), Number: true}},
	}
	for _, s := range lines {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{{Text: s.Day}, {Text: s.What}, {Text: s.Counts}}})
	}
	return t
}
