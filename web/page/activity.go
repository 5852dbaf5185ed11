package page

import (
	"context"
	"fmt"

	"brae/domain/activity"
	"brae/web/say"
)

// ActivityName is the name of an activity with its speed, in the reader's language
// and unit; its code if the list has lost it.
func ActivityName(ctx context.Context, code string) string {
	a, err := activity.Find(code)
	if err != nil {
		return code
	}
	name := say.T(ctx, a.Name)
	if a.Speed == (activity.Speed{}) {
		return name
	}
	return name + ", " + speedWords(ctx, a)
}

// ActivityShort is the name of an activity for a button or a sentence.
func ActivityShort(ctx context.Context, code string) string {
	a, err := activity.Find(code)
	if err != nil {
		return code
	}
	return say.T(ctx, a.ShortName())
}

// wholeSpeed is the speed from which a tenth of a unit says too much, in tenths.
const wholeSpeed = 100

// speedWords is the speed of an activity, and for runners the time for a kilometre
// or a mile.
func speedWords(ctx context.Context, a activity.Activity) string {
	units := say.Units(ctx)
	low, high := a.Speed.In(units)
	if high >= wholeSpeed {
		low, high = (low+5)/10*10, (high+5)/10*10
	}
	from, to := say.Tenths(ctx, low), say.Tenths(ctx, high)
	words := say.F(ctx, "%s km/h", from)
	switch {
	case low != high && units == activity.Miles:
		words = say.F(ctx, "%s to %s mph", from, to)
	case low != high:
		words = say.F(ctx, "%s to %s km/h", from, to)
	case units == activity.Miles:
		words = say.F(ctx, "%s mph", from)
	}
	switch a.Speed.Manner {
	case activity.About:
		words = say.F(ctx, "about %s", words)
	case activity.Below:
		words = say.F(ctx, "below %s", words)
	}
	if a.Group != activity.Run {
		return words
	}
	pace := a.Speed.Pace(units)
	clock := fmt.Sprintf("%d:%02d", pace/60, pace%60)
	if units == activity.Miles {
		return say.F(ctx, "%s (%s min a mile)", words, clock)
	}
	return say.F(ctx, "%s (%s min a km)", words, clock)
}
