package fitness

import (
	"brae/domain"
	"brae/domain/activity"
	"brae/domain/source"
)

// Policy holds the practice's settings of this package, and those of package
// activity that say which body weights can be typed.
type Policy struct {
	AllOut        bool    // all-out tests are done where vigorous work is open
	AgeHigh       int     // years; a higher age is refused
	HeightLowCm   int     // a lower height is refused
	HeightHighCm  int     // a higher height is refused
	BMILow        int     // kg/m2; a lower index is refused
	BMIHigh       int     // kg/m2; a higher index is refused
	ExerciseHRLow int     // bpm; a lower heart rate in or after a test is refused
	CountHRLow    int     // bpm; the same for a minute's count that starts after the test
	StageHRFloor  int     // bpm; stages below are left out of the line, 0 leaves none out
	ModelVO2Low   float64 // ml per kg and minute; a lower estimate without exercise is flagged
	ModelBMIHigh  int     // kg/m2; flagged above, in estimates without exercise
	ModelAgeHigh  int     // years; flagged above, in estimates without exercise
	EnergyHRLow   int     // bpm; no energy is told from a lower heart rate
	VO2Probable   float64 // ml per kg and minute; a smaller change is within the error
	VO2Clear      float64 // ml per kg and minute; a larger change is clear
	RestingHRReal int     // beats; a smaller change of the resting heart rate is none
	SameWorkReal  int     // beats; a smaller change at the same work is none
	RetestWeeks   int     // weeks between two tests
	RetestDue     int     // weeks after which a test is due again
	TestBack      int     // years back to which a result of another place can be entered
	WorkloadSEE   float64 // ml per kg and minute; taken as the error of a maximum whose error is not known
	GoalVO2       int     // per cent in 12 weeks
	GoalHR        int     // beats less at the standard walk in 12 weeks
	GoalWalkM     int     // metres more in six minutes in 12 weeks
	Weights       activity.Policy
}

func setting(key, unit string, normal, low, high int, says string, cites ...source.Key) source.Setting {
	return source.Setting{
		Key: "fitness." + key, Topic: source.TopicFitness, Unit: unit, Default: normal, Low: low, High: high,
		Says: says, Cites: append([]source.Key{"practice"}, cites...),
	}
}

var (
	ageHigh       = setting("age_high", "years", 110, 95, 120, "A higher age is taken for a slip of typing and refused.")
	heightLow     = setting("height_low", "cm", 90, 60, 120, "A lower height is taken for metres or inches and refused.")
	heightHigh    = setting("height_high", "cm", 250, 220, 280, "A higher height is taken for a slip of typing and refused.")
	bmiLow        = setting("bmi_low", "kg/m2", 8, 6, 12, "A lower body-mass index is refused: weight or height is wrong.")
	bmiHigh       = setting("bmi_high", "kg/m2", 120, 80, 200, "A higher body-mass index is refused: weight or height is wrong.")
	exerciseHRLow = setting("exercise_hr_low", "bpm", 60, 50, 70, "A lower heart rate in a test is taken for a count of 10 or 15 seconds that was not multiplied, and refused.")
	countHRLow    = setting("count_hr_low", "bpm", 46, 40, 50, "The same for the full minute counted after stepping, which can be lower.")
	stageHRFloor  = setting("stage_hr_floor", "bpm", 110, 0, 120, "Stages with a lower heart rate are left out of the line through the stages; 0 keeps them all.", "acsm_conditions")
	modelVO2Low   = setting("model_vo2_low", "tenths of ml/kg/min", 140, 70, 200, "An estimate without exercise below this is flagged as outside the model.", "jackson1990")
	modelBMIHigh  = setting("model_bmi_high", "kg/m2", 35, 30, 45, "An estimate without exercise is flagged above this body-mass index.", "jackson1990")
	modelAgeHigh  = setting("model_age_high", "years", 70, 60, 80, "An estimate without exercise is flagged above this age.", "jackson1990")
	energyHRLow   = setting("energy_hr_low", "bpm", 90, 70, 110, "No energy is told from a lower heart rate: near rest the equation goes wrong and below zero.", "keytel2005")
	vo2Probable   = setting("vo2_probable", "tenths of ml/kg/min", 35, 20, 60, "A smaller change of the maximal oxygen uptake is within the error.", "katch1982", "vickers_sem", "edgett2018")
	vo2Clear      = setting("vo2_clear", "tenths of ml/kg/min", 70, 50, 100, "A larger change of the maximal oxygen uptake is clear; between the two it is probable.", "katch1982", "vickers_sem", "edgett2018")
	restingHRReal = setting("resting_hr_real", "bpm", 5, 3, 10, "A smaller change of the mean resting heart rate of seven mornings is none.", "wilmore1996", "wilmore2001", "huang2005_hr")
	sameWorkReal  = setting("same_work_real", "bpm", 8, 5, 12, "A smaller change of the heart rate at the same work is none.", "marschall2014")
	retestWeeks   = setting("retest_weeks", "weeks", 4, 2, 12, "Tests are not repeated sooner than this.")
	retestDue     = setting("retest_due", "weeks", 12, 4, 52, "A client's last test is due again after so many weeks; the practice is reminded.")
	testBack      = setting("test_back", "years", 3, 1, 10, "A test can be entered up to so many years later, such as a result of another place.")
	workloadSEE   = setting("workload_see", "tenths of ml/kg/min", 50, 30, 60, "Taken as the error of a maximal oxygen uptake whose own error is not known, to work out with which workload to begin.", "kline1987_relative", "jackson1990")
	allOut        = setting("all_out", "on/off", 1, 0, 1, "Where the gate before vigorous work is open and moderate training is established, an all-out test may be done, too. Off: the practice does none.", "acsm_test_stop")
	goalVO2       = setting("goal_vo2", "per cent", 10, 5, 20, "A beginner's goal for 12 weeks: so much more estimated oxygen uptake, or one of the two other goals.", "qiu2010")
	goalHR        = setting("goal_hr", "bpm", 8, 5, 15, "A beginner's goal for 12 weeks: so many beats less at the standard walk, or one of the two other goals.", "marschall2014")
	goalWalk      = setting("goal_walk", "m", 30, 20, 60, "A beginner's goal for 12 weeks: so many metres more in six minutes, or one of the two other goals.", "bohannon2017")
)

// Settings are the numbers of this package that a practice may change.
var Settings = []source.Setting{
	ageHigh, heightLow, heightHigh, bmiLow, bmiHigh, exerciseHRLow, countHRLow, stageHRFloor,
	modelVO2Low, modelBMIHigh, modelAgeHigh, energyHRLow, vo2Probable, vo2Clear, restingHRReal,
	sameWorkReal, allOut, retestWeeks, retestDue, testBack, workloadSEE, goalVO2, goalHR, goalWalk,
}

// PolicyFrom returns the settings in use; PolicyFrom(nil) has the defaults.
//
// Practice rule: practice.
func PolicyFrom(v source.Values) Policy {
	return Policy{
		AllOut:        v.On(allOut),
		AgeHigh:       v.Of(ageHigh),
		HeightLowCm:   v.Of(heightLow),
		HeightHighCm:  v.Of(heightHigh),
		BMILow:        v.Of(bmiLow),
		BMIHigh:       v.Of(bmiHigh),
		ExerciseHRLow: v.Of(exerciseHRLow),
		CountHRLow:    v.Of(countHRLow),
		StageHRFloor:  v.Of(stageHRFloor),
		ModelVO2Low:   float64(v.Of(modelVO2Low)) / 10,
		ModelBMIHigh:  v.Of(modelBMIHigh),
		ModelAgeHigh:  v.Of(modelAgeHigh),
		EnergyHRLow:   v.Of(energyHRLow),
		VO2Probable:   float64(v.Of(vo2Probable)) / 10,
		VO2Clear:      float64(v.Of(vo2Clear)) / 10,
		RestingHRReal: v.Of(restingHRReal),
		SameWorkReal:  v.Of(sameWorkReal),
		RetestWeeks:   v.Of(retestWeeks),
		RetestDue:     v.Of(retestDue),
		TestBack:      v.Of(testBack),
		WorkloadSEE:   float64(v.Of(workloadSEE)) / 10,
		GoalVO2:       v.Of(goalVO2),
		GoalHR:        v.Of(goalHR),
		GoalWalkM:     v.Of(goalWalk),
		Weights:       activity.PolicyFrom(v),
	}
}

func (policy Policy) checkWeight(p *domain.Problems, weightKg float64) {
	activity.CheckWeight(p, weightKg, policy.Weights)
}
