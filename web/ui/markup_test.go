package ui

import (
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// nodes returns the elements of a page in their order.
func nodes(t *testing.T, page string) []*html.Node {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var list []*html.Node
	for n := range doc.Descendants() {
		if n.Type == html.ElementNode {
			list = append(list, n)
		}
	}
	return list
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func hasClass(n *html.Node, class string) bool {
	return slices.Contains(strings.Fields(attr(n, "class")), class)
}

func text(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// TestMarkup holds every page of the gallery against what a page must be
// whatever it shows.
func TestMarkup(t *testing.T) {
	for _, s := range shots() {
		t.Run(s.name, func(t *testing.T) {
			page := s.render(t)
			if !strings.HasPrefix(page, "<!doctype html>") && !strings.HasPrefix(page, "<!DOCTYPE html>") {
				t.Error("no doctype")
			}
			elements := nodes(t, page)
			ids := map[string]int{}
			count := map[string]int{}
			labelled := map[string]bool{}
			for _, n := range elements {
				if id := attr(n, "id"); id != "" {
					ids[id]++
				}
				if n.Data == "label" {
					labelled[attr(n, "for")] = true
				}
				count[n.Data]++
				for _, a := range n.Attr {
					if a.Key == "style" || strings.HasPrefix(a.Key, "on") {
						t.Errorf("content security policy: <%s %s=%q>", n.Data, a.Key, a.Val)
					}
				}
				if n.Data == "style" || n.Data == "script" && (attr(n, "src") == "" || n.FirstChild != nil) {
					t.Errorf("content security policy: inline <%s>", n.Data)
				}
			}
			for id, n := range ids {
				if n > 1 {
					t.Errorf("WCAG 2.2, 4.1.2: id %q stands %d times", id, n)
				}
			}
			for _, n := range elements {
				for _, key := range []string{"for", "aria-describedby", "aria-labelledby"} {
					for id := range strings.FieldsSeq(attr(n, key)) {
						if ids[id] == 0 {
							t.Errorf("WCAG 2.2, 1.3.1: <%s %s> names %q, which is not there", n.Data, key, id)
						}
					}
				}
				if href := attr(n, "href"); strings.HasPrefix(href, "#") && ids[href[1:]] == 0 {
					t.Errorf("link to %s, which is not there", href)
				}
				for _, key := range []string{"fill", "clip-path"} {
					if ref, ok := strings.CutPrefix(attr(n, key), "url(#"); ok && ids[strings.TrimSuffix(ref, ")")] == 0 {
						t.Errorf("%s=%q refers to nothing", key, attr(n, key))
					}
				}
				switch n.Data {
				case "input", "select", "textarea":
					if attr(n, "type") != "hidden" && !labelled[attr(n, "id")] {
						t.Errorf("WCAG 2.2, 3.3.2: no label for %q", attr(n, "name"))
					}
				case "svg":
					if attr(n, "aria-hidden") == "" && attr(n, "aria-label") == "" && attr(n, "aria-labelledby") == "" {
						t.Error("WCAG 2.2, 1.1.1: a drawing without words")
					}
					if attr(n, "aria-hidden") == "" && attr(n, "role") != "img" {
						t.Errorf("WCAG 2.2, 1.1.1: a drawing with role %q, whose words may go unread", attr(n, "role"))
					}
				case "fieldset":
					if n.FirstChild == nil || n.FirstChild.Data != "legend" {
						t.Error("WCAG 2.2, 1.3.1: a fieldset that does not begin with its legend")
					}
				}
			}
			for element, want := range map[string]int{"h1": 1, "main": 1, "header": 1, "footer": 1, "title": 1 + strings.Count(page, "<desc")} {
				if count[element] != want {
					t.Errorf("%d <%s>; want %d", count[element], element, want)
				}
			}
			if attr(elements[0], "lang") != "en" {
				t.Errorf("WCAG 2.2, 3.1.1: lang = %q", attr(elements[0], "lang"))
			}
		})
	}
}

// TestRefusedForm checks a refused form against the error pattern of the GOV.UK
// Design System: a summary above the h1 that takes the focus, one link for each
// message, the same words next to the field, tied to it, and "Error: " in front
// of the title.
func TestRefusedForm(t *testing.T) {
	for _, tt := range []struct {
		name     string
		problems map[string]string
	}{
		{"client-log-refused", logProblems},
		{"staff-intake-refused", intakeProblems},
	} {
		t.Run(tt.name, func(t *testing.T) {
			i := slices.IndexFunc(shots(), func(s shot) bool { return s.name == tt.name })
			elements := nodes(t, shots()[i].render(t))
			byID := map[string]*html.Node{}
			order := []string{}
			links := map[string]string{} // sentence -> field
			inline := map[string]bool{}
			for _, n := range elements {
				if id := attr(n, "id"); id != "" {
					byID[id] = n
				}
				switch {
				case n.Data == "title" && n.Parent.Data == "head" && !strings.HasPrefix(text(n), "Error: "):
					t.Errorf("title %q", text(n))
				case n.Data == "h1":
					order = append(order, "h1")
				case hasClass(n, "summary"):
					order = append(order, "summary")
					if attr(n, "tabindex") != "-1" {
						t.Error("the summary cannot take the focus")
					}
				case n.Data == "a" && n.Parent.Data == "li" && strings.HasPrefix(attr(n, "href"), "#"):
					links[text(n)] = strings.TrimPrefix(attr(n, "href"), "#")
				case hasClass(n, "problem"):
					sentence, found := strings.CutPrefix(text(n), "Error: ")
					if !found {
						t.Errorf("problem without its hidden word: %q", text(n))
					}
					inline[sentence] = true
				}
			}
			if want := []string{"summary", "h1"}; !slices.Equal(order, want) {
				t.Errorf("order %v; want %v", order, want)
			}
			if len(links) != len(tt.problems) || len(inline) != len(tt.problems) {
				t.Errorf("%d links and %d messages; want %d", len(links), len(inline), len(tt.problems))
			}
			for field, sentence := range tt.problems {
				if links[sentence] != field || !inline[sentence] {
					t.Errorf("%s: link to %q, message inline %t", field, links[sentence], inline[sentence])
				}
				control := byID[field]
				if control == nil {
					t.Errorf("no control %q", field)
					continue
				}
				// A choice is told with its group, since the problem is of all answers.
				for attr(control, "aria-describedby") == "" && control.Parent != nil {
					control = control.Parent
				}
				if !strings.Contains(attr(control, "aria-describedby"), field+"-problem") {
					t.Errorf("%s is not tied to its message", field)
				}
				if control.Data == "fieldset" && attr(control, "role") == "" {
					continue // a group of fields has no value that could be invalid
				}
				if attr(control, "aria-invalid") != "true" {
					t.Errorf("%s is not marked invalid", field)
				}
			}
		})
	}
}

func one(t *testing.T, page, element string) *html.Node {
	t.Helper()
	for _, n := range nodes(t, page) {
		if n.Data == element {
			return n
		}
	}
	t.Fatalf("no <%s> in %s", element, page)
	return nil
}

func TestFields(t *testing.T) {
	full := Field{
		Name: "minutes", Label: "How long?", Value: `3"0`, Hint: "Without breaks.", Problem: "Write a number.",
		Unit: "min", Required: true, MaxLength: 4, Autocomplete: "off",
	}
	for _, tt := range []struct {
		name    string
		page    string
		element string
		want    map[string]string
	}{
		{"everything said", component(t, WholeNumber(full)), "input", map[string]string{
			"id": "minutes", "name": "minutes", "value": `3"0`, "type": "text", "inputmode": "numeric", "maxlength": "4",
			"aria-invalid": "true", "aria-describedby": "minutes-unit minutes-hint minutes-problem"}},
		{"nothing said", component(t, Text(Field{Name: "a", Label: "A"})), "input", map[string]string{
			"type": "text", "inputmode": "", "aria-invalid": "", "aria-describedby": "", "autocomplete": "off", "maxlength": ""}},
		{"decimal", component(t, Decimal(Field{Name: "kg", Label: "Weight"})), "input", map[string]string{"inputmode": "decimal"}},
		{"the page's own keyboard", component(t, Decimal(Field{Name: "kg", Label: "Weight", InputMode: "text"})), "input", map[string]string{"inputmode": "text"}},
		{"repeated field", component(t, Text(Field{Name: "m", ID: "m-2", Label: "M", Hint: "h"})), "input", map[string]string{
			"id": "m-2", "name": "m", "aria-describedby": "m-2-hint"}},
		{"day", component(t, DateField(Field{Name: "d", Label: "Day", Value: "2026-03-12", Min: "2026-01-01", Max: "2026-12-31"})), "input", map[string]string{
			"type": "date", "value": "2026-03-12", "min": "2026-01-01", "max": "2026-12-31"}},
		{"ticked", component(t, Checkbox(Field{Name: "c", Label: "C", Hint: "h"})), "input", map[string]string{"value": "yes", "aria-describedby": "c-hint"}},
		{"ticked with a value", component(t, Checkbox(Field{Name: "c", Label: "C", Value: "v"})), "input", map[string]string{"value": "v"}},
		{"hidden", component(t, Hidden("key", "0190")), "input", map[string]string{"type": "hidden", "name": "key", "value": "0190"}},
		{"text of many lines", component(t, TextArea(Field{Name: "n", Label: "N"})), "textarea", map[string]string{"rows": "4"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			n := one(t, tt.page, tt.element)
			for key, want := range tt.want {
				if got := attr(n, key); got != want {
					t.Errorf("%s = %q; want %q", key, got, want)
				}
			}
		})
	}
}

// TestChecked: what was answered comes back answered, and nothing else.
func TestChecked(t *testing.T) {
	options := []Option{{Value: "a", Label: "A"}, {Value: "b", Label: "B", Checked: true}}
	for _, tt := range []struct {
		name string
		page string
		want string
	}{
		{"yes, no or not sure", component(t, ThreeWay(Field{Name: "q", Label: "Q", Value: "not_sure"})), "not_sure"},
		{"not answered", component(t, ThreeWay(Field{Name: "q", Label: "Q"})), ""},
		{"an answer that does not exist", component(t, ThreeWay(Field{Name: "q", Label: "Q", Value: "maybe"})), ""},
		{"radios go by the value", component(t, Radios(Field{Name: "q", Label: "Q", Value: "a", Options: options})), "a"},
		{"checkboxes go by the option", component(t, Checkboxes(Field{Name: "q", Label: "Q", Value: "a", Options: options})), "b"},
		{"one box", component(t, Checkbox(Field{Name: "q", Label: "Q", Checked: true})), "yes"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, n := range nodes(t, tt.page) {
				if slices.ContainsFunc(n.Attr, func(a html.Attribute) bool { return a.Key == "checked" }) {
					got = append(got, attr(n, "value"))
				}
			}
			if strings.Join(got, " ") != tt.want {
				t.Errorf("checked %q; want %q", got, tt.want)
			}
		})
	}
}

func TestRequired(t *testing.T) {
	has := func(page, key string) bool {
		return slices.ContainsFunc(one(t, page, "input").Attr, func(a html.Attribute) bool { return a.Key == key })
	}
	f := Field{Name: "a", Label: "A"}
	if page := component(t, Text(f)); has(page, "required") || has(page, "readonly") || strings.Contains(page, "(optional)") {
		t.Errorf("neither required, fixed nor optional: %s", page)
	}
	f.Required, f.ReadOnly = true, true
	if page := component(t, Text(f)); !has(page, "required") || !has(page, "readonly") {
		t.Errorf("required and fixed: %s", page)
	}
	if page := component(t, ThreeWay(f)); attr(one(t, page, "fieldset"), "aria-required") != "true" {
		t.Errorf("a required choice: %s", page)
	}
	f.Optional = true
	if page := component(t, Text(f)); !strings.Contains(page, "(optional)") {
		t.Errorf("optional: %s", page)
	}
}

func TestWidths(t *testing.T) {
	for width, want := range map[int]string{0: "w-full", 1: "w-4", 4: "w-4", 5: "w-8", 8: "w-8", 9: "w-20", 20: "w-20"} {
		if got := (Field{Width: width}).widthClass(); got != want {
			t.Errorf("a width of %d is %s; want %s", width, got, want)
		}
	}
}

func TestButtons(t *testing.T) {
	page := component(t, Buttons(Button{Label: "Save"}, Button{Label: "Again", Kind: Quiet, Name: "then", Value: "again"}, Button{Label: "Back", Href: "/b", Kind: Danger}))
	for _, want := range []string{
		`<button class="button" type="submit">Save</button>`,
		`<button class="button quiet" type="submit" name="then" value="again">Again</button>`,
		`<a class="button danger" href="/b">Back</a>`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %s in %s", want, page)
		}
	}
}

func TestErrorSummary(t *testing.T) {
	one := Problem{"a", "A."}
	for n, want := range map[int]string{1: "One answer needs another look", 2: "2 answers need another look"} {
		if page := component(t, ErrorSummary(slices.Repeat([]Problem{one}, n))); !strings.Contains(page, want) {
			t.Errorf("%d problems: no %q in %s", n, want, page)
		}
	}
	if page := component(t, ErrorSummary(nil)); page != "" {
		t.Errorf("no problems, and yet %s", page)
	}
}

func TestPagination(t *testing.T) {
	if page := component(t, Pagination(Pager{Position: "Page 1 of 1"})); page != "" {
		t.Errorf("one page only, and yet %s", page)
	}
	page := component(t, Pagination(Pager{Next: "/?page=2", Position: "Page 1 of 2"}))
	if !strings.Contains(page, `rel="next"`) || strings.Contains(page, `rel="prev"`) || !strings.Contains(page, "Page 1 of 2") {
		t.Errorf("the first of two pages: %s", page)
	}
}

func TestProblems(t *testing.T) {
	got := Problems(map[string]string{"z": "Z.", "b": "B.", "a": "A."}, "b", "none")
	want := []Problem{{"b", "B."}, {"a", "A."}, {"z", "Z."}}
	if !slices.Equal(got, want) {
		t.Errorf("Problems = %v; want %v", got, want)
	}
}

func TestBodyClass(t *testing.T) {
	for want, p := range map[string]Page{
		"client": {ClientArea: true}, "staff": {}, "staff wide": {Wide: true}, "client wide": {ClientArea: true, Wide: true},
	} {
		if got := p.bodyClass(); got != want {
			t.Errorf("body of class %q; want %q", got, want)
		}
	}
}

func TestClientPage(t *testing.T) {
	p := clientPage("Week")
	p.Emergency = "+44 (0)20 / 7946-0000"
	page := component(t, Layout(p))
	for _, want := range []string{
		"The clinic does not watch your logs live.",
		`href="tel:+4402079460000"`,
		`<title>Week · Northside Rehab</title>`,
		`aria-current="page"`,
		`href="#main"`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("a client's page has no %s", want)
		}
	}
	if page := component(t, Layout(staffPage("Review"))); strings.Contains(page, "watch your logs") {
		t.Error("a page of the staff says what is meant for clients")
	}
}

// TestNoHeartRate: without a valid basis no range is shown, and no column that
// asks for one.
func TestNoHeartRate(t *testing.T) {
	if page := component(t, ZoneTable(zonesWithout())); strings.Contains(page, "bpm") || strings.Contains(page, "Heart rate") {
		t.Error("a table without a basis speaks of heart rates")
	}
	page := component(t, ZoneTable(zones))
	if n := strings.Count(page, `class="muted"`); n != 2 {
		t.Errorf("%d classes are marked as not open; want 2", n)
	}
	for _, want := range []string{"Heart rate", "104 to 121 bpm", "On hold until a doctor has answered", "–"} {
		if !strings.Contains(page, want) {
			t.Errorf("the table of zones has no %q", want)
		}
	}
}

func TestTableLabels(t *testing.T) {
	page := component(t, DataTable(Table{
		Caption: "C", Columns: []Column{{Label: "Day"}, {Label: "Minutes", Number: true}},
		Rows: []Row{{Cells: []Cell{{Text: "Mon"}, {Text: "30"}, {Text: "extra"}}}},
	}))
	for class, row := range map[string]Row{"total": {Total: true}, "muted": {Muted: true}, "": {}} {
		if got := row.class(); got != class {
			t.Errorf("row %+v is of class %q; want %q", row, got, class)
		}
	}
	cells := 0
	for _, n := range nodes(t, page) {
		if n.Data != "td" {
			continue
		}
		cells++
		if want := map[string]string{"30": "Minutes", "extra": ""}[text(n)]; attr(n, "data-label") != want {
			t.Errorf("cell %s is labelled %q; want %q", text(n), attr(n, "data-label"), want)
		}
	}
	if cells != 2 {
		t.Errorf("%d cells; want 2", cells)
	}
}

func TestSteps(t *testing.T) {
	page := component(t, Steps([]Step{{Label: "A", State: Done}, {Label: "B", State: Wrong}, {Label: "C"}, {Label: "D", State: Started}}))
	if !strings.Contains(page, "1 of 4 done") {
		t.Errorf("no count in %s", page)
	}
	want := []string{"step done A Done", "step wrong B Needs another look", "step todo C Not started", "step started D Started"}
	var got []string
	for _, n := range nodes(t, page) {
		if n.Data == "li" {
			got = append(got, attr(n, "class")+" "+text(n))
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("steps %q; want %q", got, want)
	}
}
