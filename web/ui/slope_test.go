package ui

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"brae/domain/intensity"
	"brae/domain/volume"
)

// The hill is 150 units high above the ground at 184, so that at a target of 150
// minutes a unit is a minute and every coordinate can be worked out by hand.
func TestSlope(t *testing.T) {
	const (
		double = "Physical Activity Guidelines for Americans 2018: a vigorous minute counts as two; worked by hand"
		design = "design: the sum climbs to a ridge at the target; worked by hand"
	)
	light, moderate, vigorous := intensity.Light, intensity.Moderate, intensity.Vigorous
	for _, tt := range []struct {
		source     string
		slope      Slope
		layers     []layer
		lines      []string
		ridge      string
		here, left string
		sum        string
		dots       int
		hollow     int
	}{
		{
			source: double, slope: slopes[0],
			layers: []layer{{moderate, "154", "30"}, {moderate, "134", "20"}, {vigorous, "118", "16"}, {moderate, "88", "30"}},
			lines:  []string{"154", "118"},
			ridge:  "34", here: "196 88", left: "M196 88L340 34", sum: "96", dots: 5,
		},
		{
			// 25 + 2x15 + 30 + (30 + 2x20) + 20 = 175 minutes are 150 units: 6/7 each.
			source: design + "; beyond the target the ridge sinks below the top", slope: slopes[1],
			layers: []layer{
				{moderate, "162.6", "21.4"}, {vigorous, "136.9", "25.7"}, {moderate, "111.1", "25.7"},
				{moderate, "85.4", "25.7"}, {vigorous, "51.1", "34.3"}, {moderate, "34", "17.1"},
			},
			lines: []string{"162.6", "136.9", "111.1", "51.1"},
			ridge: "55.4", here: "340 34", left: "", sum: "175", dots: 6 + 2, hollow: 2,
		},
		{
			source: design + "; an empty week is flat", slope: slopes[2],
			ridge: "34", here: "52 184", left: "M52 184L340 34", sum: "0",
		},
		{
			// 15 + (15 + 5) + 20 + 15 = 70 of 90 minutes: a minute is 150/90 units.
			source: "design: in the light phase light minutes climb, each once; worked by hand", slope: slopes[3],
			layers: []layer{
				{light, "159", "25"}, {light, "134", "25"}, {moderate, "125.7", "8.3"}, {light, "92.3", "33.3"}, {light, "67.3", "25"},
			},
			lines: []string{"159", "125.7", "92.3"},
			ridge: "34", here: "340 67.3", left: "", sum: "70",
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			d := tt.slope.draw()
			if !slices.Equal(d.Layers, tt.layers) {
				t.Errorf("layers = %v; want %v", d.Layers, tt.layers)
			}
			if !slices.Equal(d.Lines, tt.lines) {
				t.Errorf("lines = %v; want %v", d.Lines, tt.lines)
			}
			if d.RidgeY != tt.ridge {
				t.Errorf("ridge at %s; want %s", d.RidgeY, tt.ridge)
			}
			if here := d.HereX + " " + d.HereY; here != tt.here || d.Here.Text != tt.sum {
				t.Errorf("reached %s at %s; want %s at %s", d.Here.Text, here, tt.sum, tt.here)
			}
			if d.Left != tt.left {
				t.Errorf("left %q; want %q", d.Left, tt.left)
			}
			hollow := 0
			for _, dot := range d.Dots {
				if dot.Hollow {
					hollow++
				}
			}
			if len(d.Dots)-hollow != tt.dots || hollow != tt.hollow {
				t.Errorf("%d dots, %d hollow; want %d, %d", len(d.Dots)-hollow, hollow, tt.dots, tt.hollow)
			}
		})
	}
}

func TestSlopeDots(t *testing.T) {
	s := Slope{Target: volume.Target{Minutes: 150}}
	got := s.dots(volume.Totals{Light: 51, Unjudged: 1}, 52)
	want := []dot{
		{"60", "194", false}, {"68", "194", false}, {"76", "194", false}, {"84", "194", false}, {"92", "194", false},
		{"60", "202", false}, {"68", "202", true},
	}
	if !slices.Equal(got, want) { // 51 minutes begin a sixth ten
		t.Errorf("dots = %v; want %v", got, want)
	}
	for minutes, want := range map[int]int{0: 0, 1: 1, 10: 1, 11: 2} {
		if got := tens(minutes); got != want {
			t.Errorf("tens(%d) = %d; want %d", minutes, got, want)
		}
	}
	// The names of the days make room for the dots: two rows of 8, and 4 more.
	s.Through = 7
	plain := s.draw()
	s.Days[0].Totals.Light = 60
	deep := s.draw()
	if plain.LabelY != "206" || deep.LabelY != "226" || deep.Height != plain.Height+20 {
		t.Errorf("names at %s and %s, height %d and %d", plain.LabelY, deep.LabelY, plain.Height, deep.Height)
	}
}

func TestSlopeEdges(t *testing.T) {
	var none Slope
	if d := none.draw(); d.Hill != "" || d.Left != "" || d.RidgeY != "184" || d.Here.Anchor != "start" {
		t.Errorf("a week that has not begun, without a target: %+v", d)
	}
	late := Slope{Target: volume.Target{Minutes: 150}, Through: 2}
	late.Days[4] = day("Fri", 0, 30, 0, 0)
	if d := late.draw(); d.HereX != "244" || d.HereY != "154" || len(d.Layers) != 1 {
		t.Errorf("a log on a day that has not begun is drawn all the same: here %s %s, %d layers", d.HereX, d.HereY, len(d.Layers))
	}
	if late.Through = 12; late.through() != 7 {
		t.Errorf("a week of %d days", late.through())
	}
	reached := Slope{Target: volume.Target{Minutes: 150}, Through: 3}
	reached.Days[0] = day("Mon", 0, 150, 0, 0)
	if d := reached.draw(); d.Left != "" {
		t.Errorf("the target is reached, and %q is left", d.Left)
	}
}

func TestSlopeWords(t *testing.T) {
	midweek := "Mon: 30 minutes. Tue: none. Wed: 36 minutes. Thu: 30 minutes. Together 96 of 150 minutes."
	if got := slopes[0].description(t.Context()); got != midweek {
		t.Errorf("description = %q; want %q", got, midweek)
	}
	table := slopes[1].table(t.Context())
	if len(table.Rows) != 8 || len(table.Columns) != 6 {
		t.Fatalf("table of %d rows and %d columns", len(table.Rows), len(table.Columns))
	}
	var sum []string
	for _, c := range table.Rows[7].Cells {
		sum = append(sum, c.Text)
	}
	if want := []string{"Week", "80", "105", "35", "15", "175"}; !slices.Equal(sum, want) {
		t.Errorf("sum of the week = %v; want %v", sum, want)
	}
	if columns := slopes[0].table(t.Context()).Columns; len(columns) != 5 {
		t.Errorf("%d columns where every minute was judged; want 5", len(columns))
	}
	if items := slopes[0].legend(t.Context()); len(items) != 3 || items[2].Note != "counts 16 minutes" || items[0].Note == "" {
		t.Errorf("legend = %+v", items)
	}
	if items := slopes[3].legend(t.Context()); len(items) != 2 || items[0].Note != "" {
		t.Errorf("legend of the light phase = %+v", items)
	}
	if items := slopes[1].legend(t.Context()); len(items) != 4 || items[3].Minutes != 15 {
		t.Errorf("legend with minutes that nobody judged = %+v", items)
	}
	if got := minutes(t.Context(), 1) + ", " + minutes(t.Context(), 2); got != "1 minute, 2 minutes" {
		t.Errorf("minutes = %q", got)
	}
}

var coordinate = regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)

func numbers(t *rapid.T, path string) []float64 {
	var list []float64
	for _, m := range coordinate.FindAllString(path, -1) {
		f, err := strconv.ParseFloat(m, 64)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, f)
	}
	return list
}

// TestSlopeProperties: whatever was done, the hill goes up only, to the height
// of its sum and no higher, and its layers fill it without a gap.
func TestSlopeProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Slope{
			Target:  volume.Target{Minutes: rapid.IntRange(0, 600).Draw(t, "target"), Light: rapid.Bool().Draw(t, "light phase")},
			Through: rapid.IntRange(0, 7).Draw(t, "through"),
		}
		for i := range s.Days {
			if rapid.Bool().Draw(t, "logged") {
				n := rapid.IntRange(0, 300)
				s.Days[i] = day("d", n.Draw(t, "light"), n.Draw(t, "moderate"), n.Draw(t, "vigorous"), n.Draw(t, "unjudged"))
			}
		}
		d := s.draw()

		// The curve itself, a pixel at a time. Coordinates are rounded to a tenth.
		points := numbers(t, d.Contour)
		before := points[1]
		for i := 0; i+7 < len(points); i += 6 {
			y0, y1, y2, y3 := points[i+1], points[i+3], points[i+5], points[i+7]
			for step := range slopeColumn + 1 {
				u := float64(step) / slopeColumn
				y := (1-u)*(1-u)*(1-u)*y0 + 3*u*(1-u)*(1-u)*y1 + 3*u*u*(1-u)*y2 + u*u*u*y3
				if y > before+0.05 {
					t.Fatalf("goes down from %.2f to %.2f: %s", before, y, d.Contour)
				}
				before = y
			}
		}
		if last := num(points[len(points)-1]); last != d.HereY {
			t.Fatalf("ends at %s, but %s is reached", last, d.HereY)
		}

		edge := float64(slopeGround)
		for _, l := range d.Layers {
			y, err := strconv.ParseFloat(l.Y, 64)
			if err != nil {
				t.Fatal(err)
			}
			h, err := strconv.ParseFloat(l.Height, 64)
			if err != nil {
				t.Fatal(err)
			}
			if diff := edge - h - y; diff > 0.11 || diff < -0.11 {
				t.Fatalf("gap of %.1f between layers", diff)
			}
			edge = y
		}
		if num(edge) != d.HereY {
			t.Fatalf("layers end at %v, the hill at %s", edge, d.HereY)
		}
		if d.Here.Text != fmt.Sprint(s.Target.Done(s.totals())) {
			t.Fatalf("says %s", d.Here.Text)
		}
		if f := numbers(t, d.HereY)[0]; f < slopeSky || f > slopeGround {
			t.Fatalf("reached %v, outside of the drawing", f)
		}
	})
}

func TestSpark(t *testing.T) {
	// Two weeks over 120 units: middles at 34 and 94. The ground is at 32, and 28
	// units are the higher of the targets, 200 minutes.
	s := Spark{Weeks: []SparkWeek{{Minutes: 100, Target: 150}, {Minutes: 50, Target: 200}}}
	d := s.draw()
	if want := "M34 18L94 25"; d.Contour != want {
		t.Errorf("contour %q; want %q", d.Contour, want)
	}
	if want := "M34 18L94 25L94 32H34Z"; d.Hill != want {
		t.Errorf("hill %q; want %q", d.Hill, want)
	}
	if want := "M4 11H64L64 4H124"; d.Target != want {
		t.Errorf("target %q; want %q", d.Target, want)
	}
	if d.Last == nil || d.Last.X != "94" || d.Last.Y != "25" || len(d.NoLog) != 0 {
		t.Errorf("marks: last %v, no log %v", d.Last, d.NoLog)
	}
	if want := "Minutes of the last 2 weeks, oldest first: 100 of 150, 50 of 200"; s.description(t.Context()) != want {
		t.Errorf("description %q; want %q", s.description(t.Context()), want)
	}

	s.Weeks[1] = SparkWeek{Target: 200, NoLog: true}
	d = s.draw()
	if d.Last != nil || len(d.NoLog) != 1 || d.NoLog[0].Y != "32" {
		t.Errorf("a week without a log: last %v, no log %v", d.Last, d.NoLog)
	}
	if !strings.HasSuffix(s.description(t.Context()), "100 of 150, no log") {
		t.Errorf("description %q", s.description(t.Context()))
	}
	if page := component(t, SlopeSpark(Spark{})); !strings.Contains(page, "No weeks yet") {
		t.Errorf("nothing to draw, nothing said: %s", page)
	}
}

// The owner's picture of intensity: the word, then light dotted, moderate
// hatched, vigorous solid.
func TestTextures(t *testing.T) {
	s := Slope{ID: "w"}
	for class, want := range map[intensity.Class]string{
		intensity.VeryLight: "url(#w-dots)", intensity.Light: "url(#w-dots)", intensity.Moderate: "url(#w-hatch)",
		intensity.Vigorous: "currentColor", intensity.NearMaximal: "currentColor",
	} {
		if got := s.fill(class); got != want {
			t.Errorf("fill(%v) = %s; want %s", class, got, want)
		}
	}
}

func TestClassWord(t *testing.T) {
	for class, want := range map[intensity.Class]string{
		intensity.None: "None", intensity.VeryLight: "Very light", intensity.Light: "Light", intensity.Moderate: "Moderate",
		intensity.Vigorous: "Vigorous", intensity.NearMaximal: "Near-maximal",
	} {
		if got := ClassWord(class); got != want {
			t.Errorf("ClassWord(%v) = %q; want %q", class, got, want)
		}
	}
	for _, c := range intensity.Classes() {
		page := component(t, ClassTag(c))
		if !strings.Contains(page, ClassWord(c)) || !strings.Contains(page, "swatch "+c.String()) {
			t.Errorf("%v needs its word and its slope: %s", c, page)
		}
	}
	if page := component(t, ClassTag(intensity.None)); strings.Contains(page, "swatch") {
		t.Errorf("no intensity, and a slope: %s", page)
	}
	if ClassWord(42) == "" {
		t.Error("an unknown class leaves no trace")
	}
}
