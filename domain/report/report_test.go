package report_test

import (
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/report"
	"brae/domain/screening"
	"brae/domain/volume"
)

// The worth of a vigorous minute is from outside: Physical Activity Guidelines for
// Americans, 2nd edition, 2018, page 58; as are the minutes of the examples on
// pages 58 and 77: 75 vigorous minutes are 150 moderate ones, and 100 + 25 as well.
func TestStart(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		activity screening.Activity
		want     int
		known    bool
	}{
		{screening.Activity{Days: 5, Minutes: 30, Class: intensity.Moderate}, 150, true},
		{screening.Activity{Days: 3, Minutes: 25, Class: intensity.Vigorous}, 150, true},
		{screening.Activity{Days: 7, Minutes: 30, Class: intensity.Light}, 0, true},
		{screening.Activity{}, 0, true},
		{screening.Activity{Days: 3, Minutes: 20}, 0, false}, // nobody told how hard
		{screening.Activity{Unknown: true}, 0, false},
	} {
		if got, known := report.Start(tt.activity); got != tt.want || known != tt.known {
			t.Errorf("Start(%+v) = %d, %t; want %d, %t", tt.activity, got, known, tt.want, tt.known)
		}
	}
}

var monday = domain.NewDate(2026, 8, 3)

// weeks are as many as there are numbers, of moderate minutes, each with a session
// where it is not 0, and asked for 100 minutes.
func weeks(minutes ...int) []report.Week {
	var list []report.Week
	for i, m := range minutes {
		w := report.Week{First: monday.AddDays(7 * i), Asked: 3, Target: volume.Target{Minutes: 100}}
		w.Totals = volume.Of(volume.Part{Minutes: m, Class: intensity.Moderate})
		if m > 0 {
			w.Sessions = 1
		}
		list = append(list, w)
	}
	return list
}

// The means are worked out by hand.
func TestNow(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		minutes    []int
		today      domain.Date
		want, over int
	}{
		{[]int{10, 90, 100, 0, 111}, monday.AddDays(35), 75, 4}, // (90 + 100 + 0 + 111) / 4 = 75.25
		{[]int{10, 90, 100, 0, 500}, monday.AddDays(34), 50, 4}, // the last week is not over on its Sunday
		{[]int{80, 81}, monday.AddDays(14), 81, 2},              // 80.5 is rounded up
		{[]int{80}, monday.AddDays(6), 0, 0},
		{nil, monday, 0, 0},
	} {
		if got, over := report.Now(weeks(tt.minutes...), monday, tt.today, report.PolicyFrom(nil)); got != tt.want || over != tt.over {
			t.Errorf("Now(%v) on %s = %d over %d weeks; want %d over %d", tt.minutes, tt.today, got, over, tt.want, tt.over)
		}
	}
}

// Counted by hand: practice rule.
func TestAdhere(t *testing.T) {
	t.Parallel()
	list := weeks(100, 99, 0, 140, 50, 120)
	list[3].Asked, list[3].Target = 0, volume.Target{}        // a holiday in which a lot was done
	got := report.Adhere(list, monday, monday.AddDays(5*7+3)) // within the last of them
	if want := (report.Adherence{Weeks: 4, Logged: 3, Reached: 1}); got != want || got.Share() != 25 {
		t.Errorf("Adhere = %+v, %d per cent; want %+v, 25", got, got.Share(), want)
	}
	// A plan of a Wednesday asks nothing of the week's first two days.
	if got := report.Adhere(list, monday.AddDays(2), monday.AddDays(5*7+3)); got != (report.Adherence{Weeks: 3, Logged: 2}) {
		t.Errorf("from the first Wednesday on = %+v", got)
	}
	// In the light phase light minutes count, each once.
	light := report.Week{First: monday, Asked: 3, Target: volume.Target{Minutes: 45, Light: true}, Sessions: 3}
	light.Totals = volume.Of(volume.Part{Minutes: 45, Class: intensity.Light})
	if got := report.Adhere([]report.Week{light}, monday, monday.AddDays(7)); got.Reached != 1 {
		t.Errorf("45 light minutes of 45 = %+v", got)
	}
	if got := (report.Adherence{}).Share(); got != 0 {
		t.Errorf("the share of no weeks = %d", got)
	}
	if got := (report.Adherence{Weeks: 3, Reached: 2}).Share(); got != 67 { // 66.7
		t.Errorf("two of three = %d", got)
	}
}

func TestDischarge(t *testing.T) {
	t.Parallel()
	good := report.Discharge{Outcome: report.GoalReached, Text: "Walks an hour.", Advice: "Keep walking."}
	for _, tt := range []struct {
		name   string
		change func(*report.Discharge)
		open   bool
		want   string // the only field with a problem
	}{
		{"good", func(*report.Discharge) {}, false, ""},
		{"open and seen", func(d *report.Discharge) { d.Seen = true }, true, ""},
		{"open and not seen", func(*report.Discharge) {}, true, "seen"},
		{"no outcome", func(d *report.Discharge) { d.Outcome = "" }, false, "outcome"},
		{"no such outcome", func(d *report.Discharge) { d.Outcome = "bored" }, false, "outcome"},
		{"other without words", func(d *report.Discharge) { d.Outcome, d.Words = report.Other, " " }, false, "words"},
		{"other", func(d *report.Discharge) { d.Outcome, d.Words = report.Other, "The hall is closed." }, false, ""},
		{"words too long", func(d *report.Discharge) { d.Words = strings.Repeat("é", 301) }, false, "words"},
		{"no summary", func(d *report.Discharge) { d.Text = "" }, false, "text"},
		{"summary too long", func(d *report.Discharge) { d.Text = strings.Repeat("é", 701) }, false, "text"},
		{"summary of too many lines", func(d *report.Discharge) { d.Text = "a" + strings.Repeat("\na", 13) }, false, "text"},
		{"no advice", func(d *report.Discharge) { d.Advice = "" }, false, "advice"},
		{"no advice for who died", func(d *report.Discharge) { d.Outcome, d.Advice = report.Died, "" }, false, ""},
	} {
		d := good
		tt.change(&d)
		got := d.Check(tt.open)
		if tt.want == "" && got != nil || tt.want != "" && (len(got) != 1 || got[tt.want] == "") {
			t.Errorf("%s: %v; want a problem at %q", tt.name, got, tt.want)
		}
	}
	for _, o := range report.Outcomes() {
		if o.Name() == string(o) {
			t.Errorf("%s has no name", o)
		}
	}
}

// What a client goes home with asks for nothing above what is allowed.
//
// Source: paga2018 (150 minutes, a vigorous minute counts twice), cdc_talk (singing
// is light, talking but not singing moderate).
func TestAdvice(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		ceiling     intensity.Class
		says, spare string
	}{
		{intensity.None, "Do not exercise", "Keep your week"},
		{intensity.Light, "If you can sing", "150 minutes"},
		{intensity.Moderate, "Go no harder than that", "counts twice"},
		{intensity.Vigorous, "counts twice", "Go no harder"},
		{intensity.NearMaximal, "counts twice", "Go no harder"},
	} {
		advice, limited := strings.Join(report.Advice(tt.ceiling, false), "\n"), strings.Join(report.Advice(tt.ceiling, true), "\n")
		if !strings.Contains(advice, tt.says) || strings.Contains(advice, tt.spare) || !strings.Contains(advice, "chest pain") {
			t.Errorf("under a ceiling of %s: %s", tt.ceiling, advice)
		}
		if tells := strings.Contains(limited, "limits that your doctor"); tells != (tt.ceiling >= intensity.Light) || strings.Contains(advice, "limits that your doctor") {
			t.Errorf("under a ceiling of %s a doctor's limits are told: %t", tt.ceiling, tells)
		}
		if n := len([]rune(limited)); n > report.AdviceMost {
			t.Errorf("our own advice under a ceiling of %s has %d characters", tt.ceiling, n)
		}
	}
}

func TestNeedsScreening(t *testing.T) {
	t.Parallel()
	p := report.PolicyFrom(nil)
	for _, tt := range []struct {
		screened domain.Date
		want     bool
	}{
		{domain.Date{}, true}, {monday, false}, {monday.AddDays(-91), false}, {monday.AddDays(-92), true},
	} {
		if got := report.NeedsScreening(tt.screened, monday, p); got != tt.want {
			t.Errorf("NeedsScreening(%s, %s) = %t", tt.screened, monday, got)
		}
	}
}
