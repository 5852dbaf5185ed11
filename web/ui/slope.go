package ui

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"brae/domain/intensity"
	"brae/domain/volume"
	"brae/web/say"
)

// Slope is a week drawn as a hillside: the minutes that count add up day by day
// towards a ridge at the target. What a day adds lies as one layer in the hill,
// in the texture of its intensity.
type Slope struct {
	ID        string // unique on the page; "week" if empty
	Title     string // "This week"
	HideTitle bool   // kept for screen readers, where a heading says the same
	Days      [7]SlopeDay
	Target    volume.Target
	Through   int    // days that have begun, 0 to 7: the hill ends there
	Line      string // a sentence under the numbers, such as what is left
}

// SlopeDay is what was done on one day.
type SlopeDay struct {
	Label  string // short, under the drawing: "Mon"
	Name   string // in the table: "Monday 3 March"; the label if empty
	Totals volume.Totals
}

// Measures of the drawing, in its own units: at a phone's width about a pixel
// each. With the usual target of 150 minutes, one unit of height is one minute.
const (
	slopeMargin = 4
	slopeColumn = 48 // width of a day
	slopeWidth  = 7*slopeColumn + 2*slopeMargin
	slopeSky    = 34  // above the highest point, for its label
	slopeHill   = 150 // from the ground to the highest point
	slopeGround = slopeSky + slopeHill

	// Minutes that do not climb lie as dots at the foot of their day.
	dotMinutes = 10 // a dot stands for this many, begun ones included
	dotRow     = 5  // dots side by side
	dotPitch   = 8
)

// slopeDrawing is the geometry of a Slope.
type slopeDrawing struct {
	Height  int
	Hill    string // closed path, the clip of the layers
	Contour string // its upper edge
	Layers  []layer
	Lines   []string // y of the lines between the days
	Dots    []dot
	RidgeY  string
	Labels  []slopeLabel
	LabelY  string
	HereX   string
	HereY   string
	Here    slopeLabel // the sum, beside the point that was reached
	HereTop string
	Left    string // path from there to the ridge; empty if nothing is left
	Target  string
}

// layer is what one intensity added on one day: a level stretch of the hill.
type layer struct {
	Class     intensity.Class
	Y, Height string
}

type dot struct {
	X, Y   string
	Hollow bool // nobody told how hard it was
}

type slopeLabel struct {
	X, Anchor, Text string
}

// rises returns what each intensity adds to the hill on a day, from the easiest.
func (s Slope) rises(t volume.Totals) [3]int {
	if s.Target.Light {
		return [3]int{t.Light, t.Moderate, t.Vigorous}
	}
	return [3]int{0, t.Moderate, t.ModerateEquivalent - t.Moderate}
}

var riseClasses = [3]intensity.Class{intensity.Light, intensity.Moderate, intensity.Vigorous}

// flat returns the minutes of a day that do not climb: light ones where only
// harder ones count, and those of unknown intensity.
func (s Slope) flat(t volume.Totals) (light, unknown int) {
	if s.Target.Light {
		return 0, t.Unjudged
	}
	return t.Light, t.Unjudged
}

func (s Slope) totals() volume.Totals {
	var sum volume.Totals
	for _, d := range s.Days {
		sum = sum.Add(d.Totals)
	}
	return sum
}

func (s Slope) done() int { return s.Target.Done(s.totals()) }

// through is Through, or further if something was logged on a later day.
func (s Slope) through() int {
	n := min(max(s.Through, 0), 7)
	for i, d := range s.Days {
		if d.Totals != (volume.Totals{}) {
			n = max(n, i+1)
		}
	}
	return n
}

func (s Slope) draw() slopeDrawing {
	done, n := s.done(), s.through()
	top := max(done, s.Target.Minutes, 1)
	y := func(minutes int) float64 {
		return slopeGround - float64(minutes)*slopeHill/float64(top)
	}
	x := func(days int) float64 { return float64(slopeMargin + days*slopeColumn) }

	d := slopeDrawing{Target: strconv.Itoa(s.Target.Minutes), RidgeY: num(y(s.Target.Minutes))}
	xs, ys := []float64{x(0)}, []float64{y(0)}
	sum, rows := 0, 0
	for i, day := range s.Days {
		d.Labels = append(d.Labels, slopeLabel{X: num(x(i) + slopeColumn/2), Text: day.Label})
		if i >= n {
			continue
		}
		for k, rise := range s.rises(day.Totals) {
			if rise == 0 {
				continue
			}
			d.Layers = append(d.Layers, layer{
				Class:  riseClasses[k],
				Y:      num(y(sum + rise)),
				Height: num(y(sum) - y(sum+rise)),
			})
			sum += rise
		}
		if line := num(y(sum)); sum > 0 && sum < done && (len(d.Lines) == 0 || d.Lines[len(d.Lines)-1] != line) {
			d.Lines = append(d.Lines, line)
		}
		xs, ys = append(xs, x(i+1)), append(ys, y(sum))
		dots := s.dots(day.Totals, x(i))
		d.Dots = append(d.Dots, dots...)
		rows = max(rows, (len(dots)+dotRow-1)/dotRow)
	}
	d.Contour = curve(xs, ys)
	if n > 0 {
		d.Hill = fmt.Sprintf("%sV%sH%sZ", d.Contour, num(slopeGround), num(xs[0]))
	}

	labelY := slopeGround + 22
	if rows > 0 {
		labelY += rows*dotPitch + 4
	}
	d.LabelY, d.Height = num(float64(labelY)), labelY+8

	hereX, hereY := xs[len(xs)-1], ys[len(ys)-1]
	d.HereX, d.HereY = num(hereX), num(hereY)
	d.Here = slopeLabel{X: num(hereX - 8), Anchor: "end", Text: strconv.Itoa(done)}
	if n == 0 {
		d.Here.X, d.Here.Anchor = num(hereX+8), "start"
	}
	d.HereTop = num(hereY - 9)
	if n < 7 && done < s.Target.Minutes {
		d.Left = fmt.Sprintf("M%s %sL%s %s", num(hereX), num(hereY), num(x(7)), d.RidgeY)
	}
	return d
}

// dots places a day's flat minutes from the left of its column.
func (s Slope) dots(t volume.Totals, left float64) []dot {
	light, unknown := s.flat(t)
	solid, hollow := tens(light), tens(unknown)
	dots := make([]dot, 0, solid+hollow)
	for i := range solid + hollow {
		dots = append(dots, dot{
			X:      num(left + dotPitch + float64(i%dotRow*dotPitch)),
			Y:      num(float64(slopeGround + 10 + i/dotRow*dotPitch)),
			Hollow: i >= solid,
		})
	}
	return dots
}

func tens(minutes int) int { return (minutes + dotMinutes - 1) / dotMinutes }

// curve draws a smooth line through points whose y never grows. It rises no
// higher than the points do and goes nowhere down again, which an ordinary
// spline would: a hill must not show minutes that were not done.
//
// Source: Fritsch and Carlson 1980, SIAM J Numer Anal 17:238-246.
func curve(xs, ys []float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "M%s %s", num(xs[0]), num(ys[0]))
	tangents := tangents(xs, ys)
	for i := range len(xs) - 1 {
		third := (xs[i+1] - xs[i]) / 3
		fmt.Fprintf(&b, "C%s %s %s %s %s %s",
			num(xs[i]+third), num(ys[i]+third*tangents[i]),
			num(xs[i+1]-third), num(ys[i+1]-third*tangents[i+1]),
			num(xs[i+1]), num(ys[i+1]))
	}
	return b.String()
}

func tangents(xs, ys []float64) []float64 {
	n := len(xs)
	m := make([]float64, n)
	for i := 1; i < n-1; i++ {
		before := (ys[i] - ys[i-1]) / (xs[i] - xs[i-1])
		after := (ys[i+1] - ys[i]) / (xs[i+1] - xs[i])
		if before*after > 0 {
			m[i] = 2 * before * after / (before + after) // never steeper than the gentler side allows
		}
	}
	return m
}

// num writes a coordinate to a tenth of a unit.
func num(f float64) string {
	text := strings.TrimSuffix(strconv.FormatFloat(f, 'f', 1, 64), ".0")
	if text == "-0" {
		return "0"
	}
	return text
}

func (s Slope) id() string {
	if s.ID == "" {
		return "week"
	}
	return s.ID
}

func (d SlopeDay) name() string {
	if d.Name == "" {
		return d.Label
	}
	return d.Name
}

// description says in words what the drawing shows.
func (s Slope) description(ctx context.Context) string {
	var b strings.Builder
	for i, d := range s.Days {
		if i >= s.through() {
			break
		}
		if counts := s.Target.Done(d.Totals); counts > 0 {
			b.WriteString(say.F(ctx, "%s: %s.", d.name(), minutes(ctx, counts)) + " ")
		} else {
			b.WriteString(say.F(ctx, "%s: none.", d.name()) + " ")
		}
	}
	b.WriteString(say.F(ctx, "Together %d of %s.", s.done(), minutes(ctx, s.Target.Minutes)))
	return b.String()
}

func minutes(ctx context.Context, n int) string { return say.N(ctx, n, "%d minute", "%d minutes") }

// table is what stands behind the drawing.
func (s Slope) table(ctx context.Context) Table {
	sum := s.totals()
	unknown := sum.Unjudged > 0
	t := Table{
		Caption: say.F(ctx, "%s, minutes by day", s.Title),
		Columns: []Column{
			{Label: say.T(ctx, "Day")}, {Label: SayClass(ctx, intensity.Light), Number: true},
			{Label: SayClass(ctx, intensity.Moderate), Number: true}, {Label: SayClass(ctx, intensity.Vigorous), Number: true},
		},
	}
	if unknown {
		t.Columns = append(t.Columns, Column{Label: say.T(ctx, "Not known"), Number: true})
	}
	t.Columns = append(t.Columns, Column{Label: say.T(ctx, "Counts"), Number: true})
	row := func(name string, m volume.Totals) []Cell {
		cells := []Cell{{Text: name}, {Text: strconv.Itoa(m.Light)}, {Text: strconv.Itoa(m.Moderate)}, {Text: strconv.Itoa(m.Vigorous)}}
		if unknown {
			cells = append(cells, Cell{Text: strconv.Itoa(m.Unjudged)})
		}
		return append(cells, Cell{Text: strconv.Itoa(s.Target.Done(m))})
	}
	for _, d := range s.Days {
		t.Rows = append(t.Rows, Row{Cells: row(d.name(), d.Totals)})
	}
	t.Rows = append(t.Rows, Row{Cells: row(say.T(ctx, "Week"), sum), Total: true})
	return t
}

// legend lists the intensities of the week with their minutes.
func (s Slope) legend(ctx context.Context) []legendItem {
	sum := s.totals()
	var items []legendItem
	for _, i := range []legendItem{
		{Class: intensity.Light, Minutes: sum.Light},
		{Class: intensity.Moderate, Minutes: sum.Moderate},
		{Class: intensity.Vigorous, Minutes: sum.Vigorous},
	} {
		if i.Minutes == 0 {
			continue
		}
		switch {
		case i.Class == intensity.Light && !s.Target.Light:
			i.Note = say.F(ctx, "at the foot, a dot for every %d", dotMinutes)
		case i.Class == intensity.Vigorous && !s.Target.Light:
			i.Note = say.F(ctx, "counts %s", minutes(ctx, sum.ModerateEquivalent-sum.Moderate))
		}
		items = append(items, i)
	}
	if sum.Unjudged > 0 {
		items = append(items, legendItem{Minutes: sum.Unjudged, Note: say.T(ctx, "we do not know how hard")})
	}
	return items
}

type legendItem struct {
	Class   intensity.Class // None for minutes that nobody judged
	Minutes int
	Note    string
}

// href refers to a pattern or a clip of this drawing.
func (s Slope) href(part string) string { return "url(#" + s.id() + "-" + part + ")" }

// fill is how an intensity is filled in: dotted, hatched or solid.
func (s Slope) fill(c intensity.Class) string {
	switch c {
	case intensity.VeryLight, intensity.Light:
		return s.href("dots")
	case intensity.Moderate:
		return s.href("hatch")
	}
	return "currentColor"
}

func (d slopeDrawing) viewBox() string { return fmt.Sprintf("0 0 %d %d", slopeWidth, d.Height) }
