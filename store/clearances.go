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

// ClearanceInput is a doctor's decision as a practitioner records it. Its id, who
// records it, and whether the doctor treats the client here are not the form's to
// say.
type ClearanceInput struct {
	clearance.Decision
	Referral uuid.UUID // the letter that it answers; the nil id for none
	Note     string
	Release  bool // release the holds that it covers
}

// RecordedClearance says what came of recording a decision.
type RecordedClearance struct {
	ID       uuid.UUID
	Released []Hold
}

// RecordClearance records a doctor's decision, and releases the holds that it
// covers if that is asked for. It returns [domain.Problems] by field.
func (s *Store) RecordClearance(ctx context.Context, actor Actor, client uuid.UUID, in ClearanceInput) (RecordedClearance, error) {
	var r RecordedClearance
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		r, err = t.recordClearance(ctx, c, in)
		return err
	})
	if err != nil {
		return RecordedClearance{}, fmt.Errorf("record clearance of client %s: %w", client, err)
	}
	return r, nil
}

func (t *tx) recordClearance(ctx context.Context, c Client, in ClearanceInput) (RecordedClearance, error) {
	r := RecordedClearance{ID: newID()}
	f, err := t.clearanceFile(ctx, c.ID)
	if err != nil {
		return r, err
	}
	d := in.Decision
	d.ID, d.RecordedBy = r.ID.String(), t.actor.ID.String()
	if d.Work == "" {
		d.Work = clearance.Both
	}
	if err := t.ownDoctor(ctx, c, &d.DecidedBy); err != nil {
		return r, err
	}
	problems := f.CheckAdd(d, t.today, f.policy)
	tooLong(&problems, in)
	if in.Referral != uuid.Nil {
		// A letter that waits is answered by this.
		status, _, err := t.referralStatus(ctx, c.ID, in.Referral)
		if err != nil {
			return r, err
		}
		if status != clearance.Answered && !status.MayBecome(clearance.Answered) {
			problems.Add("referral", "This letter cannot be answered: it was not sent, or was withdrawn.")
		}
	}
	if err := problems.Err(); err != nil {
		return r, err
	}
	if err := t.insertClearance(ctx, c.ID, r.ID, in, d); err != nil {
		return r, err
	}
	if in.Referral != uuid.Nil {
		if err := t.referralEvent(ctx, c.ID, in.Referral, clearance.Answered, d.ReceivedOn, "", ""); err != nil && !errors.Is(err, errNothingToDo) {
			return r, err
		}
	}
	if err := t.audit(ctx, "clearance.record", c.ID, "clearance/"+r.ID.String(), map[string]any{"outcome": string(d.Outcome)}); err != nil {
		return r, err
	}
	if !in.Release {
		return r, nil
	}
	r.Released, err = t.releaseCovered(ctx, c.ID, "The decision of "+d.DecidedBy.Name+" of "+d.DecidedOn.Words()+" covers it.")
	return r, err
}

// releaseCovered releases the holds that doctors' decisions cover now.
func (t *tx) releaseCovered(ctx context.Context, client uuid.UUID, reason string) ([]Hold, error) {
	f, err := t.clearanceFile(ctx, client)
	if err != nil {
		return nil, err
	}
	var released []Hold
	for _, h := range f.All {
		if h.Released != nil || h.Needs == clearance.NeedsPractitioner || h.Needs == clearance.NeedsStatement {
			continue // these end by another word than a doctor's
		}
		release, err := f.canRelease(h, t, reason)
		if errors.Is(err, domain.ErrHeld) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if err := t.release(ctx, client, h.ID, release); err != nil {
			return nil, err
		}
		released = append(released, h)
	}
	return released, nil
}

// ownDoctor says whether the doctor is the client's own practitioner here, and
// whether the lead has noted that they may clear their own clients.
func (t *tx) ownDoctor(ctx context.Context, c Client, by *clearance.Clinician) error {
	rows, _ := t.Query(ctx, `
		SELECT a.name, coalesce((SELECT licence FROM clearing_practitioners p WHERE p.account_id = a.id ORDER BY p.id DESC LIMIT 1), '')
		FROM accounts a WHERE a.id IN ($1, $2)`, c.PractitionerID, t.actor.ID)
	own, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct{ Name, Licence string }])
	by.MayClearClient = false
	for _, o := range own {
		if sameName(o.Name, by.Name) {
			by.TreatsClient = true
			by.MayClearClient = by.MayClearClient || o.Licence != ""
		}
	}
	return err
}

// sameName compares two names as people type them, without titles.
func sameName(a, b string) bool { return plainName(a) == plainName(b) }

func plainName(name string) string {
	var words []string
	for _, w := range strings.Fields(strings.ToLower(name)) {
		if w = strings.Trim(w, ".,"); w != "dr" && w != "prof" && w != "med" && w != "doctor" {
			words = append(words, w)
		}
	}
	slices.Sort(words)
	return strings.Join(words, " ")
}

// tooLong adds the problems of texts that are longer than a form lets them be.
func tooLong(problems *domain.Problems, in ClearanceInput) {
	by := in.DecidedBy
	for _, f := range []struct {
		field, text string
		most        int
	}{
		{"decided_by.name", by.Name, 120}, {"decided_by.registration", by.Registration, 120}, {"decided_by.organisation", by.Organisation, 200},
		{"decided_by.contact", by.Contact, 300}, {"activity", in.Activity, 120}, {"note", in.Note, 2000},
	} {
		if utf8.RuneCountInString(f.text) > f.most {
			problems.Add(f.field, fmt.Sprintf("Use %d characters at most.", f.most))
		}
	}
	for i, r := range in.Restrictions {
		if utf8.RuneCountInString(r.Says) > 300 {
			problems.Add(fmt.Sprintf("restrictions[%d]", i), "Use 300 characters at most.")
		}
	}
	for i, e := range in.Expected {
		if utf8.RuneCountInString(e.Limit) > 300 {
			problems.Add(fmt.Sprintf("expected[%d]", i), "Use 300 characters at most.")
		}
	}
}

func (t *tx) insertClearance(ctx context.Context, client, id uuid.UUID, in ClearanceInput, d clearance.Decision) error {
	var supersedes uuid.UUID
	if d.Supersedes != "" {
		var err error
		if supersedes, err = uuid.Parse(d.Supersedes); err != nil {
			return domain.Problems{"supersedes": "The decision that this one supersedes is not on file."}
		}
	}
	_, err := t.Exec(ctx, `
		INSERT INTO clearances (id, client_id, referral_id, doctor_name, profession, specialist, registration, organisation, contact,
			treats_client, may_clear, decided_on, received_on, channel, outcome, ceiling, limits, supervised_only, unsupervised,
			restrictions, expected, work, activity, considered, valid_from, valid_until, phase_ii, supersedes, note, recorded_at, recorded_by)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $22, $23, $24, $25, $26, $27,
			$28, $29, $30, $31)`,
		id, client, orNull(in.Referral), d.DecidedBy.Name, string(d.DecidedBy.Profession), d.DecidedBy.Specialist, d.DecidedBy.Registration,
		d.DecidedBy.Organisation, d.DecidedBy.Contact, d.DecidedBy.TreatsClient, d.DecidedBy.MayClearClient, d.DecidedOn, d.ReceivedOn,
		string(d.Channel), string(d.Outcome), d.Ceiling, d.Limits, d.SupervisedOnly, d.Unsupervised, notNil(d.Restrictions), notNil(d.Expected),
		string(d.Work), d.Activity, notNil(d.Considered), d.ValidFrom, d.ValidUntil, d.PhaseII, orNull(supersedes), in.Note, t.now, t.actor.ID)
	return err
}

// notNil makes an empty list of none, which JSON and arrays tell apart.
func notNil[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// ClearanceEvent is something that became of a decision.
type ClearanceEvent struct {
	Kind   string // confirmed, revoked or entered_in_error
	Day    domain.Date
	Reason string
	At     time.Time
	By     string // name of the account
}

// The kinds of [ClearanceEvent].
const (
	ClearanceConfirmed = "confirmed"
	ClearanceRevoked   = "revoked"
	ClearanceErroneous = "entered_in_error"
)

// ConfirmClearance records the written confirmation of a decision by phone.
func (s *Store) ConfirmClearance(ctx context.Context, actor Actor, client, id uuid.UUID, on domain.Date, reason string) error {
	return s.clearanceEvent(ctx, actor, client, id, ClearanceConfirmed, on, reason)
}

// RevokeClearance takes a decision back from today on. Only the lead may.
func (s *Store) RevokeClearance(ctx context.Context, actor Actor, client, id uuid.UUID, reason string) error {
	return s.clearanceEvent(ctx, actor, client, id, ClearanceRevoked, domain.Date{}, reason)
}

// MarkClearanceErroneous marks a decision as entered in error: it never counted.
func (s *Store) MarkClearanceErroneous(ctx context.Context, actor Actor, client, id uuid.UUID, reason string) error {
	return s.clearanceEvent(ctx, actor, client, id, ClearanceErroneous, domain.Date{}, reason)
}

func (s *Store) clearanceEvent(ctx context.Context, actor Actor, client, id uuid.UUID, kind string, on domain.Date, reason string) error {
	reason = strings.TrimSpace(reason)
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, true); err != nil {
			return err
		}
		if kind == ClearanceRevoked && actor.Role != domain.RoleLead {
			return domain.ErrForbidden
		}
		f, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(f.Decisions, func(d clearance.Decision) bool { return d.ID == id.String() })
		if i < 0 {
			return domain.ErrNotFound
		}
		d := f.Decisions[i]
		if on.IsZero() && kind != ClearanceConfirmed {
			on = t.today
		}
		var problems domain.Problems
		reasonProblem(&problems, "reason", reason)
		switch kind {
		case ClearanceConfirmed:
			if d.Channel != clearance.Phone || !d.ConfirmedOn.IsZero() {
				return domain.ErrConflict
			}
			if !on.Valid() {
				problems.Add("confirmed_on", "Type the day the written confirmation came.")
			} else {
				d.ConfirmedOn = on
				if sentence := clearance.Check(d, t.today, f.policy)["confirmed_on"]; sentence != "" {
					problems.Add("confirmed_on", sentence)
				}
			}
		case ClearanceRevoked:
			if !d.RevokedOn.IsZero() || d.Erroneous {
				return domain.ErrConflict
			}
		case ClearanceErroneous:
			if d.Erroneous {
				return domain.ErrConflict
			}
		}
		if err := problems.Err(); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `
			INSERT INTO clearance_events (id, clearance_id, kind, day, reason, at, by) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
			newID(), id, kind, on, reason, t.now, actor.ID); err != nil {
			return err
		}
		return t.audit(ctx, "clearance."+kind, client, "clearance/"+id.String(), nil)
	})
	if err != nil {
		return fmt.Errorf("clearance %s of client %s %s: %w", id, client, kind, err)
	}
	return nil
}

// LetOwnDoctorClear notes the licence under which a practitioner may clear their
// own clients, or takes that back with an empty one. Only the lead may.
func (s *Store) LetOwnDoctorClear(ctx context.Context, actor Actor, account uuid.UUID, licence string) error {
	if actor.Role != domain.RoleLead {
		return domain.ErrForbidden
	}
	licence = strings.TrimSpace(licence)
	err := s.change(ctx, actor, func(t *tx) error {
		var problems domain.Problems
		lengthProblem(&problems, "licence", licence)
		if err := problems.Err(); err != nil {
			return err
		}
		tag, err := t.Exec(ctx, `
			INSERT INTO clearing_practitioners (id, account_id, licence, at, by)
			SELECT $1, a.id, $3, $4, $5 FROM accounts a WHERE a.id = $2 AND a.role <> 'client' AND a.disabled_at IS NULL`,
			newID(), account, licence, t.now, actor.ID)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return domain.ErrNotFound
		}
		return t.audit(ctx, "account.may_clear", uuid.Nil, "account/"+account.String(), map[string]any{"may": licence != ""})
	})
	if err != nil {
		return fmt.Errorf("let account %s clear: %w", account, err)
	}
	return nil
}

// Clearance is a doctor's decision with where it stands.
type Clearance struct {
	clearance.Standing
	ID         uuid.UUID
	Referral   uuid.NullUUID
	Note       string
	RecordedAt time.Time
	RecordedBy string // name of the account
	Lapses     domain.Date
	Warning    int // days: which of the warnings before it lapses is due; 0 for none
	Events     []ClearanceEvent
	Documents  []Document
}

// DoctorFile is what the page of a client's doctor review shows.
type DoctorFile struct {
	Client    Client
	Today     domain.Date
	Holds     []Hold
	Decisions []Clearance // the newest first
	Referrals []Referral  // the newest first
	Bounds    Bounds
	Screened  bool
	Causes    []string // codes that a decision may release: causes and findings of the screening, causes of open holds
}

// DoctorFile returns the doctor review of a client.
func (s *Store) DoctorFile(ctx context.Context, actor Actor, client uuid.UUID) (DoctorFile, error) {
	var v DoctorFile
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if v, err = t.doctorFile(ctx, client); err != nil {
			return err
		}
		return t.audit(ctx, "doctor.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return DoctorFile{}, fmt.Errorf("doctor review of client %s: %w", client, err)
	}
	return v, nil
}

func (t *tx) doctorFile(ctx context.Context, client uuid.UUID) (v DoctorFile, err error) {
	if v.Client, err = t.lockClient(ctx, client, true); err != nil {
		return v, err
	}
	f, err := t.clearanceFile(ctx, client)
	if err != nil {
		return v, err
	}
	v.Today, v.Holds, v.Bounds, v.Screened = t.today, f.Holds, f.bounds(), f.Screening != nil
	v.Causes = f.causes()
	if v.Decisions, err = t.clearances(ctx, &f); err != nil {
		return v, err
	}
	v.Referrals, err = t.referrals(ctx, client)
	return v, err
}

// causes are the codes that a doctor may release, each once.
func (f *clearanceFile) causes() []string {
	var codes []string
	add := func(code string) {
		if code != "" && !slices.Contains(codes, code) {
			codes = append(codes, code)
		}
	}
	for _, h := range f.Holds {
		if h.Needs == clearance.NeedsDoctor || h.Needs == clearance.NeedsResolution {
			add(h.Cause)
		}
	}
	for _, c := range f.Decision.Causes {
		add(c.Code)
	}
	for _, code := range f.Decision.Findings {
		add(code)
	}
	if f.Screening == nil {
		return codes
	}
	flags := f.Screening.Input.Flags()
	if flags.Systolic >= f.policy.FlagSystolic || flags.Diastolic >= f.policy.FlagDiastolic {
		add(clearance.FlagBloodPressure)
	}
	if flags.RateMedicine {
		add(clearance.FlagRateMedicine)
	}
	if flags.Pregnant {
		add(clearance.FlagPregnant)
	}
	return codes
}

// clearances are the decisions of a file with all that is known of them, the
// newest first.
func (t *tx) clearances(ctx context.Context, f *clearanceFile) ([]Clearance, error) {
	rows, _ := t.Query(ctx, `
		SELECT d.id, d.referral_id, d.note, d.recorded_at, a.name AS recorded_by
		FROM clearances d JOIN accounts a ON a.id = d.recorded_by
		WHERE d.client_id = $1`, f.Client)
	type row struct {
		ID         uuid.UUID
		ReferralID uuid.NullUUID
		Note       string
		RecordedAt time.Time
		RecordedBy string
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[row])
	if err != nil {
		return nil, err
	}
	rows, _ = t.Query(ctx, `
		SELECT e.clearance_id, e.kind, e.day, e.reason, e.at, a.name AS by
		FROM clearance_events e JOIN clearances d ON d.id = e.clearance_id JOIN accounts a ON a.id = e.by
		WHERE d.client_id = $1 ORDER BY e.id`, f.Client)
	type event struct {
		ClearanceID uuid.UUID
		ClearanceEvent
	}
	events, err := pgx.CollectRows(rows, pgx.RowToStructByName[event])
	if err != nil {
		return nil, err
	}
	documents, err := t.documents(ctx, f.Client)
	if err != nil {
		return nil, err
	}
	var all []Clearance
	for _, s := range slices.Backward(f.Standings(f.today, f.policy)) {
		i := slices.IndexFunc(list, func(r row) bool { return r.ID.String() == s.Decision.ID })
		if i < 0 {
			continue
		}
		c := Clearance{
			Standing: s, ID: list[i].ID, Referral: list[i].ReferralID, Note: list[i].Note, RecordedAt: list[i].RecordedAt,
			RecordedBy: list[i].RecordedBy, Lapses: s.Decision.Lapses(f.policy),
		}
		if s.State.InForce() {
			c.Warning = clearance.Warning(s.Decision, f.today, f.policy)
		}
		for _, e := range events {
			if e.ClearanceID == c.ID {
				c.Events = append(c.Events, e.ClearanceEvent)
			}
		}
		for _, d := range documents {
			if d.ClearanceID == c.ID {
				c.Documents = append(c.Documents, d)
			}
		}
		all = append(all, c)
	}
	return all, nil
}

// Clearance returns one decision with where it stands.
func (s *Store) Clearance(ctx context.Context, actor Actor, client, id uuid.UUID) (Client, Clearance, error) {
	var c Client
	var found Clearance
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if c, err = t.lockClient(ctx, client, true); err != nil {
			return err
		}
		f, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		all, err := t.clearances(ctx, &f)
		if err != nil {
			return err
		}
		i := slices.IndexFunc(all, func(o Clearance) bool { return o.ID == id })
		if i < 0 {
			return domain.ErrNotFound
		}
		found = all[i]
		return t.audit(ctx, "clearance.view", client, "clearance/"+id.String(), nil)
	})
	if err != nil {
		return Client{}, Clearance{}, fmt.Errorf("clearance %s of client %s: %w", id, client, err)
	}
	return c, found, nil
}
