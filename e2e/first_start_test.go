package e2e

import (
	"testing"
)

// setUp opens the set-up link and fills its form in for an invented practice.
func setUp(lead *Person, link string) {
	lead.t.Helper()
	lead.Open(link)
	lead.Fill("Name of the practice", "Slope Street Practice")
	lead.Fill("Time zone", "Europe/Berlin")
	lead.Choose("A week starts on", "Monday")
	lead.Fill("Emergency number", "112")
	lead.Fill("Phone of the practice", "030 5550 100")
	lead.Fill("Your name", "Lena Lead")
	lead.Fill("Sign-in name", "lena@practice.example")
	lead.Fill("Passphrase", LeadPassphrase)
}

// linkShown is the one-time link that a page shows.
func linkShown(p *Person) string {
	p.t.Helper()
	return p.Text("code")
}

// On the first start the lead sets up the practice by a link that works once,
// adds a practitioner, and the practitioner joins by a link that works once, too.
func TestFirstStart(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)

	stranger := NewPerson(t, brae, "stranger", Desk)
	stranger.Open("/people")
	stranger.Is("/sign-in", 200)
	stranger.Inspect("sign-in", "empty")

	lead := NewPerson(t, brae, "lead", Desk)
	setUp(lead, brae.SetUp)
	lead.Inspect("set-up", "filled in")
	lead.Press("Set up")
	lead.Is("/people", 200)
	lead.Sees("The practice is set up", "Lena Lead")
	lead.Inspect("people", "alone")

	stranger.Open(brae.SetUp)
	if stranger.Status() != 404 {
		t.Errorf("the set-up link worked a second time: status %d", stranger.Status())
	}
	stranger.Sees("This link is used up")
	stranger.Inspect("link", "used up")

	lead.Fill("Name", "Pia Practitioner")
	lead.Fill("Sign-in name", "pia@practice.example")
	lead.Press("Add")
	link := linkShown(lead)
	lead.Sees("Pia Practitioner", "Has not joined yet")
	lead.Inspect("people", "link shown")
	lead.Open("/people")
	if lead.Count("code") != 0 {
		t.Error("the link is shown a second time")
	}

	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.Open(link)
	pia.Sees("Welcome, Pia Practitioner")
	if name := pia.Value("Your sign-in name"); name != "pia@practice.example" {
		t.Errorf("the page to join shows the sign-in name %q", name)
	}
	pia.Inspect("join", "empty")
	pia.Fill("Passphrase", PractitionerPassphrase)
	pia.Press("Save and go on")
	pia.Is("/today", 200)
	pia.Sees("Nothing waits")
	pia.Open("/clients")
	pia.Inspect("clients", "none yet")

	stranger.Open(link)
	stranger.Sees("This link is used up")

	pia.Follow("Pia Practitioner")
	pia.Is("/account", 200)
	pia.Inspect("account", "empty")
	pia.Press("Sign out")
	pia.Is("/sign-in", 200)
	pia.Open("/clients")
	pia.Is("/sign-in", 200)
	pia.Fill("Sign-in name", "pia@practice.example")
	pia.Fill("Passphrase", PractitionerPassphrase)
	pia.Press("Sign in")
	pia.Is("/clients", 200) // where they wanted to go

	pia.Open("/people")
	if pia.Status() != 403 {
		t.Errorf("a practitioner opened the list of people: status %d", pia.Status())
	}
	pia.Inspect("forbidden", "people")

	lead.Open("/people")
	if row := lead.Row("Pia Practitioner"); row == "" {
		t.Error("no row for the practitioner")
	}
	lead.Open("/review")
	lead.Inspect("review", "nobody yet")
	lead.Open("/nowhere")
	if lead.Status() != 404 {
		t.Errorf("an address that leads nowhere has status %d", lead.Status())
	}
	lead.Inspect("not-found", "nowhere")
}
