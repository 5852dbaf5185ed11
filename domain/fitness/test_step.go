package fitness

import (
	"fmt"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/source"
)

// stepTests are the tests by stepping.
//
// Source: mcardle1972, golding2000, golding2000_rows, sykes2004, acsm_equations.
var stepTests = []test{
	{
		Test: Test{
			ID: QueensStep, Name: "Three-minute step, high step",
			Needs: []string{"sex", "hr"}, May: []string{"age"},
			Effort: intensity.Vigorous, UsesHR: true, Norms: Treadmill,
			Protocol: []string{
				"Use a step of 41.3 cm (16.25 in).",
				"Step for 3 minutes: men 24 full steps a minute (metronome 96), women 22 (metronome 88).",
				"Stay standing. Count the pulse from second 5 to second 20 and multiply by 4.",
			},
			Cites: []source.Key{"mcardle1972"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			r.flag(FlagStudents, in.Age == nil || *in.Age > studentAge)
			hr := float64(*in.HR)
			if in.Sex == Female {
				r.estimate(65.81-0.1847*hr, 2.9)
				return nil
			}
			r.estimate(111.33-0.42*hr, 0)
			return nil
		},
	},
	{
		Test: Test{
			ID: ThreeMinuteStep, Name: "Three-minute step, low step",
			Needs:  []string{"age", "sex", "hr"},
			Effort: intensity.Vigorous, UsesHR: true,
			Protocol: []string{
				"Use a step of 30.5 cm (12 in).",
				"Step for 3 minutes, 24 full steps a minute (metronome 96).",
				"Sit down at once. Within 5 seconds begin to count the pulse for a full minute.",
			},
			Cites: []source.Key{"golding2000", "golding2000_rows"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			r.rateCount(*in.Age, in.Sex, *in.HR)
			return nil
		},
	},
	{
		Test: Test{
			ID: StagedStep, Name: "Step test in stages",
			Needs:  []string{"step_height_m", "stages", "hr_max"},
			Effort: intensity.Vigorous, UsesHR: true, SEE: 3.9, AgeLow: 18, AgeHigh: 52, Norms: Treadmill,
			Protocol: []string{
				"Use a step of 15 to 30 cm, the lower one for the less fit.",
				"Begin with 15 full steps a minute and add 5 every 2 minutes, five stages at most.",
				"Stop at 80 per cent of the maximal heart rate, or at an exertion of 14 on the scale from 6 to 20.",
				"Note the heart rate at the end of each stage.",
			},
			Cites: []source.Key{"sykes2004", "acsm_equations", "acsm_conditions"},
		},
		work: func(in *Input, r *Result, policy Policy) error {
			points := make([]Point, 0, len(in.Stages))
			for _, s := range in.Stages {
				if s.HR < policy.StageHRFloor {
					r.flag(FlagStepsLeftOut, true)
					continue
				}
				vo2, lies, err := VO2Step(s.StepsMin, *in.StepHeight)
				if err != nil {
					return err
				}
				r.flag(FlagRangeBelow, lies == Below)
				r.flag(FlagRangeAbove, lies == Above)
				points = append(points, Point{float64(s.HR), vo2})
			}
			line, err := Fit(points)
			if err != nil {
				return err
			}
			vo2max, err := line.At(*in.HRMax)
			if err != nil {
				return err
			}
			r.flag(FlagPredictedMax, true)
			r.estimate(vo2max, 3.9)
			return nil
		},
	},
}

// studentAge is the age up to which somebody is taken for like the students that a
// test was worked out in.
//
// Source: george1993.
const studentAge = 29

// stepBands has the bands of the three-minute step in the order of its table.
var stepBands = [stepRatings]Band{
	StepExcellent, StepGood, AboveAverage, Average, BelowAverage, StepPoor, StepVeryPoor,
}

// rateCount sets the band of a minute's count. A count in the gap between two
// published bands gets the worse one, so each band ends at its upper number; a
// count better than the table is excellent.
func (r *Result) rateCount(age int, sex Sex, count int) {
	table := &stepMen
	if sex == Female {
		table = &stepWomen
	}
	group := stepGroup(age)
	for i := range table {
		if s := table[i][group]; count <= s.high {
			r.Band = stepBands[i]
			r.Norm = &CountNorm{Low: s.low, High: s.high}
			if s.high == noEnd {
				r.Norm.High = 0
			}
			return
		}
	}
}

func stepGroup(age int) int {
	if age <= 25 {
		return 0
	}
	return min((age-26)/10+1, stepGroups-1)
}

// Point is the heart rate in bpm and the oxygen uptake in ml per kg and minute of
// one stage of steady work.
type Point struct{ HR, VO2 float64 }

// Line is the straight line through stages.
type Line struct {
	Slope     float64 // ml per kg and minute for one beat
	Intercept float64
	highest   float64 // heart rate of the hardest stage
}

// Fit returns the line of least squares through two or more stages. It refuses
// fewer, and stages in which the heart rate does not rise with the work, with a
// problem at stages.
//
// Source: sykes2004.
func Fit(points []Point) (Line, error) {
	if len(points) < 2 {
		return Line{}, problem("stages", "A line needs two stages with a heart rate that follows the work. Do another stage.")
	}
	var hr, vo2 float64
	for _, p := range points {
		hr += p.HR / float64(len(points))
		vo2 += p.VO2 / float64(len(points))
	}
	var hrhr, hrvo2, highest float64
	for _, p := range points {
		hrhr += (p.HR - hr) * (p.HR - hr)
		hrvo2 += (p.HR - hr) * (p.VO2 - vo2)
		highest = max(highest, p.HR)
	}
	if !(hrvo2 > 0) { // one heart rate in all stages gives 0 as well
		return Line{}, problem("stages", "The heart rate does not rise with the work. Look at the readings again.")
	}
	slope := hrvo2 / hrhr
	return Line{slope, vo2 - slope*hr, highest}, nil
}

// At returns the oxygen uptake at a maximal heart rate, which it refuses, with a
// problem at hr_max, if it is not above that of the hardest stage.
//
// Source: sykes2004.
func (l Line) At(hrMax float64) (float64, error) {
	if !(hrMax > l.highest) {
		return 0, domain.Problems{"hr_max": fmt.Sprintf("The maximal heart rate must be above that of the hardest stage, %.0f.", l.highest)}
	}
	return l.Intercept + l.Slope*hrMax, nil
}
