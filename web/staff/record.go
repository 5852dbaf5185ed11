package staff

import (
	"net/http"
	"strings"

	"github.com/a-h/templ"
	"github.com/google/uuid"

	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// section is one page of a client's record.
type section struct{ path, label string }

// sections are the pages of a client's record: what belongs together stands together,
// what is opened most stands first.
var sections = []struct {
	label string
	pages []section
}{
	{"Week by week", []section{{"", "Record"}, {"/sessions", "Sessions"}, {"/progress", "Progress"}, {"/messages", "Messages"}, {"/notes", "Notes"}}},
	{"Measured", []section{{"/vitals", "Before the session"}, {"/tests", "Tests"}, {"/workload", "Workloads"}}},
	{"Screened", []section{{"/intake", "Intake"}, {"/decision", "Decision"}, {"/holds", "Holds"}, {"/doctor", "Doctor review"}}},
	{"Prescribed", []section{{"/prescription/new", "Prescription"}, {"/plan", "Plan"}}},
	{"Kept", []section{{"/timeline", "Timeline"}, {"/consent", "Contact"}, {"/report", "Report, discharge"}}},
}

// headView heads every page about a client: who it is, what is on hold, and the
// way to the other pages of the record.
type headView struct {
	store.Heading
	Sections []sectionGroup
}

// sectionGroup is a word with the pages that stand under it.
type sectionGroup struct {
	Label string
	Pages []ui.Choice
}

// atRecord reports whether the page is the record itself, which says whose it is.
func (v headView) atRecord() bool { return v.Sections[0].Pages[0].Current }

func (v headView) base() string { return recordPath(v.Client.ID) }

func recordPath(client uuid.UUID) string { return "/clients/" + client.String() }

// renderRecord sends a page of a client's record under its head.
func (p Pages) renderRecord(w http.ResponseWriter, r *http.Request, status int, frame ui.Page, client uuid.UUID, body templ.Component) error {
	heading, err := p.Store.Heading(r.Context(), page.From(r.Context()).Actor(), client)
	if err != nil {
		return err
	}
	v := headView{Heading: heading}
	here := strings.TrimSuffix(strings.TrimPrefix(r.URL.Path, v.base()), "/")
	for _, group := range sections {
		g := sectionGroup{Label: group.label}
		for _, s := range group.pages {
			g.Pages = append(g.Pages, ui.Choice{
				Label: s.label, Href: v.base() + s.path,
				Current: here == s.path || s.path != "" && strings.HasPrefix(here, s.path+"/") || s.path == "/doctor" && partOfReview(here) ||
					s.path == "/prescription/new" && (here == "/prescription" || strings.HasPrefix(here, "/prescriptions")) ||
					s.path == "/report" && (here == "/discharge" || strings.HasPrefix(here, "/reports/")),
			})
		}
		v.Sections = append(v.Sections, g)
	}
	return p.Render(w, r, status, frame, recordPage(v, body))
}

// partOfReview reports whether a page stands below the doctor review.
func partOfReview(path string) bool {
	return strings.HasPrefix(path, "/letters") || strings.HasPrefix(path, "/decisions")
}
