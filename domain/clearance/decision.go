package clearance

import (
	"slices"

	"brae/domain"
	"brae/domain/intensity"
)

// Outcome is what a doctor answered.
type Outcome string

// The outcomes of a doctor's decision.
const (
	Cleared           Outcome = "cleared"
	ClearedWithLimits Outcome = "cleared_with_limits"
	NotNow            Outcome = "not_now"  // no exercise for now
	ReferOn           Outcome = "refer_on" // another doctor has to answer
)

// Allows reports whether the outcome allows exercise.
func (o Outcome) Allows() bool { return o == Cleared || o == ClearedWithLimits }

// Profession is what the person who decided is.
type Profession string

// The professions that may answer. The last two count only where the law lets
// them clear a client and the practice has said so.
const (
	Physician          Profession = "physician"
	NursePractitioner  Profession = "nurse_practitioner"
	PhysicianAssistant Profession = "physician_assistant"
)

// Clinician is who decided.
type Clinician struct {
	Name           string     `json:"name"`
	Profession     Profession `json:"profession"`
	Specialist     bool       `json:"specialist"` // of the disease in question: outranks a generalist
	Registration   string     `json:"registration"`
	Organisation   string     `json:"organisation"`
	Contact        string     `json:"contact"`
	TreatsClient   bool       `json:"treats_client"`    // is the client's own practitioner here
	MayClearClient bool       `json:"may_clear_client"` // and is flagged and licensed to clear them nevertheless
}

// Channel is how a decision reached the practice.
type Channel string

// The channels. A decision by phone needs a written confirmation.
const (
	Letter Channel = "letter"
	Portal Channel = "portal"
	Phone  Channel = "phone"
)

// Work is what a decision is about.
type Work string

// The kinds of work. A decision that says none is about both; one about a named
// activity allows nothing else.
const (
	Aerobic       Work = "aerobic"
	Resistance    Work = "resistance"
	Both          Work = "both"
	NamedActivity Work = "named"
)

// includes reports whether a decision about w speaks about the other kind too.
func (w Work) includes(other Work) bool {
	return w == other || (w == Both || w == "") && other != NamedActivity
}

// Limits are a doctor's numbers; 0 is no limit.
type Limits struct {
	HeartRate   int `json:"heart_rate,omitempty"`   // bpm, at most
	Ischaemia   int `json:"ischaemia,omitempty"`    // bpm at which angina or ischaemia begins
	Detection   int `json:"detection,omitempty"`    // bpm from which an implanted defibrillator acts
	Systolic    int `json:"systolic,omitempty"`     // mmHg, at most
	Diastolic   int `json:"diastolic,omitempty"`    // mmHg, at most
	GlucoseLow  int `json:"glucose_low,omitempty"`  // mg/dL, at least
	GlucoseHigh int `json:"glucose_high,omitempty"` // mg/dL, at most
	OxygenFloor int `json:"oxygen_floor,omitempty"` // SpO2 in per cent, at least
	Effort      int `json:"effort,omitempty"`       // perceived exertion 6 to 20, at most
}

// Any reports whether there is a limit.
func (l Limits) Any() bool { return l != Limits{} }

// BearOnHeartRate reports whether one of the limits is a heart rate.
func (l Limits) BearOnHeartRate() bool {
	return l.HeartRate != 0 || l.Ischaemia != 0 || l.Detection != 0
}

// Strictest returns the stricter of both for each limit.
//
// Practice rule: practice.
func (l Limits) Strictest(m Limits) Limits {
	return Limits{
		HeartRate:   atMost(l.HeartRate, m.HeartRate),
		Ischaemia:   atMost(l.Ischaemia, m.Ischaemia),
		Detection:   atMost(l.Detection, m.Detection),
		Systolic:    atMost(l.Systolic, m.Systolic),
		Diastolic:   atMost(l.Diastolic, m.Diastolic),
		GlucoseLow:  max(l.GlucoseLow, m.GlucoseLow),
		GlucoseHigh: atMost(l.GlucoseHigh, m.GlucoseHigh),
		OxygenFloor: max(l.OxygenFloor, m.OxygenFloor),
		Effort:      atMost(l.Effort, m.Effort),
	}
}

// atMost is the lower of two upper limits, of which 0 is none.
func atMost(a, b int) int {
	if a == 0 || b == 0 {
		return max(a, b)
	}
	return min(a, b)
}

// Restriction is something a doctor rules out.
type Restriction struct {
	Code  string      `json:"code"`
	Says  string      `json:"says"`
	Until domain.Date `json:"until"` // the first day without it; zero is until further notice
}

// Expected is a symptom that the doctor knows and allows, up to a limit.
type Expected struct {
	Code  string `json:"code"`
	Limit string `json:"limit"` // in words: leg pain up to 4 of 5 after 3 minutes
}

// Decision is what a doctor decided, as recorded. It is superseded, revoked or
// marked as entered in error, and never changed.
type Decision struct {
	ID             string          `json:"id"`
	DecidedBy      Clinician       `json:"decided_by"`
	DecidedOn      domain.Date     `json:"decided_on"`  // the day the doctor signed
	ReceivedOn     domain.Date     `json:"received_on"` // the day the practice had it
	RecordedBy     string          `json:"recorded_by"`
	Channel        Channel         `json:"channel"`
	ConfirmedOn    domain.Date     `json:"confirmed_on"` // a decision by phone: the day its written confirmation came
	Document       string          `json:"document"`     // hash of the file, if there is one
	Outcome        Outcome         `json:"outcome"`
	Ceiling        intensity.Class `json:"ceiling"` // light, moderate or vigorous when cleared, otherwise none
	Limits         Limits          `json:"limits"`
	SupervisedOnly bool            `json:"supervised_only"`
	Unsupervised   bool            `json:"unsupervised"`    // names exercise on one's own
	Tests          string          `json:"tests,omitempty"` // done or needed, as the doctor put it
	Restrictions   []Restriction   `json:"restrictions"`
	Expected       []Expected      `json:"expected"`
	Work           Work            `json:"work"`
	Activity       string          `json:"activity"` // for a named activity
	Considered     []string        `json:"covers"`   // codes of the diseases, symptoms and findings it releases
	ValidFrom      domain.Date     `json:"valid_from"`
	ValidUntil     domain.Date     `json:"valid_until"` // the first day on which it has lapsed; zero is the default
	PhaseII        bool            `json:"phase_ii"`    // a signed plan of a supervised programme
	Supersedes     string          `json:"supersedes"`  // id of the decision before

	SupersededBy string      `json:"superseded_by"`
	RevokedOn    domain.Date `json:"revoked_on"`
	Erroneous    bool        `json:"erroneous"` // entered in error
}

// Covers reports whether the decision releases a disease, symptom or finding
// that is known since a day (zero if nobody knows): it allows exercise, names
// the code among what it considered or expects, and was not signed before that
// day. Whether it is in force is [StateOf]'s to say.
//
// Practice rule: practice.
func (d Decision) Covers(code string, since domain.Date) bool {
	if !d.Outcome.Allows() || !since.IsZero() && d.DecidedOn.Before(since) {
		return false
	}
	return slices.Contains(d.Considered, code) || d.Expects(code)
}

// Expects reports whether the decision names the symptom as an expected one.
func (d Decision) Expects(code string) bool {
	return slices.ContainsFunc(d.Expected, func(e Expected) bool { return e.Code == code })
}

// Starts returns the first day of the decision.
func (d Decision) Starts() domain.Date {
	if d.ValidFrom.IsZero() {
		return d.DecidedOn
	}
	return d.ValidFrom
}

// Lapses returns the first day on which the decision has lapsed: twelve months
// after it was signed (30 days for a plan of a supervised programme), or the day
// the doctor gave if that is earlier.
//
// Source: riebe2015. Practice rule: practice.
func (d Decision) Lapses(p Policy) domain.Date {
	end := d.DecidedOn.AddMonths(p.ValidMonths)
	if d.PhaseII {
		end = d.DecidedOn.AddDays(p.PhaseIIDays)
	}
	if !d.ValidUntil.IsZero() && d.ValidUntil.Before(end) {
		end = d.ValidUntil
	}
	return end
}

// Ends returns the first day on which the decision does not count any more unless
// somebody acts: that on which it lapses, or for one by phone that is not confirmed yet
// the day after the last one for its confirmation in writing, if that is earlier.
//
// Practice rule: practice.
func (d Decision) Ends(p Policy) domain.Date {
	end := d.Lapses(p)
	if d.Channel == Phone && d.ConfirmedOn.IsZero() {
		if phone := d.confirmBy(p).AddDays(1); phone.Before(end) {
			return phone
		}
	}
	return end
}

// confirmBy is the last day for the written confirmation of a decision by phone.
func (d Decision) confirmBy(p Policy) domain.Date { return d.ReceivedOn.AddDays(p.PhoneDays) }
