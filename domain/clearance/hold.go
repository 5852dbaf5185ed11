package clearance

import (
	"fmt"
	"slices"

	"brae/domain"
)

// Kind is what opened a hold.
type Kind string

// The kinds of hold.
const (
	FromScreening    Kind = "screening"
	FromVitals       Kind = "vitals"
	FromTriage       Kind = "triage"
	FromPractitioner Kind = "practitioner"
)

// Needs is what it takes to release a hold.
type Needs string

// What it takes to release a hold, from the most.
const (
	NeedsResolution   Needs = "resolution"   // the condition recorded as resolved, and a doctor's decision dated after that
	NeedsDoctor       Needs = "doctor"       // a doctor's decision that covers the cause
	NeedsPractitioner Needs = "practitioner" // a practitioner, with a reason
	NeedsStatement    Needs = "statement"    // the client's own word, such as a day without fever
)

// Hold is an open stop on all exercise, on work above light, or on vigorous
// work. It is released, never deleted.
type Hold struct {
	ID       string      `json:"id"`
	Scope    Scope       `json:"scope"`
	Kind     Kind        `json:"kind"`
	Cause    string      `json:"cause"` // code of the disease, symptom or finding
	Rule     string      `json:"rule"`  // the rule that opened it: A019, V6
	Reason   string      `json:"reason"`
	Since    domain.Date `json:"since"`  // when the cause began; zero if nobody knows
	Opened   domain.Date `json:"opened"` // the day the hold was opened
	OpenedBy string      `json:"opened_by"`
	Needs    Needs       `json:"needs"`    // empty is a doctor's decision
	Resolved domain.Date `json:"resolved"` // the day the condition was recorded as resolved
	Released *Release    `json:"released"` // nil while it is open
}

// Open reports whether the hold still stops anything.
func (h Hold) Open() bool { return h.Released == nil && h.Scope != NoHold }

// Release is the end of a hold.
type Release struct {
	On       domain.Date `json:"on"`
	Role     domain.Role `json:"role"`
	By       string      `json:"by"`
	Reason   string      `json:"reason"`
	Decision string      `json:"decision"` // id of the decision that covers the cause, if one has to
}

// CanRelease reports whether a hold may be released, and returns the release
// completed with the decision it rests on. It returns [domain.Problems] for a
// release that says too little, [domain.ErrForbidden] where the person may not,
// [domain.ErrHeld] where no decision covers the cause yet and
// [domain.ErrConflict] for a hold that is released already.
//
// A decision covers the cause if it is in force for aerobic work, names it, and
// was not signed before the cause began; where the condition has to be resolved
// first, not before that day either.
//
// Practice rule: practice.
func CanRelease(h Hold, r Release, f File, p Policy) (Release, error) {
	if !h.Open() {
		return Release{}, fmt.Errorf("release hold %s: %w", h.ID, domain.ErrConflict)
	}
	var problems domain.Problems
	if r.On.IsZero() {
		problems.Add("on", "Give the day.")
	}
	if r.By == "" {
		problems.Add("by", "Say who releases the hold.")
	}
	if r.Reason == "" {
		problems.Add("reason", "Write why the hold is released.")
	}
	if problems != nil {
		return Release{}, problems
	}
	if !r.Role.Staff() && (h.Needs != NeedsStatement || r.Role != domain.RoleClient) {
		return Release{}, fmt.Errorf("release hold %s as %s: %w", h.ID, r.Role, domain.ErrForbidden)
	}
	since := h.Since
	if since.IsZero() && h.Kind != FromScreening { // it began when it was seen; a disease may be old
		since = h.Opened
	}
	switch h.Needs {
	case NeedsPractitioner, NeedsStatement:
		return r, nil
	case NeedsResolution:
		if h.Resolved.IsZero() || h.Resolved.After(r.On) {
			return Release{}, fmt.Errorf("release hold %s: %s is not recorded as resolved: %w", h.ID, h.Cause, domain.ErrHeld)
		}
		if since.Before(h.Resolved) {
			since = h.Resolved
		}
	}
	standings := f.Standings(r.On, p)
	i := slices.IndexFunc(standings, func(s Standing) bool {
		return s.State.Status == Active && s.Decision.Work.includes(Aerobic) && s.Decision.Covers(h.Cause, since)
	})
	if i < 0 {
		return Release{}, fmt.Errorf("release hold %s: no doctor's decision covers %s: %w", h.ID, h.Cause, domain.ErrHeld)
	}
	r.Decision = standings[i].Decision.ID
	return r, nil
}
