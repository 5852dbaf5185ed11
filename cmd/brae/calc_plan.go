package main

import (
	"brae/domain/intensity"
	"brae/domain/plan"
)

func init() {
	calculations["plan"] = calculation{
		example: `{"start":{"class":"moderate","sessions":5,"minutes":15},"goal_minutes":150,"weeks":12,"ceiling":"moderate","preset":"walk_12"}`,
		codes:   presetCodes,
		answer:  answering(calcPlan),
	}
}

func presetCodes() []code {
	var codes []code
	for _, p := range plan.Presets() {
		codes = append(codes, code{Key: "preset", Code: p.ID, Row: "plan.preset." + p.ID, Says: p.Says})
	}
	return codes
}

type planIn struct {
	Start   startIn         `json:"start"`
	Goal    int             `json:"goal_minutes"`
	Weeks   int             `json:"weeks"`
	Ceiling intensity.Class `json:"ceiling"`
	Preset  string          `json:"preset,omitempty"`
}

type startIn struct {
	Class    intensity.Class `json:"class"`
	Sessions int             `json:"sessions"`
	Minutes  int             `json:"minutes"`
	Behind   int             `json:"behind,omitempty"`   // weeks of the programme that are over
	InPhase  int             `json:"in_phase,omitempty"` // of these at this class
}

type planOut struct {
	Weeks    []planWeek    `json:"weeks"`
	Reached  int           `json:"reached"` // first week that reaches the goal; 0 if none does
	Notes    []planNote    `json:"notes"`
	Warnings []planWarning `json:"warnings"`
	Rule     string        `json:"rule"`
	Sources  []string      `json:"sources"`
}

type planWeek struct {
	Week               int            `json:"week"`
	Sessions           int            `json:"sessions"`
	MinutesPerSession  int            `json:"minutes_per_session"`
	Light              int            `json:"light"`
	Moderate           int            `json:"moderate"`
	Vigorous           int            `json:"vigorous"`
	ModerateEquivalent int            `json:"moderate_equivalent"`
	Step               plan.Component `json:"step"` // what changed since the week before
}

type planNote struct {
	Code string `json:"code"`
	Have int    `json:"have"`
	Need int    `json:"need"`
}

type planWarning struct {
	Week int `json:"week"`
	planNote
}

func calcPlan(in planIn) (planOut, error) {
	ladder, err := plan.Ladder(plan.Input{
		Start: plan.Start(in.Start), Goal: in.Goal, Weeks: in.Weeks, Ceiling: in.Ceiling, Preset: in.Preset,
	}, plan.PolicyFrom(nil))
	if err != nil {
		return planOut{}, err
	}
	out := planOut{
		Weeks: []planWeek{}, Reached: ladder.Reached, Notes: []planNote{}, Warnings: []planWarning{},
		Rule: "plan.one_part", Sources: keysOf(ladder.Sources...),
	}
	if in.Preset != "" {
		out.Rule = "plan.preset." + in.Preset
	}
	for _, w := range ladder.Weeks {
		t := w.Totals
		out.Weeks = append(out.Weeks, planWeek{
			w.Number, w.Dose.Sessions, w.Dose.Minutes, t.Light, t.Moderate, t.Vigorous, t.ModerateEquivalent, w.Step,
		})
	}
	for _, n := range ladder.Notes {
		out.Notes = append(out.Notes, planNote(n))
	}
	for _, w := range ladder.Warnings {
		out.Warnings = append(out.Warnings, planWarning{w.Week, planNote(w.Reason)})
	}
	return out, nil
}
