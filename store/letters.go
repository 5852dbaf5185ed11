package store

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/consent"
	"brae/domain/intensity"
	"brae/domain/screening"
)

// Letter is what a letter to a doctor says. The questions are the same in every
// letter and stand on its page. A field left empty is left out: the doctor gets
// what the answer needs and nothing else.
type Letter struct {
	Doctor       string      `json:"doctor"`
	Address      string      `json:"address"`
	From         string      `json:"from"` // practitioner, credentials and how to answer
	Trigger      string      `json:"trigger"`
	Symptoms     string      `json:"symptoms"`
	Diagnoses    string      `json:"diagnoses"`
	Medicines    string      `json:"medicines"`
	Vitals       string      `json:"vitals"`
	Activity     string      `json:"activity"`
	Plan         string      `json:"plan"`
	More         string      `json:"more"`
	ConsentOn    domain.Date `json:"consent_on"`    // the day the client agreed that this is sent
	ConsentUntil domain.Date `json:"consent_until"` // the last day of that

	Ground     consent.Ground `json:"ground"`      // on which it is sent; "" of letters from before it was asked
	ConsentHow consent.How    `json:"consent_how"` // likewise
	Consent    uuid.UUID      `json:"consent"`     // to share, on record; the nil id without one
	Why        string         `json:"why"`         // of an exception
}

// letterFields are the texts of a letter with how long each may be, so that the
// letter stays one page.
func (l *Letter) letterFields() []struct {
	field string
	text  *string
	most  int
} {
	return []struct {
		field string
		text  *string
		most  int
	}{
		{"doctor", &l.Doctor, 120}, {"address", &l.Address, 200}, {"from", &l.From, 200}, {"trigger", &l.Trigger, 300}, {"symptoms", &l.Symptoms, 300},
		{"diagnoses", &l.Diagnoses, 200}, {"medicines", &l.Medicines, 300}, {"vitals", &l.Vitals, 150}, {"activity", &l.Activity, 150},
		{"plan", &l.Plan, 300}, {"more", &l.More, 200},
	}
}

// What fits on one page of the letter as it is printed, beside the questions:
// lines, and characters of a line. A browser test prints the longest letter.
const (
	letterLines = 33
	letterWidth = 85
)

// ReferralReminder is a reminder of a letter.
type ReferralReminder struct {
	Day  domain.Date
	Note string
	At   time.Time
	By   string // name of the account
}

// check reports what keeps a letter from being saved, and, if it is to be sent,
// from being sent.
func (l *Letter) check(today domain.Date, send bool) domain.Problems {
	var problems domain.Problems
	lines := 0
	for _, f := range l.letterFields() {
		*f.text = strings.TrimSpace(strings.ReplaceAll(*f.text, "\r\n", "\n"))
		if utf8.RuneCountInString(*f.text) > f.most {
			problems.Add(f.field, fmt.Sprintf("Use %d characters at most, so that the letter stays one page.", f.most))
		}
		for line := range strings.SplitSeq(*f.text, "\n") {
			lines += 1 + utf8.RuneCountInString(line)/letterWidth
		}
	}
	if l.Ground.Exception() { // the reason stands where else a short sentence does
		lines += utf8.RuneCountInString(l.Why) / letterWidth
	}
	if lines > letterLines {
		problems.Add("trigger", "The letter does not fit on one page. Use fewer lines, here or below.")
	}
	if !l.ConsentOn.IsZero() && l.ConsentOn.After(today) {
		problems.Add("consent_on", "This day is in the future.")
	}
	if !l.ConsentUntil.IsZero() && l.ConsentUntil.Before(l.ConsentOn) {
		problems.Add("consent_until", "The consent ends before it begins.")
	}
	if !send {
		return problems
	}
	for _, f := range []struct{ field, text, sentence string }{
		{"doctor", l.Doctor, "Type to whom the letter goes."},
		{"from", l.From, "Type who asks, and how to answer."},
		{"trigger", l.Trigger, "Say why you ask."},
		{"plan", l.Plan, "Say what you plan, and how it builds up."},
	} {
		if f.text == "" {
			problems.Add(f.field, f.sentence)
		}
	}
	return problems
}

// draftLetter fills in what the record knows.
func (t *tx) draftLetter(ctx context.Context, c Client, f *clearanceFile) (Letter, error) {
	var l Letter
	signature, err := t.signature(ctx)
	if err != nil {
		return l, err
	}
	l.From = signature + "\n" + t.practice.Name
	if t.practice.Phone != "" {
		l.From += ", phone " + t.practice.Phone
	}
	in, d, on := f.Screening.Input, f.Screening.Decision, f.Screening.DecidedOn
	var reasons []string
	for _, h := range f.Holds {
		if !slices.Contains(reasons, h.Reason) && (h.Needs == clearance.NeedsDoctor || h.Needs == clearance.NeedsResolution) {
			reasons = append(reasons, h.Reason)
		}
	}
	if reasons == nil && d.MayProgressTo < intensity.Vigorous {
		reasons = append(reasons, "The client wants to work harder than an earlier decision allows.")
	}
	l.Trigger = clip(strings.Join(reasons, " "), 300)
	var symptoms, diagnoses []string
	for _, term := range screening.Codes() {
		answer := in.Answers.Of(term.Code)
		if !answer.CountsAsYes() || term.Kind == screening.Complication || term.Kind == screening.Noted {
			continue // the doctor does not need it for this
		}
		text := term.Name
		if answer == screening.NotSure {
			text += " (not sure)"
		}
		if term.Kind == screening.Symptom {
			for _, cause := range f.Decision.Causes {
				if cause.Code == term.Code && !cause.Since.IsZero() {
					text += ", reported on " + cause.Since.Words()
				}
			}
			symptoms = append(symptoms, text)
		} else {
			diagnoses = append(diagnoses, text)
		}
	}
	l.Symptoms, l.Diagnoses = clip(strings.Join(symptoms, "; "), 300), clip(strings.Join(diagnoses, "; "), 200)
	l.Medicines = clip(strings.Join(in.Medicines, "; "), 300)
	var vitals []string
	if in.Systolic != 0 {
		vitals = append(vitals, fmt.Sprintf("blood pressure %d/%d mmHg", in.Systolic, in.Diastolic))
	}
	if len(in.RestingReadings) > 0 {
		vitals = append(vitals, fmt.Sprintf("resting heart rate %d a minute", in.RestingReadings[0]))
	}
	if vitals != nil {
		l.Vitals = strings.Join(vitals, ", ") + " on " + on.Words()
	}
	l.Activity = fmt.Sprintf("%d days a week of %d minutes, for %d months", in.Activity.Days, in.Activity.Minutes, in.Activity.Months)
	if in.Activity.Days == 0 {
		l.Activity = "No regular exercise now"
	}
	start := min(in.Desired, intensity.Moderate)
	if !d.Regular {
		start = intensity.Light
	}
	l.Plan = fmt.Sprintf("Aerobic exercise, on their own between visits. Start with %s work of 10 to 30 minutes, three to five times a week. "+
		"Build up to %s work over three to six months.", start, max(in.Desired, intensity.Moderate))
	return l, nil
}

// clip ends a text at a length, at the end of a word.
func clip(text string, most int) string {
	letters := []rune(text)
	if len(letters) <= most {
		return text
	}
	cut := string(letters[:most-1])
	if i := strings.LastIndexByte(cut, ' '); i > 0 {
		cut = cut[:i]
	}
	return cut + "…"
}
