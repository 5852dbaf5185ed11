package localpg

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// makeDir makes the data folder if it is missing and returns it in the one form
// by which it is known to the system. Under root others may pass through it,
// since the server does not run as root, but not list it.
func makeDir(dir string) (string, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	var missing []string
	for d := dir; !exists(d); d = filepath.Dir(d) {
		missing = append(missing, d)
	}
	mode := fs.FileMode(0o700)
	if os.Geteuid() == 0 {
		mode = 0o711
	}
	for _, d := range slices.Backward(missing) {
		if err := os.Mkdir(d, mode); err != nil {
			return "", err
		}
		if err := os.Chmod(d, mode); err != nil { // whatever the umask
			return "", err
		}
	}
	return filepath.EvalSymlinks(dir)
}

// lockDir takes the data folder for this process. The system frees it when the
// file is closed, at the latest at the end of the process, however that comes.
func lockDir(dir string) (*os.File, error) {
	f, err := os.OpenFile(filepath.Join(dir, "postgres.lock"), os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		return nil, err
	}
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		defer f.Close()
		text := make([]byte, 20)
		n, _ := f.ReadAt(text, 0)
		pid, _ := strconv.Atoi(strings.TrimSpace(string(text[:n])))
		return nil, &InUseError{Dir: dir, PID: pid}
	}
	if err == nil {
		err = f.Truncate(0)
	}
	if err == nil {
		_, err = f.WriteString(strconv.Itoa(os.Getpid()) + "\n")
	}
	if err != nil {
		f.Close()
		return nil, fmt.Errorf("lock %s: %w", f.Name(), err)
	}
	return f, nil
}

// unlockDir frees the data folder. Closing the file alone would leave it taken as
// long as a child, just forked, has not closed its copy.
func unlockDir(f *os.File) {
	_ = syscall.Flock(int(f.Fd()), syscall.LOCK_UN) // closing does it in the end
	f.Close()
}

// dataMajor returns the major version of PostgreSQL that the database files
// belong to, 0 if there are none yet.
func dataMajor(data string) (int, error) {
	entries, err := os.ReadDir(data)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	if len(entries) == 0 {
		return 0, nil
	}
	text, err := os.ReadFile(filepath.Join(data, "PG_VERSION"))
	if errors.Is(err, fs.ErrNotExist) {
		return 0, fmt.Errorf("%s holds files but no PG_VERSION, so it is not, or not wholly, a PostgreSQL cluster: "+
			"move it away, or put a backup in its place; nothing has been changed", data)
	}
	if err != nil {
		return 0, err
	}
	major, err := strconv.Atoi(strings.TrimSpace(string(text)))
	if err != nil {
		return 0, fmt.Errorf("%s: not understood: %q", filepath.Join(data, "PG_VERSION"), text)
	}
	return major, nil
}

// locales are what a new cluster sorts and spells by, the first that the machine
// has. Text sorts by code point in all of them: a sort order taken from the system
// changes with its updates and silently breaks the indexes made before. The first
// also knows the capital letters beyond ASCII.
var locales = [][]string{
	{"--locale=C.UTF-8", "--lc-collate=C"},
	{"--locale=C", "--lc-ctype=UTF-8"}, // as macOS calls it
	{"--locale=C"},
}

// init makes the database files. They are made aside and renamed, so that a
// killed initdb leaves nothing that could be taken for a cluster.
func (c *Cluster) init(ctx context.Context) error {
	old, err := filepath.Glob(filepath.Join(c.dir, "postgres.new-*"))
	if err != nil {
		return err
	}
	for _, dir := range old { // never was in use: what a killed initdb left
		if err := removeAll(dir); err != nil {
			return err
		}
	}
	start := time.Now()
	tmp, err := os.MkdirTemp(c.dir, "postgres.new-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(tmp) // gone already if all went well
	if err := c.account.own(tmp); err != nil {
		return err
	}
	for i, locale := range locales {
		out, err := c.initdb(ctx, tmp, locale)
		if err == nil {
			break
		}
		if i == len(locales)-1 || !strings.Contains(out, "invalid locale") {
			return fmt.Errorf("initdb: %w: %s", err, strings.TrimSpace(out))
		}
	}
	if err := os.Rename(tmp, c.data); err != nil { // replaces an empty folder at most
		return err
	}
	if err := syncDir(c.dir); err != nil {
		return err
	}
	c.log.Info("made a local database", "data", c.data, "postgresql", c.programs.Version, "account", c.account.name,
		"took", time.Since(start).Round(time.Millisecond))
	return nil
}

func (c *Cluster) initdb(ctx context.Context, dir string, locale []string) (string, error) {
	args := append([]string{
		"-D", dir, "--username=" + adminRole, "--encoding=UTF8", "--data-checksums",
		"--auth-local=peer", "--auth-host=reject", // for a server started by hand; ours reads postgres.hba
	}, locale...)
	if c.settings["fsync"] == "off" {
		args = append(args, "--no-sync")
	}
	var out bytes.Buffer
	cmd := c.account.command(ctx, c.programs.initdb(), args...)
	cmd.Stdout, cmd.Stderr = &out, &out
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) } // with the server it runs
	cmd.WaitDelay = time.Second
	err := cmd.Run()
	return out.String(), err
}

func syncDir(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	return cmp.Or(f.Sync(), f.Close())
}

// socketName is the name that the server gives its socket.
const socketName = ".s.PGSQL." + port

// plainPath is a folder that needs no quoting where the server and its clients
// take lists of folders.
var plainPath = regexp.MustCompile(`^/[A-Za-z0-9/._+-]*$`)

// socketFits tells whether a socket in the folder has a name that the system
// takes: 107 bytes on Linux, 103 on the others.
func socketFits(dir string) bool {
	longest := 103
	if runtime.GOOS == "linux" {
		longest = 107
	}
	return len(dir)+1+len(socketName) <= longest && plainPath.MatchString(dir)
}

// socketDir returns a folder for the socket that only the account can enter:
// postgres.socket in the data folder, or a short one elsewhere if that is too
// long for a socket. postgres.socket is then a file that names it, and it is used
// again as long as it is there.
func socketDir(dir string, a account) (string, error) {
	inside := filepath.Join(dir, "postgres.socket")
	if socketFits(inside) {
		if info, err := os.Lstat(inside); err == nil && info.Mode().IsRegular() { // the folder was moved
			if err := os.Remove(inside); err != nil {
				return "", err
			}
		}
		return inside, makePrivate(inside, a)
	}
	if text, err := os.ReadFile(inside); err == nil {
		noted := strings.TrimSpace(string(text))
		if socketFits(noted) && makePrivate(noted, a) == nil {
			return noted, nil
		}
	}
	parents := []string{"/tmp"}
	if run := os.Getenv("XDG_RUNTIME_DIR"); run != "" && !a.drop {
		parents = []string{run, "/tmp"}
	}
	var problem error
	for _, parent := range parents {
		outside, err := os.MkdirTemp(parent, "brae-")
		if err != nil {
			problem = err
			continue
		}
		if !socketFits(outside) {
			problem = fmt.Errorf("%s is too long for a socket", outside)
			os.Remove(outside)
			continue
		}
		if err := a.own(outside); err != nil {
			return "", err
		}
		if info, err := os.Lstat(inside); err == nil && info.IsDir() { // the folder was moved
			if err := os.RemoveAll(inside); err != nil {
				return "", err
			}
		}
		return outside, os.WriteFile(inside, []byte(outside+"\n"), 0o600)
	}
	return "", fmt.Errorf("no folder for the database's socket: %w", problem)
}

// makePrivate makes a folder that only the account can enter, or makes sure that
// an existing one is such a folder and no other's.
func makePrivate(dir string, a account) error {
	err := os.Mkdir(dir, 0o700)
	if err == nil {
		return a.own(dir)
	}
	if !errors.Is(err, fs.ErrExist) {
		return err
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return err
	}
	owner, err := ownerOf(dir)
	if err != nil {
		return err
	}
	if !info.IsDir() || owner != a.uid {
		return fmt.Errorf("%s is to be a folder of the account %s, and is not: move it away", dir, a.name)
	}
	return os.Chmod(dir, 0o700)
}

// writeAccess writes who may connect: over the socket, as either role, root and
// the account of the server.
func (c *Cluster) writeAccess() error {
	const made = "# Written by Brae at each start.\n"
	hba := made + "local all all peer map=brae\n"
	ident := made
	names := []string{c.account.name}
	if c.account.uid != 0 {
		names = append(names, accountName(0))
	}
	for _, name := range names {
		for _, r := range []string{role, adminRole} {
			ident += fmt.Sprintf("brae %s %s\n", quote(name), r)
		}
	}
	for path, text := range map[string]string{c.hbaPath(): hba, c.identPath(): ident} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			return err
		}
		if err := os.Chmod(path, 0o644); err != nil { // whatever the umask: the server reads it
			return err
		}
	}
	return nil
}

// quote writes a name so that the server takes all of it literally.
func quote(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

func (c *Cluster) hbaPath() string   { return filepath.Join(c.dir, "postgres.hba") }
func (c *Cluster) identPath() string { return filepath.Join(c.dir, "postgres.ident") }
func (c *Cluster) logPath() string   { return filepath.Join(c.dir, "postgres.log") }

// removeAll is os.RemoveAll for a folder that a dying program may still write to:
// the children of a killed initdb end a moment after it.
func removeAll(dir string) error {
	err := os.RemoveAll(dir)
	for i := 0; err != nil && i < 50; i++ {
		time.Sleep(100 * time.Millisecond)
		err = os.RemoveAll(dir)
	}
	return err
}
