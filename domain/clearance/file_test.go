package clearance_test

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
)

// change makes a variant of a decision.
type change = func(*clearance.Decision)

func id(id string) change { return func(d *clearance.Decision) { d.ID = id } }

func ceiling(c intensity.Class) change { return func(d *clearance.Decision) { d.Ceiling = c } }

func covers(codes ...string) change {
	return func(d *clearance.Decision) { d.Considered = codes }
}

func specialist(d *clearance.Decision) { d.DecidedBy.Specialist = true }

func outcome(o clearance.Outcome) change {
	return func(d *clearance.Decision) { d.Outcome, d.Ceiling = o, none }
}

func supersedes(id string) change { return func(d *clearance.Decision) { d.Supersedes = id } }

func work(w clearance.Work) change { return func(d *clearance.Decision) { d.Work = w } }

func TestSummarise(t *testing.T) {
	ago := func(months int) domain.Date { return today.AddMonths(-months) }
	for _, tt := range []struct {
		source    string
		name      string
		decisions []clearance.Decision
		changes   []clearance.Change
		onFile    clearance.OnFile
		cap       intensity.Class
		limitedTo intensity.Class
		stent     intensity.Class // what is released with a stent; none is nothing
	}{
		{setting, "nothing", nil, nil, "none", none, none, none},
		{setting, "one", []clearance.Decision{decided(ago(2))}, nil, "cleared", moderate, none, moderate},
		{acsmFigure, "one that has lapsed", []clearance.Decision{decided(ago(12))}, nil, "lapsed", none, moderate, none},
		{setting, "one that was revoked: its ceiling stays", []clearance.Decision{decided(ago(2), func(d *clearance.Decision) { d.RevokedOn = today })}, nil, "lapsed", none, moderate, none},
		{setting, "one entered in error never was", []clearance.Decision{decided(ago(2), func(d *clearance.Decision) { d.Erroneous = true })}, nil, "none", none, none, none},
		{setting, "one that is yet to start", []clearance.Decision{decided(ago(2), func(d *clearance.Decision) { d.ValidFrom = today.AddDays(1) })}, nil, "none", none, none, none},
		{setting, "not now", []clearance.Decision{decided(ago(2), outcome(clearance.NotNow))}, nil, "refused", none, none, none},
		{setting, "not now, a year ago: a refusal does not lapse into anything", []clearance.Decision{decided(ago(14), outcome(clearance.NotNow))}, nil, "refused", none, none, none},
		{setting, "refer on", []clearance.Decision{decided(ago(2), outcome(clearance.ReferOn))}, nil, "none", none, none, none},
		{setting, "refer on, after a clearance: its ceiling stays", []clearance.Decision{decided(ago(4), id("0"), ceiling(light)), decided(ago(2), outcome(clearance.ReferOn))}, nil, "none", none, light, none},
		{setting, "refer on, after not now", []clearance.Decision{decided(ago(4), id("0"), outcome(clearance.NotNow)), decided(ago(2), outcome(clearance.ReferOn))}, nil, "refused", none, none, none},
		{setting, "refer on, then cleared", []clearance.Decision{decided(ago(4), id("0"), outcome(clearance.ReferOn)), decided(ago(2))}, nil, "cleared", moderate, none, moderate},
		{setting, "a specialist refers on, a generalist clears", []clearance.Decision{decided(ago(4), id("0"), outcome(clearance.ReferOn), specialist), decided(ago(2))}, nil, "none", none, moderate, none},
		{setting, "refer on that has lapsed", []clearance.Decision{decided(ago(14), outcome(clearance.ReferOn))}, nil, "lapsed", none, none, none},
		{setting, "cleared after not now", []clearance.Decision{decided(ago(4), outcome(clearance.NotNow)), decided(ago(2), id("2"))}, nil, "cleared", moderate, none, moderate},
		{setting, "not now after cleared", []clearance.Decision{decided(ago(4)), decided(ago(2), id("2"), outcome(clearance.NotNow))}, nil, "refused", none, none, none},
		{setting, "a specialist's not now, a generalist clears", []clearance.Decision{decided(ago(4), outcome(clearance.NotNow), specialist), decided(ago(2), id("2"))}, nil, "refused", none, none, none},
		{setting, "the order does not matter", []clearance.Decision{decided(ago(2), id("2")), decided(ago(4), outcome(clearance.NotNow))}, nil, "cleared", moderate, none, moderate},

		{setting, "the newer sets the ceiling", []clearance.Decision{decided(ago(4)), decided(ago(2), id("2"), ceiling(vigorous))}, nil, "cleared", vigorous, none, vigorous},
		{setting, "the newer lowers it", []clearance.Decision{decided(ago(4)), decided(ago(2), id("2"), ceiling(light))}, nil, "cleared", light, none, light},
		{setting, "a generalist does not raise a specialist's", []clearance.Decision{decided(ago(4), specialist), decided(ago(2), id("2"), ceiling(vigorous))}, nil, "cleared", moderate, none, moderate},
		{setting, "a generalist may lower it", []clearance.Decision{decided(ago(4), specialist), decided(ago(2), id("2"), ceiling(light))}, nil, "cleared", light, none, light},
		{setting, "a specialist raises a generalist's", []clearance.Decision{decided(ago(4)), decided(ago(2), id("2"), ceiling(vigorous), specialist)}, nil, "cleared", vigorous, none, vigorous},
		{setting, "the newer does not cover the stent: its older ceiling stays for it", []clearance.Decision{decided(ago(4)), decided(ago(2), id("2"), ceiling(vigorous), covers("angina"))}, nil, "cleared", vigorous, none, moderate},
		{setting, "superseded, with the newer", []clearance.Decision{decided(ago(4)), decided(ago(2), id("2"), ceiling(vigorous), covers("angina"), supersedes("1"))}, nil, "cleared", vigorous, none, none},
		{setting, "superseded by one in error", []clearance.Decision{decided(ago(4)), decided(ago(2), id("2"), ceiling(vigorous), supersedes("1"), func(d *clearance.Decision) { d.Erroneous = true })}, nil, "cleared", moderate, none, moderate},
		{setting, "superseded from tomorrow", []clearance.Decision{decided(ago(4)), decided(ago(2), id("2"), ceiling(vigorous), supersedes("1"), func(d *clearance.Decision) { d.ValidFrom = today.AddDays(1) })}, nil, "cleared", moderate, none, moderate},
		{setting, "a lapsed ceiling is replaced by a newer decision", []clearance.Decision{decided(ago(14), ceiling(light)), decided(ago(2), id("2"), ceiling(vigorous))}, nil, "cleared", vigorous, none, vigorous},
		{setting, "a specialist's lapsed ceiling is not replaced by a generalist", []clearance.Decision{decided(ago(14), ceiling(light), specialist), decided(ago(2), id("2"), ceiling(vigorous))}, nil, "cleared", vigorous, light, vigorous},
		{setting, "two lapsed ones: the lower stays", []clearance.Decision{decided(ago(20), ceiling(light)), decided(ago(14), id("2"), ceiling(vigorous))}, nil, "lapsed", none, light, none},
		{setting, "the same day: the later id counts", []clearance.Decision{decided(ago(2), id("7"), ceiling(light)), decided(ago(2), id("8"), ceiling(vigorous))}, nil, "cleared", vigorous, none, vigorous},

		{setting, "under review: moderate at most", []clearance.Decision{decided(ago(2), ceiling(vigorous))}, []clearance.Change{{Kind: clearance.NewDiagnosis, On: ago(1)}}, "cleared", moderate, none, moderate},
		{setting, "under review: no more than before", []clearance.Decision{decided(ago(2), ceiling(light))}, []clearance.Change{{Kind: clearance.NewDiagnosis, On: ago(1)}}, "cleared", light, none, light},
		{setting, "lapsed by a symptom", []clearance.Decision{decided(ago(2), ceiling(light))}, []clearance.Change{{Kind: clearance.NewSymptom, On: ago(1)}}, "lapsed", none, light, none},

		{setting, "no word about the work is about both", []clearance.Decision{decided(ago(2), work(""))}, nil, "cleared", moderate, none, moderate},
		{setting, "aerobic", []clearance.Decision{decided(ago(2), work(clearance.Aerobic))}, nil, "cleared", moderate, none, moderate},
		{setting, "strength work only", []clearance.Decision{decided(ago(2), work(clearance.Resistance))}, nil, "none", none, none, none},
		{setting, "a named activity only", []clearance.Decision{decided(ago(2), work(clearance.NamedActivity))}, nil, "none", none, none, none},
		{setting, "strength work does not replace", []clearance.Decision{decided(ago(4)), decided(ago(2), id("2"), ceiling(vigorous), work(clearance.Resistance))}, nil, "cleared", moderate, none, moderate},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			c := clearance.File{Decisions: tt.decisions, Changes: tt.changes}.Summarise(clearance.Aerobic, today, policy)
			if c.OnFile != tt.onFile || c.Cap != tt.cap || c.LimitedTo != tt.limitedTo {
				t.Errorf("Summarise = %s, cap %v, limited to %v; want %s, %v, %v", c.OnFile, c.Cap, c.LimitedTo, tt.onFile, tt.cap, tt.limitedTo)
			}
			if got, ok := c.Releases("stent", domain.Date{}); got != tt.stent || ok != (tt.stent != none) {
				t.Errorf("releases a stent to %v, %v; want %v", got, ok, tt.stent)
			}
		})
	}
}

func TestReleases(t *testing.T) {
	f := clearance.File{Decisions: []clearance.Decision{decided(today.AddDays(-10))}}
	c := f.Summarise(clearance.Aerobic, today, policy)
	for since, want := range map[domain.Date]bool{{}: true, today.AddDays(-11): true, today.AddDays(-10): true, today.AddDays(-9): false} {
		if _, ok := c.Releases("stent", since); ok != want {
			t.Errorf("%s: since %v released %v; want %v", setting, since, ok, want)
		}
	}
	if _, ok := c.Releases("angina", domain.Date{}); ok {
		t.Error("what is not named is released")
	}
	expects := decided(today, func(d *clearance.Decision) {
		d.Expected = []clearance.Expected{{Code: "leg_pain_walking", Limit: "Up to 4 of 5."}, {Code: "stent", Limit: "Twice named."}}
	})
	c = clearance.File{Decisions: []clearance.Decision{expects}}.Summarise(clearance.Aerobic, today, policy)
	if got, ok := c.Releases("leg_pain_walking", domain.Date{}); !ok || got != moderate || len(c.Covered) != 2 {
		t.Errorf("%s: an expected symptom is released to %v, %v; covered %v", setting, got, ok, c.Covered)
	}
	// One decision is new enough, the other sets the lower ceiling; their order means nothing.
	two := clearance.Clearance{OnFile: clearance.Allowed, Covered: []clearance.Cover{
		{Code: "stent", DecidedOn: today, Ceiling: vigorous}, {Code: "stent", DecidedOn: today.AddDays(-9), Ceiling: light},
	}}
	for range 2 {
		if got, ok := two.Releases("stent", today.AddDays(-3)); !ok || got != light {
			t.Errorf("%s: two decisions release to %v, %v; want light", setting, got, ok)
		}
		slices.Reverse(two.Covered)
	}
}

func TestRestrictionsOutlive(t *testing.T) {
	until := func(day domain.Date) clearance.Restriction {
		return clearance.Restriction{Code: "lifting", Says: "No lifting.", Until: day}
	}
	old := decided(today.AddMonths(-14), func(d *clearance.Decision) {
		d.Limits = clearance.Limits{HeartRate: 120, GlucoseLow: 90, Systolic: 180}
		d.SupervisedOnly = true
		d.Restrictions = []clearance.Restriction{until(domain.Date{}), until(today), until(today.AddDays(1))}
	})
	newer := decided(today.AddMonths(-1), id("2"), func(d *clearance.Decision) {
		d.Limits = clearance.Limits{HeartRate: 130, GlucoseLow: 100, GlucoseHigh: 250, Diastolic: 100, OxygenFloor: 90, Effort: 13}
		d.Unsupervised = true
	})
	c := clearance.File{Decisions: []clearance.Decision{old, newer}}.Summarise(clearance.Aerobic, today, policy)
	want := clearance.Limits{HeartRate: 120, Systolic: 180, Diastolic: 100, GlucoseLow: 100, GlucoseHigh: 250, OxygenFloor: 90, Effort: 13}
	if c.Limits != want || !c.SupervisedOnly || !c.Unsupervised || !slices.Equal(c.Restrictions, []clearance.Restriction{until(domain.Date{}), until(today.AddDays(1))}) {
		t.Errorf("%s: limits %+v, supervised %v, restrictions %v; want %+v", setting, c.Limits, c.SupervisedOnly, c.Restrictions, want)
	}
	newer.Supersedes = "1"
	c = clearance.File{Decisions: []clearance.Decision{old, newer}}.Summarise(clearance.Aerobic, today, policy)
	if c.Limits != newer.Limits || c.SupervisedOnly || c.Restrictions != nil {
		t.Errorf("%s: after the newer one superseded it: %+v", setting, c)
	}
	lapsed := clearance.File{Decisions: []clearance.Decision{old}}.Summarise(clearance.Aerobic, today, policy)
	if lapsed.Limits != old.Limits || lapsed.Unsupervised || len(lapsed.Reasons) != 1 {
		t.Errorf("%s: a lapsed one alone: %+v", setting, lapsed)
	}
}

func TestStrictest(t *testing.T) {
	a := clearance.Limits{HeartRate: 120, Ischaemia: 118, Detection: 190, Systolic: 180, GlucoseLow: 90, OxygenFloor: 88, Effort: 15}
	b := clearance.Limits{HeartRate: 130, Ischaemia: 115, Diastolic: 100, GlucoseLow: 100, GlucoseHigh: 250, OxygenFloor: 85, Effort: 13}
	want := clearance.Limits{HeartRate: 120, Ischaemia: 115, Detection: 190, Systolic: 180, Diastolic: 100, GlucoseLow: 100, GlucoseHigh: 250, OxygenFloor: 88, Effort: 13}
	if got := a.Strictest(b); got != want || b.Strictest(a) != want || !got.Any() || (clearance.Limits{}).Any() {
		t.Errorf("Strictest = %+v; want %+v", got, want)
	}
}

func TestCeiling(t *testing.T) {
	hold := func(s clearance.Scope) clearance.Hold { return clearance.Hold{Scope: s} }
	gone := clearance.Hold{Scope: clearance.All, Released: &clearance.Release{}}
	allowed := func(c intensity.Class) clearance.Clearance {
		return clearance.Clearance{OnFile: clearance.Allowed, Cap: c}
	}
	for _, tt := range []struct {
		source string
		holds  []clearance.Hold
		word   clearance.Clearance
		want   intensity.Class
	}{
		{setting, nil, clearance.Clearance{}, intensity.NearMaximal},
		{setting, []clearance.Hold{hold(clearance.Vigorous)}, clearance.Clearance{}, moderate},
		{setting, []clearance.Hold{hold(clearance.Vigorous), hold(clearance.AboveLight)}, clearance.Clearance{}, light},
		{setting, []clearance.Hold{hold(clearance.All), hold(clearance.AboveLight)}, allowed(vigorous), none},
		{setting, []clearance.Hold{gone}, clearance.Clearance{}, intensity.NearMaximal},
		{setting, nil, allowed(vigorous), vigorous},
		{setting, []clearance.Hold{hold(clearance.Vigorous)}, allowed(light), light},
		{setting, nil, clearance.Clearance{OnFile: clearance.Refused}, none},
		{setting, nil, clearance.Clearance{OnFile: clearance.LapsedWord}, intensity.NearMaximal},
		{setting, nil, clearance.Clearance{OnFile: clearance.LapsedWord, LimitedTo: light}, light},
		{setting, nil, clearance.Clearance{OnFile: clearance.Allowed, Cap: vigorous, LimitedTo: moderate}, moderate},
	} {
		if got := clearance.Ceiling(tt.holds, tt.word); got != tt.want {
			t.Errorf("%s: Ceiling(%v, %+v) = %v; want %v", tt.source, tt.holds, tt.word, got, tt.want)
		}
	}
}

func TestVigorousGate(t *testing.T) {
	open := func() clearance.GateInput {
		return clearance.GateInput{ScreenedOn: today.AddMonths(-3), MayProgressTo: vigorous, VigorousPhase: true, SignedOffOn: today.AddDays(-3)}
	}
	word := func(c intensity.Class, codes ...string) clearance.Clearance {
		d := decided(today.AddMonths(-1), ceiling(c), covers(codes...))
		return clearance.File{Decisions: []clearance.Decision{d}}.Summarise(clearance.Aerobic, today, policy)
	}
	held := clearance.Hold{Scope: clearance.Vigorous, Reason: "A stent."}
	gone := held
	gone.Released = &clearance.Release{}
	stent := []clearance.Cause{{Code: "stent"}}
	for _, tt := range []struct {
		source string
		name   string
		change func(*clearance.GateInput)
		want   []string // rules that fail, in order
	}{
		{acsmFigure, "healthy", func(in *clearance.GateInput) {}, nil},
		{acsmFigure, "the row stops at moderate", func(in *clearance.GateInput) { in.MayProgressTo = moderate }, []string{"row"}},
		{acsmFigure, "a disease without a decision", func(in *clearance.GateInput) { in.Causes = stent }, []string{"clearance"}},
		{acsmFigure, "a disease with one", func(in *clearance.GateInput) { in.Causes, in.Clearance = stent, word(vigorous, "stent") }, nil},
		{acsmFigure, "that does not name it", func(in *clearance.GateInput) { in.Causes, in.Clearance = stent, word(vigorous, "angina") }, []string{"clearance"}},
		{setting, "signed before it began", func(in *clearance.GateInput) {
			in.Causes, in.Clearance = []clearance.Cause{{Code: "stent", Since: today.AddDays(-1)}}, word(vigorous, "stent")
		}, []string{"clearance"}},
		{setting, "up to moderate", func(in *clearance.GateInput) { in.Causes, in.Clearance = stent, word(moderate, "stent") }, []string{"clearance", "ceiling"}},
		{setting, "a healthy client with a doctor's ceiling", func(in *clearance.GateInput) { in.Clearance = word(moderate) }, []string{"ceiling"}},
		{setting, "a ceiling that outlives", func(in *clearance.GateInput) { in.Clearance.LimitedTo = light }, []string{"ceiling"}},
		{setting, "an open hold", func(in *clearance.GateInput) { in.Holds = []clearance.Hold{held} }, []string{"hold"}},
		{setting, "two open holds", func(in *clearance.GateInput) { in.Holds = []clearance.Hold{held, held} }, []string{"hold", "hold"}},
		{setting, "a released hold", func(in *clearance.GateInput) { in.Holds = []clearance.Hold{gone} }, nil},
		{setting, "no screening", func(in *clearance.GateInput) { in.ScreenedOn = domain.Date{} }, []string{"screening"}},
		{setting, "a screening of tomorrow", func(in *clearance.GateInput) { in.ScreenedOn = today.AddDays(1) }, []string{"screening"}},
		{setting, "a screening that is not complete", func(in *clearance.GateInput) { in.Undecided = true }, []string{"screening"}},
		{setting, "a screening of twelve months ago", func(in *clearance.GateInput) { in.ScreenedOn = today.AddMonths(-12) }, []string{"screening"}},
		{setting, "a day less", func(in *clearance.GateInput) { in.ScreenedOn = today.AddMonths(-12).AddDays(1) }, nil},
		{setting, "a symptom since", func(in *clearance.GateInput) {
			in.Changes = []clearance.Change{{Kind: clearance.NewSymptom, On: today}}
		}, []string{"screening"}},
		{setting, "two changes are one reason", func(in *clearance.GateInput) {
			in.Changes = []clearance.Change{{Kind: clearance.NewSymptom, On: today}, {Kind: clearance.NewEvent, On: today}}
		}, []string{"screening"}},
		{setting, "a symptom on the day of the screening", func(in *clearance.GateInput) {
			in.Changes = []clearance.Change{{Kind: clearance.NewSymptom, On: in.ScreenedOn}}
		}, nil},
		{setting, "a symptom tomorrow", func(in *clearance.GateInput) {
			in.Changes = []clearance.Change{{Kind: clearance.NewSymptom, On: today.AddDays(1)}}
		}, nil},
		{setting, "consent withdrawn", func(in *clearance.GateInput) {
			in.Changes = []clearance.Change{{Kind: clearance.ConsentWithdrawn, On: today}}
		}, nil},
		{setting, "not yet in the phase", func(in *clearance.GateInput) { in.VigorousPhase = false }, []string{"phase"}},
		{setting, "no sign-off", func(in *clearance.GateInput) { in.SignedOffOn = domain.Date{} }, []string{"signoff"}},
		{setting, "signed off 30 days ago", func(in *clearance.GateInput) { in.SignedOffOn = today.AddDays(-30) }, nil},
		{setting, "signed off 31 days ago", func(in *clearance.GateInput) { in.SignedOffOn = today.AddDays(-31) }, []string{"signoff"}},
		{setting, "signed off tomorrow", func(in *clearance.GateInput) { in.SignedOffOn = today.AddDays(1) }, []string{"signoff"}},
		{setting, "160 over 99", func(in *clearance.GateInput) { in.Flags.Systolic, in.Flags.Diastolic = 160, 99 }, []string{"flag.blood_pressure_160"}},
		{setting, "159 over 100", func(in *clearance.GateInput) { in.Flags.Systolic, in.Flags.Diastolic = 159, 100 }, []string{"flag.blood_pressure_160"}},
		{setting, "159 over 99", func(in *clearance.GateInput) { in.Flags.Systolic, in.Flags.Diastolic = 159, 99 }, nil},
		{setting, "oxygen falls", func(in *clearance.GateInput) { in.Flags.OxygenFalls = true }, []string{"flag.copd_desaturation"}},
		{setting, "a rate-changing medicine", func(in *clearance.GateInput) { in.Flags.RateMedicine = true }, []string{"flag.rate_medicine"}},
		{setting, "pregnant", func(in *clearance.GateInput) { in.Flags.Pregnant = true }, []string{"flag.pregnant"}},
		{setting, "pregnant, settled up to moderate", func(in *clearance.GateInput) { in.Flags.Pregnant, in.Clearance = true, word(moderate, "pregnant") },
			[]string{"ceiling", "flag.pregnant"}},
		{setting, "pregnant, settled", func(in *clearance.GateInput) { in.Flags.Pregnant, in.Clearance = true, word(vigorous, "pregnant") }, nil},
		{setting, "everything", func(in *clearance.GateInput) {
			*in = clearance.GateInput{Causes: stent, Holds: []clearance.Hold{held}, Flags: clearance.Flags{Systolic: 170, Pregnant: true}}
		}, []string{"row", "clearance", "hold", "screening", "phase", "signoff", "flag.blood_pressure_160", "flag.pregnant"}},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			in := open()
			tt.change(&in)
			g := clearance.VigorousGate(in, today, policy)
			var got []string
			for _, r := range g.Reasons {
				got = append(got, r.Rule[len("gate."):])
				if r.Says == "" {
					t.Errorf("a reason without words: %+v", r)
				}
			}
			if !slices.Equal(got, tt.want) || g.Allow != (tt.want == nil) {
				t.Errorf("VigorousGate = %v, %v; want %v", g.Allow, got, tt.want)
			}
			if tt.want != nil && g.First != g.Reasons[0] || tt.want == nil && g.First != (clearance.GateReason{}) {
				t.Errorf("first reason %+v", g.First)
			}
		})
	}
	off := clearance.PolicyFrom(map[string]int{"clearance.practice_flag_vigorous": 0})
	in := open()
	in.Flags = clearance.Flags{Systolic: 190, Pregnant: true, OxygenFalls: true, RateMedicine: true}
	if g := clearance.VigorousGate(in, today, off); !g.Allow {
		t.Errorf("with the flags off: %+v", g.Reasons)
	}
}

// All of these are invariants of our own design, not of a publication.
func TestSummaryInvariants(t *testing.T) {
	draw := func(t *rapid.T, n int) clearance.Decision {
		d := decided(today.AddDays(-rapid.IntRange(0, 500).Draw(t, "days ago")), id(string(rune('a'+n))),
			covers(rapid.SliceOfDistinct(rapid.SampledFrom([]string{"stent", "angina", "tia"}), rapid.ID).Draw(t, "covers")...),
			ceiling(rapid.SampledFrom([]intensity.Class{light, moderate, vigorous}).Draw(t, "ceiling")))
		if o := rapid.SampledFrom([]clearance.Outcome{clearance.Cleared, clearance.ClearedWithLimits, clearance.NotNow, clearance.ReferOn}).Draw(t, "outcome"); !o.Allows() {
			outcome(o)(&d)
		}
		d.DecidedBy.Specialist = rapid.Bool().Draw(t, "specialist")
		d.Limits.HeartRate = rapid.SampledFrom([]int{0, 100, 120, 140}).Draw(t, "limit")
		if n > 0 && rapid.IntRange(0, 3).Draw(t, "supersedes") == 0 {
			d.Supersedes = string(rune('a' + n - 1))
		}
		return d
	}
	rapid.Check(t, func(t *rapid.T) {
		var f clearance.File
		for i := range rapid.IntRange(0, 4).Draw(t, "decisions") {
			f.Decisions = append(f.Decisions, draw(t, i))
		}
		c := f.Summarise(clearance.Aerobic, today, policy)
		most := clearance.Ceiling(nil, c)

		if c.OnFile == clearance.Allowed && (c.Cap < light || c.Cap > vigorous) || c.OnFile != clearance.Allowed && c.Cap != none {
			t.Errorf("%s with cap %v", c.OnFile, c.Cap)
		}
		for _, cover := range c.Covered {
			if cover.Ceiling < light || cover.Ceiling > vigorous || c.OnFile == clearance.Refused {
				t.Errorf("%s covers %+v", c.OnFile, cover)
			}
		}
		// The order in the file means nothing.
		turned := f
		turned.Decisions = slices.Clone(f.Decisions)
		slices.Reverse(turned.Decisions)
		r := turned.Summarise(clearance.Aerobic, today, policy)
		slices.Sort(c.Reasons)
		slices.Sort(r.Reasons)
		if !reflect.DeepEqual(c, r) {
			t.Errorf("in another order %+v; want %+v", r, c)
		}
		// Time, a symptom and a diagnosis only lower.
		later := today.AddDays(rapid.IntRange(0, 700).Draw(t, "later"))
		if got := clearance.Ceiling(nil, f.Summarise(clearance.Aerobic, later, policy)); got > most {
			t.Errorf("on %v up to %v; before %v", later, got, most)
		}
		for _, k := range []clearance.ChangeKind{clearance.NewSymptom, clearance.NewEvent, clearance.NewDiagnosis, clearance.PregnancyOrBirth} {
			changed := f
			changed.Changes = []clearance.Change{{Kind: k, On: today, Code: "palpitations"}}
			s := changed.Summarise(clearance.Aerobic, today, policy)
			for _, code := range []string{"stent", "angina", "tia"} {
				was, _ := c.Releases(code, domain.Date{})
				if now, _ := s.Releases(code, domain.Date{}); now > was {
					t.Errorf("%s releases %s up to %v; before %v", k, code, now, was)
				}
			}
			if got := clearance.Ceiling(nil, s); got > most {
				t.Errorf("%s raises the ceiling to %v; before %v", k, got, most)
			}
		}
		// The strictest limit of what is not superseded stays.
		for _, s := range f.Standings(today, policy) {
			if l := s.Decision.Limits.HeartRate; s.State.Status != clearance.Superseded && l > 0 && (c.Limits.HeartRate == 0 || c.Limits.HeartRate > l) {
				t.Errorf("limit %d; a decision says %d", c.Limits.HeartRate, l)
			}
		}
	})
}
