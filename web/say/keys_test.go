package say

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/text/language"

	"brae/domain/activity"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/report"
	"brae/domain/source"
	"brae/domain/triage"
	"brae/domain/volume"
)

// clientForms are the files of the store that judge what a client sends: each
// sentence in them is for a client to read.
var clientForms = []string{"sessions.go", "triages.go", "symptoms.go", "changes.go", "passphrase.go", "links.go", "preferences.go"}

// keys collects every text that a client may read, with where it stands: what is
// given to this package anywhere in web, what the domain tells clients, and what
// the store says about their forms.
func keys(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	add := func(where string, texts ...string) {
		for _, text := range texts {
			if strings.ContainsFunc(verb.ReplaceAllString(text, ""), unicode.IsLetter) { // not "%d": "%s"
				all[text] = where
			}
		}
	}
	files := token.NewFileSet()
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				for _, text := range said(call) {
					add(files.Position(call.Pos()).String(), text)
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range clientForms {
		path := filepath.Join("..", "..", "store", name)
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if text, ok := literal(n); ok && sentence.MatchString(text) {
				add(files.Position(n.Pos()).String(), text)
			}
			return true
		})
	}
	for _, talk := range intensity.Talks() {
		add("intensity: examples", talk.Example())
	}
	for c := intensity.VeryLight; c <= intensity.NearMaximal; c++ {
		add("intensity: cues", intensity.Cue(c))
	}
	for _, a := range activity.All() {
		add("activity: names", a.Name, a.ShortName())
	}
	for _, s := range slices.Concat(volume.Sentences(volume.PolicyFrom(nil)), heartrate.Sentences(heartrate.PolicyFrom(nil))) {
		add("sentences with settings", s.Format)
	}
	add("problems of a log", logProblems...)
	add("problems of a reminder", reminderProblems...)
	add("problems of a passkey", "Type a name for this device.", "There are 20 passkeys already. Remove one first.")
	add("problems of a message", "Write something first.", "This is too long. Use 500 characters at most.")
	add("triage: texts", triage.Texts()...)
	for _, ceiling := range intensity.Classes() {
		add("report: advice", report.Advice(ceiling, true)...)
	}
	for _, status := range []source.Status{
		source.Published, source.PublishedSecond, source.FromMemory, source.CommonPractice, source.PracticeSetting, source.ToBeConfirmed,
	} {
		add("statuses of sources", string(status))
	}
	return all
}

// logProblems are what the rules say about a log besides.
var logProblems = []string{
	"Choose the day.", "This day is still to come. Choose today or an earlier day.", "Say for how many minutes it was.",
	"The clock of your phone was wrong, so the day may be wrong, too. Is it right?", "Minutes must be from 1 to 720.", "Perceived exertion is a whole number from 6 to 20.",
}

// reminderProblems are what the store says about a reminder.
var reminderProblems = []string{
	"Type an e-mail address, such as name@post.example.", "Choose a day at least.", "Type a time of day, such as 18:30.",
	"These were many tries for one day. Try again tomorrow.",
}

// sentence tells a text for a person from a piece of SQL or a code.
var sentence = regexp.MustCompile(`^[A-Z][a-z]*[ ,][^=@]*[.?]$`)

// said are the texts of a call of this package.
func said(call *ast.CallExpr) []string {
	name := ""
	switch f := call.Fun.(type) {
	case *ast.SelectorExpr:
		if x, ok := f.X.(*ast.Ident); ok && x.Name == "say" {
			name = f.Sel.Name
		}
	case *ast.Ident:
		name = f.Name
	}
	var texts []string
	take := func(args ...int) {
		for _, i := range args {
			if i < len(call.Args) {
				if text, ok := literal(call.Args[i]); ok {
					texts = append(texts, text)
				}
			}
		}
	}
	switch name {
	case "T", "F":
		take(1)
	case "N":
		take(2, 3)
	case "Key":
		take(0)
	}
	return texts
}

func literal(n ast.Node) (string, bool) {
	switch lit := n.(type) {
	case *ast.BasicLit:
		if lit.Kind == token.STRING {
			text, err := strconv.Unquote(lit.Value)
			return text, err == nil
		}
	case *ast.BinaryExpr: // long texts stand on several lines
		if lit.Op == token.ADD {
			left, ok := literal(lit.X)
			right, ok2 := literal(lit.Y)
			return left + right, ok && ok2
		}
	}
	return "", false
}

// TestEveryTextIsTranslated fails on a text without its translation, and on a
// translation of nothing.
func TestEveryTextIsTranslated(t *testing.T) {
	wanted := keys(t)
	if len(wanted) < 100 {
		t.Fatalf("only %d texts found: the search is broken", len(wanted))
	}
	for _, english := range twice {
		t.Errorf("two files have a text for %q, not the same", english)
	}
	for _, tag := range Languages {
		if tag == language.English {
			continue
		}
		texts := translations[tag]
		for _, english := range slices.Sorted(maps.Keys(wanted)) {
			text, ok := texts[english]
			switch {
			case !ok:
				t.Errorf("no %s for %q (%s)", tag, english, wanted[english])
			case strings.TrimSpace(text) == "":
				t.Errorf("an empty %s for %q", tag, english)
			case !slices.Equal(verbs(english), verbs(text)):
				t.Errorf("%s of %q has the verbs %v; want %v", tag, english, verbs(text), verbs(english))
			}
		}
		for _, english := range slices.Sorted(maps.Keys(texts)) {
			if _, ok := wanted[english]; !ok {
				t.Errorf("nobody says %q, which has a %s text", english, tag)
			}
		}
	}
}

var verb = regexp.MustCompile(`%(\[\d+\])?(\.\d)?[a-z]`)

// verbs are those of a format, in the order of what they print.
func verbs(format string) []string {
	var list []string
	indexed := false
	for i, v := range verb.FindAllString(format, -1) {
		if strings.HasPrefix(v, "%[") {
			indexed = true
		} else {
			v = "%[" + strconv.Itoa(i+1) + "]" + v[1:]
		}
		list = append(list, v)
	}
	if indexed {
		slices.Sort(list)
		list = slices.Compact(list)
	}
	return list
}

// TestVerbs makes sure that the comparison sees what it must.
func TestVerbs(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		same bool
	}{
		{"%d of %s", "%d de %s", true},
		{"%d of %s", "%[2]s: %[1]d", true},
		{"%d of %s", "%s de %d", false},
		{"%d left", "quedan", false},
		{"5 % of it", "el 5 % de ello", true},
	} {
		if got := slices.Equal(verbs(tt.a), verbs(tt.b)); got != tt.same {
			t.Errorf("%q and %q agree: %v; want %v", tt.a, tt.b, got, tt.same)
		}
	}
}
