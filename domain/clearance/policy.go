package clearance

import "brae/domain/source"

// Policy holds the settings of a practice for doctor review.
type Policy struct {
	ValidMonths      int    // months a decision counts
	PhaseIIDays      int    // days a signed plan of a supervised programme counts
	PhoneDays        int    // days for the written confirmation of a decision by phone
	ScreeningMonths  int    // months a screening counts
	SignOffDays      int    // days a practitioner's sign-off of vigorous work counts
	VitalsDays       int    // days within which two findings put a decision under review
	Warnings         [3]int // days before a decision lapses, the earliest first
	AcceptNurse      bool   // nurse practitioners and physician assistants may answer
	FlagVigorous     bool   // ask a doctor before the first vigorous work also in the practice's own cases
	FlagSystolic     int    // mmHg; from this on the flag is raised
	FlagDiastolic    int    // mmHg; from this on the flag is raised
	ReferralRemind   int    // days without an answer until a reminder
	ReferralNoAnswer int    // days without an answer until the referral has lapsed
	LinkDays         int    // days that a doctor's link can be used
	LinkTries        int    // wrong birth dates after which a doctor's link is void
	DocumentMB       int    // megabytes (of 1,048,576 bytes) that a scanned answer may have
}

func setting(key, unit, says string, def, low, high int, cites ...source.Key) source.Setting {
	return source.Setting{
		Key: "clearance." + key, Topic: source.TopicClearance, Says: says, Unit: unit,
		Default: def, Low: low, High: high, Cites: append(cites, "practice"),
	}
}

var (
	settingValidMonths = setting("valid_months", "months",
		"A doctor's decision counts for this long after it was signed; on the last day itself it has lapsed.", 12, 1, 12, "riebe2015")
	settingPhaseIIDays = setting("phase_ii_days", "days",
		"A signed plan of a supervised heart programme counts for this long.", 30, 7, 30, "cms_benefit_policy")
	settingPhoneDays = setting("phone_days", "days",
		"A decision by phone lapses unless it is confirmed in writing within this time.", 14, 1, 30)
	settingScreeningMonths = setting("screening_valid_months", "months",
		"A screening counts for this long, unless something changes before.", 12, 1, 12)
	settingSignOffDays = setting("signoff_days", "days",
		"A practitioner's sign-off of vigorous work counts for this long.", 30, 1, 90)
	settingVitalsDays = setting("vitals_days", "days",
		"Two days with a stopping vital sign within this time put a doctor's decision under review.", 7, 1, 30)
	settingWarningFirst = setting("warning_first_days", "days",
		"First warning before a decision lapses.", 60, 31, 120)
	settingWarningSecond = setting("warning_second_days", "days",
		"Second warning before a decision lapses.", 30, 8, 59)
	settingWarningLast = setting("warning_last_days", "days",
		"Last warning before a decision lapses.", 7, 1, 14)
	settingAcceptNurse = setting("accept_nurse", "on/off",
		"Nurse practitioners and physician assistants may answer in a doctor's place, where the law allows it.", 0, 0, 1)
	settingFlagVigorous = setting("practice_flag_vigorous", "on/off",
		"Before the first vigorous work a doctor is asked also for high blood pressure at the last measurement, for lung disease with a fall "+
			"of oxygen in effort, for a rate-changing medicine without a measured maximum, and in pregnancy.", 1, 0, 1)
	settingFlagSystolic = setting("flag_systolic", "mmHg",
		"From this upper blood pressure on, a doctor is asked before the first vigorous work.", 160, 140, 180, "hypertension2024")
	settingFlagDiastolic = setting("flag_diastolic", "mmHg",
		"From this lower blood pressure on, a doctor is asked before the first vigorous work.", 100, 90, 110, "hypertension2024")
	settingReferralRemind = setting("referral_reminder_days", "days",
		"A letter without an answer is followed by a reminder after this time.", 14, 3, 29)
	settingReferralNoAnswer = setting("referral_lapse_days", "days",
		"A letter without an answer has lapsed after this time.", 30, 15, 90)
	settingLinkDays = setting("link_days", "days",
		"A doctor can answer with the link in a letter for this long.", 30, 1, 90)
	settingLinkTries = setting("link_tries", "tries",
		"After this many wrong birth dates a doctor's link is void.", 5, 3, 20)
	settingDocumentMB = setting("document_mb", "MB",
		"A scanned answer may be as large as this.", 10, 1, 25)
)

// Settings are the numbers here that a practice may change.
var Settings = []source.Setting{
	settingValidMonths, settingPhaseIIDays, settingPhoneDays, settingScreeningMonths, settingSignOffDays,
	settingVitalsDays, settingWarningFirst, settingWarningSecond, settingWarningLast, settingAcceptNurse,
	settingFlagVigorous, settingFlagSystolic, settingFlagDiastolic, settingReferralRemind, settingReferralNoAnswer,
	settingLinkDays, settingLinkTries, settingDocumentMB,
}

// PolicyFrom returns the policy of a practice; PolicyFrom(nil) is all defaults.
//
// Practice rule: practice.
func PolicyFrom(v source.Values) Policy {
	return Policy{
		ValidMonths:      v.Of(settingValidMonths),
		PhaseIIDays:      v.Of(settingPhaseIIDays),
		PhoneDays:        v.Of(settingPhoneDays),
		ScreeningMonths:  v.Of(settingScreeningMonths),
		SignOffDays:      v.Of(settingSignOffDays),
		VitalsDays:       v.Of(settingVitalsDays),
		Warnings:         [3]int{v.Of(settingWarningFirst), v.Of(settingWarningSecond), v.Of(settingWarningLast)},
		AcceptNurse:      v.On(settingAcceptNurse),
		FlagVigorous:     v.On(settingFlagVigorous),
		FlagSystolic:     v.Of(settingFlagSystolic),
		FlagDiastolic:    v.Of(settingFlagDiastolic),
		ReferralRemind:   v.Of(settingReferralRemind),
		ReferralNoAnswer: v.Of(settingReferralNoAnswer),
		LinkDays:         v.Of(settingLinkDays),
		LinkTries:        v.Of(settingLinkTries),
		DocumentMB:       v.Of(settingDocumentMB),
	}
}
