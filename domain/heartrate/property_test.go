package heartrate_test

import (
	"testing"

	"pgregory.net/rapid"

	"brae/domain/heartrate"
	"brae/domain/intensity"
)

// anyone draws a person with a mix of conditions, limits and tests.
func anyone(t *rapid.T) heartrate.Person {
	p := heartrate.Person{
		Age:       rapid.IntRange(18, 100).Draw(t, "age"),
		Today:     today,
		RestingHR: heartrate.BPM(rapid.IntRange(40, 110).Draw(t, "rest")),
		Medicines: heartrate.Medicines(rapid.IntRange(0, 63).Draw(t, "medicines")),
		Sex:       rapid.SampledFrom([]heartrate.Sex{"", heartrate.Female, heartrate.Male}).Draw(t, "sex"),
		Equation: rapid.SampledFrom([]heartrate.Equation{
			"", heartrate.Tanaka2001, heartrate.Nes2013, heartrate.Inbar1994, heartrate.Fox1971, heartrate.Gellish2007Unrounded,
		}).Draw(t, "equation"),
	}
	if rapid.Bool().Draw(t, "healthy") {
		p.Medicines = 0
	} else {
		p.Conditions = heartrate.Condition(rapid.IntRange(0, 1<<15-1).Draw(t, "conditions"))
	}
	if rapid.Bool().Draw(t, "tested") {
		p.Peak = heartrate.PeakToday(p.RestingHR+heartrate.BPM(rapid.IntRange(20, 100).Draw(t, "peak over rest")), today)
		p.Peak.SymptomLimited = rapid.Bool().Draw(t, "symptom-limited")
		p.Peak.TransplantAllowed = rapid.Bool().Draw(t, "allowed")
	}
	p.Limits = limits(t)
	return p
}

func limits(t *rapid.T) heartrate.Limits {
	number := func(name string, low, high int) heartrate.BPM {
		if !rapid.Bool().Draw(t, name+" given") {
			return 0
		}
		return heartrate.BPM(rapid.IntRange(low, high).Draw(t, name))
	}
	l := heartrate.Limits{
		DoctorHR: number("doctor", 60, 200), PractitionerHR: number("practitioner", 60, 200), IschaemiaHR: number("ischaemia", 70, 200),
		IschaemiaMargin: number("ischaemia margin", 10, 30), ICDDetectionHR: number("detection", 120, 220),
		ICDMargin: number("detection margin", 10, 30), PacemakerUpperHR: number("upper", 100, 180),
	}
	if rapid.Bool().Draw(t, "interim") {
		l.Interim = heartrate.NewInterim(heartrate.AfterHeartSurgery, number("interim rest", 50, 110)+50, heartrate.Seated, today, policy)
		l.Interim.RestingHR = min(l.Interim.RestingHR, 150)
	}
	return l
}

// ranges computes, and gives up on a person that is refused.
func ranges(t *rapid.T, p heartrate.Person) heartrate.Zones {
	z, err := heartrate.ZonesFor(p, policy)
	if err != nil {
		t.Skip(err)
	}
	return z
}

// Ranges never overlap and leave no whole beat out, and the class of any beat is
// that of the range it is shown in.
func TestRangesAreAPartition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyone(t)
		z := ranges(t, p)
		if !z.Decision.Basis.Valid() {
			for _, b := range z.Bands {
				if b.Why == heartrate.Available || b.Low != 0 || b.High != 0 || b.PrescribeTo != 0 {
					t.Fatalf("basis %s shows %+v", z.Decision.Basis, b)
				}
			}
			return
		}
		top := z.Max.Floor()
		if z.Ceiling != 0 {
			top = min(top, z.Ceiling)
		}
		for hr := p.RestingHR; hr <= z.Max.Floor(); hr++ {
			shownIn := intensity.None
			for _, b := range z.Bands {
				if b.Why == heartrate.Available && b.Low <= hr && hr <= b.High {
					if shownIn != intensity.None {
						t.Fatalf("%d is in %s and %s", hr, shownIn, b.Class)
					}
					shownIn = b.Class
				}
			}
			class := z.Beat(hr).Class
			switch {
			case hr <= top && !(z.Decision.Rough && class >= intensity.Vigorous):
				if shownIn != class {
					t.Fatalf("%d is shown in %s and classed %s by %s/%d", hr, shownIn, class, z.Max, z.Rest)
				}
			case shownIn != intensity.None:
				t.Fatalf("%d is shown in %s: ceiling %d, rough %t", hr, shownIn, z.Ceiling, z.Decision.Rough)
			}
		}
		for _, b := range z.Bands {
			if b.Why == heartrate.Available && (b.Low > b.High || b.PrescribeTo > b.High || b.PrescribeTo != 0 && b.PrescribeTo < b.Low) {
				t.Fatalf("inverted: %+v", b)
			}
		}
	})
}

// A further limit only lowers the ceiling, and opens and raises nothing.
func TestALimitOnlyLowers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyone(t)
		before := ranges(t, p)
		more := limits(t)
		lower := func(mine, other heartrate.BPM) heartrate.BPM {
			if mine == 0 || other != 0 && other < mine {
				return other
			}
			return mine
		}
		p.Limits.DoctorHR = lower(p.Limits.DoctorHR, more.DoctorHR)
		p.Limits.PractitionerHR = lower(p.Limits.PractitionerHR, more.PractitionerHR)
		p.Limits.IschaemiaHR = lower(p.Limits.IschaemiaHR, more.IschaemiaHR)
		if p.Limits.Interim.Kind == "" {
			p.Limits.Interim = more.Interim
		}
		notHigher(t, before, ranges(t, p))
	})
}

// More evidence of disease, or a medicine, never raises a ceiling or opens a class.
func TestDiseaseOnlyLowers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyone(t)
		before := ranges(t, p)
		all := heartrate.Conditions()
		p.Conditions |= all[rapid.IntRange(0, len(all)-1).Draw(t, "condition")].Condition
		p.Medicines |= heartrate.Medicines(rapid.IntRange(0, 63).Draw(t, "more medicines"))
		notHigher(t, before, ranges(t, p))
	})
}

// An expired or otherwise void test never raises the ceiling.
func TestALapseOnlyLowersTheCeiling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyone(t)
		if p.Peak.HR == 0 {
			return
		}
		before := ranges(t, p)
		p.Today = today.AddDays(rapid.IntRange(0, 800).Draw(t, "days"))
		p.Peak.Changed |= heartrate.Change(rapid.IntRange(0, 15).Draw(t, "changed"))
		after := ranges(t, p)
		if before.Ceiling != 0 && (after.Ceiling == 0 || after.Ceiling > before.Ceiling) {
			t.Fatalf("ceiling %d, then %d", before.Ceiling, after.Ceiling)
		}
		if after.Ceilings[heartrate.PeakCeiling] != 0 {
			for _, b := range after.Bands {
				if b.High > p.Peak.HR {
					t.Fatalf("%s up to %d, above the void peak of %d", b.Class, b.High, p.Peak.HR)
				}
			}
		} else if after.Decision.Basis == heartrate.Predicted {
			t.Fatalf("a peak of %d on file is neither the maximum nor a ceiling", p.Peak.HR)
		}
	})
}

func notHigher(t *rapid.T, before, after heartrate.Zones) {
	if before.Ceiling != 0 && (after.Ceiling == 0 || after.Ceiling > before.Ceiling) {
		t.Fatalf("ceiling %d, then %d", before.Ceiling, after.Ceiling)
	}
	for i, b := range after.Bands {
		was := before.Bands[i]
		if b.High > was.High || b.PrescribeTo > was.PrescribeTo || b.Why == heartrate.Available && was.Why != heartrate.Available {
			t.Fatalf("%s %+v, then %+v", b.Class, was, b)
		}
	}
}

// With age every edge falls, and with the resting rate every edge rises.
func TestMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		equation := rapid.SampledFrom([]heartrate.Equation{
			heartrate.Gellish2007, heartrate.Tanaka2001, heartrate.Nes2013, heartrate.Fox1971, heartrate.Inbar1994,
		}).Draw(t, "equation")
		p := heartrate.Person{Age: rapid.IntRange(18, 89).Draw(t, "age"), RestingHR: heartrate.BPM(rapid.IntRange(40, 90).Draw(t, "rest")), Equation: equation}
		young := ranges(t, p)
		older, livelier := p, p
		older.Age++
		livelier.RestingHR++
		old, lively := ranges(t, older), ranges(t, livelier)
		if old.Max >= young.Max {
			t.Fatalf("maximum %s, a year later %s", young.Max, old.Max)
		}
		for i := range young.Bands {
			if old.Bands[i].Low > young.Bands[i].Low || old.Bands[i].High > young.Bands[i].High || old.Bands[i].PrescribeTo > young.Bands[i].PrescribeTo {
				t.Fatalf("%d years %+v, a year later %+v", p.Age, young.Bands[i], old.Bands[i])
			}
			if lively.Bands[i].Low < young.Bands[i].Low || lively.Bands[i].High < young.Bands[i].High {
				t.Fatalf("resting %d %+v, a beat more %+v", p.RestingHR, young.Bands[i], lively.Bands[i])
			}
		}
	})
}

// Nearest rounding would print the low edge of moderate in the class below for
// nearly half of all people; our edges never do.
func TestEdgesOverAllAdults(t *testing.T) {
	cases, wrong := 0, 0
	for age := 18; age <= 90; age++ {
		for rest := heartrate.BPM(45); rest <= 100; rest++ {
			z, err := heartrate.ZonesFor(heartrate.Person{Age: age, RestingHR: rest}, policy)
			if err != nil {
				t.Fatal(err)
			}
			cases++
			edge, _ := heartrate.Target(z.Max, rest, 40*pc)
			if heartrate.ClassOf(z.Max, rest, edge.Nearest()) != intensity.Moderate {
				wrong++
			}
			if got := heartrate.ClassOf(z.Max, rest, z.Band(intensity.Moderate).Low); got != intensity.Moderate {
				t.Fatalf("%d years, resting %d: the low edge of moderate is %s", age, rest, got)
			}
			if got := heartrate.ClassOf(z.Max, rest, z.Band(intensity.Moderate).Low-1); got != intensity.Light {
				t.Fatalf("%d years, resting %d: a beat below moderate is %s", age, rest, got)
			}
		}
	}
	if cases != 4088 || wrong != 1959 { // counted once with exact fractions
		t.Errorf("%d of %d low edges would be in the class below; want 1959 of 4088", wrong, cases)
	}
}
