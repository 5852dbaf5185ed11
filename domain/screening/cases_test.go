package screening_test

import (
	"slices"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
)

// result is what a case expects.
type result struct {
	rule    string
	group   screening.Group
	ceiling intensity.Class
	hold    clearance.Scope
	action  screening.Action
}

func resultOf(d screening.Decision) result {
	return result{d.Rule, d.Group, d.CeilingNow, d.Hold, d.Action}
}

const (
	none     = intensity.None
	light    = intensity.Light
	moderate = intensity.Moderate
	vigorous = intensity.Vigorous
)

func TestDecideCases(t *testing.T) {
	regular := func(in screening.Input) screening.Input {
		in.Activity = exercising
		return in
	}
	with := func(in screening.Input, c clearance.Clearance) screening.Input {
		in.Clearance = c
		return in
	}
	c := func(age int, desired intensity.Class, codes ...string) screening.Input {
		return client(t, age, desired, codes...)
	}
	for _, tt := range []struct {
		source string
		name   string
		in     screening.Input
		want   result
	}{
		{acsmFigure, "28, healthy, idle, wants light", c(28, light), result{"A001", "none", moderate, clearance.NoHold, "start"}},
		{acsmFigure, "30, healthy, idle, wants moderate", c(30, moderate), result{"A002", "none", moderate, clearance.NoHold, "start"}},
		{acsmFigure, "33, healthy, idle, wants vigorous", c(33, vigorous), result{"A003", "none", moderate, clearance.NoHold, "start_lower_progress"}},
		{acsmFigure + "; Colberg 2017 quotes it", "55, type 2 diabetes, idle, wants to walk", c(55, light, "diabetes_type_2"),
			result{"A019", "dis", none, clearance.All, "refer_first"}},
		{acsmFigure, "62, heart attack two years ago, idle", c(62, moderate, "heart_attack"), result{"A020", "dis", none, clearance.All, "refer_first"}},
		{acsmFigure, "62, kidney disease, idle, wants vigorous", c(62, vigorous, "kidney_disease"), result{"A021", "dis", none, clearance.All, "refer_first"}},
		{acsmFigure + "; ceiling: practice setting", "the heart attack with a moderate ceiling", with(c(62, moderate, "heart_attack"), cleared(1, moderate, "heart_attack")),
			result{"A029", "dis", moderate, clearance.Vigorous, "start"}},
		{acsmFigure, "40, ankles swell, idle", c(40, light, "ankle_swelling"), result{"A037", "sym", none, clearance.All, "refer_first"}},
		{acsmFigure, "40, palpitations, idle, wants vigorous", c(40, vigorous, "palpitations"), result{"A039", "sym", none, clearance.All, "refer_first"}},
		{acsmFigure, "34, runner, healthy", regular(c(34, vigorous)), result{"A057", "none", vigorous, clearance.NoHold, "continue"}},
		{acsmFigure + "; " + getp10, "70, walker, healthy: age does not matter", regular(c(70, moderate)), result{"A056", "none", vigorous, clearance.NoHold, "continue"}},
		{acsmFigure, "58, exercising, type 2 diabetes, wants moderate", regular(c(58, moderate, "diabetes_type_2")),
			result{"A074", "dis", moderate, clearance.Vigorous, "continue"}},
		{acsmFigure, "58, exercising, type 2 diabetes, wants vigorous", regular(c(58, vigorous, "diabetes_type_2")),
			result{"A075", "dis", moderate, clearance.Vigorous, "continue_lower_and_refer"}},
		{acsmFigure, "the same with a decision of eight months ago", with(regular(c(58, vigorous, "diabetes_type_2")), cleared(8, vigorous, "diabetes_type_2")),
			result{"A087", "dis", vigorous, clearance.NoHold, "continue"}},
		{acsmFigure + "; boundary: practice setting", "the same with a decision of twelve months ago to the day",
			with(regular(c(58, vigorous, "diabetes_type_2")), cleared(12, vigorous, "diabetes_type_2")),
			result{"A078", "dis", moderate, clearance.Vigorous, "continue_lower_and_refer"}},
		{acsmFigure + "; boundary: practice setting", "and a day less",
			with(regular(c(58, vigorous, "diabetes_type_2")), word(domain.NewDate(2024, 6, 2), clearance.Cleared, vigorous, "diabetes_type_2")),
			result{"A087", "dis", vigorous, clearance.NoHold, "continue"}},
		{acsmFigure, "49, exercising, new chest tightness uphill", regular(c(49, moderate, "chest_pressure")),
			result{"A092", "sym", none, clearance.All, "stop_and_refer"}},

		{acsmFigure + ", worked case", "high blood pressure alone", c(34, moderate, "hypertension"), result{"A002", "none", moderate, clearance.NoHold, "start"}},
		{getp10, "weight, smoking, cholesterol, father's heart attack", c(34, moderate, "obesity", "smoking", "high_cholesterol", "family_history"),
			result{"A002", "none", moderate, clearance.NoHold, "start"}},
		{getp10 + "; " + acsmFAQ, "asthma, well controlled", c(34, moderate, "asthma"), result{"A002", "none", moderate, clearance.NoHold, "start"}},
		{getp10 + "; " + acsmSigns, "chronic lung disease, breathless dressing", c(60, light, "copd", "breathlessness"),
			result{"A037", "sym", none, clearance.All, "refer_first"}},
		{acsmFigure + "; " + setting, "narrowed leg arteries with stable calf pain, exercising", regular(c(66, moderate, "peripheral_artery_disease", "leg_pain_walking")),
			result{"A092", "sym", none, clearance.All, "stop_and_refer"}},
		{acsmSigns + "; " + setting, "a murmur called innocent", c(33, moderate, "heart_murmur"), result{"A038", "sym", none, clearance.All, "refer_first"}},
		{acsmFigure, "warning stroke five years ago, exercising, moderate ceiling, wants vigorous",
			with(regular(c(60, vigorous, "tia")), cleared(3, moderate, "tia")), result{"A084", "dis", moderate, clearance.Vigorous, "capped"}},
		{getp10 + "; " + memory, "dialysis, idle", c(60, light, "dialysis"), result{"A019", "dis", none, clearance.All, "refer_first"}},
		{memory, "a kidney stone with normal kidneys", c(34, moderate, "kidney_stone"), result{"A002", "none", moderate, clearance.NoHold, "start"}},
		{memory, "an under-active thyroid, treated", c(34, moderate, "thyroid_disease"), result{"A002", "none", moderate, clearance.NoHold, "start"}},
		{setting, "healthy with a light ceiling, wants moderate", with(c(30, moderate), cleared(1, light)),
			result{"A008", "none", light, clearance.AboveLight, "capped"}},
		{setting, "a healthy runner told not now", with(regular(c(30, vigorous)), word(today, clearance.NotNow, none)),
			result{"A072", "none", none, clearance.All, "no_exercise"}},
		{acsmFigure + "; " + setting, "regular since the programme, type 2 diabetes, moderate ceiling, wants vigorous",
			with(regular(c(58, vigorous, "diabetes_type_2")), cleared(3, moderate, "diabetes_type_2")), result{"A084", "dis", moderate, clearance.Vigorous, "capped"}},

		{common, "over 35, healthy, not exercising: light first", c(50, moderate), result{"A002", "none", light, clearance.NoHold, "start"}},
		{common, "over 35, healthy, not exercising, wants vigorous: light first", c(61, vigorous), result{"A003", "none", light, clearance.NoHold, "start_lower_progress"}},
		{common, "diabetes, not exercising: doctor first", c(45, moderate, "diabetes_type_1"), result{"A020", "dis", none, clearance.All, "refer_first"}},
		{common, "heart disease, not exercising: doctor first", c(45, light, "coronary_disease"), result{"A019", "dis", none, clearance.All, "refer_first"}},
		{common, "kidney disease, not exercising: doctor first", c(45, vigorous, "kidney_transplant"), result{"A021", "dis", none, clearance.All, "refer_first"}},
		{common, "diabetes, exercising: moderate may continue", regular(c(45, moderate, "diabetes_type_2")), result{"A074", "dis", moderate, clearance.Vigorous, "continue"}},
		{common, "heart disease, exercising: moderate may continue", regular(c(45, light, "heart_failure")), result{"A073", "dis", moderate, clearance.Vigorous, "continue"}},
		{common, "kidney disease, exercising: doctor before vigorous", regular(c(45, vigorous, "kidney_disease")),
			result{"A075", "dis", moderate, clearance.Vigorous, "continue_lower_and_refer"}},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			if got := resultOf(decide(t, tt.in)); got != tt.want {
				t.Errorf("Decide = %+v; want %+v", got, tt.want)
			}
		})
	}
}

func TestLightFirst(t *testing.T) {
	born := func(d domain.Date) screening.Input {
		in := client(t, 0, moderate)
		in.BirthDate = d
		return in
	}
	for _, tt := range []struct {
		source  string
		name    string
		in      screening.Input
		rule    string
		first   intensity.Class
		ceiling intensity.Class
	}{
		{common + "; the published row allows moderate", "50", client(t, 50, moderate), "P1", light, light},
		{common, "36th birthday today", born(domain.NewDate(1989, 6, 1)), "P1", light, light},
		{common, "36th birthday tomorrow", born(domain.NewDate(1989, 6, 2)), "", none, moderate},
		{common, "35", client(t, 35, moderate), "", none, moderate},
		{common, "36", client(t, 36, light), "P1", light, light},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			d := decide(t, tt.in)
			if d.PracticeRule != tt.rule || d.FirstPhaseCeiling != tt.first || d.CeilingNow != tt.ceiling {
				t.Errorf("Decide = rule %q, first %v, ceiling %v; want %q, %v, %v", d.PracticeRule, d.FirstPhaseCeiling, d.CeilingNow, tt.rule, tt.first, tt.ceiling)
			}
			if d.RowCeiling != moderate || d.MayProgressTo != vigorous || d.Hold != clearance.NoHold || d.Action != screening.Start {
				t.Errorf("the published row is lost: %v, %v, %v, %s", d.RowCeiling, d.MayProgressTo, d.Hold, d.Action)
			}
		})
	}
	done := client(t, 50, moderate)
	done.FirstPhaseDone = true
	active := client(t, 50, moderate)
	active.Activity = exercising
	ill := client(t, 50, moderate, "stent")
	ill.Clearance = cleared(1, vigorous, "stent")
	for name, in := range map[string]screening.Input{"first phase done": done, "exercising": active, "known disease": ill} {
		if d := decide(t, in); d.PracticeRule != "" || d.FirstPhaseCeiling != none || d.CeilingNow < moderate {
			t.Errorf("%s: rule %q, ceiling %v", name, d.PracticeRule, d.CeilingNow)
		}
	}
	p := screening.PolicyFrom(map[string]int{"screening.age_light_first_over": 50})
	if d, err := screening.Decide(client(t, 50, moderate), p); err != nil || d.PracticeRule != "" {
		t.Errorf("with the setting at 50, somebody of 50: %q, %v", d.PracticeRule, err)
	}
}

func TestWalkingException(t *testing.T) {
	on := screening.PolicyFrom(map[string]int{"screening.diabetes_walking_exception": 1})
	for _, tt := range []struct {
		source  string
		name    string
		in      screening.Input
		ceiling intensity.Class
		hold    clearance.Scope
		action  screening.Action
		walking bool
	}{
		{colberg2017, "wants light", client(t, 55, light, "diabetes_type_2"), moderate, clearance.Vigorous, screening.Start, true},
		{colberg2017, "wants moderate", client(t, 55, moderate, "diabetes_type_2"), moderate, clearance.Vigorous, screening.Start, true},
		{colberg2017, "wants vigorous: see the doctor", client(t, 55, vigorous, "diabetes_type_2"), none, clearance.All, screening.ReferFirst, false},
		{colberg2017 + ", higher risk", "eye disease", client(t, 55, light, "diabetes_type_2", "retinopathy"), none, clearance.All, screening.ReferFirst, false},
		{colberg2017 + ", higher risk", "numb feet", client(t, 55, light, "diabetes_type_2", "neuropathy"), none, clearance.All, screening.ReferFirst, false},
		{colberg2017 + ", higher risk", "heart disease too", client(t, 55, light, "diabetes_type_2", "stent"), none, clearance.All, screening.ReferFirst, false},
		{colberg2017, "a symptom", client(t, 55, light, "diabetes_type_2", "breathlessness"), none, clearance.All, screening.ReferFirst, false},
		{setting, "type 1", client(t, 55, light, "diabetes_type_1"), none, clearance.All, screening.ReferFirst, false},
		{setting, "pregnant", client(t, 35, light, "diabetes_type_2", "pregnant"), none, clearance.All, screening.ReferFirst, false},
		{setting, "diabetes of pregnancy", client(t, 35, light, "diabetes_type_2", "gestational_diabetes"), none, clearance.All, screening.ReferFirst, false},
		{setting, "a contraindication", client(t, 55, light, "diabetes_type_2", "infection_fever"), none, clearance.All, screening.NoExercise, false},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			d, err := screening.Decide(tt.in, on)
			if err != nil || d.CeilingNow != tt.ceiling || d.Hold != tt.hold || d.Action != tt.action || d.WalkingOnly != tt.walking {
				t.Errorf("Decide = %v, %v, %s, walking %v, %v; want %v, %v, %s, %v", d.CeilingNow, d.Hold, d.Action, d.WalkingOnly, err,
					tt.ceiling, tt.hold, tt.action, tt.walking)
			}
			off := decide(t, tt.in)
			if off.CeilingNow != none || off.WalkingOnly {
				t.Errorf("without the setting: %v, walking %v; want nothing", off.CeilingNow, off.WalkingOnly)
			}
		})
	}
	refused := client(t, 55, light, "diabetes_type_2")
	refused.Clearance = word(today, clearance.NotNow, none)
	if d, _ := screening.Decide(refused, on); d.CeilingNow != none || d.WalkingOnly {
		t.Errorf("refused by the doctor: %v, walking %v", d.CeilingNow, d.WalkingOnly)
	}
	unasked := client(t, 55, light, "diabetes_type_2")
	if err := unasked.Answers.Set("foot_ulcer", screening.Unanswered); err != nil {
		t.Fatal(err)
	}
	if d, _ := screening.Decide(unasked, on); d.WalkingOnly {
		t.Error("a complication nobody asked about counts as absent")
	}
	regular := client(t, 55, light, "diabetes_type_2")
	regular.Activity = exercising
	if d, _ := screening.Decide(regular, on); d.WalkingOnly || d.Rule != "A073" {
		t.Errorf("a regular exerciser: walking %v, %s", d.WalkingOnly, d.Rule)
	}
}

func TestUndecided(t *testing.T) {
	missing := func(codes ...string) screening.Input {
		in := client(t, 50, moderate)
		for _, c := range codes {
			if err := in.Answers.Set(c, screening.Unanswered); err != nil {
				t.Fatal(err)
			}
		}
		return in
	}
	hinted := func(in screening.Input, code, explained string) screening.Input {
		in.Hints = []screening.Hint{{Code: code, Says: "metformin", Explained: explained}}
		return in
	}
	for _, tt := range []struct {
		source  string
		name    string
		in      screening.Input
		rule    string
		decided bool
	}{
		{setting, "one question unanswered", missing("fainting"), "E0", false},
		{setting, "a disease unanswered", missing("kidney_disease"), "E0", false},
		{setting, "all unanswered", screening.Input{Today: today, Age: 50, Desired: light}, "E0", false},
		{setting, "what is only noted may stay unanswered", missing("smoking", "retinopathy", "pregnant", "unstable_angina"), "A002", true},
		{setting, "17 years", client(t, 17, light), "E16", false},
		{setting, "18 years", client(t, 18, light), "A001", true},
		{setting, "metformin, no diabetes", hinted(client(t, 30, moderate), "diabetes", ""), "E19", false},
		{setting, "metformin, prediabetes, not yet explained", hinted(client(t, 30, moderate, "prediabetes"), "diabetes", ""), "E19", false},
		{setting, "metformin explained", hinted(client(t, 30, moderate, "prediabetes"), "diabetes", "For prediabetes since 2022."), "A002", true},
		{setting, "metformin, diabetes declared", hinted(client(t, 30, moderate, "diabetes_type_2"), "diabetes", ""), "A020", true},
		{setting, "a thyroid medicine is a remark only", hinted(client(t, 30, moderate), "overactive_thyroid", ""), "A002", true},
		{setting, "a loop diuretic with kidney disease", hinted(client(t, 30, moderate, "kidney_disease"), "heart_failure", ""), "A020", true},
		{setting, "an anticoagulant, nothing declared", hinted(client(t, 30, moderate), "atrial_fibrillation_or_clot", ""), "E19", false},
		{setting, "under age comes before a conflict", hinted(client(t, 16, moderate), "diabetes", ""), "E16", false},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			d := decide(t, tt.in)
			if d.Rule != tt.rule || d.Decided() != tt.decided {
				t.Errorf("Decide = %s, decided %v; want %s, %v", d.Rule, d.Decided(), tt.rule, tt.decided)
			}
			if !tt.decided && (d.CeilingNow != none || d.MayProgressTo != none || d.Hold != clearance.All || d.Action != screening.Incomplete || d.Need != screening.NeedUnknown) {
				t.Errorf("undecided yet %v, %v, %v, %s, %s", d.CeilingNow, d.MayProgressTo, d.Hold, d.Action, d.Need)
			}
		})
	}
	d := decide(t, missing("fainting"))
	if !slices.Equal(d.Missing, []string{"fainting"}) || !strings.Contains(strings.Join(d.Reasons, " "), "Fainting") {
		t.Errorf("missing %v, reasons %q", d.Missing, d.Reasons)
	}
	if d := decide(t, screening.Input{Today: today, Age: 50, Desired: light}); len(d.Missing) != 9+27 {
		t.Errorf("%d missing answers; want 9 symptoms and 27 diseases", len(d.Missing))
	}
}

// TestNotSure: not sure counts as yes, for each code.
func TestNotSure(t *testing.T) {
	for _, term := range screening.Codes() {
		yes, unsure := client(t, 45, moderate, term.Code), client(t, 45, moderate, term.Code)
		if err := unsure.Answers.Set(term.Code, screening.NotSure); err != nil {
			t.Fatal(err)
		}
		if got, want := resultOf(decide(t, unsure)), resultOf(decide(t, yes)); got != want {
			t.Errorf("%s: not sure gives %+v, yes %+v", term.Code, got, want)
		}
	}
	unsure := client(t, 45, moderate, "fainting")
	if err := unsure.Answers.Set("fainting", screening.NotSure); err != nil {
		t.Fatal(err)
	}
	if d := decide(t, unsure); d.Group != screening.Symptomatic || !strings.Contains(d.Reasons[0], "not sure") {
		t.Errorf("group %s, reasons %q", d.Group, d.Reasons)
	}
}

func TestDecideRefuses(t *testing.T) {
	good := client(t, 50, moderate)
	for _, tt := range []struct {
		source string
		field  string
		change func(*screening.Input)
	}{
		{setting, "today", func(in *screening.Input) { in.Today = domain.Date{} }},
		{setting, "today", func(in *screening.Input) { in.Today = domain.NewDate(2025, 2, 30) }},
		{setting, "age", func(in *screening.Input) { in.Age = 0 }},
		{setting, "age", func(in *screening.Input) { in.Age = 111 }},
		{setting, "age", func(in *screening.Input) { in.BirthDate = domain.NewDate(1980, 1, 1) }},
		{setting, "birth_date", func(in *screening.Input) { in.Age, in.BirthDate = 0, domain.NewDate(2025, 6, 2) }},
		{setting, "birth_date", func(in *screening.Input) { in.Age, in.BirthDate = 0, domain.NewDate(1914, 6, 1) }},
		{setting, "birth_date", func(in *screening.Input) { in.Age, in.BirthDate = 0, domain.NewDate(1980, 2, 30) }},
		{setting, "desired", func(in *screening.Input) { in.Desired = none }},
		{setting, "desired", func(in *screening.Input) { in.Desired = intensity.VeryLight }},
		{setting, "desired", func(in *screening.Input) { in.Desired = intensity.NearMaximal }},
		{setting, "activity.days", func(in *screening.Input) { in.Activity.Days = 8 }},
		{setting, "activity.days", func(in *screening.Input) { in.Activity.Days = -1 }},
		{setting, "activity.minutes", func(in *screening.Input) { in.Activity.Minutes = 721 }},
		{setting, "activity.minutes", func(in *screening.Input) { in.Activity.Minutes = -1 }},
		{setting, "activity.months", func(in *screening.Input) { in.Activity.Months = 1201 }},
		{setting, "activity.months", func(in *screening.Input) { in.Activity.Months = -1 }},
		{setting, "activity.class", func(in *screening.Input) { in.Activity.Class = 9 }},
		{setting, "activity.class", func(in *screening.Input) { in.Activity.Class = -1 }},
		{setting, "attested", func(in *screening.Input) { in.Attested = &screening.Attested{Regular: true, By: "A. Tester"} }},
		{setting, "attested", func(in *screening.Input) { in.Attested = &screening.Attested{Regular: true, Reason: "Seen here."} }},
		{setting, "reclassified", func(in *screening.Input) {
			in.Reclassified = []screening.Reclassified{{Code: "ankle_swelling", By: "A. Tester"}}
		}},
		{setting, "reclassified", func(in *screening.Input) {
			in.Reclassified = []screening.Reclassified{{Code: "ankle_swelling", Reason: "A sprain."}}
		}},
		{setting, "reclassified", func(in *screening.Input) {
			in.Reclassified = []screening.Reclassified{{Code: "unstable_angina", By: "A. Tester", Reason: "No."}}
		}},
		{setting, "reclassified", func(in *screening.Input) {
			in.Reclassified = []screening.Reclassified{{Code: "nothing", By: "A. Tester", Reason: "No."}}
		}},
		{setting, "since", func(in *screening.Input) { in.Since = []screening.Onset{{Code: "nothing", On: today}} }},
		{setting, "since", func(in *screening.Input) { in.Since = []screening.Onset{{Code: "stent", On: today.AddDays(1)}} }},
		{setting, "medicines", func(in *screening.Input) { in.Hints = []screening.Hint{{Code: "nothing"}} }},
		{setting, "decision", func(in *screening.Input) { in.Clearance = clearance.Clearance{OnFile: clearance.Allowed} }},
		{setting, "decision", func(in *screening.Input) {
			in.Clearance = clearance.Clearance{OnFile: clearance.Allowed, Cap: intensity.NearMaximal}
		}},
		{setting, "decision", func(in *screening.Input) {
			in.Clearance = clearance.Clearance{OnFile: clearance.Allowed, Cap: light, Covered: []clearance.Cover{{Code: "stent"}}}
		}},
	} {
		t.Run(tt.source+"/"+tt.field, func(t *testing.T) {
			in := good
			tt.change(&in)
			d, err := screening.Decide(in, screening.PolicyFrom(nil))
			p, ok := err.(domain.Problems)
			if !ok || len(p) != 1 || p[tt.field] == "" || d.Rule != "" {
				t.Errorf("Decide = %q, %v; want a problem with %s", d.Rule, err, tt.field)
			}
		})
	}
	for _, age := range []int{1, 110} {
		in := good
		in.Age = age
		if _, err := screening.Decide(in, screening.PolicyFrom(nil)); err != nil {
			t.Errorf("age %d: %v", age, err)
		}
	}
	both := good
	both.BirthDate = domain.NewDate(1975, 6, 1)
	if _, err := screening.Decide(both, screening.PolicyFrom(nil)); err != nil {
		t.Errorf("age and birth date that agree: %v", err)
	}
}
