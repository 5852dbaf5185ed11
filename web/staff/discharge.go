package staff

import (
	"net/http"
	"slices"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/report"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// dischargeForm is the end of care as typed.
type dischargeForm struct {
	Version  string `form:"version"`
	Language string `form:"language"`
	Outcome  string `form:"outcome"`
	Words    string `form:"words"`
	Text     string `form:"text"`
	Advice   string `form:"advice"`
	Seen     string `form:"seen"`
	Reason   string `form:"reason"` // to open the record again
}

// dischargeView is what the page of a discharge shows.
type dischargeView struct {
	store.ReportDraft
	Form     dischargeForm
	Problems domain.Problems
	Open     []store.OpenMatter
}

func (v dischargeView) base() string { return recordPath(v.Client.ID) }

// Discharge shows how care ends, or has ended.
func (p Pages) Discharge(w http.ResponseWriter, r *http.Request) error {
	return p.renderDischarge(w, r, http.StatusOK, dischargeForm{Language: r.URL.Query().Get("language")}, nil)
}

// DischargeClient ends the care of a client.
func (p Pages) DischargeClient(w http.ResponseWriter, r *http.Request) error {
	return p.endCare(w, r, func(actor store.Actor, id uuid.UUID, f dischargeForm) error {
		_, err := p.Store.DischargeClient(r.Context(), actor, id, store.DischargeInput{
			Discharge: report.Discharge{
				Outcome: report.Outcome(f.Outcome), Words: f.Words, Text: f.Text, Advice: f.Advice, Seen: f.Seen == "yes",
			},
			Version: atoi(f.Version), Language: f.Language,
		})
		return err
	}, "The client is discharged. The record is closed and kept.")
}

// Reopen opens a closed record again.
func (p Pages) Reopen(w http.ResponseWriter, r *http.Request) error {
	return p.endCare(w, r, func(actor store.Actor, id uuid.UUID, f dischargeForm) error {
		return p.Store.ReopenClient(r.Context(), actor, id, f.Reason)
	}, "The record is open again.")
}

func (p Pages) endCare(w http.ResponseWriter, r *http.Request, do func(store.Actor, uuid.UUID, dischargeForm) error, said string) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f dischargeForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	err = do(page.From(r.Context()).Actor(), id, f)
	if problems, ok := page.Problems(err); ok {
		return p.renderDischarge(w, r, http.StatusUnprocessableEntity, f, problems)
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), said)
	return page.See(w, r, recordPath(id)+"/discharge")
}

func (p Pages) renderDischarge(w http.ResponseWriter, r *http.Request, status int, f dischargeForm, problems domain.Problems) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	v := dischargeView{Form: f, Problems: problems}
	if v.ReportDraft, err = p.Store.Report(r.Context(), actor, id, domain.Date{}, domain.Date{}); err != nil {
		return err
	}
	if v.Open, err = p.Store.OpenMatters(r.Context(), actor, id); err != nil {
		return err
	}
	if !slices.Contains([]string{"en", "es"}, v.Form.Language) {
		v.Form.Language = v.Language
	}
	if status == http.StatusOK {
		v.Form.Version = number(reportView{ReportDraft: v.ReportDraft}.newestVersion())
		v.Form.Advice = ourAdvice(r, v.Form.Language, v.Figures)
	}
	frame := p.Frame(r, "Discharge of "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	return p.renderRecord(w, r, status, frame, id, dischargePage(v))
}

// ourAdvice is what the advice for a client starts from, in their language, under
// their ceiling, and with the limits that a doctor has set.
func ourAdvice(r *http.Request, language string, f store.ReportFigures) string {
	ctx := say.With(r.Context(), say.Choose(language))
	var lines []string
	for _, sentence := range report.Advice(f.Now.Ceiling, f.Limited()) {
		lines = append(lines, say.T(ctx, sentence))
	}
	return strings.Join(lines, "\n")
}

func outcomeOptions() []ui.Option {
	var options []ui.Option
	for _, o := range report.Outcomes() {
		options = append(options, ui.Option{Value: string(o), Label: o.Name()})
	}
	return options
}

// endItems tell how care ended.
func endItems(v dischargeView) []ui.Definition {
	d := v.ReportDraft.Discharge
	items := []ui.Definition{{Term: "Reason", Detail: d.Outcome.Name()}}
	if d.Words != "" {
		items = append(items, ui.Definition{Term: "In words", Detail: d.Words})
	}
	items = append(items, ui.Definition{Term: "Closed", Detail: "by " + d.ClosedBy + " on " + d.ClosedAt.Format("2 January 2006")})
	for _, text := range d.Open {
		items = append(items, ui.Definition{Term: "Open then", Detail: text})
	}
	if back := d.Reopened; back != nil {
		detail := "by " + back.By + " on " + back.At.Format("2 January 2006") + ": " + back.Reason
		if back.Held {
			detail += ". All exercise was put on hold until a new screening."
		}
		items = append(items, ui.Definition{Term: "Opened again", Detail: detail})
	}
	return items
}

// closedTable lists the closed records.
func closedTable(v caseloadView) ui.Table {
	t := ui.Table{
		Caption: "Closed records", HideCaption: true,
		Columns: []ui.Column{{Label: "Client"}, {Label: "Age", Number: true}, {Label: "Closed"}, {Label: "Reason"}},
	}
	if v.Lead {
		t.Columns = append(t.Columns, ui.Column{Label: "Practitioner"})
	}
	for _, l := range v.Closed {
		row := ui.Row{Cells: []ui.Cell{
			{Text: l.Name(), Href: recordPath(l.ID)}, {Text: number(l.BirthDate.AgeOn(v.Today))}, {Text: l.ClosedAt.Format("2 January 2006")}, {Text: l.Outcome.Name()},
		}}
		if v.Lead {
			row.Cells = append(row.Cells, ui.Cell{Text: l.Practitioner})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// adviceSources are where our own advice comes from.
func adviceSources() []ui.Source {
	return []ui.Source{page.Source("paga2018"), page.Source("mujika2001"), page.Source("cdc_talk")}
}
