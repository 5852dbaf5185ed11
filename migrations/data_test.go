package migrations_test

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"testing"

	"github.com/jackc/pgx/v5"

	"brae/store/storetest"
)

// contents tells how many rows each table has, and a sum over all they hold.
func contents(t *testing.T, url string) map[string]string {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	rows, _ := conn.Query(t.Context(), `
		SELECT tablename FROM pg_tables WHERE schemaname = 'public' AND tablename <> 'goose_db_version' ORDER BY tablename`)
	tables, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for _, table := range tables {
		var sum string
		err := conn.QueryRow(t.Context(), `SELECT count(*) || ' rows, ' || coalesce(sum(hashtextextended(r::text, 0)), 0) FROM `+
			pgx.Identifier{table}.Sanitize()+` r`).Scan(&sum)
		if err != nil {
			t.Fatal(err)
		}
		all[table] = sum
	}
	return all
}

// load puts the rows in testdata that were written for the version of a migration
// into the database.
func load(t *testing.T, url string, version int) {
	t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("testdata/%05d.sql", version))
	if errors.Is(err, fs.ErrNotExist) {
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	if _, err := conn.Exec(t.Context(), string(text)); err != nil {
		t.Fatalf("testdata/%05d.sql: %v", version, err)
	}
}

// What people have entered is there after each migration and after each is taken
// back, but for what only the one taken back keeps.
func TestDataIsKept(t *testing.T) {
	t.Parallel()
	url := storetest.Empty(t)
	for i, name := range names(t) {
		version := i + 1
		before := contents(t, url)
		up(t, url, version)
		load(t, url, version)
		down(t, url, version-1)
		after := contents(t, url)
		for table, sum := range before {
			if after[table] != sum {
				t.Errorf("%s, applied and taken back, leaves %s with %q; it had %q", name, table, after[table], sum)
			}
		}
		if len(after) != len(before) {
			t.Errorf("%s, taken back, leaves %d tables; there were %d", name, len(after), len(before))
		}
		up(t, url, version)
		load(t, url, version)
	}
	for table, sum := range contents(t, url) {
		if sum == "0 rows, 0" {
			t.Errorf("no row of %s was there while the schema changed: add some to testdata/NNNNN.sql of its migration", table)
		}
	}
}

// A record takes over the sex that its tests were done with: of those that count.
func TestSexFromTests(t *testing.T) {
	t.Parallel()
	url := storetest.Empty(t)
	const version = 17
	for v := 1; v < version; v++ {
		up(t, url, v)
		load(t, url, v)
	}
	up(t, url, version)
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	for id, want := range map[string]string{
		"00000000-0000-7000-8000-000000000011": "female", // the corrected test; the other two do not count
		"00000000-0000-7000-8000-000000000012": "",       // no test
	} {
		var got string
		if err := conn.QueryRow(t.Context(), `SELECT sex FROM clients WHERE id = $1`, id).Scan(&got); err != nil || got != want {
			t.Errorf("client %s: %q, %v; want %q", id, got, err, want)
		}
	}
}
