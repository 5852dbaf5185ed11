package plan

import (
	"slices"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/volume"
)

// Course is what was asked of a client week by week and what they did: all that
// the status and the next step hang on.
type Course struct {
	Today   domain.Date
	Ceiling intensity.Class // the hardest class that holds and decisions leave open
	Goal    int             // moderate-equivalent minutes a week
	Behind  int             // weeks of the programme that were over before Weeks
	Weeks   []CourseWeek    // one after the other, oldest first; the last is this one
	Logs    []Log           // oldest first, of any dose
	Pauses  []Pause

	// Answered is the last day on which the way back after a break was settled with
	// the practitioner; zero if it was not. It is not suggested twice.
	Answered domain.Date

	// Raised is by how many per cent of the reserve the low end of the class of now is
	// raised, and RaisedOn the day since which it is so; zero if it is not.
	Raised   int
	RaisedOn domain.Date

	Alarm          domain.Date // last report that called for a stop, easing off or an emergency; zero if none
	FrozenUntil    domain.Date // last day on which a report keeps the plan from going up; zero if none does
	ScreeningValid bool
	SignedOff      domain.Date // the practitioner's last sign-off for vigorous work; zero if none
	WeeksNoGain    int         // weeks over which tests showed no real change; 0 if they did, or were not done
}

// CourseWeek is one week of a course.
type CourseWeek struct {
	First   domain.Date // its first day
	Dose    Dose
	Planned int           // sessions, after pauses
	Target  volume.Target // after pauses
	Done    int           // sessions
	Totals  volume.Totals // of what was done
}

// Standing is how a client stands, why, and the one step to suggest.
type Standing struct {
	Status  Status
	Reasons []Reason
	Step    Suggestion
	Phase   Phase
	Stays   []Reason // what keeps the client in the phase; nothing if it may be left
	Away    int      // days since the last session; 0 if there was none yet
	Break   *Return  // how to go on after a break; nil without one
	Drift   *Drift   // nil while talk test and heart rate agree
	Judged  Judged
}

// Judged is what the status was judged by.
type Judged struct {
	Sessions    int           // the last ones at this dose; 0 if there was none to judge by
	First, Last domain.Date   // days of these
	Weeks       []domain.Date // first days of the full weeks whose sums were looked at
	Since       domain.Date   // first day of the week since which the dose is what it is
}

// Drift says that talk test and heart rate have come apart: the same way in
// several sessions.
type Drift struct {
	Pattern  intensity.Pattern // which of the two is harder
	Sessions int               // how many of the last ones
	Of       int

	First, Last domain.Date // days of these last ones
}

// Stand returns how the client stands today. A course without weeks has nothing
// to be judged by: its status is [OnPlan], and nothing is suggested.
//
// Source: toronto_rehab, getp10.
// Practice rule: practice.
func (c Course) Stand(p Policy) Standing {
	if len(c.Weeks) == 0 {
		return Standing{Status: OnPlan, Reasons: []Reason{{BecauseFewLogs, 0, p.ReadyOf}}}
	}
	record := c.record(p)
	record.WeeksReady = c.weeksReady(p)
	s := Standing{Drift: DriftOf(c.Logs, p)}
	s.Status, s.Reasons = Judge(record, p)
	s.Judged = c.judged(record, p)
	phase := c.phase(p)
	s.Phase, s.Stays = phase.Phase, phase.Stays(p)
	dose := c.dose()
	situation := Situation{
		Status: s.Status, Dose: dose, Ceiling: c.Ceiling, Goal: c.Goal, PhaseDone: s.Stays == nil,
		ChangedDays: c.Today.DaysSince(c.Weeks[c.changed()].First), Raised: c.Raised,
	}
	for _, w := range c.Weeks[:len(c.Weeks)-1] {
		situation.Rungs = append(situation.Rungs, w.Dose)
		if w.Dose.Vigorous > 0 || situation.Vigorous > 0 {
			situation.Vigorous++
		}
	}
	situation.Doubtful = s.doubtful() && !slices.ContainsFunc(record.window(p), func(l Log) bool { return l.Reported })
	if !record.LastSession.IsZero() {
		s.Away = c.Today.DaysSince(record.LastSession)
	}
	if s.Status == Returning {
		settled := !c.Answered.IsZero() && !c.Answered.Before(record.LastSession)
		if back, err := StepBack(s.Away, record.Cause, p); err == nil && !settled && (s.Away > p.BreakResume || back.Review) {
			s.Break, situation.Break = &back, back
		}
	}
	s.Step = Suggest(situation, p)
	return s
}

// doubtful reports whether it is too hard by the heart rates alone, while these are
// harder than the work feels.
func (s Standing) doubtful() bool {
	return s.Status == TooHard && s.Drift != nil && s.Drift.Pattern == intensity.HeartRateHarder &&
		!slices.ContainsFunc(s.Reasons, func(r Reason) bool { return r.Code != BecauseHeartRate })
}

// judged tells what a record was judged by.
func (c Course) judged(r Record, p Policy) Judged {
	j := Judged{Since: c.Weeks[c.changed()].First}
	logs := r.window(p)
	if logs = logs[max(0, len(logs)-max(p.ReadyOf, p.TooHardOf)):]; len(logs) > 0 {
		j.Sessions, j.First, j.Last = len(logs), logs[0].Day, logs[len(logs)-1].Day
	}
	full := c.full()
	for _, w := range full[max(0, len(full)-2):] {
		j.Weeks = append(j.Weeks, w.First)
	}
	return j
}

// dose is what is asked for now.
func (c Course) dose() Dose { return c.Weeks[len(c.Weeks)-1].Dose }

// changed is the week since which the dose, and how hard it is within its class, is
// what it is now.
func (c Course) changed() int {
	i := len(c.Weeks) - 1
	for i > 0 && c.Weeks[i-1].Dose == c.dose() && (c.RaisedOn.IsZero() || c.Weeks[i].First.After(c.RaisedOn)) {
		i--
	}
	return i
}

// full returns the weeks that are over.
func (c Course) full() []CourseWeek {
	n := len(c.Weeks)
	for n > 0 && c.Today.DaysSince(c.Weeks[n-1].First) < 7 {
		n--
	}
	return c.Weeks[:n]
}

// record is what the status is judged by, but for the weeks ready.
func (c Course) record(p Policy) Record {
	r := Record{
		Today: c.Today, Dose: c.dose(), Ceiling: c.Ceiling, FrozenUntil: c.FrozenUntil, WeeksNoGain: c.WeeksNoGain,
	}
	since := c.Weeks[c.changed()].First
	for i, l := range c.Logs {
		if !l.Day.Before(since) {
			r.Logs = append(r.Logs, l)
		}
		if i > 0 {
			if gap := l.Day.DaysSince(c.Logs[i-1].Day); gap > p.BreakResume {
				back, _ := StepBack(gap, NoCause, p)
				r.Returned, r.ReturnWeeks = l.Day, back.Weeks
			}
		}
		r.LastSession = l.Day
	}
	full := c.full()
	for _, w := range full[max(0, len(full)-2):] {
		r.Planned += w.Planned
		r.Done += w.Done
		r.Target += w.Target.Minutes
		r.DoneMinutes += w.Target.Done(w.Totals)
	}
	for _, ps := range c.Pauses {
		// A pause after which the client has exercised again is told by the break.
		if !ps.From.After(c.Today) && (ps.To.IsZero() || ps.To.After(r.LastSession)) {
			r.Cause = ps.Cause
		}
	}
	return r
}

// weeksReady counts the weeks in a row that ended ready, with the dose of now.
func (c Course) weeksReady(p Policy) int {
	n := 0
	full := c.full()
	for i := len(full) - 1; i >= c.changed(); i-- {
		then := c
		then.Today = full[i].First.AddDays(7)
		then.Weeks = full[:i+1]
		then.Logs = nil
		for _, l := range c.Logs {
			if l.Day.Before(then.Today) {
				then.Logs = append(then.Logs, l)
			}
		}
		then.FrozenUntil, then.WeeksNoGain = domain.Date{}, 0
		if status, _ := Judge(then.record(p), p); status != Ready {
			break
		}
		n++
	}
	return n
}

// phase is what decides whether the client may leave the phase.
func (c Course) phase(p Policy) PhaseRecord {
	full := c.full()
	r := PhaseRecord{
		Phase: phaseOf(c.dose()), Today: c.Today, Weeks: c.Behind + len(full), Ceiling: c.Ceiling, Target: min(c.Goal, p.PhaseTarget),
		Alarm: c.Alarm, ScreeningValid: c.ScreeningValid, SignedOff: c.SignedOff,
	}
	var since domain.Date
	for i := len(full) - 1; i >= 0 && phaseOf(full[i].Dose) == r.Phase; i-- {
		r.InPhase, since = r.InPhase+1, full[i].First
	}
	if since.IsZero() {
		since = c.Weeks[len(c.Weeks)-1].First
	}
	for _, w := range full {
		r.Sessions = append(r.Sessions, w.Done)
		r.ModerateEquivalent = append(r.ModerateEquivalent, w.Totals.ModerateEquivalent)
	}
	for _, l := range c.Logs {
		if l.Day.Before(since) || l.Talk == "" {
			continue
		}
		r.TalkAsked++
		if l.Talk == intensity.TalkSing || l.Talk == intensity.TalkSentences {
			r.TalkComfortable++
		}
	}
	return r
}

func phaseOf(d Dose) Phase {
	switch {
	case d.Hardest() >= intensity.Vigorous:
		return VigorousIntroduction
	case d.Class >= intensity.Moderate:
		return ModeratePhase
	}
	return LightPhase
}

// DriftOf returns how talk test and heart rate have come apart in the last
// sessions that have both; nil while they have not. A resting heart rate that is
// no longer right moves all ranges, so it is measured anew.
//
// Practice rule: practice.
func DriftOf(logs []Log, p Policy) *Drift {
	var compared []Log
	for _, l := range logs {
		if l.Compared {
			compared = append(compared, l)
		}
	}
	compared = compared[max(0, len(compared)-p.DriftOf):]
	for _, pattern := range []intensity.Pattern{intensity.HeartRateHarder, intensity.FeelsHarder} {
		n := 0
		for _, one := range compared {
			if one.Pattern == pattern {
				n++
			}
		}
		if n >= p.DriftSessions {
			return &Drift{pattern, n, len(compared), compared[0].Day, compared[len(compared)-1].Day}
		}
	}
	return nil
}
