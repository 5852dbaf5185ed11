package store

import (
	"context"
	"errors"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
)

// standingClearance returns the decision that stands for the work of d, recorded
// last by a doctor as specialised; the nil id before the first.
func (t *tx) standingClearance(ctx context.Context, client uuid.UUID, d clearance.Decision) (uuid.UUID, error) {
	rows, _ := t.Query(ctx, `
		SELECT clearance_id FROM standing_clearances WHERE client_id = $1 AND work = $2 AND activity = $3 AND specialist = $4`,
		client, string(d.Work), d.Activity, d.DecidedBy.Specialist)
	id, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[uuid.UUID])
	if errors.Is(err, pgx.ErrNoRows) {
		return uuid.Nil, nil
	}
	return id, err
}

// takePlace makes a decision that has just been recorded the one that stands for its
// work. It returns [domain.ErrConflict] if another one has taken the place of before
// in the meantime: the database sees to it that there is one, whatever is locked.
func (t *tx) takePlace(ctx context.Context, client, id uuid.UUID, d clearance.Decision, before uuid.UUID) error {
	if before == uuid.Nil {
		_, err := t.Exec(ctx, `
			INSERT INTO standing_clearances (client_id, work, activity, specialist, clearance_id) VALUES ($1, $2, $3, $4, $5)`,
			client, string(d.Work), d.Activity, d.DecidedBy.Specialist, id)
		return err
	}
	tag, err := t.Exec(ctx, `
		UPDATE standing_clearances SET clearance_id = $6
		WHERE client_id = $1 AND work = $2 AND activity = $3 AND specialist = $4 AND clearance_id = $5`,
		client, string(d.Work), d.Activity, d.DecidedBy.Specialist, before, id)
	if err == nil && tag.RowsAffected() == 0 {
		return domain.ErrConflict
	}
	return err
}
