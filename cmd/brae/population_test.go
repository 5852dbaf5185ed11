package main

import (
	"math/rand/v2"
	"slices"
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/volume"
)

// course is what came of 26 weeks.
type course struct {
	reached  int // first week with 150 planned moderate-equivalent minutes; 0 if none
	vigorous int // first week with planned vigorous minutes; 0 if none
	statuses map[plan.Status]int
	steps    int
	breaks   int // after which the plan went back
}

// member is one of the population.
type member struct {
	person
	heldFrom int // week from which a hold on vigorous work is open; 0 for none
	away     int // week in which a break begins; 0 for none
	weeks    int // how long it is
}

// live takes a client through 26 weeks: log, status, step, accepted each time, as
// the record does it. It fails where a step breaks a rule.
func (c *member) live(t testing.TB, rnd *rand.Rand) course {
	begin := domain.NewDate(2026, 1, 5)
	dose := plan.Dose{Class: intensity.Light, Sessions: 3, Minutes: 15}
	out := course{statuses: map[plan.Status]int{}}
	record := plan.Course{Goal: 150, ScreeningValid: true}
	if c.away > 0 {
		record.Pauses = []plan.Pause{{From: begin.AddDays(7 * (c.away - 1)), To: begin.AddDays(7*(c.away-1+c.weeks) - 1), Cause: plan.Holiday}}
	}
	for week := 1; week <= 26; week++ {
		record.Ceiling = intensity.Vigorous
		if c.heldFrom > 0 && week >= c.heldFrom {
			record.Ceiling = intensity.Moderate
		}
		monday := begin.AddDays(7 * (week - 1))
		one := plan.CourseWeek{First: monday, Dose: dose}
		one.Planned, one.Target = plan.Share(dose.Sessions, plan.WeekOf(week, dose).Target(), plan.OpenDays(monday, record.Pauses))
		logs := c.week(rnd, dose, one.Planned, monday)
		record.Logs, one.Done = append(record.Logs, logs...), len(logs)
		// Done are that many of the week's sessions, all alike.
		one.Totals = shareOf(dose.Totals(), one.Done, dose.Sessions)
		record.Weeks = append(record.Weeks, one)
		record.Today = monday.AddDays(7)
		record.SignedOff = record.Today
		standing := record.Stand(plan.PolicyFrom(nil))
		out.statuses[standing.Status]++
		if c.away > 0 && week >= c.away && week < c.away+c.weeks-1 {
			continue // still away: the way back is asked for on the return
		}
		out.accept(t, week, &record, standing, &dose)
	}
	return out
}

func shareOf(t volume.Totals, n, of int) volume.Totals {
	return volume.Sum([]volume.Part{
		{Minutes: t.Light * n / of, Class: intensity.Light}, {Minutes: t.Moderate * n / of, Class: intensity.Moderate}, {Minutes: t.Vigorous * n / of, Class: intensity.Vigorous},
	})
}

// accept takes the step that is suggested, and looks whether it keeps the rules.
func (out *course) accept(t testing.TB, week int, record *plan.Course, s plan.Standing, dose *plan.Dose) {
	to := s.Step.To
	if changes := plan.Changes(*dose, to); len(changes) > 1 && s.Status != plan.Returning && s.Status != plan.Held {
		t.Errorf("week %d, %s: %v at once, from %+v to %+v", week, s.Status, changes, *dose, to)
	}
	if to.Hardest() > record.Ceiling {
		t.Errorf("week %d, %s: %+v under %v", week, s.Status, to, record.Ceiling)
	}
	if to.Vigorous > 0 && week+1 < 13 {
		t.Errorf("week %d: vigorous work", week+1)
	}
	if s.Break != nil {
		record.Answered = record.Today
		out.breaks++
		if b := *dose; to.Class > b.Class || to.Sessions > b.Sessions || to.Minutes > b.Minutes || to.Vigorous > b.Vigorous || to == b && b.Minutes > 1 {
			t.Errorf("week %d: a break of %d days took %+v to %+v", week, s.Away, b, to)
		}
	}
	if to != *dose {
		*dose = to
		out.steps++
	}
	if out.reached == 0 && dose.Totals().ModerateEquivalent >= 150 {
		out.reached = week + 1
	}
	if out.vigorous == 0 && dose.Vigorous > 0 {
		out.vigorous = week + 1
	}
}

// group is what came of clients who are alike.
type group struct {
	name    string
	weeks   []int // to 150 minutes, in order; 0 are those who do not come so far
	flagged int   // of these, clients who were too hard put or steady too long
	n       int
}

// population takes five hundred clients of different fitness, response and
// adherence through half a year.
func population(t testing.TB) (groups [4]group) {
	rnd := rand.New(rand.NewPCG(26, 500))
	groups = [4]group{{name: "keen"}, {name: "slack"}, {name: "no response"}, {name: "others"}}
	for range 500 {
		c := member{person: person{keeps: 1 - rnd.Float64()*0.6, gains: 0.4 + rnd.Float64()*0.8, can: 15 + rnd.Float64()*20}}
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
		of := &groups[3]
		switch {
		case poor && c.keeps > 0.85:
			of = &groups[2]
		case poor:
		case c.away == 0 && c.keeps >= 0.9:
			of = &groups[0]
		case c.away == 0 && c.keeps < 0.6:
			of = &groups[1]
		}
		of.n++
		of.weeks = append(of.weeks, got.reached)
		if got.reached == 0 && got.statuses[plan.TooHard]+got.statuses[plan.SteadyTooLong] > 0 {
			of.flagged++
		}
		if c.away > 0 && c.away+c.weeks <= 26 && got.breaks == 0 {
			t.Errorf("%d weeks away from week %d, and no step back", c.weeks, c.away)
		}
		if c.heldFrom > 0 && got.vigorous >= c.heldFrom && got.vigorous > 0 && c.heldFrom <= 13 {
			t.Errorf("held from week %d, vigorous from week %d", c.heldFrom, got.vigorous)
		}
	}
	for i := range groups {
		slices.Sort(groups[i].weeks)
	}
	return groups
}

// quarter returns the week by which so many quarters of those who come to 150
// minutes have come there.
func (g group) quarter(n int) int {
	there := g.weeks[count(g.weeks, 0):]
	if len(there) == 0 {
		return 0
	}
	return there[min(len(there)-1, len(there)*n/4)]
}

// Source: common practice, light to moderate within about three months; what
// else is expected of them are practice settings.
func TestPopulation(t *testing.T) {
	groups := population(t)
	keen, slack, poor := groups[0], groups[1], groups[2]
	t.Logf("keen clients reach 150 minutes in weeks %v", keen.weeks)
	t.Logf("slack clients in weeks %v", slack.weeks)
	t.Logf("of %d keen clients who do not respond, %d are kept lower and flagged", poor.n, poor.flagged)
	if keen.n < 30 || slack.n < 30 || poor.n < 5 {
		t.Fatalf("too few to tell: %d, %d, %d", keen.n, slack.n, poor.n)
	}
	if median := keen.quarter(2); median < 9 || median > 15 {
		t.Errorf("half of the keen clients reach 150 minutes by week %d; want about 12", median)
	}
	if keen.weeks[0] < 6 {
		t.Errorf("a keen client reaches 150 minutes in week %d", keen.weeks[0])
	}
	if never := count(slack.weeks, 0); never*2 < slack.n {
		t.Errorf("%d of %d slack clients do not reach 150 minutes in half a year; want most", never, slack.n)
	}
	if poor.flagged != poor.n {
		t.Errorf("%d of %d clients who do not respond are kept lower and flagged", poor.flagged, poor.n)
	}
}

// BenchmarkPopulation prints when the simulated clients reach 150 minutes: the
// table in DEVELOPERS.md.
func BenchmarkPopulation(b *testing.B) {
	var groups [4]group
	for b.Loop() {
		groups = population(b)
	}
	for _, g := range groups {
		b.Logf("%-12s %3d clients: %3d reach 150 minutes, by week %d, %d, %d (quarters); %d of the others flagged",
			g.name, g.n, g.n-count(g.weeks, 0), g.quarter(1), g.quarter(2), g.quarter(3), g.flagged)
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
