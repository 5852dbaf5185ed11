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

// sections are the pages of a client's record, in the order of the work.
var sections = []struct{ path, label string }{
	{"", "Record"},
	{"/timeline", "Timeline"},
	{"/notes", "Notes"},
	{"/sessions", "Sessions"},
	{"/messages", "Messages"},
	{"/consent", "Contact"},
	{"/intake", "Intake"},
	{"/decision", "Decision"},
	{"/prescription/new", "Prescription"},
	{"/plan", "Plan"},
	{"/progress", "Progress"},
	{"/doctor", "Doctor review"},
	{"/holds", "Holds"},
	{"/vitals", "Before the session"},
	{"/tests", "Tests"},
	{"/workload", "Workloads"},
	{"/report", "Report, discharge"},
}

// headView heads every page about a client: who it is, what is on hold, and the
// way to the other pages of the record.
type headView struct {
	store.Heading
	Sections []ui.Choice
}

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
	for _, s := range sections {
		v.Sections = append(v.Sections, ui.Choice{
			Label: s.label, Href: v.base() + s.path,
			Current: here == s.path || s.path != "" && strings.HasPrefix(here, s.path+"/") || s.path == "/doctor" && partOfReview(here) ||
				s.path == "/prescription/new" && (here == "/prescription" || strings.HasPrefix(here, "/prescriptions")) ||
				s.path == "/report" && (here == "/discharge" || strings.HasPrefix(here, "/reports/")),
		})
	}
	return p.Render(w, r, status, frame, recordPage(v, body))
}

// partOfReview reports whether a page stands below the doctor review.
func partOfReview(path string) bool {
	return strings.HasPrefix(path, "/letters") || strings.HasPrefix(path, "/decisions")
}
