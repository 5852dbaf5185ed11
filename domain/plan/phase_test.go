package plan_test

import (
	"reflect"
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
)

var today = domain.NewDate(2026, 11, 25)

func TestStays(t *testing.T) {
	easy := plan.PhaseRecord{
		Phase: plan.LightPhase, Today: today, Weeks: 4, InPhase: 4, Ceiling: vigorous,
		Sessions: []int{1, 2, 3, 3}, TalkAsked: 10, TalkComfortable: 8,
	}
	hard := plan.PhaseRecord{
		Phase: plan.ModeratePhase, Today: today, Weeks: 12, InPhase: 8, Ceiling: vigorous,
		ModerateEquivalent: []int{90, 150, 150, 160, 150}, ScreeningValid: true, SignedOff: today.AddDays(-30),
	}
	with := func(r plan.PhaseRecord, change func(*plan.PhaseRecord)) plan.PhaseRecord {
		change(&r)
		return r
	}
	type why = []plan.Reason
	for _, tt := range []struct {
		source string
		record plan.PhaseRecord
		want   why
	}{
		{"practice setting: four light weeks, three sessions, comfortable", easy, nil},
		{"practice setting: two weeks are enough", with(easy, func(r *plan.PhaseRecord) { r.InPhase = 2; r.Sessions = []int{3, 3} }), nil},
		{"practice setting: one week is not", with(easy, func(r *plan.PhaseRecord) { r.InPhase = 1 }), why{{Code: "weeks", Have: 1, Need: 2}}},
		{"practice setting: three sessions in the last week only", with(easy, func(r *plan.PhaseRecord) { r.Sessions = []int{3, 3, 2, 3} }), why{{Code: "sessions", Have: 2, Need: 3}}},
		{"practice setting: two sessions in the last week", with(easy, func(r *plan.PhaseRecord) { r.Sessions = []int{3, 3, 4, 2} }), why{{Code: "sessions", Have: 2, Need: 3}}},
		{"practice setting: only one week is known", with(easy, func(r *plan.PhaseRecord) { r.Sessions = []int{5} }), why{{Code: "sessions", Have: 0, Need: 3}}},
		{"practice setting: comfortable in 79 per cent", with(easy, func(r *plan.PhaseRecord) { r.TalkAsked, r.TalkComfortable = 100, 79 }), why{{Code: "talk", Have: 79, Need: 80}}},
		{"practice setting: comfortable in 399 of 500", with(easy, func(r *plan.PhaseRecord) { r.TalkAsked, r.TalkComfortable = 500, 399 }), why{{Code: "talk", Have: 79, Need: 80}}},
		{"practice setting: nobody asked", with(easy, func(r *plan.PhaseRecord) { r.TalkAsked, r.TalkComfortable = 0, 0 }), why{{Code: "talk_unknown"}}},
		{"practice setting: a report 14 days ago", with(easy, func(r *plan.PhaseRecord) { r.Alarm = today.AddDays(-14) }), why{{Code: "alarm", Have: 14, Need: 14}}},
		{"practice setting: a report today", with(easy, func(r *plan.PhaseRecord) { r.Alarm = today }), why{{Code: "alarm", Have: 0, Need: 14}}},
		{"practice setting: a report 15 days ago", with(easy, func(r *plan.PhaseRecord) { r.Alarm = today.AddDays(-15) }), nil},
		{"practice setting: a hold on vigorous work keeps nobody from moderate", with(easy, func(r *plan.PhaseRecord) { r.Ceiling = moderate }), nil},
		{"practice setting: a hold above light does", with(easy, func(r *plan.PhaseRecord) { r.Ceiling = light }), why{{Code: "ceiling", Have: int(light), Need: int(moderate)}}},
		{"practice setting: light does not ask for a sign-off or a target", with(easy, func(r *plan.PhaseRecord) { r.ModerateEquivalent = []int{0, 0, 0, 0} }), nil},

		{"practice setting: eight moderate weeks to week 12, 150 four times, signed 30 days ago", hard, nil},
		{"practice setting: signed 31 days ago", with(hard, func(r *plan.PhaseRecord) { r.SignedOff = today.AddDays(-31) }), why{{Code: "sign_off", Have: 31, Need: 30}}},
		{"practice setting: signed today", with(hard, func(r *plan.PhaseRecord) { r.SignedOff = today }), nil},
		{"practice setting: not signed", with(hard, func(r *plan.PhaseRecord) { r.SignedOff = domain.Date{} }), why{{Code: "sign_off", Have: -1, Need: 30}}},
		{"practice setting: after week 11 it would begin in week 12", with(hard, func(r *plan.PhaseRecord) { r.Weeks = 11 }), why{{Code: "week", Have: 12, Need: 13}}},
		{"practice setting: seven weeks in the phase", with(hard, func(r *plan.PhaseRecord) { r.InPhase = 7 }), why{{Code: "weeks", Have: 7, Need: 8}}},
		{"practice setting: 149 in one of four weeks", with(hard, func(r *plan.PhaseRecord) { r.ModerateEquivalent = []int{150, 149, 150, 300} }), why{{Code: "target", Have: 149, Need: 150}}},
		{"practice setting: three weeks are known", with(hard, func(r *plan.PhaseRecord) { r.ModerateEquivalent = []int{200, 200, 200} }), why{{Code: "target", Have: 0, Need: 150}}},
		{"PAGA 2018 p. 68: a target of one's own", with(hard, func(r *plan.PhaseRecord) { r.Target = 100; r.ModerateEquivalent = []int{100, 100, 120, 100} }), nil},
		{"PAGA 2018 p. 68: a target of one's own, missed", with(hard, func(r *plan.PhaseRecord) { r.Target = 200 }), why{{Code: "target", Have: 150, Need: 200}}},
		{"PAGA 2018 p. 68: what one can do may be a minute", with(hard, func(r *plan.PhaseRecord) { r.Target = 1; r.ModerateEquivalent = []int{1, 1, 1, 1} }), nil},
		{"practice setting: the screening has lapsed", with(hard, func(r *plan.PhaseRecord) { r.ScreeningValid = false }), why{{Code: "screening"}}},
		{"practice setting: a hold on vigorous work", with(hard, func(r *plan.PhaseRecord) { r.Ceiling = moderate }), why{{Code: "ceiling", Have: int(moderate), Need: int(vigorous)}}},
		{"practice setting: moderate does not ask for talk tests or sessions", with(hard, func(r *plan.PhaseRecord) { r.Sessions = nil; r.TalkAsked = 5 }), nil},
		{
			"practice setting: every reason is told",
			plan.PhaseRecord{Phase: plan.ModeratePhase, Today: today, Alarm: today.AddDays(-2)},
			why{
				{Code: "ceiling", Have: int(none), Need: int(vigorous)}, {Code: "alarm", Have: 2, Need: 14}, {Code: "weeks", Have: 0, Need: 8},
				{Code: "week", Have: 1, Need: 13}, {Code: "target", Have: 0, Need: 150}, {Code: "screening"}, {Code: "sign_off", Have: -1, Need: 30},
			},
		},
		{"practice setting: nothing follows the introduction", plan.PhaseRecord{Phase: plan.VigorousIntroduction, Today: today, Ceiling: vigorous}, why{{Code: "no_later_phase"}}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := tt.record.Stays(policy); !reflect.DeepEqual(got, tt.want) {
				t.Errorf("Stays(%+v) = %v; want %v", tt.record, got, tt.want)
			}
		})
	}
}

func TestPhases(t *testing.T) {
	for _, tt := range []struct {
		source, name string
		phase        plan.Phase
		ceiling      intensity.Class
		next         plan.Phase
	}{
		{"common practice: light first", "light", plan.LightPhase, light, plan.ModeratePhase},
		{"common practice: then moderate", "moderate", plan.ModeratePhase, moderate, plan.VigorousIntroduction},
		{"common practice: then vigorous", "vigorous_introduction", plan.VigorousIntroduction, vigorous, ""},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got, err := plan.ParsePhase(tt.name); err != nil || got != tt.phase {
				t.Errorf("ParsePhase(%q) = %q, %v", tt.name, got, err)
			}
			if got := tt.phase.Ceiling(); got != tt.ceiling {
				t.Errorf("%s.Ceiling() = %v; want %v", tt.phase, got, tt.ceiling)
			}
			if next, ok := tt.phase.Next(); next != tt.next || ok != (tt.next != "") {
				t.Errorf("%s.Next() = %q, %t; want %q", tt.phase, next, ok, tt.next)
			}
		})
	}
	if _, err := plan.ParsePhase("maintenance"); err == nil {
		t.Error("ParsePhase takes a phase that is none")
	}
	if c := plan.Phase("maintenance").Ceiling(); c != none {
		t.Errorf("a phase that is none has the ceiling %v", c)
	}
}
