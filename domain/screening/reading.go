package screening

import "brae/domain/clearance"

// Reading is what was measured before a session: at first, and again after a rest
// where a rule asks for that.
type Reading struct {
	Vitals
	SBPAgain       *int // mmHg, after 5 minutes of rest
	DBPAgain       *int // mmHg
	RestingHRAgain *int // bpm, after 10 minutes of rest
	NotAgain       bool // nobody measures again: the first values count
}

// Rest is what has to be measured again before it counts.
type Rest struct {
	Rule    string `json:"rule"`    // V1, V7
	Minutes int    `json:"minutes"` // of rest before it
}

// Judgement is what a reading comes to.
type Judgement struct {
	Findings []VitalFinding  `json:"findings"`
	Hold     clearance.Scope `json:"hold"`            // the widest of what counts
	Waits    []Rest          `json:"waits,omitempty"` // findings that count only if they are there after a rest
}

// The rests before a second reading, in minutes.
//
// Source: acsm_stop_copy. Practice rule: practice.
const (
	pressureRest = 5
	rateRest     = 10
)

// Judge says what a reading comes to. What was measured again counts instead of
// what was measured at first. A pressure above 200 over 110 without warning signs,
// and a heart rate above 100 without heart disease, wait for the second
// measurement: there is no exercise until then, and no hold. It returns a
// [domain.Problems] for values that cannot be.
//
// Source: jabfm_contraindications, acsm_stop_copy. Practice rule: practice.
func (r Reading) Judge(p Policy) (Judgement, error) {
	if err := r.Vitals.check(p.Bands); err != nil {
		return Judgement{}, err
	}
	again := Vitals{SBP: r.SBPAgain, DBP: r.DBPAgain, RestingHR: r.RestingHRAgain}
	if err := again.check(p.Bands); err != nil {
		return Judgement{}, inAgain(err)
	}
	v := r.Counted()
	pressure := r.SBPAgain != nil || r.DBPAgain != nil
	v.Repeated = pressure || r.NotAgain
	found, err := AssessVitals(v, p)
	if err != nil {
		return Judgement{}, err
	}
	v.Repeated = r.RestingHRAgain != nil || r.NotAgain
	rate, err := AssessVitals(v, p)
	if err != nil {
		return Judgement{}, err
	}
	var j Judgement
	for i, f := range found.Findings { // the same rules in the same order
		wait := 0
		switch {
		case f.Rule == "V7":
			f = rate.Findings[i]
			if f.Effect == LightOnly && !v.Repeated {
				wait = rateRest
			}
		case f.Rule == "V1" && f.Effect == NoSession && !pressure && !r.NotAgain:
			wait = pressureRest
		}
		j.Findings = append(j.Findings, f)
		if wait > 0 {
			j.Waits = append(j.Waits, Rest{f.Rule, wait})
			continue
		}
		j.Hold = max(j.Hold, f.Hold)
	}
	return j, nil
}

// Counted are the values that count: what was measured again instead of what was
// measured at first.
func (r Reading) Counted() Vitals {
	v := r.Vitals
	if r.SBPAgain != nil || r.DBPAgain != nil {
		v.SBP, v.DBP = r.SBPAgain, r.DBPAgain
	}
	if r.RestingHRAgain != nil {
		v.RestingHR = r.RestingHRAgain
	}
	return v
}

// Waiting reports whether a finding of that rule counts only after a rest.
func (j Judgement) Waiting(rule string) bool {
	for _, w := range j.Waits {
		if w.Rule == rule {
			return true
		}
	}
	return false
}

// Counts returns the findings that count now.
func (j Judgement) Counts() Assessment {
	a := Assessment{Hold: j.Hold}
	for _, f := range j.Findings {
		if !j.Waiting(f.Rule) {
			a.find(f)
		}
	}
	return a
}

// With returns the vital signs with what the record says of the client.
func (v Vitals) With(known Vitals) Vitals {
	v.Cardiac, v.HeartFailure = known.Cardiac, known.HeartFailure
	v.GlucoseLowering, v.RateSlowing = known.GlucoseLowering, known.RateSlowing
	return v
}

// Measured reports whether there is anything to judge: a value, or something that
// the client says.
func (v Vitals) Measured() bool {
	return v.SBP != nil || v.DBP != nil || v.StandingSBP != nil || v.RestingHR != nil || v.Temperature != nil || v.GlucoseMgDL != nil ||
		v.GlucoseMmol != nil || v.Ketones != nil || v.UrineKetones != "" || v.SpO2 != nil || len(v.Weights) > 0 ||
		v.Symptoms || v.Fainted || v.Warning || v.Feverish || v.SevereLow
}
