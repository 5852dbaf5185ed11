package intake_test

import (
	"slices"
	"testing"
	"time"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/screening"
)

// visit is a screening on a day of 2026 at which these were answered yes.
func visit(t *testing.T, month time.Month, medicines []string, codes ...string) intake.Visit {
	t.Helper()
	v := intake.Visit{On: domain.NewDate(2026, month, 1), Record: intake.Record{Medicines: medicines}}
	for _, code := range codes {
		if err := v.Record.Answers.Set(code, screening.Yes); err != nil {
			t.Fatal(err)
		}
	}
	return v
}

// TestOnsets: practice setting, a symptom is known from its first report that was
// not taken back; a disease of the first visit may be old.
func TestOnsets(t *testing.T) {
	for _, tt := range []struct {
		why    string
		visits []intake.Visit
		code   string
		want   domain.Date
	}{
		{"a symptom of the first visit", []intake.Visit{visit(t, 1, nil, "fainting")}, "fainting", domain.NewDate(2026, 1, 1)},
		{"the same at the next visit", []intake.Visit{visit(t, 1, nil, "fainting"), visit(t, 5, nil, "fainting")}, "fainting", domain.NewDate(2026, 1, 1)},
		{"gone and back", []intake.Visit{visit(t, 1, nil, "fainting"), visit(t, 3, nil), visit(t, 5, nil, "fainting")}, "fainting", domain.NewDate(2026, 5, 1)},
		{"gone", []intake.Visit{visit(t, 1, nil, "fainting"), visit(t, 3, nil)}, "fainting", domain.Date{}},
		{"a disease of the first visit", []intake.Visit{visit(t, 1, nil, "stroke")}, "stroke", domain.Date{}},
		{"a disease of a later visit", []intake.Visit{visit(t, 1, nil), visit(t, 4, nil, "stroke")}, "stroke", domain.NewDate(2026, 4, 1)},
		{"no visit", nil, "stroke", domain.Date{}},
	} {
		var got domain.Date
		for _, o := range intake.Onsets(tt.visits) {
			if o.Code == tt.code {
				got = o.On
			}
		}
		if got != tt.want {
			t.Errorf("%s: known since %s; want %s", tt.why, got, tt.want)
		}
	}
}

// TestChanges: practice setting, what ends a doctor's decision or puts it under
// review.
func TestChanges(t *testing.T) {
	on := domain.NewDate(2026, 2, 1)
	for _, tt := range []struct {
		why  string
		a, b intake.Visit
		want []clearance.Change
	}{
		{"nothing", visit(t, 1, nil, "stroke"), visit(t, 2, nil, "stroke"), nil},
		{"a symptom", visit(t, 1, nil), visit(t, 2, nil, "fainting"), []clearance.Change{{Kind: clearance.NewSymptom, On: on, Code: "fainting", WithinLimit: true}}},
		{"a symptom that is gone", visit(t, 1, nil, "fainting"), visit(t, 2, nil), nil},
		{"a diagnosis", visit(t, 1, nil), visit(t, 2, nil, "valve_disease"), []clearance.Change{{Kind: clearance.NewDiagnosis, On: on, Code: "valve_disease"}}},
		{"an event", visit(t, 1, nil), visit(t, 2, nil, "heart_attack"), []clearance.Change{{Kind: clearance.NewEvent, On: on, Code: "heart_attack"}}},
		{"asthma", visit(t, 1, nil), visit(t, 2, nil, "asthma"), nil},
		{"a pregnancy", visit(t, 1, nil), visit(t, 2, nil, "pregnant"), []clearance.Change{{Kind: clearance.PregnancyOrBirth, On: on, Code: "pregnant"}}},
		{"a birth", visit(t, 1, nil, "pregnant"), visit(t, 2, nil), []clearance.Change{{Kind: clearance.PregnancyOrBirth, On: on, Code: "pregnant"}}},
		{"a beta-blocker begins", visit(t, 1, nil), visit(t, 2, []string{"atenolol 50 mg"}), []clearance.Change{{Kind: clearance.MedicineChange, On: on, Code: "atenolol", HeartRate: true}}},
		{"another dose", visit(t, 1, []string{"atenolol 25 mg"}), visit(t, 2, []string{"atenolol 50 mg"}), []clearance.Change{{Kind: clearance.MedicineChange, On: on, Code: "atenolol", HeartRate: true}}},
		{"it ends", visit(t, 1, []string{"atenolol 25 mg"}), visit(t, 2, nil), []clearance.Change{{Kind: clearance.MedicineChange, On: on, Code: "atenolol", HeartRate: true}}},
		{"a statin begins", visit(t, 1, nil), visit(t, 2, []string{"atorvastatin 20 mg"}), nil},
		{"insulin begins", visit(t, 1, nil), visit(t, 2, []string{"insulin glargine"}), []clearance.Change{{Kind: clearance.MedicineChange, On: on, Code: "insulin glargine", Glucose: true}}},
	} {
		if got := intake.Changes([]intake.Visit{tt.a, tt.b}); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %+v; want %+v", tt.why, got, tt.want)
		}
	}
}

// TestEventsExist: an event whose code does not exist would never be noticed.
func TestEventsExist(t *testing.T) {
	for _, code := range intake.Events {
		if _, ok := screening.TermOf(code); !ok {
			t.Errorf("there is no code %s", code)
		}
	}
}
