package volume

import "brae/domain"

// Target is what a client sets out to do in a week.
//
// Source: paga2018.
// Practice rule: practice.
type Target struct {
	Minutes int // a week

	// Light says that light minutes count towards this target. It is so in the
	// light phase, where a client who does all that was asked would otherwise
	// look behind for weeks. Every minute then counts once: nothing is gained
	// by going harder than the phase.
	Light bool
}

// DefaultTarget is the target of a week for which no other was agreed.
//
// Source: paga2018, who2020.
func DefaultTarget(p Policy) Target { return Target{Minutes: p.Target} }

// Done returns how much of a week counts towards the target, in minutes:
// moderate-equivalent minutes, or in the light phase all minutes of light
// intensity and harder.
//
// Practice rule: practice.
func (t Target) Done(week Totals) int {
	if t.Light {
		return week.Light + week.Moderate + week.Vigorous
	}
	return week.ModerateEquivalent
}

// ShortBy returns how many minutes of the target are left, never below zero.
func (t Target) ShortBy(week Totals) int { return ShortBy(t.Minutes, t.Done(week)) }

// ShortBy returns target minus done in minutes, never below zero: what was done
// beyond the target is not owed back.
func ShortBy(target, done int) int { return max(0, target-done) }

// TargetFrom is a target with the first week that it holds for.
type TargetFrom struct {
	Week domain.Date // the week's first day
	Target
}

// TargetOf returns the target of a week: the latest agreed one that holds by
// then, else the default. The order of agreed does not matter; of two for the
// same week the later in the list wins. A past week keeps the target of its
// time.
//
// Source: paga2018.
// Practice rule: practice.
func TargetOf(week domain.Date, agreed []TargetFrom, p Policy) Target {
	target, since := DefaultTarget(p), domain.Date{}
	for _, a := range agreed {
		if a.Week.After(week) || a.Week.Before(since) {
			continue
		}
		target, since = a.Target, a.Week
	}
	return target
}
