package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/heartrate"
	"brae/domain/intake"
	"brae/domain/intensity"
	"brae/domain/prescription"
	"brae/domain/source"
	"brae/store"
	"brae/store/storetest"
)

// A prescription by heart-rate reserve keeps its figures and what they rest on, and
// each version stays as it was signed. 58 years: 207 - 0.7 x 58 = 166.4 (Gellish 2007);
// 64 + 40 % of 102.4 = 104.96, 64 + 60 % = 125.44 (Karvonen 1957): 105 to 125.
func TestPrescriptionVersions(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira, client := t.Context(), f.Mira.Actor(), f.Client()
	f.ScreenClient(client)
	in := storetest.Walking(0)
	in.Method, in.Progression, in.Activities = prescription.Reserve, " Five minutes more each week. ", "Brisk walking\n\n Cycling "
	storetest.Must(f.SignPrescription(ctx, mira, client, in))
	second := storetest.Walking(1)
	second.SessionsPerWeek = 4
	storetest.Must(f.SignPrescription(ctx, mira, client, second))

	p := storetest.Must(f.Prescriptions(ctx, mira, client, 1))
	one, none := p.Version(1)
	two, before := p.Version(2)
	if one == nil || none != nil || two == nil || before != one || len(p.Versions) != 2 || len(p.Stale) != 0 {
		t.Fatalf("versions = %+v", p)
	}
	if one.Method != prescription.Reserve || len(one.Aim) != 1 || one.Aim[0].Low != 105 || one.Aim[0].High != 125 || one.Aim[0].Unit != store.UnitBPM {
		t.Errorf("by %s: %+v; want 105 to 125 beats", one.Method, one.Aim)
	}
	if one.Progression != "Five minutes more each week." || len(one.Kinds()) != 2 || one.Kinds()[1] != "Cycling" || one.Volume().ModerateEquivalent != 150 {
		t.Errorf("version 1 = %+v", one)
	}
	if one.Inputs == nil || one.Inputs.Age != 58 || one.Inputs.Rest != 64 || one.Inputs.Max != 166_400 || one.Inputs.Chosen {
		t.Errorf("it rests on %+v", one.Inputs)
	}
	if two.Method != prescription.Talk || len(two.Aim) != 0 {
		t.Errorf("without a method: %s, %+v; want the talk test", two.Method, two.Aim)
	}
	if _, err := f.Prescriptions(ctx, mira, client, 3); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("a version that was never signed: %v", err)
	}
	if _, err := f.Prescriptions(ctx, f.Tomas.Actor(), client, 0); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v", err)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'prescription.view' AND client_id = $1`, client); n != 1 {
		t.Errorf("%d entries for one look", n)
	}
}

// What a method needs and the record does not have is told at the method, and the
// limits of the form are the practice's settings.
func TestPrescriptionRefused(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira, client := t.Context(), f.Mira.Actor(), f.Client()
	f.ScreenClient(client, intake.FieldMedicines, "bisoprolol 2.5 mg")
	for name, tt := range map[string]struct {
		change func(*store.PrescriptionInput)
		field  string
	}{
		// A predicted maximum is not valid on a beta-blocker (Keteyian 2023).
		"heart rate on a beta-blocker": {func(in *store.PrescriptionInput) { in.Method = prescription.Reserve }, "method"},
		"per cent of maximum":          {func(in *store.PrescriptionInput) { in.Method = prescription.Maximum }, "method"},
		"work without a test":          {func(in *store.PrescriptionInput) { in.Method = prescription.Workload }, "method"},
		"no method":                    {func(in *store.PrescriptionInput) { in.Method = "stars" }, "method"},
		"too many":                     {func(in *store.PrescriptionInput) { in.SessionsPerWeek = 11 }, "sessions_per_week"},
		"too long":                     {func(in *store.PrescriptionInput) { in.MinutesPerSession = 241 }, "minutes_per_session"},
		"a long word on building up":   {func(in *store.PrescriptionInput) { in.Progression = strings.Repeat("x", 501) }, "progression"},
	} {
		if name == "too many" {
			if err := f.ChangeSettings(ctx, f.Lead.Actor(), 0, source.Values{"plan.sessions_most": 10}, "Ten are enough."); err != nil {
				t.Fatal(err)
			}
		}
		in := storetest.Walking(0)
		tt.change(&in)
		_, err := f.SignPrescription(ctx, mira, client, in)
		if problems, ok := errors.AsType[domain.Problems](err); !ok || problems[tt.field] == "" || len(problems) != 1 {
			t.Errorf("%s: %v; want a problem at %s", name, err, tt.field)
		}
	}
	in := storetest.Walking(0)
	in.Method = prescription.Effort
	storetest.Must(f.SignPrescription(ctx, mira, client, in))
}

// A prescription goes out of date with a medicine, a doctor's limit, a hold, a peak
// and a setting, and the worklist says so until the next one is signed.
func TestStalePrescriptions(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira := t.Context(), f.Mira.Actor()
	only := func(code, piece string) {
		t.Helper()
		list := storetest.Must(f.StalePrescriptions(ctx, mira))
		if len(list) != 1 || !func() bool {
			for _, r := range list[0].Reasons {
				if r.Code == code && strings.Contains(r.Says, piece) {
					return true
				}
			}
			return false
		}() {
			t.Errorf("%s: %+v; want %q", code, list, piece)
		}
	}
	client := f.Client()
	f.ScreenClient(client)
	storetest.Must(f.SignPrescription(ctx, mira, client, storetest.Walking(0)))
	f.Wait(time.Minute)
	if list := storetest.Must(f.StalePrescriptions(ctx, mira)); len(list) != 0 {
		t.Fatalf("just signed: %+v", list)
	}
	if err := f.ReportChange(ctx, mira, client, clearance.MedicineChange, storetest.Day, "metoprolol 50 mg since Monday"); err != nil {
		t.Fatal(err)
	}
	only("medicine", "metoprolol 50 mg since Monday")
	if _, err := f.StalePrescriptions(ctx, store.Actor{Role: domain.RoleClient}); !errors.Is(err, domain.ErrForbidden) {
		t.Errorf("a client: %v", err)
	}
	if list := storetest.Must(f.StalePrescriptions(ctx, f.Tomas.Actor())); len(list) != 0 {
		t.Errorf("another practitioner sees %+v", list)
	}

	// Signed again without a new screening, there is no range that the answers of before
	// would give: the practice has not been told what the medicine does.
	f.Wait(time.Minute)
	if d := storetest.Must(f.NewPrescription(ctx, mira, client)); d.Zones.Basis.Valid() || !strings.Contains(d.Zones.Reason, "metoprolol 50 mg since Monday") || d.Views.ByMaximum != nil {
		t.Errorf("a medicine was heard of, and the ranges are still %+v, by maximum %v", d.Zones, d.Views.ByMaximum)
	}
	storetest.Must(f.SignPrescription(ctx, mira, client, storetest.Walking(1)))
	if z := storetest.Must(f.Week(ctx, mira, client)).Prescription.Zones; z.Basis.Valid() {
		t.Errorf("signed without a screening, the ranges are %+v", z)
	}
	if list := storetest.Must(f.StalePrescriptions(ctx, mira)); len(list) != 0 {
		t.Errorf("signed without ranges: %+v", list)
	}

	f.Wait(time.Minute)
	f.ScreenClient(client, intake.FieldMedicines, "metoprolol 50 mg", intake.FieldResting1, "54")
	only("medicine", "is new: metoprolol 50 mg")
	only("rest", "54 now, and was 64")
	record := storetest.Must(f.Record(ctx, mira, client))
	if len(record.Stale) == 0 {
		t.Error("the record does not say so")
	}
	found := false
	for _, item := range storetest.Must(f.Worklist(ctx, mira, store.WorklistFilter{})).Items {
		found = found || item.Kind == "outdated" && strings.HasSuffix(item.Href, "/prescription/new") && strings.Contains(item.Text, "out of date")
	}
	if !found {
		t.Error("the worklist does not list it")
	}
	f.Wait(time.Minute)
	storetest.Must(f.SignPrescription(ctx, mira, client, storetest.Walking(2)))
	if list := storetest.Must(f.StalePrescriptions(ctx, mira)); len(list) != 0 {
		t.Errorf("signed anew: %+v", list)
	}

	f.Wait(time.Minute)
	limited := storetest.Cleared(intensity.Moderate)
	limited.Limits.HeartRate = 118
	storetest.Must(f.RecordClearance(ctx, mira, client, limited))
	only("doctor", "limit of 118")

	f.Wait(time.Minute)
	f.ScreenClient(client, intake.FieldMedicines, "metoprolol 50 mg", intake.FieldPeak, "138", intake.FieldPeakOn, "2026-11-20",
		intake.FieldPeakMode, "treadmill", intake.FieldPeakLimited, "yes", intake.FieldPeakSame, "yes")
	only("peak", "138 has been measured")
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'prescription.stale'`); n == 0 {
		t.Error("the looks left no trace")
	}
}

// An equation that the lead changes makes prescriptions stale that rest on the usual
// one, and a hold those above it; a version that was signed before inputs were kept is
// judged by what is allowed now alone.
func TestStaleByPractice(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	ctx, mira, usual, chosen := t.Context(), f.Mira.Actor(), f.Client(), f.Client()
	for id, equation := range map[uuid.UUID]heartrate.Equation{usual: "", chosen: heartrate.Gellish2007} {
		f.ScreenClient(id)
		in := storetest.Walking(0)
		in.Equation = equation
		storetest.Must(f.SignPrescription(ctx, mira, id, in))
	}
	f.Wait(time.Minute)
	if err := f.ChangeSettings(ctx, f.Lead.Actor(), 0, source.Values{"heartrate.default_equation": 2}, "As in the paper."); err != nil {
		t.Fatal(err)
	}
	list := storetest.Must(f.StalePrescriptions(ctx, mira))
	if len(list) != 1 || list[0].ClientID != usual || list[0].Reasons[0].Code != "equation" {
		t.Errorf("another equation: %+v; want the one that was not chosen", list)
	}
	if _, err := f.Pool.Exec(ctx, `
		WITH changed AS (UPDATE clients SET revision = gen_random_uuid() WHERE id = $1)
		INSERT INTO prescriptions (id, client_id, version, screening_id, class, sessions_per_week, minutes_per_session, activities, target, target_light, note, zones, signed_at, signed_by)
		SELECT gen_random_uuid(), client_id, 2, screening_id, class, 5, 30, activities, 150, false, '', zones, signed_at, signed_by FROM prescriptions WHERE client_id = $1`, usual); err != nil {
		t.Fatal(err)
	}
	if list := storetest.Must(f.StalePrescriptions(ctx, mira)); len(list) != 0 {
		t.Errorf("without inputs: %+v", list)
	}
	storetest.Must(f.OpenHold(ctx, mira, usual, clearance.All, "Feverish."))
	list = storetest.Must(f.StalePrescriptions(ctx, mira))
	if len(list) != 1 || list[0].Reasons[0].Code != "ceiling" || !strings.Contains(list[0].Reasons[0].Says, "Feverish.") {
		t.Errorf("on hold: %+v", list)
	}
}
