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
	For      Sex    // whose row it is, where the sex was not said and the equation needs one
	Used     bool   // by the ranges as they stand
	Max      Milli  // 0 where it does not fit
	Moderate Band   // unavailable where there is none
	Why      string // it does not fit, in a sentence
}

// CompareEquations returns what each equation predicts for a person, and the moderate
// range that follows from it under the same ceilings. It is empty unless the ranges
// rest on a prediction: a measured peak needs no equation, and without a basis none
// may be used. Where the sex was not said, an equation that needs one stands there for
// each sex that it was made for.
//
// Source: gellish2007, tanaka2001, nes2013, jackson2007, fox1971, gulati2010, sydo2014, astrand, inbar1994, brawner2004, brawner_abstract, keteyian2012.
func CompareEquations(p Person, policy Policy) []Compared {
	now, err := ZonesFor(p, policy)
	if err != nil || now.Decision.Basis != Predicted {
		return nil
	}
	list := make([]Compared, 0, len(equations))
	for _, info := range equations {
		one := Compared{EquationInfo: info, Used: info.ID == now.Decision.Equation, Moderate: Band{Class: intensity.Moderate, Why: ByBasis}}
		if !info.NeedsSex || p.Sex != "" {
			one.of(p, policy)
			list = append(list, one)
			continue
		}
		for _, sex := range []Sex{Female, Male} {
			if info.OnlySex == "" || info.OnlySex == sex {
				each, other := one, p
				each.For, other.Sex = sex, sex
				each.of(other, policy)
				list = append(list, each)
			}
		}
	}
	return list
}

// of fills in what the equation gives for a person.
func (c *Compared) of(p Person, policy Policy) {
	p.Equation = c.ID
	_, err := Maximum(c.ID, p.input())
	if err == nil {
		var z Zones
		if z, err = ZonesFor(p, policy); err == nil {
			c.Max, c.Moderate = z.Max, z.Band(intensity.Moderate)
			return
		}
	}
	c.Why = sentence(err)
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
