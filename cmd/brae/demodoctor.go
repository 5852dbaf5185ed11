package main

import (
	"context"
	"fmt"
	"time"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/consent"
	"brae/domain/intensity"
	"brae/store"
)

// seedDoctor invents the doctor review: Noor's letter waits for an answer since
// 16 days, and Jon's diabetes is cleared with a heart-rate limit, until in 25 days.
func seedDoctor(ctx context.Context, s *store.Store, clock *time.Time, today time.Time, mira store.Actor) error {
	find := func(name string) (store.CaseloadLine, error) {
		lines, err := s.Caseload(ctx, mira, name)
		if err == nil && len(lines) != 1 {
			err = fmt.Errorf("%d clients are called %s", len(lines), name)
		}
		if err != nil {
			return store.CaseloadLine{}, err
		}
		return lines[0], nil
	}
	practice, err := s.Practice(ctx)
	if err != nil {
		return err
	}
	on := func(days int) domain.Date {
		*clock = today.AddDate(0, 0, -days)
		return domain.DateOf(*clock, practice.Location)
	}
	sent := on(16)
	noor, err := find("Garrick")
	if err != nil {
		return err
	}
	id, err := s.WriteReferral(ctx, mira, noor.ID)
	if err != nil {
		return err
	}
	_, r, err := s.Referral(ctx, mira, noor.ID, id)
	if err != nil {
		return err
	}
	letter := r.Letter
	letter.Doctor, letter.Address = "Dr Edda Lund", "Harbour Surgery\n12 Quay Street"
	letter.ConsentOn, letter.ConsentHow = sent, consent.Signed
	if err := s.SendReferral(ctx, mira, noor.ID, id, r.Version, letter, sent, "post"); err != nil {
		return err
	}
	signed := on(5)
	jon, err := find("Ashby")
	if err != nil {
		return err
	}
	in := store.ClearanceInput{Release: true}
	in.DecidedBy = clearance.Clinician{
		Name: "Dr Edda Lund", Profession: clearance.Physician, Registration: "R 1177", Organisation: "Harbour Surgery", Contact: "030 555 0177",
	}
	in.DecidedOn, in.ReceivedOn, in.ValidUntil = signed, signed, signed.AddDays(30)
	in.Channel, in.Outcome, in.Ceiling = clearance.Letter, clearance.ClearedWithLimits, intensity.Moderate
	in.Considered, in.Limits.HeartRate = []string{"diabetes_type_2"}, 125
	in.Restrictions = []clearance.Restriction{{Says: "Exercise alone in the heat"}}
	_, err = s.RecordClearance(ctx, mira, jon.ID, in)
	return err
}
