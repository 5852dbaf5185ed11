// Package account has the pages around signing in: sign-in and sign-out, the
// first set-up of the practice, joining by a one-time link, and one's own
// account.
package account

import (
	"errors"
	"net/http"
	"strings"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
	"golang.org/x/text/language"

	"brae/domain"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// Pages are the handlers of this package.
type Pages struct{ *page.Kit }

// signInForm is the sign-in form as typed. The passphrase is never sent back.
type signInForm struct {
	Name       string `form:"name"`
	Passphrase string `form:"passphrase"`
}

// frame is the frame of a page for somebody who is not signed in yet: it says whose
// practice this is, so that nobody types a passphrase without knowing for whom.
func (p Pages) frame(r *http.Request, title string) (ui.Page, store.Practice, error) {
	frame := p.Frame(r, title)
	frame.Scripts = append(frame.Scripts, "js/leave.js") // whoever had this browser before has left
	practice, err := p.Store.Practice(r.Context())
	if errors.Is(err, domain.ErrNotFound) { // before the set-up
		return frame, store.Practice{}, nil
	}
	frame.Practice = practice.Name
	return frame, practice, err
}

// SignInForm shows the form, or sends who is signed in already on.
func (p Pages) SignInForm(w http.ResponseWriter, r *http.Request) error {
	return p.renderSignIn(w, r, http.StatusOK, signInForm{}, nil)
}

// SignInSubmit signs in and goes on to where the browser wanted to be.
func (p Pages) SignInSubmit(w http.ResponseWriter, r *http.Request) error {
	var f signInForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	a, err := p.Store.SignIn(r.Context(), f.Name, f.Passphrase)
	if errors.Is(err, store.ErrSignIn) {
		// Without the name: people type their passphrase there.
		p.Log.WarnContext(r.Context(), "sign-in refused", "request_id", middleware.GetReqID(r.Context()), "from", middleware.GetClientIP(r.Context()))
		return p.renderSignIn(w, r, http.StatusUnprocessableEntity, f, domain.Problems{
			"name": say.Key("The sign-in name and the passphrase do not go together. After several wrong tries, wait 15 minutes."),
		})
	}
	if err != nil {
		return err
	}
	if a.Role == domain.RoleClient {
		p.KeepLanguage(w, say.Choose(a.Language))
	}
	next := p.Next(r.Context(), a.Role)
	if err := p.SignIn(r.Context(), a); err != nil {
		return err
	}
	return page.See(w, r, next)
}

func (p Pages) renderSignIn(w http.ResponseWriter, r *http.Request, status int, f signInForm, problems domain.Problems) error {
	frame, practice, err := p.frame(r, say.T(r.Context(), "Sign in"))
	if err != nil {
		return err
	}
	frame.ProblemTitle = problems != nil
	p.withPasskeys(&frame)
	return p.Render(w, r, status, frame, signInPage(f, practice, p.passkeysHere(), problems))
}

// SignOutSubmit signs out. The browser is told to drop what it kept of the pages.
func (p Pages) SignOutSubmit(w http.ResponseWriter, r *http.Request) error {
	if err := p.SignOut(r.Context()); err != nil {
		return err
	}
	w.Header().Set("Clear-Site-Data", `"cache"`)
	return page.See(w, r, "/sign-in")
}

// setUpForm is the first set-up as typed.
type setUpForm struct {
	Practice        string `form:"practice"`
	Zone            string `form:"zone"`
	WeekStart       string `form:"week_start"`
	EmergencyNumber string `form:"emergency_number"`
	Phone           string `form:"phone"`
	Name            string `form:"name"`
	SignInName      string `form:"sign_in_name"`
	Passphrase      string `form:"passphrase"`
}

func (f setUpForm) setUp() store.SetUp {
	start := time.Monday
	if f.WeekStart == "sunday" {
		start = time.Sunday
	}
	return store.SetUp{
		Practice: store.Practice{
			Name: strings.TrimSpace(f.Practice), Zone: strings.TrimSpace(f.Zone), WeekStart: start,
			EmergencyNumber: strings.TrimSpace(f.EmergencyNumber), Phone: strings.TrimSpace(f.Phone),
		},
		Name: f.Name, SignInName: f.SignInName, Passphrase: f.Passphrase,
	}
}

// SetUpForm shows the form of the first set-up to who holds its link. What the
// practice reads is English.
func (p Pages) SetUpForm(w http.ResponseWriter, r *http.Request) error {
	r = inEnglish(r)
	if err := p.checkLink(r, true); err != nil {
		return p.deadLink(w, r, err)
	}
	return p.Render(w, r, http.StatusOK, p.Frame(r, "Set up the practice"), setUpPage(setUpForm{WeekStart: "monday"}, nil))
}

// SetUpSubmit makes the practice and the lead's account and signs the lead in.
func (p Pages) SetUpSubmit(w http.ResponseWriter, r *http.Request) error {
	r = inEnglish(r)
	var f setUpForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	a, err := p.Store.SetUpPractice(r.Context(), chi.URLParam(r, "token"), f.setUp())
	if problems, ok := page.Problems(err); ok {
		frame := p.Frame(r, "Set up the practice")
		frame.ProblemTitle = true
		return p.Render(w, r, http.StatusUnprocessableEntity, frame, setUpPage(f, problems))
	}
	if err != nil {
		return p.deadLink(w, r, err)
	}
	if err := p.SignIn(r.Context(), a); err != nil {
		return err
	}
	p.Say(r.Context(), "The practice is set up. Next, add the people who treat clients.")
	return page.See(w, r, "/people")
}

func inEnglish(r *http.Request) *http.Request {
	return r.WithContext(say.With(r.Context(), language.English))
}

// JoinForm shows an invited person the form to choose a passphrase, or to
// make a passkey.
func (p Pages) JoinForm(w http.ResponseWriter, r *http.Request) error {
	link, err := p.Store.Link(r.Context(), chi.URLParam(r, "token"))
	if err == nil && link.Account.Role == "" {
		err = domain.ErrNotFound
	}
	if err != nil {
		return p.deadLink(w, r, err)
	}
	return p.renderJoin(w, r, http.StatusOK, link.Account, nil)
}

// passphraseForm is a passphrase being chosen.
type passphraseForm struct {
	Old        string `form:"old"`
	Passphrase string `form:"passphrase"`
}

// JoinSubmit stores the passphrase and signs in.
func (p Pages) JoinSubmit(w http.ResponseWriter, r *http.Request) error {
	var f passphraseForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	token := chi.URLParam(r, "token")
	a, err := p.Store.Join(r.Context(), token, f.Passphrase)
	if problems, ok := page.Problems(err); ok {
		link, err := p.Store.Link(r.Context(), token)
		if err != nil {
			return p.deadLink(w, r, err)
		}
		return p.renderJoin(w, r, http.StatusUnprocessableEntity, link.Account, problems)
	}
	if err != nil {
		return p.deadLink(w, r, err)
	}
	if err := p.joined(w, r, a); err != nil {
		return err
	}
	return page.See(w, r, page.Home(a.Role))
}

// joined signs in whoever has joined. A client goes on in the language that they have
// chosen on the page.
func (p Pages) joined(w http.ResponseWriter, r *http.Request, a store.Account) error {
	if a.Role == domain.RoleClient {
		chosen := store.Preferences{Language: say.Language(r.Context()).String(), Units: say.Units(r.Context())}
		if err := p.Store.ChoosePreferences(r.Context(), a.Actor(), chosen); err != nil {
			return err
		}
		p.KeepLanguage(w, say.Language(r.Context()))
	}
	return p.SignIn(r.Context(), a)
}

func (p Pages) renderJoin(w http.ResponseWriter, r *http.Request, status int, a store.Account, problems domain.Problems) error {
	frame, practice, err := p.frame(r, say.T(r.Context(), "Welcome"))
	if err != nil {
		return err
	}
	frame.ProblemTitle = problems != nil
	p.withPasskeys(&frame)
	join := "" // where a passkey goes
	if p.passkeysHere() {
		join = "/join/" + chi.URLParam(r, "token") + "/passkey"
	}
	return p.Render(w, r, status, frame, joinPage(a, practice, join, problems))
}

// checkLink returns an error unless the request's link can be used for the set-up.
func (p Pages) checkLink(r *http.Request, setUp bool) error {
	link, err := p.Store.Link(r.Context(), chi.URLParam(r, "token"))
	if err == nil && (link.Account.Role == "") != setUp {
		return domain.ErrNotFound
	}
	return err
}

// deadLink explains a link that cannot be used, and returns other errors.
func (p Pages) deadLink(w http.ResponseWriter, r *http.Request, err error) error {
	if !errors.Is(err, domain.ErrNotFound) {
		return err
	}
	frame, practice, err := p.frame(r, say.T(r.Context(), "This link is used up"))
	if err != nil {
		return err
	}
	return p.Render(w, r, http.StatusNotFound, frame, deadLinkPage(practice))
}

// Account shows one's own account.
func (p Pages) Account(w http.ResponseWriter, r *http.Request) error {
	return p.renderAccount(w, r, http.StatusOK, newAccountView(r, nil))
}

func (p Pages) renderAccount(w http.ResponseWriter, r *http.Request, status int, v accountView) error {
	if err := p.loadPost(r, &v); err != nil {
		return err
	}
	if err := p.loadPasskeys(r, &v); err != nil {
		return err
	}
	frame := p.Frame(r, say.T(r.Context(), "My account"))
	frame.ProblemTitle = v.Problems != nil
	p.withPasskeys(&frame)
	if v.Post.Link != "" {
		frame.Scripts = append(frame.Scripts, "js/copy.js")
	}
	return p.Render(w, r, status, frame, accountPage(v))
}

// ChangePassphrase stores a new passphrase and signs out all other browsers.
func (p Pages) ChangePassphrase(w http.ResponseWriter, r *http.Request) error {
	var f passphraseForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	who := page.From(r.Context())
	a, err := p.Store.ChangePassphrase(r.Context(), who.Actor(), f.Old, f.Passphrase)
	if problems, ok := page.Problems(err); ok {
		return p.renderAccount(w, r, http.StatusUnprocessableEntity, newAccountView(r, problems))
	}
	if err != nil {
		return err
	}
	if err := p.SignIn(r.Context(), a); err != nil {
		return err
	}
	p.Say(r.Context(), say.T(r.Context(), "Your passphrase is changed. All your other devices are signed out."))
	return page.See(w, r, "/account")
}

func passphraseField(problems domain.Problems, name, label, autocomplete, hint string) ui.Field {
	return ui.Field{
		Name: name, Label: label, Type: "password", Autocomplete: autocomplete,
		Hint: hint, Problem: problems[name], Width: 20,
	}
}

// Home sends an account to where it starts.
func (p Pages) Home(w http.ResponseWriter, r *http.Request) error {
	return page.See(w, r, page.Home(page.From(r.Context()).Role))
}
