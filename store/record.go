package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/plan"
	"brae/domain/prescription"
	"brae/domain/screening"
)

// Record is a client's record as their practitioner sees it: the present week
// and what it rests on.
type Record struct {
	ClientWeek
	Screening    *Screening            // the newest; nil before the first
	DraftVersion int                   // 0 if no intake is under way
	SignInName   string                // "" before the invitation
	Joined       bool                  // the client has chosen a passphrase or made a passkey
	Logged       []Session             // of the last four weeks
	TestDue      domain.Date           // when the newest fitness test is due again; zero without one
	Due          []screening.Due       // why the client has to be screened again
	Heard        []HealthChange        // changes in health since the screening
	Standing     *plan.Standing        // with what was asked; nil before the first prescription
	Stale        []prescription.Reason // why the prescription is out of date
}

// Record returns the record of a client.
func (s *Store) Record(ctx context.Context, actor Actor, client uuid.UUID) (Record, error) {
	if !actor.Role.Staff() {
		return Record{}, domain.ErrForbidden
	}
	var r Record
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if r.ClientWeek, r.Logged, err = t.week(ctx, client); err != nil {
			return err
		}
		if r.Screening, err = t.newestScreening(ctx, client); err != nil {
			return err
		}
		due, err := t.rescreens(ctx, []uuid.UUID{client})
		if err != nil {
			return err
		}
		r.Due = due[client]
		if r.Heard, err = t.heard(ctx, client); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `
			SELECT coalesce(d.version, 0), coalesce(a.sign_in_name, ''),
				coalesce(a.password_hash, '') <> '' OR EXISTS (SELECT FROM passkeys k WHERE k.account_id = a.id AND k.removed_at IS NULL)
			FROM clients c
			LEFT JOIN intake_drafts d ON d.client_id = c.id
			LEFT JOIN accounts a ON a.id = c.account_id
			WHERE c.id = $1`, client)
		more, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByPos[struct {
			DraftVersion int
			SignInName   string
			Joined       bool
		}])
		if err != nil {
			return err
		}
		r.DraftVersion, r.SignInName, r.Joined = more.DraftVersion, more.SignInName, more.Joined
		tests, err := t.tests(ctx, client)
		if err != nil {
			return err
		}
		r.TestDue = t.testDue(tests)
		f, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		if r.Stale, err = t.stale(r.Prescription, &f); err != nil {
			return err
		}
		if r.Standing, err = t.planStanding(ctx, r.ClientWeek); err != nil {
			return err
		}
		return t.audit(ctx, "client.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return Record{}, fmt.Errorf("record of client %s: %w", client, err)
	}
	return r, nil
}
