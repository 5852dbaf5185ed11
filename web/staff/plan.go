package staff

import (
	"errors"
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/volume"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// planView is what the plan editor shows.
type planView struct {
	Sheet    store.PlanSheet
	Form     planForm // without weeks while there is nothing to edit
	Build    buildForm
	Pause    pauseForm
	Draft    bool // the weeks are not those of the plan in force
	Problems domain.Problems
	Doubts   domain.Doubts
	Notes    []string
	Ladder   ui.Ladder
	Rows     []planRow
	Warned   bool
}

func (v planView) base() string { return recordPath(v.Sheet.Client.ID) }

// planRow is a week of the editor.
type planRow struct {
	Index    int
	Name     string // "Week 3, 7 December"
	Counts   string
	Step     string
	Warnings []string
	planWeekForm
}

// doseFields are the fields of a week of a plan.
var doseFields = []string{"class", "sessions", "minutes", "easy", "vigorous"}

// remarks reports whether there is something to say about a week.
func (v planView) remarks(r planRow) bool {
	return len(r.Warnings) > 0 || slices.ContainsFunc(doseFields, func(name string) bool { return v.Problems[r.field(name)] != "" })
}

func (r planRow) field(name string) string { return fmt.Sprintf("weeks[%d].%s", r.Index, name) }

// Plan shows the plan in force to be changed, or a new one that was asked for:
// made from a programme, an earlier version, or a copy of another client's.
func (p Pages) Plan(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	sheet, err := p.Store.PlanOf(r.Context(), actor, id)
	if err != nil {
		return err
	}
	v := planView{Sheet: sheet, Build: newBuildForm(sheet)}
	q := r.URL.Query()
	switch {
	case sheet.Prescription == nil:
	case q.Has("weeks"):
		err = p.buildPlan(r, &v, q)
	case q.Has("again"):
		version, bad := strconv.Atoi(q.Get("again"))
		if bad != nil || version < 1 {
			return domain.ErrNotFound
		}
		err = p.takeFrom(r, &v, id, version, store.FromAgain)
	case q.Has("copy"):
		from, bad := uuid.Parse(q.Get("copy"))
		if bad != nil {
			return domain.ErrNotFound
		}
		err = p.takeFrom(r, &v, from, 0, store.FromCopy)
	case sheet.Plan != nil:
		v.edit()
	}
	if err != nil {
		return err
	}
	return p.renderPlan(w, r, http.StatusOK, v)
}

// edit fills the editor with the plan in force.
func (v *planView) edit() {
	p := v.Sheet.Plan
	v.Form = newPlanForm(weeksFrom(p, v.Sheet.Week))
	v.Form.Goal, v.Form.Preset = number(p.Goal), p.Preset
	if p.Weeks[0].First.After(v.Sheet.Week) { // it has not begun
		v.Form.Starts = p.Weeks[0].First.String()
	}
}

// weeksFrom returns the weeks of a plan from a day on; the last one if it is over.
func weeksFrom(p *store.Plan, first domain.Date) []plan.Week {
	var weeks []plan.Week
	for _, w := range p.From(first) {
		weeks = append(weeks, w.Week)
	}
	if w, ok := p.Week(first); ok && weeks == nil {
		weeks = append(weeks, w.Week)
	}
	return weeks
}

func newBuildForm(s store.PlanSheet) buildForm {
	f := buildForm{Class: intensity.Light.String(), Sessions: "3", Minutes: "15", Goal: "150", Weeks: "12", Behind: "0"}
	if pr := s.Prescription; pr != nil {
		f.Class, f.Sessions, f.Minutes = pr.Dose().Class.String(), number(pr.SessionsPerWeek), number(pr.MinutesPerSession)
	}
	if s.Plan != nil {
		f.Goal = number(s.Plan.Goal)
	}
	return f
}

func (p Pages) buildPlan(r *http.Request, v *planView, q url.Values) error {
	v.Build = buildForm{
		Preset: q.Get("preset"), Class: q.Get("class"), Sessions: q.Get("sessions"), Minutes: q.Get("minutes"),
		Goal: q.Get("goal"), Weeks: q.Get("weeks"), Behind: q.Get("behind"),
	}
	in, typed := v.Build.input()
	built, err := p.Store.BuildPlan(r.Context(), page.From(r.Context()).Actor(), v.Sheet.Client.ID, in)
	if found, ok := page.Problems(err); ok {
		maps.Copy(found, typed)
		v.Problems = buildProblems(found)
		return nil
	}
	if err != nil {
		return err
	}
	v.Form, v.Draft = newPlanForm(built.Weeks), true
	v.Form.Goal, v.Form.Behind, v.Form.Preset = v.Build.Goal, v.Build.Behind, v.Build.Preset
	for _, note := range built.Notes {
		v.Notes = append(v.Notes, noteWords(note))
	}
	return nil
}

// buildProblems names problems by the fields of the page.
func buildProblems(found domain.Problems) domain.Problems {
	names := map[string]string{
		"start.class": "class", "start.sessions": "sessions", "start.minutes": "minutes", "start.behind": "behind", "start.in_phase": "behind",
		"goal_minutes": "goal", "ceiling": "class",
	}
	problems := domain.Problems{}
	for field, sentence := range found {
		if name, ok := names[field]; ok {
			field = name
		}
		problems["build-"+field] = sentence
	}
	return problems
}

func noteWords(r plan.Reason) string {
	switch r.Code {
	case plan.NoteGoalNotReached:
		return fmt.Sprintf("The last week comes to %d moderate-equivalent minutes, the goal is %d.", r.Have, r.Need)
	case plan.NoteCeiling:
		return "Only light work is allowed now, so no week can reach the goal."
	case plan.NoteCutShort:
		return fmt.Sprintf("The programme has %d weeks; the last ones are left out.", r.Need)
	case plan.NoteRepeated:
		return fmt.Sprintf("The programme has %d weeks; its last one is repeated.", r.Need)
	case plan.NoteStartNotUsed:
		return "The programme has its own first week."
	case plan.NoteAfterModerate:
		return "The programme is for clients past the moderate phase."
	}
	return r.Code
}

// takeFrom fills the editor with the numbers of another plan.
func (p Pages) takeFrom(r *http.Request, v *planView, client uuid.UUID, version int, origin store.PlanOrigin) error {
	from, err := p.Store.PlanVersion(r.Context(), page.From(r.Context()).Actor(), client, version)
	if err != nil {
		return err
	}
	weeks := make([]plan.Week, 0, len(from.Weeks))
	for _, w := range from.Weeks {
		if origin == store.FromCopy || !w.First.Before(v.Sheet.Week) {
			weeks = append(weeks, w.Week)
		}
	}
	if len(weeks) == 0 {
		weeks = weeksFrom(&from, v.Sheet.Week)
	}
	v.Form, v.Draft = newPlanForm(weeks), true
	v.Form.Goal, v.Form.Origin = number(from.Goal), string(origin)
	return nil
}

// SavePlan signs the plan, or shows what is unusual about it.
func (p Pages) SavePlan(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	v := planView{Draft: true}
	if err := page.Decode(r, &v.Form); err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	changes := v.Form.alter()
	in, typed := v.Form.input()
	status := http.StatusOK
	if !changes {
		_, err = p.Store.SavePlan(r.Context(), actor, id, in)
		if err == nil && typed == nil {
			p.Say(r.Context(), "The plan is signed.")
			return page.See(w, r, recordPath(id)+"/plan")
		}
		status = http.StatusUnprocessableEntity
		found, isProblems := page.Problems(err)
		doubts, isDoubts := errors.AsType[domain.Doubts](err)
		switch {
		case isProblems:
			maps.Copy(found, typed)
			v.Problems = found
		case isDoubts:
			v.Doubts = doubts
		default:
			return err
		}
	}
	if v.Sheet, err = p.Store.PlanOf(r.Context(), actor, id); err != nil {
		return err
	}
	v.Build = newBuildForm(v.Sheet)
	return p.renderPlan(w, r, status, v)
}

func (p Pages) renderPlan(w http.ResponseWriter, r *http.Request, status int, v planView) error {
	if v.Pause.ID == "" {
		v.Pause.ID = uuid.NewString()
	}
	if err := p.lookAt(r, &v); err != nil {
		return err
	}
	frame := p.Frame(r, "Plan for "+v.Sheet.Client.Name())
	frame.ProblemTitle = v.Problems != nil || v.Doubts != nil
	if frame.ProblemTitle {
		status = http.StatusUnprocessableEntity
	}
	frame.Scripts, frame.Wide = []string{"js/plan.js"}, true
	return p.renderRecord(w, r, status, frame, v.Sheet.Client.ID, planPage(v))
}

// lookAt fills in what the rules say about the weeks of the form.
func (p Pages) lookAt(r *http.Request, v *planView) error {
	f := &v.Form
	if f.Starts == "" {
		f.Starts = v.Sheet.Week.String()
	}
	if f.Version == "" {
		f.Version = "0"
		if v.Sheet.Plan != nil {
			f.Version = number(v.Sheet.Plan.Version)
		}
	}
	if len(f.Weeks) == 0 {
		return nil
	}
	in, _ := f.input()
	preview, err := p.Store.PreviewPlan(r.Context(), page.From(r.Context()).Actor(), v.Sheet.Client.ID, in)
	found, isProblems := page.Problems(err)
	switch {
	case isProblems && v.Problems == nil && (v.Draft || errors.Is(err, domain.ErrHeld)):
		v.Problems = found
	case err != nil && !isProblems && !errors.Is(err, domain.ErrConflict):
		return err
	}
	v.Ladder = planLadder(v.Sheet, preview, in)
	v.Notes = append(v.Notes, endWords(v.Sheet, preview.Weeks[min(preview.Over, len(preview.Weeks)):])...)
	for i := range f.Weeks {
		row := planRow{Index: i, Name: fmt.Sprintf("Week %d", i+1), planWeekForm: f.Weeks[i]}
		if at := preview.Over + i; at < len(preview.Weeks) {
			week := preview.Weeks[at]
			row.Name = fmt.Sprintf("Week %d, %s", week.Number, week.First.Time().Format("2 Jan"))
			row.Counts, row.Step = countWords(week.Target(), in.Goal), stepWords[week.Step]
			for _, warning := range preview.Warnings {
				if warning.Week == week.Number {
					row.Warnings = append(row.Warnings, warningWords(warning))
					v.Warned = true
				}
			}
			if by := v.Sheet.Uncovered(week); by != "" {
				row.Warnings = append(row.Warnings, "To be confirmed: "+uncoveredWords[by])
			}
		}
		v.Rows = append(v.Rows, row)
	}
	return nil
}

// countWords says what a week adds up to, and of what.
func countWords(t volume.Target, goal int) string {
	if t.Light {
		return number(t.Minutes) + " light"
	}
	return number(t.Minutes) + " of " + number(goal)
}

// weeksShown is how many weeks that are over the drawing shows.
const weeksShown = 6

// planLadder draws the weeks as they would be.
func planLadder(s store.PlanSheet, preview store.PlanPreview, in store.PlanInput) ui.Ladder {
	l := ui.Ladder{Title: "The weeks of the plan, in minutes that count", Goal: max(in.Goal, 0), Edit: true}
	for i, w := range preview.Weeks {
		if i < preview.Over-weeksShown {
			continue
		}
		one := ui.LadderWeek{
			Label: number(w.Number), Name: fmt.Sprintf("Week %d, from %s", w.Number, w.First.Time().Format("2 January")), Says: doseWords(w.Dose),
			Totals: w.Totals, Target: w.Target(), Over: i < preview.Over, Now: w.First == s.Week,
			Warns: slices.ContainsFunc(preview.Warnings, func(x plan.Warning) bool { return x.Week == w.Number }),
		}
		if i >= preview.Over {
			one.Field = fmt.Sprintf("weeks[%d]", i-preview.Over)
		}
		if done, ok := s.Done[w.First]; ok {
			one.Done, one.Logged = w.Target().Done(done), true
		}
		l.Weeks = append(l.Weeks, one)
	}
	return l
}
