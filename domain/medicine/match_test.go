package medicine_test

import (
	"slices"
	"strings"
	"testing"

	"brae/domain/medicine"
)

// read writes matches as "name class", a suggestion with a question mark, and
// unknown words in brackets.
func read(r medicine.Result) string {
	var parts []string
	for _, m := range r.Matches {
		part := m.Name + " " + string(m.Class)
		if !m.Exact() {
			part += "?"
		}
		parts = append(parts, part)
	}
	for _, u := range r.Unknown {
		parts = append(parts, "["+u+"]")
	}
	return strings.Join(parts, ", ")
}

func TestMatch(t *testing.T) {
	const (
		practice = "practice setting"
		aha      = "American Heart Association, types of blood pressure medications, 2016"
		nursing  = "list of antihypertensives with their salts, nursesinghana.com"
		mcmaster = "McMaster Textbook of Internal Medicine, table of antidepressants"
		drc      = "BMJ Open Diabetes Res Care, table of glucose-lowering agents"
		uhn      = "UHN Cardiac College, antiplatelets"
		cardiac  = "cardiachealth.org, beta blockers"
		mixups   = "Institute for Safe Medication Practices, confused drug names"
	)
	for _, tt := range []struct{ source, text, want string }{
		// Published lists: the name as printed, and the group it stands under.
		{aha, "chlorthalidone", "chlortalidone DIUR_T"},
		{aha, "hydrochlorothiazide", "hydrochlorothiazide DIUR_T"},
		{aha, "HCTZ", "hydrochlorothiazide DIUR_T"},
		{aha, "indapamide", "indapamide DIUR_T"},
		{aha, "metolazone", "metolazone DIUR_T"},
		{aha, "amiloride hydrochloride", "amiloride DIUR_K"},
		{aha, "spironolactone", "spironolactone DIUR_K"},
		{aha, "triamterene", "triamterene DIUR_K"},
		{aha, "bumetanide", "bumetanide DIUR_L"},
		{aha, "Torsemide", "torasemide DIUR_L"},
		{aha, "amiloride hydrochloride + hydrochlorothiazide", "amiloride DIUR_K, hydrochlorothiazide DIUR_T"},
		{aha, "spironolactone + hydrochlorothiazide", "spironolactone DIUR_K, hydrochlorothiazide DIUR_T"},
		{aha, "triamterene + hydrochlorothiazide", "triamterene DIUR_K, hydrochlorothiazide DIUR_T"},
		{cardiac, "atenolol", "atenolol BB_CS"},
		{cardiac, "nadolol", "nadolol BB_NS"},
		{cardiac, "acebutolol", "acebutolol BB_ISA"},
		{cardiac, "pindolol", "pindolol BB_ISA"},
		{cardiac, "carvedilol", "carvedilol BB_AB"},
		{cardiac, "bisoprolol", "bisoprolol BB_CS"},
		{nursing, "Bisoprolol fumarate", "bisoprolol BB_CS"},
		{nursing, "Carteolol hydrochloride", "carteolol BB_ISA"},
		{nursing, "Metoprolol tartrate", "metoprolol BB_CS"},
		{nursing, "Metoprolol succinate", "metoprolol BB_CS"},
		{nursing, "Penbutolol sulfate", "penbutolol BB_ISA"},
		{nursing, "Propranolol hydrochloride", "propranolol BB_NS"},
		{nursing, "Timolol maleate", "timolol BB_NS"},
		{nursing, "Amlodipine besylate", "amlodipine CCB_DHP"},
		{nursing, "Diltiazem hydrochloride", "diltiazem CCB_ND"},
		{nursing, "Verapamil hydrochloride", "verapamil CCB_ND"},
		{nursing, "Benazepril hydrochloride", "benazepril ACEI"},
		{nursing, "Enalapril maleate", "enalapril ACEI"},
		{nursing, "Fosinopril sodium", "fosinopril ACEI"},
		{nursing, "Quinapril hydrochloride", "quinapril ACEI"},
		{mcmaster, "Citalopram", "citalopram SSRI"},
		{mcmaster, "Escitalopram", "escitalopram SSRI"},
		{mcmaster, "Fluoxetine", "fluoxetine SSRI"},
		{mcmaster, "Paroxetine", "paroxetine SSRI"},
		{mcmaster, "Sertraline", "sertraline SSRI"},
		{mcmaster, "Desvenlafaxine", "desvenlafaxine SNRI"},
		{mcmaster, "Duloxetine", "duloxetine SNRI"},
		{mcmaster, "Venlafaxine XR", "venlafaxine SNRI"},
		{mcmaster, "Mirtazapine", "mirtazapine OTHER_AD"},
		{mcmaster, "Bupropion", "bupropion OTHER_AD"},
		{mcmaster, "Amitriptyline", "amitriptyline TCA"},
		{mcmaster, "Imipramine", "imipramine TCA"},
		{mcmaster, "Nortriptyline", "nortriptyline TCA"},
		{drc, "Glipizide", "glipizide SU_GLIN"},
		{drc, "Glyburide", "glibenclamide SU_GLIN"},
		{drc, "Glimepiride", "glimepiride SU_GLIN"},
		{drc, "Gliclazide MR", "gliclazide SU_GLIN"},
		{drc, "Repaglinide", "repaglinide SU_GLIN"},
		{drc, "Nateglinide", "nateglinide SU_GLIN"},
		{drc, "Acarbose", "acarbose OTHER_DM"},
		{drc, "Metformin", "metformin OTHER_DM"},
		{drc, "Pioglitazone", "pioglitazone OTHER_DM"},
		{drc, "Sitagliptin", "sitagliptin OTHER_DM"},
		{uhn, "Acetylsalicylic acid", "acetylsalicylic acid ANTIPLT"},
		{uhn, "Ticagrelor", "ticagrelor ANTIPLT"},
		{uhn, "Clopidogrel", "clopidogrel ANTIPLT"},
		{uhn, "Prasugrel", "prasugrel ANTIPLT"},

		// Names that people mix up: one is never read as the other.
		{mixups, "hydralazine", "hydralazine VASOD"},
		{mixups, "hydroxyzine", "[hydroxyzine]"},
		{mixups, "hydroxyzine, hydralazine", "hydralazine VASOD, [hydroxyzine]"},
		{mixups, "clonazepam", "[clonazepam]"},
		{mixups, "clonidine", "clonidine A2_CENT"},
		{mixups, "metronidazole", "[metronidazole]"},
		{mixups, "tramadol", "[tramadol]"},
		{mixups, "trazodone", "trazodone OTHER_AD"},
		{mixups, "rosiglitazone", "[rosiglitazone]"},
		{mixups, "prednisone", "prednisone STEROID"},
		{mixups, "prednisolone", "prednisolone STEROID"},

		// Case, accents, doses, forms.
		{practice, "Metoprolol succinate 50 mg", "metoprolol BB_CS"},
		{practice, "METOPROLOL 50MG", "metoprolol BB_CS"},
		{practice, "métoprolòl", "metoprolol BB_CS"},
		{practice, "me\u0301toprolol", "metoprolol BB_CS"},
		{practice, "I take metoprolol XL 47.5 mg, one tablet each morning", "metoprolol BB_CS"},
		{practice, "metoprolol 2 x 50 mg", "metoprolol BB_CS"},
		{practice, "Tab. metoprolol 47,5 mg", "metoprolol BB_CS"},
		{practice, "levothyroxine 75 µg", "levothyroxine sodium THYROID"},
		{practice, "insulin glargine 20 IU at night", "insulin glargine INSULIN"},
		{practice, "tomo metoprolol 50 mg cada noche", "metoprolol BB_CS"},
		{practice, "metoprolol\namlodipine; aspirin", "metoprolol BB_CS, amlodipine CCB_DHP, acetylsalicylic acid ANTIPLT"},
		{practice, "metoprolol 50 mg, metoprolol 25 mg", "metoprolol BB_CS"},
		{practice, "metoprolol aspirin", "metoprolol BB_CS, acetylsalicylic acid ANTIPLT"},
		{practice, "", ""},
		{practice, "50 mg twice daily", ""},
		{practice, ",5 mg", ""},
		{practice, "metoprolol .5", "metoprolol BB_CS"},
		{practice, "metoprolol 2tablets", "metoprolol BB_CS"},
		{practice, "5sodium", "[5sodium]"},

		// Salts are dropped beside a name; a mineral by itself is a medicine.
		{practice, "olmesartan medoxomil", "olmesartan medoxomil ARB"},
		{practice, "losartan potassium 50 mg", "losartan ARB"},
		{practice, "sodium levothyroxine", "levothyroxine sodium THYROID"},
		{practice, "atorvastatin calcium", "atorvastatin STATIN"},
		{practice, "amlodipine mesilate", "amlodipine CCB_DHP"},
		{practice, "amlodipine besilate", "amlodipine CCB_DHP"},
		{practice, "dabigatran", "dabigatran etexilate ANTICOAG"},
		{practice, "naproxen sodium", "[naproxen sodium]"},
		{practice, "atenolol tartrate calcium sodium", "atenolol BB_CS"},
		{practice, "potassium", "[potassium]"},
		{practice, "potassium chloride 600 mg", "[potassium chloride]"},
		{practice, "fumarate", "[fumarate]"},
		{practice, "atenolol xyzzolol tartrate", "atenolol BB_CS, [xyzzolol tartrate]"},
		{practice, "ferrous fumarate", "[ferrous fumarate]"},
		{practice, "amlodipine 5 mg potassium chloride", "amlodipine CCB_DHP, [potassium chloride]"},

		// Nitrates keep the half of the name that tells them apart.
		{practice, "isosorbide mononitrate", "isosorbide mononitrate NITRATE"},
		{practice, "isosorbide-5-mononitrate 20 mg", "isosorbide mononitrate NITRATE"},
		{practice, "isosorbide dinitrate", "isosorbide dinitrate NITRATE"},
		{practice, "isosorbide", "isosorbide dinitrate NITRATE?, isosorbide mononitrate NITRATE?"},
		{practice, "isosorbide mononitrat", "isosorbide mononitrate NITRATE?"},
		{practice, "GTN spray", "glyceryl trinitrate NITRATE"},

		// Combinations; the longest name first.
		{practice, "bisoprolol/hydrochlorothiazide", "bisoprolol BB_CS, hydrochlorothiazide DIUR_T"},
		{practice, "bisoprolol-HCT", "bisoprolol BB_CS, hydrochlorothiazide DIUR_T"},
		{practice, "perindopril with indapamide", "perindopril ACEI, indapamide DIUR_T"},
		{practice, "amlodipine & valsartan", "amlodipine CCB_DHP, valsartan ARB"},
		{practice, "empagliflozin and metformin", "empagliflozin SGLT2, metformin OTHER_DM"},
		{practice, "sacubitril 24 mg/valsartan 26 mg", "valsartan and sacubitril ARNI"},
		{practice, "valsartan and sacubitril", "valsartan and sacubitril ARNI"},
		{practice, "sacubitril", "valsartan and sacubitril ARNI?"},
		{practice, "valsartan", "valsartan ARB"},
		{practice, "insulin", "insulin INSULIN"},
		{practice, "human insulin", "insulin (human) INSULIN"},
		{practice, "insulin detemir", "insulin INSULIN, [detemir]"},
		{practice, "aspart", "insulin aspart INSULIN?"},
		{practice, "glargine", "insulin glargine INSULIN?"},
		{practice, "folic acid", "[folic acid]"},

		// One slip is suggested, in long enough words only; two are not.
		{practice, "metoprlol 25", "metoprolol BB_CS?"},
		{practice, "metoprolool", "metoprolol BB_CS?"},
		{practice, "metaprolol", "metoprolol BB_CS?"},
		{practice, "metorpolol", "metoprolol BB_CS?"},
		{practice, "meto prolol", "metoprolol BB_CS?"},
		{practice, "metoabprolol", "[metoabprolol]"},
		{practice, "metopr", "[metopr]"},
		{practice, "mteorpolol", "[mteorpolol]"},
		{practice, "GTM", "[GTM]"},
		{practice, "hctx", "[hctx]"},
		{practice, "amlodipino 5 mg", "amlodipine CCB_DHP?"},

		// Unknown is kept as typed.
		{practice, "xyzzolol 10", "[xyzzolol]"},
		{practice, "Xyzzolol Tartrate 10 mg", "[Xyzzolol Tartrate]"},
		{practice, "milk thistle", "[milk thistle]"},
		{practice, "co-codamol 30/500", "[co-codamol]"},
		{practice, "abcdol/efgol", "[abcdol], [efgol]"},
		{practice, "beta-blocker", "[beta-blocker]"},
		{practice, "eye drops", "[eye drops]"},
		{practice, "vitamin d3", "[vitamin d3]"},
		{practice, "no metoprolol", "metoprolol BB_CS, [no]"},
		{practice, "метопролол", "[метопролол]"},

		// Eye drops and tablets.
		{practice, "timolol eye drops", "timolol BB_EYE"},
		{practice, "timolol 0.5% ophthalmic solution", "timolol BB_EYE"},
		{practice, "colirio de timolol", "timolol BB_EYE"},
		{practice, "timolol 2tablets", "timolol BB_NS"},
		{practice, "timolol/", "timolol BB_NS"},
		{practice, "timolol 10 mg tablets", "timolol BB_NS"},
		{practice, "timolol", "timolol BB_NS"},
		{practice, "timolol eye drops tablets", "timolol BB_NS"},
		{practice, "betaxolol drops", "betaxolol BB_EYE"},
		{practice, "betaxolol", "betaxolol BB_CS"},
		{practice, "carteolol eye drops", "carteolol BB_EYE"},
		{practice, "carteolol tablets", "carteolol BB_ISA"},
		{practice, "levobunolol", "levobunolol BB_EYE"},
		{practice, "dorzolamide/timolol eye drops", "timolol BB_EYE, [dorzolamide]"},
		{practice, "timolol/dorzolamide eye drops", "timolol BB_EYE, [dorzolamide]"},
		{practice, "timolol-dorzolamide eye drops", "timolol BB_EYE, [dorzolamide]"},
		{practice, "timolol and dorzolamide eye drops", "timolol BB_NS, [dorzolamide]"},
		{practice, "timolol tablets and latanoprost eye drops", "timolol BB_NS, [latanoprost]"},
		{practice, "timolol tablets/latanoprost eye drops", "timolol BB_NS, [latanoprost]"},
		{practice, "timolol, latanoprost eye drops", "timolol BB_NS, [latanoprost eye drops]"},
		{practice, "atenolol eye drops", "atenolol BB_CS"},
	} {
		t.Run(tt.source+"/"+tt.text, func(t *testing.T) {
			if got := read(medicine.Match(tt.text)); got != tt.want {
				t.Errorf("Match(%q) = %s; want %s", tt.text, got, tt.want)
			}
		})
	}
}

func TestMatchZones(t *testing.T) {
	const practice = "practice setting"
	for _, tt := range []struct {
		source, text string
		zones        string
		untilSettled string // when suggestions count
		strictest    medicine.ZoneCode
		predicted    bool
		settled      bool
	}{
		{"WHO ATC/DDD index; HealthLink BC", "Metoprolol succinate 50 mg", "Z1", "Z1", "Z1", false, true},
		{practice, "labetalol", "Z1+Z4", "Z1+Z4", "Z1", false, true},
		{practice, "bisoprolol and hydrochlorothiazide", "Z1+Z4", "Z1+Z4", "Z1", false, true},
		{practice, "amlodipine", "Z4", "Z4", "Z4", true, true},
		{practice, "amlodipine, salbutamol", "Z2+Z4", "Z2+Z4", "Z2", true, true},
		{practice, "empagliflozin", "Z4+Z5", "Z4+Z5", "Z4", true, true},
		{practice, "metformin, insulin", "Z0+Z5", "Z0+Z5", "Z0", true, true},
		{practice, "warfarin, atorvastatin", "Z6", "Z6", "Z0", true, true},
		{practice, "sertraline", "Z0", "Z0", "Z0", true, true},
		{practice, "flecainide", "Z2", "Z2", "Z2", true, true},
		{"from memory: propafenone blocks beta receptors a little", "propafenone", "Z1+Z2", "Z1+Z2", "Z1", false, true},
		{practice, "metoprlol", "Z0", "Z1", "Z0", true, false},
		{practice, "xyzzolol 10", "Z0", "Z0", "Z0", true, false},
		{practice, "timolol eye drops", "Z2", "Z2", "Z2", true, true},
		{practice, "timolol tablets", "Z1", "Z1", "Z1", false, true},
		{practice, "timolol", "Z1", "Z1", "Z1", false, false},
		{practice, "", "Z0", "Z0", "Z0", true, true},
	} {
		t.Run(tt.source+"/"+tt.text, func(t *testing.T) {
			r := medicine.Match(tt.text)
			z := r.Zones()
			if z.String() != tt.zones || z.Strictest() != tt.strictest || z.PredictionValid() != tt.predicted {
				t.Errorf("zones %s, strictest %s, prediction %t; want %s, %s, %t",
					z, z.Strictest(), z.PredictionValid(), tt.zones, tt.strictest, tt.predicted)
			}
			if got := r.ZonesUntilConfirmed().String(); got != tt.untilSettled {
				t.Errorf("until confirmed %s; want %s", got, tt.untilSettled)
			}
			if r.Settled() != tt.settled {
				t.Errorf("settled %t; want %t", r.Settled(), tt.settled)
			}
			if !z.HeartRateValid() {
				t.Error("no heart rate may be used; want one measured on the medicine")
			}
		})
	}
}

// A maximum measured on a beta-blocker is used, a predicted one is not; in an
// irregular rhythm neither is.
func TestBetaBlockerAndRhythm(t *testing.T) {
	z := medicine.Match("metoprolol").Zones()
	if z.PredictionValid() || !z.HeartRateValid() {
		t.Errorf("metoprolol: prediction %t, heart rate %t; want false, true", z.PredictionValid(), z.HeartRateValid())
	}
	for _, name := range []string{"warfarin", "digoxin", "sertraline", "metoprolol"} {
		irregular := medicine.Match(name).Zones().WithIrregularPulse()
		if irregular.Strictest() != "Z3" || irregular.HeartRateValid() || irregular.PredictionValid() {
			t.Errorf("%s with an irregular pulse: %s; want Z3 and no heart rate", name, irregular)
		}
	}
}

func TestTaking(t *testing.T) {
	r := medicine.Match("warfarin, metoprlol")
	if !r.Taking(medicine.Anticoagulant) {
		t.Error("warfarin is not taken for an anticoagulant")
	}
	if r.Taking(medicine.BetaSelective) {
		t.Error("a suggestion is taken for a medicine")
	}
	if got := r.Exact(); len(got) != 1 || got[0].Name != "warfarin" {
		t.Errorf("Exact() = %v; want warfarin", got)
	}
	if len(r.Matches) != 2 {
		t.Errorf("Exact() changed the matches: %v", r.Matches)
	}
}

func TestTyped(t *testing.T) {
	for _, tt := range []struct{ source, text, typed string }{
		{"practice setting", "50 mg Metoprolol daily", "Metoprolol"},
		{"practice setting", "Isosorbide-5-Mononitrate", "Isosorbide-5-Mononitrate"},
		{"practice setting", "METOPRLOL 5", "METOPRLOL"},
		{"practice setting", "sacubitril 24 mg/valsartan 26 mg", "sacubitril 24 mg/valsartan"},
	} {
		if got := medicine.Match(tt.text).Matches[0].Typed; got != tt.typed {
			t.Errorf("Match(%q) typed %q; want %q", tt.text, got, tt.typed)
		}
	}
}

func TestAskRoute(t *testing.T) {
	for _, tt := range []struct {
		source, text string
		want         bool
	}{
		{"from memory: timolol is sold as both", "timolol", true},
		{"from memory", "timolol tablets", false},
		{"from memory", "timolol 2tablets", false},
		{"from memory", "timolol eye drops", false},
		{"practice setting", "timolol eye drops tablets", true},
		{"from memory", "metoprolol", false},
		{"from memory", "levobunolol", false},
	} {
		if got := medicine.Match(tt.text).Matches[0].AskRoute; got != tt.want {
			t.Errorf("Match(%q) asks for the route: %t; want %t", tt.text, got, tt.want)
		}
	}
}

func TestAliases(t *testing.T) {
	aliases := medicine.Aliases{
		"Inventol":      "metoprolol",
		"Inventol Plus": "metoprolol and hydrochlorothiazide",
		"Ojoclar":       "timolol eye drops",
		"Nostrum":       "xyzzolol",
		"Atenolol":      "metoprolol",
		"Atenolol Plus": "metoprolol",
		"Tensol HCT":    "losartan and hydrochlorothiazide",
		"Card-O":        "amlodipine",
		"Pan y Sal":     "ramipril",
	}
	for _, tt := range []struct{ source, text, want string }{
		{"practice setting", "INVENTOL 50 mg", "metoprolol BB_CS"},
		{"practice setting", "Inventol Plus", "metoprolol BB_CS, hydrochlorothiazide DIUR_T"},
		{"practice setting", "Inventol 50 mg plus aspirin", "metoprolol BB_CS, acetylsalicylic acid ANTIPLT"},
		{"practice setting", "aspirin/inventol", "acetylsalicylic acid ANTIPLT, metoprolol BB_CS"},
		{"practice setting", "card o", "amlodipine CCB_DHP"},
		{"practice setting", "pan y sal", "ramipril ACEI"},
		{"practice setting", "pan sal", "[pan sal]"},
		{"practice setting", "tensol hct 50/12.5", "losartan ARB, hydrochlorothiazide DIUR_T"},
		{"practice setting: a generic name in it", "atenolol plus", "atenolol BB_CS"},
		{"practice setting", "ojoclar", "timolol BB_EYE"},
		{"practice setting: contents that are not known", "Nostrum", "[Nostrum]"},
		{"practice setting: a generic name stays itself", "atenolol", "atenolol BB_CS"},
		{"practice setting: no slips of aliases", "Inventrol", "[Inventrol]"},
	} {
		t.Run(tt.source+"/"+tt.text, func(t *testing.T) {
			if got := read(aliases.Match(tt.text)); got != tt.want {
				t.Errorf("Match(%q) = %s; want %s", tt.text, got, tt.want)
			}
		})
	}
}

func TestAliasesCheck(t *testing.T) {
	err := medicine.Aliases{"Inventol": "metoprolol", "Ojoclar": "timolol eye drops"}.Check()
	if err != nil {
		t.Errorf("Check() = %v; want nil", err)
	}
	for _, tt := range []struct {
		source  string
		aliases medicine.Aliases
		field   string
	}{
		{"a generic name", medicine.Aliases{"Atenolol": "metoprolol"}, "Atenolol"},
		{"a generic name in it", medicine.Aliases{"Atenolol Plus": "metoprolol"}, "Atenolol Plus"},
		{"no letters", medicine.Aliases{"50 mg": "metoprolol"}, "50 mg"},
		{"contents not known", medicine.Aliases{"Nostrum": "xyzzolol"}, "Nostrum"},
		{"contents with a slip", medicine.Aliases{"Nostrum": "metoprlol"}, "Nostrum"},
		{"no contents", medicine.Aliases{"Nostrum": ""}, "Nostrum"},
		{"contents without a route", medicine.Aliases{"Nostrum": "timolol"}, "Nostrum"},
		{"read alike", medicine.Aliases{"Inventol": "metoprolol", "inventol": "atenolol"}, "inventol"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			err := tt.aliases.Check()
			if err == nil || !strings.Contains(err.Error(), tt.field+": ") {
				t.Errorf("Check() = %v; want a problem with %q", err, tt.field)
			}
		})
	}
}

// Of aliases that are read alike, the first by spelling counts, every time.
func TestAliasesAreDeterministic(t *testing.T) {
	aliases := medicine.Aliases{"INVENTOL": "metoprolol", "Inventol": "atenolol", "inventol": "nadolol"}
	for range 20 {
		if got := read(aliases.Match("inventol")); got != "metoprolol BB_CS" {
			t.Fatalf("Match = %s; want metoprolol", got)
		}
	}
}

func TestStrictest(t *testing.T) {
	for _, tt := range []struct {
		source string
		codes  []medicine.ZoneCode
		want   medicine.ZoneCode
		ok     bool
	}{
		{"practice setting", []medicine.ZoneCode{"Z0", "Z4"}, "Z4", true},
		{"practice setting", []medicine.ZoneCode{"Z4", "Z2"}, "Z2", true},
		{"practice setting", []medicine.ZoneCode{"Z2", "Z1"}, "Z1", true},
		{"practice setting", []medicine.ZoneCode{"Z1", "Z3", "Z0"}, "Z3", true},
		{"practice setting", []medicine.ZoneCode{"Z5", "Z6"}, "Z0", true},
		{"practice setting", []medicine.ZoneCode{"Z6", "Z4"}, "Z4", true},
		{"practice setting", nil, "Z0", true},
		{"practice setting", []medicine.ZoneCode{"Z7"}, "Z3", false},
		{"practice setting", []medicine.ZoneCode{"Z1", ""}, "Z3", false},
	} {
		got, err := medicine.Strictest(tt.codes...)
		if got != tt.want || (err == nil) != tt.ok {
			t.Errorf("Strictest(%v) = %s, %v; want %s, ok %t", tt.codes, got, err, tt.want, tt.ok)
		}
	}
}

func TestZonesText(t *testing.T) {
	z := medicine.Match("labetalol, insulin, warfarin").Zones()
	text, err := z.MarshalText()
	if err != nil || string(text) != "Z1+Z4+Z5+Z6" {
		t.Errorf("MarshalText = %q, %v; want Z1+Z4+Z5+Z6", text, err)
	}
	if got := z.Codes(); !slices.Equal(got, []medicine.ZoneCode{"Z1", "Z4", "Z5", "Z6"}) {
		t.Errorf("Codes = %v", got)
	}
	if !z.Has("Z4") || z.Has("Z3") || z.Has("Z9") {
		t.Errorf("Has: Z4 %t, Z3 %t, Z9 %t; want true, false, false", z.Has("Z4"), z.Has("Z3"), z.Has("Z9"))
	}
}
