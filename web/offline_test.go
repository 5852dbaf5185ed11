package web_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"brae/domain/triage"
	"brae/store/storetest"
)

// phoneKit is what the tests read of what a phone keeps.
type phoneKit struct {
	Account, Lang, Zone, Shell, Number, Tel string
	LogDays                                 int `json:"log_days"`
	Again                                   []struct{ What string }
	Lines                                   []string
	Table                                   struct {
		Reports  []triage.Report
		Outcomes [][4]any
		Texts    []string
	}
	Words map[string]string
}

func kitOf(t *testing.T, body string) phoneKit {
	t.Helper()
	var k phoneKit
	if err := json.Unmarshal([]byte(body), &k); err != nil {
		t.Fatalf("%v: %.200s", err, body)
	}
	return k
}

// TestPhoneKeeps looks at what a phone keeps for when there is no signal: of the
// person under their account, and nothing of anybody in the page.
func TestPhoneKeeps(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	account := s.JoinClient(client, "jon")
	s.ScreenClient(client)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), client, storetest.Walking(0)))
	storetest.Must(s.LogSession(t.Context(), account.Actor(), client, storetest.Walk(30)))
	b := s.as("jon")

	kit := b.get("/phone")
	if kit.status != http.StatusOK || kit.header.Get("Content-Type") != "application/json" || kit.header.Get("Cache-Control") != "no-store" {
		t.Fatalf("%d, %s, %s", kit.status, kit.header.Get("Content-Type"), kit.header.Get("Cache-Control"))
	}
	k := kitOf(t, kit.body)
	if k.Account != account.ID.String() || k.Zone == "" || k.LogDays == 0 || !strings.HasPrefix(k.Tel, "tel:") || len(k.Again) != 1 || len(k.Lines) == 0 {
		t.Errorf("the phone keeps %+v", k)
	}
	if len(k.Table.Reports) != len(triage.Codes()) {
		t.Errorf("the table has %d reports of %d", len(k.Table.Reports), len(triage.Codes()))
	}
	for _, text := range k.Table.Texts {
		if strings.ContainsAny(text, "{}") {
			t.Errorf("not filled in: %q", text)
		}
	}

	request, err := http.NewRequest(http.MethodGet, s.server.URL+"/phone", nil)
	if err != nil {
		t.Fatal(err)
	}
	request.Header.Set("If-None-Match", kit.header.Get("ETag"))
	if again := b.do(request); again.status != http.StatusNotModified || again.body != "" {
		t.Errorf("asked again by a phone that has it: %d with %d bytes", again.status, len(again.body))
	}

	shell := b.get("/offline")
	for _, private := range []string{account.ID.String(), account.Name, account.SignInName, "30 min", "data-account"} {
		if private != "" && strings.Contains(shell.body, private) {
			t.Errorf("the page that a phone keeps holds %q", private)
		}
	}
	for _, want := range []string{`name="parts[0].minutes"`, `name="symptoms"`, `name="reports"`, `action="/log"`, "does not watch your logs live"} {
		if !strings.Contains(shell.body, want) {
			t.Errorf("the page that a phone keeps lacks %s", want)
		}
	}
	if seen := s.Count(`SELECT count(*) FROM audit WHERE action = 'phone.view' AND client_id = $1 AND actor_id = $2`, client, account.ID); seen != 2 {
		t.Errorf("%d entries in the audit trail for two looks", seen)
	}
}

// TestPhoneSpeaksSpanish asks for what is kept in the client's language.
func TestPhoneSpeaksSpanish(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	s.ScreenClient(client)
	b := s.as("jon")
	english := kitOf(t, b.get("/phone").body)
	if r := b.post("/account/preferences", "language", "es", "units", "km"); r.status != http.StatusSeeOther {
		t.Fatalf("the language: %d %.300s", r.status, r.body)
	}
	spanish := kitOf(t, b.get("/phone").body)
	if spanish.Lang != "es" || spanish.Shell == english.Shell {
		t.Errorf("language %q, shell %s and %s", spanish.Lang, english.Shell, spanish.Shell)
	}
	for key, text := range english.Words {
		if spanish.Words[key] == text && strings.Contains(text, " ") && key != "min" {
			t.Errorf("%s is %q in both languages", key, text)
		}
	}
	if !strings.Contains(b.get("/offline").body, "Ahora no hay señal") {
		t.Error("the page that is kept is not in Spanish")
	}
}

// TestServiceWorker reads what browsers ask for at the top of the site.
func TestServiceWorker(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	r := s.browser().get("/sw.js")
	if r.status != http.StatusOK || r.header.Get("Content-Type") != "text/javascript; charset=utf-8" || r.header.Get("Cache-Control") != "no-cache" {
		t.Errorf("%d, %s, %s", r.status, r.header.Get("Content-Type"), r.header.Get("Cache-Control"))
	}
	// What it keeps is there, and nothing that could be about somebody.
	_, list, _ := strings.Cut(r.body, "FILES = [")
	list, _, _ = strings.Cut(list, "]")
	var kept int
	for quoted := range strings.SplitSeq(list, ", ") {
		kept++
		path := strings.Trim(quoted, `"`)
		if got := s.browser().get(path); got.status != http.StatusOK || !strings.HasPrefix(path, "/static/") {
			t.Errorf("it keeps %s: %d", path, got.status)
		}
	}
	if kept < 3 {
		t.Errorf("it keeps %d files", kept)
	}
}

// TestLogForAnotherAccount sends a log that was written under another account, as
// a page does that is still open from before.
func TestLogForAnotherAccount(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	one, two := s.Client(), s.Client()
	jon := s.JoinClient(one, "jon")
	tilda := s.JoinClient(two, "tilda")
	s.ScreenClient(one)
	s.ScreenClient(two)
	b := s.as("tilda")
	send := func(account string) reply {
		in := storetest.Walk(20)
		form := "id=" + in.ID.String() + "&day=" + in.Day.String() + "&symptoms=no&parts[0].activity=walk_brisk&parts[0].minutes=20&parts[0].talk=sentences"
		request, err := http.NewRequest(http.MethodPost, s.server.URL+"/log", strings.NewReader(form))
		if err != nil {
			t.Fatal(err)
		}
		request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		request.Header.Set("Sec-Fetch-Site", "same-origin")
		request.Header.Set("Accept", "application/json")
		request.Header.Set("Brae-Account", account)
		return b.do(request)
	}
	if r := send(jon.ID.String()); r.status != http.StatusUnauthorized {
		t.Errorf("a log of somebody else's: %d", r.status)
	}
	week, err := s.Week(t.Context(), s.Mira.Actor(), two)
	if err != nil || len(week.Sessions) != 0 {
		t.Errorf("%d sessions, %v", len(week.Sessions), err)
	}
	if r := send(tilda.ID.String()); r.status != http.StatusCreated {
		t.Errorf("one's own log: %d %s", r.status, r.body)
	}
}

// TestSignOutLeavesTheOutbox: what the browser is told to drop at the sign-out
// does not include what has not been sent. Source: W3C, Clear Site Data: the type
// "storage" would take the database of the page with it.
func TestSignOutLeavesTheOutbox(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	if got := s.as("jon").post("/sign-out").header.Get("Clear-Site-Data"); got != `"cache"` {
		t.Errorf("Clear-Site-Data is %s", got)
	}
}
