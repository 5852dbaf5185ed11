package store

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
)

// linkLife is how long a one-time link can be used.
const linkLife = 72 * time.Hour

// tokenHash is how a secret token is stored.
func tokenHash(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// addLink makes a one-time link for an account, or for the set-up if account is
// the nil id, and voids the earlier ones. It returns the token, which is kept
// nowhere.
func (t *tx) addLink(ctx context.Context, account uuid.UUID) (string, error) {
	if _, err := t.Exec(ctx, `
		UPDATE join_links SET used_at = $2 WHERE account_id IS NOT DISTINCT FROM $1 AND used_at IS NULL`,
		orNull(account), t.now); err != nil {
		return "", err
	}
	token := strings.ToLower(rand.Text()) // 128 bits and more
	_, err := t.Exec(ctx, `
		INSERT INTO join_links (token_hash, account_id, created_at, expires_at) VALUES ($1, $2, $3, $4)`,
		tokenHash(token), orNull(account), t.now, t.now.Add(linkLife))
	return token, err
}

// NewSetUpLink returns the token of a link with which the lead sets up the
// practice, or "" if there is a practice already. Earlier links become void.
func (s *Store) NewSetUpLink(ctx context.Context) (string, error) {
	var token string
	err := s.change(ctx, Actor{}, func(t *tx) error {
		if t.practice.Name != "" {
			return errNothingToDo
		}
		var err error
		if token, err = t.addLink(ctx, uuid.Nil); err != nil {
			return err
		}
		return t.audit(ctx, "practice.set_up_link", uuid.Nil, "practice", nil)
	})
	if errors.Is(err, errNothingToDo) {
		return "", nil
	}
	if err != nil {
		return "", fmt.Errorf("new set-up link: %w", err)
	}
	return token, nil
}

var errNothingToDo = errors.New("nothing to do")

// Link is what a one-time link is for.
type Link struct {
	Account Account // the zero Account for the set-up
}

// Link returns what an unused link is for. A link that is unknown, used or too
// old is [domain.ErrNotFound].
func (s *Store) Link(ctx context.Context, token string) (Link, error) {
	account, err := s.link(ctx, s.pool, token, "")
	if err != nil {
		return Link{}, fmt.Errorf("link: %w", domainError(err))
	}
	return Link{Account: account}, nil
}

func (s *Store) link(ctx context.Context, q querier, token, lock string) (Account, error) {
	rows, _ := q.Query(ctx, `
		SELECT l.account_id AS id, coalesce(a.role, '') AS role, coalesce(a.name, '') AS name,
			coalesce(a.sign_in_name, '') AS sign_in_name, coalesce(a.credentials, 0) AS credentials,
			a.disabled_at IS NOT NULL AS disabled, coalesce(a.language, '') AS language, coalesce(a.units, '') AS units
		FROM join_links l LEFT JOIN accounts a ON a.id = l.account_id
		WHERE l.token_hash = $1 AND l.used_at IS NULL AND l.expires_at > $2 AND a.disabled_at IS NULL `+lock,
		tokenHash(token), s.now())
	row, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
		ID                     uuid.NullUUID
		Role, Name, SignInName string
		Credentials            int
		Disabled               bool
		Preferences
	}])
	if err != nil {
		return Account{}, err
	}
	return Account{
		ID: row.ID.UUID, Role: domain.Role(row.Role), Name: row.Name, SignInName: row.SignInName, Credentials: row.Credentials,
		Disabled: row.Disabled, Preferences: row.Preferences,
	}, nil
}

// useLink locks and uses up a link and returns its account.
func (s *Store) useLink(ctx context.Context, t *tx, token string) (Account, error) {
	account, err := s.link(ctx, t, token, "FOR UPDATE OF l")
	if err != nil {
		return Account{}, err
	}
	_, err = t.Exec(ctx, `UPDATE join_links SET used_at = $2 WHERE token_hash = $1`, tokenHash(token), t.now)
	return account, err
}

// SetUp is what the lead fills in on the first start.
type SetUp struct {
	Practice         Practice
	Name, SignInName string
	Passphrase       string
}

// SetUpPractice makes the practice and the lead's account with a set-up link. It
// returns [domain.ErrNotFound] for a link that cannot be used, and Problems for
// what was filled in wrong; the link can then be used again.
func (s *Store) SetUpPractice(ctx context.Context, token string, in SetUp) (Account, error) {
	if _, err := s.Link(ctx, token); err != nil { // before anything that costs
		return Account{}, err
	}
	problems := in.Practice.Check()
	accountProblems(&problems, in.Name, in.SignInName)
	lengthProblem(&problems, "name", in.Name)
	passphraseProblem(&problems, in.Passphrase, in.Practice.Name, in.Name, in.SignInName)
	if err := problems.Err(); err != nil {
		return Account{}, err
	}
	hash, err := s.hasher.hash(ctx, in.Passphrase)
	if err != nil {
		return Account{}, fmt.Errorf("set up practice: %w", err)
	}
	var lead Account
	err = s.change(ctx, Actor{}, func(t *tx) error {
		linked, err := s.useLink(ctx, t, token)
		if err != nil {
			return err
		}
		if linked.ID != uuid.Nil {
			return domain.ErrNotFound // an invitation, not a set-up
		}
		if err := t.savePractice(ctx, in.Practice); err != nil {
			return err
		}
		id, err := t.addAccount(ctx, domain.RoleLead, in.Name, in.SignInName)
		if err != nil {
			return err
		}
		t.actor = Actor{ID: id, Role: domain.RoleLead}
		if lead, err = t.setPassphrase(ctx, id, hash); err != nil {
			return err
		}
		return t.audit(ctx, "practice.set_up", uuid.Nil, "practice", nil)
	})
	if err != nil {
		return Account{}, fmt.Errorf("set up practice: %w", err)
	}
	return lead, nil
}

// Join chooses the first passphrase of an invited account, with its link. It
// returns [domain.ErrNotFound] for a link that cannot be used.
func (s *Store) Join(ctx context.Context, token, passphrase string) (Account, error) {
	link, err := s.Link(ctx, token)
	if err != nil {
		return Account{}, err
	}
	practice, err := s.Practice(ctx)
	if err != nil {
		return Account{}, err
	}
	var problems domain.Problems
	passphraseProblem(&problems, passphrase, practice.Name, link.Account.Name, link.Account.SignInName)
	if err := problems.Err(); err != nil {
		return Account{}, err
	}
	hash, err := s.hasher.hash(ctx, passphrase)
	if err != nil {
		return Account{}, fmt.Errorf("join: %w", err)
	}
	var joined Account
	err = s.change(ctx, Actor{}, func(t *tx) error {
		account, err := s.useLink(ctx, t, token)
		if err != nil {
			return err
		}
		if account.ID == uuid.Nil {
			return domain.ErrNotFound // the set-up, not an invitation
		}
		t.actor = account.Actor()
		if joined, err = t.setPassphrase(ctx, account.ID, hash); err != nil {
			return err
		}
		return t.audit(ctx, "account.join", uuid.Nil, "account/"+account.ID.String(), nil)
	})
	if err != nil {
		return Account{}, fmt.Errorf("join: %w", err)
	}
	return joined, nil
}

// setPassphrase stores a passphrase and ends all sign-ins made with the old one.
func (t *tx) setPassphrase(ctx context.Context, id uuid.UUID, hash string) (Account, error) {
	rows, _ := t.Query(ctx, `
		UPDATE accounts SET password_hash = $2, credentials = credentials + 1, failed_tries = 0, failed_at = NULL
		WHERE id = $1 RETURNING `+accountColumns, id, hash)
	return pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Account])
}

// ChangePassphrase replaces the actor's own passphrase, which they must know. A
// wrong old one is a problem of the field old; who has none yet, with a passkey
// alone, needs none. All their other browsers are
// signed out; the returned account carries the new number.
func (s *Store) ChangePassphrase(ctx context.Context, actor Actor, old, passphrase string) (Account, error) {
	account, err := s.Account(ctx, actor.ID)
	if err != nil {
		return Account{}, err
	}
	practice, err := s.Practice(ctx)
	if err != nil {
		return Account{}, err
	}
	var problems domain.Problems
	passphraseProblem(&problems, passphrase, practice.Name, account.Name, account.SignInName)
	if err := problems.Err(); err != nil {
		return Account{}, err
	}
	has, err := s.HasPassphrase(ctx, actor)
	if err != nil {
		return Account{}, err
	}
	if !has { // whoever joined by a passkey chooses the first one
	} else if _, err := s.SignIn(ctx, account.SignInName, old); errors.Is(err, ErrSignIn) {
		return Account{}, domain.Problems{"old": "This is not your passphrase. After several wrong tries, wait 15 minutes."}
	} else if err != nil {
		return Account{}, err
	}
	hash, err := s.hasher.hash(ctx, passphrase)
	if err != nil {
		return Account{}, fmt.Errorf("change passphrase: %w", err)
	}
	err = s.change(ctx, actor, func(t *tx) error {
		if account, err = t.setPassphrase(ctx, actor.ID, hash); err != nil {
			return err
		}
		return t.audit(ctx, "account.passphrase", uuid.Nil, "account/"+actor.ID.String(), nil)
	})
	if err != nil {
		return Account{}, fmt.Errorf("change passphrase: %w", err)
	}
	return account, nil
}

// NewAccountLink makes a new one-time link for an account of the practice, signs it
// out everywhere and removes its passkeys: whoever has lost the way in may have lost
// the device that one lies in. Only the lead may.
func (s *Store) NewAccountLink(ctx context.Context, actor Actor, id uuid.UUID) (Account, string, error) {
	if actor.Role != domain.RoleLead {
		return Account{}, "", domain.ErrForbidden
	}
	var account Account
	var token string
	err := s.change(ctx, actor, func(t *tx) error {
		rows, _ := t.Query(ctx, `
			UPDATE accounts SET credentials = credentials + 1
			WHERE id = $1 AND disabled_at IS NULL AND role <> 'client' RETURNING `+accountColumns, id)
		var err error
		if account, err = pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Account]); err != nil {
			return err
		}
		if err := t.dropPasskeys(ctx, id); err != nil {
			return err
		}
		if token, err = t.addLink(ctx, id); err != nil {
			return err
		}
		return t.audit(ctx, "account.link", uuid.Nil, "account/"+id.String(), nil)
	})
	if err != nil {
		return Account{}, "", fmt.Errorf("new link for account %s: %w", id, err)
	}
	return account, token, nil
}
