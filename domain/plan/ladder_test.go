package plan_test

import (
	"errors"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
)

var policy = plan.PolicyFrom(nil)

const (
	none     = intensity.None
	light    = intensity.Light
	moderate = intensity.Moderate
	vigorous = intensity.Vigorous
)

// row writes a week as sessions x minutes, light+moderate+vigorous minutes of
// the week, and their moderate-equivalent.
func row(w plan.Week) string {
	return fmt.Sprintf("%dx%d %d+%d+%d=%d",
		w.Dose.Sessions, w.Dose.Minutes, w.Totals.Light, w.Totals.Moderate, w.Totals.Vigorous, w.Totals.ModerateEquivalent)
}

func rows(weeks []plan.Week) (all []string) {
	for _, w := range weeks {
		all = append(all, row(w))
	}
	return all
}

func TestLadder(t *testing.T) {
	for _, tt := range []struct {
		source  string
		in      plan.Input
		want    []string
		steps   string // first letters of the steps, - for none
		reached int
		notes   []plan.Reason
	}{
		{
			"practice setting: light for four weeks, 150 by week 9, vigorous from week 13",
			plan.Input{Start: plan.Start{Class: light, Sessions: 3, Minutes: 15}, Goal: 150, Weeks: 18, Ceiling: vigorous},
			[]string{
				"3x15 45+0+0=0", "3x20 60+0+0=0", "3x25 75+0+0=0", "3x30 90+0+0=0",
				"3x30 0+90+0=90", "3x30 0+90+0=90", "4x30 0+120+0=120", "4x30 0+120+0=120",
				"5x30 0+150+0=150", "5x30 0+150+0=150", "5x30 0+150+0=150", "5x30 0+150+0=150",
				"5x30 0+146+4=154", "5x30 0+142+8=158", "5x30 0+138+12=162", "5x30 0+134+16=166",
				"5x30 0+130+20=170", "5x30 0+126+24=174",
			},
			"-ttti-f-f---iiiiii", 9, nil,
		},
		{
			"practice setting: the same under a hold on vigorous work",
			plan.Input{Start: plan.Start{Class: light, Sessions: 3, Minutes: 15}, Goal: 150, Weeks: 14, Ceiling: moderate},
			[]string{
				"3x15 45+0+0=0", "3x20 60+0+0=0", "3x25 75+0+0=0", "3x30 90+0+0=0",
				"3x30 0+90+0=90", "3x30 0+90+0=90", "4x30 0+120+0=120", "4x30 0+120+0=120",
				"5x30 0+150+0=150", "5x30 0+150+0=150", "5x30 0+150+0=150", "5x30 0+150+0=150",
				"5x30 0+150+0=150", "5x30 0+150+0=150",
			},
			"-ttti-f-f-----", 9, nil,
		},
		{
			"practice setting: the same under a hold above light",
			plan.Input{Start: plan.Start{Class: light, Sessions: 3, Minutes: 20}, Goal: 150, Weeks: 8, Ceiling: light},
			[]string{
				"3x20 60+0+0=0", "3x25 75+0+0=0", "3x30 90+0+0=0", "4x30 120+0+0=0",
				"5x30 150+0+0=0", "5x30 150+0+0=0", "5x30 150+0+0=0", "5x30 150+0+0=0",
			},
			"-ttff---", 0, []plan.Reason{{Code: "goal_not_reached", Have: 0, Need: 150}, {Code: "ceiling"}},
		},
		{
			"practice setting: two sessions a week become three, and stay so for two weeks, before light ends",
			plan.Input{Start: plan.Start{Class: light, Sessions: 2, Minutes: 30}, Goal: 90, Weeks: 6, Ceiling: moderate},
			[]string{"2x30 60+0+0=0", "3x30 90+0+0=0", "3x30 90+0+0=0", "3x30 90+0+0=0", "3x30 0+90+0=90", "3x30 0+90+0=90"},
			"-f--i-", 5, nil,
		},
		{
			"practice setting: one session a week takes longer to end light",
			plan.Input{Start: plan.Start{Class: light, Sessions: 1, Minutes: 20}, Goal: 150, Weeks: 10, Ceiling: moderate},
			[]string{
				"1x20 20+0+0=0", "1x25 25+0+0=0", "1x30 30+0+0=0", "2x30 60+0+0=0", "3x30 90+0+0=0", "4x30 120+0+0=0",
				"4x30 0+120+0=120", "4x30 0+120+0=120", "5x30 0+150+0=150", "5x30 0+150+0=150",
			},
			"-ttfffi-f-", 9, nil,
		},
		{
			"practice setting: a moderate start has no light phase",
			plan.Input{Start: plan.Start{Class: moderate, Sessions: 3, Minutes: 25}, Goal: 120, Weeks: 14, Ceiling: vigorous},
			[]string{
				"3x25 0+75+0=75", "3x25 0+75+0=75", "3x30 0+90+0=90", "3x30 0+90+0=90", "4x30 0+120+0=120",
				"4x30 0+120+0=120", "4x30 0+120+0=120", "4x30 0+120+0=120", "4x30 0+120+0=120", "4x30 0+120+0=120",
				"4x30 0+120+0=120", "4x30 0+120+0=120", "4x30 0+116+4=124", "4x30 0+112+8=128",
			},
			"--t-f-------ii", 5, nil,
		},
		{
			"practice setting: a week for each step where the plan is short",
			plan.Input{Start: plan.Start{Class: moderate, Sessions: 3, Minutes: 25}, Goal: 150, Weeks: 4, Ceiling: vigorous},
			[]string{"3x25 0+75+0=75", "3x30 0+90+0=90", "4x30 0+120+0=120", "5x30 0+150+0=150"},
			"-tff", 4, nil,
		},
		{
			"practice setting: a week for each step where the goal's week is near",
			plan.Input{Start: plan.Start{Class: moderate, Sessions: 3, Minutes: 25}, Goal: 250, Weeks: 10, Ceiling: moderate},
			[]string{
				"3x25 0+75+0=75", "3x30 0+90+0=90", "4x30 0+120+0=120", "5x30 0+150+0=150", "5x35 0+175+0=175",
				"5x40 0+200+0=200", "5x45 0+225+0=225", "5x45 0+225+0=225", "5x50 0+250+0=250", "5x50 0+250+0=250",
			},
			"-tffttt-t-", 9, nil,
		},
		{
			"practice setting: eight steps by week 9, in a longer plan",
			plan.Input{Start: plan.Start{Class: moderate, Sessions: 3, Minutes: 20}, Goal: 250, Weeks: 20, Ceiling: moderate},
			[]string{
				"3x20 0+60+0=60", "3x25 0+75+0=75", "3x30 0+90+0=90", "4x30 0+120+0=120", "5x30 0+150+0=150",
				"5x35 0+175+0=175", "5x40 0+200+0=200", "5x45 0+225+0=225", "5x50 0+250+0=250", "5x50 0+250+0=250",
				"5x50 0+250+0=250", "5x50 0+250+0=250", "5x50 0+250+0=250", "5x50 0+250+0=250", "5x50 0+250+0=250",
				"5x50 0+250+0=250", "5x50 0+250+0=250", "5x50 0+250+0=250", "5x50 0+250+0=250", "5x50 0+250+0=250",
			},
			"-ttfftttt-----------", 9, nil,
		},
		{
			"practice setting: more steps than weeks are spread over the plan",
			plan.Input{Start: plan.Start{Class: moderate, Sessions: 5, Minutes: 15}, Goal: 300, Weeks: 20, Ceiling: moderate},
			[]string{
				"5x15 0+75+0=75", "5x15 0+75+0=75", "5x20 0+100+0=100", "5x20 0+100+0=100", "5x25 0+125+0=125",
				"5x25 0+125+0=125", "5x30 0+150+0=150", "5x30 0+150+0=150", "5x35 0+175+0=175", "5x35 0+175+0=175",
				"5x40 0+200+0=200", "5x40 0+200+0=200", "5x45 0+225+0=225", "5x45 0+225+0=225", "5x50 0+250+0=250",
				"5x50 0+250+0=250", "5x55 0+275+0=275", "5x55 0+275+0=275", "5x60 0+300+0=300", "5x60 0+300+0=300",
			},
			"--t-t-t-t-t-t-t-t-t-", 19, nil,
		},
		{
			"practice setting: a fifth of the week in the first four vigorous weeks, half of it later",
			plan.Input{Start: plan.Start{Class: moderate, Sessions: 1, Minutes: 30, Behind: 8, InPhase: 8}, Goal: 30, Weeks: 12, Ceiling: vigorous},
			[]string{
				"1x30 0+30+0=30", "1x30 0+30+0=30", "1x30 0+30+0=30", "1x30 0+30+0=30",
				"1x30 0+26+4=34", "1x30 0+26+4=34", "1x30 0+26+4=34", "1x30 0+26+4=34",
				"1x30 0+22+8=38", "1x30 0+18+12=42", "1x30 0+18+12=42", "1x30 0+18+12=42",
			},
			"----i---ii--", 1, nil,
		},
		{
			"practice setting: what four weeks cannot reach is said",
			plan.Input{Start: plan.Start{Class: moderate, Sessions: 3, Minutes: 20}, Goal: 150, Weeks: 4, Ceiling: vigorous},
			[]string{"3x20 0+60+0=60", "3x25 0+75+0=75", "3x30 0+90+0=90", "4x30 0+120+0=120"},
			"-ttf", 0, []plan.Reason{{Code: "goal_not_reached", Have: 120, Need: 150}},
		},
		{
			"practice setting: time again after five sessions a week, up to an hour",
			plan.Input{Start: plan.Start{Class: moderate, Sessions: 5, Minutes: 50}, Goal: 500, Weeks: 8, Ceiling: moderate},
			[]string{
				"5x50 0+250+0=250", "5x50 0+250+0=250", "5x55 0+275+0=275", "5x55 0+275+0=275",
				"5x60 0+300+0=300", "5x60 0+300+0=300", "5x60 0+300+0=300", "5x60 0+300+0=300",
			},
			"--t-t---", 0, []plan.Reason{{Code: "goal_not_reached", Have: 300, Need: 500}},
		},
		{
			"practice setting: odd minutes come to 30 and to 60",
			plan.Input{Start: plan.Start{Class: moderate, Sessions: 5, Minutes: 28}, Goal: 160, Weeks: 3, Ceiling: moderate},
			[]string{"5x28 0+140+0=140", "5x30 0+150+0=150", "5x35 0+175+0=175"},
			"-tt", 3, nil,
		},
		{
			"practice setting: who is used to vigorous work stays with it",
			plan.Input{Start: plan.Start{Class: vigorous, Sessions: 3, Minutes: 20}, Goal: 150, Weeks: 4, Ceiling: intensity.NearMaximal},
			[]string{"3x20 0+0+60=120", "3x20 0+0+60=120", "3x25 0+0+75=150", "3x25 0+0+75=150"},
			"--t-", 3, nil,
		},
		{
			"practice setting: a plan made anew in week 9 counts on",
			plan.Input{
				Start: plan.Start{Class: moderate, Sessions: 5, Minutes: 30, Behind: 8, InPhase: 4},
				Goal:  150, Weeks: 6, Ceiling: vigorous,
			},
			[]string{
				"5x30 0+150+0=150", "5x30 0+150+0=150", "5x30 0+150+0=150", "5x30 0+150+0=150",
				"5x30 0+146+4=154", "5x30 0+142+8=158",
			},
			"----ii", 1, nil,
		},
		{
			"practice setting: a light phase that is half over",
			plan.Input{
				Start: plan.Start{Class: light, Sessions: 3, Minutes: 30, Behind: 2, InPhase: 2},
				Goal:  90, Weeks: 4, Ceiling: vigorous,
			},
			[]string{"3x30 90+0+0=0", "3x30 90+0+0=0", "3x30 0+90+0=90", "3x30 0+90+0=90"},
			"--i-", 3, nil,
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := plan.Ladder(tt.in, policy)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(rows(got.Weeks), tt.want) {
				t.Errorf("weeks\n%q; want\n%q", rows(got.Weeks), tt.want)
			}
			steps := ""
			for i, w := range got.Weeks {
				steps += (string(w.Step) + "-")[:1]
				if w.Number != i+1 {
					t.Errorf("week %d has the number %d", i+1, w.Number)
				}
			}
			if steps != tt.steps {
				t.Errorf("steps %s; want %s", steps, tt.steps)
			}
			if got.Reached != tt.reached || !reflect.DeepEqual(got.Notes, tt.notes) {
				t.Errorf("reached in week %d, notes %v; want %d, %v", got.Reached, got.Notes, tt.reached, tt.notes)
			}
			if got.Warnings != nil || got.Preset != "" || len(got.Sources) == 0 {
				t.Errorf("warnings %v, preset %q, sources %v", got.Warnings, got.Preset, got.Sources)
			}
		})
	}
}

// What the trade expects of a beginner's plan.
func TestLadderPhases(t *testing.T) {
	for _, tt := range []struct {
		source                 string
		start                  plan.Start
		ceiling                intensity.Class
		moderateBy             int // the first moderate week is this or earlier; 0 for none
		vigorousFrom, hardLate int // the first vigorous week is within these; 0 for none
	}{
		{
			"common practice: over 35, healthy, not exercising: vigorous after three to six months",
			plan.Start{Class: light, Sessions: 3, Minutes: 15}, vigorous, 13, 13, 26,
		},
		{
			"common practice: complete beginners reach moderate within about three months",
			plan.Start{Class: light, Sessions: 1, Minutes: 5}, vigorous, 13, 13, 26,
		},
		{
			"ACSM 2015 screening (copy): not exercising, wants vigorous: starts moderate and works up",
			plan.Start{Class: moderate, Sessions: 3, Minutes: 20}, vigorous, 1, 13, 26,
		},
		{
			"ACSM 2015 screening (copy): diabetes, exercising: moderate goes on, vigorous waits for the doctor",
			plan.Start{Class: moderate, Sessions: 5, Minutes: 30}, moderate, 1, 0, 0,
		},
		{
			"practice setting: eight weeks of moderate work come first, after ten light ones",
			plan.Start{Class: light, Sessions: 1, Minutes: 5}, vigorous, 10, 18, 18,
		},
		{
			"practice setting: four weeks at the target come first, reached in week 19",
			plan.Start{Class: moderate, Sessions: 1, Minutes: 5}, vigorous, 1, 23, 23,
		},
		{
			"practice setting: under a hold above light nothing else comes",
			plan.Start{Class: light, Sessions: 3, Minutes: 15}, light, 0, 0, 0,
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := plan.Ladder(plan.Input{Start: tt.start, Goal: 150, Weeks: 26, Ceiling: tt.ceiling}, policy)
			if err != nil {
				t.Fatal(err)
			}
			first := func(is func(plan.Week) bool) int {
				for _, w := range got.Weeks {
					if is(w) {
						return w.Number
					}
				}
				return 0
			}
			soft := first(func(w plan.Week) bool { return w.Totals.Moderate > 0 })
			hard := first(func(w plan.Week) bool { return w.Totals.Vigorous > 0 })
			if soft > tt.moderateBy || soft == 0 != (tt.moderateBy == 0) {
				t.Errorf("moderate from week %d; want by week %d", soft, tt.moderateBy)
			}
			if hard < tt.vigorousFrom || hard > tt.hardLate {
				t.Errorf("vigorous from week %d; want from %d to %d", hard, tt.vigorousFrom, tt.hardLate)
			}
		})
	}
}

func TestLadderRefuses(t *testing.T) {
	good := plan.Input{Start: plan.Start{Class: moderate, Sessions: 3, Minutes: 20, Behind: 4, InPhase: 2}, Goal: 150, Weeks: 12, Ceiling: vigorous}
	with := func(change func(*plan.Input)) plan.Input {
		in := good
		change(&in)
		return in
	}
	for _, tt := range []struct {
		source string
		in     plan.Input
		fields string
		held   bool
	}{
		{"practice setting: very light is no start", with(func(in *plan.Input) { in.Start.Class = intensity.VeryLight }), "start.class", false},
		{"practice setting: near-maximal is no start", with(func(in *plan.Input) { in.Start.Class = intensity.NearMaximal }), "start.class", false},
		{"practice setting: no sessions", with(func(in *plan.Input) { in.Start.Sessions = 0 }), "start.sessions", false},
		{"practice setting: more than two a day", with(func(in *plan.Input) { in.Start.Sessions = 15 }), "start.sessions", false},
		{"practice setting: no minutes", with(func(in *plan.Input) { in.Start.Minutes = 0 }), "start.minutes", false},
		{"practice setting: more than four hours", with(func(in *plan.Input) { in.Start.Minutes = 241 }), "start.minutes", false},
		{"arithmetic: weeks behind are not negative", with(func(in *plan.Input) { in.Start.Behind = -1 }), "start.behind start.in_phase", false},
		{"arithmetic: no more weeks in the phase than behind", with(func(in *plan.Input) { in.Start.InPhase = 5 }), "start.in_phase", false},
		{"practice setting: no goal", with(func(in *plan.Input) { in.Goal = 0 }), "goal_minutes", false},
		{"practice setting: a goal of more than 1,500", with(func(in *plan.Input) { in.Goal = 1501 }), "goal_minutes", false},
		{"practice setting: no weeks", with(func(in *plan.Input) { in.Weeks = 0 }), "weeks", false},
		{"practice setting: more than a year", with(func(in *plan.Input) { in.Weeks = 53 }), "weeks", false},
		{"no such class", with(func(in *plan.Input) { in.Ceiling = 6 }), "ceiling", false},
		{"no such class", with(func(in *plan.Input) { in.Ceiling = -1 }), "ceiling", false},
		{"no such programme", with(func(in *plan.Input) { in.Preset = "walk_13" }), "preset", false},
		{"arithmetic: each field its problem", plan.Input{Ceiling: 7, Preset: "x"}, "ceiling goal_minutes preset start.class start.minutes start.sessions weeks", false},
		{"ACSM 2015 screening (copy): disease and not exercising, nothing before the doctor", with(func(in *plan.Input) { in.Ceiling = none }), "ceiling", true},
		{"practice setting: nothing is planned below light", with(func(in *plan.Input) { in.Ceiling = intensity.VeryLight }), "ceiling", true},
		{"practice setting: moderate under a hold above light", with(func(in *plan.Input) { in.Ceiling = light }), "start.class", true},
		{"practice setting: vigorous under a hold", with(func(in *plan.Input) { in.Ceiling, in.Start.Class = moderate, vigorous }), "start.class", true},
		{"practice setting: running under a hold", with(func(in *plan.Input) { in.Ceiling, in.Preset = moderate, "run_walk_9" }), "preset", true},
		{"practice setting: brisk walking under a hold above light", plan.Input{
			Start: plan.Start{Class: light, Sessions: 3, Minutes: 15}, Goal: 150, Weeks: 12, Ceiling: light, Preset: "walk_12",
		}, "preset", true},
		{"NHLBI 12-week walking programme: at least three sessions", with(func(in *plan.Input) { in.Start.Sessions, in.Preset = 2, "walk_12" }), "start.sessions", false},
		{"practice setting: not more than one a day", with(func(in *plan.Input) { in.Start.Sessions, in.Preset = 8, "walk_12" }), "start.sessions", false},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := plan.Ladder(tt.in, policy)
			var p domain.Problems
			if !errors.As(err, &p) || errors.Is(err, domain.ErrHeld) != tt.held {
				t.Fatalf("Ladder(%+v) refuses %v; want problems, held %t", tt.in, err, tt.held)
			}
			var fields []string
			for f := range strings.SplitSeq(tt.fields, " ") {
				if p[f] != "" {
					fields = append(fields, f)
				}
			}
			if strings.Join(fields, " ") != tt.fields || len(p) != len(fields) {
				t.Errorf("problems %v; want of %s", p, tt.fields)
			}
			if got.Weeks != nil {
				t.Errorf("and yet there is a plan: %v", got)
			}
		})
	}
	for _, edge := range []plan.Input{
		good,
		with(func(in *plan.Input) { in.Start.Sessions, in.Start.Minutes, in.Goal, in.Weeks = 14, 240, 1500, 52 }),
		with(func(in *plan.Input) {
			in.Start = plan.Start{Class: light, Sessions: 1, Minutes: 1}
			in.Goal, in.Weeks, in.Ceiling = 1, 1, light
		}),
		with(func(in *plan.Input) { in.Start.Behind, in.Start.InPhase, in.Ceiling = 52, 52, intensity.NearMaximal }),
		with(func(in *plan.Input) { in.Start.Sessions, in.Preset = 7, "walk_12" }),
	} {
		if _, err := plan.Ladder(edge, policy); err != nil {
			t.Errorf("Ladder(%+v) refuses %v", edge, err)
		}
	}
}

// anyInput draws what a plan may be built from.
func anyInput(t *rapid.T) plan.Input {
	in := plan.Input{
		Start: plan.Start{
			Class:    rapid.SampledFrom([]intensity.Class{light, moderate, vigorous}).Draw(t, "class"),
			Sessions: rapid.IntRange(1, 14).Draw(t, "sessions"),
			Minutes:  rapid.IntRange(1, 120).Draw(t, "minutes"),
			Behind:   rapid.SampledFrom([]int{0, 0, 0, 3, 8, 13, 30}).Draw(t, "behind"),
		},
		Goal:    rapid.IntRange(1, 700).Draw(t, "goal"),
		Weeks:   rapid.IntRange(1, 52).Draw(t, "weeks"),
		Ceiling: intensity.Class(rapid.IntRange(2, 5).Draw(t, "ceiling")),
	}
	in.Start.Class = min(in.Start.Class, in.Ceiling)
	in.Start.InPhase = rapid.IntRange(0, in.Start.Behind).Draw(t, "phase")
	return in
}

// A plan that is built never changes two parts at once, never goes down, never
// above the ceiling, never to vigorous before week 13 of the programme or with
// more than a fifth of the first four weeks, and nothing about it is unusual.
func TestLadderHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		got, err := plan.Ladder(in, policy)
		if err != nil || len(got.Weeks) != in.Weeks {
			t.Fatalf("%d weeks, %v; want %d", len(got.Weeks), err, in.Weeks)
		}
		introduced := 0
		for i, w := range got.Weeks {
			if w.Dose.Hardest() > in.Ceiling || w.Totals != w.Dose.Totals() {
				t.Fatalf("week %d: %s under %v", w.Number, row(w), in.Ceiling)
			}
			if w.Totals.Vigorous > 0 && in.Start.Class < vigorous {
				introduced++
				if in.Start.Behind+w.Number < 13 {
					t.Fatalf("vigorous in week %d", in.Start.Behind+w.Number)
				}
				if introduced <= 4 && w.Totals.Vigorous*5 > w.Totals.Minutes() {
					t.Fatalf("week %d of vigorous work: %s", introduced, row(w))
				}
			}
			if i == 0 {
				continue
			}
			before := got.Weeks[i-1].Dose
			changes := plan.Changes(before, w.Dose)
			if len(changes) > 1 || (len(changes) == 1) != (w.Step != plan.NoChange) {
				t.Fatalf("week %d changes %v, said %q", w.Number, changes, w.Step)
			}
			if w.Dose.Minutes < before.Minutes || w.Dose.Sessions < before.Sessions || w.Dose.Class < before.Class || w.Dose.Vigorous < before.Vigorous {
				t.Fatalf("week %d goes down: %s", w.Number, row(w))
			}
			if w.Step == plan.Intensity && before.Class == moderate &&
				before.Minutes < 30 && got.Weeks[i-1].Totals.ModerateEquivalent < in.Goal {
				t.Fatalf("week %d: intensity before time: %s", w.Number, row(w))
			}
		}
		if got.Warnings != nil {
			t.Fatalf("warnings: %v", got.Warnings)
		}
		if got.Reached > 0 && (got.Weeks[got.Reached-1].Totals.ModerateEquivalent < in.Goal ||
			got.Reached > 1 && got.Weeks[got.Reached-2].Totals.ModerateEquivalent >= in.Goal) {
			t.Fatalf("reached %d in week %d?", in.Goal, got.Reached)
		}
	})
}
