package main

import (
	"errors"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/screening"
	"brae/domain/source"
)

func init() {
	calculations["vitals"] = calculation{
		example: `{"sbp":165,"dbp":95,"resting_hr":72,"cardiac":false}`,
		codes:   ketoneCodes,
		answer:  answering(calcVitals),
	}
}

func ketoneCodes() []code {
	var codes []code
	for _, k := range []screening.Ketones{
		screening.KetonesNone, screening.KetonesTrace, screening.KetonesSmall, screening.KetonesModerate, screening.KetonesLarge,
	} {
		codes = append(codes, code{Key: "urine_ketones", Code: string(k), Says: "The reading of a urine strip"})
	}
	for _, r := range screening.Rules {
		if r.Topic == source.TopicVitals {
			codes = append(codes, code{Key: "rule", Code: r.ID, Row: r.ID, Says: r.Says})
		}
	}
	return codes
}

type vitalsIn struct {
	SBP          *int              `json:"sbp,omitempty"`
	DBP          *int              `json:"dbp,omitempty"`
	StandingSBP  *int              `json:"standing_sbp,omitempty"`
	RestingHR    *int              `json:"resting_hr,omitempty"`
	Temperature  *jsonHundredths   `json:"temperature_c,omitempty"`
	GlucoseMgDL  *int              `json:"glucose_mg_dl,omitempty"`
	GlucoseMmol  *jsonHundredths   `json:"glucose_mmol_l,omitempty"`
	Ketones      *jsonHundredths   `json:"ketones_mmol_l,omitempty"`
	UrineKetones screening.Ketones `json:"urine_ketones,omitempty"`
	SpO2         *int              `json:"spo2,omitempty"`
	Weights      []weightIn        `json:"weights,omitempty"`

	Cardiac         bool `json:"cardiac,omitempty"`
	HeartFailure    bool `json:"heart_failure,omitempty"`
	GlucoseLowering bool `json:"glucose_lowering,omitempty"`
	RateSlowing     bool `json:"rate_slowing,omitempty"`

	Repeated  bool `json:"repeated,omitempty"`
	Symptoms  bool `json:"symptoms,omitempty"`
	Fainted   bool `json:"fainted,omitempty"`
	Warning   bool `json:"warning,omitempty"`
	Feverish  bool `json:"feverish,omitempty"`
	SevereLow bool `json:"severe_low,omitempty"`
}

type weightIn struct {
	On domain.Date    `json:"on"`
	Kg jsonHundredths `json:"kg"`
}

// jsonHundredths reads a number with two decimals at most, exactly.
type jsonHundredths screening.Hundredths

func (h *jsonHundredths) UnmarshalJSON(text []byte) error {
	n, err := screening.ParseHundredths(string(text))
	if err != nil {
		return errors.New("this is a number with two decimals at most, such as 38.5")
	}
	*h = jsonHundredths(n)
	return nil
}

type vitalsOut struct {
	Findings []screening.VitalFinding `json:"findings"`
	Hold     clearance.Scope          `json:"hold"`
	Doubts   domain.Doubts            `json:"doubts,omitempty"` // what to ask about before it is saved, by key
	Sources  []string                 `json:"sources"`
}

func calcVitals(in vitalsIn) (vitalsOut, error) {
	v := in.vitals()
	a, err := screening.AssessVitals(v, screening.PolicyFrom(nil))
	if err != nil {
		return vitalsOut{}, err
	}
	out := vitalsOut{Findings: []screening.VitalFinding{}, Hold: a.Hold, Doubts: v.Doubts(screening.BandsFrom(nil))}
	var cites []source.Key
	for _, f := range a.Findings {
		out.Findings = append(out.Findings, f)
		cites = append(cites, f.Cites...)
	}
	if len(a.Findings) == 0 { // what was passed rests on all limits
		for _, r := range screening.Rules {
			if r.Topic == source.TopicVitals {
				cites = append(cites, r.Cites...)
			}
		}
	}
	out.Sources = keysOf(cites...)
	return out, nil
}

// vitals makes the rules' view of the input.
func (in vitalsIn) vitals() screening.Vitals {
	v := screening.Vitals{
		SBP: in.SBP, DBP: in.DBP, StandingSBP: in.StandingSBP, RestingHR: in.RestingHR,
		Temperature: (*screening.Hundredths)(in.Temperature),
		GlucoseMgDL: in.GlucoseMgDL, GlucoseMmol: (*screening.Hundredths)(in.GlucoseMmol),
		Ketones: (*screening.Hundredths)(in.Ketones), UrineKetones: in.UrineKetones, SpO2: in.SpO2,
		Cardiac: in.Cardiac, HeartFailure: in.HeartFailure, GlucoseLowering: in.GlucoseLowering, RateSlowing: in.RateSlowing,
		Repeated: in.Repeated, Symptoms: in.Symptoms, Fainted: in.Fainted, Warning: in.Warning,
		Feverish: in.Feverish, SevereLow: in.SevereLow,
	}
	for _, w := range in.Weights {
		v.Weights = append(v.Weights, screening.Weight{On: w.On, Grams: int(w.Kg) * 10})
	}
	return v
}
