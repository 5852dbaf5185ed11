// Package e2e tries Brae as people use it: the built program, a PostgreSQL of
// its own and a real browser. The stories are in the tests; this part starts the
// programs and speaks to them, for the stories and for the measurements.
package e2e

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync"
	"testing"
)

// root is the folder of the module.
var root = sync.OnceValues(func() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		parent := filepath.Dir(dir)
		if parent == dir {
			return "", errors.New("no go.mod above the working folder")
		}
		dir = parent
	}
})

// Root returns the folder of the module.
func Root(t testing.TB) string {
	t.Helper()
	dir, err := root()
	if err != nil {
		t.Fatal(err)
	}
	return dir
}

// program builds Brae, once for each test program, with a clock that can be moved.
var program = sync.OnceValues(func() (string, error) {
	if path := os.Getenv("BRAE_BIN"); path != "" {
		return filepath.Abs(path)
	}
	dir, err := root()
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, ".cache", "e2e", "brae")
	made := path + "." + strconv.Itoa(os.Getpid()) // another test program may be running the old one
	build := exec.Command("go", "build", "-trimpath", "-tags", "movedclock", "-o", made, "./cmd/brae")
	build.Dir = dir
	if out, err := build.CombinedOutput(); err != nil {
		return "", fmt.Errorf("build Brae: %w\n%s", err, out)
	}
	return path, os.Rename(made, path)
})

// Program returns the path of the built Brae: BRAE_BIN if that is set.
func Program(t testing.TB) string {
	t.Helper()
	path, err := program()
	if err != nil {
		t.Fatal(err)
	}
	return path
}
