package staff

import (
	"errors"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/screening"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// step is one page of the intake.
type step struct {
	ID, Title, Lead string
	Fields          []string
	Needed          []string // fields that must be filled in for a decision
}

// questions returns the terms of some kinds, in the order of the form.
func questions(kinds ...screening.Kind) []screening.Term {
	return slices.DeleteFunc(screening.Codes(), func(t screening.Term) bool { return !slices.Contains(kinds, t.Kind) })
}

// measured are the fields of numbers that may have to be confirmed.
var measured = []string{
	intake.FieldResting1, intake.FieldResting2, intake.FieldResting3, intake.FieldSystolic, intake.FieldDiastolic, intake.FieldSystolic2,
	intake.FieldDiastolic2, intake.FieldWeight, intake.FieldHeight, intake.FieldTemperature, intake.FieldGlucose, intake.FieldOxygen, intake.FieldPeak,
}

func confirmations() []string {
	var list []string
	for _, field := range measured {
		list = append(list, intake.ConfirmedField(field))
	}
	return list
}

// steps are the pages of the intake. They can be filled in in any order.
var steps = func() []step {
	list := []step{
		{
			ID: "activity", Title: "Activity now", Lead: "Planned exercise in a usual week. Housework and the way to work do not count here.",
			Fields: []string{
				intake.FieldDays, intake.FieldMinutes, intake.FieldMonths, intake.FieldActivityClass, intake.FieldAttested, intake.FieldAttestedReason,
			},
			Needed: []string{intake.FieldDays},
		},
		{ID: "diseases", Title: "Known diseases", Lead: "Not sure counts as yes until a doctor has said no."},
		{ID: "symptoms", Title: "Signs and symptoms", Lead: "Ask each one. Not sure counts as yes."},
		{ID: "medicines", Title: "Medicines", Lead: "As on the packet, with the dose. Eye drops count, too.", Fields: []string{
			intake.FieldMedicines, intake.FieldMedicineName, intake.FieldMedicineDose, intake.FieldMedicineSince,
		}},
		{ID: "more", Title: "Pregnancy and other conditions", Lead: "These bring cautions. Most change nothing in the decision by themselves."},
		{ID: "findings", Title: "Reasons to wait", Lead: "Tick what a doctor has found, or what you see today. Each stops exercise until it is settled."},
		{
			ID: "measurements", Title: "Measurements", Lead: "Heart rate after five quiet minutes of sitting, counted for 60 seconds.",
			Fields: slices.Concat(measured, []string{
				intake.FieldPosture, intake.FieldPressurePosture, intake.FieldWeightUnit, intake.FieldHeightUnit, intake.FieldTemperatureUnit,
				intake.FieldGlucoseUnit, intake.FieldPeakOn, intake.FieldPeakMode, intake.FieldPeakLimited, intake.FieldPeakSame,
			}, confirmations()),
		},
		{
			ID: "limits", Title: "Limits on movement", Lead: "What gets in the way, and what makes moving alone unsafe.",
			Fields: []string{
				intake.FieldLimits, intake.FieldFalls, intake.FieldAid, intake.FieldDizzyOnStand, intake.FieldCannotWatch, intake.FieldNobodyThere,
			},
		},
		{
			ID: "goal", Title: "Goal", Lead: "What the client wants next.",
			Fields: []string{intake.FieldDesired, intake.FieldGoal}, Needed: []string{intake.FieldDesired},
		},
	}
	for i := range list {
		for _, t := range stepTerms(list[i].ID) {
			field := intake.QuestionField(t.Code)
			list[i].Fields = append(list[i].Fields, field)
			if t.Required() {
				list[i].Needed = append(list[i].Needed, field)
			}
			if intake.Asked(t) {
				list[i].Fields = append(list[i].Fields, intake.SinceField(t.Code), intake.WhenField(t.Code), intake.CourseField(t.Code),
					intake.SeenField(t.Code), intake.AsideField(t.Code))
			}
		}
	}
	for _, hint := range medicine.HintCodes() {
		list[3].Fields = append(list[3].Fields, intake.ExplainedField(hint))
	}
	return list
}()

// stepTerms are the health questions of a step.
func stepTerms(id string) []screening.Term {
	switch id {
	case "diseases":
		return slices.DeleteFunc(questions(screening.Known), func(t screening.Term) bool { return t.Tier != "" })
	case "symptoms":
		return questions(screening.Symptom)
	case "more":
		return slices.DeleteFunc(questions(screening.Pregnancy, screening.Complication, screening.Noted),
			func(t screening.Term) bool { return t.Tier != "" })
	case "findings":
		return slices.DeleteFunc(questions(screening.Known, screening.Finding, screening.Pregnancy),
			func(t screening.Term) bool { return t.Tier == "" })
	}
	return nil
}

// intakeView is what a page of the intake shows.
type intakeView struct {
	Client   store.Client
	Draft    store.Draft
	Step     step
	Steps    []ui.Step
	Problems domain.Problems
	Doubts   domain.Doubts
	Doubtful string            // a message above the form
	Theirs   map[string]string // the answers of the other person, by field
	Both     []twoAnswers      // answers that somebody else has changed in the meantime
	Ready    bool              // all that a decision needs is filled in
}

func (v intakeView) base() string              { return recordPath(v.Client.ID) }
func (v intakeView) value(field string) string { return v.Draft.Answers[field] }
func (v intakeView) action() string            { return v.base() + "/intake/" + v.Step.ID }
func (v intakeView) field(name, label string) ui.Field {
	f := ui.Field{Name: name, Label: label, Value: v.value(name), Problem: v.Problems[name]}
	if f.Problem == "" {
		f.Problem = v.Doubts[name]
	}
	return f
}

// before says what stood in a field at the last screening, where it is another
// answer now.
func (v intakeView) before(name string) string {
	old := strings.TrimSpace(v.Draft.Old[name])
	if old == "" || old == v.value(name) {
		return ""
	}
	return "Last time, on " + day(v.Draft.OldOn) + ": " + answerWords(old) + "."
}

// withBefore adds to the hint what stood there at the last screening.
func (v intakeView) withBefore(f ui.Field) ui.Field {
	f.Hint = strings.TrimSpace(f.Hint + " " + v.before(f.Name))
	return f
}

// Intake goes to the first step that still needs something.
func (p Pages) Intake(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	_, draft, err := p.Store.IntakeDraft(r.Context(), page.From(r.Context()).Actor(), id)
	if err != nil {
		return err
	}
	_, problems := intake.Read(draft.Answers, draft.Settings)
	next := steps[0].ID
	for _, s := range steps {
		if stateOf(s, draft.Answers, problems) != ui.Done {
			next = s.ID
			break
		}
	}
	return page.See(w, r, "/clients/"+id.String()+"/intake/"+next)
}

// IntakeStep shows one step.
func (p Pages) IntakeStep(w http.ResponseWriter, r *http.Request) error {
	s, err := stepOf(r)
	if err != nil {
		return err
	}
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	client, draft, err := p.Store.IntakeDraft(r.Context(), page.From(r.Context()).Actor(), id)
	if err != nil {
		return err
	}
	return p.renderIntake(w, r, http.StatusOK, intakeView{Client: client, Draft: draft, Step: s})
}

func stepOf(r *http.Request) (step, error) {
	i := slices.IndexFunc(steps, func(s step) bool { return s.ID == chi.URLParam(r, "step") })
	if i < 0 {
		return step{}, domain.ErrNotFound
	}
	return steps[i], nil
}

// SaveIntakeStep saves what was typed in one step, right or wrong, and shows the
// next step, or the same one with what needs another look.
func (p Pages) SaveIntakeStep(w http.ResponseWriter, r *http.Request) error {
	s, err := stepOf(r)
	if err != nil {
		return err
	}
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	if err := page.ParseForm(r); err != nil {
		return err
	}
	typed := store.Answers{}
	for _, field := range s.Fields {
		typed[field] = r.PostForm.Get(field)
	}
	do := r.PostForm.Get("do")
	answerRest(s, do, typed)
	if s.ID == "medicines" && do != autosave {
		addMedicine(typed)
	}
	takeTheirs(r.PostForm, s, typed)
	version, _ := strconv.Atoi(r.PostForm.Get("version")) // a wrong one is refused as outdated
	who := page.From(r.Context())
	_, err = p.Store.SaveIntake(r.Context(), who.Actor(), id, version, typed)
	if errors.Is(err, domain.ErrConflict) {
		return p.intakeConflict(w, r, id, s, version, typed)
	}
	tooLong, refused := page.Problems(err)
	if err != nil && !refused {
		return err
	}
	client, draft, err := p.Store.IntakeDraft(r.Context(), who.Actor(), id)
	if err != nil {
		return err
	}
	if refused { // nothing was saved: show what was typed
		maps.Copy(draft.Answers, typed)
		return p.renderIntake(w, r, http.StatusUnprocessableEntity, intakeView{
			Client: client, Draft: draft, Step: s, Problems: domain.Problems{s.Fields[0]: tooLong["intake"]},
		})
	}
	record, problems := intake.Read(draft.Answers, draft.Settings)
	problems, doubts := onStep(problems, s), domain.Doubts(onStep(domain.Problems(record.Doubts), s))
	if problems != nil || len(doubts) > 0 {
		return p.renderIntake(w, r, http.StatusUnprocessableEntity, intakeView{Client: client, Draft: draft, Step: s, Problems: problems, Doubts: doubts})
	}
	if do != "" && do != "next" {
		return page.See(w, r, "/clients/"+id.String()+"/intake/"+s.ID)
	}
	return page.See(w, r, "/clients/"+id.String()+"/intake/"+after(s))
}

// onStep keeps the problems of one step's fields.
func onStep(problems domain.Problems, s step) domain.Problems {
	var kept domain.Problems
	for _, field := range s.Fields {
		if sentence, ok := problems[field]; ok {
			kept.Add(field, sentence)
		}
	}
	return kept
}

// after is the step that follows, the last one itself.
func after(s step) string {
	i := slices.IndexFunc(steps, func(t step) bool { return t.ID == s.ID })
	return steps[min(i+1, len(steps)-1)].ID
}

func (p Pages) renderIntake(w http.ResponseWriter, r *http.Request, status int, v intakeView) error {
	frame := p.Frame(r, v.Step.Title+", intake of "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil || v.Doubts != nil || v.Doubtful != ""
	frame.Scripts = []string{"js/questions.js"}
	if v.Both == nil { // what is to be chosen between is not saved behind anybody's back
		frame.Scripts = append(frame.Scripts, "js/draft.js")
	}
	v.Ready = true
	consented := ui.NotStarted
	if v.consented(p.Store.Today(page.From(r.Context()).Practice)) {
		consented = ui.Done
	}
	v.Steps = append(v.Steps, ui.Step{Label: "Contact and consent", Href: v.base() + "/consent", State: consented})
	record, problems := intake.Read(v.Draft.Answers, v.Draft.Settings)
	for field, doubt := range record.Doubts {
		problems.Add(field, doubt)
	}
	for _, s := range steps {
		state := stateOf(s, v.Draft.Answers, problems)
		v.Steps = append(v.Steps, ui.Step{Label: s.Title, Href: v.base() + "/intake/" + s.ID, State: state, Note: note(s, v.Draft.Answers), Here: s.ID == v.Step.ID})
		v.Ready = v.Ready && state == ui.Done
	}
	return p.renderRecord(w, r, status, frame, v.Client.ID, intakePage(v))
}

// stateOf says how far a step is.
func stateOf(s step, answers store.Answers, problems domain.Problems) ui.StepState {
	filled, missing := 0, 0
	for _, field := range s.Fields {
		if problems[field] != "" {
			return ui.Wrong
		}
		if answers[field] != "" {
			filled++
		}
	}
	for _, field := range s.Needed {
		if answers[field] == "" {
			missing++
		}
	}
	_, touched := answers[s.Fields[0]]
	switch {
	case touched && missing == 0:
		return ui.Done
	case filled > 0:
		return ui.Started
	}
	return ui.NotStarted
}

// note counts the answers of a step of questions that is under way.
func note(s step, answers store.Answers) string {
	if len(s.Needed) < 3 {
		return ""
	}
	n := 0
	for _, field := range s.Needed {
		if answers[field] != "" {
			n++
		}
	}
	if n == 0 || n == len(s.Needed) {
		return ""
	}
	return strconv.Itoa(n) + " of " + strconv.Itoa(len(s.Needed)) + " answered"
}

// Screen takes the decision, or leads to what is still missing.
func (p Pages) Screen(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	if err := page.ParseForm(r); err != nil {
		return err
	}
	version, _ := strconv.Atoi(r.PostForm.Get("version")) // a wrong one is refused as outdated
	who := page.From(r.Context())
	decision, err := p.Store.Screen(r.Context(), who.Actor(), id, version)
	problems, ok := page.Problems(err)
	if doubts, doubtful := errors.AsType[domain.Doubts](err); doubtful {
		problems, ok = domain.Problems(doubts), true
	}
	if ok {
		for _, s := range steps {
			if onStep(problems, s) != nil {
				return page.See(w, r, "/clients/"+id.String()+"/intake/"+s.ID)
			}
		}
	}
	if err != nil {
		return err
	}
	if decision.Decided() {
		return page.See(w, r, "/clients/"+id.String()+"/decision")
	}
	client, draft, err := p.Store.IntakeDraft(r.Context(), who.Actor(), id)
	if err != nil {
		return err
	}
	frame := p.Frame(r, "Not decided yet, intake of "+client.Name())
	return p.renderRecord(w, r, http.StatusUnprocessableEntity, frame, client.ID, undecidedPage(client, draft, decision))
}

// missingStep is the step with the question of a code.
func missingStep(code string) step {
	field := intake.QuestionField(code)
	for _, s := range steps {
		if slices.Contains(s.Fields, field) {
			return s
		}
	}
	return steps[0]
}

func termName(code string) string {
	if t, ok := screening.TermOf(code); ok {
		return t.Name
	}
	return strings.ReplaceAll(code, "_", " ")
}

var (
	classChoices = []ui.Option{
		{Value: intensity.Light.String(), Label: "Light", Hint: intensity.Cue(intensity.Light)},
		{Value: intensity.Moderate.String(), Label: "Moderate", Hint: intensity.Cue(intensity.Moderate)},
		{Value: intensity.Vigorous.String(), Label: "Vigorous", Hint: intensity.Cue(intensity.Vigorous)},
	}
	postureChoices = []ui.Option{
		{Value: "", Label: "Choose"},
		{Value: string(heartrate.Seated), Label: "Seated"}, {Value: string(heartrate.Supine), Label: "Lying"},
		{Value: string(heartrate.Standing), Label: "Standing"}, {Value: string(heartrate.Waking), Label: "On waking, at home"},
	}
	modeChoices = []ui.Option{{Value: string(heartrate.Treadmill), Label: "Treadmill"}, {Value: string(heartrate.Cycle), Label: "Cycle"}}
	yesNo       = []ui.Option{{Value: "yes", Label: "Yes"}, {Value: "no", Label: "No"}}
)

// medicineLines says what each medicine as typed means for heart rate.
func (v intakeView) medicineLines() ui.Table {
	t := ui.Table{
		Caption: "What they mean", HideCaption: false,
		Columns: []ui.Column{{Label: "As typed"}, {Label: "Read as"}, {Label: "For exercise"}},
	}
	record, _ := intake.Read(v.Draft.Answers, v.Draft.Settings)
	found := record.Matches()
	for _, m := range found.Matches {
		name := m.Name
		if since := sinceOf(record, m.Name); since != "" {
			name += ", since " + since
		}
		if !m.Exact() {
			name = "Perhaps " + name + ". Put the spelling right to be sure."
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{{Text: m.Typed}, {Text: name}, {Text: zoneWords(m.Zones)}}})
	}
	for _, unknown := range found.Unknown {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: unknown}, {Text: "Not known"}, {Text: "Look up whether it changes the heart rate. Until then no range is predicted."},
		}})
	}
	return t
}

// zoneWords says what a medicine leaves valid.
func zoneWords(z medicine.Zones) string {
	var words []string
	for _, code := range z.Codes() {
		words = append(words, map[medicine.ZoneCode]string{
			medicine.AllMethods:   "No effect on heart rate.",
			medicine.MeasuredOnly: "Do not trust a predicted maximum. Talk test and effort, or a peak measured on it.",
			medicine.RestOnDrug:   "Measure the resting heart rate on it, and again after a change.",
			medicine.NoHeartRate:  "Heart rate cannot steer effort. Talk test and effort only.",
			medicine.Pressure:     "Blood pressure falls: cool down slowly.",
			medicine.Glucose:      "Check blood sugar before exercise.",
			medicine.Information:  "Worth knowing: see the cautions.",
		}[code])
	}
	return strings.Join(words, " ")
}

// hints are the diseases that the medicines point to.
func (v intakeView) hints() []medicine.Hint {
	record, _ := intake.Read(v.Draft.Answers, v.Draft.Settings)
	return medicine.Hints(record.Matches().Matches)
}
