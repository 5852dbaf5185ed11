package prescription

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/source"
)

// Medicine is one that bears on heart rate.
type Medicine struct {
	Name string `json:"name"` // generic
	Line string `json:"line"` // as the intake has it, with its dose
}

// Inputs are what a prescription's intensity rests on, on the day of its signature or
// on any later one. They are stored with it.
type Inputs struct {
	Age       int                `json:"age"`
	Sex       domain.Sex         `json:"sex,omitempty"`
	Medicines []Medicine         `json:"medicines"` // those that bear on heart rate
	Rest      heartrate.BPM      `json:"rest"`      // 0 is not measured
	Peak      heartrate.BPM      `json:"peak"`      // measured; 0 is none
	PeakOn    domain.Date        `json:"peak_on"`
	Basis     heartrate.Basis    `json:"basis"`
	Reason    string             `json:"reason"` // of the basis, in words
	Equation  heartrate.Equation `json:"equation"`
	Chosen    bool               `json:"chosen"` // the equation, by the practitioner
	Max       int                `json:"max"`    // thousandths of a beat; 0 without a basis
	DoctorHR  heartrate.BPM      `json:"doctor_hr"`
	Cleared   bool               `json:"cleared"` // a doctor's decision is in force
}

// Now is how things stand on a later day.
type Now struct {
	Inputs
	Ceiling intensity.Class // the hardest class allowed
	Held    string          // what the first open hold says; empty without one
	Heard   []string        // changes of medicines that bear on heart rate, heard since the signature
	Birth   string          // a pregnancy or birth heard of since the signature; empty without one
}

// Reason is one reason why a prescription is out of date.
type Reason struct {
	Code string // stable: medicine, birth, rest, doctor, age, sex, peak, ceiling, equation, basis
	Says string
}

// Stale returns why a prescription that was signed for a class on some inputs no
// longer fits; none if it does. In the order of weight: a class above what is allowed
// now, a medicine that bears on heart rate, a pregnancy, a doctor's limit, a measured peak, the
// basis, the resting heart rate, the equation, the age.
//
// Practice rule: practice.
func Stale(class intensity.Class, signed Inputs, now Now, p Policy) []Reason {
	var list []Reason
	add := func(code, format string, args ...any) {
		list = append(list, Reason{code, fmt.Sprintf(format, args...)})
	}
	if class > now.Ceiling {
		says := "It is above what is allowed now."
		if now.Held != "" {
			says += " " + now.Held
		}
		add("ceiling", "%s", says)
	}
	for _, says := range changes(signed.Medicines, now.Medicines) {
		add("medicine", "%s", says)
	}
	for _, note := range now.Heard {
		add("medicine", "A medicine that bears on heart rate has changed since: %s", note)
	}
	if now.Birth != "" {
		add("birth", "A pregnancy or birth was heard of since: %s", now.Birth)
	}
	doctor(add, signed, now.Inputs)
	peak(add, signed, now.Inputs)
	if signed.Basis.Valid() != now.Basis.Valid() || signed.Basis.Valid() && signed.Basis != now.Basis {
		add("basis", "The basis of the heart-rate ranges is another one now: %s", now.Reason)
	}
	if off := distance(signed.Rest, now.Rest); signed.Rest != 0 && now.Rest != 0 && off > p.RestChange {
		add("rest", "The resting heart rate is %d now, and was %d: more than %d apart.", now.Rest, signed.Rest, p.RestChange)
	} else if signed.Rest == 0 && now.Rest != 0 {
		add("rest", "The resting heart rate has been measured since: %d.", now.Rest)
	}
	if signed.Basis == heartrate.Predicted && now.Basis == heartrate.Predicted {
		switch was, is := heartrate.Milli(signed.Max), heartrate.Milli(now.Max); {
		case signed.Equation != now.Equation && !signed.Chosen:
			add("equation", "The practice's equation for the maximal heart rate is another one now: %s, and was %s.", name(now.Equation), name(signed.Equation))
		case signed.Equation == now.Equation && signed.Sex != now.Sex && was != is:
			add("sex", "The record says another sex now: the predicted maximal heart rate is %s, and was %s.", is, was)
		case signed.Equation == now.Equation && signed.Age != now.Age && max(was-is, is-was) > p.MaxChange.Milli():
			add("age", "The client is %d now, and was %d: the predicted maximal heart rate is %s, and was %s.", now.Age, signed.Age, is, was)
		}
	}
	return list
}

// Voided says why the heart-rate ranges of a prescription may not be gone by any more;
// nothing if they may. A medicine or dose that bears on heart rate, a pregnancy, and a
// basis that is gone take the ranges away at once: what was computed before does not hold.
// A peak that was measured since does not, as the next version will rest on it.
//
// Source: keteyian2023, evenson2023. Practice rule: practice.
func Voided(signed Inputs, now Now) string {
	if list := changes(signed.Medicines, now.Medicines); len(list) > 0 {
		return list[0]
	}
	switch {
	case len(now.Heard) > 0:
		return "A medicine that bears on heart rate has changed since: " + now.Heard[0]
	case now.Birth != "":
		return "A pregnancy or birth was heard of since: " + now.Birth
	case signed.Basis.Valid() && !now.Basis.Valid(), signed.Basis == heartrate.Measured && now.Basis != heartrate.Measured:
		return "What the heart-rate ranges rested on does not hold any more. " + now.Reason
	}
	return ""
}

func doctor(add func(code, format string, args ...any), signed, now Inputs) {
	switch {
	case signed.DoctorHR == now.DoctorHR:
	case signed.DoctorHR == 0:
		add("doctor", "A doctor has set a limit of %d beats a minute since.", now.DoctorHR)
	case now.DoctorHR == 0:
		add("doctor", "The doctor's limit of %d beats a minute does not stand any more.", signed.DoctorHR)
	default:
		add("doctor", "The doctor's limit is %d beats a minute now, and was %d.", now.DoctorHR, signed.DoctorHR)
	}
	if signed.Cleared && !now.Cleared {
		add("doctor", "The doctor's decision that stood when it was signed is not in force any more.")
	}
}

func peak(add func(code, format string, args ...any), signed, now Inputs) {
	switch {
	case now.Peak == 0 || now.Peak == signed.Peak && now.PeakOn == signed.PeakOn:
	case signed.Peak == 0:
		add("peak", "A peak heart rate of %d has been measured since.", now.Peak)
	default:
		add("peak", "The measured peak heart rate is %d now, and was %d.", now.Peak, signed.Peak)
	}
}

// changes are the medicines that were started, stopped or are taken otherwise.
func changes(before, after []Medicine) []string {
	var list []string
	find := func(in []Medicine, name string) (Medicine, bool) {
		i := slices.IndexFunc(in, func(m Medicine) bool { return m.Name == name })
		if i < 0 {
			return Medicine{}, false
		}
		return in[i], true
	}
	for _, m := range after {
		switch was, ok := find(before, m.Name); {
		case !ok:
			list = append(list, fmt.Sprintf("A medicine that bears on heart rate is new: %s.", m.Line))
		case !strings.EqualFold(strings.Join(strings.Fields(was.Line), " "), strings.Join(strings.Fields(m.Line), " ")):
			list = append(list, fmt.Sprintf("A medicine that bears on heart rate has changed: %s, and was %s.", m.Line, was.Line))
		}
	}
	for _, m := range before {
		if _, ok := find(after, m.Name); !ok {
			list = append(list, fmt.Sprintf("A medicine that bears on heart rate was stopped: %s.", m.Line))
		}
	}
	return list
}

func distance(a, b heartrate.BPM) heartrate.BPM { return max(a-b, b-a) }

func name(e heartrate.Equation) string {
	if info, ok := e.Info(); ok {
		return info.Name
	}
	return cmp.Or(string(e), "none")
}

// Policy holds the settings of a practice for prescriptions.
type Policy struct {
	RestChange heartrate.BPM // a resting heart rate that moved by more makes a prescription stale
	MaxChange  heartrate.BPM // a birthday that moves the predicted maximum by more does
}

var (
	settingRestChange = source.Setting{
		Key: "prescription.rest_change", Topic: source.TopicHeartRate, Unit: "bpm", Default: 7, Low: 3, High: 20,
		Says:  "A prescription is out of date when the resting heart rate has moved by more than this. From one week to the next it moves by up to 7 by itself.",
		Cites: []source.Key{"practice", "resting_retest1972"},
	}
	settingMaxChange = source.Setting{
		Key: "prescription.max_change", Topic: source.TopicHeartRate, Unit: "bpm", Default: 1, Low: 0, High: 10,
		Says:  "A prescription is out of date when a birthday has moved the predicted maximal heart rate by more than this.",
		Cites: []source.Key{"practice", "gellish2007"},
	}
)

// Settings are the numbers here that a practice may change.
var Settings = []source.Setting{settingRestChange, settingMaxChange}

// PolicyFrom returns the policy of a practice; PolicyFrom(nil) is all defaults.
//
// Practice rule: practice.
func PolicyFrom(v source.Values) Policy {
	return Policy{RestChange: heartrate.BPM(v.Of(settingRestChange)), MaxChange: heartrate.BPM(v.Of(settingMaxChange))}
}

// Rules are the rules of this package.
var Rules = []source.Rule{
	{
		ID: "prescription.stale", Topic: source.TopicHeartRate, Cites: []source.Key{"practice"},
		Says: "A signed prescription is out of date when its class is above what is allowed now; a medicine that bears on heart rate is new, changed or stopped; " +
			"a doctor's limit is new, changed or gone, or the decision has lapsed; a peak was measured; the basis of the ranges is another one; the resting heart rate " +
			"or the predicted maximum has moved by more than the practice's settings; the practice's equation is another one; or the sex in the record is, where the equation needs it, or a pregnancy or birth was heard of. It stays in force until the next version is signed.",
	},
	{
		ID: "prescription.void", Topic: source.TopicHeartRate, Cites: []source.Key{"keteyian2023", "evenson2023", "practice"},
		Says: "Heart-rate ranges of a signed prescription are not shown any more, and class no session, once a medicine that bears on heart rate is new, changed or stopped, " +
			"a pregnancy or birth was heard of, or their basis is gone. Talk test and perceived exertion carry it until the next version is signed; a ceiling stays.",
	},
	{
		ID: "prescription.method", Topic: source.TopicIntensity, Cites: []source.Key{"garber2011", "karvonen1957", "swain1997", "acsm_equations", "cdc_talk", "practice"},
		Says: "Intensity is prescribed by talk test or perceived exertion always, by heart rate only with a valid basis and an open range, by oxygen-uptake reserve or work " +
			"only with a maximal oxygen uptake on file.",
	},
	ruleEnd,
}
