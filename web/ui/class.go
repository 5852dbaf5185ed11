package ui

import (
	"context"
	"strings"

	"brae/domain/intensity"
	"brae/web/say"
)

var classWords = map[intensity.Class]string{
	intensity.None:        say.Key("None"),
	intensity.VeryLight:   say.Key("Very light"),
	intensity.Light:       say.Key("Light"),
	intensity.Moderate:    say.Key("Moderate"),
	intensity.Vigorous:    say.Key("Vigorous"),
	intensity.NearMaximal: say.Key("Near-maximal"),
}

// ClassWord is the English word for an intensity class.
func ClassWord(c intensity.Class) string {
	if word, ok := classWords[c]; ok {
		return word
	}
	return c.String()
}

// SayClass is the word for an intensity class in the reader's language.
func SayClass(ctx context.Context, c intensity.Class) string { return say.T(ctx, ClassWord(c)) }

// SayClassLow is SayClass for the middle of a sentence.
func SayClassLow(ctx context.Context, c intensity.Class) string {
	return strings.ToLower(SayClass(ctx, c))
}

// Zones is the table that tells a client's intensities apart.
type Zones struct {
	Caption string // "Your zones"
	Rows    []ZoneRow
	Basis   string   // a sentence: what the heart rates rest on, or why there are none
	Notes   []string // what else must be known to use them
	Sources []Source
}

// ZoneRow is one class. HeartRate stays empty where no valid basis allows a
// range; if all are empty the table has no such column.
type ZoneRow struct {
	Class     intensity.Class
	HeartRate string // "108 to 130 bpm"
	Talk      string // the talk-test cue
	Effort    string // "12 to 13 of 20"
	Held      string // why the class is not open now
}

func (z Zones) hasHeartRate() bool {
	for _, r := range z.Rows {
		if r.HeartRate != "" {
			return true
		}
	}
	return false
}

func (z Zones) table(ctx context.Context) Table {
	t := Table{Caption: z.Caption, Columns: []Column{
		{Label: say.T(ctx, "Intensity")}, {Label: say.T(ctx, "Talk test")}, {Label: say.T(ctx, "Effort")},
	}}
	heartRate := z.hasHeartRate()
	if heartRate {
		t.Columns = append(t.Columns, Column{Label: say.T(ctx, "Heart rate")})
	}
	for _, r := range z.Rows {
		row := Row{Cells: []Cell{{Content: zoneName(r)}, {Text: r.Talk}, {Text: r.Effort}}, Muted: r.Held != ""}
		if heartRate {
			row.Cells = append(row.Cells, Cell{Text: orDash(r.HeartRate)})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func orDash(text string) string {
	if text == "" {
		return "–"
	}
	return text
}
