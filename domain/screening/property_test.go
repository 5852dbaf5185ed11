package screening_test

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
)

// All of these are invariants of our own design, not of a publication.

// allCodes is the codes of all questions.
var allCodes = func() []string {
	var codes []string
	for _, term := range screening.Codes() {
		codes = append(codes, term.Code)
	}
	return codes
}()

func drawFile(t *rapid.T) clearance.File {
	var f clearance.File
	for i := range rapid.IntRange(0, 3).Draw(t, "decisions") {
		d := clearance.Decision{
			ID:        string(rune('a' + i)),
			DecidedOn: today.AddDays(-rapid.IntRange(0, 500).Draw(t, "days ago")),
			Outcome: rapid.SampledFrom([]clearance.Outcome{
				clearance.Cleared, clearance.Cleared, clearance.Cleared, clearance.ClearedWithLimits, clearance.NotNow, clearance.ReferOn,
			}).Draw(t, "outcome"),
			Considered: rapid.SliceOfN(rapid.SampledFrom(allCodes), 0, 8).Draw(t, "covers"),
			DecidedBy:  clearance.Clinician{Specialist: rapid.Bool().Draw(t, "specialist")},
		}
		d.ReceivedOn = d.DecidedOn
		if d.Outcome.Allows() {
			d.Ceiling = rapid.SampledFrom([]intensity.Class{light, moderate, vigorous}).Draw(t, "ceiling")
		}
		if i > 0 && rapid.Bool().Draw(t, "supersedes") {
			d.Supersedes = string(rune('a' + i - 1))
		}
		f.Decisions = append(f.Decisions, d)
	}
	return f
}

func drawInput(t *rapid.T) (screening.Input, clearance.File) {
	in := screening.Input{
		Today: today, Age: rapid.IntRange(1, 110).Draw(t, "age"),
		Desired: rapid.SampledFrom([]intensity.Class{light, moderate, vigorous}).Draw(t, "desired"),
		Activity: screening.Activity{
			Days: rapid.IntRange(0, 7).Draw(t, "days"), Minutes: rapid.IntRange(0, 90).Draw(t, "minutes"),
			Months: rapid.IntRange(0, 24).Draw(t, "months"), Class: intensity.Class(rapid.IntRange(0, 5).Draw(t, "class")),
		},
		FirstPhaseDone: rapid.Bool().Draw(t, "first phase done"),
	}
	for _, code := range allCodes {
		must(in.Answers.Set(code, screening.No))
	}
	some := rapid.SliceOfN(rapid.SampledFrom(allCodes), 0, 4).Draw(t, "yes")
	for _, code := range some {
		must(in.Answers.Set(code, rapid.SampledFrom([]screening.Answer{screening.Yes, screening.NotSure, screening.Unanswered}).Draw(t, "answer")))
		if rapid.Bool().Draw(t, "onset known") {
			in.Since = append(in.Since, screening.Onset{Code: code, On: today.AddDays(-rapid.IntRange(0, 600).Draw(t, "since"))})
		}
	}
	f := drawFile(t)
	in.Clearance = f.Summarise(clearance.Aerobic, today, clearance.PolicyFrom(nil))
	return in, f
}

func drawPolicy(t *rapid.T) screening.Policy {
	return screening.PolicyFrom(map[string]int{
		"screening.diabetes_walking_exception": rapid.IntRange(0, 1).Draw(t, "walking"),
		"clearance.practice_flag_vigorous":     rapid.IntRange(0, 1).Draw(t, "flag"),
	})
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}

func mustDecide(t *rapid.T, in screening.Input, p screening.Policy) screening.Decision {
	d, err := screening.Decide(in, p)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// More evidence of disease never raises a ceiling, nor loosens a hold.
func TestMoreEvidenceNeverRaises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, _ := drawInput(t)
		p := drawPolicy(t)
		before := mustDecide(t, in, p)
		code := rapid.SampledFrom(allCodes).Draw(t, "added")
		if in.Answers.Of(code) == screening.Unanswered {
			t.Skip("an answer to an open question may allow something")
		}
		must(in.Answers.Set(code, screening.Yes))
		after := mustDecide(t, in, p)
		// The light first phase is for the healthy. Who turns out ill, but is covered
		// by a doctor's decision, is in the doctor's hands instead; who may walk with
		// diabetes, in those of the walking exception.
		rises := after.CeilingNow > before.CeilingNow
		if before.PracticeRule == "P1" && after.PracticeRule == "" && (after.OnFile[:3] == "cap" || after.WalkingOnly) {
			rises = after.RowCeiling > before.RowCeiling
		}
		if rises || after.MayProgressTo > before.MayProgressTo || after.Hold < before.Hold {
			t.Fatalf("with %s: %v, %v, %v after %v, %v, %v", code, after.CeilingNow, after.MayProgressTo, after.Hold,
				before.CeilingNow, before.MayProgressTo, before.Hold)
		}
	})
}

// An older decision never allows more than the same one signed later.
func TestOlderDecisionNeverRaises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, f := drawInput(t)
		if len(f.Decisions) != 1 {
			t.Skip("one decision")
		}
		p := drawPolicy(t)
		before := mustDecide(t, in, p)
		f.Decisions[0].DecidedOn = f.Decisions[0].DecidedOn.AddDays(-rapid.IntRange(0, 400).Draw(t, "older"))
		in.Clearance = f.Summarise(clearance.Aerobic, today, clearance.PolicyFrom(nil))
		after := mustDecide(t, in, p)
		if after.CeilingNow > before.CeilingNow || after.MayProgressTo > before.MayProgressTo || after.Hold < before.Hold {
			t.Fatalf("older: %v, %v, %v after %v, %v, %v", after.CeilingNow, after.MayProgressTo, after.Hold,
				before.CeilingNow, before.MayProgressTo, before.Hold)
		}
	})
}

// Lapsing never raises a ceiling: whatever the day, a later day allows no more.
func TestLapseNeverRaises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, f := drawInput(t)
		p := drawPolicy(t)
		before := mustDecide(t, in, p)
		later := today.AddDays(rapid.IntRange(0, 800).Draw(t, "days later"))
		in.Clearance = f.Summarise(clearance.Aerobic, later, clearance.PolicyFrom(nil))
		after := mustDecide(t, in, p)
		if after.CeilingNow > before.CeilingNow || after.MayProgressTo > before.MayProgressTo || after.Hold < before.Hold {
			t.Fatalf("on %v: %v, %v, %v after %v, %v, %v", later, after.CeilingNow, after.MayProgressTo, after.Hold,
				before.CeilingNow, before.MayProgressTo, before.Hold)
		}
	})
}

func TestDecisionInvariants(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in, f := drawInput(t)
		p := drawPolicy(t)
		d := mustDecide(t, in, p)
		if d.CeilingNow > d.MayProgressTo {
			t.Errorf("ceiling %v above %v", d.CeilingNow, d.MayProgressTo)
		}
		if most := clearance.Ceiling(nil, in.Clearance); d.MayProgressTo > most {
			t.Errorf("up to %v above the doctors' %v", d.MayProgressTo, most)
		}
		if (d.Hold == clearance.All) != (d.CeilingNow == none) {
			t.Errorf("hold %v with ceiling %v", d.Hold, d.CeilingNow)
		}
		if d.CeilingNow > d.Hold.Ceiling() || d.MayProgressTo > d.Hold.Ceiling() {
			t.Errorf("ceiling %v, up to %v, under hold %v", d.CeilingNow, d.MayProgressTo, d.Hold)
		}
		if d.Rule == "" || d.RuleSet != screening.RuleSet || len(d.Sources) == 0 || len(d.Reasons) == 0 {
			t.Errorf("rule %q of %q, sources %v, reasons %q", d.Rule, d.RuleSet, d.Sources, d.Reasons)
		}
		if d.Decided() != (d.Row != "") {
			t.Errorf("row %q, decided %v", d.Row, d.Decided())
		}
		if in.Desired > d.MayProgressTo && (d.Action == screening.Start || d.Action == screening.Continue || d.Action == screening.Resume) {
			t.Errorf("%s with %v wanted and %v allowed", d.Action, in.Desired, d.MayProgressTo)
		}
		for _, h := range d.Holds() {
			if h.Scope > d.Hold || !h.Open() || h.Rule == "" || h.Reason == "" || h.Cause == "" {
				t.Errorf("hold %+v under %v", h, d.Hold)
			}
		}
		g := clearance.VigorousGate(d.GateInput(today, in.Clearance), today, clearance.PolicyFrom(nil))
		if g.Allow {
			t.Error("vigorous work without a sign-off")
		}
		copied := in
		copied.Since = slices.Clone(in.Since)
		copied.Clearance = f.Summarise(clearance.Aerobic, today, clearance.PolicyFrom(nil))
		if again := mustDecide(t, copied, p); !reflect.DeepEqual(again, d) {
			t.Errorf("decided twice: %+v and %+v", d, again)
		}
	})
}

// The widest vital sign decides: measuring more never narrows the hold.
func TestMoreVitalsNeverLoosen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var v screening.Vitals
		measure := func(low, high int, name string) *int { return num(rapid.IntRange(low, high).Draw(t, name)) }
		hold := func() clearance.Scope {
			a, err := screening.AssessVitals(v, screening.PolicyFrom(nil))
			if err != nil {
				t.Fatal(err)
			}
			return a.Hold
		}
		v.Cardiac, v.GlucoseLowering = rapid.Bool().Draw(t, "cardiac"), rapid.Bool().Draw(t, "insulin")
		last := hold()
		for i, step := range []func(){
			func() { v.SBP = measure(50, 300, "sbp") },
			func() { v.RestingHR = measure(25, 150, "hr") },
			func() { v.SpO2 = measure(50, 100, "spo2") },
			func() { v.Feverish = rapid.Bool().Draw(t, "fever") },
			func() { v.GlucoseMgDL = measure(10, 1000, "glucose") },
		} {
			step()
			if now := hold(); now < last {
				t.Fatalf("step %d loosens %v to %v", i, last, now)
			} else {
				last = now
			}
		}
		v.Cardiac = true
		if now := hold(); now < last {
			t.Fatalf("heart disease loosens %v to %v", last, now)
		}
	})
}

func BenchmarkDecide(b *testing.B) {
	healthy := client(b, 50, moderate)
	diabetes := client(b, 58, vigorous, "diabetes_type_2")
	diabetes.Activity = exercising
	ill := client(b, 66, moderate, "peripheral_artery_disease", "leg_pain_walking", "hypertension")
	covered := diabetes
	covered.Clearance = cleared(8, vigorous, "diabetes_type_2")
	p := screening.PolicyFrom(nil)
	for _, bm := range []struct {
		name string
		in   screening.Input
	}{{"healthy", healthy}, {"diabetes", diabetes}, {"symptom", ill}, {"covered", covered}} {
		b.Run(bm.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := screening.Decide(bm.in, p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
