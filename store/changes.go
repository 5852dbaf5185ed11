package store

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/triage"
)

// SessionChanged is the refusal of a change of a session that somebody else has
// changed in the meantime. It is a [domain.ErrConflict].
type SessionChanged struct {
	Now LoggedSession // as it stands
}

func (e *SessionChanged) Error() string {
	return fmt.Sprintf("session %s is at version %d", e.Now.ID, e.Now.Version)
}

// Unwrap makes it a conflict.
func (e *SessionChanged) Unwrap() error { return domain.ErrConflict }

// Change is what somebody did to a session.
type Change string

// The changes of a session.
const (
	Edited   Change = "edit"
	Answered Change = "answer"
	Deleted  Change = "delete"
	Restored Change = "restore"
)

// SessionBody is what a session consisted of at one version, with the classes
// that the rules gave it then.
type SessionBody struct {
	Day     domain.Date     `json:"day"`
	Note    string          `json:"note"`
	Parts   []Part          `json:"parts"`
	Reports []triage.Report `json:"reports"`
}

// Revision is a version of a session that another one has taken the place of.
type Revision struct {
	Version    int
	Body       SessionBody
	Change     Change // what ended it
	Reason     string
	ReplacedAt time.Time
	ReplacedBy string // name of the account
}

// Body is what the session consists of.
func (s Session) Body() SessionBody {
	return SessionBody{Day: s.Day, Note: s.Note, Parts: s.Parts, Reports: append([]triage.Report{}, s.Reports...)}
}

// EditSession puts a session right. What stood before is kept; the session is
// judged and sorted anew, and the totals of its weeks follow. Holds and flags of
// before stay. The version is that of the session as it was shown: sent again, the
// same edit changes nothing more; if somebody else has changed the session since,
// the error is a [SessionChanged].
//
// It returns [domain.Problems] and [domain.Doubts] as LogSession does.
func (s *Store) EditSession(ctx context.Context, actor Actor, client, id uuid.UUID, version int, in SessionInput, reason string) (LoggedSession, error) {
	in.ID, in.Reports = id, inOrder(in.Reports)
	logged, err := s.changeSession(ctx, actor, client, id, func(t *tx, c Client, now Session) error {
		if now.Version != version {
			if now.Version == version+1 && now.Deleted.IsZero() && now.same(in) {
				return errStoredBefore
			}
			return errChanged
		}
		if !now.Deleted.IsZero() {
			return errChanged
		}
		if in.Unread == nil && now.same(in) {
			return errStoredBefore
		}
		asked := in
		if utf8.RuneCountInString(reason) > 500 {
			asked.Unread = maps.Clone(in.Unread)
			asked.Unread.Add("reason", "The reason is too long. Use 500 characters at most.")
		}
		loggedOn := t.today
		if in.Day == now.Day {
			loggedOn = domain.Date{} // an old session may be put right, and stay where it is
		}
		known, err := t.background(ctx, client, id)
		if err != nil {
			return err
		}
		zones, err := known.zones(t)
		if err != nil {
			return err
		}
		parts, err := t.judge(c, asked, zones, loggedOn, nil)
		if err != nil {
			return err
		}
		answers := now.Answers
		if !sameParts(now.Parts, in.Parts) { // they were about other numbers
			answers = maps.Clone(answers)
			delete(answers, "check_reading")
			delete(answers, "talk_or_heart")
		}
		return t.rewrite(ctx, now, Edited, reason, in, parts, answers)
	})
	if err != nil {
		return logged, fmt.Errorf("edit session %s of client %s: %w", id, client, err)
	}
	return logged, nil
}

// AnswerSession notes the answers to the questions that the triage of a session
// asked, yes or no by their code, and sorts it anew with the reports that a yes
// stands for. Answered before, it changes nothing.
func (s *Store) AnswerSession(ctx context.Context, actor Actor, client, id uuid.UUID, answers map[string]string) (LoggedSession, error) {
	logged, err := s.changeSession(ctx, actor, client, id, func(t *tx, _ Client, now Session) error {
		sorted, err := t.triageOf(ctx, id)
		if err != nil {
			return err
		}
		all := maps.Clone(now.Answers)
		in := SessionInput{ID: id, Day: now.Day, Note: now.Note, Reports: now.Reports}
		for _, q := range sorted.Assessment.Questions {
			answer := answers[q.Code]
			if all[q.Code] != "" || answer != "yes" && answer != "no" {
				continue
			}
			all[q.Code] = answer
			if answer == "yes" && q.Report != "" {
				in.Reports = append(slices.Clone(in.Reports), q.Report)
			}
		}
		if len(all) == len(now.Answers) || !now.Deleted.IsZero() {
			return errStoredBefore
		}
		in.Reports = inOrder(in.Reports)
		return t.rewrite(ctx, now, Answered, "", in, now.Parts, all)
	})
	if err != nil {
		return logged, fmt.Errorf("answers to session %s of client %s: %w", id, client, err)
	}
	return logged, nil
}

// DeleteSession takes a session away. It stays in the record, where staff see it,
// and can be restored; holds and flags that it led to stay. The version is as of
// EditSession.
func (s *Store) DeleteSession(ctx context.Context, actor Actor, client, id uuid.UUID, version int, reason string) (LoggedSession, error) {
	return s.away(ctx, actor, client, id, version, Deleted, reason)
}

// RestoreSession brings a deleted session back as it was.
func (s *Store) RestoreSession(ctx context.Context, actor Actor, client, id uuid.UUID, version int) (LoggedSession, error) {
	return s.away(ctx, actor, client, id, version, Restored, "")
}

func (s *Store) away(ctx context.Context, actor Actor, client, id uuid.UUID, version int, change Change, reason string) (LoggedSession, error) {
	logged, err := s.changeSession(ctx, actor, client, id, func(t *tx, _ Client, now Session) error {
		if now.Deleted.IsZero() == (change == Restored) {
			return errStoredBefore // done before
		}
		if now.Version != version {
			return errChanged
		}
		reason = strings.TrimSpace(reason)
		if utf8.RuneCountInString(reason) > 500 {
			return domain.Problems{"reason": "The reason is too long. Use 500 characters at most."}
		}
		batch := &pgx.Batch{}
		t.revise(batch, now, change, reason)
		if change == Deleted {
			batch.Queue(`UPDATE sessions SET version = version + 1, deleted_at = $2, deleted_by = $3 WHERE id = $1`, id, t.now, t.actor.ID)
			takeTotals(batch, client, now.Week, now.Totals)
		} else {
			batch.Queue(`UPDATE sessions SET version = version + 1, deleted_at = NULL, deleted_by = NULL WHERE id = $1`, id)
			addTotals(batch, client, now.Week, now.Totals)
		}
		if err := t.SendBatch(ctx, batch).Close(); err != nil {
			return err
		}
		if change == Restored { // what it reports counts again for the days to come
			restored, err := t.session(ctx, client, id)
			if err != nil {
				return err
			}
			before, err := t.triageOf(ctx, id)
			if err != nil {
				return err
			}
			if err := t.sortAgain(ctx, restored, &before); err != nil {
				return err
			}
		}
		return t.audit(ctx, "session."+string(change), client, "session/"+id.String(), map[string]any{"version": now.Version})
	})
	if err != nil {
		return logged, fmt.Errorf("%s session %s of client %s: %w", change, id, client, err)
	}
	return logged, nil
}

var errChanged = errors.New("changed in the meantime")

// changeSession locks a client and one of their sessions for a change, and
// returns the session as it is afterwards.
func (s *Store) changeSession(ctx context.Context, actor Actor, client, id uuid.UUID, fn func(*tx, Client, Session) error) (LoggedSession, error) {
	var logged LoggedSession
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, false)
		if err != nil {
			return err
		}
		now, err := t.session(ctx, client, id)
		if err != nil {
			return err
		}
		err = fn(t, c, now)
		if err != nil && !errors.Is(err, errStoredBefore) && !errors.Is(err, errChanged) {
			return err
		}
		if failed := t.flush(ctx); failed != nil {
			return failed
		}
		var load error
		if logged, load = t.logged(ctx, client, id); load != nil {
			return load
		}
		logged.Again = err != nil
		return err
	})
	switch {
	case errors.Is(err, errChanged):
		return LoggedSession{}, &SessionChanged{logged}
	case errors.Is(err, errStoredBefore):
		return logged, nil
	}
	return logged, err
}

// revise keeps the version of a session that is about to be replaced.
func (t *tx) revise(batch *pgx.Batch, now Session, change Change, reason string) {
	batch.Queue(`
		INSERT INTO session_revisions (session_id, version, body, change, reason, replaced_at, replaced_by)
		VALUES ($1, $2, $3, $4, $5, $6, $7)`,
		now.ID, now.Version, now.Body(), string(change), strings.TrimSpace(reason), t.now, t.actor.ID)
}

// rewrite puts another version in the place of a session, moves its minutes to
// the totals where they belong, and sorts it.
func (t *tx) rewrite(ctx context.Context, now Session, change Change, reason string, in SessionInput, parts []Part, answers map[string]string) error {
	before, err := t.triageOf(ctx, now.ID)
	if err != nil {
		return err
	}
	week := in.Day.Week(t.practice.WeekStart)
	batch := &pgx.Batch{}
	t.revise(batch, now, change, reason)
	takeTotals(batch, now.ClientID, now.Week, now.Totals)
	batch.Queue(`
		UPDATE sessions SET day = $2, week = $3, note = $4, answers = $5, version = version + 1 WHERE id = $1`,
		now.ID, in.Day, week, in.Note, answers)
	batch.Queue(`DELETE FROM session_parts WHERE session_id = $1`, now.ID)
	batch.Queue(`DELETE FROM session_reports WHERE session_id = $1`, now.ID)
	insertBody(batch, now.ID, parts, in.Reports)
	addTotals(batch, now.ClientID, week, totalsOf(parts))
	if err := t.SendBatch(ctx, batch).Close(); err != nil {
		return err
	}
	next, err := t.session(ctx, now.ClientID, now.ID)
	if err != nil {
		return err
	}
	if err := t.sortAgain(ctx, next, &before); err != nil {
		return err
	}
	return t.audit(ctx, "session."+string(change), now.ClientID, "session/"+now.ID.String(), map[string]any{"version": now.Version})
}

// same reports whether a session is as an input says.
func (s Session) same(in SessionInput) bool {
	return s.Day == in.Day && s.Note == in.Note && slices.Equal(s.Reports, in.Reports) && sameParts(s.Parts, in.Parts)
}

func sameParts(parts []Part, in []PartInput) bool {
	return slices.EqualFunc(parts, in, func(p Part, q PartInput) bool {
		return q == PartInput{Activity: p.Activity, Minutes: p.Minutes, Talk: p.Talk, Effort: p.Effort, HeartRate: p.HeartRate}
	})
}

// revisions returns what stood before in a session, the newest first.
func (t *tx) revisions(ctx context.Context, session uuid.UUID) ([]Revision, error) {
	rows, _ := t.Query(ctx, `
		SELECT r.version, r.body, r.change, r.reason, r.replaced_at, a.name AS replaced_by
		FROM session_revisions r JOIN accounts a ON a.id = r.replaced_by
		WHERE r.session_id = $1 ORDER BY r.version DESC`, session)
	return pgx.CollectRows(rows, pgx.RowToStructByName[Revision])
}
