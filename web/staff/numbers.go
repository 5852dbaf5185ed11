package staff

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/go-chi/chi/v5"

	"brae/domain"
	"brae/domain/fitness"
	"brae/domain/source"
	"brae/web/page"
	"brae/web/ui"
)

// calculator is one page of numbers: what it asks, and the rule that answers. It
// saves nothing and knows no client.
type calculator struct {
	path, name, lead string
	caution          string
	ask              func(*typed) numbersForm
	answer           func(*typed, source.Values) numbersResult // problems go to typed
}

// calculators are the pages, in the order of their navigation.
var calculators = []calculator{zonesCalculator, weekCalculator, testsCalculator, energyCalculator, workloadCalculator, percentileCalculator, medicinesCalculator}

// numbersForm is what a calculator asks. Which fields those are may depend on
// what was chosen first.
type numbersForm struct {
	chosen string // what the fields are for; empty if they are always the same
	fields []numbersField
	more   []numbersField // asked less often
	about  string         // the summary over more
}

// numbersField is a field with the control that asks for it.
type numbersField struct {
	ui.Field
	control  control
	proposed string // what a choice is until somebody chooses
}

// control is how a field is asked.
type control int

const (
	line control = iota // of text, wide enough for a number with its unit
	whole
	decimal
	area
	choice
	radios
	tick
	ticks
)

// as returns the field with how it is asked.
func (c control) as(f ui.Field) numbersField {
	if c == line && f.Width == 0 {
		f.Width = 8
	}
	return numbersField{Field: f, control: c, proposed: f.Value}
}

// numbersResult is an answer ready to print.
type numbersResult struct {
	sentence string
	zones    *ui.Zones
	items    []ui.Definition
	tables   []ui.Table
	notes    []string // what limits the answer
	about    string   // over steps
	steps    []string
	cites    []source.Key
}

// numbersView is what a page of numbers shows.
type numbersView struct {
	calculator
	form     numbersForm
	problems domain.Problems
	answered bool
	result   numbersResult
}

// Numbers answers what was typed into a calculator, by the practice's own
// settings. What was typed is in the address, so that an answer can be kept as a
// bookmark and nothing needs a script. A question that cannot be answered yet is
// no refusal: while somebody types, most are.
func (p Pages) Numbers(w http.ResponseWriter, r *http.Request) error {
	c, err := findCalculator(chi.URLParam(r, "calculator"))
	if err != nil {
		return err
	}
	settings, err := p.Store.Settings(r.Context(), page.From(r.Context()).Actor())
	if err != nil {
		return err
	}
	v := c.view(r.URL.Query(), settings.Changed)
	frame := p.Frame(r, "Numbers: "+c.name)
	frame.Scripts = []string{"js/numbers.js"}
	frame.ProblemTitle = v.problems != nil
	return p.Render(w, r, http.StatusOK, frame, numbersPage(v))
}

// findCalculator returns the calculator of an address, the first one without.
func findCalculator(path string) (calculator, error) {
	if path == "" {
		return calculators[0], nil
	}
	i := slices.IndexFunc(calculators, func(c calculator) bool { return c.path == path })
	if i < 0 {
		return calculator{}, domain.ErrNotFound
	}
	return calculators[i], nil
}

func (c calculator) view(query url.Values, settings source.Values) numbersView {
	t := &typed{query: query}
	v := numbersView{calculator: c, form: c.ask(t)}
	// Fields that have just been asked for are empty: that is no mistake yet.
	if len(query) > 0 && (!query.Has("shown") || query.Get("shown") == v.form.chosen) {
		v.result = c.answer(t, settings)
		v.problems, v.answered = t.problems, t.problems == nil
	}
	for _, fields := range [][]numbersField{v.form.fields, v.form.more} {
		for i := range fields {
			fields[i].Problem = v.problems[fields[i].Name]
		}
	}
	return v
}

// others leads to all calculators.
func (v numbersView) others() []ui.Choice {
	var list []ui.Choice
	for _, c := range calculators {
		list = append(list, ui.Choice{Label: c.name, Href: "/numbers/" + c.path, Current: c.path == v.path})
	}
	return list
}

// order is the fields as they stand on the page.
func (v numbersView) order() []string {
	var names []string
	for _, f := range slices.Concat(v.form.fields, v.form.more) {
		names = append(names, f.Name)
	}
	return names
}

// inUse is what was typed or chosen, in words; empty if nothing was.
func (f numbersField) inUse() string {
	switch f.control {
	case tick:
		if f.Checked {
			return "Yes"
		}
	case choice, radios, ticks:
		var chosen []string
		for _, o := range f.Options {
			if o.Checked {
				chosen = append(chosen, o.Label)
			}
		}
		return strings.Join(chosen, ", ")
	default:
		text := strings.Join(strings.Fields(f.Value), " ")
		if text == "" || f.Unit == "" || strings.ContainsFunc(text, unicode.IsLetter) || strings.Contains(text, ":") {
			return text
		}
		return text + " " + f.Unit
	}
	return ""
}

// changed are the fields asked less often that are in use.
func (v numbersView) changed() []numbersField {
	return slices.DeleteFunc(slices.Clone(v.form.more), func(f numbersField) bool {
		return f.inUse() == "" || f.control == choice && f.Value == f.proposed
	})
}

// moreOpen reports whether one of the fields that are asked less often has to be
// seen.
func (v numbersView) moreOpen() bool {
	return len(v.changed()) > 0 || slices.ContainsFunc(v.form.more, func(f numbersField) bool { return f.Problem != "" })
}

// given repeats what the answer is for, since a print of it has to say so.
func (v numbersView) given() string {
	var words []string
	for _, f := range slices.Concat(v.form.fields, v.changed()) {
		if text := f.inUse(); text != "" {
			words = append(words, f.Label+": "+text)
		}
	}
	return strings.Join(words, "; ")
}

func (v numbersView) sources() []ui.Source {
	var list []ui.Source
	for i, key := range v.result.cites {
		if !slices.Contains(v.result.cites[:i], key) {
			list = append(list, page.Source(key))
		}
	}
	return list
}

// typed is what stands in the address, and what is wrong with it.
type typed struct {
	query    url.Values
	problems domain.Problems
}

// text returns a value without the spaces around it.
func (t *typed) text(name string) string { return strings.TrimSpace(t.query.Get(name)) }

// whole returns a whole number, nil if the field is empty or wrong.
func (t *typed) whole(name string) *int {
	text := t.text(name)
	if text == "" {
		return nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || len(text) > 6 {
		t.problems.Add(name, "Type a whole number.")
		return nil
	}
	return &n
}

// number returns a number with decimals. A comma before three digits is refused:
// it could stand for thousands.
func (t *typed) number(name string) *float64 {
	text := t.text(name)
	if text == "" {
		return nil
	}
	whole, decimals, _ := strings.Cut(strings.Replace(text, ",", ".", 1), ".")
	digits := func(s string) bool {
		return !strings.ContainsFunc(s, func(r rune) bool { return r < '0' || r > '9' })
	}
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || !digits(whole+decimals) || len(text) > 12 || strings.Contains(text, ",") && len(decimals) == 3 {
		t.problems.Add(name, "Type a number, such as 12.5.")
		return nil
	}
	return &x
}

// quantity returns a quantity in the unit of the rules. A number alone is in the
// unit that stands behind the field; without one there, the unit must be typed.
func (t *typed) quantity(name string, kind fitness.Kind, unit string) *float64 {
	text := t.text(name)
	if text == "" {
		return nil
	}
	if unit != "" && !strings.ContainsFunc(text, unicode.IsLetter) {
		text += " " + unit
	}
	x, err := fitness.ParseQuantity(text, kind)
	if err != nil {
		t.problems.Add(name, err.Error())
		return nil
	}
	return &x
}

// minutes returns a time in minutes with decimals.
func (t *typed) minutes(name string) *float64 {
	text := t.text(name)
	if text == "" {
		return nil
	}
	x, err := fitness.ParseMinutes(text)
	if err != nil {
		t.problems.Add(name, err.Error())
		return nil
	}
	return &x
}

// refuse takes over the problems in err, if it has some, under the names of the
// fields here.
func (t *typed) refuse(err error, names map[string]string) {
	problems, ok := page.Problems(err)
	if !ok {
		return
	}
	for field, sentence := range problems {
		if name, ok := names[field]; ok {
			field = name
		}
		t.problems.Add(field, sentence)
	}
}

// fill puts what was typed into the fields. A choice that was not made keeps the
// value that the page proposes.
func (t *typed) fill(fields ...numbersField) []numbersField {
	for i := range fields {
		f := &fields[i]
		switch f.control {
		case tick:
			f.Checked = t.query.Get(f.Name) == "yes"
		case ticks:
			for j, o := range f.Options {
				f.Options[j].Checked = slices.Contains(t.query[f.Name], o.Value)
			}
		case choice, radios:
			if t.query.Has(f.Name) {
				f.Value = t.query.Get(f.Name)
			}
			for j, o := range f.Options {
				f.Options[j].Checked = o.Value != "" && o.Value == f.Value
			}
		default:
			f.Value = t.query.Get(f.Name)
		}
	}
	return fields
}
