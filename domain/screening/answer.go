package screening

import (
	"encoding/json"
	"fmt"
	"slices"

	"brae/domain"
)

// Answer is the answer to a health question.
type Answer uint8

// The answers. Not sure counts as yes.
//
// Practice rule: practice.
const (
	Unanswered Answer = iota
	No
	NotSure
	Yes
)

var answerNames = [...]string{"unanswered", "no", "not_sure", "yes"}

// CountsAsYes reports whether the answer is yes or not sure.
func (a Answer) CountsAsYes() bool { return a >= NotSure }

// String returns the answer as stored.
func (a Answer) String() string {
	if int(a) >= len(answerNames) {
		return fmt.Sprintf("Answer(%d)", a)
	}
	return answerNames[a]
}

// ParseAnswer reads what String writes; nothing at all is unanswered.
func ParseAnswer(name string) (Answer, error) {
	if name == "" {
		return Unanswered, nil
	}
	i := slices.Index(answerNames[:], name)
	if i < 0 {
		return Unanswered, fmt.Errorf("answer %q: not one of yes, no, not_sure, unanswered", name)
	}
	return Answer(i), nil
}

// Answers holds an answer to every question. In the zero Answers none is given.
// Answers compare with ==.
type Answers struct {
	given [termCount]Answer
}

// Of returns the answer to a question, and Unanswered for a code there is none of.
func (a Answers) Of(code string) Answer {
	if i, ok := position[code]; ok {
		return a.given[i]
	}
	return Unanswered
}

// Set answers a question. It returns a [domain.Problems] for a code that does
// not exist and an answer that is none.
func (a *Answers) Set(code string, answer Answer) error {
	i, ok := position[code]
	if !ok {
		return domain.Problems{code: "There is no question with the code " + code + "."}
	}
	if answer > Yes {
		return domain.Problems{code: "Answer with yes, no, not sure or nothing."}
	}
	a.given[i] = answer
	return nil
}

// AnswersFrom answers every question with no but the diseases and symptoms given
// (yes) and those left unanswered. Under diseases stand all codes that are not
// symptoms. It returns a [domain.Problems] for codes that do not exist or stand
// in the wrong list.
func AnswersFrom(diseases, symptoms, unanswered []string) (Answers, error) {
	var a Answers
	for i := range a.given {
		a.given[i] = No
	}
	var problems domain.Problems
	for _, list := range []struct {
		field  string
		codes  []string
		answer Answer
	}{{"diseases", diseases, Yes}, {"symptoms", symptoms, Yes}, {"unanswered", unanswered, Unanswered}} {
		for _, code := range list.codes {
			i, ok := position[code]
			switch {
			case !ok:
				problems.Add(list.field, "There is no code "+code+".")
			case list.field == "diseases" && terms[i].Kind == Symptom:
				problems.Add(list.field, code+" is a symptom.")
			case list.field == "symptoms" && terms[i].Kind != Symptom:
				problems.Add(list.field, code+" is not a symptom.")
			default:
				a.given[i] = list.answer
			}
		}
	}
	if problems != nil {
		return Answers{}, problems
	}
	return a, nil
}

// MarshalJSON writes the given answers by code.
func (a Answers) MarshalJSON() ([]byte, error) {
	given := map[string]string{}
	for i, answer := range a.given {
		if answer != Unanswered {
			given[terms[i].Code] = answer.String()
		}
	}
	return json.Marshal(given)
}

// UnmarshalJSON reads what MarshalJSON writes. Codes and answers that do not
// exist are errors.
func (a *Answers) UnmarshalJSON(text []byte) error {
	var given map[string]string
	if err := json.Unmarshal(text, &given); err != nil {
		return fmt.Errorf("answers: %w", err)
	}
	var read Answers
	for code, name := range given {
		answer, err := ParseAnswer(name)
		if err != nil {
			return fmt.Errorf("answers: %s: %w", code, err)
		}
		if err := read.Set(code, answer); err != nil {
			return fmt.Errorf("answers: %w", err)
		}
	}
	*a = read
	return nil
}
