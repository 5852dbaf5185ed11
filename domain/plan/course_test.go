package plan_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/volume"
)

func TestWeekTargetAndUnder(t *testing.T) {
	mixed := plan.WeekOf(1, plan.Dose{Class: moderate, Sessions: 3, Minutes: 40, Easy: 10, Vigorous: 12})
	for _, tt := range []struct {
		source  string
		week    plan.Week
		ceiling intensity.Class
		target  volume.Target
		light   int
	}{
		{"PAGA 2018: 78 moderate, 12 vigorous count twice", mixed, vigorous, volume.Target{Minutes: 102}, 30},
		{"PAGA 2018: without vigorous ones", mixed, moderate, volume.Target{Minutes: 90}, 30},
		{"practice setting: light minutes count while all is light", mixed, light, volume.Target{Minutes: 120, Light: true}, 120},
		{"nothing is left under a hold on everything", mixed, intensity.None, volume.Target{Light: true}, 0},
	} {
		if w := tt.week.Under(tt.ceiling); w.Target() != tt.target || w.Totals.Light != tt.light || w.Hardest() > tt.ceiling {
			t.Errorf("%s: %+v with %+v", tt.source, w.Target(), w)
		}
	}
}

func TestCheckWeeks(t *testing.T) {
	week := func(class intensity.Class, sessions, minutes, easy, hard int) plan.Week {
		return plan.WeekOf(1, plan.Dose{Class: class, Sessions: sessions, Minutes: minutes, Easy: easy, Vigorous: hard})
	}
	for _, tt := range []struct {
		source string
		week   plan.Week
		field  string
		held   bool
	}{
		{"as planned", week(moderate, 5, 30, 0, 0), "", false},
		{"practice setting: 14 sessions a week at most", week(moderate, 15, 30, 0, 0), "weeks[0].sessions", false},
		{"practice setting: 240 minutes at most", week(moderate, 5, 241, 0, 0), "weeks[0].minutes", false},
		{"no minutes", week(moderate, 5, 0, 0, 0), "weeks[0].minutes", false},
		{"all of it warm-up", week(moderate, 5, 10, 10, 0), "weeks[0].easy", false},
		{"more vigorous minutes than there are", week(moderate, 1, 10, 0, 11), "weeks[0].vigorous", false},
		{"vigorous within light", week(light, 3, 10, 0, 1), "weeks[0].vigorous", false},
		{"no class", week(intensity.None, 3, 10, 0, 0), "weeks[0].class", false},
		{"above the ceiling", week(vigorous, 3, 10, 0, 0), "weeks[0].class", true},
		{"above the ceiling within moderate", week(moderate, 3, 10, 0, 4), "weeks[0].vigorous", true},
	} {
		err := plan.CheckWeeks([]plan.Week{tt.week}, moderate, policy)
		problems, _ := errors.AsType[domain.Problems](err)
		if (err == nil) != (tt.field == "") || tt.field != "" && problems[tt.field] == "" || errors.Is(err, domain.ErrHeld) != tt.held {
			t.Errorf("%s: %v; want a problem of %q, held %t", tt.source, err, tt.field, tt.held)
		}
	}
	if plan.CheckWeeks(nil, moderate, policy) == nil || plan.CheckWeeks(make([]plan.Week, 53), moderate, policy) == nil {
		t.Error("a plan of no week or of 53 is fine")
	}
}

func TestPauses(t *testing.T) {
	monday := domain.NewDate(2026, 11, 23)
	for _, tt := range []struct {
		what           string
		from, to       domain.Date
		open, sessions int
		minutes        int
	}{
		{"none", monday.AddDays(-9), monday.AddDays(-1), 7, 3, 70},
		{"from Wednesday on, end not known", monday.AddDays(2), domain.Date{}, 2, 1, 20},
		{"the weekend", monday.AddDays(5), monday.AddDays(6), 5, 3, 50},
		{"all week", monday.AddDays(-1), monday.AddDays(7), 0, 0, 0},
	} {
		open := plan.OpenDays(monday, []plan.Pause{{From: tt.from, To: tt.to}})
		sessions, target := plan.Share(3, volume.Target{Minutes: 70}, open)
		if open != tt.open || sessions != tt.sessions || target.Minutes != tt.minutes {
			t.Errorf("%s: %d open days, %d sessions, %d minutes", tt.what, open, sessions, target.Minutes)
		}
	}
	today := monday
	for _, ps := range []plan.Pause{{}, {From: today.AddDays(400)}, {From: today, To: today.AddDays(-1)}, {From: today, Cause: "boredom"}} {
		if plan.CheckPause(ps, today, policy) == nil {
			t.Errorf("%+v is fine", ps)
		}
	}
	if err := plan.CheckPause(plan.Pause{From: today, Cause: plan.Illness}, today, policy); err != nil {
		t.Error(err)
	}
}

func TestDrift(t *testing.T) {
	log := func(p intensity.Pattern) plan.Log { return plan.Log{Compared: true, Pattern: p} }
	up, down, fine := log(intensity.HeartRateHarder), log(intensity.FeelsHarder), log(intensity.Agreeing)
	for _, tt := range []struct {
		source string
		logs   []plan.Log
		want   intensity.Pattern
	}{
		{"practice setting: four of five", []plan.Log{up, up, fine, up, up}, intensity.HeartRateHarder},
		{"sessions without both are passed over", []plan.Log{down, {}, down, {}, down, down}, intensity.FeelsHarder},
		{"three of five", []plan.Log{up, up, fine, fine, up}, ""},
		{"both ways", []plan.Log{up, down, up, down, up}, ""},
		{"long ago", []plan.Log{up, up, up, up, fine, fine}, ""},
	} {
		got := plan.DriftOf(tt.logs, policy)
		if (got == nil) != (tt.want == "") || got != nil && got.Pattern != tt.want {
			t.Errorf("%s: %+v; want %q", tt.source, got, tt.want)
		}
	}
}

// A course is judged by the same rules as a record put together by hand; here is
// looked at what it puts together.
func TestCourse(t *testing.T) {
	begin := domain.NewDate(2026, 1, 5)
	dose := plan.Dose{Class: moderate, Sessions: 3, Minutes: 20}
	build := func(weeks, minutes int) plan.Course {
		c := plan.Course{Today: begin.AddDays(7 * weeks), Ceiling: moderate, Goal: 150}
		for w := range weeks + 1 {
			c.Weeks = append(c.Weeks, plan.CourseWeek{First: begin.AddDays(7 * w), Dose: dose, Planned: 3, Target: volume.Target{Minutes: 60}})
			if w == weeks {
				break
			}
			c.Weeks[w].Done, c.Weeks[w].Totals = 3, volume.Of(volume.Part{Minutes: minutes, Class: moderate})
			for i := range 3 {
				c.Logs = append(c.Logs, plan.Log{Day: begin.AddDays(7*w + 2*i), Effort: 11, Talk: intensity.TalkSentences})
			}
		}
		return c
	}
	for _, tt := range []struct {
		source string
		change func(*plan.Course)
		weeks  int
		want   plan.Status
	}{
		{"Toronto: easy sessions", nil, 2, plan.Ready},
		{"practice setting: ready for four weeks", nil, 5, plan.SteadyTooLong},
		{"practice setting: under 80 per cent of the minutes", func(c *plan.Course) { c.Weeks[0].Totals, c.Weeks[1].Totals = volume.Totals{}, volume.Totals{} }, 2, plan.Behind},
		{"practice setting: a report", func(c *plan.Course) { c.FrozenUntil = c.Today }, 2, plan.OnPlan},
		{"practice setting: twelve days off", func(c *plan.Course) { c.Today = c.Today.AddDays(12) }, 2, plan.Returning},
		{"practice setting: ill for two days", func(c *plan.Course) { c.Pauses = []plan.Pause{{From: c.Today.AddDays(-2), Cause: plan.Illness}} }, 2, plan.Returning},
		{"vigorous weeks under a hold", func(c *plan.Course) { c.Weeks[2].Dose.Vigorous = 4 }, 2, plan.Held},
		{"too hard", func(c *plan.Course) { c.Logs[4].Effort, c.Logs[5].Effort = 16, 16 }, 2, plan.TooHard},
	} {
		c := build(tt.weeks, 60)
		if tt.change != nil {
			tt.change(&c)
		}
		if got := c.Stand(policy); got.Status != tt.want {
			t.Errorf("%s: %s, %+v; want %s", tt.source, got.Status, got.Reasons, tt.want)
		}
	}
	c := build(2, 60)
	c.Today = c.Today.AddDays(20)
	if s := c.Stand(policy); s.Break == nil || s.Step.To == dose {
		t.Errorf("after 22 days: %+v; want a step back", s)
	}
	c.Answered = c.Today
	if s := c.Stand(policy); s.Break != nil || s.Step.To != dose {
		t.Errorf("asked twice for one break: %+v", s)
	}
	if s := (plan.Course{}).Stand(policy); s.Status != plan.OnPlan || s.Step.To != (plan.Dose{}) {
		t.Errorf("without weeks: %+v", s)
	}
}

// Whatever the step, the weeks that follow change one part at a time and stay
// under the ceiling.
func TestFollow(t *testing.T) {
	built, err := plan.Ladder(plan.Input{Start: plan.Start{Class: light, Sessions: 3, Minutes: 15}, Goal: 150, Weeks: 20, Ceiling: vigorous}, policy)
	if err != nil {
		t.Fatal(err)
	}
	in := plan.Input{Goal: 150, Weeks: 20, Ceiling: vigorous}
	if got := plan.Follow(built.Weeks, built.Weeks[1].Dose, 1, in, policy); got[0].Dose != built.Weeks[1].Dose || got[1].Dose != built.Weeks[2].Dose || len(got) != 20 {
		t.Errorf("the next week at once: %+v; want the plan one week earlier", got[:3])
	}
	rapid.Check(t, func(rt *rapid.T) {
		ceiling := rapid.SampledFrom([]intensity.Class{light, moderate, vigorous}).Draw(rt, "ceiling")
		class := min(ceiling, rapid.SampledFrom([]intensity.Class{light, moderate}).Draw(rt, "class"))
		to := plan.Dose{Class: class, Sessions: rapid.IntRange(1, 6).Draw(rt, "sessions"), Minutes: rapid.IntRange(11, 60).Draw(rt, "minutes"), Easy: rapid.IntRange(0, 10).Draw(rt, "easy")}
		behind := rapid.IntRange(0, 30).Draw(rt, "behind")
		in := plan.Input{Goal: rapid.IntRange(60, 300).Draw(rt, "goal"), Weeks: rapid.IntRange(1, 26).Draw(rt, "weeks"), Ceiling: ceiling,
			Start: plan.Start{Behind: behind, InPhase: rapid.IntRange(0, behind).Draw(rt, "in phase")}}
		hold := rapid.IntRange(1, 4).Draw(rt, "hold")
		got := plan.Follow(built.Weeks, to, hold, in, policy)
		if len(got) != max(in.Weeks, 4) || got[0].Dose != to || got[hold-1].Dose != to {
			rt.Fatalf("%d weeks, %+v; want %d that begin with %+v", len(got), got[0].Dose, in.Weeks, to)
		}
		for i, w := range got {
			if w.Hardest() > ceiling || w.Number != i+1 || i > 0 && len(plan.Changes(got[i-1].Dose, w.Dose)) > 1 {
				rt.Fatalf("week %d: %+v after %+v under %v", i+1, w.Dose, got[max(0, i-1)].Dose, ceiling)
			}
		}
	})
}

// Practice rule: what a status was judged by is told with it. The dose of the second
// of three weeks holds on; of five sessions at it the last four are looked at.
func TestJudgedBy(t *testing.T) {
	monday := domain.NewDate(2026, 3, 2)
	now := plan.Dose{Class: moderate, Sessions: 3, Minutes: 30}
	c := plan.Course{Today: monday.AddDays(16), Ceiling: moderate, Goal: 150}
	for i, d := range []plan.Dose{{Class: moderate, Sessions: 3, Minutes: 25}, now, now} {
		c.Weeks = append(c.Weeks, plan.CourseWeek{First: monday.AddDays(7 * i), Dose: d, Planned: 3, Done: 3})
	}
	for _, day := range []int{0, 7, 9, 11, 14, 16} {
		c.Logs = append(c.Logs, plan.Log{Day: monday.AddDays(day), Talk: intensity.TalkSentences})
	}
	j := c.Stand(policy).Judged
	if j.Sessions != 4 || j.First != monday.AddDays(9) || j.Last != monday.AddDays(16) || j.Since != monday.AddDays(7) ||
		len(j.Weeks) != 2 || j.Weeks[0] != monday || j.Weeks[1] != monday.AddDays(7) {
		t.Errorf("judged by %+v", j)
	}
	c.RaisedOn = monday.AddDays(15) // a little harder within the class counts as a change
	if j := c.Stand(policy).Judged; j.Since != monday.AddDays(14) || j.Sessions != 2 {
		t.Errorf("after a step within the class: %+v", j)
	}
}
