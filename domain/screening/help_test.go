package screening_test

import (
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
)

// The publications that the rows of the tables name.
const (
	acsmFigure  = "ACSM 2015 screening figure, as copied in study material"
	acsmWebinar = "ACSM webinar answers 2017"
	acsmFAQ     = "ACSM questions and answers 2015"
	getp10      = "ACSM guidelines 10th edition 2018, chapter 2"
	acsmSigns   = "ACSM table of signs and symptoms, as copied"
	colberg2017 = "Colberg 2017, Front Endocrinol 8:33"
	common      = "common practice"
	setting     = "practice setting"
	memory      = "from memory"
)

var today = domain.NewDate(2025, 6, 1)

// client is somebody who answers no to everything but the codes given.
func client(t testing.TB, age int, desired intensity.Class, codes ...string) screening.Input {
	t.Helper()
	var diseases, symptoms []string
	for _, c := range codes {
		term, ok := screening.TermOf(c)
		if !ok {
			t.Fatalf("no code %q", c)
		}
		if term.Kind == screening.Symptom {
			symptoms = append(symptoms, c)
		} else {
			diseases = append(diseases, c)
		}
	}
	answers, err := screening.AnswersFrom(diseases, symptoms, nil)
	if err != nil {
		t.Fatal(err)
	}
	return screening.Input{Today: today, Age: age, Answers: answers, Desired: desired}
}

// exercising is just enough to count as regular exercise.
var exercising = screening.Activity{Days: 3, Minutes: 30, Months: 3, Class: intensity.Moderate}

// word is what a doctor's decision of that day comes to today.
func word(on domain.Date, outcome clearance.Outcome, ceiling intensity.Class, covers ...string) clearance.Clearance {
	d := clearance.Decision{ID: "1", DecidedOn: on, ReceivedOn: on, Outcome: outcome, Ceiling: ceiling, Considered: covers}
	return clearance.File{Decisions: []clearance.Decision{d}}.Summarise(clearance.Aerobic, today, clearance.PolicyFrom(nil))
}

func cleared(monthsAgo int, ceiling intensity.Class, covers ...string) clearance.Clearance {
	return word(today.AddMonths(-monthsAgo), clearance.Cleared, ceiling, covers...)
}

func decide(t testing.TB, in screening.Input) screening.Decision {
	t.Helper()
	d, err := screening.Decide(in, screening.PolicyFrom(nil))
	if err != nil {
		t.Fatal(err)
	}
	return d
}
