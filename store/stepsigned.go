package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/plan"
)

// Prescribes is the prescription that an answer to the suggestion asks to be signed:
// the one in force, with nothing changed but what the step changes.
func (p Progress) Prescribes(in StepAnswer) PrescriptionInput {
	pr, to := p.Prescription, in.dose(p)
	next := PrescriptionInput{
		Version: pr.Version, Class: to.Hardest(), SessionsPerWeek: to.Sessions, MinutesPerSession: to.Minutes, VigorousMinutes: to.Vigorous,
		Activities: pr.Activities, TargetMinutes: pr.TargetMinutes, TargetLight: pr.TargetLight, Note: pr.Note,
		Method: pr.Method, Progression: pr.Progression, Equation: pr.Chosen(), Raised: pr.Zones.raisedBy(to.Hardest()), Step: &in,
	}
	if to != p.Dose {
		target := plan.WeekOf(1, to).Target()
		next.TargetMinutes, next.TargetLight = target.Minutes, target.Light
	}
	if in.Answer == StepAccepted {
		next.Raised += p.Standing.Step.Reserve
	}
	return next
}

// signed is the dose that a prescription makes of the one that was to be taken: its
// own, with the easy minutes of the step.
func (in PrescriptionInput) signed(to plan.Dose) plan.Dose {
	d := in.Dose()
	d.Easy = to.Easy
	return d
}

// StepPrescription returns what a prescription starts from with which a step is taken:
// the one in force with the change that the step makes. Nothing is recorded of the
// answer until it is signed. It returns the errors of [Store.AnswerStep] and of
// [Store.NewPrescription].
func (s *Store) StepPrescription(ctx context.Context, actor Actor, client uuid.UUID, in StepAnswer) (PrescriptionDraft, error) {
	var d PrescriptionDraft
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.viewClient(ctx, client)
		if err != nil {
			return err
		}
		equation := heartrate.Equation("")
		if pr, err := t.prescriptionInForce(ctx, client); err != nil {
			return err
		} else if pr != nil {
			equation = pr.Chosen()
		}
		if d, err = t.stepDraft(ctx, c, equation, in); err != nil {
			return err
		}
		return t.audit(ctx, "prescription.new", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return PrescriptionDraft{}, fmt.Errorf("prescription for a step of client %s: %w", client, err)
	}
	return d, nil
}

// stepDraft is prescriptionDraft for a step that is to be taken.
func (t *tx) stepDraft(ctx context.Context, c Client, equation heartrate.Equation, in StepAnswer) (d PrescriptionDraft, err error) {
	p, err := t.progress(ctx, c)
	if err != nil {
		return d, err
	}
	told := in
	told.Word = "-" // it may be missing still: the signature asks for it
	if err := told.check(p); err != nil {
		return d, err
	}
	if err := t.endFirstPhase(ctx, &p, in.dose(p)); err != nil {
		return d, err
	}
	if d, err = t.prescriptionDraft(ctx, c, equation); err != nil {
		return d, err
	}
	proposed := p.Prescribes(in)
	if _, why := d.Aim(proposed.method(), proposed.Dose().Class); why != "" {
		proposed.Method = "" // it has no figure for the new class, or its basis is gone
	}
	d.Progress, d.Proposed = &p, &proposed
	return d, nil
}

// signStep signs a prescription and takes the step with it. What is signed is what is
// recorded: a dose other than that of the step is a changed one.
func (t *tx) signStep(ctx context.Context, client uuid.UUID, in PrescriptionInput) (uuid.UUID, error) {
	c, err := t.lockClient(ctx, client, true)
	if err != nil {
		return uuid.Nil, err
	}
	if err := c.open(); err != nil {
		return uuid.Nil, err
	}
	p, err := t.progress(ctx, c)
	if err != nil {
		return uuid.Nil, err
	}
	step := *in.Step
	if step.Answer == StepDeclined {
		return uuid.Nil, domain.Problems{"answer": "A step that is declined asks for no prescription."}
	}
	if err := step.check(p); err != nil {
		return uuid.Nil, err
	}
	asked := p.Prescribes(step)
	if to := in.signed(step.dose(p)); to != step.dose(p) || in.Raised != asked.Raised {
		step.Answer, step.To = StepChanged, to
		if err := step.check(p); err != nil {
			return uuid.Nil, err
		}
	}
	to := step.dose(p)
	if err := t.endFirstPhase(ctx, &p, to); err != nil {
		return uuid.Nil, err
	}
	id, err := t.signPrescription(ctx, client, in)
	if err != nil {
		return uuid.Nil, err
	}
	var signed uuid.UUID
	if to != p.Dose || p.Next != p.Dose {
		if signed, err = t.takeStep(ctx, p, step, to); err != nil {
			return uuid.Nil, err
		}
	}
	return id, t.recordStep(ctx, p, step, signed, id)
}
