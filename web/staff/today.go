package staff

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/worklist"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// todayQuery is what the worklist is asked for by its address.
type todayQuery struct {
	Practitioner uuid.UUID
	Urgency      worklist.Urgency
	Page         int
}

func parseTodayQuery(q url.Values) todayQuery {
	t := todayQuery{Page: 1}
	t.Practitioner, _ = uuid.Parse(q.Get("practitioner")) // what is none shows all
	if n, err := strconv.Atoi(q.Get("urgency")); err == nil && n >= int(worklist.Review) && n <= int(worklist.Now) {
		t.Urgency = worklist.Urgency(n)
	}
	if n, err := strconv.Atoi(q.Get("page")); err == nil && n > 1 {
		t.Page = n
	}
	return t
}

func (q todayQuery) href() string {
	v := url.Values{}
	if q.Practitioner != uuid.Nil {
		v.Set("practitioner", q.Practitioner.String())
	}
	if q.Urgency > 0 {
		v.Set("urgency", strconv.Itoa(int(q.Urgency)))
	}
	if q.Page > 1 {
		v.Set("page", strconv.Itoa(q.Page))
	}
	if len(v) == 0 {
		return "/today"
	}
	return "/today?" + v.Encode()
}

func (q todayQuery) whose(practitioner uuid.UUID) string {
	q.Practitioner, q.Page = practitioner, 1
	return q.href()
}

func (q todayQuery) of(u worklist.Urgency) string {
	q.Urgency, q.Page = u, 1
	return q.href()
}

func (q todayQuery) at(page int) string {
	q.Page = page
	return q.href()
}

// finishForm is what is typed when a flag is done with.
type finishForm struct {
	Reason string `form:"reason"`
	Back   string `form:"back"` // the list that it was done on
}

// todayView is what the worklist shows.
type todayView struct {
	store.Worklist
	Query    todayQuery
	Lead     bool
	Groups   []todayGroup
	Pager    ui.Pager
	Form     finishForm
	At       uuid.UUID // the flag whose form was refused
	Problems domain.Problems
}

// todayGroup are the entries of one urgency.
type todayGroup struct {
	Urgency worklist.Urgency
	Title   string
	Items   []store.WorklistItem
}

var urgencyWords = map[worklist.Urgency]string{
	worklist.Now: "Now", worklist.Day: "Today", worklist.Days: "In the next days", worklist.Review: "At the next review",
}

// urgencies are all of them, the most urgent first.
var urgencies = []worklist.Urgency{worklist.Now, worklist.Day, worklist.Days, worklist.Review}

// Today shows what waits for the practitioner, or for the practice.
func (p Pages) Today(w http.ResponseWriter, r *http.Request) error {
	return p.renderToday(w, r, http.StatusOK, todayView{Query: parseTodayQuery(r.URL.Query())})
}

func (p Pages) renderToday(w http.ResponseWriter, r *http.Request, status int, v todayView) error {
	who := page.From(r.Context())
	v.Lead = who.Role == domain.RoleLead
	if !v.Lead {
		v.Query.Practitioner = uuid.Nil // their own list is all there is
	}
	var err error
	v.Worklist, err = p.Store.Worklist(r.Context(), who.Actor(), store.WorklistFilter{Practitioner: v.Query.Practitioner, Urgency: v.Query.Urgency})
	if err != nil {
		return err
	}
	last := max(1, (len(v.Items)+perPage-1)/perPage)
	v.Query.Page = min(v.Query.Page, last)
	if last > 1 {
		v.Pager.Position = "Page " + strconv.Itoa(v.Query.Page) + " of " + strconv.Itoa(last)
	}
	if v.Query.Page > 1 {
		v.Pager.Previous = v.Query.at(v.Query.Page - 1)
	}
	if v.Query.Page < last {
		v.Pager.Next = v.Query.at(v.Query.Page + 1)
	}
	for _, u := range urgencies {
		g := todayGroup{Urgency: u, Title: urgencyWords[u]}
		for _, item := range v.Items[(v.Query.Page-1)*perPage : min(v.Query.Page*perPage, len(v.Items))] {
			if item.Urgency == u {
				g.Items = append(g.Items, item)
			}
		}
		if g.Items != nil {
			v.Groups = append(v.Groups, g)
		}
	}
	frame := p.Frame(r, "Today")
	frame.ProblemTitle = v.Problems != nil
	return p.Render(w, r, status, frame, todayPage(v))
}

// urgencyChoices are the filters by urgency, with how many entries each shows.
func (v todayView) urgencyChoices() []ui.Choice {
	list := []ui.Choice{{Label: "All", Href: v.Query.of(0), Count: number(v.Total), Current: v.Query.Urgency == 0}}
	for _, u := range urgencies {
		list = append(list, ui.Choice{Label: urgencyWords[u], Href: v.Query.of(u), Count: number(v.Counts[u]), Current: v.Query.Urgency == u})
	}
	return list
}

// practitionerChoices are the filters by practitioner, for the lead.
func (v todayView) practitionerChoices() []ui.Choice {
	all := 0
	for _, w := range v.Workload {
		all += w.Entries
	}
	list := []ui.Choice{{Label: "Everybody", Href: v.Query.whose(uuid.Nil), Count: number(all), Current: v.Query.Practitioner == uuid.Nil}}
	for _, w := range v.Workload {
		label := w.Name
		if w.Now > 0 {
			label += ", " + number(w.Now) + " now"
		}
		list = append(list, ui.Choice{Label: label, Href: v.Query.whose(w.ID), Count: number(w.Entries), Current: v.Query.Practitioner == w.ID})
	}
	return list
}

// sentence says how much waits.
func (v todayView) sentence() string {
	urgent := v.Pressing
	switch {
	case v.Total == 0:
		return ""
	case urgent == 0:
		return "Nothing has to be done today. " + entries(v.Total) + " for later."
	}
	return entries(urgent) + " due or overdue, " + number(v.Total-urgent) + " for later."
}

func entries(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return number(n) + " entries"
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return number(n) + " times"
}

// when says since when an entry stands and until when it waits.
func (v todayView) when(item store.WorklistItem) string {
	text := ""
	if !item.Since.IsZero() {
		text = "Raised " + ago(item.Since, v.Worklist.Today)
		if item.Before > 0 {
			text += ", and " + times(item.Before) + " before"
		}
	}
	if item.Due.IsZero() {
		return text
	}
	if text != "" {
		text += ", "
	}
	switch left := item.Due.DaysSince(v.Worklist.Today); {
	case left < 0:
		text += "overdue since " + day(item.Due)
	case left == 0:
		text += "until the end of today"
	default:
		text += "until " + day(item.Due)
	}
	return text
}

// FinishFlag takes a flag off the list, with a reason.
func (p Pages) FinishFlag(w http.ResponseWriter, r *http.Request) error {
	flag, err := pathID(r, "flag")
	if err != nil {
		return err
	}
	var f finishForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	back, _ := url.ParseQuery(f.Back)
	query := parseTodayQuery(back)
	err = p.Store.FinishFlag(r.Context(), page.From(r.Context()).Actor(), flag, f.Reason)
	if problems, ok := page.Problems(err); ok {
		return p.renderToday(w, r, http.StatusUnprocessableEntity, todayView{Query: query, Form: f, At: flag, Problems: problems})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "Done. What you wrote stands in the record.")
	return page.See(w, r, query.href())
}

// PutBackFlag puts a flag on the list again.
func (p Pages) PutBackFlag(w http.ResponseWriter, r *http.Request) error {
	flag, err := pathID(r, "flag")
	if err != nil {
		return err
	}
	if err := p.Store.PutBackFlag(r.Context(), page.From(r.Context()).Actor(), flag); err != nil {
		return err
	}
	p.Say(r.Context(), "It is back on the list.")
	return page.See(w, r, "/today")
}

// reasonID is the id of the field for what was done about a flag.
func reasonID(flag uuid.UUID) string { return "reason-" + flag.String() }

// refused are the problems of a flag's form, led to its field.
func (v todayView) refused() []ui.Problem {
	list := ui.Problems(v.Problems, "reason")
	for i := range list {
		list[i].Field = reasonID(v.At)
	}
	return list
}

// reason is the field for what was done about a flag.
func (v todayView) reason(flag uuid.UUID) ui.Field {
	f := ui.Field{Name: "reason", ID: reasonID(flag), Label: "What was done", MaxLength: 1000}
	if v.At == flag {
		f.Value, f.Problem = v.Form.Reason, v.Problems["reason"]
	}
	return f
}

// back is what leads to this list again, as a query.
func (v todayView) back() string {
	u, _ := url.Parse(v.Query.href())
	return u.RawQuery
}

// actionLabel puts what to do on a button: one sentence goes without its stop.
func actionLabel(action string) string {
	if strings.Count(action, ".") == 1 {
		return strings.TrimSuffix(action, ".")
	}
	return action
}
