package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/prescription"
	"brae/domain/volume"
)

// PlanSheet is a client's plan with all that it hangs on.
type PlanSheet struct {
	Client       Client
	Today        domain.Date
	Week         domain.Date // first day of this week
	Plan         *Plan       // in force; nil before the first
	Versions     []Plan      // all, the newest first, without their weeks
	Prescription *Prescription
	Ends         prescription.End // of the prescription
	Ceiling      intensity.Class
	Plannable    intensity.Class // the ceiling, and moderate work after a light phase of the practice's own
	Vigorous     clearance.Gate  // before vigorous work, if it were signed now
	Holds        []Hold
	Pauses       []Pause // the newest first
	Now          *PlannedWeek
	Ahead        []PlannedWeek // from this week on, cut to what is open now; at most 26
	Done         map[domain.Date]volume.Totals
	Others       []PlanOwner // clients of the actor's whose plan can be copied
}

// PlanOwner is a client with a plan.
type PlanOwner struct {
	ID   uuid.UUID
	Name string
}

// PlanOf returns the plan of a client.
func (s *Store) PlanOf(ctx context.Context, actor Actor, client uuid.UUID) (PlanSheet, error) {
	var sheet PlanSheet
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if sheet, err = t.planSheet(ctx, client); err != nil {
			return err
		}
		return t.audit(ctx, "plan.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return PlanSheet{}, fmt.Errorf("plan of client %s: %w", client, err)
	}
	return sheet, nil
}

func (t *tx) planSheet(ctx context.Context, client uuid.UUID) (sheet PlanSheet, err error) {
	if sheet.Client, err = t.client(ctx, client); err != nil {
		return sheet, err
	}
	sheet.Today, sheet.Week = t.today, t.today.Week(t.practice.WeekStart)
	rows, _ := t.Query(ctx, `
		SELECT `+planColumns+` FROM plans p JOIN accounts a ON a.id = p.signed_by
		WHERE p.client_id = $1 ORDER BY p.version DESC`, client)
	if sheet.Versions, err = pgx.CollectRows(rows, pgx.RowToStructByName[Plan]); err != nil {
		return sheet, err
	}
	if len(sheet.Versions) > 0 {
		newest := sheet.Versions[0]
		if newest.Weeks, err = t.weeksOf(ctx, newest.ID); err != nil {
			return sheet, err
		}
		sheet.Plan = &newest
	}
	if sheet.Prescription, err = t.prescriptionInForce(ctx, client); err != nil {
		return sheet, err
	}
	file, err := t.clearanceFile(ctx, client)
	if err != nil {
		return sheet, err
	}
	sheet.Holds, sheet.Ceiling, sheet.Vigorous = file.Holds, file.Ceiling(), file.Gate(t.today)
	if sheet.Prescription != nil {
		sheet.Ends = file.ends()
	}
	if sheet.Plannable, err = t.planCeiling(file); err != nil {
		return sheet, err
	}
	if sheet.Pauses, err = t.pauses(ctx, client); err != nil {
		return sheet, err
	}
	if sheet.Now, err = t.planWeek(ctx, client, sheet.Week); err != nil {
		return sheet, err
	}
	if sheet.Ahead, err = t.planAhead(ctx, sheet); err != nil {
		return sheet, err
	}
	if sheet.Done, err = t.weeksDone(ctx, client, sheet.Plan); err != nil {
		return sheet, err
	}
	if t.actor.Role.Staff() {
		rows, _ = t.Query(ctx, `
			SELECT c.id, c.given_name || ' ' || c.family_name AS name FROM clients c
			WHERE c.id <> @client AND c.closed_at IS NULL AND EXISTS (SELECT FROM plans WHERE client_id = c.id) AND `+seen+`
			ORDER BY c.family_name, c.given_name, c.id LIMIT 500`, t.actor.args(pgx.NamedArgs{"client": client}))
		sheet.Others, err = pgx.CollectRows(rows, pgx.RowToStructByName[PlanOwner])
	}
	return sheet, err
}

// Uncovered returns why a week has to be confirmed before it is done; empty if the
// prescription covers it, or there is none.
func (s PlanSheet) Uncovered(w PlanWeek) prescription.Ending {
	if s.Prescription == nil {
		return ""
	}
	return s.Ends.Uncovered(w.First, w.Hardest(), s.Prescription.Class)
}

// planAhead returns the weeks of the plan that have not ended.
func (t *tx) planAhead(ctx context.Context, sheet PlanSheet) ([]PlannedWeek, error) {
	if sheet.Plan == nil {
		return nil, nil
	}
	all, err := t.plannedWeeks(ctx, []uuid.UUID{sheet.Client.ID}, sheet.Week, sheet.Week.AddDays(7*(courseWeeks-1)))
	if err != nil {
		return nil, err
	}
	open := sheet.Ceiling
	if !sheet.Vigorous.Allow {
		open = min(open, intensity.Moderate)
	}
	var ahead []PlannedWeek
	for i := range courseWeeks {
		if w, ok := all[plannedKey{sheet.Client.ID, sheet.Week.AddDays(7 * i)}]; ok && !w.Goes {
			if planned, ok := sheet.Plan.Week(w.First); ok {
				w.Step, w.Uncovered = planned.Step, sheet.Uncovered(planned)
			}
			ahead = append(ahead, w.Under(open))
		}
	}
	return ahead, nil
}

// weeksDone returns what was done in the weeks of a plan.
func (t *tx) weeksDone(ctx context.Context, client uuid.UUID, p *Plan) (map[domain.Date]volume.Totals, error) {
	if p == nil || len(p.Weeks) == 0 {
		return nil, nil
	}
	rows, _ := t.Query(ctx, `
		SELECT week, light, moderate, vigorous FROM week_totals WHERE client_id = $1 AND week >= $2`, client, p.Weeks[0].First)
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		Week                      domain.Date
		Light, Moderate, Vigorous int
	}])
	done := make(map[domain.Date]volume.Totals, len(list))
	for _, r := range list {
		done[r.Week] = totals(r.Light, r.Moderate, r.Vigorous)
	}
	return done, err
}

// PlanVersion returns one version of a client's plan, to be taken up again or to
// be copied for another client: numbers only.
func (s *Store) PlanVersion(ctx context.Context, actor Actor, client uuid.UUID, version int) (Plan, error) {
	if !actor.Role.Staff() {
		return Plan{}, domain.ErrForbidden
	}
	var p Plan
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.client(ctx, client); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `
			SELECT `+planColumns+` FROM plans p JOIN accounts a ON a.id = p.signed_by
			WHERE p.client_id = $1 AND ($2 = 0 OR p.version = $2) ORDER BY p.version DESC LIMIT 1`, client, version)
		var err error
		if p, err = pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Plan]); err != nil {
			return err
		}
		if p.Weeks, err = t.weeksOf(ctx, p.ID); err != nil {
			return err
		}
		return t.audit(ctx, "plan.copy", client, "plan/"+p.ID.String(), map[string]any{"version": p.Version})
	})
	if err != nil {
		return Plan{}, fmt.Errorf("plan of client %s, version %d: %w", client, version, err)
	}
	return p, nil
}
