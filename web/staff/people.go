package staff

import (
	"net/http"
	"net/url"

	"github.com/google/uuid"

	"brae/domain"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// personForm is a new practitioner as typed.
type personForm struct {
	Name       string `form:"name"`
	SignInName string `form:"sign_in_name"`
}

// peopleView is what the list of people shows.
type peopleView struct {
	Form     personForm
	Problems domain.Problems
	People   []store.StaffAccount
	Self     store.Account
	Link     string // a one-time link, shown once
	LinkFor  string
	Refused  uuid.UUID        // the account whose signature was refused
	Typed    store.Credential // for it
}

// signature is what the form of an account shows: its fields are the plain ones where it
// was refused, to which the summary leads.
func (v peopleView) signature(a store.StaffAccount) (c store.Credential, suffix string, problems domain.Problems) {
	if a.ID == v.Refused {
		return v.Typed, "", v.Problems
	}
	return a.Credential, "-" + a.ID.String(), nil
}

// People lists the practice's accounts.
func (p Pages) People(w http.ResponseWriter, r *http.Request) error {
	return p.renderPeople(w, r, http.StatusOK, peopleView{})
}

// AddPerson makes an account for a practitioner and shows the link for it, once.
func (p Pages) AddPerson(w http.ResponseWriter, r *http.Request) error {
	var f personForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	who := page.From(r.Context())
	token, err := p.Store.AddPractitioner(r.Context(), who.Actor(), f.Name, f.SignInName)
	if problems, ok := page.Problems(err); ok {
		return p.renderPeople(w, r, http.StatusUnprocessableEntity, peopleView{Form: f, Problems: problems})
	}
	if err != nil {
		return err
	}
	return p.renderPeople(w, r, http.StatusOK, peopleView{Link: joinLink(p.Origin, token), LinkFor: f.Name})
}

// NewLink makes a new one-time link for a practitioner who has lost the way in.
func (p Pages) NewLink(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "account")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	account, token, err := p.Store.NewAccountLink(r.Context(), who.Actor(), id)
	if err != nil {
		return err
	}
	return p.renderPeople(w, r, http.StatusOK, peopleView{Link: joinLink(p.Origin, token), LinkFor: account.Name})
}

// credentialForm is what somebody signs with, as typed.
type credentialForm struct {
	Title        string `form:"title"`
	Registration string `form:"registration"`
}

// ChangeCredential stores what an account of the practice signs with.
func (p Pages) ChangeCredential(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "account")
	if err != nil {
		return err
	}
	var f credentialForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	c := store.Credential{Title: f.Title, Registration: f.Registration}
	err = p.Store.ChangeCredential(r.Context(), page.From(r.Context()).Actor(), id, c)
	if problems, ok := page.Problems(err); ok {
		return p.renderPeople(w, r, http.StatusUnprocessableEntity, peopleView{Problems: problems, Refused: id, Typed: c})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "The signature is saved. It stands under what is signed from now on.")
	return page.See(w, r, "/people")
}

// SignOutPerson ends every sign-in of an account whose phone or laptop is lost.
func (p Pages) SignOutPerson(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "account")
	if err != nil {
		return err
	}
	if err := p.Store.SignOutAccount(r.Context(), page.From(r.Context()).Actor(), id); err != nil {
		return err
	}
	p.Say(r.Context(), "The account is signed out everywhere. The way in is the same as before.")
	return page.See(w, r, "/people")
}

// ClosePerson closes an account: it is signed out everywhere at once.
func (p Pages) ClosePerson(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "account")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	if err := p.Store.DisableAccount(r.Context(), who.Actor(), id); err != nil {
		return err
	}
	p.Say(r.Context(), "The account is closed and signed out everywhere.")
	return page.See(w, r, "/people")
}

func (p Pages) renderPeople(w http.ResponseWriter, r *http.Request, status int, v peopleView) error {
	who := page.From(r.Context())
	v.Self = who.Account
	var err error
	if v.People, err = p.Store.StaffAccounts(r.Context(), who.Actor()); err != nil {
		return err
	}
	frame := p.Frame(r, "People")
	frame.ProblemTitle = v.Problems != nil
	frame.Wide = true
	if v.Link != "" {
		frame.Scripts = append(frame.Scripts, "js/copy.js")
	}
	return p.Render(w, r, status, frame, peoplePage(v))
}

// joinLink is the address at which an invited person chooses a passphrase.
func joinLink(origin *url.URL, token string) string { return origin.JoinPath("join", token).String() }

func peopleTable(v peopleView) ui.Table {
	t := ui.Table{
		Caption: "Accounts of the practice", HideCaption: true,
		Columns: []ui.Column{{Label: "Name"}, {Label: "Sign-in name"}, {Label: "Role"}, {Label: "Clients", Number: true}, {Label: "State"}, {Label: "Change", Plain: true}},
	}
	for _, a := range v.People {
		t.Rows = append(t.Rows, ui.Row{
			Muted: a.Disabled,
			Cells: []ui.Cell{
				{Text: a.Name}, {Text: a.SignInName}, {Text: roleWord(a.Role)}, {Text: number(a.Clients)},
				{Text: stateWord(a)}, {Content: personActions(v, a)},
			},
		})
	}
	return t
}

func roleWord(r domain.Role) string {
	if r == domain.RoleLead {
		return "Lead"
	}
	return "Practitioner"
}

func stateWord(a store.StaffAccount) string {
	switch {
	case a.Disabled:
		return "Closed"
	case !a.Joined:
		return "Has not joined yet"
	}
	return "Open"
}

// LetClear notes the licence under which a practitioner may clear their own
// clients, or takes it back.
func (p Pages) LetClear(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "account")
	if err != nil {
		return err
	}
	var f struct {
		Licence string `form:"licence"`
	}
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	if err := p.Store.LetOwnDoctorClear(r.Context(), page.From(r.Context()).Actor(), id, f.Licence); err != nil {
		return err
	}
	p.Say(r.Context(), "Noted.")
	return page.See(w, r, "/people")
}
