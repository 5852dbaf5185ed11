package localpg

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
)

// commandLine returns the arguments that a process was started with, its program
// first; nil if there is no such process, or only what is left of one.
func commandLine(pid int) []string {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/cmdline", pid))
	if err == nil {
		if len(text) == 0 {
			return nil // ended, but its parent has not asked how
		}
		return strings.Split(strings.TrimSuffix(string(text), "\x00"), "\x00")
	}
	if _, err := os.Stat("/proc/self/cmdline"); !errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	// Not Linux. Spaces within an argument cannot be told from those between:
	// a server in such a folder is taken for another's.
	out, err := exec.Command("ps", "-ww", "-o", "command=", "-p", strconv.Itoa(pid)).Output()
	if err != nil {
		return nil
	}
	return strings.Fields(string(out))
}

// alive tells whether the process runs.
func alive(pid int) bool {
	if errors.Is(syscall.Kill(pid, 0), syscall.ESRCH) {
		return false
	}
	return runtime.GOOS != "linux" || commandLine(pid) != nil // not just what is left of one
}

// servesData tells whether the command line is that of a PostgreSQL server on the
// folder.
func servesData(args []string, data string) bool {
	if len(args) == 0 || !slices.Contains([]string{"postgres", "postmaster"}, filepath.Base(args[0])) {
		return false
	}
	for i, arg := range args {
		dir, ok := strings.CutPrefix(arg, "-D")
		if !ok {
			continue
		}
		if dir == "" && i+1 < len(args) {
			dir = args[i+1]
		}
		if real, err := filepath.EvalSymlinks(dir); err == nil {
			dir = real
		}
		return dir == data
	}
	return true // told by PGDATA, perhaps ours: rather refuse than disturb it
}

func sortedKeys(m map[string]string) []string { return slices.Sorted(maps.Keys(m)) }
