package activity

import "brae/domain/source"

// Rules are the rules of this package, for the Sources page.
var Rules = []source.Rule{
	{
		ID:    "activity.list",
		Topic: source.TopicActivity,
		Says:  "80 activities with a code, an edition and METs. Where the edition of 2024 was read with the same code, its value is in use, otherwise that of 2011. The same code can mean another activity in another edition.",
		Cites: []source.Key{"ainsworth2011", "herrmann2024"},
	},
	{
		ID:    "activity.class",
		Topic: source.TopicActivity,
		Says:  "By absolute METs an activity is very light below 2, light below 3, moderate below 6, vigorous below 8.8 and near maximal from there on. It is used only where neither talk test, exertion nor heart rate is known.",
		Cites: []source.Key{"garber2011", "paga2018"},
	},
	{
		ID:    "activity.basis",
		Topic: source.TopicActivity,
		Says:  "One MET is 3.5 ml of oxygen per kg and minute in adults, and 2.7 in the list for adults from 60 years on. Values are converted before they are added up.",
		Cites: []source.Key{"ainsworth2011", "willis2024"},
	},
	{
		ID:    "activity.energy",
		Topic: source.TopicActivity,
		Says:  "Kilocalories a minute are METs x 3.5 x kg / 200, at 5 kcal a litre of oxygen. Gross counts everything; net leaves out the one MET of rest.",
		Cites: []source.Key{"acsm_equations"},
	},
	{
		ID:    "activity.met_minutes",
		Topic: source.TopicActivity,
		Says:  "MET-minutes are METs x minutes; a week's sum counts what has 3 METs or more, and the guideline's range is 500 to 1000. They are never turned into moderate-equivalent minutes.",
		Cites: []source.Key{"garber2011", "paga2018"},
	},
	{
		ID:    "activity.cadence",
		Topic: source.TopicActivity,
		Says:  "Walking reaches 3 METs at about 100 steps a minute and 6 METs at about 130, with wide differences between people.",
		Cites: []source.Key{"tudorlocke2019", "tudorlocke2020"},
	},
	{
		ID:    "activity.limits",
		Topic: source.TopicActivity,
		Says:  "Taken for a slip of typing and refused: a weight outside 20 to 400 kg, METs outside the limits for intensity, and more than 250 steps a minute.",
		Cites: []source.Key{"practice"},
	},
}
