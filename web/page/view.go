package page

import (
	"context"
	"slices"

	"brae/domain/heartrate"
	"brae/domain/intensity"
	"brae/domain/source"
	"brae/store"
	"brae/web/say"
	"brae/web/ui"
)

// WeekSlope is the drawing of a client's week.
func WeekSlope(ctx context.Context, w store.ClientWeek) ui.Slope {
	s := ui.Slope{Title: say.T(ctx, "This week"), Target: w.Target, Through: w.Today.DaysSince(w.Week) + 1}
	for i, totals := range w.Days {
		day := w.Week.AddDays(i).Time()
		s.Days[i] = ui.SlopeDay{Label: say.Weekday(ctx, day), Name: say.LongDay(ctx, day), Totals: totals}
	}
	if w.ShortBy > 0 {
		s.Line = say.F(ctx, "%d left", w.ShortBy)
	}
	return s
}

// PartWords says what a client did in one stretch, and how hard it was.
func PartWords(ctx context.Context, p store.Part) string {
	return ActivityName(ctx, p.Activity) + ", " + ui.SayClassLow(ctx, p.Class)
}

// TalkWord is a talk-test level in a few words.
func TalkWord(ctx context.Context, t intensity.Talk) string {
	switch t {
	case intensity.TalkSing:
		return say.T(ctx, "could sing")
	case intensity.TalkSentences:
		return say.T(ctx, "whole sentences")
	case intensity.TalkShort:
		return say.T(ctx, "broken sentences")
	case intensity.TalkFewWords:
		return say.T(ctx, "a few words")
	case intensity.TalkNone:
		return say.T(ctx, "no talking")
	}
	return ""
}

// Zones tells each class between from and to: by talking, by effort, and by
// heart rate where there is a basis for it.
func Zones(ctx context.Context, caption string, z store.Zones, ceiling, from, to intensity.Class) ui.Zones {
	v := ui.Zones{Caption: caption, Basis: z.Reason, Notes: z.Notes}
	for c := from; c <= to; c++ {
		row := ui.ZoneRow{Class: c, Talk: say.T(ctx, intensity.Cue(c)), Effort: effortWords(ctx, c)}
		if z.RaisedBy > 0 && z.RaisedClass == c {
			row.Talk += " " + say.T(ctx, "Go for the harder end of this.")
		}
		if c > ceiling {
			row.Held = say.T(ctx, "Not open now")
		}
		for _, b := range z.Bands {
			if b.Class == c && z.Basis.Valid() && b.Why == "" {
				row.HeartRate = say.F(ctx, "%d to %d bpm", b.Low, highest(b))
			}
		}
		v.Rows = append(v.Rows, row)
	}
	if z.Ceiling > 0 {
		v.Notes = append(v.Notes, say.F(ctx, "Never above %d beats a minute.", z.Ceiling))
	}
	v.Notes = append(v.Notes, BoundWords(ctx, z.Bounds)...)
	for _, key := range z.Cites {
		if s := Source(source.Key(key)); !slices.Contains(v.Sources, s) {
			v.Sources = append(v.Sources, s)
		}
	}
	return v
}

// highest is how far up a range goes as pages show it: as far as may be
// prescribed, or to its end where the class is never prescribed.
func highest(b store.Band) heartrate.BPM {
	if b.PrescribeTo == 0 {
		return b.High
	}
	return min(b.High, b.PrescribeTo)
}

// Source is a citation as pages show it.
func Source(key source.Key) ui.Source {
	c, ok := source.Find(key)
	if !ok {
		return ui.Source{Short: string(key)}
	}
	return ui.Source{Short: c.Text, Status: string(c.Status)}
}

// effortWords is the range of perceived exertion of a class, on the scale from 6
// to 20.
func effortWords(ctx context.Context, c intensity.Class) string {
	low, high := intensity.EffortRange(c)
	return say.F(ctx, "%d to %d of 20", low, high)
}
