package page

import (
	"context"
	"net/http"
	"time"
)

// maxUpload bounds what is sent to a route that takes files: the largest that a
// practice can allow, and the form around it.
const maxUpload = 26 << 20

type bodyKey struct{}

// LimitBody bounds what a request may send, and keeps what is behind the bound
// for the routes that take files.
func LimitBody(w http.ResponseWriter, r *http.Request, most int64) *http.Request {
	r = r.WithContext(context.WithValue(r.Context(), bodyKey{}, r.Body))
	r.Body = http.MaxBytesReader(w, r.Body, most)
	return r
}

// Uploads lets a route take a file: more of it, and for longer. It stands behind
// what has found out who is asking.
func Uploads(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		body, ok := r.Context().Value(bodyKey{}).(interface {
			Read([]byte) (int, error)
			Close() error
		})
		if ok {
			r.Body = http.MaxBytesReader(w, body, maxUpload)
		}
		// A scan comes slowly over a slow line. The time for the database begins anew.
		_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(uploadTime)) // of the machine's clock; where it cannot be set, the usual one holds
		ctx, cancel := context.WithTimeout(context.WithoutCancel(r.Context()), uploadTime+RequestTime)
		defer cancel()
		next.ServeHTTP(w, r.WithContext(ctx))
	})
}

// uploadTime is how long a file may take to arrive.
const uploadTime = 20 * time.Second
