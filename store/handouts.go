package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"brae/domain/activity"
)

// Handout is what a client takes home on paper: the week that is asked, what
// bounds it, and the weeks to come.
type Handout struct {
	Week     ClientWeek
	Plan     PlanSheet
	Practice Practice
	Language string        // that the client reads, BCP 47
	Units    activity.Unit // that the client chose; empty for one without a sign-in
}

// Handout returns what the handout of a client is made from. A client reads
// their own.
func (s *Store) Handout(ctx context.Context, actor Actor, client uuid.UUID) (Handout, error) {
	var h Handout
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if h.Week, _, err = t.week(ctx, client); err != nil {
			return err
		}
		if h.Plan, err = t.planSheet(ctx, client); err != nil {
			return err
		}
		h.Practice, h.Language = t.practice, "en"
		if account := h.Week.Client.AccountID; account.Valid {
			if err := t.QueryRow(ctx, `SELECT language, units FROM accounts WHERE id = $1`, account.UUID).Scan(&h.Language, &h.Units); err != nil {
				return err
			}
		}
		return t.audit(ctx, "handout.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return Handout{}, fmt.Errorf("handout of client %s: %w", client, err)
	}
	return h, nil
}
