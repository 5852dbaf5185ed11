package localpg

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// server is one run of the PostgreSQL server.
type server struct {
	pid  int
	gone <-chan struct{} // closed when the process has ended
	log  int64           // where in the log file its messages begin
	ours bool            // a child of this process
}

// poll is how often is looked at what cannot be waited for.
const poll = 50 * time.Millisecond

// up returns the server of the data folder once it answers: the one that runs
// there if an earlier Brae has left it, else a new one.
func (c *Cluster) up(ctx context.Context) (*server, error) {
	var orphans time.Time // since when processes of a killed server are in the way
	for {
		s, err := c.running(ctx)
		if err != nil {
			return nil, err
		}
		if s == nil {
			s, err = c.launch()
			if err != nil {
				return nil, err
			}
		}
		err = c.awaitAnswer(ctx, s)
		switch {
		case err == nil:
			if !s.ours {
				c.log.Info("found the local database running", "pid", s.pid)
			}
			return s, nil
		case errors.Is(err, errGone) && !s.ours:
			continue // it was on its way out when we found it
		case errors.Is(err, errGone) && strings.Contains(c.logSince(s.log), "pre-existing shared memory block"):
			// The processes of a killed server take a moment to notice.
			if orphans.IsZero() {
				orphans = time.Now()
			}
			if time.Since(orphans) > 20*time.Second {
				return nil, fmt.Errorf("processes of an earlier PostgreSQL server still use %s: %s", c.data, c.logSince(s.log))
			}
			select {
			case <-ctx.Done():
				return nil, ctx.Err()
			case <-time.After(poll):
			}
		case errors.Is(err, errGone):
			return nil, fmt.Errorf("PostgreSQL did not start: %s", c.logSince(s.log))
		default:
			c.giveUp(s)
			return nil, err
		}
	}
}

// running returns the server that runs on the data, nil if there is none. A
// server of ours that was started in another way than it would be now is stopped.
func (c *Cluster) running(ctx context.Context) (*server, error) {
	pid, err := c.noted()
	if err != nil || pid == 0 {
		return nil, err
	}
	args := commandLine(pid)
	switch {
	case len(args) == 0 || !servesData(args, c.data):
		// The number was given to another process since, or to none.
		return nil, disown(c.notePath())
	case !slices.Contains(args, ourMark):
		return nil, fmt.Errorf("a PostgreSQL server that Brae has not started runs on %s (process %d): stop it first (pg_ctl stop -D %s)",
			c.data, pid, c.data)
	}
	gone := make(chan struct{})
	go func() {
		for alive(pid) {
			time.Sleep(poll)
		}
		close(gone)
	}()
	s := &server{pid: pid, gone: gone, log: c.logSize()}
	if slices.Equal(args[1:], c.args()) {
		return s, nil
	}
	c.log.Info("the local database was started with other settings; starting it again", "pid", pid)
	return nil, c.shutDown(ctx, s)
}

// ourMark is the setting by which a server of Brae's is known in a list of
// processes.
const ourMark = "cluster_name=brae"

// args is how the server is started. It decides all that the privacy of the data
// hangs on; the rest is in the cluster's own postgresql.conf.
func (c *Cluster) args() []string {
	args := []string{"-D", c.data}
	set := func(setting string) { args = append(args, "-c", setting) }
	set(ourMark)
	set("listen_addresses=")
	set("port=" + port)
	set("unix_socket_directories=" + c.socket)
	set("unix_socket_permissions=0700")
	set("hba_file=" + c.hbaPath())
	set("ident_file=" + c.identPath())
	set("logging_collector=off")
	set("log_destination=stderr")
	set("log_error_verbosity=terse") // the details of a refused row are a client's
	set("log_timezone=UTC")
	set("timezone=UTC")
	for _, name := range sortedKeys(c.settings) {
		set(name + "=" + c.settings[name])
	}
	return args
}

// launch starts the server as a child that outlives this process.
func (c *Cluster) launch() (*server, error) {
	if err := makePrivate(c.socket, c.account); err != nil { // gone if someone tidied up
		return nil, err
	}
	if err := disown(filepath.Join(c.socket, socketName+".lock")); err != nil {
		return nil, err
	}
	if err := c.trimLog(); err != nil {
		return nil, err
	}
	log, err := os.OpenFile(c.logPath(), os.O_WRONLY|os.O_CREATE|os.O_APPEND|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		return nil, err
	}
	defer log.Close()
	start := c.logSize()
	cmd := c.account.command(context.Background(), c.programs.postgres(), c.args()...)
	// A file, not a pipe: it has to be there still when Brae is not.
	cmd.Stdout, cmd.Stderr = log, log
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	gone := make(chan struct{})
	go func() {
		_ = cmd.Wait() // how it ended is in its log
		close(gone)
	}()
	return &server{pid: cmd.Process.Pid, gone: gone, log: start, ours: true}, nil
}

// errGone means that the server ended before it answered.
var errGone = errors.New("PostgreSQL has ended")

// awaitAnswer waits until the server takes connections, which after a crash may
// take minutes, and makes sure that it serves our data.
func (c *Cluster) awaitAnswer(ctx context.Context, s *server) error {
	patience := time.NewTicker(10 * time.Second)
	defer patience.Stop()
	for {
		data, err := c.dataServed(ctx)
		if err == nil {
			if data != c.data {
				return fmt.Errorf("the server at %s serves %s, not %s", c.socket, data, c.data)
			}
			return nil
		}
		// 57P03: starting up or shutting down; 53300: no connection free.
		if pgErr, ok := errors.AsType[*pgconn.PgError](err); ok && pgErr.Code != "57P03" && pgErr.Code != "53300" {
			return fmt.Errorf("PostgreSQL refuses Brae: %w", err)
		}
		select {
		case <-s.gone:
			return errGone
		case <-ctx.Done():
			return fmt.Errorf("PostgreSQL does not answer yet: %w", ctx.Err())
		case <-patience.C:
			c.log.Info("waiting for the local database, which may be recovering", "pid", s.pid, "log", c.logPath())
		case <-time.After(poll / 2):
		}
	}
}

// connect opens a connection as the administrator.
func (c *Cluster) connect(ctx context.Context) (*pgx.Conn, error) {
	config, err := pgx.ParseConfig(c.AdminURL("postgres"))
	if err != nil {
		return nil, err
	}
	config.ConnectTimeout = 5 * time.Second
	return pgx.ConnectConfig(ctx, config)
}

func (c *Cluster) dataServed(ctx context.Context) (string, error) {
	conn, err := c.connect(ctx)
	if err != nil {
		return "", err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	var data string
	err = conn.QueryRow(ctx, `SHOW data_directory`).Scan(&data)
	return data, err
}

// make runs a statement unless the query finds that what it makes is there.
func (c *Cluster) make(ctx context.Context, look, name, statement string) error {
	conn, err := c.connect(ctx)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	var there bool
	if err := conn.QueryRow(ctx, look, name).Scan(&there); err != nil || there {
		return err
	}
	_, err = conn.Exec(ctx, statement)
	return err
}

// shutDown stops the server in order: transactions under way are rolled back. When
// ctx ends it drops everything, and PostgreSQL recovers at its next start.
func (c *Cluster) shutDown(ctx context.Context, s *server) error {
	_ = syscall.Kill(s.pid, syscall.SIGINT) // it may be gone already
	select {
	case <-s.gone:
		return nil
	case <-ctx.Done():
	}
	_ = syscall.Kill(s.pid, syscall.SIGQUIT)
	select {
	case <-s.gone:
		return nil
	case <-time.After(15 * time.Second): // it gives its own processes five
		return fmt.Errorf("the local database (process %d) does not stop", s.pid)
	}
}

// giveUp stops a server that Start or the watch has no use for. Why is told
// already; that it did not stop is for the log.
func (c *Cluster) giveUp(s *server) {
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	if err := c.shutDown(ctx, s); err != nil {
		c.log.Error(err.Error())
	}
}

// noted returns the process that the server has noted in the data folder, 0 if
// there is no note. The note stays behind when a server is killed.
func (c *Cluster) noted() (int, error) {
	text, err := os.ReadFile(c.notePath())
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	first, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(strings.TrimSpace(first))
	if err != nil || pid <= 0 {
		return 0, nil // PostgreSQL judges it
	}
	return pid, nil
}

func (c *Cluster) notePath() string { return filepath.Join(c.data, "postmaster.pid") }

// noProcess is a number that no process has: systems count to four million.
const noProcess = "2147483647"

// disown makes the note of a killed server say that its process is gone.
// PostgreSQL does not start while a process of that number lives, if only as a
// dead one that nobody has buried, and after a restart of the machine any other
// may have it. The rest of the note stays: by it PostgreSQL makes sure that no
// child of the old server is left.
func disown(note string) error {
	f, err := os.OpenFile(note, os.O_RDWR|syscall.O_NOFOLLOW, 0)
	if errors.Is(err, fs.ErrNotExist) {
		return nil // there is none, or it ended in order just now
	}
	if err != nil {
		return err
	}
	defer f.Close()
	text, err := io.ReadAll(f)
	if err != nil {
		return err
	}
	_, rest, _ := strings.Cut(string(text), "\n")
	text = []byte(noProcess + "\n" + rest)
	_, err = f.WriteAt(text, 0)
	return cmp.Or(err, f.Truncate(int64(len(text))))
}

// longestLog is the size at which the log file is put aside.
const longestLog = 4 << 20

// trimLog puts the log aside when it has grown long. The server goes on writing to
// the same file, at its new end.
func (c *Cluster) trimLog() error {
	if c.logSize() <= longestLog {
		return nil
	}
	text, err := os.ReadFile(c.logPath())
	if err != nil {
		return err
	}
	if err := os.WriteFile(c.logPath()+".old", text, 0o600); err != nil {
		return err
	}
	return os.Truncate(c.logPath(), 0)
}

func (c *Cluster) logSize() int64 {
	info, err := os.Stat(c.logPath())
	if err != nil {
		return 0
	}
	return info.Size()
}

// logSince returns what the server has said since its log had that size, the end
// of it if it is much, on one line.
func (c *Cluster) logSince(size int64) string {
	const most = 2000
	f, err := os.Open(c.logPath())
	if err != nil {
		return "its log cannot be read: " + err.Error()
	}
	defer f.Close()
	text := make([]byte, most)
	n, _ := f.ReadAt(text, max(size, c.logSize()-most))
	said := strings.TrimSpace(string(text[:n]))
	if said == "" {
		return "it said nothing"
	}
	return strings.ReplaceAll(said, "\n", " | ")
}
