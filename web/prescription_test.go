package web_test

import (
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"
)

// prescriptionFields are the fields of the editor for brisk walking, with changes.
func prescriptionFields(version string, changes ...string) []string {
	fields := []string{
		"version", version, "class", "moderate", "method", "talk", "sessions_per_week", "4", "minutes_per_session", "30",
		"activities", "Brisk walking", "target", "150",
	}
	for i := 0; i < len(changes); i += 2 {
		found := false
		for j := 0; j < len(fields); j += 2 {
			if fields[j] == changes[i] {
				fields[j+1], found = changes[i+1], true
			}
		}
		if !found {
			fields = append(fields, changes[i], changes[i+1])
		}
	}
	return fields
}

// What follows from the form before anything is signed: the ranges, the week against
// the target, the methods that cannot be had, and the equations side by side. For 58
// years and 64 at rest (Karvonen 1957; classes of Garber 2011):
//
//	207 - 0.7 x 58 = 166.4 (Gellish 2007): 40 % of the reserve is 104.96, 60 % is 125.44
//	208 - 0.7 x 58 = 167.4 (Tanaka 2001):  105.36 and 126.04
//	211 - 0.64 x 58 = 173.88 (Nes 2013):   107.952 and 129.928
//	220 - 58 = 162 (Fox 1971):             103.2 and 122.8
//
// 64 % of 166.4 is 106.496 and 77 % is 128.128, the edges of moderate by the maximal
// heart rate (Garber 2011). 4 x 30 moderate minutes are 120 of 150 (Physical Activity
// Guidelines 2018).
func TestPrescriptionPreview(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id)
	path := "/clients/" + id.String() + "/prescription"
	b := s.as("mira")
	if r := b.get(path + "/new"); !strings.Contains(r.body, "js/prescription") || !strings.Contains(r.body, `id="result"`) {
		t.Error("the editor has no script, or no place for what follows")
	}
	preview := func(changes ...string) string {
		t.Helper()
		r := b.post(path, prescriptionFields("0", append(changes, "do", "zones")...)...)
		if r.status != http.StatusOK {
			t.Fatalf("%v: %d", changes, r.status)
		}
		return page(r.body)
	}
	sees := func(body string, texts ...string) {
		t.Helper()
		for _, want := range texts {
			if !strings.Contains(body, want) {
				t.Errorf("the page lacks %q", want)
			}
		}
	}
	sees(preview(), "120 moderate-equivalent minutes a week: 30 short of the target of 150",
		"105 to 125 bpm", "166.4", "give or take 11", "167.4", "106 to 126", "173.88", "108 to 129", "162", "104 to 122",
		"Oxygen-uptake reserve: No test on file gives a maximal oxygen uptake")
	sees(preview("method", "maximum"), "107 to 128 bpm")
	sees(preview("method", "effort"), "12 to 13 of 20")
	sees(preview("equation", "tanaka2001"), "Tanaka", "106 to 126 bpm")
	sees(preview("sessions_per_week", "5"), "150 moderate-equivalent minutes a week: the target of 150 is reached")
	sees(preview("class", "light", "target_light", "yes"), "120 minutes that count a week")
	sees(preview("minutes_per_session", "x"), `value="x"`)
	if n := s.Count(`SELECT count(*) FROM prescriptions`); n != 0 {
		t.Errorf("a look has signed %d prescriptions", n)
	}
	r := b.post(path, prescriptionFields("0", "method", "workload")...)
	if r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, `id="method-problem"`) {
		t.Errorf("work without an oxygen uptake: %d, or not told at the field", r.status)
	}
	r = b.post(path, prescriptionFields("0", "sessions_per_week", "15")...)
	if r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, "from 1 to 14") {
		t.Errorf("15 sessions: %d", r.status)
	}
}

// Versions stand as they were signed, with the difference to the one before; the
// editor tells it before it is signed.
func TestPrescriptionVersions(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id)
	record := "/clients/" + id.String()
	b := s.as("mira")
	if r := b.get(record + "/prescriptions"); r.status != http.StatusOK || !strings.Contains(r.body, "Nothing is prescribed yet") {
		t.Errorf("before the first: %d", r.status)
	}
	if r := b.post(record+"/prescription", prescriptionFields("0", "method", "reserve", "progression", "5 minutes more each second week")...); r.status != http.StatusSeeOther {
		t.Fatalf("version 1: %d", r.status)
	}
	if r := b.post(record+"/prescription", prescriptionFields("1", "method", "reserve", "progression", "5 minutes more each second week", "minutes_per_session", "35", "do", "zones")...); !strings.Contains(page(r.body), "4 sessions a week of 35 minutes") {
		t.Error("the editor does not tell the difference")
	}
	if r := b.post(record+"/prescription", prescriptionFields("1", "minutes_per_session", "35")...); r.status != http.StatusSeeOther {
		t.Fatalf("version 2: %d", r.status)
	}
	r := b.get(record + "/prescriptions")
	for _, want := range []string{"/prescriptions/1", "/prescriptions/2", "Method, Frequency and time, Volume, Progression"} {
		if !strings.Contains(r.body, want) {
			t.Errorf("the list lacks %q", want)
		}
	}
	one, two := page(b.get(record+"/prescriptions/1").body), page(b.get(record+"/prescriptions/2").body)
	for _, want := range []string{"Heart-rate reserve: 105 to 125 bpm", "of 30 minutes", "5 minutes more each second week", "Not in force any more"} {
		if !strings.Contains(one, want) {
			t.Errorf("version 1 lacks %q", want)
		}
	}
	if !strings.Contains(two, "Different from version 1") || !strings.Contains(two, "of 35 minutes") || strings.Contains(two, "Not in force any more") {
		t.Error("version 2 does not tell what is different")
	}
	for _, path := range []string{"/prescriptions/3", "/prescriptions/0", "/prescriptions/x"} {
		if r := b.get(record + path); r.status != http.StatusNotFound {
			t.Errorf("%s: %d", path, r.status)
		}
	}
	// A hold on everything above light: the record and the pages say what is wrong.
	if r := b.post(record+"/holds", "scope", "above_light", "reason", "Wait for the blood test."); r.status != http.StatusSeeOther {
		t.Fatalf("a hold: %d", r.status)
	}
	for _, path := range []string{"", "/prescriptions", "/prescription/new"} {
		if r := b.get(record + path); !strings.Contains(r.body, "The prescription is out of date") || !strings.Contains(r.body, "above what is allowed now") {
			t.Errorf("%q does not say that the prescription is out of date", path)
		}
	}
}

// page is a page with its line breaks as spaces, so that texts can be found.
func page(body string) string { return strings.Join(strings.Fields(body), " ") }

// The sex of the record is used where an equation needs one, and never guessed at. For
// 58 years: 206 - 0.88 x 58 = 154.96 (Gulati 2010, women); 210 - 0.79 x 58 = 164.18 for
// women and 220 - 0.95 x 58 = 164.9 for men (Sydo 2014).
func TestPrescriptionSex(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	id := s.Client()
	s.ScreenClient(id)
	record := "/clients/" + id.String()
	b := s.as("mira")
	say := func(sex string) {
		t.Helper()
		if r := b.post(record+"/contact", "given_name", "Jo", "family_name", "Ashby", "birth_date", "1968-03-14", "sex", sex); r.status != http.StatusSeeOther {
			t.Fatalf("%s: %d", sex, r.status)
		}
	}
	for _, tt := range []struct {
		name, sex, equation string
		status              int
		want                []string
	}{
		{"not said: both, and the default without it", "", "", http.StatusOK, []string{"164.18", "164.9", "154.96", "Sydo 2014, women", "Sydo 2014, men", "166.4 by Gellish"}},
		{"not said: none is chosen by guess", "", "sydo2014", http.StatusUnprocessableEntity, []string{`id="equation-problem"`, "the record does not say the sex"}},
		{"a woman", "female", "gulati2010", http.StatusSeeOther, nil},
		{"a man, by the equation for both", "male", "sydo2014", http.StatusSeeOther, nil},
		{"a man, by that for women", "male", "gulati2010", http.StatusUnprocessableEntity, []string{`id="equation-problem"`, "women only"}},
	} {
		if tt.sex != "" {
			say(tt.sex)
		}
		version := strconv.Itoa(s.Count(`SELECT count(*) FROM prescriptions`))
		do := []string{"equation", tt.equation}
		if tt.status == http.StatusOK {
			do = append(do, "do", "zones")
		}
		r := b.post(record+"/prescription", prescriptionFields(version, do...)...)
		if r.status != tt.status {
			t.Errorf("%s: %d; want %d", tt.name, r.status, tt.status)
		}
		for _, want := range tt.want {
			if !strings.Contains(page(r.body), want) {
				t.Errorf("%s: the page lacks %q", tt.name, want)
			}
		}
	}
	// The editor starts from what was chosen, and what it shows is by that.
	if body := page(b.get(record + "/prescription/new").body); !strings.Contains(body, "164.9 by Sydo 2014") {
		t.Error("the editor does not start from the equation in force")
	}
	s.Wait(time.Minute)
	say("not_said")
	if body := page(b.get(record + "/prescription/new").body); !strings.Contains(body, "166.4 by Gellish") || !strings.Contains(body, "The prescription is out of date") {
		t.Error("an equation that fits no more is not left, or the prescription is not out of date")
	}
	list, err := s.StalePrescriptions(t.Context(), s.Mira.Actor())
	if err != nil || len(list) != 1 {
		t.Errorf("the list of those out of date has %d entries, %v", len(list), err)
	}
}
