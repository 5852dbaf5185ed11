package store_test

import (
	"errors"
	"testing"
	"time"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/heartrate"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/screening"
	"brae/store"
	"brae/store/storetest"
)

func TestScreen(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for _, tt := range []struct {
		source  string
		changes []string
		ceiling intensity.Class
		hold    clearance.Scope
		row     string
	}{
		{"ACSM 2015, regular, no disease", nil, intensity.Vigorous, clearance.NoHold, "R11"},
		{"ACSM 2015, regular, type 2 diabetes, wants moderate", []string{"q.diabetes_type_2", "yes"}, intensity.Moderate, clearance.Vigorous, "R14"},
		{"ACSM 2015, regular, symptom", []string{"q.chest_pressure", "yes"}, intensity.None, clearance.All, "R17"},
		{"ACSM 2015, not regular, past heart attack", []string{intake.FieldDays, "0", "q.heart_attack", "yes"}, intensity.None, clearance.All, "R5"},
		{"practice setting: not sure counts as yes", []string{"q.fainting", "not_sure"}, intensity.None, clearance.All, "R17"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			client := f.Client()
			d := f.ScreenClient(client, tt.changes...)
			if d.CeilingNow != tt.ceiling || d.Hold != tt.hold || d.Row != tt.row {
				t.Errorf("ceiling %s, hold %s, row %s; want %s, %s, %s", d.CeilingNow, d.Hold, d.Row, tt.ceiling, tt.hold, tt.row)
			}
			week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
			if week.Ceiling != tt.ceiling {
				t.Errorf("the client's ceiling is %s; want %s", week.Ceiling, tt.ceiling)
			}
			if open := len(week.Holds) > 0; open != (tt.hold != clearance.NoHold) || open && week.Holds[0].Scope != tt.hold {
				t.Errorf("holds = %+v; want one of scope %s", week.Holds, tt.hold)
			}
		})
	}
}

func TestScreenKeepsWhatItWasDecidedOn(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.diabetes_type_2", "yes", intake.FieldMedicines, "metformin 500 mg")
	_, s, err := f.Decision(t.Context(), f.Mira.Actor(), client)
	if err != nil {
		t.Fatal(err)
	}
	if s.Answers["q.diabetes_type_2"] != "yes" || s.Input.Answers.Of("diabetes_type_2") != screening.Yes ||
		s.Decision.RuleSet != screening.RuleSet || len(s.Decision.Sources) == 0 || s.DecidedOn != storetest.Day {
		t.Errorf("screening = %+v; want the answers, the rule set and the sources", s)
	}
	if _, draft, err := f.IntakeDraft(t.Context(), f.Mira.Actor(), client); err != nil || draft.Version != 0 || draft.Answers["q.diabetes_type_2"] != "yes" {
		t.Errorf("the next intake starts with version %d and %q (%v); want the last answers and no draft", draft.Version, draft.Answers["q.diabetes_type_2"], err)
	}
	if _, err := f.Pool.Exec(t.Context(), `UPDATE screenings SET rule = 'A001'`); err == nil {
		t.Error("a screening could be changed")
	}
}

func TestScreenDecidesNothingOnConflict(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	d := f.ScreenClient(client, intake.FieldMedicines, "insulin glargine")
	if d.Decided() || len(d.Conflicts) == 0 {
		t.Fatalf("insulin without diabetes: %+v; want a conflict", d)
	}
	if n := f.Count(`SELECT count(*) FROM screenings`); n != 0 {
		t.Errorf("%d screenings are stored; want none", n)
	}
	if _, draft, _ := f.IntakeDraft(t.Context(), f.Mira.Actor(), client); draft.Version != 1 {
		t.Errorf("the draft has version %d; want it kept as 1", draft.Version)
	}
}

func TestSaveIntakeRefusesAnOldVersion(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	storetest.Must(f.SaveIntake(t.Context(), f.Mira.Actor(), client, 0, store.Answers{"goal": "the second floor"}))
	if _, err := f.SaveIntake(t.Context(), f.Lead.Actor(), client, 0, store.Answers{"goal": "the first floor"}); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("saving on an old version: %v; want %v", err, domain.ErrConflict)
	}
	_, draft, err := f.IntakeDraft(t.Context(), f.Mira.Actor(), client)
	if err != nil || draft.Answers["goal"] != "the second floor" {
		t.Errorf("draft = %+v, %v; want the first answer", draft, err)
	}
}

// TestScreeningAgainKeepsHolds answers away what a hold was opened for. Only a
// doctor's answer releases it.
func TestScreeningAgainKeepsHolds(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.chest_pressure", "yes")
	f.Wait(time.Hour)
	f.ScreenClient(client)
	week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
	if week.Ceiling != intensity.None || len(week.Holds) != 1 {
		t.Errorf("ceiling %s with %d holds; want none with one", week.Ceiling, len(week.Holds))
	}
}

func TestSignPrescription(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	if _, err := f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("before the screening: %v; want %v", err, domain.ErrConflict)
	}
	f.ScreenClient(client, "q.diabetes_type_2", "yes")
	vigorous := storetest.Walking(0)
	vigorous.Class = intensity.Vigorous
	if _, err := f.SignPrescription(t.Context(), f.Mira.Actor(), client, vigorous); !errors.Is(err, domain.ErrHeld) {
		t.Errorf("vigorous under a hold: %v; want %v", err, domain.ErrHeld)
	}
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	if _, err := f.SignPrescription(t.Context(), f.Lead.Actor(), client, storetest.Walking(0)); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("signed from a form that is out of date: %v; want %v", err, domain.ErrConflict)
	}
	week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
	p := week.Prescription
	if p == nil || p.Version != 1 || p.SignedByName != "mira" || p.Class != intensity.Moderate {
		t.Fatalf("prescription = %+v; want version 1 by mira", p)
	}
	// Gellish 2007, 58 years, resting 64: 207 - 0.7 x 58 = 166.4; 40 % of the
	// reserve is 104.96, 60 % is 125.44 (Karvonen 1957, formula; worked by hand).
	want := store.Band{Class: intensity.Moderate, Low: 105, High: 125, PrescribeTo: 125}
	if got := p.Zones.Bands[intensity.Moderate-1]; got != want || p.Zones.Basis != heartrate.Predicted {
		t.Errorf("moderate zone = %+v on basis %s; want %+v", got, p.Zones.Basis, want)
	}
	if _, err := f.Pool.Exec(t.Context(), `DELETE FROM prescriptions`); err == nil {
		t.Error("a signed prescription could be deleted")
	}
}

func TestSignPrescriptionOnBetaBlocker(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, intake.FieldMedicines, "metoprolol 50 mg")
	d := storetest.Must(f.NewPrescription(t.Context(), f.Mira.Actor(), client))
	if d.Zones.Basis.Valid() {
		t.Errorf("basis = %s; want none without a measured peak", d.Zones.Basis)
	}
	other := f.Client()
	f.ScreenClient(other, intake.FieldMedicines, "metoprolol 50 mg", intake.FieldPeak, "132", intake.FieldPeakOn, "2026-10-01",
		intake.FieldPeakMode, "treadmill", intake.FieldPeakLimited, "yes", intake.FieldPeakSame, "yes")
	d = storetest.Must(f.NewPrescription(t.Context(), f.Mira.Actor(), other))
	if d.Zones.Basis != heartrate.Measured || d.Zones.Max != 132_000 {
		t.Errorf("basis = %s, maximum %d; want measured, 132", d.Zones.Basis, d.Zones.Max)
	}
}

// TestNobodySeesAnotherCaseload asks for a client as everybody who may not.
func TestNobodySeesAnotherCaseload(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client, other := f.Client(), f.Client()
	own, stranger := f.JoinClient(client, "jon"), f.JoinClient(other, "tilda")
	f.ScreenClient(client)
	in := storetest.Walk(30)
	storetest.Must(f.LogSession(t.Context(), own.Actor(), client, in))
	calls := map[string]func(a store.Actor) error{
		"Record":      func(a store.Actor) error { _, err := f.Record(t.Context(), a, client); return err },
		"Week":        func(a store.Actor) error { _, err := f.Week(t.Context(), a, client); return err },
		"Session":     func(a store.Actor) error { _, err := f.Session(t.Context(), a, client, in.ID); return err },
		"Decision":    func(a store.Actor) error { _, _, err := f.Decision(t.Context(), a, client); return err },
		"IntakeDraft": func(a store.Actor) error { _, _, err := f.IntakeDraft(t.Context(), a, client); return err },
		"SaveIntake": func(a store.Actor) error {
			_, err := f.SaveIntake(t.Context(), a, client, 0, store.Answers{})
			return err
		},
		"Screen":          func(a store.Actor) error { _, err := f.Screen(t.Context(), a, client, 1); return err },
		"NewPrescription": func(a store.Actor) error { _, err := f.NewPrescription(t.Context(), a, client); return err },
		"SignPrescription": func(a store.Actor) error {
			_, err := f.SignPrescription(t.Context(), a, client, storetest.Walking(0))
			return err
		},
		"InviteClient": func(a store.Actor) error { _, err := f.InviteClient(t.Context(), a, client, "x"); return err },
		"LogSession": func(a store.Actor) error {
			_, err := f.LogSession(t.Context(), a, client, storetest.Walk(10))
			return err
		},
	}
	before := f.Count(`SELECT count(*) FROM audit`)
	for name, call := range calls {
		for who, a := range map[string]store.Actor{"another practitioner": f.Tomas.Actor(), "another client": stranger.Actor(), "nobody": {}} {
			if err := call(a); !errors.Is(err, domain.ErrNotFound) && !errors.Is(err, domain.ErrForbidden) {
				t.Errorf("%s as %s: %v; want not found", name, who, err)
			}
		}
	}
	for _, name := range []string{"Record", "Decision", "IntakeDraft", "SaveIntake", "Screen", "NewPrescription", "SignPrescription", "InviteClient"} {
		if err := calls[name](own.Actor()); !errors.Is(err, domain.ErrForbidden) {
			t.Errorf("%s as the client: %v; want %v", name, err, domain.ErrForbidden)
		}
	}
	if after := f.Count(`SELECT count(*) FROM audit`); after != before {
		t.Errorf("refused calls wrote %d audit entries", after-before)
	}
	for who, a := range map[string]store.Actor{"their practitioner": f.Mira.Actor(), "the lead": f.Lead.Actor()} {
		if err := calls["Record"](a); err != nil {
			t.Errorf("Record as %s: %v", who, err)
		}
	}
	for _, list := range []store.Actor{f.Tomas.Actor()} {
		if lines := storetest.Must(f.Caseload(t.Context(), list, "")); len(lines) != 0 {
			t.Errorf("another practitioner's caseload has %d clients; want none", len(lines))
		}
	}
}

func TestWeekReview(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client, unprescribed := f.Client(), f.Client()
	_ = unprescribed
	f.ScreenClient(client)
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, storetest.Walking(0)))
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, storetest.Walk(40)))
	last := storetest.Walk(60)
	last.Day = storetest.Day.AddDays(-7)
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, last))
	for who, a := range map[string]store.Actor{"mira": f.Mira.Actor(), "lead": f.Lead.Actor()} {
		review := storetest.Must(f.WeekReview(t.Context(), a, everybody))
		if len(review.Lines) != 1 {
			t.Fatalf("%s sees %d clients; want the one with a prescription", who, len(review.Lines))
		}
		l := review.Chosen[0]
		if l.Done != 40 || l.ShortBy != 110 || l.LastDay != storetest.Day || l.Weeks[7].Done != 40 || l.Weeks[6].Done != 60 || l.Weeks[5].Logged {
			t.Errorf("line = %+v; want 40 done, 110 short, 60 the week before", l)
		}
	}
	if review := storetest.Must(f.WeekReview(t.Context(), f.Tomas.Actor(), everybody)); len(review.Lines) != 0 {
		t.Errorf("another practitioner sees %d clients; want none", len(review.Lines))
	}
}

// TestLightTarget counts light minutes only where they were prescribed to count.
func TestLightTarget(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, intake.FieldDays, "0")
	light := storetest.Walking(0)
	light.Class, light.TargetMinutes, light.TargetLight = intensity.Light, 60, true
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, light))
	in := storetest.Walk(25)
	in.Parts[0].Talk = intensity.TalkSing
	storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, in))
	week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), client))
	if week.Done != 25 || week.ShortBy != 35 || week.Totals.ModerateEquivalent != 0 {
		t.Errorf("done %d, short by %d, moderate-equivalent %d; want 25, 35, 0", week.Done, week.ShortBy, week.Totals.ModerateEquivalent)
	}
	if l := storetest.Must(f.Caseload(t.Context(), f.Mira.Actor(), ""))[0]; l.Done() != 25 || l.Target != 60 {
		t.Errorf("the caseload shows %d of %d; want 25 of 60", l.Done(), l.Target)
	}
	if l := storetest.Must(f.WeekReview(t.Context(), f.Mira.Actor(), everybody)).Lines[0]; l.Done != 25 || l.ShortBy != 35 {
		t.Errorf("the review shows %d done and %d short; want 25 and 35", l.Done, l.ShortBy)
	}
}

func TestAuditCannotBeChanged(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	for _, sql := range []string{`UPDATE audit SET action = 'x'`, `DELETE FROM audit`, `TRUNCATE audit`} {
		if _, err := f.Pool.Exec(t.Context(), sql); err == nil {
			t.Errorf("%s went through", sql)
		}
	}
}

// everybody chooses all lines of a review.
func everybody(all []store.ReviewLine) []store.ReviewLine { return all }
