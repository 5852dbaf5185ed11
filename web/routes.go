package web

import (
	"net/http"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"

	"brae/domain"
	"brae/static"
	"brae/web/account"
	"brae/web/answer"
	"brae/web/client"
	"brae/web/page"
	"brae/web/staff"
)

// routes is the route table: every address, who may ask for it, what answers.
func routes(c Config, kit *page.Kit) http.Handler {
	r := chi.NewRouter()
	clientIP := middleware.ClientIPFromRemoteAddr
	if len(c.TrustedProxies) > 0 {
		clientIP = middleware.ClientIPFromXFF(c.TrustedProxies...)
	}
	r.Use(requestID, clientIP, kit.Speak, logRequests(c.Log), recoverPanics(c.Log), secure(c.Origin.Scheme == "https"), limitBody)

	r.Method(http.MethodGet, static.Prefix+"*", static.Handler())
	r.Get("/healthz", healthz(c.Store))
	r.Get(page.Manifest, theManifest)
	r.Get("/sw.js", serviceWorker)

	crossOrigin := http.NewCrossOriginProtection()
	if err := crossOrigin.AddTrustedOrigin(c.Origin.Scheme + "://" + c.Origin.Host); err != nil {
		panic(err) // New has checked the address
	}
	crossOrigin.SetDenyHandler(elsewhere(c.Log))
	r.Group(func(r chi.Router) {
		r.Use(crossOrigin.Handler, limitTime, compress, kit.SignIns.LoadAndSave)
		r.NotFound(kit.Page(page.NotFound))

		p := account.Pages{Kit: kit}
		r.Group(func(r chi.Router) { // anybody
			r.Get("/sign-in", kit.Page(p.SignInForm))
			r.With(perAddress(20, c.Log)).Post("/sign-in", kit.Page(p.SignInSubmit))
			r.With(perAddress(60, c.Log)).Post("/sign-in/passkey/challenge", kit.Page(p.PasskeyChallenge))
			r.With(perAddress(20, c.Log)).Post("/sign-in/passkey", kit.Page(p.PasskeySignIn))
			r.Group(func(r chi.Router) { // who holds a one-time link
				r.Use(perAddress(30, c.Log))
				r.Get("/set-up/{token}", kit.Page(p.SetUpForm))
				r.Post("/set-up/{token}", kit.Page(p.SetUpSubmit))
				r.Get("/join/{token}", kit.Page(p.JoinForm))
				r.Post("/join/{token}", kit.Page(p.JoinSubmit))
			})
			r.Group(func(r chi.Router) { // the same, with a device that makes a passkey
				r.Use(perAddress(30, c.Log))
				r.Post("/join/{token}/passkey/challenge", kit.Page(p.JoinChallenge))
				r.Post("/join/{token}/passkey", kit.Page(p.JoinPasskey))
			})
			r.Group(func(r chi.Router) { // who holds the link in a mail, or a calendar
				r.Use(perAddress(60, c.Log))
				r.Get("/reminder/confirm/{token}", kit.Page(p.ConfirmForm))
				r.Post("/reminder/confirm/{token}", kit.Page(p.Confirm))
				r.Get("/reminder/stop/{token}", kit.Page(p.StopForm))
				r.Post("/reminder/stop/{token}", kit.Page(p.Stop))
				r.Get("/calendar/{token}", kit.Page(p.Calendar))
			})
			r.Group(func(r chi.Router) { // a doctor, with the link in a letter
				r.Use(perAddress(30, c.Log))
				d := answer.Pages{Kit: kit}
				r.Get("/answer/{token}", kit.Page(d.Open))
				r.Post("/answer/{token}", kit.Page(d.Letter))
				r.Post("/answer/{token}/send", kit.Page(d.Send))
			})
		})
		r.Group(func(r chi.Router) { // any account
			r.Use(kit.SignedIn)
			r.Get("/", kit.Page(p.Home))
			r.Get("/account", kit.Page(p.Account))
			r.With(perAddress(20, c.Log)).Post("/account/passphrase", kit.Page(p.ChangePassphrase))
			r.Post("/account/passkeys/challenge", kit.Page(p.NewPasskeyChallenge))
			r.With(perAddress(20, c.Log)).Post("/account/passkeys", kit.Page(p.AddPasskey))
			r.Post("/account/passkeys/{passkey}/remove", kit.Page(p.RemovePasskey))
			r.Post("/account/passkeys/{passkey}/name", kit.Page(p.RenamePasskey))
			r.Post("/account/preferences", kit.Page(p.ChangePreferences))
			r.Post("/account/credential", kit.Page(p.ChangeCredential))
			r.Group(func(r chi.Router) { // a client
				r.Use(kit.Only(domain.RoleClient))
				r.With(perAddress(20, c.Log)).Post("/account/reminder", kit.Page(p.SetReminder))
				r.Post("/account/reminder/stop", kit.Page(p.StopReminder))
				r.Post("/account/calendar", kit.Page(p.NewCalendar))
				r.Post("/account/calendar/stop", kit.Page(p.StopCalendar))
			})
			r.Post("/sign-out", kit.Page(p.SignOutSubmit))
		})
		client.Routes(r, kit)
		staff.Routes(r, kit)
	})
	return r
}
