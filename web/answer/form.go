// Package answer has what a doctor's answer looks like as a form, for the doctor
// with a one-time link and for the practice that types it from paper, and the
// doctor's page itself.
package answer

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/web/ui"
)

// rows is how many restrictions and expected symptoms a form has room for.
const rows = 3

// Form is a doctor's answer as typed. Its fields are called as the rules call
// what is wrong with them.
type Form struct {
	Name           string        `form:"decided_by.name"`
	Profession     string        `form:"decided_by.profession"`
	Registration   string        `form:"decided_by.registration"`
	Organisation   string        `form:"decided_by.organisation"`
	Contact        string        `form:"decided_by.contact"`
	DecidedOn      string        `form:"decided_on"`
	Outcome        string        `form:"outcome"`
	Ceiling        string        `form:"ceiling"`
	Covers         []string      `form:"covers"`
	HeartRate      string        `form:"limits.heart_rate"`
	Ischaemia      string        `form:"limits.ischaemia"`
	Detection      string        `form:"limits.detection"`
	Systolic       string        `form:"limits.systolic"`
	Diastolic      string        `form:"limits.diastolic"`
	GlucoseLow     string        `form:"limits.glucose_low"`
	GlucoseHigh    string        `form:"limits.glucose_high"`
	GlucoseUnit    string        `form:"glucose_unit"`
	OxygenFloor    string        `form:"limits.oxygen_floor"`
	Effort         string        `form:"limits.effort"`
	SupervisedOnly string        `form:"supervised_only"`
	Unsupervised   string        `form:"unsupervised"`
	Work           string        `form:"work"`
	Activity       string        `form:"activity"`
	Tests          string        `form:"tests"`
	Restrictions   []Restriction `form:"restrictions"`
	Expected       []Expected    `form:"expected"`
	ValidFrom      string        `form:"valid_from"`
	ValidUntil     string        `form:"valid_until"`
}

// Restriction is something that the doctor rules out, as typed.
type Restriction struct {
	Says  string `form:"says"`
	Until string `form:"until"`
}

// Expected is a symptom that the doctor allows up to a limit, as typed.
type Expected struct {
	Code  string `form:"code"`
	Limit string `form:"limit"`
}

// Fill adds empty rows for restrictions and expected symptoms, up to as many as
// there is room for, and what an answer is about if nobody says otherwise.
func (f *Form) Fill() {
	if f.Work == "" {
		f.Work = string(clearance.Both)
	}
	for len(f.Restrictions) < rows {
		f.Restrictions = append(f.Restrictions, Restriction{})
	}
	for len(f.Expected) < rows {
		f.Expected = append(f.Expected, Expected{})
	}
}

// mgPerMmol is how many mg/dL of glucose one mmol/L is: the molar mass of glucose
// is 180.16 g/mol (from memory).
const mgPerMmol = 18.016

// Decision converts the form. What does not parse is a problem of its field.
func (f *Form) Decision() (clearance.Decision, domain.Problems) {
	var problems domain.Problems
	whole := func(field, typed string) int {
		typed = strings.TrimSpace(typed)
		if typed == "" {
			return 0
		}
		n, err := strconv.Atoi(typed)
		if err != nil || n <= 0 {
			problems.Add(field, "Type a whole number, or leave it empty.")
		}
		return n
	}
	glucose := func(field, typed string) int {
		if f.GlucoseUnit != "mmol" {
			return whole(field, typed)
		}
		typed = strings.ReplaceAll(strings.TrimSpace(typed), ",", ".")
		if typed == "" {
			return 0
		}
		n, err := strconv.ParseFloat(typed, 64)
		if err != nil || !(n > 0 && n < 100) {
			problems.Add(field, "Type a number such as 5.6, or leave it empty.")
			return 0
		}
		return int(math.Round(n * mgPerMmol))
	}
	date := func(field, typed string) domain.Date {
		d, err := domain.ParseDate(strings.TrimSpace(typed))
		if err != nil && strings.TrimSpace(typed) != "" {
			problems.Add(field, "Type the day as year-month-day, such as 2026-04-30.")
		}
		return d
	}
	text := strings.TrimSpace
	d := clearance.Decision{
		DecidedBy: clearance.Clinician{
			Name: text(f.Name), Profession: clearance.Profession(f.Profession), Registration: text(f.Registration),
			Organisation: text(f.Organisation), Contact: text(f.Contact),
		},
		DecidedOn: date("decided_on", f.DecidedOn), Outcome: clearance.Outcome(f.Outcome), Considered: f.Covers,
		Limits: clearance.Limits{
			HeartRate: whole("limits.heart_rate", f.HeartRate), Ischaemia: whole("limits.ischaemia", f.Ischaemia),
			Detection: whole("limits.detection", f.Detection), Systolic: whole("limits.systolic", f.Systolic),
			Diastolic: whole("limits.diastolic", f.Diastolic), GlucoseLow: glucose("limits.glucose_low", f.GlucoseLow),
			GlucoseHigh: glucose("limits.glucose_high", f.GlucoseHigh), OxygenFloor: whole("limits.oxygen_floor", f.OxygenFloor),
			Effort: whole("limits.effort", f.Effort),
		},
		SupervisedOnly: f.SupervisedOnly == "yes", Unsupervised: f.Unsupervised == "yes", Work: clearance.Work(f.Work), Activity: text(f.Activity),
		Tests: text(f.Tests), ValidFrom: date("valid_from", f.ValidFrom), ValidUntil: date("valid_until", f.ValidUntil),
	}
	if f.Ceiling != "" {
		var err error
		if d.Ceiling, err = intensity.ParseClass(f.Ceiling); err != nil {
			problems.Add("ceiling", "Say how hard the client may work: light, moderate or vigorous.")
		}
	}
	for i, r := range f.Restrictions {
		if text(r.Says+r.Until) != "" {
			d.Restrictions = append(d.Restrictions, clearance.Restriction{Says: text(r.Says), Until: date(fmt.Sprintf("restrictions[%d]", i), r.Until)})
		}
	}
	for _, e := range f.Expected {
		if text(e.Code+e.Limit) != "" {
			d.Expected = append(d.Expected, clearance.Expected{Code: e.Code, Limit: text(e.Limit)})
		}
	}
	return d, problems
}

// Fields are the names of the fields in the order of the form, for the summary of
// what is wrong.
func Fields() []string {
	fields := []string{"outcome", "ceiling", "work", "activity", "covers", "limits", "limits.heart_rate", "limits.ischaemia", "limits.detection",
		"limits.systolic", "limits.diastolic", "glucose_unit", "limits.glucose_low", "limits.glucose_high", "limits.oxygen_floor", "limits.effort",
		"supervised_only", "unsupervised"}
	for i := range rows {
		fields = append(fields, fmt.Sprintf("restrictions[%d]", i))
	}
	for i := range rows {
		fields = append(fields, fmt.Sprintf("expected[%d]", i))
	}
	return append(fields, "tests", "valid_from", "valid_until", "decided_by.name", "decided_by.profession", "decided_by.registration", "decided_by.organisation",
		"decided_by.contact", "decided_on")
}

// CauseName is what a code that a doctor may release stands for.
func CauseName(code string) string {
	switch code {
	case clearance.FlagBloodPressure:
		return "High blood pressure at rest"
	case clearance.FlagOxygen:
		return "Falling oxygen in effort"
	case clearance.FlagRateMedicine:
		return "A medicine that changes the heart rate"
	case "practitioner":
		return "The practitioner's own hold"
	}
	if name := screening.TermName(code); name != code {
		return name
	}
	text := strings.ReplaceAll(code, "_", " ")
	return strings.ToUpper(text[:1]) + text[1:]
}

func causeOptions(causes, ticked []string) []ui.Option {
	var list []ui.Option
	for _, code := range causes {
		list = append(list, ui.Option{Value: code, Label: CauseName(code), Checked: slices.Contains(ticked, code)})
	}
	return list
}

// symptomOptions are the symptoms that may be expected.
func symptomOptions() []ui.Option {
	list := []ui.Option{{Label: "None"}}
	for _, t := range screening.Codes() {
		if t.Kind == screening.Symptom {
			list = append(list, ui.Option{Value: t.Code, Label: t.Name})
		}
	}
	return list
}

var outcomeOptions = []ui.Option{
	{Value: string(clearance.Cleared), Label: "May exercise, without limits beside the ceiling"},
	{Value: string(clearance.ClearedWithLimits), Label: "May exercise, with limits"},
	{Value: string(clearance.NotNow), Label: "Not now"},
	{Value: string(clearance.ReferOn), Label: "Another doctor has to answer"},
}

var ceilingOptions = []ui.Option{
	{Value: "light", Label: "Light", Hint: intensity.Cue(intensity.Light)},
	{Value: "moderate", Label: "Moderate", Hint: intensity.Cue(intensity.Moderate)},
	{Value: "vigorous", Label: "Vigorous", Hint: intensity.Cue(intensity.Vigorous)},
}

var workOptions = []ui.Option{
	{Value: string(clearance.Both), Label: "Aerobic and resistance work"}, {Value: string(clearance.Aerobic), Label: "Aerobic work"},
	{Value: string(clearance.Resistance), Label: "Resistance work"}, {Value: string(clearance.NamedActivity), Label: "One activity only"},
}

var professionOptions = []ui.Option{
	{Value: string(clearance.Physician), Label: "Physician"},
	{Value: string(clearance.NursePractitioner), Label: "Nurse practitioner"},
	{Value: string(clearance.PhysicianAssistant), Label: "Physician assistant"},
}

// OutcomeWords is an outcome in a few words.
func OutcomeWords(o clearance.Outcome) string {
	for _, option := range outcomeOptions {
		if option.Value == string(o) {
			return option.Label
		}
	}
	return string(o)
}

// LimitWords are a doctor's numbers, a sentence each.
func LimitWords(l clearance.Limits) []string {
	var list []string
	add := func(value int, format string) {
		if value != 0 {
			list = append(list, fmt.Sprintf(format, value))
		}
	}
	add(l.HeartRate, "Heart rate at most %d a minute")
	add(l.Ischaemia, "Angina or ischaemia from %d a minute")
	add(l.Detection, "Defibrillator acts from %d a minute")
	switch {
	case l.Systolic != 0 && l.Diastolic != 0:
		list = append(list, fmt.Sprintf("Blood pressure at most %d/%d mmHg", l.Systolic, l.Diastolic))
	default:
		add(l.Systolic, "Upper blood pressure at most %d mmHg")
		add(l.Diastolic, "Lower blood pressure at most %d mmHg")
	}
	mmol := func(value int, format string) {
		if value != 0 {
			list = append(list, fmt.Sprintf(format, value, float64(value)/mgPerMmol))
		}
	}
	mmol(l.GlucoseLow, "Blood sugar at least %d mg/dL (%.1f mmol/L)")
	mmol(l.GlucoseHigh, "Blood sugar at most %d mg/dL (%.1f mmol/L)")
	add(l.OxygenFloor, "Oxygen saturation at least %d %%")
	add(l.Effort, "Perceived exertion at most %d of 20")
	return list
}

// Items lists a decision as it was given.
func Items(d clearance.Decision) []ui.Definition {
	list := []ui.Definition{{Term: "Answer", Detail: OutcomeWords(d.Outcome)}}
	if d.Outcome.Allows() {
		list = append(list, ui.Definition{Term: "Ceiling", Content: ui.ClassTag(d.Ceiling)})
	}
	var covers []string
	for _, code := range d.Considered {
		covers = append(covers, CauseName(code))
	}
	add := func(term string, texts ...string) {
		if len(texts) > 0 {
			list = append(list, ui.Definition{Term: term, Detail: strings.Join(texts, "; ")})
		}
	}
	add("Covers", covers...)
	add("Limits", LimitWords(d.Limits)...)
	if d.SupervisedOnly {
		add("Supervision", "Supervised sessions only")
	}
	if d.Unsupervised {
		add("Supervision", "May exercise on their own")
	}
	for _, o := range workOptions {
		if o.Value == string(d.Work) && d.Work != clearance.Both {
			add("About", strings.TrimSuffix(o.Label+": "+d.Activity, ": "))
		}
	}
	add("Ruled out", RestrictionWords(d.Restrictions)...)
	add("Expected symptoms", ExpectedWords(d.Expected)...)
	if d.Tests != "" {
		add("Tests done or needed", d.Tests)
	}
	if !d.ValidFrom.IsZero() {
		add("Valid from", d.ValidFrom.Time().Format("2 January 2006"))
	}
	if !d.ValidUntil.IsZero() {
		add("Valid until", d.ValidUntil.Time().Format("2 January 2006"))
	}
	by := d.DecidedBy
	add("Decided by", by.Name+", "+strings.ReplaceAll(string(by.Profession), "_", " ")+", "+by.Registration)
	add("At", by.Organisation+"; "+by.Contact)
	add("Signed on", d.DecidedOn.Time().Format("2 January 2006"))
	return list
}

// RestrictionWords are what a doctor rules out, each with its end.
func RestrictionWords(restrictions []clearance.Restriction) []string {
	var list []string
	for _, r := range restrictions {
		text := r.Says
		if !r.Until.IsZero() {
			text += " (until " + r.Until.Time().Format("2 January 2006") + ")"
		}
		list = append(list, text)
	}
	return list
}

// ExpectedWords are the symptoms that a doctor allows up to a limit.
func ExpectedWords(expected []clearance.Expected) []string {
	var list []string
	for _, e := range expected {
		list = append(list, CauseName(e.Code)+": "+e.Limit)
	}
	return list
}
