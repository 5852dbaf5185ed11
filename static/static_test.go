package static

import (
	"compress/gzip"
	"io"
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
)

func get(t *testing.T, method, path string, headers ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequestWithContext(t.Context(), method, path, nil)
	for i := 0; i < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	Handler().ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r io.Reader) string {
	t.Helper()
	b, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestPath(t *testing.T) {
	path := Path("css/brae.css")
	if !regexp.MustCompile(`^/static/css/brae\.[0-9a-f]{12}\.css$`).MatchString(path) {
		t.Errorf("Path = %q", path)
	}
	defer func() {
		if recover() == nil {
			t.Error("Path of an unknown file did not panic")
		}
	}()
	Path("css/none.css")
}

func TestHandler(t *testing.T) {
	path := Path("css/brae.css")
	want := load().byName["css/brae.css"].body
	const rfc9111 = "RFC 9111 5.2.2 and RFC 8246: a name that never changes its content may be kept without asking"

	t.Run(rfc9111, func(t *testing.T) {
		res := get(t, "GET", path)
		if got := res.Header.Get("Cache-Control"); got != "public, max-age=31536000, immutable" {
			t.Errorf("Cache-Control = %q", got)
		}
		if got := res.Header.Get("Content-Type"); got != "text/css; charset=utf-8" {
			t.Errorf("Content-Type = %q", got)
		}
		if got := res.Header.Get("X-Content-Type-Options"); got != "nosniff" {
			t.Errorf("X-Content-Type-Options = %q", got)
		}
		if body(t, res.Body) != string(want) {
			t.Error("the body is not the file")
		}
	})
	t.Run("RFC 9110 8.4: packed for those who accept it", func(t *testing.T) {
		res := get(t, "GET", path, "Accept-Encoding", "br, gzip")
		if got := res.Header.Get("Content-Encoding"); got != "gzip" {
			t.Fatalf("Content-Encoding = %q", got)
		}
		z, err := gzip.NewReader(res.Body)
		if err != nil {
			t.Fatal(err)
		}
		if body(t, z) != string(want) {
			t.Error("unpacked, the body is not the file")
		}
		if res.Header.Get("Vary") != "Accept-Encoding" {
			t.Errorf("Vary = %q", res.Header.Get("Vary"))
		}
		if plain := get(t, "GET", path).Header.Get("ETag"); plain == res.Header.Get("ETag") {
			t.Error("packed and plain carry the same ETag")
		}
		if res := get(t, "GET", path, "Accept-Encoding", "gzip", "Range", "bytes=0-9"); res.StatusCode != http.StatusOK {
			t.Errorf("a range of the packed file: status %d; want 200 and all of it", res.StatusCode)
		}
	})
	t.Run("RFC 9110 13.1.2: not sent again to those who have it", func(t *testing.T) {
		for _, encoding := range []string{"", "gzip"} {
			tag := get(t, "GET", path, "Accept-Encoding", encoding).Header.Get("ETag")
			res := get(t, "GET", path, "Accept-Encoding", encoding, "If-None-Match", tag)
			if res.StatusCode != http.StatusNotModified || tag == "" {
				t.Errorf("encoding %q, tag %s: status %d; want 304", encoding, tag, res.StatusCode)
			}
		}
	})
	t.Run("a plain name is asked for each time", func(t *testing.T) {
		res := get(t, "GET", "/static/js/form.js")
		if res.StatusCode != 200 || res.Header.Get("Cache-Control") != "no-cache" {
			t.Errorf("status %d, Cache-Control %q", res.StatusCode, res.Header.Get("Cache-Control"))
		}
	})
	t.Run("an outdated hash is not answered with today's file", func(t *testing.T) {
		for _, path := range []string{"/static/css/brae.000000000000.css", "/static/", "/static/css", "/static/../static.go", "/css/brae.css"} {
			if res := get(t, "GET", path); res.StatusCode != http.StatusNotFound {
				t.Errorf("%s: status %d; want 404", path, res.StatusCode)
			}
		}
	})
	t.Run("RFC 9110 15.5.6: only reading", func(t *testing.T) {
		res := get(t, "POST", path)
		if res.StatusCode != http.StatusMethodNotAllowed || res.Header.Get("Allow") != "GET, HEAD" {
			t.Errorf("status %d, Allow %q", res.StatusCode, res.Header.Get("Allow"))
		}
		if res := get(t, "HEAD", path); res.StatusCode != 200 || body(t, res.Body) != "" {
			t.Errorf("HEAD: status %d or a body", res.StatusCode)
		}
	})
}

func TestAcceptsGzip(t *testing.T) {
	for _, tt := range []struct {
		source string // RFC 9110, 12.5.3
		header string
		want   bool
	}{
		{"not named", "br, deflate", false},
		{"no header", "", false},
		{"named", "deflate, gzip", true},
		{"letter case does not count", "GZIP", true},
		{"with a weight", "gzip;q=0.5", true},
		{"space around", "br , gzip ; q=1.0", true},
		{"weight zero is a refusal", "gzip;q=0, br", false},
		{"weight zero, written longer", "gzip; q=0.000", false},
		{"not a number", "gzip;q=x", false},
		{"part of another name", "xgzip", false},
	} {
		t.Run(tt.source, func(t *testing.T) {
			if got := acceptsGzip(tt.header); got != tt.want {
				t.Errorf("acceptsGzip(%q) = %t; want %t", tt.header, got, tt.want)
			}
		})
	}
}

func TestReadRefusesUnknownTypes(t *testing.T) {
	_, err := read(fstest.MapFS{"icons/logo.bmp": {Data: []byte("x")}})
	if err == nil || !strings.Contains(err.Error(), "icons/logo.bmp") {
		t.Errorf("read = %v; want an error that names the file", err)
	}
}

func TestHashFollowsContent(t *testing.T) {
	a, err := newFile("css/a.css", []byte("a{top:0}"))
	if err != nil {
		t.Fatal(err)
	}
	b, err := newFile("css/a.css", []byte("b{top:0}"))
	if err != nil {
		t.Fatal(err)
	}
	if a.hashed == b.hashed {
		t.Error("two contents, one name")
	}
	if a.packed != nil {
		t.Error("eight bytes were packed into more")
	}
}
