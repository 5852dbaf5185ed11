package intensity

import "brae/domain/source"

// Policy holds the practice's settings of this package.
type Policy struct {
	MeasuredFirst bool // a heart rate on a measured maximum counts before the talk test
	EffortFar     int  // classes by which perceived exertion must be off to be looked into
	RepeatCount   int  // the same disagreement in so many
	RepeatOf      int  // of the last so many sessions is a task
	TalkMinutes   int  // steady minutes before the talk test tells something
	METLow        MET  // reject below
	METHigh       MET  // reject above
	METConfirm    MET  // confirm above
}

var (
	measuredFirst = source.Setting{
		Key: "intensity.measured_first", Topic: source.TopicIntensity, Unit: "on/off", Default: 1, Low: 0, High: 1,
		Says:  "Minutes go by the heart rate before the talk test when the maximal heart rate was measured.",
		Cites: []source.Key{"practice", "keteyian2023"},
	}
	effortFar = source.Setting{
		Key: "intensity.effort_far", Topic: source.TopicIntensity, Unit: "classes", Default: 2, Low: 1, High: 3,
		Says:  "Perceived exertion that is so many classes away from talk test and heart rate is looked into.",
		Cites: []source.Key{"practice"},
	}
	repeatCount = source.Setting{
		Key: "intensity.repeat_count", Topic: source.TopicIntensity, Unit: "sessions", Default: 2, Low: 2, High: 5,
		Says:  "The same disagreement in so many of the last sessions is a task: resting heart rate, medicines, test.",
		Cites: []source.Key{"practice"},
	}
	repeatOf = source.Setting{
		Key: "intensity.repeat_of", Topic: source.TopicIntensity, Unit: "sessions", Default: 3, Low: 2, High: 10,
		Says:  "How many of the last sessions are looked at for the same disagreement.",
		Cites: []source.Key{"practice"},
	}
	talkMinutes = source.Setting{
		Key: "intensity.talk_minutes", Topic: source.TopicIntensity, Unit: "minutes", Default: 5, Low: 2, High: 15,
		Says:  "Steady minutes before the talk test is asked; above the threshold it takes more than 2 minutes to turn.",
		Cites: []source.Key{"practice", "foster2008"},
	}
	metLow = source.Setting{
		Key: "intensity.met_low", Topic: source.TopicIntensity, Unit: "hundredths of a MET", Default: 90, Low: 50, High: 100,
		Says: "METs below this cannot be saved.", Cites: []source.Key{"practice"},
	}
	metHigh = source.Setting{
		Key: "intensity.met_high", Topic: source.TopicIntensity, Unit: "hundredths of a MET", Default: 2500, Low: 1500, High: 3000,
		Says: "METs above this cannot be saved.", Cites: []source.Key{"practice"},
	}
	metConfirm = source.Setting{
		Key: "intensity.met_confirm", Topic: source.TopicIntensity, Unit: "hundredths of a MET", Default: 1400, Low: 800, High: 2500,
		Says: "METs above this must be confirmed.", Cites: []source.Key{"practice"},
	}
)

// Settings are what a practice may change here.
var Settings = []source.Setting{
	measuredFirst, effortFar, repeatCount, repeatOf, talkMinutes, metLow, metHigh, metConfirm,
}

// PolicyFrom reads the settings in use; nil gives the defaults.
func PolicyFrom(v source.Values) Policy {
	return Policy{
		MeasuredFirst: v.On(measuredFirst),
		EffortFar:     v.Of(effortFar),
		RepeatCount:   v.Of(repeatCount),
		RepeatOf:      v.Of(repeatOf),
		TalkMinutes:   v.Of(talkMinutes),
		METLow:        MET(v.Of(metLow)),
		METHigh:       MET(v.Of(metHigh)),
		METConfirm:    MET(v.Of(metConfirm)),
	}
}
