package store

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/rulebook"
	"brae/domain/triage"
)

// Triage is what reports and numbers came to when they were sorted. It is never
// changed.
type Triage struct {
	ID             uuid.UUID
	Session        uuid.UUID // nil of a report without exercise
	SessionVersion int       // that was sorted
	Day            domain.Date
	Reports        []triage.Report
	Note           string // of a report without exercise
	Level          triage.Level
	Hold           clearance.Scope
	Rules          []string
	RuleSet        string
	Assessment     triage.Assessment
	At             time.Time
}

// sorted columns of triages t.
const triageColumns = `t.id, coalesce(t.session_id, '00000000-0000-0000-0000-000000000000') AS session,
	coalesce(t.session_version, 0) AS session_version, t.day, t.reports, t.note, t.level, t.hold, t.rules, t.rule_set, t.assessment, t.at`

// triageOf returns the newest triage of a session. A session of before there was
// any has none, which is fine.
func (t *tx) triageOf(ctx context.Context, session uuid.UUID) (Triage, error) {
	rows, _ := t.Query(ctx, `
		SELECT `+triageColumns+` FROM triages t
		WHERE t.session_id = $1 ORDER BY t.session_version DESC LIMIT 1`, session)
	found, err := pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Triage])
	if errors.Is(err, pgx.ErrNoRows) {
		return Triage{Session: session}, nil
	}
	return found, err
}

// checkReports adds a problem for reports that do not exist.
func checkReports(problems *domain.Problems, reports []triage.Report) {
	codes := triage.Codes()
	for _, r := range reports {
		if !slices.ContainsFunc(codes, func(c triage.Code) bool { return c.Report == r }) {
			problems.Add("reports", "Choose from the list.")
		}
	}
}

// sortSession sorts a session that is written by this change, and opens what
// follows from it. Before is what an earlier version of it came to: what was
// flagged then is not flagged again.
func (t *tx) sortSession(ctx context.Context, s Session, known *background, before *Triage) (Triage, error) {
	in, err := t.triageInput(ctx, s, known)
	if err != nil {
		return Triage{}, err
	}
	sorted := Triage{ID: newID(), Session: s.ID, SessionVersion: s.Version, Day: s.Day, Reports: s.Reports}
	if err := t.sort(ctx, &known.file, in, &sorted, before, nil); err != nil {
		return Triage{}, err
	}
	if in.FirstHard {
		t.later(`
			INSERT INTO late_questions (client_id, session_id, ended_at) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING`,
			s.ClientID, s.ID, t.ended(s.Day))
	}
	return sorted, nil
}

// sortAgain sorts another version of a session, which has been written.
func (t *tx) sortAgain(ctx context.Context, s Session, before *Triage) error {
	known, err := t.background(ctx, s.ClientID, s.ID)
	if err != nil {
		return err
	}
	_, err = t.sortSession(ctx, s, &known, before)
	return err
}

// ended is when a session of that day was over, as far as anybody knows.
func (t *tx) ended(day domain.Date) time.Time {
	if day == t.today {
		return t.now
	}
	next := day.AddDays(1)
	return time.Date(next.Year, next.Month, next.Day, 0, 0, 0, 0, t.practice.Location)
}

// sort asks the rules, and at the end of the change stores the answer and opens
// the holds and the flag that follow from it.
func (t *tx) sort(ctx context.Context, file *clearanceFile, in triage.Input, sorted *Triage, before *Triage, hash []byte) error {
	answer, err := triage.Assess(in, triage.PolicyFrom(t.settings))
	if err != nil {
		return err
	}
	sorted.Assessment, sorted.Level, sorted.Hold, sorted.Rules = answer, answer.Level, answer.Hold, answer.Rules
	sorted.RuleSet, sorted.At = rulebook.Version, t.now
	var session, version any
	if sorted.Session != uuid.Nil {
		session, version = sorted.Session, sorted.SessionVersion
	}
	t.later(`
		INSERT INTO triages (id, client_id, session_id, session_version, day, reports, note, body_hash, level, hold, rules, rule_set, input, assessment, at, by)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16)`,
		sorted.ID, file.Client, session, version, sorted.Day, names(sorted.Reports), sorted.Note, hash, answer.Level.String(), answer.Hold,
		names(answer.Rules), sorted.RuleSet, in, answer, t.now, t.actor.ID)
	if err := t.holdBy(ctx, file, sorted.Day, answer); err != nil {
		return err
	}
	if before != nil && !news(answer, *before) {
		return nil
	}
	return t.flagBy(ctx, file.Client, *sorted)
}

// news reports whether an answer has more for the practitioner than an earlier one
// on the same session.
func news(answer triage.Assessment, before Triage) bool {
	return answer.Level > before.Level || slices.ContainsFunc(answer.Findings, func(f triage.Finding) bool {
		return (f.Level >= before.Level || f.Level >= triage.Ease) && f.Level >= triage.Note && !slices.Contains(before.Rules, f.Rule)
	})
}

// names are codes as a text array that is never NULL.
func names[T ~string](codes []T) []string {
	list := make([]string, len(codes))
	for i, c := range codes {
		list[i] = string(c)
	}
	return list
}

// holdBy opens the holds that an answer asks for, except those that an open hold
// of the same cause covers already.
func (t *tx) holdBy(ctx context.Context, file *clearanceFile, since domain.Date, answer triage.Assessment) error {
	open, client := slices.Clone(file.Holds), file.Client
	for _, f := range answer.Findings {
		if f.Hold == clearance.NoHold || slices.ContainsFunc(open, func(o Hold) bool { return o.Cause == f.Cause() && o.Scope >= f.Hold }) {
			continue
		}
		h := Hold{ID: newID(), Scope: f.Hold, Cause: f.Cause()}
		open = append(open, h)
		t.later(`
			INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, since, opened_at, opened_by)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`,
			h.ID, client, f.Hold, string(clearance.FromTriage), f.Cause(), f.Rule, f.Why, string(f.Needs()), since, t.now, t.actor.ID)
		if err := t.audit(ctx, "hold.open", client, "hold/"+h.ID.String(), map[string]any{"rule": f.Rule}); err != nil {
			return err
		}
	}
	return nil
}

// flagBy raises the flag that an answer asks for.
func (t *tx) flagBy(ctx context.Context, client uuid.UUID, s Triage) error {
	if s.Level < triage.Note {
		return nil
	}
	top := s.Assessment.Main()
	f := Flag{
		Client: client, Kind: FlagTriage, Urgency: int(s.Level), Due: s.Assessment.Act.Due.On(t.today),
		Cause: top.Cause(), Rule: top.Rule, Text: strings.Join(s.Assessment.Why, " "), Action: s.Assessment.Does(),
		Subject: "triage/" + s.ID.String(), Href: "/clients/" + client.String() + "/sessions",
	}
	if s.Session != uuid.Nil {
		f.Subject, f.Href = "session/"+s.Session.String(), f.Href+"/"+s.Session.String()
	}
	return t.raise(ctx, f)
}
