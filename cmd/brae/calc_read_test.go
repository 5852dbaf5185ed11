package main

import (
	"reflect"
	"testing"
)

func TestCalcRefusesALine(t *testing.T) {
	for _, tt := range []struct{ reason, name, in, field string }{
		{"a key that does not exist", "zones", `{"age":60,"resting_hr":72,"shoe_size":43}`, "shoe_size"},
		{"a key that is missing", "zones", `{"resting_hr":72}`, "age"},
		{"a text for a number", "zones", `{"age":"60","resting_hr":72}`, "age"},
		{"a decimal for a whole number", "zones", `{"age":60.5,"resting_hr":72}`, "age"},
		{"too young", "zones", `{"age":17,"resting_hr":72}`, "age"},
		{"an impossible resting heart rate", "zones", `{"age":60,"resting_hr":20}`, "resting_hr"},
		{"a class that does not exist", "week", `{"parts":[{"minutes":20,"class":"brutal"}]}`, "parts[0].class"},
		{"minutes that are missing in a part", "week", `{"parts":[{"class":"light"}]}`, "parts[0].minutes"},
		{"no list", "week", `{"parts":{"minutes":20}}`, "parts"},
		{"null in the place of a list", "week", `{"parts":null}`, "parts"},
		{"null in a list", "week", `{"parts":[null]}`, "parts[0]"},
		{"a target of no week", "week", `{"parts":[],"target":0}`, "target"},
		{"a key in capitals", "zones", `{"age":60,"resting_hr":72,"Sex":"male"}`, "Sex"},
		{"a key that stands there twice", "zones", `{"age":60,"resting_hr":72,"age":70}`, "age"},
		{"a key within that does not exist", "zones", `{"age":60,"resting_hr":72,"limits":{"doctor":130}}`, "limits.doctor"},
		{"a number in quotes", "zones", `{"age":60,"resting_hr":72,"percents":["40"]}`, "percents[0]"},
		{"a share above all", "zones", `{"age":60,"resting_hr":72,"percents":[40,101]}`, "percents[1]"},
		{"a share above all, without a basis", "zones", `{"age":60,"resting_hr":72,"medicines":["metoprolol"],"percents":[101]}`, "percents[0]"},
		{"a cap on vigorous work below the class", "zones", `{"age":60,"resting_hr":72,"vigorous_to_percent":60}`, "vigorous_to_percent"},
		{"a condition that does not exist", "zones", `{"age":60,"resting_hr":72,"conditions":["gloom"]}`, "conditions"},
		{"a heart rate without zones", "part", `{"minutes":30,"hr":120}`, "zones"},
		{"zones within that miss a key", "part", `{"minutes":30,"hr":120,"zones":{"age":60}}`, "zones.resting_hr"},
		{"zones within of a child", "part", `{"minutes":30,"hr":120,"zones":{"age":15,"resting_hr":70}}`, "zones.age"},
		{"three decimals of a MET", "part", `{"minutes":30,"activity_met":3.555}`, "activity_met"},
		{"a day that no calendar has", "screen", `{"today":"2025-02-30","age":58,"activity":{"days":3,"minutes":30,"months":3,"class":"moderate"},"diseases":[],"symptoms":[],"desired":"light"}`, "today"},
		{"activity without its days", "screen", `{"today":"2025-06-01","age":58,"activity":{"minutes":30,"months":3,"class":"moderate"},"diseases":[],"symptoms":[],"desired":"light"}`, "activity.days"},
		{"a setting that does not exist", "screen", `{"today":"2025-06-01","age":58,"activity":{"days":3,"minutes":30,"months":3,"class":"moderate"},"diseases":[],"symptoms":[],"desired":"light","settings":{"x":1}}`, "settings.x"},
		{"pressures the wrong way round", "vitals", `{"sbp":80,"dbp":120}`, "dbp"},
		{"a temperature with three decimals", "vitals", `{"temperature_c":38.055}`, "temperature_c"},
		{"two blood sugars that do not fit", "vitals", `{"glucose_mg_dl":100,"glucose_mmol_l":9.9}`, "glucose_mmol_l"},
		{"a weight without its day", "vitals", `{"heart_failure":true,"weights":[{"kg":80}]}`, "weights[0].on"},
		{"a medicine list", "medicine", `{"text":["aspirin"]}`, "text"},
		{"a report that does not exist", "triage", `{"reports":["gloom"],"known":{}}`, "reports"},
		{"a flag that does not exist", "triage", `{"reports":[],"known":{"gloomy":false}}`, "known"},
		{"a flag that is no answer", "triage", `{"reports":[],"known":{"cardiac":"yes"}}`, "known.cardiac"},
		{"a saturation of 200", "triage", `{"reports":[],"numbers":{"spo2":200}}`, "numbers.spo2"},
		{"two decimals of ketones in a log", "triage", `{"reports":[],"numbers":{"ketones_mmol_l":1.55}}`, "numbers.ketones_mmol_l"},
		{"a mode that does not exist", "energy", `{"mode":"swim"}`, "mode"},
		{"a grade in per cent", "energy", `{"mode":"run","speed_m_min":160,"grade":5}`, "grade"},
		{"a key that the mode has no use for", "energy", `{"mode":"run","speed_m_min":160,"steps_min":20}`, "steps_min"},
		{"more than any number can hold", "energy", `{"mode":"run","speed_m_min":1e308,"grade":0.5,"weight_kg":80}`, ""},
		{"no mode", "energy", `{"speed_m_min":160}`, "mode"},
		{"a ten-second count for a heart rate", "fitness", `{"test":"rockport_walk","age":52,"sex":"female","weight_kg":59,"minutes":12.75,"hr":24}`, "hr"},
		{"a test that does not exist", "fitness", `{"test":"plank"}`, "test"},
		{"a stage without its heart rate", "fitness", `{"test":"staged_step","stages":[{"steps_min":15}]}`, "stages[0].hr"},
		{"too old for the norms", "percentile", `{"age":95,"sex":"male","vo2max":30}`, "age"},
		{"no sex for the norms", "percentile", `{"age":45,"vo2max":30}`, "sex"},
		{"a start above the ceiling", "plan", `{"start":{"class":"vigorous","sessions":3,"minutes":20},"goal_minutes":150,"weeks":4,"ceiling":"moderate"}`, "start.class"},
		{"nothing is allowed", "plan", `{"start":{"class":"light","sessions":3,"minutes":20},"goal_minutes":150,"weeks":4,"ceiling":"none"}`, "ceiling"},
		{"a programme that does not exist", "plan", `{"start":{"class":"light","sessions":3,"minutes":20},"goal_minutes":150,"weeks":4,"ceiling":"moderate","preset":"moon"}`, "preset"},
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

// TestCalcPassesOnEveryKey fills in all keys: none may be lost on the way to the
// rules.
func TestCalcPassesOnEveryKey(t *testing.T) {
	numbers, err := decode[numbersIn]([]byte(`{"peak_hr":150,"ceiling_hr":140,"seconds_above_ceiling":30,"measured_max":170,"predicted_max":165,
		"peak_confirmed":true,"effort_6_20":15,"could_not_speak":true,"prescribed":"moderate","done":"vigorous","ceiling":"moderate","talk_class":"light",
		"hr_class":"vigorous","same_work":[{"hr":10,"effort_6_20":2}],"parts":[{"effort_6_20":13,"hr":120}],"resting_hr_days":[80],"resting_hr_weeks":[70],
		"week_spike":true,"spo2":95,"sbp":130,"dbp":80,"glucose_mg_dl":120,"ketones_mmol_l":0.5}`), nil)
	if err != nil {
		t.Fatal(err)
	}
	vitals, err := decode[vitalsIn]([]byte(`{"sbp":130,"dbp":80,"standing_sbp":120,"resting_hr":70,"temperature_c":37.5,"glucose_mg_dl":120,
		"glucose_mmol_l":6.66,"ketones_mmol_l":0.5,"urine_ketones":"none","spo2":95,"weights":[{"on":"2025-06-01","kg":80.5}],"cardiac":true,
		"heart_failure":true,"glucose_lowering":true,"rate_slowing":true,"repeated":true,"symptoms":true,"fainted":true,"warning":true,"feverish":true,
		"severe_low":true}`), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, passedOn := range []any{numbers, numbers.numbers(), vitals, vitals.vitals()} {
		v := reflect.ValueOf(passedOn)
		for i := range v.NumField() {
			if v.Field(i).IsZero() {
				t.Errorf("%s.%s is lost", v.Type(), v.Type().Field(i).Name)
			}
		}
	}
	if w := vitals.vitals().Weights[0].Grams; w != 80_500 {
		t.Errorf("80.5 kg are %d g", w)
	}
}
