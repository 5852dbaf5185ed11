package main

import (
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain/plan"
	"brae/store"
	"brae/store/storetest"
)

// The invented practice shows each way that it can go: every status that a review can
// have, an agreed break, a doctor's ceiling, talk test and heart rate that differ, and
// nobody in it has a day that is still to come.
func TestDemoShowsEverySituation(t *testing.T) {
	t.Parallel()
	f := storetest.New(t)
	now := storetest.Now
	s := storetest.Must(f.Reopen(t.Context(), func() time.Time { return now }))
	defer s.Close()
	if err := seed(t.Context(), s, &now); err != nil {
		t.Fatal(err)
	}
	if now != storetest.Now {
		t.Errorf("the clock stands at %s", now)
	}
	var lead uuid.UUID
	if err := f.Pool.QueryRow(t.Context(), `SELECT id FROM accounts WHERE role = 'lead'`).Scan(&lead); err != nil {
		t.Fatal(err)
	}
	actor := store.Actor{ID: lead, Role: "lead"}
	found := map[plan.Status]int{}
	var drifts, paused, long int
	for _, c := range storetest.Must(s.Caseload(t.Context(), actor, "")) {
		p := storetest.Must(s.ProgressOf(t.Context(), actor, c.ID))
		if p.Prescription == nil {
			continue
		}
		found[p.Standing.Status]++
		if p.Standing.Drift != nil {
			drifts++
		}
		if len(p.Pauses) > 0 {
			paused++
		}
		if len(p.Course.Weeks) >= 12 {
			long++
		}
	}
	for _, status := range []plan.Status{plan.Returning, plan.TooHard, plan.Behind, plan.SteadyTooLong, plan.Ready, plan.OnPlan} {
		if found[status] == 0 {
			t.Errorf("nobody is %s: %v", status, found)
		}
	}
	if drifts == 0 || paused < 2 || long < 12 {
		t.Errorf("%d whose heart rate drifts, %d with a break, %d with twelve weeks and more; want 1, 2 and 12", drifts, paused, long)
	}
	if n := f.Count(`SELECT count(*) FROM sessions WHERE day > '2026-11-25'`); n != 0 {
		t.Errorf("%d sessions that are still to come", n)
	}
	if n := f.Count(`SELECT count(*) FROM clearances WHERE ceiling = 'moderate'`); n < 2 {
		t.Errorf("%d doctors' decisions; want two", n)
	}
}
