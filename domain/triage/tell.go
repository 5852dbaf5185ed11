package triage

import (
	"fmt"
	"slices"
	"strings"

	"brae/domain/clearance"
)

// Line is one line of what a client reads. Names in braces stand for settings
// of the practice: {emergency_number}, {crisis_line}, {clinic}.
type Line struct {
	Text string
	// Optional is a line that is left out when the practice has not set what it
	// names.
	Optional bool
}

// Fill puts the values of a practice in the place of the names in braces. It
// leaves out optional lines whose name has no value, and fails on any other:
// an emergency text without a number to call must never be shown.
func Fill(lines []Line, values map[string]string) ([]string, error) {
	var out []string
	for _, l := range lines {
		text, missing := l.Text, ""
		for _, name := range []string{"emergency_number", "crisis_line", "clinic"} {
			if !strings.Contains(text, "{"+name+"}") {
				continue
			}
			if values[name] == "" {
				missing = name
			}
			text = strings.ReplaceAll(text, "{"+name+"}", values[name])
		}
		switch {
		case missing == "":
			out = append(out, text)
		case !l.Optional:
			return nil, fmt.Errorf("triage text: %s is not set", missing)
		}
	}
	return out, nil
}

// EmergencyText returns what a client reads at once at level emergency, before
// any other question and without signing in.
//
// Source: aha_signs, triage_memory.
//
// Practice rule: practice.
func EmergencyText() []Line {
	return []Line{
		{Text: "Stop now. Sit or lie down."},
		{Text: "Call {emergency_number} now. Do not drive yourself. Do not wait to see if it passes."},
		{Text: "If someone is with you, ask them to stay."},
		{Text: "Ask them to fetch a defibrillator if there is one. They should be ready to press hard on your chest if you stop responding."},
		{Text: "Unlock your door."},
		{Text: "If you have been given a spray or tablet for angina, use it as you were told."},
		{Text: "Your plan is paused. {clinic} will contact you."},
		{Text: "{clinic} is not an emergency service."},
	}
}

// crisisLine is left out where the practice has no number for it.
var crisisLine = Line{Text: "You can talk to someone at any time: {crisis_line}.", Optional: true}

// crisisText is what a client reads who thinks about harming themselves.
//
// Practice rule: practice.
func crisisText() []Line {
	return []Line{
		{Text: "Thank you for telling us. You do not have to deal with this alone."},
		{Text: "If you might hurt yourself, call {emergency_number} now."},
		crisisLine,
		{Text: "Stay with someone you trust, or ask them to come."},
		{Text: "Your plan is paused. {clinic} will contact you."},
		{Text: "{clinic} is not an emergency service."},
	}
}

// tell is what the client reads: what to do first, by the hold; then who gets in
// touch and when, by the level; then what belongs to a report.
//
// Practice rule: practice.
func (a *assessing) tell(out Assessment) []Line {
	if out.Level == Emergency {
		return a.tellEmergency()
	}
	var lines []Line
	say := func(format string, args ...any) { lines = append(lines, Line{Text: fmt.Sprintf(format, args...)}) }
	switch out.Hold {
	case clearance.All:
		if a.heldOnlyBy(ByClient) {
			say("Please rest. Do not exercise until you have had no fever for 24 hours, without medicine for it.")
			say("Then tell us here, and you can go on.")
		} else {
			say("Please stop all exercise until we have spoken.")
		}
	case clearance.AboveLight:
		say("Please do only light things until we have spoken.")
	case clearance.Vigorous:
		say("Please keep it easy. Nothing hard until we have looked at this.")
	}
	for _, f := range a.findings {
		switch f.Limit {
		case ThisExercise:
			say("Leave out the exercise that hurt.")
		case WeightBearing:
			say("Keep weight off your feet for exercise. Do not swim with an open wound.")
		}
	}
	switch out.Level {
	case Stop:
		say(stopText, within(out.Act.Due))
	case Ease:
		say(easeText, within(out.Act.Due))
	case Note:
		say(noteText, within(out.Act.Due))
	default:
		say("Thank you. We have it.")
	}
	for _, f := range a.findings {
		if f.advice != "" {
			say("%s", f.advice)
		}
		if f.Rule == "T41" {
			lines = append(lines, crisisLine)
		}
	}
	if out.Level >= Ease {
		say("If it comes back, gets worse or worries you, call {emergency_number}.")
	}
	return dropRepeats(lines)
}

func (a *assessing) tellEmergency() []Line {
	var lines []Line
	harm, other := false, false
	for _, f := range a.findings {
		if f.Level == Emergency {
			harm = harm || f.Rule == "T41"
			other = other || f.Rule != "T41"
		}
	}
	if other {
		lines = EmergencyText()
	}
	if harm {
		lines = append(lines, crisisText()...)
	}
	for _, f := range a.findings {
		if f.Level == Emergency && f.advice != "" {
			lines = append(lines, Line{Text: f.advice})
		}
	}
	return dropRepeats(lines)
}

// heldOnlyBy reports whether every hold on all exercise is released that way.
func (a *assessing) heldOnlyBy(r Release) bool {
	return !slices.ContainsFunc(a.findings, func(f Finding) bool {
		return f.Hold == clearance.All && f.Release != r
	})
}

// within is a due time as a client reads it.
func within(d Due) string {
	if d.Days == 0 {
		return "today, if we are open, or else on the next working day"
	}
	return "within " + d.String()
}

// dropRepeats leaves the first of lines that say the same.
func dropRepeats(lines []Line) []Line {
	var out []Line
	for _, l := range lines {
		if !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	return out
}
