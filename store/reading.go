package store

import (
	"context"

	"github.com/jackc/pgx/v5"
)

// reading is a query and what becomes of its rows. Readings that do not depend on
// one another are asked together: each way to the database and back costs more
// than most of the queries.
type reading struct {
	sql  string
	args []any
	take func(pgx.Rows) error
}

func (r reading) queue(batch *pgx.Batch) { batch.Queue(r.sql, r.args...).Query(r.take) }

// read does readings one after the other, in one go. The first that fails ends it.
func (t *tx) read(ctx context.Context, readings ...reading) error {
	batch := &pgx.Batch{}
	for _, r := range readings {
		r.queue(batch)
	}
	return t.SendBatch(ctx, batch).Close()
}

// rowsInto reads every row into list.
func rowsInto[T any](list *[]T, scan pgx.RowToFunc[T], sql string, args ...any) reading {
	return reading{sql, args, func(rows pgx.Rows) (err error) {
		*list, err = pgx.CollectRows(rows, scan)
		return err
	}}
}

// rowInto reads a single row, and is [pgx.ErrNoRows] without one.
func rowInto[T any](row *T, scan pgx.RowToFunc[T], sql string, args ...any) reading {
	return reading{sql, args, func(rows pgx.Rows) (err error) {
		*row, err = pgx.CollectExactlyOneRow(rows, scan)
		return err
	}}
}

// rowIfAny reads a single row, and leaves nil without one.
func rowIfAny[T any](row **T, scan pgx.RowToFunc[T], sql string, args ...any) reading {
	return reading{sql, args, func(rows pgx.Rows) error {
		list, err := pgx.CollectRows(rows, pgx.RowToFunc[*T](func(r pgx.CollectableRow) (*T, error) {
			v, err := scan(r)
			return &v, err
		}))
		if len(list) > 0 {
			*row = list[0]
		}
		return err
	}}
}
