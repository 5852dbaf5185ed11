package triage

import "brae/domain/source"

// Policy is the numbers of this package that a practice sets.
type Policy struct {
	StopDays       int // working days within which a practitioner speaks to a client at level stop
	EaseDays       int // working days within which a practitioner answers at level ease
	NoteDays       int // days within which a note is reviewed
	OtherDays      int // working days within which free text that fits no report is read
	FreezeDays     int // days without a step up after a note or more
	Pair           int // notes about heart or lungs in one session that make it ease
	RepeatDays     int // days within the last seven with the same note that make it ease
	Lightheaded    int // times light-headed on stopping in seven days that make it ease
	LowSugar       int // treated low sugars in seven days that make it ease
	TooHard        int // sessions far too hard in seven days that make it ease
	CeilingSeconds int // seconds above the heart-rate ceiling that are let pass
	CeilingMargin  int // bpm above the ceiling that any single reading may reach
	PredictedMax   int // per cent of a predicted maximum above which a reading is doubted
	HardEffort     int // exertion 6 to 20 that is far too hard for moderate work
	DriftHR        int // bpm more at the same work
	DriftEffort    int // points of exertion 6 to 20 more at the same work
	DriftSessions  int // sessions in a row with either
	RestingRise    int // bpm of resting heart rate over the four-week median
	RestingDays    int // days in a row with it
	EffortStep     int // points of exertion 6 to 20 that count as more effort
	OxygenLow      int // per cent; a lower saturation in exercise stops it
	OxygenVeryLow  int // per cent; this or lower is an emergency
	LateFrom       int // hours after a first hard session from which the late questions are asked
	LateTo         int // hours until which they are asked
}

func setting(key, says, unit string, def, low, high int, cites ...source.Key) source.Setting {
	return source.Setting{
		Key: "triage." + key, Topic: source.TopicTriage, Says: says, Unit: unit,
		Default: def, Low: low, High: high, Cites: append(cites, "practice"),
	}
}

var (
	settingStopDays = setting("stop_days",
		"A client who was told to stop is spoken to within this many working days.", "working days", 1, 0, 2)
	settingEaseDays = setting("ease_days",
		"A client who was told to keep it easy is answered within this many working days.", "working days", 2, 1, 5)
	settingNoteDays = setting("note_days",
		"A note is reviewed within this many days.", "days", 7, 1, 14)
	settingOtherDays = setting("other_days",
		"Free text that fits no report is read within this many working days.", "working days", 1, 0, 2)
	settingFreezeDays = setting("freeze_days",
		"After a note or more, no step up is suggested for this many days.", "days", 7, 1, 28)
	settingPair = setting("pair",
		"This many different notes about heart or lungs in one session make it level ease.", "notes", 2, 2, 3)
	settingRepeatDays = setting("repeat_days",
		"The same note on this many of seven days makes it level ease.", "days", 3, 2, 5)
	settingLightheaded = setting("lightheaded_times",
		"Light-headed on stopping this many times in seven days makes it level ease.", "times", 3, 2, 5)
	settingLowSugar = setting("low_sugar_times",
		"This many treated low sugars in seven days make it level ease.", "times", 2, 2, 3, "triage_memory")
	settingTooHard = setting("too_hard_times",
		"This many sessions far too hard in seven days make it level ease.", "times", 2, 2, 5)
	settingCeilingSeconds = setting("ceiling_seconds",
		"Longer than this above the heart-rate ceiling is noted.", "s", 60, 0, 300)
	settingCeilingMargin = setting("ceiling_margin",
		"Any reading more than this above the heart-rate ceiling is noted.", "bpm", 10, 0, 20)
	settingPredictedMax = setting("predicted_max",
		"A reading above this share of a predicted maximum is doubted and asked about.", "per cent", 110, 105, 125)
	settingHardEffort = setting("hard_effort",
		"Exertion from here on, on the 6 to 20 scale, is far too hard for moderate work.", "points", 17, 15, 18)
	settingDriftHR = setting("drift_hr",
		"This much more heart rate at the same work, several sessions in a row, is noted.", "bpm", 10, 5, 20)
	settingDriftEffort = setting("drift_effort",
		"This much more exertion at the same work, several sessions in a row, is noted.", "points", 2, 1, 4)
	settingDriftSessions = setting("drift_sessions",
		"How many sessions in a row that takes.", "sessions", 3, 2, 5)
	settingRestingRise = setting("resting_rise",
		"Resting heart rate this much over its four-week median, several days in a row, is noted.", "bpm", 10, 5, 20)
	settingRestingDays = setting("resting_days",
		"How many days in a row that takes.", "days", 3, 2, 5)
	settingEffortStep = setting("effort_step",
		"From one part to the next, this much more exertion should raise heart rate.", "points", 2, 1, 4)
	settingOxygenLow = setting("oxygen_low",
		"Oxygen saturation below this in exercise stops it.", "per cent", 88, 85, 92, "lung_rehab_toolkit")
	settingOxygenVeryLow = setting("oxygen_very_low",
		"Oxygen saturation of this or less is an emergency.", "per cent", 85, 75, 88)
	settingLateFrom = setting("late_from",
		"The late questions are asked from this many hours after a first hard session.", "hours", 24, 12, 48)
	settingLateTo = setting("late_to",
		"The late questions are asked until this many hours after a first hard session.", "hours", 72, 48, 168)
)

// Settings is the numbers of this package that a practice may change.
var Settings = []source.Setting{
	settingStopDays, settingEaseDays, settingNoteDays, settingOtherDays, settingFreezeDays,
	settingPair, settingRepeatDays, settingLightheaded, settingLowSugar, settingTooHard,
	settingCeilingSeconds, settingCeilingMargin, settingPredictedMax, settingHardEffort,
	settingDriftHR, settingDriftEffort, settingDriftSessions, settingRestingRise, settingRestingDays,
	settingEffortStep, settingOxygenLow, settingOxygenVeryLow, settingLateFrom, settingLateTo,
}

// PolicyFrom returns the policy of a practice; PolicyFrom(nil) is all defaults.
//
// Practice rule: practice.
func PolicyFrom(v source.Values) Policy {
	return Policy{
		StopDays:       v.Of(settingStopDays),
		EaseDays:       v.Of(settingEaseDays),
		NoteDays:       v.Of(settingNoteDays),
		OtherDays:      v.Of(settingOtherDays),
		FreezeDays:     v.Of(settingFreezeDays),
		Pair:           v.Of(settingPair),
		RepeatDays:     v.Of(settingRepeatDays),
		Lightheaded:    v.Of(settingLightheaded),
		LowSugar:       v.Of(settingLowSugar),
		TooHard:        v.Of(settingTooHard),
		CeilingSeconds: v.Of(settingCeilingSeconds),
		CeilingMargin:  v.Of(settingCeilingMargin),
		PredictedMax:   v.Of(settingPredictedMax),
		HardEffort:     v.Of(settingHardEffort),
		DriftHR:        v.Of(settingDriftHR),
		DriftEffort:    v.Of(settingDriftEffort),
		DriftSessions:  v.Of(settingDriftSessions),
		RestingRise:    v.Of(settingRestingRise),
		RestingDays:    v.Of(settingRestingDays),
		EffortStep:     v.Of(settingEffortStep),
		OxygenLow:      v.Of(settingOxygenLow),
		OxygenVeryLow:  v.Of(settingOxygenVeryLow),
		LateFrom:       v.Of(settingLateFrom),
		LateTo:         v.Of(settingLateTo),
	}
}
