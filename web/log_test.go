package web_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/google/uuid"

	"brae/store/storetest"
)

// logAnswer is what a script reads.
type logAnswer struct {
	ID, Level, Title, Held, Saved, Next, Number, Conflict string
	Lines                                                 []string
	Emergency                                             bool
	Questions                                             []struct{ Code, Asks string }
	Problems, Doubts                                      map[string]string
}

// walkForm is a log form of a brisk walk, with changes.
func walkForm(changes ...string) url.Values {
	form := url.Values{
		"id": {uuid.NewString()}, "day": {storetest.Day.String()}, "symptoms": {"no"},
		"parts[0].activity": {"walk_brisk"}, "parts[0].minutes": {"30"}, "parts[0].talk": {"sentences"},
	}
	for i := 0; i < len(changes); i += 2 {
		form.Set(changes[i], changes[i+1])
	}
	return form
}

func (b *browser) postForm(path string, form url.Values) reply {
	b.t.Helper()
	var fields []string
	for name, values := range form {
		for _, v := range values {
			fields = append(fields, name, v)
		}
	}
	return b.post(path, fields...)
}

// ask posts a form as a script does.
func (b *browser) ask(path string, form url.Values) (int, logAnswer) {
	b.t.Helper()
	request, err := http.NewRequest(http.MethodPost, b.server.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		b.t.Fatal(err)
	}
	request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	request.Header.Set("Accept", "application/json")
	request.Header.Set("Sec-Fetch-Site", "same-origin")
	r := b.do(request)
	var a logAnswer
	if err := json.Unmarshal([]byte(r.body), &a); err != nil {
		b.t.Fatalf("%s is answered with %d and %q: %v", path, r.status, r.body, err)
	}
	if r.header.Get("Content-Type") != "application/json" || r.header.Get("Cache-Control") != "no-store" {
		b.t.Errorf("headers %v", r.header)
	}
	return r.status, a
}

func TestLogAnswersScripts(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	s.ScreenClient(client)
	jon := s.as("jon")

	if status, _ := s.browser().ask("/log", walkForm()); status != http.StatusUnauthorized {
		t.Errorf("signed out: %d; want %d", status, http.StatusUnauthorized)
	}
	form := walkForm()
	status, a := jon.ask("/log", form)
	if status != http.StatusCreated || a.ID != form.Get("id") || a.Level != "fine" || a.Emergency || a.Held != "none" || a.Saved != "Saved: 30 min moderate." {
		t.Errorf("a new session: %d, %+v", status, a)
	}
	if status, again := jon.ask("/log", form); status != http.StatusOK || again.Saved != a.Saved {
		t.Errorf("sent again: %d, %+v", status, again)
	}
	form.Set("parts[0].minutes", "31")
	if status, a := jon.ask("/log", form); status != http.StatusConflict || a.Conflict == "" {
		t.Errorf("the id with another body: %d, %+v", status, a)
	}
	if status, a := jon.ask("/log", walkForm("parts[0].minutes", "half", "symptoms", "", "day", "2026-11-26")); status != http.StatusUnprocessableEntity ||
		a.Problems["parts[0].minutes"] == "" || a.Problems["symptoms"] == "" || a.Problems["day"] == "" {
		t.Errorf("nothing right: %d, %+v", status, a)
	}
	if status, a := jon.ask("/log", walkForm("parts[0].minutes", "400")); status != http.StatusUnprocessableEntity || a.Doubts["minutes"] == "" || a.Problems != nil {
		t.Errorf("400 minutes: %d, %+v", status, a)
	}
	if status, a := jon.ask("/log", walkForm("symptoms", "yes")); status != http.StatusUnprocessableEntity || a.Problems["reports"] == "" {
		t.Errorf("yes, and nothing ticked: %d, %+v", status, a)
	}
	if n := s.Count(`SELECT count(*) FROM sessions`); n != 1 {
		t.Errorf("%d sessions; want 1", n)
	}

	// AHA 2026: chest pressure that lasts calls for the emergency number at once.
	status, a = jon.ask("/log", walkForm("symptoms", "yes", "reports", "chest_pressure_now"))
	if status != http.StatusCreated || !a.Emergency || a.Level != "emergency" || a.Number != "112" || a.Held != "all" || !strings.HasPrefix(a.Title, "Stop now") ||
		!strings.Contains(strings.Join(a.Lines, " "), "Call 112 now") {
		t.Errorf("chest pressure: %d, %+v", status, a)
	}
}

// TestEmergencyWaitsForNoField sends an emergency in a form that is refused for
// something else: it is told, held and flagged all the same, once.
func TestEmergencyWaitsForNoField(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	s.ScreenClient(client)
	jon := s.as("jon")
	form := walkForm("symptoms", "yes", "reports", "fainted", "parts[0].minutes", "")
	for range 2 {
		r := jon.postForm("/log", form)
		emergency, problem := strings.Index(r.body, `class="emergency"`), strings.Index(r.body, `class="summary"`)
		if r.status != http.StatusUnprocessableEntity || emergency < 0 || problem < emergency || !strings.Contains(r.body, `href="tel:112"`) {
			t.Fatalf("%d; the emergency stands at %d, the problems at %d", r.status, emergency, problem)
		}
	}
	counts := func(what string, holds, flags, triages int) {
		t.Helper()
		h, f, n := s.Count(`SELECT count(*) FROM holds WHERE kind = 'triage' AND scope = 'all'`), s.Count(`SELECT count(*) FROM flags`), s.Count(`SELECT count(*) FROM triages`)
		if h != holds || f != flags || n != triages {
			t.Errorf("%s: %d holds, %d flags, %d triages; want %d, %d, %d", what, h, f, n, holds, flags, triages)
		}
	}
	counts("refused twice", 1, 1, 1)
	form.Set("parts[0].minutes", "20")
	r := jon.postForm("/log", form)
	if r.status != http.StatusSeeOther {
		t.Fatalf("put right: %d", r.status)
	}
	r = jon.get(r.header.Get("Location"))
	if h1 := strings.Index(r.body, "<h1>"); !strings.Contains(r.body[h1:h1+40], "Stop now") {
		t.Errorf("the next page begins with %q", r.body[h1:h1+40])
	}
	counts("put right", 1, 1, 2)
}
