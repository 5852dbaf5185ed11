package source

// The citations of the screening rules, of vital signs, and of what holds for
// heart patients.
var screening = []Citation{
	{
		Key: "riebe2015", Topic: TopicScreening, Status: PublishedSecond,
		Text: "Riebe D, Franklin BA, Thompson PD, et al. Updating ACSM's recommendations for exercise preparticipation health " +
			"screening. Med Sci Sports Exerc 2015;47:2473-2479.",
		Address: "https://doi.org/10.1249/MSS.0000000000000664",
		Note: "The paper itself was not opened. Its six boxes were read in two copies that agree. That a decision of the last " +
			"twelve months counts only while signs and symptoms have not changed is from memory at its end.",
	},
	{
		Key: "acsm_cells", Topic: TopicScreening, Status: PublishedSecond,
		Text: "Study material for the ACSM examinations that gives the boxes of the screening figure of 2015 and the intensity bands.",
		Note: "Two independent copies; one gives five and a half of the six boxes in full, the other all six.",
	},
	{
		Key: "acsm_webinar2017", Topic: TopicScreening, Status: Published,
		Text:    "American College of Sports Medicine. Preparticipation screening: follow-up questions and answers, 13 September 2017.",
		Address: "https://certification.acsm.org/blog/2017/september/preparticipation-screening-webinar-follow-up-questions-and-answers",
		Note:    "30 minutes, three times a week, in the last three months. It does not say how weeks that were missed or short bouts count.",
	},
	{
		Key: "acsm_faq2015", Topic: TopicScreening, Status: Published,
		Text: "American College of Sports Medicine. Questions and answers on the screening recommendations of 2015.",
		Note: "Risk factors and lung disease do not send anybody to a doctor by themselves any more. Read in a copy.",
	},
	{
		Key: "getp10_screening", Topic: TopicScreening, Status: Published,
		Text: "Riebe D, Ehrman JK, Liguori G, Magal M, editors. ACSM's guidelines for exercise testing and prescription, 10th edition, " +
			"2018, opening of chapter 2.",
		Note: "Read in a copy. The 12th edition of 2025 was not seen: check before citing it.",
	},
	{
		Key: "whitfield2017", Topic: TopicScreening, Status: Published,
		Text: "Whitfield GP, Riebe D, Magal M, Liguori G. Applying the ACSM preparticipation screening algorithm to US adults. " +
			"Med Sci Sports Exerc 2017;49:2056-2063.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC7059860",
		Note:    "Of adults over 40, 54.2 per cent would be sent to a doctor before any exercise and 2.6 per cent before vigorous exercise only.",
	},
	{
		Key: "colberg2017", Topic: TopicScreening, Status: Published,
		Text:    "Colberg SR. Key points from the updated guidelines on exercise and diabetes. Front Endocrinol 2017;8:33.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC5317029",
		Note: "Disagrees with the screening model for diabetes: without symptoms nobody needs a doctor to begin walking no harder than a " +
			"brisk walk. Agrees before harder work, and with a higher risk or complications.",
	},
	{
		Key: "maiorana2018", Topic: TopicScreening, Status: Published,
		Text:    "Maiorana AJ, Williams AD, Askew CD, et al. Exercise professionals with advanced clinical training. Sports Med 2018;48:1293-1302.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC5948234",
		Note:    "Argues that doctors should give guidance rather than a clearance: hence a decision with a ceiling and limits.",
	},
	{
		Key: "franklin2020", Topic: TopicScreening, Status: Published,
		Text: "Franklin BA, Thompson PD, Al-Zaiti SS, et al. Exercise-related acute cardiovascular events. Circulation 2020, in the key " +
			"points of the American College of Cardiology.",
		Address: "https://www.acc.org/latest-in-cardiology/ten-points-to-remember/2020/03/06/15/14/exercise-related-acute-cardiovascular-events",
		Note: "Sudden death is 3 to 17 times as frequent during vigorous effort and up to 30 minutes after; the absolute risk is small, " +
			"and worst in who is not used to it.",
	},
	{
		Key: "screening_memory", Topic: TopicScreening, Status: FromMemory,
		Text: "Exercise testing and prescription as recalled while the rules were written.",
		Note: "Which diseases stand under the three headings, the acute forms of some symptoms, precautions after a stent or a device, " +
			"values of the risk class, and a few vital signs. To be checked against the current guidelines.",
	},

	{
		Key: "bmjopen_protocol", Topic: TopicScreening, Status: PublishedSecond,
		Text:    "Exercise in cancer treatment, trial protocol, BMJ Open, table 1: when not to exercise.",
		Address: "https://bmjopen.bmj.com/highwire/markup/153030/expansion",
		Note:    "One programme's limits: fever from 38 degrees, haemoglobin below 100 g/L, vomiting or diarrhoea in the last 24 to 36 hours.",
	},
	{
		Key: "cr_contraindications", Topic: TopicScreening, Status: PublishedSecond,
		Text: "Contraindications in heart rehabilitation, from two programmes' lists.",
		Note: "Among them a resting heart rate above 100.",
	},
	{
		Key: "hypertension2024", Topic: TopicVitals, Status: Published,
		Text:    "Exercise and hypertension, Integr Blood Press Control 2024;17:21-37, table 1.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC10959113/table/t0001",
		Note:    "Lists pressure above 180 over 110 as absolute and above 160 over 100 as relative, stricter than the lists for exercise tests.",
	},
	{
		Key: "aacvpr_class", Topic: TopicScreening, Status: PublishedSecond,
		Text:    "Risk stratification of the American Association of Cardiovascular and Pulmonary Rehabilitation, as adapted in PMC8006124, table 3.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC8006124/table/Tab3",
		Note: "The adaptation lists complex ventricular rhythms under moderate as well; the original has them under high only, from memory. " +
			"METs and millimetres for angina and ischaemia are from memory.",
	},
	{
		Key: "bhat2021", Topic: TopicScreening, Status: Published,
		Text:    "Bhat AG, Farah M, Szalai H, et al. Adverse events by risk class in heart rehabilitation. J Cardiopulm Rehabil Prev 2021;41:257-263.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/33591063/",
		Note:    "657 patients: high risk had three times the adverse events; none of 63 events was an arrest or a death, under supervision.",
	},
	{
		Key: "thomas2019", Topic: TopicScreening, Status: PublishedSecond,
		Text:    "Thomas RJ, Beatty AL, Beckie TM, et al. Home-based cardiac rehabilitation, 2019.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC7530797",
		Note:    "Reasonable for selected, stable patients at low to moderate risk who cannot attend a centre.",
	},
	{
		Key: "aha_class_c", Topic: TopicScreening, Status: PublishedSecond,
		Text: "An older scheme of the American Heart Association: moderate to high risk, and who cannot regulate their effort, exercise under supervision only.",
	},
	{
		Key: "usc_cardiac_rehab", Topic: TopicScreening, Status: Published,
		Text:    "United States Code, title 42, section 1395x, cardiac rehabilitation programme: who qualifies.",
		Address: "https://www.law.cornell.edu/definitions/uscode.php?def_id=42-USC-1221981827-632785989",
		Note:    "Stable heart failure: at least six weeks of the best treatment.",
	},
	{
		Key: "bmc_sternal", Topic: TopicScreening, Status: Published,
		Text: "Boston Medical Center, page for patients after surgery through the breastbone: nothing above 10 pounds for 6 to 8 weeks.",
		Note: "One hospital. These limits rest on tradition and are debated; the surgeon's own figures come first.",
	},
	{
		Key: "aha_resistance", Topic: TopicScreening, Status: PublishedSecond,
		Text: "Resistance exercise after surgery through the breastbone, summary of guidance of the American Heart Association.",
		Note: "Weak: an unsigned summary. No upper-body work from 50 per cent of the maximum for 8 to 12 weeks.",
	},

	{
		Key: "acog804", Topic: TopicScreening, Status: Published,
		Text: "American College of Obstetricians and Gynecologists. Physical activity and exercise during pregnancy and the postpartum " +
			"period. Committee Opinion 804, 2020, abstract.",
		Note: "Its list of contraindications was not seen; ours is the older one with severe anaemia. Check before use.",
	},
	{
		Key: "pregnancy_wjd2013", Topic: TopicScreening, Status: PublishedSecond,
		Text:    "Contraindications to exercise in pregnancy, World J Diabetes 2013;4:256-262, table 1.",
		Address: "http://www.wjgnet.com/1948-9358/full/v4/i6/256-T1.htm",
	},
	{
		Key: "pregnancy_bmc2015", Topic: TopicScreening, Status: PublishedSecond,
		Text:    "Contraindications to exercise in pregnancy, BMC Pregnancy Childbirth 2015, table 1.",
		Address: "https://bmcpregnancychildbirth.biomedcentral.com/articles/10.1186/s12884-015-0556-6/tables/1",
	},
	{
		Key: "pregnancy_bjsm", Topic: TopicScreening, Status: PublishedSecond,
		Text:    "Contraindications to prenatal exercise with cut-offs, Br J Sports Med, table 2.",
		Address: "https://bjsm.bmj.com/highwire/markup/121409/expansion",
		Note:    "Severe lung disease is absolute here, relative in older lists.",
	},
}
