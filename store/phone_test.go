package store_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/triage"
	"brae/store/storetest"
)

// What a phone keeps is made for its client: what is known of them raises levels.
//
// Practice rule T35: with diabetes a wound on the foot is no small thing.
func TestKeptOnThePhone(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	plain, sugar := f.Client(), f.Client()
	jon, tilda := f.JoinClient(plain, "jon"), f.JoinClient(sugar, "tilda")
	f.ScreenClient(plain)
	f.ScreenClient(sugar, "q.diabetes_type_2", "yes")
	wound := []triage.Report{"foot_wound"}
	one, err := f.Phone(t.Context(), jon.Actor(), plain)
	if err != nil {
		t.Fatal(err)
	}
	two, err := f.Phone(t.Context(), tilda.Actor(), sugar)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := one.Table.Look(wound).Level, two.Table.Look(wound).Level; a != triage.Note || b != triage.Ease {
		t.Errorf("a wound on the foot is %s, with diabetes %s; want note and ease", a, b)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'phone.view' AND client_id = $1 AND actor_id = $2`, plain, jon.ID); n != 1 {
		t.Errorf("%d entries in the audit trail", n)
	}
	if _, err := f.Phone(t.Context(), tilda.Actor(), plain); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("somebody else's: %v", err)
	}
}

// A phone cannot tell whether usual angina came above the doctor's heart-rate limit, so
// it answers as if it had; without a limit the angina that the doctor expects is noted.
//
// Practice rule T02: usual angina is within its limit up to the ceiling.
func TestAnginaOnThePhone(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	usual := []triage.Report{"chest_pressure_usual"}
	for limit, want := range map[int]triage.Level{0: triage.Note, 118: triage.Stop} {
		client := f.Client()
		f.ScreenClient(client, "q.coronary_artery_disease", "yes")
		decision := storetest.Cleared(intensity.Moderate, "coronary_artery_disease")
		decision.Outcome, decision.Limits.HeartRate = clearance.ClearedWithLimits, limit
		decision.Expected = []clearance.Expected{{Code: "chest_pressure", Limit: "2 out of 4"}}
		storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, decision))
		phone := storetest.Must(f.Phone(t.Context(), f.Mira.Actor(), client))
		if got := phone.Table.Look(usual).Level; got != want {
			t.Errorf("usual angina under a limit of %d beats a minute is %s; want %s", limit, got, want)
		}
	}
}
