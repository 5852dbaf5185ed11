package fitness

import (
	"slices"
	"testing"
)

// The sums of the columns, in tenths, catch a slip in any cell; the medians and
// the single cells in the tests of percentiles say that the columns are in place.
func TestNormColumns(t *testing.T) {
	for _, tt := range []struct {
		source string
		table  [][rows]int
		sums   []int
	}{
		{"Kaminsky 2022, open data: treadmill, men", treadmillMen2022, []int{9347, 8180, 7459, 6422, 5381, 4537, 3854}},
		{"Kaminsky 2022, open data: treadmill, women", treadmillWomen2022, []int{7437, 6219, 5680, 5034, 4260, 3694, 3420}},
		{"Kaminsky 2022, open data: cycle, men", cycleMen2022, []int{9265, 6726, 6060, 5632, 4851, 4160, 3073}},
		{"Kaminsky 2022, open data: cycle, women", cycleWomen2022, []int{6797, 5011, 4325, 3844, 3475, 3057, 2316}},
		{"Kaminsky 2015, open data: treadmill, men", treadmillMen2015, []int{9973, 9039, 8267, 7167, 6225, 5461}},
		{"Kaminsky 2015, open data: treadmill, women", treadmillWomen2015, []int{7923, 6696, 5919, 5151, 4384, 3847}},
		{"Kaminsky 2017, open data: cycle, men", cycleMen2017, []int{8800, 6567, 5935, 5541, 4850, 4466}},
		{"Kaminsky 2017, open data: cycle, women", cycleWomen2017, []int{6562, 4800, 4262, 3863, 3541, 3141}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			var sums []int
			for i, column := range tt.table {
				sum := 0
				for j, v := range column {
					sum += v
					if j > 0 && v > column[j-1] {
						t.Errorf("column %d rises from row %d to %d", i, j-1, j)
					}
				}
				sums = append(sums, sum)
			}
			if !slices.Equal(sums, tt.sums) {
				t.Errorf("sums = %v; want %v", sums, tt.sums)
			}
		})
	}
	sum := 0
	for i, p := range percents {
		sum += p
		if i > 0 && p >= percents[i-1] {
			t.Errorf("row %d does not fall", i)
		}
	}
	if sum != 998+2+50*(1+19)*19/2 {
		t.Errorf("percents add up to %d", sum)
	}
}

func TestOlderColumns(t *testing.T) {
	spans := func(table [ages]span) (sum int) {
		for _, s := range table {
			sum += s.low + s.high
			if s.low >= s.high {
				t.Errorf("span %v is none", s)
			}
		}
		return sum
	}
	counts := func(table [ages]stepping) (sum int) {
		for _, s := range table {
			sum += s.middle.low + s.middle.high + s.mean + s.sd + s.independent
			if s.mean <= s.middle.low || s.mean >= s.middle.high {
				t.Errorf("mean of %+v is outside the middle", s)
			}
		}
		return sum
	}
	for _, tt := range []struct {
		source    string
		got, want int
	}{
		{"Rikli 1999, stands, men", spans(chairMen), 186},
		{"Rikli 1999, stands, women", spans(chairWomen), 165},
		{"Rikli 1999 and 2013, steps, men", counts(steppingMen), 2626},
		{"Rikli 1999 and 2013, steps, women", counts(steppingWomen), 2394},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if tt.got != tt.want {
				t.Errorf("sum = %d; want %d", tt.got, tt.want)
			}
		})
	}
}

func TestStepRows(t *testing.T) {
	for _, tt := range []struct {
		source string
		table  [stepRatings][stepGroups]span
		sums   []int
	}{
		{"Golding 2000, men, two rows read and five from memory", stepMen, []int{793, 1034, 1142, 1238, 1336, 1446, 772}},
		{"Golding 2000, women, from memory", stepWomen, []int{874, 1133, 1244, 1346, 1439, 1543, 819}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			var sums []int
			for i, row := range tt.table {
				sum := 0
				for j, s := range row {
					sum += s.low
					if i < stepRatings-1 {
						sum += s.high
					}
					if s.low > s.high || i > 0 && s.low <= tt.table[i-1][j].high {
						t.Errorf("band %d of group %d overlaps", i, j)
					}
				}
				sums = append(sums, sum)
			}
			if !slices.Equal(sums, tt.sums) {
				t.Errorf("sums = %v; want %v", sums, tt.sums)
			}
		})
	}
}
