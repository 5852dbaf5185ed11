package fitness

import (
	"fmt"

	"brae/domain"
)

// kJPerKcal turns the kilojoules of the equation into kilocalories.
const kJPerKcal = 4.184

// HRWork is a stretch of steady work of which the heart rate is known.
type HRWork struct {
	Age       int     // completed years
	Sex       Sex     //
	WeightKg  float64 //
	HR        int     // bpm, mean
	VO2max    *float64
	HRBlunted bool
}

// The people in whom energy was worked out from the heart rate.
//
// Source: keytel2005_sample.
const (
	EnergyAgeLow, EnergyAgeHigh       = 18, 45     // years
	EnergyWeightLow, EnergyWeightHigh = 47.0, 120. // kg
	EnergyVO2Low, EnergyVO2High       = 27.0, 81.0 // ml per kg and minute
)

// KcalMinFromHR returns the energy in kilocalories a minute, gross, from the heart
// rate of steady work; with the maximal oxygen uptake, if it is known, which makes
// it surer. It refuses, and nothing is shown, when a medicine holds the heart rate
// down, outside the ages, weights and oxygen uptakes it was worked out in, below
// the heart rate that the practice has set (90 by default: near rest the men's
// line falls below zero), and above 240; with problems at hr_blunted, age, sex,
// weight_kg, vo2max and hr.
//
// Source: keytel2005, keytel2005_vo2max, keytel2005_sample.
func KcalMinFromHR(w HRWork, policy Policy) (float64, error) {
	var p domain.Problems
	if w.HRBlunted {
		p.Add("hr_blunted", "Something holds the heart rate down, so it tells nothing about energy.")
	}
	if w.Age < EnergyAgeLow || w.Age > EnergyAgeHigh {
		p.Add("age", fmt.Sprintf("Energy from the heart rate was worked out for %d to %d years.", EnergyAgeLow, EnergyAgeHigh))
	}
	if w.Sex != Male && w.Sex != Female {
		p.Add("sex", "Choose male or female: the equation is different for them.")
	}
	if !(w.WeightKg >= EnergyWeightLow && w.WeightKg <= EnergyWeightHigh) {
		p.Add("weight_kg", fmt.Sprintf("Energy from the heart rate was worked out for %.0f to %.0f kg.", EnergyWeightLow, EnergyWeightHigh))
	}
	if w.VO2max != nil && !(*w.VO2max >= EnergyVO2Low && *w.VO2max <= EnergyVO2High) {
		p.Add("vo2max", fmt.Sprintf("Energy from the heart rate was worked out for %.0f to %.0f ml per kg and minute.", EnergyVO2Low, EnergyVO2High))
	}
	if w.HR < policy.EnergyHRLow || w.HR > highestHR {
		p.Add("hr", fmt.Sprintf("Energy is told from a heart rate of work: %d to 240.", policy.EnergyHRLow))
	}
	if p != nil {
		return 0, p
	}
	return w.kJMin() / kJPerKcal, nil
}

func (w HRWork) kJMin() float64 {
	hr, kg, age := float64(w.HR), w.WeightKg, float64(w.Age)
	switch {
	case w.VO2max == nil && w.Sex == Male:
		return -55.0969 + 0.6309*hr + 0.1988*kg + 0.2017*age
	case w.VO2max == nil:
		return -20.4022 + 0.4472*hr - 0.1263*kg + 0.0740*age
	case w.Sex == Male:
		return -95.7735 + 0.634*hr + 0.404**w.VO2max + 0.394*kg + 0.271*age
	}
	return -59.3954 + 0.450*hr + 0.380**w.VO2max + 0.103*kg + 0.274*age
}
