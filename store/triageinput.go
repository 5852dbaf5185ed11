package store

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/triage"
	"brae/domain/volume"
)

// background is what is known of a client when they tell of something.
type background struct {
	file         clearanceFile
	prescription *Prescription
	fired        []firedDay          // by what they told before
	minutes      map[domain.Date]int // by the first day of the week: this one, and those that it is compared with
}

// firedDay is a triage of the last seven days that was more than fine.
type firedDay struct {
	Day        domain.Date
	Assessment triage.Assessment
}

// background loads what is known of a client, without the session that is sorted.
func (t *tx) background(ctx context.Context, client, session uuid.UUID) (b background, err error) {
	if err = t.read(ctx, b.readings(t, client, session)...); err == nil {
		err = b.file.workOut(t)
	}
	return b, err
}

// readings load a background; [clearanceFile.workOut] is to be called after them.
// Each session counts as it is now, and a deleted one does not.
func (b *background) readings(t *tx, client, session uuid.UUID) []reading {
	week := t.today.Week(t.practice.WeekStart)
	b.minutes = map[domain.Date]int{}
	return append(b.file.readings(t, client),
		newestPrescription(&b.prescription, client),
		rowsInto(&b.fired, pgx.RowToStructByPos[firedDay], `
			SELECT t.day, t.assessment FROM triages t LEFT JOIN sessions s ON s.id = t.session_id
			WHERE t.client_id = $1 AND t.day BETWEEN $2 AND $3 AND t.level <> 'fine' AND (t.session_id IS NULL
				OR t.session_id <> $4 AND s.deleted_at IS NULL AND t.session_version = s.version)`,
			client, t.today.AddDays(-6), t.today, session),
		reading{`
			SELECT week, light + moderate + vigorous FROM week_totals WHERE client_id = $1 AND week BETWEEN $2 AND $3`,
			[]any{client, week.AddDays(-7 * volume.PolicyFrom(t.settings).SpikeWeeks), week}, func(rows pgx.Rows) error {
				var week domain.Date
				var minutes int
				_, err := pgx.ForEachRow(rows, []any{&week, &minutes}, func() error {
					b.minutes[week] = minutes
					return nil
				})
				return err
			}})
}

// count adds a session that was not there when the background was loaded.
func (b *background) count(s Session) {
	b.minutes[s.Week] += s.Totals.Light + s.Totals.Moderate + s.Totals.Vigorous
}

// zones are the ranges in force, by which a logged heart rate is judged and sorted.
// Without a prescription they are what a doctor limits: that binds all the same.
func (b *background) zones(t *tx) (Zones, error) {
	if b.prescription == nil {
		return Zones{Basis: heartrate.NoBasis}.within(b.file.bounds()), nil
	}
	return t.inUse(b.prescription, &b.file)
}

// into adds to a question what is known about the client: diseases and medicines,
// and the rules that fired in the last seven days.
func (b *background) into(in *triage.Input, today domain.Date) {
	if b.file.Screening != nil {
		in.Known = b.file.Screening.Input.TriageFlags()
	}
	var expected []string
	for _, e := range b.file.Clearance.Expected {
		expected = append(expected, e.Code)
	}
	in.Known = append(in.Known, triage.Expected(expected)...)
	for _, e := range b.fired {
		for _, f := range e.Assessment.Findings {
			in.Earlier = append(in.Earlier, triage.Earlier{Rule: f.Rule, Level: f.Level, DaysAgo: today.DaysSince(e.Day)})
		}
	}
}

// triageInput puts together what is known when a session is sorted.
func (t *tx) triageInput(ctx context.Context, s Session, known *background) (triage.Input, error) {
	in := triage.Input{Reports: s.Reports, Text: s.Note}
	known.into(&in, t.today)
	file := known.file
	zones, err := known.zones(t)
	if err != nil {
		return in, err
	}
	n := &in.Numbers
	if p := known.prescription; p != nil {
		n.Prescribed = p.Class
	}
	n.CeilingHR = int(zones.Ceiling)
	var signed Zones // a maximum stays one to ask about, also where no range may be gone by any more
	if known.prescription != nil {
		signed = known.prescription.Zones
	}
	switch most := int(heartrate.Milli(signed.Max).Floor()); signed.Basis {
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
	return in, t.pastInto(ctx, s, known, &in)
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

// pastInto adds what the sessions before say: whether this is the first hard one,
// whether the same work takes more than it did, and whether the week jumps.
func (t *tx) pastInto(ctx context.Context, s Session, known *background, in *triage.Input) error {
	var readings []reading
	if slices.ContainsFunc(s.Parts, func(p Part) bool { return p.Safety >= intensity.Vigorous }) {
		readings = append(readings, rowInto(&in.FirstHard, pgx.RowTo[bool], `
			SELECT NOT EXISTS (SELECT FROM sessions s JOIN session_parts p ON p.session_id = s.id
				WHERE s.client_id = $1 AND s.id <> $2 AND p.safety IN ('vigorous', 'near_maximal') AND `+kept+`)`, s.ClientID, s.ID))
	}
	var pulls []triage.Pull // of the same work, this session's last
	if first := s.Parts[0]; first.HeartRate > 0 || first.Effort > 0 {
		if err := t.flush(ctx); err != nil { // the session is one of them
			return err
		}
		readings = append(readings, rowsInto(&pulls, pgx.RowToStructByPos[triage.Pull], `
			SELECT coalesce(p.effort, 0), coalesce(p.heart_rate, 0) FROM sessions s JOIN session_parts p ON p.session_id = s.id
			WHERE s.client_id = $1 AND p.activity = $2 AND p.class = $3 AND s.day BETWEEN $4 AND $5 AND (p.heart_rate > 0 OR p.effort > 0) AND `+kept+`
			ORDER BY s.day, s.logged_at, p.n`, s.ClientID, first.Activity, first.Class, s.Day.AddDays(-2*recentDays), s.Day))
	}
	if err := t.read(ctx, readings...); err != nil {
		return err
	}
	in.Numbers.SameWork = triage.SameWork(pulls, triage.PolicyFrom(t.settings))
	if s.Week == t.today.Week(t.practice.WeekStart) {
		in.Numbers.WeekSpike = known.spike(s.Week, volume.PolicyFrom(t.settings))
	}
	return nil
}

// spike reports whether this week has so many more minutes than those before it
// that it may be too much. Who has just begun has nothing to jump from.
func (b *background) spike(week domain.Date, policy volume.Policy) bool {
	if len(b.minutes) <= policy.SpikeWeeks {
		return false
	}
	before := make([]int, policy.SpikeWeeks)
	for i := range before {
		before[i] = b.minutes[week.AddDays(-7*(policy.SpikeWeeks-i))]
	}
	return volume.Spike(b.minutes[week], before, policy)
}
