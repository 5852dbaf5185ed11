package plan

import (
	"fmt"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/volume"
)

// WeekOf returns the week that a dose makes, all of its sessions alike.
func WeekOf(number int, d Dose) Week { return Week{Number: number, Dose: d, Totals: d.Totals()} }

// Target returns what a week adds up to: all of its minutes where it is light,
// else its moderate-equivalent minutes.
//
// Source: paga2018.
// Practice rule: practice.
func (w Week) Target() volume.Target {
	if w.Dose.Hardest() <= intensity.Light {
		return volume.Target{Minutes: w.Totals.Minutes(), Light: true}
	}
	return volume.Target{Minutes: w.Totals.ModerateEquivalent}
}

// Hardest returns the hardest class that a week asks for.
func (w Week) Hardest() intensity.Class { return max(hardest(w), w.Dose.Hardest()) }

// Under returns the week with its intensity cut to a ceiling. Minutes that are
// harder become minutes at the ceiling; under a ceiling of none none is left.
func (w Week) Under(ceiling intensity.Class) Week {
	if w.Hardest() <= ceiling {
		return w
	}
	w.Dose = w.Dose.Under(ceiling)
	t := w.Totals
	switch {
	case ceiling < intensity.Light:
		w.Totals = volume.Totals{}
	case ceiling < intensity.Moderate:
		w.Totals = volume.Of(volume.Part{Minutes: t.Light + t.Moderate + t.Vigorous, Class: intensity.Light})
	default:
		w.Totals = volume.Sum([]volume.Part{
			{Minutes: t.Light, Class: intensity.Light}, {Minutes: t.Moderate + t.Vigorous, Class: intensity.Moderate},
		})
	}
	return w
}

// Lay numbers weeks from 1 and notes the step from each to the next.
func Lay(weeks []Week) []Week {
	laid := make([]Week, len(weeks))
	for i, w := range weeks {
		w.Number, w.Step = i+1, NoChange
		if i > 0 {
			w.Step = step(laid[i-1].Dose, w.Dose)
		}
		laid[i] = w
	}
	return laid
}

// CheckWeeks returns what cannot be in weeks that were typed by hand:
// [domain.Problems] for numbers outside their range, and [domain.ErrHeld]
// together with problems for what is above the ceiling. Fields are weeks and
// weeks[0].class, sessions, minutes, easy and vigorous of each.
//
// Practice rule: practice.
func CheckWeeks(weeks []Week, ceiling intensity.Class, p Policy) error {
	var problems domain.Problems
	if len(weeks) == 0 || len(weeks) > p.WeeksMost {
		problems.Add("weeks", fmt.Sprintf("A plan has from 1 to %d weeks.", p.WeeksMost))
	}
	for i, w := range weeks {
		checkWeek(&problems, i, w, p)
	}
	if problems != nil {
		return problems
	}
	for i, w := range weeks {
		switch {
		case w.Hardest() <= ceiling:
		case w.Dose.Class > ceiling:
			problems.Add(weekField(i, "class"), "Above what is allowed now. Choose an easier class.")
		default:
			problems.Add(weekField(i, "vigorous"), "Above what is allowed now. Take the vigorous minutes out.")
		}
	}
	if problems != nil {
		return fmt.Errorf("%w: %w", domain.ErrHeld, problems)
	}
	return nil
}

func checkWeek(problems *domain.Problems, i int, w Week, p Policy) {
	d := w.Dose
	switch d.Class {
	case intensity.Light, intensity.Moderate, intensity.Vigorous:
	default:
		problems.Add(weekField(i, "class"), "Choose light, moderate or vigorous.")
	}
	between(problems, weekField(i, "sessions"), d.Sessions, 1, p.SessionsMost)
	between(problems, weekField(i, "minutes"), d.Minutes, 1, p.MinutesMost)
	if d.Minutes < 1 || d.Sessions < 1 {
		return
	}
	between(problems, weekField(i, "easy"), d.Easy, 0, d.Minutes-1)
	switch {
	case d.Class == intensity.Light || d.Class == intensity.Vigorous:
		between(problems, weekField(i, "vigorous"), d.Vigorous, 0, 0)
	default:
		between(problems, weekField(i, "vigorous"), d.Vigorous, 0, d.Sessions*max(d.Minutes-d.Easy, 0))
	}
	if t := w.Totals; t.Light < 0 || t.Moderate < 0 || t.Vigorous < 0 || t.Minutes() > d.Sessions*d.Minutes {
		problems.Add(weekField(i, "minutes"), "The minutes of the week are more than those of its sessions.")
	}
}

func weekField(i int, name string) string { return fmt.Sprintf("weeks[%d].%s", i, name) }
