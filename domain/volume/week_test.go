package volume_test

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/volume"
)

func TestWeekOf(t *testing.T) {
	zone := func(name string) *time.Location {
		z, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		return z
	}
	for _, tt := range []struct {
		source         string
		started        string
		zone           *time.Location
		monday, sunday string
	}{
		{"ISO 8601: Sunday ends week 52", "2026-12-27T12:00:00Z", time.UTC, "2026-12-21", "2026-12-27"},
		{"ISO 8601: week 53 of 2026 begins", "2026-12-28T12:00:00Z", time.UTC, "2026-12-28", "2026-12-27"},
		{"ISO 8601: New Year in week 53", "2027-01-01T12:00:00Z", time.UTC, "2026-12-28", "2026-12-27"},
		{"ISO 8601: week 53 ends", "2027-01-03T12:00:00Z", time.UTC, "2026-12-28", "2027-01-03"},
		{"ISO 8601: week 1 of 2027 begins", "2027-01-04T12:00:00Z", time.UTC, "2027-01-04", "2027-01-03"},
		{"ISO 8601: in week 1 of the next year", "2024-12-30T12:00:00Z", time.UTC, "2024-12-30", "2024-12-29"},
		{"PostgreSQL date_trunc at time zone: Sunday evening there", "2026-11-23T02:30:00Z", zone("America/New_York"), "2026-11-16", "2026-11-22"},
		{"PostgreSQL date_trunc: Monday in UTC", "2026-11-23T02:30:00Z", time.UTC, "2026-11-23", "2026-11-22"},
		{"IANA: Monday already, 14 hours ahead", "2026-11-22T10:30:00Z", zone("Pacific/Kiritimati"), "2026-11-23", "2026-11-22"},
		{"IANA: Sunday still, 12 hours behind", "2026-11-23T11:59:00Z", zone("Etc/GMT+12"), "2026-11-16", "2026-11-22"},
		{"IANA: half an hour decides, 5:30 ahead", "2026-11-22T18:29:00Z", zone("Asia/Kolkata"), "2026-11-16", "2026-11-22"},
		{"IANA: half an hour decides, 5:30 ahead", "2026-11-22T18:30:00Z", zone("Asia/Kolkata"), "2026-11-23", "2026-11-22"},
		{"IANA: the hour that summer time skips", "2026-03-29T01:30:00Z", zone("Europe/Berlin"), "2026-03-23", "2026-03-29"},
		{"practice setting: over midnight it belongs to its start", "2026-11-22T23:50:00Z", time.UTC, "2026-11-16", "2026-11-22"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			started, err := time.Parse(time.RFC3339, tt.started)
			if err != nil {
				t.Fatal(err)
			}
			if got := volume.WeekOf(started, tt.zone, time.Monday).String(); got != tt.monday {
				t.Errorf("week from Monday = %s; want %s", got, tt.monday)
			}
			if got := volume.WeekOf(started, tt.zone, time.Sunday).String(); got != tt.sunday {
				t.Errorf("week from Sunday = %s; want %s", got, tt.sunday)
			}
		})
	}
}

func TestWeeks(t *testing.T) {
	for _, tt := range []struct {
		source      string
		first, last string
		start       time.Weekday
		n           int
		begin, end  string
	}{
		{"ISO 8601: 2026 has 53 weeks", "2026-01-01", "2026-12-31", time.Monday, 53, "2025-12-29", "2026-12-28"},
		{"ISO 8601: 2027 touches 53, its first days being of week 53", "2027-01-01", "2027-12-31", time.Monday, 53, "2026-12-28", "2027-12-27"},
		{"calendar: a leap year from Sunday touches 54", "2012-01-01", "2012-12-31", time.Monday, 54, "2011-12-26", "2012-12-31"},
		{"calendar: 2026 from Sunday", "2026-01-01", "2026-12-31", time.Sunday, 53, "2025-12-28", "2026-12-27"},
		{"calendar: one day", "2026-11-25", "2026-11-25", time.Monday, 1, "2026-11-23", "2026-11-23"},
		{"calendar: Sunday and Monday", "2026-11-22", "2026-11-23", time.Monday, 2, "2026-11-16", "2026-11-23"},
		{"IANA: weeks around a change of summer time", "2026-10-19", "2026-11-01", time.Monday, 2, "2026-10-19", "2026-10-26"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			weeks := volume.Weeks(date(t, tt.first), date(t, tt.last), tt.start)
			if len(weeks) != tt.n || weeks[0].String() != tt.begin || weeks[len(weeks)-1].String() != tt.end {
				t.Fatalf("Weeks(%s, %s, %v) = %d from %v to %v; want %d from %s to %s",
					tt.first, tt.last, tt.start, len(weeks), weeks[0], weeks[len(weeks)-1], tt.n, tt.begin, tt.end)
			}
		})
	}
	if w := volume.Weeks(date(t, "2026-11-23"), date(t, "2026-11-22"), time.Monday); w != nil {
		t.Errorf("weeks from Monday back to Sunday: %v; want none", w)
	}
}

func TestDaysLeft(t *testing.T) {
	for _, tt := range []struct {
		source string
		today  string
		start  time.Weekday
		want   int
	}{
		{"ISO 8601: Monday is the first of seven", "2026-11-23", time.Monday, 7},
		{"ISO 8601: Thursday", "2026-11-26", time.Monday, 4},
		{"ISO 8601: Sunday is the last", "2026-11-29", time.Monday, 1},
		{"calendar: weeks from Sunday", "2026-11-29", time.Sunday, 7},
		{"calendar: weeks from Sunday end on Saturday", "2026-11-28", time.Sunday, 1},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := volume.DaysLeft(date(t, tt.today), tt.start); got != tt.want {
				t.Errorf("DaysLeft(%s, %v) = %d; want %d", tt.today, tt.start, got, tt.want)
			}
		})
	}
}

// The weeks of any run of sessions add up to the sessions, in every zone from
// twelve hours behind to fourteen ahead and in the half-hour ones, whichever day
// weeks start on; and each session is in the week that its local day is in.
func TestWeeksAddUp(t *testing.T) {
	zones := []*time.Location{}
	for h := -12; h <= 14; h++ {
		zones = append(zones, time.FixedZone(fmt.Sprint(h), h*3600))
	}
	for _, name := range []string{
		"Asia/Kolkata", "Asia/Kathmandu", "Australia/Adelaide", "Australia/Lord_Howe", "America/St_Johns",
		"Pacific/Chatham", "Pacific/Marquesas", "Europe/Berlin", "America/New_York",
	} {
		z, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		zones = append(zones, z)
	}
	rapid.Check(t, func(t *rapid.T) {
		var (
			zone  = rapid.SampledFrom(zones).Draw(t, "zone")
			start = rapid.SampledFrom([]time.Weekday{time.Monday, time.Sunday}).Draw(t, "start")
			first = domain.NewDate(rapid.IntRange(2019, 2029).Draw(t, "year"), 1, 1).AddDays(rapid.IntRange(0, 365).Draw(t, "day"))
			last  = first.AddDays(rapid.IntRange(0, 500).Draw(t, "days"))
			weeks = volume.Weeks(first, last, start)
			into  = make([]volume.Totals, len(weeks))
			named = map[domain.Date]volume.Totals{}
			all   volume.Totals
			some  []volume.Entry
		)
		for range rapid.IntRange(0, 40).Draw(t, "sessions") {
			minute := rapid.IntRange(0, 24*60*(last.DaysSince(first)+1)-1).Draw(t, "minute")
			begun := time.Date(first.Year, first.Month, first.Day, 0, minute, 0, 0, zone)
			if d := domain.DateOf(begun, zone); d.After(last) {
				continue // an hour of summer time later, it is the day after
			}
			for range rapid.IntRange(1, 3).Draw(t, "parts") {
				p := part(t)
				all = all.Add(volume.Of(p))
				week := volume.WeekOf(begun.UTC(), zone, start)
				named[week] = named[week].Add(volume.Of(p))
				some = append(some, volume.Entry{Day: domain.DateOf(begun, zone), Part: p})
			}
		}
		if n := volume.ByWeek(into, weeks[0], some); n != 0 {
			t.Fatalf("%d entries are in no week", n)
		}
		var sum volume.Totals
		for i, w := range weeks {
			sum = sum.Add(into[i])
			if into[i] != named[w] {
				t.Fatalf("week of %v: %+v; its sessions: %+v", w, into[i], named[w])
			}
		}
		if sum != all {
			t.Fatalf("weeks add up to %+v, sessions to %+v", sum, all)
		}
	})
}

func TestByWeekOutside(t *testing.T) {
	first := date(t, "2026-11-23")
	entries := []volume.Entry{
		{Day: first.AddDays(-1), Part: volume.Part{Minutes: 1, Class: 3}},
		{Day: first, Part: volume.Part{Minutes: 10, Class: 3}},
		{Day: first.AddDays(6), Part: volume.Part{Minutes: 100, Class: 3}},
		{Day: first.AddDays(7), Part: volume.Part{Minutes: 1000, Class: 3}},
		{Day: first.AddDays(-8), Part: volume.Part{Minutes: 2000, Class: 3}},
	}
	into := make([]volume.Totals, 1)
	if n := volume.ByWeek(into, first, entries); n != 3 || into[0].Moderate != 110 { // arithmetic
		t.Errorf("ByWeek = %d outside, %+v; want 3 outside, 110 moderate", n, into[0])
	}
}

// ByWeek counts days as the calendar does, over leap years and centuries.
func TestByWeekCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		first := domain.NewDate(rapid.IntRange(1890, 2210).Draw(t, "year"), 1, 1).AddDays(rapid.IntRange(0, 365).Draw(t, "day"))
		days := rapid.IntRange(0, 7*3000-1).Draw(t, "days")
		into := make([]volume.Totals, 3000)
		entry := volume.Entry{Day: first.AddDays(days), Part: volume.Part{Minutes: 1, Class: intensity.Light}}
		if volume.ByWeek(into, first, []volume.Entry{entry}) != 0 || into[days/7].Light != 1 {
			t.Fatalf("%v is not in week %d from %v", entry.Day, days/7, first)
		}
	})
}

func TestByWeekDays(t *testing.T) {
	for _, tt := range []struct {
		source     string
		first, day domain.Date
		want       int // week; -1 for none
	}{
		{"Gregorian calendar: 2000 is a leap year", domain.NewDate(2000, 2, 28), domain.NewDate(2000, 3, 6), 1},
		{"Gregorian calendar: 2000 is a leap year", domain.NewDate(2000, 2, 28), domain.NewDate(2000, 3, 5), 0},
		{"Gregorian calendar: 1900 is none", domain.NewDate(1900, 2, 26), domain.NewDate(1900, 3, 5), 1},
		{"Gregorian calendar: 2100 is none", domain.NewDate(2100, 2, 22), domain.NewDate(2100, 3, 1), 1},
		{"arithmetic: no day is in no week", domain.NewDate(2026, 11, 23), domain.Date{}, -1},
	} {
		t.Run(tt.source, func(t *testing.T) {
			into := make([]volume.Totals, 2)
			entry := volume.Entry{Day: tt.day, Part: volume.Part{Minutes: 1, Class: intensity.Light}}
			outside := volume.ByWeek(into, tt.first, []volume.Entry{entry})
			got := -1
			for i, w := range into {
				if w.Light == 1 {
					got = i
				}
			}
			if got != tt.want || outside == 1 != (got < 0) {
				t.Errorf("%v is in week %d from %v, %d outside; want week %d", tt.day, got, tt.first, outside, tt.want)
			}
		})
	}
}

// A year of a client who is active on four days a week, with five parts each.
func BenchmarkYear(b *testing.B) {
	first := domain.NewDate(2026, 1, 1).Week(time.Monday)
	var entries []volume.Entry
	for week := range 52 {
		for _, day := range []int{0, 2, 4, 5} {
			for i := range 5 {
				entries = append(entries, volume.Entry{
					Day:  first.AddDays(7*week + day),
					Part: volume.Part{Minutes: 5 + i, Class: intensity.Class(1 + (week+i)%5)},
				})
			}
		}
	}
	if len(entries) != 1040 {
		b.Fatalf("%d parts; want 1,040", len(entries))
	}
	into := make([]volume.Totals, 53)
	b.ReportAllocs()
	for b.Loop() {
		clear(into)
		if volume.ByWeek(into, first, entries) != 0 {
			b.Fatal("parts outside of the year")
		}
	}
}

// The same with each part on a day of its own, which is the most work.
func BenchmarkYearScattered(b *testing.B) {
	first := domain.NewDate(2026, 1, 1).Week(time.Monday)
	entries := make([]volume.Entry, 1040)
	for i := range entries {
		entries[i] = volume.Entry{Day: first.AddDays(i * 97 % 364), Part: volume.Part{Minutes: 10, Class: intensity.Class(1 + i%5)}}
	}
	into := make([]volume.Totals, 53)
	b.ReportAllocs()
	for b.Loop() {
		clear(into)
		volume.ByWeek(into, first, entries)
	}
}

func date(t testing.TB, s string) domain.Date {
	t.Helper()
	d, err := domain.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
