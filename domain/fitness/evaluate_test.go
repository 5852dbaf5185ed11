package fitness_test

import (
	"math"
	"slices"
	"testing"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/intensity"
)

// pounds returns kg.
func pounds(lb float64) *float64 { return new(lb * fitness.KgPerPound) }

// The tests with an estimate: what they are given, and what comes out.
func TestEstimates(t *testing.T) {
	const none = 0.0
	for _, tt := range []struct {
		source string
		in     fitness.Input
		vo2max float64
		tol    float64
		see    float64
		flags  []fitness.Flag
	}{
		{
			"teaching page on the one-mile walk, printed as about 40: woman of 30, 150 lb, 15:12, 128",
			fitness.Input{Test: fitness.RockportWalk, Age: new(30), Sex: fitness.Female, WeightKg: pounds(150), Minutes: new(15.2), HR: new(128)},
			40.03, 0.05, 5.0, nil,
		},
		{
			"magazine for ambulance crews, printed as about 46: a man of the same figures",
			fitness.Input{Test: fitness.RockportWalk, Age: new(30), Sex: fitness.Male, WeightKg: pounds(150), Minutes: new(15.2), HR: new(128)},
			46, 0.5, 5.0, nil,
		},
		{
			"Kline 1987, equation; worked by hand: woman of 52, 130 lb, 12:45, 147",
			fitness.Input{Test: fitness.RockportWalk, Age: new(52), Sex: fitness.Female, WeightKg: pounds(130), Minutes: new(12.75), HR: new(147)},
			38.06, 0.05, 5.0, nil,
		},
		{
			"Kline 1987, equation; worked by hand: woman of 26, younger than the sample",
			fitness.Input{Test: fitness.RockportWalk, Age: new(26), Sex: fitness.Female, WeightKg: pounds(156), Minutes: new(12.25), HR: new(80)},
			58.26, 0.05, 5.0, []fitness.Flag{fitness.FlagAge},
		},
		{
			"Kline 1987, equation with 0.1692 per kg as a second teaching copy prints it: man of 69, 80 kg",
			fitness.Input{Test: fitness.RockportWalk, Age: new(69), Sex: fitness.Male, WeightKg: new(80.0), Minutes: new(16.0), HR: new(120)},
			132.853 - 0.1692*80 - 0.3877*69 + 6.315 - 3.2649*16 - 0.1565*120, 0.05, 5.0, nil,
		},
		{
			"Kline 1987, equation; worked by hand: man of 70, older than the sample",
			fitness.Input{Test: fitness.RockportWalk, Age: new(70), Sex: fitness.Male, WeightKg: new(80.0), Minutes: new(16.0), HR: new(120)},
			27.46, 0.05, 5.0, []fitness.Flag{fitness.FlagAge},
		},
		{
			"Kline 1987, abstract, in litres: 2.682 l/min of the woman of 30",
			fitness.Input{Test: fitness.RockportWalkLitres, Age: new(30), Sex: fitness.Female, WeightKg: pounds(150), Minutes: new(15.2), HR: new(128)},
			2682 / 68.0389, 0.01, 355 / 68.0389, nil,
		},
		{
			"Kline 1987, abstract, in litres; worked by hand: man of 45, 200 lb: 3.593 l/min",
			fitness.Input{Test: fitness.RockportWalkLitres, Age: new(45), Sex: fitness.Male, WeightKg: pounds(200), Minutes: new(14.0), HR: new(130)},
			3593.2 / 90.7185, 0.01, 355 / 90.7185, nil,
		},
		{
			"George 1993, abstract; worked by hand: man, 75 kg, 10:00, 155",
			fitness.Input{Test: fitness.Jog1Mile, Age: new(22), Sex: fitness.Male, WeightKg: new(75.0), Minutes: new(10.0), HR: new(155)},
			52.31, 0.01, 3.1, nil,
		},
		{
			"George 1993, abstract; worked by hand: woman at the limits of the test",
			fitness.Input{Test: fitness.Jog1Mile, Age: new(29), Sex: fitness.Female, WeightKg: new(60.0), Minutes: new(9.0), HR: new(180)},
			43.04, 0.01, 3.1, nil,
		},
		{
			"Hunt 2000, abstract; worked by hand: boy of 15",
			fitness.Input{Test: fitness.Jog1MileTeen, Age: new(15), Sex: fitness.Male, WeightKg: new(60.0), Minutes: new(10.0), HR: new(170)},
			54.08, 0.01, 3.26, []fitness.Flag{fitness.FlagNoNorms},
		},
		{
			"Hunt 2000, abstract; worked by hand: girl of 13",
			fitness.Input{Test: fitness.Jog1MileTeen, Age: new(13), Sex: fitness.Female, WeightKg: new(50.0), Minutes: new(12.0), HR: new(160)},
			47.12, 0.01, 3.26, []fitness.Flag{fitness.FlagNoNorms},
		},
		{
			"Cooper 1968, worked example printed with the formula: 2400 m",
			fitness.Input{Test: fitness.Cooper12Min, DistanceM: new(2400.0)},
			42.37, 0.01, none, []fitness.Flag{fitness.FlagMaximal},
		},
		{
			"Cooper 1968, formula; worked by hand: a mile in 12 minutes is 24.7, not 30.3",
			fitness.Input{Test: fitness.Cooper12Min, DistanceM: new(1609.344)},
			24.69, 0.01, none, []fitness.Flag{fitness.FlagMaximal},
		},
		{
			"Cooper 1968, formula; worked by hand: a walker",
			fitness.Input{Test: fitness.Cooper12Min, DistanceM: new(1599.0)},
			24.46, 0.01, none, []fitness.Flag{fitness.FlagMaximal, fitness.FlagSlow},
		},
		{
			"Cooper 1968, formula; worked by hand: 1600 m is no walk",
			fitness.Input{Test: fitness.Cooper12Min, DistanceM: new(1600.0)},
			24.48, 0.01, none, []fitness.Flag{fitness.FlagMaximal},
		},
		{
			"ACSM 1.5-mile formula; worked by hand: 12:00",
			fitness.Input{Test: fitness.Run15Mile, Minutes: new(12.0)},
			43.75, 0.01, none, []fitness.Flag{fitness.FlagMaximal},
		},
		{
			"ACSM 1.5-mile formula; worked by hand: 18:00, the pace of the twelve-minute mile",
			fitness.Input{Test: fitness.Run15Mile, Minutes: new(18.0)},
			30.33, 0.01, none, []fitness.Flag{fitness.FlagMaximal},
		},
		{
			"George 1993 run, numbers from memory; worked by hand: man, 75 kg, 12:00",
			fitness.Input{Test: fitness.Run15MileCollege, Age: new(20), Sex: fitness.Male, WeightKg: new(75.0), Minutes: new(12.0)},
			46.196, 0.001, 3.9, []fitness.Flag{fitness.FlagMaximal},
		},
		{
			"George 1993 run, numbers from memory; worked by hand: woman of unknown age",
			fitness.Input{Test: fitness.Run15MileCollege, Sex: fitness.Female, WeightKg: new(60.0), Minutes: new(13.0)},
			42.204, 0.001, 3.9, []fitness.Flag{fitness.FlagMaximal, fitness.FlagAgeUnknown},
		},
		{
			"McArdle 1972; worked by hand: man, 33 beats in 15 s",
			fitness.Input{Test: fitness.QueensStep, Age: new(21), Sex: fitness.Male, HR: new(132)},
			55.89, 0.01, none, nil,
		},
		{
			"McArdle 1972; worked by hand: woman, 33 beats in 15 s, age not asked",
			fitness.Input{Test: fitness.QueensStep, Sex: fitness.Female, HR: new(132)},
			41.43, 0.01, 2.9, []fitness.Flag{fitness.FlagStudents},
		},
		{
			"McArdle 1972; worked by hand: man, 156, past the age of students",
			fitness.Input{Test: fitness.QueensStep, Age: new(30), Sex: fitness.Male, HR: new(156)},
			45.81, 0.01, none, []fitness.Flag{fitness.FlagStudents},
		},
		{
			"McArdle 1972; worked by hand: woman, 156, last year of students",
			fitness.Input{Test: fitness.QueensStep, Age: new(29), Sex: fitness.Female, HR: new(156)},
			37.00, 0.01, 2.9, nil,
		},
		{
			"Ebbeling 1991, abstract; worked by hand: man of 40, 3.5 mph, 140",
			fitness.Input{Test: fitness.SingleStageWalk, Age: new(40), Sex: fitness.Male, SpeedMMin: new(fitness.FromMph(3.5)), HR: new(140)},
			43.0, 0.05, 4.85, nil,
		},
		{
			"Ebbeling 1991, abstract; worked by hand: woman of 60, 3 mph, 110",
			fitness.Input{Test: fitness.SingleStageWalk, Age: new(60), Sex: fitness.Female, SpeedMMin: new(fitness.FromMph(3)), HR: new(110)},
			30.454, 0.001, 4.85, []fitness.Flag{fitness.FlagAge},
		},
		{
			"Kokkinos 2017, from memory; worked by hand: 134 m/min, 10 %",
			fitness.Input{Test: fitness.TreadmillPeak, SpeedMMin: new(134.0), Grade: new(0.1)},
			36.866, 0.001, none, []fitness.Flag{fitness.FlagMaximal},
		},
		{
			"Kokkinos 2017, from memory; worked by hand: the level",
			fitness.Input{Test: fitness.TreadmillPeak, SpeedMMin: new(134.0)},
			26.28, 0.001, none, []fitness.Flag{fitness.FlagMaximal},
		},
		{
			"FRIEND cycle equation, from memory; worked by hand: 150 W, 80 kg",
			fitness.Input{Test: fitness.CyclePeak, WorkKgmMin: new(fitness.FromWatts(150)), WeightKg: new(80.0)},
			23.4665, 0.001, none, []fitness.Flag{fitness.FlagMaximal},
		},
		{
			"Jackson 1990 in Peterman 2020; worked by hand: man of 45, activity 3, index 28",
			fitness.Input{Test: fitness.NonExercise, Age: new(45), Sex: fitness.Male, Rating: new(3), BMI: new(28.0)},
			34.86, 0.01, 5.70, nil,
		},
		{
			"Jackson 1990; worked by hand: the same from 90.72 kg and 180 cm",
			fitness.Input{Test: fitness.NonExercise, Age: new(45), Sex: fitness.Male, Rating: new(3), WeightKg: new(90.72), HeightCm: new(180.0)},
			34.86, 0.01, 5.70, nil,
		},
		{
			"Jackson 1990; worked by hand: woman of 60, activity 1, index 30, below the model",
			fitness.Input{Test: fitness.NonExercise, Age: new(60), Sex: fitness.Female, Rating: new(1), BMI: new(30.0)},
			12.80, 0.01, 5.70, []fitness.Flag{fitness.FlagBelowModel},
		},
		{
			"Jackson 1990; worked by hand: heavier and older than the model",
			fitness.Input{Test: fitness.NonExercise, Age: new(71), Sex: fitness.Male, Rating: new(7), BMI: new(35.5)},
			26.979, 0.001, 5.70, []fitness.Flag{fitness.FlagBMI, fitness.FlagAge},
		},
		{
			"Jackson 1990; worked by hand: at the edges of the model",
			fitness.Input{Test: fitness.NonExercise, Age: new(70), Sex: fitness.Male, Rating: new(7), BMI: new(35.0)},
			27.737, 0.001, 5.70, nil,
		},
		{
			"Jackson 1990, body fat; worked by hand: man of 40, 20 %, activity 4",
			fitness.Input{Test: fitness.NonExerciseFat, Age: new(40), Sex: fitness.Male, Rating: new(4), FatPercent: new(20.0)},
			40.132, 0.001, 5.35, nil,
		},
		{
			"Jackson 1990, body fat; worked by hand: woman of 40, 30 %, activity 0",
			fitness.Input{Test: fitness.NonExerciseFat, Age: new(40), Sex: fitness.Female, Rating: new(0), FatPercent: new(30.0)},
			22.393, 0.001, 5.35, nil,
		},
		{
			"Bradshaw 2005, abstract; worked by hand: man of 30, index 25, pace 14, activity 5",
			fitness.Input{Test: fitness.NonExercisePace, Age: new(30), Sex: fitness.Male, BMI: new(25.0), Pace: new(14), Rating: new(5)},
			44.7124, 0.0001, 3.45, nil,
		},
		{
			"Bradshaw 2005, abstract; worked by hand: woman of 66, outside its ages, heavy",
			fitness.Input{Test: fitness.NonExercisePace, Age: new(66), Sex: fitness.Female, BMI: new(36.0), Pace: new(4), Rating: new(1)},
			13.0645, 0.0001, 3.45, []fitness.Flag{fitness.FlagAge, fitness.FlagBMI, fitness.FlagBelowModel},
		},
		{
			"Jurca 2005, numbers from memory; worked by hand: man of 50, index 28, 70, level 3: 10.04 METs",
			fitness.Input{Test: fitness.NonExerciseResting, Age: new(50), Sex: fitness.Male, BMI: new(28.0), RestingHR: new(70), Level: new(3)},
			10.04 * 3.5, 0.01, 1.45 * 3.5, nil,
		},
		{
			"Jurca 2005, numbers from memory; worked by hand: woman of 50, level 1: 6.21 METs",
			fitness.Input{Test: fitness.NonExerciseResting, Age: new(50), Sex: fitness.Female, BMI: new(28.0), RestingHR: new(70), Level: new(1)},
			6.21 * 3.5, 0.01, 1.45 * 3.5, nil,
		},
		{
			"Jurca 2005, numbers from memory; level 2 adds 0.32",
			fitness.Input{Test: fitness.NonExerciseResting, Age: new(50), Sex: fitness.Female, BMI: new(28.0), RestingHR: new(70), Level: new(2)},
			6.53 * 3.5, 0.01, 1.45 * 3.5, nil,
		},
		{
			"Jurca 2005, numbers from memory; level 4 adds 1.76; index above the model",
			fitness.Input{Test: fitness.NonExerciseResting, Age: new(50), Sex: fitness.Female, BMI: new(36.0), RestingHR: new(70), Level: new(4)},
			6.61 * 3.5, 0.01, 1.45 * 3.5, []fitness.Flag{fitness.FlagBMI},
		},
		{
			"Jurca 2005, numbers from memory; level 5 adds 3.03",
			fitness.Input{Test: fitness.NonExerciseResting, Age: new(50), Sex: fitness.Female, BMI: new(28.0), RestingHR: new(70), Level: new(5)},
			9.24 * 3.5, 0.01, 1.45 * 3.5, nil,
		},
		{
			"Ross 2010, line through means: 400 m",
			fitness.Input{Test: fitness.SixMinuteWalk, Age: new(70), Sex: fitness.Male, WeightKg: new(80.0), HeightCm: new(175.0), DistanceM: new(400.0)},
			14.15, 0.01, 3.82, []fitness.Flag{fitness.FlagTwoWalks, fitness.FlagGroupOnly},
		},
		{
			"Ross 2010, line through means: 500 m",
			fitness.Input{Test: fitness.SixMinuteWalkBMI, Age: new(70), Sex: fitness.Male, BMI: new(26.0), DistanceM: new(500.0)},
			16.45, 0.01, 3.82, []fitness.Flag{fitness.FlagTwoWalks, fitness.FlagGroupOnly},
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.Evaluate(tt.in, defaults)
			if err != nil {
				t.Fatal(err)
			}
			if got.VO2max == nil {
				t.Fatalf("no estimate; flags %v", got.Flags)
			}
			near(t, "VO2max", *got.VO2max, tt.vo2max, tt.tol)
			near(t, "METs", *got.METs, tt.vo2max/3.5, tt.tol)
			switch {
			case tt.see == none && got.SEE != nil:
				t.Errorf("SEE = %v; want none: none was published", *got.SEE)
			case tt.see != none && got.SEE == nil:
				t.Errorf("no SEE; want %v", tt.see)
			case tt.see != none:
				near(t, "SEE", *got.SEE, tt.see, 0.001)
			}
			if !slices.Equal(got.Flags, tt.flags) {
				t.Errorf("flags = %v; want %v", got.Flags, tt.flags)
			}
			if got.Test != tt.in.Test || len(got.Cites) == 0 {
				t.Errorf("test %q with sources %v; want %q with some", got.Test, got.Cites, tt.in.Test)
			}
			test, err := fitness.FindTest(tt.in.Test)
			if err != nil {
				t.Fatal(err)
			}
			if test.SEE != 0 && tt.see != test.SEE {
				t.Errorf("the list says an error of %v; want %v", test.SEE, tt.see)
			}
		})
	}
}

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

func TestCounts(t *testing.T) {
	for _, tt := range []struct {
		source string
		in     fitness.Input
		band   fitness.Band
		norm   fitness.CountNorm
		flags  []fitness.Flag
	}{
		{"Rikli 1999: woman of 72, 9 stands", stands(72, fitness.Female, 9), fitness.BelowAverage, fitness.CountNorm{Low: 10, High: 15}, nil},
		{"Rikli 1999: man of 62, 14 stands", stands(62, fitness.Male, 14), fitness.Average, fitness.CountNorm{Low: 14, High: 19}, nil},
		{"Rikli 1999: man of 60, 20 stands", stands(60, fitness.Male, 20), fitness.AboveAverage, fitness.CountNorm{Low: 14, High: 19}, nil},
		{"Rikli 1999: man of 60, 19 stands", stands(60, fitness.Male, 19), fitness.Average, fitness.CountNorm{Low: 14, High: 19}, nil},
		{"Rikli 1999: fewer than 8 go with low function", stands(94, fitness.Male, 7), fitness.Average, fitness.CountNorm{Low: 7, High: 12}, []fitness.Flag{fitness.FlagLowFunction}},
		{"Rikli 1999: 8 do not", stands(89, fitness.Female, 8), fitness.Average, fitness.CountNorm{Low: 8, High: 13}, nil},
		{"Rikli 1999: norms from 60", stands(59, fitness.Male, 20), "", fitness.CountNorm{}, []fitness.Flag{fitness.FlagNoNorms}},
		{"Rikli 1999: norms to 94", stands(95, fitness.Female, 5), "", fitness.CountNorm{}, []fitness.Flag{fitness.FlagLowFunction, fitness.FlagNoNorms}},
		{"Rikli 1999: arms used", stands(70, fitness.Female, 0), fitness.BelowAverage, fitness.CountNorm{Low: 10, High: 15}, []fitness.Flag{fitness.FlagLowFunction}},
		{"Rikli 1999: man of 66, 85 steps, range from 86", steps(66, fitness.Male, 85), fitness.BelowAverage, fitness.CountNorm{86, 116, 101, 23, 101}, []fitness.Flag{fitness.FlagIndependence}},
		{"Rikli 1999, 2013: woman of 71, 90 steps, above the mark of 89", steps(71, fitness.Female, 90), fitness.Average, fitness.CountNorm{68, 101, 84, 25, 89}, nil},
		{"Rikli 2013: woman of 71 on the mark", steps(71, fitness.Female, 89), fitness.Average, fitness.CountNorm{68, 101, 84, 25, 89}, nil},
		{"Rikli 2013: man of 94, below it", steps(94, fitness.Male, 59), fitness.Average, fitness.CountNorm{52, 86, 69, 26, 60}, []fitness.Flag{fitness.FlagIndependence}},
		{"Rikli 1999: woman of 60, 108 steps", steps(60, fitness.Female, 108), fitness.AboveAverage, fitness.CountNorm{75, 107, 91, 24, 97}, nil},
		{"Rikli 1999: no norms for steps at 59", steps(59, fitness.Female, 90), "", fitness.CountNorm{}, []fitness.Flag{fitness.FlagNoNorms}},
		{"Golding 2000: man of 25, excellent to 76", step3(25, fitness.Male, 76), fitness.StepExcellent, fitness.CountNorm{Low: 50, High: 76}, nil},
		{"Golding 2000: man of 25, the gap of 77 and 78 is good", step3(25, fitness.Male, 77), fitness.StepGood, fitness.CountNorm{Low: 79, High: 84}, nil},
		{"Golding 2000: man of 26, next group", step3(26, fitness.Male, 85), fitness.StepGood, fitness.CountNorm{Low: 79, High: 85}, nil},
		{"Golding 2000, from memory: woman of 40, 107", step3(40, fitness.Female, 107), fitness.Average, fitness.CountNorm{Low: 107, High: 112}, nil},
		{"Golding 2000, from memory: woman of 45, 116", step3(45, fitness.Female, 116), fitness.BelowAverage, fitness.CountNorm{Low: 115, High: 120}, nil},
		{"Golding 2000, from memory: woman of 46, 100", step3(46, fitness.Female, 100), fitness.StepGood, fitness.CountNorm{Low: 95, High: 101}, nil},
		{"Golding 2000, from memory: man of 65, 130", step3(65, fitness.Male, 130), fitness.StepVeryPoor, fitness.CountNorm{Low: 131}, nil},
		{"Golding 2000, from memory: woman of 66, poor to 133", step3(66, fitness.Female, 133), fitness.StepPoor, fitness.CountNorm{Low: 128, High: 133}, nil},
		{"Golding 2000, from memory: man of 80, above average", step3(80, fitness.Male, 94), fitness.AboveAverage, fitness.CountNorm{Low: 94, High: 102}, nil},
		{"better than the table", step3(30, fitness.Male, 47), fitness.StepExcellent, fitness.CountNorm{Low: 51, High: 76}, nil},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.Evaluate(tt.in, defaults)
			if err != nil {
				t.Fatal(err)
			}
			norm := fitness.CountNorm{}
			if got.Norm != nil {
				norm = *got.Norm
			}
			if got.Band != tt.band || norm != tt.norm || !slices.Equal(got.Flags, tt.flags) {
				t.Errorf("band %q, norm %+v, flags %v; want %q, %+v, %v", got.Band, norm, got.Flags, tt.band, tt.norm, tt.flags)
			}
			if got.VO2max != nil {
				t.Errorf("VO2max = %v; want none from a count", *got.VO2max)
			}
		})
	}
}

func stands(age int, sex fitness.Sex, n int) fitness.Input {
	return fitness.Input{Test: fitness.ChairStand, Age: &age, Sex: sex, Stands: &n}
}

func steps(age int, sex fitness.Sex, n int) fitness.Input {
	return fitness.Input{Test: fitness.TwoMinuteStep, Age: &age, Sex: sex, Steps: &n}
}

func step3(age int, sex fitness.Sex, hr int) fitness.Input {
	return fitness.Input{Test: fitness.ThreeMinuteStep, Age: &age, Sex: sex, HR: &hr}
}

func TestStanding(t *testing.T) {
	for _, tt := range []struct {
		source     string
		in         fitness.Input
		percentile float64
		word       fitness.Word
	}{
		{"FRIEND 2022: 30.3 of a man in his twenties is the 12th", fitness.Input{Test: fitness.Run15Mile, Age: new(25), Sex: fitness.Male, Minutes: new(18.0)}, 12.4, fitness.VeryPoor},
		{"FRIEND 2022: cycle peaks against the cycle, 24.7 of a man of 55", fitness.Input{Test: fitness.CyclePeak, Age: new(55), Sex: fitness.Male, WeightKg: new(60.0), WorkKgmMin: new(21.2 * 60 / 1.74)}, 50, fitness.Fair},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.Evaluate(tt.in, defaults)
			if err != nil || got.Standing == nil {
				t.Fatalf("Evaluate = %+v, %v; want a standing", got, err)
			}
			near(t, "percentile", got.Standing.Percentile, tt.percentile, 0.1)
			if got.Standing.Word != tt.word {
				t.Errorf("word = %s; want %s", got.Standing.Word, tt.word)
			}
		})
	}
	for _, in := range []fitness.Input{
		{Test: fitness.Run15Mile, Age: new(25), Minutes: new(18.0)},
		{Test: fitness.Run15Mile, Sex: fitness.Male, Minutes: new(18.0)},
		{Test: fitness.Run15Mile, Age: new(90), Sex: fitness.Male, Minutes: new(18.0)},
		{Test: fitness.Run15Mile, Age: new(19), Sex: fitness.Male, Minutes: new(18.0)},
	} {
		got, err := fitness.Evaluate(in, defaults)
		if err != nil || got.Standing != nil {
			t.Errorf("Evaluate(%v, %q) = standing %v, %v; want none", in.Age, in.Sex, got.Standing, err)
		}
		if got.Has(fitness.FlagNoNorms) != (in.Age != nil && in.Sex != "") {
			t.Errorf("Evaluate(%v, %q): flags %v", in.Age, in.Sex, got.Flags)
		}
	}
}

// A medicine that holds the heart rate down disables every test that reads it, and
// no other.
func TestHRBlunted(t *testing.T) {
	want := []fitness.TestID{
		fitness.RockportWalk, fitness.RockportWalkLitres, fitness.SingleStageWalk, fitness.Jog1Mile, fitness.Jog1MileTeen,
		fitness.QueensStep, fitness.ThreeMinuteStep, fitness.StagedStep, fitness.NonExerciseResting,
	}
	var got []fitness.TestID
	for id, in := range samples() {
		in.HRBlunted = true
		r, err := fitness.Evaluate(in, defaults)
		if err != nil {
			t.Errorf("%s: %v", id, err)
			continue
		}
		if r.Has(fitness.FlagHRBlunted) {
			got = append(got, id)
			if r.VO2max != nil || r.SEE != nil || r.METs != nil || r.Standing != nil || r.Band != "" {
				t.Errorf("%s: an estimate under a medicine that slows the heart: %+v", id, r)
			}
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("disabled = %v; want %v", got, want)
	}
}

// samples has an input that works for every test.
func samples() map[fitness.TestID]fitness.Input {
	all := map[fitness.TestID]fitness.Input{}
	for _, test := range fitness.Tests() {
		in := fitness.Input{Test: test.ID, Age: new(45), Sex: fitness.Male, WeightKg: new(80.0), HeightCm: new(180.0)}
		switch test.ID {
		case fitness.RockportWalk, fitness.RockportWalkLitres:
			in.Minutes, in.HR = new(14.0), new(125)
		case fitness.SingleStageWalk:
			in.SpeedMMin, in.HR = new(93.8), new(120)
		case fitness.TreadmillPeak:
			in.SpeedMMin, in.Grade = new(100.0), new(0.12)
		case fitness.CyclePeak:
			in.WorkKgmMin = new(900.0)
		case fitness.SixMinuteWalk, fitness.SixMinuteWalkBMI:
			in.DistanceM = new(480.0)
		case fitness.Run15Mile, fitness.Run15MileCollege:
			in.Minutes = new(13.0)
		case fitness.Cooper12Min:
			in.DistanceM = new(2200.0)
		case fitness.Jog1Mile:
			in.Age, in.Minutes, in.HR = new(24), new(9.5), new(150)
		case fitness.Jog1MileTeen:
			in.Age, in.Minutes, in.HR = new(16), new(9.5), new(150)
		case fitness.QueensStep, fitness.ThreeMinuteStep:
			in.HR = new(120)
		case fitness.StagedStep:
			in.StepHeight, in.HRMax = new(0.3), new(175.0)
			in.Stages = []fitness.Stage{{15, 112}, {20, 126}, {25, 140}}
		case fitness.NonExercise:
			in.Rating = new(3)
		case fitness.NonExerciseFat:
			in.Rating, in.FatPercent = new(3), new(24.0)
		case fitness.NonExercisePace:
			in.Rating, in.Pace = new(3), new(12)
		case fitness.NonExerciseResting:
			in.RestingHR, in.Level = new(64), new(2)
		case fitness.ChairStand:
			in.Stands = new(14)
		case fitness.TwoMinuteStep:
			in.Steps = new(90)
		}
		all[test.ID] = in
	}
	return all
}

func TestEvaluateRefuses(t *testing.T) {
	edit := func(id fitness.TestID, f func(*fitness.Input)) fitness.Input {
		in := samples()[id]
		f(&in)
		return in
	}
	for _, tt := range []struct {
		source string
		in     fitness.Input
		fields []string
	}{
		{"no test", fitness.Input{}, []string{"test"}},
		{"another test", fitness.Input{Test: "beep"}, []string{"test"}},
		{"nothing read", fitness.Input{Test: fitness.RockportWalk}, []string{"age", "hr", "minutes", "sex", "weight_kg"}},
		{"teaching page with the error printed: a count of 10 seconds", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HR = new(24) }), []string{"hr"}},
		{"practice setting: the last count that is refused", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HR = new(59) }), []string{"hr"}},
		{"practice setting: a low count after the step", step3(40, fitness.Male, 45), []string{"hr"}},
		{"our limit: beyond any heart", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HR = new(241) }), []string{"hr"}},
		{"adults only", edit(fitness.RockportWalk, func(in *fitness.Input) { in.Age = new(17) }), []string{"age"}},
		{"practice setting: nobody is 111", edit(fitness.Run15Mile, func(in *fitness.Input) { in.Age = new(111) }), []string{"age"}},
		{"practice setting: weight", edit(fitness.RockportWalk, func(in *fitness.Input) { in.WeightKg = new(19.0) }), []string{"weight_kg"}},
		{"practice setting: weight, heavy", edit(fitness.RockportWalk, func(in *fitness.Input) { in.WeightKg = new(401.0) }), []string{"weight_kg"}},
		{"practice setting: height in metres", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HeightCm = new(1.72) }), []string{"height_cm"}},
		{"practice setting: height", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HeightCm = new(251.0) }), []string{"height_cm"}},
		{"practice setting: height in inches", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HeightCm = new(89.0) }), []string{"height_cm"}},
		{"our limit: a mile in under 3 minutes", edit(fitness.RockportWalk, func(in *fitness.Input) { in.Minutes = new(2.9) }), []string{"minutes"}},
		{"our limit: a mile in over 90 minutes", edit(fitness.RockportWalk, func(in *fitness.Input) { in.Minutes = new(91.0) }), []string{"minutes"}},
		{"a sex that no equation knows", edit(fitness.RockportWalk, func(in *fitness.Input) { in.Sex = "M" }), []string{"sex"}},
		{"a distance for a test of time", edit(fitness.RockportWalk, func(in *fitness.Input) { in.DistanceM = new(1609.0) }), []string{"distance_m"}},
		{"a time for a test of distance", edit(fitness.Cooper12Min, func(in *fitness.Input) { in.Minutes = new(12.0) }), []string{"minutes"}},
		{"stages for a test without", edit(fitness.Cooper12Min, func(in *fitness.Input) { in.Stages = []fitness.Stage{{20, 120}, {25, 130}} }), []string{"stages"}},
		{"George 1993: older than 29", edit(fitness.Jog1Mile, func(in *fitness.Input) { in.Age = new(30) }), []string{"age"}},
		{"George 1993: men no faster than 8:00", edit(fitness.Jog1Mile, func(in *fitness.Input) { in.Minutes = new(7.99) }), []string{"minutes"}},
		{"George 1993: women no faster than 9:00", edit(fitness.Jog1Mile, func(in *fitness.Input) { in.Sex, in.Minutes = fitness.Female, new(8.99) }), []string{"minutes"}},
		{"our limit: a jog of over 30 minutes is a walk", edit(fitness.Jog1Mile, func(in *fitness.Input) { in.Minutes = new(31.0) }), []string{"minutes"}},
		{"George 1993: heart rate at most 180", edit(fitness.Jog1Mile, func(in *fitness.Input) { in.HR = new(181) }), []string{"hr"}},
		{"Hunt 2000: 13 to 17 years", edit(fitness.Jog1MileTeen, func(in *fitness.Input) { in.Age = new(18) }), []string{"age"}},
		{"Hunt 2000: 13 to 17 years, child", edit(fitness.Jog1MileTeen, func(in *fitness.Input) { in.Age = new(12) }), []string{"age"}},
		{"Ebbeling 1991: slower than 2 mph", edit(fitness.SingleStageWalk, func(in *fitness.Input) { in.SpeedMMin = new(53.0) }), []string{"speed_m_min"}},
		{"Ebbeling 1991: faster than 4.5 mph", edit(fitness.SingleStageWalk, func(in *fitness.Input) { in.SpeedMMin = new(121.0) }), []string{"speed_m_min"}},
		{"a grade in per cent", edit(fitness.TreadmillPeak, func(in *fitness.Input) { in.Grade = new(12.0) }), []string{"grade"}},
		{"our limit: 12 km/h for six minutes is no walk", edit(fitness.SixMinuteWalk, func(in *fitness.Input) { in.DistanceM = new(1201.0) }), []string{"distance_m"}},
		{"our limit: nobody runs 5 km in 12 minutes and more", edit(fitness.Cooper12Min, func(in *fitness.Input) { in.DistanceM = new(5001.0) }), []string{"distance_m"}},
		{"no index and no height", edit(fitness.NonExercise, func(in *fitness.Input) { in.HeightCm = nil }), []string{"bmi"}},
		{"our limit: an index half a kg/m2 off", edit(fitness.NonExercise, func(in *fitness.Input) { in.HeightCm, in.BMI = new(200.0), new(20.505) }), []string{"bmi"}},
		{"a stage at 240 is above any maximum that is taken", edit(fitness.StagedStep, func(in *fitness.Input) {
			in.Stages, in.HRMax = []fitness.Stage{{15, 112}, {20, 240}}, new(230.0)
		}), []string{"hr_max"}},
		{"an index that weight and height contradict", edit(fitness.NonExercise, func(in *fitness.Input) { in.BMI = new(28.0) }), []string{"bmi"}},
		{"practice setting: index", edit(fitness.NonExercise, func(in *fitness.Input) { in.WeightKg, in.HeightCm, in.BMI = nil, nil, new(7.9) }), []string{"bmi"}},
		{"practice setting: index, high", edit(fitness.NonExercise, func(in *fitness.Input) { in.WeightKg, in.HeightCm, in.BMI = nil, nil, new(121.0) }), []string{"bmi"}},
		{"Jackson 1990: activity from 0 to 7", edit(fitness.NonExercise, func(in *fitness.Input) { in.Rating = new(8) }), []string{"activity_rating"}},
		{"Jackson 1990: activity from 0 to 7, negative", edit(fitness.NonExercise, func(in *fitness.Input) { in.Rating = new(-1) }), []string{"activity_rating"}},
		{"Bradshaw 2005: two ratings from 1 to 13", edit(fitness.NonExercisePace, func(in *fitness.Input) { in.Pace = new(27) }), []string{"pace_rating"}},
		{"Bradshaw 2005: two ratings from 1 to 13, one left out", edit(fitness.NonExercisePace, func(in *fitness.Input) { in.Pace = new(1) }), []string{"pace_rating"}},
		{"Jurca 2005: five levels", edit(fitness.NonExerciseResting, func(in *fitness.Input) { in.Level = new(6) }), []string{"activity_level"}},
		{"Jurca 2005: five levels from 1", edit(fitness.NonExerciseResting, func(in *fitness.Input) { in.Level = new(0) }), []string{"activity_level"}},
		{"our limit: resting heart rate", edit(fitness.NonExerciseResting, func(in *fitness.Input) { in.RestingHR = new(24) }), []string{"resting_hr"}},
		{"our limit: resting heart rate, high", edit(fitness.NonExerciseResting, func(in *fitness.Input) { in.RestingHR = new(151) }), []string{"resting_hr"}},
		{"our limit: body fat", edit(fitness.NonExerciseFat, func(in *fitness.Input) { in.FatPercent = new(0.24) }), []string{"fat_percent"}},
		{"our limit: body fat, high", edit(fitness.NonExerciseFat, func(in *fitness.Input) { in.FatPercent = new(76.0) }), []string{"fat_percent"}},
		{"our limit: stands", stands(70, fitness.Male, 61), []string{"stands"}},
		{"our limit: stands below none", stands(70, fitness.Male, -1), []string{"stands"}},
		{"our limit: steps", steps(70, fitness.Male, 301), []string{"steps"}},
		{"our limit: work", edit(fitness.CyclePeak, func(in *fitness.Input) { in.WorkKgmMin = new(49.0) }), []string{"work_kgm_min"}},
		{"our limit: work, high", edit(fitness.CyclePeak, func(in *fitness.Input) { in.WorkKgmMin = new(4001.0) }), []string{"work_kgm_min"}},
		{"our limit: speed", edit(fitness.TreadmillPeak, func(in *fitness.Input) { in.SpeedMMin = new(9.0) }), []string{"speed_m_min"}},
		{"our limit: speed, high", edit(fitness.TreadmillPeak, func(in *fitness.Input) { in.SpeedMMin = new(451.0) }), []string{"speed_m_min"}},
		{"more oxygen than anybody ever had", edit(fitness.CyclePeak, func(in *fitness.Input) { in.WorkKgmMin, in.WeightKg = new(4000.0), new(40.0) }), []string{"test"}},
		{"one stage is no line", edit(fitness.StagedStep, func(in *fitness.Input) { in.Stages = in.Stages[:1] }), []string{"stages"}},
		{"no stage at all, nor anything else", fitness.Input{Test: fitness.StagedStep}, []string{"hr_max", "stages", "step_height_m"}},
		{"stages with too low a heart rate leave no line", edit(fitness.StagedStep, func(in *fitness.Input) { in.Stages = []fitness.Stage{{15, 95}, {20, 109}, {25, 120}} }), []string{"stages"}},
		{"a stage counted for 15 seconds, a stage too fast", edit(fitness.StagedStep, func(in *fitness.Input) { in.Stages = []fitness.Stage{{15, 30}, {61, 120}} }), []string{"stages[0].hr", "stages[1].steps_min"}},
		{"a stage too slow, a stage beyond any heart", edit(fitness.StagedStep, func(in *fitness.Input) { in.Stages = []fitness.Stage{{4, 120}, {20, 241}} }), []string{"stages[0].steps_min", "stages[1].hr"}},
		{"the heart rate falls as the work rises", edit(fitness.StagedStep, func(in *fitness.Input) { in.Stages = []fitness.Stage{{15, 130}, {20, 120}} }), []string{"stages"}},
		{"the maximum is below the hardest stage", edit(fitness.StagedStep, func(in *fitness.Input) { in.HRMax = new(140.0) }), []string{"hr_max"}},
		{"our limit: step in centimetres", edit(fitness.StagedStep, func(in *fitness.Input) { in.StepHeight = new(30.0) }), []string{"step_height_m"}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.Evaluate(tt.in, defaults)
			refuses(t, err, tt.fields...)
			if got.VO2max != nil || got.Test != "" {
				t.Errorf("result = %+v beside an error; want none", got)
			}
		})
	}
}

// Estimates without exercise are flagged above an index of 35, whichever is used.
func TestFlagBMI(t *testing.T) {
	for _, id := range []fitness.TestID{fitness.NonExercise, fitness.NonExercisePace, fitness.NonExerciseResting} {
		for bmi, want := range map[float64]bool{35: false, 35.01: true} {
			in := samples()[id]
			in.WeightKg, in.HeightCm, in.BMI = nil, nil, &bmi
			got, err := fitness.Evaluate(in, defaults)
			if err != nil || got.Has(fitness.FlagBMI) != want {
				t.Errorf("%s at %v: flags %v, %v; want the flag %v", id, bmi, got.Flags, err, want)
			}
		}
	}
}

// What lies right at a limit is taken.
func TestEvaluateTakes(t *testing.T) {
	edit := func(id fitness.TestID, f func(*fitness.Input)) fitness.Input {
		in := samples()[id]
		f(&in)
		return in
	}
	bare := func(in *fitness.Input) { in.WeightKg, in.HeightCm = nil, nil }
	for _, tt := range []struct {
		source string
		in     fitness.Input
	}{
		{"adults from 18", edit(fitness.RockportWalk, func(in *fitness.Input) { in.Age = new(18) })},
		{"practice setting: to 110", edit(fitness.RockportWalk, func(in *fitness.Input) { in.Age = new(110) })},
		{"practice setting: 60 bpm", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HR = new(60) })},
		{"our limit: 240 bpm", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HR = new(240) })},
		{"our limit: 3 minutes", edit(fitness.Run15Mile, func(in *fitness.Input) { in.Minutes = new(5.1) })},
		{"our limit: 90 minutes", edit(fitness.Run15Mile, func(in *fitness.Input) { in.Minutes = new(90.0) })},
		{"practice setting: a count of 46", step3(40, fitness.Male, 46)},
		{"practice setting: 20 kg", edit(fitness.RockportWalk, func(in *fitness.Input) { in.WeightKg = new(20.0) })},
		{"practice setting: 400 kg", edit(fitness.RockportWalkLitres, func(in *fitness.Input) { in.WeightKg = new(400.0) })},
		{"practice setting: 90 cm", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HeightCm = new(90.0) })},
		{"practice setting: 250 cm", edit(fitness.RockportWalk, func(in *fitness.Input) { in.HeightCm = new(250.0) })},
		{"George 1993: 18 years", edit(fitness.Jog1Mile, func(in *fitness.Input) { in.Age = new(18) })},
		{"George 1993: men at 8:00 and 180", edit(fitness.Jog1Mile, func(in *fitness.Input) { in.Minutes, in.HR = new(8.0), new(180) })},
		{"our limit: a jog of 30 minutes", edit(fitness.Jog1Mile, func(in *fitness.Input) { in.Minutes = new(30.0) })},
		{"Hunt 2000: 13 years", edit(fitness.Jog1MileTeen, func(in *fitness.Input) { in.Age = new(13) })},
		{"Hunt 2000: 17 years", edit(fitness.Jog1MileTeen, func(in *fitness.Input) { in.Age = new(17) })},
		{"Ebbeling 1991: 2.0 mph", edit(fitness.SingleStageWalk, func(in *fitness.Input) { in.SpeedMMin = new(fitness.FromMph(2)) })},
		{"Ebbeling 1991: 4.5 mph", edit(fitness.SingleStageWalk, func(in *fitness.Input) { in.SpeedMMin = new(fitness.FromMph(4.5)) })},
		{"our limit: 1200 m in six minutes", edit(fitness.SixMinuteWalk, func(in *fitness.Input) { in.DistanceM = new(1200.0) })},
		{"our limit: 1 m in six minutes", edit(fitness.SixMinuteWalk, func(in *fitness.Input) { in.DistanceM = new(1.0) })},
		{"practice setting: index 8", edit(fitness.NonExercise, func(in *fitness.Input) { bare(in); in.BMI = new(8.0) })},
		{"practice setting: index 120", edit(fitness.NonExercise, func(in *fitness.Input) { bare(in); in.BMI = new(120.0) })},
		{"our limit: an index half a kg/m2 off", edit(fitness.NonExercise, func(in *fitness.Input) { in.HeightCm, in.BMI = new(200.0), new(20.5) })},
		{"our limit: a mile in 3 minutes", edit(fitness.RockportWalk, func(in *fitness.Input) { in.Minutes = new(3.0) })},
		{"an index that weight and height agree with", edit(fitness.NonExercise, func(in *fitness.Input) { in.BMI = new(24.7) })},
		{"Jackson 1990: activity 0", edit(fitness.NonExercise, func(in *fitness.Input) { in.Rating = new(0) })},
		{"Jackson 1990: activity 7", edit(fitness.NonExercise, func(in *fitness.Input) { in.Rating = new(7) })},
		{"Bradshaw 2005: pace 2", edit(fitness.NonExercisePace, func(in *fitness.Input) { in.Pace = new(2) })},
		{"Bradshaw 2005: pace 26", edit(fitness.NonExercisePace, func(in *fitness.Input) { in.Pace = new(26) })},
		{"our limit: resting heart rate 25", edit(fitness.NonExerciseResting, func(in *fitness.Input) { in.RestingHR = new(25) })},
		{"our limit: resting heart rate 150", edit(fitness.NonExerciseResting, func(in *fitness.Input) { in.RestingHR = new(150) })},
		{"our limit: body fat 2", edit(fitness.NonExerciseFat, func(in *fitness.Input) { in.FatPercent = new(2.0) })},
		{"our limit: body fat 75", edit(fitness.NonExerciseFat, func(in *fitness.Input) { in.FatPercent = new(75.0) })},
		{"our limit: 60 stands", stands(70, fitness.Male, 60)},
		{"our limit: no steps", steps(70, fitness.Male, 0)},
		{"our limit: 300 steps", steps(70, fitness.Male, 300)},
		{"our limit: 50 kgm/min", edit(fitness.CyclePeak, func(in *fitness.Input) { in.WorkKgmMin = new(50.0) })},
		{"our limit: 4000 kgm/min", edit(fitness.CyclePeak, func(in *fitness.Input) { in.WorkKgmMin = new(4000.0) })},
		{"our limit: 10 m/min", edit(fitness.TreadmillPeak, func(in *fitness.Input) { in.SpeedMMin = new(10.0) })},
		{"our limit: 450 m/min", edit(fitness.TreadmillPeak, func(in *fitness.Input) { in.SpeedMMin, in.Grade = new(450.0), nil })},
		{"our limit: level", edit(fitness.TreadmillPeak, func(in *fitness.Input) { in.Grade = new(0.0) })},
		{"our limit: stages at 5 and 60 a minute, 60 and 240 bpm", edit(fitness.StagedStep, func(in *fitness.Input) {
			in.Stages, in.HRMax = []fitness.Stage{{5, 60}, {30, 130}, {60, 229}}, new(230.0)
		})},
		{"our limit: ten stages", edit(fitness.StagedStep, func(in *fitness.Input) {
			in.Stages = nil
			for i := range 10 {
				in.Stages = append(in.Stages, fitness.Stage{StepsMin: float64(10 + 2*i), HR: 112 + 4*i})
			}
		})},
		{"our limit: a step of 2 cm", edit(fitness.StagedStep, func(in *fitness.Input) { in.StepHeight = new(0.02) })},
		{"our limit: a step of 1 m", edit(fitness.StagedStep, func(in *fitness.Input) { in.StepHeight, in.HRMax = new(1.0), new(145.0) })},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if _, err := fitness.Evaluate(tt.in, defaults); err != nil {
				t.Errorf("%v; want it taken", err)
			}
		})
	}
	for _, in := range []fitness.Input{
		edit(fitness.StagedStep, func(in *fitness.Input) { in.HRMax = new(231.0) }),
		edit(fitness.StagedStep, func(in *fitness.Input) { in.StepHeight = new(0.019) }),
		edit(fitness.StagedStep, func(in *fitness.Input) {
			for range 8 {
				in.Stages = append(in.Stages, fitness.Stage{StepsMin: 20, HR: 130})
			}
		}),
	} {
		if _, err := fitness.Evaluate(in, defaults); err == nil {
			t.Errorf("%+v is taken; want it refused", in)
		}
	}
}

// An equation that gives less than rest gives nothing, and says so.
func TestBelowRest(t *testing.T) {
	for _, in := range []fitness.Input{
		{Test: fitness.NonExercise, Age: new(60), Sex: fitness.Female, Rating: new(0), BMI: new(60.0)},
		{Test: fitness.Cooper12Min, DistanceM: new(300.0)},
	} {
		got, err := fitness.Evaluate(in, defaults)
		if err != nil {
			t.Fatal(err)
		}
		if got.VO2max != nil || got.SEE != nil || got.METs != nil || !got.Has(fitness.FlagAtRest) {
			t.Errorf("%s = %+v; want no estimate and a flag", in.Test, got)
		}
	}
}

func TestAllowed(t *testing.T) {
	none, light, moderate, vigorous, all := intensity.None, intensity.Light, intensity.Moderate, intensity.Vigorous, intensity.NearMaximal
	for _, tt := range []struct {
		source         string
		test           fitness.TestID
		ceiling, stage intensity.Class
		held, problem  bool
	}{
		{"practice setting: questions under a full stop", fitness.NonExercise, none, none, false, false},
		{"practice setting: a walk at one's own pace under a stop on vigorous", fitness.SixMinuteWalk, moderate, none, false, false},
		{"practice setting: the same under a stop on moderate", fitness.SixMinuteWalk, light, none, true, false},
		{"practice setting: a mile as fast as possible under a stop on vigorous", fitness.RockportWalk, moderate, moderate, true, false},
		{"practice setting: a mile as fast as possible, cleared", fitness.RockportWalk, vigorous, light, false, false},
		{"practice setting: an all-out run under a stop on vigorous", fitness.Run15Mile, moderate, vigorous, true, false},
		{"practice setting: an all-out run, cleared, but only light so far", fitness.Run15Mile, all, light, false, true},
		{"practice setting: an all-out run with moderate work established", fitness.Run15Mile, all, moderate, false, false},
		{"practice setting: an all-out run with a ceiling of vigorous", fitness.Cooper12Min, vigorous, vigorous, true, false},
	} {
		t.Run(tt.source, func(t *testing.T) {
			test, err := fitness.FindTest(tt.test)
			if err != nil {
				t.Fatal(err)
			}
			err = test.Allowed(tt.ceiling, tt.stage)
			if tt.problem {
				refuses(t, err, "test")
			} else if held(err) != tt.held || (err == nil) == tt.held {
				t.Errorf("Allowed(%s, %s) = %v; want held %v", tt.ceiling, tt.stage, err, tt.held)
			}
		})
	}
}

func TestFindTest(t *testing.T) {
	if _, err := fitness.FindTest("beep"); err != domain.ErrNotFound {
		t.Errorf("FindTest(beep) = %v; want not found", err)
	}
}
