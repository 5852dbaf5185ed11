// Package fitness estimates aerobic fitness: the energy equations of walking,
// running, cycling and stepping, tests that need no laboratory, norms by age and
// sex, and how much of a change between two tests is real.
//
// Every estimate is for a group. For one person it is off by 3 to 6 ml of oxygen
// per kg and minute, which is why a result carries its standard error and why
// [Compare] calls a small change no change.
//
// Quantities are SI: m, m/min, kg, minutes with decimals, grade as a fraction
// (0.05 is 5 %). Nothing here is rounded; the Show functions round for display.
package fitness

import (
	"math"
	"strconv"

	"brae/domain"
)

// Sex is the sex that an equation or a norm was worked out for.
type Sex = domain.Sex

// The sexes that the equations know.
const (
	Male   = domain.Male
	Female = domain.Female
)

// one returns what the equations multiply their term for sex by.
func one(s Sex) float64 {
	if s == Male {
		return 1
	}
	return 0
}

// ShowVO2 writes ml per kg and minute to a tenth.
func ShowVO2(vo2 float64) string { return strconv.FormatFloat(vo2, 'f', 1, 64) }

// ShowMETs writes METs to a tenth.
func ShowMETs(mets float64) string { return strconv.FormatFloat(mets, 'f', 1, 64) }

// ShowWatts writes whole watts.
func ShowWatts(w float64) string { return strconv.FormatFloat(w, 'f', 0, 64) }

// ShowKmH writes km/h to a tenth.
func ShowKmH(kmh float64) string { return strconv.FormatFloat(kmh, 'f', 1, 64) }

// tidy takes the dust of binary arithmetic off a difference, so that 1.15 - 1.10
// reaches a threshold of 0.05.
func tidy(x float64) float64 { return math.Round(x*1e6) / 1e6 }

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
