package fitness

import (
	"brae/domain/intensity"
	"brae/domain/source"
)

// answers is how an estimate without exercise is done.
var answers = []string{
	"Measure weight and height.",
	"Ask how active the person has been in the last month, and take the number that fits.",
}

// questionTests are the estimates without exercise.
//
// A further equation of this kind, of Norwegian adults (nes2011), is left out: two
// descriptions of it combine its three answers in different ways, by adding and by
// multiplying, and the results differ by up to 6.5 ml per kg and minute.
//
// Source: jackson1990, bradshaw2005, jurca2005.
var questionTests = []test{
	{
		Test: Test{
			ID: NonExercise, Name: "From weight, height and activity",
			Needs: []string{"age", "sex", "activity_rating"}, May: []string{"bmi"},
			Effort: intensity.None, SEE: 5.70, Norms: Treadmill,
			Protocol: answers, Cites: []source.Key{"jackson1990"},
		},
		work: func(in *Input, r *Result, policy Policy) error {
			bmi, _ := in.bmi()
			vo2max := 56.363 + 1.921*float64(*in.Rating) - 0.381*float64(*in.Age) - 0.754*bmi + 10.987*one(in.Sex)
			r.flag(FlagBMI, bmi > float64(policy.ModelBMIHigh))
			r.asked(in, vo2max, 5.70, policy)
			return nil
		},
	},
	{
		Test: Test{
			ID: NonExerciseFat, Name: "From body fat and activity",
			Needs:  []string{"age", "sex", "activity_rating", "fat_percent"},
			Effort: intensity.None, SEE: 5.35, Norms: Treadmill,
			Protocol: []string{
				"Measure the body fat.",
				"Ask how active the person has been in the last month, and take the number that fits.",
			},
			Cites: []source.Key{"jackson1990"},
		},
		work: func(in *Input, r *Result, policy Policy) error {
			vo2max := 50.513 + 1.589*float64(*in.Rating) - 0.289*float64(*in.Age) - 0.552**in.FatPercent + 5.863*one(in.Sex)
			r.asked(in, vo2max, 5.35, policy)
			return nil
		},
	},
	{
		Test: Test{
			ID: NonExercisePace, Name: "From weight, height, activity and pace",
			Needs: []string{"age", "sex", "activity_rating", "pace_rating"}, May: []string{"bmi"},
			Effort: intensity.None, SEE: 3.45, AgeLow: 18, AgeHigh: 65, Norms: Treadmill,
			Protocol: append(answers[:len(answers):len(answers)],
				"Ask how fast the person could cover 1 mile, and 3 miles, without getting out of breath, each on a scale from 1 (a slow walk) to 13 (a fast run), and add the two."),
			Cites: []source.Key{"bradshaw2005"},
		},
		work: func(in *Input, r *Result, policy Policy) error {
			bmi, _ := in.bmi()
			vo2max := 48.0730 + 6.1779*one(in.Sex) - 0.2463*float64(*in.Age) - 0.6186*bmi +
				0.7115*float64(*in.Pace) + 0.6709*float64(*in.Rating)
			r.flag(FlagBMI, bmi > float64(policy.ModelBMIHigh))
			r.asked(in, vo2max, 3.45, policy)
			return nil
		},
	},
	{
		Test: Test{
			ID: NonExerciseResting, Name: "From weight, height, resting heart rate and activity",
			Needs: []string{"age", "sex", "resting_hr", "activity_level"}, May: []string{"bmi"},
			Effort: intensity.None, UsesHR: true, SEE: 1.45 * RestingVO2, AgeLow: 20, AgeHigh: 70, Norms: Treadmill,
			Protocol: append(answers[:len(answers):len(answers)], "Measure the resting heart rate."),
			Cites:    []source.Key{"jurca2005"},
		},
		work: func(in *Input, r *Result, policy Policy) error {
			bmi, _ := in.bmi()
			mets := 2.77*one(in.Sex) - 0.10*float64(*in.Age) - 0.17*bmi - 0.03*float64(*in.RestingHR) +
				activityLevels[*in.Level-1].points + 18.07
			r.flag(FlagBMI, bmi > float64(policy.ModelBMIHigh))
			r.asked(in, mets*RestingVO2, 1.45*RestingVO2, policy)
			return nil
		},
	},
}

// asked sets an estimate without exercise, flagged where such equations break down.
func (r *Result) asked(in *Input, vo2max, see float64, policy Policy) {
	r.flag(FlagBelowModel, vo2max < policy.ModelVO2Low)
	r.flag(FlagAge, *in.Age > policy.ModelAgeHigh)
	r.estimate(vo2max, see)
}

// Answer is one answer to how active somebody is.
type Answer struct {
	Number int // what the test is given
	Says   string
	points float64 // what the equation adds for it
}

// activityRatings are the answers to activity_rating, in our words.
//
// Source: jackson1990.
var activityRatings = []Answer{
	{Number: 0, Says: "Avoids effort: always the lift, always the car."},
	{Number: 1, Says: "Walks for pleasure, takes the stairs, now and then out of breath."},
	{Number: 2, Says: "10 to 60 minutes a week of gentle exercise, such as golf, bowls or weights."},
	{Number: 3, Says: "More than an hour a week of gentle exercise."},
	{Number: 4, Says: "Jogs or does something like it, less than 30 minutes or a mile a week."},
	{Number: 5, Says: "Jogs or does something like it, 30 to 60 minutes or 1 to 5 miles a week."},
	{Number: 6, Says: "Jogs or does something like it, 1 to 3 hours or 5 to 10 miles a week."},
	{Number: 7, Says: "Jogs or does something like it, more than 3 hours or 10 miles a week."},
}

// activityLevels are the answers to activity_level, in our words, with what the
// equation adds for each in METs.
//
// Source: jurca2005.
var activityLevels = []Answer{
	{Number: 1, Says: "Not active beyond what the day asks for.", points: 0},
	{Number: 2, Says: "Now and then active, or gentle exercise.", points: 0.32},
	{Number: 3, Says: "Aerobic exercise, 20 to 60 minutes a week.", points: 1.06},
	{Number: 4, Says: "Aerobic exercise, 1 to 3 hours a week.", points: 1.76},
	{Number: 5, Says: "Aerobic exercise, more than 3 hours a week.", points: 3.03},
}

// ActivityRatings returns the answers to activity_rating, from the least active.
//
// Source: jackson1990.
func ActivityRatings() []Answer { return append([]Answer(nil), activityRatings...) }

// ActivityLevels returns the answers to activity_level, from the least active.
//
// Source: jurca2005.
func ActivityLevels() []Answer { return append([]Answer(nil), activityLevels...) }
