package clearance

import (
	"cmp"
	"slices"

	"brae/domain"
	"brae/domain/intensity"
)

// File is what the practice has of doctors about one client: all decisions ever
// recorded, and what has changed since.
type File struct {
	Decisions []Decision
	Changes   []Change
}

// Standing is a decision with the state it is in.
type Standing struct {
	Decision Decision
	State    State
}

// Standings returns the decisions with their states on a day, in their order. A
// decision is superseded once another that names it has begun, whatever becomes
// of that one, unless it was entered in error.
func (f File) Standings(today domain.Date, p Policy) []Standing {
	all := make([]Standing, len(f.Decisions))
	for i, d := range f.Decisions {
		for _, newer := range f.Decisions {
			if newer.Supersedes == d.ID && d.ID != "" && !newer.Erroneous && !newer.Starts().After(today) {
				d.SupersededBy = newer.ID
			}
		}
		all[i] = Standing{d, StateOf(d, f.Changes, today, p)}
	}
	return all
}

// OnFile is what kind of doctor's word there is.
type OnFile string

// The kinds of a doctor's word.
const (
	Nothing    OnFile = "none"
	LapsedWord OnFile = "lapsed"
	Allowed    OnFile = "cleared"
	Refused    OnFile = "refused"
)

// Cover is one disease, symptom or finding that a decision in force releases.
type Cover struct {
	Code      string
	DecidedOn domain.Date
	Ceiling   intensity.Class
	Decision  string // its id
}

// Clearance is what all doctors' decisions together allow on a day. The zero
// Clearance is nothing on file.
type Clearance struct {
	OnFile         OnFile
	Cap            intensity.Class // the ceiling, if cleared
	Covered        []Cover         // what is released, each up to its own ceiling
	LimitedTo      intensity.Class // a ceiling that outlives its decision; none is no such limit
	Limits         Limits          // the strictest of all that still bind
	Restrictions   []Restriction
	Expected       []Expected // symptoms that a decision in force allows up to a limit
	SupervisedOnly bool
	Unsupervised   bool // a decision in force names exercise on one's own
	Reasons        []string
}

// Releases returns how hard the client may work with a disease, symptom or
// finding that is known since a day (zero if nobody knows), and whether a
// decision in force releases it at all.
//
// Practice rule: practice.
func (c Clearance) Releases(code string, since domain.Date) (intensity.Class, bool) {
	ceiling, released := intensity.NearMaximal, false
	for _, cover := range c.Covered {
		if cover.Code == code {
			ceiling = min(ceiling, cover.Ceiling)
			released = released || since.IsZero() || !cover.DecidedOn.Before(since)
		}
	}
	if !released {
		return intensity.None, false
	}
	return ceiling, true
}

// Summarise returns what all decisions on file together allow for a kind of work
// on a day.
//
// Of several decisions the newest one in force counts, unless an older one comes
// from a more specialised doctor: then the lower ceiling of both does. Each
// disease, symptom or finding has its own newest decision. A decision that is
// not in force any more clears nobody, but its ceiling stays until a newer
// decision by a doctor at least as specialised takes its place; its numbers and
// restrictions stay until a decision names it as superseded. A refusal and a
// referral to another doctor stay in the same way; until that doctor has
// answered nothing is cleared, and the lowest ceiling so far stays. While a
// decision is under review, vigorous work waits.
//
// Practice rule: practice.
func (f File) Summarise(work Work, today domain.Date, p Policy) Clearance {
	c := Clearance{OnFile: Nothing}
	standings := f.Standings(today, p)
	referredOn := false
	for _, s := range standings {
		d := s.Decision
		if !s.State.Status.Binds() {
			continue
		}
		c.restrict(d, today)
		if !d.Work.includes(work) {
			continue
		}
		if s.State.InForce() {
			c.cover(s, standings, work)
		} else if c.OnFile == Nothing {
			c.OnFile = LapsedWord
		}
		if replaced(s, standings, work, "") {
			continue
		}
		switch {
		case d.Outcome == NotNow:
			c.OnFile = Refused
		case d.Outcome == ReferOn:
			referredOn = true
		case !s.State.InForce():
			c.LimitedTo = lower(c.LimitedTo, d.Ceiling)
		case c.OnFile != Refused:
			c.OnFile = Allowed
			c.Cap = lower(c.Cap, s.ceiling())
			c.Unsupervised = c.Unsupervised || d.Unsupervised
		}
		if s.State.Status != Active {
			c.Reasons = append(c.Reasons, s.State.Reason)
		}
	}
	if referredOn && c.OnFile == Allowed {
		c.OnFile, c.LimitedTo = Nothing, lower(c.LimitedTo, c.Cap)
	}
	if c.OnFile == Refused || referredOn {
		c.Cap, c.Covered, c.Expected, c.Unsupervised = intensity.None, nil, nil, false
	}
	slices.SortFunc(c.Covered, func(a, b Cover) int {
		return cmp.Or(cmp.Compare(a.Code, b.Code), a.DecidedOn.DaysSince(b.DecidedOn), cmp.Compare(a.Decision, b.Decision))
	})
	return c
}

// restrict takes over what a decision rules out.
func (c *Clearance) restrict(d Decision, today domain.Date) {
	c.Limits = c.Limits.Strictest(d.Limits)
	c.SupervisedOnly = c.SupervisedOnly || d.SupervisedOnly
	for _, r := range d.Restrictions {
		if r.Until.IsZero() || r.Until.After(today) {
			c.Restrictions = append(c.Restrictions, r)
		}
	}
}

// cover takes over what a decision in force releases.
func (c *Clearance) cover(s Standing, all []Standing, work Work) {
	if !s.Decision.Outcome.Allows() {
		return
	}
	codes := slices.Clone(s.Decision.Considered)
	for _, e := range s.Decision.Expected {
		if !replaced(s, all, work, e.Code) {
			c.Expected = append(c.Expected, e)
		}
		if !slices.Contains(codes, e.Code) {
			codes = append(codes, e.Code)
		}
	}
	for _, code := range codes {
		if !replaced(s, all, work, code) {
			c.Covered = append(c.Covered, Cover{code, s.Decision.DecidedOn, s.ceiling(), s.Decision.ID})
		}
	}
}

// ceiling is the ceiling of a decision in force: up to moderate under review.
func (s Standing) ceiling() intensity.Class {
	if s.State.Status == UnderReview {
		return min(s.Decision.Ceiling, intensity.Moderate)
	}
	return s.Decision.Ceiling
}

// replaced reports whether a newer decision in force, by a doctor at least as
// specialised, has taken the place of s: for a code, only one that covers it. A
// referral to another doctor takes no place.
func replaced(s Standing, all []Standing, work Work, code string) bool {
	return slices.ContainsFunc(all, func(o Standing) bool {
		return o.State.InForce() && o.Decision.Outcome != ReferOn && o.Decision.Work.includes(work) &&
			(o.Decision.DecidedBy.Specialist || !s.Decision.DecidedBy.Specialist) &&
			newer(o.Decision, s.Decision) &&
			(code == "" || o.Decision.Covers(code, domain.Date{}))
	})
}

// Followed reports whether a newer decision in force, by a doctor at least as
// specialised and about the same work, has taken the place of one that counts no
// more. Its limits stay all the same until it is named as superseded.
//
// Practice rule: practice.
func (f File) Followed(s Standing, today domain.Date, p Policy) bool {
	return replaced(s, f.Standings(today, p), s.Decision.work(), "")
}

// newer reports whether a was decided after b; ids made in the order of time
// settle a tie.
func newer(a, b Decision) bool {
	return cmp.Or(a.DecidedOn.DaysSince(b.DecidedOn), a.ReceivedOn.DaysSince(b.ReceivedOn), cmp.Compare(a.ID, b.ID)) > 0
}

// lower returns the lower of two ceilings, of which none is no ceiling.
func lower(a, b intensity.Class) intensity.Class {
	if a == intensity.None || b == intensity.None {
		return max(a, b)
	}
	return min(a, b)
}

// Ceiling returns the hardest class that open holds and doctors leave open: none
// if all exercise waits, near-maximal if nothing is stopped. It never says that
// a client without a decision needs none: that is the screening's to say.
//
// Practice rule: practice.
func Ceiling(holds []Hold, c Clearance) intensity.Class {
	ceiling := intensity.NearMaximal
	for _, h := range holds {
		if h.Open() {
			ceiling = min(ceiling, h.Scope.Ceiling())
		}
	}
	switch c.OnFile {
	case Refused:
		return intensity.None
	case Allowed:
		ceiling = min(ceiling, c.Cap)
	}
	if c.LimitedTo != intensity.None {
		ceiling = min(ceiling, c.LimitedTo)
	}
	return ceiling
}
