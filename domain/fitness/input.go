package fitness

import (
	"fmt"
	"math"
	"strconv"

	"brae/domain"
)

// Input is what a test was done with and what was read. A nil field was not
// given. Age, sex, weight, height and HRBlunted may come with any test, since
// they are known of the person; the other fields only with a test that uses them.
type Input struct {
	Test       TestID   `json:"test"`
	Age        *int     `json:"age"` // completed years
	Sex        Sex      `json:"sex"`
	WeightKg   *float64 `json:"weight_kg"`
	HeightCm   *float64 `json:"height_cm"`
	HRBlunted  bool     `json:"hr_blunted"` // a beta-blocker or anything else that holds the heart rate down
	Minutes    *float64 `json:"minutes"`    // with decimals: 12:45 is 12.75
	HR         *int     `json:"hr"`         // bpm, at the end of the work or as the test says
	HRMax      *float64 `json:"hr_max"`     // bpm
	RestingHR  *int     `json:"resting_hr"` // bpm
	DistanceM  *float64 `json:"distance_m"`
	BMI        *float64 `json:"bmi"`             // kg/m2; or weight and height
	FatPercent *float64 `json:"fat_percent"`     // of the body weight
	Rating     *int     `json:"activity_rating"` // 0 to 7
	Pace       *int     `json:"pace_rating"`     // 2 to 26, both distances together
	Level      *int     `json:"activity_level"`  // 1 to 5
	SpeedMMin  *float64 `json:"speed_m_min"`
	Grade      *float64 `json:"grade"` // a fraction
	WorkKgmMin *float64 `json:"work_kgm_min"`
	StepHeight *float64 `json:"step_height_m"`
	Stages     []Stage  `json:"stages"`
	Stands     *int     `json:"stands"` // 0 if the arms helped
	Steps      *int     `json:"steps"`  // counted on one side
}

// Stage is one stage of a step test: how fast and how the heart answered.
type Stage struct {
	StepsMin float64 `json:"steps_min"` // full up-and-down cycles a minute
	HR       int     `json:"hr"`        // bpm at its end
}

// field is how one key of an Input is asked for and checked.
type field struct {
	get       func(*Input) (float64, bool)
	low, high float64
	missing   string
	outside   string // followed by the limits; empty where the practice or the test sets them
}

func whole(get func(*Input) *int) func(*Input) (float64, bool) {
	return func(in *Input) (float64, bool) {
		if n := get(in); n != nil {
			return float64(*n), true
		}
		return 0, false
	}
}

func number(get func(*Input) *float64) func(*Input) (float64, bool) {
	return func(in *Input) (float64, bool) {
		if x := get(in); x != nil {
			return *x, true
		}
		return 0, false
	}
}

// fields has the keys that are numbers, with limits that only a slip of typing
// passes. Limits that a practice sets, or a test, are narrower and come on top.
//
// Practice rule: practice.
var fields = map[string]field{
	"age":             {get: whole(func(in *Input) *int { return in.Age }), missing: "Type the age in years."},
	"weight_kg":       {get: number(func(in *Input) *float64 { return in.WeightKg }), missing: "Type the body weight."},
	"height_cm":       {get: number(func(in *Input) *float64 { return in.HeightCm }), missing: "Type the height."},
	"minutes":         {number(func(in *Input) *float64 { return in.Minutes }), 3, 90, "Type the time, such as 12:45.", "The time in minutes goes"},
	"hr":              {get: whole(func(in *Input) *int { return in.HR }), missing: "Type the heart rate in beats per minute."},
	"hr_max":          {number(func(in *Input) *float64 { return in.HRMax }), 60, 230, "Type the maximal heart rate.", "A maximal heart rate goes"},
	"resting_hr":      {whole(func(in *Input) *int { return in.RestingHR }), 25, 150, "Type the resting heart rate.", "A resting heart rate goes"},
	"distance_m":      {number(func(in *Input) *float64 { return in.DistanceM }), 1, 5000, "Type the distance in metres.", "The distance in metres goes"},
	"bmi":             {get: number(func(in *Input) *float64 { return in.BMI }), missing: "Type the body-mass index, or weight and height."},
	"fat_percent":     {number(func(in *Input) *float64 { return in.FatPercent }), 2, 75, "Type the body fat in per cent.", "Body fat in per cent goes"},
	"activity_rating": {whole(func(in *Input) *int { return in.Rating }), 0, 7, "Choose how active the person is.", "The rating of activity goes"},
	"pace_rating":     {whole(func(in *Input) *int { return in.Pace }), 2, 26, "Add up the two ratings of pace.", "The two ratings of pace add up to something"},
	"activity_level":  {whole(func(in *Input) *int { return in.Level }), 1, 5, "Choose how active the person is.", "The level of activity goes"},
	"speed_m_min":     {number(func(in *Input) *float64 { return in.SpeedMMin }), 10, 450, "Type the speed.", "The speed in metres per minute goes"},
	"grade":           {number(func(in *Input) *float64 { return in.Grade }), 0, HighestGrade, "Type the grade, 0 for level.", "The grade is a fraction, 0.05 for 5 per cent, and goes"},
	"work_kgm_min":    {number(func(in *Input) *float64 { return in.WorkKgmMin }), 50, 4000, "Type the work rate.", "The work rate in kgm per minute goes"},
	"step_height_m":   {number(func(in *Input) *float64 { return in.StepHeight }), 0.02, 1, "Type the height of the step in metres, such as 0.3.", "The height of the step in metres goes"},
	"stands":          {whole(func(in *Input) *int { return in.Stands }), 0, 60, "Type how often the person stood up; 0 if the arms helped.", "Stands in 30 seconds go"},
	"steps":           {whole(func(in *Input) *int { return in.Steps }), 0, 300, "Type how often the right knee came up.", "Steps in 2 minutes go"},
	"stages":          {func(in *Input) (float64, bool) { return float64(len(in.Stages)), len(in.Stages) > 0 }, 2, 10, "Type the stages.", "A line needs stages; their number goes"},
}

// ofThePerson are the keys that may come with any test.
var ofThePerson = map[string]bool{"age": true, "sex": true, "weight_kg": true, "height_cm": true, "hr_blunted": true}

// limit is a stricter limit that a test sets for one of its keys.
type limit struct {
	low, high float64
	says      string // instead of the limits
}

func (f field) check(p *domain.Problems, name string, in *Input, limits ...limit) {
	x, given := f.get(in)
	if !given {
		return
	}
	for _, l := range limits {
		if !(x >= l.low && x <= l.high) { // so written, NaN is refused too
			p.Add(name, l.says)
		}
	}
	if f.outside != "" && !(x >= f.low && x <= f.high) {
		p.Add(name, fmt.Sprintf("%s from %s to %s.", f.outside, plain(f.low), plain(f.high)))
	}
}

func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// check returns what is wrong with an input for a test.
func (in *Input) check(t *test, policy Policy) error {
	var p domain.Problems
	for name, f := range fields {
		_, given := f.get(in)
		switch {
		case !given && t.needs(name):
			p.Add(name, f.missing)
		case given && !t.uses(name) && !ofThePerson[name]:
			p.Add(name, "This test has no use for it. Is it another test?")
		case given:
			f.check(&p, name, in, t.limits(name, in, policy)...)
		}
	}
	switch {
	case in.Sex == "" && t.needs("sex"):
		p.Add("sex", "Choose male or female: the test is different for them.")
	case in.Sex != "" && in.Sex != Male && in.Sex != Female:
		p.Add("sex", "Choose male or female, the sexes that the tests were worked out for.")
	}
	if t.uses("bmi") {
		in.checkBMI(&p, policy)
	}
	in.checkStages(&p, policy)
	return p.Err()
}

// checkBMI refuses an index that is missing or said in two ways.
func (in *Input) checkBMI(p *domain.Problems, policy Policy) {
	bmi, ok := in.bmi()
	switch {
	case !ok:
		p.Add("bmi", fields["bmi"].missing)
	case in.BMI != nil && in.WeightKg != nil && in.HeightCm != nil && math.Abs(*in.BMI-BMI(*in.WeightKg, *in.HeightCm)) > 0.5:
		p.Add("bmi", "Weight and height give another body-mass index than the one typed.")
	case !(bmi >= float64(policy.BMILow) && bmi <= float64(policy.BMIHigh)):
		p.Add("bmi", fmt.Sprintf("A body-mass index goes from %d to %d: look at weight and height again.", policy.BMILow, policy.BMIHigh))
	}
}

// bmi returns the index as given, or from weight and height.
func (in *Input) bmi() (float64, bool) {
	switch {
	case in.BMI != nil:
		return *in.BMI, true
	case in.WeightKg != nil && in.HeightCm != nil:
		return BMI(*in.WeightKg, *in.HeightCm), true
	}
	return 0, false
}

func (in *Input) checkStages(p *domain.Problems, policy Policy) {
	for i, s := range in.Stages {
		if !(s.StepsMin >= 5 && s.StepsMin <= 60) {
			p.Add(fmt.Sprintf("stages[%d].steps_min", i), "Full steps up and down go from 5 to 60 a minute.")
		}
		if s.HR < policy.ExerciseHRLow || s.HR > highestHR {
			p.Add(fmt.Sprintf("stages[%d].hr", i), tenSecondCount)
		}
	}
}

const tenSecondCount = "Type beats per minute: a count of 10 seconds times 6, of 15 seconds times 4."
