package store_test

import (
	"context"
	"fmt"
	"log/slog"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgxpool"

	"brae/domain"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/store"
	"brae/store/storetest"
)

const passphrase = "lichen on the north side"

// fixture is a practice with a lead, two practitioners and what tests add.
type fixture struct {
	*store.Store
	t    testing.TB
	pool *pgxpool.Pool // to look behind the store

	lead, mira, other store.Account

	mu  sync.Mutex
	now time.Time
}

// clock is a Wednesday in the middle of the day.
var clock = time.Date(2026, 11, 25, 11, 0, 0, 0, time.UTC)

var day = domain.NewDate(2026, 11, 25)

func (f *fixture) tick() time.Time {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.now
}

// wait lets time pass.
func (f *fixture) wait(d time.Duration) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.now = f.now.Add(d)
}

// open returns a store on a database of its own, before any set-up.
func open(t testing.TB) *fixture {
	t.Helper()
	f := &fixture{t: t, now: clock}
	url := storetest.URL(t)
	s, err := store.Open(t.Context(), store.Config{
		URL: url, Now: f.tick, MaxConns: 12,
		Log: slog.New(slog.NewTextHandler(t.Output(), &slog.HandlerOptions{Level: slog.LevelError})),
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	pool, err := pgxpool.New(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(pool.Close)
	f.Store, f.pool = s, pool
	return f
}

// practice returns a store with a practice that is set up.
func practice(t testing.TB) *fixture {
	t.Helper()
	f := open(t)
	token := must(f.NewSetUpLink(t.Context()))
	f.lead = must(f.SetUpPractice(t.Context(), token, store.SetUp{
		Practice: store.Practice{Name: "Ridge Lane Rehab", Zone: "Europe/Berlin", WeekStart: time.Monday, EmergencyNumber: "112"},
		Name:     "Ines Harrow", SignInName: "ines", Passphrase: passphrase,
	}))
	f.mira, f.other = f.practitioner("mira"), f.practitioner("tomas")
	return f
}

func (f *fixture) practitioner(name string) store.Account {
	f.t.Helper()
	token := must(f.AddPractitioner(f.t.Context(), f.lead.Actor(), name, name))
	return must(f.Join(f.t.Context(), token, passphrase))
}

// client adds a client to mira's caseload.
func (f *fixture) client() uuid.UUID {
	f.t.Helper()
	return must(f.AddClient(f.t.Context(), f.mira.Actor(), store.Client{
		GivenName: "Jon", FamilyName: "Ashby", BirthDate: domain.NewDate(1968, 3, 14),
	}))
}

// account gives a client a sign-in.
func (f *fixture) account(client uuid.UUID, name string) store.Account {
	f.t.Helper()
	token := must(f.InviteClient(f.t.Context(), f.mira.Actor(), client, name))
	return must(f.Join(f.t.Context(), token, passphrase))
}

// answers is an intake in which everything is answered with no, with changes.
func answers(changes ...string) store.Answers {
	a := store.Answers{
		intake.FieldDays: "4", intake.FieldMinutes: "40", intake.FieldMonths: "12", intake.FieldActivityClass: "moderate",
		intake.FieldDesired: "moderate", intake.FieldResting1: "64",
	}
	for _, t := range screening.Codes() {
		if t.Required() {
			a[intake.QuestionField(t.Code)] = "no"
		}
	}
	for i := 0; i < len(changes); i += 2 {
		a[changes[i]] = changes[i+1]
	}
	return a
}

// screened takes a client through the intake.
func (f *fixture) screened(client uuid.UUID, changes ...string) screening.Decision {
	f.t.Helper()
	_, draft, err := f.IntakeDraft(f.t.Context(), f.mira.Actor(), client)
	if err != nil {
		f.t.Fatal(err)
	}
	version := must(f.SaveIntake(f.t.Context(), f.mira.Actor(), client, draft.Version, answers(changes...)))
	return must(f.Screen(f.t.Context(), f.mira.Actor(), client, version))
}

// walking is a prescription of brisk walking.
func walking(version int) store.PrescriptionInput {
	return store.PrescriptionInput{
		Version: version, Class: intensity.Moderate, SessionsPerWeek: 5, MinutesPerSession: 30, TargetMinutes: 150, Activities: "Brisk walking",
	}
}

// walk is a session of brisk walking.
func walk(minutes int) store.SessionInput {
	return store.SessionInput{
		ID: uuid.New(), Day: day,
		Parts: []store.PartInput{{Activity: "walk_brisk", Minutes: minutes, Talk: intensity.TalkSentences}},
	}
}

// count returns what a query counts.
func (f *fixture) count(sql string, args ...any) int {
	f.t.Helper()
	var n int
	if err := f.pool.QueryRow(context.Background(), sql, args...).Scan(&n); err != nil {
		f.t.Fatal(err)
	}
	return n
}

// must returns the value of a call that has no reason to fail.
func must[T any](value T, err error) T {
	if err != nil {
		panic(fmt.Sprintf("fixture: %v", err))
	}
	return value
}
