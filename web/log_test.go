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

// TestChangeASession edits on two devices, deletes, restores and looks at what
// staff see.
func TestChangeASession(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	s.ScreenClient(client)
	jon, tablet := s.as("jon"), s.as("jon")
	form := walkForm()
	jon.postForm("/log", form)
	path := "/sessions/" + form.Get("id")
	if r := jon.get(path + "/edit"); r.status != http.StatusOK || !strings.Contains(r.body, `value="30"`) {
		t.Errorf("the form: %d, or without the minutes", r.status)
	} else if strings.Contains(r.body, "Same as last time") || strings.Contains(r.body, "What you do most") {
		t.Error("the form for a change leads away to another session")
	}
	edit := func(minutes, version string) url.Values {
		f := walkForm("parts[0].minutes", minutes, "version", version, "reason", "a slip")
		f.Del("id")
		return f
	}
	if r := jon.postForm(path+"/edit", edit("45", "1")); r.status != http.StatusSeeOther {
		t.Fatalf("edit: %d %s", r.status, r.body)
	}
	if r := tablet.postForm(path+"/edit", edit("50", "1")); r.status != http.StatusConflict || !strings.Contains(r.body, "45 min") || !strings.Contains(r.body, `value="50"`) ||
		!strings.Contains(r.body, `name="version" value="2"`) {
		t.Errorf("the second device: %d, or not both versions and the new one to go on from", r.status)
	}
	if r := jon.postForm(path+"/edit", edit("", "2")); r.status != http.StatusUnprocessableEntity {
		t.Errorf("no minutes: %d", r.status)
	}
	if r := jon.get(path); !strings.Contains(r.body, "30 min") || !strings.Contains(r.body, ">45<") {
		t.Error("the session does not show both versions")
	}
	if r := jon.post(path+"/delete", "version", "1"); r.status != http.StatusConflict {
		t.Errorf("delete an old version: %d", r.status)
	}
	if r := jon.post(path+"/delete", "version", "2", "reason", "twice"); r.status != http.StatusSeeOther {
		t.Errorf("delete: %d", r.status)
	}
	if r := jon.get("/history"); strings.Contains(r.body, path) {
		t.Error("the history still has the session")
	}
	mira := s.as("mira")
	if r := mira.get("/clients/" + client.String() + path); r.status != http.StatusOK || !strings.Contains(r.body, "a slip") || !strings.Contains(r.body, "twice") || !strings.Contains(r.body, "Deleted") {
		t.Errorf("staff: %d, or not all of it", r.status)
	}
	if r := mira.get("/clients/" + client.String() + "/sessions"); !strings.Contains(r.body, "Deleted") {
		t.Error("staff do not see the deleted session in the list")
	}
	if r := jon.post(path+"/restore", "version", "3"); r.status != http.StatusSeeOther {
		t.Errorf("restore: %d", r.status)
	}
	if n := s.Count(`SELECT moderate FROM week_totals`); n != 45 {
		t.Errorf("%d minutes; want 45", n)
	}
}

// TestQuestionsOfTheTriage answers what the words of a note make the triage ask.
func TestQuestionsOfTheTriage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	s.ScreenClient(client)
	jon := s.as("jon")
	form := walkForm("note", "my chest felt odd on the hill")
	r := jon.postForm("/log", form)
	path := "/log/" + form.Get("id")
	if r.header.Get("Location") != path {
		t.Fatalf("leads to %q", r.header.Get("Location"))
	}
	if r := jon.get(path); !strings.Contains(r.body, `name="answer.ask_chest"`) || strings.Contains(r.body, `class="emergency"`) {
		t.Error("the page does not ask, or takes words for a symptom")
	}
	jon.post(path+"/answers", "answer.ask_chest", "yes")
	if r := jon.get(path); !strings.Contains(r.body, `class="emergency"`) || strings.Contains(r.body, "answer.ask_chest") {
		t.Error("a yes is no emergency, or is asked again")
	}
	if n := s.Count(`SELECT count(*) FROM session_revisions WHERE change = 'answer'`); n != 1 {
		t.Errorf("%d revisions; want 1", n)
	}
}

// TestSpeaksSpanish shows an emergency in the client's language.
func TestSpeaksSpanish(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	s.ScreenClient(client)
	if _, err := s.Pool.Exec(t.Context(), `UPDATE accounts SET language = 'es' WHERE sign_in_name = 'jon'`); err != nil {
		t.Fatal(err)
	}
	jon := s.as("jon")
	r := jon.postForm("/log", walkForm("symptoms", "yes", "reports", "chest_pressure_now"))
	r = jon.get(r.header.Get("Location"))
	if !strings.Contains(r.body, "Pare ahora") || !strings.Contains(r.body, "Llame ahora al 112") || strings.Contains(r.body, "Do not") {
		t.Error("the emergency is not in Spanish")
	}
}
