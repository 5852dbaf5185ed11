package clearance

import "brae/domain/source"

func rule(id, says string, cites ...source.Key) source.Rule {
	return source.Rule{ID: id, Topic: source.TopicClearance, Says: says, Cites: cites}
}

// Rules are the rules of this package, told in a sentence each.
var Rules = []source.Rule{
	rule("clearance.scopes", "A hold stops vigorous work, everything above light, or all exercise. It has a cause and is released, never deleted.", "practice"),
	rule("clearance.decision", "A decision records who decided, when, how it came, what was asked and answered, a ceiling, limits, restrictions, expected "+
		"symptoms and what it covers. Signed, received and recorded follow in this order.", "clearance_forms", "maiorana2018", "practice"),
	rule("clearance.valid", "A decision counts for twelve months from the day it was signed, or until the day it names if that is earlier; on the last day it has "+
		"lapsed. A signed plan of a supervised programme counts for 30 days.", "riebe2015", "cms_benefit_policy", "practice"),
	rule("clearance.starts", "A decision does not count before its first day.", "practice"),
	rule("clearance.phone", "A decision by phone lapses unless it is confirmed in writing within 14 days.", "practice"),
	rule("clearance.symptom", "A new or changed symptom ends a decision, unless the doctor expects it and it stays within the limit.", "riebe2015", "practice"),
	rule("clearance.event", "A heart attack, a change of angina, a faint, a stroke, a rhythm, an admission, surgery, a shock or a clot ends a decision.", "practice"),
	rule("clearance.diagnosis", "A new diagnosis puts a decision under review; vigorous work waits.", "practice"),
	rule("clearance.medicine", "A change of a medicine that bears on heart rate puts a decision with a heart-rate limit under review; of one that lowers blood sugar, "+
		"a decision with a blood-sugar limit.", "practice"),
	rule("clearance.pregnancy", "A pregnancy or birth ends a decision.", "practice"),
	rule("clearance.vitals", "V1, V2, V6 or V19 on two days within seven put a decision under review.", "practice"),
	rule("clearance.consent", "A client who withdraws the consent to share keeps the decision; the doctor is not contacted any more.", "practice"),
	rule("clearance.superseded", "A decision that is named as superseded does not count any more, whatever becomes of the newer one.", "practice"),
	rule("clearance.revoked", "The lead may revoke a decision. It clears nobody, and its ceiling and restrictions stay.", "practice"),
	rule("clearance.error", "A decision entered in error never counted.", "hl7_physical_activity", "practice"),
	rule("clearance.covers", "A decision releases what it names, unless it was signed before the cause began. Anything else stays held.", "practice"),
	rule("clearance.outlives", "Ceilings, limits and restrictions of a decision that has lapsed stay until a newer decision takes its place.", "practice"),
	rule("clearance.several", "Of several decisions the newest in force counts, unless an older one comes from a more specialised doctor: then the lower ceiling does. "+
		"The strictest limits of all apply. One decision for a kind of work is active at a time.", "practice"),
	rule("clearance.release", "Only a doctor's decision in force that covers the cause releases a doctor's hold, entered by staff with a reason. For an absolute contraindication "+
		"the condition is resolved first. A practitioner releases a practitioner's hold, a client's statement ends a fever hold.", "practice"),
	rule("clearance.who", "Physicians decide; nurse practitioners and physician assistants where the law and the practice let them. Nobody clears their own client "+
		"unless flagged and licensed.", "practice"),
	rule("clearance.warnings", "Warnings come 60, 30 and 7 days before a decision lapses.", "practice"),
	rule("clearance.referral", "A letter without an answer is followed by a reminder after 14 days and has lapsed after 30.", "hl7_physical_activity", "practice"),
	rule("gate.row", "Vigorous work needs a screening whose answers allow it, decided again with today's clearance.", "riebe2015", "practice"),
	rule("gate.clearance", "Every disease and symptom that asks for a doctor is covered by a decision in force up to vigorous.", "riebe2015", "practice"),
	rule("gate.ceiling", "No doctor's ceiling, nor one that outlives its decision, is below vigorous.", "practice"),
	rule("gate.hold", "No hold is open.", "practice"),
	rule("gate.screening", "The screening is complete, at most twelve months old, and nothing has changed since.", "practice"),
	rule("gate.phase", "The plan has reached the introduction of vigorous work.", "practice"),
	rule("gate.signoff", "The practitioner has signed off vigorous work within the last 30 days.", "practice"),
	rule("gate.flag.blood_pressure_160", "From 160 or 100 mmHg at the last measurement a doctor is asked first.", "hypertension2024", "practice"),
	rule("gate.flag.copd_desaturation", "With lung disease and a fall of oxygen in effort a doctor is asked first.", "practice"),
	rule("gate.flag.rate_medicine", "On a rate-changing medicine without a measured maximum a doctor is asked first.", "practice"),
	rule("gate.flag.pregnant", "In pregnancy a doctor is asked first.", "practice"),
}
