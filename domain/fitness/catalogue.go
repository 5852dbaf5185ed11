package fitness

import (
	"fmt"
	"slices"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/source"
)

// TestID names a test: short, in our words, as stored and as `brae calc` takes it.
type TestID string

// The tests.
const (
	RockportWalk       TestID = "rockport_walk"
	RockportWalkLitres TestID = "rockport_walk_litres"
	Run15Mile          TestID = "run_1_5_mile"
	Run15MileCollege   TestID = "run_1_5_mile_college"
	Cooper12Min        TestID = "cooper_12_min"
	SixMinuteWalk      TestID = "six_minute_walk"
	SixMinuteWalkBMI   TestID = "six_minute_walk_bmi"
	Jog1Mile           TestID = "jog_1_mile"
	Jog1MileTeen       TestID = "jog_1_mile_teen"
	QueensStep         TestID = "queens_step"
	ThreeMinuteStep    TestID = "three_minute_step"
	StagedStep         TestID = "staged_step"
	SingleStageWalk    TestID = "single_stage_walk"
	TreadmillPeak      TestID = "treadmill_peak"
	CyclePeak          TestID = "cycle_peak"
	NonExercise        TestID = "non_exercise"
	NonExerciseFat     TestID = "non_exercise_fat"
	NonExercisePace    TestID = "non_exercise_pace"
	NonExerciseResting TestID = "non_exercise_resting_hr"
	ChairStand         TestID = "chair_stand_30_s"
	TwoMinuteStep      TestID = "step_2_min"
)

// Test is one test as a practitioner chooses it.
type Test struct {
	ID   TestID
	Name string

	Needs []string // keys of [Input] that it cannot do without
	May   []string // keys that it also uses

	Effort  intensity.Class // the hardest that it asks of the person
	Maximal bool            // an all-out effort
	UsesHR  bool            // worthless when something holds the heart rate down

	SEE             float64  // standard error for one person, ml per kg and minute; 0 if none was published
	AgeLow, AgeHigh int      // of the people it was worked out in; 0 if it is not known
	Norms           NormMode // what its estimate is compared with
	Protocol        []string // what to do, in order
	Cites           []source.Key
}

// test is a Test with how it is worked out.
type test struct {
	Test
	limit func(name string, in *Input, policy Policy) []limit
	work  func(in *Input, r *Result, policy Policy) error
}

// Tests returns the tests, those of one kind together.
func Tests() []Test {
	all := make([]Test, len(tests))
	for i, t := range tests {
		all[i] = t.Test.clone()
	}
	return all
}

// FindTest returns the test with that id, or [domain.ErrNotFound].
func FindTest(id TestID) (Test, error) {
	t := find(id)
	if t == nil {
		return Test{}, domain.ErrNotFound
	}
	return t.Test.clone(), nil
}

func (t Test) clone() Test {
	t.Needs, t.May = slices.Clone(t.Needs), slices.Clone(t.May)
	t.Protocol, t.Cites = slices.Clone(t.Protocol), slices.Clone(t.Cites)
	return t
}

func find(id TestID) *test {
	i := slices.IndexFunc(tests, func(t test) bool { return t.ID == id })
	if i < 0 {
		return nil
	}
	return &tests[i]
}

func (t *test) needs(name string) bool { return slices.Contains(t.Needs, name) }

func (t *test) uses(name string) bool { return t.needs(name) || slices.Contains(t.May, name) }

// highestHR is above every heart rate in bpm that a person has.
//
// Practice rule: practice.
const highestHR = 240

// limits returns the limits of the practice and of the test for a key.
func (t *test) limits(name string, in *Input, policy Policy) []limit {
	var all []limit
	switch name {
	case "age":
		all = append(all, limit{18, float64(policy.AgeHigh), fmt.Sprintf("Tests are for adults: an age goes from 18 to %d.", policy.AgeHigh)})
		if t.ID == Jog1MileTeen {
			all = nil
		}
	case "weight_kg":
		low, high := policy.Weights.WeightLowKg, policy.Weights.WeightHighKg
		all = append(all, limit{float64(low), float64(high), fmt.Sprintf("A weight goes from %d to %d kg.", low, high)})
	case "height_cm":
		low, high := policy.HeightLowCm, policy.HeightHighCm
		all = append(all, limit{float64(low), float64(high), fmt.Sprintf("A height goes from %d to %d cm.", low, high)})
	case "hr":
		low := policy.ExerciseHRLow
		if t.ID == ThreeMinuteStep {
			low = policy.CountHRLow
		}
		all = append(all, limit{float64(low), highestHR, tenSecondCount})
	}
	if t.limit != nil {
		all = append(all, t.limit(name, in, policy)...)
	}
	return all
}

// Allowed returns nil if somebody may do the test. The ceiling is the hardest
// class allowed today, the stage the class that the person's training has
// reached. A test harder than the ceiling returns [domain.ErrHeld]; an all-out
// test before moderate work is established returns a problem at test.
//
// Practice rule: practice.
func (t Test) Allowed(ceiling, stage intensity.Class) error {
	if t.Effort > ceiling {
		return fmt.Errorf("%s asks for %s effort, the ceiling is %s: %w", t.ID, t.Effort, ceiling, domain.ErrHeld)
	}
	if t.Maximal && stage < intensity.Moderate {
		return domain.Problems{"test": "An all-out test waits until the person trains at moderate intensity."}
	}
	return nil
}
