package localpg

import (
	"errors"
	"fmt"
	"strings"
)

// ErrNoPrograms means that no PostgreSQL server is installed on this machine. Its
// text is for the person who starts Brae.
var ErrNoPrograms = errors.New(`no PostgreSQL server programs were found. There are three ways out:
  1. install PostgreSQL on this machine (on Debian or Ubuntu: apt-get install postgresql;
     on Fedora: dnf install postgresql-server; on macOS: brew install postgresql); Brae
     then starts a private server by itself
  2. set DATABASE_URL to a PostgreSQL database that you already have
  3. run Brae and its database in containers: docker compose up`)

// InUseError means that another Brae works with the data folder.
type InUseError struct {
	Dir string
	PID int // of the other one; 0 if it has not said
}

func (e *InUseError) Error() string {
	who := "another Brae"
	if e.PID != 0 {
		who = fmt.Sprintf("another Brae (process %d)", e.PID)
	}
	return fmt.Sprintf("%s is using the data folder %s: stop that one, or give this one a folder of its own", who, e.Dir)
}

// VersionError means that the data were made by a PostgreSQL whose programs are
// not on this machine. One major version cannot read the files of another.
type VersionError struct {
	Data      string     // the folder of the database files
	Major     int        // which PostgreSQL they belong to
	Installed []Programs // what was found instead
}

func (e *VersionError) Error() string {
	found := "none was found"
	if len(e.Installed) > 0 {
		var all []string
		for _, p := range e.Installed {
			all = append(all, fmt.Sprintf("%s in %s", p.Version, p.Dir))
		}
		found = "found only " + strings.Join(all, ", ")
	}
	return fmt.Sprintf("the data in %s belong to PostgreSQL %d, but %s. Install PostgreSQL %d, "+
		"or move the data with pg_upgrade; nothing has been changed", e.Data, e.Major, found, e.Major)
}
