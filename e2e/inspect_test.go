package e2e

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// badPage breaks each rule that Inspect checks, once.
const badPage = `<!DOCTYPE html><html lang="en"><head><title>Bad</title>
	<meta name="viewport" content="width=device-width, initial-scale=1"><style>
	body { margin: 0 }
	.pale { color: #bbb; background: #fff }
	.tiny { display: inline-block; width: 12px; height: 12px; overflow: hidden }
	.bare:focus { outline: 0 }
	.moves { transition: color 2s }
	.wide { width: 700px; background: #eee }
	.cut { height: 20px; width: 200px; overflow: hidden; font-size: 16px; line-height: 1.2 }
	.lid { position: fixed; inset: 0 0 auto; height: 60px; background: #ddd; z-index: 2 }
	.under { position: fixed; top: 10px; left: 10px }
</style></head><body>
	<div class="lid">A lid</div>
	<main>
		<h1>A bad page</h1>
		<p class="pale">Pale words</p>
		<a class="tiny" href="#a">x</a>
		<button class="bare" style="min-height:48px;min-width:48px">Bare</button>
		<p class="moves">Moving words</p>
		<div class="wide">Wide</div>
		<div class="cut">A line of words that fits</div>
		<button class="under">Under the lid</button>
		<button onfocus="this.nextElementSibling.focus()">Skips itself</button><button>The last</button>
		<input type="text">
	</main></body></html>`

// A check that cannot fail is none: each thing that is wrong with the page must
// be found.
func TestInspectFindsWhatIsWrong(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write([]byte(badPage))
	}))
	t.Cleanup(server.Close)
	p := NewPerson(t, &Brae{URL: server.URL}, "inspector", Desk)
	p.Open("/")
	titles.Store("Bad", "another page")
	found := strings.Join(p.inspect("bad", "page"), "\n")
	for _, want := range []string{
		`any size: the title "Bad" is that of page another page, too`,
		`320 px: the page is 700 px wide in a window of 320 px: `,
		`390 px: a "x" is 12 by 12 px, less than 44`,
		`1280 px: a "x" is 12 by 12 px, less than 24`,
		`1280 px, spaced out: div "A line of words that fits" cuts its text off`,
		`1280 px, by keyboard: button "Bare" shows no ring`,
		`1280 px, by keyboard: button "Under the lid" has the focus and cannot be seen`,
		`1280 px, by keyboard: Tab does not reach button "Skips itself"`,
		`less motion: p "Moving words" moves`,
	} {
		if !strings.Contains(found, want) {
			t.Errorf("not found: %s", want)
		}
	}
	if _, err := axeScript(); err == nil {
		for _, want := range []string{`1280 px, dark: axe color-contrast`, `1280 px, dark: axe label`} {
			if !strings.Contains(found, want) {
				t.Errorf("not found: %s", want)
			}
		}
	}
	if t.Failed() {
		t.Logf("found:\n%s", found)
	}
}

// What stands in the console, and what every page must have, is seen, too.
func TestOrdinaryFindsWhatIsWrong(t *testing.T) {
	t.Parallel()
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Header().Set("Content-Security-Policy", "script-src 'sha256-AAAA'; style-src 'none'")
		_, _ = w.Write([]byte(`<!DOCTYPE html><html><head><link rel=stylesheet href=/static/none.css></head><body>
			<h1 id=a>One</h1><h1 id=a>Two</h1><script>console.log(1)</script><p aria-describedby=b>x</p></body></html>`))
	}))
	t.Cleanup(server.Close)
	r := &recorder{TB: t}
	p := NewPerson(t, &Brae{URL: server.URL}, "inspector", Desk)
	p.t = r
	p.Open("/")
	p.t = t
	found := strings.Join(r.errors, "\n")
	for _, want := range []string{
		"2 h1 instead of one", "no language", "no title", "not exactly one main", "the id a stands twice", "names b, which is not there",
		"the console shows an error: security",
	} {
		if !strings.Contains(found, want) {
			t.Errorf("not found: %s; found:\n%s", want, found)
		}
	}
}

// recorder takes note of errors instead of failing.
type recorder struct {
	testing.TB
	errors []string
}

func (r *recorder) Errorf(format string, args ...any) {
	r.errors = append(r.errors, fmt.Sprintf(format, args...))
}
