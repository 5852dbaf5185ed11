package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/prescription"
	"brae/domain/volume"
)

// PlannedWeek is what the plan asks for in a week, after pauses, and cut to what
// is prescribed.
type PlannedWeek struct {
	PlanWeek
	Version  int
	Of       int // weeks of the plan
	Sessions int // after pauses
	Asked    volume.Target
	OpenDays int  // of the week, not paused
	Goes     bool // the plan is over and goes on as in its last week
	Cut      bool // it is easier than planned, since no more is prescribed

	Uncovered prescription.Ending // why it is to be confirmed first, of weeks ahead; empty if it is not
}

// Under returns the week cut to a ceiling.
func (w PlannedWeek) Under(ceiling intensity.Class) PlannedWeek {
	cut := w.Week.Under(ceiling)
	if cut == w.Week {
		return w
	}
	w.Week, w.Cut = cut, true
	w.Sessions, w.Asked = plan.Share(cut.Dose.Sessions, cut.Target(), w.OpenDays)
	return w
}

// planWeek returns what the plan asks of a client in the week that begins on a
// day; nil without a plan, or before its first week. It is the one place that
// knows the targets and sessions of weeks. What holds and decisions do not leave
// open is for the caller to cut: see [PlannedWeek.Under].
func (t *tx) planWeek(ctx context.Context, client uuid.UUID, week domain.Date) (*PlannedWeek, error) {
	all, err := t.plannedWeeks(ctx, []uuid.UUID{client}, week, week)
	if err != nil {
		return nil, err
	}
	if w, ok := all[plannedKey{client, week}]; ok {
		return &w, nil
	}
	return nil, nil
}

// plannedKey is a week of a client.
type plannedKey struct {
	client uuid.UUID
	week   domain.Date
}

// plannedWeeks is planWeek for many clients, from one week to another.
func (t *tx) plannedWeeks(ctx context.Context, clients []uuid.UUID, from, to domain.Date) (map[plannedKey]PlannedWeek, error) {
	args := pgx.NamedArgs{"clients": clients, "from": from, "to": to, "end": to.AddDays(6)}
	rows, _ := t.Query(ctx, `
		SELECT p.client_id, p.version, pr.class AS prescribed,
			(SELECT count(*) FROM plan_weeks x WHERE x.plan_id = p.id) AS of,
			(SELECT count(*) FROM plan_weeks x WHERE x.plan_id = p.id AND x.week <= w.week) AS number, `+planWeekColumns+`
		FROM (SELECT DISTINCT ON (client_id) id, client_id, version FROM plans
			WHERE client_id = ANY(@clients) ORDER BY client_id, version DESC) p
		JOIN LATERAL (SELECT class FROM prescriptions WHERE client_id = p.client_id ORDER BY version DESC LIMIT 1) pr ON true
		JOIN plan_weeks w ON w.plan_id = p.id AND w.week <= @to AND w.week >= coalesce(
			(SELECT max(x.week) FROM plan_weeks x WHERE x.plan_id = p.id AND x.week <= @from), @from)
		ORDER BY p.client_id, w.week`, args)
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[struct {
		ClientID            uuid.UUID
		Version, Of, Number int
		Prescribed          intensity.Class
		planWeekRow
	}])
	if err != nil || len(list) == 0 {
		return nil, err
	}
	rows, _ = t.Query(ctx, `
		SELECT client_id, `+pauseDays+` FROM pauses p
		WHERE client_id = ANY(@clients) AND from_day <= @end AND (coalesce(last_day, to_day) IS NULL OR coalesce(last_day, to_day) >= @from)`, args)
	paused, err := pgx.CollectRows(rows, pgx.RowToStructByName[struct {
		ClientID uuid.UUID
		pauseRow
	}])
	if err != nil {
		return nil, err
	}
	breaks := map[uuid.UUID][]plan.Pause{}
	for _, r := range paused {
		breaks[r.ClientID] = append(breaks[r.ClientID], r.pause())
	}
	all := map[plannedKey]PlannedWeek{}
	for i, r := range list {
		last := i+1 == len(list) || list[i+1].ClientID != r.ClientID
		until := to
		if !last {
			until = list[i+1].Week.AddDays(-7)
		}
		for first := r.Week; !first.After(until); first = first.AddDays(7) {
			if first.Before(from) {
				continue
			}
			week := r.week()
			week.Number = r.Number
			w := PlannedWeek{PlanWeek: PlanWeek{first, week}, Version: r.Version, Of: r.Of, Goes: first != r.Week}
			w.OpenDays = plan.OpenDays(first, breaks[r.ClientID])
			w.Sessions, w.Asked = plan.Share(week.Dose.Sessions, week.Target(), w.OpenDays)
			all[plannedKey{r.ClientID, first}] = w.Under(r.Prescribed)
		}
	}
	return all, nil
}
