package client

import (
	"context"

	"brae/domain/plan"
	"brae/store"
	"brae/web/say"
	"brae/web/ui"
)

// weeksAhead is how many weeks of the plan a client is shown: a season.
const weeksAhead = 12

// ahead lists the weeks of the plan that are to come, and why each is as it is;
// nil without a plan.
func ahead(ctx context.Context, s store.PlanSheet) *ui.Table {
	if len(s.Ahead) == 0 {
		return nil
	}
	t := ui.Table{
		Caption: say.T(ctx, "The weeks ahead"), HideCaption: true,
		Columns: []ui.Column{{Label: say.T(ctx, "Week from")}, {Label: say.T(ctx, "What")}, {Label: say.T(ctx, "How hard")}, {Label: say.T(ctx, "Why")}},
	}
	for i, w := range s.Ahead[:min(len(s.Ahead), weeksAhead)] {
		hard := ui.Cell{Content: ui.ClassTag(w.Dose.Class)}
		if w.Sessions == 0 {
			hard = ui.Cell{}
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: say.ShortDay(ctx, w.First.Time())}, {Text: aheadWhat(ctx, w)}, hard, {Text: aheadWhy(ctx, w, i == 0 && w.First == s.Week, i > 0 && w.Dose != s.Ahead[i-1].Dose)},
		}})
	}
	return &t
}

func aheadWhat(ctx context.Context, w store.PlannedWeek) string {
	if w.Sessions == 0 {
		return say.T(ctx, "Nothing is asked of you.")
	}
	text := say.N(ctx, w.Sessions, "%d time, %d minutes", "%d times, %d minutes each", w.Dose.Minutes)
	if w.Dose.Vigorous > 0 {
		text += ". " + say.F(ctx, "%d minutes in the week are hard.", w.Dose.Vigorous)
	}
	return text
}

func aheadWhy(ctx context.Context, w store.PlannedWeek, now, other bool) string {
	switch {
	case w.OpenDays < 7:
		return say.T(ctx, "You have a break.")
	case now:
		return say.T(ctx, "This is your week now.")
	}
	if !other {
		return say.T(ctx, "Time to get used to it.")
	}
	switch w.Step {
	case plan.Time:
		return say.T(ctx, "The time changes, one thing at once.")
	case plan.Frequency:
		return say.T(ctx, "The number of times changes.")
	case plan.Intensity:
		return say.T(ctx, "How hard it is changes.")
	}
	return say.T(ctx, "The week changes.")
}
