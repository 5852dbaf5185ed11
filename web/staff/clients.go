package staff

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"brae/domain"
	"brae/domain/screening"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

func number(n int) string { return strconv.Itoa(n) }

// caseloadView is what the caseload shows.
type caseloadView struct {
	Search string
	Lead   bool
	Lines  []store.CaseloadLine
	Today  domain.Date
	Show   string // "closed", or the open ones
	Closed []store.ClosedLine
}

// filters lead from the open records to the closed.
func (v caseloadView) filters() []ui.Choice {
	return []ui.Choice{{Label: "Open", Href: "/clients", Current: v.Show == ""}, {Label: "Closed", Href: "/clients?show=closed", Current: v.Show == "closed"}}
}

// Caseload lists the clients.
func (p Pages) Caseload(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	search := strings.TrimSpace(r.URL.Query().Get("q"))
	v := caseloadView{Search: search, Lead: who.Role == domain.RoleLead, Today: p.Store.Today(who.Practice)}
	var err error
	if r.URL.Query().Get("show") == "closed" {
		v.Show = "closed"
		v.Closed, err = p.Store.ClosedClients(r.Context(), who.Actor(), search)
	} else {
		v.Lines, err = p.Store.Caseload(r.Context(), who.Actor(), search)
	}
	if err != nil {
		return err
	}
	frame := p.Frame(r, "Clients")
	frame.Wide = true
	return p.Render(w, r, http.StatusOK, frame, caseloadPage(v))
}

func caseloadTable(v caseloadView) ui.Table {
	t := ui.Table{
		Caption: "Clients", HideCaption: true,
		Columns: []ui.Column{{Label: "Client"}, {Label: "Age", Number: true}, {Label: "State"}, {Label: "This week", Number: true}, {Label: "Last log"}},
	}
	if v.Lead {
		t.Columns = append(t.Columns, ui.Column{Label: "Practitioner"})
	}
	for _, l := range v.Lines {
		row := ui.Row{Cells: []ui.Cell{
			{Text: l.Name(), Href: "/clients/" + l.ID.String()},
			{Text: number(l.BirthDate.AgeOn(v.Today))},
			{Text: state(l)},
			{Text: weekWords(l)},
			{Text: ago(l.LastDay, v.Today)},
		}}
		if v.Lead {
			row.Cells = append(row.Cells, ui.Cell{Text: l.Practitioner})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// state says how far a client has come, the most urgent first.
func state(l store.CaseloadLine) string {
	switch {
	case !l.Screened && !l.Drafted:
		return "Intake to do"
	case !l.Screened:
		return "Intake under way"
	case l.Hold > 0:
		return holdWords(l.Hold) + rescreenWords(l.Due)
	case len(l.Due) > 0:
		return "Screen again"
	case !l.Prescribed:
		return "Prescription to do"
	}
	return "Up to " + strings.ToLower(ui.ClassWord(l.Ceiling))
}

// rescreenWords adds that a new screening is due.
func rescreenWords(due []screening.Due) string {
	if len(due) == 0 {
		return ""
	}
	return ", screen again"
}

func weekWords(l store.CaseloadLine) string {
	if !l.Prescribed {
		return ""
	}
	return fmt.Sprintf("%d of %d", l.Done(), l.Target)
}

// clientForm is a new client as typed.
type clientForm struct {
	GivenName        string `form:"given_name"`
	FamilyName       string `form:"family_name"`
	BirthDate        string `form:"birth_date"`
	Phone            string `form:"phone"`
	EmergencyContact string `form:"emergency_contact"`
	Sex              string `form:"sex"` // "not_said" is an answer, too
}

const notSaid = "not_said"

// sexOptions are the answers to the question for the sex.
var sexOptions = []ui.Option{{Value: string(domain.Female), Label: "Female"}, {Value: string(domain.Male), Label: "Male"}, {Value: notSaid, Label: "Not said"}}

func sexWord(s domain.Sex) string {
	for _, o := range sexOptions {
		if o.Value == string(s) {
			return o.Label
		}
	}
	return "Not said"
}

func (f clientForm) client() store.Client {
	birth, _ := domain.ParseDate(strings.TrimSpace(f.BirthDate)) // zero is refused with words
	sex := domain.Sex(f.Sex)
	if f.Sex == notSaid {
		sex = ""
	}
	return store.Client{
		Sex:       sex,
		GivenName: f.GivenName, FamilyName: f.FamilyName, BirthDate: birth,
		Phone: strings.TrimSpace(f.Phone), EmergencyContact: strings.TrimSpace(f.EmergencyContact),
	}
}

// NewClient shows the form for a new client.
func (p Pages) NewClient(w http.ResponseWriter, r *http.Request) error {
	return p.Render(w, r, http.StatusOK, p.Frame(r, "New client"), newClientPage(clientForm{}, nil))
}

// AddClient takes a client into the caseload and goes on to the intake.
func (p Pages) AddClient(w http.ResponseWriter, r *http.Request) error {
	var f clientForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	id, err := p.Store.AddClient(r.Context(), page.From(r.Context()).Actor(), f.client())
	if problems, ok := page.Problems(err); ok {
		frame := p.Frame(r, "New client")
		frame.ProblemTitle = true
		return p.Render(w, r, http.StatusUnprocessableEntity, frame, newClientPage(f, problems))
	}
	if err != nil {
		return err
	}
	return page.See(w, r, "/clients/"+id.String()+"/intake")
}

// clientView is what a client's record shows.
type clientView struct {
	Record   store.Record
	Today    domain.Date
	Slope    ui.Slope
	Form     inviteForm
	Problems domain.Problems
	Link     string
}

func (v clientView) base() string { return recordPath(v.Record.Client.ID) }

// inviteForm is the sign-in name for a client as typed.
type inviteForm struct {
	SignInName string `form:"sign_in_name"`
	Lost       string `form:"lost"` // "yes": the phone is lost, and is signed out first
}

// Client shows a client's record.
func (p Pages) Client(w http.ResponseWriter, r *http.Request) error {
	return p.renderClient(w, r, http.StatusOK, clientView{})
}

// Invite makes a client's sign-in, or a new link to it, and shows the link once.
func (p Pages) Invite(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f inviteForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	var token string
	if f.Lost == "yes" {
		token, err = p.Store.ReplaceLostPhone(r.Context(), actor, id)
	} else {
		token, err = p.Store.InviteClient(r.Context(), actor, id, f.SignInName)
	}
	if problems, ok := page.Problems(err); ok {
		return p.renderClient(w, r, http.StatusUnprocessableEntity, clientView{Form: f, Problems: problems})
	}
	if err != nil {
		return err
	}
	return p.renderClient(w, r, http.StatusOK, clientView{Link: joinLink(p.Origin, token)})
}

// SignOutClient ends every sign-in of a client whose phone is lost.
func (p Pages) SignOutClient(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	if err := p.Store.SignOutClient(r.Context(), page.From(r.Context()).Actor(), id); err != nil {
		return err
	}
	p.Say(r.Context(), "All phones of this client are signed out. Nothing else was changed.")
	return page.See(w, r, recordPath(id))
}

func (p Pages) renderClient(w http.ResponseWriter, r *http.Request, status int, v clientView) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	if v.Record, err = p.Store.Record(r.Context(), who.Actor(), id); err != nil {
		return err
	}
	v.Today = p.Store.Today(who.Practice)
	v.Slope = page.WeekSlope(r.Context(), v.Record.ClientWeek)
	frame := p.Frame(r, v.Record.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	if v.Link != "" {
		frame.Scripts = append(frame.Scripts, "js/copy.js")
	}
	return p.renderRecord(w, r, status, frame, id, clientPage(v))
}

// heldFor is what waits, with every hold that makes it wait.
type heldFor struct {
	What string
	Why  []heldWhy
}

type heldWhy struct{ Cause, Since, Ends string }

// staffHolds tells the practice what waits, which rule says so and what ends it.
func staffHolds(holds []store.Hold) []heldFor {
	var list []heldFor
	for _, h := range holds {
		what := holdWords(h.Scope) + "."
		at := slices.IndexFunc(list, func(f heldFor) bool { return f.What == what })
		if at < 0 {
			at = len(list)
			list = append(list, heldFor{What: what})
		}
		list[at].Why = append(list[at].Why, heldWhy{h.Reason, h.OpenedAt.Format("2 January 2006"), needsWords(h)})
	}
	return list
}

// shownAtOnce is how many sessions stand on the record before the rest is folded
// away: about two weeks of an active client.
const shownAtOnce = 8

func (v clientView) latest() []store.Session {
	return v.Record.Logged[:min(shownAtOnce, len(v.Record.Logged))]
}

func (v clientView) earlier() []store.Session {
	return v.Record.Logged[len(v.latest()):]
}

// withHeartRate reports whether any session has a heart rate, so that there is
// something to show in a column for it.
func (v clientView) withHeartRate() bool {
	return slices.ContainsFunc(v.Record.Logged, func(s store.Session) bool {
		return slices.ContainsFunc(s.Parts, func(p store.Part) bool { return p.HeartRate > 0 })
	})
}

func (v clientView) joinedWords() string {
	if v.Record.Joined {
		return "has joined"
	}
	return "has not joined yet"
}

// sessionTable lists logged sessions.
func sessionTable(ctx context.Context, sessions []store.Session, heartRate bool) ui.Table {
	t := ui.Table{
		Caption: "Sessions of the last four weeks", HideCaption: true,
		Columns: []ui.Column{{Label: "Day"}, {Label: "What", Plain: true}, {Label: "Talk test"}, {Label: "Minutes", Number: true}},
	}
	if heartRate {
		t.Columns = append(t.Columns, ui.Column{Label: "Heart rate", Number: true})
	}
	for _, s := range sessions {
		for i, part := range s.Parts {
			dayWords := ""
			if i == 0 {
				dayWords = s.Day.Time().Format("Mon\u00a02\u00a0Jan")
			}
			cells := []ui.Cell{{Text: dayWords}, {Text: page.PartWords(ctx, part)}, {Text: page.TalkWord(ctx, part.Talk)}, {Text: number(part.Minutes)}}
			if heartRate {
				hr := ""
				if part.HeartRate > 0 {
					hr = number(part.HeartRate)
				}
				cells = append(cells, ui.Cell{Text: hr})
			}
			t.Rows = append(t.Rows, ui.Row{Cells: cells})
		}
	}
	return t
}

// next is what to do next with a client, the important one first.
func (v clientView) next() []ui.Button {
	intake := ui.Button{Label: "Screen again", Href: v.base() + "/intake", Kind: ui.Quiet}
	switch {
	case v.Record.Screening == nil && v.Record.DraftVersion == 0:
		return []ui.Button{{Label: "Begin the intake", Href: intake.Href}}
	case v.Record.DraftVersion > 0 && v.Record.Screening == nil:
		return []ui.Button{{Label: "Go on with the intake", Href: intake.Href}}
	case v.Record.DraftVersion > 0:
		intake.Label = "Go on with the intake"
	}
	prescribe := ui.Button{Label: "Prescribe", Href: v.base() + "/prescription/new"}
	if v.Record.Prescription != nil {
		prescribe.Label, prescribe.Kind = "Change the prescription", ui.Quiet
	}
	change := ui.Button{Label: "A change in health", Href: v.base() + "/changes/new", Kind: ui.Quiet}
	return []ui.Button{prescribe, intake, change}
}

// clientLead is who the client is, in a line.
func clientLead(v clientView) string {
	age := v.Record.Client.BirthDate.AgeOn(v.Today)
	if v.Record.Screening == nil {
		return fmt.Sprintf("%d years. Not screened yet.", age)
	}
	return fmt.Sprintf("%d years. Allowed now: %s.", age, strings.ToLower(ceilingWords(v.Record.Ceiling)))
}
