// Package migrations holds the schema of the database as numbered SQL files and
// brings a database to it.
//
// A file is never edited once it has been released; a change is a new file.
// Every file runs in a transaction of its own, so a failing one leaves the
// database as the one before it did.
package migrations

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"path"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

// FS holds the migrations, named NNNNN_what.sql.
//
//go:embed *.sql
var FS embed.FS

// ErrNewer means that the database was migrated by a later release of Brae,
// whose schema this one does not know.
var ErrNewer = errors.New("the database belongs to a later release of Brae; start that one")

// Up brings the database at the connection string to the newest schema. Several
// programs may call it at once: one migrates, the others wait for it. It returns
// [ErrNewer] for a database that a later release has migrated, and then leaves
// it alone.
func Up(ctx context.Context, url string, log *slog.Logger) error {
	return UpFrom(ctx, FS, url, log)
}

// UpFrom is Up with the migrations of another folder.
func UpFrom(ctx context.Context, files fs.FS, url string, log *slog.Logger) error {
	return with(ctx, files, url, func(p *goose.Provider) error {
		done, err := p.Up(ctx)
		if err != nil {
			return err
		}
		for _, m := range done {
			log.InfoContext(ctx, "migrated the database", "file", path.Base(m.Source.Path), "took", m.Duration)
		}
		// Up takes no notice of a version it does not know, and applies nothing.
		current, target, err := p.GetVersions(ctx)
		if err != nil {
			return err
		}
		if current > target {
			return fmt.Errorf("schema %d, known up to %d: %w", current, target, ErrNewer)
		}
		return nil
	})
}

// UpTo applies the migrations up to and including version.
func UpTo(ctx context.Context, url string, version int64) error {
	return with(ctx, FS, url, func(p *goose.Provider) error {
		_, err := p.UpTo(ctx, version)
		return err
	})
}

// DownTo takes back the migrations above version, 0 for all of them. It loses
// what only they keep and is for tests and for the hand of an administrator.
func DownTo(ctx context.Context, url string, version int64) error {
	return with(ctx, FS, url, func(p *goose.Provider) error {
		_, err := p.DownTo(ctx, version)
		return err
	})
}

// Versions returns the version of the schema in the database and the newest one
// known here.
func Versions(ctx context.Context, url string) (current, target int64, err error) {
	err = with(ctx, FS, url, func(p *goose.Provider) error {
		current, target, err = p.GetVersions(ctx)
		return err
	})
	return current, target, err
}

// with opens a provider on the database for the time of fn.
func with(ctx context.Context, files fs.FS, url string, fn func(*goose.Provider) error) error {
	config, err := pgx.ParseConfig(url)
	if err != nil {
		return errors.New("migrate: the connection string of the database cannot be read") // err may hold the password
	}
	db := stdlib.OpenDB(*config)
	defer db.Close()
	provider, err := newProvider(db, files)
	if err != nil {
		return fmt.Errorf("migrate: %w", err)
	}
	err = fn(provider)
	if partial, ok := errors.AsType[*goose.PartialError](err); ok {
		err = fmt.Errorf("%s: %w", path.Base(partial.Failed.Source.Path), partial.Err)
	}
	if err != nil {
		return fmt.Errorf("migrate: %w", err)
	}
	return nil
}

func newProvider(db *sql.DB, files fs.FS) (*goose.Provider, error) {
	// Asked for once a second, for five minutes: the first of several programs
	// may have much to do.
	locker, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(1, 300))
	if err != nil {
		return nil, err
	}
	return goose.NewProvider(goose.DialectPostgres, db, files,
		goose.WithSessionLocker(locker),
		goose.WithDisableGlobalRegistry(true),
		goose.WithSlog(slog.New(slog.DiscardHandler))) // Up says what it did
}
