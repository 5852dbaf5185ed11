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
	today    domain.Date
	entries  int

	firstPhaseOver uuid.UUID // client whose light phase this change ends; nil for none
}

var errUnaudited = errors.New("a change of the record left no trace in the audit trail")

// change runs fn in a transaction on behalf of the actor and commits if fn
// returns nil. A change that wrote no audit entry is a bug, and is rolled back.
func (s *Store) change(ctx context.Context, actor Actor, fn func(*tx) error) error {
	err := pgx.BeginFunc(ctx, s.pool, func(p pgx.Tx) error {
		t, err := s.begin(ctx, p, actor)
		if err != nil {
			return err
		}
		if err := fn(t); err != nil {
			return err
		}
		if t.entries == 0 {
			return errUnaudited
		}
		return nil
	})
	return domainError(err)
}

// look runs fn on behalf of the actor for what needs no entry in the audit trail:
// nobody's record is shown, or another method has audited that it is.
func (s *Store) look(ctx context.Context, actor Actor, fn func(*tx) error) error {
	err := pgx.BeginTxFunc(ctx, s.pool, pgx.TxOptions{AccessMode: pgx.ReadOnly}, func(p pgx.Tx) error {
		t, err := s.begin(ctx, p, actor)
		if err != nil {
			return err
		}
		return fn(t)
	})
	return domainError(err)
}

// begin makes the tx of a transaction that has just begun.
func (s *Store) begin(ctx context.Context, p pgx.Tx, actor Actor) (*tx, error) {
	t := &tx{Tx: p, actor: actor, now: s.now().UTC().Truncate(time.Microsecond)} // as fine as timestamptz
	rows, _ := p.Query(ctx, `
		SELECT `+practiceColumns+`, (SELECT changed FROM settings ORDER BY version DESC LIMIT 1) AS changed
		FROM practice p`)
	row, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
		practiceRow
		Changed source.Values // NULL is all defaults
	}])
	if errors.Is(err, pgx.ErrNoRows) {
		return t, nil // before the set-up there is no practice, no zone and no today
	}
	if err != nil {
		return nil, err
	}
	if t.practice, err = row.practice(); err != nil {
		return nil, err
	}
	t.today = domain.DateOf(t.now, t.practice.Location)
	t.settings = row.Changed
	return t, nil
}

// audit writes an entry about a subject ("session/ID"), for one client's record
// unless client is the nil id. The detail holds no names and no health values.
func (t *tx) audit(ctx context.Context, action string, client uuid.UUID, subject string, detail map[string]any) error {
	if detail == nil {
		detail = map[string]any{}
	}
	body, err := json.Marshal(detail)
	if err != nil {
		return fmt.Errorf("audit %s: %w", action, err)
	}
	t.entries++
	_, err = t.Exec(ctx, `
		INSERT INTO audit (at, actor_id, action, client_id, subject, detail)
		VALUES ($1, $2, $3, $4, $5, $6)`,
		t.now, orNull(t.actor.ID), action, orNull(client), subject, body)
	return err
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
	return t.findClient(ctx, id, "")
}

func (t *tx) findClient(ctx context.Context, id uuid.UUID, lock string) (Client, error) {
	rows, _ := t.Query(ctx, `
		SELECT `+clientColumns+` FROM clients c
		WHERE c.id = @client AND `+seen+lock, t.actor.args(pgx.NamedArgs{"client": id}))
	return pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Client])
}

// lockClient is client for a change that depends on the client's state: it locks
// the row. It returns [domain.ErrForbidden] if staff is required and the actor is
// the client, and [domain.ErrClosed] to the client if the record is closed.
func (t *tx) lockClient(ctx context.Context, id uuid.UUID, staff bool) (Client, error) {
	c, err := t.findClient(ctx, id, " FOR UPDATE")
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
// it is down, starting, stopping, or out of connections.
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
		case "08", "53", "57": // connection, resources, operator intervention (shutdown, statement time-out)
			return true
		case "55": // lock not available in time
			return pg.Code == "55P03"
		}
	}
	return false
}
