package heartrate

import (
	"errors"
	"maps"
	"slices"

	"brae/domain"
	"brae/domain/intensity"
)

// Compared is one equation beside the others, for one person.
type Compared struct {
	EquationInfo
	Used     bool   // by the ranges as they stand
	Max      Milli  // 0 where it does not fit
	Moderate Band   // unavailable where there is none
	Why      string // it does not fit, in a sentence
}

// CompareEquations returns what each equation predicts for a person, and the moderate
// range that follows from it under the same ceilings. It is empty unless the ranges
// rest on a prediction: a measured peak needs no equation, and without a basis none
// may be used.
//
// Source: gellish2007, tanaka2001, nes2013, jackson2007, fox1971, gulati2010, sydo2014, astrand, inbar1994, brawner2004, brawner_abstract, keteyian2012.
func CompareEquations(p Person, policy Policy) []Compared {
	now, err := ZonesFor(p, policy)
	if err != nil || now.Decision.Basis != Predicted {
		return nil
	}
	list := make([]Compared, 0, len(equations))
	for _, info := range equations {
		c := Compared{EquationInfo: info, Used: info.ID == now.Decision.Equation, Moderate: Band{Class: intensity.Moderate, Why: ByBasis}}
		if _, err := Maximum(info.ID, p.input()); err != nil {
			c.Why = sentence(err)
			list = append(list, c)
			continue
		}
		other := p
		other.Equation = info.ID
		if z, err := ZonesFor(other, policy); err == nil {
			c.Max, c.Moderate = z.Max, z.Band(intensity.Moderate)
		} else {
			c.Why = sentence(err)
		}
		list = append(list, c)
	}
	return list
}

// sentence is the first of what is wrong.
func sentence(err error) string {
	if problems, ok := errors.AsType[domain.Problems](err); ok {
		for _, field := range slices.Sorted(maps.Keys(problems)) {
			return problems[field]
		}
	}
	return "It cannot be used here."
}
