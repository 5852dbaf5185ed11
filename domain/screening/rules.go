package screening

import (
	"slices"

	"brae/domain/intensity"
	"brae/domain/source"
)

// Rules are the rules and tables of this package, told in a sentence each.
var Rules = slices.Concat(rowRules(), modelRules, edgeRules, heartRules, vitalRules)

// rowRules tells the eighteen published rows by what the logic does with them.
func rowRules() []source.Rule {
	var rules []source.Rule
	groups := map[Group]string{
		NoDisease: "no known disease and no symptom", Disease: "a known disease and no symptom", Symptomatic: "a symptom",
	}
	for _, regular := range []bool{false, true} {
		for _, g := range []Group{NoDisease, Disease, Symptomatic} {
			for _, desired := range []intensity.Class{intensity.Light, intensity.Moderate, intensity.Vigorous} {
				d := Decision{Regular: regular, Group: g, Desired: desired}
				d.decideRow(word{})
				who := "Not exercising regularly, "
				if regular {
					who = "Exercising regularly, "
				}
				rules = append(rules, source.Rule{
					ID: rowOf(regular, g, desired), Topic: source.TopicScreening, Cites: []source.Key{"riebe2015", "acsm_cells"},
					Says: who + groups[g] + ", wants " + desired.String() + " work, no doctor's decision: ceiling " + d.CeilingNow.String() +
						", up to " + d.MayProgressTo.String() + " later, hold " + d.Hold.String() + ". " + d.Reasons[0],
				})
			}
		}
	}
	return rules
}

var modelRules = []source.Rule{
	{
		ID: "A001-A108", Topic: source.TopicScreening,
		Says: "With a doctor's decision that covers every disease and symptom, its ceiling binds, also below what the published row allows. Who does " +
			"not exercise regularly, and who returns after a symptom, starts at moderate at most. A refusal stops everything. A decision that has " +
			"lapsed counts as none. The 108 combinations of regular exercise, group, doctor's word and wanted intensity have a number each.",
		Cites: []source.Key{"riebe2015", "acsm_cells", "practice"},
	},
	{
		ID: "screening.regular", Topic: source.TopicScreening,
		Says: "Regular exercise is planned, of at least moderate intensity, at least 30 minutes on at least 3 days a week, for at least the last " +
			"3 months. From the log: all of the last 13 whole weeks have 3 such days. Work, household and ways do not count. Not known counts as no.",
		Cites: []source.Key{"acsm_webinar2017", "acsm_cells", "practice"},
	},
	{
		ID: "screening.diseases", Topic: source.TopicScreening,
		Says: "Known disease is disease of the heart, of the vessels of body or brain, diabetes, or chronic kidney disease. High blood pressure, " +
			"cholesterol, prediabetes, obesity, thyroid, liver and lung disease are not, by themselves.",
		Cites: []source.Key{"riebe2015", "acsm_cells", "getp10_screening", "colberg2017", "screening_memory"},
	},
	{
		ID: "screening.symptoms", Topic: source.TopicScreening,
		Says: "Nine signs and symptoms are asked for: chest pressure, breathlessness, fainting, breathlessness lying down, swollen ankles, palpitations, " +
			"leg pain in walking, a heart murmur, unusual tiredness. Not sure counts as yes. Only a named practitioner sets a yes aside, with a reason; " +
			"the answer stays.",
		Cites: []source.Key{"acsm_symptoms", "screening_memory", "practice"},
	},
	{
		ID: "P1", Topic: source.TopicScreening,
		Says: "Over 35, healthy and not exercising regularly: the first phase is light, then moderate, then vigorous over three to six months. The " +
			"published rows allow moderate work at once; both are shown.",
		Cites: []source.Key{"common_practice", "practice", "franklin2020"},
	},
	{
		ID: "diabetes_walking_exception", Topic: source.TopicScreening,
		Says: "Where the practice has switched it on: type 2 diabetes without symptoms, complications, pregnancy or another disease may start walking up " +
			"to a brisk pace without a doctor. The diabetes society's view; the published row asks for a doctor first.",
		Cites: []source.Key{"colberg2017", "practice"},
	},
	{
		ID: "screening.logging", Topic: source.TopicScreening,
		Says:  "A hold changes plans and messages. It never hides or refuses what a client has done.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "E0", Topic: source.TopicScreening,
		Says:  "Without an answer to every disease and every symptom nothing is decided and no plan becomes active.",
		Cites: []source.Key{"practice"},
	},
}

// edge tells an edge rule.
func edge(id, says string, cites ...source.Key) source.Rule {
	return source.Rule{ID: id, Topic: source.TopicScreening, Says: says, Cites: cites}
}

var edgeRules = []source.Rule{
	edge("E1", "One sign or symptom makes a client symptomatic, whether or not a disease is known; a known disease outweighs none.", "riebe2015", "acsm_cells"),
	edge("E2", "A symptom that is explained still counts. The way out is a doctor's decision that names it as expected, with a limit.", "practice"),
	edge("E3", "A regular exerciser with a symptom stops at once, at every intensity, until a doctor has answered.", "acsm_cells", "riebe2015"),
	edge("E4", "A new diagnosis means a new screening the same day: a regular exerciser may go on up to moderate work, vigorous work is held.", "riebe2015", "practice"),
	edge("E5", "Three months of regular exercise in the programme mean a new screening; ceilings of doctors stay.", "practice"),
	edge("E6", "Four idle weeks are told to the practitioner, thirteen mean a new screening as not regular: with a known disease everything waits for a doctor.", "practice"),
	edge("E7", "A doctor's decision counts for twelve months, unless signs, symptoms, diagnoses, events or relevant medicines change. On the anniversary it has lapsed.", "riebe2015", "practice"),
	edge("E8", "A decision signed before a symptom was first reported does not clear that symptom.", "practice"),
	edge("E9", "Ceilings and restrictions outlive their decision until a newer one takes its place. A lapse tightens, never loosens.", "practice"),
	edge("E10", "Of several decisions the newest in force by a doctor at least as specialised sets the ceiling; the strictest of all restrictions applies.", "practice"),
	edge("E11", "Pregnancy is judged beside the model, by its contraindications, and the stricter result counts. Vigorous work that was not done before waits; no heart-rate zones.",
		"acog804", "pregnancy_wjd2013", "pregnancy_bmc2015", "pregnancy_bjsm", "practice"),
	edge("E12", "Lung disease alone does not count. Breathlessness at rest or with little effort is a symptom.", "getp10_screening", "acsm_faq2015", "screening_memory"),
	edge("E13", "High blood pressure alone, treated or not, is no known disease. What is measured passes the vital-sign rules.", "acsm_cells", "screening_memory"),
	edge("E14", "Prediabetes, obesity, cholesterol, smoking, family history and age change nothing.", "getp10_screening", "screening_memory"),
	edge("E15", "The same holds apply to strength work; hard strength work counts as vigorous.", "practice"),
	edge("E16", "Under 18 nothing is decided; the practitioner decides.", "practice"),
	edge("E17", "A screening counts for twelve months or until a symptom, diagnosis, event, relevant medicine or pregnancy, whichever is first.", "practice"),
	edge("E18", "A decision carries its rule, the version of the rules, its inputs and its settings, and is never rewritten.", "practice"),
	edge("E19", "Medicines that point to a disease the client denies leave the screening undecided until a practitioner has explained them.", "practice", "medicine_memory"),
	edge("E20", "A contraindication stops exercise whatever the row says: an absolute one until it is resolved and a doctor has decided after that, a relative one until a doctor names it.",
		"jabfm_contraindications", "acsm_stop_copy", "heartonline_limits", "bmjopen_protocol", "cr_contraindications", "hypertension2024", "practice"),
}

var heartRules = []source.Rule{
	edge("screening.risk_class", "Heart patients: high risk with any of complex rhythms in the test or at rest, symptoms below 5 METs or after the test, marked "+
		"silent ischaemia, abnormal pressure or heart rate, an ejection fraction below 40 per cent, a complicated event, ischaemia after it, a past arrest, heart failure, "+
		"depression. Low with none of these, 7 METs and 50 per cent at least. Otherwise moderate; without test data never low.",
		"aacvpr_class", "bhat2021", "screening_memory"),
	edge("screening.risk_alone", "High risk is not for unattended exercise. Moderate or unknown risk needs a decision that names exercise on one's own and sets a heart-rate limit.",
		"thomas2019", "aha_class_c", "practice"),
	edge("screening.after_event", "Without supervision not before 21 days after a heart attack; six weeks of stable heart failure; a healed puncture or wound after a stent or device. "+
		"After surgery through the breastbone nothing above 4.5 kg for 8 weeks, no hard upper-body strength work for 12. A doctor decides after each event.",
		"ada2016", "heartonline_limits", "usc_cardiac_rehab", "bmc_sternal", "aha_resistance", "screening_memory", "practice"),
	edge("screening.alone", "Against unattended exercise speak, among others, high risk, an open contraindication, a symptom without a decision, heart failure "+
		"that is not stable, a faint nobody has explained, a defibrillator shock in three months, oxygen below 88 per cent, two falls in a year, and not being able to watch one's own effort.",
		"aha_class_c", "practice"),
}

// vital tells a vital-sign rule.
func vital(id, says string, cites ...source.Key) source.Rule {
	return source.Rule{ID: id, Topic: source.TopicVitals, Says: says, Cites: cites}
}

var vitalRules = []source.Rule{
	vital("V1", "Resting pressure above 200 or above 110 mmHg: no exercise, again after 5 minutes, a doctor the same day; with warning signs an emergency.",
		"jabfm_contraindications", "acsm_stop_copy", "screening_memory"),
	vital("V2", "With heart disease above 180 or above 110 mmHg: no exercise, a doctor's review.", "heartonline_limits", "bmjopen_protocol"),
	vital("V3", "Without heart disease above 180 up to 200 mmHg: light only that day, and a review; a practice may choose none.", "practice"),
	vital("V4", "Above 160 or above 100 mmHg: no vigorous work, no heavy strength work, and a review.", "hypertension2024", "practice"),
	vital("V5", "Below 90 mmHg, or a fall of more than 20 on standing with symptoms: no exercise, and a review; with fainting an emergency.", "bmjopen_protocol", "screening_memory"),
	vital("V6", "Resting heart rate above 120: no exercise, a doctor the same day.", "heartonline_limits"),
	vital("V7", "Resting heart rate above 100: with heart disease no exercise until reviewed; otherwise again after 10 minutes, then light only.", "cr_contraindications", "practice"),
	vital("V8", "Resting heart rate below 40, or below 50 with symptoms: no exercise, a doctor. Below 50 on a slowing medicine without symptoms: noted.", "screening_memory", "practice"),
	vital("V9", "From 38.0 degrees Celsius, or feverish: no exercise until 24 hours after it is normal without medicine.", "acsm_stop_copy", "bmjopen_protocol", "exercise_illness", "practice"),
	vital("V10", "On insulin or a medicine that releases it, below 70 mg/dL (3.9 mmol/L): treat it first, no exercise.", "screening_memory"),
	vital("V11", "The same, below 90 mg/dL (5.0 mmol/L): 15 to 30 g of fast carbohydrate first, then again.", "ada2016"),
	vital("V12", "From 90 to below 150 mg/dL (5.0 to 8.3 mmol/L): start, with 0.5 to 1 g of carbohydrate per kg and hour.", "ada2016"),
	vital("V13", "From 150 to below 250 mg/dL (8.3 to 13.9 mmol/L): start, carbohydrate once below 150.", "ada2016"),
	vital("V14", "From 250 to below 350 mg/dL (13.9 to 19.4 mmol/L): test ketones; moderate or large no exercise, otherwise mild to moderate only.", "ada2016"),
	vital("V15", "From 350 mg/dL (19.4 mmol/L): test ketones; none or trace: the doctor's correction plan, mild to moderate only; otherwise no exercise.", "ada2016"),
	vital("V16", "Ketones of 1.5 mmol/L or more, or moderate or large in urine: no exercise, the diabetes team; from 3.0 an emergency.", "ketones_copy", "screening_memory"),
	vital("V17", "Below 54 mg/dL or help needed in the last 24 hours: no exercise for 24 hours.", "screening_memory"),
	vital("V18", "Oxygen saturation below 88 per cent: pause.", "lung_rehab_toolkit"),
	vital("V19", "With heart failure a gain of more than 1.4 kg in a day or 2.3 kg in a week: nothing above light, the doctor the same or next day.", "heart_failure_weight", "practice"),
	vital("V20", "With heart failure a gain of more than 2 kg in 1 to 3 days: no exercise until a doctor names it.", "heartonline_limits"),
	vital("screening.vitals_missing", "What was not measured never counts as normal. Values that nobody can have are refused.", "practice"),
}
