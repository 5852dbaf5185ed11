package web

import (
	"context"
	"net/http"
	"time"

	"brae/store"
)

// healthz answers 200 while the database answers, and 503 otherwise. It says
// nothing else: anybody may ask.
func healthz(s *store.Store) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		ctx, cancel := context.WithTimeout(r.Context(), 2*time.Second)
		defer cancel()
		w.Header().Set("Cache-Control", "no-store")
		if err := s.Ping(ctx); err != nil {
			http.Error(w, "the database does not answer", http.StatusServiceUnavailable)
			return
		}
		_, _ = w.Write([]byte("ok\n"))
	}
}
