package web_test

import (
	"bytes"
	"encoding/json"
	"image/png"
	"regexp"
	"strings"
	"testing"
)

// TestInstallable reads what a phone reads before it puts Brae on its home
// screen. Source: W3C, Web Application Manifest: the members, their type, and
// icons of the sizes they name; 192 and 512 px are common practice.
func TestInstallable(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	client := s.Client()
	s.JoinClient(client, "jon")
	b := s.browser()
	r := b.get("/manifest.webmanifest")
	if got := r.header.Get("Content-Type"); got != "application/manifest+json" {
		t.Errorf("Content-Type %q", got)
	}
	var m struct {
		ID, Name, Scope, Display string
		StartURL                 string `json:"start_url"`
		Short                    string `json:"short_name"`
		Background               string `json:"background_color"`
		Theme                    string `json:"theme_color"`
		Icons                    []struct{ Src, Sizes, Type, Purpose string }
	}
	if err := json.Unmarshal([]byte(r.body), &m); err != nil {
		t.Fatal(err)
	}
	if m.ID == "" || m.Name == "" || m.Short == "" || m.Scope != "/" || m.Display != "standalone" || m.StartURL != "/week" {
		t.Errorf("the manifest is %s", r.body)
	}
	sizes := map[string]bool{}
	for _, icon := range m.Icons {
		got := b.get(icon.Src)
		if got.status != 200 || got.header.Get("Content-Type") != icon.Type {
			t.Errorf("icon %s: %d, %s", icon.Src, got.status, got.header.Get("Content-Type"))
			continue
		}
		picture, err := png.Decode(bytes.NewReader([]byte(got.body)))
		if err != nil {
			t.Fatal(err)
		}
		size := strings.ReplaceAll(picture.Bounds().Size().String(), ",", "x")
		if "("+icon.Sizes+")" != size {
			t.Errorf("icon %s is %s, not %s", icon.Src, size, icon.Sizes)
		}
		sizes[icon.Sizes+" "+icon.Purpose] = true
	}
	if !sizes["192x192 any"] || !sizes["512x512 any"] || !sizes["512x512 maskable"] {
		t.Errorf("icons %v", sizes)
	}

	// The colours are those of the style sheet, and named where clients are.
	css := b.get("/static/css/brae.css").body
	colours := func(token string) (light, dark string) {
		found := regexp.MustCompile(`--`+token+`: ?(#[0-9a-f]{6})[;}]`).FindAllStringSubmatch(css, 2)
		return found[0][1], found[1][1]
	}
	light, dark := colours("sky")
	ground, _ := colours("ground")
	if m.Theme != light || m.Background != ground {
		t.Errorf("the manifest's colours are %s and %s; the style sheet's %s and %s", m.Theme, m.Background, light, ground)
	}
	week := s.as("jon").get("/week").body
	for _, want := range []string{`rel="manifest" href="/manifest.webmanifest"`, `content="` + light + `"`, `content="` + dark + `"`} {
		if !strings.Contains(week, want) {
			t.Errorf("a client's page lacks %s", want)
		}
	}
	if staff := s.as("mira").get("/clients").body; strings.Contains(staff, "manifest") {
		t.Error("a page of the practice names the manifest")
	}
	policy := r.header.Get("Content-Security-Policy")
	for _, want := range []string{"worker-src 'self'", "manifest-src 'self'"} {
		if !strings.Contains(policy, want) {
			t.Errorf("the policy lacks %s: %s", want, policy)
		}
	}
}
