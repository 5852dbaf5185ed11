package intensity

// Note is something to check, to ask or to know about one part.
type Note struct {
	Code string
	Text string
}

// noteTexts are the sentences of the notes, for the practitioner.
//
// The causes are in the order in which to check them.
var noteTexts = map[string]string{
	"nothing_to_judge_by": "There is nothing to judge this part by: ask for the talk test.",
	"feels_harder": "It felt harder than the heart rate shows. For safety it counts as it felt. " +
		"Never ask for a faster pace to reach a heart rate.",
	"ask_medicine": "Ask first: any new medicine or dose that slows the pulse?",
	"check_slow_pulse": "Then check: irregular pulse or pacemaker; a heart that cannot speed up; a maximal heart rate " +
		"set too high; a sensor that dropped beats; breath limited by lungs, anaemia, weight, illness or heart failure.",
	"ask_breathless":  "Ask whether the breathlessness is new or out of proportion; if so, symptom questions and doctor review.",
	"breathless_hold": "The breathlessness is new or out of proportion: symptom questions now, and hold for doctor review.",
	"heart_rate_harder": "The heart rate was higher than it felt. For safety it counts by heart rate; " +
		"log both.",
	"expected_overlap": "Whole sentences with a heart rate in the vigorous range are common: in healthy people speech stays " +
		"comfortable up to about 74 to 84 % of the reserve.",
	"count_pulse": "Count the pulse for 60 seconds: a sensor can lock on to the steps or sit too loose. Is it regular?",
	"check_fast_pulse": "Then check: a maximal heart rate set too low; a resting heart rate taken when not really resting; caffeine, " +
		"heat, thirst, fever, worry; inhaler for asthma, thyroid medicine; pregnancy; arm work.",
	"not_a_release": "The talk test errs to the easy side. It does not release a hold.",
	"keep_pace":     "Regular pulse, no symptoms and below the ceiling: keep the pace.",
	"stop_and_hold": "Irregular pulse, symptoms or a heart rate above the ceiling: stop, and hold until reviewed.",
	"above_ceiling": "The heart rate was above the ceiling: ease off next time, whatever else agrees.",
	"effort_off": "Talk test and perceived exertion are far apart: teach the scale again; ask about tired muscles, pain " +
		"and mood.",
	"effort_near":         "Perceived exertion differs a little. For safety the harder counts; watch the next session.",
	"heart_rate_not_used": "The heart rate was not used: there is no valid basis for a heart-rate range.",
	"met_only":            "Judged by the activity alone, which says nothing about the person. Ask for the talk test.",
	"met_hard_for_age":    "For this age the activity is harder than the class for all adults; for safety the harder counts.",
}

// note returns the note with that code.
func note(code string) Note { return Note{code, noteTexts[code]} }
