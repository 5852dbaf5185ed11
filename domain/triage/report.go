package triage

import (
	"slices"

	"brae/domain/clearance"
)

// Report is what a client ticks: a code of ours. A report is meant whether it is
// so now or was so in the session and has passed: there is no way to say that
// it passed and be sorted lower for it.
type Report string

// Code is a report with the row of the rules it stands for.
type Code struct {
	Report Report
	Row    string // T01 to T42
	Asks   string // what the client ticks, in plain words
}

// Codes returns every report that there is, by row.
func Codes() []Code {
	all := make([]Code, len(reports))
	for i := range reports {
		all[i] = reports[i].Code
	}
	return all
}

// family is a group of reports that make others worse when they come together.
type family uint16

const (
	chest family = 1 << iota
	faint        // fainted or nearly
	breath
	palpitations
	stroke
	headache
)

// Release is what ends a hold.
type Release string

// The ways to release a hold.
//
// Practice rule: practice.
const (
	ByNobody       Release = ""             // nothing is held
	ByClient       Release = "client"       // the client says that the condition for it is met
	ByPractitioner Release = "practitioner" // a practitioner who has looked at it
	ByDoctor       Release = "doctor"       // a doctor's decision dated after it
)

// Limit is something left out while the rest may go on.
type Limit string

// The limits.
//
// Practice rule: practice.
const (
	NoLimit       Limit = ""
	ThisExercise  Limit = "this_exercise"  // the exercise that hurt
	WeightBearing Limit = "weight_bearing" // everything on the feet
)

// outcome is a level with its hold.
type outcome struct {
	level Level
	hold  clearance.Scope
}

// The usual outcomes.
//
// Practice rule: practice.
var (
	fine      = outcome{Fine, clearance.NoHold}
	note      = outcome{Note, clearance.NoHold}
	ease      = outcome{Ease, clearance.Vigorous}
	stop      = outcome{Stop, clearance.All}
	stopLight = outcome{Stop, clearance.AboveLight}
	emergency = outcome{Emergency, clearance.All}

	rest    = outcome{Ease, clearance.All}    // ill: nothing until it is over, and nobody else needed
	without = outcome{Ease, clearance.NoHold} // go on, without what a limit names
	talk    = outcome{Stop, clearance.NoHold} // exercise is not the danger, being left alone is
)

// variant is what a report comes to when something else holds too.
type variant struct {
	with  family // reported in the same session, if any
	known []Flag // one of these is known, if any
	to    outcome
	row   string // if not the row of the report
	limit Limit
}

// reportRow is a report and what it comes to.
type reportRow struct {
	Code
	outcome
	group    family
	expected variant   // takes the place of the outcome where its flag is known
	worse    []variant // each takes its place where it is more
	limit    Limit
	release  Release // if not a doctor
	sameDay  bool    // a practitioner acts today
	advice   string  // said beside what the level says
}

func find(r Report) (reportRow, bool) {
	i := slices.IndexFunc(reports, func(row reportRow) bool { return row.Report == r })
	if i < 0 {
		return reportRow{}, false
	}
	return reports[i], true
}
