package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
)

// challengeLife is how long a device may take to answer: five minutes, as the
// standard advises. Source: W3C Web Authentication Level 3, 15.1 (from memory).
const challengeLife = 5 * time.Minute

// Challenge is what a device was asked to sign.
type Challenge struct {
	Challenge string          // as the device sends it back
	Data      json.RawMessage // what is needed to check the answer
}

// SaveChallenge keeps a challenge until it is answered. The account is the one
// that is to get a passkey, the nil id for a sign-in. That a challenge was made says nothing of
// anybody, so it is not in the audit trail.
func (s *Store) SaveChallenge(ctx context.Context, account uuid.UUID, c Challenge) error {
	_, err := s.pool.Exec(ctx, `
		INSERT INTO passkey_challenges (challenge_hash, account_id, data, expires_at) VALUES ($1, $2, $3, $4)`,
		tokenHash(c.Challenge), orNull(account), c.Data, s.now().Add(challengeLife))
	if err != nil {
		return fmt.Errorf("save challenge: %w", err)
	}
	return nil
}

// takeChallenge uses a challenge up, whether or not its answer turns out right. It
// returns [domain.ErrNotFound] for one that is unknown, answered, too old or of
// another account.
func (s *Store) takeChallenge(ctx context.Context, account uuid.UUID, challenge string) (json.RawMessage, error) {
	rows, _ := s.pool.Query(ctx, `
		DELETE FROM passkey_challenges
		WHERE challenge_hash = $1 AND account_id IS NOT DISTINCT FROM $2 AND expires_at > $3 RETURNING data`,
		tokenHash(challenge), orNull(account), s.now())
	data, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[json.RawMessage])
	return data, domainError(err)
}

// Passkey is a passkey of an account.
type Passkey struct {
	ID        uuid.UUID
	Name      string // of the device, as its owner calls it
	CreatedAt time.Time
	UsedAt    *time.Time // nil before the first sign-in with it
}

// Passkeys lists the actor's own passkeys, the oldest first.
func (s *Store) Passkeys(ctx context.Context, actor Actor) ([]Passkey, error) {
	rows, _ := s.pool.Query(ctx, `
		SELECT id, name, created_at, used_at FROM passkeys
		WHERE account_id = $1 AND removed_at IS NULL ORDER BY created_at, id`, actor.ID)
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[Passkey])
	if err != nil {
		return nil, fmt.Errorf("passkeys: %w", err)
	}
	return list, nil
}

// PasskeyCredentials returns the devices' own names of an account's passkeys, so
// that a device does not make a second one.
func (s *Store) PasskeyCredentials(ctx context.Context, account uuid.UUID) ([][]byte, error) {
	rows, _ := s.pool.Query(ctx, `SELECT credential_id FROM passkeys WHERE account_id = $1 AND removed_at IS NULL`, account)
	list, err := pgx.CollectRows(rows, pgx.RowTo[[]byte])
	if err != nil {
		return nil, fmt.Errorf("passkeys of account %s: %w", account, err)
	}
	return list, nil
}

// HasPassphrase reports whether the actor can sign in by a passphrase.
func (s *Store) HasPassphrase(ctx context.Context, actor Actor) (bool, error) {
	rows, _ := s.pool.Query(ctx, `SELECT password_hash IS NOT NULL FROM accounts WHERE id = $1`, actor.ID)
	has, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[bool])
	if err != nil {
		return false, fmt.Errorf("passphrase of account %s: %w", actor.ID, domainError(err))
	}
	return has, nil
}

// NewPasskey is a passkey that a device has made: its own name of it, and what is
// kept of it.
type NewPasskey struct {
	Name         string
	CredentialID []byte
	Credential   json.RawMessage
}

// passkeyLimit is how many passkeys an account has at most. Nobody has more
// devices in use, and a list that nobody can look through hides a stranger's.
const passkeyLimit = 20

func (t *tx) addPasskey(ctx context.Context, account uuid.UUID, k NewPasskey) error {
	k.Name = strings.TrimSpace(k.Name)
	if k.Name == "" {
		k.Name = "Passkey"
	}
	// One at a time, so that the limit holds.
	if _, err := t.Exec(ctx, `SELECT FROM accounts WHERE id = $1 FOR UPDATE`, account); err != nil {
		return err
	}
	var problems domain.Problems
	if lengthProblem(&problems, "device", k.Name); problems != nil {
		return problems
	}
	id := newID()
	tag, err := t.Exec(ctx, `
		INSERT INTO passkeys (id, account_id, credential_id, credential, name, created_at)
		SELECT $1, $2, $3, $4, $5, $6
		WHERE (SELECT count(*) FROM passkeys WHERE account_id = $2 AND removed_at IS NULL) < $7`,
		id, account, k.CredentialID, k.Credential, k.Name, t.now, passkeyLimit)
	if err != nil {
		return err
	}
	if tag.RowsAffected() == 0 {
		return domain.Problems{"device": "There are 20 passkeys already. Remove one first."}
	}
	return t.audit(ctx, "account.passkey_add", uuid.Nil, "passkey/"+id.String(), map[string]any{"account": account})
}

// ErrPasskey is the one answer to a passkey that was refused, whatever the reason.
var ErrPasskey = errors.New("passkey refused")

// AddPasskey adds a passkey to the actor's account. The answer of the device is
// checked by check, which gets what was kept with the challenge. It returns
// [ErrPasskey] for one that is not right.
func (s *Store) AddPasskey(ctx context.Context, actor Actor, challenge string, check func(data json.RawMessage) (NewPasskey, error)) error {
	made, err := s.checkedPasskey(ctx, actor.ID, challenge, check)
	if err != nil {
		return fmt.Errorf("add passkey: %w", err)
	}
	err = s.change(ctx, actor, func(t *tx) error { return t.addPasskey(ctx, actor.ID, made) })
	if err != nil {
		return fmt.Errorf("add passkey: %w", err)
	}
	return nil
}

func (s *Store) checkedPasskey(ctx context.Context, account uuid.UUID, challenge string, check func(json.RawMessage) (NewPasskey, error)) (NewPasskey, error) {
	data, err := s.takeChallenge(ctx, account, challenge)
	if errors.Is(err, domain.ErrNotFound) {
		return NewPasskey{}, fmt.Errorf("%w: no such challenge", ErrPasskey)
	}
	if err != nil {
		return NewPasskey{}, err
	}
	made, err := check(data)
	if err != nil {
		return NewPasskey{}, fmt.Errorf("%w: %w", ErrPasskey, err)
	}
	return made, nil
}

// JoinWithPasskey is [Store.Join] with a passkey in place of a passphrase. An
// earlier passphrase stops working: the link makes a new beginning. It returns
// [domain.ErrNotFound] for a link that cannot be used, and [ErrPasskey] for an
// answer that is not right; the link can then be used again.
func (s *Store) JoinWithPasskey(ctx context.Context, token, challenge string, check func(data json.RawMessage) (NewPasskey, error)) (Account, error) {
	link, err := s.Link(ctx, token)
	if err != nil {
		return Account{}, err
	}
	if link.Account.ID == uuid.Nil {
		return Account{}, domain.ErrNotFound // the set-up, not an invitation
	}
	made, err := s.checkedPasskey(ctx, link.Account.ID, challenge, check)
	if err != nil {
		return Account{}, fmt.Errorf("join with passkey: %w", err)
	}
	var joined Account
	err = s.change(ctx, Actor{}, func(t *tx) error {
		account, err := s.useLink(ctx, t, token)
		if err != nil {
			return err
		}
		t.actor = account.Actor()
		rows, _ := t.Query(ctx, `
			UPDATE accounts SET password_hash = NULL, credentials = credentials + 1, failed_tries = 0, failed_at = NULL
			WHERE id = $1 RETURNING `+accountColumns, account.ID)
		if joined, err = pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Account]); err != nil {
			return err
		}
		if err := t.addPasskey(ctx, account.ID, made); err != nil {
			return err
		}
		return t.audit(ctx, "account.join", uuid.Nil, "account/"+account.ID.String(), map[string]any{"by": "passkey"})
	})
	if err != nil {
		return Account{}, fmt.Errorf("join with passkey: %w", err)
	}
	return joined, nil
}

// SignInWithPasskey returns the account of the passkey with which a device has
// signed a challenge. The answer is checked by check, which gets what was kept with
// the challenge, the account and the passkey as kept, and returns it as it is to be
// kept from now on. Anything that is not right is [ErrPasskey].
func (s *Store) SignInWithPasskey(ctx context.Context, challenge string, credentialID []byte,
	check func(data json.RawMessage, account Account, credential json.RawMessage) (json.RawMessage, error),
) (Account, error) {
	account, err := s.signInWithPasskey(ctx, challenge, credentialID, check)
	if errors.Is(err, ErrPasskey) {
		if err := s.change(ctx, Actor{}, func(t *tx) error {
			return t.audit(ctx, "account.sign_in_failed", uuid.Nil, "account", map[string]any{"by": "passkey"})
		}); err != nil {
			return Account{}, fmt.Errorf("sign in with passkey: %w", err)
		}
	}
	if err != nil {
		return Account{}, fmt.Errorf("sign in with passkey: %w", err)
	}
	return account, nil
}

func (s *Store) signInWithPasskey(ctx context.Context, challenge string, credentialID []byte,
	check func(json.RawMessage, Account, json.RawMessage) (json.RawMessage, error),
) (Account, error) {
	data, err := s.takeChallenge(ctx, uuid.Nil, challenge)
	if errors.Is(err, domain.ErrNotFound) {
		return Account{}, fmt.Errorf("%w: no such challenge", ErrPasskey)
	}
	if err != nil {
		return Account{}, err
	}
	var account Account
	err = s.change(ctx, Actor{}, func(t *tx) error {
		rows, _ := t.Query(ctx, `
			SELECT id, account_id, credential FROM passkeys
			WHERE credential_id = $1 AND removed_at IS NULL FOR UPDATE`, credentialID)
		row, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
			ID, AccountID uuid.UUID
			Credential    json.RawMessage
		}])
		if errors.Is(err, pgx.ErrNoRows) {
			return fmt.Errorf("%w: no such passkey", ErrPasskey)
		}
		if err != nil {
			return err
		}
		rows, _ = t.Query(ctx, `SELECT `+accountColumns+` FROM accounts WHERE id = $1 AND disabled_at IS NULL`, row.AccountID)
		account, err = pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Account])
		if errors.Is(err, pgx.ErrNoRows) {
			return fmt.Errorf("%w: the account is closed", ErrPasskey)
		}
		if err != nil {
			return err
		}
		used, err := check(data, account, row.Credential)
		if err != nil {
			return fmt.Errorf("%w: %w", ErrPasskey, err)
		}
		t.actor = account.Actor()
		if _, err := t.Exec(ctx, `UPDATE passkeys SET credential = $2, used_at = $3 WHERE id = $1`, row.ID, used, t.now); err != nil {
			return err
		}
		return t.audit(ctx, "account.sign_in", uuid.Nil, "account/"+account.ID.String(), map[string]any{"passkey": row.ID})
	})
	return account, err
}

// ErrLastWayIn means that an account without a passphrase has one passkey left.
var ErrLastWayIn = errors.New("the last way in")

// RemovePasskey removes one of the actor's own passkeys and ends every sign-in of
// the account, among them those made with it. The returned account carries the new
// number, for the browser that asked. It returns [domain.ErrNotFound] for a passkey
// of another account, and [ErrLastWayIn] where nothing else would be left to sign in
// with.
func (s *Store) RemovePasskey(ctx context.Context, actor Actor, id uuid.UUID) (Account, error) {
	var account Account
	err := s.change(ctx, actor, func(t *tx) error {
		rows, _ := t.Query(ctx, `
			UPDATE accounts SET credentials = credentials + 1 WHERE id = $1 AND disabled_at IS NULL
			RETURNING `+accountColumns, actor.ID)
		var err error
		if account, err = pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Account]); err != nil {
			return err
		}
		tag, err := t.Exec(ctx, `
			UPDATE passkeys SET removed_at = $3 WHERE id = $1 AND account_id = $2 AND removed_at IS NULL`, id, actor.ID, t.now)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return pgx.ErrNoRows
		}
		rows, _ = t.Query(ctx, `
			SELECT password_hash IS NOT NULL OR EXISTS (SELECT FROM passkeys k WHERE k.account_id = a.id AND k.removed_at IS NULL)
			FROM accounts a WHERE id = $1`, actor.ID)
		left, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[bool])
		if err != nil {
			return err
		}
		if !left {
			return ErrLastWayIn
		}
		return t.audit(ctx, "account.passkey_remove", uuid.Nil, "passkey/"+id.String(), nil)
	})
	if err != nil {
		return Account{}, fmt.Errorf("remove passkey %s: %w", id, err)
	}
	return account, nil
}

// RenamePasskey gives one of the actor's own passkeys another name. It returns
// [domain.Problems] for "device" if there is none, or it is too long, and
// [domain.ErrNotFound] for a passkey of another account.
func (s *Store) RenamePasskey(ctx context.Context, actor Actor, id uuid.UUID, name string) error {
	err := s.change(ctx, actor, func(t *tx) error {
		name = strings.TrimSpace(name)
		var problems domain.Problems
		if name == "" {
			problems.Add("device", "Type a name for this device.")
		}
		if lengthProblem(&problems, "device", name); problems != nil {
			return problems
		}
		tag, err := t.Exec(ctx, `UPDATE passkeys SET name = $3 WHERE id = $1 AND account_id = $2 AND removed_at IS NULL`, id, actor.ID, name)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return pgx.ErrNoRows
		}
		return t.audit(ctx, "account.passkey_rename", uuid.Nil, "passkey/"+id.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("rename passkey %s: %w", id, err)
	}
	return nil
}

// dropPasskeys removes all passkeys of an account whose device is lost: whoever can
// unlock it could sign in again.
func (t *tx) dropPasskeys(ctx context.Context, account uuid.UUID) error {
	tag, err := t.Exec(ctx, `UPDATE passkeys SET removed_at = $2 WHERE account_id = $1 AND removed_at IS NULL`, account, t.now)
	if err != nil || tag.RowsAffected() == 0 {
		return err
	}
	return t.audit(ctx, "account.passkeys_drop", uuid.Nil, "account/"+account.String(), map[string]any{"passkeys": tag.RowsAffected()})
}
