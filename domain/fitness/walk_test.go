package fitness_test

import (
	"math"
	"slices"
	"testing"

	"brae/domain/fitness"
)

func TestStagedStep(t *testing.T) {
	all := fitness.PolicyFrom(map[string]int{"fitness.stage_hr_floor": 0})
	three := []fitness.Stage{{StepsMin: 15, HR: 95}, {StepsMin: 20, HR: 112}, {StepsMin: 25, HR: 130}}
	for _, tt := range []struct {
		source string
		policy fitness.Policy
		height float64
		stages []fitness.Stage
		hrMax  float64
		age    *int
		want   float64
		flags  []fitness.Flag
	}{
		{"ACSM stepping equation and least squares; worked by hand: three stages at 0.30 m", all, 0.30, three, 180, new(40), 39.61, []fitness.Flag{fitness.FlagPredictedMax}},
		{"the same without the stage below 110; worked by hand", defaults, 0.30, three, 180, new(40), 39.21, []fitness.Flag{fitness.FlagStepsLeftOut, fitness.FlagPredictedMax}},
		{"a stage at exactly 110 is used; worked by hand", defaults, 0.30, []fitness.Stage{{15, 110}, {25, 130}}, 180, new(40), 49.41, []fitness.Flag{fitness.FlagPredictedMax}},
		{"Sykes 2004: 18 to 52 years", all, 0.30, three, 180, new(53), 39.61, []fitness.Flag{fitness.FlagAge, fitness.FlagPredictedMax}},
		{"age not known", all, 0.30, three, 180, nil, 39.61, []fitness.Flag{fitness.FlagAgeUnknown, fitness.FlagPredictedMax}},
		{"ACSM ranges: stages below and above those of the equation", all, 0.30, []fitness.Stage{{10, 95}, {35, 130}}, 150, new(40), 48.7546, []fitness.Flag{fitness.FlagRangeBelow, fitness.FlagRangeAbove, fitness.FlagPredictedMax}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.Evaluate(fitness.Input{
				Test: fitness.StagedStep, Age: tt.age, StepHeight: &tt.height, Stages: tt.stages, HRMax: &tt.hrMax,
			}, tt.policy)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "VO2max", *got.VO2max, tt.want, 0.01)
			near(t, "SEE", *got.SEE, 3.9, 0)
			if !slices.Equal(got.Flags, tt.flags) {
				t.Errorf("flags = %v; want %v", got.Flags, tt.flags)
			}
		})
	}
}

func TestFit(t *testing.T) {
	var points []fitness.Point
	for i, f := range []float64{15, 20, 25} {
		vo2, _, err := fitness.VO2Step(f, 0.30)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "stage", vo2, []float64{17.27, 21.86, 26.46}[i], 0.01)
		points = append(points, fitness.Point{HR: []float64{95, 112, 130}[i], VO2: vo2})
	}
	line, err := fitness.Fit(points)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "slope, least squares by hand", line.Slope, 0.2623, 0.0001)

	_, err = fitness.Fit(points[:1])
	refuses(t, err, "stages")
	_, err = fitness.Fit([]fitness.Point{{120, 20}, {120, 25}})
	refuses(t, err, "stages")
	_, err = fitness.Fit([]fitness.Point{{120, 25}, {130, 20}})
	refuses(t, err, "stages")
	_, err = fitness.Fit([]fitness.Point{{120, 20}, {130, 20}})
	refuses(t, err, "stages")
	if _, err = fitness.Fit([]fitness.Point{{120, 20}, {121, 21}}); err != nil {
		t.Errorf("one beat, one ml: %v; want a line", err)
	}
	refuses(t, second(line.At(130)), "hr_max")
}

func TestSixMinuteWalk(t *testing.T) {
	for _, tt := range []struct {
		source           string
		in               fitness.Input
		predicted, lower float64
		percent          float64
		flags            []fitness.Flag
	}{
		{
			"Enright 1998; worked by hand: man of 70, 175 cm, 80 kg; limit from memory",
			fitness.Input{Test: fitness.SixMinuteWalk, Age: new(70), Sex: fitness.Male, WeightKg: new(80.0), HeightCm: new(175.0)},
			523.55, 370.55, 0, nil,
		},
		{
			"Enright 1998; worked by hand: woman of 65, 162 cm, 70 kg; limit from memory",
			fitness.Input{Test: fitness.SixMinuteWalk, Age: new(65), Sex: fitness.Female, WeightKg: new(70.0), HeightCm: new(162.0), DistanceM: new(472.82)},
			472.82, 333.82, 100, []fitness.Flag{fitness.FlagTwoWalks, fitness.FlagGroupOnly},
		},
		{
			"Enright 1998: shorter than the lower limit",
			fitness.Input{Test: fitness.SixMinuteWalk, Age: new(70), Sex: fitness.Male, WeightKg: new(80.0), HeightCm: new(175.0), DistanceM: new(261.775)},
			523.55, 370.55, 50, []fitness.Flag{fitness.FlagTwoWalks, fitness.FlagGroupOnly, fitness.FlagBelowLimit},
		},
		{
			"Enright 1998: 40 to 80 years",
			fitness.Input{Test: fitness.SixMinuteWalk, Age: new(81), Sex: fitness.Male, WeightKg: new(80.0), HeightCm: new(175.0)},
			468.33, 315.33, 0, []fitness.Flag{fitness.FlagAge},
		},
		{
			"Enright 1998: 40 to 80 years, younger",
			fitness.Input{Test: fitness.SixMinuteWalk, Age: new(39), Sex: fitness.Male, WeightKg: new(80.0), HeightCm: new(175.0)},
			679.17, 526.17, 0, []fitness.Flag{fitness.FlagAge},
		},
		{
			"Enright 1998: an equation that gives no distance",
			fitness.Input{Test: fitness.SixMinuteWalk, Age: new(90), Sex: fitness.Male, WeightKg: new(200.0), HeightCm: new(140.0), DistanceM: new(100.0)},
			0, 0, 0, []fitness.Flag{fitness.FlagAge, fitness.FlagBelowModel, fitness.FlagTwoWalks, fitness.FlagGroupOnly},
		},
		{
			"Britto 2013, equation; worked by hand: man of 60, index 25",
			fitness.Input{Test: fitness.SixMinuteWalkBMI, Age: new(60), Sex: fitness.Male, BMI: new(25.0)},
			575.18, 0, 0, nil,
		},
		{
			"Britto 2013, equation; worked by hand: woman of 40, index 30",
			fitness.Input{Test: fitness.SixMinuteWalkBMI, Age: new(40), Sex: fitness.Female, BMI: new(30.0), DistanceM: new(277.63)},
			555.16, 0, 50.009, []fitness.Flag{fitness.FlagTwoWalks, fitness.FlagGroupOnly},
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.Evaluate(tt.in, defaults)
			if err != nil {
				t.Fatal(err)
			}
			figure(t, "predicted", got.Predicted, tt.predicted)
			figure(t, "lower limit", got.Lower, tt.lower)
			figure(t, "per cent", got.Percent, tt.percent)
			if !slices.Equal(got.Flags, tt.flags) {
				t.Errorf("flags = %v; want %v", got.Flags, tt.flags)
			}
			if got.Standing != nil {
				t.Error("a percentile for a group's estimate; want none")
			}
		})
	}
}

// figure fails unless got is want to a hundredth, or nil where want is 0.
func figure(t *testing.T, what string, got *float64, want float64) {
	t.Helper()
	switch {
	case want == 0 && got != nil:
		t.Errorf("%s = %v; want none", what, *got)
	case want != 0 && got == nil:
		t.Errorf("no %s; want %v", what, want)
	case want != 0:
		near(t, what, *got, want, 0.01)
	}
}

func TestPersonalWalkVO2(t *testing.T) {
	got, err := fitness.PersonalWalkVO2(400)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "Ross 2010, line through single patients: 400 m", got, 14.682, 1e-9)
	refuses(t, second(fitness.PersonalWalkVO2(0)), "distance_m")
	refuses(t, second(fitness.PersonalWalkVO2(math.Inf(1))), "distance_m")
}
