package page

import (
	"context"
	"errors"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"brae/domain"
	"brae/store"
	"brae/web/say"
	"brae/web/ui"
)

// Who is the account that asks, as found by [Kit.SignedIn].
type Who struct{ store.SignedIn }

type whoKey struct{}

// From returns who asks. It panics outside of the routes behind [Kit.SignedIn].
func From(ctx context.Context) Who { return ctx.Value(whoKey{}).(Who) }

// How long a sign-in lasts without use, and in all. Staff sit at a shared desk;
// a client has the phone in the pocket, where a sign-in of 30 days asks nothing of
// somebody who was ill for two weeks. The practice ends it at once when the phone
// is lost. Source: NIST SP 800-63B-4, 30 days at its lowest level (from memory).
const (
	staffIdle   = 30 * time.Minute
	staffLife   = 12 * time.Hour
	clientIdle  = 30 * 24 * time.Hour
	clientLife  = 30 * 24 * time.Hour
	seenEvery   = time.Minute // how exactly idleness is known: a write per minute, not per request
	keyAccount  = "account"
	keyVersion  = "credentials"
	keySignedIn = "signed_in_at"
	keySeen     = "seen_at"
	keyFlash    = "flash"
	keyNext     = "next"
)

// What is kept of a browser that is not signed in, so that strangers who ask for
// many pages do not fill the database: a short address, for as long as somebody
// takes to find the passphrase. A sign-in begins its own time.
const (
	nextLength = 500 // bytes
	nextLife   = time.Hour
)

// SignIn makes the browser that of an account: under a new token, so that one
// planted before is worth nothing.
func (k *Kit) SignIn(ctx context.Context, a store.Account) error {
	if err := k.SignIns.RenewToken(ctx); err != nil {
		return err
	}
	k.SignIns.Put(ctx, keyAccount, a.ID.String())
	k.SignIns.Put(ctx, keyVersion, a.Credentials)
	k.SignIns.Put(ctx, keySignedIn, k.Now().Unix())
	k.SignIns.Put(ctx, keySeen, k.Now().Unix())
	return nil
}

// SignOut forgets the browser.
func (k *Kit) SignOut(ctx context.Context) error { return k.SignIns.Destroy(ctx) }

// SignedIn lets only signed-in accounts pass; others are sent to sign in and,
// for a page, come back to it afterwards.
func (k *Kit) SignedIn(next http.Handler) http.Handler {
	return k.Page(func(w http.ResponseWriter, r *http.Request) error {
		who, err := k.who(r.Context())
		if errors.Is(err, domain.ErrNotFound) {
			if k.SignIns.Exists(r.Context(), keyAccount) { // a sign-in that has ended; where somebody wants to go is kept
				if err := k.SignOut(r.Context()); err != nil {
					return err
				}
			}
			if WantsJSON(r) {
				return sendJSON(w, http.StatusUnauthorized, map[string]string{"title": "You are signed out", "text": "Sign in again. Nothing was lost."})
			}
			if next := r.URL.RequestURI(); asksForPage(r) && len(next) <= nextLength {
				k.SignIns.Put(r.Context(), keyNext, next)
				k.SignIns.SetDeadline(r.Context(), time.Now().Add(nextLife)) // by the session manager's clock
			}
			return See(w, r, "/sign-in")
		}
		if err != nil {
			return err
		}
		ctx := say.With(r.Context(), say.Choose(who.Language))
		ctx = say.WithUnits(ctx, who.Units)
		next.ServeHTTP(w, r.WithContext(context.WithValue(ctx, whoKey{}, who)))
		return nil
	})
}

// asksForPage reports whether somebody wants to see the answer. A script that asks
// for something in the background leads nobody there.
func asksForPage(r *http.Request) bool {
	dest := r.Header.Get("Sec-Fetch-Dest") // not sent by older browsers
	return r.Method == http.MethodGet && (dest == "" || dest == "document")
}

// who returns the account of the browser, or [domain.ErrNotFound] if it is not
// signed in, or no longer.
func (k *Kit) who(ctx context.Context) (Who, error) {
	id, err := uuid.Parse(k.SignIns.GetString(ctx, keyAccount))
	if err != nil {
		return Who{}, domain.ErrNotFound
	}
	account, err := k.Store.SignedIn(ctx, id)
	if err != nil {
		return Who{}, err
	}
	idle, life := staffIdle, staffLife
	if account.Role == domain.RoleClient {
		idle, life = clientIdle, clientLife
	}
	now := k.Now()
	since := func(key string) time.Duration { return now.Sub(time.Unix(k.SignIns.GetInt64(ctx, key), 0)) }
	if account.Credentials != k.SignIns.GetInt(ctx, keyVersion) || since(keySeen) > idle || since(keySignedIn) > life {
		return Who{}, domain.ErrNotFound
	}
	if since(keySeen) > seenEvery {
		k.SignIns.Put(ctx, keySeen, now.Unix())
	}
	return Who{account}, nil
}

// Only lets only accounts of these roles pass. It stands behind SignedIn.
func (k *Kit) Only(roles ...domain.Role) func(http.Handler) http.Handler {
	return func(next http.Handler) http.Handler {
		return k.Page(func(w http.ResponseWriter, r *http.Request) error {
			if !slices.Contains(roles, From(r.Context()).Role) {
				return domain.ErrForbidden
			}
			next.ServeHTTP(w, r)
			return nil
		})
	}
}

// Open lets only accounts pass whose record is open. A client whose care has ended
// is shown what is theirs to read instead. It stands behind Only.
func (k *Kit) Open(next http.Handler) http.Handler {
	return k.Page(func(w http.ResponseWriter, r *http.Request) error {
		switch {
		case !From(r.Context()).Closed:
			next.ServeHTTP(w, r)
			return nil
		case r.Method == http.MethodGet && !WantsJSON(r):
			return See(w, r, Reports)
		}
		return domain.ErrClosed
	})
}

// Reports is the address of a client's reports, where one whose care has ended
// starts.
const Reports = "/reports"

// Manifest is the address of the web app manifest.
const Manifest = "/manifest.webmanifest"

// Home is where an account starts.
func Home(role domain.Role) string {
	switch role {
	case domain.RoleClient:
		return "/week"
	case domain.RoleLead:
		return "/review"
	default:
		return "/today"
	}
}

// Next returns where the browser wanted to go before it was asked to sign in,
// and otherwise the account's home. It never leaves this site.
func (k *Kit) Next(ctx context.Context, role domain.Role) string {
	if next := k.SignIns.PopString(ctx, keyNext); Local(next) && next != "/" {
		return next
	}
	return Home(role)
}

// Local reports whether an address is a path on this site. Browsers take // and
// /\ for the beginning of another one.
func Local(address string) bool {
	return strings.HasPrefix(address, "/") && !strings.HasPrefix(address, "//") && !strings.HasPrefix(address, `/\`) &&
		!strings.ContainsAny(address, "\r\n\t\\")
}

// Say shows a sentence at the top of the next page.
func (k *Kit) Say(ctx context.Context, sentence string) { k.SignIns.Put(ctx, keyFlash, sentence) }

// Frame returns the frame of a page for who asks: navigation, practice, flash.
func (k *Kit) Frame(r *http.Request, title string) ui.Page {
	p := k.frame(r, title)
	p.Flash = k.SignIns.PopString(r.Context(), keyFlash)
	return p
}

// Shell returns the frame of a page that a phone keeps for whoever has it in the
// hand: with nothing of the account in it.
func (k *Kit) Shell(r *http.Request, title string) ui.Page {
	p := k.frame(r, title)
	p.Signed, p.Account = nil, ""
	return p
}

// frame is Frame without the flash, which an error page must not use up.
func (k *Kit) frame(r *http.Request, title string) ui.Page {
	p := ui.Page{Title: title, Lang: say.Language(r.Context()).String()}
	who, ok := r.Context().Value(whoKey{}).(Who)
	if !ok {
		return p
	}
	p.Practice = who.Practice.Name
	p.Signed = &ui.Who{Name: who.Name, Role: say.T(r.Context(), roleWords[who.Role]), Href: "/account", SignOut: "/sign-out"}
	items := navigation[who.Role]
	if who.Closed {
		items = closedNavigation
	}
	for _, item := range items {
		item.Label = say.T(r.Context(), item.Label)
		item.Current = r.URL.Path == item.Href || strings.HasPrefix(r.URL.Path, item.Href+"/")
		p.Nav = append(p.Nav, item)
	}
	if who.Role == domain.RoleClient {
		p.ClientArea = true
		p.Manifest, p.Account = Manifest, who.ID.String()
		p.Emergency = who.Practice.EmergencyNumber
	} else {
		p.IdleMinutes = int(staffIdle / time.Minute)
	}
	return p
}

var roleWords = map[domain.Role]string{
	domain.RoleClient:       say.Key("Client"),
	domain.RolePractitioner: "Practitioner",
	domain.RoleLead:         "Lead",
}

// closedNavigation is for a client whose care has ended.
var closedNavigation = []ui.NavItem{
	{Label: say.Key("My reports"), Href: Reports},
	{Label: say.Key("What you have done"), Href: "/history"},
}

var navigation = map[domain.Role][]ui.NavItem{
	domain.RoleClient: {
		{Label: say.Key("This week"), Href: "/week"},
		{Label: say.Key("Log"), Href: "/log"},
		{Label: say.Key("My plan"), Href: "/plan"},
	},
	domain.RolePractitioner: {
		{Label: "Today", Href: "/today"},
		{Label: "Clients", Href: "/clients"},
		{Label: "Week review", Href: "/review"},
		{Label: "Doctor", Href: "/doctor"},
		{Label: "Numbers", Href: "/numbers"},
		{Label: "Sources", Href: "/sources"},
	},
	domain.RoleLead: {
		{Label: "Today", Href: "/today"},
		{Label: "Week review", Href: "/review"},
		{Label: "Clients", Href: "/clients"},
		{Label: "Doctor", Href: "/doctor"},
		{Label: "People", Href: "/people"},
		{Label: "Numbers", Href: "/numbers"},
		{Label: "Sources", Href: "/sources"},
	},
}
