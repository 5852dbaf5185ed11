package e2e

import (
	"maps"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Every link on every page leads to a page that is there and in order, for each
// of the three who sign in. So no page is forgotten that nobody has thought of
// here.
func TestEveryLink(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.AddClient("Lina", "Ledge")
	client.Phone.Post("/log", url.Values{
		"id": {"6b9f6a4e-3f1b-4e5c-9d0e-2b8a9e7c1d55"}, "day": {today(t)},
		"parts[0].activity": {"walk_brisk"}, "parts[0].minutes": {"20"}, "parts[0].talk": {"sentences"}, "symptoms": {"no"},
	})
	looked := map[string]bool{} // kinds of pages: what staff share looks the same to both
	for _, tt := range []struct {
		who, name, passphrase string
		device                Device
		atLeast               int // pages, so that a walk that ends early is seen
	}{
		{"lead", practice.LeadName, LeadPassphrase, Desk, 20},
		{"practitioner", practice.PractitionerName, PractitionerPassphrase, Desk, 18},
		{"client", client.SignInName, ClientPassphrase, Phone, 4},
	} {
		p := NewPerson(t, brae, tt.who, tt.device)
		p.SignIn(tt.name, tt.passphrase)
		if seen := p.followAll(p.Path(), looked); len(seen) < tt.atLeast {
			t.Errorf("the %s found only the pages %s", tt.who, slices.Sorted(maps.Keys(seen)))
		}
	}
}

var idInPath = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}`)

// followAll visits what can be reached from a page by links, each kind of page
// once, and returns the kinds with their titles. It looks at those that are not
// looked at yet.
func (p *Person) followAll(path string, looked map[string]bool) map[string]string {
	p.t.Helper()
	kind := func(path string) string {
		path, _, _ = strings.Cut(path, "?")
		return idInPath.ReplaceAllString(path, "ID")
	}
	seen, titles := map[string]string{}, map[string]string{}
	for open := []string{path}; len(open) > 0; open = open[1:] {
		k := kind(open[0])
		if _, done := seen[k]; done {
			continue
		}
		p.Open(open[0])
		seen[k] = p.Title()
		if p.Status() != 200 {
			p.t.Errorf("%s: a link leads to %s, which has status %d", p.Name, open[0], p.Status())
			continue
		}
		if at := kind(p.Path()); at != k { // sent on, such as to the first step
			open = append(open, p.Path())
			continue
		}
		if other := titles[p.Title()]; other != "" && !strings.HasPrefix(k, other) && !strings.HasPrefix(other, k) {
			p.t.Errorf("%s: the pages %s and %s have the same title, %q", p.Name, other, k, p.Title())
		}
		titles[p.Title()] = k
		if !looked[k] {
			looked[k] = true
			p.glance(k)
		}
		links := Ask[[]string](p, `
			return [...document.querySelectorAll("a[href]")].filter((a) => a.origin === location.origin && !a.getAttribute("href").startsWith("#"))
				.map((a) => a.pathname + a.search)`)
		open = append(open, links...)
	}
	return seen
}

// glance is a short Inspect.
func (p *Person) glance(kind string) {
	p.t.Helper()
	for _, look := range []struct {
		device Device
		dark   bool
	}{{Small, false}, {Phone, true}, {Desk, false}} {
		p.use(look.device)
		p.Dark(look.dark)
		wrong := Ask[[]string](p, `return tooWide(%s).concat(small(24))`, look.device.Width)
		if look.device != Small {
			wrong = append(wrong, p.axe()...)
			p.picture("link " + p.Name + kind + " " + map[bool]string{true: "390-dark", false: "1280-light"}[look.dark])
		}
		for _, w := range wrong {
			p.t.Errorf("%s at %s, %d px: %s", p.Name, kind, look.device.Width, w)
		}
	}
	p.Dark(false)
	p.use(p.device)
}
