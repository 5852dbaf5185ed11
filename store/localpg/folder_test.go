package localpg_test

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"brae/store/localpg"
)

// snapshot describes all that is in a folder: names, modes and contents.
func snapshot(t *testing.T, dir string) string {
	t.Helper()
	var b strings.Builder
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		fmt.Fprintln(&b, path, info.Mode(), info.ModTime())
		if info.Mode().IsRegular() {
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			fmt.Fprintf(&b, "%x\n", sha256.Sum256(text))
		}
		return nil
	})
	must(t, err)
	return b.String()
}

// likeData returns a folder with database files enough to be judged by.
func likeData(t *testing.T) string {
	t.Helper()
	dir := newDir(t)
	must(t, os.MkdirAll(filepath.Join(dir, "postgres", "base", "1"), 0o700))
	for _, name := range []string{"PG_VERSION", "base/1/1259", "postgresql.conf"} {
		must(t, os.WriteFile(filepath.Join(dir, "postgres", name), []byte("15\n"), 0o600))
	}
	return dir
}

func TestStartLeavesOtherDataAlone(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		spoil func(t *testing.T, data string)
		want  []string // in the error
	}{
		{"another major version", func(t *testing.T, data string) {
			must(t, os.WriteFile(filepath.Join(data, "PG_VERSION"), []byte("13\n"), 0o600))
		}, []string{"PostgreSQL 13", "nothing has been changed", "pg_upgrade"}},
		{"a later major version", func(t *testing.T, data string) {
			must(t, os.WriteFile(filepath.Join(data, "PG_VERSION"), []byte("99\n"), 0o600))
		}, []string{"PostgreSQL 99", "nothing has been changed"}},
		{"a version not understood", func(t *testing.T, data string) {
			must(t, os.WriteFile(filepath.Join(data, "PG_VERSION"), []byte("\n"), 0o600))
		}, []string{"PG_VERSION", "not understood"}},
		{"files that are no cluster", func(t *testing.T, data string) {
			must(t, os.Remove(filepath.Join(data, "PG_VERSION")))
		}, []string{"no PG_VERSION", "nothing has been changed"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			dir := likeData(t)
			data := filepath.Join(dir, "postgres")
			tt.spoil(t, data)
			before := snapshot(t, data)
			_, err := localpg.Start(t.Context(), localpg.Config{Dir: dir, Log: testLog(t)})
			if err == nil {
				t.Fatal("Start works on it")
			}
			for _, want := range append(tt.want, data) {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("the error does not say %q: %v", want, err)
				}
			}
			if _, ok := errors.AsType[*localpg.VersionError](err); ok != strings.HasSuffix(tt.name, "major version") {
				t.Errorf("a VersionError: %t: %v", ok, err)
			}
			if snapshot(t, data) != before {
				t.Error("the files have changed")
			}
			// The folder is free again.
			if _, err := localpg.Start(t.Context(), localpg.Config{Dir: dir, Log: testLog(t)}); err != nil {
				if _, ok := errors.AsType[*localpg.InUseError](err); ok {
					t.Errorf("the folder is still locked: %v", err)
				}
			}
		})
	}
}

func TestKillWhileMakingTheData(t *testing.T) {
	t.Parallel()
	dir := newDir(t)
	brae := part(t, "brae", nil, "LOCALPG_DIR="+dir)
	brae.Stdin, _ = os.Open("/dev/zero") // does not end
	must(t, brae.Start())
	var half []string
	waitFor(t, "a half-made cluster", func() bool {
		half, _ = filepath.Glob(filepath.Join(dir, "postgres.new-*", "PG_VERSION"))
		return len(half) == 1
	})
	must(t, brae.Process.Kill())
	brae.Wait()
	if _, err := os.Stat(filepath.Join(dir, "postgres")); !errors.Is(err, fs.ErrNotExist) {
		t.Fatalf("the cluster was made before the kill: %v", err)
	}
	cluster := start(t, dir)
	if got := ask(t, cluster.URL("postgres"), `SELECT 1`); got != "1" {
		t.Errorf("got %s", got)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "postgres.new-*")); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestStartGivenUp(t *testing.T) {
	t.Parallel()
	dir := newDir(t)
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond) // within initdb
	defer cancel()
	if cluster, err := localpg.Start(ctx, localpg.Config{Dir: dir, Log: testLog(t)}); err == nil {
		cluster.Stop(context.Background())
		t.Fatal("made a cluster in 100 ms")
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "postgres*")); len(left) != 1 { // the lock file
		t.Errorf("left behind: %v", left)
	}
}

func TestFolderTooLongForASocket(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ name, under string }{
		{"long", strings.Repeat("a-long-name/", 10)},
		{"of letters that lists of folders are made with", "Practice, north; 100%/'data'"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			dir := filepath.Join(newDir(t), tt.under)
			cluster := start(t, dir)
			url := cluster.AdminURL("postgres")
			socket := ask(t, url, `SHOW unix_socket_directories`)
			t.Cleanup(func() { os.RemoveAll(socket) })
			if strings.HasPrefix(socket, dir) || len(socket) > 60 {
				t.Errorf("the socket is in %s", socket)
			}
			info, err := os.Stat(socket)
			must(t, err)
			if info.Mode().Perm() != 0o700 {
				t.Errorf("others can enter %s: %v", socket, info.Mode())
			}
			// The next Brae uses it again, and finds the server by it.
			pid := serverPID(dir)
			cluster.Leave()
			cluster = start(t, dir)
			if cluster.AdminURL("postgres") != url || serverPID(dir) != pid {
				t.Errorf("the next Start: %s, process %d; want %s, %d", cluster.AdminURL("postgres"), serverPID(dir), url, pid)
			}
			// Unless somebody else has it by now.
			must(t, cluster.Stop(context.Background()))
			must(t, os.RemoveAll(socket))
			must(t, os.WriteFile(socket, nil, 0o600))
			if os.Geteuid() == 0 {
				must(t, os.Chown(socket, int(number(t, account(t, "postgres").Uid)), -1))
			}
			cluster = start(t, dir)
			other := ask(t, cluster.AdminURL("postgres"), `SHOW unix_socket_directories`)
			t.Cleanup(func() { os.RemoveAll(other) })
			if other == socket {
				t.Errorf("the socket is in %s, which is not ours", socket)
			}
		})
	}
}

func TestFolderThatTheServerCannotReach(t *testing.T) {
	t.Parallel()
	asRoot(t)
	closed := filepath.Join(newDir(t), "closed")
	must(t, os.Mkdir(closed, 0o700))
	_, err := localpg.Start(t.Context(), localpg.Config{Dir: filepath.Join(closed, "brae", "data"), Log: testLog(t)})
	if err == nil {
		t.Fatal("Start works")
	}
	for _, want := range []string{"account postgres", "through the folder " + closed + ":", "chmod o+x " + closed, "/var/lib/brae"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("the error does not say %q: %v", want, err)
		}
	}
}

func TestAccountUnderRoot(t *testing.T) {
	t.Parallel()
	asRoot(t)
	for _, tt := range []struct{ account, want string }{
		{"nobody", ""},
		{"root", "is root"},
		{"nobody-of-that-name", "no account nobody-of-that-name"},
	} {
		t.Run(tt.account, func(t *testing.T) {
			t.Parallel()
			dir := newDir(t)
			cluster, err := localpg.Start(t.Context(), localpg.Config{Dir: dir, Account: tt.account, Log: testLog(t)})
			if tt.want != "" {
				if err == nil || !strings.Contains(err.Error(), tt.want) {
					t.Errorf("Start: %v; want an error with %q", err, tt.want)
				}
				return
			}
			must(t, err)
			must(t, cluster.Stop(context.Background()))
			// The owner of the data goes before any other wish.
			start(t, dir)
			info, err := os.Stat(filepath.Join(dir, "postgres.socket"))
			must(t, err)
			if got, want := fmt.Sprint(info.Sys()), fmt.Sprint(number(t, account(t, tt.account).Uid)); !strings.Contains(got, want) {
				t.Errorf("the socket's folder: %s; want owner %s", got, want)
			}
		})
	}
	t.Run("data of root", func(t *testing.T) {
		t.Parallel()
		dir := madeDir(t)
		must(t, os.Chown(filepath.Join(dir, "postgres"), 0, 0))
		_, err := localpg.Start(t.Context(), localpg.Config{Dir: dir, Log: testLog(t)})
		if err == nil || !strings.Contains(err.Error(), "chown -R postgres") {
			t.Errorf("Start: %v; want what to do", err)
		}
	})
}

func TestLongLogIsPutAside(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	log := filepath.Join(dir, "postgres.log")
	must(t, os.WriteFile(log, []byte(strings.Repeat("long ago\n", 600_000)), 0o600))
	start(t, dir)
	text, err := os.ReadFile(log)
	must(t, err)
	if len(text) > 100_000 || !strings.Contains(string(text), "ready to accept connections") {
		t.Errorf("the log has %d bytes and not the new messages", len(text))
	}
	info, err := os.Stat(log + ".old")
	must(t, err)
	if info.Size() != 600_000*9 {
		t.Errorf("%d bytes were put aside; want all", info.Size())
	}
}

func TestFailedStartSaysWhy(t *testing.T) {
	t.Parallel()
	dir := madeDir(t)
	_, err := localpg.Start(t.Context(), localpg.Config{Dir: dir, Log: testLog(t), Settings: map[string]string{"work_mem": "much"}})
	if err == nil || !strings.Contains(err.Error(), `work_mem`) {
		t.Errorf("Start: %v; want PostgreSQL's own words", err)
	}
	start(t, dir) // and the folder is free
}
