package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/activity"
)

// Preferences are how somebody likes to read.
type Preferences struct {
	Language string        // BCP 47: "en" or "es"
	Units    activity.Unit // of distances and speeds
}

// check reports what is not to choose.
func (p Preferences) check() domain.Problems {
	var problems domain.Problems
	if p.Language != "en" && p.Language != "es" {
		problems.Add("language", "Choose a language.")
	}
	if p.Units != activity.Kilometres && p.Units != activity.Miles {
		problems.Add("units", "Choose kilometres or miles.")
	}
	return problems
}

// ChoosePreferences stores how the actor likes to read. It returns
// [domain.Problems] for what is not to choose.
func (s *Store) ChoosePreferences(ctx context.Context, actor Actor, p Preferences) error {
	if err := p.check().Err(); err != nil {
		return fmt.Errorf("choose preferences: %w", err)
	}
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.Exec(ctx, `UPDATE accounts SET language = $2, units = $3 WHERE id = $1`, actor.ID, p.Language, string(p.Units)); err != nil {
			return err
		}
		return t.audit(ctx, "account.preferences", uuid.Nil, "account/"+actor.ID.String(), map[string]any{"language": p.Language, "units": p.Units})
	})
	if err != nil {
		return fmt.Errorf("choose preferences: %w", err)
	}
	return nil
}
