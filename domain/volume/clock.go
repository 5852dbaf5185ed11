package volume

import (
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
		doubts.Add("day", clockDoubt)
	}
	return on, doubts
}

// clockDoubt asks about the day of a session.
const clockDoubt = "The clock of your phone was wrong, so the day may be wrong, too. Is it right?"
