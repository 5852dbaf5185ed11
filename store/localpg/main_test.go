package localpg_test

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"brae/store/localpg"
)

// TestMain runs the tests, or, in the process that a test has started, the part
// that the test has named: a Brae that can be killed, or a stranger.
func TestMain(m *testing.M) {
	switch os.Getenv("LOCALPG_PART") {
	case "":
		code := m.Run()
		os.RemoveAll(sharedDir)
		os.Exit(code)
	case "brae":
		partBrae()
	case "client":
		partClient()
	}
}

// fast are the settings of the tests' servers. What a killed process has written
// is there without fsync, too; only a machine without power loses it.
var fast = map[string]string{"fsync": "off", "shared_buffers": "16MB"}

// partBrae starts the server of the folder, says so and waits to be killed.
func partBrae() {
	log := slog.New(slog.NewTextHandler(os.Stderr, nil))
	cluster, err := localpg.Start(context.Background(), localpg.Config{Dir: os.Getenv("LOCALPG_DIR"), Log: log, Settings: fast})
	if err != nil {
		fmt.Println("error:", err)
		os.Exit(1)
	}
	fmt.Println("ready", cluster.AdminURL("postgres"))
	io.Copy(io.Discard, os.Stdin)
	os.Exit(1)
}

// partClient says who it is to the server, or why not.
func partClient() {
	conn, err := pgx.Connect(context.Background(), os.Getenv("LOCALPG_URL"))
	if err != nil {
		fmt.Println("error:", err)
		os.Exit(0)
	}
	var who string
	err = conn.QueryRow(context.Background(), `SELECT current_user`).Scan(&who)
	fmt.Println("connected as", who, err)
}

// part prepares a process of this test program, run by the account if it is not
// nil. It is killed at the end of the test.
func part(t *testing.T, name string, as *user.User, env ...string) *exec.Cmd {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), program(t))
	cmd.Dir = "/"
	cmd.Env = append(os.Environ(), append(env, "LOCALPG_PART="+name)...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	if as != nil {
		cmd.SysProcAttr.Credential = &syscall.Credential{Uid: number(t, as.Uid), Gid: number(t, as.Gid)}
	}
	return cmd
}

// startBrae starts another Brae on the folder and returns once its server answers.
func startBrae(t *testing.T, dir string, as *user.User) (brae *exec.Cmd, url string) {
	t.Helper()
	cmd := part(t, "brae", as, "LOCALPG_DIR="+dir)
	in, err := cmd.StdinPipe()
	must(t, err)
	out, err := cmd.StdoutPipe()
	must(t, err)
	cmd.Stderr = t.Output()
	must(t, cmd.Start())
	t.Cleanup(func() { in.Close(); cmd.Process.Kill(); cmd.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	url, ok := strings.CutPrefix(strings.TrimSpace(line), "ready ")
	if !ok {
		t.Fatalf("the other Brae says %q, %v", line, err)
	}
	return cmd, url
}

// sharedDir holds what all tests read. The accounts of the servers can enter it.
var sharedDir = func() string {
	if os.Getenv("LOCALPG_PART") != "" {
		return ""
	}
	return openDir()
}()

func openDir() string {
	dir, err := os.MkdirTemp("", "lpg")
	if err == nil {
		dir, err = filepath.EvalSymlinks(dir)
	}
	if err == nil {
		err = os.Chmod(dir, 0o711)
	}
	if err != nil {
		panic(err)
	}
	return dir
}

// program is a copy of this test program where every account can run it.
func program(t *testing.T) string {
	t.Helper()
	path, err := copyProgram()
	must(t, err)
	return path
}

var copyProgram = sync.OnceValues(func() (string, error) {
	self, err := os.Executable()
	if err != nil {
		return "", err
	}
	text, err := os.ReadFile(self)
	if err != nil {
		return "", err
	}
	path := filepath.Join(sharedDir, "localpg.test")
	// A process that another test forks while the copy is being written would hold
	// the open file until it runs its own program, and a file that is open for
	// writing cannot be run ("text file busy").
	syscall.ForkLock.RLock()
	err = os.WriteFile(path, text, 0o755)
	syscall.ForkLock.RUnlock()
	if err != nil {
		return "", err
	}
	return path, os.Chmod(path, 0o755)
})

// newDir returns an empty data folder, removed after the test together with the
// server that a failed test may have left on it.
func newDir(t *testing.T) string {
	t.Helper()
	dir := openDir()
	t.Cleanup(func() {
		if pid := serverPID(dir); pid != 0 && strings.Contains(commandLineOf(pid), dir) {
			syscall.Kill(pid, syscall.SIGKILL)
			waitFor(t, "the end of the server", func() bool { return !runs(pid) })
		}
		for i := 0; os.RemoveAll(dir) != nil && i < 20; i++ { // its children end a moment later
			time.Sleep(50 * time.Millisecond)
		}
	})
	return dir
}

// madeDir is newDir with the database files that initdb has made once for all.
func madeDir(t *testing.T) string {
	t.Helper()
	from, err := makeOnce()
	must(t, err)
	dir := newDir(t)
	out, err := exec.Command("cp", "-a", filepath.Join(from, "postgres"), dir).CombinedOutput()
	if err != nil {
		t.Fatalf("cp: %v: %s", err, out)
	}
	return dir
}

var makeOnce = sync.OnceValues(func() (string, error) {
	dir := filepath.Join(sharedDir, "made")
	cluster, err := localpg.Start(context.Background(), localpg.Config{Dir: dir, Log: slog.New(slog.DiscardHandler), Settings: fast})
	if err != nil {
		return "", err
	}
	return dir, cluster.Stop(context.Background())
})

// start starts the folder's server for the test.
func start(t *testing.T, dir string) *localpg.Cluster {
	t.Helper()
	return startWith(t, localpg.Config{Dir: dir, Settings: fast})
}

func startWith(t *testing.T, config localpg.Config) *localpg.Cluster {
	t.Helper()
	if config.Log == nil {
		config.Log = testLog(t)
	}
	cluster, err := localpg.Start(t.Context(), config)
	must(t, err)
	t.Cleanup(func() {
		if err := cluster.Stop(context.Background()); err != nil {
			t.Error(err)
		}
	})
	return cluster
}

func testLog(t *testing.T) *slog.Logger {
	return slog.New(slog.NewTextHandler(t.Output(), &slog.HandlerOptions{Level: slog.LevelInfo}))
}

// ask returns the one value that a query answers, as text.
func ask(t *testing.T, url, query string, args ...any) string {
	t.Helper()
	value, err := tryAsk(t, url, query, args...)
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	return value
}

func tryAsk(t *testing.T, url, query string, args ...any) (string, error) {
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Second)
	defer cancel()
	conn, err := pgx.Connect(ctx, url)
	if err != nil {
		return "", err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	rows, _ := conn.Query(ctx, query, args...)
	return pgx.CollectExactlyOneRow(rows, func(row pgx.CollectableRow) (string, error) {
		values, err := row.Values()
		if err != nil {
			return "", err
		}
		return fmt.Sprint(values[0]), nil
	})
}

// do runs statements that answer nothing.
func do(t *testing.T, url string, statements ...string) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	must(t, err)
	defer conn.Close(context.WithoutCancel(t.Context()))
	for _, statement := range statements {
		if _, err := conn.Exec(t.Context(), statement); err != nil {
			t.Fatalf("%s: %v", statement, err)
		}
	}
}

// serverPID is the process that PostgreSQL has noted in the folder, 0 if none.
func serverPID(dir string) int {
	text, _ := os.ReadFile(filepath.Join(dir, "postgres", "postmaster.pid"))
	first, _, _ := strings.Cut(string(text), "\n")
	pid, _ := strconv.Atoi(first)
	return pid
}

// runs tells whether the process lives, ended ones that nobody has buried not
// counted.
func runs(pid int) bool {
	return syscall.Kill(pid, 0) == nil && commandLineOf(pid) != ""
}

func commandLineOf(pid int) string {
	out, _ := exec.Command("ps", "-ww", "-o", "args=", "-p", strconv.Itoa(pid)).Output()
	line := strings.TrimSpace(string(out))
	if strings.HasSuffix(line, "<defunct>") {
		return ""
	}
	return line
}

func waitFor(t *testing.T, what string, done func() bool) {
	t.Helper()
	for end := time.Now().Add(15 * time.Second); !done(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited too long for %s", what)
		}
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func number(t *testing.T, text string) uint32 {
	t.Helper()
	n, err := strconv.ParseUint(text, 10, 32)
	must(t, err)
	return uint32(n)
}

// asRoot skips a test of what only root can set up.
func asRoot(t *testing.T) {
	t.Helper()
	if os.Geteuid() != 0 {
		t.Skip("needs root")
	}
}

func account(t *testing.T, name string) *user.User {
	t.Helper()
	u, err := user.Lookup(name)
	must(t, err)
	return u
}
