package store_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/domain/activity"
	"brae/store"
	"brae/store/storetest"
)

func TestChoosePreferences(t *testing.T) {
	t.Parallel()
	s := storetest.SetUp(t)
	jon, other := s.JoinClient(s.Client(), "jon"), s.JoinClient(s.Client(), "tilda")
	if want := (store.Preferences{Language: "en", Units: activity.Kilometres}); jon.Preferences != want {
		t.Errorf("a new account reads %+v; want %+v", jon.Preferences, want)
	}
	want := store.Preferences{Language: "es", Units: activity.Miles}
	if err := s.ChoosePreferences(t.Context(), jon.Actor(), want); err != nil {
		t.Fatal(err)
	}
	if got := storetest.Must(s.Account(t.Context(), jon.ID)); got.Preferences != want {
		t.Errorf("after the choice the account reads %+v; want %+v", got.Preferences, want)
	}
	if got := storetest.Must(s.Account(t.Context(), other.ID)); got.Language != "en" {
		t.Errorf("another account now reads %s", got.Language)
	}
	if n := s.Count(`SELECT count(*) FROM audit WHERE action = 'account.preferences' AND actor_id = $1 AND subject = $2`,
		jon.ID, "account/"+jon.ID.String()); n != 1 {
		t.Errorf("%d entries in the audit trail; want 1", n)
	}
	for field, p := range map[string]store.Preferences{
		"language": {Language: "fr", Units: activity.Miles},
		"units":    {Language: "es", Units: "leagues"},
	} {
		problems, ok := errors.AsType[domain.Problems](s.ChoosePreferences(t.Context(), jon.Actor(), p))
		if !ok || len(problems) != 1 || problems[field] == "" {
			t.Errorf("%+v: problems %v; want one of %s", p, problems, field)
		}
	}
}
