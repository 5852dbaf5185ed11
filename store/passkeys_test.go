package store_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/store"
	"brae/store/storetest"
)

// madeOn is a check that finds a passkey right.
func madeOn(device string) func(json.RawMessage) (store.NewPasskey, error) {
	return func(json.RawMessage) (store.NewPasskey, error) {
		return store.NewPasskey{Name: device, CredentialID: []byte(device), Credential: json.RawMessage(`{"count": 1}`)}, nil
	}
}

func addPasskey(t testing.TB, f *storetest.Practice, a store.Account, device string) uuid.UUID {
	t.Helper()
	challenge := uuid.NewString()
	if err := f.SaveChallenge(t.Context(), a.ID, store.Challenge{Challenge: challenge, Data: json.RawMessage(`{}`)}); err != nil {
		t.Fatal(err)
	}
	if err := f.AddPasskey(t.Context(), a.Actor(), challenge, madeOn(device)); err != nil {
		t.Fatal(err)
	}
	list := storetest.Must(f.Passkeys(t.Context(), a.Actor()))
	return list[len(list)-1].ID
}

func TestAddPasskey(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for _, tt := range []struct {
		challenge string
		of        uuid.UUID
		wait      time.Duration
		want      error
	}{
		{"right", f.Mira.ID, 0, nil},
		{"of another account", f.Tomas.ID, 0, store.ErrPasskey},
		{"of a sign-in", uuid.Nil, 0, store.ErrPasskey},
		{"too old", f.Mira.ID, 5 * time.Minute, store.ErrPasskey},
	} {
		if err := f.SaveChallenge(t.Context(), tt.of, store.Challenge{Challenge: tt.challenge, Data: json.RawMessage(`{}`)}); err != nil {
			t.Fatal(err)
		}
		f.Wait(tt.wait)
		if err := f.AddPasskey(t.Context(), f.Mira.Actor(), tt.challenge, madeOn(tt.challenge)); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v; want %v", tt.challenge, err, tt.want)
		}
		if err := f.AddPasskey(t.Context(), f.Mira.Actor(), tt.challenge, madeOn("again")); !errors.Is(err, store.ErrPasskey) {
			t.Errorf("%s, once more: %v; want %v", tt.challenge, err, store.ErrPasskey)
		}
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'account.passkey_add' AND actor_id = $1`, f.Mira.ID); n != 1 {
		t.Errorf("%d entries in the audit trail; want 1", n)
	}
	for i := range 19 {
		addPasskey(t, f, f.Mira, fmt.Sprint("device ", i))
	}
	_ = f.SaveChallenge(t.Context(), f.Mira.ID, store.Challenge{Challenge: "21", Data: json.RawMessage(`{}`)})
	if err := f.AddPasskey(t.Context(), f.Mira.Actor(), "21", madeOn("one too many")); !errors.As(err, new(domain.Problems)) {
		t.Errorf("the twenty-first: %v", err)
	}
	f.Wait(time.Hour)
	_ = f.SaveChallenge(t.Context(), uuid.Nil, store.Challenge{Challenge: "old", Data: json.RawMessage(`{}`)})
	f.Wait(time.Hour)
	if err := f.DropExpired(t.Context()); err != nil {
		t.Fatal(err)
	}
	if n := f.Count(`SELECT count(*) FROM passkey_challenges`); n != 0 {
		t.Errorf("%d challenges are left", n)
	}
}

func TestRemovePasskey(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	id := addPasskey(t, f, f.Mira, "laptop")
	if _, err := f.RemovePasskey(t.Context(), f.Lead.Actor(), id); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("by somebody else: %v", err)
	}
	a := storetest.Must(f.RemovePasskey(t.Context(), f.Mira.Actor(), id))
	if a.Credentials != f.Mira.Credentials+1 {
		t.Errorf("credentials %d; want %d", a.Credentials, f.Mira.Credentials+1)
	}
	if _, err := f.RemovePasskey(t.Context(), f.Mira.Actor(), id); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("twice: %v", err)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'account.passkey_remove' AND subject = $1`, "passkey/"+id.String()); n != 1 {
		t.Errorf("%d entries in the audit trail; want 1", n)
	}
}

// TestLostPhoneLosesItsPasskey replaces a phone that somebody else can unlock.
func TestLostPhoneLosesItsPasskey(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	jon := f.JoinClient(client, "jon")
	addPasskey(t, f, jon, "phone")
	storetest.Must(f.ReplaceLostPhone(t.Context(), f.Mira.Actor(), client))
	if list := storetest.Must(f.Passkeys(t.Context(), jon.Actor())); len(list) != 0 {
		t.Errorf("%d passkeys are left", len(list))
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'account.passkeys_drop' AND actor_id = $1`, f.Mira.ID); n != 1 {
		t.Errorf("%d entries in the audit trail; want 1", n)
	}
	_ = f.SaveChallenge(t.Context(), uuid.Nil, store.Challenge{Challenge: "x", Data: json.RawMessage(`{}`)})
	_, err := f.SignInWithPasskey(t.Context(), "x", []byte("phone"), func(_ json.RawMessage, _ store.Account, kept json.RawMessage) (json.RawMessage, error) {
		return kept, nil
	})
	if !errors.Is(err, store.ErrPasskey) {
		t.Errorf("sign in with it: %v", err)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'account.sign_in_failed'`); n != 1 {
		t.Errorf("%d refusals in the audit trail; want 1", n)
	}
}

// TestNewLinkEndsPasskeys: with a new link for somebody of the practice the passkeys
// made before open nothing, such as one in a device that is lost or one that a
// stranger has added.
func TestNewLinkEndsPasskeys(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	addPasskey(t, f, f.Mira, "lost")
	addPasskey(t, f, f.Tomas, "kept")
	if _, _, err := f.NewAccountLink(t.Context(), f.Lead.Actor(), f.Mira.ID); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		device string
		want   error
	}{{"lost", store.ErrPasskey}, {"kept", nil}} {
		if err := f.SaveChallenge(t.Context(), uuid.Nil, store.Challenge{Challenge: tt.device, Data: json.RawMessage(`{}`)}); err != nil {
			t.Fatal(err)
		}
		_, err := f.SignInWithPasskey(t.Context(), tt.device, []byte(tt.device), func(_ json.RawMessage, _ store.Account, kept json.RawMessage) (json.RawMessage, error) {
			return kept, nil
		})
		if !errors.Is(err, tt.want) {
			t.Errorf("%s: %v; want %v", tt.device, err, tt.want)
		}
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'account.passkeys_drop' AND subject = $1`, "account/"+f.Mira.ID.String()); n != 1 {
		t.Errorf("%d entries in the trail; want 1", n)
	}
}
