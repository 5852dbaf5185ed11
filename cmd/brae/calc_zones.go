package main

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/source"
)

func init() {
	calculations["zones"] = calculation{
		example: `{"age":60,"resting_hr":72,"percents":[40,60]}`,
		codes:   conditionCodes,
		answer:  answering(calcZones),
	}
}

func conditionCodes() []code {
	var codes []code
	for _, c := range heartrate.Conditions() {
		row := ""
		if c.Row != 0 {
			row = "heartrate.basis." + strconv.Itoa(c.Row)
		}
		codes = append(codes, code{Key: "conditions", Code: c.Code, Row: row, Says: c.Says})
	}
	for _, e := range heartrate.Equations() {
		codes = append(codes, code{Key: "equation", Code: string(e.ID), Says: e.Formula + " (" + e.Population + ")"})
	}
	return codes
}

type zonesIn struct {
	Age               int                `json:"age"`
	RestingHR         heartrate.BPM      `json:"resting_hr"`
	Sex               heartrate.Sex      `json:"sex,omitempty"`
	Equation          heartrate.Equation `json:"equation,omitempty"`
	MeasuredMax       heartrate.BPM      `json:"measured_max,omitempty"`
	Medicines         []string           `json:"medicines,omitempty"`
	Conditions        []string           `json:"conditions,omitempty"`
	Limits            zoneLimits         `json:"limits,omitempty"`
	VigorousToPercent *int               `json:"vigorous_to_percent,omitempty"`
	Percents          []json.Number      `json:"percents,omitempty"` // per cent of the reserve, two decimals at most
}

type zoneLimits struct {
	DoctorHR       heartrate.BPM `json:"doctor_hr,omitempty"`
	IschaemiaHR    heartrate.BPM `json:"ischaemia_hr,omitempty"`
	ICDDetectionHR heartrate.BPM `json:"icd_detection_hr,omitempty"`
	ICDMargin      heartrate.BPM `json:"icd_margin,omitempty"`
}

type zonesOut struct {
	Basis       heartrate.Basis   `json:"basis"`
	Rule        string            `json:"rule"`
	HRMax       *heartrate.Milli  `json:"hr_max"`
	HRMaxError  heartrate.BPM     `json:"hr_max_error"`
	Zones       []zoneOut         `json:"zones"`
	Unavailable []intensity.Class `json:"unavailable"`
	CeilingHR   *heartrate.BPM    `json:"ceiling_hr"`
	Targets     []targetOut       `json:"targets"`
	Notes       []string          `json:"notes"`
	Sources     []string          `json:"sources"`
}

type zoneOut struct {
	Class intensity.Class `json:"class"`
	Low   heartrate.BPM   `json:"low"`
	High  heartrate.BPM   `json:"high"`
}

type targetOut struct {
	Percent json.Number     `json:"percent"`
	BPM     heartrate.BPM   `json:"bpm"`
	Exact   heartrate.Exact `json:"exact"`
}

// person makes the heart-rate rules' view of the input.
func (in zonesIn) person() (heartrate.Person, heartrate.Policy, error) {
	policy := heartrate.PolicyFrom(nil)
	if in.VigorousToPercent != nil {
		policy = heartrate.PolicyFrom(source.Values{"heartrate.vigorous_to_percent": *in.VigorousToPercent})
	}
	p := heartrate.Person{
		Age: in.Age, Sex: in.Sex, RestingHR: in.RestingHR, Equation: in.Equation,
		Limits: heartrate.Limits{
			DoctorHR: in.Limits.DoctorHR, IschaemiaHR: in.Limits.IschaemiaHR,
			ICDDetectionHR: in.Limits.ICDDetectionHR, ICDMargin: in.Limits.ICDMargin,
		},
	}
	if in.RestingHR == 0 {
		return p, policy, fieldError{"resting_hr", "A range needs the resting heart rate."}
	}
	if in.MeasuredMax != 0 {
		today := domain.NewDate(2000, 1, 1) // a peak of which only the number is known is as of today
		p.Today = today
		p.Peak = heartrate.PeakToday(in.MeasuredMax, today)
	}
	for _, name := range in.Conditions {
		c, err := heartrate.ParseCondition(name)
		if err != nil {
			return p, policy, fieldError{"conditions", err.Error() + "."}
		}
		p.Conditions |= c
	}
	found := medicine.Match(strings.Join(in.Medicines, "\n"))
	codes, err := heartrate.ParseMedicines(found.ZonesUntilConfirmed().String())
	if err != nil {
		return p, policy, err
	}
	p.Medicines, p.UnknownMedicine = codes, len(found.Unknown) > 0
	return p, policy, nil
}

func calcZones(in zonesIn) (zonesOut, error) {
	person, policy, err := in.person()
	if err != nil {
		return zonesOut{}, err
	}
	z, err := heartrate.ZonesFor(person, policy)
	if err != nil {
		return zonesOut{}, err
	}
	out := zonesOut{
		Basis: z.Decision.Basis, Rule: z.Decision.RuleID(), HRMaxError: z.MaxError,
		Zones: []zoneOut{}, Unavailable: []intensity.Class{}, Targets: []targetOut{}, Notes: []string{z.Decision.Reason()},
		Sources: keysOf(append([]source.Key{"karvonen1957", "garber2011"}, z.Decision.Cites()...)...),
	}
	if z.Max != 0 {
		out.HRMax = &z.Max
	}
	if z.Ceiling != 0 {
		out.CeilingHR = &z.Ceiling
	}
	for _, b := range z.Bands {
		if b.Why == heartrate.Available {
			high := b.High
			if b.Class == intensity.Vigorous && in.VigorousToPercent != nil {
				high = b.PrescribeTo
			}
			out.Zones = append(out.Zones, zoneOut{b.Class, b.Low, high})
		} else {
			out.Unavailable = append(out.Unavailable, b.Class)
			out.Notes = append(out.Notes, z.Explain(b.Class))
		}
	}
	for _, n := range z.Notes.All() {
		out.Notes = append(out.Notes, n.Text)
	}
	for i, typed := range in.Percents {
		percent, err := intensity.ParsePercent(typed.String())
		if err == nil {
			_, err = heartrate.RestingError(percent, 1) // refuses what is no share
		}
		if err != nil {
			return zonesOut{}, fieldError{fmt.Sprintf("percents[%d]", i), "Per cents are numbers from 0 to 100 with two decimals at most."}
		}
		if z.Max == 0 {
			continue // no basis
		}
		t, err := heartrate.Target(z.Max, z.Rest, percent)
		if err != nil {
			return zonesOut{}, err
		}
		out.Targets = append(out.Targets, targetOut{typed, t.Nearest(), t})
	}
	if z.Max == 0 && len(in.Percents) > 0 {
		out.Notes = append(out.Notes, "Without a basis there are no targets.")
	}
	return out, nil
}
