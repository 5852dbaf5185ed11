package client

import (
	"context"
	"slices"

	"brae/domain/clearance"
	"brae/store"
	"brae/web/page"
	"brae/web/say"
	"brae/web/ui"
)

// Holds tells a client in plain words what waits and for whom, each once. What one
// hold allows is not said beside another that stops it. The reasons in the record
// are written for the practice.
func Holds(ctx context.Context, holds []store.Hold) []ui.Hold {
	var most clearance.Scope
	for _, h := range holds {
		most = max(most, h.Scope)
	}
	var list []ui.Hold
	for _, h := range holds {
		if h.Scope < most {
			continue
		}
		hold := ui.Hold{
			Sentence: holdSentence(ctx, h.Scope, h.Needs),
			Next:     say.T(ctx, "You can still log what you do. Your practitioner will tell you when this changes."),
		}
		switch h.Scope {
		case clearance.Vigorous:
			hold.Cause = say.T(ctx, "If you can talk in whole sentences, it is not too hard.")
		case clearance.AboveLight:
			hold.Cause = say.T(ctx, "If you can sing, it is easy enough.")
		case clearance.All:
			hold.Cause = say.T(ctx, "Ask how much you may move in your daily life.")
		}
		if !slices.Contains(list, hold) {
			list = append(list, hold)
		}
	}
	return list
}

func holdSentence(ctx context.Context, scope clearance.Scope, needs clearance.Needs) string {
	switch needs {
	case clearance.NeedsPractitioner:
		switch scope {
		case clearance.Vigorous:
			return say.T(ctx, "No hard exercise until we have spoken with you.")
		case clearance.AboveLight:
			return say.T(ctx, "Keep it easy until we have spoken with you.")
		}
		return say.T(ctx, "No exercise until we have spoken with you.")
	case clearance.NeedsStatement:
		switch scope {
		case clearance.Vigorous:
			return say.T(ctx, "No hard exercise until you have been well for a day.")
		case clearance.AboveLight:
			return say.T(ctx, "Keep it easy until you have been well for a day.")
		}
		return say.T(ctx, "No exercise until you have been well for a day.")
	}
	switch scope {
	case clearance.Vigorous:
		return say.T(ctx, "No hard exercise until a doctor has answered.")
	case clearance.AboveLight:
		return say.T(ctx, "Keep it easy until a doctor has answered.")
	}
	return say.T(ctx, "No exercise until a doctor has answered.")
}

// limits are what doctors have limited, for a client to keep to.
func limits(ctx context.Context, b store.Bounds) []string {
	list := page.BoundWords(ctx, b)
	if b.Top > 0 {
		list = append(list, say.F(ctx, "Never above %d beats a minute.", int(b.Top)))
	}
	return list
}
