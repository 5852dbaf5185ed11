package store

import (
	"cmp"
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
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if review, err = t.weekReview(ctx, choose); err != nil {
			return err
		}
		return t.audit(ctx, "review.view", uuid.Nil, "review/"+review.Week.String(), map[string]any{"clients": len(review.Lines)})
	})
	if err != nil {
		return Review{}, fmt.Errorf("week review: %w", err)
	}
	return review, nil
}

func (t *tx) weekReview(ctx context.Context, choose func([]ReviewLine) []ReviewLine) (Review, error) {
	review := Review{Today: t.today, Week: t.today.Week(t.practice.WeekStart), SilentDays: volume.PolicyFrom(t.settings).SilentDays}
	clients, names, err := t.stampedClients(ctx)
	if err != nil {
		return review, err
	}
	entries, err := recall(ctx, t, &t.memos.lines, clients, t.reviewEntries)
	if err != nil {
		return review, err
	}
	listed := make([]int, 0, len(clients)) // where those with a prescription are
	for i, e := range entries {
		if e != nil {
			listed = append(listed, i)
		}
	}
	slices.SortFunc(listed, func(a, b int) int { return cmp.Or(entries[a].name.compare(entries[b].name), a-b) })
	review.Lines = make([]ReviewLine, len(listed))
	stamps := make(map[uuid.UUID]stamped, len(listed))
	for i, at := range listed {
		review.Lines[i] = entries[at].line
		review.Lines[i].Practitioner = names[clients[at].Practitioner]
		stamps[clients[at].ID] = clients[at]
	}
	review.Chosen = choose(slices.Clone(review.Lines))
	return review, t.reviewStands(ctx, review.Chosen, stamps)
}

// reviewEntry is what is remembered of a client's line in the review.
type reviewEntry struct {
	line ReviewLine // without the practitioner's name, and without what only chosen lines have
	name nameKey
}

// reviewEntries are the entries of some clients; of those without a prescription
// there is none.
func (t *tx) reviewEntries(ctx context.Context, clients []uuid.UUID) (map[uuid.UUID]*reviewEntry, error) {
	week := t.today.Week(t.practice.WeekStart)
	rows, _ := t.Query(ctx, `
		SELECT c.id, c.given_name, c.family_name, coalesce(h.scope, 'none') AS hold, p.target, p.target_light, l.day AS last_day,
			coalesce(w.light, 0) AS light, coalesce(w.moderate, 0) AS moderate, coalesce(w.vigorous, 0) AS vigorous
		FROM clients c
		JOIN LATERAL (
			SELECT target, target_light FROM prescriptions WHERE client_id = c.id ORDER BY version DESC LIMIT 1) p ON true
		LEFT JOIN LATERAL (
			SELECT scope FROM holds WHERE client_id = c.id AND released_at IS NULL
			ORDER BY array_position(ARRAY['all', 'above_light', 'vigorous'], scope) LIMIT 1) h ON true
		LEFT JOIN LATERAL (SELECT day FROM sessions WHERE client_id = c.id AND deleted_at IS NULL ORDER BY day DESC LIMIT 1) l ON true
		LEFT JOIN week_totals w ON w.week = @week AND w.client_id = c.id
		WHERE c.id = ANY(@clients)`,
		pgx.NamedArgs{"week": week, "clients": clients})
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[reviewRow])
	if err != nil {
		return nil, err
	}
	planned, err := t.plannedWeeks(ctx, clients, week, week)
	if err != nil {
		return nil, err
	}
	keys, policy := nameKeys(), volume.PolicyFrom(t.settings)
	entries := make(map[uuid.UUID]*reviewEntry, len(list))
	for _, r := range list {
		if w, ok := planned[plannedKey{r.ID, week}]; ok {
			w = w.Under(r.Hold.Ceiling())
			r.Target, r.TargetLight = w.Asked.Minutes, w.Asked.Light
		}
		e := &reviewEntry{r.line(), keys(r.FamilyName, r.GivenName)}
		e.line.Silent = volume.Silent(r.LastDay, t.today, policy)
		entries[r.ID] = e
	}
	return entries, nil
}

// reviewStand is what is remembered for the line of a client that a page shows.
type reviewStand struct {
	due    []screening.Due
	weeks  []ReviewWeek
	status plan.Status
}

// reviewStands adds to chosen lines what only they have.
func (t *tx) reviewStands(ctx context.Context, lines []ReviewLine, stamps map[uuid.UUID]stamped) error {
	clients := make([]stamped, len(lines))
	at := make(map[uuid.UUID]*ReviewLine, len(lines))
	for i := range lines {
		clients[i], at[lines[i].ID] = stamps[lines[i].ID], &lines[i]
	}
	stands, err := recall(ctx, t, &t.memos.stands, clients, func(ctx context.Context, missing []uuid.UUID) (map[uuid.UUID]reviewStand, error) {
		some := make([]ReviewLine, len(missing))
		for i, id := range missing {
			some[i] = *at[id]
		}
		due, err := t.rescreens(ctx, missing)
		if err != nil {
			return nil, err
		}
		if err := t.reviewWeeks(ctx, some); err != nil {
			return nil, err
		}
		if err := t.reviewStatus(ctx, some); err != nil {
			return nil, err
		}
		stands := make(map[uuid.UUID]reviewStand, len(some))
		for _, l := range some {
			stands[l.ID] = reviewStand{due[l.ID], l.Weeks, l.Status}
		}
		return stands, nil
	})
	for i, s := range stands {
		lines[i].Due, lines[i].Weeks, lines[i].Status = s.due, s.weeks, s.status
	}
	return err
}

// reviewRow is a line of the review as the query returns it.
type reviewRow struct {
	ID                        uuid.UUID
	GivenName, FamilyName     string
	Hold                      clearance.Scope
	Target                    int
	TargetLight               bool
	LastDay                   domain.Date
	Light, Moderate, Vigorous int
}

func (r reviewRow) line() ReviewLine {
	target := volume.Target{Minutes: r.Target, Light: r.TargetLight}
	week := totals(r.Light, r.Moderate, r.Vigorous)
	return ReviewLine{
		ID: r.ID, Name: r.GivenName + " " + r.FamilyName, Hold: r.Hold, Target: target,
		LastDay: r.LastDay, Week: week, Done: target.Done(week), ShortBy: target.ShortBy(week),
	}
}

// reviewWeeks adds the last eight weeks to some lines.
func (t *tx) reviewWeeks(ctx context.Context, lines []ReviewLine) error {
	week := t.today.Week(t.practice.WeekStart)
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
