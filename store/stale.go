package store

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/heartrate"
	"brae/domain/intake"
	"brae/domain/medicine"
	"brae/domain/prescription"
	"brae/domain/worklist"
)

// inputs are what ranges rest on as they were just computed.
func (t *tx) inputs(person heartrate.Person, s Screening, f *clearanceFile, z Zones) prescription.Inputs {
	in := prescription.Inputs{
		Age: person.Age, Sex: person.Sex, Medicines: rateMedicines(s.Input), Rest: person.RestingHR, Peak: person.Peak.HR, PeakOn: person.Peak.On,
		Basis: z.Basis, Reason: z.Reason, Equation: z.Equation, Chosen: person.Equation != "", Max: z.Max,
		DoctorHR: f.bounds().Top, Cleared: f.Clearance.OnFile == clearance.Allowed,
	}
	return in
}

// rateMedicines are the medicines of an intake that bear on heart rate.
func rateMedicines(r intake.Record) []prescription.Medicine {
	list := []prescription.Medicine{}
	for _, line := range r.Medicines {
		typed, _ := intake.Started(line)
		for _, found := range medicine.Match(typed).Matches {
			stale, err := medicine.AfterChange(medicine.Started, found)
			if err == nil && stale.RestingHR {
				list = append(list, prescription.Medicine{Name: found.Name, Line: typed})
			}
		}
	}
	return list
}

// hear notes the changes that bear on heart rate and were heard of after from, up to
// until.
func (f *clearanceFile) hear(now *prescription.Now, from, until time.Time) {
	for _, h := range slices.Backward(f.heard) {
		switch {
		case !h.RecordedAt.After(from), h.RecordedAt.After(until):
		case h.HeartRate:
			now.Heard = append(now.Heard, h.Note)
		case clearance.ChangeKind(h.Kind) == clearance.PregnancyOrBirth:
			now.Birth = h.Note
		}
	}
}

// ranges computes the ranges of a person as they can be signed at that time. What was
// heard of since the screening takes them away: the answers that they would rest on do
// not hold any more, and only a new screening gives others.
func (t *tx) ranges(person heartrate.Person, f *clearanceFile, at time.Time) (Zones, error) {
	z, err := t.zones(person, f.bounds())
	if err != nil || !z.Basis.Valid() {
		return z, err
	}
	var now prescription.Now
	f.hear(&now, f.Screening.CreatedAt, at)
	if why := prescription.Voided(prescription.Inputs{}, now); why != "" {
		z = z.withdrawn("Screen again before there is a range. " + why).within(f.bounds())
	}
	return z, nil
}

// since is how things stand for a prescription that was signed before: what its ranges
// would rest on today, and what was heard since the signature.
func (t *tx) since(p *Prescription, f *clearanceFile) (prescription.Now, error) {
	now := prescription.Now{Ceiling: f.Ceiling()}
	if len(f.Holds) > 0 {
		now.Held = f.Holds[0].Reason
	}
	f.hear(&now, p.SignedAt, t.now)
	if p.Inputs == nil { // signed before they were kept: only what is open now can be said
		return now, nil
	}
	var equation heartrate.Equation
	if p.Inputs.Chosen {
		equation = p.Inputs.Equation
	}
	person, err := t.person(Client{BirthDate: f.birth, Sex: f.sex}, *f.Screening, f.bounds(), equation)
	if err != nil {
		return now, err
	}
	z, err := t.ranges(person, f, p.SignedAt)
	if _, refused := errors.AsType[domain.Problems](err); refused {
		z = Zones{Basis: heartrate.NoBasis, Reason: "What it was computed from does not hold any more."} // the equation does not fit, for one
	} else if err != nil {
		return now, err
	}
	now.Inputs = t.inputs(person, *f.Screening, f, z)
	return now, nil
}

// stale returns why the prescription in force no longer fits, none without one.
func (t *tx) stale(p *Prescription, f *clearanceFile) ([]prescription.Reason, error) {
	if p == nil || f.Screening == nil {
		return nil, nil
	}
	now, err := t.since(p, f)
	if err != nil {
		return nil, err
	}
	var signed prescription.Inputs
	if p.Inputs != nil {
		signed = *p.Inputs
	}
	return prescription.Stale(p.Class, signed, now, prescription.PolicyFrom(t.settings)), nil
}

// inUse are the ranges of a prescription as a client may go by them today, and as a
// logged heart rate is classed: none once what they rest on has changed.
func (t *tx) inUse(p *Prescription, f *clearanceFile) (Zones, error) {
	z := p.shown()
	if z.Basis.Valid() && f.Screening != nil {
		now, err := t.since(p, f)
		if err != nil {
			return z, err
		}
		signed := prescription.Inputs{Basis: now.Basis}
		if p.Inputs != nil {
			signed = *p.Inputs
		}
		if why := prescription.Voided(signed, now); why != "" {
			z = z.withdrawn(why)
		}
	}
	return z.within(f.bounds()), nil
}

// StalePrescription is a client whose prescription is out of date.
type StalePrescription struct {
	ClientID   uuid.UUID
	ClientName string
	Version    int
	SignedAt   time.Time
	Reasons    []prescription.Reason

	name nameKey
}

// StalePrescriptions returns the clients that the actor may see whose prescription is
// out of date, by name.
func (s *Store) StalePrescriptions(ctx context.Context, actor Actor) ([]StalePrescription, error) {
	if !actor.Role.Staff() {
		return nil, domain.ErrForbidden
	}
	var list []StalePrescription
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if list, err = t.stalePrescriptions(ctx); err != nil {
			return err
		}
		return t.audit(ctx, "prescription.stale", uuid.Nil, "prescriptions", map[string]any{"entries": len(list)})
	})
	if err != nil {
		return nil, fmt.Errorf("stale prescriptions: %w", err)
	}
	return list, nil
}

// stalePrescriptions are those of the open clients that the actor may see, by name.
func (t *tx) stalePrescriptions(ctx context.Context) ([]StalePrescription, error) {
	clients, _, err := t.stampedClients(ctx)
	if err != nil {
		return nil, err
	}
	all, err := recall(ctx, t, &t.memos.stale, clients, t.staleOf)
	list := slices.DeleteFunc(all, func(p StalePrescription) bool { return len(p.Reasons) == 0 })
	slices.SortFunc(list, func(a, b StalePrescription) int {
		return cmp.Or(a.name.compare(b.name), bytes.Compare(a.ClientID[:], b.ClientID[:]))
	})
	return list, err
}

// staleOf looks closely only at clients about whom something has changed since the
// signature, or whose basis can run out by itself.
func (t *tx) staleOf(ctx context.Context, ids []uuid.UUID) (map[uuid.UUID]StalePrescription, error) {
	rows, _ := t.Query(ctx, `
		SELECT `+clientColumns+` FROM clients c
		JOIN LATERAL (SELECT * FROM prescriptions WHERE client_id = c.id ORDER BY version DESC LIMIT 1) p ON true
		WHERE c.id = ANY(@clients) AND (
			p.screening_id <> (SELECT id FROM screenings WHERE client_id = c.id ORDER BY created_at DESC LIMIT 1)
			OR EXISTS (SELECT FROM holds h WHERE h.client_id = c.id AND h.released_at IS NULL)
			OR EXISTS (SELECT FROM clearances d WHERE d.client_id = c.id)
			OR EXISTS (SELECT FROM health_changes h WHERE h.client_id = c.id AND h.recorded_at > p.signed_at)
			OR EXISTS (SELECT FROM client_revisions r WHERE r.client_id = c.id AND r.replaced_at > p.signed_at)
			OR EXISTS (SELECT FROM settings s WHERE s.set_at > p.signed_at)
			OR p.zones->>'basis' = 'measured'
			OR extract(year FROM age(@today::date, c.birth_date)) <> extract(year FROM age((p.signed_at AT TIME ZONE @zone)::date, c.birth_date)))`,
		pgx.NamedArgs{"clients": ids, "today": t.today, "zone": t.practice.Zone})
	clients, err := pgx.CollectRows(rows, pgx.RowToStructByName[Client])
	if err != nil {
		return nil, err
	}
	key := nameKeys()
	list := make(map[uuid.UUID]StalePrescription, len(clients))
	for _, c := range clients {
		p, err := t.prescriptionInForce(ctx, c.ID)
		if err != nil {
			return nil, err
		}
		f, err := t.clearanceFile(ctx, c.ID)
		if err != nil {
			return nil, err
		}
		reasons, err := t.stale(p, &f)
		if err != nil {
			return nil, err
		}
		if len(reasons) > 0 {
			list[c.ID] = StalePrescription{c.ID, c.Name(), p.Version, p.SignedAt, reasons, key(c.FamilyName, c.GivenName)}
		}
	}
	return list, nil
}

// prescriptionItems are the prescriptions that are out of date.
func (t *tx) prescriptionItems(ctx context.Context, clients map[uuid.UUID]listed) ([]WorklistItem, error) {
	list, err := t.stalePrescriptions(ctx)
	var items []WorklistItem
	for _, p := range list {
		items = append(items, clients[p.ClientID].item(worklist.OfPrescription(p.Reasons[0].Says, len(p.Reasons)-1)))
	}
	return items, err
}
