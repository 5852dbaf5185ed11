package main

import (
	"strings"

	"brae/domain/fitness"
)

func init() {
	calculations["fitness"] = calculation{
		example: `{"test":"rockport_walk","age":30,"sex":"female","weight_kg":68.04,"minutes":15.2,"hr":128}`,
		codes:   testCodes,
		answer:  answering(calcFitness, "test"),
	}
}

func testCodes() []code {
	var codes []code
	for _, t := range fitness.Tests() {
		says := t.Name + "; needs " + strings.Join(t.Needs, ", ")
		if len(t.May) > 0 {
			says += "; may have " + strings.Join(t.May, ", ")
		}
		codes = append(codes, code{Key: "test", Code: string(t.ID), Says: says})
	}
	for _, f := range fitness.Flags() {
		codes = append(codes, code{Key: "flags", Code: string(f), Says: f.Says()})
	}
	return codes
}

type fitnessOut struct {
	VO2max     *float64       `json:"vo2max,omitempty"`
	Predicted  *float64       `json:"predicted_m,omitempty"`
	Lower      *float64       `json:"lower_limit_m,omitempty"`
	Percent    *float64       `json:"percent_of_predicted,omitempty"`
	Band       fitness.Band   `json:"band,omitempty"`
	Usual      []int          `json:"usual,omitempty"` // of a count: from and to among people of the same age and sex
	METs       *float64       `json:"mets"`
	SEE        *float64       `json:"see"`
	Flags      []fitness.Flag `json:"flags"`
	Percentile *float64       `json:"percentile"`
	Word       fitness.Word   `json:"word,omitempty"`
	Notes      []string       `json:"notes"`
	Sources    []string       `json:"sources"`
}

func calcFitness(in fitness.Input) (fitnessOut, error) {
	r, err := fitness.Evaluate(in, fitness.PolicyFrom(nil))
	if err != nil {
		return fitnessOut{}, err
	}
	out := fitnessOut{
		VO2max: r.VO2max, Predicted: r.Predicted, Lower: r.Lower, Percent: r.Percent, Band: r.Band,
		METs: r.METs, SEE: r.SEE, Flags: append([]fitness.Flag{}, r.Flags...), Notes: []string{}, Sources: keysOf(r.Cites...),
	}
	for _, f := range r.Flags {
		out.Notes = append(out.Notes, f.Says())
	}
	if r.Norm != nil {
		out.Usual = []int{r.Norm.Low, r.Norm.High}
	}
	if r.Standing != nil {
		out.Percentile, out.Word = &r.Standing.Percentile, r.Standing.Word
		out.Sources = keysOf(append(r.Cites, citesOf(fitness.Rules, "fitness.norms", "fitness.norms.words")...)...)
	}
	return out, nil
}
