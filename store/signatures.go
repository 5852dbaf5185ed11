package store

import (
	"context"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"

	"brae/domain"
)

// Credential is what stands beside the name of who signs.
type Credential struct {
	Title        string // of the profession, such as physiotherapist; may be empty
	Registration string // number of a licence or register; may be empty
}

// credentialLength is how many characters a title and a registration take: a signature
// is a line.
const credentialLength = 60

// ChangeCredential stores the title and the registration of an account of the practice:
// one's own, or any for the lead. What was signed before stays as it was. It returns
// [domain.Problems] for what is too long.
func (s *Store) ChangeCredential(ctx context.Context, actor Actor, account uuid.UUID, c Credential) error {
	if !actor.Role.Staff() || actor.ID != account && actor.Role != domain.RoleLead {
		return domain.ErrForbidden
	}
	c.Title, c.Registration = strings.Join(strings.Fields(c.Title), " "), strings.Join(strings.Fields(c.Registration), " ")
	var problems domain.Problems
	for field, text := range map[string]string{"title": c.Title, "registration": c.Registration} {
		if utf8.RuneCountInString(text) > credentialLength {
			problems.Add(field, fmt.Sprintf("Use %d characters at most.", credentialLength))
		}
	}
	err := problems.Err()
	if err == nil {
		err = s.change(ctx, actor, func(t *tx) error {
			tag, err := t.Exec(ctx, `UPDATE accounts SET title = $2, registration = $3 WHERE id = $1 AND role <> 'client'`, account, c.Title, c.Registration)
			if err != nil {
				return err
			}
			if tag.RowsAffected() == 0 {
				return domain.ErrNotFound
			}
			return t.audit(ctx, "account.credential", uuid.Nil, "account/"+account.String(), nil)
		})
	}
	if err != nil {
		return fmt.Errorf("change the credential of account %s: %w", account, err)
	}
	return nil
}

// signature is how the actor signs today.
func (t *tx) signature(ctx context.Context) (string, error) {
	var name string
	var c Credential
	err := t.QueryRow(ctx, `SELECT name, title, registration FROM accounts WHERE id = $1`, t.actor.ID).Scan(&name, &c.Title, &c.Registration)
	return domain.Signature(name, c.Title, c.Registration), err
}
