package store

import (
	"context"
	"errors"

	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/fitness"
	"brae/domain/heartrate"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/screening"
)

// tested is what the record knows of somebody who does a test.
type tested struct {
	Screening *Screening // the newest; nil before the first
	HRBlunted bool       // a medicine or a device holds the heart rate down
	cardiac   bool
	failure   bool
	slowing   bool
}

// blunting are the conditions in which the heart does not set its own rate.
const blunting = heartrate.Transplant | heartrate.Pacemaker | heartrate.Fibrillation

func (t *tx) tested(ctx context.Context, c Client) (p tested, err error) {
	if p.Screening, err = t.newestScreening(ctx, c.ID); err != nil || p.Screening == nil {
		return p, err
	}
	person, err := p.Screening.Input.HeartRate(c.BirthDate, t.today, p.Screening.DecidedOn, t.settings)
	if err != nil {
		return p, err
	}
	zones := p.Screening.Input.Matches().ZonesUntilConfirmed()
	p.slowing = zones.Has(medicine.MeasuredOnly) || zones.Has(medicine.NoHeartRate)
	p.HRBlunted = p.slowing || person.Conditions&blunting != 0
	p.cardiac = person.Conditions.Has(heartrate.Coronary)
	p.failure = person.Conditions.Has(heartrate.HeartFailure)
	return p, nil
}

// vitals are the readings at rest as the rules of vital signs see them.
func (p tested) vitals(c fitness.Conditions) screening.Vitals {
	return screening.Vitals{
		SBP: c.SBP, DBP: c.DBP, RestingHR: c.RestingHR, SpO2: c.SpO2,
		Cardiac: p.cardiac || p.failure, HeartFailure: p.failure, RateSlowing: p.slowing,
	}
}

// readiness returns what bears on a test on a day. A test of an earlier day is
// judged by the holds and the screening of that day, so that a late entry is
// neither barred by what came after nor a way around what stood before.
func (t *tx) readiness(ctx context.Context, c Client, on domain.Date) (fitness.Readiness, error) {
	r := fitness.Readiness{RestCeiling: intensity.NearMaximal, NoAllOut: !fitness.PolicyFrom(t.settings).AllOut}
	prescribed, err := t.prescriptionInForce(ctx, c.ID)
	if err != nil {
		return r, err
	}
	class := intensity.None
	if prescribed != nil {
		class = prescribed.Class
	}
	f, err := t.clearanceFile(ctx, c.ID)
	if err != nil {
		return r, err
	}
	if on != t.today {
		return r, t.readyOn(ctx, &f, on, class, &r)
	}
	if f.Screening == nil {
		return r, nil
	}
	r.Stage = fitness.StageReached(class, f.Screening.Decision.Regular, f.Screening.Input.Activity.Class)
	r.Screened = t.counts(f.Screening.DecidedOn, on)
	r.Holds = reasonsOf(f.Holds)
	r.Ceiling = f.Ceiling()
	gate := f.Gate(t.today) // who does the test signs it off
	r.Vigorous, r.WhyNot = gate.Allow, gate.First.Says
	r.HRLimit = int(f.bounds().Top)
	draft, err := t.draft(ctx, c.ID)
	r.Unfinished = draft.Version > 0
	return r, err
}

// reasonsOf are the reasons of holds.
func reasonsOf(holds []Hold) []string {
	var reasons []string
	for _, h := range holds {
		reasons = append(reasons, h.Reason)
	}
	return reasons
}

// counts reports whether a screening still counts on a day.
func (t *tx) counts(decided, on domain.Date) bool {
	return !on.Before(decided) && on.Before(decided.AddMonths(clearance.PolicyFrom(t.settings).ScreeningMonths))
}

// readyOn is readiness on an earlier day.
func (t *tx) readyOn(ctx context.Context, f *clearanceFile, on domain.Date, class intensity.Class, r *fitness.Readiness) error {
	rows, _ := t.Query(ctx, `
		SELECT decided_on, input, decision FROM screenings
		WHERE client_id = $1 AND decided_on <= $2 ORDER BY created_at DESC LIMIT 1`, f.Client, on)
	s, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
		DecidedOn domain.Date
		Input     intake.Record
		Decision  screening.Decision
	}])
	if errors.Is(err, pgx.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	r.Screened, r.Stage = t.counts(s.DecidedOn, on), fitness.StageReached(class, s.Decision.Regular, s.Input.Activity.Class)
	var open []Hold
	for _, h := range f.All {
		if !h.OpenedOn.After(on) && (h.Released == nil || !domain.DateOf(h.Released.At, t.practice.Location).Before(on)) {
			open = append(open, h)
		}
	}
	r.Holds = reasonsOf(open)
	r.Ceiling = min(s.Decision.CeilingNow, widest(open).Ceiling())
	r.Vigorous = true // the gate of that day is not kept; its holds are
	return nil
}
