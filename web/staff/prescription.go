package staff

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/prescription"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// prescriptionForm is a prescription as typed.
type prescriptionForm struct {
	Version           string `form:"version"`
	Class             string `form:"class"`
	SessionsPerWeek   string `form:"sessions_per_week"`
	MinutesPerSession string `form:"minutes_per_session"`
	VigorousMinutes   string `form:"vigorous_minutes"`
	Activities        string `form:"activities"`
	Target            string `form:"target"`
	TargetLight       string `form:"target_light"`
	Method            string `form:"method"`
	Progression       string `form:"progression"`
	Note              string `form:"note"`
	Equation          string `form:"equation"`
	Raised            string `form:"raised"`
	Do                string `form:"do"` // which button was pressed

	Step stepForm `form:"step"` // that is taken with it; without an ID there is none
}

// input converts the form. What does not parse is a problem of its field.
func (f prescriptionForm) input() (store.PrescriptionInput, domain.Problems) {
	var problems domain.Problems
	whole := func(field, typed, sentence string) int {
		n, err := strconv.Atoi(strings.TrimSpace(typed))
		if err != nil {
			problems.Add(field, sentence)
			return -1 // the rules refuse it, so that all that is wrong is told at once
		}
		return n
	}
	in := store.PrescriptionInput{
		Activities: f.Activities, Note: f.Note, TargetLight: f.TargetLight == "yes",
		Equation: heartrate.Equation(f.Equation), Method: prescription.Method(f.Method), Progression: f.Progression,
	}
	in.Version, _ = strconv.Atoi(f.Version) // a wrong one is refused as outdated
	if f.Raised != "" {
		in.Raised = whole("raised", f.Raised, "Choose where in the class the work begins.")
	}
	if f.Step.ID != "" {
		step, _ := f.Step.input()
		in.Step = &step
	}
	in.SessionsPerWeek = whole("sessions_per_week", f.SessionsPerWeek, "Type how many sessions a week, such as 3.")
	in.MinutesPerSession = whole("minutes_per_session", f.MinutesPerSession, "Type how many minutes each time, such as 25.")
	in.TargetMinutes = whole("target", f.Target, "Type the week's target in minutes, such as 150.")
	var err error
	if in.Class, err = intensity.ParseClass(f.Class); err != nil {
		problems.Add("class", "Choose how hard.")
	}
	if f.VigorousMinutes != "" {
		in.VigorousMinutes = whole("vigorous_minutes", f.VigorousMinutes, "Type how many minutes of the week are vigorous, or leave it empty.")
	}
	switch {
	case in.VigorousMinutes <= 0:
	case in.Class == intensity.Moderate:
		in.Class = intensity.Vigorous // the hardest of it is what has to be allowed
	default:
		problems.Add("vigorous_minutes", "Leave this empty, or choose moderate: only moderate work has some vigorous minutes.")
		in.VigorousMinutes = 0
	}
	return in, problems
}

// newPrescriptionForm fills in the version in force, or what a beginner starts
// with.
func newPrescriptionForm(d store.PrescriptionDraft) prescriptionForm {
	if b := d.Before; b != nil {
		f := prescriptionForm{
			Version: number(b.Version), Class: min(b.Dose().Class, d.Ceiling).String(),
			SessionsPerWeek: number(b.SessionsPerWeek), MinutesPerSession: number(b.MinutesPerSession),
			Activities: b.Activities, Target: number(b.TargetMinutes), Note: b.Note, Equation: string(d.Equation),
			Method: string(b.Method), Progression: b.Progression,
		}
		if b.VigorousMinutes > 0 && d.Ceiling >= intensity.Vigorous {
			f.VigorousMinutes = number(b.VigorousMinutes)
		}
		if min(b.Class, d.Ceiling) == b.Zones.RaisedClass {
			f.Raised = number(b.Zones.RaisedBy)
		}
		if b.TargetLight || f.Class == intensity.Light.String() && b.Class > intensity.Light { // as with a first light one
			f.TargetLight = "yes"
		}
		return f
	}
	f := prescriptionForm{Version: "0", Class: min(d.Ceiling, d.Screening.Input.Desired).String(), Target: number(d.Target), Method: string(prescription.Talk)}
	if f.Class == intensity.Light.String() {
		f.TargetLight = "yes" // so that a beginner is not behind for weeks
	}
	return f
}

// prescriptionView is what the prescription page shows.
type prescriptionView struct {
	Draft    store.PrescriptionDraft
	Form     prescriptionForm
	Problems domain.Problems
	Zones    ui.Zones

	Class      intensity.Class // None while none is chosen
	Method     string
	Aim        []string                       // figures of the method
	Why        string                         // it cannot be had
	Closed     map[prescription.Method]string // why others cannot
	Work       *workBlock
	Week       string   // what the week adds up to
	Compared   bool     // with the version in force
	Difference []ui.Row // to it
}

func (v prescriptionView) base() string { return recordPath(v.Draft.Client.ID) }

// NewPrescription shows the form for the next version.
func (p Pages) NewPrescription(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	d, err := p.Store.NewPrescription(r.Context(), who.Actor(), id)
	if errors.Is(err, domain.ErrConflict) {
		p.Say(r.Context(), "Finish the intake first. The prescription rests on it.")
		return page.See(w, r, "/clients/"+id.String()+"/intake")
	}
	if err != nil {
		return err
	}
	return p.renderPrescription(w, r, http.StatusOK, d, newPrescriptionForm(d), nil)
}

// prescribeStep shows the form with the change of a step that is taken with its
// signature. Left alone, nothing of it is kept.
func (p Pages) prescribeStep(w http.ResponseWriter, r *http.Request, id uuid.UUID, step stepForm, in store.StepAnswer) error {
	d, err := p.Store.StepPrescription(r.Context(), page.From(r.Context()).Actor(), id, in)
	if err != nil {
		return err
	}
	f, next := newPrescriptionForm(d), d.Proposed
	f.Class, f.Method = next.Dose().Class.String(), string(cmp.Or(next.Method, prescription.Talk))
	f.SessionsPerWeek, f.MinutesPerSession, f.Target = number(next.SessionsPerWeek), number(next.MinutesPerSession), number(next.TargetMinutes)
	f.Raised, f.TargetLight, f.VigorousMinutes, f.Step = number(next.Raised), "", "", step
	if next.VigorousMinutes > 0 {
		f.VigorousMinutes = number(next.VigorousMinutes)
	}
	if next.TargetLight {
		f.TargetLight = "yes"
	}
	return p.renderPrescription(w, r, http.StatusOK, d, f, nil)
}

// stepProblems are the problems of a prescription that is signed with a step, at the
// fields of its form.
func stepProblems(found domain.Problems) domain.Problems {
	fields := map[string]string{
		"weeks[0].class": "class", "weeks[0].sessions": "sessions_per_week", "weeks[0].minutes": "minutes_per_session", "weeks[0].vigorous": "vigorous_minutes",
		"word": "step.word", "answer": "step.word", "id": "step.word", "confirmed": "step.confirmed",
	}
	problems := domain.Problems{}
	for field, sentence := range found {
		problems.Add(cmp.Or(fields[field], field), sentence)
	}
	return problems
}

// SignPrescription signs the next version, or shows the zones by another equation.
func (p Pages) SignPrescription(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f prescriptionForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	who := page.From(r.Context())
	in, typed := f.input()
	var problems domain.Problems
	if f.Do != "zones" {
		_, err = p.Store.SignPrescription(r.Context(), who.Actor(), id, in)
		if err == nil {
			if in.Step != nil {
				p.Say(r.Context(), "The prescription is signed, and the step is taken with it.")
				return page.See(w, r, recordPath(id)+"/progress")
			}
			p.Say(r.Context(), "The prescription is signed.")
			if in.Version > 0 { // what is different now is the first thing to look at
				return page.See(w, r, recordPath(id)+"/prescriptions/"+number(in.Version+1))
			}
			return page.See(w, r, recordPath(id))
		}
		var ok bool
		doubts, isDoubts := errors.AsType[domain.Doubts](err)
		switch problems, ok = page.Problems(err); {
		case isDoubts:
			problems = stepProblems(domain.Problems(doubts))
		case ok:
			problems = stepProblems(problems)
			maps.Copy(problems, typed) // what could not be read is told in the words of the form
		case errors.Is(err, domain.ErrHeld):
			problems = domain.Problems{"class": "This is above what is allowed now. Choose an easier class."}
		default:
			return err
		}
	}
	d, err := p.Store.PreviewPrescription(r.Context(), who.Actor(), id, in.Equation, in.Step)
	if found, ok := page.Problems(err); ok { // the equation does not fit the person
		for field, sentence := range found {
			problems.Add(field, sentence)
		}
		d, err = p.Store.PreviewPrescription(r.Context(), who.Actor(), id, "", in.Step)
	}
	if err != nil {
		return err
	}
	status := http.StatusOK
	if problems != nil {
		status = http.StatusUnprocessableEntity
	}
	return p.renderPrescription(w, r, status, d, f, problems)
}

func (p Pages) renderPrescription(w http.ResponseWriter, r *http.Request, status int, d store.PrescriptionDraft, f prescriptionForm, problems domain.Problems) error {
	if problems["sex"] != "" { // it is not asked here
		delete(problems, "sex")
		problems["equation"] = "This equation was made for women and men apart, and the record does not say the sex. Choose another, or say it under Contact and consent."
	}
	frame := p.Frame(r, "Prescription for "+d.Client.Name())
	frame.ProblemTitle = problems != nil
	frame.Scripts = append(frame.Scripts, "js/prescription.js")
	v := prescriptionView{
		Draft: d, Form: f, Problems: problems,
		Zones: page.Zones(r.Context(), "Zones", d.Zones, d.Ceiling, intensity.VeryLight, intensity.NearMaximal),
	}
	v.Zones.Notes = append(v.Zones.Notes, closedClasses(d.Zones)...)
	v.preview()
	return p.renderRecord(w, r, status, frame, d.Client.ID, prescriptionPage(v))
}

// preview says what the form would sign, as far as it can be read.
func (v *prescriptionView) preview() {
	in, typed := v.Form.input()
	if typed["class"] != "" {
		return
	}
	v.Class = in.Dose().Class
	if found, ok := page.Problems(v.Draft.Raise(in.Class, in.Raised)); ok {
		for field, sentence := range found {
			v.Problems.Add(field, sentence)
		}
	}
	v.Closed = map[prescription.Method]string{}
	for _, m := range prescription.Methods() {
		if _, why := v.Draft.Aim(m, v.Class); why != "" {
			v.Closed[m] = why
		}
	}
	if !in.Method.Valid() {
		in.Method = prescription.Talk
	}
	aim, why := v.Draft.Aim(in.Method, v.Class)
	v.Method, v.Aim, v.Why = methodNames[in.Method], aimWords(in.Method, v.Class, aim), why
	if a, w, ok := v.Draft.Views.Works(v.Class); ok && in.Method == prescription.Workload {
		b := newWorkBlock(a, w, v.Draft.Zones.Ceiling)
		v.Work = &b
	}
	if len(typed) > 0 {
		return // a number is missing or wrong
	}
	next := store.Prescription{
		Class: in.Class, SessionsPerWeek: in.SessionsPerWeek, MinutesPerSession: in.MinutesPerSession, VigorousMinutes: in.VigorousMinutes, Activities: in.Activities,
		TargetMinutes: in.TargetMinutes, TargetLight: in.TargetLight, Method: in.Method, Aim: aim, Progression: strings.TrimSpace(in.Progression),
		Note: strings.TrimSpace(in.Note), Zones: v.Draft.Zones,
	}
	if next.SessionsPerWeek > 0 && next.MinutesPerSession > 0 {
		v.Week = addsUpWords(next.Target(), next.Volume())
	}
	if v.Draft.Before != nil {
		v.Compared, v.Difference = true, prescriptionDifference(*v.Draft.Before, next)
	}
}

// gist is what would be signed in a few words; empty while something is missing.
func (v prescriptionView) gist() string {
	if v.Week == "" {
		return ""
	}
	f := v.Form
	line := fmt.Sprintf("%s, %s × %s min", ui.ClassWord(v.Class), strings.TrimSpace(f.SessionsPerWeek), strings.TrimSpace(f.MinutesPerSession))
	if some := strings.TrimSpace(f.VigorousMinutes); some != "" && some != "0" {
		line += ", of which " + some + " min vigorous a week"
	}
	for _, row := range v.Zones.Rows {
		if row.Class == v.Class && row.HeartRate != "" {
			line += ", " + row.HeartRate
		}
	}
	return line + ". " + v.Week
}

// methodOptions are the methods; what cannot be had is marked, and told why beside
// the form.
func (v prescriptionView) methodOptions() []ui.Option {
	var options []ui.Option
	for _, m := range prescription.Methods() {
		o := ui.Option{Value: string(m), Label: methodNames[m]}
		if v.Closed[m] != "" {
			o.Label += " (not now)"
		}
		options = append(options, o)
	}
	return options
}

// closedMethods says why methods cannot be had, each reason once.
func (v prescriptionView) closedMethods() []string {
	var list []string
	for _, m := range prescription.Methods() {
		if why := v.Closed[m]; why != "" {
			list = append(list, methodNames[m]+": "+why)
		}
	}
	return list
}

// classOptions are the classes that may be prescribed; what is above the ceiling
// is not offered.
func (v prescriptionView) classOptions() []ui.Option {
	var options []ui.Option
	for _, c := range []intensity.Class{intensity.Light, intensity.Moderate, intensity.Vigorous} {
		if c <= v.Draft.Ceiling {
			o := ui.Option{Value: c.String(), Label: ui.ClassWord(c), Hint: intensity.Cue(c)}
			for _, row := range v.Zones.Rows {
				if row.Class == c && row.HeartRate != "" {
					o.Hint += " " + row.HeartRate + "."
				}
			}
			options = append(options, o)
		}
	}
	return options
}

// raisedOptions are how far within the class the work begins.
func (v prescriptionView) raisedOptions() []ui.Option {
	options := []ui.Option{{Value: "0", Label: "At its low end"}}
	for _, by := range v.Draft.Raises[1:] {
		options = append(options, ui.Option{Value: number(by), Label: fmt.Sprintf("%d per cent of the reserve higher", by)})
	}
	if by := v.Form.Raised; by != "" && !slices.ContainsFunc(options, func(o ui.Option) bool { return o.Value == by }) {
		options = append(options, ui.Option{Value: by, Label: by + " per cent of the reserve higher"})
	}
	return options
}

// stepTold says which step the signature takes.
func (v prescriptionView) stepTold() string {
	p, in := v.Draft.Progress, v.Draft.Proposed
	if in.Step.Answer == store.StepAccepted && p.Standing.Step.Reserve > 0 {
		return withinWords(p.Standing.Step) + "."
	}
	to := p.Standing.Step.To
	if in.Step.Answer == store.StepChanged {
		to = in.Step.To
	}
	return fmt.Sprintf("From %s to %s.", doseWords(p.Dose), doseWords(to))
}

func (v prescriptionView) equationOptions() []ui.Option {
	options := []ui.Option{{Value: "", Label: "The practice's usual one"}}
	for _, e := range heartrate.Equations() {
		options = append(options, ui.Option{Value: string(e.ID), Label: equationWords(e)})
	}
	return options
}

// prescriptionItems lists a signed prescription.
func prescriptionItems(p store.Prescription) []ui.Definition {
	list := []ui.Definition{
		{Term: "Intensity", Content: ui.ClassTag(p.Dose().Class)},
		{Term: "Method", Detail: methodNames[p.Method]},
		{Term: "Frequency and time", Detail: frequencyWords(p)},
		{Term: "Type", Detail: strings.Join(p.Kinds(), "; ")},
		{Term: "Target", Detail: targetLine(p)},
	}
	if p.Progression != "" {
		list = append(list, ui.Definition{Term: "Progression", Detail: p.Progression})
	}
	return append(list, ui.Definition{Term: "Signed", Detail: fmt.Sprintf("by %s on %s, version %d", p.SignedByName, p.SignedAt.Format("2 January 2006"), p.Version)})
}
