package screening

import (
	"brae/domain/clearance"
	"brae/domain/source"
)

// findingTerms is the contraindications. The lists were written for exercise
// tests and supervised training; between visits both tiers stop the plan and
// differ in what releases it. Where they overlap with what the clinic measures,
// the vital-sign rules decide at the session, and the code is for a value told
// by letter. A pacemaker or defibrillator, which one list names, counts as known
// disease here.
//
// Source: jabfm_contraindications, acsm_stop_copy, heartonline_limits, hypertension2024, bmjopen_protocol, cr_contraindications, screening_memory. Practice rule: practice.
var findingTerms = [...]Term{
	absolute("heart_attack_recent", "CX_MI_RECENT", Cardiovascular, "A heart attack in the last days, not yet released by a doctor", "jabfm_contraindications", "acsm_stop_copy"),
	absolute("ecg_change_new", "CX_ECG_NEW", Cardiovascular, "A new change of the electrocardiogram", "acsm_stop_copy"),
	absolute("unstable_angina", "CX_UA", Cardiovascular, "Angina that is new, at rest or getting worse", "jabfm_contraindications", "acsm_stop_copy"),
	absolute("rhythm_uncontrolled", "CX_ARR", Cardiovascular, "A heart rhythm that causes symptoms and is not under control", "jabfm_contraindications", "acsm_stop_copy"),
	absolute("aortic_stenosis_severe", "CX_AS_SEV", Cardiovascular, "Severe aortic stenosis with symptoms", "jabfm_contraindications", "acsm_stop_copy"),
	absolute("heart_failure_worsening", "CX_HF_DEC", Cardiovascular, "Heart failure that is not under control or has worsened over 3 to 5 days", "jabfm_contraindications", "heartonline_limits"),
	absolute("lung_clot", "CX_PE", "", "A clot in the lung in the last 4 weeks", "jabfm_contraindications", "heartonline_limits"),
	absolute("leg_clot", "CX_DVT", "", "A clot or inflamed vein in a leg, until treated and released", "heartonline_limits", "cr_contraindications", "screening_memory"),
	absolute("heart_inflammation", "CX_MYOPERI", Cardiovascular, "Inflammation of the heart (often 3 to 6 months without exercise)", "jabfm_contraindications", "acsm_stop_copy"),
	absolute("aortic_dissection", "CX_DISSECT", Cardiovascular, "A known or suspected tear of the aorta", "jabfm_contraindications", "acsm_stop_copy"),
	released(absolute("infection_fever", "CX_INFECT", "", "An infection with fever, aches or swollen glands", "acsm_stop_copy", "bmjopen_protocol"), clearance.NeedsStatement),
	absolute("ischaemia_low_effort", "CX_ISCH_LOW", Cardiovascular, "Shortage of blood to the heart at very low effort (below 2 METs or about 50 W)", "heartonline_limits"),
	absolute("diabetes_uncontrolled", "CX_DM_UNC", Metabolic, "Diabetes that is out of control now", "heartonline_limits", "cr_contraindications"),
	absolute("resting_rate_120", "CX_RHR120", "", "A resting heart rate above 120", "heartonline_limits"),
	absolute("atrial_fibrillation_new", "CX_AF_NEW", Cardiovascular, "Atrial fibrillation that has just begun", "heartonline_limits"),
	absolute("valve_needs_surgery", "CX_VALVE_SURG", Cardiovascular, "A leaking heart valve that needs surgery", "heartonline_limits"),
	absolute("heart_block_complete", "CX_BLOCK3", Cardiovascular, "Complete heart block without a pacemaker", "cr_contraindications"),
	absolute("pulmonary_hypertension_severe", "CX_PHT_SEV", Cardiovascular, "Very high pressure in the lung arteries (mean above 55 mmHg)", "hypertension2024"),
	absolute("kidney_failure_acute", "CX_RENAL_ACUTE", Renal, "Acute kidney failure", "cr_contraindications"),
	absolute("stroke_acute", "CX_STROKE_ACUTE", Cardiovascular, "An acute stroke", "cr_contraindications"),
	absolute("thyroid_storm", "CX_THYROTOX", "", "A thyroid storm", "cr_contraindications"),

	relative("left_main_narrowing", "CX_LM", Cardiovascular, "A narrowed left main heart artery", "jabfm_contraindications", "acsm_stop_copy"),
	relative("valve_narrowing_moderate", "CX_VALVE_MOD", Cardiovascular, "A moderately narrowed heart valve", "jabfm_contraindications", "acsm_stop_copy"),
	relative("electrolytes_abnormal", "CX_LYTES", "", "Potassium or magnesium out of range", "jabfm_contraindications", "acsm_stop_copy", "bmjopen_protocol"),
	relative("blood_pressure_200", "CX_BP_REST", "", "A resting blood pressure above 200 over 110", "jabfm_contraindications", "acsm_stop_copy", "bmjopen_protocol"),
	relative("blood_pressure_180", "CX_BP_CR", "", "A resting blood pressure above 180 over 110, with heart disease", "heartonline_limits", "bmjopen_protocol", "hypertension2024"),
	scoped(relative("blood_pressure_160", "CX_BP_160", "", "A resting blood pressure above 160 over 100", "hypertension2024"), clearance.Vigorous),
	relative("heart_rate_uncontrolled", "CX_RATE", Cardiovascular, "A fast or slow heart rhythm whose rate is not under control", "jabfm_contraindications", "heartonline_limits"),
	relative("hypertrophic_cardiomyopathy", "CX_HCM", Cardiovascular, "A thickened heart muscle that narrows the way out", "jabfm_contraindications", "acsm_stop_copy"),
	relative("heart_block_high_degree", "CX_AVB", Cardiovascular, "High-degree heart block", "jabfm_contraindications", "acsm_stop_copy"),
	relative("ventricular_aneurysm", "CX_VANEUR", Cardiovascular, "A bulge of the heart wall", "acsm_stop_copy"),
	relative("standing_pressure_drop", "CX_ORTHO_BP", "", "A fall of blood pressure by more than 20 on standing, with symptoms", "bmjopen_protocol", "cr_contraindications"),
	relative("weight_gain_heart_failure", "CX_WTGAIN", Cardiovascular, "A gain of more than 2 kg in 1 to 3 days, with heart failure", "heartonline_limits"),
	relative("heart_failure_class_4", "CX_NYHA4", Cardiovascular, "Heart failure with symptoms at rest, complex heart rhythms, or pressure that falls with effort", "heartonline_limits"),
	relative("metabolic_uncontrolled", "CX_METAB", "", "Diabetes or thyroid disease that is not under control", "acsm_stop_copy"),
	relative("anaemia_significant", "CX_ANAEMIA", "", "Anaemia with less than 100 g of haemoglobin in a litre", "bmjopen_protocol", "screening_memory"),
	relative("infection_chronic", "CX_CHRINF", "", "A chronic infection", "acsm_stop_copy"),
	relative("stroke_recent", "CX_STROKE_RECENT", Cardiovascular, "A recent stroke or warning stroke", "screening_memory"),
	relative("pain_worse_with_exercise", "CX_MSK", "", "A disorder of muscle, joint or nerve that exercise makes worse, or new pain of bone, back or neck", "acsm_stop_copy", "bmjopen_protocol"),
	relative("cannot_follow_instructions", "CX_MENTAL", "", "Being unable to follow instructions safely", "jabfm_contraindications", "acsm_stop_copy"),
	released(relative("vomiting_or_diarrhoea", "CX_GI", "", "Vomiting or diarrhoea in the last 36 hours, or eating and drinking too little", "bmjopen_protocol"), clearance.NeedsStatement),
	relative("capacity_low", "CX_LOWCAP", "", "A fitness below 4 METs", "hypertension2024"),
}

func absolute(code, row string, h Heading, name string, cites ...source.Key) Term {
	return finding(code, row, h, Absolute, name, cites)
}

func relative(code, row string, h Heading, name string, cites ...source.Key) Term {
	return finding(code, row, h, Relative, name, cites)
}

// finding is a contraindication that stops all exercise. With a heading it
// counts as known disease too.
func finding(code, row string, h Heading, tier Tier, name string, cites []source.Key) Term {
	return Term{Code: code, Row: row, Kind: Finding, Heading: h, Tier: tier, Scope: clearance.All, Name: name, Asks: name + "?", Cites: cites}
}

func scoped(t Term, s clearance.Scope) Term {
	t.Scope = s
	return t
}

func released(t Term, n clearance.Needs) Term {
	t.Needs = n
	return t
}
