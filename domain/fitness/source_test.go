package fitness_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"brae/domain/fitness"
	"brae/domain/intensity"
	"brae/domain/source"
)

func TestRulesHaveSources(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range fitness.Rules {
		if seen[r.ID] || !strings.HasPrefix(r.ID, "fitness.") || r.Says == "" || len(r.Cites) == 0 || r.Topic != source.TopicFitness {
			t.Errorf("rule %+v is not complete, or its name is taken", r)
		}
		seen[r.ID] = true
		found(t, r.ID, r.Cites)
	}
	for _, s := range fitness.Settings {
		if seen[s.Key] || !strings.HasPrefix(s.Key, "fitness.") || s.Says == "" || s.Unit == "" || s.Low >= s.High || s.Default < s.Low || s.Default > s.High {
			t.Errorf("setting %+v is not complete, or its name is taken", s)
		}
		seen[s.Key] = true
		found(t, s.Key, s.Cites)
	}
}

func found(t *testing.T, what string, keys []source.Key) {
	t.Helper()
	if len(keys) == 0 {
		t.Errorf("%s has no source", what)
	}
	for _, k := range keys {
		if _, ok := source.Find(k); !ok {
			t.Errorf("%s: no citation %s", what, k)
		}
	}
}

// Every setting reaches the policy: one that does not is a switch without a wire.
func TestSettingsReachThePolicy(t *testing.T) {
	for _, s := range fitness.Settings {
		other := s.Low
		if other == s.Default {
			other = s.High
		}
		if fitness.PolicyFrom(source.Values{s.Key: other}) == defaults {
			t.Errorf("%s = %d changes nothing", s.Key, other)
		}
	}
}

// The default of each setting and the range that a practice may choose from.
func TestSettingsAreAsSigned(t *testing.T) {
	want := map[string][3]int{
		"age_high": {110, 95, 120}, "height_low": {90, 60, 120}, "height_high": {250, 220, 280},
		"bmi_low": {8, 6, 12}, "bmi_high": {120, 80, 200}, "exercise_hr_low": {60, 50, 70},
		"count_hr_low": {46, 40, 50}, "stage_hr_floor": {110, 0, 120}, "model_vo2_low": {140, 70, 200},
		"model_bmi_high": {35, 30, 45}, "model_age_high": {70, 60, 80}, "energy_hr_low": {90, 70, 110},
		"vo2_probable": {35, 20, 60}, "vo2_clear": {70, 50, 100}, "resting_hr_real": {5, 3, 10},
		"same_work_real": {8, 5, 12}, "retest_weeks": {4, 2, 12}, "goal_vo2": {10, 5, 20},
		"retest_due": {12, 4, 52}, "workload_see": {50, 30, 60}, "test_back": {3, 1, 10},
		"goal_hr": {8, 5, 15}, "goal_walk": {30, 20, 60}, "all_out": {1, 0, 1},
	}
	if len(fitness.Settings) != len(want) {
		t.Errorf("%d settings; want %d", len(fitness.Settings), len(want))
	}
	for _, s := range fitness.Settings {
		if got := [3]int{s.Default, s.Low, s.High}; got != want[strings.TrimPrefix(s.Key, "fitness.")] {
			t.Errorf("%s = %v", s.Key, got)
		}
	}
}

// What is said of each test beside its equation: the error and the ages of the
// people it was worked out in, as the publications have them; its effort is a
// practice rule.
func TestCatalogueFacts(t *testing.T) {
	type facts struct {
		see       float64
		low, high int
		effort    intensity.Class
		norms     fitness.NormMode
	}
	none, moderate, vigorous, all := intensity.None, intensity.Moderate, intensity.Vigorous, intensity.NearMaximal
	tm, cy := fitness.Treadmill, fitness.Cycle
	want := map[fitness.TestID]facts{
		fitness.RockportWalk:       {5.0, 30, 69, vigorous, tm},
		fitness.RockportWalkLitres: {0, 30, 69, vigorous, tm},
		fitness.SingleStageWalk:    {4.85, 20, 59, moderate, tm},
		fitness.TreadmillPeak:      {0, 0, 0, all, tm},
		fitness.CyclePeak:          {0, 0, 0, all, cy},
		fitness.SixMinuteWalk:      {3.82, 40, 80, moderate, tm},
		fitness.SixMinuteWalkBMI:   {3.82, 0, 0, moderate, tm},
		fitness.Run15Mile:          {0, 0, 0, all, tm},
		fitness.Run15MileCollege:   {3.9, 18, 29, all, tm},
		fitness.Cooper12Min:        {0, 0, 0, all, tm},
		fitness.Jog1Mile:           {3.1, 18, 29, vigorous, tm},
		fitness.Jog1MileTeen:       {3.26, 13, 17, vigorous, tm},
		fitness.QueensStep:         {0, 0, 0, vigorous, tm},
		fitness.ThreeMinuteStep:    {0, 0, 0, vigorous, ""},
		fitness.StagedStep:         {3.9, 18, 52, vigorous, tm},
		fitness.ChairStand:         {0, 0, 0, moderate, ""},
		fitness.TwoMinuteStep:      {0, 0, 0, moderate, ""},
		fitness.NonExercise:        {5.70, 0, 0, none, tm},
		fitness.NonExerciseFat:     {5.35, 0, 0, none, tm},
		fitness.NonExercisePace:    {3.45, 18, 65, none, tm},
		fitness.NonExerciseResting: {1.45 * 3.5, 20, 70, none, tm},
	}
	for _, test := range fitness.Tests() {
		if got := (facts{test.SEE, test.AgeLow, test.AgeHigh, test.Effort, test.Norms}); got != want[test.ID] {
			t.Errorf("%s: %v; want %v", test.ID, got, want[test.ID])
		}
		if test.Maximal != (test.Effort == all) {
			t.Errorf("%s: maximal %v with %s effort", test.ID, test.Maximal, test.Effort)
		}
	}
}

func TestCatalogue(t *testing.T) {
	keys := map[string]bool{}
	for f := range reflect.TypeFor[fitness.Input]().Fields() {
		keys[f.Tag.Get("json")] = true
	}
	seen := map[fitness.TestID]bool{}
	tests := fitness.Tests()
	if len(tests) != 21 {
		t.Errorf("%d tests; want 21", len(tests))
	}
	for _, test := range tests {
		if seen[test.ID] || test.Name == "" || len(test.Needs) == 0 || len(test.Protocol) == 0 {
			t.Errorf("test %+v is not complete, or its name is taken", test)
		}
		seen[test.ID] = true
		found(t, string(test.ID), test.Cites)
		for _, k := range slices.Concat(test.Needs, test.May) {
			if !keys[k] {
				t.Errorf("%s asks for %s, which no input has", test.ID, k)
			}
		}
		for _, line := range test.Protocol {
			if !strings.HasSuffix(line, ".") {
				t.Errorf("%s: %q is not a sentence", test.ID, line)
			}
		}
		if one, err := fitness.FindTest(test.ID); err != nil || !reflect.DeepEqual(one, test) {
			t.Errorf("FindTest(%s) = %+v, %v; want the one in the list", test.ID, one, err)
		}
		if r, err := fitness.Evaluate(samples()[test.ID], defaults); err != nil {
			t.Errorf("%s: %v", test.ID, err)
		} else if test.Maximal != r.Has(fitness.FlagMaximal) {
			t.Errorf("%s: flags %v; want maximal %v", test.ID, r.Flags, test.Maximal)
		}
		// Each reading that a test needs is missed when it is not there.
		for _, k := range test.Needs {
			in := samples()[test.ID]
			v := reflect.ValueOf(&in).Elem()
			for i := range v.NumField() {
				if v.Type().Field(i).Tag.Get("json") == k {
					v.Field(i).SetZero()
				}
			}
			_, err := fitness.Evaluate(in, defaults)
			refuses(t, err, k)
		}
	}
}

// A caller cannot change the catalogue through what it was given.
func TestCatalogueIsACopy(t *testing.T) {
	first := fitness.Tests()[0]
	first.Needs[0], first.Protocol[0], first.Cites[0] = "x", "x", "x"
	again := fitness.Tests()[0]
	if again.Needs[0] == "x" || again.Protocol[0] == "x" || again.Cites[0] == "x" {
		t.Error("a change of one copy shows in the next")
	}
}

func TestFlagsSayWhatTheyMean(t *testing.T) {
	flags := fitness.Flags()
	if len(flags) != 19 || !slices.IsSorted(flags) {
		t.Errorf("flags = %v; want 19 in order", flags)
	}
	for _, f := range flags {
		if !strings.HasSuffix(f.Says(), ".") {
			t.Errorf("%s says %q; want a sentence", f, f.Says())
		}
	}
	for _, answers := range [][]fitness.Answer{fitness.ActivityRatings(), fitness.ActivityLevels()} {
		for i, a := range answers {
			if a.Number != answers[0].Number+i || !strings.HasSuffix(a.Says, ".") {
				t.Errorf("answer %+v is out of order or no sentence", a)
			}
		}
	}
	if r, l := fitness.ActivityRatings(), fitness.ActivityLevels(); len(r) != 8 || r[0].Number != 0 || len(l) != 5 || l[0].Number != 1 {
		t.Errorf("%d ratings and %d levels; want 8 from 0 and 5 from 1", len(r), len(l))
	}
}
