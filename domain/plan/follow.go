package plan

import "brae/domain/intensity"

// Follow returns the weeks from the present one on when its dose becomes another.
// ahead are the plan's weeks from the present one on; of in.Start only Behind and
// InPhase are used, what was over before the present week. If a later week of the plan asks
// for just that dose, the plan goes on from there. Else the weeks are built
// anew from the dose, one part at a time and never above in.Ceiling. The dose is
// kept for at least hold weeks. There are in.Weeks weeks, but four at least.
//
// Source: getp10, garber2011.
// Practice rule: practice.
func Follow(ahead []Week, to Dose, hold int, in Input, p Policy) []Week {
	n := max(in.Weeks, 4)
	hold = max(1, min(hold, n))
	var all []Week
	for range hold {
		all = append(all, WeekOf(0, to))
	}
	for i, w := range ahead {
		if w.Dose == to && allUnder(ahead[i:], in.Ceiling) {
			all = append(all, ahead[i+1:]...)
			for len(all) < n {
				all = append(all, all[len(all)-1])
			}
			return Lay(all[:n])
		}
	}
	if to.Class < intensity.Light || to.Class > in.Ceiling {
		return Lay(all)
	}
	in.Start = Start{Class: to.Class, Sessions: to.Sessions, Minutes: to.Minutes, Behind: in.Start.Behind + hold - 1, InPhase: in.Start.InPhase + hold - 1}
	c := climb{in: in, p: p, moved: 1}
	c.add(to)
	for len(c.weeks) < n-hold+1 {
		c.add(c.next())
	}
	return Lay(append(all, c.weeks[1:]...))
}

func allUnder(weeks []Week, ceiling intensity.Class) bool {
	for _, w := range weeks {
		if w.Hardest() > ceiling {
			return false
		}
	}
	return true
}
