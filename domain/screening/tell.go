package screening

import "brae/domain/clearance"

// sentences is what a term adds to the reasons, by answer.
type sentences struct{ yes, notSure string }

// said is the sentences of each term, in the order of terms.
//
// Source: getp10_screening, acsm_faq2015.
var said = func() (all [termCount]sentences) {
	for i, t := range terms {
		rest := " does not change this decision."
		switch {
		case t.Kind == Symptom:
			rest = " is a sign or symptom that a doctor has to look into."
		case t.Heading == Cardiovascular:
			rest = " counts as known disease of the heart or vessels."
		case t.Heading == Metabolic:
			rest = " counts as known disease of metabolism."
		case t.Heading == Renal:
			rest = " counts as known disease of the kidneys."
		case t.Row == "E12":
			rest = " alone does not call for a doctor; breathlessness at rest or with little effort does."
		case t.Row == "E13":
			rest = " alone does not count as known disease; what is measured passes the vital-sign rules."
		}
		all[i] = sentences{
			yes:     t.Name + rest,
			notSure: t.Name + ": the client is not sure, which counts as yes. It" + rest,
		}
	}
	return all
}()

// uncoveredSays is what is said of a cause that no decision in force covers, and
// stopSays of a finding, in the order of terms.
var uncoveredSays, stopSays = func() (uncovered, stops [termCount]string) {
	for i, t := range terms {
		uncovered[i] = t.Name + ": no doctor's decision in force covers it."
		what := " rules out all exercise"
		if t.Scope == clearance.Vigorous {
			what = " rules out vigorous work"
		}
		switch t.needs() {
		case clearance.NeedsResolution:
			stops[i] = t.Name + what + " until it is resolved and a doctor has decided after that."
		case clearance.NeedsStatement:
			stops[i] = t.Name + what + " until it has been over for a day."
		default:
			stops[i] = t.Name + what + " until a doctor's decision names it."
		}
	}
	return uncovered, stops
}()

// tell says what the three inputs come to, and which rules that takes.
func (d *Decision) tell(in *Input, seen reading) {
	for _, cause := range seen.causes {
		i := position[cause.Code]
		if in.Answers.given[i] == NotSure {
			d.say(said[i].notSure)
		} else {
			d.say(said[i].yes)
		}
	}
	if seen.group == NoDisease {
		d.say("No known disease of heart, vessels, metabolism or kidneys, and no sign or symptom of one.")
	}
	switch {
	case in.Attested != nil && in.Attested.Regular:
		d.say("Counts as exercising regularly by the practitioner's word: " + in.Attested.Reason)
	case in.Attested != nil:
		d.say("Counts as not exercising regularly by the practitioner's word: " + in.Attested.Reason)
	case d.Regular:
		d.say("Exercises regularly: at least 30 minutes of at least moderate work on at least 3 days a week, for at least 3 months.")
	default:
		d.say("Does not exercise regularly: that takes 30 minutes of at least moderate work on 3 days a week for 3 months.")
	}
	for _, r := range in.Reclassified {
		d.say(TermName(r.Code) + " was set aside by " + r.By + ": " + r.Reason)
	}
	if in.Clearance.OnFile == clearance.Allowed || in.Clearance.OnFile == clearance.LapsedWord {
		for _, code := range d.Uncovered {
			d.say(uncoveredSays[position[code]])
		}
		d.Reasons = append(d.Reasons, in.Clearance.Reasons...)
	}
}

// TermName returns the name of a code, and the code where there is none.
func TermName(code string) string {
	if i, ok := position[code]; ok {
		return terms[i].Name
	}
	if name, ok := vitalNames[code]; ok {
		return name
	}
	return code
}

// vitalNames are the vital-sign rules that hold exercise, as causes of a hold.
var vitalNames = map[string]string{
	"V1": "Blood pressure above 200 over 110", "V2": "Blood pressure above 180 over 110, with heart disease", "V3": "Blood pressure above 180",
	"V4": "Blood pressure above 160 over 100", "V5": "Low blood pressure", "V6": "Resting heart rate above 120", "V7": "Resting heart rate above 100",
	"V8": "Slow resting heart rate", "V9": "Fever", "V10": "Low blood sugar", "V14": "Blood sugar from 250 mg/dL", "V15": "Blood sugar from 350 mg/dL",
	"V16": "Ketones", "V17": "A severe low blood sugar", "V18": "Low oxygen saturation", "V19": "Fast weight gain, with heart failure",
	"V20": "Weight gain of more than 2 kg in 1 to 3 days, with heart failure",
}
