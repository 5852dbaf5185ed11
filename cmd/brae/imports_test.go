package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// layers are the packages of Brae from the outside in. An import may only run
// inwards: cmd -> web -> store -> domain. What a layer may use beside the layers
// further in stands behind it.
var layers = []struct {
	prefix string
	inward []string
}{
	{"brae/cmd", []string{"brae/web", "brae/store", "brae/migrations", "brae/static", "brae/domain"}},
	{"brae/e2e", []string{"brae/e2e", "brae/store", "brae/migrations", "brae/domain"}},
	{"brae/web", []string{"brae/web", "brae/store", "brae/static", "brae/domain"}},
	{"brae/store", []string{"brae/store", "brae/migrations", "brae/domain"}},
	{"brae/migrations", nil},
	{"brae/static", nil},
	{"brae/domain", []string{"brae/domain"}},
}

// driven are modules that only one layer may import.
var driven = map[string]string{
	"github.com/jackc/pgx/v5":                     "brae/store brae/migrations brae/e2e",
	"github.com/go-chi/chi/v5":                    "brae/web",
	"github.com/a-h/templ":                        "brae/web",
	"github.com/testcontainers/testcontainers-go": "brae/store/storetest",
	"github.com/chromedp/chromedp":                "brae/e2e",
	"net/http":                                    "brae/web brae/cmd brae/static brae/e2e",
}

func TestImportsRunInwards(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`, "brae/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	packages := 0
	for line := range strings.Lines(string(out)) {
		fields := strings.Fields(line)
		packages++
		for _, problem := range outward(fields[0], fields[1:]) {
			t.Error(problem)
		}
	}
	if packages < 15 {
		t.Errorf("only %d packages were looked at", packages)
	}
}

// outward returns what a package imports against the arrow.
func outward(pkg string, imports []string) (problems []string) {
	i := slices.IndexFunc(layers, func(l struct {
		prefix string
		inward []string
	}) bool {
		return within(pkg, l.prefix)
	})
	if i < 0 {
		return []string{pkg + " is in no layer"}
	}
	for _, imported := range imports {
		ours := strings.HasPrefix(imported, "brae/")
		inward := slices.ContainsFunc(layers[i].inward, func(prefix string) bool { return within(imported, prefix) })
		switch {
		case ours && !inward:
			problems = append(problems, pkg+" imports "+imported+", against the arrow")
		case !ours && within(pkg, "brae/domain") && strings.Contains(strings.SplitN(imported, "/", 2)[0], "."):
			problems = append(problems, pkg+" imports "+imported+"; the domain imports only the standard library")
		case ours && strings.HasPrefix(imported, "brae/store/storetest"):
			problems = append(problems, pkg+" imports "+imported+", which is for tests")
		}
		for module, owners := range driven {
			owned := slices.ContainsFunc(strings.Fields(owners), func(owner string) bool { return within(pkg, owner) })
			if within(imported, module) && !owned {
				problems = append(problems, pkg+" imports "+imported+", which only "+owners+" may")
			}
		}
	}
	return problems
}

func within(pkg, prefix string) bool { return pkg == prefix || strings.HasPrefix(pkg, prefix+"/") }

// TestOutwardIsFound shows that the test above can fail.
func TestOutwardIsFound(t *testing.T) {
	for _, tt := range []struct {
		pkg, imported string
		wrong         bool
	}{
		{"brae/domain/plan", "brae/store", true},
		{"brae/domain/plan", "brae/domain/volume", false},
		{"brae/domain/plan", "net/http", true},
		{"brae/domain/plan", "github.com/google/uuid", true},
		{"brae/store", "brae/web/page", true},
		{"brae/web/staff", "brae/store", false},
		{"brae/web/staff", "github.com/jackc/pgx/v5/pgconn", true},
		{"brae/cmd/brae", "brae/store/storetest", true},
	} {
		if got := len(outward(tt.pkg, []string{tt.imported})) > 0; got != tt.wrong {
			t.Errorf("%s imports %s: wrong %t; want %t", tt.pkg, tt.imported, got, tt.wrong)
		}
	}
}
