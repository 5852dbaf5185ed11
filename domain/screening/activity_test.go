package screening_test

import (
	"strings"
	"testing"
	"time"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/screening"
)

func TestRegular(t *testing.T) {
	type activity = screening.Activity
	for _, tt := range []struct {
		source string
		in     activity
		want   bool
	}{
		{acsmWebinar + "; inclusive: " + memory, activity{Days: 3, Minutes: 30, Months: 3, Class: moderate}, true},
		{acsmWebinar, activity{Days: 3, Minutes: 29, Months: 12, Class: moderate}, false},
		{acsmWebinar, activity{Days: 2, Minutes: 60, Months: 12, Class: moderate}, false},
		{acsmFigure + "; light walking", activity{Days: 5, Minutes: 40, Months: 12, Class: light}, false},
		{acsmWebinar + "; ten weeks", activity{Days: 4, Minutes: 45, Months: 2, Class: moderate}, false},
		{acsmFigure, activity{Days: 7, Minutes: 60, Months: 60, Class: vigorous}, true},
		{acsmFigure, activity{Days: 3, Minutes: 30, Months: 3, Class: intensity.NearMaximal}, true},
		{setting + ": unknown", activity{Unknown: true, Days: 5, Minutes: 60, Months: 12, Class: vigorous}, false},
		{setting + ": none", activity{}, false},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := tt.in.Regular(); got != tt.want {
				t.Errorf("%+v is regular: %v; want %v", tt.in, got, tt.want)
			}
			in := client(t, 30, light)
			in.Activity = tt.in
			if d := decide(t, in); d.Regular != tt.want {
				t.Errorf("decided regular %v; want %v", d.Regular, tt.want)
			}
		})
	}
}

func TestAttested(t *testing.T) {
	in := client(t, 30, moderate)
	in.Attested = &screening.Attested{Regular: true, By: "A. Tester", Reason: "Rows four times a week, logged elsewhere."}
	d := decide(t, in)
	if !d.Regular || d.Rule != "A056" || !strings.Contains(strings.Join(d.Reasons, " "), "logged elsewhere") {
		t.Errorf("attested regular: %v, %s, %q", d.Regular, d.Rule, d.Reasons)
	}
	in.Activity = exercising
	in.Attested.Regular = false
	if d := decide(t, in); d.Regular || d.Rule != "A002" || !strings.Contains(strings.Join(d.Reasons, " "), "not exercising regularly by the practitioner") {
		t.Errorf("attested not regular: %v, %s, %q", d.Regular, d.Rule, d.Reasons)
	}
}

func TestReclassified(t *testing.T) {
	in := client(t, 30, moderate, "ankle_swelling")
	in.Reclassified = []screening.Reclassified{{Code: "ankle_swelling", By: "A. Tester", Reason: "A sprained ankle."}}
	d := decide(t, in)
	if d.Rule != "A002" || d.Group != screening.NoDisease || len(d.Causes) != 0 || in.Answers.Of("ankle_swelling") != screening.Yes {
		t.Errorf("set aside: %s, %s, causes %v, answer %v", d.Rule, d.Group, d.Causes, in.Answers.Of("ankle_swelling"))
	}
	if all := strings.Join(d.Reasons, " "); !strings.Contains(all, "A sprained ankle.") || !strings.Contains(all, "A. Tester") {
		t.Errorf("reasons %q", d.Reasons)
	}
}

// log is so many weeks of days with one bout each, ending with the last whole
// week before the one of 1 June 2025, a Sunday, in weeks that start on Monday.
func log(weeks, days, minutes int, class intensity.Class) []screening.Bout {
	monday := domain.NewDate(2025, 5, 26)
	var all []screening.Bout
	for w := 1; w <= weeks; w++ {
		for d := range days {
			all = append(all, screening.Bout{Day: monday.AddDays(-7*w + d), Minutes: minutes, Class: class})
		}
	}
	return all
}

func TestRegularFromLogs(t *testing.T) {
	p := screening.PolicyFrom(nil)
	twice := func(weeks, minutes int) []screening.Bout {
		return append(log(weeks, 3, minutes, moderate), log(weeks, 3, minutes, moderate)...)
	}
	without := func(bouts []screening.Bout, week int) []screening.Bout {
		var kept []screening.Bout
		for _, b := range bouts {
			if domain.NewDate(2025, 5, 26).DaysSince(b.Day.Week(time.Monday))/7 != week {
				kept = append(kept, b)
			}
		}
		return kept
	}
	for _, tt := range []struct {
		source string
		name   string
		bouts  []screening.Bout
		start  time.Weekday
		policy screening.Policy
		want   screening.History
	}{
		{acsmWebinar + "; weeks: " + setting, "13 weeks of 3 days of 30 minutes", log(13, 3, 30, moderate), time.Monday, p, screening.History{Counted: 13, Regular: true}},
		{setting, "more than 13 weeks", log(20, 5, 60, vigorous), time.Monday, p, screening.History{Counted: 13, Regular: true}},
		{acsmWebinar, "12 weeks", log(12, 3, 30, moderate), time.Monday, p, screening.History{Counted: 12}},
		{acsmWebinar, "two days a week", log(13, 2, 60, moderate), time.Monday, p, screening.History{}},
		{acsmWebinar, "29 minutes", log(13, 3, 29, moderate), time.Monday, p, screening.History{}},
		{acsmFigure, "light", log(13, 7, 60, light), time.Monday, p, screening.History{Idle: 13}},
		{setting, "two bouts of 15 minutes", twice(13, 15), time.Monday, p, screening.History{Counted: 13, Regular: true}},
		{setting, "single bouts only", twice(13, 15), time.Monday, screening.PolicyFrom(map[string]int{"screening.sum_bouts": 0}), screening.History{}},
		{setting, "single bouts of 30", twice(13, 30), time.Monday, screening.PolicyFrom(map[string]int{"screening.sum_bouts": 0}), screening.History{Counted: 13, Regular: true}},
		{setting, "a week missed", without(log(13, 3, 30, moderate), 5), time.Monday, p, screening.History{Counted: 12}},
		{setting, "a week missed, allowed", without(log(13, 3, 30, moderate), 5), time.Monday, screening.PolicyFrom(map[string]int{"screening.missed_weeks": 1}), screening.History{Counted: 12, Regular: true}},
		{setting, "idle since a week", without(log(13, 3, 30, moderate), 1), time.Monday, p, screening.History{Counted: 12, Idle: 1}},
		{setting, "a minute is not idle", append(without(log(13, 3, 30, moderate), 1), screening.Bout{Day: domain.NewDate(2025, 5, 21), Minutes: 1, Class: moderate}), time.Monday, p, screening.History{Counted: 12}},
		{setting, "this week and the future do not count", []screening.Bout{{Day: today, Minutes: 60, Class: moderate}, {Day: today.AddDays(3), Minutes: 60, Class: moderate}}, time.Monday, p, screening.History{Idle: 13}},
		{setting, "weeks from Sunday: 25 to 31 May is whole by then", log(13, 3, 30, moderate), time.Sunday, p, screening.History{Counted: 12, Idle: 1}},
		{setting, "nothing", nil, time.Monday, p, screening.History{Idle: 13}},
		{setting, "no minutes", []screening.Bout{{Day: domain.NewDate(2025, 5, 21), Minutes: -30, Class: moderate}}, time.Monday, p, screening.History{Idle: 13}},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			if got := screening.RegularFromLogs(tt.bouts, today, tt.start, tt.policy); got != tt.want {
				t.Errorf("RegularFromLogs = %+v; want %+v", got, tt.want)
			}
		})
	}
}
