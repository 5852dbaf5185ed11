package medicine

import (
	"slices"
)

// Certainty says how a name was found in a text.
type Certainty string

// The certainties.
const (
	Exact     Certainty = "exact"     // the name stands there, or a spelling of it that we know
	Suggested Certainty = "suggested" // one slip away, or part of a name: a practitioner must confirm it
)

// Found is a medicine found in a text.
type Found struct {
	Typed     string    // what stood there
	Name      string    // our name of it
	Class     Class     // what it belongs to
	Zones     Zones     // what it leaves valid
	Certainty Certainty // a suggestion counts for nothing until it is confirmed
	AskRoute  bool      // exists as eye drops and as tablets, and the text does not say which; the stricter is assumed
}

// Exact reports whether the find may be relied on.
func (f Found) Exact() bool { return f.Certainty == Exact }

// Result is what [Match] made of a text.
type Result struct {
	Matches []Found  // in the order of the text; a slip may have several suggestions
	Unknown []string // what fits no name: stored as typed, for a practitioner to classify
}

// Match finds the medicines in a text such as "metoprolol succinate 50 mg,
// aspirin". It takes no dose, form or salt for a name, and never a slip for a
// name: that is only suggested.
//
// Practice rule: practice.
func Match(text string) Result { return Aliases(nil).Match(text) }

// Exact returns the matches that may be relied on.
func (r Result) Exact() []Found {
	return slices.DeleteFunc(slices.Clone(r.Matches), func(f Found) bool { return !f.Exact() })
}

// Settled reports whether nothing is left for a practitioner to confirm, ask or
// classify.
func (r Result) Settled() bool {
	return len(r.Unknown) == 0 &&
		!slices.ContainsFunc(r.Matches, func(f Found) bool { return !f.Exact() || f.AskRoute })
}

// Zones returns what the exact matches leave valid together: a combination
// takes every class found.
//
// Practice rule: practice.
func (r Result) Zones() Zones { return ZonesOf(r.Matches) }

// ZonesOf returns what the exact ones among the matches leave valid together.
//
// Practice rule: practice.
func ZonesOf(matches []Found) Zones {
	var z Zones
	for _, f := range matches {
		if f.Exact() {
			z |= f.Zones
		}
	}
	return z
}

// ZonesUntilConfirmed returns what is left valid when the suggestions count too:
// what to go by until a practitioner has confirmed or refused them.
//
// Practice rule: practice.
func (r Result) ZonesUntilConfirmed() Zones {
	var z Zones
	for _, f := range r.Matches {
		z |= f.Zones
	}
	return z
}

// Taking reports whether an exact match is of that class.
func (r Result) Taking(c Class) bool {
	return slices.ContainsFunc(r.Matches, func(f Found) bool { return f.Exact() && f.Class == c })
}
