package staff

import (
	"fmt"
	"slices"
	"strconv"

	"brae/domain/intake"
	"brae/domain/screening"
	"brae/web/ui"
)

// termGroup is health questions that stand under one heading.
type termGroup struct {
	ID     string
	Legend string
	Folded bool // does not concern most clients
	Terms  []screening.Term
}

// findingGroups sorts the reasons to wait by where a practitioner looks for them.
// What is not named here stands under the last heading.
var findingGroups = []struct {
	legend string
	codes  []string
}{
	{"Heart", []string{
		"heart_attack_recent", "ecg_change_new", "unstable_angina", "rhythm_uncontrolled", "aortic_stenosis_severe", "heart_failure_worsening",
		"heart_inflammation", "ischaemia_low_effort", "atrial_fibrillation_new", "valve_needs_surgery", "heart_block_complete",
		"left_main_narrowing", "valve_narrowing_moderate", "heart_rate_uncontrolled", "hypertrophic_cardiomyopathy", "heart_block_high_degree",
		"ventricular_aneurysm", "weight_gain_heart_failure", "heart_failure_class_4",
	}},
	{"Blood pressure and resting heart rate", []string{
		"resting_rate_120", "blood_pressure_200", "blood_pressure_180", "blood_pressure_160", "standing_pressure_drop",
	}},
	{"Vessels, lungs and brain", []string{
		"lung_clot", "leg_clot", "aortic_dissection", "pulmonary_hypertension_severe", "stroke_acute", "stroke_recent",
	}},
	{"Infection, blood, kidneys and hormones", []string{
		"infection_fever", "infection_chronic", "vomiting_or_diarrhoea", "diabetes_uncontrolled", "metabolic_uncontrolled", "thyroid_storm",
		"kidney_failure_acute", "electrolytes_abnormal", "anaemia_significant",
	}},
	{"Other", nil},
}

// diseaseGroups sorts the known diseases of heart and vessels, which are many.
var diseaseGroups = map[string]string{
	"coronary_disease": "Heart arteries", "heart_attack": "Heart arteries", "angina": "Heart arteries", "stent": "Heart arteries", "bypass_surgery": "Heart arteries",
	"atrial_fibrillation": "Rhythm and devices", "rhythm_disorder": "Rhythm and devices", "pacemaker": "Rhythm and devices", "defibrillator": "Rhythm and devices",
	"peripheral_artery_disease": "Vessels and brain", "aortic_aneurysm": "Vessels and brain", "stroke": "Vessels and brain", "tia": "Vessels and brain",
	"carotid_disease": "Vessels and brain", "pulmonary_hypertension": "Vessels and brain",
}

// groupsOf sorts the questions of a step. The order within a group is that of the
// list of terms.
func groupsOf(step string) []termGroup {
	terms := stepTerms(step)
	legend := func(screening.Term) string { return "" }
	var order []string
	switch step {
	case "diseases":
		words := map[screening.Heading]string{
			screening.Cardiovascular: "Heart muscle and valves", screening.Metabolic: "Diabetes", screening.Renal: "Kidneys",
		}
		order = []string{"Heart arteries", "Heart muscle and valves", "Rhythm and devices", "Vessels and brain"}
		legend = func(t screening.Term) string {
			if l, ok := diseaseGroups[t.Code]; ok {
				return l
			}
			return words[t.Heading]
		}
	case "more":
		words := map[screening.Kind]string{
			screening.Pregnancy: "Pregnancy", screening.Complication: "With diabetes", screening.Noted: "Other conditions",
		}
		legend = func(t screening.Term) string { return words[t.Kind] }
	case "findings":
		for _, g := range findingGroups {
			order = append(order, g.legend)
		}
		legend = func(t screening.Term) string {
			if t.Kind == screening.Pregnancy {
				return "In pregnancy"
			}
			for _, g := range findingGroups {
				if slices.Contains(g.codes, t.Code) {
					return g.legend
				}
			}
			return order[len(findingGroups)-1]
		}
	}
	for _, t := range terms {
		if l := legend(t); !slices.Contains(order, l) {
			order = append(order, l)
		}
	}
	groups := make([]termGroup, len(order))
	for i, l := range order {
		groups[i] = termGroup{
			ID: "g" + strconv.Itoa(i), Legend: l,
			Folded: l == "In pregnancy" || step == "diseases" && i < 4 || l == "With diabetes",
		}
	}
	for _, t := range terms {
		i := slices.Index(order, legend(t))
		groups[i].Terms = append(groups[i].Terms, t)
	}
	return slices.DeleteFunc(groups, func(g termGroup) bool { return len(g.Terms) == 0 })
}

// ticked is how many findings of a group are ticked.
func (v intakeView) ticked(g termGroup) int {
	n := 0
	for _, t := range g.Terms {
		if v.value(intake.QuestionField(t.Code)) == "yes" {
			n++
		}
	}
	return n
}

// position says where in the intake the page is: "2 of 8".
func (v intakeView) position() string {
	i := slices.IndexFunc(steps, func(s step) bool { return s.ID == v.Step.ID })
	return fmt.Sprintf("%d of %d", i+1, len(steps))
}

// buttons end a step. Going on comes first, since the Enter key presses it.
func (v intakeView) buttons() []ui.Button {
	list := []ui.Button{{Label: "Save and go on", Name: "do", Value: "next"}}
	if v.Step.ID != "findings" && len(stepTerms(v.Step.ID)) > 2 {
		list = append(list, ui.Button{Label: "No to all that are left", Name: "do", Value: "rest_no", Kind: ui.Quiet})
	}
	return append(list, ui.Button{Label: "Save", Name: "do", Value: "stay", Kind: ui.Quiet})
}
