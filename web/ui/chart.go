package ui

import (
	"context"
	"strconv"
	"strings"

	"brae/domain/intensity"
	"brae/domain/volume"
	"brae/web/say"
)

// Weeks is the minutes of some weeks, one column each: intensities lie on each
// other in their textures, and a line shows the week's target.
type Weeks struct {
	ID     string // unique on the page
	Title  string
	Target volume.Target
	Weeks  []WeekColumn // oldest first
}

// WeekColumn is one week.
type WeekColumn struct {
	Label  string // short, under the column
	Name   string // in the table
	Href   string // in the table; no link if empty
	Totals volume.Totals
	Target volume.Target // of this week, by which its minutes count; that of the chart if zero
}

// target is that by which the minutes of a week count.
func (w Weeks) target(c WeekColumn) volume.Target {
	if c.Target == (volume.Target{}) {
		return w.Target
	}
	return c.Target
}

// done are the minutes of a week that count.
func (w Weeks) done(c WeekColumn) int { return w.target(c).Done(c.Totals) }

// Measures of the charts, in their own units: at a phone's width about a pixel each.
const (
	chartWidth  = 344
	chartHill   = 150 // from the ground to the highest value
	chartSky    = 26
	chartGround = chartSky + chartHill
	chartHeight = chartGround + 26
)

func chartBox() string { return "0 0 " + strconv.Itoa(chartWidth) + " " + strconv.Itoa(chartHeight) }

type bar struct {
	Class               intensity.Class
	X, Y, Width, Height string
}

type weeksDrawing struct {
	Bars   []bar
	Target string // y
	Labels []slopeLabel
}

// rises is what each intensity adds to a week: minutes as they count.
func (w Weeks) rises(c WeekColumn) [3]int {
	return Slope{Target: w.target(c)}.rises(c.Totals)
}

func (w Weeks) draw() weeksDrawing {
	top := max(w.Target.Minutes, 1)
	for _, c := range w.Weeks {
		top = max(top, w.done(c))
	}
	y := func(minutes int) float64 { return chartGround - float64(minutes)*chartHill/float64(top) }
	d := weeksDrawing{Target: num(y(w.Target.Minutes))}
	step := float64(chartWidth) / float64(max(len(w.Weeks), 1))
	for i, c := range w.Weeks {
		x, sum := float64(i)*step, 0
		for k, rise := range w.rises(c) {
			if rise == 0 {
				continue
			}
			d.Bars = append(d.Bars, bar{riseClasses[k], num(x + step*.15), num(y(sum + rise)), num(step * .7), num(y(sum) - y(sum+rise))})
			sum += rise
		}
		// As many labels as a phone has room for, counted from the newest.
		if every := (len(w.Weeks) + 3) / 4; (len(w.Weeks)-1-i)%every == 0 {
			d.Labels = append(d.Labels, underChart(x+step/2, c.Label))
		}
	}
	return d
}

// underChart is a day under a chart, kept within its width: what stands out of it
// is cut off on paper.
func underChart(x float64, day string) slopeLabel {
	const half = 30 // of the width of "23 Nov"
	switch {
	case x < half:
		return slopeLabel{X: "0", Anchor: "start", Text: day}
	case x > chartWidth-half:
		return slopeLabel{X: strconv.Itoa(chartWidth), Anchor: "end", Text: day}
	}
	return slopeLabel{X: num(x), Anchor: "middle", Text: day}
}

func (w Weeks) fill(c intensity.Class) string { return Slope{ID: w.ID}.fill(c) }

func (w Weeks) description(ctx context.Context) string {
	var parts []string
	for _, c := range w.Weeks {
		parts = append(parts, c.Name+": "+minutes(ctx, w.done(c)))
	}
	return strings.Join(parts, ". ") + "."
}

func (w Weeks) table(ctx context.Context) Table {
	t := Table{
		Caption: w.Title, HideCaption: true,
		Columns: []Column{{Label: say.T(ctx, "Week")}, {Label: say.T(ctx, "Light"), Number: true}, {Label: say.T(ctx, "Moderate"), Number: true},
			{Label: say.T(ctx, "Vigorous"), Number: true}, {Label: say.T(ctx, "Counts"), Number: true}},
	}
	for i := len(w.Weeks) - 1; i >= 0; i-- {
		c := w.Weeks[i]
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: c.Name, Href: c.Href}, {Text: strconv.Itoa(c.Totals.Light)}, {Text: strconv.Itoa(c.Totals.Moderate)},
			{Text: strconv.Itoa(c.Totals.Vigorous)}, {Text: strconv.Itoa(w.done(c))}}})
	}
	return t
}

// Series is values of one kind over time: a resting heart rate, a test.
type Series struct {
	ID     string // unique on the page
	Title  string
	Unit   string // "bpm"
	Points []Point
}

// Point is one value. Days only have to be in order: values lie at the same
// distance, since there are few of them and years between some.
type Point struct {
	Day   string // short
	Value int
}

type seriesDrawing struct {
	Line   string
	Dots   []dot
	Values []slopeLabel
	At     []string // y of the values
	Labels []slopeLabel
}

func (s Series) draw() seriesDrawing {
	var d seriesDrawing
	low, high := s.Points[0].Value, s.Points[0].Value
	for _, p := range s.Points {
		low, high = min(low, p.Value), max(high, p.Value)
	}
	span := float64(max(high-low, 4)) // so that a beat is no cliff
	step := float64(chartWidth-48) / float64(max(len(s.Points)-1, 1))
	every := (len(s.Points) + 3) / 4
	for i, p := range s.Points {
		x := 24 + float64(i)*step
		y := chartGround - 20 - (float64(p.Value-low))*(chartHill-40)/span
		join := "L"
		if i == 0 {
			join = "M"
		}
		d.Line += join + num(x) + " " + num(y)
		d.Dots = append(d.Dots, dot{X: num(x), Y: num(y)})
		if (len(s.Points)-1-i)%every == 0 {
			d.Values = append(d.Values, slopeLabel{X: num(x), Text: strconv.Itoa(p.Value)})
			d.At = append(d.At, num(y-10))
			d.Labels = append(d.Labels, underChart(x, p.Day))
		}
	}
	return d
}

func (s Series) description() string {
	var parts []string
	for _, p := range s.Points {
		parts = append(parts, p.Day+": "+strconv.Itoa(p.Value)+" "+s.Unit)
	}
	return strings.Join(parts, ". ") + "."
}

func (s Series) table(ctx context.Context) Table {
	t := Table{Caption: s.Title, HideCaption: true, Columns: []Column{{Label: say.T(ctx, "Day")}, {Label: s.Unit, Number: true}}}
	for i := len(s.Points) - 1; i >= 0; i-- {
		t.Rows = append(t.Rows, Row{Cells: []Cell{{Text: s.Points[i].Day}, {Text: strconv.Itoa(s.Points[i].Value)}}})
	}
	return t
}
