package plan

import "brae/domain/source"

// Rules are the rules of this package, told in a sentence each.
var Rules = []source.Rule{
	{
		ID: "plan.one_part", Topic: source.TopicPlan,
		Says:  "A step changes one part of the prescription: time before frequency, and both before intensity; never two steps in a week.",
		Cites: []source.Key{"toronto_rehab", "getp10", "garber2011", "squires2018"},
	},
	{
		ID: "plan.steps", Topic: source.TopicPlan,
		Says: "Sessions grow by 5 minutes to 30, then by one a week to 5, then by 5 minutes to 60; " +
			"a week whose sessions grow by more than 10 minutes is marked as steep.",
		Cites: []source.Key{"getp10", "acsm_stages", "practice"},
	},
	{
		ID: "plan.phase.light", Topic: source.TopicPlan,
		Says: "The light phase lasts 4 weeks, 2 at least. It is left with 3 sessions in each of the last 2 weeks, comfortable talking " +
			"in 80 per cent of sessions, moderate work open, and 14 days without a report that called for a stop, easing off or an emergency.",
		Cites: []source.Key{"common_practice", "practice"},
	},
	{
		ID: "plan.phase.moderate", Topic: source.TopicPlan,
		Says: "The moderate phase lasts until week 12, 8 weeks at least. It is left with 150 moderate-equivalent minutes, or the " +
			"practitioner's own target, in each of the last 4 weeks, vigorous work open, a valid screening and a sign-off of the last 30 days.",
		Cites: []source.Key{"common_practice", "practice"},
	},
	{
		ID: "plan.phase.vigorous", Topic: source.TopicPlan,
		Says: "Vigorous work begins in week 13 at the earliest, 4 minutes a week more each time, at most 20 per cent of the week's " +
			"minutes in the first 4 weeks, and never above the ceiling.",
		Cites: []source.Key{"common_practice", "practice"},
	},
	{
		ID: "plan.next", Topic: source.TopicPlan,
		Says: "A session has its even share of the week's vigorous minutes, rounded up, and what was left out is not made up for at once. " +
			"What is above the ceiling of the moment is done at the ceiling, for as long.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "plan.preset.walk_12", Topic: source.TopicPlan,
		Says:  "Twelve weeks of walking: 5, 7, 9, 11, 13, 15, 18, 20, 23, 26, 28 and 30 brisk minutes, 5 slow ones before and after.",
		Cites: []source.Key{"nhlbi_walk"},
	},
	{
		ID: "plan.preset.run_walk_9", Topic: source.TopicPlan,
		Says:  "Nine weeks of running and walking, three sessions a week: 8, 9, 9, 16, 15-20, 18-25, 25, 28 and 30 minutes of running a session.",
		Cites: []source.Key{"nhs_run"},
	},
	{
		ID: "plan.preset.heritage_20", Topic: source.TopicPlan,
		Says: "Twenty weeks, three sessions a week, from 30 minutes at 55 per cent of maximal oxygen uptake to 50 minutes at 75 per cent. " +
			"From 64 per cent on this is vigorous.",
		Cites: []source.Key{"heritage", "garber2011"},
	},
	{
		ID: "plan.preset.cardiac_12", Topic: source.TopicPlan,
		Says:  "Cardiac rehabilitation: 12 weeks of three sessions, 20 to 45 minutes of training between 5 minutes of warm-up and of cool-down.",
		Cites: []source.Key{"racgp_cardiac", "practice"},
	},
	{
		ID: "plan.preset.three_phase_24", Topic: source.TopicPlan,
		Says:  "Twenty-four weeks: 4 light, 8 moderate up to 5 x 30 minutes, 12 with 4 to 50 vigorous minutes a week within them.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "plan.status", Topic: source.TopicPlan,
		Says: "Ready: 3 of the last 4 sessions at an exertion of 11 or less, or so easy that singing would do, the heart rate in the lowest " +
			"quarter of the range or below, nothing reported, 80 per cent of the plan done. Too hard: 2 of the last 3 at 15 or more, above " +
			"the range, or talking too hard. Steady too long: ready for 4 weeks unchanged, or no test moved in 8.",
		Cites: []source.Key{"toronto_rehab", "getp10", "practice"},
	},
	{
		ID: "plan.drift", Topic: source.TopicPlan,
		Says: "Where talk test and heart rate differ the same way in 4 of the last 5 sessions with both, a new resting heart rate is asked for. " +
			"Where it is too hard by heart rate alone and feels easier, that comes before any step back.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "plan.break", Topic: source.TopicPlan,
		Says: "After up to 7 days without a session the plan goes on; up to 14, one rung lower or a quarter less time; up to 28, two rungs " +
			"lower or half the time and one class easier, for 2 weeks; after that from the start, with screening and tests again. " +
			"A break for illness, injury, hospital or a new medicine is reviewed first.",
		Cites: []source.Key{"mujika2001", "practice"},
	},
	{
		ID: "plan.running_jump", Topic: source.TopicPlan,
		Says:  "Running minutes that grow by more than 30 per cent over the mean of the last two weeks are marked, not blocked.",
		Cites: []source.Key{"buist2008", "practice"},
	},
	{
		ID: "plan.pause", Topic: source.TopicPlan,
		Says:  "A week with a pause in it asks for the share of its minutes and sessions that the open days are; a paused week asks for nothing.",
		Cites: []source.Key{"practice"},
	},
}
