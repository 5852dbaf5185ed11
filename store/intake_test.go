package store_test

import (
	"errors"
	"testing"
	"time"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/consent"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/store"
	"brae/store/storetest"
)

// TestSavesAreKept looks at what stood before each save, and at who sees what when
// two type at once.
func TestSavesAreKept(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	save := func(who store.Account, version int, step store.Answers) (int, error) {
		return f.SaveIntake(t.Context(), who.Actor(), client, version, step)
	}
	storetest.Must(save(f.Mira, 0, store.Answers{"goal": "stairs", intake.FieldDays: "2"}))
	storetest.Must(save(f.Mira, 1, store.Answers{"goal": "the hill"}))
	if _, err := save(f.Lead, 1, store.Answers{"goal": "the lake"}); !errors.Is(err, domain.ErrConflict) {
		t.Fatalf("the same field: %v; want %v", err, domain.ErrConflict)
	}
	_, draft, err := f.IntakeSince(t.Context(), f.Lead.Actor(), client, 1)
	if err != nil || draft.Base["goal"] != "stairs" || draft.Answers["goal"] != "the hill" || draft.ChangedBy["goal"] != "mira" || draft.ChangedBy[intake.FieldDays] != "" {
		t.Errorf("base %q, now %q, changed by %v, %v", draft.Base["goal"], draft.Answers["goal"], draft.ChangedBy, err)
	}
	// Another field, or the same answer, is no conflict.
	if v := storetest.Must(save(f.Lead, 1, store.Answers{intake.FieldDays: "3", "goal": "the hill"})); v != 3 {
		t.Errorf("version %d; want 3", v)
	}
	if _, err := save(f.Lead, 7, store.Answers{"goal": "x"}); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("a version from nowhere: %v", err)
	}
	if n := f.Count(`SELECT count(*) FROM intake_saves WHERE client_id = $1`, client); n != 3 {
		t.Errorf("%d saves are kept; want 3", n)
	}
	if _, err := f.Pool.Exec(t.Context(), `DELETE FROM intake_saves`); err == nil {
		t.Error("saves could be deleted")
	}
}

func TestDoubtsBlockTheDecision(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	version := storetest.Must(f.SaveIntake(t.Context(), f.Mira.Actor(), client, 0, storetest.Answers(intake.FieldWeight, "255")))
	_, err := f.Screen(t.Context(), f.Mira.Actor(), client, version)
	if doubts, ok := errors.AsType[domain.Doubts](err); !ok || doubts[intake.FieldWeight] == "" {
		t.Fatalf("an unusual weight: %v; want a doubt", err)
	}
	version = storetest.Must(f.SaveIntake(t.Context(), f.Mira.Actor(), client, version, store.Answers{intake.ConfirmedField(intake.FieldWeight): "255"}))
	if d, err := f.Screen(t.Context(), f.Mira.Actor(), client, version); err != nil || !d.Decided() {
		t.Errorf("confirmed: %v", err)
	}
}

// TestStanding follows what stands through a hold, a change in health and a year.
func TestStanding(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	mira := f.Mira.Actor()
	if _, err := f.Standing(t.Context(), mira, client); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("before the screening: %v", err)
	}
	f.ScreenClient(client)
	f.Wait(24 * time.Hour)
	s := storetest.Must(f.Standing(t.Context(), mira, client))
	if s.Ceiling != intensity.Vigorous || len(s.Due) != 0 || s.Before != nil || s.Consented {
		t.Errorf("after the screening: %+v", s)
	}
	if err := f.TightenCeiling(t.Context(), mira, client, intensity.Moderate, "careful at first"); err != nil {
		t.Fatal(err)
	}
	if err := f.TightenCeiling(t.Context(), mira, client, intensity.Moderate, "again"); err == nil {
		t.Error("the same ceiling is no stricter")
	}
	// A change that bears on nothing, and one that does.
	day := storetest.Day.AddDays(1)
	if err := f.ReportChange(t.Context(), mira, client, clearance.MedicineChange, day, "atorvastatin 20 mg"); err != nil {
		t.Fatal(err)
	}
	if s = storetest.Must(f.Standing(t.Context(), mira, client)); len(s.Due) != 0 || s.Ceiling != intensity.Moderate {
		t.Errorf("after a statin: due %v, ceiling %s", s.Due, s.Ceiling)
	}
	if err := f.ReportChange(t.Context(), mira, client, clearance.NewEvent, day, "fainted at work"); err != nil {
		t.Fatal(err)
	}
	if s = storetest.Must(f.Standing(t.Context(), mira, client)); len(s.Due) != 1 || s.Ceiling != intensity.None || s.Gate.Allow {
		t.Errorf("after a faint: due %v, ceiling %s", s.Due, s.Ceiling)
	}
	for _, line := range storetest.Must(f.Caseload(t.Context(), mira, "")) {
		if len(line.Due) != 1 {
			t.Errorf("the caseload says %v", line.Due)
		}
	}
	f.ScreenClient(client)
	if s = storetest.Must(f.Standing(t.Context(), mira, client)); len(s.Due) != 0 || s.Before == nil {
		t.Errorf("after the second screening: due %v", s.Due)
	}
	f.Wait(366 * 24 * time.Hour)
	if s = storetest.Must(f.Standing(t.Context(), mira, client)); len(s.Due) != 1 || s.Due[0].Rule != "E17" {
		t.Errorf("after a year: due %v", s.Due)
	}
	for action, least := range map[string]int{"decision.view": 5, "hold.open": 2, "health.change": 2} {
		if n := f.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, client); n < least {
			t.Errorf("%d entries %s; want %d", n, action, least)
		}
	}
}

// TestReclassify sets an answer aside after the decision: the answer and its hold
// stay, the group changes.
func TestReclassify(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	f.ScreenClient(client, "q.ankle_swelling", "yes")
	if err := f.Reclassify(t.Context(), f.Mira.Actor(), client, "ankle_swelling", " "); err == nil {
		t.Error("without a reason")
	}
	if err := f.Reclassify(t.Context(), f.Mira.Actor(), client, "resting_rate_120", "no"); err == nil {
		t.Error("a contraindication was set aside")
	}
	f.Wait(time.Minute)
	if err := f.Reclassify(t.Context(), f.Mira.Actor(), client, "ankle_swelling", "a sprain"); err != nil {
		t.Fatal(err)
	}
	s := storetest.Must(f.Standing(t.Context(), f.Mira.Actor(), client))
	if s.Screening.Decision.CeilingNow != intensity.Vigorous || s.Ceiling != intensity.None || s.Screening.Answers["q.ankle_swelling"] != "yes" {
		t.Errorf("screening %s, today %s, answer %s; want vigorous, none, yes", s.Screening.Decision.CeilingNow, s.Ceiling, s.Screening.Answers["q.ankle_swelling"])
	}
	if r := s.Screening.Input.Reclassified; len(r) != 1 || r[0].By != "mira" || r[0].Reason != "a sprain" {
		t.Errorf("set aside: %+v", r)
	}
	if s.Screening.Input.RestingReadings == nil {
		t.Error("what was measured is lost")
	}
}

// TestIntakeIsNotForOthers asks for what is new here as everybody who may not.
func TestIntakeIsNotForOthers(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	own := f.JoinClient(client, "jon")
	f.ScreenClient(client)
	given := consent.Given{Kind: consent.Care, Purpose: "p", What: "w", How: consent.Signed, On: storetest.Day}
	id := storetest.Must(f.RecordConsent(t.Context(), f.Mira.Actor(), client, given))
	calls := map[string]func(a store.Actor) error{
		"Standing":        func(a store.Actor) error { _, err := f.Standing(t.Context(), a, client); return err },
		"IntakeSince":     func(a store.Actor) error { _, _, err := f.IntakeSince(t.Context(), a, client, 0); return err },
		"TightenCeiling":  func(a store.Actor) error { return f.TightenCeiling(t.Context(), a, client, intensity.Light, "x") },
		"Reclassify":      func(a store.Actor) error { return f.Reclassify(t.Context(), a, client, "stroke", "x") },
		"RecordConsent":   func(a store.Actor) error { _, err := f.RecordConsent(t.Context(), a, client, given); return err },
		"WithdrawConsent": func(a store.Actor) error { return f.WithdrawConsent(t.Context(), a, client, id, "") },
		"ChangeClient": func(a store.Actor) error {
			return f.ChangeClient(t.Context(), a, client, store.Client{GivenName: "A", FamilyName: "B", BirthDate: storetest.Day.AddDays(-20000)})
		},
		"ReportChange": func(a store.Actor) error {
			return f.ReportChange(t.Context(), a, client, clearance.NewDiagnosis, storetest.Day, "x")
		},
	}
	before := f.Count(`SELECT count(*) FROM audit`)
	for name, call := range calls {
		for who, a := range map[string]store.Actor{"another practitioner": f.Tomas.Actor(), "nobody": {}, "the client": own.Actor()} {
			if err := call(a); !errors.Is(err, domain.ErrNotFound) && !errors.Is(err, domain.ErrForbidden) {
				t.Errorf("%s as %s: %v", name, who, err)
			}
		}
	}
	if after := f.Count(`SELECT count(*) FROM audit`); after != before {
		t.Errorf("refused calls wrote %d audit entries", after-before)
	}
}
