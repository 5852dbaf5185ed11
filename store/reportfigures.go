package store

import (
	"context"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/fitness"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/report"
	"brae/domain/triage"
	"brae/domain/volume"
)

// ReportFigures are what a report says besides the practitioner's words. They are
// kept with a signed one as they were.
type ReportFigures struct {
	Since        domain.Date         `json:"since"`
	Until        domain.Date         `json:"until"`
	Goal         string              `json:"goal"` // in the client's words
	Start, Now   ReportState         // at the beginning and at the end
	Pressure     [2]ReportReading    `json:"pressure"`     // blood pressure before sessions, the first and the last
	Pulse        [2]ReportReading    `json:"pulse"`        // resting heart rate before sessions, the first and the last
	NowWeeks     int                 `json:"now_weeks"`    // whole weeks that the activity of now is the mean of
	Weeks        []report.Week       `json:"weeks"`        // the newest, as many as are drawn, the oldest first
	WeeksInAll   int                 `json:"weeks_all"`    // of the period, the present one included
	Adherence    report.Adherence    `json:"adherence"`    // of the whole period
	Tests        []ReportTest        `json:"tests"`        // the one with the newest result first
	Symptoms     []ReportSymptom     `json:"symptoms"`     // the newest first
	Holds        []ReportHold        `json:"holds"`        // open in the period, the newest first
	Decisions    []ReportDecision    `json:"decisions"`    // of doctors, in the period or in force, the newest first
	Prescription *ReportPrescription `json:"prescription"` // in force; nil without one
	Ahead        []ReportWeek        `json:"ahead"`        // some weeks of the plan that are to come
	PlanGoal     int                 `json:"plan_goal"`    // moderate-equivalent minutes a week; 0 without a plan
}

// ReportState is where a client stood on a day.
type ReportState struct {
	On       domain.Date     `json:"on"`
	Activity int             `json:"activity"` // moderate-equivalent minutes a week
	Known    bool            `json:"known"`    // the activity is
	Ceiling  intensity.Class `json:"ceiling"`  // None where nothing was allowed, or nobody was screened
	Screened bool            `json:"screened"`
	Resting  int             `json:"resting"` // bpm; 0 if it was not measured
}

// ReportReading is what was measured before a session.
type ReportReading struct {
	On   domain.Date `json:"on"`   // zero if nothing was
	High int         `json:"high"` // upper pressure in mmHg, or heart rate in bpm
	Low  int         `json:"low"`  // lower pressure in mmHg
}

// ReportTest is one test at the beginning and at the end.
type ReportTest struct {
	Test    fitness.TestID  `json:"test"`
	CourseM float64         `json:"course_m"`
	FirstOn domain.Date     `json:"first_on"`
	First   fitness.Outcome `json:"first"`
	LastOn  domain.Date     `json:"last_on"`
	Last    fitness.Outcome `json:"last"`
	Change  *TestChange     `json:"change"` // nil with one result
}

// ReportSymptom is what a client reported and what came of it.
type ReportSymptom struct {
	On       domain.Date     `json:"on"`
	Reports  []triage.Report `json:"reports"`
	Level    triage.Level    `json:"level"`
	Held     clearance.Scope `json:"held"`     // what waited because of it
	Released domain.Date     `json:"released"` // the day the last of it was released; zero while it waits
}

// ReportHold is a hold and its end.
type ReportHold struct {
	Opened   domain.Date     `json:"opened"`
	Scope    clearance.Scope `json:"scope"`
	Reason   string          `json:"reason"`
	Released domain.Date     `json:"released"` // zero while it is open
}

// ReportDecision is what a doctor decided.
type ReportDecision struct {
	On      domain.Date       `json:"on"`
	Doctor  string            `json:"doctor"`
	Outcome clearance.Outcome `json:"outcome"`
	Ceiling intensity.Class   `json:"ceiling"`
	Until   domain.Date       `json:"until"` // the first day on which it has lapsed
	Status  clearance.Status  `json:"status"`
}

// Limited reports whether what a doctor has decided binds still.
func (f ReportFigures) Limited() bool {
	return slices.ContainsFunc(f.Decisions, func(d ReportDecision) bool { return d.Status.Binds() })
}

// ReportPrescription is what is prescribed.
type ReportPrescription struct {
	Version    int           `json:"version"`
	Dose       plan.Dose     `json:"dose"`
	Activities string        `json:"activities"`
	Target     volume.Target `json:"target"`
}

// ReportWeek is a week of the plan that is to come.
type ReportWeek struct {
	First  domain.Date   `json:"first"`
	Dose   plan.Dose     `json:"dose"`
	Target volume.Target `json:"target"`
}

// Most lines of each kind that a report has, so that it stays on one page. What is
// left out is the oldest, and stays in the record.
const (
	reportTests     = 3
	reportSymptoms  = 4
	reportHolds     = 4
	reportDecisions = 3
)

// figures works out a report from a day, zero for the beginning, until another, zero
// for today. What comes next is told as it is now.
func (t *tx) figures(ctx context.Context, c Client, since, until domain.Date) (f ReportFigures, err error) {
	visits, err := t.visits(ctx, c.ID)
	if err != nil {
		return f, err
	}
	if since.IsZero() {
		if since, err = t.begins(ctx, c); err != nil {
			return f, err
		}
		since = maxDate(since, t.today.AddDays(-reportDays))
	}
	if until.IsZero() {
		until = t.today
	}
	switch days := until.DaysSince(since); {
	case since.After(t.today):
		return f, domain.Problems{"since": "This day is in the future."}
	case until.After(t.today):
		return f, domain.Problems{"until": "This day is in the future."}
	case days < 0:
		return f, domain.Problems{"until": "This is before the first day, " + since.Time().Format("2 January 2006") + "."}
	case days > reportDays:
		return f, domain.Problems{"since": "A report covers two years at most. Choose a later day."}
	}
	f.Since, f.Until = since, until
	over := until.AddDays(1) // the weeks that end by the last day are over
	if until == t.today {
		over = until // which is not over yet
	}
	sheet, err := t.planSheet(ctx, c.ID)
	if err != nil {
		return f, err
	}
	f.ahead(sheet)
	policy := report.PolicyFrom(t.settings)
	weeks, err := t.reportWeeks(ctx, c.ID, since, until)
	if err != nil {
		return f, err
	}
	f.Adherence, f.WeeksInAll = report.Adhere(weeks, since, over), len(weeks)
	f.Start.On, f.Now.On = since, until
	if f.Now.Activity, f.NowWeeks = report.Now(weeks, since, over, policy); f.NowWeeks > 0 {
		f.Now.Known = true
	}
	f.Weeks = weeks[max(0, len(weeks)-policy.ChartWeeks):]
	resting, err := t.restingReadings(ctx, c.ID)
	if err != nil {
		return f, err
	}
	if len(visits) > 0 {
		first := visits[0]
		for _, v := range visits {
			if !v.On.After(since) {
				first = v
			}
		}
		f.Start.On = first.On
		f.Start.Activity, f.Start.Known = report.Start(first.Record.Activity)
		f.Goal = shorten(visits[len(visits)-1].Record.Goal, 160)
		if until == t.today { // what was allowed on an earlier day is not worked out again
			f.Now.Screened, f.Now.Ceiling = true, sheet.Ceiling
		}
		if err := t.startCeiling(ctx, c.ID, since, &f.Start); err != nil {
			return f, err
		}
	}
	for i, r := range resting {
		if r.Day.After(until) {
			break
		}
		if i == 0 || !r.Day.After(since) {
			f.Start.Resting = r.Value
		}
		f.Now.Resting = r.Value
	}
	if f.Tests, err = t.reportTests(ctx, c.ID, since, until); err != nil {
		return f, err
	}
	if err := t.reportVitals(ctx, c.ID, &f); err != nil {
		return f, err
	}
	return f, t.reportEvents(ctx, c.ID, &f)
}

// reportVitals adds the first and the last readings before a session in the period.
func (t *tx) reportVitals(ctx context.Context, client uuid.UUID, f *ReportFigures) error {
	list, err := t.vitals(ctx, client) // the newest first
	if err != nil {
		return err
	}
	put := func(pair *[2]ReportReading, r ReportReading) {
		if pair[1].On.IsZero() {
			pair[1] = r
		}
		pair[0] = r
	}
	for _, v := range list {
		on := domain.DateOf(v.TakenAt, t.practice.Location)
		if !v.InForce() || on.Before(f.Since) || on.After(f.Until) {
			continue
		}
		counted := v.Reading.Counted()
		if counted.SBP != nil && counted.DBP != nil {
			put(&f.Pressure, ReportReading{on, *counted.SBP, *counted.DBP})
		}
		if counted.RestingHR != nil {
			put(&f.Pulse, ReportReading{On: on, High: *counted.RestingHR})
		}
	}
	return nil
}

// begins is the day from which a client's report counts unless another is chosen:
// of the first prescription, or of the record before there is one.
func (t *tx) begins(ctx context.Context, c Client) (domain.Date, error) {
	var at *time.Time
	if err := t.QueryRow(ctx, `SELECT min(signed_at) FROM prescriptions WHERE client_id = $1`, c.ID).Scan(&at); err != nil {
		return domain.Date{}, err
	}
	if at == nil {
		at = &c.CreatedAt
	}
	return domain.DateOf(*at, t.practice.Location), nil
}

// startCeiling is what the screening allowed that a period began with.
func (t *tx) startCeiling(ctx context.Context, client uuid.UUID, since domain.Date, s *ReportState) error {
	s.Screened = true
	return t.QueryRow(ctx, `
		SELECT ceiling FROM screenings WHERE client_id = $1
		ORDER BY decided_on <= $2 DESC, CASE WHEN decided_on <= $2 THEN created_at END DESC, created_at LIMIT 1`,
		client, since).Scan(&s.Ceiling)
}

// reportWeeks returns the weeks of a period with what was asked for and done.
func (t *tx) reportWeeks(ctx context.Context, client uuid.UUID, since, until domain.Date) ([]report.Week, error) {
	last, first := until.Week(t.practice.WeekStart), since.Week(t.practice.WeekStart)
	l := courseLoader{
		t: t, clients: []uuid.UUID{client}, week: last, first: first,
		courses: map[uuid.UUID]*plan.Course{}, zones: map[uuid.UUID]Zones{}, ages: map[uuid.UUID]int{},
	}
	for _, load := range []func(context.Context) error{l.prescribed, l.planned} {
		if err := load(ctx); err != nil {
			return nil, err
		}
	}
	asked := map[domain.Date]plan.CourseWeek{}
	if course := l.courses[client]; course != nil {
		for _, w := range course.Weeks {
			asked[w.First] = w
		}
	}
	rows, _ := t.Query(ctx, `
		SELECT week, light, moderate, vigorous, sessions FROM week_totals WHERE client_id = $1 AND week >= $2`, client, first)
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		Week                                domain.Date
		Light, Moderate, Vigorous, Sessions int
	}])
	if err != nil {
		return nil, err
	}
	var weeks []report.Week
	for w := first; !w.After(last); w = w.AddDays(7) {
		week := report.Week{First: w, Asked: asked[w].Planned, Target: asked[w].Target}
		for _, r := range list {
			if r.Week == w {
				week.Sessions, week.Totals = r.Sessions, totals(r.Light, r.Moderate, r.Vigorous)
			}
		}
		weeks = append(weeks, week)
	}
	return weeks, nil
}

// ahead lists the present week of the plan, those four and eight weeks on, and the
// last.
func (f *ReportFigures) ahead(sheet PlanSheet) {
	if p := sheet.Prescription; p != nil {
		f.Prescription = &ReportPrescription{
			Version: p.Version, Activities: shorten(strings.Join(p.Kinds(), ", "), 120), Target: p.Target(),
			Dose: p.Dose(),
		}
	}
	if sheet.Plan == nil || len(sheet.Ahead) == 0 {
		return
	}
	f.PlanGoal = sheet.Plan.Goal
	last := len(sheet.Ahead) - 1
	for i, w := range sheet.Ahead {
		if i == 0 || i == 4 || i == 8 || i == last {
			dose := w.Dose
			dose.Sessions = w.Sessions // after breaks
			f.Ahead = append(f.Ahead, ReportWeek{First: w.First, Dose: dose, Target: w.Asked})
		}
	}
}

// reportTests returns the tests of a period: of each the last one before it began,
// or else the first in it, and the newest.
func (t *tx) reportTests(ctx context.Context, client uuid.UUID, since, until domain.Date) ([]ReportTest, error) {
	list, err := t.tests(ctx, client)
	if err != nil {
		return nil, err
	}
	list = slices.DeleteFunc(list, func(r TestResult) bool { return r.DoneOn.After(until) })
	var tests []ReportTest
	for _, s := range t.series(list) {
		first := s.Points[0]
		for _, p := range s.Points {
			if !p.DoneOn.After(since) {
				first = p
			}
		}
		last := s.Last()
		line := ReportTest{Test: s.Test.ID, CourseM: s.CourseM, FirstOn: first.DoneOn, First: first.Outcome, LastOn: last.DoneOn, Last: last.Outcome}
		if first.DoneOn != last.DoneOn {
			line.Change = changed(first, last, fitness.PolicyFrom(t.settings))
		}
		tests = append(tests, line)
	}
	return tests[:min(len(tests), reportTests)], nil
}

// reportEvents adds symptoms, holds and doctors' decisions.
func (t *tx) reportEvents(ctx context.Context, client uuid.UUID, f *ReportFigures) error {
	file, err := t.clearanceFile(ctx, client)
	if err != nil {
		return err
	}
	rows, _ := t.Query(ctx, `
		SELECT DISTINCT ON (coalesce(t.session_id, t.id)) `+triageColumns+` FROM triages t
		WHERE t.client_id = $1 AND t.day BETWEEN $2 AND $3
		ORDER BY coalesce(t.session_id, t.id), t.session_version DESC NULLS LAST, t.at DESC`, client, f.Since, f.Until)
	sorted, err := pgx.CollectRows(rows, pgx.RowToStructByName[Triage])
	if err != nil {
		return err
	}
	slices.SortStableFunc(sorted, func(a, b Triage) int { return b.At.Compare(a.At) })
	for _, s := range sorted {
		if len(s.Reports) > 0 && len(f.Symptoms) < reportSymptoms {
			f.Symptoms = append(f.Symptoms, t.reportSymptom(s, file.All))
		}
	}
	for _, h := range slices.Backward(file.All) {
		line := ReportHold{Opened: h.OpenedOn, Scope: h.Scope, Reason: shorten(h.Reason, 110)}
		if h.OpenedOn.After(f.Until) {
			continue
		}
		if h.Released != nil {
			line.Released = domain.DateOf(h.Released.At, t.practice.Location)
		}
		if (line.Released.IsZero() || !line.Released.Before(f.Since)) && len(f.Holds) < reportHolds {
			f.Holds = append(f.Holds, line)
		}
	}
	decisions, err := t.clearances(ctx, &file)
	if err != nil {
		return err
	}
	for _, d := range decisions {
		if d.Decision.DecidedOn.After(f.Until) || d.Decision.DecidedOn.Before(f.Since) && !d.State.InForce() || len(f.Decisions) == reportDecisions {
			continue
		}
		f.Decisions = append(f.Decisions, ReportDecision{
			On: d.Decision.DecidedOn, Doctor: shorten(d.Decision.DecidedBy.Name, 60), Outcome: d.Decision.Outcome, Ceiling: d.Decision.Ceiling,
			Until: d.Lapses, Status: d.State.Status,
		})
	}
	return nil
}

// reportSymptom is a report with the holds that were opened with it.
func (t *tx) reportSymptom(s Triage, holds []Hold) ReportSymptom {
	line := ReportSymptom{On: s.Day, Reports: s.Reports, Level: s.Level}
	open := false
	for _, h := range holds {
		if h.Kind != clearance.FromTriage || !h.OpenedAt.Equal(s.At) {
			continue
		}
		line.Held = max(line.Held, h.Scope)
		if h.Released == nil {
			open = true
		} else {
			line.Released = maxDate(line.Released, domain.DateOf(h.Released.At, t.practice.Location))
		}
	}
	if open {
		line.Released = domain.Date{}
	}
	return line
}

// shorten cuts a text to so many characters.
func shorten(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most-1]) + "…"
}
