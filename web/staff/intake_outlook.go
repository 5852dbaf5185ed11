package staff

import (
	"strings"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intake"
	"brae/domain/medicine"
	"brae/domain/screening"
	"brae/web/ui"
)

// outlook is what the side panel says.

// sentence says what is decided so far.
func (v intakeView) sentence() string {
	o := v.Draft.Outlook
	switch {
	case o.Decision.RuleSet == "":
		return "Nothing can be said yet. " + problemsWord(len(o.Problems))
	case !o.Decision.Decided():
		return "Nothing is decided. " + lastOf(o.Decision.Reasons)
	}
	return sentenceOf(o.Decision)
}

func problemsWord(n int) string {
	if n == 0 {
		return "Fill in the first step."
	}
	return "Put right what is marked."
}

func lastOf(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[len(list)-1]
}

// openWords says how much is still open.
func (v intakeView) openWords() string {
	switch n := v.Draft.Outlook.Open; n {
	case 0:
		return "All health questions are answered."
	case 1:
		return "If the one question that is left is answered with no."
	default:
		return "If the " + number(n) + " questions that are left are answered with no."
	}
}

// changes say what the last save has changed, each with its reason.
func (v intakeView) changes() []string {
	before, now := v.Draft.Before, v.Draft.Outlook
	var list []string
	d := screening.Compare(before.Decision, now.Decision)
	was, is := sentenceOf(before.Decision), sentenceOf(now.Decision)
	if before.Decision.RuleSet != "" && now.Decision.RuleSet != "" && before.Decision.Decided() && now.Decision.Decided() && was != is {
		list = append(list, "Before: "+was)
	}
	for _, why := range d.New {
		list = append(list, "New: "+why)
	}
	for _, why := range d.Gone {
		list = append(list, "No longer: "+why)
	}
	if before.Basis.Basis != now.Basis.Basis && now.Basis.Basis != "" {
		list = append(list, "Heart rate: "+now.Basis.Reason())
	}
	return list
}

// heartRate says whether heart-rate ranges will be shown.
func (v intakeView) heartRate() string {
	b := v.Draft.Outlook.Basis
	if b.Basis == "" {
		return ""
	}
	if b.Basis.Valid() {
		return "Ranges will be shown. " + b.Reason()
	}
	return "No ranges. " + b.Reason()
}

// resting says which resting heart rate counts.
func (v intakeView) resting() string {
	r := v.Draft.Outlook.Resting
	n := len(v.Draft.Outlook.Record.RestingReadings)
	if n == 0 {
		return ""
	}
	text := "Counts as " + number(int(r.HR)) + " beats a minute, the mean of " + number(n)
	if n == 1 {
		text = "Counts as " + number(int(r.HR)) + " beats a minute, the only reading"
	}
	if r.Repeat {
		return text + ". The readings differ by " + number(int(r.Spread)) + ": drop one and take another."
	}
	return text + "."
}

// pressure says which blood pressure counts.
func (v intakeView) pressure() string {
	r := v.Draft.Outlook.Record
	if r.Systolic == 0 {
		return ""
	}
	return "Counts as " + number(r.Systolic) + " over " + number(r.Diastolic) + " mmHg."
}

func (v intakeView) consented(today domain.Date) bool {
	for _, c := range v.Draft.Consents {
		if c.Kind == "care" && c.InForce(today) {
			return true
		}
	}
	return false
}

// postures of a blood pressure.
var pressurePostures = []ui.Option{
	{Value: "", Label: "Choose"}, {Value: string(heartrate.Seated), Label: "Seated"}, {Value: string(heartrate.Supine), Label: "Lying"},
	{Value: string(heartrate.Standing), Label: "Standing"},
}

// The units that may be chosen.
var (
	weightUnits      = []ui.Option{{Value: "", Label: "kg"}, {Value: intake.Pounds, Label: "lb"}}
	heightUnits      = []ui.Option{{Value: "", Label: "cm"}, {Value: intake.Inches, Label: "inches"}}
	temperatureUnits = []ui.Option{{Value: "", Label: "°C"}, {Value: intake.Fahrenheit, Label: "°F"}}
	glucoseUnits     = []ui.Option{{Value: "", Label: "mmol/L"}, {Value: intake.MgPerDL, Label: "mg/dL"}}
	whenChoices      = []ui.Option{{Value: intake.AtRest, Label: "At rest"}, {Value: intake.InEffort, Label: "With effort"}, {Value: intake.Both, Label: "Both"}}
	courseChoices    = []ui.Option{{Value: intake.Stable, Label: "Stable"}, {Value: intake.Changing, Label: "Changing"}}
)

// medicineNames are the generic names to choose from.
var medicineNames = func() []string {
	var names []string
	for _, n := range medicine.Names() {
		names = append(names, n.Name)
	}
	return names
}()

// otherMeasured reports whether anything is typed among the measurements that are
// folded away.
func (v intakeView) otherMeasured() bool {
	for _, field := range []string{intake.FieldTemperature, intake.FieldGlucose, intake.FieldOxygen} {
		if v.value(field) != "" || v.Problems[field] != "" || v.Doubts[field] != "" {
			return true
		}
	}
	return false
}

// folded reports whether a group of questions begins folded away: a long one of
// which nothing is answered with yes, and nothing is wrong.
func (v intakeView) folded(g termGroup) bool {
	if !g.Folded {
		return false
	}
	for _, t := range g.Terms {
		field := intake.QuestionField(t.Code)
		if a := v.value(field); a == "yes" || a == "not_sure" || v.Problems[field] != "" {
			return false
		}
	}
	return true
}

// answered says how many questions of a group are answered.
func (v intakeView) answered(g termGroup) string {
	n := 0
	var names []string
	for _, t := range g.Terms {
		if v.value(intake.QuestionField(t.Code)) != "" {
			n++
		}
		names = append(names, strings.ToLower(t.Name[:1])+t.Name[1:])
	}
	if n == len(g.Terms) {
		return "All " + number(n) + " answered."
	}
	return number(n) + " of " + number(len(g.Terms)) + " answered: " + strings.Join(names, ", ") + "."
}

// open is how many questions of a group are not answered.
func (v intakeView) open(g termGroup) int {
	n := 0
	for _, t := range g.Terms {
		if v.value(intake.QuestionField(t.Code)) == "" {
			n++
		}
	}
	return n
}
