package main

import (
	"strings"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/screening"
	"brae/domain/source"
)

func init() {
	calculations["screen"] = calculation{
		example: `{"today":"2026-11-25","age":58,"activity":{"days":4,"minutes":40,"months":12,"class":"moderate"},` +
			`"diseases":["diabetes_type_2"],"symptoms":[],"unanswered":[],"desired":"vigorous","medicines":["metformin"],"decision":null,"settings":{}}`,
		codes:  screenCodes,
		answer: answering(calcScreen),
	}
}

func screenCodes() []code {
	var codes []code
	for _, t := range screening.Codes() {
		key := "diseases"
		if t.Kind == screening.Symptom {
			key = "symptoms"
		}
		codes = append(codes, code{Key: key, Code: t.Code, Row: t.Row, Says: t.Name})
	}
	return codes
}

type screenIn struct {
	Today      domain.Date     `json:"today"`
	BirthDate  domain.Date     `json:"birth_date,omitempty"`
	Age        int             `json:"age,omitempty"`
	Activity   activityIn      `json:"activity"`
	Diseases   []string        `json:"diseases"`
	Symptoms   []string        `json:"symptoms"`
	Unanswered []string        `json:"unanswered,omitempty"`
	Desired    intensity.Class `json:"desired"`
	Medicines  []string        `json:"medicines,omitempty"`
	Decision   *decisionIn     `json:"decision,omitempty"`
	Settings   source.Values   `json:"settings,omitempty"`
}

type activityIn struct {
	Days    int             `json:"days"`
	Minutes int             `json:"minutes"`
	Months  int             `json:"months"`
	Class   intensity.Class `json:"class"`
}

type decisionIn struct {
	DecidedOn domain.Date       `json:"decided_on"`
	Ceiling   intensity.Class   `json:"ceiling"`
	Outcome   clearance.Outcome `json:"outcome"`
	Covers    []string          `json:"covers"`
}

type screenOut struct {
	Rule          string          `json:"rule"`
	Row           string          `json:"row"`
	PracticeRule  string          `json:"practice_rule,omitempty"`
	Group         screening.Group `json:"group"`
	Regular       bool            `json:"regular"`
	Need          screening.Need  `json:"need"`
	CeilingNow    intensity.Class `json:"ceiling_now"`
	MayProgressTo intensity.Class `json:"may_progress_to"`
	Hold          clearance.Scope `json:"hold"`
	Action        string          `json:"action"`
	Reasons       []string        `json:"reasons"`
	Sources       []string        `json:"sources"`
}

func calcScreen(in screenIn) (screenOut, error) {
	if err := checkSettings(in.Settings); err != nil {
		return screenOut{}, err
	}
	if in.Age == 0 && in.BirthDate.IsZero() {
		return screenOut{}, fieldError{"age", "Give the age or the birth date."}
	}
	answers, err := screening.AnswersFrom(in.Diseases, in.Symptoms, in.Unanswered)
	if err != nil {
		return screenOut{}, err
	}
	input := screening.Input{
		Today: in.Today, BirthDate: in.BirthDate, Age: in.Age, Answers: answers, Desired: in.Desired,
		Activity: screening.Activity{Days: in.Activity.Days, Minutes: in.Activity.Minutes, Months: in.Activity.Months, Class: in.Activity.Class},
	}
	for _, h := range medicine.Hints(medicine.Match(strings.Join(in.Medicines, "\n")).Matches) {
		if h.Blocks {
			input.Hints = append(input.Hints, screening.Hint{Code: h.Code, Says: strings.Join(h.Names, ", ")})
		}
	}
	if in.Decision != nil {
		file := clearance.File{Decisions: []clearance.Decision{in.Decision.decision()}}
		input.Clearance = file.Summarise(clearance.Aerobic, in.Today, clearance.PolicyFrom(in.Settings))
	}
	d, err := screening.Decide(input, screening.PolicyFrom(in.Settings))
	if err != nil {
		return screenOut{}, err
	}
	return screenOut{
		Rule: d.Rule, Row: d.Row, PracticeRule: d.PracticeRule, Group: d.Group, Regular: d.Regular, Need: d.Need,
		CeilingNow: d.CeilingNow, MayProgressTo: d.MayProgressTo, Hold: d.Hold, Action: string(d.Action),
		Reasons: d.Reasons, Sources: keysOf(d.Sources...),
	}, nil
}

// decision makes a doctor's decision of the few fields that matter here.
func (d decisionIn) decision() clearance.Decision {
	return clearance.Decision{
		ID: "decision", DecidedOn: d.DecidedOn, ReceivedOn: d.DecidedOn, Channel: clearance.Letter, Outcome: d.Outcome,
		Ceiling: d.Ceiling, Work: clearance.Both, Considered: d.Covers,
	}
}

// checkSettings refuses settings that do not exist or are out of their range.
func checkSettings(values source.Values) error {
	known := append(append([]source.Setting{}, screening.Settings...), clearance.Settings...)
	for key, value := range values {
		found := false
		for _, s := range known {
			if s.Key == key {
				found = true
				if value < s.Low || value > s.High {
					return fieldError{"settings." + key, "This is out of the range of the setting."}
				}
			}
		}
		if !found {
			return fieldError{"settings." + key, "There is no such setting."}
		}
	}
	return nil
}
