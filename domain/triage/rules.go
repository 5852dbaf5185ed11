package triage

import "brae/domain/source"

func rule(id, says string, cites ...source.Key) source.Rule {
	return source.Rule{ID: id, Topic: source.TopicTriage, Says: says, Cites: append(cites, "practice")}
}

// Rules is the rules and tables of this package, for the Sources page. The
// level that a row has is our own throughout; the sources say what the sign
// stands for and that exercise stops at it.
var Rules = []source.Rule{
	rule("triage.levels", "Five levels: emergency holds all exercise until a doctor's decision dated after it; stop holds all or "+
		"above light and opens a doctor review; ease holds vigorous work; a note holds nothing and freezes the plan for 7 days. "+
		"The highest level and the widest hold win; a symptom that has passed counts like one that has not."),
	rule("triage.emergency_text", "At level emergency the client is told at once to stop, to call the emergency number of the place, "+
		"not to drive and not to wait.", "aha_signs", "call_at_once_copy", "triage_memory"),
	rule("triage.text_scan", "Free text is searched for alarming words in English and Spanish, only to ask one more question."),
	rule("triage.late_questions", "From 24 to 72 hours after a first hard session, ten questions are asked once."),
	rule("T01", "Pressure or pain in chest, jaw, neck, back or arm, now, lasting, returning or at rest: emergency.", "aha_signs", "acsm_symptoms"),
	rule("T02", "The same in exercise and gone on stopping: emergency if new; stop in stable angina that a doctor's decision names; "+
		"a note if no stronger than 2 out of 4 and within the heart-rate ceiling.", "acsm_symptoms", "ada2016"),
	rule("T03", "Angina spray or tablet used: stop if one dose helped in expected angina; else emergency.", "triage_memory"),
	rule("T04", "Fainted: emergency.", "acsm_symptoms"),
	rule("T05", "Dizzy or nearly fainted in effort: stop; with palpitations, chest pain or breathlessness emergency.", "garner2017", "acsm_symptoms"),
	rule("T06", "Light-headed only on stopping: a note; ease on the third time in 7 days or on a medicine "+
		"that lowers blood pressure. The client is told to slow down over 5 minutes before stopping.", "hypertension_cooldown"),
	rule("T07", "Breathless at rest or unable to speak: emergency.", "aha_signs"),
	rule("T08", "Far more breathless than the effort explains: stop above light; a note where a doctor's decision names it as expected.", "acsm_symptoms"),
	rule("T09", "Breathless lying flat or at night: stop; the same day in heart failure.", "acsm_symptoms"),
	rule("T10", "Breathless more than 10 minutes after stopping: ease; 60 minutes or more: stop."),
	rule("T11", "Brief palpitations that a doctor has called harmless: a note."),
	rule("T12", "Palpitations that are new or last more than 5 minutes: stop; with faintness, chest pain or breathlessness emergency.", "acsm_symptoms"),
	rule("T13", "A shock from a heart device: stop if one and well; emergency if unwell, or a second within a day.", "icd_shock_advice"),
	rule("T14", "Sudden weakness, numbness, loss of speech, sight or balance, confusion, or the worst headache: emergency, even if it passed.", "aha_signs"),
	rule("T15", "One calf painful and swollen or red: stop, the same day; with breathlessness or chest pain emergency.", "acsm_symptoms", "pregnancy_stop_signs"),
	rule("T16", "Leg cramp on walking: ease if new; fine where a doctor's decision names it and it is within its limit; foot pain at rest "+
		"or a cold, white or blue foot is an emergency.", "acsm_symptoms", "triage_memory"),
	rule("T17", "Both ankles newly swollen: ease; stop in heart failure.", "acsm_symptoms"),
	rule("T18", "Weight over its limit in heart failure: stop above light; otherwise a note.", "heart_failure_weight"),
	rule("T19", "Unusually tired into the next day: a note; for 3 days or with everyday tasks: ease.", "acsm_symptoms"),
	rule("T20", "Pink or bloody froth: emergency.", "heart_failure_call"),
	rule("T21", "Wheeze: a note if the reliever helps, ease if it is needed more often, emergency if it does not help.", "triage_memory"),
	rule("T22", "Oxygen saturation below 88 per cent in exercise: stop; 85 or less, or not back within 5 minutes: emergency.", "lung_rehab_toolkit"),
	rule("T23", "Low sugar: a note if treated, ease on the second in 7 days; emergency if help was needed.", "triage_memory"),
	rule("T24", "Glucose above 250 mg/dL with ketones of 1.5 mmol/L or more, or with vomiting: stop; drowsy, breathing deeply or ketones "+
		"of 3.0 mmol/L or more: emergency.", "ada2016", "ketones_copy", "triage_memory"),
	rule("T25", "Fever or flu: all exercise waits until 24 hours after the last fever, on the client's word; no doctor is asked.", "exercise_illness", "acsm_stop_copy"),
	rule("T26", "Fever or flu with chest pain, palpitations or faintness: emergency.", "exercise_illness"),
	rule("T27", "Dark urine, or very painful, swollen or weak muscles after exercise: emergency, to be seen today.", "exercise_rhabdomyolysis", "triage_memory"),
	rule("T28", "Confusion, very hot skin or collapse in heat: emergency.", "triage_memory"),
	rule("T29", "Usual sore muscles for 1 to 3 days: fine.", "triage_memory"),
	rule("T30", "Joint pain of 2 out of 10 or less: fine; 3 to 5 and settled by the next morning: a note; above 5 or worse the next morning: "+
		"ease, that exercise only, and no doctor.", "knee_pain_programme"),
	rule("T31", "A hot, swollen, locked or deformed joint, or one that bears no weight: stop.", "triage_memory"),
	rule("T32", "Back pain with saddle numbness, bladder or bowel trouble or two weak legs: emergency.", "triage_memory"),
	rule("T33", "A fall: a note without injury; head hit: stop; any fall on an anticoagulant, drowsiness, hip pain or not getting up: emergency.", "triage_memory"),
	rule("T34", "Breastbone clicks, moves or leaks: stop, the same day.", "triage_memory"),
	rule("T35", "A foot wound or blister with diabetes or leg-artery disease: no weight bearing, and ease.", "ada2016"),
	rule("T36", "Sudden change of sight or new spots: stop, the same day.", "triage_memory"),
	rule("T37", "Pregnant: bleeding or loss of fluid is an emergency; any other stop sign is stop.", "pregnancy_stop_signs"),
	rule("T38", "Headache with exercise: a note if mild; stop if severe or with 180/110 mmHg or more; the sudden worst is an emergency (T14)."),
	rule("T39", "Sick, in a cold sweat or pale: stop; with chest pain or faintness emergency.", "aha_signs", "garner2017"),
	rule("T40", "Stitch, blister, mild cramp: fine.", "triage_memory"),
	rule("T41", "Depressed: the client is spoken to, exercise is not held; thoughts of self-harm: emergency, with a crisis line.", "triage_memory"),
	rule("T42", "Anything else, or not sure: a note that is read within 1 working day."),
	rule("NUM1", "More than a minute above the heart-rate ceiling, or any reading more than 10 bpm above it: a note; ease with a heart disease."),
	rule("NUM2", "Above the measured maximum, or above 110 per cent of a predicted one: asked about; confirmed, it is ease."),
	rule("NUM3", "Exertion of 17 or more, or no breath to speak, in moderate work: a note; ease on the second time in 7 days."),
	rule("NUM4", "The same work takes 10 bpm or 2 points of exertion more, 3 sessions in a row: a note."),
	rule("NUM5", "Resting heart rate 10 bpm or more over its four-week median, 3 days in a row: a note; ease with a heart disease."),
	rule("NUM6", "Heart rate does not rise with 2 or more points of exertion: ease; not on rate-slowing medicines.", "acsm_stop_copy"),
	rule("NUM7", "Resting blood pressure or heart rate past the limit for exercise: stop; blood pressure with a symptom of heart or brain: "+
		"emergency.", "jabfm_contraindications", "heartonline_limits", "triage_memory"),
	rule("NUM8", "Harder than the ceiling: a note with a message; the second time in 7 days the client is spoken to."),
	rule("NUM9", "A week that jumps above the four weeks before: a note.", "triage_memory"),
	rule("NUM10", "Talk test and heart rate are light and vigorous, or the reverse: asked again, and the medicines looked at."),
	rule("PAIR", "Two different notes about heart or lungs in one session: ease."),
	rule("REPEAT", "The same note on 3 of 7 days: ease."),
}
