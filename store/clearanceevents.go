package store

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
)

// ClearanceEvent is something that became of a decision.
type ClearanceEvent struct {
	Kind   string // confirmed, revoked or entered_in_error
	Day    domain.Date
	Reason string
	At     time.Time
	By     string // name of the account
}

// The kinds of [ClearanceEvent].
const (
	ClearanceConfirmed = "confirmed"
	ClearanceRevoked   = "revoked"
	ClearanceErroneous = "entered_in_error"
)

// ConfirmClearance records the written confirmation of a decision by phone.
func (s *Store) ConfirmClearance(ctx context.Context, actor Actor, client, id uuid.UUID, on domain.Date, reason string) error {
	return s.clearanceEvent(ctx, actor, client, id, ClearanceConfirmed, on, reason)
}

// RevokeClearance takes a decision back from today on. Only the lead may.
func (s *Store) RevokeClearance(ctx context.Context, actor Actor, client, id uuid.UUID, reason string) error {
	return s.clearanceEvent(ctx, actor, client, id, ClearanceRevoked, domain.Date{}, reason)
}

// MarkClearanceErroneous marks a decision as entered in error: it never counted.
func (s *Store) MarkClearanceErroneous(ctx context.Context, actor Actor, client, id uuid.UUID, reason string) error {
	return s.clearanceEvent(ctx, actor, client, id, ClearanceErroneous, domain.Date{}, reason)
}

func (s *Store) clearanceEvent(ctx context.Context, actor Actor, client, id uuid.UUID, kind string, on domain.Date, reason string) error {
	reason = strings.TrimSpace(reason)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		if kind == ClearanceRevoked && actor.Role != domain.RoleLead {
			return domain.ErrForbidden
		}
		f, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(f.Decisions, func(d clearance.Decision) bool { return d.ID == id.String() })
		if i < 0 {
			return domain.ErrNotFound
		}
		d := f.Decisions[i]
		if on.IsZero() && kind != ClearanceConfirmed {
			on = t.today
		}
		var problems domain.Problems
		reasonProblem(&problems, "reason", reason)
		switch kind {
		case ClearanceConfirmed:
			if d.Channel != clearance.Phone || !d.ConfirmedOn.IsZero() {
				return domain.ErrConflict
			}
			if !on.Valid() {
				problems.Add("confirmed_on", "Type the day the written confirmation came.")
			} else {
				d.ConfirmedOn = on
				if sentence := clearance.Check(d, t.today, f.policy)["confirmed_on"]; sentence != "" {
					problems.Add("confirmed_on", sentence)
				}
			}
		case ClearanceRevoked:
			if !d.RevokedOn.IsZero() || d.Erroneous {
				return domain.ErrConflict
			}
		case ClearanceErroneous:
			if d.Erroneous {
				return domain.ErrConflict
			}
		}
		if err := problems.Err(); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO clearance_events (id, clearance_id, kind, day, reason, at, by) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
			newID(), id, kind, on, reason, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "clearance."+kind, client, "clearance/"+id.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("clearance %s of client %s %s: %w", id, client, kind, err)
	}
	return nil
}
