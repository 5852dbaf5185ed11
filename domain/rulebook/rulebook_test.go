package rulebook_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"brae/domain/rulebook"
	"brae/domain/source"
)

func TestEveryRuleIsCited(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rulebook.Rules() {
		if r.ID == "" || r.Says == "" || r.Topic == "" {
			t.Errorf("rule %+v is incomplete", r)
		}
		if seen[r.ID] {
			t.Errorf("two rules are called %s", r.ID)
		}
		seen[r.ID] = true
		checkCites(t, "rule "+r.ID, r.Cites)
	}
	if len(seen) < 100 {
		t.Errorf("only %d rules", len(seen))
	}
}

func TestEverySettingIsCited(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range rulebook.Settings() {
		if s.Key == "" || s.Says == "" || s.Unit == "" || s.Topic == "" {
			t.Errorf("setting %+v is incomplete", s)
		}
		if seen[s.Key] {
			t.Errorf("two settings are called %s", s.Key)
		}
		seen[s.Key] = true
		if s.Low > s.Default || s.Default > s.High || s.Low >= s.High {
			t.Errorf("setting %s: %d is not within %d to %d", s.Key, s.Default, s.Low, s.High)
		}
		if s.Unit == "on/off" && (s.Low != 0 || s.High != 1) {
			t.Errorf("switch %s has the range %d to %d", s.Key, s.Low, s.High)
		}
		checkCites(t, "setting "+s.Key, s.Cites)
	}
}

func checkCites(t *testing.T, what string, cites []source.Key) {
	t.Helper()
	if len(cites) == 0 {
		t.Errorf("%s cites nothing", what)
	}
	for _, key := range cites {
		if _, ok := source.Find(key); !ok {
			t.Errorf("%s cites %s, which does not exist", what, key)
		}
	}
}

func TestCitations(t *testing.T) {
	statuses := map[source.Status]bool{
		source.Published: true, source.PublishedSecond: true, source.FromMemory: true,
		source.CommonPractice: true, source.PracticeSetting: true, source.ToBeConfirmed: true,
	}
	seen := map[source.Key]bool{}
	for _, c := range source.Citations() {
		if c.Text == "" || c.Topic == "" || !statuses[c.Status] {
			t.Errorf("citation %+v is incomplete", c)
		}
		if seen[c.Key] {
			t.Errorf("two citations are called %s", c.Key)
		}
		seen[c.Key] = true
	}
}

func TestCheck(t *testing.T) {
	s := rulebook.Settings()[0]
	for _, tt := range []struct {
		values source.Values
		ok     bool
	}{
		{nil, true},
		{source.Values{s.Key: s.Low}, true},
		{source.Values{s.Key: s.High}, true},
		{source.Values{s.Key: s.Low - 1}, false},
		{source.Values{s.Key: s.High + 1}, false},
		{source.Values{"no.such": 1}, false},
	} {
		if err := rulebook.Check(tt.values); (err == nil) != tt.ok {
			t.Errorf("Check(%v) = %v; want ok %t", tt.values, err, tt.ok)
		}
	}
}

// sourceLine is a line of a doc comment that names where something comes from.
var sourceLine = regexp.MustCompile(`(?:Source|Practice rule): ([a-z0-9_]+(?:, [a-z0-9_]+)*)\.`)

// TestDocCommentsCite reads the source of the domain: each key that a doc comment
// names must be a citation, and each exported constant or table of numbers must
// name one.
func TestDocCommentsCite(t *testing.T) {
	cited := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, match := range sourceLine.FindAllStringSubmatch(strings.ReplaceAll(string(text), "\n// ", " "), -1) {
			for key := range strings.SplitSeq(match[1], ", ") {
				cited++
				if _, ok := source.Find(source.Key(key)); !ok {
					t.Errorf("%s cites %s, which does not exist", path, key)
				}
			}
		}
		return checkConstants(t, path, text)
	})
	if err != nil {
		t.Fatal(err)
	}
	if cited < 150 {
		t.Errorf("only %d citations in doc comments", cited)
	}
}

// checkConstants reports exported numeric constants without a source.
func checkConstants(t *testing.T, path string, text []byte) error {
	file, err := parser.ParseFile(token.NewFileSet(), path, text, parser.ParseComments)
	if err != nil {
		return err
	}
	for _, decl := range file.Decls {
		group, ok := decl.(*ast.GenDecl)
		if !ok || group.Tok != token.CONST {
			continue
		}
		for _, spec := range group.Specs {
			value := spec.(*ast.ValueSpec)
			numeric := false
			for _, v := range value.Values {
				lit, ok := v.(*ast.BasicLit)
				numeric = numeric || ok && lit.Kind != token.STRING
			}
			doc := group.Doc.Text() + value.Doc.Text() + value.Comment.Text()
			if numeric && value.Names[0].IsExported() && !sourceLine.MatchString(strings.ReplaceAll(doc, "\n", " ")) && !strings.Contains(doc, "Not a rule") {
				t.Errorf("%s: constant %s names no source", path, value.Names[0].Name)
			}
		}
	}
	return nil
}
