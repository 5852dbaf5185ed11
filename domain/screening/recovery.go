package screening

import (
	"fmt"

	"brae/domain"
)

// EventKind is an event after which exercise has to wait, or be limited.
type EventKind string

// The events.
const (
	HeartAttack     EventKind = "heart_attack"
	Stent           EventKind = "stent"         // or a widened artery, planned
	OpenHeart       EventKind = "open_heart"    // bypass or valve through the breastbone
	FailureStable   EventKind = "heart_failure" // the day since when it has been stable on its treatment
	Pacemaker       EventKind = "pacemaker"
	Defibrillator   EventKind = "defibrillator"
	HeartTransplant EventKind = "heart_transplant"
	EffortAngina    EventKind = "angina"
)

// Event is what happened, and when the doctor decided after it.
type Event struct {
	Kind       EventKind
	On         domain.Date
	Discharged domain.Date // from hospital; zero counts as the day of the event
	DecidedOn  domain.Date // the doctor's decision in force; zero is none
	Alone      bool        // that decision names exercise on one's own now
	Healed     bool        // the wound or puncture has healed
}

// WorkLimit is a limit on movement for a time.
type WorkLimit struct {
	Until domain.Date // the first day without it
	Grams int         // the most that is lifted, pushed or pulled; 0 is no such limit
	Says  string
}

// Recovery is what an event leaves open on a day.
type Recovery struct {
	MayStart bool
	Earliest domain.Date // for a plan without supervision, as far as it depends on time alone
	Waits    []string    // why it may not start yet
	Limits   []WorkLimit // in force on that day
	TalkOnly bool        // heart rate is no guide: talk test and perceived exertion
}

// AfterEvent returns whether a plan without supervision may start on a day after
// an event, and what is limited. It returns a [domain.Problems] for an event that
// does not exist, has no day or lies in the future.
//
// Source: ada2016, heartonline_limits, bmc_sternal, aha_resistance, usc_cardiac_rehab, screening_memory. Practice rule: practice.
func AfterEvent(e Event, today domain.Date, p Policy) (Recovery, error) {
	var problems domain.Problems
	if !e.On.Valid() || e.On.After(today) {
		problems.Add("on", "Give the day of the event, not in the future.")
		return Recovery{}, problems
	}
	leave := e.On
	if e.Discharged.After(leave) {
		leave = e.Discharged
	}
	r := Recovery{Earliest: leave}
	limit := func(days, grams int, says string) {
		if until := e.On.AddDays(days); today.Before(until) {
			r.Limits = append(r.Limits, WorkLimit{until, grams, says})
		}
	}
	switch e.Kind {
	case HeartAttack:
		if !e.Alone {
			r.Earliest = later(leave, e.On.AddDays(p.HeartAttackDays))
		}
	case Stent:
		if !e.Healed {
			r.Waits = append(r.Waits, "The puncture has to heal first, which takes about a week.")
		}
		limit(p.PunctureDays, 0, "No heavy lifting with the arm or leg that was punctured.")
	case OpenHeart:
		limit(7*p.SternumWeeks, p.LiftGrams, fmt.Sprintf("Nothing above %s kg is lifted, pushed or pulled, and the trunk is not twisted. "+
			"The surgeon's own figures come first.", Hundredths(p.LiftGrams/10)))
		limit(7*p.ArmsWeeks, 0, "No upper-body strength work from half of the maximum on.")
	case FailureStable:
		r.Earliest = e.On.AddDays(7 * p.FailureWeeks)
	case Pacemaker, Defibrillator:
		if !e.Healed {
			r.Waits = append(r.Waits, "The wound has to heal first.")
		}
		limit(7*p.DeviceWeeks, 0, "The arm on that side is not raised above the shoulder, and lifts nothing heavy.")
	case HeartTransplant:
		r.TalkOnly = true
	case EffortAngina:
	default:
		problems.Add("kind", "There is no event "+string(e.Kind)+".")
		return Recovery{}, problems
	}
	if e.DecidedOn.IsZero() || e.DecidedOn.Before(leave) {
		r.Waits = append(r.Waits, "A doctor has to decide after it.")
	}
	if today.Before(r.Earliest) {
		r.Waits = append(r.Waits, "Without supervision not before "+r.Earliest.String()+".")
	}
	r.MayStart = r.Waits == nil
	return r, nil
}

func later(a, b domain.Date) domain.Date {
	if a.After(b) {
		return a
	}
	return b
}

// MayLift reports whether so many grams may be lifted, pushed or pulled under the
// limits in force.
//
// Source: bmc_sternal.
func (r Recovery) MayLift(grams int) bool {
	for _, l := range r.Limits {
		if l.Grams > 0 && grams > l.Grams {
			return false
		}
	}
	return true
}
