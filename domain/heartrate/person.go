package heartrate

import (
	"time"

	"brae/domain"
)

// Posture is how somebody rested before the resting heart rate was taken. One
// posture is kept for one client: lying gives a lower rate than sitting.
type Posture string

// The postures. Seated is the practice's usual one, since that is what cardiac
// formulas use; waking is before getting up.
//
// Source: keteyian2019, resting_home.
const (
	Seated   Posture = "seated"
	Supine   Posture = "supine"
	Standing Posture = "standing"
	Waking   Posture = "waking"
)

// Person is what decides which heart rates somebody may train at. Fields left at
// zero are not known or do not apply.
type Person struct {
	Age   int         // completed years on Today
	Sex   Sex         // only needed by some equations
	Today domain.Date // needed with a measured peak, an interim ceiling or a date of the resting rate

	RestingHR             BPM
	RestingOn             domain.Date
	RestingBeforeMedicine bool // taken before a medicine or dose that changes it

	Equation Equation // chosen by the practitioner; empty for the practice's default
	Mode     Mode     // for an equation that needs it

	Conditions      Condition
	Medicines       Medicines
	UnknownMedicine bool // one is not recognised and nobody has looked it up
	InRehab         bool // in cardiac rehabilitation: peaks expire sooner

	Peak   Peak
	Limits Limits
}

// slowed reports whether a medicine makes a predicted maximum useless.
func (p *Person) slowed() bool { return p.Medicines.Has(Z1) || p.Conditions.Has(BetaBlocker) }

// input is what an equation sees of the person.
func (p *Person) input() EquationInput {
	return EquationInput{p.Age, p.Sex, p.RestingHR, p.Mode, p.Conditions}
}

// Change is a set of what has changed since a test. Each voids its peak.
//
// Practice rule: practice.
type Change uint8

// The changes.
const (
	ChangedMedicine Change = 1 << iota // a rate-altering medicine, or its dose
	ChangedDevice                      // the programming of a device
	ChangedHeart                       // a cardiac event or procedure
	ChangedRhythm
)

// Peak is the highest heart rate of an exercise test. An HR of 0 is no test.
type Peak struct {
	HR                BPM
	On                domain.Date
	Mode              Mode
	StopReason        string // as the test says; for people to read
	SymptomLimited    bool   // the person could do no more; not stopped early
	SameMedicines     bool   // the medicines and doses of that day are those of today
	Changed           Change
	TransplantAllowed bool // the practitioner accepts it for a transplanted heart
}

// PeakToday is a peak of which nothing but the number is known, taken as a valid
// symptom-limited test on that day and on the present medicines.
func PeakToday(hr BPM, today domain.Date) Peak {
	return Peak{HR: hr, On: today, SymptomLimited: true, SameMedicines: true}
}

// flaws returns why the peak cannot stand for the maximum; none means it can. A
// peak holds up to and including the day on which its months are over.
//
// Practice rule: practice.
func (p *Person) flaws(policy *Policy) Notes {
	peak := &p.Peak
	var n Notes
	if !peak.SymptomLimited {
		n |= peakEndedEarly
	}
	months := policy.PeakMonths
	if p.InRehab {
		months = policy.RehabPeakMonths
	}
	if peak.On.IsZero() {
		n |= peakUndated
	} else if monthsLater(p.Today, peak.On, months) {
		n |= peakExpired
	}
	if !peak.SameMedicines || peak.Changed&ChangedMedicine != 0 {
		n |= peakOtherMedicine
	}
	if peak.Changed&^ChangedMedicine != 0 {
		n |= peakOtherHeart
	}
	return n
}

// later reports whether a is after b.
func later(a, b domain.Date) bool {
	switch {
	case a.Year != b.Year:
		return a.Year > b.Year
	case a.Month != b.Month:
		return a.Month > b.Month
	}
	return a.Day > b.Day
}

// monthsLater reports whether a is after the same day of the month n months after
// b, or after the last day of that month if it is too short. It answers as
// a.After(b.AddMonths(n)) does, in a tenth of the time.
func monthsLater(a, b domain.Date, n int) bool {
	over := 12*(a.Year-b.Year) + int(a.Month-b.Month) - n
	return over > 0 || over == 0 && a.Day > b.Day
}

// inCalendar reports what d.Valid does, quickly for most days.
func inCalendar(d domain.Date) bool {
	if time.January <= d.Month && d.Month <= time.December && 1 <= d.Day && d.Day <= 28 {
		return true
	}
	return d.Valid()
}

// check returns [domain.Problems] for what cannot be used at all. An age below
// 18 is not among them; the basis table refuses it.
func (p *Person) check(policy *Policy) error {
	var bad domain.Problems
	if p.Age > policy.AgeHigh { // too young is for the basis table
		bad.Add("age", "Check the age.")
	}
	if p.RestingHR != 0 && (p.RestingHR < policy.RestLow || p.RestingHR > policy.RestHigh) {
		bad.Add("resting_hr", CheckResting(p.RestingHR, RestingContext{}, *policy).Sentence)
	}
	if p.Equation != "" && p.Equation.find() == nil {
		bad.Add("equation", "This equation is not known.")
	}
	if p.Peak.HR != 0 {
		p.checkPeak(policy, &bad)
	}
	p.checkLimits(policy, &bad)
	if bad == nil {
		return nil
	}
	return bad
}

func (p *Person) checkPeak(policy *Policy, bad *domain.Problems) {
	peak := &p.Peak
	switch {
	case peak.HR < policy.PeakLow || peak.HR > policy.PeakHigh:
		bad.Add("measured_max", CheckPeak(peak.HR, PeakContext{}, *policy).Sentence)
	case peak.HR <= p.RestingHR:
		bad.Add("measured_max", "The peak must be above the resting heart rate. Are the two swapped?")
	}
	switch {
	case peak.On.IsZero(): // told by flaws
	case !inCalendar(peak.On):
		bad.Add("measured_on", "The calendar does not have this day.")
	case p.Today.IsZero():
		bad.Add("today", "A dated test needs the day of today.")
	case later(peak.On, p.Today):
		bad.Add("measured_on", "The test cannot be in the future.")
	}
}
