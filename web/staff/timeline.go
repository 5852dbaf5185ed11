package staff

import (
	"cmp"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/fitness"
	"brae/domain/intensity"
	"brae/store"
	"brae/web/answer"
	"brae/web/page"
	"brae/web/ui"
)

// timelineView is what the timeline of a client's record shows, and the chart.
type timelineView struct {
	store.TimelinePage
	Kind     string // that is shown; "" is all
	Page     int
	Practice string
	Zone     *time.Location
	By       string // who prints the chart
	Now      time.Time
}

func (v timelineView) base() string { return recordPath(v.Client.ID) + "/timeline" }

var timelineKindWords = map[string]string{
	"screening": "Screening", "hold": "Holds", "letter": "Letters", "decision": "Doctors' decisions", "prescription": "Prescriptions", "plan": "Plan",
	"test": "Tests", "vitals": "Vital signs", "note": "Notes", "session": "Sessions", "message": "Messages", "flag": "Flags", "report": "Reports", "consent": "Consents",
}

// Timeline shows what happened to a client's record, the newest first.
func (p Pages) Timeline(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	v := timelineView{Kind: r.URL.Query().Get("kind"), Page: 1}
	if !slices.Contains(store.TimelineKinds, v.Kind) {
		v.Kind = ""
	}
	if n, err := strconv.Atoi(r.URL.Query().Get("page")); err == nil && n > 1 && n < 1_000_000 {
		v.Page = n
	}
	who := page.From(r.Context())
	var kinds []string
	if v.Kind != "" {
		kinds = []string{v.Kind}
	}
	if v.TimelinePage, err = p.Store.Timeline(r.Context(), who.Actor(), client, kinds, (v.Page-1)*perPage, perPage); err != nil {
		return err
	}
	v.Zone = who.Practice.Location
	return p.renderRecord(w, r, http.StatusOK, p.Frame(r, "Timeline of "+v.Client.Name()), client, timelinePage(v))
}

// Chart shows the whole record as one run of text, for the file.
func (p Pages) Chart(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	t, err := p.Store.Timeline(r.Context(), who.Actor(), client, nil, 0, 0)
	if err != nil {
		return err
	}
	v := timelineView{TimelinePage: t, Practice: who.Practice.Name, Zone: who.Practice.Location, By: who.Name, Now: p.Now()}
	return p.Render(w, r, http.StatusOK, p.Frame(r, "Chart of "+t.Client.Name()), chartPage(v))
}

func (v timelineView) href(kind string, n int) string {
	q := url.Values{}
	if kind != "" {
		q.Set("kind", kind)
	}
	if n > 1 {
		q.Set("page", number(n))
	}
	if len(q) == 0 {
		return v.base()
	}
	return v.base() + "?" + q.Encode()
}

// choices are the kinds of which there is something.
func (v timelineView) choices() []ui.Choice {
	all := 0
	for _, n := range v.Counts {
		all += n
	}
	list := []ui.Choice{{Label: "All", Href: v.href("", 1), Count: number(all), Current: v.Kind == ""}}
	for _, kind := range store.TimelineKinds {
		if n := v.Counts[kind]; n > 0 || kind == v.Kind {
			list = append(list, ui.Choice{Label: timelineKindWords[kind], Href: v.href(kind, 1), Count: number(n), Current: v.Kind == kind})
		}
	}
	return list
}

func (v timelineView) pager() ui.Pager {
	last := max(1, (v.Total+perPage-1)/perPage)
	p := ui.Pager{Position: "Page " + number(v.Page) + " of " + number(last)}
	if v.Page > 1 {
		p.Previous = v.href(v.Kind, min(v.Page-1, last))
	}
	if v.Page < last {
		p.Next = v.href(v.Kind, v.Page+1)
	}
	return p
}

// at is when a line was entered.
func (v timelineView) at(l store.TimelineLine) string {
	return l.At.In(v.Zone).Format("Mon 2 Jan 2006, 15:04")
}

// who is who did it.
func (v timelineView) who(l store.TimelineLine) string {
	if l.By == "" && l.Kind == "letter" {
		return "The doctor, with the link"
	}
	return cmp.Or(l.By, "–")
}

func (v timelineView) table() ui.Table {
	t := ui.Table{Caption: "What happened", HideCaption: true, Columns: []ui.Column{{Label: "Entered"}, {Label: "What", Plain: true}, {Label: "By"}}}
	for _, l := range v.Lines {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{{Text: v.at(l)}, {Content: timelineLine(v, l)}, {Text: v.who(l)}}})
	}
	return t
}

// whatWords says what happened, by kind and what.
var whatWords = map[string]map[string]string{
	"screening":    {"screening": "Screened", "change": "Change in health"},
	"hold":         {"open": "Hold opened", "release": "Hold released"},
	"letter":       {"draft": "Letter begun", "sent": "Letter sent", "received": "Letter received by the doctor", "answered": "Letter answered", "no_answer": "Letter without an answer", "withdrawn": "Letter withdrawn"},
	"decision":     {"recorded": "Doctor's decision recorded", "confirmed": "Decision confirmed in writing", "revoked": "Decision revoked", "entered_in_error": "Decision entered in error"},
	"prescription": {"sign": "Prescription signed"},
	"plan":         {"sign": "Plan signed", "pause": "Plan paused", "pause_end": "Pause ended", "step": "Suggested step"},
	"test":         {"add": "Fitness test", "correct": "Fitness test corrected", "error": "Fitness test entered in error"},
	"vitals":       {"new": "Vital signs", "again": "Vital signs, measured again", "correct": "Vital signs corrected", "error": "Vital signs entered in error"},
	"note":         {"sign": "Note", "add": "Addendum to a note"},
	"session":      {"log": "Session logged", "edit": "Session changed", "answer": "Session: question answered", "delete": "Session deleted", "restore": "Session put back", "report": "Reported without exercise"},
	"message":      {"send": "Message to the client", "answer": "Answer of the client", "withdraw": "Message taken back"},
	"flag":         {"done": "Flag done"},
	"report":       {"sign": "Report signed", "discharge": "Discharged", "reopen": "Record opened again"},
	"consent":      {"care": "Consent to care", "share": "Consent to share", "withdraw": "Consent withdrawn"},
}

// title is what happened, in a few words.
func (v timelineView) title(l store.TimelineLine) string {
	text := cmp.Or(whatWords[l.Kind][l.What], l.What)
	if l.N > 0 && (l.Kind == "prescription" || l.Kind == "plan" || l.Kind == "report") {
		text += ", version " + number(l.N)
	}
	if !l.Day.IsZero() && l.Day != domain.DateOf(l.At, v.Zone) { // the line begins with the day of its entry
		about := " of "
		if l.Kind == "screening" {
			about = " on "
		}
		if l.Kind == "hold" || l.Kind == "plan" {
			about = ", from "
		}
		text += about + day(l.Day)
	}
	return text
}

// detail is what there is to tell of it.
func (v timelineView) detail(l store.TimelineLine) string {
	var parts []string
	add := func(texts ...string) {
		for _, text := range texts {
			if strings.TrimSpace(text) != "" {
				parts = append(parts, strings.TrimSpace(text))
			}
		}
	}
	switch l.Kind {
	case "screening":
		if l.What == "screening" {
			add("Rule "+l.A, "ceiling "+classWord(l.B))
		} else {
			add(strings.ReplaceAll(l.A, "_", " "), l.B)
		}
	case "hold":
		if scope, err := clearance.ParseScope(l.A); err == nil {
			add(holdWords(scope))
		}
		add(l.B)
	case "decision":
		if l.What == "recorded" {
			add(answer.OutcomeWords(clearance.Outcome(l.A)), l.B)
		} else {
			add(l.A, l.B)
		}
	case "prescription":
		add(classWord(l.A), strings.Replace(l.B, " x ", " times ", 1))
	case "test":
		name := l.A
		if test, err := fitness.FindTest(fitness.TestID(l.A)); err == nil {
			name = test.Name
		}
		add(name, l.B)
	case "vitals":
		if l.Reading != nil {
			add(readingWords(*l.Reading))
		}
		add(l.B)
	case "note":
		if l.What == "sign" {
			add(noteKindWords[l.A], l.B)
		} else {
			add(l.A, "Why: "+l.B)
		}
	case "message":
		add(l.A)
		if l.B != "" {
			add("Why: " + l.B)
		}
	case "session":
		if l.What == "log" {
			add(number(l.N) + " minutes")
		}
		add(l.B)
	default:
		add(strings.ReplaceAll(l.A, "_", " "), l.B)
	}
	text := ""
	for i, part := range parts {
		switch {
		case i == 0:
		case strings.ContainsAny(part[:1], "abcdefghijklmnopqrstuvwxyz") && l.Kind == "screening":
			text += ", "
		case strings.ContainsAny(text[len(text)-1:], ".!?"):
			text += " "
		default:
			text += ". "
		}
		text += part
	}
	return text
}

// classWord is a class by its name, for people.
func classWord(name string) string {
	var c intensity.Class
	if err := c.UnmarshalText([]byte(name)); err != nil {
		return name
	}
	return words(c)
}

// place is the page of a line; "" if it has none.
func (v timelineView) place(l store.TimelineLine) string { return recordPath(v.Client.ID) + l.Place }

// printed says whose chart it is and when it was printed, on each sheet.
func (v timelineView) printed() string {
	return v.Client.Name() + ", born " + v.Client.BirthDate.Time().Format("2 January 2006") + ". " + v.Practice + ". Printed " +
		v.Now.In(v.Zone).Format("2 January 2006, 15:04") + " by " + v.By + "."
}
