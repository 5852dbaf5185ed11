package localpg

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

// install makes a folder that looks like an installation of PostgreSQL.
func install(t *testing.T, dir, initdb, postgres string) string {
	t.Helper()
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, version := range map[string]string{"initdb": initdb, "postgres": postgres} {
		if version == "" {
			continue
		}
		script := fmt.Sprintf("#!/bin/sh\necho '%s (PostgreSQL) %s'\n", name, version)
		if err := os.WriteFile(filepath.Join(dir, name), []byte(script), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestFind(t *testing.T) {
	root := t.TempDir()
	at := func(dir string) string { return filepath.Join(root, dir) }
	install(t, at("15"), "15.18 (Debian 15.18-0+deb12u1)", "15.18 (Debian 15.18-0+deb12u1)")
	install(t, at("17"), "17.2", "17.2")
	install(t, at("18beta"), "18beta1", "18beta1")
	install(t, at("14"), "14.9", "14.9")
	install(t, at("mixed"), "16.1", "16.2")
	install(t, at("client"), "16.1", "") // no server
	if err := os.MkdirAll(at("links"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(at("17"), "initdb"), filepath.Join(at("links"), "initdb")); err != nil {
		t.Fatal(err)
	}

	for _, tt := range []struct {
		name    string
		dirs    []string
		major   int
		want    string // the folder
		version string
		err     string
	}{
		{name: "the first that is found", dirs: []string{"15", "17"}, want: "15", version: "15.18"},
		{name: "the version of the data", dirs: []string{"15", "17"}, major: 17, want: "17", version: "17.2"},
		{name: "a test version", dirs: []string{"18beta"}, want: "18beta", version: "18beta1"},
		{name: "through a link", dirs: []string{"links"}, want: "17", version: "17.2"},
		{name: "only a client", dirs: []string{"client"}, err: "three ways out"},
		{name: "a client first", dirs: []string{"client", "17"}, want: "17", version: "17.2"},
		{name: "nothing", dirs: []string{"none"}, err: "three ways out"},
		{name: "too old", dirs: []string{"14"}, err: "PostgreSQL 14.9"},
		{name: "too old, then new enough", dirs: []string{"14", "15"}, want: "15", version: "15.18"},
		{name: "old data with old programs", dirs: []string{"14"}, major: 14, want: "14", version: "14.9"},
		{name: "half replaced", dirs: []string{"mixed"}, err: "16.1 but postgres of 16.2"},
		{name: "half replaced, then whole", dirs: []string{"mixed", "15"}, want: "15", version: "15.18"},
		{name: "not the version of the data", dirs: []string{"15", "17"}, major: 16, err: "belong to PostgreSQL 16, but found only 15.18 in " + at("15") + ", 17.2"},
		{name: "data without programs", dirs: []string{"none"}, major: 16, err: "belong to PostgreSQL 16, but none was found"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var path []string
			for _, dir := range tt.dirs {
				path = append(path, at(dir))
			}
			got, err := choose(t.Context(), path, "/data/postgres", tt.major)
			if tt.err != "" {
				if err == nil || !strings.Contains(err.Error(), tt.err) {
					t.Fatalf("err = %v; want %q in it", err, tt.err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if got.Dir != at(tt.want) || got.Version != tt.version || !strings.HasPrefix(tt.version, fmt.Sprint(got.Major)) {
				t.Errorf("got %+v; want %s in %s", got, tt.version, at(tt.want))
			}
		})
	}
}

func TestFindInOneFolderOnly(t *testing.T) {
	dir := t.TempDir()
	if _, err := find(t.Context(), dir, "", 0); !errors.Is(err, ErrNoPrograms) {
		t.Errorf("an empty folder: %v; want ErrNoPrograms, although the machine has a PostgreSQL", err)
	}
	for _, way := range []string{"install PostgreSQL", "DATABASE_URL", "docker compose up"} {
		if !strings.Contains(ErrNoPrograms.Error(), way) {
			t.Errorf("ErrNoPrograms does not tell of the way %q", way)
		}
	}
}

func TestCandidates(t *testing.T) {
	root := t.TempDir()
	for _, dir := range []string{"lib/9.6/bin", "lib/15/bin", "lib/17/bin", "pgsql-16/bin"} {
		if err := os.MkdirAll(filepath.Join(root, dir), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	config := filepath.Join(root, "pg_config")
	if err := os.WriteFile(config, []byte("#!/bin/sh\n[ \"$1\" = --bindir ] && echo /from/pg_config\n"), 0o755); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", root)
	got := candidates(context.Background(), strings.Join([]string{"/first", "relative", "", "/second"}, ":"),
		[]string{filepath.Join(root, "lib/*/bin"), filepath.Join(root, "pgsql-*/bin")})
	want := []string{"/first", "/second", "/from/pg_config",
		filepath.Join(root, "lib/17/bin"), filepath.Join(root, "lib/15/bin"), filepath.Join(root, "lib/9.6/bin"),
		filepath.Join(root, "pgsql-16/bin")}
	if !slices.Equal(got, want) {
		t.Errorf("candidates = %q\nwant %q", got, want)
	}
}

func TestServesData(t *testing.T) {
	for _, tt := range []struct {
		name string
		args []string
		want bool
	}{
		{"ours", []string{"/usr/lib/postgresql/15/bin/postgres", "-D", "/data", "-c", "cluster_name=brae"}, true},
		{"by its old name", []string{"postmaster", "-D/data"}, true},
		{"another folder", []string{"postgres", "-D", "/data2"}, false},
		{"a folder told by the environment", []string{"postgres"}, true},
		{"a child of a server", []string{"postgres: brae: checkpointer "}, false},
		{"another program with such an argument", []string{"less", "-D", "/data"}, false},
		{"gone", nil, false},
	} {
		if got := servesData(tt.args, "/data"); got != tt.want {
			t.Errorf("%s: servesData(%q) = %t; want %t", tt.name, tt.args, got, tt.want)
		}
	}
}

// The first process of a container may bury nobody: a server that has ended then
// stays in the list of processes.
func TestAlive(t *testing.T) {
	if !alive(os.Getpid()) {
		t.Error("this process is taken for dead")
	}
	cmd := exec.Command("true")
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer cmd.Wait()
	for end := time.Now().Add(10 * time.Second); runtime.GOOS == "linux" && alive(cmd.Process.Pid); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("a process that has ended, unburied, is taken for alive")
		}
	}
}

func TestSocketFits(t *testing.T) {
	for _, tt := range []struct {
		dir  string
		want bool
	}{
		{"/var/lib/brae/postgres.socket", true},
		{"/" + strings.Repeat("x", 103-len(socketName)-2), true}, // the limit of macOS, also good on Linux
		{"/" + strings.Repeat("x", 107-len(socketName)), false},
		{"/a,b", false},
		{"/a b", false},
		{"relative", false},
	} {
		if got := socketFits(tt.dir); got != tt.want {
			t.Errorf("socketFits(%q), %d bytes = %t; want %t", tt.dir, len(tt.dir), got, tt.want)
		}
	}
}
