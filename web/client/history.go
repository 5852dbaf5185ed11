package client

import (
	"context"
	"net/http"
	"strings"

	"brae/domain"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// historyView is what a client has done.
type historyView struct {
	Weeks    ui.Weeks
	Series   []ui.Series // resting heart rate; tests
	List     []historyWeek
	Reported []sessionLine
	Earlier  string // address of the weeks before
	Latest   string // address of the newest weeks, if others are shown
	Closed   bool   // the client's care has ended: there is nothing to do here
}

// openWeeks is how many weeks show their sessions at once.
const openWeeks = 3

// historyWeek is a week with its sessions.
type historyWeek struct {
	Title    string
	Sessions []sessionLine
}

// History shows the weeks and the sessions of a client.
func (p Pages) History(w http.ResponseWriter, r *http.Request) error {
	who, ctx := page.From(r.Context()), r.Context()
	upTo, _ := domain.ParseDate(r.URL.Query().Get("to")) // none is today
	h, err := p.Store.History(ctx, who.Actor(), who.ClientID, upTo)
	if err != nil {
		return err
	}
	v := historyView{Weeks: HistoryChart(ctx, h), Closed: who.Closed}
	if len(h.Resting) > 1 { // one value is no line
		v.Series = append(v.Series, RestingChart(ctx, h))
	}
	for _, week := range h.Weeks {
		if len(week.Sessions) == 0 {
			continue
		}
		one := historyWeek{Title: say.F(ctx, "Week of %s", say.Day(ctx, week.Week.Time()))}
		for _, s := range week.Sessions {
			line := newSessionLine(ctx, s, h.Target)
			if !who.Closed {
				line.Again = "/sessions/" + s.ID.String()
			}
			one.Sessions = append(one.Sessions, line)
		}
		v.List = append(v.List, one)
	}
	for _, t := range h.Reported {
		what := ReportWords(ctx, t.Reports)
		if t.Note != "" {
			what = append(what, t.Note)
		}
		if len(what) == 0 {
			what = []string{say.T(ctx, "Nothing felt wrong after the first hard session.")}
		}
		line := sessionLine{Day: say.Day(ctx, t.Day.Time()), What: strings.Join(what, "; ")}
		if !who.Closed {
			line.Again = "/report/" + t.ID.String()
		}
		v.Reported = append(v.Reported, line)
	}
	if !h.Earlier.IsZero() {
		v.Earlier = "/history?to=" + h.Earlier.String()
	}
	if h.Weeks[0].Week.Before(h.Today.AddDays(-6)) {
		v.Latest = "/history"
	}
	return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(ctx, "What you have done")), historyPage(v))
}

// HistoryChart is the weeks of a history as a chart.
func HistoryChart(ctx context.Context, h store.History) ui.Weeks {
	c := ui.Weeks{ID: "weeks", Title: say.T(ctx, "Minutes by week"), Target: h.Target}
	for i := len(h.Weeks) - 1; i >= 0; i-- {
		day := h.Weeks[i].Week.Time()
		c.Weeks = append(c.Weeks, ui.WeekColumn{Label: say.ShortDay(ctx, day), Name: say.F(ctx, "Week of %s", say.Day(ctx, day)), Totals: h.Weeks[i].Totals})
	}
	return c
}

// RestingChart is the resting heart rates of a history as a chart.
func RestingChart(ctx context.Context, h store.History) ui.Series {
	s := ui.Series{ID: "resting", Title: say.T(ctx, "Resting heart rate"), Unit: say.T(ctx, "beats a minute")}
	for _, r := range h.Resting {
		s.Points = append(s.Points, ui.Point{Day: say.ShortDay(ctx, r.Day.Time()), Value: r.Value})
	}
	return s
}

func historyTable(ctx context.Context, w historyWeek) ui.Table {
	t := ui.Table{
		Caption: w.Title, HideCaption: true,
		Columns: []ui.Column{{Label: say.T(ctx, "Day")}, {Label: say.T(ctx, "What"), Plain: true}, {Label: say.T(ctx, "Counts"), Number: true}},
	}
	for _, s := range w.Sessions {
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{{Text: s.Day, Href: s.Again}, {Text: s.What}, {Text: s.Counts}}})
	}
	return t
}
