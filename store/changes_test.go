package store_test

import (
	"errors"
	"slices"
	"sync"
	"testing"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/triage"
	"brae/store"
	"brae/store/storetest"
)

func TestEditSession(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	jon := f.JoinClient(client, "jon").Actor()
	in := storetest.Walk(30)
	storetest.Must(f.LogSession(t.Context(), jon, client, in))

	edit := in
	edit.Day = storetest.Day.AddDays(-3) // Sunday of the week before
	edit.Note = "it was the hill"
	edit.Parts = []store.PartInput{{Activity: "jog", Minutes: 20, Talk: intensity.TalkFewWords, Effort: 15}}
	after, err := f.EditSession(t.Context(), jon, client, in.ID, 1, edit, "typed too fast")
	if err != nil {
		t.Fatal(err)
	}
	if after.Version != 2 || after.Day != edit.Day || after.Week != domain.NewDate(2026, 11, 16) || after.Totals.Vigorous != 20 || after.Note != edit.Note {
		t.Errorf("edited: %+v", after.Session)
	}
	if n := f.Count(`SELECT count(*) FROM week_totals WHERE week = '2026-11-23'`); n != 0 {
		t.Error("the week that the session has left still has a row")
	}
	record := storetest.Must(f.SessionRecord(t.Context(), f.Mira.Actor(), client, in.ID))
	if len(record.Revisions) != 1 || len(record.Triages) != 2 {
		t.Fatalf("%d revisions, %d triages; want 1 and 2", len(record.Revisions), len(record.Triages))
	}
	r := record.Revisions[0]
	if r.Version != 1 || r.Body.Day != in.Day || r.Body.Parts[0].Minutes != 30 || r.Body.Parts[0].Class != intensity.Moderate ||
		r.Change != store.Edited || r.Reason != "typed too fast" || r.ReplacedBy != "Jon Ashby" || !r.ReplacedAt.Equal(storetest.Now) {
		t.Errorf("what stood before: %+v", r)
	}
	// The same edit sent twice is one edit.
	again, err := f.EditSession(t.Context(), jon, client, in.ID, 1, edit, "typed too fast")
	if err != nil || !again.Again || again.Version != 2 {
		t.Errorf("sent again: version %d, %v", again.Version, err)
	}
	for action, want := range map[string]int{"session.log": 1, "session.edit": 1} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND actor_id = $2 AND client_id = $3`, action, jon.ID, client); n != want {
			t.Errorf("%d audit entries of %s; want %d", n, action, want)
		}
	}
	if _, err := f.Pool.Exec(t.Context(), `UPDATE session_revisions SET reason = ''`); err == nil {
		t.Error("what stood before can be changed")
	}
	if _, err := f.EditSession(t.Context(), f.Tomas.Actor(), client, in.ID, 2, in, ""); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v; want %v", err, domain.ErrNotFound)
	}
}

// TestEditOnTwoDevices edits one version twice: the second is told and gets both
// versions, nothing is lost.
func TestEditOnTwoDevices(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	in := storetest.Walk(30)
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in))
	const devices = 8
	var group sync.WaitGroup
	results := make([]error, devices)
	for i := range devices {
		group.Go(func() {
			edit := in
			edit.Parts = []store.PartInput{{Activity: "walk_brisk", Minutes: 40 + i, Talk: intensity.TalkSentences}}
			_, results[i] = f.EditSession(t.Context(), f.Mira.Actor(), client, in.ID, 1, edit, "")
		})
	}
	group.Wait()
	won := slices.Index(results, nil)
	for i, err := range results {
		changed, ok := errors.AsType[*store.SessionChanged](err)
		if i != won && (!ok || !errors.Is(err, domain.ErrConflict) || changed.Now.Parts[0].Minutes != 40+won) {
			t.Errorf("device %d: %v; want to be told what stands there now", i, err)
		}
	}
	if n := f.Count(`SELECT moderate FROM week_totals`); won < 0 || n != 40+won {
		t.Errorf("the week has %d minutes; want those of device %d", n, won)
	}
}

func TestDeleteAndRestoreSession(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	jon := f.JoinClient(client, "jon").Actor()
	f.ScreenClient(client)
	in := storetest.Walk(30)
	in.Reports = []triage.Report{"dizzy_in_effort"}
	storetest.Must(f.LogSession(t.Context(), jon, client, in))
	if _, err := f.DeleteSession(t.Context(), jon, client, in.ID, 2, ""); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("delete a version that is not there: %v", err)
	}
	for range 2 { // a double tap
		deleted, err := f.DeleteSession(t.Context(), jon, client, in.ID, 1, "logged twice")
		if err != nil || deleted.Deleted.IsZero() || deleted.Version != 2 {
			t.Fatalf("delete: version %d, %v", deleted.Version, err)
		}
	}
	// The safety that it led to stays.
	if n := f.Count(`SELECT count(*) FROM holds WHERE released_at IS NULL`) + f.Count(`SELECT count(*) FROM flags WHERE done_at IS NULL`); n != 2 {
		t.Errorf("%d holds and flags are open; want 2", n)
	}
	week := storetest.Must(f.Week(t.Context(), jon, client))
	if len(week.Sessions) != 0 || week.Totals.ModerateEquivalent != 0 || len(week.Recent) != 0 {
		t.Errorf("the week still shows %+v", week.Sessions)
	}
	lines := storetest.Must(f.Caseload(t.Context(), f.Mira.Actor(), ""))
	if !lines[0].LastDay.IsZero() {
		t.Errorf("the last log is of %s", lines[0].LastDay)
	}
	own, staff := storetest.Must(f.History(t.Context(), jon, client, domain.Date{})), storetest.Must(f.History(t.Context(), f.Mira.Actor(), client, domain.Date{}))
	if len(own.Weeks[0].Sessions) != 0 || len(staff.Weeks[0].Sessions) != 1 || staff.Weeks[0].Totals.ModerateEquivalent != 0 {
		t.Error("staff see deleted sessions in the history, clients do not, and nobody counts them")
	}
	// The phone sends the session again: it is answered, and stays deleted.
	if again, err := f.LogSession(t.Context(), jon, client, in); err != nil || !again.Again || again.Deleted.IsZero() {
		t.Errorf("sent again: %+v, %v", again.Session, err)
	}
	restored, err := f.RestoreSession(t.Context(), jon, client, in.ID, 2)
	if err != nil || !restored.Deleted.IsZero() || restored.Version != 3 {
		t.Fatalf("restore: %+v, %v", restored.Session, err)
	}
	if n := f.Count(`SELECT moderate FROM week_totals`); n != 30 {
		t.Errorf("the week has %d minutes; want 30", n)
	}
	if n := f.Count(`SELECT count(*) FROM flags`); n != 1 {
		t.Errorf("%d flags; want 1: a restored session says nothing new", n)
	}
	for _, action := range []string{"session.delete", "session.restore"} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND actor_id = $2`, action, jon.ID); n != 1 {
			t.Errorf("%d audit entries of %s; want 1", n, action)
		}
	}
}

// TestReplayAgainstEdit sends the first form again while it is edited.
func TestReplayAgainstEdit(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	in := storetest.Walk(30)
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in))
	edit := in
	edit.Parts = []store.PartInput{{Activity: "walk_brisk", Minutes: 45, Talk: intensity.TalkSentences}}
	var group sync.WaitGroup
	for i := range 20 {
		group.Go(func() {
			var err error
			if i == 7 {
				_, err = f.EditSession(t.Context(), f.Mira.Actor(), client, in.ID, 1, edit, "")
			} else {
				_, err = f.LogSession(t.Context(), f.Mira.Actor(), client, in)
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
	group.Wait()
	if n := f.Count(`SELECT moderate FROM week_totals`); n != 45 {
		t.Errorf("the week has %d minutes; want 45", n)
	}
	if answer := storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in)); answer.Parts[0].Minutes != 45 {
		t.Errorf("the first form is answered with %d minutes; want 45 as stored", answer.Parts[0].Minutes)
	}
	_, err := f.EditSession(t.Context(), f.Mira.Actor(), client, uuid.New(), 1, edit, "")
	if !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("a session that is none: %v", err)
	}
}

// TestEditAnOldSession puts right what was logged before the days in which one can
// log, and leaves it on its day.
func TestEditAnOldSession(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	in := storetest.Walk(30)
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in))
	f.Wait(60 * 24 * 3600 * 1e9)
	edit := in
	edit.Note = "with the dog"
	if _, err := f.EditSession(t.Context(), f.Mira.Actor(), client, in.ID, 1, edit, ""); err != nil {
		t.Errorf("the note of an old session: %v", err)
	}
	edit.Day = in.Day.AddDays(-1)
	_, err := f.EditSession(t.Context(), f.Mira.Actor(), client, in.ID, 2, edit, "")
	if problems, ok := errors.AsType[domain.Problems](err); !ok || problems["day"] == "" {
		t.Errorf("to another old day: %v; want a problem", err)
	}
}
