package staff

import (
	"fmt"
	"strings"

	"github.com/a-h/templ"

	"brae/domain/intensity"
	"brae/web/ui"
)

// wrong marks a control that needs another look.
func (v planView) wrong(field string) templ.Attributes {
	if v.Problems[field] == "" {
		return nil
	}
	return templ.Attributes{"aria-invalid": "true", "aria-describedby": field + "-problem"}
}

// wrongWith reports whether something is wrong with fields of that beginning.
func (v planView) wrongWith(beginning string) bool {
	for field := range v.Problems {
		if strings.HasPrefix(field, beginning) {
			return true
		}
	}
	return false
}

func (v planView) beginTitle() string {
	if v.Sheet.Plan == nil {
		return "Begin a plan"
	}
	return "Lay out new weeks"
}

// summary lists what is wrong in the order of the page.
func (v planView) summary() []ui.Problem {
	if v.Doubts != nil {
		return ui.Problems(v.Doubts, "confirmed")
	}
	order := []string{"starts", "goal", "weeks"}
	for i := range v.Form.Weeks {
		for _, field := range doseFields {
			order = append(order, fmt.Sprintf("weeks[%d].%s", i, field))
		}
	}
	order = append(order, "reason")
	for _, field := range []string{"preset", "class", "sessions", "minutes", "goal", "weeks", "behind"} {
		order = append(order, "build-"+field)
	}
	return ui.Problems(v.Problems, append(order, "pause-from", "pause-to", "pause-cause", "pause-note", "pause-id")...)
}

// lead says where the client is in the plan.
func (v planView) lead() string {
	s := v.Sheet
	switch {
	case s.Plan == nil:
		return "No plan yet. What is prescribed holds week after week."
	case s.Now == nil:
		return fmt.Sprintf("Version %d begins on %s.", s.Plan.Version, shortDay(s.Plan.Weeks[0].First))
	case s.Now.Goes:
		return fmt.Sprintf("Version %d is over; its last week goes on.", s.Plan.Version)
	}
	return fmt.Sprintf("Version %d, signed by %s on %s. This is week %d of %d.", s.Plan.Version, s.Plan.SignedByName,
		s.Plan.SignedAt.Format("2 January 2006"), s.Now.Number, s.Now.Of)
}

// startOptions are the weeks in which a plan may begin.
func (v planView) startOptions() []ui.Option {
	var options []ui.Option
	for i := range 9 {
		first := v.Sheet.Week.AddDays(7 * i)
		label := first.Time().Format("Monday 2 January 2006")
		switch i {
		case 0:
			label = "This week, from " + label
		case 1:
			label = "Next week, from " + label
		}
		options = append(options, ui.Option{Value: first.String(), Label: label})
	}
	return options
}

// classOptions are the classes of a week. One that is not open now is offered only
// where it stands already.
func (v planView) classOptions(typed string) []ui.Option {
	var options []ui.Option
	for _, c := range []intensity.Class{intensity.Light, intensity.Moderate, intensity.Vigorous} {
		if c <= v.Sheet.Plannable && (c < intensity.Vigorous || v.Sheet.Vigorous.Allow) || c.String() == typed {
			options = append(options, ui.Option{Value: c.String(), Label: ui.ClassWord(c)})
		}
	}
	return options
}

func (v planView) otherOptions() []ui.Option {
	options := []ui.Option{{Value: "", Label: "Choose"}}
	for _, o := range v.Sheet.Others {
		options = append(options, ui.Option{Value: o.ID.String(), Label: o.Name})
	}
	return options
}

// versionTable lists the versions, with a way to take one up again.
func (v planView) versionTable() ui.Table {
	t := ui.Table{
		Caption: "Versions of the plan", HideCaption: true,
		Columns: []ui.Column{{Label: "Version"}, {Label: "Signed"}, {Label: "Why"}, {Label: "Again"}},
	}
	for i, p := range v.Sheet.Versions {
		why := originWords[p.Origin]
		if p.Reason != "" {
			why += ": " + p.Reason
		}
		again := ui.Cell{Text: "in force"}
		if i > 0 {
			again = ui.Cell{Text: "Take up again", Href: fmt.Sprintf("%s/plan?again=%d", v.base(), p.Version)}
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: number(p.Version)}, {Text: p.SignedAt.Format("2 January 2006") + " by " + p.SignedByName}, {Text: strings.ToUpper(why[:1]) + why[1:]}, again,
		}})
	}
	return t
}
