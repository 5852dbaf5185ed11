package plan

import (
	"fmt"

	"brae/domain"
	"brae/domain/intensity"
)

// Cause is why a client did not exercise for a while.
type Cause string

// The causes of a break. The last four are looked at by the practitioner before
// anything else, however short the break was.
//
// Practice rule: practice.
const (
	NoCause     Cause = ""
	Holiday     Cause = "holiday"
	Illness     Cause = "illness"
	Injury      Cause = "injury"
	Hospital    Cause = "hospital"
	NewMedicine Cause = "new_medicine"
)

// Return says how a client takes up the plan after a break.
type Return struct {
	Rungs    int  // how many rungs back; 0 goes on
	Restart  bool // from the first week's dose
	CutTime  int  // per cent less time, where there are not that many rungs below
	Easier   int  // classes easier, where there are not that many rungs below
	Weeks    int  // how long the lower dose is kept at least
	EasyEnd  bool // the first session is done at its easy end
	Rescreen bool // ask the screening questions again
	Retest   bool // repeat the fitness tests
	Review   bool // the practitioner looks first, and nothing is done before
}

// StepBack returns how to go on when the last session was that many days ago:
// up to 7 days resume, up to 14 one rung lower, up to 28 two rungs lower for two
// weeks, and after that start again with screening and tests repeated. A break
// for illness, injury, hospital or a new medicine is reviewed first, whatever
// its length. It returns [domain.Problems] for fewer than 0 days or a cause that
// is not one.
//
// That recent gains are gone after four weeks is published; the steps are not.
//
// Source: mujika2001.
// Practice rule: practice.
func StepBack(days int, cause Cause, p Policy) (Return, error) {
	var problems domain.Problems
	if days < 0 {
		problems.Add("days", "Days since the last session are 0 or more.")
	}
	var r Return
	switch cause {
	case NoCause, Holiday:
	case Illness, Injury, Hospital, NewMedicine:
		r.Review = true
	default:
		problems.Add("cause", fmt.Sprintf("%q is not a cause of a break.", string(cause)))
	}
	if problems != nil {
		return Return{}, problems
	}
	switch {
	case days <= p.BreakResume:
		r.EasyEnd = true
	case days <= p.BreakOne:
		r.Rungs, r.CutTime, r.Weeks = 1, p.CutOne, p.BackWeeksOne
	case days <= p.BreakTwo:
		r.Rungs, r.CutTime, r.Easier, r.Weeks = 2, p.CutTwo, 1, p.BackWeeks
	default:
		r.Restart, r.CutTime, r.Easier, r.Weeks = true, p.CutTwo, 1, p.BackWeeks
		r.Rescreen, r.Retest = true, true
	}
	return r, nil
}

// From returns the dose to take up again. rungs are the doses of the plan's
// weeks before, the first week's first; weeks that repeat a dose are one rung.
// No component of the result is above the dose now, even where the plan came
// down to it from a higher rung. Without enough rungs below, the time is cut and
// the class lowered.
//
// Practice rule: practice.
func (r Return) From(now Dose, rungs []Dose) Dose {
	if r.Rungs == 0 && !r.Restart {
		return now
	}
	var below []Dose // rungs that are lower, each once
	for _, d := range rungs {
		d = atMost(d, now)
		if d != now && (len(below) == 0 || below[len(below)-1] != d) {
			below = append(below, d)
		}
	}
	switch {
	case r.Restart && len(below) > 0:
		return below[0]
	case r.Rungs > 0 && len(below) >= r.Rungs:
		return below[len(below)-r.Rungs]
	}
	return r.cut(now)
}

// cut takes time away, and makes the work easier.
func (r Return) cut(d Dose) Dose {
	work := d.Minutes - d.Easy
	less := max(work*(100-r.CutTime)/100, min(work, 1))
	d.Minutes = d.Easy + less
	for range r.Easier {
		switch {
		case d.Vigorous > 0:
			d.Vigorous = 0
		case d.Class > intensity.Light:
			d.Class--
		}
	}
	d.Vigorous = min(d.Vigorous, d.Sessions*less)
	return d
}

// atMost returns d with nothing of it above the limit.
func atMost(d, limit Dose) Dose {
	d.Class = min(d.Class, limit.Class)
	d.Sessions = min(d.Sessions, limit.Sessions)
	d.Minutes = min(d.Minutes, limit.Minutes)
	d.Easy = min(d.Easy, d.Minutes)
	d.Vigorous = min(d.Vigorous, limit.Vigorous, d.Sessions*(d.Minutes-d.Easy))
	return d
}
