package account

import (
	"context"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/a-h/templ"
	"github.com/go-chi/chi/v5"

	"brae/domain"
	"brae/store"
	"brae/web/page"
	"brae/web/post"
	"brae/web/say"
	"brae/web/ui"
)

// postView is what reaches a client outside of Brae: reminders and the calendar.
type postView struct {
	Mail     bool // the practice sends mail
	Reminder *store.Reminder
	Form     reminderForm
	Calendar bool   // there is a calendar address
	Link     string // of the calendar, shown once
}

// reminderForm is a reminder as typed.
type reminderForm struct {
	Address string   `form:"address"`
	Days    []string `form:"days"` // 0 is Sunday
	Time    string   `form:"time"`
}

// reminder converts the form. What cannot be read, the store refuses.
func (f reminderForm) reminder() store.Reminder {
	r := store.Reminder{Address: f.Address, Minute: -1}
	for _, text := range f.Days {
		if d, err := strconv.Atoi(text); err == nil && d >= 0 && d <= 6 {
			r.Days = r.Days.With(time.Weekday(d))
		}
	}
	hour, minute, _ := strings.Cut(strings.TrimSpace(f.Time), ":")
	h, err := strconv.Atoi(hour)
	m, err2 := strconv.Atoi(minute)
	if err == nil && err2 == nil && h >= 0 && h < 24 && m >= 0 && m < 60 {
		r.Minute = 60*h + m
	}
	return r
}

// formOf shows a reminder as it is, or a quiet proposal.
func formOf(r *store.Reminder) reminderForm {
	if r == nil {
		return reminderForm{Days: []string{"1", "3", "5"}, Time: "18:00"}
	}
	f := reminderForm{Address: r.Address, Time: twoDigits(r.Minute/60) + ":" + twoDigits(r.Minute%60)}
	for d := range 7 {
		if r.Days.Has(time.Weekday(d)) {
			f.Days = append(f.Days, strconv.Itoa(d))
		}
	}
	return f
}

func twoDigits(n int) string {
	if n < 10 {
		return "0" + strconv.Itoa(n)
	}
	return strconv.Itoa(n)
}

// loadPost fills in what the account page says of reminders and the calendar.
func (p Pages) loadPost(r *http.Request, v *accountView) error {
	if !v.Reader {
		return nil
	}
	actor := page.From(r.Context()).Actor()
	v.Post.Mail = p.Mailer != nil
	var err error
	if v.Post.Reminder, err = p.Store.Reminder(r.Context(), actor); err != nil {
		return err
	}
	if v.Post.Form.Address == "" && v.Post.Form.Days == nil && v.Post.Form.Time == "" {
		v.Post.Form = formOf(v.Post.Reminder)
	}
	v.Post.Calendar, err = p.Store.HasCalendar(r.Context(), actor)
	return err
}

// SetReminder stores when a client wants to be reminded and, for a new address,
// asks the address first.
func (p Pages) SetReminder(w http.ResponseWriter, r *http.Request) error {
	var f reminderForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	if f.Days == nil {
		f.Days = []string{}
	}
	who := page.From(r.Context())
	refused := func(problems domain.Problems) error {
		v := newAccountView(r, problems)
		v.Post.Form = f
		return p.renderAccount(w, r, http.StatusUnprocessableEntity, v)
	}
	if p.Mailer == nil {
		return refused(domain.Problems{"address": say.Key("Your practice does not send mail.")})
	}
	token, err := p.Store.SetReminder(r.Context(), who.Actor(), f.reminder())
	if problems, ok := page.Problems(err); ok {
		return refused(problems)
	}
	if err != nil {
		return err
	}
	if token == "" {
		p.Say(r.Context(), say.T(r.Context(), "Saved."))
		return page.See(w, r, "/account#reminders")
	}
	link := p.Origin.JoinPath("reminder", "confirm", token).String()
	if err := p.Mailer.Send(r.Context(), post.Confirmation(r.Context(), strings.TrimSpace(f.Address), who.Practice.Name, link)); err != nil {
		p.Log.WarnContext(r.Context(), "a mail to confirm an address was not sent", "account", who.ID, "error", err)
		return refused(domain.Problems{"address": say.Key("The mail could not be sent. Look at the address, or try again later.")})
	}
	p.Say(r.Context(), say.T(r.Context(), "We have sent you a mail. Open the link in it. Then the reminders begin."))
	return page.See(w, r, "/account#reminders")
}

// StopReminder ends a client's reminders.
func (p Pages) StopReminder(w http.ResponseWriter, r *http.Request) error {
	if err := p.Store.StopReminder(r.Context(), page.From(r.Context()).Actor()); err != nil {
		return err
	}
	p.Say(r.Context(), say.T(r.Context(), "No more reminders."))
	return page.See(w, r, "/account#reminders")
}

// ConfirmForm asks whoever opens the link in the mail to press a button: a program
// that looks at mail opens links, too.
func (p Pages) ConfirmForm(w http.ResponseWriter, r *http.Request) error {
	if err := p.Store.Awaited(r.Context(), chi.URLParam(r, "token")); err != nil {
		return p.lateLink(w, r, err)
	}
	return p.renderPost(w, r, say.T(r.Context(), "Reminders by e-mail"), confirmPage())
}

// Confirm lets reminders come.
func (p Pages) Confirm(w http.ResponseWriter, r *http.Request) error {
	if err := p.Store.ConfirmReminder(r.Context(), chi.URLParam(r, "token")); err != nil {
		return p.lateLink(w, r, err)
	}
	return p.renderPost(w, r, say.T(r.Context(), "Thank you"), confirmedPage())
}

// StopForm asks whoever opens the link in a reminder to press a button.
func (p Pages) StopForm(w http.ResponseWriter, r *http.Request) error {
	return p.renderPost(w, r, say.T(r.Context(), "Reminders by e-mail"), stopPage())
}

// Stop ends the reminders. Mail programs ask for it, too, with one POST (RFC 8058).
func (p Pages) Stop(w http.ResponseWriter, r *http.Request) error {
	if err := p.Store.StopReminderByLink(r.Context(), chi.URLParam(r, "token")); err != nil {
		return p.lateLink(w, r, err)
	}
	return p.renderPost(w, r, say.T(r.Context(), "No more reminders."), stoppedPage())
}

func (p Pages) lateLink(w http.ResponseWriter, r *http.Request, err error) error {
	if !errors.Is(err, domain.ErrNotFound) {
		return err
	}
	return p.deadLink(w, r, err)
}

// NewCalendar makes a calendar address and shows it, once.
func (p Pages) NewCalendar(w http.ResponseWriter, r *http.Request) error {
	token, err := p.Store.NewCalendar(r.Context(), page.From(r.Context()).Actor())
	if err != nil {
		return err
	}
	v := newAccountView(r, nil)
	v.Post.Link = p.Origin.JoinPath("calendar", token+".ics").String()
	return p.renderAccount(w, r, http.StatusOK, v)
}

// StopCalendar makes the calendar address worthless.
func (p Pages) StopCalendar(w http.ResponseWriter, r *http.Request) error {
	if err := p.Store.StopCalendar(r.Context(), page.From(r.Context()).Actor()); err != nil {
		return err
	}
	p.Say(r.Context(), say.T(r.Context(), "The calendar address no longer works."))
	return page.See(w, r, "/account#calendar")
}

// weekdayOptions are the days of the week in the order of the practice.
func weekdayOptions(ctx context.Context, chosen []string, start time.Weekday) []ui.Option {
	var list []ui.Option
	for i := range 7 {
		d := (int(start) + i) % 7
		value := strconv.Itoa(d)
		list = append(list, ui.Option{
			Value: value, Label: say.Weekday(ctx, time.Date(2026, 11, 22+d, 0, 0, 0, 0, time.UTC)), // a Sunday, and the days after it
			Checked: slices.Contains(chosen, value),
		})
	}
	return list
}

func calendarButton(ctx context.Context, again bool) string {
	if again {
		return say.T(ctx, "Make a new address")
	}
	return say.T(ctx, "Make an address for my calendar")
}

// renderPost sends a page to who holds a link in a mail.
func (p Pages) renderPost(w http.ResponseWriter, r *http.Request, title string, body templ.Component) error {
	practice, err := p.Store.Practice(r.Context())
	if err != nil {
		return err
	}
	frame := p.Frame(r, title)
	frame.Practice = practice.Name
	return p.Render(w, r, http.StatusOK, frame, body)
}
