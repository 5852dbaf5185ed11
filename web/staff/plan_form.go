package staff

import (
	"fmt"
	"strconv"
	"strings"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/volume"
	"brae/store"
	"brae/web/ui"
)

// planForm is a plan as typed.
type planForm struct {
	Version   string         `form:"version"`
	Starts    string         `form:"starts"`
	Goal      string         `form:"goal"`
	Behind    string         `form:"behind"`
	Preset    string         `form:"preset"`
	Origin    string         `form:"origin"`
	Reason    string         `form:"reason"`
	Confirmed string         `form:"confirmed"`
	Do        string         `form:"do"` // which button was pressed
	Weeks     []planWeekForm `form:"weeks"`
}

// planWeekForm is one week of it.
type planWeekForm struct {
	Class    string `form:"class"`
	Sessions string `form:"sessions"`
	Minutes  string `form:"minutes"`
	Easy     string `form:"easy"`
	Vigorous string `form:"vigorous"`

	// Of is the dose that Totals are of: the week's minutes where its sessions
	// differ, as some programmes' do. They hold as long as the dose is not changed.
	Of     string `form:"of"`
	Totals string `form:"totals"`
}

// newPlanForm writes weeks into a form.
func newPlanForm(weeks []plan.Week) planForm {
	var f planForm
	for _, w := range weeks {
		d := w.Dose
		f.Weeks = append(f.Weeks, planWeekForm{
			Class: d.Class.String(), Sessions: number(d.Sessions), Minutes: number(d.Minutes), Easy: number(d.Easy), Vigorous: number(d.Vigorous),
			Of: doseKey(d), Totals: fmt.Sprintf("%d %d %d", w.Totals.Light, w.Totals.Moderate, w.Totals.Vigorous),
		})
	}
	return f
}

func doseKey(d plan.Dose) string {
	return fmt.Sprintf("%s %d %d %d %d", d.Class, d.Sessions, d.Minutes, d.Easy, d.Vigorous)
}

// input converts the form. What does not parse is a problem of its field.
func (f planForm) input() (store.PlanInput, domain.Problems) {
	var problems domain.Problems
	in := store.PlanInput{Preset: f.Preset, Origin: store.PlanOrigin(f.Origin), Reason: f.Reason, Confirmed: f.Confirmed == "yes"}
	switch in.Origin {
	case store.FromCopy, store.FromAgain:
	default:
		in.Origin = store.FromEditor
	}
	in.Version, _ = strconv.Atoi(f.Version) // a wrong one is refused as outdated
	in.Behind, _ = strconv.Atoi(f.Behind)
	var err error
	if in.Starts, err = domain.ParseDate(f.Starts); err != nil {
		problems.Add("starts", "Choose the week in which the plan begins.")
	}
	in.Goal = wholeNumber(&problems, "goal", f.Goal)
	for i, w := range f.Weeks {
		in.Weeks = append(in.Weeks, w.week(&problems, i))
	}
	return in, problems
}

func (w planWeekForm) week(problems *domain.Problems, i int) plan.Week {
	name := func(field string) string { return fmt.Sprintf("weeks[%d].%s", i, field) }
	d := plan.Dose{
		Sessions: wholeNumber(problems, name("sessions"), w.Sessions), Minutes: wholeNumber(problems, name("minutes"), w.Minutes),
		Easy: wholeNumber(problems, name("easy"), w.Easy), Vigorous: wholeNumber(problems, name("vigorous"), w.Vigorous),
	}
	d.Class, _ = intensity.ParseClass(w.Class) // none is refused at the field
	week := plan.WeekOf(i+1, d)
	var light, moderate, vigorous int
	if _, err := fmt.Sscanf(w.Totals, "%d %d %d", &light, &moderate, &vigorous); err == nil && w.Of == doseKey(d) {
		week.Totals = volume.Sum([]volume.Part{
			{Minutes: light, Class: intensity.Light}, {Minutes: moderate, Class: intensity.Moderate}, {Minutes: vigorous, Class: intensity.Vigorous},
		})
	}
	return week
}

// wholeNumber reads a number; empty is 0. What is none becomes -1, which the
// rules refuse, so that all that is wrong is told at once.
func wholeNumber(problems *domain.Problems, field, typed string) int {
	if typed = strings.TrimSpace(typed); typed == "" {
		return 0
	}
	n, err := strconv.Atoi(typed)
	if err != nil || n < 0 || n > 10000 {
		problems.Add(field, "Type a whole number.")
		return -1
	}
	return n
}

// alter does what a button asks for that changes the weeks: "repeat 2", "drop",
// "more". It reports false for any other button.
func (f *planForm) alter() bool {
	what, at, _ := strings.Cut(f.Do, " ")
	i, err := strconv.Atoi(at)
	n := len(f.Weeks)
	switch {
	case what == "repeat" && err == nil && i >= 0 && i < n:
		weeks := append([]planWeekForm{}, f.Weeks[:i+1]...)
		f.Weeks = append(weeks, f.Weeks[i:]...)
	case what == "more" && n > 0:
		f.Weeks = append(f.Weeks, f.Weeks[n-1])
	case what == "drop" && n > 1:
		f.Weeks = f.Weeks[:n-1]
	default:
		return what == "look" || what == "more" || what == "drop" || what == "repeat"
	}
	return true
}

// buildForm is what a new plan is made from.
type buildForm struct {
	Preset, Class, Sessions, Minutes, Goal, Weeks, Behind string
}

func (f buildForm) input() (plan.Input, domain.Problems) {
	var problems domain.Problems
	in := plan.Input{
		Preset: f.Preset, Goal: wholeNumber(&problems, "goal_minutes", f.Goal), Weeks: wholeNumber(&problems, "weeks", f.Weeks),
		Start: plan.Start{
			Sessions: wholeNumber(&problems, "start.sessions", f.Sessions), Minutes: wholeNumber(&problems, "start.minutes", f.Minutes),
			Behind: wholeNumber(&problems, "start.behind", f.Behind),
		},
	}
	in.Start.Class, _ = intensity.ParseClass(f.Class)
	return in, problems
}

// presetOptions are the ways to begin a plan.
func presetOptions() []ui.Option {
	options := []ui.Option{{Value: "", Label: "Step by step from the start to the goal"}}
	for _, ps := range plan.Presets() {
		options = append(options, ui.Option{Value: ps.ID, Label: presetName(ps)})
	}
	return options
}

// presetName is the first words of what a programme is.
func presetName(ps plan.Preset) string {
	name, _, _ := strings.Cut(ps.Says, ":")
	name, _, _ = strings.Cut(name, ",")
	return strings.TrimSuffix(name, ".")
}
