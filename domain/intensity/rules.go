package intensity

import "brae/domain/source"

// Rules tells every rule and table of this package in a sentence.
var Rules = []source.Rule{
	{
		ID: "intensity.reserve", Topic: source.TopicIntensity,
		Says: "Of the heart-rate reserve or the oxygen-uptake reserve: below 30 % very light, 30 to below 40 % light, " +
			"40 to below 60 % moderate, 60 to below 90 % vigorous, from 90 % near-maximal. 40 % is moderate, 60 % vigorous.",
		Cites: []source.Key{"garber2011", "acsm_10_column", "bjsm_acsm_table"},
	},
	{
		ID: "intensity.maximum", Topic: source.TopicIntensity,
		Says: "Of the maximal heart rate: below 57 % very light, from 57 light, from 64 moderate, from 77 vigorous, " +
			"from 96 % near-maximal.",
		Cites: []source.Key{"garber2011", "acsm_10_column", "bjsm_acsm_table"},
	},
	{
		ID: "intensity.oxygen_maximum", Topic: source.TopicIntensity,
		Says: "Of the maximal oxygen uptake: below 37 % very light, from 37 light, from 46 moderate, from 64 vigorous, " +
			"from 91 % near-maximal. For a small capacity these edges shift upwards.",
		Cites: []source.Key{"garber2011", "bjsm_acsm_table"},
	},
	{
		ID: "intensity.effort", Topic: source.TopicIntensity,
		Says: "Perceived exertion from 6 to 20: up to 8 very light, 9-11 light, 12-13 moderate, 14-17 vigorous, " +
			"18-20 near-maximal.",
		Cites: []source.Key{"garber2011", "acsm_10_column"},
	},
	{
		ID: "intensity.cr10", Topic: source.TopicIntensity,
		Says: "Perceived exertion from 0 to 10 by category and ratio (CR10): 1-2 light, 3-4 moderate, 5-6 vigorous, " +
			"from 7 high. A half point between two classes belongs to the easier one.",
		Cites: []source.Key{"norton2010", "essa_table_copy"},
	},
	{
		ID: "intensity.relative_effort", Topic: source.TopicIntensity,
		Says: "Effort relative to one's capacity from 0 to 10, another scale: 3-4 light, 5-6 moderate, 7-8 vigorous. " +
			"Below 3 is taken as very light and above 8 as near-maximal, which the guideline leaves unnamed.",
		Cites: []source.Key{"paga2018", "who2020", "practice"},
	},
	{
		ID: "intensity.met", Topic: source.TopicIntensity,
		Says: "METs for adults of all ages: below 2.0 very light, from 2.0 light, from 3.0 moderate, from 6.0 vigorous, " +
			"from 8.8 near-maximal. Only used when nothing else is known.",
		Cites: []source.Key{"garber2011", "paga2018", "met_edges_copy", "skjodt2024"},
	},
	{
		ID: "intensity.met_age", Topic: source.TopicIntensity,
		Says: "METs by age: light from 2.4, 2.0, 1.6; moderate from 4.8, 4.0, 3.2; vigorous from 7.2, 6.0, 4.8; near-maximal " +
			"from 10.2, 8.5, 6.8 at 20-39, 40-64 and from 65 years.",
		Cites: []source.Key{"garber2011_met_age"},
	},
	{
		ID: "intensity.talk", Topic: source.TopicIntensity,
		Says: "Talk test: who can sing works lightly or less; whole sentences without singing are moderate; broken sentences and " +
			"a few words are vigorous; no speech is near-maximal. Broken sentences are a step of our own for the equivocal stage.",
		Cites: []source.Key{"cdc_talk", "cdc_talk_2009", "paga2018", "persinger2004", "practice"},
	},
	{
		ID: "intensity.talk_asking", Topic: source.TopicIntensity,
		Says: "The talk test is asked after at least 5 minutes at a steady pace: read some 30 words or more aloud, then say whether " +
			"speaking was comfortable. It does not suit intervals.",
		Cites: []source.Key{"foster2008", "talk_passage", "reed2014", "practice"},
	},
	{
		ID: "intensity.talk_limits", Topic: source.TopicIntensity,
		Says: "Comfortable speech ends near the ventilatory threshold, at 74 to 84 % of the reserve in healthy people, so whole " +
			"sentences can occur in the vigorous range. In cardiac clients it varies widely and errs to the easy side: " +
			"it is used together with perceived exertion and releases no hold.",
		Cites: []source.Key{"persinger2004", "foster2008", "sorensen2020", "reed2014", "lyon2014"},
	},
	{
		ID: "intensity.judge.safety", Topic: source.TopicIntensity,
		Says: "For safety a part counts as the hardest of its valid evidence: talk test, perceived exertion, heart rate on a " +
			"measured or predicted maximum.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "intensity.judge.volume", Topic: source.TopicIntensity,
		Says: "Minutes count by the client's primary kind of evidence; without one, by heart rate on a measured maximum, then talk " +
			"test, perceived exertion, heart rate on a predicted maximum, METs.",
		Cites: []source.Key{"practice", "keteyian2023", "paga2018"},
	},
	{
		ID: "intensity.disagree.feels_harder", Topic: source.TopicIntensity,
		Says: "Felt harder than the heart rate shows, by at least a class: counts as felt; never a faster pace to reach the heart " +
			"rate; ask about medicines first; new breathlessness goes to symptom questions and doctor review.",
		Cites: []source.Key{"practice", "sorensen2020", "keteyian2023"},
	},
	{
		ID: "intensity.disagree.heart_rate_harder", Topic: source.TopicIntensity,
		Says: "Heart rate harder than felt, by at least a class: count the pulse for 60 seconds. Regular, no symptoms, below the " +
			"ceiling: keep the pace and log both. Otherwise stop and hold.",
		Cites: []source.Key{"practice", "sartor2018", "persinger2004"},
	},
	{
		ID: "intensity.disagree.effort", Topic: source.TopicIntensity,
		Says:  "Talk test and heart rate agree but perceived exertion is 2 or more classes away: teach the scale again.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "intensity.disagree.repeated", Topic: source.TopicIntensity,
		Says: "The same disagreement in 2 of 3 sessions: measure the resting heart rate again, review medicines, consider a test. " +
			"The maximal heart rate is never changed by itself.",
		Cites: []source.Key{"practice"},
	},
}
