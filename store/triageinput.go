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
