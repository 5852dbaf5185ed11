package store_test

import (
	"context"
	"reflect"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"brae/domain/triage"
	"brae/store/storetest"
)

// roundTrips counts how often the database is asked and has to answer before
// anything goes on: statements on their own, and batches.
type roundTrips struct{ n atomic.Int64 }

func (r *roundTrips) TraceQueryStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceQueryStartData) context.Context {
	r.n.Add(1)
	return ctx
}

func (r *roundTrips) TraceQueryEnd(context.Context, *pgx.Conn, pgx.TraceQueryEndData) {}

func (r *roundTrips) TraceBatchStart(ctx context.Context, _ *pgx.Conn, _ pgx.TraceBatchStartData) context.Context {
	r.n.Add(1)
	return ctx
}

func (r *roundTrips) TraceBatchQuery(context.Context, *pgx.Conn, pgx.TraceBatchQueryData) {}

func (r *roundTrips) TraceBatchEnd(context.Context, *pgx.Conn, pgx.TraceBatchEndData) {}

// TestRoundTripsOfALog keeps a log from asking the database more often than it
// did when it was made fast. What a request asks beside the log itself: who has
// signed in, what their page needs, and the sentence on the next page.
func TestRoundTripsOfALog(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	account := f.JoinClient(client, "jon")
	var trips roundTrips
	s := storetest.Must(f.Traced(t.Context(), &trips))
	t.Cleanup(s.Close)
	signIns, expiry := s.SignIns(), storetest.Now.Add(time.Hour)
	if err := signIns.CommitCtx(t.Context(), "token", []byte("who"), expiry); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		what string
		most int64
		ask  func() error
	}{
		{"to find the sign-in", 1, func() error { _, _, err := signIns.FindCtx(t.Context(), "token"); return err }},
		{"to find the account", 1, func() error { _, err := s.SignedIn(t.Context(), account.ID); return err }},
		// The transaction begins with the practice; what is known; what is written; and its end.
		{"to log", 4, func() error {
			_, err := s.LogSession(t.Context(), account.Actor(), client, storetest.Walk(30))
			return err
		}},
		{"to keep the sentence", 1, func() error { return signIns.CommitCtx(t.Context(), "token", []byte("and what"), expiry) }},
	} {
		for range 2 { // the first time statements are prepared
			trips.n.Store(0)
			if err := tt.ask(); err != nil {
				t.Fatal(err)
			}
		}
		if n := trips.n.Load(); n > tt.most {
			t.Errorf("%d round trips %s; want %d at most", n, tt.what, tt.most)
		}
	}
}

// TestLogReturnsWhatItStores reads back what was logged, which the store puts
// together without reading it.
func TestLogReturnsWhatItStores(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	for name, reports := range map[string][]triage.Report{
		"nothing":        nil,
		"some":           {"headache_mild", "chest_pressure_gone"},
		"what stops all": {"chest_pressure_now"},
	} {
		in := storetest.Walk(30)
		in.Note, in.Reports = "against the wind", reports
		in.Parts = append(in.Parts, in.Parts[0])
		in.Parts[1].Effort, in.Parts[1].HeartRate = 13, 118
		logged := storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in))
		read := storetest.Must(f.Sorted(t.Context(), f.Mira.Actor(), client, in.ID))
		if !reflect.DeepEqual(logged.Session, read.Session) {
			t.Errorf("%s: logged\n%+v\nand read\n%+v", name, logged.Session, read.Session)
		}
		if logged.Triage.ID != read.Triage.ID || logged.Triage.Level != read.Triage.Level || !slices.Equal(logged.Triage.Rules, read.Triage.Rules) {
			t.Errorf("%s: sorted as %v %v and read as %v %v", name, logged.Triage.Level, logged.Triage.Rules, read.Triage.Level, read.Triage.Rules)
		}
	}
}
