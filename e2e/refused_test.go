package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// refused fails unless the page refuses a form as it should: with a status that
// says so, a summary at the top that has the focus, and by each field that is
// named a message in the same words that the summary has. The fields are named by
// the id of their control, in the order of the page.
func (p *Person) refused(fields ...string) {
	p.t.Helper()
	if p.Status() != 422 {
		p.t.Errorf("%s at %s: a form with bad input has status %d, not 422", p.Name, p.Path(), p.Status())
	}
	if title := p.Title(); !strings.HasPrefix(title, "Error: ") {
		p.t.Errorf("%s at %s: the title %q does not begin with the error", p.Name, p.Path(), title)
	}
	type refusal struct {
		Focus  bool
		Above  bool
		Fields []string
		Wrong  []string
	}
	r := Ask[refusal](p, `
		const summary = document.querySelector(".summary");
		if (!summary) return { fields: [], wrong: ["there is no summary of what is wrong"] };
		const wrong = [];
		const links = [...summary.querySelectorAll("a")];
		for (const a of links) {
			const control = document.getElementById(a.hash.slice(1));
			if (!control) { wrong.push("the summary leads to " + a.hash + ", which is not there"); continue; }
			const inline = document.getElementById(control.id + "-problem");
			if (!inline) { wrong.push("no message at the field " + control.id); continue; }
			if (words(inline).replace("Error: ", "") !== words(a)) wrong.push("the message at the field says " + words(inline) + ", the summary " + words(a));
			const told = control.closest("fieldset[aria-describedby]") && ["radio", "checkbox"].includes(control.type) ? control.closest("fieldset[aria-describedby]") : control;
			if (!(told.getAttribute("aria-describedby") ?? "").split(" ").includes(inline.id)) wrong.push("the message is not tied to " + control.id);
			if (!["FIELDSET"].includes(told.tagName) && told.getAttribute("aria-invalid") !== "true") wrong.push(control.id + " is not marked as invalid");
		}
		const inlines = document.querySelectorAll("form .problem").length; // what waits on the phone has messages of its own
		if (inlines !== links.length) wrong.push(links.length + " lines in the summary, " + inlines + " messages at fields");
		return {
			focus: document.activeElement === summary,
			above: !!(summary.compareDocumentPosition(document.querySelector("h1")) & Node.DOCUMENT_POSITION_FOLLOWING),
			fields: links.map((a) => a.hash.slice(1)), wrong,
		};`)
	for _, wrong := range r.Wrong {
		p.t.Errorf("%s at %s: %s", p.Name, p.Path(), wrong)
	}
	if got, want := strings.Join(r.Fields, " "), strings.Join(fields, " "); got != want {
		p.t.Errorf("%s at %s: the summary names %q, not %q; the page says:\n%s", p.Name, p.Path(), got, want, p.says())
	}
	if !r.Above {
		p.t.Errorf("%s at %s: the summary does not stand above the heading", p.Name, p.Path())
	}
	if !r.Focus {
		p.t.Errorf("%s at %s: the summary does not have the focus", p.Name, p.Path())
		return
	}
	for i, field := range r.Fields { // each line leads to its field, by keyboard
		p.do(`document.querySelectorAll(".summary a")[%s].focus()`, i)
		p.Key(kb.Enter)
		if at := Ask[string](p, `return document.activeElement.id`); at != field {
			p.t.Errorf("%s at %s: the line for %s leads to %q", p.Name, p.Path(), field, at)
		}
	}
}

// kept fails unless the fields still hold what was typed.
func (p *Person) kept(typed map[string]string) {
	p.t.Helper()
	for label, want := range typed {
		if got := p.Value(label); got != want {
			p.t.Errorf("%s at %s: %q held %q and now holds %q", p.Name, p.Path(), label, want, got)
		}
	}
}

// Bad input on every form gets a message next to the field, in words, with what
// was typed kept.
func TestBadInputOfStaff(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	p := NewPerson(t, brae, "person", Desk)

	p.Open(brae.SetUp)
	typed := map[string]string{"Name of the practice": " ", "Time zone": "Middle/Earth", "Emergency number": "ask me", "Your name": "", "Sign-in name": "x y"}
	for label, text := range typed {
		p.Fill(label, text)
	}
	p.Fill("Passphrase", "short")
	p.Press("Set up")
	p.refused("practice", "zone", "emergency_number", "name", "sign_in_name", "passphrase")
	p.kept(typed)
	p.Inspect("set-up", "refused")
	if p.Value("Passphrase") != "" {
		t.Error("a passphrase was sent back")
	}
	practice := NewPractice(t, brae)

	p.Open("/sign-in")
	p.Fill("Sign-in name", practice.PractitionerName)
	p.Fill("Passphrase", "something else entirely")
	p.Press("Sign in")
	p.refused("name")
	p.kept(map[string]string{"Sign-in name": practice.PractitionerName, "Passphrase": ""})
	p.Inspect("sign-in", "refused")
	p.SignIn(practice.PractitionerName, PractitionerPassphrase)

	p.Open("/account")
	p.Fill("The passphrase you have now", "something else entirely")
	p.Fill("New passphrase", "a new one that is long enough")
	p.Press("Change the passphrase")
	p.refused("old")
	p.Fill("The passphrase you have now", PractitionerPassphrase)
	p.Fill("New passphrase", "1234")
	p.Press("Change the passphrase")
	p.refused("passphrase")
	p.Inspect("account", "refused")

	badClient(p)
	record := practice.NewRecord("Ines", "Inlet")
	badIntake(p, record)
	client := practice.AddClient("Carl", "Cairn")
	badPrescription(p, client.Path)

	p.Open(record)
	p.Fill("Sign-in name", client.SignInName)
	p.Press("Make the link")
	p.refused("sign_in_name")
	p.kept(map[string]string{"Sign-in name": client.SignInName})

	lead := NewPerson(t, brae, "lead", Desk)
	lead.SignIn(practice.LeadName, LeadPassphrase)
	lead.Open("/people")
	lead.Fill("Sign-in name", practice.PractitionerName)
	lead.Press("Add")
	lead.refused("name")
	lead.kept(map[string]string{"Sign-in name": practice.PractitionerName})
	lead.Fill("Name", "Another One")
	lead.Press("Add")
	lead.refused("sign_in_name")
	lead.kept(map[string]string{"Name": "Another One", "Sign-in name": practice.PractitionerName})
	lead.Inspect("people", "refused")
}

func badClient(p *Person) {
	p.t.Helper()
	p.Open("/clients/new")
	p.Fill("Last name", "Young")
	p.Fill("Date of birth", BirthDate(17))
	p.Fill("Phone", "030 5550 113")
	p.Press("Save and begin the intake")
	p.refused("given_name", "birth_date")
	p.kept(map[string]string{"Last name": "Young", "Date of birth": BirthDate(17), "Phone": "030 5550 113"})
	p.Inspect("new client", "refused")
}

func badIntake(p *Person, record string) {
	p.t.Helper()
	p.Open(record + "/intake/activity")
	typed := map[string]string{"Days a week": "9", "Minutes a day": "half an hour", "For how many months": "-3"}
	for label, text := range typed {
		p.Fill(label, text)
	}
	p.Press("Save and go on")
	p.refused("activity_days", "activity_minutes", "activity_months")
	p.kept(typed)
	p.Inspect("intake activity", "refused")

	p.Open(record + "/intake/measurements")
	typed = map[string]string{
		"First reading": "720", "Second reading": "7 2", "Upper blood pressure": "84", "Lower blood pressure": "132",
		"Weight": "eighty", "Height": "1,71", "Peak": "154",
	}
	for label, text := range typed {
		p.Fill(label, text)
	}
	p.Press("Save and go on")
	p.refused("resting_1", "resting_2", "diastolic", "weight", "height", "peak_on")
	p.kept(typed)
	p.Inspect("intake measurements", "refused")
	p.Fill("First reading", "72")
	p.Fill("Second reading", "")
	p.Fill("Upper blood pressure", "132")
	p.Fill("Lower blood pressure", "84")
	p.Fill("Weight", "80")
	p.Fill("Height", "171")
	p.Fill("Peak", "")
	p.Press("Save and go on")
	p.Is(record+"/intake/limits", 200) // one more try is enough
}

func badPrescription(p *Person, record string) {
	p.t.Helper()
	p.Open(record + "/prescription/new")
	typed := map[string]string{"Sessions a week": "0", "Minutes each time": "a while", "Type": "", "Target of the week": "9000"}
	for label, text := range typed {
		p.Fill(label, text)
	}
	p.Press("Sign")
	p.refused("sessions_per_week", "minutes_per_session", "activities", "target")
	p.kept(typed)
	p.Inspect("prescription", "refused")
}

// The same on the phone of a client, who has to put as little right as can be.
func TestBadInputOfClients(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.AddClient("Carl", "Cairn")
	p := NewPerson(t, brae, "client", Phone)

	record := practice.NewRecord("Jon", "Jetty")
	shown := practice.Practitioner.Show(record+"/invite", map[string][]string{"sign_in_name": {"jon"}})
	p.Open(oneTimeLink(t, shown))
	p.Fill("Passphrase", "123456789012")
	p.Press("Save and go on")
	p.refused("passphrase")
	p.Inspect("join", "refused")

	p.SignIn(client.SignInName, ClientPassphrase)
	p.Open("/log")
	p.Press("Save")
	p.refused("parts[0].activity", "parts[0].minutes", "parts[0].talk", "symptoms")
	p.Inspect("log", "refused")

	p.Open("/log")
	p.Pick("Activity", "Brisk walk, about 5.6 km/h")
	p.Unfold("Effort and heart rate, if you like")
	p.Fill("Minutes", "0")
	p.Fill("Heart rate while it was steady", "300")
	p.Fill("Day", "2019-01-01")
	p.Fill("Note", "<b>windy</b> & \"wet\"")
	p.Press("Save")
	p.refused("parts[0].minutes", "parts[0].hr", "day", "symptoms")
	p.kept(map[string]string{
		"Minutes": "0", "Heart rate while it was steady": "300", "Day": "2019-01-01", "Note": "<b>windy</b> & \"wet\"",
	})
	p.Fill("Minutes", "half") // cannot be read: told together with what is wrong otherwise
	p.Press("Save")
	p.refused("parts[0].minutes", "parts[0].hr", "day", "symptoms")
	p.kept(map[string]string{"Minutes": "half"})
	p.Fill("Minutes", "35")
	p.Fill("Heart rate while it was steady", "")
	p.Fill("Day", today(t))
	p.Choose("How well could you talk?", "I could sing a song while I moved.")
	p.Choose("Did anything feel wrong?", "No")
	p.Press("Save")
	p.Is("/week", 200)
	p.Sees("Saved: 35 min light")

	doubt(t, p)
}

// doubt logs a session that can be but hardly is: it is asked for once more, and
// then taken.
func doubt(t *testing.T, p *Person) {
	t.Helper()
	p.Open("/log")
	p.Pick("Activity", "Brisk walk, about 5.6 km/h")
	p.Fill("Minutes", "400")
	p.Choose("How well could you talk?", "I could chat in whole sentences, but I could not sing.")
	p.Choose("Did anything feel wrong?", "No")
	p.Press("Save")
	p.refused("confirmed")
	p.kept(map[string]string{"Minutes": "400"})
	p.Inspect("log", "asked once more")
	p.Tick("Yes, that is right")
	p.Press("Save")
	p.Is("/week", 200)
	p.Sees("Saved: 400 min moderate", fmt.Sprintf("You have done %d of your 150 minutes", 400))
}
