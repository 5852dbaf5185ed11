package web_test

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/go-webauthn/webauthn/protocol/webauthncbor"

	"brae/store/storetest"
	"brae/web"
)

const passkeyOrigin = "http://localhost:18104"

// newPasskeySite is newSite at an address that can have passkeys.
func newPasskeySite(t testing.TB, origin string) *site {
	t.Helper()
	s := newSite(t)
	at, err := url.Parse(origin)
	if err != nil {
		t.Fatal(err)
	}
	handler, err := web.New(web.Config{Store: s.Store, Now: s.Tick, Origin: at, Log: slog.New(slog.NewTextHandler(s.log, nil))})
	if err != nil {
		t.Fatal(err)
	}
	s.server = httptest.NewServer(handler)
	t.Cleanup(s.server.Close)
	return s
}

// device is an authenticator, made after W3C Web Authentication Level 3, 6 and 8.7
// (from memory): a key on P-256, signatures ES256, no attestation.
type device struct {
	key    *ecdsa.PrivateKey
	id     []byte
	user   string // base64url, as the server named it
	count  uint32
	origin string
	flags  byte
}

const (
	userPresent  = 1 << 0
	userVerified = 1 << 2
	attested     = 1 << 6
)

func newDevice() *device {
	return &device{
		key: storetest.Must(ecdsa.GenerateKey(elliptic.P256(), rand.Reader)), id: []byte(rand.Text()),
		origin: passkeyOrigin, flags: userPresent | userVerified,
	}
}

var b64 = base64.RawURLEncoding.EncodeToString

func (d *device) clientData(kind, challenge string) []byte {
	return storetest.Must(json.Marshal(map[string]any{"type": kind, "challenge": challenge, "origin": d.origin, "crossOrigin": false}))
}

func (d *device) authData(flags byte) []byte {
	party := sha256.Sum256([]byte("localhost"))
	return binary.BigEndian.AppendUint32(append(party[:], flags), d.count)
}

// create makes a passkey for what the server asks.
func (d *device) create(challenge, user string) map[string]any {
	d.user = user
	point := storetest.Must(d.key.PublicKey.Bytes()) // 4, x, y
	key := storetest.Must(webauthncbor.Marshal(map[int]any{1: 2, 3: -7, -1: 1, -2: point[1:33], -3: point[33:]}))
	data := d.authData(d.flags | attested)
	data = append(data, make([]byte, 16)...)
	data = binary.BigEndian.AppendUint16(data, uint16(len(d.id)))
	data = append(append(data, d.id...), key...)
	object := storetest.Must(webauthncbor.Marshal(map[string]any{"fmt": "none", "attStmt": map[string]any{}, "authData": data}))
	return d.answer(map[string]any{
		"clientDataJSON": b64(d.clientData("webauthn.create", challenge)), "attestationObject": b64(object),
	})
}

// get signs what the server asks.
func (d *device) get(challenge string) map[string]any {
	d.count++
	client, data := d.clientData("webauthn.get", challenge), d.authData(d.flags)
	hash := sha256.Sum256(client)
	digest := sha256.Sum256(append(bytes.Clone(data), hash[:]...))
	return d.answer(map[string]any{
		"clientDataJSON": b64(client), "authenticatorData": b64(data), "userHandle": d.user,
		"signature": b64(storetest.Must(ecdsa.SignASN1(rand.Reader, d.key, digest[:]))),
	})
}

func (d *device) answer(response map[string]any) map[string]any {
	return map[string]any{"id": b64(d.id), "rawId": b64(d.id), "type": "public-key", "response": response, "clientExtensionResults": map[string]any{}}
}

// script posts as the script does.
func (b *browser) script(path string, body any) reply {
	b.t.Helper()
	request := storetest.Must(http.NewRequest(http.MethodPost, b.server.URL+path, bytes.NewReader(storetest.Must(json.Marshal(body)))))
	request.Header.Set("Accept", "application/json")
	request.Header.Set("Sec-Fetch-Site", "same-origin")
	return b.do(request)
}

// asked is what the server asks of a device.
type asked struct {
	PublicKey struct {
		Challenge        string
		RPID             string
		UserVerification string
		RP               struct{ ID string }
		User             struct{ ID string }
		Selection        struct{ ResidentKey, UserVerification string } `json:"authenticatorSelection"`
	}
}

func (b *browser) challenge(path string) asked {
	b.t.Helper()
	r := b.script(path+"/challenge", nil)
	if r.status != http.StatusOK {
		b.t.Fatalf("%s: %d %s", path, r.status, r.body)
	}
	var a asked
	if err := json.Unmarshal([]byte(r.body), &a); err != nil {
		b.t.Fatal(err)
	}
	return a
}

// enrol makes a passkey with the device, on the account page or by a link.
func (b *browser) enrol(d *device, path string) reply {
	b.t.Helper()
	a := b.challenge(path)
	return b.script(path, map[string]any{"device": "My phone", "credential": d.create(a.PublicKey.Challenge, a.PublicKey.User.ID)})
}

func (b *browser) signInBy(d *device) reply {
	b.t.Helper()
	return b.script("/sign-in/passkey", map[string]any{"credential": d.get(b.challenge("/sign-in/passkey").PublicKey.Challenge)})
}

const refusedPasskey = http.StatusUnprocessableEntity

// TestPasskey joins with a passkey, comes back with it, and removes it.
func TestPasskey(t *testing.T) {
	t.Parallel()
	s := newPasskeySite(t, passkeyOrigin)
	client := s.Client()
	link := "/join/" + storetest.Must(s.InviteClient(t.Context(), s.Mira.Actor(), client, "jon"))
	phone, d := s.browser(), newDevice()
	a := phone.challenge(link + "/passkey").PublicKey
	if a.RP.ID != "localhost" || a.Selection.ResidentKey != "required" || a.Selection.UserVerification != "required" {
		t.Errorf("the device is asked for %+v", a)
	}
	if r := phone.enrol(d, link+"/passkey"); r.status != http.StatusOK || !strings.Contains(r.body, "/week") {
		t.Fatalf("join: %d %s", r.status, r.body)
	}
	if r := phone.get("/week"); r.status != http.StatusOK {
		t.Fatalf("after joining: %d", r.status)
	}
	if r := s.browser().enrolRefused(link + "/passkey"); r != http.StatusNotFound {
		t.Errorf("the link for a second time: %d", r)
	}
	again := s.browser()
	if r := again.signInBy(d); r.status != http.StatusOK || !strings.Contains(r.body, "/week") {
		t.Fatalf("sign in: %d %s", r.status, r.body)
	}
	list := again.get("/account").body
	if !strings.Contains(list, "My phone") {
		t.Error("the account page does not list the passkey")
	}
	var id string
	if err := s.Pool.QueryRow(t.Context(), `SELECT id FROM passkeys`).Scan(&id); err != nil {
		t.Fatal(err)
	}
	name := "name-" + id
	if r := again.post("/account/passkeys/"+id+"/name", name, " "); r.status != http.StatusUnprocessableEntity || strings.Count(r.body, "Type a name for this device.") != 2 {
		t.Errorf("no name for a passkey: %d, and the message is not at its field and in the summary", r.status)
	}
	long := strings.Repeat("long ", 80) + "name"
	if r := again.post("/account/passkeys/"+id+"/name", name, long); r.status != http.StatusUnprocessableEntity || !strings.Contains(r.body, `value="`+long) {
		t.Errorf("a long name for a passkey: %d, or what was typed is gone", r.status)
	}
	if r := s.as("mira").post("/account/passkeys/"+id+"/name", name, "Mine"); r.status != http.StatusNotFound {
		t.Errorf("the name of another account's passkey: %d", r.status)
	}
	if r := again.post("/account/passkeys/"+id+"/name", name, "Kitchen tablet"); r.status != http.StatusSeeOther || !strings.Contains(again.get("/account").body, "<b>Kitchen tablet</b>") {
		t.Errorf("rename: %d", r.status)
	}
	if n := s.Count(`SELECT count(*) FROM audit WHERE action = 'account.passkey_rename'`); n != 1 {
		t.Errorf("%d renamings in the audit trail; want 1", n)
	}
	if r := again.post("/account/passkeys/" + id + "/remove"); r.status != http.StatusUnprocessableEntity {
		t.Errorf("the last way in is removed: %d", r.status)
	}
	if r := again.post("/account/passphrase", "passphrase", storetest.Passphrase); r.status != http.StatusSeeOther {
		t.Fatalf("the first passphrase: %d", r.status)
	}
	if r := s.as("mira").post("/account/passkeys/" + id + "/remove"); r.status != http.StatusNotFound {
		t.Errorf("another account's passkey: %d", r.status)
	}
	stale := s.browser()
	stale.signInBy(d)
	if r := again.post("/account/passkeys/" + id + "/remove"); r.status != http.StatusSeeOther {
		t.Fatalf("remove: %d", r.status)
	}
	if r := again.get("/week"); r.status != http.StatusOK {
		t.Errorf("the browser that removed it: %d", r.status)
	}
	if r := stale.get("/week"); r.status != http.StatusSeeOther {
		t.Errorf("the browser that came in with it is still signed in: %d", r.status)
	}
	if r := s.browser().signInBy(d); r.status != refusedPasskey {
		t.Errorf("a removed passkey: %d", r.status)
	}
}

func (b *browser) enrolRefused(path string) int { return b.script(path+"/challenge", nil).status }

// TestPasskeyAttacks sends what a stranger can.
func TestPasskeyAttacks(t *testing.T) {
	t.Parallel()
	s := newPasskeySite(t, passkeyOrigin)
	s.JoinClient(s.Client(), "jon")
	d := newDevice()
	if r := s.as("jon").enrol(d, "/account/passkeys"); r.status != http.StatusOK {
		t.Fatalf("enrol: %d %s", r.status, r.body)
	}
	miras := newDevice()
	if r := s.as("mira").enrol(miras, "/account/passkeys"); r.status != http.StatusOK {
		t.Fatalf("enrol: %d %s", r.status, r.body)
	}
	send := func(b *browser, credential map[string]any) int {
		return b.script("/sign-in/passkey", map[string]any{"credential": credential}).status
	}
	fresh := func() (*browser, string) {
		b := s.browser()
		return b, b.challenge("/sign-in/passkey").PublicKey.Challenge
	}

	b, challenge := fresh()
	once := d.get(challenge)
	if got := send(b, once); got != http.StatusOK {
		t.Fatalf("rightly: %d", got)
	}
	for _, tt := range []struct {
		attack string
		try    func() int
	}{
		{"the same answer again", func() int { return send(b, once) }},
		{"the same answer in another browser", func() int { return send(s.browser(), once) }},
		{"the same answer to a new challenge", func() int { b, _ := fresh(); return send(b, once) }},
		{"a guessed challenge", func() int { b, _ := fresh(); return send(b, d.get(b64([]byte(rand.Text())))) }},
		{"a challenge of another browser", func() int {
			_, theirs := fresh()
			mine, _ := fresh()
			return send(mine, d.get(theirs))
		}},
		{"no challenge at all", func() int { return send(s.browser(), d.get("")) }},
		{"a challenge that is too old", func() int {
			b, c := fresh()
			s.Wait(6 * time.Minute)
			return send(b, d.get(c))
		}},
		{"somebody else's name on one's own passkey", func() int {
			b, c := fresh()
			forged := *miras
			forged.user = d.user
			return send(b, forged.get(c))
		}},
		{"another key under the name of a passkey", func() int {
			b, c := fresh()
			forged := newDevice()
			forged.id, forged.user, forged.count = d.id, d.user, 90
			return send(b, forged.get(c))
		}},
		{"a page of another site", func() int {
			b, c := fresh()
			elsewhere := *d
			elsewhere.origin, elsewhere.count = "http://localhost:9999", 91
			return send(b, elsewhere.get(c))
		}},
		{"a device that was not unlocked", func() int {
			b, c := fresh()
			open := *d
			open.flags, open.count = userPresent, 92
			return send(b, open.get(c))
		}},
		{"a copy whose count of uses is behind", func() int {
			b, c := fresh()
			copied := *d
			copied.count = 0
			return send(b, copied.get(c))
		}},
		{"an unknown passkey", func() int { b, c := fresh(); return send(b, newDevice().get(c)) }},
	} {
		if got := tt.try(); got != refusedPasskey {
			t.Errorf("%s: %d; want %d", tt.attack, got, refusedPasskey)
		}
	}
	d.count = 100
	b, challenge = fresh()
	if got := send(b, d.get(challenge)); got != http.StatusOK {
		t.Errorf("rightly, after all that: %d", got)
	}
	// The challenge of one account adds no passkey to another.
	mira, jon := s.as("mira"), s.as("jon")
	a := mira.challenge("/account/passkeys").PublicKey
	jon.challenge("/account/passkeys")
	if r := jon.script("/account/passkeys", map[string]any{"credential": newDevice().create(a.Challenge, a.User.ID)}); r.status != refusedPasskey {
		t.Errorf("a passkey for somebody else: %d", r.status)
	}
	if n := s.Count(`SELECT count(*) FROM passkeys`); n != 2 {
		t.Errorf("%d passkeys; want 2", n)
	}
	if err := s.DisableAccount(t.Context(), s.Lead.Actor(), s.Mira.ID); err != nil {
		t.Fatal(err)
	}
	if r := s.browser().signInBy(miras); r.status != refusedPasskey {
		t.Errorf("the passkey of a closed account: %d", r.status)
	}
}

// TestNoPasskeysHere asks where devices make none: a passkey is bound to a name.
func TestNoPasskeysHere(t *testing.T) {
	t.Parallel()
	for origin, want := range map[string]bool{
		"http://localhost:18104": true, "https://brae.example": true, "http://brae.example": false,
		"https://192.0.2.7": false, "http://127.0.0.1:8080": false, "https://[2001:db8::1]": false,
	} {
		s := newPasskeySite(t, origin)
		link := "/join/" + storetest.Must(s.InviteClient(t.Context(), s.Mira.Actor(), s.Client(), "jon"))
		for _, path := range []string{"/sign-in", link} {
			body := s.browser().get(path).body
			if got := strings.Contains(body, "data-passkey"); got != want || strings.Contains(body, "js/passkey") != want {
				t.Errorf("%s%s: offers a passkey: %v; want %v", origin, path, got, want)
			}
		}
		if got := s.browser().script("/sign-in/passkey/challenge", nil).status == http.StatusOK; got != want {
			t.Errorf("%s: gives a challenge: %v; want %v", origin, got, want)
		}
	}
}
