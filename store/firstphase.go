package store

import (
	"brae/domain/intensity"
)

// lightPhaseLeft is when a client c last took a step out of the light phase, which
// was complete: that is the recorded decision by which the practice's own light
// beginning ends.
const lightPhaseLeft = `
	SELECT max(s.decided_at) FROM progress_steps s
	WHERE s.client_id = c.id AND s.suggestion->'Reasons' @> '[{"Code": "phase_complete"}]'
		AND EXISTS (SELECT FROM plan_weeks WHERE plan_id = s.new_plan_id AND class <> 'light')`

// firstPhaseDone reports whether such a step was taken since the screening in use,
// or is taken by this change.
func (f *clearanceFile) firstPhaseDone(t *tx) bool {
	return t.firstPhaseOver == f.Client || f.stepped != nil && !f.stepped.Before(f.Screening.CreatedAt)
}

// afterFirstPhase returns a file as it will be once the light phase with which the
// practice begins is over; the same file where the client is not in one.
func (t *tx) afterFirstPhase(f clearanceFile) (clearanceFile, error) {
	if f.Screening == nil || f.Decision.FirstPhaseCeiling == intensity.None {
		return f, nil
	}
	before := t.firstPhaseOver
	t.firstPhaseOver = f.Client
	defer func() { t.firstPhaseOver = before }()
	err := f.workOut(t)
	return f, err
}

// planCeiling is the hardest class that may be planned: the ceiling, and moderate
// work for after the light phase of the practice's own rule. Until that is over a
// week is cut to the ceiling of its day.
func (t *tx) planCeiling(f clearanceFile) (intensity.Class, error) {
	after, err := t.afterFirstPhase(f)
	if err != nil {
		return intensity.None, err
	}
	return max(f.Ceiling(), min(after.Ceiling(), intensity.Moderate)), nil
}
