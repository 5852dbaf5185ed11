package store_test

import (
	"errors"
	"testing"

	"brae/domain"
	"brae/domain/source"
	"brae/store/storetest"
)

func TestChangeSettings(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	values := source.Values{"volume.target": 120}
	if err := f.ChangeSettings(t.Context(), f.Mira.Actor(), 0, values, "older clients"); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("as a practitioner: %v; want %v", err, domain.ErrForbidden)
	}
	for _, tt := range []struct {
		reason, field string
		values        source.Values
		why           string
	}{
		{"no reason", "reason", values, " "},
		{"out of range", "volume.target", source.Values{"volume.target": 10_000}, "x"},
		{"an unknown setting", "no.such", source.Values{"no.such": 1}, "x"},
		{"nothing different", "reason", source.Values{"volume.target": 150}, "x"},
	} {
		err := f.ChangeSettings(t.Context(), f.Lead.Actor(), 0, tt.values, tt.why)
		if problems, ok := errors.AsType[domain.Problems](err); !ok || problems[tt.field] == "" {
			t.Errorf("%s: %v; want a problem of %s", tt.reason, err, tt.field)
		}
	}
	if err := f.ChangeSettings(t.Context(), f.Lead.Actor(), 0, values, "older clients"); err != nil {
		t.Fatal(err)
	}
	if err := f.ChangeSettings(t.Context(), f.Lead.Actor(), 0, source.Values{"volume.target": 90}, "x"); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("from a page that is out of date: %v; want %v", err, domain.ErrConflict)
	}
	in := storetest.Must(f.Settings(t.Context(), f.Mira.Actor()))
	if in.Version != 1 || in.Changed["volume.target"] != 120 || in.Reason != "older clients" || in.SetBy != "Ines Harrow" {
		t.Errorf("settings = %+v; want version 1 with 120", in)
	}
	// The rules use them at once: a client without a prescription has this target.
	if week := storetest.Must(f.Week(t.Context(), f.Mira.Actor(), f.Client())); week.Target.Minutes != 120 {
		t.Errorf("target = %d; want 120", week.Target.Minutes)
	}
	if err := f.ChangeSettings(t.Context(), f.Lead.Actor(), 1, source.Values{"volume.target": 150}, "back"); err != nil {
		t.Fatal(err)
	}
	if in := storetest.Must(f.Settings(t.Context(), f.Lead.Actor())); in.Version != 2 || len(in.Changed) != 0 {
		t.Errorf("settings = %+v; want version 2, all defaults", in)
	}
}

// TestSettingsChangeNoOldDecision changes the setting that a decision was taken
// with and reads the decision again.
func TestSettingsChangeNoOldDecision(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	client := f.Client()
	before := f.ScreenClient(client, "activity_days", "0")
	if before.PracticeRule != "P1" {
		t.Fatalf("practice rule = %q; want P1 for 58 years, not active", before.PracticeRule)
	}
	if err := f.ChangeSettings(t.Context(), f.Lead.Actor(), 0, source.Values{"screening.age_light_first_over": 70}, "published rule only"); err != nil {
		t.Fatal(err)
	}
	_, kept, err := f.Decision(t.Context(), f.Mira.Actor(), client)
	if err != nil || kept.Decision.PracticeRule != "P1" || kept.Decision.CeilingNow != before.CeilingNow {
		t.Errorf("the old decision = %+v, %v; want it as it was", kept.Decision, err)
	}
	if after := f.ScreenClient(f.Client(), "activity_days", "0"); after.PracticeRule != "" {
		t.Errorf("practice rule of a new decision = %q; want none", after.PracticeRule)
	}
}

func TestSignRules(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	if in := storetest.Must(f.Settings(t.Context(), f.Lead.Actor())); in.Signed != nil {
		t.Error("a new practice has signed already")
	}
	if err := f.SignRules(t.Context(), f.Mira.Actor(), 0, "Mira"); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("as a practitioner: %v; want %v", err, domain.ErrForbidden)
	}
	if err := f.SignRules(t.Context(), f.Lead.Actor(), 0, " "); err == nil {
		t.Error("signed without a name")
	}
	if err := f.SignRules(t.Context(), f.Lead.Actor(), 1, "Ines Harrow"); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("a version that is not in use: %v; want %v", err, domain.ErrConflict)
	}
	if err := f.SignRules(t.Context(), f.Lead.Actor(), 0, "Ines Harrow"); err != nil {
		t.Fatal(err)
	}
	if in := storetest.Must(f.Settings(t.Context(), f.Lead.Actor())); in.Signed == nil || in.Signed.Name != "Ines Harrow" {
		t.Errorf("signed = %+v; want Ines Harrow", in.Signed)
	}
	if err := f.ChangeSettings(t.Context(), f.Lead.Actor(), 0, source.Values{"volume.target": 120}, "x"); err != nil {
		t.Fatal(err)
	}
	if in := storetest.Must(f.Settings(t.Context(), f.Lead.Actor())); in.Signed != nil {
		t.Error("the signature counts for other settings than were signed")
	}
}
