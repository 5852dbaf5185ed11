package fitness_test

import (
	"slices"
	"testing"

	"brae/domain/fitness"
)

func TestCounts(t *testing.T) {
	for _, tt := range []struct {
		source string
		in     fitness.Input
		band   fitness.Band
		norm   fitness.CountNorm
		flags  []fitness.Flag
	}{
		{"Rikli 1999: woman of 72, 9 stands", stands(72, fitness.Female, 9), fitness.BelowAverage, fitness.CountNorm{Low: 10, High: 15}, nil},
		{"Rikli 1999: man of 62, 14 stands", stands(62, fitness.Male, 14), fitness.Average, fitness.CountNorm{Low: 14, High: 19}, nil},
		{"Rikli 1999: man of 60, 20 stands", stands(60, fitness.Male, 20), fitness.AboveAverage, fitness.CountNorm{Low: 14, High: 19}, nil},
		{"Rikli 1999: man of 60, 19 stands", stands(60, fitness.Male, 19), fitness.Average, fitness.CountNorm{Low: 14, High: 19}, nil},
		{"Rikli 1999: fewer than 8 go with low function", stands(94, fitness.Male, 7), fitness.Average, fitness.CountNorm{Low: 7, High: 12}, []fitness.Flag{fitness.FlagLowFunction}},
		{"Rikli 1999: 8 do not", stands(89, fitness.Female, 8), fitness.Average, fitness.CountNorm{Low: 8, High: 13}, nil},
		{"Rikli 1999: norms from 60", stands(59, fitness.Male, 20), "", fitness.CountNorm{}, []fitness.Flag{fitness.FlagNoNorms}},
		{"Rikli 1999: norms to 94", stands(95, fitness.Female, 5), "", fitness.CountNorm{}, []fitness.Flag{fitness.FlagLowFunction, fitness.FlagNoNorms}},
		{"Rikli 1999: arms used", stands(70, fitness.Female, 0), fitness.BelowAverage, fitness.CountNorm{Low: 10, High: 15}, []fitness.Flag{fitness.FlagLowFunction}},
		{"Rikli 1999: man of 66, 85 steps, range from 86", steps(66, fitness.Male, 85), fitness.BelowAverage, fitness.CountNorm{86, 116, 101, 23, 101}, []fitness.Flag{fitness.FlagIndependence}},
		{"Rikli 1999, 2013: woman of 71, 90 steps, above the mark of 89", steps(71, fitness.Female, 90), fitness.Average, fitness.CountNorm{68, 101, 84, 25, 89}, nil},
		{"Rikli 2013: woman of 71 on the mark", steps(71, fitness.Female, 89), fitness.Average, fitness.CountNorm{68, 101, 84, 25, 89}, nil},
		{"Rikli 2013: man of 94, below it", steps(94, fitness.Male, 59), fitness.Average, fitness.CountNorm{52, 86, 69, 26, 60}, []fitness.Flag{fitness.FlagIndependence}},
		{"Rikli 1999: woman of 60, 108 steps", steps(60, fitness.Female, 108), fitness.AboveAverage, fitness.CountNorm{75, 107, 91, 24, 97}, nil},
		{"Rikli 1999: no norms for steps at 59", steps(59, fitness.Female, 90), "", fitness.CountNorm{}, []fitness.Flag{fitness.FlagNoNorms}},
		{"Golding 2000: man of 25, excellent to 76", step3(25, fitness.Male, 76), fitness.StepExcellent, fitness.CountNorm{Low: 50, High: 76}, nil},
		{"Golding 2000: man of 25, the gap of 77 and 78 is good", step3(25, fitness.Male, 77), fitness.StepGood, fitness.CountNorm{Low: 79, High: 84}, nil},
		{"Golding 2000: man of 26, next group", step3(26, fitness.Male, 85), fitness.StepGood, fitness.CountNorm{Low: 79, High: 85}, nil},
		{"Golding 2000, from memory: woman of 40, 107", step3(40, fitness.Female, 107), fitness.Average, fitness.CountNorm{Low: 107, High: 112}, nil},
		{"Golding 2000, from memory: woman of 45, 116", step3(45, fitness.Female, 116), fitness.BelowAverage, fitness.CountNorm{Low: 115, High: 120}, nil},
		{"Golding 2000, from memory: woman of 46, 100", step3(46, fitness.Female, 100), fitness.StepGood, fitness.CountNorm{Low: 95, High: 101}, nil},
		{"Golding 2000, from memory: man of 65, 130", step3(65, fitness.Male, 130), fitness.StepVeryPoor, fitness.CountNorm{Low: 131}, nil},
		{"Golding 2000, from memory: woman of 66, poor to 133", step3(66, fitness.Female, 133), fitness.StepPoor, fitness.CountNorm{Low: 128, High: 133}, nil},
		{"Golding 2000, from memory: man of 80, above average", step3(80, fitness.Male, 94), fitness.AboveAverage, fitness.CountNorm{Low: 94, High: 102}, nil},
		{"better than the table", step3(30, fitness.Male, 47), fitness.StepExcellent, fitness.CountNorm{Low: 51, High: 76}, nil},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.Evaluate(tt.in, defaults)
			if err != nil {
				t.Fatal(err)
			}
			norm := fitness.CountNorm{}
			if got.Norm != nil {
				norm = *got.Norm
			}
			if got.Band != tt.band || norm != tt.norm || !slices.Equal(got.Flags, tt.flags) {
				t.Errorf("band %q, norm %+v, flags %v; want %q, %+v, %v", got.Band, norm, got.Flags, tt.band, tt.norm, tt.flags)
			}
			if got.VO2max != nil {
				t.Errorf("VO2max = %v; want none from a count", *got.VO2max)
			}
		})
	}
}

func stands(age int, sex fitness.Sex, n int) fitness.Input {
	return fitness.Input{Test: fitness.ChairStand, Age: &age, Sex: sex, Stands: &n}
}

func steps(age int, sex fitness.Sex, n int) fitness.Input {
	return fitness.Input{Test: fitness.TwoMinuteStep, Age: &age, Sex: sex, Steps: &n}
}

func step3(age int, sex fitness.Sex, hr int) fitness.Input {
	return fitness.Input{Test: fitness.ThreeMinuteStep, Age: &age, Sex: sex, HR: &hr}
}
