package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/screening"
)

// Screening is a dated set of answers with the decision that the rules took on
// them. It is never changed; a later one takes its place.
type Screening struct {
	ID        uuid.UUID
	DecidedOn domain.Date
	Answers   Answers
	Input     intake.Record
	Decision  screening.Decision
	CreatedAt time.Time
	CreatedBy string // name of the account
}

// newestScreening returns the screening in use, or nil before the first.
func (t *tx) newestScreening(ctx context.Context, client uuid.UUID) (s *Screening, err error) {
	err = t.read(ctx, screeningInUse(&s, client))
	return s, err
}

func screeningInUse(s **Screening, client uuid.UUID) reading {
	return rowIfAny(s, pgx.RowToStructByName[Screening], `
		SELECT s.id, s.decided_on, s.answers, s.input, s.decision, s.created_at, a.name AS created_by
		FROM screenings s JOIN accounts a ON a.id = s.created_by
		WHERE s.client_id = $1 ORDER BY s.created_at DESC, s.id DESC LIMIT 1`, client)
}

// visits are the screenings of a client in the order of time.
func (t *tx) visits(ctx context.Context, client uuid.UUID) ([]intake.Visit, error) {
	rows, _ := t.Query(ctx, `
		SELECT decided_on, input FROM screenings WHERE client_id = $1 ORDER BY created_at, id`, client)
	return pgx.CollectRows(rows, pgx.RowToStructByPos[intake.Visit])
}

// Decision returns the screening in use of a client. It returns
// [domain.ErrNotFound] if there is none.
func (s *Store) Decision(ctx context.Context, actor Actor, client uuid.UUID) (Client, Screening, error) {
	var c Client
	var newest *Screening
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if c, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		if newest, err = t.newestScreening(ctx, client); err != nil {
			return err
		}
		if newest == nil {
			return domain.ErrNotFound
		}
		return t.audit(ctx, "decision.view", client, "screening/"+newest.ID.String(), nil)
	})
	if err != nil {
		return Client{}, Screening{}, fmt.Errorf("decision for client %s: %w", client, err)
	}
	return c, *newest, nil
}

// Screen takes the decision on the intake under way, opens the holds it asks for
// and ends the draft. The version is that of the draft it was asked for with: if
// somebody has saved since, it returns [domain.ErrConflict]. It returns
// [domain.Problems] for answers that cannot be read and [domain.Doubts] for those that somebody has to
// confirm. A decision that finds the
// answers incomplete or in conflict is returned and not stored.
func (s *Store) Screen(ctx context.Context, actor Actor, client uuid.UUID, version int) (screening.Decision, error) {
	var decision screening.Decision
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		if err := c.open(); err != nil {
			return err
		}
		draft, err := t.draft(ctx, client)
		if err != nil {
			return err
		}
		if draft.Version == 0 || draft.Version != version {
			return domain.ErrConflict
		}
		record, problems := intake.Read(draft.Answers, t.settings)
		if err := problems.Err(); err != nil {
			return err
		}
		if err := record.Doubts.Err(); err != nil {
			return err
		}
		in, err := t.screeningInput(ctx, c, record)
		if err != nil {
			return err
		}
		decision, err = screening.Decide(in, screening.PolicyFrom(t.settings))
		if err != nil {
			return err
		}
		if !decision.Decided() {
			return errUndecided
		}
		id := newID()
		if _, err := t.Exec(ctx, `
			INSERT INTO screenings (id, client_id, decided_on, answers, input, decision, rule, rule_set, ceiling, hold, created_at, created_by)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
			id, client, t.today, draft.Answers, record, decision, decision.Rule, decision.RuleSet,
			decision.CeilingNow, decision.Hold, t.now, actor.ID); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `DELETE FROM intake_drafts WHERE client_id = $1`, client); err != nil {
			return err
		}
		if err := t.openHoldsOf(ctx, client, id, decision); err != nil {
			return err
		}
		return t.audit(ctx, "screening.decide", client, "screening/"+id.String(), map[string]any{"rule": decision.Rule})
	})
	if errors.Is(err, errUndecided) {
		return decision, nil
	}
	if err != nil {
		return screening.Decision{}, fmt.Errorf("screen client %s: %w", client, err)
	}
	return decision, nil
}

// screeningInput is what a new screening is decided on: the answers, since when
// each yes is known, and what doctors allow today in the light of them.
func (t *tx) screeningInput(ctx context.Context, c Client, record intake.Record) (screening.Input, error) {
	f, err := t.clearanceFile(ctx, c.ID)
	if err != nil {
		return screening.Input{}, err
	}
	visits := append(f.visits(), intake.Visit{On: t.today, Record: record})
	f.Changes = f.changes(visits, t.practice.Location)
	in := record.Screening(c.BirthDate, t.today)
	in.Since = append(intake.Onsets(visits), in.Since...) // the day it was reported counts before the day it is said to have begun
	in.Clearance = f.Summarise(clearance.Aerobic, t.today, f.policy)
	return in, nil
}

var errUndecided = errors.New("the answers are not complete")

// openHoldsOf opens the holds that a decision asks for, except those that an open
// hold of the same cause covers already. Holds of earlier screenings stay: only a
// doctor's answer releases them.
func (t *tx) openHoldsOf(ctx context.Context, client, screening uuid.UUID, d screening.Decision) error {
	all, err := t.allHolds(ctx, client)
	if err != nil {
		return err
	}
	for _, h := range d.Holds() {
		if slices.ContainsFunc(all, func(o Hold) bool { return o.Released == nil && o.Cause == h.Cause && o.Scope >= h.Scope }) {
			continue
		}
		needs := h.Needs
		if needs == "" {
			needs = clearance.NeedsDoctor
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, since, screening_id, opened_at, opened_by)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
			newID(), client, h.Scope, string(h.Kind), h.Cause, h.Rule, h.Reason, string(needs), h.Since,
			screening, t.now, t.actor.ID); err != nil {
			return err
		}
	}
	return nil
}

// ceiling returns the hardest class that the client is allowed now.
func (t *tx) ceiling(ctx context.Context, client uuid.UUID) (intensity.Class, error) {
	f, err := t.clearanceFile(ctx, client)
	return f.Ceiling(), err
}
