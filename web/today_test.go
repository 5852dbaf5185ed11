package web_test

import (
	"net/http"
	"strings"
	"testing"

	"brae/domain/triage"
	"brae/store"
	"brae/store/storetest"
)

// TestToday: a report stands on the list of the client's practitioner and of the
// lead, not on that of others; it goes with a reason, and comes back.
func TestToday(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	mira, tomas, lead := s.as("mira"), s.as("tomas"), s.as("ines")
	if r := mira.get("/today"); !strings.Contains(r.body, "Nothing waits") {
		t.Error("an empty list does not say so")
	}
	if r := mira.get("/"); r.header.Get("Location") != "/today" {
		t.Errorf("a practitioner starts at %s", r.header.Get("Location"))
	}
	client := s.Client()
	s.ScreenClient(client)
	walk := storetest.Walk(20)
	walk.Reports = []triage.Report{"chest_pressure_now"}
	storetest.Must(s.LogSession(t.Context(), s.Mira.Actor(), client, walk))
	flag := storetest.Must(s.Worklist(t.Context(), s.Mira.Actor(), store.WorklistFilter{})).Items[0].Flag.String()

	for who, b := range map[string]*browser{"practitioner": mira, "lead": lead} {
		r := b.get("/today")
		for _, want := range []string{"Jon Ashby", "Call the client now", "/sessions/" + walk.ID.String(), `action="/today/` + flag + `/done"`} {
			if !strings.Contains(r.body, want) {
				t.Errorf("%s: the list has no %q", who, want)
			}
		}
	}
	if r := tomas.get("/today?practitioner=" + s.Mira.ID.String()); strings.Contains(r.body, "Ashby") {
		t.Error("another practitioner reads the list")
	}
	if r := lead.get("/today?practitioner=" + s.Tomas.ID.String()); strings.Contains(r.body, "Call the client now") {
		t.Error("the filter by practitioner lets others through")
	}
	if r := mira.get("/today?urgency=1"); !strings.Contains(r.body, "Nothing of this urgency") {
		t.Error("the filter by urgency has no empty state")
	}
	if r := mira.get("/today?urgency=99&page=-1&practitioner=x"); r.status != http.StatusOK || !strings.Contains(r.body, "Call the client now") {
		t.Errorf("an odd address: %d", r.status)
	}

	long := strings.Repeat("a", 1001)
	if r := mira.post("/today/"+flag+"/done", "reason", long); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, long) ||
		!strings.Contains(r.body, `href="#reason-`+flag+`"`) {
		t.Errorf("a reason that is too long: %d, or what was typed is lost", r.status)
	}
	r := mira.post("/today/"+flag+"/done", "reason", "Called: at the hospital.", "back", "urgency=4")
	if r.status != http.StatusSeeOther || r.header.Get("Location") != "/today?urgency=4" {
		t.Errorf("done: %d to %s", r.status, r.header.Get("Location"))
	}
	if r := mira.get("/today"); !strings.Contains(r.body, "Called: at the hospital.") || strings.Contains(r.body, `action="/today/`+flag+`/done"`) {
		t.Error("what is done is not shown as done")
	}
	if r := mira.post("/today/" + flag + "/back"); r.status != http.StatusSeeOther {
		t.Errorf("put back: %d", r.status)
	}
	if r := mira.get("/today"); !strings.Contains(r.body, "Call the client now") {
		t.Error("what was put back is not on the list")
	}
}
