package heartrate

import (
	"brae/domain"
	"brae/domain/intensity"
)

// MaximumView returns the same classes by per cent of the maximal heart rate:
// another method, with edges that can lie ten beats and more away from those of
// the reserve. The two are never mixed in one range, and nothing is prescribed by
// this one: PrescribeTo is 0. It follows the basis and the ceiling of z, so nothing
// is shown that z would not show.
//
// Source: garber2011.
func (z *Zones) MaximumView() [5]Band {
	view := *z
	if z.Max == 0 {
		return view.Bands
	}
	low := z.Rest
	for i := range view.Bands {
		b := &view.Bands[i]
		*b = Band{Class: intensity.Class(i + 1)}
		next := z.Max.Floor() + 1
		if b.Class < intensity.NearMaximal {
			next = (Exact(z.Max) * Exact(intensity.Maximum.From(b.Class+1)) * 100).Ceil()
		}
		next = max(next, low) // a resting rate can lie above the edge
		b.Low, b.High, low = low, next-1, next
	}
	view.cut()
	for i := range view.Bands {
		if b := &view.Bands[i]; b.Why == Available && b.Low > b.High {
			*b = Band{Class: b.Class, Why: ByResting}
		}
	}
	return view.Bands
}

// Oxygen is an oxygen uptake in thousandths of a millilitre per kilogram and
// minute: 30 mL is 30000.
type Oxygen int

// RestingOxygen is the uptake at rest, 1 MET: 3.5 mL per kilogram and minute.
//
// Source: acsm_getp_heart_rate.
const RestingOxygen Oxygen = 3500

// highestOxygen bounds what is taken for a maximal uptake.
const highestOxygen Oxygen = 100_000

// OxygenTarget returns resting + percent x (maximal - resting) oxygen uptake,
// exactly, in millilitres per kilogram and minute. The percentages are those of
// the heart-rate reserve. It returns [domain.Problems] for a maximum that is not
// above 3.5 and at most 100, or a percentage outside 0-100.
//
// Source: swain1997, acsm_getp_heart_rate.
func OxygenTarget(maximal Oxygen, p intensity.Percent) (Exact, error) {
	if maximal <= RestingOxygen || maximal > highestOxygen {
		return 0, domain.Problems{"vo2max": "The maximal oxygen uptake must be above 3.5 and at most 100 mL per kg and minute."}
	}
	if err := checkPercent(p); err != nil {
		return 0, err
	}
	return Exact(RestingOxygen)*10_000 + Exact(p)*Exact(maximal-RestingOxygen), nil
}

// METs returns an oxygen uptake in METs, to the nearest hundredth, half up.
func (e Exact) METs() intensity.MET {
	perMET := Exact(RestingOxygen) * 10_000
	return intensity.MET((2*100*e + perMET) / (2 * perMET))
}

// OxygenBand is the range of one class in oxygen uptake: from From to below To,
// near-maximal up to To itself.
type OxygenBand struct {
	Class    intensity.Class
	From, To Exact // millilitres per kilogram and minute
}

// OxygenView returns the classes by the oxygen-uptake reserve. It returns the
// errors of [OxygenTarget].
//
// Source: swain1997, garber2011.
func OxygenView(maximal Oxygen) ([5]OxygenBand, error) {
	var view [5]OxygenBand
	if _, err := OxygenTarget(maximal, 0); err != nil {
		return view, err
	}
	edge := func(percent int) Exact {
		return Exact(RestingOxygen)*10_000 + Exact(percent)*100*Exact(maximal-RestingOxygen)
	}
	for i := range view {
		c := intensity.Class(i + 1)
		to := 100
		if c < intensity.NearMaximal {
			to = intensity.OxygenReserve.From(c + 1)
		}
		view[i] = OxygenBand{c, edge(intensity.OxygenReserve.From(c)), edge(to)}
	}
	return view, nil
}
