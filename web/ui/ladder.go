package ui

import (
	"fmt"
	"strconv"
	"strings"

	"brae/domain/intensity"
	"brae/domain/volume"
)

// Ladder is the weeks of a plan drawn as a long slope: what each week adds up to,
// in the textures of its intensities, towards the ridge of the goal.
type Ladder struct {
	ID    string // unique on the page; "ladder" if empty
	Title string
	Goal  int // minutes a week
	Weeks []LadderWeek
	Edit  bool // a script lets the points of the weeks that are not over be moved
}

// LadderWeek is one week of it.
type LadderWeek struct {
	Label  string // short, under the drawing: "3"
	Name   string // "Week 3, from 7 December"
	Says   string // "4 times 25 minutes, moderate"
	Totals volume.Totals
	Target volume.Target
	Done   int    // minutes that were done and count
	Logged bool   // there is something in Done
	Over   bool   // it is not to be changed any more
	Now    bool   // it is this week
	Warns  bool   // something is unusual
	Field  string // name of the form's fields for it: "weeks[2]"; none if empty
}

const (
	ladderWidth  = 344
	ladderLeft   = 6
	ladderSky    = 36
	ladderHill   = 140
	ladderGround = ladderSky + ladderHill
)

// ladderDrawing is the geometry of a Ladder.
type ladderDrawing struct {
	Areas   [3]string // closed paths from the ground: all, up to moderate, up to light
	Contour string
	Points  []ladderPoint
	GoalY   string
	Now     string // path from the point of this week down to the ground
	Top     int    // minutes at the top
	Step    float64
}

type ladderPoint struct {
	X, Y  string
	Left  string // of what can be taken hold of, which is as wide as the week
	Above string
	DoneY string
	Label string // empty where there is no room for it
	Week  LadderWeek
}

func (l Ladder) id() string {
	if l.ID == "" {
		return "ladder"
	}
	return l.ID
}

// rises are what light, moderate and vigorous minutes add to the height of a week.
func (w LadderWeek) rises() [3]int { return Slope{Target: w.Target}.rises(w.Totals) }

func (l Ladder) draw() ladderDrawing {
	n := len(l.Weeks)
	d := ladderDrawing{Top: max(l.Goal, 1)}
	for _, w := range l.Weeks {
		d.Top = max(d.Top, w.Target.Minutes, w.Done)
	}
	d.Step = float64(ladderWidth-2*ladderLeft) / float64(max(n, 1))
	y := func(minutes int) float64 { return ladderGround - float64(minutes)*ladderHill/float64(d.Top) }
	xs := []float64{ladderLeft}
	var heights [3][]float64
	every := 1 + (n-1)/14
	for i, w := range l.Weeks {
		x := ladderLeft + (float64(i)+.5)*d.Step
		xs = append(xs, x)
		rises := w.rises()
		for k, upTo := range []int{rises[0] + rises[1] + rises[2], rises[0] + rises[1], rises[0]} {
			heights[k] = append(heights[k], y(upTo))
		}
		p := ladderPoint{X: num(x), Y: num(y(w.Target.Minutes)), Left: num(x - d.Step/2), Above: num(y(w.Target.Minutes) - 22), Week: w}
		if w.Logged {
			p.DoneY = num(y(w.Done))
		}
		if i%every == 0 {
			p.Label = w.Label
		}
		if w.Now {
			d.Now = fmt.Sprintf("M%s %sV%d", p.X, p.Y, ladderGround)
		}
		d.Points = append(d.Points, p)
	}
	xs = append(xs, ladderWidth-ladderLeft)
	if n > 0 {
		for k, h := range heights {
			ys := append(append([]float64{h[0]}, h...), h[n-1])
			line := curve(xs, ys)
			d.Areas[k] = fmt.Sprintf("%sV%dH%sZ", line, ladderGround, num(xs[0]))
			if k == 0 {
				d.Contour = line
			}
		}
	}
	d.GoalY = num(y(l.Goal))
	return d
}

func (l Ladder) description() string {
	var b strings.Builder
	for _, w := range l.Weeks {
		fmt.Fprintf(&b, "%s: %s. ", w.Name, fmt.Sprintf("%d minutes", w.Target.Minutes))
	}
	fmt.Fprintf(&b, "The goal is %s a week.", fmt.Sprintf("%d minutes", l.Goal))
	return b.String()
}

func (l Ladder) table() Table {
	t := Table{
		Caption: l.Title + ", week by week", HideCaption: true,
		Columns: []Column{{Label: "Week"}, {Label: "Planned"}, {Label: "Light", Number: true}, {Label: "Moderate", Number: true}, {Label: "Vigorous", Number: true}, {Label: "Counts", Number: true}, {Label: "Done", Number: true}},
	}
	for _, w := range l.Weeks {
		done := ""
		if w.Logged {
			done = strconv.Itoa(w.Done)
		}
		t.Rows = append(t.Rows, Row{Cells: []Cell{
			{Text: w.Name}, {Text: w.Says}, {Text: strconv.Itoa(w.Totals.Light)}, {Text: strconv.Itoa(w.Totals.Moderate)},
			{Text: strconv.Itoa(w.Totals.Vigorous)}, {Text: strconv.Itoa(w.Target.Minutes)}, {Text: done},
		}})
	}
	return t
}

// classes are those that the weeks have minutes of.
func (l Ladder) classes() []intensity.Class {
	var rises [3]int
	for _, w := range l.Weeks {
		for k, n := range w.rises() {
			rises[k] += n
		}
	}
	var list []intensity.Class
	for k, c := range riseClasses {
		if rises[k] > 0 {
			list = append(list, c)
		}
	}
	return list
}

func (l Ladder) href(part string) string { return "url(#" + l.id() + "-" + part + ")" }

// fill is the texture of the area that reaches up to an intensity.
func (l Ladder) fill(area int) string {
	return [...]string{"currentColor", l.href("hatch"), l.href("dots")}[area]
}
