package e2e

import (
	"testing"
	"time"
)

// Nothing that was typed into the intake is lost: not what was saved when the tab
// is closed, not what was typed since, and not what two people typed at once.
func TestDraftsSurvive(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	practice := NewPractice(t, brae)
	record := practice.NewRecord("Dora", "Dale")
	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)

	pia.Open(record + "/intake")
	pia.Is(record+"/intake/activity", 200)
	pia.Fill("Days a week", "2")
	pia.Fill("Minutes a day", "a quarter of an hour") // wrong, and kept all the same
	pia.Press("Save and go on")
	pia.Open(record + "/intake/goal")
	pia.Fill("Goal, in the client's words", "Walk to the ferry.")
	pia.Press("Save")
	pia.NewTab()
	pia.Open(record + "/intake")
	if at := pia.Path(); at != record+"/intake/activity" { // the first step that needs something
		t.Errorf("an intake whose first step needs another look goes on at %s", at)
		pia.Open(record + "/intake/activity")
	}
	pia.kept(map[string]string{"Days a week": "2", "Minutes a day": "a quarter of an hour"})
	pia.Sees("Goal Started")
	pia.Open(record + "/intake/goal")
	pia.kept(map[string]string{"Goal, in the client's words": "Walk to the ferry."})
	pia.Sees("Last saved by Pia Practitioner")

	// Typed and not saved by a button.
	pia.Open(record + "/intake/medicines")
	pia.Fill("Medicines", "metoprolol 50 mg")
	time.Sleep(3 * time.Second)
	pia.NewTab()
	pia.Open(record + "/intake/medicines")
	pia.kept(map[string]string{"Medicines": "metoprolol 50 mg"})

	// Two people at one step: the second is told, and loses nothing.
	lead := NewPerson(t, brae, "lead", Desk)
	lead.SignIn(practice.LeadName, LeadPassphrase)
	lead.Open(record + "/intake/activity")
	pia.Open(record + "/intake/activity")
	pia.Fill("Days a week", "3")
	pia.Fill("Minutes a day", "20")
	pia.Press("Save and go on")
	lead.Fill("Days a week", "4")
	lead.Fill("Minutes a day", "20")
	lead.Press("Save and go on")
	if lead.Status() != 409 {
		t.Errorf("saving over what somebody else has saved has status %d", lead.Status())
	}
	lead.Sees("Pia Practitioner saved other answers")
	lead.Sees("Yours: 4", "By Pia Practitioner: 3")
	lead.kept(map[string]string{"Days a week": "4", "Minutes a day": "20"})
	lead.Press("Save and go on")
	lead.Is(record+"/intake/diseases", 200)
	pia.Open(record + "/intake/activity")
	pia.kept(map[string]string{"Days a week": "4"})
}
