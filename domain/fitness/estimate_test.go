package fitness_test

import (
	"slices"
	"testing"

	"brae/domain/fitness"
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
