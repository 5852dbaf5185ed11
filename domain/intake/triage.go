package intake

import (
	"slices"

	"brae/domain/medicine"
	"brae/domain/screening"
	"brae/domain/triage"
)

// vessels are the diseases of the heart and the vessels that are none of the
// heart itself.
var vessels = []string{"peripheral_artery_disease", "stroke", "tia", "carotid_disease"}

// unusable are the diseases with which heart rate tells nothing. They excuse a
// number, so they count only where they are sure.
var unusable = []string{"atrial_fibrillation", "pacemaker", "heart_transplant"}

// TriageFlags returns what is known of the client when a log is sorted: from
// diseases and medicines. Not sure counts as yes where it makes an answer more
// careful. That a symptom is an expected one is a doctor's word and stands in no
// intake.
//
// Practice rule: practice.
func (r Record) TriageFlags() []triage.Flag {
	var known []triage.Flag
	add := func(f triage.Flag, when bool) {
		if when && !slices.Contains(known, f) {
			known = append(known, f)
		}
	}
	for _, term := range screening.Codes() {
		if term.Kind == screening.Known && term.Heading == screening.Cardiovascular && !slices.Contains(vessels, term.Code) {
			add(triage.Cardiac, r.Answers.Of(term.Code).CountsAsYes())
		}
	}
	for flag, codes := range map[triage.Flag][]string{
		triage.HeartFailure:     {"heart_failure", "cardiomyopathy"},
		triage.LegArteryDisease: {"peripheral_artery_disease"},
		triage.Diabetes:         {"diabetes_type_1", "diabetes_type_2", "diabetes_other", "gestational_diabetes"},
		triage.Pregnant:         {"pregnant"},
	} {
		for _, code := range codes {
			add(flag, r.Answers.Of(code).CountsAsYes())
		}
	}
	found := r.Matches()
	for _, flag := range triage.FromMedicines(found.Matches) {
		add(flag, true)
	}
	for _, code := range unusable {
		add(triage.NoHeartRate, r.Answers.Of(code) == screening.Yes)
	}
	for _, m := range found.Matches {
		add(triage.NoHeartRate, m.Exact() && m.Zones.Has(medicine.NoHeartRate))
	}
	slices.Sort(known) // the order of a map is none
	return known
}
