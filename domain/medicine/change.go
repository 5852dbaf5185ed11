package medicine

import "brae/domain"

// Stale says what a change of medicine makes stale, and what has to be looked
// at again.
type Stale struct {
	RestingHR    bool // resting heart rate must be taken again before zones are worked out anew
	MeasuredMax  bool // a measured maximum no longer stands
	TalkTestOnly bool // until then: talk test and perceived exertion
	ReviewHR     bool // a doctor's decision that carries a heart-rate limit goes under review
	ReviewSugar  bool // a doctor's decision that carries a glucose limit goes under review
}

// Any reports whether anything is stale.
func (s Stale) Any() bool { return s != Stale{} }

// Kind is a kind of change of a medicine.
type Kind string

// The kinds of change. A change of the time of day counts as a change of dose.
const (
	Started     Kind = "started"
	Stopped     Kind = "stopped"
	DoseChanged Kind = "dose_changed"
)

// AfterChange returns what starting, stopping or changing the dose of the
// medicine makes stale. A medicine that bears on heart rate (Z1, Z2, Z3) makes
// everything about heart rate stale, whichever way it changes; starting insulin
// or insulin-releasing tablets puts glucose limits under review.
//
// A match that nobody has confirmed and a kind that does not exist are errors.
//
// Practice rule: practice.
func AfterChange(kind Kind, f Found) (Stale, error) {
	var p domain.Problems
	if kind != Started && kind != Stopped && kind != DoseChanged {
		p.Add("kind", "Say whether the medicine was started, stopped or given in another dose.")
	}
	if !f.Exact() {
		p.Add("name", "Confirm first which medicine this is: "+f.Typed+".")
	}
	if p != nil {
		return Stale{}, p
	}
	var s Stale
	switch f.Zones.Strictest() {
	case NoHeartRate, MeasuredOnly, RestOnDrug:
		s = Stale{RestingHR: true, MeasuredMax: true, TalkTestOnly: true, ReviewHR: true}
	}
	s.ReviewSugar = kind == Started && (f.Class == Insulin || f.Class == InsulinReleasing)
	return s, nil
}
