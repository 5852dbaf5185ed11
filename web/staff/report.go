package staff

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"github.com/a-h/templ"
	"github.com/google/uuid"
	"golang.org/x/text/language"

	"brae/domain"
	"brae/domain/report"
	"brae/store"
	"brae/web/client"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// reportForm is a report as typed.
type reportForm struct {
	Version  string `form:"version"`
	Reader   string `form:"reader"`
	Language string `form:"language"`
	Since    string `form:"since"`
	Until    string `form:"until"`
	Text     string `form:"text"`
}

// reportView is what the page of a report shows.
type reportView struct {
	store.ReportDraft
	Form     reportForm
	Problems domain.Problems
	Paper    templ.Component // as it would be printed now; nil for a period that cannot be
}

func (v reportView) base() string { return recordPath(v.Client.ID) }

func (v reportView) doctor() bool { return v.Form.Reader == string(report.ForDoctor) }

// readers lead from the report for one reader to that for the other.
func (v reportView) readers() []ui.Choice {
	return []ui.Choice{
		{Label: "For the client", Href: v.base() + "/report", Current: !v.doctor()},
		{Label: "For the doctor", Href: v.base() + "/report?for=doctor", Current: v.doctor()},
	}
}

// Report shows a report as it would be signed today.
func (p Pages) Report(w http.ResponseWriter, r *http.Request) error {
	q := r.URL.Query()
	f := reportForm{Reader: string(report.ForClient), Since: q.Get("since"), Until: q.Get("until"), Language: q.Get("language")}
	if q.Get("for") == string(report.ForDoctor) {
		f.Reader = string(report.ForDoctor)
	}
	return p.renderReport(w, r, http.StatusOK, f, nil)
}

// SignReport signs a report and shows it.
func (p Pages) SignReport(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f reportForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	since, until, problems := f.period()
	if problems == nil {
		signed, err := p.Store.SignReport(r.Context(), page.From(r.Context()).Actor(), id, store.ReportSigning{
			Version: atoi(f.Version), Reader: report.Reader(f.Reader), Language: f.Language, Since: since, Until: until, Text: f.Text,
		})
		var ok bool
		if problems, ok = page.Problems(err); !ok && err != nil {
			return err
		}
		if err == nil {
			p.Say(r.Context(), "The report is signed.")
			return page.See(w, r, recordPath(id)+"/reports/"+signed.String())
		}
	}
	return p.renderReport(w, r, http.StatusUnprocessableEntity, f, problems)
}

// period reads the first and the last day; none are the beginning and today.
func (f reportForm) period() (since, until domain.Date, problems domain.Problems) {
	read := func(field, typed string) (d domain.Date) {
		if typed = strings.TrimSpace(typed); typed == "" {
			return d
		}
		d, err := domain.ParseDate(typed)
		if err != nil {
			problems.Add(field, "Type the day as year-month-day, such as 2026-04-30.")
		}
		return d
	}
	since, until = read("since", f.Since), read("until", f.Until)
	return since, until, problems
}

func (p Pages) renderReport(w http.ResponseWriter, r *http.Request, status int, f reportForm, problems domain.Problems) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	since, until, bad := f.period()
	actor := page.From(r.Context()).Actor()
	v := reportView{Form: f, Problems: problems}
	v.ReportDraft, err = p.Store.Report(r.Context(), actor, id, since, until)
	if refused, ok := page.Problems(err); ok {
		bad = refused
		v.ReportDraft, err = p.Store.Report(r.Context(), actor, id, domain.Date{}, domain.Date{})
	}
	if err != nil {
		return err
	}
	if bad != nil { // of the period: the report is shown for the usual one
		for field, sentence := range bad {
			v.Problems.Add(field, sentence)
		}
		status = http.StatusUnprocessableEntity
	}
	if v.Form.Since == "" {
		v.Form.Since = v.Figures.Since.String()
	}
	if v.Form.Until == "" {
		v.Form.Until = v.Figures.Until.String()
	}
	if !slices.Contains([]string{"en", "es"}, v.Form.Language) {
		v.Form.Language = v.Language
	}
	if v.Form.Version == "" {
		v.Form.Version = number(v.newestVersion())
	}
	draft := store.SignedReport{
		Reader: report.Reader(v.Form.Reader), Language: v.Form.Language, Since: v.Figures.Since, Until: v.Figures.Until, Text: v.Form.Text, Figures: v.Figures,
	}
	v.Paper = reportPaper(r.Context(), client.Printed{Practice: v.Practice, Client: v.Client, Report: draft})
	frame := p.Frame(r, "Report about "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil
	return p.renderRecord(w, r, status, frame, id, reportPage(v))
}

func (v reportView) newestVersion() int {
	if len(v.Signed) == 0 {
		return 0
	}
	return v.Signed[0].Version
}

// reportPaper is a report for its reader.
func reportPaper(ctx context.Context, in client.Printed) templ.Component {
	if in.Report.Reader == report.ForDoctor {
		return doctorPaper(say.With(ctx, language.English), in).Component()
	}
	return client.NewPaper(ctx, in).Component()
}

var reportLanguages = []ui.Option{{Value: "en", Label: "English"}, {Value: "es", Label: "Spanish"}}

// signedTable lists the reports that were signed.
func (v reportView) signedTable() ui.Table {
	t := ui.Table{
		Caption: "Signed reports", HideCaption: true,
		Columns: []ui.Column{{Label: "Version", Number: true}, {Label: "For"}, {Label: "Period"}, {Label: "Signed"}},
	}
	for _, s := range v.Signed {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: number(s.Version), Href: reportPath(v.Client.ID, s.ID)}, {Text: readerWords(s)}, {Text: day(s.Since) + " to " + day(s.Until)},
			{Text: "by " + s.SignedBy + " on " + s.SignedAt.Format("2 January 2006")},
		}})
	}
	return t
}

func reportPath(client, report uuid.UUID) string {
	return recordPath(client) + "/reports/" + report.String()
}

func readerWords(s store.SignedReport) string {
	words := "the client"
	if s.Reader == report.ForDoctor {
		words = "the doctor"
	}
	if s.Final {
		words += ", final"
	}
	return words
}

// signedView is what the page of a signed report shows.
type signedView struct {
	Client store.Client
	Report store.SignedReport
	Paper  templ.Component
}

// SignedReport shows a report as it was signed.
func (p Pages) SignedReport(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	signed, err := pathID(r, "report")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	var v signedView
	if v.Client, v.Report, err = p.Store.SignedReport(r.Context(), who.Actor(), id, signed); err != nil {
		return err
	}
	v.Paper = reportPaper(r.Context(), client.Printed{Practice: who.Practice, Client: v.Client, Report: v.Report})
	title := "Report " + number(v.Report.Version) + " about " + v.Client.Name()
	return p.renderRecord(w, r, http.StatusOK, p.Frame(r, title), id, signedReportPage(v, title))
}
