package triage

import (
	"slices"
	"strings"

	"brae/domain/medicine"
)

// Question is something a client is asked. A yes is the report, where there is
// one; the answer is then sorted like any other.
type Question struct {
	Code   string
	Asks   string
	Report Report // what a yes means; empty if the answer is a reading
}

// redWords is words in free text that make the app ask, in English and Spanish.
// A word that ends in a star stands for every word that begins so. They add a
// question and nothing else, so that a word can be on the list without being
// alarming each time.
//
// Practice rule: practice.
var redWords = []struct {
	Question
	words string // separated by commas; a phrase must stand together
}{
	{Question{"ask_chest", "Did you have pressure, tightness or pain in your chest, jaw, neck, back or arm?", "chest_pressure_now"},
		"chest, angina, heart attack, tight jaw, jaw pain, jaw hurt*, arm pain, pain in my arm, left arm, heart pain, spray, nitro*, " +
			"pecho, toracic*, infarto, mandibula, brazo izquierdo, dolor de brazo, dolor en el brazo, corazon"},
	{Question{"ask_faint", "Did you faint or pass out?", "fainted"},
		"faint*, passed out, pass out, black out, blacked out, blackout, collaps*, unconscious, lost consciousness, came round, " +
			"desmay*, perdi el conocimiento, inconsciente, colapso, me cai redond*, sincope"},
	{Question{"ask_breath", "Are you short of breath at rest, or too breathless to speak?", "breathless_at_rest"},
		"cant breathe, cannot breathe, can not breathe, couldnt breathe, could not breathe, hard to breathe, breathless at rest, " +
			"short of breath, gasping, choking, suffocat*, blue lips, " +
			"no puedo respirar, no podia respirar, falta de aire, sin aire, me ahog*, ahogo, asfixi*, labios azules"},
	{Question{"ask_heartbeat", "Was your heart racing or uneven?", "palpitations_new"},
		"palpitation*, heart racing, racing heart, heart pounding, flutter*, irregular heart*, skipped beat*, " +
			"palpitacion*, taquicardia, latidos irregulares, corazon acelerado"},
	{Question{"ask_shock", "Did your heart device give you a shock?", "shock_unwell"},
		"shock*, icd, defibrillator, zapped, descarga*, desfibrilador"},
	{Question{"ask_stroke", "Were your face, arm or leg weak or numb, or your speech or sight lost, even if it passed?", "weak_face_arm_leg"},
		"slur*, droop*, numb*, stroke, cant speak, couldnt speak, could not speak, lost my speech, double vision, cant see, couldnt see, " +
			"lost my sight, lost vision, went blind, confus*, one side weak, weak arm, weak leg, tia, worst headache, thunderclap, " +
			"ictus, derrame, cara caida, boca torcida, no podia hablar, no puedo hablar, habla rara, arrastraba las palabras, " +
			"entumecid*, adormecid*, vision doble, no veia, perdi la vision, perdi la vista, peor dolor de cabeza"},
	{Question{"ask_froth", "Did you cough up blood or pink froth?", "pink_froth"},
		"cough* blood, coughing up blood, blood when i cough, pink froth, pink foam, bloody, " +
			"sangre al toser, tosi sangre, tos con sangre, espuma rosa*, flema rosa*"},
	{Question{"ask_urine", "Was your urine dark, like cola?", "dark_urine"},
		"dark urine, brown urine, red urine, cola, dark pee, brown pee, urine, pee, " +
			"orina oscura, orina marron, orina roja, orina, coca cola, pis oscuro"},
	{Question{"ask_heat", "Were you confused, very hot or close to collapse in the heat?", "heat_illness"},
		"heat stroke, heatstroke, overheat*, sunstroke, golpe de calor, insolacion"},
	{Question{"ask_calf", "Is one calf painful and swollen or red?", "calf_swollen"},
		"calf, clot, leg swollen, swollen leg, pantorrilla, coagulo, trombo*, pierna hinchada"},
	{Question{"ask_foot", "Does a foot hurt at rest, or is it cold, white or blue?", "foot_pain_at_rest"},
		"cold foot, blue foot, white foot, foot is cold, foot is blue, pie frio, pie azul, pie blanco, pie morado"},
	{Question{"ask_back", "Are you numb between the legs, or have you new trouble with bladder or bowel?", "back_pain_numb"},
		"saddle, wet myself, bladder, bowel, incontinen*, vejiga, esfinter*, silla de montar"},
	{Question{"ask_fall", "Did you fall and hit your head?", "fall_head_hit"},
		"fell, fall, hit my head, bumped my head, tripped, me cai, caida, golpe en la cabeza, golpee la cabeza"},
	{Question{"ask_sugar", "Was your sugar so low that you needed help?", "low_sugar_helped"},
		"hypo, hypos, low sugar, sugar low, hypoglyc*, hipo, azucar baja, azucar bajo, hipogluc*, bajon de azucar"},
	{Question{"ask_pregnancy", "Are you pregnant and bleeding or losing fluid?", "pregnancy_bleeding"},
		"waters broke, bleeding, pregnan*, sangrado, sangrando, rompi aguas, embaraz*"},
	{Question{"ask_harm", "Do you think about harming yourself?", selfHarm},
		"suicid*, kill myself, end my life, end it all, harm myself, hurt myself, self harm, want to die, better off dead, no point living, " +
			"matarme, quitarme la vida, hacerme dano, quiero morir*, no quiero vivir, acabar con todo"},
	{Question{"ask_mood", "Do you feel depressed?", lowMood},
		"depress*, hopeless, despair, deprimid*, depresion, sin esperanza, desesperad*"},
}

// redPhrases is the phrases of each group of red words, word by word.
var redPhrases = func() [][][]string {
	groups := make([][][]string, len(redWords))
	for i, group := range redWords {
		for phrase := range strings.SplitSeq(group.words, ",") {
			groups[i] = append(groups[i], strings.Fields(phrase))
		}
	}
	return groups
}()

// Scan returns a question for each group of red words that the text has. It
// looks for both languages whatever the client's is, and takes a word for a
// word even after "no": to ask once too often costs little.
//
// Practice rule: practice.
func Scan(text string) []Question {
	said := wordsOf(text)
	var ask []Question
	for i, phrases := range redPhrases {
		if slices.ContainsFunc(phrases, func(phrase []string) bool { return has(said, phrase) }) {
			ask = append(ask, redWords[i].Question)
		}
	}
	return ask
}

// wordsOf is the words of a text, folded; apostrophes are left out of words.
func wordsOf(text string) []string {
	folded := strings.NewReplacer("'", "", "’", "").Replace(medicine.Fold(text))
	return strings.FieldsFunc(folded, func(r rune) bool {
		return r < 'a' || r > 'z'
	})
}

// has reports whether the phrase stands in the text.
func has(said, phrase []string) bool {
	for i := 0; i+len(phrase) <= len(said); i++ {
		if slices.EqualFunc(said[i:i+len(phrase)], phrase, func(word, pattern string) bool {
			stem, open := strings.CutSuffix(pattern, "*")
			return word == stem || open && strings.HasPrefix(word, stem)
		}) {
			return true
		}
	}
	return false
}

// LateQuestions returns what is asked once after a first hard session, since
// some harm shows only then.
//
// Practice rule: practice.
func LateQuestions() []Question {
	return []Question{
		{"late_urine", "Since then: was your urine dark, like cola?", "dark_urine"},
		{"late_chest", "Since then: any pressure, tightness or pain in your chest, jaw, neck, back or arm?", "chest_pressure_now"},
		{"late_faint", "Since then: did you faint or pass out?", "fainted"},
		{"late_breath", "Since then: were you short of breath lying flat, or at night?", breathLying},
		{"late_breath_rest", "Are you short of breath at rest?", "breathless_at_rest"},
		{"late_calf", "Since then: is one calf swollen and painful or red?", "calf_swollen"},
		{"late_swelling", "Since then: are both ankles newly swollen?", "ankles_swollen"},
		{"late_weight", "Since then: did your weight go up more than your limit?", "weight_gain"},
		{"late_tired", "Since then: were you so tired that everyday tasks became harder?", "daily_tasks_harder"},
		{"late_pain", "Did any joint hurt more the next morning?", "joint_pain_bad"},
	}
}

// LateQuestionsDue reports whether the late questions are asked now: once, from
// 24 to 72 hours after a first hard session, both ends included. The hours are
// counted from the end of the session.
//
// Practice rule: practice.
func LateQuestionsDue(hours int, asked bool, p Policy) bool {
	return !asked && p.LateFrom <= hours && hours <= p.LateTo
}
