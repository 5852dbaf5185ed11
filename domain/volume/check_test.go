package volume_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/volume"
)

// problem returns the only field of an error or of what is to be confirmed.
func problem(t *testing.T, confirm domain.Problems, err error) (asked, refused string) {
	t.Helper()
	var p domain.Problems
	if err != nil && !errors.As(err, &p) {
		t.Fatalf("error of the wrong kind: %v", err)
	}
	one := func(p domain.Problems) string {
		if len(p) > 1 {
			t.Fatalf("more than one: %v", p)
		}
		for field, sentence := range p {
			if sentence == "" {
				t.Errorf("no sentence for %s", field)
			}
			return field
		}
		return ""
	}
	return one(confirm), one(p)
}

func TestCheckSession(t *testing.T) {
	const moderate = intensity.Moderate
	for _, tt := range []struct {
		source         string
		parts          []volume.Part
		asked, refused string
	}{
		{"practice setting: a minute is enough", times(1, 1, moderate), "", ""},
		{"practice setting: nothing is not a session", times(1, 0, moderate), "", "parts[0].minutes"},
		{"arithmetic: less than nothing", times(1, -5, moderate), "", "parts[0].minutes"},
		{"practice setting: 240 are taken", times(1, 240, moderate), "", ""},
		{"practice setting: 241 are asked about", times(1, 241, moderate), "minutes", ""},
		{"practice setting: 720 are asked about", times(1, 720, moderate), "minutes", ""},
		{"practice setting: 721 are refused", times(1, 721, moderate), "", "parts[0].minutes"},
		{"practice setting: parts together are asked about", times(5, 49, moderate), "minutes", ""},
		{"practice setting: parts together are refused", times(3, 241, moderate), "", "minutes"},
		{"practice setting: no part", nil, "", "minutes"},
		{"practice setting: the second part", append(times(1, 10, moderate), volume.Part{Minutes: 900, Class: moderate}), "", "parts[1].minutes"},
		{"practice setting: an unknown intensity is no reason to refuse", times(1, 30, intensity.None), "", ""},
		{"ACSM 2011: the hardest class", times(1, 30, intensity.NearMaximal), "", ""},
		{"no such class", times(1, 30, 6), "", "parts[0].class"},
		{"no such class", times(1, 30, -1), "", "parts[0].class"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			confirm, err := volume.CheckSession(tt.parts, policy)
			if asked, refused := problem(t, confirm, err); asked != tt.asked || refused != tt.refused {
				t.Errorf("CheckSession(%v) asks about %q and refuses %q; want %q and %q", tt.parts, asked, refused, tt.asked, tt.refused)
			}
		})
	}
}

func TestCheckWeek(t *testing.T) {
	const light, moderate = intensity.Light, intensity.Moderate
	for _, tt := range []struct {
		source         string
		parts          []volume.Part
		target         int
		asked, refused string
	}{
		{"PAGA 2018: a usual week", times(5, 30, moderate), 150, "", ""},
		{"practice setting: 1,500 minutes are taken", times(3, 500, moderate), 150, "", ""},
		{"practice setting: 1,501 are asked about", append(times(3, 500, moderate), times(1, 1, light)...), 150, "parts", ""},
		{"calendar: a week has 10,080 minutes", times(14, 720, light), 150, "parts", ""},
		{"calendar: and not one more", append(times(14, 720, light), times(1, 1, light)...), 150, "", "parts"},
		{"practice setting: a sum needs to know how hard", times(1, 30, intensity.None), 150, "", "parts[0].class"},
		{"practice setting: nothing done is a week as well", nil, 150, "", ""},
		{"practice setting: the third part", append(times(2, 10, light), times(1, 0, light)...), 150, "", "parts[2].minutes"},
		{"practice setting: a target of one minute", nil, 1, "", ""},
		{"practice setting: no target", nil, 0, "", "target"},
		{"calendar: a target of all minutes", nil, 10080, "", ""},
		{"calendar: a target of more than all minutes", nil, 10081, "", "target"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			confirm, err := volume.CheckWeek(tt.parts, tt.target, policy)
			if asked, refused := problem(t, confirm, err); asked != tt.asked || refused != tt.refused {
				t.Errorf("CheckWeek(%v, %d) asks about %q and refuses %q; want %q and %q",
					tt.parts, tt.target, asked, refused, tt.asked, tt.refused)
			}
		})
	}
}

func TestSpike(t *testing.T) {
	for _, tt := range []struct {
		source  string
		minutes int
		before  []int
		want    bool
	}{
		{"practice setting: one and a half times the mean", 150, []int{100, 100, 100, 100}, false},
		{"practice setting: more than that", 151, []int{100, 100, 100, 100}, true},
		{"practice setting: the mean, not the last week", 151, []int{40, 160, 120, 80}, true},
		{"practice setting: only the last four weeks", 151, []int{900, 100, 100, 100, 100}, true},
		{"practice setting: 76 is more than 75.75", 76, []int{50, 50, 51, 51}, true},
		{"practice setting: three weeks are too few to compare with", 500, []int{100, 100, 100}, false},
		{"practice setting: a beginner's first hour", 60, []int{0, 0, 0, 0}, false},
		{"practice setting: more than an hour after nothing", 61, []int{0, 0, 0, 0}, true},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := volume.Spike(tt.minutes, tt.before, policy); got != tt.want {
				t.Errorf("Spike(%d, %v) = %t; want %t", tt.minutes, tt.before, got, tt.want)
			}
		})
	}
}
