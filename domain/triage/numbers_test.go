package triage_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/source"
	"brae/domain/triage"
)

func TestNumbers(t *testing.T) {
	const (
		jabfm       = "ACC/AHA contraindications, JABFM table 7: above 200/110"
		heartonline = "Heart Online, table 1: above 180/110, above 120 bpm"
		stopList    = "ACSM list of reasons to stop (copy): heart rate does not rise"
	)
	type N = triage.Numbers
	rise := func(r ...triage.Rise) []triage.Rise { return r }
	fourWeeks := []int{66, 54, 60, 56, 64, 58, 62} // median 60
	for _, tt := range []struct {
		source  string
		numbers N
		reports R
		known   K
		vitals  []string
		earlier []triage.Earlier
		level   string
		hold    string
		rules   string
	}{
		// NUM1
		{practice + ": 60 s above the ceiling", N{CeilingHR: 130, PeakHR: 135, SecondsAbove: 60}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": 61 s above the ceiling", N{CeilingHR: 130, PeakHR: 135, SecondsAbove: 61}, nil, nil, nil, nil, "note", "none", "NUM1"},
		{practice + ": 10 bpm over", N{CeilingHR: 130, PeakHR: 140}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": 11 bpm over", N{CeilingHR: 130, PeakHR: 141}, nil, nil, nil, nil, "note", "none", "NUM1"},
		{practice + ": with a heart disease", N{CeilingHR: 130, PeakHR: 141}, nil, K{"cardiac"}, nil, nil, "ease", "vigorous", "NUM1"},
		{practice + ": heart failure is one", N{CeilingHR: 130, PeakHR: 141}, nil, K{"heart_failure"}, nil, nil, "ease", "vigorous", "NUM1"},
		{practice + ": angina is one", N{CeilingHR: 130, PeakHR: 141}, nil, K{"stable_angina"}, nil, nil, "ease", "vigorous", "NUM1"},
		{practice + ": no ceiling", N{PeakHR: 200, SecondsAbove: 600}, nil, nil, nil, nil, "fine", "none", ""},

		// NUM2
		{practice + ": at the measured maximum", N{PeakHR: 180, MeasuredMax: 180}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": above it, not confirmed", N{PeakHR: 181, MeasuredMax: 180}, nil, nil, nil, nil, "fine", "none", "NUM2"},
		{practice + ": above it, confirmed", N{PeakHR: 181, MeasuredMax: 180, PeakConfirmed: true}, nil, nil, nil, nil, "ease", "vigorous", "NUM2"},
		{practice + ": 110 per cent of the predicted", N{PeakHR: 187, PredictedMax: 170, PeakConfirmed: true}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": more than 110 per cent", N{PeakHR: 188, PredictedMax: 170, PeakConfirmed: true}, nil, nil, nil, nil, "ease", "vigorous", "NUM2"},
		{practice + ": the measured goes first", N{PeakHR: 175, MeasuredMax: 180, PredictedMax: 150, PeakConfirmed: true}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": heart rate unusable", N{PeakHR: 190, MeasuredMax: 180, PeakConfirmed: true}, nil, K{"heart_rate_unusable"}, nil, nil, "fine", "none", ""},
		{practice + ": a rate-slowing medicine is no excuse", N{PeakHR: 190, MeasuredMax: 180, PeakConfirmed: true}, nil, K{"rate_slowing_medicine"}, nil, nil, "ease", "vigorous", "NUM2"},

		// NUM3
		{practice + ": exertion 16", N{Prescribed: intensity.Moderate, Effort: 16}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": exertion 17", N{Prescribed: intensity.Moderate, Effort: 17}, nil, nil, nil, nil, "note", "none", "NUM3"},
		{practice + ": no breath to speak", N{Prescribed: intensity.Moderate, CouldNotSpeak: true}, nil, nil, nil, nil, "note", "none", "NUM3"},
		{practice + ": vigorous was prescribed", N{Prescribed: intensity.Vigorous, Effort: 17}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": twice in 7 days", N{Prescribed: intensity.Moderate, Effort: 18}, nil, nil, nil, []triage.Earlier{{Rule: "NUM3", Level: triage.Note, DaysAgo: 6}}, "ease", "vigorous", "NUM3"},
		{practice + ": twice in 8 days", N{Prescribed: intensity.Moderate, Effort: 18}, nil, nil, nil, []triage.Earlier{{Rule: "NUM3", Level: triage.Note, DaysAgo: 7}}, "note", "none", "NUM3"},

		// NUM4
		{practice + ": 10 bpm, 3 sessions", N{SameWork: rise(triage.Rise{10, 0}, triage.Rise{12, 0}, triage.Rise{10, 1})}, nil, nil, nil, nil, "note", "none", "NUM4"},
		{practice + ": 2 points, 3 sessions", N{SameWork: rise(triage.Rise{0, 2}, triage.Rise{10, 0}, triage.Rise{3, 2})}, nil, nil, nil, nil, "note", "none", "NUM4"},
		{practice + ": 2 sessions", N{SameWork: rise(triage.Rise{15, 2}, triage.Rise{12, 2})}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": one of the last 3 below", N{SameWork: rise(triage.Rise{15, 3}, triage.Rise{12, 2}, triage.Rise{9, 1}, triage.Rise{12, 2})}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": only the last 3 count", N{SameWork: rise(triage.Rise{0, 0}, triage.Rise{12, 2}, triage.Rise{10, 1}, triage.Rise{12, 2})}, nil, nil, nil, nil, "note", "none", "NUM4"},

		// NUM5
		{practice + ": 10 over the median, 3 days", N{RestingDays: []int{70, 71, 70}, RestingUsed: fourWeeks}, nil, nil, nil, nil, "note", "none", "NUM5"},
		{practice + ": one day 9 over", N{RestingDays: []int{70, 69, 70}, RestingUsed: fourWeeks}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": 2 days", N{RestingDays: []int{75, 75}, RestingUsed: fourWeeks}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": only the last 3 days count", N{RestingDays: []int{60, 70, 70, 70}, RestingUsed: fourWeeks}, nil, nil, nil, nil, "note", "none", "NUM5"},
		{practice + ": median of an even number, 60.5", N{RestingDays: []int{70, 71, 71}, RestingUsed: []int{60, 61}}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": median of an even number, 60.5", N{RestingDays: []int{71, 71, 71}, RestingUsed: []int{61, 60}}, nil, nil, nil, nil, "note", "none", "NUM5"},
		{practice + ": with a heart disease", N{RestingDays: []int{70, 71, 70}, RestingUsed: fourWeeks}, nil, K{"heart_failure"}, nil, nil, "ease", "vigorous", "NUM5"},
		{practice + ": nothing to compare with", N{RestingDays: []int{90, 90, 90}}, nil, nil, nil, nil, "fine", "none", ""},

		// NUM6
		{stopList, N{Parts: []triage.Pull{{11, 110}, {13, 110}}}, nil, nil, nil, nil, "ease", "vigorous", "NUM6"},
		{stopList, N{Parts: []triage.Pull{{11, 110}, {13, 105}}}, nil, nil, nil, nil, "ease", "vigorous", "NUM6"},
		{stopList, N{Parts: []triage.Pull{{11, 110}, {13, 111}}}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": 1 point is no more effort", N{Parts: []triage.Pull{{11, 110}, {12, 105}}}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": less effort", N{Parts: []triage.Pull{{15, 130}, {11, 110}}}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": in a later part", N{Parts: []triage.Pull{{9, 90}, {11, 110}, {13, 100}}}, nil, nil, nil, nil, "ease", "vigorous", "NUM6"},
		{practice + ": rate-slowing medicine", N{Parts: []triage.Pull{{11, 110}, {13, 105}}}, nil, K{"rate_slowing_medicine"}, nil, nil, "fine", "none", ""},
		{practice + ": heart rate unusable", N{Parts: []triage.Pull{{11, 110}, {13, 105}}}, nil, K{"heart_rate_unusable"}, nil, nil, "fine", "none", ""},

		// NUM7
		{jabfm, N{}, nil, nil, []string{"V1"}, nil, "stop", "all", "NUM7"},
		{heartonline, N{}, nil, nil, []string{"V2"}, nil, "stop", "all", "NUM7"},
		{heartonline, N{}, nil, nil, []string{"V6"}, nil, "stop", "all", "NUM7"},
		{practice + ": V1 with breathlessness", N{}, R{"breathless_usual"}, K{"lung_disease"}, []string{"V1"}, nil, "emergency", "all", "T08 NUM7"},
		{practice + ": V1 with chest pain", N{}, R{"chest_pressure_usual"}, K{"stable_angina"}, []string{"V1"}, nil, "emergency", "all", "T02 NUM7"},
		{practice + ": V1 with a headache", N{}, R{"headache_mild"}, nil, []string{"V1"}, nil, "emergency", "all", "T38 NUM7"},
		{practice + ": V1 with sore muscles", N{}, R{"muscles_sore"}, nil, []string{"V1"}, nil, "stop", "all", "T29 NUM7"},
		{practice + ": V2 with a headache", N{}, R{"headache_mild"}, nil, []string{"V2"}, nil, "stop", "all", "T38 NUM7"},
		{practice + ": others of the gate", N{}, nil, nil, []string{"V3", "V4", "V9"}, nil, "fine", "none", ""},
		{hf + ": up 1.5 kg since yesterday", N{}, nil, K{"heart_failure"}, []string{"V19"}, nil, "stop", "above_light", "T18"},
		{practice + ": no heart failure", N{}, nil, nil, []string{"V19"}, nil, "fine", "none", ""},

		// NUM8
		{practice + ": at the ceiling", N{Done: intensity.Moderate, Ceiling: intensity.Moderate}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": above the ceiling", N{Done: intensity.Vigorous, Ceiling: intensity.Moderate}, nil, nil, nil, nil, "note", "none", "NUM8"},
		{practice + ": any work when all is held", N{Done: intensity.VeryLight, Ceiling: intensity.None}, nil, nil, nil, nil, "note", "none", "NUM8"},
		{practice + ": class not known", N{Done: intensity.None, Ceiling: intensity.Moderate}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": on 3 of 7 days", N{Done: intensity.Vigorous, Ceiling: intensity.Moderate}, nil, nil, nil, []triage.Earlier{{Rule: "NUM8", Level: triage.Note, DaysAgo: 2}, {Rule: "NUM8", Level: triage.Note, DaysAgo: 4}}, "ease", "vigorous", "NUM8 REPEAT"},

		// NUM9, NUM10
		{practice, N{WeekSpike: true}, nil, nil, nil, nil, "note", "none", "NUM9"},
		{practice + ": again on the next days is the same week", N{WeekSpike: true}, nil, nil, nil, []triage.Earlier{{Rule: "NUM9", Level: triage.Note, DaysAgo: 1}, {Rule: "NUM9", Level: triage.Note, DaysAgo: 2}}, "note", "none", "NUM9"},
		{practice + ": light by talk, vigorous by heart rate", N{Talk: intensity.Light, HeartSay: intensity.Vigorous}, nil, nil, nil, nil, "fine", "none", "NUM10"},
		{practice + ": the reverse", N{Talk: intensity.Vigorous, HeartSay: intensity.Light}, nil, nil, nil, nil, "fine", "none", "NUM10"},
		{practice + ": further apart", N{Talk: intensity.VeryLight, HeartSay: intensity.NearMaximal}, nil, nil, nil, nil, "fine", "none", "NUM10"},
		{practice + ": neighbours", N{Talk: intensity.Moderate, HeartSay: intensity.Vigorous}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": neighbours", N{Talk: intensity.Light, HeartSay: intensity.Moderate}, nil, nil, nil, nil, "fine", "none", ""},
		{practice + ": one of them not known", N{HeartSay: intensity.Vigorous}, nil, nil, nil, nil, "fine", "none", ""},

		// Numbers of the T rows
		{practice + ": usual angina, ceiling kept", N{CeilingHR: 120, PeakHR: 120}, R{"chest_pressure_usual"}, K{"stable_angina"}, nil, nil, "note", "none", "T02"},
		{practice + ": usual angina, above the ceiling", N{CeilingHR: 120, PeakHR: 121}, R{"chest_pressure_usual"}, K{"stable_angina"}, nil, nil, "stop", "all", "T02"},
		{practice + ": usual angina, no ceiling", N{PeakHR: 150}, R{"chest_pressure_usual"}, K{"stable_angina"}, nil, nil, "note", "none", "T02"},
		{lung + ": 88", N{Oxygen: 88}, nil, nil, nil, nil, "fine", "none", ""},
		{lung + ": 87 walking", N{Oxygen: 87}, nil, K{"lung_disease"}, nil, nil, "stop", "all", "T22"},
		{practice + ": 86", N{Oxygen: 86}, nil, nil, nil, nil, "stop", "all", "T22"},
		{practice + ": 85", N{Oxygen: 85}, nil, nil, nil, nil, "emergency", "all", "T22"},
		{ada + ": 250 mg/dL", N{Glucose: 250, Ketones: 20}, nil, nil, nil, nil, "fine", "none", ""},
		{ada + ": 251 mg/dL with ketones 1.5", N{Glucose: 251, Ketones: 15}, nil, nil, nil, nil, "stop", "all", "T24"},
		{ada + ": 251 mg/dL with ketones 1.4", N{Glucose: 251, Ketones: 14}, nil, nil, nil, nil, "fine", "none", ""},
		{recalled + ": ketones 3.0", N{Ketones: 30}, nil, nil, nil, nil, "emergency", "all", "T24"},
		{recalled + ": ketones 2.9", N{Glucose: 300, Ketones: 29}, nil, nil, nil, nil, "stop", "all", "T24"},
		{practice + ": mild headache at 180/90", N{Systolic: 180, Diastolic: 90}, R{"headache_mild"}, nil, nil, nil, "stop", "all", "T38"},
		{practice + ": mild headache at 179/109", N{Systolic: 179, Diastolic: 109}, R{"headache_mild"}, nil, nil, nil, "note", "none", "T38"},
		{practice + ": mild headache at 140/110", N{Systolic: 140, Diastolic: 110}, R{"headache_mild"}, nil, nil, nil, "stop", "all", "T38"},
		{practice + ": 180/110 without a headache", N{Systolic: 180, Diastolic: 110}, nil, nil, nil, nil, "fine", "none", ""},
	} {
		t.Run(tt.source, func(t *testing.T) {
			a, err := triage.Assess(triage.Input{
				Reports: tt.reports, Known: tt.known, Numbers: tt.numbers, Vitals: tt.vitals, Earlier: tt.earlier,
			}, triage.PolicyFrom(nil))
			if err != nil {
				t.Fatal(err)
			}
			if a.Level.String() != tt.level || a.Hold.String() != tt.hold || strings.Join(a.Rules, " ") != tt.rules {
				t.Errorf("%+v %v: %s, hold %s, rules %v; want %s, %s, %s",
					tt.numbers, tt.vitals, a.Level, a.Hold, a.Rules, tt.level, tt.hold, tt.rules)
			}
		})
	}
}

// What is said to the practitioner has the numbers in it.
func TestNumbersSaid(t *testing.T) {
	for _, tt := range []struct {
		source  string
		numbers triage.Numbers
		want    string
	}{
		{recalled, triage.Numbers{Ketones: 32}, "Ketones 3.2 mmol/L."},
		{ada, triage.Numbers{Glucose: 260, Ketones: 17}, "Glucose 260 mg/dL with ketones 1.7 mmol/L."},
		{lung, triage.Numbers{Oxygen: 87}, "Oxygen saturation 87 per cent in exercise."},
		{practice, triage.Numbers{Done: intensity.NearMaximal, Ceiling: intensity.VeryLight}, "near-maximal work, above the ceiling of very light."},
		{practice, triage.Numbers{Done: intensity.Vigorous}, "vigorous work, above the ceiling of no exercise."},
	} {
		a, _ := triage.Assess(triage.Input{Numbers: tt.numbers}, triage.PolicyFrom(nil))
		if !slices.Equal(a.Why, []string{tt.want}) {
			t.Errorf("%+v: why %q; want %q", tt.numbers, a.Why, tt.want)
		}
	}
}

// Of the vitals, what is a doctor's matter the same day is so here.
func TestVitalsDue(t *testing.T) {
	for rule, want := range map[string]string{"V1": "today", "V2": "1 working day", "V6": "today"} {
		a, _ := triage.Assess(triage.Input{Vitals: []string{rule}}, triage.PolicyFrom(nil))
		if a.Act.Due.String() != want {
			t.Errorf("%s: due %s; want %s", rule, a.Act.Due, want)
		}
	}
}

// The second session above the ceiling in seven days is talked about.
func TestSecondAboveCeiling(t *testing.T) {
	for _, tt := range []struct {
		source  string
		daysAgo int
		call    bool
	}{{practice, 6, true}, {practice, 7, false}} {
		a, _ := triage.Assess(triage.Input{
			Numbers: triage.Numbers{Done: intensity.Vigorous, Ceiling: intensity.Moderate},
			Earlier: []triage.Earlier{{Rule: "NUM8", Level: triage.Note, DaysAgo: tt.daysAgo}},
		}, triage.PolicyFrom(nil))
		if a.Act.Call != tt.call || a.Level != triage.Note {
			t.Errorf("%d days ago: call %t at %s; want %t at note", tt.daysAgo, a.Act.Call, a.Level, tt.call)
		}
	}
}

func TestNumbersAsk(t *testing.T) {
	for _, tt := range []struct {
		source  string
		numbers triage.Numbers
		want    string
	}{
		{practice, triage.Numbers{PeakHR: 199, MeasuredMax: 180}, "check_reading"},
		{practice, triage.Numbers{PeakHR: 199, MeasuredMax: 180, PeakConfirmed: true}, ""},
		{practice, triage.Numbers{Talk: intensity.Light, HeartSay: intensity.Vigorous}, "talk_or_heart"},
	} {
		a, _ := triage.Assess(triage.Input{Numbers: tt.numbers}, triage.PolicyFrom(nil))
		var got string
		for _, q := range a.Questions {
			got += q.Code
		}
		if got != tt.want {
			t.Errorf("%+v asks %q; want %q", tt.numbers, got, tt.want)
		}
	}
}

// What cannot be is refused by name, and the rest is sorted all the same.
func TestRefused(t *testing.T) {
	for _, tt := range []struct {
		source string
		in     triage.Input
		field  string
	}{
		{practice, triage.Input{Reports: R{"chest_presure"}}, "reports"},
		{practice, triage.Input{Known: K{"superman"}}, "known"},
		{practice, triage.Input{Numbers: triage.Numbers{PeakHR: 24}}, "peak_hr"},
		{practice, triage.Input{Numbers: triage.Numbers{PeakHR: 251}}, "peak_hr"},
		{practice, triage.Input{Numbers: triage.Numbers{PeakHR: -1}}, "peak_hr"},
		{practice, triage.Input{Numbers: triage.Numbers{CeilingHR: 300}}, "ceiling_hr"},
		{practice, triage.Input{Numbers: triage.Numbers{SecondsAbove: -1}}, "seconds_above_ceiling"},
		{practice, triage.Input{Numbers: triage.Numbers{SecondsAbove: 86401}}, "seconds_above_ceiling"},
		{practice, triage.Input{Numbers: triage.Numbers{MeasuredMax: 300}}, "measured_max"},
		{practice, triage.Input{Numbers: triage.Numbers{PredictedMax: 300}}, "predicted_max"},
		{practice, triage.Input{Numbers: triage.Numbers{Effort: 5}}, "effort_6_20"},
		{practice, triage.Input{Numbers: triage.Numbers{Effort: 21}}, "effort_6_20"},
		{practice, triage.Input{Numbers: triage.Numbers{Oxygen: 49}}, "spo2"},
		{practice, triage.Input{Numbers: triage.Numbers{Oxygen: 101}}, "spo2"},
		{practice, triage.Input{Numbers: triage.Numbers{Systolic: 29}}, "sbp"},
		{practice, triage.Input{Numbers: triage.Numbers{Systolic: 301}}, "sbp"},
		{practice, triage.Input{Numbers: triage.Numbers{Diastolic: 301}}, "dbp"},
		{practice, triage.Input{Numbers: triage.Numbers{Glucose: 9}}, "glucose_mg_dl"},
		{practice, triage.Input{Numbers: triage.Numbers{Glucose: 1001}}, "glucose_mg_dl"},
		{practice, triage.Input{Numbers: triage.Numbers{Ketones: 301}}, "ketones_mmol_l"},
		{practice, triage.Input{Numbers: triage.Numbers{Parts: []triage.Pull{{21, 100}}}}, "parts"},
		{practice, triage.Input{Numbers: triage.Numbers{Parts: []triage.Pull{{12, 10}}}}, "parts"},
		{practice, triage.Input{Numbers: triage.Numbers{RestingDays: []int{0}}}, "resting_hr"},
		{practice, triage.Input{Numbers: triage.Numbers{RestingUsed: []int{251}}}, "resting_hr"},
	} {
		t.Run(tt.source+"/"+tt.field, func(t *testing.T) {
			tt.in.Reports = append(slices.Clone(tt.in.Reports), "fainted")
			a, err := triage.Assess(tt.in, triage.PolicyFrom(nil))
			var p domain.Problems
			if !errors.As(err, &p) || len(p) != 1 || p[tt.field] == "" {
				t.Errorf("Assess(%+v): %v; want a problem with %s", tt.in, err, tt.field)
			}
			if a.Level != triage.Emergency {
				t.Errorf("Assess(%+v): %s; want the emergency all the same", tt.in, a.Level)
			}
		})
	}
	for _, n := range []triage.Numbers{ // a number that cannot be is not judged
		{Oxygen: 49}, {Ketones: 301}, {PeakHR: 251, CeilingHR: 130}, {Effort: 21, Prescribed: intensity.Moderate},
		{Parts: []triage.Pull{{11, 110}, {13, 300}}}, {Parts: []triage.Pull{{30, 110}, {13, 100}, {14, 100}}}, {Parts: []triage.Pull{{11, 110}, {13, 251}, {15, 200}}},
	} {
		if a, err := triage.Assess(triage.Input{Numbers: n}, triage.PolicyFrom(nil)); err == nil || a.Level != triage.Fine || a.Rules != nil {
			t.Errorf("%+v: %s %v, %v; want an error and nothing else", n, a.Level, a.Rules, err)
		}
	}
	a, err := triage.Assess(triage.Input{Reports: R{"chest_presure"}}, triage.PolicyFrom(nil))
	if err == nil || a.Level != triage.Note || !slices.Equal(a.Rules, []string{"T42"}) {
		t.Errorf("a report that does not exist: %s %v, %v; want note T42 and an error", a.Level, a.Rules, err)
	}
	for _, n := range []triage.Numbers{
		{PeakHR: 25, CeilingHR: 25}, {PeakHR: 250}, {Effort: 6}, {Effort: 20}, {Oxygen: 50}, {Oxygen: 100}, {Systolic: 30},
		{Systolic: 300}, {Glucose: 10}, {Glucose: 1000}, {Ketones: 300}, {SecondsAbove: 86400},
	} {
		if _, err := triage.Assess(triage.Input{Numbers: n}, triage.PolicyFrom(nil)); err != nil {
			t.Errorf("%+v is refused: %v", n, err)
		}
	}
	if _, err := triage.Assess(triage.Input{Numbers: triage.Numbers{RestingDays: []int{25, 250}}}, triage.PolicyFrom(nil)); err != nil {
		t.Errorf("resting 25 and 250 bpm are refused: %v", err)
	}
}

// Assess does not change what it is given.
func TestInputKept(t *testing.T) {
	in := triage.Numbers{
		Parts: []triage.Pull{{21, 100}, {12, 100}}, RestingDays: []int{0, 60}, RestingUsed: []int{70, 50, 60},
	}
	want := triage.Numbers{
		Parts: []triage.Pull{{21, 100}, {12, 100}}, RestingDays: []int{0, 60}, RestingUsed: []int{70, 50, 60},
	}
	_, _ = triage.Assess(triage.Input{Numbers: in}, triage.PolicyFrom(nil))
	if !slices.Equal(in.Parts, want.Parts) || !slices.Equal(in.RestingDays, want.RestingDays) || !slices.Equal(in.RestingUsed, want.RestingUsed) {
		t.Errorf("numbers became %+v; want %+v", in, want)
	}
}

// What a practice may choose, for each number.
func TestSettingRanges(t *testing.T) {
	for _, tt := range []struct {
		source         string
		key            string
		def, low, high int
	}{
		{practice, "stop_days", 1, 0, 2},
		{practice, "ease_days", 2, 1, 5},
		{practice, "note_days", 7, 1, 14},
		{practice, "other_days", 1, 0, 2},
		{practice, "freeze_days", 7, 1, 28},
		{practice, "pair", 2, 2, 3},
		{practice, "repeat_days", 3, 2, 5},
		{practice, "lightheaded_times", 3, 2, 5},
		{recalled, "low_sugar_times", 2, 2, 3},
		{practice, "too_hard_times", 2, 2, 5},
		{practice, "ceiling_seconds", 60, 0, 300},
		{practice, "ceiling_margin", 10, 0, 20},
		{practice, "predicted_max", 110, 105, 125},
		{practice, "hard_effort", 17, 15, 18},
		{practice, "drift_hr", 10, 5, 20},
		{practice, "drift_effort", 2, 1, 4},
		{practice, "drift_sessions", 3, 2, 5},
		{practice, "resting_rise", 10, 5, 20},
		{practice, "resting_days", 3, 2, 5},
		{practice, "effort_step", 2, 1, 4},
		{lung, "oxygen_low", 88, 85, 92},
		{practice, "oxygen_very_low", 85, 75, 88},
		{practice, "late_from", 24, 12, 48},
		{practice, "late_to", 72, 48, 168},
	} {
		i := slices.IndexFunc(triage.Settings, func(s source.Setting) bool { return s.Key == "triage."+tt.key })
		if i < 0 {
			t.Errorf("no setting %s", tt.key)
			continue
		}
		if s := triage.Settings[i]; s.Default != tt.def || s.Low != tt.low || s.High != tt.high {
			t.Errorf("%s: %d in %d to %d; want %d in %d to %d", tt.key, s.Default, s.Low, s.High, tt.def, tt.low, tt.high)
		}
	}
	if len(triage.Settings) != 24 {
		t.Errorf("%d settings; want 24", len(triage.Settings))
	}
}

// Each setting has an effect, is within its range, and cites something.
func TestSettings(t *testing.T) {
	defaults := triage.PolicyFrom(nil)
	seen := map[string]bool{}
	for _, s := range triage.Settings {
		if seen[s.Key] {
			t.Errorf("%s stands twice", s.Key)
		}
		seen[s.Key] = true
		if s.Default < s.Low || s.Default > s.High || s.Low >= s.High || s.Says == "" || s.Unit == "" {
			t.Errorf("%s: default %d in %d to %d, unit %q, says %q", s.Key, s.Default, s.Low, s.High, s.Unit, s.Says)
		}
		other := s.Low
		if other == s.Default {
			other = s.High
		}
		if triage.PolicyFrom(source.Values{s.Key: other}) == defaults {
			t.Errorf("%s = %d changes nothing", s.Key, other)
		}
		for _, k := range s.Cites {
			if _, ok := source.Find(k); !ok {
				t.Errorf("%s cites %s, which does not exist", s.Key, k)
			}
		}
	}
}

func TestRulesCite(t *testing.T) {
	ids := map[string]bool{}
	for _, r := range triage.Rules {
		if ids[r.ID] {
			t.Errorf("rule %s stands twice", r.ID)
		}
		ids[r.ID] = true
		for _, k := range r.Cites {
			if _, ok := source.Find(k); !ok {
				t.Errorf("rule %s cites %s, which does not exist", r.ID, k)
			}
		}
	}
	for _, tt := range reportCases {
		for rule := range strings.FieldsSeq(tt.rules) {
			if !ids[rule] {
				t.Errorf("%s fires and is not among the rules", rule)
			}
		}
	}
}
