package activity

import (
	"fmt"

	"brae/domain"
)

// The METs and body weights that are not a slip of typing.
//
// Practice rule: practice.
const (
	LowestMETTenths  = 9   // asleep
	HighestMETTenths = 250 // a world-class runner
	LowestWeightKg   = 20.0
	HighestWeightKg  = 400.0
	HighestMinutes   = 720 // of one part
)

// Typed returns a value that a practitioner typed, such as one for a patient
// group from a paper. It refuses METs outside 0.9 to 25 with a problem at
// activity_met.
func Typed(metTenths int, b Basis) (Value, error) {
	v := Value{METTenths: metTenths, Basis: b}
	var p domain.Problems
	v.check(&p)
	return v, p.Err()
}

func (v Value) check(p *domain.Problems) {
	if v.METTenths < LowestMETTenths || v.METTenths > HighestMETTenths {
		p.Add("activity_met", "METs go from 0.9 (asleep) to 25.")
	}
	if v.Basis.OxygenTenths() == 0 {
		p.Add("basis", "A MET is either that of adults or that of older adults.")
	}
}

// In returns the same oxygen cost in another basis: 3.5 METs of adults are 4.54
// of older adults. It returns 0 for a basis that does not exist.
//
// Source: willis2024.
func (v Value) In(b Basis) float64 {
	if b.OxygenTenths() == 0 {
		return 0
	}
	return float64(v.METTenths*v.Basis.OxygenTenths()) / float64(10*b.OxygenTenths())
}

// Energy is the energy of a stretch of activity in kilocalories. Gross includes
// what the body would have used at rest in the same time; net does not. Say
// which of the two is shown, always.
type Energy struct {
	GrossKcalMin, NetKcalMin float64 // per minute
	GrossKcal, NetKcal       float64 // for the whole stretch
}

// EnergyOf returns the energy that somebody of that weight uses in that many
// minutes: METs x 3.5 (or 2.7) x kg / 200 per minute, at 5 kcal a litre of
// oxygen; net with one MET less, and so below zero for a sleeper. It refuses a weight outside 20 to 400 kg, more
// than 720 minutes and METs outside 0.9 to 25.
//
// It predicts no change of weight, and must not be used to promise one.
//
// Source: acsm_equations, willis2024.
func EnergyOf(v Value, weightKg float64, minutes int) (Energy, error) {
	var p domain.Problems
	v.check(&p)
	checkMinutes(&p, minutes)
	if !(weightKg >= LowestWeightKg && weightKg <= HighestWeightKg) {
		p.Add("weight_kg", fmt.Sprintf("A weight goes from %v to %v kg.", LowestWeightKg, HighestWeightKg))
	}
	if p != nil {
		return Energy{}, p
	}
	perMET := float64(v.Basis.OxygenTenths()) / 10 * weightKg / 200
	gross := float64(v.METTenths) / 10 * perMET
	net := float64(v.METTenths-10) / 10 * perMET
	m := float64(minutes)
	return Energy{GrossKcalMin: gross, NetKcalMin: net, GrossKcal: gross * m, NetKcal: net * m}, nil
}

func checkMinutes(p *domain.Problems, minutes int) {
	if minutes < 1 || minutes > HighestMinutes {
		p.Add("minutes", fmt.Sprintf("One part lasts from 1 to %d minutes.", HighestMinutes))
	}
}

// METMinutes returns METs x minutes, whatever the METs.
//
// Source: garber2011.
func METMinutes(v Value, minutes int) (float64, error) {
	var p domain.Problems
	v.check(&p)
	checkMinutes(&p, minutes)
	if p != nil {
		return 0, p
	}
	return float64(v.METTenths*minutes) / 10, nil
}
