// Package medicine reads the medicines that a person takes, as typed, and says
// what each does to heart rate, blood pressure and glucose: whether a
// heart-rate range still means anything, what a change of a medicine makes
// stale, and which undeclared disease a medicine hints at.
//
// It knows generic names only. A practice adds the brand names it meets as
// [Aliases]. It gives no advice on taking, stopping or changing a medicine.
package medicine

import "fmt"

// ZoneCode says what a medicine leaves valid of the ways to steer intensity.
// The values are Z0 to Z6.
type ZoneCode string

// The zone codes.
//
// Practice rule: practice.
const (
	AllMethods   ZoneCode = "Z0" // nothing changes
	MeasuredOnly ZoneCode = "Z1" // a predicted maximum is not valid, one measured on the medicine is
	RestOnDrug   ZoneCode = "Z2" // the reserve needs a resting heart rate taken on the medicine
	NoHeartRate  ZoneCode = "Z3" // talk test and perceived exertion only
	Pressure     ZoneCode = "Z4" // heart rate is fine, blood pressure falls: cool down longer
	Glucose      ZoneCode = "Z5" // the glucose rules apply
	Information  ZoneCode = "Z6" // nothing to steer by; something to know (bleeding, muscle pain)
)

// strictness is the order in which the codes are told, the strictest first.
// Only the part before Glucose is a ranking of heart-rate methods; Glucose and
// Information add to whatever else holds.
var strictness = [...]ZoneCode{
	NoHeartRate, MeasuredOnly, RestOnDrug, Pressure, AllMethods, Glucose, Information,
}

// Strictest returns the code among those given that leaves the least of the
// heart-rate methods, in the order Z3, Z1, Z2, Z4, Z0. Z5 and Z6 say nothing
// about heart rate and do not count: without any other code the answer is Z0.
// A code that does not exist is an error, and then the answer is Z3.
//
// Practice rule: practice.
func Strictest(codes ...ZoneCode) (ZoneCode, error) {
	zones, err := zonesOf(codes)
	if err != nil {
		return NoHeartRate, err
	}
	return zones.Strictest(), nil
}

// Zones is a set of zone codes. The zero Zones is empty, which says as much as
// Z0 alone. Zones compare with ==.
type Zones uint8

// zonesOf collects codes in a set.
func zonesOf(codes []ZoneCode) (Zones, error) {
	var z Zones
	for _, c := range codes {
		bit := c.bit()
		if bit == 0 {
			return z, fmt.Errorf("zone code %q: not one of Z0 to Z6", string(c))
		}
		z |= bit
	}
	return z, nil
}

// bit is the place of the code in a set, and 0 for a code that does not exist.
func (c ZoneCode) bit() Zones {
	for i, known := range strictness {
		if c == known {
			return 1 << i
		}
	}
	return 0
}

// Has reports whether the code is in the set.
func (z Zones) Has(c ZoneCode) bool { return z&c.bit() != 0 }

// Codes returns the codes of the set, the strictest first. Z0 is left out
// where a code that takes something away stands beside it.
func (z Zones) Codes() []ZoneCode {
	var codes []ZoneCode
	for _, c := range strictness {
		if z.Has(c) && (c != AllMethods || z.Strictest() == AllMethods) {
			codes = append(codes, c)
		}
	}
	return codes
}

// Strictest returns the code of the set that leaves the least of the
// heart-rate methods, Z0 if none takes anything away.
//
// Practice rule: practice.
func (z Zones) Strictest() ZoneCode {
	for _, c := range strictness[:4] {
		if z.Has(c) {
			return c
		}
	}
	return AllMethods
}

// WithIrregularPulse returns the set as it stands in atrial fibrillation or any
// other irregular rhythm: no heart-rate method is left, whatever the medicine.
//
// Source: medicine_memory.
func (z Zones) WithIrregularPulse() Zones { return z | NoHeartRate.bit() }

// PredictionValid reports whether a maximum predicted from age may be used.
//
// Practice rule: practice.
func (z Zones) PredictionValid() bool { return !z.Has(MeasuredOnly) && !z.Has(NoHeartRate) }

// HeartRateValid reports whether any heart-rate range may be used, if only one
// from a maximum measured on the medicine.
//
// Practice rule: practice.
func (z Zones) HeartRateValid() bool { return !z.Has(NoHeartRate) }

// String writes the codes as "Z1+Z4", the strictest first, and the empty set
// as Z0.
func (z Zones) String() string {
	text := ""
	for i, c := range z.Codes() {
		if i > 0 {
			text += "+"
		}
		text += string(c)
	}
	if text == "" {
		return string(AllMethods)
	}
	return text
}

// MarshalText writes what String writes.
func (z Zones) MarshalText() ([]byte, error) { return []byte(z.String()), nil }
