package fitness

import (
	"fmt"

	"brae/domain/source"
)

// Gain is what a group of people gained by training: something to aim at, never a
// promise to one person.
type Gain struct {
	Who   string
	Says  string
	Cites []source.Key
}

// ExpectedGains returns what groups gained, to set a goal by.
//
// Source: qiu2010, huang2005, wilmore1996, wilmore2001, msse2017.
func ExpectedGains() []Gain {
	return []Gain{
		{
			Who:   "Inactive healthy adults",
			Says:  "35 trials: 3.6 ml per kg and minute more (3.0 to 4.3), which is 13 per cent from 27.3.",
			Cites: []source.Key{"qiu2010"},
		},
		{
			Who:   "People above 60",
			Says:  "3.8 ml per kg and minute more (3.2 to 4.3) than without training, 16 per cent; more after 20 weeks and longer.",
			Cites: []source.Key{"huang2005"},
		},
		{
			Who:   "Inactive adults on 20 weeks of three sessions, from 30 minutes at 55 per cent to 50 minutes at 75 per cent of the maximal oxygen uptake",
			Says:  "16 to 18 per cent more, give or take 10.",
			Cites: []source.Key{"wilmore1996", "wilmore2001"},
		},
		{
			Who:   "Anybody on a programme by the guidelines",
			Says:  "20 to 40 of 100 people gain no more than the error of measurement. A flat value is no failure: look at heart rate and exertion at the same work too.",
			Cites: []source.Key{"msse2017"},
		},
	}
}

// BeginnerGoal says what a beginner aims at in 12 weeks.
//
// Practice rule: practice.
func BeginnerGoal(policy Policy) string {
	return fmt.Sprintf("In 12 weeks one of these: %d per cent more estimated oxygen uptake, %d beats less at the standard walk, or %d m more in six minutes.",
		policy.GoalVO2, policy.GoalHR, policy.GoalWalkM)
}

// Progress is what changed since the start. A nil field was not measured again.
type Progress struct {
	VO2maxBefore, VO2maxAfter *float64 // ml per kg and minute, the same test
	SameWorkHRBy              *int     // beats at the standard walk, negative for fewer
	WalkBy                    *float64 // m in six minutes, on the same course
}

// GoalReached reports whether any one of a beginner's goals is reached.
//
// Practice rule: practice.
func GoalReached(g Progress, policy Policy) bool {
	if g.VO2maxBefore != nil && g.VO2maxAfter != nil && *g.VO2maxBefore > 0 {
		more := tidy(100 * (*g.VO2maxAfter - *g.VO2maxBefore) / *g.VO2maxBefore)
		if more >= float64(policy.GoalVO2) {
			return true
		}
	}
	return g.SameWorkHRBy != nil && *g.SameWorkHRBy <= -policy.GoalHR ||
		g.WalkBy != nil && *g.WalkBy >= float64(policy.GoalWalkM)
}
