package e2e

import (
	"strings"
	"testing"
)

// Every task of staff and clients works without scripts.
func TestWithoutScripts(t *testing.T) {
	t.Parallel()
	brae := Start(t)

	lead := NewPerson(t, brae, "lead", Desk)
	lead.WithoutScripts()
	setUp(lead, brae.SetUp)
	lead.Press("Set up")
	lead.Is("/people", 200)
	lead.Fill("Name", "Pia Practitioner")
	lead.Fill("Sign-in name", "pia@practice.example")
	lead.Press("Add")
	link := linkShown(lead)

	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.WithoutScripts()
	pia.Open(link)
	pia.Fill("Passphrase", PractitionerPassphrase)
	pia.Press("Save and go on")
	pia.Open("/clients")
	pia.Press("New client")
	pia.Press("Save and begin the intake")
	if pia.Status() != 422 {
		t.Errorf("an empty form has status %d", pia.Status())
	}
	if at := Ask[string](pia, `return document.activeElement.className`); at != "summary" {
		t.Errorf("without scripts the focus is on %q and not on the summary", at)
	}
	pia.Fill("First name", "Nora")
	pia.Fill("Last name", "Ness")
	pia.Fill("Date of birth", BirthDate(60))
	pia.Press("Save and begin the intake")
	record := strings.TrimSuffix(pia.Path(), "/intake/activity")
	quickIntake(pia)
	pia.Press("Decide")
	pia.Is(record+"/decision", 200)
	pia.Sees("May do today: up to moderate exercise")
	pia.Press("Prescribe")
	pia.Press("Show what follows")
	if pia.Status() != 422 { // the form is not filled in yet
		pia.Sees("110 to 127")
	}
	pia.Fill("Sessions a week", "5")
	pia.Fill("Minutes each time", "30")
	pia.Fill("Type", "brisk walking")
	pia.Press("Sign")
	pia.Is(record, 200)
	pia.Fill("Sign-in name", "nora")
	pia.Press("Make the link")
	link = linkShown(pia)

	phone := NewPerson(t, brae, "client", Phone)
	phone.WithoutScripts()
	phone.Open(link)
	phone.Fill("Passphrase", ClientPassphrase)
	phone.Press("Save and go on")
	phone.Is("/week", 200)
	phone.Press("Log a session")
	phone.Pick("Activity", "Brisk walk, about 5.6 km/h")
	phone.Fill("Minutes", "25")
	phone.Choose("How well could you talk?", "I could chat in whole sentences, but I could not sing.")
	phone.Choose("Did anything feel wrong?", "No")
	phone.Press("Add a part at another effort")
	phone.kept(map[string]string{"Note": ""})
	phone.Press("Remove part 2")
	if v := phone.Value("Minutes"); v != "25" {
		t.Errorf("after a part came and went, the minutes are %q", v)
	}
	phone.PressTwice("Save")
	phone.Is("/week", 200)
	phone.Sees("You have done 25 of your 150 minutes")
	if n := brae.Count(brae.Query(), `SELECT count(*) FROM sessions`); n != 1 {
		t.Errorf("a double tap without scripts stored %d sessions", n)
	}
	phone.Press("Brisk walk, 25 min") // the same again
	phone.Sees("This will be saved for today", "Brisk walk", "25 min")
	phone.Choose("Did anything feel wrong?", "No")
	phone.Press("Save")
	phone.Sees("You have done 50 of your 150 minutes")
	phone.Follow("My plan")
	phone.Sees("brisk walking")

	lead.Open("/review")
	if row := lead.Row("Nora Ness"); !strings.Contains(row, "| 50 | 150 | 100 |") {
		t.Errorf("the review says %q", row)
	}
	lead.Follow("Client") // sorts by name
	lead.Sees("Nora Ness")
	lead.Open("/clients")
	lead.Fill("Find by the beginning of a name", "nes")
	lead.Press("Find")
	lead.Sees("Nora Ness")
	lead.Fill("Find by the beginning of a name", "tarn")
	lead.Press("Find")
	lead.Sees("Nobody found")
	lead.Press("Sign out")
	lead.Is("/sign-in", 200)
}

// quickIntake fills in what a decision needs.
func quickIntake(pia *Person) {
	pia.t.Helper()
	pia.Fill("Days a week", "5")
	pia.Fill("Minutes a day", "30")
	pia.Fill("For how many months", "12")
	pia.Choose("How hard it usually is", "Moderate")
	pia.Press("Save and go on")
	pia.Choose("Do you have type 2 diabetes?", "Not sure") // counts as yes
	pia.Press("No to all that are left")
	pia.Press("Save and go on")
	pia.Press("No to all that are left")
	pia.Press("Save and go on")
	pia.Press("Save and go on") // no medicines
	pia.Press("Save and go on") // no other conditions
	pia.Press("Save and go on") // no reason to wait
	pia.Fill("First reading", "72")
	pia.Press("Save and go on")
	pia.Press("Save and go on") // nothing limits movement
	pia.Choose("How hard the client wants to go next", "Moderate")
	pia.Press("Save")
}
