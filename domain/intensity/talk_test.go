package intensity_test

import (
	"slices"
	"strings"
	"testing"

	"brae/domain/intensity"
	"brae/domain/source"
)

func TestTalk(t *testing.T) {
	for _, tt := range []struct {
		source string
		code   string
		class  intensity.Class
		stage  string
		says   string // a word of the example
	}{
		{"CDC 2009: singing is light", "sing", light, "positive", "sing"},
		{"CDC, talk test: talk but not sing is moderate", "sentences", moderate, "last positive", "whole sentences"},
		{"Persinger 2004: equivocal; practice rule: taken as vigorous", "short", vigorous, "equivocal", "middle of a sentence"},
		{"CDC, talk test: a few words without a breath is vigorous", "few_words", vigorous, "negative", "few words"},
		{"Garber 2011: cannot speak", "none", nearMax, "negative", "no breath"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := intensity.ParseTalk(tt.code)
			if err != nil || !got.Valid() || got.Class() != tt.class || got.Stage() != tt.stage || !strings.Contains(got.Example(), tt.says) {
				t.Errorf("%s: %s, %s, %q, %v", tt.code, got.Class(), got.Stage(), got.Example(), err)
			}
			if !slices.Contains(intensity.Talks(), got) {
				t.Errorf("%s is not among the levels", got)
			}
			for _, c := range intensity.Classes() {
				want := c == tt.class || tt.code == "sing" && c == veryLight
				if got.Allows(c) != want {
					t.Errorf("%s allows %s = %t", got, c, !want)
				}
			}
		})
	}
	if len(intensity.Talks()) != 5 {
		t.Errorf("levels %v", intensity.Talks())
	}
	for _, bad := range []string{"", "Sing", "whistle"} {
		if got, err := intensity.ParseTalk(bad); err == nil {
			t.Errorf("ParseTalk(%q) = %s; want an error", bad, got)
		}
	}
	if unasked := intensity.Talk(""); unasked.Class() != none || unasked.Valid() || unasked.Allows(none) || unasked.Allows(veryLight) {
		t.Error("a talk test that was not asked has a class")
	}
}

// The cue of a class says the same as the levels that belong to it.
func TestCue(t *testing.T) {
	for c, word := range map[intensity.Class]string{
		veryLight: "sing", light: "sing", moderate: "whole sentences", vigorous: "few words", nearMax: "no breath",
	} {
		if got := intensity.Cue(c); !strings.Contains(got, word) {
			t.Errorf("Cue(%s) = %q; want %q in it", c, got, word)
		}
	}
	if got := intensity.Cue(none) + intensity.Cue(nearMax+1); got != "" {
		t.Errorf("a cue for no class: %q", got)
	}
}

// What clients read has short sentences and short words.
func TestClientTextsArePlain(t *testing.T) {
	var texts []string
	for _, talk := range intensity.Talks() {
		texts = append(texts, talk.Example())
	}
	for _, c := range intensity.Classes() {
		texts = append(texts, intensity.Cue(c))
	}
	for _, text := range texts {
		words := strings.Fields(text)
		long := 0
		for _, w := range words {
			if len(strings.Trim(w, ".,")) > 9 {
				long++
			}
		}
		if len(words) > 16 || long > 0 {
			t.Errorf("%q: %d words, %d long ones", text, len(words), long)
		}
	}
}

func TestSchemes(t *testing.T) {
	schemes := intensity.Schemes()
	for _, s := range schemes {
		if s.Scheme == "" || s.Name == "" || s.Measure == "" || len(s.Ranges) == 0 || len(s.Cites) == 0 {
			t.Errorf("scheme %q is incomplete", s.Name)
		}
		for _, k := range s.Cites {
			if _, ok := source.Find(k); !ok {
				t.Errorf("%s cites %s, which does not exist", s.Name, k)
			}
		}
		for i, r := range s.Ranges {
			if r.From >= r.To || i > 0 && (r.Class <= s.Ranges[i-1].Class || r.From < s.Ranges[i-1].To) {
				t.Errorf("%s: %+v after %+v", s.Name, r, s.Ranges[max(0, i-1)])
			}
		}
	}
	find := func(id intensity.Scheme, measure string) []intensity.SchemeRange {
		for _, s := range schemes {
			if s.Scheme == id && s.Measure == measure {
				return s.Ranges
			}
		}
		t.Errorf("no scheme %s by %s", id, measure)
		return nil
	}
	type r = intensity.SchemeRange
	for _, tt := range []struct {
		source, measure string
		scheme          intensity.Scheme
		want            []r
	}{
		{"Garber 2011 table 5", "heart_rate_reserve", intensity.ACSM2011,
			[]r{{veryLight, 0, 30, false}, {light, 30, 40, false}, {moderate, 40, 60, false}, {vigorous, 60, 90, false}, {nearMax, 90, 100, true}}},
		{"Garber 2011 table 5", "maximal_heart_rate", intensity.ACSM2011,
			[]r{{veryLight, 0, 57, false}, {light, 57, 64, false}, {moderate, 64, 77, false}, {vigorous, 77, 96, false}, {nearMax, 96, 100, true}}},
		{"CDC, present text", "maximal_heart_rate", "cdc_present", []r{{moderate, 64, 76, true}, {vigorous, 77, 93, true}}},
		{"CDC, older text", "maximal_heart_rate", "cdc_older", []r{{moderate, 50, 70, false}, {vigorous, 70, 85, true}}},
		{"AHA table", "maximal_heart_rate", "aha", []r{{moderate, 50, 70, false}, {vigorous, 70, 85, true}}},
		{"PMC8581515 table 1, Norton 2010", "heart_rate_reserve", intensity.ESSA2010,
			[]r{{light, 20, 40, false}, {moderate, 40, 60, false}, {vigorous, 60, 85, false}, {nearMax, 85, 100, true}}},
		{"PMC8581515 table 1, Norton 2010", "maximal_heart_rate", intensity.ESSA2010,
			[]r{{light, 40, 55, false}, {moderate, 55, 70, false}, {vigorous, 70, 90, false}, {nearMax, 90, 100, true}}},
		{"PMC8581515 table 1, Norton 2010", "effort_cr10", intensity.ESSA2010,
			[]r{{light, 1, 3, false}, {moderate, 3, 5, false}, {vigorous, 5, 7, false}, {nearMax, 7, 10, true}}},
		{"PMC7020870 table t26", "maximal_heart_rate", "esc2016", []r{{light, 50, 63, true}, {moderate, 64, 76, true}, {vigorous, 77, 93, true}}},
		{"European cardiology 2020 (from memory)", "heart_rate_reserve", "esc2020",
			[]r{{light, 0, 40, false}, {moderate, 40, 69, true}, {vigorous, 70, 85, true}, {nearMax, 86, 100, true}}},
		{"PMC8306118 table 3", "heart_rate_reserve", "german_rehab", []r{{moderate, 40, 60, false}, {vigorous, 60, 70, true}}},
		{"common practice: 30-40, 40-60, 60-80", "heart_rate_reserve", "bedside",
			[]r{{light, 30, 40, false}, {moderate, 40, 60, false}, {vigorous, 60, 80, true}}},
	} {
		t.Run(tt.source+"/"+string(tt.scheme), func(t *testing.T) {
			if got := find(tt.scheme, tt.measure); !slices.Equal(got, tt.want) {
				t.Errorf("%s by %s: %+v; want %+v", tt.scheme, tt.measure, got, tt.want)
			}
		})
	}
}

func TestRulesHaveSources(t *testing.T) {
	seen := map[string]bool{}
	cites := func(id string, keys []source.Key) {
		if seen[id] || len(keys) == 0 {
			t.Errorf("%s is twice there or has no source", id)
		}
		seen[id] = true
		for _, k := range keys {
			if _, ok := source.Find(k); !ok {
				t.Errorf("%s cites %s, which does not exist", id, k)
			}
		}
	}
	for _, r := range intensity.Rules {
		cites(r.ID, r.Cites)
		if r.Says == "" || r.Topic != source.TopicIntensity {
			t.Errorf("rule %s is incomplete", r.ID)
		}
	}
	for _, s := range intensity.Settings {
		cites(s.Key, s.Cites)
		if s.Says == "" || s.Unit == "" || s.Default < s.Low || s.Default > s.High || s.Low >= s.High {
			t.Errorf("setting %s: %+v", s.Key, s)
		}
	}
}

// What a practice may choose from, and what holds until it does.
func TestSettingsRanges(t *testing.T) {
	want := map[string][3]int{ // default, lowest, highest
		"intensity.measured_first": {1, 0, 1}, "intensity.effort_far": {2, 1, 3}, "intensity.repeat_count": {2, 2, 5},
		"intensity.repeat_of": {3, 2, 10}, "intensity.talk_minutes": {5, 2, 15},
		"intensity.met_low": {90, 50, 100}, "intensity.met_high": {2500, 1500, 3000}, "intensity.met_confirm": {1400, 800, 2500},
	}
	for _, s := range intensity.Settings {
		if got := [3]int{s.Default, s.Low, s.High}; got != want[s.Key] {
			t.Errorf("%s: %v; want %v", s.Key, got, want[s.Key])
		}
	}
	if len(intensity.Settings) != len(want) {
		t.Errorf("%d settings; want %d", len(intensity.Settings), len(want))
	}
}
