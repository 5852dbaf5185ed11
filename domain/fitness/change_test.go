package fitness_test

import (
	"math"
	"testing"
	"time"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/source"
)

func TestCompare(t *testing.T) {
	const course = 30
	for _, tt := range []struct {
		source        string
		measure       fitness.Measure
		before, after float64
		by            float64
		better        bool
		tier          fitness.Tier
	}{
		{"practice setting: below one MET", fitness.MeasuredVO2max, 31.6, 35.0, 3.4, true, fitness.WithinError},
		{"practice setting: one MET", fitness.MeasuredVO2max, 31.6, 35.1, 3.5, true, fitness.Probable},
		{"practice setting: two METs", fitness.EstimatedVO2max, 30.1, 37.1, 7, true, fitness.Probable},
		{"practice setting: more than two METs", fitness.EstimatedVO2max, 30.1, 37.2, 7.1, true, fitness.Clear},
		{"practice setting: a clear loss", fitness.EstimatedVO2max, 37.2, 30.1, -7.1, false, fitness.Clear},
		{"Perera 2006: 402 to 425 m", fitness.WalkDistance, 402, 425, 23, true, fitness.Small},
		{"Perera 2006: 402 to 455 m", fitness.WalkDistance, 402, 455, 53, true, fitness.Large},
		{"Perera 2006: 19 m", fitness.WalkDistance, 400, 419, 19, true, fitness.WithinError},
		{"Perera 2006: 20 m", fitness.WalkDistance, 400, 420, 20, true, fitness.Small},
		{"Perera 2006: 49 m", fitness.WalkDistance, 400, 449, 49, true, fitness.Small},
		{"Perera 2006: 50 m less", fitness.WalkDistance, 450, 400, -50, false, fitness.Large},
		{"Gill 2022: 2 stands", fitness.Stands, 10, 12, 2, true, fitness.WithinError},
		{"Gill 2022: 3 stands", fitness.Stands, 10, 13, 3, true, fitness.Real},
		{"practice setting: 4 beats less at rest", fitness.RestingHR, 70, 66, -4, true, fitness.WithinError},
		{"practice setting: 5 beats less at rest", fitness.RestingHR, 70, 65, -5, true, fitness.Real},
		{"practice setting: 5 beats more at rest", fitness.RestingHR, 65, 70, 5, false, fitness.Real},
		{"Marschall 2014: 7 beats less at the same work", fitness.SameWorkHR, 125, 118, -7, true, fitness.WithinError},
		{"Marschall 2014: 8 beats less at the same work", fitness.SameWorkHR, 125, 117, -8, true, fitness.Real},
		{"Perera 2006: gait 0.04 m/s", fitness.GaitSpeed, 1.10, 1.14, 0.04, true, fitness.WithinError},
		{"Perera 2006: gait 0.05 m/s", fitness.GaitSpeed, 1.10, 1.15, 0.05, true, fitness.Small},
		{"Perera 2006: gait 0.09 m/s", fitness.GaitSpeed, 1.00, 1.09, 0.09, true, fitness.Small},
		{"Perera 2006: gait 0.10 m/s", fitness.GaitSpeed, 0.90, 1.00, 0.10, true, fitness.Large},
		{"arithmetic: no change is not better, where more is", fitness.GaitSpeed, 1.1, 1.1, 0, false, fitness.WithinError},
		{"arithmetic: half a stand in the mean is better", fitness.Stands, 10, 10.5, 0.5, true, fitness.WithinError},
		{"arithmetic: no change is not better", fitness.RestingHR, 70, 70, 0, false, fitness.WithinError},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.Compare(tt.measure,
				fitness.Reading{Value: tt.before, Test: fitness.RockportWalk, CourseM: course},
				fitness.Reading{Value: tt.after, Test: fitness.RockportWalk, CourseM: course}, defaults)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "change", got.By, tt.by, 1e-9)
			if got.Better != tt.better || got.Tier != tt.tier {
				t.Errorf("better %v, %s; want %v, %s", got.Better, got.Tier, tt.better, tt.tier)
			}
		})
	}
}

func TestCompareRefuses(t *testing.T) {
	of := func(m fitness.Measure, before, after fitness.Reading) error {
		_, err := fitness.Compare(m, before, after, defaults)
		return err
	}
	r := fitness.Reading{Value: 30, Test: fitness.RockportWalk, CourseM: 30}
	other := fitness.Reading{Value: 33, Test: fitness.QueensStep, CourseM: 20}
	for _, tt := range []struct {
		source string
		err    error
		fields []string
	}{
		{"two tests", of(fitness.EstimatedVO2max, r, other), []string{"test"}},
		{"tests not named", of(fitness.EstimatedVO2max, fitness.Reading{Value: 30}, fitness.Reading{Value: 33}), []string{"test"}},
		{"Holland 2014: two courses", of(fitness.WalkDistance, r, other), []string{"course_m"}},
		{"courses not known", of(fitness.WalkDistance, fitness.Reading{Value: 400}, fitness.Reading{Value: 430}), []string{"course_m"}},
		{"no such measure", of("mood", r, r), []string{"measure"}},
		{"nothing measured", of(fitness.RestingHR, fitness.Reading{}, fitness.Reading{Value: math.NaN()}), []string{"after", "before"}},
	} {
		t.Run(tt.source, func(t *testing.T) { refuses(t, tt.err, tt.fields...) })
	}
}

func TestNextTest(t *testing.T) {
	last := domain.NewDate(2025, time.February, 3)
	if got, want := fitness.NextTest(last, defaults), domain.NewDate(2025, time.March, 3); got != want {
		t.Errorf("NextTest(%s) = %s; want %s, four weeks later (practice setting)", last, got, want)
	}
}

func TestGoalReached(t *testing.T) {
	for _, tt := range []struct {
		source string
		g      fitness.Progress
		want   bool
	}{
		{"practice setting: nothing measured again", fitness.Progress{}, false},
		{"practice setting: 10 per cent more", fitness.Progress{VO2maxBefore: new(30.0), VO2maxAfter: new(33.0)}, true},
		{"practice setting: 9.9 per cent more", fitness.Progress{VO2maxBefore: new(30.0), VO2maxAfter: new(32.98)}, false},
		{"practice setting: half a pair", fitness.Progress{VO2maxAfter: new(33.0)}, false},
		{"practice setting: 8 beats less", fitness.Progress{SameWorkHRBy: new(-8)}, true},
		{"practice setting: 7 beats less", fitness.Progress{SameWorkHRBy: new(-7)}, false},
		{"practice setting: 8 beats more", fitness.Progress{SameWorkHRBy: new(8)}, false},
		{"practice setting: 30 m more", fitness.Progress{WalkBy: new(30.0)}, true},
		{"practice setting: 29 m more", fitness.Progress{WalkBy: new(29.0)}, false},
		{"practice setting: any one is enough", fitness.Progress{VO2maxBefore: new(30.0), VO2maxAfter: new(29.0), WalkBy: new(35.0)}, true},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := fitness.GoalReached(tt.g, defaults); got != tt.want {
				t.Errorf("GoalReached = %v; want %v", got, tt.want)
			}
		})
	}
	const says = "In 12 weeks one of these: 10 per cent more estimated oxygen uptake, 8 beats less at the standard walk, or 30 m more in six minutes."
	if got := fitness.BeginnerGoal(defaults); got != says {
		t.Errorf("BeginnerGoal = %q; want %q", got, says)
	}
}

func TestExpectedGains(t *testing.T) {
	gains := fitness.ExpectedGains()
	if len(gains) != 4 {
		t.Fatalf("%d gains; want 4", len(gains))
	}
	for _, g := range gains {
		if g.Who == "" || g.Says == "" || len(g.Cites) == 0 {
			t.Errorf("gain %+v is not complete", g)
		}
		for _, k := range g.Cites {
			if _, ok := source.Find(k); !ok {
				t.Errorf("%s: no citation %s", g.Who, k)
			}
		}
	}
}

func TestPostExerciseHRDrop(t *testing.T) {
	for _, tt := range []struct {
		source      string
		peak, after int
		protocol    fitness.DropProtocol
		beats       int
		abnormal    bool
	}{
		{"Cole 1999: 160 to 148 is abnormal", 160, 148, fitness.DropUpright1Min, 12, true},
		{"Cole 1999: 160 to 147 is not", 160, 147, fitness.DropUpright1Min, 13, false},
		{"Cole 2000: 42 is abnormal", 150, 108, fitness.DropSubmaximal2Min, 42, true},
		{"Cole 2000: 43 is not", 150, 107, fitness.DropSubmaximal2Min, 43, false},
		{"Watanabe 2001, from memory: 18 is abnormal", 170, 152, fitness.DropSupine1Min, 18, true},
		{"Watanabe 2001, from memory: 19 is not", 170, 151, fitness.DropSupine1Min, 19, false},
		{"arithmetic: no fall", 120, 120, fitness.DropUpright1Min, 0, true},
	} {
		t.Run(tt.source, func(t *testing.T) {
			for _, blunted := range []bool{false, true} {
				got, err := fitness.PostExerciseHRDrop(tt.peak, tt.after, tt.protocol, blunted)
				if err != nil {
					t.Fatal(err)
				}
				if got.Beats != tt.beats || got.Abnormal != tt.abnormal || got.Blunted != blunted || len(got.Cites) != 1 {
					t.Errorf("drop = %+v; want %d, abnormal %v, blunted %v", got, tt.beats, tt.abnormal, blunted)
				}
			}
		})
	}
	_, err := fitness.PostExerciseHRDrop(241, 29, "lying", false)
	refuses(t, err, "after_hr", "peak_hr", "protocol")
	_, err = fitness.PostExerciseHRDrop(140, 141, fitness.DropUpright1Min, false)
	refuses(t, err, "after_hr")
	_, err = fitness.PostExerciseHRDrop(29, 29, fitness.DropUpright1Min, false)
	refuses(t, err, "after_hr", "peak_hr")
	if _, err = fitness.PostExerciseHRDrop(240, 30, fitness.DropUpright1Min, false); err != nil {
		t.Errorf("240 to 30: %v; want none", err)
	}
}

func TestKcalMinFromHR(t *testing.T) {
	man := fitness.HRWork{Age: 35, Sex: fitness.Male, WeightKg: 80, HR: 140}
	with := func(f func(*fitness.HRWork)) fitness.HRWork { w := man; f(&w); return w }
	for _, tt := range []struct {
		source string
		work   fitness.HRWork
		want   float64
	}{
		{"Keytel 2005; worked by hand: man of 35, 80 kg, 140", man, 13.43},
		{"Keytel 2005; worked by hand: woman of 35, 60 kg, 140", with(func(w *fitness.HRWork) { w.Sex, w.WeightKg = fitness.Female, 60 }), 8.895},
		{"Keytel 2005, with oxygen uptake, from memory; by hand: man, 45", with(func(w *fitness.HRWork) { w.VO2max = new(45.0) }), 12.47},
		{"Keytel 2005, with oxygen uptake, from memory; by hand: woman, 60 kg, 38", with(func(w *fitness.HRWork) { w.Sex, w.WeightKg, w.VO2max = fitness.Female, 60, new(38.0) }), 8.081},
		{"Keytel 2005: at the edges of the sample", fitness.HRWork{Age: 45, Sex: fitness.Male, WeightKg: 120, HR: 90, VO2max: new(81.0)}, 12.786},
		{"Keytel 2005: at the other edges", fitness.HRWork{Age: 18, Sex: fitness.Female, WeightKg: 47, HR: 240, VO2max: new(27.0)}, 16.406},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.KcalMinFromHR(tt.work, defaults)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "kcal a minute", got, tt.want, 0.01)
		})
	}
	for _, tt := range []struct {
		source string
		work   fitness.HRWork
		fields []string
	}{
		{"a medicine", with(func(w *fitness.HRWork) { w.HRBlunted = true }), []string{"hr_blunted"}},
		{"older than the sample", with(func(w *fitness.HRWork) { w.Age = 46 }), []string{"age"}},
		{"younger than the sample", with(func(w *fitness.HRWork) { w.Age = 17 }), []string{"age"}},
		{"heavier than the sample", with(func(w *fitness.HRWork) { w.WeightKg = 120.1 }), []string{"weight_kg"}},
		{"lighter than the sample", with(func(w *fitness.HRWork) { w.WeightKg = 46.9 }), []string{"weight_kg"}},
		{"practice setting: near rest", with(func(w *fitness.HRWork) { w.HR = 89 }), []string{"hr"}},
		{"beyond any heart", with(func(w *fitness.HRWork) { w.HR = 241 }), []string{"hr"}},
		{"fitter than the sample", with(func(w *fitness.HRWork) { w.VO2max = new(81.1) }), []string{"vo2max"}},
		{"less fit than the sample", with(func(w *fitness.HRWork) { w.VO2max = new(26.9) }), []string{"vo2max"}},
		{"no sex", with(func(w *fitness.HRWork) { w.Sex = "" }), []string{"sex"}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			refuses(t, second(fitness.KcalMinFromHR(tt.work, defaults)), tt.fields...)
		})
	}
}

func TestLowFitness(t *testing.T) {
	standing := func(p float64) *fitness.Standing {
		return &fitness.Standing{Percentile: p, Word: fitness.WordFor(p)}
	}
	for _, tt := range []struct {
		source     string
		a          fitness.Answered
		low, known bool
		least      int
		leastKnown bool
	}{
		{"common practice: cannot run a mile in 12 minutes", fitness.Answered{RunsTheMile: new(false)}, true, true, 30, true},
		{"common practice: can", fitness.Answered{RunsTheMile: new(true)}, false, true, 0, false},
		{"nothing known", fitness.Answered{}, false, false, 0, false},
		{"the percentile goes before the mile", fitness.Answered{VO2max: new(30.3), Standing: standing(54), RunsTheMile: new(false)}, false, true, 30, true},
		{"ACSM words: low below the 20th percentile", fitness.Answered{Standing: standing(19.9), RunsTheMile: new(true)}, true, true, 0, false},
		{"ACSM words: not at the 20th", fitness.Answered{Standing: standing(20)}, false, true, 0, false},
		{"Swain 2002: start at 32", fitness.Answered{VO2max: new(32.0)}, false, false, 30, true},
		{"Swain 2002: start at 44", fitness.Answered{VO2max: new(44.0)}, false, false, 45, true},
		{"our reading of Swain 2002: 40 itself", fitness.Answered{VO2max: new(40.0)}, false, false, 30, true},
		{"an oxygen uptake goes before the mile", fitness.Answered{VO2max: new(40.1), RunsTheMile: new(false)}, true, true, 45, true},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if low, known := fitness.LowFitness(tt.a); low != tt.low || known != tt.known {
				t.Errorf("LowFitness = %v, %v; want %v, %v", low, known, tt.low, tt.known)
			}
			if least, known := fitness.LeastIntensity(tt.a); least != tt.least || known != tt.leastKnown {
				t.Errorf("LeastIntensity = %v, %v; want %v, %v", least, known, tt.least, tt.leastKnown)
			}
		})
	}
	near(t, "the twelve-minute mile, 0.2 x 134 + 3.5 by Bushman 2020", fitness.TwelveMinuteMileVO2, 30.3, 1e-9)
	run, _, err := fitness.VO2Run(fitness.FromMilePace(fitness.TwelveMinuteMile), 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "the same by the running equation", fitness.TwelveMinuteMileVO2, run, 1e-9)
}

func TestBeforeSixMinuteWalk(t *testing.T) {
	for _, tt := range []struct {
		source  string
		start   fitness.WalkStart
		refuse  bool
		caution string
	}{
		{"ATS 2002, from memory: nothing measured", fitness.WalkStart{}, false, ""},
		{"ATS 2002, from memory: within a month of a heart attack", fitness.WalkStart{RecentHeart: true}, true, ""},
		{"ATS 2002, from memory: at the limits", fitness.WalkStart{RestingHR: new(120), SBP: new(180), DBP: new(100)}, false, ""},
		{"ATS 2002, from memory: heart rate above 120", fitness.WalkStart{RestingHR: new(121)}, false, "resting_hr"},
		{"ATS 2002, from memory: systolic above 180", fitness.WalkStart{SBP: new(181)}, false, "sbp"},
		{"ATS 2002, from memory: diastolic above 100", fitness.WalkStart{DBP: new(101)}, false, "dbp"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			refuse, caution := fitness.BeforeSixMinuteWalk(tt.start)
			got := ""
			if len(caution) > 0 {
				got = caution[0]
			}
			if refuse != tt.refuse || got != tt.caution || len(caution) > 1 {
				t.Errorf("BeforeSixMinuteWalk = %v, %v; want %v, %q", refuse, caution, tt.refuse, tt.caution)
			}
		})
	}
}
