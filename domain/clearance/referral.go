package clearance

import (
	"slices"

	"brae/domain"
)

// ReferralStatus is where a letter to a doctor stands.
type ReferralStatus string

// The statuses of a referral.
const (
	Draft     ReferralStatus = "draft"
	Sent      ReferralStatus = "sent"
	Received  ReferralStatus = "received"
	Answered  ReferralStatus = "answered"
	NoAnswer  ReferralStatus = "no_answer"
	Withdrawn ReferralStatus = "withdrawn"
)

// next is where a referral may go from each status. A letter without an answer
// may still be answered.
var next = map[ReferralStatus][]ReferralStatus{
	Draft:    {Sent, Withdrawn},
	Sent:     {Received, Answered, NoAnswer, Withdrawn},
	Received: {Answered, NoAnswer, Withdrawn},
	NoAnswer: {Answered, Withdrawn},
}

// MayBecome reports whether a referral may go from one status to another.
//
// Source: hl7_physical_activity. Practice rule: practice.
func (s ReferralStatus) MayBecome(to ReferralStatus) bool { return slices.Contains(next[s], to) }

// Waiting is what a letter without an answer asks for.
type Waiting string

// What a letter without an answer asks for.
const (
	NothingDue  Waiting = "none"
	ReminderDue Waiting = "reminder"  // from 14 days on
	AnswerLate  Waiting = "no_answer" // from 30 days on: the referral has lapsed
)

// AfterSent returns what a letter that was sent on a day and has no answer asks
// for today. Reminded is the day of the last reminder, zero for none: another one is
// due as long after it, and the letter lapses as if there had been none.
//
// Practice rule: practice.
func AfterSent(sent, reminded, today domain.Date, p Policy) Waiting {
	last := sent
	if reminded.After(last) {
		last = reminded
	}
	switch {
	case today.DaysSince(sent) >= p.ReferralNoAnswer:
		return AnswerLate
	case today.DaysSince(last) >= p.ReferralRemind:
		return ReminderDue
	}
	return NothingDue
}
