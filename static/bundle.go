package static

import (
	"bytes"
	"fmt"
)

// ClientScript is the one script of the clients' pages, made of several files, so
// that a phone asks once.
const ClientScript = "js/client.js"

// clientParts are the files of ClientScript, in their order. The first is shared
// with the service worker; each of the others has its names for itself. None of
// them imports or exports anything.
var clientParts = []string{"js/form.js", "js/log.js"}

// bundle adds what is made of several files.
func (ix index) bundle() error {
	var text bytes.Buffer
	for _, name := range clientParts {
		part, ok := ix.byName[name]
		if !ok {
			return fmt.Errorf("static: no file %s to put into %s", name, ClientScript)
		}
		fmt.Fprintf(&text, "{\n%s}\n", part.body)
	}
	f, err := newFile(ClientScript, text.Bytes())
	if err != nil {
		return err
	}
	ix.add(f)
	return nil
}
