package screening_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/screening"
	"brae/domain/source"
)

func TestCodes(t *testing.T) {
	form := regexp.MustCompile(`^[a-z][a-z0-9_]+$`)
	rows, kinds := map[string]int{}, map[screening.Kind]int{}
	seen := map[string]bool{}
	for _, term := range screening.Codes() {
		if !form.MatchString(term.Code) || seen[term.Code] {
			t.Errorf("code %q", term.Code)
		}
		seen[term.Code] = true
		rows[term.Row]++
		kinds[term.Kind]++
		if term.Row == "" || term.Name == "" || term.Asks == "" || len(term.Cites) == 0 {
			t.Errorf("%s says too little: %+v", term.Code, term)
		}
		if (term.Kind == screening.Symptom) != (term.Means != "") {
			t.Errorf("%s: meaning %q", term.Code, term.Means)
		}
		if (term.Tier == "") != (term.Scope == clearance.NoHold) || term.Kind == screening.Finding && term.Tier == "" {
			t.Errorf("%s: tier %q, scope %v", term.Code, term.Tier, term.Scope)
		}
		cited(t, term.Code, term.Cites)
		if got, ok := screening.TermOf(term.Code); !ok || got.Code != term.Code {
			t.Errorf("TermOf(%q) = %+v, %v", term.Code, got, ok)
		}
	}
	if _, ok := screening.TermOf("nothing"); ok {
		t.Error("a term for no code")
	}
	for _, row := range strings.Fields("SX_CHEST SX_DYSP SX_SYNC SX_ORTH SX_OEDM SX_PALP SX_CLAU SX_MURM SX_FATG") {
		if rows[row] != 1 {
			t.Errorf("%s: %d codes for row %s; want 1", acsmSigns, rows[row], row)
		}
	}
	absolute := strings.Fields(`CX_MI_RECENT CX_ECG_NEW CX_UA CX_ARR CX_AS_SEV CX_HF_DEC CX_PE CX_DVT CX_MYOPERI CX_DISSECT CX_INFECT CX_ISCH_LOW
		CX_DM_UNC CX_RHR120 CX_AF_NEW CX_VALVE_SURG CX_BLOCK3 CX_PHT_SEV CX_RENAL_ACUTE CX_STROKE_ACUTE CX_THYROTOX`)
	relative := strings.Fields(`CX_LM CX_VALVE_MOD CX_LYTES CX_BP_REST CX_BP_CR CX_BP_160 CX_RATE CX_HCM CX_AVB CX_VANEUR CX_ORTHO_BP CX_WTGAIN
		CX_NYHA4 CX_METAB CX_ANAEMIA CX_CHRINF CX_STROKE_RECENT CX_MSK CX_MENTAL CX_GI CX_LOWCAP`)
	for _, term := range screening.Codes() {
		if term.Kind == screening.Finding && slices.Contains(absolute, term.Row) != (term.Tier == screening.Absolute) ||
			term.Kind == screening.Finding && slices.Contains(relative, term.Row) != (term.Tier == screening.Relative) {
			t.Errorf("%s: tier %s", term.Row, term.Tier)
		}
	}
	for _, row := range append(absolute, relative...) {
		if rows[row] != 1 {
			t.Errorf("%d codes for row %s; want 1", rows[row], row)
		}
	}
	if kinds[screening.Symptom] != 9 || rows["DX_METABOLIC"] != 4 || rows["DX_RENAL"] != 3 || rows["DX_CARDIOVASCULAR"] != 20 {
		t.Errorf("kinds %v, rows %v", kinds, rows)
	}
	codes := screening.Codes()
	codes[0].Code = "changed"
	if screening.Codes()[0].Code == "changed" {
		t.Error("the list can be changed from outside")
	}
}

// TestDiseasesThatCount checks who is sent to a doctor by the examples that the
// publications name.
func TestDiseasesThatCount(t *testing.T) {
	for _, tt := range []struct {
		source string
		group  screening.Group
		codes  string
	}{
		{acsmFigure + ": cardiac", screening.Disease, "coronary_disease heart_attack angina stent bypass_surgery heart_failure cardiomyopathy valve_disease rhythm_disorder atrial_fibrillation pacemaker defibrillator congenital_heart_disease heart_transplant"},
		{acsmFigure + ": peripheral vascular", screening.Disease, "peripheral_artery_disease aortic_aneurysm"},
		{acsmFigure + ": cerebrovascular", screening.Disease, "stroke tia carotid_disease"},
		{colberg2017 + ": metabolic is diabetes", screening.Disease, "diabetes_type_1 diabetes_type_2 diabetes_other"},
		{setting, screening.Disease, "diabetes_in_remission pulmonary_hypertension"},
		{getp10 + ": renal", screening.Disease, "kidney_disease dialysis kidney_transplant"},
		{getp10 + ": no lung disease", screening.NoDisease, "asthma copd lung_disease_other"},
		{memory, screening.NoDisease, "hypertension high_cholesterol family_history varicose_veins prediabetes metabolic_syndrome obesity gout thyroid_disease liver_disease kidney_stone cancer arthritis epilepsy mental_illness"},
		{acsmSigns, screening.Symptomatic, "chest_pressure breathlessness fainting breathless_lying ankle_swelling palpitations leg_pain_walking heart_murmur unusual_tiredness"},
	} {
		for _, code := range strings.Fields(tt.codes) {
			if d := decide(t, client(t, 30, light, code)); d.Group != tt.group {
				t.Errorf("%s: %s gives %s; want %s", tt.source, code, d.Group, tt.group)
			}
		}
	}
}

func TestRules(t *testing.T) {
	ids := map[string]bool{}
	for _, r := range screening.Rules {
		if ids[r.ID] || r.Says == "" || r.Topic == "" || len(r.Cites) == 0 {
			t.Errorf("rule %+v", r)
		}
		ids[r.ID] = true
		cited(t, r.ID, r.Cites)
	}
	for prefix, n := range map[string]int{"R": 18, "E": 20, "V": 20} {
		for i := 1; i <= n; i++ {
			if id := fmt.Sprint(prefix, i); !ids[id] {
				t.Errorf("no rule %s", id)
			}
		}
	}
	for _, id := range []string{"P1", "E0", "A001-A108", "diabetes_walking_exception"} {
		if !ids[id] {
			t.Errorf("no rule %s", id)
		}
	}
	// The sentence of a row says what the figure says.
	for _, r := range screening.Rules {
		if r.ID == "R15" && !strings.Contains(r.Says, "ceiling moderate, up to moderate later, hold vigorous") {
			t.Errorf("R15 says %q", r.Says)
		}
	}
	keys := map[string]bool{}
	for _, s := range screening.Settings {
		if keys[s.Key] || !strings.HasPrefix(s.Key, "screening.") || s.Says == "" || s.Unit == "" || s.Low > s.Default || s.Default > s.High || s.Low == s.High {
			t.Errorf("setting %+v", s)
		}
		keys[s.Key] = true
		cited(t, s.Key, s.Cites)
		// Each setting reaches the policy.
		other := s.Low
		if other == s.Default {
			other = s.High
		}
		if screening.PolicyFrom(source.Values{s.Key: other}) == screening.PolicyFrom(nil) {
			t.Errorf("setting %s changes nothing", s.Key)
		}
	}
	if got := screening.PolicyFrom(nil); got.LightFirstOver != 35 || got.WalkingDiabetes || !got.FlagVigorous || got.ValidMonths != 12 ||
		got.IdleWarn != 4 || got.IdleRescreen != 13 || got.OxygenFloor != 88 || got.MissedWeeks != 0 || !got.SumBouts || got.FeverFreeHours != 24 {
		t.Errorf("defaults %+v", got)
	}
}

// cited checks that each key is a citation, and that there is one.
func cited(t *testing.T, of string, keys []source.Key) {
	t.Helper()
	if len(keys) == 0 {
		t.Errorf("%s has no source", of)
	}
	for _, k := range keys {
		if _, ok := source.Find(k); !ok {
			t.Errorf("%s cites %q, which is not there", of, k)
		}
	}
}

func TestDecisionsCite(t *testing.T) {
	for _, codes := range [][]string{nil, {"pregnant"}, {"infection_fever"}, {"asthma"}, {"diabetes_type_2"}, {"placenta_praevia"}, {"palpitations"}} {
		d := decide(t, client(t, 50, light, codes...))
		cited(t, fmt.Sprint(codes), d.Sources)
		for i, k := range d.Sources {
			if slices.Contains(d.Sources[:i], k) {
				t.Errorf("%v: %s is cited twice", codes, k)
			}
		}
	}
}

func TestAnswers(t *testing.T) {
	var a screening.Answers
	if err := a.Set("palpitations", screening.NotSure); err != nil || a.Of("palpitations") != screening.NotSure || a.Of("stent") != screening.Unanswered {
		t.Errorf("answers %v, %v, %v", a.Of("palpitations"), a.Of("stent"), err)
	}
	if err := a.Set("nothing", screening.Yes); err == nil || a.Of("nothing") != screening.Unanswered {
		t.Error("an answer to no question")
	}
	if err := a.Set("stent", 9); err == nil || a.Of("stent") != screening.Unanswered {
		t.Error("an answer that is none")
	}
	text, err := json.Marshal(a)
	if err != nil || string(text) != `{"palpitations":"not_sure"}` {
		t.Errorf("written %s, %v", text, err)
	}
	for text, ok := range map[string]bool{
		`{"palpitations":"yes","stent":"no"}`: true, `{}`: true, `{"stent":""}`: true, `{"stent":"unanswered"}`: true,
		`{"nothing":"yes"}`: false, `{"stent":"maybe"}`: false, `[]`: false, `{"stent":1}`: false,
	} {
		before := a
		if err := json.Unmarshal([]byte(text), &a); (err == nil) != ok || !ok && a != before {
			t.Errorf("read %s: %v, changed %v", text, err, a != before)
		}
	}
	for i, name := range []string{"unanswered", "no", "not_sure", "yes"} {
		if got, err := screening.ParseAnswer(name); err != nil || got != screening.Answer(i) || got.String() != name || got.CountsAsYes() != (i >= 2) {
			t.Errorf("ParseAnswer(%q) = %v, %v", name, got, err)
		}
	}
	if _, err := screening.ParseAnswer("perhaps"); err == nil {
		t.Error("perhaps is an answer")
	}
	for _, tt := range []struct {
		field                          string
		diseases, symptoms, unanswered []string
	}{
		{"diseases", []string{"nothing"}, nil, nil},
		{"diseases", []string{"palpitations"}, nil, nil},
		{"symptoms", nil, []string{"stent"}, nil},
		{"symptoms", nil, []string{"nothing"}, nil},
		{"unanswered", nil, nil, []string{"nothing"}},
	} {
		_, err := screening.AnswersFrom(tt.diseases, tt.symptoms, tt.unanswered)
		if p, _ := err.(domain.Problems); p[tt.field] == "" {
			t.Errorf("AnswersFrom(%v, %v, %v): %v", tt.diseases, tt.symptoms, tt.unanswered, err)
		}
	}
	a, err = screening.AnswersFrom([]string{"stent", "asthma", "pregnant"}, []string{"palpitations"}, []string{"fainting"})
	if err != nil || a.Of("stent") != screening.Yes || a.Of("asthma") != screening.Yes || a.Of("palpitations") != screening.Yes ||
		a.Of("fainting") != screening.Unanswered || a.Of("heart_murmur") != screening.No {
		t.Errorf("AnswersFrom: %v", err)
	}
}

func TestHolds(t *testing.T) {
	regular := func(in screening.Input) screening.Input {
		in.Activity = exercising
		return in
	}
	type hold struct {
		cause string
		scope clearance.Scope
		needs clearance.Needs
		rule  string
	}
	walking := screening.PolicyFrom(source.Values{"screening.diabetes_walking_exception": 1})
	covered := client(t, 60, light, "stent", "diabetes_type_2")
	covered.Clearance = cleared(1, light, "stent")
	all := covered
	all.Clearance = cleared(1, light, "stent", "diabetes_type_2")
	refused := client(t, 60, light, "stent")
	refused.Clearance = word(today, clearance.NotNow, none)
	open := client(t, 60, light, "stent", "leg_clot", "palpitations")
	must(open.Answers.Set("fainting", screening.Unanswered))
	for _, tt := range []struct {
		source string
		name   string
		in     screening.Input
		policy screening.Policy
		want   []hold
	}{
		{setting, "healthy", client(t, 60, light), screening.PolicyFrom(nil), nil},
		{acsmFigure, "idle with two diseases", client(t, 60, light, "stent", "diabetes_type_2"), screening.PolicyFrom(nil),
			[]hold{{"stent", clearance.All, "doctor", "A019"}, {"diabetes_type_2", clearance.All, "doctor", "A019"}}},
		{acsmFigure, "exercising with a disease", regular(client(t, 60, light, "stent")), screening.PolicyFrom(nil), []hold{{"stent", clearance.Vigorous, "doctor", "A073"}}},
		{acsmFigure, "exercising with a symptom", regular(client(t, 60, light, "palpitations")), screening.PolicyFrom(nil), []hold{{"palpitations", clearance.All, "doctor", "A091"}}},
		{setting, "one of two covered", covered, screening.PolicyFrom(nil), []hold{{"diabetes_type_2", clearance.All, "doctor", "A019"}}},
		{setting, "both covered: the ceiling is no hold", all, screening.PolicyFrom(nil), nil},
		{setting, "refused", refused, screening.PolicyFrom(nil), []hold{{"stent", clearance.All, "doctor", "A034"}}},
		{setting, "walking only", client(t, 60, light, "diabetes_type_2"), walking, []hold{{"diabetes_type_2", clearance.Vigorous, "doctor", "A019"}}},
		{setting, "an absolute contraindication", client(t, 60, light, "leg_clot"), screening.PolicyFrom(nil), []hold{{"leg_clot", clearance.All, "resolution", "CX_DVT"}}},
		{setting, "a relative one that is a disease too", client(t, 60, light, "left_main_narrowing"), screening.PolicyFrom(nil),
			[]hold{{"left_main_narrowing", clearance.All, "doctor", "CX_LM"}}},
		{setting, "a fever", client(t, 60, light, "infection_fever"), screening.PolicyFrom(nil), []hold{{"infection_fever", clearance.All, "statement", "CX_INFECT"}}},
		{setting, "high pressure by letter", client(t, 60, light, "blood_pressure_160"), screening.PolicyFrom(nil), []hold{{"blood_pressure_160", clearance.Vigorous, "doctor", "CX_BP_160"}}},
		{setting, "pregnant", regular(client(t, 30, light, "pregnant")), screening.PolicyFrom(nil), []hold{{"pregnant", clearance.Vigorous, "doctor", "E11"}}},
		{setting, "undecided: findings and symptoms", open, screening.PolicyFrom(nil),
			[]hold{{"leg_clot", clearance.All, "resolution", "CX_DVT"}, {"palpitations", clearance.All, "doctor", "E3"}}},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			tt.in.Since = []screening.Onset{{Code: "stent", On: today.AddDays(-900)}}
			d, err := screening.Decide(tt.in, tt.policy)
			if err != nil {
				t.Fatal(err)
			}
			var got []hold
			for _, h := range d.Holds() {
				got = append(got, hold{h.Cause, h.Scope, h.Needs, h.Rule})
				if h.Kind != clearance.FromScreening || h.Opened != today || h.Reason == "" || (h.Cause == "stent") != (h.Since == today.AddDays(-900)) {
					t.Errorf("hold %+v", h)
				}
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("Holds = %v; want %v", got, tt.want)
			}
		})
	}
}

// TestGate follows the answers through to the gate before vigorous work.
func TestGate(t *testing.T) {
	p := clearance.PolicyFrom(nil)
	gate := func(in screening.Input) clearance.Gate {
		d := decide(t, in)
		g := d.GateInput(today, in.Clearance)
		g.VigorousPhase, g.SignedOffOn = true, today
		return clearance.VigorousGate(g, today, p)
	}
	regular := func(codes ...string) screening.Input {
		in := client(t, 45, vigorous, codes...)
		in.Activity = exercising
		return in
	}
	covered := regular("diabetes_type_2")
	covered.Clearance = cleared(2, vigorous, "diabetes_type_2")
	capped := regular("diabetes_type_2")
	capped.Clearance = cleared(2, moderate, "diabetes_type_2")
	for name, tt := range map[string]struct {
		in    screening.Input
		first string
	}{
		"healthy":          {regular(), ""},
		"healthy, idle":    {client(t, 50, light), ""}, // in the vigorous phase of the plan by then
		"diabetes":         {regular("diabetes_type_2"), "gate.row"},
		"diabetes, doctor": {covered, ""},
		"diabetes, capped": {capped, "gate.row"},
		"a symptom":        {regular("palpitations"), "gate.row"},
		"pregnant":         {regular("pregnant"), "gate.row"},
		"under age":        {client(t, 17, light), "gate.row"},
	} {
		if g := gate(tt.in); g.First.Rule != tt.first || g.Allow != (tt.first == "") {
			t.Errorf("%s: %+v; want first %q", name, g, tt.first)
		}
	}
	if g := gate(regular("diabetes_type_2")); len(g.Reasons) != 2 || g.Reasons[1].Rule != "gate.clearance" {
		t.Errorf("reasons %+v; want row and clearance", g.Reasons)
	}
}

func FuzzAnswers(f *testing.F) {
	for _, s := range []string{`{}`, `{"stent":"yes"}`, `{"stent":"not_sure","palpitations":"no"}`, `null`, `{"x":"yes"}`, `{"stent":null}`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var a screening.Answers
		if json.Unmarshal([]byte(text), &a) != nil {
			return
		}
		again, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var b screening.Answers
		if err := json.Unmarshal(again, &b); err != nil || a != b {
			t.Errorf("%s written as %s reads otherwise: %v", text, again, err)
		}
	})
}

// TestSettings: a practice may choose within these ranges. Where a limit is
// published, it is chosen on the safer side only.
func TestSettings(t *testing.T) {
	rows := []struct {
		source              string
		key, unit           string
		standard, low, high int
	}{
		{setting, "age_light_first_over", "years", 35, 18, 110},
		{setting, "diabetes_walking_exception", "on/off", 0, 0, 1},
		{setting, "sum_bouts", "on/off", 1, 0, 1},
		{setting, "missed_weeks", "weeks", 0, 0, 3},
		{setting, "idle_warn_weeks", "weeks", 4, 1, 12},
		{setting, "idle_rescreen_weeks", "weeks", 13, 4, 26},
		{setting, "pressure_180_none", "on/off", 0, 0, 1},
		{setting, "oxygen_floor", "per cent", 88, 88, 92},
		{setting, "weight_day_grams", "g", 1400, 900, 1400},
		{setting, "weight_week_grams", "g", 2300, 1500, 2300},
		{setting, "fever_free_hours", "h", 24, 24, 96},
		{setting, "heart_attack_days", "days", 21, 14, 84},
		{setting, "lift_grams", "g", 4500, 2000, 4500},
		{setting, "sternum_weeks", "weeks", 8, 6, 12},
		{setting, "arms_weeks", "weeks", 12, 8, 16},
		{setting, "failure_weeks", "weeks", 6, 6, 26},
		{setting, "puncture_days", "days", 7, 5, 14},
		{setting, "device_weeks", "weeks", 6, 4, 8},
		{setting, "shock_months", "months", 3, 3, 12},
		{setting, "severe_low_months", "months", 3, 1, 12},
		{setting, "falls_year", "falls", 2, 1, 4},
	}
	others := 0 // the bounds of what is entered have a test of their own
	for _, s := range screening.Settings {
		if !strings.HasPrefix(s.Key, "screening.band_") {
			others++
		}
	}
	if len(rows) != others {
		t.Errorf("%d settings; want %d", others, len(rows))
	}
	for _, tt := range rows {
		i := slices.IndexFunc(screening.Settings, func(s source.Setting) bool { return s.Key == "screening."+tt.key })
		if i < 0 {
			t.Errorf("no setting %s", tt.key)
			continue
		}
		if s := screening.Settings[i]; s.Unit != tt.unit || s.Default != tt.standard || s.Low != tt.low || s.High != tt.high {
			t.Errorf("%s: setting %+v; want %+v", tt.source, s, tt)
		}
	}
}
