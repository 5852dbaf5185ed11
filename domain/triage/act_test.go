package triage_test

import (
	"slices"
	"testing"

	"brae/domain"
	"brae/domain/triage"
)

func TestDueOn(t *testing.T) {
	for _, tt := range []struct {
		source string
		due    triage.Due
		on     domain.Date // of the log
		want   domain.Date
	}{
		{"practice setting: today, on a Wednesday", triage.Due{Working: true}, domain.NewDate(2026, 11, 25), domain.NewDate(2026, 11, 25)},
		{"practice setting: today, on a Saturday, is Monday", triage.Due{Working: true}, domain.NewDate(2026, 11, 28), domain.NewDate(2026, 11, 30)},
		{"practice setting: 1 working day, on a Friday", triage.Due{Days: 1, Working: true}, domain.NewDate(2026, 11, 27), domain.NewDate(2026, 11, 30)},
		{"practice setting: 2 working days, on a Sunday", triage.Due{Days: 2, Working: true}, domain.NewDate(2026, 11, 29), domain.NewDate(2026, 12, 2)},
		{"practice setting: 7 days", triage.Due{Days: 7}, domain.NewDate(2026, 11, 25), domain.NewDate(2026, 12, 2)},
		{"practice setting: never", triage.Due{None: true}, domain.NewDate(2026, 11, 25), domain.Date{}},
	} {
		if got := tt.due.On(tt.on); got != tt.want {
			t.Errorf("%s: %s; want %s", tt.source, got, tt.want)
		}
	}
}

func TestSameWork(t *testing.T) {
	policy := triage.PolicyFrom(nil) // practice setting: three sessions in a row
	usual := []triage.Pull{{Effort: 12, HR: 110}, {Effort: 12, HR: 112}, {Effort: 13, HR: 108}}
	for _, tt := range []struct {
		source string
		pulls  []triage.Pull
		want   []triage.Rise
	}{
		{"practice rule: too little to compare with", append(slices.Clone(usual), triage.Pull{Effort: 15, HR: 130}), nil},
		{"practice rule: against the median of those before", append(slices.Clone(usual), triage.Pull{Effort: 14, HR: 121}, triage.Pull{HR: 120}, triage.Pull{Effort: 14}),
			[]triage.Rise{{HR: 11, Effort: 2}, {HR: 10}, {Effort: 2}}},
	} {
		if got := triage.SameWork(tt.pulls, policy); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v; want %v", tt.source, got, tt.want)
		}
	}
}

// Which symptoms a doctor's decision can make expected ones. Practice rule.
func TestExpected(t *testing.T) {
	got := triage.Expected([]string{"angina", "chest_pressure", "leg_pain_walking", "fainting"})
	if want := []triage.Flag{triage.StableAngina, triage.LegPainExpected}; !slices.Equal(got, want) {
		t.Errorf("%v; want %v", got, want)
	}
}
