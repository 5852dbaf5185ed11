package staff

import (
	"cmp"
	"net/http"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/consent"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// consentForm is a consent as typed.
type consentForm struct {
	Kind      string `form:"kind"`
	Recipient string `form:"recipient"`
	Purpose   string `form:"purpose"`
	What      string `form:"what"`
	How       string `form:"how"`
	GivenOn   string `form:"given_on"`
	ExpiresOn string `form:"expires_on"`
}

func (f consentForm) given() consent.Given {
	g := consent.Given{Kind: consent.Kind(f.Kind), Recipient: f.Recipient, Purpose: f.Purpose, What: f.What, How: consent.How(f.How)}
	g.On, _ = domain.ParseDate(strings.TrimSpace(f.GivenOn)) // zero is refused with words
	g.Expires, _ = domain.ParseDate(strings.TrimSpace(f.ExpiresOn))
	return g
}

// consentView is what the page of contact and consent shows.
type consentView struct {
	Client   store.Client
	Today    domain.Date
	Consents []store.Consent
	Contact  clientForm
	Care     consentForm
	Share    consentForm
	Problems domain.Problems
	At       string // the form that was refused: contact, care or share
}

func (v consentView) base() string { return recordPath(v.Client.ID) }

func (v consentView) problem(form, field string) string {
	if v.At != form {
		return ""
	}
	return v.Problems[field]
}

// Consent shows who a client is, how to reach them, and what they agreed to.
func (p Pages) Consent(w http.ResponseWriter, r *http.Request) error {
	return p.renderConsent(w, r, http.StatusOK, consentView{})
}

func (p Pages) renderConsent(w http.ResponseWriter, r *http.Request, status int, v consentView) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	client, draft, err := p.Store.IntakeDraft(r.Context(), who.Actor(), id)
	if err != nil {
		return err
	}
	v.Client, v.Consents, v.Today = client, draft.Consents, p.Store.Today(who.Practice)
	if v.At != "contact" {
		v.Contact = clientForm{
			GivenName: client.GivenName, FamilyName: client.FamilyName, BirthDate: client.BirthDate.String(),
			Phone: client.Phone, EmergencyContact: client.EmergencyContact, Sex: cmp.Or(string(client.Sex), notSaid),
		}
	}
	if v.At != "care" {
		v.Care = consentForm{Purpose: "To exercise here with a plan that fits", What: "Questions, measurements, a plan, and a log of what was done", GivenOn: v.Today.String()}
	}
	if v.At != "share" {
		v.Share = consentForm{Purpose: "To ask for guidance about exercise", What: "Symptoms, diseases, medicines, measurements and the plan", GivenOn: v.Today.String()}
	}
	frame := p.Frame(r, "Contact and consent of "+client.Name())
	frame.ProblemTitle = v.Problems != nil
	return p.renderRecord(w, r, status, frame, id, consentPage(v))
}

// refusedOr shows the page again with the problems, or goes back to it.
func (p Pages) refusedOr(w http.ResponseWriter, r *http.Request, id uuid.UUID, err error, v consentView) error {
	if problems, ok := page.Problems(err); ok {
		v.Problems = problems
		return p.renderConsent(w, r, http.StatusUnprocessableEntity, v)
	}
	if err != nil {
		return err
	}
	return page.See(w, r, recordPath(id)+"/consent")
}

// ChangeContact puts right who a client is and how to reach them.
func (p Pages) ChangeContact(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f clientForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	err = p.Store.ChangeClient(r.Context(), page.From(r.Context()).Actor(), id, f.client())
	return p.refusedOr(w, r, id, err, consentView{At: "contact", Contact: f})
}

// RecordConsent records that a client has agreed.
func (p Pages) RecordConsent(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f consentForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	_, err = p.Store.RecordConsent(r.Context(), page.From(r.Context()).Actor(), id, f.given())
	v := consentView{At: "care", Care: f}
	if f.Kind != string(consent.Care) {
		v = consentView{At: "share", Share: f}
	}
	return p.refusedOr(w, r, id, err, v)
}

// WithdrawConsent ends a consent.
func (p Pages) WithdrawConsent(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	consentID, err := pathID(r, "consent")
	if err != nil {
		return err
	}
	if err := page.ParseForm(r); err != nil {
		return err
	}
	err = p.Store.WithdrawConsent(r.Context(), page.From(r.Context()).Actor(), id, consentID, r.PostForm.Get("why"))
	return p.refusedOr(w, r, id, err, consentView{})
}

func (v consentView) standing(c store.Consent) string {
	switch {
	case !c.WithdrawnOn.IsZero():
		return "Withdrawn on " + day(c.WithdrawnOn)
	case !c.InForce(v.Today):
		return "Ended on " + day(c.ExpiresOn)
	case c.ExpiresOn.IsZero():
		return "In force"
	}
	return "In force until " + day(c.ExpiresOn)
}

func consentTitle(c store.Consent) string {
	if c.Kind == string(consent.Share) {
		return "Share with " + c.Recipient
	}
	return "Care here"
}

// changeForm is a change in health as typed.
type changeForm struct {
	Kind string `form:"kind"`
	Day  string `form:"day"`
	Note string `form:"note"`
}

var changeKinds = []ui.Option{
	{Value: string(clearance.NewSymptom), Label: "A new symptom", Hint: "All exercise waits until the client is screened again."},
	{Value: string(clearance.NewEvent), Label: "An event", Hint: "A faint, a hospital stay, surgery. All exercise waits."},
	{Value: string(clearance.NewDiagnosis), Label: "A new disease"},
	{Value: string(clearance.MedicineChange), Label: "A medicine"},
	{Value: string(clearance.PregnancyOrBirth), Label: "A pregnancy or birth"},
}

// changeView is what the page of a change in health shows.
type changeView struct {
	Record   store.Record
	Form     changeForm
	Problems domain.Problems
}

func (v changeView) base() string { return recordPath(v.Record.Client.ID) }

// NewChange shows the form for a change in health.
func (p Pages) NewChange(w http.ResponseWriter, r *http.Request) error {
	return p.renderChange(w, r, http.StatusOK, changeView{})
}

func (p Pages) renderChange(w http.ResponseWriter, r *http.Request, status int, v changeView) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	if v.Record, err = p.Store.Record(r.Context(), who.Actor(), id); err != nil {
		return err
	}
	if v.Problems == nil {
		v.Form.Day = p.Store.Today(who.Practice).String()
	}
	frame := p.Frame(r, "A change in the health of "+v.Record.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	return p.renderRecord(w, r, status, frame, id, changePage(v))
}

// ReportChange records a change in health.
func (p Pages) ReportChange(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f changeForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	on, _ := domain.ParseDate(strings.TrimSpace(f.Day)) // zero is refused with words
	err = p.Store.ReportChange(r.Context(), page.From(r.Context()).Actor(), id, clearance.ChangeKind(f.Kind), on, f.Note)
	if problems, ok := page.Problems(err); ok {
		return p.renderChange(w, r, http.StatusUnprocessableEntity, changeView{Form: f, Problems: problems})
	}
	if err != nil {
		return err
	}
	return page.See(w, r, recordPath(id))
}
