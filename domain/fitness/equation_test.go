package fitness_test

import (
	"errors"
	"math"
	"testing"

	"brae/domain/fitness"
)

func TestEquations(t *testing.T) {
	mph, watts := fitness.FromMph, fitness.FromWatts
	for _, tt := range []struct {
		source string
		vo2    func() (float64, fitness.Range, error)
		want   float64
		tol    float64
		in     fitness.Range
	}{
		{"ACSM formula slides, printed: walk 3.5 mph, 10 %", func() (float64, fitness.Range, error) { return fitness.VO2Walk(mph(3.5), 0.10) }, 29.76, 0.01, fitness.InRange},
		{"university worksheet on the ACSM equations, printed: walk 2.5 mph, 3 %", func() (float64, fitness.Range, error) { return fitness.VO2Walk(mph(2.5), 0.03) }, 13.8, 0.1, fitness.InRange},
		{"Bushman 2020, equation; worked by hand: walk 4 mph, 6 %", func() (float64, fitness.Range, error) { return fitness.VO2Walk(mph(4), 0.06) }, 25.80, 0.01, fitness.Above},
		{"Bushman 2020, equation; worked by hand: walk 107 m/min, level", func() (float64, fitness.Range, error) { return fitness.VO2Walk(107, 0) }, 14.2, 0.01, fitness.Above},
		{"Bushman 2020, equation; worked by hand: a stroll of 40 m/min", func() (float64, fitness.Range, error) { return fitness.VO2Walk(40, 0) }, 7.5, 1e-9, fitness.Below},
		{"ACSM ranges: walking from 50", func() (float64, fitness.Range, error) { return fitness.VO2Walk(50, 0) }, 8.5, 1e-9, fitness.InRange},
		{"ACSM ranges: walking to 100", func() (float64, fitness.Range, error) { return fitness.VO2Walk(100, 0) }, 13.5, 1e-9, fitness.InRange},
		{"ACSM ranges: just faster than walking", func() (float64, fitness.Range, error) { return fitness.VO2Walk(100.1, 0) }, 13.51, 1e-9, fitness.Above},
		{"ACSM ranges: just slower than walking", func() (float64, fitness.Range, error) { return fitness.VO2Walk(49.9, 0) }, 8.49, 1e-9, fitness.Below},
		{"ACSM ranges: leg cycle ends included", func() (float64, fitness.Range, error) { return fitness.VO2LegCycle(1200, 60) }, 43, 1e-9, fitness.InRange},
		{"ACSM ranges: leg cycle ends included, low", func() (float64, fitness.Range, error) { return fitness.VO2LegCycle(300, 60) }, 16, 1e-9, fitness.InRange},
		{"ACSM ranges: arm cycle ends included, low", func() (float64, fitness.Range, error) { return fitness.VO2ArmCycle(150, 75) }, 9.5, 1e-9, fitness.InRange},
		{"ACSM class sheet, printed: run 8 mph, level", func() (float64, fitness.Range, error) { return fitness.VO2Run(mph(8), 0) }, 46.38, 0.01, fitness.InRange},
		{"Bushman 2020, equation; worked by hand: run 6.5 mph, 5 %", func() (float64, fitness.Range, error) { return fitness.VO2Run(mph(6.5), 0.05) }, 46.18, 0.01, fitness.InRange},
		{"Bushman 2020, equation; worked by hand: run 107 m/min, level", func() (float64, fitness.Range, error) { return fitness.VO2Run(107, 0) }, 24.9, 0.01, fitness.Below},
		{"Bushman 2020, equation; worked by hand: 12 minutes a mile", func() (float64, fitness.Range, error) { return fitness.VO2Run(fitness.FromMilePace(12), 0) }, 30.3, 0.01, fitness.InRange},
		{"Bushman 2020, equation; worked by hand: 10 minutes a mile", func() (float64, fitness.Range, error) { return fitness.VO2Run(fitness.FromMilePace(10), 0) }, 35.66, 0.01, fitness.InRange},
		{"ACSM ranges: just slower than running", func() (float64, fitness.Range, error) { return fitness.VO2Run(133.9, 0) }, 30.28, 0.01, fitness.Below},
		{"ACSM formula slides, printed as 20: leg cycle 450 kgm/min, 62 kg", func() (float64, fitness.Range, error) { return fitness.VO2LegCycle(450, 62) }, 20.06, 0.01, fitness.InRange},
		{"question set on the ACSM equations; worked by hand: 2.5 kp, 75 rpm, 80 kg", func() (float64, fitness.Range, error) { return fitness.VO2LegCycle(fitness.LegWork(2.5, 75), 80) }, 32.31, 0.01, fitness.InRange},
		{"ACSM ranges: leg cycle from 300", func() (float64, fitness.Range, error) { return fitness.VO2LegCycle(299, 70) }, 14.69, 0.01, fitness.Below},
		{"ACSM ranges: leg cycle to 1200", func() (float64, fitness.Range, error) { return fitness.VO2LegCycle(1201, 70) }, 37.88, 0.01, fitness.Above},
		{"ACSM equation with 6.12: 7 + 11.0 x W / kg", func() (float64, fitness.Range, error) { return fitness.VO2LegCycle(watts(100), 80) }, 7 + 11.0*100/80, 0.05, fitness.InRange},
		{"ACSM equation: no load, 7", func() (float64, fitness.Range, error) { return fitness.VO2LegCycle(0, 80) }, 7, 0, fitness.Below},
		{"question set on the ACSM equations; worked by hand: arm cycle 450 kgm/min, 75 kg", func() (float64, fitness.Range, error) { return fitness.VO2ArmCycle(450, 75) }, 21.5, 0.01, fitness.InRange},
		{"ACSM ranges: arm cycle from 150", func() (float64, fitness.Range, error) { return fitness.VO2ArmCycle(149, 75) }, 9.46, 0.01, fitness.Below},
		{"ACSM ranges: arm cycle to 750", func() (float64, fitness.Range, error) { return fitness.VO2ArmCycle(751, 75) }, 33.54, 0.01, fitness.Above},
		{"ACSM ranges: arm cycle ends included", func() (float64, fitness.Range, error) { return fitness.VO2ArmCycle(750, 75) }, 33.5, 0.01, fitness.InRange},
		{"ACSM class sheet, printed as 21.8: step 0.20 m, 27 a minute", func() (float64, fitness.Range, error) { return fitness.VO2Step(27, 0.20) }, 21.83, 0.01, fitness.InRange},
		{"the same with 8 in exactly; worked by hand", func() (float64, fitness.Range, error) { return fitness.VO2Step(27, 8*fitness.MetresPerInch) }, 22.03, 0.01, fitness.InRange},
		{"ACSM stepping sheet, printed as 31.4: step 12 in, 30 a minute", func() (float64, fitness.Range, error) { return fitness.VO2Step(30, 12*fitness.MetresPerInch) }, 31.39, 0.01, fitness.InRange},
		{"ACSM ranges: stepping from 12", func() (float64, fitness.Range, error) { return fitness.VO2Step(11.9, 0.2) }, 11.58, 0.01, fitness.Below},
		{"ACSM ranges: stepping to 30", func() (float64, fitness.Range, error) { return fitness.VO2Step(30.1, 0.2) }, 23.93, 0.01, fitness.Above},
		{"ACSM ranges: a step from 0.04 m", func() (float64, fitness.Range, error) { return fitness.VO2Step(20, 0.039) }, 9.37, 0.01, fitness.Below},
		{"ACSM ranges: a step to 0.40 m", func() (float64, fitness.Range, error) { return fitness.VO2Step(20, 0.401) }, 26.70, 0.01, fitness.Above},
		{"ACSM ranges: all four ends of stepping included, low", func() (float64, fitness.Range, error) { return fitness.VO2Step(12, 0.04) }, 7.05, 0.01, fitness.InRange},
		{"ACSM ranges: all four ends of stepping included, high", func() (float64, fitness.Range, error) { return fitness.VO2Step(30, 0.40) }, 38.23, 0.01, fitness.InRange},
		{"our reading: slow on a high step is above", func() (float64, fitness.Range, error) { return fitness.VO2Step(10, 0.5) }, 17.47, 0.01, fitness.Above},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, in, err := tt.vo2()
			if err != nil {
				t.Fatal(err)
			}
			near(t, "VO2", got, tt.want, tt.tol)
			if in != tt.in {
				t.Errorf("range = %s; want %s", in, tt.in)
			}
		})
	}
}

func TestInverses(t *testing.T) {
	const acsm = "ACSM equations, solved by hand: "
	for _, tt := range []struct {
		source string
		work   func() (float64, fitness.Range, error)
		want   float64
		tol    float64
		in     fitness.Range
	}{
		{"university answer sheet, printed: level running for 8 METs", func() (float64, fitness.Range, error) { return fitness.RunSpeed(8*3.5, 0) }, 122.5, 0.01, fitness.Below},
		{"university answer key, printed: walking speed for 7 METs at 10 %", func() (float64, fitness.Range, error) { return fitness.WalkSpeed(7*3.5, 0.10) }, 75, 1e-9, fitness.InRange},
		{acsm + "the grade of 7 mph for 49.3; a printed key says 2.5 % because it took 1.8 for 0.9", func() (float64, fitness.Range, error) { return fitness.RunGrade(49.3, fitness.FromMph(7)) }, 0.049, 0.0005, fitness.InRange},
		{"question set of a university, worked by hand: leg cycle for 10 METs, 47 kg", func() (float64, fitness.Range, error) { return fitness.LegWorkFor(35, 47) }, 731, 0.5, fitness.InRange},
		{acsm + "walk at 3 METs, level", func() (float64, fitness.Range, error) { return fitness.WalkSpeed(10.5, 0) }, 70, 1e-9, fitness.InRange},
		{acsm + "walk 93.8 m/min to 29.76", func() (float64, fitness.Range, error) { return fitness.WalkGrade(29.764, 93.8) }, 0.10, 1e-6, fitness.InRange},
		{acsm + "walk faster than walking goes", func() (float64, fitness.Range, error) { return fitness.WalkSpeed(24.5, 0) }, 210, 1e-9, fitness.Above},
		{acsm + "a wall is not a treadmill", func() (float64, fitness.Range, error) { return fitness.WalkGrade(60, 50) }, 0.572, 0.001, fitness.Above},
		{acsm + "the steepest grade that is taken", func() (float64, fitness.Range, error) { return fitness.WalkGrade(83.5, 80) }, 0.5, 1e-9, fitness.InRange},
		{acsm + "run at the edge of its range", func() (float64, fitness.Range, error) { return fitness.RunSpeed(30.3, 0) }, 134, 1e-9, fitness.InRange},
		{acsm + "arm cycle for 21.5, 75 kg", func() (float64, fitness.Range, error) { return fitness.ArmWorkFor(21.5, 75) }, 450, 1e-9, fitness.InRange},
		{acsm + "arm cycle too easy for its range", func() (float64, fitness.Range, error) { return fitness.ArmWorkFor(7, 75) }, 87.5, 1e-9, fitness.Below},
		{acsm + "leg cycle without load", func() (float64, fitness.Range, error) { return fitness.LegWorkFor(7, 75) }, 0, 0, fitness.Below},
		{acsm + "step of 0.20 m for 21.83", func() (float64, fitness.Range, error) { return fitness.StepRate(21.8276, 0.20) }, 27, 1e-6, fitness.InRange},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, in, err := tt.work()
			if err != nil {
				t.Fatal(err)
			}
			near(t, "work", got, tt.want, tt.tol)
			if in != tt.in {
				t.Errorf("range = %s; want %s", in, tt.in)
			}
		})
	}
}

func TestEquationsRefuse(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, tt := range []struct {
		source string
		err    error
		fields []string
	}{
		{"no speed", third(fitness.VO2Walk(0, 0)), []string{"speed_m_min"}},
		{"downhill", third(fitness.VO2Walk(80, -0.01)), []string{"grade"}},
		{"a grade in per cent", third(fitness.VO2Run(160, 5)), []string{"grade"}},
		{"nothing is a number", third(fitness.VO2Run(nan, nan)), []string{"grade", "speed_m_min"}},
		{"endless speed", third(fitness.VO2Run(inf, 0)), []string{"speed_m_min"}},
		{"work below zero, nobody on it", third(fitness.VO2LegCycle(-1, 0)), []string{"weight_kg", "work_kgm_min"}},
		{"the same by arm", third(fitness.VO2ArmCycle(-1, nan)), []string{"weight_kg", "work_kgm_min"}},
		{"a step in centimetres", third(fitness.VO2Step(24, 30)), []string{"step_height_m"}},
		{"a step higher than a metre", third(fitness.VO2Step(24, 1.01)), []string{"step_height_m"}},
		{"steeper than any treadmill", third(fitness.VO2Walk(80, 0.51)), []string{"grade"}},
		{"no step at all", third(fitness.VO2Step(0, 0)), []string{"step_height_m", "steps_min"}},
		{"walking at rest", third(fitness.WalkSpeed(3.5, 0)), []string{"vo2"}},
		{"running at rest, downhill", third(fitness.RunSpeed(3.5, -1)), []string{"grade", "vo2"}},
		{"less than the level takes", third(fitness.RunGrade(30, 160)), []string{"vo2"}},
		{"less than the level walk takes", third(fitness.WalkGrade(10, 80)), []string{"vo2"}},
		{"no speed to find a grade at", third(fitness.WalkGrade(10, 0)), []string{"speed_m_min"}},
		{"no speed to find a running grade at", third(fitness.RunGrade(10, 0)), []string{"speed_m_min"}},
		{"less than an unloaded cycle", third(fitness.LegWorkFor(6.9, 70)), []string{"vo2"}},
		{"less than idle arms", third(fitness.ArmWorkFor(3.4, 70)), []string{"vo2"}},
		{"nobody on the cycle", third(fitness.LegWorkFor(20, 0)), []string{"weight_kg"}},
		{"nobody at the crank", third(fitness.ArmWorkFor(20, -1)), []string{"weight_kg"}},
		{"stepping at rest", third(fitness.StepRate(3.5, 0.2)), []string{"vo2"}},
		{"no height of the step", third(fitness.StepRate(20, 0)), []string{"step_height_m"}},
		{"no maximum above rest, more than all", second(fitness.VO2AtReserve(3.5, 101)), []string{"percent", "vo2max"}},
		{"a percentage that is none", second(fitness.VO2AtReserve(30, nan)), []string{"percent"}},
	} {
		t.Run(tt.source, func(t *testing.T) { refuses(t, tt.err, tt.fields...) })
	}
}

var errBeside = errors.New("a result beside an error")

// third and second return the error, or another if there is a result beside it.
func third[A, B comparable](a A, b B, err error) error {
	var noA A
	var noB B
	if err != nil && (a != noA || b != noB) {
		return errBeside
	}
	return err
}

func second[A comparable](a A, err error) error { return third(a, 0, err) }

// What lies right at a limit is taken.
func TestEquationsTake(t *testing.T) {
	for _, err := range []error{
		third(fitness.VO2Walk(80, fitness.HighestGrade)),
		third(fitness.VO2Step(24, 1)),
		third(fitness.WalkSpeed(3.6, 0)),
		third(fitness.RunGrade(35.5, 160)),
		second(fitness.VO2AtReserve(3.6, 100)),
	} {
		if err != nil {
			t.Errorf("%v; want none", err)
		}
	}
}

func TestVO2AtReserve(t *testing.T) {
	const getp = "ACSM GETP, box on the oxygen uptake reserve, from memory: "
	for _, tt := range []struct {
		source          string
		vo2max, percent float64
		want, tol       float64
	}{
		{getp + "30, 50 %, printed 16.8", 30, 50, 16.75, 1e-9},
		{getp + "30, 60 %, printed 19.4", 30, 60, 19.4, 1e-9},
		{"arithmetic: all of it", 42, 100, 42, 1e-9},
		{"arithmetic: rest", 42, 0, 3.5, 1e-9},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.VO2AtReserve(tt.vo2max, tt.percent)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "VO2", got, tt.want, tt.tol)
		})
	}
}

func TestConversions(t *testing.T) {
	for _, tt := range []struct {
		source         string
		got, want, tol float64
	}{
		{"ACSM formula slides, printed: 6 mph", fitness.FromMph(6), 160.8, 0.01},
		{"ACSM formula slides, printed 8.6: 7 mph in minutes a mile", fitness.ToMilePace(fitness.FromMph(7)), 8.57, 0.005},
		{"university answer sheet, printed: 122.5 m/min in mph", fitness.ToMph(122.5), 4.57, 0.01},
		{"university answer sheet, printed: 122.5 m/min in minutes a mile", fitness.ToMilePace(122.5), 13.1, 0.05},
		{"Bushman 2020: 12 minutes a mile", fitness.FromMilePace(12), 134.0, 1e-9},
		{"ACSM, 6.12: 540 kgm/min, which are 90 W by the teaching factor of 6", fitness.ToWatts(540), 88.2, 0.05},
		{"ACSM, 6.12: 731 kgm/min", fitness.ToWatts(731), 119.5, 0.1},
		{"ACSM, 6.12: 50 W", fitness.FromWatts(50), 306, 1e-9},
		{"university answer key, printed: 75 m/min in mph", fitness.ToMph(75), 2.8, 0.05},
		{"question set on the ACSM equations: 2.5 kp at 75 rpm", fitness.LegWork(2.5, 75), 1125, 1e-9},
		{"teaching sheet on arm cranks: 1 kp at 50 rpm, 2.4 m a turn", fitness.ArmWork(1, 50), 120, 1e-9},
		{"ACSM formula slides: 30.3 in METs", fitness.METs(30.3), 8.66, 0.005},
		{"question set on the ACSM equations: 32.31 at 80 kg in l/min", fitness.Litres(32.3125, 80), 2.585, 0.0005},
		{"ACSM class sheet, printed: net 42.88 at 50 kg", fitness.KcalMin(42.88, 50), 10.72, 0.001},
		{"teaching sheet: metronome 96 is 24 full steps", fitness.StepCycles(96), 24, 0},
		{"by definition: 150 lb", 150 * fitness.KgPerPound, 68.0388555, 1e-9},
		{"by definition: 1.5 miles", 1.5 * fitness.MetresPerMile, 2414.016, 1e-9},
		{"by definition: 16.25 in are 41.3 cm", 16.25 * fitness.MetresPerInch, 0.41275, 1e-9},
		{"by definition: 6 km/h", fitness.FromKmH(6), 100, 1e-9},
		{"by definition: 134 m/min in km/h", fitness.ToKmH(134), 8.04, 1e-9},
		{"by definition: 80 kg at 2 m", fitness.BMI(80, 200), 20, 1e-9},
		{"ACSM, from memory: people differ by 7 per cent", fitness.Spread, 0.07, 0},
		{"ACSM ranges: jogging down to 80 m/min, three miles an hour", fitness.RunLowest, 80, 0},
	} {
		t.Run(tt.source, func(t *testing.T) { near(t, "converted", tt.got, tt.want, tt.tol) })
	}
}

func TestShow(t *testing.T) {
	for _, tt := range []struct{ source, got, want string }{
		{"round only for display: oxygen to a tenth", fitness.ShowVO2(29.764), "29.8"},
		{"METs to a tenth", fitness.ShowMETs(8.504), "8.5"},
		{"watts whole", fitness.ShowWatts(119.45), "119"},
		{"km/h to a tenth", fitness.ShowKmH(8.04), "8.0"},
		{"a time to the second", fitness.ShowMinutes(12.75), "12:45"},
		{"a time just below the minute", fitness.ShowMinutes(11.9999), "12:00"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if tt.got != tt.want {
				t.Errorf("shown %s; want %s", tt.got, tt.want)
			}
		})
	}
}

func TestCostOf(t *testing.T) {
	for _, tt := range []struct {
		source               string
		work                 fitness.Work
		vo2, mets, kcal, net float64
		litres               float64
		tol                  float64
		in                   fitness.Range
	}{
		{
			"university worksheet on the ACSM equations, printed: 0.69 l/min, 103.5 kcal in 30 minutes",
			fitness.Work{Mode: fitness.Walk, SpeedMMin: new(67.0), Grade: new(0.03), WeightKg: new(50.0)},
			13.818, 3.948, 103.5 / 30, 2.58, 0.69, 0.01, fitness.InRange,
		},
		{
			"ACSM class sheet, printed: run 8 mph, 50 kg, net 10.72 kcal a minute",
			fitness.Work{Mode: fitness.Run, SpeedMMin: new(214.4), WeightKg: new(50.0)},
			46.38, 13.25, 11.595, 10.72, 2.319, 0.01, fitness.InRange,
		},
		{
			"question set on the ACSM equations; worked by hand: walk 4 mph, 6 %, 80 kg",
			fitness.Work{Mode: fitness.Walk, SpeedMMin: new(107.2), Grade: new(0.06), WeightKg: new(80.0)},
			25.80, 7.37, 10.32, 8.92, 2.064, 0.01, fitness.Above,
		},
		{
			"question set on the ACSM equations; worked by hand: run 6.5 mph, 5 %, 60 kg",
			fitness.Work{Mode: fitness.Run, SpeedMMin: new(174.2), Grade: new(0.05), WeightKg: new(60.0)},
			46.18, 13.19, 13.85, 12.80, 2.771, 0.01, fitness.InRange,
		},
		{
			"question set on the ACSM equations; worked by hand: leg cycle 1125 kgm/min, 80 kg",
			fitness.Work{Mode: fitness.LegCycle, WorkKgmMin: new(1125.0), WeightKg: new(80.0)},
			32.31, 9.23, 12.92, 11.525, 2.585, 0.01, fitness.InRange,
		},
		{
			"question set on the ACSM equations; worked by hand: arm cycle 450 kgm/min, 75 kg",
			fitness.Work{Mode: fitness.ArmCycle, WorkKgmMin: new(450.0), WeightKg: new(75.0)},
			21.5, 6.14, 8.06, 6.75, 1.6125, 0.01, fitness.InRange,
		},
		{
			"ACSM stepping sheet, printed as 31.4: step 12 in, 30 a minute; 60 kg by hand",
			fitness.Work{Mode: fitness.Step, StepsMin: new(30.0), StepHeight: new(0.3048), WeightKg: new(60.0)},
			31.39, 8.97, 9.417, 8.367, 1.883, 0.01, fitness.InRange,
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.CostOf(tt.work, defaults)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "VO2", got.VO2, tt.vo2, tt.tol)
			near(t, "METs", got.METs, tt.mets, tt.tol)
			near(t, "litres", *got.Litres, tt.litres, tt.tol)
			near(t, "kcal a minute", *got.KcalMin, tt.kcal, tt.tol)
			near(t, "net kcal a minute", *got.KcalMinNet, tt.net, tt.tol)
			if got.Range != tt.in {
				t.Errorf("range = %s; want %s", got.Range, tt.in)
			}
		})
	}
	got, err := fitness.CostOf(fitness.Work{Mode: fitness.Walk, SpeedMMin: new(67.0)}, defaults)
	if err != nil || got.KcalMin != nil || got.KcalMinNet != nil || got.Litres != nil {
		t.Errorf("without a weight = %+v, %v; want no energy", got, err)
	}
}

func TestCostOfRefuses(t *testing.T) {
	for _, tt := range []struct {
		source string
		work   fitness.Work
		fields []string
	}{
		{"no mode", fitness.Work{}, []string{"mode"}},
		{"another mode", fitness.Work{Mode: "swim", SpeedMMin: new(50.0)}, []string{"mode"}},
		{"a walk without speed", fitness.Work{Mode: fitness.Walk}, []string{"speed_m_min"}},
		{"a walk on a cycle", fitness.Work{Mode: fitness.Walk, SpeedMMin: new(80.0), WorkKgmMin: new(300.0)}, []string{"work_kgm_min"}},
		{"a run on a step", fitness.Work{Mode: fitness.Run, SpeedMMin: new(160.0), StepHeight: new(0.2), StepsMin: new(20.0)}, []string{"step_height_m", "steps_min"}},
		{"a cycle without weight", fitness.Work{Mode: fitness.LegCycle, WorkKgmMin: new(300.0)}, []string{"weight_kg"}},
		{"a crank without anything", fitness.Work{Mode: fitness.ArmCycle}, []string{"weight_kg", "work_kgm_min"}},
		{"a cycle uphill", fitness.Work{Mode: fitness.LegCycle, WorkKgmMin: new(300.0), WeightKg: new(70.0), Grade: new(0.0)}, []string{"grade"}},
		{"a step with speed", fitness.Work{Mode: fitness.Step, SpeedMMin: new(80.0)}, []string{"speed_m_min", "step_height_m", "steps_min"}},
		{"too light for the practice", fitness.Work{Mode: fitness.Walk, SpeedMMin: new(80.0), WeightKg: new(19.9)}, []string{"weight_kg"}},
		{"too heavy for the practice", fitness.Work{Mode: fitness.Walk, SpeedMMin: new(80.0), WeightKg: new(400.1)}, []string{"weight_kg"}},
		{"an impossible grade", fitness.Work{Mode: fitness.Walk, SpeedMMin: new(80.0), Grade: new(6.0)}, []string{"grade"}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			_, err := fitness.CostOf(tt.work, defaults)
			refuses(t, err, tt.fields...)
		})
	}
}
