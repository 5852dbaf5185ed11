package store

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
)

// DoctorLink is a one-time link with which a doctor can answer a letter. The
// token itself is kept nowhere.
type DoctorLink struct {
	CreatedAt time.Time
	ExpiresAt time.Time
	Tries     int // with a wrong birth date
	Usable    bool
	Answered  bool
}

// DoctorAnswer is what a doctor sent with a link. It counts for nothing until a
// practitioner has confirmed it.
type DoctorAnswer struct {
	clearance.Decision
	Signature string    `json:"signature"` // the name as typed under the answer
	At        time.Time `json:"at"`
}

// ErrLinkTry is the answer to a birth date that does not fit a link.
var ErrLinkTry = errors.New("the birth date does not fit the link")

// linkOf returns the newest link of a letter, and an answer that waits to be
// settled.
func (t *tx) linkOf(ctx context.Context, referral uuid.UUID) (*DoctorLink, *DoctorAnswer, error) {
	rows, _ := t.Query(ctx, `
		SELECT created_at, expires_at, tries, voided_at, answered_at, answer, settled_at
		FROM doctor_links WHERE referral_id = $1 ORDER BY created_at DESC, token_hash`, referral)
	type row struct {
		CreatedAt, ExpiresAt time.Time
		Tries                int
		VoidedAt, AnsweredAt *time.Time
		Answer               *DoctorAnswer
		SettledAt            *time.Time
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[row])
	if err != nil || len(list) == 0 {
		return nil, nil, err
	}
	l := list[0]
	link := &DoctorLink{CreatedAt: l.CreatedAt, ExpiresAt: l.ExpiresAt, Tries: l.Tries, Answered: l.AnsweredAt != nil}
	link.Usable = l.VoidedAt == nil && l.AnsweredAt == nil && l.ExpiresAt.After(t.now) && l.Tries < clearance.PolicyFrom(t.settings).LinkTries
	var pending *DoctorAnswer
	for _, r := range list {
		if r.Answer != nil && r.SettledAt == nil {
			pending = r.Answer
		}
	}
	return link, pending, nil
}

func (t *tx) voidLinks(ctx context.Context, referral uuid.UUID) error {
	_, err := t.Exec(ctx, `
		UPDATE doctor_links SET voided_at = $2 WHERE referral_id = $1 AND voided_at IS NULL AND answered_at IS NULL`, referral, t.now)
	return err
}

// NewDoctorLink makes a link for a letter that waits for an answer and returns
// its token. Earlier links become void.
func (s *Store) NewDoctorLink(ctx context.Context, actor Actor, client, referral uuid.UUID) (string, error) {
	var token string
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		status, r, err := t.referralStatus(ctx, client, referral)
		if err != nil {
			return err
		}
		if !status.MayBecome(clearance.Answered) || r.Pending != nil {
			return domain.ErrConflict
		}
		problem, until, err := t.sharedUntil(ctx, client, r.Letter)
		if err != nil {
			return err
		}
		if problem != "" {
			return domain.Problems{"link": problem}
		}
		if err := t.voidLinks(ctx, referral); err != nil {
			return err
		}
		token = strings.ToLower(rand.Text())
		expires := t.now.AddDate(0, 0, clearance.PolicyFrom(t.settings).LinkDays)
		if !until.IsZero() && until.Before(expires) { // the client agreed no longer
			expires = until
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO doctor_links (token_hash, referral_id, created_at, created_by, expires_at) VALUES ($1, $2, $3, $4, $5)`,
			tokenHash(token), referral, t.now, actor.ID, expires); err != nil {
			return err
		}
		return t.audit(ctx, "referral.link", client, "referral/"+referral.String(), nil)
	})
	if err != nil {
		return "", fmt.Errorf("link for referral %s: %w", referral, err)
	}
	return token, nil
}

// DoctorLetter is what a doctor sees with a link and the client's birth date.
type DoctorLetter struct {
	Practice Practice
	Client   Client
	Letter   Letter
	SentOn   domain.Date
	Today    domain.Date
	Causes   []string // codes that the doctor may say are covered
	referral uuid.UUID
}

// DoctorLinkPractice returns the practice that a link which can be used comes
// from, and nothing about the client. Any other link is [domain.ErrNotFound].
func (s *Store) DoctorLinkPractice(ctx context.Context, token string) (Practice, error) {
	var p Practice
	err := s.look(ctx, Actor{}, func(t *tx) error {
		p = t.practice
		_, err := t.usableLink(ctx, token)
		return err
	})
	if err != nil {
		return Practice{}, fmt.Errorf("doctor's link: %w", err)
	}
	return p, nil
}

// doctorLinkRow is a link with its letter's client.
type doctorLinkRow struct {
	ReferralID uuid.UUID
	ClientID   uuid.UUID
	CreatedBy  uuid.UUID
	BirthDate  domain.Date
}

// usableLink returns a link that is neither used, nor void, nor too old, nor
// locked, of a letter that still waits.
func (t *tx) usableLink(ctx context.Context, token string) (doctorLinkRow, error) {
	rows, _ := t.Query(ctx, `
		SELECT l.referral_id, r.client_id, l.created_by, c.birth_date
		FROM doctor_links l
		JOIN referrals r ON r.id = l.referral_id
		JOIN clients c ON c.id = r.client_id
		WHERE l.token_hash = $1 AND l.voided_at IS NULL AND l.answered_at IS NULL AND l.expires_at > $2 AND l.tries < $3 AND c.closed_at IS NULL`,
		tokenHash(token), t.now, clearance.PolicyFrom(t.settings).LinkTries)
	return pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[doctorLinkRow])
}

// lockedLink is usableLink for a change. It locks the client and not the link, as
// everything does that makes or ends one: who held the link and waited for the client
// would wait for ever for who holds the client and ends the link. The link is read
// behind the lock.
func (t *tx) lockedLink(ctx context.Context, token string) (doctorLinkRow, error) {
	rows, _ := t.Query(ctx, `
		SELECT c.id FROM doctor_links l JOIN referrals r ON r.id = l.referral_id JOIN clients c ON c.id = r.client_id
		WHERE l.token_hash = $1 FOR NO KEY UPDATE OF c`, tokenHash(token))
	if _, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[uuid.UUID]); err != nil {
		return doctorLinkRow{}, err
	}
	return t.usableLink(ctx, token)
}

// DoctorLetter returns the letter of a link to who knows the client's birth date.
// A wrong date is [ErrLinkTry] and is counted; after some of them the link is
// void. A link that cannot be used is [domain.ErrNotFound].
func (s *Store) DoctorLetter(ctx context.Context, token string, birth domain.Date) (DoctorLetter, error) {
	return s.doctorLink(ctx, token, birth, nil)
}

// AnswerReferral takes the answer of a doctor with a link. It can be given once,
// and waits then until a practitioner has confirmed it. It returns the errors of
// [Store.DoctorLetter], and [domain.Problems] by field with the letter.
func (s *Store) AnswerReferral(ctx context.Context, token string, birth domain.Date, a DoctorAnswer) (DoctorLetter, error) {
	return s.doctorLink(ctx, token, birth, &a)
}

func (s *Store) doctorLink(ctx context.Context, token string, birth domain.Date, answer *DoctorAnswer) (DoctorLetter, error) {
	var d DoctorLetter
	wrong := false
	var refused error // what was filled in wrong, with the letter
	err := s.change(ctx, Actor{}, func(t *tx) error {
		link, err := t.lockedLink(ctx, token)
		if err != nil {
			return err
		}
		if link.BirthDate != birth {
			wrong = true
			if _, err := t.Exec(ctx, `UPDATE doctor_links SET tries = tries + 1 WHERE token_hash = $1`, tokenHash(token)); err != nil {
				return err
			}
			return t.audit(ctx, "referral.link_refused", link.ClientID, "referral/"+link.ReferralID.String(), nil)
		}
		if d, err = t.doctorLetter(ctx, link); err != nil {
			return err
		}
		if answer != nil {
			if refused = t.takeAnswer(ctx, token, link, answer); refused == nil {
				return nil
			}
			if _, ok := errors.AsType[domain.Problems](refused); !ok {
				return refused
			}
		}
		return t.audit(ctx, "referral.link_view", link.ClientID, "referral/"+link.ReferralID.String(), nil)
	})
	switch {
	case err != nil:
		return DoctorLetter{}, fmt.Errorf("doctor's link: %w", err)
	case wrong:
		return DoctorLetter{}, ErrLinkTry
	case refused != nil:
		return d, fmt.Errorf("doctor's answer: %w", refused)
	}
	return d, nil
}

// onBehalf runs what reads a record as somebody who may see it: the doctor holds
// a link that a practitioner made. The trail still says that it was nobody here.
func (t *tx) onBehalf(by uuid.UUID, fn func() error) error {
	actor := t.actor
	defer func() { t.actor = actor }()
	t.actor = Actor{ID: by, Role: domain.RoleLead}
	return fn()
}

func (t *tx) doctorLetter(ctx context.Context, link doctorLinkRow) (DoctorLetter, error) {
	d := DoctorLetter{Practice: t.practice, Today: t.today, referral: link.ReferralID}
	err := t.onBehalf(link.CreatedBy, func() error {
		var err error
		if d.Client, err = t.client(ctx, link.ClientID); err != nil {
			return err
		}
		status, r, err := t.referralStatus(ctx, link.ClientID, link.ReferralID)
		if err != nil {
			return err
		}
		if !status.MayBecome(clearance.Answered) {
			return domain.ErrNotFound
		}
		d.Letter, d.SentOn = r.Letter, r.SentOn
		f, err := t.clearanceFile(ctx, link.ClientID)
		d.Causes = f.causes()
		return err
	})
	return d, err
}

// takeAnswer checks and keeps a doctor's answer.
func (t *tx) takeAnswer(ctx context.Context, token string, link doctorLinkRow, a *DoctorAnswer) error {
	a.ReceivedOn, a.Channel, a.At = t.today, clearance.Portal, t.now
	if a.Work == "" {
		a.Work = clearance.Both
	}
	check := a.Decision
	check.RecordedBy = "link"
	problems := clearance.Check(check, t.today, clearance.PolicyFrom(t.settings))
	tooLong(&problems, ClearanceInput{Decision: a.Decision})
	if a.Signature = strings.TrimSpace(a.Signature); !sameName(a.Signature, a.DecidedBy.Name) || a.Signature == "" {
		problems.Add("signature", "Sign with your name as you typed it above.")
	}
	if utf8.RuneCountInString(a.Signature) > 120 {
		problems.Add("signature", "Use 120 characters at most.")
	}
	if err := problems.Err(); err != nil {
		return err
	}
	if _, err := t.Exec(ctx, `
		UPDATE doctor_links SET answered_at = $2, answer = $3 WHERE token_hash = $1`, tokenHash(token), t.now, a); err != nil {
		return err
	}
	return t.audit(ctx, "referral.link_answer", link.ClientID, "referral/"+link.ReferralID.String(), nil)
}

// ConfirmInput is what a practitioner adds to a doctor's answer in confirming it.
type ConfirmInput struct {
	Specialist bool   // the doctor is a specialist of the disease in question
	Supersedes string // id of the decision before; "" for none
	Release    bool   // release the holds that it covers
}

// ConfirmAnswer makes a decision of the answer that a doctor gave with a link: the
// practitioner has seen that it comes from the doctor. What the doctor answered is
// taken as it came.
func (s *Store) ConfirmAnswer(ctx context.Context, actor Actor, client, referral uuid.UUID, in ConfirmInput) (RecordedClearance, error) {
	var r RecordedClearance
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		_, letter, err := t.referralStatus(ctx, client, referral)
		if err != nil {
			return err
		}
		if letter.Pending == nil {
			return domain.ErrConflict
		}
		d := letter.Pending.Decision
		d.DecidedBy.Specialist, d.Supersedes = in.Specialist, in.Supersedes
		if r, err = t.recordClearance(ctx, c, ClearanceInput{Decision: d, Referral: referral, Release: in.Release}); err != nil {
			return err
		}
		_, err = t.Exec(ctx, `
			UPDATE doctor_links SET settled_at = $2, settled_by = $3, clearance_id = $4
			WHERE referral_id = $1 AND answered_at IS NOT NULL AND settled_at IS NULL`, referral, t.now, actor.ID, r.ID)
		return err
	})
	if err != nil {
		return RecordedClearance{}, fmt.Errorf("confirm answer to referral %s: %w", referral, err)
	}
	return r, nil
}

// SetAsideAnswer settles an answer given with a link as not to be counted, such as
// one that does not come from the doctor. The letter still waits.
func (s *Store) SetAsideAnswer(ctx context.Context, actor Actor, client, referral uuid.UUID, reason string) error {
	reason = strings.TrimSpace(reason)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		_, letter, err := t.referralStatus(ctx, client, referral)
		if err != nil {
			return err
		}
		if letter.Pending == nil {
			return domain.ErrConflict
		}
		var problems domain.Problems
		reasonProblem(&problems, "reason", reason)
		if err := problems.Err(); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			UPDATE doctor_links SET settled_at = $2, settled_by = $3, settle_reason = $4
			WHERE referral_id = $1 AND answered_at IS NOT NULL AND settled_at IS NULL`, referral, t.now, actor.ID, reason); err != nil {
			return err
		}
		return t.audit(ctx, "referral.answer_set_aside", client, "referral/"+referral.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("set aside answer to referral %s: %w", referral, err)
	}
	return nil
}
