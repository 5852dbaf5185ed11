package volume_test

import (
	"testing"

	"brae/domain"
	"brae/domain/volume"
)

func TestShortBy(t *testing.T) {
	for _, tt := range []struct {
		source       string
		target, done int
		want         int
	}{
		{"common practice: five times ten minutes of brisk walking leave 100 of 150", 150, 50, 100},
		{"common practice: with 50 vigorous besides, nothing is left", 150, 150, 0},
		{"PAGA 2018 p. 65: the father's week leaves 55", 150, 95, 55},
		{"practice setting: what is over is not owed back", 150, 220, 0},
		{"practice setting: a lower target of one's own", 60, 50, 10},
		{"arithmetic: nothing done", 150, 0, 150},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := volume.ShortBy(tt.target, tt.done); got != tt.want {
				t.Errorf("ShortBy(%d, %d) = %d; want %d", tt.target, tt.done, got, tt.want)
			}
		})
	}
}

func TestTarget(t *testing.T) {
	week := volume.Totals{Light: 45, Moderate: 20, Vigorous: 5, ModerateEquivalent: 30, Unjudged: 15}
	for _, tt := range []struct {
		source      string
		target      volume.Target
		done, short int
	}{
		{"WHO 2020: moderate-equivalent minutes", volume.Target{Minutes: 150}, 30, 120},
		{"practice setting: in the light phase every minute once", volume.Target{Minutes: 75, Light: true}, 70, 5},
		{"practice setting: reached in the light phase", volume.Target{Minutes: 60, Light: true}, 70, 0},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := tt.target.Done(week); got != tt.done {
				t.Errorf("Done = %d; want %d", got, tt.done)
			}
			if got := tt.target.ShortBy(week); got != tt.short {
				t.Errorf("ShortBy = %d; want %d", got, tt.short)
			}
		})
	}
}

func TestTargetOf(t *testing.T) {
	may := func(day int) domain.Date { return domain.NewDate(2026, 5, day) }
	agreed := []volume.TargetFrom{ // not in order, and the last replaces the first
		{may(18), volume.Target{Minutes: 90}},
		{may(4), volume.Target{Minutes: 45, Light: true}},
		{may(18), volume.Target{Minutes: 100}},
	}
	for _, tt := range []struct {
		source string
		week   domain.Date
		want   volume.Target
	}{
		{"PAGA 2018, WHO 2020: 150 where nothing is agreed", domain.NewDate(2026, 4, 27), volume.Target{Minutes: 150}},
		{"practice setting: from its first week on", may(4), volume.Target{Minutes: 45, Light: true}},
		{"practice setting: a past week keeps its target", may(11), volume.Target{Minutes: 45, Light: true}},
		{"practice setting: the later of two for a week", may(18), volume.Target{Minutes: 100}},
		{"practice setting: until another is agreed", may(25), volume.Target{Minutes: 100}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := volume.TargetOf(tt.week, agreed, policy); got != tt.want {
				t.Errorf("TargetOf(%v) = %+v; want %+v", tt.week, got, tt.want)
			}
		})
	}
}
