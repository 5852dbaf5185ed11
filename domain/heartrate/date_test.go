package heartrate

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"brae/domain"
)

// The quick answers about days are those of the calendar.
func TestQuickDates(t *testing.T) {
	if inCalendar(domain.Date{}) {
		t.Error("no day is in the calendar")
	}
	day := rapid.Custom(func(t *rapid.T) domain.Date {
		return domain.NewDate(rapid.IntRange(2019, 2029).Draw(t, "year"), time.Month(rapid.IntRange(-1, 14).Draw(t, "month")), rapid.IntRange(-1, 33).Draw(t, "day"))
	})
	rapid.Check(t, func(t *rapid.T) {
		a, b, n := day.Draw(t, "a"), day.Draw(t, "b"), rapid.IntRange(0, 24).Draw(t, "n")
		if got := inCalendar(a); got != a.Valid() {
			t.Fatalf("inCalendar(%v) = %t", a, got)
		}
		if !a.Valid() || !b.Valid() {
			return
		}
		if got, want := monthsLater(a, b, n), a.After(b.AddMonths(n)); got != want {
			t.Fatalf("monthsLater(%s, %s, %d) = %t; want %t", a, b, n, got, want)
		}
		if got, want := later(a, b), a.After(b); got != want {
			t.Fatalf("later(%s, %s) = %t; want %t", a, b, got, want)
		}
	})
	short := domain.NewDate(2025, time.January, 31)
	for d, want := range map[domain.Date]bool{
		domain.NewDate(2025, time.February, 28): false, domain.NewDate(2025, time.March, 1): true, domain.NewDate(2025, time.February, 27): false,
	} {
		if got := monthsLater(d, short, 1); got != want {
			t.Errorf("%s a month after %s: %t", d, short, got)
		}
	}
}
