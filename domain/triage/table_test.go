package triage_test

import (
	"fmt"
	"slices"
	"testing"

	"brae/domain/triage"

	"pgregory.net/rapid"
)

// knownSets are the clients for whom the table is compared: with nothing known,
// with each flag alone, and with flags that people have together.
func knownSets() [][]triage.Flag {
	sets := [][]triage.Flag{nil}
	for _, f := range triage.Flags() {
		sets = append(sets, []triage.Flag{f.Flag})
	}
	return append(sets,
		[]triage.Flag{triage.Cardiac, triage.StableAngina, triage.OnAnticoagulant, triage.OnPressureMedicine, triage.RateSlowed},
		[]triage.Flag{triage.Diabetes, triage.LegArteryDisease, triage.LegPainExpected},
		[]triage.Flag{triage.HeartFailure, triage.LungExpected, triage.OnAnticoagulant},
	)
}

// A phone says what the rules say: of every report alone and of every two.
func TestTableIsAssess(t *testing.T) {
	p := triage.PolicyFrom(nil)
	earlier := [][]triage.Earlier{nil, {{Rule: "T06", Level: triage.Note, DaysAgo: 1}, {Rule: "T06", Level: triage.Note, DaysAgo: 3}, {Rule: "T23", Level: triage.Note}}}
	differ := map[string]bool{}
	for _, known := range knownSets() {
		for _, before := range earlier {
			table, err := triage.NewTable(known, before, 0, p)
			if err != nil {
				t.Fatal(err)
			}
			codes := triage.Codes()
			for i, a := range codes {
				for _, b := range codes[i:] { // in the order of the form, which is that of the rows
					reports := []triage.Report{a.Report, b.Report}
					if a == b {
						reports = reports[:1]
					}
					want, err := triage.Assess(triage.Input{Reports: reports, Known: known, Earlier: before}, p)
					if err != nil {
						t.Fatal(err)
					}
					got := table.Look(reports)
					if got.Level != want.Level || got.Hold != want.Hold || !slices.Equal(got.Tell, want.Tell) {
						t.Errorf("%v knowing %v: %s, %s, %v; Assess says %s, %s, %v", reports, known,
							got.Level, got.Hold, got.Tell, want.Level, want.Hold, want.Tell)
					}
					if a == b {
						differ[fmt.Sprint(a.Report, want.Level)] = true
					}
				}
			}
		}
	}
	if len(differ) <= len(triage.Codes()) {
		t.Error("no flag and nothing earlier changed a level: the comparison compares nothing")
	}
}

// What is known about a person raises levels on the phone, too.
//
// Practice rule T33: a fall counts for more on a medicine against clotting.
func TestTableOfPerson(t *testing.T) {
	p := triage.PolicyFrom(nil)
	with, err := triage.NewTable([]triage.Flag{triage.OnAnticoagulant}, nil, 0, p)
	if err != nil {
		t.Fatal(err)
	}
	without, err := triage.NewTable(nil, nil, 0, p)
	if err != nil {
		t.Fatal(err)
	}
	fall := []triage.Report{"fall_no_injury"}
	if a, b := without.Look(fall).Level, with.Look(fall).Level; a != triage.Note || b != triage.Emergency {
		t.Errorf("a fall without an injury is %s, on an anticoagulant %s; want note and emergency", a, b)
	}
	if o := with.Look(nil); o.Level != triage.Fine || o.Tell != nil {
		t.Errorf("no report comes to %v", o)
	}
	if got, want := with.Look([]triage.Report{"nonsense"}).Level, with.Look([]triage.Report{triage.Other}).Level; got != want {
		t.Errorf("a report that does not exist is %s, not %s as other", got, want)
	}
	if _, err := triage.NewTable([]triage.Flag{"nonsense"}, nil, 0, p); err == nil {
		t.Error("a flag that does not exist makes a table")
	}
}

// A phone cannot tell whether usual angina came above the heart-rate ceiling, so it
// answers as if it had, and as Assess does with such a heart rate.
//
// Practice rule T02: usual angina is within its limit up to the ceiling.
func TestTableUnderCeiling(t *testing.T) {
	p := triage.PolicyFrom(nil)
	known := []triage.Flag{triage.Cardiac, triage.StableAngina}
	for _, tt := range []struct {
		ceiling int
		want    triage.Level
	}{{0, triage.Note}, {118, triage.Stop}} {
		table, err := triage.NewTable(known, nil, tt.ceiling, p)
		if err != nil {
			t.Fatal(err)
		}
		reports := []triage.Report{"chest_pressure_usual"}
		if got := table.Look(reports); got.Level != tt.want {
			t.Errorf("usual angina under a ceiling of %d is %s; want %s", tt.ceiling, got.Level, tt.want)
		}
		if tt.ceiling == 0 {
			continue
		}
		want, err := triage.Assess(triage.Input{Reports: reports, Known: known, Numbers: triage.Numbers{CeilingHR: tt.ceiling, PeakHR: tt.ceiling + 1}}, p)
		if err != nil {
			t.Fatal(err)
		}
		if got := table.Look(reports); got.Hold != want.Hold || !slices.Equal(got.Tell, want.Tell) {
			t.Errorf("under a ceiling: %s, %v; Assess says %s, %v", got.Hold, got.Tell, want.Hold, want.Tell)
		}
		if got := table.Look([]triage.Report{"foot_wound"}); got.Level != triage.Note {
			t.Errorf("a wound on the foot is %s because of a ceiling", got.Level)
		}
	}
}

// With more than two reports the phone is as careful as the rules, and leaves
// out nothing that an emergency has to say.
func TestTableOfMany(t *testing.T) {
	p := triage.PolicyFrom(nil)
	rapid.Check(t, func(t *rapid.T) {
		known, reports := drawKnown(t), drawReports(t, 3, 6)
		table, err := triage.NewTable(known, nil, 0, p)
		if err != nil {
			t.Fatal(err)
		}
		want, err := triage.Assess(triage.Input{Reports: reports, Known: known}, p)
		if err != nil {
			t.Fatal(err)
		}
		got := table.Look(reports)
		if got.Level != want.Level {
			t.Fatalf("%v knowing %v: %s on the phone, %s by the rules", reports, known, got.Level, want.Level)
		}
		for _, line := range want.Tell {
			if want.Level == triage.Emergency && !slices.Contains(got.Tell, line) {
				t.Fatalf("%v knowing %v: the phone leaves out %q", reports, known, line.Text)
			}
		}
	})
}
