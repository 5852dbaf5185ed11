package e2e

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/serviceworker"
	"github.com/chromedp/chromedp"
)

// sync lets the browser tell the service worker that there is a signal, as it does
// by itself some time after the page was closed. Source: WICG Background Sync.
func (p *Person) sync() {
	p.t.Helper()
	known := func() serviceworker.RegistrationID { p.mu.Lock(); defer p.mu.Unlock(); return p.registered }
	_, err := chromedp.Call(p.ctx, serviceworker.Enable, cdp.Empty{})
	p.must(err)
	for end := time.Now().Add(patience); known() == ""; time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			p.t.Fatal("the browser names no service worker")
		}
	}
	_, err = chromedp.Call(p.ctx, serviceworker.DispatchSyncEvent, serviceworker.DispatchSyncEventParams{
		Origin: p.base, RegistrationID: known(), Tag: "brae-outbox",
	})
	p.must(err)
}

// What waits on a phone is sent by the service worker when the browser says that
// there is a signal: with no page open, and beside an open page, once each.
func TestSentWithoutThePage(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	client := NewPractice(t, brae).AddClient("Sven", "Slate")
	db := brae.Query()
	stored := func() int { return brae.Count(db, `SELECT count(*) FROM sessions`) }
	wait := func(n int, what string) {
		t.Helper()
		for end := time.Now().Add(patience); stored() != n; time.Sleep(50 * time.Millisecond) {
			if time.Now().After(end) {
				t.Fatalf("%s: %d sessions are stored; want %d", what, stored(), n)
			}
		}
		time.Sleep(300 * time.Millisecond) // a second sending would be under way by now
		if got := stored(); got != n {
			t.Fatalf("%s: %d sessions are stored; want %d", what, got, n)
		}
	}
	phone := NewPerson(t, brae, "sven", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)
	phone.equipped()
	phone.knows("112")
	phone.Open("/log")
	phone.signal(false)
	for i, minutes := range []string{"21", "22"} {
		phone.fillLog(minutes)
		phone.push("Save")
		phone.until([]string{"1 session waits on this phone", "2 sessions wait on this phone"}[i])
	}
	phone.sync() // in vain: nothing may be lost by it
	wait(0, "without a signal")

	phone.must(chromedp.Do(phone.ctx, chromedp.Navigate("about:blank")))
	phone.signal(true)
	phone.sync() // unless the browser has found out by itself, which is as good
	wait(2, "with no page open")

	phone.Open("/log")
	phone.SeesNot("on this phone")
	phone.signal(false)
	phone.fillLog("23")
	phone.push("Save")
	phone.until("1 session waits on this phone")
	for _, worker := range phone.workers() { // the page itself stays without
		phone.must(chromedp.Do(worker, call(network.EmulateNetworkConditionsByRule,
			network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{}})))
	}
	phone.sync()
	phone.sync()
	phone.waits(func() bool { return phone.Count("#waiting") == 0 }, "stop saying that a session waits")
	phone.signal(true)
	wait(3, "beside an open page")
	if n := brae.Count(db, `SELECT sum(minutes) FROM session_parts`); n != 21+22+23 {
		t.Errorf("%d minutes are stored", n)
	}
}

// A browser without a database, and a phone with a full disk, keep nothing. With a
// signal the log works all the same; without one the page says plainly that nothing
// is saved, everything typed stays, and an emergency is told before all else.
func TestPhoneThatKeepsNothing(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	db := brae.Query()
	for _, phone := range []struct{ given, spoil string }{
		{"Nora", `delete window.indexedDB; delete Window.prototype.indexedDB`},
		// Source: Indexed Database API 3.0, 5.4: what does not fit aborts the transaction when it commits.
		{"Fred", `{ const put = IDBObjectStore.prototype.put;
			IDBObjectStore.prototype.put = function (...given) {
				const asked = put.apply(this, given);
				asked.addEventListener("success", () => this.transaction.abort());
				return asked;
			}; }`},
	} {
		client := practice.AddClient(phone.given, "Flint")
		stored := func() int {
			return brae.Count(db, `SELECT count(*) FROM sessions WHERE client_id::text = $1`, strings.TrimPrefix(client.Path, "/clients/"))
		}
		p := NewPerson(t, brae, phone.given, Phone)
		_, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: phone.spoil})
		p.must(err)
		p.SignIn(client.SignInName, ClientPassphrase)
		p.equipped()
		p.Open("/log")
		p.fillLog("20")
		p.Press("Save")
		p.Is("/week", 200)
		p.Sees("Saved: 20 min moderate")

		p.Open("/log")
		p.waits(func() bool {
			return Ask[bool](p, `return performance.getEntriesByType("resource").some((e) => new URL(e.name).pathname === "/phone")`)
		}, "ask for what the page must know of the person")
		p.signal(false)
		p.fillLog("31")
		p.push("Save")
		p.until("Your session is not saved.")
		p.Sees("This phone cannot keep it", "All you filled in is still here", "Press Save again when there is a signal")
		p.SeesNot("waits on this phone")
		if got := p.Value("Minutes"); got != "31" {
			t.Errorf("%s: %q minutes stand in the form", phone.given, got)
		}
		p.Inspect("log", "keeps nothing, "+phone.given)
		p.Choose("Did anything feel wrong?", "Yes")
		p.do(`document.getElementById("report-chest_pressure_now").closest("details").open = true`)
		p.Tick("Pressure or pain in my chest, jaw, neck, back or arm, now")
		p.push("Save")
		p.until("Stop now. Sit or lie down.")
		p.until("Your session is not saved.")
		p.Sees("Call 112 now")
		if first := Ask[string](p, `return [...document.querySelectorAll("main a")].filter(shown)[0].href`); first != "tel:112" {
			t.Errorf("%s: the first link of the emergency screen is %s", phone.given, first)
		}
		p.Inspect("offline emergency", "keeps nothing, "+phone.given)
		p.push("Go on")
		p.until("Log a session")
		if got := p.Value("Minutes"); got != "31" {
			t.Errorf("%s: %q minutes stand in the form after the emergency", phone.given, got)
		}
		if n := stored(); n != 1 {
			t.Fatalf("%s: %d sessions are stored; want 1", phone.given, n)
		}
		p.signal(true)
		p.Press("Save")
		p.Sees("Stop now. Sit or lie down.", "Call 112")
		if n := stored(); n != 2 {
			t.Errorf("%s: %d sessions are stored; want 2", phone.given, n)
		}
	}
}

// A session that has ended on a phone without a database keeps what was typed, and
// the page says so with the way back in: after signing in beside it, Save saves.
func TestSignedOutOnAPhoneThatKeepsNothing(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	client := NewPractice(t, brae).AddClient("Olga", "Flint")
	db := brae.Query()
	p := NewPerson(t, brae, "olga", Phone)
	_, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
		Source: `delete window.indexedDB; delete Window.prototype.indexedDB`,
	})
	p.must(err)
	p.SignIn(client.SignInName, ClientPassphrase)
	p.Open("/log")
	p.fillLog("37")
	_, err = db.Exec(t.Context(), `DELETE FROM sign_ins`) // as when it has run out
	p.must(err)
	p.push("Save")
	p.until("Your session is not saved.")
	p.Sees("You are signed out.", "Then come back to this page and press Save again.")
	p.SeesNot("when there is a signal", "waits on this phone")
	if got := p.Value("Minutes"); got != "37" {
		t.Errorf("%q minutes stand in the form", got)
	}
	if target := Ask[string](p, `const a = [...document.querySelectorAll("#unkept a")].find(shown); return new URL(a.href).pathname + " " + a.target`); target != "/sign-in _blank" {
		t.Errorf("the way back in is %s; want one that leaves this page as it is", target)
	}
	p.Inspect("log", "keeps nothing, signed out")
	if n := brae.Count(db, `SELECT count(*) FROM sessions`); n != 0 {
		t.Fatalf("%d sessions are stored of somebody who was signed out", n)
	}

	beside := &Person{Name: "olga in another tab", t: t, base: p.base, device: p.device, loaded: make(chan struct{})}
	beside.ctx, beside.cancel = chromedp.NewContext(p.ctx, chromedp.WithListener(beside.hear))
	t.Cleanup(beside.cancel)
	beside.setUp()
	beside.SignIn(client.SignInName, ClientPassphrase)
	p.Press("Save")
	p.Is("/week", 200)
	p.Sees("Saved: 37 min moderate")
	if n := brae.Count(db, `SELECT sum(minutes) FROM session_parts`); n != 37 {
		t.Errorf("%d minutes are stored", n)
	}
}
