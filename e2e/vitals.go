package e2e

import (
	"net/http"
	"sync"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// OldPhone is a small phone of some years ago, for measurements.
var OldPhone = Device{360, 740, true}

// slow4G is the "slow 4G" of the browsers' own tools: 150 ms, 1.6 Mbit/s down and
// 0.75 up. With a processor four times slower than this one it stands for an old
// phone. Source: common practice.
var slow4G = network.Conditions{Latency: 150, DownloadThroughput: 1.6e6 / 8, UploadThroughput: 0.75e6 / 8}

const slowerProcessor = 4

// Vitals is what a visit of a page was like.
type Vitals struct {
	Paint       float64 // ms until the largest thing was painted
	Interaction float64 // ms until the worst of two answers, to Tab and to a tap, was painted
	Shift       float64 // layout shifts that nobody asked for, all of them
	KB          float64 // over the wire, heads included
	Requests    float64 // that went over the wire
	Nodes       float64 // elements
}

// observe collects in the page what the browser tells about it. Source: W3C
// Largest Contentful Paint, Event Timing, Layout Instability.
const observe = `(() => {
	const seen = globalThis.seenByBench = { Paint: 0, Interaction: 0, Shift: 0 };
	const each = (type, options, take) => new PerformanceObserver((list) => list.getEntries().forEach(take)).observe({ type, buffered: true, ...options });
	each("largest-contentful-paint", {}, (e) => { seen.Paint = e.startTime; });
	each("layout-shift", {}, (e) => { if (!e.hadRecentInput) seen.Shift += e.value; });
	each("event", { durationThreshold: 16 }, (e) => { if (e.interactionId) seen.Interaction = Math.max(seen.Interaction, e.duration); });
})()`

// Slow makes the person's window one on an old phone with a slow network.
func (p *Person) Slow() {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: observe})
	p.must(err)
	p.must(chromedp.Do(p.ctx,
		call(emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: slowerProcessor}),
		slowNetwork))
}

var slowNetwork = call(network.EmulateNetworkConditionsByRule,
	network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{&slow4G}})

// Keep gives the person a cookie, such as that of a sign-in elsewhere.
func (p *Person) Keep(c *http.Cookie) {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, network.SetCookie, network.SetCookieParams{Name: c.Name, Value: c.Value, URL: p.base, Path: "/"})
	p.must(err)
}

// settling is how long a page may stay still before it counts as finished.
const settling = time.Second

// Visit opens a page, waits until nothing more comes, goes to the next field with
// the Tab key and taps something, and tells what that was like.
func (p *Person) Visit(path string) Vitals {
	p.t.Helper()
	p.must(chromedp.Do(p.ctx, chromedp.Navigate("about:blank")))
	for _, worker := range p.workers() { // it fetches the page of a next visit
		p.must(chromedp.Do(worker, slowNetwork))
	}
	p.wire.empty()
	p.Open(path)
	carried, requests := p.settle()
	p.Key(kb.Tab)
	p.must(p.touch(`
		const all = [...document.querySelectorAll("main :is([type=radio], [type=checkbox], summary, textarea, [type=text], [type=number], h1)")].filter(shown);
		return point(all.find((e) => e.tagName !== "H1") ?? all[0])`))
	time.Sleep(settling)
	v := Ask[Vitals](p, `return { ...seenByBench, Nodes: document.querySelectorAll("*").length }`)
	v.KB, v.Requests = carried, requests
	return v
}

// Equip waits until the phone keeps what it needs for the next visit.
func (p *Person) Equip() { p.t.Helper(); p.equipped(); p.settle() }

// Close closes the person's window before the test ends.
func (p *Person) Close() { p.cancel() }

// settle waits until nothing comes over the wire, and returns what came.
func (p *Person) settle() (kb, requests float64) {
	for last := -1.0; last != kb; time.Sleep(settling) {
		last = kb
		kb, requests = p.wire.carried()
	}
	return kb, requests
}

// wire counts what comes over the network, for pages and service workers. What a
// page has from a cache or from its service worker is not counted.
type wire struct {
	mu     sync.Mutex
	inside map[network.RequestID]bool // answered without the network
	came   map[network.RequestID]float64
}

func (w *wire) empty() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.inside, w.came = map[network.RequestID]bool{}, map[network.RequestID]float64{}
}

func (w *wire) carried() (kb, requests float64) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for id, bytes := range w.came {
		if !w.inside[id] && bytes > 0 {
			kb += bytes / 1024
			requests++
		}
	}
	return kb, requests
}

func (w *wire) hear(event any) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.came == nil {
		return // nobody counts
	}
	switch e := event.(type) {
	case *network.EventRequestServedFromCache:
		w.inside[e.RequestID] = true
	case *network.EventResponseReceived:
		r := e.Response
		if r.FromServiceWorker || r.FromDiskCache || r.FromPrefetchCache {
			w.inside[e.RequestID] = true
		}
	case *network.EventLoadingFinished:
		w.came[e.RequestID] += e.EncodedDataLength
	}
}
