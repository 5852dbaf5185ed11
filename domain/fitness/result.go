package fitness

import (
	"slices"

	"brae/domain"
	"brae/domain/source"
)

// Band is where a count lies among people of the same age and sex.
type Band string

// The bands of counts. In older adults' tests the middle half of people is average.
// The three-minute step has all seven.
//
// Source: rikli1999, golding2000_rows.
const (
	StepExcellent Band = "excellent"
	StepGood      Band = "good"
	AboveAverage  Band = "above_average"
	Average       Band = "average"
	BelowAverage  Band = "below_average"
	StepPoor      Band = "poor"
	StepVeryPoor  Band = "very_poor"
)

// Result is what a test tells. A nil figure is one that this test does not give,
// or that was withheld; the flags say why.
type Result struct {
	Test      TestID       `json:"test"`
	VO2max    *float64     `json:"vo2max"`    // ml per kg and minute
	METs      *float64     `json:"mets"`      // of adults
	SEE       *float64     `json:"see"`       // ml per kg and minute, of VO2max for one person
	Predicted *float64     `json:"predicted"` // m, what healthy people walk
	Lower     *float64     `json:"lower"`     // m, the lower limit of that
	Percent   *float64     `json:"percent"`   // of the predicted distance
	Band      Band         `json:"band"`      // of a count
	Norm      *CountNorm   `json:"norm"`
	Standing  *Standing    `json:"standing"`
	Flags     []Flag       `json:"flags"` // each once, in the order in which they came up
	Cites     []source.Key `json:"sources"`
}

// Has reports whether the result carries that flag.
func (r Result) Has(f Flag) bool { return slices.Contains(r.Flags, f) }

func (r *Result) flag(f Flag, set bool) {
	if set && !r.Has(f) {
		r.Flags = append(r.Flags, f)
	}
}

// estimate sets the oxygen uptake with its error (0 if none was published).
func (r *Result) estimate(vo2max, see float64) {
	r.VO2max = &vo2max
	r.SEE = nil
	if see > 0 {
		r.SEE = &see
	}
}

// Evaluate returns what a test tells. It keeps the estimate out of the result, and
// says so by a flag, where the heart rate is held down by a medicine or where the
// equation gives less than rest. It refuses an unknown test, missing or impossible
// readings and readings that the test has no use for, each with a problem at its
// key, and at test an estimate that nobody has.
func Evaluate(in Input, policy Policy) (Result, error) {
	t := find(in.Test)
	if t == nil {
		return Result{}, domain.Problems{"test": "There is no such test."}
	}
	if err := in.check(t, policy); err != nil {
		return Result{}, err
	}
	r := Result{Test: t.ID, Cites: slices.Clone(t.Cites)}
	r.flag(FlagMaximal, t.Maximal)
	if t.AgeLow != 0 {
		r.flag(FlagAgeUnknown, in.Age == nil)
		r.flag(FlagAge, in.Age != nil && (*in.Age < t.AgeLow || *in.Age > t.AgeHigh))
	}
	if in.HRBlunted && t.UsesHR {
		r.flag(FlagHRBlunted, true)
		return r, nil
	}
	if err := t.work(&in, &r, policy); err != nil {
		return Result{}, err
	}
	if err := r.finish(&in, t); err != nil {
		return Result{}, err
	}
	return r, nil
}

// finish adds what follows from an estimate.
func (r *Result) finish(in *Input, t *test) error {
	switch {
	case r.VO2max == nil:
		return nil
	case *r.VO2max <= RestingVO2:
		r.VO2max, r.SEE = nil, nil
		r.flag(FlagAtRest, true)
		return nil
	case *r.VO2max > highestVO2:
		return domain.Problems{"test": "This gives more than was ever measured in anybody. Look at the readings again."}
	}
	r.METs = new(METs(*r.VO2max))
	if r.Has(FlagGroupOnly) || in.Age == nil || in.Sex == "" {
		return nil
	}
	standing, err := PercentileOf(*in.Age, in.Sex, *r.VO2max, t.Norms)
	if err != nil { // an age without norms: all else was checked
		r.flag(FlagNoNorms, true)
		return nil
	}
	r.Standing = &standing
	return nil
}
