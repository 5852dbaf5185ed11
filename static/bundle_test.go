package static

import (
	"path"
	"regexp"
	"strings"
	"testing"
)

func TestBundle(t *testing.T) {
	client, worker := string(load().byName[ClientScript].body), string(Worker())
	for name, script := range map[string]string{"the clients' script": client, "the service worker": worker} {
		if regexp.MustCompile(`\b(?:import|export)[ {*"]`).MatchString(script) {
			t.Errorf("%s imports or exports, and its parts are put together as they are", name)
		}
		if !strings.Contains(script, "flush=account=>") {
			t.Errorf("%s lacks what both share", name)
		}
	}
	if !strings.HasPrefix(worker, `const VERSION = "`) || !strings.Contains(worker, Path("css/brae.css")) || !strings.Contains(worker, Path(ClientScript)) {
		t.Errorf("the service worker begins %.200s", worker)
	}
}

// TestBare expects what people need to be gone, and all that one script knows of
// another, or a message of the browser of a script, to be called as it was written.
func TestBare(t *testing.T) {
	declared := regexp.MustCompile(`\b(?:const|let|function) (\w+)`)
	for name, f := range load().byName {
		switch path.Ext(name) {
		case ".js":
			for _, m := range declared.FindAllSubmatch(comment.ReplaceAll(f.source, nil), -1) {
				if !regexp.MustCompile(`\b` + string(m[1]) + `\b`).Match(f.body) {
					t.Errorf("%s: %s goes by another name", name, m[1])
				}
			}
			fallthrough
		case ".css":
			if comment.Match(f.body) || len(f.body) > len(f.source)*19/20 {
				t.Errorf("%s is %d bytes as written and %d as sent, or carries comments", name, len(f.source), len(f.body))
			}
		default:
			if string(f.body) != string(f.source) {
				t.Errorf("%s is not sent as it is", name)
			}
		}
	}
	if _, err := bare(".js", []byte("const a = (;")); err == nil {
		t.Error("a script that is none can be sent")
	}
}

// comment is one that a script or a style sheet of ours may have.
var comment = regexp.MustCompile(`(?m)(?:^|\s)//.*$|/\*(?s:.*?)\*/`)
