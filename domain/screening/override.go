package screening

import (
	"slices"
	"strconv"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
)

// adultAge is the age from which the rules hold, in completed years.
//
// Practice rule: practice.
const adultAge = 18

// undecided tells why nothing can be decided, and the rule that says so: under
// 18, medicines in conflict with the answers, questions without an answer.
//
// Practice rule: practice.
func (d *Decision) undecided() (why, rule string) {
	switch {
	case d.Age < adultAge:
		return "These rules are for adults. Under 18 the practitioner decides.", "E16"
	case d.Conflicts != nil:
		return "The answers do not explain a medicine: " + d.Conflicts[0].Says + ". The practitioner asks first.", "E19"
	case len(d.Missing) == 1:
		return "A question has no answer yet: " + TermName(d.Missing[0]) + ".", "E0"
	case d.Missing != nil:
		return strconv.Itoa(len(d.Missing)) + " questions have no answer yet, the first about: " + TermName(d.Missing[0]) + ".", "E0"
	}
	return "", ""
}

// walkingException lets a client with type 2 diabetes and nothing else start
// walking without a doctor, where the practice has chosen so: no symptom, no
// complication, no pregnancy, nothing harder than a brisk walk.
//
// Source: colberg2017. Practice rule: practice.
func (d *Decision) walkingException(in *Input, seen reading, w word) {
	if !d.Settings.WalkingDiabetes || d.Need != BeforeAny || w.kind > lapsedWord || d.Desired > intensity.Moderate {
		return
	}
	only := len(seen.causes) == 1 && seen.causes[0].Code == "diabetes_type_2" && len(seen.findings) == 0
	for i, t := range terms {
		if t.Kind == Complication {
			only = only && in.Answers.given[i] == No
		}
	}
	if !only || in.pregnant() {
		return
	}
	d.CeilingNow, d.MayProgressTo, d.Hold, d.Action = intensity.Moderate, intensity.Moderate, clearance.Vigorous, Start
	d.WalkingOnly = true
	d.override("diabetes_walking_exception", "diabetes_type_2",
		"By the practice's choice, walking up to a brisk pace may start without a doctor in type 2 diabetes without symptoms, "+
			"complications or another disease. Anything harder waits for the doctor.", "colberg2017", "practice")
}

// outlivingLimits keeps the ceilings of decisions that clear nobody any more: a
// lapse may tighten, never loosen. The same holds for the ceiling of a decision
// that does not cover everything.
//
// Practice rule: practice.
func (d *Decision) outlivingLimits(c *clearance.Clearance, w word) {
	if w.kind == refusedWord {
		return
	}
	limit := c.LimitedTo
	if c.OnFile == clearance.Allowed && w.kind == noWord && (limit == intensity.None || c.Cap < limit) {
		limit = c.Cap
	}
	if limit == intensity.None || d.MayProgressTo <= limit {
		return
	}
	d.tighten(limit, Capped)
	d.override("E9", "", "An earlier decision set a lower ceiling, which stays until a newer decision takes its place.", "practice")
}

// stopFor stops exercise for contraindications, whatever the row says. A
// relative one lets through what a doctor's decision that names it allows.
//
// Source: jabfm_contraindications, acsm_stop_copy, heartonline_limits. Practice rule: practice.
func (d *Decision) stopFor(in *Input, seen reading) {
	for _, i := range seen.findings {
		t := &terms[i]
		if t.Tier == Relative {
			if ceiling, ok := in.Clearance.Releases(t.Code, in.since(t.Code)); ok {
				d.tighten(ceiling, Capped)
				continue
			}
		}
		d.Findings = append(d.Findings, t.Code)
		if t.Scope == clearance.All {
			d.WalkingOnly = false
			if d.Decided() {
				d.stop(NoExercise)
			}
		} else {
			d.tighten(t.Scope.Ceiling(), d.lowerAndRefer())
		}
		if t.Kind == Pregnancy {
			d.override("E11", t.Code, stopSays[i], t.Cites...)
		} else {
			d.override("E20", t.Code, stopSays[i], t.Cites...)
		}
	}
}

// lowerAndRefer is the action for a client who wants vigorous work that has to
// wait for a doctor while easier work may go on.
func (d *Decision) lowerAndRefer() Action {
	if d.Regular {
		return ContinueLowerAndRefer
	}
	return StartLowerProgress
}

// pregnancy applies what holds in pregnancy beside the published model; the
// stricter result counts. No heart-rate zones are shown, and vigorous work waits
// for the doctor unless it was done regularly before.
//
// Source: acog804. Practice rule: practice.
func (d *Decision) pregnancy(in *Input) {
	if !in.pregnant() {
		return
	}
	d.TalkTestOnly = true
	d.say("In pregnancy the talk test and perceived exertion guide; heart-rate zones do not hold.")
	d.cite("acog804", "practice")
	usedTo := d.Regular && in.Activity.Class >= intensity.Vigorous
	ceiling, released := in.Clearance.Releases(clearance.FlagPregnant, in.since("pregnant"))
	if !d.Settings.FlagVigorous || usedTo || released && ceiling >= intensity.Vigorous || d.MayProgressTo <= intensity.Moderate {
		return
	}
	d.tighten(intensity.Moderate, d.lowerAndRefer())
	d.override("E11", clearance.FlagPregnant, "In pregnancy, vigorous work that was not done regularly before waits for the doctor.")
}

// pregnant is whether the client is, or may be, pregnant.
func (in *Input) pregnant() bool {
	return in.Answers.given[pregnantAt].CountsAsYes() || in.Answers.given[gestationalAt].CountsAsYes()
}

var pregnantAt, gestationalAt = position["pregnant"], position["gestational_diabetes"]

// lightFirst makes the first phase light for who is over 35, healthy and not
// exercising regularly. The published rows allow moderate work at once; the
// action stays theirs.
//
// Practice rule: common_practice, practice.
func (d *Decision) lightFirst(done bool) {
	if d.Group != NoDisease || d.Regular || d.Age <= d.Settings.LightFirstOver || done || d.CeilingNow == intensity.None {
		return
	}
	d.PracticeRule, d.FirstPhaseCeiling = "P1", intensity.Light
	d.CeilingNow = min(d.CeilingNow, intensity.Light)
	d.override("P1", "", "Over "+strconv.Itoa(d.Settings.LightFirstOver)+", healthy and not exercising regularly: the first phase is light, "+
		"then moderate, then vigorous over three to six months.", "common_practice", "practice")
}

// note says of what was answered yes and changes nothing that it changes nothing.
//
// Source: getp10_screening, acsm_faq2015.
func (d *Decision) note(seen reading) {
	for _, i := range seen.noted {
		d.say(said[i].yes)
		d.cite("getp10_screening", "acsm_faq2015")
	}
}

// Holds returns the holds that the decision opens: one for each disease, symptom
// or finding that a doctor has to answer for. A doctor's ceiling is no hold; it
// binds by itself. An undecided screening activates no plan, and opens holds for
// findings and symptoms only.
//
// Practice rule: practice.
func (d Decision) Holds() []clearance.Hold {
	var holds []clearance.Hold
	add := func(scope clearance.Scope, code, rule, reason string, needs clearance.Needs) {
		h := clearance.Hold{
			Scope: scope, Kind: clearance.FromScreening, Cause: code, Rule: rule, Reason: reason, Opened: d.On, Needs: needs,
		}
		if i := slices.IndexFunc(d.Causes, func(c clearance.Cause) bool { return c.Code == code }); i >= 0 {
			h.Since = d.Causes[i].Since
		}
		holds = append(holds, h)
	}
	for _, code := range d.Findings {
		i := position[code]
		add(terms[i].Scope, code, terms[i].Row, stopSays[i], terms[i].needs())
	}
	if !d.Decided() { // a symptom stops exercise at once, whatever else is still open
		for _, code := range d.Uncovered {
			if i := position[code]; terms[i].Kind == Symptom {
				add(clearance.All, code, "E3", said[i].yes, clearance.NeedsDoctor)
			}
		}
		return holds
	}
	scope := clearance.All
	if d.Need == BeforeVigorous || d.WalkingOnly {
		scope = clearance.Vigorous
	}
	for _, code := range d.Uncovered {
		if !slices.Contains(d.Findings, code) {
			i := position[code]
			add(scope, code, d.Rule, said[i].yes, clearance.NeedsDoctor)
		}
	}
	if slices.Contains(d.Overrides, Override{"E11", clearance.FlagPregnant}) {
		add(clearance.Vigorous, clearance.FlagPregnant, "E11", "In pregnancy, vigorous work waits for the doctor.", clearance.NeedsDoctor)
	}
	return holds
}

// GateInput returns what the gate before vigorous work has to know of the
// screening. Decide first, again, with today's clearance: the rest of the input
// is the caller's.
func (d Decision) GateInput(screenedOn domain.Date, c clearance.Clearance) clearance.GateInput {
	return clearance.GateInput{
		ScreenedOn: screenedOn, Undecided: !d.Decided(), MayProgressTo: d.MayProgressTo, Causes: d.Causes, Clearance: c,
		Flags: clearance.Flags{Pregnant: slices.Contains(d.Overrides, Override{"E11", clearance.FlagPregnant})},
	}
}
