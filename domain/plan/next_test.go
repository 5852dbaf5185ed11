package plan_test

import (
	"testing"

	"brae/domain/intensity"
	"brae/domain/plan"
)

// The share of the vigorous minutes and the cut are practice rules: never more at
// once than evenly shared, and as long as planned at the class that is open.
func TestNextSession(t *testing.T) {
	dose := plan.Dose{Class: intensity.Moderate, Sessions: 4, Minutes: 30, Easy: 10, Vigorous: 10}
	for _, tt := range []struct {
		why     string
		dose    plan.Dose
		done    int
		ceiling intensity.Class
		want    plan.NextSession
	}{
		{"10 minutes in 4 sessions are 3 each", dose, 0, intensity.Vigorous, plan.NextSession{Class: intensity.Moderate, Minutes: 30, Easy: 10, Vigorous: 3}},
		{"1 is left", dose, 9, intensity.Vigorous, plan.NextSession{Class: intensity.Moderate, Minutes: 30, Easy: 10, Vigorous: 1}},
		{"more than all are done", dose, 14, intensity.Vigorous, plan.NextSession{Class: intensity.Moderate, Minutes: 30, Easy: 10}},
		{"moderate is open", dose, 0, intensity.Moderate, plan.NextSession{Class: intensity.Moderate, Minutes: 30, Easy: 10}},
		{"light is open", dose, 0, intensity.Light, plan.NextSession{Class: intensity.Light, Minutes: 30, Easy: 10}},
		{"very light is no session", dose, 0, intensity.VeryLight, plan.NextSession{}},
		{"nothing is open", dose, 0, intensity.None, plan.NextSession{}},
		{
			"all of it is vigorous", plan.Dose{Class: intensity.Vigorous, Sessions: 3, Minutes: 20}, 0, intensity.Moderate,
			plan.NextSession{Class: intensity.Moderate, Minutes: 20},
		},
		{"not longer than the work", plan.Dose{Class: intensity.Moderate, Sessions: 1, Minutes: 20, Easy: 10, Vigorous: 40}, 0, intensity.Vigorous, plan.NextSession{Class: intensity.Moderate, Minutes: 20, Easy: 10, Vigorous: 10}},
		{"a break", plan.Dose{}, 0, intensity.Vigorous, plan.NextSession{}},
	} {
		got := tt.dose.Next(tt.done).Under(tt.ceiling)
		if got != tt.want {
			t.Errorf("%s: %+v; want %+v", tt.why, got, tt.want)
		}
		if got.Hardest() > tt.ceiling {
			t.Errorf("%s: up to %s under a ceiling of %s", tt.why, got.Hardest(), tt.ceiling)
		}
	}
}
