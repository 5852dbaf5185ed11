package triage

import "fmt"

// mostDays is the longest time to act that a practice can set.
const mostDays = 30

// Texts returns everything that this package tells or asks a client, for the
// translations: reports, questions, and each line of an answer, with every number
// of days that it can name.
func Texts() []string {
	var list []string
	for _, row := range reports {
		list = append(list, row.Asks)
		if row.advice != "" {
			list = append(list, row.advice)
		}
	}
	for _, group := range redWords {
		list = append(list, group.Asks)
	}
	for _, q := range LateQuestions() {
		list = append(list, q.Asks)
	}
	for _, l := range append(EmergencyText(), crisisText()...) {
		list = append(list, l.Text)
	}
	list = append(list, fixedTexts...)
	dues := []Due{{}}
	for n := 1; n <= mostDays; n++ {
		dues = append(dues, Due{Days: n}, Due{Days: n, Working: true})
	}
	for _, d := range dues {
		for _, format := range []string{stopText, easeText, noteText} {
			list = append(list, fmt.Sprintf(format, within(d)))
		}
	}
	return list
}

// What is said with the time within which somebody acts.
const (
	stopText = "Thank you for telling us. We will speak to you %s."
	easeText = "Thank you for telling us. We will answer %s."
	noteText = "Thank you. We have noted this and will look at it %s."
)

// fixedTexts are the other lines of an answer.
var fixedTexts = []string{
	"Please rest. Do not exercise until you have had no fever for 24 hours, without medicine for it.",
	"Then tell us here, and you can go on.",
	"Please stop all exercise until we have spoken.",
	"Please do only light things until we have spoken.",
	"Please keep it easy. Nothing hard until we have looked at this.",
	"Leave out the exercise that hurt.",
	"Keep weight off your feet for exercise. Do not swim with an open wound.",
	"Thank you. We have it.",
	"If it comes back, gets worse or worries you, call {emergency_number}.",
	aboveHoldText,
	"Your breathing and your heart rate do not fit together. How well could you talk? Any new medicine?",
}

const aboveHoldText = "Part of this was harder than we agreed for now. Please stay below that until we tell you."
