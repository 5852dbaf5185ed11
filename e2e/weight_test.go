package e2e

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
)

// traffic is what a page has cost, as the browser counts it.
type traffic struct {
	Bytes, Requests int
	List            []string
}

func (p *Person) traffic() traffic {
	p.t.Helper()
	return Ask[traffic](p, `
		const all = [...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")].filter((e) => e.transferSize > 0);
		return { Bytes: all.reduce((sum, e) => sum + e.transferSize, 0), Requests: all.length,
			List: all.map((e) => new URL(e.name).pathname + " " + e.transferSize) }`)
}

// headers is what the head of one of our answers takes, about.
const headers = 900 // bytes

// sent lists the bytes of the answers in the log, the oldest first. A page that
// comes through a service worker counts unpacked in the browser, so that only the
// server knows what went over the wire.
func (l *tail) sent() []int {
	l.mu.Lock()
	defer l.mu.Unlock()
	var list []int
	for _, line := range l.requests {
		var request struct{ Bytes int }
		if json.Unmarshal([]byte(line), &request) == nil {
			list = append(list, request.Bytes)
		}
	}
	return list
}

// TestClientPagesAreLight counts what a phone loads the first time, and again:
// 25 KB in 5 requests, then 8 KB. What the service worker and the home screen
// fetch afterwards, beside the page, does not keep it waiting and is not counted.
func TestClientPagesAreLight(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	client := NewPractice(t, brae).AddClient("Wyn", "Wold")
	phone := NewPerson(t, brae, "wyn", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)
	for _, path := range []string{"/week", "/log"} {
		phone.Open("/sign-in")
		phone.must(chromedp.Do(phone.ctx,
			call(storage.ClearDataForOrigin, storage.ClearDataForOriginParams{Origin: brae.URL, StorageTypes: "service_workers,cache_storage,indexeddb"})))
		_, err := chromedp.Call(phone.ctx, network.ClearBrowserCache, cdp.Empty{})
		phone.must(err)
		phone.Open(path)
		phone.equipped()
		phone.knows("112")
		first := phone.traffic()
		t.Logf("%s for the first time: %d bytes in %d requests: %q", path, first.Bytes, first.Requests, first.List)
		if first.Bytes > 25<<10 || first.Requests > 5 {
			t.Errorf("%s for the first time: %d bytes in %d requests", path, first.Bytes, first.Requests)
		}
		before := len(brae.log.sent())
		for settled := 0; settled < 10; settled++ { // what the service worker fetches after the first visit comes late on a busy machine
			time.Sleep(100 * time.Millisecond)
			if now := len(brae.log.sent()); now != before {
				before, settled = now, 0
			}
		}
		phone.Open(path)
		time.Sleep(time.Second) // the service worker may ask whether it is still the newest
		var again traffic
		for _, bytes := range brae.log.sent()[before:] {
			again.Bytes += bytes + headers
			again.Requests++
		}
		t.Logf("%s again: %d bytes in %d requests", path, again.Bytes, again.Requests)
		if again.Bytes > 8<<10 {
			t.Errorf("%s again: %d bytes", path, again.Bytes)
		}
	}
}
