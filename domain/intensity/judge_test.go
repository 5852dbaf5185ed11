package intensity_test

import (
	"errors"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/source"
)

var policy = intensity.PolicyFrom(nil)

func predicted(c intensity.Class) *intensity.HeartRate {
	return &intensity.HeartRate{Class: c, Valid: true}
}

func measured(c intensity.Class) *intensity.HeartRate {
	return &intensity.HeartRate{Class: c, Valid: true, Measured: true}
}

func above(hr *intensity.HeartRate) *intensity.HeartRate { hr.AboveCeiling = true; return hr }

func TestJudge(t *testing.T) {
	type e = intensity.Evidence
	cr10, relative := intensity.CR10(50), intensity.RelativeEffort(5)
	const (
		sing      = intensity.TalkSing
		sentences = intensity.TalkSentences
		short     = intensity.TalkShort
		fewWords  = intensity.TalkFewWords
		noTalk    = intensity.TalkNone
	)
	harder := []string{"feels_harder", "ask_medicine", "check_slow_pulse", "ask_breathless"}
	softer := []string{"heart_rate_harder", "count_pulse", "check_fast_pulse", "not_a_release", "keep_pace"}
	softerStop := []string{"heart_rate_harder", "count_pulse", "check_fast_pulse", "not_a_release", "stop_and_hold"}
	for _, tt := range []struct {
		source         string
		evidence       e
		volume, safety intensity.Class
		by             intensity.Kind
		agree          bool
		pattern        intensity.Pattern
		action         intensity.Action
		notes          []string
	}{
		{"CDC, talk test alone", e{Talk: sentences}, moderate, moderate, intensity.KindTalk, true, "", "", nil},
		{"CDC 2009: singing alone is light", e{Talk: sing}, light, light, intensity.KindTalk, true, "", "", nil},
		{"practice rule: broken sentences are vigorous", e{Talk: short}, vigorous, vigorous, intensity.KindTalk, true, "", "", nil},
		{"Garber 2011: exertion 13 alone", e{Effort: 13}, moderate, moderate, intensity.KindEffort, true, "", "", nil},
		{"Norton 2010: CR10 5 alone is vigorous", e{CR10: &cr10}, vigorous, vigorous, intensity.KindCR10, true, "", "", nil},
		{"PAGA 2018: relative effort 5 alone is moderate", e{Relative: &relative}, moderate, moderate, intensity.KindRelative, true, "", "", nil},
		{"Garber 2011: heart rate alone", e{HR: predicted(vigorous)}, vigorous, vigorous, intensity.KindHeartRate, true, "", "", nil},
		{"PAGA 2018 p. 71: METs alone", e{MET: 350}, moderate, moderate, intensity.KindMET, true, "", "", []string{"met_only"}},
		{"PAGA 2018 p. 68: 2.5 METs at exertion 12 are moderate", e{MET: 250, Effort: 12}, moderate, moderate, intensity.KindEffort, true, "", "", nil},
		{"PAGA 2018 p. 68: 2.5 METs at exertion 13 are moderate", e{MET: 250, Effort: 13, Age: 80}, moderate, moderate, intensity.KindEffort, true, "", "", nil},
		{"Garber 2011 by age (from memory): 5 METs at 70 are vigorous for safety", e{MET: 500, Age: 70},
			moderate, vigorous, intensity.KindMET, false, intensity.Mixed, "", []string{"met_hard_for_age", "met_only"}},
		{"Garber 2011 by age (from memory): 4 METs at 30 stay moderate for safety", e{MET: 400, Age: 30},
			moderate, moderate, intensity.KindMET, true, "", "", []string{"met_only"}},
		{"practice rule: nothing at all", e{}, none, none, "", true, "", "", []string{"nothing_to_judge_by"}},

		{"Garber 2011: all agree", e{Talk: sentences, Effort: 12, HR: measured(moderate)}, moderate, moderate, intensity.KindHeartRate, true, "", "", nil},
		{"CDC 2009: singing fits very light", e{Talk: sing, Effort: 7, HR: predicted(veryLight)}, light, light, intensity.KindTalk, true, "", "", nil},
		{"practice rule: measured maximum first for volume", e{Talk: sentences, HR: measured(light)},
			light, moderate, intensity.KindHeartRate, false, intensity.FeelsHarder, intensity.NeverSpeedUp, harder},
		{"practice rule: talk before a predicted maximum", e{Talk: sentences, HR: predicted(light)},
			moderate, moderate, intensity.KindTalk, false, intensity.FeelsHarder, intensity.NeverSpeedUp, harder},
		{"practice rule: exertion before a predicted maximum", e{Effort: 12, HR: predicted(light)},
			moderate, moderate, intensity.KindEffort, false, intensity.FeelsHarder, intensity.NeverSpeedUp, harder},
		{"practice rule: the client's primary kind", e{Talk: sentences, HR: measured(light), Primary: intensity.KindTalk},
			moderate, moderate, intensity.KindTalk, false, intensity.FeelsHarder, intensity.NeverSpeedUp, harder},
		{"practice rule: a primary kind that is missing", e{Talk: sentences, Primary: intensity.KindHeartRate},
			moderate, moderate, intensity.KindTalk, true, "", "", nil},

		{"slow pulse: few words, heart rate light", e{Talk: fewWords, HR: predicted(light)},
			vigorous, vigorous, intensity.KindTalk, false, intensity.FeelsHarder, intensity.NeverSpeedUp, harder},
		{"slow pulse: no talk, measured moderate", e{Talk: noTalk, HR: measured(moderate)},
			moderate, nearMax, intensity.KindHeartRate, false, intensity.FeelsHarder, intensity.NeverSpeedUp, harder},
		{"slow pulse: new breathlessness", e{Talk: fewWords, HR: predicted(light), NewBreathless: true},
			vigorous, vigorous, intensity.KindTalk, false, intensity.FeelsHarder, intensity.StopAndHold,
			[]string{"feels_harder", "ask_medicine", "check_slow_pulse", "breathless_hold"}},
		{"slow pulse: irregular", e{Talk: fewWords, HR: predicted(light), IrregularPulse: true},
			vigorous, vigorous, intensity.KindTalk, false, intensity.FeelsHarder, intensity.StopAndHold,
			[]string{"feels_harder", "ask_medicine", "check_slow_pulse", "stop_and_hold"}},
		{"fast pulse: sings, heart rate vigorous", e{Talk: sing, HR: predicted(vigorous)},
			light, vigorous, intensity.KindTalk, false, intensity.HeartRateHarder, intensity.KeepPace, softer},
		{"Persinger 2004: sentences, heart rate vigorous, is common", e{Talk: sentences, HR: predicted(vigorous)},
			moderate, vigorous, intensity.KindTalk, false, intensity.HeartRateHarder, intensity.KeepPace,
			[]string{"heart_rate_harder", "expected_overlap", "count_pulse", "check_fast_pulse", "not_a_release", "keep_pace"}},
		{"fast pulse: irregular", e{Talk: sing, HR: predicted(vigorous), IrregularPulse: true},
			light, vigorous, intensity.KindTalk, false, intensity.HeartRateHarder, intensity.StopAndHold, softerStop},
		{"fast pulse: dizzy", e{Talk: sing, HR: predicted(vigorous), Symptoms: true},
			light, vigorous, intensity.KindTalk, false, intensity.HeartRateHarder, intensity.StopAndHold, softerStop},
		{"fast pulse: above the ceiling", e{Talk: sing, HR: above(predicted(vigorous))},
			light, vigorous, intensity.KindTalk, false, intensity.HeartRateHarder, intensity.StopAndHold, softerStop},
		{"fast pulse against exertion alone", e{Effort: 9, HR: measured(moderate)},
			moderate, moderate, intensity.KindHeartRate, false, intensity.HeartRateHarder, intensity.KeepPace, softer},
		{"agreeing above the ceiling", e{Talk: sentences, HR: above(predicted(moderate))},
			moderate, moderate, intensity.KindTalk, true, "", "", []string{"above_ceiling"}},
		{"singing fits very light by heart rate too", e{Talk: sing, HR: measured(veryLight)}, veryLight, light, intensity.KindHeartRate, true, "", "", nil},

		{"practice rule: exertion two classes above both", e{Talk: sing, Effort: 15, HR: predicted(light)},
			light, vigorous, intensity.KindTalk, false, intensity.EffortOff, "", []string{"effort_off"}},
		{"practice rule: exertion two classes below both", e{Talk: fewWords, Effort: 9, HR: predicted(vigorous)},
			vigorous, vigorous, intensity.KindTalk, false, intensity.EffortOff, "", []string{"effort_off"}},
		{"practice rule: exertion one class above both", e{Talk: sentences, Effort: 14, HR: predicted(moderate)},
			moderate, vigorous, intensity.KindTalk, false, intensity.Mixed, "", []string{"effort_near"}},
		{"practice rule: exertion and talk only, two classes", e{Talk: sing, Effort: 14},
			light, vigorous, intensity.KindTalk, false, intensity.EffortOff, "", []string{"effort_off"}},
		{"practice rule: of several scales the hardest", e{Effort: 9, CR10: &cr10, Relative: &relative},
			vigorous, vigorous, intensity.KindCR10, true, "", "", nil},

		{"practice rule: on two scales alike, the 6-20 one", e{Effort: 12, Relative: &relative}, moderate, moderate, intensity.KindEffort, true, "", "", nil},
		{"practice rule: sings, heart rate very light, exertion a class off", e{Talk: sing, HR: predicted(veryLight), Effort: 13},
			light, moderate, intensity.KindTalk, false, intensity.Mixed, "", []string{"effort_near"}},
		{"Foster 2008: talk test after a minute", e{Talk: sentences, Minutes: 1}, moderate, moderate, intensity.KindTalk, true, "", "", []string{"talk_too_early"}},
		{"practice rule: no valid basis, heart rate not used", e{Talk: sentences, HR: &intensity.HeartRate{Class: vigorous}},
			moderate, moderate, intensity.KindTalk, true, "", "", []string{"heart_rate_not_used"}},
		{"practice rule: no valid basis and nothing else", e{HR: &intensity.HeartRate{}},
			none, none, "", true, "", "", []string{"nothing_to_judge_by", "heart_rate_not_used"}},
		{"practice rule: no valid basis, above the ceiling all the same", e{Talk: sentences, HR: above(&intensity.HeartRate{})},
			moderate, moderate, intensity.KindTalk, true, "", "", []string{"heart_rate_not_used", "above_ceiling"}},
		{"practice rule: METs only when the heart rate has no basis", e{MET: 300, HR: &intensity.HeartRate{}},
			moderate, moderate, intensity.KindMET, true, "", "", []string{"heart_rate_not_used", "met_only"}},
		{"Foster 2008: talk test after 4 minutes", e{Talk: sentences, Minutes: 4}, moderate, moderate, intensity.KindTalk, true, "", "", []string{"talk_too_early"}},
		{"practice setting: talk test after 5 minutes", e{Talk: sentences, Minutes: 5}, moderate, moderate, intensity.KindTalk, true, "", "", nil},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := intensity.Judge(tt.evidence, policy)
			if err != nil {
				t.Fatal(err)
			}
			if got.ClassForVolume != tt.volume || got.ClassForSafety != tt.safety || got.By != tt.by {
				t.Errorf("volume %s by %s, safety %s; want %s by %s, %s", got.ClassForVolume, got.By, got.ClassForSafety, tt.volume, tt.by, tt.safety)
			}
			if got.Agree != tt.agree || got.Pattern != tt.pattern || got.Action != tt.action {
				t.Errorf("agree %t, pattern %q, action %q; want %t, %q, %q", got.Agree, got.Pattern, got.Action, tt.agree, tt.pattern, tt.action)
			}
			var codes []string
			for _, n := range got.Notes {
				codes = append(codes, n.Code)
				if n.Text == "" {
					t.Errorf("note %s has no text", n.Code)
				}
			}
			if !slices.Equal(codes, tt.notes) {
				t.Errorf("notes %v; want %v", codes, tt.notes)
			}
		})
	}
}

func TestJudgeRefuses(t *testing.T) {
	cr10, relative := intensity.CR10(42), intensity.RelativeEffort(11)
	for _, tt := range []struct {
		source   string
		evidence intensity.Evidence
		field    string
	}{
		{"a level that does not exist", intensity.Evidence{Talk: "hum"}, "talk"},
		{"below the scale", intensity.Evidence{Effort: 5}, "effort_6_20"},
		{"above the scale", intensity.Evidence{Effort: 21}, "effort_6_20"},
		{"not a half step", intensity.Evidence{CR10: &cr10}, "effort_cr10"},
		{"above the other scale", intensity.Evidence{Relative: &relative}, "effort_0_10"},
		{"practice setting: METs below 0.9", intensity.Evidence{MET: 89}, "activity_met"},
		{"practice setting: METs above 25", intensity.Evidence{MET: 2501}, "activity_met"},
		{"negative METs", intensity.Evidence{MET: -100}, "activity_met"},
		{"a valid heart rate without a class", intensity.Evidence{HR: predicted(none)}, "hr"},
		{"a class that does not exist", intensity.Evidence{HR: predicted(nearMax + 1)}, "hr"},
		{"negative minutes", intensity.Evidence{Minutes: -1}, "minutes"},
		{"more than 12 hours", intensity.Evidence{Minutes: 721}, "minutes"},
		{"a child", intensity.Evidence{Age: 17}, "age"},
		{"older than anybody", intensity.Evidence{Age: 111}, "age"},
		{"a kind that does not exist", intensity.Evidence{Primary: "smell"}, "primary"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := intensity.Judge(tt.evidence, policy)
			p, _ := errors.AsType[domain.Problems](err)
			if p[tt.field] == "" || len(p) != 1 || got.ClassForSafety != none {
				t.Errorf("Judge(%+v) = %+v, %v; want a problem of %s", tt.evidence, got, err, tt.field)
			}
		})
	}
	for _, ok := range []intensity.Evidence{{Minutes: 720}, {Age: 18}, {Age: 110}, {Primary: intensity.KindMET}, {MET: 90}, {MET: 2500}} {
		if _, err := intensity.Judge(ok, policy); err != nil {
			t.Errorf("Judge(%+v): %v", ok, err)
		}
	}
}

func TestJudgeWithOtherSettings(t *testing.T) {
	other := intensity.PolicyFrom(source.Values{
		"intensity.measured_first": 0, "intensity.effort_far": 1, "intensity.talk_minutes": 10, "intensity.met_confirm": 1000,
		"intensity.met_low": 100, "intensity.met_high": 2000, "intensity.repeat_count": 3, "intensity.repeat_of": 4,
	})
	got, err := intensity.Judge(intensity.Evidence{Talk: intensity.TalkSentences, Effort: 14, HR: measured(moderate), Minutes: 9}, other)
	if err != nil || got.By != intensity.KindTalk || got.Pattern != intensity.EffortOff || got.Notes[len(got.Notes)-1].Code != "talk_too_early" {
		t.Errorf("other settings: %+v, %v", got, err)
	}
	if want := (intensity.Policy{EffortFar: 1, RepeatCount: 3, RepeatOf: 4, TalkMinutes: 10, METLow: 100, METHigh: 2000, METConfirm: 1000}); other != want {
		t.Errorf("PolicyFrom = %+v; want %+v", other, want)
	}
}

// The class for safety is never below any valid evidence, never below the class
// for volume, and more evidence never lowers it, except that METs count only alone.
func TestJudgeNeverPlaysDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := evidence(t)
		before, err := intensity.Judge(e, policy)
		if err != nil {
			t.Fatal(err)
		}
		if before.ClassForSafety < before.ClassForVolume {
			t.Fatalf("%+v: safety %s below volume %s", e, before.ClassForSafety, before.ClassForVolume)
		}
		if e.Talk.Class() > before.ClassForSafety || e.HR != nil && e.HR.Valid && e.HR.Class > before.ClassForSafety {
			t.Fatalf("%+v: safety %s", e, before.ClassForSafety)
		}
		if before.Agree && before.Pattern != intensity.Agreeing || !before.Agree && before.Pattern == intensity.Agreeing {
			t.Fatalf("%+v: agree %t, pattern %q", e, before.Agree, before.Pattern)
		}
		if before.Pattern == intensity.FeelsHarder && before.Action == intensity.KeepPace {
			t.Fatalf("%+v: a breathless client is told to keep the pace", e)
		}
		if e.Effort == 0 && (e.Talk != "" || e.HR != nil && e.HR.Valid) {
			more := e
			more.Effort = intensity.Effort(rapid.IntRange(6, 20).Draw(t, "more"))
			after, err := intensity.Judge(more, policy)
			if err != nil || after.ClassForSafety < before.ClassForSafety {
				t.Fatalf("%+v: safety %s, with exertion %d %s, %v", e, before.ClassForSafety, more.Effort, after.ClassForSafety, err)
			}
		}
	})
}

func evidence(t *rapid.T) intensity.Evidence {
	e := intensity.Evidence{
		Talk:   rapid.SampledFrom(append(intensity.Talks(), "")).Draw(t, "talk"),
		Effort: rapid.SampledFrom([]intensity.Effort{0, 6, 9, 12, 13, 14, 17, 18, 20}).Draw(t, "effort"),
		MET:    intensity.MET(rapid.SampledFrom([]int{0, 150, 250, 350, 700}).Draw(t, "met")),
		Age:    rapid.SampledFrom([]int{0, 30, 70}).Draw(t, "age"),
	}
	if rapid.Bool().Draw(t, "hr") {
		e.HR = &intensity.HeartRate{
			Class: intensity.Class(rapid.IntRange(1, 5).Draw(t, "class")), Valid: rapid.Bool().Draw(t, "valid"),
			Measured: rapid.Bool().Draw(t, "measured"), AboveCeiling: rapid.Bool().Draw(t, "above"),
		}
	}
	return e
}

func TestRepeated(t *testing.T) {
	const (
		feels = intensity.FeelsHarder
		pulse = intensity.HeartRateHarder
		fine  = intensity.Agreeing
	)
	for _, tt := range []struct {
		source string
		past   []intensity.Pattern
		want   intensity.Pattern
	}{
		{"practice setting: twice in three", []intensity.Pattern{feels, fine, feels}, feels},
		{"practice setting: twice in a row", []intensity.Pattern{pulse, pulse}, pulse},
		{"practice setting: once", []intensity.Pattern{fine, fine, feels}, fine},
		{"practice setting: two different ones", []intensity.Pattern{feels, pulse, fine}, fine},
		{"practice setting: the first is four sessions ago", []intensity.Pattern{feels, fine, fine, feels}, fine},
		{"practice setting: agreeing thrice is nothing", []intensity.Pattern{fine, fine, fine}, fine},
		{"no session yet", nil, fine},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, found := intensity.Repeated(tt.past, policy)
			if got != tt.want || found != (tt.want != fine) {
				t.Errorf("Repeated(%q) = %q, %t; want %q", tt.past, got, found, tt.want)
			}
		})
	}
}
