// Package staff has the pages of the practice: caseload, client record, intake,
// decision, prescription, weekly review, and the lead's list of people.
package staff

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"github.com/google/uuid"

	"brae/domain"
	"brae/web/page"
)

// Pages are the handlers of this package.
type Pages struct{ *page.Kit }

// Routes adds the addresses that only the practice may ask for.
func Routes(r chi.Router, kit *page.Kit) {
	p := Pages{kit}
	r.Group(func(r chi.Router) {
		r.Use(kit.SignedIn, kit.Only(domain.RolePractitioner, domain.RoleLead))
		r.Get("/today", kit.Page(p.Today))
		r.Post("/today/{flag}/done", kit.Page(p.FinishFlag))
		r.Post("/today/{flag}/back", kit.Page(p.PutBackFlag))
		r.Get("/review", kit.Page(p.Review))
		r.Get("/sources", kit.Page(p.Sources))
		r.Get("/numbers", kit.Page(p.Numbers))
		r.Get("/numbers/{calculator}", kit.Page(p.Numbers))
		r.Get("/doctor", kit.Page(p.DoctorQueue))
		r.Get("/clients", kit.Page(p.Caseload))
		r.Get("/clients/new", kit.Page(p.NewClient))
		r.Post("/clients", kit.Page(p.AddClient))
		r.Route("/clients/{client}", func(r chi.Router) {
			r.NotFound(kit.Page(page.NotFound))
			r.Get("/", kit.Page(p.Client))
			r.Post("/invite", kit.Page(p.Invite))
			r.Post("/sign-out", kit.Page(p.SignOutClient))
			r.Get("/intake", kit.Page(p.Intake))
			r.Get("/intake/{step}", kit.Page(p.IntakeStep))
			r.Post("/intake/{step}", kit.Page(p.SaveIntakeStep))
			r.Post("/screening", kit.Page(p.Screen))
			r.Get("/sessions", kit.Page(p.Sessions))
			r.Get("/sessions/{session}", kit.Page(p.SessionRecord))
			r.Get("/decision", kit.Page(p.Decision))
			r.Get("/messages", kit.Page(p.Messages))
			r.Post("/messages", kit.Page(p.SendMessage))
			r.Post("/messages/{message}/withdraw", kit.Page(p.WithdrawMessage))
			r.Post("/stricter", kit.Page(p.BeStricter))
			r.Post("/aside", kit.Page(p.SetAside))
			r.Get("/consent", kit.Page(p.Consent))
			r.Post("/contact", kit.Page(p.ChangeContact))
			r.Post("/consents", kit.Page(p.RecordConsent))
			r.Post("/consents/{consent}/withdraw", kit.Page(p.WithdrawConsent))
			r.Get("/changes/new", kit.Page(p.NewChange))
			r.Post("/changes", kit.Page(p.ReportChange))
			r.Get("/vitals", kit.Page(p.Vitals))
			r.Post("/vitals", kit.Page(p.TakeVitals))
			r.Post("/vitals/{reading}/error", kit.Page(p.MarkVitalsError))
			r.Get("/timeline", kit.Page(p.Timeline))
			r.Get("/chart", kit.Page(p.Chart))
			r.Get("/notes", kit.Page(p.Notes))
			r.Get("/notes/new", kit.Page(p.NewNote))
			r.Get("/notes/{note}", kit.Page(p.Note))
			r.Post("/notes/{note}", kit.Page(p.SaveNote))
			r.Post("/notes/{note}/addenda", kit.Page(p.AddToNote))
			r.Get("/tests", kit.Page(p.Tests))
			r.Get("/tests/{test}", kit.Page(p.TestForm))
			r.Post("/tests/{test}", kit.Page(p.AddTest))
			r.Get("/tests/{test}/{result}", kit.Page(p.Test))
			r.Post("/tests/{test}/{result}/error", kit.Page(p.MarkTestError))
			r.Get("/workload", kit.Page(p.Workload))
			r.Get("/prescription/new", kit.Page(p.NewPrescription))
			r.Post("/prescription", kit.Page(p.SignPrescription))
			r.Get("/prescriptions", kit.Page(p.Prescriptions))
			r.Get("/prescriptions/{version}", kit.Page(p.Prescription))
			r.Get("/handout", kit.Page(p.Handout))
			r.Get("/holds", kit.Page(p.Holds))
			r.Post("/holds", kit.Page(p.OpenHold))
			r.Post("/holds/{hold}/release", kit.Page(p.ReleaseHold))
			r.Post("/holds/{hold}/resolve", kit.Page(p.ResolveHold))
			r.Get("/doctor", kit.Page(p.DoctorReview))
			r.Post("/letters", kit.Page(p.WriteLetter))
			r.Get("/letters/{letter}", kit.Page(p.Letter))
			r.Post("/letters/{letter}", kit.Page(p.SaveLetter))
			r.Get("/letters/{letter}/print", kit.Page(p.PrintLetter))
			r.Post("/letters/{letter}/link", kit.Page(p.LetterLink))
			r.Post("/letters/{letter}/mark", kit.Page(p.MarkLetter))
			r.Post("/letters/{letter}/answer", kit.Page(p.SettleAnswer))
			r.Get("/decisions/new", kit.Page(p.NewClearance))
			r.Post("/decisions", kit.Page(p.RecordClearance))
			r.Get("/decisions/{decision}", kit.Page(p.Clearance))
			r.Post("/decisions/{decision}/confirm", kit.Page(p.ChangeClearance("confirm")))
			r.Post("/decisions/{decision}/revoke", kit.Page(p.ChangeClearance("revoke")))
			r.Post("/decisions/{decision}/error", kit.Page(p.ChangeClearance("error")))
			r.With(page.Uploads).Post("/decisions/{decision}/documents", kit.Page(p.AddDocument))
			r.Get("/documents/{document}", kit.Page(p.Document))
			r.Get("/plan", kit.Page(p.Plan))
			r.Post("/plan", kit.Page(p.SavePlan))
			r.Post("/pauses", kit.Page(p.PausePlan))
			r.Post("/pauses/{pause}/end", kit.Page(p.EndPause))
			r.Get("/report", kit.Page(p.Report))
			r.Post("/report", kit.Page(p.SignReport))
			r.Get("/reports/{report}", kit.Page(p.SignedReport))
			r.Get("/discharge", kit.Page(p.Discharge))
			r.Post("/discharge", kit.Page(p.DischargeClient))
			r.Post("/reopen", kit.Page(p.Reopen))
			r.Get("/progress", kit.Page(p.Progress))
			r.Post("/progress", kit.Page(p.AnswerStep))
		})
	})
	r.Group(func(r chi.Router) {
		r.Use(kit.SignedIn, kit.Only(domain.RoleLead))
		r.Post("/sources/settings", kit.Page(p.ChangeSettings))
		r.Post("/sources/sign", kit.Page(p.SignRules))
		r.Get("/people", kit.Page(p.People))
		r.Post("/people", kit.Page(p.AddPerson))
		r.Post("/people/{account}/link", kit.Page(p.NewLink))
		r.Post("/people/{account}/sign-out", kit.Page(p.SignOutPerson))
		r.Post("/people/{account}/close", kit.Page(p.ClosePerson))
		r.Post("/people/{account}/licence", kit.Page(p.LetClear))
		r.Post("/people/{account}/credential", kit.Page(p.ChangeCredential))
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
