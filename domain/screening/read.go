package screening

import (
	"slices"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
)

// reading is what the answers come to, by position in terms.
type reading struct {
	group    Group
	causes   []clearance.Cause // diseases and symptoms that ask for a doctor
	findings []int             // contraindications and obstetric reasons
	noted    []int             // what changes nothing by itself
	missing  []string
}

// read sorts the answers. A yes or not sure that a practitioner has set aside
// counts as no.
//
// Source: riebe2015, acsm_cells. Practice rule: practice.
func (in *Input) read() reading {
	r := reading{group: NoDisease}
	for i := range terms {
		answer := in.Answers.given[i]
		if answer == No {
			continue
		}
		t := &terms[i]
		if answer == Unanswered {
			if t.Required() {
				r.missing = append(r.missing, t.Code)
			}
			continue
		}
		if in.setAside(t.Code) {
			continue
		}
		switch {
		case t.Kind == Symptom:
			r.group = Symptomatic
		case t.Heading != "" && r.group == NoDisease:
			r.group = Disease
		}
		if t.Kind == Symptom || t.Heading != "" {
			r.causes = append(r.causes, clearance.Cause{Code: t.Code, Since: in.since(t.Code)})
		}
		if t.Tier != "" {
			r.findings = append(r.findings, i)
		}
		if t.Kind == Noted {
			r.noted = append(r.noted, i)
		}
	}
	return r
}

func (in *Input) setAside(code string) bool {
	for i := range in.Reclassified {
		if in.Reclassified[i].Code == code {
			return true
		}
	}
	return false
}

// check says what cannot be in an input, and returns the client's age.
func (in *Input) check() (age int, err error) {
	var problems domain.Problems
	if !in.Today.Valid() {
		problems.Add("today", "Give the day of the screening.")
	}
	age = in.Age
	switch {
	case in.BirthDate.IsZero():
		if age < 1 || age > 110 {
			problems.Add("age", "Age is a whole number of years from 1 to 110.")
		}
	case !in.BirthDate.Valid():
		problems.Add("birth_date", "The calendar has no such day.")
	default:
		age = in.BirthDate.AgeOn(in.Today)
		switch {
		case age < 0:
			problems.Add("birth_date", "This day is in the future.")
		case age > 110:
			problems.Add("birth_date", "This makes the client older than 110. Check the year.")
		case in.Age != 0 && in.Age != age:
			problems.Add("age", "Age and date of birth do not fit together.")
		}
	}
	if in.Desired < intensity.Light || in.Desired > intensity.Vigorous {
		problems.Add("desired", "Say what is wanted next: light, moderate or vigorous.")
	}
	in.Activity.check(&problems)
	if in.Attested != nil && (in.Attested.By == "" || in.Attested.Reason == "") {
		problems.Add("attested", "Say who judges the activity otherwise, and why.")
	}
	for _, r := range in.Reclassified {
		if t, ok := TermOf(r.Code); !ok || t.Tier != "" {
			problems.Add("reclassified", r.Code+" is not an answer that can be set aside.")
		}
		if r.By == "" || r.Reason == "" {
			problems.Add("reclassified", "Say who sets the answer aside, and why.")
		}
	}
	for _, o := range in.Since {
		if _, ok := position[o.Code]; !ok {
			problems.Add("since", "There is no code "+o.Code+".")
		} else if !o.On.IsZero() && !o.On.Valid() || o.On.After(in.Today) {
			problems.Add("since", "The day on which "+o.Code+" began is not in the future.")
		}
	}
	for _, h := range in.Hints {
		if _, ok := hintAnswers[h.Code]; !ok {
			problems.Add("medicines", "There is no hint "+h.Code+".")
		}
	}
	c := in.Clearance
	bad := c.OnFile == clearance.Allowed && (c.Cap < intensity.Light || c.Cap > intensity.Vigorous)
	for _, cover := range c.Covered {
		bad = bad || cover.Ceiling < intensity.Light || cover.Ceiling > intensity.Vigorous
	}
	if bad {
		problems.Add("decision", "A doctor's ceiling is light, moderate or vigorous.")
	}
	return age, problems.Err()
}

// diabetes is the codes that say diabetes.
var diabetes = []string{"diabetes_type_1", "diabetes_type_2", "diabetes_other", "diabetes_in_remission", "gestational_diabetes"}

// hintAnswers is which answers explain a medicine that hints at a disease. A
// hint without codes is a remark only.
//
// Practice rule: practice. Source: medicine_memory.
var hintAnswers = map[string][]string{
	"diabetes":                 diabetes,
	"diabetes_heart_or_kidney": append(slices.Clone(diabetes), "heart_failure", "cardiomyopathy", "kidney_disease", "dialysis", "kidney_transplant"),
	"heart_failure":            {"heart_failure", "cardiomyopathy", "kidney_disease", "dialysis", "kidney_transplant", "coronary_disease", "angina"},
	"coronary_disease": {"coronary_disease", "heart_attack", "angina", "stent", "bypass_surgery", "peripheral_artery_disease", "stroke", "tia",
		"carotid_disease"},
	"atrial_fibrillation_or_clot": {"atrial_fibrillation", "rhythm_disorder", "valve_disease", "stroke", "lung_clot", "leg_clot"},
	"pulmonary_hypertension":      {"pulmonary_hypertension", "pulmonary_hypertension_severe", "heart_failure"},
	"peripheral_artery_disease":   {"peripheral_artery_disease"},
	"hypertrophic_cardiomyopathy": {"hypertrophic_cardiomyopathy", "cardiomyopathy"},
	"overactive_thyroid":          nil,
	"rate_slowing":                nil,
}

// conflicts is the medicines that hint at a disease the client has not declared
// and nobody has explained.
//
// Practice rule: practice.
func (in *Input) conflicts() []Conflict {
	var all []Conflict
	for _, h := range in.Hints {
		codes := hintAnswers[h.Code]
		declared := slices.ContainsFunc(codes, func(code string) bool { return in.Answers.Of(code).CountsAsYes() })
		if codes != nil && !declared && h.Explained == "" {
			all = append(all, Conflict{h.Code, h.Says})
		}
	}
	return all
}

// Conflicts returns the medicines that hint at a disease which is not declared and
// not explained.
//
// Practice rule: practice.
func Conflicts(in Input) []Conflict { return in.conflicts() }
