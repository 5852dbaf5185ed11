package fitness_test

import (
	"slices"
	"testing"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/intensity"
)

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
