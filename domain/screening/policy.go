package screening

import (
	"slices"

	"brae/domain/clearance"
	"brae/domain/source"
)

// Policy holds the settings of a practice for screening and vital signs. Two of
// them are settings of doctor review, which both packages go by.
type Policy struct {
	LightFirstOver  int  `json:"age_light_first_over"` // years; older ones who do not exercise begin light
	WalkingDiabetes bool `json:"diabetes_walking_exception"`
	FlagVigorous    bool `json:"practice_flag_vigorous"` // in pregnancy vigorous work waits for the doctor
	ValidMonths     int  `json:"valid_months"`
	SumBouts        bool `json:"sum_bouts"`    // minutes of one day add up
	MissedWeeks     int  `json:"missed_weeks"` // of 13 that may fall short in a regular exerciser
	IdleWarn        int  `json:"idle_warn_weeks"`
	IdleRescreen    int  `json:"idle_rescreen_weeks"`

	HighNone        bool `json:"pressure_180_none"` // above 180 mmHg: no exercise, instead of light only
	OxygenFloor     int  `json:"oxygen_floor"`      // per cent
	WeightDayGrams  int  `json:"weight_day_grams"`
	WeightWeekGrams int  `json:"weight_week_grams"`
	FeverFreeHours  int  `json:"fever_free_hours"`
	HeartAttackDays int  `json:"heart_attack_days"`
	LiftGrams       int  `json:"lift_grams"` // most that is lifted while the breastbone heals
	SternumWeeks    int  `json:"sternum_weeks"`
	ArmsWeeks       int  `json:"arms_weeks"`
	FailureWeeks    int  `json:"failure_weeks"`
	PunctureDays    int  `json:"puncture_days"`
	DeviceWeeks     int  `json:"device_weeks"`
	ShockMonths     int  `json:"shock_months"`
	SevereLowMonths int  `json:"severe_low_months"`
	FallsYear       int  `json:"falls_year"`

	Bands Bands `json:"bands"` // of what is entered; no decision depends on them
}

func setting(key string, topic source.Topic, unit, says string, def, low, high int, cites ...source.Key) source.Setting {
	return source.Setting{
		Key: "screening." + key, Topic: topic, Says: says, Unit: unit,
		Default: def, Low: low, High: high, Cites: append(cites, "practice"),
	}
}

var (
	settingLightFirstOver = setting("age_light_first_over", source.TopicScreening, "years",
		"Who is older than this, healthy and not exercising regularly begins with a light first phase.", 35, 18, 110, "common_practice")
	settingWalkingDiabetes = setting("diabetes_walking_exception", source.TopicScreening, "on/off",
		"With type 2 diabetes, without a symptom, a complication or another disease, and without regular exercise, walking up to a "+
			"brisk pace may start without a doctor.", 0, 0, 1, "colberg2017")
	settingSumBouts = setting("sum_bouts", source.TopicScreening, "on/off",
		"Minutes of one day add up when the log is searched for regular exercise; otherwise one bout has to be 30 minutes.", 1, 0, 1)
	settingMissedWeeks = setting("missed_weeks", source.TopicScreening, "weeks",
		"Weeks of the last 13 that may fall short in a regular exerciser.", 0, 0, 3)
	settingIdleWarn = setting("idle_warn_weeks", source.TopicScreening, "weeks",
		"Whole weeks without exercise after which the practitioner is told.", 4, 1, 12)
	settingIdleRescreen = setting("idle_rescreen_weeks", source.TopicScreening, "weeks",
		"Whole weeks without exercise after which a client is screened again.", 13, 4, 26)

	settingHighNone = setting("pressure_180_none", source.TopicVitals, "on/off",
		"Above 180 mmHg there is no exercise for anybody that day, instead of light exercise.", 0, 0, 1)
	settingOxygenFloor = setting("oxygen_floor", source.TopicVitals, "per cent",
		"Below this oxygen saturation exercise pauses.", 88, 88, 92, "lung_rehab_toolkit")
	settingWeightDay = setting("weight_day_grams", source.TopicVitals, "g",
		"With heart failure, a gain of more than this in a day stops work above light.", 1400, 900, 1400, "heart_failure_weight")
	settingWeightWeek = setting("weight_week_grams", source.TopicVitals, "g",
		"With heart failure, a gain of more than this in a week stops work above light.", 2300, 1500, 2300, "heart_failure_weight")
	settingFeverFree = setting("fever_free_hours", source.TopicVitals, "h",
		"Hours of normal temperature without medicine before exercise goes on.", 24, 24, 96)

	settingHeartAttackDays = setting("heart_attack_days", source.TopicScreening, "days",
		"Days after a heart attack before a plan without supervision may start, unless the doctor says otherwise.", 21, 14, 84, "heartonline_limits")
	settingLift = setting("lift_grams", source.TopicScreening, "g",
		"While the breastbone heals nothing heavier than this is lifted, pushed or pulled.", 4500, 2000, 4500, "bmc_sternal")
	settingSternumWeeks = setting("sternum_weeks", source.TopicScreening, "weeks",
		"Weeks that the breastbone heals after surgery.", 8, 6, 12, "bmc_sternal")
	settingArmsWeeks = setting("arms_weeks", source.TopicScreening, "weeks",
		"Weeks after surgery through the breastbone without hard upper-body strength work.", 12, 8, 16, "aha_resistance")
	settingFailureWeeks = setting("failure_weeks", source.TopicScreening, "weeks",
		"Weeks that heart failure has to be stable on its treatment.", 6, 6, 26, "usc_cardiac_rehab")
	settingPunctureDays = setting("puncture_days", source.TopicScreening, "days",
		"Days after a stent without heavy lifting by the punctured arm or leg.", 7, 5, 14, "screening_memory")
	settingDeviceWeeks = setting("device_weeks", source.TopicScreening, "weeks",
		"Weeks after a pacemaker or defibrillator without raising the arm above the shoulder or lifting heavily.", 6, 4, 8, "screening_memory")
	settingShockMonths = setting("shock_months", source.TopicScreening, "months",
		"Months after a shock of a defibrillator without unattended exercise.", 3, 3, 12)
	settingSevereLowMonths = setting("severe_low_months", source.TopicScreening, "months",
		"Months after a severe low blood sugar in type 1 diabetes without unattended exercise.", 3, 1, 12)
	settingFallsYear = setting("falls_year", source.TopicScreening, "falls",
		"So many falls in twelve months rule out unsupported balance and treadmill work alone.", 2, 1, 4)
)

// Settings are the numbers here that a practice may change.
var Settings = slices.Concat([]source.Setting{
	settingLightFirstOver, settingWalkingDiabetes, settingSumBouts,
	settingMissedWeeks, settingIdleWarn, settingIdleRescreen,
	settingHighNone, settingOxygenFloor, settingWeightDay, settingWeightWeek, settingFeverFree,
	settingHeartAttackDays, settingLift, settingSternumWeeks, settingArmsWeeks, settingFailureWeeks, settingPunctureDays,
	settingDeviceWeeks, settingShockMonths, settingSevereLowMonths, settingFallsYear,
}, boundsOf())

// PolicyFrom returns the policy of a practice; PolicyFrom(nil) is all defaults.
//
// Practice rule: practice.
func PolicyFrom(v source.Values) Policy {
	review := clearance.PolicyFrom(v)
	return Policy{
		LightFirstOver:  v.Of(settingLightFirstOver),
		WalkingDiabetes: v.On(settingWalkingDiabetes),
		FlagVigorous:    review.FlagVigorous,
		ValidMonths:     review.ScreeningMonths,
		SumBouts:        v.On(settingSumBouts),
		MissedWeeks:     v.Of(settingMissedWeeks),
		IdleWarn:        v.Of(settingIdleWarn),
		IdleRescreen:    v.Of(settingIdleRescreen),
		HighNone:        v.On(settingHighNone),
		OxygenFloor:     v.Of(settingOxygenFloor),
		WeightDayGrams:  v.Of(settingWeightDay),
		WeightWeekGrams: v.Of(settingWeightWeek),
		FeverFreeHours:  v.Of(settingFeverFree),
		HeartAttackDays: v.Of(settingHeartAttackDays),
		LiftGrams:       v.Of(settingLift),
		SternumWeeks:    v.Of(settingSternumWeeks),
		ArmsWeeks:       v.Of(settingArmsWeeks),
		FailureWeeks:    v.Of(settingFailureWeeks),
		PunctureDays:    v.Of(settingPunctureDays),
		DeviceWeeks:     v.Of(settingDeviceWeeks),
		ShockMonths:     v.Of(settingShockMonths),
		SevereLowMonths: v.Of(settingSevereLowMonths),
		FallsYear:       v.Of(settingFallsYear),
		Bands:           BandsFrom(v),
	}
}
