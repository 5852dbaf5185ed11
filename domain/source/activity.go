package source

// The citations of the activity rules.
var activity = []Citation{
	{
		Key:     "ainsworth2011",
		Topic:   TopicActivity,
		Text:    "Ainsworth BE and others 2011, compendium of physical activities, second update, Med Sci Sports Exerc 43(8):1575-81.",
		Address: "https://github.com/andyreagan/compendium-of-physical-activity",
		Status:  PublishedSecond,
		Note:    "Codes and METs read in an open copy of the list; the names of our activities are ours. Covers adults of all ages.",
	},
	{
		Key:     "herrmann2024",
		Topic:   TopicActivity,
		Text:    "Herrmann SD and others 2024, adult compendium of physical activities, third update, J Sport Health Sci 13:6-12.",
		Address: "https://pacompendium.com",
		Status:  PublishedSecond,
		Note:    "For adults of 19 to 59 years. Values read in copies for walking, running, cycling, machines and conditioning; all others still come from the edition of 2011. Some codes mean something else than before.",
	},
	{
		Key:    "willis2024",
		Topic:  TopicActivity,
		Text:   "Willis EA and others 2024, older adult compendium of physical activities, J Sport Health Sci 13:13-17.",
		Status: Published,
		Note:   "Abstract: from 60 years on, one MET is 2.7 ml of oxygen per kg and minute. The values of its activities were not read, so none are in the list.",
	},
	{
		Key:     "tudorlocke2019",
		Topic:   TopicActivity,
		Text:    "Tudor-Locke C and others 2019, cadence and intensity of walking at 21 to 40 years, Int J Behav Nutr Phys Act 16:8.",
		Address: "https://ijbnpa.biomedcentral.com/articles/10.1186/s12966-019-0769-6",
		Status:  Published,
		Note:    "Regression points 102 and 129 steps a minute, rounded by the authors to 100 and 130.",
	},
	{
		Key:    "tudorlocke2020",
		Topic:  TopicActivity,
		Text:   "Tudor-Locke C and others 2020, cadence and intensity of walking at 41 to 60 years, Int J Behav Nutr Phys Act 17.",
		Status: Published,
		Note:   "Regression points 101.7 and 132.1 steps a minute; for one person the 3-MET point lies between 55 and 111.",
	},
}
