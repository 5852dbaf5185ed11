package storetest

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/testcontainers/testcontainers-go"
	"github.com/testcontainers/testcontainers-go/log"
	"github.com/testcontainers/testcontainers-go/modules/postgres"
)

// startContainer returns the server in a container that all test programs of one
// `go test` share. The reaper of testcontainers-go removes it after the run. Where
// that is disabled there is one container for all runs, which stays until it is
// removed by hand.
func startContainer(ctx context.Context) (*Server, error) {
	image := os.Getenv("BRAE_TEST_PG_IMAGE")
	if image == "" {
		image = "postgres:17"
	}
	if !testing.Verbose() {
		log.SetDefault(log.NewNoopLogger())
	}
	if err := haveImage(ctx, image); err != nil {
		return nil, fmt.Errorf("%w: %w", errNoServer, err)
	}
	session := testcontainers.SessionID()
	if os.Getenv("TESTCONTAINERS_RYUK_DISABLED") == "true" {
		session = ""
	}
	name := fmt.Sprintf("brae-test-%x", sha256.Sum256([]byte(image+" "+session)))[:24]

	// Several test programs start at once; one makes the container.
	unlock, err := lockFile(filepath.Join(os.TempDir(), fmt.Sprintf("%s-%d.lock", name, os.Getuid())))
	if err != nil {
		return nil, err
	}
	defer unlock()
	container, err := postgres.Run(ctx, image,
		testcontainers.WithReuseByName(name),
		postgres.WithUsername("postgres"),
		postgres.WithPassword("postgres"),
		postgres.WithDatabase("postgres"),
		// The same as for the private server: it holds nothing that must survive.
		testcontainers.WithCmd("postgres", "-c", "fsync=off", "-c", "full_page_writes=off",
			"-c", "synchronous_commit=off", "-c", "max_connections=400", "-c", "timezone=UTC"),
		postgres.BasicWaitStrategies())
	if err != nil {
		return nil, fmt.Errorf("%w: a container of %s: %w", errNoServer, image, err)
	}
	admin, err := container.ConnectionString(ctx, "sslmode=disable")
	if err != nil {
		return nil, err
	}
	s := &Server{Kind: Container, AdminURL: admin, Container: container.GetContainerID()}
	return s, s.makeRole(ctx)
}

// makeRole makes the role that the tests' databases belong to, so that tests have
// no more rights than Brae has on its private server.
func (s *Server) makeRole(ctx context.Context) error {
	u, err := url.Parse(s.AdminURL)
	if err != nil {
		return err
	}
	s.role = "brae"
	u.User = url.UserPassword(s.role, "brae")
	s.url = u.String()
	var there bool
	if err := s.query(ctx, `SELECT EXISTS (SELECT FROM pg_roles WHERE rolname = 'brae')`, &there); err != nil || there {
		return err
	}
	return s.admin(ctx, `CREATE ROLE brae LOGIN PASSWORD 'brae'`)
}

// haveImage fails unless a Docker daemon answers and has the image.
func haveImage(ctx context.Context, image string) error {
	docker, err := testcontainers.NewDockerClientWithOpts(ctx)
	if err != nil {
		return fmt.Errorf("no Docker daemon answers: %w", err)
	}
	defer docker.Close()
	if _, err := docker.ImageInspect(ctx, image); err != nil {
		return fmt.Errorf("the Docker daemon has no image %s: %w", image, err)
	}
	return nil
}

// lockFile takes a lock that ends with unlock, at the latest with the process.
func lockFile(path string) (unlock func(), err error) {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		return nil, err
	}
	for {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX)
		if !errors.Is(err, syscall.EINTR) {
			break
		}
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return func() {
		// Not by closing alone: a child just forked has a copy still.
		_ = syscall.Flock(int(f.Fd()), syscall.LOCK_UN)
		f.Close()
	}, nil
}
