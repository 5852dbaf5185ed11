package store_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/store"
	"brae/store/storetest"
)

// audited counts the entries of an action about one client's record.
func audited(f *storetest.Practice, action string, client any) int {
	return f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, client)
}

func TestSignOutClient(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	if err := f.SignOutClient(t.Context(), f.Mira.Actor(), client); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("without a sign-in: %v; want %v", err, domain.ErrConflict)
	}
	jon := f.JoinClient(client, "jon")
	for _, tt := range []struct {
		who   string
		actor store.Actor
		want  error
	}{{"another practitioner", f.Tomas.Actor(), domain.ErrNotFound}, {"the client", jon.Actor(), domain.ErrForbidden}} {
		if err := f.SignOutClient(t.Context(), tt.actor, client); !errors.Is(err, tt.want) {
			t.Errorf("%s: %v; want %v", tt.who, err, tt.want)
		}
		if _, err := f.ReplaceLostPhone(t.Context(), tt.actor, client); !errors.Is(err, tt.want) {
			t.Errorf("%s, with a new link: %v; want %v", tt.who, err, tt.want)
		}
	}
	for i, actor := range []store.Actor{f.Mira.Actor(), f.Lead.Actor()} {
		if err := f.SignOutClient(t.Context(), actor, client); err != nil {
			t.Fatal(err)
		}
		if got := storetest.Must(f.Account(t.Context(), jon.ID)).Credentials; got != jon.Credentials+i+1 {
			t.Errorf("credentials %d after %d times; want %d", got, i+1, jon.Credentials+i+1)
		}
	}
	if n := audited(f, "client.sign_out", client); n != 2 {
		t.Errorf("%d entries in the audit trail; want 2", n)
	}
	if _, err := f.SignIn(t.Context(), "jon", storetest.Passphrase); err != nil {
		t.Errorf("the passphrase after it: %v", err)
	}
}

func TestReplaceLostPhone(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	jon := f.JoinClient(client, "jon")
	token := storetest.Must(f.ReplaceLostPhone(t.Context(), f.Mira.Actor(), client))
	if got := storetest.Must(f.Account(t.Context(), jon.ID)).Credentials; got <= jon.Credentials {
		t.Error("the lost phone is still signed in")
	}
	if audited(f, "client.sign_out", client) != 1 || audited(f, "client.invite", client) != 2 {
		t.Error("the audit trail does not tell both")
	}
	if link := storetest.Must(f.Link(t.Context(), token)); link.Account.ID != jon.ID {
		t.Errorf("the link is for %v", link.Account.ID)
	}
}

func TestSignOutAccount(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	jon := f.JoinClient(f.Client(), "jon")
	if err := f.SignOutAccount(t.Context(), f.Mira.Actor(), f.Tomas.ID); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("by a practitioner: %v", err)
	}
	if err := f.SignOutAccount(t.Context(), f.Lead.Actor(), jon.ID); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("a client by the list of people: %v", err)
	}
	if err := f.SignOutAccount(t.Context(), f.Lead.Actor(), f.Tomas.ID); err != nil {
		t.Fatal(err)
	}
	if got := storetest.Must(f.Account(t.Context(), f.Tomas.ID)).Credentials; got != f.Tomas.Credentials+1 {
		t.Errorf("credentials %d; want %d", got, f.Tomas.Credentials+1)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'account.sign_out' AND subject = $1`, "account/"+f.Tomas.ID.String()); n != 1 {
		t.Errorf("%d entries in the audit trail", n)
	}
}
