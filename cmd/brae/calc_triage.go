package main

import (
	"errors"
	"maps"
	"slices"

	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/domain/triage"
)

func init() {
	calculations["triage"] = calculation{
		example: `{"reports":["lightheaded_on_stopping"],"known":{"cardiac":true}}`,
		codes:   triageCodes,
		answer:  answering(calcTriage),
	}
}

func triageCodes() []code {
	var codes []code
	for _, c := range triage.Codes() {
		codes = append(codes, code{Key: "reports", Code: string(c.Report), Row: c.Row, Says: c.Asks})
	}
	for _, f := range triage.Flags() {
		codes = append(codes, code{Key: "known", Code: string(f.Flag), Says: f.Says})
	}
	return codes
}

type triageIn struct {
	Reports   []triage.Report      `json:"reports"`
	Known     map[triage.Flag]bool `json:"known,omitempty"`
	Numbers   numbersIn            `json:"numbers,omitempty"`
	Vitals    []string             `json:"vitals,omitempty"` // rules that fired: V1, V2, V6, V19
	Earlier   []earlierIn          `json:"earlier,omitempty"`
	Text      string               `json:"text,omitempty"`
	FirstHard bool                 `json:"first_hard,omitempty"`
}

type earlierIn struct {
	Rule    string       `json:"rule"`
	Level   triage.Level `json:"level"`
	DaysAgo int          `json:"days_ago"`
}

// numbersIn is what a log carries beside the reports. A zero is not given.
type numbersIn struct {
	PeakHR        int             `json:"peak_hr,omitempty"`
	CeilingHR     int             `json:"ceiling_hr,omitempty"`
	SecondsAbove  int             `json:"seconds_above_ceiling,omitempty"`
	MeasuredMax   int             `json:"measured_max,omitempty"`
	PredictedMax  int             `json:"predicted_max,omitempty"`
	PeakConfirmed bool            `json:"peak_confirmed,omitempty"`
	Effort        int             `json:"effort_6_20,omitempty"`
	CouldNotSpeak bool            `json:"could_not_speak,omitempty"`
	Prescribed    intensity.Class `json:"prescribed,omitempty"`
	Done          intensity.Class `json:"done,omitempty"`
	Ceiling       intensity.Class `json:"ceiling,omitempty"`
	TalkClass     intensity.Class `json:"talk_class,omitempty"`
	HRClass       intensity.Class `json:"hr_class,omitempty"`
	SameWork      []riseIn        `json:"same_work,omitempty"`
	Parts         []pullIn        `json:"parts,omitempty"`
	RestingDays   []int           `json:"resting_hr_days,omitempty"`
	RestingUsed   []int           `json:"resting_hr_weeks,omitempty"`
	WeekSpike     bool            `json:"week_spike,omitempty"`
	SpO2          int             `json:"spo2,omitempty"`
	SBP           int             `json:"sbp,omitempty"`
	DBP           int             `json:"dbp,omitempty"`
	GlucoseMgDL   int             `json:"glucose_mg_dl,omitempty"`
	Ketones       jsonTenths      `json:"ketones_mmol_l,omitempty"`
}

type riseIn struct {
	HR     int `json:"hr"`
	Effort int `json:"effort_6_20"`
}

type pullIn struct {
	Effort int `json:"effort_6_20"`
	HR     int `json:"hr"`
}

// jsonTenths reads a number with one decimal at most, exactly.
type jsonTenths int

func (n *jsonTenths) UnmarshalJSON(text []byte) error {
	h, err := screening.ParseHundredths(string(text))
	if err != nil || h%10 != 0 {
		return errors.New("this is a number with one decimal at most, such as 1.5")
	}
	*n = jsonTenths(h / 10)
	return nil
}

type triageOut struct {
	Level      triage.Level    `json:"level"`
	Hold       clearance.Scope `json:"hold"`
	Rules      []string        `json:"rules"`
	Why        []string        `json:"why"`
	FreezeDays int             `json:"freeze_days"`
	Due        string          `json:"due"`
	Doctor     bool            `json:"doctor"`
	Questions  []string        `json:"questions"`
	Sources    []string        `json:"sources"`
}

func calcTriage(in triageIn) (triageOut, error) {
	a, err := triage.Assess(in.input(), triage.PolicyFrom(nil))
	if err != nil {
		if field := newRefusal(err).Field; field != "reports" && field != "known" {
			err = inside("numbers", err)
		}
		return triageOut{}, err
	}
	out := triageOut{
		Level: a.Level, Hold: a.Hold, Rules: append([]string{}, a.Rules...), Why: append([]string{}, a.Why...),
		FreezeDays: a.FreezeDays, Due: a.Act.Due.String(), Doctor: a.Act.Doctor, Questions: []string{},
		Sources: keysOf(citesOf(triage.Rules, append([]string{"triage.levels"}, a.Rules...)...)...),
	}
	for _, q := range append(slices.Clone(a.Questions), a.LateQuestions...) {
		out.Questions = append(out.Questions, q.Asks)
	}
	return out, nil
}

// input makes the rules' view of the input. A flag that is false is not known,
// yet must exist.
func (in triageIn) input() triage.Input {
	t := triage.Input{Reports: in.Reports, Vitals: in.Vitals, Text: in.Text, FirstHard: in.FirstHard, Numbers: in.Numbers.numbers()}
	exists := triage.Flags()
	for _, flag := range slices.Sorted(maps.Keys(in.Known)) {
		if in.Known[flag] || !slices.ContainsFunc(exists, func(f triage.FlagInfo) bool { return f.Flag == flag }) {
			t.Known = append(t.Known, flag)
		}
	}
	for _, e := range in.Earlier {
		t.Earlier = append(t.Earlier, triage.Earlier(e))
	}
	return t
}

func (n numbersIn) numbers() triage.Numbers {
	numbers := triage.Numbers{
		PeakHR: n.PeakHR, CeilingHR: n.CeilingHR, SecondsAbove: n.SecondsAbove, MeasuredMax: n.MeasuredMax,
		PredictedMax: n.PredictedMax, PeakConfirmed: n.PeakConfirmed, Effort: n.Effort, CouldNotSpeak: n.CouldNotSpeak,
		Prescribed: n.Prescribed, Done: n.Done, Ceiling: n.Ceiling, Talk: n.TalkClass, HeartSay: n.HRClass,
		RestingDays: n.RestingDays, RestingUsed: n.RestingUsed, WeekSpike: n.WeekSpike,
		Oxygen: n.SpO2, Systolic: n.SBP, Diastolic: n.DBP, Glucose: n.GlucoseMgDL, Ketones: int(n.Ketones),
	}
	for _, r := range n.SameWork {
		numbers.SameWork = append(numbers.SameWork, triage.Rise(r))
	}
	for _, p := range n.Parts {
		numbers.Parts = append(numbers.Parts, triage.Pull(p))
	}
	return numbers
}
