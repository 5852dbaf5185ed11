package clearance

import (
	"slices"

	"brae/domain"
)

// Status is where a decision stands.
type Status string

// The statuses of a decision.
const (
	Recorded       Status = "recorded" // its first day is yet to come
	Active         Status = "active"
	UnderReview    Status = "under_review"
	Lapsed         Status = "lapsed"
	Superseded     Status = "superseded"
	Revoked        Status = "revoked"
	EnteredInError Status = "entered_in_error"
)

// Binds reports whether what a decision limits stands: also after it has lapsed or was
// revoked, until another one is named in its place.
//
// Practice rule: practice.
func (s Status) Binds() bool { return s != EnteredInError && s != Superseded && s != Recorded }

// State is where a decision stands, since when and why.
type State struct {
	Status Status
	Rule   string      // the rule that says so
	Since  domain.Date // zero if nobody noted the day
	Reason string      // in words
}

// InForce reports whether the decision still clears anybody, if only up to
// moderate work while it is under review.
func (s State) InForce() bool { return s.Status == Active || s.Status == UnderReview }

// ChangeKind is a kind of change that bears on a decision.
type ChangeKind string

// The changes.
const (
	NewSymptom       ChangeKind = "new_symptom" // new, or one that has changed
	NewEvent         ChangeKind = "new_event"   // heart attack, faint, stroke, rhythm, admission, surgery, shock, clot
	NewDiagnosis     ChangeKind = "new_diagnosis"
	MedicineChange   ChangeKind = "medicine_change" // started, stopped or another dose
	PregnancyOrBirth ChangeKind = "pregnancy"
	VitalsFinding    ChangeKind = "vitals_finding" // one of the vital signs that stop exercise; Code is its rule
	ConsentWithdrawn ChangeKind = "consent_withdrawn"
)

// Change is something that happened after a decision, or may have.
type Change struct {
	Kind        ChangeKind  `json:"kind"`
	On          domain.Date `json:"on"`
	Code        string      `json:"code"`         // symptom, disease, event or rule
	WithinLimit bool        `json:"within_limit"` // an expected symptom that stays within the doctor's limit
	HeartRate   bool        `json:"heart_rate"`   // a medicine that bears on heart rate
	Glucose     bool        `json:"glucose"`      // insulin or insulin-releasing tablets
	Hints       bool        `json:"hints"`        // a medicine that is given for a disease nobody has declared
}

// EndsScreening reports whether the change makes a screening out of date: a
// symptom beyond what a doctor expects, an event, a diagnosis, a medicine that
// bears on heart rate or blood sugar or hints at a disease, a pregnancy.
//
// Practice rule: practice.
func (c Change) EndsScreening() bool {
	switch c.Kind {
	case NewSymptom:
		return !c.WithinLimit
	case NewEvent, NewDiagnosis, PregnancyOrBirth:
		return true
	case MedicineChange:
		return c.HeartRate || c.Glucose || c.Hints
	}
	return false
}

// vitalsUnderReview are the vital signs that put a decision under review when
// they come twice.
//
// Practice rule: practice.
var vitalsUnderReview = [...]string{"V1", "V2", "V6", "V19"}

// StateOf returns where a decision stands on a day, after what has changed.
// Changes after that day do not count yet; a change on the very day the decision
// was signed counts unless the decision names it.
//
// Source: riebe2015. Practice rule: practice.
func StateOf(d Decision, changes []Change, today domain.Date, p Policy) State {
	switch {
	case d.Erroneous:
		return State{EnteredInError, "clearance.error", domain.Date{}, "This decision was entered in error."}
	case !d.RevokedOn.IsZero() && !d.RevokedOn.After(today):
		return State{Revoked, "clearance.revoked", d.RevokedOn, "This decision was revoked on " + d.RevokedOn.Words() + "."}
	case d.SupersededBy != "":
		return State{Superseded, "clearance.superseded", domain.Date{}, "A newer decision has taken the place of this one."}
	case d.Starts().After(today):
		return State{Recorded, "clearance.starts", d.Starts(), "This decision starts on " + d.Starts().Words() + "."}
	}
	if s, ok := expired(d, today, p); ok {
		return s
	}
	changes = slices.SortedStableFunc(slices.Values(changes), func(a, b Change) int { return a.On.DaysSince(b.On) })
	review, found := State{}, false
	for i, c := range changes {
		if c.On.After(today) || c.On.Before(d.DecidedOn) || c.On == d.DecidedOn && d.Covers(c.Code, domain.Date{}) {
			continue
		}
		s, ok := c.effect(d, changes[:i], p)
		switch {
		case !ok:
		case s.Status == Lapsed:
			return s
		case !found:
			review, found = s, true
		}
	}
	if found {
		return review
	}
	return State{Active, "clearance.valid", d.Starts(), "This decision counts until " + d.Ends(p).Words() + "."}
}

// expired tells whether time has run out on a decision.
func expired(d Decision, today domain.Date, p Policy) (State, bool) {
	if d.Channel == Phone {
		last := d.confirmBy(p)
		late := d.ConfirmedOn.IsZero() || d.ConfirmedOn.After(last)
		if late && today.After(last) {
			return State{Lapsed, "clearance.phone", last.AddDays(1),
				"The decision came by phone and was not confirmed in writing by " + last.Words() + "."}, true
		}
	}
	if end := d.Lapses(p); !today.Before(end) {
		return State{Lapsed, "E7", end, "The decision of " + d.DecidedOn.Words() + " counted until " + end.Words() + "."}, true
	}
	return State{}, false
}

// effect is what a change does to a decision; the changes before it matter for
// vital signs that have to come twice.
func (c Change) effect(d Decision, before []Change, p Policy) (State, bool) {
	on := c.On.Words()
	switch c.Kind {
	case NewSymptom:
		if c.WithinLimit && d.Expects(c.Code) {
			return State{}, false
		}
		return State{Lapsed, "clearance.symptom", c.On, "A symptom was new or had changed on " + on + "."}, true
	case NewEvent:
		return State{Lapsed, "clearance.event", c.On, "Something happened on " + on + " that the doctor did not know of."}, true
	case PregnancyOrBirth:
		return State{Lapsed, "clearance.pregnancy", c.On, "A pregnancy began or ended on " + on + "."}, true
	case NewDiagnosis:
		return State{UnderReview, "clearance.diagnosis", c.On, "A disease was found on " + on + " that the decision does not name."}, true
	case MedicineChange:
		if c.HeartRate && d.Limits.BearOnHeartRate() {
			return State{UnderReview, "clearance.medicine", c.On, "A medicine that bears on heart rate changed on " + on +
				", and the decision has a heart-rate limit."}, true
		}
		if c.Glucose && (d.Limits.GlucoseLow != 0 || d.Limits.GlucoseHigh != 0) {
			return State{UnderReview, "clearance.medicine", c.On, "A medicine that lowers blood sugar changed on " + on +
				", and the decision has a blood-sugar limit."}, true
		}
	case VitalsFinding:
		if c.stops() && c.cameBefore(d, before, p) {
			return State{UnderReview, "clearance.vitals", c.On, "A vital sign stopped exercise twice in a short time, the last time on " + on + "."}, true
		}
	}
	return State{}, false
}

// stops reports whether the change is one of the vital signs that count here.
func (c Change) stops() bool {
	return c.Kind == VitalsFinding && slices.Contains(vitalsUnderReview[:], c.Code)
}

// cameBefore reports whether a vital sign that counts came on an earlier day
// near by, on or after the day of the decision.
func (c Change) cameBefore(d Decision, earlier []Change, p Policy) bool {
	return slices.ContainsFunc(earlier, func(e Change) bool {
		apart := c.On.DaysSince(e.On)
		return e.stops() && !e.On.Before(d.DecidedOn) && apart > 0 && apart < p.VitalsDays
	})
}
