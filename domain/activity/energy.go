package activity

import (
	"fmt"

	"brae/domain"
	"brae/domain/intensity"
)

// weekMinutes is how many minutes a week has.
const weekMinutes = 7 * 24 * 60

// Typed returns a value that a practitioner typed, such as one for a patient
// group from a paper. It refuses METs that the practice's limits refuse (outside
// 0.9 to 25 by default) with a problem at activity_met.
//
// Practice rule: practice.
func Typed(metTenths int, b Basis, policy Policy) (Value, error) {
	v := Value{METTenths: metTenths, Basis: b}
	var p domain.Problems
	v.check(&p, policy)
	if p != nil {
		return Value{}, p
	}
	return v, nil
}

func (v Value) check(p *domain.Problems, policy Policy) {
	if f := intensity.CheckMET(v.mets(), policy.Intensity); f.Verdict == intensity.Reject {
		p.Add("activity_met", f.Sentence)
	}
	if v.Basis.OxygenTenths() == 0 {
		p.Add("basis", "A MET is either that of adults or that of older adults.")
	}
}

func (v Value) mets() intensity.MET { return intensity.MET(10 * v.METTenths) }

// In returns the METs of the same oxygen cost in another basis: 3.5 METs of
// adults are 4.54 of older adults. It returns 0 for a basis that does not exist.
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
// oxygen; net with one MET less, and so below zero for a sleeper. It refuses
// METs and weights outside the practice's limits, and less than a minute or more
// than a week, with problems at activity_met, basis, weight_kg and minutes.
//
// It predicts no change of weight, and must not be used to promise one.
//
// Source: acsm_equations, willis2024.
func EnergyOf(v Value, weightKg float64, minutes int, policy Policy) (Energy, error) {
	var p domain.Problems
	v.check(&p, policy)
	checkMinutes(&p, minutes)
	CheckWeight(&p, weightKg, policy)
	if p != nil {
		return Energy{}, p
	}
	perMET := float64(v.Basis.OxygenTenths()) / 10 * weightKg / 200
	gross := float64(v.METTenths) / 10 * perMET
	net := float64(v.METTenths-10) / 10 * perMET
	m := float64(minutes)
	return Energy{GrossKcalMin: gross, NetKcalMin: net, GrossKcal: gross * m, NetKcal: net * m}, nil
}

// CheckWeight notes a problem at weight_kg if a body weight in kg is outside the
// practice's limits, or not a number.
//
// Practice rule: practice.
func CheckWeight(p *domain.Problems, weightKg float64, policy Policy) {
	low, high := policy.WeightLowKg, policy.WeightHighKg
	if !(weightKg >= float64(low) && weightKg <= float64(high)) { // so written, NaN is refused too
		p.Add("weight_kg", fmt.Sprintf("A weight goes from %d to %d kg.", low, high))
	}
}

func checkMinutes(p *domain.Problems, minutes int) {
	if minutes < 1 || minutes > weekMinutes {
		p.Add("minutes", fmt.Sprintf("Minutes go from 1 to %d, a whole week.", weekMinutes))
	}
}

// METMinutes returns METs x minutes, whatever the METs. It refuses what
// [EnergyOf] refuses.
//
// Source: garber2011.
func METMinutes(v Value, minutes int, policy Policy) (float64, error) {
	var p domain.Problems
	v.check(&p, policy)
	checkMinutes(&p, minutes)
	if p != nil {
		return 0, p
	}
	return float64(v.METTenths*minutes) / 10, nil
}
