package e2e

import (
	"fmt"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"
)

// comesToSay looks until an element says something, without another page.
func (p *Person) comesToSay(selector, text string) {
	p.t.Helper()
	for until := time.Now().Add(patience); time.Now().Before(until); time.Sleep(50 * time.Millisecond) {
		if strings.Contains(strings.Join(strings.Fields(p.Text(selector)), " "), text) {
			return
		}
	}
	p.t.Errorf("%s at %s: %s does not come to say %q; it says %q", p.Name, p.Path(), selector, text, p.Text(selector))
}

// types types text by single keys and returns how many.
func (p *Person) types(text string) int {
	p.t.Helper()
	p.Key(text)
	return len(text)
}

// TestIntakeByKeyboardAlone takes a client with diabetes through the whole intake
// without a mouse and counts the keys, those that type included. At one key a
// second that is a third of the ten minutes that an intake may take; the rest is
// for talking.
func TestIntakeByKeyboardAlone(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	practice := NewPractice(t, brae)
	record := practice.NewRecord("Kay", "Knoll")
	p := NewPerson(t, brae, "practitioner", Desk)
	p.SignIn(practice.PractitionerName, PractitionerPassphrase)

	p.Open(record + "/intake/activity") // the focus is on the heading
	keys := p.tabTo("activity_days") + p.types("5")
	keys += p.tabTo("activity_minutes") + p.types("30")
	keys += p.tabTo("activity_months") + p.types("12")
	keys += p.tabTo("activity_class") + p.keys(" ", kb.ArrowDown) // moderate
	next := func() {
		t.Helper()
		keys += p.tabToButton("Save and go on") + 1
		p.arrives(kb.Enter)
	}
	noToAll := func() {
		t.Helper()
		keys += p.tabToButton("No to all that are left") + 1
		p.arrives(kb.Enter)
	}
	next()
	p.Is(record+"/intake/diseases", 200)
	keys += p.tabTo("q.diabetes_type_2") + p.keys("y") // and the focus goes on to what is asked about it
	if at := Ask[string](p, `return document.activeElement.id`); at != "since.diabetes_type_2" {
		t.Errorf("after a yes the focus is on %q", at)
	}
	keys += p.types("2019")
	keys += p.tabTo("course.diabetes_type_2") + p.keys(" ")
	keys += p.tabTo("q.kidney_disease") + p.keys("n", "n", "n") // one key each
	for _, code := range []string{"kidney_disease", "dialysis", "kidney_transplant"} {
		if !Ask[bool](p, `return document.querySelector("[name='q."+%s+"'][value=no]").checked`, code) {
			t.Errorf("n has not answered %s", code)
		}
	}
	p.comesToSay("#outlook-said", "Up to moderate exercise. Vigorous work waits")
	p.comesToSay("#outlook-said", "New: Type 2 diabetes counts as known disease")
	noToAll()
	next()
	p.Is(record+"/intake/symptoms", 200)
	keys += p.tabTo("q.chest_pressure")
	for range 9 {
		keys += p.keys("n")
	}
	next()
	p.Is(record+"/intake/medicines", 200)
	keys += p.tabTo("medicine_name") + p.types("metformin")
	keys += p.tabTo("medicine_dose") + p.types("500 mg")
	next()
	p.Is(record+"/intake/more", 200)
	noToAll()
	next()
	p.Is(record+"/intake/findings", 200)
	keys += p.tabToButton("Save and go on") + 1
	p.arrives(kb.Enter)
	p.Is(record+"/intake/measurements", 200)
	keys += p.tabTo("resting_1") + p.types("72")
	keys += p.tabTo("systolic") + p.types("132")
	keys += p.tabTo("diastolic") + p.types("84")
	keys += p.tabTo("weight") + p.types("82.5")
	keys++
	p.arrives(kb.Enter)
	p.Is(record+"/intake/limits", 200)
	keys += p.tabTo("falls") + p.types("0") + 1
	p.arrives(kb.Enter)
	p.Is(record+"/intake/goal", 200)
	keys += p.tabTo("desired") + p.keys(" ", kb.ArrowDown)
	keys += p.tabToButton("Save") + 1
	p.arrives(kb.Enter)
	keys += p.tabToButton("Decide") + 1
	p.arrives(kb.Enter)
	p.Is(record+"/decision", 200)
	p.Sees("May do today: up to moderate exercise.", "R14", "May not: anything harder than moderate exercise.", "Until: a doctor has answered.")
	t.Logf("a whole intake takes %d keys", keys)
	if keys > 300 {
		t.Errorf("a whole intake takes %d keys, more than 300", keys)
	}
}

// tabToButton presses Tab until the button with these words has the focus, and
// returns how many times.
func (p *Person) tabToButton(text string) int {
	p.t.Helper()
	for n := 1; n <= 120; n++ {
		p.Key(kb.Tab)
		if Ask[bool](p, `const e = document.activeElement; return e.tagName === "BUTTON" && words(e) === %s`, text) {
			return n
		}
	}
	p.t.Fatalf("%s at %s: Tab does not reach the button %q", p.Name, p.Path(), text)
	return 0
}

// TestIntakeFollows looks at the intake while it is filled in: the decision so far,
// what is asked about a yes, values to confirm, two people at once, the decision,
// a stricter ceiling, and screening again.
func TestIntakeFollows(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	record := practice.NewRecord("Dora", "Dale")
	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)

	pia.Open(record + "/consent")
	pia.Inspect("consent", "none")
	pia.Choose("How they agreed", "Signed on paper", "Consent to exercise here")
	pia.Press("Record the consent")
	pia.Sees("In force")

	pia.Open(record + "/intake/symptoms")
	pia.comesToSay("#outlook-said", "Start with light exercise")
	pia.Choose("Does your heart race, pound, flutter or skip beats without a reason?", "Yes")
	pia.Fill("Since when", "2026-10", "About: A racing, pounding or irregular heartbeat")
	pia.Choose("At rest or with effort", "With effort", "About: A racing, pounding or irregular heartbeat")
	pia.comesToSay("#outlook-said", "No exercise until a doctor has answered")
	pia.comesToSay("#outlook-said", "New: A racing, pounding or irregular heartbeat is a sign or symptom that a doctor has to look into")
	pia.Inspect("intake symptoms", "one yes")

	pia.Open(record + "/intake/medicines")
	pia.Fill("Generic name", "bisoprolol")
	pia.Fill("Dose", "2.5 mg")
	pia.Fill("Taken since", "2024")
	pia.Press("Add")
	pia.kept(map[string]string{"Medicines": "bisoprolol 2.5 mg, since 2024", "Generic name": ""})
	pia.Sees("Do not trust a predicted maximum", "What is the beta-blocker or heart-slowing medicine taken for?")
	pia.Inspect("intake medicines", "one added")

	pia.Open(record + "/intake/measurements")
	pia.Fill("First reading", "58")
	pia.Fill("Weight", "260")
	pia.Press("Save and go on")
	pia.refused("weight")
	pia.Inspect("intake measurements", "to be confirmed")
	pia.Tick("260 is right")
	pia.Press("Save and go on")
	pia.Is(record+"/intake/limits", 200)

	// Two people at one step.
	lead := NewPerson(t, brae, "lead", Desk)
	lead.SignIn(practice.LeadName, LeadPassphrase)
	lead.Open(record + "/intake/activity")
	pia.Open(record + "/intake/activity")
	pia.Fill("Days a week", "3")
	pia.Fill("Minutes a day", "20")
	pia.Press("Save")
	lead.Fill("Days a week", "4")
	lead.Fill("For how many months", "6")
	lead.Press("Save")
	if lead.Status() != 409 {
		t.Errorf("saving over what somebody else has saved has status %d", lead.Status())
	}
	lead.Sees("Yours: 4", "By Pia Practitioner: 3", "Yours: nothing", "By Pia Practitioner: 20")
	lead.Inspect("intake activity", "two versions")
	lead.Choose("Days a week", "By Pia Practitioner: 3")
	lead.Press("Save")
	lead.kept(map[string]string{"Days a week": "3", "Minutes a day": "20", "For how many months": "6"})

	decided := practice.AddClient("Tilda", "Tarn").Path
	pia.Open(decided + "/decision")
	pia.Sees("May do today: up to moderate exercise.", "May not: anything harder than moderate exercise.", "Until: a doctor has answered.", "Blood sugar can fall")
	pia.Inspect("decision", "cautions")
	pia.Unfold("Be stricter")
	pia.Choose("Allow", "Light only")
	pia.Fill("Because", "A cold last week.")
	pia.Press("Hold")
	pia.Sees("May do today: up to light exercise. A hold keeps it there.", "Up to moderate")
	pia.Open(decided + "/changes/new")
	pia.Inspect("change", "empty")
	pia.Choose("What has changed", "A new disease")
	pia.Fill("What exactly", "Narrowed leg arteries, says the letter.")
	pia.Press("Record the change")
	pia.Is(decided, 200)
	pia.Open(decided + "/intake/diseases")
	pia.Sees("Screening again", "The answers start from")
	pia.Choose("Do you have type 2 diabetes?", "No")
	pia.comesToSay("#outlook-said", "No longer: Type 2 diabetes")
	pia.Inspect("intake diseases", "again")
}

// TestSomeCellsInTheBrowser reads the page for one cell of each row of the figure
// of the ACSM of 2015; all eighteen go through the form in the tests of the server.
func TestSomeCellsInTheBrowser(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	practice := NewPractice(t, brae)
	pia := NewPerson(t, brae, "practitioner", Phone)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	for row, tt := range map[string]struct {
		days, code, says string
	}{
		"R5": {"0", "heart_attack", "May do today: no exercise."}, "R8": {"0", "palpitations", "May do today: no exercise."},
		"R11": {"5", "", "May do today: up to vigorous exercise."}, "R14": {"5", "stroke", "May do today: up to moderate exercise."},
		"R17": {"5", "fainting", "May do today: no exercise."},
	} {
		record := practice.NewRecord("Cell", row)
		for i, answers := range intakeAnswers {
			form := url.Values{"version": {fmt.Sprint(i)}}
			for field, values := range answers {
				if field != "step" && field != "q.diabetes_type_2" {
					form[field] = values
				}
			}
			switch step := answers.Get("step"); {
			case step == "activity":
				form.Set("activity_days", tt.days)
			case step == "medicines":
				form.Set("medicines", "")
			case step == "goal":
				form.Set("desired", "moderate")
			case tt.code != "" && (step == "symptoms") == (tt.code == "palpitations" || tt.code == "fainting") && (step == "symptoms" || step == "diseases"):
				form.Set("q."+tt.code, "yes")
			}
			practice.Practitioner.Post(record+"/intake/"+answers.Get("step"), form)
		}
		practice.Practitioner.Post(record+"/screening", url.Values{"version": {fmt.Sprint(len(intakeAnswers))}})
		pia.Open(record + "/decision")
		pia.Sees("published row "+row+",", tt.says)
	}
}
