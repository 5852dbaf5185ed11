package main

import (
	"errors"

	"brae/domain/heartrate"
	"brae/domain/intensity"
)

func init() {
	calculations["part"] = calculation{
		example: `{"minutes":30,"talk":"few_words","hr":112,"zones":{"age":60,"resting_hr":72}}`,
		codes:   talkCodes,
		answer:  answering(calcPart),
	}
}

func talkCodes() []code {
	var codes []code
	for _, t := range intensity.Talks() {
		codes = append(codes, code{Key: "talk", Code: string(t), Says: t.Example()})
	}
	return codes
}

type partIn struct {
	Minutes     int            `json:"minutes"`
	Talk        intensity.Talk `json:"talk,omitempty"`
	Effort      *int           `json:"effort_6_20,omitempty"`
	HR          *heartrate.BPM `json:"hr,omitempty"`
	ActivityMET *jsonMET       `json:"activity_met,omitempty"`
	Zones       *zonesIn       `json:"zones,omitempty"`
}

// jsonMET reads METs with two decimals at most, exactly.
type jsonMET intensity.MET

func (m *jsonMET) UnmarshalJSON(text []byte) error {
	met, err := intensity.ParseMET(string(text))
	if err != nil {
		return errors.New("METs are a number with two decimals at most, such as 3.5")
	}
	*m = jsonMET(met)
	return nil
}

type partOut struct {
	ClassForVolume intensity.Class `json:"class_for_volume"`
	ClassForSafety intensity.Class `json:"class_for_safety"`
	Agree          bool            `json:"agree"`
	Notes          []string        `json:"notes"`
	Sources        []string        `json:"sources"`
}

func calcPart(in partIn) (partOut, error) {
	if in.Minutes < 1 {
		return partOut{}, fieldError{"minutes", "Minutes are a whole number from 1 to 720."}
	}
	e := intensity.Evidence{Minutes: in.Minutes, Talk: in.Talk}
	if in.Effort != nil {
		if e.Effort = intensity.Effort(*in.Effort); e.Effort == 0 {
			return partOut{}, fieldError{"effort_6_20", "Perceived exertion is a whole number from 6 to 20."}
		}
	}
	if in.ActivityMET != nil {
		e.MET = intensity.MET(*in.ActivityMET)
	}
	out := partOut{Notes: []string{}}
	if in.HR != nil {
		policy := heartrate.PolicyFrom(nil)
		if f := heartrate.CheckSession(*in.HR, heartrate.SessionContext{}, policy); f.Verdict == intensity.Reject {
			return partOut{}, fieldError{"hr", f.Sentence}
		}
		if in.Zones == nil {
			return partOut{}, fieldError{"zones", "A heart rate tells nothing without zones: give what zones needs."}
		}
		person, policy, err := in.Zones.person()
		if err != nil {
			return partOut{}, inside("zones", err)
		}
		z, err := heartrate.ZonesFor(person, policy)
		if err != nil {
			return partOut{}, inside("zones", err)
		}
		e.HR, e.Age = z.Evidence(*in.HR), in.Zones.Age
	}
	j, err := intensity.Judge(e, intensity.PolicyFrom(nil))
	if err != nil {
		return partOut{}, err
	}
	out.ClassForVolume, out.ClassForSafety, out.Agree = j.ClassForVolume, j.ClassForSafety, j.Agree
	for _, n := range j.Notes {
		out.Notes = append(out.Notes, n.Text)
	}
	out.Sources = []string{"garber2011", "cdc_talk", "practice"}
	return out, nil
}
