package store_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/intensity"
	"brae/domain/plan"
	"brae/domain/prescription"
	"brae/store"
	"brae/store/storetest"
)

// atTheGoal is a client who has walked 5 x 30 minutes easily for weeks, with moderate
// work as the ceiling: there is nothing left but a little harder within the class.
func atTheGoal(t *testing.T, f *storetest.Practice) uuid.UUID {
	t.Helper()
	client := f.Client()
	f.ScreenClient(client, "q.diabetes_type_2", "yes", "resting_1", "60", "posture", "seated")
	rx := storetest.Walking(0)
	rx.Method = prescription.Reserve
	storetest.Must(f.SignPrescription(t.Context(), f.Mira.Actor(), client, rx))
	for range 5 {
		for range 5 {
			s := storetest.Walk(30)
			s.Day = domain.DateOf(f.Tick(), time.UTC)
			s.Parts[0].Effort, s.Parts[0].Talk = 11, intensity.TalkSentences
			storetest.Must(f.LogSession(t.Context(), f.Mira.Actor(), client, s))
			f.Wait(24 * time.Hour)
		}
		f.Wait(48 * time.Hour)
	}
	return client
}

func bandOf(z store.Zones, c intensity.Class) store.Band {
	for _, b := range z.Bands {
		if b.Class == c {
			return b
		}
	}
	return store.Band{}
}

// A step within the class is taken with the signature under the prescription that has
// it, once, and without the signature nothing is recorded. Its low end is that of five
// per cent more of the reserve: rest + 45 % (Karvonen 1957; five per cent is a practice
// setting).
func TestStepWithinTheClass(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	mira := f.Mira.Actor()
	client := atTheGoal(t, f)
	p := storetest.Must(f.ProgressOf(t.Context(), mira, client))
	if p.Standing.Status != plan.SteadyTooLong || p.Standing.Step.Reserve != 5 || !p.Offered() {
		t.Fatalf("standing = %+v; want steady too long, and five per cent within the class", p.Standing)
	}
	in := answer(p, store.StepAccepted)
	if err := f.AnswerStep(t.Context(), mira, client, in); !errors.Is(err, domain.ErrConflict) {
		t.Errorf("a form that did not show the step: %v; want %v", err, domain.ErrConflict)
	}
	in.Reserve, in.Word = 5, ""
	if err := f.AnswerStep(t.Context(), mira, client, in); !errors.Is(err, store.ErrPrescribe) {
		t.Fatalf("accepted: %v; want %v", err, store.ErrPrescribe)
	}
	before := bandOf(p.Prescription.Zones, intensity.Moderate)
	d := storetest.Must(f.StepPrescription(t.Context(), mira, client, in))
	want := store.PrescriptionInput{
		Version: 1, Class: intensity.Moderate, SessionsPerWeek: 5, MinutesPerSession: 30, Activities: p.Prescription.Activities,
		TargetMinutes: p.Prescription.TargetMinutes, Note: p.Prescription.Note, Method: prescription.Reserve, Raised: 5, Step: d.Proposed.Step,
	}
	if *d.Proposed != want {
		t.Errorf("proposed = %+v; want that change alone: %+v", *d.Proposed, want)
	}
	if n := f.Count(`SELECT count(*) FROM progress_steps`); n != 0 {
		t.Errorf("%d answers before the signature", n)
	}
	if _, err := f.StepPrescription(t.Context(), f.Tomas.Actor(), client, in); !errors.Is(err, domain.ErrNotFound) {
		t.Errorf("another practitioner: %v", err)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action = 'prescription.new' AND client_id = $1`, client); n != 1 {
		t.Errorf("%d looks at the draft in the audit trail; want 1", n)
	}

	// Another number of sessions is another step, and asks for a word why.
	other := *d.Proposed
	other.SessionsPerWeek = 4
	if problems, ok := errors.AsType[domain.Problems](errOf(f.SignPrescription(t.Context(), mira, client, other))); !ok || problems["word"] == "" {
		t.Errorf("changed in the editor without a word: %v", problems)
	}
	other.SessionsPerWeek, other.Raised = 5, 20
	if problems, ok := errors.AsType[domain.Problems](errOf(f.SignPrescription(t.Context(), mira, client, other))); !ok {
		t.Errorf("beyond the class: %v", problems)
	}
	for range 2 { // sent twice
		if _, err := f.SignPrescription(t.Context(), mira, client, *d.Proposed); err != nil {
			t.Fatal(err)
		}
	}
	p = storetest.Must(f.ProgressOf(t.Context(), mira, client))
	after := bandOf(p.Prescription.Zones, intensity.Moderate)
	low := (45*(p.Prescription.Zones.Max-60_000) + 60_000*100 + 99_999) / 100_000 // rest + 45 %, up to a whole beat
	if p.Prescription.Version != 2 || int(after.Low) != low || after.Low <= before.Low || after.High != before.High || p.Prescription.Aim[0].Low != float64(low) {
		t.Errorf("version %d, %+v after %+v, aim %+v; want version 2 from %d", p.Prescription.Version, after, before, p.Prescription.Aim, low)
	}
	if len(p.Steps) != 1 || p.Steps[0].Answer != store.StepAccepted || p.Steps[0].Suggestion.Reserve != 5 || p.Plan != nil {
		t.Errorf("steps = %+v, plan %+v; want one answer and no plan", p.Steps, p.Plan)
	}
	if p.Standing.Step.Reserve != 0 || p.Standing.Status != plan.OnPlan {
		t.Errorf("right after it: %+v; want it left alone", p.Standing)
	}
	lines := storetest.Must(f.Timeline(t.Context(), mira, client, []string{"plan", "prescription"}, 0, 10)).Lines
	if len(lines) != 3 || lines[0].What == lines[1].What {
		t.Errorf("timeline = %+v; want the answer and two signatures", lines)
	}
	if n := f.Count(`SELECT count(*) FROM audit WHERE action IN ('progress.answer', 'prescription.sign') AND client_id = $1`, client); n != 3 {
		t.Errorf("%d signatures and answers in the audit trail; want 3", n)
	}

	// What a heart rate counts as is not moved by it.
	s := storetest.Walk(30)
	s.Day = domain.DateOf(f.Tick(), time.UTC)
	s.Parts[0] = store.PartInput{Activity: "walk_brisk", Minutes: 30, HeartRate: int(before.Low), Talk: intensity.TalkSentences}
	storetest.Must(f.LogSession(t.Context(), mira, client, s))
	if got := storetest.Must(f.Session(t.Context(), mira, client, s.ID)); got.Parts[0].Class != intensity.Moderate {
		t.Errorf("%d beats count as %s; want moderate as before", before.Low, got.Parts[0].Class)
	}
}

func errOf[T any](_ T, err error) error { return err }

// A few vigorous minutes within moderate sessions are signed as what they are: the work
// moderate, with its figures, and the class that the gate looks at vigorous.
func TestSignSomeVigorous(t *testing.T) {
	t.Parallel()
	f := storetest.SetUp(t)
	mira := f.Mira.Actor()
	client := f.Client()
	f.ScreenClient(client, "resting_1", "60", "posture", "seated", "activity_class", "vigorous")
	in := storetest.Walking(0)
	in.Class, in.VigorousMinutes, in.Method = intensity.Vigorous, 10, prescription.Reserve
	for field, wrong := range map[string]store.PrescriptionInput{
		"more than the week":       {Class: intensity.Vigorous, VigorousMinutes: 151},
		"within moderate, unnamed": {Class: intensity.Moderate, VigorousMinutes: 10},
	} {
		bad := in
		bad.Class, bad.VigorousMinutes = wrong.Class, wrong.VigorousMinutes
		if problems, ok := errors.AsType[domain.Problems](errOf(f.SignPrescription(t.Context(), mira, client, bad))); !ok || problems["vigorous_minutes"] == "" {
			t.Errorf("%s: %v", field, problems)
		}
	}
	draft := storetest.Must(f.NewPrescription(t.Context(), mira, client))
	if draft.Ceiling < intensity.Vigorous {
		t.Fatalf("ceiling %v; want vigorous", draft.Ceiling)
	}
	storetest.Must(f.SignPrescription(t.Context(), mira, client, in))
	w := storetest.Must(f.Week(t.Context(), mira, client))
	pr := *w.Prescription
	if pr.Class != intensity.Vigorous || pr.Dose() != (plan.Dose{Class: intensity.Moderate, Sessions: 5, Minutes: 30, Vigorous: 10}) {
		t.Errorf("signed %v, %+v", pr.Class, pr.Dose())
	}
	if band := bandOf(pr.Zones, intensity.Moderate); len(pr.Aim) != 1 || pr.Aim[0].Low != float64(band.Low) {
		t.Errorf("aim %+v; want that of moderate work, from %d", pr.Aim, band.Low)
	}
	if pr.Volume().ModerateEquivalent != 160 { // PAGA 2018: 140 + 2 x 10
		t.Errorf("volume %+v", pr.Volume())
	}
	if w.Next.Class != intensity.Moderate {
		t.Errorf("next %+v; want moderate", w.Next)
	}
	lines := storetest.Must(f.Timeline(t.Context(), mira, client, []string{"prescription"}, 0, 10)).Lines
	if len(lines) != 1 || lines[0].A != "moderate" || !strings.Contains(lines[0].B, "of which 10 minutes vigorous") {
		t.Errorf("timeline %+v", lines)
	}
	storetest.Must(f.OpenHold(t.Context(), mira, client, clearance.Vigorous, "A new pain in the calf."))
	in.Version = 1
	if _, err := f.SignPrescription(t.Context(), mira, client, in); !errors.Is(err, domain.ErrHeld) {
		t.Errorf("under a hold: %v; want %v", err, domain.ErrHeld)
	}
}
