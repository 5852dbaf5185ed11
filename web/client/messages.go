package client

import (
	"errors"
	"net/http"

	"brae/domain"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// messagesView is what the practice has written.
type messagesView struct {
	List      []messageView
	Emergency string
	Problems  map[string]string // of the answers, by the id of the field
}

// messageView is a note with its answer.
type messageView struct {
	ID        string
	Title     string // from whom and when
	About     string
	Href      string // to the session that it is about; empty for a week
	Text      string
	Withdrawn bool
	Answer    string // empty while there is none
	Answered  string // when
	Typed     string // an answer that was refused
	Problem   string
}

func (m messageView) field() string { return "text-" + m.ID }

// Messages shows all notes from the practice.
func (p Pages) Messages(w http.ResponseWriter, r *http.Request) error {
	return p.renderMessages(w, r, http.StatusOK, "", "", "")
}

// AnswerMessage stores the answer to a note.
func (p Pages) AnswerMessage(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "message")
	if err != nil {
		return err
	}
	var f struct {
		Text string `form:"text"`
	}
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	err = p.Store.AnswerMessage(r.Context(), page.From(r.Context()).Actor(), id, f.Text)
	if problems, ok := page.Problems(err); ok {
		return p.renderMessages(w, r, http.StatusUnprocessableEntity, id.String(), f.Text, say.T(r.Context(), problems["text"]))
	}
	if errors.Is(err, domain.ErrConflict) {
		return p.renderMessages(w, r, http.StatusConflict, id.String(), f.Text, say.T(r.Context(), "You have answered this already. Only one answer can be sent."))
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), say.T(r.Context(), "Your answer is sent. It is read when the practice is open."))
	return page.See(w, r, "/messages")
}

func (p Pages) renderMessages(w http.ResponseWriter, r *http.Request, status int, refused, typed, problem string) error {
	ctx, who := r.Context(), page.From(r.Context())
	list, err := p.Store.Messages(ctx, who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	v := messagesView{Emergency: who.Practice.EmergencyNumber}
	for _, m := range list {
		one := messageView{
			ID: m.ID.String(), Title: say.F(ctx, "From %s, %s", m.SentBy, say.Day(ctx, m.SentAt.In(who.Practice.Location))),
			About: say.F(ctx, "About the week of %s", say.Day(ctx, m.Week.Time())), Text: m.Text, Withdrawn: m.WithdrawnAt != nil, Answer: m.Answer,
		}
		if m.SessionID.Valid {
			one.About, one.Href = say.F(ctx, "About what you did on %s", say.Day(ctx, m.SessionDay.Time())), "/sessions/"+m.SessionID.UUID.String()
		}
		if m.AnsweredAt != nil {
			one.Answered = say.Day(ctx, m.AnsweredAt.In(who.Practice.Location))
		}
		if one.ID == refused {
			one.Typed, one.Problem = typed, problem
			v.Problems = map[string]string{one.field(): problem}
		}
		v.List = append(v.List, one)
	}
	frame := p.Frame(r, say.T(ctx, "Messages"))
	frame.ProblemTitle = problem != ""
	return p.Render(w, r, status, frame, messagesPage(v))
}

// answerField is the field of an answer.
func (m messageView) answerField(label, hint string) ui.Field {
	return ui.Field{Name: "text", ID: m.field(), Label: label, Hint: hint, Value: m.Typed, Problem: m.Problem, Rows: 3, MaxLength: 500}
}
