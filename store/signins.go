package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"
)

// SignIns keeps the signed-in browsers, for a session manager. It implements
// the context form of the store of github.com/alexedwards/scs.
type SignIns struct{ s *Store }

// SignIns returns the store of the signed-in browsers.
func (s *Store) SignIns() SignIns { return SignIns{s} }

// FindCtx returns the data of a token. A token that is unknown or has expired is
// found == false without an error.
func (i SignIns) FindCtx(ctx context.Context, token string) (data []byte, found bool, err error) {
	rows, _ := i.s.pool.Query(ctx, `
		SELECT data FROM sign_ins WHERE token_hash = $1 AND expires_at > $2`, tokenHash(token), i.s.now())
	data, err = pgx.CollectExactlyOneRow(rows, pgx.RowTo[[]byte])
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, false, nil
	}
	return data, err == nil, err
}

// CommitCtx stores the data of a token. One that has expired or was deleted stays
// so: a request that was under way during a sign-out must not undo it.
func (i SignIns) CommitCtx(ctx context.Context, token string, data []byte, expiry time.Time) error {
	// The answer is written already: the time of the request may be over.
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), time.Second)
	defer cancel()
	// The session manager counts by the machine's clock; what is kept here goes by ours.
	expiry = i.s.now().Add(time.Until(expiry))
	// Nothing is lost with a sign-in that a power cut forgets: the person signs in
	// again. So no page waits for the disk. A sign-out does: see DeleteCtx.
	_, err := i.s.pool.Exec(ctx, `
		WITH hurried AS (SELECT set_config('synchronous_commit', 'off', true))
		INSERT INTO sign_ins (token_hash, data, expires_at) SELECT $1, $2, $3 FROM hurried
		ON CONFLICT (token_hash) DO UPDATE SET data = excluded.data, expires_at = excluded.expires_at
		WHERE sign_ins.expires_at > $4`,
		tokenHash(token), data, expiry, i.s.now())
	return err
}

// DeleteCtx forgets what a token stood for. That it ended is kept until the next
// [Store.DropExpired].
func (i SignIns) DeleteCtx(ctx context.Context, token string) error {
	_, err := i.s.pool.Exec(ctx, `
		UPDATE sign_ins SET data = '', expires_at = '-infinity' WHERE token_hash = $1`, tokenHash(token))
	return err
}

// Find, Commit and Delete are the forms without a context, which the session
// manager does not call when it has the others.

// Find is FindCtx without a context.
func (i SignIns) Find(token string) ([]byte, bool, error) {
	return i.FindCtx(context.Background(), token)
}

// Commit is CommitCtx without a context.
func (i SignIns) Commit(token string, data []byte, expiry time.Time) error {
	return i.CommitCtx(context.Background(), token, data, expiry)
}

// Delete is DeleteCtx without a context.
func (i SignIns) Delete(token string) error { return i.DeleteCtx(context.Background(), token) }

// DropExpired deletes the sign-ins and challenges that have expired, the links of last
// month, and those in mails of half a year ago.
func (s *Store) DropExpired(ctx context.Context) error {
	if _, err := s.pool.Exec(ctx, `DELETE FROM sign_ins WHERE expires_at <= $1`, s.now()); err != nil {
		return fmt.Errorf("drop expired sign-ins: %w", err)
	}
	if _, err := s.pool.Exec(ctx, `DELETE FROM join_links WHERE expires_at <= $1`, s.now().AddDate(0, -1, 0)); err != nil {
		return fmt.Errorf("drop expired links: %w", err)
	}
	if _, err := s.pool.Exec(ctx, `DELETE FROM reminder_links WHERE made_at <= $1`, s.now().Add(-reminderLinks)); err != nil {
		return fmt.Errorf("drop the links of old mails: %w", err)
	}
	if _, err := s.pool.Exec(ctx, `DELETE FROM passkey_challenges WHERE expires_at <= $1`, s.now()); err != nil {
		return fmt.Errorf("drop expired challenges: %w", err)
	}
	return nil
}
