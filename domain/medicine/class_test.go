package medicine_test

import (
	"strings"
	"testing"

	"brae/domain/medicine"
)

// The sources of the class table, for the names of the cases.
const (
	patientTable = "HealthLink BC, cardiac rehabilitation: medicine and exercise, table"
	recalled     = "from memory"
)

func TestClassEffects(t *testing.T) {
	for _, tt := range []struct {
		source                   string
		class                    string
		rest, exercise, pressure string
		zones                    string
	}{
		{recalled, "BB_CS", "down", "down", "down", "Z1"},
		{recalled, "BB_NS", "down", "down", "down", "Z1"},
		{recalled, "BB_ISA", "flat_or_down", "down", "down", "Z1"},
		{recalled, "BB_AB", "down", "down", "down", "Z1+Z4"},
		{recalled, "BB_III", "down", "down", "down", "Z1"},
		{recalled, "BB_EYE", "flat_or_down", "flat_or_down", "flat", "Z2"},
		{recalled, "CCB_ND", "down", "down", "down", "Z1"},
		{recalled, "CCB_DHP", "flat_or_up", "flat_or_up", "down", "Z4"},
		{recalled, "IF_INH", "down", "down", "flat", "Z1"},
		{recalled, "DIGIT", "down", "flat_or_down", "flat", "Z2"},
		{recalled, "AA_III", "down", "down", "flat", "Z1"},
		{recalled, "AA_IC", "flat", "flat", "flat", "Z2"},
		{recalled, "AA_I_OTHER", "flat_or_up", "flat", "flat", "Z2"},
		{recalled, "ANTIANG", "flat", "flat", "flat_or_down", "Z4"},
		{recalled, "MYOSIN", "flat", "flat", "flat", "Z0"},
		{recalled, "NITRATE", "up", "flat_or_up", "down", "Z4"},
		{recalled, "VASOD", "up", "up", "down", "Z2+Z4"},
		{recalled, "ACEI", "flat", "flat", "down", "Z4"},
		{recalled, "ARB", "flat", "flat", "down", "Z4"},
		{recalled, "ARNI", "flat", "flat", "down", "Z4"},
		{recalled, "DRI", "flat", "flat", "down", "Z4"},
		{recalled, "DIUR_T", "flat", "flat", "down", "Z4"},
		{recalled, "DIUR_L", "flat", "flat", "down", "Z4"},
		{recalled, "DIUR_K", "flat", "flat", "down", "Z4"},
		{recalled, "A2_CENT", "down", "down", "down", "Z2+Z4"},
		{recalled, "A1_BLK", "flat_or_up", "flat", "down", "Z4"},
		{recalled, "BETA2", "flat_or_up", "flat_or_up", "flat", "Z2"},
		{recalled, "XANTH", "up", "up", "flat", "Z2"},
		{recalled, "ANTICHOL_INH", "flat_or_up", "flat", "flat", "Z0"},
		{recalled, "THYROID", "flat_or_up", "flat_or_up", "flat_or_up", "Z2"},
		{recalled, "ANTITHYR", "down_as_treated", "down_as_treated", "flat", "Z2"},
		{recalled, "STIM", "up", "up", "up", "Z2"},
		{recalled, "DECONG", "up", "up", "up", "Z2"},
		{recalled, "TCA", "up", "flat_or_up", "down_standing", "Z2+Z4"},
		{recalled, "SNRI", "flat_or_up", "flat_or_up", "flat_or_up", "Z2"},
		{recalled, "SSRI", "flat", "flat", "flat", "Z0"},
		{recalled, "OTHER_AD", "flat_or_up", "flat", "flat_or_up", "Z2"},
		{recalled, "ANTIPSY", "flat_or_up", "flat_or_up", "down_standing", "Z2+Z4"},
		{recalled, "CHEI", "flat_or_down", "flat_or_down", "flat", "Z2"},
		{recalled, "S1P", "down_at_start", "flat_or_down", "flat_or_up", "Z2"},
		{recalled, "INSULIN", "flat", "flat", "flat", "Z5"},
		{recalled, "SU_GLIN", "flat", "flat", "flat", "Z5"},
		{recalled, "SGLT2", "flat", "flat", "down_slight", "Z4+Z5"},
		{recalled, "GLP1", "up_slight", "flat", "down_slight", "Z0"},
		{recalled, "OTHER_DM", "flat", "flat", "flat", "Z0"},
		{recalled, "PDE5", "flat", "flat", "down", "Z4"},
		{recalled, "PAH_HF", "flat_or_up", "flat", "down", "Z4"},
		{recalled, "ANTICOAG", "flat", "flat", "flat", "Z6"},
		{recalled, "ANTIPLT", "flat", "flat", "flat", "Z6"},
		{recalled, "STATIN", "flat", "flat", "flat", "Z6"},
		{recalled, "STEROID", "flat", "flat", "up_long_term", "Z6"},
		{recalled, "ORTHO_UP", "flat_or_down", "flat", "up", "Z4"},
		{recalled, "PAD_DRUG", "up_slight", "flat", "flat", "Z2"},
		{recalled, "PARK_SPAS", "flat", "flat", "down_standing", "Z4"},
		{recalled, "BLADDER", "flat_or_up", "flat", "flat_or_up", "Z2"},
	} {
		t.Run(tt.source+"/"+tt.class, func(t *testing.T) {
			e, ok := medicine.Class(tt.class).Effect()
			if !ok {
				t.Fatalf("no class %s", tt.class)
			}
			got := []string{string(e.RestingHR), string(e.ExerciseHR), string(e.Pressure), e.Zones.String()}
			want := []string{tt.rest, tt.exercise, tt.pressure, tt.zones}
			if strings.Join(got, " ") != strings.Join(want, " ") {
				t.Errorf("%s: effect %q; want %q", tt.class, got, want)
			}
			if e.Label == "" || e.Note == "" {
				t.Errorf("%s: label %q, note %q; want both", tt.class, e.Label, e.Note)
			}
		})
	}
	if n := len(medicine.Classes()); n != 55 {
		t.Errorf("%d classes; want 55", n)
	}
	if _, ok := medicine.Class("BB").Effect(); ok {
		t.Error("a class that does not exist has an effect")
	}
}

// TestPublishedEffects compares the class table with the published ones, group
// by group. The patient table speaks of heart rate without rest or exercise.
func TestPublishedEffects(t *testing.T) {
	const (
		sheet    = "hospital sheet, exercise response to cardiac medications"
		matsuda  = "Matsuda 1991, Cardiovasc Res 25:453-457"
		eston    = "Eston, Thompson 1997, Br J Sports Med 31:114-119"
		unstated = ""
	)
	for _, tt := range []struct {
		source, name             string
		rest, exercise, pressure string // down, up or flat; unstated is not compared
	}{
		{patientTable, "ramipril", "flat", "flat", "down"},
		{patientTable, "losartan", "flat", "flat", "down"},
		{patientTable, "amiodarone", "down", "down", "flat"},
		{patientTable, "bisoprolol", "down", "down", "down"},
		{patientTable, "propranolol", "down", "down", "down"},
		{patientTable, "salbutamol", "up", "up", "flat"},
		{patientTable, "theophylline", "up", "up", "flat"},
		{patientTable, "verapamil", "down", "down", "down"},
		{patientTable, "nifedipine", "up", "up", "down"},
		{patientTable, "digoxin", "down", unstated, "flat"},
		{patientTable, "furosemide", "flat", "flat", "down"},
		{patientTable, "indapamide", "flat", "flat", "down"},
		{patientTable, "spironolactone", "flat", "flat", "down"},
		{patientTable, "atorvastatin", "flat", "flat", "flat"},
		{patientTable, "nitroglycerin", "up", "up", "down"},
		{patientTable, "hydralazine", "up", "up", "down"},
		{patientTable, "venlafaxine", "up", "up", "up"},
		{patientTable, "sertraline", "flat", "flat", "flat"},
		{patientTable, "amitriptyline", unstated, unstated, "down"},
		{sheet, "metoprolol", "down", "down", "down"},
		{sheet, "amlodipine", "flat", "flat", "down"},
		{sheet, "felodipine", "flat", "flat", "down"},
		{sheet, "lercanidipine", "flat", "flat", "down"},
		{sheet, "nifedipine", "flat", "flat", "down"},
		{sheet, "verapamil", "down", "down", "down"},
		{sheet, "diltiazem", "down", "down", "down"},
		{matsuda + ": rest 85 to 63, peak 175 to 138", "propranolol", "down", "down", unstated},
		{matsuda + ": rest 85 to 70, peak 175 to 138", "verapamil", "down", "down", unstated},
		{matsuda + ": rest 85 to 75, peak unchanged", "digoxin", "down", "flat", unstated},
		{eston + ": maximum 20 to 30 per cent lower", "atenolol", unstated, "down", unstated},
	} {
		t.Run(tt.source+"/"+tt.name, func(t *testing.T) {
			e, _ := medicine.Match(tt.name).Matches[0].Class.Effect()
			for _, c := range []struct {
				what string
				got  medicine.Change
				want string
			}{{"at rest", e.RestingHR, tt.rest}, {"in exercise", e.ExerciseHR, tt.exercise}, {"pressure", e.Pressure, tt.pressure}} {
				if c.want != unstated && !strings.Contains(string(c.got), c.want) {
					t.Errorf("%s %s: %s; want %s", tt.name, c.what, c.got, c.want)
				}
			}
		})
	}
}
