package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"syscall"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"brae/domain"
	"brae/domain/source"
)

// Actor is who asks: an account and its role. The zero Actor is nobody, who can
// only set up the practice or redeem a link.
type Actor struct {
	ID   uuid.UUID
	Role domain.Role
}

// tx is a transaction on behalf of an actor. All rows it writes carry the same
// instant; today is the practice's day at that instant.
type tx struct {
	pgx.Tx
	actor    Actor
	now      time.Time
	practice Practice
	settings source.Values // of the practice, in use
	version  int           // of the settings; 0 is all defaults
	today    domain.Date
	entries  int
	last     *pgx.Batch // what is written at the end: see later
	memos    *memos
	changing bool // it has locked a client: what it works out may be of a record that is half changed

	firstPhaseOver uuid.UUID // client whose light phase this change ends; nil for none
}

var errUnaudited = errors.New("a change of the record left no trace in the audit trail")

// change runs fn in a transaction on behalf of the actor and commits if fn
// returns nil. A change that wrote no audit entry is a bug, and is rolled back.
func (s *Store) change(ctx context.Context, actor Actor, fn func(*tx) error) error {
	return s.transact(ctx, actor, pgx.TxOptions{}, func(t *tx) error {
		if err := fn(t); err != nil {
			return err
		}
		if t.entries == 0 {
			return errUnaudited
		}
		return t.flush(ctx)
	})
}

// look runs fn on behalf of the actor for what needs no entry in the audit trail:
// nobody's record is shown, or another method has audited that it is.
func (s *Store) look(ctx context.Context, actor Actor, fn func(*tx) error) error {
	return s.transact(ctx, actor, pgx.TxOptions{AccessMode: pgx.ReadOnly}, fn)
}

// transact runs fn in a transaction and commits if fn returns nil. With the
// transaction it begins to know the practice: that takes no time of its own.
func (s *Store) transact(ctx context.Context, actor Actor, options pgx.TxOptions, fn func(*tx) error) error {
	t := &tx{actor: actor, last: &pgx.Batch{}, memos: &s.memos}
	begin := &pgx.Batch{}
	begin.BeginTx(options)
	t.practiceInUse().queue(begin)
	err := pgx.BeginFunc(ctx, beginner(func(ctx context.Context) (pgx.Tx, error) {
		begun := s.pool.SendBatch(ctx, begin)
		t.Tx = begun.Tx()
		err := begun.Close()
		if err != nil {
			_ = t.Rollback(ctx) // gives the connection back, if there is one
		}
		return t.Tx, err
	}), func(pgx.Tx) error {
		t.now = s.now().UTC().Truncate(time.Microsecond) // as fine as timestamptz
		if t.practice.Location != nil {                  // before the set-up there is no practice, no zone and no today
			t.today = domain.DateOf(t.now, t.practice.Location)
		}
		return fn(t)
	})
	return domainError(err)
}

// beginner is what [pgx.BeginFunc] begins a transaction with.
type beginner func(context.Context) (pgx.Tx, error)

func (b beginner) Begin(ctx context.Context) (pgx.Tx, error) { return b(ctx) }

// practiceInUse reads the practice and its settings.
func (t *tx) practiceInUse() reading {
	type row struct {
		practiceRow
		Changed source.Values // NULL is all defaults
		Version int
	}
	return reading{`
		SELECT ` + practiceColumns + `, s.changed, coalesce(s.version, 0) AS version
		FROM practice p LEFT JOIN LATERAL (SELECT version, changed FROM settings ORDER BY version DESC LIMIT 1) s ON true`, nil, func(rows pgx.Rows) error {
		found, err := pgx.CollectRows(rows, pgx.RowToStructByName[row])
		if err != nil || len(found) == 0 {
			return err
		}
		t.settings, t.version = found[0].Changed, found[0].Version
		t.practice, err = found[0].practice()
		return err
	}}
}

// later writes at the end of the change, in one go with all else that can wait so
// long. Nothing in the change may read what it writes, or refer to it, before
// [tx.flush].
func (t *tx) later(sql string, args ...any) { t.last.Queue(sql, args...) }

// flush writes at once what was put off.
func (t *tx) flush(ctx context.Context) error {
	batch := t.last
	t.last = &pgx.Batch{}
	return t.SendBatch(ctx, batch).Close()
}

// audit writes an entry about a subject ("session/ID"), for one client's record
// unless client is the nil id. The detail holds no names and no health values.
// Nothing in a change reads the trail, so it is written at the end.
func (t *tx) audit(_ context.Context, action string, client uuid.UUID, subject string, detail map[string]any) error {
	if detail == nil {
		detail = map[string]any{}
	}
	body, err := json.Marshal(detail)
	if err != nil {
		return fmt.Errorf("audit %s: %w", action, err)
	}
	t.entries++
	t.later(`
		INSERT INTO audit (at, actor_id, action, client_id, subject, detail)
		VALUES ($1, $2, $3, $4, $5, $6)`,
		t.now, orNull(t.actor.ID), action, orNull(client), subject, body)
	return nil
}

// orNull sends the nil id as NULL.
func orNull(id uuid.UUID) uuid.NullUUID { return uuid.NullUUID{UUID: id, Valid: id != uuid.Nil} }

// seen is the condition under which the actor may see the record of client c.
// It stands in every query that reads or changes one; its arguments are
// [Actor.args].
const seen = `(@role = 'lead' OR c.practitioner_id = @actor OR c.account_id = @actor)`

// args are the named arguments of seen, with more added.
func (a Actor) args(more pgx.NamedArgs) pgx.NamedArgs {
	args := pgx.NamedArgs{"actor": a.ID, "role": string(a.Role)}
	for k, v := range more {
		args[k] = v
	}
	return args
}

// client returns a client whose record the actor may see, and
// [domain.ErrNotFound] for any other.
func (t *tx) client(ctx context.Context, id uuid.UUID) (Client, error) {
	return t.findClient(ctx, id, `SELECT `+clientColumns+` FROM clients c WHERE c.id = @client AND `+seen)
}

// viewClient is client for a page of the staff that looks at the record more than
// once: it does not change in between. It returns [domain.ErrForbidden] to the client.
func (t *tx) viewClient(ctx context.Context, id uuid.UUID) (Client, error) {
	c, err := t.findClient(ctx, id, `SELECT `+clientColumns+` FROM clients c WHERE c.id = @client AND `+seen+` FOR SHARE`)
	if err == nil && !t.actor.Role.Staff() {
		return Client{}, domain.ErrForbidden
	}
	return c, err
}

// lockClient is client for a change: it locks the row until the transaction ends,
// and gives the record another revision, so that nothing counts any more that was
// worked out from it before. Every change of a client's record goes through it: the
// tests' databases refuse one that does not. It returns [domain.ErrForbidden] if
// staff is required and the actor is the client, and [domain.ErrClosed] to the
// client if the record is closed.
func (t *tx) lockClient(ctx context.Context, id uuid.UUID, staff bool) (Client, error) {
	t.changing = true
	c, err := t.findClient(ctx, id, lockingClient)
	return t.mayChange(c, err, staff)
}

const lockingClient = `
	UPDATE clients c SET revision = gen_random_uuid()
	WHERE c.id = @client AND ` + seen + ` RETURNING ` + clientColumns

// lockedClient is lockClient together with other readings; mayChange is to be called
// after them. What is read behind it is not older than the lock.
func (t *tx) lockedClient(c **Client, id uuid.UUID) reading {
	t.changing = true
	return rowIfAny(c, pgx.RowToStructByName[Client], lockingClient, t.actor.args(pgx.NamedArgs{"client": id}))
}

// lockBeside is lockClient for a change of what stands beside the record and nothing
// is worked out from: the intake under way, the client's own calendar.
func (t *tx) lockBeside(ctx context.Context, id uuid.UUID, staff bool) (Client, error) {
	c, err := t.findClient(ctx, id, `SELECT `+clientColumns+` FROM clients c WHERE c.id = @client AND `+seen+` FOR NO KEY UPDATE`)
	return t.mayChange(c, err, staff)
}

func (t *tx) mayChange(c Client, err error, staff bool) (Client, error) {
	if err != nil {
		return Client{}, err
	}
	if staff && !t.actor.Role.Staff() {
		return Client{}, domain.ErrForbidden
	}
	if !t.actor.Role.Staff() { // a client changes nothing in a closed record
		return c, c.open()
	}
	return c, nil
}

func (t *tx) findClient(ctx context.Context, id uuid.UUID, sql string) (Client, error) {
	rows, _ := t.Query(ctx, sql, t.actor.args(pgx.NamedArgs{"client": id}))
	return pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Client])
}

// domainError turns what the database says into the refusals that callers tell
// apart. A failed check or foreign key stays a fault: it is our bug.
func domainError(err error) error {
	var pg *pgconn.PgError
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return fmt.Errorf("%w (%w)", domain.ErrNotFound, err)
	case errors.As(err, &pg) && pg.Code == "23505": // unique_violation
		return fmt.Errorf("%w (%w)", domain.ErrConflict, err)
	}
	return err
}

// violates reports whether err is a violation of that constraint.
func violates(err error, constraint string) bool {
	var pg *pgconn.PgError
	return errors.As(err, &pg) && pg.ConstraintName == constraint
}

// Unreachable reports whether err says that the database could not be asked:
// it is down, starting, stopping, out of connections, or gave this change up for
// another one. If it went away during the commit nobody knows whether the change was
// written; all else was not. The same can be asked again.
func Unreachable(err error) bool {
	var connect *pgconn.ConnectError
	if errors.As(err, &connect) || pgconn.SafeToRetry(err) {
		return true
	}
	// The server went away in the middle of a statement.
	for _, broken := range []error{io.EOF, io.ErrUnexpectedEOF, net.ErrClosed, syscall.ECONNRESET, syscall.EPIPE} {
		if errors.Is(err, broken) {
			return true
		}
	}
	var pg *pgconn.PgError
	if errors.As(err, &pg) {
		switch pg.Code[:2] {
		case "08", "40", "53", "57": // connection, given up for another transaction (deadlock), resources, operator intervention (shutdown, statement time-out)
			return true
		case "55": // lock not available in time
			return pg.Code == "55P03"
		}
	}
	return false
}
