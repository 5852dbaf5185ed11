package staff

import (
	"fmt"
	"slices"
	"strings"

	"brae/domain/medicine"
	"brae/domain/source"
	"brae/web/ui"
)

var medicinesCalculator = calculator{
	path: "medicines", name: "Medicines",
	lead: "What a medicine does to heart rate and blood pressure, and what that leaves valid for steering effort.",
	caution: "This says what a medicine usually does, not what it does in one person. Never advise anybody to change, stop or " +
		"delay a medicine; questions go to the prescriber.",
	ask: func(t *typed) numbersForm {
		return numbersForm{fields: t.fill(area.as(ui.Field{
			Name: "text", Label: "Medicines", Rows: 3, MaxLength: longestMedicines,
			Hint: "Generic names, with or without dose, such as metoprolol succinate 50 mg, timolol eye drops.",
		}))}
	},
	answer: answerMedicines,
}

// longestMedicines bounds a list of medicines, in characters.
const longestMedicines = 2000

const unknownMedicine = "Not known. Look up whether it changes the heart rate. Until then no range is predicted."

// medicines reads a list of medicines.
func (t *typed) medicines(name string) medicine.Result {
	text := t.text(name)
	if len(text) > longestMedicines {
		t.problems.Add(name, fmt.Sprintf("This is too much at once: %d characters at most.", longestMedicines))
		return medicine.Result{}
	}
	return medicine.Match(text)
}

// matchName is what was found, or may be meant.
func matchName(m medicine.Found) string {
	switch {
	case !m.Exact():
		return "Perhaps " + m.Name
	case m.AskRoute:
		return m.Name + " (eye drops or tablets?)"
	}
	return m.Name
}

func answerMedicines(t *typed, _ source.Values) (result numbersResult) {
	if t.text("text") == "" {
		t.problems.Add("text", "Type one medicine or more.")
		return result
	}
	found := t.medicines("text")
	if t.problems != nil {
		return result
	}
	table := ui.Table{
		Caption: "What they do",
		Columns: []ui.Column{{Label: "Medicine"}, {Label: "Kind"}, {Label: "Resting heart rate"}, {Label: "In exercise"}, {Label: "Blood pressure"}},
	}
	for _, m := range found.Matches {
		effect, _ := m.Class.Effect()
		table.Rows = append(table.Rows, ui.Row{Cells: []ui.Cell{
			{Text: matchName(m)}, {Text: effect.Label}, {Text: changeWords[effect.RestingHR]}, {Text: changeWords[effect.ExerciseHR]}, {Text: changeWords[effect.Pressure]},
		}})
		words := zoneWords(m.Zones)
		if effect.Note != "" {
			words += " " + effect.Note
		}
		result.items = append(result.items, ui.Definition{Term: matchName(m), Detail: words})
		if note := "“" + m.Typed + "” is not a name that is known. Write it in full and put the spelling right to be sure."; !m.Exact() && !slices.Contains(result.notes, note) {
			result.notes = append(result.notes, note)
		}
	}
	for _, unknown := range found.Unknown {
		result.items = append(result.items, ui.Definition{Term: unknown, Detail: unknownMedicine})
	}
	if len(table.Rows) > 0 {
		result.tables = append(result.tables, table)
	}
	result.sentence = medicinesSentence(found)
	for _, h := range medicine.Hints(found.Matches) {
		result.notes = append(result.notes, h.Asks)
	}
	for _, c := range medicine.Clashes(found.Matches) {
		result.notes = append(result.notes, strings.Join(c.Names, " and ")+": "+c.Says)
	}
	for _, r := range medicine.Rules {
		switch r.ID {
		case "medicine.names", "medicine.classes", "medicine.zones":
			result.cites = append(result.cites, r.Cites...)
		}
	}
	return result
}

// medicinesSentence says what is left of steering by heart rate.
func medicinesSentence(found medicine.Result) string {
	zones := found.ZonesUntilConfirmed()
	switch {
	case !zones.HeartRateValid():
		return "Heart rate cannot steer effort."
	case len(found.Unknown) > 0:
		return "No predicted heart-rate range until every medicine is known."
	case !zones.PredictionValid():
		return "No predicted heart-rate range: only from a maximum measured on the medicine."
	}
	return "A predicted heart-rate range stays valid, as far as the medicines go."
}

var changeWords = map[medicine.Change]string{
	medicine.Flat:          "No change",
	medicine.Down:          "Lower",
	medicine.Up:            "Higher",
	medicine.FlatOrDown:    "No change, or lower",
	medicine.FlatOrUp:      "No change, or higher",
	medicine.DownSlight:    "Slightly lower",
	medicine.UpSlight:      "Slightly higher",
	medicine.DownStanding:  "Lower on standing up",
	medicine.DownAtStart:   "Lower in the first weeks",
	medicine.DownAsTreated: "Lower as the disease comes under control",
	medicine.UpLongTerm:    "Higher over months",
}
