package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/prescription"
	"brae/domain/source"
	"brae/domain/triage"
	"brae/domain/volume"
)

// courseWeeks is how far back a client's course is looked at: half a year.
const courseWeeks = 26

// courseLoader loads the courses of some clients at once, a query for each table.
type courseLoader struct {
	t       *tx
	clients []uuid.UUID
	week    domain.Date // this one
	first   domain.Date // the earliest
	courses map[uuid.UUID]*plan.Course
	zones   map[uuid.UUID]Zones
	ages    map[uuid.UUID]int
}

// courses returns what was asked of clients in the last weeks and what they did.
// Ceiling, ScreeningValid and SignedOff are for the caller to fill in. A client
// without a prescription has no course.
func (t *tx) courses(ctx context.Context, clients []uuid.UUID) (map[uuid.UUID]*plan.Course, error) {
	week := t.today.Week(t.practice.WeekStart)
	l := courseLoader{
		t: t, clients: clients, week: week, first: week.AddDays(-7 * (courseWeeks - 1)),
		courses: map[uuid.UUID]*plan.Course{}, zones: map[uuid.UUID]Zones{}, ages: map[uuid.UUID]int{},
	}
	for _, load := range []func(context.Context) error{l.prescribed, l.planned, l.logged, l.totals, l.paused, l.reported, l.answered} {
		if err := load(ctx); err != nil {
			return nil, err
		}
	}
	return l.courses, nil
}

func (l *courseLoader) args() pgx.NamedArgs {
	return pgx.NamedArgs{"clients": l.clients, "first": l.first}
}

// prescribed lays out the weeks since the first prescription, with what was
// prescribed in each.
func (l *courseLoader) prescribed(ctx context.Context) error {
	rows, _ := l.t.Query(ctx, `
		SELECT p.client_id, p.class, p.sessions_per_week, p.minutes_per_session, p.vigorous_minutes, p.target, p.target_light, p.signed_at, p.zones, p.method, p.aim, c.birth_date
		FROM prescriptions p JOIN clients c ON c.id = p.client_id
		WHERE p.client_id = ANY(@clients) ORDER BY p.client_id, p.version`, l.args())
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[struct {
		ClientID                           uuid.UUID
		Class                              intensity.Class
		SessionsPerWeek, MinutesPerSession int
		VigorousMinutes                    int
		Target                             int
		TargetLight                        bool
		SignedAt                           time.Time
		Zones                              Zones
		Method                             prescription.Method
		Aim                                []AimLine
		BirthDate                          domain.Date
	}])
	for _, r := range list {
		since := domain.DateOf(r.SignedAt, l.t.practice.Location).Week(l.t.practice.WeekStart)
		c := l.courses[r.ClientID]
		if c == nil {
			c = &plan.Course{Today: l.t.today}
			l.courses[r.ClientID] = c
			l.ages[r.ClientID] = r.BirthDate.AgeOn(l.t.today)
			for first := maxDate(since, l.first); !first.After(l.week); first = first.AddDays(7) {
				c.Weeks = append(c.Weeks, plan.CourseWeek{First: first})
			}
		}
		for i := range c.Weeks {
			if w := &c.Weeks[i]; !w.First.Before(since) {
				w.Dose = plan.Prescribed(r.Class, r.SessionsPerWeek, r.MinutesPerSession, r.VigorousMinutes)
				w.Planned, w.Target = r.SessionsPerWeek, volume.Target{Minutes: r.Target, Light: r.TargetLight}
			}
		}
		if by := r.Zones.raisedBy(r.Class); by != c.Raised {
			c.Raised, c.RaisedOn = by, domain.DateOf(r.SignedAt, l.t.practice.Location)
		}
		l.zones[r.ClientID], c.Goal = Prescription{Class: r.Class, Method: r.Method, Aim: r.Aim, Zones: r.Zones}.shown(), r.Target
		if r.TargetLight { // of the light phase alone
			c.Goal = volume.DefaultTarget(volume.PolicyFrom(l.t.settings)).Minutes
		}
	}
	return err
}

// planned puts the weeks of plans over those of prescriptions.
func (l *courseLoader) planned(ctx context.Context) error {
	all, err := l.t.plannedWeeks(ctx, l.clients, l.first, l.week)
	if err != nil || len(all) == 0 {
		return err
	}
	for client, c := range l.courses {
		for i := range c.Weeks {
			if w, ok := all[plannedKey{client, c.Weeks[i].First}]; ok {
				c.Weeks[i].Dose, c.Weeks[i].Planned, c.Weeks[i].Target = w.Dose, w.Sessions, w.Asked
			}
		}
	}
	rows, _ := l.t.Query(ctx, `
		SELECT DISTINCT ON (p.client_id) p.client_id, p.goal, p.behind, (SELECT min(week) FROM plan_weeks WHERE plan_id = p.id) AS begun
		FROM plans p WHERE p.client_id = ANY(@clients) ORDER BY p.client_id, p.version DESC`, l.args())
	plans, err := pgx.CollectRows(rows, pgx.RowToStructByName[struct {
		ClientID     uuid.UUID
		Goal, Behind int
		Begun        domain.Date
	}])
	for _, r := range plans {
		if c := l.courses[r.ClientID]; c != nil && len(c.Weeks) > 0 {
			// Weeks under a prescription alone are weeks of the programme, too.
			c.Goal, c.Behind = r.Goal, r.Behind+max(0, c.Weeks[0].First.DaysSince(r.Begun)/7)
		}
	}
	return err
}

// logged adds the sessions: of each the hardest that it felt like, and the heart
// rate of its hardest part.
func (l *courseLoader) logged(ctx context.Context) error {
	rows, _ := l.t.Query(ctx, `
		SELECT s.client_id, s.id, s.day, p.activity, p.minutes, p.class, p.safety,
			coalesce(p.talk, '') AS talk, coalesce(p.effort, 0) AS effort, coalesce(p.heart_rate, 0) AS heart_rate,
			coalesce((SELECT level <> 'fine' FROM triages WHERE session_id = s.id ORDER BY session_version DESC LIMIT 1), false) AS reported
		FROM sessions s CROSS JOIN LATERAL (SELECT * FROM session_parts WHERE session_id = s.id OFFSET 0) p -- not a scan of all parts
		WHERE s.client_id = ANY(@clients) AND s.day >= @first AND `+kept+`
		ORDER BY s.client_id, s.day, s.logged_at, s.id, p.n`, l.args())
	type row struct {
		ClientID, ID uuid.UUID
		Day          domain.Date
		Reported     bool
		Part
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[row])
	if err != nil {
		return err
	}
	for i := 0; i < len(list); {
		end := i + 1
		for end < len(list) && list[end].ID == list[i].ID {
			end++
		}
		parts := make([]Part, 0, end-i)
		for _, r := range list[i:end] {
			parts = append(parts, r.Part)
		}
		if c := l.courses[list[i].ClientID]; c != nil {
			log := newLog(parts, l.zones[list[i].ClientID], l.ages[list[i].ClientID], l.t.settings)
			log.Day, log.Reported = list[i].Day, list[i].Reported
			log.Low, log.High = l.zones[list[i].ClientID].rangeOf(doseOn(c, log.Day).Hardest())
			c.Logs = append(c.Logs, log)
		}
		i = end
	}
	return nil
}

// doseOn is what was asked for on a day.
func doseOn(c *plan.Course, day domain.Date) plan.Dose {
	var d plan.Dose
	for _, w := range c.Weeks {
		if !w.First.After(day) {
			d = w.Dose
		}
	}
	return d
}

// newLog sums up the parts of a session for the rules of progression.
func newLog(parts []Part, zones Zones, age int, settings source.Values) plan.Log {
	var log plan.Log
	var hardest intensity.Class
	for _, p := range parts {
		log.Effort = max(log.Effort, p.Effort)
		if p.Talk.Class() > log.Talk.Class() {
			log.Talk = p.Talk
		}
		if p.HeartRate > 0 && p.Safety >= hardest {
			log.HeartRate, hardest = p.HeartRate, p.Safety
		}
		if p.HeartRate == 0 || p.Talk == "" && p.Effort == 0 {
			continue
		}
		hr := zones.evidence(heartrate.BPM(p.HeartRate))
		if hr == nil || !hr.Valid {
			continue
		}
		in := PartInput{Activity: p.Activity, Minutes: p.Minutes, Talk: p.Talk, Effort: p.Effort, HeartRate: p.HeartRate}
		if judged, err := judgePart(in, age, zones, settings); err == nil {
			log.Compared, log.Pattern = true, judged.Pattern
		}
	}
	return log
}

// rangeOf returns the heart-rate range of a class, zeros where there is none.
func (z Zones) rangeOf(class intensity.Class) (low, high int) {
	for _, b := range z.Bands {
		if b.Class == class && z.Basis.Valid() && b.Why == "" {
			return int(b.Low), int(b.High)
		}
	}
	return 0, 0
}

// totals adds what was done in each week.
func (l *courseLoader) totals(ctx context.Context) error {
	rows, _ := l.t.Query(ctx, `
		SELECT client_id, week, light, moderate, vigorous, sessions FROM week_totals
		WHERE client_id = ANY(@clients) AND week >= @first`, l.args())
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		ClientID                            uuid.UUID
		Week                                domain.Date
		Light, Moderate, Vigorous, Sessions int
	}])
	for _, r := range list {
		c := l.courses[r.ClientID]
		if c == nil || len(c.Weeks) == 0 {
			continue
		}
		if i := r.Week.DaysSince(c.Weeks[0].First) / 7; i >= 0 && i < len(c.Weeks) && !r.Week.Before(c.Weeks[0].First) {
			c.Weeks[i].Done, c.Weeks[i].Totals = r.Sessions, totals(r.Light, r.Moderate, r.Vigorous)
		}
	}
	return err
}

func (l *courseLoader) paused(ctx context.Context) error {
	rows, _ := l.t.Query(ctx, `
		SELECT p.client_id, `+pauseDays+` FROM pauses p WHERE p.client_id = ANY(@clients) ORDER BY p.from_day`, l.args())
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[struct {
		ClientID uuid.UUID
		pauseRow
	}])
	for _, r := range list {
		if p := r.pause(); l.courses[r.ClientID] != nil && (p.To.IsZero() || !p.To.Before(p.From)) {
			l.courses[r.ClientID].Pauses = append(l.courses[r.ClientID].Pauses, p)
		}
	}
	return err
}

// reported adds what reports keep from going up.
func (l *courseLoader) reported(ctx context.Context) error {
	rows, _ := l.t.Query(ctx, `
		SELECT client_id, day, level, coalesce((assessment->>'FreezeDays')::int, 0) AS freeze FROM triages
		WHERE client_id = ANY(@clients) AND day >= @first AND level <> 'fine' ORDER BY day`, l.args())
	list, err := pgx.CollectRows(rows, pgx.RowToStructByName[struct {
		ClientID uuid.UUID
		Day      domain.Date
		Level    triage.Level
		Freeze   int
	}])
	for _, r := range list {
		c := l.courses[r.ClientID]
		if c == nil {
			continue
		}
		if r.Level >= triage.Ease {
			c.Alarm = r.Day
		}
		if r.Freeze > 0 {
			c.FrozenUntil = maxDate(c.FrozenUntil, r.Day.AddDays(r.Freeze))
		}
	}
	return err
}

// answered adds when the way back after a break was last settled.
func (l *courseLoader) answered(ctx context.Context) error {
	rows, _ := l.t.Query(ctx, `
		SELECT client_id, max(decided_at) AS at FROM progress_steps
		WHERE client_id = ANY(@clients) AND status = 'returning' GROUP BY client_id`, l.args())
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[struct {
		ClientID uuid.UUID
		At       time.Time
	}])
	for _, r := range list {
		if c := l.courses[r.ClientID]; c != nil {
			c.Answered = domain.DateOf(r.At, l.t.practice.Location)
		}
	}
	return err
}
