package account

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"net/http"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"
	"github.com/go-chi/chi/v5"
	"golang.org/x/text/language"

	"brae/domain"
	"brae/store"
	"brae/web/say"
)

// Calendar answers a calendar program with the planned sessions, in the form of
// RFC 5545. Whoever holds the address may ask: it is the secret.
func (p Pages) Calendar(w http.ResponseWriter, r *http.Request) error {
	token, ok := strings.CutSuffix(chi.URLParam(r, "token"), ".ics")
	if !ok {
		return domain.ErrNotFound
	}
	c, err := p.Store.CalendarOf(r.Context(), token)
	if err != nil {
		return err
	}
	body := feed(say.With(r.Context(), language.Make(c.Language)), c)
	sum := sha256.Sum256([]byte(body))
	h := w.Header()
	h.Set("Content-Type", "text/calendar; charset=utf-8")
	h.Set("Cache-Control", "private, max-age=900")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("ETag", `"`+hex.EncodeToString(sum[:12])+`"`)
	http.ServeContent(w, r, "", time.Time{}, strings.NewReader(body))
	return nil
}

// feed writes one event for each planned session. Plans change every week, so
// there is no rule for repeating. An event says how long and no more, on purpose:
// others often see a calendar, and the account page promises that it shows nothing
// about health. The kind of exercise and how hard it is would break that.
func feed(ctx context.Context, c store.Calendar) string {
	cal := ics.NewCalendarFor("Brae")
	cal.SetMethod(ics.MethodPublish)
	cal.SetName(c.Practice)
	cal.SetXWRCalName(c.Practice)
	cal.SetRefreshInterval("PT6H")
	for _, e := range c.Events {
		event := cal.AddEvent(e.ID.String() + "@brae")
		event.SetDtStampTime(e.ChangedAt)
		event.SetModifiedAt(e.ChangedAt)
		event.SetSequence(e.Sequence)
		event.SetAllDayStartAt(e.Day.Time())
		event.SetAllDayEndAt(e.Day.AddDays(1).Time())
		event.SetSummary(say.F(ctx, "Exercise, %d min", e.Minutes))
		event.SetTimeTransparency(ics.TransparencyTransparent)
		event.SetClass(ics.ClassificationPrivate)
		status := ics.ObjectStatusConfirmed
		if e.Cancelled {
			status = ics.ObjectStatusCancelled
		}
		event.SetStatus(status)
	}
	return cal.Serialize(ics.WithNewLineWindows) // RFC 5545, 3.1: lines end with CR and LF
}
