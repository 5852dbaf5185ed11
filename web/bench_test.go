package web_test

import (
	"net/http"
	"testing"
	"time"

	"brae/store/storetest"
)

// BenchmarkReview asks for the lead's review of 500 clients with half a year of
// logs, one request after the other.
func BenchmarkReview(b *testing.B) {
	s := newSite(b)
	s.Wait(-26 * 7 * 24 * time.Hour)
	client := s.Client()
	s.ScreenClient(client)
	storetest.Must(s.SignPrescription(b.Context(), s.Mira.Actor(), client, storetest.Walking(0)))
	if err := storetest.Multiply(b.Context(), s.Pool, client, 500, 26, 4, storetest.Day); err != nil {
		b.Fatal(err)
	}
	s.Wait(26 * 7 * 24 * time.Hour)
	lead := s.as("ines")
	for b.Loop() {
		if r := lead.get("/review"); r.status != http.StatusOK {
			b.Fatal(r.status)
		}
	}
}
