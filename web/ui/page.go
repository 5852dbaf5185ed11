// Package ui holds the templ components that all pages share: the page itself,
// form fields, the week's slope, and the blocks in which a decision, a hold or
// an emergency is told. View models arrive ready to print; nothing here loads,
// decides or adds up what a rule should.
//
// The pages are sent with a policy that allows no inline script and no inline
// style, so components use classes, and SVG attributes for geometry only.
package ui

import (
	"context"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"brae/static"
	"brae/web/say"
)

// Page is what surrounds the content of every page.
type Page struct {
	Title        string    // unique to the page, without the practice's name
	Lang         string    // of the texts, BCP 47; empty means "en"
	Practice     string    // name of the practice
	Signed       *Who      // nil while nobody is signed in
	Nav          []NavItem // three at most in the client area
	Flash        string    // what the last request did, said once
	ClientArea   bool      // navigation at the thumb, and the lines a client must always see
	Emergency    string    // telephone number, shown in the client area
	ProblemTitle bool      // the page shows a refused form
	Manifest     string    // address of the web app manifest, if any
	Account      string    // id of the client's account, for what the phone keeps; empty elsewhere
	Scripts      []string  // further modules, as embedded: "js/log.js"
	Wide         bool      // a page of tables: use the width of the window
	IdleMinutes  int       // without use until the sign-in ends: a script warns before; 0 is no warning
}

// Who is the account that is signed in.
type Who struct {
	Name    string
	Role    string // in words: "Practitioner"
	Href    string // own account page; no link if empty
	SignOut string // address that takes the POST; no button if empty
}

// NavItem is one entry of the main navigation.
type NavItem struct {
	Label   string
	Href    string
	Current bool
}

func (p Page) lang() string {
	if p.Lang == "" {
		return "en"
	}
	return p.Lang
}

// fullTitle puts what differs between pages first, and the news that a form was
// refused before everything else: it is what a screen reader says first.
func (p Page) fullTitle(ctx context.Context) string {
	title := p.Title
	if p.Practice != "" {
		title += " · " + p.Practice
	}
	if p.ProblemTitle {
		title = say.T(ctx, "Error:") + " " + title
	}
	return title
}

func (p Page) bodyClass() string {
	class := "staff"
	if p.ClientArea {
		class = "client"
	}
	if p.Wide {
		class += " wide"
	}
	return class
}

func (p Page) practice() string {
	if p.Practice == "" {
		return "Brae"
	}
	return p.Practice
}

func (p Page) home() string {
	if len(p.Nav) > 0 {
		return p.Nav[0].Href
	}
	return "/"
}

func (p Page) scripts() []string {
	var paths []string
	names := []string{"js/form.js"}
	if p.ClientArea {
		names = []string{static.ClientScript}
	}
	if p.IdleMinutes > 0 {
		names = append(names, "js/idle.js")
	}
	for _, name := range append(names, p.Scripts...) {
		paths = append(paths, static.Path(name))
	}
	return paths
}

// themeLight and themeDark are the colour of the window around a client's page,
// that of the sky at its top.
const (
	themeLight = "#e3dfe7"
	themeDark  = "#2b2631"
)

// Dial is the address that dials a number, for scripts.
func Dial(number string) templ.SafeURL { return templ.SafeURL(tel(number)) }

// tel makes the address that dials a number, whatever it is written with.
func tel(number string) string {
	digits := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r == '+' {
			return r
		}
		return -1
	}, number)
	return "tel:" + digits
}

// Tel is the address of a link that dials a number, whatever it is written with.
func Tel(number string) templ.SafeURL { return templ.SafeURL(tel(number)) }

// Problem is one refused field, for the list at the top of the page.
type Problem struct {
	Field    string // id of the control it leads to
	Sentence string
}

// Problems lists the sentences of a refused form in the order in which the
// fields stand on the page. Fields that are not named follow, by name, so that
// no problem is ever hidden.
func Problems(sentences map[string]string, order ...string) []Problem {
	var list []Problem
	for _, field := range order {
		if sentence, ok := sentences[field]; ok {
			list = append(list, Problem{Field: field, Sentence: sentence})
		}
	}
	var rest []string
	for field := range sentences {
		if !slices.Contains(order, field) {
			rest = append(rest, field)
		}
	}
	slices.Sort(rest)
	for _, field := range rest {
		list = append(list, Problem{Field: field, Sentence: sentences[field]})
	}
	return list
}
