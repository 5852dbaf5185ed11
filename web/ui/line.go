package ui

import (
	"fmt"
	"strings"
)

// Line is a measurement followed over time: a point for each time it was taken,
// with its error, joined by a line.
type Line struct {
	ID      string // unique on the page
	Title   string
	Unit    string
	Hidden  bool        // the title is kept for screen readers, where a heading says the same
	Points  []LinePoint // the oldest first
	Columns [3]string   // of the table behind it: day, value, note; no note if empty
}

// LinePoint is one measurement.
type LinePoint struct {
	Day   int    // counted from any day
	Label string // short, under the drawing
	Name  string // in words and in the table
	Value float64
	Error float64 // one standard error either way; 0 if it is not known
	Shown string  // the value as it is written
	Note  string  // what became of it, in the table
	Href  string
}

// Measures of the drawing, in its own units: at a phone's width about a pixel each.
const (
	lineWidth  = 344
	lineTop    = 34
	lineGround = 174
	lineSide   = 44
)

type lineDrawing struct {
	Path   string
	Bars   []string // paths of the errors
	Points []dot
	Texts  []slopeLabel // values, above the points of the ends
	TextY  []string
	Days   []slopeLabel
}

func (l Line) draw() lineDrawing {
	var d lineDrawing
	if len(l.Points) == 0 {
		return d
	}
	low, high := l.Points[0].Value, l.Points[0].Value
	for _, p := range l.Points {
		low, high = min(low, p.Value-p.Error), max(high, p.Value+p.Error)
	}
	pad := max((high-low)*0.1, high*0.02, 0.5)
	low, high = low-pad, high+pad
	first, last := l.Points[0].Day, l.Points[len(l.Points)-1].Day
	x := func(p LinePoint) float64 {
		if first == last {
			return lineWidth / 2
		}
		return lineSide + float64(p.Day-first)*(lineWidth-2*lineSide)/float64(last-first)
	}
	y := func(value float64) float64 { return lineGround - (value-low)*(lineGround-lineTop)/(high-low) }
	var path strings.Builder
	for i, p := range l.Points {
		join := "L"
		if i == 0 {
			join = "M"
		}
		fmt.Fprintf(&path, "%s%s %s", join, num(x(p)), num(y(p.Value)))
		d.Points = append(d.Points, dot{X: num(x(p)), Y: num(y(p.Value))})
		if p.Error > 0 {
			d.Bars = append(d.Bars, fmt.Sprintf("M%s %sV%s", num(x(p)), num(y(p.Value-p.Error)), num(y(p.Value+p.Error))))
		}
		if i == 0 || i == len(l.Points)-1 {
			d.Days = append(d.Days, slopeLabel{X: num(x(p)), Anchor: "middle", Text: p.Label})
			d.Texts = append(d.Texts, slopeLabel{X: num(x(p)), Anchor: "middle", Text: p.Shown})
			d.TextY = append(d.TextY, num(y(p.Value+p.Error)-9))
		}
	}
	d.Path = path.String()
	return d
}

// description says in words what the drawing shows.
func (l Line) description() string {
	parts := make([]string, len(l.Points))
	for i, p := range l.Points {
		parts[i] = p.Name + ": " + p.Shown + " " + l.Unit
	}
	return strings.Join(parts, "; ") + "."
}

func (l Line) table() Table {
	t := Table{Caption: l.Title, Columns: []Column{{Label: l.Columns[0]}, {Label: l.Columns[1], Number: true}}}
	if l.Columns[2] != "" {
		t.Columns = append(t.Columns, Column{Label: l.Columns[2]})
	}
	for _, p := range l.Points {
		row := Row{Cells: []Cell{{Text: p.Name, Href: p.Href}, {Text: p.Shown + " " + l.Unit}}}
		if l.Columns[2] != "" {
			row.Cells = append(row.Cells, Cell{Text: p.Note})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
