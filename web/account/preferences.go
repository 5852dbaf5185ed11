package account

import (
	"net/http"
	"time"

	"golang.org/x/text/language"

	"brae/domain"
	"brae/domain/activity"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// accountView is what the page of one's own account shows.
type accountView struct {
	store.Account
	Reader    bool // may choose how to read: what the practice reads is English
	Problems  domain.Problems
	WeekStart time.Weekday
	Post      postView
	Passkeys  passkeysView
	zone      *time.Location
}

func newAccountView(r *http.Request, problems domain.Problems) accountView {
	who := page.From(r.Context())
	return accountView{Account: who.Account, Reader: who.Role == domain.RoleClient, Problems: problems, WeekStart: who.Practice.WeekStart, zone: who.Practice.Location}
}

// readingTitle is the heading over what can be chosen.
func (v accountView) readingTitle() string {
	if v.Reader {
		return say.Key("Language and units")
	}
	return say.Key("Units")
}

// languageOptions are the languages, each in its own words.
func languageOptions() []ui.Option {
	var list []ui.Option
	for _, tag := range say.Languages {
		list = append(list, ui.Option{Value: tag.String(), Label: say.OwnName(tag)})
	}
	return list
}

// preferencesForm is how somebody likes to read, as chosen.
type preferencesForm struct {
	Language string `form:"language"`
	Units    string `form:"units"`
}

// ChangePreferences stores the language, if it is a client's, and the unit of
// distance.
func (p Pages) ChangePreferences(w http.ResponseWriter, r *http.Request) error {
	var f preferencesForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	who := page.From(r.Context())
	if who.Role != domain.RoleClient {
		f.Language = who.Language
	}
	chosen := store.Preferences{Language: f.Language, Units: activity.Unit(f.Units)}
	err := p.Store.ChoosePreferences(r.Context(), who.Actor(), chosen)
	if problems, ok := page.Problems(err); ok {
		v := newAccountView(r, problems)
		v.Preferences = chosen
		return p.renderAccount(w, r, http.StatusUnprocessableEntity, v)
	}
	if err != nil {
		return err
	}
	if who.Role == domain.RoleClient {
		p.KeepLanguage(w, say.Choose(f.Language))
	}
	p.Say(r.Context(), say.T(say.With(r.Context(), language.Make(f.Language)), "Saved."))
	return page.See(w, r, "/account")
}
