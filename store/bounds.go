package store

import (
	"brae/domain/clearance"
	"brae/domain/heartrate"
)

// Bounds are what doctors have limited for a client beside the ceiling: numbers,
// supervision, what is ruled out, and symptoms that are expected up to a limit.
// They hold also where the decision itself has lapsed.
type Bounds struct {
	Limits         clearance.Limits
	SupervisedOnly bool
	Restrictions   []clearance.Restriction
	Expected       []clearance.Expected
}

// Any reports whether anything is limited.
func (b Bounds) Any() bool {
	return b.Limits.Any() || b.SupervisedOnly || len(b.Restrictions) > 0 || len(b.Expected) > 0
}

func (f *clearanceFile) bounds() Bounds {
	c := f.Clearance
	return Bounds{c.Limits, c.SupervisedOnly, c.Restrictions, c.Expected}
}

// within are the ranges cut by what doctors have limited since they were signed.
func (z Zones) within(b Bounds) Zones {
	z.Bounds = b
	limit := heartrate.BPM(b.Limits.HeartRate)
	if limit == 0 || z.Ceiling != 0 && z.Ceiling <= limit {
		return z
	}
	z.Ceiling, z.CeilingFrom = limit, heartrate.DoctorCeiling.String()
	bands := make([]Band, len(z.Bands))
	for i, band := range z.Bands {
		if band.Why == "" {
			cut := heartrate.Band{Class: band.Class, Low: band.Low, High: band.High, PrescribeTo: band.PrescribeTo}.Within(limit)
			band.Low, band.High, band.PrescribeTo = cut.Low, cut.High, cut.PrescribeTo
			if cut.Why != heartrate.Available {
				band.Why = "The doctor's limit is below this range."
			}
		}
		bands[i] = band
	}
	z.Bands = bands
	if z.Basis == heartrate.NoBasis {
		z.Basis = heartrate.CeilingOnly
	}
	return z
}
