package clearance

import (
	"slices"
	"strconv"

	"brae/domain"
	"brae/domain/intensity"
)

// Check says what keeps a decision from being recorded, by field. Days are
// signed, received, recorded in that order, none in the future. A cleared client
// needs a ceiling of light, moderate or vigorous; with limits, at least one of
// them; any other outcome has none. Heart-rate limits and the rate at which
// ischaemia begins are 60 to 220 bpm, a detection rate 100 to 240 bpm,
// blood-pressure limits 90 to 250 over 50 to 130 mmHg, blood-sugar limits 54 to
// 400 mg/dL, the oxygen floor 70 to 99 per cent, effort 6 to 20.
//
// Practice rule: practice.
func Check(d Decision, today domain.Date, p Policy) domain.Problems {
	var problems domain.Problems
	d.DecidedBy.check(&problems, p)
	checkDays(&problems, d, today)
	if d.RecordedBy == "" {
		problems.Add("recorded_by", "Say who records the decision.")
	}
	if !slices.Contains([]Channel{Letter, Portal, Phone}, d.Channel) {
		problems.Add("channel", "Say how the decision came: letter, portal or phone.")
	}
	checkOutcome(&problems, d)
	checkLimits(&problems, d.Limits)
	switch d.Work {
	case Aerobic, Resistance, Both, "":
	case NamedActivity:
		if d.Activity == "" {
			problems.Add("activity", "Name the activity.")
		}
	default:
		problems.Add("work", "Say what the decision is about: aerobic, resistance, both or named.")
	}
	for i, e := range d.Expected {
		if e.Code == "" || e.Limit == "" {
			problems.Add("expected["+strconv.Itoa(i)+"]", "Name the symptom, and write the limit the doctor set for it.")
		}
	}
	for i, r := range d.Restrictions {
		if r.Says == "" {
			problems.Add("restrictions["+strconv.Itoa(i)+"]", "Write what the doctor rules out.")
		}
	}
	if d.Supersedes != "" && d.Supersedes == d.ID {
		problems.Add("supersedes", "A decision cannot take its own place.")
	}
	return problems
}

func (c Clinician) check(problems *domain.Problems, p Policy) {
	for _, f := range []struct{ field, value, sentence string }{
		{"name", c.Name, "Type the doctor's name."},
		{"registration", c.Registration, "Type the doctor's licence or registration."},
		{"organisation", c.Organisation, "Type where the doctor works."},
		{"contact", c.Contact, "Type how to reach the doctor."},
	} {
		if f.value == "" {
			problems.Add("decided_by."+f.field, f.sentence)
		}
	}
	switch {
	case c.Profession == Physician:
	case (c.Profession == NursePractitioner || c.Profession == PhysicianAssistant) && p.AcceptNurse:
	case c.Profession == NursePractitioner || c.Profession == PhysicianAssistant:
		problems.Add("decided_by.profession", "This practice takes decisions from physicians only.")
	default:
		problems.Add("decided_by.profession", "Say what the person who decided is: physician, nurse practitioner or physician assistant.")
	}
	if c.TreatsClient && !c.MayClearClient {
		problems.Add("decided_by.name", "Nobody clears their own client, unless flagged and licensed to.")
	}
}

func checkDays(problems *domain.Problems, d Decision, today domain.Date) {
	switch {
	case !d.DecidedOn.Valid():
		problems.Add("decided_on", "Type the day the doctor signed.")
	case d.DecidedOn.After(today):
		problems.Add("decided_on", "This day is in the future.")
	}
	switch {
	case !d.ReceivedOn.Valid():
		problems.Add("received_on", "Type the day the decision came.")
	case d.ReceivedOn.After(today):
		problems.Add("received_on", "This day is in the future.")
	case d.ReceivedOn.Before(d.DecidedOn) && !d.DecidedOn.After(today):
		problems.Add("received_on", "The decision cannot have come before the doctor signed it.")
	}
	if !d.ConfirmedOn.IsZero() && (d.ConfirmedOn.Before(d.ReceivedOn) || d.ConfirmedOn.After(today)) {
		problems.Add("confirmed_on", "The written confirmation comes after the call, and not in the future.")
	}
	if !d.ValidFrom.IsZero() && d.ValidFrom.Before(d.DecidedOn) {
		problems.Add("valid_from", "The decision cannot count before the doctor signed it.")
	}
	if !d.ValidUntil.IsZero() && !d.ValidUntil.After(d.Starts()) {
		problems.Add("valid_until", "The decision has to count for a day at least.")
	}
}

func checkOutcome(problems *domain.Problems, d Decision) {
	switch d.Outcome {
	case Cleared, ClearedWithLimits:
		if d.Ceiling != intensity.Light && d.Ceiling != intensity.Moderate && d.Ceiling != intensity.Vigorous {
			problems.Add("ceiling", "Say how hard the client may work: light, moderate or vigorous.")
		}
		limited := d.Ceiling < intensity.Vigorous || d.Limits.Any() || d.SupervisedOnly || len(d.Restrictions) > 0 || len(d.Expected) > 0
		if d.Outcome == ClearedWithLimits && !limited {
			problems.Add("limits", "Write down the limits the doctor set.")
		}
	case NotNow, ReferOn:
		if d.Ceiling != intensity.None {
			problems.Add("ceiling", "Without a clearance there is no ceiling.")
		}
	default:
		problems.Add("outcome", "Say what the doctor answered: cleared, cleared with limits, not now, or another doctor has to answer.")
	}
	if d.SupervisedOnly && d.Unsupervised {
		problems.Add("supervised_only", "The decision is either for supervised sessions only or names exercise on one's own.")
	}
}

func checkLimits(problems *domain.Problems, l Limits) {
	for _, f := range []struct {
		field            string
		value, low, high int
		unit             string
	}{
		{"heart_rate", l.HeartRate, 60, 220, "beats per minute"},
		{"ischaemia", l.Ischaemia, 60, 220, "beats per minute"},
		{"detection", l.Detection, 100, 240, "beats per minute"},
		{"systolic", l.Systolic, 90, 250, "mmHg"},
		{"diastolic", l.Diastolic, 50, 130, "mmHg"},
		{"glucose_low", l.GlucoseLow, 54, 400, "mg/dL"},
		{"glucose_high", l.GlucoseHigh, 54, 400, "mg/dL"},
		{"oxygen_floor", l.OxygenFloor, 70, 99, "per cent"},
		{"effort", l.Effort, 6, 20, "on the scale of 6 to 20"},
	} {
		if f.value != 0 && (f.value < f.low || f.value > f.high) {
			problems.Add("limits."+f.field, "This limit is from "+strconv.Itoa(f.low)+" to "+strconv.Itoa(f.high)+" "+f.unit+".")
		}
	}
	if l.GlucoseHigh != 0 && l.GlucoseLow >= l.GlucoseHigh {
		problems.Add("limits.glucose_high", "The upper limit is above the lower one.")
	}
}

// CheckAdd says what keeps a decision from being added to a file: what [Check]
// says, and that one decision for a kind of work is active at a time. A newer one
// names the one it supersedes; only a less specialised doctor's decision stands
// beside a specialist's, and the stricter of both binds.
//
// Practice rule: practice.
func (f File) CheckAdd(d Decision, today domain.Date, p Policy) domain.Problems {
	problems := Check(d, today, p)
	if d.Supersedes != "" && !slices.ContainsFunc(f.Decisions, func(o Decision) bool { return o.ID == d.Supersedes }) {
		problems.Add("supersedes", "The decision that this one supersedes is not on file.")
	}
	for _, s := range f.Standings(today, p) {
		o := s.Decision
		if d.Supersedes == o.ID && o.DecidedBy.Specialist && !d.DecidedBy.Specialist {
			problems.Add("supersedes", "A less specialised doctor cannot take back a specialist's decision; record it beside it.")
		}
		beside := o.DecidedBy.Specialist && !d.DecidedBy.Specialist
		if (s.State.InForce() || s.State.Status == Recorded) && o.work() == d.work() && o.Activity == d.Activity && d.Supersedes != o.ID && !beside {
			problems.Add("supersedes", "There is an active decision for this already. Say that the new one supersedes it.")
		}
	}
	return problems
}

func (d Decision) work() Work {
	if d.Work == "" {
		return Both
	}
	return d.Work
}

// AskedBy reports whether a letter of that day asks for the decision that this one
// calls for: one from the first warning on before it lapses in its time, or since
// something else has ended it or put it under review.
//
// Practice rule: practice.
func (s Standing) AskedBy(letter domain.Date, p Policy) bool {
	from := s.State.Since
	if end := s.Decision.Lapses(p); s.State.Status == Active || s.State.Status == Lapsed && from == end {
		from = end.AddDays(-p.Warnings[0])
	}
	return !letter.Before(from)
}

// Warned returns how many of the three warnings before a decision lapses are due.
//
// Practice rule: practice.
func Warned(d Decision, today domain.Date, p Policy) int {
	due, n := Warning(d, today, p), 0
	for _, days := range p.Warnings {
		if due > 0 && days >= due {
			n++
		}
	}
	return n
}

// Warning returns which of the warnings before a decision lapses is due: 60, 30
// or 7 days, the closest one that has been reached, and 0 if none has or the
// decision has lapsed already.
//
// Practice rule: practice.
func Warning(d Decision, today domain.Date, p Policy) int {
	left := d.Lapses(p).DaysSince(today)
	due := 0
	for _, days := range p.Warnings {
		if left > 0 && left <= days && (due == 0 || days < due) {
			due = days
		}
	}
	return due
}
