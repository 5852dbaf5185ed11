package plan_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/volume"
)

// person is a simulated client. Effort grows with minutes beyond what they can
// do and with the class; what they can do grows with the sessions they do.
type person struct {
	keeps    float64 // share of planned sessions that they do
	gains    float64 // minutes by which a session done lengthens what they can do
	can      float64 // minutes of moderate work that feel as they should
	heldFrom int     // week from which a hold on vigorous work is open; 0 for none
	away     int     // week in which a break begins; 0 for none
	weeks    int     // how long it is
}

// course is what came of 26 weeks.
type course struct {
	reached    int // first week with 150 planned moderate-equivalent minutes; 0 if none
	vigorous   int // first week with planned vigorous minutes; 0 if none
	statuses   map[plan.Status]int
	steps      int
	before     plan.Dose // the dose before the break
	afterBreak plan.Dose // and the first after it
}

// effort is what a session feels like on 6-20.
func (c person) effort(rnd *rand.Rand, d plan.Dose) int {
	base := map[intensity.Class]float64{light: 9.5, moderate: 12.5}[d.Class]
	if d.Vigorous > 0 {
		base = 14.5
	}
	over := (float64(d.Minutes) - c.can) / 6
	return max(6, min(20, int(base+over+rnd.NormFloat64()*0.7+0.5)))
}

// live takes a client through 26 weeks: log, status, step, accepted each time.
// It fails where a step breaks a rule.
func (c person) live(t *testing.T, rnd *rand.Rand) course {
	var (
		begin    = domain.NewDate(2026, 1, 5)
		dose     = plan.Dose{Class: light, Sessions: 3, Minutes: 15}
		out      = course{statuses: map[plan.Status]int{}}
		rungs    []plan.Dose
		logs     []plan.Log // at this dose
		sessions []int
		minutes  []int // moderate-equivalent
		planned  []int
		target   []int
		talks    int
		easyTalk int
		last     domain.Date
		changed  int // week
		inPhase  int
		hardFrom int
		ready    int
		returned domain.Date
		back     plan.Return
	)
	for week := 1; week <= 26; week++ {
		ceiling := vigorous
		if c.heldFrom > 0 && week >= c.heldFrom {
			ceiling = moderate
		}
		monday := begin.AddDays(7 * (week - 1))
		away := c.away > 0 && week >= c.away && week < c.away+c.weeks
		done := 0
		for i := range dose.Sessions {
			if away || rnd.Float64() > c.keeps {
				continue
			}
			done++
			effort := c.effort(rnd, dose)
			talk := intensity.TalkSentences
			switch {
			case effort <= 11:
				talk = intensity.TalkSing
			case effort >= 14:
				talk = intensity.TalkShort
			}
			talks++
			if effort < 14 {
				easyTalk++
			}
			c.can += c.gains
			last = monday.AddDays(min(6, i*7/dose.Sessions))
			logs = append(logs, plan.Log{Day: last, Effort: effort, Talk: talk})
		}
		sessions = append(sessions, done)
		planned = append(planned, dose.Sessions)
		totals := dose.Totals()
		want := volume.Target{Minutes: totals.ModerateEquivalent}
		if dose.Class == light {
			want = volume.Target{Minutes: totals.Light, Light: true}
		}
		target = append(target, want.Minutes)
		minutes = append(minutes, totals.ModerateEquivalent*done/dose.Sessions)
		inPhase++

		sunday := monday.AddDays(6)
		from := max(0, week-2)
		record := plan.Record{
			Today: sunday, Dose: dose, Ceiling: ceiling, Logs: logs, LastSession: last,
			Planned: sum(planned[from:]), Done: sum(sessions[from:]), Target: sum(target[from:]),
			Returned: returned, ReturnWeeks: back.Weeks, WeeksReady: ready,
		}
		for i := from; i < week; i++ {
			record.DoneMinutes += target[i] * sessions[i] / planned[i]
		}
		status, _ := plan.Judge(record, policy)
		out.statuses[status]++
		if status == plan.Ready || status == plan.SteadyTooLong {
			ready++
		} else {
			ready = 0
		}
		phase := plan.PhaseRecord{
			Phase: plan.LightPhase, Today: sunday, Weeks: week, InPhase: inPhase, Ceiling: ceiling, Sessions: sessions,
			ModerateEquivalent: minutes, TalkAsked: talks, TalkComfortable: easyTalk, ScreeningValid: true, SignedOff: sunday,
		}
		if dose.Class == moderate {
			phase.Phase = plan.ModeratePhase
		}
		situation := plan.Situation{
			Status: status, Dose: dose, Ceiling: ceiling, Goal: 150, PhaseDone: phase.Stays(policy) == nil,
			ChangedDays: 7 * (week - changed), Rungs: rungs,
		}
		if hardFrom > 0 {
			situation.Vigorous = week - hardFrom
		}
		if status == plan.Returning {
			if days := sunday.DaysSince(last); days > policy.BreakResume {
				if week != c.away+c.weeks-1 {
					continue // still away: the step back is asked for on the return
				}
				back, _ = plan.StepBack(days, plan.Holiday, policy)
				returned = sunday.AddDays(1)
				situation.Break = back
			} else {
				continue
			}
		}
		step := plan.Suggest(situation, policy)
		changes := plan.Changes(dose, step.To)
		if len(changes) > 1 && status != plan.Returning && status != plan.Held {
			t.Errorf("week %d, %s: %v at once, from %+v to %+v", week, status, changes, dose, step.To)
		}
		if step.To.Hardest() > ceiling {
			t.Errorf("week %d, %s: %+v under %v", week, status, step.To, ceiling)
		}
		if step.To.Vigorous > 0 && week+1 < 13 {
			t.Errorf("week %d: vigorous work", week+1)
		}
		if status == plan.Returning {
			out.before, out.afterBreak = dose, step.To
		}
		if step.To != dose {
			if step.To.Class != dose.Class {
				inPhase, talks, easyTalk = 0, 0, 0
			}
			if hardFrom == 0 && step.To.Vigorous > 0 {
				hardFrom = week
			}
			rungs = append(rungs, dose)
			dose, logs, changed, ready = step.To, nil, week, 0
			out.steps++
		}
		if out.reached == 0 && dose.Totals().ModerateEquivalent >= 150 {
			out.reached = week + 1
		}
		if out.vigorous == 0 && dose.Vigorous > 0 {
			out.vigorous = week + 1
		}
	}
	return out
}

func sum(n []int) (s int) {
	for _, v := range n {
		s += v
	}
	return s
}

// Five hundred clients of different fitness, response and adherence.
//
// Source: common practice, light to moderate within about three months; what
// else is expected of them are practice settings.
func TestPopulation(t *testing.T) {
	rnd := rand.New(rand.NewPCG(26, 500))
	var keen, slack []int // weeks to 150, of clients without a break
	var flagged, low int
	for range 500 {
		c := person{keeps: 1 - rnd.Float64()*0.6, gains: 0.4 + rnd.Float64()*0.8, can: 15 + rnd.Float64()*20}
		poor := rnd.Float64() < 0.1
		if poor {
			c.gains, c.can = 0, 12
		}
		if rnd.Float64() < 0.3 {
			c.heldFrom = 1 + rnd.IntN(20)
		}
		if rnd.Float64() < 0.3 {
			c.away, c.weeks = 3+rnd.IntN(18), 2+rnd.IntN(5)
		}
		got := c.live(t, rnd)
		switch {
		case poor && c.keeps > 0.85:
			low++
			if got.reached == 0 && got.statuses[plan.TooHard]+got.statuses[plan.SteadyTooLong] > 0 {
				flagged++
			}
		case poor:
		case c.away == 0 && c.keeps >= 0.9:
			keen = append(keen, got.reached)
		case c.away == 0 && c.keeps < 0.6:
			slack = append(slack, got.reached)
		}
		if c.away > 0 && got.before != (plan.Dose{}) {
			b, a := got.before, got.afterBreak
			if a.Class > b.Class || a.Sessions > b.Sessions || a.Minutes > b.Minutes || a.Vigorous > b.Vigorous || a == b {
				t.Errorf("a break of %d weeks took %+v to %+v", c.weeks, b, a)
			}
		}
		if c.heldFrom > 0 && got.vigorous >= c.heldFrom && got.vigorous > 0 && c.heldFrom <= 13 {
			t.Errorf("held from week %d, vigorous from week %d", c.heldFrom, got.vigorous)
		}
	}
	slices.Sort(keen)
	slices.Sort(slack)
	t.Logf("keen clients reach 150 minutes in weeks %v", keen)
	t.Logf("slack clients in weeks %v", slack)
	t.Logf("of %d keen clients who do not respond, %d are kept lower and flagged", low, flagged)
	if len(keen) < 30 || len(slack) < 30 || low < 5 {
		t.Fatalf("too few to tell: %d, %d, %d", len(keen), len(slack), low)
	}
	if median := keen[len(keen)/2]; median < 9 || median > 15 {
		t.Errorf("half of the keen clients reach 150 minutes by week %d; want about 12", median)
	}
	if keen[0] < 6 {
		t.Errorf("a keen client reaches 150 minutes in week %d", keen[0])
	}
	if n := count(slack, 0); n*2 < len(slack) {
		t.Errorf("%d of %d slack clients do not reach 150 minutes in half a year; want most", n, len(slack))
	}
	if flagged != low {
		t.Errorf("%d of %d clients who do not respond are kept lower and flagged", flagged, low)
	}
}

func count(n []int, is int) (k int) {
	for _, v := range n {
		if v == is {
			k++
		}
	}
	return k
}
