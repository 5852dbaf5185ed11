package fitness_test

import (
	"testing"

	"brae/domain/fitness"
)

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
