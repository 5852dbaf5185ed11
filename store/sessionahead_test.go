package store_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/store/storetest"
)

// The gate before vigorous work is asked again when a client opens and begins a
// session: what a page of before shows is no way around a hold, a ceiling or a
// sign-off that is too old (practice settings). Logging is never refused.
func TestSessionAhead(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	id := f.Client()
	jon := f.JoinClient(id, "jon").Actor()
	if a := storetest.Must(f.SessionAhead(t.Context(), jon, id)); a.Planned != (plan.NextSession{}) || a.Session != a.Planned {
		t.Errorf("without a prescription: %+v", a)
	}
	f.ScreenClient(id, intake.FieldActivityClass, "vigorous", intake.FieldDesired, "vigorous")
	in := storetest.Walking(0)
	in.Class, in.Activities = intensity.Vigorous, "Hill runs"
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), id, in))

	hard := plan.NextSession{Class: intensity.Vigorous, Minutes: 30}
	seen := storetest.Must(f.SessionAhead(t.Context(), jon, id))
	if seen.Planned != hard || seen.Session != hard || seen.Cut() {
		t.Fatalf("nothing is in the way: planned %+v, allowed %+v, gate %+v", seen.Planned, seen.Session, seen.Week.Vigorous)
	}
	if _, begun, err := f.BeginSession(t.Context(), jon, id, seen.Seal()); err != nil || !begun {
		t.Errorf("begin what was seen: %t, %v", begun, err)
	}
	storetest.Must(f.LogSession(t.Context(), jon, id, storetest.Walk(10)))
	if a := storetest.Must(f.SessionAhead(t.Context(), jon, id)); a.Seal() != seen.Seal() {
		t.Error("a log made the page out of date")
	}

	for _, tt := range []struct {
		scope clearance.Scope
		want  plan.NextSession
	}{
		{clearance.Vigorous, plan.NextSession{Class: intensity.Moderate, Minutes: 30}},
		{clearance.AboveLight, plan.NextSession{Class: intensity.Light, Minutes: 30}},
		{clearance.All, plan.NextSession{}},
	} {
		hold := storetest.Must(f.OpenHold(t.Context(), f.Mira.Actor(), id, tt.scope, "Wait for the blood test."))
		a, begun, err := f.BeginSession(t.Context(), jon, id, seen.Seal())
		if err != nil || begun || a.Session != tt.want || a.Planned != hard {
			t.Errorf("a page of before a hold on %s: begun %t, allowed %+v, %v; want %+v", tt.scope, begun, a.Session, err, tt.want)
		}
		_, begun, err = f.BeginSession(t.Context(), jon, id, a.Seal())
		if err != nil || begun != (tt.want.Class > intensity.None) {
			t.Errorf("what a hold on %s leaves: begun %t, %v", tt.scope, begun, err)
		}
		storetest.Must(f.LogSession(t.Context(), jon, id, storetest.Walk(10)))
		if err := f.ReleaseHold(t.Context(), f.Mira.Actor(), id, hold, "The test is fine."); err != nil {
			t.Fatal(err)
		}
	}

	f.Wait(31 * day) // the sign-off counts for 30 days
	a := storetest.Must(f.SessionAhead(t.Context(), jon, id))
	if a.Session.Class != intensity.Moderate || a.Week.Vigorous.First.Rule != "gate.signoff" {
		t.Errorf("with an old sign-off: %+v, gate %+v", a.Session, a.Week.Vigorous.First)
	}
	if a.Week.Next.Class != intensity.Moderate {
		t.Errorf("the week still suggests %s work", a.Week.Next.Class)
	}
	if _, err := f.SessionAhead(t.Context(), f.Tomas.Actor(), id); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v", err)
	}
	if _, _, err := f.BeginSession(t.Context(), f.Tomas.Actor(), id, ""); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner begins: %v", err)
	}
	for query, want := range map[string]int{
		`SELECT count(*) FROM audit WHERE client_id = $1 AND action = 'session.open'`:                                    4,
		`SELECT count(*) FROM audit WHERE client_id = $1 AND action = 'session.begin'`:                                   7,
		`SELECT count(*) FROM audit WHERE client_id = $1 AND action = 'session.begin' AND (detail->>'begun')::boolean`:   3,
		`SELECT count(*) FROM audit WHERE client_id = $1 AND action = 'session.begin' AND detail->>'gate' = 'gate.hold'`: 6,
	} {
		if n := f.Count(query, id); n != want {
			t.Errorf("%s: %d; want %d", query, n, want)
		}
	}
}

// A plan's vigorous minutes are shared out over its sessions, and moderate ones
// take their place while the gate is shut.
func TestSessionAheadOfPlan(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	id := f.Client()
	f.ScreenClient(id, intake.FieldActivityClass, "vigorous", intake.FieldDesired, "vigorous")
	in := storetest.Walking(0)
	in.Class = intensity.Vigorous
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), id, in))
	weeks := planInput(0, plan.Dose{Class: intensity.Moderate, Sessions: 3, Minutes: 40, Easy: 10, Vigorous: 10})
	weeks.Confirmed = true // to begin like this is unusual
	storetest.Must(f.SavePlan(t.Context(), f.Mira.Actor(), id, weeks))
	want := plan.NextSession{Class: intensity.Moderate, Minutes: 40, Easy: 10, Vigorous: 4}
	if a := storetest.Must(f.SessionAhead(t.Context(), f.Mira.Actor(), id)); a.Session != want {
		t.Errorf("allowed %+v; want %+v", a.Session, want)
	}
	storetest.Must(f.OpenHold(t.Context(), f.Mira.Actor(), id, clearance.Vigorous, "Wait."))
	want.Vigorous = 0
	if a := storetest.Must(f.SessionAhead(t.Context(), f.Mira.Actor(), id)); a.Session != want || !a.Cut() {
		t.Errorf("under a hold %+v; want %+v", a.Session, want)
	}
}
