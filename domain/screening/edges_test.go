package screening_test

import (
	"encoding/json"
	"reflect"
	"slices"
	"testing"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/screening"
)

// TestEdgeRules has a sub-test for each edge rule, E1 to E20.
func TestEdgeRules(t *testing.T) {
	regular := func(in screening.Input) screening.Input {
		in.Activity = exercising
		return in
	}
	with := func(in screening.Input, c clearance.Clearance) screening.Input {
		in.Clearance = c
		return in
	}
	expect := func(t *testing.T, in screening.Input, want result) {
		t.Helper()
		if got := resultOf(decide(t, in)); got != want {
			t.Errorf("Decide = %+v; want %+v", got, want)
		}
	}
	policy := clearance.PolicyFrom(nil)
	c := func(age int, desired intensity.Class, codes ...string) screening.Input {
		return client(t, age, desired, codes...)
	}

	t.Run(acsmFigure+"/E1", func(t *testing.T) {
		expect(t, c(30, light, "palpitations"), result{"A037", "sym", none, clearance.All, "refer_first"})
		expect(t, c(30, light, "palpitations", "stent"), result{"A037", "sym", none, clearance.All, "refer_first"})
		expect(t, c(30, light, "stent"), result{"A019", "dis", none, clearance.All, "refer_first"})
	})
	t.Run(setting+"/E2", func(t *testing.T) {
		in := regular(c(66, moderate, "peripheral_artery_disease", "leg_pain_walking"))
		d := clearance.Decision{
			ID: "1", DecidedOn: today.AddDays(-20), ReceivedOn: today.AddDays(-18), Outcome: clearance.ClearedWithLimits, Ceiling: moderate,
			Considered: []string{"peripheral_artery_disease"}, Expected: []clearance.Expected{{Code: "leg_pain_walking", Limit: "Up to 4 of 5."}},
		}
		in.Clearance = clearance.File{Decisions: []clearance.Decision{d}}.Summarise(clearance.Aerobic, today, policy)
		expect(t, in, result{"A101", "sym", moderate, clearance.Vigorous, "resume"})
		d.Expected = nil
		in.Clearance = clearance.File{Decisions: []clearance.Decision{d}}.Summarise(clearance.Aerobic, today, policy)
		expect(t, in, result{"A092", "sym", none, clearance.All, "stop_and_refer"})
		expect(t, c(33, moderate, "heart_murmur"), result{"A038", "sym", none, clearance.All, "refer_first"})
	})
	t.Run(acsmFigure+"/E3", func(t *testing.T) {
		for i, desired := range []intensity.Class{light, moderate, vigorous} {
			expect(t, regular(c(40, desired, "breathless_lying")), result{[]string{"A091", "A092", "A093"}[i], "sym", none, clearance.All, "stop_and_refer"})
		}
	})
	t.Run(acsmFigure+"/E4", func(t *testing.T) {
		expect(t, regular(c(58, vigorous)), result{"A057", "none", vigorous, clearance.NoHold, "continue"})
		expect(t, regular(c(58, vigorous, "diabetes_type_2")), result{"A075", "dis", moderate, clearance.Vigorous, "continue_lower_and_refer"})
	})
	t.Run(acsmFigure+"; caps: "+setting+"/E5", func(t *testing.T) {
		cap := cleared(3, moderate, "diabetes_type_2")
		expect(t, with(c(58, vigorous, "diabetes_type_2"), cap), result{"A030", "dis", moderate, clearance.Vigorous, "capped"})
		expect(t, with(regular(c(58, vigorous, "diabetes_type_2")), cap), result{"A084", "dis", moderate, clearance.Vigorous, "capped"})
		expect(t, regular(c(58, light, "diabetes_type_2")), result{"A073", "dis", moderate, clearance.Vigorous, "continue"})
	})
	t.Run(setting+"/E6", func(t *testing.T) {
		expect(t, c(58, light, "diabetes_type_2"), result{"A019", "dis", none, clearance.All, "refer_first"})
		p := screening.PolicyFrom(nil)
		for weeks, want := range map[int]screening.IdleStep{0: "fine", 3: "fine", 4: "warn", 12: "warn", 13: "rescreen", 20: "rescreen"} {
			if got := screening.AfterIdle(weeks, p); got != want {
				t.Errorf("AfterIdle(%d) = %s; want %s", weeks, got, want)
			}
		}
	})
	t.Run(acsmFigure+"; boundary: "+setting+"/E7", func(t *testing.T) {
		in := regular(c(58, vigorous, "diabetes_type_2"))
		expect(t, with(in, word(domain.NewDate(2024, 6, 2), clearance.Cleared, vigorous, "diabetes_type_2")),
			result{"A087", "dis", vigorous, clearance.NoHold, "continue"})
		expect(t, with(in, word(domain.NewDate(2024, 6, 1), clearance.Cleared, vigorous, "diabetes_type_2")),
			result{"A078", "dis", moderate, clearance.Vigorous, "continue_lower_and_refer"})
		f := clearance.File{
			Decisions: []clearance.Decision{{ID: "1", DecidedOn: today.AddMonths(-2), Outcome: clearance.Cleared, Ceiling: vigorous, Considered: []string{"diabetes_type_2"}}},
			Changes:   []clearance.Change{{Kind: clearance.NewSymptom, On: today.AddDays(-3), Code: "palpitations"}},
		}
		expect(t, with(in, f.Summarise(clearance.Aerobic, today, policy)), result{"A078", "dis", moderate, clearance.Vigorous, "continue_lower_and_refer"})
	})
	t.Run(setting+"/E8", func(t *testing.T) {
		in := with(c(40, light, "palpitations"), word(today.AddDays(-10), clearance.Cleared, light, "palpitations"))
		for since, want := range map[domain.Date]string{
			{}:                 "A043",
			today.AddDays(-11): "A043",
			today.AddDays(-10): "A043", // not before it was reported
			today.AddDays(-9):  "A037",
		} {
			in.Since = []screening.Onset{{Code: "fainting", On: today}, {Code: "palpitations", On: since}}
			if got := decide(t, in); got.Rule != want {
				t.Errorf("since %v: %s; want %s", since, got.Rule, want)
			}
		}
	})
	t.Run(setting+"/E9", func(t *testing.T) {
		expect(t, with(regular(c(30, moderate)), cleared(13, light)), result{"A059", "none", light, clearance.AboveLight, "capped"})
		expect(t, with(regular(c(30, light)), cleared(13, light)), result{"A058", "none", light, clearance.AboveLight, "continue"})
		expect(t, with(regular(c(30, vigorous)), cleared(13, moderate)), result{"A060", "none", moderate, clearance.Vigorous, "capped"})
		expect(t, with(regular(c(30, vigorous)), cleared(13, vigorous)), result{"A060", "none", vigorous, clearance.NoHold, "continue"})
		expect(t, with(c(30, vigorous), cleared(13, moderate)), result{"A006", "none", moderate, clearance.Vigorous, "capped"})
		expect(t, with(regular(c(58, light, "stent")), cleared(13, light, "stent")), result{"A076", "dis", light, clearance.AboveLight, "continue"})
		expect(t, with(regular(c(58, vigorous, "stent")), cleared(13, light, "stent")), result{"A078", "dis", light, clearance.AboveLight, "continue_lower_and_refer"})
		expect(t, with(regular(c(30, light)), word(today.AddMonths(-13), clearance.NotNow, none)), result{"A070", "none", none, clearance.All, "no_exercise"})
		// A decision that does not cover everything clears nobody, and its ceiling binds.
		expect(t, with(regular(c(58, moderate, "stent", "diabetes_type_2")), cleared(2, light, "stent")),
			result{"A074", "dis", light, clearance.AboveLight, "capped"})
		d := decide(t, with(regular(c(58, moderate, "stent", "diabetes_type_2")), cleared(2, light, "stent")))
		if !slices.Equal(d.Uncovered, []string{"diabetes_type_2"}) || !slices.Equal(d.Overrides, []screening.Override{{Rule: "E9"}}) || d.RowCeiling != moderate {
			t.Errorf("uncovered %v, overrides %v, row ceiling %v", d.Uncovered, d.Overrides, d.RowCeiling)
		}
	})
	t.Run(setting+"/E10", func(t *testing.T) {
		f := clearance.File{Decisions: []clearance.Decision{
			{ID: "1", DecidedOn: today.AddMonths(-3), Outcome: clearance.Cleared, Ceiling: moderate, Considered: []string{"stent"}, DecidedBy: clearance.Clinician{Specialist: true}},
			{ID: "2", DecidedOn: today.AddMonths(-1), Outcome: clearance.Cleared, Ceiling: vigorous, Considered: []string{"stent"}},
		}}
		in := regular(c(58, vigorous, "stent"))
		expect(t, with(in, f.Summarise(clearance.Aerobic, today, policy)), result{"A084", "dis", moderate, clearance.Vigorous, "capped"})
		f.Decisions[1].DecidedBy.Specialist = true
		expect(t, with(in, f.Summarise(clearance.Aerobic, today, policy)), result{"A087", "dis", vigorous, clearance.NoHold, "continue"})
	})
	t.Run("ACOG 804, abstract; "+setting+"/E11", func(t *testing.T) {
		expect(t, regular(c(30, vigorous, "pregnant")), result{"A057", "none", moderate, clearance.Vigorous, "continue_lower_and_refer"})
		expect(t, c(30, moderate, "pregnant"), result{"A002", "none", moderate, clearance.Vigorous, "start"})
		expect(t, c(30, vigorous, "pregnant"), result{"A003", "none", moderate, clearance.Vigorous, "start_lower_progress"})
		expect(t, regular(c(30, moderate, "pregnant", "stent")), result{"A074", "dis", moderate, clearance.Vigorous, "continue"})
		expect(t, c(30, light, "gestational_diabetes"), result{"A001", "none", moderate, clearance.Vigorous, "start"})
		expect(t, with(regular(c(30, vigorous, "pregnant")), cleared(1, vigorous, "pregnant")), result{"A069", "none", vigorous, clearance.NoHold, "continue"})
		expect(t, with(regular(c(30, vigorous, "pregnant")), cleared(1, moderate, "pregnant")), result{"A066", "none", moderate, clearance.Vigorous, "capped"})
		runner := c(30, vigorous, "pregnant")
		runner.Activity = screening.Activity{Days: 4, Minutes: 45, Months: 12, Class: vigorous}
		expect(t, runner, result{"A057", "none", vigorous, clearance.NoHold, "continue"})
		for _, in := range []screening.Input{runner, c(30, moderate, "pregnant")} {
			if d := decide(t, in); !d.TalkTestOnly {
				t.Error("heart-rate zones in pregnancy")
			}
		}
		off := screening.PolicyFrom(map[string]int{"clearance.practice_flag_vigorous": 0})
		if d, _ := screening.Decide(regular(c(30, vigorous, "pregnant")), off); d.CeilingNow != vigorous {
			t.Errorf("with the flag off: %v", d.CeilingNow)
		}
	})
	t.Run("World J Diabetes 2013;4:256-262 and BMC Pregnancy Childbirth 2015, tables/E11", func(t *testing.T) {
		expect(t, regular(c(30, light, "pregnant", "placenta_praevia")), result{"A055", "none", none, clearance.All, "no_exercise"})
		for _, term := range screening.Codes() {
			if term.Kind == screening.Pregnancy && term.Tier != "" {
				d := decide(t, regular(c(30, light, "pregnant", term.Code)))
				if d.CeilingNow != none || d.Hold != clearance.All || !slices.Contains(d.Overrides, screening.Override{Rule: "E11", Code: term.Code}) {
					t.Errorf("%s: %v, %v, %v", term.Code, d.CeilingNow, d.Hold, d.Overrides)
				}
			}
		}
	})
	t.Run(getp10+"/E12", func(t *testing.T) {
		for _, lung := range []string{"asthma", "copd", "lung_disease_other"} {
			expect(t, c(30, moderate, lung), result{"A002", "none", moderate, clearance.NoHold, "start"})
			expect(t, c(30, moderate, lung, "breathlessness"), result{"A038", "sym", none, clearance.All, "refer_first"})
		}
	})
	t.Run(acsmFigure+", worked case/E13", func(t *testing.T) {
		expect(t, c(34, moderate, "hypertension"), result{"A002", "none", moderate, clearance.NoHold, "start"})
	})
	t.Run(getp10+"/E14", func(t *testing.T) {
		for _, term := range screening.Codes() {
			if term.Kind == screening.Noted || term.Kind == screening.Complication {
				expect(t, c(34, moderate, term.Code), result{"A002", "none", moderate, clearance.NoHold, "start"})
			}
		}
		expect(t, regular(c(90, vigorous)), result{"A057", "none", vigorous, clearance.NoHold, "continue"})
	})
	t.Run(setting+"/E15", func(t *testing.T) {
		// The hold's scope is by class, whatever the work: strength work has no way round it.
		if d := decide(t, regular(c(58, vigorous, "stent"))); !d.Hold.Stops(vigorous) || d.Hold.Stops(moderate) {
			t.Errorf("hold %v", d.Hold)
		}
		f := clearance.File{Decisions: []clearance.Decision{{ID: "1", Work: clearance.Resistance, DecidedOn: today, Outcome: clearance.Cleared, Ceiling: light}}}
		if got := f.Summarise(clearance.Resistance, today, policy).Cap; got != light {
			t.Errorf("strength work up to %v; want light", got)
		}
	})
	t.Run(setting+"/E16", func(t *testing.T) {
		expect(t, c(17, light), result{"E16", "none", none, clearance.All, "incomplete"})
		expect(t, c(18, light), result{"A001", "none", moderate, clearance.NoHold, "start"})
	})
	t.Run(setting+"/E17", func(t *testing.T) {
		p := screening.PolicyFrom(nil)
		d := decide(t, c(30, light))
		for _, tt := range []struct {
			on      domain.Date
			changes []clearance.Change
			want    bool
		}{
			{today, nil, true},
			{domain.NewDate(2026, 5, 31), nil, true},
			{domain.NewDate(2026, 6, 1), nil, false},
			{today.AddDays(9), []clearance.Change{{Kind: clearance.NewSymptom, On: today.AddDays(10)}}, true},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.NewSymptom, On: today.AddDays(10)}}, false},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.NewSymptom, On: today}}, true}, // known when screened
			{today.AddDays(10), []clearance.Change{{Kind: clearance.NewSymptom, On: today.AddDays(5), WithinLimit: true}}, true},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.NewDiagnosis, On: today.AddDays(5)}}, false},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.NewEvent, On: today.AddDays(5)}}, false},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.PregnancyOrBirth, On: today.AddDays(5)}}, false},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.MedicineChange, On: today.AddDays(5)}}, true},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.MedicineChange, On: today.AddDays(5), HeartRate: true}}, false},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.MedicineChange, On: today.AddDays(5), Glucose: true}}, false},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.MedicineChange, On: today.AddDays(5), Hints: true}}, false},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.ConsentWithdrawn, On: today.AddDays(5)}}, true},
			{today.AddDays(10), []clearance.Change{{Kind: clearance.VitalsFinding, On: today.AddDays(5), Code: "V1"}}, true},
		} {
			if ok, why := d.StillValid(tt.changes, tt.on, p); ok != tt.want || ok == (why != "") {
				t.Errorf("StillValid(%v, %v) = %v, %q; want %v", tt.changes, tt.on, ok, why, tt.want)
			}
		}
	})
	t.Run(setting+"/E18", func(t *testing.T) {
		in := regular(c(58, vigorous, "diabetes_type_2", "asthma"))
		in.Since = []screening.Onset{{Code: "diabetes_type_2", On: today.AddMonths(-40)}}
		d := decide(t, in)
		if d.RuleSet != screening.RuleSet || d.Rule == "" || len(d.Sources) == 0 || d.On != today || d.Settings != screening.PolicyFrom(nil) {
			t.Errorf("decision without what it rests on: %+v", d)
		}
		stored, err := json.Marshal(struct {
			In  screening.Input
			Out screening.Decision
		}{in, d})
		if err != nil {
			t.Fatal(err)
		}
		var back struct {
			In  screening.Input
			Out screening.Decision
		}
		if err := json.Unmarshal(stored, &back); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(back.In, in) || !reflect.DeepEqual(back.Out, d) {
			t.Errorf("stored and read back:\n%+v\n%+v\nwant\n%+v\n%+v", back.In, back.Out, in, d)
		}
		if again := decide(t, back.In); !reflect.DeepEqual(again, d) {
			t.Errorf("decided again: %+v; want %+v", again, d)
		}
	})
	t.Run(setting+"/E19", func(t *testing.T) {
		in := c(30, moderate)
		in.Hints = []screening.Hint{{Code: "diabetes", Says: "metformin"}}
		expect(t, in, result{"E19", "none", none, clearance.All, "incomplete"})
		if d := decide(t, in); !slices.Equal(d.Conflicts, []screening.Conflict{{Code: "diabetes", Says: "metformin"}}) {
			t.Errorf("conflicts %v", d.Conflicts)
		}
	})
	t.Run("JABFM table 7, ACSM notes, Heart Online table 1; as copied/E20", func(t *testing.T) {
		for _, term := range screening.Codes() {
			if term.Kind != screening.Finding {
				continue
			}
			for _, in := range []screening.Input{regular(c(30, vigorous, term.Code)), regular(c(30, light, term.Code)), c(30, light, term.Code)} {
				d := decide(t, in)
				want, hold := none, clearance.All
				if term.Row == "CX_BP_160" {
					want, hold = moderate, clearance.Vigorous
				}
				if d.CeilingNow != want || d.Hold != hold || !slices.Contains(d.Overrides, screening.Override{Rule: "E20", Code: term.Code}) {
					t.Errorf("%s: %v, %v, %v", term.Code, d.CeilingNow, d.Hold, d.Overrides)
				}
				if want == none && d.Action != screening.NoExercise {
					t.Errorf("%s: %s", term.Code, d.Action)
				}
			}
			// A doctor's decision that names it lets a relative one through, never an absolute one.
			d := decide(t, with(regular(c(30, light, term.Code)), cleared(1, light, term.Code)))
			if through := d.CeilingNow == light; through != (term.Tier == screening.Relative) {
				t.Errorf("%s, named by a doctor: ceiling %v", term.Code, d.CeilingNow)
			}
		}
		expect(t, regular(c(30, vigorous, "blood_pressure_160")), result{"A057", "none", moderate, clearance.Vigorous, "continue_lower_and_refer"})
	})
}
