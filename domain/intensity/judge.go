package intensity

import (
	"fmt"

	"brae/domain"
)

// Kind is a kind of evidence for how hard a part was.
type Kind string

// The kinds of evidence.
const (
	KindTalk      Kind = "talk"
	KindEffort    Kind = "effort_6_20"
	KindCR10      Kind = "effort_cr10"
	KindRelative  Kind = "effort_0_10"
	KindHeartRate Kind = "hr"
	KindMET       Kind = "activity_met"
	kindMETAtAge  Kind = "activity_met_at_age" // the same METs for the age; only for safety
)

// HeartRate is the heart rate of a part, already put into a class.
type HeartRate struct {
	Class        Class // None without a valid basis
	Valid        bool  // the basis is measured or predicted; otherwise it is not judged by
	Measured     bool  // the maximum was measured, not predicted
	AboveCeiling bool  // above the heart-rate ceiling, whatever the basis
}

// Evidence is what is known of how hard one part was, in its steady minutes.
type Evidence struct {
	Minutes  int // of the part; 0 is not known
	Talk     Talk
	Effort   Effort
	CR10     *CR10           // nil is not asked
	Relative *RelativeEffort // nil is not asked
	HR       *HeartRate      // nil is not logged
	MET      MET             // of the activity, from a list; 0 is not known
	Age      int             // completed years, for METs by age; 0 is not known

	// Primary is the kind that the practitioner judges this client by; empty for
	// the practice's order.
	Primary Kind

	IrregularPulse bool // felt or counted in this part
	Symptoms       bool // dizzy, chest discomfort or any other reported in this part
	NewBreathless  bool // breathlessness that is new or out of proportion
}

// Check returns [domain.Problems] for what cannot be judged: a level or a point
// that is not on its scale, METs outside the practice's limits, minutes outside
// 0-720, an age outside 18-110.
func (e Evidence) Check(policy Policy) error {
	var p domain.Problems
	if e.Minutes < 0 || e.Minutes > 720 {
		p.Add("minutes", "Minutes must be from 1 to 720.")
	}
	if e.Talk != "" && !e.Talk.Valid() {
		p.Add("talk", "Choose one of sing, sentences, short, few_words, none.")
	}
	if e.Effort != 0 && !e.Effort.Valid() {
		p.Add("effort_6_20", "Perceived exertion is a whole number from 6 to 20.")
	}
	if e.CR10 != nil && !e.CR10.Valid() {
		p.Add("effort_cr10", "This scale runs from 0 to 10 in steps of a half.")
	}
	if e.Relative != nil && !e.Relative.Valid() {
		p.Add("effort_0_10", "This scale runs from 0 to 10 in whole points.")
	}
	if e.HR != nil && e.HR.Valid && (e.HR.Class <= None || e.HR.Class > NearMaximal) {
		p.Add("hr", "A heart rate with a valid basis needs one of the five classes.")
	}
	if e.MET != 0 {
		if f := CheckMET(e.MET, policy); f.Verdict == Reject {
			p.Add("activity_met", f.Sentence)
		}
	}
	if e.Age != 0 && (e.Age < 18 || e.Age > 110) {
		p.Add("age", "The tables are for adults from 18 to 110 years.")
	}
	switch e.Primary {
	case "", KindTalk, KindEffort, KindCR10, KindRelative, KindHeartRate, KindMET:
	default:
		p.Add("primary", "This kind of evidence does not exist.")
	}
	return p.Err()
}

// Pattern is how the kinds of evidence of one part stand to each other.
type Pattern string

// The patterns.
//
// Practice rule: practice.
const (
	Agreeing        Pattern = ""
	FeelsHarder     Pattern = "feels_harder"      // talk or exertion harder than heart rate
	HeartRateHarder Pattern = "heart_rate_harder" // heart rate harder than talk or exertion
	EffortOff       Pattern = "effort_off"        // talk and heart rate agree, exertion is far off
	Mixed           Pattern = "mixed"             // they differ in another way
)

// Action is what follows at once from a disagreement. Symptoms without one are
// for the triage of the session, not for this package.
type Action string

// The actions, from the mildest.
const (
	NoAction     Action = ""
	KeepPace     Action = "keep_pace"      // go on as before and log both
	NeverSpeedUp Action = "never_speed_up" // by no means a faster pace to reach a heart rate
	StopAndHold  Action = "stop_and_hold"  // stop; symptom questions; nothing harder until reviewed
)

// Judgement is what one part counts as.
type Judgement struct {
	ClassForVolume Class // what its minutes count as
	ClassForSafety Class // what a ceiling or a hold is compared with
	By             Kind  // the kind that the volume class came from; empty if there was none
	Agree          bool  // every kind that was judged by gave the same class
	Pattern        Pattern
	Action         Action
	Notes          []Note // what to check or ask next, in this order
}

// indicator is one kind of evidence with its class.
type indicator struct {
	kind  Kind
	class Class
}

// Judge puts one part into a class, from whatever evidence there is. It returns
// the problems of [Evidence.Check]; otherwise it always answers, with None and a
// note where there is nothing to judge by.
//
// For safety the hardest valid evidence counts. For volume it is the client's
// primary kind, or else a heart rate on a measured maximum, the talk test,
// perceived exertion, a heart rate on a predicted maximum, in that order. METs
// count only when there is nothing else, since they say nothing about the person;
// then the harder of the class for all adults and the class for the age counts
// for safety. A heart rate without a valid basis is never judged by.
//
// Source: paga2018, skjodt2024, keteyian2023, reed2014.
// Practice rule: practice.
func Judge(e Evidence, policy Policy) (Judgement, error) {
	if err := e.Check(policy); err != nil {
		return Judgement{}, err
	}
	found := e.indicators(policy)
	if len(found) == 0 {
		j := Judgement{Agree: true, Notes: []Note{note("nothing_to_judge_by")}}
		e.warn(&j, policy)
		return j, nil
	}
	j := Judgement{ClassForVolume: found[0].class, By: found[0].kind, Agree: true}
	for _, f := range found {
		if f.kind == e.Primary {
			j.ClassForVolume, j.By = f.class, f.kind
		}
	}
	for _, f := range found {
		j.ClassForSafety = max(j.ClassForSafety, f.class)
		for _, g := range found {
			j.Agree = j.Agree && (f.class == g.class || f.fits(g, e.Talk) || g.fits(f, e.Talk))
		}
	}
	e.compare(&j, policy)
	e.warn(&j, policy)
	return j, nil
}

// fits reports whether f is singing, and easier work of g goes with that.
func (f indicator) fits(g indicator, t Talk) bool { return f.kind == KindTalk && t.Allows(g.class) }

// indicators returns what can be judged by, in the practice's order.
func (e Evidence) indicators(policy Policy) []indicator {
	var found []indicator
	hr := e.heartRate()
	first := hr != None && e.HR.Measured && policy.MeasuredFirst
	if first {
		found = append(found, indicator{KindHeartRate, hr})
	}
	if e.Talk != "" {
		found = append(found, indicator{KindTalk, e.Talk.Class()})
	}
	if effort, ok := e.effort(); ok {
		found = append(found, effort)
	}
	if hr != None && !first {
		found = append(found, indicator{KindHeartRate, hr})
	}
	if len(found) > 0 || e.MET == 0 {
		return found
	}
	absolute, _ := e.MET.Class() // checked before
	found = append(found, indicator{KindMET, absolute})
	if atAge, _ := e.MET.ClassAt(e.Age); atAge > absolute { // None without an age
		found = append(found, indicator{kindMETAtAge, atAge})
	}
	return found
}

// effort returns the class of perceived exertion on whichever scale it was asked;
// on several, the hardest.
func (e Evidence) effort() (indicator, bool) {
	var hardest indicator
	add := func(k Kind, c Class) {
		if c > hardest.class {
			hardest = indicator{k, c}
		}
	}
	c, _ := e.Effort.Class() // None when it was not asked
	add(KindEffort, c)
	if e.CR10 != nil {
		c, _ := e.CR10.Class()
		add(KindCR10, c)
	}
	if e.Relative != nil {
		c, _ := e.Relative.Class()
		add(KindRelative, c)
	}
	return hardest, hardest.kind != ""
}

// compare names the pattern, and what to check next, in the order to check it.
func (e Evidence) compare(j *Judgement, policy Policy) {
	hr := e.heartRate()
	effort, hasEffort := e.effort()
	feel := effort.class
	if e.Talk != "" {
		feel = e.Talk.Class()
	}
	fits := func(c Class) bool { return c == feel || e.Talk.Allows(c) }
	switch {
	case j.Agree:
	case e.Talk == "" && !hasEffort && hr == None: // METs alone, hard for the age
		j.Pattern = Mixed
		j.add(note("met_hard_for_age"))
	case hr != None && !fits(hr) && feel > hr:
		j.Pattern, j.Action = FeelsHarder, NeverSpeedUp
		j.add(note("feels_harder"), note("ask_medicine"), note("check_slow_pulse"))
		switch {
		case e.NewBreathless:
			j.Action = StopAndHold
			j.add(note("breathless_hold"))
		case e.unwell():
			j.Action = StopAndHold
			j.add(note("stop_and_hold"))
		default:
			j.add(note("ask_breathless"))
		}
	case hr != None && !fits(hr):
		j.Pattern, j.Action = HeartRateHarder, KeepPace
		j.add(note("heart_rate_harder"))
		if e.Talk == TalkSentences && hr == Vigorous {
			j.add(note("expected_overlap"))
		}
		j.add(note("count_pulse"), note("check_fast_pulse"), note("not_a_release"))
		if e.unwell() {
			j.Action = StopAndHold
			j.add(note("stop_and_hold"))
		} else {
			j.add(note("keep_pace"))
		}
	case distance(effort.class, feel) >= policy.EffortFar:
		j.Pattern = EffortOff
		j.add(note("effort_off"))
	default: // perceived exertion is a little off; the hardest counts for safety
		j.Pattern = Mixed
		j.add(note("effort_near"))
	}
}

// warn adds what has to be said whether or not the evidence agrees.
func (e Evidence) warn(j *Judgement, policy Policy) {
	if e.HR != nil && !e.HR.Valid {
		j.add(note("heart_rate_not_used"))
	}
	if e.Talk != "" && e.Minutes > 0 && e.Minutes < policy.TalkMinutes {
		j.add(Note{"talk_too_early", fmt.Sprintf("The talk test tells little before %d steady minutes.", policy.TalkMinutes)})
	}
	if j.By == KindMET {
		j.add(note("met_only"))
	}
	if e.aboveCeiling() && j.Action != StopAndHold {
		j.add(note("above_ceiling"))
	}
}

// heartRate returns the class of a heart rate that may be judged by, or None.
func (e Evidence) heartRate() Class {
	if e.HR == nil || !e.HR.Valid {
		return None
	}
	return e.HR.Class
}

func (e Evidence) aboveCeiling() bool { return e.HR != nil && e.HR.AboveCeiling }

func (e Evidence) unwell() bool { return e.IrregularPulse || e.Symptoms || e.aboveCeiling() }

func (j *Judgement) add(notes ...Note) { j.Notes = append(j.Notes, notes...) }

func distance(a, b Class) int { return max(int(a-b), int(b-a)) }

// Repeated returns the disagreement that the last sessions have in common, the
// newest last: by default the same in 2 of 3. Then the resting heart rate is
// measured again, medicines are reviewed and a test is considered; the maximal
// heart rate is never changed by itself.
//
// Practice rule: practice.
func Repeated(patterns []Pattern, policy Policy) (Pattern, bool) {
	last := patterns[max(0, len(patterns)-policy.RepeatOf):]
	count := map[Pattern]int{}
	for i := len(last) - 1; i >= 0; i-- {
		p := last[i]
		count[p]++
		if p != Agreeing && count[p] >= policy.RepeatCount {
			return p, true
		}
	}
	return Agreeing, false
}
