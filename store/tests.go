package store

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/fitness"
	"brae/domain/rulebook"
	"brae/domain/screening"
)

// TestInput is a fitness test as a practitioner enters it.
type TestInput struct {
	ID         uuid.UUID // made with the form
	On         domain.Date
	Input      fitness.Input // age and what holds the heart rate down come from the record
	Conditions fitness.Conditions
	Confirmed  bool // the person has said that the doubts are right

	Corrects uuid.UUID // the test that this one takes the place of; the nil id for a new one
	Reason   string    // why it does
}

// TestResult is a fitness test as it was stored.
type TestResult struct {
	ID              uuid.UUID
	ClientID        uuid.UUID
	Test            fitness.TestID
	DoneOn          domain.Date
	Input           fitness.Input
	Conditions      fitness.Conditions
	Result          fitness.Result
	RuleSet         string
	SettingsVersion int
	Supersedes      uuid.NullUUID
	Reason          string // why it supersedes another one
	SupersededBy    uuid.NullUUID
	ErrorReason     string // why it was entered in error; "" if it was not
	CreatedAt       time.Time
	CreatedBy       string // name of the account
}

// InForce reports whether the test counts: not superseded and not entered in error.
func (r TestResult) InForce() bool { return !r.SupersededBy.Valid && r.ErrorReason == "" }

func (r TestResult) done() fitness.Done {
	return fitness.Done{Input: r.Input, Conditions: r.Conditions, Result: r.Result}
}

// Outcome returns the figure that the test is followed by; there may be none.
func (r TestResult) Outcome() (fitness.Outcome, bool) { return fitness.OutcomeOf(r.Input, r.Result) }

// testsWhere loads tests, the newest first.
func testsWhere(ctx context.Context, q querier, where string, args pgx.NamedArgs) ([]TestResult, error) {
	rows, _ := q.Query(ctx, `
		SELECT f.id, f.client_id, f.test, f.done_on, f.input, f.conditions, f.result, f.rule_set, f.settings_version, f.supersedes,
			f.reason, s.id AS superseded_by, coalesce(e.reason, '') AS error_reason, f.created_at, a.name AS created_by
		FROM fitness_tests f
		JOIN clients c ON c.id = f.client_id
		JOIN accounts a ON a.id = f.created_by
		LEFT JOIN fitness_tests s ON s.supersedes = f.id
		LEFT JOIN fitness_test_errors e ON e.test_id = f.id
		WHERE `+where+`
		ORDER BY f.done_on DESC, f.created_at DESC, f.id`, args)
	return pgx.CollectRows(rows, pgx.RowToStructByName[TestResult])
}

func (t *tx) tests(ctx context.Context, client uuid.UUID) ([]TestResult, error) {
	return testsWhere(ctx, t, `f.client_id = @client AND `+seen, t.actor.args(pgx.NamedArgs{"client": client}))
}

func (t *tx) test(ctx context.Context, client, id uuid.UUID) (TestResult, error) {
	list, err := testsWhere(ctx, t, `f.client_id = @client AND f.id = @id AND `+seen,
		t.actor.args(pgx.NamedArgs{"client": client, "id": id}))
	if err == nil && len(list) == 0 {
		err = domain.ErrNotFound
	}
	if err != nil {
		return TestResult{}, err
	}
	return list[0], nil
}

// AddTest stores a fitness test with what the rules make of it, once: sent again,
// it is found and returned as it was stored.
//
// It returns [domain.ErrHeld] if the test must not be done, [domain.Problems] for
// what is wrong, [domain.Doubts] for what has to be confirmed, and
// [domain.ErrConflict] if the id stands for another test, or the one to be
// corrected counts no more.
func (s *Store) AddTest(ctx context.Context, actor Actor, client uuid.UUID, in TestInput) (TestResult, error) {
	var added TestResult
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		person, err := t.tested(ctx, c)
		if err != nil {
			return err
		}
		test, err := fitness.FindTest(in.Input.Test)
		if err != nil {
			return err
		}
		in.Input.Age = new(c.BirthDate.AgeOn(in.On))
		in.Input.HRBlunted = in.Input.HRBlunted || person.HRBlunted
		switch stored, err := t.test(ctx, client, in.ID); {
		case err == nil && stored.DoneOn == in.On && reflect.DeepEqual(stored.Input, in.Input) && reflect.DeepEqual(stored.Conditions, in.Conditions):
			added = stored
			return errStoredBefore
		case err == nil:
			return domain.ErrConflict
		case !errors.Is(err, domain.ErrNotFound):
			return err
		}
		result, err := t.judgeTest(ctx, c, test, in, person)
		if err != nil {
			return err
		}
		settings, err := loadSettings(ctx, t)
		if err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO fitness_tests (id, client_id, test, done_on, input, conditions, result, rule_set, settings_version,
				supersedes, reason, created_at, created_by)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)`,
			in.ID, client, string(test.ID), in.On, in.Input, in.Conditions, result, rulebook.Version, settings.Version,
			orNull(in.Corrects), strings.TrimSpace(in.Reason), t.now, actor.ID); err != nil {
			return err
		}
		action := "test.add"
		if in.Corrects != uuid.Nil {
			action = "test.correct"
		}
		if err := t.audit(ctx, action, client, "test/"+in.ID.String(), map[string]any{"test": test.ID}); err != nil {
			return err
		}
		added, err = t.test(ctx, client, in.ID)
		return err
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return TestResult{}, fmt.Errorf("add test for client %s: %w", client, err)
	}
	return added, nil
}

// longestReason bounds why something is corrected or marked, in characters.
const longestReason = 500

func checkReason(p *domain.Problems, reason string) {
	if strings.TrimSpace(reason) == "" {
		p.Add("reason", "Say why. It stands beside the old result from now on.")
	} else if utf8.RuneCountInString(reason) > longestReason {
		p.Add("reason", "Use 500 characters at most.")
	}
}

// judgeTest checks whether the test may be done and what was read, and asks the
// rules what it tells.
func (t *tx) judgeTest(ctx context.Context, c Client, test fitness.Test, in TestInput, person tested) (fitness.Result, error) {
	var problems domain.Problems
	take := func(err error) error {
		found, ok := errors.AsType[domain.Problems](err)
		if err != nil && !ok {
			return err
		}
		for field, sentence := range found {
			problems.Add(field, sentence)
		}
		return nil
	}
	years := fitness.PolicyFrom(t.settings).TestBack
	switch {
	case in.On.IsZero() || !in.On.Valid():
		problems.Add("on", "Type the day of the test.")
	case in.On.After(t.today):
		problems.Add("on", "The day is still to come.")
	case in.On.Before(t.today.AddMonths(-12*years)) || in.On.Before(c.BirthDate):
		problems.Add("on", fmt.Sprintf("Tests can be entered up to %d years later.", years))
	}
	if in.ID == uuid.Nil {
		problems.Add("id", "The form was incomplete. Load the page again.")
	}
	if in.Corrects != uuid.Nil {
		checkReason(&problems, in.Reason)
		old, err := t.test(ctx, c.ID, in.Corrects)
		if err != nil {
			return fitness.Result{}, err
		}
		if !old.InForce() || old.Test != test.ID {
			return fitness.Result{}, domain.ErrConflict
		}
	} else {
		in.Reason = ""
	}
	if problems["on"] == "" {
		// What is corrected was done: nothing bars telling it right.
		if in.Corrects == uuid.Nil {
			if bars, err := t.bars(ctx, c, test, in.On, nil); err != nil {
				return fitness.Result{}, err
			} else if len(bars) > 0 {
				return fitness.Result{}, fmt.Errorf("%w: %s", domain.ErrHeld, bars[0])
			}
			if err := take(t.restBars(ctx, c, test, in, person)); err != nil {
				return fitness.Result{}, err
			}
		}
	}
	result, err := fitness.Evaluate(in.Input, fitness.PolicyFrom(t.settings))
	if err := take(err); err != nil {
		return fitness.Result{}, err
	}
	err = in.Conditions.Check(test)
	doubts, isDoubts := errors.AsType[domain.Doubts](err)
	if !isDoubts {
		if err := take(err); err != nil {
			return fitness.Result{}, err
		}
	}
	if err := problems.Err(); err != nil {
		return fitness.Result{}, err
	}
	if !in.Confirmed {
		if err := doubts.Err(); err != nil {
			return fitness.Result{}, err
		}
	}
	return result, nil
}

// restBars returns problems beside the readings at rest that rule the test out.
func (t *tx) restBars(ctx context.Context, c Client, test fitness.Test, in TestInput, person tested) error {
	found, err := screening.AssessVitals(person.vitals(in.Conditions), screening.PolicyFrom(t.settings))
	if err != nil {
		return nil // what cannot be is told by the conditions, in their words
	}
	bars, err := t.bars(ctx, c, test, in.On, &found)
	if err != nil {
		return err
	}
	var problems domain.Problems
	for _, f := range found.Findings {
		field := "sbp"
		switch f.Rule {
		case "V6", "V7", "V8":
			field = "resting_before"
		case "V18":
			field = "spo2"
		}
		if len(bars) > 0 && f.Hold.Stops(test.Effort) {
			problems.Add(field, f.Text+" The test does not go on today. Note the readings in the intake, so that what they ask for is opened.")
		}
	}
	return problems.Err()
}

// MarkTestError marks a test as entered in error. It returns [domain.Problems]
// without a reason, and [domain.ErrConflict] if the test counts no more.
func (s *Store) MarkTestError(ctx context.Context, actor Actor, client, id uuid.UUID, reason string) error {
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		r, err := t.test(ctx, client, id)
		if err != nil {
			return err
		}
		if !r.InForce() {
			return domain.ErrConflict
		}
		var problems domain.Problems
		if checkReason(&problems, reason); problems != nil {
			return problems
		}
		if _, err := t.Exec(ctx, `INSERT INTO fitness_test_errors (test_id, reason, marked_at, marked_by) VALUES ($1, $2, $3, $4)`,
			id, strings.TrimSpace(reason), t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "test.error", client, "test/"+id.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("mark test %s of client %s: %w", id, client, err)
	}
	return nil
}

// bars returns why a test must not be done on a day, with readings at rest if they
// were taken.
func (t *tx) bars(ctx context.Context, c Client, test fitness.Test, on domain.Date, rest *screening.Assessment) ([]string, error) {
	r, err := t.readiness(ctx, c, on)
	if err != nil {
		return nil, err
	}
	if rest != nil {
		r.RestCeiling = min(r.RestCeiling, rest.Hold.Ceiling())
		for _, f := range rest.Findings {
			if f.Hold != clearance.NoHold {
				r.RestFindings = append(r.RestFindings, f.Text)
			}
		}
	}
	return test.Bars(r), nil
}
