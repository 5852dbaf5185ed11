package store

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/fitness"
)

// TestSeries are the results of one test of a client, in one line because they can
// be compared: the same test, a six-minute walk on the same course.
type TestSeries struct {
	Test    fitness.Test
	CourseM float64     // of a six-minute walk; 0 for any other test
	Points  []TestPoint // the better one of each day, the oldest first

	Since *TestChange // from the last but one to the last; nil with one point
	First *TestChange // from the first to the last; nil with fewer than three
	Due   domain.Date // when the last one is due again
}

// TestPoint is one result with the figure that it is followed by.
type TestPoint struct {
	TestResult
	Outcome fitness.Outcome
}

// TestChange is how much changed between two results, or why nobody can say.
type TestChange struct {
	From   domain.Date
	Change fitness.Change
	Why    string // it cannot be told; "" if it can
}

// Last is the newest result.
func (s TestSeries) Last() TestPoint { return s.Points[len(s.Points)-1] }

// TestSeries returns the tests of a client that count, one line for each kind, the
// one with the newest result first. A client sees their own.
func (s *Store) TestSeries(ctx context.Context, actor Actor, client uuid.UUID) ([]TestSeries, error) {
	var series []TestSeries
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.client(ctx, client); err != nil {
			return err
		}
		list, err := t.tests(ctx, client)
		if err != nil {
			return err
		}
		series = t.series(list)
		return t.audit(ctx, "tests.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return nil, fmt.Errorf("test series of client %s: %w", client, err)
	}
	return series, nil
}

// series sorts results into lines. The list has the newest first.
func (t *tx) series(list []TestResult) []TestSeries {
	type key struct {
		test   fitness.TestID
		course float64
	}
	policy := fitness.PolicyFrom(t.settings)
	var keys []key
	lines := map[key]*TestSeries{}
	for _, r := range list {
		outcome, ok := r.Outcome()
		test, err := fitness.FindTest(r.Test)
		if !r.InForce() || !ok || err != nil {
			continue
		}
		k := key{test: r.Test}
		if r.Conditions.CourseM != nil {
			k.course = *r.Conditions.CourseM
		}
		line := lines[k]
		if line == nil {
			line = &TestSeries{Test: test, CourseM: k.course}
			lines[k], keys = line, append(keys, k)
		}
		point := TestPoint{r, outcome}
		if n := len(line.Points); n > 0 && line.Points[n-1].DoneOn == r.DoneOn {
			if outcome.Better(line.Points[n-1].Outcome) {
				line.Points[n-1] = point
			}
			continue
		}
		line.Points = append(line.Points, point)
	}
	series := make([]TestSeries, 0, len(keys))
	for _, k := range keys {
		line := lines[k]
		slices.Reverse(line.Points)
		n := len(line.Points)
		if n > 1 {
			line.Since = changed(line.Points[n-2], line.Points[n-1], policy)
		}
		if n > 2 {
			line.First = changed(line.Points[0], line.Points[n-1], policy)
		}
		line.Due = fitness.DueAgain(line.Last().DoneOn, policy)
		series = append(series, *line)
	}
	return series
}

func changed(before, after TestPoint, policy fitness.Policy) *TestChange {
	c := &TestChange{From: before.DoneOn}
	var err error
	if c.Change, err = fitness.Changed(before.done(), after.done(), policy); err != nil {
		c.Change.By = after.Outcome.Value - before.Outcome.Value
		c.Change.Better = after.Outcome.Better(before.Outcome)
		c.Why = "How much of a change is real is not known for this test."
	}
	return c
}

// RetestDue is a client whose last test is due again.
type RetestDue struct {
	ClientID   uuid.UUID
	GivenName  string
	FamilyName string
	Test       fitness.TestID
	LastOn     domain.Date
	DueOn      domain.Date `db:"-"`
}

// RetestsDue lists the open clients whom the actor may see and whose newest test is
// due again, the longest due first. A client without a test is not on it.
func (s *Store) RetestsDue(ctx context.Context, actor Actor) ([]RetestDue, error) {
	if !actor.Role.Staff() {
		return nil, domain.ErrForbidden
	}
	var due []RetestDue
	err := s.change(ctx, actor, func(t *tx) error {
		var err error
		if due, err = t.retestsDue(ctx); err != nil {
			return err
		}
		return t.audit(ctx, "retests.view", uuid.Nil, "retests", map[string]any{"clients": len(due)})
	})
	if err != nil {
		return nil, fmt.Errorf("retests due: %w", err)
	}
	return due, nil
}

func (t *tx) retestsDue(ctx context.Context) ([]RetestDue, error) {
	policy := fitness.PolicyFrom(t.settings)
	rows, _ := t.Query(ctx, `
		SELECT c.id AS client_id, c.given_name, c.family_name, f.test, f.done_on AS last_on
		FROM clients c
		JOIN LATERAL (
			SELECT test, done_on FROM fitness_tests f
			WHERE f.client_id = c.id
				AND NOT EXISTS (SELECT FROM fitness_tests s WHERE s.supersedes = f.id)
				AND NOT EXISTS (SELECT FROM fitness_test_errors e WHERE e.test_id = f.id)
			ORDER BY done_on DESC, created_at DESC LIMIT 1) f ON true
		WHERE c.closed_at IS NULL AND `+seen+` AND f.done_on <= @until
		ORDER BY f.done_on, c.id`,
		t.actor.args(pgx.NamedArgs{"until": t.today.AddDays(-7 * policy.RetestDue)}))
	due, err := pgx.CollectRows(rows, pgx.RowToStructByName[RetestDue])
	for i := range due {
		due[i].DueOn = fitness.DueAgain(due[i].LastOn, policy)
	}
	return due, err
}
