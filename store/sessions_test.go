package store_test

import (
	"errors"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/store"
	"brae/store/storetest"
)

func TestLogSession(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	in := storetest.Walk(30)
	in.Note = "wind from the sea"
	in.Parts = append(in.Parts, store.PartInput{Activity: "jog", Minutes: 10, Talk: intensity.TalkFewWords, Effort: 15, HeartRate: 142})
	logged, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in)
	if err != nil {
		t.Fatal(err)
	}
	// PAGA 2018: a vigorous minute counts as two moderate ones.
	if got, want := logged.Totals.ModerateEquivalent, 30+2*10; got != want {
		t.Errorf("moderate-equivalent minutes = %d; want %d", got, want)
	}
	if got, want := logged.Week, domain.NewDate(2026, 11, 23); got != want {
		t.Errorf("week = %s; want %s", got, want)
	}
	read, err := f.Session(t.Context(), f.Mira.Actor(), client, in.ID)
	if err != nil {
		t.Fatal(err)
	}
	if read.Note != in.Note || len(read.Parts) != 2 || read.Parts[1].HeartRate != 142 || read.Parts[1].Effort != 15 ||
		read.Parts[1].Class != intensity.Vigorous || read.Parts[0].Talk != intensity.TalkSentences {
		t.Errorf("session = %+v; want what was logged", read)
	}
}

func TestLogSessionIsStoredOnce(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	in := storetest.Walk(30)
	var group sync.WaitGroup
	answers := make([]store.LoggedSession, 10)
	for i := range answers {
		group.Go(func() {
			var err error
			if answers[i], err = f.LogSession(t.Context(), f.Mira.Actor(), client, in); err != nil {
				t.Errorf("sent the %d. time: %v", i+1, err)
			}
		})
	}
	group.Wait()
	for i, a := range answers {
		if a.ID != in.ID || a.Totals != answers[0].Totals || !a.LoggedAt.Equal(answers[0].LoggedAt) {
			t.Errorf("answer %d = %+v; want the same as the first", i, a)
		}
	}
	if n := f.Count(`SELECT count(*) FROM sessions`); n != 1 {
		t.Errorf("%d sessions are stored; want 1", n)
	}
	if n := f.Count(`SELECT moderate_equivalent FROM week_totals`); n != 30 {
		t.Errorf("the week has %d minutes; want 30", n)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'session.log'`); n != 1 {
		t.Errorf("%d audit entries; want 1", n)
	}
}

func TestLogSessionRefusesAnotherBody(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client, stranger := f.Client(), f.Client()
	in := storetest.Walk(30)
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in))
	other := in
	other.Parts = []store.PartInput{{Activity: "walk_brisk", Minutes: 31, Talk: intensity.TalkSentences}}
	if _, err := f.LogSession(t.Context(), f.Mira.Actor(), client, other); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("the same id with 31 minutes: %v; want %v", err, domain.ErrConflict)
	}
	if _, err := f.LogSession(t.Context(), f.Mira.Actor(), stranger, in); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("the same id for another client: %v; want %v", err, domain.ErrConflict)
	}
	if n := f.Count(`SELECT sum(moderate_equivalent) FROM week_totals`); n != 30 {
		t.Errorf("the weeks have %d minutes; want 30", n)
	}
}

func TestLogSessionRefuses(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	for _, tt := range []struct {
		reason, field string
		change        func(*store.SessionInput)
	}{
		{"a day to come", "day", func(in *store.SessionInput) { in.Day = storetest.Day.AddDays(1) }},
		{"29 days ago", "day", func(in *store.SessionInput) { in.Day = storetest.Day.AddDays(-29) }},
		{"no day", "day", func(in *store.SessionInput) { in.Day = domain.Date{} }},
		{"no id", "id", func(in *store.SessionInput) { in.ID = uuid.Nil }},
		{"no minutes", "parts[0].minutes", func(in *store.SessionInput) { in.Parts[0].Minutes = 0 }},
		{"721 minutes", "parts[0].minutes", func(in *store.SessionInput) { in.Parts[0].Minutes = 721 }},
		{"no part", "minutes", func(in *store.SessionInput) { in.Parts = nil }},
		{"an unknown activity", "parts[0].activity", func(in *store.SessionInput) { in.Parts[0].Activity = "levitate" }},
		{"an unknown talk-test level", "parts[0].talk", func(in *store.SessionInput) { in.Parts[0].Talk = "hum" }},
		{"exertion 21", "parts[0].effort_6_20", func(in *store.SessionInput) { in.Parts[0].Effort = 21 }},
		{"heart rate 241", "parts[0].hr", func(in *store.SessionInput) { in.Parts[0].HeartRate = 241 }},
	} {
		t.Run(tt.reason, func(t *testing.T) {
			in := storetest.Walk(30)
			tt.change(&in)
			_, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in)
			problems, ok := errors.AsType[domain.Problems](err)
			if !ok || problems[tt.field] == "" {
				t.Errorf("LogSession = %v; want a problem of %s", err, tt.field)
			}
		})
	}
	if n := f.Count(`SELECT (SELECT count(*) FROM sessions) + (SELECT count(*) FROM session_parts) + (SELECT count(*) FROM week_totals)`); n != 0 {
		t.Errorf("%d rows were saved; want none", n)
	}
}

func TestLogSessionAsksAboutLongOnes(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	in := storetest.Walk(241)
	if _, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in); !isDoubt(err) {
		t.Fatalf("241 minutes: %v; want a doubt", err)
	}
	in.Confirmed = true
	if _, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in); err != nil {
		t.Errorf("241 minutes, confirmed: %v", err)
	}
}

func isDoubt(err error) bool { _, ok := errors.AsType[domain.Doubts](err); return ok }

// TestLoggingIsNeverRefusedByAHold keeps the promise that what was done can be
// logged, whatever waits.
func TestLoggingIsNeverRefusedByAHold(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	in := storetest.Walk(20)
	in.Parts[0].Talk = intensity.TalkFewWords
	logged, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Contains(logged.Triage.Rules, "NUM8") {
		t.Errorf("vigorous work under a hold of all exercise came to %v; want it above the ceiling", logged.Triage.Rules)
	}
}

// TestSessionBelongsToTheDayOfThePractice logs late on Sunday in the practice's
// zone, when it is still Sunday there and Monday elsewhere.
func TestSessionBelongsToTheDayOfThePractice(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.Wait(time.Date(2026, 11, 29, 23, 30, 0, 0, time.UTC).Sub(storetest.Now)) // 00:30 on Monday in Berlin
	in := storetest.Walk(30)
	in.Day = domain.NewDate(2026, 11, 30)
	logged, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in)
	if err != nil {
		t.Fatalf("on the practice's today: %v", err)
	}
	if want := domain.NewDate(2026, 11, 30); logged.Week != want {
		t.Errorf("week = %s; want %s", logged.Week, want)
	}
}
