package web_test

import (
	"net/http"
	"regexp"
	"strings"
	"testing"

	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/store/storetest"
)

// sealed is what the button of a page of the next session sends.
var sealed = regexp.MustCompile(`name="seal" value="([0-9a-f]+)"`)

// What a client sees before a session is what is allowed then, and a page that was
// opened before a hold begins nothing after it. 207 - 0.7 x 58 = 166.4 at most, 64 at
// rest: moderate is 105 to 125, vigorous from 126 (Gellish 2007, Karvonen 1957).
func TestNextSessionPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.JoinClient(id, "jon")
	jon := s.as("jon")
	const path = "/plan/session"
	if body := page(jon.get(path).body); !strings.Contains(body, "No plan yet") || sealed.MatchString(body) {
		t.Error("without a plan there is something to begin")
	}
	s.ScreenClient(id, intake.FieldActivityClass, "vigorous", intake.FieldDesired, "vigorous")
	in := storetest.Walking(0)
	in.Class, in.Activities, in.Note = intensity.Vigorous, "Hill runs", "Mind the stones."
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, in))

	seen := jon.get(path)
	for _, want := range []string{"5 sessions are left this week.", "30 minutes in all", "Hill runs", "126 to ", "Start slowly", "When to stop", "112",
		"Mind the stones.", "Shown on Wednesday 25 November at 12:00. A stop that came later is not on this page."} {
		if !strings.Contains(page(seen.body), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if !strings.Contains(jon.get("/week").body, `href="`+path+`"`) {
		t.Error("the week does not lead to the session")
	}
	old := sealed.FindStringSubmatch(seen.body)[1]
	r := jon.post(path, "seal", old)
	if r.status != http.StatusSeeOther || !strings.Contains(jon.get(r.header.Get("Location")).body, "Log it when you are done") {
		t.Errorf("begin: %d to %q", r.status, r.header.Get("Location"))
	}
	begun := r.header.Get("Location")

	hold := storetest.Must(s.OpenHold(t.Context(), s.Mira.Actor(), id, clearance.Vigorous, "Wait for the blood test."))
	r = jon.post(path, "seal", old)
	for _, want := range []string{"This has changed", "No hard exercise until we have spoken with you.", "this session is easier than planned", "105 to 125 bpm"} {
		if !strings.Contains(page(r.body), want) {
			t.Errorf("the page of before the hold, used after it, lacks %q", want)
		}
	}
	if r.status != http.StatusConflict || strings.Contains(page(r.body), "126 to ") || strings.Contains(r.body, "blood test") {
		t.Errorf("begin what was seen before the hold: %d, or it shows the hard range, or the practice's own words", r.status)
	}
	for _, again := range []string{path, begun} {
		if body := page(jon.get(again).body); !strings.Contains(body, "this session is easier than planned") || strings.Contains(body, "Off you go") {
			t.Errorf("%s loaded again does not tell of the hold", again)
		}
	}
	if err := s.ReleaseHold(t.Context(), s.Mira.Actor(), id, hold, "It is fine."); err != nil {
		t.Fatal(err)
	}
	storetest.Must(s.OpenHold(t.Context(), s.Mira.Actor(), id, clearance.All, "A faint."))
	r = jon.post(path, "seal", old)
	if body := page(r.body); r.status != http.StatusConflict || !strings.Contains(body, "No session now") || !strings.Contains(body, "No exercise until we have spoken with you") ||
		strings.Contains(body, "bpm") || sealed.MatchString(body) {
		t.Errorf("under a hold on all exercise: %d, or there is something to begin", r.status)
	}
	if r := jon.get("/log"); r.status != http.StatusOK {
		t.Errorf("the log under a hold: %d", r.status)
	}
}

// Of several holds a client is told the one that stops most: "if you can talk, it is
// not too hard" beside "no exercise" would be an answer to choose. Nor does the plan
// say how hard or how it should feel while there is nothing to do.
func TestHoldsDoNotContradictEachOther(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.JoinClient(id, "jon")
	s.ScreenClient(id)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(0)))
	jon := s.as("jon")
	if body := page(jon.get("/plan").body); !strings.Contains(body, "How it should feel") || strings.Contains(body, "for later") {
		t.Error("without a hold the plan does not say how it should feel")
	}
	storetest.Must(s.OpenHold(t.Context(), s.Mira.Actor(), id, clearance.Vigorous, "Wait for the blood test."))
	storetest.Must(s.OpenHold(t.Context(), s.Mira.Actor(), id, clearance.All, "A faint."))
	for _, path := range []string{"/week", "/plan", "/plan/handout", "/plan/session"} {
		body := page(jon.get(path).body)
		if !strings.Contains(body, "No exercise until we have spoken with you.") || strings.Contains(body, "No hard exercise") || strings.Contains(body, "it is not too hard") {
			t.Errorf("%s tells of both holds, or not of the one that counts", path)
		}
		if strings.Contains(body, "How it should feel") || path == "/plan" && !strings.Contains(body, "What stands here is for later.") {
			t.Errorf("%s says how exercise should feel that is stopped", path)
		}
	}
}
