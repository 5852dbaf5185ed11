package web_test

import (
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/cookiejar"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain/intensity"
	"brae/domain/triage"
	"brae/store"
	"brae/store/storetest"
	"brae/web"
	"brae/web/post"
)

// site is Brae answering HTTP on a practice of its own.
type site struct {
	*storetest.Practice
	t      testing.TB
	server *httptest.Server
	log    *logBook

	limited string // address of the same with the limits of [web.Server], once asked for
}

// logBook is a log that can be read while it is written.
type logBook struct {
	mu   sync.Mutex
	text strings.Builder
}

func (l *logBook) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *logBook) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

func newSite(t testing.TB) *site { return newSiteWith(t, nil) }

// newSiteWith is newSite for a practice that sends mail.
func newSiteWith(t testing.TB, mailer *post.Mailer) *site {
	t.Helper()
	s := &site{Practice: storetest.SetUp(t), t: t, log: &logBook{}}
	origin := &url.URL{Scheme: "http", Host: "brae.test"}
	handler, err := web.New(web.Config{
		Store: s.Store, Now: s.Tick, Origin: origin, Mailer: mailer,
		Log: slog.New(slog.NewTextHandler(io.MultiWriter(s.log, t.Output()), &slog.HandlerOptions{Level: slog.LevelInfo})),
	})
	if err != nil {
		t.Fatal(err)
	}
	s.server = httptest.NewServer(handler)
	t.Cleanup(s.server.Close)
	return s
}

// browser is somebody's browser. It does not follow redirects.
type browser struct {
	*site
	client *http.Client
}

func (s *site) browser() *browser {
	jar, err := cookiejar.New(nil)
	if err != nil {
		s.t.Fatal(err)
	}
	return &browser{s, &http.Client{
		Jar: jar, Timeout: 20 * time.Second,
		CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}}
}

// as signs in.
func (s *site) as(name string) *browser {
	s.t.Helper()
	b := s.browser()
	if r := b.post("/sign-in", "name", name, "passphrase", storetest.Passphrase); r.status != http.StatusSeeOther {
		s.t.Fatalf("sign in as %s: %d", name, r.status)
	}
	return b
}

// reply is what came back.
type reply struct {
	status int
	header http.Header
	body   string
}

func (b *browser) get(path string) reply {
	b.t.Helper()
	request, err := http.NewRequest(http.MethodGet, b.server.URL+path, nil)
	if err != nil {
		b.t.Fatal(err)
	}
	return b.do(request)
}

// post sends a form of names and values as a page of ours would.
func (b *browser) post(path string, fields ...string) reply {
	b.t.Helper()
	form := url.Values{}
	for i := 0; i < len(fields); i += 2 {
		form.Add(fields[i], fields[i+1])
	}
	request, err := http.NewRequest(http.MethodPost, b.server.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		b.t.Fatal(err)
	}
	request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	request.Header.Set("Sec-Fetch-Site", "same-origin")
	return b.do(request)
}

func (b *browser) do(request *http.Request) reply {
	b.t.Helper()
	response, err := b.client.Do(request)
	if err != nil {
		b.t.Fatal(err)
	}
	defer response.Body.Close()
	body, err := io.ReadAll(response.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	return reply{response.StatusCode, response.Header, string(body)}
}

// TestEveryRoute asks for every route as everybody. A route that is not in the
// table fails: whoever adds one says who may have it.
func TestEveryRoute(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	own, other := s.Client(), s.Client()
	s.JoinClient(own, "jon")
	s.JoinClient(other, "tilda")
	s.ScreenClient(own)
	s.ScreenClient(other)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), own, storetest.Walking(0)))

	session := storetest.Walk(30)
	session.Reports = []triage.Report{"tired_next_day"}
	storetest.Must(s.LogSession(t.Context(), s.Mira.Actor(), own, session))
	draft := store.NoteInput{ID: uuid.New(), Kind: "visit", EventOn: storetest.Day}
	storetest.Must(s.SaveNote(t.Context(), s.Mira.Actor(), own, draft))
	note := draft.ID.String()
	flag := storetest.Must(s.Worklist(t.Context(), s.Mira.Actor(), store.WorklistFilter{})).Items[0].Flag.String()

	letter := storetest.Must(s.WriteReferral(t.Context(), s.Mira.Actor(), own))
	decision := storetest.Must(s.RecordClearance(t.Context(), s.Mira.Actor(), own, storetest.Cleared(intensity.Vigorous)))
	walk := storetest.Must(s.AddTest(t.Context(), s.Mira.Actor(), own, walked(402, storetest.Day)))

	report := storetest.Must(s.SignReport(t.Context(), s.Mira.Actor(), own, storetest.Reported(0)))

	// Of each route, the status for: nobody, the client whose record it is, another
	// client, their practitioner, another practitioner, the lead. 303 to a signed-out
	// browser leads to the sign-in.
	const (
		away = http.StatusSeeOther
		ok   = http.StatusOK
		no   = http.StatusForbidden
		none = http.StatusNotFound
		bad  = http.StatusUnprocessableEntity
	)
	client := "/clients/" + own.String()
	letterAt, decisionAt := client+"/letters/"+letter.String(), client+"/decisions/"+decision.ID.String()
	for _, tt := range []struct {
		route string // as chi names it
		path  string
		want  [6]int
	}{
		{"GET /static/*", "/static/css/brae.css", [6]int{ok, ok, ok, ok, ok, ok}},
		{"GET /healthz", "/healthz", [6]int{ok, ok, ok, ok, ok, ok}},
		{"GET /sw.js", "/sw.js", [6]int{ok, ok, ok, ok, ok, ok}},
		{"GET /manifest.webmanifest", "/manifest.webmanifest", [6]int{ok, ok, ok, ok, ok, ok}},
		{"GET /sign-in", "/sign-in", [6]int{ok, ok, ok, ok, ok, ok}},
		{"POST /sign-in", "/sign-in", [6]int{bad, bad, bad, bad, bad, bad}},
		{"GET /set-up/{token}", "/set-up/x", [6]int{none, none, none, none, none, none}},
		{"POST /set-up/{token}", "/set-up/x", [6]int{none, none, none, none, none, none}},
		{"GET /join/{token}", "/join/x", [6]int{none, none, none, none, none, none}},
		{"POST /join/{token}", "/join/x", [6]int{none, none, none, none, none, none}},
		{"GET /", "/", [6]int{away, away, away, away, away, away}},
		{"GET /account", "/account", [6]int{away, ok, ok, ok, ok, ok}},
		{"POST /account/reminder", "/account/reminder", [6]int{away, bad, bad, no, no, no}},
		{"POST /account/reminder/stop", "/account/reminder/stop", [6]int{away, away, away, no, no, no}},
		{"POST /account/calendar", "/account/calendar", [6]int{away, ok, ok, no, no, no}},
		{"POST /account/calendar/stop", "/account/calendar/stop", [6]int{away, away, away, no, no, no}},
		{"GET /reminder/confirm/{token}", "/reminder/confirm/x", [6]int{none, none, none, none, none, none}},
		{"POST /reminder/confirm/{token}", "/reminder/confirm/x", [6]int{none, none, none, none, none, none}},
		{"GET /reminder/stop/{token}", "/reminder/stop/x", [6]int{ok, ok, ok, ok, ok, ok}},
		{"POST /reminder/stop/{token}", "/reminder/stop/x", [6]int{none, none, none, none, none, none}},
		{"GET /calendar/{token}", "/calendar/x.ics", [6]int{none, none, none, none, none, none}},
		{"POST /account/credential", "/account/credential", [6]int{away, no, no, away, away, away}},
		{"POST /account/preferences", "/account/preferences", [6]int{away, bad, bad, bad, bad, bad}},
		// The address of this test has no secure connection, so that there are no passkeys.
		{"POST /sign-in/passkey/challenge", "/sign-in/passkey/challenge", [6]int{none, none, none, none, none, none}},
		{"POST /sign-in/passkey", "/sign-in/passkey", [6]int{bad, bad, bad, bad, bad, bad}},
		{"POST /join/{token}/passkey/challenge", "/join/x/passkey/challenge", [6]int{none, none, none, none, none, none}},
		{"POST /join/{token}/passkey", "/join/x/passkey", [6]int{none, none, none, none, none, none}},
		{"POST /account/passkeys/challenge", "/account/passkeys/challenge", [6]int{away, none, none, none, none, none}},
		{"POST /account/passkeys", "/account/passkeys", [6]int{away, bad, bad, bad, bad, bad}},
		{"POST /account/passkeys/{passkey}/remove", "/account/passkeys/" + own.String() + "/remove", [6]int{away, none, none, none, none, none}},
		{"POST /account/passkeys/{passkey}/name", "/account/passkeys/" + own.String() + "/name", [6]int{away, bad, bad, bad, bad, bad}},
		{"POST /account/passphrase", "/account/passphrase", [6]int{away, bad, bad, bad, bad, bad}},

		{"GET /week", "/week", [6]int{away, ok, ok, no, no, no}},
		{"GET /log", "/log", [6]int{away, ok, ok, no, no, no}},
		{"POST /log", "/log", [6]int{away, bad, bad, no, no, no}},
		{"GET /log/{session}", "/log/" + session.ID.String(), [6]int{away, ok, none, no, no, no}},
		{"POST /log/{session}/answers", "/log/" + session.ID.String() + "/answers", [6]int{away, away, none, no, no, no}},
		{"GET /history", "/history", [6]int{away, ok, ok, no, no, no}},
		{"GET /reports", "/reports", [6]int{away, ok, ok, no, no, no}},
		{"GET /reports/{report}", "/reports/" + report.String(), [6]int{away, ok, none, no, no, no}},
		{"GET /sessions/{session}", "/sessions/" + session.ID.String(), [6]int{away, ok, none, no, no, no}},
		{"GET /sessions/{session}/edit", "/sessions/" + session.ID.String() + "/edit", [6]int{away, ok, none, no, no, no}},
		{"POST /sessions/{session}/edit", "/sessions/" + session.ID.String() + "/edit", [6]int{away, http.StatusConflict, none, no, no, no}},
		{"GET /sessions/{session}/delete", "/sessions/" + session.ID.String() + "/delete", [6]int{away, ok, none, no, no, no}},
		{"POST /sessions/{session}/delete", "/sessions/" + session.ID.String() + "/delete", [6]int{away, http.StatusConflict, none, no, no, no}},
		{"POST /sessions/{session}/restore", "/sessions/" + session.ID.String() + "/restore", [6]int{away, away, none, no, no, no}},
		{"GET /report", "/report", [6]int{away, ok, ok, no, no, no}},
		{"POST /report", "/report", [6]int{away, bad, bad, no, no, no}},
		{"GET /report/{report}", "/report/" + uuid.NewString(), [6]int{away, none, none, no, no, no}},
		{"POST /late", "/late", [6]int{away, none, none, no, no, no}},
		{"GET /tests", "/tests", [6]int{away, ok, ok, no, no, no}},
		{"GET /messages", "/messages", [6]int{away, ok, ok, no, no, no}},
		{"POST /messages/{message}/answer", "/messages/" + uuid.NewString() + "/answer", [6]int{away, none, none, no, no, no}},
		{"GET /clients/{client}/messages", client + "/messages", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/messages", client + "/messages", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/messages/{message}/withdraw", client + "/messages/" + uuid.NewString() + "/withdraw", [6]int{away, no, no, bad, none, bad}},
		{"GET /plan", "/plan", [6]int{away, ok, ok, no, no, no}},
		{"GET /plan/handout", "/plan/handout", [6]int{away, ok, ok, no, no, no}},
		{"GET /plan/session", "/plan/session", [6]int{away, ok, ok, no, no, no}},
		{"POST /plan/session", "/plan/session", [6]int{away, http.StatusConflict, http.StatusConflict, no, no, no}},
		{"GET /offline", "/offline", [6]int{away, ok, ok, no, no, no}},
		{"GET /phone", "/phone", [6]int{away, ok, ok, no, no, no}},

		{"GET /today", "/today", [6]int{away, no, no, ok, ok, ok}},
		{"POST /today/{flag}/done", "/today/" + flag + "/done", [6]int{away, no, no, bad, none, bad}},
		{"POST /today/{flag}/back", "/today/" + flag + "/back", [6]int{away, no, no, http.StatusConflict, none, http.StatusConflict}},
		{"GET /review", "/review", [6]int{away, no, no, ok, ok, ok}},
		{"GET /sources", "/sources", [6]int{away, no, no, ok, ok, ok}},
		{"GET /numbers", "/numbers", [6]int{away, no, no, ok, ok, ok}},
		{"GET /numbers/{calculator}", "/numbers/zones?age=60&resting_hr=72", [6]int{away, no, no, ok, ok, ok}},
		{"POST /sources/settings", "/sources/settings", [6]int{away, no, no, no, no, bad}},
		{"POST /sources/sign", "/sources/sign", [6]int{away, no, no, no, no, bad}},
		{"GET /clients", "/clients", [6]int{away, no, no, ok, ok, ok}},
		{"GET /clients/new", "/clients/new", [6]int{away, no, no, ok, ok, ok}},
		{"POST /clients", "/clients", [6]int{away, no, no, bad, bad, bad}},
		{"GET /clients/{client}/", client + "/", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/invite", client + "/invite", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/intake", client + "/intake", [6]int{away, no, no, away, none, away}},
		{"GET /clients/{client}/intake/{step}", client + "/intake/goal", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/intake/{step}", client + "/intake/medicines", [6]int{away, no, no, away, none, away}},
		{"POST /clients/{client}/screening", client + "/screening", [6]int{away, no, no, http.StatusConflict, none, http.StatusConflict}},
		{"GET /clients/{client}/sessions", client + "/sessions", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/sessions/{session}", client + "/sessions/" + session.ID.String(), [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/stricter", client + "/stricter", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/aside", client + "/aside", [6]int{away, no, no, bad, none, bad}},
		{"GET /clients/{client}/consent", client + "/consent", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/contact", client + "/contact", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/consents", client + "/consents", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/consents/{consent}/withdraw", client + "/consents/" + uuid.NewString() + "/withdraw", [6]int{away, no, no, none, none, none}},
		{"GET /clients/{client}/changes/new", client + "/changes/new", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/changes", client + "/changes", [6]int{away, no, no, bad, none, bad}},
		{"GET /clients/{client}/decision", client + "/decision", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/prescription/new", client + "/prescription/new", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/prescription", client + "/prescription", [6]int{away, no, no, bad, none, bad}},
		{"GET /clients/{client}/prescriptions", client + "/prescriptions", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/prescriptions/{version}", client + "/prescriptions/1", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/handout", client + "/handout", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/plan", client + "/plan", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/plan", client + "/plan", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/pauses", client + "/pauses", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/pauses/{pause}/end", client + "/pauses/" + uuid.NewString() + "/end", [6]int{away, no, no, none, none, none}},
		{"GET /clients/{client}/report", client + "/report", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/report", client + "/report", [6]int{away, no, no, bad, none, bad}},
		{"GET /clients/{client}/reports/{report}", client + "/reports/" + report.String(), [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/discharge", client + "/discharge", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/discharge", client + "/discharge", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/reopen", client + "/reopen", [6]int{away, no, no, http.StatusConflict, none, http.StatusConflict}},
		{"GET /clients/{client}/progress", client + "/progress", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/progress", client + "/progress", [6]int{away, no, no, http.StatusConflict, none, http.StatusConflict}},

		{"GET /answer/{token}", "/answer/x", [6]int{none, none, none, none, none, none}},
		{"POST /answer/{token}", "/answer/x", [6]int{none, none, none, none, none, none}},
		{"POST /answer/{token}/send", "/answer/x/send", [6]int{none, none, none, none, none, none}},
		{"GET /doctor", "/doctor", [6]int{away, no, no, ok, ok, ok}},
		{"GET /clients/{client}/holds", client + "/holds", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/holds", client + "/holds", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/holds/{hold}/release", client + "/holds/" + uuid.NewString() + "/release", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/holds/{hold}/resolve", client + "/holds/" + uuid.NewString() + "/resolve", [6]int{away, no, no, none, none, none}},
		{"GET /clients/{client}/doctor", client + "/doctor", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/letters", client + "/letters", [6]int{away, no, no, away, none, away}},
		{"GET /clients/{client}/letters/{letter}", letterAt, [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/letters/{letter}", letterAt, [6]int{away, no, no, http.StatusConflict, none, http.StatusConflict}},
		{"GET /clients/{client}/letters/{letter}/print", letterAt + "/print", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/letters/{letter}/link", letterAt + "/link", [6]int{away, no, no, http.StatusConflict, none, http.StatusConflict}},
		{"POST /clients/{client}/letters/{letter}/mark", letterAt + "/mark", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/letters/{letter}/answer", letterAt + "/answer", [6]int{away, no, no, http.StatusConflict, none, http.StatusConflict}},
		{"GET /clients/{client}/decisions/new", client + "/decisions/new", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/decisions", client + "/decisions", [6]int{away, no, no, bad, none, bad}},
		{"GET /clients/{client}/decisions/{decision}", decisionAt, [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/decisions/{decision}/confirm", decisionAt + "/confirm", [6]int{away, no, no, http.StatusConflict, none, http.StatusConflict}},
		{"POST /clients/{client}/decisions/{decision}/revoke", decisionAt + "/revoke", [6]int{away, no, no, no, none, bad}},
		{"POST /clients/{client}/decisions/{decision}/error", decisionAt + "/error", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/decisions/{decision}/documents", decisionAt + "/documents", [6]int{away, no, no, bad, none, bad}},
		{"GET /clients/{client}/documents/{document}", client + "/documents/" + uuid.NewString(), [6]int{away, no, no, none, none, none}},
		{"GET /clients/{client}/vitals", client + "/vitals", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/vitals", client + "/vitals", [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/vitals/{reading}/error", client + "/vitals/" + uuid.NewString() + "/error", [6]int{away, no, no, none, none, none}},
		{"GET /clients/{client}/timeline", client + "/timeline", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/chart", client + "/chart", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/notes", client + "/notes", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/notes/new", client + "/notes/new", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/notes/{note}", client + "/notes/" + note, [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/notes/{note}", client + "/notes/" + note, [6]int{away, no, no, bad, none, bad}},
		{"POST /clients/{client}/notes/{note}/addenda", client + "/notes/" + note + "/addenda", [6]int{away, no, no, http.StatusConflict, none, http.StatusConflict}},
		{"GET /clients/{client}/tests", client + "/tests", [6]int{away, no, no, ok, none, ok}},
		{"GET /clients/{client}/tests/{test}", client + "/tests/chair_stand_30_s", [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/tests/{test}", client + "/tests/chair_stand_30_s", [6]int{away, no, no, bad, none, bad}},
		{"GET /clients/{client}/tests/{test}/{result}", client + "/tests/six_minute_walk/" + walk.ID.String(), [6]int{away, no, no, ok, none, ok}},
		{"POST /clients/{client}/tests/{test}/{result}/error", client + "/tests/six_minute_walk/" + walk.ID.String() + "/error", [6]int{away, no, no, bad, none, bad}},
		{"GET /clients/{client}/workload", client + "/workload", [6]int{away, no, no, ok, none, ok}},

		{"GET /people", "/people", [6]int{away, no, no, no, no, ok}},
		{"POST /people", "/people", [6]int{away, no, no, no, no, bad}},
		{"POST /people/{account}/link", "/people/" + uuid.NewString() + "/link", [6]int{away, no, no, no, no, none}},
		{"POST /people/{account}/sign-out", "/people/" + uuid.NewString() + "/sign-out", [6]int{away, no, no, no, no, none}},
		{"POST /people/{account}/credential", "/people/" + uuid.NewString() + "/credential", [6]int{away, no, no, no, no, none}},
		{"POST /people/{account}/licence", "/people/" + uuid.NewString() + "/licence", [6]int{away, no, no, no, no, none}},
		{"POST /people/{account}/close", "/people/" + uuid.NewString() + "/close", [6]int{away, no, no, no, no, none}},
		{"POST /clients/{client}/sign-out", client + "/sign-out", [6]int{away, no, no, away, none, away}}, // it ends the client's sign-ins
		{"POST /sign-out", "/sign-out", [6]int{away, away, away, away, away, away}},                       // last: it ends the sign-ins
	} {
		routeTable[tt.route] = true
		t.Run(tt.route, func(t *testing.T) {
			method, _, _ := strings.Cut(tt.route, " ")
			for i, who := range []string{"", "jon", "tilda", "mira", "tomas", "ines"} {
				b := browsers(s, who)
				var got reply
				if method == http.MethodGet {
					entries := s.Count(`SELECT count(*) FROM audit WHERE client_id = $1`, own)
					got = b.get(tt.path)
					ofRecord := i == 1 && !notOfRecord[tt.path] || strings.HasPrefix(tt.path, client)
					if i > 0 && ofRecord && got.status == ok && s.Count(`SELECT count(*) FROM audit WHERE client_id = $1`, own) == entries {
						t.Errorf("as %q: the record was looked at, and the trail does not say so", who)
					}
					if kept := got.header.Get("Cache-Control"); kept != "no-store" && !strings.HasPrefix(tt.path, "/static/") && tt.path != "/sw.js" && tt.path != "/manifest.webmanifest" {
						t.Errorf("as %q: Cache-Control is %q; want no-store", who, kept)
					}
				} else {
					got = b.post(tt.path)
				}
				if got.status != tt.want[i] {
					t.Errorf("as %q: %d; want %d", who, got.status, tt.want[i])
				}
				if who == "" && got.status == away && !strings.HasPrefix(got.header.Get("Location"), "/sign-in") {
					t.Errorf("nobody is sent to %s", got.header.Get("Location"))
				}
			}
		})
	}
	for _, route := range web.Routes(s.server.Config.Handler) {
		if !routeTable[route] {
			t.Errorf("%s is not in the table of this test", route)
		}
	}
}

var routeTable = map[string]bool{}

// notOfRecord are the pages for a client that have nothing of the record in them.
var notOfRecord = map[string]bool{
	"/static/css/brae.css": true, "/healthz": true, "/sw.js": true, "/manifest.webmanifest": true, "/sign-in": true,
	"/reminder/stop/x": true, "/account": true, "/offline": true, "/report": true,
}

// signedIn keeps one browser for each person of TestEveryRoute, so that it signs
// in six times and not two hundred.
var signedIn = map[string]*browser{}

func browsers(s *site, who string) *browser {
	if signedIn[who] == nil {
		if who == "" {
			signedIn[who] = s.browser()
		} else {
			signedIn[who] = s.as(who)
		}
	}
	return signedIn[who]
}

// TestNotYoursLooksLikeNotThere compares the pages for a client of another
// caseload and for one that does not exist.
func TestNotYoursLooksLikeNotThere(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	theirs := s.Client()
	b := s.as("tomas")
	for _, path := range []string{"", "/decision", "/intake/goal", "/prescription/new", "/plan", "/progress"} {
		a, c := b.get("/clients/"+theirs.String()+path), b.get("/clients/"+uuid.NewString()+path)
		if a.status != http.StatusNotFound || a.body != c.body {
			t.Errorf("%s: %d and %d, or the pages differ", path, a.status, c.status)
		}
	}
}

func TestHeadersOfEveryPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("ines")
	for _, path := range []string{"/sign-in", "/review", "/nowhere", "/clients/x", "/static/css/nothing.css"} {
		h := b.get(path).header
		csp := h.Get("Content-Security-Policy")
		if !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") {
			t.Errorf("%s: policy %q", path, csp)
		}
		for name, want := range map[string]string{"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "X-Frame-Options": "DENY"} {
			if got := h.Get(name); got != want {
				t.Errorf("%s: %s = %q; want %q", path, name, got, want)
			}
		}
		if !strings.HasPrefix(path, "/static") && h.Get("Cache-Control") != "no-store" {
			t.Errorf("%s: Cache-Control = %q; want no-store", path, h.Get("Cache-Control"))
		}
	}
}

func TestCookie(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for _, tt := range []struct{ origin, prefix string }{{"https://brae.test", "__Host-brae="}, {"http://localhost:8080", "brae="}} {
		origin, err := url.Parse(tt.origin)
		if err != nil {
			t.Fatal(err)
		}
		handler, err := web.New(web.Config{Store: s.Store, Now: s.Tick, Origin: origin, Log: slog.New(slog.DiscardHandler)})
		if err != nil {
			t.Fatal(err)
		}
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/review", nil))
		cookie := w.Header().Get("Set-Cookie")
		if !strings.HasPrefix(cookie, tt.prefix) || !strings.Contains(cookie, "HttpOnly") || !strings.Contains(cookie, "SameSite=Lax") ||
			strings.Contains(cookie, "Domain=") || strings.Contains(cookie, "Secure") != (origin.Scheme == "https") {
			t.Errorf("%s: cookie %q", tt.origin, cookie)
		}
		if hsts := w.Header().Get("Strict-Transport-Security"); (hsts != "") != (origin.Scheme == "https") {
			t.Errorf("%s: Strict-Transport-Security %q", tt.origin, hsts)
		}
	}
}

// TestSignInMakesANewToken plants a token before the sign-in.
func TestSignInMakesANewToken(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.browser()
	b.get("/review") // leaves a cookie
	at, _ := url.Parse(s.server.URL)
	before := b.signIn(at).Value
	b.post("/sign-in", "name", "mira", "passphrase", storetest.Passphrase)
	after := b.signIn(at).Value
	if before == after {
		t.Error("the token is the same before and after the sign-in")
	}
	thief := s.browser()
	thief.client.Jar.SetCookies(at, []*http.Cookie{{Name: "brae", Value: before}})
	if r := thief.get("/clients"); r.status != http.StatusSeeOther {
		t.Errorf("with the planted token: %d; want to be sent to sign in", r.status)
	}
	thief.client.Jar.SetCookies(at, []*http.Cookie{{Name: "brae", Value: after}})
	if r := thief.get("/clients"); r.status != http.StatusOK {
		t.Fatalf("with the live token: %d", r.status)
	}
	b.post("/sign-out")
	if r := thief.get("/clients"); r.status != http.StatusSeeOther {
		t.Errorf("with the token of a browser that has signed out: %d; want to be sent to sign in", r.status)
	}
}

func TestSignInEnds(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.JoinClient(s.Client(), "jon")
	for _, tt := range []struct {
		reason, who string
		pass        func()
		path        string
		want        int
	}{
		{"staff, 29 minutes idle", "mira", func() { s.Wait(29 * time.Minute) }, "/clients", http.StatusOK},
		{"staff, 31 minutes idle", "mira", func() { s.Wait(31 * time.Minute) }, "/clients", http.StatusSeeOther},
		{"a client, 29 days idle", "jon", func() { s.Wait(29 * 24 * time.Hour) }, "/week", http.StatusOK},
		{"a client, 31 days idle", "jon", func() { s.Wait(31 * 24 * time.Hour) }, "/week", http.StatusSeeOther},
		{"a closed account", "tomas", func() {
			if err := s.DisableAccount(t.Context(), s.Lead.Actor(), s.Tomas.ID); err != nil {
				t.Fatal(err)
			}
		}, "/clients", http.StatusSeeOther},
	} {
		b := s.as(tt.who)
		tt.pass()
		if r := b.get(tt.path); r.status != tt.want {
			t.Errorf("%s: %d; want %d", tt.reason, r.status, tt.want)
		}
	}
}

// TestCrossSiteRequests sends a change as other sites can make a browser send it.
func TestCrossSiteRequests(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	before := s.Count(`SELECT count(*) FROM clients`)
	for _, h := range []http.Header{
		{"Sec-Fetch-Site": {"cross-site"}}, {"Sec-Fetch-Site": {"same-site"}},
		{"Origin": {"https://elsewhere.example"}}, {"Origin": {"null"}},
	} {
		body := url.Values{"given_name": {"A"}, "family_name": {"B"}, "birth_date": {"1970-01-01"}}.Encode()
		request, err := http.NewRequest(http.MethodPost, s.server.URL+"/clients", strings.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		request.Header = h.Clone()
		request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		if r := b.do(request); r.status != http.StatusForbidden {
			t.Errorf("%v: %d; want %d", h, r.status, http.StatusForbidden)
		}
	}
	if after := s.Count(`SELECT count(*) FROM clients`); after != before {
		t.Errorf("%d clients were added", after-before)
	}
}

// TestNextStaysHere asks for addresses that browsers take for another site.
func TestNextStaysHere(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for _, path := range []string{"//elsewhere.example/x", `/\elsewhere.example`, "/%2f/elsewhere.example"} {
		b := s.browser()
		b.get(path)
		r := b.post("/sign-in", "name", "mira", "passphrase", storetest.Passphrase)
		if to := r.header.Get("Location"); strings.HasPrefix(to, "//") || strings.HasPrefix(to, `/\`) || !strings.HasPrefix(to, "/") {
			t.Errorf("after asking for %s the sign-in leads to %q", path, to)
		}
	}
	b := s.browser()
	b.get("/clients?q=a")
	if to := b.post("/sign-in", "name", "mira", "passphrase", storetest.Passphrase).header.Get("Location"); to != "/clients?q=a" {
		t.Errorf("after asking for /clients?q=a the sign-in leads to %q", to)
	}
}

// TestWhatIsTypedIsShownAsText stores markup in every field of the record and
// looks for it as markup.
func TestWhatIsTypedIsShownAsText(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	const markup = `<script>alert(1)</script>"'><img src=x onerror=alert(1)>`
	id := storetest.Must(s.AddClient(t.Context(), s.Mira.Actor(), store.Client{
		GivenName: markup, FamilyName: markup, Phone: markup, EmergencyContact: markup, BirthDate: storetest.Day.AddDays(-20000),
	}))
	s.JoinClient(id, "jon")
	s.ScreenClient(id, "goal", markup, "medicines", markup)
	in := storetest.Walking(0)
	in.Activities, in.Note = markup, markup
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, in))
	walk := storetest.Walk(30)
	walk.Note = markup
	storetest.Must(s.LogSession(t.Context(), s.Mira.Actor(), id, walk))
	client := "/clients/" + id.String()
	pages := map[string][]string{
		"mira": {"/clients", "/review", client, client + "/intake/goal", client + "/intake/medicines", client + "/decision", client + "/prescription/new", "/clients?q=" + url.QueryEscape(markup)},
		"jon":  {"/week", "/plan", "/log"},
	}
	for who, paths := range pages {
		b := s.as(who)
		for _, path := range paths {
			r := b.get(path)
			if r.status != http.StatusOK || strings.Contains(r.body, "<script>alert") || strings.Contains(r.body, "<img src=x") {
				t.Errorf("%s as %s: %d, or the markup is not text", path, who, r.status)
			}
		}
	}
}

func TestLargeRequests(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	if r := b.post("/clients", "given_name", strings.Repeat("a", 100<<10)); r.status != http.StatusRequestEntityTooLarge {
		t.Errorf("a form of 100 KB: %d; want %d", r.status, http.StatusRequestEntityTooLarge)
	}
	var fields []string
	for i := range 3000 {
		fields = append(fields, fmt.Sprintf("parts[%d].minutes", i), "1")
	}
	s.JoinClient(s.Client(), "jon")
	if r := s.as("jon").post("/log", fields...); r.status < 400 || r.status >= 500 {
		t.Errorf("a log of 3,000 parts: %d; want a refusal", r.status)
	}
}

// TestNothingSecretIsLogged looks for what must not be in the log.
func TestNothingSecretIsLogged(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	token := storetest.Must(s.InviteClient(t.Context(), s.Mira.Actor(), id, "jon"))
	b := s.browser()
	b.get("/join/" + token)
	b.post("/join/"+token, "passphrase", "moss under the bridge")
	b.get("/week?x=%0aforged%0aline")
	log := s.log.String()
	for _, secret := range []string{token, "moss under the bridge", "Ashby", "\nforged"} {
		if strings.Contains(log, secret) {
			t.Errorf("%q is in the log", secret)
		}
	}
	if !strings.Contains(log, "/join/{token}") {
		t.Error("the log does not name the route")
	}
}

// TestTooManyTriesFromOneAddress guesses with many names.
func TestTooManyTriesFromOneAddress(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.browser()
	last := 0
	for i := range 25 {
		last = b.post("/sign-in", "name", fmt.Sprint("guess", i), "passphrase", "x").status
	}
	if last != http.StatusTooManyRequests {
		t.Errorf("the 25th try within a minute: %d; want %d", last, http.StatusTooManyRequests)
	}
}

// signIn is the cookie of the sign-in: that of the language stands beside it.
func (b *browser) signIn(at *url.URL) *http.Cookie {
	for _, c := range b.client.Jar.Cookies(at) {
		if c.Name == "brae" {
			return c
		}
	}
	b.t.Fatal("the browser has no sign-in")
	return nil
}

// TestNextIsAPage: after the sign-in a browser goes on to the page that somebody
// wanted to see, and not to what a script has asked for meanwhile.
func TestNextIsAPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.JoinClient(s.Client(), "jon")
	b := s.browser()
	b.send(http.MethodGet, "/history", http.Header{"Sec-Fetch-Dest": {"document"}})
	b.send(http.MethodGet, "/offline", http.Header{"Sec-Fetch-Dest": {"empty"}})
	if r := b.post("/sign-in", "name", "jon", "passphrase", storetest.Passphrase); r.header.Get("Location") != "/history" {
		t.Errorf("sent on to %s", r.header.Get("Location"))
	}
}
