package client

import (
	"context"
	"errors"
	"fmt"
	"net/http"
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
		problems.Add("id", say.Key("The form was incomplete. Load the page again."))
	}
	if in.Day, err = domain.ParseDate(strings.TrimSpace(f.Day)); err != nil {
		problems.Add("day", say.Key("Type the day as year-month-day, such as 2026-04-30."))
	}
	in.Clock = volume.Clock{Logged: phoneTime(f.LoggedAt), Sent: phoneTime(f.SentAt)}
	in.Reports = reports(f.Reports)
	switch {
	case f.Symptoms != "yes" && f.Symptoms != "no" && len(in.Reports) == 0:
		problems.Add("symptoms", say.Key("Say whether anything felt wrong."))
	case f.Symptoms == "yes" && len(in.Reports) == 0:
		problems.Add("reports", say.Key("Tick what you felt. If it is not on the list, tick “Something else”."))
	}
	for i, p := range f.Parts {
		part := store.PartInput{Activity: p.Activity, Talk: intensity.Talk(p.Talk)}
		part.Minutes = number(&problems, i, "minutes", p.Minutes, say.Key("Type the minutes as a whole number, such as 30."))
		part.Effort = number(&problems, i, "effort_6_20", p.Effort, say.Key("Choose a number from 6 to 20."))
		part.HeartRate = number(&problems, i, "hr", p.HeartRate, say.Key("Type the heart rate as a whole number, such as 118."))
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

// LogForm shows an empty log form, one filled in like an earlier session, or one
// for a favourite. An earlier session is shown as it will be saved, so that one
// more tap saves it.
func (p Pages) LogForm(w http.ResponseWriter, r *http.Request) error {
	who := page.From(r.Context())
	f := logForm{ID: uuid.NewString(), Day: p.Store.Today(who.Practice).String(), Parts: []partForm{{}}}
	query := r.URL.Query()
	if again, err := uuid.Parse(query.Get("again")); err == nil {
		earlier, err := p.Store.Session(r.Context(), who.Actor(), who.ClientID, again)
		if err != nil {
			return err
		}
		f.Parts = partForms(earlier.Parts)
		for i := range f.Parts { // these differ each time
			f.Parts[i].Effort, f.Parts[i].HeartRate = "", ""
		}
		if query.Get("change") == "" {
			return p.Render(w, r, http.StatusOK, p.Frame(r, say.T(r.Context(), "Same as last time")), againPage(newAgainView(r.Context(), f, earlier)))
		}
	}
	if _, err := activity.Find(query.Get("activity")); err == nil {
		f.Parts[0].Activity, f.Parts[0].Minutes = query.Get("activity"), query.Get("minutes")
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
	if f.parts() {
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
		return p.renderEmergency(w, r, http.StatusServiceUnavailable, session.Triage, emergencyView{Sentence: say.Key("Your session could not be saved. Send it again later.")})
	}
	return err
}

var conflictWords = say.Key("You sent this form before with something else in it, and that was saved. If this is another session, send it now.")

// saved tells what was stored. It says what was done and does not praise.
func saved(ctx context.Context, s store.Session) string {
	if !s.Deleted.IsZero() {
		return say.T(ctx, "You have deleted this session.")
	}
	var parts []string
	for _, m := range []struct {
		minutes int
		words   string
	}{{s.Totals.Light, say.Key("%d min light")}, {s.Totals.Moderate, say.Key("%d min moderate")}, {s.Totals.Vigorous, say.Key("%d min vigorous")}} {
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
	frame := p.Frame(r, say.T(r.Context(), v.title()))
	frame.ProblemTitle = v.Problems != nil || v.Doubts != nil
	v.Fresh = status == http.StatusOK && v.Form.Do == ""
	v.Today, v.Earliest = week.Today.String(), week.Earliest.String()
	v.Activities = activityOptions(r.Context(), week.Recent)
	if v.Fresh {
		v.suggest(r.Context(), week)
	}
	return p.Render(w, r, status, frame, logPage(v))
}
