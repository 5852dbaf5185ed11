package e2e

import (
	"context"
	"strings"
	"sync"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
)

// known are the sessions with service workers, by target: one each, for as long
// as the test runs.
var known sync.Map

// workers are the sessions with the service workers of this Brae.
func (p *Person) workers() []context.Context {
	p.t.Helper()
	targets, err := chromedp.Targets(p.ctx)
	p.must(err)
	var sessions []context.Context
	for _, worker := range targets {
		if worker.Type == "service_worker" && strings.HasPrefix(worker.URL, p.base) {
			sessions = append(sessions, p.worker(worker.TargetID))
		}
	}
	return sessions
}

func (p *Person) worker(id target.ID) context.Context {
	if session, ok := known.Load(id); ok {
		return session.(context.Context)
	}
	ctx, cancel := chromedp.NewContext(newBrowser(p.t).ctx, chromedp.WithTargetID(id), chromedp.WithListener(p.wire.hear))
	p.t.Cleanup(cancel)
	p.must(chromedp.Do(ctx, call(network.Enable, network.EnableParams{})))
	known.Store(id, ctx)
	return ctx
}

// equipped waits until the phone has what it needs without a network.
func (p *Person) equipped() {
	p.t.Helper()
	p.waits(func() bool { return Ask[bool](p, `return !!navigator.serviceWorker.controller`) }, "get its service worker")
}

func (p *Person) waits(there func() bool, what string) {
	p.t.Helper()
	for end := time.Now().Add(patience); !there(); time.Sleep(50 * time.Millisecond) {
		if time.Now().After(end) {
			p.t.Fatalf("%s at %s does not %s; the page says:\n%s", p.Name, p.Path(), what, p.says())
		}
	}
}
