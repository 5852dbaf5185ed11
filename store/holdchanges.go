package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
)

// HoldFile is what the page of a client's holds shows.
type HoldFile struct {
	Client   Client
	Today    domain.Date
	Open     []Hold             // the widest first
	Released []Hold             // the newest first
	CanEnd   map[uuid.UUID]bool // holds that may be released now
}

// HoldFile returns the holds of a client, open and released.
func (s *Store) HoldFile(ctx context.Context, actor Actor, client uuid.UUID) (HoldFile, error) {
	h := HoldFile{CanEnd: map[uuid.UUID]bool{}}
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if h.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		f, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		h.Today, h.Open = t.today, f.Holds
		for _, hold := range slices.Backward(f.All) {
			if hold.Released != nil {
				h.Released = append(h.Released, hold)
			} else if _, err := f.canRelease(hold, t, "-"); err == nil {
				h.CanEnd[hold.ID] = true
			}
		}
		return t.audit(ctx, "holds.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return HoldFile{}, fmt.Errorf("holds of client %s: %w", client, err)
	}
	return h, nil
}

// canRelease asks the rules whether a hold may be released now.
func (f *clearanceFile) canRelease(h Hold, t *tx, reason string) (clearance.Release, error) {
	return clearance.CanRelease(h.rule(), clearance.Release{
		On: t.today, Role: t.actor.Role, By: t.actor.ID.String(), Reason: reason,
	}, f.File, f.policy)
}

// reasonProblem adds the problem of a reason that is missing or too long.
func reasonProblem(problems *domain.Problems, field, reason string) {
	if strings.TrimSpace(reason) == "" {
		problems.Add(field, "Write why.")
	}
	if utf8.RuneCountInString(reason) > 1000 {
		problems.Add(field, "Use 1,000 characters at most.")
	}
}

// OpenHold opens a practitioner's hold: they may be stricter than the rules at any
// time. It returns its id, and [domain.Problems] without a scope or a reason.
func (s *Store) OpenHold(ctx context.Context, actor Actor, client uuid.UUID, scope clearance.Scope, reason string) (uuid.UUID, error) {
	id := newID()
	reason = strings.TrimSpace(reason)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		var problems domain.Problems
		if scope < clearance.Vigorous || scope > clearance.All {
			problems.Add("scope", "Choose what has to wait.")
		}
		reasonProblem(&problems, "reason", reason)
		if err := problems.Err(); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, since, opened_at, opened_by)
			VALUES ($1, $2, $3, $4, 'practitioner', 'clearance.scopes', $5, $6, $7, $8, $9)`,
			id, client, scope, string(clearance.FromPractitioner), reason, string(clearance.NeedsPractitioner), t.today, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "hold.open", client, "hold/"+id.String(), map[string]any{"scope": scope.String()})
	})
	if err != nil {
		return uuid.Nil, fmt.Errorf("open hold of client %s: %w", client, err)
	}
	return id, nil
}

// ReleaseHold releases a hold if the rules allow it: one of a practitioner with a
// reason, one that needs a doctor by a decision that covers its cause. It returns
// [domain.ErrHeld] where no decision does, and that it was tried goes into the
// audit trail.
func (s *Store) ReleaseHold(ctx context.Context, actor Actor, client, hold uuid.UUID, reason string) error {
	reason = strings.TrimSpace(reason)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		var problems domain.Problems
		reasonProblem(&problems, "reason", reason)
		if err := problems.Err(); err != nil {
			return err
		}
		f, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(f.All, func(h Hold) bool { return h.ID == hold })
		if i < 0 {
			return domain.ErrNotFound
		}
		release, err := f.canRelease(f.All[i], t, reason)
		if err != nil {
			return err
		}
		return t.release(ctx, client, hold, release)
	})
	if errors.Is(err, domain.ErrHeld) || errors.Is(err, domain.ErrConflict) {
		refused := s.change(ctx, actor, func(t *tx) error {
			return t.audit(ctx, "hold.release_refused", client, "hold/"+hold.String(), nil)
		})
		err = errors.Join(err, refused)
	}
	if err != nil {
		return fmt.Errorf("release hold %s of client %s: %w", hold, client, err)
	}
	return nil
}

// release writes the end of a hold.
func (t *tx) release(ctx context.Context, client, hold uuid.UUID, r clearance.Release) error {
	var decision uuid.NullUUID
	if r.Decision != "" {
		id, err := uuid.Parse(r.Decision)
		if err != nil {
			return err
		}
		decision = orNull(id)
	}
	if _, err := t.Exec(ctx, `
		UPDATE holds SET released_at = $2, released_by = $3, release_reason = $4, released_decision = $5
		WHERE id = $1 AND released_at IS NULL`, hold, t.now, t.actor.ID, r.Reason, decision); err != nil {
		return err
	}
	return t.audit(ctx, "hold.release", client, "hold/"+hold.String(), map[string]any{"decision": r.Decision})
}

// ResolveHold records that the condition behind a hold is over since a day. A
// doctor's decision that is not older than that can release it then.
func (s *Store) ResolveHold(ctx context.Context, actor Actor, client, hold uuid.UUID, on domain.Date, reason string) error {
	reason = strings.TrimSpace(reason)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		all, err := t.allHolds(ctx, client)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(all, func(h Hold) bool { return h.ID == hold })
		if i < 0 {
			return domain.ErrNotFound
		}
		h := all[i]
		if h.Released != nil || h.Needs != clearance.NeedsResolution || !h.ResolvedOn.IsZero() {
			return domain.ErrConflict
		}
		var problems domain.Problems
		switch {
		case !on.Valid():
			problems.Add("resolved_on", "Type the day since which it is over.")
		case on.After(t.today):
			problems.Add("resolved_on", "This day is in the future.")
		case on.Before(h.Since):
			problems.Add("resolved_on", "This is before it began.")
		}
		reasonProblem(&problems, "resolved_reason", reason)
		if err := problems.Err(); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			UPDATE holds SET resolved_on = $2, resolved_by = $3, resolved_reason = $4 WHERE id = $1`, hold, on, actor.ID, reason); err != nil {
			return err
		}
		return t.audit(ctx, "hold.resolve", client, "hold/"+hold.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("resolve hold %s of client %s: %w", hold, client, err)
	}
	return nil
}

// KeepLapsedHolds writes down the holds that decisions which count no more leave
// behind, so that lists show them. What a client may do is worked out from the
// dates whenever it is asked for, and does not wait for this. It returns how many
// holds were opened.
func (s *Store) KeepLapsedHolds(ctx context.Context) (int, error) {
	var clients []uuid.UUID
	nightly := Actor{Role: domain.RoleLead} // sees all, and is nobody in the audit trail
	err := s.look(ctx, nightly, func(t *tx) (err error) {
		clients, err = t.cleared(ctx)
		return err
	})
	if err != nil {
		return 0, fmt.Errorf("holds of lapsed decisions: %w", err)
	}
	opened := 0
	for _, client := range clients {
		err := s.change(ctx, nightly, func(t *tx) error {
			if _, err := t.lockClient(ctx, client, true); err != nil {
				return err
			}
			f, err := t.clearanceFile(ctx, client)
			if err != nil {
				return err
			}
			for _, h := range f.Holds {
				if h.ID != uuid.Nil {
					continue
				}
				id := newID()
				if _, err := t.Exec(ctx, `
					INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, since, screening_id, opened_at, opened_by)
					SELECT $1, $2, $3, $4, $5, $6, $7, $8, $9, s.id, $10, s.created_by FROM screenings s WHERE s.id = $11`,
					id, client, h.Scope, string(h.Kind), h.Cause, h.Rule, h.Reason, string(h.Needs), h.Since, t.now, f.Screening.ID); err != nil {
					return err
				}
				opened++
				if err := t.audit(ctx, "hold.lapse", client, "hold/"+id.String(), nil); err != nil {
					return err
				}
			}
			if t.entries == 0 {
				return errNothingToDo
			}
			return nil
		})
		if err != nil && !errors.Is(err, errNothingToDo) {
			return opened, fmt.Errorf("holds of lapsed decisions: %w", err)
		}
	}
	return opened, nil
}

// cleared lists the open clients that the actor may see about whom a doctor has
// decided.
func (t *tx) cleared(ctx context.Context) ([]uuid.UUID, error) {
	rows, _ := t.Query(ctx, `
		SELECT c.id FROM clients c
		WHERE c.closed_at IS NULL AND `+seen+` AND EXISTS (SELECT FROM clearances d WHERE d.client_id = c.id)
		ORDER BY c.id`, t.actor.args(nil))
	return pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
}
