package fitness

import (
	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/source"
)

func problem(field, sentence string) error { return domain.Problems{field: sentence} }

var mileAndHalf = []string{
	"Measure 1.5 miles (2414 m) on level ground.",
	"Warm up. Run it, or run and walk it, as fast as possible.",
	"Note the time.",
}

// runTests are the tests by running.
//
// Source: acsm_run, george1993, george1993_run, hunt2000, cooper1968.
var runTests = []test{
	{
		Test: Test{
			ID: Run15Mile, Name: "1.5-mile run",
			Needs: []string{"minutes"}, Effort: intensity.NearMaximal, Maximal: true, Norms: Treadmill,
			Protocol: mileAndHalf, Cites: []source.Key{"acsm_run"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			r.estimate(RestingVO2 + 483 / *in.Minutes, 0)
			return nil
		},
	},
	{
		Test: Test{
			ID: Run15MileCollege, Name: "1.5-mile run, students",
			Needs:  []string{"sex", "weight_kg", "minutes"},
			Effort: intensity.NearMaximal, Maximal: true, SEE: 3.9, AgeLow: 18, AgeHigh: 29, Norms: Treadmill,
			Protocol: mileAndHalf, Cites: []source.Key{"george1993", "george1993_run"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			r.estimate(88.02-0.1656**in.WeightKg-2.76**in.Minutes+3.716*one(in.Sex), 3.9)
			return nil
		},
	},
	{
		Test: Test{
			ID: Cooper12Min, Name: "Twelve-minute run",
			Needs: []string{"distance_m"}, Effort: intensity.NearMaximal, Maximal: true, Norms: Treadmill,
			Protocol: []string{
				"Use a track or a measured course on level ground.",
				"Warm up. Run, or run and walk, as far as possible in 12 minutes.",
				"Note the distance.",
			},
			Cites: []source.Key{"cooper1968"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			r.flag(FlagSlow, *in.DistanceM < 1600)
			r.estimate((*in.DistanceM-504.9)/44.73, 0)
			return nil
		},
	},
	{
		Test: Test{
			ID: Jog1Mile, Name: "One-mile jog",
			Needs:  []string{"age", "sex", "weight_kg", "minutes", "hr"},
			Effort: intensity.Vigorous, UsesHR: true, SEE: 3.1, AgeLow: 18, AgeHigh: 29, Norms: Treadmill,
			Protocol: jogging, Cites: []source.Key{"george1993"},
		},
		limit: jogLimit(18, 29),
		work: func(in *Input, r *Result, _ Policy) error {
			r.estimate(100.5+8.344*one(in.Sex)-0.1636**in.WeightKg-1.438**in.Minutes-0.1928*float64(*in.HR), 3.1)
			return nil
		},
	},
	{
		Test: Test{
			ID: Jog1MileTeen, Name: "One-mile jog, 13 to 17 years",
			Needs:  []string{"age", "sex", "weight_kg", "minutes", "hr"},
			Effort: intensity.Vigorous, UsesHR: true, SEE: 3.26, AgeLow: 13, AgeHigh: 17, Norms: Treadmill,
			Protocol: jogging, Cites: []source.Key{"hunt2000"},
		},
		limit: jogLimit(13, 17),
		work: func(in *Input, r *Result, _ Policy) error {
			r.estimate(92.91+6.50*one(in.Sex)-0.141**in.WeightKg-1.562**in.Minutes-0.125*float64(*in.HR), 3.26)
			return nil
		},
	},
}

var jogging = []string{
	"Measure one mile (1609 m) on level ground.",
	"Warm up. Jog it at an even pace that could be kept up longer: men no faster than 8 minutes, women no faster than 9, with a heart rate of at most 180.",
	"Note the time, and the heart rate at once at the finish.",
}

// jogLimit refuses what the jog was not worked out for: another age, a faster
// time, a higher heart rate.
//
// Source: george1993, hunt2000.
func jogLimit(young, old float64) func(string, *Input, Policy) []limit {
	return func(name string, in *Input, _ Policy) []limit {
		switch name {
		case "age":
			return []limit{{young, old, "This jog was worked out for " + plain(young) + " to " + plain(old) + " years. Choose another test."}}
		case "minutes":
			least := 8.0
			if in.Sex == Female {
				least = 9
			}
			return []limit{{least, 30, "The pace must be easy: a mile in " + plain(least) + " to 30 minutes. Jog it again."}}
		case "hr":
			return []limit{{0, 180, "The heart rate must stay at 180 or below. Jog it again, more slowly."}}
		}
		return nil
	}
}
