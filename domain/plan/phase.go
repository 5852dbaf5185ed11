package plan

import (
	"fmt"
	"slices"

	"brae/domain"
	"brae/domain/intensity"
)

// Phase is the stretch of the way that a client is on.
type Phase string

// The phases, in their order.
//
// Practice rule: common_practice, practice.
const (
	LightPhase           Phase = "light"
	ModeratePhase        Phase = "moderate"
	VigorousIntroduction Phase = "vigorous_introduction"
)

// ParsePhase reads the name of a phase.
func ParsePhase(name string) (Phase, error) {
	switch ph := Phase(name); ph {
	case LightPhase, ModeratePhase, VigorousIntroduction:
		return ph, nil
	}
	return "", fmt.Errorf("phase %q: not one of light, moderate, vigorous_introduction", name)
}

// Ceiling returns the hardest class of the phase; none if there is no such
// phase.
//
// Practice rule: practice.
func (ph Phase) Ceiling() intensity.Class {
	switch ph {
	case LightPhase:
		return intensity.Light
	case ModeratePhase:
		return intensity.Moderate
	case VigorousIntroduction:
		return intensity.Vigorous
	}
	return intensity.None
}

// Next returns the phase after this one, and false after the last.
func (ph Phase) Next() (Phase, bool) {
	switch ph {
	case LightPhase:
		return ModeratePhase, true
	case ModeratePhase:
		return VigorousIntroduction, true
	}
	return "", false
}

// PhaseRecord is what decides whether a client may leave a phase.
type PhaseRecord struct {
	Phase   Phase
	Today   domain.Date
	Weeks   int // full weeks of the programme so far
	InPhase int // of these, in this phase

	Ceiling            intensity.Class // the hardest class that holds and decisions leave open
	Sessions           []int           // sessions of each full week, the last week last
	ModerateEquivalent []int           // moderate-equivalent minutes of each full week, the last week last
	Target             int             // the practitioner's own target of these minutes; 0 if there is none
	TalkAsked          int             // sessions of the phase with a talk test
	TalkComfortable    int             // of these, sessions with singing or whole sentences
	Alarm              domain.Date     // last report that called for a stop, easing off or an emergency; zero if none
	ScreeningValid     bool
	SignedOff          domain.Date // the practitioner's last sign-off for vigorous work; zero if none
}

// The codes of what keeps a client in a phase.
const (
	StaysCeiling     = "ceiling"        // a hold or a decision does not leave the next phase open
	StaysWeeks       = "weeks"          // Have: weeks in the phase, Need: the least
	StaysWeek        = "week"           // Have: the coming week of the programme, Need: the first for vigorous work
	StaysSessions    = "sessions"       // Have: sessions of a week, Need: the least
	StaysTalk        = "talk"           // Have: per cent of sessions with comfortable talking, Need: the least
	StaysTalkUnknown = "talk_unknown"   // nobody did a talk test
	StaysAlarm       = "alarm"          // Have: days since a report, Need: more than this
	StaysTarget      = "target"         // Have: moderate-equivalent minutes of a week, Need: the target
	StaysScreening   = "screening"      // the screening is no longer valid
	StaysSignOff     = "sign_off"       // Have: age of the sign-off in days, -1 if there is none, Need: the most
	StaysLast        = "no_later_phase" // the introduction of vigorous work has no phase after it
)

// Stays returns what keeps the client in the phase; nothing if they may go on
// to the next. Light is left after two weeks at the earliest, with three
// sessions in each of the last two weeks, comfortable talking in 80 per cent of
// sessions and a quiet fortnight. Moderate is left after eight weeks and from
// week 13 on, with the target reached in each of the last four weeks, a valid
// screening, and the practitioner's sign-off. Both ask for a ceiling that leaves
// the next phase open: a hold on vigorous work keeps nobody from moderate work.
//
// Practice rule: practice.
func (r PhaseRecord) Stays(p Policy) []Reason {
	next, ok := r.Phase.Next()
	if !ok {
		return []Reason{{Code: StaysLast}}
	}
	var stays []Reason
	stay := func(yes bool, code string, have, need int) {
		if yes {
			stays = append(stays, Reason{code, have, need})
		}
	}
	stay(r.Ceiling < next.Ceiling(), StaysCeiling, int(r.Ceiling), int(next.Ceiling()))
	if !r.Alarm.IsZero() {
		quiet := r.Today.DaysSince(r.Alarm)
		stay(quiet <= p.QuietDays, StaysAlarm, quiet, p.QuietDays)
	}
	switch r.Phase {
	case LightPhase:
		stay(r.InPhase < p.LightWeeksLeast, StaysWeeks, r.InPhase, p.LightWeeksLeast)
		if few, yes := below(r.Sessions, p.PhaseWeeks, p.PhaseSessions); yes {
			stay(true, StaysSessions, few, p.PhaseSessions)
		}
		if r.TalkAsked == 0 {
			stay(true, StaysTalkUnknown, 0, 0)
		} else {
			stay(r.TalkComfortable*100 < p.Comfortable*r.TalkAsked, StaysTalk, r.TalkComfortable*100/r.TalkAsked, p.Comfortable)
		}
	case ModeratePhase:
		stay(r.InPhase < p.ModerateWeeksLeast, StaysWeeks, r.InPhase, p.ModerateWeeksLeast)
		stay(r.Weeks+1 < p.VigorousFrom, StaysWeek, r.Weeks+1, p.VigorousFrom)
		target := p.PhaseTarget
		if r.Target > 0 {
			target = r.Target
		}
		if few, yes := below(r.ModerateEquivalent, p.TargetWeeks, target); yes {
			stay(true, StaysTarget, few, target)
		}
		stay(!r.ScreeningValid, StaysScreening, 0, 0)
		age := -1
		if !r.SignedOff.IsZero() {
			age = r.Today.DaysSince(r.SignedOff)
		}
		stay(age < 0 || age > p.SignOffDays, StaysSignOff, age, p.SignOffDays)
	}
	return stays
}

// below returns the lowest of the last n weeks, and whether it is below the
// limit. A week that is not there counts as 0.
func below(weeks []int, n, limit int) (lowest int, yes bool) {
	if len(weeks) >= n {
		lowest = slices.Min(weeks[len(weeks)-n:])
	}
	return lowest, lowest < limit
}
