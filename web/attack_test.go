package web_test

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/base64"
	"fmt"
	"io"
	"log/slog"
	"math"
	mathrand "math/rand/v2"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"regexp"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"brae/store"
	"brae/store/storetest"
	"brae/web"
)

// behindProxy is a site with a proxy on this machine in front of it.
func behindProxy(t testing.TB) *site {
	t.Helper()
	return behindProxyOf(newSite(t))
}

// behindProxyOf serves a site once more, behind a proxy.
func behindProxyOf(direct *site) *site {
	s, t := *direct, direct.t
	t.Helper()
	handler, err := web.New(web.Config{
		Store: s.Store, Now: s.Tick, Origin: &url.URL{Scheme: "http", Host: "brae.test"}, TrustedProxies: []string{"127.0.0.0/8", "::1/128"},
		Log: slog.New(slog.NewTextHandler(io.MultiWriter(s.log, t.Output()), &slog.HandlerOptions{Level: slog.LevelInfo})),
	})
	if err != nil {
		t.Fatal(err)
	}
	s.server = httptest.NewServer(handler)
	t.Cleanup(s.server.Close)
	return &s
}

// send sends a request with a form and headers; names and values come in turn.
func (b *browser) send(method, path string, header http.Header, fields ...string) reply {
	b.t.Helper()
	form := url.Values{}
	for i := 0; i < len(fields); i += 2 {
		form.Add(fields[i], fields[i+1])
	}
	request, err := http.NewRequest(method, b.server.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		b.t.Fatal(err)
	}
	request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	request.Header.Set("Sec-Fetch-Site", "same-origin")
	for name, values := range header {
		request.Header[name] = values
	}
	if host := header.Get("Host"); host != "" {
		request.Host = host
	}
	return b.do(request)
}

// state is a fingerprint of all that people have saved.
func (s *site) state() string {
	s.t.Helper()
	var all string
	for _, table := range []string{
		"practice", "accounts", "join_links", "clients", "intake_drafts", "screenings", "holds", "prescriptions",
		"sessions", "session_parts", "week_totals", "settings", "signatures",
	} {
		var sum string
		if err := s.Pool.QueryRow(context.Background(),
			`SELECT md5(coalesce(string_agg(t::text, '|' ORDER BY t::text), '')) FROM `+table+` t`).Scan(&sum); err != nil {
			s.t.Fatal(err)
		}
		all += table + " " + sum + "\n"
	}
	return all
}

// change is a change of a record with a form that is right in all, and who may
// make it.
type change struct {
	path   string
	fields []string
	who    string
}

// changes are all changes of a record and of the practice, for a client of Mira
// who has nothing yet but an intake under way.
func changes(s *site, client uuid.UUID) []change {
	draft := []string{"version", "1"}
	for field, value := range storetest.Answers() {
		draft = append(draft, field, value)
	}
	base := "/clients/" + client.String()
	return []change{
		{base + "/intake/goal", append(draft, "goal", "to climb stairs", "do", "stay"), "mira"},
		{base + "/screening", []string{"version", "2"}, "mira"},
		{base + "/prescription", []string{
			"version", "0", "class", "moderate", "sessions_per_week", "3", "minutes_per_session", "20", "target", "60", "activities", "Walking",
		}, "mira"},
		{base + "/invite", []string{"sign_in_name", "new-client"}, "mira"},
		{"/people", []string{"name", "Nora", "sign_in_name", "nora"}, "ines"},
		{"/people/" + s.Tomas.ID.String() + "/link", nil, "ines"},
		{"/sources/sign", []string{"version", "0", "name", "Ines Harrow"}, "ines"},
		{"/sources/settings", []string{"version", "0", "reason", "local habit", "volume.log_days", "5"}, "ines"},
		{"/people/" + s.Tomas.ID.String() + "/close", nil, "ines"},
	}
}

// TestForeignChanges sends every change, filled in right, as all who may not make
// it, and then as who may.
func TestForeignChanges(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.JoinClient(s.Client(), "tilda")
	client := s.Client()
	storetest.Must(s.SaveIntake(t.Context(), s.Mira.Actor(), client, 0, storetest.Answers()))
	all := map[string]*browser{"nobody": s.browser()}
	for _, name := range []string{"tilda", "tomas", "mira", "ines"} {
		all[name] = s.as(name)
	}
	for _, c := range changes(s, client) {
		before := s.state()
		for who, b := range all {
			if who == c.who || who == "ines" {
				continue
			}
			if r := b.post(c.path, c.fields...); r.status != http.StatusForbidden && r.status != http.StatusNotFound && r.status != http.StatusSeeOther {
				t.Errorf("%s as %s: %d; want a refusal", c.path, who, r.status)
			}
			if s.state() != before {
				t.Fatalf("%s as %s changed something", c.path, who)
			}
		}
		if r := all[c.who].post(c.path, c.fields...); r.status != http.StatusSeeOther && r.status != http.StatusOK {
			t.Errorf("%s as %s: %d; want it done", c.path, c.who, r.status)
		}
		if s.state() == before {
			t.Errorf("%s as %s changed nothing", c.path, c.who)
		}
	}
}

// TestForeignSession asks for a session of another client as one's own.
func TestForeignSession(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	jon, tilda := s.Client(), s.Client()
	s.JoinClient(jon, "jon")
	tildas := s.JoinClient(tilda, "tilda")
	walk := storetest.Walk(31)
	storetest.Must(s.LogSession(t.Context(), tildas.Actor(), tilda, walk))
	if r := s.as("tilda").get("/log?again=" + walk.ID.String()); r.status != http.StatusOK || !strings.Contains(r.body, `value="31"`) {
		t.Errorf("as tilda: %d; want her session", r.status)
	}
	b := s.as("jon")
	if r, none := b.get("/log?again="+walk.ID.String()), b.get("/log?again="+uuid.NewString()); r.status != http.StatusNotFound || r.body != none.body {
		t.Errorf("as jon: %d; want the answer to a session that is not there", r.status)
	}
}

// TestGuessedIDs guesses records at random and next to one that exists.
func TestGuessedIDs(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	real := s.Client()
	b := s.as("tomas")
	guesses := []uuid.UUID{real}
	for i := range 60 {
		near := real
		near[15] += byte(i + 1)
		if i%2 == 0 {
			near = uuid.New()
		}
		guesses = append(guesses, near)
	}
	var there, nowhere []time.Duration
	for _, id := range guesses {
		for _, id := range []uuid.UUID{real, id} {
			began := time.Now()
			r := b.get("/clients/" + id.String())
			took := time.Since(began)
			if r.status != http.StatusNotFound {
				t.Fatalf("%s: %d", id, r.status)
			}
			if id == real {
				there = append(there, took)
			} else {
				nowhere = append(nowhere, took)
			}
		}
	}
	if a, b := median(there), median(nowhere); !raced && (a-b).Abs() > max(5*time.Millisecond, b/2) {
		t.Errorf("a record that exists takes %v, one that does not %v", a, b)
	}
}

func median(d []time.Duration) time.Duration {
	slices.Sort(d)
	return d[len(d)/2]
}

// TestExtraFields adds to each form what it does not ask.
func TestExtraFields(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	jon, tilda := s.Client(), s.Client()
	s.JoinClient(jon, "jon")
	s.JoinClient(tilda, "tilda")
	s.ScreenClient(jon, "q.diabetes_type_2", "yes") // vigorous on hold
	extra := []string{
		"role", "lead", "id", uuid.NewString(), "client", tilda.String(), "client_id", tilda.String(), "account", s.Lead.ID.String(),
		"account_id", s.Lead.ID.String(), "practitioner_id", s.Tomas.ID.String(), "practitioner", s.Tomas.ID.String(),
		"hold", "none", "holds", "", "ceiling", "near_maximal", "decision", "{}", "released_at", "2026-01-01", "created_at", "2001-01-01",
		"closed_at", "2026-01-01", "disabled_at", "", "credentials", "99", "signed_by", s.Tomas.ID.String(), "logged_by", s.Lead.ID.String(),
		"Role", "lead", "ID", uuid.NewString(), "PractitionerID", s.Tomas.ID.String(), "zones", "{}", "screening_id", uuid.NewString(),
		"parts[0].class", "vigorous", "parts[0].safety", "light", "parts[0].Class", "vigorous", "week", "2001-01-01", "totals", "9999",
	}
	post := func(who, path string, want int, fields ...string) {
		t.Helper()
		if r := s.as(who).post(path, append(fields, extra...)...); r.status != want {
			t.Errorf("%s: %d; want %d", path, r.status, want)
		}
	}
	post("mira", "/clients", http.StatusSeeOther, "given_name", "Extra", "family_name", "Field", "birth_date", "1970-01-01")
	post("ines", "/people", http.StatusOK, "name", "Extra", "sign_in_name", "extra")
	post("mira", "/clients/"+jon.String()+"/prescription", http.StatusSeeOther, "version", "0", "class", "moderate",
		"sessions_per_week", "3", "minutes_per_session", "20", "target", "60", "activities", "Walking")
	post("jon", "/log", http.StatusSeeOther, "id", uuid.NewString(), "day", storetest.Day.String(),
		"parts[0].activity", "walk_brisk", "parts[0].minutes", "30", "parts[0].talk", "sentences", "symptoms", "no")
	post("jon", "/account/passphrase", http.StatusSeeOther, "old", storetest.Passphrase, "passphrase", "moss under the bridge")
	token := storetest.Must(s.AddPractitioner(t.Context(), s.Lead.Actor(), "Joiner", "joiner"))
	if r := s.browser().post("/join/"+token, append(extra, "passphrase", storetest.Passphrase, "sign_in_name", "other", "name", "Other")...); r.status != http.StatusSeeOther {
		t.Errorf("join: %d", r.status)
	}
	for what, count := range map[string]int{
		"a client of Mira's, open and of today":  s.Count(`SELECT count(*) FROM clients WHERE given_name = 'Extra' AND practitioner_id = $1 AND closed_at IS NULL AND created_at = $2`, s.Mira.ID, storetest.Now),
		"a practitioner":                         s.Count(`SELECT count(*) FROM accounts WHERE sign_in_name = 'extra' AND role = 'practitioner' AND credentials = 1`),
		"a practitioner who has joined":          s.Count(`SELECT count(*) FROM accounts WHERE sign_in_name = 'joiner' AND role = 'practitioner' AND name = 'Joiner'`),
		"a prescription of Jon's signed by Mira": s.Count(`SELECT count(*) FROM prescriptions WHERE client_id = $1 AND signed_by = $2 AND class = 'moderate'`, jon, s.Mira.ID),
		"a session of Jon's, moderate":           s.Count(`SELECT count(*) FROM sessions s JOIN session_parts p ON p.session_id = s.id WHERE client_id = $1 AND class = 'moderate' AND safety = 'moderate'`, jon),
		"the hold, open":                         s.Count(`SELECT count(*) FROM holds WHERE client_id = $1 AND released_at IS NULL`, jon),
		"one lead, untouched":                    s.Count(`SELECT count(*) FROM accounts WHERE role = 'lead' AND id = $1 AND credentials = $2`, s.Lead.ID, s.Lead.Credentials),
	} {
		if count != 1 {
			t.Errorf("%s: %d rows; want 1", what, count)
		}
	}
	if n := s.Count(`SELECT count(*) FROM sessions WHERE client_id = $1`, tilda) + s.Count(`SELECT count(*) FROM clients WHERE practitioner_id = $1`, s.Tomas.ID); n != 0 {
		t.Errorf("%d rows went to somebody else", n)
	}
}

// TestClientsReadNothingOfStaff looks on a client's pages for what the practice
// wrote down for itself.
func TestClientsReadNothingOfStaff(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	jon := s.Client()
	s.JoinClient(jon, "jon")
	s.ScreenClient(jon, "goal", "canary-goal", "medicines", "canarymedicine 5 mg", "q.diabetes_type_2", "yes")
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), jon, storetest.Walking(0)))
	week := storetest.Must(s.Week(t.Context(), s.Mira.Actor(), jon))
	secret := []string{"canary-goal", "canarymedicine", week.Holds[0].Reason, week.Holds[0].Cause, week.Holds[0].Rule}
	b := s.as("jon")
	for _, path := range []string{"/week", "/plan", "/log", "/account"} {
		for _, text := range secret {
			if strings.Contains(b.get(path).body, text) {
				t.Errorf("%s shows %q", path, text)
			}
		}
	}
	if r := s.as("mira").get("/clients/" + jon.String() + "/intake/goal"); !strings.Contains(r.body, "canary-goal") {
		t.Error("the practitioner does not see the goal")
	}
}

// TestHoldIsNotBypassed posts what the pages do not offer: harder work than is
// allowed, and steps before their turn.
func TestHoldIsNotBypassed(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	prescribe := func(client uuid.UUID, class string) reply {
		return b.post("/clients/"+client.String()+"/prescription", "version", "0", "class", class,
			"sessions_per_week", "3", "minutes_per_session", "20", "target", "60", "activities", "Walking", "confirmed", "yes", "override", "yes")
	}
	unscreened, held, stopped := s.Client(), s.Client(), s.Client()
	s.ScreenClient(held, "q.diabetes_type_2", "yes")
	s.ScreenClient(stopped, "q.chest_pressure", "yes")
	for _, tt := range []struct {
		reason string
		client uuid.UUID
		class  string
		want   int
	}{
		{"nobody has screened", unscreened, "light", http.StatusConflict},
		{"vigorous is on hold", held, "vigorous", http.StatusUnprocessableEntity},
		{"no such prescription", held, "near_maximal", http.StatusUnprocessableEntity},
		{"no such prescription", held, "none", http.StatusUnprocessableEntity},
		{"no such class", held, "VIGOROUS ", http.StatusUnprocessableEntity},
		{"all is on hold", stopped, "light", http.StatusUnprocessableEntity},
		{"all is on hold", stopped, "vigorous", http.StatusUnprocessableEntity},
	} {
		if r := prescribe(tt.client, tt.class); r.status != tt.want {
			t.Errorf("%s: %d; want %d", tt.reason, r.status, tt.want)
		}
	}
	if n := s.Count(`SELECT count(*) FROM prescriptions`); n != 0 {
		t.Errorf("%d prescriptions were signed", n)
	}
	if r := prescribe(held, "moderate"); r.status != http.StatusSeeOther {
		t.Errorf("what is allowed: %d", r.status)
	}
	for _, version := range []string{"0", "1", "-1", "99999999999999999999", "x"} {
		if r := b.post("/clients/"+unscreened.String()+"/screening", "version", version); r.status != http.StatusConflict {
			t.Errorf("a decision without an intake, version %s: %d; want %d", version, r.status, http.StatusConflict)
		}
	}
	storetest.Must(s.SaveIntake(t.Context(), s.Mira.Actor(), unscreened, 0, store.Answers{"goal": "x"}))
	b.post("/clients/"+unscreened.String()+"/screening", "version", "1")
	if n := s.Count(`SELECT count(*) FROM screenings WHERE client_id = $1`, unscreened); n != 0 {
		t.Error("an empty intake was decided")
	}
}

// TestGuessing guesses one passphrase many times, from as many addresses.
func TestGuessing(t *testing.T) {
	t.Parallel()
	s := behindProxy(t)
	owner := s.as("mira")
	var guesses sync.WaitGroup
	next := make(chan int)
	for range 3 {
		guesses.Go(func() {
			for i := range next {
				from := http.Header{"X-Forwarded-For": {fmt.Sprintf("198.51.100.%d", i)}}
				if r := s.browser().send(http.MethodPost, "/sign-in", from, "name", "mira", "passphrase", "a wrong one"); r.status != http.StatusUnprocessableEntity {
					t.Errorf("guess %d: %d", i, r.status)
				}
			}
		})
	}
	for i := range 24 {
		if i == 12 {
			s.Wait(31 * time.Second)
		}
		next <- i
	}
	close(next)
	guesses.Wait()
	// NIST SP 800-63B-4, 3.2.2: at most 100 in a row. Here: five, then one after each
	// wait.
	n := s.Count(`SELECT count(*) FROM audit WHERE action = 'account.sign_in_failed' AND detail ->> 'waiting' = 'false'`)
	if n != 6 {
		t.Errorf("%d of 24 guesses were compared; want 6", n)
	}
	if r := owner.get("/clients"); r.status != http.StatusOK {
		t.Errorf("the owner, who was signed in before: %d", r.status)
	}
	if n := strings.Count(s.log.String(), `msg="sign-in refused"`); n != 24 {
		t.Errorf("%d lines in the log; want 24", n)
	}
}

// TestAddressIsNotInvented changes what a browser can say about its address.
func TestAddressIsNotInvented(t *testing.T) {
	t.Parallel()
	direct := newSite(t)
	for _, tt := range []struct {
		name    string
		site    *site
		forward func(i int) string
	}{
		{"without a proxy", direct, func(i int) string { return fmt.Sprintf("198.51.100.%d", i) }},
		{"left of what the proxy adds", behindProxyOf(direct), func(i int) string { return fmt.Sprintf("198.51.100.%d, 203.0.113.7", i) }},
		{"IPv6 addresses of one network", behindProxyOf(direct), func(i int) string { return fmt.Sprintf("2001:db8::%x", i+1) }},
	} {
		last := 0
		for i := range 31 {
			from := http.Header{}
			for _, name := range []string{"X-Forwarded-For", "X-Real-Ip", "True-Client-Ip", "Forwarded"} {
				from.Set(name, tt.forward(i))
			}
			last = tt.site.browser().send(http.MethodGet, "/join/x", from).status
		}
		if last != http.StatusTooManyRequests {
			t.Errorf("%s, the 31st try: %d; want %d", tt.name, last, http.StatusTooManyRequests)
		}
		if log := direct.log.String(); strings.Contains(log, "198.51.100") || !strings.Contains(log, "too many requests from one address") {
			t.Errorf("%s: the log believes the browser, or says nothing", tt.name)
		}
	}
}

// TestFloodOfSignIns is not parallel: it watches the memory of this process.
func TestFloodOfSignIns(t *testing.T) {
	if raced {
		t.Skip("memory is not what it is")
	}
	s := behindProxy(t)
	debug.FreeOSMemory()
	before, most := resident(t), 0
	var flood sync.WaitGroup
	for i := range 64 {
		flood.Go(func() {
			from := http.Header{"X-Forwarded-For": {fmt.Sprintf("198.51.100.%d", i)}}
			if r := s.browser().send(http.MethodPost, "/sign-in", from, "name", "mira", "passphrase", "x"); r.status != http.StatusUnprocessableEntity && r.status != http.StatusServiceUnavailable {
				t.Errorf("%d", r.status)
			}
		})
	}
	done := make(chan struct{})
	go func() { flood.Wait(); close(done) }()
	slowest := time.Duration(0)
	for running := true; running; {
		select {
		case <-done:
			running = false
		case <-time.After(5 * time.Millisecond):
			began := time.Now()
			if r := s.browser().get("/sign-in"); r.status != http.StatusOK {
				t.Errorf("another page: %d", r.status)
			}
			slowest = max(slowest, time.Since(began))
			most = max(most, resident(t))
		}
	}
	// All at once, the 64 would take more than a gigabyte. What tests before this
	// one have left behind is in the figure, too.
	if grew := most - before; grew > 300 {
		t.Errorf("64 sign-ins at once took %d MB; want at most 300", grew)
	}
	t.Logf("%d MB more, another page %v at most", most-before, slowest)
}

// resident is the memory of this process in megabytes.
func resident(t testing.TB) int {
	t.Helper()
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		t.Skip(err)
	}
	m := regexp.MustCompile(`VmRSS:\s+(\d+) kB`).FindSubmatch(status)
	kb, err := strconv.Atoi(string(m[1]))
	if err != nil {
		t.Fatal(err)
	}
	return kb / 1024
}

// TestSignInTellsNoNames compares the answers to names that exist and that do not.
func TestSignInTellsNoNames(t *testing.T) {
	t.Parallel()
	s := behindProxy(t)
	storetest.Must(s.AddPractitioner(t.Context(), s.Lead.Actor(), "Not Joined", "notjoined"))
	closed := s.Practitioner("closed")
	if err := s.DisableAccount(t.Context(), s.Lead.Actor(), closed.ID); err != nil {
		t.Fatal(err)
	}
	from := 0
	sign := func(as, phrase string) (reply, time.Duration) {
		from++
		b, began := s.browser(), time.Now()
		r := b.send(http.MethodPost, "/sign-in", http.Header{"X-Forwarded-For": {fmt.Sprintf("198.51.100.%d", from)}}, "name", as, "passphrase", phrase)
		took := time.Since(began)
		r.body = strings.ReplaceAll(r.body, `value="`+as+`"`, "value")
		return r, took
	}
	none, _ := sign("nobody", "x")
	took := map[string][]time.Duration{}
	names := []string{"nobody", "tomas", "notjoined", "closed"}
	for range 12 {
		s.Wait(16 * time.Minute) // so that the account does not wait
		mathrand.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
		for _, who := range names {
			phrase := "a wrong one"
			if who == "closed" {
				phrase = storetest.Passphrase
			}
			r, d := sign(who, phrase)
			if r.status != none.status || r.body != none.body || len(r.header["Set-Cookie"]) != 0 {
				t.Fatalf("%s: %d; want the answer to a name that nobody has", who, r.status)
			}
			took[who] = append(took[who], d)
		}
	}
	// The times are told and not judged: a busy machine moves them more than a name.
	for who, d := range took {
		t.Logf("%s takes %v", who, median(d))
	}
}

// TestPassphrases chooses passphrases that everybody guesses, and ones that a
// form likes to spoil.
func TestPassphrases(t *testing.T) {
	t.Parallel()
	s := behindProxy(t)
	token := storetest.Must(s.AddPractitioner(t.Context(), s.Lead.Actor(), "Nora Lindqvist", "nora.lindqvist"))
	for i, weak := range []string{
		"", "short", "elevenchars", "password1234", "passwordpassword", "123456789012", "1234567890qwerty", "qwertyuiopas",
		"1q2w3e4r5t6y", "q1w2e3r4t5y6", "1qaz2wsx3edc", "zaq12wsxcde3", "administrator", "administrator1", "aaaaaaaaaaaaaaaa",
		"monkeymonkey", "dragondragon", "trustno1trustno1", "iloveyouiloveyou", "abcdabcdabcd", "nora.lindqvist", "Nora Lindqvist 1", "nora.lindqvist12",
		"123qweasdzxc", "mailcreated5240", "qazwsxedcrfv", "123456qwerty", "qwerty123456", "112233445566", "zxcasdqwe123",
		"Ridge Lane Rehab", "ridgelanerehab", "braebraebrae", "qwertyqwerty", "abcdefghijkl", "P@ssw0rd1234", "Passw0rd!2026", "letmeinletmein",
	} {
		from := http.Header{"X-Forwarded-For": {fmt.Sprintf("198.51.100.%d", i)}}
		if r := s.browser().send(http.MethodPost, "/join/"+token, from, "passphrase", weak); r.status != http.StatusUnprocessableEntity {
			t.Fatalf("%q: %d; want it refused", weak, r.status)
		}
	}
	for i, strong := range []string{
		storetest.Passphrase, " space before and behind ", "tab\tand \"quotes' & <b>%41+", strings.Repeat("long and winding ", 7), "ein Wort über den Grat",
		"密码在山坡上的石南花和苔藓", "🥾🏔️ wandern bis es dunkelt", "no-digits-no-capitals",
	} {
		name := fmt.Sprint("person", i)
		from := http.Header{"X-Forwarded-For": {fmt.Sprintf("203.0.113.%d", i)}}
		token := storetest.Must(s.AddPractitioner(t.Context(), s.Lead.Actor(), "Person", name))
		if r := s.browser().send(http.MethodPost, "/join/"+token, from, "passphrase", strong); r.status != http.StatusSeeOther {
			t.Errorf("%q: %d; want it taken", strong, r.status)
			continue
		}
		if r := s.browser().send(http.MethodPost, "/sign-in", from, "name", name, "passphrase", strong); r.status != http.StatusSeeOther {
			t.Errorf("sign in with %q: %d", strong, r.status)
		}
		if other := strings.TrimSpace(strings.ToUpper(strong)); other != strong {
			if r := s.browser().send(http.MethodPost, "/sign-in", from, "name", name, "passphrase", other); r.status == http.StatusSeeOther {
				t.Errorf("%q opens what %q closes", other, strong)
			}
		}
	}
}

// TestJoinLinks uses links that are no longer to be used, and links of the wrong
// kind.
func TestJoinLinks(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	invite := func(name string) string {
		return storetest.Must(s.AddPractitioner(t.Context(), s.Lead.Actor(), name, name))
	}
	join := func(token string) int {
		b := s.browser()
		return b.post("/join/"+token, "passphrase", "moss under the bridge").status
	}
	used, voided, closed, old, good := invite("used"), invite("voided"), invite("closed"), invite("old"), invite("good")
	if got := join(used); got != http.StatusSeeOther {
		t.Fatalf("a good link: %d", got)
	}
	for _, name := range []string{"voided", "closed"} {
		id := account(s, name)
		var err error
		if name == "voided" {
			_, _, err = s.NewAccountLink(t.Context(), s.Lead.Actor(), id)
		} else {
			err = s.DisableAccount(t.Context(), s.Lead.Actor(), id)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	dead := func(what, token string) {
		t.Helper()
		if r := s.browser().get("/join/" + token); r.status != http.StatusNotFound {
			t.Errorf("a link %s: %d; want %d", what, r.status, http.StatusNotFound)
		}
		if got := join(token); got != http.StatusNotFound {
			t.Errorf("joining by a link %s: %d; want %d", what, got, http.StatusNotFound)
		}
	}
	dead("that is used", used)
	dead("voided by a newer one", voided)
	dead("of a closed account", closed)
	dead("that is cut short", good[:20])
	s.Wait(71 * time.Hour)
	if r := s.browser().get("/join/" + good); r.status != http.StatusOK || r.header.Get("Referrer-Policy") != "no-referrer" {
		t.Errorf("a link of 71 hours: %d, referrer policy %q", r.status, r.header.Get("Referrer-Policy"))
	}
	if r := s.browser().post("/set-up/"+good, "practice", "P", "zone", "UTC", "emergency_number", "112", "name", "N", "sign_in_name", "second-lead",
		"passphrase", "moss under the bridge"); r.status != http.StatusNotFound {
		t.Errorf("an invitation used for the set-up: %d", r.status)
	}
	if got := join(good); got != http.StatusSeeOther {
		t.Errorf("after that it is still good: %d", got)
	}
	s.Wait(2 * time.Hour)
	dead("of 73 hours", old)
	if len(good) < 26 { // base 32: 5 bits each, 128 bits and more
		t.Errorf("a token has %d characters", len(good))
	}
	if n := s.Count(`SELECT count(*) FROM join_links WHERE $1 LIKE '%' || token_hash || '%' OR token_hash LIKE '%' || $1 || '%'`, good); n != 0 {
		t.Error("the token is stored readable")
	}
}

func account(s *site, name string) uuid.UUID {
	s.t.Helper()
	var id uuid.UUID
	if err := s.Pool.QueryRow(context.Background(), `SELECT id FROM accounts WHERE sign_in_name = $1`, name).Scan(&id); err != nil {
		s.t.Fatal(err)
	}
	return id
}

// TestReadingChangesNothing sends every change by a method that is not for it.
func TestReadingChangesNothing(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	storetest.Must(s.SaveIntake(t.Context(), s.Mira.Actor(), client, 0, storetest.Answers()))
	all := map[string]*browser{"mira": s.as("mira"), "ines": s.as("ines")}
	before := s.state()
	for _, c := range append(changes(s, client), change{"/clients", []string{"given_name", "A", "family_name", "B", "birth_date", "1970-01-01"}, "mira"}) {
		query := url.Values{}
		for i := 0; i < len(c.fields); i += 2 {
			query.Set(c.fields[i], c.fields[i+1])
		}
		override := http.Header{"X-Http-Method-Override": {"POST"}, "X-Http-Method": {"POST"}, "X-Method-Override": {"POST"}}
		for _, method := range []string{http.MethodGet, http.MethodHead, http.MethodPut, http.MethodPatch, http.MethodDelete, http.MethodOptions, "TRACE"} {
			r := all[c.who].send(method, c.path+"?_method=POST&"+query.Encode(), override, c.fields...)
			if r.status >= http.StatusInternalServerError || strings.Contains(r.body, "to climb stairs") && method == "TRACE" {
				t.Errorf("%s %s: %d", method, c.path, r.status)
			}
		}
		if len(c.fields) > 0 { // what stands in the address is not a form
			all[c.who].send(http.MethodPost, c.path+"?"+query.Encode(), nil)
		}
	}
	if after := s.state(); after != before {
		t.Errorf("before:\n%safter:\n%s", before, after)
	}
}

// TestRoleIsAskedEachTime changes what an account may do while it is signed in.
func TestRoleIsAskedEachTime(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	set := func(role string) {
		if _, err := s.Pool.Exec(t.Context(), `UPDATE accounts SET role = $2 WHERE id = $1`, s.Mira.ID, role); err != nil {
			t.Fatal(err)
		}
	}
	for _, tt := range []struct {
		role string
		want int
	}{{"practitioner", http.StatusForbidden}, {"lead", http.StatusOK}, {"practitioner", http.StatusForbidden}} {
		set(tt.role)
		if r := b.get("/people"); r.status != tt.want {
			t.Errorf("as %s: %d; want %d", tt.role, r.status, tt.want)
		}
	}
}

// TestSignInsAreEnded ends sign-ins in each way and asks with all of them.
func TestSignInsAreEnded(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	dead := func(reason string, browsers ...*browser) {
		t.Helper()
		for _, b := range browsers {
			if r := b.get("/account"); r.status != http.StatusSeeOther {
				t.Errorf("%s: %d; want to be sent to sign in", reason, r.status)
			}
		}
	}
	one, two, three := s.as("mira"), s.as("mira"), s.as("mira")
	if r := one.post("/account/passphrase", "old", storetest.Passphrase, "passphrase", "moss under the bridge"); r.status != http.StatusSeeOther {
		t.Fatalf("change the passphrase: %d", r.status)
	}
	if r := one.get("/account"); r.status != http.StatusOK {
		t.Errorf("the browser that changed it: %d", r.status)
	}
	dead("after a change of the passphrase", two, three)

	other := s.as("tomas")
	if r := s.as("ines").post("/people/" + s.Tomas.ID.String() + "/link"); r.status != http.StatusOK {
		t.Fatalf("a new link: %d", r.status)
	}
	dead("after a new link", other)

	if r := s.as("ines").post("/people/" + s.Mira.ID.String() + "/close"); r.status != http.StatusSeeOther {
		t.Fatalf("close: %d", r.status)
	}
	dead("of a closed account", one)

	b := s.as("ines")
	r := b.post("/sign-out")
	if got := r.header.Get("Clear-Site-Data"); !strings.Contains(got, `"cache"`) || !strings.Contains(r.header.Get("Set-Cookie"), "Max-Age=0") {
		t.Errorf("signing out: Clear-Site-Data %q, cookie %q", got, r.header.Get("Set-Cookie"))
	}
	dead("signed out", b)
}

// TestSignInEndsAfterADay keeps a practitioner's browser busy for twelve hours.
func TestSignInEndsAfterADay(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	for range 24 {
		s.Wait(29*time.Minute + 59*time.Second)
		if r := b.get("/account"); r.status != http.StatusOK {
			t.Fatalf("within twelve hours: %d", r.status)
		}
	}
	s.Wait(time.Minute)
	if r := b.get("/account"); r.status != http.StatusSeeOther {
		t.Errorf("after twelve hours: %d; want to be sent to sign in", r.status)
	}
}

// TestTokens looks at the tokens of many browsers.
func TestTokens(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	const n = 300
	known := map[string]bool{}
	ones, bits := 0, 0
	for range n {
		w := httptest.NewRecorder()
		s.server.Config.Handler.ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/review", nil))
		token := w.Result().Cookies()[0].Value
		raw, err := base64.RawURLEncoding.DecodeString(token)
		if err != nil || len(raw) < 16 || known[token] { // OWASP ASVS 5.0, 7.2.3: 128 bits
			t.Fatalf("token %q: %d bytes, %v, seen before: %t", token, len(raw), err, known[token])
		}
		known[token] = true
		for _, b := range raw {
			for ; b > 0; b &= b - 1 {
				ones++
			}
			bits += 8
		}
	}
	if sigma := math.Sqrt(float64(bits)) / 2; math.Abs(float64(ones)-float64(bits)/2) > 4*sigma {
		t.Errorf("%d of %d bits are set", ones, bits)
	}
}

// TestStrangersFillNoDisk asks for many pages without signing in. What is kept of
// that is short and ends soon.
func TestStrangersFillNoDisk(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.browser().get("/clients?q=" + strings.Repeat("a", 8000))
	s.browser().get("/clients?q=a")
	if n := s.Count(`SELECT coalesce(max(length(data)), 0) FROM sign_ins`); n > 1000 {
		t.Errorf("%d bytes are kept of one request", n)
	}
	if n := s.Count(`SELECT count(*) FROM sign_ins WHERE expires_at > $1`, time.Now().Add(2*time.Hour)); n != 0 {
		t.Errorf("%d entries of strangers are kept for long", n)
	}
}

// TestReflection sends markup in every part of an address.
func TestReflection(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	jon := s.Client()
	s.JoinClient(jon, "jon")
	s.ScreenClient(jon)
	const markup = `"'><svg/onload=alert(1)>`
	escaped := url.QueryEscape(markup)
	record := "/clients/" + jon.String()
	mira, client, nobody := s.as("mira"), s.as("jon"), s.browser()
	check := func(b *browser, path string) {
		t.Helper()
		r := b.get(path)
		if r.status >= http.StatusInternalServerError || strings.Contains(r.body, "<svg/onload") || strings.Contains(r.body, `"'>`) {
			t.Errorf("%s: %d, or the markup is not text", path, r.status)
		}
	}
	names := []string{"q", "show", "sort", "page", "equation", "again", "next", "error", "message", "shown", escaped}
	for _, calculator := range []string{"zones", "week", "tests", "energy", "percentile", "medicines"} {
		page := mira.get("/numbers/" + calculator).body
		query := url.Values{}
		for _, m := range regexp.MustCompile(`name="([^"]+)"`).FindAllStringSubmatch(page, -1) {
			query.Set(m[1], markup)
		}
		if len(query) == 0 {
			t.Errorf("%s asks nothing", calculator)
		}
		check(mira, "/numbers/"+calculator+"?"+query.Encode())
	}
	query := url.Values{}
	for _, name := range names {
		query.Set(name, markup)
	}
	for _, path := range []string{"/clients", "/review", "/sources", record, record + "/prescription/new", record + "/intake/goal", record + "/decision"} {
		check(mira, path+"?"+query.Encode())
	}
	for _, path := range []string{"/week", "/log", "/plan", "/account"} {
		check(client, path+"?"+query.Encode())
	}
	escaped = url.PathEscape(markup)
	for _, path := range []string{"/" + escaped, "/clients/" + escaped, record + "/intake/" + escaped, "/numbers/" + escaped, "/static/" + escaped, "/join/" + escaped, "/set-up/" + escaped, "/sign-in?" + query.Encode()} {
		check(mira, path)
		check(nobody, path)
	}
}

// TestNothingIsKept asks for answers of all kinds.
func TestNothingIsKept(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	replies := map[string]reply{
		"page": b.get("/clients"), "redirect": s.browser().get("/clients"), "no such address": b.get("/nowhere"),
		"no such page of a record": b.get("/clients/" + uuid.NewString() + "/nowhere"), "not for this role": b.get("/people"),
		"another method": b.send(http.MethodPut, "/clients", nil), "from elsewhere": b.send(http.MethodPost, "/clients", http.Header{"Sec-Fetch-Site": {"cross-site"}}),
		"problem": b.post("/clients"), "too large": b.post("/clients", "given_name", strings.Repeat("a", 100<<10)), "health": b.get("/healthz"),
	}
	for range 25 {
		replies["too many"] = s.browser().post("/sign-in")
	}
	for what, r := range replies {
		if got := r.header.Get("Cache-Control"); got != "no-store" || r.header.Get("Content-Security-Policy") == "" {
			t.Errorf("%s (%d): Cache-Control %q, policy %q", what, r.status, got, r.header.Get("Content-Security-Policy"))
		}
	}
	style := regexp.MustCompile(`/static/css/brae\.[0-9a-f]+\.css`).FindString(b.get("/clients").body)
	if got := b.get(style).header.Get("Cache-Control"); !strings.Contains(got, "immutable") {
		t.Errorf("%s: Cache-Control %q", style, got)
	}
}

// injections are texts that a database must never read as its language.
var injections = []string{
	"'", "''", `"`, "' OR '1'='1", "' OR 1=1--", "') OR ('1'='1", "'; DROP TABLE clients;--", "1; SELECT pg_sleep(60)", "'||pg_sleep(60)--",
	"1 OR 1=1", "1) OR (1=1", "' UNION SELECT NULL,NULL--", "' AND 1=(SELECT count(*) FROM accounts)--", `\'; SELECT 1;--`, "$1", "$$", "$$;SELECT 1;$$",
	"@actor", "@role = 'lead'", "%' OR '%'='", "%", "_", `\`, `\%`, "E'\\x27'", "/**/OR/**/1=1", "CAST(1 AS int)", "0x27", "{}", "[1]", "name; --", "name DESC, (SELECT 1)", "1,2", "null", "::text",
}

// TestInjections puts them wherever the database gets something from outside.
func TestInjections(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id)
	b := s.as("mira")
	record := "/clients/" + id.String()
	if r := b.get("/clients?q=Ash"); !strings.Contains(r.body, id.String()) {
		t.Fatal("the search finds nothing")
	}
	before := s.state()
	for _, text := range injections {
		q := url.QueryEscape(text)
		for _, path := range []string{
			"/clients?q=" + q, "/clients?q=Ash" + q, "/review?show=" + q + "&sort=" + q + "&page=" + q, record + "/prescription/new?equation=" + q,
			"/clients/" + url.PathEscape(text), "/clients/" + id.String() + url.PathEscape(text), record + "/intake/" + url.PathEscape(text),
			"/join/" + url.PathEscape(text), "/numbers/" + url.PathEscape(text),
		} {
			r := b.get(path) // one that slept would run out of its time, and answer 503
			if r.status >= http.StatusInternalServerError || strings.Contains(r.body, "SQLSTATE") || strings.Contains(r.body, "syntax error") {
				t.Errorf("%s: %d", path, r.status)
			}
			if strings.HasPrefix(path, "/clients?q=") && strings.Contains(r.body, id.String()) {
				t.Errorf("%s finds a client", path)
			}
		}
		for _, r := range []reply{
			b.post(record+"/prescription", "version", text, "class", text, "sessions_per_week", text, "minutes_per_session", text, "target", text, "equation", text, "activities", text),
			b.post(record+"/screening", "version", text), b.post("/clients", "birth_date", text), b.post(record+"/intake/goal", "version", text, "desired", text),
		} {
			if r.status >= http.StatusInternalServerError || strings.Contains(r.body, "SQLSTATE") {
				t.Errorf("a form with %q: %d", text, r.status)
			}
		}
	}
	for i, line := range strings.Split(s.state(), "\n") {
		if before := strings.Split(before, "\n")[i]; line != before && !strings.HasPrefix(line, "intake_drafts") {
			t.Errorf("%s became %s", before, line)
		}
	}
}

// TestStaticStaysInside asks for files outside of the folder.
func TestStaticStaysInside(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for _, path := range []string{
		"/static/../go.mod", "/static/%2e%2e/go.mod", "/static/..%2f..%2fgo.mod", "/static/css/../../../etc/passwd", "/static//etc/passwd",
		"/static/css/brae.css%00", "/static/..%5c..%5cgo.mod", "/static/css", "/static/", "/static/css/.", "/static/static.go", "/static/%c0%ae%c0%ae/go.mod",
		"/static/" + strings.Repeat("../", 50) + "etc/passwd", "/static/" + strings.Repeat("a", 5000), "/join/..%2f..%2fpeople", "/.git/config", "/.env", "/debug/pprof/", "/debug/vars",
		"/metrics", "/go.mod", "/migrations/00001_accounts.sql",
	} {
		answer := s.raw("GET " + path + " HTTP/1.1\r\nHost: brae.test\r\nConnection: close\r\n\r\n")
		if !strings.HasPrefix(answer, "HTTP/1.1 404") && !strings.HasPrefix(answer, "HTTP/1.1 400") || strings.Contains(answer, "module brae") || strings.Contains(answer, "root:") {
			t.Errorf("%s: %.60q", path, answer)
		}
	}
}

// raw sends bytes to a server with the limits of [web.Server] and returns what
// comes back until it closes the connection.
func (s *site) raw(request string) string {
	s.t.Helper()
	conn := s.dial()
	defer conn.Close()
	_ = conn.SetDeadline(time.Now().Add(20 * time.Second))
	go func() { _, _ = io.WriteString(conn, request) }() // may be cut off
	answer, _ := io.ReadAll(conn)
	return string(answer)
}

func (s *site) dial() net.Conn {
	s.t.Helper()
	if s.limited == "" {
		socket, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			s.t.Fatal(err)
		}
		server := web.Server(s.server.Config.Handler, slog.New(slog.DiscardHandler))
		go func() { _ = server.Serve(socket) }()
		s.t.Cleanup(func() { _ = server.Close() })
		s.limited = socket.Addr().String()
	}
	conn, err := net.Dial("tcp", s.limited)
	if err != nil {
		s.t.Fatal(err)
	}
	return conn
}

// TestTooMuch sends more than is taken, and looks whether others are still served.
func TestTooMuch(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	form := "Content-Type: application/x-www-form-urlencoded\r\nSec-Fetch-Site: same-origin\r\n"
	for _, tt := range []struct{ name, want, request string }{
		{"a long address", "431", "GET /" + strings.Repeat("a", 1<<20) + " HTTP/1.1\r\nHost: brae.test\r\n\r\n"},
		{"a long header", "431", "GET / HTTP/1.1\r\nHost: brae.test\r\nX-Long: " + strings.Repeat("a", 40<<10) + "\r\n\r\n"},
		{"many headers", "431", "GET / HTTP/1.1\r\nHost: brae.test\r\n" + strings.Repeat("X-Many: a\r\n", 10000) + "\r\n"},
		{"many fields", "413", "POST /sign-in HTTP/1.1\r\nHost: brae.test\r\nConnection: close\r\n" + form + "Content-Length: 400000\r\n\r\n" + strings.Repeat("a=b&", 100000)},
		{"a large body", "413", "POST /sign-in HTTP/1.1\r\nHost: brae.test\r\nConnection: close\r\n" + form + "Content-Length: 20000005\r\n\r\nname=" + strings.Repeat("a", 20000000)},
		{"a large body in chunks", "413", "POST /sign-in HTTP/1.1\r\nHost: brae.test\r\nConnection: close\r\n" + form + "Transfer-Encoding: chunked\r\n\r\n100000\r\n" + "name=" + strings.Repeat("a", 1<<20-5)},
		{"many parts", "4", "POST /sign-in HTTP/1.1\r\nHost: brae.test\r\nConnection: close\r\nContent-Type: multipart/form-data; boundary=x\r\nSec-Fetch-Site: same-origin\r\nContent-Length: 600000\r\n\r\n" +
			strings.Repeat("--x\r\nContent-Disposition: form-data; name=\"name\"\r\n\r\na\r\n", 10000)},
	} {
		if answer := s.raw(tt.request); answer != "" && !strings.HasPrefix(answer, "HTTP/1.1 "+tt.want) {
			t.Errorf("%s: %.80q; want %s or a closed connection", tt.name, answer, tt.want)
		}
		if r := s.browser().get("/sign-in"); r.status != http.StatusOK {
			t.Errorf("after %s another page: %d", tt.name, r.status)
		}
	}
}

// TestSlowConnections opens many connections that never finish a request.
func TestSlowConnections(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	began := time.Now()
	var slow []net.Conn
	for range 60 {
		conn := s.dial()
		defer conn.Close()
		if _, err := io.WriteString(conn, "GET /sign-in HTTP/1.1\r\nHost: brae.test\r\nX-Slow: "); err != nil {
			t.Fatal(err)
		}
		slow = append(slow, conn)
	}
	if answer := s.raw("GET /sign-in HTTP/1.1\r\nHost: brae.test\r\nConnection: close\r\n\r\n"); !strings.HasPrefix(answer, "HTTP/1.1 200") {
		t.Errorf("another page: %.60q", answer)
	}
	for _, conn := range slow {
		_ = conn.SetReadDeadline(began.Add(12 * time.Second)) // twice the time for a header, and some for a busy machine
		if _, err := io.ReadAll(conn); err != nil {
			t.Fatalf("after %v a connection is open: %v", time.Since(began), err)
		}
	}
}

// TestRequestsThatTwoReadDifferently are those by which a proxy and Brae could
// lose step. Source: RFC 9112, 5.1, 5.2, 6.1 and 6.3.
func TestRequestsThatTwoReadDifferently(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for name, head := range map[string]string{
		"two lengths":                    "Content-Length: 6\r\nContent-Length: 5\r\n",
		"a list of lengths":              "Content-Length: 6, 5\r\n",
		"a length with a sign":           "Content-Length: +6\r\n",
		"a coding that nobody knows":     "Transfer-Encoding: xchunked\r\n",
		"chunked and something else":     "Transfer-Encoding: chunked, identity\r\n",
		"a space before the colon":       "Content-Length : 6\r\n",
		"two hosts":                      "Host: other.test\r\n",
		"a header name with a bad byte":  "X\x00Y: 1\r\n",
		"a header value with a bad byte": "X-Y: a\x00b\r\n",
	} {
		answer := s.raw("POST /sign-in HTTP/1.1\r\nHost: brae.test\r\n" + head + "\r\nabcdefGET /healthz HTTP/1.1\r\nHost: brae.test\r\n\r\n")
		if !strings.HasPrefix(answer, "HTTP/1.1 400") && !strings.HasPrefix(answer, "HTTP/1.1 501") || strings.Count(answer, "HTTP/1.1") != 1 {
			t.Errorf("%s: %.60q; want one refusal and the end", name, answer)
		}
	}
}

// TestChunksAndALength hides a request in another one for a proxy that goes by the
// length. Source: RFC 9112, 6.1: the server ends the connection.
func TestChunksAndALength(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	for _, path := range []string{"/sign-in", "/healthz", "/static/css/brae.css"} {
		answer := s.raw("POST " + path + " HTTP/1.1\r\nHost: brae.test\r\nSec-Fetch-Site: same-origin\r\nContent-Length: 45\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n" +
			"GET /healthz HTTP/1.1\r\nHost: brae.test\r\n\r\n")
		if strings.Count(answer, "HTTP/1.1") != 1 {
			t.Errorf("%s: %d answers; want one: %.100q", path, strings.Count(answer, "HTTP/1.1"), answer)
		}
	}
}

// TestHeadersAreNotSplit puts line breaks into what comes back in a header.
func TestHeadersAreNotSplit(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	const split = "%0d%0aX-Injected:%20yes%0d%0a%0d%0abody"
	signIn := s.browser()
	for _, r := range []reply{
		signIn.get("/clients?q=" + split), signIn.get("/clients/" + split), signIn.post("/sign-in", "name", "mira", "passphrase", storetest.Passphrase, "next", "/\r\nX-Injected: yes"),
		signIn.get("/clients/" + id.String() + "/intake/" + split), signIn.get("/join/" + split),
		signIn.post("/clients/"+id.String()+"/intake/goal", "version", "0", "desired", "moderate", "do", "stay\r\nX-Injected: yes"),
	} {
		for name, values := range r.header {
			if name == "X-Injected" || strings.ContainsAny(strings.Join(values, ""), "\r\n") {
				t.Errorf("%s: %q", name, values)
			}
		}
	}
}

// TestLinksLeadToOurselves asks as if Brae stood elsewhere.
func TestLinksLeadToOurselves(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	evil := http.Header{
		"Host": {"evil.example"}, "X-Forwarded-Host": {"evil.example"}, "X-Forwarded-Proto": {"https"}, "X-Host": {"evil.example"},
		"Forwarded": {"host=evil.example"}, "X-Original-Url": {"/people"}, "X-Rewrite-Url": {"/people"},
	}
	b := s.as("mira")
	at, err := url.Parse(s.server.URL)
	if err != nil {
		t.Fatal(err)
	}
	evil.Set("Cookie", b.signIn(at).String()) // the jar goes by the host
	r := b.send(http.MethodPost, "/clients/"+id.String()+"/invite", evil, "sign_in_name", "jon")
	if r.status != http.StatusOK || !strings.Contains(r.body, "http://brae.test/join/") || strings.Contains(r.body, "evil.example") {
		t.Errorf("%d, or the link leads elsewhere", r.status)
	}
	evil.Del("Cookie")
	if r := s.browser().send(http.MethodGet, "/clients", evil); r.header.Get("Location") != "/sign-in" || strings.Contains(fmt.Sprint(r.header), "evil.example") {
		t.Errorf("headers %v", r.header)
	}
}

// TestLogIsOneLineAnEvent sends what could forge a line of the log, or end up in
// it though it is secret.
func TestLogIsOneLineAnEvent(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.JoinClient(id, "jon")
	token := storetest.Must(s.AddPractitioner(t.Context(), s.Lead.Actor(), "Nora", "nora"))
	forge := http.Header{
		"User-Agent": {"x\" level=ERROR msg=forged"}, "X-Request-Id": {"forged-id"}, "Referer": {"https://forged.example/"}, "Cookie": {"brae=canary-cookie"},
	}
	nobody := s.browser()
	nobody.send(http.MethodGet, "/x%0alevel=ERROR%20msg=forged%1b%5b31m", forge)
	nobody.send(http.MethodPost, "/sign-in", forge, "name", "canary-name\nlevel=ERROR msg=forged", "passphrase", "canary-passphrase")
	nobody.send(http.MethodGet, "/join/"+token+"%0aforged", forge)
	nobody.send(http.MethodPost, "/join/"+token, forge, "passphrase", "short-canary")
	jon, mira := s.as("jon"), s.as("mira")
	at, err := url.Parse(s.server.URL)
	if err != nil {
		t.Fatal(err)
	}
	walk := []string{"id", uuid.NewString(), "day", storetest.Day.String(), "note", "canary-note\nforged", "parts[0].activity", "walk_brisk", "parts[0].minutes", "30", "parts[0].talk", "sentences", "symptoms", "no"}
	jon.post("/log", walk...)
	jon.post("/log", append(walk, "note", "canary-note\x00")...)
	jon.get("/clients?q=canary-search")
	mira.post("/clients", "given_name", "canary-given\x00", "family_name", "canary-family", "birth_date", "1970-01-01")
	mira.get("/clients/" + uuid.NewString())
	s.Pool.Exec(t.Context(), `ALTER TABLE clients ADD CHECK (given_name <> 'canary-given')`)
	mira.post("/clients", "given_name", "canary-given", "family_name", "canary-family", "birth_date", "1970-01-01") // a fault
	mira.post("/account/passphrase", "old", "canary-passphrase", "passphrase", "canary moss under the bridge")
	log := s.log.String()
	for _, secret := range []string{"canary", "forged", token, "Ashby", storetest.Passphrase, "\x1b", jon.signIn(at).Value} {
		if strings.Contains(log, secret) {
			t.Errorf("%q is in the log", secret)
		}
	}
	for line := range strings.Lines(log) {
		if !strings.HasPrefix(line, "time=") {
			t.Errorf("a line of its own: %q", line)
		}
	}
	if !strings.Contains(log, "level=ERROR") {
		t.Error("the fault left no line")
	}
}

// TestRefusalsAreLogged asks for records and pages of others.
func TestRefusalsAreLogged(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.JoinClient(id, "jon")
	for _, tt := range []struct {
		who, path string
		account   uuid.UUID
	}{
		{"tomas", "/clients/" + id.String(), s.Tomas.ID}, {"tomas", "/clients/" + id.String() + "/intake/goal", s.Tomas.ID},
		{"tomas", "/people", s.Tomas.ID}, {"jon", "/clients/" + id.String(), account(s, "jon")},
	} {
		before := len(s.log.String())
		s.as(tt.who).get(tt.path)
		if log := s.log.String()[before:]; !strings.Contains(log, "level=WARN msg=refused") || !strings.Contains(log, "account="+tt.account.String()) {
			t.Errorf("%s asks for %s; the log says %s", tt.who, tt.path, log)
		}
	}
	before := len(s.log.String())
	s.as("mira").send(http.MethodPost, "/clients", http.Header{"Sec-Fetch-Site": {"cross-site"}})
	if log := s.log.String()[before:]; !strings.Contains(log, "level=WARN") {
		t.Errorf("a change from elsewhere; the log says %s", log)
	}
	if strings.Contains(s.log.String(), "Ashby") {
		t.Error("a name is in the log")
	}
}

// TestBadText puts into every field what no browser sends and the database does
// not take, and numbers and days out of all bounds.
func TestBadText(t *testing.T) {
	t.Parallel()
	s := behindProxy(t)
	id := s.Client()
	s.JoinClient(id, "jon")
	s.ScreenClient(id)
	record := "/clients/" + id.String()
	all := map[string]*browser{"nobody": s.browser(), "jon": s.as("jon"), "mira": s.as("mira"), "ines": s.as("ines")}
	goal := all["mira"].get(record + "/intake/measurements").body
	measurements := []string{"version", "0"}
	for _, m := range regexp.MustCompile(`name="([^"]+)"`).FindAllStringSubmatch(goal, -1) {
		if m[1] != "version" {
			measurements = append(measurements, m[1], "")
		}
	}
	forms := []change{
		{"/sign-in", []string{"name", "x", "passphrase", "x"}, "nobody"},
		{"/join/x", []string{"passphrase", "x"}, "nobody"},
		{"/set-up/x", []string{"practice", "x", "zone", "x", "week_start", "x", "emergency_number", "x", "phone", "x", "name", "x", "sign_in_name", "x", "passphrase", "x"}, "nobody"},
		{"/account/passphrase", []string{"old", "x", "passphrase", "x"}, "jon"},
		{"/log", []string{"id", uuid.NewString(), "day", storetest.Day.String(), "note", "x", "confirmed", "yes", "do", "", "parts[0].activity", "walk_brisk",
			"parts[0].minutes", "30", "parts[0].talk", "sentences", "symptoms", "no", "parts[0].effort_6_20", "12", "parts[0].hr", "110"}, "jon"},
		{"/clients", []string{"given_name", "A", "family_name", "B", "birth_date", "1970-01-01", "phone", "1", "emergency_contact", "C"}, "mira"},
		{record + "/invite", []string{"sign_in_name", "x"}, "mira"},
		{record + "/intake/goal", []string{"version", "0", "goal", "x", "desired", "moderate", "do", "stay"}, "mira"},
		{record + "/intake/medicines", []string{"version", "0", "medicines", "x", "do", "stay"}, "mira"},
		{record + "/intake/measurements", measurements, "mira"},
		{record + "/screening", []string{"version", "0"}, "mira"},
		{record + "/prescription", []string{"version", "0", "class", "moderate", "sessions_per_week", "3", "minutes_per_session", "20", "activities", "Walking",
			"target", "60", "target_light", "", "note", "x", "equation", "", "do", "sign"}, "mira"},
		{"/people", []string{"name", "N", "sign_in_name", "nnn"}, "ines"},
		{"/sources/settings", []string{"version", "0", "reason", "x", "volume.log_days", "5"}, "ines"},
		{"/sources/sign", []string{"version", "0", "name", "x"}, "ines"},
	}
	bad := []string{"a\x00b", "a\xffb", "99999999999999999999", "-9223372036854775808", "0000-00-00", "9999999-12-31", "\u202e\u0007", strings.Repeat("ä", 10000)}
	from := 0
	for _, f := range forms {
		for i := 1; i < len(f.fields); i += 2 {
			for _, text := range bad {
				from++
				fields := slices.Clone(f.fields)
				fields[i] = text
				header := http.Header{"X-Forwarded-For": {fmt.Sprintf("198.51.%d.%d", from/250, from%250)}}
				r := all[f.who].send(http.MethodPost, f.path, header, fields...)
				if r.status >= http.StatusInternalServerError || r.status == http.StatusTooManyRequests {
					t.Errorf("%s with %s = %.20q: %d", f.path, fields[i-1], text, r.status)
				}
				if (!utf8.ValidString(text) || strings.Contains(text, "\x00")) && r.status < http.StatusBadRequest {
					t.Errorf("%s with %s = %.20q: %d; want a refusal", f.path, fields[i-1], text, r.status)
				}
			}
		}
	}
	for _, path := range []string{"/clients?q=%00", "/clients?q=%ff", record + "/prescription/new?equation=x", record + "/prescription/new?equation=%00", "/review?page=99999999999999999999", "/review?page=-1", "/numbers/zones?age=1e400", "/clients/%00", "/clients/%ff"} {
		if r := all["mira"].get(path); r.status >= http.StatusInternalServerError {
			t.Errorf("%s: %d", path, r.status)
		}
	}
	if r := all["jon"].get("/log?again=%00"); r.status >= http.StatusInternalServerError {
		t.Errorf("/log?again=%%00: %d", r.status)
	}
}

// TestFaultTellsNothing makes Brae fail in the middle of a page.
func TestFaultTellsNothing(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	var log bytes.Buffer
	handler, err := web.New(web.Config{
		Store: f.Store, Now: func() time.Time { panic("canary in /home/of/someone") }, Origin: &url.URL{Scheme: "http", Host: "brae.test"},
		Log: slog.New(slog.NewTextHandler(&log, nil)),
	})
	if err != nil {
		t.Fatal(err)
	}
	request := httptest.NewRequest(http.MethodPost, "/sign-in", strings.NewReader(url.Values{"name": {"mira"}, "passphrase": {storetest.Passphrase}}.Encode()))
	request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	w := httptest.NewRecorder()
	handler.ServeHTTP(w, request)
	body := w.Body.String()
	number := regexp.MustCompile(`number: ([a-z0-9]+)`).FindStringSubmatch(body)
	if w.Code != http.StatusInternalServerError || number == nil || !strings.Contains(log.String(), "request_id="+number[1]) {
		t.Errorf("%d %q; want a number that is in the log", w.Code, body)
	}
	host, _ := os.Hostname()
	for _, secret := range []string{"canary", "goroutine", ".go:", "panic", host + "/", "brae/"} {
		if strings.Contains(body, secret) {
			t.Errorf("the page says %q: %s", secret, body)
		}
	}
}

// TestOnceOnly does everything that counts once many times at once.
func TestOnceOnly(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.JoinClient(id, "jon")
	s.ScreenClient(id)
	drafted := s.Client()
	storetest.Must(s.SaveIntake(t.Context(), s.Mira.Actor(), drafted, 0, storetest.Answers()))
	invitation := storetest.Must(s.AddPractitioner(t.Context(), s.Lead.Actor(), "Nora", "nora"))
	jon, mira, ines := s.as("jon"), s.as("mira"), s.as("ines")
	const times = 20
	for _, tt := range []struct {
		name  string
		do    func() reply
		again int // the status for all but one
		count string
	}{
		{"join", func() reply { return s.browser().post("/join/"+invitation, "passphrase", "moss under the bridge") }, http.StatusNotFound,
			`SELECT count(*) FROM audit WHERE action = 'account.join' AND subject = 'account/' || (SELECT id FROM accounts WHERE sign_in_name = 'nora')`},
		{"sign a prescription", func() reply {
			return mira.post("/clients/"+id.String()+"/prescription", "version", "0", "class", "moderate", "sessions_per_week", "3",
				"minutes_per_session", "20", "target", "60", "activities", "Walking")
		}, http.StatusConflict, `SELECT count(*) FROM prescriptions`},
		{"change settings", func() reply {
			return ines.post("/sources/settings", "version", "0", "reason", "habit", "volume.log_days", "5")
		}, http.StatusConflict, `SELECT count(*) FROM settings`},
		{"sign the rules", func() reply { return ines.post("/sources/sign", "version", "1", "name", "Ines") }, http.StatusConflict, `SELECT count(*) FROM signatures`},
		{"decide", func() reply { return mira.post("/clients/"+drafted.String()+"/screening", "version", "1") }, http.StatusConflict,
			`SELECT count(*) FROM screenings WHERE client_id <> '` + id.String() + `'`},
		{"log", func() reply {
			return jon.post("/log", "id", "6b1f2b0e-9a51-4c1e-8a55-1d6a6a6b8b11", "day", storetest.Day.String(), "note", "",
				"parts[0].activity", "walk_brisk", "parts[0].minutes", "30", "parts[0].talk", "sentences", "symptoms", "no")
		}, http.StatusSeeOther, `SELECT count(*) FROM sessions`},
		{"take a sign-in name", func() reply { return ines.post("/people", "name", "Two", "sign_in_name", "two") }, http.StatusUnprocessableEntity,
			`SELECT count(*) FROM accounts WHERE sign_in_name = 'two'`},
	} {
		statuses := atOnce(times, tt.do)
		done := statuses[http.StatusSeeOther] + statuses[http.StatusOK]
		if want := 1; tt.again != http.StatusSeeOther && (done != want || statuses[tt.again] != times-1) || tt.again == http.StatusSeeOther && done != times {
			t.Errorf("%s: %v; want one done and the others %d", tt.name, statuses, tt.again)
		}
		if n := s.Count(tt.count); n != 1 {
			t.Errorf("%s: %d rows; want 1", tt.name, n)
		}
	}
	if n := s.Count(`SELECT minutes FROM session_parts`) + s.Count(`SELECT moderate FROM week_totals`); n != 60 {
		t.Errorf("the log and its week make %d minutes; want 30 each", n)
	}
}

// atOnce does something many times at once and counts the statuses.
func atOnce(n int, do func() reply) map[int]int {
	statuses := map[int]int{}
	var mu sync.Mutex
	var all sync.WaitGroup
	for range n {
		all.Go(func() {
			status := do().status
			mu.Lock()
			statuses[status]++
			mu.Unlock()
		})
	}
	all.Wait()
	return statuses
}

// TestSetUpOnceOnly sets up the practice with one link many times at once.
func TestSetUpOnceOnly(t *testing.T) {
	t.Parallel()
	f := storetest.New(t)
	handler, err := web.New(web.Config{Store: f.Store, Now: f.Tick, Origin: &url.URL{Scheme: "http", Host: "brae.test"}, Log: slog.New(slog.DiscardHandler)})
	if err != nil {
		t.Fatal(err)
	}
	s := &site{Practice: f, t: t, log: &logBook{}, server: httptest.NewServer(handler)}
	t.Cleanup(s.server.Close)
	token := storetest.Must(f.NewSetUpLink(t.Context()))
	statuses := atOnce(12, func() reply {
		return s.browser().post("/set-up/"+token, "practice", "Ridge Lane Rehab", "zone", "Europe/Berlin", "week_start", "monday", "emergency_number", "112",
			"name", "Ines Harrow", "sign_in_name", rand.Text(), "passphrase", storetest.Passphrase)
	})
	if statuses[http.StatusSeeOther] != 1 || statuses[http.StatusNotFound] != 11 {
		t.Errorf("%v; want one done", statuses)
	}
	if n := s.Count(`SELECT count(*) FROM accounts`); n != 1 {
		t.Errorf("%d accounts", n)
	}
}

// TestLockedTable asks while the database does not give out a table. Nobody waits
// longer than five seconds, and all is well at once when it does again.
func TestLockedTable(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	lock, err := s.Pool.Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer lock.Rollback(context.Background())
	if _, err := lock.Exec(t.Context(), `LOCK TABLE clients`); err != nil {
		t.Fatal(err)
	}
	var slowest time.Duration
	var mu sync.Mutex
	statuses := atOnce(40, func() reply { // the pool has 12 connections
		began := time.Now()
		r := b.get("/clients")
		mu.Lock()
		slowest = max(slowest, time.Since(began))
		mu.Unlock()
		if r.header.Get("Retry-After") == "" {
			t.Errorf("%d without Retry-After", r.status)
		}
		return r
	})
	if statuses[http.StatusServiceUnavailable] != 40 {
		t.Errorf("%v; want all to be %d", statuses, http.StatusServiceUnavailable)
	}
	t.Logf("the slowest answer took %v", slowest)
	if err := lock.Rollback(context.Background()); err != nil {
		t.Fatal(err)
	}
	if r := b.get("/clients"); r.status != http.StatusOK {
		t.Errorf("afterwards: %d", r.status)
	}
	left := func() int {
		return s.Count(`SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() AND application_name = 'brae' AND state LIKE 'idle in transaction%'`)
	}
	for i := 0; left() != 0; i++ { // those given up are rolled back a moment later
		if i == 50 {
			t.Fatalf("%d connections were left in a transaction", left())
		}
		time.Sleep(100 * time.Millisecond)
	}
}

// TestLongNames makes accounts and signatures with names of a page and more.
func TestLongNames(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("ines")
	long := strings.Repeat("ä", 201)
	for path, fields := range map[string][]string{
		"/people":       {"name", long, "sign_in_name", "long"},
		"/sources/sign": {"version", "0", "name", long},
	} {
		if r := b.post(path, fields...); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "200 characters") {
			t.Errorf("%s: %d; want to be told the limit", path, r.status)
		}
	}
	practice := store.Practice{Name: long, Zone: "Europe/Berlin", WeekStart: time.Monday, EmergencyNumber: "112", Phone: long}
	if problems := practice.Check(); problems["practice"] == "" || problems["phone"] == "" {
		t.Errorf("a practice with a long name and telephone number: %v", problems)
	}
}

// TestFullIntakeIsNoFault saves more text than an intake holds.
func TestFullIntakeIsNoFault(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	intake := "/clients/" + s.Client().String() + "/intake/"
	text := strings.Repeat("a", 40000)
	b.post(intake+"medicines", "version", "0", "medicines", text)
	if r := b.post(intake+"goal", "version", "1", "goal", text, "desired", "moderate"); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "Shorten it") {
		t.Errorf("%d; want to be told to shorten it", r.status)
	}
}
