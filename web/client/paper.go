package client

import (
	"context"
	"io"
	"strings"

	"github.com/a-h/templ"
	"golang.org/x/text/language"

	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/volume"
	"brae/store"
	"brae/web/say"
	"brae/web/ui"
)

// Paper is a report as it is read and printed, on one page. It is filled in by who
// knows the reader.
type Paper struct {
	Language language.Tag
	From     []string // practice and its phone
	Day      string
	Title    string
	Lead     string
	Draft    string // said above a report that is not signed
	Words    PaperList
	Advice   PaperList
	State    ui.Table
	Weeks    ui.Weeks
	Tables   []ui.Table // of the weeks
	Lists    []PaperList
	Ahead    *ui.Table
	Signed   string
}

// PaperList is a part of a report: lines under a heading.
type PaperList struct {
	Title string
	Lines []string
}

// roomOnPaper is how many lines of text one page of a report has, beside its head,
// the weeks and the signature, at the size of the text that reads well.
const roomOnPaper = 18

// full reports whether the report fills its page, so that it prints smaller.
func (v Paper) full() bool {
	long := func(list PaperList) int {
		n := len(list.Lines)
		for _, line := range list.Lines {
			n += len(line) / 50
		}
		return n
	}
	lines := max(long(v.Words), long(v.Advice)) + len(v.State.Rows)
	if v.Ahead != nil {
		lines += max(0, len(v.Ahead.Rows)-len(v.State.Rows))
	}
	lists := 0
	for _, list := range v.Lists {
		lists += 1 + long(list)
	}
	return lines+lists/2 > roomOnPaper // the lists stand in two columns
}

// Component is the report in its own language, whatever the page around it speaks.
func (v Paper) Component() templ.Component {
	return templ.ComponentFunc(func(ctx context.Context, w io.Writer) error {
		return paper(v).Render(say.With(ctx, v.Language), w)
	})
}

// Printed is what a report is about, signed or not.
type Printed struct {
	Practice store.Practice
	Client   store.Client
	Report   store.SignedReport // not signed yet if the id is nil
}

// NewPaper is a report for the client, in the language it was written in.
func NewPaper(ctx context.Context, in Printed) Paper {
	tag := say.Choose(in.Report.Language)
	ctx = say.With(ctx, tag)
	r, f := in.Report, in.Report.Figures
	v := Paper{
		Language: tag, From: []string{in.Practice.Name, in.Practice.Phone}, Day: say.Date(ctx, f.Until.Time()),
		Title: say.F(ctx, "Report for %s", in.Client.Name()),
		Lead:  say.F(ctx, "From %s to %s.", say.Date(ctx, f.Since.Time()), say.Date(ctx, f.Until.Time())),
		Words: PaperList{say.T(ctx, "In a few words"), Lines(r.Text)},
	}
	if f.Goal != "" {
		v.Lead += " " + say.F(ctx, "Your goal: %s", f.Goal)
	}
	if r.Advice != "" {
		v.Advice = PaperList{say.T(ctx, "To keep what you have"), Lines(r.Advice)}
	}
	if r.SignedBy == "" {
		v.Draft = say.T(ctx, "Not signed yet.")
	} else {
		v.Signed = say.F(ctx, "Signed by %s on %s, version %d", r.SignedBy, say.Date(ctx, r.SignedAt), r.Version)
	}
	v.State = StateTable(ctx, f, StateWords{
		Caption: say.T(ctx, "Then and now"), Start: say.T(ctx, "At the start"), Now: say.T(ctx, "Now"),
		Activity: say.T(ctx, "Minutes a week that count"), Ceiling: say.T(ctx, "How hard you may go at most"),
		Resting: say.T(ctx, "Heartbeats in a minute at rest"), Unknown: say.T(ctx, "not known"),
		Pressure: say.T(ctx, "Blood pressure before exercise"), Pulse: say.T(ctx, "Heartbeats before exercise"),
	})
	v.PutWeeks(ctx, f)
	v.Lists = append(v.Lists, clientTests(ctx, f), clientSymptoms(ctx, f), clientWeeks(ctx, f))
	if !r.Final {
		v.clientAhead(ctx, f)
	}
	return v
}

// Lines are the lines of what somebody typed, without empty ones.
func Lines(text string) []string {
	var list []string
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			list = append(list, line)
		}
	}
	return list
}

// StateWords are the words of a table of then and now.
type StateWords struct {
	Caption, Start, Now, Activity, Ceiling, Resting, Unknown string
	Pressure, Pulse                                          string // before a session
}

// StateTable tells where a client stood and stands.
func StateTable(ctx context.Context, f store.ReportFigures, w StateWords) ui.Table {
	t := ui.Table{
		Caption: w.Caption, HideCaption: true,
		Columns: []ui.Column{{Label: w.Caption}, {Label: w.Start, Number: true}, {Label: w.Now, Number: true}},
	}
	row := func(label, start, now string) {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{{Text: label}, {Text: start}, {Text: now}}})
	}
	number := func(known bool, n int) string {
		if !known {
			return w.Unknown
		}
		return say.F(ctx, "%d", n)
	}
	class := func(s store.ReportState) string {
		switch {
		case !s.Screened:
			return w.Unknown
		case s.Ceiling == intensity.None:
			return say.T(ctx, "Nothing for now")
		}
		return ui.SayClass(ctx, s.Ceiling)
	}
	row(w.Activity, number(f.Start.Known, f.Start.Activity), number(f.Now.Known, f.Now.Activity))
	row(w.Ceiling, class(f.Start), class(f.Now))
	row(w.Resting, number(f.Start.Resting > 0, f.Start.Resting), number(f.Now.Resting > 0, f.Now.Resting))
	measured := func(label string, pair [2]store.ReportReading) {
		if pair[0].On.IsZero() {
			return
		}
		words := func(r store.ReportReading) string {
			day := strings.ReplaceAll(say.ShortDay(ctx, r.On.Time()), " ", "\u00a0") // in one piece
			if r.Low > 0 {
				return say.F(ctx, "%d/%d, %s", r.High, r.Low, day)
			}
			return say.F(ctx, "%d, %s", r.High, day)
		}
		last := ""
		if pair[1] != pair[0] {
			last = words(pair[1])
		}
		row(label, words(pair[0]), last)
	}
	measured(w.Pressure, f.Pressure)
	measured(w.Pulse, f.Pulse)
	return t
}

// weekTables is how many tables beside the drawing hold the weeks.
const weekTables = 3

// PutWeeks draws the weeks and lists them beside the drawing.
func (v *Paper) PutWeeks(ctx context.Context, f store.ReportFigures) {
	v.Weeks = ui.Weeks{ID: "report-weeks", Title: say.T(ctx, "Minutes by week")}
	for _, w := range f.Weeks {
		day := w.First.Time()
		v.Weeks.Weeks = append(v.Weeks.Weeks, ui.WeekColumn{
			Label: say.ShortDay(ctx, day), Name: say.F(ctx, "Week of %s", say.Day(ctx, day)), Totals: w.Totals, Target: w.Target,
		})
		if w.Target.Minutes > 0 { // the line is that of the newest
			v.Weeks.Target = w.Target
		}
	}
	if v.Weeks.Target == (volume.Target{}) {
		v.Weeks.Target = volume.DefaultTarget(volume.PolicyFrom(nil))
	}
	long := max(3, (len(f.Weeks)+weekTables-1)/weekTables)
	for first := 0; first < len(f.Weeks); first += long {
		some := f.Weeks[first:min(len(f.Weeks), first+long)]
		t := ui.Table{
			Caption: say.F(ctx, "Weeks from %s", say.Day(ctx, some[0].First.Time())), HideCaption: true,
			Columns: []ui.Column{{Label: say.T(ctx, "Week")}, {Label: say.T(ctx, "Counts"), Number: true}, {Label: say.T(ctx, "Target"), Number: true}},
		}
		for _, w := range some {
			target := "–"
			if w.Asked > 0 {
				target = say.F(ctx, "%d", w.Target.Minutes)
			}
			t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
				{Text: say.ShortDay(ctx, w.First.Time())}, {Text: say.F(ctx, "%d", w.Done())}, {Text: target},
			}})
		}
		v.Tables = append(v.Tables, t)
	}
}

func clientTests(ctx context.Context, f store.ReportFigures) PaperList {
	list := PaperList{Title: say.T(ctx, "My fitness tests")}
	for _, test := range f.Tests {
		first, unit := plainOutcome(ctx, test.First)
		last, _ := plainOutcome(ctx, test.Last)
		line := say.F(ctx, "%s: %s %s.", plainTest(ctx, test.Test), last, unit)
		if test.Change != nil {
			line = say.F(ctx, "%s: first %s, now %s %s.", plainTest(ctx, test.Test), first, last, unit) + " " + plainChange(ctx, *test.Change)
		}
		list.Lines = append(list.Lines, line)
	}
	if len(list.Lines) == 0 {
		list.Lines = []string{say.T(ctx, "No test yet")}
	}
	return list
}

func clientSymptoms(ctx context.Context, f store.ReportFigures) PaperList {
	list := PaperList{Title: say.T(ctx, "What felt wrong, and what came of it")}
	for _, s := range f.Symptoms {
		list.Lines = append(list.Lines, say.ShortDay(ctx, s.On.Time())+": "+SomeReports(ctx, s)+" "+clientOutcome(ctx, s))
	}
	if len(list.Lines) == 0 {
		list.Lines = []string{say.T(ctx, "You told us of nothing.")}
	}
	return list
}

// SomeReports are the first two reports of a log, with the number of others.
func SomeReports(ctx context.Context, s store.ReportSymptom) string {
	words := ReportWords(ctx, s.Reports)
	text := strings.Join(words[:min(len(words), 2)], "; ")
	if more := len(words) - 2; more > 0 {
		text += say.N(ctx, more, "; and %d more", "; and %d more")
	}
	return strings.TrimRight(text, ".") + "."
}

// waits are the words for what waited and waits.
var waits = map[clearance.Scope][2]string{
	clearance.All:        {say.Key("All exercise waited until %s."), say.Key("All exercise still waits.")},
	clearance.AboveLight: {say.Key("All but easy exercise waited until %s."), say.Key("All but easy exercise still waits.")},
	clearance.Vigorous:   {say.Key("Hard exercise waited until %s."), say.Key("Hard exercise still waits.")},
}

func clientOutcome(ctx context.Context, s store.ReportSymptom) string {
	words, held := waits[s.Held]
	switch {
	case !held:
		return say.T(ctx, "Nothing had to wait.")
	case s.Released.IsZero():
		return say.T(ctx, words[1])
	}
	return say.F(ctx, words[0], say.ShortDay(ctx, s.Released.Time()))
}

func clientWeeks(ctx context.Context, f store.ReportFigures) PaperList {
	list, a := PaperList{Title: say.T(ctx, "Your weeks")}, f.Adherence
	if a.Weeks == 0 {
		list.Lines = []string{say.T(ctx, "No whole week with a plan is over yet.")}
		return list
	}
	list.Lines = []string{
		say.F(ctx, "Weeks with something in your log: %d of %d.", a.Logged, a.Weeks),
		say.F(ctx, "Weeks at your target: %d of %d.", a.Reached, a.Weeks),
		say.T(ctx, "Weeks of a break do not count here. Every minute you moved helps."),
	}
	return list
}

func (v *Paper) clientAhead(ctx context.Context, f store.ReportFigures) {
	title := say.T(ctx, "The weeks ahead")
	if len(f.Ahead) > 0 {
		v.Ahead = &ui.Table{Caption: title, Columns: []ui.Column{{Label: say.T(ctx, "Week from")}, {Label: say.T(ctx, "What")}, {Label: say.T(ctx, "How hard")}, {Label: say.T(ctx, "Target"), Number: true}}}
		for _, w := range f.Ahead {
			what, hard := say.N(ctx, w.Dose.Sessions, "%d time, %d minutes", "%d times, %d minutes each", w.Dose.Minutes), ui.SayClass(ctx, w.Dose.Class)
			if w.Dose.Vigorous > 0 {
				what += ". " + hardMinutes(ctx, w.Dose)
			}
			if w.Dose.Sessions == 0 {
				what, hard = say.T(ctx, "Nothing is asked of you."), ""
			}
			v.Ahead.Rows = append(v.Ahead.Rows, ui.Row{Cells: []ui.Cell{
				{Text: say.ShortDay(ctx, w.First.Time())}, {Text: what}, {Text: hard}, {Text: say.F(ctx, "%d", w.Target.Minutes)},
			}})
		}
		return
	}
	list := PaperList{Title: title}
	if p := f.Prescription; p != nil {
		list.Lines = []string{
			p.Activities + ". " + say.N(ctx, p.Dose.Sessions, "%d time, %d minutes", "%d times, %d minutes each", p.Dose.Minutes) + ". " + ui.SayClass(ctx, p.Dose.Class) + ".",
			say.T(ctx, "You keep to this plan until your practitioner and you agree on the next step."),
		}
		if p.Dose.Vigorous > 0 {
			list.Lines[0] += " " + hardMinutes(ctx, p.Dose)
		}
	} else {
		list.Lines = []string{say.T(ctx, "No plan yet")}
	}
	v.Lists = append(v.Lists, list)
}
