package main

import (
	"bytes"
	"encoding/json"
	"io"
	"strconv"
	"strings"
	"testing"

	"brae/domain/source"
)

// calc answers lines of input like `brae calc NAME` and returns the exit status.
func calc(t testing.TB, name, in string) (answers []map[string]any, status int) {
	t.Helper()
	var out, errOut bytes.Buffer
	status = run(t.Context(), []string{"calc", name}, strings.NewReader(in), &out, &errOut)
	for line := range strings.Lines(out.String()) {
		var answer map[string]any
		if err := json.Unmarshal([]byte(line), &answer); err != nil {
			t.Fatalf("answer %q: %v", line, err)
		}
		answers = append(answers, answer)
	}
	return answers, status
}

// TestCalc compares some keys of the answers with what is printed elsewhere.
func TestCalc(t *testing.T) {
	for _, tt := range []struct {
		source, name, in string
		want             map[string]string // JSON, by path; after ~ a number as printed, to its last digit
	}{
		{
			"Gellish 2007 and Karvonen 1957, formulas; worked by hand: 207 - 0.7 x 60 = 165", "zones", `{"age":60,"resting_hr":72,"vigorous_to_percent":90}`,
			map[string]string{"basis": `"predicted"`, "hr_max": `165`},
		},
		{
			"PAGA 2018 p. 65: the father of two, 2 x 20 vigorous and 15 moderate and a light walk", "week",
			`{"parts":[{"minutes":20,"class":"vigorous"},{"minutes":20,"class":"vigorous"},{"minutes":15,"class":"moderate"},{"minutes":30,"class":"light"}]}`,
			map[string]string{"moderate_equivalent": `95`, "light": `30`, "short_by": `55`, "band": `"insufficient"`},
		},
		{
			"ACSM 2015 as adapted by study notes: regular, diabetes, wants vigorous", "screen",
			`{"today":"2025-06-01","age":58,"activity":{"days":3,"minutes":30,"months":3,"class":"moderate"},"diseases":["diabetes_type_2"],"symptoms":[],"desired":"vigorous"}`,
			map[string]string{"rule": `"A075"`, "ceiling_now": `"moderate"`, "hold": `"vigorous"`, "action": `"continue_lower_and_refer"`, "group": `"dis"`},
		},
		{
			"ACSM 2015, the same with a clearance of 8 months ago", "screen",
			`{"today":"2025-06-01","age":58,"activity":{"days":3,"minutes":30,"months":3,"class":"moderate"},"diseases":["diabetes_type_2"],"symptoms":[],"desired":"vigorous",
			"decision":{"decided_on":"2024-10-01","ceiling":"vigorous","outcome":"cleared","covers":["diabetes_type_2"]}}`,
			map[string]string{"rule": `"A087"`, "ceiling_now": `"vigorous"`, "hold": `"none"`, "action": `"continue"`},
		},
		{
			"CDC: no more than a few words is vigorous", "part", `{"minutes":30,"talk":"few_words"}`,
			map[string]string{"class_for_volume": `"vigorous"`, "class_for_safety": `"vigorous"`, "agree": `true`},
		},
		{
			"CDC and Karvonen 1957, edges of the reserve; worked by hand: 72 + 40 and 60 % of 93", "zones", `{"age":60,"resting_hr":72,"percents":[40,60]}`,
			map[string]string{
				"zones.2.class": `"moderate"`, "zones.2.low": `110`, "zones.2.high": `127`, "ceiling_hr": `null`, "unavailable": `[]`,
				"targets.0.percent": `40`, "targets.0.bpm": `109`, "targets.0.exact": `109.2`, "targets.1.exact": `127.8`,
			},
		},
		{
			"Keteyian 2023: no prediction on a beta-blocker, the doctor's number stays", "zones",
			`{"age":60,"resting_hr":58,"medicines":["metoprolol 50 mg"],"percents":[40],"limits":{"doctor_hr":130}}`,
			map[string]string{
				"basis": `"ceiling_only"`, "hr_max": `null`, "zones": `[]`, "targets": `[]`, "ceiling_hr": `130`,
				"unavailable": `["very_light","light","moderate","vigorous","near_maximal"]`,
			},
		},
		{
			"ACSM guidelines, as copied: a defibrillator at 170 less its margin", "zones",
			`{"age":60,"resting_hr":60,"measured_max":180,"conditions":["icd"],"limits":{"icd_detection_hr":170,"icd_margin":10}}`,
			map[string]string{"basis": `"measured"`, "ceiling_hr": `160`, "hr_max_error": `0`},
		},
		{
			"common practice: 5 x 10 minutes of brisk walking leave 100 of 150", "week",
			`{"parts":[{"minutes":10,"class":"moderate"},{"minutes":10,"class":"moderate"},{"minutes":10,"class":"moderate"},{"minutes":10,"class":"moderate"},{"minutes":10,"class":"moderate"}]}`,
			map[string]string{"moderate_equivalent": `50`, "short_by": `100`},
		},

		{"JABFM table 7, adapted from ACC/AHA: 204/96 twice", "vitals", `{"sbp":204,"dbp":96,"repeated":true}`,
			map[string]string{"findings.0.rule": `"V1"`, "findings.0.effect": `"no_exercise"`, "findings.0.review": `"same_day"`, "hold": `"all"`}},
		{"Heart Online table 1: resting heart rate 124", "vitals", `{"resting_hr":124}`,
			map[string]string{"findings.0.rule": `"V6"`, "findings.0.effect": `"no_exercise"`, "findings.0.review": `"same_day"`, "hold": `"all"`}},
		{"practice setting: 104 after ten minutes", "vitals", `{"resting_hr":104,"repeated":true}`,
			map[string]string{"findings.0.rule": `"V7"`, "findings.0.effect": `"light_only"`, "hold": `"above_light"`}},
		{"rehabilitation contraindication lists, as copied: 104 with heart disease", "vitals", `{"resting_hr":104,"cardiac":true}`,
			map[string]string{"findings.0.rule": `"V7"`, "findings.0.effect": `"no_exercise"`, "hold": `"all"`}},
		{"Heart Online table 1: 184/92 with heart disease", "vitals", `{"sbp":184,"dbp":92,"cardiac":true}`,
			map[string]string{"findings.0.rule": `"V2"`, "findings.0.effect": `"no_exercise"`, "hold": `"all"`}},
		{"Integr Blood Press Control 2024, table 1: 165/95", "vitals", `{"sbp":165,"dbp":95}`,
			map[string]string{"findings.0.rule": `"V4"`, "findings.0.effect": `"no_vigorous"`, "hold": `"vigorous"`}},
		{"BMJ Open trial protocol, table 1: 38.1 degrees", "vitals", `{"temperature_c":38.1}`,
			map[string]string{"findings.0.rule": `"V9"`, "findings.0.effect": `"no_exercise"`, "findings.0.needs": `"statement"`, "hold": `"all"`}},
		{"ADA position 2016, table 1: 82 on insulin", "vitals", `{"glucose_mg_dl":82,"glucose_lowering":true}`,
			map[string]string{"findings.0.rule": `"V11"`, "findings.0.effect": `"eat_first"`, "hold": `"none"`}},
		{"ADA position 2016, table 1: 280 with moderate ketones", "vitals", `{"glucose_mg_dl":280,"glucose_lowering":true,"urine_ketones":"moderate"}`,
			map[string]string{"findings.0.rule": `"V14"`, "findings.0.effect": `"no_exercise"`, "hold": `"all"`}},
		{"ADA position 2016, table 1: 280 without ketones", "vitals", `{"glucose_mg_dl":280,"glucose_lowering":true,"urine_ketones":"none"}`,
			map[string]string{"findings.0.rule": `"V14"`, "findings.0.effect": `"no_vigorous"`, "hold": `"vigorous"`}},
		{"heart-failure self-care advice: 1.5 kg since yesterday", "vitals",
			`{"heart_failure":true,"weights":[{"on":"2025-05-31","kg":80},{"on":"2025-06-01","kg":81.5}]}`,
			map[string]string{"findings.0.rule": `"V19"`, "hold": `"above_light"`}},
		{"heart-failure self-care advice: 1.9 kg in a week", "vitals",
			`{"heart_failure":true,"weights":[{"on":"2025-05-25","kg":80},{"on":"2025-06-01","kg":81.9}]}`,
			map[string]string{"findings": `[]`, "hold": `"none"`}},
		{"Pulmonary rehabilitation toolkit: 87 % walking", "vitals", `{"spo2":87}`,
			map[string]string{"findings.0.rule": `"V18"`, "findings.0.effect": `"pause"`}},
		{"Integr Blood Press Control 2024, table 1: 132/80", "vitals", `{"sbp":132,"dbp":80}`,
			map[string]string{"findings": `[]`, "hold": `"none"`}},

		{"WHO ATC, name; effect from memory and a patient education table", "medicine", `{"text":"Metoprolol succinate 50 mg"}`,
			map[string]string{"matches.0.name": `"metoprolol"`, "matches.0.class": `"BB_CS"`, "matches.0.zone_code": `"Z1"`, "unknown": `[]`}},
		{"WHO ATC, two codes: timolol in the eye", "medicine", `{"text":"timolol eye drops"}`,
			map[string]string{"matches.0.class": `"BB_EYE"`, "matches.0.zone_code": `"Z2"`, "matches.0.ask_route": `false`}},
		{"WHO ATC, two codes: timolol tablets", "medicine", `{"text":"timolol 10 mg tablets"}`,
			map[string]string{"matches.0.class": `"BB_NS"`, "matches.0.zone_code": `"Z1"`}},
		{"invented name: left to the practitioner", "medicine", `{"text":"xyzzolol 10"}`,
			map[string]string{"matches": `[]`, "unknown.0": `"xyzzolol"`}},
		{"WHO ATC: warfarin", "medicine", `{"text":"warfarin"}`,
			map[string]string{"matches.0.class": `"ANTICOAG"`, "matches.0.zone_code": `"Z6"`}},
		{"practice setting: a slip is suggested, and counts until it is confirmed", "medicine", `{"text":"metoprollol"}`,
			map[string]string{"matches.0.name": `"metoprolol"`, "matches.0.certainty": `"suggested"`, "zone_code": `"Z1"`}},
		{"no medicines", "medicine", `{"text":""}`, map[string]string{"matches": `[]`, "unknown": `[]`, "zone_code": `"Z0"`}},

		{"American Heart Association, early warning signs, 2014: chest pressure now", "triage", `{"reports":["chest_pressure_now"],"known":{}}`,
			map[string]string{"level": `"emergency"`, "hold": `"all"`, "rules": `["T01"]`}},
		{"practice setting: usual angina that a doctor has named", "triage", `{"reports":["chest_pressure_usual"],"known":{"stable_angina":true}}`,
			map[string]string{"level": `"note"`, "hold": `"none"`, "rules": `["T02"]`}},
		{"the same without a doctor's word", "triage", `{"reports":["chest_pressure_usual"],"known":{"stable_angina":false}}`,
			map[string]string{"level": `"emergency"`, "hold": `"all"`}},
		{"summary of the ACSM stand on hypertension (copy): light-headed on stopping, once", "triage", `{"reports":["lightheaded_on_stopping"],"known":{}}`,
			map[string]string{"level": `"note"`, "hold": `"none"`, "rules": `["T06"]`}},
		{"Garner 2017: dizzy in effort", "triage", `{"reports":["dizzy_in_effort"],"known":{}}`,
			map[string]string{"level": `"stop"`, "hold": `"all"`, "rules": `["T05"]`}},
		{"American Heart Association, early warning signs, 2014: slurred speech that passed", "triage", `{"reports":["speech_trouble"],"known":{}}`,
			map[string]string{"level": `"emergency"`, "hold": `"all"`, "rules": `["T14"]`}},
		{"advice on muscle breakdown (copy): painful thighs and urine like cola", "triage", `{"reports":["muscles_very_painful","dark_urine"],"known":{}}`,
			map[string]string{"level": `"emergency"`, "rules": `["T27"]`}},
		{"from memory: sore thighs for two days", "triage", `{"reports":["muscles_sore"],"known":{}}`,
			map[string]string{"level": `"fine"`, "hold": `"none"`, "rules": `["T29"]`, "due": `"never"`}},
		{"Australian pulmonary rehabilitation toolkit: 87 % in exercise", "triage", `{"reports":[],"known":{},"numbers":{"spo2":87}}`,
			map[string]string{"level": `"stop"`, "rules": `["T22"]`}},
		{"ADA position 2016; ketones of study cards: 300 mg/dL with 1.5 mmol/L", "triage", `{"reports":[],"numbers":{"glucose_mg_dl":300,"ketones_mmol_l":1.5}}`,
			map[string]string{"level": `"stop"`, "rules": `["T24"]`}},

		{"ACSM formula slides, printed: walk 3.5 mph, 10 %", "energy", `{"mode":"walk","speed_m_min":93.8,"grade":0.1}`,
			map[string]string{"vo2": `~29.76`, "mets": `~8.50`, "range": `"ok"`, "kcal_min": `null`}},
		{"university worksheet on the ACSM equations, printed: walk 2.5 mph, 3 %, 50 kg", "energy", `{"mode":"walk","speed_m_min":67,"grade":0.03,"weight_kg":50}`,
			map[string]string{"vo2": `~13.8`, "litres_min": `~0.69`, "kcal_min": `~3.45`}},
		{"ACSM class sheet, printed: run 8 mph, 50 kg", "energy", `{"mode":"run","speed_m_min":214.4,"weight_kg":50}`,
			map[string]string{"vo2": `~46.38`, "kcal_min_net": `~10.72`, "range": `"ok"`}},
		{"ACSM formula slides, printed as 20: leg cycle 450 kgm/min, 62 kg", "energy", `{"mode":"leg_cycle","work_kgm_min":450,"weight_kg":62}`,
			map[string]string{"vo2": `~20.06`}},
		{"question set on the ACSM equations; worked by hand: arm cycle 450 kgm/min, 75 kg", "energy", `{"mode":"arm_cycle","work_kgm_min":450,"weight_kg":75}`,
			map[string]string{"vo2": `~21.5`, "mets": `~6.14`}},
		{"ACSM stepping sheet, printed: 12 in, 30 a minute", "energy", `{"mode":"step","step_height_m":0.3048,"steps_min":30}`,
			map[string]string{"vo2": `~31.4`}},
		{"question set on the ACSM equations; worked by hand: walk 4 mph, 6 %, 80 kg", "energy", `{"mode":"walk","speed_m_min":107.2,"grade":0.06,"weight_kg":80}`,
			map[string]string{"vo2": `~25.80`, "mets": `~7.37`, "kcal_min": `~10.32`, "range": `"above"`}},
		{"university answer sheet, printed: 122.5 m/min is 8 METs, slower than running goes", "energy", `{"mode":"run","speed_m_min":122.5}`,
			map[string]string{"mets": `~8.0`, "range": `"below"`}},

		{"one-mile walk, printed: a woman of 30 y, 150 lb, 15:12, 128 bpm", "fitness",
			`{"test":"rockport_walk","age":30,"sex":"female","weight_kg":68.0388555,"minutes":15.2,"hr":128}`,
			map[string]string{"vo2max": `~40.0`, "see": `5`, "flags": `[]`}},
		{"Kline 1987, worked by hand: a woman of 26 y is younger than its people", "fitness",
			`{"test":"rockport_walk","age":26,"sex":"female","weight_kg":70.76040972,"minutes":12.25,"hr":80}`,
			map[string]string{"vo2max": `~58.3`, "flags": `["age_outside"]`}},
		{"Cooper 1968, printed: 2400 m", "fitness", `{"test":"cooper_12_min","distance_m":2400}`,
			map[string]string{"vo2max": `~42.37`, "flags.0": `"maximal_effort"`, "percentile": `null`}},
		{"ACSM 1.5-mile run; worked by hand: 12:00", "fitness", `{"test":"run_1_5_mile","minutes":12}`, map[string]string{"vo2max": `~43.75`}},
		{"George 1993; worked by hand: a man of 75 kg, 10:00, 155 bpm", "fitness",
			`{"test":"jog_1_mile","age":20,"sex":"male","weight_kg":75,"minutes":10,"hr":155}`, map[string]string{"vo2max": `~52.31`}},
		{"McArdle 1972; worked by hand: 132 bpm", "fitness", `{"test":"queens_step","sex":"female","hr":132}`, map[string]string{"vo2max": `~41.43`}},
		{"Enright 1998; worked by hand: a man of 70 y, 175 cm, 80 kg", "fitness",
			`{"test":"six_minute_walk","age":70,"sex":"male","height_cm":175,"weight_kg":80,"distance_m":400}`,
			map[string]string{"predicted_m": `~523.55`, "lower_limit_m": `~370.55`}},
		{"Jackson 1990; worked by hand: a man of 45 y, activity 3, index 28", "fitness",
			`{"test":"non_exercise","age":45,"sex":"male","bmi":28,"activity_rating":3}`, map[string]string{"vo2max": `~34.86`, "see": `5.7`}},
		{"Rikli 1999: a woman of 72 y stands up 9 times", "fitness", `{"test":"chair_stand_30_s","age":72,"sex":"female","stands":9}`,
			map[string]string{"band": `"below_average"`, "mets": `null`}},
		{"practice setting: nothing from a heart rate that a medicine holds down", "fitness",
			`{"test":"rockport_walk","age":60,"sex":"female","weight_kg":70,"minutes":16,"hr":100,"hr_blunted":true}`,
			map[string]string{"vo2max": `null`, "flags": `["hr_blunted"]`, "percentile": `null`}},

		{"Kaminsky 2022, open data: median of men in their forties", "percentile", `{"age":45,"sex":"male","vo2max":34.8,"mode":"treadmill"}`,
			map[string]string{"percentile": `50`, "word": `"fair"`}},
		{"Kaminsky 2022, rule of the open data, by hand: between two rows", "percentile", `{"age":45,"sex":"male","vo2max":33.0}`,
			map[string]string{"percentile": `~43.5`}},
		{"Kaminsky 2022, open data: cycle, median of men in their fifties", "percentile", `{"age":55,"sex":"male","vo2max":24.7,"mode":"cycle"}`,
			map[string]string{"percentile": `50`}},

		{"NHLBI 12-week walking programme: weeks 8 and 12 on five days", "plan",
			`{"start":{"class":"moderate","sessions":5,"minutes":15},"goal_minutes":150,"weeks":12,"ceiling":"moderate","preset":"walk_12"}`,
			map[string]string{
				"weeks.7.week": `8`, "weeks.7.minutes_per_session": `30`, "weeks.7.light": `50`, "weeks.7.moderate": `100`,
				"weeks.11.moderate": `150`, "weeks.11.moderate_equivalent": `150`, "weeks.11.vigorous": `0`, "reached": `12`,
			}},
		{"common practice: moderate within twelve weeks, vigorous not before week 13", "plan",
			`{"start":{"class":"light","sessions":3,"minutes":20},"goal_minutes":150,"weeks":16,"ceiling":"vigorous"}`,
			map[string]string{"weeks.0.light": `60`, "weeks.0.moderate": `0`, "weeks.11.vigorous": `0`}},
	} {
		t.Run(tt.source, func(t *testing.T) {
			in := strings.ReplaceAll(strings.ReplaceAll(tt.in, "\n", " "), "\t", " ")
			answers, status := calc(t, tt.name, in)
			if len(answers) != 1 || status != 0 {
				t.Fatalf("%d answers, status %d: %v", len(answers), status, answers)
			}
			for path, want := range tt.want {
				if got := at(answers[0], path); !asPrinted(got, want) {
					t.Errorf("%s = %s; want %s", path, jsonOf(t, got), want)
				}
			}
			if sources, _ := answers[0]["sources"].([]any); len(sources) == 0 {
				t.Error("the answer names no sources")
			}
		})
	}
}

// at returns what stands at a path such as findings.0.rule, nil if nothing does.
func at(answer any, path string) any {
	for _, step := range strings.Split(path, ".") {
		switch inside := answer.(type) {
		case map[string]any:
			answer = inside[step]
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i >= len(inside) {
				return nil
			}
			answer = inside[i]
		default:
			return nil
		}
	}
	return answer
}

// asPrinted reports whether got is the JSON wanted or, after ~, the number
// wanted once it is rounded like that.
func asPrinted(got any, want string) bool {
	printed, rounded := strings.CutPrefix(want, "~")
	if !rounded {
		text, err := json.Marshal(got)
		return err == nil && string(text) == want
	}
	n, ok := got.(float64)
	_, decimals, _ := strings.Cut(printed, ".")
	return ok && strconv.FormatFloat(n, 'f', len(decimals), 64) == printed
}

func jsonOf(t *testing.T, value any) string {
	t.Helper()
	text, err := json.Marshal(value)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestCalcExamplesWork runs the example of every name. What an answer cites must
// be on the Sources page.
func TestCalcExamplesWork(t *testing.T) {
	for name, c := range calculations {
		answers, status := calc(t, name, c.example)
		if status != 0 || len(answers) != 1 {
			t.Errorf("the example of %s: %v, status %d", name, answers, status)
			continue
		}
		sources, _ := answers[0]["sources"].([]any)
		if len(sources) == 0 {
			t.Errorf("the example of %s names no sources", name)
		}
		for _, key := range sources {
			if _, ok := source.Find(source.Key(key.(string))); !ok {
				t.Errorf("%s cites %s, which is no source", name, key)
			}
		}
	}
}

// TestCalcNames compares the names with those that are promised.
func TestCalcNames(t *testing.T) {
	var out bytes.Buffer
	if status := run(t.Context(), []string{"calc", "--list"}, strings.NewReader(""), &out, &out); status != 0 {
		t.Fatalf("status %d: %s", status, &out)
	}
	const want = "energy fitness medicine part percentile plan screen triage vitals week zones"
	if got := strings.Join(strings.Fields(out.String()), " "); got != want {
		t.Errorf("names %s; want %s", got, want)
	}
}

// TestCalcCodes reads the codes of every name that has some. A rule that stands
// for a code must exist.
func TestCalcCodes(t *testing.T) {
	for _, tt := range []struct{ name, key, code, row string }{
		{"zones", "conditions", "icd", "heartrate.basis.6"},
		{"zones", "equation", "gellish2007", ""},
		{"part", "talk", "sentences", ""},
		{"screen", "symptoms", "chest_pressure", "SX_CHEST"},
		{"screen", "diseases", "diabetes_type_2", "DX_METABOLIC"},
		{"vitals", "rule", "V18", "V18"},
		{"medicine", "class", "BB_AB", "Z1+Z4"},
		{"triage", "reports", "dark_urine", "T27"},
		{"triage", "known", "stable_angina", ""},
		{"energy", "mode", "arm_cycle", "fitness.energy.arm_cycle"},
		{"fitness", "test", "rockport_walk", ""},
		{"fitness", "flags", "hr_blunted", ""},
		{"percentile", "mode", "cycle", "fitness.norms"},
		{"plan", "preset", "walk_12", "plan.preset.walk_12"},
	} {
		t.Run(tt.name+" "+tt.code, func(t *testing.T) {
			var out bytes.Buffer
			if status := run(t.Context(), []string{"calc", tt.name, "--codes"}, strings.NewReader(""), &out, &out); status != 0 {
				t.Fatalf("status %d: %s", status, &out)
			}
			for line := range strings.Lines(out.String()) {
				var c code
				if err := json.Unmarshal([]byte(line), &c); err != nil || c.Says == "" {
					t.Fatalf("code %s: %v", line, err)
				}
				if c.Key == tt.key && c.Code == tt.code {
					if c.Row != tt.row {
						t.Errorf("row %s; want %s", c.Row, tt.row)
					}
					return
				}
			}
			t.Error("it is not among the codes")
		})
	}
	if status := run(t.Context(), []string{"calc", "week", "--codes"}, strings.NewReader(""), io.Discard, io.Discard); status != 1 {
		t.Errorf("codes of a name without any: status %d; want 1", status)
	}
}

func FuzzCalc(f *testing.F) {
	for name, c := range calculations {
		f.Add(name, c.example)
	}
	f.Fuzz(func(t *testing.T, name, line string) {
		c, ok := calculations[name]
		if !ok {
			t.Skip()
		}
		var out bytes.Buffer
		_ = c.run(strings.NewReader(line), &out) // must not panic
		for line := range strings.Lines(out.String()) {
			if !json.Valid([]byte(line)) {
				t.Errorf("the answer is no JSON: %s", line)
			}
		}
	})
}
