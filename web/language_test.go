package web_test

import (
	"fmt"
	"html"
	"maps"
	"net/http"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/text/language"

	"brae/domain/activity"
	"brae/store"
	"brae/store/storetest"
	"brae/web"
	"brae/web/say"
)

var (
	citations = regexp.MustCompile(`(?s)<div class="source">.*?</div>`) // as published, in their own language
	foreign   = regexp.MustCompile(`(?s)<a [^>]*hreflang[^>]*>.*?</a>|<label for="language[^>]*>.*?</label>`)
	nodes     = regexp.MustCompile(`>([^<>]+)<|(?:aria-label|title|alt|placeholder|data-label|label)="([^"]*)"`)
	verbs     = regexp.MustCompile(`%(\[\d+\])?(\.\d)?[a-z]`)
	// Words that English sentences are made of and no Spanish one has.
	englishWords = regexp.MustCompile(`(?i)(^|[^\pL])(the|you|your|and|with|are|of|for|what|how|this|that|not|when|until|is|it|at|any|was)([^\pL]|$)`)
)

// texts are what a page shows and reads out, piece by piece.
func texts(body string) []string {
	_, body, _ = strings.Cut(body, "<title>")
	body = foreign.ReplaceAllString(citations.ReplaceAllString("<title>"+body, ""), "")
	var list []string
	for _, m := range nodes.FindAllStringSubmatch(body, -1) {
		if text := strings.TrimSpace(html.UnescapeString(m[1] + m[2])); strings.ContainsFunc(text, unicode.IsLetter) {
			list = append(list, text)
		}
	}
	return list
}

// inEnglish returns what of a page meant to be in Spanish is English: a text that
// has a Spanish one, a piece of such a text, or a sentence that nobody translated.
func inEnglish(body string) []string {
	keys := say.Texts(language.Spanish)
	var pieces []string
	for english, spanish := range keys {
		for _, piece := range verbs.Split(english, -1) {
			piece = strings.Trim(piece, " .,:;()")
			if len(strings.Fields(piece)) >= 3 && !strings.Contains(spanish, piece) {
				pieces = append(pieces, piece)
			}
		}
	}
	var found []string
	for _, text := range texts(body) {
		spanish, known := keys[text]
		switch {
		case known && spanish != text && !slices.Contains(slices.Collect(maps.Values(keys)), text),
			englishWords.MatchString(text),
			slices.ContainsFunc(pieces, func(p string) bool { return strings.Contains(text, p) }):
			found = append(found, text)
		}
	}
	return found
}

// TestInEnglish makes sure that the search finds what it must.
func TestInEnglish(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		body string
		n    int
	}{
		{`<title>Esta semana</title><p>Faltan 30.</p>`, 0},
		{`<title>x</title><p>This week</p>`, 1},
		{`<title>x</title><table aria-label="Show as a table"></table>`, 1},
		{`<title>x</title><p>Ana has done much of it.</p>`, 1}, // nobody's key
		{`<title>x</title><p>Welcome, Ana</p><p>On hold</p>`, 1},
		{`<title>x</title><div class="source"><span>The talk test and you</span></div>`, 0},
	} {
		if got := inEnglish(tt.body); len(got) != tt.n {
			t.Errorf("%s: %q; want %d", tt.body, got, tt.n)
		}
	}
}

// fullRecord is a client who reads Spanish, with something in every place of the
// pages. What people have typed is Spanish, too.
func fullRecord(s *site) *browser {
	s.t.Helper()
	id := s.Client()
	ana := s.JoinClient(id, "ana")
	s.ScreenClient(id, "q.diabetes_type_2", "yes")
	in := storetest.Walking(0)
	in.Activities, in.Note = "Caminar rápido en llano", "Lleve su medidor."
	storetest.Must(s.SignPrescription(s.t.Context(), s.Mira.Actor(), id, in))
	for range 2 {
		storetest.Must(s.LogSession(s.t.Context(), ana.Actor(), id, storetest.Walk(20)))
	}
	if err := s.ChoosePreferences(s.t.Context(), ana.Actor(), store.Preferences{Language: "es", Units: activity.Miles}); err != nil {
		s.t.Fatal(err)
	}
	return s.as("ana")
}

// TestClientPagesInSpanish asks for every page that a client can ask for, so that
// new ones are looked at as well.
func TestClientPagesInSpanish(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	b := fullRecord(s)
	seen := 0
	check := func(what string, r reply) {
		t.Helper()
		if !strings.HasPrefix(r.header.Get("Content-Type"), "text/html") {
			return
		}
		seen++
		if !strings.Contains(r.body, `<html lang="es">`) {
			t.Errorf("%s is not marked as Spanish", what)
		}
		for _, text := range inEnglish(r.body) {
			t.Errorf("%s: %q", what, text)
		}
	}
	for _, route := range web.Routes(s.server.Config.Handler) {
		path, ok := strings.CutPrefix(route, "GET ")
		if ok && !strings.ContainsAny(path, "{*") && path != "/" {
			r := b.get(path)
			check(fmt.Sprintf("%s (%d)", path, r.status), r)
		}
	}
	check("a refused log", b.post("/log", "id", "x", "day", "2020-01-01", "parts[0].minutes", "9999", "parts[0].hr", "20"))
	check("a doubted log", b.post("/log", "id", "6b9f6a4e-3f1b-4e5c-9d0e-2b8a9e7c1d57", "day", storetest.Day.String(),
		"parts[0].activity", "walk_brisk", "parts[0].minutes", "300", "parts[0].talk", "sentences", "reports", "none"))
	b.postForm("/log", walkForm())
	week := b.get("/week")
	check("a saved log", week)
	if !strings.Contains(week.body, "Guardado: 30 min moderados") {
		t.Error("what was saved is not said in Spanish")
	}
	check("a refused passphrase", b.post("/account/passphrase", "old", "x", "passphrase", "short"))
	check("a refused language", b.post("/account/preferences", "language", "xx", "units", "leagues"))
	check("a page that is not there", b.get("/nowhere"))

	stranger := s.browser()
	stranger.get("/sign-in?lang=es")
	check("sign-in", stranger.get("/sign-in"))
	check("a refused sign-in", stranger.post("/sign-in", "name", "ana", "passphrase", "x"))
	check("a link that is used up", stranger.get("/join/x"))
	token := storetest.Must(s.InviteClient(t.Context(), s.Mira.Actor(), s.Client(), "eva"))
	check("joining", stranger.get("/join/"+token))
	check("a refused joining", stranger.post("/join/"+token, "passphrase", "short"))
	if seen < 14 {
		t.Errorf("only %d pages were looked at", seen)
	}
	if body := b.get("/log").body; !strings.Contains(body, "Caminata rápida, unos 3,5 millas/h") {
		t.Error("a speed is not in miles, with a comma")
	}
}

// TestChoiceOfLanguage follows it from the browser's wish to the account.
func TestChoiceOfLanguage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	lang := regexp.MustCompile(`<html lang="(..)">`)
	asked := func(b *browser, path, accept string) string {
		t.Helper()
		request, err := http.NewRequest(http.MethodGet, s.server.URL+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		request.Header.Set("Accept-Language", accept)
		return lang.FindStringSubmatch(b.do(request).body)[1]
	}
	for accept, want := range map[string]string{"es-MX,es;q=0.9,en;q=0.8": "es", "en-US,en;q=0.9": "en", "de-DE,de;q=0.9": "en", "": "en", ";;q=": "en", "de,es;q=0.5": "es"} {
		if got := asked(s.browser(), "/sign-in", accept); got != want {
			t.Errorf("Accept-Language %q gives %s; want %s", accept, got, want)
		}
	}
	b := s.browser()
	if got := asked(b, "/sign-in?lang=es", "en") + asked(b, "/sign-in", "en") + asked(b, "/sign-in?lang=xx", "en"); got != "esesen" {
		t.Errorf("chosen, kept, and a language that we do not have: %s; want es, es, en", got)
	}

	token := storetest.Must(s.InviteClient(t.Context(), s.Mira.Actor(), s.Client(), "eva"))
	b = s.browser()
	b.get("/join/" + token + "?lang=es")
	b.post("/join/"+token, "passphrase", storetest.Passphrase)
	if body := b.get("/week").body; !strings.Contains(body, `<html lang="es">`) {
		t.Error("who joins in Spanish does not go on in Spanish")
	}
	if got := asked(s.as("eva"), "/week?lang=en", "en"); got != "es" {
		t.Errorf("an account in Spanish reads %s on another browser; want es", got)
	}
	if r := b.post("/account/preferences", "language", "en", "units", "km"); r.status != http.StatusSeeOther {
		t.Errorf("a choice of language: %d", r.status)
	}
	if body := b.get("/account").body; !strings.Contains(body, `<html lang="en">`) || !strings.Contains(body, "Saved.") {
		t.Error("the choice did not take, or is not said")
	}

	mira := s.as("mira")
	mira.post("/account/preferences", "language", "es", "units", "miles")
	if got := asked(mira, "/clients", "es"); got != "en" {
		t.Errorf("the practice reads %s; want en", got)
	}
}
