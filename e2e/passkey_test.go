package e2e

import (
	"context"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/webauthn"
	"github.com/chromedp/chromedp"
)

// HoldDevice gives the person's browser a device that makes passkeys and knows its
// owner, as a phone with a screen lock does.
func (p *Person) HoldDevice() {
	p.t.Helper()
	p.must(chromedp.Do(p.ctx,
		call(webauthn.Enable, webauthn.EnableParams{}),
		chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, webauthn.AddVirtualAuthenticator, webauthn.AddVirtualAuthenticatorParams{Options: &webauthn.VirtualAuthenticatorOptions{
				Protocol: webauthn.AuthenticatorProtocolCtap2, Transport: webauthn.AuthenticatorTransportInternal,
				HasResidentKey: true, HasUserVerification: true, IsUserVerified: true, AutomaticPresenceSimulation: true,
			}})
			return err
		})))
}

// A client joins by the QR code with a passkey, comes back with it, and loses it
// with the phone.
func TestPasskey(t *testing.T) {
	t.Parallel()
	NeedAxe(t)
	brae := Start(t)
	practice := NewPractice(t, brae)
	path := practice.NewRecord("Petra", "Pass")
	pia := NewPerson(t, brae, "practitioner", Desk)
	pia.SignIn(practice.PractitionerName, PractitionerPassphrase)
	pia.Open(path)
	pia.Fill("Sign-in name", "petra")
	pia.Press("Make the link")
	link := linkShown(pia)

	phone := NewPerson(t, brae, "client", Phone)
	phone.HoldDevice()
	phone.Open(link)
	phone.Press("Use a passkey instead")
	phone.Is("/week", 200)
	phone.Press("Sign out")
	phone.Is("/sign-in", 200)
	phone.Inspect("sign-in", "with passkeys")
	phone.Press("Sign in with a passkey")
	phone.Is("/week", 200)
	phone.Open("/account")
	phone.Inspect("account", "a passkey")

	pia.Open(path)
	pia.Unfold("The phone is lost")
	pia.Press("Sign out and make a new link")
	phone.Open("/week")
	phone.Is("/sign-in", 200)
	phone.do(`button("Sign in with a passkey").click()`)
	phone.until("was not accepted")
}
