package store

import (
	"context"
	"errors"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/fitness"
	"brae/domain/heartrate"
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
func (t *tx) readiness(ctx context.Context, c Client, on domain.Date, person tested) (fitness.Readiness, error) {
	r := fitness.Readiness{RestCeiling: intensity.NearMaximal}
	prescribed, err := t.prescriptionInForce(ctx, c.ID)
	if err != nil {
		return r, err
	}
	class := intensity.None
	if prescribed != nil {
		class = prescribed.Class
	}
	if on != t.today {
		return r, t.readyOn(ctx, c, on, class, &r)
	}
	s := person.Screening
	if s == nil {
		return r, nil
	}
	r.Stage = fitness.StageReached(class, s.Decision.Regular, s.Input.Activity.Class)
	r.Screened = t.counts(s.DecidedOn, on)
	holds, err := t.openHolds(ctx, c.ID)
	if err != nil {
		return r, err
	}
	for _, h := range holds {
		r.Holds = append(r.Holds, h.Reason)
	}
	if r.Ceiling, err = t.ceiling(ctx, c.ID, holds); err != nil {
		return r, err
	}
	gate, err := t.vigorousGate(ctx, c.ID, holds)
	if err != nil {
		return r, err
	}
	r.Vigorous, r.WhyNot = gate.Allow, gate.First.Says
	draft, err := t.draft(ctx, c.ID)
	r.Unfinished = draft.Version > 0
	return r, err
}

// counts reports whether a screening still counts on a day.
func (t *tx) counts(decided, on domain.Date) bool {
	return !on.Before(decided) && on.Before(decided.AddMonths(clearance.PolicyFrom(t.settings).ScreeningMonths))
}

// readyOn is readiness on an earlier day.
func (t *tx) readyOn(ctx context.Context, c Client, on domain.Date, class intensity.Class, r *fitness.Readiness) error {
	rows, _ := t.Query(ctx, `
		SELECT s.id, s.decided_on, s.answers, s.input, s.decision, s.created_at, a.name AS created_by
		FROM screenings s JOIN accounts a ON a.id = s.created_by
		WHERE s.client_id = $1 AND s.decided_on <= $2 ORDER BY s.created_at DESC LIMIT 1`, c.ID, on)
	s, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Screening])
	if errors.Is(err, pgx.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	r.Screened, r.Ceiling = t.counts(s.DecidedOn, on), s.Decision.CeilingNow
	r.Stage = fitness.StageReached(class, s.Decision.Regular, s.Input.Activity.Class)
	holds, err := t.holdsOn(ctx, c.ID, on)
	if err != nil {
		return err
	}
	for _, h := range holds {
		r.Holds = append(r.Holds, h.Reason)
	}
	r.Ceiling = min(r.Ceiling, widest(holds).Ceiling())
	r.Vigorous = r.Ceiling >= intensity.Vigorous
	return nil
}

// holdsOn returns the holds that were open on some part of an earlier day.
func (t *tx) holdsOn(ctx context.Context, client uuid.UUID, on domain.Date) ([]Hold, error) {
	rows, _ := t.Query(ctx, `
		SELECT id, scope, cause, rule, reason, opened_at FROM holds
		WHERE client_id = @client AND (opened_at AT TIME ZONE @zone)::date <= @on
			AND (released_at IS NULL OR (released_at AT TIME ZONE @zone)::date >= @on)
		ORDER BY opened_at, id`, pgx.NamedArgs{"client": client, "on": on, "zone": t.practice.Zone})
	return pgx.CollectRows(rows, pgx.RowToStructByName[Hold])
}
