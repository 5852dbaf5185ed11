package client

import (
	"context"
	"errors"
	"net/http"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/triage"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// sessionView is a session with what was said to it.
type sessionView struct {
	ID, Day   string
	Sentence  string
	Parts     ui.Table
	Reports   []string
	Note      string
	Lines     []string // what was said to it
	Questions bool     // some were not answered yet
	Changed   string   // who changed it last; empty if nobody did
	Before    []versionView
	Deleted   bool
	Version   int
	Messages  []weekMessage // from the practice, about this session
}

// versionView is what stood before, in words.
type versionView struct {
	Title string
	Lines []string
}

func (v sessionView) path() string { return "/sessions/" + v.ID }

// Session shows one session.
func (p Pages) Session(w http.ResponseWriter, r *http.Request) error {
	record, err := p.sessionRecord(r)
	if err != nil {
		return err
	}
	ctx, who := r.Context(), page.From(r.Context())
	v := sessionView{
		ID: record.ID.String(), Day: say.LongDay(ctx, record.Day.Time()), Parts: PartTable(ctx, record.Parts), Note: record.Note,
		Reports: ReportWords(ctx, record.Reports), Deleted: !record.Deleted.IsZero(), Version: record.Version,
		Questions: len(open(record.Session, record.Triage)) > 0,
	}
	v.Sentence = say.F(ctx, "It counts %d minutes towards your week.", record.Target.Done(record.Totals))
	if record.Triage.Level > triage.Fine || len(record.Reports) > 0 {
		if v.Lines, err = p.lines(ctx, who.Practice, record.Triage.Assessment.Tell); err != nil {
			return err
		}
	}
	messages, err := p.Store.Messages(ctx, who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	for _, m := range messages {
		if m.SessionID.UUID == record.ID && m.WithdrawnAt == nil {
			v.Messages = append(v.Messages, weekMessage{From: m.SentBy, Day: say.Day(ctx, m.SentAt.In(who.Practice.Location)), Text: m.Text, Href: "/messages"})
		}
	}
	for _, rev := range record.Revisions {
		v.Before = append(v.Before, versionView{
			Title: say.F(ctx, "Until %s, %s", say.Day(ctx, rev.ReplacedAt.In(who.Practice.Location)), rev.ReplacedAt.In(who.Practice.Location).Format("15:04")),
			Lines: bodyLines(ctx, rev.Body),
		})
	}
	return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(ctx, "A session")), sessionPage(v))
}

func (p Pages) sessionRecord(r *http.Request) (store.SessionRecord, error) {
	id, err := pathID(r, "session")
	if err != nil {
		return store.SessionRecord{}, err
	}
	who := page.From(r.Context())
	return p.Store.SessionRecord(r.Context(), who.Actor(), who.ClientID, id)
}

// PartTable lists the parts of a session.
func PartTable(ctx context.Context, parts []store.Part) ui.Table {
	t := ui.Table{
		Caption: say.T(ctx, "What you did"), HideCaption: true,
		Columns: []ui.Column{{Label: say.T(ctx, "Activity")}, {Label: say.T(ctx, "Minutes"), Number: true}, {Label: say.T(ctx, "Counts as")}, {Label: say.T(ctx, "Talk test")},
			{Label: say.T(ctx, "Effort"), Number: true}, {Label: say.T(ctx, "Heart rate"), Number: true}},
	}
	for _, p := range parts {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: page.ActivityName(ctx, p.Activity)}, {Text: strconv.Itoa(p.Minutes)}, {Content: ui.ClassTag(p.Class)},
			{Text: page.TalkWord(ctx, p.Talk)}, {Text: orEmpty(p.Effort)}, {Text: orEmpty(p.HeartRate)},
		}})
	}
	return t
}

func orEmpty(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// ReportWords are reports as a client ticked them.
func ReportWords(ctx context.Context, reports []triage.Report) []string {
	var list []string
	for _, c := range triage.Codes() {
		for _, r := range reports {
			if r == c.Report {
				list = append(list, say.T(ctx, c.Asks))
			}
		}
	}
	return list
}

// bodyLines is what a session consisted of, a line for each thing.
func bodyLines(ctx context.Context, b store.SessionBody) []string {
	lines := []string{say.LongDay(ctx, b.Day.Time())}
	for _, p := range b.Parts {
		lines = append(lines, partLine(ctx, p))
	}
	if words := ReportWords(ctx, b.Reports); words != nil {
		lines = append(lines, say.F(ctx, "You felt: %s.", strings.Join(words, "; ")))
	}
	if b.Note != "" {
		lines = append(lines, say.F(ctx, "Note: %s", b.Note))
	}
	return lines
}

// editView is a change of a session that is there.
type editView struct {
	Action  string
	Back    string
	Version int
	Reason  string
	Now     []string // what somebody else has made of it in the meantime
}

// EditForm shows a session to be changed.
func (p Pages) EditForm(w http.ResponseWriter, r *http.Request) error {
	record, err := p.sessionRecord(r)
	if err != nil {
		return err
	}
	if !record.Deleted.IsZero() {
		return page.See(w, r, "/sessions/"+record.ID.String())
	}
	f := logForm{ID: record.ID.String(), Day: record.Day.String(), Note: record.Note, Parts: partForms(record.Parts), Symptoms: "no"}
	for _, report := range record.Reports {
		f.Symptoms, f.Reports = "yes", append(f.Reports, string(report))
	}
	return p.renderLog(w, r, http.StatusOK, logView{Form: f, Edit: newEditView(record.ID, record.Version, "")})
}

func newEditView(id uuid.UUID, version int, reason string) *editView {
	path := "/sessions/" + id.String()
	return &editView{Action: path + "/edit", Back: path, Version: version, Reason: reason}
}

// EditSubmit changes a session.
func (p Pages) EditSubmit(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "session")
	if err != nil {
		return err
	}
	var f logForm
	var change changeForm
	if err := errors.Join(page.Decode(r, &f), page.Decode(r, &change)); err != nil {
		return err
	}
	f.ID = id.String()
	version, _ := strconv.Atoi(change.Version) // none is no version of any session
	v := logView{Form: f, Edit: newEditView(id, version, change.Reason)}
	if v.Form.parts() {
		return p.renderLog(w, r, http.StatusOK, v)
	}
	who := page.From(r.Context())
	session, err := p.Store.EditSession(r.Context(), who.Actor(), who.ClientID, id, version, v.Form.input(), change.Reason)
	if err == nil {
		return p.answer(w, r, session)
	}
	if found, ok := page.Problems(err); ok {
		v.Problems = page.Tell(r.Context(), p.Kit, found)
		return p.renderLog(w, r, http.StatusUnprocessableEntity, v)
	}
	if doubts, ok := errors.AsType[domain.Doubts](err); ok {
		v.Doubts = page.Tell(r.Context(), p.Kit, doubts)
		return p.renderLog(w, r, http.StatusUnprocessableEntity, v)
	}
	if changed, ok := errors.AsType[*store.SessionChanged](err); ok {
		v.Edit.Version = changed.Now.Version
		v.Edit.Now = bodyLines(r.Context(), changed.Now.Body())
		if !changed.Now.Deleted.IsZero() {
			v.Edit.Now = []string{say.T(r.Context(), "It was deleted. Restore it first if you want to change it.")}
		}
		return p.renderLog(w, r, http.StatusConflict, v)
	}
	return err
}

// changeForm says which version is changed, and why.
type changeForm struct {
	Version string `form:"version"`
	Reason  string `form:"reason"`
}

// DeleteForm asks before a session is taken away.
func (p Pages) DeleteForm(w http.ResponseWriter, r *http.Request) error {
	record, err := p.sessionRecord(r)
	if err != nil {
		return err
	}
	return p.renderDelete(w, r, http.StatusOK, record, changeForm{}, nil)
}

func (p Pages) renderDelete(w http.ResponseWriter, r *http.Request, status int, record store.SessionRecord, f changeForm, problems domain.Problems) error {
	ctx := r.Context()
	frame := p.Frame(r, say.T(ctx, "Delete a session"))
	frame.ProblemTitle = problems != nil
	return p.Render(w, r, status, frame, deletePage(record.ID.String(), record.Version, bodyLines(ctx, record.Body()), f.Reason, problems))
}

// DeleteSubmit takes a session away.
func (p Pages) DeleteSubmit(w http.ResponseWriter, r *http.Request) error {
	return p.away(w, r, func(f changeForm, id uuid.UUID, version int) error {
		who := page.From(r.Context())
		_, err := p.Store.DeleteSession(r.Context(), who.Actor(), who.ClientID, id, version, f.Reason)
		return err
	})
}

// RestoreSubmit brings a session back.
func (p Pages) RestoreSubmit(w http.ResponseWriter, r *http.Request) error {
	return p.away(w, r, func(_ changeForm, id uuid.UUID, version int) error {
		who := page.From(r.Context())
		_, err := p.Store.RestoreSession(r.Context(), who.Actor(), who.ClientID, id, version)
		return err
	})
}

// away answers the deletion of a session and its undoing.
func (p Pages) away(w http.ResponseWriter, r *http.Request, do func(f changeForm, id uuid.UUID, version int) error) error {
	record, err := p.sessionRecord(r)
	if err != nil {
		return err
	}
	var f changeForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	version, _ := strconv.Atoi(f.Version)
	err = do(f, record.ID, version)
	if problems, ok := page.Problems(err); ok {
		return p.renderDelete(w, r, http.StatusUnprocessableEntity, record, f, problems)
	}
	if changed, ok := errors.AsType[*store.SessionChanged](err); ok {
		record.LoggedSession = changed.Now
		return p.renderDelete(w, r, http.StatusConflict, record, f, domain.Problems{
			"reason": say.Key("This session was changed in the meantime. Look at it again."),
		})
	}
	if err != nil {
		return err
	}
	return page.See(w, r, "/sessions/"+record.ID.String())
}

// Answers notes what a client answers to the questions of the triage.
func (p Pages) Answers(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "session")
	if err != nil {
		return err
	}
	answers, err := answersOf(r)
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	session, err := p.Store.AnswerSession(r.Context(), who.Actor(), who.ClientID, id, answers)
	if err != nil {
		return err
	}
	return p.answer(w, r, session)
}

// answersOf reads the answers to questions, by their code.
func answersOf(r *http.Request) (map[string]string, error) {
	if err := page.ParseForm(r); err != nil {
		return nil, err
	}
	answers := map[string]string{}
	for name := range r.PostForm {
		if code, ok := strings.CutPrefix(name, "answer."); ok {
			answers[code] = r.PostForm.Get(name)
		}
	}
	return answers, nil
}
