package store

import (
	"context"
	"crypto/rand"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
)

// CalendarEvent is a planned session as calendars are told of it. It says how
// long, and nothing about health.
type CalendarEvent struct {
	ID        uuid.UUID
	Day       domain.Date
	Minutes   int
	Sequence  int // raised by each change
	Cancelled bool
	ChangedAt time.Time
}

const (
	calendarWeeks = 8  // how far ahead sessions are told
	calendarBack  = 28 // days for which past ones are kept in the feed
)

// HasCalendar reports whether the actor has a calendar address.
func (s *Store) HasCalendar(ctx context.Context, actor Actor) (bool, error) {
	var has bool
	err := s.pool.QueryRow(ctx, `
		SELECT EXISTS (SELECT FROM calendar_feeds f JOIN clients c ON c.id = f.client_id WHERE c.account_id = $1)`, actor.ID).Scan(&has)
	if err != nil {
		return false, fmt.Errorf("calendar: %w", err)
	}
	return has, nil
}

// NewCalendar makes the secret address of the actor's calendar and returns its
// token, which is kept nowhere. The one before stops at once.
func (s *Store) NewCalendar(ctx context.Context, actor Actor) (string, error) {
	token := strings.ToLower(rand.Text())
	err := s.change(ctx, actor, func(t *tx) error {
		client, err := t.ownClient(ctx)
		if err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO calendar_feeds (client_id, token_hash, made_at) VALUES ($1, $2, $3)
			ON CONFLICT (client_id) DO UPDATE SET token_hash = excluded.token_hash, made_at = excluded.made_at`,
			client, tokenHash(token), t.now); err != nil {
			return err
		}
		return t.audit(ctx, "calendar.new", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return "", fmt.Errorf("new calendar: %w", err)
	}
	return token, nil
}

// StopCalendar makes the actor's calendar address worthless.
func (s *Store) StopCalendar(ctx context.Context, actor Actor) error {
	err := s.change(ctx, actor, func(t *tx) error {
		client, err := t.ownClient(ctx)
		if err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `DELETE FROM calendar_feeds WHERE client_id = $1`, client); err != nil {
			return err
		}
		return t.audit(ctx, "calendar.stop", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("stop calendar: %w", err)
	}
	return nil
}

// Calendar is what a calendar address answers with.
type Calendar struct {
	Practice string
	Language string
	Events   []CalendarEvent // by day
}

// CalendarOf returns the planned sessions of whoever's address it is, of the last
// four weeks and the next eight. What has changed since the calendar was last
// asked for has a higher sequence; a session that is no longer planned is
// cancelled. It returns [domain.ErrNotFound] for an address that is unknown or was
// given up.
func (s *Store) CalendarOf(ctx context.Context, token string) (Calendar, error) {
	var c Calendar
	rows, _ := s.pool.Query(ctx, `
		SELECT a.id, c.id, a.language FROM calendar_feeds f JOIN clients c ON c.id = f.client_id JOIN accounts a ON a.id = c.account_id
		WHERE f.token_hash = $1 AND c.closed_at IS NULL AND a.disabled_at IS NULL`, tokenHash(token))
	of, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByPos[struct {
		Account, Client uuid.UUID
		Language        string
	}])
	if err != nil {
		return c, fmt.Errorf("calendar: %w", domainError(err))
	}
	c.Language = of.Language
	err = s.change(ctx, Actor{ID: of.Account, Role: domain.RoleClient}, func(t *tx) error {
		if _, err := t.lockBeside(ctx, of.Client, false); err != nil {
			return err
		}
		c.Practice = t.practice.Name
		if err := t.tellCalendar(ctx, of.Client); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `
			SELECT id, day, minutes, sequence, cancelled, changed_at FROM calendar_events
			WHERE client_id = $1 AND day >= $2 ORDER BY day, n`, of.Client, t.today.AddDays(-calendarBack))
		if c.Events, err = pgx.CollectRows(rows, pgx.RowToStructByName[CalendarEvent]); err != nil {
			return err
		}
		return t.audit(ctx, "calendar.view", of.Client, "client/"+of.Client.String(), nil)
	})
	if err != nil {
		return Calendar{}, fmt.Errorf("calendar of client %s: %w", of.Client, err)
	}
	return c, nil
}

// place is where a session stands in a calendar: the n-th of its day.
type place struct {
	day domain.Date
	n   int
}

// tellCalendar brings what calendars are told from today on into line with what is
// planned. What was told of past days stays as it was.
func (t *tx) tellCalendar(ctx context.Context, client uuid.UUID) error {
	planned, err := t.plannedSessions(ctx, client)
	if err != nil {
		return err
	}
	rows, _ := t.Query(ctx, `
		SELECT id, day, n, minutes, cancelled FROM calendar_events WHERE client_id = $1 AND day >= $2`, client, t.today)
	told, err := pgx.CollectRows(rows, pgx.RowToStructByName[struct {
		ID        uuid.UUID
		Day       domain.Date
		N         int
		Minutes   int
		Cancelled bool
	}])
	if err != nil {
		return err
	}
	batch := &pgx.Batch{}
	for _, e := range told {
		at := place{e.Day, e.N}
		minutes, stays := planned[at]
		delete(planned, at)
		switch {
		case stays && (e.Cancelled || e.Minutes != minutes):
			batch.Queue(`UPDATE calendar_events SET minutes = $2, cancelled = false, sequence = sequence + 1, changed_at = $3 WHERE id = $1`, e.ID, minutes, t.now)
		case !stays && !e.Cancelled:
			batch.Queue(`UPDATE calendar_events SET cancelled = true, sequence = sequence + 1, changed_at = $2 WHERE id = $1`, e.ID, t.now)
		}
	}
	for at, minutes := range planned {
		batch.Queue(`
			INSERT INTO calendar_events (id, client_id, day, n, minutes, sequence, cancelled, changed_at) VALUES ($1, $2, $3, $4, $5, 0, false, $6)`,
			newID(), client, at.day, at.n, minutes, t.now)
	}
	if batch.Len() == 0 {
		return nil
	}
	return t.SendBatch(ctx, batch).Close()
}

// plannedSessions returns the minutes of the sessions that are planned from today
// on: by the plan, or else by the prescription, cut to what is allowed now. Nothing
// is planned while all exercise waits.
func (t *tx) plannedSessions(ctx context.Context, client uuid.UUID) (map[place]int, error) {
	sessions := map[place]int{}
	p, err := t.prescriptionInForce(ctx, client)
	if err != nil || p == nil {
		return sessions, err
	}
	file, err := t.clearanceFile(ctx, client)
	if err != nil {
		return nil, err
	}
	open := file.Ceiling()
	if !file.Gate(domain.DateOf(p.SignedAt, t.practice.Location)).Allow {
		open = min(open, intensity.Moderate)
	}
	if open == intensity.None {
		return sessions, nil
	}
	first := t.today.Week(t.practice.WeekStart)
	weeks, err := t.plannedWeeks(ctx, []uuid.UUID{client}, first, first.AddDays(7*(calendarWeeks-1)))
	if err != nil {
		return nil, err
	}
	pauses, err := t.pauses(ctx, client)
	if err != nil {
		return nil, err
	}
	for i := range calendarWeeks {
		week := first.AddDays(7 * i)
		days := openDays(week, pauses)
		count, _ := plan.Share(p.SessionsPerWeek, p.Target(), len(days))
		minutes := p.MinutesPerSession
		if w, ok := weeks[plannedKey{client, week}]; ok {
			w = w.Under(open)
			count, minutes = w.Sessions, w.Dose.Minutes
		} else if p.Class > open {
			continue // what was prescribed is not allowed now
		}
		for _, at := range spread(days, count) {
			if !at.day.Before(t.today) {
				sessions[at] = minutes
			}
		}
	}
	return sessions, nil
}

// openDays are the days of a week that no pause covers.
func openDays(week domain.Date, pauses []Pause) []domain.Date {
	var days []domain.Date
	for i := range 7 {
		day := week.AddDays(i)
		if !slices.ContainsFunc(pauses, func(p Pause) bool { return p.Covers(day) }) {
			days = append(days, day)
		}
	}
	return days
}

// spread lays the sessions of a week evenly on its days, so that a day of rest
// lies between them as far as there are any (common practice).
func spread(days []domain.Date, sessions int) []place {
	if len(days) == 0 {
		return nil
	}
	list := make([]place, sessions)
	for i := range list {
		list[i] = place{days[i*len(days)/sessions], 1}
		if i > 0 && list[i].day == list[i-1].day {
			list[i].n = list[i-1].n + 1
		}
	}
	return list
}
