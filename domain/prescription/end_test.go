package prescription_test

import (
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/prescription"
)

// A screening and a decision count for twelve months (Riebe 2015 for the yearly
// screening; practice rule for what a plan says beyond).
func TestEnds(t *testing.T) {
	day := domain.NewDate(2026, 11, 23)
	later := day.AddDays(30)
	for _, tt := range []struct {
		name                string
		screening, decision domain.Date
		want                prescription.End
	}{
		{"the screening alone", day, domain.Date{}, prescription.End{On: day, By: prescription.ByScreening}},
		{"the screening first", day, later, prescription.End{On: day, By: prescription.ByScreening}},
		{"on one day", day, day, prescription.End{On: day, By: prescription.ByScreening}},
		{"the decision first", later, day, prescription.End{On: day, By: prescription.ByDoctor}},
		{"the decision alone", domain.Date{}, day, prescription.End{On: day, By: prescription.ByDoctor}},
		{"neither", domain.Date{}, domain.Date{}, prescription.End{}},
	} {
		if got := prescription.Ends(tt.screening, tt.decision); got != tt.want {
			t.Errorf("%s: %+v; want %+v", tt.name, got, tt.want)
		}
	}
	end := prescription.End{On: day, By: prescription.ByDoctor}
	for _, tt := range []struct {
		name  string
		end   prescription.End
		first domain.Date
		asks  intensity.Class
		want  prescription.Ending
	}{
		{"the week before", end, day.AddDays(-7), intensity.Moderate, ""},
		{"the week that it ends within", end, day.AddDays(-3), intensity.Moderate, ""},
		{"the week that begins on the day", end, day, intensity.Moderate, prescription.ByDoctor},
		{"a harder week before", end, day.AddDays(-7), intensity.Vigorous, prescription.ByClass},
		{"a harder week after", end, later, intensity.Vigorous, prescription.ByDoctor},
		{"an easier week", end, day.AddDays(-7), intensity.Light, ""},
		{"without an end", prescription.End{}, later, intensity.Moderate, ""},
	} {
		if got := tt.end.Uncovered(tt.first, tt.asks, intensity.Moderate); got != tt.want {
			t.Errorf("%s: %q; want %q", tt.name, got, tt.want)
		}
	}
}
