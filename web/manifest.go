package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"net/http"
	"time"

	"brae/static"
)

// manifest describes Brae to a phone that puts it on its home screen. It is the
// same for everybody and holds nothing about the practice.
//
// Source: W3C, Web Application Manifest.
type manifest struct {
	ID         string         `json:"id"`
	Name       string         `json:"name"`
	ShortName  string         `json:"short_name"`
	StartURL   string         `json:"start_url"`
	Scope      string         `json:"scope"`
	Display    string         `json:"display"`
	Background string         `json:"background_color"`
	Theme      string         `json:"theme_color"`
	Icons      []manifestIcon `json:"icons"`
}

type manifestIcon struct {
	Src     string `json:"src"`
	Sizes   string `json:"sizes"`
	Type    string `json:"type"`
	Purpose string `json:"purpose"`
}

// theManifest answers with the manifest. Its colours are those of the light look;
// the pages themselves name both.
func theManifest(w http.ResponseWriter, r *http.Request) {
	icon := func(name, sizes, purpose string) manifestIcon {
		return manifestIcon{static.Path("icons/" + name), sizes, "image/png", purpose}
	}
	body, err := json.Marshal(manifest{
		ID: "/", Name: "Brae", ShortName: "Brae", StartURL: "/week", Scope: "/", Display: "standalone",
		Background: "#f5f5f2", Theme: "#e3dfe7",
		Icons: []manifestIcon{
			icon("icon-192.png", "192x192", "any"),
			icon("icon-512.png", "512x512", "any"),
			icon("icon-maskable-512.png", "512x512", "maskable"),
		},
	})
	if err != nil {
		panic(err) // strings only
	}
	w.Header().Set("Content-Type", "application/manifest+json")
	w.Header().Set("Cache-Control", "public, max-age=3600")
	_, _ = w.Write(body) // the browser went away: nobody to tell
}

// serviceWorker answers with the script that works for the whole site, which is
// why it stands at the top. Browsers ask for it again and again.
func serviceWorker(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Type", "text/javascript; charset=utf-8")
	h.Set("Cache-Control", "no-cache")
	body := static.Worker()
	h.Set("ETag", fmt.Sprintf(`"%x"`, crc32.ChecksumIEEE(body)))
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(body))
}
