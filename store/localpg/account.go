package localpg

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
)

// account is who the server runs as.
type account struct {
	name     string
	uid, gid int
	drop     bool // Brae is root: the server's processes must become the account
}

// unprivileged are the accounts that a server of root runs as, best first. The
// first is made by PostgreSQL's packages, the second is everywhere.
var unprivileged = []string{"postgres", "nobody"}

// serverAccount chooses the account of the server: the owner of the data, unless
// data is empty because there are none. wanted is for a new folder under root.
func serverAccount(data, wanted string) (account, error) {
	owner := -1
	if data != "" {
		var err error
		if owner, err = ownerOf(data); err != nil {
			return account{}, err
		}
	}
	euid := os.Geteuid()
	if euid != 0 {
		if owner != -1 && owner != euid {
			return account{}, fmt.Errorf("%s belongs to the account %s, and this Brae runs as %s: start it as %s, or as root",
				data, accountName(owner), accountName(euid), accountName(owner))
		}
		return account{name: accountName(euid), uid: euid, gid: os.Getegid()}, nil
	}
	if owner == 0 {
		return account{}, fmt.Errorf("%s belongs to root, as whom PostgreSQL does not run: give it to the account of the server (chown -R postgres %s)", data, data)
	}
	if owner > 0 {
		u, err := user.LookupId(strconv.Itoa(owner))
		if err != nil {
			return account{}, fmt.Errorf("%s belongs to an account that this machine does not know: %w", data, err)
		}
		return dropTo(u)
	}
	names := unprivileged
	if wanted != "" {
		names = []string{wanted}
	}
	for _, name := range names {
		if u, err := user.Lookup(name); err == nil {
			return dropTo(u)
		}
	}
	return account{}, fmt.Errorf("root may not run PostgreSQL, and there is no account %s to run it as instead", strings.Join(names, " or "))
}

func dropTo(u *user.User) (account, error) {
	uid, err := strconv.Atoi(u.Uid)
	if err != nil {
		return account{}, err
	}
	gid, err := strconv.Atoi(u.Gid)
	if err != nil {
		return account{}, err
	}
	if uid == 0 {
		return account{}, fmt.Errorf("the account %s is root, as whom PostgreSQL does not run", u.Username)
	}
	return account{name: u.Username, uid: uid, gid: gid, drop: true}, nil
}

func accountName(uid int) string {
	if u, err := user.LookupId(strconv.Itoa(uid)); err == nil {
		return u.Username
	}
	return strconv.Itoa(uid)
}

func ownerOf(path string) (int, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return 0, err
	}
	stat, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0, fmt.Errorf("%s: the owner cannot be told on this system", path)
	}
	return int(stat.Uid), nil
}

// own gives a file that Brae has made to the account.
func (a account) own(path string) error {
	if !a.drop {
		return nil
	}
	return os.Lchown(path, a.uid, a.gid)
}

// command prepares a program to run as the account, in a session of its own: what
// is typed on Brae's terminal does not reach it.
func (a account) command(ctx context.Context, program string, args ...string) *exec.Cmd {
	cmd := exec.CommandContext(ctx, program, args...)
	cmd.Dir = "/"
	cmd.Env = environ(a.name)
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true}
	if a.drop {
		cmd.SysProcAttr.Credential = &syscall.Credential{Uid: uint32(a.uid), Gid: uint32(a.gid)}
	}
	return cmd
}

// environ is all that PostgreSQL's programs get to see of Brae's environment:
// neither its secrets nor the PG variables that would change what they do.
func environ(account string) []string {
	env := []string{"LC_ALL=C", "HOME=/", "USER=" + account, "LOGNAME=" + account}
	for _, name := range []string{"PATH", "LD_LIBRARY_PATH", "DYLD_LIBRARY_PATH", "TZDIR", "LOCPATH", "ICU_DATA"} {
		if value, ok := os.LookupEnv(name); ok {
			env = append(env, name+"="+value)
		}
	}
	return env
}

// checkPassable fails if the account cannot reach the programs or the folder. It
// tries instead of reading modes, which are not all there is to it.
func (c *Cluster) checkPassable(ctx context.Context) error {
	if !c.account.drop {
		return nil
	}
	try := func(dir string) error {
		cmd := c.account.command(ctx, c.programs.postgres(), "--version")
		cmd.Dir = dir
		return cmd.Run()
	}
	if err := try("/"); err != nil {
		return fmt.Errorf("the account %s, which is to run PostgreSQL since Brae runs as root, cannot run %s: %w",
			c.account.name, c.programs.postgres(), err)
	}
	if try(c.dir) == nil {
		return nil
	}
	closed := c.dir
	for dir := filepath.Dir(c.dir); dir != "/" && try(dir) != nil; dir = filepath.Dir(dir) {
		closed = dir
	}
	return fmt.Errorf("since Brae runs as root, PostgreSQL runs as the account %s, which cannot pass through the folder %s: "+
		"start Brae with a data folder elsewhere (such as /var/lib/brae), or as an account that is not root, "+
		"or let others pass through that folder (chmod o+x %s)", c.account.name, closed, closed)
}
