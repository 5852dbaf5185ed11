// Package web answers HTTP: it decodes forms, calls one store method for each
// thing a person does, and renders pages. It computes no rule.
package web

import (
	"fmt"
	"log/slog"
	"net/http"
	"net/url"
	"time"

	"github.com/alexedwards/scs/v2"

	"brae/store"
	"brae/web/page"
	"brae/web/post"
	"brae/web/say"
)

// Config is what New needs. All but TrustedProxies and Mailer must be set.
type Config struct {
	Store  *store.Store
	Log    *slog.Logger
	Now    func() time.Time
	Origin *url.URL // the address people type, without a path
	// TrustedProxies are the address ranges whose X-Forwarded-For is believed.
	// Empty means that browsers connect directly.
	TrustedProxies []string
	Mailer         *post.Mailer // nil where the practice sends no mail
}

// maxForm bounds a posted form. The longest is the intake, of some kilobytes.
const maxForm = 64 << 10

// New returns the handler of all pages.
func New(c Config) (http.Handler, error) {
	switch {
	case c.Store == nil || c.Log == nil || c.Now == nil || c.Origin == nil:
		return nil, fmt.Errorf("web: the configuration is incomplete")
	case c.Origin.Scheme != "http" && c.Origin.Scheme != "https" || c.Origin.Host == "":
		return nil, fmt.Errorf("web: %q is not an address such as https://brae.example", c.Origin)
	}
	kit := &page.Kit{Store: c.Store, SignIns: signIns(c), Log: c.Log, Origin: c.Origin, Now: c.Now, Mailer: c.Mailer}
	return routes(c, kit), nil
}

// signIns is the manager of the signed-in browsers. Its cookie is bound to this
// host over TLS. Only on plain http, which Brae serves on this machine alone, is
// it an ordinary one, since some browsers refuse the other there.
func signIns(c Config) *scs.SessionManager {
	m := scs.New()
	m.Store = c.Store.SignIns()
	m.Lifetime = 30 * 24 * time.Hour // who is idle or too old is told apart by role in package page
	m.Cookie.Name = "brae"
	m.Cookie.HttpOnly = true
	m.Cookie.SameSite = http.SameSiteLaxMode
	m.Cookie.Path = "/"
	m.Cookie.Persist = true
	if c.Origin.Scheme == "https" {
		m.Cookie.Name = "__Host-brae"
		m.Cookie.Secure = true
	}
	m.ErrorFunc = func(w http.ResponseWriter, r *http.Request, err error) {
		c.Log.ErrorContext(r.Context(), "sign-in store failed", "error", err)
		w.Header().Set("Retry-After", "10")
		http.Error(w, say.T(r.Context(), "Not available for a moment")+". "+say.T(r.Context(), "Nothing was lost. Try again in a minute."), http.StatusServiceUnavailable)
	}
	return m
}

// Server returns an HTTP server for the handler with time-outs that a slow or
// idle connection cannot outlast.
func Server(h http.Handler, log *slog.Logger) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       15 * time.Second,
		WriteTimeout:      30 * time.Second,
		IdleTimeout:       60 * time.Second,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelDebug),
	}
}
