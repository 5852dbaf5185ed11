package store_test

import (
	"errors"
	"fmt"
	"sync"
	"testing"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/store"
	"brae/store/storetest"
)

// wrongWeeks counts the weeks whose kept totals are not the sum of the parts of
// the sessions that count, added up by SQL.
const wrongWeeks = `
	SELECT count(*) FROM (
		SELECT s.week, s.client_id,
			sum(p.minutes) FILTER (WHERE p.class IN ('very_light', 'light')) AS light,
			sum(p.minutes) FILTER (WHERE p.class = 'moderate') AS moderate,
			sum(p.minutes) FILTER (WHERE p.class IN ('vigorous', 'near_maximal')) AS vigorous,
			count(DISTINCT s.id) AS sessions
		FROM sessions s JOIN session_parts p ON p.session_id = s.id
		WHERE s.deleted_at IS NULL GROUP BY s.week, s.client_id) sums
	FULL JOIN week_totals w USING (week, client_id)
	WHERE (coalesce(sums.light, 0), coalesce(sums.moderate, 0), coalesce(sums.vigorous, 0), sums.sessions)
		IS DISTINCT FROM (w.light, w.moderate, w.vigorous, w.sessions)
		OR w.moderate_equivalent <> w.moderate + 2 * w.vigorous`

// TestWeekTotalsEqualTheirParts logs, edits, deletes, restores and sends again at
// random. After each step the kept totals are the sum of the parts; at the end
// the page shows them, and every version that was replaced is kept.
func TestWeekTotalsEqualTheirParts(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	clients := []uuid.UUID{f.Client(), f.Client()}
	type logged struct {
		client uuid.UUID
		first  store.SessionInput // as it was sent
		now    store.Session
	}
	var all []*logged
	body := func(rt *rapid.T) store.SessionInput {
		in := store.SessionInput{ID: uuid.New(), Day: storetest.Day.AddDays(-rapid.IntRange(0, 28).Draw(rt, "days ago")), Confirmed: true}
		for range rapid.IntRange(1, 3).Draw(rt, "parts") {
			in.Parts = append(in.Parts, store.PartInput{
				Activity: "walk_brisk", Minutes: rapid.IntRange(1, 90).Draw(rt, "minutes"), Talk: rapid.SampledFrom(intensity.Talks()).Draw(rt, "talk"),
			})
		}
		return in
	}
	rapid.Check(t, func(rt *rapid.T) {
		for range rapid.IntRange(1, 4).Draw(rt, "steps") {
			if len(all) == 0 || rapid.Bool().Draw(rt, "new") {
				l := &logged{client: rapid.SampledFrom(clients).Draw(rt, "client"), first: body(rt)}
				for range rapid.IntRange(1, 2).Draw(rt, "times sent") {
					answer, err := f.LogSession(t.Context(), f.Mira.Actor(), l.client, l.first)
					if err != nil {
						rt.Fatal(err)
					}
					l.now = answer.Session
				}
				all = append(all, l)
				continue
			}
			l := rapid.SampledFrom(all).Draw(rt, "of")
			var answer store.LoggedSession
			var err error
			switch rapid.IntRange(0, 4).Draw(rt, "what") {
			case 0, 1:
				if answer, err = f.EditSession(t.Context(), f.Mira.Actor(), l.client, l.now.ID, l.now.Version, body(rt), ""); !l.now.Deleted.IsZero() {
					if !errors.Is(err, domain.ErrConflict) {
						rt.Fatalf("edit of a deleted session: %v; want a conflict", err)
					}
					answer.Session, err = l.now, nil
				}
			case 2:
				answer, err = f.DeleteSession(t.Context(), f.Mira.Actor(), l.client, l.now.ID, l.now.Version, "twice")
			case 3:
				answer, err = f.RestoreSession(t.Context(), f.Mira.Actor(), l.client, l.now.ID, l.now.Version)
			default: // the phone sends its first form again
				if answer, err = f.LogSession(t.Context(), f.Mira.Actor(), l.client, l.first); err == nil && (!answer.Again || answer.Version != l.now.Version) {
					rt.Fatalf("sent again: version %d, again %v; want version %d as stored", answer.Version, answer.Again, l.now.Version)
				}
			}
			if err != nil {
				rt.Fatal(err)
			}
			l.now = answer.Session
		}
		if n := f.Count(wrongWeeks); n != 0 {
			rt.Fatalf("%d weeks differ from the sum of their parts", n)
		}
	})
	for _, client := range clients {
		week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
		kept := f.Count(`SELECT coalesce(sum(moderate_equivalent), 0) FROM week_totals WHERE client_id = $1 AND week = $2`, client, week.Week)
		if week.Totals.ModerateEquivalent != kept {
			t.Errorf("the page shows %d minutes; kept are %d", week.Totals.ModerateEquivalent, kept)
		}
	}
	if n := f.Count(`SELECT count(*) FROM sessions s WHERE s.version <> 1 + (SELECT count(*) FROM session_revisions r WHERE r.session_id = s.id)`); n != 0 {
		t.Errorf("of %d sessions a version is lost", n)
	}
}

// TestHundredPhonesAtOnce lets a hundred phones log at the same moment, each
// twice, and half of them for the same client. None is lost, none counts twice.
func TestHundredPhonesAtOnce(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	const phones = 100
	shared := f.Client()
	var others []uuid.UUID
	for range 5 {
		others = append(others, f.Client())
	}
	var group sync.WaitGroup
	start := make(chan struct{})
	minutes := map[uuid.UUID]int{}
	errs := make(chan error, 2*phones)
	for i := range phones {
		client := shared
		if i%2 == 1 {
			client = others[i/2%len(others)]
		}
		in := storetest.Walk(i%40 + 1)
		minutes[client] += i%40 + 1
		for range 2 {
			group.Go(func() {
				<-start
				if _, err := f.LogSession(t.Context(), f.Mira.Actor(), client, in); err != nil {
					errs <- fmt.Errorf("phone %d: %w", i, err)
				}
			})
		}
	}
	close(start)
	group.Wait()
	close(errs)
	for err := range errs {
		t.Error(err)
	}
	if n := f.Count(`SELECT count(*) FROM sessions`); n != phones {
		t.Errorf("%d sessions; want %d", n, phones)
	}
	if n := f.Count(`SELECT count(*) FROM triages`); n != phones {
		t.Errorf("%d triages; want %d: each session is sorted once", n, phones)
	}
	for client, want := range minutes {
		if n := f.Count(`SELECT moderate FROM week_totals WHERE client_id = $1`, client); n != want {
			t.Errorf("a client has %d minutes; want %d", n, want)
		}
	}
	if n := f.Count(wrongWeeks); n != 0 {
		t.Errorf("%d weeks differ from the sum of their parts", n)
	}
}
