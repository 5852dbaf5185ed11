package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/store/storetest"
)

func TestCalendar(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	jon := f.JoinClient(client, "jon")
	if _, err := f.NewCalendar(t.Context(), f.Mira.Actor()); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("by a practitioner: %v", err)
	}
	token := storetest.Must(f.NewCalendar(t.Context(), jon.Actor()))
	if c := storetest.Must(f.CalendarOf(t.Context(), token)); len(c.Events) != 0 || c.Practice != "Ridge Lane Rehab" {
		t.Errorf("before a prescription: %+v", c)
	}

	// Five sessions a week: this Wednesday lies in the first of eight weeks.
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	first := storetest.Must(f.CalendarOf(t.Context(), token)).Events
	thisWeek := 0
	for _, e := range first {
		if e.Day.Before(storetest.Day) || e.Minutes != 30 || e.Sequence != 0 || e.Cancelled {
			t.Errorf("%+v", e)
		}
		if e.Day.Before(storetest.Day.Week(time.Monday).AddDays(7)) {
			thisWeek++
		}
	}
	// Of Monday, Tuesday, Wednesday, Friday and Saturday, three are still to come.
	if len(first) != 7*5+3 || thisWeek != 3 {
		t.Errorf("%d events, %d of them this week; want 38 and 3", len(first), thisWeek)
	}

	// Longer sessions change each event, fewer ones cancel some.
	in := storetest.Walking(1)
	in.SessionsPerWeek, in.MinutesPerSession = 3, 45
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, in))
	f.Wait(time.Minute)
	second := storetest.Must(f.CalendarOf(t.Context(), token)).Events
	kept, gone := 0, 0
	known := map[uuid.UUID]domain.Date{}
	for _, e := range first {
		known[e.ID] = e.Day
	}
	for _, e := range second {
		day, was := known[e.ID]
		switch {
		case was && day != e.Day:
			t.Errorf("%s was moved from %s to %s", e.ID, day, e.Day)
		case e.Cancelled && (e.Sequence != 1 || e.Minutes != 30):
			t.Errorf("cancelled: %+v", e)
		case e.Cancelled:
			gone++
		case e.Minutes != 45 || was && e.Sequence != 1 || !was && e.Sequence != 0:
			t.Errorf("changed: %+v", e)
		default:
			kept++
		}
	}
	if kept == 0 || gone == 0 {
		t.Errorf("%d kept and %d cancelled", kept, gone)
	}
	third := storetest.Must(f.CalendarOf(t.Context(), token)).Events
	for i := range third {
		if third[i] != second[i] {
			t.Errorf("nothing has changed, but %+v became %+v", second[i], third[i])
		}
	}

	// While all exercise waits, nothing is planned.
	if _, err := f.OpenHold(t.Context(), f.Mira.Actor(), client, clearance.All, "Waits for a visit."); err != nil {
		t.Fatal(err)
	}
	for _, e := range storetest.Must(f.CalendarOf(t.Context(), token)).Events {
		if !e.Cancelled {
			t.Errorf("under a hold on all exercise: %+v", e)
		}
	}

	other := storetest.Must(f.NewCalendar(t.Context(), jon.Actor()))
	if _, err := f.CalendarOf(t.Context(), token); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("the address before still works: %v", err)
	}
	if err := f.StopCalendar(t.Context(), jon.Actor()); err != nil {
		t.Fatal(err)
	}
	if _, err := f.CalendarOf(t.Context(), other); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("an address that was given up still works: %v", err)
	}
	for action, want := range map[string]int{"calendar.new": 2, "calendar.stop": 1, "calendar.view": 5} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, client); n != want {
			t.Errorf("%d audit entries %s; want %d", n, action, want)
		}
	}
}

// TestCalendarUnderAHold: vigorous work is not planned in a calendar, either,
// while a hold covers it.
func TestCalendarUnderAHold(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "activity_class", "vigorous", "desired", "vigorous")
	jon := f.JoinClient(client, "jon")
	in := storetest.Walking(0)
	in.Class = intensity.Vigorous
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, in))
	token := storetest.Must(f.NewCalendar(t.Context(), jon.Actor()))
	if events := storetest.Must(f.CalendarOf(t.Context(), token)).Events; len(events) == 0 || events[0].Cancelled {
		t.Fatalf("without a hold: %+v", events)
	}
	if _, err := f.OpenHold(t.Context(), f.Mira.Actor(), client, clearance.Vigorous, "A new pain in the calf."); err != nil {
		t.Fatal(err)
	}
	for _, e := range storetest.Must(f.CalendarOf(t.Context(), token)).Events {
		if !e.Cancelled {
			t.Errorf("under the hold: %+v", e)
		}
	}
}
