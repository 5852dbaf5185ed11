package intake

import (
	"slices"
	"strings"

	"brae/domain/medicine"
	"brae/domain/screening"
)

// Conflict is answers that do not fit together, with the fields to look at.
type Conflict struct {
	Says   string
	Fields []string
	Blocks bool // nothing is decided before it is settled
}

// slowedFor are the answers that explain a medicine that slows the heart.
//
// Source: medicine_memory.
var slowedFor = []string{"hypertension", "thyroid_disease"}

// Conflicts returns what does not fit together, what blocks a decision first:
// medicines and the diseases that they are taken for, two medicines of which one
// should not be taken with the other, answers that rule each other out, and
// measurements that tell against an answer.
//
// Practice rule: practice. Source: medicine_memory.
func (r Record) Conflicts(in screening.Input) []Conflict {
	var list []Conflict
	say := func(blocks bool, says string, fields ...string) { list = append(list, Conflict{says, fields, blocks}) }
	matches := r.Matches()
	hints := medicine.Hints(matches.Matches)
	for _, c := range screening.Conflicts(in) {
		asks := c.Code
		if i := slices.IndexFunc(hints, func(h medicine.Hint) bool { return h.Code == c.Code }); i >= 0 {
			asks = hints[i].Asks
		}
		say(true, "Takes "+c.Says+", and reports no disease that it is taken for. "+asks, FieldMedicines, ExplainedField(c.Code))
	}
	for _, clash := range medicine.Clashes(matches.Matches) {
		say(false, "Takes "+strings.Join(clash.Names, " and ")+". "+clash.Says, FieldMedicines)
	}
	yes := func(code string) bool { return r.Answers.Of(code).CountsAsYes() }
	no := func(code string) bool { return r.Answers.Of(code) == screening.No }
	for _, h := range hints {
		if h.Code == "rate_slowing" && r.Explained[h.Code] == "" && !r.heart() && !slices.ContainsFunc(slowedFor, yes) {
			say(false, "Takes "+strings.Join(h.Names, " and ")+", and reports no heart disease, high blood pressure or thyroid disease. "+h.Asks,
				FieldMedicines, ExplainedField(h.Code))
		}
	}
	pair := func(a, b, says string) {
		if yes(a) && yes(b) {
			say(false, says, QuestionField(a), QuestionField(b))
		}
	}
	pair("diabetes_type_1", "diabetes_type_2", "Diabetes of type 1 and of type 2 are both answered with yes. Which is it?")
	denied := func(finding, disease, says string) {
		if yes(finding) && no(disease) {
			say(false, says, QuestionField(finding), QuestionField(disease))
		}
	}
	denied("heart_failure_worsening", "heart_failure", "Worsening heart failure is ticked, and heart failure is answered with no.")
	denied("heart_failure_class_4", "heart_failure", "Heart failure at rest is ticked, and heart failure is answered with no.")
	denied("weight_gain_heart_failure", "heart_failure", "A gain of weight with heart failure is ticked, and heart failure is answered with no.")
	denied("atrial_fibrillation_new", "atrial_fibrillation", "New atrial fibrillation is ticked, and atrial fibrillation is answered with no.")
	denied("gestational_diabetes", "pregnant", "Diabetes of this pregnancy is answered with yes, and pregnancy with no.")
	if a := r.Activity; a.Days > 0 && a.Minutes == 0 || a.Minutes > 0 && a.Days == 0 {
		say(false, "Days a week and minutes a day do not fit together: one of them is nothing.", FieldDays, FieldMinutes)
	}
	if r.PressureApart {
		say(false, "The two blood pressures differ much. Take a third, and type the two that agree.", FieldSystolic, FieldSystolic2)
	}
	if !r.Peak.On.IsZero() && r.Peak.On.After(in.Today) {
		say(false, "The exercise test lies in the future.", FieldPeakOn)
	}
	slices.SortStableFunc(list, func(a, b Conflict) int {
		switch {
		case a.Blocks == b.Blocks:
			return 0
		case a.Blocks:
			return -1
		}
		return 1
	})
	return list
}

// heart reports whether any disease of heart or vessels is answered with yes or
// not sure.
func (r Record) heart() bool {
	return slices.ContainsFunc(screening.Codes(), func(t screening.Term) bool {
		return t.Heading == screening.Cardiovascular && r.Answers.Of(t.Code).CountsAsYes()
	})
}
