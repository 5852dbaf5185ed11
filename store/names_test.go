package store_test

import (
	"slices"
	"testing"

	"brae/domain"
	"brae/store"
	"brae/store/storetest"
)

// TestCaseloadIsInPhoneBookOrder needs no source but a phone book: accents and
// capitals do not move a name to the end.
func TestCaseloadIsInPhoneBookOrder(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for _, name := range []string{"Zimmer", "Öberg", "olsen", "Abel", "Ötzel"} {
		storetest.Must(f.AddClient(t.Context(), f.Mira.Actor(), store.Client{GivenName: "Jo", FamilyName: name, BirthDate: domain.NewDate(1970, 1, 1)}))
	}
	var got []string
	for _, l := range storetest.Must(f.Caseload(t.Context(), f.Mira.Actor(), "")) {
		got = append(got, l.FamilyName)
	}
	if want := []string{"Abel", "Öberg", "olsen", "Ötzel", "Zimmer"}; !slices.Equal(got, want) {
		t.Errorf("caseload = %q; want %q", got, want)
	}
}
