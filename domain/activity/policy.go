package activity

import (
	"brae/domain/intensity"
	"brae/domain/source"
)

// Policy holds the practice's settings of this package, and those of package
// intensity that say which METs can be typed.
type Policy struct {
	WeightLowKg  int // a body weight below this is refused
	WeightHighKg int // a body weight above this is refused
	Intensity    intensity.Policy
}

var (
	weightLow = source.Setting{
		Key: "activity.weight_low", Topic: source.TopicActivity, Unit: "kg", Default: 20, Low: 10, High: 40,
		Says:  "A body weight below this is taken for a slip of typing, such as stones for kilograms, and refused.",
		Cites: []source.Key{"practice"},
	}
	weightHigh = source.Setting{
		Key: "activity.weight_high", Topic: source.TopicActivity, Unit: "kg", Default: 400, Low: 200, High: 650,
		Says:  "A body weight above this is taken for a slip of typing, such as pounds for kilograms, and refused.",
		Cites: []source.Key{"practice"},
	}
)

// Settings are the numbers of this package that a practice may change.
var Settings = []source.Setting{weightLow, weightHigh}

// PolicyFrom returns the settings in use; PolicyFrom(nil) has the defaults.
//
// Practice rule: practice.
func PolicyFrom(v source.Values) Policy {
	return Policy{
		WeightLowKg:  v.Of(weightLow),
		WeightHighKg: v.Of(weightHigh),
		Intensity:    intensity.PolicyFrom(v),
	}
}
