package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
)

// Hold stops some or all exercise of a client until it is released. One with the
// nil id stands for a decision that has lapsed: it is not stored, and a newer
// decision ends it.
type Hold struct {
	ID         uuid.UUID
	Scope      clearance.Scope
	Kind       clearance.Kind
	Cause      string // code of the disease, symptom or finding
	Rule       string // that opened it
	Reason     string // in words
	Needs      clearance.Needs
	Since      domain.Date // when the cause began; zero if nobody knows
	OpenedAt   time.Time
	OpenedOn   domain.Date // the practice's day of OpenedAt
	OpenedBy   string      // name of the account
	ResolvedOn domain.Date // the day the condition was recorded as resolved; zero if it was not
	Released   *HoldRelease
	Vitals     uuid.NullUUID // the reading that opened it, by its first row
}

// HoldRelease is how a hold ended.
type HoldRelease struct {
	At       time.Time
	By       string // name of the account
	Reason   string
	Decision uuid.NullUUID // the doctor's decision that it rests on
}

// rule is the hold as the rules see it.
func (h Hold) rule() clearance.Hold {
	r := clearance.Hold{
		ID: h.ID.String(), Scope: h.Scope, Kind: h.Kind, Cause: h.Cause, Rule: h.Rule, Reason: h.Reason, Since: h.Since,
		Opened: h.OpenedOn, OpenedBy: h.OpenedBy, Needs: h.Needs, Resolved: h.ResolvedOn,
	}
	if h.Released != nil {
		r.Released = &clearance.Release{By: h.Released.By, Reason: h.Released.Reason}
	}
	return r
}

// allHolds returns every hold of a client, open and released, in the order of
// their opening.
func (t *tx) allHolds(ctx context.Context, client uuid.UUID) (all []Hold, err error) {
	err = t.read(ctx, t.holdsOf(&all, client))
	return all, err
}

func (t *tx) holdsOf(all *[]Hold, client uuid.UUID) reading {
	type row struct {
		ID                               uuid.UUID
		Scope                            clearance.Scope
		Kind, Cause, Rule, Reason, Needs string
		Since                            domain.Date
		OpenedAt                         time.Time
		OpenedBy                         string
		ResolvedOn                       domain.Date
		ReleasedAt                       *time.Time
		ReleasedBy, ReleaseReason        string
		ReleasedDecision                 uuid.NullUUID
		VitalsID                         uuid.NullUUID
	}
	return rowsInto(all, func(found pgx.CollectableRow) (Hold, error) {
		r, err := pgx.RowToStructByName[row](found)
		h := Hold{
			ID: r.ID, Scope: r.Scope, Kind: clearance.Kind(r.Kind), Cause: r.Cause, Rule: r.Rule, Reason: r.Reason,
			Needs: clearance.Needs(r.Needs), Since: r.Since, OpenedAt: r.OpenedAt, OpenedOn: domain.DateOf(r.OpenedAt, t.practice.Location),
			OpenedBy: r.OpenedBy, ResolvedOn: r.ResolvedOn, Vitals: r.VitalsID,
		}
		if r.ReleasedAt != nil {
			h.Released = &HoldRelease{*r.ReleasedAt, r.ReleasedBy, r.ReleaseReason, r.ReleasedDecision}
		}
		return h, err
	}, `
		SELECT h.id, h.scope, h.kind, h.cause, h.rule, h.reason, h.needs, h.since, h.opened_at, o.name AS opened_by, h.resolved_on,
			h.released_at, coalesce(r.name, '') AS released_by, h.release_reason, h.released_decision, h.vitals_id
		FROM holds h
		JOIN accounts o ON o.id = h.opened_by
		LEFT JOIN accounts r ON r.id = h.released_by
		WHERE h.client_id = $1
		ORDER BY h.opened_at, h.id`, client)
}

// openHolds returns the holds of a client that stop something now, the widest
// first.
func (t *tx) openHolds(ctx context.Context, client uuid.UUID) ([]Hold, error) {
	f, err := t.clearanceFile(ctx, client)
	return f.Holds, err
}

// widest returns the scope of the widest hold, NoHold if there is none.
func widest(holds []Hold) clearance.Scope {
	scope := clearance.NoHold
	for _, h := range holds {
		scope = max(scope, h.Scope)
	}
	return scope
}
