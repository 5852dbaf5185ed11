package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/triage"
)

// ReportInput is what a client reports without exercise.
type ReportInput struct {
	ID      uuid.UUID       `json:"id"` // made by the client's browser
	Reports []triage.Report `json:"reports"`
	Note    string          `json:"note"`
}

// ReportSymptoms sorts what a client reports without having exercised, once:
// sent again, it is found and returned as it was sorted. It returns
// [domain.Problems] for what is wrong and [domain.ErrConflict] if the id stands
// for another report.
func (s *Store) ReportSymptoms(ctx context.Context, actor Actor, client uuid.UUID, in ReportInput) (Triage, error) {
	in.Reports, in.Note = inOrder(in.Reports), strings.TrimSpace(in.Note)
	hash, err := bodyHash(client, in)
	if err != nil {
		return Triage{}, fmt.Errorf("report: %w", err)
	}
	var sorted Triage
	err = s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, false); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `SELECT t.body_hash FROM triages t WHERE t.id = $1`, in.ID)
		switch stored, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[[]byte]); {
		case err == nil && bytes.Equal(stored, hash):
			if sorted, err = t.report(ctx, client, in.ID); err != nil {
				return err
			}
			return errStoredBefore
		case err == nil:
			return domain.ErrConflict
		case !errors.Is(err, pgx.ErrNoRows):
			return err
		}
		if err := in.check(); err != nil {
			return err
		}
		ask := triage.Input{Reports: in.Reports, Text: in.Note}
		if len(in.Reports) == 0 {
			ask.Reports = []triage.Report{triage.Other}
		}
		known, err := t.background(ctx, client, uuid.Nil)
		if err != nil {
			return err
		}
		known.into(&ask, t.today)
		sorted = Triage{ID: in.ID, Day: t.today, Reports: ask.Reports, Note: in.Note}
		if err := t.sort(ctx, &known.file, ask, &sorted, nil, hash); err != nil {
			return err
		}
		return t.audit(ctx, "report.send", client, "triage/"+in.ID.String(), map[string]any{"reports": len(in.Reports)})
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return Triage{}, fmt.Errorf("report %s of client %s: %w", in.ID, client, err)
	}
	return sorted, nil
}

func (in ReportInput) check() error {
	var problems domain.Problems
	if in.ID == uuid.Nil {
		problems.Add("id", "The form was incomplete. Load the page again.")
	}
	if len(in.Reports) == 0 && in.Note == "" {
		problems.Add("reports", "Tick what you feel, or write it below.")
	}
	if utf8.RuneCountInString(in.Note) > 2000 {
		problems.Add("note", "The note is too long. Use 2,000 characters at most.")
	}
	checkReports(&problems, in.Reports)
	return problems.Err()
}

func (t *tx) report(ctx context.Context, client, id uuid.UUID) (Triage, error) {
	var found *Triage
	if err := t.read(ctx, reportOf(&found, client, id)); err != nil {
		return Triage{}, err
	}
	if found == nil {
		return Triage{}, pgx.ErrNoRows
	}
	return *found, nil
}

func reportOf(found **Triage, client, id uuid.UUID) reading {
	return rowIfAny(found, pgx.RowToStructByName[Triage], `
		SELECT `+triageColumns+` FROM triages t WHERE t.client_id = $1 AND t.id = $2 AND t.session_id IS NULL`, client, id)
}

// Reported returns a report that a client made without exercise.
func (s *Store) Reported(ctx context.Context, actor Actor, client, id uuid.UUID) (Triage, error) {
	var found Triage
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if _, err = t.client(ctx, client); err != nil {
			return err
		}
		if found, err = t.report(ctx, client, id); err != nil {
			return err
		}
		return t.audit(ctx, "report.view", client, "triage/"+id.String(), nil)
	})
	if err != nil {
		return Triage{}, fmt.Errorf("report %s of client %s: %w", id, client, err)
	}
	return found, nil
}
