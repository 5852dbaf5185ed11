package caution_test

import (
	"slices"
	"testing"

	"brae/domain/caution"
	"brae/domain/medicine"
	"brae/domain/screening"
)

func with(text string, codes ...string) caution.With {
	found := medicine.Match(text)
	return caution.With{
		Yes:   func(code string) bool { return slices.Contains(codes, code) },
		Zones: found.Zones(), Taking: found.Taking, Age: 50, ManyFalls: 2, OlderFrom: caution.OlderFrom(nil),
	}
}

func codes(list []caution.Caution) []string {
	var all []string
	for _, c := range list {
		all = append(all, c.Code)
	}
	return all
}

func TestFor(t *testing.T) {
	for _, tt := range []struct {
		source  string
		with    caution.With
		has     []string
		without []string
	}{
		{"nothing present", with(""), nil, []string{"caution.pressure_medicine", "caution.falls", "caution.balance"}},
		{"ADA 2016, table 1: glucose before exercise on insulin", with("insulin lispro", "diabetes_type_1"), []string{"caution.diabetes_sugar", "caution.diabetes_late_low"}, nil},
		{"metformin lowers no sugar by itself", with("metformin", "diabetes_type_2"), []string{"caution.diabetes_late_low"}, []string{"caution.diabetes_sugar"}},
		{"ADA 2016, table 5: retinopathy", with("", "diabetes_type_2", "retinopathy"), []string{"caution.diabetes_eyes"}, []string{"caution.diabetes_feet"}},
		{"ADA 2016, table 5: silent ischaemia", with("", "diabetes_type_2", "angina"), []string{"caution.diabetes_heart"}, nil},
		{"angina without diabetes", with("", "angina"), nil, []string{"caution.diabetes_heart"}},
		{"Pescatello 2004: post-exercise fall", with("amlodipine 5 mg", "hypertension"), []string{"caution.pressure_cool", "caution.pressure_medicine"}, nil},
		{"Howden 2015; from memory: dialysis", with("", "dialysis"), []string{"caution.kidney", "caution.dialysis", "caution.dialysis_wait"}, nil},
		{"ACOG 804", with("", "pregnant"), []string{"caution.pregnancy_guide", "caution.pregnancy_stop"}, nil},
		{"AHA on leg arteries", with("", "peripheral_artery_disease"), []string{"caution.legs"}, nil},
		{"lung toolkit: below 88 per cent", with("", "copd"), []string{"caution.lung_oxygen", "caution.lung_ready"}, nil},
		{"from memory: asthma needs no oxygen rule", with("", "asthma"), []string{"caution.lung_ready"}, []string{"caution.lung_oxygen"}},
		{"Billinger 2014", with("", "tia"), []string{"caution.stroke"}, nil},
	} {
		got := codes(caution.For(tt.with))
		for _, code := range tt.has {
			if !slices.Contains(got, code) {
				t.Errorf("%s: %v has no %s", tt.source, got, code)
			}
		}
		for _, code := range tt.without {
			if slices.Contains(got, code) {
				t.Errorf("%s: %v has %s", tt.source, got, code)
			}
		}
	}
	// Practice settings: from two falls, and from 65 years.
	w := with("")
	w.Falls, w.Age = 1, 64
	if got := caution.For(w); len(got) != 0 {
		t.Errorf("one fall at 64: %v", codes(got))
	}
	w.Falls, w.Age = 2, 65
	if got := codes(caution.For(w)); !slices.Equal(got, []string{"caution.falls", "caution.balance"}) {
		t.Errorf("two falls at 65: %v", got)
	}
}

// TestEveryCautionCanApply answers everything with yes.
func TestEveryCautionCanApply(t *testing.T) {
	w := with("insulin, metoprolol, amlodipine, warfarin")
	w.Yes = func(code string) bool {
		if _, ok := screening.TermOf(code); !ok {
			t.Errorf("%s is no question", code)
		}
		return true
	}
	w.Falls, w.Age = 3, 80
	if got := caution.For(w); len(got) != len(caution.Rules) {
		t.Errorf("%d of %d cautions apply", len(got), len(caution.Rules))
	}
}
