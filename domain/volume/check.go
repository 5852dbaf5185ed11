package volume

import (
	"fmt"

	"brae/domain"
	"brae/domain/intensity"
)

// weekMinutes is how many minutes a week has.
const weekMinutes = 7 * 24 * 60

// CheckSession says what is wrong with the minutes of a logged session, and
// what the person has to confirm before it is saved. Each part, and all parts
// together, have 1 to 720 minutes; more than 240 is asked about. Fields are
// minutes for the whole session, parts[0].minutes and parts[0].class for the
// first part. A part without a class is accepted: a session is never refused
// because nobody knows how hard it was. The error is a [domain.Problems].
//
// Practice rule: practice.
func CheckSession(parts []Part, p Policy) (confirm domain.Problems, err error) {
	var problems domain.Problems
	sum := 0
	for i, part := range parts {
		checkPart(&problems, i, part, p)
		sum += part.Minutes
	}
	switch {
	case len(parts) == 0:
		problems.Add("minutes", "Say for how many minutes it was.")
	case problems == nil && sum > p.SessionMost:
		problems.Add("minutes", p.tooLong().String())
	case problems == nil && sum > p.SessionConfirm:
		confirm.Add("minutes", p.long().String())
	}
	return confirm, problems.Err()
}

// CheckWeek says what is wrong with a week's parts and its target, typed in
// together, and what has to be confirmed. Each part needs a class here, since
// the sum is all that is asked for. The target is 1 to 10,080 minutes. The
// error is a [domain.Problems].
//
// Practice rule: practice.
func CheckWeek(parts []Part, target int, p Policy) (confirm domain.Problems, err error) {
	var problems domain.Problems
	sum := 0
	for i, part := range parts {
		checkPart(&problems, i, part, p)
		if part.Class == intensity.None {
			problems.Add(field(i, "class"), "Say how hard it was: very light, light, moderate, vigorous or near-maximal.")
		}
		sum += part.Minutes
	}
	if target < 1 || target > weekMinutes {
		problems.Add("target", fmt.Sprintf("A week's target is 1 to %d minutes.", weekMinutes))
	}
	switch {
	case problems == nil && sum > weekMinutes:
		problems.Add("parts", fmt.Sprintf("Together this is %d minutes; a week has %d.", sum, weekMinutes))
	case problems == nil && sum > p.WeekConfirm:
		confirm.Add("parts", fmt.Sprintf("This is %d minutes in a week, more than %d. Is that right?", sum, p.WeekConfirm))
	}
	return confirm, problems.Err()
}

func checkPart(problems *domain.Problems, i int, part Part, p Policy) {
	if part.Minutes < 1 || part.Minutes > p.SessionMost {
		problems.Add(field(i, "minutes"), p.minutesRange().String())
	}
	if part.Class < intensity.None || part.Class > intensity.NearMaximal {
		problems.Add(field(i, "class"), "There is no such intensity.")
	}
}

// field names a field of the i-th part, counted from 0.
func field(i int, name string) string { return fmt.Sprintf("parts[%d].%s", i, name) }

// Spike reports whether a week's minutes, of any intensity, jump above what the
// client is used to: more than 150 per cent of the mean of the four weeks
// before. With fewer than four weeks to compare with, and for a week of up to
// 60 minutes, it reports false.
//
// Practice rule: practice.
func Spike(minutes int, before []int, p Policy) bool {
	if len(before) < p.SpikeWeeks || minutes <= p.SpikeFloor {
		return false
	}
	sum := 0
	for _, m := range before[len(before)-p.SpikeWeeks:] {
		sum += m
	}
	return minutes*p.SpikeWeeks*100 > sum*p.SpikePercent
}

// CheckDay says why a session cannot be logged for a day: it is still to come, or
// was longer ago than the practice allows when it was logged. A phone may keep a
// session for days, but not for longer than a session may be old. The error is a
// [domain.Problems].
//
// Practice rule: practice.
func CheckDay(day, loggedOn, today domain.Date, p Policy) error {
	if loggedOn.After(today) || today.DaysSince(loggedOn) > p.LogDays {
		loggedOn = today
	}
	var problems domain.Problems
	switch {
	case day.IsZero() || !day.Valid():
		problems.Add("day", "Choose the day.")
	case day.After(today):
		problems.Add("day", "This day is still to come. Choose today or an earlier day.")
	case loggedOn.DaysSince(day) > p.LogDays:
		problems.Add("day", p.tooLate().String())
	}
	return problems.Err()
}

// Silent reports whether somebody has logged nothing for so long that the
// practice looks after them. Who has never logged is silent; the zero Date is no
// log.
//
// Practice rule: practice.
func Silent(last, today domain.Date, p Policy) bool {
	return last.IsZero() || today.DaysSince(last) >= p.SilentDays
}
