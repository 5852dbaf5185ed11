package client

import (
	"context"
	"errors"
	"maps"
	"net/http"
	"strings"

	"brae/domain"
	"brae/domain/clearance"
	"brae/domain/triage"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// answer goes on after a session was stored: an emergency, a hold or a question
// has a page of its own, anything else is said on the page of the week.
func (p Pages) answer(w http.ResponseWriter, r *http.Request, s store.LoggedSession) error {
	if s.Triage.Level >= triage.Ease || len(open(s.Session, s.Triage)) > 0 {
		return page.See(w, r, "/log/"+s.ID.String())
	}
	lines, err := p.lines(r.Context(), page.From(r.Context()).Practice, s.Triage.Assessment.Tell)
	if err != nil {
		return err
	}
	p.Say(r.Context(), flash(saved(r.Context(), s.Session), s.Triage, lines))
	return page.See(w, r, "/week")
}

// flash is what is said in one paragraph.
func flash(saved string, t store.Triage, lines []string) string {
	if t.Level == triage.Fine && len(t.Reports) == 0 {
		return saved
	}
	return saved + " " + strings.Join(lines, " ")
}

// open returns the questions of a triage that were not answered yet.
func open(s store.Session, t store.Triage) []triage.Question {
	var list []triage.Question
	for _, q := range t.Assessment.Questions {
		asked := s.Answers[q.Code] != ""
		for _, r := range s.Reports {
			asked = asked || r == q.Report
		}
		if !asked {
			list = append(list, q)
		}
	}
	return list
}

// lines fills in what a client is told, in their language.
func (p Pages) lines(ctx context.Context, practice store.Practice, tell []triage.Line) ([]string, error) {
	said := make([]triage.Line, len(tell))
	for i, l := range tell {
		said[i] = triage.Line{Text: say.T(ctx, l.Text), Optional: l.Optional}
	}
	return triage.Fill(said, map[string]string{"emergency_number": practice.EmergencyNumber, "clinic": practice.Name})
}

// emergency is the screen for a triage at that level.
func (p Pages) emergency(ctx context.Context, practice store.Practice, t store.Triage) (*ui.Emergency, error) {
	lines, err := p.lines(ctx, practice, t.Assessment.Tell)
	if err != nil {
		return nil, err
	}
	return &ui.Emergency{Title: lines[0], Lines: lines[1:], Number: practice.EmergencyNumber}, nil
}

// toldView is what is said to a log or a report.
type toldView struct {
	Title     string
	Saved     string
	Lines     []string
	Questions []triage.Question
	Action    string            // where the answers go
	Yes       []triage.Question // of a report: each yes is one more report
	NextID    string            // of that
	Record    string            // the page of the session; none of a report
	Emergency *ui.Emergency
}

// emergencyView is what stands under an emergency whose log could not be saved.
type emergencyView struct{ Sentence string }

func (p Pages) renderEmergency(w http.ResponseWriter, r *http.Request, status int, t store.Triage, v emergencyView) error {
	e, err := p.emergency(r.Context(), page.From(r.Context()).Practice, t)
	if err != nil {
		return err
	}
	return p.Render(w, r, status, p.Frame(r, e.Title), toldPage(toldView{Emergency: e, Saved: say.T(r.Context(), v.Sentence)}))
}

// title heads what is said to a triage below an emergency: what to do first.
func title(t store.Triage) string {
	switch {
	case t.Hold == clearance.All:
		return say.Key("Please stop exercising for now")
	case t.Hold == clearance.AboveLight:
		return say.Key("Only easy activity for now")
	case t.Hold == clearance.Vigorous:
		return say.Key("Keep it easy for now")
	case t.Level == triage.Stop:
		return say.Key("We will speak to you")
	case t.Level == triage.Ease:
		return say.Key("We will look at this")
	case t.Level == triage.Note:
		return say.Key("We have noted this")
	}
	return say.Key("We have it")
}

// Told shows what is said to a session that was logged.
func (p Pages) Told(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "session")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	s, err := p.Store.Sorted(r.Context(), who.Actor(), who.ClientID, id)
	if err != nil {
		return err
	}
	v := toldView{
		Saved: saved(r.Context(), s.Session), Action: "/log/" + id.String() + "/answers", Record: "/sessions/" + id.String(),
		Questions: open(s.Session, s.Triage),
	}
	return p.renderTold(w, r, s.Triage, v)
}

func (p Pages) renderTold(w http.ResponseWriter, r *http.Request, t store.Triage, v toldView) (err error) {
	ctx, practice := r.Context(), page.From(r.Context()).Practice
	v.Title = say.T(ctx, title(t))
	if t.Level == triage.Emergency {
		if v.Emergency, err = p.emergency(ctx, practice, t); err != nil {
			return err
		}
		v.Title = v.Emergency.Title
	} else if v.Lines, err = p.lines(ctx, practice, t.Assessment.Tell); err != nil {
		return err
	}
	return p.Render(w, r, http.StatusOK, p.Frame(r, v.Title), toldPage(v))
}

// logAnswer is what a script is told of a log that it sent. All of it stands on
// the page that a browser without the script would see.
type logAnswer struct {
	ID        string           `json:"id,omitempty"`
	Level     string           `json:"level"`     // fine, note, ease, stop or emergency
	Title     string           `json:"title"`     // what to do first
	Lines     []string         `json:"lines"`     // what else is said
	Emergency bool             `json:"emergency"` // shown before anything else
	Number    string           `json:"number"`    // to call in an emergency
	Held      string           `json:"held"`      // all, above_light, vigorous or none
	Saved     string           `json:"saved,omitempty"`
	Next      string           `json:"next,omitempty"`      // address of the page that says it
	Questions []questionAnswer `json:"questions,omitempty"` // asked on that page
	Problems  domain.Problems  `json:"problems,omitempty"`
	Doubts    domain.Doubts    `json:"doubts,omitempty"`
	Conflict  string           `json:"conflict,omitempty"`
}

type questionAnswer struct {
	Code string `json:"code"`
	Asks string `json:"asks"`
}

// answerJSON answers a script: 201 for a new session, 200 for one stored before,
// 422 with problems or doubts by field, 409 for an id that is used up.
func (p Pages) answerJSON(w http.ResponseWriter, r *http.Request, s store.LoggedSession, err error) error {
	ctx, practice := r.Context(), page.From(r.Context()).Practice
	a := logAnswer{Level: s.Triage.Level.String(), Held: s.Triage.Hold.String(), Number: practice.EmergencyNumber, Lines: []string{}}
	a.Emergency = s.Triage.Level == triage.Emergency
	if len(s.Triage.Assessment.Tell) > 0 {
		lines, err := p.lines(ctx, practice, s.Triage.Assessment.Tell)
		if err != nil {
			return err
		}
		a.Title, a.Lines = say.T(ctx, title(s.Triage)), lines
		if a.Emergency {
			a.Title, a.Lines = lines[0], lines[1:]
		}
	}
	status := http.StatusCreated
	if problems, ok := page.Problems(err); ok {
		status, a.Problems = http.StatusUnprocessableEntity, told(ctx, page.Tell(ctx, p.Kit, problems))
	} else if doubts, ok := errors.AsType[domain.Doubts](err); ok {
		status, a.Doubts = http.StatusUnprocessableEntity, told(ctx, page.Tell(ctx, p.Kit, doubts))
	} else if errors.Is(err, domain.ErrConflict) {
		status, a.Conflict = http.StatusConflict, say.T(ctx, conflictWords)
	} else if err != nil && !a.Emergency {
		return err
	} else if err != nil {
		status = http.StatusServiceUnavailable
	} else {
		a.ID, a.Saved, a.Next = s.ID.String(), saved(ctx, s.Session), "/log/"+s.ID.String()
		for _, q := range open(s.Session, s.Triage) {
			a.Questions = append(a.Questions, questionAnswer{q.Code, say.T(ctx, q.Asks)})
		}
		if s.Again {
			status = http.StatusOK
		}
	}
	return p.JSON(w, status, a)
}

// told puts sentences by field into the client's language.
func told[T ~map[string]string](ctx context.Context, sentences T) T {
	said := maps.Clone(sentences)
	for field, sentence := range said {
		said[field] = say.T(ctx, sentence)
	}
	return said
}
