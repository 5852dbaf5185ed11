package store_test

import (
	"errors"
	"testing"

	"brae/domain"
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
