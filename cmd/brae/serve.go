package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"time"

	"brae/migrations"
	"brae/store"
	"brae/store/localpg"
	"brae/web"
	"brae/web/post"
)

// database says where the data are.
type database struct {
	URL  string `name:"database-url" env:"DATABASE_URL" placeholder:"URL" help:"PostgreSQL to use. Without it Brae runs a private one in the data folder."`
	Data string `name:"data" env:"BRAE_DATA" default:"${data}" help:"Folder of the private PostgreSQL."`
}

// open starts the private PostgreSQL if no other is named, migrates, and opens
// the store. The returned function closes what was opened.
func (d database) open(ctx context.Context, name string, now func() time.Time, log *slog.Logger) (*store.Store, func(), error) {
	databaseURL, stop := d.URL, func() {}
	if databaseURL == "" {
		cluster, err := localpg.Start(ctx, localpg.Config{Dir: d.Data, Log: log})
		if err != nil {
			return nil, nil, err
		}
		stop = func() {
			ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
			defer cancel()
			if err := cluster.Stop(ctx); err != nil {
				log.Error("the private PostgreSQL did not stop", "error", err)
			}
		}
		if databaseURL, err = cluster.Database(ctx, name); err != nil {
			stop()
			return nil, nil, err
		}
	}
	if err := migrations.Up(ctx, databaseURL, log); err != nil {
		stop()
		return nil, nil, err
	}
	s, err := store.Open(ctx, store.Config{URL: databaseURL, Now: now, Log: log})
	if err != nil {
		stop()
		return nil, nil, err
	}
	return s, func() { s.Close(); stop() }, nil
}

// listener says where to serve.
type listener struct {
	Listen         string   `env:"BRAE_LISTEN" default:"localhost:8080" help:"Address to listen on."`
	Origin         *url.URL `name:"url" env:"BRAE_URL" placeholder:"URL" help:"The address people type, such as https://brae.example. Needed behind a proxy that ends TLS."`
	TrustedProxies []string `env:"BRAE_TRUSTED_PROXIES" placeholder:"CIDR" help:"Address ranges of the proxies in front, whose X-Forwarded-For is believed."`
	SMTP           smtp     `embed:"" prefix:"smtp-"`
	AllowHTTP      bool     `name:"allow-http" env:"BRAE_ALLOW_HTTP" help:"Serve other machines without TLS. Sign-ins and health data then travel readable."`
}

// smtp says how mail is sent. Without an address none is.
type smtp struct {
	Address  string `env:"BRAE_SMTP_ADDRESS" placeholder:"HOST:PORT" help:"Mail server for reminders. It must speak TLS unless it runs on this machine. Without it no mail is sent."`
	From     string `env:"BRAE_SMTP_FROM" placeholder:"ADDRESS" help:"Sender of the mails."`
	User     string `env:"BRAE_SMTP_USER" help:"Sign-in name at the mail server, if it asks for one."`
	Password string `env:"BRAE_SMTP_PASSWORD" help:"Password at the mail server. Give it as an environment variable."`
}

// mailer returns nil if no mail server is named.
func (s smtp) mailer() (*post.Mailer, error) {
	if s.Address == "" {
		return nil, nil
	}
	return post.New(post.Config{Address: s.Address, From: s.From, User: s.User, Password: s.Password})
}

// origin returns the address people type. Without TLS in front, Brae serves only
// this machine: health data must not cross a network readable.
func (l listener) origin(bound net.Addr) (*url.URL, error) {
	origin := l.Origin
	if origin == nil {
		_, port, err := net.SplitHostPort(bound.String())
		if err != nil {
			return nil, err
		}
		origin = &url.URL{Scheme: "http", Host: net.JoinHostPort("localhost", port)}
	}
	address, err := netip.ParseAddrPort(bound.String())
	if err != nil {
		return nil, err
	}
	if origin.Scheme != "https" && !address.Addr().IsLoopback() && !l.AllowHTTP {
		return nil, fmt.Errorf("%s is reachable from other machines, and %s has no TLS: "+
			"put a proxy with TLS in front and set --url to its https address, or set --allow-http if you know what you do", l.Listen, origin)
	}
	return origin, nil
}

// serve serves the app until ctx ends, and then lets the requests under way
// finish. ready is called with the address once it answers.
func (l listener) serve(ctx context.Context, s *store.Store, now func() time.Time, log *slog.Logger, ready func(*url.URL) error) error {
	for _, cidr := range l.TrustedProxies {
		if _, err := netip.ParsePrefix(cidr); err != nil {
			return fmt.Errorf("--trusted-proxies: %q is not an address range such as 10.0.0.0/8", cidr)
		}
	}
	socket, err := net.Listen("tcp", l.Listen)
	if err != nil {
		return fmt.Errorf("listen: %w", err)
	}
	defer socket.Close()
	origin, err := l.origin(socket.Addr())
	if err != nil {
		return err
	}
	mailer, err := l.SMTP.mailer()
	if err != nil {
		return err
	}
	handler, err := web.New(web.Config{Store: s, Log: log, Now: now, Origin: origin, TrustedProxies: l.TrustedProxies, Mailer: mailer})
	if err != nil {
		return err
	}
	server := web.Server(handler, log)
	served := make(chan error, 1)
	go func() { served <- server.Serve(socket) }()
	if err := ready(origin); err != nil {
		return err
	}
	if mailer != nil {
		var reminding sync.WaitGroup
		defer reminding.Wait() // what was claimed is sent before the store is closed
		reminding.Go(func() { post.Reminders{Store: s, Mailer: mailer, Origin: origin, Log: log}.Run(ctx) })
	}
	keepLapsed(ctx, s, log)
	clean := time.NewTicker(time.Hour)
	defer clean.Stop()
	for {
		select {
		case err := <-served:
			return err
		case <-clean.C:
			if err := s.DropExpired(ctx); err != nil {
				log.Warn("clean-up failed", "error", err)
			}
			keepLapsed(ctx, s, log) // a day ends once in 24 hours, wherever the practice is
			continue
		case <-ctx.Done():
		}
		break
	}
	log.Info("stopping: requests under way may finish")
	ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
	defer cancel()
	if err := server.Shutdown(ctx); err != nil {
		return fmt.Errorf("stop: %w", err)
	}
	if err := <-served; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// keepLapsed writes down the holds that lapsed decisions leave behind, for the
// lists. What a client may do is right without it.
func keepLapsed(ctx context.Context, s *store.Store, log *slog.Logger) {
	opened, err := s.KeepLapsedHolds(ctx)
	if err != nil {
		log.Warn("the holds of lapsed decisions were not written down", "error", err)
	}
	if opened > 0 {
		log.Info("doctors' decisions have lapsed", "holds", opened)
	}
}

type serveCommand struct {
	database `embed:""`
	listener `embed:""`
}

func (c serveCommand) Run(ctx context.Context, std streams, log *slog.Logger) error {
	s, done, err := c.open(ctx, "brae", clock, log)
	if err != nil {
		return err
	}
	defer done()
	token, err := s.NewSetUpLink(ctx)
	if err != nil {
		return err
	}
	return c.serve(ctx, s, clock, log, func(origin *url.URL) error {
		fmt.Fprintf(std.out, "Brae answers on %s\n", origin)
		if token != "" {
			fmt.Fprintf(std.out, "Set up the practice within three days, once, on %s\n", origin.JoinPath("set-up", token))
		}
		return nil
	})
}

type migrateCommand struct {
	database `embed:""`
}

func (c migrateCommand) Run(ctx context.Context, log *slog.Logger) error {
	_, done, err := c.open(ctx, "brae", clock, log)
	if err != nil {
		return err
	}
	done()
	return nil
}

type healthCommand struct {
	URL *url.URL `arg:"" default:"http://localhost:8080" help:"Address of the running Brae."`
}

func (c healthCommand) Run(ctx context.Context, std streams) error {
	ctx, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, c.URL.JoinPath("healthz").String(), nil)
	if err != nil {
		return err
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		return err
	}
	defer response.Body.Close()
	if response.StatusCode != http.StatusOK {
		return fmt.Errorf("%s answers %s", c.URL, response.Status)
	}
	fmt.Fprintln(std.out, "ok")
	return nil
}

// dataFolder is where the private PostgreSQL lives unless told otherwise.
func dataFolder() string {
	if os.Geteuid() == 0 {
		return "/var/lib/brae" // the private PostgreSQL runs as somebody else, who cannot enter the home of root
	}
	if dir := os.Getenv("XDG_DATA_HOME"); dir != "" {
		return filepath.Join(dir, "brae")
	}
	if home, err := os.UserHomeDir(); err == nil {
		return filepath.Join(home, ".local", "share", "brae")
	}
	return "brae-data"
}
