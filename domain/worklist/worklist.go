// Package worklist says what stands on the list of a practitioner's day: how
// urgent each entry is, until when, and the one thing to do about it.
package worklist

import (
	"cmp"
	"fmt"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/screening"
	"brae/domain/source"
)

// Urgency says when an entry has to be looked at.
type Urgency int

// The urgencies.
//
// Practice rule: practice.
const (
	Review Urgency = 1 // at the next review
	Days   Urgency = 2 // within some days
	Day    Urgency = 3 // today
	Now    Urgency = 4
)

// Kind is what an entry is about.
type Kind string

// The kinds of entries that come from the data and go when their cause goes.
const (
	Letter   Kind = "letter"
	Decision Kind = "decision"
	Unasked  Kind = "unasked"
	Retest   Kind = "retest"
	Rescreen Kind = "rescreen"
	Note     Kind = "note"
	Vitals   Kind = "vitals"
	Outdated Kind = "outdated"
	Answer   Kind = "answer"
	SignOff  Kind = "sign_off"
)

// Entry is one line of the list.
type Entry struct {
	Kind    Kind
	Urgency Urgency
	Due     domain.Date // the last day to act on; zero if there is none
	Text    string      // what is the matter
	Action  string      // the one thing to do about it
	Place   string      // where, below the client's record: /doctor
}

// Pressing reports whether an entry has to be looked at today: it is that urgent, or
// its last day has come.
func (e Entry) Pressing(today domain.Date) bool {
	return e.Urgency >= Day || !e.Due.IsZero() && !e.Due.After(today)
}

// Compare puts the more urgent entry first, then the one that is due earlier; one
// without a day comes last.
//
// Practice rule: practice.
func (e Entry) Compare(o Entry) int {
	none := func(d domain.Date) int {
		if d.IsZero() {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(o.Urgency, e.Urgency), cmp.Compare(none(e.Due), none(o.Due)), e.Due.Compare(o.Due))
}

// StandsOnce reports whether flags of this urgency that the same cause raised for
// the same client stand on the list as one, with how often it came. What is for
// today stands for itself.
//
// Practice rule: practice.
func (u Urgency) StandsOnce() bool { return u < Day }

// Rules are the rules of this package.
var Rules = []source.Rule{{
	ID: "worklist.urgency", Topic: source.TopicRecord, Cites: []source.Key{"practice"},
	Says: "What a report asks for stands first. A doctor's answer to confirm, a letter without an answer in time, a stop for all exercise that no doctor was asked " +
		"about and a reading to be repeated are for today; a letter to finish or to remind of, a decision under review or lapsed, an intake to repeat, " +
		"a prescription that is out of date, a sign-off for vigorous work that runs out or has, an unread answer and an unsigned note are for these days; a test that is due again is for the next review. What is not for today and came several times stands there once. " +
		"The first warning before a decision lapses is for the next review, the second for these days, the last for today.",
}}

var settingNoteDays = source.Setting{
	Key: "worklist.note_days", Topic: source.TopicRecord, Unit: "days", Default: 7, Low: 1, High: 30,
	Says: "A note that is not signed for so long stands on the list of its author and of the lead.", Cites: []source.Key{"practice"},
}

var settingSignOffDays = source.Setting{
	Key: "worklist.signoff_days", Topic: source.TopicRecord, Unit: "days", Default: 7, Low: 1, High: 30,
	Says: "A sign-off for vigorous work that runs out within so many days stands on the list of the practitioner and of the lead.", Cites: []source.Key{"practice"},
}

// Settings are the numbers here that a practice may change.
var Settings = []source.Setting{settingNoteDays, settingSignOffDays}

// Policy holds the settings of a practice for the list.
type Policy struct {
	NoteDays    int // after which an unsigned note is listed
	SignOffDays int // before a sign-off for vigorous work runs out
}

// PolicyFrom returns the policy of a practice; PolicyFrom(nil) is all defaults.
//
// Practice rule: practice.
func PolicyFrom(v source.Values) Policy {
	return Policy{NoteDays: v.Of(settingNoteDays), SignOffDays: v.Of(settingSignOffDays)}
}

// OfLetter returns the entry of a letter to a doctor that has waited for so many
// days, if there is something to do about it.
//
// Practice rule: practice.
func OfLetter(status clearance.ReferralStatus, waiting clearance.Waiting, answered bool, days int) (Entry, bool) {
	e := Entry{Kind: Letter, Urgency: Days}
	switch {
	case answered:
		e.Urgency, e.Text, e.Action = Day, "The doctor has answered by the link. It does not count yet.", "Read and confirm the answer"
	case status == clearance.Draft:
		e.Text, e.Action = "A letter to the doctor was begun "+ago(days)+" and not sent.", "Finish and send the letter"
	case waiting == clearance.AnswerLate:
		e.Urgency, e.Text, e.Action = Day, "No answer from the doctor in "+count(days)+".", "Write to the doctor again"
	case waiting == clearance.ReminderDue:
		e.Text, e.Action = "No answer from the doctor in "+count(days)+".", "Remind the doctor"
	default:
		return Entry{}, false
	}
	return e, true
}

// OfUnasked returns the entry of a client who is on hold until a doctor answers,
// although nobody has written.
//
// Practice rule: practice.
func OfUnasked(scope clearance.Scope, days int) Entry {
	e := Entry{Kind: Unasked, Urgency: Days, Text: "On hold until a doctor answers, opened " + ago(days) + ", and nobody has written.",
		Action: "Write to the doctor", Place: "/doctor"}
	if scope == clearance.All {
		e.Urgency = Day
	}
	return e
}

// OfDecision returns the entry of a doctor's decision that is not simply in force.
// Confirm is the last day for the written confirmation of one by phone, zero for
// any other; warned is how many of the three warnings before it lapses are due.
// Asked is set while a letter about the client is under way: what that one waits for
// stands on the list then.
//
// Practice rule: practice.
func OfDecision(s clearance.State, confirm, lapses domain.Date, warned int, asked bool, today domain.Date) (Entry, bool) {
	e := Entry{Kind: Decision, Urgency: Days}
	switch {
	case s.Status == clearance.Lapsed && !asked:
		e.Text, e.Action = "A doctor's decision has lapsed. "+s.Reason, "Ask for a new decision"
	case s.Status == clearance.UnderReview && !asked:
		e.Text, e.Action = "A doctor's decision is under review. "+s.Reason, "Ask the doctor again"
	case !confirm.IsZero():
		e.Due, e.Text, e.Action = confirm, "A decision by phone is not confirmed in writing.", "Get it in writing"
		if confirm.DaysSince(today) <= 1 {
			e.Urgency = Day
		}
	case warned > 0 && s.Status != clearance.Lapsed && !asked:
		e.Urgency = Urgency(min(warned, int(Day))) // at the next review, in these days, today
		e.Due, e.Text, e.Action = lapses, "A doctor's decision lapses in "+count(lapses.DaysSince(today))+".", "Ask for a new decision"
	default:
		return Entry{}, false
	}
	return e, true
}

// OfRetest returns the entry of a fitness test that is due again.
//
// Practice rule: practice.
func OfRetest(test string, last domain.Date, due domain.Date) Entry {
	return Entry{Kind: Retest, Urgency: Review, Due: due, Text: test + " is due again. The last one was on " + last.Words() + ".",
		Action: "Test again", Place: "/tests"}
}

// OfRescreen returns the entry of a client who has to be screened again, with the
// reason that came first.
//
// Practice rule: practice.
func OfRescreen(on domain.Date, says string) Entry {
	return Entry{Kind: Rescreen, Urgency: Days, Due: on, Text: "To be screened again. " + says, Action: "Go through the intake", Place: "/intake"}
}

// OfNote returns the entry of a note that was begun so many days ago and is not
// signed, if it has waited long enough.
//
// Practice rule: practice.
func OfNote(author string, days int, p Policy) (Entry, bool) {
	if days < p.NoteDays {
		return Entry{}, false
	}
	return Entry{Kind: Note, Urgency: Days, Text: "A note of " + author + " is not signed since " + count(days) + ".", Action: "Finish and sign the note"}, true
}

// OfSignOff returns the entry of a sign-off for vigorous work of which this is the last
// day that it counts, from some days before it on.
//
// Practice rule: practice.
func OfSignOff(last, today domain.Date, p Policy) (Entry, bool) {
	e := Entry{Kind: SignOff, Urgency: Days, Due: last, Action: "Look at it and sign again", Place: "/prescription/new"}
	switch left := last.DaysSince(today); {
	case left > p.SignOffDays:
		return Entry{}, false
	case left > 0:
		e.Text = "The sign-off for vigorous work runs out in " + count(left) + ". After that the client is held at moderate."
	case left == 0:
		e.Text = "The sign-off for vigorous work counts for the last time today. From tomorrow the client is held at moderate."
	default:
		e.Text = "The sign-off for vigorous work ran out " + ago(-left) + ". The client is held at moderate until you sign again."
	}
	return e, true
}

// OfAnswers returns the entry of answers to notes that nobody has read, the first
// of them so many days old.
//
// Practice rule: practice.
func OfAnswers(n, days int) Entry {
	e := Entry{Kind: Answer, Urgency: Days, Text: "The client has answered a note " + ago(days) + ".", Action: "Read the answer", Place: "/messages"}
	if n > 1 {
		e.Text, e.Action = fmt.Sprintf("The client has answered %d notes, the first %s.", n, ago(days)), "Read the answers"
	}
	return e
}

func count(days int) string {
	if days == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", days)
}

func ago(days int) string {
	if days <= 0 {
		return "today"
	}
	return count(days) + " ago"
}

// OfVitals returns the entry of what was measured before a session, and the rule
// that weighs most, if somebody has to look at it.
//
// Practice rule: practice.
func OfVitals(findings []screening.VitalFinding, today domain.Date) (e Entry, rule string, ok bool) {
	for _, f := range findings {
		o := Entry{Kind: Vitals, Text: f.Text, Place: "/vitals"}
		switch f.Review {
		case screening.CallNumber:
			o.Urgency, o.Due, o.Action = Now, today, "See what was done, and write it down"
		case screening.SameDay:
			o.Urgency, o.Due, o.Action = Day, today, "See that a doctor hears of it today"
		case screening.NextDay, screening.SugarTeam:
			o.Urgency, o.Due, o.Action = Days, today.AddDays(1), "See that a doctor hears of it by tomorrow"
		case screening.NextVisit:
			o.Urgency, o.Action = Review, "Look at it before the next session"
		default:
			continue
		}
		if o.Urgency > e.Urgency {
			e, rule, ok = o, f.Rule, true
		}
	}
	return e, rule, ok
}

// OfRepeat returns the entry of a reading that has to be taken again before it
// counts.
//
// Practice rule: practice.
func OfRepeat(taken domain.Date) Entry {
	return Entry{Kind: Vitals, Urgency: Day, Due: taken, Text: "A reading before a session waits for the second one. No exercise until then.",
		Action: "Measure again", Place: "/vitals"}
}

// OfPrescription returns the entry of a prescription that is out of date, with the
// reason that weighs most and how many others there are.
//
// Practice rule: practice.
func OfPrescription(says string, others int) Entry {
	e := Entry{Kind: Outdated, Urgency: Days, Text: "The prescription is out of date. " + says, Action: "Look at it and sign the next one", Place: "/prescription/new"}
	if others == 1 {
		e.Text += " There is one more reason."
	} else if others > 1 {
		e.Text += fmt.Sprintf(" There are %d more reasons.", others)
	}
	return e
}
