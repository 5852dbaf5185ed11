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
	"brae/domain/clearance"
)

// ReferralEvent is a step of a letter.
type ReferralEvent struct {
	Status  clearance.ReferralStatus
	Day     domain.Date
	Channel string
	Note    string
	At      time.Time
	By      string // name of the account; "" is the doctor
}

// Referral is a letter to a doctor with where it stands.
type Referral struct {
	ID        uuid.UUID
	ClientID  uuid.UUID
	Version   int
	Letter    Letter
	SavedAt   time.Time
	SavedBy   string
	CreatedAt time.Time
	Status    clearance.ReferralStatus
	Events    []ReferralEvent    // in the order of time
	Reminders []ReferralReminder // likewise
	SentOn    domain.Date        // zero if it was not sent
	Waiting   clearance.Waiting
	Link      *DoctorLink   // the newest; nil if none was made
	Pending   *DoctorAnswer // given with the link and not settled yet
	Shares    []Consent     // to share, in force; only of a letter that is looked at
}

// Open reports whether the letter waits for something.
func (r Referral) Open() bool {
	return r.Status == clearance.Draft || r.Status == clearance.Sent || r.Status == clearance.Received || r.Pending != nil
}

// referrals returns the letters about a client, the newest first.
func (t *tx) referrals(ctx context.Context, client uuid.UUID) ([]Referral, error) {
	return t.referralsWhere(ctx, `c.id = @client`, pgx.NamedArgs{"client": client})
}

// referralsWhere loads letters that the actor may see.
func (t *tx) referralsWhere(ctx context.Context, where string, args pgx.NamedArgs) ([]Referral, error) {
	rows, _ := t.Query(ctx, `
		SELECT r.id, r.client_id, v.version, v.letter, v.saved_at, a.name AS saved_by, r.created_at
		FROM referrals r
		JOIN clients c ON c.id = r.client_id
		JOIN LATERAL (SELECT * FROM referral_versions WHERE referral_id = r.id ORDER BY version DESC LIMIT 1) v ON true
		JOIN accounts a ON a.id = v.saved_by
		WHERE `+seen+` AND `+where+`
		ORDER BY r.created_at DESC, r.id DESC`, t.actor.args(args))
	type row struct {
		ID, ClientID uuid.UUID
		Version      int
		Letter       Letter
		SavedAt      time.Time
		SavedBy      string
		CreatedAt    time.Time
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[row])
	if err != nil {
		return nil, err
	}
	all := make([]Referral, len(list))
	for i, r := range list {
		all[i] = Referral{ID: r.ID, ClientID: r.ClientID, Version: r.Version, Letter: r.Letter, SavedAt: r.SavedAt, SavedBy: r.SavedBy, CreatedAt: r.CreatedAt}
		if err := t.fillReferral(ctx, &all[i]); err != nil {
			return nil, err
		}
	}
	return all, nil
}

func (t *tx) fillReferral(ctx context.Context, r *Referral) error {
	rows, _ := t.Query(ctx, `
		SELECT e.status, e.day, e.channel, e.note, e.at, coalesce(a.name, '') AS by
		FROM referral_events e LEFT JOIN accounts a ON a.id = e.by
		WHERE e.referral_id = $1 ORDER BY e.at, e.id`, r.ID)
	var err error
	if r.Events, err = pgx.CollectRows(rows, pgx.RowToStructByName[ReferralEvent]); err != nil {
		return err
	}
	for _, e := range r.Events {
		r.Status = e.Status
		if e.Status == clearance.Sent {
			r.SentOn = e.Day
		}
	}
	rows, _ = t.Query(ctx, `
		SELECT r.day, r.note, r.at, a.name AS by FROM referral_reminders r JOIN accounts a ON a.id = r.by
		WHERE r.referral_id = $1 ORDER BY r.at, r.id`, r.ID)
	if r.Reminders, err = pgx.CollectRows(rows, pgx.RowToStructByName[ReferralReminder]); err != nil {
		return err
	}
	var reminded domain.Date
	for _, reminder := range r.Reminders {
		reminded = reminder.Day
	}
	r.Waiting = clearance.NothingDue
	if r.Status == clearance.Sent || r.Status == clearance.Received {
		r.Waiting = clearance.AfterSent(r.SentOn, reminded, t.today, clearance.PolicyFrom(t.settings))
	}
	r.Link, r.Pending, err = t.linkOf(ctx, r.ID)
	return err
}

// referralStatus returns where a letter about a client stands.
func (t *tx) referralStatus(ctx context.Context, client, id uuid.UUID) (clearance.ReferralStatus, Referral, error) {
	list, err := t.referralsWhere(ctx, `c.id = @client AND r.id = @id`, pgx.NamedArgs{"client": client, "id": id})
	if err != nil {
		return "", Referral{}, err
	}
	if len(list) == 0 {
		return "", Referral{}, domain.ErrNotFound
	}
	return list[0].Status, list[0], nil
}

// referralEvent moves a letter to a status. It returns errNothingToDo if it is
// there already and [domain.ErrConflict] if it cannot get there.
func (t *tx) referralEvent(ctx context.Context, client, id uuid.UUID, to clearance.ReferralStatus, day domain.Date, channel, note string) error {
	if to != clearance.Draft {
		from, _, err := t.referralStatus(ctx, client, id)
		if err != nil {
			return err
		}
		if from == to {
			return errNothingToDo
		}
		if !from.MayBecome(to) {
			return fmt.Errorf("a letter that is %s cannot become %s: %w", from, to, domain.ErrConflict)
		}
	}
	return t.insertReferralEvent(ctx, client, id, to, day, channel, note)
}

func (t *tx) insertReferralEvent(ctx context.Context, client, id uuid.UUID, to clearance.ReferralStatus, day domain.Date, channel, note string) error {
	if _, err := t.Exec(ctx, `
		INSERT INTO referral_events (id, referral_id, status, day, channel, note, at, by) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		newID(), id, string(to), day, channel, note, t.now, orNull(t.actor.ID)); err != nil {
		return err
	}
	return t.audit(ctx, "referral."+string(to), client, "referral/"+id.String(), nil)
}

// WriteReferral begins a letter about a client, drafted from the record. It
// returns [domain.ErrConflict] before the first screening.
func (s *Store) WriteReferral(ctx context.Context, actor Actor, client uuid.UUID) (uuid.UUID, error) {
	id := newID()
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		f, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		if f.Screening == nil {
			return fmt.Errorf("%w: no screening", domain.ErrConflict)
		}
		letter, err := t.draftLetter(ctx, c, &f)
		if err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO referrals (id, client_id, created_at, created_by) VALUES ($1, $2, $3, $4)`, id, client, t.now, actor.ID); err != nil {
			return err
		}
		if err := t.insertVersion(ctx, id, 1, letter); err != nil {
			return err
		}
		return t.insertReferralEvent(ctx, client, id, clearance.Draft, t.today, "", "")
	})
	if err != nil {
		return uuid.Nil, fmt.Errorf("write referral for client %s: %w", client, err)
	}
	return id, nil
}

func (t *tx) insertVersion(ctx context.Context, id uuid.UUID, version int, letter Letter) error {
	_, err := t.Exec(ctx, `
		INSERT INTO referral_versions (referral_id, version, letter, saved_at, saved_by) VALUES ($1, $2, $3, $4, $5)`,
		id, version, letter, t.now, t.actor.ID)
	return err
}

// Referral returns a letter about a client.
func (s *Store) Referral(ctx context.Context, actor Actor, client, id uuid.UUID) (Client, Referral, error) {
	var c Client
	var r Referral
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if c, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		if _, r, err = t.referralStatus(ctx, client, id); err != nil {
			return err
		}
		if r.Shares, err = t.shares(ctx, client); err != nil {
			return err
		}
		return t.audit(ctx, "referral.view", client, "referral/"+id.String(), nil)
	})
	if err != nil {
		return Client{}, Referral{}, fmt.Errorf("referral %s of client %s: %w", id, client, err)
	}
	return c, r, nil
}

// SaveReferral saves the next version of a draft. The version is the one that the
// form was shown with: if somebody has saved since, or the letter is out, it
// returns [domain.ErrConflict].
func (s *Store) SaveReferral(ctx context.Context, actor Actor, client, id uuid.UUID, version int, letter Letter) error {
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		return t.saveReferral(ctx, client, id, version, letter, false)
	})
	if err != nil {
		return fmt.Errorf("save referral %s of client %s: %w", id, client, err)
	}
	return nil
}

func (t *tx) saveReferral(ctx context.Context, client, id uuid.UUID, version int, letter Letter, send bool) error {
	status, r, err := t.referralStatus(ctx, client, id)
	if err != nil {
		return err
	}
	if status != clearance.Draft || r.Version != version {
		return domain.ErrConflict
	}
	if err := letter.check(t.today, send).Err(); err != nil {
		return err
	}
	if letter == r.Letter && send {
		return nil
	}
	if err := t.insertVersion(ctx, id, version+1, letter); err != nil {
		return err
	}
	return t.audit(ctx, "referral.save", client, "referral/"+id.String(), map[string]any{"version": version + 1})
}

// The ways in which a letter goes out.
var referralChannels = []string{"post", "by_hand", "fax", "secure_mail", "link"}

// SendReferral saves a letter as it stands and marks it as sent on a day. What
// was sent can be read and not be changed any more.
func (s *Store) SendReferral(ctx context.Context, actor Actor, client, id uuid.UUID, version int, letter Letter, day domain.Date, channel string) error {
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		problems := letter.check(t.today, true)
		switch {
		case !day.Valid():
			problems.Add("day", "Type the day it was sent.")
		case day.After(t.today):
			problems.Add("day", "This day is in the future.")
		}
		if !slices.Contains(referralChannels, channel) {
			problems.Add("channel", "Choose how it was sent.")
		}
		given, err := t.ground(ctx, client, &letter, &problems)
		if err != nil {
			return err
		}
		if err := problems.Err(); err != nil {
			return err
		}
		if given != nil {
			if letter.Consent, err = t.insertConsent(ctx, client, *given); err != nil {
				return err
			}
		}
		if letter.Ground.Exception() {
			if err := t.audit(ctx, "referral.without_consent", client, "referral/"+id.String(), map[string]any{"ground": string(letter.Ground)}); err != nil {
				return err
			}
		}
		if err := t.saveReferral(ctx, client, id, version, letter, true); err != nil {
			return err
		}
		return t.referralEvent(ctx, client, id, clearance.Sent, day, channel, "")
	})
	if err != nil {
		return fmt.Errorf("send referral %s of client %s: %w", id, client, err)
	}
	return nil
}

// MarkReferral notes that a letter has arrived, that no answer came, or that it
// was withdrawn. A letter that is withdrawn has no link that works.
func (s *Store) MarkReferral(ctx context.Context, actor Actor, client, id uuid.UUID, to clearance.ReferralStatus, note string) error {
	note = strings.TrimSpace(note)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		var problems domain.Problems
		if to != clearance.Received && to != clearance.NoAnswer && to != clearance.Withdrawn {
			problems.Add("status", "Choose what became of the letter.")
		}
		if utf8.RuneCountInString(note) > 500 {
			problems.Add("note", "Use 500 characters at most.")
		}
		if err := problems.Err(); err != nil {
			return err
		}
		if to == clearance.Withdrawn {
			if err := t.voidLinks(ctx, id); err != nil {
				return err
			}
		}
		err := t.referralEvent(ctx, client, id, to, t.today, "", note)
		if errors.Is(err, errNothingToDo) {
			return domain.ErrConflict
		}
		return err
	})
	if err != nil {
		return fmt.Errorf("mark referral %s of client %s: %w", id, client, err)
	}
	return nil
}

// RemindReferral notes that the doctor was reminded today of a letter that waits for
// an answer. It returns [domain.ErrConflict] if the letter does not wait.
func (s *Store) RemindReferral(ctx context.Context, actor Actor, client, id uuid.UUID, note string) error {
	note = strings.TrimSpace(note)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		status, _, err := t.referralStatus(ctx, client, id)
		if err != nil {
			return err
		}
		if utf8.RuneCountInString(note) > 500 {
			return domain.Problems{"note": "Use 500 characters at most."}
		}
		if status != clearance.Sent && status != clearance.Received {
			return domain.ErrConflict
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO referral_reminders (id, referral_id, day, note, at, by) VALUES ($1, $2, $3, $4, $5, $6)`,
			newID(), id, t.today, note, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "referral.remind", client, "referral/"+id.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("remind of referral %s of client %s: %w", id, client, err)
	}
	return nil
}
