package static

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/tdewolff/minify/v2/css"
	"github.com/tdewolff/minify/v2/js"
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

// bare is a script or a style sheet as it is sent, without what only people need.
// It renames nothing: what a browser says of an error can be found here, and the
// parts of the clients' script go by each other's names.
func bare(extension string, text []byte) ([]byte, error) {
	var out bytes.Buffer
	var err error
	switch extension {
	case ".js":
		err = (&js.Minifier{KeepVarNames: true}).Minify(nil, &out, bytes.NewReader(text), nil)
	case ".css":
		err = (&css.Minifier{}).Minify(nil, &out, bytes.NewReader(text), nil)
	default:
		return text, nil
	}
	return out.Bytes(), err
}

// Worker returns the text of the service worker: what it keeps, and its version,
// which changes with any of that, stand above the scripts.
var Worker = sync.OnceValue(func() []byte {
	ix := load()
	var paths []string
	for _, name := range []string{"css/brae.css", "icons/favicon.svg", "icons/icon-192.png", ClientScript} {
		paths = append(paths, Path(name))
	}
	scripts, err := bare(".js", slices.Concat(ix.byName[shared].source, ix.byName["js/worker.js"].source))
	if err != nil {
		panic(err) // each of them was read by itself before
	}
	sum := sha256.Sum256(slices.Concat([]byte(strings.Join(paths, " ")), scripts))
	head := fmt.Sprintf("const VERSION = %q, FILES = [\"%s\"];\n", hex.EncodeToString(sum[:6]), strings.Join(paths, `", "`))
	return append([]byte(head), scripts...)
})
