package page

import (
	"encoding/json"
	"mime"
	"net/http"
	"strings"
)

// WantsJSON reports whether a script of ours asks, which shows the answer itself.
// Browsers ask for HTML.
func WantsJSON(r *http.Request) bool {
	for part := range strings.SplitSeq(r.Header.Get("Accept"), ",") {
		kind, _, err := mime.ParseMediaType(strings.TrimSpace(part))
		if err == nil && kind == "application/json" {
			return true
		}
	}
	return false
}

// JSON answers a script. It says nothing that the page for the same request would
// not show.
func (k *Kit) JSON(w http.ResponseWriter, status int, v any) error { return sendJSON(w, status, v) }

func sendJSON(w http.ResponseWriter, status int, v any) error {
	body, err := json.Marshal(v)
	if err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "application/json")
	h.Set("Cache-Control", "no-store") // health data stays out of caches
	w.WriteHeader(status)
	_, _ = w.Write(body) // the browser went away: nobody to tell
	return nil
}
