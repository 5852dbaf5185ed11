package static

import (
	"strings"
	"testing"
)

func TestBundle(t *testing.T) {
	client, worker := string(load().byName[ClientScript].body), string(Worker())
	for name, script := range map[string]string{"the clients' script": client, "the service worker": worker} {
		if strings.Contains(script, "\n//") || strings.Contains(script, "\n  //") {
			t.Errorf("%s carries comments", name)
		}
		if strings.Contains(script, "\nimport ") || strings.Contains(script, "\nexport ") {
			t.Errorf("%s imports or exports, and its parts are put together as they are", name)
		}
		if !strings.Contains(script, "const flush") {
			t.Errorf("%s lacks what both share", name)
		}
	}
	if !strings.HasPrefix(worker, `const VERSION = "`) || !strings.Contains(worker, Path("css/brae.css")) || !strings.Contains(worker, Path(ClientScript)) {
		t.Errorf("the service worker begins %.200s", worker)
	}
}
