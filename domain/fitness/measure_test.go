package fitness_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"brae/domain/fitness"

	"pgregory.net/rapid"
)

func TestParseMinutes(t *testing.T) {
	for _, tt := range []struct {
		source, text string
		want         float64
	}{
		{"teaching page on the one-mile walk: 15:12", "15:12", 15.2},
		{"minutes and seconds", "12:45", 12.75},
		{"seconds below ten", "9:05", 9 + 5.0/60},
		{"hours", "1:02:15", 62.25},
		{"last second of a minute", "12:59", 12 + 59.0/60},
		{"as many digits as are read", "1234567", 1234567},
		{"no seconds", "12", 12},
		{"no seconds, said twice", "12:00", 12},
		{"a decimal that cannot be seconds", "12.75", 12.75},
		{"a decimal comma", "12,75", 12.75},
		{"sixty is no second", "12.60", 12.6},
		{"one decimal", "12.5", 12.5},
		{"three decimals", "12.457", 12.457},
		{"two decimals that say the same both ways", "12.00", 12},
		{"words", "12 min 45 s", 12.75},
		{"words, long", " 12 Minutes 5 seconds ", 12 + 5.0/60},
		{"words, short", "12m45s", 12.75},
		{"words with full stops", "12 min. 45 sec.", 12.75},
		{"marks", "12'45\"", 12.75},
		{"minutes only", "15 min", 15},
		{"decimal minutes", "15.5 min", 15.5},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.ParseMinutes(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			near(t, tt.text, got, tt.want, 1e-9)
		})
	}
}

func TestParseMinutesRefuses(t *testing.T) {
	for _, tt := range []struct{ text, says string }{
		{"12.45", "12:45"}, // the trap: 12 minutes 45 seconds typed with a point
		{"12.45", "12:27"}, // what it would be read as
		{"12.59", "12:35"},
		{"12,30", "12:30"},
		{"12.05", "12:05"},
		{"12.59", "12:59"},
		{"12.45 min", "12:45"},
		{"", "12:45"},
		{"12:60", "12:45"},
		{"12:5", "12:45"},
		{"12:", "12:45"},
		{":45", "12:45"},
		{"1:2:3:4", "12:45"},
		{"1:02:03:04", "12:45"},
		{"1:75:00", "12:45"},
		{"1:2:30", "12:45"},
		{"-12", "12:45"},
		{"+12", "12:45"},
		{"1e3", "12:45"},
		{"12.4.5", "12:45"},
		{"12,4.5", "12:45"},
		{"12.", "12:45"},
		{".5", "12:45"},
		{"twelve", "12:45"},
		{"12 h", "12:45"},
		{"12 min 45", "12:45"},
		{"12 min 45 s 3", "12:45"},
		{"12 min 75 s", "12:45"},
		{"12.5 min 30 s", "12:45"},
		{"12345678", "12:45"},
		{"NaN", "12:45"},
		{"inf", "12:45"},
		{"0x10", "12:45"},
		{"1_000", "12:45"},
		{"１２", "12:45"},
		{strings.Repeat("1", 200), "12:45"},
	} {
		t.Run(tt.text, func(t *testing.T) {
			got, err := fitness.ParseMinutes(tt.text)
			if err == nil || got != 0 {
				t.Fatalf("ParseMinutes(%q) = %v, %v; want it refused", tt.text, got, err)
			}
			if !strings.Contains(err.Error(), tt.says) || !strings.HasSuffix(err.Error(), ".") {
				t.Errorf("ParseMinutes(%q) says %q; want a sentence with %s", tt.text, err, tt.says)
			}
		})
	}
}

func TestParseQuantity(t *testing.T) {
	for _, tt := range []struct {
		source, text string
		kind         fitness.Kind
		want         float64
	}{
		{"kilograms", "70 kg", fitness.Weight, 70},
		{"no space", "70.5kg", fitness.Weight, 70.5},
		{"decimal comma", "70,5 kg", fitness.Weight, 70.5},
		{"pounds", "150 lb", fitness.Weight, 68.0388555},
		{"pounds, other spelling", "150 Pounds", fitness.Weight, 68.0388555},
		{"centimetres", "172 cm", fitness.Height, 172},
		{"metres", "1.72 m", fitness.Height, 172},
		{"inches", "68 in", fitness.Height, 172.72},
		{"metres of distance", "2400 m", fitness.Distance, 2400},
		{"kilometres", "2.4 km", fitness.Distance, 2400},
		{"kilometres with three decimals", "1.609 km", fitness.Distance, 1609},
		{"miles", "1.5 miles", fitness.Distance, 2414.016},
		{"a mile", "1 mi", fitness.Distance, 1609.344},
		{"km/h", "6 km/h", fitness.Speed, 100},
		{"mph, as Bushman 2020", "5 mph", fitness.Speed, 134},
		{"m/min", "134 m/min", fitness.Speed, 134},
		{"watts", "50 W", fitness.WorkRate, 306},
		{"kgm/min", "450 kgm/min", fitness.WorkRate, 450},
	} {
		t.Run(tt.source, func(t *testing.T) {
			got, err := fitness.ParseQuantity(tt.text, tt.kind)
			if err != nil {
				t.Fatal(err)
			}
			near(t, tt.text, got, tt.want, 1e-6)
		})
	}
	for _, tt := range []struct {
		text string
		kind fitness.Kind
	}{
		{"150", fitness.Weight}, // kg or lb?
		{"", fitness.Weight},
		{"kg", fitness.Weight},
		{"70 kgs of it", fitness.Weight},
		{"10 st", fitness.Weight},
		{"-70 kg", fitness.Weight},
		{"7e1 kg", fitness.Weight},
		{"172", fitness.Height},
		{"5 ft 8 in", fitness.Height},
		{"1,609 m", fitness.Distance}, // a thousand or a decimal?
		{"100 m/min", fitness.Distance},
		{"100 m", fitness.Speed},
		{"5 miles", fitness.Speed},
		{"100 kg", fitness.WorkRate},
		{strings.Repeat("9", 50) + " kg", fitness.Weight},
	} {
		t.Run("refuses "+tt.text, func(t *testing.T) {
			if got, err := fitness.ParseQuantity(tt.text, tt.kind); err == nil || got != 0 || !strings.HasPrefix(err.Error(), "Write ") {
				t.Errorf("ParseQuantity(%q) = %v, %v; want it refused with a sentence", tt.text, got, err)
			}
		})
	}
}

// What ShowMinutes writes, ParseMinutes reads as the same time to the second.
func TestMinutesRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seconds := rapid.IntRange(0, 100*60).Draw(t, "seconds")
		text := fitness.ShowMinutes(float64(seconds) / 60)
		got, err := fitness.ParseMinutes(text)
		if err != nil || math.Round(got*60) != float64(seconds) {
			t.Fatalf("%d seconds are shown as %s and read as %v, %v", seconds, text, got, err)
		}
		point := strings.Replace(text, ":", ".", 1)
		if read, err := fitness.ParseMinutes(point); err == nil && seconds%60 != 0 {
			t.Fatalf("%s typed as %s is read as %v; want it refused", text, point, read)
		}
	})
}

func FuzzParseMinutes(f *testing.F) {
	for _, s := range []string{"12:45", "12.45", "12,75", "1:02:15", "12 min 45 s", "12'45\"", "", "12.", "9:5", "12m", "0:00", "\xff:10"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := fitness.ParseMinutes(s)
		if err != nil {
			if got != 0 || err.Error() == "" {
				t.Fatalf("ParseMinutes(%q) = %v beside %v", s, got, err)
			}
			return
		}
		if !(got >= 0) || math.IsInf(got, 0) {
			t.Fatalf("ParseMinutes(%q) = %v", s, got)
		}
		var m, sec int
		if n, _ := fmt.Sscanf(s+"|", "%d:%02d|", &m, &sec); n == 2 && strings.Count(s, ":") == 1 && fmt.Sprintf("%d:%02d", m, sec) == s {
			if math.Abs(got*60-float64(60*m+sec)) > 1e-6*float64(60*m+sec+1) {
				t.Fatalf("ParseMinutes(%q) = %v", s, got)
			}
		}
		if strings.ContainsAny(s, "-+eExX_") && !strings.ContainsAny(strings.ToLower(s), "ms'") {
			t.Fatalf("ParseMinutes(%q) = %v; want signs and exponents refused", s, got)
		}
	})
}

func FuzzParseQuantity(f *testing.F) {
	for _, s := range []string{"70 kg", "150lb", "1,609 m", "5 mph", "6 km/h", "50 w", "1.72 m", "", "kg", "12.5.1 kg", "\xffkg"} {
		for k := fitness.Weight; k <= fitness.WorkRate; k++ {
			f.Add(s, int8(k))
		}
	}
	f.Fuzz(func(t *testing.T, s string, k int8) {
		kind := fitness.Kind(uint8(k) % uint8(fitness.WorkRate+1))
		got, err := fitness.ParseQuantity(s, kind)
		if err != nil {
			if got != 0 || err.Error() == "" {
				t.Fatalf("ParseQuantity(%q) = %v beside %v", s, got, err)
			}
			return
		}
		if !(got >= 0) || math.IsInf(got, 0) {
			t.Fatalf("ParseQuantity(%q) = %v", s, got)
		}
		if last := strings.TrimSpace(s); strings.ContainsAny(last[len(last)-1:], "0123456789") {
			t.Fatalf("ParseQuantity(%q) = %v; want a number without unit refused", s, got)
		}
	})
}
