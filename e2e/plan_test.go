package e2e

import (
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// A plan from a published programme: a steep week is typed and warned of, the
// plan is signed, the client sees the weeks; a point of the drawing is moved by
// the keyboard; vigorous work under a hold is refused; a pause is ended and a step
// is answered.
//
// The minutes are those of the 12-week walking programme of the NHLBI: 5 brisk
// ones in the first week and 15 in the sixth, 5 slow ones before and after.
func TestPlan(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)

	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	client := practice.AddClient("Tilda", "Tarn")
	record := client.Path
	pia.Open(record + "/plan")
	pia.Sees("No plan yet")
	pia.Pick("Programme", "Twelve weeks of walking")
	pia.Fill("Sessions in the first week", "5")
	pia.Fill("How many weeks", "6")
	pia.Press("Lay out the weeks")
	pia.Sees("Week 6", "The programme has 12 weeks", "Moderate")
	if got := Ask[string](pia, `return document.getElementById("weeks[5].minutes").value`); got != "25" {
		t.Errorf("the sixth week has %s minutes each, not 25", got)
	}

	// The third point, moved up by the arrow keys: its week is typed by it.
	pia.do(`document.querySelectorAll("[role=slider]")[2].focus()`)
	pia.Key(kb.ArrowUp)
	pia.Key(kb.PageUp)
	if got := Ask[string](pia, `
		const third = document.querySelectorAll("[role=slider]")[2];
		return document.getElementById("weeks[2].minutes").value + " " + third.getAttribute("aria-valuenow") + " " + third.getAttribute("aria-valuetext")`); got != "25 25 5 times 25 minutes, 75 that count" {
		t.Errorf("after 1 and 5 minutes more than 19: %s", got)
	}
	pia.do(`set(document.getElementById("weeks[2].minutes"), "45")`)
	pia.Press("Sign the plan")
	pia.Sees("Sessions grow by 28 minutes in one week, more than 10", "Some weeks are unusual")
	pia.Inspect("plan editor", "a steep week")
	pia.Tick("I have looked at the warnings and want it so")
	pia.Fill("Why this version", "She is on holiday in the third week.")
	pia.Press("Sign the plan")
	pia.Is(record+"/plan", 200)
	pia.Sees("The plan is signed", "This is week 1 of 6")

	phone := NewPerson(t, brae, "client", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)
	phone.Sees("Your week has 25 minutes")
	phone.Follow("My plan")
	phone.Sees("The weeks ahead", "5 times, 45 minutes each", "A bit longer each time", "This is your week now")
	phone.Inspect("plan", "weeks ahead")

	// Vigorous minutes are on hold for this client.
	v := pia.Visitor()
	form := url.Values{
		"version": {"1"}, "starts": {Ask[string](pia, `return document.getElementById("starts").value`)}, "goal": {"150"}, "confirmed": {"yes"},
		"weeks[0].class": {"moderate"}, "weeks[0].sessions": {"3"}, "weeks[0].minutes": {"20"}, "weeks[0].easy": {"0"}, "weeks[0].vigorous": {"4"},
	}
	if a, err := v.Try(record+"/plan", form); err != nil || a.Status != 422 {
		t.Errorf("vigorous minutes under a hold: status %d, %v", a.Status, err)
	}
	if n := brae.Count(brae.Query(), `SELECT count(*) FROM plans`); n != 1 {
		t.Errorf("%d versions are stored, not the one that was signed", n)
	}
	pauseAndStep(t, pia, record)
}

// withSignature answers with more than is prescribed, 35 minutes instead of 30: the
// prescription opens with that; left alone nothing is kept, and signed it is the answer.
func withSignature(t *testing.T, pia *Person, record string) {
	t.Helper()
	for i := range 2 {
		pia.Open(record + "/progress")
		pia.Choose("Your answer", "Change")
		pia.Unfold("Another dose")
		pia.Fill("Minutes each time", "35")
		pia.Fill("Why", "She walks to work now.")
		pia.Press("Answer")
		if !strings.Contains(pia.says(), "With a step") { // more than one part at once is asked about first
			pia.Tick("I know that this is more than one part at once, or steep, and want it so")
			pia.Press("Answer")
		}
		pia.Sees("With a step", "until then nothing is recorded", "Different from version 1")
		if got := pia.Value("Minutes each time") + " " + pia.Value("Why this step"); got != "35 She walks to work now." {
			t.Errorf("the prescription opens with %s", got)
		}
		if i == 0 {
			pia.Inspect("prescription", "with a step")
			pia.Press("Back to the progress, without an answer")
			pia.SeesNot("She walks to work now.")
		}
	}
	pia.Press("Sign")
	pia.Is(record+"/progress", 200)
	pia.Sees("the step is taken with it", "She walks to work now.")
	pia.Open(record + "/timeline?kind=plan")
	pia.Sees("She walks to work now.")
}

// pauseAndStep pauses the plan, takes it up again and answers a step.
func pauseAndStep(t *testing.T, pia *Person, record string) {
	t.Helper()
	pia.Open(record + "/plan")
	pia.Unfold("Pause the plan")
	pia.Pick("Why the plan waits", "Holiday")
	pia.Fill("First day", today(t))
	pia.Press("Pause")
	pia.Sees("The plan waits", "Nothing is asked of the client on these days")
	pia.Press("The client is back")
	pia.Is(record+"/progress", 200)
	pia.Sees("The pause is over", "Suggested step", "What keeps the client in this phase")
	pia.Choose("Your answer", "Change")
	pia.Press("Answer")
	pia.Sees("Say why in a few words")
	pia.Inspect("progress", "no word why")
	pia.Fill("Sessions a week", "4")
	pia.Fill("Why", "Four are enough after the holiday.")
	pia.Press("Answer")
	pia.Is(record+"/progress", 200)
	pia.Sees("The plan is signed with your step", "Four are enough after the holiday", "Changed")
	withSignature(t, pia, record)
	pia.Open(record + "/plan")
	pia.Sees("Version 3")
	pia.Open(record + "/plan?again=1")
	if got := pia.Value("Goal of a week"); got != "150" {
		t.Errorf("version 1, taken up again, has the goal %s", got)
	}
	if n := strings.Count(pia.Text("table.weeks tbody tr"), "Week "); n < 6 {
		t.Errorf("version 1, taken up again, has %d weeks", n)
	}
}
