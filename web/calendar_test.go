package web_test

import (
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"brae/store/storetest"
)

// TestCalendarByTheBook reads the feed by a strict reader of its own, for a
// practice whose name has all that must be escaped and is longer than a line.
// Source: RFC 5545, the sections beside the checks.
func TestCalendarByTheBook(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	const name = `Müller; Straße, Nord \ Süd: Übung, Kräftigung und Gehschule für alle Ältere`
	if _, err := s.Pool.Exec(t.Context(), `UPDATE practice SET name = $1`, name); err != nil {
		t.Fatal(err)
	}
	client := s.Client()
	s.JoinClient(client, "jon")
	s.ScreenClient(client)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), client, storetest.Walking(0)))
	path := regexp.MustCompile(`http://brae\.test(/calendar/[a-z0-9]+\.ics)`).FindStringSubmatch(s.as("jon").post("/account/calendar").body)
	if path == nil {
		t.Fatal("no address on the page")
	}
	feed := s.browser().get(path[1]).body
	if !strings.HasSuffix(feed, "\r\n") { // 3.1
		t.Error("the last line has no end")
	}
	for line := range strings.SplitSeq(feed, "\r\n") { // 3.1: 75 octets, and no character in two lines
		if len(line) > 75 || !utf8.ValidString(line) || strings.ContainsAny(line, "\r\n") {
			t.Errorf("a line of %d octets: %q", len(line), line)
		}
	}
	unfolded := strings.ReplaceAll(feed, "\r\n ", "")
	escaped := strings.NewReplacer(`\`, `\\`, `;`, `\;`, `,`, `\,`).Replace(name) // 3.3.11
	if !strings.Contains(unfolded, "\r\nX-WR-CALNAME:"+escaped+"\r\n") {
		t.Errorf("the name is not escaped: %.400s", unfolded)
	}
	lines := strings.Split(strings.TrimSuffix(unfolded, "\r\n"), "\r\n")
	if lines[0] != "BEGIN:VCALENDAR" || lines[len(lines)-1] != "END:VCALENDAR" || strings.Count(unfolded, "\r\nVERSION:2.0\r\n") != 1 || strings.Count(unfolded, "\r\nPRODID:") != 1 { // 3.4, 3.6, 3.7
		t.Errorf("not one calendar: %.200s", unfolded)
	}
	seen := map[string]bool{}
	var event map[string]string
	for _, line := range lines {
		head, value, ok := strings.Cut(line, ":")
		if !ok {
			t.Fatalf("no name and value: %q", line) // 3.1
		}
		property, parameters, _ := strings.Cut(head, ";")
		switch {
		case line == "BEGIN:VEVENT":
			event = map[string]string{}
			continue
		case line == "END:VEVENT":
			start, err := time.Parse("20060102", event["DTSTART"]) // 3.3.4: a date, in no zone
			end, err2 := time.Parse("20060102", event["DTEND"])
			if err != nil || err2 != nil || !end.Equal(start.AddDate(0, 0, 1)) { // 3.6.1: the end is the day after
				t.Errorf("from %q to %q", event["DTSTART"], event["DTEND"])
			}
			if _, err := time.Parse("20060102T150405Z", event["DTSTAMP"]); err != nil { // 3.8.7.2: in UTC
				t.Errorf("DTSTAMP %q", event["DTSTAMP"])
			}
			if event["UID"] == "" || seen[event["UID"]] { // 3.8.4.7
				t.Errorf("UID %q is missing, or there twice", event["UID"])
			}
			seen[event["UID"]] = true
			event = nil
			continue
		}
		if event == nil {
			continue
		}
		if _, twice := event[property]; twice { // 3.6.1: once at most
			t.Errorf("%s twice in an event", property)
		}
		event[property] = value
		if date := property == "DTSTART" || property == "DTEND"; date != (parameters == "VALUE=DATE") { // 3.2.20
			t.Errorf("%s with %q", property, parameters)
		}
	}
	if len(seen) == 0 {
		t.Fatal("no event")
	}
	s.Wait(24 * time.Hour)
	again := strings.ReplaceAll(s.browser().get(path[1]).body, "\r\n ", "")
	kept := 0
	for uid := range seen { // 3.8.4.7: it stays the same for as long as the event lives
		if strings.Contains(again, "\r\nUID:"+uid+"\r\n") {
			kept++
		}
	}
	if kept != len(seen) {
		t.Errorf("%d of %d events are the same a day later", kept, len(seen))
	}
}
