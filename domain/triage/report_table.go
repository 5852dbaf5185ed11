package triage

// Reports that rules beside the table ask for.
const (
	chestUsual     Report = "chest_pressure_usual"
	headacheMild   Report = "headache_mild"
	headacheSevere Report = "headache_severe"
	shockWell      Report = "shock_well"
	lightheaded    Report = "lightheaded_on_stopping"
	lowSugar       Report = "low_sugar_treated"
	breathLying    Report = "breathless_lying"
	selfHarm       Report = "self_harm"
	lowMood        Report = "low_mood"
	// Other is ticked beside free text that fits no report.
	Other Report = "other"
)

var footCare = []Flag{Diabetes, LegArteryDisease}

// reports is what each report comes to, by row.
//
// Source: aha_signs, garner2017, acsm_symptoms, icd_shock_advice, ada2016,
// lung_rehab_toolkit, heart_failure_weight, heart_failure_call, knee_pain_programme,
// exercise_illness, exercise_rhabdomyolysis, hypertension_cooldown,
// pregnancy_stop_signs, triage_memory.
//
// Practice rule: practice.
var reports = []reportRow{
	// Chest
	{Code: Code{"chest_pressure_now", "T01", "Pressure or pain in my chest, jaw, neck, back or arm, now"},
		outcome: emergency, group: chest},
	{Code: Code{"chest_pressure_lasting", "T01", "Pressure or pain like that which lasted more than a few minutes, or came back"},
		outcome: emergency, group: chest},
	{Code: Code{"chest_pressure_at_rest", "T01", "Pressure or pain like that while I was resting"},
		outcome: emergency, group: chest},
	{Code: Code{"chest_pressure_gone", "T02", "Pressure or pain like that during exercise, gone soon after I stopped"},
		outcome: emergency, group: chest, expected: variant{known: []Flag{StableAngina}, to: stop}},
	{Code: Code{chestUsual, "T02", "My usual angina, no stronger than 2 out of 4, gone soon after I slowed down"},
		outcome: emergency, group: chest, expected: variant{known: []Flag{StableAngina}, to: note}},
	{Code: Code{"angina_spray_helped", "T03", "I used my angina spray or tablet once and it helped"},
		outcome: emergency, group: chest, expected: variant{known: []Flag{StableAngina}, to: stop}},
	{Code: Code{"angina_spray_not_helped", "T03", "I used my angina spray or tablet and it did not help within 5 minutes"},
		outcome: emergency, group: chest},
	{Code: Code{"angina_spray_twice", "T03", "I used my angina spray or tablet twice or more"},
		outcome: emergency, group: chest},

	// Fainting and dizziness
	{Code: Code{"fainted", "T04", "I fainted or passed out"},
		outcome: emergency, group: faint},
	{Code: Code{"dizzy_in_effort", "T05", "I was dizzy or nearly fainted while I trained"},
		outcome: stop, group: faint, worse: []variant{{with: palpitations | chest | breath, to: emergency}}},
	{Code: Code{lightheaded, "T06", "Light-headed only when I stopped suddenly, gone in 1 or 2 minutes"},
		outcome: note, advice: "Next time, slow down bit by bit for 5 minutes before you stop.",
		worse: []variant{
			{known: []Flag{OnPressureMedicine}, to: ease},
			{known: []Flag{Pregnant}, to: stop, row: "T37"},
		}},
	{Code: Code{"lightheaded_often", "T06", "Light-headed on stopping, three times or more"},
		outcome: ease, advice: "Next time, slow down bit by bit for 5 minutes before you stop.",
		worse: []variant{{known: []Flag{Pregnant}, to: stop, row: "T37"}}},

	// Breathing
	{Code: Code{"breathless_at_rest", "T07", "Short of breath at rest, or too breathless to speak"},
		outcome: emergency, group: breath},
	{Code: Code{"breathless_unusual", "T08", "Much more out of breath than the effort explains; it settled"},
		outcome: stopLight, group: breath},
	{Code: Code{"breathless_usual", "T08", "Out of breath in the way my doctor told me to expect; it settled"},
		outcome: stopLight, group: breath, expected: variant{known: []Flag{LungExpected}, to: note}},
	{Code: Code{breathLying, "T09", "Short of breath when I lie flat, or it woke me at night"},
		outcome: stop, group: breath},
	{Code: Code{"breathless_over_10_min", "T10", "Still short of breath more than 10 minutes after I stopped"},
		outcome: ease, group: breath},
	{Code: Code{"breathless_over_60_min", "T10", "Still short of breath an hour or more after I stopped"},
		outcome: stop, group: breath},

	// Heartbeat
	{Code: Code{"palpitations_brief", "T12", "Racing or uneven heartbeat, short, like those my doctor called harmless"},
		outcome: stop, group: palpitations,
		expected: variant{known: []Flag{BenignPalpitations}, to: note, row: "T11"},
		worse:    []variant{{with: faint | chest | breath, to: emergency, row: "T12"}}},
	{Code: Code{"palpitations_new", "T12", "Racing or uneven heartbeat that is new to me"},
		outcome: stop, group: palpitations, worse: []variant{{with: faint | chest | breath, to: emergency}}},
	{Code: Code{"palpitations_long", "T12", "Racing or uneven heartbeat for more than 5 minutes"},
		outcome: stop, group: palpitations, worse: []variant{{with: faint | chest | breath, to: emergency}}},
	{Code: Code{shockWell, "T13", "My heart device gave me one shock, and I feel well"},
		outcome: stop, advice: "Call the clinic that looks after your device today."},
	{Code: Code{"shock_unwell", "T13", "My heart device gave me a shock, and I do not feel well"},
		outcome: emergency},
	{Code: Code{"shocks_two", "T13", "My heart device gave me two or more shocks within 24 hours"},
		outcome: emergency},

	// Brain and nerves
	{Code: Code{"weak_face_arm_leg", "T14", "Face, arm or leg suddenly weak or numb, even if it passed"},
		outcome: emergency, group: stroke},
	{Code: Code{"speech_trouble", "T14", "Suddenly slurred or lost speech, even if it passed"},
		outcome: emergency, group: stroke},
	{Code: Code{"sight_trouble", "T14", "Suddenly lost or double sight, even if it passed"},
		outcome: emergency, group: stroke},
	{Code: Code{"confused", "T14", "Suddenly confused, even if it passed"},
		outcome: emergency, group: stroke},
	{Code: Code{"balance_lost", "T14", "Suddenly could not keep my balance or walk straight, even if it passed"},
		outcome: emergency, group: stroke},
	{Code: Code{"worst_headache", "T14", "Sudden headache, the worst I ever had"},
		outcome: emergency, group: stroke},

	// Legs and swelling
	{Code: Code{"calf_swollen", "T15", "One calf painful and swollen or red"},
		outcome: stop, sameDay: true, worse: []variant{{with: breath | chest, to: emergency}}},
	{Code: Code{"leg_cramp_walking", "T16", "Leg cramp when I walk that goes when I rest, new or other than usual"},
		outcome: ease},
	{Code: Code{"leg_cramp_usual", "T16", "My usual leg cramp when I walk, within the limit my doctor set"},
		outcome: ease, expected: variant{known: []Flag{LegPainExpected}, to: fine}},
	{Code: Code{"foot_pain_at_rest", "T16", "Foot pain at rest, or a cold, white or blue foot"},
		outcome: emergency},
	{Code: Code{"ankles_swollen", "T17", "Both ankles newly swollen"},
		outcome: ease, worse: []variant{{known: []Flag{HeartFailure}, to: stop}}},
	{Code: Code{"weight_gain", "T18", "My weight went up more than my limit in a day or a week"},
		outcome: note, worse: []variant{{known: []Flag{HeartFailure}, to: stopLight}}},

	// Tiredness, cough, wheeze
	{Code: Code{"tired_next_day", "T19", "Unusually tired into the next day"},
		outcome: note},
	{Code: Code{"tired_three_days", "T19", "Unusually tired for three days or more"},
		outcome: ease},
	{Code: Code{"daily_tasks_harder", "T19", "Everyday tasks have become harder"},
		outcome: ease},
	{Code: Code{"pink_froth", "T20", "Coughing up pink or bloody froth"},
		outcome: emergency},
	{Code: Code{"wheeze_settled", "T21", "Wheeze that settled with my reliever"},
		outcome: note},
	{Code: Code{"wheeze_more_often", "T21", "I need my reliever more often"},
		outcome: ease},
	{Code: Code{"wheeze_not_relieved", "T21", "Wheeze that my reliever does not help"},
		outcome: emergency},
	{Code: Code{"oxygen_low", "T22", "My oxygen fell below 88 while I trained"},
		outcome: stop},
	{Code: Code{"oxygen_not_recovering", "T22", "My oxygen was still low 5 minutes after I stopped"},
		outcome: emergency},

	// Sugar
	{Code: Code{lowSugar, "T23", "Low sugar that I treated myself"},
		outcome: note},
	{Code: Code{"low_sugar_helped", "T23", "Low sugar, and I needed help or passed out"},
		outcome: emergency},
	{Code: Code{"high_sugar_ketones", "T24", "High sugar with ketones, or with vomiting"},
		outcome: stop},
	{Code: Code{"high_sugar_drowsy", "T24", "High sugar, and I am drowsy or breathe deeply"},
		outcome: emergency},

	// Illness, heat, muscles
	{Code: Code{"fever", "T25", "Fever"},
		outcome: rest, release: ByClient,
		worse: []variant{{with: chest | palpitations | faint, to: emergency, row: "T26"}}},
	{Code: Code{"flu_like", "T25", "Ill as with flu: aching, shivering, swollen glands"},
		outcome: rest, release: ByClient,
		worse: []variant{{with: chest | palpitations | faint, to: emergency, row: "T26"}}},
	{Code: Code{"dark_urine", "T27", "Dark urine, like cola, after exercise"},
		outcome: emergency, advice: "Tell them about the dark urine. You need to be seen today."},
	{Code: Code{"muscles_very_painful", "T27", "Very painful, swollen or weak muscles 1 to 3 days after exercise"},
		outcome: emergency, advice: "Tell them about your muscles. You need to be seen today."},
	{Code: Code{"heat_illness", "T28", "Confused, very hot skin, or collapsed in the heat"},
		outcome: emergency, advice: "Get into the shade or a cool room. Wet your skin and fan it."},
	{Code: Code{"muscles_sore", "T29", "The usual sore muscles, 1 to 3 days"},
		outcome: fine},

	// Joints and bones
	{Code: Code{"joint_pain_mild", "T30", "Joint pain, 2 out of 10 or less"},
		outcome: fine},
	{Code: Code{"joint_pain_settled", "T30", "Joint pain, 3 to 5 out of 10, settled by the next morning"},
		outcome: note},
	{Code: Code{"joint_pain_bad", "T30", "Joint pain over 5 out of 10, or worse the next morning"},
		outcome: without, limit: ThisExercise, release: ByPractitioner},
	{Code: Code{"joint_swollen_locked", "T31", "A joint that is hot, swollen, locked or bent out of shape, or that I cannot stand on"},
		outcome: stop},
	{Code: Code{"back_pain_numb", "T32", "Back pain with numbness between my legs, new bladder or bowel trouble, or two weak legs"},
		outcome: emergency},
	{Code: Code{"fall_no_injury", "T33", "I fell and was not hurt"},
		outcome: note, worse: []variant{{known: []Flag{OnAnticoagulant}, to: emergency}}},
	{Code: Code{"fall_head_hit", "T33", "I fell and hit my head"},
		outcome: stop, worse: []variant{{known: []Flag{OnAnticoagulant}, to: emergency}}},
	{Code: Code{"fall_drowsy", "T33", "I fell and am drowsy or not myself"},
		outcome: emergency},
	{Code: Code{"fall_cannot_get_up", "T33", "I fell and cannot get up, or my hip hurts"},
		outcome: emergency},
	{Code: Code{"breastbone_clicks", "T34", "My breastbone clicks, moves or leaks, or I have a fever with it"},
		outcome: stop, sameDay: true},
	{Code: Code{"foot_wound", "T35", "A wound on my foot"},
		outcome: note, worse: []variant{{known: footCare, to: without, limit: WeightBearing}}},

	// Eyes, pregnancy, head, mood
	{Code: Code{"floaters", "T36", "Sight suddenly changed, or new spots in it"},
		outcome: stop, sameDay: true},
	{Code: Code{"pregnancy_bleeding", "T37", "Pregnant and bleeding"},
		outcome: emergency},
	{Code: Code{"pregnancy_fluid", "T37", "Pregnant and losing fluid"},
		outcome: emergency},
	{Code: Code{"pregnancy_contractions", "T37", "Pregnant with regular, painful tightening"},
		outcome: stop, sameDay: true},
	{Code: Code{"pregnancy_breathless_before", "T37", "Pregnant and breathless before I start"},
		outcome: stop, group: breath, sameDay: true},
	{Code: Code{"pregnancy_weakness", "T37", "Pregnant with weak muscles that upset my balance"},
		outcome: stop, sameDay: true},
	{Code: Code{"pregnancy_less_movement", "T37", "Pregnant and the baby moves less"},
		outcome: stop, sameDay: true},
	{Code: Code{headacheMild, "T38", "Mild headache with exercise"},
		outcome: note, group: headache, worse: []variant{{known: []Flag{Pregnant}, to: stop, row: "T37"}}},
	{Code: Code{headacheSevere, "T38", "Severe headache with exercise"},
		outcome: stop, group: headache},
	{Code: Code{"cold_sweat", "T39", "Sick, in a cold sweat or pale during exercise"},
		outcome: stop, worse: []variant{{with: chest | faint, to: emergency}}},
	{Code: Code{"stitch", "T40", "A stitch in my side"},
		outcome: fine},
	{Code: Code{"mild_cramp", "T40", "A mild muscle cramp"},
		outcome: fine},
	{Code: Code{"blister", "T40", "A blister"},
		outcome: fine, worse: []variant{{known: footCare, to: without, row: "T35", limit: WeightBearing}}},
	{Code: Code{lowMood, "T41", "I feel depressed"},
		outcome: talk},
	{Code: Code{selfHarm, "T41", "I think about harming myself"},
		outcome: emergency},
	{Code: Code{Other, "T42", "Something else"},
		outcome: note},
	{Code: Code{"not_sure", "T42", "I am not sure"},
		outcome: note},
}
