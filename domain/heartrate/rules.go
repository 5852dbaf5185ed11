package heartrate

import (
	"fmt"
	"slices"

	"brae/domain/source"
)

// Rules tells every rule and table of this package in a sentence: the equations,
// the rows of the basis table, and the rest.
var Rules = slices.Concat(equationRules(), basisRules, otherRules)

func equationRules() []source.Rule {
	rules := make([]source.Rule, 0, len(equations))
	for _, e := range equations {
		says := fmt.Sprintf("Maximal heart rate %s; made on: %s. Shown with %d beats either way", e.Formula, e.Population, e.Error)
		if e.Published != "" {
			says += " (published: " + e.Published + ")"
		}
		rules = append(rules, source.Rule{
			ID: "heartrate.equation." + string(e.ID), Topic: source.TopicHeartRate, Says: says + ". " + e.Choice, Cites: e.Cites,
		})
	}
	return rules
}

var basisRules = func() []source.Rule {
	rules := make([]source.Rule, 0, len(basisRows))
	for _, r := range basisRows {
		rules = append(rules, source.Rule{
			ID: fmt.Sprintf("heartrate.basis.%d", r.Number), Topic: source.TopicHeartRate, Says: basisSays[r.Number-1], Cites: r.Cites,
		})
	}
	return rules
}()

// basisSays tells the rows of the basis table with what follows.
var basisSays = [...]string{
	"Younger than 18: no prescription from adult tables.",
	"Pregnant, until released after the birth: no range; perceived exertion 12-14 and talk test; vigorous work is held.",
	"Transplanted heart: no range, unless the practitioner accepts a test on this heart; perceived exertion 12-14 and talk test.",
	"Pacemaker at a fixed rate or of a kind not known: no range; perceived exertion, talk test, workload and blood pressure.",
	"Pacemaker that follows effort or the atrium: a range only from a test with the present programming, below the upper rate less its margin.",
	"Defibrillator: a range only from a test and with the detection rate on file, below that rate less its margin; otherwise as in rows 7 to 12.",
	"Atrial fibrillation now or another irregular pulse: no range; perceived exertion 11-14 and the fastest pace at which talking stays comfortable.",
	"Atrial fibrillation at times, regular today: a range from a measured peak only; as row 7 whenever irregular.",
	"A medicine that slows the heart and a peak measured on the same medicine and dose: a range from that peak, with perceived exertion and talk test.",
	"A medicine that slows the heart and no such test: no range, or a rough one by explicit choice of an equation made for such people; " +
		"perceived exertion 11-14 and talk test.",
	"Heart failure, autonomic neuropathy, spinal-cord lesion at T6 or above, a heart known not to speed up: a range from a measured peak only.",
	"None of these and a valid measured peak: a range from that peak.",
	"None of these: a range from a predicted maximum.",
}

var otherRules = []source.Rule{
	{
		ID: "heartrate.reserve", Topic: source.TopicHeartRate,
		Says: "Target = resting + percentage x (maximal - resting), exact, shown to the nearest beat with halves up. The maximum is " +
			"never rounded first.",
		Cites: []source.Key{"karvonen1957", "aha_hr", "cdc_hr_older"},
	},
	{
		ID: "heartrate.zones", Topic: source.TopicHeartRate,
		Says: "A range starts at the first whole beat at or above its edge and ends on the last before the next edge, so every beat is in " +
			"one range and a logged beat is classed as shown. The percentages of the reserve are those of the oxygen-uptake reserve.",
		Cites: []source.Key{"garber2011", "karvonen1957", "swain1997"},
	},
	{
		ID: "heartrate.guards", Topic: source.TopicHeartRate,
		Says: "A reserve below 20 beats gives no range and one below 40 a warning. A heart rate above the maximum is a finding; the " +
			"maximum is never raised by itself.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "heartrate.peak", Topic: source.TopicHeartRate,
		Says: "A measured peak needs a date, a symptom-limited end and the present medicines. It holds 12 months, 3 in cardiac " +
			"rehabilitation, and ends with a change of a rate-altering medicine, of device programming or of rhythm, and with a cardiac " +
			"event or procedure. A peak that may not stand for the maximum stays as a ceiling.",
		Cites: []source.Key{"keteyian2023", "practice"},
	},
	{
		ID: "heartrate.vigorous_cap", Topic: source.TopicHeartRate,
		Says: "Vigorous work is prescribed up to 80 % of the reserve; from 80 to below 90 % it is still classed as vigorous. Near-maximal " +
			"work is not prescribed by heart rate.",
		Cites: []source.Key{"practice", "common_practice"},
	},
	{
		ID: "heartrate.ceiling", Topic: source.TopicHeartRate,
		Says: "The ceiling is the lowest of: the doctor's and the practitioner's numbers; the ischaemic or other threshold less at least 10; " +
			"the detection rate of a defibrillator less 20 (never less than 10); the upper rate of a pacemaker less 10; an interim ceiling; a " +
			"peak that is not the maximum. Ranges end at it, and a class that starts above it is unavailable.",
		Cites: []source.Key{"acsm_getp_heart_rate", "ada2016_angina", "practice"},
	},
	{
		ID: "heartrate.interim", Topic: source.TopicHeartRate,
		Says: "Early in cardiac rehabilitation without a test: resting + 20 after a heart attack, + 30 after heart surgery, at most 120, " +
			"with perceived exertion up to 13. It is a ceiling and no target; it has a day of review and stays when that has passed.",
		Cites: []source.Key{"acsm_getp_heart_rate", "aacvpr_rehab", "mytinger2020", "interim_abstract", "joo2004", "practice"},
	},
	{
		ID: "heartrate.error", Topic: source.TopicHeartRate,
		Says: "A predicted maximum is shown with 11 beats either way, with 18 by an equation made on heart disease. A target moves by its " +
			"percentage of the error in the maximum, and by the rest of it of the error in the resting heart rate.",
		Cites: []source.Key{"nes2013", "sarzynski2013", "brawner2004", "keteyian2012"},
	},
	{
		ID: "heartrate.resting", Topic: source.TopicHeartRate,
		Says: "The resting heart rate is the mean of its readings, nearest beat with halves up, in one posture for one client (usually " +
			"seated, after 5 quiet minutes); readings more than 10 apart are repeated; measured again after 12 weeks or a change of medicine.",
		Cites: []source.Key{"resting_clinic", "resting_home", "keteyian2019", "wilmore1996", "practice"},
	},
	{
		ID: "heartrate.medicine", Topic: source.TopicHeartRate,
		Says: "Zone code Z1: a maximum only if measured on the medicine. Z2: the resting heart rate must be taken on it. Z3: no heart rate. " +
			"A medicine that is not recognised stops a prediction until it has been looked up.",
		Cites: []source.Key{"matsuda1991", "keteyian2023", "practice"},
	},
	{
		ID: "heartrate.ranges", Topic: source.TopicHeartRate,
		Says: "What is entered is rejected outside and confirmed near the ends of: age 18-110, resting 25-150, measured peak 60-230 and 20 above " +
			"resting, session 30-240 beats.",
		Cites: []source.Key{"practice"},
	},
	{
		ID: "heartrate.oxygen", Topic: source.TopicHeartRate,
		Says:  "Oxygen target = 3.5 + percentage x (maximal uptake - 3.5) mL per kg and minute.",
		Cites: []source.Key{"swain1997", "acsm_getp_heart_rate"},
	},
}
