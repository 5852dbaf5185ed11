package fitness_test

import (
	"testing"

	"brae/domain"
	"brae/domain/fitness"
)

func TestWeeksWithoutGain(t *testing.T) {
	first := domain.NewDate(2026, 1, 5)
	walk := func(week int, metres float64) fitness.DatedTest {
		return fitness.DatedTest{On: first.AddDays(7 * week), Done: fitness.Done{
			Input:      fitness.Input{Test: fitness.SixMinuteWalk, DistanceM: &metres},
			Conditions: fitness.Conditions{CourseM: new(30.0)},
		}}
	}
	stands := func(week, n int) fitness.DatedTest {
		return fitness.DatedTest{On: first.AddDays(7 * week), Done: fitness.Done{Input: fitness.Input{Test: fitness.ChairStand, Stands: &n}}}
	}
	for _, tt := range []struct {
		source string
		tests  []fitness.DatedTest
		want   int
	}{
		{"none", nil, 0},
		{"practice setting: again after six weeks is too soon", []fitness.DatedTest{walk(0, 400), walk(6, 405)}, 0},
		{"Perera 2006: 10 m are no change", []fitness.DatedTest{walk(0, 400), walk(9, 410)}, 9},
		{"Perera 2006: 20 m are", []fitness.DatedTest{walk(0, 400), walk(9, 420)}, 0},
		{"Perera 2006: 30 m less are no gain", []fitness.DatedTest{walk(0, 400), walk(9, 370)}, 9},
		{"Gill 2022: 3 stands are a change, though the walk is flat", []fitness.DatedTest{walk(0, 400), stands(0, 10), walk(9, 400), stands(9, 13)}, 0},
		{"Gill 2022: 2 stands are not", []fitness.DatedTest{stands(0, 10), stands(10, 12)}, 10},
		{"against the newest one that is old enough", []fitness.DatedTest{walk(0, 300), walk(4, 400), walk(13, 400)}, 9},
	} {
		if got := fitness.WeeksWithoutGain(tt.tests, 8, fitness.PolicyFrom(nil)); got != tt.want {
			t.Errorf("%s: %d weeks; want %d", tt.source, got, tt.want)
		}
	}
}
