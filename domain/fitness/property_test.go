package fitness_test

import (
	"math"
	"slices"
	"testing"

	"brae/domain/fitness"

	"pgregory.net/rapid"
)

var (
	sexes = []fitness.Sex{fitness.Male, fitness.Female}
	modes = []fitness.NormMode{fitness.Treadmill, fitness.Cycle}
)

// More oxygen uptake is never a lower percentile, nor a worse word.
func TestPercentilesAreMonotone(t *testing.T) {
	words := []fitness.Word{fitness.VeryPoor, fitness.Poor, fitness.Fair, fitness.Good, fitness.Excellent, fitness.Superior}
	rapid.Check(t, func(t *rapid.T) {
		edition := rapid.SampledFrom([]fitness.NormEdition{fitness.Norms2022, fitness.NormsOld}).Draw(t, "edition")
		age := rapid.IntRange(20, 79).Draw(t, "age")
		sex := rapid.SampledFrom(sexes).Draw(t, "sex")
		mode := rapid.SampledFrom(modes).Draw(t, "mode")
		low := rapid.Float64Range(3.6, 99).Draw(t, "low")
		high := low + rapid.Float64Range(0, 1).Draw(t, "more")
		a, err := fitness.PercentileBy(edition, age, sex, low, mode)
		if err != nil {
			t.Fatal(err)
		}
		b, err := fitness.PercentileBy(edition, age, sex, high, mode)
		if err != nil {
			t.Fatal(err)
		}
		if a.Percentile > b.Percentile || slices.Index(words, a.Word) > slices.Index(words, b.Word) {
			t.Fatalf("%v gives %v, %v gives %v", low, a, high, b)
		}
		if a.Percentile < 0.1 || b.Percentile > 99.9 {
			t.Fatalf("%v or %v is outside 0.1 to 99.9", a, b)
		}
	})
}

// The inverse of an equation gives back the work that went in, in every mode.
func TestInversesReturnTheWork(t *testing.T) {
	same := func(t *rapid.T, what string, want, got float64, there, back fitness.Range) {
		if math.Abs(got-want) > 1e-6*math.Max(1, want) {
			t.Fatalf("%s %v comes back as %v", what, want, got)
		}
		if there != back {
			t.Fatalf("%s %v is %s one way and %s the other", what, want, there, back)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		speed := rapid.Float64Range(10, 400).Draw(t, "speed")
		grade := rapid.Float64Range(0, 0.4).Draw(t, "grade")
		work := rapid.Float64Range(0, 2000).Draw(t, "work")
		weight := rapid.Float64Range(30, 200).Draw(t, "weight")
		rate := rapid.Float64Range(5, 60).Draw(t, "rate")
		height := rapid.Float64Range(0.02, 0.5).Draw(t, "height")

		vo2, in, err := fitness.VO2Walk(speed, grade)
		back, out, err2 := fitness.WalkSpeed(vo2, grade)
		none(t, err, err2)
		same(t, "walking speed", speed, back, in, out)
		back, out, err = fitness.WalkGrade(vo2+1e-9, speed)
		none(t, err)
		same(t, "walking grade", grade, back, in, out)

		vo2, in, err = fitness.VO2Run(speed, grade)
		back, out, err2 = fitness.RunSpeed(vo2, grade)
		none(t, err, err2)
		same(t, "running speed", speed, back, in, out)
		back, out, err = fitness.RunGrade(vo2+1e-9, speed)
		none(t, err)
		same(t, "running grade", grade, back, in, out)

		vo2, in, err = fitness.VO2LegCycle(work, weight)
		back, out, err2 = fitness.LegWorkFor(vo2, weight)
		none(t, err, err2)
		same(t, "leg work", work, back, in, out)

		vo2, in, err = fitness.VO2ArmCycle(work, weight)
		back, out, err2 = fitness.ArmWorkFor(vo2, weight)
		none(t, err, err2)
		same(t, "arm work", work, back, in, out)

		vo2, in, err = fitness.VO2Step(rate, height)
		back, out, err2 = fitness.StepRate(vo2, height)
		none(t, err, err2)
		same(t, "step rate", rate, back, in, out)
	})
}

func none(t *rapid.T, errs ...error) {
	for _, err := range errs {
		if err != nil {
			t.Fatal(err)
		}
	}
}

// Conversions there and back change nothing.
func TestConversionsReturn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0.1, 1000).Draw(t, "x")
		for what, back := range map[string]float64{
			"mph":   fitness.ToMph(fitness.FromMph(x)),
			"km/h":  fitness.ToKmH(fitness.FromKmH(x)),
			"pace":  fitness.ToMilePace(fitness.FromMilePace(x)),
			"watts": fitness.ToWatts(fitness.FromWatts(x)),
		} {
			if math.Abs(back-x) > 1e-9*x {
				t.Fatalf("%s: %v comes back as %v", what, x, back)
			}
		}
	})
}

// A slower time, a higher heart rate and more years never make anybody fitter, and
// no input whatever makes an estimate that is not a number above rest.
func TestEstimatesAreMonotone(t *testing.T) {
	all := samples()
	rapid.Check(t, func(t *rapid.T) {
		id := rapid.SampledFrom([]fitness.TestID{fitness.RockportWalk, fitness.RockportWalkLitres, fitness.Jog1Mile, fitness.Jog1MileTeen, fitness.QueensStep, fitness.Run15Mile, fitness.Run15MileCollege}).Draw(t, "test")
		in := all[id]
		worse := in
		if in.Minutes != nil {
			in.Minutes = new(rapid.Float64Range(9, 29).Draw(t, "minutes"))
			worse.Minutes = new(*in.Minutes + rapid.Float64Range(0, 1).Draw(t, "slower"))
		}
		if in.HR != nil {
			in.HR = new(rapid.IntRange(60, 170).Draw(t, "hr"))
			worse.HR = new(*in.HR + rapid.IntRange(0, 10).Draw(t, "higher"))
		}
		a, err := fitness.Evaluate(in, defaults)
		b, err2 := fitness.Evaluate(worse, defaults)
		none(t, err, err2)
		if b.VO2max != nil && (a.VO2max == nil || *b.VO2max > *a.VO2max || !(*b.VO2max > fitness.RestingVO2)) {
			t.Fatalf("%s: %v, then %v", id, a.VO2max, b.VO2max)
		}
		if (b.VO2max == nil) != b.Has(fitness.FlagAtRest) {
			t.Fatalf("%s: estimate %v, flags %v", id, b.VO2max, b.Flags)
		}
	})
}

// The cost of a work is in every mode more for more work, and the net energy is the
// gross without rest.
func TestCostIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mode := rapid.SampledFrom(fitness.Modes()).Draw(t, "mode")
		x := rapid.Float64Range(1, 300).Draw(t, "x")
		y := x + rapid.Float64Range(0.01, 50).Draw(t, "more")
		kg := rapid.Float64Range(30, 200).Draw(t, "kg")
		work := func(x float64) fitness.Work {
			w := fitness.Work{Mode: mode, WeightKg: &kg}
			switch mode {
			case fitness.Walk, fitness.Run:
				w.SpeedMMin = &x
			case fitness.Step:
				w.StepsMin, w.StepHeight = &x, new(0.2)
			default:
				w.WorkKgmMin = &x
			}
			return w
		}
		a, err := fitness.CostOf(work(x), defaults)
		b, err2 := fitness.CostOf(work(y), defaults)
		none(t, err, err2)
		if !(b.VO2 > a.VO2 && *b.KcalMin > *a.KcalMin) {
			t.Fatalf("%v costs %v, %v costs %v", x, a, y, b)
		}
		if rest := *a.KcalMin - *a.KcalMinNet; math.Abs(rest-3.5*kg/200) > 1e-9 {
			t.Fatalf("gross less net is %v; want one MET at %v kg", rest, kg)
		}
	})
}
