package store

import (
	"context"
	"errors"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/triage"
)

// alarmID is the id under which the reports of a form that was refused are kept,
// if they are an emergency: the same however often the form is sent.
func (in SessionInput) alarmID(client uuid.UUID) uuid.UUID {
	return uuid.NewSHA1(in.ID, []byte(client.String()+" "+strings.Join(names(in.Reports), " ")))
}

// alarm sorts the reports of a form that could not be saved. An emergency waits
// for no missing minutes: it is recorded, held and flagged as a report without
// exercise. If that cannot be done either, the rules answer without what is known
// about the client. What is no emergency waits for the form.
func (s *Store) alarm(ctx context.Context, actor Actor, client uuid.UUID, in SessionInput, why error) Triage {
	if len(in.Reports) == 0 || errors.Is(why, domain.ErrNotFound) || errors.Is(why, domain.ErrForbidden) {
		return Triage{}
	}
	// Reports that do not exist are left out of the record; the rules take them
	// for something else.
	answer, err := s.assess(ctx, actor, client, in.Reports)
	if err != nil {
		answer, _ = triage.Assess(triage.Input{Reports: in.Reports}, triage.PolicyFrom(nil))
	}
	if answer.Level < triage.Emergency {
		return Triage{}
	}
	report := ReportInput{ID: in.alarmID(client), Reports: existing(in.Reports)}
	sorted, err := s.ReportSymptoms(ctx, actor, client, report)
	if err != nil {
		s.log.ErrorContext(ctx, "an emergency could not be recorded", "error", err)
		return Triage{Level: answer.Level, Hold: answer.Hold, Rules: answer.Rules, Assessment: answer}
	}
	return sorted
}

func existing(reports []triage.Report) []triage.Report {
	var list []triage.Report
	for _, r := range reports {
		var problems domain.Problems
		if checkReports(&problems, []triage.Report{r}); problems == nil {
			list = append(list, r)
		}
	}
	return list
}

// assess asks the rules what reports come to, with what is known about a client,
// and changes nothing.
func (s *Store) assess(ctx context.Context, actor Actor, client uuid.UUID, reports []triage.Report) (triage.Assessment, error) {
	in := triage.Input{Reports: reports}
	err := s.look(ctx, actor, func(t *tx) error {
		if _, err := t.client(ctx, client); err != nil {
			return err
		}
		known, err := t.background(ctx, client, uuid.Nil)
		if err == nil {
			known.into(&in, t.today)
		}
		return err
	})
	if err != nil {
		return triage.Assessment{}, err
	}
	a, _ := triage.Assess(in, triage.PolicyFrom(nil))
	return a, nil
}
