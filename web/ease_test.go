package web_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"brae/store/storetest"
	"brae/web/say/ease"
)

// blocks are what a reader takes as one thing said, with or without a full stop.
var blocks = []atom.Atom{
	atom.P, atom.Li, atom.H1, atom.H2, atom.H3, atom.Label, atom.Legend, atom.Dt, atom.Dd, atom.Td, atom.Th, atom.Caption,
	atom.Summary, atom.Button, atom.Figcaption, atom.Div, atom.Section, atom.Form, atom.Ul, atom.Details, atom.Tr,
}

// read returns the text of a page as a person reads it: the main part, without the
// choices of closed lists and without drawings.
func read(t *testing.T, page string) string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	var walk func(n *html.Node, inside bool)
	walk = func(n *html.Node, inside bool) {
		if n.Type == html.ElementNode {
			if slices.Contains([]atom.Atom{atom.Select, atom.Svg, atom.Script, atom.Textarea}, n.DataAtom) || slices.ContainsFunc(n.Attr, func(a html.Attribute) bool { return a.Key == "hidden" }) {
				return
			}
			inside = inside || n.DataAtom == atom.Main
		}
		if n.Type == html.TextNode && inside {
			text.WriteString(n.Data)
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c, inside)
		}
		if n.Type == html.ElementNode && slices.Contains(blocks, n.DataAtom) {
			said := strings.TrimRight(text.String(), " \n")
			text.Reset()
			text.WriteString(said)
			if said != "" && !strings.ContainsRune(".?!:;", rune(said[len(said)-1])) {
				text.WriteString(".")
			}
			text.WriteString(" ")
		}
	}
	walk(doc, false)
	return text.String()
}

func TestRead(t *testing.T) {
	const page = `<body><p>No</p><main><h1>This week</h1><p>Go <b>on</b>. Then rest!</p><p hidden>Not</p><select><option>No</option></select><ul><li>One</li><li>Two</li></ul></main></body>`
	if got := strings.Join(strings.Fields(read(t, page)), " "); got != "This week. Go on. Then rest! One. Two." {
		t.Errorf("read = %q", got)
	}
}

// TestPagesAreEasy grades each page of a client as a whole, the short texts with
// the long ones: at most seven, as is asked of texts for patients.
// Source: National Institutes of Health, Clear Communication (from memory).
func TestPagesAreEasy(t *testing.T) {
	t.Parallel()
	const hardest = 7
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	jon := s.as("jon")
	grade := func(name string, r reply) {
		t.Helper()
		if r.status != http.StatusOK && r.status != http.StatusUnprocessableEntity {
			t.Errorf("%s: %d", name, r.status)
			return
		}
		text := read(t, r.body)
		words, sentences, syllables := ease.Measure(text)
		if words < 8 {
			t.Errorf("%s says only %q", name, text)
			return
		}
		if g := ease.Grade(words, sentences, syllables); g > hardest {
			t.Errorf("%s: grade %.1f, %d words in %d sentences: %s", name, g, words, sentences, text)
		} else {
			t.Logf("%s: grade %.1f, %d words", name, g, words)
		}
	}
	paths := []string{"/week", "/log", "/report", "/history", "/plan", "/plan/handout", "/messages", "/tests", "/reports", "/account", "/offline", "/plan/session"}
	for _, path := range paths {
		grade(path+" before the first visit", jon.get(path))
	}
	s.ScreenClient(client)
	storetest.Must(s.SignPrescription(t.Context(), s.Mira.Actor(), client, storetest.Walking(0)))
	day := storetest.Day.String()
	for i, report := range []string{"", "muscles_sore", "wheeze_more_often", "chest_pressure_gone", "chest_pressure_now"} {
		form := []string{
			"id", uuid.NewString(), "day", day, "parts[0].activity", "walk_brisk", "parts[0].minutes", "30", "parts[0].talk", "sentences",
			"symptoms", map[bool]string{true: "no", false: "yes"}[i == 0],
		}
		if report != "" {
			form = append(form, "reports", report)
		}
		r := jon.post("/log", form...)
		if r.status != http.StatusSeeOther {
			grade("the log with "+report, r)
			continue
		}
		grade("after the log with "+report, jon.get(r.header.Get("Location")))
	}
	grade("a log with nothing filled in", jon.post("/log", "id", uuid.NewString(), "day", day))
	for _, path := range paths {
		grade(path, jon.get(path))
	}
	grade("the sign-in", s.browser().get("/sign-in"))
}
