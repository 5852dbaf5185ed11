package store

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/plan"
	"brae/domain/screening"
	"brae/domain/volume"
)

// reviewWeeks is how many weeks the review shows of each client.
const reviewWeeks = 8

// ReviewLine is one client in the weekly review.
type ReviewLine struct {
	ID           uuid.UUID
	Name         string
	Practitioner string
	Hold         clearance.Scope // the widest open hold
	Target       volume.Target
	Week         volume.Totals   // this week
	Done         int             // minutes of this week that count towards the target
	ShortBy      int             // minutes of the target left
	LastDay      domain.Date     // of the last logged session; zero if there is none
	Silent       bool            // has logged nothing for longer than the practice lets pass
	Due          []screening.Due // why the client has to be screened again; only of chosen lines
	Weeks        []ReviewWeek    // the last eight, oldest first, this week last; only of chosen lines
	Status       plan.Status     // how the client stands with the plan; only of chosen lines
}

// ReviewWeek is a week of a client in the review.
type ReviewWeek struct {
	Done   int  // minutes that count towards the target
	Target int  // of that week, by the plan; else that of today
	Logged bool // something was logged
}

// Review is the state of a practice, or of one caseload, in a week.
type Review struct {
	Week       domain.Date // its first day
	Today      domain.Date
	SilentDays int          // days without a log that make a client silent
	Lines      []ReviewLine // all, in the order of their names
	Chosen     []ReviewLine // those that the page shows, with their weeks
}

// WeekReview returns how every open client with a prescription that the actor may
// see stands in this week. The weeks before are loaded only for the lines that
// choose picks out of all, in its order: a page shows fifty of them.
func (s *Store) WeekReview(ctx context.Context, actor Actor, choose func([]ReviewLine) []ReviewLine) (Review, error) {
	if !actor.Role.Staff() {
		return Review{}, domain.ErrForbidden
	}
	var review Review
	err := s.change(ctx, actor, func(t *tx) error {
		policy := volume.PolicyFrom(t.settings)
		review.Today, review.Week, review.SilentDays = t.today, t.today.Week(t.practice.WeekStart), policy.SilentDays
		rows, _ := t.Query(ctx, `
			SELECT c.id, c.given_name, c.family_name, a.name AS practitioner,
				coalesce(h.scope, 'none') AS hold, p.target, p.target_light, l.day AS last_day,
				coalesce(w.light, 0) AS light, coalesce(w.moderate, 0) AS moderate, coalesce(w.vigorous, 0) AS vigorous
			FROM clients c
			JOIN accounts a ON a.id = c.practitioner_id
			JOIN LATERAL (
				SELECT target, target_light FROM prescriptions WHERE client_id = c.id ORDER BY version DESC LIMIT 1) p ON true
			LEFT JOIN LATERAL (
				SELECT scope FROM holds WHERE client_id = c.id AND released_at IS NULL
				ORDER BY array_position(ARRAY['all', 'above_light', 'vigorous'], scope) LIMIT 1) h ON true
			LEFT JOIN LATERAL (SELECT day FROM sessions WHERE client_id = c.id AND deleted_at IS NULL ORDER BY day DESC LIMIT 1) l ON true
			LEFT JOIN week_totals w ON w.week = @week AND w.client_id = c.id
			WHERE c.closed_at IS NULL AND `+seen+`
			ORDER BY c.id`,
			actor.args(pgx.NamedArgs{"week": review.Week}))
		list, err := pgx.CollectRows(rows, pgx.RowToStructByName[reviewRow])
		if err != nil {
			return err
		}
		sortByName(list, func(r reviewRow) string { return r.FamilyName }, func(r reviewRow) string { return r.GivenName })
		review.Lines = make([]ReviewLine, len(list))
		planned, err := t.plannedWeeks(ctx, idsOf(list), review.Week, review.Week)
		if err != nil {
			return err
		}
		for i, r := range list {
			if w, ok := planned[plannedKey{r.ID, review.Week}]; ok {
				w = w.Under(r.Hold.Ceiling())
				r.Target, r.TargetLight = w.Asked.Minutes, w.Asked.Light
			}
			review.Lines[i] = r.line()
			review.Lines[i].Silent = volume.Silent(r.LastDay, t.today, policy)
		}
		review.Chosen = choose(slices.Clone(review.Lines))
		chosen := make([]uuid.UUID, len(review.Chosen))
		for i, l := range review.Chosen {
			chosen[i] = l.ID
		}
		due, err := t.rescreens(ctx, chosen)
		if err != nil {
			return err
		}
		for i, l := range review.Chosen {
			review.Chosen[i].Due = due[l.ID]
		}
		if err := t.reviewWeeks(ctx, review.Week, review.Chosen); err != nil {
			return err
		}
		if err := t.reviewStatus(ctx, review.Chosen); err != nil {
			return err
		}
		return t.audit(ctx, "review.view", uuid.Nil, "review/"+review.Week.String(), map[string]any{"clients": len(list)})
	})
	if err != nil {
		return Review{}, fmt.Errorf("week review: %w", err)
	}
	return review, nil
}

// reviewRow is a line of the review as the query returns it.
type reviewRow struct {
	ID                        uuid.UUID
	GivenName, FamilyName     string
	Practitioner              string
	Hold                      clearance.Scope
	Target                    int
	TargetLight               bool
	LastDay                   domain.Date
	Light, Moderate, Vigorous int
}

func idsOf(list []reviewRow) []uuid.UUID {
	ids := make([]uuid.UUID, len(list))
	for i, r := range list {
		ids[i] = r.ID
	}
	return ids
}

func (r reviewRow) line() ReviewLine {
	target := volume.Target{Minutes: r.Target, Light: r.TargetLight}
	week := totals(r.Light, r.Moderate, r.Vigorous)
	return ReviewLine{
		ID: r.ID, Name: r.GivenName + " " + r.FamilyName, Practitioner: r.Practitioner, Hold: r.Hold, Target: target,
		LastDay: r.LastDay, Week: week, Done: target.Done(week), ShortBy: target.ShortBy(week),
	}
}

// reviewWeeks adds the last eight weeks to some lines.
func (t *tx) reviewWeeks(ctx context.Context, week domain.Date, lines []ReviewLine) error {
	first := week.AddDays(-7 * (reviewWeeks - 1))
	ids := make([]uuid.UUID, len(lines))
	at := make(map[uuid.UUID]*ReviewLine, len(lines))
	for i := range lines {
		lines[i].Weeks = make([]ReviewWeek, reviewWeeks)
		ids[i], at[lines[i].ID] = lines[i].ID, &lines[i]
	}
	planned, err := t.plannedWeeks(ctx, ids, first, week.AddDays(-7))
	if err != nil {
		return err
	}
	targetOf := func(l *ReviewLine, first domain.Date) volume.Target {
		if w, ok := planned[plannedKey{l.ID, first}]; ok {
			return w.Asked
		}
		return l.Target
	}
	for _, l := range at {
		for i := range l.Weeks {
			l.Weeks[i].Target = targetOf(l, first.AddDays(7*i)).Minutes
		}
	}
	rows, _ := t.Query(ctx, `
		SELECT client_id, week, light, moderate, vigorous FROM week_totals
		WHERE client_id = ANY(@ids) AND week BETWEEN @first AND @week
		ORDER BY week, client_id`, pgx.NamedArgs{"ids": ids, "first": first, "week": week})
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		ClientID                  uuid.UUID
		Week                      domain.Date
		Light, Moderate, Vigorous int
	}])
	for _, w := range list {
		l := at[w.ClientID]
		one := &l.Weeks[w.Week.DaysSince(first)/7]
		one.Done, one.Logged = targetOf(l, w.Week).Done(totals(w.Light, w.Moderate, w.Vigorous)), true
	}
	return err
}

// totals rebuilds the totals of a week from its stored minutes.
func totals(light, moderate, vigorous int) volume.Totals {
	return volume.Totals{
		Light: light, Moderate: moderate, Vigorous: vigorous,
		ModerateEquivalent: moderate + volume.VigorousWorth*vigorous,
	}
}

// reviewStatus adds how clients stand to some lines. What is open to them is read
// off the stored holds; the record's own page looks at
// what doctors have decided since, too.
func (t *tx) reviewStatus(ctx context.Context, lines []ReviewLine) error {
	ids := make([]uuid.UUID, len(lines))
	for i, l := range lines {
		ids[i] = l.ID
	}
	courses, err := t.courses(ctx, ids)
	if err != nil {
		return err
	}
	policy := plan.PolicyFrom(t.settings)
	for i, l := range lines {
		if c := courses[l.ID]; c != nil {
			c.Ceiling = l.Hold.Ceiling()
			lines[i].Status = c.Stand(policy).Status
		}
	}
	return nil
}
