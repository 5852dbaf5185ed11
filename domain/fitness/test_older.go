package fitness

import (
	"brae/domain/intensity"
	"brae/domain/source"
)

// CountNorm is what is known of a count among people of the same age and sex. A 0
// stands for what is not known, or for a band without an upper end.
type CountNorm struct {
	Low         int `json:"low"` // of the middle half of people; of a band, its ends
	High        int `json:"high"`
	Mean        int `json:"mean"`
	SD          int `json:"sd"`
	Independent int `json:"independent"` // the count of people who stay independent into very old age
}

// youngest and oldest are the ages of the norms of older adults.
const youngest, oldest = 60, 94

// lowStands is the number of stands below which daily life is hard.
//
// Source: rikli1999.
const lowStands = 8

// olderTests are the tests of function in older adults.
//
// Source: rikli1999, rikli2013, steadi.
var olderTests = []test{
	{
		Test: Test{
			ID: ChairStand, Name: "Chair stands in 30 seconds",
			Needs: []string{"age", "sex", "stands"}, Effort: intensity.Moderate,
			Protocol: []string{
				"Use a chair with a seat at 43 to 44 cm (17 in) and its back against the wall.",
				"Arms crossed on the chest. Stand up fully and sit down again as often as possible in 30 seconds.",
				"More than half way up at the end counts. Using the arms makes it 0.",
			},
			Cites: []source.Key{"rikli1999", "steadi", "gill2022"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			r.flag(FlagLowFunction, *in.Stands < lowStands)
			group, ok := olderGroup(*in.Age)
			r.flag(FlagNoNorms, !ok)
			if ok {
				table := &chairMen
				if in.Sex == Female {
					table = &chairWomen
				}
				s := table[group]
				r.Norm = &CountNorm{Low: s.low, High: s.high}
				r.Band = s.band(*in.Stands)
			}
			return nil
		},
	},
	{
		Test: Test{
			ID: TwoMinuteStep, Name: "Steps on the spot in 2 minutes",
			Needs: []string{"age", "sex", "steps"}, Effort: intensity.Moderate,
			Protocol: []string{
				"Mark on the wall the height midway between kneecap and hip bone.",
				"Step on the spot for 2 minutes; each knee comes up to the mark. Holding on to the wall or resting is allowed.",
				"Count how often the right knee reaches the mark.",
			},
			Cites: []source.Key{"rikli1999", "rikli2013"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			group, ok := olderGroup(*in.Age)
			r.flag(FlagNoNorms, !ok)
			if ok {
				table := &steppingMen
				if in.Sex == Female {
					table = &steppingWomen
				}
				s := table[group]
				r.Norm = &CountNorm{s.middle.low, s.middle.high, s.mean, s.sd, s.independent}
				r.Band = s.middle.band(*in.Steps)
				r.flag(FlagIndependence, *in.Steps < s.independent)
			}
			return nil
		},
	},
}

func olderGroup(age int) (int, bool) {
	if age < youngest || age > oldest {
		return 0, false
	}
	return (age - youngest) / 5, true
}

func (s span) band(count int) Band {
	switch {
	case count < s.low:
		return BelowAverage
	case count > s.high:
		return AboveAverage
	}
	return Average
}
