package e2e

import (
	"net/url"
	"strings"
	"testing"
)

// The zones follow what is filled in, without a button; the difference to the version
// before is told before it is signed, and stands with the version; the plan on paper is
// one page on A4 and on US Letter, in English and in Spanish, with the longest note.
//
// 60 years and 72 at rest: 207 - 0.7 x 60 = 165 (Gellish 2007), 40 and 60 % of the
// reserve are 109.2 and 127.8; 208 - 0.7 x 60 = 166 (Tanaka 2001): 109.6 and 128.4
// (Karvonen 1957, Garber 2011). 4 x 20 moderate minutes are 80 (Physical Activity
// Guidelines 2018).
func TestPrescribe(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.screen("Tove", "Talus", url.Values{"do": {"rest_no"}})
	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	pia.Open(client.Path + "/prescription/new")
	pia.Choose("Intensity", "Moderate")
	pia.Fill("Sessions a week", "4")
	pia.Fill("Minutes each time", "20")
	pia.Fill("Type", "brisk walking on the flat and cycling at the lake, with the dog or with a friend")
	pia.Fill("Target of the week", "100")
	pia.Pick("Method", "Heart-rate reserve")
	pia.comesToSay("#result", "80 moderate-equivalent minutes a week: 20 short of the target of 100")
	pia.comesToSay("#result", "Heart-rate reserve 110 to 127 bpm")
	pia.Pick("Equation for the maximal heart rate", "Tanaka 2001: 208 - 0.7 x age")
	pia.comesToSay("#result", "Maximal heart rate 166 by")
	pia.Sees("110 to 128 bpm", "Maximal heart rate 166 by Tanaka 2001, give or take")
	pia.Inspect("prescription", "zones of another equation")
	pia.Fill("Note for the client", strings.Repeat("Take the stick along. ", 90))
	pia.Press("Sign")
	pia.Sees("The prescription is signed")

	pia.Open(client.Path + "/prescription/new")
	pia.Fill("Minutes each time", "25")
	pia.comesToSay("#difference", "4 sessions a week of 25 minutes")
	pia.Sees("Different from version 1", "4 sessions a week of 25 minutes")
	pia.Press("Sign")
	pia.Sees("The prescription is signed", "Different from version 1", "4 sessions a week of 20 minutes", "4 sessions a week of 25 minutes")
	pia.onePage("a signed prescription")
	pia.Follow("All versions")
	pia.Sees("Version 2", "Frequency and time, Volume")
	pia.Inspect("prescriptions", "two versions")
	pia.Follow("Version 1")
	pia.Sees("Not in force any more", "Heart-rate reserve: 110 to 128 bpm", "4 sessions a week of 20 minutes")
	pia.Inspect("prescription version", "not in force")
	outdated(pia, client)
	handout(pia, client)
	practice.Practitioner.Post(client.Path+"/tests/non_exercise", url.Values{
		"id": {"6b9f6a4e-3f1b-4e5c-9d0e-2b8a9e7c1d58"}, "on": {today(t)}, "sex": {"female"}, "activity_rating": {"5"}, "bmi": {"24"},
	})
	handoutOfWork(pia, client)
}

// handoutOfWork looks at the longest paper: each kind of work with its figures, and as
// much text as the fields hold.
func handoutOfWork(pia *Person, client Client) {
	pia.t.Helper()
	pia.Open(client.Path + "/prescription/new")
	pia.Pick("Method", "Workload from the energy equations")
	pia.Fill("Type", strings.Repeat("brisk walking, cycling or steps at home\n", 12))
	pia.Fill("Progression", strings.Repeat("Five minutes more every second week. ", 13))
	pia.comesToSay("#difference", "Five minutes more every second week.")
	pia.Press("Sign")
	pia.Sees("The prescription is signed")
	for _, language := range []string{"en", "es"} {
		pia.Open(client.Path + "/handout?in=" + language)
		pia.Inspect("handout", "work, "+language)
		pia.onePage("the handout of work in " + language)
	}
}

// outdated tells of a medicine that slows the heart: no predicted range is valid on it
// (Keteyian 2023), and the prescription says so until the next one.
func outdated(pia *Person, client Client) {
	pia.t.Helper()
	pia.Open(client.Path + "/changes/new")
	pia.Choose("What has changed", "A medicine")
	pia.Fill("Since", today(pia.t))
	pia.Fill("What exactly", "metoprolol 50 mg, new")
	pia.Press("Record the change")
	pia.Open(client.Path)
	pia.Sees("The prescription is out of date", "metoprolol 50 mg, new")
	pia.Inspect("client", "prescription out of date")
	pia.Open("/today")
	pia.Sees("The prescription is out of date")
}

// handout looks at the plan on paper. After the new medicine it has no heart-rate range
// (Keteyian 2023).
func handout(pia *Person, client Client) {
	pia.t.Helper()
	pia.Open(client.Path + "/plan")
	pia.Pick("Programme", "Twelve weeks of walking")
	pia.Fill("Sessions in the first week", "4")
	pia.Fill("How many weeks", "12")
	pia.Press("Lay out the weeks")
	pia.Press("Sign the plan")
	pia.Sees("The plan is signed")
	pia.Open(client.Path)
	pia.Follow("Handout for the client")
	pia.Sees("Plan for Tove Talus", "Whom to call", "We show no heart rates", "Take the stick along", "The weeks ahead", "Print")
	pia.Inspect("handout", "English")
	pia.onePage("the handout")
	pia.Follow("In Spanish")
	pia.Sees("Plan de Tove Talus", "A quién llamar")
	pia.onePage("the handout in Spanish")
}
