package screening

import (
	"errors"
	"fmt"

	"brae/domain"
)

// check refuses values that no living person has.
//
// Practice rule: practice.
func (v Vitals) check(b Bands) error {
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
	whole("sbp", v.SBP, b.Systolic.Low, b.Systolic.High, "mmHg")
	whole("dbp", v.DBP, b.Diastolic.Low, b.Diastolic.High, "mmHg")
	whole("standing_sbp", v.StandingSBP, b.Systolic.Low, b.Systolic.High, "mmHg")
	if v.SBP != nil && v.DBP != nil && *v.DBP >= *v.SBP-b.PressureGap {
		problems.Add("dbp", fmt.Sprintf("The lower pressure is less than the upper one by more than %d. Are they swapped?", b.PressureGap))
	}
	whole("resting_hr", v.RestingHR, 25, 150, "beats per minute")
	parts("temperature_c", v.Temperature, Hundredths(10*b.Temperature.Low), Hundredths(10*b.Temperature.High), "degrees Celsius")
	whole("glucose_mg_dl", v.GlucoseMgDL, b.Glucose.Low, b.Glucose.High, "mg/dL")
	parts("glucose_mmol_l", v.GlucoseMmol, 50, 5500, "mmol/L")
	if v.GlucoseMgDL != nil && v.GlucoseMmol != nil && !agree(*v.GlucoseMgDL, *v.GlucoseMmol) {
		problems.Add("glucose_mmol_l", "Both blood sugars do not fit together. Give one of them.")
	}
	parts("ketones_mmol_l", v.Ketones, 0, 2000, "mmol/L")
	if v.UrineKetones != "" && rank(v.UrineKetones) == 0 {
		problems.Add("urine_ketones", "The strip says none, trace, small, moderate or large.")
	}
	whole("spo2", v.SpO2, b.Oxygen.Low, b.Oxygen.High, "per cent")
	for _, w := range v.Weights {
		if w.Grams < 1000*b.Weight.Low || w.Grams > 1000*b.Weight.High {
			problems.Add("weight_kg", fmt.Sprintf("This is from %d to %d kg.", b.Weight.Low, b.Weight.High))
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

// Doubts says which values are possible but unusual enough to ask about: those
// outside the bands that have to be confirmed, of pressure and weight, and a
// resting heart rate outside 40 to 100 bpm.
//
// Practice rule: practice.
func (v Vitals) Doubts(b Bands) domain.Doubts {
	doubts := domain.Doubts{}
	ask := func(field string, value *int, low, high int) {
		if value != nil && (*value < low || *value > high) {
			doubts[field] = fmt.Sprintf("Is %d right? It is outside %d to %d.", *value, low, high)
		}
	}
	ask("sbp", v.SBP, b.Systolic.ConfirmLow, b.Systolic.ConfirmHigh)
	ask("dbp", v.DBP, b.Diastolic.ConfirmLow, b.Diastolic.ConfirmHigh)
	ask("resting_hr", v.RestingHR, 40, 100)
	for _, w := range v.Weights {
		if w.Grams < 1000*b.Weight.ConfirmLow || w.Grams > 1000*b.Weight.ConfirmHigh {
			doubts["weight_kg"] = fmt.Sprintf("Is %s kg right? It is outside %d to %d.", Hundredths(w.Grams/10), b.Weight.ConfirmLow, b.Weight.ConfirmHigh)
		}
	}
	if len(doubts) == 0 {
		return nil
	}
	return doubts
}

// inAgain leads the problems of a second measurement to its fields.
func inAgain(err error) error {
	problems, ok := errors.AsType[domain.Problems](err)
	if !ok {
		return err
	}
	led := domain.Problems{}
	for field, sentence := range problems {
		led[field+"_again"] = sentence
	}
	return led
}
