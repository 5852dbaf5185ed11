package staff

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"brae/domain/intensity"
	"brae/domain/source"
	"brae/domain/volume"
	"brae/web/ui"
)

var weekCalculator = calculator{
	path: "week", name: "Week",
	lead: "What a week adds up to in moderate-equivalent minutes: a vigorous minute counts as two moderate ones. Bouts of any length count.",
	caution: "What matters is the sum of the week, not the day. Who cannot do 150 minutes does what they can. " +
		"Vigorous work is for those who may do it: look at the decision and its holds first.",
	ask: func(t *typed) numbersForm {
		field := func(name, label, hint string) numbersField {
			return line.as(ui.Field{Name: name, Label: label, Unit: "min", Hint: hint, Width: 20})
		}
		return numbersForm{fields: t.fill(
			field("moderate", "Moderate minutes", "One number, or one for each session: 10 10 15."),
			field("vigorous", "Vigorous minutes", ""),
			field("light", "Light minutes", "Shown on their own; they are not in the sum."),
			whole.as(ui.Field{Name: "target", Label: "Target of the week", Unit: "min", Optional: true, Hint: "The practice's own if empty."}),
		)}
	},
	answer: answerWeek,
}

// weekFields are the fields with the class that each stands for.
var weekFields = []struct {
	name  string
	class intensity.Class
}{{"moderate", intensity.Moderate}, {"vigorous", intensity.Vigorous}, {"light", intensity.Light}}

func answerWeek(t *typed, settings source.Values) (result numbersResult) {
	policy := volume.PolicyFrom(settings)
	var parts []volume.Part
	names := map[string]string{"parts": "moderate"}
	for _, f := range weekFields {
		for _, minutes := range t.list(f.name) {
			names[fmt.Sprintf("parts[%d].minutes", len(parts))] = f.name
			parts = append(parts, volume.Part{Minutes: minutes, Class: f.class})
		}
	}
	target := volume.DefaultTarget(policy).Minutes
	if n := t.whole("target"); n != nil {
		target = *n
	}
	if len(parts) == 0 && t.problems == nil {
		t.problems.Add("moderate", "Type the minutes of a week.")
	}
	if t.problems != nil {
		return result
	}
	confirm, err := volume.CheckWeek(parts, target, policy)
	if err != nil {
		t.refuse(err, names)
		return result
	}
	for _, sentence := range confirm {
		result.notes = append(result.notes, sentence)
	}
	sum := volume.Sum(parts)
	short := volume.ShortBy(target, sum.ModerateEquivalent)
	result.sentence = fmt.Sprintf("%d of %d moderate-equivalent minutes", sum.ModerateEquivalent, target)
	if short > 0 {
		result.sentence += fmt.Sprintf(", %d left.", short)
	} else {
		result.sentence += ": the target is reached."
	}
	number := func(n int) ui.Cell { return ui.Cell{Text: strconv.Itoa(n)} }
	result.tables = []ui.Table{{
		Caption: "The week",
		Columns: []ui.Column{{Label: "Intensity"}, {Label: "Minutes", Number: true}, {Label: "Count as", Number: true}},
		Rows: []ui.Row{
			{Cells: []ui.Cell{{Content: ui.ClassTag(intensity.Moderate)}, number(sum.Moderate), number(sum.Moderate)}},
			{Cells: []ui.Cell{{Content: ui.ClassTag(intensity.Vigorous)}, number(sum.Vigorous), number(volume.VigorousWorth * sum.Vigorous)}},
			{Cells: []ui.Cell{{Content: ui.ClassTag(intensity.Light)}, number(sum.Light), number(0)}},
			{Total: true, Cells: []ui.Cell{{Text: "Together"}, number(sum.Minutes()), number(sum.ModerateEquivalent)}},
		},
	}}
	result.items = []ui.Definition{{Term: "By the guideline for adults", Detail: bandWords[volume.BandOf(sum.ModerateEquivalent)]}}
	if short > 0 {
		result.items = append(result.items, ui.Definition{
			Term: "What would fill it", Detail: fmt.Sprintf("%d moderate minutes, or %d vigorous ones where they are allowed.", short, (short+volume.VigorousWorth-1)/volume.VigorousWorth),
		})
	}
	result.cites = []source.Key{"paga2018", "who2020"}
	return result
}

var bandWords = map[volume.Band]string{
	volume.Inactive:     "Inactive: no moderate or vigorous minutes",
	volume.Insufficient: "Insufficient: some, but under 150",
	volume.Active:       "Active: 150 to 300",
	volume.HighlyActive: "Highly active: more than 300",
}

// list returns the whole numbers of a field that takes several, with spaces,
// commas or plus signs between them.
func (t *typed) list(name string) []int {
	var numbers []int
	for _, word := range strings.FieldsFunc(t.text(name), func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' || r == '+' }) {
		n, err := strconv.Atoi(word)
		if err != nil || len(word) > 5 {
			t.problems.Add(name, "Type whole minutes, one number for each session: 10 10 15.")
			return nil
		}
		numbers = append(numbers, n)
	}
	if len(numbers) > 100 {
		t.problems.Add(name, "These are more sessions than a week has room for.")
		return nil
	}
	return numbers
}
