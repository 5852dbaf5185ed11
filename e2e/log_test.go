package e2e

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

const (
	fastWalk    = "Brisk walk, about 5.6 km/h"
	wholePhrase = "I could chat in whole sentences, but I could not sing."
)

// TestLog is a week of a client's phone: the first session, the same again in
// four taps, an emergency, a change on two devices, and the way back.
func TestLog(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.AddClient("Lena", "Lochside")
	phone := NewPerson(t, brae, "phone", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)

	phone.Open("/history")
	phone.Sees("Nothing logged yet")
	phone.Open("/log")
	phone.Fill("Find an activity", "brisk")
	if v := phone.Value("Activity"); v == "" {
		phone.Pick("Activity", fastWalk)
	}
	phone.Fill("Minutes", "30")
	phone.Choose("How well could you talk?", wholePhrase)
	phone.Choose("Did anything feel wrong?", "No")
	phone.Press("Save")
	phone.Is("/week", 200)
	phone.Sees("Saved: 30 min moderate")

	// The same as last time: one tap in the navigation, and three more.
	taps := 0
	tap := func(do func()) { taps++; do() }
	tap(func() { phone.Follow("Log") })
	phone.Inspect("log", "with favourites")
	tap(func() { phone.Press("Same as last time: Brisk walk, moderate, 30 min") })
	phone.Sees("This will be saved for today")
	phone.Inspect("log-again", "to be saved")
	tap(func() { phone.Choose("Did anything feel wrong?", "No") })
	tap(func() { phone.Press("Save") })
	phone.Is("/week", 200)
	phone.Sees("You have done 60 of your 150 minutes")
	if taps > 4 {
		t.Errorf("the same again takes %d taps", taps)
	}

	emergencyFirst(t, phone)
	twoDevices(t, brae, phone, client)
	lookBack(t, phone, practice, client)
}

// emergencyFirst reports chest pressure: the very next screen says what to do,
// before anything else.
func emergencyFirst(t *testing.T, phone *Person) {
	t.Helper()
	phone.Open("/log")
	phone.Pick("Activity", fastWalk)
	phone.Fill("Minutes", "10")
	phone.Choose("How well could you talk?", wholePhrase)
	phone.Choose("Did anything feel wrong?", "Yes")
	phone.Sees("What did you feel?")
	phone.Unfold("Chest, jaw or arm")
	phone.Tick("Pressure or pain in my chest, jaw, neck, back or arm, now")
	phone.Inspect("log", "with symptoms")
	phone.Press("Save")
	if h := phone.Text("h1"); !strings.HasPrefix(h, "Stop now") {
		t.Errorf("the next screen is headed %q", h)
	}
	if first := Ask[string](phone, `return document.querySelector("main").firstElementChild.className`); first != "emergency" {
		t.Errorf("the page begins with %q", first)
	}
	number := Ask[string](phone, `return document.querySelector(".emergency a[href^='tel:']").getAttribute("href")`)
	if bottom := Ask[float64](phone, `return document.querySelector(".emergency a[href^='tel:']").getBoundingClientRect().bottom`); number == "tel:" || bottom > float64(Phone.Height)-80 {
		t.Errorf("the number is %q, and its button ends at %.0f px: a phone has to scroll for it", number, bottom)
	}
	phone.Inspect("told-emergency", "chest")
	phone.Follow("Go to what you logged")
	phone.Sees("What we said", "Pressure or pain in my chest")
	phone.Open("/week")
	phone.Sees("On hold")
}

// twoDevices changes one session on two devices: the second is told and sees both
// versions.
func twoDevices(t *testing.T, brae *Brae, phone *Person, client Client) {
	t.Helper()
	tablet := NewPerson(t, brae, "tablet", Desk)
	tablet.SignIn(client.SignInName, ClientPassphrase)
	for _, p := range []*Person{phone, tablet} {
		p.Open("/history")
		p.followFirst("main tbody th a[href^='/sessions/']")
		p.Press("Change it")
	}
	phone.Fill("Minutes", "12")
	phone.Press("Save")
	if phone.Status() != 200 {
		t.Fatalf("the first change has status %d: %s", phone.Status(), phone.says())
	}
	tablet.Fill("Minutes", "15")
	tablet.Press("Save")
	if tablet.Status() != 409 {
		t.Fatalf("the second change has status %d", tablet.Status())
	}
	tablet.Sees("This session was changed in the meantime", "12 min")
	if v := tablet.Value("Minutes"); v != "15" {
		t.Errorf("what was typed is %q", v)
	}
	tablet.Inspect("session-edit", "conflict")
	tablet.Press("Save")
	if tablet.Status() != 200 {
		t.Errorf("mine all the same: status %d", tablet.Status())
	}
}

// lookBack deletes a session, brings it back, and looks at what staff see.
func lookBack(t *testing.T, phone *Person, practice *Practice, client Client) {
	t.Helper()
	phone.Open("/history")
	phone.Inspect("history", "weeks")
	phone.followFirst("main tbody th a[href^='/sessions/']")
	phone.Unfold("What stood here before")
	phone.Sees("10 min", "12 min")
	phone.Inspect("session", "changed")
	session := phone.Path()
	phone.Press("Delete it")
	phone.Press("Delete it")
	phone.Is(session, 200)
	phone.Sees("You have deleted this session.")
	phone.Press("Bring it back")
	phone.SeesNot("You have deleted this session.")

	phone.Open("/report")
	phone.Inspect("report", "empty")
	phone.Press("Send")
	phone.refused("reports")
	phone.Unfold("Tired, low or a headache")
	phone.Tick("Unusually tired into the next day")
	phone.Press("Send")
	phone.Sees("We have noted this")

	desk := NewPerson(t, practice.brae, "practitioner", Desk)
	desk.SignIn(practice.PractitionerName, PractitionerPassphrase)
	desk.Open(client.Path + "/sessions")
	desk.Sees("To look at", "Call the client now", "Changed", "Unusually tired into the next day")
	desk.Inspect("client-sessions", "history")
	desk.followFirst("main tbody th a[href*='/sessions/']")
	desk.Sees("What stood before", "Emergency text shown", "deleted by", "restored by")
	desk.Inspect("client-session", "changed")
}

// TestLogByKeyboard logs a session with a symptom with the keyboard alone.
func TestLogByKeyboard(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.AddClient("Kay", "Kerb")
	p := NewPerson(t, brae, "keyboard", Desk)
	p.SignIn(client.SignInName, ClientPassphrase)
	p.Open("/log")
	p.do(`start()`)
	p.tabTo("parts[0].activity")
	p.Key("Brisk")
	p.tabTo("parts[0].minutes")
	p.Key("20")
	p.keys(kb.Tab, " ", kb.ArrowDown)
	p.tabTo("day")
	p.tabTo("symptoms")
	p.keys(" ", kb.ArrowDown) // yes
	p.keys(kb.Tab, kb.Enter)  // unfolds the first group
	p.tabTo("report-chest_pressure_now")
	p.keys(" ")
	p.tabTo("note")
	p.Key("by keys")
	p.keys(kb.Tab)
	p.arrives(kb.Enter)
	if h := p.Text("h1"); !strings.HasPrefix(h, "Stop now") {
		t.Errorf("the next screen is headed %q: %s", h, p.says())
	}
	if n := brae.Count(brae.Query(), `SELECT count(*) FROM session_reports WHERE report = 'chest_pressure_now'`); n != 1 {
		t.Errorf("%d reports are stored", n)
	}
}

// followFirst follows the first link of a selector.
func (p *Person) followFirst(selector string) {
	p.t.Helper()
	p.load(func() error { p.do(`document.querySelector(%s).click()`, selector); return nil })
}
