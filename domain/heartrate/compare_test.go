package heartrate_test

import (
	"slices"
	"testing"

	"brae/domain/heartrate"
)

// A person of 60 at 70: 165 by 207 - 0.7 x age (Gellish 2007), 166 by 208 - 0.7 x age
// (Tanaka 2001), 172.6 by 211 - 0.64 x age (Nes 2013), 160 by 220 - age (Fox 1971); 40 %
// of the reserve (Karvonen 1957) is 108, 108.4, 111.04 and 106.
func TestCompareEquations(t *testing.T) {
	p := heartrate.Person{Age: 60, RestingHR: 70}
	found := map[heartrate.Equation]heartrate.Compared{}
	for _, c := range heartrate.CompareEquations(p, heartrate.PolicyFrom(nil)) {
		found[c.ID] = c
	}
	for id, want := range map[heartrate.Equation]struct {
		max heartrate.Milli
		low heartrate.BPM
	}{
		heartrate.Gellish2007: {165_000, 108}, heartrate.Tanaka2001: {166_000, 109}, heartrate.Nes2013: {172_600, 112}, heartrate.Fox1971: {160_000, 106},
	} {
		c := found[id]
		if c.Max != want.max || c.Moderate.Low != want.low || c.Why != "" || c.Used != (id == heartrate.Gellish2007) {
			t.Errorf("%s: %v, moderate from %d, used %v, %q; want %v from %d", id, c.Max, c.Moderate.Low, c.Used, c.Why, want.max, want.low)
		}
	}
	for _, id := range []heartrate.Equation{heartrate.Brawner2004, heartrate.Astrand} {
		if c := found[id]; c.Why == "" || c.Max != 0 {
			t.Errorf("%s: %v, %q; want a reason and no figure", id, c.Max, c.Why)
		}
	}
	// 206 - 0.88 x 60 = 153.2 (Gulati 2010, women); 210 - 0.79 x 60 = 162.6 for women and
	// 220 - 0.95 x 60 = 163 for men (Sydo 2014).
	type row struct {
		id  heartrate.Equation
		sex heartrate.Sex
		max heartrate.Milli
	}
	for sex, want := range map[heartrate.Sex][]row{
		"": {
			{heartrate.Gulati2010, heartrate.Female, 153_200}, {heartrate.Sydo2014, heartrate.Female, 162_600}, {heartrate.Sydo2014, heartrate.Male, 163_000},
		},
		heartrate.Female: {{heartrate.Gulati2010, "", 153_200}, {heartrate.Sydo2014, "", 162_600}},
		heartrate.Male:   {{heartrate.Gulati2010, "", 0}, {heartrate.Sydo2014, "", 163_000}},
	} {
		p.Sex = sex
		var got []row
		for _, c := range heartrate.CompareEquations(p, heartrate.PolicyFrom(nil)) {
			if c.NeedsSex {
				got = append(got, row{c.ID, c.For, c.Max})
			}
			if c.Used && c.NeedsSex {
				t.Errorf("%q: %s is used, which nobody chose", sex, c.ID)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q: %v; want %v", sex, got, want)
		}
	}
	p.Peak = heartrate.Peak{HR: 150}
	p.Medicines |= heartrate.Z1
	if list := heartrate.CompareEquations(p, heartrate.PolicyFrom(nil)); len(list) != 0 {
		t.Errorf("without a prediction %d equations are compared", len(list))
	}
}
