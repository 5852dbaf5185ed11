package prescription

import (
	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/source"
)

// Ending is what a prescription comes to its end by.
type Ending string

// The endings, and what keeps a week of a plan from being covered.
const (
	ByScreening Ending = "screening" // it counts no more
	ByDoctor    Ending = "doctor"    // the decision that it was signed on lapses
	ByClass     Ending = "class"     // the plan asks for more than is prescribed
)

// End is the first day on which a prescription does not hold any more unless it is
// confirmed. Without a day nothing ends it by itself.
type End struct {
	On domain.Date
	By Ending
}

// Ends returns when a prescription ends by itself: on the day on which the screening it
// rests on counts no more, or on which a doctor's decision does (with one by phone that
// is when it was to be confirmed in writing), whichever comes first. A day that is not
// known is zero.
//
// Source: riebe2015. Practice rule: practice.
func Ends(screening, decision domain.Date) End {
	if decision.IsZero() || !screening.IsZero() && !decision.Before(screening) {
		if screening.IsZero() {
			return End{}
		}
		return End{screening, ByScreening}
	}
	return End{decision, ByDoctor}
}

// Uncovered returns why a week of a plan has to be confirmed before it is done, empty if
// it has not: it begins after the end of the prescription, or asks for a harder class
// than is prescribed. What is done until then is never harder than prescribed.
//
// Practice rule: practice.
func (e End) Uncovered(first domain.Date, asks, prescribed intensity.Class) Ending {
	switch {
	case !e.On.IsZero() && !first.Before(e.On):
		return e.By
	case asks > prescribed:
		return ByClass
	}
	return ""
}

var ruleEnd = source.Rule{
	ID: "prescription.end", Topic: source.TopicIntensity, Cites: []source.Key{"riebe2015", "practice"},
	Says: "A prescription ends with the screening that it rests on, or with the doctor's decision if that lapses first: one by phone does when it is not confirmed in writing in time. Weeks of a plan that begin later, " +
		"or that ask for a harder class than is prescribed, are to be confirmed: they are shown so, and nothing harder is done until then.",
}
