package e2e

import (
	"cmp"
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/serviceworker"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Device is what a person holds in the hand or has on the desk.
type Device struct {
	Width, Height int64 // of the window, in CSS pixels
	Touch         bool
}

// The devices of the stories.
var (
	Phone = Device{390, 844, true}
	Desk  = Device{1280, 900, false}
	Small = Device{320, 640, true} // WCAG 1.4.10 asks that pages fit into this width
)

// Person is somebody at a browser of their own.
type Person struct {
	Name string

	t      testing.TB
	base   string // of Brae
	device Device
	now    Device // what the window looks like at the moment
	ctx    context.Context
	cancel context.CancelFunc
	wire   wire

	registered serviceworker.RegistrationID // of the service worker, as far as it was asked for

	mu      sync.Mutex
	loads   int           // documents that were loaded
	loaded  chan struct{} // closed at the next load
	status  int64         // of the last document
	noise   []string      // errors in the console, and what the content policy refused
	dialogs []string      // questions of the browser, all answered with yes
}

// patience is how long a person waits for a page.
const patience = 15 * time.Second

//go:embed page.js
var pageScript string

// NewPerson opens a browser window for somebody who uses Brae. It is closed with
// the test.
func NewPerson(t testing.TB, b *Brae, name string, device Device) *Person {
	t.Helper()
	p := &Person{Name: name, t: t, base: b.URL, device: device, loaded: make(chan struct{})}
	p.ctx, p.cancel = chromedp.NewContext(newBrowser(t).ctx, chromedp.WithNewBrowserContext(), chromedp.WithListener(p.hear))
	t.Cleanup(func() {
		if t.Failed() {
			p.picture("failed-" + t.Name() + "-" + name)
		}
		p.cancel()
	})
	p.setUp()
	return p
}

// NewTab closes the person's window without a word to the page, as a phone does
// that runs out of memory, and opens another one with the same cookies.
func (p *Person) NewTab() {
	p.t.Helper()
	before := chromedp.FromContext(p.ctx)
	ctx, cancel := chromedp.NewContext(p.ctx, chromedp.WithListener(p.hear))
	old, oldTarget := p.cancel, before.Target.TargetID
	p.ctx, p.cancel = ctx, func() { cancel(); old() }
	p.setUp()
	if _, err := chromedp.CallBrowser(p.ctx, target.CloseTarget, target.CloseTargetParams{TargetID: oldTarget}); err != nil {
		p.t.Fatalf("%s: close the tab: %v", p.Name, err)
	}
}

func (p *Person) setUp() {
	p.t.Helper()
	p.use(p.device)
	p.must(chromedp.Do(p.ctx, call(emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})))
	p.Dark(false)
}

// call makes an action of a command of the protocol.
func call[P, R any](command cdp.Command[P, R], params P) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, command, params)
		return err
	})
}

// use makes the window that of a device.
func (p *Person) use(d Device) {
	p.t.Helper()
	p.now = d
	touch := emulation.SetTouchEmulationEnabledParams{Enabled: d.Touch, MaxTouchPoints: 1}
	p.must(chromedp.Do(p.ctx,
		call(emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
			Width: d.Width, Height: d.Height, DeviceScaleFactor: 1, Mobile: d.Touch,
		}),
		call(emulation.SetTouchEmulationEnabled, touch)))
}

// Dark turns the dark look on or off.
func (p *Person) Dark(on bool) {
	p.t.Helper()
	scheme := "light"
	if on {
		scheme = "dark"
	}
	p.media(&emulation.MediaFeature{Name: "prefers-color-scheme", Value: scheme})
}

func (p *Person) media(features ...*emulation.MediaFeature) {
	p.t.Helper()
	p.must(chromedp.Do(p.ctx, call(emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: features})))
}

// WithoutScripts turns off the scripts of pages, from the next page on.
func (p *Person) WithoutScripts() {
	p.t.Helper()
	p.must(chromedp.Do(p.ctx, call(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})))
}

// hear takes note of what happens in the browser. It must not ask it anything.
func (p *Person) hear(event any) {
	p.wire.hear(event)
	p.mu.Lock()
	defer p.mu.Unlock()
	switch e := event.(type) {
	case *page.EventLoadEventFired:
		p.loads++
		close(p.loaded)
		p.loaded = make(chan struct{})
	case *serviceworker.EventWorkerRegistrationUpdated:
		for _, r := range e.Registrations {
			if !r.IsDeleted && strings.HasPrefix(r.ScopeURL, p.base) {
				p.registered = r.RegistrationID
			}
		}
	case *network.EventResponseReceived:
		if e.Type == network.ResourceTypeDocument {
			p.status = e.Response.Status
		}
	case *log.EventEntryAdded:
		// That a page was refused with an error is told by its status.
		refused := e.Entry.Source == log.EntrySourceNetwork && !strings.Contains(e.Entry.URL, "/static/")
		if e.Entry.Level == log.EntryLevelError && !refused {
			p.noise = append(p.noise, fmt.Sprintf("%s: %s (%s)", e.Entry.Source, e.Entry.Text, e.Entry.URL))
		}
	case *runtime.EventExceptionThrown:
		text := e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			text += " " + e.ExceptionDetails.Exception.Description
		}
		p.noise = append(p.noise, "exception: "+text)
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError {
			p.noise = append(p.noise, fmt.Sprintf("console.error with %d values", len(e.Args)))
		}
	case *page.EventJavascriptDialogOpening:
		p.dialogs = append(p.dialogs, string(e.Type))
		go func() {
			_, _ = chromedp.Call(p.ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true})
		}()
	}
}

// must ends the test if the browser could not do something.
func (p *Person) must(err error) {
	p.t.Helper()
	if err != nil {
		p.t.Fatalf("%s: %v", p.Name, err)
	}
}

// Ask runs a script in the page, with the words of page.js, and returns what it
// comes to. The page's own policy does not hold for it.
func Ask[T any](p *Person, script string, args ...any) T {
	p.t.Helper()
	v, err := ask[T](p, script, args...)
	p.must(err)
	return v
}

// ask writes the arguments into the script as JSON.
func ask[T any](p *Person, script string, args ...any) (T, error) {
	quoted := make([]any, len(args))
	for i, a := range args {
		text, err := json.Marshal(a)
		if err != nil {
			panic(err) // a wrong call
		}
		quoted[i] = string(text)
	}
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Evaluate[T]("(() => {"+pageScript+"\n"+fmt.Sprintf(script, quoted...)+"})()"))
}

// do is Ask for a script that returns nothing.
func (p *Person) do(script string, args ...any) {
	p.t.Helper()
	Ask[chromedp.Void](p, script, args...)
}

// Open goes to an address of Brae, or to a whole one.
func (p *Person) Open(path string) {
	p.t.Helper()
	address := path
	if strings.HasPrefix(path, "/") {
		address = p.base + path
	}
	p.load(func() error { return chromedp.Do(p.ctx, chromedp.Navigate(address)) })
}

// Press presses the button, or the link that looks like one, with these words and
// waits for the page to which it leads.
func (p *Person) Press(text string) {
	p.t.Helper()
	p.load(func() error { return p.touch(`return point(button(%s))`, text) })
}

// PressTwice presses a button twice as fast as a finger can, and waits.
func (p *Person) PressTwice(text string) {
	p.t.Helper()
	p.load(func() error {
		at, err := ask[spot](p, `return point(button(%s))`, text)
		if err != nil {
			return err
		}
		if err := p.tap(at); err != nil {
			return err
		}
		return p.tap(at)
	})
	time.Sleep(300 * time.Millisecond) // a second sending would be under way by now
}

// Follow follows the link with these words.
func (p *Person) Follow(text string) {
	p.t.Helper()
	p.load(func() error { return p.touch(`return point(link(%s))`, text) })
}

// Unfold opens what is folded away under these words.
func (p *Person) Unfold(text string) {
	p.t.Helper()
	p.must(p.touch(`return point(button(%s))`, text))
}

// Fill types into the field with this label, in place of what stands there. The
// group is the heading above the field, and only needed if the label stands on
// the page more than once.
func (p *Person) Fill(label, text string, group ...string) {
	p.t.Helper()
	kind := Ask[string](p, `const f = field(%s, %s); f.focus(); f.select?.(); return f.type`, label, strings.Join(group, ""))
	if kind == "date" || text == "" { // how a date is typed depends on the browser's language
		p.do(`set(field(%s, %s), %s)`, label, strings.Join(group, ""), text)
		return
	}
	p.must(chromedp.Do(p.ctx, call(input.InsertText, input.InsertTextParams{Text: text})))
}

// Choose gives an answer to a question.
func (p *Person) Choose(question, answer string, group ...string) {
	p.t.Helper()
	p.must(p.touch(`return point(choice(%s, %s, %s))`, question, answer, strings.Join(group, "")))
	if !Ask[bool](p, `return choice(%s, %s, %s).checked`, question, answer, strings.Join(group, "")) {
		p.t.Fatalf("%s: %q to %q was pressed and is not chosen", p.Name, answer, question)
	}
}

// Pick chooses an option of a list.
func (p *Person) Pick(label, option string, group ...string) {
	p.t.Helper()
	p.do(`pick(field(%s, %s), %s)`, label, strings.Join(group, ""), option)
}

// Tick ticks a statement, or takes the tick away.
func (p *Person) Tick(label string) {
	p.t.Helper()
	p.must(p.touch(`return point(field(%s))`, label))
}

// Value is what stands in a field.
func (p *Person) Value(label string, group ...string) string {
	p.t.Helper()
	return Ask[string](p, `return field(%s, %s).value`, label, strings.Join(group, ""))
}

// Chosen is the answer that is chosen, or "".
func (p *Person) Chosen(question string, group ...string) string {
	p.t.Helper()
	return Ask[string](p, `
		const questions = [...group(%[2]s).querySelectorAll("fieldset > legend")].filter((l) => shown(l) && says(l, %[1]s));
		const c = only(questions, "question " + %[1]s).closest("fieldset").querySelector(":checked");
		return c ? words(c.labels[0]) : ""`, question, strings.Join(group, ""))
}

// Text is what can be read in the elements of a selector, one a line.
func (p *Person) Text(selector string) string {
	p.t.Helper()
	return Ask[string](p, `return [...document.querySelectorAll(%s)].filter(shown).map((e) => e.innerText).join("\n")`, selector)
}

// Count is how many elements of a selector the page shows.
func (p *Person) Count(selector string) int {
	p.t.Helper()
	return Ask[int](p, `return [...document.querySelectorAll(%s)].filter(shown).length`, selector)
}

// says is the page in short, for a message of a failed test.
func (p *Person) says() string {
	p.t.Helper()
	return Ask[string](p, `
		const list = [...document.querySelectorAll("main :is(h1, h2, h3, p, li, dt, dd, legend, label, caption, th, td, button)")];
		return list.filter((e) => shown(e) && !e.closest(".hidden")).map(words).join(" | ").slice(0, 2000)`)
}

// Sees fails unless the page shows all these texts.
func (p *Person) Sees(texts ...string) {
	p.t.Helper()
	shown := strings.Join(strings.Fields(p.Text("body")), " ")
	for _, text := range texts {
		if !strings.Contains(shown, text) {
			p.t.Errorf("%s at %s does not see %q; the page says:\n%s", p.Name, p.Path(), text, p.says())
		}
	}
}

// SeesNot fails if the page shows one of these texts.
func (p *Person) SeesNot(texts ...string) {
	p.t.Helper()
	shown := strings.Join(strings.Fields(p.Text("body")), " ")
	for _, text := range texts {
		if strings.Contains(shown, text) {
			p.t.Errorf("%s at %s sees %q", p.Name, p.Path(), text)
		}
	}
}

// Row is the text of the table row that begins with these words, its cells apart
// by a bar.
func (p *Person) Row(first string) string {
	p.t.Helper()
	return Ask[string](p, `
		const rows = [...document.querySelectorAll("tbody tr")].filter((r) => words(r.cells[0]).startsWith(%s));
		return [...only(rows, "row " + %[1]s).cells].map(words).join(" | ")`, first)
}

// Title is the title of the document.
func (p *Person) Title() string { p.t.Helper(); return Ask[string](p, `return document.title`) }

// Location is the whole address.
func (p *Person) Location() string { p.t.Helper(); return Ask[string](p, `return location.href`) }

// Path is the address within Brae.
func (p *Person) Path() string { p.t.Helper(); return strings.TrimPrefix(p.Location(), p.base) }

// Status is the HTTP status of the page.
func (p *Person) Status() int64 {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.status
}

// Is fails unless the person is at this address, with this status.
func (p *Person) Is(path string, status int64) {
	p.t.Helper()
	if at := p.Path(); at != path || p.Status() != status {
		p.t.Fatalf("%s is at %s with status %d, not at %s with %d; the page says:\n%s",
			p.Name, at, p.Status(), path, status, p.says())
	}
}

// SignIn signs in by the form.
func (p *Person) SignIn(name, passphrase string) {
	p.t.Helper()
	p.Open("/sign-in")
	p.Fill("Sign-in name", name)
	p.Fill("Passphrase", passphrase)
	p.Press("Sign in")
	if p.Status() != 200 {
		p.t.Fatalf("%s cannot sign in: status %d, %s", p.Name, p.Status(), p.says())
	}
}

// load does something that leads to another page, waits until that is there and
// looks whether it is in order.
func (p *Person) load(do func() error) {
	p.t.Helper()
	p.mu.Lock()
	next := p.loaded
	p.status = 0
	p.mu.Unlock()
	p.must(do())
	select {
	case <-next:
	case <-time.After(patience):
		p.t.Fatalf("%s: no page came within %s; still at %s: %s", p.Name, patience, p.Path(), p.says())
	}
	p.ordinary()
}

// ordinary looks at what must be in order on every page.
func (p *Person) ordinary() {
	p.t.Helper()
	for _, wrong := range Ask[[]string](p, `return ordinary()`) {
		p.t.Errorf("%s at %s: %s", p.Name, p.Path(), wrong)
	}
	p.mu.Lock()
	noise := p.noise
	p.noise = nil
	p.mu.Unlock()
	for _, wrong := range noise {
		p.t.Errorf("%s at %s: the console shows an error: %s", p.Name, p.Path(), wrong)
	}
}

// spot is a place in the window.
type spot struct{ X, Y float64 }

// touch presses where the script says.
func (p *Person) touch(script string, args ...any) error {
	at, err := ask[spot](p, script, args...)
	if err != nil {
		return err
	}
	return p.tap(at)
}

// tap puts a finger or a mouse button down and up.
func (p *Person) tap(at spot) error {
	if p.device.Touch {
		return chromedp.Do(p.ctx, chromedp.TapXY(at.X, at.Y))
	}
	return chromedp.Do(p.ctx, chromedp.MouseClickXY(at.X, at.Y))
}

// Key presses a key of the keyboard, such as kb.Tab. What it types goes with the
// key's going down, as with a real keyboard: a page that moves the focus then does
// not get the letter at the new place.
func (p *Person) Key(key string) {
	p.t.Helper()
	for _, r := range key {
		var text string
		for _, e := range kb.Encode(r) {
			text = cmp.Or(text, e.Text)
		}
		for _, e := range kb.Encode(r) {
			switch e.Type {
			case kb.KeyChar:
				continue
			case kb.KeyDown:
				e.Text = text
			}
			p.must(chromedp.Do(p.ctx, call(input.DispatchKeyEvent, *e)))
		}
	}
}

// Visitor speaks to Brae with the cookies of the person, without the browser.
func (p *Person) Visitor() *Visitor {
	p.t.Helper()
	got, err := chromedp.Call(p.ctx, network.GetCookies, network.GetCookiesParams{URLs: []string{p.base}})
	p.must(err)
	v := NewVisitor(p.t, &Brae{URL: p.base})
	address, err := url.Parse(p.base)
	p.must(err)
	var cookies []*http.Cookie
	for _, c := range got.Cookies {
		cookies = append(cookies, &http.Cookie{Name: c.Name, Value: c.Value, Path: c.Path})
	}
	v.HTTP.Jar.SetCookies(address, cookies)
	return v
}

// picture takes a screenshot of the whole page into e2e/shots, for people: in CI
// nobody looks at them, and they would take a good part of its time.
func (p *Person) picture(name string) {
	p.t.Helper()
	if os.Getenv("CI") != "" {
		return
	}
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	png, err := chromedp.Run(ctx, p.wholePage)
	if err == nil {
		err = keep(name, png)
	}
	if err != nil {
		p.t.Logf("%s: no picture %s: %v", p.Name, name, err)
	}
}

// wholePage captures the page in a window that is as high as the page, so that
// what is fixed to the window's edge is at the end of the picture.
func (p *Person) wholePage(ctx context.Context, t *chromedp.Target) ([]byte, error) {
	layout, err := cdp.Call(ctx, t, page.GetLayoutMetrics, cdp.Empty{})
	if err != nil {
		return nil, err
	}
	window, size := layout.CSSLayoutViewport, layout.CSSContentSize
	metrics := emulation.SetDeviceMetricsOverrideParams{
		Width: window.ClientWidth, Height: int64(size.Height), DeviceScaleFactor: 1, Mobile: p.now.Touch,
	}
	if _, err := cdp.Call(ctx, t, emulation.SetDeviceMetricsOverride, metrics); err != nil {
		return nil, err
	}
	picture, err := cdp.Call(ctx, t, page.CaptureScreenshot, page.CaptureScreenshotParams{OptimizeForSpeed: new(true)})
	if err != nil {
		return nil, err
	}
	metrics.Width, metrics.Height = p.now.Width, p.now.Height
	_, err = cdp.Call(ctx, t, emulation.SetDeviceMetricsOverride, metrics)
	return picture.Data, err
}

// keep writes a picture for people to look at.
func keep(name string, png []byte) error {
	dir, err := root()
	if err != nil {
		return err
	}
	path := filepath.Join(dir, "e2e", "shots", strings.NewReplacer("/", "-", " ", "-").Replace(name)+".png")
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, png, 0o644)
}
