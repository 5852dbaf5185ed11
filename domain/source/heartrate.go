package source

// The citations of the heart-rate rules.
var heartRate = []Citation{
	{
		Key: "gellish2007", Topic: TopicHeartRate, Status: Published,
		Text:    "Gellish RL et al. Longitudinal modeling of the relationship between age and maximal heart rate. Med Sci Sports Exerc 2007;39(5):822-9.",
		Address: "https://journals.lww.com/acsm-msse/Fulltext/2007/05000/Longitudinal_Modeling_of_the_Relationship_between.11.aspx",
		Note:    "Abstract read. It gives no standard error; an interval of 5 to 8 beats is quoted from memory.",
	},
	{
		Key: "jackson2007", Topic: TopicHeartRate, Status: Published,
		Text:    "Jackson AS. Estimating maximum heart rate from age: is it a linear relationship? Med Sci Sports Exerc 2007;39(5):821.",
		Address: "https://journals.lww.com/acsm-msse/Fulltext/2007/05000/Estimating_Maximum_Heart_Rate_From_Age__Is_It_a.10.aspx",
		Note:    "Prints the unrounded form 206.9 - 0.67 x age, and that 220 - age is too high under 40 and too low over 40.",
	},
	{
		Key: "tanaka2001", Topic: TopicHeartRate, Status: Published,
		Text: "Tanaka H, Monahan KD, Seals DR. Age-predicted maximal heart rate revisited. J Am Coll Cardiol 2001;37(1):153-6.",
		Note: "Abstract read. No effect of sex or activity.",
	},
	{
		Key: "sarzynski2013", Topic: TopicHeartRate, Status: Published,
		Text:    "Sarzynski MA et al. Measured maximal heart rates compared to commonly used age-based prediction equations (HERITAGE). Am J Hum Biol 2013.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC3935487",
		Note:    "Standard errors in 762 sedentary adults: 11.4 (208 - 0.7 x age) and 12.4 (220 - age).",
	},
	{
		Key: "fox1971", Topic: TopicHeartRate, Status: PublishedSecond,
		Text: "Fox SM, Naughton JP, Haskell WL. Physical activity and the prevention of coronary heart disease. Ann Clin Res 1971;3:404-32.",
		Note: "Read through Gellish 2007, Jackson 2007 and Robergs and Landwehr 2002. Never meant as a norm.",
	},
	{
		Key: "nes2013", Topic: TopicHeartRate, Status: Published,
		Text:    "Nes BM et al. Age-predicted maximal heart rate in healthy subjects. Scand J Med Sci Sports 2013;23(6):697-704.",
		Address: "https://www.ncbi.nlm.nih.gov/pubmed/22376273",
		Note:    "3 320 people; standard error 10.8; no effect of sex, activity or weight.",
	},
	{
		Key: "gulati2010", Topic: TopicHeartRate, Status: Published,
		Text:    "Gulati M et al. Heart rate response to exercise stress testing in asymptomatic women. Circulation 2010;122:130-7.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/20585008/",
		Note:    "5 437 women. The standard deviation of 11.8 is from memory.",
	},
	{
		Key: "sydo2014", Topic: TopicHeartRate, Status: Published,
		Text: "Sydo N et al. Relationship between exercise heart rate and age in men vs women. Mayo Clin Proc 2014.",
		Note: "19 013 adults of 40-89 years without risk factors.",
	},
	{
		Key: "astrand", Topic: TopicHeartRate, Status: FromMemory,
		Text: "Astrand PO. Experimental studies of physical working capacity in relation to sex and age, 1952, as listed by ACSM.",
		Note: "216.6 - 0.84 x age, for people of 4-34 years. To be checked.",
	},
	{
		Key: "inbar1994", Topic: TopicHeartRate, Status: PublishedSecond,
		Text: "Inbar O et al. Normal cardiopulmonary responses during incremental exercise in 20- to 70-yr-old men. Med Sci Sports Exerc 1994;26:538-46.",
		Note: "Formula read in lecture notes; the standard error of 6.4 is from memory.",
	},
	{
		Key: "brawner2004", Topic: TopicHeartRate, Status: Published,
		Text: "Brawner CA et al. Predicting maximum heart rate among patients with coronary heart disease receiving beta-adrenergic blockade therapy. " +
			"Am Heart J 2004;148:910-4, doi 10.1016/j.ahj.2004.04.035.",
		Note: "Standard error 18, explaining 13 % of the variance; a later abstract of the group prints the slope as 0.72.",
	},
	{
		Key: "brawner_abstract", Topic: TopicHeartRate, Status: Published,
		Text: "Conference abstract of the same group on resting heart rate + 20: 200 - 0.92 x age in coronary disease without a beta-blocker.",
		Note: "Its error was not seen.",
	},
	{
		Key: "keteyian2012", Topic: TopicHeartRate, Status: Published,
		Text:    "Keteyian SJ et al. Predicting maximal HR in heart failure patients on beta-blockade therapy. Med Sci Sports Exerc 2012;44(3):371-6.",
		Address: "http://www.ncbi.nlm.nih.gov/pubmed/21900844",
		Note:    "Standard error 18, explaining 28 % of the variance; its authors doubt it for prescribing.",
	},
	{
		Key: "keteyian2019", Topic: TopicHeartRate, Status: Published,
		Text:    "Keteyian SJ, Ehrman JK et al. Exercise in atrial fibrillation. J Cardiopulm Rehabil Prev 2019;39:65-72, table 6.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC6394874",
		Note:    "Now in fibrillation: exertion 11-14 and talk test. At times: 55-80 % of the reserve from measured peak and seated rest.",
	},
	{
		Key: "keteyian2023", Topic: TopicHeartRate, Status: Published,
		Text: "Keteyian SJ et al. Measured versus predicted maximal heart rate on a beta-blocker. J Cardiopulm Rehabil Prev 2023.",
		Note: "Mean predicted 161 (220 - age) and 123 (disease equations) against 133 measured; 0 to 61 % would land in the right range.",
	},
	{
		Key: "mahon2010", Topic: TopicHeartRate, Status: Published,
		Text:    "Mahon AD et al. Evaluating the prediction of maximal heart rate in children and adolescents. Res Q Exerc Sport 2010;81:466-71.",
		Address: "https://eric.ed.gov/?id=EJ914211",
		Note:    "52 children of 7-17 years measured 201, with a standard deviation of 10.",
	},
	{
		Key: "youth_meta2023", Topic: TopicHeartRate, Status: Published,
		Text: "Meta-analysis of maximal heart rate in children, 2023, S0103-05822023000100513.",
		Note: "Favours 208 - 0.7 x age.",
	},
	{
		Key: "evenson2023", Topic: TopicHeartRate, Status: Published,
		Text:    "Evenson KR, Hesketh KR. Monitoring physical activity intensity during pregnancy. 2021/23, tables 1, 2 and 4.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC9830234",
		Note:    "Resting rate up, peak blunted; a single limit of 140 is called unhelpful.",
	},
	{
		Key: "mottola2006", Topic: TopicHeartRate, Status: Published,
		Text: "Mottola MF et al. VO2peak prediction and exercise prescription for pregnant women. Med Sci Sports Exerc 2006;38(8).",
		Note: "Resting heart rate up by 15-20 beats.",
	},
	{
		Key: "transplant_training", Topic: TopicHeartRate, Status: Published,
		Text: "Training by perceived exertion in 19 heart recipients (abstract): at exertion 12-14 the heart rate was above 85 %, at times above 100 %, of the test peak.",
	},
	{
		Key: "squires2002", Topic: TopicHeartRate, Status: Published,
		Text: "Squires RW et al. Partial normalization of the heart rate response to exercise after cardiac transplantation. Mayo Clin Proc 2002;77:1295.",
		Note: "About a third (32 of 95) by one year.",
	},
	{
		Key: "sharp1998", Topic: TopicHeartRate, Status: Published,
		Text: "Sharp CT et al. Exercise prescription for patients with pacemakers. J Cardiopulm Rehabil 1998;18:421-31.",
		Note: "Abstract read: the type of sensor shapes the heart-rate response.",
	},
	{
		Key: "clark2022", Topic: TopicHeartRate, Status: Published,
		Text: "Clark HI et al. Rate-adaptive pacing in heart failure. Heart Fail Rev 2022, doi 10.1007/s10741-022-10217-x.",
		Note: "Peak heart rate up by 15 beats without a higher peak oxygen uptake.",
	},
	{
		Key: "cornelis2018", Topic: TopicHeartRate, Status: Published,
		Text:    "Cornelis J et al. Exercise training in heart failure. Card Fail Rev 2018.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC6125706",
		Note:    "In fibrillation the pulse is counted over a longer time.",
	},
	{
		Key: "acsm_getp_heart_rate", Topic: TopicHeartRate, Status: FromMemory,
		Text: "American College of Sports Medicine. Guidelines for exercise testing and prescription, 9th to 11th edition: limits in cardiac and device clients, " +
			"interim targets, the box on reserve methods.",
		Note: "Resting + 20 or + 30, at most 120, exertion up to 13; at least 10 below the ischaemic threshold and the detection rate. To be checked.",
	},
	{
		Key: "aacvpr_rehab", Topic: TopicHeartRate, Status: FromMemory,
		Text: "American Association of Cardiovascular and Pulmonary Rehabilitation. Guidelines for cardiac rehabilitation programs, 6th edition.",
		Note: "Exertion 11-14 without a test. To be checked.",
	},
	{
		Key: "ada2016_angina", Topic: TopicHeartRate, Status: Published,
		Text:    "Colberg SR et al. Physical activity/exercise and diabetes (ADA position statement). Diabetes Care 2016;39:2065-79, table 5.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC6908414/table/T5",
		Note:    "With exertional angina, at least 10 below the heart rate of its onset.",
	},
	{
		Key: "mytinger2020", Topic: TopicHeartRate, Status: Published,
		Text:    "Mytinger M et al. Exercise prescription in cardiac rehabilitation in the absence of an exercise test. J Cardiovasc Dev Dis 2020;7:15.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC7344739",
		Note:    "About 30 % of programmes test.",
	},
	{
		Key: "interim_abstract", Topic: TopicHeartRate, Status: Published,
		Text: "Conference abstract on resting heart rate + 20: a mean of 45 % (standard deviation 30) of the measured reserve on a beta-blocker, 31 % (12) off it.",
		Note: "A safe interim ceiling and a poor training target.",
	},
	{
		Key: "joo2004", Topic: TopicHeartRate, Status: Published,
		Text: "Joo KC et al. Exercise intensity of cardiac patients in phase I and II. J Cardiopulm Rehabil 2004;24:178-84.",
		Note: "Resting + 20 meant 42 % (standard deviation 12) of the oxygen reserve, exertion 11-13 meant 71 % (15).",
	},
	{
		Key: "karvonen1957", Topic: TopicHeartRate, Status: PublishedSecond,
		Text: "Karvonen MJ, Kentala E, Mustala O. The effects of training on heart rate: a longitudinal study. Ann Med Exp Biol Fenn 1957;35:307-15.",
		Note: "The method was read second-hand, the citation is from memory.",
	},
	{
		Key: "swain1997", Topic: TopicHeartRate, Status: Published,
		Text:    "Swain DP, Leutholtz BC. Heart rate reserve is equivalent to %VO2 reserve, not to %VO2max. Med Sci Sports Exerc 1997;29:410-4.",
		Address: "https://read.qxmd.com/read/9139182/",
	},
	{
		Key: "resting_clinic", Topic: TopicHeartRate, Status: Published,
		Text: "Short-term stability of resting pulse rates in chiropractic students (31 students).",
		Note: "The seated pulse settles from the fifth minute on.",
	},
	{
		Key: "resting_home", Topic: TopicHeartRate, Status: Published,
		Text:    "Austin Community College, worksheet 4: resting heart rate on waking, 60 seconds, three mornings, mean; 60 % at 20 years and 75 beats.",
		Address: "http://www.austincc.edu/shopland/worksheet_4.htm",
	},
	{
		Key: "resting_retest1972", Topic: TopicHeartRate, Status: Published,
		Text: "Medicine and Science in Sports 1972;4:14-17: heart rate at rest and in exercise from week to week, test-retest correlation 0.72 to 0.78, technical error 2.0 to 6.7 beats.",
	},
}
