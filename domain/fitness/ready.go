package fitness

import (
	"fmt"

	"brae/domain"
	"brae/domain/intensity"
)

// Readiness is what is known of somebody on the day of a test.
type Readiness struct {
	Screened     bool            // a screening that counts on that day
	Ceiling      intensity.Class // hardest class allowed on that day
	Holds        []string        // why holds are open, in words
	Vigorous     bool            // the gate before vigorous work is open
	NoAllOut     bool            // the practice does no all-out tests
	WhyNot       string          // why it is not, in a sentence
	HRLimit      int             // bpm, a doctor's limit; 0 is none
	Stage        intensity.Class // that training has reached
	Unfinished   bool            // an intake is under way: its answers may say something else
	RestCeiling  intensity.Class // what the readings at rest leave open; NearMaximal without readings
	RestFindings []string        // what they say
}

// Bars returns why the test must not be done, in sentences for the practice; none
// if it may. A test without effort has no bars.
//
// Where the screening and the gate leave vigorous work open, an all-out test is no
// harder than what they were asked about: no screening tells apart what lies above
// vigorous. A practice may leave such tests to others all the same.
//
// Source: acsm_test_stop. Practice rule: practice.
func (t Test) Bars(r Readiness) []string {
	if t.Effort == intensity.None {
		return nil
	}
	var bars []string
	if !r.Screened {
		bars = append(bars, "There is no screening that counts today. Screen first: its answers say what may be done.")
	}
	if r.Unfinished && t.Effort >= intensity.Vigorous {
		bars = append(bars, "An intake is under way and not decided. A hard test waits for its answers.")
	}
	ceiling := r.Ceiling
	if ceiling >= intensity.Vigorous {
		switch {
		case r.Vigorous:
			ceiling = intensity.NearMaximal
		case t.Effort >= intensity.Vigorous:
			bars = append(bars, r.WhyNot)
			ceiling = t.Effort // said already
		}
	}
	err := t.Allowed(ceiling, r.Stage)
	if problems, ok := err.(domain.Problems); ok {
		bars = append(bars, problems["test"])
	} else if err != nil && r.Screened {
		for _, hold := range r.Holds {
			bars = append(bars, "On hold: "+hold)
		}
		bars = append(bars, fmt.Sprintf("The test asks for %s effort; %s.", words(t.Effort), ceilingWords(ceiling)))
	}
	if t.Maximal && r.NoAllOut {
		bars = append(bars, "The practice does no all-out tests (a practice setting). Choose one that ends below the limit.")
	}
	if t.Maximal && r.HRLimit > 0 {
		bars = append(bars, fmt.Sprintf("A doctor's limit of %d beats a minute rules an all-out test out.", r.HRLimit))
	}
	if t.Effort > r.RestCeiling {
		bars = append(bars, r.RestFindings...)
	}
	return bars
}

var effortWords = map[intensity.Class]string{
	intensity.None: "no", intensity.VeryLight: "very light", intensity.Light: "light", intensity.Moderate: "moderate",
	intensity.Vigorous: "vigorous", intensity.NearMaximal: "all-out",
}

func words(c intensity.Class) string { return effortWords[c] }

func ceilingWords(c intensity.Class) string {
	if c == intensity.None {
		return "no exercise is allowed now"
	}
	return "work up to " + words(c) + " is allowed now"
}

// Conditions are what a test was done under beside its readings. A nil field was
// not measured.
type Conditions struct {
	RestingHR      *int     `json:"resting_hr"`       // bpm, before
	SBP            *int     `json:"sbp"`              // mmHg, before
	DBP            *int     `json:"dbp"`              // mmHg, before
	SpO2           *int     `json:"spo2"`             // per cent, before
	Breathless     *int     `json:"breathless"`       // 0 to 10, before
	Fatigue        *int     `json:"fatigue"`          // 0 to 10, before
	SpO2After      *int     `json:"spo2_after"`       // per cent
	BreathAfter    *int     `json:"breathless_after"` // 0 to 10
	FatigueAfter   *int     `json:"fatigue_after"`    // 0 to 10
	CourseM        *float64 `json:"course_m"`         // of a six-minute walk
	RecentHeart    bool     `json:"recent_heart"`     // unstable angina or a heart attack in the last month
	PeakHR         *int     `json:"peak_hr"`          // bpm, the highest of a graded test
	ToLimit        bool     `json:"to_limit"`         // it ended because the person could do no more
	UsualMedicines bool     `json:"usual_medicines"`  // medicines and doses are those of every day
	Note           string   `json:"note"`
}

// longestNote bounds a note, in bytes.
const longestNote = 4000

// Check returns [domain.Problems] for conditions that are missing or cannot be, and
// otherwise [domain.Doubts] for what asks for caution before a six-minute walk.
//
// Source: ats2002, holland2014, acsm_test_stop. Practice rule: practice.
func (c Conditions) Check(t Test) error {
	card := t.Card()
	var p domain.Problems
	for _, f := range []struct {
		name      string
		value     *int
		low, high int
		what      string
	}{
		{"resting_before", c.RestingHR, 25, 200, "A heart rate at rest goes"},
		{"sbp", c.SBP, 50, 300, "An upper blood pressure goes"},
		{"dbp", c.DBP, 20, 200, "A lower blood pressure goes"},
		{"spo2", c.SpO2, 50, 100, "A saturation in per cent goes"},
		{"spo2_after", c.SpO2After, 50, 100, "A saturation in per cent goes"},
		{"breathless", c.Breathless, 0, 10, "The scale goes"},
		{"breathless_after", c.BreathAfter, 0, 10, "The scale goes"},
		{"fatigue", c.Fatigue, 0, 10, "The scale goes"},
		{"fatigue_after", c.FatigueAfter, 0, 10, "The scale goes"},
		{"peak_hr", c.PeakHR, 60, highestHR, "A peak heart rate goes"},
	} {
		if f.value != nil && (*f.value < f.low || *f.value > f.high) {
			p.Add(f.name, fmt.Sprintf("%s from %d to %d.", f.what, f.low, f.high))
		}
	}
	if card.Rest {
		if c.RestingHR == nil {
			p.Add("resting_before", "Count the heart rate at rest before the test.")
		}
		if c.SBP == nil {
			p.Add("sbp", "Measure the blood pressure before the test.")
		}
		if c.DBP == nil {
			p.Add("dbp", "Measure the blood pressure before the test.")
		}
	}
	if c.SBP != nil && c.DBP != nil && *c.DBP >= *c.SBP-5 {
		p.Add("dbp", "The lower blood pressure must be well below the upper one. Are the two swapped?")
	}
	if card.Walk {
		c.checkWalk(&p)
	}
	if len(c.Note) > longestNote {
		p.Add("note", "The note is too long. Use 1,000 characters at most.")
	}
	if p != nil {
		return p
	}
	if !card.Walk {
		return nil
	}
	_, caution := BeforeSixMinuteWalk(WalkStart{RestingHR: c.RestingHR, SBP: c.SBP, DBP: c.DBP})
	var d domain.Doubts
	for _, field := range caution {
		if d == nil {
			d = domain.Doubts{}
		}
		if field == "resting_hr" {
			field = "resting_before"
		}
		d[field] = "The walk asks for caution above this: 120 beats, 180 or 100 mmHg at rest."
	}
	return d.Err()
}

// checkWalk refuses a six-minute walk soon after unstable angina or a heart attack,
// and one whose course is not known, since it could not be compared.
func (c Conditions) checkWalk(p *domain.Problems) {
	if refuse, _ := BeforeSixMinuteWalk(WalkStart{RecentHeart: c.RecentHeart}); refuse {
		p.Add("recent_heart", "No walk within a month of unstable angina or a heart attack.")
	}
	if c.CourseM == nil || !(*c.CourseM >= 10 && *c.CourseM <= 400) {
		p.Add("course_m", "Type the length of the course, from 10 to 400 m. Walks on other courses cannot be compared.")
	}
}

// GivesPeak reports whether the highest heart rate of the test can stand for the
// maximum: a graded test to the person's own limit on a treadmill or a cycle.
//
// Practice rule: practice.
func (t Test) GivesPeak() bool { return t.ID == TreadmillPeak || t.ID == CyclePeak }

// Peak returns the highest heart rate in bpm that may be offered as the measured
// maximum, 0 if there is none: the test must give one, end at the limit and be done
// on the medicines of every day.
//
// Practice rule: practice.
func (t Test) Peak(c Conditions) int {
	if !t.GivesPeak() || c.PeakHR == nil || !c.ToLimit || !c.UsualMedicines {
		return 0
	}
	return *c.PeakHR
}
