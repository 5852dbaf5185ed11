package heartrate

import (
	"fmt"

	"brae/domain/intensity"
)

// Finding is the judgement of one entered value.
type Finding = intensity.Finding

// The verdicts of a finding.
const (
	OK      = intensity.OK
	Confirm = intensity.Confirm
	Reject  = intensity.Reject
)

// CheckAge judges an age in completed years: rejected below 18 and above 110,
// confirmed above 90 (by default).
//
// Practice rule: practice.
func CheckAge(years int, policy Policy) Finding {
	switch {
	case years > 1800 && years < 2200:
		return Finding{Verdict: Reject, Sentence: "That looks like a year. Enter the age, or the whole date of birth."}
	case years < adultAge || years > policy.AgeHigh:
		return Finding{Verdict: Reject, Sentence: fmt.Sprintf("The age must be from %d to %d years.", adultAge, policy.AgeHigh)}
	case years > policy.AgeConfirm:
		return Finding{Verdict: Confirm, Sentence: fmt.Sprintf("%d years: is that right?", years)}
	}
	return Finding{}
}

// RestingContext is what else bears on a resting heart rate.
type RestingContext struct {
	Symptoms bool // dizzy, faint, short of breath
	New      bool // lower than this person's usual
}

// CheckResting judges a resting heart rate: rejected outside 25-150, confirmed
// outside 40-100. Above 120, or below 40 with symptoms or as something new, it
// raises a review (all by default).
//
// Source: acsm_getp_heart_rate.
// Practice rule: practice.
func CheckResting(hr BPM, c RestingContext, policy Policy) Finding {
	f := Finding{Hold: hr > policy.RestHoldHigh || hr < policy.RestHoldLow && (c.Symptoms || c.New)}
	switch {
	case hr < policy.RestLow:
		f.Verdict, f.Hold = Reject, false
		f.Sentence = fmt.Sprintf("The resting heart rate must be from %d to %d.%s", policy.RestLow, policy.RestHigh, shortCount(hr))
	case hr > policy.RestHigh:
		f.Verdict = Reject
		f.Sentence = fmt.Sprintf("The resting heart rate must be from %d to %d. Count again for 60 seconds.", policy.RestLow, policy.RestHigh)
	case hr < policy.RestConfirmLow:
		f.Verdict = Confirm
		f.Sentence = fmt.Sprintf("A resting heart rate of %d is low: is it right?%s", hr, shortCount(hr))
	case hr > policy.RestConfirmHigh:
		f.Verdict = Confirm
		f.Sentence = fmt.Sprintf("A resting heart rate of %d is high: was it after 5 minutes of quiet sitting?", hr)
	}
	return f
}

// A number in this range is likely a count over less than a minute.
const countLow, countHigh BPM = 12, 45

// shortCount hints at a count of 10 or 15 seconds that was not multiplied.
func shortCount(hr BPM) string {
	if hr < countLow || hr > countHigh {
		return ""
	}
	return " A count of 10 seconds is multiplied by 6, one of 15 seconds by 4."
}

// PeakContext is what else bears on a measured peak.
type PeakContext struct {
	RestingHR BPM   // 0 is not known
	Predicted Milli // by the equation in use; 0 is not known
	Slowed    bool  // on a medicine that slows the heart
}

// CheckPeak judges a measured peak: rejected outside 60-230 or less than 20 above
// resting, confirmed outside 90-210 or more than 25 away from the prediction
// without a rate-slowing medicine (all by default).
//
// Practice rule: practice.
func CheckPeak(hr BPM, c PeakContext, policy Policy) Finding {
	far := hr.Milli() - c.Predicted
	switch {
	case hr < policy.PeakLow || hr > policy.PeakHigh:
		return Finding{Verdict: Reject, Sentence: fmt.Sprintf("A measured peak must be from %d to %d.%s", policy.PeakLow, policy.PeakHigh, shortCount(hr))}
	case c.RestingHR != 0 && hr < c.RestingHR+policy.MinReserve:
		return Finding{Verdict: Reject, Sentence: fmt.Sprintf("A measured peak must be at least %d above the resting heart rate of %d. Are the two swapped?",
			policy.MinReserve, c.RestingHR)}
	case hr < policy.PeakConfirmLow || hr > policy.PeakConfirmHigh:
		return Finding{Verdict: Confirm, Sentence: fmt.Sprintf("A measured peak of %d is unusual: is it right?", hr)}
	case c.Predicted != 0 && !c.Slowed && max(far, -far) > policy.PeakFar.Milli():
		return Finding{Verdict: Confirm, Sentence: fmt.Sprintf("A measured peak of %d is more than %d away from the %d expected for the age. Was the test "+
			"to the limit? Is a medicine missing?", hr, policy.PeakFar, c.Predicted.Nearest())}
	}
	return Finding{}
}

// SessionContext is what else bears on a heart rate in a session.
type SessionContext struct {
	Max     Milli // the maximum in use; 0 is not known
	Ceiling BPM   // 0 is none
}

// CheckSession judges a heart rate in a session: rejected outside 30-240,
// confirmed more than 10 above the maximum (by default). Above the ceiling it
// raises a review.
//
// Practice rule: practice.
func CheckSession(hr BPM, c SessionContext, policy Policy) Finding {
	switch {
	case hr < policy.SessionLow || hr > policy.SessionHigh:
		return Finding{Verdict: Reject, Sentence: policy.sessionRange(hr).String()}
	case c.Max != 0 && hr.Milli() > c.Max+policy.SessionAbove.Milli():
		return Finding{Verdict: Confirm, Sentence: fmt.Sprintf("%d is more than %d above the maximal heart rate on file. Count for 60 seconds: is it right?",
			hr, policy.SessionAbove), Hold: c.Ceiling != 0 && hr > c.Ceiling}
	case c.Ceiling != 0 && hr > c.Ceiling:
		return Finding{Verdict: OK, Sentence: fmt.Sprintf("%d is above the ceiling of %d.", hr, c.Ceiling), Hold: true}
	}
	return Finding{}
}
