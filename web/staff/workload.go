package staff

import (
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/source"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// workCites are what workloads rest on.
var workCites = []source.Key{"garber2011", "acsm_equations", "acsm_ranges", "acsm_conditions", "cdc_talk", "practice"}

// workloadView is the work that should bring somebody into a class.
type workloadView struct {
	store.WorkloadPage
	Fields   []numbersField
	Problems domain.Problems
}

func (v workloadView) base() string { return recordPath(v.Client.ID) }

// workFields asks for a class and what the work is worked out from.
func workFields(classes []ui.Option, class string) []numbersField {
	return []numbersField{
		radios.as(ui.Field{Name: "class", Label: "Class", Value: class, Options: classes}),
		decimal.as(ui.Field{Name: "vo2max", Label: "Maximal oxygen uptake", Unit: "ml/kg/min"}),
		decimal.as(ui.Field{Name: "see", Label: "Its error", Unit: "ml/kg/min", Optional: true, Hint: "One standard error of the test. Without one the practice's setting is taken."}),
		line.as(ui.Field{Name: "weight_kg", Label: "Weight", Unit: "kg", Optional: true, Hint: "For the cycle. Or with its unit: 150 lb."}),
	}
}

// workClasses are the classes that work is told for, up to a ceiling.
func workClasses(ceiling intensity.Class) []ui.Option {
	var options []ui.Option
	for _, c := range []intensity.Class{intensity.Light, intensity.Moderate, intensity.Vigorous} {
		if c <= ceiling {
			options = append(options, ui.Option{Value: c.String(), Label: ui.ClassWord(c)})
		}
	}
	return options
}

// workClass is the class that was chosen, None if none was.
func (t *typed) workClass() intensity.Class {
	text := t.text("class")
	if text == "" {
		return intensity.None
	}
	c, err := intensity.ParseClass(text)
	if err != nil {
		t.problems.Add("class", "Choose light, moderate or vigorous.")
	}
	return c
}

// Workload shows the work that should bring a client into a class: from the newest
// test, or from an oxygen uptake that is typed.
func (p Pages) Workload(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	t := &typed{query: r.URL.Query()}
	in := store.WorkloadInput{Class: t.workClass(), VO2max: t.number("vo2max"), SEE: t.number("see"), WeightKg: t.quantity("weight_kg", fitness.Weight, "kg")}
	load, err := p.Store.Workload(r.Context(), page.From(r.Context()).Actor(), id, in)
	switch problems, refused := page.Problems(err); {
	case refused:
		t.refuse(problems, nil)
	case errors.Is(err, domain.ErrHeld):
		t.problems.Add("class", "This is above what is allowed now. Choose an easier class.")
	case err != nil:
		return err
	}
	v := workloadView{WorkloadPage: load, Problems: t.problems}
	if t.problems != nil {
		v.Work = nil
	}
	v.fill(t)
	status := http.StatusOK
	if t.problems != nil {
		status = http.StatusUnprocessableEntity
	}
	frame := p.Frame(r, "Workloads for "+load.Client.Name())
	frame.ProblemTitle = t.problems != nil
	return p.renderRecord(w, r, status, frame, id, workloadPage(v))
}

// fill shows what was worked with where nothing was typed.
func (v *workloadView) fill(t *typed) {
	query := map[string]string{"class": v.Aim.Class.String()}
	if v.Aim.VO2max != 0 {
		query["vo2max"] = fitness.ShowVO2(v.Aim.VO2max)
	}
	if v.Aim.SEE != 0 {
		query["see"] = fitness.ShowVO2(v.Aim.SEE)
	}
	if v.Aim.WeightKg != nil {
		query["weight_kg"] = strconv.FormatFloat(*v.Aim.WeightKg, 'f', -1, 64)
	}
	for name, text := range query {
		if t.text(name) == "" {
			t.query.Set(name, text)
		}
	}
	v.Fields = t.fill(workFields(workClasses(v.Ceiling), query["class"])...)
	for i := range v.Fields {
		v.Fields[i].Problem = v.Problems[v.Fields[i].Name]
	}
}

func (v workloadView) order() []string {
	var names []string
	for _, f := range v.Fields {
		names = append(names, f.Name)
	}
	return names
}

// basisWords says where the oxygen uptake comes from.
func (v workloadView) basisWords() string {
	if v.Basis == nil {
		return ""
	}
	return fmt.Sprintf("From the test %q of %s.", testName(v.Basis.Test), day(v.Basis.DoneOn))
}

// workBlock is workloads ready to print: for the page of a client, for the numbers,
// and for whoever prescribes.
type workBlock struct {
	Sentence string
	Table    ui.Table
	Notes    []string
	Sources  []ui.Source
}

// newWorkBlock writes workloads. The heart-rate ceiling is 0 where there is none.
func newWorkBlock(a fitness.Aim, w fitness.Workloads, top heartrate.BPM) workBlock {
	b := workBlock{
		Sentence: fmt.Sprintf("%s is %d to %d %% of the oxygen uptake reserve: %s to %s ml per kg and minute, %s to %s METs.",
			ui.ClassWord(a.Class), w.FromPercent, w.ToPercent, fitness.ShowVO2(w.VO2Low), fitness.ShowVO2(w.VO2High),
			fitness.ShowMETs(w.METsLow), fitness.ShowMETs(w.METsHigh)),
		Table: ui.Table{Caption: "Work for " + strings.ToLower(ui.ClassWord(a.Class)) + " effort", Columns: []ui.Column{
			{Label: "Work"}, {Label: "Begin with", Number: true}, {Label: "Range of the class", Number: true}, {Label: "Where the equation ends"},
		}},
	}
	for _, one := range w.Works {
		start := workShown(one, one.Start)
		if one.StartOutside {
			start = "below " + start
		}
		cut := ""
		switch one.Cut {
		case fitness.Below:
			cut = "The class begins with easier work than the equation was made for."
		case fitness.Above:
			cut = "The class goes on beyond the equation."
		}
		b.Table.Rows = append(b.Table.Rows, ui.Row{Cells: []ui.Cell{
			{Text: workName(one)}, {Text: start}, {Text: fmt.Sprintf("%s to %s", workFigure(one, one.Low), workShown(one, one.High))}, {Text: cut},
		}})
	}
	if len(w.Works) == 0 {
		b.Notes = append(b.Notes, "No work of this class lies where the equations were made for. Go by talk test and perceived exertion.")
	}
	b.Notes = append(b.Notes,
		"Begin lower, and check with the talk test after some minutes: "+intensity.Cue(a.Class)+" What the person can say counts, not the figure.",
		fmt.Sprintf("People differ by %.0f %% at the same work, and the maximum is off by its own error. The start is worked out as if both were against the person.", 100*fitness.Spread),
		"For steady work, without holding on to the rail.")
	if slices.ContainsFunc(w.Works, func(one fitness.Workload) bool { return one.Mode == fitness.LegCycle }) && !a.Cycle {
		b.Notes = append(b.Notes, "On a cycle most people reach 10 to 20 % less than on foot: there the same class takes fewer watts.")
	}
	if len(w.Missing) > 0 {
		b.Notes = append(b.Notes, "With a body weight there are watts for a cycle, too.")
	}
	if a.SEE == 0 && !a.Measured {
		b.Notes = append(b.Notes, "No error is known for this maximum; the practice's setting was taken for the start.")
	}
	if top > 0 {
		b.Notes = append(b.Notes, fmt.Sprintf("Never above %d beats a minute, whatever the work.", top))
	}
	for _, key := range workCites {
		b.Sources = append(b.Sources, page.Source(key))
	}
	return b
}

func workName(w fitness.Workload) string {
	switch w.Mode {
	case fitness.Walk, fitness.Run:
		verb := "Walking"
		if w.Mode == fitness.Run {
			verb = "Running"
		}
		if w.Grade == 0 {
			return verb + ", level"
		}
		return fmt.Sprintf("%s, treadmill at %s %%", verb, strconv.FormatFloat(100*w.Grade, 'f', -1, 64))
	case fitness.LegCycle:
		return "Cycle"
	}
	return fmt.Sprintf("Step of %.0f cm", 100*w.StepHeight)
}

// workFigure writes a work without its unit.
func workFigure(w fitness.Workload, x float64) string {
	switch w.Mode {
	case fitness.Walk, fitness.Run:
		return fitness.ShowKmH(fitness.ToKmH(x))
	case fitness.LegCycle:
		return fitness.ShowWatts(fitness.ToWatts(x))
	}
	return strconv.FormatFloat(x, 'f', 0, 64)
}

func workShown(w fitness.Workload, x float64) string {
	switch w.Mode {
	case fitness.Walk, fitness.Run:
		return workFigure(w, x) + " km/h"
	case fitness.LegCycle:
		return workFigure(w, x) + " W"
	}
	return fmt.Sprintf("%s steps a minute (metronome %.0f)", workFigure(w, x), 4*x)
}

var workloadCalculator = calculator{
	path: "workload", name: "Workload",
	lead: "The work that should bring somebody into a class: speed and grade, watts, height and rate of a step.",
	caution: "A figure to begin from, for steady work. It knows no hold and no ceiling: for a client use the page of the record. " +
		"With a symptom, stop.",
	ask: func(t *typed) numbersForm {
		return numbersForm{fields: t.fill(workFields(workClasses(intensity.Vigorous), intensity.Moderate.String())...)}
	},
	answer: answerWorkload,
}

func answerWorkload(t *typed, settings source.Values) (result numbersResult) {
	class := t.workClass()
	if class == intensity.None {
		class = intensity.Moderate
	}
	vo2max := t.number("vo2max")
	if vo2max == nil {
		t.problems.Add("vo2max", "Type the maximal oxygen uptake.")
	}
	aim := fitness.Aim{
		Class: class, Ceiling: intensity.Vigorous, VO2max: or(vo2max, 0), SEE: or(t.number("see"), 0),
		WeightKg: t.quantity("weight_kg", fitness.Weight, "kg"), Cap: heartrate.PolicyFrom(settings).VigorousTo,
	}
	work, err := fitness.WorkFor(aim, fitness.PolicyFrom(settings))
	if err != nil {
		t.refuse(err, nil)
	}
	if t.problems != nil {
		return result
	}
	b := newWorkBlock(aim, work, 0)
	result.sentence, result.notes, result.cites = b.Sentence, b.Notes, workCites
	result.tables = []ui.Table{b.Table}
	return result
}
