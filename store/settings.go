package store

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/rulebook"
	"brae/domain/source"
)

// Settings are the practice's own numbers in use.
type Settings struct {
	Version int           // 0 is all defaults
	Changed source.Values // what differs from the defaults
	Reason  string
	SetAt   time.Time
	SetBy   string     // name of the account
	Signed  *Signature // nil while the lead has not signed these and the rules of this program
}

// Signature is the lead's word that rules and settings are right for the practice.
type Signature struct {
	RuleSet  string
	Name     string
	SignedAt time.Time
}

// Settings returns the settings in use and whether the lead has signed them.
func (s *Store) Settings(ctx context.Context, actor Actor) (Settings, error) {
	if !actor.Role.Staff() {
		return Settings{}, domain.ErrForbidden
	}
	settings, err := loadSettings(ctx, s.pool)
	if err != nil {
		return Settings{}, fmt.Errorf("settings: %w", err)
	}
	return settings, nil
}

func loadSettings(ctx context.Context, q querier) (Settings, error) {
	var settings Settings
	rows, _ := q.Query(ctx, `
		SELECT s.version, s.changed, s.reason, s.set_at, a.name AS set_by
		FROM settings s JOIN accounts a ON a.id = s.set_by ORDER BY s.version DESC LIMIT 1`)
	row, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
		Version int
		Changed source.Values
		Reason  string
		SetAt   time.Time
		SetBy   string
	}])
	switch {
	case err == nil:
		settings = Settings{row.Version, row.Changed, row.Reason, row.SetAt, row.SetBy, nil}
	case !errors.Is(err, pgx.ErrNoRows):
		return Settings{}, err
	}
	rows, _ = q.Query(ctx, `
		SELECT rule_set, name, signed_at FROM signatures WHERE rule_set = $1 AND settings_version = $2`,
		rulebook.Version, settings.Version)
	signed, err := pgx.CollectExactlyOneRow(rows, pgx.RowToAddrOfStructByName[Signature])
	if err != nil && !errors.Is(err, pgx.ErrNoRows) {
		return Settings{}, err
	}
	if err == nil {
		settings.Signed = signed
	}
	return settings, nil
}

// ChangeSettings makes a new version of the settings out of the one that was
// shown and the values that are to change. Only the lead may. It returns
// [domain.Problems] by the key of the setting, and [domain.ErrConflict] if the
// settings were changed since.
func (s *Store) ChangeSettings(ctx context.Context, actor Actor, version int, values source.Values, reason string) error {
	if actor.Role != domain.RoleLead {
		return domain.ErrForbidden
	}
	err := s.change(ctx, actor, func(t *tx) error {
		// One version after the other: the second of two waits, and finds a newer one.
		if _, err := t.Exec(ctx, `LOCK TABLE settings IN SHARE ROW EXCLUSIVE MODE`); err != nil {
			return err
		}
		inUse, err := loadSettings(ctx, t)
		if err != nil {
			return err
		}
		if inUse.Version != version {
			return domain.ErrConflict
		}
		var problems domain.Problems
		if found, ok := errors.AsType[domain.Problems](rulebook.Check(values)); ok {
			problems = found
		}
		if reason = strings.TrimSpace(reason); reason == "" {
			problems.Add("reason", "Write why. It stands beside the settings from now on.")
		} else if utf8.RuneCountInString(reason) > 1000 {
			problems.Add("reason", "Use 1,000 characters at most.")
		}
		if err := problems.Err(); err != nil {
			return err
		}
		changed := source.Values{}
		maps.Copy(changed, inUse.Changed)
		maps.Copy(changed, values)
		for _, setting := range rulebook.Settings() {
			if changed[setting.Key] == setting.Default {
				delete(changed, setting.Key)
			}
		}
		if maps.Equal(changed, inUse.Changed) || len(changed) == 0 && len(inUse.Changed) == 0 {
			return domain.Problems{"reason": "Nothing is different from the settings in use."}
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO settings (version, changed, reason, set_at, set_by) VALUES ($1, $2, $3, $4, $5)`,
			version+1, changed, reason, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "settings.change", uuid.Nil, fmt.Sprintf("settings/%d", version+1), map[string]any{"changed": changed})
	})
	if err != nil {
		return fmt.Errorf("change settings: %w", err)
	}
	return nil
}

// SignRules puts the lead's name under the rules of this program and the settings
// that were shown. It returns [domain.ErrConflict] if they were changed or signed
// since.
func (s *Store) SignRules(ctx context.Context, actor Actor, version int, name string) error {
	if actor.Role != domain.RoleLead {
		return domain.ErrForbidden
	}
	name = strings.TrimSpace(name)
	if name == "" {
		return domain.Problems{"name": "Type your name to sign."}
	}
	var problems domain.Problems
	if lengthProblem(&problems, "name", name); problems != nil {
		return problems
	}
	err := s.change(ctx, actor, func(t *tx) error {
		inUse, err := loadSettings(ctx, t)
		if err != nil {
			return err
		}
		if inUse.Version != version {
			return domain.ErrConflict
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO signatures (id, rule_set, settings_version, name, signed_at, signed_by) VALUES ($1, $2, $3, $4, $5, $6)`,
			newID(), rulebook.Version, version, name, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "rules.sign", uuid.Nil, "rules/"+rulebook.Version, map[string]any{"settings": version})
	})
	if err != nil {
		return fmt.Errorf("sign rules: %w", err)
	}
	return nil
}
