package heartrate_test

import (
	"testing"

	"brae/domain/heartrate"
	"brae/domain/source"
)

func TestRulesHaveSources(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range heartrate.Rules {
		if seen[r.ID] || r.ID == "" || r.Says == "" || r.Topic != source.TopicHeartRate || len(r.Cites) == 0 {
			t.Errorf("rule %q is twice there or incomplete", r.ID)
		}
		seen[r.ID] = true
		for _, k := range r.Cites {
			if _, ok := source.Find(k); !ok {
				t.Errorf("rule %s cites %s, which does not exist", r.ID, k)
			}
		}
	}
	if !seen["heartrate.basis.13"] || !seen["heartrate.equation.gellish2007"] || len(heartrate.Rules) != 12+13+12 {
		t.Errorf("%d rules", len(heartrate.Rules))
	}
	keys := map[string]bool{}
	for _, s := range heartrate.Settings {
		if keys[s.Key] || s.Says == "" || s.Unit == "" || s.Default < s.Low || s.Default > s.High || s.Low >= s.High || len(s.Cites) == 0 {
			t.Errorf("setting %s is twice there or incomplete: %+v", s.Key, s)
		}
		keys[s.Key] = true
		for _, k := range s.Cites {
			if _, ok := source.Find(k); !ok {
				t.Errorf("setting %s cites %s, which does not exist", s.Key, k)
			}
		}
	}
	for _, r := range heartrate.BasisTable() {
		for _, k := range r.Cites {
			if _, ok := source.Find(k); !ok {
				t.Errorf("row %d cites %s, which does not exist", r.Number, k)
			}
		}
	}
}
