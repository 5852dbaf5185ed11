package heartrate_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
)

const pc = intensity.OnePercent

func fox(age int) heartrate.Milli { return heartrate.Milli(220-age) * 1000 }

// The tables of 220 - age print a low and a high target of each age.
func TestPercentOfMaximumTables(t *testing.T) {
	type row struct{ age, low, high int }
	for _, table := range []struct {
		source    string
		low, high intensity.Percent
		rows      []row
	}{
		{"AHA, target heart rates by age", 50 * pc, 85 * pc, []row{
			{20, 100, 170}, {30, 95, 162}, {35, 93, 157}, {40, 90, 153}, {45, 88, 149},
			{50, 85, 145}, {55, 83, 140}, {60, 80, 136}, {65, 78, 132}, {70, 75, 128},
		}},
		{"table citing CDC and AHA, moderate", 64 * pc, 76 * pc, []row{
			{20, 128, 152}, {25, 125, 148}, {30, 122, 144}, {35, 118, 141}, {40, 115, 137}, {45, 112, 133},
			{50, 109, 129}, {55, 106, 125}, {60, 102, 122}, {65, 99, 118}, {70, 96, 114}, {75, 93, 110},
		}},
		{"table citing CDC and AHA, vigorous", 77 * pc, 93 * pc, []row{
			{20, 154, 186}, {25, 150, 181}, {30, 146, 177}, {35, 142, 172}, {40, 139, 167}, {45, 135, 163},
			{50, 131, 158}, {55, 127, 153}, {60, 123, 149}, {65, 119, 144}, {70, 116, 140}, {75, 112, 135},
		}},
		{"CDC, present text, 50 years", 64 * pc, 76 * pc, []row{{50, 109, 129}}},
		{"CDC, present text, 35 years", 77 * pc, 93 * pc, []row{{35, 142, 172}}},
		{"CDC, older text, 50 years", 50 * pc, 70 * pc, []row{{50, 85, 119}}},
		{"CDC, older text, 35 years", 70 * pc, 85 * pc, []row{{35, 130, 157}}},
		{"Blitzer, College Algebra, 6th ed., P.1 exercise 129", 70 * pc, 80 * pc, []row{{20, 140, 160}}},
		{"Blitzer, Introductory Algebra, 7th ed., 1.2 exercise 128: seven eighths", 8750, 8750, []row{{20, 175, 175}}},
		{"ORCCA, Portland Community College, problem at 20 (answer by arithmetic)", 50 * pc, 50 * pc, []row{{20, 100, 100}}},
		{"ORCCA, Portland Community College, problem at 70 (answer by arithmetic)", 60 * pc, 60 * pc, []row{{70, 90, 90}}},
		{"California State University Long Beach, target heart rate sheet", 65 * pc, 90 * pc, []row{{20, 130, 180}}},
	} {
		for _, r := range table.rows {
			t.Run(fmt.Sprintf("%s/%d years", table.source, r.age), func(t *testing.T) {
				low, err := heartrate.PercentOfMaximum(fox(r.age), table.low)
				if err != nil || low.Nearest() != heartrate.BPM(r.low) {
					t.Errorf("low %s %% = %s, %v; want %d", table.low, low, err, r.low)
				}
				high, err := heartrate.PercentOfMaximum(fox(r.age), table.high)
				if err != nil || high.Nearest() != heartrate.BPM(r.high) {
					t.Errorf("high %s %% = %s, %v; want %d", table.high, high, err, r.high)
				}
			})
		}
	}
}

func TestPercentOfMaximum(t *testing.T) {
	for _, tt := range []struct {
		source string
		age    int
		p      intensity.Percent
		exact  string
	}{
		{"algebra text: 15 years, 50 % (a client of 15 is refused)", 15, 50 * pc, "102.5"},
		{"algebra text: 15 years, 90 %", 15, 90 * pc, "184.5"},
		{"CDC, present text, worked: 64 % at 50", 50, 64 * pc, "108.8"},
		{"CDC, present text, worked: 76 % at 50", 50, 76 * pc, "129.2"},
		{"CDC, present text, worked: 77 % at 35", 35, 77 * pc, "142.45"},
		{"CDC, present text, worked: 93 % at 35", 35, 93 * pc, "172.05"},
		{"Garber 2011 edges diverge: 64 % of 172 lies 11 beats above 40 % of its reserve over 50", 48, 64 * pc, "110.08"},
		{"CDC, older text, 70 % at 50: exactly 119, not 118.99", 50, 70 * pc, "119"},
		{"arithmetic: 165 x 0.7 in floating point is just below a half", 55, 70 * pc, "115.5"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.PercentOfMaximum(fox(tt.age), tt.p)
			if err != nil || got.String() != tt.exact {
				t.Errorf("PercentOfMaximum(220 - %d, %s) = %s, %v; want %s", tt.age, tt.p, got, err, tt.exact)
			}
		})
	}
}

func TestTarget(t *testing.T) {
	for _, tt := range []struct {
		source  string
		max     heartrate.Milli
		rest    heartrate.BPM
		p       intensity.Percent
		exact   string
		nearest heartrate.BPM
	}{
		{"PMC8306118 table 3 footnote: measured peak 120", 120_000, 60, 40 * pc, "84", 84},
		{"University of Arizona BioMath, problem 3, man", fox(25), 70, 70 * pc, "157.5", 158},
		{"University of Arizona BioMath, problem 3, woman", fox(25), 75, 70 * pc, "159", 159},
		{"University of Arizona BioMath, problem 4", fox(33), 32, 90 * pc, "171.5", 172},
		{"Austin Community College, worksheet 4, 60 %", fox(20), 75, 60 * pc, "150", 150},
		{"Austin Community College, worksheet 4, 80 % (arithmetic)", fox(20), 75, 80 * pc, "175", 175},
		{"teaching page, 30 years, 60 %", fox(30), 58, 60 * pc, "137.2", 137},
		{"teaching page, 30 years, 65 %", fox(30), 58, 65 * pc, "143.8", 144},
		{"teaching page, 28 years, 60 %, printed unrounded", fox(28), 70, 60 * pc, "143.2", 143},
		{"teaching page, 28 years, 80 %, printed unrounded", fox(28), 70, 80 * pc, "167.6", 168},
		{"ACSM guidelines, box on reserve methods (from memory), 50 %", 180_000, 70, 50 * pc, "125", 125},
		{"ACSM guidelines, box on reserve methods (from memory), 60 %", 180_000, 70, 60 * pc, "136", 136},
		{"college health textbook, 30 years, resting 70, 40 %", fox(30), 70, 40 * pc, "118", 118},
		{"college health textbook, 30 years, resting 70, 85 %", fox(30), 70, 85 * pc, "172", 172},
		{"school worksheet, 21 years, resting 70, 50 %, printed unrounded", fox(21), 70, 50 * pc, "134.5", 135},
		{"homework answer, 40 years, resting 60, 70 %", fox(40), 60, 70 * pc, "144", 144},
		{"Karvonen 1957, formula: 70 % at 30 years, resting 70, is 154", fox(30), 70, 70 * pc, "154", 154},
		{"Karvonen 1957, formula: 85 % of 180 over 70 is 163.5", 180_000, 70, 85 * pc, "163.5", 164},
		{"Karvonen 1957, formula: nothing of the reserve", 180_000, 70, 0, "70", 70},
		{"Karvonen 1957, formula: all of the reserve", 180_000, 70, 100 * pc, "180", 180},
		{"Gellish 2007 at 45, resting 70: 40 % is 112.2", 175_500, 70, 40 * pc, "112.2", 112},
		{"Gellish 2007 at 45, resting 70: 60 % is 133.3", 175_500, 70, 60 * pc, "133.3", 133},
		{"Garber 2011 edges diverge: maximum 172, resting 50, 40 %", 172_000, 50, 40 * pc, "98.8", 99},
		{"wrong maximum: Gellish at 62, resting 58, 40 %", 163_600, 58, 40 * pc, "100.24", 100},
		{"wrong maximum: Gellish at 62, resting 58, 60 %", 163_600, 58, 60 * pc, "121.36", 121},
		{"measured peak 118, resting 58, 40 %", 118_000, 58, 40 * pc, "82", 82},
		{"measured peak 118, resting 58, 60 %", 118_000, 58, 60 * pc, "94", 94},
		{"Inbar 1994 at 47, resting 61, 33.33 %: all decimals", 173_605, 61, 3333, "98.5312465", 99},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.Target(tt.max, tt.rest, tt.p)
			if err != nil || got.String() != tt.exact || got.Nearest() != tt.nearest {
				t.Errorf("Target(%s, %d, %s) = %s, %d, %v; want %s, %d", tt.max, tt.rest, tt.p, got, got.Nearest(), err, tt.exact, tt.nearest)
			}
		})
	}
}

// What practitioners compute by hand, with a whole-beat maximum and cutting: ours
// lies within a beat.
func TestTargetCommonPractice(t *testing.T) {
	maximum, err := heartrate.Maximum(heartrate.Gellish2007, heartrate.EquationInput{Age: 33})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		source string
		p      intensity.Percent
		given  heartrate.BPM
	}{
		{"common practice: 33 years, resting 55, 30 %", 30 * pc, 93},
		{"common practice: 33 years, resting 55, 40 %", 40 * pc, 106},
		{"common practice: 33 years, resting 55, 60 %", 60 * pc, 131},
		{"common practice: 33 years, resting 55, 80 %", 80 * pc, 157},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.Target(maximum, 55, tt.p)
			if off := got.Nearest() - tt.given; err != nil || off < -1 || off > 1 {
				t.Errorf("Target(%s, 55, %s) = %s, %v; given as %d", maximum, tt.p, got, err, tt.given)
			}
		})
	}
}

func TestPercentOf(t *testing.T) {
	for _, tt := range []struct {
		source   string
		max      heartrate.Milli
		rest, hr heartrate.BPM
		percent  string
		class    intensity.Class
	}{
		{"Whitworth University: 20 years, resting 50, 150 beats is .67", 200_000, 50, 150, "66.67", intensity.Vigorous},
		{"Garber 2011 on 180/60: 95 very light", 180_000, 60, 95, "29.17", intensity.VeryLight},
		{"Garber 2011 on 180/60: 96 is 30 %, light", 180_000, 60, 96, "30", intensity.Light},
		{"Garber 2011 on 180/60: 107 light", 180_000, 60, 107, "39.17", intensity.Light},
		{"Garber 2011 on 180/60: 108 is 40 %, moderate", 180_000, 60, 108, "40", intensity.Moderate},
		{"Garber 2011 on 180/60: 131 moderate", 180_000, 60, 131, "59.17", intensity.Moderate},
		{"Garber 2011 on 180/60: 132 is 60 %, vigorous", 180_000, 60, 132, "60", intensity.Vigorous},
		{"Garber 2011 on 180/60: 167 vigorous", 180_000, 60, 167, "89.17", intensity.Vigorous},
		{"Garber 2011 on 180/60: 168 is 90 %, near-maximal", 180_000, 60, 168, "90", intensity.NearMaximal},
		{"Garber 2011 on 175.5/70: 112 is below 40 %", 175_500, 70, 112, "39.81", intensity.Light},
		{"Garber 2011 on 175.5/70: 113 is moderate", 175_500, 70, 113, "40.76", intensity.Moderate},
		{"measured peak 118, resting 58: 100 is 70 %, vigorous", 118_000, 58, 100, "70", intensity.Vigorous},
		{"below resting is data", 180_000, 60, 50, "-8.33", intensity.VeryLight},
		{"half up: 0.625 %", 220_000, 60, 61, "0.63", intensity.VeryLight},
		{"half up below nothing: -0.625 %", 220_000, 60, 59, "-0.62", intensity.VeryLight},
		{"above the maximum is data, not cut", 180_000, 60, 200, "116.67", intensity.NearMaximal},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.PercentOf(tt.max, tt.rest, tt.hr)
			if err != nil || got.String() != tt.percent {
				t.Errorf("PercentOf(%s, %d, %d) = %s, %v; want %s", tt.max, tt.rest, tt.hr, got, err, tt.percent)
			}
			if got := heartrate.ClassOf(tt.max, tt.rest, tt.hr); got != tt.class {
				t.Errorf("ClassOf(%s, %d, %d) = %s; want %s", tt.max, tt.rest, tt.hr, got, tt.class)
			}
		})
	}
}

// The quarter and the three quarters of a hundredth, and the half, on both sides
// of nothing, against exact fractions.
func TestPercentOfRounding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rest := rapid.IntRange(30, 120).Draw(t, "rest")
		maximum := rapid.IntRange(rest*1000+1, 230_000).Draw(t, "max")
		hr := rapid.IntRange(0, 250).Draw(t, "hr")
		got, err := heartrate.PercentOf(heartrate.Milli(maximum), heartrate.BPM(rest), heartrate.BPM(hr))
		if err != nil {
			t.Fatal(err)
		}
		exact := big.NewRat(int64(hr-rest)*1000*10_000, int64(maximum-rest*1000))
		off := new(big.Rat).Sub(big.NewRat(int64(got), 1), exact) // -1/2 < off <= 1/2
		if off.Cmp(big.NewRat(1, 2)) > 0 || off.Cmp(big.NewRat(-1, 2)) <= 0 {
			t.Fatalf("PercentOf(%d, %d, %d) = %d hundredths; exactly %s", maximum, rest, hr, got, exact.FloatString(4))
		}
	})
}

// Targets and their three roundings against exact fractions, and the class of a
// beat against its definition.
func TestTargetExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rest := rapid.IntRange(30, 120).Draw(t, "rest")
		maximum := rapid.IntRange(rest*1000+1, 230_000).Draw(t, "max")
		p := rapid.IntRange(0, 10_000).Draw(t, "percent")
		got, err := heartrate.Target(heartrate.Milli(maximum), heartrate.BPM(rest), intensity.Percent(p))
		if err != nil {
			t.Fatal(err)
		}
		exact := new(big.Rat).Mul(big.NewRat(int64(maximum-rest*1000), 1000), big.NewRat(int64(p), 10_000))
		exact.Add(exact, big.NewRat(int64(rest), 1))
		if read, ok := new(big.Rat).SetString(got.String()); !ok || read.Cmp(exact) != 0 {
			t.Fatalf("Target(%d, %d, %d) = %s; exactly %s", maximum, rest, p, got, exact.FloatString(8))
		}
		check := func(name string, got heartrate.BPM, low, high *big.Rat) { // low < got - exact <= high
			off := new(big.Rat).Sub(big.NewRat(int64(got), 1), exact)
			if off.Cmp(low) <= 0 || off.Cmp(high) > 0 {
				t.Fatalf("%s of %s = %d", name, exact.FloatString(8), got)
			}
		}
		check("nearest", got.Nearest(), big.NewRat(-1, 2), big.NewRat(1, 2))
		check("floor", got.Floor(), big.NewRat(-1, 1), new(big.Rat))
		below := new(big.Rat).Sub(big.NewRat(int64(got.Ceil()), 1), exact)
		if below.Sign() < 0 || below.Cmp(big.NewRat(1, 1)) >= 0 {
			t.Fatalf("ceil of %s = %d", exact.FloatString(8), got.Ceil())
		}
	})
}

func TestTargetRefuses(t *testing.T) {
	for _, tt := range []struct {
		source string
		max    heartrate.Milli
		rest   heartrate.BPM
		p      intensity.Percent
		field  string
	}{
		{"fields swapped", 60_000, 180, 40 * pc, "resting_hr"},
		{"no reserve", 60_000, 60, 40 * pc, "resting_hr"},
		{"no resting rate", 180_000, 0, 40 * pc, "resting_hr"},
		{"negative resting rate", 180_000, -1, 40 * pc, "resting_hr"},
		{"resting rate beyond reason", 180_000, 401, 40 * pc, "resting_hr"},
		{"no maximum", 0, 60, 40 * pc, "measured_max"},
		{"maximum beyond reason", 300_001, 60, 40 * pc, "measured_max"},
		{"below nothing", 180_000, 60, -1, "percents"},
		{"above all", 180_000, 60, 100*pc + 1, "percents"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.Target(tt.max, tt.rest, tt.p)
			p, _ := errors.AsType[domain.Problems](err)
			if p[tt.field] == "" || got != 0 {
				t.Errorf("Target(%s, %d, %s) = %s, %v; want a problem of %s", tt.max, tt.rest, tt.p, got, err, tt.field)
			}
		})
	}
	if got := heartrate.ClassOf(60_000, 60, 80); got != intensity.None {
		t.Errorf("ClassOf without a reserve = %s", got)
	}
}

// What lies on the last permitted value is taken; what is refused gives nothing.
func TestArithmeticAtItsEdges(t *testing.T) {
	if got, err := heartrate.Target(300_000, 1, 100*pc); err != nil || got.String() != "300" {
		t.Errorf("Target(300, 1, 100) = %s, %v", got, err)
	}
	if got, err := heartrate.Target(2_000, 1, 50*pc); err != nil || got.String() != "1.5" {
		t.Errorf("Target(2, 1, 50) = %s, %v", got, err)
	}
	if got, err := heartrate.PercentOfMaximum(1, 100*pc); err != nil || got.String() != "0.001" {
		t.Errorf("PercentOfMaximum(0.001, 100) = %s, %v", got, err)
	}
	if got, err := heartrate.PercentOfMaximum(300_000, 100*pc); err != nil || got.String() != "300" {
		t.Errorf("PercentOfMaximum(300, 100) = %s, %v", got, err)
	}
	if got, err := heartrate.PercentOf(300_000, 100, 400); err != nil || got != 150*pc {
		t.Errorf("PercentOf(300, 100, 400) = %s, %v", got, err)
	}
	if got, err := heartrate.PercentOf(300_000, 100, 0); err != nil || got != -50*pc {
		t.Errorf("PercentOf(300, 100, 0) = %s, %v", got, err)
	}
	for _, hr := range []heartrate.BPM{-1, 401} {
		if got, err := heartrate.PercentOf(180_000, 60, hr); err == nil || got != 0 {
			t.Errorf("PercentOf(180, 60, %d) = %s, %v; want an error", hr, got, err)
		}
	}
	for _, max := range []heartrate.Milli{0, 300_001} {
		if got, err := heartrate.PercentOfMaximum(max, 50*pc); err == nil || got != 0 {
			t.Errorf("PercentOfMaximum(%s, 50) = %s, %v; want an error", max, got, err)
		}
	}
	if got, err := heartrate.PercentOfMaximum(180_000, 101*pc); err == nil || got != 0 {
		t.Errorf("PercentOfMaximum(180, 101) = %s, %v; want an error", got, err)
	}
	if got, err := heartrate.PercentOf(60_000, 60, 80); err == nil || got != 0 {
		t.Errorf("PercentOf without a reserve = %s, %v; want an error", got, err)
	}
	if got, err := heartrate.TargetError(101*pc, 11); err == nil || got != 0 {
		t.Errorf("TargetError at 101 %% = %s, %v; want an error", got, err)
	}
	if got, err := heartrate.RestingError(-1, 11); err == nil || got != 0 {
		t.Errorf("RestingError below nothing = %s, %v; want an error", got, err)
	}
}

func TestErrors(t *testing.T) {
	for _, tt := range []struct {
		source string
		p      intensity.Percent
		max    heartrate.BPM
		rest   heartrate.BPM
		byMax  int // tenths of a beat
		byRest int
	}{
		{"Karvonen 1957, derivative: 11 beats at 40 %, 5 beats of rest", 40 * pc, 11, 5, 44, 30},
		{"Karvonen 1957, derivative: 11 beats at 60 %", 60 * pc, 11, 5, 66, 20},
		{"Karvonen 1957, derivative: 11 beats at 85 % are 9.35", 85 * pc, 11, 5, 94, 8},
		{"Karvonen 1957, derivative: 18 beats at 50 %", 50 * pc, 18, 5, 90, 25},
	} {
		t.Run(tt.source, func(t *testing.T) {
			byMax, err := heartrate.TargetError(tt.p, tt.max)
			if err != nil || byMax.Tenths() != tt.byMax {
				t.Errorf("TargetError(%s, %d) = %s, %v; want %d tenths", tt.p, tt.max, byMax, err, tt.byMax)
			}
			byRest, err := heartrate.RestingError(tt.p, tt.rest)
			if err != nil || byRest.Tenths() != tt.byRest {
				t.Errorf("RestingError(%s, %d) = %s, %v; want %d tenths", tt.p, tt.rest, byRest, err, tt.byRest)
			}
		})
	}
}

func TestTenSecondCount(t *testing.T) {
	for _, tt := range []struct {
		source string
		hr     heartrate.BPM
		want   int
	}{
		{"Austin Community College, worksheet 4, steps 7 and 8: divide by 6", 150, 25},
		{"arithmetic: the nearest", 134, 22},
		{"arithmetic: a half goes up", 135, 23},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := heartrate.TenSecondCount(tt.hr); got != tt.want {
				t.Errorf("TenSecondCount(%d) = %d; want %d", tt.hr, got, tt.want)
			}
		})
	}
}

// The least that can be above a whole beat is above it.
func TestCeilOfTheLeast(t *testing.T) {
	least, err := heartrate.Target(100_001, 100, 1)
	if err != nil || least.String() != "100.0000001" || least.Ceil() != 101 || least.Floor() != 100 {
		t.Errorf("%s: ceil %d, floor %d, %v; want 101, 100", least, least.Ceil(), least.Floor(), err)
	}
}

func TestNumbersAsText(t *testing.T) {
	target, _ := heartrate.Target(fox(33), 32, 90*pc)
	got, err := json.Marshal(map[string]any{"hr_max": heartrate.Milli(175_500), "exact": target, "small": heartrate.Milli(5)})
	if want := `{"exact":171.5,"hr_max":175.5,"small":0.005}`; err != nil || string(got) != want {
		t.Errorf("Marshal = %s, %v; want %s", got, err, want)
	}
	if got := heartrate.Milli(500).String(); got != "0.5" {
		t.Errorf("Milli(500) = %s", got)
	}
	if got := heartrate.Milli(-1500).String(); got != "-1.5" {
		t.Errorf("Milli(-1500) = %s", got)
	}
	if got := heartrate.Milli(175_500).Nearest(); got != 176 {
		t.Errorf("nearest of 175.5 = %d", got)
	}
	if got := heartrate.Milli(175_499).Nearest(); got != 175 {
		t.Errorf("nearest of 175.499 = %d", got)
	}
}
