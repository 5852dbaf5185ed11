package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// element returns the first element of a page with that id, nil if there is none.
func element(t testing.TB, page, id string) *html.Node {
	t.Helper()
	document, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	for n := range document.Descendants() {
		for _, a := range n.Attr {
			if a.Key == "id" && a.Val == id {
				return n
			}
		}
	}
	return nil
}

// words is the text of an element with single spaces.
func words(n *html.Node) string {
	if n == nil {
		return ""
	}
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// numbers is the address of a calculator with what is typed: names and values.
func numbers(path string, typed ...string) string {
	query := url.Values{}
	for i := 0; i < len(typed); i += 2 {
		query.Add(typed[i], typed[i+1])
	}
	return "/numbers/" + path + "?" + query.Encode()
}

// TestNumbers compares answers of the calculators with what is printed elsewhere.
// Each answer says its error or flag, its caution and its sources.
func TestNumbers(t *testing.T) {
	t.Parallel()
	b := newSite(t).as("mira")
	for _, tt := range []struct {
		source string
		path   string
		want   []string // in the answer, in this order
	}{
		{
			"Gellish 2007, Karvonen 1957 and the edges of ACSM 2011; worked by hand: 60 y, resting 72", numbers("zones", "age", "60", "resting_hr", "72"),
			[]string{"Moderate is 110 to 127", "Age: 60 years", "100 to 109 bpm", "110 to 127 bpm", "128 to 155 bpm", "165 beats", "11 beats either way",
				"40 % 109 109.2 4.4", "60 % 128 127.8 6.6", "With a symptom, stop", "Karvonen", "Gellish"},
		},
		{
			"the same person with a measured peak: no error of a prediction", numbers("zones", "age", "60", "resting_hr", "72", "measured_max", "165"),
			[]string{"Moderate is 110 to 127", "165 beats a minute, measured"},
		},
		{
			"a doctor's number is never passed; worked by hand: 72 + 50 and 70 % of 93", numbers("zones", "age", "60", "resting_hr", "72", "measured_max", "165", "doctor_hr", "120"),
			[]string{"Moderate is 110 to 120", "Never above 120", "50 % 119 118.5", "70 % Above the ceiling"},
		},
		{
			"Keteyian 2023: no prediction on a beta-blocker", numbers("zones", "age", "60", "resting_hr", "60", "medicines", "metoprolol 50 mg", "doctor_hr", "120"),
			[]string{"No heart-rate range, only a ceiling", "whole sentences", "Never above 120", "metoprolol", "Do not trust a predicted maximum"},
		},
		{
			"Brawner 2004: 164 - 0.7 x 60 = 122, too rough for vigorous work",
			numbers("zones", "age", "60", "resting_hr", "60", "conditions", "coronary_disease", "conditions", "beta_blocker", "equation", "brawner2004"),
			[]string{"122 beats", "18 beats either way", "50 % 91 91", "70 % Not open"},
		},
		{
			"karvonen arithmetic by hand: 65 % of 93 and 72", numbers("zones", "age", "60", "resting_hr", "72", "percent", "65"),
			[]string{"65 % 132 132.45"},
		},
		{
			"PAGA 2018 p. 65: 2 x 20 vigorous, 15 moderate, a light walk", numbers("week", "moderate", "15", "vigorous", "20 20", "light", "30"),
			[]string{"95 of 150 moderate-equivalent minutes, 55 left", "Insufficient", "Moderate 15 15", "Vigorous 40 80", "Light 30 0", "Together 85 95", "Physical Activity Guidelines"},
		},
		{
			"common practice: 5 x 10 brisk leave 100 of 150", numbers("week", "moderate", "10+10, 10 10 10"),
			[]string{"50 of 150", "100 left", "100 moderate minutes, or 50 vigorous ones"},
		},
		{
			"one-mile walk, printed: a woman of 30 y, 150 lb, 15:12, 128 bpm", numbers("tests", "test", "rockport_walk", "age", "30", "sex", "female", "weight_kg", "150 lb", "minutes", "15:12", "hr", "128"),
			[]string{"40.0 ml", "5.0 either way", "35.0 to 45.0", "Percentile", "30 to 69 years", "Measure one mile", "Kline"},
		},
		{
			"Kline 1987: worked out in people from 30 years", numbers("tests", "test", "rockport_walk", "age", "26", "sex", "female", "weight_kg", "156 lb", "minutes", "12:15", "hr", "80"),
			[]string{"58.3 ml", "people of another age"},
		},
		{
			"practice setting: no estimate from a heart rate that a medicine holds down",
			numbers("tests", "test", "rockport_walk", "age", "60", "sex", "female", "weight_kg", "70", "minutes", "16", "hr", "100", "hr_blunted", "yes"),
			[]string{"There is no estimate", "holds the heart rate down", "tells nothing about fitness"},
		},
		{
			"Cooper 1968, printed: 2400 m", numbers("tests", "test", "cooper_12_min", "distance_m", "2.4 km"),
			[]string{"42.4 ml", "gave everything"},
		},
		{
			"step test, by hand: 0.30 m, three stages to 180", numbers("tests", "test", "staged_step", "age", "40", "step_height_m", "30", "hr_max", "180", "stages", "15 95\n20 112\n25 130"),
			[]string{"ml of oxygen", "3.9 either way", "maximal heart rate"},
		},
		{
			"Rikli 1999: a woman of 72 y stands up 9 times", numbers("tests", "test", "chair_stand_30_s", "age", "72", "sex", "female", "stands", "9"),
			[]string{"below average", "10 to 15"},
		},
		{
			"ACSM equation of running, worked by hand: 6 mph, level", numbers("energy", "mode", "run", "speed_m_min", "6 mph"),
			[]string{"35.7 ml", "10.2 METs", "7 %", "33.2 to 38.2", "10:00 a mile", "Bushman"},
		},
		{
			"ACSM class sheet, printed: run 8 mph, 50 kg, net 10.72 kcal", numbers("energy", "mode", "run", "speed_m_min", "8 mph", "weight_kg", "50"),
			[]string{"46.4 ml", "10.7 without"},
		},
		{
			"question set on the ACSM equations: walk 4 mph, 6 %, faster than walking goes", numbers("energy", "mode", "walk", "speed_m_min", "4 mph", "grade", "6"),
			[]string{"25.8 ml", "harder than the equation", "only if the person really walks"},
		},
		{
			"ACSM formula slides, printed as 20: leg cycle 450 kgm/min, 62 kg", numbers("energy", "mode", "leg_cycle", "work_kgm_min", "450 kgm/min", "weight_kg", "62"),
			[]string{"20.1 ml", "74 W"},
		},
		{
			"ACSM stepping sheet, printed as 31.4: 12 in, 30 a minute", numbers("energy", "mode", "step", "step_height_m", "12 in", "steps_min", "30"),
			[]string{"31.4 ml"},
		},
		{
			"Kaminsky 2022, open data: median of men in their forties", numbers("percentile", "age", "45", "sex", "male", "vo2max", "34.8", "mode", "treadmill"),
			[]string{"Percentile 50: fair", "looks surer than it is", "Kaminsky"},
		},
		{
			"Kaminsky 2022, rule of the open data, by hand: 34.8 with an error of 5", numbers("percentile", "age", "45", "sex", "male", "vo2max", "34.8", "see", "5", "mode", "treadmill"),
			[]string{"Percentile 50: fair", "With its error", "30 (poor)", "69 (good)"},
		},
		{
			"Kaminsky 2022, open data: 34.8 is the median of men in their forties and the 85th percentile of women or above; the sex not said",
			numbers("percentile", "age", "45", "vo2max", "34.8", "mode", "treadmill"), []string{"by the norms of women, 50 by those of men"},
		},
		{
			"Kline 1987, printed for a woman: 40.0; men have 6.315 more by the equation; the sex not said",
			numbers("tests", "test", "rockport_walk", "age", "30", "weight_kg", "150 lb", "minutes", "15:12", "hr", "128"), []string{"Women 40.0 ml", "Men 46.3 ml"},
		},
		{
			"Keteyian 2023: a beta-blocker alone", numbers("medicines", "text", "bisoprolol"),
			[]string{"only from a maximum measured on the medicine", "bisoprolol"},
		},
		{
			"a patient education table, effect: an ACE inhibitor leaves the heart rate alone", numbers("medicines", "text", "ramipril"),
			[]string{"stays valid", "Blood pressure falls", "No change No change Lower"},
		},
		{
			"WHO ATC, names; a patient education table, effect: a beta-blocker", numbers("medicines", "text", "Metoprolol succinate 50 mg, xyzzolol"),
			[]string{"until every medicine is known", "Do not trust a predicted maximum", "xyzzolol Not known", "beta-blocker, heart-selective Lower Lower Lower", "Never advise"},
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			r := b.get(tt.path)
			answer := words(element(t, r.body, "result"))
			if r.status != http.StatusOK {
				t.Fatalf("%d: %s", r.status, words(element(t, r.body, "main")))
			}
			rest := answer
			for _, want := range tt.want {
				_, after, found := strings.Cut(rest, want)
				if !found {
					t.Fatalf("no %q, or not in this place, in: %s", want, answer)
				}
				rest = after
			}
			if !strings.Contains(r.body, `class="source"`) {
				t.Error("the answer names no source")
			}
		})
	}
}

// TestNumbersRefuse types what cannot be: the problem stands at its field, what
// was typed is kept, and there is no answer.
func TestNumbersRefuse(t *testing.T) {
	t.Parallel()
	b := newSite(t).as("mira")
	for _, tt := range []struct{ reason, path, field, typed string }{
		{"nothing", numbers("zones", "age", ""), "age", ""},
		{"a child", numbers("zones", "age", "15", "resting_hr", "70"), "age", "15"},
		{"a word for a number", numbers("zones", "age", "sixty", "resting_hr", "70"), "age", "sixty"},
		{"no resting heart rate", numbers("zones", "age", "60"), "resting_hr", ""},
		{"an impossible resting heart rate", numbers("zones", "age", "60", "resting_hr", "20"), "resting_hr", "20"},
		{"a limit below zero", numbers("zones", "age", "60", "resting_hr", "70", "doctor_hr", "-5"), "doctor_hr", "-5"},
		{"a share above all", numbers("zones", "age", "60", "resting_hr", "70", "percent", "101"), "percent", "101"},
		{"an equation made on women only", numbers("zones", "age", "60", "resting_hr", "70", "sex", "male", "equation", "gulati2010"), "equation", ""},
		{"too many medicines", numbers("zones", "age", "60", "resting_hr", "70", "medicines", strings.Repeat("a", 2001)), "medicines", ""},
		{"a week of words", numbers("week", "moderate", "ten"), "moderate", "ten"},
		{"a week with a minute below zero", numbers("week", "moderate", "10", "vigorous", "-5"), "vigorous", "-5"},
		{"a target of nothing", numbers("week", "moderate", "10", "target", "0"), "target", "0"},
		{"an empty week", numbers("week", "moderate", ""), "moderate", ""},
		{"a time that could be two", numbers("tests", "test", "run_1_5_mile", "minutes", "12.45"), "minutes", "12.45"},
		{"a ten-second count", numbers("tests", "test", "rockport_walk", "age", "52", "sex", "female", "weight_kg", "59", "minutes", "12:45", "hr", "24"), "hr", "24"},
		{"a stage with one number", numbers("tests", "test", "staged_step", "step_height_m", "30", "hr_max", "180", "stages", "15"), "stages", ""},
		{"a speed without its unit", numbers("energy", "mode", "run", "speed_m_min", "6"), "speed_m_min", "6"},
		{"a cycle without a rider", numbers("energy", "mode", "leg_cycle", "work_kgm_min", "100 W"), "weight_kg", ""},
		{"a grade of 60 per cent", numbers("energy", "mode", "walk", "speed_m_min", "3 mph", "grade", "60"), "grade", "60"},
		{"thousands or decimals", numbers("percentile", "age", "45", "sex", "male", "vo2max", "34,800"), "vo2max", "34,800"},
		{"not a number", numbers("percentile", "age", "45", "sex", "male", "vo2max", "NaN"), "vo2max", "NaN"},
		{"three things at once, the last of them", numbers("percentile", "age", "15", "vo2max", "", "see", "0"), "see", ""},
		{"three things at once, the first of them", numbers("percentile", "age", "15", "vo2max", ""), "age", "15"},
		{"a sex without norms", numbers("percentile", "age", "45", "sex", "x", "vo2max", "34"), "sex", ""},
		{"too old for the norms", numbers("percentile", "age", "95", "sex", "male", "vo2max", "30"), "age", "95"},
		{"no medicine", numbers("medicines", "text", " "), "text", ""},
	} {
		t.Run(tt.reason, func(t *testing.T) {
			r := b.get(tt.path)
			if r.status != http.StatusOK || !strings.Contains(r.body, "<title>Error: ") {
				t.Errorf("%d, or the title does not say that something is wrong", r.status)
			}
			if element(t, r.body, tt.field+"-problem") == nil {
				t.Errorf("no problem at %s: %s", tt.field, words(element(t, r.body, "main")))
			}
			if tt.typed != "" && !strings.Contains(words(element(t, r.body, tt.field))+attribute(element(t, r.body, tt.field), "value"), tt.typed) {
				t.Errorf("%q is not kept", tt.typed)
			}
			if answer := words(element(t, r.body, "result")); !strings.Contains(answer, "no answer yet") {
				t.Errorf("there is an answer: %s", answer)
			}
		})
	}
}

func attribute(n *html.Node, key string) string {
	if n == nil {
		return ""
	}
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// TestNumbersBegin opens each calculator: nothing is wrong before anything is
// typed, and choosing another test asks for its fields without a complaint.
func TestNumbersBegin(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("ines")
	for _, path := range []string{"/numbers", "/numbers/zones", "/numbers/week", "/numbers/tests", "/numbers/energy", "/numbers/percentile", "/numbers/medicines"} {
		r := b.get(path)
		if r.status != http.StatusOK || strings.Contains(r.body, "problem") || !strings.Contains(r.body, "no answer yet") {
			t.Errorf("%s: %d, or it complains", path, r.status)
		}
		if !strings.Contains(r.body, `<form method="get"`) || !strings.Contains(r.body, "/static/js/numbers.") {
			t.Errorf("%s has no form that works without a script, or no script", path)
		}
	}
	r := b.get(numbers("tests", "test", "cooper_12_min", "shown", "rockport_walk", "age", "30"))
	if r.status != http.StatusOK || element(t, r.body, "distance_m") == nil || element(t, r.body, "hr") != nil || strings.Contains(r.body, "problem") {
		t.Errorf("another test: %d, or its fields are not the ones asked", r.status)
	}
	if got := attribute(element(t, r.body, "age"), "value"); got != "30" {
		t.Errorf("age = %q after another test was chosen; want 30", got)
	}
	if r := b.get("/numbers/tarot"); r.status != http.StatusNotFound {
		t.Errorf("a calculator that does not exist: %d; want %d", r.status, http.StatusNotFound)
	}
}

// TestNumbersFollowTheSettings changes what the practice has set.
func TestNumbersFollowTheSettings(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	zones, week := numbers("zones", "age", "60", "resting_hr", "72"), numbers("week", "moderate", "50")
	if answer := words(element(t, b.get(zones).body, "result")); !strings.Contains(answer, "up to 146 beats") { // 72 + 80 % of 93
		t.Errorf("before the change: %s", answer)
	}
	must(t, s.ChangeSettings(t.Context(), s.Lead.Actor(), 0, map[string]int{"heartrate.vigorous_to_percent": 70, "volume.target": 100}, "for the test"))
	if answer := words(element(t, b.get(zones).body, "result")); !strings.Contains(answer, "up to 137 beats") { // 72 + 70 % of 93
		t.Errorf("after the change: %s", answer)
	}
	if answer := words(element(t, b.get(week).body, "result")); !strings.Contains(answer, "50 of 100") {
		t.Errorf("after the change: %s", answer)
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
