package store

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/report"
	"brae/domain/rulebook"
)

// reportDays is the longest period of a report: two years.
const reportDays = 731

// ReportDraft is a report as it would be signed today.
type ReportDraft struct {
	Client    Client
	Today     domain.Date
	Practice  Practice
	Language  string // of the client's account; "en" without one
	Figures   ReportFigures
	Shared    bool           // a consent to share with a doctor is in force
	Signed    []SignedReport // the newest first
	Discharge *Discharge     // the newest; nil before the first
	By        string         // name of who would sign it
}

// SignedReport is a report as it was signed.
type SignedReport struct {
	ID       uuid.UUID
	Version  int
	Reader   report.Reader
	Language string
	Since    domain.Date
	Until    domain.Date
	Text     string // the practitioner's own words
	Advice   string // of a final report, to go on with
	Final    bool   // signed with the discharge
	Figures  ReportFigures
	SignedAt time.Time
	SignedBy string // with title and registration, as signed
}

// Report returns what a report of a client says since a day, zero for the day of
// the first prescription, up to another, zero for today, with the reports signed
// before. It returns [domain.Problems] for a period that cannot be.
func (s *Store) Report(ctx context.Context, actor Actor, client uuid.UUID, since, until domain.Date) (ReportDraft, error) {
	var d ReportDraft
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if d.Client, err = t.viewClient(ctx, client); err != nil {
			return err
		}
		if d, err = t.reportDraft(ctx, d.Client, since, until); err != nil {
			return err
		}
		return t.audit(ctx, "report.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return ReportDraft{}, fmt.Errorf("report about client %s: %w", client, err)
	}
	return d, nil
}

func (t *tx) reportDraft(ctx context.Context, c Client, since, until domain.Date) (d ReportDraft, err error) {
	d.Client, d.Today, d.Practice = c, t.today, t.practice
	if d.Figures, err = t.figures(ctx, c, since, until); err != nil {
		return d, err
	}
	if err := t.QueryRow(ctx, `
		SELECT coalesce((SELECT language FROM accounts WHERE id = $1), ''), (SELECT name FROM accounts WHERE id = $2)`,
		c.AccountID, t.actor.ID).Scan(&d.Language, &d.By); err != nil {
		return d, err
	}
	if d.Language == "" {
		d.Language = "en"
	}
	consents, err := t.consents(ctx, c.ID)
	if err != nil {
		return d, err
	}
	for _, consent := range consents {
		d.Shared = d.Shared || consent.Kind == "share" && consent.InForce(t.today)
	}
	if d.Signed, err = t.reports(ctx, c.ID); err != nil {
		return d, err
	}
	d.Discharge, err = t.newestDischarge(ctx, c.ID)
	return d, err
}

// ReportSigning is what a practitioner signs.
type ReportSigning struct {
	Version  int // reports that the form was shown with: another one since is a conflict
	Reader   report.Reader
	Language string
	Since    domain.Date // zero for the day of the first prescription
	Until    domain.Date // zero for today
	Text     string
}

// SignReport signs a report: the practitioner's words with the figures of a period as they are known today.
// It returns [domain.Problems] for what is wrong and [domain.ErrConflict] if
// another report was signed since the form was shown.
func (s *Store) SignReport(ctx context.Context, actor Actor, client uuid.UUID, in ReportSigning) (uuid.UUID, error) {
	var id uuid.UUID
	err := s.change(ctx, actor, func(t *tx) error {
		c, err := t.lockClient(ctx, client, true)
		if err != nil {
			return err
		}
		problems := report.CheckText(in.Text)
		if in.Reader != report.ForClient && in.Reader != report.ForDoctor {
			problems.Add("reader", "Choose for whom the report is.")
		}
		if in.Language != "en" && in.Language != "es" {
			problems.Add("language", "Choose a language.")
		}
		if err := problems.Err(); err != nil {
			return err
		}
		figures, err := t.figures(ctx, c, in.Since, in.Until)
		if err != nil {
			return err
		}
		id, err = t.signReport(ctx, c.ID, in, figures, "", false)
		return err
	})
	if err != nil {
		return uuid.Nil, fmt.Errorf("sign a report about client %s: %w", client, err)
	}
	return id, nil
}

func (t *tx) signReport(ctx context.Context, client uuid.UUID, in ReportSigning, figures ReportFigures, advice string, final bool) (uuid.UUID, error) {
	version := 0
	if err := t.QueryRow(ctx, `SELECT coalesce(max(version), 0) FROM reports WHERE client_id = $1`, client).Scan(&version); err != nil {
		return uuid.Nil, err
	}
	if version != in.Version {
		return uuid.Nil, domain.ErrConflict
	}
	if in.Reader == report.ForDoctor {
		in.Language = "en"
	}
	signature, err := t.signature(ctx)
	if err != nil {
		return uuid.Nil, err
	}
	id := newID()
	if _, err := t.Exec(ctx, `
		INSERT INTO reports (id, client_id, version, reader, language, since, until, text, advice, final, figures, rule_set, signed_at, signed_by, signature)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)`,
		id, client, version+1, string(in.Reader), in.Language, figures.Since, figures.Until, strings.TrimSpace(in.Text), strings.TrimSpace(advice),
		final, figures, rulebook.Version, t.now, t.actor.ID, signature); err != nil {
		return uuid.Nil, err
	}
	return id, t.audit(ctx, "report.sign", client, "report/"+id.String(), map[string]any{"version": version + 1, "reader": in.Reader})
}

// readable is which reports the actor may read of a record that they may see: a
// client those written for them.
const readable = `(@role <> 'client' OR r.reader = 'client')`

// reports returns the signed reports about a client that the actor may read, the
// newest first.
func (t *tx) reports(ctx context.Context, client uuid.UUID) ([]SignedReport, error) {
	return t.reportsWhere(ctx, `r.client_id = @client`, pgx.NamedArgs{"client": client})
}

func (t *tx) reportsWhere(ctx context.Context, where string, args pgx.NamedArgs) ([]SignedReport, error) {
	rows, _ := t.Query(ctx, `
		SELECT r.id, r.version, r.reader, r.language, r.since, r.until, r.text, r.advice, r.final, r.figures, r.signed_at, coalesce(nullif(r.signature, ''), a.name) AS signed_by
		FROM reports r JOIN accounts a ON a.id = r.signed_by JOIN clients c ON c.id = r.client_id
		WHERE `+where+` AND `+readable+` AND `+seen+` ORDER BY r.version DESC`, t.actor.args(args))
	return pgx.CollectRows(rows, pgx.RowToStructByName[SignedReport])
}

// OwnReports are the reports that a client may read, and how their care ended.
type OwnReports struct {
	Client       Client
	Practitioner string // name of whom to call
	Reports      []SignedReport
}

// OwnReports returns the reports about a client that the actor may read. A closed
// record keeps them.
func (s *Store) OwnReports(ctx context.Context, actor Actor, client uuid.UUID) (OwnReports, error) {
	var own OwnReports
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if own.Client, err = t.client(ctx, client); err != nil {
			return err
		}
		if err := t.QueryRow(ctx, `SELECT name FROM accounts WHERE id = $1`, own.Client.PractitionerID).Scan(&own.Practitioner); err != nil {
			return err
		}
		if own.Reports, err = t.reports(ctx, client); err != nil {
			return err
		}
		return t.audit(ctx, "reports.view", client, "client/"+client.String(), nil)
	})
	if err != nil {
		return OwnReports{}, fmt.Errorf("reports about client %s: %w", client, err)
	}
	return own, nil
}

// SignedReport returns one signed report about a client. It returns
// [domain.ErrNotFound] to a client for one that was not written for them.
func (s *Store) SignedReport(ctx context.Context, actor Actor, client, id uuid.UUID) (Client, SignedReport, error) {
	var c Client
	var found SignedReport
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if c, err = t.client(ctx, client); err != nil {
			return err
		}
		list, err := t.reportsWhere(ctx, `r.client_id = @client AND r.id = @id`, pgx.NamedArgs{"client": client, "id": id})
		if err != nil {
			return err
		}
		if len(list) == 0 {
			return domain.ErrNotFound
		}
		found = list[0]
		return t.audit(ctx, "report.view", client, "report/"+id.String(), nil)
	})
	if err != nil {
		return Client{}, SignedReport{}, fmt.Errorf("report %s about client %s: %w", id, client, err)
	}
	return c, found, nil
}
