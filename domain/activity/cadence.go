package activity

import (
	"brae/domain"
	"brae/domain/intensity"
)

// The steps a minute at which an adult who walks reaches 3 and 6 METs. They are
// rounded for use: at 41 to 60 years the 3-MET point of one person lies anywhere
// from 55 to 111. Absolute METs are not relative intensity: young men needed 129
// steps a minute for 40 % of their oxygen uptake reserve.
//
// Source: tudorlocke2019, tudorlocke2020.
const (
	CadenceModerate = 100
	CadenceVigorous = 130
)

// CadenceClass returns the class, by absolute METs, of walking at so many steps a
// minute. It says Light for anything slower than moderate, since the cadence
// does not tell light from very light. It refuses fewer than 1 and more than 250
// steps with a problem at steps_min.
//
// Source: tudorlocke2019, tudorlocke2020.
func CadenceClass(stepsMin int) (intensity.Class, error) {
	switch {
	case stepsMin < 1 || stepsMin > 250:
		return intensity.None, domain.Problems{"steps_min": "Count the steps of one minute: from 1 to 250."}
	case stepsMin >= CadenceVigorous:
		return intensity.Vigorous, nil
	case stepsMin >= CadenceModerate:
		return intensity.Moderate, nil
	}
	return intensity.Light, nil
}
