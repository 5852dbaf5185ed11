// Package volume adds up what a client did in a week: minutes by intensity, the
// moderate-equivalent sum, what is left of the week's target, and what would
// fill it.
//
// Minutes are whole and count in any bout length. What a class is, and how a
// stretch of work gets one, is decided in package intensity; strength and
// balance are counted in days and MET-minutes are another sum: neither is here.
package volume

import "brae/domain/intensity"

// VigorousWorth is how many moderate minutes one vigorous minute is worth. A
// near-maximal minute is worth the same, not more.
//
// Source: paga2018, who2020.
const VigorousWorth = 2

// Part is a stretch of a session at one intensity. [CheckSession] says what is
// acceptable; sums take the parts as they are.
type Part struct {
	Minutes int             // whole minutes
	Class   intensity.Class // None if nothing told how hard it was
}

// Totals are the minutes of some sessions by intensity. The zero Totals is
// nothing done. Totals compare with ==.
//
// Source: paga2018.
type Totals struct {
	Light              int // light and very light minutes: shown, not in ModerateEquivalent
	Moderate           int
	Vigorous           int // vigorous and near-maximal minutes, as they ran
	ModerateEquivalent int // Moderate + VigorousWorth x Vigorous
	Unjudged           int // minutes whose intensity nobody told: shown, not in ModerateEquivalent
}

// Of returns the totals of one part. A part of ten minutes or less counts like
// any other: the ten-minute bout of older guidance is gone since 2018.
//
// Source: paga2018, who2020.
func Of(p Part) Totals {
	var t Totals
	t.count(p)
	return t
}

// count adds a part to t in place: a year of parts is summed for every client
// of a list.
func (t *Totals) count(p Part) {
	switch p.Class {
	case intensity.VeryLight, intensity.Light:
		t.Light += p.Minutes
	case intensity.Moderate:
		t.Moderate += p.Minutes
		t.ModerateEquivalent += p.Minutes
	case intensity.Vigorous, intensity.NearMaximal:
		t.Vigorous += p.Minutes
		t.ModerateEquivalent += VigorousWorth * p.Minutes
	default:
		t.Unjudged += p.Minutes
	}
}

// Sum returns the totals of all parts. It does not matter how a session was
// split into parts, nor on which days of a week the sessions were.
//
// Source: paga2018.
func Sum(parts []Part) Totals {
	var t Totals
	for _, p := range parts {
		t.count(p)
	}
	return t
}

// Add returns the totals of both together.
func (t Totals) Add(u Totals) Totals {
	return Totals{
		Light:              t.Light + u.Light,
		Moderate:           t.Moderate + u.Moderate,
		Vigorous:           t.Vigorous + u.Vigorous,
		ModerateEquivalent: t.ModerateEquivalent + u.ModerateEquivalent,
		Unjudged:           t.Unjudged + u.Unjudged,
	}
}

// Minutes returns all minutes as they ran, of any intensity.
func (t Totals) Minutes() int { return t.Light + t.Moderate + t.Vigorous + t.Unjudged }
