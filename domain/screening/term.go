package screening

import (
	"slices"

	"brae/domain/clearance"
	"brae/domain/source"
)

// Kind is what a code stands for.
type Kind string

// The kinds of codes.
const (
	Symptom      Kind = "symptom"      // sign or symptom
	Known        Kind = "disease"      // known disease that counts
	Finding      Kind = "finding"      // contraindication
	Complication Kind = "complication" // of diabetes; bears on the walking exception only
	Pregnancy    Kind = "pregnancy"
	Noted        Kind = "noted" // does not change the decision by itself
)

// Heading is which kind of disease counts.
type Heading string

// The headings.
//
// Source: riebe2015, acsm_cells.
const (
	Cardiovascular Heading = "cardiovascular"
	Metabolic      Heading = "metabolic"
	Renal          Heading = "renal"
)

// Tier is how firmly a finding stops exercise.
type Tier string

// The tiers. Absolute: released only when the condition is recorded as resolved
// and a doctor's decision is dated after that. Relative: released by a doctor's
// decision that names it.
//
// Practice rule: practice.
const (
	Absolute Tier = "absolute"
	Relative Tier = "relative"
)

// Term is one thing that a client is asked about, or that a practitioner finds.
type Term struct {
	Code    string          // short, lower case: chest_pressure
	Row     string          // the row it stands for: SX_CHEST, DX_METABOLIC, CX_UA, E13
	Kind    Kind            //
	Heading Heading         // for what counts as a known disease
	Tier    Tier            // for what stops exercise by itself
	Scope   clearance.Scope // how much a finding stops
	Needs   clearance.Needs // what releases it; empty goes by the tier
	Name    string          // begins a sentence
	Asks    string          // the question, in plain words
	Means   string          // what it may mean; for symptoms
	Acute   string          // what makes it an emergency now; for symptoms
	Cites   []source.Key
}

// Required reports whether a screening is incomplete without an answer: all
// signs and symptoms, and all diseases that count and stop nothing by themselves.
//
// Practice rule: practice.
func (t Term) Required() bool { return t.Kind == Symptom || t.Kind == Known && t.Tier == "" }

// needs is what releases a hold for the term.
func (t Term) needs() clearance.Needs {
	switch {
	case t.Needs != "":
		return t.Needs
	case t.Tier == Absolute:
		return clearance.NeedsResolution
	}
	return clearance.NeedsDoctor
}

// Codes returns all codes with what they stand for, in the order of the form.
func Codes() []Term { return slices.Clone(terms[:]) }

// TermOf returns what a code stands for.
func TermOf(code string) (Term, bool) {
	i, ok := position[code]
	if !ok {
		return Term{}, false
	}
	return terms[i], true
}

// termCount is how many codes there are.
const termCount = len(symptomTerms) + len(diseaseTerms) + len(findingTerms) + len(pregnancyTerms) + len(otherTerms)

// terms is all codes.
var terms = func() (all [termCount]Term) {
	copy(all[:], slices.Concat(symptomTerms[:], diseaseTerms[:], findingTerms[:], pregnancyTerms[:], otherTerms[:]))
	return all
}()

// position is where each code is in terms.
var position = func() map[string]int {
	at := make(map[string]int, termCount)
	for i, t := range terms {
		at[t.Code] = i
	}
	return at
}()
