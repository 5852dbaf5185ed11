package intake_test

import (
	"maps"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/screening"
)

var (
	birth = domain.NewDate(1968, 3, 14)
	today = domain.NewDate(2026, 11, 25)
)

// answers is an intake in which every needed question is answered with no.
func answers(changes map[string]string) map[string]string {
	a := map[string]string{
		intake.FieldDays: "4", intake.FieldMinutes: "40", intake.FieldMonths: "12", intake.FieldActivityClass: "moderate",
		intake.FieldDesired: "moderate",
	}
	for _, t := range screening.Codes() {
		if t.Required() {
			a[intake.QuestionField(t.Code)] = "no"
		}
	}
	maps.Copy(a, changes)
	return a
}

func TestReadRefuses(t *testing.T) {
	for _, tt := range []struct{ reason, field, typed string }{
		{"eight days a week", intake.FieldDays, "8"},
		{"a decimal", intake.FieldMinutes, "30.5"},
		{"a unit", intake.FieldMinutes, "30 min"},
		{"a sign", intake.FieldMonths, "+3"},
		{"a class that does not exist", intake.FieldDesired, "brutal"},
		{"a 15-second count, practice setting 25 to 150", intake.FieldResting1, "17"},
		{"a resting heart rate above the range", intake.FieldResting2, "151"},
		{"a posture that does not exist", intake.FieldPosture, "hanging"},
		{"pressures swapped, practice setting", intake.FieldDiastolic, "190"},
		{"a weight in grams", intake.FieldWeight, "72500"},
		{"a height in metres", intake.FieldHeight, "1.72"},
		{"a height in inches", intake.FieldHeight, "68"},
		{"two decimals", intake.FieldWeight, "72.55"},
		{"a peak that is a count of 15 s", intake.FieldPeak, "38"},
		{"a day that no calendar has", intake.FieldPeakOn, "2026-02-30"},
		{"an answer that is none", intake.QuestionField("angina"), "perhaps"},
	} {
		t.Run(tt.reason, func(t *testing.T) {
			a := answers(map[string]string{intake.FieldSystolic: "132", intake.FieldDiastolic: "84", intake.FieldPeak: "150", intake.FieldPeakOn: "2026-10-01"})
			if _, problems := intake.Read(a, nil); problems != nil {
				t.Fatalf("before the change: %v", problems)
			}
			a[tt.field] = tt.typed
			if _, problems := intake.Read(a, nil); problems[tt.field] == "" || len(problems) != 1 {
				t.Errorf("%s = %q: %v; want one problem of the field", tt.field, tt.typed, problems)
			}
		})
	}
}

func TestReadTakesVariants(t *testing.T) {
	record, problems := intake.Read(answers(map[string]string{
		intake.FieldWeight: "72,5", intake.FieldHeight: " 168 ", intake.FieldResting1: "64", intake.FieldResting3: "67",
		intake.FieldMedicines: "metoprolol 50 mg\n\n  aspirin 100 mg \n",
	}), nil)
	if problems != nil {
		t.Fatal(problems)
	}
	if record.WeightTenths != 725 || record.HeightTenths != 1680 || len(record.RestingReadings) != 2 || len(record.Medicines) != 2 || record.Medicines[1] != "aspirin 100 mg" {
		t.Errorf("record = %+v", record)
	}
}

// TestHeartRate follows answers and medicines to the basis of the zones.
func TestHeartRate(t *testing.T) {
	for _, tt := range []struct {
		source  string
		changes map[string]string
		basis   heartrate.Basis
		row     int
	}{
		{"Gellish 2007: nothing speaks against a prediction", nil, heartrate.Predicted, 13},
		{"Keteyian 2023: beta-blocker, no test", map[string]string{intake.FieldMedicines: "metoprolol succinate 50 mg"}, heartrate.NoBasis, 10},
		{"Keteyian 2023: beta-blocker, measured on it", map[string]string{
			intake.FieldMedicines: "metoprolol", intake.FieldPeak: "132", intake.FieldPeakOn: "2026-09-01", intake.FieldPeakLimited: "yes", intake.FieldPeakSame: "yes",
		}, heartrate.Measured, 9},
		{"from memory: amlodipine does not slow the heart", map[string]string{intake.FieldMedicines: "amlodipine 5 mg"}, heartrate.Predicted, 13},
		{"Keteyian 2019: atrial fibrillation", map[string]string{intake.QuestionField("atrial_fibrillation"): "yes"}, heartrate.NoBasis, 7},
		{"practice setting: not sure counts as yes", map[string]string{intake.QuestionField("atrial_fibrillation"): "not_sure"}, heartrate.NoBasis, 7},
		{"Evenson 2023: pregnancy", map[string]string{intake.QuestionField("pregnant"): "yes"}, heartrate.NoBasis, 2},
		{"practice setting: an unknown medicine", map[string]string{intake.FieldMedicines: "xyzzolol 10 mg"}, heartrate.NoBasis, 13},
	} {
		t.Run(tt.source, func(t *testing.T) {
			a := answers(tt.changes)
			a[intake.FieldResting1] = "64"
			record, problems := intake.Read(a, nil)
			if problems != nil {
				t.Fatal(problems)
			}
			person, err := record.HeartRate(birth, today, today, nil)
			if err != nil {
				t.Fatal(err)
			}
			d, err := heartrate.Decide(person, heartrate.PolicyFrom(nil))
			if err != nil || d.Basis != tt.basis || d.Row != tt.row {
				t.Errorf("basis %s by row %d, %v; want %s by %d", d.Basis, d.Row, err, tt.basis, tt.row)
			}
		})
	}
}

// TestScreening follows the answers to the decision.
func TestScreening(t *testing.T) {
	for _, tt := range []struct {
		source  string
		changes map[string]string
		rule    string
		ceiling intensity.Class
	}{
		{"ACSM 2015 R11", nil, "A056", intensity.Vigorous},
		{"ACSM 2015 R14", map[string]string{intake.QuestionField("diabetes_type_2"): "yes"}, "A074", intensity.Moderate},
		{"ACSM 2015 R17", map[string]string{intake.QuestionField("palpitations"): "not_sure"}, "A092", intensity.None},
		{"practice setting: insulin without diabetes is a conflict", map[string]string{intake.FieldMedicines: "insulin glargine"}, "E19", intensity.None},
		{"practice setting: explained by the practitioner", map[string]string{
			intake.FieldMedicines: "metformin", intake.ExplainedField("diabetes"): "prediabetes, says the GP letter",
		}, "A056", intensity.Vigorous},
	} {
		t.Run(tt.source, func(t *testing.T) {
			record, problems := intake.Read(answers(tt.changes), nil)
			if problems != nil {
				t.Fatal(problems)
			}
			d, err := screening.Decide(record.Screening(birth, today), screening.PolicyFrom(nil))
			if err != nil || d.Rule != tt.rule || d.CeilingNow != tt.ceiling {
				t.Errorf("rule %s, ceiling %s, %v; want %s, %s", d.Rule, d.CeilingNow, err, tt.rule, tt.ceiling)
			}
		})
	}
}

// TestConditionsAreQuestions keeps the link between the form and the heart-rate
// rules: every code must be one that the form asks.
func TestConditionsAreQuestions(t *testing.T) {
	for code := range intake.Conditions {
		if _, ok := screening.TermOf(code); !ok {
			t.Errorf("%s is no question", code)
		}
	}
}

// FuzzRead looks for panics and for numbers that are read as others.
func FuzzRead(f *testing.F) {
	f.Add(intake.FieldWeight, "72,5")
	f.Add(intake.FieldResting1, "64")
	f.Add(intake.FieldMedicines, "metoprolol/hydrochlorothiazide 50\x00")
	f.Fuzz(func(t *testing.T, field, typed string) {
		record, problems := intake.Read(map[string]string{field: typed}, nil)
		if field == intake.FieldWeight && problems == nil && record.WeightTenths != 0 {
			if d := strings.Trim(typed, " \t\r\n0123456789.,"); d != "" && strings.TrimSpace(typed) != "" {
				t.Errorf("weight %q was read as %d", typed, record.WeightTenths)
			}
		}
		record.Matches()
	})
}

// TestMoreDiseaseNeverRaisesTheCeiling adds answers at random.
func TestMoreDiseaseNeverRaisesTheCeiling(t *testing.T) {
	codes := screening.Codes()
	rapid.Check(t, func(t *rapid.T) {
		a := answers(nil)
		ceiling := func() intensity.Class {
			record, _ := intake.Read(a, nil)
			d, err := screening.Decide(record.Screening(birth, today), screening.PolicyFrom(nil))
			if err != nil {
				t.Fatal(err)
			}
			return d.CeilingNow
		}
		before := ceiling()
		for range rapid.IntRange(1, 4).Draw(t, "more") {
			code := rapid.SampledFrom(codes).Draw(t, "code").Code
			a[intake.QuestionField(code)] = rapid.SampledFrom([]string{"yes", "not_sure"}).Draw(t, "answer")
			if after := ceiling(); after > before {
				t.Fatalf("with %s the ceiling rose from %s to %s", code, before, after)
			} else {
				before = after
			}
		}
	})
}
