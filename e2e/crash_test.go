package e2e

import (
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
)

// A thousand logs are under way when Brae is killed, and later its PostgreSQL.
// The phones send each one until it is acknowledged, and in the end all of them
// once more. There must then be a thousand sessions, each as it was sent, and
// totals that add up.
func TestCrashInTheMiddleOfLogs(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	client := NewPractice(t, brae).AddClient("Cora", "Crag")
	logs := thousandLogs(t)

	var acknowledged atomic.Int64
	jobs := make(chan url.Values)
	var phones sync.WaitGroup
	for range 8 {
		phones.Go(func() {
			for log := range jobs {
				send(t, client.Phone, log)
				acknowledged.Add(1)
			}
		})
	}
	go func() {
		defer close(jobs)
		for _, log := range logs {
			jobs <- log
		}
	}()
	until := func(n int64) {
		for end := time.Now().Add(2 * time.Minute); acknowledged.Load() < n; time.Sleep(time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("only %d logs were acknowledged within two minutes", acknowledged.Load())
			}
		}
	}
	until(250)
	brae.Kill()
	brae.Again()
	until(600)
	brae.KillPostgres()
	killed := time.Now()
	until(601 + 8) // those that were under way may have been answered before
	t.Logf("the first logs after the end of PostgreSQL were acknowledged within %s", time.Since(killed).Round(time.Millisecond))
	phones.Wait()

	db := brae.Query()
	if n := brae.Count(db, `SELECT count(*) FROM sessions`); n != len(logs) {
		t.Errorf("%d sessions are stored after %d were acknowledged", n, len(logs))
	}
	for _, log := range logs { // as a phone does that has not heard the answer
		send(t, client.Phone, log)
	}
	rows, err := db.Query(t.Context(), `
		SELECT s.id::text, s.day::text || ' ' || string_agg(p.minutes || ' ' || p.activity || ' ' || p.talk, ', ' ORDER BY p.n)
		FROM sessions s JOIN session_parts p ON p.session_id = s.id GROUP BY s.id`)
	if err != nil {
		t.Fatal(err)
	}
	stored := map[string]string{}
	for rows.Next() {
		var id, what string
		if err := rows.Scan(&id, &what); err != nil {
			t.Fatal(err)
		}
		stored[id] = what
	}
	sent := map[string]string{}
	for _, log := range logs {
		sent[log.Get("id")] = fmt.Sprintf("%s %s %s %s", log.Get("day"), log.Get("parts[0].minutes"), log.Get("parts[0].activity"), log.Get("parts[0].talk"))
	}
	if !maps.Equal(stored, sent) {
		t.Errorf("%d sessions are stored, and they are not the %d that were sent", len(stored), len(sent))
	}
	if n := brae.Count(db, `
		SELECT count(*) FROM week_totals w FULL JOIN (
			SELECT s.week, s.client_id, count(DISTINCT s.id) AS sessions,
				sum(p.minutes) FILTER (WHERE p.class IN ('very_light', 'light')) AS light,
				sum(p.minutes) FILTER (WHERE p.class = 'moderate') AS moderate,
				sum(p.minutes) FILTER (WHERE p.class IN ('vigorous', 'near_maximal')) AS vigorous
			FROM sessions s JOIN session_parts p ON p.session_id = s.id GROUP BY s.week, s.client_id
		) AS parts USING (week, client_id)
		WHERE (w.light, w.moderate, w.vigorous, w.sessions) IS DISTINCT FROM
			(coalesce(parts.light, 0), coalesce(parts.moderate, 0), coalesce(parts.vigorous, 0), parts.sessions)`); n != 0 {
		t.Errorf("the totals of %d weeks are not the sum of their parts", n)
	}
	var minutes int
	for i := range logs {
		minutes += i%45 + 1
	}
	if n := brae.Count(db, `SELECT sum(light + moderate + vigorous) FROM week_totals`); n != minutes {
		t.Errorf("the totals come to %d minutes, %d were sent", n, minutes)
	}
	if n := brae.Count(db, `SELECT count(*) FROM audit WHERE action = 'session.log'`); n != len(logs) {
		t.Errorf("%d sessions are in the audit trail, not %d", n, len(logs))
	}
}

// thousandLogs are the forms of a thousand sessions over four weeks, each with
// an id that the phone has made.
func thousandLogs(t *testing.T) []url.Values {
	t.Helper()
	day, err := time.Parse(time.DateOnly, today(t))
	if err != nil {
		t.Fatal(err)
	}
	talks := []string{"sing", "sentences", "few_words"}
	logs := make([]url.Values, 1000)
	for i := range logs {
		logs[i] = url.Values{
			"id": {uuid.NewString()}, "day": {day.AddDate(0, 0, -i%28).Format(time.DateOnly)}, "note": {""},
			"parts[0].activity": {"walk_brisk"}, "parts[0].minutes": {fmt.Sprint(i%45 + 1)}, "parts[0].talk": {talks[i%3]}, "symptoms": {"no"},
		}
	}
	return logs
}

// send sends a log until it is acknowledged. A connection that breaks and an
// answer that says "not now" are expected; to be told that the log is wrong is
// not.
func send(t *testing.T, phone *Visitor, log url.Values) {
	for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		a, err := phone.Try("/log", log)
		switch {
		case err != nil, a.Status == http.StatusServiceUnavailable:
		case a.Status == http.StatusSeeOther && (a.Location == "/week" || strings.HasPrefix(a.Location, "/log/")): // what it came to, if there is something to say
			return
		case a.Status >= 500: // not a success, so it is sent again; but the person should be told that nothing is lost
			t.Errorf("a log was answered with status %d, not %d, while the database was gone", a.Status, http.StatusServiceUnavailable)
		default:
			t.Errorf("a log was answered with status %d to %q: %.300s", a.Status, a.Location, a.Body)
			return
		}
	}
	t.Errorf("the log %s was not acknowledged within a minute", log.Get("id"))
}
