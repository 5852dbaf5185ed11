package staff

import (
	"context"
	"net/http"
	"strings"

	"brae/domain"
	"brae/domain/triage"
	"brae/store"
	"brae/web/client"
	"brae/web/page"
	"brae/web/ui"
)

// sessionsView is what a client has logged and reported.
type sessionsView struct {
	Weeks    ui.Weeks
	Series   []ui.Series
	Flags    ui.Table
	Sessions ui.Table
	Reported ui.Table
	Earlier  string
	Latest   string
}

// Sessions shows the history of a client, deleted sessions too.
func (p Pages) Sessions(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	who, ctx := page.From(r.Context()), r.Context()
	upTo, _ := domain.ParseDate(r.URL.Query().Get("to")) // none is today
	h, err := p.Store.History(ctx, who.Actor(), id, upTo)
	if err != nil {
		return err
	}
	path := recordPath(id) + "/sessions"
	v := sessionsView{
		Weeks: client.HistoryChart(ctx, h), Flags: flagTable(h.Flags), Sessions: loggedTable(ctx, path, h),
		Reported: reportedTable(ctx, h.Reported),
	}
	if len(h.Resting) > 1 { // one value is no line
		v.Series = append(v.Series, client.RestingChart(ctx, h))
	}
	if !h.Earlier.IsZero() {
		v.Earlier = path + "?to=" + h.Earlier.String()
	}
	if h.Weeks[0].Week.Before(h.Today.AddDays(-6)) {
		v.Latest = path
	}
	frame := p.Frame(r, h.Client.Name()+", sessions")
	return p.renderRecord(w, r, http.StatusOK, frame, id, sessionsPage(v))
}

func flagTable(flags []store.Flag) ui.Table {
	t := ui.Table{
		Caption: "To look at", HideCaption: true,
		Columns: []ui.Column{{Label: "By"}, {Label: "What happened"}, {Label: "What to do"}, {Label: "Rule"}},
	}
	for _, f := range flags {
		due := "at the next review"
		if !f.Due.IsZero() {
			due = f.Due.Time().Format("Mon\u00a02\u00a0Jan")
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{{Text: due, Href: f.Href}, {Text: f.Text}, {Text: f.Action}, {Text: f.Rule}}})
	}
	return t
}

func loggedTable(ctx context.Context, path string, h store.History) ui.Table {
	t := ui.Table{
		Caption: "Sessions", HideCaption: true,
		Columns: []ui.Column{{Label: "Day"}, {Label: "What", Plain: true}, {Label: "Reported"}, {Label: "Counts", Number: true}, {Label: "State"}},
	}
	for _, week := range h.Weeks {
		for _, s := range week.Sessions {
			var what []string
			for _, part := range s.Parts {
				what = append(what, page.PartWords(ctx, part)+", "+number(part.Minutes)+" min")
			}
			counts, state := number(h.Target.Done(s.Totals)), ""
			switch {
			case !s.Deleted.IsZero():
				counts, state = "0", "Deleted"
			case s.Version > 1:
				state = "Changed"
			}
			t.Rows = append(t.Rows, ui.Row{Muted: !s.Deleted.IsZero(), Cells: []ui.Cell{
				{Text: s.Day.Time().Format("Mon\u00a02\u00a0Jan"), Href: path + "/" + s.ID.String()}, {Text: strings.Join(what, "; ")},
				{Text: strings.Join(client.ReportWords(ctx, s.Reports), "; ")}, {Text: counts}, {Text: state},
			}})
		}
	}
	return t
}

func reportedTable(ctx context.Context, list []store.Triage) ui.Table {
	t := ui.Table{
		Caption: "Reported without exercise", HideCaption: true,
		Columns: []ui.Column{{Label: "Day"}, {Label: "Reported"}, {Label: "Note"}, {Label: "Came to"}, {Label: "Rules"}},
	}
	for _, r := range list {
		what := strings.Join(client.ReportWords(ctx, r.Reports), "; ")
		if what == "" {
			what = "Nothing, to the questions after the first hard session"
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: r.Day.Time().Format("Mon\u00a02\u00a0Jan")}, {Text: what}, {Text: r.Note}, {Text: levelWords[r.Level]}, {Text: strings.Join(r.Rules, ", ")},
		}})
	}
	return t
}

// levelWords are the levels of triage as staff read them.
var levelWords = map[triage.Level]string{
	triage.Fine: "Nothing to do", triage.Note: "Noted for the next review", triage.Ease: "Keep it easy until looked at",
	triage.Stop: "Stop until spoken to", triage.Emergency: "Emergency text shown",
}

// sessionView is one session with everything that stood before.
type sessionView struct {
	Title   string
	Facts   []ui.Definition
	Parts   ui.Table
	Reports []string
	Note    string
	Triages ui.Table
	Before  []beforeView
	Deleted bool
	Write   string // address of a message about it
}

// beforeView is a version that another one has taken the place of.
type beforeView struct {
	Title, Reason string
	Parts         ui.Table
	Reports       []string
	Note          string
	Day           string
}

var changedWords = map[store.Change]string{
	store.Edited: "changed", store.Answered: "a question was answered", store.Deleted: "deleted", store.Restored: "restored",
}

// SessionRecord shows one session of a client with its revisions.
func (p Pages) SessionRecord(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	session, err := pathID(r, "session")
	if err != nil {
		return err
	}
	who, ctx := page.From(r.Context()), r.Context()
	record, err := p.Store.SessionRecord(ctx, who.Actor(), id, session)
	if err != nil {
		return err
	}
	zone := who.Practice.Location
	const at = "2 January 2006, 15:04"
	v := sessionView{
		Title: "Session of " + record.Day.Time().Format("Monday 2 January 2006"), Parts: client.PartTable(ctx, record.Parts),
		Reports: client.ReportWords(ctx, record.Reports), Note: record.Note, Deleted: !record.Deleted.IsZero(),
		Write: recordPath(id) + "/messages?session=" + session.String(),
		Facts: []ui.Definition{
			{Term: "Logged", Detail: record.LoggedAt.In(zone).Format(at) + " by " + record.LoggedBy},
			{Term: "Counts", Detail: number(record.Target.Done(record.Totals)) + " minutes"},
		},
	}
	if !record.PhoneAt.IsZero() {
		v.Facts = append(v.Facts, ui.Definition{Term: "By the phone's clock", Detail: record.PhoneAt.In(zone).Format(at)})
	}
	if v.Deleted {
		v.Facts[1].Detail = "0 minutes"
		v.Facts = append(v.Facts, ui.Definition{Term: "Deleted", Detail: record.Deleted.In(zone).Format(at) + " by " + record.DeletedBy})
	}
	v.Triages = ui.Table{
		Caption: "What it came to", HideCaption: true,
		Columns: []ui.Column{{Label: "Version", Number: true}, {Label: "Level"}, {Label: "Why"}, {Label: "Rules"}, {Label: "Rule set"}, {Label: "At"}},
	}
	for _, t := range record.Triages {
		v.Triages.Rows = append(v.Triages.Rows, ui.Row{Cells: []ui.Cell{
			{Text: number(t.SessionVersion)}, {Text: levelWords[t.Level]}, {Text: strings.Join(t.Assessment.Why, " ")}, {Text: strings.Join(t.Rules, ", ")},
			{Text: t.RuleSet}, {Text: t.At.In(zone).Format(at)},
		}})
	}
	for _, rev := range record.Revisions {
		v.Before = append(v.Before, beforeView{
			Title:  "Version " + number(rev.Version) + ", until " + rev.ReplacedAt.In(zone).Format(at) + ": " + changedWords[rev.Change] + " by " + rev.ReplacedBy,
			Reason: rev.Reason, Parts: client.PartTable(ctx, rev.Body.Parts), Reports: client.ReportWords(ctx, rev.Body.Reports), Note: rev.Body.Note,
			Day: rev.Body.Day.Time().Format("Monday 2 January 2006"),
		})
	}
	frame := p.Frame(r, v.Title)
	return p.renderRecord(w, r, http.StatusOK, frame, id, sessionRecordPage(v))
}
