package page

import (
	"testing"

	"golang.org/x/text/language"

	"brae/domain/activity"
	"brae/web/say"
)

// TestActivityName tells speeds as the compendium has them and converted by 1 mile
// = 1.609344 km (international yard and pound agreement of 1959).
func TestActivityName(t *testing.T) {
	for _, tt := range []struct {
		tag  language.Tag
		unit activity.Unit
		code string
		want string
	}{
		{language.English, activity.Kilometres, "walk_brisk", "Brisk walk, about 5.6 km/h"},
		{language.English, activity.Miles, "walk_brisk", "Brisk walk, about 3.5 mph"},
		{language.Spanish, activity.Kilometres, "walk_brisk", "Caminata rápida, unos 5,6 km/h"},
		{language.Spanish, activity.Miles, "walk_brisk", "Caminata rápida, unos 3,5 millas/h"},
		{language.English, activity.Kilometres, "walk_stroll", "Strolling, below 3.2 km/h"},
		{language.English, activity.Kilometres, "walk_slow", "Slow walk, 3.2 to 3.9 km/h"},
		{language.English, activity.Miles, "walk_slow", "Slow walk, 2 to 2.4 mph"},
		{language.English, activity.Kilometres, "bike_moderate", "Cycling at a moderate pace, 16 to 19 km/h"},
		{language.English, activity.Miles, "bike_moderate", "Cycling at a moderate pace, 10 to 12 mph"},
		{language.English, activity.Miles, "run_8", "Steady run, 5 mph (12:00 min a mile)"},
		{language.English, activity.Kilometres, "run_9_7", "Fast run, 9.7 km/h (6:13 min a km)"},
		{language.English, activity.Kilometres, "gardening", "Gardening"},
		{language.English, activity.Kilometres, "levitating", "levitating"},
	} {
		ctx := say.WithUnits(say.With(t.Context(), tt.tag), tt.unit)
		if got := ActivityName(ctx, tt.code); got != tt.want {
			t.Errorf("%s in %s and %s is %q; want %q", tt.code, tt.tag, tt.unit, got, tt.want)
		}
	}
}
