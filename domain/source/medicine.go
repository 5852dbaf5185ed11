package source

// The citations of the medicine rules.
var medicine = []Citation{
	{
		Key:   "healthlinkbc_medicines",
		Topic: TopicMedicine,
		Text: "HealthLink BC. Cardiac rehabilitation: medicine and exercise. Table of the effect of medicines on heart " +
			"rate, blood pressure and exercise.",
		Address: "https://www.healthlinkbc.ca/illnesses-conditions/rehabilitation-and-exercise/cardiac-rehabilitation-medicine-and-exercise",
		Status:  Published,
		Note: "For patients, by groups of medicines. It has no row for ivabradine, eye drops, thyroid, diabetes or " +
			"most other medicines outside the heart.",
	},
	{
		Key:   "peel1995",
		Topic: TopicMedicine,
		Text: "Peel C, Mossberg KA. Effects of cardiovascular medications on exercise responses. Phys Ther " +
			"1995;75:387-396.",
		Status: PublishedSecond,
		Note:   "Only the summary was read. It covers beta-blockers, vasodilators, diuretics, digitalis and rhythm medicines.",
	},
	{
		Key:     "who_atc",
		Topic:   TopicMedicine,
		Text:    "WHO Collaborating Centre for Drug Statistics Methodology. ATC/DDD index, 2026.",
		Address: "https://atcddd.fhi.no/atc_ddd_index/",
		Status:  PublishedSecond,
		Note: "Used to check that a generic name exists and which group it is in, in a copy of April 2026. Two names are " +
			"not in it as single medicines (levalbuterol, vilanterol). Its codes are not part of this software.",
	},
	{
		Key:   "matsuda1991",
		Topic: TopicMedicine,
		Text: "Matsuda M, Matsuda Y, Yamagishi T, et al. Effects of digoxin, propranolol and verapamil on exercise in " +
			"patients with chronic isolated atrial fibrillation. Cardiovasc Res 1991;25:453-457.",
		Address: "https://doi.org/10.1093/cvr/25.6.453",
		Status:  Published,
		Note: "In atrial fibrillation. Resting rate 85 fell to 63 on propranolol, 70 on verapamil, 75 on digoxin; peak 175 " +
			"to 138 on propranolol and on verapamil, unchanged on digoxin.",
	},
	{
		Key:    "adequate_effort2022",
		Topic:  TopicMedicine,
		Text:   "Ann Rehabil Med 2022;46:133-141.",
		Status: Published,
		Note:   "Took 62 per cent of the predicted maximum as adequate effort on a beta-blocker, against 85 per cent off it.",
	},
	{
		Key:     "threshold_bb2021",
		Topic:   TopicMedicine,
		Text:    "J Funct Morphol Kinesiol 2021;6:61.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/34287331/",
		Status:  Published,
		Note:    "On a beta-blocker the relative heart rate at the second threshold shifts, and differs between people.",
	},
	{
		Key:   "mitchell2025",
		Topic: TopicMedicine,
		Text: "Mitchell BL, Davison K, Parfitt G, Eston RG. Effect of beta-blockade on measures and reproducibility of heart " +
			"rate, oxygen uptake and work rate across repeated bouts of short-duration, RPE-regulated exercise. Eur J Appl " +
			"Physiol 2025.",
		Address: "https://doi.org/10.1007/s00421-025-05818-x",
		Status:  PublishedSecond,
		Note: "The summary was read: work set by perceived exertion stayed repeatable on a beta-blocker, at a lower heart " +
			"rate and oxygen uptake.",
	},
	{
		Key:   "eston1997",
		Topic: TopicMedicine,
		Text: "Eston RG, Thompson M. Use of ratings of perceived exertion for predicting maximal work rate and prescribing " +
			"exercise intensity in patients taking atenolol. Br J Sports Med 1997;31:114-119.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC1332608/",
		Status:  Published,
		Note:    "The abstract: a beta-blocker can lower maximal heart rate by 20 to 30 per cent.",
	},
	{
		Key:   "maldonado2020",
		Topic: TopicMedicine,
		Text: "Maldonado-Martin S, Brubaker PH, Ozemek C, et al. Impact of beta-blockers on heart rate and oxygen uptake " +
			"during exercise and recovery in older patients with heart failure with preserved ejection fraction. J " +
			"Cardiopulm Rehabil Prev 2020;40:174-177.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC7682249/",
		Status:  Published,
		Note:    "Rest 66 against 70 bpm on and off a beta-blocker; no clear difference at peak.",
	},
	{
		Key:    "medicine_memory",
		Topic:  TopicMedicine,
		Text:   "Pharmacology of the classes, as recalled while the tables were written.",
		Status: FromMemory,
		Note: "Every effect outside the groups of the published table, the eye-drop rule, the diseases that a medicine " +
			"hints at, and the pair of nitrates and PDE5 inhibitors. To be checked against a pharmacology text.",
	},
}
