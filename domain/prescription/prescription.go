// Package prescription has what a signed prescription is made of beyond its zones:
// the method that carries its intensity, and when it no longer fits the person it was
// signed for.
package prescription

import (
	"brae/domain/heartrate"
)

// Method is what the client goes by to hit the intensity. The talk test stands
// beside each of them.
type Method string

// The methods.
//
// Source: garber2011, cdc_talk, karvonen1957, swain1997, acsm_equations.
const (
	Talk     Method = "talk"     // talk test
	Effort   Method = "effort"   // perceived exertion, 6 to 20
	Reserve  Method = "reserve"  // heart-rate reserve
	Maximum  Method = "maximum"  // per cent of the maximal heart rate
	Oxygen   Method = "oxygen"   // oxygen-uptake reserve
	Workload Method = "workload" // speed, grade, watts, steps from the energy equations
)

// Methods returns all methods, the one that always holds first.
func Methods() []Method { return []Method{Talk, Effort, Reserve, Maximum, Oxygen, Workload} }

// Valid reports whether there is such a method.
func (m Method) Valid() bool {
	switch m {
	case Talk, Effort, Reserve, Maximum, Oxygen, Workload:
		return true
	}
	return false
}

// Known is what methods need beside the class.
type Known struct {
	Basis  heartrate.Basis // of heart-rate ranges
	Open   bool            // the class has a range by the method
	Oxygen bool            // a maximal oxygen uptake is on file
	Works  int             // kinds of work that the equations reach in the class
}

// WhyNot says in a sentence why a class cannot be prescribed by the method; nothing
// if it can. Heart rates need a valid basis and a range that is open; oxygen uptake
// and work need a maximal oxygen uptake. Talk test and perceived exertion always hold.
//
// Source: garber2011.
// Practice rule: practice.
func (m Method) WhyNot(k Known) string {
	switch m {
	case Reserve, Maximum:
		if !k.Basis.Valid() {
			return "There is no valid basis for a heart-rate range. Choose the talk test or perceived exertion."
		}
		if !k.Open {
			return "This class has no heart-rate range by this method. Choose the talk test or perceived exertion."
		}
	case Oxygen:
		if !k.Oxygen {
			return "No test on file gives a maximal oxygen uptake. Test first, or choose the talk test."
		}
	case Workload:
		if !k.Oxygen {
			return "Work is worked out from a maximal oxygen uptake, and no test on file gives one. Test first, or choose the talk test."
		}
		if k.Works == 0 {
			return "No work of this class lies where the energy equations were made for. Choose the talk test."
		}
	}
	return ""
}
