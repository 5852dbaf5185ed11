package store

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"net/mail"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/intensity"
)

// Weekdays are days of the week, one bit each: bit 0 is Sunday.
type Weekdays uint8

// Has reports whether d is among the days.
func (w Weekdays) Has(d time.Weekday) bool { return w>>d&1 == 1 }

// With returns the days and d.
func (w Weekdays) With(d time.Weekday) Weekdays { return w | 1<<d }

// Reminder is when and where a client wants to be reminded by e-mail.
type Reminder struct {
	Address   string
	Days      Weekdays
	Minute    int  // of the day by the practice's clock, 0 to 1439
	Confirmed bool // the address has answered: nothing is sent before
}

const (
	confirmLife    = 48 * time.Hour // of the link to an address
	confirmsADay   = 5              // links to confirm that one account may ask for: Brae is no way to fill a stranger's letter box
	reminderWindow = time.Hour      // a reminder that is later than this is none
	reminderLinks  = 180 * 24 * time.Hour
)

// check reports what is wrong with a reminder as typed.
func (r Reminder) check() domain.Problems {
	var problems domain.Problems
	if a, err := mail.ParseAddress(r.Address); err != nil || a.Address != r.Address || len(r.Address) > 254 {
		problems.Add("address", "Type an e-mail address, such as name@post.example.")
	}
	if r.Days == 0 || r.Days > 127 {
		problems.Add("days", "Choose a day at least.")
	}
	if r.Minute < 0 || r.Minute > 1439 {
		problems.Add("time", "Type a time of day, such as 18:30.")
	}
	return problems
}

// Reminder returns how the actor is reminded; nil if not at all.
func (s *Store) Reminder(ctx context.Context, actor Actor) (*Reminder, error) {
	var r *Reminder
	err := s.look(ctx, actor, func(t *tx) (err error) {
		rows, _ := t.Query(ctx, `
			SELECT address, days, minute, confirmed_at IS NOT NULL AS confirmed FROM reminders WHERE account_id = $1 AND stopped_at IS NULL`, actor.ID)
		r, err = pgx.CollectExactlyOneRow(rows, pgx.RowToAddrOfStructByName[Reminder])
		if errors.Is(err, pgx.ErrNoRows) {
			err = nil
		}
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("reminder: %w", err)
	}
	return r, nil
}

// SetReminder stores how a client, the actor, wants to be reminded. For an address
// that has not answered yet it returns the token of a link to confirm it, which
// works once and for two days; the earlier one stops. It returns
// [domain.Problems] for what is wrong.
func (s *Store) SetReminder(ctx context.Context, actor Actor, r Reminder) (token string, err error) {
	r.Address = strings.TrimSpace(r.Address)
	err = s.change(ctx, actor, func(t *tx) error {
		if err := r.check().Err(); err != nil {
			return err
		}
		client, err := t.ownClient(ctx)
		if err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `
			SELECT address, confirmed_at IS NOT NULL AS confirmed, asked_on, asked FROM reminders WHERE account_id = $1 FOR UPDATE`, actor.ID)
		before, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
			Address   string
			Confirmed bool
			AskedOn   domain.Date
			Asked     int
		}])
		if err != nil && !errors.Is(err, pgx.ErrNoRows) {
			return err
		}
		if before.Confirmed && before.Address == r.Address {
			if _, err := t.Exec(ctx, `UPDATE reminders SET days = $2, minute = $3 WHERE account_id = $1`, actor.ID, int(r.Days), r.Minute); err != nil {
				return err
			}
			return t.audit(ctx, "reminder.set", client, "account/"+actor.ID.String(), nil)
		}
		asked := 1
		if before.AskedOn == t.today {
			asked = before.Asked + 1
		}
		if asked > confirmsADay {
			return domain.Problems{"address": "These were many tries for one day. Try again tomorrow."}
		}
		token = strings.ToLower(rand.Text())
		if _, err := t.Exec(ctx, `
			INSERT INTO reminders (account_id, client_id, address, days, minute, confirm_hash, confirm_by, asked_on, asked)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)
			ON CONFLICT (account_id) DO UPDATE SET address = excluded.address, days = excluded.days, minute = excluded.minute,
				confirm_hash = excluded.confirm_hash, confirm_by = excluded.confirm_by, confirmed_at = NULL, stopped_at = NULL,
				asked_on = excluded.asked_on, asked = excluded.asked`,
			actor.ID, client, r.Address, int(r.Days), r.Minute, tokenHash(token), t.now.Add(confirmLife), t.today, asked); err != nil {
			return err
		}
		return t.audit(ctx, "reminder.set", client, "account/"+actor.ID.String(), map[string]any{"confirm": true})
	})
	if err != nil {
		return "", fmt.Errorf("set reminder: %w", err)
	}
	return token, nil
}

// ownClient is [tx.lockBeside] for the record of the actor, a client, whose id is not
// known. It returns [domain.ErrForbidden] for others.
func (t *tx) ownClient(ctx context.Context) (uuid.UUID, error) {
	if t.actor.Role != domain.RoleClient {
		return uuid.Nil, domain.ErrForbidden
	}
	rows, _ := t.Query(ctx, `SELECT id FROM clients WHERE account_id = $1 AND closed_at IS NULL FOR NO KEY UPDATE`, t.actor.ID)
	return pgx.CollectExactlyOneRow(rows, pgx.RowTo[uuid.UUID])
}

// Awaited reports whether a link to confirm an address still works. It returns
// [domain.ErrNotFound] if not.
func (s *Store) Awaited(ctx context.Context, token string) error {
	rows, _ := s.pool.Query(ctx, `SELECT 1 FROM reminders WHERE confirm_hash = $1 AND confirm_by > $2`, tokenHash(token), s.now())
	if _, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[int]); err != nil {
		return fmt.Errorf("link to confirm an address: %w", domainError(err))
	}
	return nil
}

// ConfirmReminder lets reminders go to the address that the link was sent to. It
// returns [domain.ErrNotFound] for a link that is unknown, used or too old.
func (s *Store) ConfirmReminder(ctx context.Context, token string) error {
	err := s.change(ctx, Actor{}, func(t *tx) error {
		rows, _ := t.Query(ctx, `
			UPDATE reminders SET confirm_hash = NULL, confirm_by = NULL, confirmed_at = $2
			WHERE confirm_hash = $1 AND confirm_by > $2 RETURNING account_id, client_id`, tokenHash(token), t.now)
		of, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByPos[struct{ Account, Client uuid.UUID }])
		if err != nil {
			return err
		}
		return t.audit(ctx, "reminder.confirm", of.Client, "account/"+of.Account.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("confirm reminder: %w", err)
	}
	return nil
}

// endReminder forgets where and when an account wanted to be reminded.
const endReminder = `
	UPDATE reminders SET address = '', confirm_hash = NULL, confirm_by = NULL, confirmed_at = NULL, stopped_at = coalesce(stopped_at, $2)
	WHERE account_id = $1`

// StopReminder ends the actor's reminders. That there are none is no error.
func (s *Store) StopReminder(ctx context.Context, actor Actor) error {
	err := s.change(ctx, actor, func(t *tx) error {
		client, err := t.ownClient(ctx)
		if err != nil {
			return err
		}
		if _, err := t.Exec(ctx, endReminder, actor.ID, t.now); err != nil {
			return err
		}
		return t.audit(ctx, "reminder.stop", client, "account/"+actor.ID.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("stop reminder: %w", err)
	}
	return nil
}

// StopReminderByLink ends the reminders of whoever got the mail with the link.
// That they have ended already is no error; an unknown link is
// [domain.ErrNotFound].
func (s *Store) StopReminderByLink(ctx context.Context, token string) error {
	err := s.change(ctx, Actor{}, func(t *tx) error {
		rows, _ := t.Query(ctx, `
			SELECT c.account_id, c.id FROM reminder_links l JOIN clients c ON c.account_id = l.account_id WHERE l.token_hash = $1`, tokenHash(token))
		of, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByPos[struct{ Account, Client uuid.UUID }])
		if err != nil {
			return err
		}
		if _, err := t.Exec(ctx, endReminder, of.Account, t.now); err != nil {
			return err
		}
		return t.audit(ctx, "reminder.stop", of.Client, "account/"+of.Account.String(), map[string]any{"by": "link"})
	})
	if err != nil {
		return fmt.Errorf("stop reminder by link: %w", err)
	}
	return nil
}

// DueReminder is a reminder that is to be sent now. Nobody else sends it.
type DueReminder struct {
	Account  uuid.UUID
	Day      domain.Date
	Address  string
	Language string
	Practice string
	Stop     string // token of the link that ends the reminders
}

// RemindersAbout returns the accounts whose reminder may be due about now: see
// [Store.ClaimReminder].
func (s *Store) RemindersAbout(ctx context.Context) ([]uuid.UUID, error) {
	var accounts []uuid.UUID
	err := s.look(ctx, Actor{}, func(t *tx) (err error) {
		if t.practice.Location == nil {
			return nil
		}
		local := t.now.In(t.practice.Location)
		rows, _ := t.Query(ctx, `
			SELECT account_id FROM reminders WHERE confirmed_at IS NOT NULL AND (@minute - minute + 1440) % 1440 <= @back
			ORDER BY account_id`,
			pgx.NamedArgs{"minute": local.Hour()*60 + local.Minute(), "back": int((reminderWindow + skipped) / time.Minute)})
		accounts, err = pgx.CollectRows(rows, pgx.RowTo[uuid.UUID])
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("reminders about now: %w", err)
	}
	return accounts, nil
}

// ClaimReminder takes the reminder of an account for sent, if it is due and not
// sent. So one that is lost between here and the mail server stays lost: a person
// who is not reminded once is better off than one who is reminded twice. Nobody is
// reminded on a day on which they have logged, or while they may not exercise. It
// returns [domain.ErrNotFound] if there is nothing to send.
func (s *Store) ClaimReminder(ctx context.Context, account uuid.UUID) (DueReminder, error) {
	d := DueReminder{Account: account}
	actor := Actor{ID: account, Role: domain.RoleClient} // on whose behalf it is sent
	err := s.change(ctx, actor, func(t *tx) error {
		rows, _ := t.Query(ctx, `
			SELECT r.client_id, r.address, r.days, r.minute, r.last_day, r.tried_on, r.next_try, a.language,
				ARRAY(SELECT DISTINCT day FROM sessions WHERE client_id = r.client_id AND day >= @yesterday AND deleted_at IS NULL) AS logged
			FROM reminders r JOIN accounts a ON a.id = r.account_id JOIN clients c ON c.id = r.client_id
			WHERE r.account_id = @account AND r.confirmed_at IS NOT NULL AND a.disabled_at IS NULL AND c.closed_at IS NULL
			FOR UPDATE OF r`,
			pgx.NamedArgs{"account": account, "yesterday": t.today.AddDays(-1)})
		r, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
			ClientID         uuid.UUID
			Address          string
			Days, Minute     int
			LastDay, TriedOn domain.Date
			NextTry          *time.Time
			Language         string
			Logged           []domain.Date
		}])
		if err != nil {
			return err
		}
		day, ok := dueDay(t.now, t.practice.Location, Weekdays(r.Days), r.Minute, r.LastDay)
		waits := r.TriedOn == day && r.NextTry != nil && t.now.Before(*r.NextTry)
		if !ok || waits || slices.Contains(r.Logged, day) {
			return domain.ErrNotFound
		}
		file, err := t.clearanceFile(ctx, r.ClientID)
		if err != nil {
			return err
		}
		if file.Screening != nil && file.Ceiling() == intensity.None {
			return domain.ErrNotFound
		}
		d.Day, d.Address, d.Language, d.Practice, d.Stop = day, r.Address, r.Language, t.practice.Name, strings.ToLower(rand.Text())
		if _, err := t.Exec(ctx, `UPDATE reminders SET last_day = $2 WHERE account_id = $1`, account, day); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `INSERT INTO reminder_links (token_hash, account_id, made_at) VALUES ($1, $2, $3)`, tokenHash(d.Stop), account, t.now); err != nil {
			return err
		}
		return t.audit(ctx, "reminder.send", r.ClientID, "account/"+account.String(), map[string]any{"day": day})
	})
	if err != nil {
		return DueReminder{}, fmt.Errorf("claim reminder of account %s: %w", account, err)
	}
	return d, nil
}

// skipped is the longest stretch that a clock leaves out when it goes forward, and
// some more.
const skipped = 2 * time.Hour

// dueDay returns the day whose reminder is due at an instant. A time of day that
// the clock skips counts as the next one that it shows, and one that comes twice
// counts once.
func dueDay(now time.Time, zone *time.Location, days Weekdays, minute int, last domain.Date) (domain.Date, bool) {
	today := domain.DateOf(now, zone)
	for _, day := range []domain.Date{today, today.AddDays(-1)} { // late in the evening, what was due is due past midnight
		at := clockShows(day, minute, zone)
		if days.Has(day.Weekday()) && !now.Before(at) && now.Before(at.Add(reminderWindow)) && day.After(last) {
			return day, true
		}
	}
	return domain.Date{}, false
}

// clockShows returns an instant at which the clock shows a time of day, or the
// first later one where it is skipped. [time.Date] may go either way there.
func clockShows(day domain.Date, minute int, zone *time.Location) time.Time {
	at := time.Date(day.Year, day.Month, day.Day, minute/60, minute%60, 0, 0, zone)
	shows := func(t time.Time) int { return t.Hour()*60 + t.Minute() }
	for i := 0; i < int(skipped/time.Minute) && shows(at) < minute; i++ {
		at = at.Add(time.Minute)
	}
	for i := 0; i < int(skipped/time.Minute) && shows(at) > minute && shows(at.Add(-time.Minute)) >= minute; i++ {
		at = at.Add(-time.Minute)
	}
	return at
}

// ReminderNotSent gives back a claimed reminder that the mail server has refused.
// It is tried again after 1, 2, 4, ... minutes, until it is too late for its day.
func (s *Store) ReminderNotSent(ctx context.Context, d DueReminder) error {
	err := s.change(ctx, Actor{ID: d.Account, Role: domain.RoleClient}, func(t *tx) error {
		rows, _ := t.Query(ctx, `
			WITH r AS (SELECT account_id, CASE WHEN tried_on = $2 THEN tries ELSE 0 END AS tries FROM reminders WHERE account_id = $1)
			UPDATE reminders SET last_day = $2::date - 1, tried_on = $2, tries = least(r.tries + 1, 10),
				next_try = $3::timestamptz + least(2 ^ r.tries, 60) * interval '1 minute'
			FROM r WHERE reminders.account_id = r.account_id AND last_day = $2 RETURNING client_id`, d.Account, d.Day, t.now)
		client, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[uuid.UUID])
		if errors.Is(err, pgx.ErrNoRows) {
			return errNothingToDo
		}
		if err != nil {
			return err
		}
		return t.audit(ctx, "reminder.fail", client, "account/"+d.Account.String(), map[string]any{"day": d.Day})
	})
	if err != nil && !errors.Is(err, errNothingToDo) {
		return fmt.Errorf("reminder not sent: %w", err)
	}
	return nil
}
