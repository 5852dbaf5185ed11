package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/rulebook"
)

// Plan is a signed version of the weeks that lie ahead of a client, with those
// that are over as they were planned.
type Plan struct {
	ID           uuid.UUID
	Version      int
	Preset       string // code of the programme it began as; empty if none
	Goal         int    // moderate-equivalent minutes a week
	Behind       int    // weeks of the programme that were over before its first week
	Changed      domain.Date
	Origin       PlanOrigin
	Reason       string
	Warnings     []plan.Warning // that it was signed in spite of
	SignedAt     time.Time
	SignedByName string     // with title and registration, as signed
	Weeks        []PlanWeek `db:"-"` // one after the other, without gaps
}

// PlanWeek is a week of a plan with its first day.
type PlanWeek struct {
	First domain.Date
	plan.Week
}

// PlanOrigin is what a version of a plan came from.
type PlanOrigin string

// The origins of plans.
const (
	FromEditor  PlanOrigin = "editor"  // typed, or begun as a programme
	FromCopy    PlanOrigin = "copy"    // of another client
	FromAgain   PlanOrigin = "again"   // an earlier version, taken up again
	FromStep    PlanOrigin = "step"    // a step that was suggested
	FromRestart PlanOrigin = "restart" // after a break
)

// Week returns the plan's week that begins on a day: after the last one that goes
// on. Before the first there is none.
func (p *Plan) Week(first domain.Date) (PlanWeek, bool) {
	for _, w := range slices.Backward(p.Weeks) {
		if !w.First.After(first) {
			w.First = first
			return w, true
		}
	}
	return PlanWeek{}, false
}

// From returns the plan's weeks from a day on.
func (p *Plan) From(first domain.Date) []PlanWeek {
	i := slices.IndexFunc(p.Weeks, func(w PlanWeek) bool { return !w.First.Before(first) })
	if i < 0 {
		return nil
	}
	return p.Weeks[i:]
}

// weeks returns weeks without their days.
func weeks(list []PlanWeek) []plan.Week {
	all := make([]plan.Week, len(list))
	for i, w := range list {
		all[i] = w.Week
	}
	return all
}

const planColumns = `p.id, p.version, p.preset, p.goal, p.behind, p.changed, p.origin, p.reason, p.warnings, p.signed_at, coalesce(nullif(p.signature, ''), a.name) AS signed_by_name`

// planInForce returns the newest version, or nil before the first.
func (t *tx) planInForce(ctx context.Context, client uuid.UUID) (*Plan, error) {
	rows, _ := t.Query(ctx, `
		SELECT `+planColumns+` FROM plans p JOIN accounts a ON a.id = p.signed_by
		WHERE p.client_id = $1 ORDER BY p.version DESC LIMIT 1`, client)
	p, err := pgx.CollectExactlyOneRow(rows, pgx.RowToAddrOfStructByName[Plan])
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	p.Weeks, err = t.weeksOf(ctx, p.ID)
	return p, err
}

func (t *tx) weeksOf(ctx context.Context, id uuid.UUID) ([]PlanWeek, error) {
	rows, _ := t.Query(ctx, `SELECT `+planWeekColumns+` FROM plan_weeks w WHERE w.plan_id = $1 ORDER BY w.week`, id)
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[planWeekRow])
	if err != nil {
		return nil, err
	}
	first := make([]domain.Date, len(list))
	laid := make([]plan.Week, len(list))
	for i, r := range list {
		first[i], laid[i] = r.Week, r.week()
	}
	all := make([]PlanWeek, len(list))
	for i, w := range plan.Lay(laid) {
		all[i] = PlanWeek{first[i], w}
	}
	return all, nil
}

const planWeekColumns = `w.week, w.class, w.sessions, w.minutes, w.easy, w.within, w.light, w.moderate, w.vigorous`

// planWeekRow is a week of a plan as stored.
type planWeekRow struct {
	Week                            domain.Date
	Class                           intensity.Class
	Sessions, Minutes, Easy, Within int
	Light, Moderate, Vigorous       int
}

func (r planWeekRow) week() plan.Week {
	return plan.Week{
		Dose:   plan.Dose{Class: r.Class, Sessions: r.Sessions, Minutes: r.Minutes, Easy: r.Easy, Vigorous: r.Within},
		Totals: totals(r.Light, r.Moderate, r.Vigorous),
	}
}

// PlanInput is what a practitioner signs.
type PlanInput struct {
	Version   int         // that the form was shown with; 0 before the first
	Starts    domain.Date // first day of the first week; the weeks before stay as they are
	Weeks     []plan.Week
	Goal      int // moderate-equivalent minutes a week
	Behind    int // weeks of the programme that were over before; only of a first version
	Preset    string
	Origin    PlanOrigin
	Reason    string
	Confirmed bool // the practitioner has said that the warnings are wanted
}

// SavePlan signs the next version of a client's plan. It returns
// [domain.Problems] for what is wrong, [domain.ErrHeld] (with the problems of the
// weeks) for work above what is allowed now, [domain.Doubts] for warnings that
// have to be confirmed, and [domain.ErrConflict] if another version was signed
// since the form was shown or nothing was prescribed yet.
func (s *Store) SavePlan(ctx context.Context, actor Actor, client uuid.UUID, in PlanInput) (uuid.UUID, error) {
	var id uuid.UUID
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		if err := c.open(); err != nil {
			return err
		}
		file, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		id, err = t.savePlan(ctx, client, in, file)
		return err
	})
	if err != nil {
		return uuid.Nil, fmt.Errorf("save plan of client %s: %w", client, err)
	}
	return id, nil
}

// PlanPreview is a plan as it would be signed.
type PlanPreview struct {
	Weeks    []PlanWeek // all, those that are over included
	Over     int        // how many of them stay as they were
	Warnings []plan.Warning
	before   int // version that it would take the place of
	behind   int
}

// PreviewPlan returns what SavePlan would sign, and its error if it would not. It
// leaves no trace: the page that it is for has been audited.
func (s *Store) PreviewPlan(ctx context.Context, actor Actor, client uuid.UUID, in PlanInput) (PlanPreview, error) {
	if !actor.Role.Staff() {
		return PlanPreview{}, domain.ErrForbidden
	}
	var preview PlanPreview
	err := s.look(ctx, actor, func(t *tx) error {
		if _, err := t.client(ctx, client); err != nil {
			return err
		}
		file, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		preview, err = t.checkPlan(ctx, client, in, file)
		return err
	})
	if err != nil {
		return preview, fmt.Errorf("preview the plan of client %s: %w", client, err)
	}
	return preview, nil
}

// BuildPlan returns the weeks that the rules or a published programme make of a
// start, under the client's ceiling of now. The ceiling of in is not used. It
// returns the errors of [plan.Ladder].
func (s *Store) BuildPlan(ctx context.Context, actor Actor, client uuid.UUID, in plan.Input) (plan.Plan, error) {
	if !actor.Role.Staff() {
		return plan.Plan{}, domain.ErrForbidden
	}
	var built plan.Plan
	err := s.look(ctx, actor, func(t *tx) error {
		if _, err := t.client(ctx, client); err != nil {
			return err
		}
		file, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		if in.Ceiling, err = t.planCeiling(file); err != nil {
			return err
		}
		if !file.Gate(t.today).Allow {
			in.Ceiling = min(in.Ceiling, intensity.Moderate)
		}
		built, err = plan.Ladder(in, plan.PolicyFrom(t.settings))
		return err
	})
	if err != nil {
		return plan.Plan{}, fmt.Errorf("build a plan for client %s: %w", client, err)
	}
	return built, nil
}

// checkPlan returns what would be signed, and why not if it would not. The weeks
// are there also where their work is above the ceiling.
func (t *tx) checkPlan(ctx context.Context, client uuid.UUID, in PlanInput, file clearanceFile) (p PlanPreview, err error) {
	policy := plan.PolicyFrom(t.settings)
	before, err := t.planInForce(ctx, client)
	if err != nil {
		return p, err
	}
	prescribed, err := t.prescriptionInForce(ctx, client)
	if err != nil {
		return p, err
	}
	p.behind = in.Behind
	if before != nil {
		p.before, p.behind = before.Version, before.Behind
	}
	if prescribed == nil || p.before != in.Version {
		return p, domain.ErrConflict
	}
	if p.Weeks, p.Over, err = t.joined(before, in, policy); err != nil {
		return p, err
	}
	ceiling, err := t.planCeiling(file)
	if err != nil {
		return p, err
	}
	p.Warnings = PlanWarnings(p.Weeks, p.Over, ceiling, p.behind, policy)
	if err := plan.CheckWeeks(in.Weeks, ceiling, policy); err != nil {
		return p, err
	}
	// Who signs the plan signs its vigorous weeks off.
	if i := slices.IndexFunc(in.Weeks, func(w plan.Week) bool { return w.Hardest() >= intensity.Vigorous }); i >= 0 {
		if err := file.mayDo(intensity.Vigorous, t.today); err != nil {
			return p, fmt.Errorf("%w: %w", err, domain.Problems{fmt.Sprintf("weeks[%d].class", i): heldSays(file.Gate(t.today))})
		}
	}
	return p, nil
}

// savePlan is SavePlan within a change that has locked the client.
func (t *tx) savePlan(ctx context.Context, client uuid.UUID, in PlanInput, file clearanceFile) (uuid.UUID, error) {
	p, err := t.checkPlan(ctx, client, in, file)
	if err != nil {
		return uuid.Nil, err
	}
	all, warnings, version, behind, ceiling := p.Weeks, p.Warnings, p.before, p.behind, file.Ceiling()
	if len(warnings) > 0 && !in.Confirmed {
		return uuid.Nil, domain.Doubts{"confirmed": "Some weeks are unusual: look at their warnings."}
	}
	id := newID()
	if warnings == nil {
		warnings = []plan.Warning{}
	}
	signature, err := t.signature(ctx)
	if err != nil {
		return uuid.Nil, err
	}
	if _, err := t.Exec(ctx, `
		INSERT INTO plans (id, client_id, version, preset, goal, behind, changed, origin, reason, ceiling, warnings, rule_set, signed_at, signed_by, signature)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)`,
		id, client, version+1, in.Preset, in.Goal, behind, in.Starts, string(in.Origin), strings.TrimSpace(in.Reason), ceiling, warnings,
		rulebook.Version, t.now, t.actor.ID, signature); err != nil {
		return uuid.Nil, err
	}
	rows := make([][]any, len(all))
	for i, w := range all {
		d, target := w.Dose, w.Target()
		rows[i] = []any{
			id, w.First, d.Class, d.Sessions, d.Minutes, d.Easy, d.Vigorous,
			w.Totals.Light, w.Totals.Moderate, w.Totals.Vigorous, target.Minutes, target.Light,
		}
	}
	if err := t.insertWeeks(ctx, rows); err != nil {
		return uuid.Nil, err
	}
	return id, t.audit(ctx, "plan.sign", client, "plan/"+id.String(), map[string]any{
		"version": version + 1, "origin": string(in.Origin), "weeks": len(all), "warnings": len(warnings),
	})
}

func (t *tx) insertWeeks(ctx context.Context, rows [][]any) error {
	batch := &pgx.Batch{}
	for _, r := range rows {
		batch.Queue(`
			INSERT INTO plan_weeks (plan_id, week, class, sessions, minutes, easy, within, light, moderate, vigorous, target, target_light)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`, r...)
	}
	return t.SendBatch(ctx, batch).Close()
}

// joined returns the weeks of the new version: those of the version before that
// lie before its start, as they were, and the new ones. kept is how many of them
// are old.
func (t *tx) joined(before *Plan, in PlanInput, p plan.Policy) (all []PlanWeek, kept int, err error) {
	var problems domain.Problems
	week := t.today.Week(t.practice.WeekStart)
	switch {
	case in.Starts.IsZero() || in.Starts.Week(t.practice.WeekStart) != in.Starts:
		problems.Add("starts", "A plan begins on the first day of a week.")
	case in.Starts.Before(week) || in.Starts.DaysSince(week) > 7*p.WeeksMost:
		problems.Add("starts", "A plan begins this week or later: weeks that are over stay as they were.")
	}
	if in.Goal < 1 || in.Goal > p.GoalMost {
		problems.Add("goal", fmt.Sprintf("The goal is a whole number of minutes from 1 to %d.", p.GoalMost))
	}
	if in.Behind < 0 || in.Behind > p.WeeksMost {
		problems.Add("behind", fmt.Sprintf("This is a whole number from 0 to %d.", p.WeeksMost))
	}
	if in.Preset != "" {
		if _, ok := plan.PresetOf(in.Preset); !ok {
			problems.Add("preset", "There is no such programme.")
		}
	}
	if utf8.RuneCountInString(in.Reason) > 500 {
		problems.Add("reason", "Use 500 characters at most.")
	}
	if problems != nil {
		return nil, 0, problems
	}
	if before != nil && len(before.Weeks) > 0 {
		for first := before.Weeks[0].First; first.Before(in.Starts); first = first.AddDays(7) {
			if w, ok := before.Week(first); ok {
				all = append(all, w)
			}
		}
	}
	kept = len(all)
	for i, w := range in.Weeks {
		all = append(all, PlanWeek{in.Starts.AddDays(7 * i), w})
	}
	for i, w := range plan.Lay(weeks(all)) {
		all[i].Week = w
	}
	return all, kept, nil
}

// PlanWarnings returns what is unusual about the weeks of a plan, except for the
// first ones, which are over.
func PlanWarnings(all []PlanWeek, over int, ceiling intensity.Class, behind int, p plan.Policy) []plan.Warning {
	return slices.DeleteFunc(plan.Warnings(weeks(all), ceiling, behind, p), func(w plan.Warning) bool { return w.Week <= over })
}

func heldSays(g clearance.Gate) string {
	if g.Allow {
		return "Above what is allowed now. Choose an easier class."
	}
	return "Vigorous work waits. " + g.First.Says
}
