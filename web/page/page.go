// Package page is what all handlers share: from an error to a page, from a view
// to a response, and who is asking.
package page

import (
	"bytes"
	"context"
	"errors"
	"log/slog"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/a-h/templ"
	"github.com/alexedwards/scs/v2"
	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
	"github.com/go-playground/form/v4"

	"brae/domain"
	"brae/store"
	"brae/web/post"
	"brae/web/say"
	"brae/web/ui"
)

// Kit is what every handler needs. All fields but Mailer must be set.
type Kit struct {
	Store   *store.Store
	SignIns *scs.SessionManager
	Log     *slog.Logger
	Origin  *url.URL         // of this Brae, for links that leave the browser
	Now     func() time.Time // the clock
	Mailer  *post.Mailer     // nil where the practice sends no mail
}

// Handler answers a request or returns why it did not.
type Handler func(http.ResponseWriter, *http.Request) error

// RequestTime is how long a request may take in all, waiting for a database
// connection included. It is shorter than the server's write time-out, so that a
// busy database is told to the person and not to a closed connection.
const RequestTime = 5 * time.Second

// Page makes an http.Handler of h: it turns an error into a page. That the request
// has a deadline is for who mounts it.
func (k *Kit) Page(h Handler) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		err := plainQuery(r.URL)
		if err == nil {
			err = h(w, r)
		}
		if err != nil {
			k.fail(w, r, err)
		}
	}
}

// plainQuery refuses an address with text that no browser sends and the database
// does not take.
func plainQuery(u *url.URL) error {
	query, err := url.QueryUnescape(u.RawQuery)
	if err != nil || !utf8.ValidString(query+u.Path) || strings.ContainsRune(query+u.Path, 0) {
		return errBadForm
	}
	return nil
}

// failures are the errors that people are told about. Any other is a fault.
var failures = []struct {
	err    error
	status int
	title  string
	text   string
}{
	{domain.ErrNotFound, http.StatusNotFound, say.Key("There is nothing here"),
		say.Key("The address may be mistyped, or what was here is not yours to see.")},
	{domain.ErrForbidden, http.StatusForbidden, say.Key("This is not for you to do"),
		say.Key("Ask the lead of the practice if you think it should be.")},
	{domain.ErrHeld, http.StatusConflict, say.Key("On hold"),
		say.Key("A doctor has to answer first. Nothing was saved.")},
	// Forbidden, so that a phone keeps what it has until the record is open again.
	{domain.ErrClosed, http.StatusForbidden, say.Key("This record is closed"),
		say.Key("Nothing was saved. If you feel very unwell, get help at once. The practice can open the record again.")},
	{domain.ErrConflict, http.StatusConflict, say.Key("Somebody was faster"),
		say.Key("Someone else changed this in the meantime. Go back, load the page again and look at what is there now.")},
	{errBadForm, http.StatusBadRequest, say.Key("This form could not be read"),
		say.Key("Go back and send it once more.")},
	{context.DeadlineExceeded, http.StatusServiceUnavailable, say.Key("It is taking too long"),
		say.Key("Nothing was lost. Go back and try again in a moment.")},
}

// fail answers with the page of an error and logs what is a fault of ours.
func (k *Kit) fail(w http.ResponseWriter, r *http.Request, err error) {
	if errors.Is(r.Context().Err(), context.Canceled) {
		k.Log.DebugContext(r.Context(), "the browser went away", "error", err)
		return
	}
	ctx := r.Context()
	id := middleware.GetReqID(ctx)
	status, title, text := http.StatusInternalServerError, say.T(ctx, "Something went wrong"),
		say.F(ctx, "It is our fault, not yours. If it happens again, tell the practice this number: %s", id)
	for _, f := range failures {
		if errors.Is(err, f.err) {
			status, title, text = f.status, say.T(ctx, f.title), say.T(ctx, f.text)
			break
		}
	}
	var big *http.MaxBytesError
	if errors.As(err, &big) {
		status, title, text = http.StatusRequestEntityTooLarge, say.T(ctx, "This is too much at once"), say.T(ctx, "Shorten the text and send it once more.")
	}
	if store.Unreachable(err) {
		status, title, text = http.StatusServiceUnavailable, say.T(ctx, "Not available for a moment"), say.T(ctx, "Nothing was lost. Try again in a minute.")
	}
	if problems, ok := Problems(err); ok { // that the page itself did not show
		status, title, text = http.StatusUnprocessableEntity, say.T(ctx, "This could not be saved"), sentences(ctx, Tell(ctx, k, problems))
	}
	// The page of an error is drawn also when the request's time is over.
	r = r.WithContext(context.WithoutCancel(r.Context()))
	switch {
	case status >= 500:
		k.Log.ErrorContext(r.Context(), "request failed", "request_id", id, "status", status, "error", err)
	case status == http.StatusForbidden || status == http.StatusNotFound:
		k.refused(r, status, err)
	}
	if status == http.StatusServiceUnavailable {
		w.Header().Set("Retry-After", "10")
	}
	if WantsJSON(r) {
		if err := sendJSON(w, status, map[string]string{"title": title, "text": text}); err != nil {
			k.Log.ErrorContext(r.Context(), "error answer failed", "request_id", id, "error", err)
		}
		return
	}
	frame := k.frame(r, title)
	if err := k.write(w, r, status, ui.Message(frame, title, text)); err != nil {
		k.Log.ErrorContext(r.Context(), "error page failed", "request_id", id, "error", err)
		http.Error(w, title+". "+text, status)
	}
}

// refused logs that somebody who is signed in asked for what is not theirs, or
// not there: which of the two is in the error. Strangers ask for all sorts.
func (k *Kit) refused(r *http.Request, status int, err error) {
	who, ok := r.Context().Value(whoKey{}).(Who)
	if !ok {
		return
	}
	k.Log.WarnContext(r.Context(), "refused", "request_id", middleware.GetReqID(r.Context()), "status", status,
		"method", r.Method, "route", chi.RouteContext(r.Context()).RoutePattern(),
		"account", who.ID, "role", string(who.Role), "error", err)
}

// sentences are problems as a text, in the order of their fields.
func sentences(ctx context.Context, problems domain.Problems) string {
	var text []string
	for _, field := range slices.Sorted(maps.Keys(problems)) {
		text = append(text, say.T(ctx, problems[field]))
	}
	return strings.Join(text, " ") + " " + say.T(ctx, "Go back and change it.")
}

// NotFound is the answer to an address that leads nowhere.
func NotFound(http.ResponseWriter, *http.Request) error { return domain.ErrNotFound }

// Render sends a page: the frame around it, with title, and the body.
func (k *Kit) Render(w http.ResponseWriter, r *http.Request, status int, frame ui.Page, body templ.Component) error {
	return k.write(w, r, status, ui.Framed(frame, body))
}

// write renders before it answers, so that a page is sent whole or not at all.
func (k *Kit) write(w http.ResponseWriter, r *http.Request, status int, c templ.Component) error {
	var buf bytes.Buffer
	if err := c.Render(r.Context(), &buf); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Cache-Control", "no-store") // health data stays out of caches
	w.WriteHeader(status)
	_, _ = w.Write(buf.Bytes()) // the browser went away: nobody to tell
	return nil
}

var errBadForm = errors.New("unreadable form")

// Unreadable is the answer to a form that could not be read, or was too large. What
// the reader says of it is dropped: it may hold what was sent, which belongs in no
// log, and a form that breaks off looks like a database that went away.
func Unreadable(err error) error {
	var big *http.MaxBytesError
	if errors.As(err, &big) {
		return err
	}
	return errBadForm
}

// decoder fills form structs. It ignores fields that a struct does not name, so
// that nobody can set what the form does not show.
var decoder = func() *form.Decoder {
	d := form.NewDecoder()
	d.SetTagName("form")
	d.SetMode(form.ModeExplicit)
	d.SetMaxArraySize(104) // the weeks of the longest plan
	return d
}()

// Decode reads the posted form into dst, a pointer to a struct of strings with
// form tags. What was typed is kept as typed.
func Decode(r *http.Request, dst any) error {
	if err := ParseForm(r); err != nil {
		return err
	}
	if err := decoder.Decode(dst, r.PostForm); err != nil {
		return errors.Join(errBadForm, err)
	}
	return nil
}

// See sends the browser on to another page of ours after a change.
func See(w http.ResponseWriter, r *http.Request, path string) error {
	http.Redirect(w, r, path, http.StatusSeeOther)
	return nil
}

// Problems returns the problems in err, if it says what was filled in wrong.
func Problems(err error) (domain.Problems, bool) { return errors.AsType[domain.Problems](err) }

// ParseForm reads the posted form into r.PostForm, for forms whose fields are
// not known by name.
func ParseForm(r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return Unreadable(err)
	}
	for _, values := range r.Form {
		for _, value := range values {
			// No browser sends these, and the database takes neither.
			if !utf8.ValidString(value) || strings.ContainsRune(value, 0) {
				return errBadForm
			}
		}
	}
	return nil
}
