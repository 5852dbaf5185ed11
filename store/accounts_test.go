package store_test

import (
	"errors"
	"sync"
	"testing"
	"time"

	"brae/domain"
	"brae/store"
	"brae/store/storetest"
)

func TestSetUpOnce(t *testing.T) {
	t.Parallel()
	f := storetest.New(t)
	first := storetest.Must(f.NewSetUpLink(t.Context()))
	token := storetest.Must(f.NewSetUpLink(t.Context()))
	in := store.SetUp{
		Practice: store.Practice{Name: "Ridge Lane Rehab", Zone: "Europe/Berlin", WeekStart: time.Monday, EmergencyNumber: "112"},
		Name:     "Ines Harrow", SignInName: "ines", Passphrase: storetest.Passphrase,
	}
	if _, err := f.SetUpPractice(t.Context(), first, in); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("with a link that a newer one has voided: %v; want %v", err, domain.ErrNotFound)
	}
	wrong := in
	wrong.Practice.EmergencyNumber, wrong.Practice.Zone, wrong.Passphrase = "", "Nowhere/Never", "short"
	_, err := f.SetUpPractice(t.Context(), token, wrong)
	problems, _ := errors.AsType[domain.Problems](err)
	for _, field := range []string{"emergency_number", "zone", "passphrase"} {
		if problems[field] == "" {
			t.Errorf("no problem of %s in %v", field, err)
		}
	}
	lead, err := f.SetUpPractice(t.Context(), token, in)
	if err != nil || lead.Role != domain.RoleLead {
		t.Fatalf("SetUpPractice = %+v, %v; want the lead", lead, err)
	}
	if _, err := f.SetUpPractice(t.Context(), token, in); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("with a used link: %v; want %v", err, domain.ErrNotFound)
	}
	if again := storetest.Must(f.NewSetUpLink(t.Context())); again != "" {
		t.Error("a practice that is set up got another set-up link")
	}
}

func TestSignIn(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	if a, err := f.SignIn(t.Context(), " MIRA ", storetest.Passphrase); err != nil || a.ID != f.Mira.ID {
		t.Errorf("SignIn with spaces and capitals = %+v, %v", a, err)
	}
	for name, phrase := range map[string]string{"mira": "another passphrase", "nobody": storetest.Passphrase, "": ""} {
		if _, err := f.SignIn(t.Context(), name, phrase); !errors.Is(err, store.ErrSignIn) {
			t.Errorf("SignIn(%q, %q) = %v; want %v", name, phrase, err, store.ErrSignIn)
		}
	}
}

// TestSignInWaits guesses five times in a row. The right passphrase is refused
// while the account waits, and taken afterwards.
func TestSignInWaits(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for range 5 {
		_, _ = f.SignIn(t.Context(), "mira", "a wrong one")
	}
	if _, err := f.SignIn(t.Context(), "mira", storetest.Passphrase); !errors.Is(err, store.ErrSignIn) {
		t.Errorf("after five wrong tries: %v; want %v", err, store.ErrSignIn)
	}
	f.Wait(31 * time.Second)
	if _, err := f.SignIn(t.Context(), "mira", storetest.Passphrase); err != nil {
		t.Errorf("after the wait: %v", err)
	}
	if n := f.Count(`SELECT failed_tries FROM accounts WHERE sign_in_name = 'mira'`); n != 0 {
		t.Errorf("%d tries are counted after a sign-in; want 0", n)
	}
}

func TestDisableAccount(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	if err := f.DisableAccount(t.Context(), f.Mira.Actor(), f.Tomas.ID); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("as a practitioner: %v; want %v", err, domain.ErrForbidden)
	}
	if err := f.DisableAccount(t.Context(), f.Lead.Actor(), f.Lead.ID); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("the lead's own: %v; want %v", err, domain.ErrForbidden)
	}
	if err := f.DisableAccount(t.Context(), f.Lead.Actor(), f.Mira.ID); err != nil {
		t.Fatal(err)
	}
	if _, err := f.SignIn(t.Context(), "mira", storetest.Passphrase); !errors.Is(err, store.ErrSignIn) {
		t.Errorf("SignIn to a closed account: %v; want %v", err, store.ErrSignIn)
	}
	if _, err := f.Account(t.Context(), f.Mira.ID); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("a closed account: %v; want %v", err, domain.ErrNotFound)
	}
}

func TestJoin(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	old := storetest.Must(f.InviteClient(t.Context(), f.Mira.Actor(), client, "jon"))
	token := storetest.Must(f.InviteClient(t.Context(), f.Mira.Actor(), client, ""))
	if _, err := f.Join(t.Context(), old, storetest.Passphrase); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("with a voided link: %v; want %v", err, domain.ErrNotFound)
	}
	if _, err := f.Join(t.Context(), token, "123456789012"); err == nil {
		t.Error("a passphrase that is guessed at once was taken")
	}
	f.Wait(73 * time.Hour)
	if _, err := f.Join(t.Context(), token, storetest.Passphrase); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("after three days: %v; want %v", err, domain.ErrNotFound)
	}
	token = storetest.Must(f.InviteClient(t.Context(), f.Mira.Actor(), client, ""))
	jon, err := f.Join(t.Context(), token, storetest.Passphrase)
	if err != nil || jon.Role != domain.RoleClient {
		t.Fatalf("Join = %+v, %v", jon, err)
	}
	if own := storetest.Must(f.OwnClient(t.Context(), jon.Actor())); own != client {
		t.Errorf("OwnClient = %s; want %s", own, client)
	}
	if _, err := f.Join(t.Context(), token, storetest.Passphrase); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("a second time: %v; want %v", err, domain.ErrNotFound)
	}
}

func TestSignInNameIsTaken(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	_, err := f.AddPractitioner(t.Context(), f.Lead.Actor(), "Mira Two", "Mira")
	if problems, ok := errors.AsType[domain.Problems](err); !ok || problems["sign_in_name"] == "" {
		t.Errorf("AddPractitioner = %v; want a problem of sign_in_name", err)
	}
}

func TestChangePassphrase(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	if _, err := f.ChangePassphrase(t.Context(), f.Mira.Actor(), "not the old one", "moss under the bridge"); err == nil {
		t.Error("a wrong old passphrase was taken")
	}
	changed, err := f.ChangePassphrase(t.Context(), f.Mira.Actor(), storetest.Passphrase, "moss under the bridge")
	if err != nil || changed.Credentials <= f.Mira.Credentials {
		t.Fatalf("ChangePassphrase = %+v, %v; want a higher number", changed, err)
	}
	if _, err := f.SignIn(t.Context(), "mira", storetest.Passphrase); !errors.Is(err, store.ErrSignIn) {
		t.Errorf("the old passphrase: %v; want %v", err, store.ErrSignIn)
	}
}

func TestCheckPassphrase(t *testing.T) {
	for phrase, ok := range map[string]bool{
		"elevenchars": false, "twelve chars": true, "aaaaaaaaaaaaaaaa": false, "123456789012": false,
		"qwertyuiop12": false, "password1234": false, "ridge lane rehab": false, "heather, peat & Lichen": true,
		"ein Wort über den Grat": true, "密码在山坡上的石南花和苔藓": true,
	} {
		if got := store.CheckPassphrase(phrase, "Ridge Lane Rehab"); (got == "") != ok {
			t.Errorf("CheckPassphrase(%q) = %q; want ok %t", phrase, got, ok)
		}
	}
}

func TestSignInsAreStoredHashed(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	s := f.SignIns()
	if err := s.CommitCtx(t.Context(), "a token", []byte("data"), time.Now().Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	if n := f.Count(`SELECT count(*) FROM sign_ins WHERE token_hash LIKE '%token%'`); n != 0 {
		t.Error("the token is stored readable")
	}
	if data, found, err := s.FindCtx(t.Context(), "a token"); err != nil || !found || string(data) != "data" {
		t.Errorf("FindCtx = %q, %t, %v", data, found, err)
	}
	f.Wait(2 * time.Hour)
	if _, found, err := s.FindCtx(t.Context(), "a token"); err != nil || found {
		t.Errorf("an expired token: found %t, %v", found, err)
	}
	if err := f.DropExpired(t.Context()); err != nil {
		t.Fatal(err)
	}
	if n := f.Count(`SELECT count(*) FROM sign_ins`); n != 0 {
		t.Errorf("%d expired sign-ins are left", n)
	}
}

// TestSignOutIsFinal stores a sign-in again that another tab has ended meanwhile.
func TestSignOutIsFinal(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	s := f.SignIns()
	commit := func() {
		if err := s.CommitCtx(t.Context(), "a token", []byte("data"), storetest.Now.Add(time.Hour)); err != nil {
			t.Fatal(err)
		}
	}
	commit()
	if err := s.DeleteCtx(t.Context(), "a token"); err != nil {
		t.Fatal(err)
	}
	commit()
	if _, found, err := s.FindCtx(t.Context(), "a token"); err != nil || found {
		t.Errorf("after the sign-out: found %t, %v; want it gone", found, err)
	}
	if err := f.DropExpired(t.Context()); err != nil {
		t.Fatal(err)
	}
	if n := f.Count(`SELECT count(*) FROM sign_ins`); n != 0 {
		t.Errorf("%d ended sign-ins are left", n)
	}
}

// TestGuessesAtOnce guesses many times at once. Only as many passphrases are
// compared as one after the other.
func TestGuessesAtOnce(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	var tries sync.WaitGroup
	for range 20 {
		tries.Go(func() {
			if _, err := f.SignIn(t.Context(), "mira", "a wrong one"); !errors.Is(err, store.ErrSignIn) {
				t.Errorf("SignIn = %v; want %v", err, store.ErrSignIn)
			}
		})
	}
	tries.Wait()
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'account.sign_in_failed' AND detail ->> 'waiting' = 'false'`); n != 5 {
		t.Errorf("%d of 20 guesses at once were compared; want 5", n)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'account.sign_in_failed'`); n != 20 {
		t.Errorf("%d of 20 guesses are in the audit trail", n)
	}
}

// TestGuessesOfNobody guesses the passphrase of a name that nobody has.
func TestGuessesOfNobody(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	_, _ = f.SignIn(t.Context(), "nobody", "a wrong one")
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'account.sign_in_failed' AND subject = 'account'`); n != 1 {
		t.Errorf("%d entries in the audit trail; want 1", n)
	}
}
