package screening

import (
	"fmt"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/source"
)

// Decide turns the answers of a client into a decision. It applies the published
// model to the three inputs (regular exercise, known disease and symptoms, wanted
// intensity) and to the doctor's word on file, then everything that makes the
// result stricter: limits that outlive a decision, contraindications, pregnancy,
// the practice's light first phase.
//
// Answers that are missing or in conflict give a decision with the action
// incomplete and no exercise. An input that cannot be is a [domain.Problems]:
// ages are 1 to 110 years, the wanted intensity is light, moderate or vigorous,
// the ranges of the activity stand at [Activity].
//
// Source: riebe2015, acsm_cells. Practice rule: practice, common_practice.
func Decide(in Input, p Policy) (Decision, error) {
	age, err := in.check()
	if err != nil {
		return Decision{}, err
	}
	seen := in.read()
	word := wordOf(&in.Clearance, seen.causes)
	d := Decision{
		RuleSet: RuleSet, On: in.Today,
		Group: seen.group, Regular: in.regular(), Age: age, Desired: in.Desired, OnFile: word.String(),
		Causes: seen.causes, Uncovered: word.uncovered, Missing: seen.missing, Conflicts: in.conflicts(),
		Reasons: make([]string, 0, 4+len(seen.causes)), Sources: make([]source.Key, 0, 6), Settings: p,
	}
	d.cite("riebe2015", "acsm_cells")
	d.tell(&in, seen)
	if why, rule := d.undecided(); rule != "" {
		d.Rule, d.Need, d.Action, d.Hold = rule, NeedUnknown, Incomplete, clearance.All
		d.Reasons = append(d.Reasons, why)
		d.cite("practice")
		d.stopFor(&in, seen)
		return d, nil
	}
	d.Rule, d.Row = ruleOf(d.Regular, d.Group, word, d.Desired), rowOf(d.Regular, d.Group, d.Desired)
	d.decideRow(word)
	d.RowCeiling = d.CeilingNow
	d.walkingException(&in, seen, word)
	d.outlivingLimits(&in.Clearance, word)
	d.stopFor(&in, seen)
	d.pregnancy(&in)
	d.lightFirst(in.FirstPhaseDone)
	d.note(seen)
	return d, nil
}

// needOf is whether a doctor is asked, by regular exercise and group.
//
// Source: riebe2015, acsm_cells.
func needOf(regular bool, g Group) Need {
	switch {
	case g == NoDisease:
		return NotNeeded
	case !regular:
		return BeforeAny
	case g == Disease:
		return BeforeVigorous
	}
	return StopUntil
}

// decideRow applies the published model and the doctor's ceiling.
//
// Source: riebe2015, acsm_cells. Practice rule: practice.
func (d *Decision) decideRow(w word) {
	d.Need = needOf(d.Regular, d.Group)
	switch {
	case w.kind == refusedWord:
		d.stop(NoExercise)
		d.say("The doctor has said that there is to be no exercise now.")
		d.cite("practice")
	case w.kind == capWord:
		d.allow(w.cap)
		d.say(capSays[d.Action])
		d.cite("practice")
	case d.Need == NotNeeded:
		d.allow(intensity.Vigorous)
		d.say(openSays[d.Action])
	case d.Need == BeforeVigorous:
		d.CeilingNow, d.MayProgressTo, d.Hold, d.Action = intensity.Moderate, intensity.Moderate, clearance.Vigorous, Continue
		if d.Desired > intensity.Moderate {
			d.Action = ContinueLowerAndRefer
		}
		d.say("Anyone who exercises regularly with a known disease and no symptom may go on up to moderate work. " +
			"Before vigorous work a doctor has to answer.")
	case d.Need == BeforeAny:
		d.stop(ReferFirst)
		d.say("Anyone with a known disease or a symptom who does not exercise regularly sees a doctor before any exercise, even light.")
	default:
		d.stop(StopAndRefer)
		d.say("With a symptom, exercise stops at every intensity until a doctor has answered, also for regular exercisers.")
	}
}

// allow lets the client work up to a ceiling. Who does not exercise regularly,
// and who returns after a symptom, starts at moderate at most.
//
// Source: riebe2015, acsm_cells. Practice rule: practice.
func (d *Decision) allow(ceiling intensity.Class) {
	begin, go_, lower := intensity.Vigorous, Continue, Continue
	switch {
	case !d.Regular:
		begin, go_, lower = intensity.Moderate, Start, StartLowerProgress
	case d.Group == Symptomatic:
		begin, go_, lower = intensity.Moderate, Resume, ResumeLowerProgress
	}
	d.CeilingNow, d.MayProgressTo, d.Hold = min(begin, ceiling), ceiling, holdAbove(ceiling)
	switch {
	case d.Desired > ceiling:
		d.Action = Capped
	case d.Desired > d.CeilingNow:
		d.Action = lower
	default:
		d.Action = go_
	}
}

// stop lets nothing happen for now.
func (d *Decision) stop(a Action) {
	d.CeilingNow, d.MayProgressTo, d.Hold, d.Action = intensity.None, intensity.None, clearance.All, a
}

// tighten lowers the ceilings to what is given at most, and changes the action
// if less than what is wanted is left of it.
func (d *Decision) tighten(to intensity.Class, instead Action) {
	d.CeilingNow, d.MayProgressTo, d.Hold = min(d.CeilingNow, to), min(d.MayProgressTo, to), max(d.Hold, holdAbove(to))
	switch d.Action {
	case ReferFirst, StopAndRefer, ContinueLowerAndRefer, NoExercise, Incomplete:
		return // less is allowed anyway, and the doctor is asked
	}
	if d.Desired > to {
		d.Action = instead
	}
}

// holdAbove is the hold that leaves a ceiling open.
func holdAbove(c intensity.Class) clearance.Scope {
	switch {
	case c >= intensity.Vigorous:
		return clearance.NoHold
	case c == intensity.Moderate:
		return clearance.Vigorous
	case c == intensity.None:
		return clearance.All
	}
	return clearance.AboveLight
}

// The sentences for what happens next without and with a doctor's decision.
var (
	openSays = map[Action]string{
		Start:              "No doctor is needed. Start at light to moderate work and build up gradually.",
		StartLowerProgress: "No doctor is needed, but vigorous work is not for the start: begin at light to moderate work and build up gradually.",
		Continue:           "No doctor is needed. Go on, and build up gradually.",
	}
	capSays = map[Action]string{
		Start:               "A doctor's decision covers this. Start within its ceiling, at moderate work at most.",
		StartLowerProgress:  "A doctor's decision covers this. Begin at moderate work at most and build up within its ceiling.",
		Continue:            "A doctor's decision covers this. Go on within its ceiling.",
		Resume:              "A doctor's decision covers this. Return to exercise within its ceiling, at moderate work at most.",
		ResumeLowerProgress: "A doctor's decision covers this. Return at moderate work at most and build up within its ceiling.",
		Capped:              "What is wanted is above the doctor's ceiling.",
	}
)

// ruleOf names one of the 108 combinations, in the order of regular exercise,
// group, doctor's word and wanted intensity.
func ruleOf(regular bool, g Group, w word, desired intensity.Class) string {
	return ruleNames[(cellOf(regular, g)*6+w.index())*3+int(desired-intensity.Light)]
}

// rowOf names one of the eighteen published rows.
func rowOf(regular bool, g Group, desired intensity.Class) string {
	return rowNames[cellOf(regular, g)*3+int(desired-intensity.Light)]
}

// ruleNames is A001 to A108, rowNames R1 to R18.
var ruleNames, rowNames = func() (rules [108]string, rows [18]string) {
	for i := range rules {
		rules[i] = fmt.Sprintf("A%03d", i+1)
	}
	for i := range rows {
		rows[i] = fmt.Sprintf("R%d", i+1)
	}
	return rules, rows
}()

// cellOf numbers the six boxes of the published figure.
func cellOf(regular bool, g Group) int {
	cell := 0
	switch g {
	case Disease:
		cell = 1
	case Symptomatic:
		cell = 2
	}
	if regular {
		cell += 3
	}
	return cell
}

// say adds a sentence to the reasons.
func (d *Decision) say(sentence string) { d.Reasons = append(d.Reasons, sentence) }

// cite adds citations that are not there yet.
func (d *Decision) cite(keys ...source.Key) {
next:
	for _, k := range keys {
		for _, have := range d.Sources {
			if have == k {
				continue next
			}
		}
		d.Sources = append(d.Sources, k)
	}
}

// override notes a rule that changed the row's result.
func (d *Decision) override(rule, code, sentence string, keys ...source.Key) {
	d.Overrides = append(d.Overrides, Override{rule, code})
	d.say(sentence)
	d.cite(keys...)
}

// regular is whether the client exercises regularly, by a practitioner's word if
// there is one.
func (in *Input) regular() bool {
	if in.Attested != nil {
		return in.Attested.Regular
	}
	return in.Activity.Regular()
}

// since is when a code is known to have begun, zero if nobody knows.
func (in *Input) since(code string) domain.Date {
	for _, o := range in.Since {
		if o.Code == code {
			return o.On
		}
	}
	return domain.Date{}
}
