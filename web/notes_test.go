package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"
)

// TestNotePages: a note is kept as it is typed, refused with what was typed, signed
// and locked, and added to.
func TestNotePages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	mira, lead := s.as("mira"), s.as("ines")
	notes := "/clients/" + s.Client().String() + "/notes"
	if r := mira.get(notes); !strings.Contains(r.body, "No note yet") {
		t.Error("an empty list does not say so")
	}
	form := mira.get(notes + "/new").body
	_, after, _ := strings.Cut(form, `action="`+notes+"/")
	id, _, _ := strings.Cut(after, `"`)
	if _, err := uuid.Parse(id); err != nil || hidden(form, "version") != "0" {
		t.Fatalf("the form of a new note goes to %q with version %q", id, hidden(form, "version"))
	}
	at := notes + "/" + id
	day := []string{"kind", "visit", "event_on", "2026-11-24"}
	if r := mira.get(at); r.status != http.StatusNotFound {
		t.Errorf("a note that was never saved: %d", r.status)
	}
	r := mira.post(at, append(day, "version", "0", "body", "Walked <b>far</b>.", "do", "auto")...)
	if r.status != http.StatusOK || hidden(r.body, "version") != "1" || !strings.Contains(r.body, "data-draft") {
		t.Fatalf("saved while typing: %d, version %q", r.status, hidden(r.body, "version"))
	}
	if r := mira.post(at, append(day, "version", "0", "body", "Other.", "do", "auto")...); r.status != http.StatusConflict {
		t.Errorf("an old window: %d", r.status)
	}
	if r := lead.get(at); strings.Contains(r.body, "Walked") || !strings.Contains(r.body, "This is a draft of mira") {
		t.Error("the lead reads a draft of somebody else, or does not see that there is one")
	}
	r = mira.post(at, "kind", "visit", "event_on", "2027-01-01", "version", "1", "body", "Kept as typed.", "do", "sign")
	if r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "Kept as typed.") || !strings.Contains(r.body, "This day is in the future") {
		t.Errorf("a day in the future: %d, or what was typed is lost", r.status)
	}
	if r := mira.post(at, append(day, "version", "1", "body", "Walked <b>far</b>.\r\nNo pain.", "credential", "physiotherapist", "do", "sign")...); r.status != http.StatusSeeOther {
		t.Fatalf("signed: %d", r.status)
	}
	signed := mira.get(at).body
	for _, want := range []string{"Walked &lt;b&gt;far&lt;/b&gt;.\nNo pain.", "mira, physiotherapist", "Tue 24 Nov 2026", "Wed 25 Nov 2026"} {
		if !strings.Contains(signed, want) {
			t.Errorf("the signed note has no %q", want)
		}
	}
	if strings.Contains(signed, "data-draft") {
		t.Error("a signed note has a form to change it")
	}
	if r := mira.post(at, append(day, "version", "2", "body", "Changed.")...); r.status != http.StatusConflict {
		t.Errorf("a signed note is changed: %d", r.status)
	}
	if r := lead.post(at+"/addenda", "id", uuid.NewString(), "body", "The left leg.", "reason", ""); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "The left leg.") {
		t.Errorf("an addendum without a reason: %d, or what was typed is lost", r.status)
	}
	if r := lead.post(at+"/addenda", "id", uuid.NewString(), "body", "The left leg.", "reason", "It was not said which."); r.status != http.StatusSeeOther {
		t.Errorf("an addendum: %d", r.status)
	}
	if body := mira.get(at).body; !strings.Contains(body, "The left leg.") || !strings.Contains(body, "Ines Harrow") {
		t.Error("the addendum is not shown with its author")
	}
	if body := mira.get(notes).body; !strings.Contains(body, "Signed by mira, physiotherapist, 1 addendum") {
		t.Error("the list does not tell the state")
	}
}
