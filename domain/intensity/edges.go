package intensity

import "fmt"

// Method is a way of putting work in relation to what a person can do. Each has
// its own edges between the classes; they are never mixed within one zone.
type Method uint8

// The four relative methods of the ACSM 2011 scheme.
//
// Source: garber2011.
const (
	Reserve       Method = iota // of the heart-rate reserve, above resting
	OxygenReserve               // of the oxygen-uptake reserve, above resting
	Maximum                     // of the maximal heart rate
	OxygenMaximum               // of the maximal oxygen uptake
)

var methodNames = [...]string{"heart_rate_reserve", "oxygen_uptake_reserve", "maximal_heart_rate", "maximal_oxygen_uptake"}

// lowEdges has the whole per cent at which each class starts, from light.
// The tables print closed ranges of whole per cent (40-59); they are read half
// open, so that 59.5 % is moderate and 60 % vigorous.
var lowEdges = [...][4]int{
	Reserve:       {30, 40, 60, 90},
	OxygenReserve: {30, 40, 60, 90},
	Maximum:       {57, 64, 77, 96},
	OxygenMaximum: {37, 46, 64, 91},
}

// Methods returns the four methods.
func Methods() []Method { return []Method{Reserve, OxygenReserve, Maximum, OxygenMaximum} }

// String returns the name of the method.
func (m Method) String() string {
	if int(m) < len(methodNames) {
		return methodNames[m]
	}
	return fmt.Sprintf("Method(%d)", uint8(m))
}

// From returns the whole per cent at which a class starts, itself included. Very
// light, which has no lower edge, and None give 0.
//
// Source: garber2011, acsm_10_column, bjsm_acsm_table.
func (m Method) From(c Class) int {
	if c < Light || c > NearMaximal {
		return 0
	}
	return lowEdges[m][c-Light]
}

// Width returns how many whole per cent there are from where a class starts to where
// the next one does: 20 of the reserve for moderate. It is 0 for a class without both
// edges.
//
// Source: garber2011.
func (m Method) Width(c Class) int {
	if c < Light || c >= NearMaximal {
		return 0
	}
	return m.From(c+1) - m.From(c)
}

// Of returns the class of the share part/whole, compared exactly: no division and
// no rounding. The whole must be above zero. A share below nothing is very light
// and one above the whole is near-maximal: both occur in real logs.
//
// Source: garber2011.
func (m Method) Of(part, whole int64) Class {
	for c := NearMaximal; c >= Light; c-- {
		if 100*part >= int64(lowEdges[m][c-Light])*whole {
			return c
		}
	}
	return VeryLight
}
