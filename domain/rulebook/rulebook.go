// Package rulebook gathers the rules and settings of all domain packages, so that
// a practice can read, set and sign them in one place.
package rulebook

import (
	"slices"

	"brae/domain"
	"brae/domain/activity"
	"brae/domain/caution"
	"brae/domain/clearance"
	"brae/domain/consent"
	"brae/domain/fitness"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/plan"
	"brae/domain/prescription"
	"brae/domain/report"
	"brae/domain/screening"
	"brae/domain/source"
	"brae/domain/triage"
	"brae/domain/volume"
	"brae/domain/worklist"
)

// Version names the rules of this program. It changes when a rule, a table or a
// default does; a signature is for one version.
const Version = "2026-11-25"

// Rules returns every rule, by package and in its order.
func Rules() []source.Rule {
	return slices.Concat(
		screening.Rules, clearance.Rules, triage.Rules, heartrate.Rules, intensity.Rules, medicine.Rules,
		volume.Rules, plan.Rules, fitness.Rules, activity.Rules, caution.Rules, consent.Rules, worklist.Rules, report.Rules, prescription.Rules,
	)
}

// Settings returns every setting that a practice may change.
func Settings() []source.Setting {
	return slices.Concat(
		screening.Settings, clearance.Settings, triage.Settings, heartrate.Settings, intensity.Settings, medicine.Settings,
		volume.Settings, plan.Settings, fitness.Settings, activity.Settings, caution.Settings, consent.Settings, worklist.Settings, report.Settings, prescription.Settings,
	)
}

// Check returns [domain.Problems] for values of settings that do not exist or
// are out of the range that a practice may choose from.
func Check(values source.Values) error {
	var problems domain.Problems
	known := map[string]source.Setting{}
	for _, s := range Settings() {
		known[s.Key] = s
	}
	for key, value := range values {
		s, ok := known[key]
		switch {
		case !ok:
			problems.Add(key, "There is no such setting.")
		case value < s.Low || value > s.High:
			problems.Add(key, source.RangeSentence(s))
		}
	}
	return problems.Err()
}
