package screening_test

import (
	"slices"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/screening"
)

const aacvpr = "AACVPR risk table, as adapted in PMC8006124"

func TestRiskOf(t *testing.T) {
	h := func(text string) *screening.Hundredths { return hundredths(t, text) }
	// An uncomplicated stent, 8 METs, an ejection fraction of 52, and nothing else.
	low := screening.HeartProfile{
		RhythmInTest: screening.No, SymptomsInTest: screening.No, SymptomsInRecovery: screening.No, SilentIschaemia: screening.No,
		AbnormalPressureRate: screening.No, Capacity: h("8"), EjectionFraction: num(52), ComplicatedEvent: screening.No, IschaemiaAfter: screening.No,
		PastArrest: screening.No, HeartFailure: screening.No, RhythmAtRest: screening.No, Depression: screening.No,
	}
	but := func(change func(*screening.HeartProfile)) screening.HeartProfile {
		p := low
		change(&p)
		return p
	}
	type profile = screening.HeartProfile
	for _, tt := range []struct {
		source string
		name   string
		in     profile
		want   screening.RiskClass
	}{
		{aacvpr, "all low", low, "low"},
		{aacvpr, "ejection fraction 38, all else good", but(func(p *profile) { p.EjectionFraction = num(38) }), "high"},
		{aacvpr, "ejection fraction 39", but(func(p *profile) { p.EjectionFraction = num(39) }), "high"},
		{aacvpr, "ejection fraction 40", but(func(p *profile) { p.EjectionFraction = num(40) }), "moderate"},
		{aacvpr, "ejection fraction 49", but(func(p *profile) { p.EjectionFraction = num(49) }), "moderate"},
		{aacvpr, "ejection fraction 50", but(func(p *profile) { p.EjectionFraction = num(50) }), "low"},
		{aacvpr, "7 METs", but(func(p *profile) { p.Capacity = h("7") }), "low"},
		{aacvpr, "6.99 METs", but(func(p *profile) { p.Capacity = h("6.99") }), "moderate"},
		{aacvpr, "4.9 METs", but(func(p *profile) { p.Capacity = h("4.9") }), "moderate"},
		{aacvpr, "rhythm in the test", but(func(p *profile) { p.RhythmInTest = screening.Yes }), "high"},
		{aacvpr, "rhythm in the test, not sure", but(func(p *profile) { p.RhythmInTest = screening.NotSure }), "high"},
		{aacvpr, "symptoms after the test", but(func(p *profile) { p.SymptomsInRecovery = screening.Yes }), "high"},
		{aacvpr + "; METs " + memory, "symptoms at 4.99 METs", but(func(p *profile) { p.SymptomsInTest, p.SymptomsAt = screening.Yes, h("4.99") }), "high"},
		{aacvpr + "; METs " + memory, "symptoms at 5 METs", but(func(p *profile) { p.SymptomsInTest, p.SymptomsAt = screening.Yes, h("5") }), "moderate"},
		{aacvpr, "symptoms at 7 METs", but(func(p *profile) { p.SymptomsInTest, p.SymptomsAt = screening.Yes, h("7") }), "moderate"},
		{aacvpr, "symptoms, not known when", but(func(p *profile) { p.SymptomsInTest = screening.Yes }), "moderate"},
		{aacvpr + "; mm " + memory, "2 mm", but(func(p *profile) { p.SilentIschaemia, p.STDepression = screening.Yes, h("2") }), "high"},
		{aacvpr + "; mm " + memory, "1.9 mm", but(func(p *profile) { p.SilentIschaemia, p.STDepression = screening.Yes, h("1.9") }), "moderate"},
		{aacvpr, "pressure falls", but(func(p *profile) { p.AbnormalPressureRate = screening.Yes }), "high"},
		{aacvpr, "complicated", but(func(p *profile) { p.ComplicatedEvent = screening.Yes }), "high"},
		{aacvpr, "ischaemia after", but(func(p *profile) { p.IschaemiaAfter = screening.Yes }), "high"},
		{aacvpr, "past arrest", but(func(p *profile) { p.PastArrest = screening.Yes }), "high"},
		{aacvpr, "heart failure", but(func(p *profile) { p.HeartFailure = screening.Yes }), "high"},
		{aacvpr, "rhythm at rest", but(func(p *profile) { p.RhythmAtRest = screening.Yes }), "high"},
		{aacvpr, "depression", but(func(p *profile) { p.Depression = screening.Yes }), "high"},
		{setting, "no test data", but(func(p *profile) {
			p.Capacity, p.RhythmInTest, p.SymptomsInTest, p.SymptomsInRecovery, p.SilentIschaemia, p.AbnormalPressureRate = nil, 0, 0, 0, 0, 0
		}), "unknown"},
		{setting, "no ejection fraction", but(func(p *profile) { p.EjectionFraction = nil }), "unknown"},
		{setting, "depression not asked", but(func(p *profile) { p.Depression = screening.Unanswered }), "unknown"},
		{setting, "nothing known", profile{}, "unknown"},
		{setting, "nothing known but heart failure", profile{HeartFailure: screening.Yes}, "high"},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			got, err := screening.RiskOf(tt.in)
			if err != nil || got.Class != tt.want || len(got.Reasons) == 0 {
				t.Errorf("RiskOf = %+v, %v; want %s", got, err, tt.want)
			}
		})
	}
	for _, field := range []struct {
		name string
		in   profile
		ok   bool
	}{
		{"capacity_mets", profile{Capacity: h("0.49")}, false}, {"capacity_mets", profile{Capacity: h("0.5")}, true},
		{"capacity_mets", profile{Capacity: h("25")}, true}, {"capacity_mets", profile{Capacity: h("25.01")}, false},
		{"symptoms_at_mets", profile{SymptomsAt: h("26")}, false}, {"st_depression_mm", profile{STDepression: h("10.01")}, false},
		{"st_depression_mm", profile{STDepression: h("10")}, true},
		{"ejection_fraction", profile{EjectionFraction: num(4)}, false}, {"ejection_fraction", profile{EjectionFraction: num(5)}, true},
		{"ejection_fraction", profile{EjectionFraction: num(90)}, true}, {"ejection_fraction", profile{EjectionFraction: num(91)}, false},
	} {
		_, err := screening.RiskOf(field.in)
		if p, _ := err.(domain.Problems); (p[field.name] == "") != field.ok {
			t.Errorf("%s: %v", field.name, err)
		}
	}
}

func TestRiskAlone(t *testing.T) {
	home := clearance.Clearance{OnFile: clearance.Allowed, Unsupervised: true, Limits: clearance.Limits{HeartRate: 120}}
	noLimit, notNamed := home, home
	noLimit.Limits = clearance.Limits{}
	notNamed.Unsupervised = false
	for _, tt := range []struct {
		source string
		class  screening.RiskClass
		word   clearance.Clearance
		want   bool
	}{
		{setting + "; Thomas 2019", "low", clearance.Clearance{}, true},
		{setting + "; Thomas 2019", "moderate", home, true},
		{setting, "moderate", noLimit, false},
		{setting, "moderate", notNamed, false},
		{setting, "unknown", home, true},
		{setting, "unknown", clearance.Clearance{}, false},
		{setting, "high", home, false},
	} {
		if ok, why := tt.class.AloneAllowed(tt.word); ok != tt.want || ok != (why == "") {
			t.Errorf("%s: %s alone: %v, %q; want %v", tt.source, tt.class, ok, why, tt.want)
		}
	}
}

func TestAfterEvent(t *testing.T) {
	p := screening.PolicyFrom(nil)
	ago := func(days int) domain.Date { return today.AddDays(-days) }
	for _, tt := range []struct {
		source string
		name   string
		in     screening.Event
		start  bool
		limits int
	}{
		{heartLine + "; use: " + setting, "heart attack 21 days ago", screening.Event{Kind: "heart_attack", On: ago(21), Discharged: ago(18), DecidedOn: ago(2)}, true, 0},
		{heartLine + "; use: " + setting, "heart attack 20 days ago", screening.Event{Kind: "heart_attack", On: ago(20), Discharged: ago(18), DecidedOn: ago(2)}, false, 0},
		{setting, "10 days ago, the decision says alone", screening.Event{Kind: "heart_attack", On: ago(10), Discharged: ago(8), DecidedOn: ago(2), Alone: true}, true, 0},
		{setting, "decided before discharge", screening.Event{Kind: "heart_attack", On: ago(30), Discharged: ago(18), DecidedOn: ago(19)}, false, 0},
		{setting, "decided on the day of discharge", screening.Event{Kind: "heart_attack", On: ago(30), Discharged: ago(18), DecidedOn: ago(18)}, true, 0},
		{setting, "no decision", screening.Event{Kind: "heart_attack", On: ago(60)}, false, 0},
		{memory, "stent six days ago, healed", screening.Event{Kind: "stent", On: ago(6), DecidedOn: ago(1), Healed: true}, true, 1},
		{memory, "stent seven days ago, healed", screening.Event{Kind: "stent", On: ago(7), DecidedOn: ago(1), Healed: true}, true, 0},
		{memory, "stent not healed", screening.Event{Kind: "stent", On: ago(7), DecidedOn: ago(1)}, false, 0},
		{"Boston Medical Center page", "open heart, 55 days", screening.Event{Kind: "open_heart", On: ago(55), DecidedOn: ago(1)}, true, 2},
		{"Boston Medical Center page", "open heart, 56 days", screening.Event{Kind: "open_heart", On: ago(56), DecidedOn: ago(1)}, true, 1},
		{"summary of AHA resistance guidance", "open heart, 83 days", screening.Event{Kind: "open_heart", On: ago(83), DecidedOn: ago(1)}, true, 1},
		{"summary of AHA resistance guidance", "open heart, 84 days", screening.Event{Kind: "open_heart", On: ago(84), DecidedOn: ago(1)}, true, 0},
		{"42 USC 1395x", "heart failure stable for 41 days", screening.Event{Kind: "heart_failure", On: ago(41), DecidedOn: ago(1)}, false, 0},
		{"42 USC 1395x", "heart failure stable for 42 days", screening.Event{Kind: "heart_failure", On: ago(42), DecidedOn: ago(1)}, true, 0},
		{memory, "pacemaker, 41 days", screening.Event{Kind: "pacemaker", On: ago(41), DecidedOn: ago(1), Healed: true}, true, 1},
		{memory, "defibrillator, 42 days", screening.Event{Kind: "defibrillator", On: ago(42), DecidedOn: ago(1), Healed: true}, true, 0},
		{memory, "pacemaker, wound open", screening.Event{Kind: "pacemaker", On: ago(42), DecidedOn: ago(1)}, false, 0},
		{memory, "angina", screening.Event{Kind: "angina", On: ago(3), DecidedOn: ago(1)}, true, 0},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			r, err := screening.AfterEvent(tt.in, today, p)
			if err != nil || r.MayStart != tt.start || len(r.Limits) != tt.limits || r.MayStart != (len(r.Waits) == 0) {
				t.Errorf("AfterEvent = %+v, %v; want start %v, %d limits", r, err, tt.start, tt.limits)
			}
		})
	}
	if r, _ := screening.AfterEvent(screening.Event{Kind: "heart_transplant", On: ago(300), DecidedOn: ago(1)}, today, p); !r.TalkOnly || !r.MayStart {
		t.Errorf("transplant: %+v", r)
	}
	if r, _ := screening.AfterEvent(screening.Event{Kind: "heart_attack", On: ago(3)}, today, p); r.Earliest != today.AddDays(18) {
		t.Errorf("earliest %v; want 21 days after", r.Earliest)
	}
	for _, e := range []screening.Event{{Kind: "angina"}, {Kind: "angina", On: today.AddDays(1)}, {Kind: "nothing", On: today}} {
		if _, err := screening.AfterEvent(e, today, p); err == nil {
			t.Errorf("%+v is taken", e)
		}
	}
}

// TestMayLift: bypass five weeks ago, a row with 8 kg planned.
func TestMayLift(t *testing.T) {
	p := screening.PolicyFrom(nil)
	at := func(days int) screening.Recovery {
		r, err := screening.AfterEvent(screening.Event{Kind: "open_heart", On: today.AddDays(-days), DecidedOn: today}, today, p)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	for _, tt := range []struct {
		source string
		days   int
		grams  int
		want   bool
	}{
		{"Boston Medical Center page", 35, 8000, false},
		{"Boston Medical Center page: 10 pounds", 35, 4500, true},
		{"Boston Medical Center page: 10 pounds", 35, 4501, false},
		{"Boston Medical Center page: 8 weeks", 55, 8000, false},
		{"Boston Medical Center page: 8 weeks", 56, 8000, true},
	} {
		if got := at(tt.days).MayLift(tt.grams); got != tt.want {
			t.Errorf("%s: %d g after %d days: %v; want %v", tt.source, tt.grams, tt.days, got, tt.want)
		}
	}
}

func TestAgainstAlone(t *testing.T) {
	p := screening.PolicyFrom(nil)
	screened := func(c clearance.Clearance, codes ...string) screening.Decision {
		in := client(t, 60, light, codes...)
		in.Activity, in.Clearance = exercising, c
		return decide(t, in)
	}
	home := func(covers ...string) clearance.Clearance {
		d := clearance.Decision{ID: "1", DecidedOn: today, ReceivedOn: today, Outcome: clearance.Cleared, Ceiling: moderate, Considered: covers, Unsupervised: true}
		return clearance.File{Decisions: []clearance.Decision{d}}.Summarise(clearance.Aerobic, today, clearance.PolicyFrom(nil))
	}
	healthy := screening.AloneInput{Screening: screened(clearance.Clearance{})}
	but := func(change func(*screening.AloneInput)) screening.AloneInput {
		in := healthy
		change(&in)
		return in
	}
	stable := today.AddDays(-42)
	type alone = screening.AloneInput
	for _, tt := range []struct {
		source string
		name   string
		in     alone
		want   []string
	}{
		{setting, "nothing", healthy, nil},
		{aacvpr + "; " + setting, "high risk", but(func(a *alone) { a.Risk = screening.HighRisk }), []string{"risk"}},
		{aacvpr + "; " + setting, "low risk", but(func(a *alone) { a.Risk = screening.LowRisk }), nil},
		{setting, "supervised only", but(func(a *alone) { a.Clearance.SupervisedOnly = true }), []string{"supervised"}},
		{setting, "undecided", but(func(a *alone) { a.Screening = screening.Decision{Action: screening.Incomplete} }), []string{"undecided"}},
		{setting, "a contraindication", but(func(a *alone) { a.Screening = screened(clearance.Clearance{}, "infection_fever") }), []string{"finding"}},
		{setting, "a symptom without a decision", but(func(a *alone) { a.Screening = screened(clearance.Clearance{}, "palpitations") }), []string{"symptom"}},
		{setting, "a symptom with one", but(func(a *alone) { a.Screening = screened(cleared(1, light, "palpitations"), "palpitations") }), nil},
		{setting, "heart failure class 3", but(func(a *alone) { a.NYHA, a.FailureStable = 3, stable }), []string{"failure_class"}},
		{setting, "heart failure class 2, stable 42 days", but(func(a *alone) { a.NYHA, a.FailureStable = 2, stable }), nil},
		{"42 USC 1395x", "stable 41 days", but(func(a *alone) { a.NYHA, a.FailureStable = 2, stable.AddDays(1) }), []string{"failure_stable"}},
		{setting, "heart failure, nobody knows since when", but(func(a *alone) { a.Screening = screened(clearance.Clearance{}, "heart_failure") }), []string{"failure_stable"}},
		{setting, "ejection fraction 39", but(func(a *alone) { a.EjectionFraction = num(39) }), []string{"ejection"}},
		{setting, "ejection fraction 40", but(func(a *alone) { a.EjectionFraction = num(40) }), nil},
		{setting, "ejection fraction 39, home named", but(func(a *alone) { a.EjectionFraction, a.Clearance = num(39), home() }), nil},
		{setting, "angina at low effort", but(func(a *alone) { a.LowEffortAngina = true }), []string{"angina"}},
		{setting, "a faint", but(func(a *alone) { a.FaintUnexplained = true }), []string{"faint"}},
		{setting, "a shock within three months", but(func(a *alone) { a.LastShock = domain.NewDate(2025, 3, 2) }), []string{"shock"}},
		{setting, "a shock three months ago", but(func(a *alone) { a.LastShock = domain.NewDate(2025, 3, 1) }), nil},
		{"Boston Medical Center page", "breastbone 55 days", but(func(a *alone) { a.Sternotomy = today.AddDays(-55) }), []string{"sternum"}},
		{"Boston Medical Center page", "breastbone 56 days", but(func(a *alone) { a.Sternotomy = today.AddDays(-56) }), nil},
		{setting, "stroke", but(func(a *alone) { a.Screening = screened(clearance.Clearance{}, "stroke") }), []string{"stroke"}},
		{setting, "warning stroke", but(func(a *alone) { a.Screening = screened(clearance.Clearance{}, "tia") }), []string{"stroke"}},
		{setting, "stroke, released", but(func(a *alone) { a.Screening = screened(cleared(1, light, "stroke"), "stroke") }), nil},
		{setting, "Marfan", but(func(a *alone) { a.Marfan = true }), []string{"aorta"}},
		{setting, "Marfan, home named", but(func(a *alone) { a.Marfan, a.Clearance = true, home("aortic_aneurysm") }), nil},
		{setting, "a widened aorta", but(func(a *alone) { a.Screening = screened(clearance.Clearance{}, "aortic_aneurysm") }), []string{"heart"}},
		{setting, "a widened aorta, home not named", but(func(a *alone) {
			a.Clearance = cleared(1, light, "aortic_aneurysm")
			a.Screening = screened(a.Clearance, "aortic_aneurysm")
		}), []string{"heart"}},
		{setting, "a widened aorta, home named", but(func(a *alone) {
			a.Clearance = home("aortic_aneurysm")
			a.Screening = screened(a.Clearance, "aortic_aneurysm")
		}), nil},
		{setting, "a thickened heart, named but not for home", but(func(a *alone) {
			a.Clearance = cleared(1, light, "hypertrophic_cardiomyopathy")
			a.Screening = screened(a.Clearance, "hypertrophic_cardiomyopathy")
		}), []string{"heart"}},
		{setting, "severe aortic stenosis", but(func(a *alone) { a.Screening = screened(clearance.Clearance{}, "aortic_stenosis_severe") }), []string{"finding", "heart"}},
		{setting, "type 1 diabetes, a severe low", but(func(a *alone) {
			a.Screening, a.LastSevereLow = screened(clearance.Clearance{}, "diabetes_type_1"), domain.NewDate(2025, 3, 2)
		}), []string{"severe_low"}},
		{setting, "type 1 diabetes, a severe low three months ago", but(func(a *alone) {
			a.Screening, a.LastSevereLow = screened(clearance.Clearance{}, "diabetes_type_1"), domain.NewDate(2025, 3, 1)
		}), nil},
		{setting, "type 1 diabetes, lows without warning", but(func(a *alone) {
			a.Screening, a.LowUnawareness = screened(clearance.Clearance{}, "diabetes_type_1"), true
		}), []string{"low_unaware"}},
		{setting, "dialysis", but(func(a *alone) { a.Screening = screened(clearance.Clearance{}, "dialysis") }), []string{"dialysis"}},
		{setting, "dialysis, agreed", but(func(a *alone) { a.Screening = screened(cleared(1, light, "dialysis"), "dialysis") }), nil},
		{lungKit, "oxygen 87", but(func(a *alone) { a.EffortSpO2 = num(87) }), []string{"oxygen"}},
		{lungKit, "oxygen 88", but(func(a *alone) { a.EffortSpO2 = num(88) }), nil},
		{setting, "cannot monitor", but(func(a *alone) { a.CannotMonitor = true }), []string{"monitor"}},
		{setting, "one fall", but(func(a *alone) { a.Falls = 1 }), nil},
		{setting, "two falls", but(func(a *alone) { a.Falls = 2 }), []string{"falls"}},
		{setting, "nobody reachable", but(func(a *alone) { a.NobodyReachable = true }), []string{"reach"}},
		{setting, "several", but(func(a *alone) { a.CannotMonitor, a.Falls, a.LowEffortAngina = true, 3, true }), []string{"angina", "monitor", "falls"}},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			var got []string
			for _, b := range screening.AgainstAlone(tt.in, today, p) {
				rule := strings.TrimPrefix(b.Rule, "alone.")
				got = append(got, rule)
				want := map[string]screening.Concerns{"falls": screening.BalanceWork, "reach": screening.VigorousWork}[rule]
				if want == "" {
					want = screening.AllWork
				}
				if b.Concerns != want || b.Says == "" {
					t.Errorf("bar %+v", b)
				}
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("AgainstAlone = %v; want %v", got, tt.want)
			}
		})
	}
}
