package screening_test

import (
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/screening"
)

// The publications of the vital-sign rules.
const (
	jabfm     = "JABFM table 7, adapted from ACC/AHA"
	heartLine = "Heart Online table 1"
	ibpc2024  = "Integr Blood Press Control 2024, table 1"
	bmjOpen   = "BMJ Open trial protocol, table 1"
	ada2016   = "ADA position 2016, table 1"
	lungKit   = "Pulmonary rehabilitation toolkit"
	hfWeight  = "heart-failure self-care advice"
	ketones   = "study cards, ketones"
	rehabList = "rehabilitation contraindication lists, as copied"
)

// one is what a single finding comes to; the zero one is no finding at all.
type one struct {
	rule   string
	effect screening.Effect
	hold   clearance.Scope
	needs  clearance.Needs
	review screening.Review
}

func num(n int) *int { return &n }

func hundredths(t *testing.T, text string) *screening.Hundredths {
	t.Helper()
	h, err := screening.ParseHundredths(text)
	if err != nil {
		t.Fatal(err)
	}
	return &h
}

func TestVitals(t *testing.T) {
	type vitals = screening.Vitals
	h := func(text string) *screening.Hundredths { return hundredths(t, text) }
	weights := func(grams ...int) []screening.Weight { // the last is today's, the others one day apart
		var all []screening.Weight
		for i, g := range grams {
			all = append(all, screening.Weight{On: today.AddDays(i - len(grams) + 1), Grams: g})
		}
		return all
	}
	week := func(before, now int) []screening.Weight {
		return []screening.Weight{{On: today, Grams: now}, {On: today.AddDays(-7), Grams: before}}
	}
	const (
		doctor, staff, word        = clearance.NeedsDoctor, clearance.NeedsPractitioner, clearance.NeedsStatement
		all, above, vig, no        = clearance.All, clearance.AboveLight, clearance.Vigorous, clearance.NoHold
		stop, lightOnly, noVig     = screening.NoSession, screening.LightOnly, screening.NoVigorous
		same, next, day, call, dia = screening.SameDay, screening.NextVisit, screening.NextDay, screening.CallNumber, screening.SugarTeam
	)
	v1 := one{"V1", stop, all, doctor, same}
	v2 := one{"V2", stop, all, doctor, next}
	v3 := one{"V3", lightOnly, above, staff, next}
	v4 := one{"V4", noVig, vig, staff, next}
	v14 := one{"V14", noVig, vig, word, ""}
	v15 := one{"V15", noVig, vig, word, dia}
	for _, tt := range []struct {
		source string
		in     vitals
		want   []one
	}{
		{jabfm + "; 204/96", vitals{SBP: num(204), DBP: num(96)}, []one{v1}},
		{jabfm, vitals{SBP: num(201)}, []one{v1}},
		{jabfm + "; not above 200: " + setting, vitals{SBP: num(200)}, []one{v3}},
		{jabfm, vitals{SBP: num(150), DBP: num(111)}, []one{v1}},
		{jabfm + "; not above 110", vitals{SBP: num(150), DBP: num(110)}, []one{v4}},
		{jabfm, vitals{DBP: num(111)}, []one{v1}},
		{jabfm, vitals{SBP: num(201), Cardiac: true}, []one{v1}},
		{jabfm + "; measured again", vitals{SBP: num(201), Repeated: true}, []one{v1}},
		{memory + ", warning signs", vitals{SBP: num(201), Warning: true}, []one{{"V1", screening.Emergency, all, doctor, call}}},
		{heartLine + "; 184/92", vitals{SBP: num(184), DBP: num(92), Cardiac: true}, []one{v2}},
		{heartLine, vitals{SBP: num(181), Cardiac: true}, []one{v2}},
		{heartLine + "; not above 180", vitals{SBP: num(180), Cardiac: true}, []one{v4}},
		{heartLine, vitals{SBP: num(150), DBP: num(111), Cardiac: true}, []one{v1}},
		{setting, vitals{SBP: num(181)}, []one{v3}},
		{setting, vitals{SBP: num(180)}, []one{v4}},
		{ibpc2024 + "; 165/95", vitals{SBP: num(165), DBP: num(95)}, []one{v4}},
		{ibpc2024, vitals{SBP: num(161)}, []one{v4}},
		{ibpc2024, vitals{SBP: num(160), DBP: num(100)}, nil},
		{ibpc2024, vitals{SBP: num(140), DBP: num(101)}, []one{v4}},
		{ibpc2024 + "; 132/80", vitals{SBP: num(132), DBP: num(80)}, nil},

		{memory, vitals{SBP: num(89)}, []one{{"V5", stop, all, doctor, next}}},
		{memory, vitals{SBP: num(90)}, nil},
		{bmjOpen, vitals{SBP: num(130), StandingSBP: num(109), Symptoms: true}, []one{{"V5", stop, all, doctor, next}}},
		{bmjOpen + "; not more than 20", vitals{SBP: num(130), StandingSBP: num(110), Symptoms: true}, nil},
		{bmjOpen + "; no symptoms", vitals{SBP: num(130), StandingSBP: num(105)}, nil},
		{setting + ", fainting", vitals{SBP: num(130), StandingSBP: num(105), Fainted: true}, []one{{"V5", screening.Emergency, all, doctor, call}}},

		{heartLine + "; 124", vitals{RestingHR: num(124)}, []one{{"V6", stop, all, doctor, same}}},
		{heartLine, vitals{RestingHR: num(121)}, []one{{"V6", stop, all, doctor, same}}},
		{setting + ", not above 120", vitals{RestingHR: num(120)}, []one{{"V7", lightOnly, above, staff, next}}},
		{rehabList + "; 104", vitals{RestingHR: num(104), Cardiac: true}, []one{{"V7", stop, all, doctor, next}}},
		{setting + ", 104 after 10 minutes", vitals{RestingHR: num(104), Repeated: true}, []one{{"V7", lightOnly, above, staff, next}}},
		{setting, vitals{RestingHR: num(101)}, []one{{"V7", lightOnly, above, staff, next}}},
		{setting, vitals{RestingHR: num(100)}, nil},
		{rehabList, vitals{RestingHR: num(100), Cardiac: true}, nil},
		{memory, vitals{RestingHR: num(39)}, []one{{"V8", stop, all, doctor, next}}},
		{memory, vitals{RestingHR: num(40)}, nil},
		{memory, vitals{RestingHR: num(40), Symptoms: true}, []one{{"V8", stop, all, doctor, next}}},
		{memory, vitals{RestingHR: num(49), Fainted: true}, []one{{"V8", stop, all, doctor, next}}},
		{memory, vitals{RestingHR: num(50), Symptoms: true}, nil},
		{memory, vitals{RestingHR: num(49), RateSlowing: true}, []one{{"V8", screening.Remark, no, "", ""}}},
		{memory, vitals{RestingHR: num(50), RateSlowing: true}, nil},
		{memory, vitals{RestingHR: num(49)}, nil},

		{bmjOpen + "; 38.1", vitals{Temperature: h("38.1")}, []one{{"V9", stop, all, word, ""}}},
		{bmjOpen, vitals{Temperature: h("38.0")}, []one{{"V9", stop, all, word, ""}}},
		{bmjOpen, vitals{Temperature: h("37.99")}, nil},
		{setting, vitals{Temperature: h("37.0"), Feverish: true}, []one{{"V9", stop, all, word, ""}}},

		{memory, vitals{GlucoseMgDL: num(69), GlucoseLowering: true}, []one{{"V10", stop, all, word, ""}}},
		{memory, vitals{GlucoseMmol: h("3.89"), GlucoseLowering: true}, []one{{"V10", stop, all, word, ""}}},
		{memory + "; " + setting, vitals{GlucoseMgDL: num(69)}, []one{{"V10", screening.Remark, no, "", next}}},
		{ada2016 + "; 82 on insulin", vitals{GlucoseMgDL: num(82), GlucoseLowering: true}, []one{{"V11", screening.EatFirst, no, "", ""}}},
		{ada2016, vitals{GlucoseMgDL: num(70), GlucoseLowering: true}, []one{{"V11", screening.EatFirst, no, "", ""}}},
		{ada2016, vitals{GlucoseMmol: h("3.9"), GlucoseLowering: true}, []one{{"V11", screening.EatFirst, no, "", ""}}},
		{ada2016, vitals{GlucoseMgDL: num(89), GlucoseLowering: true}, []one{{"V11", screening.EatFirst, no, "", ""}}},
		{ada2016, vitals{GlucoseMmol: h("4.99"), GlucoseLowering: true}, []one{{"V11", screening.EatFirst, no, "", ""}}},
		{ada2016 + "; without insulin", vitals{GlucoseMgDL: num(70)}, nil},
		{ada2016, vitals{GlucoseMgDL: num(90), GlucoseLowering: true}, []one{{"V12", screening.Carbohydrate, no, "", ""}}},
		{ada2016, vitals{GlucoseMmol: h("5"), GlucoseLowering: true}, []one{{"V12", screening.Carbohydrate, no, "", ""}}},
		{ada2016, vitals{GlucoseMgDL: num(149), GlucoseLowering: true}, []one{{"V12", screening.Carbohydrate, no, "", ""}}},
		{ada2016, vitals{GlucoseMmol: h("8.29"), GlucoseLowering: true}, []one{{"V12", screening.Carbohydrate, no, "", ""}}},
		{ada2016, vitals{GlucoseMgDL: num(150), GlucoseLowering: true}, []one{{"V13", screening.Carbohydrate, no, "", ""}}},
		{ada2016, vitals{GlucoseMmol: h("8.3"), GlucoseLowering: true}, []one{{"V13", screening.Carbohydrate, no, "", ""}}},
		{ada2016, vitals{GlucoseMgDL: num(249), GlucoseLowering: true}, []one{{"V13", screening.Carbohydrate, no, "", ""}}},
		{ada2016, vitals{GlucoseMmol: h("13.89"), GlucoseLowering: true}, []one{{"V13", screening.Carbohydrate, no, "", ""}}},
		{ada2016 + "; without insulin", vitals{GlucoseMgDL: num(249)}, nil},
		{ada2016 + "; ketones not tested", vitals{GlucoseMgDL: num(250)}, []one{{"V14", screening.TestKetones, all, word, ""}}},
		{ada2016, vitals{GlucoseMmol: h("13.9"), UrineKetones: "none"}, []one{v14}},
		{ada2016 + "; 280 with none", vitals{GlucoseMgDL: num(280), UrineKetones: "none", GlucoseLowering: true}, []one{v14}},
		{ada2016 + "; 280 with moderate", vitals{GlucoseMgDL: num(280), UrineKetones: "moderate", GlucoseLowering: true},
			[]one{{"V14", stop, all, word, ""}, {"V16", stop, all, doctor, dia}}},
		{ada2016, vitals{GlucoseMgDL: num(280), UrineKetones: "large"}, []one{{"V14", stop, all, word, ""}, {"V16", stop, all, doctor, dia}}},
		{ada2016, vitals{GlucoseMgDL: num(280), UrineKetones: "small"}, []one{v14}},
		{ada2016, vitals{GlucoseMgDL: num(349), UrineKetones: "trace"}, []one{v14}},
		{ada2016, vitals{GlucoseMmol: h("19.39"), Ketones: h("0.2")}, []one{v14}},
		{ada2016, vitals{GlucoseMgDL: num(350), UrineKetones: "trace"}, []one{v15}},
		{ada2016, vitals{GlucoseMmol: h("19.4"), Ketones: h("0.59")}, []one{v15}},
		{ada2016 + "; small is more than trace", vitals{GlucoseMgDL: num(350), UrineKetones: "small"}, []one{{"V15", stop, all, word, dia}}},
		{memory + ", blood from 0.6", vitals{GlucoseMgDL: num(350), Ketones: h("0.6")}, []one{{"V15", stop, all, word, dia}}},
		{ada2016 + "; ketones not tested", vitals{GlucoseMgDL: num(350)}, []one{{"V15", screening.TestKetones, all, word, dia}}},
		{ketones, vitals{Ketones: h("1.5")}, []one{{"V16", stop, all, doctor, dia}}},
		{ketones, vitals{Ketones: h("1.49")}, nil},
		{memory, vitals{Ketones: h("3")}, []one{{"V16", screening.Emergency, all, doctor, call}}},
		{memory, vitals{Ketones: h("2.99")}, []one{{"V16", stop, all, doctor, dia}}},
		{ketones + "; the worse of both", vitals{Ketones: h("0.1"), UrineKetones: "large"}, []one{{"V16", stop, all, doctor, dia}}},
		{memory, vitals{SevereLow: true}, []one{{"V17", stop, all, word, next}}},
		{memory, vitals{GlucoseMgDL: num(53), GlucoseLowering: true}, []one{{"V10", stop, all, word, ""}, {"V17", stop, all, word, next}}},
		{memory, vitals{GlucoseMgDL: num(54), GlucoseLowering: true}, []one{{"V10", stop, all, word, ""}}},
		{memory, vitals{GlucoseMmol: h("2.99"), GlucoseLowering: true}, []one{{"V10", stop, all, word, ""}, {"V17", stop, all, word, next}}},
		{memory, vitals{GlucoseMmol: h("3"), GlucoseLowering: true}, []one{{"V10", stop, all, word, ""}}},

		{lungKit + "; 87 walking", vitals{SpO2: num(87)}, []one{{"V18", screening.Pause, all, doctor, day}}},
		{lungKit, vitals{SpO2: num(88)}, nil},

		{hfWeight + "; 1.5 kg since yesterday", vitals{HeartFailure: true, Weights: weights(80_000, 81_500)}, []one{{"V19", lightOnly, above, doctor, day}}},
		{hfWeight + "; 1.9 kg in a week", vitals{HeartFailure: true, Weights: week(80_000, 81_900)}, nil},
		{hfWeight, vitals{HeartFailure: true, Weights: weights(80_000, 81_401)}, []one{{"V19", lightOnly, above, doctor, day}}},
		{hfWeight, vitals{HeartFailure: true, Weights: weights(80_000, 81_400)}, nil},
		{hfWeight, vitals{HeartFailure: true, Weights: week(80_000, 82_301)}, []one{{"V19", lightOnly, above, doctor, day}}},
		{hfWeight, vitals{HeartFailure: true, Weights: week(80_000, 82_300)}, nil},
		{hfWeight + "; eight days are no week", vitals{HeartFailure: true, Weights: []screening.Weight{{On: today.AddDays(-8), Grams: 80_000}, {On: today, Grams: 85_000}}}, nil},
		{hfWeight + "; not in heart failure", vitals{Weights: weights(80_000, 85_000)}, nil},
		{hfWeight + "; one weight only", vitals{HeartFailure: true, Weights: weights(80_000)}, nil},
		{hfWeight + "; a loss", vitals{HeartFailure: true, Weights: weights(85_000, 80_000)}, nil},
		{heartLine, vitals{HeartFailure: true, Weights: weights(80_000, 80_500, 81_300, 82_001)}, []one{{"V20", stop, all, doctor, day}}},
		{heartLine, vitals{HeartFailure: true, Weights: weights(80_000, 80_500, 81_300, 82_000)}, nil},
		{heartLine + "; four days", vitals{HeartFailure: true, Weights: weights(80_000, 81_000, 81_000, 82_000, 82_100)}, nil},
		{heartLine + "; both", vitals{HeartFailure: true, Weights: weights(80_000, 82_100)}, []one{{"V19", lightOnly, above, doctor, day}, {"V20", stop, all, doctor, day}}},

		{setting + ": nothing measured", vitals{}, nil},
	} {
		t.Run(tt.source, func(t *testing.T) {
			a, err := screening.AssessVitals(tt.in, screening.PolicyFrom(nil))
			if err != nil {
				t.Fatal(err)
			}
			var hold clearance.Scope
			if len(a.Findings) != len(tt.want) {
				t.Fatalf("findings %+v; want %+v", a.Findings, tt.want)
			}
			for i, f := range a.Findings {
				if got := (one{f.Rule, f.Effect, f.Hold, f.Needs, f.Review}); got != tt.want[i] {
					t.Errorf("finding %d = %+v; want %+v", i, got, tt.want[i])
				}
				if f.Text == "" || len(f.Cites) == 0 || (f.Hold == no) != (f.Needs == "") {
					t.Errorf("finding without text, source or release: %+v", f)
				}
				hold = max(hold, f.Hold)
			}
			if a.Hold != hold {
				t.Errorf("hold %v; want %v", a.Hold, hold)
			}
			for _, h := range a.Holds(today) {
				if h.Kind != clearance.FromVitals || h.Scope == no || h.Opened != today || h.Since != today || h.Cause == "" || !h.Open() {
					t.Errorf("hold %+v", h)
				}
			}
		})
	}
}

func TestVitalsSettings(t *testing.T) {
	p := screening.PolicyFrom(map[string]int{
		"screening.pressure_180_none": 1, "screening.oxygen_floor": 90, "screening.weight_day_grams": 900, "screening.fever_free_hours": 48,
	})
	for rule, tt := range map[string]struct {
		in   screening.Vitals
		hold clearance.Scope
		text string
	}{
		"V3":  {screening.Vitals{SBP: num(190)}, clearance.All, "No exercise"},
		"V18": {screening.Vitals{SpO2: num(89)}, clearance.All, "below 90"},
		"V19": {screening.Vitals{HeartFailure: true, Weights: []screening.Weight{{On: today.AddDays(-1), Grams: 80_000}, {On: today, Grams: 81_000}}}, clearance.AboveLight, "1.0 kg"},
		"V9":  {screening.Vitals{Feverish: true}, clearance.All, "48 hours"},
	} {
		a, err := screening.AssessVitals(tt.in, p)
		if err != nil || len(a.Findings) != 1 || a.Findings[0].Rule != rule || a.Hold != tt.hold || !strings.Contains(a.Findings[0].Text, tt.text) {
			t.Errorf("%s: %+v, %v; want hold %v, text with %q", rule, a, err, tt.hold, tt.text)
		}
	}
}

func TestVitalsRefuses(t *testing.T) {
	h := func(text string) *screening.Hundredths { return hundredths(t, text) }
	type vitals = screening.Vitals
	for _, tt := range []struct {
		source string
		field  string // empty: accepted
		in     vitals
	}{
		{setting, "sbp", vitals{SBP: num(49)}},
		{setting, "", vitals{SBP: num(50)}},
		{setting, "", vitals{SBP: num(300)}},
		{setting, "sbp", vitals{SBP: num(301)}},
		{setting, "sbp", vitals{SBP: num(0)}},
		{setting, "dbp", vitals{DBP: num(19)}},
		{setting, "", vitals{DBP: num(20)}},
		{setting, "", vitals{DBP: num(200)}},
		{setting, "dbp", vitals{DBP: num(201)}},
		{setting, "dbp", vitals{SBP: num(120), DBP: num(115)}},
		{setting, "", vitals{SBP: num(120), DBP: num(114)}},
		{setting + ", swapped", "dbp", vitals{SBP: num(80), DBP: num(120)}},
		{setting, "standing_sbp", vitals{StandingSBP: num(49)}},
		{setting, "standing_sbp", vitals{StandingSBP: num(301)}},
		{setting, "resting_hr", vitals{RestingHR: num(24)}},
		{setting, "", vitals{RestingHR: num(25)}},
		{setting, "", vitals{RestingHR: num(150)}},
		{setting, "resting_hr", vitals{RestingHR: num(151)}},
		{setting, "temperature_c", vitals{Temperature: h("29.99")}},
		{setting, "", vitals{Temperature: h("30")}},
		{setting, "", vitals{Temperature: h("45")}},
		{setting, "temperature_c", vitals{Temperature: h("45.01")}},
		{setting, "glucose_mg_dl", vitals{GlucoseMgDL: num(9)}},
		{setting, "", vitals{GlucoseMgDL: num(10)}},
		{setting, "", vitals{GlucoseMgDL: num(1000)}},
		{setting, "glucose_mg_dl", vitals{GlucoseMgDL: num(1001)}},
		{setting, "glucose_mmol_l", vitals{GlucoseMmol: h("0.49")}},
		{setting, "", vitals{GlucoseMmol: h("0.5")}},
		{setting, "", vitals{GlucoseMmol: h("55")}},
		{setting, "glucose_mmol_l", vitals{GlucoseMmol: h("55.01")}},
		{"1 mmol/L is 18.016 mg/dL", "", vitals{GlucoseMgDL: num(93), GlucoseMmol: h("5")}},
		{"1 mmol/L is 18.016 mg/dL", "glucose_mmol_l", vitals{GlucoseMgDL: num(94), GlucoseMmol: h("5")}},
		{"1 mmol/L is 18.016 mg/dL", "", vitals{GlucoseMgDL: num(88), GlucoseMmol: h("5")}},
		{"1 mmol/L is 18.016 mg/dL", "glucose_mmol_l", vitals{GlucoseMgDL: num(87), GlucoseMmol: h("5")}},
		{setting, "", vitals{Ketones: h("0")}},
		{setting, "", vitals{Ketones: h("20")}},
		{setting, "ketones_mmol_l", vitals{Ketones: h("20.01")}},
		{setting, "urine_ketones", vitals{UrineKetones: "lots"}},
		{setting, "spo2", vitals{SpO2: num(49)}},
		{setting, "", vitals{SpO2: num(50)}},
		{setting, "", vitals{SpO2: num(100)}},
		{setting, "spo2", vitals{SpO2: num(101)}},
		{setting, "weight_kg", vitals{Weights: []screening.Weight{{On: today, Grams: 19_999}}}},
		{setting, "", vitals{Weights: []screening.Weight{{On: today, Grams: 20_000}}}},
		{setting, "", vitals{Weights: []screening.Weight{{On: today, Grams: 400_000}}}},
		{setting, "weight_kg", vitals{Weights: []screening.Weight{{On: today, Grams: 400_001}}}},
		{setting, "weight_on", vitals{Weights: []screening.Weight{{Grams: 80_000}}}},
	} {
		t.Run(tt.source+"/"+tt.field, func(t *testing.T) {
			_, err := screening.AssessVitals(tt.in, screening.PolicyFrom(nil))
			p, _ := err.(domain.Problems)
			if tt.field == "" && err != nil || tt.field != "" && (len(p) != 1 || p[tt.field] == "") {
				t.Errorf("AssessVitals: %v; want a problem with %q", err, tt.field)
			}
		})
	}
}

func TestVitalsDoubts(t *testing.T) {
	w := func(grams int) []screening.Weight { return []screening.Weight{{On: today, Grams: grams}} }
	for _, tt := range []struct {
		source string
		field  string
		in     screening.Vitals
	}{
		{setting, "sbp", screening.Vitals{SBP: num(89)}},
		{setting, "", screening.Vitals{SBP: num(90)}},
		{setting, "", screening.Vitals{SBP: num(179)}},
		{setting, "sbp", screening.Vitals{SBP: num(180)}},
		{setting, "dbp", screening.Vitals{DBP: num(49)}},
		{setting, "", screening.Vitals{DBP: num(50)}},
		{setting, "", screening.Vitals{DBP: num(109)}},
		{setting, "dbp", screening.Vitals{DBP: num(110)}},
		{setting, "resting_hr", screening.Vitals{RestingHR: num(39)}},
		{setting, "", screening.Vitals{RestingHR: num(40)}},
		{setting, "", screening.Vitals{RestingHR: num(100)}},
		{setting, "resting_hr", screening.Vitals{RestingHR: num(101)}},
		{setting, "weight_kg", screening.Vitals{Weights: w(34_999)}},
		{setting, "", screening.Vitals{Weights: w(35_000)}},
		{setting, "", screening.Vitals{Weights: w(250_000)}},
		{setting, "weight_kg", screening.Vitals{Weights: w(250_001)}},
	} {
		d := tt.in.Doubts(screening.BandsFrom(nil))
		if tt.field == "" && d != nil || tt.field != "" && (len(d) != 1 || d[tt.field] == "") {
			t.Errorf("Doubts = %v; want one about %q", d, tt.field)
		}
	}
}

func TestParseHundredths(t *testing.T) {
	for _, tt := range []struct {
		source string
		text   string
		want   screening.Hundredths
		ok     bool
	}{
		{"decimal notation", "38", 3800, true},
		{"decimal notation", "38.1", 3810, true},
		{"decimal notation", "38,15", 3815, true},
		{"decimal notation", " 5.60 ", 560, true},
		{"decimal notation", "0", 0, true},
		{"decimal notation", "000038", 3800, true},
		{"decimal notation", "999999.99", 99_999_999, true},
		{setting + ": too long", "1000000", 0, false},
		{setting + ": a thousand or one and a bit", "1,234", 0, false},
		{setting + ": three decimals", "38.125", 0, false},
		{setting, "38.", 0, false},
		{setting, ".5", 0, false},
		{setting, "", 0, false},
		{setting, "-1", 0, false},
		{setting, "+1", 0, false},
		{setting, "1e2", 0, false},
		{setting, "1 2", 0, false},
		{setting, "1.2.3", 0, false},
		{setting, "1,2,3", 0, false},
		{setting, "NaN", 0, false},
		{setting, "١", 0, false},
	} {
		got, err := screening.ParseHundredths(tt.text)
		if got != tt.want || (err == nil) != tt.ok {
			t.Errorf("%s: ParseHundredths(%q) = %d, %v; want %d, ok %v", tt.source, tt.text, got, err, tt.want, tt.ok)
		}
	}
	for h, want := range map[screening.Hundredths]string{3800: "38.0", 3815: "38.15", 5: "0.05", 0: "0.0", -150: "-1.5", 3810: "38.1"} {
		if got := h.String(); got != want {
			t.Errorf("String of %d = %q; want %q", int(h), got, want)
		}
	}
}

func FuzzParseHundredths(f *testing.F) {
	for _, s := range []string{"38", "38.1", "38,15", "1e2", "-1", "", "1.2.3", "999999.99", "٣٨"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		h, err := screening.ParseHundredths(text)
		if err != nil {
			if h != 0 {
				t.Errorf("%q: a value with an error", text)
			}
			return
		}
		again, err := screening.ParseHundredths(h.String())
		if err != nil || again != h || h < 0 || h > 99_999_999 {
			t.Errorf("%q is %d, written %q, read %d, %v", text, int(h), h.String(), int(again), err)
		}
	})
}
