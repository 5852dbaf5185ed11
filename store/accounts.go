package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
)

// Account is a sign-in.
type Account struct {
	ID         uuid.UUID
	Role       domain.Role
	Name       string
	SignInName string
	// Credentials is raised when the passphrase changes or the account is closed.
	// A signed-in browser that remembers an older number is signed out.
	Credentials int
	Disabled    bool
	Preferences
	Credential
}

// Actor returns the account as the one who asks.
func (a Account) Actor() Actor { return Actor{ID: a.ID, Role: a.Role} }

const accountColumns = `id, role, name, sign_in_name, credentials, disabled_at IS NOT NULL AS disabled, language, units, title, registration`

// ErrSignIn is the one answer to a sign-in that failed, whatever the reason.
var ErrSignIn = errors.New("sign-in refused")

// signInDelay is how long an account waits after that many wrong tries in a row.
// Four tries are free; the fifth waits 30 s and each further one twice as long,
// up to 15 minutes. Somebody who is signed in stays so: nobody can be locked out
// by a stranger who guesses.
func signInDelay(tries int) time.Duration {
	if tries < 5 {
		return 0
	}
	return min(30*time.Second<<min(tries-5, 10), 15*time.Minute)
}

// SignIn returns the account with that sign-in name and passphrase. Any failure
// of the person (unknown name, wrong passphrase, closed account, too many tries)
// is [ErrSignIn] and takes the same time.
func (s *Store) SignIn(ctx context.Context, name, passphrase string) (Account, error) {
	account, err := s.signIn(ctx, signInName(name), passphrase)
	if err != nil {
		return Account{}, fmt.Errorf("sign in: %w", err)
	}
	return account, nil
}

func (s *Store) signIn(ctx context.Context, name, passphrase string) (Account, error) {
	account, hash, waiting, err := s.countTry(ctx, name)
	if err != nil {
		return Account{}, err
	}
	if account.Disabled || waiting {
		hash = "" // compared all the same, with nothing
	}
	ok, err := s.hasher.matches(ctx, passphrase, hash)
	if err != nil {
		return Account{}, err
	}
	if !ok {
		subject := "account" // of nobody: written all the same, so that it takes as long
		if account.ID != uuid.Nil {
			subject = "account/" + account.ID.String()
		}
		err := s.change(ctx, Actor{}, func(t *tx) error {
			return t.audit(ctx, "account.sign_in_failed", uuid.Nil, subject, map[string]any{"waiting": waiting})
		})
		if err != nil {
			return Account{}, err
		}
		return Account{}, ErrSignIn
	}
	err = s.change(ctx, account.Actor(), func(t *tx) error {
		if _, err := t.Exec(ctx, `UPDATE accounts SET failed_tries = 0, failed_at = NULL WHERE id = $1`, account.ID); err != nil {
			return err
		}
		return t.audit(ctx, "account.sign_in", uuid.Nil, "account/"+account.ID.String(), nil)
	})
	return account, err
}

// countTry counts a try to sign in as wrong before the passphrase is compared, so
// that no number of tries at once is compared before the first is counted. A try
// during the wait does not lengthen it. The zero Account is that of nobody.
func (s *Store) countTry(ctx context.Context, name string) (account Account, hash string, waiting bool, err error) {
	err = pgx.BeginFunc(ctx, s.pool, func(tx pgx.Tx) error {
		// Waiting for the disk would tell names that exist from others.
		if _, err := tx.Exec(ctx, `SET LOCAL synchronous_commit = off`); err != nil {
			return err
		}
		rows, _ := tx.Query(ctx, `
			SELECT `+accountColumns+`, coalesce(password_hash, '') AS hash, failed_tries, failed_at
			FROM accounts WHERE sign_in_name = $1 FOR UPDATE`, name)
		found, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
			Account
			Hash        string
			FailedTries int
			FailedAt    *time.Time
		}])
		if errors.Is(err, pgx.ErrNoRows) {
			return nil
		}
		if err != nil {
			return err
		}
		account, hash = found.Account, found.Hash
		now := s.now()
		waiting = found.FailedAt != nil && now.Before(found.FailedAt.Add(signInDelay(found.FailedTries)))
		if waiting {
			return nil
		}
		_, err = tx.Exec(ctx, `UPDATE accounts SET failed_tries = failed_tries + 1, failed_at = $2 WHERE id = $1`, account.ID, now)
		return err
	})
	return account, hash, waiting, err
}

// signInName is a sign-in name as stored: without the spaces and capitals that a
// phone's keyboard adds.
func signInName(typed string) string { return strings.ToLower(strings.TrimSpace(typed)) }

// Account returns the account with that id. It returns [domain.ErrNotFound] if
// it is closed.
func (s *Store) Account(ctx context.Context, id uuid.UUID) (Account, error) {
	rows, _ := s.pool.Query(ctx, `SELECT `+accountColumns+` FROM accounts WHERE id = $1 AND disabled_at IS NULL`, id)
	a, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Account])
	if err != nil {
		return Account{}, fmt.Errorf("account %s: %w", id, domainError(err))
	}
	return a, nil
}

// SignedIn is an account with what every page of it needs.
type SignedIn struct {
	Account
	Practice Practice
	ClientID uuid.UUID // of their own record, if the account is a client's
	Closed   bool      // that record is closed: they may read what is theirs, and do nothing
}

// SignedIn returns what a signed-in browser's page needs, in one look. It returns
// [domain.ErrNotFound] if the account is not there or closed, or is a client's
// without a record.
func (s *Store) SignedIn(ctx context.Context, id uuid.UUID) (SignedIn, error) {
	rows, _ := s.pool.Query(ctx, `
		WITH a AS (SELECT `+accountColumns+` FROM accounts WHERE id = $1 AND disabled_at IS NULL)
		SELECT a.*, own.id AS client_id, own.closed_at IS NOT NULL AS record_closed, `+practiceColumns+`
		FROM a CROSS JOIN practice p LEFT JOIN clients own ON own.account_id = a.id`, id)
	row, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
		Account
		practiceRow
		ClientID     uuid.NullUUID
		RecordClosed bool
	}])
	if err == nil && row.Role == domain.RoleClient && !row.ClientID.Valid {
		err = domain.ErrNotFound
	}
	if err != nil {
		return SignedIn{}, fmt.Errorf("account %s: %w", id, domainError(err))
	}
	practice, err := row.practice()
	return SignedIn{Account: row.Account, Practice: practice, ClientID: row.ClientID.UUID, Closed: row.RecordClosed}, err
}

// StaffAccount is a line of the lead's list of people.
type StaffAccount struct {
	Account
	Clients int    // open clients in their caseload
	Joined  bool   // has chosen a passphrase or made a passkey
	Licence string // under which they may clear their own clients; "" if they may not
}

// StaffAccounts lists the practice's own accounts, the lead first. Only the lead
// may see it.
func (s *Store) StaffAccounts(ctx context.Context, actor Actor) ([]StaffAccount, error) {
	if actor.Role != domain.RoleLead {
		return nil, domain.ErrForbidden
	}
	rows, _ := s.pool.Query(ctx, `
		SELECT `+accountColumns+`,
			password_hash IS NOT NULL OR EXISTS (SELECT FROM passkeys k WHERE k.account_id = a.id AND k.removed_at IS NULL) AS joined,
			(SELECT count(*) FROM clients c WHERE c.practitioner_id = a.id AND c.closed_at IS NULL) AS clients,
			coalesce((SELECT licence FROM clearing_practitioners p WHERE p.account_id = a.id ORDER BY p.id DESC LIMIT 1), '') AS licence
		FROM accounts a WHERE role <> 'client'
		ORDER BY role = 'lead' DESC, name, id`)
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[StaffAccount])
	if err != nil {
		return nil, fmt.Errorf("staff accounts: %w", err)
	}
	return list, nil
}

// AddPractitioner makes an account for a practitioner, without a passphrase, and
// returns the token of the link with which they choose one. Only the lead may.
// A sign-in name that is taken is a problem of the field sign_in_name.
func (s *Store) AddPractitioner(ctx context.Context, actor Actor, name, signIn string) (token string, err error) {
	if actor.Role != domain.RoleLead {
		return "", domain.ErrForbidden
	}
	var problems domain.Problems
	accountProblems(&problems, name, signIn)
	if lengthProblem(&problems, "name", name); problems != nil {
		return "", fmt.Errorf("add practitioner: %w", problems)
	}
	err = s.change(ctx, actor, func(t *tx) error {
		id, err := t.addAccount(ctx, domain.RolePractitioner, name, signIn)
		if err != nil {
			return err
		}
		token, err = t.addLink(ctx, id)
		if err != nil {
			return err
		}
		return t.audit(ctx, "account.add", uuid.Nil, "account/"+id.String(), map[string]any{"role": domain.RolePractitioner})
	})
	if err != nil {
		return "", fmt.Errorf("add practitioner: %w", err)
	}
	return token, nil
}

// lineLength is how many characters a field of one line takes. Names stand in lists
// and on every page.
const lineLength = 200

func lengthProblem(problems *domain.Problems, field, value string) {
	if utf8.RuneCountInString(value) > lineLength {
		problems.Add(field, fmt.Sprintf("Use %d characters at most.", lineLength))
	}
}

// accountProblems adds what keeps an account from being made.
func accountProblems(problems *domain.Problems, name, signIn string) {
	if strings.TrimSpace(name) == "" {
		problems.Add("name", "Type the name.")
	}
	signIn = signInName(signIn)
	if len(signIn) < 3 || len(signIn) > 200 || strings.ContainsAny(signIn, " \t\r\n") {
		problems.Add("sign_in_name", "A sign-in name has at least 3 characters and no spaces. An e-mail address is a good one.")
	}
}

// addAccount inserts an account without a passphrase.
func (t *tx) addAccount(ctx context.Context, role domain.Role, name, signIn string) (uuid.UUID, error) {
	var problems domain.Problems
	accountProblems(&problems, name, signIn)
	if err := problems.Err(); err != nil {
		return uuid.Nil, err
	}
	name, signIn = strings.TrimSpace(name), signInName(signIn)
	id := newID()
	_, err := t.Exec(ctx, `
		INSERT INTO accounts (id, role, name, sign_in_name, created_at) VALUES ($1, $2, $3, $4, $5)`,
		id, string(role), name, signIn, t.now)
	if violates(err, "accounts_sign_in_name_key") {
		return uuid.Nil, domain.Problems{"sign_in_name": "Somebody has this sign-in name already. Choose another."}
	}
	return id, err
}

// DisableAccount closes an account: every browser signed in with it is signed out
// at its next request. Only the lead may, and not their own.
func (s *Store) DisableAccount(ctx context.Context, actor Actor, id uuid.UUID) error {
	if actor.Role != domain.RoleLead || actor.ID == id {
		return domain.ErrForbidden
	}
	err := s.change(ctx, actor, func(t *tx) error {
		tag, err := t.Exec(ctx, `
			UPDATE accounts SET disabled_at = $2, credentials = credentials + 1 WHERE id = $1 AND disabled_at IS NULL`, id, t.now)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return pgx.ErrNoRows
		}
		return t.audit(ctx, "account.disable", uuid.Nil, "account/"+id.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("disable account %s: %w", id, err)
	}
	return nil
}
