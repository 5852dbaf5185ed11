package web_test

import (
	"net/http"
	"strconv"
	"strings"
	"testing"

	"brae/domain/intake"
	"brae/domain/screening"
	"brae/store"
	"brae/store/storetest"
)

// takeIn fills in the whole intake by its form, one step after the other, and
// decides. Fields that are not named stay empty; health questions are no.
func takeIn(b *browser, client string, answers map[string]string) reply {
	b.t.Helper()
	version := 0
	for _, step := range []struct {
		id     string
		fields []string
		do     string
	}{
		{"activity", []string{intake.FieldDays, intake.FieldMinutes, intake.FieldMonths, intake.FieldActivityClass}, "next"},
		{"diseases", nil, "rest_no"}, {"symptoms", nil, "rest_no"}, {"medicines", []string{intake.FieldMedicines}, "next"},
		{"more", nil, "rest_no"}, {"findings", nil, "next"},
		{"measurements", []string{
			intake.FieldResting1, intake.FieldSystolic, intake.FieldDiastolic, intake.FieldPeak, intake.FieldPeakOn, intake.FieldPeakLimited, intake.FieldPeakSame,
		}, "next"},
		{"limits", []string{intake.FieldFalls}, "next"}, {"goal", []string{intake.FieldDesired}, "next"},
	} {
		form := []string{"version", strconv.Itoa(version), "do", step.do}
		for _, field := range step.fields {
			form = append(form, field, answers[field])
		}
		for field, value := range answers {
			code, isQuestion := strings.CutPrefix(field, "q.")
			if term, ok := screening.TermOf(code); isQuestion && ok && stepOf(term) == step.id {
				form = append(form, field, value)
			}
		}
		if r := b.post(client+"/intake/"+step.id, form...); r.status != http.StatusSeeOther {
			b.t.Fatalf("step %s: %d %s", step.id, r.status, told(r.body))
		}
		version++
	}
	return b.post(client+"/screening", "version", strconv.Itoa(version))
}

func stepOf(t screening.Term) string {
	switch {
	case t.Tier != "":
		return "findings"
	case t.Kind == screening.Symptom:
		return "symptoms"
	case t.Kind == screening.Known:
		return "diseases"
	}
	return "more"
}

// told is what a page says in its problems.
func told(body string) string {
	if i := strings.Index(body, `class="summary"`); i >= 0 {
		return body[i:min(len(body), i+600)]
	}
	return ""
}

// The fields of two people's lives.
var (
	idle   = map[string]string{intake.FieldDays: "0"}
	active = map[string]string{intake.FieldDays: "3", intake.FieldMinutes: "30", intake.FieldMonths: "3", intake.FieldActivityClass: "moderate"}
)

func merged(maps ...map[string]string) map[string]string {
	all := map[string]string{}
	for _, m := range maps {
		for k, v := range m {
			all[k] = v
		}
	}
	return all
}

// TestEighteenCells takes somebody through the real form for each cell of the
// screening published by the ACSM in 2015 (Riebe et al., figure; read in copies).
// The ceilings and holds stand here as they stand there, for somebody of 30, so
// that the practice's own light start does not bear on them.
func TestEighteenCells(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	disease, symptom := map[string]string{"q.diabetes_type_2": "yes"}, map[string]string{"q.chest_pressure": "yes"}
	row := 0
	for _, group := range []struct {
		regular bool
		answers map[string]string
		says    string // that the page says of what may be done today
	}{
		{false, nil, "May do today: start with up to moderate exercise. It may build up to vigorous in time."},
		{false, disease, "May do today: no exercise."},
		{false, symptom, "May do today: no exercise."},
		{true, nil, "May do today: up to vigorous exercise."},
		{true, disease, "May do today: up to moderate exercise. Vigorous work waits until a doctor has answered."},
		{true, symptom, "May do today: no exercise."},
	} {
		for _, desired := range []string{"light", "moderate", "vigorous"} {
			row++
			client := "/clients/" + young(s)
			life := idle
			if group.regular {
				life = active
			}
			if r := takeIn(b, client, merged(life, group.answers, map[string]string{intake.FieldDesired: desired})); r.status != http.StatusSeeOther {
				t.Fatalf("R%d: decided with %d", row, r.status)
			}
			page := b.get(client + "/decision").body
			if !strings.Contains(page, "published row R"+strconv.Itoa(row)+",") || !strings.Contains(page, group.says) {
				t.Errorf("R%d wants %s: the page does not say %q", row, desired, group.says)
			}
		}
	}
}

// young is a client of 30.
func young(s *site) string {
	return storetest.Must(s.AddClient(s.t.Context(), s.Mira.Actor(), store.Client{
		GivenName: "Kim", FamilyName: "Birk", BirthDate: storetest.Day.AddDays(-30*366 + 30),
	})).String()
}

// TestDecisionPages looks for what a page must say in cases of their own.
func TestDecisionPages(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	moderate := map[string]string{intake.FieldDesired: "moderate", intake.FieldResting1: "64"}
	peak := map[string]string{intake.FieldPeak: "132", intake.FieldPeakOn: "2026-10-01", intake.FieldPeakLimited: "yes", intake.FieldPeakSame: "yes"}
	for _, tt := range []struct {
		source     string
		answers    map[string]string
		says, nots []string // on the decision or the prescription page
	}{
		{"practice rule P1, apart from the published row", merged(idle, moderate), []string{"The published rule allows moderate work at once", "rule P1"}, nil},
		{"Keteyian 2023: beta-blocker without a test", merged(active, moderate, map[string]string{intake.FieldMedicines: "metoprolol 50 mg"}),
			[]string{"What is the beta-blocker", "Mind heat"}, []string{" bpm"}},
		{"Keteyian 2023: beta-blocker, peak measured on it", merged(active, moderate, peak, map[string]string{intake.FieldMedicines: "metoprolol 50 mg", "q.hypertension": "yes"}),
			[]string{" bpm", "Cool down longer"}, []string{"What is the beta-blocker"}},
		{"Keteyian 2019: atrial fibrillation", merged(active, moderate, map[string]string{"q.atrial_fibrillation": "yes"}),
			[]string{"R14", "Vigorous work waits"}, []string{" bpm"}},
		{"ACOG 804: pregnancy", merged(active, moderate, map[string]string{"q.pregnant": "yes"}), []string{"talk test", "obstetric team"}, []string{" bpm"}},
		{"JABFM table 7: a pressure above 200 that was measured", merged(active, moderate, map[string]string{intake.FieldSystolic: "205", intake.FieldDiastolic: "95", "confirm": ""}),
			[]string{"no exercise"}, nil},
	} {
		client := "/clients/" + s.Client().String()
		answers := tt.answers
		if answers[intake.FieldSystolic] == "205" { // confirmed, since it is unusual
			id := storetest.Must(s.AddClient(t.Context(), s.Mira.Actor(), store.Client{GivenName: "A", FamilyName: "B", BirthDate: storetest.Day.AddDays(-18000)}))
			s.ScreenClient(id, intake.FieldSystolic, "205", intake.FieldDiastolic, "95", intake.ConfirmedField(intake.FieldSystolic), "205")
			client = "/clients/" + id.String()
		} else if r := takeIn(b, client, answers); r.status != http.StatusSeeOther {
			t.Fatalf("%s: decided with %d", tt.source, r.status)
		}
		text := b.get(client+"/decision").body + b.get(client+"/prescription/new").body
		for _, want := range tt.says {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the pages do not say %q", tt.source, want)
			}
		}
		for _, not := range tt.nots {
			if strings.Contains(text, not) {
				t.Errorf("%s: the pages say %q", tt.source, not)
			}
		}
	}
}

// TestMeasurementsAreConfirmed types what is unusual, impossible, and in other
// units (1 lb is 0.45359237 kg, 1 in 2.54 cm by definition).
func TestMeasurementsAreConfirmed(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	id := s.Client()
	step := "/clients/" + id.String() + "/intake/measurements"
	r := b.post(step, "version", "0", "weight", "255", "systolic", "185", "diastolic", "95")
	if r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "outside 35 to 250 kg") || !strings.Contains(r.body, "outside 90 to 179 mmHg") {
		t.Fatalf("unusual values: %d; want questions", r.status)
	}
	_, draft, err := s.IntakeDraft(t.Context(), s.Mira.Actor(), id)
	if err != nil || draft.Answers["weight"] != "255" {
		t.Errorf("what was typed is %q, %v", draft.Answers["weight"], err)
	}
	if r := b.post(step, "version", "1", "weight", "255", "confirmed.weight", "255", "systolic", "185", "diastolic", "95", "confirmed.systolic", "185"); r.status != http.StatusSeeOther {
		t.Errorf("confirmed: %d %s", r.status, told(r.body))
	}
	if r := b.post(step, "version", "2", "weight", "256", "confirmed.weight", "255"); r.status != http.StatusUnprocessableEntity {
		t.Errorf("another value than the one that was confirmed: %d", r.status)
	}
	if r := b.post(step, "version", "3", "weight", "700"); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "from 20 to 400 kg") {
		t.Errorf("an impossible weight: %d", r.status)
	}
	if r := b.post(step, "version", "4", "weight", "160", "weight_unit", "lb", "height", "70", "height_unit", "in"); r.status != http.StatusSeeOther {
		t.Errorf("pounds and inches: %d %s", r.status, told(r.body))
	}
	_, draft, _ = s.IntakeDraft(t.Context(), s.Mira.Actor(), id)
	if record := draft.Outlook.Record; record.WeightTenths != 726 || record.HeightTenths != 1778 {
		t.Errorf("160 lb and 70 in are %d and %d tenths; want 726 and 1778", record.WeightTenths, record.HeightTenths)
	}
}

// TestTwoAtOneIntake has two people at one step: both versions are shown, and each
// answer is chosen.
func TestTwoAtOneIntake(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	base := "/clients/" + id.String() + "/intake/"
	mira, ines := s.as("mira"), s.as("ines")
	mira.post(base+"activity", "version", "0", "activity_days", "2", "activity_minutes", "20", "activity_months", "1")
	// Both look at version 1. Mira saves first.
	mira.post(base+"activity", "version", "1", "activity_days", "3", "activity_minutes", "25", "activity_months", "1")
	r := ines.post(base+"activity", "version", "1", "activity_days", "4", "activity_minutes", "20", "activity_months", "6")
	if r.status != http.StatusConflict {
		t.Fatalf("saving over another's answers: %d", r.status)
	}
	for _, want := range []string{"Yours: 4", "By mira: 3", "Yours: 20", "By mira: 25", "Yours: 6", "By mira: 1"} {
		if !strings.Contains(r.body, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if _, draft, _ := s.IntakeDraft(t.Context(), s.Mira.Actor(), id); draft.Answers["activity_days"] != "3" {
		t.Errorf("after the conflict the days are %s", draft.Answers["activity_days"])
	}
	// Ines keeps her days and months and takes Mira's minutes.
	ines.post(base+"activity", "version", "2", "activity_days", "4", "activity_minutes", "20", "activity_months", "6",
		"pick.activity_days", "mine", "pick.activity_minutes", "theirs", "theirs.activity_minutes", "25", "pick.activity_months", "mine")
	_, draft, _ := s.IntakeDraft(t.Context(), s.Mira.Actor(), id)
	if got := draft.Answers["activity_days"] + " " + draft.Answers["activity_minutes"] + " " + draft.Answers["activity_months"]; got != "4 25 6" {
		t.Errorf("after the choice: %s; want 4 25 6", got)
	}
	// What two people save in different steps needs no choice.
	if r := mira.post(base+"goal", "version", "2", "desired", "light", "goal", "up the hill"); r.status != http.StatusSeeOther {
		t.Errorf("another step on an old version: %d", r.status)
	}
	if n := s.Count(`SELECT count(*) FROM intake_saves`); n != 4 {
		t.Errorf("%d saves are kept; want 4", n)
	}
}

// TestOutlook follows the side panel.
func TestOutlook(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	base := "/clients/" + s.Client().String() + "/intake/"
	b.post(base+"activity", "version", "0", "activity_days", "3", "activity_minutes", "30", "activity_months", "3", "activity_class", "moderate")
	if body := b.get(base + "diseases").body; !strings.Contains(body, "Up to vigorous exercise.") {
		t.Error("a regular exerciser without an answer yet: the panel does not say vigorous")
	}
	b.post(base+"diseases", "version", "1", "q.diabetes_type_2", "yes", "do", "auto")
	body := b.get(base + "diseases").body
	for _, want := range []string{"Up to moderate exercise.", "Before: Up to vigorous exercise.", "New: Type 2 diabetes counts as known disease", `aria-live="polite"`} {
		if !strings.Contains(body, want) {
			t.Errorf("after a yes to diabetes the panel does not say %q", want)
		}
	}
	b.post(base+"medicines", "version", "2", "medicine_name", "metoprolol", "medicine_dose", "50 mg", "medicine_since", "2024-05", "do", "add")
	body = b.get(base + "medicines").body
	for _, want := range []string{"metoprolol 50 mg, since 2024-05", "Do not trust a predicted maximum", "No ranges."} {
		if !strings.Contains(body, want) {
			t.Errorf("after a beta-blocker was added the page does not say %q", want)
		}
	}
}

// TestSetAsideAndStricter lets a practitioner judge, in their name.
func TestSetAsideAndStricter(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := s.as("mira")
	id := s.Client()
	client := "/clients/" + id.String()
	b.post(client+"/intake/symptoms", "version", "0", "q.ankle_swelling", "yes", "aside.ankle_swelling", "a sprained ankle", "aside_by.ankle_swelling", "somebody else", "do", "rest_no")
	_, draft, _ := s.IntakeDraft(t.Context(), s.Mira.Actor(), id)
	if by := draft.Answers["aside_by.ankle_swelling"]; by != "mira" {
		t.Errorf("set aside by %q; want mira", by)
	}
	if got := draft.Outlook.Decision.Group; got != screening.NoDisease {
		t.Errorf("with the swelling set aside the group is %s", got)
	}
	s.ScreenClient(id, "q.ankle_swelling", "yes", "aside.ankle_swelling", "a sprained ankle")
	page := b.get(client + "/decision").body
	for _, want := range []string{"Swelling of the ankles or of one leg, by mira: a sprained ankle", "Up to vigorous"} {
		if !strings.Contains(page, want) {
			t.Errorf("the decision does not say %q", want)
		}
	}
	if r := b.post(client+"/stricter", "ceiling", "vigorous", "reason", "x"); r.status != http.StatusUnprocessableEntity {
		t.Errorf("no stricter than what stands: %d", r.status)
	}
	if r := b.post(client+"/stricter", "ceiling", "light", "reason", ""); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "Write why.") {
		t.Errorf("without a reason: %d", r.status)
	}
	if r := b.post(client+"/stricter", "ceiling", "light", "reason", "tired after a cold"); r.status != http.StatusSeeOther {
		t.Fatalf("stricter: %d", r.status)
	}
	page = b.get(client + "/decision").body
	for _, want := range []string{"May do today: up to light exercise. A hold keeps it there.", "May not: anything harder than light exercise.", "a practitioner releases the hold"} {
		if !strings.Contains(page, want) {
			t.Errorf("after the hold the decision does not say %q", want)
		}
	}
	if r := b.post(client+"/stricter", "ceiling", "moderate", "reason", "better"); r.status != http.StatusUnprocessableEntity {
		t.Errorf("looser by the same form: %d", r.status)
	}
}

// TestScreenAgain waits a year, and lets a new medicine come.
func TestScreenAgain(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	client := "/clients/" + id.String()
	s.ScreenClient(id)
	b := s.as("mira")
	if body := b.get(client).body; strings.Contains(body, "Screen again</p>") || strings.Contains(b.get("/clients").body, "Screen again") {
		t.Error("a new screening is due on the day of the screening")
	}
	s.Wait(25 * 3600e9)
	b = s.as("mira")
	if r := b.post(client+"/changes", "kind", "medicine_change", "day", "2026-11-26", "note", "atenolol 25 mg"); r.status != http.StatusSeeOther {
		t.Fatalf("a change: %d %s", r.status, told(r.body))
	}
	for _, path := range []string{client, client + "/decision"} {
		if body := b.get(path).body; !strings.Contains(body, "A medicine has changed that bears on heart rate") {
			t.Errorf("%s does not say why to screen again", path)
		}
	}
	if body := b.get("/clients").body; !strings.Contains(body, "Screen again") {
		t.Error("the caseload does not say that a screening is due")
	}
	s.ScreenClient(id, "q.diabetes_type_2", "yes")
	page := b.get(client + "/decision").body
	for _, want := range []string{"Since the screening of Wed 25 Nov 2026", "Allowed: Up to moderate; before: up to vigorous", "New: Type 2 diabetes"} {
		if !strings.Contains(page, want) {
			t.Errorf("the decision does not say %q", want)
		}
	}
	// The old answers stand beside the new ones.
	b.post(client+"/intake/diseases", "version", "0", "q.diabetes_type_2", "no", "do", "auto")
	if body := b.get(client + "/intake/diseases").body; !strings.Contains(body, "Last time, on Thu 26 Nov 2026: yes.") {
		t.Error("the form does not say what was answered last time")
	}
	if r := b.post(client+"/changes", "kind", "new_symptom", "day", "2026-11-26", "note", "chest pressure on stairs"); r.status != http.StatusSeeOther {
		t.Fatalf("a symptom: %d", r.status)
	}
	if body := b.get(client + "/decision").body; !strings.Contains(body, "May do today: no exercise.") {
		t.Error("after a new symptom exercise goes on")
	}
}

// TestConsents records, shows and withdraws what a client agreed to.
func TestConsents(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	client := "/clients/" + id.String()
	b := s.as("mira")
	if r := b.post(client+"/consents", "kind", "share", "purpose", "p", "what", "w", "given_on", "2026-11-25"); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "Name with whom") {
		t.Errorf("sharing with nobody: %d", r.status)
	}
	if r := b.post(client+"/consents", "kind", "share", "recipient", "Dr Moss", "purpose", "guidance", "what", "symptoms", "how", "signed", "given_on", "2026-11-25"); r.status != http.StatusSeeOther {
		t.Fatalf("a consent: %d", r.status)
	}
	if body := b.get(client + "/consent").body; !strings.Contains(body, "Share with Dr Moss") || !strings.Contains(body, "In force until Thu 25 Nov 2027") {
		t.Error("the consent is not shown with its end")
	}
	_, draft, _ := s.IntakeDraft(t.Context(), s.Mira.Actor(), id)
	if r := b.post(client + "/consents/" + draft.Consents[0].ID.String() + "/withdraw"); r.status != http.StatusSeeOther {
		t.Errorf("withdraw: %d", r.status)
	}
	if r := b.post(client + "/consents/" + draft.Consents[0].ID.String() + "/withdraw"); r.status != http.StatusConflict {
		t.Errorf("withdraw again: %d", r.status)
	}
	if body := b.get(client + "/consent").body; !strings.Contains(body, "Withdrawn on Wed 25 Nov 2026") {
		t.Error("the withdrawal is not shown")
	}
	if r := b.post(client+"/contact", "given_name", "Jo", "family_name", "", "birth_date", "1968-03-14"); r.status != http.StatusUnprocessableEntity {
		t.Errorf("without a last name: %d", r.status)
	}
	b.post(client+"/contact", "given_name", "Jo", "family_name", "Ashby", "birth_date", "1968-03-14", "phone", "030", "emergency_contact", "Bo")
	if n := s.Count(`SELECT count(*) FROM client_revisions WHERE before->>'given_name' = 'Jon'`); n != 1 {
		t.Errorf("what stood before is kept %d times", n)
	}
	if body := b.get(client + "/consent").body; !strings.Contains(body, `value="not_said" checked`) {
		t.Error("a sex that nobody said is not shown as not said")
	}
	if r := b.post(client+"/contact", "given_name", "Jo", "family_name", "Ashby", "birth_date", "1968-03-14", "sex", "x"); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, `id="sex-problem"`) {
		t.Errorf("a sex that there is not: %d", r.status)
	}
	b.post(client+"/contact", "given_name", "Jo", "family_name", "Ashby", "birth_date", "1968-03-14", "sex", "female")
	if body := b.get(client + "/consent").body; !strings.Contains(body, `value="female" checked`) {
		t.Error("the sex is not kept")
	}
	if n := s.Count(`SELECT count(*) FROM client_revisions WHERE before->>'sex' = ''`); n != 2 {
		t.Errorf("what stood before is kept %d times; want 2", n)
	}
	for _, action := range []string{"consent.record", "consent.withdraw", "client.change", "intake.view"} {
		if s.Count(`SELECT count(*) FROM audit WHERE action = $1 AND client_id = $2`, action, id) == 0 {
			t.Errorf("no %s in the audit trail", action)
		}
	}
}
