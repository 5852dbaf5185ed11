package store

import (
	"context"
	"errors"
	"fmt"
	"unicode/utf8"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
)

// ClearanceInput is a doctor's decision as a practitioner records it. Its id, who
// records it, and whether the doctor treats the client here are not the form's to
// say.
type ClearanceInput struct {
	clearance.Decision
	Referral uuid.UUID // the letter that it answers; the nil id for none
	Note     string
	Release  bool // release the holds that it covers
}

// RecordedClearance says what came of recording a decision.
type RecordedClearance struct {
	ID       uuid.UUID
	Released []Hold
}

// RecordClearance records a doctor's decision, and releases the holds that it
// covers if that is asked for. It returns [domain.Problems] by field.
func (s *Store) RecordClearance(ctx context.Context, actor Actor, client uuid.UUID, in ClearanceInput) (RecordedClearance, error) {
	var r RecordedClearance
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		r, err = t.recordClearance(ctx, c, in)
		return err
	})
	if err != nil {
		return RecordedClearance{}, fmt.Errorf("record clearance of client %s: %w", client, err)
	}
	return r, nil
}

func (t *tx) recordClearance(ctx context.Context, c Client, in ClearanceInput) (RecordedClearance, error) {
	r := RecordedClearance{ID: newID()}
	d := in.Decision
	d.ID, d.RecordedBy = r.ID.String(), t.actor.ID.String()
	if d.Work == "" {
		d.Work = clearance.Both
	}
	before, err := t.standingClearance(ctx, c.ID, d) // before the file: what is judged is no older
	if err != nil {
		return r, err
	}
	f, err := t.clearanceFile(ctx, c.ID)
	if err != nil {
		return r, err
	}
	if err := t.ownDoctor(ctx, c, &d.DecidedBy); err != nil {
		return r, err
	}
	problems := f.CheckAdd(d, t.today, f.policy)
	tooLong(&problems, in)
	if in.Referral != uuid.Nil {
		// A letter that waits is answered by this.
		status, _, err := t.referralStatus(ctx, c.ID, in.Referral)
		if err != nil {
			return r, err
		}
		if status != clearance.Answered && !status.MayBecome(clearance.Answered) {
			problems.Add("referral", "This letter cannot be answered: it was not sent, or was withdrawn.")
		}
	}
	if err := problems.Err(); err != nil {
		return r, err
	}
	if err := t.insertClearance(ctx, c.ID, r.ID, in, d); err != nil {
		return r, err
	}
	if err := t.takePlace(ctx, c.ID, r.ID, d, before); err != nil {
		return r, err
	}
	if in.Referral != uuid.Nil {
		if err := t.referralEvent(ctx, c.ID, in.Referral, clearance.Answered, d.ReceivedOn, "", ""); err != nil && !errors.Is(err, errNothingToDo) {
			return r, err
		}
	}
	if err := t.audit(ctx, "clearance.record", c.ID, "clearance/"+r.ID.String(), map[string]any{"outcome": string(d.Outcome)}); err != nil {
		return r, err
	}
	if !in.Release {
		return r, nil
	}
	r.Released, err = t.releaseCovered(ctx, c.ID, "The decision of "+d.DecidedBy.Name+" of "+d.DecidedOn.Words()+" covers it.")
	return r, err
}

// releaseCovered releases the holds that doctors' decisions cover now.
func (t *tx) releaseCovered(ctx context.Context, client uuid.UUID, reason string) ([]Hold, error) {
	f, err := t.clearanceFile(ctx, client)
	if err != nil {
		return nil, err
	}
	var released []Hold
	for _, h := range f.All {
		if h.Released != nil || h.Needs == clearance.NeedsPractitioner || h.Needs == clearance.NeedsStatement {
			continue // these end by another word than a doctor's
		}
		release, err := f.canRelease(h, t, reason)
		if errors.Is(err, domain.ErrHeld) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if err := t.release(ctx, client, h.ID, release); err != nil {
			return nil, err
		}
		released = append(released, h)
	}
	return released, nil
}

// tooLong adds the problems of texts that are longer than a form lets them be.
func tooLong(problems *domain.Problems, in ClearanceInput) {
	by := in.DecidedBy
	for _, f := range []struct {
		field, text string
		most        int
	}{
		{"decided_by.name", by.Name, 120}, {"decided_by.registration", by.Registration, 120}, {"decided_by.organisation", by.Organisation, 200},
		{"decided_by.contact", by.Contact, 300}, {"activity", in.Activity, 120}, {"tests", in.Tests, 300}, {"note", in.Note, 2000},
	} {
		if utf8.RuneCountInString(f.text) > f.most {
			problems.Add(f.field, fmt.Sprintf("Use %d characters at most.", f.most))
		}
	}
	for i, r := range in.Restrictions {
		if utf8.RuneCountInString(r.Says) > 300 {
			problems.Add(fmt.Sprintf("restrictions[%d]", i), "Use 300 characters at most.")
		}
	}
	for i, e := range in.Expected {
		if utf8.RuneCountInString(e.Limit) > 300 {
			problems.Add(fmt.Sprintf("expected[%d]", i), "Use 300 characters at most.")
		}
	}
}

func (t *tx) insertClearance(ctx context.Context, client, id uuid.UUID, in ClearanceInput, d clearance.Decision) error {
	var supersedes uuid.UUID
	if d.Supersedes != "" {
		var err error
		if supersedes, err = uuid.Parse(d.Supersedes); err != nil {
			return domain.Problems{"supersedes": "The decision that this one supersedes is not on file."}
		}
	}
	_, err := t.Exec(ctx, `
		INSERT INTO clearances (id, client_id, referral_id, doctor_name, profession, specialist, registration, organisation, contact,
			treats_client, may_clear, decided_on, received_on, channel, outcome, ceiling, limits, supervised_only, unsupervised,
			restrictions, expected, work, activity, considered, valid_from, valid_until, phase_ii, supersedes, note, recorded_at, recorded_by, tests)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22, $23, $24, $25, $26, $27,
			$28, $29, $30, $31, $32)`,
		id, client, orNull(in.Referral), d.DecidedBy.Name, string(d.DecidedBy.Profession), d.DecidedBy.Specialist, d.DecidedBy.Registration,
		d.DecidedBy.Organisation, d.DecidedBy.Contact, d.DecidedBy.TreatsClient, d.DecidedBy.MayClearClient, d.DecidedOn, d.ReceivedOn,
		string(d.Channel), string(d.Outcome), d.Ceiling, d.Limits, d.SupervisedOnly, d.Unsupervised, notNil(d.Restrictions), notNil(d.Expected),
		string(d.Work), d.Activity, notNil(d.Considered), d.ValidFrom, d.ValidUntil, d.PhaseII, orNull(supersedes), in.Note, t.now, t.actor.ID, d.Tests)
	return err
}

// notNil makes an empty list of none, which JSON and arrays tell apart.
func notNil[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
