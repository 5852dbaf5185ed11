package domain

import (
	"cmp"
	"fmt"
	"time"
)

// Date is a calendar day, without an hour and without a zone. The zero Date is
// no day. Dates compare with ==.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// NewDate returns the day of that year, month and day of the month, as typed:
// use [Date.Valid] where the parts may not fit together.
func NewDate(year int, month time.Month, day int) Date {
	return Date{Year: year, Month: month, Day: day}
}

// DateOf returns the day that an instant falls on in a zone.
func DateOf(t time.Time, zone *time.Location) Date {
	y, m, d := t.In(zone).Date()
	return Date{y, m, d}
}

// ParseDate reads a day written as 2006-01-02 (ISO 8601). It refuses days that
// no calendar has, such as 30 February.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return Date{}, fmt.Errorf("date %q is not written as year-month-day", s)
	}
	return DateOf(t, time.UTC), nil
}

// Time returns midnight UTC of the day, for formatting and for storage.
func (d Date) Time() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// IsZero reports whether d is no day.
func (d Date) IsZero() bool { return d == Date{} }

// Valid reports whether the calendar has the day.
func (d Date) Valid() bool { return DateOf(d.Time(), time.UTC) == d }

// Words writes the day as it stands in a sentence, 2 January 2006, and the zero Date
// as nothing.
func (d Date) Words() string {
	if d.IsZero() {
		return ""
	}
	return d.Time().Format("2 January 2006")
}

// String writes the day as 2006-01-02, and the zero Date as nothing.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return d.Time().Format(time.DateOnly)
}

// MarshalText writes the day as 2006-01-02.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (d *Date) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*d = Date{}
		return nil
	}
	parsed, err := ParseDate(string(text))
	if err != nil {
		return err
	}
	*d = parsed
	return nil
}

// AddDays returns the day n days later, or earlier if n is negative.
func (d Date) AddDays(n int) Date { return DateOf(d.Time().AddDate(0, 0, n), time.UTC) }

// AddMonths returns the same day of the month n months later. A month that is
// too short gives its last day: a year after 29 February is 28 February, as
// PostgreSQL has it and unlike [time.Time.AddDate].
func (d Date) AddMonths(n int) Date {
	first := time.Date(d.Year, d.Month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return Date{first.Year(), first.Month(), min(d.Day, last)}
}

// Before reports whether d is earlier than e.
func (d Date) Before(e Date) bool { return d.DaysSince(e) < 0 }

// After reports whether d is later than e.
func (d Date) After(e Date) bool { return d.DaysSince(e) > 0 }

// DaysSince returns the number of days from e to d, negative if e is later.
func (d Date) DaysSince(e Date) int {
	return int(d.Time().Sub(e.Time()) / (24 * time.Hour)) // UTC has no 23-hour days
}

// Weekday returns the day of the week.
func (d Date) Weekday() time.Weekday { return d.Time().Weekday() }

// Week returns the first day of the week that d is in, where weeks start on
// the given day: Monday by ISO 8601, Sunday in some places. The first day names
// a week; week numbers do not, since they start again within a week at New Year.
func (d Date) Week(start time.Weekday) Date {
	return d.AddDays(-int((d.Weekday() - start + 7) % 7))
}

// AgeOn returns the completed years of somebody born on d, on the given day. Who
// was born on 29 February completes a year on 1 March of a common year.
func (d Date) AgeOn(today Date) int {
	years := today.Year - d.Year
	if today.Month < d.Month || today.Month == d.Month && today.Day < d.Day {
		years--
	}
	return years
}

// Compare returns -1, 0 or 1 if d is before, the same as or after e.
func (d Date) Compare(e Date) int { return cmp.Compare(d.DaysSince(e), 0) }
