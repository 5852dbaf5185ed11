package screening_test

import (
	"testing"

	"brae/domain/screening"
)

// Who may mark a reading as entered in error is a practice rule.
func TestDismissible(t *testing.T) {
	n := func(v int) *int { return &v }
	high := screening.Reading{Vitals: screening.Vitals{SBP: n(215), DBP: n(112)}}
	both := high
	both.RestingHR = n(80)
	again := screening.Reading{Vitals: screening.Vitals{SBP: n(128), DBP: n(80)}}
	pulse := screening.Reading{Vitals: screening.Vitals{RestingHR: n(70)}}
	for _, tt := range []struct {
		why         string
		first       screening.Reading
		holds, lead bool
		later       []screening.Reading
		may         bool
	}{
		{"it holds nothing", high, false, false, nil, true},
		{"it holds, and nobody measured again", high, true, false, nil, false},
		{"the lead", high, true, true, nil, true},
		{"measured again", high, true, false, []screening.Reading{pulse, again}, true},
		{"something else was measured", high, true, false, []screening.Reading{pulse}, false},
		{"only a part was measured again", both, true, false, []screening.Reading{again}, false},
	} {
		if got := tt.first.Dismissible(tt.holds, tt.lead, tt.later); (got == "") != tt.may {
			t.Errorf("%s: %q", tt.why, got)
		}
	}
}
