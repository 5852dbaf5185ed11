package store_test

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/png"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/source"
	"brae/store"
	"brae/store/storetest"
)

// The sources of the checks here. Where a number is the practice's own, the check
// is that the setting is kept to.
const (
	acsm2015 = "ACSM 2015, figure of the screening model"
	setting  = "practice setting"
)

func ceilingOf(t *testing.T, f *storetest.Practice, client uuid.UUID) intensity.Class {
	t.Helper()
	return storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client)).Ceiling
}

const day = 24 * time.Hour

// TestClearanceDecidesAgain records decisions beside a screening that stays as it
// was taken.
func TestClearanceDecidesAgain(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for _, tt := range []struct {
		source  string
		changes []string
		in      store.ClearanceInput
		ceiling intensity.Class
		holds   int
	}{
		{acsm2015 + ": regular, symptom, cleared", []string{"q.chest_pressure", "yes"}, storetest.Cleared(intensity.Vigorous, "chest_pressure"), intensity.Moderate, 0},
		{acsm2015 + ": regular, disease, cleared for vigorous", []string{"q.diabetes_type_2", "yes"}, storetest.Cleared(intensity.Vigorous, "diabetes_type_2"), intensity.Vigorous, 0},
		{setting + ": the doctor's ceiling counts", []string{"q.diabetes_type_2", "yes"}, storetest.Cleared(intensity.Light, "diabetes_type_2"), intensity.Light, 0},
		{setting + ": what it does not name stays held", []string{"q.chest_pressure", "yes", "q.stroke", "yes"}, storetest.Cleared(intensity.Moderate, "stroke"), intensity.None, 1},
		{acsm2015 + ": not regular, disease, cleared", []string{intake.FieldDays, "0", "q.heart_attack", "yes"}, storetest.Cleared(intensity.Moderate, "heart_attack"), intensity.Moderate, 0},
	} {
		t.Run(tt.source, func(t *testing.T) {
			client := f.Client()
			before := f.ScreenClient(client, tt.changes...)
			r := storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, tt.in))
			week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
			if week.Ceiling != tt.ceiling || len(week.Holds) != tt.holds {
				t.Errorf("ceiling %s with %d holds; want %s with %d", week.Ceiling, len(week.Holds), tt.ceiling, tt.holds)
			}
			for _, l := range storetest.Must(f.Caseload(t.Context(), f.Mira.Actor(), "")) {
				if l.ID == client && (l.Ceiling != tt.ceiling || (l.Hold != clearance.NoHold) != (tt.holds > 0)) {
					t.Errorf("the caseload says up to %s, hold %s", l.Ceiling, l.Hold)
				}
			}
			if week.Ceiling > tt.in.Ceiling {
				t.Errorf("the ceiling %s is above the doctor's %s", week.Ceiling, tt.in.Ceiling)
			}
			_, s, err := f.Decision(t.Context(), f.Mira.Actor(), client)
			if err != nil || s.Decision.CeilingNow != before.CeilingNow || s.Decision.Rule != before.Rule {
				t.Errorf("the screening has become %+v, %v", s.Decision, err)
			}
			if n := f.Count(`SELECT count(*) FROM holds WHERE client_id = $1 AND released_decision = $2`, client, r.ID); n != len(r.Released) || n == 0 {
				t.Errorf("%d holds name the decision; %d were released", n, len(r.Released))
			}
			for _, action := range []string{"clearance.record", "hold.release"} {
				if f.Count(`SELECT count(*) FROM audit WHERE client_id = $1 AND action = $2`, client, action) == 0 {
					t.Errorf("no audit entry %s", action)
				}
			}
		})
	}
}

// TestOldWordCoversNothingNew: a decision signed before the symptom was first
// reported does not cover it; one of that day does (practice setting).
func TestOldWordCoversNothingNew(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	old := storetest.Cleared(intensity.Vigorous, "chest_pressure")
	old.DecidedOn = storetest.Day.AddDays(-1)
	r := storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, old))
	if c := ceilingOf(t, f, client); c != intensity.None || len(r.Released) != 0 {
		t.Errorf("after a decision of the day before: ceiling %s, %d holds released; want none", c, len(r.Released))
	}
	hold := storetest.Must(f.HoldFile(t.Context(), f.Mira.Actor(), client)).Open[0]
	if err := f.ReleaseHold(t.Context(), f.Mira.Actor(), client, hold.ID, "He feels fine."); !errors.Is(err, domain.ErrHeld) {
		t.Errorf("release without a decision that covers it: %v; want %v", err, domain.ErrHeld)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'hold.release_refused' AND subject = $1`, "hold/"+hold.ID.String()); n != 1 {
		t.Errorf("%d audit entries of the refusal; want 1", n)
	}
	fresh := storetest.Cleared(intensity.Vigorous, "chest_pressure")
	fresh.Supersedes, fresh.Release = r.ID.String(), false
	storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, fresh))
	if err := f.ReleaseHold(t.Context(), f.Mira.Actor(), client, hold.ID, "The doctor has answered."); err != nil {
		t.Errorf("release with a decision of the day: %v", err)
	}
	if c := ceilingOf(t, f, client); c != intensity.Moderate {
		t.Errorf("ceiling %s; want moderate", c)
	}
}

// TestClearanceLapses follows a decision through time: twelve months, the day
// itself has lapsed (ACSM 2015 for the months, practice setting for the day).
func TestClearanceLapses(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.diabetes_type_2", "yes")
	in := storetest.Cleared(intensity.Vigorous, "diabetes_type_2")
	in.Limits.HeartRate = 118
	in.Outcome = clearance.ClearedWithLimits
	storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, in))
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	year := 365 * day // 25 November 2026 to 25 November 2027
	f.Wait(year - day)
	if c := ceilingOf(t, f, client); c != intensity.Vigorous {
		t.Errorf("on the last day the ceiling is %s; want vigorous", c)
	}
	f.Wait(day)
	week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
	if week.Ceiling != intensity.Moderate || len(week.Holds) != 1 || week.Holds[0].Scope != clearance.Vigorous {
		t.Errorf("on the anniversary: ceiling %s, holds %+v; want moderate and vigorous on hold", week.Ceiling, week.Holds)
	}
	if week.Bounds.Limits.HeartRate != 118 || week.Prescription.Zones.Ceiling != 118 {
		t.Errorf("the limit of a lapsed decision is %d, the zones end at %d; want 118", week.Bounds.Limits.HeartRate, week.Prescription.Zones.Ceiling)
	}
	for _, b := range week.Prescription.Zones.Bands {
		if b.Why == "" && b.High > 118 {
			t.Errorf("the range of %s goes to %d, above the doctor's limit", b.Class, b.High)
		}
	}
	for range 2 { // a second run finds nothing left to do
		storetest.Must(f.KeepLapsedHolds(t.Context()))
	}
	if n := f.Count(`SELECT count(*) FROM holds WHERE client_id = $1 AND released_at IS NULL`, client); n != 1 {
		t.Errorf("%d open holds are stored; want the one of the lapse", n)
	}
	again := in
	again.DecidedOn, again.ReceivedOn = storetest.Day.AddDays(365), storetest.Day.AddDays(365)
	r := storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, again))
	if c := ceilingOf(t, f, client); c != intensity.Vigorous || len(r.Released) != 1 {
		t.Errorf("after a new decision: ceiling %s, %d released; want vigorous, 1", c, len(r.Released))
	}
}

// TestClearanceChanges lowers what a decision allows by what comes after it.
func TestClearanceChanges(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for _, tt := range []struct {
		source string
		in     func(*store.ClearanceInput)
		after  func(client uuid.UUID, r store.RecordedClearance)
		status clearance.Status
		most   intensity.Class
	}{
		{setting + ": a new symptom ends it", nil, func(client uuid.UUID, _ store.RecordedClearance) {
			f.ScreenClient(client, "q.diabetes_type_2", "yes", "q.fainting", "yes")
		}, clearance.Lapsed, intensity.None},
		{setting + ": an expected symptom does not", func(in *store.ClearanceInput) {
			in.Outcome, in.Expected = clearance.ClearedWithLimits, []clearance.Expected{{Code: "leg_pain_walking", Limit: "up to 4 of 5"}}
		}, func(client uuid.UUID, _ store.RecordedClearance) {
			f.ScreenClient(client, "q.diabetes_type_2", "yes", "q.leg_pain_walking", "yes")
		}, clearance.Active, intensity.Moderate},
		{setting + ": a new diagnosis puts it under review", nil, func(client uuid.UUID, _ store.RecordedClearance) {
			f.ScreenClient(client, "q.diabetes_type_2", "yes", "q.valve_disease", "yes")
		}, clearance.UnderReview, intensity.Moderate},
		{setting + ": a new event ends it", nil, func(client uuid.UUID, _ store.RecordedClearance) {
			f.ScreenClient(client, "q.diabetes_type_2", "yes", "q.stroke", "yes")
		}, clearance.Lapsed, intensity.Moderate},
		{setting + ": a beta-blocker begins, and there is a heart-rate limit", func(in *store.ClearanceInput) {
			in.Outcome, in.Limits.HeartRate = clearance.ClearedWithLimits, 130
		}, func(client uuid.UUID, _ store.RecordedClearance) {
			f.ScreenClient(client, "q.diabetes_type_2", "yes", intake.FieldMedicines, "atenolol 50 mg")
		}, clearance.UnderReview, intensity.Moderate},
		{setting + ": a statin begins", func(in *store.ClearanceInput) {
			in.Outcome, in.Limits.HeartRate = clearance.ClearedWithLimits, 130
		}, func(client uuid.UUID, _ store.RecordedClearance) {
			f.ScreenClient(client, "q.diabetes_type_2", "yes", intake.FieldMedicines, "atorvastatin 20 mg")
		}, clearance.Active, intensity.Vigorous},
		{setting + ": the lead revokes it", nil, func(client uuid.UUID, r store.RecordedClearance) {
			if err := f.RevokeClearance(t.Context(), f.Mira.Actor(), client, r.ID, "x"); !errors.Is(err, domain.ErrForbidden) {
				t.Errorf("a practitioner revokes: %v", err)
			}
			if err := f.RevokeClearance(t.Context(), f.Lead.Actor(), client, r.ID, "The doctor called."); err != nil {
				t.Error(err)
			}
		}, clearance.Revoked, intensity.Moderate},
		{"HL7 physical activity: entered in error", nil, func(client uuid.UUID, r store.RecordedClearance) {
			if err := f.MarkClearanceErroneous(t.Context(), f.Mira.Actor(), client, r.ID, "Another client's letter."); err != nil {
				t.Error(err)
			}
		}, clearance.EnteredInError, intensity.Moderate},
	} {
		t.Run(tt.source, func(t *testing.T) {
			client := f.Client()
			in := storetest.Cleared(intensity.Vigorous, "diabetes_type_2")
			in.DecidedOn = domain.DateOf(f.Tick(), time.UTC)
			in.ReceivedOn = in.DecidedOn
			if tt.in != nil {
				tt.in(&in)
			}
			first, open := []string{"q.diabetes_type_2", "yes"}, intensity.Vigorous
			for _, e := range in.Expected { // the doctor was asked about it
				first, open = append(first, "q."+e.Code, "yes"), intensity.Moderate
			}
			f.ScreenClient(client, first...)
			r := storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, in))
			if c := ceilingOf(t, f, client); c != open {
				t.Fatalf("ceiling %s at first; want %s", c, open)
			}
			f.Wait(day)
			tt.after(client, r)
			_, c, err := f.Clearance(t.Context(), f.Mira.Actor(), client, r.ID)
			if err != nil || c.State.Status != tt.status {
				t.Errorf("status %s (%s), %v; want %s", c.State.Status, c.State.Reason, err, tt.status)
			}
			if got := ceilingOf(t, f, client); got != tt.most {
				t.Errorf("ceiling %s; want %s", got, tt.most)
			}
			if tt.status != clearance.Active && ceilingOf(t, f, client) >= intensity.Vigorous {
				t.Error("vigorous work is open")
			}
		})
	}
}

// TestPhone: a decision by phone lapses without a written confirmation in 14 days
// (practice setting).
func TestPhone(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for _, confirmed := range []bool{true, false} {
		client := f.Client()
		f.ScreenClient(client, "q.diabetes_type_2", "yes")
		in := storetest.Cleared(intensity.Vigorous, "diabetes_type_2")
		in.Channel = clearance.Phone
		in.DecidedOn = domain.DateOf(f.Tick(), time.UTC)
		in.ReceivedOn = in.DecidedOn
		r := storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, in))
		f.Wait(14 * day)
		if c := ceilingOf(t, f, client); c != intensity.Vigorous {
			t.Errorf("after 14 days the ceiling is %s; want vigorous", c)
		}
		if q := storetest.Must(f.DoctorQueue(t.Context(), f.Mira.Actor())); len(q.Confirm) != 1 {
			t.Errorf("%d decisions to confirm; want 1", len(q.Confirm))
		}
		want := intensity.Moderate
		if confirmed {
			want = intensity.Vigorous
			if err := f.ConfirmClearance(t.Context(), f.Mira.Actor(), client, r.ID, domain.DateOf(f.Tick(), time.UTC), "The paper came."); err != nil {
				t.Error(err)
			}
		}
		f.Wait(day)
		if c := ceilingOf(t, f, client); c != want {
			t.Errorf("after 15 days, confirmed %t: ceiling %s; want %s", confirmed, c, want)
		}
	}
}

// TestOneActiveDecision records two decisions for the same work at once: one is
// refused until it says that it supersedes the other.
func TestOneActiveDecision(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.diabetes_type_2", "yes")
	var all sync.WaitGroup
	errs := make([]error, 4)
	for i := range errs {
		all.Go(func() {
			_, errs[i] = f.RecordClearance(t.Context(), f.Mira.Actor(), client, storetest.Cleared(intensity.Vigorous, "diabetes_type_2"))
		})
	}
	all.Wait()
	recorded := 0
	for _, err := range errs {
		problems, refused := errors.AsType[domain.Problems](err)
		if err == nil {
			recorded++
		} else if !refused || problems["supersedes"] == "" {
			t.Errorf("a second decision: %v; want a problem of supersedes", err)
		}
	}
	if recorded != 1 {
		t.Errorf("%d decisions were recorded; want 1", recorded)
	}
	// Beneath the lock the database itself keeps one: a second row that takes no place
	// is refused at its commit, and so is one of two that take the same place.
	second := `INSERT INTO clearances SELECT (jsonb_populate_record(c, jsonb_build_object('id', gen_random_uuid(), 'supersedes', c.id))).* FROM clearances c RETURNING id`
	if _, err := f.Pool.Exec(t.Context(), second); err == nil || !strings.Contains(err.Error(), "23505") {
		t.Errorf("a decision beside the one that stands: %v; want a unique violation", err)
	}
	var seen uuid.UUID
	if err := f.Pool.QueryRow(t.Context(), `SELECT clearance_id FROM standing_clearances WHERE client_id = $1`, client).Scan(&seen); err != nil {
		t.Fatal(err)
	}
	taken := make([]int64, 2)
	for i := range taken {
		all.Go(func() {
			_ = pgx.BeginFunc(t.Context(), f.Pool, func(tx pgx.Tx) error {
				var id uuid.UUID
				if err := tx.QueryRow(t.Context(), `INSERT INTO clearances SELECT (jsonb_populate_record(c, jsonb_build_object('id', gen_random_uuid(), 'supersedes', c.id))).* FROM clearances c WHERE id = $1 RETURNING id`, seen).Scan(&id); err != nil {
					return err
				}
				tag, err := tx.Exec(t.Context(), `UPDATE standing_clearances SET clearance_id = $2 WHERE clearance_id = $1`, seen, id)
				taken[i] = tag.RowsAffected()
				return err
			})
		})
	}
	all.Wait()
	if taken[0]+taken[1] != 1 || f.Count(`SELECT count(*) FROM clearances`) != 2 {
		t.Errorf("at once %v took the place, and %d decisions are stored; want 1 more", taken, f.Count(`SELECT count(*) FROM clearances`))
	}
	for _, sql := range []string{`UPDATE clearances SET ceiling = 'light'`, `DELETE FROM clearances`, `DELETE FROM clearance_events`} {
		if _, err := f.Pool.Exec(t.Context(), sql); err == nil {
			t.Errorf("%s went through", sql)
		}
	}
}

// TestOwnDoctor: nobody clears their own client unless the lead has noted their
// licence (practice setting).
func TestOwnDoctor(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.diabetes_type_2", "yes")
	in := storetest.Cleared(intensity.Vigorous, "diabetes_type_2")
	in.DecidedBy.Name, in.DecidedBy.MayClearClient = "Dr. Mira", true // the form cannot say so
	_, err := f.RecordClearance(t.Context(), f.Mira.Actor(), client, in)
	if problems, _ := errors.AsType[domain.Problems](err); problems["decided_by.name"] == "" {
		t.Errorf("their own practitioner: %v; want a problem of the name", err)
	}
	if err := f.LetOwnDoctorClear(t.Context(), f.Mira.Actor(), f.Mira.ID, "R 2"); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("a practitioner flags herself: %v", err)
	}
	if err := f.LetOwnDoctorClear(t.Context(), f.Lead.Actor(), f.Mira.ID, "R 2"); err != nil {
		t.Fatal(err)
	}
	if _, err := f.RecordClearance(t.Context(), f.Mira.Actor(), client, in); err != nil {
		t.Errorf("flagged and licensed: %v", err)
	}
}

// TestHolds opens and releases a practitioner's hold, and tries to release a
// doctor's with words alone.
func TestHolds(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	if _, err := f.OpenHold(t.Context(), f.Mira.Actor(), client, clearance.NoHold, " "); err == nil {
		t.Error("a hold of nothing for no reason was opened")
	}
	id := storetest.Must(f.OpenHold(t.Context(), f.Mira.Actor(), client, clearance.AboveLight, "New shoes rub."))
	if c := ceilingOf(t, f, client); c != intensity.Light {
		t.Errorf("ceiling %s; want light", c)
	}
	if _, err := f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)); !errors.Is(err, domain.ErrHeld) {
		t.Errorf("moderate under a hold: %v; want %v", err, domain.ErrHeld)
	}
	// A doctor's decision does not end what the practitioner wants.
	storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, storetest.Cleared(intensity.Vigorous, "practitioner")))
	if c := ceilingOf(t, f, client); c != intensity.Light {
		t.Errorf("ceiling %s after a doctor's decision; want light", c)
	}
	if err := f.ReleaseHold(t.Context(), f.Tomas.Actor(), client, id, "x"); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v; want %v", err, domain.ErrNotFound)
	}
	if err := f.ReleaseHold(t.Context(), f.Mira.Actor(), client, id, " "); err == nil {
		t.Error("a hold was released without a reason")
	}
	if err := f.ReleaseHold(t.Context(), f.Mira.Actor(), client, id, "New socks."); err != nil {
		t.Error(err)
	}
	if err := f.ReleaseHold(t.Context(), f.Mira.Actor(), client, id, "Again."); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("released twice: %v; want %v", err, domain.ErrConflict)
	}
	h := storetest.Must(f.HoldFile(t.Context(), f.Mira.Actor(), client))
	if len(h.Open) != 0 || len(h.Released) != 1 || h.Released[0].Released.Reason != "New socks." {
		t.Errorf("holds = %+v; want one released", h)
	}
	for _, action := range []string{"hold.open", "hold.release", "holds.view"} {
		if f.Count(`SELECT count(*) FROM audit WHERE client_id = $1 AND action = $2`, client, action) == 0 {
			t.Errorf("no audit entry %s", action)
		}
	}
}

// TestAbsoluteContraindication: over first, then a doctor's word that is not
// older (practice setting, after the lists of contraindications).
func TestAbsoluteContraindication(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.lung_clot", "yes")
	storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, storetest.Cleared(intensity.Moderate, "lung_clot")))
	hold := storetest.Must(f.HoldFile(t.Context(), f.Mira.Actor(), client)).Open[0]
	if err := f.ReleaseHold(t.Context(), f.Mira.Actor(), client, hold.ID, "Cleared."); !errors.Is(err, domain.ErrHeld) {
		t.Errorf("before it is over: %v; want %v", err, domain.ErrHeld)
	}
	f.Wait(7 * day)
	over := storetest.Day.AddDays(5)
	if err := f.ResolveHold(t.Context(), f.Mira.Actor(), client, hold.ID, over, "The hospital wrote."); err != nil {
		t.Fatal(err)
	}
	if err := f.ReleaseHold(t.Context(), f.Mira.Actor(), client, hold.ID, "Cleared."); !errors.Is(err, domain.ErrHeld) {
		t.Errorf("with a decision from before it was over: %v; want %v", err, domain.ErrHeld)
	}
	in := storetest.Cleared(intensity.Moderate, "lung_clot")
	in.DecidedOn, in.ReceivedOn = storetest.Day.AddDays(6), storetest.Day.AddDays(6)
	in.Supersedes = storetest.Must(f.DoctorFile(t.Context(), f.Mira.Actor(), client)).Decisions[0].ID.String()
	if r := storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, in)); len(r.Released) != 1 {
		t.Errorf("%d holds released; want 1", len(r.Released))
	}
	if c := ceilingOf(t, f, client); c != intensity.Moderate {
		t.Errorf("ceiling %s; want moderate", c)
	}
}

// TestFever: a hold for a fever ends by a word, and the ceiling with it.
func TestFever(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.infection_fever", "yes")
	hold := storetest.Must(f.HoldFile(t.Context(), f.Mira.Actor(), client)).Open[0]
	f.Wait(day)
	if err := f.ReleaseHold(t.Context(), f.Mira.Actor(), client, hold.ID, "A day without fever."); err != nil {
		t.Fatal(err)
	}
	if c := ceilingOf(t, f, client); c != intensity.Vigorous {
		t.Errorf("ceiling %s; want vigorous", c)
	}
}

// TestStalePrescription signs a form that was opened before a hold.
func TestStalePrescription(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client)
	vigorous := storetest.Walking(0)
	vigorous.Class = intensity.Vigorous
	if d := storetest.Must(f.NewPrescription(t.Context(), f.Mira.Actor(), client)); d.Ceiling != intensity.Vigorous || !d.Gate.Allow {
		t.Fatalf("before the hold: ceiling %s, gate %+v", d.Ceiling, d.Gate)
	}
	storetest.Must(f.OpenHold(t.Context(), f.Lead.Actor(), client, clearance.Vigorous, "Wait for the blood test."))
	if _, err := f.SignPrescription(t.Context(), f.Mira.Actor(), client, vigorous); !errors.Is(err, domain.ErrHeld) {
		t.Errorf("signed after the hold: %v; want %v", err, domain.ErrHeld)
	}
	if n := f.Count(`SELECT count(*) FROM prescriptions`); n != 0 {
		t.Errorf("%d prescriptions are stored; want none", n)
	}
}

func scan(t *testing.T) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := png.Encode(&buf, image.NewGray(image.Rect(0, 0, 8, 8))); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// TestDocuments keeps what a file is, not what it is called.
func TestDocuments(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.diabetes_type_2", "yes")
	r := storetest.Must(f.RecordClearance(t.Context(), f.Mira.Actor(), client, storetest.Cleared(intensity.Vigorous, "diabetes_type_2")))
	if err := f.ChangeSettings(t.Context(), f.Lead.Actor(), 0, source.Values{"clearance.document_mb": 1}, "Small disk."); err != nil {
		t.Fatal(err)
	}
	pdf := []byte("%PDF-1.7\n" + strings.Repeat("x", 100) + "\n%%EOF\n")
	for _, tt := range []struct {
		why, name string
		body      []byte
		ok        bool
	}{
		{"a scan", `C:\scans\answer "1".png`, scan(t), true},
		{"a PDF without its ending in the name", "answer", pdf, true},
		{"a program that is called .pdf", "answer.pdf", append([]byte("\x7fELF"), make([]byte, 100)...), false},
		{"a page that is called .pdf", "answer.pdf", []byte("<script>alert(1)</script>"), false},
		{"nothing", "answer.pdf", nil, false},
		{"more than the practice allows", "answer.pdf", append(append([]byte("%PDF-1.7\n"), make([]byte, 1<<20)...), "%%EOF"...), false},
	} {
		id, err := f.AddDocument(t.Context(), f.Mira.Actor(), client, r.ID, tt.name, tt.body)
		if _, problem := errors.AsType[domain.Problems](err); (err == nil) != tt.ok || err != nil && !problem {
			t.Errorf("%s: %v", tt.why, err)
		}
		if err != nil {
			continue
		}
		d, body, err := f.Document(t.Context(), f.Mira.Actor(), client, id)
		if err != nil || !bytes.Equal(body, tt.body) || strings.ContainsAny(d.Name, `"\/`) {
			t.Errorf("%s: %+v, %v", tt.why, d, err)
		}
		if _, _, err := f.Document(t.Context(), f.Tomas.Actor(), client, id); !errors.Is(err, domain.ErrNotFound) {
			t.Errorf("%s as another practitioner: %v", tt.why, err)
		}
	}
	if c := storetest.Must(f.DoctorFile(t.Context(), f.Mira.Actor(), client)).Decisions[0]; len(c.Documents) != 2 || c.Decision.Document != fmt.Sprintf("%x", c.Documents[0].SHA256) {
		t.Errorf("%d documents, hash %s", len(c.Documents), c.Decision.Document)
	}
}
