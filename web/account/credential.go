package account

import (
	"net/http"

	"brae/store"
	"brae/web/page"
)

// credentialForm is what somebody signs with, as typed.
type credentialForm struct {
	Title        string `form:"title"`
	Registration string `form:"registration"`
}

// ChangeCredential stores what the account signs with.
func (p Pages) ChangeCredential(w http.ResponseWriter, r *http.Request) error {
	var f credentialForm
	if err := page.Decode(r, &f); err != nil {
		return err
	}
	who := page.From(r.Context())
	c := store.Credential{Title: f.Title, Registration: f.Registration}
	err := p.Store.ChangeCredential(r.Context(), who.Actor(), who.ID, c)
	if problems, ok := page.Problems(err); ok {
		v := newAccountView(r, problems)
		v.Credential = c
		return p.renderAccount(w, r, http.StatusUnprocessableEntity, v)
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), "Saved. It stands under what you sign from now on.")
	return page.See(w, r, "/account")
}
