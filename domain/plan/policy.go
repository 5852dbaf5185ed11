package plan

import "brae/domain/source"

// Policy holds the settings of a practice for plans and progression. The text
// of each is with its setting.
type Policy struct {
	// Input.
	SessionsMost, MinutesMost, WeeksMost, GoalMost int

	// Steps.
	StepDays, StepWeeks, TimeStep, TimeFirst, Frequency, TimeMost, SteepTime, RunningJump int
	VigorousStep, VigorousMost                                                            int

	// Phases.
	LightWeeks, LightWeeksLeast, ModerateWeeksLeast, VigorousFrom               int
	PhaseSessions, PhaseWeeks, Comfortable, QuietDays, TargetWeeks, PhaseTarget int
	VigorousShare, VigorousShareWeeks, VigorousShareLater, SignOffDays          int

	// Status.
	WindowDays, Adherence, ReadyOf, ReadySessions, ReadyEffort, ReadyEffortVigorous, ReadyBand int
	TooHardOf, TooHardSessions, TooHardEffort, TooHardEffortVigorous                           int
	DriftOf, DriftSessions                                                                     int
	SteadyWeeks, NoGainWeeks, ReserveStep                                                      int

	// Breaks.
	BreakResume, BreakOne, BreakTwo, CutOne, CutTwo, BackWeeksOne, BackWeeks int
}

// entry ties a setting to its field of Policy, so that neither is forgotten.
type entry struct {
	field func(*Policy) *int
	source.Setting
}

// PolicyFrom returns the policy of a practice; PolicyFrom(nil) is all defaults.
//
// Practice rule: practice.
func PolicyFrom(v source.Values) Policy {
	var p Policy
	for _, e := range entries {
		*e.field(&p) = v.Of(e.Setting)
	}
	return p
}

// Settings are the numbers here that a practice may change.
var Settings = settings()

func settings() []source.Setting {
	all := make([]source.Setting, len(entries))
	for i, e := range entries {
		all[i] = e.Setting
		all[i].Topic = source.TopicPlan
	}
	return all
}
