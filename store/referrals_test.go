package store_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/consent"
	"brae/domain/intensity"
	"brae/store"
	"brae/store/storetest"
)

// letterOf begins a letter about a client and fills in what the record does not
// know.
func letterOf(t *testing.T, f *storetest.Practice, client uuid.UUID) (uuid.UUID, store.Letter) {
	t.Helper()
	id := storetest.Must(f.WriteReferral(t.Context(), f.Mira.Actor(), client))
	_, r, err := f.Referral(t.Context(), f.Mira.Actor(), client, id)
	if err != nil {
		t.Fatal(err)
	}
	l := r.Letter
	l.Doctor, l.ConsentOn, l.ConsentHow = "Dr Edda Lund", storetest.Day, consent.Signed
	return id, l
}

func sent(t *testing.T, f *storetest.Practice, client uuid.UUID) uuid.UUID {
	t.Helper()
	id, l := letterOf(t, f, client)
	if err := f.SendReferral(t.Context(), f.Mira.Actor(), client, id, 1, l, storetest.Day, "post"); err != nil {
		t.Fatal(err)
	}
	return id
}

// TestReferral takes a letter from its draft to the answer. What a letter has to
// say follows published clearance forms.
func TestReferral(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	if _, err := f.WriteReferral(t.Context(), f.Mira.Actor(), client); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("before the screening: %v; want %v", err, domain.ErrConflict)
	}
	f.ScreenClient(client, "q.chest_pressure", "yes", "q.stroke", "yes", "q.asthma", "yes", "medicines", "ramipril 5 mg")
	id, l := letterOf(t, f, client)
	for field, text := range map[string]string{"trigger": l.Trigger, "symptoms": l.Symptoms, "diagnoses": l.Diagnoses, "medicines": l.Medicines, "activity": l.Activity, "plan": l.Plan} {
		if text == "" {
			t.Errorf("the draft has no %s", field)
		}
	}
	if !strings.Contains(l.Symptoms, storetest.Day.Words()) || strings.Contains(strings.ToLower(l.Diagnoses), "asthma") {
		t.Errorf("symptoms %q, diagnoses %q; want the onset, and not what the doctor does not need", l.Symptoms, l.Diagnoses)
	}
	without := l
	without.ConsentOn = domain.Date{}
	err := f.SendReferral(t.Context(), f.Mira.Actor(), client, id, 1, without, storetest.Day, "post")
	if problems, _ := errors.AsType[domain.Problems](err); problems["ground"] == "" {
		t.Errorf("sent without consent: %v", err)
	}
	if err := f.SaveReferral(t.Context(), f.Mira.Actor(), client, id, 1, l); err != nil {
		t.Fatal(err)
	}
	if err := f.SaveReferral(t.Context(), f.Lead.Actor(), client, id, 1, l); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("saved on an old version: %v; want %v", err, domain.ErrConflict)
	}
	if err := f.SendReferral(t.Context(), f.Mira.Actor(), client, id, 2, l, storetest.Day, "post"); err != nil {
		t.Fatal(err)
	}
	if err := f.SaveReferral(t.Context(), f.Mira.Actor(), client, id, 2, l); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("changed after it was sent: %v; want %v", err, domain.ErrConflict)
	}
	practice := storetest.Must(f.Store.Practice(t.Context()))
	for _, tt := range []struct { // practice settings: a reminder from 14 days on, lapsed from 30 days on
		days int
		want clearance.Waiting
	}{{13, clearance.NothingDue}, {14, clearance.ReminderDue}, {29, clearance.ReminderDue}, {30, clearance.AnswerLate}} {
		for f.Today(practice).DaysSince(storetest.Day) < tt.days {
			f.Wait(day)
		}
		q := storetest.Must(f.DoctorQueue(t.Context(), f.Mira.Actor()))
		if len(q.Letters) != 1 || q.Letters[0].Waiting != tt.want || q.Letters[0].Days != tt.days || len(q.Unasked) != 0 {
			t.Errorf("after %d days: %+v; want %s", tt.days, q.Letters, tt.want)
		}
	}
	if err := f.MarkReferral(t.Context(), f.Mira.Actor(), client, id, clearance.NoAnswer, "Called twice."); err != nil {
		t.Fatal(err)
	}
	if q := storetest.Must(f.DoctorQueue(t.Context(), f.Mira.Actor())); len(q.Letters) != 0 || len(q.Unasked) != 1 {
		t.Errorf("%d letters wait, %d clients are not asked for; want 0 and 1", len(q.Letters), len(q.Unasked))
	}
	in := storetest.Cleared(intensity.Moderate, "chest_pressure", "stroke")
	in.Referral = id
	storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, in)) // late, and still an answer
	_, r, err := f.Referral(t.Context(), f.Mira.Actor(), client, id)
	if err != nil || r.Status != clearance.Answered {
		t.Errorf("the letter is %s, %v; want answered", r.Status, err)
	}
	if err := f.MarkReferral(t.Context(), f.Mira.Actor(), client, id, clearance.Withdrawn, ""); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("withdrawn after the answer: %v; want %v", err, domain.ErrConflict)
	}
	for _, action := range []string{"referral.draft", "referral.save", "referral.sent", "referral.view", "referral.no_answer", "referral.answered"} {
		if f.Count(`SELECT count(*) FROM audit WHERE client_id = $1 AND action = $2`, client, action) == 0 {
			t.Errorf("no audit entry %s", action)
		}
	}
	if _, _, err := f.Referral(t.Context(), f.Tomas.Actor(), client, id); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner reads the letter: %v", err)
	}
}

// answerOf is what a doctor sends with a link.
func answerOf(ceiling intensity.Class, codes ...string) store.DoctorAnswer {
	return store.DoctorAnswer{Decision: storetest.Cleared(ceiling, codes...).Decision, Signature: "Edda Lund"}
}

// TestDoctorLinkWaitsForTheClient opens a letter while somebody changes the record. The
// link is free in the meantime, or the two would wait for each other; and what was
// done to it counts: a letter that was taken back is not shown.
func TestDoctorLinkWaitsForTheClient(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	birth := storetest.Must(f.HoldFile(t.Context(), f.Mira.Actor(), client)).Client.BirthDate
	token := storetest.Must(f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, sent(t, f, client)))
	change := storetest.Must(f.Pool.Begin(t.Context()))
	defer func() { _ = change.Rollback(context.Background()) }()
	storetest.Must(change.Exec(t.Context(), `SELECT FROM clients WHERE id = $1 FOR UPDATE`, client))
	opened := make(chan error)
	go func() {
		_, err := f.DoctorLetter(t.Context(), token, birth)
		opened <- err
	}()
	for waiting := 0; waiting == 0; {
		select {
		case err := <-opened:
			t.Fatalf("the letter did not wait: %v", err)
		default:
		}
		waiting = f.Count(`SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND wait_event_type = 'Lock'`)
	}
	if _, err := change.Exec(t.Context(), `SELECT FROM doctor_links FOR UPDATE NOWAIT`); err != nil {
		t.Fatalf("the link is locked: %v", err)
	}
	storetest.Must(change.Exec(t.Context(), `UPDATE doctor_links SET voided_at = now()`))
	if err := change.Commit(t.Context()); err != nil {
		t.Fatal(err)
	}
	if err := <-opened; !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("the letter of a link that was ended in the meantime: %v; want %v", err, domain.ErrNotFound)
	}
}

// TestDoctorLink answers a letter with its link, once, and lets it count when the
// practitioner has confirmed it.
func TestDoctorLink(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	birth := storetest.Must(f.HoldFile(t.Context(), f.Mira.Actor(), client)).Client.BirthDate
	id := sent(t, f, client)
	old := storetest.Must(f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, id))
	token := storetest.Must(f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, id))
	for _, bad := range []string{old, "guess", ""} {
		if _, err := f.DoctorLetter(t.Context(), bad, birth); !errors.Is(err, domain.ErrNotFound) {
			t.Errorf("with the link %q: %v; want %v", bad, err, domain.ErrNotFound)
		}
	}
	if n := f.Count(`SELECT count(*) FROM doctor_links WHERE token_hash LIKE '%' || $1 || '%'`, token); n != 0 {
		t.Error("the token is stored")
	}
	l, err := f.DoctorLetter(t.Context(), token, birth)
	if err != nil || l.Letter.Doctor != "Dr Edda Lund" || len(l.Causes) != 1 {
		t.Fatalf("letter = %+v, %v", l, err)
	}
	unsigned := answerOf(intensity.Moderate, "chest_pressure")
	unsigned.Signature, unsigned.DecidedBy.Registration = "Somebody", ""
	_, err = f.AnswerReferral(t.Context(), token, birth, unsigned)
	if problems, _ := errors.AsType[domain.Problems](err); problems["signature"] == "" || problems["decided_by.registration"] == "" {
		t.Errorf("without a signature: %v", err)
	}
	if _, err := f.AnswerReferral(t.Context(), token, birth, answerOf(intensity.Moderate, "chest_pressure")); err != nil {
		t.Fatal(err)
	}
	if _, err := f.AnswerReferral(t.Context(), token, birth, answerOf(intensity.Vigorous, "chest_pressure")); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("answered twice: %v; want %v", err, domain.ErrNotFound)
	}
	if c := ceilingOf(t, f, client); c != intensity.None {
		t.Errorf("before it is confirmed the ceiling is %s; want none", c)
	}
	if q := storetest.Must(f.DoctorQueue(t.Context(), f.Mira.Actor())); len(q.Letters) != 1 || q.Letters[0].Pending == nil {
		t.Errorf("letters = %+v; want one with an answer to confirm", q.Letters)
	}
	if _, err := f.ConfirmAnswer(t.Context(), f.Tomas.Actor(), client, id, store.ConfirmInput{Release: true}); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner confirms: %v", err)
	}
	storetest.Must(f.ConfirmAnswer(t.Context(), f.Mira.Actor(), client, id, store.ConfirmInput{Release: true}))
	if c := ceilingOf(t, f, client); c != intensity.Moderate {
		t.Errorf("confirmed: ceiling %s; want moderate", c)
	}
	if _, err := f.ConfirmAnswer(t.Context(), f.Mira.Actor(), client, id, store.ConfirmInput{}); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("confirmed twice: %v", err)
	}
	for _, action := range []string{"referral.link", "referral.link_view", "referral.link_answer", "clearance.record"} {
		if f.Count(`SELECT count(*) FROM audit WHERE client_id = $1 AND action = $2`, client, action) == 0 {
			t.Errorf("no audit entry %s", action)
		}
	}
}

// TestDoctorLinkGuessed: five wrong birth dates void a link, and 30 days end it
// (practice settings).
func TestDoctorLinkGuessed(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	birth := storetest.Must(f.HoldFile(t.Context(), f.Mira.Actor(), client)).Client.BirthDate
	id := sent(t, f, client)
	token := storetest.Must(f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, id))
	for i := range 5 {
		if l, err := f.DoctorLetter(t.Context(), token, birth.AddDays(i+1)); !errors.Is(err, store.ErrLinkTry) || l.Client.GivenName != "" {
			t.Errorf("wrong birth date: %+v, %v; want %v and nothing", l, err, store.ErrLinkTry)
		}
	}
	if _, err := f.DoctorLetter(t.Context(), token, birth); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("the right date after five wrong ones: %v; want %v", err, domain.ErrNotFound)
	}
	token = storetest.Must(f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, id))
	f.Wait(30*day - 1)
	if _, err := f.DoctorLetter(t.Context(), token, birth); err != nil {
		t.Errorf("within 30 days: %v", err)
	}
	f.Wait(1)
	if _, err := f.DoctorLinkPractice(t.Context(), token); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("after 30 days: %v; want %v", err, domain.ErrNotFound)
	}
	token = storetest.Must(f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, id))
	if err := f.MarkReferral(t.Context(), f.Mira.Actor(), client, id, clearance.Withdrawn, "Not needed."); err != nil {
		t.Fatal(err)
	}
	if _, err := f.DoctorLetter(t.Context(), token, birth); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("the letter was withdrawn: %v; want %v", err, domain.ErrNotFound)
	}
}

// TestDoctorLinkSetAside settles an answer that is not the doctor's.
func TestDoctorLinkSetAside(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	birth := storetest.Must(f.HoldFile(t.Context(), f.Mira.Actor(), client)).Client.BirthDate
	id := sent(t, f, client)
	token := storetest.Must(f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, id))
	if _, err := f.AnswerReferral(t.Context(), token, birth, answerOf(intensity.Vigorous, "chest_pressure")); err != nil {
		t.Fatal(err)
	}
	if _, err := f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, id); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("a new link while an answer waits: %v", err)
	}
	if err := f.SetAsideAnswer(t.Context(), f.Mira.Actor(), client, id, "The surgery knows nothing of it."); err != nil {
		t.Fatal(err)
	}
	if c := ceilingOf(t, f, client); c != intensity.None {
		t.Errorf("ceiling %s; want none", c)
	}
	if _, err := f.NewDoctorLink(t.Context(), f.Mira.Actor(), client, id); err != nil {
		t.Errorf("a new link afterwards: %v", err)
	}
}
