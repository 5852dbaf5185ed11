package client

import (
	"context"
	"math"
	"strings"

	"brae/domain/activity"
	"brae/domain/fitness"
	"brae/domain/intensity"
	"brae/domain/prescription"
	"brae/store"
	"brae/web/say"
	"brae/web/ui"
)

// figures are what a client sets out with where the prescription goes by oxygen uptake
// or by work, in their units. They were signed for one class: in a week of another they
// say nothing. Heart rates stand with the talk test, whatever the method.
func figures(ctx context.Context, p store.Prescription, class intensity.Class) []ui.Definition {
	if class != p.Dose().Class || len(p.Aim) == 0 {
		return nil
	}
	var list []ui.Definition
	switch p.Method {
	case prescription.Oxygen:
		for _, l := range p.Aim {
			list = append(list, ui.Definition{Term: say.T(ctx, "Work for your body"), Detail: say.F(ctx,
				"%s to %s times what it needs at rest", tenths(ctx, l.Low/100), tenths(ctx, l.High/100))})
		}
	case prescription.Workload:
		for _, l := range p.Aim {
			term, detail := workName(ctx, l.Work), workWords(ctx, l.Workload())
			if last := len(list) - 1; last >= 0 && list[last].Term == term {
				list[last].Detail += "; " + detail
				continue
			}
			list = append(list, ui.Definition{Term: term, Detail: detail})
		}
	default:
		return nil
	}
	return append(list, ui.Definition{Term: say.T(ctx, "Which one counts"), Detail: say.T(ctx, "How well you can talk goes before each figure. Pick one kind of work.")})
}

func tenths(ctx context.Context, x float64) string { return say.Tenths(ctx, int(math.Round(10*x))) }

func workName(ctx context.Context, m fitness.Mode) string {
	switch m {
	case fitness.Walk:
		return say.T(ctx, "Walking")
	case fitness.Run:
		return say.T(ctx, "Running")
	case fitness.LegCycle:
		return say.T(ctx, "On a bike")
	}
	return say.T(ctx, "On a step")
}

// workWords tell a work: what to set, what to begin with, and the range.
func workWords(ctx context.Context, w fitness.Workload) string {
	unit, show := workUnit(ctx, w)
	begin := show(w.Start)
	if w.StartOutside {
		begin = say.F(ctx, "less than %s", begin)
	}
	low, high := show(w.Low), show(w.High)
	then := say.F(ctx, "%s at first, then %s to %s %s", begin, low, high, unit)
	if low == high { // the equation reaches no farther
		then = say.F(ctx, "%s at first, then %s %s", begin, low, unit)
	}
	return strings.TrimSpace(workSetting(ctx, w) + " " + then)
}

// workUnit is the unit of a work that the reader chose, and how a figure is written in it.
func workUnit(ctx context.Context, w fitness.Workload) (unit string, show func(float64) string) {
	whole := func(x float64) string { return say.F(ctx, "%d", int(math.Round(x))) }
	switch {
	case w.Mode == fitness.LegCycle:
		return "W", func(x float64) string { return whole(fitness.ToWatts(x)) }
	case w.Mode == fitness.Step:
		return say.T(ctx, "times a minute"), whole
	case say.Units(ctx) == activity.Miles:
		return say.T(ctx, "miles an hour"), func(x float64) string { return tenths(ctx, fitness.ToMph(x)) }
	}
	return "km/h", func(x float64) string { return tenths(ctx, fitness.ToKmH(x)) }
}

// workSetting is the grade of a treadmill, or the height of a step.
func workSetting(ctx context.Context, w fitness.Workload) string {
	switch {
	case w.Mode == fitness.Step && say.Units(ctx) == activity.Miles:
		return say.F(ctx, "%d inches high:", int(math.Round(w.StepHeight/fitness.MetresPerInch)))
	case w.Mode == fitness.Step:
		return say.F(ctx, "%d cm high:", int(math.Round(100*w.StepHeight)))
	case w.Mode == fitness.LegCycle:
		return ""
	case w.Grade == 0:
		return say.T(ctx, "on the flat:")
	}
	return say.F(ctx, "%s %% uphill:", tenths(ctx, 100*w.Grade))
}
