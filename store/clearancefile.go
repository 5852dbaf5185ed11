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
	"brae/domain/heartrate"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/prescription"
	"brae/domain/screening"
)

// clearanceFile is everything about one client from which follows what they may
// do today: the newest screening, what doctors decided, what has changed since,
// and the holds. It is loaded anew whenever something depends on it.
type clearanceFile struct {
	clearance.File
	Client    uuid.UUID
	Screening *Screening          // the newest, as it was taken; nil before the first
	Decision  screening.Decision  // of the newest screening, decided again with what doctors allow today
	Clearance clearance.Clearance // what doctors allow today for aerobic work
	All       []Hold              // every hold, open and released, in the order of opening
	Holds     []Hold              // open ones, the widest first, with those of decisions that have lapsed

	birth    domain.Date
	sex      domain.Sex
	before   []intake.Visit // the screenings before the newest, in the order of time
	heard    []HealthChange
	measured []Vitals
	stepped  *time.Time // newest step out of a light phase that was complete; nil for none
	today    domain.Date
	policy   clearance.Policy
	heart    heartrate.Policy
}

// clearanceFile loads the file of a client.
func (t *tx) clearanceFile(ctx context.Context, client uuid.UUID) (clearanceFile, error) {
	f := &clearanceFile{}
	err := t.read(ctx, f.readings(t, client)...)
	if err == nil {
		err = f.workOut(t)
	}
	return *f, err
}

// readings load what a file follows from; workOut is to be called after them.
func (f *clearanceFile) readings(t *tx, client uuid.UUID) []reading {
	f.Client, f.today, f.policy, f.heart = client, t.today, clearance.PolicyFrom(t.settings), heartrate.PolicyFrom(t.settings)
	return []reading{
		screeningInUse(&f.Screening, client),
		rowsInto(&f.before, pgx.RowToStructByPos[intake.Visit], `
			SELECT decided_on, input FROM (
				SELECT decided_on, input, created_at, id FROM screenings WHERE client_id = $1 ORDER BY created_at DESC, id DESC OFFSET 1) s
			ORDER BY created_at, id`, client),
		t.holdsOf(&f.All, client),
		decisionsOf(&f.Decisions, client),
		heardOf(&f.heard, client),
		vitalsOf(&f.measured, client),
		f.personOf(client),
	}
}

// personOf reads when a client was born and of which sex, and when they last left a light phase.
func (f *clearanceFile) personOf(client uuid.UUID) reading {
	return reading{`
		SELECT c.birth_date, c.sex, (` + lightPhaseLeft + `) FROM clients c WHERE c.id = $1`, []any{client}, func(rows pgx.Rows) error {
		_, err := pgx.ForEachRow(rows, []any{&f.birth, &f.sex, &f.stepped}, func() error { return nil })
		return err
	}}
}

// workOut asks the rules what follows from what was loaded.
func (f *clearanceFile) workOut(t *tx) error {
	f.Changes = f.changes(f.visits(), t.practice.Location)
	f.Clearance = f.Summarise(clearance.Aerobic, t.today, f.policy)
	if err := f.decide(t); err != nil {
		return err
	}
	f.openAgain(t)
	return nil
}

// visits are the screenings of a client in the order of time.
func (f *clearanceFile) visits() []intake.Visit {
	if f.Screening == nil {
		return nil
	}
	return append(slices.Clip(f.before), intake.Visit{On: f.Screening.DecidedOn, Record: f.Screening.Input})
}

// changes are what has changed in a client's health: from screening to screening,
// by the holds and vital signs, and as it was heard.
func (f *clearanceFile) changes(visits []intake.Visit, zone *time.Location) []clearance.Change {
	list := slices.Concat(intake.Changes(visits), f.changesOfHolds(zone), changesOfVitals(f.measured, zone))
	for _, h := range f.heard {
		list = append(list, h.change())
	}
	return list
}

// changesOfHolds are the changes that holds tell of: a reported symptom that a
// doctor has to answer for, and a vital sign that stops exercise. What was measured
// before a session counts once a reading, whether its hold was new or not.
func (f *clearanceFile) changesOfHolds(zone *time.Location) []clearance.Change {
	var list []clearance.Change
	for _, h := range f.All {
		c := clearance.Change{On: domain.DateOf(h.OpenedAt, zone), Code: h.Cause}
		switch {
		case h.Vitals.Valid: // told by the reading
			continue
		case h.Kind == clearance.FromVitals:
			c.Kind, c.Code = clearance.VitalsFinding, h.Rule
		case h.Kind == clearance.FromTriage && (h.Needs == clearance.NeedsDoctor || h.Needs == clearance.NeedsResolution):
			c.Kind = clearance.NewSymptom
			if !h.Since.IsZero() {
				c.On = h.Since
			}
		default:
			continue
		}
		list = append(list, c)
	}
	return list
}

// decide decides the newest screening again with what doctors allow today. The
// stored decision stays; without a doctor's word, and without a finding that is
// over, nothing may rise above it.
func (f *clearanceFile) decide(t *tx) error {
	s := f.Screening
	if s == nil {
		return nil
	}
	in := s.Input.Screening(f.birth, t.today)
	in.Since = append(intake.Onsets(f.visits()), in.Since...) // the day it was reported counts before the day it is said to have begun
	in.Clearance = f.Clearance
	ended := false
	for _, h := range f.All {
		if h.Released != nil && h.Needs != clearance.NeedsDoctor && !h.Released.At.Before(s.CreatedAt) {
			in.End(h.Cause)
			ended = true
		}
	}
	in.FirstPhaseDone = in.FirstPhaseDone || f.firstPhaseDone(t)
	d, err := screening.Decide(in, s.Decision.Settings)
	if err != nil {
		return fmt.Errorf("decide screening %s again: %w", s.ID, err)
	}
	if f.Clearance.OnFile != clearance.Allowed && !ended {
		was := s.Decision.CeilingNow
		if in.FirstPhaseDone && s.Decision.FirstPhaseCeiling != intensity.None {
			was = s.Decision.RowCeiling // the light phase is over: what it kept closed is open
		}
		d.CeilingNow = min(d.CeilingNow, was)
		d.MayProgressTo = min(d.MayProgressTo, s.Decision.MayProgressTo)
	}
	f.Decision = d
	return nil
}

// openAgain lists the open holds, and with them what the screening asks for now
// although no hold is open: the decision that released it does not count any
// more. Such a hold has no id; a newer decision ends it.
func (f *clearanceFile) openAgain(t *tx) {
	f.Holds = nil
	for _, h := range f.All {
		if h.Released == nil {
			f.Holds = append(f.Holds, h)
		}
	}
	if f.Screening != nil {
		for _, h := range f.Decision.Holds() {
			if slices.ContainsFunc(f.Holds, func(o Hold) bool { return o.Cause == h.Cause && o.Scope >= h.Scope }) {
				continue
			}
			again := Hold{
				Scope: h.Scope, Kind: h.Kind, Cause: h.Cause, Rule: h.Rule, Reason: h.Reason, Needs: h.Needs, Since: h.Since,
				OpenedAt: f.Screening.CreatedAt,
			}
			if again.Needs == "" {
				again.Needs = clearance.NeedsDoctor
			}
			if state, ok := f.ended(h.Cause); ok {
				again.Reason += " " + state.Reason
				if !state.Since.IsZero() {
					d := state.Since
					again.OpenedAt = time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, t.practice.Location)
				}
			}
			again.OpenedOn = domain.DateOf(again.OpenedAt, t.practice.Location)
			f.Holds = append(f.Holds, again)
		}
	}
	slices.SortStableFunc(f.Holds, func(a, b Hold) int { return int(b.Scope) - int(a.Scope) })
}

// ended returns the state of the newest decision that has covered a cause and
// does not count any more.
func (f *clearanceFile) ended(cause string) (clearance.State, bool) {
	standings := f.Standings(f.today, f.policy)
	for _, s := range slices.Backward(standings) {
		if !s.State.InForce() && s.State.Status != clearance.EnteredInError && s.Decision.Covers(cause, domain.Date{}) {
			return s.State, true
		}
	}
	return clearance.State{}, false
}

// Ceiling returns the hardest class that the client is allowed now: that of the
// screening with what doctors allow today, cut by every open hold and every
// doctor's ceiling that outlives its decision. Before the first screening nothing
// is allowed.
func (f *clearanceFile) Ceiling() intensity.Class {
	if f.Screening == nil {
		return intensity.None
	}
	return min(f.Decision.CeilingNow, widest(f.Holds).Ceiling(), clearance.Ceiling(nil, f.Clearance))
}

// Gate asks the gate before vigorous work. signedOff is the day of the
// practitioner's sign-off, zero for none.
func (f *clearanceFile) Gate(signedOff domain.Date) clearance.Gate {
	if f.Screening == nil {
		return clearance.VigorousGate(clearance.GateInput{}, f.today, f.policy)
	}
	in := f.Decision.GateInput(f.Screening.DecidedOn, f.Clearance)
	flags := f.Screening.Input.Flags()
	flags.Pregnant = flags.Pregnant || in.Flags.Pregnant
	in.Flags, in.Changes, in.SignedOffOn = flags, f.Changes, signedOff
	// Who trains vigorously already is past the introduction; others reach it when
	// they are screened again as regular.
	in.VigorousPhase = f.Decision.CeilingNow >= intensity.Vigorous
	for _, h := range f.Holds {
		in.Holds = append(in.Holds, h.rule())
	}
	return clearance.VigorousGate(in, f.today, f.policy)
}

// mayDo returns [domain.ErrHeld] unless work of that class may be prescribed or
// planned now. Vigorous work passes the gate.
func (f *clearanceFile) mayDo(class intensity.Class, signedOff domain.Date) error {
	if class > f.Ceiling() {
		return domain.ErrHeld
	}
	if class < intensity.Vigorous {
		return nil
	}
	if gate := f.Gate(signedOff); !gate.Allow {
		return fmt.Errorf("%w: %s", domain.ErrHeld, gate.First.Says)
	}
	return nil
}

// decisionRow is a doctor's decision as stored, with what became of it.
type decisionRow struct {
	ID             uuid.UUID
	DoctorName     string
	Profession     string
	Specialist     bool
	Registration   string
	Organisation   string
	Contact        string
	TreatsClient   bool
	MayClear       bool
	DecidedOn      domain.Date
	ReceivedOn     domain.Date
	Channel        string
	Outcome        string
	Ceiling        intensity.Class
	Limits         clearance.Limits
	SupervisedOnly bool
	Unsupervised   bool
	Tests          string
	Restrictions   []clearance.Restriction
	Expected       []clearance.Expected
	Work           string
	Activity       string
	Considered     []string
	ValidFrom      domain.Date
	ValidUntil     domain.Date
	PhaseII        bool `db:"phase_ii"`
	Supersedes     uuid.NullUUID
	RecordedBy     string
	ConfirmedOn    domain.Date
	RevokedOn      domain.Date
	EnteredInError bool
	Document       string
}

func (r decisionRow) decision() clearance.Decision {
	d := clearance.Decision{
		ID: r.ID.String(),
		DecidedBy: clearance.Clinician{
			Name: r.DoctorName, Profession: clearance.Profession(r.Profession), Specialist: r.Specialist, Registration: r.Registration,
			Organisation: r.Organisation, Contact: r.Contact, TreatsClient: r.TreatsClient, MayClearClient: r.MayClear,
		},
		DecidedOn: r.DecidedOn, ReceivedOn: r.ReceivedOn, RecordedBy: r.RecordedBy, Channel: clearance.Channel(r.Channel),
		ConfirmedOn: r.ConfirmedOn, Document: r.Document, Outcome: clearance.Outcome(r.Outcome), Ceiling: r.Ceiling, Limits: r.Limits,
		SupervisedOnly: r.SupervisedOnly, Unsupervised: r.Unsupervised, Tests: r.Tests, Restrictions: r.Restrictions, Expected: r.Expected,
		Work: clearance.Work(r.Work), Activity: r.Activity, Considered: r.Considered, ValidFrom: r.ValidFrom, ValidUntil: r.ValidUntil,
		PhaseII: r.PhaseII, RevokedOn: r.RevokedOn, Erroneous: r.EnteredInError,
	}
	if r.Supersedes.Valid {
		d.Supersedes = r.Supersedes.UUID.String()
	}
	return d
}

// decisionsOf reads all decisions about a client in the order in which they were
// recorded.
func decisionsOf(list *[]clearance.Decision, client uuid.UUID) reading {
	return rowsInto(list, func(found pgx.CollectableRow) (clearance.Decision, error) {
		r, err := pgx.RowToStructByName[decisionRow](found)
		return r.decision(), err
	}, `
		SELECT d.id, d.doctor_name, d.profession, d.specialist, d.registration, d.organisation, d.contact, d.treats_client, d.may_clear,
			d.decided_on, d.received_on, d.channel, d.outcome, d.ceiling, d.limits, d.supervised_only, d.unsupervised, d.tests,
			d.restrictions, d.expected, d.work, d.activity, d.considered, d.valid_from, d.valid_until, d.phase_ii, d.supersedes,
			a.name AS recorded_by,
			(SELECT day FROM clearance_events e WHERE e.clearance_id = d.id AND kind = 'confirmed') AS confirmed_on,
			(SELECT day FROM clearance_events e WHERE e.clearance_id = d.id AND kind = 'revoked') AS revoked_on,
			EXISTS (SELECT FROM clearance_events e WHERE e.clearance_id = d.id AND kind = 'entered_in_error') AS entered_in_error,
			coalesce((SELECT encode(sha256, 'hex') FROM clearance_documents f WHERE f.clearance_id = d.id ORDER BY f.id LIMIT 1), '') AS document
		FROM clearances d JOIN accounts a ON a.id = d.recorded_by
		WHERE d.client_id = $1
		ORDER BY d.recorded_at, d.id`, client)
}

// ends returns when a prescription that is signed on the file ends by itself.
func (f *clearanceFile) ends() prescription.End {
	var screening, decision domain.Date
	if f.Screening != nil {
		screening = f.Screening.DecidedOn.AddMonths(f.policy.ScreeningMonths)
	}
	if f.Clearance.OnFile == clearance.Allowed {
		for _, s := range f.Standings(f.today, f.policy) {
			if ends := s.Decision.Ends(f.policy); s.State.InForce() && (decision.IsZero() || ends.Before(decision)) {
				decision = ends
			}
		}
	}
	return prescription.Ends(screening, decision)
}
