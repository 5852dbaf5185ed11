package plan

import (
	"brae/domain"
	"brae/domain/intensity"
)

// Status is how a client stands with the plan.
type Status string

// The statuses. Where more than one is true, the first of this list is it.
//
// Practice rule: practice.
const (
	Held          Status = "held"            // the plan asks for more than holds and decisions leave open
	Returning     Status = "returning"       // after a break
	TooHard       Status = "too_hard"        // two of the last three sessions were
	Behind        Status = "behind"          // under 80 per cent of the sessions or of the minutes
	SteadyTooLong Status = "steady_too_long" // ready for four weeks and nothing changed, or no test moved in eight
	Ready         Status = "ready"           // for one step more
	OnPlan        Status = "on_plan"
)

// Log is one session of a client, as far as the status looks at it.
type Log struct {
	Day       domain.Date
	Effort    int            // perceived exertion on 6-20; 0 if not asked
	Talk      intensity.Talk // empty if not asked
	HeartRate int            // mean in beats per minute; 0 if not recorded
	Low, High int            // the target range that day in beats per minute; 0 without one
	Reported  bool           // something that a practitioner must look at

	// Compared says that there was both a heart rate on a valid basis and what it
	// felt like, and Pattern how the two stood to each other.
	Compared bool
	Pattern  intensity.Pattern
}

// Record is what the status is judged by.
type Record struct {
	Today   domain.Date
	Dose    Dose            // what the plan asks for now
	Ceiling intensity.Class // the hardest class that holds and decisions leave open

	// Sessions at this dose, the last one last. Those before the window are
	// passed over.
	Logs []Log

	// The last two full weeks.
	Planned, Done       int // sessions
	Target, DoneMinutes int // minutes as the targets of these weeks count them

	LastSession domain.Date // of any dose; zero if there was none yet
	Cause       Cause       // of a break since then
	Returned    domain.Date // first session after the last break; zero if there was none
	ReturnWeeks int         // how many weeks the lower dose is kept from then on
	FrozenUntil domain.Date // last day on which a report keeps the plan from going up; zero if none does
	WeeksReady  int         // full weeks in a row that ended ready, with no change of the dose
	WeeksNoGain int         // weeks over which tests showed no real change; 0 if they did, or were not done
}

// The codes of reasons for a status.
const (
	BecauseCeiling   = "ceiling"    // Have: hardest class of the plan, Need: the ceiling, both by their order
	BecauseBreak     = "break"      // Have: days since the last session, Need: the most to go on with
	BecauseCause     = "cause"      // the cause of the break asks for a review
	BecauseBack      = "back"       // Have: days since the return, Need: how long the lower dose is kept
	BecauseEffort    = "effort"     // Have: sessions with too high an exertion, Need: that many
	BecauseHeartRate = "heart_rate" // Have: sessions above the target range, Need: that many
	BecauseTalk      = "talk"       // Have: sessions in which talking was too hard, Need: that many
	BecauseSessions  = "sessions"   // Have: per cent of planned sessions, Need: the least
	BecauseMinutes   = "minutes"    // Have: per cent of the target, Need: the least
	BecauseEasy      = "easy"       // Have: easy sessions of the last ones, Need: that many
	BecauseWeeks     = "weeks"      // Have: weeks ready without a change, Need: that many
	BecauseNoGain    = "no_gain"    // Have: weeks without a real change in any test, Need: that many
	BecauseReported  = "reported"   // a report keeps the plan from going up
	BecauseFewLogs   = "few_logs"   // Have: sessions in the window, Need: to judge by
	BecauseAsPlanned = "as_planned" // the work is as hard as it should be
)

// Judge returns how a client stands and why. Readiness does not ask for more
// than the ceiling: a doctor's review that holds vigorous work keeps nobody from
// more time.
//
// Source: toronto_rehab, getp10.
// Practice rule: practice.
func Judge(r Record, p Policy) (Status, []Reason) {
	if r.Dose.Hardest() > r.Ceiling {
		return Held, []Reason{{BecauseCeiling, int(r.Dose.Hardest()), int(r.Ceiling)}}
	}
	if why := r.returning(p); why != nil {
		return Returning, why
	}
	logs := r.window(p)
	if why := r.tooHard(logs, p); why != nil {
		return TooHard, why
	}
	if why := r.behind(p); why != nil {
		return Behind, why
	}
	why, ready := r.ready(logs, p)
	switch {
	case ready && r.WeeksReady >= p.SteadyWeeks:
		return SteadyTooLong, append(why, Reason{BecauseWeeks, r.WeeksReady, p.SteadyWeeks})
	case r.WeeksNoGain >= p.NoGainWeeks:
		return SteadyTooLong, []Reason{{BecauseNoGain, r.WeeksNoGain, p.NoGainWeeks}}
	case ready:
		return Ready, why
	}
	return OnPlan, why
}

func (r Record) returning(p Policy) (why []Reason) {
	if r.LastSession.IsZero() {
		return nil
	}
	if days := r.Today.DaysSince(r.LastSession); days > p.BreakResume {
		why = append(why, Reason{BecauseBreak, days, p.BreakResume})
	}
	switch r.Cause {
	case NoCause, Holiday:
	default:
		why = append(why, Reason{Code: BecauseCause})
	}
	if !r.Returned.IsZero() {
		if days := r.Today.DaysSince(r.Returned); days < 7*r.ReturnWeeks {
			why = append(why, Reason{BecauseBack, days, 7 * r.ReturnWeeks})
		}
	}
	return why
}

// window returns the sessions to judge by: those of the last two weeks, or of as
// many weeks as it takes a client with fewer sessions to have four.
func (r Record) window(p Policy) []Log {
	days := p.WindowDays
	if s := r.Dose.Sessions; s > 0 {
		days = max(days, 7*((p.ReadyOf+s-1)/s))
	}
	for i, l := range r.Logs {
		if r.Today.DaysSince(l.Day) <= days {
			return r.Logs[i:]
		}
	}
	return nil
}

func (r Record) tooHard(logs []Log, p Policy) (why []Reason) {
	limit := p.TooHardEffort
	if r.Dose.Hardest() >= intensity.Vigorous {
		limit = p.TooHardEffortVigorous
	}
	// Whole sentences are comfortable even where only light work was asked for.
	mayTalk := max(r.Dose.Hardest(), intensity.Moderate)
	var effort, rate, talk, hard int
	for _, l := range logs[max(0, len(logs)-p.TooHardOf):] {
		var e, h, t bool
		if e = l.Effort >= limit; e {
			effort++
		}
		if h = l.High > 0 && l.HeartRate > l.High; h {
			rate++
		}
		if t = l.Talk.Class() > mayTalk; t {
			talk++
		}
		if e || h || t {
			hard++
		}
	}
	if hard < p.TooHardSessions {
		return nil
	}
	for _, reason := range []Reason{{BecauseEffort, effort, hard}, {BecauseHeartRate, rate, hard}, {BecauseTalk, talk, hard}} {
		if reason.Have > 0 {
			reason.Need = p.TooHardSessions
			why = append(why, reason)
		}
	}
	return why
}

func (r Record) behind(p Policy) (why []Reason) {
	if r.Done*100 < p.Adherence*r.Planned {
		why = append(why, Reason{BecauseSessions, r.Done * 100 / r.Planned, p.Adherence})
	}
	if r.DoneMinutes*100 < p.Adherence*r.Target {
		why = append(why, Reason{BecauseMinutes, r.DoneMinutes * 100 / r.Target, p.Adherence})
	}
	return why
}

// ready reports whether the client may take a step, and why or why not.
func (r Record) ready(logs []Log, p Policy) (why []Reason, ready bool) {
	if !r.FrozenUntil.IsZero() && !r.Today.After(r.FrozenUntil) {
		return []Reason{{Code: BecauseReported}}, false
	}
	if len(logs) < p.ReadyOf {
		return []Reason{{BecauseFewLogs, len(logs), p.ReadyOf}}, false
	}
	easy := 0
	for _, l := range logs[len(logs)-p.ReadyOf:] {
		if r.easy(l, p) {
			easy++
		}
	}
	if easy < p.ReadySessions {
		return []Reason{{BecauseAsPlanned, easy, p.ReadySessions}}, false
	}
	return []Reason{{BecauseEasy, easy, p.ReadySessions}}, true
}

// easy reports whether a session was easier than planned: a low exertion or
// talking so comfortable that singing would do, a heart rate in the low part of
// the range if there is one, and nothing reported.
func (r Record) easy(l Log, p Policy) bool {
	limit := p.ReadyEffort
	if r.Dose.Hardest() >= intensity.Vigorous {
		limit = p.ReadyEffortVigorous
	}
	felt := l.Effort > 0 && l.Effort <= limit
	talked := l.Talk == intensity.TalkSing
	low := l.HeartRate == 0 || l.High == 0 || (l.HeartRate-l.Low)*100 <= p.ReadyBand*(l.High-l.Low)
	return (felt || talked) && low && !l.Reported
}
