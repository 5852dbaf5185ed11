package store

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/activity"
	"brae/domain/intensity"
	"brae/domain/triage"
	"brae/domain/volume"
)

// SessionInput is a session as the client reports it. Its JSON form is what the
// id stands for: the same id with another body is refused.
type SessionInput struct {
	ID        uuid.UUID       `json:"id"` // made by the client's browser
	Day       domain.Date     `json:"day"`
	Note      string          `json:"note"`
	Parts     []PartInput     `json:"parts"`
	Reports   []triage.Report `json:"reports,omitempty"` // what the client ticked
	Confirmed bool            `json:"-"`                 // the person has said that the doubts are right
	Unread    domain.Problems `json:"-"`                 // what could not be read: refused, together with what the rules refuse
	Clock     volume.Clock    `json:"-"`                 // of a phone that kept the session until it had a connection
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
	Version  int               // raised by each change
	Deleted  time.Time         // zero if it is not
	Answers  map[string]string // yes or no, to questions that the triage asked
	Parts    []Part
	Reports  []triage.Report
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
func (in SessionInput) hash(client uuid.UUID) ([]byte, error) { return bodyHash(client, in) }

func bodyHash(client uuid.UUID, in any) ([]byte, error) {
	body, err := json.Marshal(in)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(append(client[:], body...))
	return sum[:], nil
}

// inOrder returns reports sorted, each once: ticking them in another order is the
// same.
func inOrder(reports []triage.Report) []triage.Report {
	return slices.Compact(slices.Sorted(slices.Values(reports)))
}

// LogSession stores a session of a client, once: sent again, it is found and
// returned as it is stored, whoever is faster, also when it was edited or deleted
// in the meantime. What was reported, and the numbers, are sorted at once; holds
// and the flag that follow are opened with it. Logging is never refused because
// of a hold.
//
// It returns [domain.Problems] for what is wrong, [domain.Doubts] for what has to
// be confirmed, and [domain.ErrConflict] if the id stands for another session.
// With any error, its Triage says so if the reports are an emergency all the same.
func (s *Store) LogSession(ctx context.Context, actor Actor, client uuid.UUID, in SessionInput) (LoggedSession, error) {
	in.Reports = inOrder(in.Reports)
	hash, err := in.hash(client)
	if err != nil {
		return LoggedSession{}, fmt.Errorf("log session: %w", err)
	}
	var logged LoggedSession
	err = s.change(ctx, actor, func(t *tx) error {
		var found *Client
		var stored *[]byte
		var alarm *Triage // an emergency of a form that was refused has been flagged
		var known background
		// The lock keeps the client's other logs, and so the weekly totals, in a row.
		readings := []reading{t.lockedClient(&found, client), bodyOf(&stored, in.ID)}
		if len(in.Reports) > 0 {
			readings = append(readings, reportOf(&alarm, client, in.alarmID(client)))
		}
		if err := t.read(ctx, append(readings, known.readings(t, client, in.ID)...)...); err != nil {
			return err
		}
		if found == nil {
			return pgx.ErrNoRows
		}
		c, err := t.mayChange(*found, nil, false)
		if err != nil {
			return err
		}
		if stored != nil {
			if !bytes.Equal(*stored, hash) {
				return domain.ErrConflict
			}
			if logged, err = t.logged(ctx, client, in.ID); err != nil {
				return err
			}
			logged.Again = true
			return errStoredBefore
		}
		if err := known.file.workOut(t); err != nil {
			return err
		}
		loggedOn, doubts := in.Clock.LoggedOn(in.Day, t.now, t.practice.Location, volume.PolicyFrom(t.settings))
		zones, err := known.zones(t)
		if err != nil {
			return err
		}
		parts, err := t.judge(c, in, zones, loggedOn, doubts)
		if err != nil {
			return err
		}
		if logged.Session, err = t.insertSession(ctx, client, in, parts, hash); err != nil {
			return err
		}
		known.count(logged.Session)
		if logged.Triage, err = t.sortSession(ctx, logged.Session, &known, alarm); err != nil {
			return err
		}
		return t.watchDrift(ctx, logged.Session)
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return LoggedSession{Triage: s.alarm(ctx, actor, client, in, err)}, fmt.Errorf("log session %s for client %s: %w", in.ID, client, err)
	}
	return logged, nil
}

// LoggedSession is a session as it is stored, with what it came to.
type LoggedSession struct {
	Session
	Triage Triage
	Again  bool // it was stored before; nothing was changed
}

var errStoredBefore = errors.New("stored before")

// bodyOf reads the hash of the body that an id stands for.
func bodyOf(hash **[]byte, id uuid.UUID) reading {
	return rowIfAny(hash, pgx.RowTo[[]byte], `SELECT body_hash FROM sessions WHERE id = $1`, id)
}

// judge checks what was reported and gives each part its classes, by the zones in
// force.
//
// The day is judged as on the day on which the session was logged; the zero Date
// leaves it as it is.
func (t *tx) judge(client Client, in SessionInput, zones Zones, loggedOn domain.Date, doubts domain.Problems) ([]Part, error) {
	policy := volume.PolicyFrom(t.settings)
	problems := maps.Clone(in.Unread)
	if !loggedOn.IsZero() {
		found, _ := errors.AsType[domain.Problems](volume.CheckDay(in.Day, loggedOn, t.today, policy))
		for field, sentence := range found {
			problems.Add(field, sentence)
		}
	}
	if in.ID == uuid.Nil {
		problems.Add("id", "The form was incomplete. Load the page again.")
	}
	if utf8.RuneCountInString(in.Note) > 2000 {
		problems.Add("note", "The note is too long. Use 2,000 characters at most.")
	}
	checkReports(&problems, in.Reports)
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
	long, err := volume.CheckSession(counted, policy)
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
	for field, sentence := range long {
		doubts.Add(field, sentence)
	}
	if !in.Confirmed {
		if err := domain.Doubts(doubts).Err(); err != nil {
			return nil, err
		}
	}
	return parts, nil
}

func partField(i int, field string) string { return fmt.Sprintf("parts[%d].%s", i, field) }

// insertSession writes a judged session and adds it to the totals of its week, at
// the end of the change. It returns the session as it will be read.
func (t *tx) insertSession(ctx context.Context, client uuid.UUID, in SessionInput, parts []Part, hash []byte) (Session, error) {
	s := Session{
		ID: in.ID, ClientID: client, Day: in.Day, Week: in.Day.Week(t.practice.WeekStart), Note: in.Note, LoggedAt: t.now, Version: 1,
		Answers: map[string]string{}, Parts: parts, Reports: notNil(in.Reports), Totals: totalsOf(parts),
	}
	t.later(`
		INSERT INTO sessions (id, client_id, day, week, note, body_hash, logged_at, logged_by, phone_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
		s.ID, client, s.Day, s.Week, s.Note, hash, s.LoggedAt, t.actor.ID, instant(in.Clock.Logged))
	insertBody(t.last, s.ID, parts, s.Reports)
	addTotals(t.last, client, s.Week, s.Totals)
	return s, t.audit(ctx, "session.log", client, "session/"+s.ID.String(), map[string]any{"parts": len(parts)})
}

// instant sends the zero instant as NULL.
func instant(at time.Time) *time.Time {
	if at.IsZero() {
		return nil
	}
	return &at
}

// insertBody writes what a session consists of.
func insertBody(batch *pgx.Batch, id uuid.UUID, parts []Part, reports []triage.Report) {
	for i, p := range parts {
		batch.Queue(`
			INSERT INTO session_parts (session_id, n, activity, minutes, class, safety, talk, effort, heart_rate)
			VALUES ($1, $2, $3, $4, $5, $6, nullif($7, ''), nullif($8::int, 0), nullif($9::int, 0))`,
			id, i+1, p.Activity, p.Minutes, p.Class, p.Safety, string(p.Talk), p.Effort, p.HeartRate)
	}
	for _, report := range reports {
		batch.Queue(`INSERT INTO session_reports (session_id, report) VALUES ($1, $2)`, id, string(report))
	}
}

// addTotals adds a session to the totals of its week.
func addTotals(batch *pgx.Batch, client uuid.UUID, week domain.Date, totals volume.Totals) {
	batch.Queue(`
		INSERT INTO week_totals (week, client_id, light, moderate, vigorous, sessions)
		VALUES ($1, $2, $3, $4, $5, 1)
		ON CONFLICT (week, client_id) DO UPDATE SET
			light = week_totals.light + excluded.light,
			moderate = week_totals.moderate + excluded.moderate,
			vigorous = week_totals.vigorous + excluded.vigorous,
			sessions = week_totals.sessions + 1`,
		week, client, totals.Light, totals.Moderate, totals.Vigorous)
}

// takeTotals takes a session out of the totals of its week. A week without a
// session has no row.
func takeTotals(batch *pgx.Batch, client uuid.UUID, week domain.Date, totals volume.Totals) {
	batch.Queue(`
		UPDATE week_totals SET light = light - $3, moderate = moderate - $4, vigorous = vigorous - $5, sessions = sessions - 1
		WHERE week = $1 AND client_id = $2`,
		week, client, totals.Light, totals.Moderate, totals.Vigorous)
	batch.Queue(`DELETE FROM week_totals WHERE week = $1 AND client_id = $2 AND sessions = 0`, week, client)
}

func totalsOf(parts []Part) volume.Totals {
	var totals volume.Totals
	for _, p := range parts {
		totals = totals.Add(volume.Of(volume.Part{Minutes: p.Minutes, Class: p.Class}))
	}
	return totals
}
