package ui

import (
	"bytes"
	"context"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/a-h/templ"

	"brae/domain/intensity"
	"brae/domain/volume"
	"brae/static"
)

var gallery = flag.Bool("gallery", false, "write every component in every state to e2e/shots/gallery, to look at")

// A shot is one page of the gallery: components in a state worth looking at.
type shot struct {
	name  string
	frame Page
	body  templ.Component
}

func clientPage(title string) Page {
	return Page{
		Title: title, Practice: "Northside Rehab", ClientArea: true, Emergency: "112",
		Signed: &Who{Name: "Ada Example", SignOut: "/sign-out"},
		Nav:    []NavItem{{"Week", "/me", true}, {"Log", "/me/log", false}, {"Plan", "/me/plan", false}},
	}
}

func staffPage(title string) Page {
	return Page{
		Title: title, Practice: "Northside Rehab",
		Signed: &Who{Name: "Jo Example", Role: "Practitioner", Href: "/account", SignOut: "/sign-out"},
		Nav: []NavItem{
			{"Worklist", "/work", false}, {"Clients", "/clients", true}, {"Review", "/review", false},
			{"Numbers", "/numbers", false}, {"Sources", "/sources", false},
		},
	}
}

func day(label string, light, moderate, vigorous, unjudged int) SlopeDay {
	return SlopeDay{Label: label, Totals: volume.Totals{
		Light: light, Moderate: moderate, Vigorous: vigorous, Unjudged: unjudged,
		ModerateEquivalent: moderate + volume.VigorousWorth*vigorous,
	}}
}

var slopes = []Slope{
	{
		ID: "midweek", Title: "This week", Through: 4, Target: volume.Target{Minutes: 150},
		Line: "54 left. Two brisk walks of 27 minutes would do it.",
		Days: [7]SlopeDay{day("Mon", 0, 30, 0, 0), day("Tue", 45, 0, 0, 0), day("Wed", 0, 20, 8, 0),
			day("Thu", 0, 30, 0, 0), day("Fri", 0, 0, 0, 0), day("Sat", 0, 0, 0, 0), day("Sun", 0, 0, 0, 0)},
	},
	{
		ID: "over", Title: "Last week", Through: 7, Target: volume.Target{Minutes: 150}, Line: "You reached the ridge on Saturday.",
		Days: [7]SlopeDay{day("Mon", 0, 25, 0, 0), day("Tue", 0, 0, 15, 0), day("Wed", 60, 0, 0, 0),
			day("Thu", 0, 30, 0, 15), day("Fri", 0, 0, 0, 0), day("Sat", 20, 30, 20, 0), day("Sun", 0, 20, 0, 0)},
	},
	{
		ID: "start", Title: "This week", Through: 1, Target: volume.Target{Minutes: 150}, Line: "A new week. Start where you like.",
		Days: [7]SlopeDay{day("Mon", 0, 0, 0, 0), day("Tue", 0, 0, 0, 0), day("Wed", 0, 0, 0, 0),
			day("Thu", 0, 0, 0, 0), day("Fri", 0, 0, 0, 0), day("Sat", 0, 0, 0, 0), day("Sun", 0, 0, 0, 0)},
	},
	{
		ID: "light", Title: "Week of 2 March", Through: 7, Target: volume.Target{Minutes: 90, Light: true},
		Days: [7]SlopeDay{day("Mon", 15, 0, 0, 0), day("Tue", 0, 0, 0, 0), day("Wed", 15, 5, 0, 0),
			day("Thu", 0, 0, 0, 0), day("Fri", 20, 0, 0, 0), day("Sat", 0, 0, 0, 0), day("Sun", 15, 0, 0, 0)},
	},
	{
		ID: "monday", Title: "One long day", Through: 7, Target: volume.Target{Minutes: 150},
		Days: [7]SlopeDay{day("Mon", 0, 60, 60, 0), day("Tue", 240, 0, 0, 0), day("Wed", 0, 0, 0, 0),
			day("Thu", 0, 0, 0, 0), day("Fri", 0, 0, 0, 0), day("Sat", 0, 0, 0, 0), day("Sun", 0, 0, 0, 0)},
	},
}

var zones = Zones{
	Caption: "Zones",
	Basis:   "Measured peak of 162 bpm in a treadmill test. Resting heart rate 64 bpm, lying.",
	Notes:   []string{"Where heart rate and talk test disagree, the harder of the two counts."},
	Sources: []Source{{"Karvonen 1957", "/sources#karvonen1957", "published"}, {"ACSM 2011", "/sources#garber2011", "published"}},
	Rows: []ZoneRow{
		{intensity.VeryLight, "up to 92 bpm", "Could sing", "up to 8 of 20", ""},
		{intensity.Light, "93 to 102 bpm", "Can sing a line", "9 to 11 of 20", ""},
		{intensity.Moderate, "104 to 121 bpm", "Whole sentences, no singing", "12 to 13 of 20", ""},
		{intensity.Vigorous, "", "Only a few words", "14 to 17 of 20", "On hold until a doctor has answered"},
		{intensity.NearMaximal, "", "Cannot talk", "18 of 20 and more", "On hold until a doctor has answered"},
	},
}

func zonesWithout() Zones {
	z := zones
	z.Rows = nil
	for _, r := range zones.Rows {
		r.HeartRate = ""
		z.Rows = append(z.Rows, r)
	}
	z.Basis = "No heart-rate range: a beta blocker makes a predicted maximum invalid. Use the talk test."
	z.Notes, z.Sources = nil, nil
	return z
}

var hold = Hold{
	Sentence: "No vigorous exercise until a doctor has answered.",
	Cause:    "Diabetes, not active for three months, no doctor's answer on record.",
	Since:    "12 March 2026", Next: "Write the letter; the answer is due within 14 days.",
	Link: "Write to the doctor", Href: "/clients/1/referral",
}

var decision = Decision{
	Sentence: "May exercise at light to moderate intensity today.",
	Next:     "Vigorous work stays on hold until a doctor has answered.",
	Rule:     "Rule 5", RuleHref: "/sources#screening-5",
	Why:     []string{"Known disease: type 2 diabetes", "No symptoms reported", "Active 3 days a week for 30 minutes, for 5 months"},
	Sources: []Source{{"ACSM 2015", "/sources#riebe2015", "published"}, {"Answer due in 14 days", "", "practice setting"}},
}

func weeks(minutes ...int) Spark {
	var s Spark
	for _, m := range minutes {
		s.Weeks = append(s.Weeks, SparkWeek{Minutes: max(m, 0), Target: 150, NoLog: m < 0})
	}
	return s
}

func reviewTable() Table {
	t := Table{
		Caption: "Behind on weekly minutes",
		Columns: []Column{{Label: "Client"}, {Label: "Done", Number: true, Href: "?sort=done"}, {Label: "Short by", Number: true, Href: "?sort=-short", Sorted: "descending"}, {Label: "Last 8 weeks"}, {Label: "Why"}},
	}
	for _, r := range []struct {
		name, done, short, why string
		spark                  Spark
	}{
		{"Ada Example", "40", "110", "No log since 3 March; doctor's answer 5 days overdue", weeks(150, 140, 120, 90, 60, 70, -1, 40)},
		{"Bartholomew Longname-Examplesson the Younger", "0", "150", "No log for 2 weeks", weeks(0, 20, 60, 80, 30, 0, -1, -1)},
		{"Cy Example", "165", "0", "", weeks(30, 45, 60, 80, 100, 130, 150, 165)},
	} {
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: r.name, Href: "/clients/1"}, {Text: r.done}, {Text: r.short}, {Content: SlopeSpark(r.spark)}, {Text: orDash(r.why)},
		}})
	}
	return t
}

var cards = []Option{
	{Value: "sing", Label: "I could sing"},
	{Value: "sentences", Label: "I could talk in whole sentences", Hint: "That is moderate."},
	{Value: "few_words", Label: "Only a few words", Hint: "That is vigorous."},
}

func logForm(problems map[string]string) templ.Component {
	return within(Form("/me/sessions", true),

		Hidden("key", "0190"),
		Select(Field{Name: "activity", Label: "What did you do?", Value: "walk", Problem: problems["activity"],
			Options: []Option{{Value: "", Label: "Choose"}, {Value: "walk", Label: "Brisk walk"}, {Value: "cycle", Label: "Cycling"}}}),
		WholeNumber(Field{Name: "minutes", Label: "How long?", Hint: "Without breaks.", Unit: "min", Value: "thirty", Problem: problems["minutes"], Required: true}),
		Radios(Field{Name: "talk", Label: "How well could you talk?", Cards: true, Options: cards, Value: "sentences", Problem: problems["talk"]}),
		Checkboxes(Field{Name: "reports", Label: "Did you feel any of these?", Hint: "Tick all that fit.", Options: []Option{
			{Value: "chest_pressure", Label: "Pressure or pain in the chest"}, {Value: "dizzy", Label: "Dizzy or faint", Checked: true}, {Value: "fine", Label: "None of these"}}}),
		TextArea(Field{Name: "note", Label: "A note", Optional: true, Rows: 3, MaxLength: 500}),
		Buttons(Button{Label: "Save"}, Button{Label: "Save and log another", Kind: Quiet, Name: "then", Value: "again"}),
	)
}

func intakeForm(problems map[string]string) templ.Component {
	return within(Form("/clients/1/intake", true),

		within(Fieldset(Group{Name: "person", Legend: "The person", Hint: "As on their papers.", Large: true, Problem: problems["person"]}),

			Text(Field{Name: "name", Label: "Full name", Autocomplete: "name", Value: "Ada", Problem: problems["name"], Required: true}),
			DateField(Field{Name: "birth_date", Label: "Date of birth", Autocomplete: "bday", Value: "1961-04-02", Max: "2026-03-12", Problem: problems["birth_date"], Required: true}),
			Text(Field{Name: "mail", Label: "Email", Type: "email", Autocomplete: "email", Optional: true, Width: 20}),
			Decimal(Field{Name: "weight", Label: "Weight", Unit: "kg", Value: "81,5", Problem: problems["weight"]}),
			Select(Field{Name: "posture", Label: "Posture", Value: "lying", Options: []Option{{Value: "lying", Label: "Lying"}, {Value: "sitting", Label: "Sitting"}}}),
		),
		within(Fieldset(Group{Legend: "Health", Hint: "Not sure counts as yes.", Large: true}),

			ThreeWay(Field{Name: "heart", Label: "Has a doctor ever said that you have a heart condition?", Problem: problems["heart"]}),
			ThreeWay(Field{Name: "chest", Label: "Do you feel pain or pressure in the chest when you are active?", Value: "not_sure", Hint: "Also in the jaw, neck or arm."}),
			ThreeWay(Field{Name: "faint", Label: "Have you fainted in the last year?", Value: "no"}),
		),
		Radios(Field{Name: "sex", Label: "Sex at birth", Hint: "The equations differ.", Options: []Option{{Value: "f", Label: "Female"}, {Value: "m", Label: "Male"}, {Value: "x", Label: "Rather not say"}}}),
		Checkbox(Field{Name: "consent", Label: "I agree that the practice keeps this record.", Hint: "It can be taken back at any time.", Problem: problems["consent"]}),
		Buttons(Button{Label: "Save and go on"}, Button{Label: "Back", Href: "/clients/1", Kind: Quiet}, Button{Label: "Erase this client", Kind: Danger, Name: "do", Value: "erase"}),
	)
}

var logProblems = map[string]string{
	"minutes":  "Write how long it was as a number of minutes, such as 30.",
	"talk":     "Choose how well you could talk.",
	"activity": "Choose what you did.",
}

var intakeProblems = map[string]string{
	"person":     "Somebody with this name and birthday is on file. Look there first.",
	"name":       "Write the full name.",
	"birth_date": "Write a day in the past.",
	"weight":     "Write the weight in kilograms, between 20 and 350.",
	"heart":      "Choose yes, no or not sure.",
	"consent":    "Tick to agree, or do not save a record.",
}

func shots() []shot {
	flash := clientPage("Log saved")
	flash.Flash = "Saved. 30 minutes of moderate work."
	refusedLog := clientPage("Log a session")
	refusedLog.ProblemTitle = true
	refusedIntake := staffPage("Intake")
	refusedIntake.ProblemTitle = true
	emergency := clientPage("Stop")
	emergency.Nav = nil
	wide := staffPage("Review")

	wide.Wide = true
	stranger := Page{Title: "Sign in", Practice: "Northside Rehab"}

	var all []templ.Component
	for _, s := range slopes {
		all = append(all, WeekSlope(s))
	}
	return []shot{
		{"client-week", flash, templ.Join(
			Heading("Your week", ""),
			WeekSlope(slopes[0]),
			Buttons(Button{Label: "Log a session", Href: "/me/log"}, Button{Label: "Same as Monday", Kind: Quiet}),
			within(Notice("How hard is moderate?"),
				paragraph("You can talk in whole sentences, but you could not sing.")),
		)},
		{"client-log", clientPage("Log a session"), templ.Join(Heading("Log a session", ""), logForm(nil))},
		{"client-log-refused", refusedLog, templ.Join(
			ErrorSummary(Problems(logProblems, "activity", "minutes", "talk")), Heading("Log a session", ""), logForm(logProblems))},
		{"client-hold", clientPage("Your plan"), templ.Join(
			Heading("Your plan", "Week 3 of 12"),
			HoldBanner(Hold{Sentence: "Keep it easy for now. No hard exercise.", Cause: "We wait for a letter from your doctor.", Since: "12 March"}),
			ZoneTable(zonesWithout()),
			Empty(Nothing{"Nothing logged yet", "Log your first session when you have done it. A short walk counts.", "Log a session", "/me/log"}),
		)},
		{"client-emergency", emergency, within(EmergencyScreen(Emergency{
			Title: "Stop exercising now", Number: "112",
			Lines: []string{"Sit down and rest.", "Call 112, or ask somebody near you to call.", "Say: chest pain during exercise."},
		}),
			Buttons(Button{Label: "It has passed", Kind: Quiet, Href: "/me/after"}))},
		{"slopes", staffPage("Slopes"), templ.Join(append([]templ.Component{Heading("Slopes", "Every state of a week")}, all...)...)},
		{"staff-client", staffPage("Ada Example"), templ.Join(
			Heading("Ada Example", "58 years, beta blocker, since January"),
			HoldBanner(hold), DecisionBlock(decision),
			DecisionBlock(Decision{Sentence: "No exercise today.", Held: true, Rule: "Rule 1", Why: []string{"Chest pressure at rest, reported today"}}),
			ZoneTable(zones),
			Definitions([]Definition{{Term: "Ceiling", Content: ClassTag(intensity.Moderate)}, {Term: "Resting heart rate", Detail: "64 bpm, lying, 3 readings"}, {Term: "Goal", Detail: "Walk the coast path with the grandchildren in summer"}}),
			SourceLine(decision.Sources),
		)},
		{"staff-intake", staffPage("Intake"), templ.Join(
			Heading("Intake", "Ada Example"),
			Steps([]Step{
				{"The person", "/a", Done, "", false}, {"Activity now", "/b", Started, "2 of 4 answered", true},
				{"Known disease", "/c", NotStarted, "", false}, {"Measurements", "/d", Wrong, "", false}}),
			intakeForm(nil))},
		{"staff-intake-refused", refusedIntake, templ.Join(
			ErrorSummary(Problems(intakeProblems, "person", "name", "birth_date", "weight", "heart", "consent")), Heading("Intake", "Ada Example"), intakeForm(intakeProblems))},
		{"staff-review", wide, templ.Join(
			Heading("Review", "Week of 9 March 2026"),
			Choices("Show", Choice{"All", "12", "/review", true}, Choice{"On hold", "2", "/review?show=held", false}),
			DataTable(reviewTable()),
			Pagination(Pager{Previous: "/review?page=1", Next: "/review?page=3", Position: "Page 2 of 5"}),
			Empty(Nothing{Title: "No doctor's answer is overdue", Text: "Holds that wait for an answer are listed here."}),
		)},
		{"sign-in", stranger, templ.Join(Heading("Sign in", ""), within(Form("/sign-in", false),

			Text(Field{Name: "mail", Label: "Email", Type: "email", Autocomplete: "username", Required: true}),
			Text(Field{Name: "password", Label: "Password", Type: "password", Autocomplete: "current-password", Required: true}),
			Buttons(Button{Label: "Sign in"})))},
		{"message", stranger, templ.Join(Heading("There is nothing here", "The address may be mistyped, or what was here is not yours to see."), Buttons(Button{Label: "To the start", Href: "/", Kind: Quiet}))},
	}
}

// within puts components inside one that takes children.
func within(outer templ.Component, inner ...templ.Component) templ.Component {
	return templ.ComponentFunc(func(ctx context.Context, w io.Writer) error {
		return outer.Render(templ.WithChildren(ctx, templ.Join(inner...)), w)
	})
}

func paragraph(text string) templ.Component {
	return templ.Raw("<p>" + templ.EscapeString(text) + "</p>")
}

func component(t *testing.T, c templ.Component) string {
	t.Helper()
	var b bytes.Buffer
	if err := c.Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func (s shot) render(t *testing.T) string {
	t.Helper()
	return component(t, within(Layout(s.frame), s.body))
}

// TestGallery writes the pages, to look at. What they must be whatever they look
// like is in TestMarkup.
func TestGallery(t *testing.T) {
	titles := map[string]bool{}
	for _, s := range shots() {
		if titles[s.name] {
			t.Errorf("two pages called %s", s.name)
		}
		titles[s.name] = true
	}
	if !*gallery {
		return
	}
	dir := filepath.Join("..", "..", "e2e", "shots", "gallery")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"css/brae.css", "js/form.js", "icons/favicon.svg"} {
		body, err := os.ReadFile(filepath.Join("..", "..", "static", name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(name)), body, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	local := strings.NewReplacer(
		static.Path("css/brae.css"), "brae.css", static.Path("js/form.js"), "form.js", static.Path("icons/favicon.svg"), "favicon.svg")
	for _, s := range shots() {
		if err := os.WriteFile(filepath.Join(dir, s.name+".html"), []byte(local.Replace(s.render(t))), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
