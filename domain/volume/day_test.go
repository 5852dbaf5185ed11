package volume_test

import (
	"testing"

	"brae/domain"
	"brae/domain/volume"
)

func TestCheckDay(t *testing.T) {
	today := domain.NewDate(2026, 11, 25)
	for _, tt := range []struct {
		source string
		day    domain.Date
		ok     bool
	}{
		{"practice setting: today", today, true},
		{"practice setting: 28 days ago", today.AddDays(-28), true},
		{"practice setting: 29 days ago", today.AddDays(-29), false},
		{"practice setting: tomorrow", today.AddDays(1), false},
		{"practice setting: no day", domain.Date{}, false},
		{"practice setting: no such day", domain.NewDate(2026, 2, 30), false},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if err := volume.CheckDay(tt.day, today, today, policy); (err == nil) != tt.ok {
				t.Errorf("CheckDay(%s) = %v; want ok %t", tt.day, err, tt.ok)
			}
		})
	}
}

func TestSilent(t *testing.T) {
	today := domain.NewDate(2026, 11, 25)
	for _, tt := range []struct {
		source string
		last   domain.Date
		want   bool
	}{
		{"practice setting: six days ago", today.AddDays(-6), false},
		{"practice setting: seven days ago", today.AddDays(-7), true},
		{"practice setting: never", domain.Date{}, true},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := volume.Silent(tt.last, today, policy); got != tt.want {
				t.Errorf("Silent(%s) = %t; want %t", tt.last, got, tt.want)
			}
		})
	}
}
