// Package storetest gives each test a PostgreSQL database of its own, migrated,
// on a real server.
//
// The server is, in this order:
//
//  1. the one that BRAE_TEST_DATABASE_URL names; its role must be allowed to
//     create databases
//  2. a container, when a Docker daemon answers and has the image that
//     BRAE_TEST_PG_IMAGE names (postgres:17 if unset); no image is ever pulled
//  3. a private one from the PostgreSQL programs of this machine, shared by all
//     test programs of the account, which stops when none has used it for ten
//     minutes; BRAE_TEST_DIR moves its folder
//
// BRAE_TEST_SERVER=given, container or local leaves only that one. Without any
// server a test is skipped, but fails when CI is set. Anything else that goes
// wrong, a broken migration above all, fails the test always.
//
// The migrated schema is kept on the server as a template, named by a hash of the
// migrations, and a test's database is a copy of its files. Tests may run at the
// same time, may commit and may leave anything behind.
package storetest

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"net/url"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// Kind is where the server comes from.
type Kind string

// The kinds of servers, as BRAE_TEST_SERVER names them.
const (
	Given     Kind = "given"
	Container Kind = "container"
	Local     Kind = "local"
)

// Server is the PostgreSQL server of this test program.
type Server struct {
	Kind      Kind
	AdminURL  string // of the database postgres, or the given one, for a role that may create databases
	Version   int    // as PostgreSQL counts: 150018 is 15.18
	Container string // the container's id, if it is one

	role string // owns and uses the tests' databases
	url  string // like AdminURL, but for role
}

// errNoServer means that there is nowhere to get a server from.
var errNoServer = errors.New("no PostgreSQL server for the tests")

// URL returns the connection string of a migrated database that belongs to this
// test alone. It is dropped when the test is done.
func URL(t testing.TB) string {
	t.Helper()
	s := theServer(t)
	template, err := theTemplate()
	if err != nil {
		t.Fatalf("the database for tests cannot be migrated: %v", err)
	}
	return database(t, s, template)
}

// Empty is URL for a database without any schema.
func Empty(t testing.TB) string {
	t.Helper()
	return database(t, theServer(t), "template0")
}

// TheServer returns the server that URL uses.
func TheServer(t testing.TB) Server {
	t.Helper()
	return *theServer(t)
}

// theServer is the server of the program, for a test to use or to be skipped by.
func theServer(t testing.TB) *Server {
	t.Helper()
	s, err := once()
	switch {
	case err == nil:
		return s
	case errors.Is(err, errNoServer) && os.Getenv("CI") == "":
		t.Skipf("see DEVELOPERS.md: %v", err)
	default:
		t.Fatal(err)
	}
	return nil
}

// setUpTime bounds the start of a server and the making of the template.
const setUpTime = 2 * time.Minute

// Both are made at the first test that asks, once for all of the program's.
var (
	once = sync.OnceValues(func() (*Server, error) {
		ctx, cancel := context.WithTimeout(context.Background(), setUpTime)
		defer cancel()
		return find(ctx)
	})
	theTemplate = sync.OnceValues(func() (string, error) {
		s, err := once()
		if err != nil {
			return "", err
		}
		ctx, cancel := context.WithTimeout(context.Background(), setUpTime)
		defer cancel()
		return s.template(ctx)
	})
)

// find returns the first server that can be had.
func find(ctx context.Context) (*Server, error) {
	wanted := Kind(os.Getenv("BRAE_TEST_SERVER"))
	given := os.Getenv("BRAE_TEST_DATABASE_URL")
	var s *Server
	var err error
	switch wanted {
	case "":
		s, err = findAny(ctx, given)
	case Given:
		if given == "" {
			return nil, errors.New("BRAE_TEST_SERVER=given, but BRAE_TEST_DATABASE_URL is not set")
		}
		s = &Server{Kind: Given, AdminURL: given}
	case Container:
		s, err = startContainer(ctx)
	case Local:
		s, err = startLocal(ctx, localDir(), defaultIdle)
	default:
		return nil, fmt.Errorf("BRAE_TEST_SERVER is %q; it can be given, container or local", wanted)
	}
	if err != nil {
		return nil, err
	}
	if s.url == "" {
		s.url = s.AdminURL
	}
	err = s.query(ctx, `SELECT current_setting('server_version_num')::int`, &s.Version)
	if err != nil {
		return nil, fmt.Errorf("the PostgreSQL server for the tests (%s): %w", s.Kind, err)
	}
	return s, nil
}

func findAny(ctx context.Context, given string) (*Server, error) {
	if given != "" {
		return &Server{Kind: Given, AdminURL: given}, nil
	}
	s, errContainer := startContainer(ctx)
	if errContainer == nil {
		return s, nil
	}
	s, err := startLocal(ctx, localDir(), defaultIdle)
	if err != nil {
		return nil, fmt.Errorf("%w; nor a container: %w", err, errContainer)
	}
	return s, nil
}

// database makes a copy of the template for the test.
func database(t testing.TB, s *Server, template string) string {
	t.Helper()
	// The instant in the name tells how old a database is that a killed test left.
	name := fmt.Sprintf("%s%d_%s", testPrefix, time.Now().Unix(), strings.ToLower(rand.Text())[:12])
	if err := s.admin(t.Context(), s.create(name, template)); err != nil {
		t.Fatalf("the database for this test cannot be made: %v", err)
	}
	t.Cleanup(func() { // t.Context has ended by now
		if err := s.admin(context.Background(), `DROP DATABASE `+name+` WITH (FORCE)`); err != nil {
			t.Errorf("the database of this test cannot be dropped: %v", err)
		}
	})
	return withDatabase(s.url, name)
}

// create is the statement that copies a template. Copying its files is several
// times faster than the default, which writes every page to the log.
func (s *Server) create(name, template string) string {
	statement := fmt.Sprintf(`CREATE DATABASE %s TEMPLATE %s`, name, template)
	if s.role != "" {
		statement += ` OWNER ` + s.role
	}
	if s.Version >= 150000 {
		statement += ` STRATEGY FILE_COPY`
	}
	return statement
}

// admin runs statements one after the other on a connection of their own.
func (s *Server) admin(ctx context.Context, statements ...string) error {
	conn, err := pgx.Connect(ctx, s.AdminURL)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	for _, statement := range statements {
		if _, err := conn.Exec(ctx, statement); err != nil {
			return fmt.Errorf("%s: %w", statement, err)
		}
	}
	return nil
}

// query scans the one value that the server answers.
func (s *Server) query(ctx context.Context, query string, value any) error {
	conn, err := pgx.Connect(ctx, s.AdminURL)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	return conn.QueryRow(ctx, query).Scan(value)
}

// withDatabase returns the connection string for another database of the server.
func withDatabase(conn, database string) string {
	u, err := url.Parse(conn)
	if err != nil || u.Scheme == "" {
		return conn + " dbname=" + database // keywords and values: the last one holds
	}
	u.Path = "/" + database
	return u.String()
}
