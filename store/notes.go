package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/worklist"
)

// NoteKinds are the kinds of clinical notes: a visit, a call, a visit that was
// called off or missed, or anything else.
var NoteKinds = []string{"visit", "call", "cancelled", "missed", "other"}

// NoteInput is a note as its author types it.
type NoteInput struct {
	ID      uuid.UUID // made with the form
	Version int       // that was shown; 0 for a new note
	Kind    string
	EventOn domain.Date // the day it is about
	Body    string
}

// Note is a clinical note. Its text is shown to its author alone until it is
// signed.
type Note struct {
	ID         uuid.UUID
	Kind       string
	EventOn    domain.Date
	Body       string
	Version    int
	AuthorID   uuid.UUID
	Author     string // name of the account
	EnteredAt  time.Time
	SavedAt    time.Time
	SignedAt   *time.Time // nil while it is a draft
	SignedName string     // name and credential of the author, as signed
	Addenda    []Addendum `db:"-"` // in the order of time
}

// Addendum is what was added to a note after it was signed.
type Addendum struct {
	NoteID    uuid.UUID
	Body      string
	Reason    string
	EnteredAt time.Time
	Name      string // of the account, as it was then
}

// NoteFile is what the page of a client's notes shows.
type NoteFile struct {
	Client     Client
	Today      domain.Date
	Notes      []Note // the newest event first; drafts of others without their text
	Credential string // of the actor's account, or that they have signed with last; "" for none
}

// longestNote bounds a note and an addendum, in characters.
const longestNote = 20_000

// NoteFile returns the notes of a client.
func (s *Store) NoteFile(ctx context.Context, actor Actor, client uuid.UUID) (NoteFile, error) {
	var f NoteFile
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if f.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		f.Today = t.today
		if f.Notes, err = t.notes(ctx, client); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `
			SELECT coalesce((SELECT n.signed_name FROM notes n WHERE n.author = a.id AND n.signed_at IS NOT NULL ORDER BY n.signed_at DESC LIMIT 1), ''),
				a.name, a.title, a.registration
			FROM accounts a WHERE a.id = $1`, actor.ID)
		last, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByPos[struct{ Signed, Name, Title, Registration string }])
		if err != nil {
			return err
		}
		f.Credential, _ = strings.CutPrefix(last.Signed, last.Name+", ")
		if f.Credential == last.Signed {
			f.Credential = ""
		}
		if last.Title != "" || last.Registration != "" { // the account says it
			f.Credential = strings.TrimSpace(domain.Signature(last.Title, "", last.Registration))
		}
		return t.audit(ctx, "notes.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return NoteFile{}, fmt.Errorf("notes of client %s: %w", client, err)
	}
	return f, nil
}

// notes returns the notes of a client with their addenda, the newest event first.
func (t *tx) notes(ctx context.Context, client uuid.UUID) ([]Note, error) {
	rows, _ := t.Query(ctx, `
		SELECT n.id, n.kind, n.event_on, CASE WHEN n.signed_at IS NOT NULL OR n.author = $2 THEN n.body ELSE '' END AS body, n.version,
			n.author AS author_id, a.name AS author, n.entered_at, n.saved_at, n.signed_at, n.signed_name
		FROM notes n JOIN accounts a ON a.id = n.author
		WHERE n.client_id = $1 AND n.discarded_at IS NULL
		ORDER BY n.event_on DESC, n.entered_at DESC, n.id`, client, t.actor.ID)
	notes, err := pgx.CollectRows(rows, pgx.RowToStructByName[Note])
	if err != nil {
		return nil, err
	}
	rows, _ = t.Query(ctx, `
		SELECT d.note_id, d.body, d.reason, d.entered_at, d.name FROM note_addenda d JOIN notes n ON n.id = d.note_id
		WHERE n.client_id = $1 ORDER BY d.entered_at, d.id`, client)
	addenda, err := pgx.CollectRows(rows, pgx.RowToStructByName[Addendum])
	for _, d := range addenda {
		i := slices.IndexFunc(notes, func(n Note) bool { return n.ID == d.NoteID })
		notes[i].Addenda = append(notes[i].Addenda, d)
	}
	return notes, err
}

// checkNote adds the problems of a note.
func (t *tx) checkNote(problems *domain.Problems, c Client, in NoteInput) {
	switch {
	case in.ID == uuid.Nil:
		problems.Add("id", "The form was incomplete. Load the page again.")
	case !slices.Contains(NoteKinds, in.Kind):
		problems.Add("kind", "Choose what it is about.")
	}
	switch {
	case in.EventOn.IsZero() || !in.EventOn.Valid():
		problems.Add("event_on", "Type the day it is about.")
	case in.EventOn.After(t.today):
		problems.Add("event_on", "This day is in the future.")
	case in.EventOn.Before(c.BirthDate):
		problems.Add("event_on", "This is before the client was born.")
	}
	if utf8.RuneCountInString(in.Body) > longestNote {
		problems.Add("body", "Use 20,000 characters at most. Sign this note and begin another one.")
	}
}

// SaveNote keeps a note as a draft and returns its version. It returns
// [domain.Problems] by field, [domain.ErrForbidden] for a note of somebody else,
// and [domain.ErrConflict] if it was saved, signed or discarded since.
func (s *Store) SaveNote(ctx context.Context, actor Actor, client uuid.UUID, in NoteInput) (int, error) {
	version := 0
	err := s.change(ctx, actor, func(t *tx) (err error) {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		var problems domain.Problems
		if t.checkNote(&problems, c, in); problems != nil {
			return problems
		}
		version, err = t.saveNote(ctx, client, in)
		return err
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return 0, fmt.Errorf("save note of client %s: %w", client, err)
	}
	return version, nil
}

func (t *tx) saveNote(ctx context.Context, client uuid.UUID, in NoteInput) (int, error) {
	rows, _ := t.Query(ctx, `
		SELECT client_id, author, version, kind, event_on, body, signed_at IS NOT NULL OR discarded_at IS NOT NULL AS over FROM notes WHERE id = $1`, in.ID)
	old, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
		ClientID, Author uuid.UUID
		Version          int
		Kind             string
		EventOn          domain.Date
		Body             string
		Over             bool
	}])
	if errors.Is(err, pgx.ErrNoRows) && in.Version == 0 {
		if _, err := t.Exec(ctx, `
			INSERT INTO notes (id, client_id, kind, event_on, body, version, author, entered_at, saved_at) VALUES ($1, $2, $3, $4, $5, 1, $6, $7, $7)`,
			in.ID, client, in.Kind, in.EventOn, in.Body, t.actor.ID, t.now); err != nil {
			return 0, err
		}
		return 1, t.audit(ctx, "note.save", client, "note/"+in.ID.String(), map[string]any{"version": 1})
	}
	switch {
	case err != nil:
		return 0, err
	case old.ClientID != client:
		return 0, domain.ErrNotFound
	case old.Author != t.actor.ID:
		return 0, domain.ErrForbidden
	case !old.Over && old.Kind == in.Kind && old.EventOn == in.EventOn && old.Body == in.Body && (old.Version == in.Version || old.Version == in.Version+1):
		return old.Version, errStoredBefore // sent twice, or nothing has changed
	case old.Over || old.Version != in.Version:
		return 0, domain.ErrConflict
	}
	if _, err := t.Exec(ctx, `UPDATE notes SET kind = $2, event_on = $3, body = $4, version = version + 1, saved_at = $5 WHERE id = $1`,
		in.ID, in.Kind, in.EventOn, in.Body, t.now); err != nil {
		return 0, err
	}
	return old.Version + 1, t.audit(ctx, "note.save", client, "note/"+in.ID.String(), map[string]any{"version": old.Version + 1})
}

// SignNote saves a note, signs it with the author's name and credential, and locks
// it. It refuses as [Store.SaveNote] does, and a note without a text.
func (s *Store) SignNote(ctx context.Context, actor Actor, client uuid.UUID, in NoteInput, credential string) error {
	credential = strings.TrimSpace(credential)
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		var problems domain.Problems
		t.checkNote(&problems, c, in)
		if strings.TrimSpace(in.Body) == "" {
			problems.Add("body", "Write the note first.")
		}
		if utf8.RuneCountInString(credential) > 2*credentialLength+10 {
			problems.Add("credential", fmt.Sprintf("Use %d characters at most.", 2*credentialLength+10))
		}
		if problems != nil {
			return problems
		}
		if _, err := t.saveNote(ctx, client, in); err != nil && !errors.Is(err, errStoredBefore) {
			return err
		}
		if credential != "" {
			credential = ", " + credential
		}
		if _, err := t.Exec(ctx, `
			UPDATE notes SET signed_at = $2, signed_name = (SELECT name FROM accounts WHERE id = $3) || $4 WHERE id = $1`,
			in.ID, t.now, actor.ID, credential); err != nil {
			return err
		}
		return t.audit(ctx, "note.sign", client, "note/"+in.ID.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("sign note of client %s: %w", client, err)
	}
	return nil
}

// DiscardNote gives up a draft. Only its author may.
func (s *Store) DiscardNote(ctx context.Context, actor Actor, client, note uuid.UUID) error {
	err := s.change(ctx, actor, func(t *tx) error {
		n, err := t.lockNote(ctx, client, note)
		switch {
		case err != nil:
			return err
		case n.AuthorID != actor.ID:
			return domain.ErrForbidden
		case n.SignedAt != nil:
			return domain.ErrConflict
		}
		if _, err := t.Exec(ctx, `UPDATE notes SET discarded_at = $2 WHERE id = $1`, note, t.now); err != nil {
			return err
		}
		return t.audit(ctx, "note.discard", client, "note/"+note.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("discard note %s of client %s: %w", note, client, err)
	}
	return nil
}

// lockNote returns a note that was not discarded, with its client locked.
func (t *tx) lockNote(ctx context.Context, client, note uuid.UUID) (Note, error) {
	if _, err := t.lockClient(ctx, client, true); err != nil {
		return Note{}, err
	}
	notes, err := t.notes(ctx, client)
	if err != nil {
		return Note{}, err
	}
	i := slices.IndexFunc(notes, func(n Note) bool { return n.ID == note })
	if i < 0 {
		return Note{}, domain.ErrNotFound
	}
	return notes[i], nil
}

// AddToNote adds to a note that is signed: what was left out, or what is right,
// and why. The old text stays. Sent twice, it is stored once.
func (s *Store) AddToNote(ctx context.Context, actor Actor, client, note, id uuid.UUID, body, reason string) error {
	body, reason = strings.TrimSpace(body), strings.TrimSpace(reason)
	err := s.change(ctx, actor, func(t *tx) error {
		n, err := t.lockNote(ctx, client, note)
		if err != nil {
			return err
		}
		if n.SignedAt == nil {
			return domain.ErrConflict
		}
		var problems domain.Problems
		if body == "" {
			problems.Add("body", "Write what is added or put right.")
		} else if utf8.RuneCountInString(body) > longestNote {
			problems.Add("body", "Use 20,000 characters at most.")
		}
		reasonProblem(&problems, "reason", reason)
		if problems != nil {
			return problems
		}
		added, err := t.Exec(ctx, `
			INSERT INTO note_addenda (id, note_id, body, reason, entered_at, entered_by, name)
			SELECT $1, $2, $3, $4, $5, a.id, a.name FROM accounts a WHERE a.id = $6 ON CONFLICT (id) DO NOTHING`,
			id, note, body, reason, t.now, actor.ID)
		if err != nil {
			return err
		}
		if added.RowsAffected() == 0 {
			return errStoredBefore
		}
		return t.audit(ctx, "note.add", client, "note/"+note.String(), nil)
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return fmt.Errorf("add to note %s of client %s: %w", note, client, err)
	}
	return nil
}

// noteItems are the notes that have waited for a signature: those of the actor,
// and for the lead everybody's.
func (t *tx) noteItems(ctx context.Context, clients map[uuid.UUID]listed) ([]WorklistItem, error) {
	policy := worklist.PolicyFrom(t.settings)
	rows, _ := t.Query(ctx, `
		SELECT n.id, n.client_id, a.name AS author, n.entered_at
		FROM notes n JOIN clients c ON c.id = n.client_id JOIN accounts a ON a.id = n.author
		WHERE n.signed_at IS NULL AND n.discarded_at IS NULL AND c.closed_at IS NULL AND `+seen+` AND (@role = 'lead' OR n.author = @actor)
		ORDER BY n.entered_at, n.id`, t.actor.args(nil))
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[struct {
		ID, ClientID uuid.UUID
		Author       string
		EnteredAt    time.Time
	}])
	var items []WorklistItem
	for _, n := range list {
		if e, ok := worklist.OfNote(n.Author, t.today.DaysSince(domain.DateOf(n.EnteredAt, t.practice.Location)), policy); ok {
			e.Place = "/notes/" + n.ID.String()
			items = append(items, clients[n.ClientID].item(e))
		}
	}
	return items, err
}
