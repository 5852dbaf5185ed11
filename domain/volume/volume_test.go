package volume_test

import (
	"testing"

	"pgregory.net/rapid"

	"brae/domain/intensity"
	"brae/domain/volume"
)

var policy = volume.PolicyFrom(nil)

// times returns n parts alike.
func times(n, minutes int, class intensity.Class) []volume.Part {
	parts := make([]volume.Part, n)
	for i := range parts {
		parts[i] = volume.Part{Minutes: minutes, Class: class}
	}
	return parts
}

func join(parts ...[]volume.Part) (all []volume.Part) {
	for _, p := range parts {
		all = append(all, p...)
	}
	return all
}

func TestSum(t *testing.T) {
	const (
		none      = intensity.None
		veryLight = intensity.VeryLight
		light     = intensity.Light
		moderate  = intensity.Moderate
		vigorous  = intensity.Vigorous
		nearMax   = intensity.NearMaximal
		paga2008  = "PAGA 2008, chapter 4, weeks of 150 minutes (copy): "
		beActive  = "US HHS 2008, adult booklet (copy): "
	)
	for _, tt := range []struct {
		source string
		parts  []volume.Part
		want   volume.Totals
		band   volume.Band
	}{
		{
			"PAGA 2018 p. 65: a student's two matches of 45 minutes",
			times(2, 45, vigorous),
			volume.Totals{Vigorous: 90, ModerateEquivalent: 180}, volume.Active,
		},
		{
			"PAGA 2018 p. 65: a father's 40 vigorous count 80, 15 brisk, a leisurely walk is left out",
			join(times(2, 20, vigorous), times(1, 15, moderate), times(1, 30, light)),
			volume.Totals{Light: 30, Moderate: 15, Vigorous: 40, ModerateEquivalent: 95}, volume.Insufficient,
		},
		{
			"PAGA 2018 p. 77: a man of 65, 90 + 90 and 40 in short bouts",
			join(times(2, 45, moderate), times(2, 45, moderate), times(8, 5, moderate)),
			volume.Totals{Moderate: 220, ModerateEquivalent: 220}, volume.Active,
		},
		{
			"PAGA 2018 p. 77: a woman of 79, five bouts of ten minutes",
			times(5, 10, moderate),
			volume.Totals{Moderate: 50, ModerateEquivalent: 50}, volume.Insufficient,
		},
		{
			"PAGA 2018 p. 58: 15 vigorous are as good as 30 moderate",
			times(1, 15, vigorous),
			volume.Totals{Vigorous: 15, ModerateEquivalent: 30}, volume.Insufficient,
		},
		{
			"PAGA 2018 p. 56: 75 vigorous are the lower end of the range, as 150 moderate",
			times(3, 25, vigorous),
			volume.Totals{Vigorous: 75, ModerateEquivalent: 150}, volume.Active,
		},
		{
			"PAGA 2018 p. 56: 150 vigorous are the upper end, as 300 moderate",
			times(5, 30, vigorous),
			volume.Totals{Vigorous: 150, ModerateEquivalent: 300}, volume.Active,
		},
		{
			paga2008 + "brisk walking 30 on five days",
			times(5, 30, moderate),
			volume.Totals{Moderate: 150, ModerateEquivalent: 150}, volume.Active,
		},
		{
			paga2008 + "running 25 on three days",
			times(3, 25, vigorous),
			volume.Totals{Vigorous: 75, ModerateEquivalent: 150}, volume.Active,
		},
		{
			paga2008 + "walking 30 twice, dancing 60, mowing 30",
			join(times(2, 30, moderate), times(1, 60, moderate), times(1, 30, moderate)),
			volume.Totals{Moderate: 150, ModerateEquivalent: 150}, volume.Active,
		},
		{
			paga2008 + "aerobics 30 and running 30 vigorous, walking 30",
			join(times(1, 30, vigorous), times(1, 30, vigorous), times(1, 30, moderate)),
			volume.Totals{Moderate: 30, Vigorous: 60, ModerateEquivalent: 150}, volume.Active,
		},
		{
			paga2008 + "cycling 30 on three days, softball 60",
			join(times(3, 30, moderate), times(1, 60, moderate)),
			volume.Totals{Moderate: 150, ModerateEquivalent: 150}, volume.Active,
		},
		{
			paga2008 + "doubles tennis 45 twice, hiking 30 vigorous",
			join(times(2, 45, moderate), times(1, 30, vigorous)),
			volume.Totals{Moderate: 90, Vigorous: 30, ModerateEquivalent: 150}, volume.Active,
		},
		{
			beActive + "walking 30 on three days, jogging 15 instead on two",
			join(times(3, 30, moderate), times(2, 15, vigorous)),
			volume.Totals{Moderate: 90, Vigorous: 30, ModerateEquivalent: 150}, volume.Active,
		},
		{
			"CDC, adults page (copy): ten minutes three times a day on five days",
			times(15, 10, moderate),
			volume.Totals{Moderate: 150, ModerateEquivalent: 150}, volume.Active,
		},
		{
			"teaching page quoting CDC: 50 moderate and 50 vigorous",
			join(times(1, 50, moderate), times(1, 50, vigorous)),
			volume.Totals{Moderate: 50, Vigorous: 50, ModerateEquivalent: 150}, volume.Active,
		},
		{
			"teaching page quoting CDC: 75 moderate and 40 vigorous",
			join(times(1, 75, moderate), times(1, 40, vigorous)),
			volume.Totals{Moderate: 75, Vigorous: 40, ModerateEquivalent: 155}, volume.Active,
		},
		{
			"Haskell 2007: walking 30 twice and jogging 20 twice, 518 MET-minutes there",
			join(times(2, 30, moderate), times(2, 20, vigorous)),
			volume.Totals{Moderate: 60, Vigorous: 40, ModerateEquivalent: 140}, volume.Insufficient,
		},
		{
			"common practice: five times ten minutes of brisk walking and 50 vigorous",
			join(times(5, 10, moderate), times(1, 50, vigorous)),
			volume.Totals{Moderate: 50, Vigorous: 50, ModerateEquivalent: 150}, volume.Active,
		},
		{
			"common practice: single minutes count",
			times(150, 1, moderate),
			volume.Totals{Moderate: 150, ModerateEquivalent: 150}, volume.Active,
		},
		{
			"common practice: the week counts, not the day",
			times(1, 150, moderate),
			volume.Totals{Moderate: 150, ModerateEquivalent: 150}, volume.Active,
		},
		{
			"PAGA 2018 p. 65: light work is not in the sum, however much",
			join(times(7, 60, light), times(1, 30, veryLight)),
			volume.Totals{Light: 450}, volume.Inactive,
		},
		{
			"PAGA 2018 p. 58: near-maximal minutes count twice, not three times",
			times(1, 10, nearMax),
			volume.Totals{Vigorous: 10, ModerateEquivalent: 20}, volume.Insufficient,
		},
		{
			"practice setting: minutes of unknown intensity are kept apart",
			times(1, 20, none),
			volume.Totals{Unjudged: 20}, volume.Inactive,
		},
		{"arithmetic: nothing done", nil, volume.Totals{}, volume.Inactive},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got := volume.Sum(tt.parts)
			if got != tt.want {
				t.Errorf("Sum(%v) = %+v; want %+v", tt.parts, got, tt.want)
			}
			if band := volume.BandOf(got.ModerateEquivalent); band != tt.band {
				t.Errorf("BandOf(%d) = %v; want %v", got.ModerateEquivalent, band, tt.band)
			}
		})
	}
}

func TestMinutes(t *testing.T) {
	got := volume.Totals{Light: 1, Moderate: 20, Vigorous: 300, ModerateEquivalent: 620, Unjudged: 4000}.Minutes()
	if got != 4321 { // arithmetic: every minute once
		t.Errorf("Minutes() = %d; want 4321", got)
	}
}

func TestBandOf(t *testing.T) {
	for _, tt := range []struct {
		source  string
		minutes int
		want    volume.Band
		name    string
	}{
		{"PAGA 2018 p. 106: nothing beyond daily life", 0, volume.Inactive, "inactive"},
		{"PAGA 2018 p. 106: some", 1, volume.Insufficient, "insufficient"},
		{"PAGA 2018 p. 106: less than 150", 149, volume.Insufficient, "insufficient"},
		{"PAGA 2018 p. 106: 150", 150, volume.Active, "active"},
		{"PAGA 2018 p. 106: 300", 300, volume.Active, "active"},
		{"PAGA 2018 p. 106: more than 300", 301, volume.HighlyActive, "highly_active"},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got := volume.BandOf(tt.minutes)
			if got != tt.want || got.String() != tt.name {
				t.Errorf("BandOf(%d) = %v; want %v (%s)", tt.minutes, got, tt.want, tt.name)
			}
			text, err := got.MarshalText()
			var back volume.Band
			if err != nil || back.UnmarshalText(text) != nil || back != got {
				t.Errorf("band %v is written as %q (%v) and read as %v", got, text, err, back)
			}
		})
	}
	if volume.ExtraBenefit != 300 { // PAGA 2018 p. 56
		t.Errorf("ExtraBenefit = %d; want 300", volume.ExtraBenefit)
	}
	if _, err := volume.ParseBand("lazy"); err == nil {
		t.Error("ParseBand takes a band that is none")
	}
	if b := volume.Band(9); b.String() != "Band(9)" {
		t.Errorf("Band(9) is written %q", b)
	}
	if _, err := volume.Band(-1).MarshalText(); err == nil {
		t.Error("a band that is none is written")
	}
}

// Whatever the parts of a session are cut into, its totals stay the same.
func TestSplitting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var whole, pieces []volume.Part
		for range rapid.IntRange(0, 8).Draw(t, "parts") {
			p := part(t)
			whole = append(whole, p)
			left := p.Minutes
			for left > 0 {
				cut := rapid.IntRange(1, left).Draw(t, "cut")
				pieces = append(pieces, volume.Part{Minutes: cut, Class: p.Class})
				left -= cut
			}
		}
		pieces = rapid.Permutation(pieces).Draw(t, "order")
		if a, b := volume.Sum(whole), volume.Sum(pieces); a != b {
			t.Fatalf("whole %+v, in pieces %+v", a, b)
		}
		n := rapid.IntRange(0, len(pieces)).Draw(t, "n")
		if a, b := volume.Sum(pieces), volume.Sum(pieces[:n]).Add(volume.Sum(pieces[n:])); a != b {
			t.Fatalf("in one sum %+v, in two %+v", a, b)
		}
	})
}

// A further part never lowers a total, and the equivalent never exceeds twice
// the minutes.
func TestMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		week := rapid.SliceOf(rapid.Custom(part)).Draw(t, "week")
		more := part(t)
		before, after := volume.Sum(week), volume.Sum(append(week, more))
		if after.Light < before.Light || after.Moderate < before.Moderate || after.Vigorous < before.Vigorous ||
			after.ModerateEquivalent < before.ModerateEquivalent || after.Minutes() != before.Minutes()+more.Minutes {
			t.Fatalf("%+v and then %v is %+v", before, more, after)
		}
		if after.ModerateEquivalent > 2*after.Minutes() {
			t.Fatalf("%d minutes count as %d", after.Minutes(), after.ModerateEquivalent)
		}
	})
}

func part(t *rapid.T) volume.Part {
	return volume.Part{
		Minutes: rapid.IntRange(1, 720).Draw(t, "minutes"),
		Class:   intensity.Class(rapid.IntRange(0, 5).Draw(t, "class")),
	}
}
