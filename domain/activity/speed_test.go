package activity_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"brae/domain/activity"
)

// TestSpeed compares with what is printed elsewhere. Source: NIST Special
// Publication 811, appendix B.8: 1 mile an hour is 1.609344 km an hour.
func TestSpeed(t *testing.T) {
	for _, tt := range []struct {
		source   string
		mph, kmh int // tenths
		pace     int // seconds a km
	}{
		{"by NIST: 2 mph are 3.218688 km/h", 20, 32, 1118},
		{"by NIST: 2.5 mph are 4.02336 km/h", 25, 40, 895},
		{"by NIST: 3.5 mph are 5.632704 km/h", 35, 56, 639},
		{"by NIST: 4 mph are 6.437376 km/h", 40, 64, 559},
		{"by NIST: 6 mph are 9.656064 km/h; a mile in 10 minutes is a kilometre in 6:13 (runners' tables)", 60, 97, 373},
		{"by NIST: 14 mph are 22.530816 km/h", 140, 225, 160},
	} {
		s := activity.Speed{Manner: activity.Exactly, Low: tt.mph, High: tt.mph}
		if low, high := s.In(activity.Kilometres); low != tt.kmh || high != tt.kmh {
			t.Errorf("%s: %d to %d tenths; want %d", tt.source, low, high, tt.kmh)
		}
		if low, _ := s.In(activity.Miles); low != tt.mph {
			t.Errorf("%s: %d tenths of a mile an hour", tt.source, low)
		}
		if got := s.Pace(activity.Kilometres); got != tt.pace {
			t.Errorf("%s: %d s a km; want %d", tt.source, got, tt.pace)
		}
		if got := s.Pace(activity.Miles); got != 36000/tt.mph && 36000%tt.mph == 0 {
			t.Errorf("%s: %d s a mile; want %d", tt.source, got, 36000/tt.mph)
		}
	}
	if got := (activity.Speed{}).Pace(activity.Miles); got != 0 {
		t.Errorf("no speed has a pace of %d s", got)
	}
}

// TestShortNames keeps buttons on one line of a phone.
func TestShortNames(t *testing.T) {
	taken := map[string]string{}
	for _, a := range activity.All() {
		short := a.ShortName()
		if n := utf8.RuneCountInString(short); n > 26 || strings.ContainsAny(short, "()") {
			t.Errorf("%s: %q has %d characters; want 26 at most and no brackets", a.ID, short, n)
		}
		if taken[short] != "" {
			t.Errorf("%s and %s are both called %q", a.ID, taken[short], short)
		}
		taken[short] = a.ID
		if strings.Contains(a.Name, "km/h") || strings.Contains(a.Name, "mph") {
			t.Errorf("%s: the speed is in the name %q", a.ID, a.Name)
		}
	}
}
