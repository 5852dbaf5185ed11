package e2e

import (
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"
)

// today is the practice's calendar day.
func today(t testing.TB) string {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	return time.Now().In(zone).Format(time.DateOnly)
}

// From the first visit to the weekly review: somebody with type 2 diabetes who
// exercises may go on with moderate work and waits for a doctor before vigorous
// work; logs three sessions on the phone, one of them by a double tap; and the
// lead sees their minutes and by how much they are short.
//
// What the rules must come to is from outside: row R15 is of the published
// screening for exercise (Riebe 2015), the zones of 60 years at 72 beats are
// Gellish 2007 with the reserve of Karvonen, and a vigorous minute counts twice
// by the WHO guideline of 2020.
func TestFromIntakeToReview(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)

	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	record := takeIn(pia)
	fillIntake(pia)
	pia.Press("Decide")
	pia.Is(record+"/decision", 200)
	pia.Sees("May do today: up to moderate exercise", "Vigorous work waits until a doctor has answered",
		"A075", "R15", "Type 2 diabetes counts as known disease")
	pia.Unfold("Sources")
	pia.Sees("Riebe")
	pia.Inspect("decision", "vigorous held")
	prescribe(pia, record)
	link := invite(pia, record)

	phone := NewPerson(t, brae, "client", Phone)
	phone.Open(link)
	phone.Sees("Welcome, Tilda Tarn")
	phone.Fill("Passphrase", ClientPassphrase)
	phone.Press("Save and go on")
	phone.Is("/week", 200)
	phone.Sees("Your week has 150 minutes", "The clinic does not watch your logs live", "No hard exercise until a doctor has answered")
	phone.Inspect("week", "nothing yet")
	phone.Follow("My plan")
	phone.Is("/plan", 200)
	phone.Sees("brisk walking on the flat", "110 to 127", "You can talk in whole sentences, but you cannot sing", "No hard exercise until a doctor has answered")
	phone.Inspect("plan", "moderate")

	logThree(t, phone)
	sendAtOnce(t, phone)

	if n := brae.Count(brae.Query(), `SELECT count(*) FROM sessions`); n != 4 {
		t.Errorf("%d sessions are stored, not the 3 that were logged and the 1 that was sent many times", n)
	}

	pia.Open(record)
	pia.Sees("90 of 150", "Vigorous on hold", "Brisk walk")
	pia.Inspect("client", "with sessions")
	pia.Open("/clients")
	pia.Sees("Tilda Tarn", "90 of 150")
	pia.Inspect("clients", "one")

	lead := NewPerson(t, brae, "lead", Desk)
	lead.SignIn(practice.LeadName, LeadPassphrase)
	lead.Is("/review", 200)
	if row := lead.Row("Tilda Tarn"); !strings.Contains(row, "Pia Practitioner | 90 | 150 | 60 |") {
		t.Errorf("the review says %q, not 90 of 150 done and short by 60", row)
	}
	lead.Sees("Short of the target so far: 1 of 1", "Vigorous on hold")
	lead.Inspect("review", "one short")
	lead.Follow("On hold")
	lead.Sees("Tilda Tarn")
	lead.Follow("No log for")
	lead.Sees("Nobody here")
	lead.SeesNot("Tilda Tarn")
	lead.Inspect("review", "no match")
}

// takeIn makes the record of a new client and returns its path.
func takeIn(pia *Person) string {
	pia.t.Helper()
	pia.Open("/clients")
	pia.Press("New client")
	pia.Fill("First name", "Tilda")
	pia.Fill("Last name", "Tarn")
	pia.Fill("Date of birth", BirthDate(60))
	pia.Fill("Phone", "030 5550 111")
	pia.Fill("Whom to call in an emergency", "Tom Tarn, 030 5550 112")
	pia.Inspect("new client", "filled in")
	pia.Press("Save and begin the intake")
	record, found := strings.CutSuffix(pia.Path(), "/intake/activity")
	if !found {
		pia.t.Fatalf("a new client leads to %s", pia.Path())
	}
	pia.Inspect("intake activity", "empty")
	return record
}

// fillIntake goes through the steps of the intake with the client in the room.
func fillIntake(pia *Person) {
	pia.t.Helper()
	pia.Fill("Days a week", "5")
	pia.Fill("Minutes a day", "30")
	pia.Fill("For how many months", "12")
	pia.Choose("How hard it usually is", "Moderate")
	pia.Press("Save and go on")
	pia.Choose("Do you have type 2 diabetes?", "Yes")
	pia.Press("No to all that are left")
	pia.Unfold("Vessels and brain")
	if got := pia.Chosen("Have you had a stroke?"); got != "No" {
		pia.t.Errorf("after no to all that are left, the answer about a stroke is %q", got)
	}
	pia.Inspect("intake diseases", "answered")
	pia.Press("Save and go on")
	pia.Press("No to all that are left")
	pia.Inspect("intake symptoms", "answered")
	pia.Press("Save and go on")
	pia.Fill("Medicines", "metformin 500 mg\nramipril 5 mg")
	pia.Press("Save")
	pia.Sees("As typed", "No effect on heart rate")
	pia.Inspect("intake medicines", "two")
	pia.Press("Save and go on")
	pia.Inspect("intake more", "empty")
	pia.Press("Save and go on")
	pia.Inspect("intake findings", "none")
	pia.Press("Save and go on")
	pia.Fill("First reading", "71")
	pia.Fill("Second reading", "73")
	pia.Pick("Posture", "Seated")
	pia.Fill("Upper blood pressure", "132")
	pia.Fill("Lower blood pressure", "84")
	pia.Fill("Weight", "82,5")
	pia.Fill("Height", "171")
	pia.Inspect("intake measurements", "filled in")
	pia.Press("Save and go on")
	pia.Fill("Falls in the last twelve months", "0")
	pia.Inspect("intake limits", "no falls")
	pia.Press("Save and go on")
	pia.Choose("How hard the client wants to go next", "Vigorous")
	pia.Fill("Goal, in the client's words", "Up the hill behind the house without a rest.")
	pia.Press("Save")
	pia.Inspect("intake goal", "ready to decide")
}

func prescribe(pia *Person, record string) {
	pia.t.Helper()
	pia.Press("Prescribe")
	pia.Is(record+"/prescription/new", 200)
	// 207 - 0.7 x 60 = 165 at most, 93 beats above rest; 40 % of that is 37.2.
	pia.Sees("110 to 127", "Vigorous on hold", "Not open now")
	if pia.Count(`input[name=class][value=vigorous]`) != 0 {
		pia.t.Error("vigorous work is on hold and can be prescribed")
	}
	pia.Choose("Intensity", "Moderate")
	pia.Fill("Sessions a week", "5")
	pia.Fill("Minutes each time", "30")
	pia.Fill("Type", "brisk walking on the flat")
	pia.Fill("Target of the week", "150")
	pia.Fill("Note for the client", "Take your meter with you.")
	pia.Inspect("prescription", "filled in")
	pia.Press("Sign")
	pia.Is(record, 200)
	pia.Sees("The prescription is signed", "5 sessions a week of 30 minutes", "version 1")
}

func invite(pia *Person, record string) string {
	pia.t.Helper()
	pia.Fill("Sign-in name", "tilda@home.example")
	pia.Press("Make the link")
	pia.Sees("A link for Tilda Tarn")
	pia.Inspect("client", "link shown")
	link := linkShown(pia)
	pia.Open(record)
	pia.Sees("tilda@home.example", "has not joined yet")
	return link
}

// logThree logs a moderate session by a double tap, one of two parts, and one
// that was too hard.
func logThree(t *testing.T, phone *Person) {
	t.Helper()
	phone.Open("/log")
	phone.Inspect("log", "empty")
	phone.Pick("Activity", "Brisk walk, about 5.6 km/h")
	phone.Fill("Minutes", "30")
	phone.Choose("How well could you talk?", "I could chat in whole sentences, but I could not sing.")
	phone.Choose("Did anything feel wrong?", "No")
	phone.PressTwice("Save")
	phone.Is("/week", 200)
	phone.Sees("Saved: 30 min moderate", "You have done 30 of your 150 minutes. 120 are left")

	phone.Follow("Log")
	phone.Pick("Activity", "Easy walk, 4 km/h")
	phone.Fill("Minutes", "25")
	phone.Choose("How well could you talk?", "I could sing a song while I moved.")
	phone.Choose("Did anything feel wrong?", "No")
	phone.Press("Add a part at another effort")
	phone.Pick("Activity", "Brisk walk, about 5.6 km/h", "Part 2 of 2")
	phone.Fill("Minutes", "20", "Part 2 of 2")
	phone.Choose("How well could you talk?", "I could chat in whole sentences, but I could not sing.", "Part 2 of 2")
	phone.Choose("Did anything feel wrong?", "No")
	phone.Inspect("log", "two parts")
	phone.Press("Save")
	phone.Is("/week", 200)
	phone.Sees("Saved: 25 min light, 20 min moderate", "You have done 50 of your 150 minutes. 100 are left")

	phone.Follow("Log")
	phone.Pick("Activity", "Brisk walk, about 5.6 km/h")
	phone.Fill("Minutes", "10")
	phone.Choose("How well could you talk?", "I could only get out a few words between breaths.")
	phone.Choose("Did anything feel wrong?", "No")
	phone.Press("Save")
	phone.Is("/week", 200)
	phone.Sees("Saved: 10 min vigorous", "harder than we agreed", "You have done 70 of your 150 minutes. 80 are left")
	phone.Inspect("week", "three sessions")
}

// sendAtOnce sends one and the same log ten times at the same moment. All must
// be answered alike, and one session be stored.
func sendAtOnce(t *testing.T, phone *Person) {
	t.Helper()
	v := phone.Visitor()
	form := url.Values{
		"id": {"6b9f6a4e-3f1b-4e5c-9d0e-2b8a9e7c1d55"}, "day": {today(t)}, "note": {""},
		"parts[0].activity": {"walk_brisk"}, "parts[0].minutes": {"20"}, "parts[0].talk": {"sentences"}, "symptoms": {"no"},
	}
	var all sync.WaitGroup
	for range 10 {
		all.Go(func() {
			a, err := v.Try("/log", form)
			if err != nil || a.Status != http.StatusSeeOther || a.Location != "/week" {
				t.Errorf("a log that was sent ten times at once: %d to %q, %v", a.Status, a.Location, err)
			}
		})
	}
	all.Wait()
	phone.Open("/week")
	phone.Sees("You have done 90 of your 150 minutes. 60 are left")

	form.Set("parts[0].minutes", "200")
	if a, err := v.Try("/log", form); err != nil || a.Status != http.StatusConflict {
		t.Errorf("the same id with another body: status %d, %v", a.Status, err)
	}
}
