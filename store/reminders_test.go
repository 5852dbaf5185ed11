package store_test

import (
	"errors"
	"testing"
	"time"

	"brae/domain"
	"brae/store"
	"brae/store/storetest"
)

// due returns the reminders that are sent now.
func due(t *testing.T, f *storetest.Practice) []store.DueReminder {
	t.Helper()
	var list []store.DueReminder
	for _, account := range storetest.Must(f.RemindersAbout(t.Context())) {
		d, err := f.ClaimReminder(t.Context(), account)
		if err == nil {
			list = append(list, d)
		} else if !errors.Is(err, domain.ErrNotFound) {
			t.Fatal(err)
		}
	}
	return list
}

// everyDay are all days of the week.
const everyDay = store.Weekdays(127)

// reminded returns a practice with a client who wants to be reminded at a time of
// day, and has confirmed the address.
func reminded(t *testing.T, minute int) (*storetest.Practice, store.Account) {
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	jon := f.JoinClient(client, "jon")
	token := storetest.Must(f.SetReminder(t.Context(), jon.Actor(), store.Reminder{Address: "jon@post.example", Days: everyDay, Minute: minute}))
	if err := f.ConfirmReminder(t.Context(), token); err != nil {
		t.Fatal(err)
	}
	return f, jon
}

// Now is noon in the practice's zone, Europe/Berlin.
const noon = 12 * 60

func TestSetReminder(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	jon := f.JoinClient(client, "jon")
	good := store.Reminder{Address: "jon@post.example", Days: 2, Minute: noon}
	for _, tt := range []struct {
		name  string
		field string
		r     store.Reminder
	}{
		{"no address", "address", store.Reminder{Days: 2, Minute: 5}},
		{"no address at all", "address", store.Reminder{Address: "jon", Days: 2, Minute: 5}},
		{"a name before the address", "address", store.Reminder{Address: "Jon <jon@post.example>", Days: 2, Minute: 5}},
		{"a line in the address", "address", store.Reminder{Address: "jon@post.example\r\nBcc: x@post.example", Days: 2, Minute: 5}},
		{"no day", "days", store.Reminder{Address: "jon@post.example", Minute: 5}},
		{"no time", "time", store.Reminder{Address: "jon@post.example", Days: 2, Minute: -1}},
		{"past midnight", "time", store.Reminder{Address: "jon@post.example", Days: 2, Minute: 1440}},
	} {
		_, err := f.SetReminder(t.Context(), jon.Actor(), tt.r)
		if problems, ok := errors.AsType[domain.Problems](err); !ok || problems[tt.field] == "" {
			t.Errorf("%s: %v", tt.name, err)
		}
	}
	if _, err := f.SetReminder(t.Context(), f.Mira.Actor(), good); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("by a practitioner: %v", err)
	}
	if r := storetest.Must(f.Reminder(t.Context(), jon.Actor())); r != nil {
		t.Errorf("before any: %+v", r)
	}

	first := storetest.Must(f.SetReminder(t.Context(), jon.Actor(), good))
	second := storetest.Must(f.SetReminder(t.Context(), jon.Actor(), good))
	if err := f.ConfirmReminder(t.Context(), first); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("the earlier link still works: %v", err)
	}
	if r := storetest.Must(f.Reminder(t.Context(), jon.Actor())); r == nil || r.Confirmed {
		t.Errorf("before the address has answered: %+v", r)
	}
	if err := f.Awaited(t.Context(), second); err != nil {
		t.Error(err)
	}
	if err := f.ConfirmReminder(t.Context(), second); err != nil {
		t.Fatal(err)
	}
	if err := f.ConfirmReminder(t.Context(), second); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("the link works twice: %v", err)
	}
	good.Minute = 60
	if token := storetest.Must(f.SetReminder(t.Context(), jon.Actor(), good)); token != "" {
		t.Error("another time asks the address again")
	}
	if r := storetest.Must(f.Reminder(t.Context(), jon.Actor())); r == nil || !r.Confirmed || r.Minute != 60 {
		t.Errorf("after another time: %+v", r)
	}
	good.Address = "jon.ashby@post.example"
	late := storetest.Must(f.SetReminder(t.Context(), jon.Actor(), good))
	if r := storetest.Must(f.Reminder(t.Context(), jon.Actor())); r == nil || r.Confirmed {
		t.Errorf("a new address counts as confirmed: %+v", r)
	}
	for range 2 {
		storetest.Must(f.SetReminder(t.Context(), jon.Actor(), good))
	}
	if _, err := f.SetReminder(t.Context(), jon.Actor(), good); err == nil {
		t.Error("six mails to confirm in one day")
	}
	f.Wait(49 * time.Hour)
	if err := f.ConfirmReminder(t.Context(), late); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("an old link works: %v", err)
	}
	for range 5 { // two days later links are counted anew
		storetest.Must(f.SetReminder(t.Context(), jon.Actor(), good))
	}
	if err := f.StopReminder(t.Context(), jon.Actor()); err != nil {
		t.Fatal(err)
	}
	if _, err := f.SetReminder(t.Context(), jon.Actor(), good); err == nil {
		t.Error("to stop and start again gives more mails to confirm")
	}
	if n := f.Count(`SELECT count(*) FROM reminders WHERE address <> ''`); n != 0 {
		t.Error("the address is kept")
	}
	if r := storetest.Must(f.Reminder(t.Context(), jon.Actor())); r != nil {
		t.Errorf("after the end: %+v", r)
	}
	for action, want := range map[string]int{"reminder.set": 11, "reminder.confirm": 1, "reminder.stop": 1} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, client); n != want {
			t.Errorf("%d audit entries %s; want %d", n, action, want)
		}
	}
}

func TestClaimReminders(t *testing.T) {
	t.Parallel()
	f, jon := reminded(t, noon-1)
	sent := due(t, f)
	if len(sent) != 1 || sent[0].Address != "jon@post.example" || sent[0].Day != storetest.Day || sent[0].Language != "en" || sent[0].Practice != "Ridge Lane Rehab" {
		t.Fatalf("due: %+v", sent)
	}
	if again := due(t, f); len(again) != 0 {
		t.Errorf("claimed twice, as after a crash: %+v", again)
	}

	// The mail server refuses: once more after a minute, then after two.
	if err := f.ReminderNotSent(t.Context(), sent[0]); err != nil {
		t.Fatal(err)
	}
	if early := due(t, f); len(early) != 0 {
		t.Errorf("tried again at once: %+v", early)
	}
	f.Wait(61 * time.Second)
	sent = due(t, f)
	if len(sent) != 1 {
		t.Fatalf("not tried again: %+v", sent)
	}
	if err := f.ReminderNotSent(t.Context(), sent[0]); err != nil {
		t.Fatal(err)
	}
	f.Wait(90 * time.Second)
	if early := due(t, f); len(early) != 0 {
		t.Errorf("the second wait is no longer: %+v", early)
	}
	f.Wait(time.Hour)
	if late := due(t, f); len(late) != 0 {
		t.Errorf("sent when it is too late: %+v", late)
	}

	f.Wait(23 * time.Hour)
	sent = due(t, f)
	if len(sent) != 1 || sent[0].Day != storetest.Day.AddDays(1) {
		t.Fatalf("the next day: %+v", sent)
	}
	if err := f.StopReminderByLink(t.Context(), sent[0].Stop+"x"); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("a guessed link: %v", err)
	}
	for range 2 { // people press twice
		if err := f.StopReminderByLink(t.Context(), sent[0].Stop); err != nil {
			t.Fatal(err)
		}
	}
	if r := storetest.Must(f.Reminder(t.Context(), jon.Actor())); r != nil {
		t.Errorf("after the link: %+v", r)
	}
}

// Nobody is reminded who has logged, has left, or may not exercise now.
func TestNoReminder(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name string
		do   func(*storetest.Practice, store.Account) error
	}{
		{"logged today", func(f *storetest.Practice, jon store.Account) error {
			client := storetest.Must(f.OwnClient(t.Context(), jon.Actor()))
			_, err := f.LogSession(t.Context(), jon.Actor(), client, storetest.Walk(20))
			return err
		}},
		{"all exercise waits", func(f *storetest.Practice, jon store.Account) error {
			client := storetest.Must(f.OwnClient(t.Context(), jon.Actor()))
			f.ScreenClient(client, "q.chest_pressure", "yes")
			if f.Count(`SELECT count(*) FROM holds WHERE scope = 'all' AND released_at IS NULL`) == 0 {
				t.Fatal("no hold")
			}
			return nil
		}},
		{"left", func(f *storetest.Practice, jon store.Account) error {
			_, err := f.Pool.Exec(t.Context(), `UPDATE clients SET closed_at = now() WHERE account_id = $1`, jon.ID)
			return err
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			f, jon := reminded(t, noon-1)
			if err := tt.do(f, jon); err != nil {
				t.Fatal(err)
			}
			if sent := due(t, f); len(sent) != 0 {
				t.Errorf("reminded all the same: %+v", sent)
			}
		})
	}
}
