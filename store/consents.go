package store

import (
	"context"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/consent"
)

// Consent is what a client agreed to, as recorded.
type Consent struct {
	ID           uuid.UUID
	Kind         string // care or share
	Recipient    string
	Purpose      string
	What         string
	How          string // "" of one from before it was asked
	TextVersion  string
	GivenOn      domain.Date
	ExpiresOn    domain.Date // the first day on which it does not count; zero is no end
	RecordedAt   time.Time
	RecordedBy   string      // name of the account
	WithdrawnOn  domain.Date // zero while it stands
	WithdrawnWhy string
}

// InForce reports whether the consent counts on a day.
func (c Consent) InForce(today domain.Date) bool {
	return consent.Given{On: c.GivenOn, Expires: c.ExpiresOn, Withdrawn: c.WithdrawnOn}.InForce(today)
}

// consents returns all consents of a client, the newest first.
func (t *tx) consents(ctx context.Context, client uuid.UUID) ([]Consent, error) {
	rows, _ := t.Query(ctx, `
		SELECT c.id, c.kind, c.recipient, c.purpose, c.what, c.how, c.text_version, c.given_on, c.expires_on, c.recorded_at, a.name AS recorded_by,
			c.withdrawn_on, c.withdrawn_why
		FROM consents c JOIN accounts a ON a.id = c.recorded_by
		WHERE c.client_id = $1 ORDER BY c.given_on DESC, c.recorded_at DESC, c.id DESC`, client)
	return pgx.CollectRows(rows, pgx.RowToStructByName[Consent])
}

// RecordConsent records that a client has agreed to the text in use, and returns
// the id. It returns [domain.Problems] for what is missing.
func (s *Store) RecordConsent(ctx context.Context, actor Actor, client uuid.UUID, g consent.Given) (uuid.UUID, error) {
	var id uuid.UUID
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		g, err := consent.Check(g, t.today, consent.ShareMonths(t.settings))
		if err != nil {
			return err
		}
		id, err = t.insertConsent(ctx, client, g)
		return err
	})
	if err != nil {
		return uuid.Nil, fmt.Errorf("record consent of client %s: %w", client, err)
	}
	return id, nil
}

// insertConsent records a consent that was checked.
func (t *tx) insertConsent(ctx context.Context, client uuid.UUID, g consent.Given) (uuid.UUID, error) {
	id := newID()
	if _, err := t.Exec(ctx, `
		INSERT INTO consents (id, client_id, kind, recipient, purpose, what, how, text_version, given_on, expires_on, recorded_at, recorded_by)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
		id, client, string(g.Kind), g.Recipient, g.Purpose, g.What, string(g.How), consent.Version, g.On, g.Expires, t.now, t.actor.ID); err != nil {
		return uuid.Nil, err
	}
	return id, t.audit(ctx, "consent.record", client, "consent/"+id.String(), map[string]any{"kind": string(g.Kind)})
}

// WithdrawConsent ends a consent today, and with it the links to answer letters that
// rest on it: the doctor hears no more. What was decided stays. It returns [domain.ErrConflict] for one
// that is withdrawn already.
func (s *Store) WithdrawConsent(ctx context.Context, actor Actor, client, id uuid.UUID, why string) error {
	why = strings.TrimSpace(why)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		if utf8.RuneCountInString(why) > 1000 {
			return domain.Problems{"why": "Use 1,000 characters at most."}
		}
		var withdrawn bool
		if err := t.QueryRow(ctx, `SELECT withdrawn_on IS NOT NULL FROM consents WHERE id = $1 AND client_id = $2`, id, client).Scan(&withdrawn); err != nil {
			return err
		}
		if withdrawn {
			return domain.ErrConflict
		}
		if _, err := t.Exec(ctx, `
			UPDATE consents SET withdrawn_on = $2, withdrawn_at = $3, withdrawn_by = $4, withdrawn_why = $5 WHERE id = $1`,
			id, t.today, t.now, actor.ID, why); err != nil {
			return err
		}
		if err := t.voidLinksOf(ctx, client, id); err != nil {
			return err
		}
		return t.audit(ctx, "consent.withdraw", client, "consent/"+id.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("withdraw consent %s: %w", id, err)
	}
	return nil
}

// ChangeClient puts right who a client is and how to reach them; what stood before
// is kept. It returns [domain.Problems] by field.
func (s *Store) ChangeClient(ctx context.Context, actor Actor, client uuid.UUID, to Client) error {
	to.GivenName, to.FamilyName = strings.TrimSpace(to.GivenName), strings.TrimSpace(to.FamilyName)
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		if err := to.Check(t.today).Err(); err != nil {
			return err
		}
		before := map[string]string{
			"given_name": c.GivenName, "family_name": c.FamilyName, "birth_date": c.BirthDate.String(), "sex": string(c.Sex),
			"phone": c.Phone, "emergency_contact": c.EmergencyContact,
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO client_revisions (id, client_id, before, replaced_at, replaced_by) VALUES ($1, $2, $3, $4, $5)`,
			newID(), client, before, t.now, actor.ID); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			UPDATE clients SET given_name = $2, family_name = $3, birth_date = $4, sex = $5, phone = $6, emergency_contact = $7 WHERE id = $1`,
			client, to.GivenName, to.FamilyName, to.BirthDate, string(to.Sex), to.Phone, to.EmergencyContact); err != nil {
			return err
		}
		return t.audit(ctx, "client.change", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("change client %s: %w", client, err)
	}
	return nil
}
