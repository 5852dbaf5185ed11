package staff

import (
	"fmt"
	"strings"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/prescription"
	"brae/store"
	"brae/web/ui"
)

// doseWords says what a week asks for: 4 times 25 minutes, moderate.
func doseWords(d plan.Dose) string {
	if d.Sessions == 0 {
		return "nothing"
	}
	text := fmt.Sprintf("%d times %d minutes, %s", d.Sessions, d.Minutes, strings.ToLower(ui.ClassWord(d.Class)))
	if d.Easy > 0 {
		text += fmt.Sprintf(", %d of them easy", d.Easy)
	}
	if d.Vigorous > 0 {
		text += fmt.Sprintf(", of which %d minutes vigorous a week", d.Vigorous)
	}
	return text
}

// warningWords says what is unusual about a week.
func warningWords(w plan.Warning) string {
	switch w.Code {
	case plan.WarnCeiling:
		return fmt.Sprintf("Asks for %s work; allowed now is %s.", className(w.Have), className(w.Need))
	case plan.WarnTwoParts:
		return fmt.Sprintf("%d parts change at once: change one of minutes, sessions and intensity at a time.", w.Have)
	case plan.WarnSteep:
		return fmt.Sprintf("Sessions grow by %d minutes in one week, more than %d.", w.Have, w.Need)
	case plan.WarnEarlyVigorous:
		return fmt.Sprintf("Vigorous work in week %d of the programme, before week %d.", w.Have, w.Need)
	case plan.WarnVigorousShare:
		return fmt.Sprintf("%d per cent of the week is vigorous; in the first weeks of it %d at most.", w.Have, w.Need)
	}
	return w.Code
}

func className(order int) string { return strings.ToLower(ui.ClassWord(intensity.Class(order))) }

// stepWords says what changes from one week to the next.
var stepWords = map[plan.Component]string{
	plan.Time: "minutes", plan.Frequency: "sessions", plan.Intensity: "intensity",
}

// statusWord is a status in a few words.
func statusWord(s plan.Status) string {
	return map[plan.Status]string{
		plan.Held: "Held", plan.Returning: "Coming back", plan.TooHard: "Too hard", plan.Behind: "Behind",
		plan.SteadyTooLong: "Steady too long", plan.Ready: "Ready for a step", plan.OnPlan: "On plan",
	}[s]
}

// reasonWords says why a client stands as they do.
func reasonWords(r plan.Reason) string {
	switch r.Code {
	case plan.BecauseCeiling:
		return fmt.Sprintf("The plan asks for %s work; allowed now is %s.", className(r.Have), className(r.Need))
	case plan.BecauseBreak:
		return fmt.Sprintf("The last session was %s ago, more than %d.", days(r.Have), r.Need)
	case plan.BecauseCause:
		return "The break was for illness, injury, hospital or a new medicine: look first."
	case plan.BecauseBack:
		return fmt.Sprintf("Back for %s; the lower dose is kept for %d.", days(r.Have), r.Need)
	case plan.BecauseEffort:
		return fmt.Sprintf("%s of the last sessions felt too hard; %d are enough to ease off.", some(r.Have), r.Need)
	case plan.BecauseHeartRate:
		return fmt.Sprintf("%s of the last sessions above the heart-rate range; %d are enough to ease off.", some(r.Have), r.Need)
	case plan.BecauseTalk:
		return fmt.Sprintf("Talking was too hard in %s of the last sessions; %d are enough to ease off.", strings.ToLower(some(r.Have)), r.Need)
	case plan.BecauseSessions:
		return fmt.Sprintf("%d per cent of the planned sessions in the last two weeks; %d are asked for.", r.Have, r.Need)
	case plan.BecauseMinutes:
		return fmt.Sprintf("%d per cent of the target in the last two weeks; %d are asked for.", r.Have, r.Need)
	case plan.BecauseEasy:
		return fmt.Sprintf("%s of the last sessions felt easy; %d are enough for a step.", some(r.Have), r.Need)
	case plan.BecauseWeeks:
		return fmt.Sprintf("Ready for %d weeks in a row, and nothing was changed; %d are too long.", r.Have, r.Need)
	case plan.BecauseNoGain:
		return fmt.Sprintf("No test has changed by more than its error in %d weeks.", r.Have)
	case plan.BecauseReported:
		return "What the client reported keeps the plan from going up for now."
	case plan.BecauseFewLogs:
		return fmt.Sprintf("%s at this dose to judge by; %d are needed.", sessions(r.Have), r.Need)
	case plan.BecauseAsPlanned:
		return fmt.Sprintf("The work is as hard as it should be: %d of the last sessions were easy.", r.Have)
	}
	return r.Code
}

// sessions is a number of sessions in words.
func sessions(n int) string {
	switch n {
	case 0:
		return "No session"
	case 1:
		return "1 session"
	}
	return number(n) + " sessions"
}

// between names a stretch of days.
func between(first, last domain.Date) string {
	a, b := first.Time(), last.Time()
	switch {
	case first == last:
		return "on " + a.Format("2 January")
	case a.Month() == b.Month() && a.Year() == b.Year():
		return "from " + a.Format("2") + " to " + b.Format("2 January")
	}
	return "from " + a.Format("2 January") + " to " + b.Format("2 January")
}

// judgedWords says which sessions and weeks a status was judged by.
func judgedWords(j plan.Judged) string {
	if j.Since.IsZero() {
		return ""
	}
	text := "Judged by no session yet"
	if j.Sessions > 0 {
		text = "Judged by the last " + strings.ToLower(sessions(j.Sessions)) + ", " + between(j.First, j.Last)
		if j.Sessions == 1 {
			text = "Judged by one session, " + between(j.First, j.Last)
		}
	}
	for i, week := range j.Weeks {
		text += []string{", and by the week of ", " and that of "}[min(i, 1)] + week.Time().Format("2 January")
	}
	return text + ". The dose is the same since the week of " + j.Since.Time().Format("2 January") + "."
}

func some(n int) string {
	if n == 0 {
		return "No"
	}
	return number(n)
}

// suggestWords says why a step is suggested.
func suggestWords(r plan.Reason) string {
	switch r.Code {
	case plan.SuggestUnderCeiling:
		return "Down to what is allowed now."
	case plan.SuggestBack:
		return "After a break the plan goes back and climbs again."
	case plan.SuggestReview:
		return "Look at the client before anything is done."
	case plan.SuggestEasier:
		return "One step back."
	case plan.SuggestMeasure:
		return "Only the heart rate says that it is too hard, and it feels easier. Measure the resting heart rate again before you take a step back."
	case plan.SuggestCatchUp:
		return "The same week again: a missed week is no reason for a larger step."
	case plan.SuggestKeep:
		return "Keep to the plan."
	case plan.SuggestTooSoon:
		return fmt.Sprintf("The last change was %s ago; at least %d lie between steps.", days(r.Have), r.Need)
	case plan.SuggestPhase:
		return "The phase is complete: the next one begins."
	case plan.SuggestMore:
		return "One step up, in one part."
	case plan.SuggestWithin:
		return "Time and sessions are where they should be, so the work gets harder."
	case plan.SuggestGoal:
		return fmt.Sprintf("The goal of %d minutes is reached.", r.Need)
	case plan.SuggestTop:
		return "There is no step left below the ceiling."
	}
	return r.Code
}

// withinWords says how much harder a step within the class is.
func withinWords(s plan.Suggestion) string {
	return fmt.Sprintf("A little harder within %s: it begins %d per cent of the heart-rate reserve higher", strings.ToLower(ui.ClassWord(s.To.Hardest())), s.Reserve)
}

// suggestionWords says what was suggested.
func suggestionWords(s plan.Suggestion) string {
	if s.Reserve > 0 {
		return withinWords(s)
	}
	return doseWords(s.To)
}

// staysWords says what keeps a client in the phase.
func staysWords(r plan.Reason) string {
	switch r.Code {
	case plan.StaysCeiling:
		return fmt.Sprintf("%s work is not open now.", ui.ClassWord(intensity.Class(r.Need)))
	case plan.StaysWeeks:
		return fmt.Sprintf("%d weeks in this phase, of %d.", r.Have, r.Need)
	case plan.StaysWeek:
		return fmt.Sprintf("Next week is week %d of the programme; vigorous work begins in week %d at the earliest.", r.Have, r.Need)
	case plan.StaysSessions:
		return fmt.Sprintf("A week with %d sessions among the last ones; %d are asked for.", r.Have, r.Need)
	case plan.StaysTalk:
		return fmt.Sprintf("Talking was comfortable in %d per cent of sessions; %d are asked for.", r.Have, r.Need)
	case plan.StaysTalkUnknown:
		return "Nobody has told how well they could talk."
	case plan.StaysAlarm:
		return fmt.Sprintf("A report %s ago called for a stop or for easing off; more than %d days are asked for.", days(r.Have), r.Need)
	case plan.StaysTarget:
		return fmt.Sprintf("A week with %d moderate-equivalent minutes among the last ones; %d are asked for.", r.Have, r.Need)
	case plan.StaysScreening:
		return "The screening is no longer valid."
	case plan.StaysSignOff:
		return "The practitioner has not signed off vigorous work."
	case plan.StaysLast:
		return "This is the last phase."
	}
	return r.Code
}

var phaseWords = map[plan.Phase]string{
	plan.LightPhase: "Light phase", plan.ModeratePhase: "Moderate phase", plan.VigorousIntroduction: "Introduction of vigorous work",
}

// originWords says what a version of a plan came from.
var originWords = map[store.PlanOrigin]string{
	store.FromEditor: "written", store.FromCopy: "copied from another client", store.FromAgain: "taken up again",
	store.FromStep: "a step", store.FromRestart: "back after a break",
}

// pauseKinds are the reasons for a pause.
var pauseKinds = []ui.Option{
	{Value: "holiday", Label: "Holiday"}, {Value: "illness", Label: "Illness"}, {Value: "injury", Label: "Injury"},
	{Value: "hospital", Label: "Hospital"}, {Value: "new_medicine", Label: "New medicine"}, {Value: "other", Label: "Something else"},
}

func causeWord(c plan.Cause) string {
	for _, o := range pauseKinds {
		if o.Value == string(c) {
			return o.Label
		}
	}
	return "Pause"
}

// pauseWords tells the days of a pause.
func pauseWords(p store.Pause) string {
	text := causeWord(p.Cause) + " from " + shortDay(p.From)
	if p.To.IsZero() {
		return text + ", end not known"
	}
	return text + " to " + shortDay(p.To)
}

func shortDay(d domain.Date) string { return d.Time().Format("2 January 2006") }

// uncoveredWords say why a week of a plan is to be confirmed.
var uncoveredWords = map[prescription.Ending]string{
	prescription.ByScreening: "the screening counts no more.",
	prescription.ByDoctor:    "the doctor's decision has lapsed.",
	prescription.ByClass:     "it asks for more than is prescribed.",
}

// endWords say in which week of a plan the prescription ends, and what holds then.
func endWords(s store.PlanSheet, weeks []store.PlanWeek) []string {
	var last, number int // the last covered week, and the first that is not
	var by prescription.Ending
	for _, w := range weeks {
		if by = s.Uncovered(w); by != "" {
			number = w.Number
			break
		}
		last = w.Number
	}
	if by == "" {
		return nil
	}
	in := fmt.Sprintf("in week %d", last)
	if last == 0 {
		in = fmt.Sprintf("before week %d", number)
	}
	then := fmt.Sprintf(" From week %d on the plan is to be confirmed; the client and the handout are told so.", number)
	switch by {
	case prescription.ByScreening:
		return []string{fmt.Sprintf("The prescription ends %s, on %s, when the screening counts no more.", in, day(s.Ends.On)) + then}
	case prescription.ByDoctor:
		return []string{fmt.Sprintf("The prescription ends %s, on %s, when the doctor's decision lapses.", in, day(s.Ends.On)) + then}
	}
	return []string{fmt.Sprintf("The prescription covers the plan up to week %d: later weeks ask for more than %s work.", last, strings.ToLower(ui.ClassWord(s.Prescription.Class))) +
		then + " Until then they are done no harder than prescribed."}
}
