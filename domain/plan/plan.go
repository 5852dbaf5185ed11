// Package plan holds the ladder that takes a client from light to moderate to
// vigorous work over months: the weeks of a plan, the phases and what they ask
// for, how a client stands, the one step to suggest next, and the way back after
// a break.
//
// A plan changes one part of the prescription at a time: the time of a session
// before the number of sessions, and both before the intensity. Whether vigorous
// work is allowed today is not decided here but by the gate in package clearance;
// here the ceiling is given, and nothing goes above it.
package plan

import (
	"brae/domain/intensity"
	"brae/domain/source"
	"brae/domain/volume"
)

// Component is the part of a prescription that a step changes.
type Component string

// The components, in the order in which a plan changes them.
//
// Source: getp10, garber2011.
const (
	NoChange  Component = ""
	Time      Component = "time"
	Frequency Component = "frequency"
	Intensity Component = "intensity"
)

// Dose is what a week of a plan asks for.
type Dose struct {
	Class    intensity.Class // of the work, apart from Easy and Vigorous minutes
	Sessions int             // a week
	Minutes  int             // of each session, all of it
	Easy     int             // of these, minutes at light: warm-up and cool-down
	Vigorous int             // of all the week's minutes, vigorous ones within sessions of an easier class
}

// Prescribed returns the dose that a prescription asks for: all of it in the class
// signed, or, with so many vigorous minutes a week, those within moderate work.
func Prescribed(signed intensity.Class, sessions, minutes, vigorous int) Dose {
	if vigorous > 0 {
		signed = min(signed, intensity.Moderate)
	}
	return Dose{Class: signed, Sessions: sessions, Minutes: minutes, Vigorous: vigorous}
}

// Totals returns the minutes of a week of the dose.
//
// Source: paga2018.
func (d Dose) Totals() volume.Totals {
	return volume.Sum([]volume.Part{
		{Minutes: d.Easy * d.Sessions, Class: intensity.Light},
		{Minutes: (d.Minutes-d.Easy)*d.Sessions - d.Vigorous, Class: d.Class},
		{Minutes: d.Vigorous, Class: intensity.Vigorous},
	})
}

// Hardest returns the hardest class that the dose asks for.
func (d Dose) Hardest() intensity.Class {
	if d.Vigorous > 0 {
		return max(d.Class, intensity.Vigorous)
	}
	return d.Class
}

// Under returns the dose with its intensity cut to a ceiling. Under a ceiling of
// none there is no session left.
func (d Dose) Under(ceiling intensity.Class) Dose {
	if ceiling == intensity.None {
		return Dose{}
	}
	if ceiling < intensity.Vigorous {
		d.Vigorous = 0
	}
	d.Class = min(d.Class, ceiling)
	return d
}

// Changes returns which components differ between two doses, in the order of
// change. Minutes of a class that come or go with the number of sessions or their
// length are no change of intensity; more or less warm-up and cool-down is one.
func Changes(a, b Dose) []Component {
	var c []Component
	if a.Minutes != b.Minutes {
		c = append(c, Time)
	}
	if a.Sessions != b.Sessions {
		c = append(c, Frequency)
	}
	if a.Class != b.Class || a.Vigorous != b.Vigorous || a.Easy != b.Easy {
		c = append(c, Intensity)
	}
	return c
}

// Week is one rung of a plan.
type Week struct {
	Number int           // 1 is the first of the plan
	Dose   Dose          // where sessions differ, Minutes are those of the longest
	Totals volume.Totals // of the sessions as they are
	Step   Component     // what differs from the week before; NoChange if nothing or more than one does
}

// Plan is a ladder of weeks.
type Plan struct {
	Preset   string // empty if built from the start
	Weeks    []Week
	Reached  int       // number of the first week that reaches the goal; 0 if none does
	Notes    []Reason  // what to know before using it
	Warnings []Warning // what a practitioner must have wanted
	Sources  []source.Key
}

// Reason is why something is so, with the number it hangs on where there is one.
type Reason struct {
	Code string
	Have int // the number found
	Need int // the number asked for, or the limit
}
