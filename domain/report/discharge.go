package report

import (
	"strings"
	"unicode/utf8"

	"brae/domain"
	"brae/domain/intensity"
)

// Reader is for whom a report is.
type Reader string

// The readers.
const (
	ForClient Reader = "client"
	ForDoctor Reader = "doctor"
)

// Outcome is why care ends.
type Outcome string

// The outcomes of care.
//
// Practice rule: practice.
const (
	GoalReached Outcome = "goal_reached"
	Programme   Outcome = "programme" // the programme is over
	OnTheirOwn  Outcome = "on_their_own"
	Elsewhere   Outcome = "elsewhere" // goes on with another service
	Moved       Outcome = "moved"
	Health      Outcome = "health"
	NoContact   Outcome = "no_contact"
	Died        Outcome = "died"
	Other       Outcome = "other"
)

// Outcomes returns the outcomes in the order of a form.
func Outcomes() []Outcome {
	return []Outcome{GoalReached, Programme, OnTheirOwn, Elsewhere, Moved, Health, NoContact, Died, Other}
}

var outcomeNames = map[Outcome]string{
	GoalReached: "The goal is reached", Programme: "The programme is over", OnTheirOwn: "The client goes on without us",
	Elsewhere: "The client goes on with another service", Moved: "The client has moved away", Health: "Health keeps the client from it",
	NoContact: "The client cannot be reached", Died: "The client has died", Other: "Another reason",
}

// Name is the outcome in words; the code where there is none.
func (o Outcome) Name() string {
	if name, ok := outcomeNames[o]; ok {
		return name
	}
	return string(o)
}

// The longest texts, in characters, with which a report stays on one page.
//
// Practice rule: practice.
const (
	TextMost   = 700
	AdviceMost = 700
	WordsMost  = 300
)

// Discharge is how a practitioner ends the care of a client.
type Discharge struct {
	Outcome Outcome
	Words   string // about the outcome
	Text    string // the summary in the final report
	Advice  string // for the client, to keep up what was gained
	Seen    bool   // what is open was named and has been seen
}

// Check reports what is missing. Open says that something is open that has to be
// seen first.
//
// Source: apta_documentation. Practice rule: practice.
func (d Discharge) Check(open bool) domain.Problems {
	var p domain.Problems
	if _, ok := outcomeNames[d.Outcome]; !ok {
		p.Add("outcome", "Choose why care ends.")
	}
	if strings.TrimSpace(d.Words) == "" && (d.Outcome == Other || d.Outcome == Health || d.Outcome == Elsewhere) {
		p.Add("words", "Say more about the reason in a few words.")
	}
	if utf8.RuneCountInString(d.Words) > WordsMost {
		p.Add("words", "Use 300 characters at most.")
	}
	checkText(&p, "text", d.Text, TextMost, "Write a summary in your own words.")
	if d.Outcome != Died {
		checkText(&p, "advice", d.Advice, AdviceMost, "Write what helps the client to go on.")
	}
	if open && !d.Seen {
		p.Add("seen", "Tick that you have seen what is still open.")
	}
	return p
}

// CheckText reports what is wrong with the practitioner's own summary in a report.
//
// Source: apta_documentation. Practice rule: practice.
func CheckText(text string) domain.Problems {
	var p domain.Problems
	checkText(&p, "text", text, TextMost, "Write a summary in your own words.")
	return p
}

func checkText(p *domain.Problems, field, text string, most int, empty string) {
	switch {
	case strings.TrimSpace(text) == "":
		p.Add(field, empty)
	case utf8.RuneCountInString(text) > most: // both texts may be as long
		p.Add(field, "Use 700 characters at most.")
	case strings.Count(text, "\n") > 12:
		p.Add(field, "Use 12 lines at most.")
	}
}

// Advice is where the advice for a client starts from, a sentence each. It asks for
// nothing above the hardest class that is allowed when care ends; None is no
// exercise. Limited is somebody whom a doctor's decision still binds.
//
// The minutes, the worth of a hard one, the two days for muscles and that some is
// better than none are of the guidelines; that gains are lost in weeks is of a
// review; the talk test is public advice; the signs are those of the stop list.
//
// Source: paga2018, mujika2001, cdc_talk, common_practice.
func Advice(ceiling intensity.Class, limited bool) []string {
	var advice []string
	switch {
	case ceiling < intensity.Light:
		return []string{"Do not exercise until a doctor has said that you may.", adviceHelp}
	case ceiling < intensity.Moderate:
		advice = []string{
			"Move a little on most days, as easy as now. If you can sing, it is right.",
			adviceCeiling,
		}
	case ceiling < intensity.Vigorous:
		advice = []string{
			"Keep your week: 150 minutes or more that make you breathe harder.",
			adviceTalk,
			adviceCeiling,
		}
	default:
		advice = []string{
			"Keep your week: 150 minutes or more that make you breathe harder. A hard minute counts twice.",
			adviceTalk,
		}
	}
	if limited {
		advice = append(advice, "Keep to the limits that your doctor has set.")
	}
	return append(advice, "Train your muscles on two days a week.",
		"After a break of some weeks, start again with less. Some is better than none.", adviceHelp)
}

const (
	adviceCeiling = "Go no harder than that until your doctor or practitioner says you may."
	adviceTalk    = "If you can talk but not sing, it is right."
	adviceHelp    = "Stop and get help for chest pain, a faint, or short breath that is new."
)

// NeedsScreening reports whether a record that is opened again today has to wait
// for a new screening: the last one is older than the practice lets it be, or there
// is none (zero).
//
// Practice rule: practice. Source: riebe2015.
func NeedsScreening(screened, today domain.Date, p Policy) bool {
	return screened.IsZero() || today.DaysSince(screened) > p.ReopenDays
}
