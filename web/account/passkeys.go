package account

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"slices"
	"time"

	"github.com/go-chi/chi/v5"
	"github.com/go-chi/chi/v5/middleware"
	"github.com/go-webauthn/webauthn/protocol"
	"github.com/go-webauthn/webauthn/webauthn"
	"github.com/google/uuid"

	"brae/domain"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// keyChallenge is where a browser keeps the challenge that it was given: the answer
// counts in no other browser.
const keyChallenge = "passkey_challenge"

// challengeBrowser is how long a browser that is not signed in is kept for one.
const challengeBrowser = time.Hour

var errNoPasskeys = fmt.Errorf("%w: this address cannot have passkeys", domain.ErrNotFound)

// passkeysHere reports whether a device makes passkeys for this address: for a name
// with a secure connection, or this machine itself. Source: W3C Web Authentication
// Level 3, 5.1.3 (from memory).
func (p Pages) passkeysHere() bool {
	host := p.Origin.Hostname()
	return net.ParseIP(host) == nil && (p.Origin.Scheme == "https" || host == "localhost")
}

// party is this Brae as devices know it. The name that passkeys are bound to comes
// from the configured address and never from a request.
func (p Pages) party(practice store.Practice) (*webauthn.WebAuthn, error) {
	if !p.passkeysHere() {
		return nil, errNoPasskeys
	}
	return webauthn.New(&webauthn.Config{
		RPID: p.Origin.Hostname(), RPDisplayName: practice.Name, RPOrigins: []string{p.Origin.Scheme + "://" + p.Origin.Host},
		AuthenticatorSelection: protocol.AuthenticatorSelection{
			ResidentKey: protocol.ResidentKeyRequirementRequired, RequireResidentKey: protocol.ResidentKeyRequired(),
			UserVerification: protocol.VerificationRequired,
		},
	})
}

// holder is an account as the library asks for it.
type holder struct {
	store.Account
	credentials []webauthn.Credential
}

func (h holder) WebAuthnID() []byte                         { return h.ID[:] }
func (h holder) WebAuthnName() string                       { return h.SignInName }
func (h holder) WebAuthnDisplayName() string                { return h.Name }
func (h holder) WebAuthnCredentials() []webauthn.Credential { return h.credentials }

// offer keeps a challenge, here and in the browser, and sends what the device needs.
func (p Pages) offer(w http.ResponseWriter, r *http.Request, account uuid.UUID, session *webauthn.SessionData, options any) error {
	data, err := json.Marshal(session)
	if err != nil {
		return err
	}
	if err := p.Store.SaveChallenge(r.Context(), account, store.Challenge{Challenge: session.Challenge, Data: data}); err != nil {
		return err
	}
	p.SignIns.Put(r.Context(), keyChallenge, session.Challenge)
	return p.JSON(w, http.StatusOK, options)
}

// deviceAnswer is what the script sends on from the device.
type deviceAnswer struct {
	Device     string          `json:"device"` // its name for the list
	Credential json.RawMessage `json:"credential"`
}

// answered reads the answer of a device, and the challenge that this browser was
// given, which is used up.
func (p Pages) answered(r *http.Request) (a deviceAnswer, challenge string, err error) {
	challenge = p.SignIns.PopString(r.Context(), keyChallenge)
	if err := json.NewDecoder(r.Body).Decode(&a); err != nil {
		if big := (*http.MaxBytesError)(nil); errors.As(err, &big) {
			return a, "", err
		}
		return a, "", fmt.Errorf("%w: %w", store.ErrPasskey, err)
	}
	return a, challenge, nil
}

// refused tells the script that a passkey does not count, or why it is not kept.
func (p Pages) refused(w http.ResponseWriter, r *http.Request, err error) error {
	if problems, ok := page.Problems(err); ok && problems["device"] != "" {
		return p.JSON(w, http.StatusUnprocessableEntity, map[string]string{
			"title": say.T(r.Context(), "Passkey"), "text": say.T(r.Context(), problems["device"]),
		})
	}
	if !errors.Is(err, store.ErrPasskey) {
		return err
	}
	p.Log.WarnContext(r.Context(), "passkey refused", "request_id", middleware.GetReqID(r.Context()), "from", middleware.GetClientIP(r.Context()), "error", err)
	return p.JSON(w, http.StatusUnprocessableEntity, map[string]string{
		"title": say.T(r.Context(), "Passkey"), "text": say.T(r.Context(), "This passkey was not accepted. Try again, or use the passphrase."),
	})
}

func (p Pages) goOn(w http.ResponseWriter, next string) error {
	return p.JSON(w, http.StatusOK, map[string]string{"next": next})
}

// offerNew sends what a device needs to make a passkey for an account.
func (p Pages) offerNew(w http.ResponseWriter, r *http.Request, a store.Account) error {
	practice, err := p.Store.Practice(r.Context())
	if err != nil {
		return err
	}
	party, err := p.party(practice)
	if err != nil {
		return err
	}
	known, err := p.Store.PasskeyCredentials(r.Context(), a.ID)
	if err != nil {
		return err
	}
	exclude := make([]protocol.CredentialDescriptor, 0, len(known))
	for _, id := range known {
		exclude = append(exclude, protocol.CredentialDescriptor{Type: protocol.PublicKeyCredentialType, CredentialID: id})
	}
	options, session, err := party.BeginRegistration(holder{Account: a}, webauthn.WithExclusions(exclude))
	if err != nil {
		return err
	}
	return p.offer(w, r, a.ID, session, options)
}

// checkNew returns the check of the answer of a device that has made a passkey.
func (p Pages) checkNew(a store.Account, answer deviceAnswer) func(json.RawMessage) (store.NewPasskey, error) {
	return func(data json.RawMessage) (store.NewPasskey, error) {
		party, err := p.party(store.Practice{Name: a.Name})
		if err != nil {
			return store.NewPasskey{}, err
		}
		var session webauthn.SessionData
		if err := json.Unmarshal(data, &session); err != nil {
			return store.NewPasskey{}, err
		}
		parsed, err := protocol.ParseCredentialCreationResponseBytes(answer.Credential)
		if err != nil {
			return store.NewPasskey{}, err
		}
		made, err := party.CreateCredential(holder{Account: a}, session, parsed)
		if err != nil {
			return store.NewPasskey{}, err
		}
		kept, err := json.Marshal(made)
		return store.NewPasskey{Name: answer.Device, CredentialID: made.ID, Credential: kept}, err
	}
}

// PasskeyChallenge starts a sign-in with a passkey. It asks for nobody's name, so
// that it tells nothing about who has an account.
func (p Pages) PasskeyChallenge(w http.ResponseWriter, r *http.Request) error {
	practice, err := p.Store.Practice(r.Context())
	if err != nil {
		return err
	}
	party, err := p.party(practice)
	if err != nil {
		return err
	}
	options, session, err := party.BeginDiscoverableLogin(webauthn.WithUserVerification(protocol.VerificationRequired))
	if err != nil {
		return err
	}
	if p.SignIns.GetString(r.Context(), "account") == "" {
		p.SignIns.SetDeadline(r.Context(), time.Now().Add(challengeBrowser)) // by the session manager's clock
	}
	return p.offer(w, r, uuid.Nil, session, options)
}

// PasskeySignIn signs in with a passkey.
func (p Pages) PasskeySignIn(w http.ResponseWriter, r *http.Request) error {
	answer, challenge, err := p.answered(r)
	if err != nil {
		return p.refused(w, r, err)
	}
	parsed, err := protocol.ParseCredentialRequestResponseBytes(answer.Credential)
	if err != nil {
		return p.refused(w, r, fmt.Errorf("%w: %w", store.ErrPasskey, err))
	}
	a, err := p.Store.SignInWithPasskey(r.Context(), challenge, parsed.RawID, p.checkSignIn(parsed))
	if err != nil {
		return p.refused(w, r, err)
	}
	if a.Role == domain.RoleClient {
		p.KeepLanguage(w, say.Choose(a.Language))
	}
	next := p.Next(r.Context(), a.Role)
	if err := p.SignIn(r.Context(), a); err != nil {
		return err
	}
	return p.goOn(w, next)
}

// checkSignIn returns the check of a device's signature. A count of uses that went
// back means a copy of the passkey, and is refused.
func (p Pages) checkSignIn(parsed *protocol.ParsedCredentialAssertionData) func(json.RawMessage, store.Account, json.RawMessage) (json.RawMessage, error) {
	return func(data json.RawMessage, a store.Account, kept json.RawMessage) (json.RawMessage, error) {
		party, err := p.party(store.Practice{Name: a.Name})
		if err != nil {
			return nil, err
		}
		var session webauthn.SessionData
		if err := json.Unmarshal(data, &session); err != nil {
			return nil, err
		}
		var credential webauthn.Credential
		if err := json.Unmarshal(kept, &credential); err != nil {
			return nil, err
		}
		find := func(_, user []byte) (webauthn.User, error) {
			if !slices.Equal(user, a.ID[:]) {
				return nil, errors.New("the passkey names another account")
			}
			return holder{a, []webauthn.Credential{credential}}, nil
		}
		used, err := party.ValidateDiscoverableLogin(find, session, parsed)
		if err != nil {
			return nil, err
		}
		if used.Authenticator.CloneWarning {
			return nil, errors.New("the count of uses went back")
		}
		return json.Marshal(used)
	}
}

// JoinChallenge starts joining with a passkey.
func (p Pages) JoinChallenge(w http.ResponseWriter, r *http.Request) error {
	link, err := p.Store.Link(r.Context(), chi.URLParam(r, "token"))
	if err != nil {
		return err
	}
	if link.Account.Role == "" {
		return domain.ErrNotFound
	}
	return p.offerNew(w, r, link.Account)
}

// JoinPasskey joins with a passkey in place of a passphrase.
func (p Pages) JoinPasskey(w http.ResponseWriter, r *http.Request) error {
	token := chi.URLParam(r, "token")
	link, err := p.Store.Link(r.Context(), token)
	if err != nil {
		return err
	}
	answer, challenge, err := p.answered(r)
	if err != nil {
		return p.refused(w, r, err)
	}
	a, err := p.Store.JoinWithPasskey(r.Context(), token, challenge, p.checkNew(link.Account, answer))
	if err != nil {
		return p.refused(w, r, err)
	}
	if err := p.joined(w, r, a); err != nil {
		return err
	}
	return p.goOn(w, page.Home(a.Role))
}

// NewPasskeyChallenge starts adding a passkey to one's own account.
func (p Pages) NewPasskeyChallenge(w http.ResponseWriter, r *http.Request) error {
	return p.offerNew(w, r, page.From(r.Context()).Account)
}

// AddPasskey adds a passkey to one's own account.
func (p Pages) AddPasskey(w http.ResponseWriter, r *http.Request) error {
	answer, challenge, err := p.answered(r)
	if err != nil {
		return p.refused(w, r, err)
	}
	who := page.From(r.Context())
	if err := p.Store.AddPasskey(r.Context(), who.Actor(), challenge, p.checkNew(who.Account, answer)); err != nil {
		return p.refused(w, r, err)
	}
	p.Say(r.Context(), say.T(r.Context(), "The passkey is saved."))
	return p.goOn(w, "/account")
}

// RemovePasskey removes one of one's own passkeys and signs out all other browsers.
func (p Pages) RemovePasskey(w http.ResponseWriter, r *http.Request) error {
	id, err := uuid.Parse(chi.URLParam(r, "passkey"))
	if err != nil {
		return domain.ErrNotFound
	}
	a, err := p.Store.RemovePasskey(r.Context(), page.From(r.Context()).Actor(), id)
	if errors.Is(err, store.ErrLastWayIn) {
		return p.renderAccount(w, r, http.StatusUnprocessableEntity, newAccountView(r, domain.Problems{
			"passphrase": say.Key("Choose a passphrase first. Without it and without a passkey you could not come back."),
		}))
	}
	if err != nil {
		return err
	}
	if err := p.SignIn(r.Context(), a); err != nil {
		return err
	}
	p.Say(r.Context(), say.T(r.Context(), "The passkey is removed. All your other devices are signed out."))
	return page.See(w, r, "/account")
}

// RenamePasskey gives one of one's own passkeys another name.
func (p Pages) RenamePasskey(w http.ResponseWriter, r *http.Request) error {
	id, err := uuid.Parse(chi.URLParam(r, "passkey"))
	if err != nil {
		return domain.ErrNotFound
	}
	field := passkeyField(id)
	typed := r.PostFormValue(field)
	err = p.Store.RenamePasskey(r.Context(), page.From(r.Context()).Actor(), id, typed)
	if problems, ok := page.Problems(err); ok {
		v := newAccountView(r, domain.Problems{field: problems["device"]})
		v.Passkeys.Renamed, v.Passkeys.Typed = id, typed
		return p.renderAccount(w, r, http.StatusUnprocessableEntity, v)
	}
	if err != nil {
		return err
	}
	p.Say(r.Context(), say.T(r.Context(), "The name is saved."))
	return page.See(w, r, "/account")
}

// passkeyField is the field for the name of a passkey.
func passkeyField(id uuid.UUID) string { return "name-" + id.String() }

// passkeysView is what the account page says of passkeys.
type passkeysView struct {
	Renamed    uuid.UUID // whose name was refused
	Typed      string
	Here       bool // this address can have them
	List       []store.Passkey
	Passphrase bool // there is one
}

// day is the practice's day of an instant.
func (v accountView) day(ctx context.Context, at time.Time) string {
	return say.Day(ctx, domain.DateOf(at, v.zone).Time())
}

func (p Pages) loadPasskeys(r *http.Request, v *accountView) (err error) {
	v.Passkeys.Here = p.passkeysHere()
	actor := page.From(r.Context()).Actor()
	if v.Passkeys.List, err = p.Store.Passkeys(r.Context(), actor); err != nil {
		return err
	}
	v.Passkeys.Passphrase, err = p.Store.HasPassphrase(r.Context(), actor)
	return err
}

// name is what stands in the field for a passkey's name.
func (v passkeysView) name(k store.Passkey) string {
	if k.ID == v.Renamed {
		return v.Typed
	}
	return k.Name
}

// withPasskeys adds the script where it has something to do.
func (p Pages) withPasskeys(frame *ui.Page) {
	if p.passkeysHere() {
		frame.Scripts = append(frame.Scripts, "js/passkey.js")
	}
}
