package ui

import (
	"context"
	"strconv"
	"strings"

	"github.com/a-h/templ"

	"brae/web/say"
)

// Field is one question of a form: what is asked, what was typed, and what is
// wrong with it. The name is also the id of the control, to which the summary
// of problems leads.
type Field struct {
	Name         string
	ID           string // instead of the name, where a form repeats a field
	Label        string
	Value        string // as typed; for a checkbox, what is sent when ticked
	Problem      string // one sentence; empty if there is none
	Hint         string
	Unit         string // after the input: "min", "bpm"
	InputMode    string // overrides what the component chooses
	Autocomplete string // "off" if empty
	List         string // id of a datalist with suggestions
	Type         string // of Text: "email", "tel", "password"; "text" if empty
	Required     bool   // the browser and screen readers say so
	Optional     bool   // the label says so
	Width        int    // of the input in characters: 4, 8 or 20; 0 is the full width
	MaxLength    int    // in characters; 0 is no limit
	Min, Max     string // of a date, as YYYY-MM-DD
	Rows         int    // of TextArea; 4 if 0
	Checked      bool   // of Checkbox
	ReadOnly     bool   // shown, and read by password managers, but not to be changed
	Options      []Option
	Cards        bool // Radios: big choices with room for a hint each
}

// Option is one answer to choose.
type Option struct {
	Value   string
	Label   string
	Hint    string
	Group   string // of Select: the heading it stands under with its neighbours
	Checked bool   // of Checkboxes; elsewhere the field's value decides
}

// optionGroup is neighbouring options under one heading, which may be empty.
type optionGroup struct {
	label   string
	options []Option
}

func (f Field) optionGroups() []optionGroup {
	var groups []optionGroup
	for _, o := range f.Options {
		if n := len(groups); n > 0 && groups[n-1].label == o.Group {
			groups[n-1].options = append(groups[n-1].options, o)
			continue
		}
		groups = append(groups, optionGroup{o.Group, []Option{o}})
	}
	return groups
}

// Group is a set of questions under one heading.
type Group struct {
	Name    string // id of the fieldset; needed if Problem may be set
	Legend  string
	Hint    string
	Problem string
	Large   bool // the legend reads as a heading
}

// Button sends a form, or is a link that stands among buttons.
type Button struct {
	Label string
	Href  string // makes it a link
	Name  string // with Value, sent when this button is pressed
	Value string
	To    string // address that takes the form instead of the form's own
	Kind  ButtonKind
}

// ButtonKind says how much a button asks for attention.
type ButtonKind string

// The kinds of buttons. A page has one Primary button at most.
const (
	Primary ButtonKind = ""
	Quiet   ButtonKind = "quiet"
	Danger  ButtonKind = "danger"
)

func (b Button) class() string {
	if b.Kind == Primary {
		return "button"
	}
	return "button " + string(b.Kind)
}

func (f Field) id() string {
	if f.ID != "" {
		return f.ID
	}
	return f.Name
}

// describedBy names the hint and the problem, in the order in which they are
// read out: what was asked, then what is wrong.
func (f Field) describedBy() string { return describedBy(f.id(), f.Hint, f.Problem) }

func describedBy(id, hint, problem string) string {
	var ids []string
	if hint != "" {
		ids = append(ids, id+"-hint")
	}
	if problem != "" {
		ids = append(ids, id+"-problem")
	}
	return strings.Join(ids, " ")
}

// optionID gives the first option the field's own id, so that the summary of
// problems leads to something that takes the focus.
func (f Field) optionID(i int) string {
	if i == 0 {
		return f.id()
	}
	return f.id() + "-" + strconv.Itoa(i+1)
}

func (f Field) inputType() string {
	if f.Type == "" {
		return "text"
	}
	return f.Type
}

func (f Field) autocomplete() string {
	if f.Autocomplete == "" {
		return "off"
	}
	return f.Autocomplete
}

func (f Field) rows() string {
	if f.Rows == 0 {
		return "4"
	}
	return strconv.Itoa(f.Rows)
}

func (f Field) class() string {
	if f.Problem != "" {
		return "field wrong"
	}
	return "field"
}

func (f Field) widthClass() string {
	switch {
	case f.Width == 0:
		return "w-full"
	case f.Width <= 4:
		return "w-4"
	case f.Width <= 8:
		return "w-8"
	default:
		return "w-20"
	}
}

func (f Field) choicesClass() string {
	if f.Cards {
		return "choices cards"
	}
	return "choices"
}

// with fills in what a component knows about its field, unless the page chose.
func (f Field) with(inputMode string, width int) Field {
	if f.InputMode == "" {
		f.InputMode = inputMode
	}
	if f.Width == 0 {
		f.Width = width
	}
	return f
}

// threeWay gives the answers to a health question. Nobody is made to guess:
// "not sure" is an answer.
func (f Field) threeWay(ctx context.Context) Field {
	f.Options = []Option{
		{Value: "yes", Label: say.T(ctx, "Yes")}, {Value: "no", Label: say.T(ctx, "No")}, {Value: "not_sure", Label: say.T(ctx, "Not sure")},
	}
	return f
}

func problemsTitle(ctx context.Context, n int) string {
	if n == 1 {
		return say.T(ctx, "One answer needs another look")
	}
	return say.F(ctx, "%d answers need another look", n)
}

// attributes are what every control has: its name, and what ties it to its
// label, hint, unit and problem.
func (f Field) attributes() templ.Attributes {
	a := templ.Attributes{"id": f.id(), "name": f.Name, "autocomplete": f.autocomplete()}
	described := f.describedBy()
	if f.Unit != "" {
		described = strings.TrimSpace(f.id() + "-unit " + described)
	}
	if described != "" {
		a["aria-describedby"] = described
	}
	if f.Problem != "" {
		a["aria-invalid"] = "true"
	}
	if f.Required {
		a["required"] = true
	}
	if f.List != "" {
		a["list"] = f.List
	}
	if f.ReadOnly {
		a["readonly"] = true
	}
	if f.MaxLength > 0 {
		a["maxlength"] = strconv.Itoa(f.MaxLength)
	}
	return a
}

// WithUnit, WithHint and WithOptions return the field with one thing more, for
// pages that build many of them from one pattern.

// WithUnit returns f with a unit after the input.
func (f Field) WithUnit(unit string) Field { f.Unit = unit; return f }

// WithHint returns f with a hint.
func (f Field) WithHint(hint string) Field { f.Hint = hint; return f }

// WithOptions returns f with the answers to choose from.
func (f Field) WithOptions(options ...Option) Field { f.Options = options; return f }
