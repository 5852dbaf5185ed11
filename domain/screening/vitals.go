package screening

import (
	"fmt"
	"slices"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/source"
)

// Vitals is what was measured before a session. What is nil was not measured,
// and never counts as normal.
type Vitals struct {
	SBP         *int // mmHg, upper blood pressure at rest
	DBP         *int // mmHg, lower blood pressure at rest
	StandingSBP *int // mmHg, after standing up
	RestingHR   *int // bpm
	Temperature *Hundredths

	GlucoseMgDL  *int        // mg/dL
	GlucoseMmol  *Hundredths // mmol/L
	Ketones      *Hundredths // mmol/L, in blood
	UrineKetones Ketones     // empty is not measured
	SpO2         *int        // per cent
	Weights      []Weight

	Cardiac         bool // a heart patient
	HeartFailure    bool
	GlucoseLowering bool // on insulin or a medicine that releases it
	RateSlowing     bool // on a medicine that slows the heart

	Repeated  bool // measured again after a rest: 5 minutes for pressure, 10 for heart rate
	Symptoms  bool // dizzy, weak or unwell with it
	Fainted   bool
	Warning   bool // chest pain, breathlessness, severe headache, trouble with vision, speech or movement
	Feverish  bool
	SevereLow bool // blood sugar below 54 mg/dL, or help needed for a low one, in the last 24 hours
}

// Weight is a body weight on a day, in grams.
type Weight struct {
	On    domain.Date
	Grams int
}

// Effect is what a vital sign means for the session.
type Effect string

// The effects, from the most.
const (
	Emergency    Effect = "emergency"
	NoSession    Effect = "no_exercise"
	Pause        Effect = "pause"
	TestKetones  Effect = "test_ketones" // no exercise before
	LightOnly    Effect = "light_only"
	NoVigorous   Effect = "no_vigorous"
	EatFirst     Effect = "eat_first"
	Carbohydrate Effect = "carbohydrate" // start, and take carbohydrate
	Remark       Effect = "note"
)

// Review is who has to look at a finding, and when.
type Review string

// The reviews.
const (
	NoReview   Review = ""
	NextVisit  Review = "review"
	SameDay    Review = "same_day"
	NextDay    Review = "next_day"
	SugarTeam  Review = "diabetes_team"
	CallNumber Review = "emergency"
)

// VitalFinding is what one rule says about what was measured.
type VitalFinding struct {
	Rule   string          `json:"rule"` // V1 to V20
	Effect Effect          `json:"effect"`
	Hold   clearance.Scope `json:"hold"`
	Needs  clearance.Needs `json:"needs"` // what releases the hold
	Review Review          `json:"review"`
	Text   string          `json:"text"`
	Cites  []source.Key    `json:"sources"`
}

// Assessment is what the vital signs come to.
type Assessment struct {
	Findings []VitalFinding
	Hold     clearance.Scope // the widest of all findings
}

// AssessVitals judges what was measured before a session. It returns a
// [domain.Problems] for values that cannot be: pressure outside 50 to 300 over
// 20 to 200 mmHg or with less than 5 between both, heart rate outside 25 to 150
// bpm, temperature outside 30 to 45 degrees Celsius, glucose outside 10 to 1,000
// mg/dL (0.5 to 55 mmol/L), ketones above 20 mmol/L, oxygen saturation outside
// 50 to 100 per cent, weight outside 20 to 400 kg.
//
// Source: jabfm_contraindications, heartonline_limits, hypertension2024, ada2016, lung_rehab_toolkit, heart_failure_weight, screening_memory. Practice rule: practice.
func AssessVitals(v Vitals, p Policy) (Assessment, error) {
	if err := v.check(p.Bands); err != nil {
		return Assessment{}, err
	}
	var a Assessment
	a.pressure(v, p)
	a.standing(v)
	a.heartRate(v)
	a.temperature(v, p)
	a.glucose(v)
	a.oxygen(v, p)
	a.weight(v, p)
	for _, f := range a.Findings {
		a.Hold = max(a.Hold, f.Hold)
	}
	return a, nil
}

// Holds returns the holds that the vital signs of a day open.
//
// Practice rule: practice.
func (a Assessment) Holds(on domain.Date) []clearance.Hold {
	var holds []clearance.Hold
	for _, f := range a.Findings {
		if f.Hold != clearance.NoHold {
			holds = append(holds, clearance.Hold{
				Scope: f.Hold, Kind: clearance.FromVitals, Cause: f.Rule, Rule: f.Rule, Reason: f.Text, Since: on, Opened: on, Needs: f.Needs,
			})
		}
	}
	return holds
}

func (a *Assessment) find(f VitalFinding) { a.Findings = append(a.Findings, f) }

// The limits of blood pressure at rest, in mmHg.
//
// Source: jabfm_contraindications, acsm_stop_copy, heartonline_limits, bmjopen_protocol, hypertension2024, screening_memory.
const (
	stopSystolic, stopDiastolic         = 200, 110 // V1: more than this
	cardiacSystolic                     = 180      // V2, V3: more than this
	vigorousSystolic, vigorousDiastolic = 160, 100 // V4: more than this
	lowSystolic                         = 90       // V5: less than this
	standingDrop                        = 20       // V5: more than this
)

// pressure applies V1 to V4, of which only the strictest is told.
func (a *Assessment) pressure(v Vitals, p Policy) {
	above := func(systolic, diastolic int) bool {
		return v.SBP != nil && *v.SBP > systolic || v.DBP != nil && *v.DBP > diastolic
	}
	says := "Blood pressure " + v.pressureText() + ": "
	switch {
	case above(stopSystolic, stopDiastolic):
		f := VitalFinding{Rule: "V1", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsDoctor, Review: SameDay,
			Cites: []source.Key{"jabfm_contraindications", "acsm_stop_copy", "screening_memory"},
			Text:  says + "no exercise. Rest for 5 minutes and measure again; if it stays above 200 over 110, see a doctor today."}
		if v.Repeated {
			f.Text = says + "still too high after a rest. No exercise; see a doctor today."
		}
		if v.Warning {
			f.Effect, f.Review = Emergency, CallNumber
			f.Text = says + "with chest pain, breathlessness, headache, or trouble with vision, speech or movement. Call the emergency number now."
		}
		a.find(f)
	case v.Cardiac && above(cardiacSystolic, stopDiastolic):
		a.find(VitalFinding{Rule: "V2", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsDoctor, Review: NextVisit,
			Cites: []source.Key{"heartonline_limits", "bmjopen_protocol"},
			Text:  says + "above 180 over 110, with heart disease. No exercise until a doctor has looked at it."})
	case above(cardiacSystolic, stopDiastolic):
		f := VitalFinding{Rule: "V3", Effect: LightOnly, Hold: clearance.AboveLight, Needs: clearance.NeedsPractitioner, Review: NextVisit,
			Cites: []source.Key{"practice"}, Text: says + "above 180. Light work only today, and a review."}
		if p.HighNone {
			f.Effect, f.Hold, f.Text = NoSession, clearance.All, says+"above 180. No exercise today, and a review."
		}
		a.find(f)
	case above(vigorousSystolic, vigorousDiastolic):
		a.find(VitalFinding{Rule: "V4", Effect: NoVigorous, Hold: clearance.Vigorous, Needs: clearance.NeedsPractitioner, Review: NextVisit,
			Cites: []source.Key{"hypertension2024", "practice"},
			Text:  says + "above 160 over 100. No vigorous work and no heavy strength work, and a review."})
	}
}

// pressureText writes the pressure as far as it was measured.
func (v Vitals) pressureText() string {
	switch {
	case v.SBP != nil && v.DBP != nil:
		return fmt.Sprintf("%d/%d mmHg", *v.SBP, *v.DBP)
	case v.SBP != nil:
		return fmt.Sprintf("%d mmHg (upper)", *v.SBP)
	case v.DBP != nil:
		return fmt.Sprintf("%d mmHg (lower)", *v.DBP)
	}
	return ""
}

// standing applies V5.
func (a *Assessment) standing(v Vitals) {
	low := v.SBP != nil && *v.SBP < lowSystolic
	drops := v.SBP != nil && v.StandingSBP != nil && *v.SBP-*v.StandingSBP > standingDrop && (v.Symptoms || v.Fainted)
	if !low && !drops {
		return
	}
	f := VitalFinding{Rule: "V5", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsDoctor, Review: NextVisit,
		Cites: []source.Key{"bmjopen_protocol", "screening_memory"},
		Text:  "Blood pressure " + v.pressureText() + ": below 90. No exercise, and a review."}
	if !low {
		f.Text = fmt.Sprintf("Blood pressure falls from %d to %d mmHg on standing, with symptoms. No exercise, and a review.", *v.SBP, *v.StandingSBP)
	}
	if v.Fainted {
		f.Effect, f.Review = Emergency, CallNumber
		f.Text += " With fainting: call the emergency number now."
	}
	a.find(f)
}

// The limits of resting heart rate, in bpm.
//
// Source: heartonline_limits, cr_contraindications, screening_memory. Practice rule: practice.
const (
	stopRate     = 120 // V6: more than this
	fastRate     = 100 // V7: more than this
	slowRate     = 50  // V8: less than this, with symptoms
	verySlowRate = 40  // V8: less than this
)

// heartRate applies V6 to V8.
func (a *Assessment) heartRate(v Vitals) {
	if v.RestingHR == nil {
		return
	}
	hr := *v.RestingHR
	says := fmt.Sprintf("Resting heart rate %d: ", hr)
	switch {
	case hr > stopRate:
		a.find(VitalFinding{Rule: "V6", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsDoctor, Review: SameDay,
			Cites: []source.Key{"heartonline_limits"}, Text: says + "above 120. No exercise; see a doctor today."})
	case hr > fastRate && v.Cardiac:
		a.find(VitalFinding{Rule: "V7", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsDoctor, Review: NextVisit,
			Cites: []source.Key{"cr_contraindications"}, Text: says + "above 100, with heart disease. No exercise until it has been looked at."})
	case hr > fastRate:
		f := VitalFinding{Rule: "V7", Effect: LightOnly, Hold: clearance.AboveLight, Needs: clearance.NeedsPractitioner, Review: NextVisit,
			Cites: []source.Key{"practice"}, Text: says + "above 100. Wait 10 minutes and count again; if it stays above 100, light work only today."}
		if v.Repeated {
			f.Text = says + "still above 100 after 10 minutes. Light work only today."
		}
		a.find(f)
	case hr < verySlowRate || hr < slowRate && (v.Symptoms || v.Fainted):
		f := VitalFinding{Rule: "V8", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsDoctor, Review: NextVisit,
			Cites: []source.Key{"screening_memory", "practice"}, Text: says + "below 40. No exercise until a doctor has looked at it."}
		if hr >= verySlowRate {
			f.Text = says + "below 50, with symptoms. No exercise until a doctor has looked at it."
		}
		a.find(f)
	case hr < slowRate && v.RateSlowing:
		a.find(VitalFinding{Rule: "V8", Effect: Remark, Cites: []source.Key{"screening_memory", "practice"},
			Text: says + "below 50 on a medicine that slows the heart, without symptoms. Noted only."})
	}
}

// feverFrom is the temperature of a fever, in hundredths of a degree Celsius.
//
// Source: acsm_stop_copy, bmjopen_protocol, exercise_illness.
const feverFrom Hundredths = 3800

// temperature applies V9.
func (a *Assessment) temperature(v Vitals, p Policy) {
	fever := v.Temperature != nil && *v.Temperature >= feverFrom
	if !fever && !v.Feverish {
		return
	}
	says := "Feverish"
	if fever {
		says = "Temperature " + v.Temperature.String() + " degrees"
	}
	a.find(VitalFinding{Rule: "V9", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsStatement,
		Cites: []source.Key{"acsm_stop_copy", "bmjopen_protocol", "exercise_illness", "practice"},
		Text: fmt.Sprintf("%s: no exercise until the temperature has been normal for %d hours without a medicine.",
			says, p.FeverFreeHours)})
}

// oxygen applies V18.
func (a *Assessment) oxygen(v Vitals, p Policy) {
	if v.SpO2 == nil || *v.SpO2 >= p.OxygenFloor {
		return
	}
	a.find(VitalFinding{Rule: "V18", Effect: Pause, Hold: clearance.All, Needs: clearance.NeedsDoctor, Review: NextDay,
		Cites: []source.Key{"lung_rehab_toolkit"},
		Text:  fmt.Sprintf("Oxygen saturation %d per cent: below %d. Pause; a hospital programme can test for oxygen in exercise.", *v.SpO2, p.OxygenFloor)})
}

// weightFast is a gain of body weight within 1 to 3 days that rules out exercise
// with heart failure, in grams.
//
// Source: heartonline_limits.
const weightFast = 2000

// weight applies V19 and V20, for heart failure: the last weight against those
// of the days before.
func (a *Assessment) weight(v Vitals, p Policy) {
	if !v.HeartFailure || len(v.Weights) < 2 {
		return
	}
	days := slices.SortedStableFunc(slices.Values(v.Weights), func(x, y Weight) int { return x.On.DaysSince(y.On) })
	last := days[len(days)-1]
	day, days3, week := 0, 0, 0 // largest gains within 1, 3 and 7 days
	for _, w := range days {
		gain := last.Grams - w.Grams
		ago := last.On.DaysSince(w.On)
		if ago == 1 {
			day = max(day, gain)
		}
		if ago >= 1 && ago <= 3 {
			days3 = max(days3, gain)
		}
		if ago >= 1 && ago <= 7 {
			week = max(week, gain)
		}
	}
	kg := func(grams int) string { return Hundredths((grams+5)/10).String() + " kg" }
	says := ""
	switch {
	case day > p.WeightDayGrams:
		says = "Weight is up " + kg(day) + " in a day"
	case week > p.WeightWeekGrams:
		says = "Weight is up " + kg(week) + " in a week"
	}
	if says != "" {
		a.find(VitalFinding{Rule: "V19", Effect: LightOnly, Hold: clearance.AboveLight, Needs: clearance.NeedsDoctor, Review: NextDay,
			Cites: []source.Key{"heart_failure_weight", "practice"},
			Text:  says + ", with heart failure. Nothing above light work; the doctor hears of it today or tomorrow."})
	}
	if days3 > weightFast {
		a.find(VitalFinding{Rule: "V20", Effect: NoSession, Hold: clearance.All, Needs: clearance.NeedsDoctor, Review: NextDay,
			Cites: []source.Key{"heartonline_limits"},
			Text:  "Weight is up " + kg(days3) + " in 1 to 3 days, with heart failure. No exercise until a doctor's decision names it."})
	}
}
