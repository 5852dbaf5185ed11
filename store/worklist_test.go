package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/triage"
	"brae/domain/worklist"
	"brae/store"
	"brae/store/storetest"
)

// feeling is a walk with reports.
func feeling(reports ...triage.Report) store.SessionInput {
	in := storetest.Walk(20)
	in.Reports = reports
	return in
}

// TestWorklistFlags: an emergency stands first; a flag is done once, with a reason,
// and can be put back; nobody sees those of another caseload.
func TestWorklistFlags(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	calm, ill := f.Client(), f.Client()
	for _, c := range []uuid.UUID{calm, ill} {
		f.ScreenClient(c)
	}
	storetest.Must(f.LogSession(ctx, mira, calm, feeling("tired_next_day")))
	f.Wait(time.Minute)
	storetest.Must(f.LogSession(ctx, mira, ill, feeling("chest_pressure_now")))

	all := storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{}))
	if len(all.Items) < 2 || all.Items[0].Urgency != worklist.Now || all.Items[0].ClientID != ill || all.Items[0].Flag == uuid.Nil {
		t.Fatalf("items = %+v; want the emergency first", all.Items)
	}
	flag := all.Items[0].Flag
	if all.Items[0].Action == "" || all.Items[0].Href == "" || all.Items[0].Since != storetest.Day {
		t.Errorf("the emergency is %+v; want an action, where, and since when", all.Items[0])
	}
	only := storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{Urgency: worklist.Now}))
	if len(only.Items) != 1 || only.Total != all.Total || only.Counts[worklist.Now] != 1 {
		t.Errorf("emergencies: %d of %d, counts %v", len(only.Items), only.Total, only.Counts)
	}
	if other := storetest.Must(f.Worklist(ctx, f.Tomas.Actor(), store.WorklistFilter{Practitioner: f.Mira.ID})); other.Total != 0 || len(other.Workload) != 0 {
		t.Errorf("another practitioner sees %+v", other)
	}
	lead := storetest.Must(f.Worklist(ctx, f.Lead.Actor(), store.WorklistFilter{Practitioner: f.Mira.ID}))
	if lead.Total != all.Total || len(lead.Workload) != 1 || lead.Workload[0].Now != 1 || lead.Workload[0].Entries != all.Total {
		t.Errorf("the lead sees %d, workload %+v", lead.Total, lead.Workload)
	}
	if none := storetest.Must(f.Worklist(ctx, f.Lead.Actor(), store.WorklistFilter{Practitioner: f.Tomas.ID})); none.Total != 0 || none.Workload[0].Entries != all.Total {
		t.Errorf("of another practitioner the lead sees %+v", none)
	}

	joined := f.JoinClient(ill, "ill").Actor()
	for who, tt := range map[string]struct {
		actor store.Actor
		want  error
	}{"another practitioner": {f.Tomas.Actor(), domain.ErrNotFound}, "the client": {joined, domain.ErrForbidden}} {
		if err := f.FinishFlag(ctx, tt.actor, flag, "done"); !errors.Is(err, tt.want) {
			t.Errorf("%s is done with a flag: %v", who, err)
		}
		if err := f.PutBackFlag(ctx, tt.actor, flag); !errors.Is(err, tt.want) {
			t.Errorf("%s puts a flag back: %v", who, err)
		}
	}
	if _, err := f.Worklist(ctx, joined, store.WorklistFilter{}); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("the client reads the worklist: %v", err)
	}
	if p, ok := errors.AsType[domain.Problems](f.FinishFlag(ctx, mira, flag, " ")); !ok || p["reason"] == "" {
		t.Error("a flag is done without a reason")
	}
	if err := f.PutBackFlag(ctx, mira, flag); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("an open flag is put back: %v", err)
	}
	if err := f.FinishFlag(ctx, mira, flag, " Spoken to: pain is gone, doctor informed. "); err != nil {
		t.Fatal(err)
	}
	if err := f.FinishFlag(ctx, mira, flag, "again"); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("done twice: %v", err)
	}
	after := storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{}))
	if after.Counts[worklist.Now] != 0 || len(after.Done) != 1 || after.Done[0].Reason != "Spoken to: pain is gone, doctor informed." || after.Done[0].By != "mira" {
		t.Errorf("after it: counts %v, done %+v", after.Counts, after.Done)
	}
	if err := f.PutBackFlag(ctx, mira, flag); err != nil {
		t.Fatal(err)
	}
	back := storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{}))
	if back.Counts[worklist.Now] != 1 || len(back.Done) != 0 {
		t.Errorf("put back: counts %v, done %+v", back.Counts, back.Done)
	}
	if n := f.Count(`SELECT count(*) FROM flags WHERE client_id = $1 AND done_reason <> ''`, ill); n != 1 {
		t.Errorf("%d flags kept with their reason; want 1", n)
	}
	for action, want := range map[string]int{"today.view": 7, "flag.done": 1} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1`, action); n != want {
			t.Errorf("%d entries of %s; want %d", n, action, want)
		}
	}
}

// TestWorklistFromRecord: what the record asks for comes and goes with its cause.
func TestWorklistFromRecord(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	kinds := func() map[worklist.Kind]int {
		n := map[worklist.Kind]int{}
		for _, item := range storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{})).Items {
			n[item.Kind]++
		}
		return n
	}
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	if got := kinds(); got[worklist.Unasked] != 1 || got[worklist.Letter] != 0 {
		t.Errorf("held, nobody has written: %v", got)
	}
	letter := storetest.Must(f.WriteReferral(ctx, mira, client))
	if got := kinds(); got[worklist.Unasked] != 0 || got[worklist.Letter] != 1 {
		t.Errorf("a letter is begun: %v", got)
	}
	in := storetest.Cleared(intensity.Moderate, "chest_pressure")
	in.ValidUntil = storetest.Day.AddDays(20)
	storetest.Must(f.RecordClearance(ctx, mira, client, in))
	if got := kinds(); got[worklist.Decision] != 0 || got[worklist.Letter] != 1 {
		t.Errorf("a decision that lapses in 20 days, and a letter is under way: %v", got)
	}
	if err := f.MarkReferral(ctx, mira, client, letter, clearance.Withdrawn, ""); err != nil {
		t.Fatal(err)
	}
	if got := kinds(); got[worklist.Decision] != 1 {
		t.Errorf("a decision that lapses in 20 days: %v", got)
	}
	walk := storetest.Must(f.AddTest(ctx, mira, client, walked(402, storetest.Day)))
	f.Wait(84 * 24 * time.Hour)
	if got := kinds(); got[worklist.Retest] != 1 {
		t.Errorf("a test of %s after twelve weeks: %v", walk.DoneOn, got)
	}
	f.Wait(300 * 24 * time.Hour)
	if got := kinds(); got[worklist.Rescreen] != 1 {
		t.Errorf("a screening of more than a year: %v", got)
	}
}

// TestWorklistStandsOnce: what is not for today and comes again stands there once,
// and goes as one; what comes after it was done stands there anew.
func TestWorklistStandsOnce(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client := f.Client()
	f.ScreenClient(client)
	for range 3 {
		storetest.Must(f.LogSession(ctx, mira, client, feeling("tired_next_day")))
		f.Wait(time.Minute)
	}
	items := storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{})).Items
	if len(items) != 1 || items[0].Before != 2 {
		t.Fatalf("three of the same are %+v; want one line with two before", items)
	}
	if err := f.FinishFlag(ctx, mira, items[0].Flag, "Slept badly."); err != nil {
		t.Fatal(err)
	}
	if n := f.Count(`SELECT count(*) FROM flags WHERE done_reason = 'Slept badly.'`); n != 3 {
		t.Errorf("%d flags are done; want 3", n)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'flag.done'`); n != 3 {
		t.Errorf("%d entries in the audit trail; want 3", n)
	}
	storetest.Must(f.LogSession(ctx, mira, client, feeling("tired_next_day")))
	if items := storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{})).Items; len(items) != 1 || items[0].Before != 0 {
		t.Errorf("the next one is %+v", items)
	}
}

// TestWorklistSignOff: a sign-off for vigorous work that runs out stands on the list of
// the practitioner and of the lead, before it does and after, and goes with the next
// one (30 and 7 days: practice settings). What is no vigorous work asks for none.
func TestWorklistSignOff(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx := t.Context()
	listed := func(who store.Actor) string {
		for _, item := range storetest.Must(f.Worklist(ctx, who, store.WorklistFilter{})).Items {
			if item.Kind == worklist.SignOff {
				return item.Text
			}
		}
		return ""
	}
	easy := f.Client()
	f.ScreenClient(easy)
	storetest.Must(f.SignPrescription(ctx, f.Mira.Actor(), easy, storetest.Walking(0)))
	id := f.Client()
	f.ScreenClient(id, intake.FieldActivityClass, "vigorous", intake.FieldDesired, "vigorous")
	in := storetest.Walking(0)
	in.Class, in.Activities = intensity.Vigorous, "Hill runs"
	storetest.Must(f.SignPrescription(ctx, f.Mira.Actor(), id, in))
	f.Wait(22 * day)
	if got := listed(f.Mira.Actor()); got != "" {
		t.Errorf("eight days before: %q", got)
	}
	f.Wait(day)
	for who, actor := range map[string]store.Actor{"the practitioner": f.Mira.Actor(), "the lead": f.Lead.Actor()} {
		if got := listed(actor); !strings.Contains(got, "runs out in 7 days") {
			t.Errorf("seven days before, %s: %q", who, got)
		}
	}
	if got := listed(f.Tomas.Actor()); got != "" {
		t.Errorf("another practitioner: %q", got)
	}
	f.Wait(8 * day)
	if got := listed(f.Mira.Actor()); !strings.Contains(got, "ran out 1 day ago") {
		t.Errorf("a day after: %q", got)
	}
	week := storetest.Must(f.Week(ctx, f.Mira.Actor(), id))
	if week.Next.Class != intensity.Moderate {
		t.Errorf("the client is at %s; want moderate, as the entry says", week.Next.Class)
	}
	hold := storetest.Must(f.OpenHold(ctx, f.Mira.Actor(), id, clearance.Vigorous, "Wait for the blood test."))
	if got := listed(f.Mira.Actor()); got != "" {
		t.Errorf("on hold, which no signature ends: %q", got)
	}
	if err := f.ReleaseHold(ctx, f.Mira.Actor(), id, hold, "The test is fine."); err != nil {
		t.Fatal(err)
	}
	in = storetest.Walking(1)
	in.Class, in.Activities = intensity.Vigorous, "Hill runs"
	storetest.Must(f.SignPrescription(ctx, f.Mira.Actor(), id, in))
	if got := listed(f.Lead.Actor()); got != "" {
		t.Errorf("signed again: %q", got)
	}
}
