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
	"brae/domain/intensity"
	"brae/domain/screening"
)

// Letter is what a letter to a doctor says. The questions are the same in every
// letter and stand on its page. A field left empty is left out: the doctor gets
// what the answer needs and nothing else.
type Letter struct {
	Doctor       string      `json:"doctor"`
	Address      string      `json:"address"`
	From         string      `json:"from"` // practitioner, credentials and how to answer
	Trigger      string      `json:"trigger"`
	Symptoms     string      `json:"symptoms"`
	Diagnoses    string      `json:"diagnoses"`
	Medicines    string      `json:"medicines"`
	Vitals       string      `json:"vitals"`
	Activity     string      `json:"activity"`
	Plan         string      `json:"plan"`
	More         string      `json:"more"`
	ConsentOn    domain.Date `json:"consent_on"`    // the day the client agreed in writing that this is sent
	ConsentUntil domain.Date `json:"consent_until"` // the last day of that
}

// letterFields are the texts of a letter with how long each may be, so that the
// letter stays one page.
func (l *Letter) letterFields() []struct {
	field string
	text  *string
	most  int
} {
	return []struct {
		field string
		text  *string
		most  int
	}{
		{"doctor", &l.Doctor, 120}, {"address", &l.Address, 200}, {"from", &l.From, 200}, {"trigger", &l.Trigger, 300}, {"symptoms", &l.Symptoms, 300},
		{"diagnoses", &l.Diagnoses, 200}, {"medicines", &l.Medicines, 300}, {"vitals", &l.Vitals, 150}, {"activity", &l.Activity, 150},
		{"plan", &l.Plan, 300}, {"more", &l.More, 200},
	}
}

// What fits on one page of the letter as it is printed, beside the questions:
// lines, and characters of a line. A browser test prints the longest letter.
const (
	letterLines = 33
	letterWidth = 85
)

// check reports what keeps a letter from being saved, and, if it is to be sent,
// from being sent.
func (l *Letter) check(today domain.Date, send bool) domain.Problems {
	var problems domain.Problems
	lines := 0
	for _, f := range l.letterFields() {
		*f.text = strings.TrimSpace(strings.ReplaceAll(*f.text, "\r\n", "\n"))
		if utf8.RuneCountInString(*f.text) > f.most {
			problems.Add(f.field, fmt.Sprintf("Use %d characters at most, so that the letter stays one page.", f.most))
		}
		for line := range strings.SplitSeq(*f.text, "\n") {
			lines += 1 + utf8.RuneCountInString(line)/letterWidth
		}
	}
	if lines > letterLines {
		problems.Add("trigger", "The letter does not fit on one page. Use fewer lines, here or below.")
	}
	if !l.ConsentOn.IsZero() && l.ConsentOn.After(today) {
		problems.Add("consent_on", "This day is in the future.")
	}
	if !l.ConsentUntil.IsZero() && l.ConsentUntil.Before(l.ConsentOn) {
		problems.Add("consent_until", "The consent ends before it begins.")
	}
	if !send {
		return problems
	}
	for _, f := range []struct{ field, text, sentence string }{
		{"doctor", l.Doctor, "Type to whom the letter goes."},
		{"from", l.From, "Type who asks, and how to answer."},
		{"trigger", l.Trigger, "Say why you ask."},
		{"plan", l.Plan, "Say what you plan, and how it builds up."},
	} {
		if f.text == "" {
			problems.Add(f.field, f.sentence)
		}
	}
	switch {
	case l.ConsentOn.IsZero():
		problems.Add("consent_on", "Type the day the client agreed in writing. Without consent nothing is sent.")
	case l.ConsentUntil.IsZero():
		problems.Add("consent_until", "Type until when the client agreed.")
	case l.ConsentUntil.Before(today):
		problems.Add("consent_until", "The client's consent has ended. Ask again before anything is sent.")
	}
	return problems
}

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
	Events    []ReferralEvent // in the order of time
	SentOn    domain.Date     // zero if it was not sent
	Waiting   clearance.Waiting
	Link      *DoctorLink   // the newest; nil if none was made
	Pending   *DoctorAnswer // given with the link and not settled yet
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
	r.Waiting = clearance.NothingDue
	if r.Status == clearance.Sent || r.Status == clearance.Received {
		r.Waiting = clearance.AfterSent(r.SentOn, t.today, clearance.PolicyFrom(t.settings))
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

// draftLetter fills in what the record knows.
func (t *tx) draftLetter(ctx context.Context, c Client, f *clearanceFile) (Letter, error) {
	var l Letter
	var name string
	if err := t.QueryRow(ctx, `SELECT name FROM accounts WHERE id = $1`, t.actor.ID).Scan(&name); err != nil {
		return l, err
	}
	l.From = name + "\n" + t.practice.Name
	if t.practice.Phone != "" {
		l.From += ", phone " + t.practice.Phone
	}
	in, d, on := f.Screening.Input, f.Screening.Decision, f.Screening.DecidedOn
	var reasons []string
	for _, h := range f.Holds {
		if !slices.Contains(reasons, h.Reason) && (h.Needs == clearance.NeedsDoctor || h.Needs == clearance.NeedsResolution) {
			reasons = append(reasons, h.Reason)
		}
	}
	if reasons == nil && d.MayProgressTo < intensity.Vigorous {
		reasons = append(reasons, "The client wants to work harder than an earlier decision allows.")
	}
	l.Trigger = clip(strings.Join(reasons, " "), 300)
	var symptoms, diagnoses []string
	for _, term := range screening.Codes() {
		answer := in.Answers.Of(term.Code)
		if !answer.CountsAsYes() || term.Kind == screening.Complication || term.Kind == screening.Noted {
			continue // the doctor does not need it for this
		}
		text := term.Name
		if answer == screening.NotSure {
			text += " (not sure)"
		}
		if term.Kind == screening.Symptom {
			for _, cause := range f.Decision.Causes {
				if cause.Code == term.Code && !cause.Since.IsZero() {
					text += ", reported on " + cause.Since.Words()
				}
			}
			symptoms = append(symptoms, text)
		} else {
			diagnoses = append(diagnoses, text)
		}
	}
	l.Symptoms, l.Diagnoses = clip(strings.Join(symptoms, "; "), 300), clip(strings.Join(diagnoses, "; "), 200)
	l.Medicines = clip(strings.Join(in.Medicines, "; "), 300)
	var vitals []string
	if in.Systolic != 0 {
		vitals = append(vitals, fmt.Sprintf("blood pressure %d/%d mmHg", in.Systolic, in.Diastolic))
	}
	if len(in.RestingReadings) > 0 {
		vitals = append(vitals, fmt.Sprintf("resting heart rate %d a minute", in.RestingReadings[0]))
	}
	if vitals != nil {
		l.Vitals = strings.Join(vitals, ", ") + " on " + on.Words()
	}
	l.Activity = fmt.Sprintf("%d days a week of %d minutes, for %d months", in.Activity.Days, in.Activity.Minutes, in.Activity.Months)
	if in.Activity.Days == 0 {
		l.Activity = "No regular exercise now"
	}
	start := min(in.Desired, intensity.Moderate)
	if !d.Regular {
		start = intensity.Light
	}
	l.Plan = fmt.Sprintf("Aerobic exercise, on their own between visits. Start with %s work of 10 to 30 minutes, three to five times a week. "+
		"Build up to %s work over three to six months.", start, max(in.Desired, intensity.Moderate))
	return l, nil
}

// clip ends a text at a length, at the end of a word.
func clip(text string, most int) string {
	letters := []rune(text)
	if len(letters) <= most {
		return text
	}
	cut := string(letters[:most-1])
	if i := strings.LastIndexByte(cut, ' '); i > 0 {
		cut = cut[:i]
	}
	return cut + "…"
}

// Referral returns a letter about a client.
func (s *Store) Referral(ctx context.Context, actor Actor, client, id uuid.UUID) (Client, Referral, error) {
	var c Client
	var r Referral
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if c, err = t.lockClient(ctx, client, true); err != nil {
			return err
		}
		if _, r, err = t.referralStatus(ctx, client, id); err != nil {
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
		if err := problems.Err(); err != nil {
			return err
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
