package fitness

import "brae/domain"

// Work is what somebody does at a steady rate. Which fields it needs depends on
// the mode; a nil field was not given. The weight is needed for cycling, and for
// kilocalories in any mode.
type Work struct {
	Mode       Mode     `json:"mode"`
	SpeedMMin  *float64 `json:"speed_m_min"`  // walk, run
	Grade      *float64 `json:"grade"`        // walk, run; a fraction, level if not given
	WorkKgmMin *float64 `json:"work_kgm_min"` // leg_cycle, arm_cycle
	WeightKg   *float64 `json:"weight_kg"`
	StepHeight *float64 `json:"step_height_m"` // step
	StepsMin   *float64 `json:"steps_min"`     // step: full up-and-down cycles
}

// Cost is what a steady work takes.
type Cost struct {
	VO2        float64  // gross, ml per kg and minute
	METs       float64  // of adults
	Litres     *float64 // of oxygen a minute, gross; nil without a weight
	KcalMin    *float64 // gross; nil without a weight
	KcalMinNet *float64 // without rest; nil without a weight
	Range      Range
}

// CostOf returns the cost of a work by the equation of its mode. It refuses what
// the equation refuses, a missing field, and a field that the mode has no use
// for, since that is a mode chosen by mistake; each with a problem at its field.
//
// Source: bushman2020, acsm_equations.
func CostOf(w Work, policy Policy) (Cost, error) {
	var p domain.Problems
	w.fields(&p, policy)
	if p != nil {
		return Cost{}, p
	}
	vo2, r, err := w.equation()
	if err != nil {
		return Cost{}, err
	}
	c := Cost{VO2: vo2, METs: METs(vo2), Range: r}
	if w.WeightKg != nil {
		c.Litres = new(Litres(vo2, *w.WeightKg))
		c.KcalMin = new(KcalMin(vo2, *w.WeightKg))
		c.KcalMinNet = new(KcalMin(vo2-RestingVO2, *w.WeightKg))
	}
	return c, nil
}

func (w Work) equation() (float64, Range, error) {
	switch w.Mode {
	case Walk:
		return VO2Walk(*w.SpeedMMin, or(w.Grade, 0))
	case Run:
		return VO2Run(*w.SpeedMMin, or(w.Grade, 0))
	case LegCycle:
		return VO2LegCycle(*w.WorkKgmMin, *w.WeightKg)
	case ArmCycle:
		return VO2ArmCycle(*w.WorkKgmMin, *w.WeightKg)
	}
	return VO2Step(*w.StepsMin, *w.StepHeight)
}

// fields notes what is missing for the mode and what does not belong to it.
func (w Work) fields(p *domain.Problems, policy Policy) {
	var tread, crank, step bool
	switch w.Mode {
	case Walk, Run:
		tread = true
	case LegCycle, ArmCycle:
		crank = true
	case Step:
		step = true
	default:
		p.Add("mode", "Choose walk, run, leg_cycle, arm_cycle or step.")
		return
	}
	want(p, "speed_m_min", w.SpeedMMin, tread, "Type the speed.")
	want(p, "work_kgm_min", w.WorkKgmMin, crank, "Type the work rate.")
	want(p, "steps_min", w.StepsMin, step, "Type how often a minute the person goes up and down again.")
	want(p, "step_height_m", w.StepHeight, step, "Type the height of the step in metres, such as 0.2.")
	if !tread && w.Grade != nil {
		p.Add("grade", "Only walking and running have a grade.")
	}
	if crank {
		want(p, "weight_kg", w.WeightKg, true, "Type the body weight: the same work is harder for a lighter person.")
	}
	if w.WeightKg != nil {
		policy.checkWeight(p, *w.WeightKg)
	}
}

// want notes a field that is missing though the mode needs it, or there though it
// has no use for it.
func want(p *domain.Problems, field string, x *float64, needed bool, missing string) {
	switch {
	case needed && x == nil:
		p.Add(field, missing)
	case !needed && x != nil:
		p.Add(field, "This does not belong to the kind of work that was chosen.")
	}
}

func or(x *float64, otherwise float64) float64 {
	if x == nil {
		return otherwise
	}
	return *x
}
