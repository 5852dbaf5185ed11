package client

import (
	"net/http"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/triage"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
)

// reportForm is what a client reports without exercise, as typed.
type reportForm struct {
	ID      string   `form:"id"`
	Reports []string `form:"reports"`
	Note    string   `form:"note"`
}

// ReportForm asks what is wrong, without a session.
func (p Pages) ReportForm(w http.ResponseWriter, r *http.Request) error {
	return p.renderReport(w, r, http.StatusOK, reportForm{ID: uuid.NewString()}, nil)
}

func (p Pages) renderReport(w http.ResponseWriter, r *http.Request, status int, f reportForm, problems domain.Problems) error {
	frame := p.Frame(r, say.T(r.Context(), "I do not feel well"))
	frame.ProblemTitle = problems != nil
	return p.Render(w, r, status, frame, reportPage(f, problems, page.From(r.Context()).Practice.EmergencyNumber))
}

// ReportSubmit sorts what is reported, once however often it is sent.
func (p Pages) ReportSubmit(w http.ResponseWriter, r *http.Request) error {
	var f reportForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	id, err := uuid.Parse(f.ID)
	if err != nil {
		id = uuid.New() // what is reported counts more than how the form was sent
	}
	who := page.From(r.Context())
	sorted, err := p.Store.ReportSymptoms(r.Context(), who.Actor(), who.ClientID, store.ReportInput{ID: id, Reports: reports(f.Reports), Note: f.Note})
	if problems, ok := page.Problems(err); ok {
		return p.renderReport(w, r, http.StatusUnprocessableEntity, f, problems)
	}
	if err != nil {
		return err
	}
	return page.See(w, r, "/report/"+sorted.ID.String())
}

// Reported shows what is said to a report.
func (p Pages) Reported(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "report")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	t, err := p.Store.Reported(r.Context(), who.Actor(), who.ClientID, id)
	if err != nil {
		return err
	}
	v := toldView{Action: "/report"}
	for _, q := range t.Assessment.Questions { // a yes to one is a report of its own
		if q.Report != "" && !isTicked(names(t.Reports), q.Report) {
			v.Yes = append(v.Yes, q)
		}
	}
	v.NextID = uuid.NewString()
	return p.renderTold(w, r, t, v)
}

func names(reports []triage.Report) []string {
	var list []string
	for _, r := range reports {
		list = append(list, string(r))
	}
	return list
}

// LateSubmit takes the answers to the late questions.
func (p Pages) LateSubmit(w http.ResponseWriter, r *http.Request) error {
	var f reportForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	who := page.From(r.Context())
	sorted, err := p.Store.AnswerLate(r.Context(), who.Actor(), who.ClientID, reports(f.Reports))
	if err != nil {
		return err
	}
	if sorted.Level > triage.Fine {
		return page.See(w, r, "/report/"+sorted.ID.String())
	}
	lines, err := p.lines(r.Context(), who.Practice, sorted.Assessment.Tell)
	if err != nil {
		return err
	}
	p.Say(r.Context(), strings.Join(lines, " "))
	return page.See(w, r, "/week")
}
