package staff

import (
	"encoding/json"
	"errors"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"

	"github.com/go-chi/chi/v5"
	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/fitness"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// testFormView is a test that is about to be entered.
type testFormView struct {
	store.TestForm
	Card     fitness.Card
	Before   []numbersField // at rest
	Fields   []numbersField // of the test
	After    []numbersField
	Hidden   [][2]string
	Problems domain.Problems
	Doubts   domain.Doubts
	Sources  []ui.Source
}

func (v testFormView) base() string { return recordPath(v.Client.ID) }

// path is where the form is sent to.
func (v testFormView) path() string { return v.base() + "/tests/" + string(v.Test.ID) }

// TestForm shows the protocol of a test and the form for its readings, or why it
// must not be done.
func (p Pages) TestForm(w http.ResponseWriter, r *http.Request) error {
	corrects, err := optionalID(r.URL.Query().Get("corrects"))
	if err != nil {
		return err
	}
	return p.renderTestForm(w, r, http.StatusOK, corrects, nil, nil)
}

// optionalID reads an id that need not be there.
func optionalID(text string) (uuid.UUID, error) {
	if text == "" {
		return uuid.Nil, nil
	}
	id, err := uuid.Parse(text)
	if err != nil {
		return uuid.Nil, domain.ErrNotFound
	}
	return id, nil
}

// AddTest stores a test.
func (p Pages) AddTest(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	if err := page.ParseForm(r); err != nil {
		return err
	}
	test, err := fitness.FindTest(fitness.TestID(chi.URLParam(r, "test")))
	if err != nil {
		return err
	}
	t := &typed{query: r.PostForm}
	in := t.testEntry(test)
	if in.Corrects, err = optionalID(t.text("corrects")); err != nil {
		return err
	}
	result, err := p.Store.AddTest(r.Context(), page.From(r.Context()).Actor(), client, in)
	if doubts, ok := errors.AsType[domain.Doubts](err); ok && t.problems == nil {
		return p.renderTestForm(w, r, http.StatusUnprocessableEntity, in.Corrects, t, doubts)
	}
	problems, refused := page.Problems(err)
	switch {
	case refused:
		typedWrong := t.problems
		t.problems = nil
		t.refuse(problems, stageFields(in.Input))
		if t.problems == nil {
			t.problems = domain.Problems{}
		}
		maps.Copy(t.problems, typedWrong) // what could not be read is told in the words of the form
	case errors.Is(err, domain.ErrHeld):
		return p.renderTestForm(w, r, http.StatusConflict, in.Corrects, t, nil) // it shows what bars the test
	case err != nil && !errors.As(err, new(domain.Doubts)):
		return err
	}
	if t.problems != nil {
		return p.renderTestForm(w, r, http.StatusUnprocessableEntity, in.Corrects, t, nil)
	}
	p.Say(r.Context(), "The test is saved.")
	return page.See(w, r, resultPath(result))
}

// testEntry reads a posted test.
func (t *typed) testEntry(test fitness.Test) store.TestInput {
	in := store.TestInput{Input: t.testInput(test), Confirmed: t.text("confirmed") == "yes", Reason: t.text("reason")}
	in.Input.Age = nil // the record knows it
	in.ID, _ = uuid.Parse(t.text("id"))
	in.On, _ = domain.ParseDate(t.text("on")) // zero is refused with words
	in.Conditions = fitness.Conditions{
		RestingHR: t.whole("resting_before"), SBP: t.whole("sbp"), DBP: t.whole("dbp"),
		SpO2: t.whole("spo2"), SpO2After: t.whole("spo2_after"), Breathless: t.whole("breathless"), BreathAfter: t.whole("breathless_after"),
		Fatigue: t.whole("fatigue"), FatigueAfter: t.whole("fatigue_after"),
		RecentHeart: t.text("recent_heart") == "yes", PeakHR: t.whole("peak_hr"), ToLimit: t.text("to_limit") == "yes",
		UsualMedicines: t.text("usual_medicines") == "yes", Note: t.text("note"),
	}
	if test.Card().Walk {
		in.Conditions.CourseM = t.quantity("course_m", fitness.Distance, "m")
	}
	return in
}

func (p Pages) renderTestForm(w http.ResponseWriter, r *http.Request, status int, corrects uuid.UUID, t *typed, doubts domain.Doubts) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	form, err := p.Store.TestForm(r.Context(), page.From(r.Context()).Actor(), client, fitness.TestID(chi.URLParam(r, "test")), corrects)
	if err != nil {
		return err
	}
	v := testFormView{TestForm: form, Card: form.Test.Card(), Doubts: doubts}
	if t == nil {
		t = &typed{query: proposedTest(form)}
	}
	v.Problems = t.problems
	v.fields(t)
	v.Hidden = [][2]string{{"id", t.query.Get("id")}}
	if v.Corrects != nil {
		v.Hidden = append(v.Hidden, [2]string{"corrects", v.Corrects.ID.String()})
	}
	for _, key := range form.Test.Cites {
		v.Sources = append(v.Sources, page.Source(key))
	}
	frame := p.Frame(r, form.Test.Name+" for "+form.Client.Name())
	frame.ProblemTitle = v.Problems != nil || doubts != nil
	if v.Card.Timer.Timed() && len(v.Bars) == 0 {
		frame.Scripts = []string{"js/timer.js"}
	}
	return p.renderRecord(w, r, status, frame, client, testFormPage(v))
}

// fields asks what is measured before, during and after.
func (v *testFormView) fields(t *typed) {
	scale := func(name, label string) numbersField {
		return whole.as(ui.Field{Name: name, Label: label, Unit: "of 10", Optional: true})
	}
	if v.Test.Effort > 0 {
		optional := !v.Card.Rest
		v.Before = append(v.Before,
			whole.as(ui.Field{Name: "resting_before", Label: "Heart rate at rest", Unit: "beats a minute", Optional: optional}),
			whole.as(ui.Field{Name: "sbp", Label: "Upper blood pressure", Unit: "mmHg", Optional: optional}),
			whole.as(ui.Field{Name: "dbp", Label: "Lower blood pressure", Unit: "mmHg", Optional: optional}),
			whole.as(ui.Field{Name: "spo2", Label: "Oxygen saturation", Unit: "%", Optional: true}),
		)
	}
	if v.Card.Walk {
		v.Before = append(v.Before,
			scale("breathless", "Breathlessness"), scale("fatigue", "Fatigue"),
			tick.as(ui.Field{Name: "recent_heart", Label: "Unstable angina or a heart attack in the last month"}),
		)
		v.Fields = append(v.Fields, line.as(ui.Field{Name: "course_m", Label: "Length of the course", Unit: "m", Hint: "The same at every test: walks on other courses cannot be compared."}))
		v.After = append(v.After,
			whole.as(ui.Field{Name: "spo2_after", Label: "Oxygen saturation afterwards", Unit: "%", Optional: true}),
			scale("breathless_after", "Breathlessness afterwards"), scale("fatigue_after", "Fatigue afterwards"),
		)
	}
	for _, f := range fieldsOf(v.Test) {
		if f.Name == "age" {
			continue
		}
		switch {
		case f.Name == "sex" && f.Optional:
			f.Hint = "For the percentile. Not said: by both norms."
		case f.Name == "sex":
			f.Hint = "This test has figures for women and for men apart. Where it is not said, choose a test that needs none."
		}
		if f.Name == "distance_m" {
			f.Optional = false
		}
		v.Fields = append(v.Fields, f)
	}
	if v.Test.GivesPeak() {
		v.After = append(v.After,
			whole.as(ui.Field{Name: "peak_hr", Label: "Highest heart rate", Unit: "beats a minute", Optional: true}),
			tick.as(ui.Field{Name: "to_limit", Label: "The test ended because the person could do no more"}),
			tick.as(ui.Field{Name: "usual_medicines", Label: "Medicines and doses were those of every day"}),
		)
	}
	v.After = append(v.After, area.as(ui.Field{Name: "note", Label: "Note", Optional: true, Rows: 2, MaxLength: 1000}))
	v.Fields = append([]numbersField{line.as(ui.Field{Name: "on", Label: "Day of the test"})}, v.Fields...)
	if v.Corrects != nil {
		v.After = append(v.After, line.as(ui.Field{Name: "reason", Label: "Why it is corrected", Width: 20, MaxLength: 500}))
	}
	for _, list := range [][]numbersField{v.Before, v.Fields, v.After} {
		t.fill(list...)
		for i := range list {
			list[i].Problem = v.Problems[list[i].Name]
			if doubt := v.Doubts[list[i].Name]; doubt != "" {
				list[i].Problem = doubt
			}
		}
	}
}

// order is the fields as they stand on the page.
func (v testFormView) order() []string {
	var names []string
	for _, f := range slices.Concat(v.Before, v.Fields, v.After) {
		names = append(names, f.Name)
	}
	return names
}

// wrong is all that is told at the top.
func (v testFormView) wrong() domain.Problems {
	if v.Doubts != nil {
		return domain.Problems(v.Doubts)
	}
	return v.Problems
}

// timer is the clock for the script.
func (v testFormView) timer() string {
	phases := v.Card.Timer.Phases
	if phases == nil {
		phases = []fitness.Phase{}
	}
	text, err := json.Marshal(phases)
	if err != nil {
		panic(err) // whole numbers and texts
	}
	return string(text)
}

// proposedTest is what a form starts with: what the record knows, or the result
// that is to be corrected.
func proposedTest(f store.TestForm) url.Values {
	q := url.Values{}
	set := func(name, text string) { q.Set(name, text) }
	number := func(name string, x *float64, scale float64) {
		if x != nil && *x != 0 {
			set(name, strconv.FormatFloat(*x*scale, 'f', -1, 64))
		}
	}
	whole := func(name string, n *int) {
		if n != nil {
			set(name, strconv.Itoa(*n))
		}
	}
	set("id", newTestID().String())
	set("on", f.Today.String())
	set("sex", string(f.Sex))
	number("weight_kg", &f.WeightKg, 1)
	number("height_cm", &f.HeightCm, 1)
	number("course_m", &f.CourseM, 1)
	if f.MaxHR > 0 {
		set("hr_max", strconv.Itoa(f.MaxHR))
	}
	if f.HRBlunted {
		set("hr_blunted", "yes")
	}
	set("usual_medicines", "yes")
	if f.Corrects == nil {
		return q
	}
	in, c := f.Corrects.Input, f.Corrects.Conditions
	set("on", f.Corrects.DoneOn.String())
	set("sex", string(in.Sex))
	for _, x := range []struct {
		name  string
		value *float64
		scale float64
		unit  string
	}{
		{"weight_kg", in.WeightKg, 1, ""}, {"height_cm", in.HeightCm, 1, ""}, {"bmi", in.BMI, 1, ""}, {"fat_percent", in.FatPercent, 1, ""},
		{"distance_m", in.DistanceM, 1, ""}, {"speed_m_min", in.SpeedMMin, 1, " m/min"}, {"grade", in.Grade, 100, ""},
		{"work_kgm_min", in.WorkKgmMin, 1, " kgm/min"}, {"step_height_m", in.StepHeight, 100, ""}, {"hr_max", in.HRMax, 1, ""},
		{"course_m", c.CourseM, 1, ""},
	} {
		number(x.name, x.value, x.scale)
		if x.value != nil && x.unit != "" {
			set(x.name, q.Get(x.name)+x.unit)
		}
	}
	for name, n := range map[string]*int{
		"hr": in.HR, "resting_hr": in.RestingHR, "activity_rating": in.Rating, "activity_level": in.Level, "pace_rating": in.Pace,
		"stands": in.Stands, "steps": in.Steps, "resting_before": c.RestingHR, "sbp": c.SBP, "dbp": c.DBP, "spo2": c.SpO2,
		"spo2_after": c.SpO2After, "breathless": c.Breathless, "breathless_after": c.BreathAfter, "fatigue": c.Fatigue,
		"fatigue_after": c.FatigueAfter, "peak_hr": c.PeakHR,
	} {
		whole(name, n)
	}
	if in.Minutes != nil {
		set("minutes", fitness.ShowMinutes(*in.Minutes))
	}
	stages := ""
	for _, s := range in.Stages {
		stages += strconv.FormatFloat(s.StepsMin, 'f', -1, 64) + " " + strconv.Itoa(s.HR) + "\n"
	}
	set("stages", stages)
	for name, yes := range map[string]bool{"hr_blunted": in.HRBlunted, "to_limit": c.ToLimit, "usual_medicines": c.UsualMedicines, "recent_heart": c.RecentHeart} {
		q.Del(name)
		if yes {
			set(name, "yes")
		}
	}
	set("note", c.Note)
	return q
}
