package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"

	"brae/store/storetest"
)

// TestVitalsPage: what the record asks for stands in the form, what is refused
// stays as typed, a high pressure waits for the second one and then holds.
func TestVitalsPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	mira := s.as("mira")
	client := s.Client()
	s.ScreenClient(client, "q.diabetes_type_1", "yes")
	path := "/clients/" + client.String() + "/vitals"
	page := mira.get(path).body
	if before, _, _ := strings.Cut(page, "More to measure"); !strings.Contains(before, `name="glucose"`) || !strings.Contains(before, `name="ketones"`) || strings.Contains(before, `name="spo2"`) {
		t.Error("with type 1 diabetes sugar and ketones are asked for, and oxygen is not")
	}
	if !strings.Contains(page, `name="spo2"`) {
		t.Error("oxygen cannot be entered at all")
	}
	for about, fields := range map[string][]string{
		"no number":        {"sbp", "12x", "sbp", "12x"},
		"swapped":          {"sbp", "80", "dbp", "120"},
		"no unit":          {"glucose", "7.2"},
		"decimals":         {"temperature", "37.123"},
		"impossible sugar": {"glucose", "9999", "glucose_unit", "mg_dl"},
		"doubtful":         {"sbp", "236", "dbp", "90"},
	} {
		r := mira.post(path, append(fields, "id", uuid.NewString())...)
		if r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, `value="`+fields[1]+`"`) || !strings.Contains(r.body, `aria-invalid="true"`) {
			t.Errorf("%s: %d, or what was typed is lost", about, r.status)
		}
	}
	if n := s.Count(`SELECT count(*) FROM vitals`); n != 0 {
		t.Fatalf("%d refused readings are stored", n)
	}

	if r := mira.post(path, "id", uuid.NewString(), "sbp", "208", "dbp", "96", "glucose", "7,2", "glucose_unit", "mmol_l", "confirmed", "yes"); r.status != http.StatusSeeOther {
		t.Fatalf("a reading: %d", r.status)
	}
	page = mira.get(path).body
	for _, want := range []string{"No exercise until it was measured again", "Measure again", "glucose 7.2 mmol/L", "208/96"} {
		if !strings.Contains(page, want) {
			t.Errorf("after a first reading of 208/96 the page has no %q", want)
		}
	}
	of := hidden(page, "of")
	if r := mira.post(path, "id", uuid.NewString(), "of", of); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "Type what was measured now") {
		t.Errorf("a second reading without a value: %d", r.status)
	}
	if r := mira.post(path, "id", uuid.NewString(), "of", of, "sbp_again", "206", "dbp_again", "94"); r.status != http.StatusSeeOther {
		t.Fatalf("the second reading: %d", r.status)
	}
	page = mira.get(path).body
	for _, want := range []string{"No session today", "still too high after a rest", "All exercise on hold"} {
		if !strings.Contains(page, want) {
			t.Errorf("still at 206/94 the page has no %q", want)
		}
	}
	row := storetest.Must(s.VitalsFile(t.Context(), s.Mira.Actor(), client)).Entries[0].ID.String()
	if r := mira.get(path + "?correct=" + row); !strings.Contains(r.body, `value="208"`) || !strings.Contains(r.body, "Why it is corrected") {
		t.Error("the form of a correction does not begin with what was typed")
	}
	if r := mira.post(path+"/"+row+"/error", "reason", " "); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "error-"+row) {
		t.Errorf("marked without a reason: %d", r.status)
	}
	if r := mira.post(path+"/"+row+"/error", "reason", "Of another client."); r.status != http.StatusUnprocessableEntity ||
		!strings.Contains(r.body, "ask the lead to mark it") || !strings.Contains(r.body, `value="Of another client."`) {
		t.Errorf("a reading that holds, marked without another one: %d", r.status)
	}
	if r := s.as("ines").post(path+"/"+row+"/error", "reason", "Of another client."); r.status != http.StatusSeeOther {
		t.Errorf("marked by the lead: %d", r.status)
	}
	page = mira.get(path).body
	if !strings.Contains(page, "Entered in error: Of another client.") || strings.Contains(page, "All exercise on hold") {
		t.Error("a reading in error still holds, or is not told")
	}

	if r := mira.post(path, "id", uuid.NewString(), "sbp", "208", "dbp", "96", "says", "warning", "confirmed", "yes"); r.status != http.StatusSeeOther {
		t.Fatalf("a reading with chest pain: %d", r.status)
	}
	if page := mira.get(path).body; !strings.Contains(page, "Call 112") || !strings.Contains(page, "tel:112") {
		t.Error("with chest pain the number is not there")
	}
}
