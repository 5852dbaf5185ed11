package triage

import (
	"cmp"
	"slices"

	"brae/domain/clearance"
)

// Table is what every report, and every two together, come to for one client, so
// that a phone without a connection can say at once what [Assess] would. It holds
// no rule of its own: each entry is an answer of Assess.
type Table struct {
	Reports  []Report  // in the order of the rows
	Outcomes []Outcome // the different answers
	// Pairs holds the outcome of each report alone and of each two, as a number
	// into Outcomes: that of Reports[i] and Reports[j], i <= j, stands at
	// j*(j+1)/2 + i. A report with itself is that report alone.
	Pairs []int
}

// Outcome is what a client is told, and how urgent it is.
type Outcome struct {
	Level Level
	Hold  clearance.Scope
	Tell  []Line
}

// NewTable asks [Assess] about every report and every two, for a client of whom
// this is known and who reported that earlier. A phone cannot tell whether a session
// went over the heart-rate ceiling, in bpm and zero for none: where there is one, the
// table takes it that it just did, so usual angina is never called within its limit.
// It returns an error for a flag that does not exist.
func NewTable(known []Flag, earlier []Earlier, ceiling int, p Policy) (Table, error) {
	var t Table
	for _, c := range Codes() {
		t.Reports = append(t.Reports, c.Report)
	}
	var numbers Numbers
	if ceiling > 0 {
		numbers = Numbers{CeilingHR: ceiling, PeakHR: ceiling + 1}
	}
	for j := range t.Reports {
		for i := range j + 1 {
			in := Input{Reports: []Report{t.Reports[i]}, Known: known, Earlier: earlier, Numbers: numbers}
			if i < j {
				in.Reports = append(in.Reports, t.Reports[j])
			}
			a, err := Assess(in, p)
			if err != nil {
				return Table{}, err
			}
			t.Pairs = append(t.Pairs, t.number(Outcome{a.Level, a.Hold, a.Tell}))
		}
	}
	return t, nil
}

// number returns where an outcome stands, which is added if it is new.
func (t *Table) number(o Outcome) int {
	same := func(known Outcome) bool {
		return known.Level == o.Level && known.Hold == o.Hold && slices.Equal(known.Tell, o.Tell)
	}
	if i := slices.IndexFunc(t.Outcomes, same); i >= 0 {
		return i
	}
	t.Outcomes = append(t.Outcomes, o)
	return len(t.Outcomes) - 1
}

// Look finds what reports come to, as a phone does: the worst of every two of
// them, with all that is said at that level. For one report or two it is the
// answer of [Assess]; for more it is never lower than that of any two of them. A
// report that does not exist counts as [Other]; without any report it is fine.
func (t Table) Look(reports []Report) Outcome {
	var places []int
	for _, r := range reports {
		i := slices.Index(t.Reports, r)
		if i < 0 {
			i = slices.Index(t.Reports, Other)
		}
		places = append(places, i)
	}
	slices.Sort(places)
	places = slices.Compact(places)
	var worst Outcome
	for n, j := range places {
		for m, i := range places[:n+1] {
			if m == n && len(places) > 1 {
				continue // alone only where nothing is beside it
			}
			o := t.Outcomes[t.Pairs[j*(j+1)/2+i]]
			switch cmp.Or(cmp.Compare(o.Level, worst.Level), cmp.Compare(o.Hold, worst.Hold)) {
			case 1:
				worst = Outcome{o.Level, o.Hold, slices.Clone(o.Tell)}
			case 0:
				worst.Tell = dropRepeats(append(worst.Tell, o.Tell...))
			}
		}
	}
	return worst
}
