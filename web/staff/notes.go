package staff

import (
	"cmp"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// noteForm is what is typed into a note, and into an addendum.
type noteForm struct {
	Version    string `form:"version"`
	Kind       string `form:"kind"`
	EventOn    string `form:"event_on"`
	Body       string `form:"body"`
	Credential string `form:"credential"`
	ID         string `form:"id"` // of an addendum
	Reason     string `form:"reason"`
	Do         string `form:"do"`
}

// notesView is what the pages of a client's notes show.
type notesView struct {
	store.NoteFile
	Note     *store.Note // the one of the page; nil for the list and before the first save
	ID       uuid.UUID   // of the note of the page
	Mine     bool
	Form     noteForm
	Problems domain.Problems
	Zone     *time.Location
}

func (v notesView) base() string { return recordPath(v.Client.ID) + "/notes" }

var noteKindWords = map[string]string{"visit": "Visit", "call": "Call", "cancelled": "Visit called off", "missed": "Visit missed", "other": "Other"}

func noteKinds() []ui.Option {
	var list []ui.Option
	for _, kind := range store.NoteKinds {
		list = append(list, ui.Option{Value: kind, Label: noteKindWords[kind]})
	}
	return list
}

// notesOf loads the notes of the client in the address.
func (p Pages) notesOf(r *http.Request) (notesView, error) {
	client, err := pathID(r, "client")
	if err != nil {
		return notesView{}, err
	}
	who := page.From(r.Context())
	file, err := p.Store.NoteFile(r.Context(), who.Actor(), client)
	return notesView{NoteFile: file, Zone: who.Practice.Location}, err
}

// Notes lists the notes of a client.
func (p Pages) Notes(w http.ResponseWriter, r *http.Request) error {
	v, err := p.notesOf(r)
	if err != nil {
		return err
	}
	return p.renderRecord(w, r, http.StatusOK, p.Frame(r, "Notes about "+v.Client.Name()), v.Client.ID, notesPage(v))
}

// NewNote shows an empty note.
func (p Pages) NewNote(w http.ResponseWriter, r *http.Request) error {
	v, err := p.notesOf(r)
	if err != nil {
		return err
	}
	v.ID, v.Mine = uuid.New(), true
	v.Form = noteForm{Version: "0", Kind: "visit", EventOn: v.Today.String(), Credential: v.Credential}
	return p.renderNote(w, r, http.StatusOK, v)
}

// Note shows a note: to its author to go on with, or signed, with its addenda.
func (p Pages) Note(w http.ResponseWriter, r *http.Request) error {
	v, err := p.noteOf(r)
	if err != nil {
		return err
	}
	if v.Note == nil {
		return domain.ErrNotFound
	}
	v.Form = noteForm{Version: strconv.Itoa(v.Note.Version), Kind: v.Note.Kind, EventOn: v.Note.EventOn.String(), Body: v.Note.Body, Credential: v.Credential}
	if v.Note.SignedAt != nil {
		v.Form = noteForm{ID: uuid.NewString()}
	}
	return p.renderNote(w, r, http.StatusOK, v)
}

// noteOf loads the note in the address. It need not be stored yet.
func (p Pages) noteOf(r *http.Request) (notesView, error) {
	v, err := p.notesOf(r)
	if err != nil {
		return v, err
	}
	if v.ID, err = pathID(r, "note"); err != nil {
		return v, err
	}
	if i := slices.IndexFunc(v.Notes, func(n store.Note) bool { return n.ID == v.ID }); i >= 0 {
		v.Note = &v.Notes[i]
	}
	v.Mine = v.Note == nil || v.Note.AuthorID == page.From(r.Context()).ID
	return v, nil
}

func (p Pages) renderNote(w http.ResponseWriter, r *http.Request, status int, v notesView) error {
	title := "New note"
	if v.Note != nil {
		title = noteKindWords[v.Note.Kind] + " of " + day(v.Note.EventOn)
	}
	frame := p.Frame(r, title+", "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	body := notePage(v, title)
	if v.Note == nil || v.Note.SignedAt == nil {
		if v.Mine {
			frame.Scripts = []string{"js/draft.js"}
		}
		body = draftPage(v, title)
	}
	return p.renderRecord(w, r, status, frame, v.Client.ID, body)
}

// SaveNote keeps a note as a draft, signs it, or gives it up.
func (p Pages) SaveNote(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	note, err := pathID(r, "note")
	if err != nil {
		return err
	}
	var f noteForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	in := store.NoteInput{ID: note, Version: atoi(f.Version), Kind: f.Kind, Body: strings.ReplaceAll(f.Body, "\r\n", "\n")}
	in.EventOn, _ = domain.ParseDate(strings.TrimSpace(f.EventOn)) // zero is refused with words
	switch f.Do {
	case "sign":
		err = p.Store.SignNote(r.Context(), actor, client, in, f.Credential)
	case "discard":
		err = p.Store.DiscardNote(r.Context(), actor, client, note)
	default:
		in.Version, err = p.Store.SaveNote(r.Context(), actor, client, in)
	}
	if problems, ok := page.Problems(err); ok && f.Do != autosave {
		v, err := p.noteOf(r)
		if err != nil {
			return err
		}
		v.Form, v.Problems = f, problems
		return p.renderNote(w, r, http.StatusUnprocessableEntity, v)
	}
	if err != nil {
		return err
	}
	at := recordPath(client) + "/notes"
	switch f.Do {
	case "sign":
		p.Say(r.Context(), "Signed and locked. What has to be added is an addendum from now on.")
		at += "/" + note.String()
	case "discard":
		p.Say(r.Context(), "The draft is discarded.")
	case autosave:
		return p.Note(w, r)
	default:
		p.Say(r.Context(), "Saved as a draft. It counts once it is signed.")
		at += "/" + note.String()
	}
	return page.See(w, r, at)
}

// AddToNote adds to a signed note.
func (p Pages) AddToNote(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	note, err := pathID(r, "note")
	if err != nil {
		return err
	}
	var f noteForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	id, err := uuid.Parse(f.ID)
	if err != nil {
		id = uuid.New() // a form without it is a new addendum
	}
	err = p.Store.AddToNote(r.Context(), page.From(r.Context()).Actor(), client, note, id, strings.ReplaceAll(f.Body, "\r\n", "\n"), f.Reason)
	if problems, ok := page.Problems(err); ok {
		v, err := p.noteOf(r)
		if err != nil {
			return err
		}
		v.Form, v.Problems = f, problems
		return p.renderNote(w, r, http.StatusUnprocessableEntity, v)
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "Added. The note itself stays as it was signed.")
	return page.See(w, r, recordPath(client)+"/notes/"+note.String())
}

// at writes an instant in the practice's zone.
func (v notesView) at(t time.Time) string { return t.In(v.Zone).Format("Mon 2 Jan 2006, 15:04") }

// facts are what stands beside a signed note.
func (v notesView) facts() []ui.Definition {
	return []ui.Definition{
		{Term: "About", Detail: noteKindWords[v.Note.Kind] + " on " + day(v.Note.EventOn)},
		{Term: "Entered", Detail: v.at(v.Note.EnteredAt)},
		{Term: "Signed", Detail: v.Note.SignedName + ", " + v.at(*v.Note.SignedAt)},
	}
}

func (v notesView) table() ui.Table {
	t := ui.Table{Caption: "Notes", HideCaption: true, Columns: []ui.Column{{Label: "Day"}, {Label: "About"}, {Label: "Begins"}, {Label: "State"}}}
	for _, n := range v.Notes {
		state := "Not signed, by " + n.Author
		if n.SignedAt != nil {
			state = "Signed by " + n.SignedName
		}
		if k := len(n.Addenda); k == 1 {
			state += ", 1 addendum"
		} else if k > 1 {
			state += ", " + number(k) + " addenda"
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: day(n.EventOn), Href: v.base() + "/" + n.ID.String()}, {Text: noteKindWords[n.Kind]}, {Text: cmp.Or(beginning(n.Body), "–")}, {Text: state},
		}})
	}
	return t
}

// beginning is the first words of a text.
func beginning(text string) string {
	words := strings.Fields(text)
	if len(words) > 12 {
		return strings.Join(words[:12], " ") + " …"
	}
	return strings.Join(words, " ")
}

// saved says when a draft was last saved.
func (v notesView) saved() string {
	if v.Note == nil {
		return "Nothing is saved yet."
	}
	return "Last saved " + v.at(v.Note.SavedAt) + ". What is saved stays if you leave now."
}
