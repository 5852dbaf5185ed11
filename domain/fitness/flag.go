package fitness

import "slices"

// Flag is something to know about a result before it is used.
type Flag string

// The flags.
const (
	FlagHRBlunted    Flag = "hr_blunted"         // a medicine holds the heart rate down: no estimate
	FlagAge          Flag = "age_outside"        // older or younger than the people it was worked out in
	FlagAgeUnknown   Flag = "age_unknown"        // the age was not given
	FlagStudents     Flag = "student_sample"     // worked out in students
	FlagSlow         Flag = "too_slow"           // a walker's pace: the equation reads low
	FlagMaximal      Flag = "maximal_effort"     // only right if the person gave everything
	FlagGroupOnly    Flag = "group_estimate"     // too uncertain for one person
	FlagBelowModel   Flag = "below_model"        // lower than the equation can tell
	FlagAtRest       Flag = "below_rest"         // lower than at rest: no estimate
	FlagBMI          Flag = "bmi_outside"        // heavier than the people it was worked out in
	FlagPredictedMax Flag = "hr_max_matters"     // as good as the maximal heart rate it is read at
	FlagStepsLeftOut Flag = "stages_left_out"    // stages with a low heart rate were not used
	FlagRangeBelow   Flag = "work_below_range"   // easier work than the equation was worked out for
	FlagRangeAbove   Flag = "work_above_range"   // harder work than the equation was worked out for
	FlagNoNorms      Flag = "no_norms"           // no norms for this age
	FlagTwoWalks     Flag = "needs_two_walks"    // the first walk is practice
	FlagBelowLimit   Flag = "below_lower_limit"  // shorter than 95 of 100 healthy people walk
	FlagLowFunction  Flag = "low_function"       // few enough to go with difficulty in daily life
	FlagIndependence Flag = "below_independence" // below the mark of those who stay independent
)

var flagSays = map[Flag]string{
	FlagHRBlunted:    "A medicine or a device holds the heart rate down, so it tells nothing about fitness. The readings are kept; there is no estimate.",
	FlagAge:          "The test was worked out in people of another age.",
	FlagAgeUnknown:   "Without the age nobody can say whether the test fits this person.",
	FlagStudents:     "The test was worked out in students and is less sure in anybody else.",
	FlagSlow:         "At a walking pace this test reads too low. Choose a walking test.",
	FlagMaximal:      "The result is right only if the person gave everything.",
	FlagGroupOnly:    "Good for the mean of a group; too uncertain for one person.",
	FlagBelowModel:   "Lower than the equation can tell apart. Choose a test with exercise.",
	FlagAtRest:       "The equation gives less than the body uses at rest. There is no estimate; choose another test.",
	FlagBMI:          "The equation was worked out in lighter people.",
	FlagPredictedMax: "The result is only as good as the maximal heart rate: 10 beats move it by 2 to 3 ml per kg and minute.",
	FlagStepsLeftOut: "Stages with a low heart rate were left out: there it does not yet follow the work.",
	FlagRangeBelow:   "The work is easier than the equation was worked out for.",
	FlagRangeAbove:   "The work is harder than the equation was worked out for.",
	FlagNoNorms:      "There are no norms for this age.",
	FlagTwoWalks:     "Walk twice, at least 30 minutes apart, and use the longer one: the second is longer by practice alone.",
	FlagBelowLimit:   "Shorter than 95 of 100 healthy people of the same age, sex and build.",
	FlagLowFunction:  "So few stands go with difficulty in daily life.",
	FlagIndependence: "Below the mark of people who stay independent into very old age.",
}

// Says returns the flag in a sentence for a practitioner.
func (f Flag) Says() string { return flagSays[f] }

// Flags returns all flags in the order of their names.
func Flags() []Flag {
	all := make([]Flag, 0, len(flagSays))
	for f := range flagSays {
		all = append(all, f)
	}
	slices.Sort(all)
	return all
}
