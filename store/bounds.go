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
	Top            heartrate.BPM         // the heart rate that the limits leave; 0 is none
	TopFrom        heartrate.CeilingKind // which of them it comes from
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
	b := Bounds{Limits: c.Limits, SupervisedOnly: c.SupervisedOnly, Restrictions: c.Restrictions, Expected: c.Expected}
	limits := b.rates()
	ceilings := limits.Ceilings(&f.heart)
	b.Top, b.TopFrom, _ = ceilings.Lowest()
	return b
}

// rates are the doctors' heart rates as the rules for ranges take them.
func (b Bounds) rates() heartrate.Limits {
	return heartrate.Limits{
		DoctorHR: heartrate.BPM(b.Limits.HeartRate), IschaemiaHR: heartrate.BPM(b.Limits.Ischaemia), ICDDetectionHR: heartrate.BPM(b.Limits.Detection),
	}
}

// within are the ranges cut by what doctors have limited since they were signed.
func (z Zones) within(b Bounds) Zones {
	z.Bounds = b
	limit := b.Top
	if limit == 0 || z.Ceiling != 0 && z.Ceiling <= limit {
		return z
	}
	z.Ceiling, z.CeilingFrom = limit, b.TopFrom.String()
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
