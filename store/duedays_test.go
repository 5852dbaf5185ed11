package store

import (
	"testing"
	"time"

	"brae/domain"
)

// TestDueDay: clocks in Berlin go from 02:00 to 03:00 on 29 March 2026 and from
// 03:00 back to 02:00 on 25 October 2026. Source: directive 2000/84/EC, articles 2
// and 3 (the last Sundays of March and October, at 01:00 UTC).
func TestDueDay(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	at := func(text string) time.Time {
		v, err := time.Parse(time.RFC3339, text)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	day := domain.NewDate
	all := Weekdays(127)
	for _, tt := range []struct {
		name   string
		now    string
		days   Weekdays
		minute int
		last   domain.Date
		want   domain.Date // zero for none
	}{
		{"a minute early", "2026-11-25T16:59:00Z", all, 18 * 60, domain.Date{}, domain.Date{}},
		{"on time", "2026-11-25T17:00:00Z", all, 18 * 60, domain.Date{}, day(2026, 11, 25)},
		{"an hour late", "2026-11-25T18:00:00Z", all, 18 * 60, domain.Date{}, domain.Date{}},
		{"sent already", "2026-11-25T17:00:00Z", all, 18 * 60, day(2026, 11, 25), domain.Date{}},
		{"not on Wednesdays", "2026-11-25T17:00:00Z", all &^ (1 << time.Wednesday), 18 * 60, domain.Date{}, domain.Date{}},
		{"past midnight", "2026-11-25T23:10:00Z", all, 23*60 + 45, day(2026, 11, 24), day(2026, 11, 25)},
		{"02:30 is skipped", "2026-03-29T01:30:00Z", all, 2*60 + 30, day(2026, 3, 28), day(2026, 3, 29)},
	} {
		if got, _ := dueDay(at(tt.now), berlin, tt.days, tt.minute, tt.last); got != tt.want {
			t.Errorf("%s: %s; want %s", tt.name, got, tt.want)
		}
	}

	// Elsewhere the clock skips 02:00 to 03:00 on 8 March, or half an hour on 4
	// October. Source: IANA time zone database, 2026: northamerica and australasia.
	for _, tt := range []struct {
		zone   string
		day    domain.Date
		minute int
		want   string
	}{
		{"America/New_York", day(2026, 3, 8), 2*60 + 30, "2026-03-08T07:00:00Z"},
		{"Europe/Berlin", day(2026, 3, 29), 2*60 + 30, "2026-03-29T01:00:00Z"},
		{"Australia/Lord_Howe", day(2026, 10, 4), 2*60 + 15, "2026-10-03T15:30:00Z"},
		{"Australia/Lord_Howe", day(2026, 10, 4), 18 * 60, "2026-10-04T07:00:00Z"},
	} {
		zone, err := time.LoadLocation(tt.zone)
		if err != nil {
			t.Fatal(err)
		}
		if got := clockShows(tt.day, tt.minute, zone).UTC(); !got.Equal(at(tt.want)) {
			t.Errorf("%s, minute %d of %s: %s; want %s", tt.zone, tt.minute, tt.day, got.Format(time.RFC3339), tt.want)
		}
	}

	sent, last := 0, day(2026, 10, 24)
	for now := at("2026-10-25T00:00:00Z"); now.Before(at("2026-10-25T03:00:00Z")); now = now.Add(30 * time.Second) {
		if due, ok := dueDay(now, berlin, all, 2*60+30, last); ok {
			sent, last = sent+1, due
		}
	}
	if sent != 1 {
		t.Errorf("02:30 comes twice, and %d reminders with it", sent)
	}
}
