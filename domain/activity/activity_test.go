package activity_test

import (
	"errors"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/activity"
	"brae/domain/intensity"
	"brae/domain/source"

	"pgregory.net/rapid"
)

var defaults = activity.PolicyFrom(nil)

// The METs in use, those of the edition before, and codes times editions, added up
// over the list from the editions themselves.
const sumNow, sumWas, sumCodes = 3916, 1240, 1945788947

// TestByCode has values that the compendium prints.
func TestByCode(t *testing.T) {
	const e11, e24 = activity.Edition2011, activity.Edition2024
	for _, tt := range []struct {
		source  string
		edition activity.Edition
		code    string
		id      string
		tenths  int
		class   intensity.Class
	}{
		{"compendium 2011: cycling in general", e11, "01015", "bike", 75, intensity.Vigorous},
		{"compendium 2024: the same code is an easy ride", e24, "01015", "bike_own_easy", 43, intensity.Moderate},
		{"compendium 2024: cycling in general has a new code", e24, "01014", "bike", 70, intensity.Vigorous},
		{"compendium 2011: walk at 3 mph", e11, "17190", "walk_moderate", 35, intensity.Moderate},
		{"compendium 2024: walk at 3 mph", e24, "17190", "walk_moderate", 38, intensity.Moderate},
		{"compendium 2011: brisk walk", e11, "17200", "walk_brisk", 43, intensity.Moderate},
		{"compendium 2024: brisk walk", e24, "17200", "walk_brisk", 48, intensity.Moderate},
		{"compendium 2011: twelve-minute mile", e11, "12030", "run_8", 83, intensity.Vigorous},
		{"compendium 2024: twelve-minute mile", e24, "12030", "run_8", 85, intensity.Vigorous},
		{"compendium 2011: tai chi, sitting", e11, "15672", "tai_chi_seated", 15, intensity.VeryLight},
		{"compendium 2011: stroll", e11, "17151", "walk_stroll", 20, intensity.Light},
		{"compendium 2024: ten-minute mile is above 8.8", e24, "12050", "run_9_7", 93, intensity.NearMaximal},
		{"compendium 2024: jogging on the spot fell", e24, "12025", "jog_on_spot", 48, intensity.Moderate},
		{"compendium 2011: jogging on the spot", e11, "12025", "jog_on_spot", 80, intensity.Vigorous},
		{"compendium 2024: exercise bike has a new code", e24, "01200", "exercise_bike", 68, intensity.Vigorous},
		{"compendium 2011: exercise bike", e11, "02010", "exercise_bike", 70, intensity.Vigorous},
		{"compendium 2011: exercise bike at 90 to 100 W", e11, "02012", "exercise_bike_brisk", 68, intensity.Vigorous},
		{"compendium 2024: easy walk is moderate from 3", e24, "17170", "walk_easy", 30, intensity.Moderate},
		{"compendium 2011: sitting", e11, "07021", "sitting", 13, intensity.VeryLight},
		{"compendium 2011: wheelchair basketball", e11, "15075", "wheelchair_basketball", 78, intensity.Vigorous},
		{"compendium 2011: gardening", e11, "08245", "gardening", 38, intensity.Moderate},
	} {
		t.Run(tt.source, func(t *testing.T) {
			a, v, err := activity.ByCode(tt.edition, tt.code)
			if err != nil {
				t.Fatal(err)
			}
			if a.ID != tt.id || v.METTenths != tt.tenths || v.Class() != tt.class {
				t.Errorf("ByCode(%d, %s) = %s, %d tenths, %s; want %s, %d, %s", tt.edition, tt.code, a.ID, v.METTenths, v.Class(), tt.id, tt.tenths, tt.class)
			}
		})
	}
	for _, code := range []string{"99999", "", "01014"} {
		if a, _, err := activity.ByCode(e11, code); err != domain.ErrNotFound {
			t.Errorf("ByCode(2011, %q) = %s, %v; want not found", code, a.ID, err)
		}
	}
}

// TestList guards the shape of the list; the sums catch a slip in any value.
func TestList(t *testing.T) {
	all := activity.All()
	if len(all) < 60 || len(all) > 80 {
		t.Errorf("%d activities; want 60 to 80", len(all))
	}
	id, code := regexp.MustCompile(`^[a-z][a-z0-9_]{2,24}$`), regexp.MustCompile(`^[0-9]{5}$`)
	ids, names, keys := map[string]bool{}, map[string]bool{}, map[string]bool{}
	groups := activity.Groups()
	group, last := 0, 0
	now, was, codes := 0, 0, 0
	for _, a := range all {
		if !id.MatchString(a.ID) || ids[a.ID] || a.Name == "" || names[a.Name] {
			t.Errorf("%q, %q: name or id is missing, odd or taken", a.ID, a.Name)
		}
		ids[a.ID], names[a.Name] = true, true
		for i, v := range []activity.Value{a.Value, a.Was} {
			if i == 1 && v == (activity.Value{}) {
				continue
			}
			key := string(rune('0'+v.Edition%10)) + v.Code
			if !code.MatchString(v.Code) || keys[key] || v.Basis != activity.Adult || v.METTenths < 9 {
				t.Errorf("%s: value %+v is not complete or its key is taken", a.ID, v)
			}
			keys[key] = true
			n := 0
			for _, d := range v.Code {
				n = 10*n + int(d-'0')
			}
			codes += n * int(v.Edition)
		}
		if a.Edition == activity.Edition2011 && a.Was.Edition != 0 || a.Was.Edition == activity.Edition2024 {
			t.Errorf("%s: the older edition is in use", a.ID)
		}
		now, was = now+a.METTenths, was+a.Was.METTenths
		for group < len(groups) && groups[group] != a.Group {
			group, last = group+1, 0
		}
		if group == len(groups) {
			t.Fatalf("%s is out of the order of groups", a.ID)
		}
		if a.METTenths < last {
			t.Errorf("%s is easier than the one before it", a.ID)
		}
		last = a.METTenths
		if found, err := activity.Find(a.ID); err != nil || found != a {
			t.Errorf("Find(%s) = %+v, %v; want it", a.ID, found, err)
		}
	}
	if now != sumNow || was != sumWas || codes != sumCodes {
		t.Errorf("sums = %d, %d, %d; want %d, %d, %d", now, was, codes, sumNow, sumWas, sumCodes)
	}
	if _, err := activity.Find("levitating"); err != domain.ErrNotFound {
		t.Errorf("Find(levitating) = %v; want not found", err)
	}
	all[0].Name = "x"
	if activity.All()[0].Name == "x" {
		t.Error("a change of one copy shows in the next")
	}
}

func TestSearch(t *testing.T) {
	for _, tt := range []struct {
		source, text string
		want         []string
	}{
		{"a word", "crutches", []string{"walk_crutches"}},
		{"the beginning of words, in any order and case", "Bris WALK", []string{"walk_brisk", "walk_very_brisk"}},
		{"other words", "elliptical", []string{"cross_trainer"}},
		{"an id", "tai_chi_seated", []string{"tai_chi_seated"}},
		{"with marks", "tennis, doubles", []string{"tennis_doubles"}},
		{"the middle of a word is not found", "risk", nil},
		{"nothing like it", "levitating", nil},
	} {
		t.Run(tt.source, func(t *testing.T) {
			var got []string
			for _, a := range activity.Search(tt.text) {
				got = append(got, a.ID)
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("Search(%q) = %v; want %v", tt.text, got, tt.want)
			}
		})
	}
	if got := len(activity.Search("  ")); got != len(activity.All()) {
		t.Errorf("Search of no words finds %d; want all", got)
	}
	bikes := activity.Search("bike")
	if !slices.ContainsFunc(bikes, func(a activity.Activity) bool { return a.ID == "cycle_class" }) {
		t.Error("Search(bike) does not find the cycling class")
	}
}

func FuzzSearch(f *testing.F) {
	for _, s := range []string{"", "walk", "WALK brisk", "\xff", "--", "é bike"} {
		f.Add(s)
	}
	all := activity.All()
	f.Fuzz(func(t *testing.T, s string) {
		found := activity.Search(s)
		if !slices.IsSortedFunc(found, func(a, b activity.Activity) int { return slices.Index(all, a) - slices.Index(all, b) }) {
			t.Fatalf("Search(%q) is out of order", s)
		}
		for _, a := range activity.Search(s + " walk") { // one more word never finds more
			if !slices.Contains(found, a) {
				t.Fatalf("Search(%q and walk) finds %s, without walk it does not", s, a.ID)
			}
		}
	})
}

func TestEnergyOf(t *testing.T) {
	adult := func(tenths int) activity.Value {
		return activity.Value{METTenths: tenths, Basis: activity.Adult}
	}
	for _, tt := range []struct {
		source                        string
		value                         activity.Value
		kg                            float64
		minutes                       int
		grossMin, netMin, gross, nett float64
		tol                           float64
	}{
		{"ACSM, METs x 3.5 x kg / 200, by hand: 3.5 METs, 70 kg, 30 minutes", adult(35), 70, 30, 4.2875, 3.0625, 128.625, 91.875, 1e-9},
		{"ACSM, METs x 3.5 x kg / 200, by hand: 7 METs, 60 kg, an hour", adult(70), 60, 60, 7.35, 6.3, 441, 378, 1e-9},
		{"university answer sheet, printed by 1 kcal a MET, kg and hour: 7 METs, 60 kg are 420, 5 % less than by 3.5 ml", adult(70), 60, 60, 7 * 1.05, 6 * 1.05, 420 * 1.05, 360 * 1.05, 1e-9},
		{"university answer sheet, printed by 1 kcal a MET, kg and hour: 300 kcal in 43 minutes, 5 % less", adult(70), 60, 43, 7.35, 6.3, 300 * 1.05, 257 * 1.05, 2},
		{"Willis 2024, METs x 2.7 x kg / 200, by hand: 4 METs of older adults", activity.Value{METTenths: 40, Basis: activity.Older}, 70, 10, 3.78, 2.835, 37.8, 28.35, 1e-9},
		{"by hand: asleep the net is below zero", adult(9), 80, 10, 1.26, -0.14, 12.6, -1.4, 1e-9},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := activity.EnergyOf(tt.value, tt.kg, tt.minutes, defaults)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "gross a minute", got.GrossKcalMin, tt.grossMin, tt.tol)
			near(t, "net a minute", got.NetKcalMin, tt.netMin, tt.tol)
			near(t, "gross", got.GrossKcal, tt.gross, tt.tol)
			near(t, "net", got.NetKcal, tt.nett, tt.tol)
		})
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %v; want %v within %v", what, got, want, tol)
	}
}

func TestBasis(t *testing.T) {
	walk := activity.Value{METTenths: 35, Basis: activity.Adult}
	near(t, "Willis 2024: 3.5 METs of adults in METs of older adults", walk.In(activity.Older), 4.54, 0.005)
	near(t, "the same basis", walk.In(activity.Adult), 3.5, 1e-9)
	near(t, "oxygen of 3.5 METs", walk.VO2(), 12.25, 1e-9)
	near(t, "oxygen of 4 METs of older adults", activity.Value{METTenths: 40, Basis: activity.Older}.VO2(), 10.8, 1e-9)
	near(t, "no such basis", walk.In("child"), 0, 0)
	if got := (activity.Value{}).Class(); got != intensity.None {
		t.Errorf("class of nothing = %s; want none", got)
	}
}

func TestMETMinutes(t *testing.T) {
	for _, tt := range []struct {
		source          string
		tenths, minutes int
		want            float64
	}{
		{"by hand: the guideline at 3.5 METs", 35, 150, 525},
		{"by hand: the guideline at 4.3 METs", 43, 150, 645},
		{"PAGA 2018 p. 108: 4 METs, 30 minutes", 40, 30, 120},
		{"PAGA 2018 p. 108: 8 METs, 15 minutes", 80, 15, 120},
		{"Haskell 2007: lower end of moderate", 30, 150, 450},
		{"Haskell 2007: lower end of vigorous", 60, 75, 450},
		{"WHO surveys: 600", 40, 150, 600},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := activity.METMinutes(activity.Value{METTenths: tt.tenths, Basis: activity.Adult}, tt.minutes, defaults)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "MET-minutes", got, tt.want, 0)
		})
	}
}

func TestWeek(t *testing.T) {
	part := func(tenths, minutes int, b activity.Basis) activity.Part {
		return activity.Part{Value: activity.Value{METTenths: tenths, Basis: b}, Minutes: minutes}
	}
	for _, tt := range []struct {
		source string
		parts  []activity.Part
		want   float64
		band   activity.Band
	}{
		{"Haskell 2007, printed 518: two walks of 30 minutes at 3.3 METs, two runs of 20 at 8", []activity.Part{part(33, 30, activity.Adult), part(33, 30, activity.Adult), part(80, 20, activity.Adult), part(80, 20, activity.Adult)}, 518, activity.Within},
		{"nothing done", nil, 0, activity.Under},
		{"PAGA 2018: below 3 METs does not count", []activity.Part{part(29, 600, activity.Adult), part(30, 10, activity.Adult)}, 30, activity.Under},
		{"Garber 2011: below 500", []activity.Part{part(30, 166, activity.Adult)}, 498, activity.Under},
		{"Garber 2011: from 500", []activity.Part{part(40, 125, activity.Adult)}, 500, activity.Within},
		{"Garber 2011: to 1000", []activity.Part{part(40, 250, activity.Adult)}, 1000, activity.Within},
		{"Garber 2011: half a MET-minute above 1000", []activity.Part{part(69, 145, activity.Adult)}, 1000.5, activity.Over},
		{"Garber 2011: above 1000", []activity.Part{part(40, 251, activity.Adult)}, 1004, activity.Over},
		{"Willis 2024: METs of older adults are converted, 350 x 2.7 / 3.5", []activity.Part{part(35, 100, activity.Older)}, 270, activity.Under},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, band, err := activity.Week(tt.parts, defaults)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "MET-minutes", got, tt.want, 1e-9)
			if band != tt.band {
				t.Errorf("band = %s; want %s", band, tt.band)
			}
		})
	}
}

func TestRefuses(t *testing.T) {
	ok := activity.Value{METTenths: 35, Basis: activity.Adult}
	energy := func(v activity.Value, kg float64, minutes int) error {
		_, err := activity.EnergyOf(v, kg, minutes, defaults)
		return err
	}
	minutes := func(v activity.Value, minutes int) error {
		got, err := activity.METMinutes(v, minutes, defaults)
		if err != nil && got != 0 {
			t.Errorf("%v MET-minutes beside an error", got)
		}
		return err
	}
	week := func(parts ...activity.Part) error {
		got, band, err := activity.Week(parts, defaults)
		if err != nil && (got != 0 || band != activity.Under) {
			t.Errorf("%v MET-minutes, %s, beside an error", got, band)
		}
		return err
	}
	typed := func(tenths int, b activity.Basis) error {
		_, err := activity.Typed(tenths, b, defaults)
		return err
	}
	for _, tt := range []struct {
		source string
		err    error
		fields []string
	}{
		{"practice setting: too light", energy(ok, 19.9, 30), []string{"weight_kg"}},
		{"practice setting: too heavy", energy(ok, 400.1, 30), []string{"weight_kg"}},
		{"not a weight", energy(ok, math.NaN(), 30), []string{"weight_kg"}},
		{"no time", energy(ok, 70, 0), []string{"minutes"}},
		{"more than a week", minutes(ok, 10081), []string{"minutes"}},
		{"no METs, no basis", minutes(activity.Value{}, 10), []string{"activity_met", "basis"}},
		{"practice setting: 0.8 METs", typed(8, activity.Adult), []string{"activity_met"}},
		{"practice setting: 25.1 METs", typed(251, activity.Older), []string{"activity_met"}},
		{"no such basis", typed(30, "child"), []string{"basis"}},
		{"parts of a week", week(activity.Part{Value: ok, Minutes: 30}, activity.Part{Value: activity.Value{METTenths: 260, Basis: activity.Adult}, Minutes: -1}), []string{"parts[1].activity_met", "parts[1].minutes"}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			p, found := errors.AsType[domain.Problems](tt.err)
			if got := slices.Sorted(maps.Keys(p)); !found || !slices.Equal(got, tt.fields) {
				t.Errorf("error = %v; want problems at %v", tt.err, tt.fields)
			}
		})
	}
	for _, err := range []error{energy(ok, 20, 1), energy(ok, 400, 10080), typed(9, activity.Adult), typed(250, activity.Older), minutes(ok, 10080)} {
		if err != nil {
			t.Errorf("at the limits: %v; want none", err)
		}
	}
	if v, err := activity.Typed(45, activity.Older, defaults); err != nil || v != (activity.Value{METTenths: 45, Basis: activity.Older}) {
		t.Errorf("Typed(45, older) = %+v, %v", v, err)
	}
}

func TestCadenceClass(t *testing.T) {
	for _, tt := range []struct {
		source string
		steps  int
		want   intensity.Class
	}{
		{"Tudor-Locke 2019: 3 METs from 100", 100, intensity.Moderate},
		{"Tudor-Locke 2019: less below", 99, intensity.Light},
		{"Tudor-Locke 2019: 6 METs from 130", 130, intensity.Vigorous},
		{"Tudor-Locke 2019: moderate below", 129, intensity.Moderate},
		{"one step", 1, intensity.Light},
		{"a sprint", 250, intensity.Vigorous},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := activity.CadenceClass(tt.steps)
			if err != nil || got != tt.want {
				t.Errorf("CadenceClass(%d) = %s, %v; want %s", tt.steps, got, err, tt.want)
			}
		})
	}
	for _, steps := range []int{0, -1, 251} {
		if got, err := activity.CadenceClass(steps); err == nil || got != intensity.None {
			t.Errorf("CadenceClass(%d) = %s, %v; want it refused", steps, got, err)
		}
	}
}

// A week is the same in any order and any split of its parts.
func TestWeekAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "parts")
		var parts, split []activity.Part
		for range n {
			v := activity.Value{
				METTenths: rapid.IntRange(9, 200).Draw(t, "tenths"),
				Basis:     rapid.SampledFrom([]activity.Basis{activity.Adult, activity.Older}).Draw(t, "basis"),
			}
			minutes := rapid.IntRange(2, 300).Draw(t, "minutes")
			cut := rapid.IntRange(1, minutes-1).Draw(t, "cut")
			parts = append(parts, activity.Part{v, minutes})
			split = append(split, activity.Part{v, cut}, activity.Part{v, minutes - cut})
		}
		slices.Reverse(split)
		a, band, err := activity.Week(parts, defaults)
		b, other, err2 := activity.Week(split, defaults)
		if err != nil || err2 != nil || a != b || band != other {
			t.Fatalf("whole %v %s, %v; split %v %s, %v", a, band, err, b, other, err2)
		}
	})
}

func TestSources(t *testing.T) {
	seen := map[string]bool{}
	check := func(id string, cites []source.Key) {
		if seen[id] || !strings.HasPrefix(id, "activity.") || len(cites) == 0 {
			t.Errorf("%s: name taken or no source", id)
		}
		seen[id] = true
		for _, k := range cites {
			if _, ok := source.Find(k); !ok {
				t.Errorf("%s: no citation %s", id, k)
			}
		}
	}
	for _, r := range activity.Rules {
		check(r.ID, r.Cites)
		if r.Says == "" || r.Topic != source.TopicActivity {
			t.Errorf("rule %+v is not complete", r)
		}
	}
	for _, s := range activity.Settings {
		check(s.Key, s.Cites)
		want := map[string][3]int{"activity.weight_low": {20, 10, 40}, "activity.weight_high": {400, 200, 650}}[s.Key]
		if got := [3]int{s.Default, s.Low, s.High}; got != want {
			t.Errorf("%s = %v; want %v", s.Key, got, want)
		}
		if activity.PolicyFrom(source.Values{s.Key: s.Low}) == defaults {
			t.Errorf("%s changes nothing", s.Key)
		}
	}
}
