package store

import (
	"context"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
)

// Traced returns the store with connections of its own, on which a tracer sees
// what is asked.
func (s *Store) Traced(ctx context.Context, tracer pgx.QueryTracer) (*Store, error) {
	config := s.pool.Config()
	config.ConnConfig.Tracer = tracer
	pool, err := pgxpool.NewWithConfig(ctx, config)
	return &Store{pool: pool, now: s.now, log: s.log, hasher: s.hasher}, err
}
