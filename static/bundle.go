package static

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
)

// ClientScript is the one script of the clients' pages, made of several files, so
// that a phone asks once.
const ClientScript = "js/client.js"

// shared is the script that the clients' pages and the service worker have in
// common. The parts of the pages each have their names for themselves, but for the
// first, of which the others make use. None of them imports or exports anything.
const shared = "js/outbox.js"

var (
	clientOpen  = []string{shared, "js/triage.js"}
	clientParts = []string{"js/form.js", "js/log.js", "js/waiting.js"}
)

// bundle adds what is made of several files.
func (ix index) bundle() error {
	var text bytes.Buffer
	for _, name := range append(slices.Clone(clientOpen), clientParts...) {
		part, ok := ix.byName[name]
		switch {
		case !ok:
			return fmt.Errorf("static: no file %s to put into %s", name, ClientScript)
		case slices.Contains(clientOpen, name):
			text.Write(part.source)
		default:
			fmt.Fprintf(&text, "{\n%s}\n", part.source)
		}
	}
	f, err := newFile(ClientScript, text.Bytes())
	if err != nil {
		return err
	}
	ix.add(f)
	return nil
}

// aside is what only people need in a script: comments, on a line of their own or
// at its end, and the space before a line. No text of ours has two strokes after
// a space, and none goes over several lines.
var aside = regexp.MustCompile(`(?m)^\s*//.*\n|^\s+|[ \t]+// .*$`)

// gap is what only people need in a style sheet, beside the texts in which it must
// stay.
var gap = regexp.MustCompile(`"[^"]*"|/\*(?s:.*?)\*/\s*|\s*[{};]\s*|[,:]\s+|\s+`)

// bare is a script or a style sheet as it is sent, smaller by a fifth. It renames
// nothing: what a browser says of an error can be found here.
func bare(extension string, text []byte) []byte {
	switch extension {
	case ".js":
		return aside.ReplaceAll(text, nil)
	case ".css":
		return gap.ReplaceAllFunc(text, func(found []byte) []byte {
			switch {
			case found[0] == '"':
				return found
			case bytes.HasPrefix(found, []byte("/*")):
				return nil
			}
			if short := bytes.TrimSpace(found); len(short) > 0 {
				return short
			}
			return []byte(" ")
		})
	}
	return text
}

// Worker returns the text of the service worker: what it keeps, and its version,
// which changes with any of that, stand above the scripts.
var Worker = sync.OnceValue(func() []byte {
	ix := load()
	var paths []string
	for _, name := range []string{"css/brae.css", "icons/favicon.svg", "icons/icon-192.png", ClientScript} {
		paths = append(paths, Path(name))
	}
	scripts := slices.Concat(ix.byName[shared].body, ix.byName["js/worker.js"].body)
	sum := sha256.Sum256(slices.Concat([]byte(strings.Join(paths, " ")), scripts))
	head := fmt.Sprintf("const VERSION = %q, FILES = [\"%s\"];\n", hex.EncodeToString(sum[:6]), strings.Join(paths, `", "`))
	return append([]byte(head), scripts...)
})
