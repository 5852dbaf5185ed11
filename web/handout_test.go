package web_test

import (
	"net/http"
	"strings"
	"testing"

	"brae/store/storetest"
)

// What stands on the paper: the dose of the prescription, the range that it rests
// on, when to stop and whom to call; nothing to do while all exercise waits.
//
// 58 years, 64 at rest: 207 - 0.7 x 58 = 166.4 at most (Gellish 2007); 40 % of the
// reserve is 104.96, 60 % is 125.44 (Karvonen 1957, Garber 2011).
func TestHandout(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	path := "/clients/" + id.String()
	b := s.as("mira")
	if r := b.get(path + "/handout"); r.status != http.StatusOK || !strings.Contains(r.body, "No plan yet") {
		t.Errorf("before the prescription: %d", r.status)
	}
	s.ScreenClient(id)
	in := storetest.Walking(0)
	in.Note = "Take the stick along."
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, in))
	s.JoinClient(id, "jon")
	for who, path := range map[string]string{"mira": path + "/handout", "jon": "/plan/handout"} {
		r := s.as(who).get(path)
		for _, want := range []string{
			"Plan for Jon Ashby", "Brisk walking", "5 times a week", "30 minutes each time", "whole sentences", "12 to 13 of 20", "105 to 125 bpm",
			"Start slowly for five minutes", "pain, pressure", "In an emergency, call 112", "150 minutes", "Take the stick along.", "Signed by mira", "does not take the place of your doctor",
		} {
			if !strings.Contains(r.body, want) {
				t.Errorf("%s: the paper lacks %q", who, want)
			}
		}
	}
	r := b.get(path + "/handout?in=es")
	if !strings.Contains(r.body, `<article class="handout" lang="es">`) || !strings.Contains(r.body, "A quién llamar") || !strings.Contains(r.body, `<html lang="en"`) {
		t.Error("the paper in Spanish is not, or the page around it is")
	}
	if strings.Contains(r.body, "Whom to call") {
		t.Error("English is left on the Spanish paper")
	}
	if r := b.get(path); !strings.Contains(r.body, path+"/handout") {
		t.Error("the record does not lead to the handout")
	}
	if r := b.post(path+"/holds", "scope", "all", "reason", "Wait for the doctor."); r.status != http.StatusSeeOther {
		t.Fatalf("a hold: %d", r.status)
	}
	r = b.get(path + "/handout")
	if strings.Contains(r.body, "105 to 125") || strings.Contains(r.body, "30 minutes each time") || !strings.Contains(r.body, "No exercise until") {
		t.Error("a dose goes home while all exercise waits")
	}
}
