package storetest

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
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/report"
	"brae/domain/screening"
	"brae/store"
)

// Passphrase opens every account that a Practice makes.
const Passphrase = "lichen on the north side"

// Practice is a store with a practice that is set up: a lead, two practitioners
// and what tests add.
type Practice struct {
	*store.Store
	t    testing.TB
	Pool *pgxpool.Pool // to look behind the store

	Lead, Mira, Tomas store.Account

	mu  sync.Mutex
	now time.Time
}

// Now is when a Practice begins: a Wednesday in the middle of the day.
var Now = time.Date(2026, 11, 25, 11, 0, 0, 0, time.UTC)

// Day is the practice's day of Now.
var Day = domain.NewDate(2026, 11, 25)

// Tick is the practice's clock.
func (f *Practice) Tick() time.Time {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.now
}

// Wait lets time pass.
func (f *Practice) Wait(d time.Duration) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.now = f.now.Add(d)
}

// New returns a store on a database of its own, before any set-up.
func New(t testing.TB) *Practice {
	t.Helper()
	f := &Practice{t: t, now: Now}
	url := URL(t)
	s, err := store.Open(t.Context(), store.Config{
		URL: url, Now: f.Tick, MaxConns: 12,
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
	f.Store, f.Pool = s, pool
	return f
}

// SetUp returns a store with a practice that is set up.
func SetUp(t testing.TB) *Practice {
	t.Helper()
	f := New(t)
	token := Must(f.NewSetUpLink(t.Context()))
	f.Lead = Must(f.SetUpPractice(t.Context(), token, store.SetUp{
		Practice: store.Practice{Name: "Ridge Lane Rehab", Zone: "Europe/Berlin", WeekStart: time.Monday, EmergencyNumber: "112"},
		Name:     "Ines Harrow", SignInName: "ines", Passphrase: Passphrase,
	}))
	f.Mira, f.Tomas = f.Practitioner("mira"), f.Practitioner("tomas")
	return f
}

// Practitioner adds a practitioner who has joined.
func (f *Practice) Practitioner(name string) store.Account {
	f.t.Helper()
	token := Must(f.AddPractitioner(f.t.Context(), f.Lead.Actor(), name, name))
	return Must(f.Join(f.t.Context(), token, Passphrase))
}

// Client adds a client to Mira's caseload.
func (f *Practice) Client() uuid.UUID {
	f.t.Helper()
	return Must(f.AddClient(f.t.Context(), f.Mira.Actor(), store.Client{
		GivenName: "Jon", FamilyName: "Ashby", BirthDate: domain.NewDate(1968, 3, 14),
	}))
}

// JoinClient gives a client a sign-in that they have joined with.
func (f *Practice) JoinClient(client uuid.UUID, name string) store.Account {
	f.t.Helper()
	token := Must(f.InviteClient(f.t.Context(), f.Mira.Actor(), client, name))
	return Must(f.Join(f.t.Context(), token, Passphrase))
}

// Answers is an intake in which everything is answered with no, with changes.
func Answers(changes ...string) store.Answers {
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

// ScreenClient takes a client through the intake.
func (f *Practice) ScreenClient(client uuid.UUID, changes ...string) screening.Decision {
	f.t.Helper()
	_, draft, err := f.IntakeDraft(f.t.Context(), f.Mira.Actor(), client)
	if err != nil {
		f.t.Fatal(err)
	}
	version := Must(f.SaveIntake(f.t.Context(), f.Mira.Actor(), client, draft.Version, Answers(changes...)))
	return Must(f.Screen(f.t.Context(), f.Mira.Actor(), client, version))
}

// Walking is a prescription of brisk walking.
func Walking(version int) store.PrescriptionInput {
	return store.PrescriptionInput{
		Version: version, Class: intensity.Moderate, SessionsPerWeek: 5, MinutesPerSession: 30, TargetMinutes: 150, Activities: "Brisk walking",
	}
}

// Walk is a session of brisk walking.
func Walk(minutes int) store.SessionInput {
	return store.SessionInput{
		ID: uuid.New(), Day: Day,
		Parts: []store.PartInput{{Activity: "walk_brisk", Minutes: minutes, Talk: intensity.TalkSentences}},
	}
}

// Reported is a report for the client, signed after so many others.
func Reported(version int) store.ReportSigning {
	return store.ReportSigning{Version: version, Reader: report.ForClient, Language: "en", Text: "Walks half an hour now."}
}

// Discharged is how care ends well, after so many reports.
func Discharged(version int) store.DischargeInput {
	return store.DischargeInput{
		Discharge: report.Discharge{Outcome: report.GoalReached, Text: "Walks an hour now.", Advice: "Keep walking.", Seen: true},
		Version:   version, Language: "en",
	}
}

// Count returns what a query counts.
func (f *Practice) Count(sql string, args ...any) int {
	f.t.Helper()
	var n int
	if err := f.Pool.QueryRow(context.Background(), sql, args...).Scan(&n); err != nil {
		f.t.Fatal(err)
	}
	return n
}

// Must returns the value of a call that has no reason to fail.
func Must[T any](value T, err error) T {
	if err != nil {
		panic(fmt.Sprintf("fixture: %v", err))
	}
	return value
}

// Cleared is a decision of a doctor as it comes by letter: the client may work up
// to the ceiling with what the codes stand for.
func Cleared(ceiling intensity.Class, codes ...string) store.ClearanceInput {
	in := store.ClearanceInput{Release: true}
	in.DecidedBy = clearance.Clinician{
		Name: "Dr Edda Lund", Profession: clearance.Physician, Registration: "R 1177", Organisation: "Harbour Surgery", Contact: "030 555 0177",
	}
	in.DecidedOn, in.ReceivedOn = Day, Day
	in.Channel, in.Outcome, in.Ceiling, in.Considered = clearance.Letter, clearance.Cleared, ceiling, codes
	return in
}
