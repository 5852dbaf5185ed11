package store

import (
	"context"
	"errors"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/caution"
	"brae/domain/clearance"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/screening"
)

// Standing is what a client may do today and what it follows from: the screening,
// what doctors allow today, and what is on hold.
type Standing struct {
	Client    Client
	Today     domain.Date
	Screening Screening          // the newest, as it was taken
	Now       screening.Decision // decided again with what doctors allow today
	Ceiling   intensity.Class    // cut by every hold
	Holds     []Hold             // open ones, the widest first
	Doctor    clearance.Clearance
	Bounds    Bounds
	Gate      clearance.Gate // before vigorous work, signed off today
	Lapses    domain.Date    // the first day on which the screening does not count any more
	Due       []screening.Due
	Cautions  []caution.Caution
	Conflicts []intake.Conflict // of the answers it was decided on
	Vitals    []screening.VitalFinding
	Before    *Screening           // the one before; nil for the first
	Changed   screening.Difference // from the one before
	Consented bool                 // a consent to care is in force
}

// Standing returns what a client may do today. It returns [domain.ErrNotFound]
// before the first screening.
func (s *Store) Standing(ctx context.Context, actor Actor, client uuid.UUID) (Standing, error) {
	var v Standing
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if v, err = t.standing(ctx, client); err != nil {
			return err
		}
		return t.audit(ctx, "decision.view", client, "screening/"+v.Screening.ID.String(), nil)
	})
	if err != nil {
		return Standing{}, fmt.Errorf("standing of client %s: %w", client, err)
	}
	return v, nil
}

func (t *tx) standing(ctx context.Context, client uuid.UUID) (v Standing, err error) {
	if v.Client, err = t.viewClient(ctx, client); err != nil {
		return v, err
	}
	f, err := t.clearanceFile(ctx, client)
	if err != nil {
		return v, err
	}
	if f.Screening == nil {
		return v, domain.ErrNotFound
	}
	v.Today, v.Screening, v.Now, v.Ceiling, v.Holds = t.today, *f.Screening, f.Decision, f.Ceiling(), f.Holds
	v.Doctor, v.Bounds, v.Gate = f.Clearance, f.bounds(), f.Gate(t.today)
	v.Lapses = f.Screening.Decision.Lapses(screening.PolicyFrom(t.settings))
	due, err := t.rescreens(ctx, []uuid.UUID{client})
	if err != nil {
		return v, err
	}
	v.Due = due[client]
	record := v.Screening.Input
	v.Cautions = caution.For(record.With(v.Client.BirthDate.AgeOn(t.today), t.settings))
	look := intake.Look(record, nil, record.Screening(v.Client.BirthDate, v.Screening.DecidedOn), t.settings)
	v.Conflicts, v.Vitals = look.Conflicts, look.Vitals
	consents, err := t.consents(ctx, client)
	if err != nil {
		return v, err
	}
	for _, c := range consents {
		v.Consented = v.Consented || c.Kind == "care" && c.InForce(t.today)
	}
	rows, _ := t.Query(ctx, `
		SELECT s.id, s.decided_on, s.answers, s.input, s.decision, s.created_at, a.name AS created_by
		FROM screenings s JOIN accounts a ON a.id = s.created_by
		WHERE s.client_id = $1 ORDER BY s.created_at DESC OFFSET 1 LIMIT 1`, client)
	before, err := pgx.CollectExactlyOneRow(rows, pgx.RowToAddrOfStructByName[Screening])
	if errors.Is(err, pgx.ErrNoRows) {
		return v, nil
	}
	if err != nil {
		return v, err
	}
	v.Before, v.Changed = before, screening.Compare(before.Decision, v.Screening.Decision)
	return v, nil
}

// TightenCeiling is a practitioner being stricter than what stands: it opens a
// practitioner's hold that leaves this ceiling. It returns [domain.Problems] for
// what is no stricter than what stands now: to be looser takes a doctor's answer.
func (s *Store) TightenCeiling(ctx context.Context, actor Actor, client uuid.UUID, ceiling intensity.Class, reason string) error {
	scope := map[intensity.Class]clearance.Scope{ // of others it is none
		intensity.None: clearance.All, intensity.Light: clearance.AboveLight, intensity.Moderate: clearance.Vigorous,
	}[ceiling]
	err := s.look(ctx, actor, func(t *tx) error {
		if !t.actor.Role.Staff() {
			return domain.ErrForbidden
		}
		if _, err := t.client(ctx, client); err != nil {
			return err
		}
		now, err := t.ceiling(ctx, client)
		if err == nil && scope == clearance.NoHold {
			return domain.Problems{"ceiling": "Choose what is still allowed."}
		}
		if err == nil && ceiling >= now {
			return domain.Problems{"ceiling": "This is no stricter than what stands now. To allow more, a doctor has to answer."}
		}
		return err
	})
	if err != nil {
		return fmt.Errorf("tighten the ceiling of client %s: %w", client, err)
	}
	_, err = s.OpenHold(ctx, actor, client, scope, reason)
	return err
}

// Reclassify sets aside an answer of the screening in use, in the name of the
// actor and with a reason, and decides anew on the same answers: the original
// answer stays, and a new screening takes the place of the old one. Holds that the
// old one opened stay until somebody releases them. It returns [domain.Problems]
// without a reason or for an answer that cannot be set aside, and
// [domain.ErrConflict] while an intake is under way.
func (s *Store) Reclassify(ctx context.Context, actor Actor, client uuid.UUID, code, reason string) error {
	_, draft, err := s.IntakeDraft(ctx, actor, client)
	if err != nil {
		return err
	}
	var problems domain.Problems
	if term, ok := screening.TermOf(code); !ok || !intake.Asked(term) {
		problems.Add("code", "Choose an answer that can be set aside.")
	}
	if reasonProblem(&problems, "reason", reason); problems != nil {
		return problems
	}
	if draft.Version != 0 || draft.Old == nil {
		return fmt.Errorf("set an answer aside: %w", domain.ErrConflict)
	}
	step := Answers{}
	for field, value := range draft.Old { // also what is measured anew at a visit: this is none
		if draft.Answers[field] != value {
			step[field] = value
		}
	}
	step[intake.AsideField(code)] = reason
	version, err := s.SaveIntake(ctx, actor, client, 0, step)
	if err != nil {
		return err
	}
	_, err = s.Screen(ctx, actor, client, version)
	return err
}
