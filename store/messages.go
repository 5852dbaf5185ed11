package store

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/worklist"
)

// Message is a note from the practice to a client, about a week or one session of
// it, with the client's answer if there is one. Nothing of it is changed later.
type Message struct {
	ID          uuid.UUID
	Week        domain.Date   // first day of the week that it is about
	SessionID   uuid.NullUUID // of the session that it is about
	SessionDay  domain.Date
	Text        string // empty for the client once it is withdrawn
	SentAt      time.Time
	SentBy      string // name of the account
	SeenAt      *time.Time
	Answer      string
	AnsweredAt  *time.Time
	ReadAt      *time.Time // when the practice has read the answer
	WithdrawnAt *time.Time
	WithdrawnBy string
	Reason      string // of the withdrawal
}

// messageLength bounds a note and an answer, in characters.
const messageLength = 500

// MessageInput is a note to be sent. The id is made by who writes it, so that a
// note sent twice is there once.
type MessageInput struct {
	ID      uuid.UUID
	Session uuid.UUID // the nil id is about the present week
	Text    string
}

// textProblem reports what is wrong with a note or an answer.
func textProblem(text string) domain.Problems {
	var problems domain.Problems
	switch {
	case text == "":
		problems.Add("text", "Write something first.")
	case utf8.RuneCountInString(text) > messageLength:
		problems.Add("text", "This is too long. Use 500 characters at most.")
	}
	return problems
}

// SendMessage sends a note from the practice to a client. It returns
// [domain.Problems] for what is wrong, and [domain.ErrConflict] if the id stands for
// another note.
func (s *Store) SendMessage(ctx context.Context, actor Actor, client uuid.UUID, in MessageInput) error {
	in.Text = strings.TrimSpace(in.Text)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		if err := textProblem(in.Text).Err(); err != nil {
			return err
		}
		week := t.today.Week(t.practice.WeekStart)
		if in.Session != uuid.Nil {
			about, err := t.session(ctx, client, in.Session)
			if err != nil {
				return err
			}
			week = about.Week
		}
		var same bool
		err := t.QueryRow(ctx, `
			SELECT client_id = $2 AND session_id IS NOT DISTINCT FROM $3 AND text = $4 FROM messages WHERE id = $1`,
			in.ID, client, orNull(in.Session), in.Text).Scan(&same)
		switch {
		case err == nil && same:
			return errNothingToDo
		case err == nil:
			return domain.ErrConflict
		case !errors.Is(err, pgx.ErrNoRows):
			return err
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO messages (id, client_id, week, session_id, text, sent_at, sent_by) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
			in.ID, client, week, orNull(in.Session), in.Text, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "message.send", client, "message/"+in.ID.String(), nil)
	})
	if err != nil && !errors.Is(err, errNothingToDo) {
		return fmt.Errorf("send message to client %s: %w", client, err)
	}
	return nil
}

// WithdrawMessage takes a note back that was wrong: the client no longer sees its
// text, the practice does. It returns [domain.Problems] without a reason, and
// [domain.ErrConflict] if it was withdrawn before.
func (s *Store) WithdrawMessage(ctx context.Context, actor Actor, client, message uuid.UUID, reason string) error {
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		var problems domain.Problems
		reasonProblem(&problems, "reason", reason)
		if err := problems.Err(); err != nil {
			return err
		}
		if _, err := t.message(ctx, client, message); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO message_withdrawals (message_id, reason, at, by) VALUES ($1, $2, $3, $4)`,
			message, strings.TrimSpace(reason), t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "message.withdraw", client, "message/"+message.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("withdraw message %s: %w", message, err)
	}
	return nil
}

// AnswerMessage stores the client's one answer to a note. Sent again, it is there
// once. It returns [domain.Problems] for what is wrong, [domain.ErrConflict] if
// there is another answer, and [domain.ErrNotFound] for a note that is withdrawn.
func (s *Store) AnswerMessage(ctx context.Context, actor Actor, message uuid.UUID, text string) error {
	text = strings.TrimSpace(text)
	err := s.change(ctx, actor, func(t *tx) error {
		client, err := t.ownClient(ctx)
		if err != nil {
			return err
		}
		m, err := t.message(ctx, client, message)
		if err != nil {
			return err
		}
		switch {
		case m.WithdrawnAt != nil:
			return domain.ErrNotFound
		case m.AnsweredAt != nil && m.Answer == text:
			return errNothingToDo
		case m.AnsweredAt != nil:
			return domain.ErrConflict
		}
		if err := textProblem(text).Err(); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `INSERT INTO message_answers (message_id, text, at, by) VALUES ($1, $2, $3, $4)`, message, text, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "message.answer", client, "message/"+message.String(), nil)
	})
	if err != nil && !errors.Is(err, errNothingToDo) {
		return fmt.Errorf("answer message %s: %w", message, err)
	}
	return nil
}

// Messages returns the notes to a client, the newest first. To look at them is to
// see them: for the client the notes, for the practice the answers.
func (s *Store) Messages(ctx context.Context, actor Actor, client uuid.UUID) ([]Message, error) {
	var list []Message
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if _, err = t.lockClient(ctx, client, false); err != nil {
			return err
		}
		if list, err = t.messages(ctx, client, uuid.Nil); err != nil {
			return err
		}
		if err := t.see(ctx, client, list); err != nil {
			return err
		}
		return t.audit(ctx, "messages.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return nil, fmt.Errorf("messages of client %s: %w", client, err)
	}
	return list, nil
}

// see notes that the actor has seen what is new to them.
func (t *tx) see(ctx context.Context, client uuid.UUID, list []Message) error {
	for _, m := range list {
		switch {
		case !t.actor.Role.Staff() && m.SeenAt == nil && m.WithdrawnAt == nil:
			if _, err := t.Exec(ctx, `INSERT INTO message_views (message_id, seen_at) VALUES ($1, $2) ON CONFLICT DO NOTHING`, m.ID, t.now); err != nil {
				return err
			}
		case t.actor.Role.Staff() && m.AnsweredAt != nil && m.ReadAt == nil:
			if _, err := t.Exec(ctx, `INSERT INTO message_reads (message_id, at, by) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING`, m.ID, t.now, t.actor.ID); err != nil {
				return err
			}
			if err := t.audit(ctx, "message.read", client, "message/"+m.ID.String(), nil); err != nil {
				return err
			}
		}
	}
	return nil
}

func (t *tx) message(ctx context.Context, client, id uuid.UUID) (Message, error) {
	list, err := t.messages(ctx, client, id)
	if err == nil && len(list) == 0 {
		err = domain.ErrNotFound
	}
	if err != nil {
		return Message{}, err
	}
	return list[0], nil
}

// messages loads the notes to a client, the newest first, or one of them. The
// client gets no text that is withdrawn.
func (t *tx) messages(ctx context.Context, client, id uuid.UUID) ([]Message, error) {
	rows, _ := t.Query(ctx, `
		SELECT m.id, m.week, m.session_id, s.day AS session_day, m.text, m.sent_at, a.name AS sent_by, v.seen_at,
			coalesce(w.text, '') AS answer, w.at AS answered_at, r.at AS read_at, d.at AS withdrawn_at,
			coalesce(b.name, '') AS withdrawn_by, coalesce(d.reason, '') AS reason
		FROM messages m
		JOIN accounts a ON a.id = m.sent_by
		LEFT JOIN sessions s ON s.id = m.session_id
		LEFT JOIN message_views v ON v.message_id = m.id
		LEFT JOIN message_answers w ON w.message_id = m.id
		LEFT JOIN message_reads r ON r.message_id = m.id
		LEFT JOIN message_withdrawals d ON d.message_id = m.id
		LEFT JOIN accounts b ON b.id = d.by
		WHERE m.client_id = @client AND (@id::uuid IS NULL OR m.id = @id)
		ORDER BY m.sent_at DESC, m.id DESC`, pgx.NamedArgs{"client": client, "id": orNull(id)})
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[Message])
	if !t.actor.Role.Staff() {
		for i := range list {
			if list[i].WithdrawnAt != nil {
				list[i].Text, list[i].Reason = "", ""
			}
		}
	}
	return list, err
}

// lastMessage returns the newest note that is not withdrawn; nil for none.
func (t *tx) lastMessage(ctx context.Context, client uuid.UUID) (*Message, error) {
	list, err := t.messages(ctx, client, uuid.Nil)
	for _, m := range list {
		if m.WithdrawnAt == nil {
			return &m, err
		}
	}
	return nil, err
}

// answerItems are the answers that nobody of the practice has read.
func (t *tx) answerItems(ctx context.Context, clients map[uuid.UUID]listed) ([]WorklistItem, error) {
	rows, _ := t.Query(ctx, `
		SELECT c.id, min(w.at) AS at, count(*) AS n
		FROM messages m JOIN message_answers w ON w.message_id = m.id JOIN clients c ON c.id = m.client_id
		WHERE NOT EXISTS (SELECT FROM message_reads WHERE message_id = m.id) AND c.closed_at IS NULL AND `+seen+`
		GROUP BY c.id`, t.actor.args(nil))
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[struct {
		ID uuid.UUID
		At time.Time
		N  int
	}])
	var items []WorklistItem
	for _, a := range list {
		items = append(items, clients[a.ID].item(worklist.OfAnswers(a.N, t.today.DaysSince(domain.DateOf(a.At, t.practice.Location)))))
	}
	return items, err
}
