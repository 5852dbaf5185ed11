package plan

import (
	"fmt"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/source"
)

// Start is what the client does, or is to do, in the first week.
type Start struct {
	Class    intensity.Class // light, moderate or vigorous
	Sessions int             // a week
	Minutes  int             // of each session

	// Behind says how many weeks of the programme are over, and InPhase how many
	// of these at this class. Both are 0 for a new client; a plan that is made
	// anew half-way counts on from there.
	Behind, InPhase int
}

// Input is what a plan is made from.
type Input struct {
	Start   Start
	Goal    int             // moderate-equivalent minutes a week
	Weeks   int             // how many weeks to plan
	Ceiling intensity.Class // the hardest class allowed
	Preset  string          // ID of a [Preset]; empty to build the plan from Start
}

// The codes of a plan's notes.
const (
	NoteGoalNotReached = "goal_not_reached"  // Have: moderate-equivalent minutes of the last week, Need: the goal
	NoteCeiling        = "ceiling"           // the ceiling keeps the plan light, so no week can reach the goal
	NoteCutShort       = "cut_short"         // Have: weeks planned, Need: weeks that the preset has
	NoteRepeated       = "last_week_repeats" // Have: weeks planned, Need: weeks that the preset has
	NoteStartNotUsed   = "start_not_used"    // the preset has its own first week
	NoteAfterModerate  = "after_moderate"    // the preset is for clients past the moderate phase
)

// Ladder returns the weeks from a start towards a goal. Each week changes at
// most one component, by one step: minutes of a session by 5 until 30, sessions
// by one until 5 a week, minutes until 60. A light start turns moderate after
// the light phase; vigorous minutes come last, from week 13 of the programme at
// the earliest, when the moderate phase is complete, and never above the
// ceiling. A start that is vigorous already stays so. The goal is meant to be
// reached four weeks before vigorous work may begin; until then there is a step
// every two weeks, or every week where that is too slow.
//
// It returns [domain.ErrHeld] (together with [domain.Problems] that name the
// field) if the ceiling is below what was asked for, and [domain.Problems] if
// the input makes no plan. Fields are start.class, start.sessions,
// start.minutes, goal_minutes, weeks, ceiling and preset.
//
// Source: getp10, garber2011.
// Practice rule: practice.
func Ladder(in Input, p Policy) (Plan, error) {
	if err := in.check(p); err != nil {
		return Plan{}, err
	}
	if in.Start.Class > in.Ceiling {
		return Plan{}, held("start.class", "The start is harder than what is allowed now.")
	}
	if in.Preset != "" {
		return fromPreset(in, p)
	}
	plan := Plan{Weeks: build(in, p), Sources: []source.Key{"getp10", "garber2011", "paga2018", "practice"}}
	plan.finish(in, p)
	return plan, nil
}

func (in Input) check(p Policy) error {
	var problems domain.Problems
	switch in.Start.Class {
	case intensity.Light, intensity.Moderate, intensity.Vigorous:
	default:
		problems.Add("start.class", "A plan starts with light, moderate or vigorous work.")
	}
	between(&problems, "start.sessions", in.Start.Sessions, 1, p.SessionsMost)
	between(&problems, "start.minutes", in.Start.Minutes, 1, p.MinutesMost)
	between(&problems, "start.behind", in.Start.Behind, 0, p.WeeksMost)
	between(&problems, "start.in_phase", in.Start.InPhase, 0, in.Start.Behind)
	between(&problems, "goal_minutes", in.Goal, 1, p.GoalMost)
	between(&problems, "weeks", in.Weeks, 1, p.WeeksMost)
	if in.Ceiling < intensity.None || in.Ceiling > intensity.NearMaximal {
		problems.Add("ceiling", "There is no such intensity.")
	}
	if in.Preset != "" {
		if _, ok := PresetOf(in.Preset); !ok {
			problems.Add("preset", "There is no such programme.")
		}
	}
	if problems == nil && in.Ceiling < intensity.Light {
		return held("ceiling", "No exercise is allowed now, so there is nothing to plan.")
	}
	return problems.Err()
}

func between(problems *domain.Problems, field string, n, low, high int) {
	if n < low || n > high {
		problems.Add(field, fmt.Sprintf("This is a whole number from %d to %d.", low, high))
	}
}

// held is an error that is both domain.ErrHeld and the problem of a field.
func held(field, sentence string) error {
	return fmt.Errorf("%w: %w", domain.ErrHeld, domain.Problems{field: sentence})
}

// build makes the weeks of a plan that is no preset.
func build(in Input, p Policy) []Week {
	c := climb{in: in, p: p, moved: 1}
	c.add(Dose{Class: in.Start.Class, Sessions: in.Start.Sessions, Minutes: in.Start.Minutes})
	for len(c.weeks) < in.Weeks {
		c.add(c.next())
	}
	return c.weeks
}

// climb is a plan in the making.
type climb struct {
	in    Input
	p     Policy
	weeks []Week
	moved int // number of the last week that changed anything
	hard  int // number of the first week with vigorous minutes; 0 if none yet
}

func (c *climb) add(d Dose) {
	w := Week{Number: len(c.weeks) + 1, Dose: d, Totals: d.Totals()}
	if w.Number > 1 {
		w.Step = step(c.last(), d)
	}
	if w.Step != NoChange {
		c.moved = w.Number
	}
	if c.hard == 0 && d.Vigorous > 0 {
		c.hard = w.Number
	}
	c.weeks = append(c.weeks, w)
}

func (c *climb) last() Dose { return c.weeks[len(c.weeks)-1].Dose }

// next returns the dose of the week after the last.
func (c *climb) next() Dose {
	d := c.last()
	if d.Class == intensity.Light {
		if c.lightPhaseOver() {
			d.Class++
			return d
		}
		if d.Totals().Light < c.in.Goal {
			d, _ = longer(d, c.p)
		}
		return d
	}
	up, step := longer(d, c.p)
	if step != NoChange && d.Totals().ModerateEquivalent < c.in.Goal {
		if c.due(d) {
			return up
		}
		return d
	}
	if c.vigorousOpen() {
		return c.moreVigorous(d)
	}
	return d
}

// lightPhaseOver reports whether the next week may be moderate: the phase has
// had its weeks, and enough sessions in each of the last two.
func (c *climb) lightPhaseOver() bool {
	n := len(c.weeks)
	if c.in.Ceiling < intensity.Moderate || c.in.Start.InPhase+n < c.p.LightWeeks || n < c.p.PhaseWeeks {
		return false
	}
	for _, w := range c.weeks[n-c.p.PhaseWeeks:] {
		if w.Dose.Sessions < c.p.PhaseSessions {
			return false
		}
	}
	return true
}

// due reports whether the next week is the one for a step: one every two weeks,
// or every week where the steps that are left would not fit otherwise into the
// weeks until the goal should be reached, or into the plan if they are too many
// even for that.
func (c *climb) due(d Dose) bool {
	steps := 0
	for d.Totals().ModerateEquivalent < c.in.Goal {
		up, step := longer(d, c.p)
		if step == NoChange {
			break
		}
		d, steps = up, steps+1
	}
	weeks := min(c.in.Weeks, c.p.VigorousFrom-c.p.TargetWeeks) - c.moved
	if steps > weeks {
		weeks = c.in.Weeks - c.moved
	}
	return len(c.weeks)+1-c.moved >= min(weeks/steps, c.p.StepWeeks)
}

// vigorousOpen reports whether the next week may have vigorous minutes.
func (c *climb) vigorousOpen() bool {
	n := len(c.weeks)
	if c.in.Ceiling < intensity.Vigorous || c.last().Class != intensity.Moderate ||
		c.in.Start.Behind+n+1 < c.p.VigorousFrom {
		return false
	}
	moderate := 0
	if c.in.Start.Class == intensity.Moderate {
		moderate = c.in.Start.InPhase
	}
	for _, w := range c.weeks {
		if w.Dose.Class == intensity.Moderate {
			moderate++
		}
	}
	if moderate < c.p.ModerateWeeksLeast || n < c.p.TargetWeeks {
		return false
	}
	for _, w := range c.weeks[n-c.p.TargetWeeks:] {
		if w.Totals.ModerateEquivalent < min(c.in.Goal, c.p.PhaseTarget) {
			return false
		}
	}
	return true
}

func (c *climb) moreVigorous(d Dose) Dose {
	week := 1 // of the introduction
	if c.hard > 0 {
		week = len(c.weeks) + 2 - c.hard
	}
	up, _ := moreVigorous(d, week, c.p)
	return up
}

// finish notes what the weeks reach and what is unusual about them.
func (plan *Plan) finish(in Input, p Policy) {
	for _, w := range plan.Weeks {
		if w.Totals.ModerateEquivalent >= in.Goal {
			plan.Reached = w.Number
			break
		}
	}
	if plan.Reached == 0 {
		last := plan.Weeks[len(plan.Weeks)-1].Totals.ModerateEquivalent
		plan.Notes = append(plan.Notes, Reason{NoteGoalNotReached, last, in.Goal})
		if in.Ceiling < intensity.Moderate {
			plan.Notes = append(plan.Notes, Reason{Code: NoteCeiling})
		}
	}
	plan.Warnings = Warnings(plan.Weeks, in.Ceiling, in.Start.Behind, p)
}
