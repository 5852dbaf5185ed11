package screening_test

import (
	"testing"

	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/domain/source"
)

// TestBands asks at each edge of the default bands: practice settings, the
// pressure's as before a session.
func TestBands(t *testing.T) {
	b := screening.BandsFrom(nil)
	for _, tt := range []struct {
		name                    string
		band                    screening.Band
		low, cLow, cHigh, upper int
	}{
		{"upper pressure", b.Systolic, 50, 90, 179, 300},
		{"lower pressure", b.Diastolic, 20, 50, 109, 200},
		{"weight", b.Weight, 20, 35, 250, 400},
		{"height", b.Height, 90, 130, 210, 250},
		{"temperature", b.Temperature, 300, 350, 379, 450},
		{"blood sugar", b.Glucose, 10, 54, 349, 1000},
	} {
		for value, want := range map[int]intensity.Verdict{
			tt.low - 1: intensity.Reject, tt.low: intensity.Confirm, tt.cLow - 1: intensity.Confirm, tt.cLow: intensity.OK,
			tt.cHigh: intensity.OK, tt.cHigh + 1: intensity.Confirm, tt.upper: intensity.Confirm, tt.upper + 1: intensity.Reject,
		} {
			if f := tt.band.Check(value, "x"); f.Verdict != want || (f.Sentence == "") != (want == intensity.OK) {
				t.Errorf("%s %d: %s %q; want %s", tt.name, value, f.Verdict, f.Sentence, want)
			}
		}
	}
	if b.PressureGap != 5 || b.PressureFar != 10 {
		t.Errorf("gap %d, far %d; want 5 and 10", b.PressureGap, b.PressureFar)
	}
	tighter := screening.BandsFrom(source.Values{"screening.band_weight_high": 260, "screening.band_weight_confirm_high": 120})
	if f := tighter.Weight.Check(261, "kg"); f.Verdict != intensity.Reject {
		t.Errorf("above the practice's bound: %s", f.Verdict)
	}
	if f := tighter.Weight.Check(121, "kg"); f.Verdict != intensity.Confirm {
		t.Errorf("above the practice's band: %s", f.Verdict)
	}
}
