package screening

import (
	"brae/domain"
	"brae/domain/clearance"
)

// RiskClass is the class of a heart patient for events in exercise.
type RiskClass string

// The classes. Unknown is not low: something that low asks for was not tested.
//
// Source: aacvpr_class.
const (
	LowRisk      RiskClass = "low"
	ModerateRisk RiskClass = "moderate"
	HighRisk     RiskClass = "high"
	UnknownRisk  RiskClass = "unknown"
)

// HeartProfile is what is known of a heart patient. Unanswered and nil are not
// known; not sure counts as yes.
type HeartProfile struct {
	RhythmInTest         Answer      // complex ventricular rhythm in the test or after it
	SymptomsInTest       Answer      // angina or another significant symptom
	SymptomsAt           *Hundredths // METs at which they began
	SymptomsInRecovery   Answer
	SilentIschaemia      Answer
	STDepression         *Hundredths // mm
	AbnormalPressureRate Answer      // pressure flat or falling, or heart rate not rising, in effort or after it
	Capacity             *Hundredths // METs
	EjectionFraction     *int        // per cent, at rest
	ComplicatedEvent     Answer      // heart attack or procedure with complications
	IschaemiaAfter       Answer      // after the event
	PastArrest           Answer
	HeartFailure         Answer
	RhythmAtRest         Answer // complex disturbance at rest
	Depression           Answer // clinical
}

// The limits between the risk classes: METs and millimetres in hundredths,
// ejection fraction in per cent.
//
// Source: aacvpr_class, screening_memory.
const (
	lowCapacityFrom       Hundredths = 700 // low needs as much
	moderateCapacityBelow Hundredths = 500
	symptomsHighBelow     Hundredths = 500 // METs; symptoms at less are high risk
	ischaemiaHighFrom     Hundredths = 200 // mm
	ejectionLowFrom                  = 50  // low needs as much
	ejectionHighBelow                = 40
)

// Risk is a class with what led to it.
type Risk struct {
	Class   RiskClass
	Reasons []string
	Missing []string // what low asks for and nobody knows
}

// RiskOf places a heart patient: high with any item of high risk, low only with
// all items of low risk, moderate otherwise. Where nothing speaks for moderate
// and an item of low risk is not known, the class is unknown. It returns a
// [domain.Problems] for METs outside 0.5 to 25, a depression of the ST segment
// outside 0 to 10 mm and an ejection fraction outside 5 to 90 per cent.
//
// Source: aacvpr_class, screening_memory.
func RiskOf(h HeartProfile) (Risk, error) {
	if err := h.check(); err != nil {
		return Risk{}, err
	}
	var high, moderate, missing []string
	item := func(a Answer, says string) {
		switch {
		case a.CountsAsYes():
			high = append(high, says)
		case a == Unanswered:
			missing = append(missing, says)
		}
	}
	item(h.RhythmInTest, "Complex ventricular rhythm in the test or after it.")
	item(h.SymptomsInRecovery, "Symptoms after the test.")
	item(h.AbnormalPressureRate, "Pressure or heart rate behaves abnormally in effort or after it.")
	item(h.ComplicatedEvent, "A heart attack or procedure with complications.")
	item(h.IschaemiaAfter, "Shortage of blood to the heart after the event.")
	item(h.PastArrest, "A past cardiac arrest.")
	item(h.HeartFailure, "Heart failure.")
	item(h.RhythmAtRest, "A complex disturbance of rhythm at rest.")
	item(h.Depression, "Clinical depression.")

	switch {
	case h.SymptomsInTest == Unanswered:
		missing = append(missing, "Symptoms in the test.")
	case !h.SymptomsInTest.CountsAsYes():
	case h.SymptomsAt != nil && *h.SymptomsAt < symptomsHighBelow:
		high = append(high, "Symptoms at low effort, below 5 METs.")
	default:
		moderate = append(moderate, "Symptoms in the test, not known to be at low effort.")
	}
	switch {
	case h.SilentIschaemia == Unanswered:
		missing = append(missing, "Silent shortage of blood in the electrocardiogram.")
	case !h.SilentIschaemia.CountsAsYes():
	case h.STDepression != nil && *h.STDepression >= ischaemiaHighFrom:
		high = append(high, "Marked silent shortage of blood, 2 mm or more.")
	default:
		moderate = append(moderate, "Silent shortage of blood, not known to be marked.")
	}
	switch {
	case h.Capacity == nil:
		missing = append(missing, "Fitness in METs.")
	case *h.Capacity < moderateCapacityBelow:
		moderate = append(moderate, "Fitness below 5 METs.")
	case *h.Capacity < lowCapacityFrom:
		moderate = append(moderate, "Fitness below 7 METs, which low risk asks for.")
	}
	switch {
	case h.EjectionFraction == nil:
		missing = append(missing, "Ejection fraction at rest.")
	case *h.EjectionFraction < ejectionHighBelow:
		high = append(high, "Ejection fraction below 40 per cent.")
	case *h.EjectionFraction < ejectionLowFrom:
		moderate = append(moderate, "Ejection fraction of 40 to 49 per cent.")
	}
	switch {
	case high != nil:
		return Risk{HighRisk, high, missing}, nil
	case moderate != nil:
		return Risk{ModerateRisk, moderate, missing}, nil
	case missing != nil:
		return Risk{UnknownRisk, []string{"Without test data nobody is at low risk."}, missing}, nil
	}
	return Risk{LowRisk, []string{"All items of low risk are there."}, nil}, nil
}

func (h HeartProfile) check() error {
	var problems domain.Problems
	for _, f := range []struct {
		field     string
		value     *Hundredths
		low, high Hundredths
		sentence  string
	}{
		{"symptoms_at_mets", h.SymptomsAt, 50, 2500, "METs are from 0.5 to 25."},
		{"capacity_mets", h.Capacity, 50, 2500, "METs are from 0.5 to 25."},
		{"st_depression_mm", h.STDepression, 0, 1000, "The depression is from 0 to 10 mm."},
	} {
		if f.value != nil && (*f.value < f.low || *f.value > f.high) {
			problems.Add(f.field, f.sentence)
		}
	}
	if h.EjectionFraction != nil && (*h.EjectionFraction < 5 || *h.EjectionFraction > 90) {
		problems.Add("ejection_fraction", "The ejection fraction is from 5 to 90 per cent.")
	}
	return problems.Err()
}

// AloneAllowed reports whether the class lets a patient exercise unattended, and
// says why not: high does not; moderate and unknown only with a doctor's decision
// in force that names exercise on one's own and sets a heart-rate limit.
//
// Source: thomas2019, aha_class_c. Practice rule: practice.
func (c RiskClass) AloneAllowed(word clearance.Clearance) (ok bool, why string) {
	switch c {
	case LowRisk:
		return true, ""
	case HighRisk:
		return false, "High risk: exercise under supervision only."
	}
	switch {
	case !word.Unsupervised:
		return false, "Not at low risk: a doctor's decision has to name exercise on one's own."
	case word.Limits.HeartRate == 0:
		return false, "Not at low risk: the doctor's decision has to set a heart-rate limit."
	}
	return true, ""
}
