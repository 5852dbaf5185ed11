package store_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/store"
	"brae/store/storetest"
)

// The handout has the week and the language of its client; each look at it is in
// the audit trail, and nobody else's is to be seen.
func TestHandout(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	id := f.Client()
	f.ScreenClient(id)
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), id, storetest.Walking(0)))
	h := storetest.Must(f.Handout(t.Context(), f.Mira.Actor(), id))
	if h.Language != "en" || h.Week.Prescription.Class != intensity.Moderate || h.Practice.EmergencyNumber != "112" {
		t.Errorf("handout in %q of %v, emergency %q", h.Language, h.Week.Prescription, h.Practice.EmergencyNumber)
	}
	jon := f.JoinClient(id, "jon")
	if err := f.ChoosePreferences(t.Context(), jon.Actor(), store.Preferences{Language: "es", Units: "km"}); err != nil {
		t.Fatal(err)
	}
	if h := storetest.Must(f.Handout(t.Context(), jon.Actor(), id)); h.Language != "es" {
		t.Errorf("in %q for somebody who reads Spanish", h.Language)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'handout.view' AND client_id = $1`, id); n != 2 {
		t.Errorf("%d looks in the audit trail, want 2", n)
	}
	if _, err := f.Handout(t.Context(), f.Tomas.Actor(), id); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v", err)
	}
}
