package staff

import (
	"net/http"

	"github.com/google/uuid"

	"brae/domain"
	"brae/store"
	"brae/web/page"
)

// pauseForm is a pause as typed.
type pauseForm struct {
	ID   string `form:"id"`
	From string `form:"from"`
	To   string `form:"to"`
	Kind string `form:"kind"`
	Note string `form:"note"`
}

// PausePlan lets the plan wait.
func (p Pages) PausePlan(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	var f pauseForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	actor := page.From(r.Context()).Actor()
	in := store.PauseInput{Kind: f.Kind, Note: f.Note}
	in.ID, _ = uuid.Parse(f.ID) // a wrong one is refused as incomplete
	var typed domain.Problems
	if in.From, err = domain.ParseDate(f.From); err != nil {
		typed.Add("from", "Type the first day as year-month-day, such as 2026-04-30.")
	}
	if f.To != "" {
		if in.To, err = domain.ParseDate(f.To); err != nil {
			typed.Add("to", "Type the last day as year-month-day, or leave it empty.")
		}
	}
	err = typed.Err()
	if err == nil {
		err = p.Store.PauseClient(r.Context(), actor, id, in)
	}
	problems, isProblems := page.Problems(err)
	switch {
	case err == nil:
		p.Say(r.Context(), "The plan waits.")
		return page.See(w, r, recordPath(id)+"/plan")
	case !isProblems:
		return err
	}
	v := planView{Pause: f, Problems: domain.Problems{}}
	for field, sentence := range problems {
		v.Problems["pause-"+field] = sentence
	}
	if v.Sheet, err = p.Store.PlanOf(r.Context(), actor, id); err != nil {
		return err
	}
	v.Build = newBuildForm(v.Sheet)
	if v.Sheet.Plan != nil {
		v.edit()
	}
	return p.renderPlan(w, r, http.StatusUnprocessableEntity, v)
}

// EndPause ends a pause with yesterday and goes on to the way back.
func (p Pages) EndPause(w http.ResponseWriter, r *http.Request) error {
	id, err := pathID(r, "client")
	if err != nil {
		return err
	}
	pause, err := pathID(r, "pause")
	if err != nil {
		return err
	}
	who := page.From(r.Context())
	if err := p.Store.EndPause(r.Context(), who.Actor(), id, pause, p.Store.Today(who.Practice).AddDays(-1)); err != nil {
		return err
	}
	p.Say(r.Context(), "The pause is over. This is how the plan goes on.")
	return page.See(w, r, recordPath(id)+"/progress")
}
