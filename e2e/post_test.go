package e2e

import (
	"regexp"
	"testing"

	"brae/web/post/posttest"
)

// A client asks for reminders, says yes in the mail, and ends them; makes an
// address for a calendar and gives it up.
func TestPost(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	server := posttest.Start(t, false)
	brae := Start(t, "BRAE_SMTP_ADDRESS="+server.Address, "BRAE_SMTP_FROM=brae@practice.example")
	client := NewPractice(t, brae).AddClient("Pola", "Postlethwaite")

	phone := NewPerson(t, brae, "client", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)
	phone.Open("/account")
	phone.Sees("Reminders by e-mail", "It says nothing about your health")
	phone.Inspect("account", "reminders")
	phone.Fill("E-mail address", "pola at post")
	phone.Press("Save the reminders")
	phone.Sees("Type an e-mail address")
	phone.Inspect("account", "refused reminder")
	phone.Fill("E-mail address", "pola@post.example")
	phone.Press("Save the reminders")
	phone.Sees("We have sent you a mail.", "Not confirmed yet")

	link := regexp.MustCompile(`http\S+/reminder/confirm/\S+`).FindString(server.Await(t, 1).Text)
	other := NewPerson(t, brae, "mail", Desk) // another browser, signed in nowhere
	other.Open(link)
	other.Inspect("reminder", "confirm")
	other.Press("Yes, remind me")
	other.Sees("The reminders begin.")
	phone.Open("/account")
	phone.SeesNot("Not confirmed yet")
	phone.Press("No more reminders")
	phone.Sees("No more reminders.")

	phone.Press("Make an address for my calendar")
	phone.Sees("Your calendar address", "/calendar/", ".ics")
	phone.Inspect("account", "calendar address")
	phone.Open("/account")
	phone.SeesNot(".ics")
	phone.Press("Stop the calendar")
	phone.Sees("The calendar address no longer works.")
}
