package activity

import "brae/domain/intensity"

// classOf returns the class of METs given in tenths, for adults of any age.
//
// Source: garber2011.
func classOf(metTenths int) intensity.Class {
	switch {
	case metTenths <= 0:
		return intensity.None
	case metTenths < 20:
		return intensity.VeryLight
	case metTenths < 30:
		return intensity.Light
	case metTenths < 60:
		return intensity.Moderate
	case metTenths < 88:
		return intensity.Vigorous
	}
	return intensity.NearMaximal
}
