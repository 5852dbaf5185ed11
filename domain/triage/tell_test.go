package triage_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"brae/domain/triage"
)

var clinic = map[string]string{"emergency_number": "112", "crisis_line": "08-123", "clinic": "The Practice"}

func told(t *testing.T, reports []triage.Report, known ...triage.Flag) string {
	t.Helper()
	lines, err := triage.Fill(assess(t, reports, known...).Tell, clinic)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(lines, "\n")
}

func TestTell(t *testing.T) {
	for _, tt := range []struct {
		source  string
		reports R
		known   K
		says    []string // in this order
		not     []string
	}{
		{aha, R{"chest_pressure_now", "muscles_sore"}, nil,
			[]string{"Stop now.", "Call 112 now.", "Do not drive yourself.", "Unlock your door", "as you were told", "The Practice will contact you", "not an emergency service"},
			[]string{"08-123", "Thank you", "{"}},
		{rhabdo, R{"dark_urine"}, nil, []string{"Call 112 now.", "dark urine"}, nil},
		{recalled, R{"muscles_very_painful"}, nil, []string{"Call 112 now.", "about your muscles"}, nil},
		{recalled, R{"heat_illness"}, nil, []string{"Call 112 now.", "shade"}, nil},
		{recalled, R{"self_harm"}, nil, []string{"not have to deal with this alone", "call 112 now", "08-123"}, []string{"defibrillator", "angina"}},
		{recalled, R{"self_harm", "fainted"}, nil, []string{"Stop now.", "defibrillator", "08-123"}, nil},
		{recalled + ": advice of lower levels waits", R{"fainted", "lightheaded_often"}, nil, []string{"Call 112 now."}, []string{"bit by bit"}},
		{practice, R{"dizzy_in_effort"}, nil, []string{"stop all exercise until we have spoken", "speak to you within 1 working day", "gets worse", "call 112"}, nil},
		{practice, R{"calf_swollen"}, nil, []string{"stop all exercise", "speak to you today"}, nil},
		{icd, R{"shock_well"}, nil, []string{"stop all exercise", "looks after your device today"}, nil},
		{practice, R{"breathless_unusual"}, nil, []string{"only light things", "within 1 working day"}, []string{"stop all exercise"}},
		{practice, R{"ankles_swollen"}, nil, []string{"keep it easy", "answer within 2 working days", "call 112"}, nil},
		{illness, R{"fever"}, nil, []string{"Please rest.", "no fever for 24 hours, without medicine", "tell us here"}, []string{"stop all exercise"}},
		{illness + ": and held by something else", R{"fever", "cold_sweat"}, nil, []string{"stop all exercise"}, []string{"Please rest"}},
		{knee, R{"joint_pain_bad"}, nil, []string{"Leave out the exercise that hurt"}, []string{"keep it easy", "stop"}},
		{ada, R{"foot_wound"}, K{"diabetes"}, []string{"Keep weight off your feet", "Do not swim"}, []string{"keep it easy"}},
		{recalled, R{"low_mood"}, nil, []string{"speak to you within 1 working day", "08-123"}, []string{"stop", "easy"}},
		{cooldown, R{"lightheaded_on_stopping"}, nil, []string{"look at it within 7 days", "bit by bit for 5 minutes"}, []string{"112", "stop all"}},
		{practice, R{"other"}, nil, []string{"look at it within 1 working day"}, nil},
		{practice, R{"muscles_sore"}, nil, []string{"Thank you."}, []string{"112", "fine", "well"}},
	} {
		t.Run(fmt.Sprint(tt.source, "/", tt.reports), func(t *testing.T) {
			text := told(t, tt.reports, tt.known...)
			rest := text
			for _, s := range tt.says {
				_, after, ok := strings.Cut(rest, s)
				if !ok {
					t.Fatalf("%v: %q does not follow in\n%s", tt.reports, s, text)
				}
				rest = after
			}
			for _, s := range tt.not {
				if strings.Contains(text, s) {
					t.Errorf("%v: %q stands in\n%s", tt.reports, s, text)
				}
			}
		})
	}
}

func TestFill(t *testing.T) {
	lines := []triage.Line{{Text: "Call {emergency_number}. {clinic}"}, {Text: "Or {crisis_line}.", Optional: true}}
	for _, tt := range []struct {
		source string
		values map[string]string
		want   []string
		ok     bool
	}{
		{practice, clinic, []string{"Call 112. The Practice", "Or 08-123."}, true},
		{practice + ": no crisis line", map[string]string{"emergency_number": "999", "clinic": "C"}, []string{"Call 999. C"}, true},
		{practice + ": no number to call", map[string]string{"clinic": "C", "crisis_line": "1"}, nil, false},
		{practice + ": no name", map[string]string{"emergency_number": "999"}, nil, false},
		{practice + ": nothing", nil, nil, false},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := triage.Fill(lines, tt.values)
			if !slices.Equal(got, tt.want) || (err == nil) != tt.ok {
				t.Errorf("Fill = %q, %v; want %q, ok %t", got, err, tt.want, tt.ok)
			}
		})
	}
	for _, l := range triage.EmergencyText() {
		if l.Optional {
			t.Errorf("emergency line %q is optional", l.Text)
		}
	}
}

// grade is the Flesch-Kincaid grade of a text: 0.39 x words a sentence + 11.8 x
// syllables a word - 15.59 (Kincaid 1975).
func grade(text string) float64 {
	words, sentences, syllables := 0, 0, 0
	for w := range strings.FieldsSeq(strings.ToLower(text)) {
		words++
		syllables += syllablesOf(w)
		if strings.ContainsAny(w[len(w)-1:], ".?!:") {
			sentences++
		}
	}
	return 0.39*float64(words)/float64(max(1, sentences)) + 11.8*float64(syllables)/float64(words) - 15.59
}

// syllablesOf counts groups of vowels, without a silent e at the end.
func syllablesOf(word string) int {
	word = strings.Trim(word, ".,?!:;'")
	n, before := 0, false
	for _, r := range word {
		vowel := strings.ContainsRune("aeiouy", r)
		if vowel && !before {
			n++
		}
		before = vowel
	}
	if strings.HasSuffix(word, "e") && !strings.HasSuffix(word, "le") {
		n--
	}
	return max(1, n)
}

func TestGrade(t *testing.T) {
	const printed = 11.3 // with 24 syllables in 13 words
	got := grade("The Australian platypus is seemingly a hybrid of a mammal and reptilian creature.")
	if got < printed-2 || got > printed+2 {
		t.Errorf("grade %.1f; want about %.1f (Wikipedia, Flesch-Kincaid readability tests)", got, printed)
	}
}

// Everything that a client reads can be read at 12: grade 7 at most, and every
// sentence short.
func TestReadingAge(t *testing.T) {
	texts := map[string]string{}
	for _, c := range triage.Codes() {
		texts["told "+string(c.Report)] = told(t, []triage.Report{c.Report})
	}
	texts["fever"] = told(t, []triage.Report{"fever"})
	texts["all three"] = told(t, []triage.Report{"joint_pain_bad", "foot_wound"}, "diabetes")
	for name, text := range texts {
		if g := grade(text); g > 7 {
			t.Errorf("%s: grade %.1f:\n%s", name, g, text)
		}
		for _, sentence := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(".?!:\n", r) }) {
			if n := len(strings.Fields(sentence)); n > 20 {
				t.Errorf("%s: %d words in %q", name, n, sentence)
			}
		}
		for _, word := range []string{"you are fine", "diagnos", "stop taking", "do not take"} {
			if strings.Contains(strings.ToLower(text), word) {
				t.Errorf("%s: says %q", name, word)
			}
		}
	}
}

func TestScan(t *testing.T) {
	codes := func(text string) string {
		var all []string
		for _, q := range triage.Scan(text) {
			all = append(all, strings.TrimPrefix(q.Code, "ask_"))
		}
		return strings.Join(all, " ")
	}
	for _, tt := range []struct{ source, text, want string }{
		{aha, "a tight chest on the hill", "chest"},
		{aha, "pain in my left arm", "chest"},
		{aha, "Sentí presión en el PECHO", "chest"},
		{acsm, "nearly fainted", "faint"},
		{acsm, "I passed out for a second", "faint"},
		{acsm, "me desmayé", "faint"},
		{aha, "I couldn't breathe", "breath"},
		{aha, "couldn’t breathe", "breath"},
		{aha, "no podía respirar", "breath"},
		{acsm, "my heart was racing, heart racing", "heartbeat"},
		{acsm, "tuve taquicardia", "heartbeat"},
		{icd, "it gave me a shock", "shock"},
		{icd, "I got zapped", "shock"},
		{aha, "my speech was slurred", "stroke"},
		{aha, "one side of my face drooped", "stroke"},
		{aha, "tenía la boca torcida", "stroke"},
		{hf, "coughed blood", "froth"},
		{hf, "tosí sangre", "froth"},
		{rhabdo, "my pee looked like cola", "urine"},
		{rhabdo, "orina oscura", "urine"},
		{recalled, "golpe de calor", "heat"},
		{acsm, "swollen calf", "calf"},
		{acsm, "dolor en la pantorrilla", "calf"},
		{recalled, "my foot is blue", "foot"},
		{recalled, "trouble with my bladder", "back"},
		{recalled, "I fell on the stairs", "fall"},
		{recalled, "me caí", "fall"},
		{recalled, "had a hypo", "sugar"},
		{recalled, "bajón de azúcar", "sugar"},
		{pregnancy, "waters broke", "pregnancy"},
		{recalled, "I want to die", "harm"},
		{recalled, "no quiero vivir", "harm"},
		{recalled, "feeling hopeless", "mood"},
		{recalled, "estoy deprimida", "mood"},
		{practice + ": a word is asked about even after no", "no chest pain", "chest"},
		{practice + ": several", "chest pain and then I fainted", "chest faint"},
		{practice + ": once each", "chest chest chest", "chest"},
		{practice + ": only whole words", "orchestra, felling trees, scholar", ""},
		{practice + ": only whole phrases", "the left side, an arm", ""},
		{practice, "lovely walk by the river", ""},
		{practice, "un paseo muy bonito", ""},
		{practice, "", ""},
	} {
		t.Run(tt.source+"/"+tt.text, func(t *testing.T) {
			if got := codes(tt.text); got != tt.want {
				t.Errorf("Scan(%q) asks %q; want %q", tt.text, got, tt.want)
			}
		})
	}
}

// A yes to any question is a report that exists, and free text changes nothing
// but the questions.
func TestQuestions(t *testing.T) {
	reports := map[triage.Report]bool{}
	for _, c := range triage.Codes() {
		reports[c.Report] = true
	}
	seen := map[string]bool{}
	all := slices.Concat(triage.LateQuestions(), triage.Scan("chest faint cant breathe palpitations shock slurred cough blood "+
		"coughing up blood urine heatstroke calf cold foot bladder fell hypo pregnant suicide depressed"))
	if len(all) != 10+17 {
		t.Errorf("%d questions; want 10 late and 17 of free text", len(all))
	}
	for _, q := range all {
		if seen[q.Code] || !reports[q.Report] || !strings.HasSuffix(q.Asks, "?") {
			t.Errorf("question %+v: stands twice, has no report or no question mark", q)
		}
		seen[q.Code] = true
	}
}

func TestTextOnlyAsks(t *testing.T) {
	for _, text := range []string{"chest pain, fainted, suicide", "me desmayé"} {
		a, err := triage.Assess(triage.Input{Reports: R{"muscles_sore"}, Text: text}, triage.PolicyFrom(nil))
		if err != nil || a.Level != triage.Fine || len(a.Rules) != 1 || len(a.Questions) == 0 {
			t.Errorf("%q: %s %v asks %v, %v; want fine T29 and a question", text, a.Level, a.Rules, a.Questions, err)
		}
	}
}

func TestLateQuestions(t *testing.T) {
	for _, tt := range []struct {
		source string
		hours  int
		asked  bool
		want   bool
	}{
		{practice, 23, false, false},
		{practice, 24, false, true},
		{practice, 72, false, true},
		{practice, 73, false, false},
		{practice, 48, true, false},
	} {
		if got := triage.LateQuestionsDue(tt.hours, tt.asked, triage.PolicyFrom(nil)); got != tt.want {
			t.Errorf("after %d h, asked %t: due %t; want %t", tt.hours, tt.asked, got, tt.want)
		}
	}
	for _, first := range []bool{true, false} {
		a, _ := triage.Assess(triage.Input{FirstHard: first}, triage.PolicyFrom(nil))
		if (len(a.LateQuestions) == 10) != first {
			t.Errorf("first hard session %t: %d late questions", first, len(a.LateQuestions))
		}
	}
	var levels []string
	for _, q := range triage.LateQuestions() {
		levels = append(levels, assess(t, R{q.Report}).Level.String())
	}
	want := "emergency emergency emergency stop emergency stop ease note ease ease"
	if got := strings.Join(levels, " "); got != want {
		t.Errorf("a yes to each late question is %s; want %s", got, want)
	}
}

func TestDue(t *testing.T) {
	order := []triage.Due{{Working: true}, {Days: 1, Working: true}, {Days: 2, Working: true}, {Days: 7}, {Days: 14}, {None: true}}
	for i := range order {
		for j := range order {
			if got := order[i].Before(order[j]); got != (i < j) {
				t.Errorf("%s before %s: %t; want %t", order[i], order[j], got, i < j)
			}
		}
	}
	if d := (triage.Due{Days: 1}).String(); d != "1 day" {
		t.Errorf("Due of 1 day = %q", d)
	}
	if (triage.Due{Days: 5, Working: true}).Before(triage.Due{Days: 7}) || (triage.Due{Days: 7}).Before(triage.Due{Days: 5, Working: true}) {
		t.Error("5 working days and 7 days are not the same week")
	}
}
