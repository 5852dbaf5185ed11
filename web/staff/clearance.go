package staff

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"mime"
	"net/http"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/store"
	"brae/web/answer"
	"brae/web/page"
	"brae/web/ui"
)

// clearanceForm is a doctor's decision as the practice types it from paper.
type clearanceForm struct {
	answer.Form
	Letter     string `form:"letter"`
	ReceivedOn string `form:"received_on"`
	Channel    string `form:"channel"`
	Specialist string `form:"specialist"`
	PhaseII    string `form:"phase_ii"`
	Supersedes string `form:"supersedes"`
	Note       string `form:"note"`
	Release    string `form:"release"`
}

// input converts the form. What does not parse is a problem of its field.
func (f *clearanceForm) input() (store.ClearanceInput, domain.Problems) {
	d, problems := f.Decision()
	in := store.ClearanceInput{Decision: d, Note: strings.TrimSpace(f.Note), Release: f.Release == "yes"}
	in.Referral, _ = uuid.Parse(f.Letter) // none is no letter
	in.ReceivedOn, _ = domain.ParseDate(strings.TrimSpace(f.ReceivedOn))
	in.Channel, in.Supersedes = clearance.Channel(f.Channel), f.Supersedes
	in.DecidedBy.Specialist = f.Specialist == "yes"
	in.PhaseII = f.PhaseII == "yes"
	return in, problems
}

// clearanceView is what the form for a decision shows.
type clearanceView struct {
	store.DoctorFile
	Form     clearanceForm
	Problems domain.Problems
	Active   []ui.Option // decisions that the new one may supersede
}

// activeOptions are the decisions that a new one may supersede.
func activeOptions(f store.DoctorFile) []ui.Option {
	list := []ui.Option{{Label: "None"}}
	for _, c := range f.Decisions {
		switch c.State.Status {
		case clearance.Superseded, clearance.EnteredInError:
			continue
		}
		list = append(list, ui.Option{Value: c.ID.String(), Label: fmt.Sprintf("%s of %s (%s)", c.Decision.DecidedBy.Name, day(c.Decision.DecidedOn), clearanceWords[c.State.Status])})
	}
	return list
}

var (
	answerChannels = []ui.Option{
		{Value: "letter", Label: "On paper"},
		{Value: "portal", Label: "By a portal or secure mail"},
		{Value: "phone", Label: "By phone", Hint: "Needs a written confirmation, or it lapses."},
	}
)

// NewClearance shows the form for a doctor's decision.
func (p Pages) NewClearance(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	f, err := p.Store.DoctorFile(r.Context(), page.From(r.Context()).Actor(), id)
	if err != nil {
		return err
	}
	v := clearanceView{DoctorFile: f}
	v.Form = clearanceForm{ReceivedOn: f.Today.String(), Release: "yes", Letter: r.URL.Query().Get("letter")}
	v.Form.Profession = string(clearance.Physician)
	for _, l := range f.Referrals {
		if l.ID.String() == v.Form.Letter {
			v.Form.Name = l.Letter.Doctor
		}
	}
	if active := activeOptions(f); len(active) > 1 && f.Decisions[0].State.InForce() {
		v.Form.Supersedes = f.Decisions[0].ID.String()
	}
	return p.renderClearanceForm(w, r, http.StatusOK, v)
}

func (p Pages) renderClearanceForm(w http.ResponseWriter, r *http.Request, status int, v clearanceView) error {
	v.Form.Fill()
	v.Active = activeOptions(v.DoctorFile)
	frame := p.Frame(r, "A doctor's answer about "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	return p.renderRecord(w, r, status, frame, v.Client.ID, clearanceFormPage(v))
}

// RecordClearance records a doctor's decision.
func (p Pages) RecordClearance(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f clearanceForm
	if err := errors.Join(page.Decode(r, &f), page.Decode(r, &f.Form)); err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	in, problems := f.input()
	if problems == nil {
		recorded, err := p.Store.RecordClearance(r.Context(), actor, id, in)
		if err == nil {
			p.Say(r.Context(), recordedWords(recorded))
			return page.See(w, r, recordPath(id)+"/decisions/"+recorded.ID.String())
		}
		found, ok := page.Problems(err)
		if !ok {
			return err
		}
		problems = maps.Clone(found)
	}
	v := clearanceView{Form: f, Problems: problems}
	if v.DoctorFile, err = p.Store.DoctorFile(r.Context(), actor, id); err != nil {
		return err
	}
	return p.renderClearanceForm(w, r, http.StatusUnprocessableEntity, v)
}

// eventForm is what is typed about a decision that stands.
type eventForm struct {
	On     string `form:"confirmed_on"`
	Reason string `form:"reason"`
}

// clearancePageView is what the page of a decision shows.
type clearancePageView struct {
	Client store.Client
	store.Clearance
	Lead     bool
	Today    domain.Date
	Form     eventForm
	Do       string // which form was refused: confirm, revoke or error
	Problems domain.Problems
}

func (v clearancePageView) path() string {
	return recordPath(v.Client.ID) + "/decisions/" + v.Clearance.ID.String()
}

// problem is what is wrong in one of the page's forms.
func (v clearancePageView) problem(do, field string) string {
	if do != v.Do {
		return ""
	}
	return v.Problems[field]
}

func clearanceIDs(r *http.Request) (client, id uuid.UUID, err error) {
	if client, err = pathID(r, "client"); err != nil {
		return client, id, err
	}
	id, err = pathID(r, "decision")
	return client, id, err
}

// Clearance shows a doctor's decision.
func (p Pages) Clearance(w http.ResponseWriter, r *http.Request) error {
	client, id, err := clearanceIDs(r)
	if err != nil {
		return err
	}
	return p.renderClearance(w, r, http.StatusOK, client, id, clearancePageView{})
}

func (p Pages) renderClearance(w http.ResponseWriter, r *http.Request, status int, client, id uuid.UUID, v clearancePageView) error {
	who := page.From(r.Context())
	v.Lead, v.Today = who.Role == domain.RoleLead, p.Store.Today(who.Practice)
	var err error
	if v.Client, v.Clearance, err = p.Store.Clearance(r.Context(), who.Actor(), client, id); err != nil {
		return err
	}
	frame := p.Frame(r, "A doctor's decision about "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	return p.renderRecord(w, r, status, frame, client, clearancePage(v))
}

// ChangeClearance makes the handler of a change of a decision: its confirmation in
// writing, its revocation, that it was entered in error.
func (p Pages) ChangeClearance(do string) page.Handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		client, id, err := clearanceIDs(r)
		if err != nil {
			return err
		}
		var f eventForm
		if err := page.Decode(r, &f); err != nil {
			return err
		}
		actor := page.From(r.Context()).Actor()
		switch do {
		case "confirm":
			on, _ := domain.ParseDate(strings.TrimSpace(f.On)) // zero is refused with words
			err = p.Store.ConfirmClearance(r.Context(), actor, client, id, on, f.Reason)
		case "revoke":
			err = p.Store.RevokeClearance(r.Context(), actor, client, id, f.Reason)
		default:
			err = p.Store.MarkClearanceErroneous(r.Context(), actor, client, id, f.Reason)
		}
		if problems, ok := page.Problems(err); ok {
			return p.renderClearance(w, r, http.StatusUnprocessableEntity, client, id, clearancePageView{Form: f, Do: do, Problems: problems})
		}
		if err != nil {
			return err
		}
		p.Say(r.Context(), "Noted.")
		return page.See(w, r, recordPath(client)+"/decisions/"+id.String())
	}
}

// AddDocument keeps the scan of a doctor's answer. The route has a limit of its
// own for what may be sent; see [page.Uploads].
func (p Pages) AddDocument(w http.ResponseWriter, r *http.Request) error {
	client, id, err := clearanceIDs(r)
	if err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	most, err := p.Store.DocumentBytes(r.Context(), actor)
	if err != nil {
		return err
	}
	name, body, err := upload(r, "document", most)
	if err == nil {
		_, err = p.Store.AddDocument(r.Context(), actor, client, id, name, body)
	}
	if problems, ok := page.Problems(err); ok {
		return p.renderClearance(w, r, http.StatusUnprocessableEntity, client, id, clearancePageView{Do: "document", Problems: problems})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "The scan is kept with the decision.")
	return page.See(w, r, recordPath(client)+"/decisions/"+id.String())
}

// upload reads one file of a posted form, and a byte more than it may have, so
// that the store can tell that it is too large.
func upload(r *http.Request, field string, most int64) (name string, body []byte, err error) {
	none := domain.Problems{field: "Choose a file."}
	parts, err := r.MultipartReader()
	if err != nil {
		return "", nil, none
	}
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return "", nil, none
		}
		if err != nil {
			return "", nil, page.Unreadable(err)
		}
		if part.FormName() != field || part.FileName() == "" {
			continue
		}
		body, err := io.ReadAll(io.LimitReader(part, most+1))
		if err != nil {
			return "", nil, page.Unreadable(err)
		}
		return part.FileName(), body, nil
	}
}

// Document sends a scanned answer, to be saved and not to be opened here: nothing
// in it may run as a page of ours.
func (p Pages) Document(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	id, err := pathID(r, "document")
	if err != nil {
		return err
	}
	d, body, err := p.Store.Document(r.Context(), page.From(r.Context()).Actor(), client, id)
	if err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", d.ContentType)
	h.Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": d.Name}))
	h.Set("Content-Security-Policy", "default-src 'none'; sandbox")
	h.Set("Content-Length", fmt.Sprint(len(body)))
	_, _ = w.Write(body) // the browser went away: nobody to tell
	return nil
}

// size is a number of bytes for people.
func size(bytes int) string {
	if bytes < 1<<20 {
		return fmt.Sprintf("%d KB", (bytes+1023)>>10)
	}
	return fmt.Sprintf("%.1f MB", float64(bytes)/(1<<20))
}

var eventWords = map[string]string{
	store.ClearanceConfirmed: "Confirmed in writing", store.ClearanceRevoked: "Revoked", store.ClearanceErroneous: "Entered in error",
}

// standingItems say where a decision stands and how it came.
func standingItems(v clearancePageView) []ui.Definition {
	list := []ui.Definition{
		{Term: "State", Detail: clearanceWords[v.State.Status]},
		{Term: "Why", Detail: v.State.Reason},
		{Term: "Counts until", Detail: day(v.Lapses)},
		{Term: "Came", Detail: day(v.Decision.ReceivedOn) + ", " + strings.ToLower(channelName(v.Decision.Channel))},
		{Term: "Recorded", Detail: v.RecordedAt.Format("2 January 2006") + " by " + v.RecordedBy},
	}
	for _, e := range v.Events {
		list = append(list, ui.Definition{Term: eventWords[e.Kind], Detail: day(e.Day) + " by " + e.By + ": " + e.Reason})
	}
	if v.Note != "" {
		list = append(list, ui.Definition{Term: "Note", Detail: v.Note})
	}
	return list
}

func channelName(c clearance.Channel) string {
	for _, o := range answerChannels {
		if o.Value == string(c) {
			return o.Label
		}
	}
	return string(c)
}
