package triage

import (
	"cmp"
	"fmt"
	"slices"

	"brae/domain"
	"brae/domain/clearance"
)

// Input is what is known when a log is sorted.
type Input struct {
	Reports []Report  // what the client ticked
	Known   []Flag    // what is known about the client
	Numbers Numbers   // what the log carries; the zero Numbers is nothing
	Vitals  []string  // rules of the vitals gate that fired with it: V1, V2, V6, V19
	Earlier []Earlier // what fired in the seven days up to today, without this log
	Text    string    // free text; it only ever adds questions
	// FirstHard is the first session in which the client worked hard.
	FirstHard bool
}

// Earlier is a rule that fired for an earlier log of the same client.
type Earlier struct {
	Rule    string
	Level   Level
	DaysAgo int // 0 is today; more than 6 does not count
}

// Finding is one rule that fired.
type Finding struct {
	Rule    string // T01 to T42, NUM1 to NUM10, PAIR, REPEAT
	Report  Report // that it is about; empty for a number
	Level   Level
	Hold    clearance.Scope
	Limit   Limit   // what alone is left out, if not everything
	Release Release // what ends the hold
	Due     Due     // when a practitioner has acted
	Doctor  bool    // a doctor is asked
	Why     string  // for the practitioner
	advice  string  // for the client
	call    bool    // the client is spoken to
}

// Assessment is what a log comes to.
type Assessment struct {
	Level      Level
	Hold       clearance.Scope
	Rules      []string  // the rules that fired, each once, in the order of the tables
	Findings   []Finding // the same with what each says
	Why        []string  // of the findings that decide the level
	Tell       []Line    // what the client is told
	Act        Act
	FreezeDays int        // days without a step up, from today
	Questions  []Question // what the client is asked at once
	// LateQuestions are asked once, at the next visit within a day to three.
	LateQuestions []Question
}

// Act is who does what by when. All of it falls to the client's practitioner.
type Act struct {
	Alert    bool // tell the practitioner now
	Incident bool // write an incident record
	Call     bool // speak to the client, not only read
	Doctor   bool // open a doctor review
	Due      Due
}

// Due is a time to act: within so many days of the log. Same-day is 0 working
// days. The zero Due with None set is never.
type Due struct {
	Days    int
	Working bool // counted in working days
	None    bool // nobody has to act
}

// calendar is the time as calendar days, five working days being a week.
func (d Due) calendar() int {
	switch {
	case d.None:
		return 1 << 30
	case d.Working:
		return (7*d.Days + 4) / 5
	}
	return d.Days
}

// Before reports whether d is the earlier time to act.
func (d Due) Before(e Due) bool { return d.calendar() < e.calendar() }

// String writes "today", "1 working day", "7 days" or "never".
func (d Due) String() string {
	unit := "days"
	if d.Days == 1 {
		unit = "day"
	}
	switch {
	case d.None:
		return "never"
	case d.Days == 0:
		return "today"
	case d.Working:
		return fmt.Sprintf("%d working %s", d.Days, unit)
	}
	return fmt.Sprintf("%d %s", d.Days, unit)
}

// due is when a practitioner acts on a level.
func (p Policy) due(l Level) Due {
	switch l {
	case Emergency:
		return Due{Days: 0, Working: true}
	case Stop:
		return Due{Days: p.StopDays, Working: true}
	case Ease:
		return Due{Days: p.EaseDays, Working: true}
	case Note:
		return Due{Days: p.NoteDays}
	}
	return Due{None: true}
}

// Assess sorts a log. The highest level wins, and so does the widest hold; a
// further report never lowers either.
//
// Reports, flags and numbers that do not exist or cannot be are named in the
// error, a [domain.Problems] by the keys reports, known and those of [Numbers].
// The assessment is complete for everything else, so that one wrong entry never
// hides an emergency. A report that does not exist counts as [Other].
//
// Practice rule: practice.
func Assess(in Input, p Policy) (Assessment, error) {
	var problems domain.Problems
	a := assessing{in: in, policy: p, known: knowing(in.Known)}
	for _, f := range in.Known {
		if !slices.ContainsFunc(flags, func(i FlagInfo) bool { return i.Flag == f }) {
			problems.Add("known", fmt.Sprintf("There is no flag %q.", string(f)))
		}
	}
	for _, r := range in.Reports {
		row, ok := find(r)
		if !ok {
			problems.Add("reports", fmt.Sprintf("There is no report %q.", string(r)))
			row, _ = find(Other)
		}
		a.rows = append(a.rows, row)
		a.reported |= row.group
	}
	a.in.Numbers = in.Numbers.checked(&problems)
	for _, row := range a.rows {
		a.report(row)
	}
	a.numbers()
	a.combine()
	return a.result(), problems.Err()
}

// assessing is a log while it is sorted.
type assessing struct {
	in        Input
	policy    Policy
	known     know
	rows      []reportRow
	reported  family
	findings  []Finding
	questions []Question
}

// finding is a rule that fires, with what follows from its level.
func (a *assessing) finding(rule string, to outcome, why string) Finding {
	f := Finding{
		Rule: rule, Level: to.level, Hold: to.hold,
		Due: a.policy.due(to.level), Doctor: to.level >= Ease, Why: why,
	}
	if f.Hold != clearance.NoHold {
		f.Release = ByDoctor
	}
	return f
}

// add notes a finding that needs nothing more.
func (a *assessing) add(rule string, to outcome, why string) {
	a.findings = append(a.findings, a.finding(rule, to, why))
}

// today notes a finding that a practitioner acts on the same day.
func (a *assessing) today(rule string, to outcome, why string) {
	f := a.finding(rule, to, why)
	f.Due.Days = 0
	a.findings = append(a.findings, f)
}

// report adds what one report comes to.
func (a *assessing) report(row reportRow) {
	to := variant{to: row.outcome, row: row.Row, limit: row.limit}
	if row.expected.known != nil && a.holds(row.expected) {
		to = to.replaced(row.expected)
	}
	for _, v := range append(slices.Clone(row.worse), a.often(row)...) {
		if a.holds(v) && (v.to.level > to.to.level || v.to.hold > to.to.hold) {
			to = to.replaced(v)
		}
	}
	f := a.finding(to.row, to.to, row.Asks)
	f.Report, f.Limit, f.advice = row.Report, to.limit, row.advice
	switch {
	case f.Level == Emergency:
	case row.release != ByNobody:
		f.Release, f.Doctor = row.release, false
	case f.Limit != NoLimit:
		f.Release = ByDoctor
	}
	switch {
	case f.Level == Stop && (row.sameDay || row.Report == breathLying && a.known[HeartFailure]):
		f.Due.Days = 0
	case row.Row == "T42":
		f.Due = Due{Days: a.policy.OtherDays, Working: true}
	}
	a.findings = append(a.findings, f)
}

// replaced is the variant with another in its place; the row stays unless the
// other names one.
func (v variant) replaced(other variant) variant {
	if other.row == "" {
		other.row = v.row
	}
	return other
}

// holds reports whether a variant applies.
func (a *assessing) holds(v variant) bool {
	if v.with != 0 && a.reported&v.with == 0 {
		return false
	}
	return v.known == nil || slices.ContainsFunc(v.known, func(f Flag) bool { return a.known[f] })
}

// often is what a report comes to when it has been made before.
//
// Practice rule: practice.
func (a *assessing) often(row reportRow) []variant {
	switch {
	case row.Report == lightheaded && a.times("T06", 6) >= a.policy.Lightheaded,
		row.Report == lowSugar && a.times("T23", 6) >= a.policy.LowSugar:
		return []variant{{to: ease}}
	case row.Report == shockWell && a.times("T13", 1) >= 2:
		return []variant{{to: emergency}} // within 24 hours, as far as days can tell
	}
	return nil
}

// times is how often a rule has fired at level note or above in the days up to
// today, this log counted.
func (a *assessing) times(rule string, daysAgo int) int {
	n := 1
	for _, e := range a.in.Earlier {
		if e.Rule == rule && e.Level >= Note && 0 <= e.DaysAgo && e.DaysAgo <= daysAgo {
			n++
		}
	}
	return n
}

// heartOrLungs is the rows about heart or lungs that can be a note.
//
// Practice rule: practice.
var heartOrLungs = []string{"T02", "T06", "T08", "T11", "T19", "T21"}

// overDays is the rules that look at several days already, so that firing again
// on the next day says nothing new.
//
// Practice rule: practice.
var overDays = []string{"NUM4", "NUM5", "NUM9"}

// combine adds what several notes come to together: two about heart or lungs in
// one session, or the same one on three of seven days.
//
// Practice rule: practice.
func (a *assessing) combine() {
	var pair, repeated []string
	for _, f := range a.findings {
		if f.Level != Note {
			continue
		}
		if slices.Contains(heartOrLungs, f.Rule) && !slices.Contains(pair, f.Rule) {
			pair = append(pair, f.Rule)
		}
		if !slices.Contains(overDays, f.Rule) && a.days(f.Rule) >= a.policy.RepeatDays &&
			!slices.Contains(repeated, f.Rule) {
			repeated = append(repeated, f.Rule)
		}
	}
	if len(pair) >= a.policy.Pair {
		a.add("PAIR", ease, fmt.Sprintf("%d notes about heart or lungs in one session.", len(pair)))
	}
	if repeated != nil {
		a.add("REPEAT", ease, fmt.Sprintf("The same note on %d of 7 days.", a.days(repeated[0])))
	}
}

// days is on how many of the seven days up to today a rule has fired.
func (a *assessing) days(rule string) int {
	var on [7]bool
	on[0] = true
	for _, e := range a.in.Earlier {
		if e.Rule == rule && e.Level >= Note && 0 <= e.DaysAgo && e.DaysAgo < len(on) {
			on[e.DaysAgo] = true
		}
	}
	n := 0
	for _, fired := range on {
		if fired {
			n++
		}
	}
	return n
}

// result puts the findings together.
func (a *assessing) result() Assessment {
	slices.SortStableFunc(a.findings, func(f, g Finding) int {
		return cmp.Or(cmp.Compare(place(f.Rule), place(g.Rule)), cmp.Compare(g.Level, f.Level))
	})
	out := Assessment{Findings: a.findings, Act: Act{Due: Due{None: true}}}
	for _, f := range a.findings {
		out.Level = max(out.Level, f.Level)
		out.Hold = max(out.Hold, f.Hold)
		out.Act.Doctor = out.Act.Doctor || f.Doctor
		out.Act.Call = out.Act.Call || f.call
		if f.Due.Before(out.Act.Due) {
			out.Act.Due = f.Due
		}
		if !slices.Contains(out.Rules, f.Rule) {
			out.Rules = append(out.Rules, f.Rule)
		}
	}
	for _, f := range a.findings {
		if f.Level == out.Level && !slices.Contains(out.Why, f.Why) {
			out.Why = append(out.Why, f.Why)
		}
	}
	out.Act.Alert = out.Level == Emergency
	out.Act.Incident = out.Level == Emergency
	out.Act.Call = out.Act.Call || out.Level >= Stop
	if out.Level >= Note {
		out.FreezeDays = a.policy.FreezeDays
	}
	out.Questions = slices.Concat(a.questions, Scan(a.in.Text))
	if a.in.FirstHard {
		out.LateQuestions = LateQuestions()
	}
	out.Tell = a.tell(out)
	return out
}

// place is where a rule stands among all.
func place(rule string) int {
	for i, prefix := range []string{"T", "NUM"} {
		var n int
		if _, err := fmt.Sscanf(rule, prefix+"%d", &n); err == nil {
			return 100*i + n
		}
	}
	return 200 + slices.Index([]string{"PAIR", "REPEAT"}, rule)
}
