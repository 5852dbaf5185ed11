package store

import (
	"context"
	"time"

	"github.com/google/uuid"

	"brae/domain/intensity"
)

// firstPhaseDone reports whether a step out of the light phase, which was
// complete, was taken since a screening: that is the recorded decision by which
// the practice's own light beginning ends.
func (t *tx) firstPhaseDone(ctx context.Context, client uuid.UUID, since time.Time) (done bool, err error) {
	if t.firstPhaseOver == client {
		return true, nil
	}
	err = t.QueryRow(ctx, `
		SELECT EXISTS (SELECT FROM progress_steps s
			WHERE s.client_id = $1 AND s.decided_at >= $2 AND s.suggestion->'Reasons' @> '[{"Code": "phase_complete"}]'
				AND EXISTS (SELECT FROM plan_weeks WHERE plan_id = s.new_plan_id AND class <> 'light'))`, client, since).Scan(&done)
	return done, err
}

// afterFirstPhase returns the file of a client as it will be once the light phase
// with which the practice begins is over; the same file where it is not in one.
func (t *tx) afterFirstPhase(ctx context.Context, f clearanceFile) (clearanceFile, error) {
	if f.Screening == nil || f.Decision.FirstPhaseCeiling == intensity.None {
		return f, nil
	}
	before := t.firstPhaseOver
	t.firstPhaseOver = f.Client
	defer func() { t.firstPhaseOver = before }()
	return t.clearanceFile(ctx, f.Client)
}

// planCeiling is the hardest class that may be planned: the ceiling, and moderate
// work for after the light phase of the practice's own rule. Until that is over a
// week is cut to the ceiling of its day.
func (t *tx) planCeiling(ctx context.Context, f clearanceFile) (intensity.Class, error) {
	after, err := t.afterFirstPhase(ctx, f)
	if err != nil {
		return intensity.None, err
	}
	return max(f.Ceiling(), min(after.Ceiling(), intensity.Moderate)), nil
}
