package intake

import (
	"slices"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/medicine"
	"brae/domain/screening"
)

// Visit is a screening with the day it was taken on.
type Visit struct {
	On     domain.Date
	Record Record
}

// Onsets tells since when what the last of some visits, in the order of their
// days, answers yes or not sure to is known. A symptom is known from the day on
// which it was first reported and not taken back since: a doctor's word from
// before is not about it. What else was there at the first visit may be old, and
// has no day.
//
// Practice rule: practice.
func Onsets(visits []Visit) []screening.Onset {
	if len(visits) == 0 {
		return nil
	}
	var list []screening.Onset
	for _, t := range screening.Codes() {
		first := len(visits)
		for first > 0 && visits[first-1].Record.Answers.Of(t.Code).CountsAsYes() {
			first--
		}
		if first < len(visits) && (first > 0 || t.Kind == screening.Symptom) {
			list = append(list, screening.Onset{Code: t.Code, On: visits[first].On})
		}
	}
	return list
}

// events are the diseases that begin with an event: one that is new is something
// that happened, not only something that was found.
//
// Practice rule: practice.
var events = []string{
	"heart_attack", "heart_attack_recent", "unstable_angina", "stroke", "stroke_acute", "tia", "atrial_fibrillation_new", "bypass_surgery", "stent", "defibrillator", "pacemaker",
	"lung_clot", "leg_clot",
}

// Changes returns what has changed from each visit to the next that bears on a
// doctor's decision: symptoms, diseases and events that are new, medicines that
// were started, stopped or changed, a pregnancy that began or ended. A symptom
// that a visit reports counts as within the limit of a doctor who expects it:
// nothing there says otherwise.
//
// Practice rule: practice.
func Changes(visits []Visit) []clearance.Change {
	var list []clearance.Change
	for i := 1; i < len(visits); i++ {
		before, now := visits[i-1].Record, visits[i].Record
		on := visits[i].On
		for _, t := range screening.Codes() {
			was, is := before.Answers.Of(t.Code).CountsAsYes(), now.Answers.Of(t.Code).CountsAsYes()
			c := clearance.Change{On: on, Code: t.Code}
			switch {
			case t.Code == "pregnant" && was != is:
				c.Kind = clearance.PregnancyOrBirth
			case was || !is:
				continue
			case t.Kind == screening.Symptom:
				c.Kind, c.WithinLimit = clearance.NewSymptom, true
			case slices.Contains(events, t.Code):
				c.Kind = clearance.NewEvent
			case t.Heading != "":
				c.Kind = clearance.NewDiagnosis
			default:
				continue
			}
			list = append(list, c)
		}
		list = append(list, medicineChanges(before, now, on)...)
	}
	return list
}

// medicineChanges compares two lists of medicines. A name that is only nearly
// known counts as what it may be.
func medicineChanges(before, now Record, on domain.Date) []clearance.Change {
	var list []clearance.Change
	change := func(kind medicine.Kind, f medicine.Found) {
		f.Certainty = medicine.Exact
		stale, err := medicine.AfterChange(kind, f)
		if err == nil && stale.Any() {
			list = append(list, clearance.Change{
				Kind: clearance.MedicineChange, On: on, Code: f.Name, HeartRate: stale.ReviewHR, Glucose: stale.ReviewSugar,
			})
		}
	}
	old, young := before.Matches().Matches, now.Matches().Matches
	for _, f := range young {
		switch i := slices.IndexFunc(old, func(o medicine.Found) bool { return o.Name == f.Name }); {
		case i < 0:
			change(medicine.Started, f)
		case dose(before, f.Name) != dose(now, f.Name):
			change(medicine.DoseChanged, f)
		}
	}
	for _, f := range old {
		if !slices.ContainsFunc(young, func(o medicine.Found) bool { return o.Name == f.Name }) {
			change(medicine.Stopped, f)
		}
	}
	return list
}

// dose is the line as typed on which a medicine stands.
func dose(r Record, name string) string {
	for _, line := range r.Medicines {
		line, _ = Started(line)
		for _, f := range medicine.Match(line).Matches {
			if f.Name == name {
				return line
			}
		}
	}
	return ""
}
