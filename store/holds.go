package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain/clearance"
)

// Hold stops some or all exercise of a client until it is released.
type Hold struct {
	ID       uuid.UUID
	Scope    clearance.Scope
	Cause    string // code of the disease, symptom or finding
	Rule     string // that opened it
	Reason   string // in words
	OpenedAt time.Time
}

// openHolds returns the holds of a client that are not released, the widest first.
func (t *tx) openHolds(ctx context.Context, client uuid.UUID) ([]Hold, error) {
	rows, _ := t.Query(ctx, `
		SELECT id, scope, cause, rule, reason, opened_at FROM holds
		WHERE client_id = $1 AND released_at IS NULL
		ORDER BY array_position(ARRAY['all', 'above_light', 'vigorous'], scope), opened_at, id`, client)
	return pgx.CollectRows(rows, pgx.RowToStructByName[Hold])
}

// widest returns the scope of the widest hold, NoHold if there is none.
func widest(holds []Hold) clearance.Scope {
	scope := clearance.NoHold
	for _, h := range holds {
		scope = max(scope, h.Scope)
	}
	return scope
}
