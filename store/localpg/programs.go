package localpg

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// oldestMajor is the oldest PostgreSQL whose server is started for a new data
// folder. The schema is tested from 15 on.
const oldestMajor = 15

// Programs is an installation of the PostgreSQL server.
type Programs struct {
	Dir     string // the folder of initdb and postgres
	Version string // "15.18"
	Major   int
}

func (p Programs) initdb() string   { return filepath.Join(p.Dir, "initdb") }
func (p Programs) postgres() string { return filepath.Join(p.Dir, "postgres") }

// usualDirs are where distributions put the server's programs, most of them in a
// folder of its own for each major version.
var usualDirs = []string{
	"/usr/lib/postgresql/*/bin",          // Debian, Ubuntu
	"/usr/pgsql-*/bin",                   // the packages of postgresql.org for Red Hat and its kin
	"/usr/lib/postgresql*/bin",           // SUSE, Gentoo
	"/usr/lib64/postgresql*/bin",         // Gentoo
	"/usr/libexec/postgresql*",           // Alpine
	"/opt/homebrew/opt/postgresql@*/bin", // Homebrew on Apple silicon
	"/opt/homebrew/bin",                  //
	"/usr/local/opt/postgresql@*/bin",    // Homebrew on Intel
	"/home/linuxbrew/.linuxbrew/opt/postgresql@*/bin",
	"/opt/local/lib/postgresql*/bin", // MacPorts
	"/Library/PostgreSQL/*/bin",      // the installer for macOS
	"/usr/local/pgsql/bin",           // built from source
	"/usr/bin",
	"/usr/local/bin",
}

// find returns the programs to run the data folder with: those of its major
// version, or of any that is new enough if major is 0. It looks in the folders of
// PATH, asks pg_config, and then looks where distributions put them, newest
// first. If binDir is set it looks there only.
func find(ctx context.Context, binDir, data string, major int) (Programs, error) {
	dirs := []string{binDir}
	if binDir == "" {
		dirs = candidates(ctx, os.Getenv("PATH"), usualDirs)
	}
	return choose(ctx, dirs, data, major)
}

// choose returns the first programs in the folders that will do.
func choose(ctx context.Context, dirs []string, data string, major int) (Programs, error) {
	var unfit []Programs
	var seen []string
	var broken error
	for _, dir := range dirs {
		if real, err := filepath.EvalSymlinks(filepath.Join(dir, "initdb")); err == nil && hasServer(filepath.Dir(real)) {
			dir = filepath.Dir(real)
		}
		if !hasServer(dir) || slices.Contains(seen, dir) {
			continue
		}
		seen = append(seen, dir)
		p, err := inspect(ctx, dir)
		switch {
		case err != nil:
			broken = cmp.Or(broken, err)
		case p.Major == major, major == 0 && p.Major >= oldestMajor:
			return p, nil
		default:
			unfit = append(unfit, p)
		}
	}
	switch {
	case broken != nil:
		return Programs{}, broken
	case major != 0:
		return Programs{}, &VersionError{Data: data, Major: major, Installed: unfit}
	case len(unfit) > 0:
		return Programs{}, fmt.Errorf("PostgreSQL %s in %s is too old: Brae needs %d or later",
			unfit[0].Version, unfit[0].Dir, oldestMajor)
	}
	return Programs{}, ErrNoPrograms
}

// candidates lists the folders to look in, in order.
func candidates(ctx context.Context, path string, usual []string) []string {
	dirs := filepath.SplitList(path)
	if out, err := exec.CommandContext(ctx, "pg_config", "--bindir").Output(); err == nil {
		dirs = append(dirs, strings.TrimSpace(string(out)))
	}
	for _, pattern := range usual {
		found, _ := filepath.Glob(pattern) // fails on a malformed pattern only
		slices.SortStableFunc(found, func(a, b string) int { return cmp.Compare(numberIn(b), numberIn(a)) })
		dirs = append(dirs, found...)
	}
	return slices.DeleteFunc(dirs, func(dir string) bool { return !filepath.IsAbs(dir) })
}

var digits = regexp.MustCompile(`\d+`)

// numberIn returns the last whole number in a folder's name, 0 if there is none.
func numberIn(dir string) int {
	all := digits.FindAllString(dir, -1)
	if len(all) == 0 {
		return 0
	}
	n, _ := strconv.Atoi(all[len(all)-1])
	return n
}

var versionLine = regexp.MustCompile(`\(PostgreSQL\) ((\d+)[^\s]*)`)

// inspect asks the programs in dir for their version. Two different ones are an
// installation half replaced, which must not touch data.
func inspect(ctx context.Context, dir string) (Programs, error) {
	p := Programs{Dir: dir}
	for _, name := range []string{"initdb", "postgres"} {
		cmd := exec.CommandContext(ctx, filepath.Join(dir, name), "--version")
		cmd.Env = environ("")
		out, err := cmd.Output()
		if err != nil {
			return Programs{}, fmt.Errorf("%s --version: %w", filepath.Join(dir, name), err)
		}
		match := versionLine.FindSubmatch(out)
		if match == nil {
			return Programs{}, fmt.Errorf("%s --version: not understood: %q", filepath.Join(dir, name), out)
		}
		version := string(match[1])
		if p.Version != "" && p.Version != version {
			return Programs{}, fmt.Errorf("in %s initdb is of version %s but postgres of %s: install PostgreSQL again",
				dir, p.Version, version)
		}
		p.Version = version
		p.Major, err = strconv.Atoi(string(match[2]))
		if err != nil {
			return Programs{}, fmt.Errorf("%s --version: %w", filepath.Join(dir, name), err)
		}
	}
	return p, nil
}

func hasServer(dir string) bool {
	return exists(filepath.Join(dir, "initdb")) && exists(filepath.Join(dir, "postgres"))
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}
