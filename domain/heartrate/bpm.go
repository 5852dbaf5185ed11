// Package heartrate tells which heart rates a person may train at: the maximal
// heart rate, whether there is a valid basis for a range at all, the ranges of
// the five classes, and the ceilings above which nobody goes.
//
// All arithmetic is in whole numbers and exact. A maximal heart rate is kept in
// thousandths of a beat, the finest that any equation here needs, and is never
// rounded before it is used: rounding it first moves a range by a beat.
package heartrate

import (
	"strconv"
	"strings"
)

// BPM is a heart rate in whole beats a minute. Where a field says so, 0 is not
// known.
type BPM int

// Milli is a heart rate in thousandths of a beat a minute: 175.5 is 175500. An
// integer keeps every equation here exact; hundredths would not do for
// 205.8 - 0.685 x age.
type Milli int

// Milli returns b in thousandths.
func (b BPM) Milli() Milli { return Milli(b) * 1000 }

// Nearest returns the nearest whole beat, half up, for showing only.
func (m Milli) Nearest() BPM { return BPM((m + 500) / 1000) }

// Floor returns the whole beats of m.
func (m Milli) Floor() BPM { return BPM(m / 1000) }

// String writes the beats exactly: 175.5.
func (m Milli) String() string { return decimal(int64(m), 3) }

// MarshalJSON writes the beats as a number.
func (m Milli) MarshalJSON() ([]byte, error) { return []byte(m.String()), nil }

// Exact is a result without any rounding, in ten-millionths of its unit: beats a
// minute, or millilitres of oxygen per kilogram and minute. A maximum in
// thousandths times a percentage in hundredths of a per cent needs that many.
type Exact int64

const one Exact = 10_000_000

// Nearest returns the nearest whole beat, half up. That is how published tables
// print a target.
//
// Source: aha_hr, cdc_hr_older.
func (e Exact) Nearest() BPM { return BPM((e + one/2) / one) }

// Floor returns the highest whole beat that is not above e.
func (e Exact) Floor() BPM { return BPM(e / one) }

// Ceil returns the lowest whole beat that is not below e.
func (e Exact) Ceil() BPM { return BPM((e + one - 1) / one) }

// String writes e with all its decimals: 171.5.
func (e Exact) String() string { return decimal(int64(e), 7) }

// MarshalJSON writes e as a number with all its decimals.
func (e Exact) MarshalJSON() ([]byte, error) { return []byte(e.String()), nil }

// Tenths returns e in tenths, half up: 9.35 beats are 94.
func (e Exact) Tenths() int { return int((e + one/20) / (one / 10)) }

// decimal writes n units of 10^-places without trailing noughts.
func decimal(n int64, places int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	digits := strconv.FormatInt(n, 10)
	if missing := places + 1 - len(digits); missing > 0 {
		digits = strings.Repeat("0", missing) + digits
	}
	whole, fraction := digits[:len(digits)-places], strings.TrimRight(digits[len(digits)-places:], "0")
	if fraction != "" {
		fraction = "." + fraction
	}
	return sign + whole + fraction
}
