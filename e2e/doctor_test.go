package e2e

import (
	"context"
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// pages is how many pages the document has on paper of that size, in inches.
func (p *Person) pages(width, height float64) int {
	p.t.Helper()
	pdf, err := chromedp.Run(p.ctx, func(ctx context.Context, t *chromedp.Target) ([]byte, error) {
		printed, err := cdp.Call(ctx, t, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: width, PaperHeight: height})
		return printed.Data, err
	})
	p.must(err)
	return len(pdfPage.FindAll(pdf, -1))
}

// pdfPage is the beginning of a page in a PDF. Source: ISO 32000-1, 7.7.3.3.
var pdfPage = regexp.MustCompile(`/Type\s*/Page\b`)

// onePage fails unless the document is one page on A4 (ISO 216) and on US Letter.
func (p *Person) onePage(what string) {
	p.t.Helper()
	for _, paper := range []struct {
		name          string
		width, height float64
	}{{"A4", 8.27, 11.69}, {"US Letter", 8.5, 11}} {
		if n := p.pages(paper.width, paper.height); n != 1 {
			p.t.Errorf("%s is %d pages on %s", what, n, paper.name)
		}
	}
}

// screen takes a client of 60 years who exercises regularly through the intake,
// with these answers, and lets them join on a phone.
func (p *Practice) screen(given, family string, answers url.Values) Client {
	t := p.Practitioner.t
	t.Helper()
	c := Client{SignInName: strings.ToLower(given) + "@home.example", Phone: NewVisitor(t, p.brae), Path: p.NewRecord(given, family)}
	for i, step := range intakeAnswers {
		form := url.Values{"version": {fmt.Sprint(i)}}
		for field, values := range step {
			if field != "step" && !strings.HasPrefix(field, "q.") && field != "medicines" {
				form[field] = values
			}
		}
		for field, values := range answers {
			if step.Get("step") == "symptoms" {
				form[field] = values
			}
		}
		p.Practitioner.Post(c.Path+"/intake/"+step.Get("step"), form)
	}
	p.Practitioner.Post(c.Path+"/screening", url.Values{"version": {fmt.Sprint(len(intakeAnswers))}})
	shown := p.Practitioner.Show(c.Path+"/invite", url.Values{"sign_in_name": {c.SignInName}})
	c.Phone.Post(oneTimeLink(t, shown), url.Values{"passphrase": {ClientPassphrase}})
	return c
}

// Somebody who exercises regularly and now has a symptom stops at every intensity
// (row R17 of the published screening, Riebe 2015), and goes on within the ceiling
// and the limit that a doctor sends with the link in a letter, once the
// practitioner has confirmed it.
func TestDoctorReview(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.screen("Sven", "Scree", url.Values{"q.chest_pressure": {"yes"}, "do": {"rest_no"}})

	phone := NewPerson(t, brae, "client", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)
	phone.Is("/week", 200)
	phone.Sees("No exercise until a doctor has answered")

	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	pia.Open("/doctor")
	pia.Sees("Nobody has written yet", "Sven Scree")
	pia.Inspect("doctor queue", "one unasked")
	link := writeLetter(pia, client.Path)

	answerAsDoctor(t, brae, link)
	phone.Open("/week")
	phone.Sees("No exercise until a doctor has answered") // it does not count before it is confirmed

	pia.Open("/doctor")
	pia.Sees("An answer came by the link")
	pia.Follow("Sven Scree")
	pia.Sees("It does not count yet", "Heart rate at most 118", "leg pain up to 4 of 5")
	pia.Inspect("letter sent", "answer to confirm")
	pia.Press("Confirm: this is the doctor's decision")
	pia.Sees("The decision is recorded, and one hold released", "In force")
	pia.Inspect("doctor decision", "in force")
	pia.Open(client.Path + "/holds")
	pia.Sees("Nothing is on hold", "Released")
	pia.Inspect("holds", "released")

	// 207 - 0.7 x 60 = 165 at most (Gellish 2007), 72 at rest: 40 % of the reserve is
	// 109.2 (Karvonen 1957), and the doctor's 118 ends the range.
	pia.Open(client.Path + "/prescription/new")
	pia.Sees("110 to 118 bpm", "Never above 118", "No swimming")
	if pia.Count(`input[name=class][value=vigorous]`) != 0 {
		t.Error("the doctor's ceiling is moderate, and vigorous work can be prescribed")
	}
	pia.Choose("Intensity", "Moderate")
	pia.Fill("Sessions a week", "4")
	pia.Fill("Minutes each time", "20")
	pia.Fill("Type", "brisk walking")
	pia.Fill("Target of the week", "80")
	pia.Press("Sign")
	phone.Open("/plan")
	phone.SeesNot("until a doctor has answered")
	phone.Sees("110 to 118 bpm", "Never above 118", "The doctor rules out: No swimming")
	phone.Inspect("plan", "doctor's limits")
	pia.Open(client.Path + "/doctor")
	pia.Sees("In force", "Answered", "No swimming")
	pia.Inspect("doctor review", "one decision")
}

// writeLetter writes and sends a letter that is as long as it may be, and returns
// the link for the doctor.
func writeLetter(pia *Person, record string) string {
	pia.t.Helper()
	pia.Open(record + "/doctor")
	pia.Press("Write a letter")
	pia.Sees("Drafted from the record", "Chest pressure")
	pia.Press("Save and mark as sent")
	pia.Sees("Type to whom the letter goes", "Type the day on which the client agreed", "Say how the client agreed", "Choose how it was sent")
	pia.Inspect("letter draft", "refused")
	pia.Fill("To", "Dr Edda Lund")
	for label, most := range map[string]int{
		"Address": 200, "Why you ask": 300, "Symptoms, with onset and pattern": 300, "Known diseases": 200, "Medicines with doses": 300,
		"Last measured": 150, "Activity now": 150, "What you plan, and how it builds up": 300, "Anything else": 200,
	} {
		text := pia.Value(label)
		pia.Fill(label, (text + strings.Repeat(" and so on and on", 40))[:most])
	}
	pia.Choose("Why it may go to this doctor", "Without consent: the law allows it here")
	pia.Press("Save and mark as sent")
	pia.Sees("Write why this goes to the doctor without the client's consent")
	pia.Choose("Why it may go to this doctor", "The client agrees now")
	pia.Fill("If the client agrees now: on", today(pia.t))
	pia.Choose("How they agreed", "Signed on paper")
	pia.Choose("How", "By the one-time link")
	pia.Press("Save and mark as sent")
	pia.Sees("The letter is marked as sent", "What was sent")
	pia.Press("Print with a link")
	pia.Sees("Print it now", "Sven Scree, born", "We ask for your guidance")
	pia.Inspect("letter paper", "with a link")
	pia.onePage("the longest letter")
	return pia.Text("#doctor-link")
}

// answerAsDoctor answers a letter from outside, without an account.
func answerAsDoctor(t *testing.T, brae *Brae, link string) {
	t.Helper()
	doctor := NewPerson(t, brae, "doctor", Phone)
	doctor.Open(link)
	doctor.Sees("Slope Street Practice asks for a doctor's answer")
	doctor.SeesNot("Sven", "Scree", "Chest", "Lund")
	doctor.Inspect("doctor's link", "closed")
	doctor.Fill("Client's date of birth", "1950-05-05")
	doctor.Press("Open the letter")
	doctor.Sees("This does not fit the letter")
	doctor.SeesNot("Sven", "Scree")
	doctor.Fill("Client's date of birth", BirthDate(60))
	doctor.Press("Open the letter")
	doctor.Sees("About Sven Scree", "We ask for your guidance")
	doctor.Press("Sign and send")
	doctor.Sees("Say what the doctor answered", "Sign with your name")
	doctor.Inspect("doctor's letter", "refused")
	doctor.Choose("May the client exercise now?", "May exercise, with limits")
	doctor.Choose("How hard at most?", "Moderate")
	doctor.Tick("Chest pressure or pain")
	doctor.Fill("Heart rate at most", "118")
	doctor.Fill("To avoid, line 1", "No swimming")
	doctor.Pick("Symptom, line 1", "Leg pain that walking brings on")
	doctor.Fill("Up to, line 1", "leg pain up to 4 of 5")
	doctor.Choose("Profession", "Physician")
	doctor.Fill("Licence or registration", "R 1177")
	doctor.Fill("Surgery or hospital", "Harbour Surgery")
	doctor.Fill("How to reach the doctor", "030 5550 177")
	doctor.Fill("Signature: your name once more", "Edda Lund")
	doctor.Press("Sign and send")
	doctor.Sees("Thank you", "The practitioner looks at it before it counts")
	doctor.Open(link)
	doctor.Sees("This link does not work")
	if doctor.Status() != 404 {
		t.Errorf("the used link answers %d", doctor.Status())
	}
	doctor.Inspect("doctor's link dead", "used")
}

// A prescription that was opened before a hold and is signed after it, from
// another desk, is refused; what was typed is kept.
func TestStalePrescription(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.screen("Runa", "Rill", url.Values{"do": {"rest_no"}})
	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	pia.Open(client.Path + "/prescription/new")
	pia.Fill("Sessions a week", "3")
	pia.Fill("Minutes each time", "25")
	pia.Fill("Type", "hill runs")
	pia.Fill("Note for the client", "Mind the stones.")
	pia.Choose("Intensity", "Moderate")

	lead := NewPerson(t, brae, "lead", Desk)
	lead.SignIn(practice.LeadName, LeadPassphrase)
	lead.Open(client.Path + "/holds")
	lead.Press("Put on hold")
	lead.Sees("Choose what has to wait", "Write why")
	lead.Choose("What waits", "Everything above light")
	lead.Fill("Why", "Wait for the blood test.")
	lead.Press("Put on hold")
	lead.Sees("The hold is open", "Wait for the blood test.")

	pia.Press("Sign")
	pia.Is(client.Path+"/prescription", 422)
	pia.Sees("This is above what is allowed now", "Wait for the blood test.")
	if pia.Value("Type") != "hill runs" || pia.Value("Note for the client") != "Mind the stones." {
		t.Errorf("what was typed is lost: %q, %q", pia.Value("Type"), pia.Value("Note for the client"))
	}
	if n := brae.Count(brae.Query(), `SELECT count(*) FROM prescriptions`); n != 0 {
		t.Errorf("%d prescriptions are signed", n)
	}
	pia.Open(client.Path + "/holds")
	pia.Fill("Why it is released", "The test is fine.")
	pia.Press("Release")
	pia.Sees("The hold is released", "Nothing is on hold")
}
