package e2e

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Inspect looks at a page as it is now in every way that a page must be right: in
// both sizes, light and dark, by keyboard and by the rules of accessibility. It
// leaves a picture of each look in e2e/shots. The name tells the page, the state
// what is special about it now.
func (p *Person) Inspect(name, state string) {
	p.t.Helper()
	for _, wrong := range p.inspect(name, state) {
		p.t.Errorf("page %s, %s: %s", name, state, wrong)
	}
}

// inspect returns what Inspect reports.
func (p *Person) inspect(name, state string) []string {
	p.t.Helper()
	var all []string
	found := func(wrong []string, where string) {
		for _, w := range wrong {
			all = append(all, where+": "+w)
		}
	}
	found(oneTitleEach(p.Title(), name), "any size")
	target := 24 // WCAG 2.5.8
	if Ask[bool](p, `return document.body.classList.contains("client") || !document.querySelector("nav")`) {
		target = 44 // WCAG 2.5.5: a client's thumb
	}
	p.use(Small)
	found(Ask[[]string](p, `return tooWide(%s)`, Small.Width), "320 px")
	for _, d := range []Device{Phone, Desk} {
		p.use(d)
		where := fmt.Sprintf("%d px", d.Width)
		found(Ask[[]string](p, `return tooWide(%s)`, d.Width), where)
		if d.Touch {
			found(Ask[[]string](p, `return small(%s)`, target), where)
		} else {
			found(Ask[[]string](p, `return small(24)`), where)
		}
		found(Ask[[]string](p, `return clipped()`), where+", spaced out")
		found(p.walk(), where+", by keyboard")
		p.do(`document.activeElement.blur(); scrollTo(0, 0)`)
		for _, look := range []string{"light", "dark"} {
			p.Dark(look == "dark")
			p.picture(fmt.Sprintf("%s-%s-%d-%s", name, state, d.Width, look))
			if d.Touch == (look == "light") { // each look once, and each width
				found(p.axe(), where+", "+look)
			}
		}
		p.Dark(false)
	}
	p.media(&emulation.MediaFeature{Name: "prefers-reduced-motion", Value: "reduce"})
	found(Ask[[]string](p, `return moving()`), "less motion")
	p.Dark(false)
	p.use(p.device)
	return all
}

// titles are the pages by their titles, of all that were inspected.
var titles sync.Map

// oneTitleEach says so if another page has the same title.
func oneTitleEach(title, name string) []string {
	if other, there := titles.LoadOrStore(title, name); there && other != name {
		return []string{fmt.Sprintf("the title %q is that of page %s, too", title, other)}
	}
	return nil
}

// walk goes through the page with the Tab key: every control must be reached,
// show that it is, and not be hidden behind something. Then the other way round,
// for a few steps: no control may hold the keyboard.
func (p *Person) walk() []string {
	p.t.Helper()
	var wrong []string
	count := Ask[int](p, `return start()`)
	reached := map[int]bool{}
	type place struct {
		Stop  int
		Name  string
		Wrong []string
	}
	inDates := Ask[int](p, `return 3 * stops().filter((e) => ["date", "time"].includes(e.type)).length`) // day, month, year and calendar each; hour, minute, half and clock
	for range count + inDates + 2 {
		p.Key(kb.Tab)
		at := Ask[place](p, `return here()`)
		if at.Stop < 0 {
			break // past the end of the page
		}
		if !reached[at.Stop] {
			wrong = append(wrong, at.Wrong...)
		}
		reached[at.Stop] = true
	}
	if len(reached) < count {
		all := Ask[[]string](p, `return stops().map(name)`)
		for i, name := range all {
			if !reached[i] {
				wrong = append(wrong, "Tab does not reach "+name)
			}
		}
	}
	return wrong
}

// axeRules are the rules of WCAG 2.2, levels A and AA, and those before it.
const axeRules = `{ runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] }, resultTypes: ["violations", "incomplete"] }`

// axeScript is the text of axe-core, which is not part of Brae.
var axeScript = sync.OnceValues(func() (string, error) {
	dir, err := root()
	if err != nil {
		return "", err
	}
	text, err := os.ReadFile(filepath.Join(dir, ".cache", "node_modules", "axe-core", "axe.min.js"))
	return string(text), err
})

// NeedAxe fails under CI, and says so loudly elsewhere, if the rules of
// accessibility cannot be checked because axe-core is not installed.
func NeedAxe(t testing.TB) {
	t.Helper()
	_, err := axeScript()
	switch {
	case err == nil:
	case errors.Is(err, fs.ErrNotExist) && os.Getenv("CI") == "":
		fmt.Fprintln(os.Stderr, "!!! SKIPPED: axe-core is not installed, so nothing was checked against WCAG. Run .ci/need axe")
	default:
		t.Errorf("axe-core is not there, so nothing is checked against WCAG: %v", err)
	}
}

// axe runs the rules of accessibility on the page and lists what breaks them.
func (p *Person) axe() []string {
	p.t.Helper()
	script, err := axeScript()
	if err != nil {
		return nil // NeedAxe has said so
	}
	loaded, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool](`typeof axe === "object"`))
	p.must(err)
	if !loaded {
		p.must(chromedp.Do(p.ctx, chromedp.Evaluate[chromedp.Void](script)))
	}
	// The parts that axe could not judge come back, too, so that somebody looks.
	found, err := chromedp.Run(p.ctx, chromedp.Evaluate[axeResult](
		`axe.run(document, `+axeRules+`).then((r) => {
			const part = (list) => list.map((v) => ({ id: v.id, help: v.help, nodes: v.nodes.map((n) => n.target.join(" ") + ": " + (n.any.concat(n.all, n.none)[0]?.message ?? "")) }));
			return { violations: part(r.violations), incomplete: part(r.incomplete), passes: r.passes.length };
		})`, chromedp.EvalAwaitPromise))
	p.must(err)
	if found.Passes == 0 {
		return []string{"axe found nothing to check"}
	}
	for _, i := range found.Incomplete {
		unsure.Store(i.ID+": "+strings.Join(i.Nodes, "; "), p.Path())
	}
	var wrong []string
	for _, v := range found.Violations {
		wrong = append(wrong, fmt.Sprintf("axe %s (%s): %s", v.ID, v.Help, strings.Join(v.Nodes, "; ")))
	}
	return wrong
}

type axeResult struct {
	Violations, Incomplete []axeFinding
	Passes                 int
}

type axeFinding struct {
	ID    string   `json:"id"`
	Help  string   `json:"help"`
	Nodes []string `json:"nodes"`
}

// unsure is what axe could not judge: a person must.
var unsure sync.Map

// Unsure lists what axe could not judge on the pages that were inspected.
func Unsure() string {
	list := map[string]string{}
	unsure.Range(func(what, where any) bool {
		list[what.(string)] = where.(string)
		return true
	})
	text, _ := json.MarshalIndent(list, "", "  ")
	return string(text)
}
