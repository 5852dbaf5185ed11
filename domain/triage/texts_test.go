package triage_test

import (
	"slices"
	"strings"
	"testing"

	"brae/domain/triage"
)

// Everything that is told for one report or two, for whoever it is, stands in the
// list of texts.
func TestTextsAreAll(t *testing.T) {
	texts := triage.Texts()
	policy := triage.PolicyFrom(nil)
	look := func(in triage.Input) {
		a, err := triage.Assess(in, policy)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range a.Tell {
			if !slices.Contains(texts, l.Text) {
				t.Errorf("%v: %q is told and not listed", in.Reports, l.Text)
			}
		}
		for _, q := range a.Questions {
			if !slices.Contains(texts, q.Asks) {
				t.Errorf("%v: %q is asked and not listed", in.Reports, q.Asks)
			}
		}
	}
	known := []triage.Flag{triage.StableAngina, triage.LungExpected, triage.BenignPalpitations, triage.LegPainExpected, triage.Diabetes, triage.Pregnant, triage.OnPressureMedicine}
	for _, a := range triage.Codes() {
		for _, b := range triage.Codes() {
			look(triage.Input{Reports: []triage.Report{a.Report, b.Report}})
		}
		for _, f := range known {
			look(triage.Input{Reports: []triage.Report{a.Report}, Known: []triage.Flag{f}, Text: "chest faint stroke hypo"})
		}
	}
	for _, text := range texts {
		if strings.Contains(text, "%!") {
			t.Errorf("%q is badly made", text)
		}
	}
}
