package store

import (
	"context"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/worklist"
)

// Flag is something that a practitioner has to look at.
type Flag struct {
	ID       uuid.UUID
	Client   uuid.UUID
	Kind     string      // what raised it
	Subject  string      // what it is about: session/ID
	Urgency  int         // 4 is now, 3 a day, 2 some days, 1 the next review
	Due      domain.Date // the last day to act on; zero if there is none
	Cause    string      // code of the report or finding that weighs most
	Rule     string
	Text     string // what happened
	Action   string // what to do about it
	Href     string // where
	OpenedAt time.Time
}

// FlagTriage is the kind of flags that reports and numbers of a log raise.
const FlagTriage = "triage"

// raise opens a flag at the end of the change.
func (t *tx) raise(ctx context.Context, f Flag) error {
	f.ID = newID()
	t.later(`
		INSERT INTO flags (id, client_id, kind, subject, urgency, due, cause, rule, text, action, href, opened_at, opened_by)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)`,
		f.ID, f.Client, f.Kind, f.Subject, f.Urgency, f.Due, f.Cause, f.Rule, f.Text, f.Action, f.Href, t.now, orNull(t.actor.ID))
	return t.audit(ctx, "flag.open", f.Client, "flag/"+f.ID.String(), map[string]any{"rule": f.Rule})
}

// openFlags returns the flags of a client that are not done with, the most urgent
// first.
func (t *tx) openFlags(ctx context.Context, client uuid.UUID) ([]Flag, error) {
	rows, _ := t.Query(ctx, `
		SELECT id, client_id AS client, kind, subject, urgency, due, cause, rule, text, action, href, opened_at FROM flags
		WHERE client_id = $1 AND done_at IS NULL
		ORDER BY urgency DESC, due, opened_at, id`, client)
	return pgx.CollectRows(rows, pgx.RowToStructByName[Flag])
}

// lockFlag returns a flag of a client whose record the actor may change, and locks
// the client.
func (t *tx) lockFlag(ctx context.Context, id uuid.UUID) (Flag, error) {
	rows, _ := t.Query(ctx, `
		SELECT f.id, f.client_id AS client, f.kind, f.subject, f.urgency, f.due, f.cause, f.rule, f.text, f.action, f.href, f.opened_at
		FROM flags f JOIN clients c ON c.id = f.client_id
		WHERE f.id = @flag AND `+seen, t.actor.args(pgx.NamedArgs{"flag": id}))
	f, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Flag])
	if err != nil {
		return Flag{}, err
	}
	_, err = t.lockClient(ctx, f.Client, true)
	return f, err
}

// finish takes a flag off the list. It returns [domain.ErrConflict] for one that
// somebody is done with.
func (t *tx) finish(ctx context.Context, f Flag, reason string) error {
	done, err := t.Exec(ctx, `
		UPDATE flags SET done_at = $2, done_by = $3, done_reason = $4 WHERE id = $1 AND done_at IS NULL`,
		f.ID, t.now, t.actor.ID, strings.TrimSpace(reason))
	if err != nil {
		return err
	}
	if done.RowsAffected() == 0 {
		return domain.ErrConflict
	}
	return t.audit(ctx, "flag.done", f.Client, "flag/"+f.ID.String(), map[string]any{"rule": f.Rule})
}

// finishAlike takes the flags off the list that stand as one with a flag: of the
// same cause, raised before it.
func (t *tx) finishAlike(ctx context.Context, f Flag, reason string) error {
	if !worklist.Urgency(f.Urgency).StandsOnce() {
		return nil
	}
	open, err := t.openFlags(ctx, f.Client)
	if err != nil {
		return err
	}
	for _, o := range open {
		if o.Kind != f.Kind || o.Cause != f.Cause || o.Urgency != f.Urgency || o.OpenedAt.After(f.OpenedAt) {
			continue
		}
		if err := t.finish(ctx, o, reason); err != nil {
			return err
		}
	}
	return nil
}
