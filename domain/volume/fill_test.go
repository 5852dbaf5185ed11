package volume_test

import (
	"errors"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"brae/domain"
	"brae/domain/intensity"
	"brae/domain/volume"
)

func TestFill(t *testing.T) {
	const (
		light    = intensity.Light
		moderate = intensity.Moderate
		vigorous = intensity.Vigorous
		nearMax  = intensity.NearMaximal
	)
	type (
		option = volume.Option
		item   = volume.Item
	)
	walk := volume.Favourite{Activity: "walk", Class: moderate, Minutes: 25}
	run := volume.Favourite{Activity: "run", Class: vigorous, Minutes: 20}
	for _, tt := range []struct {
		source string
		in     volume.FillInput
		want   []option
	}{
		{
			"common practice: 100 left is 50 vigorous, 100 moderate, or a mix",
			volume.FillInput{ShortBy: 100, Ceiling: vigorous, Vigorous: volume.NoLimit, DaysLeft: 5},
			[]option{
				{Items: []item{{"", moderate, 4, 25}}, Counts: 100},
				{Items: []item{{"", vigorous, 2, 25}}, Counts: 100},
				{Items: []item{{"", vigorous, 1, 25}, {"", moderate, 2, 25}}, Counts: 100},
			},
		},
		{
			"PAGA 2018 p. 58: 30 left is 30 moderate or 15 vigorous",
			volume.FillInput{ShortBy: 30, Ceiling: vigorous, Vigorous: volume.NoLimit, DaysLeft: 1},
			[]option{
				{Items: []item{{"", moderate, 1, 30}}, Counts: 30},
				{Items: []item{{"", vigorous, 1, 15}}, Counts: 30},
			},
		},
		{
			"practice setting: nothing vigorous under a ceiling of moderate",
			volume.FillInput{ShortBy: 100, Ceiling: moderate, Vigorous: volume.NoLimit, DaysLeft: 5, Favourites: []volume.Favourite{run, walk}},
			[]option{{Items: []item{{"walk", moderate, 4, 25}}, Counts: 100}},
		},
		{
			"practice setting: nothing vigorous that the plan does not leave open",
			volume.FillInput{ShortBy: 50, Ceiling: nearMax, DaysLeft: 5, Favourites: []volume.Favourite{run, walk}},
			[]option{{Items: []item{{"walk", moderate, 2, 25}}, Counts: 50}},
		},
		{
			"practice setting: no more vigorous minutes than the plan leaves open",
			volume.FillInput{ShortBy: 100, Ceiling: vigorous, Vigorous: 12, DaysLeft: 5, Favourites: []volume.Favourite{walk, run}},
			[]option{
				{Items: []item{{"walk", moderate, 4, 25}}, Counts: 100},
				{Items: []item{{"run", vigorous, 2, 5}, {"walk", moderate, 3, 30}}, Counts: 110},
			},
		},
		{
			"practice setting: one vigorous session where there is no room for two",
			volume.FillInput{ShortBy: 100, Ceiling: vigorous, Vigorous: 7, DaysLeft: 5, Favourites: []volume.Favourite{walk, run}},
			[]option{
				{Items: []item{{"walk", moderate, 4, 25}}, Counts: 100},
				{Items: []item{{"run", vigorous, 1, 5}, {"walk", moderate, 4, 25}}, Counts: 110},
			},
		},
		{
			"practice setting: each favourite, then a mix of the dearest",
			volume.FillInput{
				ShortBy: 60, Ceiling: vigorous, Vigorous: volume.NoLimit, DaysLeft: 6,
				Favourites: []volume.Favourite{run, walk, {Activity: "swim", Class: moderate, Minutes: 40}},
			},
			[]option{
				{Items: []item{{"walk", moderate, 3, 20}}, Counts: 60},
				{Items: []item{{"swim", moderate, 2, 30}}, Counts: 60},
				{Items: []item{{"run", vigorous, 2, 15}}, Counts: 60},
				{Items: []item{{"run", vigorous, 1, 15}, {"walk", moderate, 2, 15}}, Counts: 60},
			},
		},
		{
			"practice setting: a mix needs a day for each",
			volume.FillInput{ShortBy: 60, Ceiling: vigorous, Vigorous: volume.NoLimit, DaysLeft: 2},
			[]option{
				{Items: []item{{"", moderate, 2, 30}}, Counts: 60},
				{Items: []item{{"", vigorous, 1, 30}}, Counts: 60},
				{Items: []item{{"", vigorous, 1, 15}, {"", moderate, 1, 30}}, Counts: 60},
			},
		},
		{
			"practice setting: a mix leaves half of the days to moderate work",
			volume.FillInput{
				ShortBy: 240, Ceiling: vigorous, Vigorous: volume.NoLimit, DaysLeft: 4,
				Favourites: []volume.Favourite{{Activity: "stairs", Class: vigorous, Minutes: 10}},
			},
			[]option{
				{Items: []item{{"", moderate, 4, 60}}, Counts: 240},
				{Items: []item{{"stairs", vigorous, 4, 30}}, Counts: 240},
				{Items: []item{{"stairs", vigorous, 2, 30}, {"", moderate, 2, 60}}, Counts: 240},
			},
		},
		{
			"practice setting: no mix where its vigorous half does it all",
			volume.FillInput{ShortBy: 10, Ceiling: vigorous, Vigorous: volume.NoLimit, DaysLeft: 2},
			[]option{
				{Items: []item{{"", moderate, 1, 10}}, Counts: 10},
				{Items: []item{{"", vigorous, 1, 5}}, Counts: 10},
			},
		},
		{
			"practice setting: a mix for the last minute",
			volume.FillInput{ShortBy: 11, Ceiling: vigorous, Vigorous: volume.NoLimit, DaysLeft: 2},
			[]option{
				{Items: []item{{"", moderate, 1, 15}}, Counts: 15},
				{Items: []item{{"", vigorous, 1, 10}}, Counts: 20},
				{Items: []item{{"", vigorous, 1, 5}, {"", moderate, 1, 5}}, Counts: 15},
			},
		},
		{
			"practice setting: two days left make longer sessions",
			volume.FillInput{ShortBy: 100, Ceiling: moderate, DaysLeft: 2},
			[]option{{Items: []item{{"", moderate, 2, 50}}, Counts: 100}},
		},
		{
			"practice setting: one day is not enough, and what it leaves is said",
			volume.FillInput{ShortBy: 100, Ceiling: moderate, DaysLeft: 1},
			[]option{{Items: []item{{"", moderate, 1, 60}}, Counts: 60, Leaves: 40}},
		},
		{
			"practice setting: of two that leave something, the nearer",
			volume.FillInput{ShortBy: 150, Ceiling: vigorous, Vigorous: volume.NoLimit, DaysLeft: 1},
			[]option{{Items: []item{{"", vigorous, 1, 60}}, Counts: 120, Leaves: 30}},
		},
		{
			"practice setting: who is used to more than an hour may do so",
			volume.FillInput{
				ShortBy: 100, Ceiling: moderate, DaysLeft: 1,
				Favourites: []volume.Favourite{{Activity: "hike", Class: moderate, Minutes: 120}},
			},
			[]option{{Items: []item{{"hike", moderate, 1, 100}}, Counts: 100}},
		},
		{
			"practice setting: sessions are rounded up to five minutes",
			volume.FillInput{ShortBy: 47, Ceiling: moderate, DaysLeft: 4},
			[]option{{Items: []item{{"", moderate, 2, 25}}, Counts: 50}},
		},
		{
			"practice setting: in the light phase light minutes fill it, moderate ones no faster",
			volume.FillInput{ShortBy: 40, Light: true, Ceiling: moderate, DaysLeft: 3},
			[]option{
				{Items: []item{{"", light, 2, 20}}, Counts: 40},
				{Items: []item{{"", moderate, 2, 20}}, Counts: 40},
			},
		},
		{
			"practice setting: in the light phase under its ceiling",
			volume.FillInput{ShortBy: 40, Light: true, Ceiling: light, Vigorous: volume.NoLimit, DaysLeft: 3, Favourites: []volume.Favourite{walk, run}},
			[]option{{Items: []item{{"", light, 2, 20}}, Counts: 40}},
		},
		{
			"PAGA 2018 p. 65: under a ceiling of light nothing counts",
			volume.FillInput{ShortBy: 100, Ceiling: light, Vigorous: volume.NoLimit, DaysLeft: 5, Favourites: []volume.Favourite{walk}},
			nil,
		},
		{
			"practice setting: under a hold on everything nothing is suggested",
			volume.FillInput{ShortBy: 100, Light: true, Ceiling: intensity.None, Vigorous: volume.NoLimit, DaysLeft: 5},
			nil,
		},
		{
			"arithmetic: nothing left to do",
			volume.FillInput{Ceiling: vigorous, Vigorous: volume.NoLimit, DaysLeft: 5},
			nil,
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := volume.Fill(tt.in, policy)
			if err != nil || !reflect.DeepEqual(got, tt.want) {
				t.Errorf("Fill(%+v) =\n%+v, %v; want\n%+v", tt.in, got, err, tt.want)
			}
		})
	}
}

func TestFillRefuses(t *testing.T) {
	for _, tt := range []struct {
		source string
		in     volume.FillInput
		field  string
	}{
		{"arithmetic: more done than asked for is 0 left", volume.FillInput{ShortBy: -1, DaysLeft: 3}, "short_by"},
		{"calendar: a week has no more days", volume.FillInput{DaysLeft: 0}, "days_left"},
		{"calendar: a week has seven days", volume.FillInput{DaysLeft: 8}, "days_left"},
		{"arithmetic: minutes are not negative", volume.FillInput{DaysLeft: 3, Vigorous: -1}, "vigorous"},
		{
			"arithmetic: a habit is not negative",
			volume.FillInput{DaysLeft: 3, Favourites: []volume.Favourite{{Minutes: 5}, {Minutes: -5}}},
			"favourites[1].minutes",
		},
	} {
		t.Run(tt.source, func(t *testing.T) {
			_, err := volume.Fill(tt.in, policy)
			var p domain.Problems
			if !errors.As(err, &p) || len(p) != 1 || p[tt.field] == "" {
				t.Errorf("Fill(%+v) refuses %v; want a problem of %s", tt.in, err, tt.field)
			}
		})
	}
}

// No way to fill a week goes above the ceiling, the days, the vigorous minutes
// left open or the length of a session, and each says rightly what it leaves.
func TestFillHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := volume.FillInput{
			ShortBy:  rapid.IntRange(0, 400).Draw(t, "short"),
			Light:    rapid.Bool().Draw(t, "light"),
			Ceiling:  intensity.Class(rapid.IntRange(0, 5).Draw(t, "ceiling")),
			Vigorous: rapid.SampledFrom([]int{0, 4, 7, 12, 30, 75, volume.NoLimit}).Draw(t, "vigorous"),
			DaysLeft: rapid.IntRange(1, 7).Draw(t, "days"),
			Favourites: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) volume.Favourite {
				return volume.Favourite{
					Activity: rapid.SampledFrom([]string{"walk", "run", "swim"}).Draw(t, "activity"),
					Class:    intensity.Class(rapid.IntRange(0, 5).Draw(t, "class")),
					Minutes:  rapid.IntRange(0, 90).Draw(t, "minutes"),
				}
			}), 0, 4).Draw(t, "favourites"),
		}
		options, err := volume.Fill(in, policy)
		if err != nil {
			t.Fatal(err)
		}
		if in.ShortBy > 0 && in.Ceiling >= intensity.Moderate && len(options) == 0 {
			t.Fatal("no way, though moderate work is open")
		}
		longest := policy.FillMost
		for _, f := range in.Favourites {
			longest = max(longest, f.Minutes)
		}
		for _, o := range options {
			var sum volume.Totals
			sessions := 0
			for _, i := range o.Items {
				if i.Class > in.Ceiling || i.Sessions < 1 || i.Minutes < 1 || i.Minutes > longest {
					t.Fatalf("%+v under a ceiling of %v", i, in.Ceiling)
				}
				sessions += i.Sessions
				sum = sum.Add(volume.Of(volume.Part{Minutes: i.Sessions * i.Minutes, Class: i.Class}))
			}
			target := volume.Target{Minutes: in.ShortBy, Light: in.Light}
			if sessions > in.DaysLeft || sum.Vigorous > in.Vigorous || o.Counts != target.Done(sum) || o.Leaves != target.ShortBy(sum) {
				t.Fatalf("%+v: %d sessions, %+v", o, sessions, sum)
			}
			if o.Leaves > 0 && len(options) > 1 {
				t.Fatalf("%+v leaves something, and is not the only one", o)
			}
		}
	})
}
