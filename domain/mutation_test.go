//go:build mutation

package domain_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var (
	sample = flag.Int("mutants", 100, "how many constants to change; 0 is all")
	seed   = flag.Uint64("seed", 1, "which ones")
	only   = flag.String("package", "", "only in this package, such as volume")
)

// mutant is one number of the domain, changed by one.
type mutant struct {
	pkg, path string
	line      int
	from, to  int // offsets in the file
	was, is   string
}

func (m mutant) String() string { return fmt.Sprintf("%s:%d: %s -> %s", m.path, m.line, m.was, m.is) }

// TestMutants changes numbers of the domain, one at a time, and runs the tests of
// the package: each change must make one fail. It changes no file: the compiler
// is given another one in its place.
//
//	go test -tags mutation -timeout 2h ./domain -run TestMutants -mutants 200
func TestMutants(t *testing.T) {
	mutants := find(t)
	r := rand.New(rand.NewPCG(*seed, 0))
	r.Shuffle(len(mutants), func(i, j int) { mutants[i], mutants[j] = mutants[j], mutants[i] })
	if *sample > 0 {
		mutants = mutants[:min(*sample, len(mutants))]
	}
	var survivors []string
	tried := 0
	for _, m := range mutants {
		killed, compiled := try(t, m)
		if !compiled {
			continue
		}
		tried++
		if !killed {
			survivors = append(survivors, m.String())
		}
	}
	slices.Sort(survivors)
	for _, s := range survivors {
		t.Log("survived: " + s)
	}
	killed := tried - len(survivors)
	t.Logf("%d of %d mutants killed (%.1f %%)", killed, tried, 100*float64(killed)/float64(max(tried, 1)))
	if killed*100 < tried*95 {
		t.Error("fewer than 95 % were killed")
	}
}

// find lists the numbers in the domain's code. Texts of rules, settings and
// citations are for people: their numbers are not computed with.
func find(t *testing.T) []mutant {
	t.Helper()
	var all []mutant
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") ||
			strings.HasPrefix(path, "source") || strings.HasSuffix(path, "rules.go") {
			return err
		}
		pkg := filepath.Dir(path)
		if *only != "" && pkg != *only {
			return nil
		}
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.INT && lit.Kind != token.FLOAT {
				return true
			}
			at := files.Position(lit.Pos())
			m := mutant{pkg: pkg, path: path, line: at.Line, from: at.Offset, to: at.Offset + len(lit.Value), was: lit.Value}
			if n, err := strconv.ParseInt(lit.Value, 0, 64); err == nil {
				m.is = strconv.FormatInt(n+1, 10)
			} else {
				m.is = "(" + lit.Value + "+0.25)"
			}
			all = append(all, m)
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// try runs the tests of the mutant's package, and of those that rest on it.
func try(t *testing.T, m mutant) (killed, compiled bool) {
	t.Helper()
	text, err := os.ReadFile(m.path)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	changed := filepath.Join(dir, "mutant.go")
	if err := os.WriteFile(changed, []byte(string(text[:m.from])+m.is+string(text[m.to:])), 0o600); err != nil {
		t.Fatal(err)
	}
	full, err := filepath.Abs(m.path)
	if err != nil {
		t.Fatal(err)
	}
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{full: changed}})
	if err != nil {
		t.Fatal(err)
	}
	overlayFile := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(overlayFile, overlay, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("go", "build", "-overlay", overlayFile, "./"+m.pkg).CombinedOutput(); err != nil {
		t.Logf("does not compile: %s: %.100s", m, out)
		return false, false
	}
	for _, pkg := range []string{"./" + m.pkg, "./intake", "./rulebook"} {
		if exec.Command("go", "test", "-count=1", "-vet=off", "-timeout=60s", "-overlay", overlayFile, pkg).Run() != nil {
			return true, true
		}
	}
	return false, true
}
