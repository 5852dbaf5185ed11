// Package report sums up what a client has done between two days, for the client
// and for the doctor who sent them, and holds how care ends: the reasons, and the
// advice that goes with the client.
package report

import (
	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/domain/source"
	"brae/domain/volume"
)

// Policy holds the settings of a practice for reports and discharge.
type Policy struct {
	MeanWeeks  int // whole weeks whose mean is how active somebody is now
	ChartWeeks int // newest weeks that a report draws
	ReopenDays int // age of a screening with which a record is opened again without a new one
}

var (
	settingMeanWeeks = source.Setting{
		Key: "report.mean_weeks", Topic: source.TopicVolume, Unit: "weeks", Default: 4, Low: 1, High: 8,
		Says:  "How active a client is now is the mean of so many whole weeks before this one.",
		Cites: []source.Key{"practice"},
	}
	settingChartWeeks = source.Setting{
		Key: "report.chart_weeks", Topic: source.TopicVolume, Unit: "weeks", Default: 24, Low: 8, High: 27,
		Says:  "A report draws so many weeks, the newest, so that it stays on one page.",
		Cites: []source.Key{"practice"},
	}
	settingReopenDays = source.Setting{
		Key: "discharge.reopen_days", Topic: source.TopicScreening, Unit: "days", Default: 91, Low: 1, High: 365,
		Says:  "A record that is opened again with a screening older than this waits, all exercise on hold, until the client is screened again.",
		Cites: []source.Key{"practice", "riebe2015"},
	}
)

// Settings are the numbers here that a practice may change.
var Settings = []source.Setting{settingMeanWeeks, settingChartWeeks, settingReopenDays}

// PolicyFrom returns the policy of a practice.
func PolicyFrom(v source.Values) Policy {
	return Policy{MeanWeeks: v.Of(settingMeanWeeks), ChartWeeks: v.Of(settingChartWeeks), ReopenDays: v.Of(settingReopenDays)}
}

// Rules are the rules of this package.
var Rules = []source.Rule{
	{
		ID: "report.activity", Topic: source.TopicVolume, Cites: []source.Key{"paga2018", "practice"},
		Says: "Activity at the start is days times minutes as told at the intake; activity now is the mean of the last four whole weeks. " +
			"Both are moderate-equivalent minutes a week: a vigorous minute counts twice.",
	},
	{
		ID: "report.adherence", Topic: source.TopicVolume, Cites: []source.Key{"practice"},
		Says: "Of the whole weeks for which something was asked, it is counted in how many something was logged and in how many the target was reached. " +
			"Weeks of an agreed break, the present week, and a first week that began before the period are left out.",
	},
	{
		ID: "discharge.reason", Topic: source.TopicPlan, Cites: []source.Key{"apta_documentation", "practice"},
		Says: "Care ends with a reason from a closed list, a summary and advice, dated and signed. Holds and letters without an answer are named before, and stay open.",
	},
	{
		ID: "discharge.reopen", Topic: source.TopicScreening, Cites: []source.Key{"practice", "riebe2015"},
		Says: "A record that is opened again with a screening older than 91 days has all exercise on hold until the client is screened again.",
	},
}

// Week is what was asked for and done in one week.
type Week struct {
	First    domain.Date   `json:"first"`    // its first day
	Asked    int           `json:"asked"`    // sessions; 0 in a week of break
	Target   volume.Target `json:"target"`   // after breaks
	Sessions int           `json:"sessions"` // logged
	Totals   volume.Totals `json:"totals"`
}

// Done are the minutes that count towards the target of the week.
func (w Week) Done() int { return w.Target.Done(w.Totals) }

// Reached reports whether the target of the week was reached.
func (w Week) Reached() bool { return w.Target.ShortBy(w.Totals) == 0 }

// asks reports whether anything was asked for in the week.
func (w Week) asks() bool { return w.Asked > 0 && w.Target.Minutes > 0 }

// whole reports whether all days of the week lie in a period, and are over.
func (w Week) whole(since, today domain.Date) bool {
	return !w.First.Before(since) && !today.Before(w.First.AddDays(7))
}

// Start returns the moderate-equivalent minutes a week that a client told of at the
// intake; known is false if nobody knows.
//
// Source: paga2018.
func Start(a screening.Activity) (minutes int, known bool) {
	if a.Unknown || a.Days > 0 && a.Minutes > 0 && a.Class == intensity.None {
		return 0, false
	}
	return volume.Of(volume.Part{Minutes: a.Days * a.Minutes, Class: a.Class}).ModerateEquivalent, true
}

// Now returns the mean moderate-equivalent minutes of the last whole weeks of a
// period that ends today, rounded to the nearest minute, and over how many weeks it is: as many as
// the practice says, fewer if there are no more. A week without a log counts as
// nothing done. Weeks are in the order of time.
//
// Practice rule: practice.
func Now(weeks []Week, since, today domain.Date, p Policy) (minutes, over int) {
	for i := len(weeks) - 1; i >= 0 && over < p.MeanWeeks; i-- {
		if weeks[i].whole(since, today) {
			minutes += weeks[i].Totals.ModerateEquivalent
			over++
		}
	}
	if over == 0 {
		return 0, 0
	}
	return (minutes + over/2) / over, over
}

// Adherence is how a client kept to what was agreed, in whole weeks.
type Adherence struct {
	Weeks   int `json:"weeks"`   // for which something was asked, and that are over
	Logged  int `json:"logged"`  // of these, with a session
	Reached int `json:"reached"` // of these, with the target reached
}

// Share returns the part of the weeks whose target was reached, in whole per cent;
// 0 of no weeks.
func (a Adherence) Share() int {
	if a.Weeks == 0 {
		return 0
	}
	return (200*a.Reached + a.Weeks) / (2 * a.Weeks)
}

// Adhere counts the whole weeks of a period that ends today. Weeks for which nothing was asked, of a
// break or before the plan, are neither kept nor missed.
//
// Practice rule: practice.
func Adhere(weeks []Week, since, today domain.Date) Adherence {
	var a Adherence
	for _, w := range weeks {
		if !w.whole(since, today) || !w.asks() {
			continue
		}
		a.Weeks++
		if w.Sessions > 0 {
			a.Logged++
		}
		if w.Reached() {
			a.Reached++
		}
	}
	return a
}
