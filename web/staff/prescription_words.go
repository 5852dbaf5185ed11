package staff

import (
	"brae/domain"
	"fmt"
	"slices"
	"strings"

	"brae/domain/fitness"
	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/prescription"
	"brae/domain/volume"
	"brae/store"
	"brae/web/ui"
)

var methodNames = map[prescription.Method]string{
	prescription.Talk:     "Talk test",
	prescription.Effort:   "Perceived exertion, 6 to 20",
	prescription.Reserve:  "Heart-rate reserve",
	prescription.Maximum:  "Per cent of the maximal heart rate",
	prescription.Oxygen:   "Oxygen-uptake reserve",
	prescription.Workload: "Workload from the energy equations",
}

// aimWords are the figures of a method for a class, one a line.
func aimWords(m prescription.Method, class intensity.Class, lines []store.AimLine) []string {
	switch m {
	case prescription.Talk:
		return []string{intensity.Cue(class)}
	case prescription.Effort:
		low, high := intensity.EffortRange(class)
		return []string{fmt.Sprintf("%d to %d of 20", low, high)}
	}
	var list []string
	for _, l := range lines {
		switch l.Unit {
		case store.UnitBPM:
			list = append(list, fmt.Sprintf("%.0f to %.0f bpm", l.Low, l.High))
		case store.UnitMETs:
			list = append(list, fmt.Sprintf("%s to %s METs", fitness.ShowMETs(l.Low/100), fitness.ShowMETs(l.High/100)))
		case store.UnitWork:
			w := l.Workload()
			start := workShown(w, w.Start)
			if w.StartOutside {
				start = "below " + start
			}
			list = append(list, fmt.Sprintf("%s: %s to %s, begin with %s", workName(w), workFigure(w, w.Low), workShown(w, w.High), start))
		}
	}
	return list
}

// addsUpWords says what the sessions of a week add up to against the target.
func addsUpWords(t volume.Target, week volume.Totals) string {
	done, kind := t.Done(week), "moderate-equivalent minutes"
	if t.Light {
		kind = "minutes that count"
	}
	text := fmt.Sprintf("%d %s a week", done, kind)
	switch short := t.ShortBy(week); {
	case t.Minutes == 0:
	case short > 0:
		text += fmt.Sprintf(": %d short of the target of %d", short, t.Minutes)
	default:
		text += fmt.Sprintf(": the target of %d is reached", t.Minutes)
	}
	if done == 0 && !t.Light && week.Light > 0 {
		text += fmt.Sprintf(". %d light minutes do not count unless you tick it", week.Light)
	}
	return text + "."
}

func targetLine(p store.Prescription) string {
	if p.TargetLight {
		return fmt.Sprintf("%d minutes a week, light minutes count", p.TargetMinutes)
	}
	return fmt.Sprintf("%d moderate-equivalent minutes a week", p.TargetMinutes)
}

// basisLine is what the heart-rate ranges rest on, with its uncertainty.
func basisLine(z store.Zones) string {
	if !z.Basis.Valid() {
		return z.Reason
	}
	text := fmt.Sprintf("Maximal heart rate %s", heartrate.Milli(z.Max))
	switch {
	case z.Basis == heartrate.Measured:
		text += ", measured"
	case z.Equation != "":
		name := string(z.Equation)
		if info, ok := z.Equation.Info(); ok {
			name = info.Name
		}
		text += fmt.Sprintf(" by %s, give or take %d (one standard error)", name, z.MaxError)
	}
	return text + fmt.Sprintf("; resting %d.", z.Rest)
}

// errorLine is how far the error of a predicted maximum moves the moderate range.
func errorLine(z store.Zones) string {
	low, errLow := heartrate.TargetError(100*intensity.Percent(intensity.Reserve.From(intensity.Moderate)), z.MaxError)
	high, errHigh := heartrate.TargetError(100*intensity.Percent(intensity.Reserve.From(intensity.Vigorous)), z.MaxError)
	if z.MaxError == 0 || errLow != nil || errHigh != nil {
		return ""
	}
	return fmt.Sprintf(" That error moves the ends of the moderate range by about %d and %d beats.", low.Nearest(), high.Nearest())
}

// frequencyWords say how often and how long, and how much of it is vigorous where not
// all is of one class.
func frequencyWords(p store.Prescription) string {
	text := fmt.Sprintf("%d sessions a week of %d minutes", p.SessionsPerWeek, p.MinutesPerSession)
	if p.VigorousMinutes > 0 {
		text += fmt.Sprintf(", of which %d minutes vigorous a week", p.VigorousMinutes)
	}
	return text
}

// prescriptionTerms is all of a version in words, in the order of the form. Two
// versions are told apart by it.
func prescriptionTerms(p store.Prescription) []ui.Definition {
	method := methodNames[p.Method]
	if aim := aimWords(p.Method, p.Dose().Class, p.Aim); len(aim) > 0 {
		method += ": " + strings.Join(aim, "; ")
	}
	if by := p.Zones.RaisedBy; by > 0 {
		method += fmt.Sprintf("; it begins %d per cent of the reserve above the low end of %s", by, strings.ToLower(ui.ClassWord(p.Zones.RaisedClass)))
	}
	terms := []ui.Definition{
		{Term: "Intensity", Detail: ui.ClassWord(p.Dose().Class)},
		{Term: "Method", Detail: method},
		{Term: "Frequency and time", Detail: frequencyWords(p)},
		{Term: "Type", Detail: strings.Join(p.Kinds(), "; ")},
		{Term: "Volume", Detail: addsUpWords(p.Target(), p.Volume())},
		{Term: "Target", Detail: targetLine(p)},
		{Term: "Progression", Detail: p.Progression},
		{Term: "Heart rate", Detail: basisLine(p.Zones)},
		{Term: "Heart-rate ceiling", Detail: ""},
		{Term: "Note for the client", Detail: p.Note},
	}
	if p.Zones.Ceiling > 0 {
		terms[8].Detail = fmt.Sprintf("never above %d", p.Zones.Ceiling)
	}
	return terms
}

// told leaves out what a version does not say.
func told(terms []ui.Definition) []ui.Definition {
	return slices.DeleteFunc(terms, func(d ui.Definition) bool { return d.Detail == "" })
}

// prescriptionDifference is what a version says otherwise than the one before it.
func prescriptionDifference(before, after store.Prescription) []ui.Row {
	var rows []ui.Row
	was := prescriptionTerms(before)
	for i, is := range prescriptionTerms(after) {
		if is.Detail != was[i].Detail {
			rows = append(rows, ui.Row{Cells: []ui.Cell{{Text: is.Term}, {Text: orBlank(was[i].Detail)}, {Text: orBlank(is.Detail)}}})
		}
	}
	return rows
}

func orBlank(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

func differenceTable(rows []ui.Row) ui.Table {
	return ui.Table{
		Caption: "What is different", HideCaption: true, Rows: rows,
		Columns: []ui.Column{{Label: "Part"}, {Label: "Before"}, {Label: "Now"}},
	}
}

// sexWords tell whose figure it is where the sex was not said.
func sexWords(s domain.Sex) string {
	if s == domain.Female {
		return ", women"
	}
	return ", men"
}

// comparedTable is the equations side by side.
func comparedTable(list []heartrate.Compared) ui.Table {
	t := ui.Table{Caption: "Equations for the maximal heart rate", HideCaption: true, Columns: []ui.Column{
		{Label: "Equation"}, {Label: "Maximum", Number: true}, {Label: "Error", Number: true}, {Label: "Moderate"},
	}}
	for _, c := range list {
		name := c.Name
		if c.For != "" && c.OnlySex == "" {
			name += sexWords(c.For)
		}
		if c.Used {
			name += " (used)"
		}
		row := []ui.Cell{{Text: name}, {Text: "none"}, {Text: "none"}, {Text: c.Why}}
		if c.Why == "" {
			row[1].Text, row[2].Text = c.Max.String(), fmt.Sprintf("± %d", c.Error)
			row[3].Text = "no range"
			if c.Moderate.Why == heartrate.Available {
				row[3].Text = fmt.Sprintf("%d to %d", c.Moderate.Low, c.Moderate.High)
			}
		}
		t.Rows = append(t.Rows, ui.Row{Cells: row})
	}
	return t
}

// closedClasses says of each class without a range why it has none.
func closedClasses(z store.Zones) []string {
	var list []string
	if !z.Basis.Valid() {
		return nil // told once, as the basis
	}
	for _, b := range z.Bands {
		if b.Why != "" {
			list = append(list, ui.ClassWord(b.Class)+": "+b.Why)
		}
	}
	return list
}
