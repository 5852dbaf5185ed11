// Package caution says what to mind with a condition that is present, beside what
// the screening allows. It changes no decision, gives no advice on medicines, and
// knows nothing about a client but what it is given.
package caution

import (
	"slices"

	"brae/domain/medicine"
	"brae/domain/source"
)

// Caution is one thing to mind.
type Caution struct {
	Code  string // stable: caution.diabetes_late_low
	About string // the condition, as a heading
	Says  string
	Cites []source.Key
}

// With is what is known of a client.
type With struct {
	Yes    func(code string) bool // a question is answered with yes or not sure
	Zones  medicine.Zones         // of all medicines
	Taking func(medicine.Class) bool
	Age    int // completed years
	Falls  int // in the last twelve months
	Dizzy  bool

	ManyFalls int // so many falls in a year are many, by the practice's setting
	OlderFrom int // the age from which balance is minded, [OlderFrom] of the practice
}

var settingOlder = source.Setting{
	Key: "caution.older_from", Topic: source.TopicCaution, Says: "From this age balance work and falls are cautioned about.",
	Unit: "years", Default: 65, Low: 50, High: 80, Cites: []source.Key{"practice", "shubert2011"},
}

// Settings are the numbers here that a practice may change.
var Settings = []source.Setting{settingOlder}

// OlderFrom returns the age, in years, from which balance is minded.
//
// Practice rule: practice.
func OlderFrom(v source.Values) int { return v.Of(settingOlder) }

// row is a caution with when it applies.
type row struct {
	Caution
	when func(With) bool
}

// yes makes a condition of codes of which one is answered with yes.
func yes(codes ...string) func(With) bool {
	return func(w With) bool { return slices.ContainsFunc(codes, w.Yes) }
}

// For returns the cautions for what is present, in a fixed order.
//
// Source: ada2016, diabetes_tables, pescatello2004, howden2015, acog804, pad_top_ten, lung_rehab_toolkit, joint_pain_programme, shubert2011, billinger2014, caution_memory.
func For(w With) []Caution {
	var list []Caution
	for _, r := range rows {
		if r.when(w) {
			list = append(list, r.Caution)
		}
	}
	return list
}

// Rules are the cautions, told in a sentence each.
var Rules = func() []source.Rule {
	rules := make([]source.Rule, len(rows))
	for i, r := range rows {
		rules[i] = source.Rule{ID: r.Code, Topic: source.TopicCaution, Says: r.About + ": " + r.Says, Cites: r.Cites}
	}
	return rules
}()

func c(code, about, says string, when func(With) bool, cites ...source.Key) row {
	return row{Caution{"caution." + code, about, says, cites}, when}
}

var (
	diabetes = yes("diabetes_type_1", "diabetes_type_2", "diabetes_other", "diabetes_in_remission")
	lung     = yes("copd", "lung_disease_other")
	brain    = yes("stroke", "tia")
)
