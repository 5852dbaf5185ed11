package e2e

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// Brae is a running Brae with a data folder of its own.
type Brae struct {
	URL   string // where it answers, as it says
	SetUp string // the one-time link of the first start

	t        testing.TB
	data     string
	listen   string
	settings []string // environment variables
	cmd      *exec.Cmd
	log      *tail
	exited   chan struct{}
}

// Start starts Brae on an empty data folder, with settings such as BRAE_X=y, and
// waits until it answers. It ends
// with the test, and leaves nothing behind.
func Start(t testing.TB, settings ...string) *Brae {
	t.Helper()
	dir, err := os.MkdirTemp("", "brae-e2e-")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o755); err != nil { // under root its PostgreSQL is somebody else
		t.Fatal(err)
	}
	b := &Brae{t: t, data: filepath.Join(dir, "data"), listen: address(t), log: &tail{}, settings: settings}
	t.Cleanup(func() {
		b.stop()
		if t.Failed() {
			t.Logf("the log of Brae at %s ends with:\n%s", b.URL, b.log)
		}
		if err := os.RemoveAll(dir); err != nil {
			t.Errorf("remove the data folder: %v", err)
		}
	})
	b.run()
	if b.SetUp == "" {
		t.Fatal("the first start printed no link to set up the practice")
	}
	return b
}

// address returns a free address below the range from which outgoing connections
// take their ports, so that it is still free when Brae is started again.
func address(t testing.TB) string {
	t.Helper()
	for range 100 {
		address := net.JoinHostPort("127.0.0.1", strconv.Itoa(20000+rand.IntN(12000)))
		if l, err := net.Listen("tcp", address); err == nil {
			_ = l.Close()
			return address
		}
	}
	t.Fatal("no free port")
	return ""
}

// startTime bounds a start: making the cluster, or its recovery after a crash.
const startTime = 60 * time.Second

// run starts the program and reads from it where it answers.
func (b *Brae) run() {
	b.t.Helper()
	b.cmd = exec.Command(Program(b.t), "serve", "--listen", b.listen, "--data", b.data)
	b.cmd.Env = append(environment(), b.settings...)
	b.cmd.Stderr = b.log
	out, err := b.cmd.StdoutPipe()
	if err != nil {
		b.t.Fatal(err)
	}
	if err := b.cmd.Start(); err != nil {
		b.t.Fatal(err)
	}
	first := b.URL == ""
	ready := make(chan struct{})
	b.exited = make(chan struct{})
	go func(cmd *exec.Cmd, exited chan struct{}) {
		defer close(exited)
		lines := bufio.NewScanner(out)
		told := sync.OnceFunc(func() { close(ready) })
		for waiting := true; lines.Scan(); {
			if _, address, ok := strings.Cut(lines.Text(), "Brae answers on "); ok {
				b.URL = address
				waiting = waiting && first // the link to set up comes after it
			}
			if at := strings.Index(lines.Text(), "http"); at > 0 && strings.HasPrefix(lines.Text(), "Set up the practice") {
				b.SetUp = lines.Text()[at:]
				waiting = false
			}
			if !waiting {
				told()
			}
		}
		_, _ = io.Copy(io.Discard, out)
		_ = cmd.Wait()
	}(b.cmd, b.exited)
	select {
	case <-ready:
	case <-b.exited:
		b.t.Fatalf("Brae ended at its start: %s", b.cmd.ProcessState)
	case <-time.After(startTime):
		b.t.Fatalf("Brae does not answer within %s", startTime)
	}
}

// environment is that of the test without what would lead Brae elsewhere.
func environment() []string {
	var env []string
	for _, v := range os.Environ() {
		if !strings.HasPrefix(v, "BRAE_") && !strings.HasPrefix(v, "DATABASE_URL=") && !strings.HasPrefix(v, "PG") {
			env = append(env, v)
		}
	}
	return env
}

// Kill ends Brae as kill -9 does. Its PostgreSQL goes on.
func (b *Brae) Kill() {
	b.t.Helper()
	if err := b.cmd.Process.Kill(); err != nil {
		b.t.Fatal(err)
	}
	<-b.exited
}

// Again starts Brae again, on the same data and at the same address.
func (b *Brae) Again() {
	b.t.Helper()
	b.run()
}

// Later ends Brae in order and starts it again on the same data, with a clock that
// is so far ahead of the machine's. Everybody has to sign in again. It skips the test
// if the program was built by somebody else, with no clock to move.
func (b *Brae) Later(ahead time.Duration) {
	b.t.Helper()
	if os.Getenv("BRAE_BIN") != "" {
		b.t.Skip("the program of BRAE_BIN has no clock that can be moved")
	}
	b.stop()
	b.settings = append(b.settings, "BRAE_CLOCK_AHEAD="+ahead.String()) // the last one counts
	b.run()
}

// stop ends Brae in order, and whatever is left of its PostgreSQL.
func (b *Brae) stop() {
	if b.cmd == nil || b.cmd.Process == nil {
		return
	}
	_ = b.cmd.Process.Signal(syscall.SIGTERM)
	select {
	case <-b.exited:
	case <-time.After(30 * time.Second):
		b.t.Errorf("Brae does not stop within 30 s")
		_ = b.cmd.Process.Kill()
		<-b.exited
	}
	for _, pid := range b.PostgresPIDs() {
		_ = syscall.Kill(pid, syscall.SIGKILL)
	}
}

// postmaster reads what the server's main process says of itself: its number
// and the folder of its socket. Without a server it returns zero.
func (b *Brae) postmaster() (pid int, socket string) {
	text, err := os.ReadFile(filepath.Join(b.data, "postgres", "postmaster.pid"))
	lines := strings.Split(string(text), "\n")
	if err != nil || len(lines) < 5 {
		return 0, ""
	}
	pid, _ = strconv.Atoi(lines[0])
	return pid, lines[4]
}

// PostgresPIDs lists the processes of Brae's PostgreSQL, its main one first.
func (b *Brae) PostgresPIDs() []int {
	main, _ := b.postmaster()
	if main == 0 || syscall.Kill(main, 0) != nil {
		return nil
	}
	out, err := exec.Command("ps", "-axo", "pid=,ppid=").Output()
	if err != nil {
		b.t.Errorf("list processes: %v", err)
	}
	pids := []int{main}
	for line := range strings.Lines(string(out)) {
		var pid, parent int
		if _, err := fmt.Sscan(line, &pid, &parent); err == nil && parent == main {
			pids = append(pids, pid)
		}
	}
	return pids
}

// KillPostgres ends all processes of Brae's PostgreSQL as kill -9 does, the main
// one first, so that none is told to stop in order.
func (b *Brae) KillPostgres() {
	b.t.Helper()
	pids := b.PostgresPIDs()
	if len(pids) == 0 {
		b.t.Fatal("no PostgreSQL to kill")
	}
	for _, pid := range pids {
		_ = syscall.Kill(pid, syscall.SIGKILL)
	}
}

// Query opens a connection of the test's own to Brae's database, to see what is
// really stored. It is closed with the test.
func (b *Brae) Query() *pgx.Conn {
	b.t.Helper()
	_, socket := b.postmaster()
	values := url.Values{"host": {socket}, "port": {"5432"}, "user": {"brae"}, "sslmode": {"disable"}}
	c, err := pgx.Connect(b.t.Context(), "postgres:///brae?"+values.Encode())
	if err != nil {
		b.t.Fatalf("connect to Brae's database: %v", err)
	}
	b.t.Cleanup(func() {
		ctx, cancel := context.WithTimeout(context.Background(), time.Second)
		defer cancel()
		_ = c.Close(ctx)
	})
	return c
}

// Count returns the one number that a query finds in Brae's database.
func (b *Brae) Count(c *pgx.Conn, sql string, args ...any) int {
	b.t.Helper()
	var n int
	if err := c.QueryRow(b.t.Context(), sql, args...).Scan(&n); err != nil {
		b.t.Fatalf("%s: %v", sql, err)
	}
	return n
}

// tail keeps what a log says last: the requests that were served, and, for longer,
// everything else. It is safe for concurrent use.
type tail struct {
	mu              sync.Mutex
	requests, other []string
}

// tailLines is how many lines of each sort are kept.
const tailLines = 100

// Write takes one line, as the log writes it.
func (l *tail) Write(line []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	kept := &l.other
	if bytes.Contains(line, []byte(`"level":"INFO","msg":"request"`)) {
		kept = &l.requests
	}
	*kept = append(*kept, string(line))
	if len(*kept) > tailLines {
		*kept = (*kept)[1:]
	}
	return len(line), nil
}

func (l *tail) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return strings.Join(l.other, "") + "and of requests:\n" + strings.Join(l.requests, "")
}
