package e2e

import (
	"net/url"
	"strings"
	"testing"
)

// The handout of a prescription with the longest note is one page on A4 and on US
// Letter, in English and in Spanish.
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
	pia.Fill("Target of the week", "80")
	pia.Fill("Note for the client", strings.Repeat("Take the stick along. ", 90))
	pia.Press("Sign")
	handout(pia, client)
}

// handout looks at the plan on paper.
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
	pia.Sees("Plan for Tove Talus", "Whom to call", "110 to", "Take the stick along", "The weeks ahead", "Print")
	pia.Inspect("handout", "English")
	pia.onePage("the handout")
	pia.Follow("In Spanish")
	pia.Sees("Plan de Tove Talus", "A quién llamar")
	pia.Inspect("handout", "Spanish")
	pia.onePage("the handout in Spanish")
}
