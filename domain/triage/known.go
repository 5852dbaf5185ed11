package triage

import (
	"slices"

	"brae/domain/medicine"
)

// Flag is something known about a client that changes what a report means.
type Flag string

// The flags. Those that make a symptom an expected one (StableAngina,
// LungExpected, BenignPalpitations, LegPainExpected) need a doctor's decision
// in force that names the symptom; a diagnosis alone does not set them.
const (
	Cardiac            Flag = "cardiac"
	HeartFailure       Flag = "heart_failure"
	StableAngina       Flag = "stable_angina"
	LungExpected       Flag = "lung_disease"
	BenignPalpitations Flag = "benign_palpitations"
	LegPainExpected    Flag = "claudication"
	LegArteryDisease   Flag = "peripheral_artery_disease"
	Diabetes           Flag = "diabetes"
	Pregnant           Flag = "pregnant"
	OnPressureMedicine Flag = "pressure_medicine"
	OnAnticoagulant    Flag = "anticoagulant"
	RateSlowed         Flag = "rate_slowing_medicine"
	NoHeartRate        Flag = "heart_rate_unusable"
)

// FlagInfo is a flag with what it means.
type FlagInfo struct {
	Flag Flag
	Says string
}

var flags = []FlagInfo{
	{Cardiac, "A known heart disease"},
	{HeartFailure, "Heart failure"},
	{StableAngina, "Stable angina that a doctor's decision names as expected"},
	{LungExpected, "Lung disease with breathlessness that a doctor's decision names as expected"},
	{BenignPalpitations, "Brief palpitations that a doctor has called harmless"},
	{LegPainExpected, "Leg pain on walking that a doctor's decision names as expected"},
	{LegArteryDisease, "Narrowed leg arteries"},
	{Diabetes, "Diabetes"},
	{Pregnant, "Pregnant, or not yet released after birth"},
	{OnPressureMedicine, "A medicine that lowers blood pressure (zone code Z4)"},
	{OnAnticoagulant, "An anticoagulant"},
	{RateSlowed, "A medicine that slows the heart (zone code Z1)"},
	{NoHeartRate, "A rhythm, a device or a medicine that makes heart rate unusable (zone code Z3)"},
}

// Flags returns every flag with what it means.
func Flags() []FlagInfo { return slices.Clone(flags) }

// FromMedicines returns the flags that the medicines set. Suggested matches
// count where the flag makes an answer more careful, and not for RateSlowed,
// which excuses a heart rate that does not rise.
//
// Practice rule: practice.
func FromMedicines(matches []medicine.Found) []Flag {
	var known []Flag
	add := func(f Flag) {
		if !slices.Contains(known, f) {
			known = append(known, f)
		}
	}
	for _, m := range matches {
		if m.Zones.Has(medicine.Pressure) {
			add(OnPressureMedicine)
		}
		if m.Class == medicine.Anticoagulant {
			add(OnAnticoagulant)
		}
		if m.Exact() && m.Zones.Has(medicine.MeasuredOnly) {
			add(RateSlowed)
		}
	}
	return known
}

// expectedBy is which symptom, named as expected by a doctor's decision in force,
// sets which flag. The codes are those of the screening.
//
// Practice rule: practice.
var expectedBy = map[string]Flag{
	"angina":           StableAngina,
	"chest_pressure":   StableAngina,
	"breathlessness":   LungExpected,
	"palpitations":     BenignPalpitations,
	"leg_pain_walking": LegPainExpected,
}

// Expected returns the flags that a doctor's decision in force sets by naming
// symptoms as expected ones.
//
// Practice rule: practice.
func Expected(codes []string) []Flag {
	var known []Flag
	for _, code := range codes {
		if f, ok := expectedBy[code]; ok && !slices.Contains(known, f) {
			known = append(known, f)
		}
	}
	return known
}

// know is the flags of a client, with those that others imply.
type know map[Flag]bool

func knowing(known []Flag) know {
	k := know{}
	for _, f := range known {
		k[f] = true
	}
	k[Cardiac] = k[Cardiac] || k[HeartFailure] || k[StableAngina]
	k[LegArteryDisease] = k[LegArteryDisease] || k[LegPainExpected]
	return k
}
