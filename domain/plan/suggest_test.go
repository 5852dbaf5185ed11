package plan_test

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brae/domain/intensity"
	"brae/domain/plan"
)

func TestSuggest(t *testing.T) {
	type codes = []string
	dose := func(class intensity.Class, sessions, minutes, hard int) plan.Dose {
		return plan.Dose{Class: class, Sessions: sessions, Minutes: minutes, Vigorous: hard}
	}
	// ready is a client who may take a step.
	ready := func(d plan.Dose, change ...func(*plan.Situation)) plan.Situation {
		s := plan.Situation{Status: plan.Ready, Dose: d, Ceiling: vigorous, Goal: 150, ChangedDays: 14}
		for _, c := range change {
			c(&s)
		}
		return s
	}
	status := func(st plan.Status) func(*plan.Situation) { return func(s *plan.Situation) { s.Status = st } }
	ceiling := func(c intensity.Class) func(*plan.Situation) { return func(s *plan.Situation) { s.Ceiling = c } }
	done := func(s *plan.Situation) { s.PhaseDone = true }
	weeks := func(n int) func(*plan.Situation) { return func(s *plan.Situation) { s.Vigorous = n } }
	small := func(s *plan.Situation) { s.Goal = 10 }
	warmed := func(d plan.Dose, easy int) plan.Dose {
		d.Easy = easy
		return d
	}
	rungs := func(r ...plan.Dose) func(*plan.Situation) { return func(s *plan.Situation) { s.Rungs = r } }
	for _, tt := range []struct {
		source    string
		situation plan.Situation
		step      plan.Component
		up        bool
		to        plan.Dose
		reserve   int
		why       codes
	}{
		// Up.
		{"ACSM guidelines, from memory: five minutes more", ready(dose(moderate, 3, 20, 0)), plan.Time, true, dose(moderate, 3, 25, 0), 0, codes{"more"}},
		{"practice setting: up to 30 minutes", ready(dose(moderate, 3, 28, 0)), plan.Time, true, dose(moderate, 3, 30, 0), 0, codes{"more"}},
		{"practice setting: then one session more", ready(dose(moderate, 3, 30, 0)), plan.Frequency, true, dose(moderate, 4, 30, 0), 0, codes{"more"}},
		{"practice setting: then time again", ready(dose(moderate, 5, 30, 0), func(s *plan.Situation) { s.Goal = 200 }), plan.Time, true, dose(moderate, 5, 35, 0), 0, codes{"more"}},
		{"practice setting: the goal is reached", ready(dose(moderate, 5, 30, 0)), plan.NoChange, false, dose(moderate, 5, 30, 0), 0, codes{"goal_reached"}},
		{"practice setting: an hour five times is the top", ready(dose(moderate, 5, 60, 0), func(s *plan.Situation) { s.Goal = 400 }), plan.NoChange, false, dose(moderate, 5, 60, 0), 0, codes{"top"}},
		{"practice setting: not twice in a week", ready(dose(moderate, 3, 20, 0), func(s *plan.Situation) { s.ChangedDays = 6 }), plan.NoChange, false, dose(moderate, 3, 20, 0), 0, codes{"too_soon"}},
		{"practice setting: once in a week", ready(dose(moderate, 3, 20, 0), func(s *plan.Situation) { s.ChangedDays = 7 }), plan.Time, true, dose(moderate, 3, 25, 0), 0, codes{"more"}},

		{"practice setting: odd minutes come to an hour", ready(dose(moderate, 5, 57, 0), func(s *plan.Situation) { s.Goal = 400 }), plan.Time, true, dose(moderate, 5, 60, 0), 0, codes{"more"}},
		{"practice setting: warm-up and cool-down do not count as time", ready(warmed(dose(moderate, 3, 35, 0), 10)), plan.Time, true, warmed(dose(moderate, 3, 40, 0), 10), 0, codes{"more"}},

		// The next phase.
		{"practice setting: light turns moderate, nothing else", ready(dose(light, 3, 25, 0), done), plan.Intensity, true, dose(moderate, 3, 25, 0), 0, codes{"phase_complete"}},
		{"practice setting: light grows until the phase is complete", ready(dose(light, 3, 25, 0)), plan.Time, true, dose(light, 3, 30, 0), 0, codes{"more"}},
		{"practice setting: light minutes reach the goal as well", ready(dose(light, 5, 30, 0)), plan.NoChange, false, dose(light, 5, 30, 0), 0, codes{"goal_reached"}},
		{"practice setting: not under a hold above light", ready(dose(light, 3, 25, 0), done, ceiling(light)), plan.Time, true, dose(light, 3, 30, 0), 0, codes{"more"}},
		{"practice setting: the first vigorous minutes", ready(dose(moderate, 5, 30, 0), done), plan.Intensity, true, dose(moderate, 5, 30, 4), 0, codes{"phase_complete"}},
		{"practice setting: not before the phase is complete", ready(dose(moderate, 5, 30, 0)), plan.NoChange, false, dose(moderate, 5, 30, 0), 0, codes{"goal_reached"}},
		{"practice setting: not under a hold", ready(dose(moderate, 5, 30, 0), done, ceiling(moderate)), plan.NoChange, false, dose(moderate, 5, 30, 0), 0, codes{"goal_reached"}},
		{"practice setting: a hold on vigorous work leaves time open", ready(dose(moderate, 3, 20, 0), ceiling(moderate)), plan.Time, true, dose(moderate, 3, 25, 0), 0, codes{"more"}},
		{
			"practice setting: a fifth in the first four weeks", // 4 of 30 minutes are allowed, 8 would be 26 per cent
			ready(dose(moderate, 1, 30, 4), func(s *plan.Situation) { s.Goal, s.Vigorous = 10, 3 }), plan.NoChange, false, dose(moderate, 1, 30, 4), 0, codes{"goal_reached"},
		},
		{
			"practice setting: more after four weeks",
			ready(dose(moderate, 1, 30, 4), func(s *plan.Situation) { s.Goal, s.Vigorous = 10, 4 }), plan.Intensity, true, dose(moderate, 1, 30, 8), 0, codes{"phase_complete"},
		},
		{
			"practice setting: half of the minutes at last",
			ready(dose(moderate, 1, 30, 12), func(s *plan.Situation) { s.Goal, s.Vigorous = 10, 9 }), plan.NoChange, false, dose(moderate, 1, 30, 12), 0, codes{"goal_reached"},
		},
		{
			"practice setting: up to 50 vigorous minutes",
			ready(dose(moderate, 5, 30, 46), func(s *plan.Situation) { s.Vigorous = 12 }), plan.Intensity, true, dose(moderate, 5, 30, 50), 0, codes{"phase_complete"},
		},
		{
			"practice setting: and no more",
			ready(dose(moderate, 5, 30, 47), func(s *plan.Situation) { s.Vigorous = 12 }), plan.NoChange, false, dose(moderate, 5, 30, 47), 0, codes{"goal_reached"},
		},

		{
			"practice setting: a fifth is allowed", // 8 of 40
			ready(dose(moderate, 1, 40, 4), small, weeks(3)), plan.Intensity, true, dose(moderate, 1, 40, 8), 0, codes{"phase_complete"},
		},
		{
			"practice setting: just over a fifth is not", // 20 of 99
			ready(dose(moderate, 1, 99, 16), small, weeks(3)), plan.NoChange, false, dose(moderate, 1, 99, 16), 0, codes{"goal_reached"},
		},
		{
			"practice setting: all of the work may be vigorous", // 10 of 20 with 10 of warm-up and cool-down
			ready(warmed(dose(moderate, 1, 20, 6), 10), small, weeks(9)), plan.Intensity, true, warmed(dose(moderate, 1, 20, 10), 10), 0, codes{"phase_complete"},
		},
		{
			"practice setting: but not the warm-up",
			ready(warmed(dose(moderate, 1, 40, 8), 30), small, weeks(9)), plan.NoChange, false, warmed(dose(moderate, 1, 40, 8), 30), 0, codes{"goal_reached"},
		},
		{
			"practice setting: one vigorous minute has begun the phase",
			ready(dose(moderate, 5, 30, 1), weeks(1)), plan.Intensity, true, dose(moderate, 5, 30, 5), 0, codes{"phase_complete"},
		},

		// Steady.
		{
			"practice setting: five per cent of the reserve within the class",
			ready(dose(moderate, 5, 30, 0), status(plan.SteadyTooLong)), plan.Intensity, true, dose(moderate, 5, 30, 0), 5, codes{"goal_reached", "within_class"},
		},
		{
			"practice setting: the same at the top",
			ready(dose(moderate, 5, 60, 0), status(plan.SteadyTooLong), func(s *plan.Situation) { s.Goal = 400 }),
			plan.Intensity, true, dose(moderate, 5, 60, 0), 5, codes{"top", "within_class"},
		},
		{"practice setting: but time first", ready(dose(moderate, 3, 20, 0), status(plan.SteadyTooLong)), plan.Time, true, dose(moderate, 3, 25, 0), 0, codes{"more"}},

		// The same again.
		{"practice setting: as planned", ready(dose(moderate, 3, 20, 0), status(plan.OnPlan), done), plan.NoChange, false, dose(moderate, 3, 20, 0), 0, codes{"keep"}},
		{"practice setting: a missed week", ready(dose(moderate, 3, 20, 0), status(plan.Behind), done), plan.NoChange, false, dose(moderate, 3, 20, 0), 0, codes{"catch_up"}},

		// Down.
		{
			"practice setting: too hard, back to the rung before", ready(dose(moderate, 4, 30, 0), status(plan.TooHard), rungs(dose(light, 3, 30, 0), dose(moderate, 3, 30, 0), dose(moderate, 4, 30, 0))),
			plan.Frequency, false, dose(moderate, 3, 30, 0), 0, codes{"easier"},
		},
		{
			"practice setting: the rung before was another in two parts, so five minutes less",
			ready(dose(moderate, 4, 30, 0), status(plan.TooHard), rungs(dose(moderate, 3, 20, 0))), plan.Time, false, dose(moderate, 4, 25, 0), 0, codes{"easier"},
		},
		{"practice setting: no rung before, five minutes less", ready(dose(moderate, 3, 20, 0), status(plan.TooHard)), plan.Time, false, dose(moderate, 3, 15, 0), 0, codes{"easier"}},
		{"practice setting: five minutes are left, so easier", ready(dose(moderate, 3, 5, 0), status(plan.TooHard)), plan.Intensity, false, dose(light, 3, 5, 0), 0, codes{"easier"}},
		{"practice setting: easy already, so less often", ready(dose(light, 3, 5, 0), status(plan.TooHard)), plan.Frequency, false, dose(light, 2, 5, 0), 0, codes{"easier"}},
		{"practice setting: once is less often than twice", ready(dose(light, 2, 5, 0), status(plan.TooHard)), plan.Frequency, false, dose(light, 1, 5, 0), 0, codes{"easier"}},
		{"practice setting: the only vigorous minute", ready(dose(moderate, 5, 30, 1), status(plan.TooHard)), plan.Intensity, false, dose(moderate, 5, 30, 0), 0, codes{"easier"}},
		{"practice setting: the warm-up is not cut", ready(warmed(dose(moderate, 3, 12, 0), 10), status(plan.TooHard)), plan.Intensity, false, warmed(dose(light, 3, 12, 0), 10), 0, codes{"easier"}},
		{"practice setting: nothing less is left", ready(dose(light, 1, 5, 0), status(plan.TooHard)), plan.NoChange, false, dose(light, 1, 5, 0), 0, codes{"easier"}},
		{"practice setting: vigorous minutes go first", ready(dose(moderate, 5, 30, 6), status(plan.TooHard)), plan.Intensity, false, dose(moderate, 5, 30, 2), 0, codes{"easier"}},
		{"practice setting: the last of them", ready(dose(moderate, 5, 30, 2), status(plan.TooHard)), plan.Intensity, false, dose(moderate, 5, 30, 0), 0, codes{"easier"}},
		{"practice setting: held, down to the ceiling", ready(dose(moderate, 5, 30, 12), status(plan.Held), ceiling(moderate), done), plan.Intensity, false, dose(moderate, 5, 30, 0), 0, codes{"under_ceiling"}},
		{"practice setting: held above light", ready(dose(moderate, 5, 30, 12), status(plan.Held), ceiling(light)), plan.Intensity, false, dose(light, 5, 30, 0), 0, codes{"under_ceiling"}},
		{"practice setting: held altogether", ready(dose(moderate, 5, 30, 12), status(plan.Held), ceiling(none)), plan.Intensity, false, plan.Dose{}, 0, codes{"under_ceiling"}},
		{
			"practice setting: back after two weeks, one rung",
			ready(dose(moderate, 4, 30, 0), status(plan.Returning), rungs(dose(moderate, 3, 30, 0)), func(s *plan.Situation) { s.Break = plan.Return{Rungs: 1} }),
			plan.Frequency, false, dose(moderate, 3, 30, 0), 0, codes{"back"},
		},
		{
			"practice setting: back after illness, under the ceiling of today",
			ready(dose(moderate, 4, 30, 0), status(plan.Returning), ceiling(light), func(s *plan.Situation) { s.Break = plan.Return{Review: true} }),
			plan.Intensity, false, dose(light, 4, 30, 0), 0, codes{"back", "review"},
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got := plan.Suggest(tt.situation, policy)
			var why codes
			for _, r := range got.Reasons {
				why = append(why, r.Code)
			}
			if got.Step != tt.step || got.Up != tt.up || got.To != tt.to || got.Reserve != tt.reserve || !slices.Equal(why, tt.why) {
				t.Errorf("Suggest(%+v) =\n%+v; want\n%v up %t to %+v, reserve %d, because %v",
					tt.situation, got, tt.step, tt.up, tt.to, tt.reserve, tt.why)
			}
		})
	}
	soon := plan.Suggest(ready(dose(moderate, 3, 20, 0), func(s *plan.Situation) { s.ChangedDays = 2 }), policy)
	goal := plan.Suggest(ready(dose(moderate, 5, 32, 0)), policy)
	if want := []plan.Reason{{Code: "too_soon", Have: 2, Need: 7}}; !reflect.DeepEqual(soon.Reasons, want) {
		t.Errorf("reasons %v; want %v", soon.Reasons, want)
	}
	if want := []plan.Reason{{Code: "goal_reached", Have: 160, Need: 150}}; !reflect.DeepEqual(goal.Reasons, want) {
		t.Errorf("reasons %v; want %v", goal.Reasons, want)
	}
}

// Whatever the situation: one part at a time, up only when ready and a week has
// passed, vigorous minutes only with the phase complete or begun, never above the
// ceiling.
func TestSuggestHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := plan.Situation{
			Status: rapid.SampledFrom([]plan.Status{
				plan.Held, plan.Returning, plan.TooHard, plan.Behind, plan.SteadyTooLong, plan.Ready, plan.OnPlan,
			}).Draw(t, "status"),
			Dose:        anyDose(t),
			Ceiling:     intensity.Class(rapid.IntRange(0, 5).Draw(t, "ceiling")),
			Goal:        rapid.IntRange(1, 500).Draw(t, "goal"),
			PhaseDone:   rapid.Bool().Draw(t, "done"),
			ChangedDays: rapid.IntRange(0, 30).Draw(t, "changed"),
			Vigorous:    rapid.IntRange(0, 20).Draw(t, "weeks"),
			Rungs:       rapid.SliceOfN(rapid.Custom(anyDose), 0, 5).Draw(t, "rungs"),
		}
		s.Break, _ = plan.StepBack(rapid.IntRange(0, 60).Draw(t, "days"), plan.Holiday, policy)
		if s.Dose.Hardest() > s.Ceiling && s.Status != plan.Returning {
			s.Status = plan.Held // as Judge has it
		}
		got := plan.Suggest(s, policy)
		if s.Status == plan.Held || s.Status == plan.Returning {
			if got.Up || got.To.Hardest() > s.Ceiling {
				t.Fatalf("%+v under %v", got, s.Ceiling)
			}
			return
		}
		changes := plan.Changes(s.Dose, got.To)
		if len(changes) > 1 || len(changes) == 1 && changes[0] != got.Step {
			t.Fatalf("%v from %+v to %+v, said %q", changes, s.Dose, got.To, got.Step)
		}
		up := got.To.Minutes > s.Dose.Minutes || got.To.Sessions > s.Dose.Sessions || got.To.Class > s.Dose.Class ||
			got.To.Vigorous > s.Dose.Vigorous || got.Reserve > 0
		if up != got.Up || up && (s.ChangedDays < 7 || s.Status != plan.Ready && s.Status != plan.SteadyTooLong) {
			t.Fatalf("%s: up %t, said %t", s.Status, up, got.Up)
		}
		if got.To.Hardest() > s.Ceiling || got.To.Hardest() > s.Dose.Hardest() && !s.PhaseDone {
			t.Fatalf("from %+v to %+v under %v", s.Dose, got.To, s.Ceiling)
		}
		if len(got.Reasons) == 0 {
			t.Fatal("no reason")
		}
	})
}
