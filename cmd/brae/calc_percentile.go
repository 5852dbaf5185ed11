package main

import "brae/domain/fitness"

func init() {
	calculations["percentile"] = calculation{
		example: `{"age":45,"sex":"male","vo2max":34.8,"mode":"treadmill"}`,
		codes:   normCodes,
		answer:  answering(calcPercentile),
	}
}

func normCodes() []code {
	return []code{
		{Key: "sex", Code: string(fitness.Female), Says: "The norms of women"},
		{Key: "sex", Code: string(fitness.Male), Says: "The norms of men"},
		{Key: "mode", Code: string(fitness.Treadmill), Row: "fitness.norms", Says: "Tests on foot, and estimates; taken if nothing is given"},
		{Key: "mode", Code: string(fitness.Cycle), Row: "fitness.norms", Says: "Tests on a cycle"},
	}
}

type percentileIn struct {
	Age    int              `json:"age"`
	Sex    fitness.Sex      `json:"sex"`
	VO2max float64          `json:"vo2max"`
	Mode   fitness.NormMode `json:"mode,omitempty"`
}

type percentileOut struct {
	Percentile float64      `json:"percentile"`
	Word       fitness.Word `json:"word"`
	Rule       string       `json:"rule"`
	Sources    []string     `json:"sources"`
}

func calcPercentile(in percentileIn) (percentileOut, error) {
	s, err := fitness.PercentileOf(in.Age, in.Sex, in.VO2max, in.Mode)
	if err != nil {
		return percentileOut{}, err
	}
	return percentileOut{s.Percentile, s.Word, "fitness.norms", keysOf(citesOf(fitness.Rules, "fitness.norms", "fitness.norms.words")...)}, nil
}
