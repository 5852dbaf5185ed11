package client

import (
	"net/http"

	"github.com/a-h/templ"

	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// reportsView is what a client's own reports show.
type reportsView struct {
	Closed       bool
	Practitioner string
	Practice     string
	Phone        string
	Emergency    string
	Reports      []ui.Button
	Newest       templ.Component // of a closed record, shown at once
}

// Reports lists the reports that were signed for a client. Where their care has
// ended it is the page that they start at.
func (p Pages) Reports(w http.ResponseWriter, r *http.Request) error {
	who, ctx := page.From(r.Context()), r.Context()
	own, err := p.Store.OwnReports(ctx, who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	v := reportsView{
		Closed: who.Closed, Practitioner: own.Practitioner, Practice: who.Practice.Name, Phone: who.Practice.Phone, Emergency: who.Practice.EmergencyNumber,
	}
	for i, one := range own.Reports {
		if i == 0 && v.Closed {
			v.Newest = NewPaper(ctx, Printed{who.Practice, own.Client, one}).Component()
			continue
		}
		v.Reports = append(v.Reports, ui.Button{
			Label: say.F(ctx, "From %s to %s", say.Date(ctx, one.Since.Time()), say.Date(ctx, one.Until.Time())), Href: page.Reports + "/" + one.ID.String(), Kind: ui.Quiet,
		})
	}
	return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(ctx, "My reports")), reportsPage(v))
}

// SignedReport shows one report that was signed for a client.
func (p Pages) SignedReport(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "report")
	if err != nil {
		return err
	}
	who, ctx := page.From(r.Context()), r.Context()
	client, one, err := p.Store.SignedReport(ctx, who.Actor(), who.ClientID, id)
	if err != nil {
		return err
	}
	paper := NewPaper(ctx, Printed{who.Practice, client, one}).Component()
	return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(ctx, "My report")), ownReportPage(paper))
}
