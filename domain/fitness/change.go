package fitness

import (
	"math"

	"brae/domain"
)

// Measure is something that is measured again to see a change.
type Measure string

// The measures.
const (
	MeasuredVO2max  Measure = "vo2max_measured"  // ml per kg and minute, gas analysis
	EstimatedVO2max Measure = "vo2max_estimated" // ml per kg and minute, the same test twice
	WalkDistance    Measure = "six_minute_walk"  // m, on the same course
	Stands          Measure = "chair_stand_30_s" // stands in 30 seconds
	RestingHR       Measure = "resting_hr"       // bpm, mean of seven mornings
	SameWorkHR      Measure = "same_work_hr"     // bpm, same machine, work and time of day
	GaitSpeed       Measure = "gait_speed"       // m/s
)

// Tier is how much a change means.
type Tier string

// The tiers. VO2max has within_error, probable and clear; walking has
// within_error, small and large; the rest has within_error and real.
const (
	WithinError Tier = "within_error"
	Small       Tier = "small"
	Probable    Tier = "probable"
	Real        Tier = "real"
	Clear       Tier = "clear"
	Large       Tier = "large"
)

// The changes of walking that people notice.
//
// Source: perera2006.
const (
	WalkSmall, WalkLarge = 20.0, 50.0 // m in six minutes
	GaitSmall, GaitLarge = 0.05, 0.10 // m/s
)

// RealStands is the change of chair stands in 30 seconds that is more than error,
// the whole number above the smallest detectable change of 2.5.
//
// Source: gill2022.
const RealStands = 3.0

// Reading is one measurement.
type Reading struct {
	Value   float64
	Test    TestID  // of an estimated VO2max
	CourseM float64 // length of the course of a six-minute walk
}

// Change is the difference between two readings.
type Change struct {
	By     float64 // after minus before, in the unit of the measure
	Better bool    // in the direction that one hopes for
	Tier   Tier
}

// Compare returns how much of a difference is real. It refuses to compare
// estimates of two tests and walks on two courses, since a part of every error
// belongs to the test and cancels only in a repeat of the same one; and readings
// that are not above zero; with problems at measure, test, course_m, before and
// after.
//
// Source: katch1982, vickers_sem, edgett2018, perera2006, gill2022, holland2014, marschall2014.
func Compare(m Measure, before, after Reading, policy Policy) (Change, error) {
	var p domain.Problems
	needAbove(&p, "before", before.Value, "Type the first value.")
	needAbove(&p, "after", after.Value, "Type the second value.")
	switch {
	case m == EstimatedVO2max && (before.Test == "" || before.Test != after.Test):
		p.Add("test", "Only two results of the same test can be compared.")
	case m == WalkDistance && !(before.CourseM > 0 && before.CourseM == after.CourseM):
		p.Add("course_m", "Only two walks on a course of the same length can be compared.")
	}
	by := tidy(after.Value - before.Value)
	tier, lowerIsBetter := m.tier(math.Abs(by), policy)
	if tier == "" {
		p.Add("measure", "There is no such measure.")
	}
	if p != nil {
		return Change{}, p
	}
	return Change{By: by, Better: by != 0 && (by < 0) == lowerIsBetter, Tier: tier}, nil
}

func (m Measure) tier(size float64, policy Policy) (tier Tier, lowerIsBetter bool) {
	switch m {
	case MeasuredVO2max, EstimatedVO2max:
		switch {
		case size < policy.VO2Probable:
			return WithinError, false
		case size <= policy.VO2Clear:
			return Probable, false
		}
		return Clear, false
	case WalkDistance:
		return steps(size, WalkSmall, WalkLarge), false
	case GaitSpeed:
		return steps(size, GaitSmall, GaitLarge), false
	case Stands:
		return reaches(size, RealStands), false
	case RestingHR:
		return reaches(size, float64(policy.RestingHRReal)), true
	case SameWorkHR:
		return reaches(size, float64(policy.SameWorkReal)), true
	}
	return "", false
}

func steps(size, small, large float64) Tier {
	switch {
	case size < small:
		return WithinError
	case size < large:
		return Small
	}
	return Large
}

func reaches(size, threshold float64) Tier {
	if size < threshold {
		return WithinError
	}
	return Real
}

// NextTest returns the first day on which a test is worth repeating.
//
// Practice rule: practice.
func NextTest(last domain.Date, policy Policy) domain.Date {
	return last.AddDays(7 * policy.RetestWeeks)
}

// DueAgain returns the day on which a client's last test is due again.
//
// Practice rule: practice.
func DueAgain(last domain.Date, policy Policy) domain.Date {
	return last.AddDays(7 * policy.RetestDue)
}
