package plan

import "brae/domain/intensity"

// Warning is something in a week of a plan that a practitioner must have
// wanted. Only WarnCeiling forbids the plan.
type Warning struct {
	Week int // its number
	Reason
}

// The codes of warnings.
const (
	WarnCeiling       = "above_ceiling"  // the week asks for more than the ceiling allows
	WarnTwoParts      = "two_parts"      // Have: how many components changed at once, Need: 1
	WarnSteep         = "steep_time"     // Have: minutes that sessions grew by, Need: the most in a week
	WarnEarlyVigorous = "early_vigorous" // Have: week of the programme, Need: the first for vigorous work
	WarnVigorousShare = "vigorous_share" // Have: vigorous per cent of the week's minutes, Need: the most in the first weeks
)

// Warnings returns what is unusual about the weeks of a plan, by week. They may
// have been typed by hand. behind is how many weeks of the programme were over
// before the first. A plan that is vigorous from its first week on is taken for
// that of a client who is used to it: its vigorous work is not introduced, so
// only the ceiling is minded.
//
// Source: getp10, toronto_rehab.
// Practice rule: practice.
func Warnings(weeks []Week, ceiling intensity.Class, behind int, p Policy) []Warning {
	var all []Warning
	warn := func(w Week, code string, have, need int) {
		all = append(all, Warning{w.Number, Reason{code, have, need}})
	}
	used := len(weeks) > 0 && weeks[0].Dose.Class >= intensity.Vigorous
	introduced := 0
	for i, w := range weeks {
		if hardest(w) > ceiling {
			warn(w, WarnCeiling, int(hardest(w)), int(ceiling))
		}
		if i > 0 {
			before := weeks[i-1].Dose
			if n := len(Changes(before, w.Dose)); n > 1 {
				warn(w, WarnTwoParts, n, 1)
			}
			if grown := w.Dose.Minutes - before.Minutes; grown > p.SteepTime {
				warn(w, WarnSteep, grown, p.SteepTime)
			}
		}
		if used || w.Totals.Vigorous == 0 {
			continue
		}
		introduced++
		if week := behind + i + 1; week < p.VigorousFrom {
			warn(w, WarnEarlyVigorous, week, p.VigorousFrom)
		}
		hard, minutes := w.Totals.Vigorous, w.Totals.Minutes()
		if introduced <= p.VigorousShareWeeks && hard*100 > p.VigorousShare*minutes {
			warn(w, WarnVigorousShare, hard*100/minutes, p.VigorousShare)
		}
	}
	return all
}

// hardest returns the hardest class that a week has minutes of.
func hardest(w Week) intensity.Class {
	switch {
	case w.Totals.Vigorous > 0:
		return intensity.Vigorous
	case w.Totals.Moderate > 0:
		return intensity.Moderate
	case w.Totals.Minutes() > 0:
		return intensity.Light
	}
	return intensity.None
}

// RunningJump reports whether a week's running minutes grew by more than 30 per
// cent over the mean of the two weeks before. Without any running before it
// reports false: there is nothing to compare with. It is a soft warning. A ten
// per cent rule made no difference in its randomised trial.
//
// Source: buist2008.
// Practice rule: practice.
func RunningJump(minutes int, before [2]int, p Policy) bool {
	sum := before[0] + before[1]
	return sum > 0 && minutes*2*100 > sum*(100+p.RunningJump)
}
