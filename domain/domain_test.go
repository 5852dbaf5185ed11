package domain_test

import (
	"errors"
	"testing"
	"time"

	"pgregory.net/rapid"

	"brae/domain"
)

func TestWeek(t *testing.T) {
	for _, tt := range []struct{ source, day, monday, sunday string }{
		{"ISO 8601: Sunday ends week 52", "2026-12-27", "2026-12-21", "2026-12-27"},
		{"ISO 8601: week 53 of 2026 begins", "2026-12-28", "2026-12-28", "2026-12-27"},
		{"ISO 8601: New Year in week 53", "2027-01-01", "2026-12-28", "2026-12-27"},
		{"ISO 8601: week 53 ends", "2027-01-03", "2026-12-28", "2027-01-03"},
		{"ISO 8601: week 1 of 2027 begins", "2027-01-04", "2027-01-04", "2027-01-03"},
		{"ISO 8601: in week 1 of the next year", "2024-12-30", "2024-12-30", "2024-12-29"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			day := mustDate(t, tt.day)
			if got := day.Week(time.Monday).String(); got != tt.monday {
				t.Errorf("%s.Week(Monday) = %s; want %s", day, got, tt.monday)
			}
			if got := day.Week(time.Sunday).String(); got != tt.sunday {
				t.Errorf("%s.Week(Sunday) = %s; want %s", day, got, tt.sunday)
			}
		})
	}
}

func TestAddMonths(t *testing.T) {
	for _, tt := range []struct {
		source, day string
		months      int
		want        string
	}{
		{"PostgreSQL: date '2027-01-31' + interval '1 month'", "2027-01-31", 1, "2027-02-28"},
		{"PostgreSQL: date '2028-02-29' + interval '1 year'", "2028-02-29", 12, "2029-02-28"},
		{"PostgreSQL: date '2026-11-25' + interval '12 months'", "2026-11-25", 12, "2027-11-25"},
		{"PostgreSQL: date '2026-01-15' - interval '1 month'", "2026-01-15", -1, "2025-12-15"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := mustDate(t, tt.day).AddMonths(tt.months).String(); got != tt.want {
				t.Errorf("%s.AddMonths(%d) = %s; want %s", tt.day, tt.months, got, tt.want)
			}
		})
	}
}

func TestAgeOn(t *testing.T) {
	for _, tt := range []struct {
		source, birth, today string
		want                 int
	}{
		{"PostgreSQL age(): the day before the birthday", "1966-11-26", "2026-11-25", 59},
		{"PostgreSQL age(): the birthday", "1966-11-25", "2026-11-25", 60},
		{"PostgreSQL age(): born on 29 February, 28 February", "1960-02-29", "2027-02-28", 66},
		{"PostgreSQL age(): born on 29 February, 1 March", "1960-02-29", "2027-03-01", 67},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := mustDate(t, tt.birth).AgeOn(mustDate(t, tt.today)); got != tt.want {
				t.Errorf("born %s: age on %s = %d; want %d", tt.birth, tt.today, got, tt.want)
			}
		})
	}
}

func TestDateOf(t *testing.T) {
	newYork, err := time.LoadLocation("America/New_York")
	if err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 11, 23, 2, 30, 0, 0, time.UTC)
	if got, want := domain.DateOf(at, newYork).String(), "2026-11-22"; got != want {
		t.Errorf("02:30 UTC on Monday is %s in New York; want %s, Sunday evening", got, want)
	}
}

func TestParseDateRefuses(t *testing.T) {
	for _, s := range []string{"", "2026-02-30", "2026-13-01", "25.11.2026", "2026-1-1", " 2026-01-01", "2026-01-01T00:00:00Z"} {
		if d, err := domain.ParseDate(s); err == nil {
			t.Errorf("ParseDate(%q) = %s; want an error", s, d)
		}
	}
}

func TestDateProperties(t *testing.T) {
	date := rapid.Custom(func(t *rapid.T) domain.Date {
		return domain.NewDate(1900, 1, 1).AddDays(rapid.IntRange(0, 90000).Draw(t, "day"))
	})
	rapid.Check(t, func(t *rapid.T) {
		d, n := date.Draw(t, "date"), rapid.IntRange(-2000, 2000).Draw(t, "n")
		if got := d.AddDays(n).DaysSince(d); got != n {
			t.Fatalf("%s.AddDays(%d) is %d days later", d, n, got)
		}
		if back, err := domain.ParseDate(d.String()); err != nil || back != d {
			t.Fatalf("ParseDate(%q) = %v, %v", d, back, err)
		}
		for _, start := range []time.Weekday{time.Monday, time.Sunday} {
			week := d.Week(start)
			if since := d.DaysSince(week); week.Weekday() != start || since < 0 || since > 6 {
				t.Fatalf("%s.Week(%s) = %s, %d days before", d, start, week, since)
			}
		}
		if m := d.AddMonths(n % 600); !m.Valid() {
			t.Fatalf("%s.AddMonths(%d) = %v, which no calendar has", d, n%600, m)
		}
	})
}

func FuzzParseDate(f *testing.F) {
	f.Add("2026-11-25")
	f.Add("0000-00-00")
	f.Fuzz(func(t *testing.T, s string) {
		if d, err := domain.ParseDate(s); err == nil && (d.String() != s || !d.Valid()) {
			t.Errorf("ParseDate(%q) = %s", s, d)
		}
	})
}

func TestProblems(t *testing.T) {
	var p domain.Problems
	if p.Err() != nil {
		t.Error("no problem is an error")
	}
	p.Add("b", "second")
	p.Add("a", "first")
	p.Add("a", "not kept")
	if got, want := p.Err().Error(), "a: first; b: second"; got != want {
		t.Errorf("Error() = %q; want %q", got, want)
	}
	if found, ok := errors.AsType[domain.Problems](p.Err()); !ok || found["b"] != "second" {
		t.Error("Problems are not found in their error")
	}
}

func mustDate(t testing.TB, s string) domain.Date {
	t.Helper()
	d, err := domain.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
