package store

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/source"
)

// Answers are what was typed into the intake, by the name of the field.
type Answers map[string]string

// Draft is an intake under way.
type Draft struct {
	ClientID uuid.UUID
	Answers  Answers
	Version  int // 0 while nothing is saved; raised by each save
	SavedAt  time.Time
	SavedBy  string // name of the account

	Settings source.Values `db:"-"` // of the practice, with which the answers are read
}

// draftBytes bounds what a draft may hold.
const draftBytes = 64 << 10

// IntakeDraft returns the intake under way of a client, or an empty one that
// starts from the answers of the last screening.
func (s *Store) IntakeDraft(ctx context.Context, actor Actor, client uuid.UUID) (Client, Draft, error) {
	var c Client
	var d Draft
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if c, err = t.lockClient(ctx, client, true); err != nil {
			return err
		}
		if d, err = t.draft(ctx, client); err != nil {
			return err
		}
		d.Settings = t.settings
		return t.audit(ctx, "intake.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return Client{}, Draft{}, fmt.Errorf("intake draft of client %s: %w", client, err)
	}
	return c, d, nil
}

func (t *tx) draft(ctx context.Context, client uuid.UUID) (Draft, error) {
	rows, _ := t.Query(ctx, `
		SELECT d.client_id, d.answers, d.version, d.saved_at, a.name AS saved_by
		FROM intake_drafts d JOIN accounts a ON a.id = d.saved_by
		WHERE d.client_id = $1`, client)
	d, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Draft])
	if !errors.Is(err, pgx.ErrNoRows) {
		return d, err
	}
	rows, _ = t.Query(ctx, `
		SELECT answers FROM screenings WHERE client_id = $1 ORDER BY created_at DESC LIMIT 1`, client)
	answers, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[Answers])
	if errors.Is(err, pgx.ErrNoRows) {
		return Draft{ClientID: client, Answers: Answers{}}, nil
	}
	return Draft{ClientID: client, Answers: answers}, err
}

// SaveIntake adds what was typed in one step to the intake under way and returns
// its new version. The version is that of the draft the step was shown with: if
// somebody has saved since, it returns [domain.ErrConflict] and saves nothing.
func (s *Store) SaveIntake(ctx context.Context, actor Actor, client uuid.UUID, version int, step Answers) (int, error) {
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		d, err := t.draft(ctx, client)
		if err != nil {
			return err
		}
		if d.Version != version {
			return domain.ErrConflict
		}
		maps.Copy(d.Answers, step)
		size := 0
		for field, value := range d.Answers {
			size += len(field) + len(value)
		}
		if size > draftBytes {
			return domain.Problems{"intake": "This is more text than an intake can hold. Shorten it."}
		}
		version++
		if _, err := t.Exec(ctx, `
			INSERT INTO intake_drafts (client_id, answers, version, saved_at, saved_by) VALUES ($1, $2, $3, $4, $5)
			ON CONFLICT (client_id) DO UPDATE SET
				answers = excluded.answers, version = excluded.version, saved_at = excluded.saved_at, saved_by = excluded.saved_by`,
			client, d.Answers, version, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "intake.save", client, "client/"+client.String(), map[string]any{"version": version})
	})
	if err != nil {
		return 0, fmt.Errorf("save intake of client %s: %w", client, err)
	}
	return version, nil
}
