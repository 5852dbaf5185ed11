package screening_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"strings"
	"testing"

	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
)

// classes reads the letters of the table.
var classes = map[string]intensity.Class{"none": intensity.None, "L": intensity.Light, "M": intensity.Moderate, "V": intensity.Vigorous}

// TestCombinations runs the whole table of 108 combinations. Its rows without a
// doctor's word are the published figure's; those with one are the practice's
// reading of "following clearance".
func TestCombinations(t *testing.T) {
	f, err := os.Open("testdata/combinations.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	header, rows := rows[0], rows[1:]
	if len(rows) != 108 {
		t.Fatalf("%d rows; want 108", len(rows))
	}
	causes := map[string][][]string{
		"NONE": {nil, {"hypertension", "asthma"}},
		"DIS":  {{"diabetes_type_2"}, {"heart_attack", "stent"}, {"kidney_disease"}, {"tia"}},
		"SYM":  {{"palpitations"}, {"chest_pressure", "heart_failure"}, {"heart_murmur", "diabetes_type_1", "copd"}},
	}
	for _, fields := range rows {
		row := map[string]string{}
		for i, name := range header {
			row[name] = fields[i]
		}
		for i, codes := range causes[row["group"]] {
			t.Run(fmt.Sprintf("%s/%s/%d", acsmFigure, row["id"], i), func(t *testing.T) {
				in := client(t, 30, classes[row["desired"]], codes...)
				if row["regular"] == "Y" {
					in.Activity = exercising
				}
				switch row["clearance"] {
				case "none":
				case "lapsed":
					in.Clearance = cleared(12, intensity.Vigorous, codes...)
				case "cap_L", "cap_M", "cap_V":
					in.Clearance = cleared(2, classes[row["clearance"][4:]], codes...)
				case "refused":
					in.Clearance = word(today.AddMonths(-2), clearance.NotNow, intensity.None)
				default:
					t.Fatalf("clearance %q", row["clearance"])
				}
				d := decide(t, in)
				got := map[string]any{
					"id": d.Rule, "group": d.Group, "acsm_need": d.Need, "ceiling_now": d.CeilingNow,
					"may_progress_to": d.MayProgressTo, "hold": d.Hold, "action": d.Action,
				}
				want := map[string]any{
					"id": row["id"], "group": screening.Group(strings.ToLower(row["group"])), "acsm_need": screening.Need(strings.ToLower(row["acsm_need"])),
					"ceiling_now": classes[row["ceiling_now"]], "may_progress_to": classes[row["may_progress_to"]],
					"hold": scope(t, row["hold"]), "action": screening.Action(strings.ToLower(row["action"])),
				}
				for name := range want {
					if got[name] != want[name] {
						t.Errorf("%s = %v; want %v", name, got[name], want[name])
					}
				}
				if d.Regular != (row["regular"] == "Y") || d.RowCeiling != d.CeilingNow || !d.Decided() || len(d.Reasons) == 0 || len(d.Overrides) != 0 {
					t.Errorf("regular %v, row ceiling %v, decided %v, reasons %q, overrides %v", d.Regular, d.RowCeiling, d.Decided(), d.Reasons, d.Overrides)
				}
			})
		}
	}
}

func scope(t *testing.T, name string) clearance.Scope {
	t.Helper()
	s, err := clearance.ParseScope(strings.ToLower(name))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestPublishedRows runs the eighteen published rows with the fields that the
// figure itself gives.
func TestPublishedRows(t *testing.T) {
	const (
		l, m, v = intensity.Light, intensity.Moderate, intensity.Vigorous
	)
	for _, tt := range []struct {
		source  string
		row     string
		regular bool
		codes   []string
		desired intensity.Class
		ceiling intensity.Class
		hold    clearance.Scope
		action  screening.Action
	}{
		{acsmFigure, "R1", false, nil, l, m, clearance.NoHold, screening.Start},
		{acsmFigure, "R2", false, nil, m, m, clearance.NoHold, screening.Start},
		{acsmFigure, "R3", false, nil, v, m, clearance.NoHold, screening.StartLowerProgress},
		{acsmFigure, "R4", false, []string{"diabetes_type_2"}, l, intensity.None, clearance.All, screening.ReferFirst},
		{acsmFigure, "R5", false, []string{"diabetes_type_2"}, m, intensity.None, clearance.All, screening.ReferFirst},
		{acsmFigure, "R6", false, []string{"diabetes_type_2"}, v, intensity.None, clearance.All, screening.ReferFirst},
		{acsmFigure, "R7", false, []string{"fainting"}, l, intensity.None, clearance.All, screening.ReferFirst},
		{acsmFigure, "R8", false, []string{"fainting"}, m, intensity.None, clearance.All, screening.ReferFirst},
		{acsmFigure, "R9", false, []string{"fainting"}, v, intensity.None, clearance.All, screening.ReferFirst},
		{acsmFigure, "R10", true, nil, l, v, clearance.NoHold, screening.Continue},
		{acsmFigure, "R11", true, nil, m, v, clearance.NoHold, screening.Continue},
		{acsmFigure, "R12", true, nil, v, v, clearance.NoHold, screening.Continue},
		{acsmFigure, "R13", true, []string{"stent"}, l, m, clearance.Vigorous, screening.Continue},
		{acsmFigure, "R14", true, []string{"stent"}, m, m, clearance.Vigorous, screening.Continue},
		{acsmFigure, "R15", true, []string{"stent"}, v, m, clearance.Vigorous, screening.ContinueLowerAndRefer},
		{acsmFigure, "R16", true, []string{"leg_pain_walking"}, l, intensity.None, clearance.All, screening.StopAndRefer},
		{acsmFigure, "R17", true, []string{"leg_pain_walking"}, m, intensity.None, clearance.All, screening.StopAndRefer},
		{acsmFigure, "R18", true, []string{"leg_pain_walking"}, v, intensity.None, clearance.All, screening.StopAndRefer},
	} {
		t.Run(tt.source+"/"+tt.row, func(t *testing.T) {
			in := client(t, 30, tt.desired, tt.codes...)
			if tt.regular {
				in.Activity = exercising
			}
			d := decide(t, in)
			if d.Row != tt.row || d.CeilingNow != tt.ceiling || d.Hold != tt.hold || d.Action != tt.action {
				t.Errorf("Decide = %s, ceiling %v, hold %v, %s; want %s, ceiling %v, hold %v, %s",
					d.Row, d.CeilingNow, d.Hold, d.Action, tt.row, tt.ceiling, tt.hold, tt.action)
			}
		})
	}
}
