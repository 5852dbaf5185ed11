package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/triage"
)

// lateQuestions returns what is asked now, once, after a first hard session.
func (t *tx) lateQuestions(ctx context.Context, client uuid.UUID) ([]triage.Question, error) {
	rows, _ := t.Query(ctx, `
		SELECT l.ended_at FROM late_questions l JOIN sessions s ON s.id = l.session_id
		WHERE l.client_id = $1 AND l.answered_at IS NULL AND `+kept, client)
	ended, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[time.Time])
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil
	}
	if err != nil || !triage.LateQuestionsDue(int(t.now.Sub(ended)/time.Hour), false, triage.PolicyFrom(t.settings)) {
		return nil, err
	}
	return triage.LateQuestions(), nil
}

// AnswerLate sorts the answers to the late questions: the reports that a yes
// stands for. It asks once: answered before, it returns what that came to.
func (s *Store) AnswerLate(ctx context.Context, actor Actor, client uuid.UUID, reports []triage.Report) (Triage, error) {
	reports = inOrder(reports)
	var sorted Triage
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, false); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `SELECT triage_id FROM late_questions WHERE client_id = $1`, client)
		before, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[uuid.NullUUID])
		if err != nil {
			return err
		}
		if before.Valid {
			if sorted, err = t.report(ctx, client, before.UUID); err != nil {
				return err
			}
			return errStoredBefore
		}
		var problems domain.Problems
		checkReports(&problems, reports)
		if err := problems.Err(); err != nil {
			return err
		}
		ask := triage.Input{Reports: reports}
		known, err := t.background(ctx, client, uuid.Nil)
		if err != nil {
			return err
		}
		known.into(&ask, t.today)
		sorted = Triage{ID: newID(), Day: t.today, Reports: reports}
		hash, err := bodyHash(client, reports)
		if err != nil {
			return err
		}
		if err := t.sort(ctx, &known.file, ask, &sorted, nil, hash); err != nil {
			return err
		}
		t.later(`UPDATE late_questions SET answered_at = $2, triage_id = $3 WHERE client_id = $1`, client, t.now, sorted.ID)
		return t.audit(ctx, "late.answer", client, "triage/"+sorted.ID.String(), map[string]any{"reports": len(reports)})
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return Triage{}, fmt.Errorf("late answers of client %s: %w", client, err)
	}
	return sorted, nil
}
