package storetest

import (
	"context"
	"crypto/sha256"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"brae/migrations"
)

const (
	testPrefix     = "brae_test_"
	templatePrefix = "brae_template_"
)

// template returns the name of the migrated template of the embedded migrations.
func (s *Server) template(ctx context.Context) (string, error) {
	return s.templateOf(ctx, migrations.FS, watch)
}

// watch makes the databases of tests refuse a change of a client's record that
// leaves the record's revision as it was.
//
//go:embed watch.sql
var watch string

// templateOf makes the template of the migrations, and of what more the tests want,
// unless it is there. One program makes it, under a lock, the others wait. It is made under another name, so that
// one half made is never copied.
func (s *Server) templateOf(ctx context.Context, files fs.FS, more string) (string, error) {
	sum, err := hash(files, more)
	if err != nil {
		return "", err
	}
	name := templatePrefix + sum
	conn, err := pgx.Connect(ctx, s.AdminURL)
	if err != nil {
		return "", err
	}
	defer conn.Close(context.WithoutCancel(ctx)) // frees the lock, too
	if _, err := conn.Exec(ctx, `SELECT pg_advisory_lock($1)`, templateLock); err != nil {
		return "", err
	}
	var there bool
	if err := conn.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`, name).Scan(&there); err != nil {
		return "", err
	}
	if !there {
		if err := s.build(ctx, conn, files, more, name); err != nil {
			return "", err
		}
	}
	// When it was last used, for tidy.
	if _, err := conn.Exec(ctx, fmt.Sprintf(`COMMENT ON DATABASE %s IS '%d'`, name, time.Now().Unix())); err != nil {
		return "", err
	}
	return name, tidy(ctx, conn, name, time.Now())
}

// templateLock is the advisory lock of the template. The number is only ours.
const templateLock = 7_223_001

func (s *Server) build(ctx context.Context, conn *pgx.Conn, files fs.FS, more, name string) error {
	const aside = templatePrefix + "in_the_making"
	for _, statement := range []string{
		`DROP DATABASE IF EXISTS ` + aside + ` WITH (FORCE)`, // of a program that was killed
		s.create(aside, "template0"),
	} {
		if _, err := conn.Exec(ctx, statement); err != nil {
			return fmt.Errorf("%s: %w", statement, err)
		}
	}
	if err := migrations.UpFrom(ctx, files, withDatabase(s.url, aside), slog.New(slog.DiscardHandler)); err != nil {
		return err
	}
	if err := run(ctx, withDatabase(s.url, aside), more); err != nil {
		return err
	}
	// Nobody may connect: PostgreSQL copies only what nobody uses.
	if _, err := conn.Exec(ctx, `ALTER DATABASE `+aside+` ALLOW_CONNECTIONS false`); err != nil {
		return err
	}
	for {
		_, err := conn.Exec(ctx, `ALTER DATABASE `+aside+` RENAME TO `+name)
		pgErr, ok := errors.AsType[*pgconn.PgError](err)
		if !ok || pgErr.Code != "55006" {
			return err
		}
		// The migrations' connection is closed but still on its way out.
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// run runs statements in a database.
func run(ctx context.Context, url, sql string) error {
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	_, err = conn.Exec(ctx, sql)
	return err
}

// hash names the migrations by what they say.
func hash(files fs.FS, more string) (string, error) {
	names, err := fs.Glob(files, "*.sql")
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	fmt.Fprintf(sum, "%d\n%s", len(more), more)
	for _, name := range names {
		text, err := fs.ReadFile(files, name)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(sum, "%s %d\n%s", name, len(text), text) // a hash takes all
	}
	return fmt.Sprintf("%x", sum.Sum(nil)[:8]), nil
}

// What is left of killed tests and of earlier schemas is dropped after a time in
// which nobody can still be at work with it.
const (
	oldTest     = 2 * time.Hour
	oldTemplate = 48 * time.Hour
)

// tidy drops what earlier test programs have left on the server.
func tidy(ctx context.Context, conn *pgx.Conn, current string, now time.Time) error {
	rows, _ := conn.Query(ctx, `
		SELECT datname, coalesce(shobj_description(oid, 'pg_database'), '')
		FROM pg_database
		WHERE datname LIKE 'brae\_%' AND datname <> $1
		  AND NOT EXISTS (SELECT FROM pg_stat_activity a WHERE a.datid = pg_database.oid)
		ORDER BY datname`, current)
	type left struct{ Name, Note string }
	all, err := pgx.CollectRows(rows, pgx.RowToStructByPos[left])
	if err != nil {
		return err
	}
	for _, l := range all {
		if !stale(l.Name, l.Note, now) {
			continue
		}
		_, err := conn.Exec(ctx, `DROP DATABASE IF EXISTS `+pgx.Identifier{l.Name}.Sanitize())
		if pgErr, ok := errors.AsType[*pgconn.PgError](err); ok && pgErr.Code == "55006" {
			continue // in use again
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// stale tells whether a database is one of ours that nobody needs any more. One
// whose age cannot be told stays.
func stale(name, note string, now time.Time) bool {
	if rest, ok := strings.CutPrefix(name, testPrefix); ok {
		made, _, _ := strings.Cut(rest, "_")
		return olderThan(made, oldTest, now)
	}
	return strings.HasPrefix(name, templatePrefix) && olderThan(note, oldTemplate, now)
}

func olderThan(unix string, age time.Duration, now time.Time) bool {
	seconds, err := strconv.ParseInt(unix, 10, 64)
	return err == nil && now.Sub(time.Unix(seconds, 0)) > age
}
