package screening

import (
	"time"

	"brae/domain"
	"brae/domain/intensity"
)

// The thresholds of regular exercise, all inclusive.
//
// Source: acsm_webinar2017, acsm_cells.
const (
	RegularDays    = 3  // days a week
	RegularMinutes = 30 // minutes a day
	RegularMonths  = 3
	RegularClass   = intensity.Moderate
	regularWeeks   = 13 // three months, in whole weeks
)

// Activity is what a client does now: planned exercise, not work, household or
// ways. The zero Activity is none.
type Activity struct {
	Unknown bool            `json:"unknown"` // nobody knows: counts as not regular
	Days    int             `json:"days"`    // a week, 0 to 7
	Minutes int             `json:"minutes"` // a day, 0 to 720
	Months  int             `json:"months"`  // completed, 0 to 1,200
	Class   intensity.Class `json:"class"`
}

// Regular reports whether the activity makes a regular exerciser: at least 30
// minutes of at least moderate intensity on at least 3 days a week, for at least
// the last 3 months.
//
// Source: acsm_webinar2017, acsm_cells.
func (a Activity) Regular() bool {
	return !a.Unknown && a.Days >= RegularDays && a.Minutes >= RegularMinutes && a.Months >= RegularMonths && a.Class >= RegularClass
}

func (a Activity) check(problems *domain.Problems) {
	if a.Days < 0 || a.Days > 7 {
		problems.Add("activity.days", "Days a week are a whole number from 0 to 7.")
	}
	if a.Minutes < 0 || a.Minutes > 720 {
		problems.Add("activity.minutes", "Minutes a day are a whole number from 0 to 720.")
	}
	if a.Months < 0 || a.Months > 1200 {
		problems.Add("activity.months", "Months are a whole number from 0 to 1,200.")
	}
	if a.Class < intensity.None || a.Class > intensity.NearMaximal {
		problems.Add("activity.class", "There is no such intensity.")
	}
}

// Attested is a practitioner's word on regular exercise that overrules what was
// asked or logged.
type Attested struct {
	Regular bool   `json:"regular"`
	By      string `json:"by"`
	Reason  string `json:"reason"`
}

// Bout is a stretch of planned exercise in the log.
type Bout struct {
	Day     domain.Date
	Minutes int
	Class   intensity.Class // for volume
}

// History is what the log of the last 13 whole weeks says.
type History struct {
	Counted int  // weeks with at least 3 days of at least 30 minutes at moderate intensity or harder
	Regular bool // the log makes a regular exerciser
	Idle    int  // whole weeks in a row, up to now, without a minute at moderate intensity or harder
}

// RegularFromLogs returns what the log says about the 13 whole weeks before the
// one that today is in. Weeks start on the day given. Minutes of one day add up,
// unless the practice counts single bouts only.
//
// Source: acsm_webinar2017. Practice rule: practice.
func RegularFromLogs(bouts []Bout, today domain.Date, start time.Weekday, p Policy) History {
	var minutes [regularWeeks][7]int // the latest week first
	this := today.Week(start)
	for _, b := range bouts {
		if b.Class < RegularClass || b.Minutes <= 0 {
			continue
		}
		back := this.DaysSince(b.Day.Week(start)) / 7
		if back < 1 || back > regularWeeks {
			continue
		}
		day := &minutes[back-1][b.Day.DaysSince(b.Day.Week(start))]
		if p.SumBouts {
			*day += b.Minutes
		} else {
			*day = max(*day, b.Minutes)
		}
	}
	var h History
	idle := true
	for _, week := range minutes {
		days, any := 0, false
		for _, m := range week {
			if m >= RegularMinutes {
				days++
			}
			any = any || m > 0
		}
		if days >= RegularDays {
			h.Counted++
		}
		if idle = idle && !any; idle {
			h.Idle++
		}
	}
	h.Regular = h.Counted >= regularWeeks-p.MissedWeeks
	return h
}

// IdleStep is what follows from weeks without exercise.
type IdleStep string

// The steps.
const (
	IdleFine     IdleStep = "fine"
	IdleWarn     IdleStep = "warn"     // the practitioner is told
	IdleRescreen IdleStep = "rescreen" // screened again, as not regular
)

// AfterIdle returns what follows from so many whole weeks without exercise in a
// client who was regular: a warning from 4 weeks, a new screening from 13.
//
// Practice rule: practice.
func AfterIdle(weeks int, p Policy) IdleStep {
	switch {
	case weeks >= p.IdleRescreen:
		return IdleRescreen
	case weeks >= p.IdleWarn:
		return IdleWarn
	}
	return IdleFine
}
