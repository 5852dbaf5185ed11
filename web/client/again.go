package client

import (
	"context"

	"brae/domain"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
)

// againView is a session as it will be saved once more.
type againView struct {
	Form   logForm
	Day    string
	Lines  []string // what was done, a part each
	Change string   // address of the form with everything filled in
}

func newAgainView(ctx context.Context, f logForm, earlier store.Session) againView {
	v := againView{Form: f, Change: "/log?again=" + earlier.ID.String() + "&change=1"}
	day, _ := domain.ParseDate(f.Day) // today, by ourselves
	v.Day = say.F(ctx, "This will be saved for today, %s.", say.LongDay(ctx, day.Time()))
	for _, p := range earlier.Parts {
		v.Lines = append(v.Lines, partLine(ctx, p))
	}
	return v
}

// partLine is a stretch in a line: what, how long, and how it felt to talk.
func partLine(ctx context.Context, p store.Part) string {
	line := say.F(ctx, "%s, %d min", page.PartWords(ctx, p), p.Minutes)
	if talk := page.TalkWord(ctx, p.Talk); talk != "" {
		line += " (" + talk + ")"
	}
	return line
}
