package store_test

import (
	"testing"

	"brae/domain/intensity"
	"brae/store"
	"brae/store/storetest"
)

// TestNextSession counts the sessions of the week against those prescribed: five of
// 30 moderate minutes in storetest.Walking.
func TestNextSession(t *testing.T) {
	t.Parallel()
	s := storetest.SetUp(t)
	id := s.Client()
	if w := storetest.Must(s.Week(t.Context(), s.Mira.Actor(), id)); w.Next != (store.NextSession{}) || w.Decision != nil {
		t.Errorf("without a prescription %+v comes next, by %v", w.Next, w.Decision)
	}
	s.ScreenClient(id)
	in := storetest.Walking(0)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, in))
	for done := range 7 {
		w := storetest.Must(s.Week(t.Context(), s.Mira.Actor(), id))
		want := store.NextSession{Left: max(0, in.SessionsPerWeek-done), Minutes: in.MinutesPerSession, Class: intensity.Moderate}
		if w.Next != want {
			t.Errorf("after %d sessions %+v comes next; want %+v", done, w.Next, want)
		}
		if w.Decision == nil || w.Decision.Row == "" {
			t.Error("the week does not know the decision it rests on")
		}
		storetest.Must(s.LogSession(t.Context(), s.Mira.Actor(), id, storetest.Walk(10)))
	}
}
