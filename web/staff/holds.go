package staff

import (
	"errors"
	"net/http"
	"strings"

	"github.com/google/uuid"

	"brae/domain"
	"brae/domain/clearance"
	"brae/store"
	"brae/web/page"
	"brae/web/ui"
)

// holdForm is what is typed about holds.
type holdForm struct {
	Scope      string `form:"scope"`
	Reason     string `form:"reason"`
	ResolvedOn string `form:"resolved_on"`
	Resolved   string `form:"resolved_reason"`
}

// holdsView is what the page of a client's holds shows.
type holdsView struct {
	store.HoldFile
	Form     holdForm
	Problems domain.Problems // of the form to open a hold
	At       uuid.UUID       // the hold whose form was refused
	Wrong    domain.Problems // of that form
}

func (v holdsView) base() string { return recordPath(v.Client.ID) + "/holds" }

// Holds shows the holds of a client, open and released.
func (p Pages) Holds(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	return p.renderHolds(w, r, http.StatusOK, id, holdsView{})
}

func (p Pages) renderHolds(w http.ResponseWriter, r *http.Request, status int, client uuid.UUID, v holdsView) error {
	var err error
	if v.HoldFile, err = p.Store.HoldFile(r.Context(), page.From(r.Context()).Actor(), client); err != nil {
		return err
	}
	frame := p.Frame(r, "Holds of "+v.Client.Name())
	frame.ProblemTitle = v.Problems != nil || v.Wrong != nil
	return p.renderRecord(w, r, status, frame, client, holdsPage(v))
}

// OpenHold opens a practitioner's hold.
func (p Pages) OpenHold(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f holdForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	scope, err := clearance.ParseScope(f.Scope)
	if err != nil {
		scope = clearance.NoHold // refused with words
	}
	_, err = p.Store.OpenHold(r.Context(), page.From(r.Context()).Actor(), id, scope, f.Reason)
	if problems, ok := page.Problems(err); ok {
		return p.renderHolds(w, r, http.StatusUnprocessableEntity, id, holdsView{Form: f, Problems: problems})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "The hold is open.")
	return page.See(w, r, recordPath(id)+"/holds")
}

// holdForms decodes the form of one hold.
func holdForms(r *http.Request) (client, hold uuid.UUID, f holdForm, err error) {
	if client, err = pathID(r, "client"); err != nil {
		return client, hold, f, err
	}
	if hold, err = pathID(r, "hold"); err != nil {
		return client, hold, f, err
	}
	return client, hold, f, page.Decode(r, &f)
}

// ReleaseHold releases a hold, if the rules let it go.
func (p Pages) ReleaseHold(w http.ResponseWriter, r *http.Request) error {
	client, hold, f, err := holdForms(r)
	if err != nil {
		return err
	}
	err = p.Store.ReleaseHold(r.Context(), page.From(r.Context()).Actor(), client, hold, f.Reason)
	problems, wrong := page.Problems(err)
	if errors.Is(err, domain.ErrHeld) {
		problems, wrong = domain.Problems{"reason": "Only a doctor's decision that covers the cause releases this hold. That you tried is noted."}, true
	}
	if wrong {
		return p.renderHolds(w, r, http.StatusUnprocessableEntity, client, holdsView{Form: f, At: hold, Wrong: problems})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "The hold is released.")
	return page.See(w, r, recordPath(client)+"/holds")
}

// ResolveHold records that the condition behind a hold is over.
func (p Pages) ResolveHold(w http.ResponseWriter, r *http.Request) error {
	client, hold, f, err := holdForms(r)
	if err != nil {
		return err
	}
	on, _ := domain.ParseDate(strings.TrimSpace(f.ResolvedOn)) // zero is refused with words
	err = p.Store.ResolveHold(r.Context(), page.From(r.Context()).Actor(), client, hold, on, f.Resolved)
	if problems, ok := page.Problems(err); ok {
		return p.renderHolds(w, r, http.StatusUnprocessableEntity, client, holdsView{Form: f, At: hold, Wrong: problems})
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "Noted. A doctor's decision of that day or later can release the hold now.")
	return page.See(w, r, recordPath(client)+"/holds")
}

// needsWords says what releases a hold.
func needsWords(h store.Hold) string {
	switch {
	case h.ID == uuid.Nil:
		return "A new decision of a doctor ends it."
	case h.Needs == clearance.NeedsPractitioner:
		return "A practitioner releases it, with a reason."
	case h.Needs == clearance.NeedsStatement:
		return "It is released when the client says that it is over."
	case h.Needs == clearance.NeedsResolution && h.ResolvedOn.IsZero():
		return "It has to be over first. Then a doctor's decision of that day or later releases it."
	case h.Needs == clearance.NeedsResolution:
		return "Over since " + day(h.ResolvedOn) + ". A doctor's decision of that day or later releases it."
	}
	return "A doctor's decision that covers it releases it."
}

func holdItems(h store.Hold) []ui.Definition {
	list := []ui.Definition{
		{Term: "Why", Detail: h.Reason},
		{Term: "Opened", Detail: day(h.OpenedOn) + openedBy(h) + ", rule " + h.Rule},
	}
	if !h.Since.IsZero() {
		list = append(list, ui.Definition{Term: "Known since", Detail: day(h.Since)})
	}
	if h.Released != nil {
		list = append(list, ui.Definition{Term: "Released", Detail: h.Released.At.Format("2 January 2006") + " by " + h.Released.By + ": " + h.Released.Reason})
		return list
	}
	return append(list, ui.Definition{Term: "Ends", Detail: needsWords(h)})
}

func openedBy(h store.Hold) string {
	if h.OpenedBy == "" {
		return ""
	}
	return " by " + h.OpenedBy
}

// problemsOf are the problems of the form of one hold.
func (v holdsView) problemsOf(h store.Hold) domain.Problems {
	if h.ID == v.At {
		return v.Wrong
	}
	return nil
}

// formOf is what was typed about one hold.
func (v holdsView) formOf(h store.Hold) holdForm {
	if h.ID == v.At {
		return v.Form
	}
	return holdForm{}
}

// askable reports whether a hold can be tried to be released here: what only a
// doctor can end has its way through the doctor's answer.
func (v holdsView) askable(h store.Hold) bool {
	return v.CanEnd[h.ID] || h.ID != uuid.Nil && h.ID == v.At
}

var scopeOptions = []ui.Option{
	{Value: "vigorous", Label: "Vigorous work"},
	{Value: "above_light", Label: "Everything above light"},
	{Value: "all", Label: "All exercise"},
}
