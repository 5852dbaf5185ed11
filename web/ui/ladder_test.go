package ui

import (
	"strings"
	"testing"

	"brae/domain/intensity"
	"brae/domain/volume"
)

// The drawing says in words, and in its table, what it shows; the point of a week
// stands at what the week adds up to.
func TestLadder(t *testing.T) {
	week := func(label string, class intensity.Class, minutes int) LadderWeek {
		totals := volume.Of(volume.Part{Minutes: minutes, Class: class})
		target := volume.Target{Minutes: totals.ModerateEquivalent}
		if class == intensity.Light {
			target = volume.Target{Minutes: minutes, Light: true}
		}
		return LadderWeek{Label: label, Name: "Week " + label, Totals: totals, Target: target, Field: "weeks[0]"}
	}
	l := Ladder{Title: "Weeks", Goal: 150, Weeks: []LadderWeek{
		week("1", intensity.Light, 75), week("2", intensity.Moderate, 150), week("3", intensity.Vigorous, 75),
	}}
	l.Weeks[0].Over, l.Weeks[0].Done, l.Weeks[0].Logged, l.Weeks[1].Now = true, 30, true, true
	d := l.draw()
	// 150 units from the ground at 176 are the goal: half of it is at half the height.
	if d.Top != 150 || d.Points[0].Y != "106" || d.Points[1].Y != "36" || d.Points[2].Y != "36" || d.GoalY != "36" || d.Points[0].DoneY != "148" {
		t.Errorf("drawing = %+v; want 75 at half the height, and 75 vigorous ones as high as 150 (WHO 2020)", d)
	}
	if got := l.classes(); len(got) != 3 {
		t.Errorf("classes %v; want three", got)
	}
	var b strings.Builder
	if err := PlanLadder(l).Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	html := b.String()
	for _, want := range []string{"Week 1: 75 minutes. Week 2: 150 minutes.", "The goal is 150 minutes a week.", "Show as a table"} {
		if !strings.Contains(html, want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
	if n := strings.Count(html, "data-field"); n != 2 {
		t.Errorf("%d weeks can be moved; want the two that are not over", n)
	}
	if err := PlanLadder(Ladder{Title: "Weeks", Goal: 150}).Render(t.Context(), &b); err != nil {
		t.Errorf("no weeks: %v", err)
	}
}
