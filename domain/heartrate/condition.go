package heartrate

import (
	"fmt"
	"strings"
)

// Condition is a set of what decides whether a heart rate can steer effort. The
// zero Condition is none of them.
type Condition uint16

// The conditions.
const (
	Pregnant            Condition = 1 << iota // until released after the birth
	Transplant                                // of the heart
	Pacemaker                                 // kind not known; treated as fixed-rate
	PacemakerFixed                            // fixed rate
	PacemakerResponsive                       // rate-responsive or tracking
	ICD                                       // implanted defibrillator
	Fibrillation                              // atrial fibrillation now
	IrregularPulse                            // found irregular today, or frequent extra beats
	FibrillationAtTimes                       // paroxysmal, in sinus rhythm today
	HeartFailure
	Neuropathy // of the autonomic nerves
	SpinalT6   // spinal-cord lesion at T6 or above
	Incompetence
	Coronary
	BetaBlocker
)

// ConditionInfo tells one condition.
type ConditionInfo struct {
	Condition Condition
	Code      string // as stored and as `brae calc` reads it
	Says      string
	Row       int // of the basis table; 0 if it only opens an equation
}

var conditions = [...]ConditionInfo{
	{Pregnant, "pregnant", "Pregnant, or not yet released after the birth", 2},
	{Transplant, "heart_transplant", "Transplanted heart", 3},
	{Pacemaker, "pacemaker", "Pacemaker, kind not known", 4},
	{PacemakerFixed, "pacemaker_fixed", "Pacemaker at a fixed rate", 4},
	{PacemakerResponsive, "pacemaker_rate_responsive", "Pacemaker that follows effort or the atrium", 5},
	{ICD, "icd", "Implanted defibrillator", 6},
	{Fibrillation, "atrial_fibrillation", "Atrial fibrillation now", 7},
	{IrregularPulse, "irregular_pulse", "Pulse found irregular today", 7},
	{FibrillationAtTimes, "atrial_fibrillation_paroxysmal", "Atrial fibrillation at times, regular today", 8},
	{HeartFailure, "heart_failure", "Heart failure", 11},
	{Neuropathy, "autonomic_neuropathy", "Damaged nerves of the heart (autonomic neuropathy)", 11},
	{SpinalT6, "spinal_cord_t6", "Spinal-cord lesion at T6 or above", 11},
	{Incompetence, "chronotropic_incompetence", "A heart known not to speed up with effort", 11},
	{Coronary, "coronary_disease", "Coronary heart disease", 0},
	{BetaBlocker, "beta_blocker", "Takes a beta-blocker", 9},
}

// Conditions returns all conditions, in the order of the basis table.
//
// Practice rule: practice.
func Conditions() []ConditionInfo { return append([]ConditionInfo(nil), conditions[:]...) }

// ParseCondition reads the code of one condition.
func ParseCondition(code string) (Condition, error) {
	for i := range conditions {
		if conditions[i].Code == code {
			return conditions[i].Condition, nil
		}
	}
	return 0, fmt.Errorf("condition %q is not known", code)
}

// Has reports whether any of the conditions of x is in c.
func (c Condition) Has(x Condition) bool { return c&x != 0 }

// String writes the codes in the order of the basis table, with commas.
func (c Condition) String() string {
	var codes []string
	for i := range conditions {
		if c.Has(conditions[i].Condition) {
			codes = append(codes, conditions[i].Code)
		}
	}
	return strings.Join(codes, ",")
}

// Medicines is what the medicines of a person, taken together, leave valid: the
// set of their zone codes. The zero Medicines changes nothing (Z0).
type Medicines uint8

// The zone codes.
//
// Source: matsuda1991, keteyian2023.
// Practice rule: practice.
const (
	Z1 Medicines = 1 << iota // a predicted maximum is not valid, one measured on the medicine is
	Z2                       // the reserve needs a resting heart rate taken on the medicine
	Z3                       // heart rate cannot be used
	Z4                       // heart rate is fine; blood pressure falls
	Z5                       // the glucose rules apply
	Z6                       // information only
)

// ParseMedicines reads zone codes joined by plus signs, such as Z1+Z4. Z0 and
// nothing at all are the empty set.
func ParseMedicines(codes string) (Medicines, error) {
	var m Medicines
	if codes == "" {
		return m, nil
	}
	for code := range strings.SplitSeq(codes, "+") {
		if len(code) != 2 || code[0] != 'Z' || code[1] < '0' || code[1] > '6' {
			return 0, fmt.Errorf("zone code %q: not one of Z0 to Z6", code)
		}
		if n := code[1] - '0'; n > 0 {
			m |= 1 << (n - 1)
		}
	}
	return m, nil
}

// Has reports whether any of the codes of x is in m.
func (m Medicines) Has(x Medicines) bool { return m&x != 0 }

// String writes the codes joined by plus signs, the empty set as Z0.
func (m Medicines) String() string {
	if m == 0 {
		return "Z0"
	}
	var codes []string
	for n := range 6 {
		if m.Has(1 << n) {
			codes = append(codes, fmt.Sprintf("Z%d", n+1))
		}
	}
	return strings.Join(codes, "+")
}
