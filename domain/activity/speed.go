package activity

// Unit is a unit of distance.
type Unit string

// The units. A mile is 1.609344 km exactly.
//
// Source: international yard and pound agreement of 1959: a yard is 0.9144 m, and
// a mile has 1,760 of them.
const (
	Kilometres Unit = "km"
	Miles      Unit = "miles"
)

const (
	millimetresAMile = 1_609_344
	millimetresAKm   = 1_000_000
)

// Manner is how exactly a speed is meant.
type Manner string

// The manners. A zero Speed has none.
const (
	Exactly Manner = "exactly" // from Low to High
	About   Manner = "about"
	Below   Manner = "below"
)

// Speed is how fast an activity is done. The compendium gives miles an hour.
//
// Source: ainsworth2011, herrmann2024.
type Speed struct {
	Manner    Manner
	Low, High int // tenths of a mile an hour, the same for one speed
}

// In returns the speed in tenths of a unit an hour, rounded to the tenth.
func (s Speed) In(u Unit) (low, high int) { return tenths(s.Low, u), tenths(s.High, u) }

func tenths(mph int, u Unit) int {
	if u == Miles {
		return mph
	}
	return (mph*millimetresAMile + millimetresAKm/2) / millimetresAKm
}

// Pace returns the seconds for a unit at the lower speed, rounded to the second,
// and 0 for no speed.
func (s Speed) Pace(u Unit) (seconds int) {
	if s.Low == 0 {
		return 0
	}
	// An hour over the speed: 36,000 s over tenths of a mile, each of so many mm.
	unit := millimetresAMile
	if u == Kilometres {
		unit = millimetresAKm
	}
	mile := s.Low * millimetresAMile
	return (36_000*unit + mile/2) / mile
}
