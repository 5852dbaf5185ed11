package plan_test

import (
	"reflect"
	"strings"
	"testing"

	"brae/domain/plan"
	"brae/domain/source"
)

// The defaults and ranges are what practices were told; none changes unseen.
func TestSettings(t *testing.T) {
	want := map[string][3]int{ // practice settings: default, lowest, highest
		"plan.sessions_most": {14, 7, 21}, "plan.minutes_most": {240, 60, 720}, "plan.weeks_most": {52, 12, 104}, "plan.goal_most": {1500, 300, 3000},
		"plan.step_days":  {7, 7, 28},
		"plan.step_weeks": {2, 1, 4}, // ACSM guidelines, from memory: every one to two weeks
		"plan.time_step":  {5, 1, 10}, "plan.time_first": {30, 15, 45}, "plan.frequency": {5, 3, 7}, "plan.time_most": {60, 45, 90},
		"plan.steep_time": {10, 5, 30}, "plan.running_jump": {30, 10, 100}, "plan.vigorous_step": {4, 1, 20}, "plan.vigorous_most": {50, 10, 150},
		"plan.light_weeks": {4, 2, 12}, "plan.light_weeks_least": {2, 1, 12}, "plan.moderate_weeks_least": {8, 4, 26}, "plan.vigorous_from": {13, 13, 26},
		"plan.phase_sessions": {3, 2, 5}, "plan.phase_weeks": {2, 1, 4}, "plan.comfortable": {80, 50, 100}, "plan.quiet_days": {14, 7, 60},
		"plan.target_weeks": {4, 2, 12}, "plan.phase_target": {150, 60, 300},
		"plan.vigorous_share": {20, 5, 50}, "plan.vigorous_share_weeks": {4, 2, 12}, "plan.vigorous_share_later": {50, 20, 100}, "plan.sign_off_days": {30, 7, 90},
		"plan.window_days": {14, 7, 28}, "plan.adherence": {80, 50, 100}, "plan.ready_of": {4, 2, 10}, "plan.ready_sessions": {3, 2, 10},
		"plan.ready_effort": {11, 8, 13}, "plan.ready_effort_vigorous": {13, 11, 15}, "plan.ready_band": {25, 0, 100},
		"plan.too_hard_of": {3, 2, 10}, "plan.too_hard_sessions": {2, 1, 10}, "plan.too_hard_effort": {15, 14, 17}, "plan.too_hard_effort_vigorous": {18, 16, 20},
		"plan.drift_of": {5, 3, 10}, "plan.drift_sessions": {4, 2, 10},
		"plan.steady_weeks": {4, 2, 12}, "plan.no_gain_weeks": {8, 4, 26}, "plan.reserve_step": {5, 1, 10},
		"plan.break_resume": {7, 3, 10}, "plan.break_one": {14, 8, 21}, "plan.break_two": {28, 15, 42},
		"plan.cut_one": {25, 10, 50}, "plan.cut_two": {50, 25, 75}, "plan.back_weeks_one": {1, 1, 6}, "plan.back_weeks": {2, 1, 6},
	}
	seen := map[string]bool{}
	for _, s := range plan.Settings {
		if got := [3]int{s.Default, s.Low, s.High}; got != want[s.Key] {
			t.Errorf("%s: %v; want %v", s.Key, got, want[s.Key])
		}
		delete(want, s.Key)
		if s.Low > s.Default || s.Default > s.High || s.Says == "" || s.Unit == "" || s.Topic != source.TopicPlan {
			t.Errorf("setting %+v is not told in full, or its default is out of its range", s)
		}
		cited(t, s.Key, s.Cites)

		// It changes one field of the policy, and no other setting does.
		var fields []string
		a, b := reflect.ValueOf(policy), reflect.ValueOf(plan.PolicyFrom(source.Values{s.Key: s.Default + 1}))
		for i := range a.NumField() {
			if !a.Field(i).Equal(b.Field(i)) {
				fields = append(fields, a.Type().Field(i).Name)
			}
		}
		if len(fields) != 1 || seen[fields[0]] {
			t.Errorf("%s changes %v; want one field of its own", s.Key, fields)
			continue
		}
		seen[fields[0]] = true
	}
	if len(want) > 0 {
		t.Errorf("settings are missing: %v", want)
	}
	if n := reflect.TypeFor[plan.Policy]().NumField(); len(seen) != n {
		t.Errorf("settings for %d fields of %d", len(seen), n)
	}
}

func TestRules(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range plan.Rules {
		if !strings.HasPrefix(r.ID, "plan.") || seen[r.ID] || r.Says == "" || r.Topic != source.TopicPlan {
			t.Errorf("rule %+v is not told in full, or twice", r)
		}
		seen[r.ID] = true
		cited(t, r.ID, r.Cites)
	}
	for _, ps := range plan.Presets() {
		if !seen["plan.preset."+ps.ID] {
			t.Errorf("no rule tells of %s", ps.ID)
		}
	}
}
