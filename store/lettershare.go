package store

import (
	"context"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/consent"
)

// shares are the consents to share that are in force.
func (t *tx) shares(ctx context.Context, client uuid.UUID) ([]Consent, error) {
	list, err := t.consents(ctx, client)
	return slices.DeleteFunc(list, func(c Consent) bool { return c.Kind != string(consent.Share) || !c.InForce(t.today) }), err
}

// ground sees on what ground a letter is about to go to the doctor, and adds the
// problems of its fields. A consent that is given now is returned, to be recorded
// with the letter.
func (t *tx) ground(ctx context.Context, client uuid.UUID, l *Letter, problems *domain.Problems) (*consent.Given, error) {
	l.Why = strings.TrimSpace(l.Why)
	if utf8.RuneCountInString(l.Why) > 200 {
		problems.Add("consent_why", "Use 200 characters at most.")
	}
	if l.Ground == "" && !l.ConsentOn.IsZero() {
		l.Ground = consent.AgreesNow
	}
	switch {
	case l.Ground.Exception():
		if l.Why == "" {
			problems.Add("consent_why", "Write why this goes to the doctor without the client's consent.")
		}
		l.ConsentOn, l.ConsentUntil, l.ConsentHow, l.Consent = domain.Date{}, domain.Date{}, "", uuid.Nil
		return nil, nil
	case l.Ground == consent.OnRecord:
		return nil, t.groundOnRecord(ctx, client, l, problems)
	case l.Ground != consent.AgreesNow:
		problems.Add("ground", "Say how the client has agreed that this doctor hears it, or why it goes without. Without either nothing is sent.")
		return nil, nil
	}
	g := consent.Given{
		Kind: consent.Share, Recipient: l.Doctor, Purpose: "To ask for guidance about exercise", What: "What stands in the letter", How: l.ConsentHow, On: l.ConsentOn,
	}
	if !l.ConsentUntil.IsZero() {
		g.Expires = l.ConsentUntil.AddDays(1)
	}
	g, err := consent.Check(g, t.today, consent.ShareMonths(t.settings))
	for field, sentence := range problemsIn(err) {
		if at, ok := map[string]string{"given_on": "consent_on", "expires_on": "consent_until", "how": "consent_how"}[field]; ok {
			problems.Add(at, sentence)
		}
	}
	if err == nil && !g.InForce(t.today) {
		problems.Add("consent_until", "The client's consent has ended. Ask again before anything is sent.")
	}
	if err == nil {
		l.ConsentUntil = g.Expires.AddDays(-1)
	}
	l.Consent, l.Why = uuid.Nil, ""
	return &g, nil
}

func problemsIn(err error) domain.Problems {
	problems, _ := err.(domain.Problems)
	return problems
}

// groundOnRecord takes over what a consent on record says.
func (t *tx) groundOnRecord(ctx context.Context, client uuid.UUID, l *Letter, problems *domain.Problems) error {
	list, err := t.shares(ctx, client)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(list, func(c Consent) bool { return c.ID == l.Consent })
	switch {
	case i < 0:
		problems.Add("ground", "This consent counts no more. Ask the client again.")
		return nil
	case !isFor(list[i].Recipient, *l):
		problems.Add("ground", "This consent is to share with "+list[i].Recipient+". The letter goes to somebody else, who needs one of their own.")
	}
	l.ConsentOn, l.ConsentUntil, l.ConsentHow, l.Why = list[i].GivenOn, list[i].ExpiresOn.AddDays(-1), consent.How(list[i].How), ""
	return nil
}

// isFor reports whether the recipient of a consent is the one of the letter: the
// doctor, or where they work.
func isFor(recipient string, l Letter) bool {
	words := strings.Fields(plainName(recipient))
	missing := func(word string) bool { return !slices.Contains(words, word) }
	doctor := strings.Fields(plainName(l.Doctor))
	return len(doctor) > 0 && !slices.ContainsFunc(doctor, missing) || strings.Contains(strings.ToLower(l.Doctor+" "+l.Address), strings.ToLower(recipient))
}

// sharedUntil says why a letter may not be shared any more, "" if it may, and until
// when it may: the zero time is without an end.
func (t *tx) sharedUntil(ctx context.Context, client uuid.UUID, l Letter) (problem string, until time.Time, err error) {
	if l.Ground.Exception() {
		return "", time.Time{}, nil
	}
	if l.Consent != uuid.Nil {
		list, err := t.shares(ctx, client)
		if err != nil || !slices.ContainsFunc(list, func(c Consent) bool { return c.ID == l.Consent }) {
			return "The client's consent to share this has ended or was taken back. Ask again before anything goes to the doctor.", time.Time{}, err
		}
	} else if l.ConsentUntil.Before(t.today) {
		return "The client's consent has ended. Ask again before anything is sent.", time.Time{}, nil
	}
	end := l.ConsentUntil.AddDays(1)
	return "", time.Date(end.Year, end.Month, end.Day, 0, 0, 0, 0, t.practice.Location), nil
}

// voidLinksOf ends the links of letters that rest on a consent.
func (t *tx) voidLinksOf(ctx context.Context, client, id uuid.UUID) error {
	_, err := t.Exec(ctx, `
		UPDATE doctor_links l SET voided_at = $3
		FROM referrals r JOIN LATERAL (SELECT letter FROM referral_versions WHERE referral_id = r.id ORDER BY version DESC LIMIT 1) v ON true
		WHERE l.referral_id = r.id AND r.client_id = $1 AND v.letter->>'consent' = $2::text AND l.voided_at IS NULL AND l.answered_at IS NULL`,
		client, id.String(), t.now)
	return err
}
