package medicine

import "slices"

// Hint is a disease that a medicine points to. If the client has not declared
// it, the two answers are in conflict until a practitioner has asked.
type Hint struct {
	Code   string   // the disease, in a word of ours: diabetes, heart_failure
	Names  []string // the medicines that point to it, in the order of the text
	Asks   string   // what the practitioner asks
	Blocks bool     // a denied one leaves the screening incomplete until it is explained
}

// hints is what each class points to. A class may point to several diseases: it
// is enough to declare one of them.
var hints = []struct {
	code    string
	asks    string
	blocks  bool
	classes []Class
}{
	{"diabetes", "Diabetes? Metformin is also given for prediabetes and polycystic ovaries.", true,
		[]Class{Insulin, InsulinReleasing, OtherDiabetes}},
	{"diabetes_heart_or_kidney", "Is it given for diabetes, heart failure or kidney disease?", true,
		[]Class{SGLT2Inhibitor}},
	{"heart_failure", "Heart failure? Water tablets of this kind are also given for kidney disease.", true,
		[]Class{Neprilysin, SinusSlowing, DiureticLoop}},
	{"coronary_disease", "Coronary disease, a stent, or a stroke?", true,
		[]Class{Nitrate, Antianginal, Antiplatelet}},
	{"atrial_fibrillation_or_clot", "Atrial fibrillation, or a clot?", true,
		[]Class{Anticoagulant}},
	{"pulmonary_hypertension", "Pulmonary hypertension, or heart failure?", true,
		[]Class{PulmonaryPressure}},
	{"peripheral_artery_disease", "Narrowed leg arteries?", true,
		[]Class{LegArtery}},
	{"hypertrophic_cardiomyopathy", "Hypertrophic cardiomyopathy?", true,
		[]Class{MyosinInhibitor}},
	{"overactive_thyroid", "An over-active thyroid, and is it controlled?", false,
		[]Class{Antithyroid}},
	{"rate_slowing", "What is the beta-blocker or heart-slowing medicine taken for?", false,
		[]Class{BetaSelective, BetaNonSelective, BetaPartialAgonist, AlphaBeta, BetaRhythm, CalciumRateSlowing, Digitalis}},
}

// Hints returns the diseases that the exact matches point to, in a fixed order.
//
// Source: medicine_memory.
//
// Practice rule: practice.
func Hints(matches []Found) []Hint {
	var all []Hint
	for _, h := range hints {
		var from []string
		for _, f := range matches {
			if f.Exact() && slices.Contains(h.classes, f.Class) && !slices.Contains(from, f.Name) {
				from = append(from, f.Name)
			}
		}
		if from != nil {
			all = append(all, Hint{h.code, from, h.asks, h.blocks})
		}
	}
	return all
}

// Clash is two medicines of which one should not be taken with the other. The
// practitioner passes it on to the prescriber, and advises nothing.
type Clash struct {
	Names []string
	Says  string
}

// Clashes returns the pairs of nitrates, or of what acts like one, and PDE5
// inhibitors among the exact matches.
//
// Source: medicine_memory.
func Clashes(matches []Found) []Clash {
	var all []Clash
	for _, n := range matches {
		for _, p := range matches {
			if n.Exact() && p.Exact() && p.Class == PDE5Inhibitor && actsLikeNitrate(n) {
				all = append(all, Clash{[]string{n.Name, p.Name},
					"Blood pressure can fall dangerously when both are taken. Tell the prescriber today."})
			}
		}
	}
	return all
}

func actsLikeNitrate(f Found) bool {
	return f.Class == Nitrate || f.Class == Antianginal && f.Name != "ranolazine"
}

// HintCodes returns the codes of all hints, in their order.
func HintCodes() []string {
	codes := make([]string, len(hints))
	for i, h := range hints {
		codes[i] = h.code
	}
	return codes
}
