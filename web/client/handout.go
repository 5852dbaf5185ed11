package client

import (
	"context"
	"io"
	"net/http"
	"slices"
	"unicode/utf8"

	"github.com/a-h/templ"

	"brae/domain/intensity"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// What one page holds: weeks to come, fewer beside a long text. A long note is printed
// small, and with much beside it all of the page is.
const (
	handoutWeeks     = 6
	handoutWeeksLess = 3
	longNote         = 700 // characters
	longPage         = 1500
)

// HandoutScript prints the page with a button.
const HandoutScript = "js/print.js"

// handoutView is one page for a client to take home.
type handoutView struct {
	Name      string
	Practice  string
	Phone     string // of the practice; may be empty
	Emergency string
	Items     []ui.Definition // empty while nothing is prescribed or all waits
	Note      string
	Holds     []ui.Hold
	Limits    []string
	BuildsUp  string    // how, in the practitioner's words; may be empty
	Ahead     *ui.Table // nil without a plan
	Signed    string
	Printed   string
}

func (v handoutView) long() bool { return utf8.RuneCountInString(v.Note) > longNote }

// full reports whether the texts of the page leave little room.
func (v handoutView) full() bool {
	n := utf8.RuneCountInString(v.Note) + utf8.RuneCountInString(v.BuildsUp)
	for _, item := range v.Items {
		n += utf8.RuneCountInString(item.Detail)
	}
	return n > longPage
}

// Handout shows the client their own handout.
func (p Pages) Handout(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	h, err := p.Store.Handout(r.Context(), who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	frame := p.Frame(r, say.T(r.Context(), "My plan on paper"))
	frame.Scripts = append(frame.Scripts, HandoutScript)
	return p.Render(w, r, http.StatusOK, frame, ownHandout(h))
}

// HandoutPaper is the handout of a client in the language that they read,
// whatever that of the page around it.
func HandoutPaper(h store.Handout) templ.Component {
	return templ.ComponentFunc(func(ctx context.Context, w io.Writer) error {
		tag := say.Choose(h.Language)
		ctx = say.With(ctx, tag)
		return handoutPaper(newHandoutView(ctx, h), tag.String()).Render(ctx, w)
	})
}

func newHandoutView(ctx context.Context, h store.Handout) handoutView {
	w := h.Week
	if h.Units != "" {
		ctx = say.WithUnits(ctx, h.Units)
	}
	v := handoutView{
		Name: w.Client.Name(), Practice: h.Practice.Name, Phone: h.Practice.Phone, Emergency: h.Practice.EmergencyNumber,
		Holds: Holds(ctx, w.Holds), Limits: limits(ctx, w.Bounds),
		Printed: say.F(ctx, "Printed on %s", say.Date(ctx, w.Today.Time())),
	}
	if w.Prescription == nil {
		return v
	}
	plan := newPlanView(ctx, w)
	v.Signed, v.Note = plan.Signed, plan.Note
	class := w.Next.Class
	if class < intensity.Light { // all waits: no dose goes home on paper
		return v
	}
	zones := plainZones(ctx, page.Zones(ctx, "", w.Prescription.Zones, w.Ceiling, class, class), w.Prescription.Zones)
	heart := zones.Basis
	if row := zones.Rows[0]; row.HeartRate != "" {
		heart = row.HeartRate + ". " + heart
	}
	for _, note := range zones.Notes {
		if !slices.Contains(v.Limits, note) {
			v.Limits = append(v.Limits, note)
		}
	}
	for _, item := range plan.Items {
		if item.Content != nil { // how hard, told in full below
			item.Content = ui.ClassTag(class)
		}
		switch item.Term {
		case say.T(ctx, "How it builds up"): // with the weeks ahead
			v.BuildsUp = item.Detail
		case say.T(ctx, "How it should feel"):
			v.Items = append(v.Items,
				ui.Definition{Term: item.Term, Detail: zones.Rows[0].Talk},
				ui.Definition{Term: say.T(ctx, "Effort"), Detail: say.F(ctx, "%s, where 6 is rest and 20 is all you have", zones.Rows[0].Effort)},
				ui.Definition{Term: say.T(ctx, "Heart rate"), Detail: heart})
		default:
			v.Items = append(v.Items, item)
		}
	}
	v.Items = append(v.Items, ui.Definition{
		Term: say.T(ctx, "Warm up and cool down"), Detail: say.T(ctx, "Start slowly for five minutes, and end slowly for five minutes."),
	})
	weeks := handoutWeeks
	if v.long() || v.full() {
		weeks = handoutWeeksLess
	}
	v.Ahead = ahead(ctx, h.Plan, weeks)
	return v
}
