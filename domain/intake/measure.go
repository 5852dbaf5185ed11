package intake

import (
	"strings"

	"brae/domain/intensity"
	"brae/domain/screening"
)

// The names of the fields of what is measured beside the first reading, and of
// the units in which it was read.
const (
	FieldSystolic2       = "systolic_2"
	FieldDiastolic2      = "diastolic_2"
	FieldPressurePosture = "pressure_posture"
	FieldWeightUnit      = "weight_unit"
	FieldHeightUnit      = "height_unit"
	FieldTemperature     = "temperature"
	FieldTemperatureUnit = "temperature_unit"
	FieldGlucose         = "glucose"
	FieldGlucoseUnit     = "glucose_unit"
	FieldOxygen          = "oxygen"
)

// The units other than the first of each measurement.
const (
	Pounds     = "lb"
	Inches     = "in"
	Fahrenheit = "f"
	MgPerDL    = "mg_dl"
)

// ConfirmedField is the field that says of another one that its value is right
// although it is unusual: it holds that value.
func ConfirmedField(field string) string { return "confirmed." + field }

// doubt notes that a value has to be confirmed, unless it was.
func (r *reader) doubt(field, sentence string) {
	if r.text(ConfirmedField(field)) == r.text(field) {
		return
	}
	if r.doubts == nil {
		r.doubts = map[string]string{}
	}
	if _, ok := r.doubts[field]; !ok {
		r.doubts[field] = sentence
	}
}

// judge notes what a finding says of a field and reports whether the value can be
// kept.
func (r *reader) judge(field string, found intensity.Finding) bool {
	switch found.Verdict {
	case intensity.Reject:
		r.problems.Add(field, found.Sentence)
		return false
	case intensity.Confirm:
		r.doubt(field, found.Sentence)
	}
	return true
}

// body reads weight, height, temperature, blood sugar and oxygen saturation. What
// was read in another unit is turned into ours, rounded to the nearest: 1 lb is
// 0.45359237 kg and 1 in is 2.54 cm exactly; 1 mmol/L of glucose is 18.016 mg/dL.
//
// Practice rule: practice.
func (r *reader) body(record *Record, b screening.Bands) {
	if n, ok := r.decimal(FieldWeight); ok { // in hundredths of the unit
		if r.text(FieldWeightUnit) == Pounds {
			n = nearest(n*45_359_237, 100_000_000)
		}
		if n = nearest(n, 10); r.judge(FieldWeight, b.Weight.Check(nearest(n, 10), "kg")) {
			record.WeightTenths = n
		}
	}
	if n, ok := r.decimal(FieldHeight); ok {
		if r.text(FieldHeightUnit) == Inches {
			n = nearest(n*254, 100)
		}
		if n = nearest(n, 10); r.judge(FieldHeight, b.Height.Check(nearest(n, 10), "cm")) {
			record.HeightTenths = n
		}
	}
	if n, ok := r.decimal(FieldTemperature); ok {
		if r.text(FieldTemperatureUnit) == Fahrenheit {
			n = nearest((n-3200)*5, 9)
		}
		if r.judge(FieldTemperature, inDegrees(b.Temperature.Check(nearest(n, 10), ""), b.Temperature)) {
			record.TemperatureTenths = nearest(n, 10)
		}
	}
	if n, ok := r.decimal(FieldGlucose); ok {
		if r.text(FieldGlucoseUnit) != MgPerDL {
			n = nearest(n*18_016, 1000)
		}
		if r.judge(FieldGlucose, b.Glucose.Check(nearest(n, 100), "mg/dL (18 mg/dL are 1 mmol/L)")) {
			record.GlucoseMgDL = nearest(n, 100)
		}
	}
	if n := r.whole(FieldOxygen, 1, 999, "An oxygen saturation is a whole number of per cent, such as 96."); n != 0 {
		if r.judge(FieldOxygen, b.Oxygen.Check(n, "per cent")) {
			record.Oxygen = n
		}
	}
}

// inDegrees tells a band of tenths in degrees.
func inDegrees(f intensity.Finding, b screening.Band) intensity.Finding {
	degrees := func(tenths int) string { return screening.Hundredths(10 * tenths).String() }
	switch f.Verdict {
	case intensity.Reject:
		f.Sentence = "A temperature is from " + degrees(b.Low) + " to " + degrees(b.High) + " °C."
	case intensity.Confirm:
		f.Sentence = "Is this right? It is outside " + degrees(b.ConfirmLow) + " to " + degrees(b.ConfirmHigh) + " °C."
	}
	return f
}

// nearest divides and rounds half away from zero.
func nearest(n, by int) int {
	if n < 0 {
		return -nearest(-n, by)
	}
	return (n + by/2) / by
}

// pressure reads one or two blood pressures. Of two the mean counts, rounded up:
// the side on which more is asked.
//
// Source: screening_memory. Practice rule: practice.
func (r *reader) pressure(record *Record, b screening.Bands) {
	s1, d1 := r.onePressure(FieldSystolic, FieldDiastolic, b)
	s2, d2 := r.onePressure(FieldSystolic2, FieldDiastolic2, b)
	switch {
	case s1 == 0:
		s1, d1 = s2, d2
	case s2 != 0:
		if apart := s1 - s2; max(apart, -apart) > b.PressureFar {
			record.PressureApart = true
		}
		s1, d1 = (s1+s2+1)/2, (d1+d2+1)/2
	}
	record.Systolic, record.Diastolic = s1, d1
}

// onePressure reads a pair; a pair with a problem is 0 over 0.
func (r *reader) onePressure(upper, lower string, b screening.Bands) (s, d int) {
	s = r.whole(upper, 1, 999, "The upper blood pressure is a whole number of mmHg, such as 132.")
	d = r.whole(lower, 1, 999, "The lower blood pressure is a whole number of mmHg, such as 84.")
	switch {
	case (r.text(upper) == "") != (r.text(lower) == ""):
		r.problems.Add(lower, "Type both blood pressures.")
		return 0, 0
	case s == 0 || d == 0:
		return 0, 0
	}
	if d >= s-b.PressureGap { // before anything is doubted: swapped, both look unusual
		r.problems.Add(lower, "The lower blood pressure must be well below the upper one. Are the two swapped?")
		return 0, 0
	}
	okS, okD := r.judge(upper, b.Systolic.Check(s, "mmHg")), r.judge(lower, b.Diastolic.Check(d, "mmHg"))
	if !okS || !okD {
		return 0, 0
	}
	return s, d
}

// Vitals are the measurements as the rules for a session see them. What was not
// measured is left out.
func (r Record) Vitals() screening.Vitals {
	taken := func(n int) *int {
		if n == 0 {
			return nil
		}
		return &n
	}
	v := screening.Vitals{SBP: taken(r.Systolic), DBP: taken(r.Diastolic), GlucoseMgDL: taken(r.GlucoseMgDL), SpO2: taken(r.Oxygen)}
	if n := len(r.RestingReadings); n > 0 {
		sum := 0
		for _, reading := range r.RestingReadings {
			sum += int(reading)
		}
		v.RestingHR = taken((2*sum + n) / (2 * n))
	}
	if r.TemperatureTenths != 0 {
		t := screening.Hundredths(10 * r.TemperatureTenths)
		v.Temperature = &t
	}
	v.Cardiac = r.heart()
	v.HeartFailure = r.Answers.Of("heart_failure").CountsAsYes()
	found := r.Matches()
	v.GlucoseLowering = found.Taking("INSULIN") || found.Taking("SU_GLIN")
	v.RateSlowing = found.ZonesUntilConfirmed().Has("Z1")
	return v
}

// measured are the findings that a vital-sign rule stands for: who measures it
// need not tick it.
//
// Source: jabfm_contraindications, heartonline_limits.
var measured = map[string]string{
	"V1": "blood_pressure_200", "V2": "blood_pressure_180", "V6": "resting_rate_120", "V9": "infection_fever",
}

// findings answers yes to the findings that were measured, on top of what was
// ticked.
func (r Record) findings(p screening.Policy) (screening.Answers, []screening.VitalFinding) {
	answers := r.Answers
	found, err := screening.AssessVitals(r.Vitals(), p)
	if err != nil { // beyond what anybody has: refused when it was read
		return answers, nil
	}
	for _, f := range found.Findings {
		if code, ok := measured[f.Rule]; ok {
			_ = answers.Set(code, screening.Yes) // the code exists: a test looks
		}
	}
	return answers, found.Findings
}

// TakenAnew reports whether a field is measured again at each screening, and so
// does not start from what was measured at the last one.
//
// Practice rule: practice.
func TakenAnew(field string) bool {
	switch field {
	case FieldResting1, FieldResting2, FieldResting3, FieldSystolic, FieldDiastolic, FieldSystolic2, FieldDiastolic2,
		FieldTemperature, FieldGlucose, FieldOxygen, FieldWeight:
		return true
	}
	return strings.HasPrefix(field, ConfirmedField(""))
}
