// Package store keeps Brae's data in PostgreSQL. It is the only package with SQL.
//
// There is one method for each thing that a person does (LogSession,
// SignPrescription, ReleaseHold). It loads what the rule needs, asks the domain,
// saves and writes the audit trail, all in one transaction. It makes no rules.
package store

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"
	"github.com/jackc/pgx/v5/pgxpool"
)

// Config is what Open needs. URL must be set; the rest has defaults.
type Config struct {
	URL      string           // a PostgreSQL connection string
	Now      func() time.Time // the clock; time.Now if nil
	Log      *slog.Logger     // slog.Default() if nil
	MaxConns int32            // connections at most; 8 if zero
	Tracer   pgx.QueryTracer  // is told of every statement; none if nil
}

// Store is the database of one practice. It is safe for concurrent use.
type Store struct {
	pool   *pgxpool.Pool
	now    func() time.Time
	log    *slog.Logger
	hasher *hasher
	memos  memos
}

// Open connects to the database, which must be migrated (see package
// migrations). It warns when the server may lose what it has acknowledged.
func Open(ctx context.Context, c Config) (*Store, error) {
	config, err := pgxpool.ParseConfig(c.URL)
	if err != nil {
		return nil, errors.New("open store: the connection string of the database cannot be read") // err may hold the password
	}
	config.MaxConns = c.MaxConns
	if config.MaxConns == 0 {
		config.MaxConns = 8
	}
	config.ConnConfig.Tracer = c.Tracer
	params := config.ConnConfig.RuntimeParams
	params["application_name"] = "brae"
	params["timezone"] = "UTC"
	params["jit"] = "off" // compiling takes longer than what a page asks for
	// A request waits 5 s at most; the server gives up a little earlier so that
	// a locked table cannot hold the pool.
	params["statement_timeout"] = "4500"
	params["lock_timeout"] = "4000"
	params["idle_in_transaction_session_timeout"] = "15000"
	config.AfterConnect = func(_ context.Context, conn *pgx.Conn) error {
		registerTypes(conn.TypeMap())
		return nil
	}
	pool, err := pgxpool.NewWithConfig(ctx, config)
	if err != nil {
		return nil, fmt.Errorf("open store: %w", err)
	}
	s := &Store{pool: pool, now: c.Now, log: c.Log, hasher: newHasher()}
	if s.now == nil {
		s.now = time.Now
	}
	if s.log == nil {
		s.log = slog.Default()
	}
	if err := s.warnIfUnsafe(ctx); err != nil {
		pool.Close()
		return nil, fmt.Errorf("open store: %w", err)
	}
	return s, nil
}

// Close closes all connections.
func (s *Store) Close() { s.pool.Close() }

// Ping reports whether the database answers.
func (s *Store) Ping(ctx context.Context) error { return s.pool.Ping(ctx) }

// warnIfUnsafe logs each setting of the server under which an acknowledged log
// could be lost in a power cut.
func (s *Store) warnIfUnsafe(ctx context.Context) error {
	rows, _ := s.pool.Query(ctx, `
		SELECT name FROM pg_settings
		WHERE name IN ('fsync', 'full_page_writes', 'synchronous_commit') AND setting = 'off'
		ORDER BY name`)
	off, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return err
	}
	for _, name := range off {
		s.log.WarnContext(ctx, "the database may lose acknowledged writes in a power cut", "setting_off", name)
	}
	return nil
}

// registerTypes teaches a connection the domain's types.
func registerTypes(m *pgtype.Map) {
	m.RegisterType(&pgtype.Type{
		Name: "timestamptz", OID: pgtype.TimestamptzOID,
		// Without it an instant comes back in the zone of the process.
		Codec: &pgtype.TimestamptzCodec{ScanLocation: time.UTC},
	})
	m.TryWrapEncodePlanFuncs = append([]pgtype.TryWrapEncodePlanFunc{wrapEncode}, m.TryWrapEncodePlanFuncs...)
	m.TryWrapScanPlanFuncs = append([]pgtype.TryWrapScanPlanFunc{wrapScan}, m.TryWrapScanPlanFuncs...)
}

// newID returns an id that sorts by time (UUID version 7).
func newID() uuid.UUID { return uuid.Must(uuid.NewV7()) } // fails only where the system has no randomness

// Reopen returns a store on the same database with another clock. The demo needs
// it: it invents the past before it serves the present.
func (s *Store) Reopen(ctx context.Context, now func() time.Time) (*Store, error) {
	return Open(ctx, Config{URL: s.pool.Config().ConnString(), Now: now, Log: s.log})
}
