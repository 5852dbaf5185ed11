package fitness

import (
	"fmt"
	"math"

	"brae/domain"
	"brae/domain/intensity"
)

// Aim is a class of intensity that somebody is to train in, and what is known of
// them.
type Aim struct {
	Class    intensity.Class
	Ceiling  intensity.Class // hardest class allowed now
	VO2max   float64         // ml per kg and minute
	SEE      float64         // ml per kg and minute, one standard error of that; 0 if it is not known
	Measured bool            // by gas analysis: no error of an estimate
	Cycle    bool            // found on a cycle
	WeightKg *float64        // only cycling needs it
	Cap      int             // per cent of the reserve that vigorous work ends at; 0 is the end of the class
}

// Workloads are the works that should bring somebody into a class.
type Workloads struct {
	FromPercent, ToPercent int     // of the oxygen uptake reserve
	VO2Low, VO2High        float64 // ml per kg and minute, gross
	METsLow, METsHigh      float64
	VO2Start               float64 // to begin with; lower than VO2Low
	Works                  []Workload
	Missing                []Mode // works that need something which is not known
}

// Workload is one kind of work, from the lower to the upper edge of the class. Its
// ends are cut to the work that the equation was made for.
type Workload struct {
	Mode         Mode
	Grade        float64 // of walking and running, a fraction
	StepHeight   float64 // m
	Low, High    float64 // m/min, kgm/min or full steps a minute
	Start        float64 // to begin with, in the same unit
	Cut          Range   // Below or Above if an end was cut, InRange if not
	StartOutside bool    // the start is easier than the equation was made for
}

// The grades and heights that workloads are told for: those a treadmill and a step
// can be set to.
//
// Source: common_practice.
var (
	workGrades  = []float64{0, 0.025, 0.05, 0.075, 0.10}
	workHeights = []float64{0.10, 0.15, 0.20, 0.30}
)

// WorkFor returns the works that should bring somebody into a class: speed at some
// grades of a treadmill, watts of a cycle, rate at some heights of a step. Works
// that the equations were not made for are left out.
//
// It returns [domain.ErrHeld] for a class above the ceiling, and [domain.Problems]
// at class for one that is not prescribed by work, and at vo2max, see and weight_kg.
//
// Source: garber2011, acsm_equations, acsm_ranges, acsm_conditions. Practice rule: practice.
func WorkFor(a Aim, policy Policy) (Workloads, error) {
	var w Workloads
	if err := a.check(policy); err != nil {
		return w, err
	}
	if a.Class > a.Ceiling {
		return w, fmt.Errorf("work for %s, the ceiling is %s: %w", a.Class, a.Ceiling, domain.ErrHeld)
	}
	w.FromPercent = intensity.OxygenReserve.From(a.Class)
	w.ToPercent = intensity.OxygenReserve.From(a.Class + 1)
	if a.Class == intensity.Vigorous && a.Cap > 0 {
		w.ToPercent = min(w.ToPercent, a.Cap)
	}
	see := a.SEE
	if see == 0 && !a.Measured {
		see = policy.WorkloadSEE
	}
	lower := max(a.VO2max-see, RestingVO2+1)
	low, errLow := VO2AtReserve(a.VO2max, float64(w.FromPercent))
	high, errHigh := VO2AtReserve(a.VO2max, float64(w.ToPercent))
	start, errStart := VO2AtReserve(lower, float64(w.FromPercent))
	for _, err := range []error{errLow, errHigh, errStart} {
		if err != nil {
			return w, err
		}
	}
	w.VO2Low, w.VO2High, w.VO2Start = low, high, max(start/(1+Spread), RestingVO2)
	w.METsLow, w.METsHigh = METs(low), METs(high)
	for _, grade := range workGrades {
		w.add(Workload{Mode: Walk, Grade: grade}, WalkLow, WalkHigh, func(vo2 float64) (float64, error) {
			s, _, err := WalkSpeed(vo2, grade)
			return s, err
		})
	}
	for _, grade := range workGrades[:3] {
		w.add(Workload{Mode: Run, Grade: grade}, RunLow, math.Inf(1), func(vo2 float64) (float64, error) {
			s, _, err := RunSpeed(vo2, grade)
			return s, err
		})
	}
	if a.WeightKg == nil {
		w.Missing = append(w.Missing, LegCycle)
	} else {
		w.add(Workload{Mode: LegCycle}, LegLow, LegHigh, func(vo2 float64) (float64, error) {
			k, _, err := LegWorkFor(vo2, *a.WeightKg)
			return k, err
		})
	}
	for _, height := range workHeights {
		w.add(Workload{Mode: Step, StepHeight: height}, RateLow, RateHigh, func(vo2 float64) (float64, error) {
			f, _, err := StepRate(vo2, height)
			return f, err
		})
	}
	return w, nil
}

func (a Aim) check(policy Policy) error {
	var p domain.Problems
	if a.Class < intensity.Light || a.Class > intensity.Vigorous {
		p.Add("class", "Choose light, moderate or vigorous.")
	}
	if !(a.VO2max >= 2*RestingVO2 && a.VO2max <= highestVO2) {
		p.Add("vo2max", "A maximal oxygen uptake goes from 7 to 100 ml per kg and minute here.")
	}
	if !(a.SEE >= 0 && a.SEE <= 20) {
		p.Add("see", "An error goes from 0 to 20 ml per kg and minute.")
	}
	if a.WeightKg != nil {
		policy.checkWeight(&p, *a.WeightKg)
	}
	return p.Err()
}

// add works out one kind of work and cuts it to the range of its equation; it leaves
// out what lies outside altogether.
func (w *Workloads) add(one Workload, least, most float64, inverse func(vo2 float64) (float64, error)) {
	high, err := inverse(w.VO2High)
	if err != nil || tidy(high) < least {
		return
	}
	low, err := inverse(w.VO2Low)
	if err != nil {
		low = 0 // the easiest work of the kind is already above the lower edge
	}
	if tidy(low) > most {
		return
	}
	one.Cut = InRange
	if low < least {
		low, one.Cut = least, Below
	}
	if high > most {
		high, one.Cut = most, Above
	}
	one.Low, one.High = low, high
	one.Start, err = inverse(w.VO2Start)
	if err != nil || tidy(one.Start) < least {
		one.Start, one.StartOutside = least, true
	}
	one.Start = min(one.Start, low)
	w.Works = append(w.Works, one)
}
