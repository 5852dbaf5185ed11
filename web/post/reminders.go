package post

import (
	"context"
	"errors"
	"log/slog"
	"net/url"
	"time"

	"golang.org/x/text/language"

	"brae/domain"
	"brae/store"
	"brae/web/say"
)

// Reminders sends what clients have asked to be reminded of. All fields must be
// set.
type Reminders struct {
	Store  *store.Store
	Mailer *Mailer
	Origin *url.URL
	Log    *slog.Logger
}

// Every is how often to look for reminders that are due.
const Every = 30 * time.Second

// Run sends reminders until ctx ends.
func (r Reminders) Run(ctx context.Context) {
	tick := time.NewTicker(Every)
	defer tick.Stop()
	for {
		r.Send(ctx)
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

// Send sends the reminders that are due. What fails is logged, without addresses,
// and tried again later.
func (r Reminders) Send(ctx context.Context) {
	accounts, err := r.Store.RemindersAbout(ctx)
	if err != nil && ctx.Err() == nil {
		r.Log.WarnContext(ctx, "reminders could not be looked up", "error", err)
	}
	for _, account := range accounts {
		if ctx.Err() != nil {
			return
		}
		d, err := r.Store.ClaimReminder(ctx, account)
		switch {
		case err == nil:
			r.send(context.WithoutCancel(ctx), d) // what was claimed is sent, also while Brae stops
		case !errors.Is(err, domain.ErrNotFound) && ctx.Err() == nil:
			r.Log.WarnContext(ctx, "a reminder could not be looked up", "account", account, "error", err)
		}
	}
}

func (r Reminders) send(ctx context.Context, d store.DueReminder) {
	err := r.Mailer.Send(ctx, r.mail(d))
	if err == nil {
		return
	}
	r.Log.WarnContext(ctx, "a reminder was not sent", "account", d.Account, "error", err)
	if errors.Is(err, ErrUnsure) {
		return
	}
	if err := r.Store.ReminderNotSent(ctx, d); err != nil {
		r.Log.WarnContext(ctx, "a reminder is not tried again", "account", d.Account, "error", err)
	}
}

func (r Reminders) mail(d store.DueReminder) Mail {
	ctx := say.With(context.Background(), language.Make(d.Language))
	stop := r.Origin.JoinPath("reminder", "stop", d.Stop).String()
	return Mail{
		To: d.Address, Stop: stop,
		Subject: say.F(ctx, "A reminder from %s", d.Practice),
		Text: say.F(ctx, "You asked %s to remind you today.", d.Practice) + "\n\n" + r.Origin.JoinPath("week").String() + "\n\n" +
			say.T(ctx, "Nobody reads answers to this mail.") + "\n" + say.T(ctx, "No more of these:") + " " + stop + "\n",
	}
}

// Confirmation is the mail that asks whether an address wants reminders.
func Confirmation(ctx context.Context, to, practice, link string) Mail {
	return Mail{
		To:      to,
		Subject: say.F(ctx, "May %s remind you?", practice),
		Text: say.F(ctx, "Somebody asked %s to send reminders to this address. If it was you, say yes here:", practice) + "\n\n" + link + "\n\n" +
			say.T(ctx, "The link works for two days. If it was not you, do nothing. Then no more mail comes.") + "\n",
	}
}
