package heartrate

import (
	"brae/domain"
	"brae/domain/intensity"
)

// bounds of what the arithmetic takes: far wider than what may be saved, and so
// narrow that nothing overflows.
const (
	highestMax  = 300_000 // thousandths
	highestRate = 400
)

// reserve returns the heart-rate reserve in thousandths of a beat.
func reserve(max Milli, rest BPM) (int64, error) {
	switch {
	case rest < 1 || rest > highestRate:
		return 0, domain.Problems{"resting_hr": "The resting heart rate must be a number of beats a minute."}
	case max < 1 || max > highestMax:
		return 0, domain.Problems{"measured_max": "The maximal heart rate must be a number of beats a minute up to 300."}
	case max <= rest.Milli():
		return 0, domain.Problems{"resting_hr": "The resting heart rate must be below the maximal heart rate."}
	}
	return int64(max - rest.Milli()), nil
}

// target is rest + percent of the reserve d, for whole per cent.
func target(rest BPM, d int64, percent int) Exact {
	return Exact(rest)*one + Exact(percent)*Exact(d)*100
}

// Target returns resting + percent x (maximal - resting), exactly. It returns
// [domain.Problems] when the maximum is not above resting, either is no heart
// rate, or the percentage is outside 0-100.
//
// Source: karvonen1957.
func Target(max Milli, rest BPM, p intensity.Percent) (Exact, error) {
	d, err := reserve(max, rest)
	if err != nil {
		return 0, err
	}
	if err := checkPercent(p); err != nil {
		return 0, err
	}
	return Exact(rest)*one + Exact(p)*Exact(d), nil
}

// RaisedLow returns the lowest heart rate of a class whose low end lies so many whole
// per cent of the reserve higher: a little harder within the class. It returns the
// errors of [Target].
//
// Source: karvonen1957, garber2011.
func RaisedLow(max Milli, rest BPM, c intensity.Class, by int) (BPM, error) {
	low, err := Target(max, rest, intensity.Percent(intensity.Reserve.From(c)+by)*intensity.OnePercent)
	if err != nil {
		return 0, err
	}
	return low.Ceil(), nil
}

// PercentOfMaximum returns percent x maximal, exactly. It is another method than
// [Target], with other edges between the classes.
//
// Source: cdc_hr_older, aha_hr.
func PercentOfMaximum(max Milli, p intensity.Percent) (Exact, error) {
	if max < 1 || max > highestMax {
		return 0, domain.Problems{"measured_max": "The maximal heart rate must be a number of beats a minute up to 300."}
	}
	if err := checkPercent(p); err != nil {
		return 0, err
	}
	return Exact(max) * Exact(p), nil
}

func checkPercent(p intensity.Percent) error {
	if p < 0 || p > 100*intensity.OnePercent {
		return domain.Problems{"percents": "A percentage must be from 0 to 100."}
	}
	return nil
}

// PercentOf returns where a heart rate lies in the reserve, to the nearest
// hundredth of a per cent, half up. Below resting it is negative and above the
// maximum it is over 100 %: that is data, not an error, and nothing is cut. It
// returns [domain.Problems] when there is no reserve.
//
// Source: karvonen1957.
func PercentOf(max Milli, rest, hr BPM) (intensity.Percent, error) {
	d, err := reserve(max, rest)
	if err != nil {
		return 0, err
	}
	if hr < 0 || hr > highestRate {
		return 0, domain.Problems{"hr": "The heart rate must be a number of beats a minute."}
	}
	const hundred = int64(100 * intensity.OnePercent)
	n := 2*int64(hr-rest)*1000*hundred + d // half up: (2n + d) / 2d, towards minus infinity
	q := n / (2 * d)
	if n%(2*d) < 0 {
		q--
	}
	return intensity.Percent(q), nil
}

// ClassOf returns the class of a heart rate by the reserve, compared exactly. It
// is None when the maximum is not above resting.
//
// Source: garber2011, karvonen1957.
func ClassOf(max Milli, rest, hr BPM) intensity.Class {
	d, err := reserve(max, rest)
	if err != nil {
		return intensity.None
	}
	return intensity.Reserve.Of(int64(hr-rest)*1000, d)
}

// TargetError returns by how much a target at a percentage of the reserve is off
// when the maximum is off by so many beats. It grows with the percentage: 11 beats
// in the maximum are 4.4 at 40 % and 9.35 at 85 %.
//
// Source: karvonen1957.
func TargetError(p intensity.Percent, maxError BPM) (Exact, error) {
	if err := checkPercent(p); err != nil {
		return 0, err
	}
	return Exact(maxError) * Exact(p) * 1000, nil
}

// RestingError returns by how much a target is off when the resting heart rate is
// off by so many beats: 5 beats are 3 at 40 %.
//
// Source: karvonen1957.
func RestingError(p intensity.Percent, restError BPM) (Exact, error) {
	if err := checkPercent(p); err != nil {
		return 0, err
	}
	return Exact(restError) * Exact(100*intensity.OnePercent-p) * 1000, nil
}

// TenSecondCount returns the beats in ten seconds at a heart rate, the nearest,
// half up. One beat more or less in the count is 6 a minute: too coarse to tell
// classes apart near an edge.
//
// Practice rule: practice.
func TenSecondCount(hr BPM) int { return (int(hr) + 3) / 6 }
