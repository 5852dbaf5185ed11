package staff

import (
	"net/http"

	"brae/web/client"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// Handout shows what a client takes home, in the language that they read.
func (p Pages) Handout(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	h, err := p.Store.Handout(r.Context(), page.From(r.Context()).Actor(), id)
	if err != nil {
		return err
	}
	if in := r.URL.Query().Get("in"); in != "" { // for somebody who reads another language than they chose, or has no sign-in
		h.Language = say.Choose(in).String()
	}
	frame := p.Frame(r, "Handout for "+h.Week.Client.Name())
	frame.Scripts = append(frame.Scripts, client.HandoutScript)
	return p.Render(w, r, http.StatusOK, frame, handoutPage(recordPath(id), h))
}

// otherLanguages are links to the handout in the languages that it is not in.
func otherLanguages(base, language string) []ui.Button {
	var links []ui.Button
	for _, l := range []struct{ tag, words string }{{"en", "In English"}, {"es", "In Spanish"}} {
		if l.tag != language {
			links = append(links, ui.Button{Label: l.words, Href: base + "/handout?in=" + l.tag})
		}
	}
	return links
}
