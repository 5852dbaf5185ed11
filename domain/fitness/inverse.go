package fitness

import (
	"math"

	"brae/domain"
)

// The inverses find the work for an oxygen uptake, such as that of the edge of a
// class, each with the range that the work found lies in. They refuse an uptake
// that the easiest work of their kind already passes, with a problem at vo2.

// WalkSpeed returns the speed in m/min at which walking up that grade takes that
// oxygen uptake, gross, in ml per kg and minute.
//
// Source: bushman2020, acsm_equations.
func WalkSpeed(vo2, grade float64) (float64, Range, error) {
	if err := checkMoving(vo2, grade); err != nil {
		return 0, "", err
	}
	s := (vo2 - RestingVO2) / (0.1 + 1.8*grade)
	return s, rangeOf(s, WalkLow, WalkHigh), nil
}

// RunSpeed returns the speed in m/min at which running up that grade takes that
// oxygen uptake.
//
// Source: bushman2020, acsm_equations.
func RunSpeed(vo2, grade float64) (float64, Range, error) {
	if err := checkMoving(vo2, grade); err != nil {
		return 0, "", err
	}
	s := (vo2 - RestingVO2) / (0.2 + 0.9*grade)
	return s, rangeOf(s, RunLow, math.Inf(1)), nil
}

// WalkGrade returns the grade, as a fraction, at which walking at that speed in
// m/min takes that oxygen uptake. It refuses an uptake that the level takes
// already.
//
// Source: bushman2020, acsm_equations.
func WalkGrade(vo2, speedMMin float64) (float64, Range, error) {
	level, r, err := VO2Walk(speedMMin, 0)
	if err != nil {
		return 0, "", err
	}
	if err := checkLeast(vo2, level); err != nil {
		return 0, "", err
	}
	return gradeFound((vo2-level)/(1.8*speedMMin), r)
}

// RunGrade returns the grade, as a fraction, at which running at that speed in
// m/min takes that oxygen uptake. It refuses an uptake that the level takes
// already.
//
// Source: bushman2020, acsm_equations.
func RunGrade(vo2, speedMMin float64) (float64, Range, error) {
	level, r, err := VO2Run(speedMMin, 0)
	if err != nil {
		return 0, "", err
	}
	if err := checkLeast(vo2, level); err != nil {
		return 0, "", err
	}
	return gradeFound((vo2-level)/(0.9*speedMMin), r)
}

// LegWorkFor returns the work in kgm/min at which cycling with the legs takes that
// oxygen uptake.
//
// Source: bushman2020, acsm_equations.
func LegWorkFor(vo2, weightKg float64) (float64, Range, error) {
	if err := checkCrank(0, weightKg); err != nil {
		return 0, "", err
	}
	if err := checkLeast(vo2, 2*RestingVO2); err != nil {
		return 0, "", err
	}
	w := (vo2 - 2*RestingVO2) * weightKg / 1.8
	return w, rangeOf(w, LegLow, LegHigh), nil
}

// ArmWorkFor returns the work in kgm/min at which cycling with the arms takes that
// oxygen uptake.
//
// Source: acsm_equations.
func ArmWorkFor(vo2, weightKg float64) (float64, Range, error) {
	if err := checkCrank(0, weightKg); err != nil {
		return 0, "", err
	}
	if err := checkLeast(vo2, RestingVO2); err != nil {
		return 0, "", err
	}
	w := (vo2 - RestingVO2) * weightKg / 3
	return w, rangeOf(w, ArmLow, ArmHigh), nil
}

// StepRate returns the full up-and-down cycles a minute at which stepping to that
// height in m takes that oxygen uptake.
//
// Source: acsm_equations.
func StepRate(vo2, heightM float64) (float64, Range, error) {
	if err := checkStep(RateLow, heightM); err != nil {
		return 0, "", err
	}
	if err := checkMoving(vo2, 0); err != nil {
		return 0, "", err
	}
	f := (vo2 - RestingVO2) / (0.2 + 1.33*1.8*heightM)
	return f, stepRange(f, heightM), nil
}

// gradeFound returns a grade with the range of its speed, or Above if no treadmill
// is that steep.
func gradeFound(grade float64, r Range) (float64, Range, error) {
	if grade > HighestGrade {
		return grade, Above, nil
	}
	return grade, r, nil
}

// checkMoving refuses an oxygen uptake that leaves no speed or rate above zero.
func checkMoving(vo2, grade float64) error {
	var p domain.Problems
	checkGrade(&p, grade)
	if !finite(vo2) || vo2 <= RestingVO2 {
		p.Add("vo2", "Work takes more oxygen than rest: more than 3.5 ml per kg and minute.")
	}
	return p.Err()
}

// checkLeast refuses an oxygen uptake below that of the easiest work of its kind.
func checkLeast(vo2, least float64) error {
	if !finite(vo2) || vo2 < least {
		return domain.Problems{"vo2": "The easiest work of this kind takes " + ShowVO2(least) + " ml per kg and minute."}
	}
	return nil
}

// VO2AtReserve returns the oxygen uptake in ml per kg and minute at a percentage
// of the reserve between rest (3.5) and the maximum. It refuses a maximum that is
// not above rest and a percentage outside 0 to 100, with problems at vo2max and
// percent.
//
// Source: acsm_conditions.
func VO2AtReserve(vo2max, percent float64) (float64, error) {
	var p domain.Problems
	if !finite(vo2max) || vo2max <= RestingVO2 {
		p.Add("vo2max", "A maximal oxygen uptake is above 3.5, that of rest.")
	}
	if !(percent >= 0 && percent <= 100) {
		p.Add("percent", "A percentage of the reserve goes from 0 to 100.")
	}
	if p != nil {
		return 0, p
	}
	return RestingVO2 + percent/100*(vo2max-RestingVO2), nil
}
