package fitness

import "brae/domain"

// DatedTest is a test with the day on which it was done.
type DatedTest struct {
	On domain.Date
	Done
}

// WeeksWithoutGain returns over how many weeks tests that can be compared showed
// no real change for the better; 0 if one did, or if none was repeated after that
// many weeks at least. The newest result of each test counts against the newest
// one that is so much older. Those of one test are in the order of time.
//
// A flat test is no failure: up to 40 in 100 people stay within the error of
// measurement on a programme that follows the guidelines.
//
// Source: edgett2018.
// Practice rule: practice.
func WeeksWithoutGain(tests []DatedTest, least int, policy Policy) int {
	newest := map[TestID]DatedTest{}
	for _, t := range tests {
		newest[t.Input.Test] = t
	}
	weeks := 0
	for id, last := range newest {
		for i := len(tests) - 1; i >= 0; i-- {
			before := tests[i]
			apart := last.On.DaysSince(before.On) / 7
			if before.Input.Test != id || apart < least {
				continue
			}
			change, err := Changed(before.Done, last.Done, policy)
			if err != nil {
				continue // the two cannot be compared
			}
			if change.Better && change.Tier != WithinError {
				return 0
			}
			weeks = max(weeks, apart)
			break
		}
	}
	return weeks
}
