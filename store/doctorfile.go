package store

import (
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
)

// Clearance is a doctor's decision with where it stands.
type Clearance struct {
	clearance.Standing
	ID         uuid.UUID
	Referral   uuid.NullUUID
	Note       string
	RecordedAt time.Time
	RecordedBy string // name of the account
	Lapses     domain.Date
	Warning    int // days: which of the warnings before it lapses is due; 0 for none
	Events     []ClearanceEvent
	Documents  []Document
}

// DoctorFile is what the page of a client's doctor review shows.
type DoctorFile struct {
	Client    Client
	Today     domain.Date
	Holds     []Hold
	Decisions []Clearance // the newest first
	Referrals []Referral  // the newest first
	Bounds    Bounds
	Screened  bool
	Causes    []string // codes that a decision may release: causes and findings of the screening, causes of open holds
}

// DoctorFile returns the doctor review of a client.
func (s *Store) DoctorFile(ctx context.Context, actor Actor, client uuid.UUID) (DoctorFile, error) {
	var v DoctorFile
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if v, err = t.doctorFile(ctx, client); err != nil {
			return err
		}
		return t.audit(ctx, "doctor.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return DoctorFile{}, fmt.Errorf("doctor review of client %s: %w", client, err)
	}
	return v, nil
}

func (t *tx) doctorFile(ctx context.Context, client uuid.UUID) (v DoctorFile, err error) {
	if v.Client, err = t.viewClient(ctx, client); err != nil {
		return v, err
	}
	f, err := t.clearanceFile(ctx, client)
	if err != nil {
		return v, err
	}
	v.Today, v.Holds, v.Bounds, v.Screened = t.today, f.Holds, f.bounds(), f.Screening != nil
	v.Causes = f.causes()
	if v.Decisions, err = t.clearances(ctx, &f); err != nil {
		return v, err
	}
	v.Referrals, err = t.referrals(ctx, client)
	return v, err
}

// causes are the codes that a doctor may release, each once.
func (f *clearanceFile) causes() []string {
	var codes []string
	add := func(code string) {
		if code != "" && !slices.Contains(codes, code) {
			codes = append(codes, code)
		}
	}
	for _, h := range f.Holds {
		if h.Needs == clearance.NeedsDoctor || h.Needs == clearance.NeedsResolution {
			add(h.Cause)
		}
	}
	for _, c := range f.Decision.Causes {
		add(c.Code)
	}
	for _, code := range f.Decision.Findings {
		add(code)
	}
	if f.Screening == nil {
		return codes
	}
	flags := f.Screening.Input.Flags()
	if flags.Systolic >= f.policy.FlagSystolic || flags.Diastolic >= f.policy.FlagDiastolic {
		add(clearance.FlagBloodPressure)
	}
	if flags.RateMedicine {
		add(clearance.FlagRateMedicine)
	}
	if flags.Pregnant {
		add(clearance.FlagPregnant)
	}
	return codes
}

// clearances are the decisions of a file with all that is known of them, the
// newest first.
func (t *tx) clearances(ctx context.Context, f *clearanceFile) ([]Clearance, error) {
	rows, _ := t.Query(ctx, `
		SELECT d.id, d.referral_id, d.note, d.recorded_at, a.name AS recorded_by
		FROM clearances d JOIN accounts a ON a.id = d.recorded_by
		WHERE d.client_id = $1`, f.Client)
	type row struct {
		ID         uuid.UUID
		ReferralID uuid.NullUUID
		Note       string
		RecordedAt time.Time
		RecordedBy string
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[row])
	if err != nil {
		return nil, err
	}
	rows, _ = t.Query(ctx, `
		SELECT e.clearance_id, e.kind, e.day, e.reason, e.at, a.name AS by
		FROM clearance_events e JOIN clearances d ON d.id = e.clearance_id JOIN accounts a ON a.id = e.by
		WHERE d.client_id = $1 ORDER BY e.id`, f.Client)
	type event struct {
		ClearanceID uuid.UUID
		ClearanceEvent
	}
	events, err := pgx.CollectRows(rows, pgx.RowToStructByName[event])
	if err != nil {
		return nil, err
	}
	documents, err := t.documents(ctx, f.Client)
	if err != nil {
		return nil, err
	}
	var all []Clearance
	for _, s := range slices.Backward(f.Standings(f.today, f.policy)) {
		i := slices.IndexFunc(list, func(r row) bool { return r.ID.String() == s.Decision.ID })
		if i < 0 {
			continue
		}
		c := Clearance{
			Standing: s, ID: list[i].ID, Referral: list[i].ReferralID, Note: list[i].Note, RecordedAt: list[i].RecordedAt,
			RecordedBy: list[i].RecordedBy, Lapses: s.Decision.Lapses(f.policy),
		}
		if s.State.InForce() {
			c.Warning = clearance.Warning(s.Decision, f.today, f.policy)
		}
		for _, e := range events {
			if e.ClearanceID == c.ID {
				c.Events = append(c.Events, e.ClearanceEvent)
			}
		}
		for _, d := range documents {
			if d.ClearanceID == c.ID {
				c.Documents = append(c.Documents, d)
			}
		}
		all = append(all, c)
	}
	return all, nil
}

// Clearance returns one decision with where it stands.
func (s *Store) Clearance(ctx context.Context, actor Actor, client, id uuid.UUID) (Client, Clearance, error) {
	var c Client
	var found Clearance
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if c, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		f, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		all, err := t.clearances(ctx, &f)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(all, func(o Clearance) bool { return o.ID == id })
		if i < 0 {
			return domain.ErrNotFound
		}
		found = all[i]
		return t.audit(ctx, "clearance.view", client, "clearance/"+id.String(), nil)
	})
	if err != nil {
		return Client{}, Clearance{}, fmt.Errorf("clearance %s of client %s: %w", id, client, err)
	}
	return c, found, nil
}
