package screening_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/screening"
)

// Limits: more than 200 over 110 mmHg rules out exercise (JABFM review of
// contraindications), and is measured again after a rest; more than 100 beats at
// rest without heart disease is measured again after 10 minutes (practice setting).
func TestReading(t *testing.T) {
	t.Parallel()
	hot := screening.Hundredths(3810)
	for _, tt := range []struct {
		about  string
		in     screening.Reading
		hold   clearance.Scope
		waits  int
		effect screening.Effect // of the first finding; "" is none
	}{
		{"nothing measured", screening.Reading{}, clearance.NoHold, 0, ""},
		{"132/84 and 72", screening.Reading{Vitals: screening.Vitals{SBP: new(132), DBP: new(84), RestingHR: new(72)}}, clearance.NoHold, 0, ""},
		{"204/100, to be repeated", screening.Reading{Vitals: screening.Vitals{SBP: new(204), DBP: new(100)}}, clearance.NoHold, 1, screening.NoSession},
		{"204/100, nobody repeats", screening.Reading{Vitals: screening.Vitals{SBP: new(204), DBP: new(100)}, NotAgain: true}, clearance.All, 0, screening.NoSession},
		{"204/100, again 202/98", screening.Reading{Vitals: screening.Vitals{SBP: new(204), DBP: new(100)}, SBPAgain: new(202), DBPAgain: new(98)}, clearance.All, 0, screening.NoSession},
		{"204/100, again 150/90", screening.Reading{Vitals: screening.Vitals{SBP: new(204), DBP: new(100)}, SBPAgain: new(150), DBPAgain: new(90)}, clearance.NoHold, 0, ""},
		{"204/100, again 170/95", screening.Reading{Vitals: screening.Vitals{SBP: new(204), DBP: new(100)}, SBPAgain: new(170), DBPAgain: new(95)}, clearance.Vigorous, 0, screening.NoVigorous},
		{"204/100 with chest pain", screening.Reading{Vitals: screening.Vitals{SBP: new(204), DBP: new(100), Warning: true}}, clearance.All, 0, screening.Emergency},
		{"108 at rest", screening.Reading{Vitals: screening.Vitals{RestingHR: new(108)}}, clearance.NoHold, 1, screening.LightOnly},
		{"108, again 104", screening.Reading{Vitals: screening.Vitals{RestingHR: new(108)}, RestingHRAgain: new(104)}, clearance.AboveLight, 0, screening.LightOnly},
		{"108, again 88", screening.Reading{Vitals: screening.Vitals{RestingHR: new(108)}, RestingHRAgain: new(88)}, clearance.NoHold, 0, ""},
		{"108 in a heart patient", screening.Reading{Vitals: screening.Vitals{RestingHR: new(108), Cardiac: true}}, clearance.All, 0, screening.NoSession},
		{"124 waits for nothing", screening.Reading{Vitals: screening.Vitals{RestingHR: new(124)}}, clearance.All, 0, screening.NoSession},
		{"fever and 108: only the rate waits", screening.Reading{Vitals: screening.Vitals{RestingHR: new(108), Temperature: &hot}}, clearance.All, 1, screening.LightOnly},
		{"pressure repeated, rate not", screening.Reading{Vitals: screening.Vitals{SBP: new(204), DBP: new(100), RestingHR: new(108)}, SBPAgain: new(206), DBPAgain: new(99)}, clearance.All, 1, screening.NoSession},
	} {
		j, err := tt.in.Judge(screening.PolicyFrom(nil))
		if err != nil {
			t.Errorf("%s: %v", tt.about, err)
			continue
		}
		var effect screening.Effect
		if len(j.Findings) > 0 {
			effect = j.Findings[0].Effect
		}
		if j.Hold != tt.hold || len(j.Waits) != tt.waits || effect != tt.effect {
			t.Errorf("%s: hold %s, waits %v, findings %+v; want %s, %d, %q", tt.about, j.Hold, j.Waits, j.Findings, tt.hold, tt.waits, tt.effect)
		}
		if n := len(j.Counts().Findings); n != len(j.Findings)-len(j.Waits) || j.Counts().Hold != j.Hold {
			t.Errorf("%s: %d findings count of %d with %d waiting", tt.about, n, len(j.Findings), len(j.Waits))
		}
	}
	_, err := screening.Reading{Vitals: screening.Vitals{SBP: new(204), DBP: new(100)}, SBPAgain: new(20), DBPAgain: new(10)}.Judge(screening.PolicyFrom(nil))
	if p, ok := errors.AsType[domain.Problems](err); !ok || p["sbp_again"] == "" {
		t.Errorf("a second pressure of 20: %v", err)
	}
}
