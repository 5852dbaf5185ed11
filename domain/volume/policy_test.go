package volume_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"brae/domain/source"
	"brae/domain/volume"
)

// The defaults are what practices were told; none changes unseen.
func TestPolicy(t *testing.T) {
	want := volume.Policy{
		Target:      150,                                         // PAGA 2018, WHO 2020
		SessionMost: 720, SessionConfirm: 240, WeekConfirm: 1500, // practice settings from here on
		SpikePercent: 150, SpikeFloor: 60,
		FillUsual: 30, FillMost: 60, FillRound: 5,
	}
	if policy != want {
		t.Errorf("PolicyFrom(nil) = %+v; want %+v", policy, want)
	}
	if d := policy.WeekStart(); d != time.Monday { // ISO 8601
		t.Errorf("weeks start on %v; want Monday", d)
	}
	sunday := volume.PolicyFrom(source.Values{"volume.sunday_start": 1})
	if d := sunday.WeekStart(); d != time.Sunday {
		t.Errorf("weeks start on %v; want Sunday", d)
	}
	if got := volume.DefaultTarget(volume.PolicyFrom(source.Values{"volume.target": 90})); got != (volume.Target{Minutes: 90}) {
		t.Errorf("default target = %+v; want 90 minutes", got)
	}
}

// Each setting changes one field of the policy, and each field has its setting.
func TestSettings(t *testing.T) {
	seen := map[string]string{}
	for _, s := range volume.Settings {
		if !strings.HasPrefix(s.Key, "volume.") || s.Says == "" || s.Unit == "" || s.Topic != source.TopicVolume {
			t.Errorf("setting %+v is not told in full", s)
		}
		if s.Low > s.Default || s.Default > s.High || s.Low == s.High {
			t.Errorf("%s: default %d is not within %d to %d", s.Key, s.Default, s.Low, s.High)
		}
		cited(t, s.Key, s.Cites)
		changed := s.Default + 1
		if changed > s.High {
			changed = s.Default - 1
		}
		var fields []string
		a, b := reflect.ValueOf(policy), reflect.ValueOf(volume.PolicyFrom(source.Values{s.Key: changed}))
		for i := range a.NumField() {
			if !a.Field(i).Equal(b.Field(i)) {
				fields = append(fields, a.Type().Field(i).Name)
			}
		}
		if len(fields) != 1 || seen[fields[0]] != "" {
			t.Errorf("%s changes %v; want one field of its own", s.Key, fields)
			continue
		}
		seen[fields[0]] = s.Key
	}
	if n := reflect.TypeFor[volume.Policy]().NumField(); len(seen) != n {
		t.Errorf("settings for %d fields of %d", len(seen), n)
	}
}

func TestRules(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range volume.Rules {
		if !strings.HasPrefix(r.ID, "volume.") || seen[r.ID] || r.Says == "" || r.Topic != source.TopicVolume {
			t.Errorf("rule %+v is not told in full, or twice", r)
		}
		seen[r.ID] = true
		cited(t, r.ID, r.Cites)
	}
}

func cited(t *testing.T, what string, keys []source.Key) {
	t.Helper()
	if len(keys) == 0 {
		t.Errorf("%s cites nothing", what)
	}
	for _, k := range keys {
		if _, ok := source.Find(k); !ok {
			t.Errorf("%s cites %q, which is no citation", what, k)
		}
	}
}
