package staff

import (
	"cmp"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"brae/domain"
	"brae/domain/clearance"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// reviewQuery is what the lead asked the review to show.
type reviewQuery struct {
	Show string // all, behind, silent, held
	Sort string // short, name, last
	Page int
}

// perPage keeps a page light on the browser.
const perPage = 50

func parseReviewQuery(v url.Values) reviewQuery {
	q := reviewQuery{Show: v.Get("show"), Sort: v.Get("sort")}
	if !slices.Contains([]string{"behind", "silent", "held"}, q.Show) {
		q.Show = "all"
	}
	if !slices.Contains([]string{"name", "last"}, q.Sort) {
		q.Sort = "short"
	}
	q.Page, _ = strconv.Atoi(v.Get("page")) // anything else is the first page
	q.Page = max(q.Page, 1)
	return q
}

// href is the address of the review with one thing changed.
func (q reviewQuery) href(key, value string) string {
	v := url.Values{"show": {q.Show}, "sort": {q.Sort}}
	v.Set(key, value)
	return "/review?" + v.Encode()
}

// reviewView is what the review page shows.
type reviewView struct {
	Week, Until string // first and last day of the week
	Query       reviewQuery
	Total       int // clients with a prescription
	SilentDays  int // days without a log that make a client silent
	Counts      map[string]int
	Lines       []reviewLine
	Pager       ui.Pager
	Lead        bool
	Unsigned    bool // the lead has not signed the rules and settings in use
}

// reviewLine is a client in the review, ready to print.
type reviewLine struct {
	Name, Href, Practitioner string
	Held                     string // in words, "" if there is no hold
	Done, Target, Short      string
	Last                     string
	Status                   string
	Spark                    ui.Spark
}

// Review shows who is short of the week's minutes and by how much, and who has
// not logged.
func (p Pages) Review(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	q := parseReviewQuery(r.URL.Query())
	last := 1
	review, err := p.Store.WeekReview(r.Context(), who.Actor(), func(all []store.ReviewLine) []store.ReviewLine {
		all = q.choose(all)
		last = max(1, (len(all)+perPage-1)/perPage)
		q.Page = min(q.Page, last)
		return all[(q.Page-1)*perPage : min(q.Page*perPage, len(all))]
	})
	if err != nil {
		return err
	}
	v := newReviewView(review, q, last)
	v.Lead = who.Role == domain.RoleLead
	if v.Lead {
		settings, err := p.Store.Settings(r.Context(), who.Actor())
		if err != nil {
			return err
		}
		v.Unsigned = settings.Signed == nil
	}
	frame := p.Frame(r, "Week review")
	frame.Wide = true
	return p.Render(w, r, http.StatusOK, frame, reviewPage(v))
}

// kept says which clients a filter shows.
var kept = map[string]func(store.ReviewLine) bool{
	"all":    func(store.ReviewLine) bool { return true },
	"behind": func(l store.ReviewLine) bool { return l.ShortBy > 0 },
	"silent": func(l store.ReviewLine) bool { return l.Silent },
	"held":   func(l store.ReviewLine) bool { return l.Hold != clearance.NoHold },
}

// choose filters and sorts. The order of the lines is by name, which a stable sort
// keeps among equals.
func (q reviewQuery) choose(lines []store.ReviewLine) []store.ReviewLine {
	lines = slices.DeleteFunc(lines, func(l store.ReviewLine) bool { return !kept[q.Show](l) })
	switch q.Sort {
	case "short":
		slices.SortStableFunc(lines, func(a, b store.ReviewLine) int { return cmp.Compare(b.ShortBy, a.ShortBy) })
	case "last":
		slices.SortStableFunc(lines, func(a, b store.ReviewLine) int { return a.LastDay.Compare(b.LastDay) })
	}
	return lines
}

func newReviewView(review store.Review, q reviewQuery, last int) reviewView {
	v := reviewView{
		Week: day(review.Week), Until: day(review.Week.AddDays(6)), Query: q,
		Total: len(review.Lines), SilentDays: review.SilentDays, Counts: map[string]int{}, Pager: pager(q, last),
	}
	for _, l := range review.Lines {
		for show, keep := range kept {
			if keep(l) {
				v.Counts[show]++
			}
		}
	}
	for _, l := range review.Chosen {
		v.Lines = append(v.Lines, newReviewLine(l, review.Today))
	}
	return v
}

// pager leads to the pages before and after.
func pager(q reviewQuery, last int) ui.Pager {
	p := ui.Pager{Position: fmt.Sprintf("Page %d of %d", q.Page, last)}
	if q.Page > 1 {
		p.Previous = q.href("page", strconv.Itoa(q.Page-1))
	}
	if q.Page < last {
		p.Next = q.href("page", strconv.Itoa(q.Page+1))
	}
	return p
}

func newReviewLine(l store.ReviewLine, today domain.Date) reviewLine {
	line := reviewLine{
		Name: l.Name, Href: "/clients/" + l.ID.String(), Practitioner: l.Practitioner,
		Held: strings.TrimPrefix(holdWords(l.Hold)+rescreenWords(l.Due), ", "), Done: strconv.Itoa(l.Done), Target: strconv.Itoa(l.Target.Minutes),
		Short: strconv.Itoa(l.ShortBy), Last: ago(l.LastDay, today), Status: statusWord(l.Status),
	}
	for _, w := range l.Weeks {
		line.Spark.Weeks = append(line.Spark.Weeks, ui.SparkWeek{Minutes: w.Done, Target: w.Target, NoLog: !w.Logged})
	}
	if l.Target.Light {
		line.Target += " light"
	}
	return line
}

// holdWords says in a few words what a hold stops.
func holdWords(s clearance.Scope) string {
	switch s {
	case clearance.Vigorous:
		return "Vigorous on hold"
	case clearance.AboveLight:
		return "Above light on hold"
	case clearance.All:
		return "All exercise on hold"
	}
	return ""
}

// day writes a calendar day for people: Mon 23 Nov 2026.
func day(d domain.Date) string {
	if d.IsZero() {
		return ""
	}
	return d.Time().Format("Mon 2 Jan 2006")
}

// ago says how long ago a day was, as seen today.
func ago(d, today domain.Date) string {
	if d.IsZero() {
		return "never"
	}
	switch n := today.DaysSince(d); n {
	case 0:
		return "today"
	case 1:
		return "yesterday"
	default:
		return fmt.Sprintf("%d days ago", n)
	}
}

// choices are the filters of the review, with how many clients each shows.
func (v reviewView) choices() []ui.Choice {
	list := []ui.Choice{
		{Label: "All", Href: "all"}, {Label: "Short of the target", Href: "behind"},
		{Label: fmt.Sprintf("No log for %d days", v.SilentDays), Href: "silent"}, {Label: "On hold", Href: "held"},
	}
	for i, c := range list {
		list[i].Href, list[i].Count, list[i].Current = v.Query.href("show", c.Href), strconv.Itoa(v.Counts[c.Href]), v.Query.Show == c.Href
	}
	return list
}

// sentence says how the week stands.
func (v reviewView) sentence() string {
	if v.Total == 0 {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, "Short of the target so far: %d of %d", v.Counts["behind"], v.Total)
	switch n := v.Counts["silent"]; {
	case n == 1:
		fmt.Fprintf(&b, "; 1 has not logged for %d days", v.SilentDays)
	case n > 1:
		fmt.Fprintf(&b, "; %d have not logged for %d days", n, v.SilentDays)
	}
	return b.String() + "."
}

func reviewTable(v reviewView) ui.Table {
	t := ui.Table{Caption: "Clients with their minutes this week", HideCaption: true}
	t.Columns = append(t.Columns, v.Query.column("name", "Client", false))
	if v.Lead {
		t.Columns = append(t.Columns, ui.Column{Label: "Practitioner"})
	}
	t.Columns = append(t.Columns,
		ui.Column{Label: "Done", Number: true}, ui.Column{Label: "Target", Number: true},
		v.Query.column("short", "Short by", true), ui.Column{Label: "Last eight weeks"}, ui.Column{Label: "Status"},
		v.Query.column("last", "Last log", false))
	for _, l := range v.Lines {
		cells := []ui.Cell{{Content: reviewName(l)}}
		if v.Lead {
			cells = append(cells, ui.Cell{Text: l.Practitioner})
		}
		t.Rows = append(t.Rows, ui.Row{Cells: append(cells,
			ui.Cell{Text: l.Done}, ui.Cell{Text: l.Target}, ui.Cell{Text: l.Short},
			ui.Cell{Content: ui.SlopeSpark(l.Spark)}, ui.Cell{Text: l.Status}, ui.Cell{Text: l.Last})})
	}
	return t
}

// column is a column that the review can be sorted by.
func (q reviewQuery) column(key, label string, number bool) ui.Column {
	c := ui.Column{Label: label, Number: number, Href: q.href("sort", key)}
	switch {
	case q.Sort != key:
	case key == "short":
		c.Sorted = "descending"
	default:
		c.Sorted = "ascending"
	}
	return c
}
