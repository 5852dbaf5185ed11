package store

import (
	"context"

	"brae/domain/fitness"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/prescription"
)

// Views are the classes by the methods that stand beside the heart-rate reserve.
type Views struct {
	ByMaximum []Band                 // empty without a basis
	Oxygen    []heartrate.OxygenBand // empty without a maximal oxygen uptake
	Test      *TestResult            // that it comes from
	VO2max    float64                // ml per kg and minute
	aim       fitness.Aim            // of workloads, for any class
	works     map[intensity.Class]fitness.Workloads
}

// Works are the works that should bring the client into a class, and what they were
// worked out from.
func (v Views) Works(c intensity.Class) (fitness.Aim, fitness.Workloads, bool) {
	w, ok := v.works[c]
	aim := v.aim
	aim.Class = c
	return aim, w, ok
}

// AimLine is a figure of the method that a prescription is signed with, from the lower
// to the upper edge of the class. The unit says in what: bpm, METs in hundredths, m/min,
// kgm/min or steps a minute.
type AimLine struct {
	Work         fitness.Mode  `json:"work,omitempty"`
	Grade        float64       `json:"grade,omitempty"`       // a fraction
	StepHeight   float64       `json:"step_height,omitempty"` // m
	Low          float64       `json:"low"`
	High         float64       `json:"high"`
	Start        float64       `json:"start,omitempty"`         // to begin with
	StartOutside bool          `json:"start_outside,omitempty"` // easier than the equation was made for
	Cut          fitness.Range `json:"cut,omitempty"`           // of [fitness.Range]
	Unit         string        `json:"unit"`
}

// Workload is the line as a work.
func (l AimLine) Workload() fitness.Workload {
	return fitness.Workload{
		Mode: l.Work, Grade: l.Grade, StepHeight: l.StepHeight, Low: l.Low, High: l.High, Start: l.Start,
		StartOutside: l.StartOutside, Cut: l.Cut,
	}
}

// The units of aims.
const (
	UnitBPM  = "bpm"
	UnitMETs = "METs"
	UnitWork = "work"
)

// views computes the classes by the other methods.
func (t *tx) views(ctx context.Context, person heartrate.Person, d *PrescriptionDraft) (v Views, err error) {
	if z, err := heartrate.ZonesFor(person, heartrate.PolicyFrom(t.settings)); err == nil && d.Zones.Basis.Valid() {
		for _, b := range z.MaximumView() {
			band := Band{Class: b.Class, Low: b.Low, High: b.High, PrescribeTo: b.High}
			if cap := z.Band(b.Class).PrescribeTo; b.Class == intensity.Vigorous && cap > 0 {
				band.PrescribeTo = max(b.Low, min(b.High, cap)) // no harder than by the reserve
			}
			if b.Why != heartrate.Available {
				band.Why = "This class has no range by the maximal heart rate."
			}
			v.ByMaximum = append(v.ByMaximum, band)
		}
	}
	load := WorkloadPage{Client: d.Client}
	if err := load.load(ctx, t, WorkloadInput{}); err != nil {
		return v, err
	}
	v.Test, v.VO2max, v.aim = load.Basis, load.Aim.VO2max, load.Aim
	if v.VO2max == 0 {
		return v, nil
	}
	if bands, err := heartrate.OxygenView(heartrate.Oxygen(v.VO2max*1000 + 0.5)); err == nil {
		v.Oxygen = bands[:]
	}
	v.works = map[intensity.Class]fitness.Workloads{}
	for c := intensity.Light; c <= min(load.Ceiling, intensity.Vigorous); c++ {
		v.aim.Class = c
		if w, err := fitness.WorkFor(v.aim, fitness.PolicyFrom(t.settings)); err == nil {
			v.works[c] = w
		}
	}
	return v, nil
}

// Aim returns the figures of a method for a class, or why it cannot be prescribed by it.
func (d PrescriptionDraft) Aim(m prescription.Method, c intensity.Class) (lines []AimLine, why string) {
	lines = []AimLine{}
	bands := d.Zones.Bands
	if m == prescription.Maximum {
		bands = d.Views.ByMaximum
	}
	known := prescription.Known{Basis: d.Zones.Basis, Oxygen: len(d.Views.Oxygen) > 0}
	for _, b := range bands {
		if b.Class == c && b.Why == "" {
			known.Open = true
			if m == prescription.Reserve || m == prescription.Maximum {
				low := b.Low
				if d.Zones.raisedBy(c) > 0 { // as raised by the reserve, as far as this method goes
					low = min(max(low, d.Zones.lowOf(c)), b.Top())
				}
				lines = append(lines, AimLine{Low: float64(low), High: float64(b.Top()), Unit: UnitBPM})
			}
		}
	}
	works := d.Views.works[c]
	known.Works = len(works.Works)
	if why := m.WhyNot(known); why != "" {
		return []AimLine{}, why
	}
	switch m {
	case prescription.Oxygen:
		for _, b := range d.Views.Oxygen {
			if b.Class == c {
				lines = append(lines, AimLine{Low: float64(b.From.METs()), High: float64(b.To.METs()), Unit: UnitMETs})
			}
		}
	case prescription.Workload:
		for _, w := range works.Works {
			lines = append(lines, AimLine{
				Work: w.Mode, Grade: w.Grade, StepHeight: w.StepHeight, Low: w.Low, High: w.High, Start: w.Start,
				StartOutside: w.StartOutside, Cut: w.Cut, Unit: UnitWork,
			})
		}
	}
	return lines, ""
}

// Top is how far up a range goes as it is prescribed: to its end where the class is
// never prescribed by heart rate.
func (b Band) Top() heartrate.BPM {
	if b.PrescribeTo == 0 {
		return b.High
	}
	return min(b.High, b.PrescribeTo)
}

// shown are the ranges that the client goes by. A prescription by per cent of the
// maximal heart rate has the range it was signed with, and no other beside it: edges of
// the two methods lie up to ten beats apart, and one page shows one method.
// A logged heart rate is classed by the same edges.
func (p Prescription) shown() Zones {
	z := p.Zones
	if z.byMaximum = p.Method == prescription.Maximum; !z.byMaximum {
		return z
	}
	z.Bands = make([]Band, len(p.Zones.Bands))
	for i, b := range p.Zones.Bands {
		z.Bands[i] = Band{Class: b.Class, Why: "The prescription goes by per cent of the maximal heart rate, which was set for another class."}
		if b.Class == p.Dose().Class && len(p.Aim) == 1 {
			low, high := heartrate.BPM(p.Aim[0].Low), heartrate.BPM(p.Aim[0].High)
			z.Bands[i] = Band{Class: b.Class, Low: low, High: high, PrescribeTo: high}
		}
	}
	return z
}
