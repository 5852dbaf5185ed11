package web_test

import (
	"net/http"
	"strings"
	"testing"

	"brae/store"
	"brae/store/storetest"
)

// What is signed carries the name, title and registration of that day; a later one
// changes nothing of it. Practice rule: a signature is kept as it was.
func TestSignatures(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id)
	b, record := s.as("mira"), "/clients/"+id.String()
	for _, field := range []string{"title", "registration"} {
		long := strings.Repeat("x", 61)
		if r := b.post("/account/credential", field, long); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, long) || !strings.Contains(r.body, `id="`+field+`-problem"`) {
			t.Errorf("a %s of 61 letters: %d", field, r.status)
		}
		if r := s.as("ines").post("/people/"+s.Mira.ID.String()+"/credential", field, long); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, long) || !strings.Contains(r.body, `id="`+field+`-problem"`) {
			t.Errorf("a %s of 61 letters by the lead: %d", field, r.status)
		}
	}
	if r := b.post("/account/credential", "title", " Physio  therapist", "registration", "PT 1234"); r.status != http.StatusSeeOther {
		t.Fatalf("title: %d", r.status)
	}
	const first = "mira, Physio therapist (PT 1234)"
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(0)))
	if r := b.post(record+"/plan", planFields("0", "30", "30")...); r.status != http.StatusSeeOther {
		t.Fatalf("plan: %d", r.status)
	}
	if r := s.as("ines").post("/people/"+s.Mira.ID.String()+"/credential", "title", "Trainer", "registration", ""); r.status != http.StatusSeeOther {
		t.Fatalf("by the lead: %d", r.status)
	}
	for _, path := range []string{"/handout", "/prescriptions", "/prescriptions/1", "/plan"} {
		if body := b.get(record + path).body; !strings.Contains(body, first) || strings.Contains(body, "Trainer") {
			t.Errorf("%s does not show the signature as it was", path)
		}
	}
	if body := b.get(record + "/notes/new").body; !strings.Contains(body, `value="Trainer"`) {
		t.Error("a note does not start from the title")
	}
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, storetest.Walking(1)))
	if body := b.get(record + "/prescriptions").body; !strings.Contains(body, "mira, Trainer") || !strings.Contains(body, first) {
		t.Error("each version does not have its own signature")
	}
	if n := s.Count(`SELECT count(*) FROM audit WHERE action = 'account.credential'`); n != 2 {
		t.Errorf("%d audit entries; want 2", n)
	}
	if err := s.ChangeCredential(t.Context(), s.Mira.Actor(), s.Lead.ID, store.Credential{Title: "X"}); err == nil {
		t.Error("a practitioner changes what the lead signs with")
	}
}
