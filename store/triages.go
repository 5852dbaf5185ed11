package store

import (
	"bytes"
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
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/rulebook"
	"brae/domain/triage"
	"brae/domain/volume"
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

// sortSession sorts a session that has just been written, and opens what follows
// from it. Before is what an earlier version of it came to: what was flagged then
// is not flagged again.
func (t *tx) sortSession(ctx context.Context, s Session, before *Triage) (Triage, error) {
	file, err := t.clearanceFile(ctx, s.ClientID)
	if err != nil {
		return Triage{}, err
	}
	in, err := t.triageInput(ctx, s, file)
	if err != nil {
		return Triage{}, err
	}
	sorted := Triage{ID: newID(), Session: s.ID, SessionVersion: s.Version, Day: s.Day, Reports: s.Reports}
	if err := t.sort(ctx, file, in, &sorted, before, nil); err != nil {
		return Triage{}, err
	}
	if in.FirstHard {
		_, err = t.Exec(ctx, `
			INSERT INTO late_questions (client_id, session_id, ended_at) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING`,
			s.ClientID, s.ID, t.ended(s.Day))
	}
	return sorted, err
}

// ended is when a session of that day was over, as far as anybody knows.
func (t *tx) ended(day domain.Date) time.Time {
	if day == t.today {
		return t.now
	}
	next := day.AddDays(1)
	return time.Date(next.Year, next.Month, next.Day, 0, 0, 0, 0, t.practice.Location)
}

// sort asks the rules, stores the answer, and opens the holds and the flag that
// follow from it.
func (t *tx) sort(ctx context.Context, file clearanceFile, in triage.Input, sorted *Triage, before *Triage, hash []byte) error {
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
	if _, err := t.Exec(ctx, `
		INSERT INTO triages (id, client_id, session_id, session_version, day, reports, note, body_hash, level, hold, rules, rule_set, input, assessment, at, by)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16)`,
		sorted.ID, file.Client, session, version, sorted.Day, names(sorted.Reports), sorted.Note, hash, answer.Level.String(), answer.Hold,
		names(answer.Rules), sorted.RuleSet, in, answer, t.now, t.actor.ID); err != nil {
		return err
	}
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
func (t *tx) holdBy(ctx context.Context, file clearanceFile, since domain.Date, answer triage.Assessment) error {
	open, client := slices.Clone(file.Holds), file.Client
	for _, f := range answer.Findings {
		if f.Hold == clearance.NoHold || slices.ContainsFunc(open, func(o Hold) bool { return o.Cause == f.Cause() && o.Scope >= f.Hold }) {
			continue
		}
		h := Hold{ID: newID(), Scope: f.Hold, Cause: f.Cause()}
		open = append(open, h)
		if _, err := t.Exec(ctx, `
			INSERT INTO holds (id, client_id, scope, kind, cause, rule, reason, needs, since, opened_at, opened_by)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`,
			h.ID, client, f.Hold, string(clearance.FromTriage), f.Cause(), f.Rule, f.Why, string(f.Needs()), since, t.now, t.actor.ID); err != nil {
			return err
		}
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

// triageInput puts together what is known when a session is sorted.
func (t *tx) triageInput(ctx context.Context, s Session, file clearanceFile) (triage.Input, error) {
	in := triage.Input{Reports: s.Reports, Text: s.Note}
	if err := t.knownInto(ctx, file, s.ID, &in); err != nil {
		return in, err
	}
	prescription, err := t.prescriptionInForce(ctx, s.ClientID)
	if err != nil {
		return in, err
	}
	n := &in.Numbers
	var zones Zones
	if prescription != nil {
		n.Prescribed, zones = prescription.Class, prescription.Zones.within(file.bounds())
	}
	n.CeilingHR = int(zones.Ceiling)
	switch most := int(heartrate.Milli(zones.Max).Floor()); zones.Basis {
	case heartrate.Measured:
		n.MeasuredMax = most
	case heartrate.Predicted:
		n.PredictedMax = most
	}
	n.PeakConfirmed = s.Answers["check_reading"] == "yes"
	for _, p := range s.Parts {
		n.PeakHR, n.Effort, n.Done = max(n.PeakHR, p.HeartRate), max(n.Effort, p.Effort), max(n.Done, p.Safety)
		n.CouldNotSpeak = n.CouldNotSpeak || p.Talk == intensity.TalkNone
		n.Parts = append(n.Parts, triage.Pull{Effort: p.Effort, HR: p.HeartRate})
		if says := zones.evidence(heartrate.BPM(p.HeartRate)); p.HeartRate > 0 && p.Talk != "" && says != nil && says.Valid && !apart(n.Talk, n.HeartSay) {
			n.Talk, n.HeartSay = p.Talk.Class(), says.Class
		}
	}
	if s.Answers["talk_or_heart"] != "" {
		n.Talk, n.HeartSay = intensity.None, intensity.None // asked, and answered
	}
	if file.Screening == nil {
		n.Done = intensity.None // nobody has said what is allowed
	} else {
		file.Holds = t.heldFor(s, file.Holds)
		n.Ceiling = file.Ceiling()
	}
	return in, t.pastInto(ctx, s, &in)
}

// heldFor are the holds that the client could know of when they did the session:
// those of before it, without what it reports itself.
func (t *tx) heldFor(s Session, holds []Hold) []Hold {
	return slices.DeleteFunc(slices.Clone(holds), func(h Hold) bool {
		return !h.OpenedAt.Before(s.LoggedAt) || domain.DateOf(h.OpenedAt, t.practice.Location).After(s.Day) ||
			slices.Contains(s.Reports, triage.Report(h.Cause))
	})
}

// apart reports whether two kinds of evidence say different things: one that it
// was light, the other that it was vigorous.
func apart(a, b intensity.Class) bool {
	low, high := min(a, b), max(a, b)
	return low != intensity.None && low <= intensity.Light && high >= intensity.Vigorous
}

// knownInto adds what is known about a client: diseases and medicines, and the
// rules that fired in the last seven days, without those of the session itself
// and of deleted ones. Each session counts as it is now.
func (t *tx) knownInto(ctx context.Context, file clearanceFile, session uuid.UUID, in *triage.Input) error {
	if file.Screening != nil {
		in.Known = file.Screening.Input.TriageFlags()
	}
	var expected []string
	for _, e := range file.Clearance.Expected {
		expected = append(expected, e.Code)
	}
	in.Known = append(in.Known, triage.Expected(expected)...)
	rows, _ := t.Query(ctx, `
		SELECT t.day, t.assessment FROM triages t LEFT JOIN sessions s ON s.id = t.session_id
		WHERE t.client_id = $1 AND t.day BETWEEN $2 AND $3 AND t.level <> 'fine' AND (t.session_id IS NULL
			OR t.session_id <> $4 AND s.deleted_at IS NULL AND t.session_version = s.version)`,
		file.Client, t.today.AddDays(-6), t.today, session)
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		Day        domain.Date
		Assessment triage.Assessment
	}])
	for _, e := range list {
		for _, f := range e.Assessment.Findings {
			in.Earlier = append(in.Earlier, triage.Earlier{Rule: f.Rule, Level: f.Level, DaysAgo: t.today.DaysSince(e.Day)})
		}
	}
	return err
}

// pastInto adds what the sessions before say: whether this is the first hard one,
// whether the same work takes more than it did, and whether the week jumps.
func (t *tx) pastInto(ctx context.Context, s Session, in *triage.Input) error {
	hard := slices.ContainsFunc(s.Parts, func(p Part) bool { return p.Safety >= intensity.Vigorous })
	if hard {
		rows, _ := t.Query(ctx, `
			SELECT NOT EXISTS (SELECT FROM sessions s JOIN session_parts p ON p.session_id = s.id
				WHERE s.client_id = $1 AND s.id <> $2 AND p.safety IN ('vigorous', 'near_maximal') AND `+kept+`)`, s.ClientID, s.ID)
		first, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[bool])
		if err != nil {
			return err
		}
		in.FirstHard = first
	}
	policy := triage.PolicyFrom(t.settings)
	if first := s.Parts[0]; first.HeartRate > 0 || first.Effort > 0 {
		rows, _ := t.Query(ctx, `
			SELECT coalesce(p.effort, 0), coalesce(p.heart_rate, 0) FROM sessions s JOIN session_parts p ON p.session_id = s.id
			WHERE s.client_id = $1 AND p.activity = $2 AND p.class = $3 AND s.day BETWEEN $4 AND $5 AND (p.heart_rate > 0 OR p.effort > 0) AND `+kept+`
			ORDER BY s.day, s.logged_at, p.n`, s.ClientID, first.Activity, first.Class, s.Day.AddDays(-2*recentDays), s.Day)
		pulls, err := pgx.CollectRows(rows, pgx.RowToStructByPos[triage.Pull])
		if err != nil {
			return err
		}
		in.Numbers.SameWork = triage.SameWork(pulls, policy)
	}
	if s.Week != t.today.Week(t.practice.WeekStart) {
		return nil
	}
	volumes := volume.PolicyFrom(t.settings)
	rows, _ := t.Query(ctx, `
		SELECT week, light + moderate + vigorous FROM week_totals WHERE client_id = $1 AND week BETWEEN $2 AND $3`,
		s.ClientID, s.Week.AddDays(-7*volumes.SpikeWeeks), s.Week)
	weeks, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		Week    domain.Date
		Minutes int
	}])
	if err != nil || len(weeks) <= volumes.SpikeWeeks { // who has just begun has nothing to jump from
		return err
	}
	before, now := make([]int, volumes.SpikeWeeks), 0
	for _, w := range weeks {
		if ago := s.Week.DaysSince(w.Week) / 7; ago > 0 {
			before[volumes.SpikeWeeks-ago] = w.Minutes
		} else {
			now = w.Minutes
		}
	}
	in.Numbers.WeekSpike = volume.Spike(now, before, volumes)
	return nil
}

// ReportInput is what a client reports without exercise.
type ReportInput struct {
	ID      uuid.UUID       `json:"id"` // made by the client's browser
	Reports []triage.Report `json:"reports"`
	Note    string          `json:"note"`
}

// ReportSymptoms sorts what a client reports without having exercised, once:
// sent again, it is found and returned as it was sorted. It returns
// [domain.Problems] for what is wrong and [domain.ErrConflict] if the id stands
// for another report.
func (s *Store) ReportSymptoms(ctx context.Context, actor Actor, client uuid.UUID, in ReportInput) (Triage, error) {
	in.Reports, in.Note = inOrder(in.Reports), strings.TrimSpace(in.Note)
	hash, err := bodyHash(client, in)
	if err != nil {
		return Triage{}, fmt.Errorf("report: %w", err)
	}
	var sorted Triage
	err = s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, false); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `SELECT t.body_hash FROM triages t WHERE t.id = $1`, in.ID)
		switch stored, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[[]byte]); {
		case err == nil && bytes.Equal(stored, hash):
			if sorted, err = t.report(ctx, client, in.ID); err != nil {
				return err
			}
			return errStoredBefore
		case err == nil:
			return domain.ErrConflict
		case !errors.Is(err, pgx.ErrNoRows):
			return err
		}
		if err := in.check(); err != nil {
			return err
		}
		ask := triage.Input{Reports: in.Reports, Text: in.Note}
		if len(in.Reports) == 0 {
			ask.Reports = []triage.Report{triage.Other}
		}
		file, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		if err := t.knownInto(ctx, file, uuid.Nil, &ask); err != nil {
			return err
		}
		sorted = Triage{ID: in.ID, Day: t.today, Reports: ask.Reports, Note: in.Note}
		if err := t.sort(ctx, file, ask, &sorted, nil, hash); err != nil {
			return err
		}
		return t.audit(ctx, "report.send", client, "triage/"+in.ID.String(), map[string]any{"reports": len(in.Reports)})
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return Triage{}, fmt.Errorf("report %s of client %s: %w", in.ID, client, err)
	}
	return sorted, nil
}

func (in ReportInput) check() error {
	var problems domain.Problems
	if in.ID == uuid.Nil {
		problems.Add("id", "The form was incomplete. Load the page again.")
	}
	if len(in.Reports) == 0 && in.Note == "" {
		problems.Add("reports", "Tick what you feel, or write it below.")
	}
	if utf8.RuneCountInString(in.Note) > 2000 {
		problems.Add("note", "The note is too long. Use 2,000 characters at most.")
	}
	checkReports(&problems, in.Reports)
	return problems.Err()
}

func (t *tx) report(ctx context.Context, client, id uuid.UUID) (Triage, error) {
	rows, _ := t.Query(ctx, `
		SELECT `+triageColumns+` FROM triages t WHERE t.client_id = $1 AND t.id = $2 AND t.session_id IS NULL`, client, id)
	return pgx.CollectExactlyOneRow(rows, pgx.RowToStructByName[Triage])
}

// Reported returns a report that a client made without exercise.
func (s *Store) Reported(ctx context.Context, actor Actor, client, id uuid.UUID) (Triage, error) {
	var found Triage
	err := s.change(ctx, actor, func(t *tx) (err error) {
		if _, err = t.client(ctx, client); err != nil {
			return err
		}
		if found, err = t.report(ctx, client, id); err != nil {
			return err
		}
		return t.audit(ctx, "report.view", client, "triage/"+id.String(), nil)
	})
	if err != nil {
		return Triage{}, fmt.Errorf("report %s of client %s: %w", id, client, err)
	}
	return found, nil
}

// lateQuestions returns what is asked now, once, after a first hard session.
func (t *tx) lateQuestions(ctx context.Context, client uuid.UUID) ([]triage.Question, error) {
	rows, _ := t.Query(ctx, `
		SELECT l.ended_at FROM late_questions l JOIN sessions s ON s.id = l.session_id
		WHERE l.client_id = $1 AND l.answered_at IS NULL AND `+kept, client)
	ended, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[time.Time])
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil
	}
	if err != nil || !triage.LateQuestionsDue(int(t.now.Sub(ended)/time.Hour), false, triage.PolicyFrom(t.settings)) {
		return nil, err
	}
	return triage.LateQuestions(), nil
}

// AnswerLate sorts the answers to the late questions: the reports that a yes
// stands for. It asks once: answered before, it returns what that came to.
func (s *Store) AnswerLate(ctx context.Context, actor Actor, client uuid.UUID, reports []triage.Report) (Triage, error) {
	reports = inOrder(reports)
	var sorted Triage
	err := s.change(ctx, actor, func(t *tx) error {
		if _, err := t.lockClient(ctx, client, false); err != nil {
			return err
		}
		rows, _ := t.Query(ctx, `SELECT triage_id FROM late_questions WHERE client_id = $1`, client)
		before, err := pgx.CollectExactlyOneRow(rows, pgx.RowTo[uuid.NullUUID])
		if err != nil {
			return err
		}
		if before.Valid {
			if sorted, err = t.report(ctx, client, before.UUID); err != nil {
				return err
			}
			return errStoredBefore
		}
		var problems domain.Problems
		checkReports(&problems, reports)
		if err := problems.Err(); err != nil {
			return err
		}
		ask := triage.Input{Reports: reports}
		file, err := t.clearanceFile(ctx, client)
		if err != nil {
			return err
		}
		if err := t.knownInto(ctx, file, uuid.Nil, &ask); err != nil {
			return err
		}
		sorted = Triage{ID: newID(), Day: t.today, Reports: reports}
		hash, err := bodyHash(client, reports)
		if err != nil {
			return err
		}
		if err := t.sort(ctx, file, ask, &sorted, nil, hash); err != nil {
			return err
		}
		if _, err := t.Exec(ctx, `UPDATE late_questions SET answered_at = $2, triage_id = $3 WHERE client_id = $1`, client, t.now, sorted.ID); err != nil {
			return err
		}
		return t.audit(ctx, "late.answer", client, "triage/"+sorted.ID.String(), map[string]any{"reports": len(reports)})
	})
	if err != nil && !errors.Is(err, errStoredBefore) {
		return Triage{}, fmt.Errorf("late answers of client %s: %w", client, err)
	}
	return sorted, nil
}
