package heartrate

import (
	"brae/domain"
	"brae/domain/intensity"
)

// Limits are the numbers from which the heart-rate ceiling follows. Any that is
// 0 does not apply.
type Limits struct {
	DoctorHR       BPM
	PractitionerHR BPM

	// IschaemiaHR is where ST depression, angina, a falling pressure or another
	// sign of intolerance began. Its margin is the practice's if 0.
	IschaemiaHR     BPM
	IschaemiaMargin BPM

	ICDDetectionHR BPM // the lowest rate at which the defibrillator acts
	ICDMargin      BPM // the practice's if 0

	PacemakerUpperHR BPM // upper sensor or tracking rate

	Interim Interim
}

// InterimKind says why there is an interim ceiling. The empty kind is: none.
type InterimKind string

// The kinds of interim ceiling.
const (
	AfterHeartAttack  InterimKind = "after_heart_attack"  // resting + 20
	AfterHeartSurgery InterimKind = "after_heart_surgery" // resting + 30
)

// The figures of an interim ceiling in early cardiac rehabilitation without a
// test: so many beats above resting, and never above the top.
//
// Source: acsm_getp_heart_rate, aacvpr_rehab.
const (
	interimAfterAttack  BPM = 20
	interimAfterSurgery BPM = 30
	interimTop          BPM = 120
)

// Interim is a ceiling for somebody who has not been tested yet. It is no
// target: the same 20 beats are a tenth of one person's reserve and all of
// another's. It is reviewed on a day, and stays when that day has passed.
//
// Source: mytinger2020, interim_abstract, joo2004.
type Interim struct {
	Kind      InterimKind
	RestingHR BPM // when it was set
	Posture   Posture
	ReviewOn  domain.Date
}

// NewInterim returns an interim ceiling set on a day, with its review date.
//
// Practice rule: practice.
func NewInterim(kind InterimKind, restingHR BPM, posture Posture, set domain.Date, policy Policy) Interim {
	return Interim{kind, restingHR, posture, set.AddDays(7 * policy.InterimReviewWeeks)}
}

// ceiling returns resting + 20 or + 30, at most 120.
func (i *Interim) ceiling() BPM {
	add := interimAfterAttack
	if i.Kind == AfterHeartSurgery {
		add = interimAfterSurgery
	}
	return min(i.RestingHR+add, interimTop)
}

// CeilingKind says where a heart-rate ceiling comes from.
type CeilingKind uint8

// The kinds of ceiling.
const (
	DoctorCeiling CeilingKind = iota
	PractitionerCeiling
	IschaemiaCeiling
	ICDCeiling
	PacemakerCeiling
	InterimCeiling
	PeakCeiling // a peak that may not stand for the maximum
	ceilingKinds
)

var ceilingNames = [ceilingKinds]string{"doctor", "practitioner", "ischaemia", "icd", "pacemaker", "interim", "peak"}

// String returns the name of the kind.
func (k CeilingKind) String() string { return ceilingNames[k] }

// Ceilings are all heart-rate ceilings of a person, by kind; 0 does not apply.
type Ceilings [ceilingKinds]BPM

// Lowest returns the ceiling that counts and where it comes from; false if there
// is none.
//
// Source: acsm_getp_heart_rate, ada2016_angina.
func (c Ceilings) Lowest() (BPM, CeilingKind, bool) {
	lowest, kind := BPM(0), CeilingKind(0)
	for k, hr := range c {
		if hr != 0 && (lowest == 0 || hr < lowest) {
			lowest, kind = hr, CeilingKind(k)
		}
	}
	return lowest, kind, lowest != 0
}

// CeilingsFor returns the heart-rate ceilings of a person: the doctor's and the
// practitioner's numbers; the ischaemic threshold less its margin; the detection
// rate of a defibrillator less its margin; the upper rate of a pacemaker less its
// margin; an interim ceiling; and the peak of a test that may not stand for the
// maximum. It returns [domain.Problems] as [Decide] does.
//
// Source: acsm_getp_heart_rate, ada2016_angina.
// Practice rule: practice.
func CeilingsFor(p Person, policy Policy) (Ceilings, error) {
	if err := p.check(&policy); err != nil {
		return Ceilings{}, err
	}
	var c Ceilings
	p.ceilings(&policy, p.flaws(&policy) == 0, &c)
	return c, nil
}

// ceilings fills c; usable says that the peak may stand for the maximum.
func (p *Person) ceilings(policy *Policy, usable bool, c *Ceilings) {
	*c = p.Limits.Ceilings(policy)
	if !usable {
		c[PeakCeiling] = p.Peak.HR // 0 without a test
	}
}

// Ceilings returns the ceilings that follow from the limits alone.
//
// Source: acsm_getp_heart_rate, ada2016_angina.
// Practice rule: practice.
func (l *Limits) Ceilings(policy *Policy) (c Ceilings) {
	c[DoctorCeiling], c[PractitionerCeiling] = l.DoctorHR, l.PractitionerHR
	if l.IschaemiaHR != 0 {
		c[IschaemiaCeiling] = l.IschaemiaHR - margin(l.IschaemiaMargin, policy.IschaemiaMargin)
	}
	if l.ICDDetectionHR != 0 {
		c[ICDCeiling] = l.ICDDetectionHR - margin(l.ICDMargin, policy.ICDMargin)
	}
	if l.PacemakerUpperHR != 0 {
		c[PacemakerCeiling] = l.PacemakerUpperHR - policy.PacemakerMargin
	}
	if l.Interim.Kind != "" {
		c[InterimCeiling] = l.Interim.ceiling()
	}
	return c
}

func margin(given, usual BPM) BPM {
	if given != 0 {
		return given
	}
	return usual
}

// checkLimits adds the problems of the limits.
func (p *Person) checkLimits(policy *Policy, bad *domain.Problems) {
	l := &p.Limits
	rate := func(field string, hr BPM) {
		if hr != 0 && (hr < policy.SessionLow || hr > policy.SessionHigh) {
			bad.Add(field, "This is no heart rate of a living person: check it.")
		}
	}
	rate("doctor_hr", l.DoctorHR)
	rate("practitioner_hr", l.PractitionerHR)
	rate("ischaemia_hr", l.IschaemiaHR)
	rate("icd_detection_hr", l.ICDDetectionHR)
	rate("pacemaker_upper_hr", l.PacemakerUpperHR)
	small := func(field string, m BPM) {
		if m != 0 && m < lowestMargin || m > highestMargin {
			bad.Add(field, "The margin must be from 10 to 60 beats.")
		}
	}
	small("ischaemia_margin", l.IschaemiaMargin)
	small("icd_margin", l.ICDMargin)

	i := &l.Interim
	switch i.Kind {
	case "":
		return
	case AfterHeartAttack, AfterHeartSurgery:
	default:
		bad.Add("interim_kind", "Choose after_heart_attack or after_heart_surgery.")
	}
	if i.RestingHR < policy.RestLow || i.RestingHR > policy.RestHigh {
		bad.Add("interim_resting_hr", "An interim ceiling needs the resting heart rate it was set from.")
	}
	if !inCalendar(i.ReviewOn) {
		bad.Add("interim_review_on", "An interim ceiling needs a day for its review.")
	}
	if p.Today.IsZero() {
		bad.Add("today", "An interim ceiling needs the day of today.")
	}
}

// highestMargin bounds a margin that somebody types, so that a rate typed into
// the wrong field is noticed.
const highestMargin BPM = 60

// Enforced returns the ceiling for somebody who may not work harder than a class:
// the lower of the heart-rate ceiling and the last beat of that class; false if
// neither is there.
//
// Practice rule: practice.
func (z *Zones) Enforced(hardest intensity.Class) (BPM, bool) {
	ceiling, found := z.Ceiling, z.Ceiling != 0
	if z.Max == 0 || hardest < intensity.VeryLight || hardest >= intensity.NearMaximal {
		return ceiling, found
	}
	edge := target(z.Rest, int64(z.Max-z.Rest.Milli()), intensity.Reserve.From(hardest+1)).Ceil() - 1
	if !found || edge < ceiling {
		return edge, true
	}
	return ceiling, true
}
