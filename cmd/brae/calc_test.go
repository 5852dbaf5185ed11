package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
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
		want             map[string]string // JSON, by key
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
	} {
		t.Run(tt.source, func(t *testing.T) {
			in := strings.ReplaceAll(strings.ReplaceAll(tt.in, "\n", " "), "\t", " ")
			answers, status := calc(t, tt.name, in)
			if len(answers) != 1 || status != 0 {
				t.Fatalf("%d answers, status %d: %v", len(answers), status, answers)
			}
			for key, want := range tt.want {
				got, err := json.Marshal(answers[0][key])
				if err != nil || string(got) != want {
					t.Errorf("%s = %s; want %s", key, got, want)
				}
			}
			if sources, _ := answers[0]["sources"].([]any); len(sources) == 0 {
				t.Error("the answer names no sources")
			}
		})
	}
}

func TestCalcRefusesALine(t *testing.T) {
	for _, tt := range []struct{ reason, name, in, field string }{
		{"a key that does not exist", "zones", `{"age":60,"resting_hr":72,"shoe_size":43}`, "shoe_size"},
		{"a key that is missing", "zones", `{"resting_hr":72}`, "age"},
		{"a text for a number", "zones", `{"age":"60","resting_hr":72}`, "age"},
		{"a decimal for a whole number", "zones", `{"age":60.5,"resting_hr":72}`, "age"},
		{"too young", "zones", `{"age":17,"resting_hr":72}`, "age"},
		{"an impossible resting heart rate", "zones", `{"age":60,"resting_hr":20}`, "resting_hr"},
		{"a class that does not exist", "week", `{"parts":[{"minutes":20,"class":"brutal"}]}`, "parts"},
		{"negative minutes", "week", `{"parts":[{"minutes":-1,"class":"light"}]}`, "parts[0].minutes"},
		{"a disease that does not exist", "screen", `{"today":"2025-06-01","age":58,"activity":{"days":3,"minutes":30,"months":3,"class":"moderate"},"diseases":["gloom"],"symptoms":[],"desired":"light"}`, "diseases"},
		{"not an object", "week", `[1]`, ""},
		{"two objects", "week", `{"parts":[]} {"parts":[]}`, ""},
	} {
		t.Run(tt.reason, func(t *testing.T) {
			answers, status := calc(t, tt.name, tt.in)
			if len(answers) != 1 || status != 1 || answers[0]["error"] == "" || answers[0]["error"] == nil {
				t.Fatalf("answers %v, status %d; want one error and 1", answers, status)
			}
			if answers[0]["field"] != tt.field {
				t.Errorf("field = %v; want %s (%v)", answers[0]["field"], tt.field, answers[0]["error"])
			}
		})
	}
}

func TestCalcAnswersTheOtherLines(t *testing.T) {
	answers, status := calc(t, "week", "{\"parts\":[{\"minutes\":20,\"class\":\"moderate\"}]}\nnonsense\n\n{\"parts\":[{\"minutes\":30,\"class\":\"moderate\"}]}\n")
	if len(answers) != 3 || status != 1 || answers[0]["moderate"] != 20.0 || answers[1]["error"] == nil || answers[2]["moderate"] != 30.0 {
		t.Errorf("answers %v, status %d; want 20, an error, 30, and 1", answers, status)
	}
}

func TestCalcExamplesWork(t *testing.T) {
	for name, c := range calculations {
		if answers, status := calc(t, name, c.example); status != 0 || len(answers) != 1 {
			t.Errorf("the example of %s: %v, status %d", name, answers, status)
		}
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
