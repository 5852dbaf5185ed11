package fitness_test

import (
	"testing"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/intensity"
)

func done(t *testing.T, in fitness.Input, course float64) fitness.Done {
	t.Helper()
	r, err := fitness.Evaluate(in, defaults)
	if err != nil {
		t.Fatal(err)
	}
	d := fitness.Done{Input: in, Result: r}
	if course > 0 {
		d.Conditions.CourseM = &course
	}
	return d
}

func walked(m float64) fitness.Input {
	return fitness.Input{Test: fitness.SixMinuteWalk, Age: new(70), Sex: fitness.Male, WeightKg: new(80.0), HeightCm: new(175.0), DistanceM: &m}
}

func stood(n int) fitness.Input {
	return fitness.Input{Test: fitness.ChairStand, Age: new(72), Sex: fitness.Female, Stands: &n}
}

func ran(minutes float64) fitness.Input {
	return fitness.Input{Test: fitness.Run15Mile, Age: new(40), Sex: fitness.Male, Minutes: &minutes}
}

func TestChanged(t *testing.T) {
	steps := fitness.Input{Test: fitness.TwoMinuteStep, Age: new(66), Sex: fitness.Male, Steps: new(85)}
	more := steps
	more.Steps = new(99)
	blunted := fitness.Input{Test: fitness.RockportWalk, Age: new(60), Sex: fitness.Female, WeightKg: new(70.0), Minutes: new(16.0), HR: new(100), HRBlunted: true}
	for _, tt := range []struct {
		source        string
		before, after fitness.Done
		tier          fitness.Tier
		by            float64
		refused       string
	}{
		{"Perera 2006: 402 to 425 m is small", done(t, walked(402), 30), done(t, walked(425), 30), fitness.Small, 23, ""},
		{"Perera 2006: 402 to 455 m is substantial", done(t, walked(402), 30), done(t, walked(455), 30), fitness.Large, 53, ""},
		{"Perera 2006: 19 m is none", done(t, walked(402), 30), done(t, walked(421), 30), fitness.WithinError, 19, ""},
		{"ERS/ATS 2014: never on another course", done(t, walked(402), 30), done(t, walked(455), 20), "", 0, "course_m"},
		{"Gill 2022: 3 stands", done(t, stood(9), 0), done(t, stood(12), 0), fitness.Real, 3, ""},
		{"Gill 2022: 2 stands are not", done(t, stood(9), 0), done(t, stood(11), 0), fitness.WithinError, 2, ""},
		{"practice setting: under one MET is within the error; 18:00 and 17:00 give 30.33 and 31.91", done(t, ran(18), 0), done(t, ran(17), 0), fitness.WithinError, 1.58, ""},
		{"practice setting: above 7 is clear; 18:00 and 14:00 give 30.33 and 38.00", done(t, ran(18), 0), done(t, ran(14), 0), fitness.Clear, 7.67, ""},
		{"common practice: no error was published for steps", done(t, steps, 0), done(t, more, 0), "", 0, "measure"},
		{"practice setting: no figure where a medicine holds the heart rate down", done(t, blunted, 0), done(t, blunted, 0), "", 0, "before"},
		{"Edgett 2018: only the same test", done(t, ran(18), 0), done(t, stood(9), 0), "", 0, "test"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			c, err := fitness.Changed(tt.before, tt.after, defaults)
			if tt.refused != "" {
				refuses(t, err, tt.refused)
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			near(t, "change", c.By, tt.by, 0.01)
			if c.Tier != tt.tier || !c.Better {
				t.Errorf("change = %+v; want %s and better", c, tt.tier)
			}
		})
	}
}

// Every test with readings is followed by something, the better of two counts, and
// what is for a group only gives no workloads.
func TestOutcomes(t *testing.T) {
	count := fitness.Input{Test: fitness.ThreeMinuteStep, Age: new(40), Sex: fitness.Male, HR: new(100)}
	fewer := count
	fewer.HR = new(92)
	a, _ := fitness.OutcomeOf(count, done(t, count, 0).Result)
	b, _ := fitness.OutcomeOf(fewer, done(t, fewer, 0).Result)
	if !b.Better(a) || a.Better(b) || a.Measure != "" {
		t.Errorf("a pulse of 92 after stepping is better than 100 (Golding 2000): %+v, %+v", a, b)
	}
	if done(t, walked(400), 30).ForWorkloads() {
		t.Error("Ross 2010: the uptake of a six-minute walk is for groups only")
	}
	if !done(t, ran(14), 0).ForWorkloads() {
		t.Error("the uptake of a run is good enough")
	}
	if got, want := fitness.DueAgain(domain.NewDate(2026, 3, 2), defaults), domain.NewDate(2026, 5, 25); got != want {
		t.Errorf("due again on %s; want %s, 12 weeks later (practice setting)", got, want)
	}
	if got := fitness.StageReached(intensity.Light, true, intensity.Moderate); got != intensity.Moderate {
		t.Errorf("who was active at moderate intensity has reached %s", got)
	}
	if got := fitness.StageReached(intensity.Light, false, intensity.Vigorous); got != intensity.Light {
		t.Errorf("who was not regular has reached %s", got)
	}
}
