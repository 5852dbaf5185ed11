package store

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/volume"
)

// History is what a client has done, week by week.
type History struct {
	Client   Client
	Today    domain.Date
	Target   volume.Target
	Weeks    []HistoryWeek // the newest first, without gaps
	Resting  []Reading     // resting heart rates, the oldest first
	Reported []Triage      // without exercise, of these weeks, the newest first
	Earlier  domain.Date   // the first day of the week before those shown that has sessions; zero if there is none
	Flags    []Flag        // open ones, for staff
}

// HistoryWeek is a week with its sessions.
type HistoryWeek struct {
	Week     domain.Date // first day
	Totals   volume.Totals
	Done     int       // minutes that count towards the target
	Sessions []Session // the newest first; staff see deleted ones too
}

// Reading is one value on a day, for a chart.
type Reading struct {
	Day   domain.Date
	Value int
}

// HistoryWeeks is how many weeks a page of the history shows.
const HistoryWeeks = 12

// History returns the weeks of a client up to the one of a day, zero for today.
func (s *Store) History(ctx context.Context, actor Actor, client uuid.UUID, upTo domain.Date) (History, error) {
	var h History
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if h.Client, err = t.client(ctx, client); err != nil {
			return err
		}
		h.Today = t.today
		if upTo.IsZero() || upTo.After(t.today) {
			upTo = t.today
		}
		if err := t.historyWeeks(ctx, &h, upTo.Week(t.practice.WeekStart)); err != nil {
			return err
		}
		if h.Resting, err = t.restingReadings(ctx, client); err != nil {
			return err
		}
		if actor.Role.Staff() {
			if h.Flags, err = t.openFlags(ctx, client); err != nil {
				return err
			}
		}
		return t.audit(ctx, "history.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return History{}, fmt.Errorf("history of client %s: %w", client, err)
	}
	return h, nil
}

func (t *tx) historyWeeks(ctx context.Context, h *History, last domain.Date) error {
	client := h.Client.ID
	h.Target = volume.DefaultTarget(volume.PolicyFrom(t.settings))
	if p, err := t.prescriptionInForce(ctx, client); err != nil {
		return err
	} else if p != nil {
		h.Target = p.Target()
	}
	first := last.AddDays(-7 * (HistoryWeeks - 1))
	where := `s.client_id = @client AND s.week BETWEEN @first AND @last`
	if !t.actor.Role.Staff() {
		where += ` AND ` + kept
	}
	sessions, err := sessionsWhere(ctx, t, where, pgx.NamedArgs{"client": client, "first": first, "last": last})
	if err != nil {
		return err
	}
	for i := range HistoryWeeks {
		w := HistoryWeek{Week: last.AddDays(-7 * i)}
		for _, s := range sessions {
			if s.Week != w.Week {
				continue
			}
			w.Sessions = append(w.Sessions, s)
			if s.Deleted.IsZero() {
				w.Totals = w.Totals.Add(s.Totals)
			}
		}
		w.Done = h.Target.Done(w.Totals)
		h.Weeks = append(h.Weeks, w)
	}
	rows, _ := t.Query(ctx, `
		SELECT `+triageColumns+` FROM triages t
		WHERE t.client_id = $1 AND t.session_id IS NULL AND t.day BETWEEN $2 AND $3 ORDER BY t.at DESC`, client, first, last.AddDays(6))
	if h.Reported, err = pgx.CollectRows(rows, pgx.RowToStructByName[Triage]); err != nil {
		return err
	}
	rows, _ = t.Query(ctx, `SELECT max(s.week) FROM sessions s WHERE s.client_id = $1 AND s.week < $2 AND `+kept, client, first)
	earlier, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[domain.Date])
	h.Earlier = earlier
	return err
}

// restingReadings are the resting heart rates that screenings have taken.
func (t *tx) restingReadings(ctx context.Context, client uuid.UUID) ([]Reading, error) {
	visits, err := t.visits(ctx, client)
	if err != nil {
		return nil, err
	}
	var list []Reading
	for _, v := range visits {
		if len(v.Record.RestingReadings) == 0 {
			continue
		}
		resting, err := heartrate.RestingMean(v.Record.RestingReadings, heartrate.PolicyFrom(t.settings))
		if err != nil {
			return nil, err
		}
		list = append(list, Reading{v.On, int(resting.HR)})
	}
	return list, nil
}

// SessionRecord is a session with everything that belongs to it.
type SessionRecord struct {
	LoggedSession
	Client    Client
	LoggedBy  string // name of the account
	DeletedBy string
	PhoneAt   time.Time // by the phone's clock; zero if it did not say
	Revisions []Revision
	Triages   []Triage // of all versions, the newest first
	Target    volume.Target
	Earliest  domain.Date // the first day that it can be moved to
	Today     domain.Date
}

// SessionRecord returns a session with what stood before. Clients see their
// deleted sessions here, to restore them.
func (s *Store) SessionRecord(ctx context.Context, actor Actor, client, id uuid.UUID) (SessionRecord, error) {
	var r SessionRecord
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if r.Client, err = t.client(ctx, client); err != nil {
			return err
		}
		if r.Session, err = t.session(ctx, client, id); err != nil {
			return err
		}
		policy := volume.PolicyFrom(t.settings)
		r.Today, r.Earliest, r.Target = t.today, t.today.AddDays(-policy.LogDays), volume.DefaultTarget(policy)
		if p, err := t.prescriptionInForce(ctx, client); err != nil {
			return err
		} else if p != nil {
			r.Target = p.Target()
		}
		if r.Revisions, err = t.revisions(ctx, id); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `SELECT `+triageColumns+` FROM triages t WHERE t.session_id = $1 ORDER BY t.session_version DESC`, id)
		if r.Triages, err = pgx.CollectRows(rows, pgx.RowToStructByName[Triage]); err != nil {
			return err
		}
		if len(r.Triages) > 0 {
			r.Triage = r.Triages[0]
		}
		var phone *time.Time
		if err := t.QueryRow(ctx, `
			SELECT l.name, coalesce(d.name, ''), s.phone_at FROM sessions s
			JOIN accounts l ON l.id = s.logged_by LEFT JOIN accounts d ON d.id = s.deleted_by WHERE s.id = $1`, id).
			Scan(&r.LoggedBy, &r.DeletedBy, &phone); err != nil {
			return err
		}
		if phone != nil {
			r.PhoneAt = *phone
		}
		return t.audit(ctx, "session.view", client, "session/"+id.String(), nil)
	})
	if err != nil {
		return SessionRecord{}, fmt.Errorf("session %s of client %s: %w", id, client, err)
	}
	return r, nil
}
