package heartrate_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/heartrate"
)

// disease equations are checked with the people that they were made on.
const (
	coronary      = heartrate.Coronary
	onBetaBlocker = heartrate.BetaBlocker
	failing       = heartrate.HeartFailure
)

func TestMaximum(t *testing.T) {
	for _, tt := range []struct {
		source string
		eq     heartrate.Equation
		in     heartrate.EquationInput
		want   string // exact
	}{
		{"CDC, target heart rate, example of 50 years", heartrate.Fox1971, heartrate.EquationInput{Age: 50}, "170"},
		{"CDC, target heart rate, example of 35 years", heartrate.Fox1971, heartrate.EquationInput{Age: 35}, "185"},
		{"news release of the authors' university on Gulati 2010, woman of 50", heartrate.Gulati2010,
			heartrate.EquationInput{Age: 50, Sex: heartrate.Female}, "162"},
		{"Blitzer, Introductory Algebra, 7th ed., 1.2: at 20", heartrate.Fox1971, heartrate.EquationInput{Age: 20}, "200"},
		{"University of Arizona BioMath, problem 4: at 33", heartrate.Fox1971, heartrate.EquationInput{Age: 33}, "187"},
		{"Tanaka 2001 and Fox cross at 40", heartrate.Fox1971, heartrate.EquationInput{Age: 40}, "180"},
		{"Tanaka 2001 and Fox cross at 40, the other side", heartrate.Tanaka2001, heartrate.EquationInput{Age: 40}, "180"},

		{"Gellish 2007, equation at 20", heartrate.Gellish2007, heartrate.EquationInput{Age: 20}, "193"},
		{"Gellish 2007, equation at 40", heartrate.Gellish2007, heartrate.EquationInput{Age: 40}, "179"},
		{"Gellish 2007, equation at 45 keeps its half", heartrate.Gellish2007, heartrate.EquationInput{Age: 45}, "175.5"},
		{"Gellish 2007, no effect of sex", heartrate.Gellish2007, heartrate.EquationInput{Age: 60, Sex: heartrate.Male}, "165"},
		{"Keteyian 2012, lowest resting rate that is taken", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 60, RestingHR: 1, Mode: heartrate.Treadmill, Conditions: failing | onBetaBlocker}, "89.5"},
		{"Keteyian 2012, highest resting rate that is taken", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 60, RestingHR: 400, Mode: heartrate.Treadmill, Conditions: failing | onBetaBlocker}, "289"},
		{"Gellish 2007, equation at 60", heartrate.Gellish2007, heartrate.EquationInput{Age: 60}, "165"},
		{"Gellish 2007, equation at 80", heartrate.Gellish2007, heartrate.EquationInput{Age: 80}, "151"},
		{"Jackson 2007, unrounded form at 60", heartrate.Gellish2007Unrounded, heartrate.EquationInput{Age: 60}, "166.7"},
		{"Jackson 2007, unrounded form at 33", heartrate.Gellish2007Unrounded, heartrate.EquationInput{Age: 33}, "184.79"},
		{"Tanaka 2001, equation at 20", heartrate.Tanaka2001, heartrate.EquationInput{Age: 20}, "194"},
		{"Tanaka 2001, equation at 60", heartrate.Tanaka2001, heartrate.EquationInput{Age: 60}, "166"},
		{"Tanaka 2001, equation at 80", heartrate.Tanaka2001, heartrate.EquationInput{Age: 80}, "152"},
		{"Nes 2013, equation at 20", heartrate.Nes2013, heartrate.EquationInput{Age: 20}, "198.2"},
		{"Nes 2013, equation at 40", heartrate.Nes2013, heartrate.EquationInput{Age: 40}, "185.4"},
		{"Nes 2013, equation at 60", heartrate.Nes2013, heartrate.EquationInput{Age: 60}, "172.6"},
		{"Nes 2013, equation at 80", heartrate.Nes2013, heartrate.EquationInput{Age: 80}, "159.8"},
		{"Gulati 2010, equation at 60", heartrate.Gulati2010, heartrate.EquationInput{Age: 60, Sex: heartrate.Female}, "153.2"},
		{"Astrand (from memory), equation at 30", heartrate.Astrand, heartrate.EquationInput{Age: 30}, "191.4"},
		{"Inbar 1994, equation at 47, exact in thousandths", heartrate.Inbar1994, heartrate.EquationInput{Age: 47}, "173.605"},
		{"Sydo 2014, men at 60", heartrate.Sydo2014, heartrate.EquationInput{Age: 60, Sex: heartrate.Male}, "163"},
		{"Sydo 2014, women at 60", heartrate.Sydo2014, heartrate.EquationInput{Age: 60, Sex: heartrate.Female}, "162.6"},

		{"Brawner 2004, equation at 40", heartrate.Brawner2004, heartrate.EquationInput{Age: 40, Conditions: coronary | onBetaBlocker}, "136"},
		{"Brawner 2004, equation at 60", heartrate.Brawner2004, heartrate.EquationInput{Age: 60, Conditions: coronary | onBetaBlocker}, "122"},
		{"Brawner 2004, equation at 80", heartrate.Brawner2004, heartrate.EquationInput{Age: 80, Conditions: coronary | onBetaBlocker}, "108"},
		{"Keteyian 2023: mean of the disease equations 123 at a mean age of 59", heartrate.Brawner2004,
			heartrate.EquationInput{Age: 59, Conditions: coronary | onBetaBlocker}, "122.7"},
		{"abstract on resting + 20: no beta-blocker, at 60", heartrate.BrawnerNoBetaBlocker, heartrate.EquationInput{Age: 60, Conditions: coronary}, "144.8"},
		{"Keteyian 2012, treadmill, 60 years, resting 70", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 60, RestingHR: 70, Mode: heartrate.Treadmill, Conditions: failing | onBetaBlocker}, "124"},
		{"Keteyian 2012, cycle, 60 years, resting 70", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 60, RestingHR: 70, Mode: heartrate.Cycle, Conditions: failing | onBetaBlocker}, "119"},
		{"Keteyian 2012 keeps the half at 61", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 61, RestingHR: 70, Mode: heartrate.Treadmill, Conditions: failing | onBetaBlocker}, "123.5"},
		{"edge: the ages of Brawner 2004 include 40 and 80; 18 is adult", heartrate.Gellish2007, heartrate.EquationInput{Age: 18}, "194.4"},
		{"edge: 110 is the oldest", heartrate.Gellish2007, heartrate.EquationInput{Age: 110}, "130"},
		{"edge: Sydo 2014 from 40", heartrate.Sydo2014, heartrate.EquationInput{Age: 40, Sex: heartrate.Male}, "182"},
		{"edge: Sydo 2014 to 89", heartrate.Sydo2014, heartrate.EquationInput{Age: 89, Sex: heartrate.Female}, "139.69"},
		{"edge: Astrand to 34", heartrate.Astrand, heartrate.EquationInput{Age: 34}, "188.04"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.Maximum(tt.eq, tt.in)
			if err != nil || got.String() != tt.want {
				t.Errorf("Maximum(%s, %+v) = %s, %v; want %s", tt.eq, tt.in, got, err, tt.want)
			}
		})
	}
}

// A page for fitness testing prints both equations for every age, cut to whole
// beats.
func TestMaximumPrintedTable(t *testing.T) {
	const first = 20
	fox := strings.Fields(`200 199 198 197 196 195 194 193 192 191 190 189 188 187 186 185 184 183 182 181 180 179 178 177 176 175 174
		173 172 171 170 169 168 167 166 165 164 163 162 161 160 159 158 157 156 155 154 153 152 151 150 149 148 147 146 145 144 143 142
		141 140`)
	tanaka := strings.Fields(`194 193 192 191 191 190 189 189 188 187 187 186 185 184 184 183 182 182 181 180 180 179 178 177 177 176 175
		175 174 173 173 172 171 170 170 169 168 168 167 166 166 165 164 163 163 162 161 161 160 159 159 158 157 156 156 155 154 154 153
		152 152`)
	if len(fox) != 61 || len(tanaka) != 61 {
		t.Fatalf("%d and %d values, want 61 each", len(fox), len(tanaka))
	}
	for i := range fox {
		for eq, column := range map[heartrate.Equation][]string{heartrate.Fox1971: fox, heartrate.Tanaka2001: tanaka} {
			got, err := heartrate.Maximum(eq, heartrate.EquationInput{Age: first + i})
			want, _ := strconv.Atoi(column[i])
			if err != nil || got.Floor() != heartrate.BPM(want) {
				t.Errorf("%s at %d: %s, %v; the table prints %d", eq, first+i, got, err, want)
			}
		}
	}
}

func TestMaximumRefuses(t *testing.T) {
	for _, tt := range []struct {
		source     string
		eq         heartrate.Equation
		in         heartrate.EquationInput
		field      string
		population bool
	}{
		{"Mahon 2010: not for children", heartrate.Fox1971, heartrate.EquationInput{Age: 17}, "age", false},
		{"practice setting: oldest age", heartrate.Fox1971, heartrate.EquationInput{Age: 111}, "age", false},
		{"not an equation", "fox1970", heartrate.EquationInput{Age: 50}, "equation", false},
		{"Gulati 2010: the sex must be known", heartrate.Gulati2010, heartrate.EquationInput{Age: 50}, "sex", false},
		{"Gulati 2010: women only", heartrate.Gulati2010, heartrate.EquationInput{Age: 50, Sex: heartrate.Male}, "equation", true},
		{"Sydo 2014: the sex must be known", heartrate.Sydo2014, heartrate.EquationInput{Age: 50, Sex: "other"}, "sex", false},
		{"Sydo 2014: from 40", heartrate.Sydo2014, heartrate.EquationInput{Age: 39, Sex: heartrate.Male}, "equation", true},
		{"Sydo 2014: to 89", heartrate.Sydo2014, heartrate.EquationInput{Age: 90, Sex: heartrate.Male}, "equation", true},
		{"Astrand: to 34", heartrate.Astrand, heartrate.EquationInput{Age: 35}, "equation", true},
		{"Brawner 2004: from 40", heartrate.Brawner2004, heartrate.EquationInput{Age: 39, Conditions: coronary | onBetaBlocker}, "equation", true},
		{"Brawner 2004: to 80", heartrate.Brawner2004, heartrate.EquationInput{Age: 81, Conditions: coronary | onBetaBlocker}, "equation", true},
		{"Brawner 2004: coronary disease", heartrate.Brawner2004, heartrate.EquationInput{Age: 60, Conditions: onBetaBlocker}, "equation", true},
		{"Brawner 2004: beta-blocker", heartrate.Brawner2004, heartrate.EquationInput{Age: 60, Conditions: coronary}, "equation", true},
		{"Brawner 2004: sinus rhythm", heartrate.Brawner2004,
			heartrate.EquationInput{Age: 60, Conditions: coronary | onBetaBlocker | heartrate.Fibrillation}, "equation", true},
		{"Brawner 2004: preserved pumping", heartrate.Brawner2004,
			heartrate.EquationInput{Age: 60, Conditions: coronary | onBetaBlocker | failing}, "equation", true},
		{"abstract on resting + 20: no beta-blocker", heartrate.BrawnerNoBetaBlocker,
			heartrate.EquationInput{Age: 60, Conditions: coronary | onBetaBlocker}, "equation", true},
		{"abstract on resting + 20: no heart failure", heartrate.BrawnerNoBetaBlocker,
			heartrate.EquationInput{Age: 60, Conditions: coronary | failing}, "equation", true},
		{"Keteyian 2012: a resting rate beyond reason", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 60, RestingHR: 401, Mode: heartrate.Cycle, Conditions: failing | onBetaBlocker}, "resting_hr", false},
		{"abstract on resting + 20: coronary disease", heartrate.BrawnerNoBetaBlocker, heartrate.EquationInput{Age: 60}, "equation", true},
		{"Keteyian 2012: resting heart rate", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 60, Mode: heartrate.Cycle, Conditions: failing | onBetaBlocker}, "resting_hr", false},
		{"Keteyian 2012: treadmill or cycle", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 60, RestingHR: 70, Conditions: failing | onBetaBlocker}, "mode", false},
		{"Keteyian 2012: heart failure", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 60, RestingHR: 70, Mode: heartrate.Cycle, Conditions: onBetaBlocker}, "equation", true},
		{"Keteyian 2012: beta-blocker", heartrate.Keteyian2012,
			heartrate.EquationInput{Age: 60, RestingHR: 70, Mode: heartrate.Cycle, Conditions: failing}, "equation", true},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.Maximum(tt.eq, tt.in)
			p, isProblems := errors.AsType[domain.Problems](err)
			if !isProblems || p[tt.field] == "" || len(p) != 1 || got != 0 {
				t.Errorf("Maximum(%s, %+v) = %s, %v; want a problem of %s", tt.eq, tt.in, got, err, tt.field)
			}
			if pe, ok := errors.AsType[*heartrate.PopulationError](err); ok && pe.Error() != string(tt.eq)+": "+p["equation"] {
				t.Errorf("PopulationError.Error() = %q", pe.Error())
			}
			if _, ok := errors.AsType[*heartrate.PopulationError](err); ok != tt.population {
				t.Errorf("Maximum(%s, %+v): %v; population error = %t, want %t", tt.eq, tt.in, err, ok, tt.population)
			}
		})
	}
}

func TestEquations(t *testing.T) {
	all := heartrate.Equations()
	if len(all) != 12 || all[0].ID != heartrate.Gellish2007 {
		t.Fatalf("%d equations, the first %s; want 12 and the default first", len(all), all[0].ID)
	}
	errorOf := map[heartrate.Equation]heartrate.BPM{
		heartrate.Brawner2004: 18, heartrate.BrawnerNoBetaBlocker: 18, heartrate.Keteyian2012: 18,
	}
	ages := map[heartrate.Equation][2]int{ // where it is held to those it was made on
		heartrate.Sydo2014: {40, 89}, heartrate.Astrand: {18, 34}, heartrate.Brawner2004: {40, 80},
	}
	for _, e := range all {
		age, held := ages[e.ID]
		if !held {
			age = [2]int{18, 110}
		}
		if got := [2]int{e.MinAge, e.MaxAge}; got != age {
			t.Errorf("%s: ages %v; want %v", e.ID, got, age)
		}
		want := errorOf[e.ID]
		if e.Disease != (want != 0) {
			t.Errorf("%s: disease = %t", e.ID, e.Disease)
		}
		if want == 0 {
			want = 11 // one standard error, 10.8 (Nes 2013) to 12.4 (Sarzynski 2013)
		}
		if e.Error != want || e.Version != 1 || e.Population == "" || e.Choice == "" || e.Formula == "" {
			t.Errorf("%s: incomplete or wrong: %+v", e.ID, e)
		}
		if got, ok := e.ID.Info(); !ok || got.ID != e.ID {
			t.Errorf("%s.Info() = %s, %t", e.ID, got.ID, ok)
		}
	}
	if _, ok := heartrate.Equation("none").Info(); ok {
		t.Error("Info of an unknown equation: found")
	}
}

// Equations made in sinus rhythm are refused to every heart whose rate is not its
// own.
func TestDiseaseEquationsNeedTheHeartsOwnRate(t *testing.T) {
	for eq, c := range map[heartrate.Equation]heartrate.Condition{
		heartrate.Brawner2004: coronary | onBetaBlocker, heartrate.BrawnerNoBetaBlocker: coronary, heartrate.Keteyian2012: failing | onBetaBlocker,
	} {
		in := heartrate.EquationInput{Age: 60, RestingHR: 70, Mode: heartrate.Treadmill, Conditions: c}
		if _, err := heartrate.Maximum(eq, in); err != nil {
			t.Errorf("%s: %v", eq, err)
		}
		for _, other := range []heartrate.Condition{
			heartrate.Transplant, heartrate.Pacemaker, heartrate.PacemakerFixed, heartrate.PacemakerResponsive,
			heartrate.Fibrillation, heartrate.IrregularPulse, heartrate.FibrillationAtTimes,
		} {
			in.Conditions = c | other
			if _, err := heartrate.Maximum(eq, in); err == nil {
				t.Errorf("%s with %s: no error", eq, other)
			}
		}
	}
}
