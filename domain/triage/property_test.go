package triage_test

import (
	"reflect"
	"testing"

	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/triage"

	"pgregory.net/rapid"
)

func drawReports(t *rapid.T, least, most int) []triage.Report {
	codes := triage.Codes()
	picks := rapid.SliceOfN(rapid.IntRange(0, len(codes)-1), least, most).Draw(t, "reports")
	var reports []triage.Report
	for _, i := range picks {
		reports = append(reports, codes[i].Report)
	}
	return reports
}

func drawKnown(t *rapid.T) []triage.Flag {
	var known []triage.Flag
	for _, f := range triage.Flags() {
		if rapid.Bool().Draw(t, string(f.Flag)) {
			known = append(known, f.Flag)
		}
	}
	return known
}

func drawNumbers(t *rapid.T) triage.Numbers {
	class := func(label string) intensity.Class {
		return intensity.Class(rapid.IntRange(0, 5).Draw(t, label))
	}
	return triage.Numbers{
		PeakHR: rapid.SampledFrom([]int{0, 120, 150, 200}).Draw(t, "peak"), CeilingHR: rapid.SampledFrom([]int{0, 130}).Draw(t, "ceiling"),
		Effort: rapid.SampledFrom([]int{0, 12, 18}).Draw(t, "effort"), Prescribed: class("prescribed"), Done: class("done"),
		Ceiling: class("allowed"), Talk: class("talk"), HeartSay: class("heart"), Oxygen: rapid.SampledFrom([]int{0, 84, 87, 95}).Draw(t, "oxygen"),
		Systolic: rapid.SampledFrom([]int{0, 130, 185}).Draw(t, "systolic"), WeekSpike: rapid.Bool().Draw(t, "spike"),
	}
}

// A further report never lowers the level or the hold, and never puts anything
// off.
func TestMoreReportsNeverLower(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := triage.Input{Reports: drawReports(t, 0, 6), Known: drawKnown(t), Numbers: drawNumbers(t)}
		if rapid.Bool().Draw(t, "V1") {
			in.Vitals = []string{"V1"}
		}
		before, _ := triage.Assess(in, triage.PolicyFrom(nil))
		in.Reports = append(in.Reports, drawReports(t, 1, 1)...)
		after, _ := triage.Assess(in, triage.PolicyFrom(nil))
		if after.Level < before.Level || after.Hold < before.Hold || before.Act.Due.Before(after.Act.Due) ||
			after.FreezeDays < before.FreezeDays || before.Act.Doctor && !after.Act.Doctor {
			t.Fatalf("%v knowing %v: %s, %s, due %s; without the last: %s, %s, due %s", in.Reports, in.Known,
				after.Level, after.Hold, after.Act.Due, before.Level, before.Hold, before.Act.Due)
		}
	})
}

// What an assessment says of itself fits together.
func TestAssessmentFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := triage.Input{Reports: drawReports(t, 0, 5), Known: drawKnown(t), Numbers: drawNumbers(t)}
		a, err := triage.Assess(in, triage.PolicyFrom(nil))
		if err != nil {
			t.Fatal(err)
		}
		if a.Level == triage.Emergency && a.Hold != clearance.All {
			t.Fatalf("%v: emergency holds %s", in.Reports, a.Hold)
		}
		if a.Level <= triage.Note && a.Hold != clearance.NoHold {
			t.Fatalf("%v: %s holds %s", in.Reports, a.Level, a.Hold)
		}
		if a.Level == triage.Emergency != a.Act.Alert || a.Act.Alert && !a.Act.Doctor {
			t.Fatalf("%v: %s with %+v", in.Reports, a.Level, a.Act)
		}
		if len(a.Tell) == 0 || len(in.Reports) > 0 && len(a.Rules) == 0 {
			t.Fatalf("%v: tells %v, rules %v", in.Reports, a.Tell, a.Rules)
		}
		if _, err := triage.Fill(a.Tell, clinic); err != nil {
			t.Fatal(err)
		}
		for _, f := range a.Findings {
			if (f.Hold != clearance.NoHold || f.Limit != triage.NoLimit) != (f.Release != triage.ByNobody) {
				t.Fatalf("%+v: a hold without release, or the reverse", f)
			}
			if f.Level == triage.Emergency && f.Release != triage.ByDoctor {
				t.Fatalf("%+v: an emergency released by %s", f, f.Release)
			}
		}
		if again, _ := triage.Assess(in, triage.PolicyFrom(nil)); !reflect.DeepEqual(a, again) {
			t.Fatalf("%v: %+v, then %+v", in.Reports, a, again)
		}
	})
}

// The order of the reports does not matter.
func TestOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		reports := drawReports(t, 2, 6)
		known := drawKnown(t)
		one, _ := triage.Assess(triage.Input{Reports: reports, Known: known}, triage.PolicyFrom(nil))
		other := rapid.Permutation(reports).Draw(t, "order")
		two, _ := triage.Assess(triage.Input{Reports: other, Known: known}, triage.PolicyFrom(nil))
		if one.Level != two.Level || one.Hold != two.Hold || !reflect.DeepEqual(one.Rules, two.Rules) {
			t.Fatalf("%v: %s %v; %v: %s %v", reports, one.Level, one.Rules, other, two.Level, two.Rules)
		}
	})
}

func FuzzAssess(f *testing.F) {
	f.Add("chest_pressure_now", "cardiac", "I fainted", 150, 87)
	f.Add("x", "", "me desmayé \xff", -1, 1000)
	f.Fuzz(func(t *testing.T, report, flag, text string, hr, oxygen int) {
		a, _ := triage.Assess(triage.Input{
			Reports: []triage.Report{triage.Report(report), "fainted"}, Known: []triage.Flag{triage.Flag(flag)}, Text: text,
			Numbers: triage.Numbers{PeakHR: hr, CeilingHR: 130, Oxygen: oxygen},
		}, triage.PolicyFrom(nil))
		if a.Level != triage.Emergency || a.Hold != clearance.All {
			t.Errorf("%q %q %d %d: %s, hold %s; want the emergency", report, flag, hr, oxygen, a.Level, a.Hold)
		}
	})
}

func FuzzScan(f *testing.F) {
	f.Add("no chest pain, no me desmayé")
	f.Add("can’t breathe \xff")
	f.Fuzz(func(t *testing.T, text string) {
		plain := triage.Scan(text)
		for _, q := range plain {
			found := false
			for _, again := range triage.Scan(text + " and a nice walk") {
				found = found || again == q
			}
			if !found {
				t.Errorf("%q: more text loses the question %s", text, q.Code)
			}
		}
	})
}

func TestFromMedicines(t *testing.T) {
	for _, tt := range []struct {
		source, text string
		want         []triage.Flag
	}{
		{practice, "amlodipine", K{"pressure_medicine"}},
		{practice, "warfarin", K{"anticoagulant"}},
		{practice, "metoprolol", K{"rate_slowing_medicine"}},
		{practice, "labetalol, apixaban", K{"pressure_medicine", "rate_slowing_medicine", "anticoagulant"}},
		{practice, "aspirin, sertraline", nil},
		{practice + ": a suggestion makes it more careful", "warfrin, amlodipin", K{"anticoagulant", "pressure_medicine"}},
		{practice + ": a suggestion excuses nothing", "metoprlol", nil},
	} {
		t.Run(tt.source+"/"+tt.text, func(t *testing.T) {
			if got := triage.FromMedicines(medicine.Match(tt.text).Matches); !reflect.DeepEqual(got, []triage.Flag(tt.want)) {
				t.Errorf("FromMedicines(%q) = %v; want %v", tt.text, got, tt.want)
			}
		})
	}
}

func TestLevelNames(t *testing.T) {
	for l := triage.Fine; l <= triage.Emergency; l++ {
		text, err := l.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var back triage.Level
		if err := back.UnmarshalText(text); err != nil || back != l {
			t.Errorf("%s came back as %s, %v", text, back, err)
		}
	}
	if got, err := triage.ParseLevel("red"); err == nil || got != triage.Emergency {
		t.Errorf("ParseLevel(red) = %s, %v; want an error, and emergency to be on the safe side", got, err)
	}
	if got := triage.Level(5).String() + triage.Level(-1).String(); got != "Level(5)Level(-1)" {
		t.Errorf("levels that do not exist are called %s", got)
	}
	if _, err := triage.Level(5).MarshalText(); err == nil {
		t.Error("level 5 is written")
	}
	if err := new(triage.Level).UnmarshalText([]byte("red")); err == nil {
		t.Error("level red is read")
	}
}

func BenchmarkAssess(b *testing.B) {
	for _, bb := range []struct {
		name string
		in   triage.Input
	}{
		{"nothing", triage.Input{}},
		{"one", triage.Input{Reports: []triage.Report{"tired_next_day"}}},
		{"three", triage.Input{Reports: []triage.Report{"tired_next_day", "fever", "dizzy_in_effort"}, Known: []triage.Flag{"cardiac"},
			Text: "a bit dizzy on the hill, otherwise a nice walk"}},
	} {
		b.Run(bb.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := triage.Assess(bb.in, triage.PolicyFrom(nil)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
