package heartrate_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/source"
)

// band is a class's range, what may be prescribed of it, and why there is none.
type band struct {
	low, high, to heartrate.BPM
	why           heartrate.Unavailable
}

func bandsOf(bands [5]heartrate.Band) (out [5]band) {
	for i, b := range bands {
		out[i] = band{b.Low, b.High, b.PrescribeTo, b.Why}
	}
	return out
}

func open(low, high, to heartrate.BPM) band { return band{low, high, to, heartrate.Available} }

func all(why heartrate.Unavailable) [5]band {
	shut := band{why: why}
	return [5]band{shut, shut, shut, shut, shut}
}

func TestZonesFor(t *testing.T) {
	type person = heartrate.Person
	overCeiling := band{why: heartrate.ByCeiling}
	rough := band{why: heartrate.ByRoughMax}
	for _, tt := range []struct {
		source   string
		edit     func(*person)
		max      string
		maxError heartrate.BPM
		want     [5]band // very light, light, moderate, vigorous, near-maximal
		ceiling  heartrate.BPM
		from     heartrate.CeilingKind
		notes    []string
	}{
		{"Garber 2011 and Gellish 2007: 60 years, resting 72", nil, "165", 11,
			[5]band{open(72, 99, 99), open(100, 109, 109), open(110, 127, 127), open(128, 155, 146), open(156, 165, 0)}, 0, 0, nil},
		{"Garber 2011 and Gellish 2007: 45 years, resting 70", func(p *person) { p.Age = 45; p.RestingHR = 70 }, "175.5", 11,
			[5]band{open(70, 101, 101), open(102, 112, 112), open(113, 133, 133), open(134, 164, 154), open(165, 175, 0)}, 0, 0, nil},
		{"Garber 2011 and Gellish 2007: 30 years, resting 58", func(p *person) { p.Age = 30; p.RestingHR = 58 }, "186", 11,
			[5]band{open(58, 96, 96), open(97, 109, 109), open(110, 134, 134), open(135, 173, 160), open(174, 186, 0)}, 0, 0, nil},
		{"Garber 2011 on a measured peak of 180, resting 60", func(p *person) { p.RestingHR = 60; p.Peak = tested(180) }, "180", 0,
			[5]band{open(60, 95, 95), open(96, 107, 107), open(108, 131, 131), open(132, 167, 156), open(168, 180, 0)}, 0, 0, nil},
		{"PMC8306118 table 3 footnote: peak 120, resting 60, moderate from 84", func(p *person) { p.RestingHR = 60; p.Peak = tested(120) },
			"120", 0, [5]band{open(60, 77, 77), open(78, 83, 83), open(84, 95, 95), open(96, 113, 108), open(114, 120, 0)}, 0, 0, nil},
		{"threshold example: resting 62, peak 128, threshold 118", func(p *person) {
			p.RestingHR = 62
			p.Peak = tested(128)
			p.Limits.IschaemiaHR = 118
		}, "128", 0, [5]band{open(62, 81, 81), open(82, 88, 88), open(89, 101, 101), open(102, 108, 108), overCeiling},
			108, heartrate.IschaemiaCeiling, []string{"ceiling_cuts"}},
		{"wrong maximum avoided: beta-blocker, resting 58, measured peak 118", func(p *person) {
			p.Age = 62
			p.RestingHR = 58
			p.Medicines = heartrate.Z1
			p.Peak = tested(118)
		}, "118", 0, [5]band{open(58, 75, 75), open(76, 81, 81), open(82, 93, 93), open(94, 111, 106), open(112, 118, 0)},
			0, 0, []string{"resting_on_medicine"}},
		{"the same without the test: no range", func(p *person) {
			p.Age = 62
			p.RestingHR = 58
			p.Medicines = heartrate.Z1
		}, "0", 0, all(heartrate.ByBasis), 0, 0, nil},
		{"Brawner 2004 is rough: no vigorous range", func(p *person) {
			p.Conditions = coronary | onBetaBlocker
			p.Equation = heartrate.Brawner2004
			p.RestingHR = 62
		}, "122", 18, [5]band{open(62, 79, 79), open(80, 85, 85), open(86, 97, 97), rough, rough},
			0, 0, []string{"rough_maximum", "resting_on_medicine"}},
		{"abstract on resting + 20 is rough too", func(p *person) {
			p.Conditions = coronary
			p.Equation = heartrate.BrawnerNoBetaBlocker
		}, "144.8", 18, [5]band{open(72, 93, 93), open(94, 101, 101), open(102, 115, 115), rough, rough}, 0, 0, []string{"rough_maximum"}},
		{"Keteyian 2012 uses the resting rate", func(p *person) {
			p.Conditions = failing | onBetaBlocker
			p.Equation = heartrate.Keteyian2012
			p.Mode = heartrate.Cycle
			p.RestingHR = 70
		}, "119", 18, [5]band{open(70, 84, 84), open(85, 89, 89), open(90, 99, 99), rough, rough},
			0, 0, []string{"rough_maximum", "resting_on_medicine"}},
		{"doctor's number on the low edge of moderate leaves one beat", func(p *person) { p.Limits.DoctorHR = 110 }, "165", 11,
			[5]band{open(72, 99, 99), open(100, 109, 109), open(110, 110, 110), overCeiling, overCeiling},
			110, heartrate.DoctorCeiling, []string{"ceiling_cuts"}},
		{"doctor's number a beat below it closes moderate", func(p *person) { p.Limits.DoctorHR = 109 }, "165", 11,
			[5]band{open(72, 99, 99), open(100, 109, 109), overCeiling, overCeiling, overCeiling}, 109, heartrate.DoctorCeiling, nil},
		{"a ceiling inside vigorous but above the prescription", func(p *person) { p.Limits.PractitionerHR = 150 }, "165", 11,
			[5]band{open(72, 99, 99), open(100, 109, 109), open(110, 127, 127), open(128, 150, 146), overCeiling},
			150, heartrate.PractitionerCeiling, []string{"ceiling_cuts"}},
		{"a ceiling above everything changes nothing", func(p *person) { p.Limits.DoctorHR = 200 }, "165", 11,
			[5]band{open(72, 99, 99), open(100, 109, 109), open(110, 127, 127), open(128, 155, 146), open(156, 165, 0)},
			200, heartrate.DoctorCeiling, nil},
		{"a ceiling below resting leaves nothing", func(p *person) { p.Limits.DoctorHR = 71 }, "165", 11,
			all(heartrate.ByCeiling), 71, heartrate.DoctorCeiling, []string{"ceiling_below_all"}},
		{"a test stopped early at 120 is a ceiling", func(p *person) {
			p.Peak = tested(120)
			p.Peak.SymptomLimited = false
		}, "165", 11, [5]band{open(72, 99, 99), open(100, 109, 109), open(110, 120, 120), overCeiling, overCeiling},
			120, heartrate.PeakCeiling, []string{"peak_ended_early", "ceiling_cuts"}},
		{"practice setting: reserve of 19, no range", func(p *person) { p.RestingHR = 88; p.Peak = tested(107); p.Medicines = heartrate.Z1 },
			"0", 0, all(heartrate.ByReserve), 0, 0, []string{"reserve_tiny", "resting_on_medicine"}},
		{"practice setting: reserve of 20, with a warning", func(p *person) { p.RestingHR = 88; p.Peak = tested(108) }, "108", 0,
			[5]band{open(88, 93, 93), open(94, 95, 95), open(96, 99, 99), open(100, 105, 104), open(106, 108, 0)}, 0, 0, []string{"reserve_small"}},
		{"practice setting: reserve of 39, with a warning", func(p *person) { p.RestingHR = 70; p.Peak = tested(109) }, "109", 0,
			[5]band{open(70, 81, 81), open(82, 85, 85), open(86, 93, 93), open(94, 105, 101), open(106, 109, 0)}, 0, 0, []string{"reserve_small"}},
		{"practice setting: reserve of 40, without", func(p *person) { p.RestingHR = 70; p.Peak = tested(110) }, "110", 0,
			[5]band{open(70, 81, 81), open(82, 85, 85), open(86, 93, 93), open(94, 105, 102), open(106, 110, 0)}, 0, 0, nil},
		{"Evenson 2021/23: pregnant, none", func(p *person) { p.Conditions = heartrate.Pregnant }, "0", 0, all(heartrate.ByBasis),
			0, 0, []string{"pregnancy_hold"}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.ZonesFor(adult(tt.edit), policy)
			if err != nil {
				t.Fatal(err)
			}
			if got.Max.String() != tt.max || got.MaxError != tt.maxError || got.Scheme != intensity.ACSM2011 {
				t.Errorf("maximum %s ± %d by %s; want %s ± %d", got.Max, got.MaxError, got.Scheme, tt.max, tt.maxError)
			}
			if bands := bandsOf(got.Bands); bands != tt.want {
				t.Errorf("bands %v\nwant  %v", bands, tt.want)
			}
			if got.Ceiling != tt.ceiling || got.CeilingFrom != tt.from {
				t.Errorf("ceiling %d from %s; want %d from %s", got.Ceiling, got.CeilingFrom, tt.ceiling, tt.from)
			}
			n := 0
			for _, code := range tt.notes {
				if !got.Notes.Has(code) {
					t.Errorf("no note %s", code)
				}
				n++
			}
			if len(got.Notes.All()) != n {
				t.Errorf("notes %v; want %v", got.Notes.All(), tt.notes)
			}
			unavailable := 0
			for i, b := range got.Bands {
				class := intensity.Class(i + 1)
				if b.Class != class || got.Band(class) != b {
					t.Errorf("band %d is of %s", i, b.Class)
				}
				if shut := b.Why != heartrate.Available; shut != (got.Explain(class) != "") || shut != (b.High == 0) {
					t.Errorf("%s: why %q, explained %q, to %d", class, b.Why, got.Explain(class), b.High)
				}
				if b.Why != heartrate.Available {
					unavailable++
				}
			}
			if len(got.Unavailable()) != unavailable {
				t.Errorf("unavailable: %v", got.Unavailable())
			}
			if tt.max == "0" && got.Decision.Basis.Valid() {
				t.Errorf("no maximum, but basis %s", got.Decision.Basis)
			}
		})
	}
}

func TestExplain(t *testing.T) {
	z, err := heartrate.ZonesFor(adult(func(p *heartrate.Person) { p.Limits.DoctorHR = 108 }), policy)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := z.Explain(intensity.Moderate), "The ceiling of 108 is below the moderate range, which starts at 110."; got != want {
		t.Errorf("Explain(moderate) = %q; want %q", got, want)
	}
	if got := z.Explain(intensity.Light); got != "" {
		t.Errorf("Explain(light) = %q", got)
	}
	rough, err := heartrate.ZonesFor(adult(func(p *heartrate.Person) {
		p.Conditions = coronary
		p.Equation = heartrate.BrawnerNoBetaBlocker
	}), policy)
	if got := rough.Explain(intensity.NearMaximal); err != nil || got != "The maximal heart rate is too rough for near-maximal work." {
		t.Errorf("Explain(near-maximal) = %q, %v", got, err)
	}
	if got := z.Explain(intensity.None); got != "There is no valid basis for a heart-rate range." {
		t.Errorf("Explain(none) = %q", got)
	}
	if got := z.Band(intensity.None); got.Why != heartrate.ByBasis || got.High != 0 {
		t.Errorf("Band(none) = %+v", got)
	}
	if got := z.Unavailable(); len(got) != 3 || got[0] != intensity.Moderate || got[2] != intensity.NearMaximal {
		t.Errorf("Unavailable = %v", got)
	}
	z, err = heartrate.ZonesFor(adult(func(p *heartrate.Person) { p.RestingHR = 88; p.Peak = tested(107) }), policy)
	if err != nil || z.Explain(intensity.Light) != "The heart-rate reserve is too small for a range." {
		t.Errorf("tiny reserve: %q, %v", z.Explain(intensity.Light), err)
	}
	if z.Decision.Basis != heartrate.NoBasis || z.Decision.Carrier.HeartRate {
		t.Errorf("tiny reserve: basis %s, heart rate carries %t", z.Decision.Basis, z.Decision.Carrier.HeartRate)
	}
	z, err = heartrate.ZonesFor(adult(func(p *heartrate.Person) {
		p.RestingHR = 88
		p.Peak = tested(107)
		p.Limits.DoctorHR = 100
	}), policy)
	if err != nil || z.Decision.Basis != heartrate.CeilingOnly || z.Ceiling != 100 {
		t.Errorf("tiny reserve and a doctor's number: basis %s, ceiling %d, %v", z.Decision.Basis, z.Ceiling, err)
	}
}

func TestZonesForNeedsResting(t *testing.T) {
	z, err := heartrate.ZonesFor(adult(func(p *heartrate.Person) { p.RestingHR = 0 }), policy)
	if p, _ := errors.AsType[domain.Problems](err); p["resting_hr"] != "A range needs the resting heart rate." || z.Decision.Row != 13 {
		t.Errorf("no resting rate: %+v, %v", z.Decision, err)
	}
	// Without a basis none is needed.
	if _, err := heartrate.ZonesFor(adult(func(p *heartrate.Person) { p.RestingHR = 0; p.Conditions = heartrate.Pregnant }), policy); err != nil {
		t.Errorf("pregnant, no resting rate: %v", err)
	}
	// An equation can give a maximum below resting: 110 years, 220 - age.
	old := adult(func(p *heartrate.Person) { p.Age = 110; p.RestingHR = 110; p.Equation = heartrate.Fox1971 })
	if z, err := heartrate.ZonesFor(old, policy); err == nil {
		t.Errorf("maximum not above resting: %+v", z.Bands)
	}
}

// The setting narrows what is prescribed and leaves the class alone.
func TestVigorousCap(t *testing.T) {
	for _, tt := range []struct {
		source  string
		percent int
		to      heartrate.BPM
	}{
		{"practice setting: 80 % of 93 over 72 is 146.4", 80, 146},
		{"practice setting: 90 % ends with the class", 90, 155},
		{"practice setting: 65 % is 132.45", 65, 132},
		{"practice setting: 85 % is 151.05", 85, 151},
	} {
		t.Run(tt.source, func(t *testing.T) {
			z, err := heartrate.ZonesFor(adult(nil), heartrate.PolicyFrom(source.Values{"heartrate.vigorous_to_percent": tt.percent}))
			if err != nil {
				t.Fatal(err)
			}
			if b := z.Band(intensity.Vigorous); b.Low != 128 || b.High != 155 || b.PrescribeTo != tt.to {
				t.Errorf("vigorous %+v; want 128-155, prescribed to %d", b, tt.to)
			}
		})
	}
}

// A cap that somebody types for one calculation is refused outside its range.
func TestVigorousCapRefuses(t *testing.T) {
	for _, percent := range []int{64, 91, 0} {
		p := policy
		p.VigorousTo = percent
		_, err := heartrate.ZonesFor(adult(nil), p)
		if problems, _ := errors.AsType[domain.Problems](err); problems["vigorous_to_percent"] == "" {
			t.Errorf("up to %d %%: %v; want a problem", percent, err)
		}
	}
}

func TestBeat(t *testing.T) {
	z, err := heartrate.ZonesFor(adult(func(p *heartrate.Person) { p.Limits.DoctorHR = 120 }), policy)
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		source string
		hr     heartrate.BPM
		want   heartrate.Beat
	}{
		{"Garber 2011: 109 is 39.78 %", 109, heartrate.Beat{Class: intensity.Light, Percent: 3978}},
		{"Garber 2011: on the ceiling", 120, heartrate.Beat{Class: intensity.Moderate, Percent: 5161}},
		{"Garber 2011: above the ceiling it keeps its class", 121, heartrate.Beat{Class: intensity.Moderate, Percent: 5269, AboveCeiling: true}},
		{"the maximum itself is not above it", 165, heartrate.Beat{Class: intensity.NearMaximal, Percent: 10_000, AboveCeiling: true}},
		{"above the maximum is a finding", 166, heartrate.Beat{Class: intensity.NearMaximal, Percent: 10_108, AboveMax: true, AboveCeiling: true}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := z.Beat(tt.hr); got != tt.want {
				t.Errorf("Beat(%d) = %+v; want %+v", tt.hr, got, tt.want)
			}
			e := z.Evidence(tt.hr)
			if want := (intensity.HeartRate{Class: tt.want.Class, Valid: true, AboveCeiling: tt.want.AboveCeiling}); *e != want {
				t.Errorf("Evidence(%d) = %+v; want %+v", tt.hr, *e, want)
			}
		})
	}
	none, err := heartrate.ZonesFor(adult(func(p *heartrate.Person) { p.Conditions = heartrate.Fibrillation; p.Limits.DoctorHR = 120 }), policy)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := none.Beat(130), (heartrate.Beat{AboveCeiling: true}); got != want {
		t.Errorf("without a basis: %+v; want %+v", got, want)
	}
	if got, want := *none.Evidence(110), (intensity.HeartRate{}); got != want {
		t.Errorf("evidence without a basis: %+v", got)
	}
	peak, err := heartrate.ZonesFor(adult(func(p *heartrate.Person) { p.Peak = tested(170) }), policy)
	if err != nil {
		t.Fatal(err)
	}
	if got := peak.Evidence(130); !got.Measured || !got.Valid {
		t.Errorf("evidence on a measured peak: %+v", got)
	}
}

func TestMaximumView(t *testing.T) {
	resting := band{why: heartrate.ByResting}
	for _, tt := range []struct {
		source string
		edit   func(*heartrate.Person)
		want   [5]band
	}{
		{"Garber 2011, %HRmax, maximum 165: 94.05, 105.6, 127.05, 158.4", nil,
			[5]band{open(72, 94, 0), open(95, 105, 0), open(106, 127, 0), open(128, 158, 0), open(159, 165, 0)}},
		{"Garber 2011, %HRmax, maximum 180: 102.6, 115.2, 138.6, 172.8", func(p *heartrate.Person) { p.Peak = tested(180) },
			[5]band{open(72, 102, 0), open(103, 115, 0), open(116, 138, 0), open(139, 172, 0), open(173, 180, 0)}},
		{"Garber 2011, %HRmax: resting above the first edge", func(p *heartrate.Person) { p.RestingHR = 96; p.Peak = tested(150) },
			[5]band{resting, resting, open(96, 115, 0), open(116, 143, 0), open(144, 150, 0)}},
		{"Garber 2011, %HRmax: one beat of light is left", func(p *heartrate.Person) { p.RestingHR = 95; p.Peak = tested(150) },
			[5]band{resting, open(95, 95, 0), open(96, 115, 0), open(116, 143, 0), open(144, 150, 0)}},
		{"a ceiling cuts this view too", func(p *heartrate.Person) { p.Limits.DoctorHR = 110 },
			[5]band{open(72, 94, 0), open(95, 105, 0), open(106, 110, 0), {why: heartrate.ByCeiling}, {why: heartrate.ByCeiling}}},
		{"no basis, no view", func(p *heartrate.Person) { p.Conditions = heartrate.Fibrillation }, all(heartrate.ByBasis)},
		{"Brawner 2004 is rough in this view too", func(p *heartrate.Person) {
			p.Conditions = coronary | onBetaBlocker
			p.Equation = heartrate.Brawner2004
			p.RestingHR = 62
		}, [5]band{open(62, 69, 0), open(70, 78, 0), open(79, 93, 0), {why: heartrate.ByRoughMax}, {why: heartrate.ByRoughMax}}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			z, err := heartrate.ZonesFor(adult(tt.edit), policy)
			if err != nil {
				t.Fatal(err)
			}
			before := z
			if got := bandsOf(z.MaximumView()); got != tt.want {
				t.Errorf("MaximumView = %v\nwant %v", got, tt.want)
			}
			if z != before {
				t.Error("MaximumView changed its zones")
			}
		})
	}
}

func TestOxygen(t *testing.T) {
	for _, tt := range []struct {
		source  string
		maximal heartrate.Oxygen
		p       intensity.Percent
		exact   string
		mets    intensity.MET
	}{
		{"ACSM guidelines, box on reserve methods (from memory), 50 %", 30_000, 50 * pc, "16.75", 479},
		{"ACSM guidelines, box on reserve methods (from memory), 60 %", 30_000, 60 * pc, "19.4", 554},
		{"Whitworth University: 70 % of 50", 50_000, 70 * pc, "36.05", 1030},
		{"homework answer: 40 % of 35, 4.6 METs", 35_000, 40 * pc, "16.1", 460},
		{"homework answer: 60 % of 35, 6.4 METs", 35_000, 60 * pc, "22.4", 640},
		{"consumer page: 70 % of 35", 35_000, 70 * pc, "25.55", 730},
		{"consumer page: 85 % of 35 (misprinted there as 30.75; the sum is 30.275)", 35_000, 85 * pc, "30.275", 865},
		{"arithmetic: half a hundredth of a MET goes up", 66_535, 50 * pc, "35.0175", 1001},
		{"Swain 1997: nothing of the reserve is rest", 35_000, 0, "3.5", 100},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := heartrate.OxygenTarget(tt.maximal, tt.p)
			if err != nil || got.String() != tt.exact || got.METs() != tt.mets {
				t.Errorf("OxygenTarget(%d, %s) = %s, %s METs, %v; want %s, %s", tt.maximal, tt.p, got, got.METs(), err, tt.exact, tt.mets)
			}
		})
	}
	view, err := heartrate.OxygenView(30_000)
	if err != nil {
		t.Fatal(err)
	}
	edges := []string{"3.5", "11.45", "14.1", "19.4", "27.35", "30"} // 30, 40, 60, 90 % of 26.5 over 3.5
	for i, b := range view {
		if b.Class != intensity.Class(i+1) || b.From.String() != edges[i] || b.To.String() != edges[i+1] {
			t.Errorf("%s from %s to %s; want %s to %s", b.Class, b.From, b.To, edges[i], edges[i+1])
		}
	}
	for _, bad := range []heartrate.Oxygen{3_500, 100_001, 0, -1} {
		if got, err := heartrate.OxygenTarget(bad, 50*pc); err == nil || got != 0 {
			t.Errorf("OxygenTarget(%d) = %s, %v; want an error", bad, got, err)
		}
		if _, err := heartrate.OxygenView(bad); err == nil {
			t.Errorf("OxygenView(%d): no error", bad)
		}
	}
	if _, err := heartrate.OxygenTarget(100_000, 50*pc); err != nil {
		t.Errorf("OxygenTarget(100): %v", err)
	}
	if got, err := heartrate.OxygenTarget(35_000, 101*pc); err == nil || got != 0 {
		t.Errorf("OxygenTarget at 101 %% = %s, %v; want an error", got, err)
	}
}

func BenchmarkZones(b *testing.B) {
	p := heartrate.Person{Age: 60, RestingHR: 72}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := heartrate.ZonesFor(p, policy); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkZonesMeasuredWithCeiling(b *testing.B) {
	p := adult(func(p *heartrate.Person) {
		p.Conditions = heartrate.ICD
		p.Medicines = heartrate.Z1
		p.Peak = tested(150)
		p.Limits = heartrate.Limits{ICDDetectionHR: 170, IschaemiaHR: 140}
	})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := heartrate.ZonesFor(p, policy); err != nil {
			b.Fatal(err)
		}
	}
}
