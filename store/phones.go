package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
)

// SignOutClient ends every sign-in of a client at once, such as that of a phone
// that is lost. The passphrase, the passkeys and all that was logged stay. It
// returns [domain.ErrConflict] for a client without a sign-in.
func (s *Store) SignOutClient(ctx context.Context, actor Actor, client uuid.UUID) error {
	err := s.change(ctx, actor, func(t *tx) error { return t.signOutClient(ctx, client) })
	if err != nil {
		return fmt.Errorf("sign out client %s: %w", client, err)
	}
	return nil
}

// ReplaceLostPhone ends every sign-in of a client, removes the passkeys, of which one
// lies in the phone, and makes a link for the next phone, in one step: there is no moment in which the lost one can still be used
// and the new one already. It returns the token of the link.
func (s *Store) ReplaceLostPhone(ctx context.Context, actor Actor, client uuid.UUID) (token string, err error) {
	err = s.change(ctx, actor, func(t *tx) error {
		if err := t.signOutClient(ctx, client); err != nil {
			return err
		}
		c, err := t.client(ctx, client)
		if err != nil {
			return err
		}
		if err := t.dropPasskeys(ctx, c.AccountID.UUID); err != nil {
			return err
		}
		token, err = t.invite(ctx, client, "")
		return err
	})
	if err != nil {
		return "", fmt.Errorf("replace the lost phone of client %s: %w", client, err)
	}
	return token, nil
}

func (t *tx) signOutClient(ctx context.Context, client uuid.UUID) error {
	c, err := t.lockClient(ctx, client, true)
	if err != nil {
		return err
	}
	if !c.AccountID.Valid {
		return fmt.Errorf("%w: no sign-in", domain.ErrConflict)
	}
	if err := t.endSignIns(ctx, c.AccountID.UUID); err != nil {
		return err
	}
	return t.audit(ctx, "client.sign_out", client, "account/"+c.AccountID.UUID.String(), nil)
}

// endSignIns raises the number that every signed-in browser must know. It returns
// [domain.ErrNotFound] for an account that is closed or not there.
func (t *tx) endSignIns(ctx context.Context, account uuid.UUID) error {
	tag, err := t.Exec(ctx, `UPDATE accounts SET credentials = credentials + 1 WHERE id = $1 AND disabled_at IS NULL`, account)
	if err != nil {
		return err
	}
	if tag.RowsAffected() == 0 {
		return pgx.ErrNoRows
	}
	return nil
}

// SignOutAccount ends every sign-in of an account of the practice. Only the lead
// may; clients are signed out by their record.
func (s *Store) SignOutAccount(ctx context.Context, actor Actor, id uuid.UUID) error {
	if actor.Role != domain.RoleLead {
		return domain.ErrForbidden
	}
	err := s.change(ctx, actor, func(t *tx) error {
		rows, _ := t.Query(ctx, `SELECT id FROM accounts WHERE id = $1 AND role <> 'client' FOR UPDATE`, id)
		if _, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[uuid.UUID]); err != nil {
			return err
		}
		if err := t.endSignIns(ctx, id); err != nil {
			return err
		}
		return t.audit(ctx, "account.sign_out", uuid.Nil, "account/"+id.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("sign out account %s: %w", id, err)
	}
	return nil
}
