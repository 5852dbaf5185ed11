package store

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/triage"
	"brae/domain/volume"
)

// Session returns one session of a client whose record the actor may see, also a
// deleted one.
func (s *Store) Session(ctx context.Context, actor Actor, client, id uuid.UUID) (Session, error) {
	var session Session
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if _, err = t.client(ctx, client); err != nil {
			return err
		}
		if session, err = t.session(ctx, client, id); err != nil {
			return err
		}
		return t.audit(ctx, "session.view", client, "session/"+id.String(), nil)
	})
	if err != nil {
		return Session{}, fmt.Errorf("session %s of client %s: %w", id, client, err)
	}
	return session, nil
}

// Sorted returns a session with what it came to, for who logged it.
func (s *Store) Sorted(ctx context.Context, actor Actor, client, id uuid.UUID) (LoggedSession, error) {
	var found LoggedSession
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if _, err = t.client(ctx, client); err != nil {
			return err
		}
		if found, err = t.logged(ctx, client, id); err != nil {
			return err
		}
		return t.audit(ctx, "session.view", client, "session/"+id.String(), nil)
	})
	if err != nil {
		return LoggedSession{}, fmt.Errorf("session %s of client %s: %w", id, client, err)
	}
	return found, nil
}

// logged returns a session with what it came to.
func (t *tx) logged(ctx context.Context, client, id uuid.UUID) (s LoggedSession, err error) {
	if s.Session, err = t.session(ctx, client, id); err != nil {
		return s, err
	}
	s.Triage, err = t.triageOf(ctx, id)
	return s, err
}

func (t *tx) session(ctx context.Context, client, id uuid.UUID) (Session, error) {
	list, err := sessionsWhere(ctx, t, `s.client_id = @client AND s.id = @id`, pgx.NamedArgs{"client": client, "id": id})
	if err != nil {
		return Session{}, err
	}
	if len(list) == 0 {
		return Session{}, domain.ErrNotFound
	}
	return list[0], nil
}

// kept is the condition of sessions that were not deleted.
const kept = `s.deleted_at IS NULL`

// sessionsWhere loads sessions with their parts, the newest day first, deleted
// ones too unless the condition says [kept].
func sessionsWhere(ctx context.Context, q querier, where string, args pgx.NamedArgs) ([]Session, error) {
	rows, _ := q.Query(ctx, `
		SELECT s.id, s.client_id, s.day, s.week, s.note, s.logged_at, s.version, s.deleted_at, s.answers,
			ARRAY(SELECT r.report FROM session_reports r WHERE r.session_id = s.id ORDER BY r.report) AS reports,
			p.activity, p.minutes, p.class, p.safety,
			coalesce(p.talk, '') AS talk, coalesce(p.effort, 0) AS effort, coalesce(p.heart_rate, 0) AS heart_rate
		FROM sessions s JOIN session_parts p ON p.session_id = s.id
		WHERE `+where+`
		ORDER BY s.day DESC, s.logged_at DESC, s.id, p.n`, args)
	type row struct {
		ID, ClientID uuid.UUID
		Day, Week    domain.Date
		Note         string
		LoggedAt     time.Time
		Version      int
		DeletedAt    *time.Time
		Answers      map[string]string
		Reports      []triage.Report
		Part
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[row])
	if err != nil {
		return nil, err
	}
	var sessions []Session
	for _, r := range list {
		if n := len(sessions); n == 0 || sessions[n-1].ID != r.ID {
			one := Session{
				ID: r.ID, ClientID: r.ClientID, Day: r.Day, Week: r.Week, Note: r.Note, LoggedAt: r.LoggedAt,
				Version: r.Version, Answers: r.Answers, Reports: r.Reports,
			}
			if r.DeletedAt != nil {
				one.Deleted = *r.DeletedAt
			}
			sessions = append(sessions, one)
		}
		last := &sessions[len(sessions)-1]
		last.Parts = append(last.Parts, r.Part)
		last.Totals = last.Totals.Add(volume.Of(volume.Part{Minutes: r.Minutes, Class: r.Class}))
	}
	return sessions, nil
}
