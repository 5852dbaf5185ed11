package main

import "brae/domain/fitness"

func init() {
	calculations["energy"] = calculation{
		example: `{"mode":"walk","speed_m_min":93.8,"grade":0.1,"weight_kg":70}`,
		codes:   modeCodes,
		answer:  answering(calcEnergy, "mode"),
	}
}

func modeCodes() []code {
	var codes []code
	for _, m := range fitness.Modes() {
		for _, r := range fitness.Rules {
			if r.ID == "fitness.energy."+string(m) {
				codes = append(codes, code{Key: "mode", Code: string(m), Row: r.ID, Says: r.Says})
			}
		}
	}
	return codes
}

type energyOut struct {
	VO2        float64       `json:"vo2"`
	METs       float64       `json:"mets"`
	Litres     *float64      `json:"litres_min"`
	KcalMin    *float64      `json:"kcal_min"`
	KcalMinNet *float64      `json:"kcal_min_net"`
	Range      fitness.Range `json:"range"`
	Spread     float64       `json:"spread"` // how far people differ, as a share
	Rule       string        `json:"rule"`
	Sources    []string      `json:"sources"`
}

func calcEnergy(in fitness.Work) (energyOut, error) {
	c, err := fitness.CostOf(in, fitness.PolicyFrom(nil))
	if err != nil {
		return energyOut{}, err
	}
	rule := "fitness.energy." + string(in.Mode)
	return energyOut{
		VO2: c.VO2, METs: c.METs, Litres: c.Litres, KcalMin: c.KcalMin, KcalMinNet: c.KcalMinNet, Range: c.Range,
		Spread: fitness.Spread, Rule: rule, Sources: keysOf(citesOf(fitness.Rules, rule, "fitness.energy.units", "fitness.energy.conditions")...),
	}, nil
}
