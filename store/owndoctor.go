package store

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
)

// ownDoctor says whether the doctor is the client's own practitioner here, and
// whether the lead has noted that they may clear their own clients.
func (t *tx) ownDoctor(ctx context.Context, c Client, by *clearance.Clinician) error {
	rows, _ := t.Query(ctx, `
		SELECT a.name, coalesce((SELECT licence FROM clearing_practitioners p WHERE p.account_id = a.id ORDER BY p.id DESC LIMIT 1), '')
		FROM accounts a WHERE a.id IN ($1, $2)`, c.PractitionerID, t.actor.ID)
	own, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct{ Name, Licence string }])
	by.MayClearClient = false
	for _, o := range own {
		if sameName(o.Name, by.Name) {
			by.TreatsClient = true
			by.MayClearClient = by.MayClearClient || o.Licence != ""
		}
	}
	return err
}

// sameName compares two names as people type them, without titles.
func sameName(a, b string) bool { return plainName(a) == plainName(b) }

func plainName(name string) string {
	var words []string
	for _, w := range strings.Fields(strings.ToLower(name)) {
		if w = strings.Trim(w, ".,"); w != "dr" && w != "prof" && w != "med" && w != "doctor" {
			words = append(words, w)
		}
	}
	slices.Sort(words)
	return strings.Join(words, " ")
}

// LetOwnDoctorClear notes the licence under which a practitioner may clear their
// own clients, or takes that back with an empty one. Only the lead may.
func (s *Store) LetOwnDoctorClear(ctx context.Context, actor Actor, account uuid.UUID, licence string) error {
	if actor.Role != domain.RoleLead {
		return domain.ErrForbidden
	}
	licence = strings.TrimSpace(licence)
	err := s.change(ctx, actor, func(t *tx) error {
		var problems domain.Problems
		lengthProblem(&problems, "licence", licence)
		if err := problems.Err(); err != nil {
			return err
		}
		tag, err := t.Exec(ctx, `
			INSERT INTO clearing_practitioners (id, account_id, licence, at, by)
			SELECT $1, a.id, $3, $4, $5 FROM accounts a WHERE a.id = $2 AND a.role <> 'client' AND a.disabled_at IS NULL`,
			newID(), account, licence, t.now, actor.ID)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return domain.ErrNotFound
		}
		return t.audit(ctx, "account.may_clear", uuid.Nil, "account/"+account.String(), map[string]any{"may": licence != ""})
	})
	if err != nil {
		return fmt.Errorf("let account %s clear: %w", account, err)
	}
	return nil
}
