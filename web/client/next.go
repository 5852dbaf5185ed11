package client

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"brae/domain/intensity"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// nextPath is where a client sees the session that comes next, and begins it.
const nextPath = "/plan/session"

// nextView is what the page of the next session shows.
type nextView struct {
	Lead      string
	Changed   bool   // something has changed since the page that was used
	Begun     bool   // the client has said that they begin
	Shown     string // when this was asked
	Seal      string // stands for what is shown
	Why       string // why it is easier than planned; empty if it is not
	Holds     []ui.Hold
	Items     []ui.Definition // empty if there is no session now
	Limits    []string
	Note      string
	Break     bool
	Planned   bool   // there is a prescription
	Emergency string // number to call
}

// NextSession shows the session that comes next, as it is allowed at this moment.
func (p Pages) NextSession(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	a, err := p.Store.SessionAhead(r.Context(), who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	v := p.newNextView(r, a)
	v.Begun = r.URL.Query().Get("begun") == a.Seal() // a hold since then shows the page as it is now
	return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(r.Context(), "Your next session")), nextPage(v))
}

// BeginSession asks once more what is allowed, when the client begins: a page may
// have lain open while something was put on hold.
func (p Pages) BeginSession(w http.ResponseWriter, r *http.Request) error {
	var f struct {
		Seal string `form:"seal"`
	}
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	who := page.From(r.Context())
	a, begun, err := p.Store.BeginSession(r.Context(), who.Actor(), who.ClientID, f.Seal)
	if err != nil {
		return err
	}
	if begun {
		return page.See(w, r, nextPath+"?begun="+a.Seal())
	}
	v := p.newNextView(r, a)
	v.Changed = true
	return p.Render(w, r, http.StatusConflict, p.Frame(r, say.T(r.Context(), "Your next session")), nextPage(v))
}

func (p Pages) newNextView(r *http.Request, a store.SessionAhead) nextView {
	ctx, practice := r.Context(), page.From(r.Context()).Practice
	at := a.At.In(practice.Location)
	v := nextView{
		Seal: a.Seal(), Shown: say.F(ctx, "Shown on %s at %s.", say.LongDay(ctx, at), at.Format("15:04")),
		Holds: Holds(ctx, a.Week.Holds), Limits: limits(ctx, a.Week.Bounds), Emergency: practice.EmergencyNumber,
		Planned: a.Week.Prescription != nil, Why: whyEasier(ctx, a),
	}
	if !v.Planned {
		return v
	}
	v.Note = a.Week.Prescription.Note
	if a.Planned.Class < intensity.Light {
		v.Break = true
		return v
	}
	if a.Session.Class < intensity.Light {
		return v
	}
	if v.Lead = say.T(ctx, "You have done the sessions of this week. You can do one more if you feel well."); a.Week.Next.Left > 0 {
		v.Lead = say.N(ctx, a.Week.Next.Left, "%d session is left this week.", "%d sessions are left this week.")
	}
	v.Items = nextItems(ctx, a)
	return v
}

// nextItems tell what the session is, in the order in which it is done.
func nextItems(ctx context.Context, a store.SessionAhead) []ui.Definition {
	s, pr := a.Session, a.Week.Prescription
	slowly := say.T(ctx, "Start slowly for five minutes, and end slowly for five minutes.")
	if s.Easy > 0 {
		slowly = say.F(ctx, "%d of the minutes are easy: half to start with, half to end with.", s.Easy)
	}
	items := []ui.Definition{
		{Term: say.T(ctx, "What"), Detail: strings.Join(pr.Kinds(), "; ")},
		{Term: say.T(ctx, "How long"), Detail: say.N(ctx, s.Minutes, "%d minute in all", "%d minutes in all")},
		{Term: say.T(ctx, "Warm up and cool down"), Detail: slowly},
	}
	items = append(items, effort(ctx, s.Class, pr.Zones, a.Week.Allowed())...)
	if s.Vigorous > 0 && s.Class < intensity.Vigorous {
		items = append(items, ui.Definition{
			Term: say.T(ctx, "The hard part"), Detail: say.N(ctx, s.Vigorous, "%d minute of it, in short bits, with easier ones between", "%d minutes of it, in short bits, with easier ones between"),
		})
		for _, e := range effort(ctx, intensity.Vigorous, pr.Zones, a.Week.Allowed()) {
			if e.Content == nil { // how hard: the hard part says so
				e.Term = say.F(ctx, "%s in the hard part", e.Term)
				items = append(items, e)
			}
		}
	}
	return items
}

// whyEasier says in one sentence why less is allowed than was planned. The words
// of the gate are written for the practice; these come from the same rules.
func whyEasier(ctx context.Context, a store.SessionAhead) string {
	if !a.Cut() {
		return ""
	}
	held := slices.ContainsFunc(a.Week.Holds, func(h store.Hold) bool { return h.Scope.Stops(a.Planned.Hardest()) })
	if held {
		return say.T(ctx, "Something is on hold, so this session is easier than planned.")
	}
	if a.Session.Class < a.Planned.Class && a.Planned.Class < intensity.Vigorous || a.Week.Vigorous.Allow {
		return say.T(ctx, "For now you may not train as hard as planned, so this session is easier.")
	}
	switch rule := a.Week.Vigorous.First.Rule; {
	case rule == "gate.signoff":
		return say.T(ctx, "Your practitioner looks at your plan again before the next hard part. Until then, do it all at this pace.")
	case rule == "gate.screening":
		return say.T(ctx, "We ask about your health again before the next hard part. Until then, do it all at this pace.")
	case rule == "gate.clearance" || rule == "gate.ceiling" || strings.HasPrefix(rule, "gate.flag."):
		return say.T(ctx, "A doctor has to say yes before the next hard part. Until then, do it all at this pace.")
	}
	return say.T(ctx, "The hard part comes later in your plan. For now, do it all at this pace.")
}

// nothingNow says why there is no session: a break, a stop, or no plan yet.
func (v nextView) nothingNow(ctx context.Context) ui.Nothing {
	switch {
	case !v.Planned:
		return ui.Nothing{
			Title: say.T(ctx, "No plan yet"), Text: say.T(ctx, "Your practitioner signs it with you. Until then you can log what you do."),
			Link: say.T(ctx, "Log a session"), Href: "/log",
		}
	case v.Break:
		return ui.Nothing{
			Title: say.T(ctx, "You have a break."), Text: say.T(ctx, "Nothing is asked of you."), Link: say.T(ctx, "Log a session"), Href: "/log",
		}
	}
	return ui.Nothing{
		Title: say.T(ctx, "No session now"), Text: say.T(ctx, "Your plan waits. If you did something all the same, log it."),
		Link: say.T(ctx, "Log a session"), Href: "/log",
	}
}
