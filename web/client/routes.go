// Package client has the pages of a client's phone: this week, log a session,
// my plan.
package client

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"github.com/google/uuid"

	"brae/domain"
	"brae/web/page"
)

// Pages are the handlers of this package.
type Pages struct{ *page.Kit }

// Routes adds the addresses that only clients may ask for.
func Routes(r chi.Router, kit *page.Kit) {
	p := Pages{kit}
	r.Group(func(r chi.Router) {
		r.Use(kit.SignedIn, kit.Only(domain.RoleClient)) // also of those whose care has ended
		r.Get(page.Reports, kit.Page(p.Reports))
		r.Get(page.Reports+"/{report}", kit.Page(p.SignedReport))
		r.Get("/history", kit.Page(p.History))
	})
	r.Group(func(r chi.Router) {
		r.Use(kit.SignedIn, kit.Only(domain.RoleClient), kit.Open)
		r.Get("/week", kit.Page(p.Week))
		r.Get("/log", kit.Page(p.LogForm))
		r.With(sameAccount).Post("/log", kit.Page(p.LogSubmit))
		r.Get("/log/{session}", kit.Page(p.Told))
		r.Post("/log/{session}/answers", kit.Page(p.Answers))
		r.Get("/sessions/{session}", kit.Page(p.Session))
		r.Get("/sessions/{session}/edit", kit.Page(p.EditForm))
		r.Post("/sessions/{session}/edit", kit.Page(p.EditSubmit))
		r.Get("/sessions/{session}/delete", kit.Page(p.DeleteForm))
		r.Post("/sessions/{session}/delete", kit.Page(p.DeleteSubmit))
		r.Post("/sessions/{session}/restore", kit.Page(p.RestoreSubmit))
		r.Get("/report", kit.Page(p.ReportForm))
		r.Post("/report", kit.Page(p.ReportSubmit))
		r.Get("/report/{report}", kit.Page(p.Reported))
		r.Post("/late", kit.Page(p.LateSubmit))
		r.Get("/plan", kit.Page(p.Plan))
		r.Get("/plan/handout", kit.Page(p.Handout))
		r.Get(nextPath, kit.Page(p.NextSession))
		r.Post(nextPath, kit.Page(p.BeginSession))
		r.Get("/offline", kit.Page(p.Offline))
		r.Get("/phone", kit.Page(p.Phone))
		r.Get("/tests", kit.Page(p.Tests))
		r.Get("/messages", kit.Page(p.Messages))
		r.Post("/messages/{message}/answer", kit.Page(p.AnswerMessage))
	})
}

// pathID returns the id in the address. What is no id leads nowhere.
func pathID(r *http.Request, name string) (uuid.UUID, error) {
	id, err := uuid.Parse(chi.URLParam(r, name))
	if err != nil {
		return uuid.Nil, domain.ErrNotFound
	}
	return id, nil
}
