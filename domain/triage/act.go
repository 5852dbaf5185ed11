package triage

import (
	"slices"
	"strings"
	"time"

	"brae/domain"
	"brae/domain/clearance"
)

// Cause is what a hold or a flag of the finding is about: the code of the
// report, or of the rule if it is about a number.
func (f Finding) Cause() string {
	if f.Report != "" {
		return string(f.Report)
	}
	return strings.ToLower(f.Rule)
}

// Needs is what it takes to release the hold of the finding.
//
// Practice rule: practice.
func (f Finding) Needs() clearance.Needs {
	switch f.Release {
	case ByClient:
		return clearance.NeedsStatement
	case ByPractitioner:
		return clearance.NeedsPractitioner
	}
	return clearance.NeedsDoctor
}

// Main is the finding that weighs most: of the highest level, and there the one
// with the widest hold. It is the zero Finding if nothing fired.
func (a Assessment) Main() Finding {
	var top Finding
	for _, f := range a.Findings {
		if top.Rule == "" || f.Level > top.Level || f.Level == top.Level && f.Hold > top.Hold {
			top = f
		}
	}
	return top
}

// On returns the last day to act, for a log of that day. Working days are Monday
// to Friday; holidays are not known. The zero Date is never.
//
// Practice rule: practice.
func (d Due) On(day domain.Date) domain.Date {
	switch {
	case d.None:
		return domain.Date{}
	case !d.Working:
		return day.AddDays(d.Days)
	}
	for !workingDay(day) {
		day = day.AddDays(1)
	}
	for range d.Days {
		day = day.AddDays(1)
		for !workingDay(day) {
			day = day.AddDays(1)
		}
	}
	return day
}

func workingDay(day domain.Date) bool {
	return day.Weekday() != time.Saturday && day.Weekday() != time.Sunday
}

// Does is what the practitioner does about it, in words; empty if nothing.
//
// Practice rule: practice.
func (a Assessment) Does() string {
	switch {
	case a.Level == Emergency:
		return "Call the client now, and write down what happened. A doctor's decision ends the hold."
	case a.Level == Stop:
		return "Speak to the client. Do not only write."
	case a.Act.Call:
		return "Speak to the client, and answer."
	case a.Level == Ease:
		return "Look at it and answer."
	case a.Level == Note:
		return "Look at it at the next review."
	}
	return ""
}

// SameWork compares what the same work took with what it used to take: the pulls
// of one activity, the oldest first. Each of the last few is set against the
// median of those before all of them. It is nothing before there are as many to
// compare with. A zero heart rate or exertion is not known and rises by nothing.
//
// Practice rule: practice.
func SameWork(pulls []Pull, p Policy) []Rise {
	n := p.DriftSessions
	if len(pulls) < 2*n {
		return nil
	}
	before, last := pulls[:len(pulls)-n], pulls[len(pulls)-n:]
	hr := usual(before, func(p Pull) int { return p.HR })
	effort := usual(before, func(p Pull) int { return p.Effort })
	var rises []Rise
	for _, pull := range last {
		var r Rise
		if hr > 0 && pull.HR > 0 {
			r.HR = pull.HR - hr
		}
		if effort > 0 && pull.Effort > 0 {
			r.Effort = pull.Effort - effort
		}
		rises = append(rises, r)
	}
	return rises
}

// usual is the upper median of what is known, 0 if nothing is.
func usual(pulls []Pull, of func(Pull) int) int {
	var known []int
	for _, p := range pulls {
		if n := of(p); n > 0 {
			known = append(known, n)
		}
	}
	if known == nil {
		return 0
	}
	slices.Sort(known)
	return known[len(known)/2]
}
