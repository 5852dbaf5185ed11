package screening

import (
	"fmt"

	"brae/domain"
)

// check refuses values that no living person has.
//
// Practice rule: practice.
func (v Vitals) check() error {
	var problems domain.Problems
	whole := func(field string, value *int, low, high int, unit string) {
		if value != nil && (*value < low || *value > high) {
			problems.Add(field, fmt.Sprintf("This is from %d to %d %s.", low, high, unit))
		}
	}
	parts := func(field string, value *Hundredths, low, high Hundredths, unit string) {
		if value != nil && (*value < low || *value > high) {
			problems.Add(field, fmt.Sprintf("This is from %s to %s %s.", low, high, unit))
		}
	}
	whole("sbp", v.SBP, 50, 300, "mmHg")
	whole("dbp", v.DBP, 20, 200, "mmHg")
	whole("standing_sbp", v.StandingSBP, 50, 300, "mmHg")
	if v.SBP != nil && v.DBP != nil && *v.DBP >= *v.SBP-5 {
		problems.Add("dbp", "The lower pressure is less than the upper one by more than 5. Are they swapped?")
	}
	whole("resting_hr", v.RestingHR, 25, 150, "beats per minute")
	parts("temperature_c", v.Temperature, 3000, 4500, "degrees Celsius")
	whole("glucose_mg_dl", v.GlucoseMgDL, 10, 1000, "mg/dL")
	parts("glucose_mmol_l", v.GlucoseMmol, 50, 5500, "mmol/L")
	if v.GlucoseMgDL != nil && v.GlucoseMmol != nil && !agree(*v.GlucoseMgDL, *v.GlucoseMmol) {
		problems.Add("glucose_mmol_l", "Both blood sugars do not fit together. Give one of them.")
	}
	parts("ketones_mmol_l", v.Ketones, 0, 2000, "mmol/L")
	if v.UrineKetones != "" && rank(v.UrineKetones) == 0 {
		problems.Add("urine_ketones", "The strip says none, trace, small, moderate or large.")
	}
	whole("spo2", v.SpO2, 50, 100, "per cent")
	for _, w := range v.Weights {
		if w.Grams < 20_000 || w.Grams > 400_000 {
			problems.Add("weight_kg", "This is from 20 to 400 kg.")
		}
		if !w.On.Valid() {
			problems.Add("weight_on", "Give the day of each weight.")
		}
	}
	return problems.Err()
}

// agree reports whether two readings of blood sugar are the same but for
// rounding: 1 mmol/L is 18.016 mg/dL, and 3 mg/dL either way are let through.
func agree(mgDL int, mmol Hundredths) bool {
	apart := mgDL*100_000 - int(mmol)*18_016
	return -300_000 <= apart && apart <= 300_000
}

// Doubts says which values are possible but unusual enough to ask about: pressure
// outside 90 to 179 over 50 to 109 mmHg, resting heart rate outside 40 to 100
// bpm, weight outside 35 to 250 kg.
//
// Practice rule: practice.
func (v Vitals) Doubts() domain.Doubts {
	doubts := domain.Doubts{}
	ask := func(field string, value *int, low, high int) {
		if value != nil && (*value < low || *value > high) {
			doubts[field] = fmt.Sprintf("Is %d right? It is outside %d to %d.", *value, low, high)
		}
	}
	ask("sbp", v.SBP, 90, 179)
	ask("dbp", v.DBP, 50, 109)
	ask("resting_hr", v.RestingHR, 40, 100)
	for _, w := range v.Weights {
		if w.Grams < 35_000 || w.Grams > 250_000 {
			doubts["weight_kg"] = "Is " + Hundredths(w.Grams/10).String() + " kg right? It is outside 35 to 250."
		}
	}
	if len(doubts) == 0 {
		return nil
	}
	return doubts
}
