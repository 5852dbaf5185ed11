package fitness_test

import (
	"errors"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/intensity"
)

// ready is somebody who may do anything.
func ready() fitness.Readiness {
	return fitness.Readiness{
		Screened: true, Ceiling: intensity.Vigorous, Vigorous: true, Stage: intensity.Moderate, RestCeiling: intensity.NearMaximal,
	}
}

func TestBars(t *testing.T) {
	for _, tt := range []struct {
		source string
		test   fitness.TestID
		change func(*fitness.Readiness)
		bars   []string // a piece of each
	}{
		{"practice setting: cleared for vigorous work, an all-out run", fitness.Run15Mile, func(*fitness.Readiness) {}, nil},
		{"practice setting: under a hold on vigorous work", fitness.Run15Mile, func(r *fitness.Readiness) {
			r.Ceiling, r.Holds = intensity.Moderate, []string{"a doctor has not answered"}
		}, []string{"On hold: a doctor has not answered", "asks for all-out effort; work up to moderate"}},
		{"practice setting: a walk at one's own pace under the same hold", fitness.SixMinuteWalk, func(r *fitness.Readiness) {
			r.Ceiling, r.Holds = intensity.Moderate, []string{"a doctor has not answered"}
		}, nil},
		{"ACSM guidelines, from memory: no test before a screening", fitness.SixMinuteWalk, func(r *fitness.Readiness) {
			r.Screened, r.Ceiling = false, intensity.None
		}, []string{"no screening"}},
		{"practice setting: a screening under way", fitness.RockportWalk, func(r *fitness.Readiness) { r.Unfinished = true }, []string{"under way"}},
		{"practice setting: the same, a moderate test", fitness.ChairStand, func(r *fitness.Readiness) { r.Unfinished = true }, nil},
		{"practice setting: the gate before vigorous work is shut", fitness.RockportWalk, func(r *fitness.Readiness) {
			r.Vigorous, r.WhyNot = false, "Not signed off."
		}, []string{"Not signed off."}},
		{"practice setting: all-out waits for moderate training", fitness.Cooper12Min, func(r *fitness.Readiness) { r.Stage = intensity.Light }, []string{"trains at moderate"}},
		{"practice setting: no all-out tests here", fitness.Cooper12Min, func(r *fitness.Readiness) { r.NoAllOut = true }, []string{"does no all-out tests"}},
		{"practice setting: the same, a hard test below the limit", fitness.RockportWalk, func(r *fitness.Readiness) { r.NoAllOut = true }, nil},
		{"practice setting: a doctor's limit on the heart rate", fitness.TreadmillPeak, func(r *fitness.Readiness) { r.HRLimit = 120 }, []string{"limit of 120"}},
		{"practice setting: the same, a test below the limit", fitness.SixMinuteWalk, func(r *fitness.Readiness) { r.HRLimit = 120 }, nil},
		{"V1 of the vital signs: readings at rest rule it out", fitness.ChairStand, func(r *fitness.Readiness) {
			r.RestCeiling, r.RestFindings = intensity.None, []string{"Blood pressure 210/115"}
		}, []string{"Blood pressure 210/115"}},
		{"practice setting: questions under a full stop, not screened", fitness.NonExercise, func(r *fitness.Readiness) { *r = fitness.Readiness{} }, nil},
	} {
		t.Run(tt.source, func(t *testing.T) {
			test, err := fitness.FindTest(tt.test)
			if err != nil {
				t.Fatal(err)
			}
			r := ready()
			tt.change(&r)
			bars := test.Bars(r)
			if len(bars) != len(tt.bars) {
				t.Fatalf("bars = %q; want %q", bars, tt.bars)
			}
			for i, want := range tt.bars {
				if !strings.Contains(bars[i], want) {
					t.Errorf("bar %q does not say %q", bars[i], want)
				}
			}
		})
	}
}

// A weaker person never may what a stronger one may not.
func TestBarsOnlyGrow(t *testing.T) {
	for _, test := range fitness.Tests() {
		before := true
		for c := intensity.NearMaximal; c >= intensity.None; c-- {
			r := ready()
			r.Ceiling = c
			may := test.Bars(r) == nil
			if may && !before {
				t.Errorf("%s may be done with a ceiling of %s and not with a harder one", test.ID, c)
			}
			before = may
		}
	}
}

func TestEveryTestHasACard(t *testing.T) {
	for _, test := range fitness.Tests() {
		c := test.Card()
		if c.For == "" || c.Valid == "" || len(c.Equipment) == 0 || len(c.Write) == 0 {
			t.Errorf("%s has no whole card: %+v", test.ID, c)
		}
		if (test.Effort > intensity.None) != (len(c.Stop) > 0) {
			t.Errorf("%s: %d signs to stop with %s effort", test.ID, len(c.Stop), test.Effort)
		}
		if test.Effort >= intensity.Vigorous && !c.Rest {
			t.Errorf("%s is hard and asks for nothing at rest", test.ID)
		}
		for name := range c.Limits {
			if !contains(test.Needs, name) && !contains(test.May, name) {
				t.Errorf("%s has a limit for %s, which it does not use", test.ID, name)
			}
		}
		needsMinutes := contains(test.Needs, "minutes")
		if needsMinutes != c.Timer.CountsUp {
			t.Errorf("%s: minutes needed %v, a clock that counts up %v", test.ID, needsMinutes, c.Timer.CountsUp)
		}
	}
	// How long each clock runs. Sources: ATS 2002, Cooper 1968, McArdle 1972 (3 min, pulse from second 5 to 20),
	// Golding 2000 (3 min, a full minute within 5 s), Rikli 1999, Ebbeling 1991 (4 + 4 min).
	for id, want := range map[fitness.TestID]int{
		fitness.SixMinuteWalk: 360, fitness.Cooper12Min: 720, fitness.QueensStep: 200, fitness.ThreeMinuteStep: 245,
		fitness.ChairStand: 30, fitness.TwoMinuteStep: 120, fitness.SingleStageWalk: 480, fitness.StagedStep: 600,
	} {
		test, _ := fitness.FindTest(id)
		sum := 0
		for _, p := range test.Card().Timer.Phases {
			sum += p.Seconds
		}
		if sum != want {
			t.Errorf("the clock of %s runs %d s; want %d", id, sum, want)
		}
	}
}

func contains(list []string, one string) bool {
	for _, s := range list {
		if s == one {
			return true
		}
	}
	return false
}

func TestConditions(t *testing.T) {
	rest := fitness.Conditions{RestingHR: new(70), SBP: new(130), DBP: new(80)}
	walk := rest
	walk.CourseM = new(30.0)
	with := func(c fitness.Conditions, change func(*fitness.Conditions)) fitness.Conditions {
		change(&c)
		return c
	}
	for _, tt := range []struct {
		source string
		test   fitness.TestID
		c      fitness.Conditions
		fields []string // with problems
		doubts []string
	}{
		{"ATS 2002: all measured", fitness.SixMinuteWalk, walk, nil, nil},
		{"ERS/ATS 2014: never without the length of the course", fitness.SixMinuteWalk, rest, []string{"course_m"}, nil},
		{"ATS 2002: pressure and heart rate before the walk", fitness.SixMinuteWalk, fitness.Conditions{CourseM: new(30.0)}, []string{"dbp", "resting_before", "sbp"}, nil},
		{"ATS 2002: not within a month of a heart attack", fitness.SixMinuteWalk, with(walk, func(c *fitness.Conditions) { c.RecentHeart = true }), []string{"recent_heart"}, nil},
		{"ATS 2002: 120 is still in order", fitness.SixMinuteWalk, with(walk, func(c *fitness.Conditions) { c.RestingHR = new(120) }), nil, nil},
		{"ATS 2002: with caution above 120", fitness.SixMinuteWalk, with(walk, func(c *fitness.Conditions) { c.RestingHR = new(121) }), nil, []string{"resting_before"}},
		{"ATS 2002: with caution above 180 or 100", fitness.SixMinuteWalk, with(walk, func(c *fitness.Conditions) { c.SBP, c.DBP = new(181), new(101) }), nil, []string{"dbp", "sbp"}},
		{"common practice: upper and lower swapped", fitness.Run15Mile, with(rest, func(c *fitness.Conditions) { c.SBP, c.DBP = new(80), new(130) }), []string{"dbp"}, nil},
		{"common practice: saturation is a per cent", fitness.ChairStand, fitness.Conditions{SpO2: new(101)}, []string{"spo2"}, nil},
		{"practice setting: nothing at rest for chair stands", fitness.ChairStand, fitness.Conditions{}, nil, nil},
	} {
		t.Run(tt.source, func(t *testing.T) {
			test, err := fitness.FindTest(tt.test)
			if err != nil {
				t.Fatal(err)
			}
			err = tt.c.Check(test)
			doubts, isDoubts := errors.AsType[domain.Doubts](err)
			switch {
			case tt.fields != nil:
				refuses(t, err, tt.fields...)
			case tt.doubts != nil:
				if !isDoubts || len(doubts) != len(tt.doubts) {
					t.Fatalf("Check = %v; want doubts at %v", err, tt.doubts)
				}
				for _, f := range tt.doubts {
					if doubts[f] == "" {
						t.Errorf("no doubt at %s", f)
					}
				}
			case err != nil:
				t.Errorf("Check = %v; want nothing", err)
			}
		})
	}
}

// Practice setting: a peak is offered from a graded test that went to the limit on
// the medicines of every day, and from nothing else.
func TestPeak(t *testing.T) {
	whole := fitness.Conditions{PeakHR: new(168), ToLimit: true, UsualMedicines: true}
	early, other, none := whole, whole, whole
	early.ToLimit, other.UsualMedicines, none.PeakHR = false, false, nil
	for _, tt := range []struct {
		test fitness.TestID
		c    fitness.Conditions
		want int
	}{
		{fitness.TreadmillPeak, whole, 168}, {fitness.CyclePeak, whole, 168}, {fitness.TreadmillPeak, early, 0},
		{fitness.TreadmillPeak, other, 0}, {fitness.CyclePeak, none, 0}, {fitness.Run15Mile, whole, 0}, {fitness.SixMinuteWalk, whole, 0},
	} {
		test, _ := fitness.FindTest(tt.test)
		if got := test.Peak(tt.c); got != tt.want {
			t.Errorf("%s, %+v: peak %d; want %d", tt.test, tt.c, got, tt.want)
		}
	}
}
