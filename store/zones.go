package store

import (
	"errors"
	"maps"
	"slices"

	"brae/domain"
	"brae/domain/activity"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/source"
)

// Zones are the heart-rate ranges of a prescription as they were on the day it
// was signed: what they rest on, and what they were. They are stored, not
// computed again, so that a later rule changes no old prescription.
type Zones struct {
	Basis       heartrate.Basis    `json:"basis"`
	Rule        string             `json:"rule"`     // row of the basis table
	Reason      string             `json:"reason"`   // of that row, in words
	Equation    heartrate.Equation `json:"equation"` // with a predicted basis
	Scheme      string             `json:"scheme"`   // edges of the classes
	Max         int                `json:"max"`      // thousandths of a beat; 0 without a basis
	MaxError    heartrate.BPM      `json:"max_error"`
	Rest        heartrate.BPM      `json:"rest"`
	Bands       []Band             `json:"bands"`
	Ceiling     heartrate.BPM      `json:"ceiling"` // 0 is none
	CeilingFrom string             `json:"ceiling_from"`
	Notes       []string           `json:"notes"`
	Cites       []string           `json:"cites"`
	RaisedClass intensity.Class    `json:"raised_class,omitempty"` // whose low end is raised
	RaisedBy    int                `json:"raised_by,omitempty"`    // whole per cent of the reserve; 0 if none is

	Bounds Bounds `json:"-"` // what doctors have limited, as it stands now

	byMaximum bool // classes of logged heart rates go by per cent of the maximum, as prescribed
}

// Band is the range of one class; Why says why there is none.
type Band struct {
	Class       intensity.Class `json:"class"`
	Low         heartrate.BPM   `json:"low"`
	High        heartrate.BPM   `json:"high"`
	PrescribeTo heartrate.BPM   `json:"prescribe_to"`
	Why         string          `json:"why"`
}

// newZones makes the record of computed ranges.
func newZones(z heartrate.Zones) Zones {
	record := Zones{
		Basis: z.Decision.Basis, Rule: z.Decision.RuleID(), Reason: z.Reason(), Equation: z.Decision.Equation,
		Scheme: string(z.Scheme), Max: int(z.Max), MaxError: z.MaxError, Rest: z.Rest, Ceiling: z.Ceiling,
	}
	if z.Ceiling > 0 {
		record.CeilingFrom = z.CeilingFrom.String()
	}
	for _, b := range z.Bands {
		record.Bands = append(record.Bands, Band{b.Class, b.Low, b.High, b.PrescribeTo, z.Explain(b.Class)})
	}
	for _, n := range z.Notes.All() {
		record.Notes = append(record.Notes, n.Text)
	}
	for _, key := range z.Decision.Cites() {
		record.Cites = append(record.Cites, string(key))
	}
	return record
}

// evidence is a logged heart rate in the light of the recorded ranges.
func (z Zones) evidence(hr heartrate.BPM) *intensity.HeartRate {
	ranges := heartrate.Zones{
		Decision: heartrate.BasisDecision{Basis: z.Basis}, Max: heartrate.Milli(z.Max), Rest: z.Rest, Ceiling: z.Ceiling,
		ByMaximum: z.byMaximum,
	}
	return ranges.Evidence(hr)
}

// withdrawn are the ranges taken away, since what they rest on does not hold any more.
// The ceiling stays: it never rises by itself.
func (z Zones) withdrawn(why string) Zones {
	z.Basis, z.Reason, z.Equation, z.Max, z.MaxError, z.Notes = heartrate.NoBasis, why, "", 0, 0, nil
	if z.Ceiling != 0 {
		z.Basis = heartrate.CeilingOnly
	}
	z.Bands = slices.Clone(z.Bands)
	for i := range z.Bands {
		z.Bands[i] = Band{Class: z.Bands[i].Class, Why: why}
	}
	return z
}

// raised are the ranges with the low end of a class so many whole per cent of the
// reserve higher. What a logged heart rate counts as does not change by it. It returns
// [domain.Problems] where the class has no room for that.
func (z Zones) raised(c intensity.Class, by int) (Zones, error) {
	if by == 0 {
		return z, nil
	}
	if by < 0 || by >= intensity.Reserve.Width(c) {
		return z, domain.Problems{"raised": "The class does not go so far. Choose less, or a harder class."}
	}
	z.RaisedClass, z.RaisedBy = c, by
	bands := slices.Clone(z.Bands)
	for i := range bands {
		b := &bands[i]
		if b.Class != c || b.Why != "" || !z.Basis.Valid() {
			continue
		}
		low, err := heartrate.RaisedLow(heartrate.Milli(z.Max), z.Rest, c, by)
		if err != nil {
			return z, err
		}
		if low > b.Top() {
			return z, domain.Problems{"raised": "The heart-rate ceiling leaves no room for that. Choose less."}
		}
		b.Low = max(b.Low, low)
	}
	z.Bands = bands
	return z, nil
}

// lowOf is where the range of a class begins.
func (z Zones) lowOf(c intensity.Class) heartrate.BPM {
	for _, b := range z.Bands {
		if b.Class == c {
			return b.Low
		}
	}
	return 0
}

// raisedBy is by how much the low end of a class is raised; 0 for any other class.
func (z Zones) raisedBy(c intensity.Class) int {
	if z.RaisedClass != c {
		return 0
	}
	return z.RaisedBy
}

// judgePart gives a reported part its classes.
func judgePart(p PartInput, age int, zones Zones, settings source.Values) (intensity.Judgement, error) {
	e := intensity.Evidence{Minutes: p.Minutes, Talk: p.Talk, Effort: intensity.Effort(p.Effort), Age: age}
	var problems domain.Problems
	if p.HeartRate != 0 {
		found := heartrate.CheckSession(heartrate.BPM(p.HeartRate), heartrate.SessionContext{}, heartrate.PolicyFrom(settings))
		if found.Verdict == intensity.Reject {
			problems.Add("hr", found.Sentence)
		} else {
			e.HR = zones.evidence(heartrate.BPM(p.HeartRate))
		}
	}
	if a, err := activity.Find(p.Activity); err == nil {
		e.MET = intensity.MET(10 * a.METTenths) // hundredths
	}
	judged, err := intensity.Judge(e, intensity.PolicyFrom(settings))
	if found, ok := errors.AsType[domain.Problems](err); ok {
		maps.Copy(found, problems)
		return judged, found
	}
	if err == nil {
		err = problems.Err()
	}
	return judged, err
}
