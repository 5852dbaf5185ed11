package fitness

import "brae/domain/intensity"

// Outcome is the one figure that a test is followed over time by.
type Outcome struct {
	Value         float64
	Unit          string
	LowerIsBetter bool
	Measure       Measure // empty where nobody knows how much of a change is real
	Error         float64 // one standard error of the value for one person; 0 if it is not known
}

// OutcomeOf returns what a test is followed by: metres of a six-minute walk, a
// count, or the oxygen uptake. There is none where the estimate was withheld.
//
// Source: perera2006, gill2022, golding2000, rikli1999.
func OutcomeOf(in Input, r Result) (Outcome, bool) {
	switch in.Test {
	case SixMinuteWalk, SixMinuteWalkBMI:
		if in.DistanceM == nil {
			return Outcome{}, false
		}
		return Outcome{Value: *in.DistanceM, Unit: "m", Measure: WalkDistance}, true
	case ChairStand:
		return Outcome{Value: float64(*in.Stands), Unit: "stands", Measure: Stands}, true
	case TwoMinuteStep:
		return Outcome{Value: float64(*in.Steps), Unit: "steps"}, true
	case ThreeMinuteStep:
		if r.Has(FlagHRBlunted) {
			return Outcome{}, false
		}
		return Outcome{Value: float64(*in.HR), Unit: "beats", LowerIsBetter: true}, true
	}
	if r.VO2max == nil {
		return Outcome{}, false
	}
	return Outcome{Value: *r.VO2max, Unit: "ml/kg/min", Measure: EstimatedVO2max, Error: or(r.SEE, 0)}, true
}

// Better reports whether o is the better one of two outcomes of one test, as counts
// where a test was done twice on a day.
//
// Source: holland2014, kline1987.
func (o Outcome) Better(than Outcome) bool {
	if o.LowerIsBetter {
		return o.Value < than.Value
	}
	return o.Value > than.Value
}

// Done is a test that was done: what was read, under which conditions, and what it
// told.
type Done struct {
	Input      Input
	Conditions Conditions
	Result     Result
}

// Changed returns how much changed between two results of one test. It refuses what
// [Compare] refuses, a test whose changes cannot be judged, at measure, and a result
// without a figure, at before or after.
//
// Source: katch1982, vickers_sem, edgett2018, perera2006, gill2022, holland2014.
func Changed(before, after Done, policy Policy) (Change, error) {
	a, ok := OutcomeOf(before.Input, before.Result)
	if !ok {
		return Change{}, problem("before", "The first result has no figure to compare.")
	}
	b, ok := OutcomeOf(after.Input, after.Result)
	if !ok {
		return Change{}, problem("after", "The second result has no figure to compare.")
	}
	if before.Input.Test != after.Input.Test {
		return Change{}, problem("test", "Only two results of the same test can be compared.")
	}
	if b.Measure == "" {
		return Change{}, problem("measure", "How much of a change is real is not known for this test. Look at several results.")
	}
	return Compare(b.Measure, before.reading(a), after.reading(b), policy)
}

func (d Done) reading(o Outcome) Reading {
	return Reading{Value: o.Value, Test: d.Input.Test, CourseM: or(d.Conditions.CourseM, 0)}
}

// ForWorkloads reports whether a result is good enough to work out workloads from:
// an oxygen uptake of one person, not of a group.
//
// Source: ross2010.
func (d Done) ForWorkloads() bool {
	return d.Result.VO2max != nil && !d.Result.Has(FlagGroupOnly) && !d.Result.Has(FlagBelowModel)
}

// StageReached returns the class that training has reached: that of the signed
// prescription, or that of the activity of who was regularly active at the
// screening, whichever is harder.
//
// Practice rule: practice.
func StageReached(prescribed intensity.Class, regular bool, active intensity.Class) intensity.Class {
	if regular {
		return max(prescribed, active)
	}
	return prescribed
}
