package ui

import (
	"context"
	"math"
	"strconv"
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
	hill, target := make([]byte, 0, 12*len(s.Weeks)+24), make([]byte, 0, 16*len(s.Weeks))
	for i, w := range s.Weeks {
		left := sparkEdge + float64(i)*step
		middle := left + step/2
		join := byte('L')
		if i == 0 {
			join = 'M'
		}
		hill = appendNum(append(appendNum(append(hill, join), middle), ' '), y(w.Minutes))
		target = appendNum(append(appendNum(append(target, join), left), ' '), y(w.Target))
		target = appendNum(append(target, 'H'), left+step)
		last := i == len(s.Weeks)-1
		if !w.NoLog && !last {
			continue
		}
		mark := dot{X: num(middle), Y: num(y(w.Minutes)), Hollow: w.NoLog}
		if w.NoLog {
			d.NoLog = append(d.NoLog, mark)
		} else {
			d.Last = &mark
		}
	}
	d.Contour, d.Target = string(hill), string(target)
	first, last := sparkEdge+step/2, sparkWidth-sparkEdge-step/2
	hill = appendNum(append(appendNum(append(hill, 'L'), last), ' '), sparkHeight-sparkEdge)
	d.Hill = string(append(appendNum(append(hill, 'H'), first), 'Z'))
	return d
}

// appendNum writes a coordinate to a tenth of a unit, as num does; a page of
// fifty rows has some thousands of them.
func appendNum(b []byte, f float64) []byte {
	tenths := int64(math.RoundToEven(f * 10))
	if tenths < 0 {
		b, tenths = append(b, '-'), -tenths
	}
	b = strconv.AppendInt(b, tenths/10, 10)
	if tenths%10 != 0 {
		b = append(b, '.', byte('0'+tenths%10))
	}
	return b
}

// description says in words what the drawing shows.
func (s Spark) description(ctx context.Context) string {
	if len(s.Weeks) == 0 {
		return say.T(ctx, "No weeks yet")
	}
	of, noLog := say.T(ctx, "of"), say.T(ctx, "no log")
	var parts strings.Builder // fifty rows of eight weeks stand on a page: no format is read for each
	for i, w := range s.Weeks {
		if i > 0 {
			parts.WriteString(", ")
		}
		if w.NoLog {
			parts.WriteString(noLog)
		} else {
			parts.WriteString(strconv.Itoa(w.Minutes) + " " + of + " " + strconv.Itoa(w.Target))
		}
	}
	return say.F(ctx, "Minutes of the last %d weeks, oldest first: %s", len(s.Weeks), parts.String())
}
