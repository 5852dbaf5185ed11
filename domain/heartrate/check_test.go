package heartrate_test

import (
	"errors"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/source"
)

func TestCheck(t *testing.T) {
	const (
		ok      = heartrate.OK
		confirm = heartrate.Confirm
		reject  = heartrate.Reject
	)
	type (
		resting = heartrate.RestingContext
		peak    = heartrate.PeakContext
		session = heartrate.SessionContext
	)
	age := func(n int) heartrate.Finding { return heartrate.CheckAge(n, policy) }
	rest := func(hr heartrate.BPM, c resting) heartrate.Finding { return heartrate.CheckResting(hr, c, policy) }
	top := func(hr heartrate.BPM, c peak) heartrate.Finding { return heartrate.CheckPeak(hr, c, policy) }
	log := func(hr heartrate.BPM, c session) heartrate.Finding { return heartrate.CheckSession(hr, c, policy) }
	for _, tt := range []struct {
		source  string
		got     heartrate.Finding
		verdict int8
		hold    bool
		says    string // part of the sentence; empty for none
	}{
		{"practice setting: age 17", age(17), int8(reject), false, "from 18 to 110"},
		{"practice setting: age 18", age(18), int8(ok), false, ""},
		{"practice setting: age 90", age(90), int8(ok), false, ""},
		{"practice setting: age 91", age(91), int8(confirm), false, "91 years"},
		{"practice setting: age 110", age(110), int8(confirm), false, "110 years"},
		{"practice setting: age 111", age(111), int8(reject), false, "from 18 to 110"},
		{"unit slip: year of birth", age(1961), int8(reject), false, "date of birth"},
		{"unit slip: the first year that could be one", age(1801), int8(reject), false, "date of birth"},
		{"unit slip: too early to be one", age(1800), int8(reject), false, "from 18 to 110"},
		{"unit slip: the last year that could be one", age(2199), int8(reject), false, "date of birth"},
		{"unit slip: too late to be one", age(2200), int8(reject), false, "from 18 to 110"},

		{"practice setting: resting 24", rest(24, resting{}), int8(reject), false, "from 25 to 150"},
		{"unit slip: resting counted for 15 seconds", rest(18, resting{}), int8(reject), false, "by 4"},
		{"unit slip: resting counted for 10 seconds", rest(12, resting{}), int8(reject), false, "by 6"},
		{"too low even for a short count", rest(11, resting{}), int8(reject), false, "150."},
		{"practice setting: resting 25", rest(25, resting{}), int8(confirm), false, "low"},
		{"practice setting: resting 39 with symptoms", rest(39, resting{Symptoms: true}), int8(confirm), true, "low"},
		{"practice setting: resting 39, new", rest(39, resting{New: true}), int8(confirm), true, "low"},
		{"practice setting: resting 39, used to it", rest(39, resting{}), int8(confirm), false, "low"},
		{"practice setting: resting 40", rest(40, resting{Symptoms: true, New: true}), int8(ok), false, ""},
		{"practice setting: resting 100", rest(100, resting{}), int8(ok), false, ""},
		{"practice setting: resting 101", rest(101, resting{}), int8(confirm), false, "high"},
		{"ACSM (from memory): resting 120 is no hold", rest(120, resting{}), int8(confirm), false, "high"},
		{"ACSM (from memory): resting 121 is a hold", rest(121, resting{}), int8(confirm), true, "high"},
		{"practice setting: resting 150", rest(150, resting{}), int8(confirm), true, "high"},
		{"practice setting: resting 151", rest(151, resting{}), int8(reject), true, "from 25 to 150"},

		{"practice setting: peak 59", top(59, peak{}), int8(reject), false, "from 60 to 230"},
		{"unit slip: peak counted for 15 seconds", top(40, peak{}), int8(reject), false, "by 4"},
		{"unit slip: the longest short count", top(45, peak{}), int8(reject), false, "by 4"},
		{"practice setting: peak 60", top(60, peak{}), int8(confirm), false, "unusual"},
		{"practice setting: peak 89", top(89, peak{}), int8(confirm), false, "unusual"},
		{"practice setting: peak 90", top(90, peak{}), int8(ok), false, ""},
		{"practice setting: peak 210", top(210, peak{}), int8(ok), false, ""},
		{"practice setting: peak 211", top(211, peak{}), int8(confirm), false, "unusual"},
		{"practice setting: peak 230", top(230, peak{}), int8(confirm), false, "unusual"},
		{"practice setting: peak 231", top(231, peak{}), int8(reject), false, "from 60 to 230"},
		{"practice setting: peak 19 above resting", top(119, peak{RestingHR: 100}), int8(reject), false, "at least 20"},
		{"practice setting: peak 20 above resting", top(120, peak{RestingHR: 100}), int8(ok), false, ""},
		{"practice setting: peak 25 below the prediction", top(140, peak{Predicted: 165_000}), int8(ok), false, ""},
		{"practice setting: peak 25.5 below", top(140, peak{Predicted: 165_500}), int8(confirm), false, "166"},
		{"practice setting: peak 25 above", top(190, peak{Predicted: 165_000}), int8(ok), false, ""},
		{"practice setting: peak 26 above", top(191, peak{Predicted: 165_000}), int8(confirm), false, "165"},
		{"Keteyian 2023: far below on a beta-blocker is expected", top(120, peak{Predicted: 165_000, Slowed: true}), int8(ok), false, ""},

		{"practice setting: session 29", log(29, session{}), int8(reject), false, "from 30 to 240"},
		{"practice setting: session 30", log(30, session{}), int8(ok), false, ""},
		{"practice setting: session 240", log(240, session{}), int8(ok), false, ""},
		{"practice setting: session 241", log(241, session{}), int8(reject), false, "from 30 to 240"},
		{"practice setting: session 10 above the maximum", log(175, session{Max: 165_000}), int8(ok), false, ""},
		{"practice setting: session 11 above the maximum", log(176, session{Max: 165_000}), int8(confirm), false, "above the maximal"},
		{"practice setting: session on the ceiling", log(120, session{Max: 165_000, Ceiling: 120}), int8(ok), false, ""},
		{"practice setting: session above the ceiling", log(121, session{Max: 165_000, Ceiling: 120}), int8(ok), true, "ceiling of 120"},
		{"practice setting: above the maximum, on the ceiling", log(176, session{Max: 165_000, Ceiling: 176}), int8(confirm), false, "above the maximal"},
		{"practice setting: above both", log(176, session{Max: 165_000, Ceiling: 120}), int8(confirm), true, "above the maximal"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if int8(tt.got.Verdict) != tt.verdict || tt.got.Hold != tt.hold {
				t.Errorf("%s, hold %t; want %d, %t", tt.got.Verdict, tt.got.Hold, tt.verdict, tt.hold)
			}
			if !strings.Contains(tt.got.Sentence, tt.says) || (tt.says == "") != (tt.got.Sentence == "") {
				t.Errorf("says %q; want %q in it", tt.got.Sentence, tt.says)
			}
		})
	}
}

// A number that cannot be a short count is not taken for one.
func TestNoShortCount(t *testing.T) {
	for _, hr := range []heartrate.BPM{11, 46} {
		if got := heartrate.CheckPeak(hr, heartrate.PeakContext{}, policy).Sentence; !strings.HasSuffix(got, "230.") {
			t.Errorf("a peak of %d: %q", hr, got)
		}
	}
}

// Every limit of an entry follows its setting.
func TestCheckFollowsTheSettings(t *testing.T) {
	p := heartrate.PolicyFrom(source.Values{
		"heartrate.age_confirm": 85, "heartrate.age_high": 100,
		"heartrate.rest_low": 30, "heartrate.rest_high": 140, "heartrate.rest_confirm_low": 45, "heartrate.rest_confirm_high": 95,
		"heartrate.rest_hold_low": 35, "heartrate.rest_hold_high": 110,
		"heartrate.peak_low": 70, "heartrate.peak_high": 220, "heartrate.peak_confirm_low": 95, "heartrate.peak_confirm_high": 200,
		"heartrate.peak_far": 20, "heartrate.session_low": 35, "heartrate.session_high": 230, "heartrate.session_above": 5,
		"heartrate.min_reserve": 30, "heartrate.warn_reserve": 50, "heartrate.reading_spread": 5,
	})
	want := heartrate.Policy{
		AgeConfirm: 85, AgeHigh: 100, RestLow: 30, RestHigh: 140, RestConfirmLow: 45, RestConfirmHigh: 95, RestHoldLow: 35, RestHoldHigh: 110,
		PeakLow: 70, PeakHigh: 220, PeakConfirmLow: 95, PeakConfirmHigh: 200, PeakFar: 20, SessionLow: 35, SessionHigh: 230, SessionAbove: 5,
		MinReserve: 30, WarnReserve: 50, ReadingSpread: 5,
		DefaultEquation: heartrate.Gellish2007, PeakMonths: 12, RehabPeakMonths: 3, VigorousTo: 80, UnknownBlocks: true, PregnancyHolds: true,
		IschaemiaMargin: 10, ICDMargin: 20, PacemakerMargin: 10, InterimReviewWeeks: 4, InterimEffort: 13, RestingWeeks: 12,
	}
	if p != want {
		t.Errorf("PolicyFrom = %+v\nwant %+v", p, want)
	}
	if z, err := heartrate.ZonesFor(heartrate.Person{Age: 60, RestingHR: 136}, p); err != nil || z.Bands[0].Why != heartrate.ByReserve {
		t.Errorf("reserve of 29 with a setting of 30: %+v, %v", z.Bands[0], err)
	}
}

func TestRestingMean(t *testing.T) {
	type bpm = heartrate.BPM
	for _, tt := range []struct {
		source   string
		readings []bpm
		want     heartrate.Resting
	}{
		{"Austin Community College, worksheet 4: three mornings, mean", []bpm{70, 72, 74}, heartrate.Resting{HR: 72, Spread: 4}},
		{"student worksheet: 66, 64 and 70 give 66.67", []bpm{66, 64, 70}, heartrate.Resting{HR: 67, Spread: 6}},
		{"practice rule: a half goes up", []bpm{70, 71}, heartrate.Resting{HR: 71, Spread: 1}},
		{"practice rule: below a half goes down", []bpm{70, 70, 71}, heartrate.Resting{HR: 70, Spread: 1}},
		{"practice rule: one reading", []bpm{64}, heartrate.Resting{HR: 64}},
		{"practice setting: 10 apart is fine", []bpm{60, 70}, heartrate.Resting{HR: 65, Spread: 10}},
		{"practice setting: 11 apart is repeated", []bpm{71, 60}, heartrate.Resting{HR: 66, Spread: 11, Repeat: true}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.RestingMean(tt.readings, policy)
			if err != nil || got != tt.want {
				t.Errorf("RestingMean(%v) = %+v, %v; want %+v", tt.readings, got, err, tt.want)
			}
		})
	}
	for _, bad := range [][]bpm{nil, {70, 24}, {151}} {
		_, err := heartrate.RestingMean(bad, policy)
		if p, _ := errors.AsType[domain.Problems](err); p["resting_hr"] == "" {
			t.Errorf("RestingMean(%v): %v; want a problem", bad, err)
		}
	}
}

func TestPosture(t *testing.T) {
	for _, tt := range []struct {
		source      string
		before, now heartrate.Posture
		says        string
	}{
		{"Keteyian 2019: seated both times", heartrate.Seated, heartrate.Seated, ""},
		{"clinic study: lying gives less", heartrate.Seated, heartrate.Supine, "taken seated, this one lying"},
		{"on waking, then standing", heartrate.Waking, heartrate.Standing, "taken on waking, this one standing"},
		{"not known before", "", heartrate.Standing, ""},
		{"not known now", heartrate.Seated, "", ""},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got := heartrate.PostureChanged(tt.before, tt.now)
			if !strings.Contains(got, tt.says) || (tt.says == "") != (got == "") {
				t.Errorf("PostureChanged(%s, %s) = %q", tt.before, tt.now, got)
			}
		})
	}
	for _, p := range []heartrate.Posture{heartrate.Seated, heartrate.Supine, heartrate.Standing, heartrate.Waking} {
		if !p.Valid() {
			t.Errorf("%s is not valid", p)
		}
	}
	if heartrate.Posture("prone").Valid() || heartrate.Posture("").Valid() {
		t.Error("an unknown posture is valid")
	}
}

// What a practice may choose from, and what holds until it does.
func TestSettingsRanges(t *testing.T) {
	want := map[string][3]int{ // default, lowest, highest
		"default_equation": {1, 1, 3}, "min_reserve": {20, 20, 60}, "warn_reserve": {40, 20, 80},
		"peak_months": {12, 1, 24}, "rehab_peak_months": {3, 1, 12}, "vigorous_to_percent": {80, 65, 90},
		"unknown_medicine_blocks": {1, 0, 1}, "pregnancy_holds_vigorous": {1, 0, 1},
		"ischaemia_margin": {10, 10, 30}, "icd_margin": {20, 10, 30}, "pacemaker_margin": {10, 10, 20},
		"interim_review_weeks": {4, 1, 12}, "interim_effort": {13, 13, 14}, "reading_spread": {10, 5, 20}, "resting_weeks": {12, 8, 26},
		"age_confirm": {90, 80, 110}, "age_high": {110, 100, 110},
		"rest_low": {25, 20, 40}, "rest_high": {150, 120, 180}, "rest_confirm_low": {40, 30, 60}, "rest_confirm_high": {100, 80, 120},
		"rest_hold_low": {40, 30, 50}, "rest_hold_high": {120, 100, 130},
		"peak_low": {60, 50, 90}, "peak_high": {230, 210, 250}, "peak_confirm_low": {90, 60, 120}, "peak_confirm_high": {210, 190, 230},
		"peak_far": {25, 15, 40}, "session_low": {30, 25, 50}, "session_high": {240, 220, 250}, "session_above": {10, 0, 20},
	}
	for _, s := range heartrate.Settings {
		if got := [3]int{s.Default, s.Low, s.High}; got != want[strings.TrimPrefix(s.Key, "heartrate.")] {
			t.Errorf("%s: %v; want %v", s.Key, got, want[strings.TrimPrefix(s.Key, "heartrate.")])
		}
	}
	if len(heartrate.Settings) != len(want) {
		t.Errorf("%d settings; want %d", len(heartrate.Settings), len(want))
	}
}
