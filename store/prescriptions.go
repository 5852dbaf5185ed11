package store

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"golang.org/x/text/language"
	"golang.org/x/text/message"

	"brae/domain"
	"brae/domain/caution"
	"brae/domain/clearance"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/prescription"
	"brae/domain/volume"
)

// Prescription is a signed version of what a client is to do.
type Prescription struct {
	ID                uuid.UUID
	Version           int
	Class             intensity.Class // the hardest that is asked for
	SessionsPerWeek   int
	MinutesPerSession int
	VigorousMinutes   int    // of the week, within moderate work; 0: all of it is in the class
	Activities        string // one a line
	TargetMinutes     int
	TargetLight       bool
	Method            prescription.Method
	Aim               []AimLine // figures of the method, as they were
	Progression       string    // how it should build up
	Note              string    // for the client
	Zones             Zones
	Inputs            *prescription.Inputs // nil: signed before they were kept
	SignedAt          time.Time
	SignedByName      string // with title and registration, as signed
}

// Target is what the client sets out to do in a week.
func (p Prescription) Target() volume.Target {
	return volume.Target{Minutes: p.TargetMinutes, Light: p.TargetLight}
}

// Dose is what is asked for in a week.
func (p Prescription) Dose() plan.Dose {
	return plan.Prescribed(p.Class, p.SessionsPerWeek, p.MinutesPerSession, p.VigorousMinutes)
}

// Volume is what the sessions of a week add up to.
func (p Prescription) Volume() volume.Totals { return p.Dose().Totals() }

// Chosen is the equation that the practitioner chose; empty for the practice's usual
// one. Before it was kept, the equation of the ranges was taken over.
func (p Prescription) Chosen() heartrate.Equation {
	if p.Inputs != nil && !p.Inputs.Chosen {
		return ""
	}
	return p.Zones.Equation
}

// Kinds are the activities, one after the other.
func (p Prescription) Kinds() []string { return lines(p.Activities) }

func lines(text string) []string {
	var list []string
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			list = append(list, line)
		}
	}
	return list
}

const prescriptionColumns = `p.id, p.version, p.class, p.sessions_per_week, p.minutes_per_session, p.vigorous_minutes, p.activities,
	p.target AS target_minutes, p.target_light, p.method, p.aim, p.progression, p.note, p.zones, p.inputs, p.signed_at, coalesce(nullif(p.signature, ''), a.name) AS signed_by_name`

// prescriptionInForce returns the newest version, or nil before the first.
func (t *tx) prescriptionInForce(ctx context.Context, client uuid.UUID) (p *Prescription, err error) {
	err = t.read(ctx, newestPrescription(&p, client))
	return p, err
}

func newestPrescription(p **Prescription, client uuid.UUID) reading {
	return rowIfAny(p, pgx.RowToStructByName[Prescription], `
		SELECT `+prescriptionColumns+`
		FROM prescriptions p JOIN accounts a ON a.id = p.signed_by
		WHERE p.client_id = $1 ORDER BY p.version DESC LIMIT 1`, client)
}

// PrescriptionInput is what a practitioner fills in.
type PrescriptionInput struct {
	Version           int             // that the form was shown with: the signed one becomes the next
	Class             intensity.Class // the hardest that is asked for
	SessionsPerWeek   int
	MinutesPerSession int
	VigorousMinutes   int // of the week, within moderate work; 0: all of it is in the class
	Activities        string
	TargetMinutes     int
	TargetLight       bool
	Method            prescription.Method // empty for the talk test
	Progression       string
	Note              string
	Equation          heartrate.Equation // empty for the practice's default
	Raised            int                // whole per cent of the reserve by which the low end of the class is raised
	Step              *StepAnswer        // that is taken with it; nil if none is
}

func (in PrescriptionInput) method() prescription.Method {
	return cmp.Or(in.Method, prescription.Talk)
}

// Dose is what is asked for in a week.
func (in PrescriptionInput) Dose() plan.Dose {
	return plan.Prescribed(in.Class, in.SessionsPerWeek, in.MinutesPerSession, in.VigorousMinutes)
}

// check reports what cannot be signed, whatever the client. The limits are those of
// plans.
func (in PrescriptionInput) check(p plan.Policy) domain.Problems {
	var problems domain.Problems
	switch in.Class {
	case intensity.Light, intensity.Moderate, intensity.Vigorous:
	default:
		problems.Add("class", "Choose how hard.")
	}
	if in.SessionsPerWeek < 1 || in.SessionsPerWeek > p.SessionsMost {
		problems.Add("sessions_per_week", fmt.Sprintf("Sessions a week are a whole number from 1 to %d.", p.SessionsMost))
	}
	if in.MinutesPerSession < 1 || in.MinutesPerSession > p.MinutesMost {
		problems.Add("minutes_per_session", fmt.Sprintf("Minutes are a whole number from 1 to %d.", p.MinutesMost))
	}
	if most := in.SessionsPerWeek * in.MinutesPerSession; in.VigorousMinutes < 0 || in.VigorousMinutes > max(most, 0) {
		problems.Add("vigorous_minutes", "Vigorous minutes are a whole number, and not more than the minutes of the week.")
	}
	if in.VigorousMinutes > 0 && in.Class != intensity.Vigorous {
		problems.Add("vigorous_minutes", "Some vigorous minutes go with moderate work alone.")
	}
	if in.TargetMinutes < 0 || in.TargetMinutes > p.GoalMost {
		problems.Add("target", message.NewPrinter(language.English).Sprintf("A week's target is a whole number of minutes from 0 to %d.", p.GoalMost))
	}
	if !in.method().Valid() {
		problems.Add("method", "Choose what the client goes by.")
	}
	if in.TargetLight && in.Class != intensity.Light {
		problems.Add("target_light", "Light minutes count towards the target only while the prescription is light.")
	}
	if strings.TrimSpace(in.Activities) == "" {
		problems.Add("activities", "Say what the client is to do, such as brisk walking.")
	}
	if utf8.RuneCountInString(in.Activities) > 500 {
		problems.Add("activities", "Use 500 characters at most.")
	}
	if utf8.RuneCountInString(in.Progression) > 500 {
		problems.Add("progression", "Use 500 characters at most.")
	}
	if utf8.RuneCountInString(in.Note) > 2000 {
		problems.Add("note", "Use 2,000 characters at most.")
	}
	return problems
}

// PrescriptionDraft is what a prescription starts from.
type PrescriptionDraft struct {
	Client    Client
	Screening Screening
	Before    *Prescription // the version in force; nil before the first
	Holds     []Hold
	Ceiling   intensity.Class
	Equation  heartrate.Equation   // chosen for them; empty for the practice's usual one
	Zones     Zones                // as they would be signed now
	Compared  []heartrate.Compared // the equations side by side, where the ranges rest on one
	Views     Views                // the classes by other methods
	Stale     []prescription.Reason
	Plan      *Plan // in force; nil before the first
	Today     domain.Date
	Target    int            // minutes a week where no other was agreed
	Gate      clearance.Gate // before vigorous work, if it were signed now

	Raises   []int              // whole per cent of the reserve by which the low end of a class may be raised
	Progress *Progress          // whose step is answered with it; nil if none is
	Proposed *PrescriptionInput // what the step asks to be signed; nil without one

	file     clearanceFile
	inputs   prescription.Inputs // as they would be signed now
	Cautions []caution.Caution   // for what is present
}

// NewPrescription returns what a prescription of the client starts from: the equation
// of the version in force, or the practice's usual one where that fits no more. It
// returns [domain.ErrConflict] if the client has no screening yet.
func (s *Store) NewPrescription(ctx context.Context, actor Actor, client uuid.UUID) (PrescriptionDraft, error) {
	var d PrescriptionDraft
	err := s.change(ctx, actor, func(t *tx) (err error) {
		c, err := t.viewClient(ctx, client)
		if err != nil {
			return err
		}
		before, err := t.prescriptionInForce(ctx, client)
		if err != nil {
			return err
		}
		var equation heartrate.Equation
		if before != nil {
			equation = before.Chosen()
		}
		d, err = t.prescriptionDraft(ctx, c, equation)
		if _, refused := errors.AsType[domain.Problems](err); refused && equation != "" {
			d, err = t.prescriptionDraft(ctx, c, "")
		}
		if err != nil {
			return err
		}
		return t.audit(ctx, "prescription.new", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return PrescriptionDraft{}, fmt.Errorf("new prescription for client %s: %w", client, err)
	}
	return d, nil
}

func (t *tx) prescriptionDraft(ctx context.Context, c Client, equation heartrate.Equation) (d PrescriptionDraft, err error) {
	client := c.ID
	d.Client, d.Today, d.Equation = c, t.today, equation
	screening, err := t.newestScreening(ctx, client)
	if err != nil {
		return d, err
	}
	if screening == nil {
		return d, fmt.Errorf("%w: no screening", domain.ErrConflict)
	}
	d.Screening = *screening
	d.Cautions = caution.For(screening.Input.With(d.Client.BirthDate.AgeOn(t.today), t.settings))
	for by := 0; by < intensity.Reserve.Width(intensity.Vigorous); by += plan.PolicyFrom(t.settings).ReserveStep {
		d.Raises = append(d.Raises, by)
	}
	d.Target = volume.DefaultTarget(volume.PolicyFrom(t.settings)).Minutes
	if d.Before, err = t.prescriptionInForce(ctx, client); err != nil {
		return d, err
	}
	if d.file, err = t.clearanceFile(ctx, client); err != nil {
		return d, err
	}
	d.Holds, d.Ceiling, d.Gate = d.file.Holds, d.file.Ceiling(), d.file.Gate(t.today) // who signs the prescription signs it off
	person, err := t.person(d.Client, d.Screening, d.file.bounds(), equation)
	if err != nil {
		return d, err
	}
	if d.Zones, err = t.ranges(person, &d.file, t.now); err != nil {
		return d, err
	}
	d.inputs = t.inputs(person, d.Screening, &d.file, d.Zones)
	usual := person
	usual.Equation = ""        // so that a wrong choice still shows all of them
	if d.Zones.Basis.Valid() { // what takes the ranges away takes all of them
		d.Compared = heartrate.CompareEquations(usual, heartrate.PolicyFrom(t.settings))
	}
	for i := range d.Compared {
		d.Compared[i].Used = d.Compared[i].ID == d.Zones.Equation
	}
	if d.Views, err = t.views(ctx, person, &d); err != nil {
		return d, err
	}
	if d.Stale, err = t.stale(d.Before, &d.file); err != nil {
		return d, err
	}
	d.Plan, err = t.planInForce(ctx, client)
	return d, err
}

// Raise makes the low end of a class higher, as the prescription will have it. It
// returns [domain.Problems] where there is no room for that.
func (d *PrescriptionDraft) Raise(class intensity.Class, by int) (err error) {
	d.Zones, err = d.Zones.raised(class, by)
	return err
}

// person is whose ranges are computed, from the measurements of a screening.
func (t *tx) person(c Client, s Screening, b Bounds, equation heartrate.Equation) (heartrate.Person, error) {
	person, err := s.Input.HeartRate(c.BirthDate, t.today, s.DecidedOn, t.settings)
	person.Equation, person.Sex = equation, c.Sex
	person.Limits = b.rates()
	return person, err
}

// zones computes the ranges of a person.
func (t *tx) zones(person heartrate.Person, b Bounds) (Zones, error) {
	z, err := heartrate.ZonesFor(person, heartrate.PolicyFrom(t.settings))
	if err != nil {
		if problems, ok := errors.AsType[domain.Problems](err); ok && problems["resting_hr"] != "" && person.RestingHR == 0 {
			// Talk test and exertion carry the prescription until it is measured.
			none := Zones{Basis: heartrate.NoBasis, Reason: "No resting heart rate was measured yet."}
			return none.within(b), nil
		}
		return Zones{}, err
	}
	return newZones(z).within(b), nil
}

// SignPrescription signs the next version. It returns [domain.ErrHeld] for a
// class above what is allowed now, [domain.ErrConflict] if another version was
// signed since the form was shown, and [domain.Problems] for what is wrong. With a step
// it is the answer to it, too, with the errors of [Store.AnswerStep].
func (s *Store) SignPrescription(ctx context.Context, actor Actor, client uuid.UUID, in PrescriptionInput) (uuid.UUID, error) {
	var id uuid.UUID
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if in.Step != nil {
			id, err = t.signStep(ctx, client, in)
			return err
		}
		id, err = t.signPrescription(ctx, client, in)
		return err
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return uuid.Nil, fmt.Errorf("sign prescription for client %s: %w", client, err)
	}
	return id, nil
}

// signPrescription is SignPrescription within a change.
func (t *tx) signPrescription(ctx context.Context, client uuid.UUID, in PrescriptionInput) (uuid.UUID, error) {
	id := newID()
	c, err := t.lockClient(ctx, client, true)
	if err != nil {
		return uuid.Nil, err
	}
	if err := in.check(plan.PolicyFrom(t.settings)).Err(); err != nil {
		return uuid.Nil, err
	}
	d, err := t.prescriptionDraft(ctx, c, in.Equation)
	if err != nil {
		return uuid.Nil, err
	}
	if err := d.Client.open(); err != nil {
		return uuid.Nil, err
	}
	version := 1
	if d.Before != nil {
		version = d.Before.Version + 1
	}
	if version != in.Version+1 {
		return uuid.Nil, domain.ErrConflict
	}
	if err := d.file.mayDo(in.Class, t.today); err != nil {
		return uuid.Nil, err
	}
	if err := d.Raise(in.Class, in.Raised); err != nil {
		return uuid.Nil, err
	}
	aim, why := d.Aim(in.method(), in.Dose().Class)
	if why != "" {
		return uuid.Nil, domain.Problems{"method": why}
	}
	signature, err := t.signature(ctx)
	if err != nil {
		return uuid.Nil, err
	}
	if _, err := t.Exec(ctx, `
		INSERT INTO prescriptions (id, client_id, version, screening_id, class, sessions_per_week, minutes_per_session, vigorous_minutes,
			activities, target, target_light, method, aim, progression, note, zones, inputs, signed_at, signed_by, signature)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20)`,
		id, client, version, d.Screening.ID, in.Class, in.SessionsPerWeek, in.MinutesPerSession, in.VigorousMinutes,
		strings.Join(lines(in.Activities), "\n"), in.TargetMinutes, in.TargetLight, string(in.method()), aim, strings.TrimSpace(in.Progression),
		strings.TrimSpace(in.Note), d.Zones, d.inputs, t.now, t.actor.ID, signature); err != nil {
		return uuid.Nil, err
	}
	return id, t.audit(ctx, "prescription.sign", client, "prescription/"+id.String(), map[string]any{"version": version})
}
