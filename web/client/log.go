package client

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/activity"
	"brae/domain/intensity"
	"brae/domain/triage"
	"brae/domain/volume"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// logForm is the log form as typed.
type logForm struct {
	ID        string     `form:"id"`
	Day       string     `form:"day"`
	Note      string     `form:"note"`
	Parts     []partForm `form:"parts"`
	Symptoms  string     `form:"symptoms"` // no or yes: did anything feel wrong
	Reports   []string   `form:"reports"`  // codes of package triage
	Confirmed string     `form:"confirmed"`
	LoggedAt  string     `form:"logged_at"` // by the phone's clock, if it kept the session
	SentAt    string     `form:"sent_at"`   // by the phone's clock
	Do        string     `form:"do"`        // which button was pressed
}

// partForm is one stretch of the session as typed.
type partForm struct {
	Activity  string `form:"activity"`
	Minutes   string `form:"minutes"`
	Talk      string `form:"talk"`
	Effort    string `form:"effort_6_20"`
	HeartRate string `form:"hr"`
}

// maxParts is how many stretches one form takes.
const maxParts = 8

// input converts the form. What does not parse is a problem of its field; what
// is empty stays zero, which the rules judge.
func (f logForm) input() store.SessionInput {
	var problems domain.Problems
	in := store.SessionInput{Note: strings.TrimSpace(f.Note), Confirmed: f.Confirmed == "yes"}
	var err error
	if in.ID, err = uuid.Parse(f.ID); err != nil {
		problems.Add("id", "The form was incomplete. Load the page again.")
	}
	if in.Day, err = domain.ParseDate(strings.TrimSpace(f.Day)); err != nil {
		problems.Add("day", "Type the day as year-month-day, such as 2026-04-30.")
	}
	in.Clock = volume.Clock{Logged: phoneTime(f.LoggedAt), Sent: phoneTime(f.SentAt)}
	in.Reports = reports(f.Reports)
	switch {
	case f.Symptoms != "yes" && f.Symptoms != "no" && len(in.Reports) == 0:
		problems.Add("symptoms", "Say whether anything felt wrong.")
	case f.Symptoms == "yes" && len(in.Reports) == 0:
		problems.Add("reports", "Tick what you felt. If it is not on the list, tick “Something else”.")
	}
	for i, p := range f.Parts {
		part := store.PartInput{Activity: p.Activity, Talk: intensity.Talk(p.Talk)}
		part.Minutes = number(&problems, i, "minutes", p.Minutes, "Type the minutes as a whole number, such as 30.")
		part.Effort = number(&problems, i, "effort_6_20", p.Effort, "Choose a number from 6 to 20.")
		part.HeartRate = number(&problems, i, "hr", p.HeartRate, "Type the heart rate as a whole number, such as 118.")
		in.Parts = append(in.Parts, part)
	}
	in.Unread = problems
	return in
}

// phoneTime reads an instant by a phone's clock; what is none is not known.
func phoneTime(text string) time.Time {
	at, _ := time.Parse(time.RFC3339, text)
	return at
}

func reports(codes []string) []triage.Report {
	var list []triage.Report
	for _, c := range codes {
		if c != "" {
			list = append(list, triage.Report(c))
		}
	}
	return list
}

func name(i int, field string) string { return fmt.Sprintf("parts[%d].%s", i, field) }

// unread stands for what could not be read. The rules refuse it, so that all that
// is wrong with a form is told at once.
const unread = -1

// number reads a whole number; empty is 0.
func number(problems *domain.Problems, i int, field, typed, sentence string) int {
	typed = strings.TrimSpace(typed)
	if typed == "" {
		return 0
	}
	n, err := strconv.Atoi(typed)
	if err != nil || n < 0 || n > 100000 {
		problems.Add(name(i, field), sentence)
		return unread
	}
	return n
}

// LogForm shows an empty log form, or one filled in like an earlier session.
func (p Pages) LogForm(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	f := logForm{ID: uuid.NewString(), Day: p.Store.Today(who.Practice).String(), Parts: []partForm{{}}}
	if again, err := uuid.Parse(r.URL.Query().Get("again")); err == nil {
		earlier, err := p.Store.Session(r.Context(), who.Actor(), who.ClientID, again)
		if err != nil {
			return err
		}
		f.Parts = nil
		for _, part := range earlier.Parts {
			f.Parts = append(f.Parts, partForm{Activity: part.Activity, Minutes: strconv.Itoa(part.Minutes), Talk: string(part.Talk)})
		}
	}
	return p.renderLog(w, r, http.StatusOK, logView{Form: f})
}

// LogSubmit stores the session once, however often it is sent. The buttons that
// add or remove a stretch send the form, too, so that it works without scripts.
func (p Pages) LogSubmit(w http.ResponseWriter, r *http.Request) error {
	var f logForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	if len(f.Parts) == 0 {
		f.Parts = []partForm{{}}
	}
	switch f.Do {
	case "add":
		if len(f.Parts) < maxParts {
			f.Parts = append(f.Parts, partForm{})
		}
		return p.renderLog(w, r, http.StatusOK, logView{Form: f})
	case "remove":
		if len(f.Parts) > 1 {
			f.Parts = f.Parts[:len(f.Parts)-1]
		}
		return p.renderLog(w, r, http.StatusOK, logView{Form: f})
	}
	who := page.From(r.Context())
	session, err := p.Store.LogSession(r.Context(), who.Actor(), who.ClientID, f.input())
	if page.WantsJSON(r) {
		return p.answerJSON(w, r, session, err)
	}
	if err == nil {
		return p.answer(w, r, session)
	}
	refused := logView{Form: f, Alarm: session.Triage}
	if found, ok := page.Problems(err); ok {
		refused.Problems = page.Tell(r.Context(), p.Kit, found)
		return p.renderLog(w, r, http.StatusUnprocessableEntity, refused)
	}
	if doubts, ok := errors.AsType[domain.Doubts](err); ok {
		refused.Doubts = page.Tell(r.Context(), p.Kit, doubts)
		return p.renderLog(w, r, http.StatusUnprocessableEntity, refused)
	}
	if errors.Is(err, domain.ErrConflict) {
		// The id is used up by another body: most likely the browser went back to a
		// form that was sent. What was typed is kept, under a new id.
		refused.Form.ID = uuid.NewString()
		refused.Problems = domain.Problems{"id": conflictWords}
		return p.renderLog(w, r, http.StatusConflict, refused)
	}
	if session.Triage.Level == triage.Emergency { // whatever is broken, this comes first
		return p.renderEmergency(w, r, http.StatusServiceUnavailable, session.Triage, emergencyView{Sentence: "Your session could not be saved. Send it again later."})
	}
	return err
}

const conflictWords = "You sent this form before with something else in it, and that was saved. If this is another session, send it now."

// saved tells what was stored. It says what was done and does not praise.
func saved(ctx context.Context, s store.Session) string {
	if !s.Deleted.IsZero() {
		return say.T(ctx, "You have deleted this session.")
	}
	var parts []string
	for _, m := range []struct {
		minutes int
		words   string
	}{{s.Totals.Light, "%d min light"}, {s.Totals.Moderate, "%d min moderate"}, {s.Totals.Vigorous, "%d min vigorous"}} {
		if m.minutes > 0 {
			parts = append(parts, say.F(ctx, m.words, m.minutes))
		}
	}
	return say.F(ctx, "Saved: %s.", strings.Join(parts, ", "))
}

func (p Pages) renderLog(w http.ResponseWriter, r *http.Request, status int, v logView) error {
	who := page.From(r.Context())
	week, err := p.Store.Week(r.Context(), who.Actor(), who.ClientID)
	if err != nil {
		return err
	}
	if v.Alarm.Level == triage.Emergency {
		if v.Emergency, err = p.emergency(r.Context(), who.Practice, v.Alarm); err != nil {
			return err
		}
	}
	frame := p.Frame(r, say.T(r.Context(), "Log a session"))
	frame.ProblemTitle = v.Problems != nil || v.Doubts != nil
	v.Fresh = status == http.StatusOK && v.Form.Do == ""
	v.Today, v.Earliest = week.Today.String(), week.Earliest.String()
	v.Activities = activityOptions(r.Context(), week.Recent)
	return p.Render(w, r, status, frame, logPage(v))
}

// logView is what the log page shows.
type logView struct {
	Form            logForm
	Problems        domain.Problems
	Doubts          domain.Doubts
	Fresh           bool // nothing was sent yet: a script may give the form an id of its own
	Today, Earliest string
	Activities      []ui.Option
	Alarm           store.Triage  // what the reports of a refused form came to
	Emergency       *ui.Emergency // comes before everything else
}

// doubt is what has to be confirmed, in a sentence.
func (v logView) doubt() string {
	var sentences []string
	for _, field := range slices.Sorted(maps.Keys(v.Doubts)) {
		sentences = append(sentences, v.Doubts[field])
	}
	return strings.Join(sentences, " ")
}

// summary lists what needs another look, at the top of the page.
func (v logView) summary() []ui.Problem {
	if v.Doubts != nil {
		return ui.Problems(map[string]string{"confirmed": v.doubt()})
	}
	return ui.Problems(v.Problems, v.order()...)
}

// order lists the fields as they stand on the page.
func (v logView) order() []string {
	order := []string{"id", "day"}
	for i := range v.Form.Parts {
		for _, field := range []string{"activity", "minutes", "talk", "effort_6_20", "hr"} {
			order = append(order, name(i, field))
		}
	}
	return append(order, "symptoms", "reports", "note", "minutes")
}

// talkField asks how well the client could talk during the i-th part.
func (v logView) talkField(i int) ui.Field {
	f := ui.Field{
		Name: name(i, "talk"), Label: "How well could you talk?", Value: v.Form.Parts[i].Talk,
		Problem: v.Problems[name(i, "talk")], Cards: true,
	}
	for _, t := range intensity.Talks() {
		f.Options = append(f.Options, ui.Option{Value: string(t), Label: t.Example()})
	}
	return f
}

// effortField asks for the perceived exertion of the i-th part.
func (v logView) effortField(i int) ui.Field {
	f := ui.Field{
		Name: name(i, "effort_6_20"), Label: "How hard did it feel, from 6 (rest) to 20 (all you have)?", Optional: true,
		Value: v.Form.Parts[i].Effort, Problem: v.Problems[name(i, "effort_6_20")],
		Options: []ui.Option{{Value: "", Label: "No answer"}},
	}
	for n := 6; n <= 20; n++ {
		f.Options = append(f.Options, ui.Option{Value: strconv.Itoa(n), Label: strconv.Itoa(n)})
	}
	return f
}

// buttons end the form. The server adds and removes parts, so that it works
// without scripts, and the page comes back at the part.
func (v logView) buttons() []ui.Button {
	list := []ui.Button{{Label: "Save"}}
	n := len(v.Form.Parts)
	if n < maxParts {
		list = append(list, ui.Button{Label: "Add a part at another effort", Name: "do", Value: "add", To: "/log#" + partID(n), Kind: ui.Quiet})
	}
	if n > 1 {
		list = append(list, ui.Button{
			Label: fmt.Sprintf("Remove part %d", n), Name: "do", Value: "remove", To: "/log#" + partID(n-2), Kind: ui.Quiet,
		})
	}
	return list
}

// groupWords are the headings of the list of activities.
var groupWords = map[activity.Group]string{
	activity.Walk: "Walking", activity.Stairs: "Stairs and steps", activity.Run: "Running", activity.Cycle: "Cycling",
	activity.Machine: "Machines", activity.Water: "In the water", activity.Strength: "Strength", activity.Gentle: "Gentle exercise",
	activity.Dance: "Dancing", activity.Sport: "Sport", activity.Home: "House and garden", activity.Rest: "Rest",
}

// activityOptions lists the activities by group, those done lately first and only
// there: what most people look for is what they did the last time.
func activityOptions(ctx context.Context, recent []store.Session) []ui.Option {
	options := []ui.Option{{Value: "", Label: say.T(ctx, "Choose")}}
	lately := map[string]bool{}
	for _, s := range recent {
		for _, p := range s.Parts {
			if a, err := activity.Find(p.Activity); err == nil && !lately[a.ID] {
				lately[a.ID] = true
				options = append(options, ui.Option{Value: a.ID, Label: page.ActivityName(ctx, a.ID), Group: say.T(ctx, "What you did lately")})
			}
		}
	}
	for _, a := range activity.All() {
		if !lately[a.ID] {
			options = append(options, ui.Option{Value: a.ID, Label: page.ActivityName(ctx, a.ID), Group: say.T(ctx, groupWords[a.Group])})
		}
	}
	return options
}

func partID(i int) string { return fmt.Sprintf("part-%d", i+1) }

func partTitle(i, of int) string {
	if of == 1 {
		return "What you did"
	}
	return fmt.Sprintf("Part %d of %d", i+1, of)
}
