package volume

import "brae/domain/source"

// Rules are the rules of this package, told in a sentence each.
var Rules = []source.Rule{
	{
		ID: "volume.equivalent", Topic: source.TopicVolume,
		Says: "Moderate-equivalent minutes are moderate minutes plus twice the vigorous minutes. " +
			"Near-maximal minutes count as vigorous, twice and not three times.",
		Cites: []source.Key{"paga2018", "who2020"},
	},
	{
		ID: "volume.light", Topic: source.TopicVolume,
		Says:  "Light and very light minutes are added up and shown on their own; they are not in the moderate-equivalent sum.",
		Cites: []source.Key{"paga2018"},
	},
	{
		ID: "volume.bouts", Topic: source.TopicVolume,
		Says:  "Every minute counts, in bouts of any length, over the week and not the day.",
		Cites: []source.Key{"paga2018", "who2020"},
	},
	{
		ID: "volume.bands", Topic: source.TopicVolume,
		Says: "A week of 0 moderate-equivalent minutes is inactive, of 1 to 149 insufficient, " +
			"of 150 to 300 active and of more than 300 highly active.",
		Cites: []source.Key{"paga2018"},
	},
	{
		ID: "volume.target", Topic: source.TopicVolume,
		Says: "A client is compared with the target agreed for that week, 150 moderate-equivalent minutes if there is none; " +
			"more benefit is marked from 300. Who cannot do 150 does what they can.",
		Cites: []source.Key{"paga2018", "who2020"},
	},
	{
		ID: "volume.light_target", Topic: source.TopicVolume,
		Says:  "A target of the light phase counts light minutes and harder ones alike, each minute once.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "volume.week", Topic: source.TopicVolume,
		Says: "A session belongs to the week of its start, in the zone it was logged in. " +
			"Weeks start on Monday, or on Sunday where the practice says so, and are named by their first day.",
		Cites: []source.Key{"iso8601", "practice"},
	},
	{
		ID: "volume.minutes", Topic: source.TopicVolume,
		Says:  "A session of 1 to 720 minutes is taken; more than 240 in a session or 1,500 in a week is asked about first.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "volume.spike", Topic: source.TopicVolume,
		Says: "A week of more than 60 minutes that is over 150 per cent of the mean of the four weeks before is looked at: " +
			"a note to the practitioner, no hold.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "volume.fill", Topic: source.TopicVolume,
		Says: "What would fill a week stays within the ceiling, the vigorous minutes that the plan leaves open, one session a day " +
			"and 60 minutes a session.",
		Cites: []source.Key{"paga2018", "practice"},
	},
}
