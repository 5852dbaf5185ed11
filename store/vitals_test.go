package store_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/domain/worklist"
	"brae/store"
	"brae/store/storetest"
)

func pressure(sbp, dbp int) store.VitalsInput {
	return store.VitalsInput{ID: uuid.New(), Confirmed: true, Reading: screening.Reading{Vitals: screening.Vitals{SBP: &sbp, DBP: &dbp}}}
}

func openOf(f *storetest.Practice, client uuid.UUID) []store.Hold {
	return storetest.Must(f.Heading(context.Background(), f.Mira.Actor(), client)).Holds
}

// TestVitalsGate: a pressure above 200 over 110 waits for the second measurement
// (JABFM review of contraindications), holds when it stays, and is released when
// it was a mistake; a reading sent twice is stored once.
func TestVitalsGate(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client := f.Client()
	f.ScreenClient(client)

	first := pressure(206, 98)
	row := storetest.Must(f.TakeVitals(ctx, mira, client, first))
	if again := storetest.Must(f.TakeVitals(ctx, mira, client, first)); again.ID != row.ID {
		t.Errorf("sent twice it is %s and %s", row.ID, again.ID)
	}
	other := first
	other.Reading.RestingHR = new(70)
	if _, err := f.TakeVitals(ctx, mira, client, other); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("another reading under the same id: %v", err)
	}
	if !row.Judgement.Waiting("V1") || len(openOf(f, client)) != 0 {
		t.Errorf("a first reading of 206/98: %+v, holds %v; want a wait and no hold", row.Judgement, openOf(f, client))
	}
	list := storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{}))
	if len(list.Items) != 1 || list.Items[0].Kind != worklist.Vitals || list.Items[0].Urgency != worklist.Day {
		t.Errorf("the list has %+v; want that it is measured again", list.Items)
	}

	f.Wait(6 * time.Minute)
	second := first
	second.ID, second.Of, second.Reading.SBPAgain, second.Reading.DBPAgain = uuid.New(), row.ID, new(204), new(96)
	storetest.Must(f.TakeVitals(ctx, mira, client, second))
	holds := openOf(f, client)
	if len(holds) != 1 || holds[0].Scope != clearance.All || holds[0].Kind != clearance.FromVitals || holds[0].Cause != "V1" || holds[0].Needs != clearance.NeedsDoctor {
		t.Fatalf("still 204/96: %+v; want a stop of everything that a doctor ends", holds)
	}
	list = storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{Urgency: worklist.Day}))
	if len(list.Items) != 2 || list.Items[0].Flag == uuid.Nil || list.Items[1].Kind != worklist.Unasked {
		t.Errorf("the list has %+v; want a flag for the same day, and a letter to write", list.Items)
	}
	if _, err := f.TakeVitals(ctx, mira, client, store.VitalsInput{ID: uuid.New(), Of: row.ID, Reading: second.Reading, Confirmed: true}); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("a row that was replaced is replaced again: %v", err)
	}

	f.Wait(time.Minute)
	correct := pressure(126, 78)
	correct.Of, correct.Correct = second.ID, true
	if _, err := f.TakeVitals(ctx, mira, client, correct); err == nil {
		t.Error("corrected without a reason")
	}
	correct.Reason = "Typed 206 for 126."
	storetest.Must(f.TakeVitals(ctx, mira, client, correct))
	if holds := openOf(f, client); len(holds) != 0 {
		t.Errorf("after the correction there is %+v", holds)
	}
	if list := storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{})); len(list.Items) != 0 {
		t.Errorf("after the correction the list has %+v", list.Items)
	}
	file := storetest.Must(f.VitalsFile(ctx, mira, client))
	if len(file.Entries) != 3 || !file.Entries[0].InForce() || file.Entries[1].InForce() || file.Entries[2].InForce() || !file.Entries[0].TakenAt.Equal(row.TakenAt) {
		t.Errorf("the file has %+v; want three rows of which the newest counts, taken when the first was", file.Entries)
	}
	for action, want := range map[string]int{"vitals.new": 1, "vitals.again": 1, "vitals.correct": 1, "vitals.view": 1, "hold.open": 1, "hold.release": 1, "flag.done": 1} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, client); n != want {
			t.Errorf("%d entries of %s; want %d", n, action, want)
		}
	}
	if _, err := f.Pool.Exec(ctx, `UPDATE vitals SET reason = 'x'`); err == nil {
		t.Error("a reading can be changed")
	}
}

// TestVitalsRefuse: what cannot be, what has to be confirmed, nothing at all, and
// who may not.
func TestVitalsRefuse(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client := f.Client()
	f.ScreenClient(client)
	joined := f.JoinClient(client, "jon").Actor()
	for about, tt := range map[string]struct {
		in    store.VitalsInput
		field string
	}{
		"swapped": {pressure(80, 120), "dbp"}, "nothing": {store.VitalsInput{ID: uuid.New()}, "sbp"}, "impossible": {pressure(900, 90), "sbp"},
	} {
		if p, ok := errors.AsType[domain.Problems](second(f.TakeVitals(ctx, mira, client, tt.in))); !ok || p[tt.field] == "" {
			t.Errorf("%s: %v; want a problem of %s", about, p, tt.field)
		}
	}
	unsure := pressure(236, 90)
	unsure.Confirmed = false
	if d, ok := errors.AsType[domain.Doubts](second(f.TakeVitals(ctx, mira, client, unsure))); !ok || d["sbp"] == "" {
		t.Errorf("236 mmHg is not doubted: %v", d)
	}
	kept := storetest.Must(f.TakeVitals(ctx, mira, client, pressure(120, 80)))
	for who, tt := range map[string]struct {
		actor store.Actor
		want  error
	}{"another practitioner": {f.Tomas.Actor(), domain.ErrNotFound}, "the client": {joined, domain.ErrForbidden}} {
		for what, err := range map[string]error{
			"take": second(f.TakeVitals(ctx, tt.actor, client, pressure(120, 80))), "file": second(f.VitalsFile(ctx, tt.actor, client)),
			"error": f.MarkVitalsError(ctx, tt.actor, client, kept.ID, "why"),
		} {
			if !errors.Is(err, tt.want) {
				t.Errorf("%s, %s: %v; want %v", who, what, err, tt.want)
			}
		}
	}
	if err := f.MarkVitalsError(ctx, mira, client, kept.ID, " "); err == nil {
		t.Error("marked without a reason")
	}
	if err := f.MarkVitalsError(ctx, mira, client, kept.ID, "Of somebody else."); err != nil {
		t.Fatal(err)
	}
	if err := f.MarkVitalsError(ctx, mira, client, kept.ID, "Of somebody else."); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("marked twice: %v", err)
	}
	if n := f.Count(`SELECT count(*) FROM vitals WHERE change = 'error' AND supersedes = $1`, kept.ID); n != 1 {
		t.Errorf("%d rows say that it was an error", n)
	}
}

// TestVitalsReview: heart rates above 120 at rest on two days within a week put a
// doctor's decision under review (practice setting), also where the hold of the
// first is still open; one entered in error does not count.
func TestVitalsReview(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	decision := storetest.Must(f.RecordClearance(ctx, mira, client, storetest.Cleared(intensity.Moderate, "chest_pressure")))
	fast := func() store.Vitals {
		return storetest.Must(f.TakeVitals(ctx, mira, client, store.VitalsInput{
			ID: uuid.New(), Confirmed: true, Reading: screening.Reading{Vitals: screening.Vitals{RestingHR: new(124)}},
		}))
	}
	review := func() int { return len(storetest.Must(f.DoctorQueue(ctx, mira)).Review) }
	f.Wait(24 * time.Hour)
	fast()
	if n := review(); n != 0 {
		t.Errorf("after one reading %d decisions are under review", n)
	}
	f.Wait(48 * time.Hour)
	last := fast()
	if n := review(); n != 1 {
		t.Errorf("after two readings in three days %d decisions are under review; want 1", n)
	}
	if p, _ := errors.AsType[domain.Problems](f.MarkVitalsError(ctx, mira, client, last.ID, "Counted for half a minute.")); p["reason"] == "" {
		t.Error("a reading that stops exercise goes with a reason alone")
	}
	if err := f.MarkVitalsError(ctx, f.Lead.Actor(), client, last.ID, "Counted for half a minute."); err != nil {
		t.Fatal(err)
	}
	if n := review(); n != 0 {
		t.Errorf("a reading in error keeps %d decisions under review", n)
	}
	// The hold of the first stays until a doctor's decision names it.
	if holds := openOf(f, client); len(holds) != 1 || holds[0].Cause != "V6" {
		t.Fatalf("holds = %+v", holds)
	}
	in := storetest.Cleared(intensity.Moderate, "chest_pressure", "V6")
	in.Supersedes = decision.ID.String()
	in.DecidedOn, in.ReceivedOn = storetest.Day.AddDays(3), storetest.Day.AddDays(3)
	storetest.Must(f.RecordClearance(ctx, mira, client, in))
	if holds := openOf(f, client); len(holds) != 0 {
		t.Errorf("a decision that names it leaves %+v", holds)
	}
}

// TestVitalsWeights: with heart failure, 2.1 kg within three days rules out
// exercise (heart foundation's limit of more than 2 kg).
func TestVitalsWeights(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client := f.Client()
	f.ScreenClient(client, "q.heart_failure", "yes")
	file := storetest.Must(f.VitalsFile(ctx, mira, client))
	if !file.Asked.Weight || file.Asked.Glucose || file.Asked.Oxygen || !file.Known.HeartFailure {
		t.Errorf("with heart failure it asks %+v", file.Asked)
	}
	weigh := func(grams int) screening.Judgement {
		return storetest.Must(f.TakeVitals(ctx, mira, client, store.VitalsInput{ID: uuid.New(), Grams: grams, Confirmed: true})).Judgement
	}
	if j := weigh(80_000); len(j.Findings) != 0 {
		t.Errorf("the first weight: %+v", j)
	}
	f.Wait(48 * time.Hour)
	j := weigh(82_100)
	if len(j.Findings) != 1 || j.Findings[0].Rule != "V20" || j.Hold != clearance.All {
		t.Errorf("2.1 kg in two days: %+v; want V20", j)
	}
}

// A reading that holds exercise is not marked away with a reason alone: it takes a
// second one of the same today, or the lead (practice setting). 215/112 mmHg is above
// 200/110 (JABFM, contraindications).
func TestVitalsErrorNeedsMore(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client := f.Client()
	f.ScreenClient(client)
	stopping := pressure(215, 112)
	stopping.Reading.NotAgain = true
	high := storetest.Must(f.TakeVitals(ctx, mira, client, stopping))
	if len(openOf(f, client)) == 0 {
		t.Fatal("215/112 holds nothing")
	}
	refused := func(when string) {
		t.Helper()
		if p, _ := errors.AsType[domain.Problems](f.MarkVitalsError(ctx, mira, client, high.ID, "He was nervous.")); p["reason"] == "" || len(openOf(f, client)) == 0 {
			t.Errorf("%s: %v, and %d holds are open; want a problem of the reason", when, p, len(openOf(f, client)))
		}
	}
	refused("a reason alone")
	f.Wait(10 * time.Minute)
	pulse := store.VitalsInput{ID: uuid.New(), Confirmed: true}
	rate := 70
	pulse.Reading.RestingHR = &rate
	storetest.Must(f.TakeVitals(ctx, mira, client, pulse))
	refused("something else was measured")
	storetest.Must(f.TakeVitals(ctx, mira, client, pressure(128, 80)))
	if err := f.MarkVitalsError(ctx, mira, client, high.ID, "The cuff was too small."); err != nil || len(openOf(f, client)) != 0 {
		t.Errorf("measured again: %v, and %d holds are open", err, len(openOf(f, client)))
	}
	stopping = pressure(215, 112)
	stopping.Reading.NotAgain = true
	high = storetest.Must(f.TakeVitals(ctx, mira, client, stopping))
	f.Wait(24 * time.Hour)
	storetest.Must(f.TakeVitals(ctx, mira, client, pressure(128, 80)))
	if err := f.MarkVitalsError(ctx, f.Lead.Actor(), client, high.ID, "Of the next client."); err != nil {
		t.Errorf("the lead: %v", err)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE client_id = $1 AND action = 'vitals.error' AND actor_id = $2`, client, f.Lead.ID); n != 1 {
		t.Errorf("%d audit entries of the lead; want 1", n)
	}
}
