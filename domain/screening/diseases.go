package screening

import (
	"brae/domain/clearance"
	"brae/domain/source"
)

// The three headings are of the published model; which diseases stand under
// them is told there by example only.
var (
	heartCites  = []source.Key{"riebe2015", "acsm_cells", "screening_memory"}
	sugarCites  = []source.Key{"riebe2015", "colberg2017", "screening_memory"}
	kidneyCites = []source.Key{"riebe2015", "getp10_screening", "screening_memory"}
)

// diseaseTerms is what counts as known disease of the heart and vessels, of
// metabolism and of the kidneys.
//
// Source: riebe2015, acsm_cells, getp10_screening, colberg2017, screening_memory.
var diseaseTerms = [...]Term{
	heart("coronary_disease", "Coronary heart disease", "Do you have narrowed arteries of the heart?"),
	heart("heart_attack", "A past heart attack", "Have you had a heart attack?"),
	heart("angina", "Angina", "Do you have angina?"),
	heart("stent", "A stent or a widened heart artery", "Have you had a stent, or a heart artery widened?"),
	heart("bypass_surgery", "Bypass surgery", "Have you had bypass surgery of the heart?"),
	heart("heart_failure", "Heart failure", "Do you have a weak heart or heart failure?"),
	heart("cardiomyopathy", "Disease of the heart muscle", "Do you have a disease of the heart muscle?"),
	heart("valve_disease", "Disease of a heart valve", "Do you have a disease of a heart valve, or a new valve?"),
	heart("rhythm_disorder", "A disorder of the heart rhythm", "Do you have a disorder of the heart rhythm?"),
	heart("atrial_fibrillation", "Atrial fibrillation", "Do you have atrial fibrillation?"),
	heart("pacemaker", "A pacemaker", "Do you have a pacemaker?"),
	heart("defibrillator", "An implanted defibrillator", "Do you have an implanted defibrillator?"),
	heart("congenital_heart_disease", "A heart defect from birth", "Were you born with a heart defect?"),
	heart("heart_transplant", "A heart transplant", "Have you had a heart transplant?"),
	heart("peripheral_artery_disease", "Narrowed leg arteries", "Do you have narrowed arteries of the legs?"),
	heart("aortic_aneurysm", "A widened or torn aorta", "Is your aorta widened, was it torn, or do you have a disease that widens it?"),
	heart("stroke", "A past stroke", "Have you had a stroke?"),
	heart("tia", "A past warning stroke", "Have you had a warning stroke (TIA)?"),
	heart("carotid_disease", "Narrowed neck arteries", "Do you have narrowed arteries of the neck?"),
	heart("pulmonary_hypertension", "High pressure in the lung arteries", "Do you have high pressure in the arteries of the lungs?"),

	metabolic("diabetes_type_1", "Type 1 diabetes", "Do you have type 1 diabetes?"),
	metabolic("diabetes_type_2", "Type 2 diabetes", "Do you have type 2 diabetes?"),
	metabolic("diabetes_other", "Diabetes of another or unknown type", "Do you have diabetes of another type, or do you not know which?"),
	metabolic("diabetes_in_remission", "Diabetes in remission", "Did you have diabetes that is in remission?"),

	renal("kidney_disease", "Chronic kidney disease", "Has a doctor found chronic kidney disease, of any stage?"),
	renal("dialysis", "Dialysis", "Are you on dialysis?"),
	renal("kidney_transplant", "A kidney transplant", "Have you had a kidney transplant?"),
}

func heart(code, name, asks string) Term {
	return Term{Code: code, Row: "DX_CARDIOVASCULAR", Kind: Known, Heading: Cardiovascular, Name: name, Asks: asks, Cites: heartCites}
}

func metabolic(code, name, asks string) Term {
	return Term{Code: code, Row: "DX_METABOLIC", Kind: Known, Heading: Metabolic, Name: name, Asks: asks, Cites: sugarCites}
}

func renal(code, name, asks string) Term {
	return Term{Code: code, Row: "DX_RENAL", Kind: Known, Heading: Renal, Name: name, Asks: asks, Cites: kidneyCites}
}

// pregnancyTerms is pregnancy and what speaks against exercise in it.
//
// Source: pregnancy_wjd2013, pregnancy_bmc2015, pregnancy_bjsm, acog804, screening_memory.
var pregnancyTerms = [...]Term{
	{Code: "pregnant", Row: "E11", Kind: Pregnancy, Name: "Pregnancy", Asks: "Are you pregnant?", Cites: []source.Key{"acog804"}},
	{Code: "gestational_diabetes", Row: "E11", Kind: Pregnancy, Name: "Diabetes of pregnancy", Asks: "Do you have diabetes that began in this pregnancy?",
		Cites: []source.Key{"practice"}},

	pregnancyAbsolute("pregnancy_heart_disease", "Heart disease that weakens the circulation, in pregnancy"),
	pregnancyAbsolute("pregnancy_lung_restriction", "Restrictive lung disease, in pregnancy"),
	pregnancyAbsolute("cervix_incompetent", "A weak or stitched cervix"),
	pregnancyAbsolute("multiple_preterm_risk", "More than one child with a risk of early labour"),
	pregnancyAbsolute("pregnancy_bleeding", "Bleeding that persists in the second or third trimester"),
	pregnancyAbsolute("placenta_praevia", "Placenta praevia after 26 weeks"),
	pregnancyAbsolute("preterm_labour", "Early labour in this pregnancy"),
	pregnancyAbsolute("membranes_ruptured", "Ruptured membranes"),
	pregnancyAbsolute("pre_eclampsia", "Pre-eclampsia or high blood pressure from pregnancy"),
	pregnancyAbsolute("pregnancy_anaemia_severe", "Severe anaemia, in pregnancy"),
	pregnancyAbsolute("pregnancy_lung_severe", "Severe asthma or chronic lung disease, in pregnancy"),

	pregnancyRelative("pregnancy_rhythm_unevaluated", "A heart rhythm nobody has looked into, in pregnancy"),
	pregnancyRelative("pregnancy_bronchitis", "Chronic bronchitis, in pregnancy"),
	pregnancyRelative("pregnancy_uncontrolled_disease", "Diabetes, blood pressure, seizures or thyroid that are not under control, in pregnancy"),
	pregnancyRelative("pregnancy_weight_extreme", "Very high or very low weight, in pregnancy"),
	pregnancyRelative("growth_restriction", "A child that grows too little"),
	pregnancyRelative("pregnancy_heavy_smoking", "Heavy smoking, in pregnancy"),
	pregnancyRelative("pregnancy_orthopaedic", "A limit of bones or joints, in pregnancy"),
	pregnancyRelative("pregnancy_very_inactive", "A very inactive life before pregnancy"),
}

func pregnancyAbsolute(code, name string) Term {
	return Term{Code: code, Row: "CX_PREG_ABS", Kind: Pregnancy, Tier: Absolute, Scope: clearance.All, Name: name, Asks: name + "?",
		Cites: []source.Key{"pregnancy_wjd2013", "pregnancy_bmc2015", "pregnancy_bjsm", "screening_memory"}}
}

func pregnancyRelative(code, name string) Term {
	return Term{Code: code, Row: "CX_PREG_REL", Kind: Pregnancy, Tier: Relative, Scope: clearance.All, Name: name, Asks: name + "?",
		Cites: []source.Key{"pregnancy_bmc2015"}}
}

// otherTerms is complications of diabetes, and conditions that change nothing by
// themselves but are noted.
//
// Source: acsm_faq2015, getp10_screening, colberg2017, screening_memory.
var otherTerms = [...]Term{
	complication("retinopathy", "Eye disease from diabetes"),
	complication("neuropathy", "Numb feet or nerve disease from diabetes"),
	complication("autonomic_neuropathy", "Disease of the nerves that steer the heart"),
	complication("foot_ulcer", "A foot sore"),

	noted("hypertension", "E13", "High blood pressure"),
	noted("prediabetes", "E14", "Prediabetes"),
	noted("metabolic_syndrome", "E14", "Metabolic syndrome"),
	noted("obesity", "E14", "Obesity"),
	noted("high_cholesterol", "E14", "High cholesterol"),
	noted("smoking", "E14", "Smoking"),
	noted("family_history", "E14", "Heart disease in the family"),
	noted("gout", "E14", "Gout"),
	noted("thyroid_disease", "E14", "Thyroid disease"),
	noted("liver_disease", "E14", "Liver disease"),
	noted("kidney_stone", "E14", "A kidney stone, or a single kidney that works normally"),
	noted("varicose_veins", "E14", "Varicose veins"),
	noted("asthma", "E12", "Asthma"),
	noted("copd", "E12", "Chronic lung disease (COPD)"),
	noted("lung_disease_other", "E12", "Another lung disease"),
	noted("cancer", "E14", "Cancer"),
	noted("arthritis", "E14", "Arthritis"),
	noted("epilepsy", "E14", "Epilepsy"),
	noted("mental_illness", "E14", "Mental illness"),
}

func complication(code, name string) Term {
	return Term{Code: code, Row: "DX_COMPLICATION", Kind: Complication, Name: name, Asks: name + "?",
		Cites: []source.Key{"colberg2017", "practice"}}
}

func noted(code, row, name string) Term {
	return Term{Code: code, Row: row, Kind: Noted, Name: name, Asks: name + "?", Cites: []source.Key{"acsm_faq2015", "getp10_screening", "screening_memory"}}
}
