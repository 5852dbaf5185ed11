package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/activity"
	"brae/domain/intensity"
	"brae/domain/volume"
)

// SessionInput is a session as the client reports it. Its JSON form is what the
// id stands for: the same id with another body is refused.
type SessionInput struct {
	ID        uuid.UUID   `json:"id"` // made by the client's browser
	Day       domain.Date `json:"day"`
	Note      string      `json:"note"`
	Parts     []PartInput `json:"parts"`
	Confirmed bool        `json:"-"` // the person has said that the doubts are right
}

// PartInput is one stretch of a session.
type PartInput struct {
	Activity  string         `json:"activity"` // a code of package activity
	Minutes   int            `json:"minutes"`
	Talk      intensity.Talk `json:"talk"`
	Effort    int            `json:"effort"`     // perceived exertion 6 to 20; 0 if not asked
	HeartRate int            `json:"heart_rate"` // beats per minute, steady part; 0 if not measured
}

// Session is a logged session.
type Session struct {
	ID       uuid.UUID
	ClientID uuid.UUID
	Day      domain.Date
	Week     domain.Date // first day of the week it counts to
	Note     string
	LoggedAt time.Time
	Parts    []Part
	Totals   volume.Totals
}

// Part is one stretch of a logged session, with the classes the rules gave it.
type Part struct {
	Activity  string
	Minutes   int
	Class     intensity.Class // that its minutes count as
	Safety    intensity.Class // the hardest that any evidence says
	Talk      intensity.Talk
	Effort    int
	HeartRate int
}

// hash returns what tells one body from another.
func (in SessionInput) hash(client uuid.UUID) ([]byte, error) {
	body, err := json.Marshal(in)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(append(client[:], body...))
	return sum[:], nil
}

// LogSession stores a session of a client, once: sent again, it is found and
// returned as it was stored, whoever is faster. Logging is never refused because
// of a hold.
//
// It returns [domain.Problems] for what is wrong, [domain.Doubts] for what has to
// be confirmed, and [domain.ErrConflict] if the id stands for another session.
func (s *Store) LogSession(ctx context.Context, actor Actor, client uuid.UUID, in SessionInput) (LoggedSession, error) {
	hash, err := in.hash(client)
	if err != nil {
		return LoggedSession{}, fmt.Errorf("log session: %w", err)
	}
	var logged LoggedSession
	err = s.change(ctx, actor, func(t *tx) error {
		// The lock keeps the client's other logs, and so the weekly totals, in a row.
		c, err := t.lockClient(ctx, client, false)
		if err != nil {
			return err
		}
		ceiling, err := t.ceiling(ctx, client)
		if err != nil {
			return err
		}
		switch stored, err := t.sessionHash(ctx, in.ID); {
		case err == nil && bytes.Equal(stored, hash):
			if logged, err = t.logged(ctx, client, in.ID, ceiling); err != nil {
				return err
			}
			return errStoredBefore
		case err == nil:
			return domain.ErrConflict
		case !errors.Is(err, pgx.ErrNoRows):
			return err
		}
		parts, err := t.judge(ctx, c, in)
		if err != nil {
			return err
		}
		if err := t.insertSession(ctx, client, in, parts, hash); err != nil {
			return err
		}
		logged, err = t.logged(ctx, client, in.ID, ceiling)
		return err
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return LoggedSession{}, fmt.Errorf("log session %s for client %s: %w", in.ID, client, err)
	}
	return logged, nil
}

// LoggedSession is a session as it was stored, and whether it was harder than
// the client is allowed now.
type LoggedSession struct {
	Session
	OverCeiling bool
}

func (t *tx) logged(ctx context.Context, client, id uuid.UUID, ceiling intensity.Class) (LoggedSession, error) {
	session, err := t.session(ctx, client, id)
	if err != nil {
		return LoggedSession{}, err
	}
	l := LoggedSession{Session: session}
	for _, p := range session.Parts {
		l.OverCeiling = l.OverCeiling || p.Safety > ceiling && p.Safety > intensity.Light
	}
	return l, nil
}

var errStoredBefore = errors.New("stored before")

func (t *tx) sessionHash(ctx context.Context, id uuid.UUID) ([]byte, error) {
	rows, _ := t.Query(ctx, `SELECT body_hash FROM sessions WHERE id = $1`, id)
	return pgx.CollectExactlyOneRow(rows, pgx.RowTo[[]byte])
}

// judge checks what was reported and gives each part its classes, by the zones
// of the prescription in force.
func (t *tx) judge(ctx context.Context, client Client, in SessionInput) ([]Part, error) {
	policy := volume.PolicyFrom(t.settings)
	problems, _ := errors.AsType[domain.Problems](volume.CheckDay(in.Day, t.today, policy))
	if in.ID == uuid.Nil {
		problems.Add("id", "The form was incomplete. Load the page again.")
	}
	if utf8.RuneCountInString(in.Note) > 2000 {
		problems.Add("note", "The note is too long. Use 2,000 characters at most.")
	}
	zones, err := t.zonesInForce(ctx, client.ID)
	if err != nil {
		return nil, err
	}
	parts := make([]Part, len(in.Parts))
	counted := make([]volume.Part, len(in.Parts))
	for i, p := range in.Parts {
		parts[i] = Part{Activity: p.Activity, Minutes: p.Minutes, Talk: p.Talk, Effort: p.Effort, HeartRate: p.HeartRate}
		if _, err := activity.Find(p.Activity); err != nil {
			problems.Add(partField(i, "activity"), "Choose what you did.")
		}
		judged, err := judgePart(p, client.BirthDate.AgeOn(t.today), zones, t.settings)
		if found, ok := errors.AsType[domain.Problems](err); ok {
			for field, sentence := range found {
				problems.Add(partField(i, field), sentence)
			}
		} else if err != nil {
			return nil, err
		}
		if err == nil && judged.ClassForVolume == intensity.None {
			problems.Add(partField(i, "talk"), "Say how well you could talk. It tells how hard it was.")
		}
		parts[i].Class, parts[i].Safety = judged.ClassForVolume, judged.ClassForSafety
		counted[i] = volume.Part{Minutes: p.Minutes, Class: judged.ClassForVolume}
	}
	doubts, err := volume.CheckSession(counted, policy)
	found, isProblems := errors.AsType[domain.Problems](err)
	if err != nil && !isProblems {
		return nil, err
	}
	for field, sentence := range found {
		problems.Add(field, sentence)
	}
	if err := problems.Err(); err != nil {
		return nil, err
	}
	if !in.Confirmed {
		if err := domain.Doubts(doubts).Err(); err != nil {
			return nil, err
		}
	}
	return parts, nil
}

func partField(i int, field string) string { return fmt.Sprintf("parts[%d].%s", i, field) }

// insertSession writes a judged session and adds it to the totals of its week.
func (t *tx) insertSession(ctx context.Context, client uuid.UUID, in SessionInput, parts []Part, hash []byte) error {
	week := in.Day.Week(t.practice.WeekStart)
	totals := totalsOf(parts)
	batch := &pgx.Batch{}
	batch.Queue(`
		INSERT INTO sessions (id, client_id, day, week, note, body_hash, logged_at, logged_by)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		in.ID, client, in.Day, week, in.Note, hash, t.now, t.actor.ID)
	for i, p := range parts {
		batch.Queue(`
			INSERT INTO session_parts (session_id, n, activity, minutes, class, safety, talk, effort, heart_rate)
			VALUES ($1, $2, $3, $4, $5, $6, nullif($7, ''), nullif($8::int, 0), nullif($9::int, 0))`,
			in.ID, i+1, p.Activity, p.Minutes, p.Class, p.Safety, string(p.Talk), p.Effort, p.HeartRate)
	}
	batch.Queue(`
		INSERT INTO week_totals (week, client_id, light, moderate, vigorous, sessions)
		VALUES ($1, $2, $3, $4, $5, 1)
		ON CONFLICT (week, client_id) DO UPDATE SET
			light = week_totals.light + excluded.light,
			moderate = week_totals.moderate + excluded.moderate,
			vigorous = week_totals.vigorous + excluded.vigorous,
			sessions = week_totals.sessions + 1`,
		week, client, totals.Light, totals.Moderate, totals.Vigorous)
	if err := t.SendBatch(ctx, batch).Close(); err != nil {
		return err
	}
	return t.audit(ctx, "session.log", client, "session/"+in.ID.String(), map[string]any{"parts": len(parts)})
}

func totalsOf(parts []Part) volume.Totals {
	var totals volume.Totals
	for _, p := range parts {
		totals = totals.Add(volume.Of(volume.Part{Minutes: p.Minutes, Class: p.Class}))
	}
	return totals
}

// Session returns one session of a client whose record the actor may see.
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

// sessionsWhere loads sessions with their parts, the newest day first.
func sessionsWhere(ctx context.Context, q querier, where string, args pgx.NamedArgs) ([]Session, error) {
	rows, _ := q.Query(ctx, `
		SELECT s.id, s.client_id, s.day, s.week, s.note, s.logged_at,
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
		Part
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[row])
	if err != nil {
		return nil, err
	}
	var sessions []Session
	for _, r := range list {
		if n := len(sessions); n == 0 || sessions[n-1].ID != r.ID {
			sessions = append(sessions, Session{ID: r.ID, ClientID: r.ClientID, Day: r.Day, Week: r.Week, Note: r.Note, LoggedAt: r.LoggedAt})
		}
		last := &sessions[len(sessions)-1]
		last.Parts = append(last.Parts, r.Part)
		last.Totals = last.Totals.Add(volume.Of(volume.Part{Minutes: r.Minutes, Class: r.Class}))
	}
	return sessions, nil
}
