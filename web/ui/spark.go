package ui

import (
	"context"
	"fmt"
	"strings"

	"brae/web/say"
)

// Spark is a run of weeks in the space of a table cell: the minutes of each as
// a hill, and the target as the line it is measured against.
type Spark struct {
	Weeks []SparkWeek // oldest first
}

// SparkWeek is one week of a Spark.
type SparkWeek struct {
	Minutes int // that count towards the target
	Target  int
	NoLog   bool // nothing was logged: not the same as nothing done
}

const (
	sparkWidth  = 128
	sparkHeight = 36
	sparkEdge   = 4 // left free for marks at the rim
)

type sparkDrawing struct {
	Hill, Contour, Target string
	NoLog                 []dot
	Last                  *dot // nil if the last week has no log
}

func (s Spark) draw() sparkDrawing {
	var d sparkDrawing
	if len(s.Weeks) == 0 {
		return d
	}
	top := 1
	for _, w := range s.Weeks {
		top = max(top, w.Minutes, w.Target)
	}
	step := float64(sparkWidth-2*sparkEdge) / float64(len(s.Weeks))
	y := func(minutes int) float64 {
		return sparkHeight - sparkEdge - float64(minutes)*(sparkHeight-2*sparkEdge)/float64(top)
	}
	var hill, target strings.Builder
	for i, w := range s.Weeks {
		left := sparkEdge + float64(i)*step
		middle := left + step/2
		join := "L"
		if i == 0 {
			join = "M"
		}
		fmt.Fprintf(&hill, "%s%s %s", join, num(middle), num(y(w.Minutes)))
		fmt.Fprintf(&target, "%s%s %sH%s", join, num(left), num(y(w.Target)), num(left+step))
		mark := dot{X: num(middle), Y: num(y(w.Minutes)), Hollow: w.NoLog}
		switch {
		case w.NoLog:
			d.NoLog = append(d.NoLog, mark)
		case i == len(s.Weeks)-1:
			d.Last = &mark
		}
	}
	d.Contour, d.Target = hill.String(), target.String()
	first, last := sparkEdge+step/2, sparkWidth-sparkEdge-step/2
	d.Hill = fmt.Sprintf("%sL%s %sH%sZ", d.Contour, num(last), num(sparkHeight-sparkEdge), num(first))
	return d
}

// description says in words what the drawing shows.
func (s Spark) description(ctx context.Context) string {
	if len(s.Weeks) == 0 {
		return say.T(ctx, "No weeks yet")
	}
	parts := make([]string, len(s.Weeks))
	for i, w := range s.Weeks {
		parts[i] = say.F(ctx, "%d of %d", w.Minutes, w.Target)
		if w.NoLog {
			parts[i] = say.T(ctx, "no log")
		}
	}
	return say.F(ctx, "Minutes of the last %d weeks, oldest first: %s", len(s.Weeks), strings.Join(parts, ", "))
}
