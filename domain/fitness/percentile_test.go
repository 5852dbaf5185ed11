package fitness_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"brae/domain/fitness"
)

func TestPercentileOf(t *testing.T) {
	tm, cy := fitness.Treadmill, fitness.Cycle
	m, f := fitness.Male, fitness.Female
	for _, tt := range []struct {
		source     string
		edition    fitness.NormEdition
		age        int
		sex        fitness.Sex
		vo2max     float64
		mode       fitness.NormMode
		percentile float64
		tol        float64
		word       fitness.Word
	}{
		{"Kaminsky 2022, open data: median of men in their forties", fitness.Norms2022, 45, m, 34.8, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2022, rule of the open data, by hand: between two rows", fitness.Norms2022, 45, m, 33.0, tm, 43.46, 0.01, fitness.Fair},
		{"Kaminsky 2022, open data: cycle, median of men in their fifties", fitness.Norms2022, 55, m, 24.7, cy, 50, 0, fitness.Fair},
		{"Kaminsky 2022, open data: first decade, from 20", fitness.Norms2022, 20, m, 45.4, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2022, open data: first decade, to 29", fitness.Norms2022, 29, f, 35.6, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2022, open data: next decade", fitness.Norms2022, 30, f, 28.3, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2022, open data: women in their forties", fitness.Norms2022, 40, f, 25.9, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2022, open data: last decade, to 89", fitness.Norms2022, 89, f, 15.1, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2022, open data: cycle, women of 89", fitness.Norms2022, 89, f, 10.9, cy, 50, 0, fitness.Fair},
		{"Kaminsky 2022, open data: cycle, women of 65", fitness.Norms2022, 65, f, 15.9, cy, 50, 0, fitness.Fair},
		{"Kaminsky 2022, rule: an unknown mode is read as treadmill", fitness.Norms2022, 45, m, 34.8, "", 50, 0, fitness.Fair},
		{"Kaminsky 2022, open data: highest row", fitness.Norms2022, 45, m, 64.0, tm, 99.8, 0, fitness.Superior},
		{"Kaminsky 2022, rule: above the highest row", fitness.Norms2022, 45, m, 64.1, tm, 99.9, 0, fitness.Superior},
		{"Kaminsky 2022, rule, by hand: between the two highest rows, half way", fitness.Norms2022, 45, m, 58.6, tm, 97.4, 1e-9, fitness.Superior},
		{"Kaminsky 2022, open data: lowest row", fitness.Norms2022, 45, m, 11.2, tm, 0.2, 0, fitness.VeryPoor},
		{"Kaminsky 2022, rule: below the lowest row", fitness.Norms2022, 45, m, 11.1, tm, 0.1, 0, fitness.VeryPoor},
		{"Kaminsky 2022, rule, by hand: between the two lowest rows, half way", fitness.Norms2022, 45, m, 15.45, tm, 2.6, 1e-9, fitness.VeryPoor},
		{"Kaminsky 2022, by hand: the twelve-minute mile, men in their twenties", fitness.Norms2022, 25, m, 30.3, tm, 12, 0.5, fitness.VeryPoor},
		{"Kaminsky 2022, by hand: the twelve-minute mile, men in their forties", fitness.Norms2022, 45, m, 30.3, tm, 32, 0.5, fitness.Poor},
		{"Kaminsky 2022, by hand: the twelve-minute mile, men in their fifties", fitness.Norms2022, 55, m, 30.3, tm, 53.46, 0.01, fitness.Fair},
		{"Kaminsky 2022, by hand: the twelve-minute mile, men in their sixties", fitness.Norms2022, 65, m, 30.3, tm, 76, 0.5, fitness.Good},
		{"Kaminsky 2022, by hand: the twelve-minute mile, women in their forties", fitness.Norms2022, 45, f, 30.3, tm, 72, 0.5, fitness.Good},
		{"Kaminsky 2022, by hand: the twelve-minute mile, women in their fifties", fitness.Norms2022, 55, f, 30.3, tm, 86, 0.5, fitness.Excellent},
		{"Kaminsky 2015, abstract: median of men in their twenties", fitness.NormsOld, 25, m, 48.0, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2015, abstract: median of women in their twenties", fitness.NormsOld, 25, f, 37.6, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2015, abstract: median of men in their seventies", fitness.NormsOld, 79, m, 24.4, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2015, abstract: median of women in their seventies", fitness.NormsOld, 75, f, 18.3, tm, 50, 0, fitness.Fair},
		{"Kaminsky 2017, open data: cycle, men in their twenties", fitness.NormsOld, 25, m, 41.9, cy, 50, 0, fitness.Fair},
		{"Kaminsky 2017, open data: cycle, women in their seventies", fitness.NormsOld, 75, f, 14.8, cy, 50, 0, fitness.Fair},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.PercentileBy(tt.edition, tt.age, tt.sex, tt.vo2max, tt.mode)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "percentile", got.Percentile, tt.percentile, tt.tol)
			if got.Word != tt.word {
				t.Errorf("word = %s; want %s", got.Word, tt.word)
			}
			if tt.edition == fitness.Norms2022 {
				again, err := fitness.PercentileOf(tt.age, tt.sex, tt.vo2max, tt.mode)
				if err != nil || again != got {
					t.Errorf("PercentileOf = %v, %v; want %v, the edition in use", again, err, got)
				}
			}
		})
	}
}

// Every row of the tables is read as its own percentile, to the last bit.
func TestRowsAreExact(t *testing.T) {
	for tenths := 50; tenths < 750; tenths++ {
		typed, err := strconv.ParseFloat(fmt.Sprintf("%d.%d", tenths/10, tenths%10), 64)
		if err != nil || 10*typed != float64(tenths) {
			t.Errorf("%v times 10 is %v; want %d", typed, 10*typed, tenths)
		}
	}
}

func TestPercentileRefuses(t *testing.T) {
	of := func(age int, sex fitness.Sex, vo2max float64, mode fitness.NormMode) error {
		_, err := fitness.PercentileOf(age, sex, vo2max, mode)
		return err
	}
	old := func(age int) error {
		_, err := fitness.PercentileBy(fitness.NormsOld, age, fitness.Male, 30, fitness.Treadmill)
		return err
	}
	for _, tt := range []struct {
		source string
		err    error
		fields []string
	}{
		{"norms from 20", of(19, fitness.Male, 30, ""), []string{"age"}},
		{"norms to 89", of(90, fitness.Male, 30, ""), []string{"age"}},
		{"negative age", of(-10, fitness.Male, 30, ""), []string{"age"}},
		{"first editions to 79", old(80), []string{"age"}},
		{"first editions from 20", old(19), []string{"age"}},
		{"no sex", of(40, "", 30, ""), []string{"sex"}},
		{"rest", of(40, fitness.Male, 3.5, ""), []string{"vo2max"}},
		{"beyond anybody", of(40, fitness.Male, 100.1, ""), []string{"vo2max"}},
		{"not a number, on a rower", of(40, fitness.Male, math.NaN(), "rower"), []string{"mode", "vo2max"}},
		{"nothing at all", of(0, "", 0, ""), []string{"age", "sex", "vo2max"}},
	} {
		t.Run(tt.source, func(t *testing.T) { refuses(t, tt.err, tt.fields...) })
	}
	if _, err := fitness.PercentileOf(40, fitness.Male, 100, ""); err != nil {
		t.Errorf("100 ml per kg and minute: %v; want none", err)
	}
}

func TestWordFor(t *testing.T) {
	for _, tt := range []struct {
		source     string
		percentile float64
		want       fitness.Word
	}{
		{"ACSM GETP, from memory: superior from 95", 95, fitness.Superior},
		{"ACSM GETP, from memory: excellent below 95", 94.99, fitness.Excellent},
		{"ACSM GETP, from memory: excellent from 80", 80, fitness.Excellent},
		{"ACSM GETP, from memory: good below 80", 79.99, fitness.Good},
		{"ACSM GETP, from memory: good from 60", 60, fitness.Good},
		{"ACSM GETP, from memory: fair below 60", 59.99, fitness.Fair},
		{"ACSM GETP, from memory: fair from 40", 40, fitness.Fair},
		{"ACSM GETP, from memory: poor below 40", 39.99, fitness.Poor},
		{"ACSM GETP, from memory: poor from 20", 20, fitness.Poor},
		{"ACSM GETP, from memory: very poor below 20", 19.99, fitness.VeryPoor},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := fitness.WordFor(tt.percentile); got != tt.want {
				t.Errorf("WordFor(%v) = %s; want %s", tt.percentile, got, tt.want)
			}
		})
	}
	if got := (fitness.Standing{Percentile: 19.99, Word: fitness.VeryPoor}).Shown(); got != 19 {
		t.Errorf("19.99 is shown as %d; want 19, which agrees with its word", got)
	}
}
