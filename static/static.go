// Package static holds the style sheet, the scripts and the icons, and serves
// them under names that carry a hash of their content. A browser may keep such
// a file for ever: a changed file has another name. Style sheets and scripts are
// sent without what only people read in them.
package static

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"
)

// Prefix is where Handler expects to be mounted.
const Prefix = "/static/"

//go:embed css js icons
var files embed.FS

// contentTypes names the types by hand: what the mime package answers depends
// on the machine it runs on.
var contentTypes = map[string]string{
	".css":         "text/css; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".svg":         "image/svg+xml",
	".png":         "image/png",
	".webmanifest": "application/manifest+json",
}

// file is one embedded file, ready to be sent.
type file struct {
	name        string // as embedded: css/brae.css
	source      []byte // as it was written
	hashed      string // css/brae.3f9a1c0b7d2e.css
	contentType string
	hash        string
	body        []byte
	packed      []byte // gzip, nil if that is no smaller
}

// index holds the files by both of their names.
type index struct {
	byName, byHashed map[string]*file
}

// load reads, hashes and packs every file once. Together they are a few tens of
// kilobytes, so packing takes milliseconds.
var load = sync.OnceValue(func() index {
	ix, err := read(files)
	if err == nil {
		err = ix.bundle()
	}
	if err != nil {
		panic(err) // a file of the binary itself is broken
	}
	return ix
})

func read(tree fs.FS) (index, error) {
	ix := index{byName: map[string]*file{}, byHashed: map[string]*file{}}
	err := fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		f, err := newFile(name, body)
		if err != nil {
			return err
		}
		ix.add(f)
		return nil
	})
	return ix, err
}

func (ix index) add(f *file) { ix.byName[f.name], ix.byHashed[f.hashed] = f, f }

func newFile(name string, source []byte) (*file, error) {
	ext := path.Ext(name)
	contentType, ok := contentTypes[ext]
	if !ok {
		return nil, fmt.Errorf("static file %s: no content type for %q", name, ext)
	}
	body, err := bare(ext, source)
	if err != nil {
		return nil, fmt.Errorf("static file %s: %w", name, err)
	}
	sum := sha256.Sum256(body)
	hash := hex.EncodeToString(sum[:6])
	f := &file{
		name:        name,
		source:      source,
		hashed:      strings.TrimSuffix(name, ext) + "." + hash + ext,
		contentType: contentType,
		hash:        hash,
		body:        body,
	}
	var packed bytes.Buffer
	z, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(body); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	if packed.Len() < len(body) {
		f.packed = packed.Bytes()
	}
	return f, nil
}

// Path returns the address of an embedded file, with the hash of its content:
// "css/brae.css" gives "/static/css/brae.<hash>.css". It panics if there is no
// such file, since only our own templates ask.
func Path(name string) string {
	f, ok := load().byName[name]
	if !ok {
		panic("static: no file " + name)
	}
	return Prefix + f.hashed
}

// Handler serves the files under Prefix. A hashed name may be kept for a year
// without asking; a plain name (a script that imports another) must be asked
// for again each time, which costs a 304. An outdated hash is not found: answering
// it with today's file would be kept for a year under the wrong name.
func Handler() http.Handler {
	return http.HandlerFunc(serve)
}

func serve(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "method not allowed", http.StatusMethodNotAllowed)
		return
	}
	name := strings.TrimPrefix(r.URL.Path, Prefix)
	caching := "public, max-age=31536000, immutable"
	f, ok := load().byHashed[name]
	if !ok {
		caching = "no-cache"
		f, ok = load().byName[name]
	}
	if !ok {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Cache-Control", caching)
	h.Set("Content-Type", f.contentType)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Vary", "Accept-Encoding")
	if f.packed != nil && acceptsGzip(r.Header.Get("Accept-Encoding")) {
		h.Set("Content-Encoding", "gzip")
		h.Set("ETag", `"`+f.hash+`-gzip"`)
		h.Set("Content-Length", strconv.Itoa(len(f.packed)))
		whole := r.Clone(r.Context())
		whole.Header.Del("Range") // a range of packed bytes is of no use to anyone
		http.ServeContent(w, whole, "", time.Time{}, bytes.NewReader(f.packed))
		return
	}
	h.Set("ETag", `"`+f.hash+`"`)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(f.body))
}

// acceptsGzip reads an Accept-Encoding header: gzip must be named, and not with
// a weight of zero.
func acceptsGzip(header string) bool {
	for item := range strings.SplitSeq(header, ",") {
		coding, parameter, _ := strings.Cut(item, ";")
		if !strings.EqualFold(strings.TrimSpace(coding), "gzip") {
			continue
		}
		_, weight, given := strings.Cut(strings.ReplaceAll(parameter, " ", ""), "q=")
		if !given {
			return true
		}
		q, err := strconv.ParseFloat(weight, 64)
		return err == nil && q > 0
	}
	return false
}
