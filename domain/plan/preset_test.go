package plan_test

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/source"
)

func TestPresets(t *testing.T) {
	for _, tt := range []struct {
		source string
		preset string
		start  plan.Start
		weeks  int
		want   []string
		notes  []string
	}{
		{
			"NHLBI 12-week walking programme: brisk and total minutes; five days make 150 in week 12",
			"walk_12", plan.Start{Class: moderate, Sessions: 5, Minutes: 15}, 12,
			[]string{
				"5x15 50+25+0=25", "5x17 50+35+0=35", "5x19 50+45+0=45", "5x21 50+55+0=55", "5x23 50+65+0=65", "5x25 50+75+0=75",
				"5x28 50+90+0=90", "5x30 50+100+0=100", "5x33 50+115+0=115", "5x36 50+130+0=130", "5x38 50+140+0=140", "5x40 50+150+0=150",
			},
			nil,
		},
		{
			"NHLBI 12-week walking programme, older copies: three sessions",
			"walk_12", plan.Start{Class: moderate, Sessions: 3, Minutes: 15}, 12,
			[]string{
				"3x15 30+15+0=15", "3x17 30+21+0=21", "3x19 30+27+0=27", "3x21 30+33+0=33", "3x23 30+39+0=39", "3x25 30+45+0=45",
				"3x28 30+54+0=54", "3x30 30+60+0=60", "3x33 30+69+0=69", "3x36 30+78+0=78", "3x38 30+84+0=84", "3x40 30+90+0=90",
			},
			[]string{"goal_not_reached"},
		},
		{
			"NHLBI 12-week walking programme: from week 13 on 30 brisk minutes and more",
			"walk_12", plan.Start{Class: light, Sessions: 5, Minutes: 15}, 14,
			[]string{
				"5x15 50+25+0=25", "5x17 50+35+0=35", "5x19 50+45+0=45", "5x21 50+55+0=55", "5x23 50+65+0=65", "5x25 50+75+0=75",
				"5x28 50+90+0=90", "5x30 50+100+0=100", "5x33 50+115+0=115", "5x36 50+130+0=130", "5x38 50+140+0=140", "5x40 50+150+0=150",
				"5x40 50+150+0=150", "5x40 50+150+0=150",
			},
			[]string{"last_week_repeats", "start_not_used"},
		},
		{
			"UK public health service, nine-week run and walk: running minutes three times 8, 9, 9, 16, then 51, 63, 75, 84, 90",
			"run_walk_9", plan.Start{Class: moderate, Sessions: 3, Minutes: 25}, 9,
			[]string{
				"3x25 0+51+24=99", "3x25 0+48+27=102", "3x23 0+42+27=96", "3x27 0+32+48=128", "3x26 0+26+51=128",
				"3x30 0+24+63=150", "3x30 0+15+75=165", "3x33 0+15+84=183", "3x35 0+15+90=195",
			},
			[]string{"after_moderate"},
		},
		{
			"HERITAGE: 30 minutes at 55 per cent, 50 minutes at 75 per cent in the last six weeks; between them from memory",
			"heritage_20", plan.Start{Class: moderate, Sessions: 3, Minutes: 30}, 20,
			[]string{
				"3x30 0+90+0=90", "3x30 0+90+0=90", "3x35 0+105+0=105", "3x35 0+105+0=105", "3x35 0+0+105=210", "3x35 0+0+105=210",
				"3x40 0+0+120=240", "3x40 0+0+120=240", "3x40 0+0+120=240", "3x40 0+0+120=240", "3x45 0+0+135=270", "3x45 0+0+135=270",
				"3x45 0+0+135=270", "3x45 0+0+135=270", "3x50 0+0+150=300", "3x50 0+0+150=300", "3x50 0+0+150=300", "3x50 0+0+150=300",
				"3x50 0+0+150=300", "3x50 0+0+150=300",
			},
			[]string{"after_moderate"},
		},
		{
			"RACGP handbook: three sessions, 5 + 20 to 45 + 5 minutes, 12 weeks; the growth is a practice setting",
			"cardiac_12", plan.Start{Class: moderate, Sessions: 3, Minutes: 30}, 12,
			[]string{
				"3x30 30+60+0=60", "3x30 30+60+0=60", "3x35 30+75+0=75", "3x35 30+75+0=75", "3x40 30+90+0=90", "3x40 30+90+0=90",
				"3x45 30+105+0=105", "3x45 30+105+0=105", "3x50 30+120+0=120", "3x50 30+120+0=120", "3x55 30+135+0=135", "3x55 30+135+0=135",
			},
			[]string{"goal_not_reached"},
		},
		{
			"RACGP handbook: the same with light training, cut short",
			"cardiac_12", plan.Start{Class: light, Sessions: 5, Minutes: 15}, 3,
			[]string{"3x30 90+0+0=0", "3x30 90+0+0=0", "3x35 105+0+0=0"},
			[]string{"cut_short", "start_not_used", "goal_not_reached"},
		},
		{
			"practice setting: other minutes than the programme begins with",
			"cardiac_12", plan.Start{Class: moderate, Sessions: 3, Minutes: 20}, 1,
			[]string{"3x30 30+60+0=60"},
			[]string{"cut_short", "start_not_used", "goal_not_reached"},
		},
		{
			"practice setting: other sessions than the programme has",
			"cardiac_12", plan.Start{Class: moderate, Sessions: 4, Minutes: 30}, 1,
			[]string{"3x30 30+60+0=60"},
			[]string{"cut_short", "start_not_used", "goal_not_reached"},
		},
		{
			"RACGP handbook: training is no harder than moderate",
			"cardiac_12", plan.Start{Class: vigorous, Sessions: 3, Minutes: 30}, 2,
			[]string{"3x30 30+60+0=60", "3x30 30+60+0=60"},
			[]string{"cut_short", "start_not_used", "goal_not_reached"},
		},
		{
			"practice setting: 24 weeks from light to vigorous",
			"three_phase_24", plan.Start{Class: light, Sessions: 3, Minutes: 15}, 24,
			[]string{
				"3x15 45+0+0=0", "3x20 60+0+0=0", "3x25 75+0+0=0", "4x25 100+0+0=0",
				"4x25 0+100+0=100", "4x30 0+120+0=120", "4x30 0+120+0=120", "4x30 0+120+0=120",
				"5x30 0+150+0=150", "5x30 0+150+0=150", "5x30 0+150+0=150", "5x30 0+150+0=150",
				"5x30 0+146+4=154", "5x30 0+146+4=154", "5x30 0+142+8=158", "5x30 0+142+8=158", "5x30 0+138+12=162", "5x30 0+138+12=162",
				"5x30 0+130+20=170", "5x30 0+120+30=180", "5x30 0+110+40=190", "5x30 0+110+40=190", "5x30 0+100+50=200", "5x30 0+100+50=200",
			},
			nil,
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			in := plan.Input{Start: tt.start, Goal: 150, Weeks: tt.weeks, Ceiling: vigorous, Preset: tt.preset}
			got, err := plan.Ladder(in, policy)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(rows(got.Weeks), tt.want) {
				t.Errorf("weeks\n%q; want\n%q", rows(got.Weeks), tt.want)
			}
			var notes []string
			for _, n := range got.Notes {
				notes = append(notes, n.Code)
				if n.Code == "cut_short" && (n.Have != tt.weeks || n.Need != 12) || n.Code == "last_week_repeats" && (n.Have != 14 || n.Need != 12) {
					t.Errorf("note %+v", n)
				}
			}
			if !slices.Equal(notes, tt.notes) || got.Preset != tt.preset {
				t.Errorf("notes %v of %s; want %v of %s", notes, got.Preset, tt.notes, tt.preset)
			}
			for _, w := range got.Weeks {
				if w.Dose.Totals() != w.Totals && tt.preset != "run_walk_9" { // whose sessions differ
					t.Errorf("week %d: the dose %+v adds up to %+v; want %+v", w.Number, w.Dose, w.Dose.Totals(), w.Totals)
				}
			}
			for i, w := range got.Weeks[1:] {
				changes := plan.Changes(got.Weeks[i].Dose, w.Dose)
				if len(changes) == 1 && w.Step != changes[0] || len(changes) != 1 && w.Step != plan.NoChange {
					t.Errorf("week %d: step %q, changes %v", w.Number, w.Step, changes)
				}
			}
		})
	}
}

// The bouts of single sessions.
func TestPresetSessions(t *testing.T) {
	w := func(seconds int) plan.Bout { return plan.Bout{Class: moderate, Seconds: seconds} }
	r := func(seconds int) plan.Bout { return plan.Bout{Class: vigorous, Seconds: seconds} }
	for _, tt := range []struct {
		source        string
		preset        string
		week, session int
		want          plan.Session
	}{
		{
			"NHLBI 12-week walking programme: week 8", "walk_12", 8, 4,
			plan.Session{{Class: light, Seconds: 300}, w(1200), {Class: light, Seconds: 300}},
		},
		{
			"UK public health service, nine-week run and walk: week 1", "run_walk_9", 1, 2,
			plan.Session{w(300), r(60), w(90), r(60), w(90), r(60), w(90), r(60), w(90), r(60), w(90), r(60), w(90), r(60), w(90), r(60), w(90)},
		},
		{
			"UK public health service, nine-week run and walk: week 2, cut at 20 minutes", "run_walk_9", 2, 0,
			plan.Session{w(300), r(90), w(120), r(90), w(120), r(90), w(120), r(90), w(120), r(90), w(120), r(90), w(60)},
		},
		{
			"UK public health service, nine-week run and walk: week 3", "run_walk_9", 3, 0,
			plan.Session{w(300), r(90), w(90), r(180), w(180), r(90), w(90), r(180), w(180)},
		},
		{
			"UK public health service, nine-week run and walk: week 4", "run_walk_9", 4, 1,
			plan.Session{w(300), r(180), w(90), r(300), w(150), r(180), w(90), r(300)},
		},
		{
			"UK public health service, nine-week run and walk: week 5, first", "run_walk_9", 5, 0,
			plan.Session{w(300), r(300), w(180), r(300), w(180), r(300)},
		},
		{
			"UK public health service, nine-week run and walk: week 5, third", "run_walk_9", 5, 2,
			plan.Session{w(300), r(1200)},
		},
		{
			"UK public health service, nine-week run and walk: week 6, second", "run_walk_9", 6, 1,
			plan.Session{w(300), r(600), w(180), r(600)},
		},
		{
			"UK public health service, nine-week run and walk: week 5, second", "run_walk_9", 5, 1,
			plan.Session{w(300), r(480), w(300), r(480)},
		},
		{
			"UK public health service, nine-week run and walk: week 6, first", "run_walk_9", 6, 0,
			plan.Session{w(300), r(300), w(180), r(480), w(180), r(300)},
		},
		{
			"UK public health service, nine-week run and walk: week 6, third", "run_walk_9", 6, 2,
			plan.Session{w(300), r(1500)},
		},
		{
			"UK public health service, nine-week run and walk: after week 9", "run_walk_9", 10, 2,
			plan.Session{w(300), r(1800)},
		},
		{
			"practice setting: two sessions of 20 vigorous minutes in week 21", "three_phase_24", 21, 1,
			plan.Session{w(600), r(1200)},
		},
		{
			"practice setting: the third one without", "three_phase_24", 21, 2,
			plan.Session{w(1800)},
		},
		{
			"practice setting: week 0 is taken for the first", "three_phase_24", 0, 0,
			plan.Session{{Class: light, Seconds: 900}},
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			ps, ok := plan.PresetOf(tt.preset)
			if !ok {
				t.Fatalf("no preset %s", tt.preset)
			}
			sessions := ps.Sessions(tt.week, plan.Start{Class: moderate, Sessions: 5, Minutes: 15})
			if got := sessions[tt.session]; !reflect.DeepEqual(got, tt.want) {
				t.Errorf("week %d, session %d: %v; want %v", tt.week, tt.session, got, tt.want)
			}
		})
	}
}

// The training of HERITAGE: 60 sessions at the levels 55, 65, 70 and 75 per cent,
// the last six weeks at 75 (Skinner 2000, Wilmore 2001); from memory, in which
// fortnight each begins.
func TestHeritageSessions(t *testing.T) {
	ps, _ := plan.PresetOf("heritage_20")
	var fortnights []int
	n := 0
	for week := 1; week <= ps.Weeks; week++ {
		sessions := ps.Sessions(week, plan.Start{Class: moderate, Sessions: 3, Minutes: 30})
		n += len(sessions)
		if week%2 == 1 {
			fortnights = append(fortnights, sessions[0][0].Oxygen)
		}
	}
	if n != 60 {
		t.Errorf("%d sessions; want 60", n)
	}
	if want := []int{55, 55, 65, 65, 70, 70, 75, 75, 75, 75}; !slices.Equal(fortnights, want) {
		t.Errorf("per cent by fortnight %v; want %v", fortnights, want)
	}
}

// How many sessions of a week have a vigorous bout: one at first, two from week
// 19 on.
func TestHardSessions(t *testing.T) { // practice setting
	ps, _ := plan.PresetOf("three_phase_24")
	want := map[int]int{13: 1, 14: 1, 15: 1, 16: 1, 17: 1, 18: 1, 19: 2, 20: 2, 21: 2, 22: 2, 23: 2, 24: 2}
	for week := 1; week <= ps.Weeks; week++ {
		got := 0
		for _, s := range ps.Sessions(week, plan.Start{}) {
			if slices.ContainsFunc(s, func(b plan.Bout) bool { return b.Class == vigorous }) {
				got++
			}
		}
		if got != want[week] {
			t.Errorf("week %d has %d sessions with vigorous bouts; want %d", week, got, want[week])
		}
	}
}

func TestPresetList(t *testing.T) {
	type facts struct {
		id                 string
		weeks, least, most int
		hardest            intensity.Class
		after              bool
	}
	var got []facts
	for _, ps := range plan.Presets() {
		got = append(got, facts{ps.ID, ps.Weeks, ps.Least, ps.Most, ps.Hardest, ps.AfterModerate})
		if ps.Says == "" {
			t.Errorf("preset %+v is not told in full", ps)
		}
		cited(t, ps.ID, ps.Sources)
	}
	want := []facts{
		{"walk_12", 12, 3, 7, moderate, false},        // NHLBI
		{"cardiac_12", 12, 3, 3, light, false},        // RACGP handbook; light is a practice setting
		{"three_phase_24", 24, 3, 5, vigorous, false}, // practice setting
		{"run_walk_9", 9, 3, 3, vigorous, true},       // UK public health service
		{"heritage_20", 20, 3, 3, vigorous, true},     // HERITAGE
	}
	if !slices.Equal(got, want) {
		t.Errorf("presets %v; want %v", got, want)
	}
	plan.Presets()[0].ID = "changed"
	if _, ok := plan.PresetOf("walk_12"); !ok {
		t.Error("a caller can change the presets")
	}
	if _, ok := plan.PresetOf("walk_13"); ok {
		t.Error("there is a preset walk_13")
	}
}

// No preset goes above a ceiling that it was made under, and each keeps to what
// it says of itself.
func TestPresetsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		ps := rapid.SampledFrom(plan.Presets()).Draw(t, "preset")
		in.Preset = ps.ID
		got, err := plan.Ladder(in, policy)
		if err != nil {
			if ps.Hardest <= in.Ceiling && (ps.Least == ps.Most || in.Start.Sessions >= ps.Least && in.Start.Sessions <= ps.Most) {
				t.Fatalf("%s refuses %+v: %v", ps.ID, in, err)
			}
			return
		}
		for _, w := range got.Weeks {
			if w.Dose.Hardest() > in.Ceiling || w.Dose.Hardest() > max(ps.Hardest, in.Start.Class) {
				t.Fatalf("%s, week %d: %s under %v", ps.ID, w.Number, row(w), in.Ceiling)
			}
			if w.Dose.Sessions < ps.Least || w.Dose.Sessions > ps.Most || len(ps.Sessions(w.Number, in.Start)) != w.Dose.Sessions {
				t.Fatalf("%s, week %d: %d sessions", ps.ID, w.Number, w.Dose.Sessions)
			}
		}
		for _, w := range got.Warnings {
			if w.Code == "above_ceiling" {
				t.Fatalf("%s: %+v", ps.ID, w)
			}
		}
	})
}

func cited(t *testing.T, what string, keys []source.Key) {
	t.Helper()
	if len(keys) == 0 {
		t.Errorf("%s cites nothing", what)
	}
	for _, k := range keys {
		if _, ok := source.Find(k); !ok {
			t.Errorf("%s cites %q, which is no citation", what, k)
		}
	}
}
