package staff

import (
	"fmt"
	"net/http"
	"strings"

	"brae/domain/clearance"
	"brae/store"
	"brae/web/answer"
	"brae/web/page"
	"brae/web/ui"
)

// DoctorQueue shows what waits in the doctor review.
func (p Pages) DoctorQueue(w http.ResponseWriter, r *http.Request) error {
	q, err := p.Store.DoctorQueue(r.Context(), page.From(r.Context()).Actor())
	if err != nil {
		return err
	}
	frame := p.Frame(r, "Doctor review")
	frame.Wide = true
	return p.Render(w, r, http.StatusOK, frame, doctorQueuePage(q))
}

func queueEmpty(q store.DoctorQueue) bool {
	return len(q.Letters)+len(q.Confirm)+len(q.Lapsing)+len(q.Review)+len(q.Lapsed)+len(q.Unasked) == 0
}

func letterPath(r store.Referral) string {
	return recordPath(r.ClientID) + "/letters/" + r.ID.String()
}

// dueWords says what a letter asks for.
func dueWords(r store.Referral) string {
	switch {
	case r.Pending != nil:
		return "An answer came by the link: confirm it"
	case r.Status == clearance.Draft:
		return "Finish and send"
	case r.Waiting == clearance.ReminderDue:
		return "Remind the doctor"
	case r.Waiting == clearance.AnswerLate:
		return "No answer in time: write again"
	}
	return "Wait"
}

var statusWords = map[clearance.ReferralStatus]string{
	clearance.Draft: "Draft", clearance.Sent: "Sent", clearance.Received: "Received by the doctor", clearance.Answered: "Answered",
	clearance.NoAnswer: "No answer", clearance.Withdrawn: "Withdrawn",
}

func days(n int) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%d days", n)
}

func lettersTable(letters []store.QueueLetter) ui.Table {
	t := ui.Table{Caption: "Letters", HideCaption: true, Columns: []ui.Column{{Label: "Client"}, {Label: "State"}, {Label: "For", Number: true}, {Label: "What to do"}}}
	for _, l := range letters {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: l.ClientName, Href: letterPath(l.Referral)}, {Text: statusWords[l.Status]}, {Text: days(l.Days)}, {Text: dueWords(l.Referral)},
		}})
	}
	return t
}

func unaskedTable(clients []store.QueueClient) ui.Table {
	t := ui.Table{Caption: "Nobody has written yet", HideCaption: true, Columns: []ui.Column{{Label: "Client"}, {Label: "On hold"}, {Label: "For", Number: true}}}
	for _, c := range clients {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: c.Name, Href: recordPath(c.ID) + "/doctor"}, {Text: holdWords(c.Scope)}, {Text: days(c.Days)},
		}})
	}
	return t
}

// decisionsTable lists decisions with the day that the column is about.
func decisionsTable(caption, column string, list []store.QueueDecision, about func(store.QueueDecision) string) ui.Table {
	t := ui.Table{Caption: caption, HideCaption: true, Columns: []ui.Column{{Label: "Client"}, {Label: "Doctor"}, {Label: column}}}
	for _, d := range list {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: d.ClientName, Href: recordPath(d.ClientID) + "/decisions/" + d.ID.String()}, {Text: d.Decision.DecidedBy.Name}, {Text: about(d)},
		}})
	}
	return t
}

// DoctorReview shows letters, decisions and limits of a client.
func (p Pages) DoctorReview(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	f, err := p.Store.DoctorFile(r.Context(), page.From(r.Context()).Actor(), id)
	if err != nil {
		return err
	}
	return p.renderRecord(w, r, http.StatusOK, p.Frame(r, "Doctor review of "+f.Client.Name()), id, doctorPage(f))
}

var clearanceWords = map[clearance.Status]string{
	clearance.Recorded: "Starts later", clearance.Active: "In force", clearance.UnderReview: "Under review: vigorous work waits",
	clearance.Lapsed: "Lapsed", clearance.Superseded: "Superseded", clearance.Revoked: "Revoked", clearance.EnteredInError: "Entered in error",
}

func clearancesTable(f store.DoctorFile) ui.Table {
	t := ui.Table{
		Caption: "Doctors' decisions", HideCaption: true,
		Columns: []ui.Column{{Label: "Signed"}, {Label: "Doctor"}, {Label: "Answer"}, {Label: "State"}, {Label: "Counts until"}},
	}
	for _, c := range f.Decisions {
		d := c.Decision
		text := answer.OutcomeWords(d.Outcome)
		if d.Outcome.Allows() {
			text = "Up to " + words(d.Ceiling)
		}
		state := clearanceWords[c.State.Status]
		if c.Warning > 0 {
			state += ", lapses within " + days(c.Warning)
		}
		t.Rows = append(t.Rows, ui.Row{Muted: !c.State.InForce(), Cells: []ui.Cell{
			{Text: day(d.DecidedOn), Href: recordPath(f.Client.ID) + "/decisions/" + c.ID.String()}, {Text: d.DecidedBy.Name}, {Text: text}, {Text: state}, {Text: day(c.Lapses)},
		}})
	}
	return t
}

func clientLettersTable(f store.DoctorFile) ui.Table {
	t := ui.Table{Caption: "Letters", HideCaption: true, Columns: []ui.Column{{Label: "Letter"}, {Label: "To"}, {Label: "State"}, {Label: "What to do"}}}
	for _, r := range f.Referrals {
		do := ""
		if r.Open() {
			do = dueWords(r)
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: r.CreatedAt.Format("Mon 2 Jan 2006"), Href: letterPath(r)}, {Text: orDash(r.Letter.Doctor)}, {Text: statusWords[r.Status]}, {Text: do},
		}})
	}
	return t
}

func orDash(text string) string {
	if strings.TrimSpace(text) == "" {
		return "–"
	}
	return text
}

// boundItems are what doctors have limited, for who prescribes.
func boundItems(b store.Bounds) []ui.Definition {
	var list []ui.Definition
	add := func(term string, texts []string) {
		if len(texts) > 0 {
			list = append(list, ui.Definition{Term: term, Detail: strings.Join(texts, "; ")})
		}
	}
	add("Limits", answer.LimitWords(b.Limits))
	if b.SupervisedOnly {
		add("Supervision", []string{"Supervised sessions only"})
	}
	add("Ruled out", answer.RestrictionWords(b.Restrictions))
	add("Expected symptoms", answer.ExpectedWords(b.Expected))
	return list
}
