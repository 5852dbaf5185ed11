// Package screening turns a client's answers before exercise into a decision:
// what they may do today, whether a doctor has to answer first, and why. It also
// judges vital signs before a session, places heart patients in a risk class,
// and says who must not exercise alone.
//
// It prescribes nothing, knows no heart-rate zones, and does not triage what a
// client reports after a session.
package screening

import (
	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/source"
)

// RuleSet names the version of the rules in this package. A decision carries it,
// and stays what it was when the rules change.
const RuleSet = "screening 1"

// Group is what is known about a client's heart, vessels, metabolism and kidneys.
type Group string

// The groups. A sign or symptom outweighs a known disease.
//
// Source: riebe2015, acsm_cells.
const (
	NoDisease   Group = "none" // no known disease, no sign or symptom of one
	Disease     Group = "dis"  // a known disease, no sign or symptom
	Symptomatic Group = "sym"  // any sign or symptom, with or without a known disease
)

// Need is whether a doctor is asked.
type Need string

// The needs.
//
// Source: riebe2015, acsm_cells.
const (
	NotNeeded      Need = "not_needed"
	BeforeAny      Need = "before_any"
	BeforeVigorous Need = "before_vigorous"
	StopUntil      Need = "stop_until"
	NeedUnknown    Need = "undecided" // the answers are not complete
)

// Action is what happens next.
type Action string

// The actions.
//
// Source: riebe2015, acsm_cells. Practice rule: practice.
const (
	Start                 Action = "start"
	StartLowerProgress    Action = "start_lower_progress" // begin below what is wanted; may build up
	Continue              Action = "continue"
	Resume                Action = "resume"
	ResumeLowerProgress   Action = "resume_lower_progress"
	ContinueLowerAndRefer Action = "continue_lower_and_refer"
	ReferFirst            Action = "refer_first"
	StopAndRefer          Action = "stop_and_refer"
	Capped                Action = "capped" // what is wanted is above the doctor's ceiling
	NoExercise            Action = "no_exercise"
	Incomplete            Action = "incomplete" // nothing is decided yet
)

// Input is what a screening is decided on.
type Input struct {
	Today     domain.Date `json:"today"`
	BirthDate domain.Date `json:"birth_date"`
	Age       int         `json:"age"` // completed years, where there is no birth date

	Activity Activity  `json:"activity"`
	Attested *Attested `json:"attested"` // a practitioner's word that overrules the activity

	Answers      Answers        `json:"answers"`
	Since        []Onset        `json:"since"`        // when what was answered yes began
	Reclassified []Reclassified `json:"reclassified"` // answers that a practitioner has set aside
	Hints        []Hint         `json:"hints"`        // diseases that medicines point to

	Desired        intensity.Class     `json:"desired"` // light, moderate or vigorous: what is wanted next
	FirstPhaseDone bool                `json:"first_phase_done"`
	Clearance      clearance.Clearance `json:"clearance"`
}

// End takes back the answer to a contraindication that is over, such as a fever,
// because the hold that it opened was released. What a doctor has to answer for
// does not end in this way: there the doctor's decision counts.
//
// Practice rule: practice.
func (in *Input) End(code string) {
	if i, ok := position[code]; ok && terms[i].Tier != "" && terms[i].needs() != clearance.NeedsDoctor && in.Answers.given[i].CountsAsYes() {
		in.Answers.given[i] = No
	}
}

// Onset is when something that was answered yes began or was found.
type Onset struct {
	Code string      `json:"code"`
	On   domain.Date `json:"on"`
}

// Reclassified is a yes or a not sure that a practitioner has set aside, such as
// a swollen ankle that is a sprain. The answer itself stays.
type Reclassified struct {
	Code   string `json:"code"`
	By     string `json:"by"`
	Reason string `json:"reason"`
}

// Hint is a disease that a medicine points to. Unless the client has declared it
// or a practitioner has explained it, nothing is decided.
type Hint struct {
	Code      string `json:"code"`      // as the medicine rules spell it: diabetes, heart_failure
	Says      string `json:"says"`      // the medicine that speaks for it: metformin
	Explained string `json:"explained"` // the practitioner's explanation
}

// Conflict is an answer that does not fit what is known otherwise.
type Conflict struct {
	Code string `json:"code"`
	Says string `json:"says"`
}

// Override is a rule that made the published row stricter, or in one case wider.
type Override struct {
	Rule string `json:"rule"` // E9, E11, E20, P1, diabetes_walking_exception
	Code string `json:"code"` // what set it off, if it was one thing
}

// Decision is what the answers come to. It is stored as it is and never changed.
type Decision struct {
	RuleSet string      `json:"rule_set"`
	On      domain.Date `json:"on"`
	Rule    string      `json:"rule"` // A001 to A108; E16, E19 or E0 where nothing is decided
	Row     string      `json:"row"`  // the published row, R1 to R18

	Group   Group           `json:"group"`
	Regular bool            `json:"regular"`
	Age     int             `json:"age"`
	Desired intensity.Class `json:"desired"`
	OnFile  string          `json:"on_file"` // none, lapsed, cap_light, cap_moderate, cap_vigorous or refused

	Need          Need            `json:"need"`
	CeilingNow    intensity.Class `json:"ceiling_now"`     // the hardest class allowed today
	MayProgressTo intensity.Class `json:"may_progress_to"` // the hardest class to build up to
	Hold          clearance.Scope `json:"hold"`
	Action        Action          `json:"action"`

	// RowCeiling is the ceiling of the published row with the doctor's decision,
	// before the practice's rules and overrides.
	RowCeiling intensity.Class `json:"row_ceiling"`
	// PracticeRule is P1 if the first phase is light by the practice's rule, with
	// FirstPhaseCeiling as its ceiling; otherwise both are empty.
	PracticeRule      string          `json:"practice_rule"`
	FirstPhaseCeiling intensity.Class `json:"first_phase_ceiling"`
	Overrides         []Override      `json:"overrides"`

	WalkingOnly  bool `json:"walking_only"`   // no harder than brisk walking
	TalkTestOnly bool `json:"talk_test_only"` // no heart-rate zones: talk test and perceived exertion

	Causes    []clearance.Cause `json:"causes"`    // diseases and symptoms that ask for a doctor
	Uncovered []string          `json:"uncovered"` // of these, what no decision in force covers
	Findings  []string          `json:"findings"`  // contraindications that stop exercise
	Missing   []string          `json:"missing"`   // questions without an answer
	Conflicts []Conflict        `json:"conflicts"`

	Reasons  []string     `json:"reasons"` // in sentences, the weightiest first
	Sources  []source.Key `json:"sources"`
	Settings Policy       `json:"settings"` // as they were
}

// Decided reports whether the answers were complete enough to decide on.
func (d Decision) Decided() bool { return d.Action != Incomplete }
