package storetest

import (
	"context"
	"crypto/rand"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"brae/store/localpg"
)

// localDir is the folder of the shared private server. Under root it is not in
// the home folder, which the server's account may not enter.
func localDir() string {
	if dir := os.Getenv("BRAE_TEST_DIR"); dir != "" {
		return dir
	}
	if os.Geteuid() == 0 {
		return "/var/cache/brae-test"
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		return filepath.Join(os.TempDir(), fmt.Sprintf("brae-test-%d", os.Getuid()))
	}
	return filepath.Join(cache, "brae-test")
}

// localSettings make the server fast and forgetful: what it holds can be made
// again at any time.
var localSettings = map[string]string{
	"fsync":              "off",
	"full_page_writes":   "off",
	"synchronous_commit": "off",
	"max_connections":    "400",
	"max_wal_size":       "4GB",
}

// startLocal returns the private server that all test programs of this account
// share. It outlives them: the next `go test` finds it with its template. A small
// script stops it when no test program has lived for a while.
func startLocal(ctx context.Context, dir string, i idle) (*Server, error) {
	if err := os.MkdirAll(dir, 0o711); err != nil {
		return nil, err
	}
	if err := os.Chmod(dir, 0o711); err != nil { // whatever the umask: the server is not root
		return nil, err
	}
	dir, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return nil, err
	}
	unlock, err := lockFile(filepath.Join(dir, "storetest.lock"))
	if err != nil {
		return nil, err
	}
	defer unlock()
	if err := announce(dir); err != nil {
		return nil, err
	}
	if err := discardAfterReboot(dir); err != nil {
		return nil, err
	}
	cluster, err := start(ctx, dir)
	if errors.Is(err, localpg.ErrNoPrograms) {
		return nil, fmt.Errorf("%w: %w", errNoServer, err)
	}
	if err != nil {
		return nil, fmt.Errorf("%w (the folder %s holds nothing but tests' data and may be removed)", err, dir)
	}
	s := &Server{Kind: Local, AdminURL: cluster.AdminURL("postgres"), role: "brae", url: cluster.URL("postgres")}
	cluster.Leave()
	return s, i.watch(dir)
}

func start(ctx context.Context, dir string) (*localpg.Cluster, error) {
	config := localpg.Config{Dir: dir, Log: slog.New(slog.DiscardHandler), Settings: localSettings}
	cluster, err := localpg.Start(ctx, config)
	if _, ok := errors.AsType[*localpg.VersionError](err); !ok {
		return cluster, err
	}
	// The machine has a newer PostgreSQL now.
	if err := os.RemoveAll(filepath.Join(dir, "postgres")); err != nil {
		return nil, err
	}
	return localpg.Start(ctx, config)
}

// discardAfterReboot removes a cluster that was in use when the machine went
// down: without fsync its files may be anything.
func discardAfterReboot(dir string) error {
	boot, err := os.ReadFile("/proc/sys/kernel/random/boot_id")
	if err != nil {
		boot, err = exec.Command("sysctl", "-n", "kern.boottime").Output() // not Linux
	}
	if err != nil {
		return fmt.Errorf("when this machine was started: %w", err)
	}
	note := filepath.Join(dir, "boot")
	before, err := os.ReadFile(note)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if string(before) == string(boot) {
		return nil
	}
	if err := os.RemoveAll(filepath.Join(dir, "postgres")); err != nil {
		return err
	}
	return os.WriteFile(note, boot, 0o600)
}

// announce notes this process as a user of the server. If the script is about to
// stop the server, it waits until that is done: the one that writes its note
// first is seen by the other.
func announce(dir string) error {
	users := filepath.Join(dir, "users")
	if err := os.MkdirAll(users, 0o700); err != nil {
		return err
	}
	// The name is new each time: the script removes the notes of ended processes,
	// and must not remove that of one with the same number.
	note := filepath.Join(users, strconv.Itoa(os.Getpid())+"."+strings.ToLower(rand.Text()))
	if err := os.WriteFile(note, nil, 0o600); err != nil {
		return err
	}
	stopping := filepath.Join(dir, "stopping")
	for patience := time.Now().Add(30 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if _, err := os.Stat(stopping); errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		free, err := tryLock(filepath.Join(dir, "idle.lock"))
		if err != nil {
			return err
		}
		if free != nil { // the script was killed
			defer free.Close()
			return os.Remove(stopping)
		}
		if time.Now().After(patience) {
			return fmt.Errorf("the tests' server in %s has been stopping for too long", dir)
		}
	}
}

// tryLock takes a lock if nobody has it; nil means that somebody has.
func tryLock(path string) (*os.File, error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		return nil, err
	}
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if err == nil {
		return f, nil
	}
	f.Close()
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return nil, nil
	}
	return nil, err
}

// idle says when an unused server is stopped: after so many looks in a row that
// found no test program alive.
type idle struct {
	every time.Duration
	looks int
}

var defaultIdle = idle{every: 30 * time.Second, looks: 20}

//go:embed idle.sh
var idleScript string

// watch starts the script that stops the server, unless it runs. The script holds
// idle.lock as long as it lives.
func (i idle) watch(dir string) error {
	lock, err := tryLock(filepath.Join(dir, "idle.lock"))
	if err != nil || lock == nil {
		return err
	}
	defer lock.Close()
	cmd := exec.Command("/bin/sh", "-c", idleScript, "idle", dir,
		strconv.FormatFloat(i.every.Seconds(), 'f', -1, 64), strconv.Itoa(i.looks))
	cmd.Dir = "/"
	cmd.ExtraFiles = []*os.File{lock}
	// Its output goes nowhere: `go test` waits for all that hold its own.
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true}
	if err := cmd.Start(); err != nil {
		return err
	}
	return cmd.Process.Release()
}
