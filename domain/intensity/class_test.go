package intensity_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brae/domain/intensity"
)

const (
	none      = intensity.None
	veryLight = intensity.VeryLight
	light     = intensity.Light
	moderate  = intensity.Moderate
	vigorous  = intensity.Vigorous
	nearMax   = intensity.NearMaximal
)

func TestMethodOf(t *testing.T) {
	for _, tt := range []struct {
		source string
		method intensity.Method
		tenths int64 // of a per cent
		want   intensity.Class
	}{
		{"Garber 2011 table 5, %HRR < 30", intensity.Reserve, 299, veryLight},
		{"Garber 2011 table 5, %HRR 30", intensity.Reserve, 300, light},
		{"Garber 2011 table 5, %HRR 39", intensity.Reserve, 390, light},
		{"Garber 2011 table 5, %HRR 39.9", intensity.Reserve, 399, light},
		{"Garber 2011 table 5, %HRR 40", intensity.Reserve, 400, moderate},
		{"Garber 2011 table 5, %HRR 59", intensity.Reserve, 590, moderate},
		{"read half open, %HRR 59.5", intensity.Reserve, 595, moderate},
		{"Garber 2011 table 5, %HRR 60", intensity.Reserve, 600, vigorous},
		{"Garber 2011 table 5, %HRR 89", intensity.Reserve, 890, vigorous},
		{"read half open, %HRR 89.9", intensity.Reserve, 899, vigorous},
		{"Garber 2011 table 5, %HRR 90", intensity.Reserve, 900, nearMax},
		{"below nothing", intensity.Reserve, -50, veryLight},
		{"above all", intensity.Reserve, 1200, nearMax},

		{"Garber 2011 table 5, %VO2R 29.9", intensity.OxygenReserve, 299, veryLight},
		{"Garber 2011 table 5, %VO2R 30", intensity.OxygenReserve, 300, light},
		{"Garber 2011 table 5, %VO2R 40", intensity.OxygenReserve, 400, moderate},
		{"Garber 2011 table 5, %VO2R 60", intensity.OxygenReserve, 600, vigorous},
		{"Garber 2011 table 5, %VO2R 90", intensity.OxygenReserve, 900, nearMax},
		{"Garber 2011 table 5, %VO2R 89.9", intensity.OxygenReserve, 899, vigorous},
		{"Garber 2011 table 5, %VO2R 59.9", intensity.OxygenReserve, 599, moderate},
		{"Garber 2011 table 5, %VO2R 39.9", intensity.OxygenReserve, 399, light},

		{"Garber 2011 table 5, %HRmax 56.9", intensity.Maximum, 569, veryLight},
		{"Garber 2011 table 5, %HRmax 57", intensity.Maximum, 570, light},
		{"PMC8581515 table 1, %HRmax 63", intensity.Maximum, 639, light},
		{"PMC8581515 table 1, %HRmax 64", intensity.Maximum, 640, moderate},
		{"PMC8581515 table 1, %HRmax 76", intensity.Maximum, 769, moderate},
		{"PMC9830234 table 2, %HRmax 77", intensity.Maximum, 770, vigorous},
		{"PMC9830234 table 2, %HRmax 95", intensity.Maximum, 959, vigorous},
		{"PMC8581515 table 1, %HRmax 96", intensity.Maximum, 960, nearMax},

		{"Garber 2011 table 5, %VO2max 36.9", intensity.OxygenMaximum, 369, veryLight},
		{"Garber 2011 table 5, %VO2max 37", intensity.OxygenMaximum, 370, light},
		{"Garber 2011 table 5, %VO2max 45.9", intensity.OxygenMaximum, 459, light},
		{"Garber 2011 table 5, %VO2max 46", intensity.OxygenMaximum, 460, moderate},
		{"Garber 2011 table 5, %VO2max 63.9", intensity.OxygenMaximum, 639, moderate},
		{"Garber 2011 table 5, %VO2max 64", intensity.OxygenMaximum, 640, vigorous},
		{"Garber 2011 table 5, %VO2max 90.9", intensity.OxygenMaximum, 909, vigorous},
		{"Garber 2011 table 5, %VO2max 91", intensity.OxygenMaximum, 910, nearMax},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := tt.method.Of(tt.tenths, 1000); got != tt.want {
				t.Errorf("%s.Of(%d tenths of a per cent) = %s; want %s", tt.method, tt.tenths, got, tt.want)
			}
		})
	}
}

// The edge that is shown is the edge that is classed by.
func TestMethodFrom(t *testing.T) {
	names := map[string]bool{}
	for _, m := range intensity.Methods() {
		names[m.String()] = true
		for _, c := range intensity.Classes()[1:] {
			edge := int64(m.From(c))
			if m.Of(edge, 100) != c || m.Of(edge*1000-1, 100_000) != c-1 {
				t.Errorf("%s starts %s at %d %%, but classes it %s and below it %s", m, c, edge, m.Of(edge, 100), m.Of(edge*1000-1, 100_000))
			}
		}
		if m.From(veryLight) != 0 || m.From(none) != 0 || m.From(nearMax+1) != 0 {
			t.Errorf("%s: an edge without a class", m)
		}
	}
	for _, want := range []string{"heart_rate_reserve", "oxygen_uptake_reserve", "maximal_heart_rate", "maximal_oxygen_uptake"} {
		if !names[want] {
			t.Errorf("no method %s", want)
		}
	}
	if got := intensity.Method(9).String(); got != "Method(9)" {
		t.Errorf("an unknown method is called %s", got)
	}
	if got := intensity.Method(4).String(); got != "Method(4)" {
		t.Errorf("the first unknown method is called %s", got)
	}
}

func TestEffort(t *testing.T) {
	for _, tt := range []struct {
		source string
		effort intensity.Effort
		want   intensity.Class
	}{
		{"PMC8581515 table 1: 6", 6, veryLight},
		{"PMC8581515 table 1: < 9", 8, veryLight},
		{"PMC9830234 table 2: 9-11", 9, light},
		{"PMC9830234 table 2: 9-11, upper", 11, light},
		{"PMC9830234 table 2: 12-13", 12, moderate},
		{"PMC9830234 table 2: 12-13, upper", 13, moderate},
		{"PMC9830234 table 2: 14-17", 14, vigorous},
		{"PMC9830234 table 2: 14-17, upper", 17, vigorous},
		{"PMC8581515 table 1: 18-20", 18, nearMax},
		{"PMC8581515 table 1: 20", 20, nearMax},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := tt.effort.Class()
			if err != nil || got != tt.want {
				t.Errorf("Effort(%d).Class() = %s, %v; want %s", tt.effort, got, err, tt.want)
			}
			if low, high := intensity.EffortRange(tt.want); tt.effort < low || tt.effort > high {
				t.Errorf("EffortRange(%s) = %d-%d, without %d", tt.want, low, high, tt.effort)
			}
		})
	}
	for _, bad := range []intensity.Effort{5, 21, 0, -6} {
		if got, err := bad.Class(); err == nil {
			t.Errorf("Effort(%d).Class() = %s; want an error", bad, got)
		}
	}
	next := intensity.EffortMin
	for _, c := range intensity.Classes() {
		low, high := intensity.EffortRange(c)
		if low != next || high < low {
			t.Errorf("EffortRange(%s) = %d-%d; want from %d", c, low, high, next)
		}
		next = high + 1
	}
	if next != intensity.EffortMax+1 {
		t.Errorf("the ranges end at %d", next-1)
	}
	if low, high := intensity.EffortRange(none); low != 0 || high != 0 {
		t.Errorf("EffortRange(none) = %d-%d", low, high)
	}
}

// The two scales from 0 to 10 put the same number into different classes.
func TestTheTwoScalesFromNoughtToTen(t *testing.T) {
	for _, tt := range []struct {
		source string
		cr10   string
		want   intensity.Class
	}{
		{"Norton 2010, CR10 0", "0", veryLight},
		{"Norton 2010, CR10 0.5", "0.5", veryLight},
		{"Norton 2010, CR10 1-2", "1", light},
		{"Norton 2010, CR10 1-2, upper", "2", light},
		{"half point between", "2.5", light},
		{"Norton 2010, CR10 3-4", "3", moderate},
		{"Foster 2009, at the last positive stage minus one: 3.6", "3.5", moderate},
		{"Norton 2010, CR10 3-4, upper", "4", moderate},
		{"half point between", "4.5", moderate},
		{"Norton 2010, CR10 5-6", "5", vigorous},
		{"Foster 2009, at the equivocal stage: 6.3", "6.5", vigorous},
		{"Norton 2010, CR10 from 7", "7", nearMax},
		{"Norton 2010, CR10 10", "10", nearMax},
	} {
		t.Run(tt.source+"/"+tt.cr10, func(t *testing.T) {
			v, err := intensity.ParseCR10(tt.cr10)
			if err != nil {
				t.Fatal(err)
			}
			if got, err := v.Class(); err != nil || got != tt.want || v.String() != tt.cr10 {
				t.Errorf("CR10 %s = %s, %v; want %s", v, got, err, tt.want)
			}
		})
	}
	for _, bad := range []string{"", "10.5", "11", "4.2", "4.25", "-1", "4,5", "+4", "4.", ".5", " 4", "1e1"} {
		if got, err := intensity.ParseCR10(bad); err == nil || got != 0 {
			t.Errorf("ParseCR10(%q) = %s; want an error", bad, got)
		}
	}
	if got, err := intensity.CR10(105).Class(); err == nil {
		t.Errorf("CR10 10.5 = %s; want an error", got)
	}
	for _, tt := range []struct {
		source string
		points intensity.RelativeEffort
		want   intensity.Class
	}{
		{"PAGA 2018 p. 106: sitting", 0, veryLight},
		{"below the named points", 2, veryLight},
		{"second-hand: 3-4 light", 3, light},
		{"second-hand: 3-4 light, upper", 4, light},
		{"PAGA 2018 p. 106: 5-6", 5, moderate},
		{"PAGA 2018 p. 106: 5-6, upper", 6, moderate},
		{"PAGA 2018 p. 106: 7-8", 7, vigorous},
		{"PAGA 2018 p. 106: 7-8, upper", 8, vigorous},
		{"above the named points", 9, nearMax},
		{"PAGA 2018 p. 106: maximal", 10, nearMax},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got, err := tt.points.Class(); err != nil || got != tt.want {
				t.Errorf("RelativeEffort(%d) = %s, %v; want %s", tt.points, got, err, tt.want)
			}
		})
	}
	for _, bad := range []intensity.RelativeEffort{-1, 11} {
		if got, err := bad.Class(); err == nil {
			t.Errorf("RelativeEffort(%d) = %s; want an error", bad, got)
		}
	}
}

func TestMET(t *testing.T) {
	for _, tt := range []struct {
		source string
		met    string
		age    int // 0 for all adults
		want   intensity.Class
	}{
		{"Garber 2011 table 5 (from memory): 1.9", "1.9", 0, veryLight},
		{"Garber 2011 table 5 (from memory): 2.0", "2", 0, light},
		{"PAGA 2018 p. 108: walking 2.0 mph, 2.5", "2.5", 0, light},
		{"PAGA 2018 p. 71: below 3.0", "2.99", 0, light},
		{"PAGA 2018 p. 71: 3.0", "3", 0, moderate},
		{"PAGA 2018 p. 71: 5.9", "5.9", 0, moderate},
		{"PAGA 2018 p. 71: below 6.0", "5.99", 0, moderate},
		{"PAGA 2018 p. 71: 6.0", "6.0", 0, vigorous},
		{"PMC8321902 table 1: 8.7", "8.79", 0, vigorous},
		{"PMC8321902 table 1: 8.8", "8.8", 0, nearMax},

		{"Garber 2011 table 5 by age (from memory)", "2.39", 20, veryLight},
		{"Garber 2011 table 5 by age (from memory)", "2.4", 39, light},
		{"Garber 2011 table 5 by age (from memory)", "4.79", 39, light},
		{"Garber 2011 table 5 by age (from memory)", "4.8", 20, moderate},
		{"Garber 2011 table 5 by age (from memory)", "7.19", 30, moderate},
		{"Garber 2011 table 5 by age (from memory)", "7.2", 30, vigorous},
		{"Garber 2011 table 5 by age (from memory)", "10.19", 30, vigorous},
		{"Garber 2011 table 5 by age (from memory)", "10.2", 30, nearMax},
		{"read in the youngest column", "4.79", 18, light},
		{"Garber 2011 table 5 by age (from memory)", "1.99", 40, veryLight},
		{"Garber 2011 table 5 by age (from memory)", "2.0", 64, light},
		{"Garber 2011 table 5 by age (from memory)", "3.99", 64, light},
		{"Garber 2011 table 5 by age (from memory)", "4.0", 40, moderate},
		{"Garber 2011 table 5 by age (from memory)", "5.99", 50, moderate},
		{"Garber 2011 table 5 by age (from memory)", "6.0", 50, vigorous},
		{"Garber 2011 table 5 by age (from memory)", "8.49", 50, vigorous},
		{"Garber 2011 table 5 by age (from memory)", "8.5", 50, nearMax},
		{"Garber 2011 table 5 by age (from memory)", "1.59", 65, veryLight},
		{"Garber 2011 table 5 by age (from memory)", "1.6", 65, light},
		{"Garber 2011 table 5 by age (from memory)", "3.19", 65, light},
		{"Garber 2011 table 5 by age (from memory)", "3.2", 90, moderate},
		{"Garber 2011 table 5 by age (from memory)", "4.79", 65, moderate},
		{"Garber 2011 table 5 by age (from memory)", "4.8", 65, vigorous},
		{"Garber 2011 table 5 by age (from memory)", "6.79", 65, vigorous},
		{"Garber 2011 table 5 by age (from memory)", "6.8", 65, nearMax},
	} {
		t.Run(tt.source+"/"+tt.met, func(t *testing.T) {
			m, err := intensity.ParseMET(tt.met)
			if err != nil {
				t.Fatal(err)
			}
			got, err := m.Class()
			if tt.age != 0 {
				got, err = m.ClassAt(tt.age)
			}
			if err != nil || got != tt.want {
				t.Errorf("%s METs at %d = %s, %v; want %s", m, tt.age, got, err, tt.want)
			}
		})
	}
	for _, bad := range []intensity.MET{0, -300} {
		if _, err := bad.Class(); err == nil {
			t.Errorf("%s METs: no error", bad)
		}
		if _, err := bad.ClassAt(50); err == nil {
			t.Errorf("%s METs at 50: no error", bad)
		}
	}
	if _, err := intensity.MET(300).ClassAt(17); err == nil {
		t.Error("METs at 17: no error")
	}
	if got, err := intensity.ParseMET("3.333"); err == nil || got != 0 {
		t.Errorf("ParseMET(3.333) = %s, %v; it would be rounded in silence", got, err)
	}
	if got, err := intensity.MET(1).Class(); err != nil || got != veryLight || intensity.MET(1).String() != "0.01" {
		t.Errorf("%s METs = %s, %v", intensity.MET(1), got, err)
	}
	if got, err := intensity.MET(1).ClassAt(18); err != nil || got != veryLight {
		t.Errorf("0.01 METs at 18 = %s, %v", got, err)
	}
}

func TestCheckMET(t *testing.T) {
	policy := intensity.PolicyFrom(nil)
	for _, tt := range []struct {
		source string
		met    intensity.MET
		want   intensity.Verdict
	}{
		{"practice setting: below 0.9", 89, intensity.Reject},
		{"practice setting: 0.9", 90, intensity.OK},
		{"practice setting: 14", 1400, intensity.OK},
		{"practice setting: above 14", 1401, intensity.Confirm},
		{"practice setting: 25", 2500, intensity.Confirm},
		{"practice setting: above 25", 2501, intensity.Reject},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got := intensity.CheckMET(tt.met, policy)
			if got.Verdict != tt.want || (got.Sentence == "") != (tt.want == intensity.OK) || got.Hold {
				t.Errorf("CheckMET(%s) = %+v; want %s", tt.met, got, tt.want)
			}
		})
	}
	if got := intensity.OK.String() + intensity.Confirm.String() + intensity.Reject.String(); got != "okconfirmreject" {
		t.Errorf("verdicts %s", got)
	}
}

func TestNumbers(t *testing.T) {
	for text, want := range map[string]intensity.Percent{"0": 0, "40": 4000, "87.5": 8750, "33.33": 3333, "100": 10_000, "0.05": 5, "007": 700, "123456789": 123456789 * intensity.OnePercent} {
		if got, err := intensity.ParsePercent(text); err != nil || got != want {
			t.Errorf("ParsePercent(%q) = %d, %v; want %d", text, got, err, want)
		}
	}
	for _, bad := range []string{"", ".", "40%", "-1", "1.234", "1.", "1234567890", "forty", "4 0", "４"} {
		if got, err := intensity.ParsePercent(bad); err == nil || got != 0 {
			t.Errorf("ParsePercent(%q) = %d; want an error", bad, got)
		}
	}
	if got := (40 * intensity.OnePercent).String(); got != "40" {
		t.Errorf("40 x 1 %% = %s", got)
	}
	for p, want := range map[intensity.Percent]string{4000: "40", 8750: "87.5", 5: "0.05", -833: "-8.33", 0: "0"} {
		if got := p.String(); got != want {
			t.Errorf("Percent(%d) = %s; want %s", int(p), got, want)
		}
	}
}

func TestNumbersReadWhatTheyWrite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := intensity.Percent(rapid.IntRange(0, 99_999_999).Draw(t, "percent"))
		if got, err := intensity.ParsePercent(p.String()); err != nil || got != p {
			t.Fatalf("%d written %s, read %d, %v", int(p), p, int(got), err)
		}
	})
}

func FuzzNumbers(f *testing.F) {
	for _, s := range []string{"40", "87.5", "0.5", "", ".", "-1", "1e9", "999999999.99"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if p, err := intensity.ParsePercent(s); err == nil {
			if again, err := intensity.ParsePercent(p.String()); err != nil || again != p || p < 0 {
				t.Errorf("ParsePercent(%q) = %s, read again %s, %v", s, p, again, err)
			}
		}
		if m, err := intensity.ParseMET(s); err == nil && m < 0 {
			t.Errorf("ParseMET(%q) = %s", s, m)
		}
		if v, err := intensity.ParseCR10(s); err == nil && !v.Valid() {
			t.Errorf("ParseCR10(%q) = %s", s, v)
		}
		if k, err := intensity.ParseTalk(s); err == nil && k.Class() == intensity.None {
			t.Errorf("ParseTalk(%q) = %s", s, k)
		}
		if c, err := intensity.ParseClass(s); err == nil && c.String() != s {
			t.Errorf("ParseClass(%q) = %s", s, c)
		}
	})
}

func TestClass(t *testing.T) {
	for _, c := range append(intensity.Classes(), none) {
		text, err := c.MarshalText()
		var back intensity.Class
		if err == nil {
			err = back.UnmarshalText(text)
		}
		if err != nil || back != c || string(text) != c.String() {
			t.Errorf("%s written %s, read %s, %v", c, text, back, err)
		}
	}
	for _, bad := range []intensity.Class{-1, 6} {
		if got := bad.String(); !strings.HasPrefix(got, "Class(") {
			t.Errorf("an unknown class is called %s", got)
		}
		if _, err := bad.MarshalText(); err == nil {
			t.Errorf("%s: written", bad)
		}
	}
	var c intensity.Class
	if err := c.UnmarshalText([]byte("hard")); err == nil {
		t.Errorf("hard read as %s", c)
	}
}
