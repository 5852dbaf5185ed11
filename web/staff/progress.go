package staff

import (
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/source"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// progressView is what the progress page shows.
type progressView struct {
	store.Progress
	Form     stepForm
	Problems domain.Problems
	Doubts   domain.Doubts
}

func (v progressView) base() string { return recordPath(v.Client.ID) }

// stepForm is an answer to a suggestion as typed.
type stepForm struct {
	ID        string `form:"id"`
	Version   string `form:"version"`
	Suggested string `form:"suggested"` // the dose that was shown
	Reserve   string `form:"reserve"`   // that was shown
	Answer    string `form:"answer"`
	Class     string `form:"class"`
	Sessions  string `form:"sessions"`
	Minutes   string `form:"minutes"`
	Easy      string `form:"easy"`
	Vigorous  string `form:"vigorous"`
	Word      string `form:"word"`
	Confirmed string `form:"confirmed"`
}

func newStepForm(p store.Progress) stepForm {
	to := p.Standing.Step.To
	f := stepForm{
		ID: uuid.NewString(), Version: "0", Suggested: doseKey(to), Class: to.Class.String(),
		Reserve: number(p.Standing.Step.Reserve), Sessions: number(to.Sessions), Minutes: number(to.Minutes), Easy: number(to.Easy), Vigorous: number(to.Vigorous),
	}
	if p.Plan != nil {
		f.Version = number(p.Plan.Version)
	}
	return f
}

// input converts the form. What does not parse is a problem of its field.
func (f stepForm) input() (store.StepAnswer, domain.Problems) {
	var problems domain.Problems
	in := store.StepAnswer{Answer: f.Answer, Word: f.Word, Confirmed: f.Confirmed == "yes", Suggested: readDose(f.Suggested)}
	in.ID, _ = uuid.Parse(f.ID)             // a wrong one is refused as incomplete
	in.Version, _ = strconv.Atoi(f.Version) // and as outdated
	in.Reserve, _ = strconv.Atoi(f.Reserve)
	if f.Answer == store.StepChanged {
		in.To = plan.Dose{
			Sessions: wholeNumber(&problems, "sessions", f.Sessions), Minutes: wholeNumber(&problems, "minutes", f.Minutes),
			Easy: wholeNumber(&problems, "easy", f.Easy), Vigorous: wholeNumber(&problems, "vigorous", f.Vigorous),
		}
		in.To.Class, _ = intensity.ParseClass(f.Class)
	}
	return in, problems
}

// readDose reads what doseKey writes; anything else is the zero dose.
func readDose(key string) (d plan.Dose) {
	class, rest, _ := strings.Cut(key, " ")
	d.Class, _ = intensity.ParseClass(class)
	if _, err := fmt.Sscanf(rest, "%d %d %d %d", &d.Sessions, &d.Minutes, &d.Easy, &d.Vigorous); err != nil {
		return plan.Dose{}
	}
	return d
}

// Progress shows how a client stands, and the step to suggest.
func (p Pages) Progress(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	v := progressView{}
	if v.Progress, err = p.Store.ProgressOf(r.Context(), page.From(r.Context()).Actor(), id); err != nil {
		return err
	}
	v.Form = newStepForm(v.Progress)
	return p.renderProgress(w, r, http.StatusOK, v)
}

// AnswerStep takes the practitioner's answer to the suggestion.
func (p Pages) AnswerStep(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	v := progressView{}
	if err := page.Decode(r, &v.Form); err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	in, typed := v.Form.input()
	err = p.Store.AnswerStep(r.Context(), actor, id, in)
	if err == nil {
		p.Say(r.Context(), map[string]string{
			store.StepAccepted: "The step is taken. The plan is signed anew.", store.StepChanged: "The plan is signed with your step.",
			store.StepDeclined: "Noted. The plan stays as it is.",
		}[in.Answer])
		return page.See(w, r, recordPath(id)+"/progress")
	}
	if errors.Is(err, store.ErrPrescribe) {
		return p.prescribeStep(w, r, id, v.Form, in)
	}
	found, isProblems := page.Problems(err)
	doubts, isDoubts := errors.AsType[domain.Doubts](err)
	switch {
	case isProblems:
		v.Problems = domain.Problems{}
		for field, sentence := range found {
			v.Problems[strings.TrimPrefix(field, "weeks[0].")] = sentence
		}
		maps.Copy(v.Problems, typed)
	case isDoubts:
		v.Doubts = doubts
	default:
		return err
	}
	if v.Progress, err = p.Store.ProgressOf(r.Context(), actor, id); err != nil {
		return err
	}
	return p.renderProgress(w, r, http.StatusUnprocessableEntity, v)
}

func (p Pages) renderProgress(w http.ResponseWriter, r *http.Request, status int, v progressView) error {
	frame := p.Frame(r, "Progress of "+v.Client.Name())
	frame.ProblemTitle = status == http.StatusUnprocessableEntity
	return p.renderRecord(w, r, status, frame, v.Client.ID, progressPage(v))
}

func (v progressView) summary() []ui.Problem {
	if v.Doubts != nil {
		return ui.Problems(v.Doubts, "confirmed")
	}
	return ui.Problems(v.Problems, "id", "answer", "class", "sessions", "minutes", "easy", "vigorous", "word")
}

// decision tells how the client stands, and why.
func (v progressView) decision() ui.Decision {
	d := ui.Decision{Sentence: statusWord(v.Standing.Status), Held: v.Standing.Status == plan.Held, Rule: "Progression", RuleHref: "/sources"}
	for _, r := range v.Standing.Reasons {
		d.Why = append(d.Why, reasonWords(r))
	}
	if words := judgedWords(v.Standing.Judged); words != "" {
		d.Why = append(d.Why, words)
	}
	for _, key := range []source.Key{"toronto_rehab", "getp10", "practice"} {
		d.Sources = append(d.Sources, page.Source(key))
	}
	return d
}

// step says what is suggested, in a sentence.
func (v progressView) step() string {
	s := v.Standing.Step
	switch {
	case s.Reserve > 0:
		return withinWords(s) + "."
	case !v.Offered():
		return "No step now. It stays at " + doseWords(s.To) + "."
	case s.To == v.Dose:
		return "The same week again: " + doseWords(s.To) + "."
	}
	return fmt.Sprintf("From %s to %s.", doseWords(v.Dose), doseWords(s.To))
}

// begins says from when the step would hold.
func (v progressView) begins() string {
	if first := v.Begins(v.Standing.Step.To); first != v.Week {
		return "From next week, " + first.Time().Format("Monday 2 January") + "."
	}
	return "From this week."
}

func (v progressView) answerOptions() []ui.Option {
	var options []ui.Option
	if s := v.Standing.Step; v.Offered() {
		accept := ui.Option{Value: store.StepAccepted, Label: "Accept", Hint: doseWords(s.To)}
		switch {
		case s.Reserve > 0:
			accept.Hint = withinWords(s)
		case v.Beyond(s.To):
			accept.Hint += ": more than is prescribed"
		}
		if s.Reserve > 0 || v.Beyond(s.To) {
			accept.Hint += ". The prescription opens with it, and your signature there takes the step"
		}
		options = append(options, accept)
	}
	return append(options,
		ui.Option{Value: store.StepChanged, Label: "Change", Hint: "Another dose, typed below"},
		ui.Option{Value: store.StepDeclined, Label: "Decline", Hint: "The plan stays as it is"})
}

func (v progressView) classOptions() []ui.Option {
	var options []ui.Option
	for _, c := range []intensity.Class{intensity.Light, intensity.Moderate, intensity.Vigorous} {
		if c <= v.Ceiling || c.String() == v.Form.Class {
			options = append(options, ui.Option{Value: c.String(), Label: ui.ClassWord(c)})
		}
	}
	return options
}

// weekTable lists the last weeks as asked for and done.
func (v progressView) weekTable() ui.Table {
	t := ui.Table{
		Caption: "The last weeks", HideCaption: true,
		Columns: []ui.Column{
			{Label: "Week from"}, {Label: "Asked for"}, {Label: "Sessions", Number: true}, {Label: "Target", Number: true}, {Label: "Done", Number: true}, {Label: "Judged by"},
		},
	}
	weeks := v.Course.Weeks
	for i := len(weeks) - 1; i >= max(0, len(weeks)-8); i-- {
		w, by := weeks[i], ""
		switch {
		case slices.Contains(v.Standing.Judged.Weeks, w.First):
			by = "sums"
		case i == len(weeks)-1:
			by = "not over yet"
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: w.First.Time().Format("2 January")}, {Text: doseWords(w.Dose)}, {Text: fmt.Sprintf("%d of %d", w.Done, w.Planned)},
			{Text: number(w.Target.Minutes)}, {Text: number(w.Target.Done(w.Totals))}, {Text: by},
		}})
	}
	return t
}

// stepTable lists the answers of before.
func (v progressView) stepTable() ui.Table {
	t := ui.Table{
		Caption: "Steps so far", HideCaption: true,
		Columns: []ui.Column{{Label: "When"}, {Label: "Status"}, {Label: "Suggested"}, {Label: "Answer"}, {Label: "Why"}, {Label: "By"}},
	}
	for _, s := range v.Steps {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: s.DecidedAt.Format("2 January 2006")}, {Text: statusWord(s.Status)}, {Text: suggestionWords(s.Suggestion)},
			{Text: strings.ToUpper(s.Answer[:1]) + s.Answer[1:]}, {Text: s.Word}, {Text: s.By},
		}})
	}
	return t
}

// returnWords says how the plan goes on after a break, and what it rests on.
func returnWords(b plan.Return) []string {
	var list []string
	switch {
	case b.Review:
		list = append(list, "Look at the client before anything is done: the break was for health.")
	}
	switch {
	case b.Restart:
		list = append(list, "Begin again at the first week: gains are gone after more than four weeks.")
	case b.Rungs == 1:
		list = append(list, fmt.Sprintf("Go back one rung, or take %d per cent of the time away.", b.CutTime))
	case b.Rungs > 1:
		list = append(list, fmt.Sprintf("Go back %d rungs, or take %d per cent of the time away and go one class easier.", b.Rungs, b.CutTime))
	default:
		list = append(list, "Go on as before; the first session at its easy end.")
	}
	if b.Weeks > 0 {
		list = append(list, fmt.Sprintf("Keep the lower dose for at least %d weeks.", b.Weeks))
	}
	if b.Rescreen {
		list = append(list, "Ask the screening questions again.")
	}
	if b.Retest {
		list = append(list, "Repeat the fitness tests.")
	}
	return list
}

func returnSources() []ui.Source {
	return []ui.Source{page.Source("mujika2001"), page.Source("practice")}
}

// driftWords says how talk test and heart rate have come apart.
func driftWords(d plan.Drift) string {
	what := "it felt harder than the heart rate says"
	if d.Pattern == intensity.HeartRateHarder {
		what = "the heart rate was higher than it felt"
	}
	return fmt.Sprintf("In %d of the last %d sessions with both, %s, %s.", d.Sessions, d.Of, between(d.First, d.Last), what)
}
