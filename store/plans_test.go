package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/volume"
	"brae/store"
	"brae/store/storetest"
)

// monday is the first day of the week of [storetest.Day].
var monday = domain.NewDate(2026, 11, 23)

// planned is a client of Mira's with a prescription and a plan of these doses.
func planned(t *testing.T, f *storetest.Practice, doses ...plan.Dose) uuid.UUID {
	t.Helper()
	client := f.Client()
	f.ScreenClient(client)
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	storetest.Must(f.SavePlan(t.Context(), f.Mira.Actor(), client, planInput(0, doses...)))
	return client
}

func planInput(version int, doses ...plan.Dose) store.PlanInput {
	in := store.PlanInput{Version: version, Starts: monday, Goal: 150, Origin: store.FromEditor}
	for i, d := range doses {
		in.Weeks = append(in.Weeks, plan.WeekOf(i+1, d))
	}
	return in
}

func walks(sessions, minutes int) plan.Dose {
	return plan.Dose{Class: intensity.Moderate, Sessions: sessions, Minutes: minutes}
}

func TestSavePlan(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := planned(t, f, walks(3, 20), walks(3, 25), walks(4, 25))
	sheet := storetest.Must(f.PlanOf(t.Context(), f.Mira.Actor(), client))
	if p := sheet.Plan; p == nil || p.Version != 1 || len(p.Weeks) != 3 || p.SignedByName != "mira" ||
		p.Weeks[1].First != monday.AddDays(7) || p.Weeks[1].Step != plan.Time || p.Weeks[2].Step != plan.Frequency {
		t.Fatalf("plan = %+v", sheet.Plan)
	}
	for _, tt := range []struct {
		source string
		in     store.PlanInput
		want   error
	}{
		{"an old form", planInput(0, walks(3, 20)), domain.ErrConflict},
		{"practice setting: 15 minutes more at once", planInput(1, walks(3, 20), walks(3, 35)), domain.Doubts{}},
		{"Toronto: one part at a time", planInput(1, walks(3, 20), walks(4, 25)), domain.Doubts{}},
		{"no weeks", planInput(1), domain.Problems{}},
		{"no sessions", planInput(1, walks(0, 25)), domain.Problems{}},
		{"250 minutes at once", planInput(1, walks(3, 250)), domain.Problems{}},
	} {
		_, err := f.SavePlan(t.Context(), f.Mira.Actor(), client, tt.in)
		switch tt.want.(type) {
		case domain.Doubts:
			if _, ok := errors.AsType[domain.Doubts](err); !ok {
				t.Errorf("%s: %v; want a doubt", tt.source, err)
			}
		case domain.Problems:
			if _, ok := errors.AsType[domain.Problems](err); !ok {
				t.Errorf("%s: %v; want problems", tt.source, err)
			}
		default:
			if !errors.Is(err, tt.want) {
				t.Errorf("%s: %v; want %v", tt.source, err, tt.want)
			}
		}
	}
	in := planInput(1, walks(3, 20), walks(3, 35))
	in.Starts = monday.AddDays(-7)
	if _, err := f.SavePlan(t.Context(), f.Mira.Actor(), client, in); err == nil {
		t.Error("a week that is over could be changed")
	}
	in.Starts, in.Confirmed = monday.AddDays(7), true
	storetest.Must(f.SavePlan(t.Context(), f.Mira.Actor(), client, in))
	sheet = storetest.Must(f.PlanOf(t.Context(), f.Lead.Actor(), client))
	if p := sheet.Plan; p.Version != 2 || len(p.Weeks) != 3 || p.Weeks[0].Dose != walks(3, 20) || p.Weeks[2].Dose != walks(3, 35) ||
		len(p.Warnings) != 1 || p.Warnings[0].Code != plan.WarnSteep || p.Warnings[0].Week != 3 {
		t.Errorf("version 2 = %+v; want the first week as it was, and the steep one with its warning", p)
	}
	first := storetest.Must(f.PlanVersion(t.Context(), f.Mira.Actor(), client, 1))
	if len(first.Weeks) != 3 || first.Weeks[2].Dose != walks(4, 25) {
		t.Errorf("version 1 = %+v; want it as it was signed", first)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE client_id = $1 AND action IN ('plan.sign', 'plan.view', 'plan.copy')`, client); n != 5 {
		t.Errorf("%d entries in the audit trail; want 2 signed, 2 seen, 1 read to be copied", n)
	}
	for _, table := range []string{"plans", "plan_weeks"} {
		if _, err := f.Pool.Exec(t.Context(), `DELETE FROM `+table); err == nil {
			t.Errorf("%s can be deleted", table)
		}
	}
	if _, err := f.PlanOf(t.Context(), f.Tomas.Actor(), client); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v; want %v", err, domain.ErrNotFound)
	}
	if _, err := f.SavePlan(t.Context(), f.Tomas.Actor(), client, in); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner signs: %v; want %v", err, domain.ErrNotFound)
	}
}

// A hold that opens while the editor is open is seen by what signs the plan.
//
// Practice rule: no vigorous work is planned while a hold covers it.
func TestSavePlanUnderAHold(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	in := storetest.Walking(0)
	in.Class = intensity.Vigorous
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, in))
	hard := plan.Dose{Class: intensity.Vigorous, Sessions: 3, Minutes: 20}
	storetest.Must(f.SavePlan(t.Context(), f.Mira.Actor(), client, planInput(0, hard, hard)))
	week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
	if week.Target != (volume.Target{Minutes: 120}) {
		t.Errorf("target %+v; want 120, a vigorous minute counts twice (WHO 2020)", week.Target)
	}
	f.Wait(time.Hour)
	f.ScreenClient(client, "q.chest_pressure", "yes")
	_, err := f.SavePlan(t.Context(), f.Mira.Actor(), client, planInput(1, hard))
	if problems, ok := errors.AsType[domain.Problems](err); !errors.Is(err, domain.ErrHeld) || !ok || problems["weeks[0].class"] == "" {
		t.Errorf("vigorous weeks under a hold: %v; want %v at the week", err, domain.ErrHeld)
	}
	if n := f.Count(`SELECT count(*) FROM plans WHERE client_id = $1`, client); n != 1 {
		t.Errorf("%d versions; want the first alone", n)
	}
	week = storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
	if week.Plan.Totals.Vigorous != 0 || week.Target.Minutes != 0 {
		t.Errorf("under a hold on everything the week asks for %+v", week.Plan.Totals)
	}
}

// What is planned beyond the prescription waits for the next one.
func TestPlanIsCutToThePrescription(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	in := storetest.Walking(0)
	in.Class, in.TargetLight = intensity.Light, true
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, in))
	storetest.Must(f.SavePlan(t.Context(), f.Mira.Actor(), client, planInput(0, walks(3, 20))))
	week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
	if week.Target != (volume.Target{Minutes: 60, Light: true}) || !week.Plan.Cut {
		t.Errorf("target %+v, plan %+v; want 60 light minutes while nothing more is prescribed", week.Target, week.Plan)
	}
}

func TestPauseClient(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := planned(t, f, walks(3, 21))
	mira := f.Mira.Actor()
	in := store.PauseInput{ID: uuid.New(), From: monday.AddDays(2), Kind: "holiday"}
	for range 2 { // sent twice
		if err := f.PauseClient(t.Context(), mira, client, in); err != nil {
			t.Fatal(err)
		}
	}
	week := storetest.Must(f.Week(t.Context(), mira, client))
	if week.Plan.OpenDays != 2 || week.Target.Minutes != 18 || week.Plan.Sessions != 1 {
		t.Errorf("a week with two open days: %+v, target %d; want 63 x 2 / 7 minutes and one session", week.Plan, week.Target.Minutes)
	}
	var other domain.Problems
	for _, tt := range []store.PauseInput{
		{ID: uuid.New(), From: monday.AddDays(9), Kind: "illness"}, // within the one that nobody knows the end of
		{ID: uuid.New(), From: monday, To: monday.AddDays(-1), Kind: "illness"},
		{ID: uuid.New(), From: monday.AddDays(-1), To: monday.AddDays(-1), Kind: ""},
		{ID: uuid.New(), Kind: "holiday"},
	} {
		if err := f.PauseClient(t.Context(), mira, client, tt); !errors.As(err, &other) {
			t.Errorf("%+v: %v; want problems", tt, err)
		}
	}
	f.Wait(48 * time.Hour)
	if err := f.EndPause(t.Context(), mira, client, in.ID, storetest.Day.AddDays(1)); err != nil {
		t.Fatal(err)
	}
	if err := f.EndPause(t.Context(), mira, client, in.ID, storetest.Day); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("ended twice: %v; want %v", err, domain.ErrConflict)
	}
	week = storetest.Must(f.Week(t.Context(), mira, client))
	if week.Plan.OpenDays != 5 || week.Target.Minutes != 45 {
		t.Errorf("after the pause: %+v; want five open days and 63 x 5 / 7 minutes", week.Plan)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action IN ('plan.pause', 'plan.pause_end') AND client_id = $1`, client); n != 3 {
		t.Errorf("%d entries in the audit trail; want 3", n)
	}
	if err := f.PauseClient(t.Context(), f.Tomas.Actor(), client, in); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v; want %v", err, domain.ErrNotFound)
	}
}

// The review and the caseload count by the plan's week.
func TestReviewCountsByThePlan(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	planned(t, f, walks(3, 20))
	all := func(l []store.ReviewLine) []store.ReviewLine { return l }
	review := storetest.Must(f.WeekReview(t.Context(), f.Mira.Actor(), all))
	if l := review.Lines[0]; l.Target.Minutes != 60 || l.ShortBy != 60 {
		t.Errorf("line = %+v; want the 60 minutes of the plan", l)
	}
}
