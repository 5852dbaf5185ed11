// Package localpg keeps a private PostgreSQL server for one Brae from programs
// that are installed on the machine, so that nobody has to set up a database.
//
// Everything is in Brae's data folder:
//
//	postgres/        the database files, made by initdb, never deleted here
//	postgres.lock    held by the Brae that uses the folder
//	postgres.log     what the server says; no statement's values are in it
//	postgres.hba     who may connect, written at each start
//	postgres.ident   which account of the machine may be which role
//	postgres.socket  the folder of the server's socket, or a file that names it
//
// # Who can reach the server
//
// It listens on no network address, only on a Unix socket in a folder with mode
// 0700 that belongs to the server's account. Within that folder it asks for peer
// authentication: the kernel tells the server who has connected, and only root
// and the server's own account are let in. There is no password to keep, to log
// or to lose, and neither check alone has to hold. Trust would hang on the
// folder's mode only; a password would be a secret on the disk beside the data
// that it protects.
//
// Brae connects as the role brae, which owns its database and nothing else. The
// administrator's role, postgres, is for backups and for creating the database.
//
// # Which account the server runs as
//
// The one that owns the data, which is Brae's own. PostgreSQL refuses to run as
// root, so under root it is the account postgres where that exists, else nobody;
// every folder above the data must then be passable for it.
//
// # How long it runs
//
// The server stops with [Cluster.Stop]. It runs in a session of its own, so that
// an interrupt on the terminal reaches Brae alone, which stops it in order. When
// Brae is killed it keeps running, and the next Brae finds it again. When it is
// killed itself it is started again and recovers what had been committed. A
// service manager should signal Brae only, not its whole group.
package localpg

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
)

// Config is what Start needs. Dir must be set; the rest has defaults.
type Config struct {
	Dir     string       // Brae's data folder; made if it is missing
	Log     *slog.Logger // slog.Default() if nil
	BinDir  string       // where initdb and postgres are; searched for if empty
	Account string       // the server's account where Brae runs as root and there is no data yet

	// Settings of the server beside its defaults, by name. With fsync=off the
	// cluster is one to throw away and initdb does not wait for the disk either.
	Settings map[string]string
}

// The roles in the cluster.
const (
	role      = "brae"
	adminRole = "postgres"
)

// port only names the socket: nothing listens on the network.
const port = "5432"

// Cluster is a running private server. It is safe for concurrent use.
type Cluster struct {
	log      *slog.Logger
	programs Programs
	account  account
	dir      string // the data folder, absolute, without symbolic links
	data     string // the database files in it
	socket   string // the folder of the socket
	settings map[string]string

	lock  *os.File
	ctx   context.Context // of the watch: ends when Stop or Leave is called
	end   context.CancelFunc
	leave bool // the server is to stay; written before end is called

	endOnce  sync.Once
	patience context.Context // ends when Stop can wait no longer
	hurry    context.CancelFunc
	done     chan struct{} // closed when the watch has ended
	err      error         // how the stop went; read after done
}

// Start finds the private server of the data folder, or starts it, or makes it,
// and waits until it answers. It then watches the server until Stop or Leave,
// and starts it again whenever it is gone. The context bounds the start only; a
// recovery after a crash may take minutes, so it should be generous.
//
// Errors that callers can tell apart: [ErrNoPrograms], [*InUseError] and
// [*VersionError]. None of them, nor any other, has changed existing data.
func Start(ctx context.Context, config Config) (*Cluster, error) {
	c := &Cluster{
		log:      config.Log,
		settings: config.Settings,
		done:     make(chan struct{}),
	}
	c.ctx, c.end = context.WithCancel(context.Background())
	c.patience, c.hurry = context.WithCancel(context.Background())
	if c.log == nil {
		c.log = slog.Default()
	}
	if config.Dir == "" {
		return nil, errors.New("local database: no data folder was given")
	}
	if err := c.open(ctx, config); err != nil {
		return nil, fmt.Errorf("local database: %w", err)
	}
	s, err := c.up(ctx)
	if err != nil {
		unlockDir(c.lock)
		return nil, fmt.Errorf("local database: %w", err)
	}
	if err := c.make(ctx, `SELECT EXISTS (SELECT FROM pg_roles WHERE rolname = $1)`, role, `CREATE ROLE `+role+` LOGIN`); err != nil {
		c.giveUp(s)
		unlockDir(c.lock)
		return nil, fmt.Errorf("local database: %w", err)
	}
	go c.watch(s)
	return c, nil
}

// open takes the folder and prepares everything but the server.
func (c *Cluster) open(ctx context.Context, config Config) (err error) {
	c.dir, err = makeDir(config.Dir)
	if err != nil {
		return err
	}
	c.data = filepath.Join(c.dir, "postgres")
	if real, err := filepath.EvalSymlinks(c.data); err == nil {
		c.data = real // on another disk
	}
	c.lock, err = lockDir(c.dir)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			unlockDir(c.lock)
		}
	}()
	major, err := dataMajor(c.data)
	if err != nil {
		return err
	}
	c.programs, err = find(ctx, config.BinDir, c.data, major)
	if err != nil {
		return err
	}
	owned := c.data
	if major == 0 {
		owned = ""
	}
	c.account, err = serverAccount(owned, config.Account)
	if err != nil {
		return err
	}
	if err := c.checkPassable(ctx); err != nil {
		return err
	}
	if major == 0 {
		if err := c.init(ctx); err != nil {
			return err
		}
	}
	c.socket, err = socketDir(c.dir, c.account)
	if err != nil {
		return err
	}
	return c.writeAccess()
}

// Database makes a database that belongs to Brae's role, unless it is there, and
// returns its URL.
func (c *Cluster) Database(ctx context.Context, name string) (string, error) {
	err := c.make(ctx, `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`, name,
		`CREATE DATABASE `+pgx.Identifier{name}.Sanitize()+` OWNER `+role)
	if err != nil {
		return "", fmt.Errorf("local database: make %s: %w", name, err)
	}
	return c.URL(name), nil
}

// URL returns the connection string of a database of the cluster for the role
// that Brae uses. It stays good when the server is started again.
func (c *Cluster) URL(database string) string { return c.url(role, database) }

// AdminURL is URL for the administrator's role, which may do anything in the
// cluster. Backups and tests need it; pages do not.
func (c *Cluster) AdminURL(database string) string { return c.url(adminRole, database) }

// Programs tells which PostgreSQL programs run the cluster.
func (c *Cluster) Programs() Programs { return c.programs }

func (c *Cluster) url(role, database string) string {
	query := url.Values{"host": {c.socket}, "port": {port}, "user": {role}, "sslmode": {"disable"}}
	return (&url.URL{Scheme: "postgres", Path: "/" + database, RawQuery: query.Encode()}).String()
}

// Stop stops the server: it ends the connections that are open, so those who use
// them should be done. If ctx ends first the server is told to drop everything,
// which loses nothing that was committed. Stop frees the data folder.
func (c *Cluster) Stop(ctx context.Context) error {
	c.endOnce.Do(c.end)
	select {
	case <-c.done:
	case <-ctx.Done():
		c.hurry()
		<-c.done
	}
	return c.err
}

// Leave frees the data folder and leaves the server running, unwatched. The next
// Start finds it.
func (c *Cluster) Leave() {
	c.endOnce.Do(func() {
		c.leave = true
		c.end()
	})
	<-c.done
}

// watch starts the server again whenever it is gone, until the end of c.ctx.
func (c *Cluster) watch(s *server) {
	defer close(c.done)
	defer unlockDir(c.lock) // only then: in a free folder nothing of ours is under way
	trim := time.NewTicker(time.Hour)
	defer trim.Stop()
	for {
		select {
		case <-c.ctx.Done():
			if !c.leave {
				c.err = c.shutDown(c.patience, s)
			}
			return
		case <-trim.C:
			if err := c.trimLog(); err != nil {
				c.log.Error("the log of the local database cannot be put aside", "err", err)
			}
			continue
		case <-s.gone:
		}
		c.log.Error("the local database has stopped; starting it again", "pid", s.pid, "log", c.logPath())
		s = c.revive()
		if s == nil {
			return // stopped while it was down
		}
		c.log.Info("the local database is back", "pid", s.pid)
	}
}

// The watch waits longer after each start that failed. The longest wait keeps a
// server that had no disk space from staying down once there is some.
const (
	firstWait   = 100 * time.Millisecond
	longestWait = 5 * time.Second
)

// revive starts the server until it answers. It returns nil if c.ctx ends first.
func (c *Cluster) revive() *server {
	for wait := firstWait; ; wait = min(2*wait, longestWait) {
		s, err := c.up(c.ctx)
		if err == nil {
			return s
		}
		if c.ctx.Err() != nil {
			return nil
		}
		c.log.Error("the local database does not start", "err", err, "next_try_in", wait)
		select {
		case <-c.ctx.Done():
			return nil
		case <-time.After(wait):
		}
	}
}
