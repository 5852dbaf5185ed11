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

// ahead lists the weeks of the plan that are to come, as many as are asked for, and
// why each is as it is; nil without a plan.
func ahead(ctx context.Context, s store.PlanSheet, most int) *ui.Table {
	if len(s.Ahead) == 0 {
		return nil
	}
	t := ui.Table{
		Caption: say.T(ctx, "The weeks ahead"), HideCaption: true,
		Columns: []ui.Column{{Label: say.T(ctx, "Week from")}, {Label: say.T(ctx, "What")}, {Label: say.T(ctx, "How hard")}, {Label: say.T(ctx, "Why")}},
	}
	var before *plan.Dose // of the week before; nil for the present one
	for _, w := range s.Ahead[:min(len(s.Ahead), most)] {
		if before == nil && w.First != s.Week { // the plan has not begun
			before = &w.Dose
		}
		hard := ui.Cell{Content: ui.ClassTag(w.Dose.Class)}
		if w.Sessions == 0 {
			hard = ui.Cell{}
		}
		t.Rows = append(t.Rows, ui.Row{Cells: []ui.Cell{
			{Text: say.ShortDay(ctx, w.First.Time())}, {Text: aheadWhat(ctx, w)}, hard, {Text: aheadWhy(ctx, w, before)},
		}})
		before = &w.Dose
	}
	return &t
}

// hardPart tells the vigorous minutes within sessions of an easier class.
func hardPart(ctx context.Context, d plan.Dose) ui.Definition {
	return ui.Definition{Term: say.T(ctx, "The hard part"), Detail: hardMinutes(ctx, d)}
}

func hardMinutes(ctx context.Context, d plan.Dose) string {
	return say.N(ctx, d.Vigorous, "%d minute in the week is hard.", "%d minutes in the week are hard.")
}

func aheadWhat(ctx context.Context, w store.PlannedWeek) string {
	if w.Sessions == 0 {
		return say.T(ctx, "Nothing is asked of you.")
	}
	text := say.N(ctx, w.Sessions, "%d time, %d minutes", "%d times, %d minutes each", w.Dose.Minutes)
	if w.Dose.Vigorous > 0 {
		text += ". " + hardMinutes(ctx, w.Dose)
	}
	return text
}

// aheadWhy says what is other than in the week before.
func aheadWhy(ctx context.Context, w store.PlannedWeek, before *plan.Dose) string {
	switch {
	case w.OpenDays < 7:
		return say.T(ctx, "You have a break.")
	case w.Uncovered != "":
		return say.T(ctx, "To be confirmed. Talk to your practitioner first.")
	case before == nil:
		return say.T(ctx, "This is your week now.")
	case w.Dose == *before:
		return say.T(ctx, "Time to get used to it.")
	}
	switch w.Step {
	case plan.Time:
		if w.Dose.Minutes > before.Minutes {
			return say.T(ctx, "A bit longer each time.")
		}
		return say.T(ctx, "A bit shorter each time.")
	case plan.Frequency:
		if w.Dose.Sessions > before.Sessions {
			return say.T(ctx, "More often than before.")
		}
		return say.T(ctx, "Not as often as before.")
	case plan.Intensity:
		if w.Dose.Hardest() > before.Hardest() || w.Dose.Vigorous > before.Vigorous {
			return say.T(ctx, "A bit harder, now that you are used to it.")
		}
		return say.T(ctx, "A bit easier.")
	}
	return say.T(ctx, "The week changes.")
}
