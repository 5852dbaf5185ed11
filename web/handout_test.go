package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"

	"brae/domain/activity"
	"brae/domain/fitness"
	"brae/domain/intake"
	"brae/domain/prescription"
	"brae/store"
	"brae/store/storetest"
)

// What stands on the paper: the dose of the prescription, the range that it rests
// on, when to stop and whom to call; nothing to do while all exercise waits.
//
// 58 years, 64 at rest: 207 - 0.7 x 58 = 166.4 at most (Gellish 2007); 40 % of the
// reserve is 104.96, 60 % is 125.44 (Karvonen 1957, Garber 2011).
func TestHandout(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	path := "/clients/" + id.String()
	b := s.as("mira")
	if r := b.get(path + "/handout"); r.status != http.StatusOK || !strings.Contains(r.body, "No plan yet") {
		t.Errorf("before the prescription: %d", r.status)
	}
	s.ScreenClient(id)
	in := storetest.Walking(0)
	in.Note = "Take the stick along."
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, in))
	s.JoinClient(id, "jon")
	for who, path := range map[string]string{"mira": path + "/handout", "jon": "/plan/handout"} {
		r := s.as(who).get(path)
		for _, want := range []string{
			"Plan for Jon Ashby", "Brisk walking", "5 times a week", "30 minutes each time", "whole sentences", "12 to 13 of 20", "105 to 125 bpm",
			"Start slowly for five minutes", "pain, pressure", "In an emergency, call 112", "150 minutes", "Take the stick along.", "Signed by mira", "does not take the place of your doctor",
		} {
			if !strings.Contains(r.body, want) {
				t.Errorf("%s: the paper lacks %q", who, want)
			}
		}
	}
	r := b.get(path + "/handout?in=es")
	if !strings.Contains(r.body, `<article class="handout" lang="es">`) || !strings.Contains(r.body, "A quién llamar") || !strings.Contains(r.body, `<html lang="en"`) {
		t.Error("the paper in Spanish is not, or the page around it is")
	}
	if strings.Contains(r.body, "Whom to call") {
		t.Error("English is left on the Spanish paper")
	}
	if r := b.get(path); !strings.Contains(r.body, path+"/handout") {
		t.Error("the record does not lead to the handout")
	}
	if r := b.post(path+"/holds", "scope", "all", "reason", "Wait for the doctor."); r.status != http.StatusSeeOther {
		t.Fatalf("a hold: %d", r.status)
	}
	r = b.get(path + "/handout")
	if strings.Contains(r.body, "105 to 125") || strings.Contains(r.body, "30 minutes each time") || !strings.Contains(r.body, "No exercise until") {
		t.Error("a dose goes home while all exercise waits")
	}
}

// The figures of the method stand on the paper after the talk test, in the client's
// units. A mile and a half in 18:00 is 483/18 + 3.5 = 30.33 ml per kg and minute; 40 and
// 60 % of what is above rest (Swain 1997, Garber 2011) are 14.23 and 19.60, or 4.07 and
// 5.60 METs. By the ACSM equations (Bushman 2020) that is walking up 5 % at 56.5 to 84.7 m
// a minute, 3.4 to 5.1 km/h or 2.1 to 3.2 mph, and with 80 kg 53 to 92 W on a cycle. For
// 58 years 64 and 77 % of 166.4 are 106.5 and 128.1 (Gellish 2007, Garber 2011).
func TestHandoutFigures(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id, intake.FieldDesired, "vigorous", intake.FieldActivityClass, "vigorous", intake.FieldWeight, "80")
	ran := fitness.Input{Test: fitness.Run15Mile, Sex: fitness.Male, Minutes: new(18.0)}
	storetest.Must(s.AddTest(t.Context(), s.Mira.Actor(), id, store.TestInput{
		ID: uuid.New(), On: storetest.Day, Input: ran, Conditions: fitness.Conditions{RestingHR: new(64), SBP: new(124), DBP: new(78)},
	}))
	jon := s.JoinClient(id, "jon")
	b, path := s.as("mira"), "/clients/"+id.String()+"/handout"
	sign := func(version int, method prescription.Method) {
		t.Helper()
		in := storetest.Walking(version)
		in.Method, in.Progression = method, "5 minutes more every second week"
		storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), id, in))
	}
	for i, tt := range []struct {
		method    prescription.Method
		units     activity.Unit
		wants     []string
		wantsNone []string
	}{
		{prescription.Oxygen, activity.Kilometres, []string{"4.1 to 5.6 times what it needs at rest"}, []string{"uphill"}},
		{prescription.Workload, activity.Kilometres, []string{"5 % uphill:", "3.4 to 5.1 km/h", "53 to 92 W", "cm high:", "Pick one kind"}, []string{"miles"}},
		{prescription.Workload, activity.Miles, []string{"2.1 to 3.2 miles an hour", "inches high:"}, []string{"km/h", " cm "}},
		{prescription.Maximum, activity.Miles, []string{"107 to 128 bpm"}, []string{"105 to 125", "uphill"}},
		{prescription.Reserve, activity.Miles, []string{"105 to 125 bpm"}, []string{"107 to 128"}},
	} {
		sign(i, tt.method)
		if err := s.ChoosePreferences(t.Context(), jon.Actor(), store.Preferences{Language: "en", Units: tt.units}); err != nil {
			t.Fatal(err)
		}
		body := page(b.get(path).body)
		for _, want := range append(tt.wants, "5 minutes more every second week") {
			if !strings.Contains(body, want) {
				t.Errorf("%s in %s: the paper lacks %q", tt.method, tt.units, want)
			}
		}
		for _, not := range tt.wantsNone {
			if strings.Contains(body, not) {
				t.Errorf("%s in %s: the paper has %q", tt.method, tt.units, not)
			}
		}
		for _, figure := range tt.wants {
			if strings.Index(body, figure) < strings.Index(body, "whole sentences") {
				t.Errorf("%s: %q stands before the talk test", tt.method, figure)
			}
		}
	}
	// Figures of moderate work say nothing while no more than light is open.
	sign(5, prescription.Workload)
	if r := b.post("/clients/"+id.String()+"/holds", "scope", "above_light", "reason", "Wait for the blood test."); r.status != http.StatusSeeOther {
		t.Fatalf("a hold: %d", r.status)
	}
	if body := b.get(path).body; strings.Contains(body, "uphill") {
		t.Error("figures of a class that is not open go home")
	}
}
