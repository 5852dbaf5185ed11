package plan

import "brae/domain/intensity"

// NextSession is one session of a week as it is to be done.
type NextSession struct {
	Class    intensity.Class // of the work; None is no session
	Minutes  int             // all of it
	Easy     int             // of these, minutes at light to begin and to end with
	Vigorous int             // of these, vigorous minutes within the work of an easier class
}

// Next returns the session that comes next in a week of the dose in which so many
// vigorous minutes are done already. Each session has its even share of the
// week's vigorous minutes, rounded up: what was left out is not made up for in
// one session.
//
// Practice rule: practice.
func (d Dose) Next(vigorous int) NextSession {
	if d.Sessions <= 0 || d.Minutes <= 0 || d.Class < intensity.Light {
		return NextSession{}
	}
	share := (d.Vigorous + d.Sessions - 1) / d.Sessions
	return NextSession{
		Class: d.Class, Minutes: d.Minutes, Easy: d.Easy,
		Vigorous: max(0, min(share, d.Vigorous-vigorous, d.Minutes-d.Easy)),
	}
}

// Hardest returns the hardest class in the session.
func (s NextSession) Hardest() intensity.Class {
	if s.Vigorous > 0 {
		return max(s.Class, intensity.Vigorous)
	}
	return s.Class
}

// Under returns the session cut to a ceiling: as long as before, with what is
// allowed in the place of what is not. Nothing is left of it below light.
//
// Practice rule: practice.
func (s NextSession) Under(ceiling intensity.Class) NextSession {
	if ceiling < intensity.Light {
		return NextSession{}
	}
	if ceiling < intensity.Vigorous {
		s.Vigorous = 0
	}
	s.Class = min(s.Class, ceiling)
	return s
}
