package plan

import "brae/domain/source"

// entries are all settings of this package, in the order of the Sources page.
var entries = []entry{
	{func(p *Policy) *int { return &p.SessionsMost }, source.Setting{
		Key: "plan.sessions_most", Unit: "a week", Default: 14, Low: 7, High: 21, Cites: []source.Key{"practice"},
		Says: "A plan or a prescription has at most this many sessions a week.",
	}},
	{func(p *Policy) *int { return &p.MinutesMost }, source.Setting{
		Key: "plan.minutes_most", Unit: "min", Default: 240, Low: 60, High: 720, Cites: []source.Key{"practice"},
		Says: "A session of a plan or a prescription has at most this many minutes.",
	}},
	{func(p *Policy) *int { return &p.WeeksMost }, source.Setting{
		Key: "plan.weeks_most", Unit: "weeks", Default: 52, Low: 12, High: 104, Cites: []source.Key{"practice"},
		Says: "A plan has at most this many weeks.",
	}},
	{func(p *Policy) *int { return &p.GoalMost }, source.Setting{
		Key: "plan.goal_most", Unit: "min", Default: 1500, Low: 300, High: 3000, Cites: []source.Key{"practice"},
		Says: "A plan's goal or a prescription's target is at most this many moderate-equivalent minutes a week.",
	}},
	{func(p *Policy) *int { return &p.StepDays }, source.Setting{
		Key: "plan.step_days", Unit: "days", Default: 7, Low: 7, High: 28, Cites: []source.Key{"getp10", "practice"},
		Says: "No step up is suggested within this many days after a change.",
	}},
	{func(p *Policy) *int { return &p.StepWeeks }, source.Setting{
		Key: "plan.step_weeks", Unit: "weeks", Default: 2, Low: 1, High: 4, Cites: []source.Key{"getp10"},
		Says: "After the light phase a plan takes one step in this many weeks, more often only where the goal asks for it.",
	}},
	{func(p *Policy) *int { return &p.TimeStep }, source.Setting{
		Key: "plan.time_step", Unit: "min", Default: 5, Low: 1, High: 10, Cites: []source.Key{"getp10"},
		Says: "One step of time adds this many minutes to each session.",
	}},
	{func(p *Policy) *int { return &p.TimeFirst }, source.Setting{
		Key: "plan.time_first", Unit: "min", Default: 30, Low: 15, High: 45, Cites: []source.Key{"haskell2007", "practice"},
		Says: "Sessions grow to this many minutes before there are more of them.",
	}},
	{func(p *Policy) *int { return &p.Frequency }, source.Setting{
		Key: "plan.frequency", Unit: "a week", Default: 5, Low: 3, High: 7, Cites: []source.Key{"haskell2007", "toronto_rehab"},
		Says: "Sessions grow to this many a week before they grow longer again.",
	}},
	{func(p *Policy) *int { return &p.TimeMost }, source.Setting{
		Key: "plan.time_most", Unit: "min", Default: 60, Low: 45, High: 90, Cites: []source.Key{"practice"},
		Says: "Sessions grow to this many minutes before the work gets harder.",
	}},
	{func(p *Policy) *int { return &p.SteepTime }, source.Setting{
		Key: "plan.steep_time", Unit: "min", Default: 10, Low: 5, High: 30, Cites: []source.Key{"getp10"},
		Says: "A week whose sessions are longer than those of the week before by more than this is marked as steep.",
	}},
	{func(p *Policy) *int { return &p.RunningJump }, source.Setting{
		Key: "plan.running_jump", Unit: "per cent", Default: 30, Low: 10, High: 100, Cites: []source.Key{"buist2008", "practice"},
		Says: "Running minutes that grow by more than this over the mean of the two weeks before are marked. It is a warning, not a block.",
	}},
	{func(p *Policy) *int { return &p.VigorousStep }, source.Setting{
		Key: "plan.vigorous_step", Unit: "min", Default: 4, Low: 1, High: 20, Cites: []source.Key{"practice"},
		Says: "One step of vigorous work turns this many moderate minutes of the week into vigorous ones.",
	}},
	{func(p *Policy) *int { return &p.VigorousMost }, source.Setting{
		Key: "plan.vigorous_most", Unit: "min", Default: 50, Low: 10, High: 150, Cites: []source.Key{"practice"},
		Says: "A plan builds up to at most this many vigorous minutes a week within moderate sessions.",
	}},
	{func(p *Policy) *int { return &p.LightWeeks }, source.Setting{
		Key: "plan.light_weeks", Unit: "weeks", Default: 4, Low: 2, High: 12, Cites: []source.Key{"practice"},
		Says: "The light phase of a plan lasts this many weeks.",
	}},
	{func(p *Policy) *int { return &p.LightWeeksLeast }, source.Setting{
		Key: "plan.light_weeks_least", Unit: "weeks", Default: 2, Low: 1, High: 12, Cites: []source.Key{"practice"},
		Says: "A client may leave the light phase after this many weeks at the earliest.",
	}},
	{func(p *Policy) *int { return &p.ModerateWeeksLeast }, source.Setting{
		Key: "plan.moderate_weeks_least", Unit: "weeks", Default: 8, Low: 4, High: 26, Cites: []source.Key{"practice"},
		Says: "A client may leave the moderate phase after this many weeks in it at the earliest.",
	}},
	{func(p *Policy) *int { return &p.VigorousFrom }, source.Setting{
		Key: "plan.vigorous_from", Unit: "week", Default: 13, Low: 13, High: 26, Cites: []source.Key{"common_practice", "practice"},
		Says: "Vigorous work begins in this week of the programme at the earliest.",
	}},
	{func(p *Policy) *int { return &p.PhaseSessions }, source.Setting{
		Key: "plan.phase_sessions", Unit: "a week", Default: 3, Low: 2, High: 5, Cites: []source.Key{"practice"},
		Says: "The light phase is left with at least this many sessions in each of the last weeks.",
	}},
	{func(p *Policy) *int { return &p.PhaseWeeks }, source.Setting{
		Key: "plan.phase_weeks", Unit: "weeks", Default: 2, Low: 1, High: 4, Cites: []source.Key{"practice"},
		Says: "In how many weeks in a row these sessions are asked for.",
	}},
	{func(p *Policy) *int { return &p.Comfortable }, source.Setting{
		Key: "plan.comfortable", Unit: "per cent", Default: 80, Low: 50, High: 100, Cites: []source.Key{"practice"},
		Says: "The light phase is left when talking was comfortable in at least this share of sessions.",
	}},
	{func(p *Policy) *int { return &p.QuietDays }, source.Setting{
		Key: "plan.quiet_days", Unit: "days", Default: 14, Low: 7, High: 60, Cites: []source.Key{"practice"},
		Says: "A phase is not left within this many days after a report that called for a stop, easing off or an emergency.",
	}},
	{func(p *Policy) *int { return &p.TargetWeeks }, source.Setting{
		Key: "plan.target_weeks", Unit: "weeks", Default: 4, Low: 2, High: 12, Cites: []source.Key{"practice"},
		Says: "The moderate phase is left when this many weeks in a row reached the target.",
	}},
	{func(p *Policy) *int { return &p.PhaseTarget }, source.Setting{
		Key: "plan.phase_target", Unit: "min", Default: 150, Low: 60, High: 300, Cites: []source.Key{"paga2018", "practice"},
		Says: "The target of these weeks in moderate-equivalent minutes, where the practitioner set no other.",
	}},
	{func(p *Policy) *int { return &p.VigorousShare }, source.Setting{
		Key: "plan.vigorous_share", Unit: "per cent", Default: 20, Low: 5, High: 50, Cites: []source.Key{"practice"},
		Says: "In the first weeks of vigorous work it is at most this share of the week's minutes.",
	}},
	{func(p *Policy) *int { return &p.VigorousShareWeeks }, source.Setting{
		Key: "plan.vigorous_share_weeks", Unit: "weeks", Default: 4, Low: 2, High: 12, Cites: []source.Key{"practice"},
		Says: "For how many weeks that share holds.",
	}},
	{func(p *Policy) *int { return &p.VigorousShareLater }, source.Setting{
		Key: "plan.vigorous_share_later", Unit: "per cent", Default: 50, Low: 20, High: 100, Cites: []source.Key{"practice"},
		Says: "After that, vigorous minutes within moderate sessions are at most this share of the week's minutes.",
	}},
	{func(p *Policy) *int { return &p.SignOffDays }, source.Setting{
		Key: "plan.sign_off_days", Unit: "days", Default: 30, Low: 7, High: 90, Cites: []source.Key{"practice"},
		Says: "A practitioner's sign-off for vigorous work holds for this many days.",
	}},
	{func(p *Policy) *int { return &p.WindowDays }, source.Setting{
		Key: "plan.window_days", Unit: "days", Default: 14, Low: 7, High: 28, Cites: []source.Key{"practice"},
		Says: "How a client stands is judged by this many days.",
	}},
	{func(p *Policy) *int { return &p.Adherence }, source.Setting{
		Key: "plan.adherence", Unit: "per cent", Default: 80, Low: 50, High: 100, Cites: []source.Key{"practice"},
		Says: "Below this share of the planned sessions, or of the target minutes, a client is behind.",
	}},
	{func(p *Policy) *int { return &p.ReadyOf }, source.Setting{
		Key: "plan.ready_of", Unit: "sessions", Default: 4, Low: 2, High: 10, Cites: []source.Key{"practice"},
		Says: "Readiness is judged by this many last sessions.",
	}},
	{func(p *Policy) *int { return &p.ReadySessions }, source.Setting{
		Key: "plan.ready_sessions", Unit: "sessions", Default: 3, Low: 2, High: 10, Cites: []source.Key{"practice"},
		Says: "At least this many of them must have been easy.",
	}},
	{func(p *Policy) *int { return &p.ReadyEffort }, source.Setting{
		Key: "plan.ready_effort", Unit: "on 6-20", Default: 11, Low: 8, High: 13, Cites: []source.Key{"toronto_rehab", "practice"},
		Says: "A light or moderate session was easy up to this perceived exertion.",
	}},
	{func(p *Policy) *int { return &p.ReadyEffortVigorous }, source.Setting{
		Key: "plan.ready_effort_vigorous", Unit: "on 6-20", Default: 13, Low: 11, High: 15, Cites: []source.Key{"garber2011", "practice"},
		Says: "A session with vigorous work was easy up to this perceived exertion.",
	}},
	{func(p *Policy) *int { return &p.ReadyBand }, source.Setting{
		Key: "plan.ready_band", Unit: "per cent", Default: 25, Low: 0, High: 100, Cites: []source.Key{"practice"},
		Says: "A session was easy with a mean heart rate in this lowest share of the target range, or below the range.",
	}},
	{func(p *Policy) *int { return &p.TooHardOf }, source.Setting{
		Key: "plan.too_hard_of", Unit: "sessions", Default: 3, Low: 2, High: 10, Cites: []source.Key{"practice"},
		Says: "Whether the dose is too hard is judged by this many last sessions.",
	}},
	{func(p *Policy) *int { return &p.TooHardSessions }, source.Setting{
		Key: "plan.too_hard_sessions", Unit: "sessions", Default: 2, Low: 1, High: 10, Cites: []source.Key{"practice"},
		Says: "At least this many of them must have been too hard.",
	}},
	{func(p *Policy) *int { return &p.TooHardEffort }, source.Setting{
		Key: "plan.too_hard_effort", Unit: "on 6-20", Default: 15, Low: 14, High: 17, Cites: []source.Key{"practice"},
		Says: "A light or moderate session was too hard from this perceived exertion.",
	}},
	{func(p *Policy) *int { return &p.TooHardEffortVigorous }, source.Setting{
		Key: "plan.too_hard_effort_vigorous", Unit: "on 6-20", Default: 18, Low: 16, High: 20, Cites: []source.Key{"garber2011", "practice"},
		Says: "A session with vigorous work was too hard from this perceived exertion.",
	}},
	{func(p *Policy) *int { return &p.DriftOf }, source.Setting{
		Key: "plan.drift_of", Unit: "sessions", Default: 5, Low: 3, High: 10, Cites: []source.Key{"practice"},
		Says: "Whether talk test and heart rate agree is judged by this many last sessions with both.",
	}},
	{func(p *Policy) *int { return &p.DriftSessions }, source.Setting{
		Key: "plan.drift_sessions", Unit: "sessions", Default: 4, Low: 2, High: 10, Cites: []source.Key{"practice"},
		Says: "If they differ the same way in this many of them, a new resting heart rate is asked for.",
	}},
	{func(p *Policy) *int { return &p.SteadyWeeks }, source.Setting{
		Key: "plan.steady_weeks", Unit: "weeks", Default: 4, Low: 2, High: 12, Cites: []source.Key{"practice"},
		Says: "Ready for this many weeks without a change is steady too long.",
	}},
	{func(p *Policy) *int { return &p.NoGainWeeks }, source.Setting{
		Key: "plan.no_gain_weeks", Unit: "weeks", Default: 8, Low: 4, High: 26, Cites: []source.Key{"practice"},
		Says: "So is no real change in any test over this many weeks, despite keeping to the plan.",
	}},
	{func(p *Policy) *int { return &p.ReserveStep }, source.Setting{
		Key: "plan.reserve_step", Unit: "per cent", Default: 5, Low: 1, High: 10, Cites: []source.Key{"practice"},
		Says: "Where no class is open above, a step of intensity is this share of the heart-rate reserve within the class.",
	}},
	{func(p *Policy) *int { return &p.BreakResume }, source.Setting{
		Key: "plan.break_resume", Unit: "days", Default: 7, Low: 3, High: 10, Cites: []source.Key{"practice"},
		Says: "Up to this many days since the last session the plan goes on, the first session at its easy end.",
	}},
	{func(p *Policy) *int { return &p.BreakOne }, source.Setting{
		Key: "plan.break_one", Unit: "days", Default: 14, Low: 8, High: 21, Cites: []source.Key{"practice"},
		Says: "Up to this many days it goes on one rung lower.",
	}},
	{func(p *Policy) *int { return &p.BreakTwo }, source.Setting{
		Key: "plan.break_two", Unit: "days", Default: 28, Low: 15, High: 42, Cites: []source.Key{"mujika2001", "practice"},
		Says: "Up to this many days it goes on two rungs lower; after more, the client starts again.",
	}},
	{func(p *Policy) *int { return &p.CutOne }, source.Setting{
		Key: "plan.cut_one", Unit: "per cent", Default: 25, Low: 10, High: 50, Cites: []source.Key{"practice"},
		Says: "One rung lower, where there is none, is this much less time.",
	}},
	{func(p *Policy) *int { return &p.CutTwo }, source.Setting{
		Key: "plan.cut_two", Unit: "per cent", Default: 50, Low: 25, High: 75, Cites: []source.Key{"practice"},
		Says: "Two rungs lower, where there are none, is this much less time and one class easier.",
	}},
	{func(p *Policy) *int { return &p.BackWeeksOne }, source.Setting{
		Key: "plan.back_weeks_one", Unit: "weeks", Default: 1, Low: 1, High: 6, Cites: []source.Key{"practice"},
		Says: "After one rung back the lower dose is kept for this many weeks.",
	}},
	{func(p *Policy) *int { return &p.BackWeeks }, source.Setting{
		Key: "plan.back_weeks", Unit: "weeks", Default: 2, Low: 1, High: 6, Cites: []source.Key{"practice"},
		Says: "After two rungs back the lower dose is kept for this many weeks.",
	}},
}
