package staff

import (
	"cmp"
	"errors"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/screening"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// vitalsView is what the page of vital signs before a session shows.
type vitalsView struct {
	store.VitalsFile
	ID        string // of what is entered
	Form      url.Values
	Problems  domain.Problems
	Doubts    domain.Doubts
	Correct   *store.Vitals // the reading that is corrected; nil for a new one
	Latest    *store.Vitals // the newest that counts, if it is of today
	Emergency string        // number to call
	Zone      *time.Location
	At        uuid.UUID // the reading whose form to mark it was refused
}

func (v vitalsView) path() string { return recordPath(v.Client.ID) + "/vitals" }

// Vitals shows what was measured before sessions and asks for today's values.
func (p Pages) Vitals(w http.ResponseWriter, r *http.Request) error {
	return p.renderVitals(w, r, http.StatusOK, vitalsView{Form: url.Values{}})
}

func (p Pages) renderVitals(w http.ResponseWriter, r *http.Request, status int, v vitalsView) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	if v.VitalsFile, err = p.Store.VitalsFile(r.Context(), who.Actor(), client); err != nil {
		return err
	}
	v.Emergency, v.Zone = who.Practice.EmergencyNumber, who.Practice.Location
	if v.ID = v.Form.Get("id"); v.ID == "" {
		v.ID = uuid.NewString()
	}
	correct := v.Form.Get("correct")
	if correct == "" {
		correct = r.URL.Query().Get("correct")
	}
	for i, e := range v.Entries {
		if e.ID.String() == correct && e.InForce() {
			v.Correct = &v.Entries[i]
			if len(v.Form) == 0 {
				v.Form = typedOf(e)
			}
		}
		if v.Latest == nil && e.InForce() && domain.DateOf(e.TakenAt, v.Zone) == v.Today {
			v.Latest = &v.Entries[i]
		}
	}
	frame := p.Frame(r, "Vital signs of "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil || v.Doubts != nil
	return p.renderRecord(w, r, status, frame, client, vitalsPage(v))
}

// said are the things that a client may say before a session.
var said = []struct {
	code, label string
	set         func(*screening.Vitals) *bool
}{
	{"warning", "Chest pain, breathless at rest, a severe headache, or trouble with vision, speech or movement", func(v *screening.Vitals) *bool { return &v.Warning }},
	{"fainted", "Fainted", func(v *screening.Vitals) *bool { return &v.Fainted }},
	{"symptoms", "Dizzy, weak or unwell", func(v *screening.Vitals) *bool { return &v.Symptoms }},
	{"feverish", "Feverish", func(v *screening.Vitals) *bool { return &v.Feverish }},
	{"severe_low", "Blood sugar below 54 mg/dL (3.0 mmol/L), or help needed for a low one, in the last 24 hours", func(v *screening.Vitals) *bool { return &v.SevereLow }},
}

// hundredths reads a number with up to two decimals, nil if the field is empty or
// wrong.
func (t *typed) hundredths(name string) *screening.Hundredths {
	text := t.text(name)
	if text == "" {
		return nil
	}
	h, err := screening.ParseHundredths(text)
	if err != nil {
		t.problems.Add(name, "Type a number with two decimals at most, such as 37.2.")
		return nil
	}
	return &h
}

// vitals reads what was measured.
func (t *typed) vitals() store.VitalsInput {
	in := store.VitalsInput{Confirmed: t.text("confirmed") == "yes", Reason: t.text("reason")}
	in.ID, _ = uuid.Parse(t.text("id")) // the nil id is refused with words
	v := &in.Reading.Vitals
	v.SBP, v.DBP, v.StandingSBP, v.RestingHR = t.whole("sbp"), t.whole("dbp"), t.whole("standing_sbp"), t.whole("resting_hr")
	v.Temperature, v.Ketones, v.SpO2 = t.hundredths("temperature"), t.hundredths("ketones"), t.whole("spo2")
	v.UrineKetones = screening.Ketones(t.text("urine_ketones"))
	if t.text("glucose") != "" {
		switch t.text("glucose_unit") {
		case "mg_dl":
			v.GlucoseMgDL = t.whole("glucose")
		case "mmol_l":
			v.GlucoseMmol = t.hundredths("glucose")
		default:
			t.problems.Add("glucose_unit", "Choose the unit of the blood sugar.")
		}
	}
	if kg := t.quantity("weight", fitness.Weight, "kg"); kg != nil {
		in.Grams = int(math.Round(*kg * 1000))
	}
	for _, s := range said {
		*s.set(v) = slices.Contains(t.query["says"], s.code)
	}
	in.Reading.SBPAgain, in.Reading.DBPAgain, in.Reading.RestingHRAgain = t.whole("sbp_again"), t.whole("dbp_again"), t.whole("resting_hr_again")
	in.Reading.NotAgain = t.text("do") == "not_again"
	return in
}

// vitalFields are the fields of the form under the names that the rules use.
var vitalFields = map[string]string{
	"temperature_c": "temperature", "glucose_mg_dl": "glucose", "glucose_mmol_l": "glucose", "ketones_mmol_l": "ketones", "weight_kg": "weight", "weight_on": "weight",
}

// TakeVitals stores what was measured before a session.
func (p Pages) TakeVitals(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	if err := page.ParseForm(r); err != nil {
		return err
	}
	t := &typed{query: r.PostForm}
	in := t.vitals()
	for name, correct := range map[string]bool{"of": false, "correct": true} {
		if t.text(name) != "" {
			if in.Of, err = optionalID(t.text(name)); err != nil {
				return err
			}
			in.Correct = correct
		}
	}
	if t.problems != nil { // what cannot be read is not saved by half
		return p.renderVitals(w, r, http.StatusUnprocessableEntity, vitalsView{Form: r.PostForm, Problems: t.problems})
	}
	_, err = p.Store.TakeVitals(r.Context(), page.From(r.Context()).Actor(), client, in)
	if doubts, ok := errors.AsType[domain.Doubts](err); ok {
		return p.renderVitals(w, r, http.StatusUnprocessableEntity, vitalsView{Form: r.PostForm, Doubts: doubts})
	}
	if problems, ok := page.Problems(err); ok {
		t.refuse(problems, vitalFields)
		return p.renderVitals(w, r, http.StatusUnprocessableEntity, vitalsView{Form: r.PostForm, Problems: t.problems})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "Saved.")
	return page.See(w, r, recordPath(client)+"/vitals")
}

// MarkVitalsError marks a reading as entered in error.
func (p Pages) MarkVitalsError(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	reading, err := pathID(r, "reading")
	if err != nil {
		return err
	}
	if err := page.ParseForm(r); err != nil {
		return err
	}
	err = p.Store.MarkVitalsError(r.Context(), page.From(r.Context()).Actor(), client, reading, r.PostForm.Get("reason"))
	if problems, ok := page.Problems(err); ok {
		return p.renderVitals(w, r, http.StatusUnprocessableEntity, vitalsView{Form: url.Values{"error_reason": {r.PostForm.Get("reason")}}, Problems: problems, At: reading})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "It is marked and counts no more. What it held is released.")
	return page.See(w, r, recordPath(client)+"/vitals")
}

// typedOf is a reading as it would be typed, for its correction.
func typedOf(e store.Vitals) url.Values {
	v, f := e.Reading, url.Values{}
	whole := func(name string, n *int) {
		if n != nil {
			f.Set(name, number(*n))
		}
	}
	parts := func(name string, n *screening.Hundredths) {
		if n != nil {
			f.Set(name, n.String())
		}
	}
	whole("sbp", v.SBP)
	whole("dbp", v.DBP)
	whole("standing_sbp", v.StandingSBP)
	whole("resting_hr", v.RestingHR)
	whole("spo2", v.SpO2)
	whole("sbp_again", v.SBPAgain)
	whole("dbp_again", v.DBPAgain)
	whole("resting_hr_again", v.RestingHRAgain)
	parts("temperature", v.Temperature)
	parts("ketones", v.Ketones)
	if v.GlucoseMgDL != nil {
		whole("glucose", v.GlucoseMgDL)
		f.Set("glucose_unit", "mg_dl")
	} else if v.GlucoseMmol != nil {
		parts("glucose", v.GlucoseMmol)
		f.Set("glucose_unit", "mmol_l")
	}
	f.Set("urine_ketones", string(v.UrineKetones))
	if n := len(v.Weights); n > 0 {
		f.Set("weight", kilograms(v.Weights[n-1]))
	}
	for _, s := range said {
		if *s.set(&v.Vitals) {
			f.Add("says", s.code)
		}
	}
	return f
}

func kilograms(w screening.Weight) string { return screening.Hundredths((w.Grams + 5) / 10).String() }

// field is a field of the form with what was typed.
func (v vitalsView) field(name, label, unit string) ui.Field {
	f := ui.Field{Name: name, Label: label, Value: v.Form.Get(name), Unit: unit}
	if v.At == uuid.Nil {
		f.Problem = cmp.Or(v.Problems[name], v.Doubts[name])
	}
	return f
}

// options are choices of the form with what was chosen.
func (v vitalsView) saidOptions() []ui.Option {
	var list []ui.Option
	for _, s := range said {
		list = append(list, ui.Option{Value: s.code, Label: s.label, Checked: slices.Contains(v.Form["says"], s.code)})
	}
	return list
}

// wrong are the problems and doubts of the form, in its order.
func (v vitalsView) wrong() []ui.Problem {
	if v.At != uuid.Nil {
		list := ui.Problems(v.Problems, "reason")
		for i := range list {
			list[i].Field = "error-" + v.At.String()
		}
		return list
	}
	all := v.Problems
	if v.Doubts != nil {
		all = domain.Problems{}
		for field, sentence := range v.Doubts {
			all[field] = sentence
		}
	}
	return ui.Problems(all, "sbp", "dbp", "standing_sbp", "resting_hr", "sbp_again", "dbp_again", "resting_hr_again", "temperature", "glucose", "glucose_unit",
		"ketones", "urine_ketones", "spo2", "weight", "weight_kg", "reason", "id")
}

// effectWords says what the vital signs mean for the session, from the most.
var effectWords = []struct {
	effect screening.Effect
	says   string
}{
	{screening.Emergency, "An emergency. No session."}, {screening.NoSession, "No session today."}, {screening.Pause, "No session now."},
	{screening.TestKetones, "Test ketones first."}, {screening.LightOnly, "Light work only today."}, {screening.NoVigorous, "No vigorous work today."},
	{screening.EatFirst, "Eat first."}, {screening.Carbohydrate, "The session can go on, with carbohydrate."}, {screening.Remark, "The session can go on."},
}

// verdict is what the newest reading of today comes to.
func (v vitalsView) verdict() ui.Decision {
	j := v.Latest.Judgement
	d := ui.Decision{Sentence: "Nothing that was measured stands against the session."}
	if len(j.Findings) == 0 {
		d.Next = "What was not measured never counts as normal. Holds of the record stay."
	}
	for _, e := range effectWords {
		if slices.ContainsFunc(j.Findings, func(f screening.VitalFinding) bool { return f.Effect == e.effect }) {
			d.Sentence, d.Held = e.says, e.effect != screening.Remark && e.effect != screening.Carbohydrate
			break
		}
	}
	var rules []string
	for _, f := range j.Findings {
		d.Why = append(d.Why, f.Text)
		rules = append(rules, f.Rule)
		for _, key := range f.Cites {
			if s := page.Source(key); !slices.Contains(d.Sources, s) {
				d.Sources = append(d.Sources, s)
			}
		}
	}
	if rules != nil {
		d.Rule = "Rule " + strings.Join(rules, ", ")
	}
	if len(j.Waits) > 0 {
		d.Sentence, d.Held = "No exercise until it was measured again.", true
		d.Next = "Sit quietly. Measure again at " + v.Latest.EnteredAt.In(v.Zone).Add(v.rest()).Format("15:04") + " or later."
	}
	return d
}

// rest is how long the client sits before the second measurement.
func (v vitalsView) rest() time.Duration {
	longest := 0
	for _, w := range v.Latest.Judgement.Waits {
		longest = max(longest, w.Minutes)
	}
	return time.Duration(longest) * time.Minute
}

// emergency reports whether the newest reading of today asks for the number.
func (v vitalsView) emergency() bool {
	return v.Latest != nil && slices.ContainsFunc(v.Latest.Judgement.Findings, func(f screening.VitalFinding) bool { return f.Effect == screening.Emergency })
}
