package volume

import (
	"fmt"
	"time"

	"brae/domain"
)

// Clock is what a phone says of the time, for a session that it kept until it
// had a connection. Zero instants are not known.
type Clock struct {
	Logged time.Time // when the person saved it, in the phone's own zone
	Sent   time.Time // when the phone sent it
}

// LoggedOn returns the practice's day on which a session was logged, as far as
// the phone's clock can be believed, and a doubt about the day if that clock is
// off and would have put the session on another one. A clock that is a little
// off, or off without consequence, raises none. What cannot be known is not
// doubted: a clock is found to be off by when it says it sends, or because it
// says that it logged in the future.
//
// Practice rule: practice.
func (c Clock) LoggedOn(day domain.Date, now time.Time, zone *time.Location, p Policy) (domain.Date, domain.Problems) {
	today := domain.DateOf(now, zone)
	if c.Logged.IsZero() {
		return today, nil
	}
	var off time.Duration // how far the phone's clock is ahead
	switch {
	case !c.Sent.IsZero():
		off = c.Sent.Sub(now)
	case c.Logged.After(now):
		off = c.Logged.Sub(now)
	}
	tolerance := time.Duration(p.ClockMinutes) * time.Minute
	if off.Abs() <= tolerance {
		off = 0
	}
	logged := c.Logged.Add(-off)
	if logged.After(now) {
		logged = now
	}
	on := domain.DateOf(logged, zone)
	said := domain.DateOf(c.Logged, c.Logged.Location())
	var doubts domain.Problems
	if off != 0 && day == said && said != on {
		way := "ahead"
		if off < 0 {
			way = "behind"
		}
		doubts.Add("day", fmt.Sprintf("The clock of your phone was %s %s. By ours you logged this on %s. Was the session really on %s?",
			span(off.Abs()), way, dayWords(on), dayWords(said)))
	}
	return on, doubts
}

func dayWords(d domain.Date) string { return d.Time().Format("Monday 2 January") }

// span is a length of time in words, rounded to its largest unit.
func span(d time.Duration) string {
	unit, n := "minute", int(d.Round(time.Minute)/time.Minute)
	switch {
	case d >= 48*time.Hour:
		unit, n = "day", int(d.Round(24*time.Hour)/(24*time.Hour))
	case d >= 90*time.Minute:
		unit, n = "hour", int(d.Round(time.Hour)/time.Hour)
	}
	if n != 1 {
		unit += "s"
	}
	return fmt.Sprintf("%d %s", n, unit)
}
