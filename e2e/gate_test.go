package e2e

import (
	"net/url"
	"strings"
	"testing"
	"time"
)

// answer is a doctor's answer as a practitioner records it, on a day.
func (p *Practice) answer(client Client, on string, changes url.Values) {
	p.Practitioner.t.Helper()
	form := url.Values{
		"decided_by.name": {"Dr Edda Lund"}, "decided_by.profession": {"physician"}, "decided_by.registration": {"R 1177"},
		"decided_by.organisation": {"Harbour Surgery"}, "decided_by.contact": {"030 5550 177"}, "decided_on": {on}, "received_on": {on},
		"channel": {"letter"}, "work": {"both"}, "outcome": {"cleared_with_limits"}, "glucose_unit": {"mmol"}, "release": {"yes"},
	}
	for field, values := range changes {
		form[field] = values
	}
	p.Practitioner.Post(client.Path+"/decisions", form)
}

// logAngina logs a walk with the usual angina at a heart rate.
func logAngina(phone *Person, rate string) {
	phone.t.Helper()
	phone.Open("/log")
	phone.Pick("Activity", fastWalk)
	phone.Fill("Minutes", "20")
	phone.Choose("How well could you talk?", wholePhrase)
	phone.Unfold("Effort and heart rate, if you like")
	phone.Fill("Heart rate while it was steady", rate)
	phone.Choose("Did anything feel wrong?", "Yes")
	phone.Unfold("Chest, jaw or arm")
	phone.Tick("My usual angina, no stronger than 2 out of 4, gone soon after I slowed down")
	phone.Press("Save")
}

// What a doctor expects up to a limit holds nothing within it and everything beyond
// it; and a page that a client opened before a hold begins no session after it.
func TestExpectedSymptomAndStalePage(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.screen("Sten", "Tarn", url.Values{"q.chest_pressure": {"yes"}, "do": {"rest_no"}})
	practice.answer(client, today(t), url.Values{
		"ceiling": {"moderate"}, "covers": {"chest_pressure"}, "limits.heart_rate": {"118"},
		"expected[0].code": {"chest_pressure"}, "expected[0].limit": {"no stronger than 2 of 4"},
	})
	practice.Practitioner.Post(client.Path+"/prescription", url.Values{
		"version": {"0"}, "class": {"moderate"}, "sessions_per_week": {"4"}, "minutes_per_session": {"20"}, "activities": {"brisk walking"}, "target": {"80"},
	})
	phone := NewPerson(t, brae, "client", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)

	// 207 - 0.7 x 60 = 165 at most (Gellish 2007), 72 at rest: from 110 (Karvonen 1957)
	// up to the doctor's 118.
	phone.Open("/week")
	phone.Follow("What to do today")
	phone.Sees("20 minutes in all", "110 to 118 bpm", "Never above 118", "no stronger than 2 of 4", "A stop that came later is not on this page")
	phone.Inspect("next session", "open")
	logAngina(phone, "115")
	phone.Open("/week")
	phone.SeesNot("On hold")

	phone.Open("/plan/session")
	practice.Practitioner.Post(client.Path+"/holds", url.Values{"scope": {"above_light"}, "reason": {"Wait for the blood test."}})
	phone.Press("I start now")
	phone.Is("/plan/session", 409)
	phone.Sees("This has changed", "Keep it easy until we have spoken with you", "this session is easier than planned")
	phone.SeesNot("110 to 118 bpm", "blood test")
	phone.Inspect("next session", "changed")
	phone.Open("/plan/session")
	phone.Sees("Easier than planned")
	phone.Press("I start now")
	phone.Sees("Log it when you are done")

	logAngina(phone, "125")
	phone.Open("/plan/session")
	phone.Sees("No session now", "No exercise until a doctor has answered")
	phone.Inspect("next session", "held")
	phone.Open("/log") // logging is never refused
	phone.Is("/log", 200)
	if n := brae.Count(brae.Query(), `SELECT count(*) FROM holds WHERE released_at IS NULL AND scope = 'all'`); n != 1 {
		t.Errorf("%d holds on all exercise; want that of the angina beyond its limit", n)
	}
}

// A decision by phone that nobody confirms lapses after 14 days, and one in writing
// on its anniversary, with warnings before: each time the hold is there again and the
// ceiling falls (twelve months: Riebe 2015; the days are practice settings).
func TestClearanceThroughTheYear(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.AddClient("Una", "Weir")
	start, err := time.Parse(time.DateOnly, today(t))
	if err != nil {
		t.Fatal(err)
	}
	pia := NewPerson(t, brae, "practitioner", Desk)
	on := func(day time.Time) { // the clock goes on, and everybody signs in again
		t.Helper()
		brae.Later(day.Sub(start))
		practice.Practitioner.Post("/sign-in", url.Values{"name": {practice.PractitionerName}, "passphrase": {PractitionerPassphrase}})
		pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	}
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	held := func(want bool) {
		t.Helper()
		pia.Open(client.Path + "/holds")
		if got := !strings.Contains(pia.says(), "Nothing is on hold"); got != want {
			t.Errorf("on hold: %t; want %t", got, want)
		}
	}
	held(true) // regular exercise with a disease: vigorous work waits (row R14)
	cleared := url.Values{"outcome": {"cleared"}, "ceiling": {"vigorous"}, "covers": {"diabetes_type_2"}}
	cleared.Set("channel", "phone")
	practice.answer(client, start.Format(time.DateOnly), cleared)
	held(false)
	pia.Open("/today")
	pia.Sees("A decision by phone is not confirmed in writing")

	second := start.AddDate(0, 0, 15)
	on(second)
	held(true)
	pia.Open("/today")
	pia.Sees("was not confirmed in writing by " + start.AddDate(0, 0, 14).Format("2 January 2006"))
	cleared.Set("channel", "letter")
	practice.answer(client, second.Format(time.DateOnly), cleared)
	held(false)
	pia.Open("/today")
	pia.SeesNot("was not confirmed in writing")

	anniversary := second.AddDate(1, 0, 0)
	on(anniversary.AddDate(0, 0, -60))
	pia.Open("/today")
	pia.Sees("A doctor's decision lapses in 60 days")
	on(anniversary.AddDate(0, 0, -7))
	held(false)
	pia.Open("/today")
	pia.Sees("A doctor's decision lapses in 7 days")
	on(anniversary)
	held(true)
	pia.Open("/today")
	pia.Sees("counted until "+anniversary.Format("2 January 2006"), "Ask for a new decision")
	if n := pia.Count(`a[href*="/done"]`); n != 0 {
		t.Error("what follows from the day can be ticked off")
	}
}
