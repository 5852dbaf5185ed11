package store_test

import (
	"fmt"
	"io"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"brae/store"
)

// TestUnreachable tells what can be asked again from what is our bug. Source of the
// codes: PostgreSQL documentation, appendix A.
func TestUnreachable(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name string
		err  error
		want bool
	}{
		{"deadlock_detected", &pgconn.PgError{Code: "40P01"}, true},
		{"too_many_connections", &pgconn.PgError{Code: "53300"}, true},
		{"admin_shutdown", &pgconn.PgError{Code: "57P01"}, true},
		{"query_canceled, by statement_timeout", &pgconn.PgError{Code: "57014"}, true},
		{"lock_not_available", &pgconn.PgError{Code: "55P03"}, true},
		{"object_in_use", &pgconn.PgError{Code: "55006"}, false},
		{"check_violation", &pgconn.PgError{Code: "23514"}, false},
		{"undefined_column", &pgconn.PgError{Code: "42703"}, false},
		{"the server went away", io.ErrUnexpectedEOF, true},
		{"no rows", pgx.ErrNoRows, false},
	} {
		if got := store.Unreachable(fmt.Errorf("log session: %w", tt.err)); got != tt.want {
			t.Errorf("%s: %t; want %t", tt.name, got, tt.want)
		}
	}
}
