package store

import (
	"context"
	"fmt"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
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
	Week         volume.Totals // this week
	Done         int           // minutes of this week that count towards the target
	ShortBy      int           // minutes of the target left
	LastDay      domain.Date   // of the last logged session; zero if there is none
	Silent       bool          // has logged nothing for longer than the practice lets pass
	Weeks        []ReviewWeek  // the last eight, oldest first, this week last
}

// ReviewWeek is a week of a client in the review.
type ReviewWeek struct {
	Done   int  // minutes that count towards the target
	Logged bool // something was logged
}

// Review is the state of a practice, or of one caseload, in a week.
type Review struct {
	Week       domain.Date // its first day
	Today      domain.Date
	SilentDays int // days without a log that make a client silent
	Lines      []ReviewLine
}

// WeekReview returns how every open client with a prescription that the actor may
// see stands in this week, in the order of their names.
func (s *Store) WeekReview(ctx context.Context, actor Actor) (Review, error) {
	if !actor.Role.Staff() {
		return Review{}, domain.ErrForbidden
	}
	var review Review
	err := s.change(ctx, actor, func(t *tx) error {
		review.Today, review.Week = t.today, t.today.Week(t.practice.WeekStart)
		first := review.Week.AddDays(-7 * (reviewWeeks - 1))
		rows, _ := t.Query(ctx, `
			SELECT c.id, c.given_name, c.family_name, a.name AS practitioner,
				coalesce(h.scope, 'none') AS hold, p.target, p.target_light, l.day AS last_day,
				w.weeks, w.light, w.moderate, w.vigorous
			FROM clients c
			JOIN accounts a ON a.id = c.practitioner_id
			JOIN LATERAL (
				SELECT target, target_light FROM prescriptions WHERE client_id = c.id ORDER BY version DESC LIMIT 1) p ON true
			LEFT JOIN LATERAL (
				SELECT scope FROM holds WHERE client_id = c.id AND released_at IS NULL
				ORDER BY array_position(ARRAY['all', 'above_light', 'vigorous'], scope) LIMIT 1) h ON true
			LEFT JOIN LATERAL (SELECT day FROM sessions WHERE client_id = c.id ORDER BY day DESC LIMIT 1) l ON true
			LEFT JOIN (
				SELECT client_id, array_agg(week) AS weeks, array_agg(light) AS light,
					array_agg(moderate) AS moderate, array_agg(vigorous) AS vigorous
				FROM week_totals WHERE week BETWEEN @first AND @week
				GROUP BY client_id) w ON w.client_id = c.id
			WHERE c.closed_at IS NULL AND `+seen+`
			ORDER BY c.id`,
			actor.args(pgx.NamedArgs{"first": first, "week": review.Week}))
		list, err := pgx.CollectRows(rows, pgx.RowToStructByName[reviewRow])
		if err != nil {
			return err
		}
		sortByName(list, func(r reviewRow) string { return r.FamilyName }, func(r reviewRow) string { return r.GivenName })
		policy := volume.PolicyFrom(t.settings)
		review.SilentDays = policy.SilentDays
		review.Lines = make([]ReviewLine, len(list))
		for i, r := range list {
			review.Lines[i] = r.line(first)
			review.Lines[i].Silent = volume.Silent(r.LastDay, t.today, policy)
		}
		return t.audit(ctx, "review.view", uuid.Nil, "review/"+review.Week.String(), map[string]any{"clients": len(list)})
	})
	if err != nil {
		return Review{}, fmt.Errorf("week review: %w", err)
	}
	return review, nil
}

// reviewRow is a line of the review as the query returns it: the weeks in any
// order, those without a log left out.
type reviewRow struct {
	ID                        uuid.UUID
	GivenName, FamilyName     string
	Practitioner              string
	Hold                      clearance.Scope
	Target                    int
	TargetLight               bool
	LastDay                   domain.Date
	Weeks                     []domain.Date
	Light, Moderate, Vigorous []int
}

func (r reviewRow) line(first domain.Date) ReviewLine {
	target := volume.Target{Minutes: r.Target, Light: r.TargetLight}
	line := ReviewLine{
		ID: r.ID, Name: r.GivenName + " " + r.FamilyName, Practitioner: r.Practitioner, Hold: r.Hold, Target: target,
		LastDay: r.LastDay, Weeks: make([]ReviewWeek, reviewWeeks),
	}
	for i, week := range r.Weeks {
		n, t := week.DaysSince(first)/7, totals(r.Light[i], r.Moderate[i], r.Vigorous[i])
		line.Weeks[n] = ReviewWeek{Done: target.Done(t), Logged: true}
		if n == reviewWeeks-1 {
			line.Week = t
		}
	}
	line.Done, line.ShortBy = target.Done(line.Week), target.ShortBy(line.Week)
	return line
}

// totals rebuilds the totals of a week from its stored minutes.
func totals(light, moderate, vigorous int) volume.Totals {
	return volume.Totals{
		Light: light, Moderate: moderate, Vigorous: vigorous,
		ModerateEquivalent: moderate + volume.VigorousWorth*vigorous,
	}
}
