package staff

import (
	"fmt"
	"strings"

	"brae/domain"
	"brae/domain/screening"
	"brae/store"
	"brae/web/ui"
)

// readingWords writes what was measured in one line.
func readingWords(r screening.Reading) string {
	var list []string
	add := func(format string, values ...any) { list = append(list, fmt.Sprintf(format, values...)) }
	pressure := func(what string, s, d *int) {
		switch {
		case s != nil && d != nil:
			add("%s %d/%d mmHg", what, *s, *d)
		case s != nil:
			add("%s %d mmHg (upper)", what, *s)
		case d != nil:
			add("%s %d mmHg (lower)", what, *d)
		}
	}
	pressure("blood pressure", r.SBP, r.DBP)
	pressure("again", r.SBPAgain, r.DBPAgain)
	if r.StandingSBP != nil {
		add("standing %d mmHg", *r.StandingSBP)
	}
	if r.RestingHR != nil {
		add("%d beats at rest", *r.RestingHR)
	}
	if r.RestingHRAgain != nil {
		add("again %d", *r.RestingHRAgain)
	}
	if r.Temperature != nil {
		add("%s °C", r.Temperature)
	}
	if r.GlucoseMgDL != nil {
		add("glucose %d mg/dL", *r.GlucoseMgDL)
	}
	if r.GlucoseMmol != nil {
		add("glucose %s mmol/L", r.GlucoseMmol)
	}
	if r.Ketones != nil {
		add("ketones %s mmol/L", r.Ketones)
	}
	if r.UrineKetones != "" {
		add("ketones in urine: %s", r.UrineKetones)
	}
	if r.SpO2 != nil {
		add("oxygen %d %%", *r.SpO2)
	}
	if n := len(r.Weights); n > 0 {
		add("%s kg", kilograms(r.Weights[n-1]))
	}
	for _, s := range said {
		if *s.set(&r.Vitals) {
			add("says: %s", strings.ToLower(s.label[:1])+s.label[1:])
		}
	}
	if r.NotAgain {
		add("not measured again")
	}
	text := strings.Join(list, ", ")
	if text == "" {
		return "–"
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// foundWords says what a reading came to.
func (v vitalsView) foundWords(e store.Vitals) string {
	switch {
	case e.Change == "error":
		return "Entered in error: " + e.Reason
	case e.SupersededBy.Valid:
		return "Superseded"
	}
	var list []string
	if e.Change == "correct" {
		list = append(list, "Corrected: "+e.Reason)
	}
	for _, f := range e.Judgement.Findings {
		list = append(list, f.Text)
	}
	if list == nil {
		return "Nothing against the session"
	}
	return strings.Join(list, " ")
}

func (v vitalsView) table() ui.Table {
	t := ui.Table{Caption: "Readings", HideCaption: true, Columns: []ui.Column{{Label: "When"}, {Label: "Measured"}, {Label: "What it came to"}, {Label: "By"}}}
	for _, e := range v.Entries {
		t.Rows = append(t.Rows, ui.Row{Muted: !e.InForce(), Cells: []ui.Cell{
			{Text: e.EnteredAt.In(v.Zone).Format("Mon 2 Jan 2006, 15:04")}, {Text: readingWords(e.Reading)}, {Text: v.foundWords(e)}, {Text: e.EnteredBy},
		}})
	}
	return t
}

// series are the values that can be followed, of readings that count: what was
// measured last at each.
func (v vitalsView) series() []ui.Series {
	list := []ui.Series{{ID: "sbp", Title: "Upper blood pressure", Unit: "mmHg"}, {ID: "rate", Title: "Resting heart rate", Unit: "beats a minute"}}
	for i := len(v.Entries) - 1; i >= 0; i-- {
		e := v.Entries[i]
		if !e.InForce() {
			continue
		}
		day := domain.DateOf(e.TakenAt, v.Zone).Time().Format("2 Jan")
		for j, values := range [][2]*int{{e.Reading.SBP, e.Reading.SBPAgain}, {e.Reading.RestingHR, e.Reading.RestingHRAgain}} {
			value := values[0]
			if values[1] != nil {
				value = values[1]
			}
			if value != nil {
				list[j].Points = append(list[j].Points, ui.Point{Day: day, Value: *value})
			}
		}
	}
	for i := range list {
		if n := len(list[i].Points); n > 12 { // as many as the drawing has room for
			list[i].Points = list[i].Points[n-12:]
		}
	}
	return list
}

// more reports whether something of what is folded away was typed or is wrong.
func (v vitalsView) more() bool {
	for _, name := range []string{"standing_sbp", "temperature", "spo2", "weight", "sbp_again", "dbp_again", "resting_hr_again", "glucose", "ketones", "urine_ketones"} {
		if v.Form.Get(name) != "" || v.problemOf(name) != "" {
			return true
		}
	}
	return false
}

func (v vitalsView) problemOf(name string) string { return v.field(name, "", "").Problem }

func (v vitalsView) weight() ui.Field {
	f := v.field("weight", "Weight", "")
	if f.Problem == "" {
		f.Problem = v.Doubts["weight_kg"]
	}
	f.Hint, f.Width = "In kg, or with its unit: 180 lb.", 8
	return f
}

// latest are the newest readings that count: those that somebody may want to put
// right.
func (v vitalsView) latest() []store.Vitals {
	var list []store.Vitals
	for _, e := range v.Entries {
		if e.InForce() && len(list) < 3 {
			list = append(list, e)
		}
	}
	return list
}

// errorField asks why a reading is marked.
func (v vitalsView) errorField(e store.Vitals) ui.Field {
	f := ui.Field{Name: "reason", ID: "error-" + e.ID.String(), Label: "Why it is an error", MaxLength: 500}
	if v.At == e.ID {
		f.Value, f.Problem = v.Form.Get("error_reason"), v.Problems["reason"]
	}
	return f
}
