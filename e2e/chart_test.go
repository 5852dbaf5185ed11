package e2e

import (
	"net/url"
	"testing"

	"github.com/google/uuid"
)

// A day of a practitioner: a symptom in a log stands on the list of the day and
// goes with a reason; a blood pressure above 200 over 110 waits for the second
// reading and then holds (JABFM review of contraindications); a note is drafted,
// signed and added to; the timeline tells all of it.
func TestChart(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.screen("Sven", "Scree", url.Values{})
	client.Phone.Post("/log", url.Values{
		"id": {uuid.NewString()}, "day": {today(t)}, "note": {""}, "parts[0].activity": {"walk_brisk"}, "parts[0].minutes": {"20"}, "parts[0].talk": {"sentences"},
		"symptoms": {"yes"}, "reports": {"dizzy_in_effort"},
	})

	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	pia.Is("/today", 200)
	pia.Sees("Sven Scree", "Speak to the client. Do not only write.")
	pia.Inspect("today", "a flag")
	pia.Unfold("Done")
	pia.Press("Take off the list")
	pia.Sees("Write why.")
	pia.Fill("What was done", "Spoken to: it was the heat.")
	pia.Press("Take off the list")
	pia.SeesNot("Do not only write")
	pia.Sees("Done today: 1")

	pia.Open(client.Path + "/vitals")
	pia.Fill("Upper blood pressure", "208")
	pia.Fill("Lower blood pressure", "96")
	pia.Press("Save")
	pia.Sees("Is 208 right?")
	pia.Tick("I have measured this, and it is right")
	pia.Press("Save")
	pia.Sees("No exercise until it was measured again")
	pia.Fill("Upper blood pressure, again", "206")
	pia.Fill("Lower blood pressure, again", "94")
	pia.Press("Save the second reading")
	pia.Sees("No session today", "still too high after a rest")
	pia.Inspect("vitals", "held")

	pia.Open(client.Path + "/notes/new")
	pia.Fill("Note", "Sent home, pressure too high.")
	pia.Fill("Your profession or credential (optional)", "physiotherapist")
	pia.Press("Sign and lock")
	pia.Sees("Signed and locked", "physiotherapist")
	pia.Unfold("Add to this note")
	pia.Fill("Addendum", "Her doctor was called.")
	pia.Fill("Why it is added", "It happened after signing.")
	pia.Press("Sign the addendum")
	pia.Sees("Her doctor was called.", "It happened after signing.")
	pia.Inspect("note", "signed")

	pia.Open(client.Path + "/timeline")
	pia.Sees("Flag done", "Vital signs, measured again", "Addendum to a note", "Hold opened", "Screened")
	pia.Inspect("timeline", "all kinds")
	pia.Follow("Notes 2")
	pia.SeesNot("Hold opened")
	pia.Sees("Addendum to a note")
	pia.Open(client.Path + "/chart")
	pia.Sees("Sven Scree, born", "Printed")
}
