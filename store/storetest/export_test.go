package storetest

import (
	"context"
	"io/fs"
	"testing"
)

// What the tests of this package reach from outside.
var (
	Stale        = stale
	WithDatabase = withDatabase
)

func TemplateOf(t testing.TB, files fs.FS) (string, error) {
	return theServer(t).templateOf(t.Context(), files, "")
}

func CopyOf(t testing.TB, template string) string { return database(t, theServer(t), template) }

func Hash(t testing.TB, files fs.FS) string {
	sum, err := hash(files, "")
	if err != nil {
		t.Fatal(err)
	}
	return sum
}

// Admin runs a statement as the administrator.
func Admin(t testing.TB, statement string) {
	t.Helper()
	if err := theServer(t).admin(context.Background(), statement); err != nil {
		t.Error(err)
	}
}

func Drop(t testing.TB, database string) { Admin(t, `DROP DATABASE `+database) }
