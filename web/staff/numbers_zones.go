package staff

import (
	"fmt"
	"slices"
	"strconv"

	"brae/domain"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/medicine"
	"brae/domain/source"
	"brae/web/ui"
)

var zonesCalculator = calculator{
	path: "zones", name: "Zones",
	lead: "Heart-rate ranges by the reserve between resting and maximal heart rate, where there is a valid basis for them.",
	caution: "A range is a guide. The talk test and perceived exertion go with it; where they say harder, they count. " +
		"With a symptom, stop, whatever the heart rate. Who has not been screened may need a doctor's answer first.",
	ask: askZones, answer: answerZones,
}

// sexes are the sexes that equations and norms tell apart.
var sexes = []ui.Option{{Label: "Not said"}, {Value: "female", Label: "Female"}, {Value: "male", Label: "Male"}}

func askZones(t *typed) numbersForm {
	var equations, conditions []ui.Option
	for _, e := range heartrate.Equations() {
		equations = append(equations, ui.Option{Value: string(e.ID), Label: equationWords(e)})
	}
	for _, c := range heartrate.Conditions() {
		conditions = append(conditions, ui.Option{Value: c.Code, Label: c.Says})
	}
	const bpm = "beats a minute"
	return numbersForm{
		fields: t.fill(
			whole.as(ui.Field{Name: "age", Label: "Age", Unit: "years"}),
			whole.as(ui.Field{Name: "resting_hr", Label: "Resting heart rate", Unit: bpm}),
			whole.as(ui.Field{
				Name: "measured_max", Label: "Measured peak heart rate", Unit: bpm, Optional: true,
				Hint: "From a test to the limit, on the medicines and doses of today, that still holds.",
			}),
			area.as(ui.Field{
				Name: "medicines", Label: "Medicines", Optional: true, Rows: 2, MaxLength: longestMedicines,
				Hint: "Generic names, such as metoprolol 50 mg. Eye drops count, too.",
			}),
		),
		about: "Conditions, limits and another equation",
		more: t.fill(
			ticks.as(ui.Field{Name: "conditions", Label: "Conditions", Options: conditions}),
			whole.as(ui.Field{Name: "doctor_hr", Label: "Doctor's limit", Unit: bpm, Optional: true}),
			whole.as(ui.Field{Name: "ischaemia_hr", Label: "Heart rate at which chest pain or other signs of ischaemia began", Unit: bpm, Optional: true}),
			whole.as(ui.Field{Name: "icd_detection_hr", Label: "Detection rate of a defibrillator", Unit: bpm, Optional: true}),
			choice.as(ui.Field{
				Name: "equation", Label: "Equation for the maximal heart rate", Value: string(heartrate.Gellish2007), Options: equations,
				Hint: "Only used where a prediction is valid.",
			}),
			choice.as(ui.Field{Name: "sex", Label: "Sex", Options: slices.Clone(sexes), Hint: "Only some equations need it."}),
			decimal.as(ui.Field{Name: "percent", Label: "One more share of the reserve", Unit: "%", Optional: true}),
		),
	}
}

// equationWords names an equation by who made it and how it goes.
func equationWords(e heartrate.EquationInfo) string { return e.Name + ": " + e.Formula }

func answerZones(t *typed, settings source.Values) (result numbersResult) {
	person, found := t.person()
	percents := t.shares("percent")
	policy := heartrate.PolicyFrom(settings)
	z, err := heartrate.ZonesFor(person, policy)
	if err != nil {
		t.refuse(err, nil)
	}
	if t.problems != nil {
		return result
	}
	result.zones = zonesAnswer(&z)
	result.sentence = basisSentence(&z)
	if person.RestingHR != 0 {
		if f := heartrate.CheckResting(person.RestingHR, heartrate.RestingContext{}, policy); f.Sentence != "" {
			result.notes = append(result.notes, f.Sentence)
		}
	}
	if z.Decision.Basis.Valid() {
		result.items = append(result.items, ui.Definition{Term: "Maximal heart rate", Detail: maximumWords(&z)})
		result.tables = append(result.tables, shareTable(&z, percents))
	}
	if z.Ceiling != 0 {
		result.items = append(result.items, ui.Definition{
			Term: "Heart-rate ceiling", Detail: fmt.Sprintf("Never above %d beats a minute.", z.Ceiling),
		})
	}
	for _, m := range found.Matches {
		result.items = append(result.items, ui.Definition{Term: matchName(m), Detail: zoneWords(m.Zones)})
	}
	for _, unknown := range found.Unknown {
		result.items = append(result.items, ui.Definition{Term: unknown, Detail: unknownMedicine})
	}
	result.cites = append([]source.Key{"karvonen1957", "garber2011", "cdc_talk"}, z.Decision.Cites()...)
	if z.MaxError != 0 {
		result.cites = append(result.cites, "nes2013", "sarzynski2013")
	}
	return result
}

// person is what was typed as the heart-rate rules see it.
func (t *typed) person() (heartrate.Person, medicine.Result) {
	bpm := func(name string) heartrate.BPM {
		n := t.whole(name)
		if n == nil {
			return 0
		}
		if *n < 1 {
			t.problems.Add(name, "A heart rate is above zero.")
		}
		return heartrate.BPM(*n)
	}
	p := heartrate.Person{
		RestingHR: bpm("resting_hr"), Sex: heartrate.Sex(t.text("sex")), Equation: heartrate.Equation(t.text("equation")),
		Limits: heartrate.Limits{DoctorHR: bpm("doctor_hr"), IschaemiaHR: bpm("ischaemia_hr"), ICDDetectionHR: bpm("icd_detection_hr")},
	}
	if age := t.whole("age"); age != nil {
		p.Age = *age
	} else {
		t.problems.Add("age", "Type the age in years.")
	}
	if peak := bpm("measured_max"); peak != 0 {
		p.Today = domain.NewDate(2000, 1, 1) // any day: the peak is said to hold today
		p.Peak = heartrate.PeakToday(peak, p.Today)
	}
	for _, code := range t.query["conditions"] {
		c, err := heartrate.ParseCondition(code)
		if err != nil {
			t.problems.Add("conditions", "Choose from the list.")
		}
		p.Conditions |= c
	}
	found := t.medicines("medicines")
	codes, err := heartrate.ParseMedicines(found.ZonesUntilConfirmed().String())
	if err != nil {
		t.problems.Add("medicines", "The medicines could not be read.")
	}
	p.Medicines, p.UnknownMedicine = codes, len(found.Unknown) > 0
	return p, found
}

// shares are the shares of the reserve that are always told, and the one typed.
func (t *typed) shares(name string) []intensity.Percent {
	const one = 100 // in hundredths of a per cent
	shares := []intensity.Percent{30 * one, 40 * one, 50 * one, 60 * one, 70 * one, 80 * one}
	text := t.text(name)
	if text == "" {
		return shares
	}
	typed, err := intensity.ParsePercent(text)
	if err == nil {
		_, err = heartrate.RestingError(typed, 1) // refuses what is no share
	}
	if err != nil {
		t.problems.Add(name, "Type a share from 0 to 100, with two decimals at most.")
	} else if !slices.Contains(shares, typed) {
		shares = append(shares, typed)
		slices.Sort(shares)
	}
	return shares
}

// zonesAnswer tells all classes, near-maximal work too, which nobody prescribes
// by heart rate.
func zonesAnswer(z *heartrate.Zones) *ui.Zones {
	v := ui.Zones{Caption: "Zones", Basis: z.Decision.Reason()}
	for _, b := range z.Bands {
		low, high := intensity.EffortRange(b.Class)
		row := ui.ZoneRow{Class: b.Class, Talk: intensity.Cue(b.Class), Effort: fmt.Sprintf("%d to %d of 20", low, high)}
		switch {
		case b.Why == heartrate.Available:
			row.HeartRate = fmt.Sprintf("%d to %d bpm", b.Low, b.High)
		case z.Decision.Basis.Valid():
			row.Held = z.Explain(b.Class)
		}
		v.Rows = append(v.Rows, row)
		if b.PrescribeTo != 0 && b.PrescribeTo < b.High {
			v.Notes = append(v.Notes, fmt.Sprintf("%s work is prescribed up to %d beats a minute, by the practice's setting.", ui.ClassWord(b.Class), b.PrescribeTo))
		}
	}
	for _, n := range z.Notes.All() {
		v.Notes = append(v.Notes, n.Text)
	}
	return &v
}

// basisSentence says whether there is a range.
func basisSentence(z *heartrate.Zones) string {
	switch z.Decision.Basis {
	case heartrate.Measured, heartrate.Predicted:
		if b := z.Band(intensity.Moderate); b.Why == heartrate.Available {
			return fmt.Sprintf("Moderate is %d to %d beats a minute.", b.Low, b.High)
		}
		return "There is no range for moderate work."
	case heartrate.CeilingOnly:
		return "No heart-rate range, only a ceiling. Talk test and perceived exertion steer the effort."
	}
	return "No heart-rate range. Talk test and perceived exertion steer the effort."
}

// maximumWords is the maximal heart rate with its error.
func maximumWords(z *heartrate.Zones) string {
	if z.MaxError == 0 {
		return z.Max.String() + " beats a minute, measured."
	}
	words := z.Max.String() + " beats a minute, predicted"
	if info, ok := z.Decision.Equation.Info(); ok {
		words += " by " + info.Formula
	}
	return words + fmt.Sprintf(". One standard error is %d beats either way: about one person in three lies farther off.", z.MaxError)
}

// shareTable is the heart rate at shares of the reserve, as far as the classes
// that they belong to are open.
func shareTable(z *heartrate.Zones, percents []intensity.Percent) ui.Table {
	t := ui.Table{
		Caption: "Heart rate at a share of the reserve",
		Columns: []ui.Column{{Label: "Share"}, {Label: "Beats a minute", Number: true}, {Label: "Exactly", Number: true}},
	}
	if z.MaxError != 0 {
		t.Columns = append(t.Columns, ui.Column{Label: fmt.Sprintf("Off, if the maximum is off by %d", z.MaxError), Number: true})
	}
	for _, p := range percents {
		exact, err := heartrate.Target(z.Max, z.Rest, p)
		if err != nil {
			continue // a share outside of 0 to 100 was refused
		}
		row := ui.Row{Cells: []ui.Cell{{Text: p.String() + " %"}}}
		class := heartrate.ClassOf(z.Max, z.Rest, exact.Ceil())
		switch {
		case z.Ceiling != 0 && exact.Nearest() > z.Ceiling:
			row.Muted = true
			row.Cells = append(row.Cells, ui.Cell{Text: "Above the ceiling"}, ui.Cell{})
		case z.Band(class).Why != heartrate.Available:
			row.Muted = true
			row.Cells = append(row.Cells, ui.Cell{Text: "Not open"}, ui.Cell{})
		default:
			row.Cells = append(row.Cells, ui.Cell{Text: strconv.Itoa(int(exact.Nearest()))}, ui.Cell{Text: exact.String()})
		}
		if z.MaxError != 0 {
			off, err := heartrate.TargetError(p, z.MaxError)
			if err == nil && !row.Muted {
				row.Cells = append(row.Cells, ui.Cell{Text: off.String()})
			} else {
				row.Cells = append(row.Cells, ui.Cell{})
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
