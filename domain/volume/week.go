package volume

import (
	"time"

	"brae/domain"
)

// WeekOf returns the first day of the week that a session belongs to: the week
// of the instant it started, in the zone it was logged in. A session over
// midnight belongs whole to the day it started on.
//
// Source: iso8601.
// Practice rule: practice.
func WeekOf(started time.Time, zone *time.Location, start time.Weekday) domain.Date {
	return domain.DateOf(started, zone).Week(start)
}

// Weeks returns the first days of all weeks that touch the days from first to
// last, both included; none if last is before first. A calendar year touches 53
// or 54 of them. Weeks are counted in days, never in hours: one with a change
// to or from summer time has 167 or 169.
//
// Source: iso8601.
func Weeks(first, last domain.Date, start time.Weekday) []domain.Date {
	if last.Before(first) { // though they may be in the same week
		return nil
	}
	var weeks []domain.Date
	for week := first.Week(start); !week.After(last); week = week.AddDays(7) {
		weeks = append(weeks, week)
	}
	return weeks
}

// DaysLeft returns how many days the week still has on that day, the day
// included: 7 on its first day, 1 on its last.
func DaysLeft(today domain.Date, start time.Weekday) int {
	return 7 - today.DaysSince(today.Week(start))
}

// Entry is a part with the local day on which its session started.
type Entry struct {
	Day domain.Date
	Part
}

// ByWeek adds every entry to the totals of its week: into[i] is the week that
// begins 7*i days after first. It returns how many entries lie outside of these
// weeks and were not added. It allocates nothing, so that a year of weeks can
// be summed for each client of a list.
func ByWeek(into []Totals, first domain.Date, entries []Entry) (outside int) {
	var (
		from = dayNumber(first)
		day  domain.Date
		week = -1
	)
	for i := range entries {
		e := &entries[i]
		if e.Day != day { // the parts of a session come together, on one day
			day, week = e.Day, -1
			if n := dayNumber(day) - from; n >= 0 {
				week = n / 7
			}
		}
		if week < 0 || week >= len(into) {
			outside++
			continue
		}
		into[week].count(e.Part)
	}
	return outside
}

// dayNumber counts days of the Gregorian calendar from a fixed day. Years begin
// in March here, so that the leap day is the last of its year. It gives what
// [domain.Date.DaysSince] gives, at a tenth of the price.
func dayNumber(d domain.Date) int {
	y, m := d.Year, int(d.Month)
	if m < 3 {
		y, m = y-1, m+12
	}
	return 365*y + y/4 - y/100 + y/400 + (153*m-457)/5 + d.Day
}
