package heartrate

import "brae/domain/intensity"

// Notes is a set of what has to be said about a basis or a range. It takes no
// memory; [Notes.All] tells them in words.
type Notes uint32

const (
	reserveTiny Notes = 1 << iota
	reserveSmall
	roughMaximum
	peakEndedEarly
	peakUndated
	peakExpired
	peakOtherMedicine
	peakOtherHeart
	cyclePeak
	restingBefore
	restingOnMedicine
	restingDue
	medicineUnknown
	detectionMissing
	upperRateMissing
	transplantNotAllowed
	interimDue
	equationUnused
	rhythmWatch
	pregnancyHold
	ceilingCuts
	ceilingBelowAll
	pulseUseless
)

var noteTexts = [...]intensity.Note{
	{Code: "reserve_tiny", Text: "The heart-rate reserve is too small for any range: check resting and maximal heart rate, and steer by talk test and perceived exertion."},
	{Code: "reserve_small", Text: "The heart-rate reserve is small: the ranges are narrower than the error of a pulse count. Prefer perceived exertion and the talk test."},
	{Code: "rough_maximum", Text: "The maximal heart rate is rough, 18 beats either way. It is not used for vigorous work."},
	{Code: "peak_ended_early", Text: "The test ended early, so its peak is not the maximum. It is kept as a ceiling."},
	{Code: "peak_undated", Text: "The test has no date, so its peak is not used as the maximum. It is kept as a ceiling."},
	{Code: "peak_expired", Text: "The test is too old, so its peak is not used as the maximum. It is kept as a ceiling until the next test."},
	{Code: "peak_other_medicine", Text: "A medicine or dose is another than at the test, so its peak is not used as the maximum. It is kept as a ceiling until the next test."},
	{Code: "peak_other_heart", Text: "Since the test there was a cardiac event or procedure, another rhythm or another device setting, so its peak is not used as the maximum. It is kept as a ceiling until the next test."},
	{Code: "cycle_peak", Text: "The peak is from a cycle; on a treadmill it is about 5 beats higher."},
	{Code: "resting_before_medicine", Text: "The resting heart rate is from before the present medicines. Measure it again: until then there is no range."},
	{Code: "resting_on_medicine", Text: "A medicine changes the resting heart rate: measure it on the medicine, again after any change, and check the range by the talk test."},
	{Code: "resting_due", Text: "Measure the resting heart rate again."},
	{Code: "medicine_unknown", Text: "A medicine is not recognised. Look up whether it changes the heart rate: until then there is no predicted range."},
	{Code: "detection_missing", Text: "The detection rate of the defibrillator is not on file: no range without it."},
	{Code: "upper_rate_missing", Text: "The upper rate of the pacemaker is not on file: no range without it."},
	{Code: "transplant_not_allowed", Text: "A test on the transplanted heart counts only when the practitioner accepts it."},
	{Code: "interim_due", Text: "The interim ceiling is due for review. It stays until somebody replaces it."},
	{Code: "equation_unused", Text: "The chosen equation is not used: no prediction is allowed here."},
	{Code: "rhythm_watch", Text: "Feel the pulse before each session. When it is irregular, steer by talk test and perceived exertion only."},
	{Code: "pregnancy_hold", Text: "Vigorous work is held in pregnancy until it is released."},
	{Code: "ceiling_cuts", Text: "A range ends at the heart-rate ceiling."},
	{Code: "ceiling_below_all", Text: "The heart-rate ceiling is below every range."},
	{Code: "pulse_useless", Text: "The pulse is irregular or paced at a fixed rate as well: no range, tested or not."},
}

// Has reports whether the note with that code is in the set.
func (n Notes) Has(code string) bool {
	for i := range noteTexts {
		if n&(1<<i) != 0 && noteTexts[i].Code == code {
			return true
		}
	}
	return false
}

// All returns the notes of the set.
func (n Notes) All() []intensity.Note {
	var all []intensity.Note
	for i := range noteTexts {
		if n&(1<<i) != 0 {
			all = append(all, noteTexts[i])
		}
	}
	return all
}
