package source

// The citations of the fitness rules.
var fitness = []Citation{
	{
		Key: "bushman2020", Topic: TopicFitness, Status: Published,
		Text:    "Bushman BA 2020, metabolic calculations in action, parts 1 and 2, ACSMs Health Fit J 24(3):6-10 and 24(4):5-8.",
		Address: "https://journals.lww.com/acsm-healthfitness/Fulltext/2020/05000/Metabolic_Calculations_in_Action__Part_1.5.aspx",
		Note:    "Walking, running and leg cycling, and 26.8 m/min for a mile an hour.",
	},
	{
		Key: "acsm_equations", Topic: TopicFitness, Status: PublishedSecond,
		Text: "American College of Sports Medicine 2018, Guidelines for Exercise Testing and Prescription, 10th ed., table 6.3.",
		Note: "All five equations and the conversions, read in teaching copies of several universities.",
	},
	{
		Key: "acsm_ranges", Topic: TopicFitness, Status: PublishedSecond,
		Text: "American College of Sports Medicine, Guidelines for Exercise Testing and Prescription: the speeds, work rates and steps that the equations hold for.",
		Note: "Read in teaching copies. That exactly 134 m/min counts as within the range of running is our reading.",
	},
	{
		Key: "acsm_conditions", Topic: TopicFitness, Status: FromMemory,
		Text: "American College of Sports Medicine, Guidelines for Exercise Testing and Prescription: conditions of the equations.",
		Note: "Steady work only, no holding on; people differ by about 7 per cent; 6.12 kgm/min a watt; oxygen uptake reserve; stages below 110 bpm are not used.",
	},
	{
		Key: "kokkinos2017", Topic: TopicFitness, Status: FromMemory,
		Text: "Kokkinos P and others 2017, equation for the peak oxygen uptake on a treadmill from the FRIEND registry.",
		Note: "Speed x (0.17 + 0.79 x grade) + 3.5.",
	},
	{
		Key: "friend_cycle_equation", Topic: TopicFitness, Status: FromMemory,
		Text: "Equation for the peak oxygen uptake on a cycle from the FRIEND registry.",
		Note: "1.74 x work / weight + 3.5.",
	},
	{
		Key: "kline1987", Topic: TopicFitness, Status: Published,
		Text: "Kline GM and others 1987, estimation of VO2max from a one-mile track walk, gender, age and body weight, Med Sci Sports Exerc 19(3):253-259.",
		Note: "Abstract: sample, the equation in litres a minute, its error of 0.325 in the sample and 0.355 in others.",
	},
	{
		Key: "kline1987_relative", Topic: TopicFitness, Status: PublishedSecond,
		Text: "Kline GM and others 1987, the equation per kg.",
		Note: "Read in two teaching copies. Its error of 5.0 is from memory.",
	},
	{
		Key: "keller2002", Topic: TopicFitness, Status: Published,
		Text: "Keller 2002, thesis on the one-mile walk at 18 to 29 years, abstract.",
		Note: "Below 30 years the walk reads 50.1 where 53.3 was measured.",
	},
	{
		Key: "acsm_run", Topic: TopicFitness, Status: PublishedSecond,
		Text: "American College of Sports Medicine, Guidelines for Exercise Testing and Prescription, 11th ed.: 1.5-mile run.",
		Note: "483 / minutes + 3.5, read on a page that cites the book.",
	},
	{
		Key: "george1993", Topic: TopicFitness, Status: Published,
		Text:    "George JD and others 1993, VO2max estimation from a submaximal 1-mile track jog for fit college-age individuals, Med Sci Sports Exerc 25(3):401-406.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/8455458",
		Note:    "Abstract: the jog with its limits and errors, and the errors of the run.",
	},
	{
		Key: "george1993_run", Topic: TopicFitness, Status: FromMemory,
		Text: "George JD and others 1993, the equation for the 1.5-mile run.",
		Note: "The four numbers are from memory.",
	},
	{
		Key: "hunt2000", Topic: TopicFitness, Status: Published,
		Text: "Hunt BR and others 2000, one-mile jog at 13 to 17 years, Pediatr Exerc Sci 12(1):80.",
		Note: "Abstract. The limits on time and heart rate are taken over from adults.",
	},
	{
		Key: "cooper1968", Topic: TopicFitness, Status: PublishedSecond,
		Text: "Cooper KH 1968, a means of assessing maximal oxygen intake, JAMA 203:201-204.",
		Note: "(metres - 504.9) / 44.73. The original has no error of estimate.",
	},
	{
		Key: "ebbeling1991", Topic: TopicFitness, Status: Published,
		Text:    "Ebbeling CB and others 1991, development of a single-stage submaximal treadmill walking test, Med Sci Sports Exerc 23:966-973.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/1956273",
		Note:    "Abstract: equation, error of 4.85, 20 to 59 years, 2.0 to 4.5 mph, stage at 5 per cent.",
	},
	{
		Key: "mcardle1972", Topic: TopicFitness, Status: PublishedSecond,
		Text: "McArdle WD and others 1972, three-minute step test in college women, Med Sci Sports 4:182-186.",
		Note: "Equations and retest reliability read in copies; the women's error of 2.9 is from memory.",
	},
	{
		Key: "golding2000", Topic: TopicFitness, Status: PublishedSecond,
		Text: "Golding LA 2000, three-minute step test: protocol, and the two best bands of men.",
	},
	{
		Key: "golding2000_rows", Topic: TopicFitness, Status: FromMemory,
		Text: "Golding LA 2000, three-minute step test: all other bands.",
		Note: "To be compared with the printed table.",
	},
	{
		Key: "sykes2004", Topic: TopicFitness, Status: Published,
		Text: "Sykes K, Roberts A 2004, the Chester step test, Physiotherapy 90:183-188.",
		Note: "Abstract: stages, ages of 18 to 52, error of 3.9. Its chart is not used: the line through the stages is worked out.",
	},
	{
		Key: "jackson1990", Topic: TopicFitness, Status: PublishedSecond,
		Text:    "Jackson AS and others 1990, prediction of functional aerobic capacity without exercise testing, Med Sci Sports Exerc 22:863-870.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC7428991",
		Note:    "Both equations read in the table of Peterman and others 2020. The wording of the eight answers is ours.",
	},
	{
		Key: "bradshaw2005", Topic: TopicFitness, Status: Published,
		Text:    "Bradshaw DI and others 2005, an accurate VO2max nonexercise regression model for 18-65-year-old adults, Res Q Exerc Sport 76:426-432.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/16739680",
		Note:    "Abstract. That the two ratings of pace go from 1 to 13 is from memory; their wording is ours.",
	},
	{
		Key: "jurca2005", Topic: TopicFitness, Status: FromMemory,
		Text: "Jurca R and others 2005, assessing cardiorespiratory fitness without performing exercise testing, Am J Prev Med 29:185-193.",
		Note: "The numbers of the equation are from memory; ages and errors (1.45 to 1.97 METs) from the abstract.",
	},
	{
		Key: "nes2011", Topic: TopicFitness, Status: ToBeConfirmed,
		Text: "Nes BM and others 2011, estimating VO2peak from a nonexercise prediction model, Med Sci Sports Exerc 43:2024-2030.",
		Note: "Left out: one copy adds its three answers on activity, another multiplies them.",
	},
	{
		Key: "rikli1999", Topic: TopicFitness, Status: PublishedSecond,
		Text: "Rikli RE, Jones CJ 1999, functional fitness normative scores for community-residing older adults, J Aging Phys Act 7:162-181.",
		Note: "7,183 people of 60 to 94 years; ranges of the middle half. One copy has other ranges for steps from 70 on; these agree with mean and deviation.",
	},
	{
		Key: "rikli2013", Topic: TopicFitness, Status: PublishedSecond,
		Text: "Rikli RE, Jones CJ 2013, criterion-referenced clinically relevant fitness standards, Gerontologist 53.",
		Note: "Means, deviations and the counts of those who stay independent.",
	},
	{
		Key: "steadi", Topic: TopicFitness, Status: FromMemory,
		Text: "Centers for Disease Control and Prevention, chair stand test of the falls programme STEADI.",
		Note: "Its cut-offs are the lower ends of the ranges of 1999.",
	},
	{
		Key: "gill2022", Topic: TopicFitness, Status: Published,
		Text: "Gill SD and others 2022, measurement properties of the 30-second chair stand.",
		Note: "Smallest detectable change about 2.5 stands; 0.5 to 0.8 more at the second try.",
	},
	{
		Key: "enright1998", Topic: TopicFitness, Status: PublishedSecond,
		Text:    "Enright PL, Sherrill DL 1998, reference equations for the six-minute walk in healthy adults, Am J Respir Crit Care Med 158:1384-1387.",
		Address: "https://erj.ersjournals.com/content/44/6/1428",
		Note:    "117 men and 173 women of 40 to 80 years; 42 and 38 per cent of the differences explained. Both equations read in table 5 of the ERS/ATS review of 2014.",
	},
	{
		Key: "enright1998_limits", Topic: TopicFitness, Status: FromMemory,
		Text: "Enright PL, Sherrill DL 1998, lower limits of normal: 153 m less for men, 139 m for women.",
	},
	{
		Key: "britto2013", Topic: TopicFitness, Status: Published,
		Text:    "Britto RR and others 2013, reference equations for the six-minute walk distance based on a Brazilian multicenter study, Braz J Phys Ther 17(6).",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC4207140",
		Note:    "617 healthy people; 46 per cent of the differences explained. The range of ages was not read.",
	},
	{
		Key: "ross2010", Topic: TopicFitness, Status: Published,
		Text:    "Ross RM and others 2010, the six minute walk test accurately estimates mean peak oxygen uptake, BMC Pulm Med 10:31.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC2882364",
		Note:    "1,083 patients; error 3.82 for one person and 1.1 for the mean of a group.",
	},
	{
		Key: "ats2002", Topic: TopicFitness, Status: FromMemory,
		Text: "American Thoracic Society 2002, guidelines for the six-minute walk test, Am J Respir Crit Care Med 166:111-117.",
		Note: "Course, set words, reasons not to start and to stop.",
	},
	{
		Key: "holland2014", Topic: TopicFitness, Status: Published,
		Text: "Holland AE and others 2014, ERS/ATS technical standard: field walking tests, Eur Respir J 44:1428-1446.",
		Note: "Abstract: two tests; results depend on small changes of method. The gain of 26 m and the saturation of 80 per cent are from memory.",
	},
	{
		Key: "bohannon2017", Topic: TopicFitness, Status: Published,
		Text:    "Bohannon RW, Crouch R 2017, minimal clinically important difference of the six-minute walk.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/27592691",
		Note:    "14.0 to 30.5 m across groups of adult patients.",
	},
	{
		Key: "perera2006", Topic: TopicFitness, Status: Published,
		Text: "Perera S and others 2006, meaningful change in common physical performance measures in older adults.",
		Note: "20 and 50 m in six minutes; 0.05 and 0.10 m/s of gait speed.",
	},
	{
		Key: "frail_walk2013", Topic: TopicFitness, Status: Published,
		Text:    "Six-minute walk in frail older people, BMC Geriatr 2013;13:23.",
		Address: "https://bmcgeriatr.biomedcentral.com/articles/10.1186/1471-2318-13-23",
		Note:    "17.8 m.",
	},
	{
		Key: "failure_walk2015", Topic: TopicFitness, Status: Published,
		Text:    "Six-minute walk after acute respiratory failure, PMC4420183.",
		Address: "https://pmc.ncbi.nlm.nih.gov/articles/PMC4420183",
		Note:    "20 to 30 m.",
	},
	{
		Key: "heart_walk2014", Topic: TopicFitness, Status: Published,
		Text:    "Six-minute walk in chronic heart failure, PubMed 25049008.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/25049008",
		Note:    "About 36 m.",
	},
	{
		Key: "cole1999", Topic: TopicFitness, Status: Published,
		Text:    "Cole CR and others 1999, heart-rate recovery immediately after exercise as a predictor of mortality, N Engl J Med 341:1351-1357.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/10536127",
		Note:    "2,428 adults; 12 beats or fewer after 1 minute; the risk of death is fourfold.",
	},
	{
		Key: "cole2000", Topic: TopicFitness, Status: Published,
		Text:    "Cole CR and others 2000, heart rate recovery after submaximal exercise testing, Ann Intern Med 132:552-555.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/10744592",
		Note:    "42 beats or fewer after 2 minutes.",
	},
	{
		Key: "watanabe2001", Topic: TopicFitness, Status: FromMemory,
		Text: "Watanabe J and others 2001, heart rate recovery immediately after treadmill exercise, lying down.",
		Note: "18 beats or fewer after 1 minute.",
	},
	{
		Key: "kaminsky2022", Topic: TopicFitness, Status: PublishedSecond,
		Text:    "Kaminsky LA and others 2022, updated reference standards for cardiorespiratory fitness from the FRIEND registry, Mayo Clin Proc 97:285-293.",
		Address: "https://github.com/JimPeterman/FRIENDanalysis",
		Note:    "Percentiles and the rule for reading between them from the open data of a co-author, for a respiratory exchange ratio of 1.10 or more; the printed table for 1.0 differs a little.",
	},
	{
		Key: "kaminsky2015", Topic: TopicFitness, Status: PublishedSecond,
		Text:    "Kaminsky LA and others 2015, reference standards for cardiorespiratory fitness, treadmill, Mayo Clin Proc 90:1515-1523.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/26455884",
		Note:    "From the same data; the medians of four groups agree with the abstract.",
	},
	{
		Key: "kaminsky2017", Topic: TopicFitness, Status: PublishedSecond,
		Text:    "Kaminsky LA and others 2017, reference standards for cardiorespiratory fitness, cycle, Mayo Clin Proc 92:228-233.",
		Address: "https://github.com/JimPeterman/FRIENDanalysis",
	},
	{
		Key: "acsm_words", Topic: TopicFitness, Status: FromMemory,
		Text: "American College of Sports Medicine, Guidelines for Exercise Testing and Prescription: words for percentiles.",
		Note: "Superior from 95, excellent from 80, good from 60, fair from 40, poor from 20.",
	},
	{
		Key: "berry2011", Topic: TopicFitness, Status: PublishedSecond,
		Text: "Berry J 2011, midlife running pace and fitness, data of the Cooper Center as a newspaper reported them on 23 May 2011.",
		Note: "A man in his fifties slower than 10 minutes a mile, or a woman slower than 12, is of low fitness.",
	},
	{
		Key: "keytel2005", Topic: TopicFitness, Status: PublishedSecond,
		Text: "Keytel LR and others 2005, prediction of energy expenditure from heart rate monitoring during submaximal exercise, J Sports Sci 23:289-297.",
		Note: "The equations without the oxygen uptake.",
	},
	{
		Key: "keytel2005_vo2max", Topic: TopicFitness, Status: FromMemory,
		Text: "Keytel LR and others 2005, the equations with the maximal oxygen uptake.",
	},
	{
		Key: "keytel2005_sample", Topic: TopicFitness, Status: Published,
		Text: "Keytel LR and others 2005, abstract: 115 people of 18 to 45 years, 47 to 120 kg, 27 to 81 ml per kg and minute.",
	},
	{
		Key: "katch1982", Topic: TopicFitness, Status: Published,
		Text:    "Katch VL and others 1982, biological variability in maximum aerobic power, Med Sci Sports Exerc 14.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/7070252",
		Note:    "Plus or minus 5.6 per cent within a person.",
	},
	{
		Key: "vickers_sem", Topic: TopicFitness, Status: Published,
		Text: "Vickers RR, measurement error in maximal oxygen uptake tests, US Navy report.",
		Note: "Abstract: 2.58 ml per kg and minute over 39 studies.",
	},
	{
		Key: "edgett2018", Topic: TopicFitness, Status: Published,
		Text: "Edgett BA and others 2018, variability of repeated peak oxygen uptake tests.",
		Note: "4.9 per cent; a first test for practice is recommended.",
	},
	{
		Key: "marschall2014", Topic: TopicFitness, Status: Published,
		Text: "Marschall 2014, heart rate at a constant submaximal load.",
		Note: "2.35 per cent from day to day, so 6.5 per cent, 8 beats at 125, is more than error.",
	},
	{
		Key: "wilmore1996", Topic: TopicFitness, Status: Published,
		Text:    "Wilmore JH and others 1996, resting heart rate and endurance training, the HERITAGE study, Med Sci Sports Exerc 28.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/8832536",
		Note:    "2.7 beats less after 20 weeks.",
	},
	{
		Key: "wilmore2001", Topic: TopicFitness, Status: Published,
		Text: "Wilmore JH and others 2001, heart rate and blood pressure changes with endurance training, the HERITAGE study, Med Sci Sports Exerc 33.",
		Note: "2.7 to 4.6 beats less at rest.",
	},
	{
		Key: "huang2005_hr", Topic: TopicFitness, Status: Published,
		Text: "Huang G and others 2005, resting heart rate changes after endurance training in older adults.",
		Note: "6 beats less, more after 30 weeks.",
	},
	{
		Key: "huang2005", Topic: TopicFitness, Status: Published,
		Text:    "Huang G and others 2005, controlled endurance exercise training and VO2max changes in older adults.",
		Address: "https://pubmed.ncbi.nlm.nih.gov/16230876",
		Note:    "3.78 ml per kg and minute (3.24 to 4.33), 16.3 per cent.",
	},
	{
		Key: "qiu2010", Topic: TopicFitness, Status: Published,
		Text: "Qiu and others 2010, meta-analysis of training and VO2max in inactive healthy adults.",
		Note: "3.61 ml per kg and minute (2.96 to 4.25), 13.2 per cent, 35 trials.",
	},
	{
		Key: "msse2017", Topic: TopicFitness, Status: Published,
		Text:    "Comparison of measures of maximal and submaximal fitness in response to exercise, Med Sci Sports Exerc 2017;49(4).",
		Address: "https://journals.lww.com/acsm-msse/Fulltext/2017/04000/Comparison_of_Measures_of_Maximal_and_Submaximal.12.aspx",
		Note:    "20 to 40 per cent do not exceed the error of measurement.",
	},
	{
		Key: "acsm_test_stop", Topic: TopicFitness, Status: FromMemory,
		Text: "American College of Sports Medicine, Guidelines for Exercise Testing and Prescription: when not to begin an exercise test and when to stop it.",
		Note: "In our words and from memory; heart rate and blood pressure are taken at rest before every test.",
	},
}
