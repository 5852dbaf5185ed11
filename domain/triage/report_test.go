package triage_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"brae/domain/clearance"
	"brae/domain/triage"
)

// The sources of the rows, for the names of the cases. Which level a sign has is
// a choice of the practice throughout; the source says what the sign stands for.
const (
	aha       = "American Heart Association, early warning signs, 2014"
	garner    = "Garner 2017, Am Fam Physician 96:293-299, reasons to stop"
	acsm      = "ACSM guidelines, table of major signs and symptoms (copy)"
	ada       = "ADA position statement 2016, Diabetes Care 39:2065-2079"
	icd       = "advice for people with a defibrillator (copy)"
	lung      = "Australian pulmonary rehabilitation toolkit"
	hf        = "heart-failure self-care advice (copy)"
	knee      = "knee-cap pain programme (copy)"
	illness   = "advice on exercise with an infection (copy)"
	rhabdo    = "advice on muscle breakdown (copy)"
	cooldown  = "summary of the ACSM stand on hypertension (copy)"
	pregnancy = "World J Diabetes 2013;4:256-262, table 1"
	recalled  = "from memory"
	practice  = "practice setting"
)

// assess sorts reports of a client of whom the flags are known.
func assess(t *testing.T, reports []triage.Report, known ...triage.Flag) triage.Assessment {
	t.Helper()
	a, err := triage.Assess(triage.Input{Reports: reports, Known: known}, triage.PolicyFrom(nil))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

type (
	R = []triage.Report
	K = []triage.Flag
)

type reportCase struct {
	source  string
	reports R
	known   K
	level   string
	hold    string
	rules   string
}

var reportCases = []reportCase{
	{aha, R{"chest_pressure_now"}, nil, "emergency", "all", "T01"},
	{aha, R{"chest_pressure_now"}, K{"stable_angina"}, "emergency", "all", "T01"},
	{aha, R{"chest_pressure_lasting"}, K{"stable_angina"}, "emergency", "all", "T01"},
	{acsm, R{"chest_pressure_at_rest"}, K{"stable_angina"}, "emergency", "all", "T01"},
	{acsm, R{"chest_pressure_gone"}, nil, "emergency", "all", "T02"},
	{acsm, R{"chest_pressure_gone"}, K{"cardiac"}, "emergency", "all", "T02"},
	{practice, R{"chest_pressure_gone"}, K{"stable_angina"}, "stop", "all", "T02"},
	{practice, R{"chest_pressure_usual"}, K{"stable_angina"}, "note", "none", "T02"},
	{practice, R{"chest_pressure_usual"}, nil, "emergency", "all", "T02"},
	{recalled, R{"angina_spray_helped"}, K{"stable_angina"}, "stop", "all", "T03"},
	{recalled, R{"angina_spray_helped"}, nil, "emergency", "all", "T03"},
	{recalled, R{"angina_spray_not_helped"}, K{"stable_angina"}, "emergency", "all", "T03"},
	{recalled, R{"angina_spray_twice"}, K{"stable_angina"}, "emergency", "all", "T03"},
	{acsm, R{"fainted"}, nil, "emergency", "all", "T04"},
	{garner, R{"dizzy_in_effort"}, nil, "stop", "all", "T05"},
	{garner, R{"dizzy_in_effort", "breathless_unusual"}, nil, "emergency", "all", "T05 T08"},
	{garner, R{"dizzy_in_effort", "palpitations_brief"}, K{"benign_palpitations"}, "emergency", "all", "T05 T12"},
	{garner, R{"dizzy_in_effort", "chest_pressure_usual"}, K{"stable_angina"}, "emergency", "all", "T02 T05"},
	{garner, R{"dizzy_in_effort", "muscles_sore"}, nil, "stop", "all", "T05 T29"},
	{cooldown, R{"lightheaded_on_stopping"}, nil, "note", "none", "T06"},
	{cooldown, R{"lightheaded_on_stopping"}, K{"pressure_medicine"}, "ease", "vigorous", "T06"},
	{practice, R{"lightheaded_often"}, nil, "ease", "vigorous", "T06"},
	{aha, R{"breathless_at_rest"}, K{"lung_disease"}, "emergency", "all", "T07"},
	{acsm, R{"breathless_unusual"}, nil, "stop", "above_light", "T08"},
	{acsm, R{"breathless_unusual"}, K{"lung_disease"}, "stop", "above_light", "T08"},
	{practice, R{"breathless_usual"}, K{"lung_disease"}, "note", "none", "T08"},
	{practice, R{"breathless_usual"}, nil, "stop", "above_light", "T08"},
	{acsm, R{"breathless_lying"}, nil, "stop", "all", "T09"},
	{acsm, R{"breathless_lying"}, K{"heart_failure"}, "stop", "all", "T09"},
	{practice, R{"breathless_over_10_min"}, nil, "ease", "vigorous", "T10"},
	{practice, R{"breathless_over_60_min"}, nil, "stop", "all", "T10"},
	{practice, R{"palpitations_brief"}, K{"benign_palpitations"}, "note", "none", "T11"},
	{practice, R{"palpitations_brief"}, nil, "stop", "all", "T12"},
	{acsm, R{"palpitations_new"}, nil, "stop", "all", "T12"},
	{acsm, R{"palpitations_new"}, K{"benign_palpitations"}, "stop", "all", "T12"},
	{acsm, R{"palpitations_long"}, nil, "stop", "all", "T12"},
	{acsm, R{"palpitations_long", "fainted"}, nil, "emergency", "all", "T04 T12"},
	{acsm, R{"palpitations_new", "breathless_over_10_min"}, nil, "emergency", "all", "T10 T12"},
	{acsm, R{"palpitations_brief", "breathless_usual"}, K{"benign_palpitations", "lung_disease"}, "emergency", "all", "T08 T12"},
	{icd, R{"shock_well"}, nil, "stop", "all", "T13"},
	{icd, R{"shock_unwell"}, nil, "emergency", "all", "T13"},
	{practice, R{"shocks_two"}, nil, "emergency", "all", "T13"},
	{aha, R{"weak_face_arm_leg"}, nil, "emergency", "all", "T14"},
	{aha + ": slurred for 5 minutes and now fine", R{"speech_trouble"}, nil, "emergency", "all", "T14"},
	{aha, R{"sight_trouble"}, nil, "emergency", "all", "T14"},
	{aha, R{"confused"}, nil, "emergency", "all", "T14"},
	{aha, R{"balance_lost"}, nil, "emergency", "all", "T14"},
	{aha, R{"worst_headache"}, nil, "emergency", "all", "T14"},
	{acsm, R{"calf_swollen"}, nil, "stop", "all", "T15"},
	{acsm, R{"calf_swollen", "breathless_unusual"}, nil, "emergency", "all", "T08 T15"},
	{acsm, R{"calf_swollen", "chest_pressure_usual"}, K{"stable_angina"}, "emergency", "all", "T02 T15"},
	{acsm, R{"leg_cramp_walking"}, nil, "ease", "vigorous", "T16"},
	{acsm, R{"leg_cramp_walking"}, K{"claudication"}, "ease", "vigorous", "T16"},
	{practice, R{"leg_cramp_usual"}, K{"claudication"}, "fine", "none", "T16"},
	{practice, R{"leg_cramp_usual"}, K{"peripheral_artery_disease"}, "ease", "vigorous", "T16"},
	{recalled, R{"foot_pain_at_rest"}, K{"claudication"}, "emergency", "all", "T16"},
	{acsm, R{"ankles_swollen"}, nil, "ease", "vigorous", "T17"},
	{acsm, R{"ankles_swollen"}, K{"heart_failure"}, "stop", "all", "T17"},
	{hf, R{"weight_gain"}, K{"heart_failure"}, "stop", "above_light", "T18"},
	{practice, R{"weight_gain"}, nil, "note", "none", "T18"},
	{acsm, R{"tired_next_day"}, nil, "note", "none", "T19"},
	{acsm, R{"tired_three_days"}, nil, "ease", "vigorous", "T19"},
	{acsm, R{"daily_tasks_harder"}, nil, "ease", "vigorous", "T19"},
	{hf, R{"pink_froth"}, nil, "emergency", "all", "T20"},
	{recalled, R{"wheeze_settled"}, nil, "note", "none", "T21"},
	{recalled, R{"wheeze_more_often"}, nil, "ease", "vigorous", "T21"},
	{recalled, R{"wheeze_not_relieved"}, nil, "emergency", "all", "T21"},
	{lung, R{"oxygen_low"}, nil, "stop", "all", "T22"},
	{practice, R{"oxygen_not_recovering"}, nil, "emergency", "all", "T22"},
	{recalled, R{"low_sugar_treated"}, nil, "note", "none", "T23"},
	{recalled, R{"low_sugar_helped"}, nil, "emergency", "all", "T23"},
	{ada, R{"high_sugar_ketones"}, nil, "stop", "all", "T24"},
	{recalled, R{"high_sugar_drowsy"}, nil, "emergency", "all", "T24"},
	{illness, R{"fever"}, nil, "ease", "all", "T25"},
	{illness, R{"flu_like"}, nil, "ease", "all", "T25"},
	{illness, R{"fever", "palpitations_brief"}, K{"benign_palpitations"}, "emergency", "all", "T11 T26"},
	{illness, R{"flu_like", "dizzy_in_effort"}, nil, "emergency", "all", "T05 T26"},
	{illness, R{"fever", "chest_pressure_usual"}, K{"stable_angina"}, "emergency", "all", "T02 T26"},
	{illness, R{"fever", "breathless_usual"}, K{"lung_disease"}, "ease", "all", "T08 T25"},
	{rhabdo, R{"dark_urine"}, nil, "emergency", "all", "T27"},
	{rhabdo, R{"muscles_very_painful"}, nil, "emergency", "all", "T27"},
	{rhabdo + ": thighs very painful for 2 days", R{"muscles_very_painful", "dark_urine"}, nil, "emergency", "all", "T27"},
	{recalled, R{"heat_illness"}, nil, "emergency", "all", "T28"},
	{recalled + ": sore thighs for 2 days, urine normal", R{"muscles_sore"}, nil, "fine", "none", "T29"},
	{knee, R{"joint_pain_mild"}, nil, "fine", "none", "T30"},
	{knee, R{"joint_pain_settled"}, nil, "note", "none", "T30"},
	{knee, R{"joint_pain_bad"}, nil, "ease", "none", "T30"},
	{recalled, R{"joint_swollen_locked"}, nil, "stop", "all", "T31"},
	{recalled, R{"back_pain_numb"}, nil, "emergency", "all", "T32"},
	{recalled, R{"fall_no_injury"}, nil, "note", "none", "T33"},
	{recalled, R{"fall_no_injury"}, K{"anticoagulant"}, "emergency", "all", "T33"},
	{recalled, R{"fall_head_hit"}, nil, "stop", "all", "T33"},
	{recalled, R{"fall_head_hit"}, K{"anticoagulant"}, "emergency", "all", "T33"},
	{recalled, R{"fall_drowsy"}, nil, "emergency", "all", "T33"},
	{recalled, R{"fall_cannot_get_up"}, nil, "emergency", "all", "T33"},
	{recalled, R{"breastbone_clicks"}, nil, "stop", "all", "T34"},
	{ada, R{"foot_wound"}, K{"diabetes"}, "ease", "none", "T35"},
	{ada, R{"foot_wound"}, K{"peripheral_artery_disease"}, "ease", "none", "T35"},
	{practice, R{"foot_wound"}, K{"claudication"}, "ease", "none", "T35"},
	{practice, R{"foot_wound"}, nil, "note", "none", "T35"},
	{ada, R{"blister"}, K{"diabetes"}, "ease", "none", "T35"},
	{recalled, R{"blister"}, nil, "fine", "none", "T40"},
	{recalled, R{"floaters"}, nil, "stop", "all", "T36"},
	{pregnancy, R{"pregnancy_bleeding"}, nil, "emergency", "all", "T37"},
	{pregnancy, R{"pregnancy_fluid"}, nil, "emergency", "all", "T37"},
	{pregnancy, R{"pregnancy_contractions"}, nil, "stop", "all", "T37"},
	{pregnancy, R{"pregnancy_breathless_before"}, nil, "stop", "all", "T37"},
	{pregnancy, R{"pregnancy_weakness"}, nil, "stop", "all", "T37"},
	{pregnancy, R{"pregnancy_less_movement"}, nil, "stop", "all", "T37"},
	{pregnancy, R{"fainted"}, K{"pregnant"}, "emergency", "all", "T04"},
	{pregnancy, R{"headache_mild"}, K{"pregnant"}, "stop", "all", "T37"},
	{pregnancy, R{"lightheaded_on_stopping"}, K{"pregnant", "pressure_medicine"}, "stop", "all", "T37"},
	{pregnancy, R{"lightheaded_often"}, K{"pregnant"}, "stop", "all", "T37"},
	{practice, R{"headache_mild"}, nil, "note", "none", "T38"},
	{practice, R{"headache_severe"}, nil, "stop", "all", "T38"},
	{garner, R{"cold_sweat"}, nil, "stop", "all", "T39"},
	{aha, R{"cold_sweat", "chest_pressure_usual"}, K{"stable_angina"}, "emergency", "all", "T02 T39"},
	{aha, R{"cold_sweat", "dizzy_in_effort"}, nil, "emergency", "all", "T05 T39"},
	{recalled, R{"stitch"}, nil, "fine", "none", "T40"},
	{recalled, R{"mild_cramp"}, nil, "fine", "none", "T40"},
	{recalled, R{"low_mood"}, nil, "stop", "none", "T41"},
	{recalled, R{"self_harm"}, nil, "emergency", "all", "T41"},
	{practice, R{"other"}, nil, "note", "none", "T42"},
	{practice, R{"not_sure"}, nil, "note", "none", "T42"},

	{practice + ": nothing reported", nil, nil, "fine", "none", ""},
	{practice + ": the highest level wins", R{"muscles_sore", "tired_three_days", "fever"}, nil, "ease", "all", "T19 T25 T29"},
	{practice + ": level and hold from different reports", R{"low_mood", "ankles_swollen"}, nil, "stop", "vigorous", "T17 T41"},
	{practice + ": two notes about heart or lungs", R{"lightheaded_on_stopping", "tired_next_day"}, nil, "ease", "vigorous", "T06 T19 PAIR"},
	{practice + ": two notes about heart or lungs", R{"chest_pressure_usual", "breathless_usual"}, K{"stable_angina", "lung_disease"}, "ease", "vigorous", "T02 T08 PAIR"},
	{practice + ": two notes about heart or lungs", R{"wheeze_settled", "palpitations_brief"}, K{"benign_palpitations"}, "ease", "vigorous", "T11 T21 PAIR"},
	{practice + ": one of them about a joint", R{"tired_next_day", "joint_pain_settled"}, nil, "note", "none", "T19 T30"},
	{practice + ": the same twice is one", R{"tired_next_day", "tired_next_day"}, nil, "note", "none", "T19"},
	{practice + ": notes about neither", R{"joint_pain_settled", "headache_mild", "low_sugar_treated", "other"}, nil, "note", "none", "T23 T30 T38 T42"},
}

func TestReports(t *testing.T) {
	for _, tt := range reportCases {
		t.Run(fmt.Sprint(tt.source, "/", tt.reports, tt.known), func(t *testing.T) {
			a := assess(t, tt.reports, tt.known...)
			if a.Level.String() != tt.level || a.Hold.String() != tt.hold || strings.Join(a.Rules, " ") != tt.rules {
				t.Errorf("%v knowing %v: %s, hold %s, rules %v; want %s, %s, %s",
					tt.reports, tt.known, a.Level, a.Hold, a.Rules, tt.level, tt.hold, tt.rules)
			}
		})
	}
}

// Every report is in the table above, and every row of the rules has a report.
func TestCodes(t *testing.T) {
	var codes []triage.Report
	rows := map[string]bool{}
	for _, c := range triage.Codes() {
		if slices.Contains(codes, c.Report) {
			t.Errorf("%s stands twice", c.Report)
		}
		codes = append(codes, c.Report)
		rows[c.Row] = true
		if strings.Trim(string(c.Report), "abcdefghijklmnopqrstuvwxyz_0123456789") != "" || c.Asks == "" {
			t.Errorf("code %q asks %q; want a short lower-case word and a sentence", c.Report, c.Asks)
		}
	}
	for i := 1; i <= 42; i++ {
		row := fmt.Sprintf("T%02d", i)
		// T11 and T26 are what reports of T12 and T25 become.
		if !rows[row] && row != "T11" && row != "T26" {
			t.Errorf("no report stands for %s", row)
		}
	}
	for _, c := range codes {
		if !slices.ContainsFunc(reportCases, func(tt reportCase) bool {
			return len(tt.reports) == 1 && tt.reports[0] == c
		}) {
			t.Errorf("no case has %s alone", c)
		}
	}
	if len(triage.Flags()) != 13 {
		t.Errorf("%d flags; want 13", len(triage.Flags()))
	}
}

// Each report of a group makes another worse that comes with it: the finding of
// that other is an emergency.
func TestTogether(t *testing.T) {
	for _, tt := range []struct {
		source  string
		group   R
		other   R
		vitals  []string
		finding string
	}{
		{aha, R{"chest_pressure_now", "chest_pressure_lasting", "chest_pressure_at_rest", "chest_pressure_gone", "chest_pressure_usual",
			"angina_spray_helped", "angina_spray_not_helped", "angina_spray_twice", "fainted", "dizzy_in_effort"}, R{"cold_sweat"}, nil, "T39"},
		{acsm, R{"chest_pressure_now", "breathless_at_rest", "breathless_unusual", "breathless_usual", "breathless_lying",
			"breathless_over_10_min", "breathless_over_60_min", "pregnancy_breathless_before"}, R{"calf_swollen"}, nil, "T15"},
		{garner, R{"palpitations_brief", "palpitations_new", "palpitations_long", "chest_pressure_now", "breathless_at_rest"}, R{"dizzy_in_effort"}, nil, "T05"},
		{acsm, R{"fainted", "dizzy_in_effort", "chest_pressure_now", "breathless_at_rest"}, R{"palpitations_brief"}, nil, "T12"},
		{acsm, R{"fainted", "dizzy_in_effort", "chest_pressure_now", "breathless_at_rest"}, R{"palpitations_new"}, nil, "T12"},
		{acsm, R{"fainted", "dizzy_in_effort", "chest_pressure_now", "breathless_at_rest"}, R{"palpitations_long"}, nil, "T12"},
		{illness, R{"fainted", "dizzy_in_effort", "chest_pressure_now", "palpitations_new"}, R{"fever"}, nil, "T26"},
		{illness, R{"fainted", "dizzy_in_effort", "chest_pressure_now", "palpitations_new"}, R{"flu_like"}, nil, "T26"},
		{practice, R{"weak_face_arm_leg", "speech_trouble", "sight_trouble", "confused", "balance_lost", "worst_headache",
			"headache_mild", "headache_severe", "chest_pressure_now", "breathless_at_rest"}, nil, []string{"V1"}, "NUM7"},
	} {
		for _, r := range tt.group {
			t.Run(fmt.Sprint(tt.source, "/", tt.finding, " ", r), func(t *testing.T) {
				a, err := triage.Assess(triage.Input{Reports: append(R{r}, tt.other...), Vitals: tt.vitals}, triage.PolicyFrom(nil))
				if err != nil {
					t.Fatal(err)
				}
				i := slices.IndexFunc(a.Findings, func(f triage.Finding) bool { return f.Rule == tt.finding })
				if i < 0 || a.Findings[i].Level != triage.Emergency {
					t.Errorf("%s with %v %v: %+v; want %s to be an emergency", r, tt.other, tt.vitals, a.Findings, tt.finding)
				}
			})
		}
	}
	for _, r := range (R{"headache_mild", "headache_severe", "worst_headache"}) {
		a, _ := triage.Assess(triage.Input{Reports: R{r}, Numbers: triage.Numbers{Systolic: 190}}, triage.PolicyFrom(nil))
		if !slices.ContainsFunc(a.Why, func(w string) bool { return strings.Contains(w, "190") }) && a.Level < triage.Emergency {
			t.Errorf("%s at 190 mmHg: why %q; want the pressure named", r, a.Why)
		}
	}
}

// What follows from a finding: who acts by when, what ends the hold.
func TestFindings(t *testing.T) {
	for _, tt := range []struct {
		source  string
		report  triage.Report
		known   []triage.Flag
		due     string
		release triage.Release
		limit   triage.Limit
		doctor  bool
	}{
		{practice, "chest_pressure_now", nil, "today", triage.ByDoctor, "", true},
		{practice, "dizzy_in_effort", nil, "1 working day", triage.ByDoctor, "", true},
		{practice, "breathless_lying", nil, "1 working day", triage.ByDoctor, "", true},
		{practice, "breathless_lying", []triage.Flag{"heart_failure"}, "today", triage.ByDoctor, "", true},
		{acsm, "calf_swollen", nil, "today", triage.ByDoctor, "", true},
		{recalled, "breastbone_clicks", nil, "today", triage.ByDoctor, "", true},
		{recalled, "floaters", nil, "today", triage.ByDoctor, "", true},
		{pregnancy, "pregnancy_contractions", nil, "today", triage.ByDoctor, "", true},
		{pregnancy, "pregnancy_breathless_before", nil, "today", triage.ByDoctor, "", true},
		{pregnancy, "pregnancy_weakness", nil, "today", triage.ByDoctor, "", true},
		{pregnancy, "pregnancy_less_movement", nil, "today", triage.ByDoctor, "", true},
		{practice, "ankles_swollen", nil, "2 working days", triage.ByDoctor, "", true},
		{illness, "fever", nil, "2 working days", triage.ByClient, "", false},
		{knee, "joint_pain_bad", nil, "2 working days", triage.ByPractitioner, triage.ThisExercise, false},
		{ada, "foot_wound", []triage.Flag{"diabetes"}, "2 working days", triage.ByDoctor, triage.WeightBearing, true},
		{ada, "blister", []triage.Flag{"diabetes"}, "2 working days", triage.ByDoctor, triage.WeightBearing, true},
		{practice, "tired_next_day", nil, "7 days", triage.ByNobody, "", false},
		{practice, "other", nil, "1 working day", triage.ByNobody, "", false},
		{practice, "not_sure", nil, "1 working day", triage.ByNobody, "", false},
		{recalled, "low_mood", nil, "1 working day", triage.ByNobody, "", true},
		{recalled, "self_harm", nil, "today", triage.ByDoctor, "", true},
		{recalled, "muscles_sore", nil, "never", triage.ByNobody, "", false},
	} {
		t.Run(fmt.Sprint(tt.source, "/", tt.report, tt.known), func(t *testing.T) {
			a := assess(t, []triage.Report{tt.report}, tt.known...)
			f := a.Findings[0]
			if f.Due.String() != tt.due || f.Release != tt.release || f.Limit != tt.limit || f.Doctor != tt.doctor {
				t.Errorf("%s: due %s, released by %q, limit %q, doctor %t; want %s, %q, %q, %t",
					tt.report, f.Due, f.Release, f.Limit, f.Doctor, tt.due, tt.release, tt.limit, tt.doctor)
			}
			if a.Act.Due != f.Due || a.Act.Doctor != f.Doctor {
				t.Errorf("%s: act %+v; want due and doctor of the only finding, %+v", tt.report, a.Act, f)
			}
			if f.Why == "" || !slices.Equal(a.Why, []string{f.Why}) {
				t.Errorf("%s: why %q; want %q", tt.report, a.Why, f.Why)
			}
		})
	}
}

func TestAct(t *testing.T) {
	for _, tt := range []struct {
		source  string
		reports []triage.Report
		want    triage.Act
		freeze  int
		release string
	}{
		{practice, []triage.Report{"fainted"}, triage.Act{Alert: true, Incident: true, Call: true, Doctor: true, Due: triage.Due{Working: true}}, 7, ""},
		{practice, []triage.Report{"cold_sweat"}, triage.Act{Call: true, Doctor: true, Due: triage.Due{Days: 1, Working: true}}, 7, ""},
		{practice, []triage.Report{"ankles_swollen"}, triage.Act{Doctor: true, Due: triage.Due{Days: 2, Working: true}}, 7, ""},
		{practice, []triage.Report{"tired_next_day"}, triage.Act{Due: triage.Due{Days: 7}}, 7, ""},
		{practice, []triage.Report{"muscles_sore"}, triage.Act{Due: triage.Due{None: true}}, 0, ""},
		{practice, nil, triage.Act{Due: triage.Due{None: true}}, 0, ""},
		{practice + ": the soonest counts", []triage.Report{"tired_next_day", "other"}, triage.Act{Due: triage.Due{Days: 1, Working: true}}, 7, ""},
		{practice + ": the soonest counts", []triage.Report{"ankles_swollen", "calf_swollen", "stitch"}, triage.Act{Call: true, Doctor: true, Due: triage.Due{Working: true}}, 7, ""},
	} {
		t.Run(fmt.Sprint(tt.source, "/", tt.reports), func(t *testing.T) {
			a := assess(t, tt.reports)
			if a.Act != tt.want || a.FreezeDays != tt.freeze {
				t.Errorf("%v: act %+v, freeze %d; want %+v, %d", tt.reports, a.Act, a.FreezeDays, tt.want, tt.freeze)
			}
		})
	}
}

func TestEarlier(t *testing.T) {
	type E = []triage.Earlier
	for _, tt := range []struct {
		source  string
		report  triage.Report
		earlier E
		level   string
		rules   string
	}{
		{practice + ": third in 7 days", "lightheaded_on_stopping", E{{"T06", triage.Note, 3}, {"T06", triage.Note, 6}}, "ease", "T06"},
		{practice + ": third in a day", "lightheaded_on_stopping", E{{"T06", triage.Note, 0}, {"T06", triage.Note, 0}}, "ease", "T06"},
		{practice + ": second in 7 days", "lightheaded_on_stopping", E{{"T06", triage.Note, 3}}, "note", "T06"},
		{practice + ": one too long ago", "lightheaded_on_stopping", E{{"T06", triage.Note, 3}, {"T06", triage.Note, 7}}, "note", "T06"},
		{recalled + ": second in 7 days", "low_sugar_treated", E{{"T23", triage.Note, 6}}, "ease", "T23"},
		{recalled + ": too long ago", "low_sugar_treated", E{{"T23", triage.Note, 7}}, "note", "T23"},
		{icd + ": second within a day", "shock_well", E{{"T13", triage.Stop, 0}}, "emergency", "T13"},
		{icd + ": second within a day, over midnight", "shock_well", E{{"T13", triage.Stop, 1}}, "emergency", "T13"},
		{icd + ": later", "shock_well", E{{"T13", triage.Stop, 2}}, "stop", "T13"},
		{practice + ": on 3 of 7 days", "joint_pain_settled", E{{"T30", triage.Note, 1}, {"T30", triage.Note, 6}}, "ease", "T30 REPEAT"},
		{practice + ": on 2 of 7 days", "joint_pain_settled", E{{"T30", triage.Note, 1}, {"T30", triage.Note, 1}}, "note", "T30"},
		{practice + ": three in one day", "joint_pain_settled", E{{"T30", triage.Note, 0}, {"T30", triage.Note, 0}}, "note", "T30"},
		{practice + ": one of them too long ago", "joint_pain_settled", E{{"T30", triage.Note, 1}, {"T30", triage.Note, 7}}, "note", "T30"},
		{practice + ": another note", "joint_pain_settled", E{{"T19", triage.Note, 1}, {"T38", triage.Note, 2}}, "note", "T30"},
		{practice + ": the earlier ones were fine", "joint_pain_settled", E{{"T30", triage.Fine, 1}, {"T30", triage.Fine, 2}}, "note", "T30"},
		{practice + ": fine stays fine", "muscles_sore", E{{"T29", triage.Fine, 1}, {"T29", triage.Fine, 2}}, "fine", "T29"},
		{practice + ": days to come do not count", "joint_pain_settled", E{{"T30", triage.Note, -1}, {"T30", triage.Note, 1}}, "note", "T30"},
	} {
		t.Run(fmt.Sprint(tt.source, "/", tt.report), func(t *testing.T) {
			a, err := triage.Assess(triage.Input{Reports: []triage.Report{tt.report}, Earlier: tt.earlier}, triage.PolicyFrom(nil))
			if err != nil || a.Level.String() != tt.level || strings.Join(a.Rules, " ") != tt.rules {
				t.Errorf("%s after %v: %s %v, %v; want %s %s", tt.report, tt.earlier, a.Level, a.Rules, err, tt.level, tt.rules)
			}
		})
	}
	a, _ := triage.Assess(triage.Input{Reports: []triage.Report{"other"},
		Earlier: E{{"T42", triage.Note, 1}, {"T42", triage.Note, 2}}}, triage.PolicyFrom(nil))
	if a.Hold != clearance.Vigorous {
		t.Errorf("the same note on 3 of 7 days holds %s; want vigorous", a.Hold)
	}
}
