package volume

import "brae/domain/source"

// Policy holds the settings of a practice for weekly minutes.
type Policy struct {
	Target         int // moderate-equivalent minutes a week, where none is agreed
	SessionMost    int // minutes; a longer session is refused
	SessionConfirm int // minutes; a longer session is asked about
	WeekConfirm    int // minutes; a longer week is asked about
	SpikePercent   int // of the mean of the last four weeks; more is looked at
	SpikeWeeks     int // that it is compared with
	SpikeFloor     int // minutes; a shorter week is never a spike
	LogDays        int // days back that a session can still be logged
	ClockMinutes   int // minutes that a phone's clock may be off without a question
	SilentDays     int // days without a log after which somebody looks
	FillUsual      int // minutes of a session to fill a week with, where no habit is known
	FillMost       int // minutes of the longest session to fill a week with
	FillRound      int // minutes that suggested sessions are a multiple of
}

var (
	settingTarget = source.Setting{
		Key: "volume.target", Topic: source.TopicVolume, Unit: "min",
		Says:    "Weekly target in moderate-equivalent minutes where the client has agreed no other.",
		Default: 150, Low: 30, High: 600, Cites: []source.Key{"paga2018", "who2020"},
	}
	settingSessionMost = source.Setting{
		Key: "volume.session_most", Topic: source.TopicVolume, Unit: "min",
		Says:    "A session longer than this is taken for a slip of the finger and refused.",
		Default: 720, Low: 240, High: 1440, Cites: []source.Key{"practice"},
	}
	settingSessionConfirm = source.Setting{
		Key: "volume.session_confirm", Topic: source.TopicVolume, Unit: "min",
		Says:    "A session longer than this is saved only after the person has confirmed it.",
		Default: 240, Low: 60, High: 720, Cites: []source.Key{"practice"},
	}
	settingWeekConfirm = source.Setting{
		Key: "volume.week_confirm", Topic: source.TopicVolume, Unit: "min",
		Says:    "A week with more minutes than this, of any intensity, is asked about.",
		Default: 1500, Low: 300, High: 10080, Cites: []source.Key{"practice"},
	}
	settingSpikePercent = source.Setting{
		Key: "volume.spike_percent", Topic: source.TopicVolume, Unit: "per cent",
		Says:    "A week with more minutes than this share of the mean of the weeks before is looked at.",
		Default: 150, Low: 110, High: 300, Cites: []source.Key{"practice"},
	}
	settingSpikeWeeks = source.Setting{
		Key: "volume.spike_weeks", Topic: source.TopicVolume, Unit: "weeks",
		Says:    "How many weeks before it a week is compared with.",
		Default: 4, Low: 2, High: 12, Cites: []source.Key{"practice"},
	}
	settingSpikeFloor = source.Setting{
		Key: "volume.spike_floor", Topic: source.TopicVolume, Unit: "min",
		Says:    "A week of up to this many minutes is never taken for a spike, however little went before.",
		Default: 60, Low: 0, High: 150, Cites: []source.Key{"practice"},
	}
	settingLogDays = source.Setting{
		Key: "volume.log_days", Topic: source.TopicVolume, Unit: "days",
		Says:    "How many days back a client can log a session.",
		Default: 28, Low: 1, High: 90, Cites: []source.Key{"practice"},
	}
	settingClockMinutes = source.Setting{
		Key: "volume.clock_minutes", Topic: source.TopicVolume, Unit: "min",
		Says:    "A phone whose clock is off by more than this is asked about the day, if its clock would change it.",
		Default: 10, Low: 1, High: 60, Cites: []source.Key{"practice"},
	}
	settingSilentDays = source.Setting{
		Key: "volume.silent_days", Topic: source.TopicVolume, Unit: "days",
		Says:    "A client who has logged nothing for so many days stands on the review's list.",
		Default: 7, Low: 3, High: 60, Cites: []source.Key{"practice"},
	}
	settingFillUsual = source.Setting{
		Key: "volume.fill_usual", Topic: source.TopicVolume, Unit: "min",
		Says:    "Length of the sessions suggested to fill a week, where the client has no habit to go by.",
		Default: 30, Low: 10, High: 60, Cites: []source.Key{"haskell2007", "practice"},
	}
	settingFillMost = source.Setting{
		Key: "volume.fill_most", Topic: source.TopicVolume, Unit: "min",
		Says:    "Longest session that is suggested to fill a week.",
		Default: 60, Low: 20, High: 120, Cites: []source.Key{"practice"},
	}
	settingFillRound = source.Setting{
		Key: "volume.fill_round", Topic: source.TopicVolume, Unit: "min",
		Says:    "Suggested sessions are a multiple of this, rounded up.",
		Default: 5, Low: 1, High: 10, Cites: []source.Key{"practice"},
	}
)

// Settings are the numbers here that a practice may change.
var Settings = []source.Setting{
	settingTarget, settingSessionMost, settingSessionConfirm, settingWeekConfirm,
	settingSpikePercent, settingSpikeWeeks, settingSpikeFloor, settingLogDays, settingClockMinutes, settingSilentDays, settingFillUsual, settingFillMost, settingFillRound,
}

// PolicyFrom returns the policy of a practice; PolicyFrom(nil) is all defaults.
//
// Practice rule: practice.
func PolicyFrom(v source.Values) Policy {
	return Policy{
		Target:         v.Of(settingTarget),
		SessionMost:    v.Of(settingSessionMost),
		SessionConfirm: v.Of(settingSessionConfirm),
		WeekConfirm:    v.Of(settingWeekConfirm),
		SpikePercent:   v.Of(settingSpikePercent),
		SpikeWeeks:     v.Of(settingSpikeWeeks),
		SpikeFloor:     v.Of(settingSpikeFloor),
		LogDays:        v.Of(settingLogDays),
		ClockMinutes:   v.Of(settingClockMinutes),
		SilentDays:     v.Of(settingSilentDays),
		FillUsual:      v.Of(settingFillUsual),
		FillMost:       v.Of(settingFillMost),
		FillRound:      v.Of(settingFillRound),
	}
}
