package client

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"net/http"
	"slices"
	"strconv"

	"github.com/a-h/templ"
	"github.com/google/uuid"

	"brae/domain/triage"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// Offline shows the page that a phone keeps for when there is no connection: the
// log form, and nothing about anybody. A script adds what the phone knows.
func (p Pages) Offline(w http.ResponseWriter, r *http.Request) error {
	frame, body := p.shell(r)
	return p.Render(w, r, http.StatusOK, frame, body)
}

func (p Pages) shell(r *http.Request) (ui.Page, templ.Component) {
	v := logView{
		// The phone makes the id and fills in the day: it may keep the page for weeks.
		Form: logForm{ID: uuid.Nil.String(), Parts: []partForm{{}}}, Fresh: true,
		Activities: activityOptions(r.Context(), nil),
	}
	frame := p.Shell(r, say.T(r.Context(), "Log without a signal"))
	return frame, offlinePage(v, frame.Emergency)
}

// kit is what a phone keeps of a client, in their language and ready to show.
type kit struct {
	Account string            `json:"account"`
	Lang    string            `json:"lang"`
	Zone    string            `json:"zone"` // of the practice
	LogDays int               `json:"log_days"`
	Shell   string            `json:"shell"` // changes when the page that is kept does
	Again   []kitSession      `json:"again"` // the last different sessions
	Lines   []string          `json:"lines"` // holds, and how hard it should be
	Number  string            `json:"number"`
	Tel     string            `json:"tel"`
	Table   kitTable          `json:"table"`
	Words   map[string]string `json:"words"`
}

type kitSession struct {
	What  string    `json:"what"`
	Parts []kitPart `json:"parts"`
}

type kitPart struct {
	Activity string `json:"activity"`
	Minutes  string `json:"minutes"`
	Talk     string `json:"talk"`
}

// kitTable is a [triage.Table] with its texts. An outcome is the level, the hold,
// its title and what is told; the last two are places in Texts. In an emergency
// the first line is the title.
type kitTable struct {
	Reports  []triage.Report `json:"reports"`
	Pairs    []int           `json:"pairs"`
	Levels   []string        `json:"levels"`
	Outcomes [][4]any        `json:"outcomes"`
	Texts    []string        `json:"texts"`
}

// Phone answers the script of a client's pages with what the phone keeps. It is
// asked often and changes seldom: a phone that has it says so and gets nothing.
func (p Pages) Phone(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	phone, err := p.Store.Phone(r.Context(), who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	k, err := p.kit(r, phone)
	if err != nil {
		return err
	}
	body, err := json.Marshal(k)
	if err != nil {
		return err
	}
	h := w.Header()
	h.Set("Cache-Control", "no-store") // the script keeps it, under the account
	h.Set("Content-Type", "application/json")
	tag := `"` + short(body) + `"`
	h.Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	_, _ = w.Write(body) // the browser went away: nobody to tell
	return nil
}

func short(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

func (p Pages) kit(r *http.Request, phone store.Phone) (kit, error) {
	ctx, who := r.Context(), page.From(r.Context())
	frame, body := p.shell(r)
	var shell bytes.Buffer
	if err := ui.Framed(frame, body).Render(ctx, &shell); err != nil {
		return kit{}, err
	}
	k := kit{
		Account: who.ID.String(), Lang: frame.Lang, Zone: who.Practice.Zone, LogDays: phone.LogDays, Shell: short(shell.Bytes()),
		Number: who.Practice.EmergencyNumber, Tel: string(ui.Dial(who.Practice.EmergencyNumber)), Words: kitWords(ctx, who.Practice.EmergencyNumber),
	}
	for _, s := range phone.Week.Recent {
		again := kitSession{What: newSessionLine(ctx, s, phone.Week.Target).What}
		for _, part := range s.Parts {
			again.Parts = append(again.Parts, kitPart{part.Activity, strconv.Itoa(part.Minutes), string(part.Talk)})
		}
		k.Again = append(k.Again, again)
	}
	v := newWeekView(ctx, phone.Week)
	for _, h := range v.Holds {
		k.Lines = append(k.Lines, h.Sentence+" "+h.Cause)
	}
	for _, e := range v.Effort {
		if e.Detail != "" {
			k.Lines = append(k.Lines, e.Term+": "+e.Detail)
		}
	}
	var err error
	k.Table, err = p.kitTable(ctx, who.Practice, phone.Table)
	return k, err
}

func (p Pages) kitTable(ctx context.Context, practice store.Practice, t triage.Table) (kitTable, error) {
	k := kitTable{Reports: t.Reports, Pairs: t.Pairs}
	for l := triage.Fine; l <= triage.Emergency; l++ {
		k.Levels = append(k.Levels, l.String())
	}
	place := func(text string) int {
		i := slices.Index(k.Texts, text)
		if i < 0 {
			i = len(k.Texts)
			k.Texts = append(k.Texts, text)
		}
		return i
	}
	for _, o := range t.Outcomes {
		lines, err := p.lines(ctx, practice, o.Tell)
		if err != nil {
			return kitTable{}, err
		}
		places := make([]int, len(lines))
		for i, line := range lines {
			places[i] = place(line)
		}
		heads := place(say.T(ctx, title(store.Triage{Level: o.Level, Hold: o.Hold})))
		k.Outcomes = append(k.Outcomes, [4]any{int(o.Level), int(o.Hold), heads, places})
	}
	return k, nil
}

// kitWords are the sentences of the script.
func kitWords(ctx context.Context, number string) map[string]string {
	return map[string]string{
		"one":       say.T(ctx, "1 session waits on this phone"),
		"many":      say.T(ctx, "{n} sessions wait on this phone"),
		"unsent":    say.T(ctx, "Not yet sent. It goes out by itself when there is a signal."),
		"kept":      say.T(ctx, "Your session is kept on this phone. It is not yet sent."),
		"send":      say.T(ctx, "Send now"),
		"signIn":    say.T(ctx, "Sign in to send."),
		"look":      say.T(ctx, "This one needs another look. It is not saved yet."),
		"conflict":  say.T(ctx, conflictWords),
		"correct":   say.T(ctx, "Correct it"),
		"discard":   say.T(ctx, "Throw it away"),
		"sure":      say.T(ctx, "Throw this session away? It is saved nowhere else."),
		"asOf":      say.T(ctx, "As of {t}. A stop that came later is not shown."),
		"min":       say.T(ctx, "{n} min"),
		"part":      say.T(ctx, "Part {n}"),
		"same":      say.T(ctx, "Do the same again"),
		"lately":    say.T(ctx, "What you did lately"),
		"call":      say.F(ctx, "Call %s", number),
		"on":        say.T(ctx, "Go on"),
		"read":      say.T(ctx, "I have read this"),
		"outTitle":  say.T(ctx, "Sign out now?"),
		"outText":   say.T(ctx, "They stay on this phone, under your account. They are sent when you sign in here again. Nobody else sees them."),
		"outKeep":   say.T(ctx, "Keep them and sign out"),
		"outDrop":   say.T(ctx, "Throw them away and sign out"),
		"outStay":   say.T(ctx, "Stay signed in"),
		"outSignal": say.T(ctx, "There is no signal now. Try to sign out again later."),
	}
}

// sameAccount refuses what a script sends for another account than the one that
// is signed in: two people may use one phone.
func sameAccount(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if meant := r.Header.Get("Brae-Account"); meant != "" && meant != page.From(r.Context()).ID.String() {
			w.Header().Set("Content-Type", "application/json")
			w.WriteHeader(http.StatusUnauthorized)
			_, _ = w.Write([]byte(`{"title":"Somebody else is signed in"}`))
			return
		}
		next.ServeHTTP(w, r)
	})
}
