package storetest

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"brae/store/localpg"
)

// TestMain runs the tests, or, in a process that a test has started, one of the
// test programs that share a server.
func TestMain(m *testing.M) {
	if dir := os.Getenv("STORETEST_SHARE"); dir != "" {
		s, err := startLocal(context.Background(), dir, quick)
		if err == nil {
			err = s.query(context.Background(), `SELECT 1`, new(int))
		}
		fmt.Println("started", err)
		io.Copy(io.Discard, os.Stdin)
		return
	}
	os.Exit(m.Run())
}

// quick has an unused server stopped soon.
var quick = idle{every: 200 * time.Millisecond, looks: 3}

// program starts a test program that shares the server of the folder. It lives
// until end is called.
func program(t *testing.T, dir string) (end func()) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "STORETEST_SHARE="+dir)
	cmd.Stderr = t.Output()
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	end = func() {
		in.Close()
		cmd.Process.Kill()
		// Wait returns when nobody holds the output any more: `go test` waits so, too.
		io.Copy(io.Discard, out)
		cmd.Wait()
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if line != "started <nil>\n" {
		end()
		t.Fatalf("a test program says %q, %v", line, err)
	}
	return end
}

func openDir(t *testing.T) string {
	t.Helper()
	if _, err := startable(t); err != nil {
		t.Skip(err)
	}
	dir, err := os.MkdirTemp("", "brae-storetest")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o711); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if pid := serverOf(dir); pid != 0 {
			syscall.Kill(pid, syscall.SIGINT)
			eventually(t, "the server's end", func() bool { return serverOf(dir) == 0 })
		}
		os.RemoveAll(dir)
	})
	return dir
}

// startable tells whether this machine can run a private server, where another
// kind was asked for.
func startable(t *testing.T) (*localpg.Cluster, error) {
	if kind := os.Getenv("BRAE_TEST_SERVER"); kind != "" && kind != string(Local) {
		return nil, fmt.Errorf("this run is about a server that is %s", kind)
	}
	if _, err := localpg.Start(t.Context(), localpg.Config{Dir: t.TempDir(), BinDir: t.TempDir()}); !errors.Is(err, localpg.ErrNoPrograms) {
		return nil, err
	}
	return nil, nil
}

// serverOf is the server's process by PostgreSQL's own note, which goes with it.
func serverOf(dir string) int {
	text, _ := os.ReadFile(filepath.Join(dir, "postgres", "postmaster.pid"))
	first, _, _ := strings.Cut(string(text), "\n")
	pid, _ := strconv.Atoi(first)
	return pid
}

func eventually(t *testing.T, what string, done func() bool) {
	t.Helper()
	for end := time.Now().Add(20 * time.Second); !done(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited too long for %s", what)
		}
	}
}

func TestServerIsSharedAndThenStopped(t *testing.T) {
	t.Parallel()
	dir := openDir(t)
	endFirst := program(t, dir)
	pid := serverOf(dir)
	endSecond := program(t, dir)
	endFirst()
	time.Sleep(4 * quick.every * time.Duration(quick.looks))
	if pid == 0 || serverOf(dir) != pid {
		t.Fatalf("the server was %d and is %d while a program uses it", pid, serverOf(dir))
	}
	endSecond()
	eventually(t, "the unused server's end", func() bool { return serverOf(dir) == 0 })
	// The next program starts it again, with what it held.
	end := program(t, dir)
	defer end()
	if serverOf(dir) == 0 {
		t.Error("there is no server")
	}
}

// Programs that come just when the server is being stopped find a server.
func TestProgramsComeAndGo(t *testing.T) {
	t.Parallel()
	dir := openDir(t)
	for i := range 6 {
		end := program(t, dir)
		end()
		// From well before the stop to well after it.
		time.Sleep(quick.every*time.Duration(quick.looks-1) + time.Duration(i)*quick.every/2)
	}
	eventually(t, "the notes of ended programs to go", func() bool {
		left, _ := filepath.Glob(filepath.Join(dir, "users", "*"))
		return len(left) == 0
	})
}

func TestStopOfKilledScriptIsNotWaitedFor(t *testing.T) {
	t.Parallel()
	dir := openDir(t)
	if err := os.WriteFile(filepath.Join(dir, "stopping"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	begun := time.Now()
	program(t, dir)()
	if took := time.Since(begun); took > time.Minute { // it would wait for ever
		t.Errorf("the program waited %v", took)
	}
}

func TestDiscardAfterReboot(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	data := filepath.Join(dir, "postgres", "base")
	for _, tt := range []struct {
		before func() error
		kept   bool
	}{
		{func() error { return nil }, false}, // of an unknown time
		{func() error { return nil }, true},
		{func() error { return os.WriteFile(filepath.Join(dir, "boot"), []byte("another"), 0o600) }, false},
	} {
		if err := errors.Join(os.MkdirAll(data, 0o700), tt.before(), discardAfterReboot(dir)); err != nil {
			t.Fatal(err)
		}
		if _, err := os.Stat(data); (err == nil) != tt.kept {
			t.Errorf("kept: %t; want %t", err == nil, tt.kept)
		}
	}
}

func TestMissingServerSkipsOnlyOutsideCI(t *testing.T) {
	for _, tt := range []struct{ ci, want string }{{"", "--- SKIP"}, {"true", "--- FAIL"}} {
		// PATH is empty, and so is the folder that the programs are looked for in:
		// the test asks for a server that the variable says is not there.
		cmd := exec.Command(os.Args[0], "-test.run=^TestURL$", "-test.v")
		cmd.Env = append(os.Environ(), "CI="+tt.ci, "BRAE_TEST_SERVER=container",
			"DOCKER_HOST=unix:///nonexistent/docker.sock", "BRAE_TEST_PG_IMAGE=none:1", "BRAE_TEST_DATABASE_URL=")
		out, _ := cmd.CombinedOutput() // fails in one of the two
		if !strings.Contains(string(out), tt.want+": TestURL") {
			t.Errorf("CI=%q: want %s:\n%s", tt.ci, tt.want, out)
		}
	}
	// A server that was named but does not answer is a failure everywhere.
	cmd := exec.Command(os.Args[0], "-test.run=^TestURL$", "-test.v")
	cmd.Env = append(os.Environ(), "CI=", "BRAE_TEST_SERVER=", "BRAE_TEST_DATABASE_URL=postgres://u@localhost:1/x?connect_timeout=2")
	if out, _ := cmd.CombinedOutput(); !strings.Contains(string(out), "--- FAIL: TestURL") {
		t.Errorf("a given server that is not there: want a failure:\n%s", out)
	}
}
