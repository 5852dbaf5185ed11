package web_test

import (
	"bytes"
	"log/slog"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	ics "github.com/arran4/golang-ical"

	"brae/store/storetest"
	"brae/web/post"
	"brae/web/post/posttest"
)

func mailer(t *testing.T, server *posttest.Server) *post.Mailer {
	t.Helper()
	return storetest.Must(post.New(post.Config{Address: server.Address, From: "Ridge Lane Rehab <brae@practice.example>", TLS: server.Client}))
}

// path is the link to this practice in a text, without the host.
func path(t *testing.T, text string) string {
	t.Helper()
	m := regexp.MustCompile(`http://brae\.test(/reminder/\S+)`).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no link in %q", text)
	}
	return m[1]
}

// TestReminders goes the whole way through a real mail server: asked for,
// confirmed, reminded, ended by one press in the mail program.
func TestReminders(t *testing.T) {
	t.Parallel()
	for _, encrypted := range []bool{false, true} {
		server := posttest.Start(t, encrypted)
		s := newSiteWith(t, mailer(t, server))
		client := s.Client()
		s.JoinClient(client, "jon")
		s.ScreenClient(client)
		jon := s.as("jon")
		form := []string{"address", "jon@post.example", "days", "3", "days", "4", "time", "11:59"} // Wednesday, Thursday
		if r := jon.post("/account/reminder", form...); r.status != http.StatusSeeOther {
			t.Fatalf("ask: %d %s", r.status, r.body)
		}
		asked := server.Await(t, 1)
		if asked.To != "jon@post.example" || asked.TLS != encrypted || asked.Header.Get("Subject") != "May Ridge Lane Rehab remind you?" {
			t.Errorf("asked by %+v", asked)
		}
		stranger := s.browser()
		confirm := path(t, asked.Text)
		if r := stranger.get(confirm); r.status != http.StatusOK || !strings.Contains(r.body, "Yes, remind me") {
			t.Errorf("the link in the mail: %d", r.status)
		}
		var log bytes.Buffer
		job := post.Reminders{Store: s.Store, Mailer: mailer(t, server), Origin: &url.URL{Scheme: "http", Host: "brae.test"}, Log: slog.New(slog.NewTextHandler(&log, nil))}
		job.Send(t.Context())
		if n := len(server.Mails()); n != 1 {
			t.Fatalf("%d mails to an address that has not answered: to open a link is no answer", n)
		}
		if r := stranger.post(confirm); r.status != http.StatusOK {
			t.Fatalf("confirm: %d", r.status)
		}
		if r := stranger.post(confirm); r.status != http.StatusNotFound {
			t.Errorf("confirm twice: %d", r.status)
		}
		server.Refuse(true)
		job.Send(t.Context())
		if text := log.String(); !strings.Contains(text, "not sent") || strings.Contains(text, "post.example") {
			t.Errorf("the log says %q", text)
		}
		server.Refuse(false)
		s.Wait(61e9)
		job.Send(t.Context())
		job.Send(t.Context())
		if n := len(server.Mails()); n != 2 {
			t.Fatalf("%d mails; want the reminder once", n)
		}
		sent := server.Await(t, 2)
		stop := path(t, sent.Text)
		for header, want := range map[string]string{
			"Subject": "A reminder from Ridge Lane Rehab", "List-Unsubscribe": "<http://brae.test" + stop + ">",
			"List-Unsubscribe-Post": "List-Unsubscribe=One-Click", "Auto-Submitted": "auto-generated",
		} {
			if got := sent.Header.Get(header); got != want {
				t.Errorf("%s: %q; want %q", header, got, want)
			}
		}
		want := "You asked Ridge Lane Rehab to remind you today.\n\nhttp://brae.test/week\n\nNobody reads answers to this mail.\nNo more of these: http://brae.test" + stop + "\n"
		if strings.TrimSpace(sent.Text) != strings.TrimSpace(want) { // nothing about health, and no name
			t.Errorf("the mail says %q; want %q", sent.Text, want)
		}

		// A program that looks at links ends nothing; a mail program's one POST does,
		// without a cookie. Source: RFC 8058, sections 3.1 and 3.2.
		if r := stranger.get(stop); r.status != http.StatusOK || s.Count(`SELECT count(*) FROM reminders WHERE stopped_at IS NULL`) != 1 {
			t.Errorf("to look at the link: %d", r.status)
		}
		if r := s.browser().post(stop, "List-Unsubscribe", "One-Click"); r.status != http.StatusOK || s.Count(`SELECT count(*) FROM reminders WHERE stopped_at IS NULL`) != 0 {
			t.Errorf("one POST: %d", r.status)
		}
	}
}

// TestReminderRefused keeps what was typed and says what is wrong at the field.
func TestReminderRefused(t *testing.T) {
	t.Parallel()
	server := posttest.Start(t, false)
	s := newSiteWith(t, mailer(t, server))
	s.JoinClient(s.Client(), "jon")
	jon := s.as("jon")
	if r := jon.post("/account/reminder", "address", "jon at post", "time", "25:00"); r.status != http.StatusUnprocessableEntity ||
		!strings.Contains(r.body, "Choose a day at least.") || !strings.Contains(r.body, `value="jon at post"`) || !strings.Contains(r.body, `value="25:00"`) {
		t.Errorf("%d %s", r.status, r.body)
	}
	server.Refuse(true)
	if r := jon.post("/account/reminder", "address", "nobody@post.example", "days", "1", "time", "10:00"); r.status != http.StatusUnprocessableEntity ||
		!strings.Contains(r.body, "The mail could not be sent.") || !strings.Contains(r.body, `value="nobody@post.example"`) {
		t.Errorf("an address that the server refuses: %d", r.status)
	}
	none := newSite(t)
	none.JoinClient(none.Client(), "jon")
	if r := none.as("jon").get("/account"); !strings.Contains(r.body, "Your practice does not send mail.") || strings.Contains(r.body, `name="address"`) {
		t.Error("a practice without a mail server offers reminders")
	}
}

// TestMailNeedsTLS: a server elsewhere that speaks no TLS gets nothing.
func TestMailNeedsTLS(t *testing.T) {
	t.Parallel()
	plain := posttest.Start(t, false)
	trusting := posttest.Start(t, true)
	m := storetest.Must(post.New(post.Config{Address: plain.Address, From: "brae@practice.example", TLS: trusting.Client}))
	if err := m.Send(t.Context(), post.Mail{To: "jon@post.example", Subject: "x", Text: "x"}); err == nil || len(plain.Mails()) != 0 {
		t.Errorf("sent in the clear: %v", err)
	}
	for _, c := range []post.Config{{Address: "mail.example", From: "a@b.example"}, {Address: "mail.example:x", From: "a@b.example"}, {Address: "mail.example:25", From: "nobody"}} {
		if _, err := post.New(c); err == nil {
			t.Errorf("%+v is taken", c)
		}
	}
}

// TestCalendarFeed reads the feed back. Source of the form: RFC 5545, sections 3.1
// (lines of 75 octets at most, ended by CR and LF), 3.6.1 and 3.8.
func TestCalendarFeed(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	s.ScreenClient(client)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), client, storetest.Walking(0)))
	jon := s.as("jon")
	page := jon.post("/account/calendar").body
	m := regexp.MustCompile(`http://brae\.test(/calendar/[a-z0-9]+\.ics)`).FindStringSubmatch(page)
	if m == nil {
		t.Fatal("no address on the page")
	}
	if strings.Contains(jon.get("/account").body, m[1]) {
		t.Error("the address is shown twice")
	}
	program := s.browser()
	r := program.get(m[1])
	if r.status != http.StatusOK || r.header.Get("Content-Type") != "text/calendar; charset=utf-8" || r.header.Get("Referrer-Policy") != "no-referrer" ||
		!strings.HasPrefix(r.header.Get("Cache-Control"), "private") || r.header.Get("ETag") == "" {
		t.Errorf("%d %v", r.status, r.header)
	}
	if strings.Contains(strings.ReplaceAll(r.body, "\r\n", ""), "\n") {
		t.Error("a line ends without CR")
	}
	for line := range strings.SplitSeq(r.body, "\r\n") {
		if len(line) > 75 {
			t.Errorf("a line of %d octets: %s", len(line), line)
		}
	}
	for _, secret := range []string{"Jon", "Ashby", "brisk", "Brisk", "bpm", "moderate"} {
		if strings.Contains(r.body, secret) {
			t.Errorf("the feed says %q", secret)
		}
	}
	cal, err := ics.ParseCalendar(strings.NewReader(r.body))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(cal.Events()); n != 38 {
		t.Errorf("%d events", n)
	}
	for _, e := range cal.Events() {
		start := e.GetProperty(ics.ComponentPropertyDtStart)
		if start == nil || len(start.Value) != 8 || e.GetProperty(ics.ComponentPropertySummary).Value != "Exercise, 30 min" ||
			e.GetProperty(ics.ComponentPropertyTransp).Value != "TRANSPARENT" || e.GetProperty(ics.ComponentPropertyDtstamp) == nil || e.Id() == "" {
			t.Fatalf("%s", e.Serialize(&ics.SerializationConfiguration{MaxLength: 75, NewLine: "\n", PropertyMaxLength: 75}))
		}
	}
	again := program.send(http.MethodGet, m[1], http.Header{"If-None-Match": {r.header.Get("ETag")}})
	if again.status != http.StatusNotModified {
		t.Errorf("asked again: %d", again.status)
	}
	if r := jon.post("/account/calendar/stop"); r.status != http.StatusSeeOther {
		t.Errorf("stop: %d", r.status)
	}
	if r := program.get(m[1]); r.status != http.StatusNotFound {
		t.Errorf("an address that was given up: %d", r.status)
	}
}
