package store_test

import (
	"errors"
	"testing"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/consent"
	"brae/store"
	"brae/store/storetest"
)

// A letter goes to a doctor with the client's consent to share with that doctor, or
// under an exception with a reason (GDPR article 9; a year at most is a practice
// setting). Each refusal stands at its field.
func TestLetterNeedsConsent(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	share := func(recipient string) uuid.UUID {
		return storetest.Must(f.RecordConsent(ctx, mira, client, consent.Given{
			Kind: consent.Share, Recipient: recipient, Purpose: "guidance", What: "symptoms", How: consent.Signed, On: storetest.Day,
		}))
	}
	other, care := share("Dr Olav Moss"), storetest.Must(f.RecordConsent(ctx, mira, client, consent.Given{Kind: consent.Care, Purpose: "p", What: "w", How: consent.Spoken, On: storetest.Day}))
	id, base := letterOf(t, f, client)
	base.Ground, base.ConsentOn, base.ConsentHow = "", domain.Date{}, ""
	send := func(change func(*store.Letter)) domain.Problems {
		l := base
		change(&l)
		problems, _ := errors.AsType[domain.Problems](f.SendReferral(ctx, mira, client, id, 1, l, storetest.Day, "link"))
		return problems
	}
	for _, tt := range []struct {
		why    string
		change func(*store.Letter)
		field  string
	}{
		{"nothing is said", func(*store.Letter) {}, "ground"},
		{"a ground that is none", func(l *store.Letter) { l.Ground = "habit" }, "ground"},
		{"the client agrees, nobody says when", func(l *store.Letter) { l.Ground, l.ConsentHow = consent.AgreesNow, consent.Spoken }, "consent_on"},
		{"the client agrees, nobody says how", func(l *store.Letter) { l.Ground, l.ConsentOn = consent.AgreesNow, storetest.Day }, "consent_how"},
		{"for longer than a year", func(l *store.Letter) {
			l.Ground, l.ConsentOn, l.ConsentHow, l.ConsentUntil = consent.AgreesNow, storetest.Day, consent.Signed, storetest.Day.AddMonths(13)
		}, "consent_until"},
		{"a consent of last year", func(l *store.Letter) {
			l.Ground, l.ConsentOn, l.ConsentHow = consent.AgreesNow, storetest.Day.AddMonths(-13), consent.Signed
		}, "consent_until"},
		{"an exception without a reason", func(l *store.Letter) { l.Ground, l.Why = consent.ToProtect, "  " }, "consent_why"},
		{"a consent to share with somebody else", func(l *store.Letter) { l.Ground, l.Consent = consent.OnRecord, other }, "ground"},
		{"a consent to care", func(l *store.Letter) { l.Ground, l.Consent = consent.OnRecord, care }, "ground"},
	} {
		if problems := send(tt.change); len(problems) != 1 || problems[tt.field] == "" {
			t.Errorf("%s: %v; want a problem of %s", tt.why, problems, tt.field)
		}
	}
	if n := f.Count(`SELECT count(*) FROM consents WHERE client_id = $1`, client); n != 2 {
		t.Errorf("%d consents after refusals; want 2", n)
	}

	if problems := send(func(l *store.Letter) {
		l.Ground, l.ConsentOn, l.ConsentHow = consent.AgreesNow, storetest.Day, consent.Spoken
	}); problems != nil {
		t.Fatalf("the client agrees now: %v", problems)
	}
	_, r, err := f.Referral(ctx, mira, client, id)
	if err != nil || r.Letter.Consent == uuid.Nil || r.Letter.ConsentUntil != storetest.Day.AddMonths(12).AddDays(-1) {
		t.Fatalf("the letter says %+v, %v; want the consent and its last day", r.Letter, err)
	}
	if n := f.Count(`SELECT count(*) FROM consents WHERE id = $1 AND recipient = 'Dr Edda Lund' AND how = 'spoken'`, r.Letter.Consent); n != 1 {
		t.Error("the consent is not on record")
	}
	birth := storetest.Must(f.Week(ctx, mira, client)).Client.BirthDate
	token := storetest.Must(f.NewDoctorLink(ctx, mira, client, id))
	if err := f.WithdrawConsent(ctx, mira, client, r.Letter.Consent, "Changed his mind."); err != nil {
		t.Fatal(err)
	}
	if _, err := f.DoctorLetter(ctx, token, birth); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("the link of a consent that was taken back: %v; want %v", err, domain.ErrNotFound)
	}
	_, err = f.NewDoctorLink(ctx, mira, client, id)
	if problems, _ := errors.AsType[domain.Problems](err); problems["link"] == "" {
		t.Errorf("a new link after the consent was taken back: %v", err)
	}

	again, _ := letterOf(t, f, client)
	if err := f.SendReferral(ctx, mira, client, again, 1, exception(base), storetest.Day, "link"); err != nil {
		t.Fatal(err)
	}
	storetest.Must(f.NewDoctorLink(ctx, mira, client, again))
	onRecord, _ := letterOf(t, f, client)
	base.Ground, base.Consent = consent.OnRecord, share("Edda Lund, Harbour Surgery")
	if err := f.SendReferral(ctx, mira, client, onRecord, 1, base, storetest.Day, "post"); err != nil {
		t.Errorf("a consent on record: %v", err)
	}
	for action, want := range map[string]int{"referral.sent": 3, "referral.without_consent": 1, "consent.record": 4, "consent.withdraw": 1} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE client_id = $1 AND action = $2`, client, action); n != want {
			t.Errorf("%d audit entries of %s; want %d", n, action, want)
		}
	}
}

func exception(l store.Letter) store.Letter {
	l.Ground, l.Why = consent.AllowedLaw, "The doctor treats him with us."
	return l
}
