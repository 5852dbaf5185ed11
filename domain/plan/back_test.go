package plan_test

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/plan"
)

func TestStepBack(t *testing.T) {
	var (
		on    = plan.Return{EasyEnd: true}
		one   = plan.Return{Rungs: 1, CutTime: 25, Weeks: 1}
		two   = plan.Return{Rungs: 2, CutTime: 50, Easier: 1, Weeks: 2}
		again = plan.Return{Restart: true, CutTime: 50, Easier: 1, Weeks: 2, Rescreen: true, Retest: true}
	)
	review := func(r plan.Return) plan.Return {
		r.Review = true
		return r
	}
	for _, tt := range []struct {
		source string
		days   int
		cause  plan.Cause
		want   plan.Return
	}{
		{"practice setting: yesterday", 1, plan.NoCause, on},
		{"practice setting: up to 7 days go on, easily at first", 7, plan.Holiday, on},
		{"practice setting: 8 days, one rung", 8, plan.NoCause, one},
		{"practice setting: a gap of two weeks, one rung", 14, plan.NoCause, one},
		{"practice setting: 15 days, two rungs for two weeks", 15, plan.NoCause, two},
		{"Mujika 2001: four weeks are the short term", 28, plan.Holiday, two},
		{"Mujika 2001: gains are gone after more than four weeks", 29, plan.NoCause, again},
		{"practice setting: a gap of five weeks, restart and rescreen", 35, plan.NoCause, again},
		{"practice setting: illness is reviewed, however short", 0, plan.Illness, review(on)},
		{"practice setting: an injury", 10, plan.Injury, review(one)},
		{"practice setting: hospital", 20, plan.Hospital, review(two)},
		{"practice setting: a new medicine", 40, plan.NewMedicine, review(again)},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := plan.StepBack(tt.days, tt.cause, policy)
			if err != nil || got != tt.want {
				t.Errorf("StepBack(%d, %q) = %+v, %v; want %+v", tt.days, tt.cause, got, err, tt.want)
			}
		})
	}
	for _, tt := range []struct {
		source string
		days   int
		cause  plan.Cause
		field  string
	}{
		{"arithmetic: not before the last session", -1, plan.NoCause, "days"},
		{"no such cause", 3, "laziness", "cause"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := plan.StepBack(tt.days, tt.cause, policy)
			var p domain.Problems
			if !errors.As(err, &p) || len(p) != 1 || p[tt.field] == "" || got != (plan.Return{}) {
				t.Errorf("StepBack(%d, %q) = %+v, %v; want a problem of %s", tt.days, tt.cause, got, err, tt.field)
			}
		})
	}
}

func TestReturnFrom(t *testing.T) {
	rung := func(sessions, minutes int) plan.Dose {
		return plan.Dose{Class: moderate, Sessions: sessions, Minutes: minutes}
	}
	ladder := []plan.Dose{ // as of weeks: rungs repeat
		{Class: light, Sessions: 3, Minutes: 30}, rung(3, 30), rung(3, 30), rung(4, 30), rung(4, 30), rung(5, 30),
	}
	now := rung(5, 30)
	for _, tt := range []struct {
		source string
		days   int
		now    plan.Dose
		rungs  []plan.Dose
		want   plan.Dose
	}{
		{"practice setting: goes on", 7, now, ladder, now},
		{"practice setting: one rung", 14, now, ladder, rung(4, 30)},
		{"practice setting: two rungs", 28, now, ladder, rung(3, 30)},
		{"practice setting: from the start", 29, now, ladder, plan.Dose{Class: light, Sessions: 3, Minutes: 30}},
		{"practice setting: no rung below, a quarter less time", 14, now, nil, rung(5, 22)},
		{"practice setting: one rung is too few for two, half the time and one class easier", 28, rung(4, 30), ladder[1:5], plan.Dose{Class: light, Sessions: 4, Minutes: 15}},
		{"practice setting: no rung at all to start from", 60, now, nil, plan.Dose{Class: light, Sessions: 5, Minutes: 15}},
		{
			"practice setting: a plan that came down does not go up again", 14,
			rung(4, 25), []plan.Dose{rung(3, 20), rung(5, 30), rung(5, 30)}, rung(3, 20),
		},
		{
			"practice setting: a lower rung that was longer is not longer now", 14,
			rung(4, 25), []plan.Dose{rung(3, 40)}, rung(3, 25),
		},
		{
			"practice setting: two rungs of vigorous minutes", 20,
			plan.Dose{Class: moderate, Sessions: 5, Minutes: 30, Vigorous: 12},
			[]plan.Dose{rung(5, 30), {Class: moderate, Sessions: 5, Minutes: 30, Vigorous: 4}, {Class: moderate, Sessions: 5, Minutes: 30, Vigorous: 8}},
			plan.Dose{Class: moderate, Sessions: 5, Minutes: 30, Vigorous: 4},
		},
		{
			"practice setting: one class easier than vigorous minutes is none of them", 20,
			plan.Dose{Class: moderate, Sessions: 5, Minutes: 30, Vigorous: 12}, nil, rung(5, 15),
		},
		{
			"practice setting: one class easier than vigorous", 20,
			plan.Dose{Class: vigorous, Sessions: 3, Minutes: 40}, nil, rung(3, 20),
		},
		{"practice setting: nothing is easier than light", 20, plan.Dose{Class: light, Sessions: 3, Minutes: 20}, nil, plan.Dose{Class: light, Sessions: 3, Minutes: 10}},
		{
			"practice setting: warm-up and cool-down stay", 20,
			plan.Dose{Class: moderate, Sessions: 3, Minutes: 40, Easy: 10}, nil, plan.Dose{Class: light, Sessions: 3, Minutes: 25, Easy: 10},
		},
		{
			"practice setting: vigorous minutes fit into the shorter sessions", 14,
			plan.Dose{Class: moderate, Sessions: 2, Minutes: 20, Vigorous: 36}, nil, plan.Dose{Class: moderate, Sessions: 2, Minutes: 15, Vigorous: 30},
		},
		{"practice setting: from the start, one rung below", 29, now, []plan.Dose{rung(3, 30)}, rung(3, 30)},
		{"practice setting: a quarter of 200 minutes", 14, rung(2, 200), nil, rung(2, 150)},
		{"practice setting: half of two minutes", 20, rung(2, 2), nil, plan.Dose{Class: light, Sessions: 2, Minutes: 1}},
		{
			"practice setting: one vigorous minute is one class harder", 20,
			plan.Dose{Class: moderate, Sessions: 5, Minutes: 30, Vigorous: 1}, nil, rung(5, 15),
		},
		{
			"practice setting: vigorous minutes fit into the rung below, warm-up aside", 14,
			plan.Dose{Class: moderate, Sessions: 2, Minutes: 30, Easy: 4, Vigorous: 40},
			[]plan.Dose{{Class: moderate, Sessions: 5, Minutes: 10, Easy: 4, Vigorous: 30}},
			plan.Dose{Class: moderate, Sessions: 2, Minutes: 10, Easy: 4, Vigorous: 12},
		},
		{"practice setting: a minute is left", 20, rung(2, 1), nil, plan.Dose{Class: light, Sessions: 2, Minutes: 1}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			r, err := plan.StepBack(tt.days, plan.NoCause, policy)
			if err != nil {
				t.Fatal(err)
			}
			if got := r.From(tt.now, tt.rungs); got != tt.want {
				t.Errorf("%+v.From(%+v, %+v) = %+v; want %+v", r, tt.now, tt.rungs, got, tt.want)
			}
		})
	}
}

func anyDose(t *rapid.T) plan.Dose {
	d := plan.Dose{
		Class:    rapid.SampledFrom([]plan.Dose{{Class: light}, {Class: moderate}, {Class: vigorous}}).Draw(t, "class").Class,
		Sessions: rapid.IntRange(1, 7).Draw(t, "sessions"),
		Minutes:  rapid.IntRange(11, 90).Draw(t, "minutes"),
		Easy:     rapid.SampledFrom([]int{0, 0, 10}).Draw(t, "easy"),
	}
	if d.Class == moderate {
		d.Vigorous = rapid.IntRange(0, min(60, d.Sessions*(d.Minutes-d.Easy))).Draw(t, "vigorous")
	}
	return d
}

// however long the break and whatever the plan was before, nothing of the dose
// goes up, the week is never negative, and a longer break never leads to more.
func TestStepBackHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := anyDose(t)
		rungs := rapid.SliceOfN(rapid.Custom(anyDose), 0, 6).Draw(t, "rungs")
		days := rapid.IntRange(0, 60).Draw(t, "days")
		cause := rapid.SampledFrom([]plan.Cause{plan.NoCause, plan.Holiday, plan.Illness, plan.Injury}).Draw(t, "cause")
		r, err := plan.StepBack(days, cause, policy)
		if err != nil {
			t.Fatal(err)
		}
		got := r.From(now, rungs)
		if got.Class > now.Class || got.Sessions > now.Sessions || got.Minutes > now.Minutes || got.Vigorous > now.Vigorous {
			t.Fatalf("%d days: %+v became %+v", days, now, got)
		}
		sum := got.Totals()
		if sum.Light < 0 || sum.Moderate < 0 || sum.Vigorous < 0 || sum.Minutes() > now.Totals().Minutes() {
			t.Fatalf("%+v is a week of %+v", got, sum)
		}
		if days > 7 && got == now && now.Minutes-now.Easy > 1 {
			t.Fatalf("%d days, and nothing went down from %+v", days, now)
		}
		longer, _ := plan.StepBack(days+rapid.IntRange(0, 60).Draw(t, "more"), cause, policy)
		if r.Rungs > longer.Rungs && !longer.Restart || r.Restart && !longer.Restart || r.Rescreen && !longer.Rescreen || r.CutTime > longer.CutTime {
			t.Fatalf("%d days give %+v, more give %+v", days, r, longer)
		}
	})
}
