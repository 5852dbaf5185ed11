package storetest_test

import (
	"context"
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/jackc/pgx/v5"

	"brae/migrations"
	"brae/store/storetest"
)

// ask returns the one value that a query answers, as text.
func ask(t testing.TB, url, query string, args ...any) string {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	var value any
	if err := conn.QueryRow(t.Context(), query, args...).Scan(&value); err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	return fmt.Sprint(value)
}

// The server is the one that was asked for. In .ci/container-tests that is the
// container: it is asked for a file that only it has, so that a run which has
// quietly found another server fails.
func TestServerIsTheOneWanted(t *testing.T) {
	t.Parallel()
	server := storetest.TheServer(t)
	if wanted := os.Getenv("BRAE_TEST_SERVER"); wanted != "" && string(server.Kind) != wanted {
		t.Errorf("the server is %s; want %s", server.Kind, wanted)
	}
	switch server.Kind {
	case storetest.Container:
		host := strings.TrimSpace(ask(t, server.AdminURL, `SELECT pg_read_file('/etc/hostname')`))
		if host == "" || !strings.HasPrefix(server.Container, host) {
			t.Errorf("the server's host is %q; want the container %.12s", host, server.Container)
		}
	case storetest.Local:
		if got := ask(t, server.AdminURL, `SHOW listen_addresses`); got != "" {
			t.Errorf("the server listens on %q", got)
		}
	}
	if got := ask(t, server.AdminURL, `SHOW server_version_num`); got != fmt.Sprint(server.Version) {
		t.Errorf("Version = %d; the server says %s", server.Version, got)
	}
}

func TestURL(t *testing.T) {
	t.Parallel()
	_, newest, err := migrations.Versions(t.Context(), storetest.Empty(t))
	if err != nil {
		t.Fatal(err)
	}
	// All at once, and each commits: none sees what another has written.
	t.Run("parallel", func(t *testing.T) {
		for range 6 {
			t.Run("", func(t *testing.T) {
				t.Parallel()
				url := storetest.URL(t)
				if got := ask(t, url, `SELECT max(version_id) FROM goose_db_version`); got != fmt.Sprint(newest) {
					t.Errorf("the schema is of version %s; want %d", got, newest)
				}
				if got := ask(t, url, `SELECT to_regclass('mine') IS NULL`); got != "true" {
					t.Error("another test's table is here")
				}
				conn, err := pgx.Connect(t.Context(), url)
				if err != nil {
					t.Fatal(err)
				}
				defer conn.Close(context.WithoutCancel(t.Context()))
				if _, err := conn.Exec(t.Context(), `CREATE TABLE mine (n int)`); err != nil {
					t.Error(err)
				}
			})
		}
	})
}

func TestDatabaseIsDropped(t *testing.T) {
	t.Parallel()
	var url string
	t.Run("test", func(t *testing.T) {
		url = storetest.URL(t)
		conn, err := pgx.Connect(t.Context(), url)
		if err != nil {
			t.Fatal(err)
		}
		_ = conn // left open: a test's mistakes do not keep the database
	})
	config, err := pgx.ParseConfig(url)
	if err != nil {
		t.Fatal(err)
	}
	admin := storetest.TheServer(t).AdminURL
	if got := ask(t, admin, `SELECT count(*) FROM pg_database WHERE datname = $1`, config.Database); got != "0" {
		t.Errorf("%s is still there", config.Database)
	}
}

func TestRightsAreThoseOfUse(t *testing.T) {
	t.Parallel()
	if storetest.TheServer(t).Kind == storetest.Given {
		t.Skip("the role is the given one")
	}
	url := storetest.URL(t)
	for _, tt := range []struct{ query, want string }{
		{`SELECT current_user`, "brae"},
		{`SELECT rolsuper OR rolcreatedb OR rolcreaterole FROM pg_roles WHERE rolname = current_user`, "false"},
		{`SELECT count(*) FROM pg_tables WHERE schemaname = 'public' AND tableowner <> 'brae'`, "0"},
	} {
		if got := ask(t, url, tt.query); got != tt.want {
			t.Errorf("%s = %s; want %s", tt.query, got, tt.want)
		}
	}
}

// sample is a schema that no other run has made yet: its hash is new.
func sample(t *testing.T, statement string) fstest.MapFS {
	return fstest.MapFS{"00001_sample.sql": {Data: fmt.Appendf(nil,
		"-- +goose Up\n-- %s %d\n%s\n\n-- +goose Down\nSELECT 1;\n", t.Name(), time.Now().UnixNano(), statement)}}
}

func TestTemplateIsMadeOnce(t *testing.T) {
	t.Parallel()
	// Slow enough that those who come second find it under way.
	files := sample(t, `CREATE TABLE sample AS SELECT 1 AS n FROM pg_sleep(0.3);`)
	names := make([]string, 5)
	errs := make([]error, 5)
	var all sync.WaitGroup
	for i := range names {
		all.Go(func() { names[i], errs[i] = storetest.TemplateOf(t, files) })
	}
	all.Wait()
	t.Cleanup(func() { storetest.Drop(t, names[0]) })
	for i := range names {
		if errs[i] != nil || names[i] != names[0] {
			t.Errorf("caller %d: %q, %v; want %q as for the first", i, names[i], errs[i], names[0])
		}
	}
	url := storetest.CopyOf(t, names[0])
	if got := ask(t, url, `SELECT count(*) FROM sample`); got != "1" {
		t.Errorf("sample has %s rows; want 1", got)
	}
}

func TestTemplateIsNeverHalfMade(t *testing.T) {
	t.Parallel()
	files := sample(t, `CREATE TABLE sample (n int);`)
	files["00002_broken.sql"] = &fstest.MapFile{Data: []byte("-- +goose Up\nCREATE TABLE sample (n int);\n")}
	for range 2 { // the second finds what the first has left
		name, err := storetest.TemplateOf(t, files)
		if err == nil || !strings.Contains(err.Error(), "00002_broken.sql") {
			t.Errorf("a broken migration: %q, %v; want an error that names it", name, err)
		}
	}
	delete(files, "00002_broken.sql")
	name, err := storetest.TemplateOf(t, files)
	if err != nil {
		t.Fatal(err)
	}
	storetest.Drop(t, name)
}

// The name of the template holds for these files only.
func TestTemplateIsOfItsMigrations(t *testing.T) {
	t.Parallel()
	a := fstest.MapFS{"00001_a.sql": {Data: []byte("x")}, "00002_b.sql": {Data: []byte("y")}}
	base := storetest.Hash(t, a)
	for name, other := range map[string]fstest.MapFS{
		"another text":       {"00001_a.sql": {Data: []byte("x")}, "00002_b.sql": {Data: []byte("z")}},
		"another name":       {"00001_a.sql": {Data: []byte("x")}, "00002_c.sql": {Data: []byte("y")}},
		"one more":           {"00001_a.sql": {Data: []byte("x")}, "00002_b.sql": {Data: []byte("y")}, "00003_c.sql": {}},
		"text moved between": {"00001_a.sql": {Data: []byte("xy")}, "00002_b.sql": {Data: []byte("")}},
	} {
		if storetest.Hash(t, other) == base {
			t.Errorf("%s: the same name", name)
		}
	}
	a["notes.txt"] = &fstest.MapFile{Data: []byte("no migration")}
	if storetest.Hash(t, a) != base {
		t.Error("a file that is no migration changes the name")
	}
}

func TestStale(t *testing.T) {
	t.Parallel()
	now := time.Unix(1_800_000_000, 0)
	ago := func(d time.Duration) string { return fmt.Sprint(now.Add(-d).Unix()) }
	for _, tt := range []struct {
		name, note string
		want       bool
	}{
		{"brae_test_" + ago(3*time.Hour) + "_abc", "", true},
		{"brae_test_" + ago(time.Hour) + "_abc", "", false}, // of a long run beside this one
		{"brae_test_abc", "", false},
		{"brae_template_0011", ago(72 * time.Hour), true},
		{"brae_template_0011", ago(24 * time.Hour), false},
		{"brae_template_0011", "", false},
		{"brae_template_in_the_making", "", false},
		{"brae_production", ago(9999 * time.Hour), false},
	} {
		if got := storetest.Stale(tt.name, tt.note, now); got != tt.want {
			t.Errorf("stale(%q, %q) = %t; want %t", tt.name, tt.note, got, tt.want)
		}
	}
}

func TestLeftoversAreDropped(t *testing.T) {
	t.Parallel()
	server := storetest.TheServer(t)
	old := fmt.Sprintf("brae_test_%d_left", time.Now().Add(-5*time.Hour).Unix())
	storetest.Admin(t, `CREATE DATABASE `+old)
	name, err := storetest.TemplateOf(t, sample(t, `SELECT 1;`)) // as the next program does
	if err != nil {
		t.Fatal(err)
	}
	storetest.Drop(t, name)
	if got := ask(t, server.AdminURL, `SELECT count(*) FROM pg_database WHERE datname = $1`, old); got != "0" {
		t.Errorf("%s is still there", old)
	}
}

func TestWithDatabase(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ conn, want string }{
		{"postgres://u:p%40@h:1/a?sslmode=disable", "postgres://u:p%40@h:1/b?sslmode=disable"},
		{"postgresql:///a?host=%2Ftmp", "postgresql:///b?host=%2Ftmp"},
		{"host=h user=u dbname=a", "host=h user=u dbname=a dbname=b"},
	} {
		got := storetest.WithDatabase(tt.conn, "b")
		if got != tt.want {
			t.Errorf("withDatabase(%q) = %q; want %q", tt.conn, got, tt.want)
		}
		config, err := pgx.ParseConfig(got)
		if err != nil || config.Database != "b" {
			t.Errorf("%q leads to %v, %v; want b", got, config, err)
		}
	}
}
