package volume_test

import (
	"reflect"
	"strings"
	"testing"

	"brae/domain/source"
	"brae/domain/volume"
)

// The defaults are what practices were told; none changes unseen.
func TestPolicy(t *testing.T) {
	want := volume.Policy{
		Target:      150,                                         // PAGA 2018, WHO 2020
		SessionMost: 720, SessionConfirm: 240, WeekConfirm: 1500, // practice settings from here on
		SpikePercent: 150, SpikeWeeks: 4, SpikeFloor: 60, LogDays: 28, ClockMinutes: 10, SilentDays: 7,
		FillUsual: 30, FillMost: 60, FillRound: 5,
	}
	if policy != want {
		t.Errorf("PolicyFrom(nil) = %+v; want %+v", policy, want)
	}
	if got := volume.DefaultTarget(volume.PolicyFrom(source.Values{"volume.target": 90})); got != (volume.Target{Minutes: 90}) {
		t.Errorf("default target = %+v; want 90 minutes", got)
	}
}

// The ranges are what the lead chooses from.
func TestRanges(t *testing.T) {
	want := map[string][3]int{ // practice settings: default, lowest, highest
		"volume.target":          {150, 30, 600},
		"volume.log_days":        {28, 1, 90},
		"volume.clock_minutes":   {10, 1, 60},
		"volume.silent_days":     {7, 3, 60},
		"volume.session_most":    {720, 240, 1440},
		"volume.session_confirm": {240, 60, 720},
		"volume.week_confirm":    {1500, 300, 10080},
		"volume.spike_percent":   {150, 110, 300},
		"volume.spike_weeks":     {4, 2, 12},
		"volume.spike_floor":     {60, 0, 150},
		"volume.fill_usual":      {30, 10, 60},
		"volume.fill_most":       {60, 20, 120},
		"volume.fill_round":      {5, 1, 10},
	}
	for _, s := range volume.Settings {
		if got := [3]int{s.Default, s.Low, s.High}; got != want[s.Key] {
			t.Errorf("%s: %v; want %v", s.Key, got, want[s.Key])
		}
		delete(want, s.Key)
	}
	if len(want) > 0 {
		t.Errorf("settings are missing: %v", want)
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
