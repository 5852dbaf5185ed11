package e2e

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"brae/domain/triage"
)

// signal gives the phone a network or takes it away, from the page and from the
// service worker. With paths, only these are out of reach.
func (p *Person) signal(on bool, paths ...string) {
	p.t.Helper()
	off := !on
	conditions := []*network.Conditions{}
	for _, path := range paths {
		conditions = append(conditions, &network.Conditions{URLPattern: p.base + path, Offline: true, DownloadThroughput: -1, UploadThroughput: -1})
	}
	if off {
		conditions = append(conditions, &network.Conditions{Offline: true, DownloadThroughput: -1, UploadThroughput: -1})
	}
	for i, ctx := range append([]context.Context{p.ctx}, p.workers()...) {
		actions := []chromedp.Action[chromedp.Void]{
			call(network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: conditions}),
		}
		if i == 0 {
			actions = append(actions, call(network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: off, DownloadThroughput: -1, UploadThroughput: -1}))
		}
		p.must(chromedp.Do(ctx, actions...))
	}
}

// until waits until the page shows a text.
func (p *Person) until(text string) {
	p.t.Helper()
	p.waits(func() bool { return strings.Contains(strings.Join(strings.Fields(p.Text("body")), " "), text) }, "see "+text)
}

// push presses a button that leads to no other page.
func (p *Person) push(text string) {
	p.t.Helper()
	p.must(p.touch(`return point(button(%s))`, text))
}

// knows waits until the phone keeps a text of the person.
func (p *Person) knows(text string) {
	p.t.Helper()
	p.waits(func() bool {
		kept, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](`new Promise((done) => {
			indexedDB.open("brae").onsuccess = (e) => {
				e.target.result.transaction("kept").objectStore("kept").get("kit").onsuccess = (r) => { done(JSON.stringify(r.target.result ?? "")); e.target.result.close(); };
			};
		})`, chromedp.EvalAwaitPromise))
		p.must(err)
		return strings.Contains(kept, text)
	}, "keep "+text)
}

// otherTab opens another tab of the same browser.
func (p *Person) otherTab(name string) *Person {
	p.t.Helper()
	other := &Person{Name: name, t: p.t, base: p.base, device: p.device, loaded: make(chan struct{})}
	other.ctx, other.cancel = chromedp.NewContext(p.ctx, chromedp.WithListener(other.hear))
	p.t.Cleanup(other.cancel)
	other.setUp()
	return other
}

const briskWalk = "Brisk walk"

// fillLog fills in the log form for a walk without symptoms.
func (p *Person) fillLog(minutes string) {
	p.t.Helper()
	p.do(`set(document.getElementById("parts[0].activity"), "walk_brisk")`)
	p.Fill("Minutes", minutes)
	p.Choose("How well could you talk?", "I could chat in whole sentences, but I could not sing.")
	p.Choose("Did anything feel wrong?", "No")
}

// With no signal the log works, nothing is lost, and each session is stored once:
// when the page is closed, when a button is pressed twice, and with two tabs.
func TestLogWithoutSignal(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	client := practice.AddClient("Olga", "Oat")
	db := brae.Query()
	stored := func() int { return brae.Count(db, `SELECT count(*) FROM sessions`) }
	phone := NewPerson(t, brae, "olga", Phone)
	phone.SignIn(client.SignInName, ClientPassphrase)
	phone.Is("/week", 200)
	phone.Open("/log")
	phone.fillLog("20")
	phone.Press("Save")
	phone.Is("/week", 200)
	phone.Sees("Saved: 20 min moderate")
	phone.equipped()
	phone.knows(briskWalk)

	phone.signal(false)
	phone.Open("/week")
	phone.until("Do the same again")
	phone.Sees("No signal now", "The clinic does not watch your logs live", "In an emergency, call 112")
	phone.SeesNot("Olga", "Oat")
	phone.Inspect("offline", "nothing waits")
	phone.fillLog("31")
	phone.push("Save")
	phone.until("1 session waits on this phone")
	phone.Sees("It is not yet sent", briskWalk+", about 5.6 km/h, 31 min")
	phone.fillLog("32")
	phone.must(phone.touch(`return point(button("Save"))`))
	phone.must(phone.touch(`return point(button("Save"))`))
	phone.until("2 sessions wait on this phone")
	phone.push(briskWalk)
	if got := phone.Value("Minutes"); got != "20" {
		t.Errorf("the same again fills in %q minutes", got)
	}
	phone.Fill("Minutes", "33")
	phone.push("Add a part at another effort")
	phone.do(`set(document.getElementById("parts[1].activity"), "walk_brisk")`)
	phone.Fill("Minutes", "4", "Part 2")
	phone.Choose("How well could you talk?", "I could chat in whole sentences, but I could not sing.", "Part 2")
	phone.Choose("Did anything feel wrong?", "No")
	phone.push("Save")
	phone.until("3 sessions wait on this phone")
	phone.Inspect("offline", "three wait")

	phone.NewTab()
	phone.signal(false)
	phone.Open("/log")
	phone.until("3 sessions wait on this phone")
	phone.Sees("Not yet sent")
	if n := stored(); n != 1 {
		t.Fatalf("%d sessions are stored before the phone has a signal", n)
	}
	other := phone.otherTab("olga's other tab")
	other.signal(false)
	other.Open("/week")
	other.until("3 sessions wait on this phone")
	other.signal(true)
	phone.signal(true)
	phone.waits(func() bool { return stored() == 4 }, "get its sessions stored")
	phone.waits(func() bool { return phone.Count("#waiting") == 0 }, "stop saying that sessions wait")
	time.Sleep(300 * time.Millisecond) // a second sending would be under way by now
	if n := stored(); n != 4 {
		t.Errorf("%d sessions are stored; want the 1 with a signal and the 3 without", n)
	}
	if n := brae.Count(db, `SELECT sum(minutes) FROM session_parts`); n != 20+31+32+33+4 {
		t.Errorf("%d minutes are stored", n)
	}
	phone.Open("/week")
	phone.Sees("Brisk walk")
	phone.SeesNot("wait on this phone")

	clockOff(t, phone, brae)
	phone.tellsEmergency()
	comparesTriage(t, phone)
}

// clockOff logs on a phone whose clock is two hours off. The session is stored
// once, on the practice's day.
func clockOff(t *testing.T, phone *Person, brae *Brae) {
	t.Helper()
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	hours := 2 // so that the day stays the same: what happens otherwise is a doubt that the server raises
	if time.Now().In(zone).Hour() >= 12 {
		hours = -2
	}
	added, err := chromedp.Call(phone.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
		Source: fmt.Sprintf(`{ const Real = Date, off = %d * 3600e3;
			globalThis.Date = class extends Real { constructor(...a) { if (a.length) super(...a); else super(Real.now() + off); } static now() { return Real.now() + off; } }; }`, hours),
	})
	phone.must(err)
	phone.signal(false)
	phone.Open("/log")
	phone.fillLog("17")
	phone.push("Save")
	phone.until("1 session waits on this phone")
	phone.signal(true)
	db := brae.Query()
	mine := func() int {
		return brae.Count(db, `SELECT count(*) FROM sessions s JOIN session_parts p ON p.session_id = s.id WHERE p.minutes = 17 AND s.day = $1`, today(t))
	}
	phone.waits(func() bool { return mine() == 1 }, "store what was logged by a wrong clock")
	_, err = chromedp.Call(phone.ctx, page.RemoveScriptToEvaluateOnNewDocument, page.RemoveScriptToEvaluateOnNewDocumentParams(added))
	phone.must(err)
}

// tellsEmergency reports a pressure on the chest without a signal: the number to
// call comes before everything else, at once.
func (p *Person) tellsEmergency() {
	p.t.Helper()
	p.signal(false)
	p.Open("/log")
	p.fillLog("12")
	p.Choose("Did anything feel wrong?", "Yes")
	p.do(`document.getElementById("report-chest_pressure_now").closest("details").open = true`)
	p.Tick("Pressure or pain in my chest, jaw, neck, back or arm, now")
	p.push("Save")
	p.until("Stop now. Sit or lie down.")
	p.Sees("Call 112 now", "It is not yet sent")
	if first := Ask[string](p, `return document.querySelector("main a").href`); first != "tel:112" {
		p.t.Errorf("the first link of the emergency screen is %s", first)
	}
	if first := Ask[string](p, `return document.querySelector("main").firstElementChild.className`); first != "emergency" {
		p.t.Errorf("before the emergency stands %q", first)
	}
	if n := p.Count("main h1"); n != 1 {
		p.t.Errorf("the emergency screen has %d headings", n)
	}
	p.Inspect("offline emergency", "chest")
	p.signal(true)
	// The server says the same in more detail as soon as it can be reached.
	p.until("I have read this")
	p.Sees("Stop now. Sit or lie down.")
	p.Press("I have read this")
	p.Sees("Stop now. Sit or lie down.", "Call 112")
}

// comparesTriage runs the phone's script over the person's table, in the browser,
// for every report and every two, against the rules themselves.
func comparesTriage(t *testing.T, phone *Person) {
	t.Helper()
	a := phone.Visitor()
	var kit struct {
		Table json.RawMessage
	}
	// Asked as the other day: what was reported today would count as earlier.
	if err := json.Unmarshal([]byte(a.Get("/phone")), &kit); err != nil {
		t.Fatal(err)
	}
	script, err := os.ReadFile(filepath.Join(Root(t), "static", "js", "triage.js"))
	if err != nil {
		t.Fatal(err)
	}
	var sets [][]triage.Report
	codes := triage.Codes()
	for i, one := range codes {
		sets = append(sets, []triage.Report{one.Report})
		for _, two := range codes[i+1:] {
			sets = append(sets, []triage.Report{two.Report, one.Report})
		}
	}
	type said struct {
		Level, Title string
		Lines        []string
	}
	got := Ask[[]said](phone, string(script)+`; const table = %s; return %s.map((set) => look(table, set))`, kit.Table, sets)
	practice := map[string]string{"emergency_number": "112", "clinic": "Slope Street Practice"}
	for i, set := range sets {
		inOrder := slices.Clone(set)
		slices.Reverse(inOrder)
		want, err := triage.Assess(triage.Input{Reports: inOrder, Known: []triage.Flag{triage.Diabetes}}, triage.PolicyFrom(nil))
		if err != nil {
			t.Fatal(err)
		}
		lines, err := triage.Fill(want.Tell, practice)
		if err != nil {
			t.Fatal(err)
		}
		if want.Level == triage.Emergency {
			if got[i].Title != lines[0] {
				t.Fatalf("%v: the phone's title is %q", set, got[i].Title)
			}
			lines = lines[1:]
		}
		if got[i].Level != want.Level.String() || !slices.Equal(got[i].Lines, lines) {
			t.Fatalf("%v: the phone says %s: %q; the rules say %s: %q", set, got[i].Level, got[i].Lines, want.Level, lines)
		}
	}
}

// Two people use one phone. What one has not sent stays theirs: it is not shown
// to the other and not sent in their name, and it goes out when its owner is back.
func TestTwoPeopleOnePhone(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	practice := NewPractice(t, brae)
	ann, ben := practice.AddClient("Ann", "Ash"), practice.AddClient("Ben", "Birch")
	db := brae.Query()
	of := func(c Client) int {
		return brae.Count(db, `SELECT count(*) FROM sessions WHERE client_id::text = $1`, strings.TrimPrefix(c.Path, "/clients/"))
	}
	phone := NewPerson(t, brae, "ann and ben", Phone)
	phone.SignIn(ann.SignInName, ClientPassphrase)
	phone.equipped()
	phone.Open("/log")
	phone.signal(true, "/log")
	phone.fillLog("25")
	phone.push("Save")
	phone.until("1 session waits on this phone")
	phone.push("Sign out")
	phone.until("Sign out now? 1 session waits on this phone.")
	phone.push("Stay signed in")
	phone.waits(func() bool { return phone.Count("dialog") == 0 }, "close the question")
	phone.Sees("1 session waits on this phone")
	phone.push("Sign out")
	phone.until("Nobody else sees them")
	phone.picture("sign-out-with-a-queue")
	phone.Press("Keep them and sign out")
	phone.Is("/sign-in", 200)
	phone.signal(true)

	phone.SignIn(ben.SignInName, ClientPassphrase)
	phone.Open("/log")
	phone.SeesNot("on this phone", "25 min")
	phone.fillLog("15")
	phone.Press("Save")
	phone.Is("/week", 200)
	if a, b := of(ann), of(ben); a != 0 || b != 1 {
		t.Fatalf("stored are %d sessions of Ann's and %d of Ben's; want 0 and 1", a, b)
	}
	// A page of Ann's that is still open must not send in Ben's name.
	v := phone.Visitor()
	request, err := http.NewRequest(http.MethodPost, brae.URL+"/log", strings.NewReader("id=1"))
	if err != nil {
		t.Fatal(err)
	}
	request.Header.Set("Brae-Account", "00000000-0000-0000-0000-000000000001")
	request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	answer, err := v.HTTP.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if answer.StatusCode != http.StatusUnauthorized {
		t.Errorf("a log meant for another account: %d", answer.StatusCode)
	}
	phone.Press("Sign out")
	phone.Is("/sign-in", 200)

	phone.SignIn(ann.SignInName, ClientPassphrase)
	phone.waits(func() bool { return of(ann) == 1 }, "send what Ann had left")
	if b := of(ben); b != 1 {
		t.Errorf("Ben has %d sessions", b)
	}
}
