package plan_test

import (
	"reflect"
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
)

// log is a session some days ago.
func log(daysAgo, effort int, change ...func(*plan.Log)) plan.Log {
	l := plan.Log{Day: today.AddDays(-daysAgo), Effort: effort}
	for _, c := range change {
		c(&l)
	}
	return l
}

func talk(said intensity.Talk) func(*plan.Log) { return func(l *plan.Log) { l.Talk = said } }
func hr(mean int) func(*plan.Log) {
	return func(l *plan.Log) { l.HeartRate, l.Low, l.High = mean, 110, 130 }
}
func wide(l *plan.Log)     { l.Low, l.High = 101, 200 }
func free(l *plan.Log)     { l.Low, l.High = 0, 0 }
func reported(l *plan.Log) { l.Reported = true }

// record is that of a client on plan, with these sessions.
func record(change func(*plan.Record), logs ...plan.Log) plan.Record {
	r := plan.Record{
		Today: today, Dose: plan.Dose{Class: moderate, Sessions: 3, Minutes: 30}, Ceiling: moderate, Logs: logs,
		Planned: 6, Done: 6, Target: 180, DoneMinutes: 180, LastSession: today.AddDays(-1),
	}
	if change != nil {
		change(&r)
	}
	return r
}

func TestJudge(t *testing.T) {
	type why = []plan.Reason
	fine := []plan.Log{log(10, 12), log(7, 12), log(4, 12), log(1, 12)}
	easy := []plan.Log{log(10, 11), log(7, 11), log(4, 11), log(1, 11)}
	for _, tt := range []struct {
		source string
		record plan.Record
		want   plan.Status
		why    why
	}{
		{"ACSM 2011: moderate is 12 to 13", record(nil, fine...), plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}}},

		// Ready.
		{"practice setting: 11 in four of four", record(nil, easy...), plan.Ready, why{{Code: "easy", Have: 4, Need: 3}}},
		{"practice setting: 11 in three of four", record(nil, log(10, 11), log(7, 14), log(4, 11), log(1, 11)), plan.Ready, why{{Code: "easy", Have: 3, Need: 3}}},
		{"practice setting: 11 in two of four", record(nil, log(10, 11), log(7, 12), log(4, 12), log(1, 11)), plan.OnPlan, why{{Code: "as_planned", Have: 2, Need: 3}}},
		{"practice setting: the last four count", record(nil, log(13, 9), log(10, 12), log(7, 12), log(4, 11), log(1, 11)), plan.OnPlan, why{{Code: "as_planned", Have: 2, Need: 3}}},
		{
			"practice setting: singing is easy, too", record(nil, log(10, 0, talk("sing")), log(7, 13, talk("sing")), log(4, 0, talk("sing")), log(1, 0)),
			plan.Ready, why{{Code: "easy", Have: 3, Need: 3}},
		},
		{
			"practice setting: whole sentences are as planned", record(nil, log(10, 0, talk("sentences")), log(7, 0, talk("sentences")), log(4, 0, talk("sentences")), log(1, 0, talk("sentences"))),
			plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}},
		},
		{
			"practice setting: nobody told how hard it was", record(nil, log(10, 0), log(7, 0), log(4, 0), log(1, 0)),
			plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}},
		},
		{
			"practice setting: heart rate in the lowest quarter, 110 to 115 of 110 to 130", record(nil, log(10, 11, hr(115)), log(7, 11, hr(100)), log(4, 11, hr(110)), log(1, 12)),
			plan.Ready, why{{Code: "easy", Have: 3, Need: 3}},
		},
		{
			"practice setting: 116 is above the lowest quarter", record(nil, log(10, 11, hr(116)), log(7, 11, hr(116)), log(4, 11), log(1, 11)),
			plan.OnPlan, why{{Code: "as_planned", Have: 2, Need: 3}},
		},
		{
			"Toronto cardiac rehabilitation: not with symptoms", record(nil, log(10, 9, reported), log(7, 9, reported), log(4, 9), log(1, 9)),
			plan.OnPlan, why{{Code: "as_planned", Have: 2, Need: 3}},
		},
		{
			"practice setting: three sessions are too few to judge by", record(nil, log(8, 9), log(4, 9), log(1, 9)),
			plan.OnPlan, why{{Code: "few_logs", Have: 3, Need: 4}},
		},
		{
			"practice setting: those of more than two weeks ago do not count", record(nil, log(15, 9), log(8, 9), log(4, 9), log(1, 9)),
			plan.OnPlan, why{{Code: "few_logs", Have: 3, Need: 4}},
		},
		{
			"practice setting: those of two weeks ago do", record(nil, log(14, 9), log(8, 9), log(4, 9), log(1, 9)),
			plan.Ready, why{{Code: "easy", Have: 4, Need: 3}},
		},
		{
			"practice setting: with one session a week, four weeks count",
			record(func(r *plan.Record) { r.Dose.Sessions = 1 }, log(28, 9), log(20, 9), log(13, 9), log(6, 9)),
			plan.Ready, why{{Code: "easy", Have: 4, Need: 3}},
		},
		{
			"practice setting: with one session a week, not five",
			record(func(r *plan.Record) { r.Dose.Sessions = 1 }, log(29, 9), log(20, 9), log(13, 9), log(6, 9)),
			plan.OnPlan, why{{Code: "few_logs", Have: 3, Need: 4}},
		},
		{
			"practice setting: a report freezes the plan until its day is over",
			record(func(r *plan.Record) { r.FrozenUntil = today }, easy...), plan.OnPlan, why{{Code: "reported"}},
		},
		{
			"practice setting: and no longer",
			record(func(r *plan.Record) { r.FrozenUntil = today.AddDays(-1) }, easy...), plan.Ready, why{{Code: "easy", Have: 4, Need: 3}},
		},
		{
			"ACSM 2011: vigorous is 14 to 17, so 13 is easy",
			record(func(r *plan.Record) { r.Dose.Vigorous, r.Ceiling = 8, vigorous }, log(10, 13), log(7, 13), log(4, 13), log(1, 14)),
			plan.Ready, why{{Code: "easy", Have: 3, Need: 3}},
		},

		{
			"practice setting: 126 is above the lowest quarter of 101 to 200",
			record(nil, log(10, 11, hr(126), wide), log(7, 11, hr(126), wide), log(4, 11, hr(125), wide), log(1, 11)),
			plan.OnPlan, why{{Code: "as_planned", Have: 2, Need: 3}},
		},
		{
			"practice setting: a heart rate without a range tells nothing", record(nil, log(10, 11, hr(150), free), log(7, 11, hr(150), free), log(4, 11, hr(150), free), log(1, 12)),
			plan.Ready, why{{Code: "easy", Have: 3, Need: 3}},
		},
		{
			"practice setting: a plan with nothing in it is not judged",
			record(func(r *plan.Record) { r.Dose, r.Ceiling = plan.Dose{}, none }, fine...), plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}},
		},

		// Steady too long.
		{
			"practice setting: ready for four weeks",
			record(func(r *plan.Record) { r.WeeksReady = 4 }, easy...),
			plan.SteadyTooLong, why{{Code: "easy", Have: 4, Need: 3}, {Code: "weeks", Have: 4, Need: 4}},
		},
		{"practice setting: ready for three weeks", record(func(r *plan.Record) { r.WeeksReady = 3 }, easy...), plan.Ready, why{{Code: "easy", Have: 4, Need: 3}}},
		{"practice setting: not ready now", record(func(r *plan.Record) { r.WeeksReady = 4 }, fine...), plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}}},
		{
			"practice setting: no test moved in eight weeks",
			record(func(r *plan.Record) { r.WeeksNoGain = 8 }, fine...), plan.SteadyTooLong, why{{Code: "no_gain", Have: 8, Need: 8}},
		},
		{"practice setting: no test moved in seven weeks", record(func(r *plan.Record) { r.WeeksNoGain = 7 }, fine...), plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}}},

		// Too hard.
		{"practice setting: 15 in two of three", record(nil, log(7, 15), log(4, 11), log(1, 15)), plan.TooHard, why{{Code: "effort", Have: 2, Need: 2}}},
		{"practice setting: 15 in one of three", record(nil, log(10, 15), log(7, 15), log(5, 11), log(4, 11), log(1, 15)), plan.OnPlan, why{{Code: "as_planned", Have: 2, Need: 3}}},
		{"ACSM 2011: 14 is not yet too hard", record(nil, log(10, 12), log(7, 14), log(4, 14), log(1, 14)), plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}}},
		{"practice setting: above the range in two of three", record(nil, log(7, 12, hr(131)), log(4, 12, hr(131)), log(1, 12, hr(130))), plan.TooHard, why{{Code: "heart_rate", Have: 2, Need: 2}}},
		{
			"practice setting: broken sentences in two of three", record(nil, log(7, 12, talk("short")), log(4, 12, talk("few_words")), log(1, 12, talk("sentences"))),
			plan.TooHard, why{{Code: "talk", Have: 2, Need: 2}},
		},
		{
			"practice setting: one of each is two", record(nil, log(7, 16), log(4, 12, talk("none")), log(1, 11)),
			plan.TooHard, why{{Code: "effort", Have: 1, Need: 2}, {Code: "talk", Have: 1, Need: 2}},
		},
		{
			"practice setting: all of them in one session are one", record(nil, log(10, 12), log(7, 17, talk("none"), hr(150)), log(4, 12), log(1, 12)),
			plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}},
		},
		{
			"CDC: whole sentences are comfortable in the light phase",
			record(func(r *plan.Record) { r.Dose.Class = light }, log(10, 12, talk("sentences")), log(7, 12, talk("sentences")), log(4, 12, talk("sentences")), log(1, 12, talk("sentences"))),
			plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}},
		},
		{
			"ACSM 2011: vigorous work is 14 to 17",
			record(func(r *plan.Record) { r.Dose.Vigorous, r.Ceiling = 8, vigorous }, log(10, 17, talk("few_words")), log(7, 17), log(4, 17, talk("short")), log(1, 17)),
			plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}},
		},
		{
			"ACSM 2011: 18 is near-maximal",
			record(func(r *plan.Record) { r.Dose.Vigorous, r.Ceiling = 8, vigorous }, log(10, 15), log(7, 18), log(4, 15, talk("none")), log(1, 15)),
			plan.TooHard, why{{Code: "effort", Have: 1, Need: 2}, {Code: "talk", Have: 1, Need: 2}},
		},

		// Behind.
		{"practice setting: 79 per cent of sessions", record(func(r *plan.Record) { r.Planned, r.Done = 500, 399 }, easy...), plan.Behind, why{{Code: "sessions", Have: 79, Need: 80}}},
		{"practice setting: 80 per cent of sessions", record(func(r *plan.Record) { r.Planned, r.Done = 10, 8 }, easy...), plan.Ready, why{{Code: "easy", Have: 4, Need: 3}}},
		{"practice setting: 79 per cent of the minutes", record(func(r *plan.Record) { r.Target, r.DoneMinutes = 300, 239 }, easy...), plan.Behind, why{{Code: "minutes", Have: 79, Need: 80}}},
		{"practice setting: 80 per cent of the minutes", record(func(r *plan.Record) { r.Target, r.DoneMinutes = 300, 240 }, easy...), plan.Ready, why{{Code: "easy", Have: 4, Need: 3}}},
		{"practice setting: nothing was planned", record(func(r *plan.Record) { r.Planned, r.Done, r.Target, r.DoneMinutes = 0, 0, 0, 0 }, fine...), plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}}},
		{
			"practice setting: nothing done of two weeks",
			record(func(r *plan.Record) { r.Done, r.DoneMinutes = 0, 0 }), plan.Behind,
			why{{Code: "sessions", Have: 0, Need: 80}, {Code: "minutes", Have: 0, Need: 80}},
		},
		{"practice setting: too hard comes before behind", record(func(r *plan.Record) { r.Done = 1 }, log(7, 16), log(1, 16)), plan.TooHard, why{{Code: "effort", Have: 2, Need: 2}}},

		// Returning.
		{"practice setting: seven days without a session", record(func(r *plan.Record) { r.LastSession = today.AddDays(-7) }, fine...), plan.OnPlan, why{{Code: "as_planned", Have: 0, Need: 3}}},
		{"practice setting: eight days without", record(func(r *plan.Record) { r.LastSession = today.AddDays(-8) }, easy...), plan.Returning, why{{Code: "break", Have: 8, Need: 7}}},
		{"practice setting: illness, however short", record(func(r *plan.Record) { r.Cause = plan.Illness }, easy...), plan.Returning, why{{Code: "cause"}}},
		{"practice setting: a holiday of five days", record(func(r *plan.Record) { r.Cause, r.LastSession = plan.Holiday, today.AddDays(-5) }, easy...), plan.Ready, why{{Code: "easy", Have: 4, Need: 3}}},
		{
			"practice setting: back for 13 of 14 days",
			record(func(r *plan.Record) { r.Returned, r.ReturnWeeks = today.AddDays(-13), 2 }, easy...), plan.Returning, why{{Code: "back", Have: 13, Need: 14}},
		},
		{
			"practice setting: back for 14 days",
			record(func(r *plan.Record) { r.Returned, r.ReturnWeeks = today.AddDays(-14), 2 }, easy...), plan.Ready, why{{Code: "easy", Have: 4, Need: 3}},
		},
		{"practice setting: no session yet is no break", record(func(r *plan.Record) { r.LastSession = domain.Date{} }), plan.OnPlan, why{{Code: "few_logs", Have: 0, Need: 4}}},

		// Held.
		{
			"practice setting: a hold on vigorous work comes before all else",
			record(func(r *plan.Record) { r.Dose.Vigorous, r.LastSession = 8, today.AddDays(-20) }, easy...), plan.Held, why{{Code: "ceiling", Have: int(vigorous), Need: int(moderate)}},
		},
		{
			"practice setting: a hold above light", record(func(r *plan.Record) { r.Ceiling = light }, easy...), plan.Held, why{{Code: "ceiling", Have: int(moderate), Need: int(light)}},
		},
		{
			"practice setting: a hold on all", record(func(r *plan.Record) { r.Ceiling = none }, easy...), plan.Held, why{{Code: "ceiling", Have: int(moderate), Need: int(none)}},
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, why := plan.Judge(tt.record, policy)
			if got != tt.want || !reflect.DeepEqual(why, tt.why) {
				t.Errorf("Judge = %s %v; want %s %v", got, why, tt.want, tt.why)
			}
		})
	}
}

// The names are stored.
func TestStatusNames(t *testing.T) {
	got := []plan.Status{plan.Held, plan.Returning, plan.TooHard, plan.Behind, plan.SteadyTooLong, plan.Ready, plan.OnPlan}
	want := []plan.Status{"held", "returning", "too_hard", "behind", "steady_too_long", "ready", "on_plan"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("statuses %q; want %q", got, want)
	}
}
