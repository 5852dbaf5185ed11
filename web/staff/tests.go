package staff

import (
	"fmt"
	"math"
	"net/http"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/fitness"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// testsView is what the page of a client's fitness tests shows.
type testsView struct {
	store.TestsPage
}

func (v testsView) base() string { return recordPath(v.Client.ID) + "/tests" }

// Tests lists a client's fitness tests: what they came to, and what can be done.
func (p Pages) Tests(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	tests, err := p.Store.Tests(r.Context(), page.From(r.Context()).Actor(), id)
	if err != nil {
		return err
	}
	frame := p.Frame(r, "Fitness tests of "+tests.Client.Name())
	return p.renderRecord(w, r, http.StatusOK, frame, id, testsPage(testsView{tests}))
}

// dueWords says when the last test is due again; "" without one.
func (v testsView) dueWords() string {
	if v.Due.IsZero() {
		return ""
	}
	return testDueWords(v.Due, v.Today)
}

// testDueWords says when the last test is due again.
func testDueWords(due, today domain.Date) string {
	switch {
	case due.IsZero():
		return "None yet."
	case due.After(today):
		return "The next test is due on " + day(due) + "."
	}
	return "A retest is due since " + day(due) + "."
}

// resultPath is the page of one result.
func resultPath(r store.TestResult) string {
	return recordPath(r.ClientID) + "/tests/" + string(r.Test) + "/" + r.ID.String()
}

// seriesTitle names a line: the test, and the course of a walk.
func seriesTitle(s store.TestSeries) string {
	if s.CourseM > 0 {
		return fmt.Sprintf("%s, course of %.0f m", s.Test.Name, s.CourseM)
	}
	return s.Test.Name
}

// outcomeShown writes the figure that a test is followed by.
func outcomeShown(o fitness.Outcome) string {
	if o.Unit == "ml/kg/min" {
		return fitness.ShowVO2(o.Value)
	}
	return fmt.Sprintf("%.0f", o.Value)
}

// changeSentence says how much changed and whether that is real.
func changeSentence(c store.TestChange, o fitness.Outcome) string {
	size := fitness.Outcome{Value: math.Abs(c.Change.By), Unit: o.Unit}
	more := "more"
	if c.Change.By < 0 {
		more = "less"
	}
	words := fmt.Sprintf("%s %s %s than on %s", outcomeShown(size), o.Unit, more, day(c.From))
	if c.Change.By == 0 {
		words = "The same as on " + day(c.From)
	}
	way := "for the better"
	if !c.Change.Better {
		way = "for the worse"
	}
	switch {
	case c.Why != "":
		return words + ". " + c.Why
	case c.Change.Tier == fitness.WithinError:
		return words + ": within the error of the test. That is no change one can count on, and no failure."
	case c.Change.Tier == fitness.Probable:
		return words + ": probably a change " + way + "; a third test would tell."
	case c.Change.Tier == fitness.Small:
		return words + ": a small change " + way + " that people notice."
	case c.Change.Tier == fitness.Large:
		return words + ": a large change " + way + "."
	case c.Change.Tier == fitness.Clear:
		return words + ": a clear change " + way + "."
	}
	return words + ": a real change " + way + ", larger than the error."
}

// lineOf is the drawing of a line of results, with its title hidden under a heading
// that says the same.
func lineOf(s store.TestSeries, hidden bool) ui.Line {
	l := ui.Line{
		ID: "line-" + strings.ReplaceAll(fmt.Sprintf("%s-%.0f", s.Test.ID, s.CourseM), "_", "-"), Title: seriesTitle(s), Hidden: hidden,
		Columns: [3]string{"Day", "Result", "Error for one person"},
	}
	for _, p := range s.Points {
		l.Unit = p.Outcome.Unit
		point := ui.LinePoint{
			Day: p.DoneOn.DaysSince(s.Points[0].DoneOn), Label: p.DoneOn.Time().Format("2 Jan 06"), Name: day(p.DoneOn),
			Value: p.Outcome.Value, Error: p.Outcome.Error, Shown: outcomeShown(p.Outcome), Href: resultPath(p.TestResult),
		}
		if p.Outcome.Error > 0 {
			point.Note = fitness.ShowVO2(p.Outcome.Error) + " either way"
		}
		l.Points = append(l.Points, point)
	}
	return l
}

// resultState says what became of a result.
func resultState(r store.TestResult) string {
	switch {
	case r.ErrorReason != "":
		return "Entered in error: " + r.ErrorReason
	case r.SupersededBy.Valid:
		return "Corrected since"
	case r.Supersedes.Valid:
		return "Counts. Corrected: " + r.Reason
	}
	return "Counts"
}

// resultShown is a result in a few words.
func resultShown(r store.TestResult) string {
	if o, ok := r.Outcome(); ok {
		return outcomeShown(o) + " " + o.Unit
	}
	return "No estimate"
}

func (v testsView) allTable() ui.Table {
	t := ui.Table{
		Caption: "All results", HideCaption: true,
		Columns: []ui.Column{{Label: "Test"}, {Label: "Day"}, {Label: "Result"}, {Label: "State"}},
	}
	for _, r := range v.All {
		t.Rows = append(t.Rows, ui.Row{Muted: !r.InForce(), Cells: []ui.Cell{
			{Text: testName(r.Test), Href: resultPath(r)}, {Text: day(r.DoneOn)}, {Text: resultShown(r)}, {Text: resultState(r)},
		}})
	}
	return t
}

// testName is the name of a test, or its id if the catalogue has lost it.
func testName(id fitness.TestID) string {
	test, err := fitness.FindTest(id)
	if err != nil {
		return string(id)
	}
	return test.Name
}

// choiceTable lists the tests that can be done today, or those that wait: what each
// is for, when it is valid, and what bars it.
func (v testsView) choiceTable(waits bool) ui.Table {
	t := ui.Table{
		Caption: "Tests", HideCaption: true,
		Columns: []ui.Column{{Label: "Test"}, {Label: "What it tells"}, {Label: "For whom and when"}, {Label: "Today"}},
	}
	age := v.Client.BirthDate.AgeOn(v.Today)
	for _, test := range fitness.Tests() {
		if test.ID == fitness.Jog1MileTeen {
			continue // clients are adults
		}
		if waits != (len(v.Bars[test.ID]) > 0) {
			continue
		}
		card := test.Card()
		today := "Can be done"
		switch bars := v.Bars[test.ID]; {
		case len(bars) > 0:
			today = "Waits. " + bars[0]
		case test.AgeLow != 0 && (age < test.AgeLow || age > test.AgeHigh):
			today = fmt.Sprintf("Can be done; worked out from %d to %d years", test.AgeLow, test.AgeHigh)
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: test.Name, Href: v.base() + "/" + string(test.ID)}, {Text: card.For}, {Text: card.Valid}, {Text: today},
		}})
	}
	return t
}

// testView is what the page of one result shows.
type testView struct {
	store.TestPage
	Test     fitness.Test
	Reason   string // for an entry in error, as typed
	Problem  string
	Sources  []ui.Source
	Sentence string
}

func (v testView) base() string { return recordPath(v.Client.ID) }

// Test shows one result.
func (p Pages) Test(w http.ResponseWriter, r *http.Request) error {
	return p.renderTest(w, r, http.StatusOK, testView{})
}

func (p Pages) renderTest(w http.ResponseWriter, r *http.Request, status int, v testView) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	id, err := pathID(r, "result")
	if err != nil {
		return err
	}
	if v.TestPage, err = p.Store.Test(r.Context(), page.From(r.Context()).Actor(), client, id); err != nil {
		return err
	}
	if v.Test, err = fitness.FindTest(v.Result.Test); err != nil {
		return err
	}
	v.Sentence = testSentence(v.Result.Result)
	if o, ok := v.Result.Outcome(); ok && o.Unit != "ml/kg/min" {
		v.Sentence = outcomeShown(o) + " " + o.Unit
	}
	for _, key := range v.Result.Result.Cites {
		v.Sources = append(v.Sources, page.Source(key))
	}
	if v.Result.Result.Standing != nil {
		v.Sources = append(v.Sources, page.Source("kaminsky2022"), page.Source("acsm_words"))
	}
	frame := p.Frame(r, v.Test.Name+" of "+v.Client.Name()+", "+day(v.Result.DoneOn))
	frame.ProblemTitle = v.Problem != ""
	return p.renderRecord(w, r, status, frame, client, testResultPage(v))
}

// errorForm is why a result was entered in error, as typed.
type errorForm struct {
	Reason string `form:"reason"`
}

// MarkTestError marks a result as entered in error.
func (p Pages) MarkTestError(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	id, err := pathID(r, "result")
	if err != nil {
		return err
	}
	var f errorForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	err = p.Store.MarkTestError(r.Context(), page.From(r.Context()).Actor(), client, id, f.Reason)
	if problems, ok := page.Problems(err); ok {
		return p.renderTest(w, r, http.StatusUnprocessableEntity, testView{Reason: f.Reason, Problem: problems["reason"]})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "The result is marked as entered in error. It counts no more and is kept.")
	return page.See(w, r, recordPath(client)+"/tests")
}

// readings are what the result was worked out from, and what was measured beside it.
func (v testView) readings() []ui.Definition {
	in, c := v.Result.Input, v.Result.Conditions
	var items []ui.Definition
	add := func(given bool, term, format string, args ...any) {
		if given {
			items = append(items, ui.Definition{Term: term, Detail: fmt.Sprintf(format, args...)})
		}
	}
	add(in.Age != nil, "Age", "%d years", or(in.Age, 0))
	add(in.Sex != "", "Sex", "%s", in.Sex)
	add(in.WeightKg != nil, "Weight", "%.1f kg", or(in.WeightKg, 0))
	add(in.HeightCm != nil, "Height", "%.0f cm", or(in.HeightCm, 0))
	add(in.BMI != nil, "Body-mass index", "%.1f kg/m²", or(in.BMI, 0))
	add(in.FatPercent != nil, "Body fat", "%.1f %%", or(in.FatPercent, 0))
	add(in.Rating != nil, "Activity", "%d of 7", or(in.Rating, 0))
	add(in.Level != nil, "Activity", "%d of 5", or(in.Level, 0))
	add(in.Pace != nil, "Ratings of pace", "%d", or(in.Pace, 0))
	add(in.DistanceM != nil, "Distance", "%.0f m", or(in.DistanceM, 0))
	add(in.Minutes != nil, "Time", "%s min", fitness.ShowMinutes(or(in.Minutes, 0)))
	add(in.SpeedMMin != nil, "Speed", "%s km/h", fitness.ShowKmH(fitness.ToKmH(or(in.SpeedMMin, 0))))
	add(in.Grade != nil, "Grade", "%.1f %%", 100*or(in.Grade, 0))
	add(in.WorkKgmMin != nil, "Work rate", "%s W", fitness.ShowWatts(fitness.ToWatts(or(in.WorkKgmMin, 0))))
	add(in.StepHeight != nil, "Height of the step", "%.1f cm", 100*or(in.StepHeight, 0))
	for i, s := range in.Stages {
		add(true, fmt.Sprintf("Stage %d", i+1), "%.0f steps a minute, %d beats", s.StepsMin, s.HR)
	}
	add(in.HR != nil, "Heart rate", "%d beats a minute", or(in.HR, 0))
	add(in.HRMax != nil, "Maximal heart rate", "%.0f beats a minute", or(in.HRMax, 0))
	add(in.Stands != nil, "Stands", "%d", or(in.Stands, 0))
	add(in.Steps != nil, "Steps", "%d", or(in.Steps, 0))
	add(c.RestingHR != nil, "Heart rate at rest before", "%d beats a minute", or(c.RestingHR, 0))
	add(c.SBP != nil && c.DBP != nil, "Blood pressure before", "%d/%d mmHg", or(c.SBP, 0), or(c.DBP, 0))
	add(c.SpO2 != nil, "Saturation before", "%d %%", or(c.SpO2, 0))
	add(c.SpO2After != nil, "Saturation after", "%d %%", or(c.SpO2After, 0))
	add(c.Breathless != nil, "Breathlessness before", "%d of 10", or(c.Breathless, 0))
	add(c.BreathAfter != nil, "Breathlessness after", "%d of 10", or(c.BreathAfter, 0))
	add(c.Fatigue != nil, "Fatigue before", "%d of 10", or(c.Fatigue, 0))
	add(c.FatigueAfter != nil, "Fatigue after", "%d of 10", or(c.FatigueAfter, 0))
	add(c.CourseM != nil, "Course", "%.0f m", or(c.CourseM, 0))
	add(c.PeakHR != nil, "Highest heart rate", "%d beats a minute", or(c.PeakHR, 0))
	add(c.Note != "", "Note", "%s", c.Note)
	add(true, "Entered", "by %s on %s", v.Result.CreatedBy, v.Result.CreatedAt.Format("2 January 2006"))
	return items
}

// newTestID makes the id of a form.
func newTestID() uuid.UUID { return uuid.Must(uuid.NewV7()) }
