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
