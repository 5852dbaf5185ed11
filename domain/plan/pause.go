package plan

import (
	"fmt"

	"brae/domain"
	"brae/domain/volume"
)

// Pause is a stretch of days in which the plan waits.
type Pause struct {
	From  domain.Date
	To    domain.Date // last day; zero while nobody knows
	Cause Cause       // NoCause is any other reason
}

// Covers reports whether a day is in the pause.
func (ps Pause) Covers(day domain.Date) bool {
	return !day.Before(ps.From) && (ps.To.IsZero() || !day.After(ps.To))
}

// CheckPause returns [domain.Problems] for a pause that cannot be: it ends before
// it begins, or begins too far from today. Fields are from, to and cause.
//
// Practice rule: practice.
func CheckPause(ps Pause, today domain.Date, p Policy) error {
	var problems domain.Problems
	if far := 7 * p.WeeksMost; ps.From.IsZero() || today.DaysSince(ps.From) > far || ps.From.DaysSince(today) > far {
		problems.Add("from", fmt.Sprintf("A pause begins on a day at most %d weeks from today.", p.WeeksMost))
	}
	if !ps.To.IsZero() && ps.To.Before(ps.From) {
		problems.Add("to", "The last day is not before the first.")
	}
	switch ps.Cause {
	case NoCause, Holiday, Illness, Injury, Hospital, NewMedicine:
	default:
		problems.Add("cause", "Choose why.")
	}
	return problems.Err()
}

// OpenDays returns on how many days of the week that begins on a day nothing is
// paused, from 0 to 7.
func OpenDays(week domain.Date, pauses []Pause) int {
	open := 0
	for i := range 7 {
		day, paused := week.AddDays(i), false
		for _, ps := range pauses {
			paused = paused || ps.Covers(day)
		}
		if !paused {
			open++
		}
	}
	return open
}

// Share returns what is left of a week's sessions and target with so many open
// days: a paused week asks for nothing, and nobody is behind because of it.
//
// Practice rule: practice.
func Share(sessions int, target volume.Target, openDays int) (int, volume.Target) {
	openDays = max(0, min(openDays, 7))
	target.Minutes = target.Minutes * openDays / 7
	return (sessions*openDays + 6) / 7, target
}
