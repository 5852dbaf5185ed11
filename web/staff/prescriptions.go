package staff

import (
	"net/http"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"brae/domain"
	"brae/domain/intensity"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// Prescriptions lists the versions of a client's prescription.
func (p Pages) Prescriptions(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	list, err := p.Store.Prescriptions(r.Context(), page.From(r.Context()).Actor(), id, 0)
	if err != nil {
		return err
	}
	return p.renderRecord(w, r, http.StatusOK, p.Frame(r, "Prescriptions of "+list.Client.Name()), id, prescriptionsPage(list))
}

// versionView is one version as it was signed.
type versionView struct {
	Client     store.Client
	Version    store.Prescription
	Zones      ui.Zones
	Before     bool     // there is a version before it
	Difference []ui.Row // to that one
	Newest     bool
}

func (v versionView) base() string { return recordPath(v.Client.ID) }

// roomOnPaper is how many lines of a signed version one page has at the size of the
// text that reads well, beside the head, the table of zones and the holds.
const roomOnPaper = 24

// full reports whether the version fills its page, so that it prints smaller.
func (v versionView) full() bool {
	lines := len(v.Zones.Rows)
	for _, item := range told(prescriptionTerms(v.Version)) {
		lines += 1 + len(item.Detail)/70
	}
	for _, note := range append(v.Zones.Notes, v.Zones.Basis) {
		lines += 1 + len(note)/90
	}
	for _, row := range v.Difference {
		most := 0
		for _, cell := range row.Cells {
			most = max(most, len(cell.Text))
		}
		lines += 1 + most/35
	}
	return lines > roomOnPaper
}

// Prescription shows one version as it was signed.
func (p Pages) Prescription(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(chi.URLParam(r, "version"))
	if err != nil || n < 1 {
		return domain.ErrNotFound
	}
	list, err := p.Store.Prescriptions(r.Context(), page.From(r.Context()).Actor(), id, n)
	if err != nil {
		return err
	}
	version, before := list.Version(n)
	v := versionView{
		Client: list.Client, Version: *version, Newest: n == list.Versions[0].Version,
		Zones: page.Zones(r.Context(), "Zones as they were signed", version.Zones, intensity.NearMaximal, intensity.VeryLight, intensity.NearMaximal),
	}
	if before != nil {
		v.Before, v.Difference = true, prescriptionDifference(*before, *version)
	}
	frame := p.Frame(r, "Prescription "+number(n)+" of "+list.Client.Name())
	return p.renderRecord(w, r, http.StatusOK, frame, id, versionPage(v))
}

// versionTable lists versions, the newest first, with what each changed.
func versionTable(list store.Prescriptions) ui.Table {
	t := ui.Table{Caption: "Versions", HideCaption: true, Columns: []ui.Column{
		{Label: "Version"}, {Label: "Signed"}, {Label: "By"}, {Label: "Intensity"}, {Label: "Frequency and time"}, {Label: "Different from the one before"},
	}}
	for _, p := range list.Versions {
		_, before := list.Version(p.Version)
		changed := "The first"
		if before != nil {
			var parts []string
			for _, row := range prescriptionDifference(*before, p) {
				parts = append(parts, row.Cells[0].Text)
			}
			if changed = strings.Join(parts, ", "); changed == "" {
				changed = "Nothing"
			}
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: "Version " + number(p.Version), Href: recordPath(list.Client.ID) + "/prescriptions/" + number(p.Version)},
			{Text: p.SignedAt.Format("2 January 2006")}, {Text: p.SignedByName}, {Content: ui.ClassTag(p.Dose().Class)},
			{Text: frequencyWords(p)}, {Text: changed},
		}})
	}
	return t
}
