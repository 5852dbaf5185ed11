package store_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/store"
	"brae/store/storetest"
)

// TestTimeline: everything that happened stands there once, in order, with who; it
// can be narrowed and paged, and the chart is the whole of it.
func TestTimeline(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	client := f.Client()
	step := func(do func()) { f.Wait(time.Minute); do() }
	step(func() { f.ScreenClient(client, "q.chest_pressure", "yes") })
	step(func() { storetest.Must(f.WriteReferral(ctx, mira, client)) })
	step(func() {
		storetest.Must(f.RecordClearance(ctx, mira, client, storetest.Cleared(intensity.Moderate, "chest_pressure")))
	})
	step(func() { storetest.Must(f.SignPrescription(ctx, mira, client, storetest.Walking(0))) })
	step(func() { storetest.Must(f.LogSession(ctx, mira, client, feeling("tired_next_day"))) })
	step(func() { storetest.Must(f.AddTest(ctx, mira, client, walked(402, storetest.Day))) })
	step(func() { storetest.Must(f.TakeVitals(ctx, mira, client, pressure(126, 78))) })
	step(func() {
		if err := f.SignNote(ctx, f.Lead.Actor(), client, note("Seen."), ""); err != nil {
			t.Fatal(err)
		}
	})
	step(func() {
		if err := f.SendMessage(ctx, mira, client, store.MessageInput{ID: uuid.New(), Text: "Well done."}); err != nil {
			t.Fatal(err)
		}
	})
	step(func() {
		for _, item := range storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{})).Items {
			if item.Flag != uuid.Nil {
				if err := f.FinishFlag(ctx, mira, item.Flag, "Spoken to."); err != nil {
					t.Fatal(err)
				}
			}
		}
	})
	storetest.Must(f.SaveNote(ctx, mira, client, note("A draft stands nowhere.")))

	page := storetest.Must(f.Timeline(ctx, mira, client, nil, 0, 50))
	for _, kind := range []string{"screening", "hold", "letter", "decision", "prescription", "test", "vitals", "note", "session", "message", "flag"} {
		if page.Counts[kind] == 0 {
			t.Errorf("nothing of the kind %s: %v", kind, page.Counts)
		}
	}
	if page.Counts["hold"] != 2 || page.Counts["note"] != 1 || page.Total != len(page.Lines) {
		t.Errorf("counts %v, total %d, lines %d; want a hold opened and released, one note", page.Counts, page.Total, len(page.Lines))
	}
	if !slices.IsSortedFunc(page.Lines, func(a, b store.TimelineLine) int { return b.At.Compare(a.At) }) {
		t.Error("the newest is not first")
	}
	for _, l := range page.Lines {
		if l.At.IsZero() || l.By == "" || l.Place == "" && l.Kind != "prescription" {
			t.Errorf("a line without when, who or where: %+v", l)
		}
		if l.Kind == "vitals" && (l.Reading == nil || *l.Reading.SBP != 126) {
			t.Errorf("the reading is %+v", l.Reading)
		}
		if l.Kind == "note" && l.By != "Ines Harrow" {
			t.Errorf("the note is by %q", l.By)
		}
	}
	var paged []store.TimelineLine
	for offset := 0; offset < page.Total; offset += 3 {
		paged = append(paged, storetest.Must(f.Timeline(ctx, mira, client, nil, offset, 3)).Lines...)
	}
	if len(paged) != page.Total || paged[len(paged)-1].At != page.Lines[len(page.Lines)-1].At {
		t.Errorf("pages of three have %d lines of %d", len(paged), page.Total)
	}
	if some := storetest.Must(f.Timeline(ctx, mira, client, []string{"hold"}, 0, 50)); len(some.Lines) != 2 || some.Lines[1].A != clearance.All.String() {
		t.Errorf("the holds are %+v", some.Lines)
	}
	chart := storetest.Must(f.Timeline(ctx, f.Lead.Actor(), client, nil, 0, 0))
	if len(chart.Lines) != page.Total || chart.Lines[0].Kind != "hold" && chart.Lines[0].Kind != "screening" {
		t.Errorf("the chart has %d lines and begins with %+v", len(chart.Lines), chart.Lines[0])
	}
	if _, err := f.Timeline(ctx, f.Tomas.Actor(), client, nil, 0, 50); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v", err)
	}
	if _, err := f.Timeline(ctx, f.JoinClient(client, "jon").Actor(), client, nil, 0, 50); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("the client: %v", err)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'chart.view' AND client_id = $1`, client); n != 1 {
		t.Errorf("%d entries of the chart", n)
	}
}
