package screening

import (
	"brae/domain/clearance"
	"brae/domain/intensity"
)

// wordKind is what a doctor's word comes to in this screening.
type wordKind int8

const (
	noWord wordKind = iota
	lapsedWord
	capWord // covers everything, up to a ceiling
	refusedWord
)

// word is the doctor's word on file, read against what has to be covered.
type word struct {
	kind      wordKind
	cap       intensity.Class
	uncovered []string
}

// wordOf reads the clearance on file against the causes. It counts only if it
// covers every one of them; the lowest ceiling among them is the cap.
//
// Practice rule: practice.
func wordOf(c *clearance.Clearance, causes []clearance.Cause) word {
	w := word{cap: c.Cap}
	for _, cause := range causes {
		ceiling, ok := c.Releases(cause.Code, cause.Since)
		if !ok {
			w.uncovered = append(w.uncovered, cause.Code)
			continue
		}
		w.cap = min(w.cap, ceiling)
	}
	switch {
	case c.OnFile == clearance.Refused:
		w.kind = refusedWord
	case c.OnFile == clearance.Allowed && w.uncovered == nil:
		w.kind = capWord
	case c.OnFile == clearance.LapsedWord:
		w.kind = lapsedWord
	}
	return w
}

// index numbers the six kinds of word in the table of combinations.
func (w word) index() int {
	switch w.kind {
	case lapsedWord:
		return 1
	case capWord:
		return 2 + int(w.cap-intensity.Light)
	case refusedWord:
		return 5
	}
	return 0
}

// String names the word as the table of combinations does.
func (w word) String() string {
	return [...]string{"none", "lapsed", "cap_light", "cap_moderate", "cap_vigorous", "refused"}[w.index()]
}
