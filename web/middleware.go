package web

import (
	"context"
	"crypto/rand"
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
	"github.com/go-chi/httprate"

	"brae/web/page"
	"brae/web/say"
)

// contentPolicy allows what pages are made of and nothing else: our own style
// sheet, modules and pictures, no inline script or style, no frames.
const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; " +
	"connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"

// requestID numbers requests for the log and for the pages that tell of a fault.
// The number is our own and random: one from the browser could be that of another
// request, and one with this machine's name would tell it to strangers.
func requestID(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		id := strings.ToLower(rand.Text()[:12])
		next.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), middleware.RequestIDKey, id)))
	})
}

// secure sets the headers of every response. What may be kept by a browser says
// so itself: pages, redirects and refusals are about health.
func secure(https bool) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			h := w.Header()
			h.Set("Content-Security-Policy", contentPolicy)
			h.Set("Cache-Control", "no-store")
			h.Set("X-Content-Type-Options", "nosniff")
			h.Set("X-Frame-Options", "DENY")
			h.Set("Referrer-Policy", "no-referrer")
			h.Set("Cross-Origin-Opener-Policy", "same-origin")
			h.Set("Cross-Origin-Resource-Policy", "same-origin")
			h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=(), payment=(), usb=()")
			if https {
				h.Set("Strict-Transport-Security", "max-age=31536000; includeSubDomains")
			}
			next.ServeHTTP(w, r)
		})
	}
}

// limitBody bounds what a request may send. After one in chunks the connection
// ends: a proxy may have gone by a length that was sent, too, and have taken what
// follows for part of this one. Source: RFC 9112, 6.1.
func limitBody(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if len(r.TransferEncoding) > 0 {
			w.Header().Set("Connection", "close")
		}
		next.ServeHTTP(w, page.LimitBody(w, r, maxForm))
	})
}

// limitTime bounds how long a request may wait for the database, from the first
// question on, which is about the sign-in.
func limitTime(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		ctx, cancel := context.WithTimeout(r.Context(), page.RequestTime)
		defer cancel()
		next.ServeHTTP(w, r.WithContext(ctx))
	})
}

// compress packs pages. No page holds a secret beside text that somebody else can
// choose, so their packed length gives nothing away.
var compress = middleware.Compress(5, "text/html", "application/json")

// logRequests writes one line for each request: which route, not which address,
// since an address may hold a token.
func logRequests(log *slog.Logger) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			began := time.Now() // of the machine, not of the practice: only the difference counts
			ww := middleware.NewWrapResponseWriter(w, r.ProtoMajor)
			next.ServeHTTP(ww, r)
			log.LogAttrs(r.Context(), slog.LevelInfo, "request",
				slog.String("request_id", middleware.GetReqID(r.Context())),
				slog.String("method", r.Method),
				slog.String("route", chi.RouteContext(r.Context()).RoutePattern()),
				slog.Int("status", ww.Status()),
				slog.Int("bytes", ww.BytesWritten()),
				slog.Duration("took", time.Since(began)),
				slog.String("from", middleware.GetClientIP(r.Context())))
		})
	}
}

// recoverPanics turns a panic into a plain error page and a line in the log.
func recoverPanics(log *slog.Logger) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			defer func() {
				v := recover()
				if v == nil {
					return
				}
				if v == http.ErrAbortHandler {
					panic(v)
				}
				id := middleware.GetReqID(r.Context())
				log.ErrorContext(r.Context(), "panic", "request_id", id, "panic", fmt.Sprint(v), "stack", string(debug.Stack()))
				http.Error(w, say.T(r.Context(), "Something went wrong")+". "+say.F(r.Context(), "It is our fault, not yours. If it happens again, tell the practice this number: %s", id), http.StatusInternalServerError)
			}()
			next.ServeHTTP(w, r)
		})
	}
}

// elsewhere answers a change that a page of another site sent.
func elsewhere(log *slog.Logger) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		warn(log, r, "a change came from another site")
		http.Error(w, say.T(r.Context(), "This was sent from another site, and nothing was changed. Open Brae itself and try again."), http.StatusForbidden)
	})
}

func warn(log *slog.Logger, r *http.Request, what string) {
	log.WarnContext(r.Context(), what, "request_id", middleware.GetReqID(r.Context()), "method", r.Method,
		"from", middleware.GetClientIP(r.Context()))
}

// perAddress allows that many requests a minute from one address.
func perAddress(n int, log *slog.Logger) func(http.Handler) http.Handler {
	return httprate.LimitBy(n, time.Minute,
		func(r *http.Request) (string, error) {
			return httprate.CanonicalizeIP(middleware.GetClientIP(r.Context())), nil
		},
		httprate.WithLimitHandler(func(w http.ResponseWriter, r *http.Request) {
			warn(log, r, "too many requests from one address")
			http.Error(w, say.T(r.Context(), "Too many tries from here. Wait a minute."), http.StatusTooManyRequests)
		}))
}
