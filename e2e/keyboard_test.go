package e2e

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// keys presses keys one after the other and returns how many.
func (p *Person) keys(keys ...string) int {
	p.t.Helper()
	for _, key := range keys {
		p.Key(key)
	}
	return len(keys)
}

// tabTo presses Tab until the element with this id has the focus, and returns how
// many times.
func (p *Person) tabTo(id string) int {
	p.t.Helper()
	for n := 1; n <= 40; n++ {
		p.Key(kb.Tab)
		if Ask[string](p, `return document.activeElement.id`) == id {
			return n
		}
	}
	p.t.Fatalf("%s at %s: Tab does not reach %s; at %s", p.Name, p.Path(), id, Ask[string](p, `return name(document.activeElement)`))
	return 0
}

// arrives waits for the page that a key has asked for.
func (p *Person) arrives(key string) {
	p.t.Helper()
	p.load(func() error { p.Key(key); return nil })
}

// Everything can be done by keyboard alone: sign in, log a session, put an error
// right, sign out.
func TestByKeyboardAlone(t *testing.T) {
	t.Parallel()
	brae := Start(t)
	client := NewPractice(t, brae).AddClient("Kay", "Knoll")
	p := NewPerson(t, brae, "client", Desk)

	p.Open("/sign-in")
	p.do(`start()`)
	p.tabTo("name")
	p.Key(client.SignInName)
	p.tabTo("passphrase")
	p.Key(ClientPassphrase)
	p.arrives(kb.Enter)
	p.Is("/week", 200)

	p.Open("/log")
	p.do(`start()`)
	pressed := p.keys(kb.Tab, kb.Enter) // skips to the content
	pressed += p.tabTo("parts[0].activity")
	p.Key("Brisk")
	pressed += p.tabTo("parts[0].minutes")
	p.arrives(kb.Enter) // saves, and does not add a part
	if p.Status() != 422 {
		t.Errorf("Enter in a field does not save: status %d at %s", p.Status(), p.Path())
	}
	pressed++
	p.do(`if (!document.activeElement.classList.contains("summary")) throw new Error("the summary does not have the focus")`)
	pressed += p.keys(kb.Tab, kb.Enter) // to the first thing to put right
	if at := Ask[string](p, `return document.activeElement.name`); at != "parts[0].minutes" {
		t.Fatalf("the summary leads to %q", at)
	}
	p.Key("30")
	pressed += p.keys(kb.Tab, " ", kb.ArrowDown) // how well could you talk: the second answer
	pressed += p.tabTo("symptoms")
	pressed += p.keys(" ") // nothing felt wrong
	p.arrives(kb.Enter)
	pressed++
	p.Is("/week", 200)
	p.Sees("Saved: 30 min moderate")
	t.Logf("a session with an error put right takes %d key presses beside what is typed", pressed)
	if pressed > 25 {
		t.Errorf("a session takes %d key presses, more than 25", pressed)
	}

	p.do(`[...document.querySelectorAll("button")].find((b) => words(b) === "Sign out").id = "out"; start()`)
	p.tabTo("out")
	p.arrives(kb.Enter)
	p.Is("/sign-in", 200)
}
