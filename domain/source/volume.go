package source

// The citations of the weekly-volume rules.
var volume = []Citation{
	{
		Key:   "paga2018",
		Topic: TopicVolume,
		Text: "US Department of Health and Human Services. Physical Activity Guidelines for Americans, " +
			"2nd edition, 2018: pages 58 (two for one), 64-65 (examples), 68-71 (older adults, relative intensity), " +
			"77 (examples), 106 (bands), 108 (MET-minutes).",
		Address: "https://health.gov/sites/default/files/2019-09/Physical_Activity_Guidelines_2nd_edition.pdf",
		Status:  Published,
		Note:    "Read in a stored copy of the document.",
	},
	{
		Key:   "who2020",
		Topic: TopicVolume,
		Text: "Bull FC et al. World Health Organization 2020 guidelines on physical activity and sedentary behaviour. " +
			"Br J Sports Med 2020;54:1451-62.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC7719906",
		Status:  Published,
		Note:    "Abstract read; 150 to 300 minutes, no minimum bout.",
	},
	{
		Key:   "haskell2007",
		Topic: TopicVolume,
		Text: "Haskell WL et al. Physical activity and public health: updated recommendation for adults (ACSM and AHA). " +
			"Med Sci Sports Exerc 2007;39:1423-34.",
		Address: "https://www.aafp.org/pubs/afp/issues/2008/0215/p513.html",
		Status:  PublishedSecond,
		Note:    "Still asks for bouts of ten minutes; superseded in this by the guidelines of 2018 and 2020.",
	},
	{
		Key:   "paga2008",
		Topic: TopicVolume,
		Text: "US Department of Health and Human Services. 2008 Physical Activity Guidelines for Americans, " +
			"chapter 4 and appendix 1.",
		Address: "https://cybercemetery.unt.edu/archive/oilspill/20130221151452/http://www.health.gov/paguidelines/guidelines/appendix1.aspx",
		Status:  Published,
		Note:    "Still asks for bouts of ten minutes; its examples of weeks hold without.",
	},
	{
		Key:    "iso8601",
		Topic:  TopicVolume,
		Text:   "ISO 8601: weeks start on Monday, and the first week of a year is the one with its first Thursday.",
		Status: FromMemory,
		Note:   "The Sunday start is a practice setting. Weeks are named by their first day, not by their number.",
	},
}
