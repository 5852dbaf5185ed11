package screening

import (
	"slices"

	"brae/domain/clearance"
	"brae/domain/intensity"
)

// Difference is what is different between two decisions.
type Difference struct {
	CeilingWas, CeilingIs intensity.Class
	HoldWas, HoldIs       clearance.Scope
	RegularWas, RegularIs bool
	GroupWas, GroupIs     Group
	RuleWas, RuleIs       string

	New  []string // reasons of the second that the first has not
	Gone []string // reasons of the first that the second has not
}

// Changed reports whether anything is different that a person would be told.
func (d Difference) Changed() bool {
	return d.CeilingWas != d.CeilingIs || d.HoldWas != d.HoldIs || d.RegularWas != d.RegularIs || d.GroupWas != d.GroupIs ||
		len(d.New) > 0 || len(d.Gone) > 0
}

// Compare returns what is different in the second decision.
func Compare(before, now Decision) Difference {
	return Difference{
		CeilingWas: before.CeilingNow, CeilingIs: now.CeilingNow, HoldWas: before.Hold, HoldIs: now.Hold,
		RegularWas: before.Regular, RegularIs: now.Regular, GroupWas: before.Group, GroupIs: now.Group,
		RuleWas: before.Rule, RuleIs: now.Rule,
		New: without(now.Reasons, before.Reasons), Gone: without(before.Reasons, now.Reasons),
	}
}

func without(list, others []string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(s string) bool { return slices.Contains(others, s) })
}
