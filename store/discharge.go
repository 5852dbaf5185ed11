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
	"brae/domain/clearance"
	"brae/domain/report"
)

// Discharge is how the care of a client ended.
type Discharge struct {
	ID       uuid.UUID
	Outcome  report.Outcome
	Words    string
	ReportID uuid.UUID // the final report
	Open     []string  // what was named as still open
	ClosedAt time.Time
	ClosedBy string // name of the account
	Reopened *Reopening
}

// Reopening is how a closed record was opened again.
type Reopening struct {
	At     time.Time
	By     string // name of the account
	Reason string
	Held   bool // until the client is screened again
}

// OpenMatter is something that is not settled when care ends. It stays in the record.
type OpenMatter struct {
	Kind string // hold, letter, answer, flag, intake
	Text string
	Path string // of its page, below the record
}

// OpenMatters returns what is not settled about a client: holds, letters without
// an answer, flags, an intake under way.
func (s *Store) OpenMatters(ctx context.Context, actor Actor, client uuid.UUID) ([]OpenMatter, error) {
	var list []OpenMatter
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if _, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		if list, err = t.openMatters(ctx, client); err != nil {
			return err
		}
		return t.audit(ctx, "discharge.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return nil, fmt.Errorf("what is open about client %s: %w", client, err)
	}
	return list, nil
}

func (t *tx) openMatters(ctx context.Context, client uuid.UUID) ([]OpenMatter, error) {
	var list []OpenMatter
	holds, err := t.openHolds(ctx, client)
	if err != nil {
		return nil, err
	}
	for _, h := range holds {
		list = append(list, OpenMatter{"hold", h.Reason, "/holds"})
	}
	letters, err := t.referrals(ctx, client)
	if err != nil {
		return nil, err
	}
	for _, r := range letters {
		to := r.Letter.Doctor
		if to == "" {
			to = "a doctor not named yet"
		}
		path := "/letters/" + r.ID.String()
		switch {
		case r.Pending != nil:
			list = append(list, OpenMatter{"answer", "An answer of " + to + " waits to be confirmed.", path})
		case r.Status == clearance.Draft:
			list = append(list, OpenMatter{"letter", "A letter to " + to + " is not sent yet.", path})
		case r.Open() || r.Status == clearance.NoAnswer:
			list = append(list, OpenMatter{"letter", "A letter to " + to + " has no answer.", path})
		}
	}
	flags, err := t.openFlags(ctx, client)
	if err != nil {
		return nil, err
	}
	for _, f := range flags {
		list = append(list, OpenMatter{"flag", f.Text, strings.TrimPrefix(f.Href, "/clients/"+client.String())})
	}
	var drafted bool
	if err := t.QueryRow(ctx, `SELECT EXISTS (SELECT FROM intake_drafts WHERE client_id = $1)`, client).Scan(&drafted); err != nil {
		return nil, err
	}
	if drafted {
		list = append(list, OpenMatter{"intake", "An intake is under way.", "/intake"})
	}
	return list, nil
}

// newestDischarge returns how the care of a client last ended; nil if it never did.
func (t *tx) newestDischarge(ctx context.Context, client uuid.UUID) (*Discharge, error) {
	rows, _ := t.Query(ctx, `
		SELECT d.id, d.outcome, d.words, d.report_id, d.open, d.closed_at, a.name AS closed_by,
			r.at, coalesce(b.name, '') AS by, coalesce(r.reason, '') AS reason, r.hold_id IS NOT NULL AS held
		FROM discharges d JOIN accounts a ON a.id = d.closed_by
		LEFT JOIN reopenings r ON r.discharge_id = d.id LEFT JOIN accounts b ON b.id = r.by
		WHERE d.client_id = $1 ORDER BY d.closed_at DESC, d.id DESC LIMIT 1`, client)
	row, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[struct {
		ID, ReportID uuid.UUID
		Outcome      report.Outcome
		Words        string
		Open         []string
		ClosedAt     time.Time
		ClosedBy     string
		At           *time.Time
		By, Reason   string
		Held         bool
	}])
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	d := &Discharge{
		ID: row.ID, Outcome: row.Outcome, Words: row.Words, ReportID: row.ReportID, Open: row.Open, ClosedAt: row.ClosedAt, ClosedBy: row.ClosedBy,
	}
	if row.At != nil {
		d.Reopened = &Reopening{*row.At, row.By, row.Reason, row.Held}
	}
	return d, nil
}

// DischargeInput is what ends the care of a client.
type DischargeInput struct {
	report.Discharge
	Version  int    // reports that the form was shown with
	Language string // of the final report
}

// DischargeClient ends the care of a client: it signs the final report and closes
// the record, which is kept. What is open stays open; a doctor's one-time link
// works no more. It returns [domain.Problems] for what is missing and
// [domain.ErrConflict] if the record is closed already.
func (s *Store) DischargeClient(ctx context.Context, actor Actor, client uuid.UUID, in DischargeInput) (final uuid.UUID, err error) {
	err = s.change(ctx, actor, func(t *tx) error {
		final, err = t.discharge(ctx, client, in)
		return err
	})
	if err != nil {
		return uuid.Nil, fmt.Errorf("discharge client %s: %w", client, err)
	}
	return final, nil
}

func (t *tx) discharge(ctx context.Context, client uuid.UUID, in DischargeInput) (uuid.UUID, error) {
	c, err := t.lockClient(ctx, client, true)
	if err != nil {
		return uuid.Nil, err
	}
	if c.ClosedAt != nil {
		return uuid.Nil, domain.ErrConflict
	}
	matters, err := t.openMatters(ctx, client)
	if err != nil {
		return uuid.Nil, err
	}
	problems := in.Check(len(matters) > 0)
	if in.Language != "en" && in.Language != "es" {
		problems.Add("language", "Choose a language.")
	}
	if err := problems.Err(); err != nil {
		return uuid.Nil, err
	}
	figures, err := t.figures(ctx, c, domain.Date{}, domain.Date{})
	if err != nil {
		return uuid.Nil, err
	}
	signing := ReportSigning{Version: in.Version, Reader: report.ForClient, Language: in.Language, Text: in.Text}
	if in.Outcome == report.Died { // nobody else reads it
		signing.Reader = report.ForDoctor
	}
	final, err := t.signReport(ctx, client, signing, figures, in.Advice, true)
	if err != nil {
		return uuid.Nil, err
	}
	named := make([]string, len(matters))
	for i, m := range matters {
		named[i] = m.Text
	}
	id := newID()
	if _, err := t.Exec(ctx, `
		INSERT INTO discharges (id, client_id, outcome, words, report_id, open, closed_at, closed_by) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		id, client, string(in.Outcome), strings.TrimSpace(in.Words), final, named, t.now, t.actor.ID); err != nil {
		return uuid.Nil, err
	}
	if _, err := t.Exec(ctx, `UPDATE clients SET closed_at = $2 WHERE id = $1`, client, t.now); err != nil {
		return uuid.Nil, err
	}
	return final, t.audit(ctx, "client.close", client, "discharge/"+id.String(), map[string]any{"outcome": in.Outcome, "open": len(matters)})
}

// ReopenClient opens a closed record again. If the last screening is older than the
// practice lets it be, all exercise is on hold until the client is screened again.
// It returns [domain.Problems] without a reason and [domain.ErrConflict] if the
// record is open.
func (s *Store) ReopenClient(ctx context.Context, actor Actor, client uuid.UUID, reason string) error {
	reason = strings.TrimSpace(reason)
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		d, err := t.newestDischarge(ctx, client)
		if err != nil {
			return err
		}
		if c.ClosedAt == nil || d == nil {
			return domain.ErrConflict
		}
		var problems domain.Problems
		if reason == "" {
			problems.Add("reason", "Say why the record is opened again.")
		} else if utf8.RuneCountInString(reason) > report.WordsMost {
			problems.Add("reason", "Use 300 characters at most.")
		}
		if err := problems.Err(); err != nil {
			return err
		}
		return t.reopen(ctx, client, d.ID, reason)
	})
	if err != nil {
		return fmt.Errorf("reopen client %s: %w", client, err)
	}
	return nil
}

func (t *tx) reopen(ctx context.Context, client, discharge uuid.UUID, reason string) error {
	newest, err := t.newestScreening(ctx, client)
	if err != nil {
		return err
	}
	var hold uuid.UUID
	if newest != nil && report.NeedsScreening(newest.DecidedOn, t.today, report.PolicyFrom(t.settings)) { // without one nothing can be prescribed anyway
		hold = newID()
		if _, err := t.Exec(ctx, `
			INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, since, opened_at, opened_by)
			VALUES ($1, $2, $3, $4, 'reopened', 'discharge.reopen', $5, $6, $7, $8, $9)`,
			hold, client, clearance.All, string(clearance.FromPractitioner),
			"Back after a break in care: the screening of "+newest.DecidedOn.Words()+" is too old. Until the client is screened again.",
			string(clearance.NeedsPractitioner), t.today, t.now, t.actor.ID); err != nil {
			return err
		}
		if err := t.audit(ctx, "hold.open", client, "hold/"+hold.String(), map[string]any{"scope": clearance.All.String()}); err != nil {
			return err
		}
	}
	if _, err := t.Exec(ctx, `
		INSERT INTO reopenings (discharge_id, reason, hold_id, at, by) VALUES ($1, $2, $3, $4, $5)`,
		discharge, reason, orNull(hold), t.now, t.actor.ID); err != nil {
		return err
	}
	if _, err := t.Exec(ctx, `UPDATE clients SET closed_at = NULL WHERE id = $1`, client); err != nil {
		return err
	}
	return t.audit(ctx, "client.reopen", client, "discharge/"+discharge.String(), map[string]any{"held": hold != uuid.Nil})
}

// ClosedLine is a client whose record is closed.
type ClosedLine struct {
	ID           uuid.UUID
	GivenName    string
	FamilyName   string
	BirthDate    domain.Date
	Practitioner string
	ClosedAt     time.Time
	Outcome      report.Outcome // "" where nobody wrote it down
}

// Name is the name as it stands on pages.
func (l ClosedLine) Name() string { return l.GivenName + " " + l.FamilyName }

// ClosedClients lists the closed records that the actor may see, by last name. A
// search matches the beginning of either name.
func (s *Store) ClosedClients(ctx context.Context, actor Actor, search string) ([]ClosedLine, error) {
	if !actor.Role.Staff() {
		return nil, domain.ErrForbidden
	}
	var list []ClosedLine
	err := s.change(ctx, actor, func(t *tx) (err error) {
		rows, _ := t.Query(ctx, `
			SELECT c.id, c.given_name, c.family_name, c.birth_date, a.name AS practitioner, c.closed_at,
				coalesce((SELECT outcome FROM discharges d WHERE d.client_id = c.id ORDER BY d.closed_at DESC, d.id DESC LIMIT 1), '') AS outcome
			FROM clients c JOIN accounts a ON a.id = c.practitioner_id
			WHERE c.closed_at IS NOT NULL AND `+seen+` AND (c.family_name ILIKE @search OR c.given_name ILIKE @search)
			ORDER BY c.id`, actor.args(pgx.NamedArgs{"search": likePrefix(search)}))
		if list, err = pgx.CollectRows(rows, pgx.RowToStructByName[ClosedLine]); err != nil {
			return err
		}
		sortByName(list, func(l ClosedLine) string { return l.FamilyName }, func(l ClosedLine) string { return l.GivenName })
		return t.audit(ctx, "caseload.view", uuid.Nil, "caseload/closed", map[string]any{"clients": len(list)})
	})
	if err != nil {
		return nil, fmt.Errorf("closed clients: %w", err)
	}
	return list, nil
}

// open returns [domain.ErrClosed] for a closed record, in which nothing is begun.
func (c Client) open() error {
	if c.ClosedAt != nil {
		return domain.ErrClosed
	}
	return nil
}
