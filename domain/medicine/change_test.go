package medicine_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/domain/medicine"
)

func TestAfterChange(t *testing.T) {
	heart := medicine.Stale{RestingHR: true, MeasuredMax: true, TalkTestOnly: true, ReviewHR: true}
	sugar := medicine.Stale{ReviewSugar: true}
	for _, tt := range []struct {
		source, name string
		kind         medicine.Kind
		want         medicine.Stale
	}{
		{"practice setting: Z1", "atenolol", medicine.Started, heart},
		{"practice setting: Z1", "atenolol", medicine.Stopped, heart},
		{"practice setting: Z1", "atenolol", medicine.DoseChanged, heart},
		{"practice setting: Z1+Z4", "carvedilol", medicine.DoseChanged, heart},
		{"practice setting: Z2", "levothyroxine", medicine.DoseChanged, heart},
		{"practice setting: Z2", "timolol eye drops", medicine.Started, heart},
		{"practice setting: Z2+Z4", "clonidine", medicine.Stopped, heart},
		{"HealthLink BC: statins do not touch heart rate", "atorvastatin", medicine.Started, medicine.Stale{}},
		{"HealthLink BC: ACE inhibitors do not", "ramipril", medicine.Started, medicine.Stale{}},
		{"practice setting: Z0", "sertraline", medicine.Started, medicine.Stale{}},
		{"practice setting: Z6", "warfarin", medicine.Started, medicine.Stale{}},
		{"practice setting: new insulin", "insulin glargine", medicine.Started, sugar},
		{"practice setting: new insulin-releasing tablet", "gliclazide", medicine.Started, sugar},
		{"practice setting: only when new", "insulin glargine", medicine.DoseChanged, medicine.Stale{}},
		{"practice setting: only when new", "gliclazide", medicine.Stopped, medicine.Stale{}},
		{"practice setting: Z5 without low sugar", "empagliflozin", medicine.Started, medicine.Stale{}},
	} {
		t.Run(tt.source+"/"+string(tt.kind)+" "+tt.name, func(t *testing.T) {
			got, err := medicine.AfterChange(tt.kind, medicine.Match(tt.name).Matches[0])
			if err != nil || got != tt.want {
				t.Errorf("AfterChange(%s, %s) = %+v, %v; want %+v", tt.kind, tt.name, got, err, tt.want)
			}
			if got.Any() != (tt.want != medicine.Stale{}) {
				t.Errorf("Any() = %t for %+v", got.Any(), got)
			}
		})
	}
}

func TestAfterChangeRefuses(t *testing.T) {
	for _, tt := range []struct {
		source, field, name string
		kind                medicine.Kind
	}{
		{"a suggestion", "name", "metoprlol", medicine.Started},
		{"a kind that does not exist", "kind", "metoprolol", "paused"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := medicine.AfterChange(tt.kind, medicine.Match(tt.name).Matches[0])
			var p domain.Problems
			if !errors.As(err, &p) || p[tt.field] == "" || got.Any() {
				t.Errorf("AfterChange = %+v, %v; want nothing and a problem with %s", got, err, tt.field)
			}
		})
	}
}

func TestHints(t *testing.T) {
	for _, tt := range []struct {
		source, name, want string
		blocks             bool
	}{
		{"practice setting", "insulin lispro", "diabetes", true},
		{"practice setting", "glimepiride", "diabetes", true},
		{"practice setting: metformin against \"no diabetes\"", "metformin", "diabetes", true},
		{"practice setting: three diseases", "dapagliflozin", "diabetes_heart_or_kidney", true},
		{"from memory: also given for weight", "semaglutide", "", false},
		{"practice setting", "sacubitril-valsartan", "heart_failure", true},
		{"practice setting", "ivabradine", "heart_failure", true},
		{"practice setting", "furosemide", "heart_failure", true},
		{"practice setting", "isosorbide mononitrate", "coronary_disease", true},
		{"practice setting", "ranolazine", "coronary_disease", true},
		{"practice setting", "clopidogrel", "coronary_disease", true},
		{"practice setting", "warfarin", "atrial_fibrillation_or_clot", true},
		{"practice setting", "bosentan", "pulmonary_hypertension", true},
		{"practice setting", "cilostazol", "peripheral_artery_disease", true},
		{"from memory", "mavacamten", "hypertrophic_cardiomyopathy", true},
		{"from memory: not a disease that decides the screening", "carbimazole", "overactive_thyroid", false},
		{"practice setting: given for many things, so it only asks", "bisoprolol", "rate_slowing", false},
		{"practice setting", "verapamil", "rate_slowing", false},
		{"practice setting: high blood pressure is no known disease", "amlodipine", "", false},
		{"practice setting", "atorvastatin", "", false},
		{"practice setting: a suggestion hints at nothing", "warfrin", "", false},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			got := medicine.Hints(medicine.Match(tt.name).Matches)
			if tt.want == "" {
				if len(got) != 0 {
					t.Errorf("Hints(%s) = %+v; want none", tt.name, got)
				}
				return
			}
			if len(got) != 1 || got[0].Code != tt.want || got[0].Blocks != tt.blocks || got[0].Asks == "" || len(got[0].Names) != 1 {
				t.Errorf("Hints(%s) = %+v; want %s, blocks %t", tt.name, got, tt.want, tt.blocks)
			}
		})
	}
	got := medicine.Hints(medicine.Match("warfarin, aspirin, clopidogrel, metformin").Matches)
	if len(got) != 3 || got[0].Code != "diabetes" || len(got[1].Names) != 2 {
		t.Errorf("Hints of four medicines = %+v; want diabetes, coronary disease from two, atrial fibrillation", got)
	}
}

func TestClashes(t *testing.T) {
	for _, tt := range []struct {
		source, text string
		want         int
	}{
		{"from memory", "isosorbide mononitrate, sildenafil", 1},
		{"from memory", "tadalafil, GTN spray", 1},
		{"from memory: acts like a nitrate", "nicorandil, vardenafil", 1},
		{"from memory: does not", "ranolazine, vardenafil", 0},
		{"from memory", "isosorbide mononitrate, amlodipine", 0},
		{"from memory", "sildenafil", 0},
		{"practice setting: not of a suggestion", "isosorbide mononitrate, sildenafl", 0},
		{"from memory", "GTN, isosorbide dinitrate, sildenafil", 2},
	} {
		t.Run(tt.source+"/"+tt.text, func(t *testing.T) {
			got := medicine.Clashes(medicine.Match(tt.text).Matches)
			if len(got) != tt.want {
				t.Errorf("Clashes(%q) = %+v; want %d", tt.text, got, tt.want)
			}
			for _, c := range got {
				if len(c.Names) != 2 || c.Says == "" {
					t.Errorf("Clashes(%q): %+v; want two names and a sentence", tt.text, c)
				}
			}
		})
	}
}
