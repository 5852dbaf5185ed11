package fitness_test

import (
	"testing"

	"brae/domain/fitness"
	"brae/domain/intensity"
	"pgregory.net/rapid"
)

func work(t *testing.T, w fitness.Workloads, mode fitness.Mode, grade, height float64) fitness.Workload {
	t.Helper()
	for _, one := range w.Works {
		if one.Mode == mode && one.Grade == grade && one.StepHeight == height {
			return one
		}
	}
	t.Fatalf("no %s at %v and %v among %+v", mode, grade, height, w.Works)
	return fitness.Workload{}
}

// TestWorkFor works one person out by hand with the equations of the ACSM
// guidelines: 35 ml/kg/min, 70 kg, moderate is 40 to 60 % of 31.5 above 3.5, that
// is 16.1 to 22.4.
func TestWorkFor(t *testing.T) {
	w, err := fitness.WorkFor(fitness.Aim{
		Class: intensity.Moderate, Ceiling: intensity.Moderate, VO2max: 35, SEE: 5, WeightKg: new(70.0),
	}, defaults)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "low", w.VO2Low, 16.1, 1e-9)
	near(t, "high", w.VO2High, 22.4, 1e-9)
	near(t, "start", w.VO2Start, (3.5+0.4*26.5)/1.07, 1e-9) // 30 instead of 35, and 7 % more for the same work
	hill := work(t, w, fitness.Walk, 0.05, 0)               // (vo2 - 3.5) / (0.1 + 1.8 x 0.05)
	near(t, "walk at 5 % from", hill.Low, 12.6/0.19, 1e-9)
	near(t, "walk at 5 % to", hill.High, 18.9/0.19, 1e-9)
	if hill.Cut != fitness.InRange {
		t.Errorf("66 to 99 m/min lies in the range of walking: %+v", hill)
	}
	cycle := work(t, w, fitness.LegCycle, 0, 0) // (vo2 - 7) x 70 / 1.8
	near(t, "cycle from", cycle.Low, 9.1*70/1.8, 1e-9)
	near(t, "cycle to", cycle.High, 15.4*70/1.8, 1e-9)
	step := work(t, w, fitness.Step, 0, 0.20) // (vo2 - 3.5) / (0.2 + 2.394 x 0.2)
	near(t, "step from", step.Low, 12.6/0.6788, 1e-9)
	near(t, "step to", step.High, 18.9/0.6788, 1e-9)
	for _, one := range w.Works {
		if one.Mode == fitness.Run {
			t.Errorf("22.4 ml is no running above 134 m/min, which takes 30.3: %+v", one)
		}
		if one.Mode == fitness.Walk && one.Grade == 0 {
			t.Errorf("16.1 ml on the level is 126 m/min, faster than walking goes: %+v", one)
		}
	}
}

func TestWorkForRefuses(t *testing.T) {
	aim := fitness.Aim{Class: intensity.Vigorous, Ceiling: intensity.Moderate, VO2max: 35}
	if _, err := fitness.WorkFor(aim, defaults); !held(err) {
		t.Errorf("vigorous work above the ceiling: %v; want held", err)
	}
	aim.Ceiling = intensity.Vigorous
	for name, change := range map[string]func(*fitness.Aim){
		"class":     func(a *fitness.Aim) { a.Class = intensity.NearMaximal },
		"vo2max":    func(a *fitness.Aim) { a.VO2max = 6.9 },
		"see":       func(a *fitness.Aim) { a.SEE = -1 },
		"weight_kg": func(a *fitness.Aim) { a.WeightKg = new(2.0) },
	} {
		bad := aim
		change(&bad)
		_, err := fitness.WorkFor(bad, defaults)
		refuses(t, err, name)
	}
	w, err := fitness.WorkFor(aim, defaults)
	if err != nil || len(w.Missing) != 1 {
		t.Errorf("without a weight: missing %v, %v; want the cycle", w.Missing, err)
	}
	aim.Cap = 80
	capped, err := fitness.WorkFor(aim, defaults)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "vigorous ends at", capped.VO2High, 3.5+0.8*31.5, 1e-9)
}

// Every work that is told lies in the range of its equation, costs what the class
// asks for, and starts no harder than it goes.
func TestWorkForHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := fitness.Aim{
			Class:    intensity.Class(rapid.IntRange(int(intensity.Light), int(intensity.Vigorous)).Draw(t, "class")),
			Ceiling:  intensity.Vigorous,
			VO2max:   rapid.Float64Range(8, 70).Draw(t, "vo2max"),
			SEE:      rapid.Float64Range(0, 6).Draw(t, "see"),
			WeightKg: new(rapid.Float64Range(45, 140).Draw(t, "kg")),
		}
		w, err := fitness.WorkFor(a, defaults)
		if err != nil {
			t.Fatal(err)
		}
		if w.VO2Start > w.VO2Low {
			t.Errorf("starts at %v, above %v", w.VO2Start, w.VO2Low)
		}
		for _, one := range w.Works {
			for _, x := range []float64{one.Low, one.High} {
				in := fitness.Work{Mode: one.Mode}
				switch one.Mode {
				case fitness.Walk, fitness.Run:
					in.SpeedMMin, in.Grade = &x, &one.Grade
				case fitness.LegCycle:
					in.WorkKgmMin, in.WeightKg = &x, a.WeightKg
				case fitness.Step:
					in.StepHeight, in.StepsMin = &one.StepHeight, &x
				}
				cost, err := fitness.CostOf(in, defaults)
				if err != nil || cost.Range != fitness.InRange {
					t.Fatalf("%+v: %+v, %v", one, cost, err)
				}
				if cost.VO2 < w.VO2Low-1e-6 || cost.VO2 > w.VO2High+1e-6 {
					t.Errorf("%+v costs %v; the class goes from %v to %v", one, cost.VO2, w.VO2Low, w.VO2High)
				}
			}
			if one.Start > one.Low || one.Low > one.High {
				t.Errorf("%+v does not climb", one)
			}
		}
	})
}
