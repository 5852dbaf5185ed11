package source

// The citations of the plan rules.
var plan = []Citation{
	{
		Key:   "getp10",
		Topic: TopicPlan,
		Text: "American College of Sports Medicine. Guidelines for Exercise Testing and Prescription, 10th edition, 2018, " +
			"chapter on the general principles of exercise prescription: rate of progression.",
		Status: FromMemory,
		Note: "5 to 10 minutes more a session every one to two weeks over the first four to six weeks, " +
			"then frequency, intensity and time over four to eight months. The figures are to be checked in the book.",
	},
	{
		Key:   "acsm_stages",
		Topic: TopicPlan,
		Text: "Three stages of conditioning after earlier editions of the ACSM guidelines: initial 4 to 6 weeks, 12 to 15 minutes " +
			"growing to 20, three times a week; improvement 4 to 5 months; then maintenance.",
		Address: "http://ndec.info/rate-of-progression-in-an-exercise-conditioning-program/",
		Status:  PublishedSecond,
	},
	{
		Key:   "nhlbi_walk",
		Topic: TopicPlan,
		Text: "US National Heart, Lung, and Blood Institute: sample walking programme of 12 weeks, " +
			"in Your Guide to Physical Activity and Your Heart, 2006.",
		Address: "https://www.nhlbi.nih.gov/health/public/heart/obesity/phy_active.pdf",
		Status:  PublishedSecond,
		Note:    "Read in five copies that agree. Older copies ask for three sessions a week, later ones for five.",
	},
	{
		Key:    "nhs_run",
		Topic:  TopicPlan,
		Text:   "The UK public health service's nine-week beginner programme of running and walking, three sessions a week.",
		Status: PublishedSecond,
		Note:   "Read in two copies that agree. Week 2 fills its 20 minutes with a last walk of one minute.",
	},
	{
		Key:   "heritage",
		Topic: TopicPlan,
		Text: "HERITAGE Family Study training: Skinner JS et al. Med Sci Sports Exerc 2000;32:157-61; " +
			"Wilmore JH et al. Metabolism 2001;50:240-6; protocol in Bouchard C et al. Med Sci Sports Exerc 1995;27:721-9.",
		Address: "https://journals.lww.com/acsm-msse/Fulltext/2000/01000/Adaptation_to_a_standardized_training_program_and.23.aspx",
		Status:  Published,
		Note: "Read: 60 sessions in 20 weeks, from 55 per cent of maximal oxygen uptake for 30 minutes to 75 per cent for 50, " +
			"which the last six weeks keep, and the levels 55, 65, 70 and 75. From memory: in which fortnight each changes.",
	},
	{
		Key:   "racgp_cardiac",
		Topic: TopicPlan,
		Text: "Royal Australian College of General Practitioners. Handbook of non-drug interventions: " +
			"exercise-based rehabilitation for heart failure, and for coronary heart disease.",
		Address: "https://www.racgp.org.au/clinical-resources/clinical-guidelines/handi/handi-interventions/cardiovascular/exercise-based-rehabilitation-for-heart-failure",
		Status:  Published,
		Note: "Warm-up 5 to 10 minutes, training 20 to 45, cool-down 5 to 10; three supervised sessions a week, or one and two at home; " +
			"12 weeks, 12 to 36 sessions.",
	},
	{
		Key:    "toronto_rehab",
		Topic:  TopicPlan,
		Text:   "A Toronto public hospital's education pages for cardiac rehabilitation: when to raise one part of the prescription.",
		Status: Published,
		Note: "One part at a time; aim at five times a week; raise intensity only with an exertion below 11, the heart rate below " +
			"the training rate, and no symptoms; not above 13, when unwell, or after a change of medicines.",
	},
	{
		Key:   "squires2018",
		Topic: TopicPlan,
		Text: "Squires RW et al. Progression of exercise training in early outpatient cardiac rehabilitation. " +
			"J Cardiopulm Rehabil Prev 2018;38:139-46.",
		Address: "https://journals.lww.com/jcrjournal/Fulltext/2018/05000/Progression_of_Exercise_Training_in_Early.1.aspx",
		Status:  Published,
		Note:    "Opening read: progression is individual and gradual. Its figures were not read and are not used.",
	},
	{
		Key:   "buist2008",
		Topic: TopicPlan,
		Text: "Buist I et al. No effect of a graded training program on the number of running-related injuries in novice runners: " +
			"a randomized controlled trial. Am J Sports Med 2008;36:33-9.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/17940147",
		Status:  Published,
		Note:    "532 novices: 20.8 per cent injured with steps of ten per cent over 13 weeks, 20.3 with the usual 8 weeks.",
	},
	{
		Key:     "mujika2001",
		Topic:   TopicPlan,
		Text:    "Mujika I, Padilla S. Cardiorespiratory and metabolic characteristics of detraining in humans. Med Sci Sports Exerc 2001;33:413-21.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/11252068",
		Status:  Published,
		Note:    "Abstract read: recent gains are lost wholly after more than four weeks. No public body gives steps for the way back.",
	},
	{
		Key:     "swain2002",
		Topic:   TopicPlan,
		Text:    "Swain DP, Franklin BA. VO2 reserve and the minimal intensity for improving cardiorespiratory fitness. Med Sci Sports Exerc 2002;34:152-7.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/11782661",
		Status:  Published,
		Note:    "Abstract read: 18 studies; the authors call the evidence for a threshold not strong.",
	},
}
