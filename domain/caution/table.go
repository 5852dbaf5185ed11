package caution

import "brae/domain/medicine"

// rows is every caution.
//
// Source: ada2016, diabetes_tables, pescatello2004, howden2015, dialysis_review, acog804, pregnancy_bjsm, pad_top_ten, lung_rehab_toolkit, lung_breathlessness, joint_pain_programme, shubert2011, billinger2014, exercise_illness, bmjopen_protocol, caution_memory.
var rows = []row{
	c("diabetes_sugar", "Diabetes", "Check blood sugar before exercise where a medicine can lower it: below 90 mg/dL (5.0 mmol/L) eat first, from 250 mg/dL (13.9 mmol/L) test ketones.",
		func(w With) bool {
			return diabetes(w) && (w.Taking(medicine.Insulin) || w.Taking(medicine.InsulinReleasing))
		}, "ada2016"),
	c("diabetes_late_low", "Diabetes", "Blood sugar can fall up to a day after long or hard work. Carry fast sugar; not alone after a recent severe low.", diabetes, "caution_memory"),
	c("diabetes_hard", "Diabetes", "Hard, short efforts can raise blood sugar for a while.", diabetes, "ada2016"),
	c("diabetes_eyes", "Eye disease from diabetes", "No vigorous, jarring or head-down work and no breath-holding until the eye doctor agrees.", yes("retinopathy"), "diabetes_tables", "ada2016"),
	c("diabetes_feet", "Numb feet", "Look at the feet every day, and wear good shoes.", yes("neuropathy"), "ada2016", "diabetes_tables"),
	c("diabetes_sore", "A foot sore", "Only work that puts no weight on the foot, and no swimming, until it has healed.", yes("foot_ulcer"), "ada2016", "diabetes_tables"),
	c("diabetes_nerves", "Disease of the nerves that steer the heart", "Heart rate is no guide. Mind heat, and dizziness on standing. A doctor before harder work than usual.",
		yes("autonomic_neuropathy"), "ada2016", "diabetes_tables"),
	c("diabetes_heart", "Diabetes and coronary disease", "Shortage of blood to the heart may come without pain. Stay 10 beats below where it showed.",
		func(w With) bool { return diabetes(w) && yes("coronary_disease", "angina", "heart_attack")(w) }, "ada2016"),
	c("pressure_cool", "High blood pressure", "Cool down longer, and avoid holding the breath.", yes("hypertension"), "pescatello2004"),
	c("pressure_medicine", "A medicine that lowers blood pressure", "Pressure can fall when effort stops suddenly: cool down longer and rise slowly.",
		func(w With) bool { return w.Zones.Has(medicine.Pressure) }, "pescatello2004", "medicine_memory"),
	c("pressure_heat", "A medicine that slows the heart", "Mind heat: the body cools less well. It can also hide the fast pulse of low blood sugar.",
		func(w With) bool {
			return w.Taking(medicine.BetaSelective) || w.Taking(medicine.BetaNonSelective) || w.Taking(medicine.AlphaBeta)
		}, "pescatello2004", "medicine_memory"),
	c("bleeding", "A medicine against clots", "Falls and contact can bleed: choose work without both.", func(w With) bool { return w.Taking(medicine.Anticoagulant) }, "medicine_memory"),
	c("kidney", "Kidney disease", "Heart-rate targets are often not valid: start at an effort of 11 to 13 of 20, with the talk test and in intervals. Harder work needs more supervision.",
		yes("kidney_disease", "kidney_transplant", "dialysis"), "howden2015", "caution_memory"),
	c("dialysis", "Dialysis", "Exercise on days without it or before it, not in the hours after. No blood-pressure cuff and no weight on the arm with the access.",
		yes("dialysis"), "caution_memory", "dialysis_review"),
	c("dialysis_wait", "Dialysis", "Ask the kidney team first after a missed treatment, with much weight gained between treatments, breathlessness, swelling or fever.",
		yes("dialysis"), "caution_memory"),
	c("pregnancy_guide", "Pregnancy", "The talk test and an effort of 13 to 14 of 20 guide, not the heart rate. Build up to 150 minutes a week over at least 3 days.",
		yes("pregnant"), "acog804", "caution_memory"),
	c("pregnancy_stop", "Pregnancy", "Stop and call the obstetric team for bleeding, fluid, painful regular contractions, breathlessness before effort, dizziness, headache, "+
		"chest pain, calf pain or swelling, or less movement of the child.", yes("pregnant"), "pregnancy_wjd2013", "caution_memory"),
	c("pregnancy_avoid", "Pregnancy", "No long spells flat on the back if it feels bad, no contact, falls, diving or great heat.", yes("pregnant"), "pregnancy_bjsm", "caution_memory"),
	c("legs", "Narrowed leg arteries", "Walk until the leg pain is moderate to strong, rest until it is gone, and repeat, 30 to 45 minutes at least 3 times a week. "+
		"Pain at rest, a new wound or a cold, blue foot is for the doctor at once.", yes("peripheral_artery_disease"), "pad_top_ten", "caution_memory"),
	c("lung_oxygen", "Lung disease", "Pause below 88 per cent oxygen. Breathlessness of 3 to 4 of 10 guides better than heart rate.", lung, "lung_rehab_toolkit", "lung_breathlessness"),
	c("lung_ready", "Lung disease", "Carry the reliever, warm up longer, and no exercise in a flare-up with more cough, phlegm or fever.",
		yes("copd", "lung_disease_other", "asthma"), "caution_memory"),
	c("joints", "Joint pain", "Pain up to 2 of 10 is fine, never above 5; usual again within the hour and no worse the next morning, otherwise do less.", yes("arthritis"), "joint_pain_programme"),
	c("falls", "Falls", "Two falls or more in a year: supported exercises only, and a look at why.", func(w With) bool { return w.ManyFalls > 0 && w.Falls >= w.ManyFalls }, "practice", "shubert2011"),
	c("balance", "Balance", "Add balance work; ask about falls, dizziness on standing, sight and shoes.",
		func(w With) bool { return w.OlderFrom > 0 && w.Age >= w.OlderFrom || w.Dizzy }, "shubert2011", "caution_memory"),
	c("stroke", "A past stroke", "Light to moderate work and strength, fitted to the person; support on the weak side. A drooping face, a weak arm or slurred speech is an emergency.",
		brain, "billinger2014", "caution_memory"),
	c("epilepsy", "Epilepsy", "No swimming alone, and no heights.", yes("epilepsy"), "caution_memory"),
	c("cancer", "Cancer", "In treatment ask about blood counts: platelets below 50, haemoglobin below 100 g/L or white cells below 3 are for the doctor first.", yes("cancer"), "bmjopen_protocol"),
}
