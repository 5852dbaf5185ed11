package fitness

import (
	"math"

	"brae/domain/intensity"
	"brae/domain/source"
)

// oneMile is how the walk over a mile is done.
var oneMile = []string{
	"Measure one mile (1609 m) on level ground.",
	"Walk it as fast as possible without running.",
	"Note the time, and the heart rate in beats per minute over the last quarter or at once at the finish.",
	"Walk it a second time and take the better one if the two times differ by less than 30 seconds; otherwise walk again.",
}

// walkTests are the tests by walking.
//
// Source: kline1987, kline1987_relative, keller2002, ebbeling1991.
var walkTests = []test{
	{
		Test: Test{
			ID: RockportWalk, Name: "One-mile walk",
			Needs:  []string{"age", "sex", "weight_kg", "minutes", "hr"},
			Effort: intensity.Vigorous, UsesHR: true, SEE: 5.0, AgeLow: 30, AgeHigh: 69, Norms: Treadmill,
			Protocol: oneMile, Cites: []source.Key{"kline1987", "kline1987_relative", "keller2002"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			pounds := *in.WeightKg / KgPerPound
			r.estimate(132.853-0.0769*pounds-0.3877*float64(*in.Age)+6.315*one(in.Sex)-
				3.2649**in.Minutes-0.1565*float64(*in.HR), 5.0)
			return nil
		},
	},
	{
		Test: Test{
			ID: RockportWalkLitres, Name: "One-mile walk, by litres a minute",
			Needs:  []string{"age", "sex", "weight_kg", "minutes", "hr"},
			Effort: intensity.Vigorous, UsesHR: true, AgeLow: 30, AgeHigh: 69, Norms: Treadmill,
			Protocol: oneMile, Cites: []source.Key{"kline1987", "keller2002"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			litres := 6.9652 + 0.0091**in.WeightKg/KgPerPound - 0.0257*float64(*in.Age) + 0.5955*one(in.Sex) -
				0.2240**in.Minutes - 0.0115*float64(*in.HR)
			const see = 0.355 // l/min, in the people it was checked in
			r.estimate(1000*litres / *in.WeightKg, 1000*see / *in.WeightKg)
			return nil
		},
	},
	{
		Test: Test{
			ID: SingleStageWalk, Name: "Treadmill walk at one speed",
			Needs:  []string{"age", "sex", "speed_m_min", "hr"},
			Effort: intensity.Moderate, UsesHR: true, SEE: 4.85, AgeLow: 20, AgeHigh: 59, Norms: Treadmill,
			Protocol: []string{
				"Walk 4 minutes on the level at a brisk speed from 2.0 to 4.5 mph (3.2 to 7.2 km/h) that brings the heart rate to 50 to 70 per cent of the maximum.",
				"Walk 4 more minutes at the same speed and a grade of 5 per cent.",
				"Note the heart rate of the last 15 seconds. The hands do not hold the rail.",
			},
			Cites: []source.Key{"ebbeling1991"},
		},
		limit: func(name string, _ *Input, _ Policy) []limit {
			if name != "speed_m_min" {
				return nil
			}
			return []limit{{FromMph(2.0), FromMph(4.5), "The walk goes at 2.0 to 4.5 mph: 53.6 to 120.6 metres per minute."}}
		},
		work: func(in *Input, r *Result, _ Policy) error {
			mph, hr, age := ToMph(*in.SpeedMMin), float64(*in.HR), float64(*in.Age)
			r.estimate(15.1+21.8*mph-0.327*hr-0.263*mph*age+0.00504*hr*age+5.98*one(in.Sex), 4.85)
			return nil
		},
	},
	{
		Test: Test{
			ID: TreadmillPeak, Name: "Treadmill to the limit",
			Needs: []string{"speed_m_min"}, May: []string{"grade"},
			Effort: intensity.NearMaximal, Maximal: true, Norms: Treadmill,
			Protocol: []string{
				"Raise speed or grade step by step until the person can do no more, under supervision.",
				"Note the last speed and grade that were kept up. The hands do not hold the rail.",
			},
			Cites: []source.Key{"kokkinos2017"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			r.estimate(*in.SpeedMMin*(0.17+0.79*or(in.Grade, 0))+RestingVO2, 0)
			return nil
		},
	},
	{
		Test: Test{
			ID: CyclePeak, Name: "Cycle to the limit",
			Needs:  []string{"weight_kg", "work_kgm_min"},
			Effort: intensity.NearMaximal, Maximal: true, Norms: Cycle,
			Protocol: []string{
				"Raise the work step by step until the person can do no more, under supervision.",
				"Note the last work rate that was kept up.",
			},
			Cites: []source.Key{"friend_cycle_equation"},
		},
		work: func(in *Input, r *Result, _ Policy) error {
			r.estimate(1.74**in.WorkKgmMin / *in.WeightKg + RestingVO2, 0)
			return nil
		},
	},
}

// sixMinutes is how the walk of six minutes is done.
var sixMinutes = []string{
	"Use a flat, straight course of 30 m with a mark every 3 m and a cone at each turn. Use the same course at every test.",
	"Sit for 10 minutes. Note blood pressure, heart rate, oxygen saturation, breathlessness and fatigue. No warm-up; the usual walking aid.",
	"Walk as far as possible in 6 minutes. Stopping and leaning are allowed; the clock runs on. Say the same set words once a minute and nothing else.",
	"Stop for chest pain, unbearable breathlessness, leg cramp, staggering, sweating or pallor, or a saturation below 80 per cent.",
	"Note the distance to the metre and all measurements again.",
	"Repeat after at least 30 minutes of rest and take the longer walk: the second is some 26 m longer by practice alone.",
}

// sixMinuteTests are the walk of six minutes with its two reference equations.
//
// Source: enright1998, enright1998_limits, britto2013, ross2010, holland2014, ats2002.
var sixMinuteTests = []test{
	{
		Test: Test{
			ID: SixMinuteWalk, Name: "Six-minute walk",
			Needs: []string{"age", "sex", "weight_kg", "height_cm"}, May: []string{"distance_m"},
			Effort: intensity.Moderate, SEE: 3.82, AgeLow: 40, AgeHigh: 80, Norms: Treadmill,
			Protocol: sixMinutes,
			Cites:    []source.Key{"enright1998", "enright1998_limits", "ross2010", "holland2014", "ats2002"},
		},
		limit: sixMinuteLimit,
		work: func(in *Input, r *Result, _ Policy) error {
			cm, kg, age := *in.HeightCm, *in.WeightKg, float64(*in.Age)
			predicted, offset := 7.57*cm-5.02*age-1.76*kg-309, 153.0
			if in.Sex == Female {
				predicted, offset = 2.11*cm-2.29*kg-5.78*age+667, 139.0
			}
			r.walked(in, predicted)
			if r.Predicted != nil {
				r.Lower = new(predicted - offset)
				r.flag(FlagBelowLimit, in.DistanceM != nil && *in.DistanceM < *r.Lower)
			}
			return nil
		},
	},
	{
		Test: Test{
			ID: SixMinuteWalkBMI, Name: "Six-minute walk, against a Brazilian sample",
			Needs: []string{"age", "sex"}, May: []string{"bmi", "distance_m"},
			Effort: intensity.Moderate, SEE: 3.82, Norms: Treadmill,
			Protocol: sixMinutes,
			Cites:    []source.Key{"britto2013", "ross2010", "holland2014", "ats2002"},
		},
		limit: sixMinuteLimit,
		work: func(in *Input, r *Result, _ Policy) error {
			age := float64(*in.Age)
			bmi, _ := in.bmi()
			r.walked(in, 890.46-6.11*age+0.0345*age*age+48.87*one(in.Sex)-4.87*bmi)
			return nil
		},
	},
}

func sixMinuteLimit(name string, _ *Input, _ Policy) []limit {
	if name != "distance_m" {
		return nil
	}
	// 1200 m in 6 minutes is 12 km/h, beyond any walk.
	return []limit{{0, 1200, "Nobody walks more than 1200 m in 6 minutes."}}
}

// walked sets what a walk of six minutes tells: the predicted distance if the
// equation gives one at all, and from the distance walked the share of it and the
// oxygen uptake of a group of people who walk as far.
func (r *Result) walked(in *Input, predicted float64) {
	if predicted > 0 {
		r.Predicted = &predicted
	} else {
		r.flag(FlagBelowModel, true)
	}
	if in.DistanceM == nil {
		return
	}
	r.flag(FlagTwoWalks, true)
	r.flag(FlagGroupOnly, true)
	r.estimate(4.948+0.023**in.DistanceM, 3.82)
	if r.Predicted != nil {
		r.Percent = new(100 * *in.DistanceM / predicted)
	}
}

// PersonalWalkVO2 returns the peak oxygen uptake in ml per kg and minute by the
// line through single patients, which is steeper than the one through the means of
// studies that a six-minute walk is reported by. It refuses a distance that is not
// above zero.
//
// Source: ross2010.
func PersonalWalkVO2(distanceM float64) (float64, error) {
	if !(distanceM > 0) || math.IsInf(distanceM, 1) {
		return 0, problem("distance_m", "Type the distance in metres.")
	}
	return 4.682 + 0.025*distanceM, nil
}
