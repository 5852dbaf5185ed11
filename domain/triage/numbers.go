package triage

import (
	"fmt"
	"slices"

	"brae/domain"
	"brae/domain/intensity"
)

// Numbers is what a log carries beside the reports. A zero is not given.
type Numbers struct {
	PeakHR         int  // bpm, the highest of the session
	CeilingHR      int  // bpm, the ceiling in force
	SecondsAbove   int  // above the ceiling
	MeasuredMax    int  // bpm
	PredictedMax   int  // bpm
	PeakConfirmed  bool // the client was asked about the reading and stands by it
	Effort         int  // exertion 6 to 20
	CouldNotSpeak  bool // by the talk test
	Prescribed     intensity.Class
	Done           intensity.Class // the hardest of the session
	Ceiling        intensity.Class // the hardest allowed; counts only with Done
	Talk, HeartSay intensity.Class // the class by talk test and by heart rate

	SameWork    []Rise // against the client's usual at the same work, newest last
	Parts       []Pull // in the order of the session
	RestingDays []int  // bpm, one reading a day on consecutive days, newest last
	RestingUsed []int  // bpm, the readings of the four weeks before
	WeekSpike   bool   // this week's minutes jump, by the rule about weekly minutes

	Oxygen    int // per cent saturation in exercise
	Systolic  int // mmHg, resting
	Diastolic int // mmHg, resting
	Glucose   int // mg/dL
	Ketones   int // tenths of mmol/L
}

// Rise is how much more heart rate and exertion the same work took than usual.
type Rise struct{ HR, Effort int } // bpm; points of 6 to 20

// Pull is the exertion of a part with its heart rate.
type Pull struct{ Effort, HR int } // points of 6 to 20; bpm

// The ranges that numbers can have. What is outside is a slip of the pen and is
// refused, not judged.
//
// Practice rule: practice.
const (
	lowestHR, highestHR           = 25, 250   // bpm
	lowestOxygen, highestOxygen   = 50, 100   // per cent
	lowestBP, highestBP           = 30, 300   // mmHg
	lowestGlucose, highestGlucose = 10, 1000  // mg/dL
	highestKetones                = 300       // tenths of mmol/L
	lowestEffort, highestEffort   = 6, 20     // points
	highestSeconds                = 24 * 3600 // of a day
)

// checked returns the numbers without those that cannot be, which it names.
func (n Numbers) checked(p *domain.Problems) Numbers {
	check := func(field string, value *int, low, high int, unit string) {
		if *value != 0 && (*value < low || *value > high) {
			p.Add(field, fmt.Sprintf("This should be between %d and %d%s.", low, high, unit))
			*value = 0
		}
	}
	check("peak_hr", &n.PeakHR, lowestHR, highestHR, " beats a minute")
	check("ceiling_hr", &n.CeilingHR, lowestHR, highestHR, " beats a minute")
	check("seconds_above_ceiling", &n.SecondsAbove, 0, highestSeconds, " seconds")
	check("measured_max", &n.MeasuredMax, lowestHR, highestHR, " beats a minute")
	check("predicted_max", &n.PredictedMax, lowestHR, highestHR, " beats a minute")
	check("effort_6_20", &n.Effort, lowestEffort, highestEffort, "")
	check("spo2", &n.Oxygen, lowestOxygen, highestOxygen, " per cent")
	check("sbp", &n.Systolic, lowestBP, highestBP, " mmHg")
	check("dbp", &n.Diastolic, lowestBP, highestBP, " mmHg")
	check("glucose_mg_dl", &n.Glucose, lowestGlucose, highestGlucose, " mg/dL")
	check("ketones_mmol_l", &n.Ketones, 0, highestKetones, " tenths of mmol/L")
	n.Parts = slices.DeleteFunc(slices.Clone(n.Parts), func(part Pull) bool {
		check("parts", &part.Effort, lowestEffort, highestEffort, " points of exertion")
		check("parts", &part.HR, lowestHR, highestHR, " beats a minute")
		return part.Effort == 0 || part.HR == 0
	})
	n.RestingDays = checkedResting(n.RestingDays, p)
	n.RestingUsed = checkedResting(n.RestingUsed, p)
	return n
}

func checkedResting(readings []int, p *domain.Problems) []int {
	return slices.DeleteFunc(slices.Clone(readings), func(hr int) bool {
		if hr < lowestHR || hr > highestHR {
			p.Add("resting_hr", fmt.Sprintf("This should be between %d and %d beats a minute.", lowestHR, highestHR))
			return true
		}
		return false
	})
}

// numbers adds what the numbers of the log come to.
func (a *assessing) numbers() {
	a.oxygen()
	a.sugar()
	a.pressure()
	a.anginaLimit()
	a.aboveCeiling()
	a.aboveMaximum()
	a.tooHard()
	a.drift()
	a.resting()
	a.unresponsive()
	a.vitals()
	a.aboveHold()
	if a.in.Numbers.WeekSpike {
		a.add("NUM9", note, "This week's minutes jump above the last four weeks.")
	}
	a.disagree()
}

// oxygen is the saturation of T22: below 88 per cent stops, 85 or less is an
// emergency.
//
// Source: lung_rehab_toolkit.
//
// Practice rule: practice.
func (a *assessing) oxygen() {
	switch o := a.in.Numbers.Oxygen; {
	case o == 0:
	case o <= a.policy.OxygenVeryLow:
		a.add("T22", emergency, fmt.Sprintf("Oxygen saturation %d per cent.", o))
	case o < a.policy.OxygenLow:
		a.add("T22", stop, fmt.Sprintf("Oxygen saturation %d per cent in exercise.", o))
	}
}

// The numbers of T24: glucose above which ketones stop exercise, in mg/dL;
// ketones that count as moderate, and ketones that are an emergency, in tenths
// of mmol/L.
//
// Source: ada2016, ketones_copy, triage_memory.
const (
	highGlucose     = 250
	moderateKetones = 15
	dangerKetones   = 30
)

// sugar is the glucose and ketones of T24.
//
// Source: ada2016, ketones_copy, triage_memory.
func (a *assessing) sugar() {
	n := a.in.Numbers
	switch {
	case n.Ketones >= dangerKetones:
		a.add("T24", emergency, fmt.Sprintf("Ketones %d.%d mmol/L.", n.Ketones/10, n.Ketones%10))
	case n.Ketones >= moderateKetones && n.Glucose > highGlucose:
		a.add("T24", stop, fmt.Sprintf("Glucose %d mg/dL with ketones %d.%d mmol/L.",
			n.Glucose, n.Ketones/10, n.Ketones%10))
	}
}

// The resting blood pressure with which a headache in exercise stops it, in
// mmHg, inclusive.
//
// Source: triage_memory.
//
// Practice rule: practice.
const (
	headacheSystolic  = 180
	headacheDiastolic = 110
)

// pressure is the headache of T38 with a high blood pressure.
//
// Practice rule: practice.
func (a *assessing) pressure() {
	n := a.in.Numbers
	if a.reported&headache != 0 && (n.Systolic >= headacheSystolic || n.Diastolic >= headacheDiastolic) {
		a.add("T38", stop, fmt.Sprintf("Headache at a blood pressure of %d/%d mmHg.", n.Systolic, n.Diastolic))
	}
}

// anginaLimit is the usual angina of T02 in a session that went over the
// heart-rate ceiling: it was not within its limit.
//
// Practice rule: practice.
func (a *assessing) anginaLimit() {
	n := a.in.Numbers
	usual := slices.Contains(a.in.Reports, chestUsual)
	if usual && n.CeilingHR > 0 && n.PeakHR > n.CeilingHR {
		a.add("T02", stop, fmt.Sprintf("Angina at up to %d bpm, above the ceiling of %d.", n.PeakHR, n.CeilingHR))
	}
}

// aboveCeiling is NUM1: above the heart-rate ceiling for more than a minute, or
// more than 10 bpm above it at any time.
//
// Practice rule: practice.
func (a *assessing) aboveCeiling() {
	n := a.in.Numbers
	if n.CeilingHR == 0 || n.SecondsAbove <= a.policy.CeilingSeconds &&
		n.PeakHR <= n.CeilingHR+a.policy.CeilingMargin {
		return
	}
	a.add("NUM1", a.cardiac(), fmt.Sprintf("Above the heart-rate ceiling of %d bpm.", n.CeilingHR))
}

// cardiac is ease for a client with a heart disease, else a note.
func (a *assessing) cardiac() outcome {
	if a.known[Cardiac] {
		return ease
	}
	return note
}

// aboveMaximum is NUM2: above the measured maximum, or above 110 per cent of the
// predicted one. The reading is asked about first.
//
// Practice rule: practice.
func (a *assessing) aboveMaximum() {
	n := a.in.Numbers
	over := n.MeasuredMax > 0 && n.PeakHR > n.MeasuredMax ||
		n.MeasuredMax == 0 && n.PredictedMax > 0 && 100*n.PeakHR > a.policy.PredictedMax*n.PredictedMax
	switch {
	case !over || a.known[NoHeartRate]:
	case n.PeakConfirmed:
		a.add("NUM2", ease, fmt.Sprintf("A confirmed heart rate of %d bpm, above the maximum.", n.PeakHR))
	default:
		a.add("NUM2", fine, fmt.Sprintf("A heart rate of %d bpm, above the maximum: asked about.", n.PeakHR))
		a.questions = append(a.questions, Question{
			Code: "check_reading",
			Asks: fmt.Sprintf("Your top heart rate was %d. That is very high. Is it right?", n.PeakHR),
		})
	}
}

// tooHard is NUM3: exertion of 17 or more, or no breath to speak, in a session
// prescribed as moderate.
//
// Practice rule: practice.
func (a *assessing) tooHard() {
	n := a.in.Numbers
	if n.Prescribed != intensity.Moderate || n.Effort < a.policy.HardEffort && !n.CouldNotSpeak {
		return
	}
	to := note
	if a.times("NUM3", 6) >= a.policy.TooHard {
		to = ease
	}
	a.add("NUM3", to, "Far too hard for a session prescribed as moderate.")
}

// drift is NUM4: the same work takes more than usual, three sessions in a row.
//
// Practice rule: practice.
func (a *assessing) drift() {
	same := a.in.Numbers.SameWork
	if len(same) < a.policy.DriftSessions {
		return
	}
	for _, r := range same[len(same)-a.policy.DriftSessions:] {
		if r.HR < a.policy.DriftHR && r.Effort < a.policy.DriftEffort {
			return
		}
	}
	a.add("NUM4", note, fmt.Sprintf("The same work takes clearly more, %d sessions in a row: illness, a medicine, heart failure?",
		a.policy.DriftSessions))
}

// resting is NUM5: resting heart rate well over the median of four weeks, three
// days in a row.
//
// Practice rule: practice.
func (a *assessing) resting() {
	n := a.in.Numbers
	if len(n.RestingUsed) == 0 || len(n.RestingDays) < a.policy.RestingDays {
		return
	}
	usual := doubleMedian(n.RestingUsed)
	for _, hr := range n.RestingDays[len(n.RestingDays)-a.policy.RestingDays:] {
		if 2*hr < usual+2*a.policy.RestingRise {
			return
		}
	}
	a.add("NUM5", a.cardiac(), fmt.Sprintf("Resting heart rate %d bpm or more over the usual, %d days in a row.",
		a.policy.RestingRise, a.policy.RestingDays))
}

// doubleMedian is twice the median, so that the middle of two whole beats is
// whole.
func doubleMedian(readings []int) int {
	sorted := slices.Sorted(slices.Values(readings))
	return sorted[len(sorted)/2] + sorted[(len(sorted)-1)/2]
}

// unresponsive is NUM6: more effort from one part to the next, and heart rate
// fell or stayed.
//
// Source: acsm_stop_copy.
//
// Practice rule: practice.
func (a *assessing) unresponsive() {
	if a.known[RateSlowed] || a.known[NoHeartRate] {
		return
	}
	parts := a.in.Numbers.Parts
	for i := 1; i < len(parts); i++ {
		if parts[i].Effort >= parts[i-1].Effort+a.policy.EffortStep && parts[i].HR <= parts[i-1].HR {
			a.add("NUM6", ease, fmt.Sprintf("Heart rate went from %d to %d bpm with more effort.",
				parts[i-1].HR, parts[i].HR))
			return
		}
	}
}

// vitals is NUM7 and the weight of T18: what the vitals gate found in the log.
// A very high blood pressure with a symptom of heart or brain is an emergency.
//
// Source: jabfm_contraindications, heartonline_limits, heart_failure_weight,
// triage_memory.
func (a *assessing) vitals() {
	for _, v := range a.in.Vitals {
		switch {
		case v == "V1" && a.reported&(chest|breath|headache|stroke) != 0:
			a.add("NUM7", emergency, "Resting blood pressure too high to exercise, with a symptom of heart or brain.")
		case v == "V1":
			a.today("NUM7", stop, "Resting blood pressure too high to exercise.")
		case v == "V2":
			a.add("NUM7", stop, "Resting blood pressure too high to exercise with a heart disease.")
		case v == "V6":
			a.today("NUM7", stop, "Resting heart rate too high to exercise.")
		case v == "V19" && a.known[HeartFailure]:
			a.add("T18", stopLight, "Weight gain over the limit in heart failure.")
		}
	}
}

// aboveHold is NUM8: a session harder than the ceiling. The second one in seven
// days is talked about.
//
// Practice rule: practice.
func (a *assessing) aboveHold() {
	n := a.in.Numbers
	if n.Done == intensity.None || n.Done <= n.Ceiling {
		return
	}
	f := a.finding("NUM8", note, fmt.Sprintf("%s work, above the ceiling of %s.", words(n.Done), words(n.Ceiling)))
	f.advice = aboveHoldText
	f.call = a.times("NUM8", 6) >= 2
	a.findings = append(a.findings, f)
}

// words is a class in words.
func words(c intensity.Class) string {
	switch c {
	case intensity.NearMaximal:
		return "near-maximal"
	case intensity.VeryLight:
		return "very light"
	case intensity.None:
		return "no exercise"
	}
	return c.String()
}

// disagree is NUM10: the talk test says light or less and heart rate says
// vigorous or more, or the reverse.
//
// Practice rule: practice.
func (a *assessing) disagree() {
	n := a.in.Numbers
	low, high := min(n.Talk, n.HeartSay), max(n.Talk, n.HeartSay)
	if low == intensity.None || low > intensity.Light || high < intensity.Vigorous {
		return
	}
	a.add("NUM10", fine, "Talk test and heart rate disagree: asked again. Check the list of medicines.")
	a.questions = append(a.questions, Question{
		Code: "talk_or_heart",
		Asks: "Your breathing and your heart rate do not fit together. How well could you talk? Any new medicine?",
	})
}
