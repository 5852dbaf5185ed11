package plan

import (
	"slices"

	"brae/domain/intensity"
)

// Situation is what a suggestion is made from.
type Situation struct {
	Status      Status
	Dose        Dose            // what the plan asks for now
	Ceiling     intensity.Class // the hardest class that holds and decisions leave open
	Goal        int             // moderate-equivalent minutes a week
	PhaseDone   bool            // nothing keeps the client in the phase: see [PhaseRecord.Stays]
	ChangedDays int             // days since the dose last changed
	Raised      int             // per cent of the reserve by which the low end of the class is raised already
	Vigorous    int             // weeks since vigorous minutes were introduced; 0 if they were not
	Rungs       []Dose          // doses of the plan's weeks before, the first week's first
	Break       Return          // from [StepBack], if the status is Returning
	Doubtful    bool            // too hard by heart rates alone that are higher than the work feels
}

// Suggestion is the one step to suggest. It is for the practitioner to confirm.
type Suggestion struct {
	Step    Component // what would change; NoChange if nothing, or if a rung is gone back
	Up      bool      // the step makes it more
	To      Dose      // the dose after it; the dose now if nothing changes
	Reserve int       // per cent of the reserve to go up within the class; 0 unless that is the step
	Reasons []Reason
}

// The codes of reasons for a suggestion.
const (
	SuggestUnderCeiling = "under_ceiling"  // the plan goes down to what is allowed
	SuggestBack         = "back"           // after the break
	SuggestReview       = "review"         // the practitioner looks first
	SuggestEasier       = "easier"         // one step back
	SuggestMeasure      = "measure"        // the resting heart rate again, before any step
	SuggestCatchUp      = "catch_up"       // the same again: a missed week is no reason for a larger step
	SuggestKeep         = "keep"           // the same again
	SuggestTooSoon      = "too_soon"       // Have: days since the last change, Need: the least
	SuggestPhase        = "phase_complete" // the next phase begins
	SuggestMore         = "more"           // one step up within the class
	SuggestWithin       = "within_class"   // a little harder within the class
	SuggestGoal         = "goal_reached"   // Have: moderate-equivalent minutes, Need: the goal
	SuggestTop          = "top"            // no step is left below the ceiling
)

// Suggest returns the one step that the status calls for. Up it goes only when
// the client is ready, not twice in a week, and by one component: to the next
// phase if that is open, else time until 30 minutes, sessions until 5 a week,
// time until 60 minutes; and where all that is done, a little harder within the
// class once the client has been steady too long, as far as the class goes. It
// never goes above the ceiling. Where only the heart rates say that it is too hard, and
// talking and effort have said otherwise for many sessions, the resting heart rate is
// measured first: with a wrong one all ranges are wrong.
//
// Source: toronto_rehab, getp10.
// Practice rule: practice.
func Suggest(s Situation, p Policy) Suggestion {
	switch s.Status {
	case Held:
		return Suggestion{Step: Intensity, To: s.Dose.Under(s.Ceiling), Reasons: []Reason{{Code: SuggestUnderCeiling}}}
	case Returning:
		return s.back()
	case TooHard:
		if s.Doubtful {
			return s.keep(Reason{Code: SuggestMeasure})
		}
		return s.easier(p)
	case Behind:
		return s.keep(Reason{Code: SuggestCatchUp})
	case Ready, SteadyTooLong:
		return s.up(p)
	}
	return s.keep(Reason{Code: SuggestKeep})
}

func (s Situation) keep(why ...Reason) Suggestion {
	return Suggestion{To: s.Dose, Reasons: why}
}

func (s Situation) back() Suggestion {
	to := s.Break.From(s.Dose, s.Rungs).Under(s.Ceiling)
	why := []Reason{{Code: SuggestBack}}
	if s.Break.Review {
		why = append(why, Reason{Code: SuggestReview})
	}
	return Suggestion{Step: step(s.Dose, to), To: to, Reasons: why}
}

// easier undoes the last step, or takes one step of time, sessions or class away.
func (s Situation) easier(p Policy) Suggestion {
	to := s.Dose
	for _, d := range slices.Backward(s.Rungs) {
		if d = atMost(d, s.Dose); d != s.Dose {
			to = d
			break
		}
	}
	if step(s.Dose, to) == NoChange {
		to = shorter(s.Dose, p)
	}
	return Suggestion{Step: step(s.Dose, to), To: to, Reasons: []Reason{{Code: SuggestEasier}}}
}

// shorter is the way down where no rung tells it.
func shorter(d Dose, p Policy) Dose {
	switch {
	case d.Vigorous > 0:
		d.Vigorous = max(0, d.Vigorous-p.VigorousStep)
	case d.Minutes-d.Easy > p.TimeStep:
		d.Minutes -= p.TimeStep
	case d.Class > intensity.Light:
		d.Class--
	case d.Sessions > 1:
		d.Sessions--
	}
	return d
}

func (s Situation) up(p Policy) Suggestion {
	if s.ChangedDays < p.StepDays {
		return s.keep(Reason{SuggestTooSoon, s.ChangedDays, p.StepDays})
	}
	if to, ok := s.nextPhase(p); ok {
		return Suggestion{Step: Intensity, Up: true, To: to, Reasons: []Reason{{Code: SuggestPhase}}}
	}
	done := s.Dose.Totals().ModerateEquivalent
	if s.Dose.Class < intensity.Moderate {
		done = s.Dose.Totals().Light
	}
	if done < s.Goal {
		if to, step := longer(s.Dose, p); step != NoChange {
			return Suggestion{Step: step, Up: true, To: to, Reasons: []Reason{{Code: SuggestMore}}}
		}
	}
	why := Reason{Code: SuggestTop}
	if done >= s.Goal {
		why = Reason{SuggestGoal, done, s.Goal}
	}
	if s.Status == SteadyTooLong && s.Raised+p.ReserveStep < intensity.Reserve.Width(s.Dose.Hardest()) {
		return Suggestion{
			Step: Intensity, Up: true, To: s.Dose, Reserve: p.ReserveStep,
			Reasons: []Reason{why, {Code: SuggestWithin}},
		}
	}
	return s.keep(why)
}

// nextPhase returns the dose with which the next phase begins or goes on: a
// light dose turned moderate, a moderate one with some vigorous minutes.
func (s Situation) nextPhase(p Policy) (Dose, bool) {
	to := s.Dose
	switch {
	case to.Class < intensity.Moderate && s.PhaseDone && to.Class < s.Ceiling:
		to.Class++
		return to, true
	case to.Class == intensity.Moderate && s.Ceiling >= intensity.Vigorous && (s.PhaseDone || to.Vigorous > 0):
		to, step := moreVigorous(to, s.Vigorous+1, p)
		return to, step != NoChange
	}
	return to, false
}
