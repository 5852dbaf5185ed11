package staff

import (
	"errors"
	"net/http"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// messagesView is what was written to a client.
type messagesView struct {
	Base     string
	Joined   bool // the client can read it
	List     []messageView
	Form     messageForm
	About    []ui.Option
	Problems domain.Problems
}

// messageView is a note as it stands in the list.
type messageView struct {
	ID, Title, About, Text string
	Href                   string // to the session; empty for a week
	State                  string
	Answer, Answered       string
	Withdrawn              string // by whom, when and why; empty if it stands
	Typed, Problem         string // of a withdrawal that was refused
}

// messageForm is a note as typed.
type messageForm struct {
	ID      string `form:"id"`
	Session string `form:"session"` // empty for the present week
	Text    string `form:"text"`
}

// Messages shows what was written to a client, with the answers.
func (p Pages) Messages(w http.ResponseWriter, r *http.Request) error {
	return p.renderMessages(w, r, http.StatusOK, messagesView{Form: messageForm{Session: r.URL.Query().Get("session")}}, "", "", "")
}

// SendMessage sends a note to a client.
func (p Pages) SendMessage(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f messageForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	in := store.MessageInput{Text: f.Text}
	if in.ID, err = uuid.Parse(f.ID); err != nil {
		in.ID = uuid.New()
	}
	if f.Session != "" {
		if in.Session, err = uuid.Parse(f.Session); err != nil {
			return domain.ErrNotFound
		}
	}
	err = p.Store.SendMessage(r.Context(), page.From(r.Context()).Actor(), client, in)
	if problems, ok := page.Problems(err); ok {
		return p.renderMessages(w, r, http.StatusUnprocessableEntity, messagesView{Form: f, Problems: problems}, "", "", "")
	}
	if errors.Is(err, domain.ErrConflict) {
		f.ID = ""
		return p.renderMessages(w, r, http.StatusConflict, messagesView{Form: f, Problems: domain.Problems{
			"text": "You sent this form before with something else in it, and that was sent. If this is another message, send it now.",
		}}, "", "", "")
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "Sent. The client sees it when they open Brae.")
	return page.See(w, r, recordPath(client)+"/messages")
}

// WithdrawMessage takes a note back.
func (p Pages) WithdrawMessage(w http.ResponseWriter, r *http.Request) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	message, err := pathID(r, "message")
	if err != nil {
		return err
	}
	var f struct {
		Reason string `form:"reason"`
	}
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	err = p.Store.WithdrawMessage(r.Context(), page.From(r.Context()).Actor(), client, message, f.Reason)
	if problems, ok := page.Problems(err); ok {
		return p.renderMessages(w, r, http.StatusUnprocessableEntity, messagesView{}, message.String(), f.Reason, problems["reason"])
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "Taken back. The client no longer sees the text.")
	return page.See(w, r, recordPath(client)+"/messages")
}

// renderMessages shows the list; refused is the note whose withdrawal was.
func (p Pages) renderMessages(w http.ResponseWriter, r *http.Request, status int, v messagesView, refused, typed, problem string) error {
	client, err := pathID(r, "client")
	if err != nil {
		return err
	}
	ctx, who := r.Context(), page.From(r.Context())
	record, err := p.Store.Record(ctx, who.Actor(), client)
	if err != nil {
		return err
	}
	list, err := p.Store.Messages(ctx, who.Actor(), client)
	if err != nil {
		return err
	}
	v.Base, v.Joined = recordPath(client), record.Joined
	if v.Form.ID == "" {
		v.Form.ID = uuid.NewString()
	}
	at := func(t interface{ Format(string) string }) string { return t.Format("2 January 2006, 15:04") }
	for _, m := range list {
		one := messageView{
			ID: m.ID.String(), Title: m.SentBy + ", " + at(m.SentAt.In(who.Practice.Location)), Text: m.Text,
			About: "About the week of " + day(m.Week), State: "Not seen yet", Answer: m.Answer,
		}
		if m.SessionID.Valid {
			one.About, one.Href = "About the session of "+day(m.SessionDay), v.Base+"/sessions/"+m.SessionID.UUID.String()
		}
		if m.SeenAt != nil {
			one.State = "Seen " + at(m.SeenAt.In(who.Practice.Location))
		}
		if m.AnsweredAt != nil {
			one.Answered = at(m.AnsweredAt.In(who.Practice.Location))
		}
		if m.WithdrawnAt != nil {
			one.Withdrawn = "Taken back by " + m.WithdrawnBy + ", " + at(m.WithdrawnAt.In(who.Practice.Location)) + ": " + m.Reason
		}
		if one.ID == refused {
			one.Typed, one.Problem = typed, problem
			v.Problems = domain.Problems{one.field(): problem}
		}
		v.List = append(v.List, one)
	}
	v.About = []ui.Option{{Value: "", Label: "This week"}}
	known := v.Form.Session == ""
	for _, s := range record.Logged {
		v.About = append(v.About, ui.Option{Value: s.ID.String(), Label: "Session of " + day(s.Day) + ": " + strings.ToLower(page.ActivityShort(ctx, s.Parts[0].Activity))})
		known = known || v.Form.Session == s.ID.String()
	}
	if !known {
		v.About = append(v.About, ui.Option{Value: v.Form.Session, Label: "An earlier session"})
	}
	frame := p.Frame(r, "Messages to "+record.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	return p.renderRecord(w, r, status, frame, client, messagesPage(v))
}

func (m messageView) field() string { return "reason-" + m.ID }
