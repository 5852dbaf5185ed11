package store

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/intake"
	"brae/domain/source"
)

// Answers are what was typed into the intake, by the name of the field.
type Answers map[string]string

// Draft is an intake under way.
type Draft struct {
	ClientID uuid.UUID
	Answers  Answers
	Version  int // 0 while nothing is saved; raised by each save
	SavedAt  time.Time
	SavedBy  string // name of the account

	Settings source.Values  `db:"-"` // of the practice, with which the answers are read
	Outlook  intake.Outlook `db:"-"` // what it comes to so far
	Before   intake.Outlook `db:"-"` // what it came to before the last save
	Old      Answers        `db:"-"` // of the screening in use; nil before the first
	OldOn    domain.Date    `db:"-"`
	Consents []Consent      `db:"-"` // all, the newest first

	// For who saves on an old version: what stood there in that version, and who
	// has changed it since, by field.
	Base      Answers           `db:"-"`
	ChangedBy map[string]string `db:"-"`
}

// draftBytes bounds what a draft may hold.
const draftBytes = 64 << 10

// IntakeDraft returns the intake under way of a client, or an empty one that
// starts from the answers of the last screening, with what it comes to so far.
func (s *Store) IntakeDraft(ctx context.Context, actor Actor, client uuid.UUID) (Client, Draft, error) {
	return s.intakeDraft(ctx, actor, client, -1)
}

// IntakeSince is IntakeDraft for who has typed on an older version of it: it also
// says what stood there then, and who has changed it since.
func (s *Store) IntakeSince(ctx context.Context, actor Actor, client uuid.UUID, version int) (Client, Draft, error) {
	return s.intakeDraft(ctx, actor, client, version)
}

func (s *Store) intakeDraft(ctx context.Context, actor Actor, client uuid.UUID, version int) (Client, Draft, error) {
	var c Client
	var d Draft
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if c, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		if d, err = t.draft(ctx, client); err != nil {
			return err
		}
		d.Settings = t.settings
		newest, err := t.newestScreening(ctx, client)
		if err != nil {
			return err
		}
		if newest != nil {
			d.Old, d.OldOn = newest.Answers, newest.DecidedOn
		}
		if d.Consents, err = t.consents(ctx, client); err != nil {
			return err
		}
		if version < 0 {
			version = d.Version - 1
		}
		if d.Base, d.ChangedBy, err = t.answersAt(ctx, d, version); err != nil {
			return err
		}
		if d.Outlook, d.Before, err = t.outlooks(ctx, c, d.Answers, d.Base); err != nil {
			return err
		}
		return t.audit(ctx, "intake.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return Client{}, Draft{}, fmt.Errorf("intake draft of client %s: %w", client, err)
	}
	return c, d, nil
}

// outlooks tells what two sets of answers come to.
func (t *tx) outlooks(ctx context.Context, c Client, now, before Answers) (a, b intake.Outlook, err error) {
	look := func(answers Answers) (intake.Outlook, error) {
		record, problems := intake.Read(answers, t.settings)
		in, err := t.screeningInput(ctx, c, record)
		if err != nil {
			return intake.Outlook{}, err
		}
		return intake.Look(record, problems, in, t.settings), nil
	}
	if a, err = look(now); err != nil || maps.Equal(now, before) {
		return a, a, err
	}
	b, err = look(before)
	return a, b, err
}

func (t *tx) draft(ctx context.Context, client uuid.UUID) (Draft, error) {
	rows, _ := t.Query(ctx, `
		SELECT d.client_id, d.answers, d.version, d.saved_at, a.name AS saved_by
		FROM intake_drafts d JOIN accounts a ON a.id = d.saved_by
		WHERE d.client_id = $1`, client)
	d, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Draft])
	if !errors.Is(err, pgx.ErrNoRows) {
		return d, err
	}
	rows, _ = t.Query(ctx, `
		SELECT answers FROM screenings WHERE client_id = $1 ORDER BY created_at DESC LIMIT 1`, client)
	answers, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[Answers])
	if errors.Is(err, pgx.ErrNoRows) {
		return Draft{ClientID: client, Answers: Answers{}}, nil
	}
	for field := range answers {
		if intake.TakenAnew(field) {
			delete(answers, field)
		}
	}
	return Draft{ClientID: client, Answers: answers}, err
}

// answersAt takes back the saves after a version of the draft under way, and says
// who has made them, by field.
func (t *tx) answersAt(ctx context.Context, d Draft, version int) (Answers, map[string]string, error) {
	answers, by := maps.Clone(d.Answers), map[string]string{}
	if version < 0 || version >= d.Version {
		return answers, by, nil
	}
	rows, _ := t.Query(ctx, `
		SELECT s.before, a.name FROM intake_saves s JOIN accounts a ON a.id = s.saved_by
		WHERE s.client_id = $1 AND s.version > $2
			AND s.saved_at > coalesce((SELECT max(created_at) FROM screenings WHERE client_id = $1), '-infinity')
		ORDER BY s.version DESC, s.id DESC`, d.ClientID, version)
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		Before Answers
		By     string
	}])
	for _, save := range list { // the newest first
		for field, value := range save.Before {
			answers[field] = value
			if by[field] == "" {
				by[field] = save.By
			}
		}
	}
	return answers, by, err
}

// SaveIntake adds what was typed in one step to the intake under way and returns
// its new version. The version is that of the draft the step was shown with: if
// somebody has saved other answers to the same step since, it returns
// [domain.ErrConflict] and saves nothing; what they saved in other steps stays.
// What a practitioner vouches for is signed with their name.
func (s *Store) SaveIntake(ctx context.Context, actor Actor, client uuid.UUID, version int, step Answers) (int, error) {
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockBeside(ctx, client, true); err != nil {
			return err
		}
		d, err := t.draft(ctx, client)
		if err != nil {
			return err
		}
		if d.Version != version {
			if err := t.mayRebase(ctx, d, version, step); err != nil {
				return err
			}
		}
		before, after := Answers{}, Answers{}
		if step, err = t.sign(ctx, d.Answers, step); err != nil {
			return err
		}
		for field, value := range step {
			if old, ok := d.Answers[field]; !ok || old != value {
				before[field], after[field] = old, value
			}
		}
		maps.Copy(d.Answers, step)
		size := 0
		for field, value := range d.Answers {
			size += len(field) + len(value)
		}
		if size > draftBytes {
			return domain.Problems{"intake": "This is more text than an intake can hold. Shorten it."}
		}
		version = d.Version + 1
		if _, err := t.Exec(ctx, `
			INSERT INTO intake_drafts (client_id, answers, version, saved_at, saved_by) VALUES ($1, $2, $3, $4, $5)
			ON CONFLICT (client_id) DO UPDATE SET
				answers = excluded.answers, version = excluded.version, saved_at = excluded.saved_at, saved_by = excluded.saved_by`,
			client, d.Answers, version, t.now, actor.ID); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO intake_saves (id, client_id, version, before, after, saved_at, saved_by) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
			newID(), client, version, before, after, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "intake.save", client, "client/"+client.String(), map[string]any{"version": version})
	})
	if err != nil {
		return 0, fmt.Errorf("save intake of client %s: %w", client, err)
	}
	return version, nil
}

// mayRebase returns [domain.ErrConflict] unless everything that was saved since a
// version is in other fields than those of the step, or the same.
func (t *tx) mayRebase(ctx context.Context, d Draft, version int, step Answers) error {
	if version < 0 || version > d.Version {
		return domain.ErrConflict
	}
	_, changed, err := t.answersAt(ctx, d, version)
	if err != nil {
		return err
	}
	for field, value := range step {
		if changed[field] != "" && d.Answers[field] != value {
			return domain.ErrConflict
		}
	}
	return nil
}

// sign returns the step with the name of the actor beside what they vouch for.
// Nobody signs for another: a name that was sent is not taken.
func (t *tx) sign(ctx context.Context, old, step Answers) (Answers, error) {
	step = maps.Clone(step)
	signed := intake.SignedFields()
	for _, by := range signed {
		delete(step, by)
	}
	name := ""
	for field, by := range signed {
		value, ok := step[field]
		if !ok || value == old[field] {
			continue
		}
		if name == "" {
			if err := t.QueryRow(ctx, `SELECT name FROM accounts WHERE id = $1`, t.actor.ID).Scan(&name); err != nil {
				return nil, err
			}
		}
		if value != "" {
			step[by] = name
		}
	}
	return step, nil
}
