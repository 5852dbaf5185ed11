package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/plan"
)

// Pause is a stretch of days in which a client's plan waits.
type Pause struct {
	ID uuid.UUID
	plan.Pause
	Expected  domain.Date // last day as it was entered; zero if nobody knew
	Note      string
	EnteredAt time.Time
	Ended     bool
}

// Open reports whether the pause is not over on a day.
func (p Pause) Open(today domain.Date) bool { return p.To.IsZero() || !today.After(p.To) }

// pauseDays are the columns of a pauseRow.
const pauseDays = `p.kind, p.from_day, coalesce(p.last_day, p.to_day) AS last`

// pauseRow is a pause as stored.
type pauseRow struct {
	Kind    string
	FromDay domain.Date
	Last    domain.Date // NULL while nobody knows
}

func (r pauseRow) pause() plan.Pause {
	p := plan.Pause{From: r.FromDay, To: r.Last, Cause: plan.Cause(r.Kind)}
	if r.Kind == otherCause {
		p.Cause = plan.NoCause
	}
	return p
}

// otherCause is the kind of a pause for no cause that the rules name.
const otherCause = "other"

func (t *tx) pauses(ctx context.Context, client uuid.UUID) ([]Pause, error) {
	rows, _ := t.Query(ctx, `
		SELECT p.id, p.to_day AS expected, p.note, p.entered_at, p.ended_at IS NOT NULL AS ended, `+pauseDays+`
		FROM pauses p WHERE p.client_id = $1 ORDER BY p.from_day DESC, p.entered_at DESC`, client)
	type row struct {
		ID        uuid.UUID
		Expected  domain.Date
		Note      string
		EnteredAt time.Time
		Ended     bool
		pauseRow
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[row])
	if err != nil {
		return nil, err
	}
	all := make([]Pause, len(list))
	for i, r := range list {
		all[i] = Pause{ID: r.ID, Pause: r.pause(), Expected: r.Expected, Note: r.Note, EnteredAt: r.EnteredAt, Ended: r.Ended}
	}
	// A pause that never began says nothing.
	return slices.DeleteFunc(all, func(p Pause) bool { return !p.To.IsZero() && p.To.Before(p.From) }), nil
}

// PauseInput is a pause as a practitioner enters it.
type PauseInput struct {
	ID   uuid.UUID // made with the form: sent twice, it is stored once
	From domain.Date
	To   domain.Date // zero while nobody knows
	Kind string      // a [plan.Cause], or other
	Note string
}

// PauseClient lets a client's plan wait. It returns [domain.Problems] for what is
// wrong, such as a pause within another.
func (s *Store) PauseClient(ctx context.Context, actor Actor, client uuid.UUID, in PauseInput) error {
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		if err := c.open(); err != nil {
			return err
		}
		pause := plan.Pause{From: in.From, To: in.To, Cause: plan.Cause(in.Kind)}
		if in.Kind == otherCause {
			pause.Cause = plan.NoCause
		}
		problems, _ := errors.AsType[domain.Problems](plan.CheckPause(pause, t.today, plan.PolicyFrom(t.settings)))
		if in.Kind == "" {
			problems.Add("cause", "Choose why.")
		}
		if in.ID == uuid.Nil {
			problems.Add("id", "The form was incomplete. Load the page again.")
		}
		if utf8.RuneCountInString(in.Note) > 500 {
			problems.Add("note", "Use 500 characters at most.")
		}
		known, err := t.pauses(ctx, client)
		if err != nil {
			return err
		}
		for _, p := range known {
			if p.ID != in.ID && (p.To.IsZero() || !in.From.After(p.To)) && (in.To.IsZero() || !p.From.After(in.To)) {
				problems.Add("from", "Another pause has some of these days.")
			}
		}
		if problems != nil {
			return problems
		}
		tag, err := t.Exec(ctx, `
			INSERT INTO pauses (id, client_id, kind, from_day, to_day, note, entered_at, entered_by)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8) ON CONFLICT (id) DO NOTHING`,
			in.ID, client, in.Kind, in.From, in.To, strings.TrimSpace(in.Note), t.now, actor.ID)
		if err != nil {
			return err
		}
		return t.audit(ctx, "plan.pause", client, "pause/"+in.ID.String(), map[string]any{"kind": in.Kind, "again": tag.RowsAffected() == 0})
	})
	if err != nil {
		return fmt.Errorf("pause client %s: %w", client, err)
	}
	return nil
}

// EndPause ends a pause with a last day, which may be the day before its first if
// it never came to it. It returns [domain.ErrConflict] if it was ended before.
func (s *Store) EndPause(ctx context.Context, actor Actor, client, id uuid.UUID, last domain.Date) error {
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `SELECT from_day, ended_at IS NOT NULL AS ended FROM pauses WHERE id = $1 AND client_id = $2`, id, client)
		p, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
			FromDay domain.Date
			Ended   bool
		}])
		switch {
		case err != nil:
			return err
		case p.Ended:
			return domain.ErrConflict
		case last.IsZero() || last.After(t.today):
			return domain.Problems{"last": "The last day of the pause is today or earlier."}
		}
		last = maxDate(last, p.FromDay.AddDays(-1))
		if _, err := t.Exec(ctx, `UPDATE pauses SET last_day = $2, ended_at = $3, ended_by = $4 WHERE id = $1`, id, last, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "plan.pause_end", client, "pause/"+id.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("end pause %s of client %s: %w", id, client, err)
	}
	return nil
}

func maxDate(a, b domain.Date) domain.Date {
	if a.Before(b) {
		return b
	}
	return a
}
