package e2e

import "testing"

// A practitioner writes to a client about a session; the client reads it on the
// page of the week and answers; the answer stands on the list of the day.
func TestMessages(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.AddClient("Mona", "Moor")

	phone := NewPerson(t, brae, "client", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)
	phone.Open("/messages")
	phone.Sees("No messages yet", "Nobody watches this page live", "112")

	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	pia.Open(client.Path + "/messages")
	pia.Press("Send")
	pia.Sees("Write something first.")
	pia.Fill("Note", "A good start. Walk slower uphill.")
	pia.PressTwice("Send")
	pia.Sees("Sent.", "Not seen yet", "A good start.")
	pia.Inspect("messages of a record", "one sent")

	phone.Open("/week")
	phone.Sees("A good start. Walk slower uphill.")
	phone.Follow("All messages")
	phone.Unfold("Answer")
	phone.Press("Send the answer")
	phone.Sees("Write something first.")
	phone.Fill("Your answer", "I will. Thank you.")
	phone.Inspect("messages", "answering")
	phone.Press("Send the answer")
	phone.Sees("Your answer is sent.", "I will. Thank you.")
	phone.SeesNot("Send the answer")

	pia.Open("/today")
	pia.Sees("The client has answered a note today.")
	pia.Follow("Read the answer")
	pia.Sees("I will. Thank you.", "Seen")
	pia.Unfold("Take it back")
	pia.Fill("Why", "It was meant for another client.")
	pia.Press("Take the note back")
	pia.Sees("Taken back by")
	phone.Open("/messages")
	phone.Sees("This message was taken back.")
	phone.SeesNot("Walk slower")
}
