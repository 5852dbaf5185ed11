package fitness

import (
	"math"

	"brae/domain"
)

// Mode is a kind of work that an energy equation is for.
type Mode string

// The modes.
const (
	Walk     Mode = "walk"
	Run      Mode = "run"
	LegCycle Mode = "leg_cycle"
	ArmCycle Mode = "arm_cycle"
	Step     Mode = "step"
)

// Modes returns the five modes.
func Modes() []Mode { return []Mode{Walk, Run, LegCycle, ArmCycle, Step} }

// Range says whether the work lies where the equation was worked out. Outside it
// the result is still the equation's, and is shown with this flag.
type Range string

// The ranges.
const (
	InRange Range = "ok"
	Below   Range = "below"
	Above   Range = "above"
)

// Spread is how far people differ at the same steady work, as a share of the
// oxygen uptake: about 7 %. It is the honest band around every equation.
//
// Source: acsm_conditions.
const Spread = 0.07

// The work that each equation was worked out for, ends included. Faster than
// WalkHigh only if the person really walks, between RunLowest and RunLow only if
// they really jog: ask, never infer, since the two equations differ by a factor
// of up to 1.75 there.
//
// Source: acsm_ranges.
const (
	WalkLow, WalkHigh = 50.0, 100.0 // m/min
	RunLow, RunLowest = 134.0, 80.0 // m/min
	LegLow, LegHigh   = 300., 1200. // kgm/min
	ArmLow, ArmHigh   = 150., 750.  // kgm/min
	RateLow, RateHigh = 12., 30.    // full cycles a minute
	RiseLow, RiseHigh = 0.04, 0.40  // height of the step, m
)

// HighestGrade is the steepest grade that is taken: a larger number is a per cent
// typed for a fraction. Treadmills end well below.
//
// Practice rule: practice.
const HighestGrade = 0.5

func rangeOf(x, low, high float64) Range {
	x = tidy(x) // an inverse may miss an end by the dust of its arithmetic
	switch {
	case x < low:
		return Below
	case x > high:
		return Above
	}
	return InRange
}

// VO2Walk returns the oxygen uptake of steady walking, gross, in ml per kg and
// minute: 3.5 + 0.1 x speed + 1.8 x speed x grade, with m/min and a fraction. The
// hand does not hold the rail. It refuses a speed that is not above zero and a
// grade below zero, for which the equation does not hold, or above 0.5, with
// problems at speed_m_min and grade.
//
// Source: bushman2020, acsm_equations, acsm_ranges.
func VO2Walk(speedMMin, grade float64) (float64, Range, error) {
	if err := checkTread(speedMMin, grade); err != nil {
		return 0, "", err
	}
	return RestingVO2 + 0.1*speedMMin + 1.8*speedMMin*grade, rangeOf(speedMMin, WalkLow, WalkHigh), nil
}

// VO2Run returns the oxygen uptake of steady running, gross, in ml per kg and
// minute: 3.5 + 0.2 x speed + 0.9 x speed x grade, with m/min and a fraction. The
// grade is that of a treadmill, not of a hill outdoors. It refuses what
// [VO2Walk] refuses.
//
// Source: bushman2020, acsm_equations, acsm_ranges.
func VO2Run(speedMMin, grade float64) (float64, Range, error) {
	if err := checkTread(speedMMin, grade); err != nil {
		return 0, "", err
	}
	return RestingVO2 + 0.2*speedMMin + 0.9*speedMMin*grade, rangeOf(speedMMin, RunLow, math.Inf(1)), nil
}

// VO2LegCycle returns the oxygen uptake of cycling with the legs, gross, in ml
// per kg and minute: 7 + 1.8 x work / weight, with kgm/min and kg. It refuses a
// work below zero and a weight that is not above it, with problems at
// work_kgm_min and weight_kg.
//
// Source: bushman2020, acsm_equations, acsm_ranges.
func VO2LegCycle(workKgmMin, weightKg float64) (float64, Range, error) {
	if err := checkCrank(workKgmMin, weightKg); err != nil {
		return 0, "", err
	}
	return 2*RestingVO2 + 1.8*workKgmMin/weightKg, rangeOf(workKgmMin, LegLow, LegHigh), nil
}

// VO2ArmCycle returns the oxygen uptake of cycling with the arms, gross, in ml
// per kg and minute: 3.5 + 3 x work / weight, with kgm/min and kg. It refuses what
// [VO2LegCycle] refuses.
//
// Source: acsm_equations, acsm_ranges.
func VO2ArmCycle(workKgmMin, weightKg float64) (float64, Range, error) {
	if err := checkCrank(workKgmMin, weightKg); err != nil {
		return 0, "", err
	}
	return RestingVO2 + 3*workKgmMin/weightKg, rangeOf(workKgmMin, ArmLow, ArmHigh), nil
}

// VO2Step returns the oxygen uptake of stepping up and down, gross, in ml per kg
// and minute: 3.5 + 0.2 x rate + 1.33 x 1.8 x height x rate, with full up-and-down
// cycles a minute and the height of the step in m. It refuses a rate or a height
// that is not above zero, with problems at steps_min and step_height_m. Where the
// rate and the height lie on different sides of their ranges it says Above.
//
// Source: acsm_equations, acsm_ranges.
func VO2Step(cyclesMin, heightM float64) (float64, Range, error) {
	if err := checkStep(cyclesMin, heightM); err != nil {
		return 0, "", err
	}
	vo2 := RestingVO2 + 0.2*cyclesMin + 1.33*1.8*heightM*cyclesMin
	return vo2, stepRange(cyclesMin, heightM), nil
}

func stepRange(cyclesMin, heightM float64) Range {
	rate, rise := rangeOf(cyclesMin, RateLow, RateHigh), rangeOf(heightM, RiseLow, RiseHigh)
	switch {
	case rate == Above || rise == Above:
		return Above
	case rate == Below || rise == Below:
		return Below
	}
	return InRange
}

func checkTread(speedMMin, grade float64) error {
	var p domain.Problems
	needAbove(&p, "speed_m_min", speedMMin, "Type a speed above 0.")
	checkGrade(&p, grade)
	return p.Err()
}

func checkGrade(p *domain.Problems, grade float64) {
	switch {
	case !finite(grade):
		p.Add("grade", "Type the grade as a number, 0 for level.")
	case grade < 0:
		p.Add("grade", "The equation does not hold downhill.")
	case grade > HighestGrade:
		p.Add("grade", "Type the grade as a fraction: 0.05 for 5 per cent.")
	}
}

func checkCrank(workKgmMin, weightKg float64) error {
	var p domain.Problems
	if !finite(workKgmMin) || workKgmMin < 0 {
		p.Add("work_kgm_min", "Type a work rate of 0 or more.")
	}
	needAbove(&p, "weight_kg", weightKg, "Type a weight above 0 kg.")
	return p.Err()
}

func checkStep(cyclesMin, heightM float64) error {
	var p domain.Problems
	needAbove(&p, "steps_min", cyclesMin, "Type how often a minute the person goes up and down again.")
	needAbove(&p, "step_height_m", heightM, "Type the height of the step in metres, such as 0.2.")
	if heightM > 1 {
		p.Add("step_height_m", "Type the height of the step in metres: 0.2 for 20 cm.")
	}
	return p.Err()
}

// needAbove notes a problem if x is not a number above zero.
func needAbove(p *domain.Problems, field string, x float64, sentence string) {
	if !finite(x) || x <= 0 {
		p.Add(field, sentence)
	}
}
