package fitness

import (
	"slices"

	"brae/domain"
)

// NormMode says which norms a result is compared with. A peak on a cycle is 10 to
// 20 % below one on a treadmill, so each has its own. Estimates from walking,
// stepping and questions are compared with the treadmill.
//
// Source: kaminsky2022, kaminsky2017.
type NormMode string

// The modes of the norms. An empty mode is read as treadmill.
const (
	Treadmill NormMode = "treadmill"
	Cycle     NormMode = "cycle"
)

// NormEdition is an edition of the norms.
type NormEdition string

// The editions: the one in use, and the first ones, which show people of the same
// oxygen uptake at a lower percentile. The first ones end at 79 years.
//
// Source: kaminsky2022, kaminsky2015, kaminsky2017.
const (
	Norms2022 NormEdition = "2022"
	NormsOld  NormEdition = "2015/2017"
)

// Word is the word for a percentile.
type Word string

// The words, from the best.
//
// Source: acsm_words.
const (
	Superior  Word = "superior"  // 95 and more
	Excellent Word = "excellent" // 80 to 94
	Good      Word = "good"      // 60 to 79
	Fair      Word = "fair"      // 40 to 59
	Poor      Word = "poor"      // 20 to 39
	VeryPoor  Word = "very_poor" // below 20
)

// Standing is where somebody stands among people of the same sex and decade of
// age. Percentile 43.5 means that 43.5 % have less.
type Standing struct {
	Percentile float64 `json:"percentile"`
	Word       Word    `json:"word"`
}

// Shown returns the percentile as a whole number, cut and not rounded, so that it
// never says 20 beside the word for less than 20.
func (s Standing) Shown() int { return int(s.Percentile) }

// rows is how many percentiles a column has; percents has them in tenths.
const rows = 21

var percents = [rows]int{
	998, 950, 900, 850, 800, 750, 700, 650, 600, 550, 500,
	450, 400, 350, 300, 250, 200, 150, 100, 50, 2,
}

// The percentiles given to what lies outside a column.
const (
	aboveAll = 99.9
	belowAll = 0.1
)

// firstDecade is the age that the first column of a table starts at.
const firstDecade = 20

// PercentileOf returns where a maximal oxygen uptake in ml per kg and minute
// stands by the norms of 2022: a straight line between the rows of the column of
// the decade of age; a value that two rows share takes the higher one. It refuses
// an age outside 20 to 89, a missing sex, an uptake that is not above that of rest
// or is above 100, and an unknown mode, with problems at age, sex, vo2max and mode.
//
// Source: kaminsky2022, acsm_words.
func PercentileOf(age int, sex Sex, vo2max float64, mode NormMode) (Standing, error) {
	return PercentileBy(Norms2022, age, sex, vo2max, mode)
}

// PercentilesOf returns where a maximal oxygen uptake stands by the norms of women and
// by those of men, for somebody whose sex was not said. It refuses what [PercentileOf]
// does.
//
// Source: kaminsky2022, acsm_words.
func PercentilesOf(age int, vo2max float64, mode NormMode) (women, men Standing, err error) {
	if women, err = PercentileOf(age, Female, vo2max, mode); err != nil {
		return Standing{}, Standing{}, err
	}
	men, err = PercentileOf(age, Male, vo2max, mode)
	return women, men, err
}

// PercentileBy is [PercentileOf] by another edition of the norms, to read a result
// that was reported by it.
//
// Source: kaminsky2022, kaminsky2015, kaminsky2017, acsm_words.
func PercentileBy(edition NormEdition, age int, sex Sex, vo2max float64, mode NormMode) (Standing, error) {
	table := norms(edition, sex, mode)
	decade := (age - firstDecade) / 10
	var p domain.Problems
	if mode != "" && mode != Treadmill && mode != Cycle {
		p.Add("mode", "Choose treadmill or cycle.")
	}
	if sex != Male && sex != Female {
		p.Add("sex", "The norms are for male or female.")
	}
	if !(vo2max > RestingVO2 && vo2max <= highestVO2) {
		p.Add("vo2max", "A maximal oxygen uptake lies between 3.5, that of rest, and 100 ml per kg and minute.")
	}
	switch {
	case edition == NormsOld && (age < 20 || age > 79):
		p.Add("age", "These norms go from 20 to 79 years.")
	case age < 20 || age > 89:
		p.Add("age", "The norms go from 20 to 89 years.")
	}
	if p != nil {
		return Standing{}, p
	}
	percentile := interpolate(&table[decade], vo2max)
	return Standing{percentile, WordFor(percentile)}, nil
}

// highestVO2 is above what was ever measured in anybody.
const highestVO2 = 100

func norms(edition NormEdition, sex Sex, mode NormMode) [][rows]int {
	cycle, women := mode == Cycle, sex == Female
	if edition == NormsOld {
		return pick(cycle, women, treadmillMen2015, treadmillWomen2015, cycleMen2017, cycleWomen2017)
	}
	return pick(cycle, women, treadmillMen2022, treadmillWomen2022, cycleMen2022, cycleWomen2022)
}

func pick(cycle, women bool, tm, tw, cm, cw [][rows]int) [][rows]int {
	switch {
	case cycle && women:
		return cw
	case cycle:
		return cm
	case women:
		return tw
	}
	return tm
}

// interpolate reads a column, which falls from its first row to its last.
func interpolate(column *[rows]int, vo2max float64) float64 {
	tenths := 10 * vo2max // exact for every row of the tables, typed as 34.8
	i := slices.IndexFunc(column[:], func(row int) bool { return float64(row) <= tenths })
	switch {
	case i < 0:
		return belowAll
	case float64(column[i]) == tenths:
		return float64(percents[i]) / 10
	case i == 0:
		return aboveAll
	}
	low, high := float64(column[i]), float64(column[i-1])
	share := (tenths - low) / (high - low)
	return (float64(percents[i]) + share*float64(percents[i-1]-percents[i])) / 10
}

// WordFor returns the word for a percentile from 0 to 100.
//
// Source: acsm_words.
func WordFor(percentile float64) Word {
	switch {
	case percentile >= 95:
		return Superior
	case percentile >= 80:
		return Excellent
	case percentile >= 60:
		return Good
	case percentile >= 40:
		return Fair
	case percentile >= 20:
		return Poor
	}
	return VeryPoor
}
