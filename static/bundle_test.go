package static

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestBundle(t *testing.T) {
	client, worker := string(load().byName[ClientScript].body), string(Worker())
	for name, script := range map[string]string{"the clients' script": client, "the service worker": worker} {
		if strings.Contains(script, "\n//") || strings.Contains(script, " // ") {
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

func TestBare(t *testing.T) {
	for _, tt := range []struct{ extension, text, want string }{
		{".css", "/* words\n */\na, b > c {\n  top: 1px;\n  margin: 0 auto;\n}\n\n/* more */\n", "a,b > c{top:1px;margin:0 auto;}"},
		{".css", `td::before { content: attr(x) ": {"; }`, `td::before{content:attr(x) ": {";}`},
		{".css", "a :focus,\nb { top: calc(1px + 2px) }", "a :focus,b{top:calc(1px + 2px)}"},
		{".css", "@media (max-width: 3rem) and (hover) {\n  a { top: 0; }\n}", "@media (max-width:3rem) and (hover){a{top:0;}}"},
		{".js", "// words\nconst a = 1; // why\n  f('a: b', `x//y`);\n", "const a = 1;\nf('a: b', `x//y`);\n"},
		{".svg", "<svg> <a/> </svg>", "<svg> <a/> </svg>"},
	} {
		if got := string(bare(tt.extension, []byte(tt.text))); got != tt.want {
			t.Errorf("bare(%q) = %q; want %q", tt.text, got, tt.want)
		}
	}
	// What bare takes for granted of the scripts.
	text := regexp.MustCompile("[\"'`][^\"'`\\n]* // [^\"'`\\n]*[\"'`]")
	for name, f := range load().byName {
		if !strings.HasSuffix(name, ".js") || name == ClientScript {
			continue
		}
		for line := range strings.Lines(string(bare(".js", f.source))) {
			if strings.Count(line, "`")%2 != 0 {
				t.Errorf("%s: a text over several lines at %s", name, line)
			}
		}
		if found := text.FindAll(slices.Clone(f.source), -1); len(found) > 0 {
			t.Errorf("%s: a text that looks like a comment: %q", name, found)
		}
	}
}
