package activity

import (
	"fmt"

	"brae/domain"
)

// Part is a stretch of one activity.
type Part struct {
	Value   Value
	Minutes int
}

// Band is where a week's MET-minutes stand against the range of the guideline.
//
// Source: garber2011.
type Band string

// The bands: below 500, 500 to 1000, above 1000 MET-minutes a week.
const (
	Under  Band = "under"
	Within Band = "within"
	Over   Band = "over"
)

// The range of the guideline in MET-minutes a week, both ends included.
//
// Source: garber2011.
const (
	WeekLow  = 500
	WeekHigh = 1000
)

// countedFrom is the METs, in tenths, from which a part counts towards the
// week's MET-minutes: moderate.
//
// Source: paga2018.
const countedFrom = 30

// Week returns the MET-minutes of a week and their band. Parts below 3 METs do
// not count. A value in METs of older adults is judged by its own number and
// then counted in METs of adults, which the range of the guideline is in.
//
// It returns a problem at parts[n].minutes, activity_met or basis, n from 0, for
// the first parts that are not possible.
//
// Source: garber2011, willis2024.
func Week(parts []Part, policy Policy) (float64, Band, error) {
	var p domain.Problems
	var oxygen int // hundredths of ml per kg: whole, so that the order of parts does not matter
	for i, part := range parts {
		var own domain.Problems
		part.Value.check(&own, policy)
		checkMinutes(&own, part.Minutes)
		for field, sentence := range own {
			p.Add(fmt.Sprintf("parts[%d].%s", i, field), sentence)
		}
		if part.Value.METTenths >= countedFrom {
			oxygen += part.Value.METTenths * part.Value.Basis.OxygenTenths() * part.Minutes
		}
	}
	if p != nil {
		return 0, Under, p
	}
	sum := float64(oxygen) / (10 * 35)
	switch {
	case sum < WeekLow:
		return sum, Under, nil
	case sum <= WeekHigh:
		return sum, Within, nil
	}
	return sum, Over, nil
}
